/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_DECIDE_H
#define DECISION_DECIDE_H

#include "farend/result.h"

/*
 * Parts of fe_decide, each filling its own arrays of the result. What they have allocated is
 * freed by fe_result_free also where they fail half-way.
 */

/* Radio links and relays of every path. */
FE_MUST_CHECK fe_status decide_radio(const fe_plan *plan, fe_result *result);

/*
 * One link over a path with this gear. FE_E_NO_SOLUTION: the pair cannot talk, or may not. The
 * budget is the caller's to free.
 */
FE_MUST_CHECK fe_status decide_link(const fe_plan *plan, size_t path,
                                    const fe_gear *const gear[2], fe_band band,
                                    fe_radio_result *radio);

/* True where one link is to be preferred: verdict, then chance, then margin. */
bool decide_is_better(const fe_radio_result *a, const fe_radio_result *b);

/* Cables on posts, cable lengths against their limits. Overhead runs come first. */
FE_MUST_CHECK fe_status decide_overhead(const fe_plan *plan, fe_result *result);
FE_MUST_CHECK fe_status decide_channels(const fe_plan *plan, fe_result *result);

/* The feed from each source voltage. */
FE_MUST_CHECK fe_status decide_feeds(const fe_plan *plan, fe_result *result);

/* One row a way out of all that, and which one to build. */
FE_MUST_CHECK fe_status decide_ways(fe_result *result);

/* User's rates that must pass over a path, from its first end to its second, and back. */
void decide_rates(const fe_plan *plan, size_t path, double rate_bps[2]);

#endif
