/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CHAIN_H
#define FAREND_CHAIN_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/budget.h"
#include "farend/hop.h"
#include "farend/season.h"
#include "farend/status.h"

/*
 * Relays that pass traffic on, at equal distances, all on one channel.
 *
 * While the hops hear each other, only one of them can send at a time: hop i at rate R_i needs
 * 1/R_i of the time for each bit, and the chain delivers 1 / sum(1/R_i). With equal rates that
 * is the rate of one hop over their number, so each hop must carry N + 1 times the user's rate.
 * A chain works when all of its hops do: their builds are independent, so chances multiply.
 */
typedef struct fe_chain {
    unsigned relays;
    double hop_m;
    size_t weakest_hop;   /* 0 is the one at the first end */
    size_t worst_season;  /* of the weakest hop */
    double margin_db;     /* of the weakest hop in its worst season, median build */
    double margin_low_db; /* one build in ten is below this */
    double margin_high_db;
    double chance;             /* that every hop meets its target in every season */
    double delivered_rate_bps; /* to the user, 1 / sum(1/R_i) */
    double delay_s;
    bool carries_rate;
} fe_chain;

/* Time that a loaded hop adds: waiting, sending, answering. Common practice, no source. */
#define FE_CHAIN_HOP_DELAY_S 3e-3

enum { FE_CHAIN_MOST_RELAYS = 12 };

/*
 * The rate that hops which take turns on one channel deliver together, 1 / sum(1/R_i).
 *   rates_bps  count values, > 0
 * FE_E_DOMAIN otherwise.
 */
FE_MUST_CHECK fe_status fe_chain_rate(const double *rates_bps, size_t count, double *rate_bps);

/*
 * One chain.
 *
 *   direct  the whole way as one hop: ground, trees and the stations at its ends
 *   relay   what stands between; its height is above the bare ground at its place
 *   relays  0 (the direct hop) to FE_CHAIN_MOST_RELAYS
 *   wanted  airtime is that of the whole chain
 *   chain   result; untouched on error
 *
 * Statuses as for fe_hop_budget_compute.
 */
FE_MUST_CHECK fe_status fe_chain_equal(const fe_hop *direct, const fe_station *relay,
                                       unsigned relays, const fe_season *seasons, size_t count,
                                       const fe_wanted *wanted, fe_chain *chain);

#endif
