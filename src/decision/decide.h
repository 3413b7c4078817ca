/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_DECIDE_H
#define DECISION_DECIDE_H

#include "farend/result.h"

/*
 * Parts of fe_decide, each filling its own arrays of the result. What they have allocated is
 * freed by fe_result_free also where they fail half-way.
 */

/* Radio links of every path, then relays between their ends. */
FE_MUST_CHECK fe_status decide_links(const fe_plan *plan, fe_result *result);
FE_MUST_CHECK fe_status decide_relays(const fe_plan *plan, fe_result *result);

/* Cables on posts, cable lengths against their limits. Overhead runs come first. */
FE_MUST_CHECK fe_status decide_overhead(const fe_plan *plan, fe_result *result);
FE_MUST_CHECK fe_status decide_channels(const fe_plan *plan, fe_result *result);

/* The feed from each source voltage. */
FE_MUST_CHECK fe_status decide_feeds(const fe_plan *plan, fe_result *result);
/* One of them, its source given. */
FE_MUST_CHECK fe_status decide_feed(const fe_plan *plan, fe_feed_choice *choice);

/* Data over a feed's conductors, and doing without mains. After the feeds. */
FE_MUST_CHECK fe_status decide_feed_data(const fe_plan *plan, fe_result *result);
FE_MUST_CHECK fe_status decide_solar(const fe_plan *plan, fe_result *result);

/* One row a way: way_rows.c. */
FE_MUST_CHECK fe_status decide_rows(fe_result *result);
/* Whether a number of relays has a row: one, two, three, and the best number. */
bool decide_shows_relays(const fe_relay_result *relays, size_t number);
/*
 * Holds the ways of data over a path against the times that traffic bears. Of the other paths
 * of a route that which is picked counts; before, the quickest that does. Once for each path.
 */
void decide_times(fe_result *result, size_t path);
/* Parts, hazards and cost of a row: way_parts.c. */
FE_MUST_CHECK fe_status decide_parts(const fe_result *result, fe_way *way);
/* Running power of a load; of a current at the middle of what it accepts. */
double decide_load_power(const fe_plan_load *load);

/* Rows and which ones to build: pick.c. */
FE_MUST_CHECK fe_status decide_ways(fe_result *result);
/* What a feed takes of cable and trench by itself: way_rows.c. */
void decide_feed_stretch(const fe_result *result, fe_way *way);
/* Stretches of feeds that another recommended feed has laid already. After decide_ways. */
FE_MUST_CHECK fe_status decide_own_stretches(fe_result *result);
/* The list of what is recommended over each path, and what comes close. After decide_parts. */
FE_MUST_CHECK fe_status decide_rivals(fe_result *result);

#endif
