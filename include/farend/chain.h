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
 * Relays that pass traffic on, at equal distances or at given places.
 *
 * While the hops share one channel and hear each other, only one of them can send at a time:
 * hop i at rate R_i needs 1/R_i of the time for each bit, and the chain delivers
 * 1 / sum(1/R_i). With equal rates that is the rate of one hop over their number, so each hop
 * must carry N + 1 times the user's rate. A chain works when all of its hops do: their builds
 * are independent, so chances multiply.
 */

/* How hops share the air. Traffic of both directions takes turns within each share. */
typedef enum fe_chain_sharing {
    FE_CHAIN_ONE_CHANNEL,  /* one radio a relay: all hops take turns */
    FE_CHAIN_OWN_CHANNELS, /* two radios a relay, a channel for each hop: the slowest decides */
    FE_CHAIN_ALTERNATE_BANDS /* two bands in turn: every second hop shares a channel */
} fe_chain_sharing;

/* "one shared channel", "a channel for each hop", "alternate bands". */
const char *fe_chain_sharing_name(fe_chain_sharing sharing);

/*
 * Hops in a row of which only one can send at a time. In a long chain far hops can send
 * together; ideally every fourth, since a sender disturbs what is two hops on. Hidden senders
 * collide, and chains of plain gear reach a seventh of one hop's rate.
 * Source: Li, Blake, De Couto, Lee, Morris 2001, Capacity of ad hoc wireless networks: a
 * quarter (the analysis); a seventh (its measurements) from memory.
 */
enum { FE_CHAIN_TURNS_IDEAL = 4, FE_CHAIN_TURNS_REAL = 7 };

enum { FE_CHAIN_MOST_RELAYS = 12, FE_CHAIN_MOST_HOPS = FE_CHAIN_MOST_RELAYS + 1 };

typedef struct fe_chain {
    unsigned relays;
    double hop_m;         /* the longest */
    size_t weakest_hop;   /* 0 is the one at the first end */
    size_t worst_season;  /* of the weakest hop */
    double margin_db;     /* of the weakest hop in its worst season, median build */
    double margin_low_db; /* one build in ten is below this */
    double margin_high_db;
    double chance;             /* that every hop meets its target in every season */
    double delivered_rate_bps; /* to the user, both directions together */
    double delay_s;
    bool carries_rate;
    size_t hop_count;
    double hop_margin_db[FE_CHAIN_MOST_HOPS]; /* of each in its worst season */
    double hop_rate_bps[FE_CHAIN_MOST_HOPS];  /* alone on its channel */
} fe_chain;

/* Time that a loaded hop adds: waiting, sending, answering. Common practice, no source. */
#define FE_CHAIN_HOP_DELAY_S 3e-3

/*
 * The rate that hops which take turns on one channel deliver together, 1 / sum(1/R_i).
 *   rates_bps  count values, > 0
 * FE_E_DOMAIN otherwise.
 */
FE_MUST_CHECK fe_status fe_chain_rate(const double *rates_bps, size_t count, double *rate_bps);

/*
 * The same for any sharing; on one channel, any `turns` hops in a row take turns and those
 * farther apart send together.
 *   turns  FE_CHAIN_TURNS_REAL for what to expect, FE_CHAIN_TURNS_IDEAL for the most; >= 1
 * Source: one channel as above; a channel for each hop and alternate bands common practice, no
 * source (gear whose radios do not deafen each other).
 */
FE_MUST_CHECK fe_status fe_chain_rate_shared(const double *rates_bps, size_t count,
                                             fe_chain_sharing sharing, unsigned turns,
                                             double *rate_bps);

/*
 * Share of the busiest channel's time that traffic in both directions takes; above 1 it does
 * not fit. A bit counts once in each direction's own rate.
 *   there_bps, back_bps    rates of the hops in each direction, > 0
 *   want_bps               traffic there and back, >= 0
 * FE_E_DOMAIN otherwise.
 */
FE_MUST_CHECK fe_status fe_chain_air_time(const double *there_bps, const double *back_bps,
                                          size_t count, fe_chain_sharing sharing,
                                          unsigned turns, const double want_bps[2],
                                          double *share);

/*
 * Part of the time that each hop of a chain can count on where all have the same rate, by
 * FE_CHAIN_TURNS_REAL.
 *   relays  0 to FE_CHAIN_MOST_RELAYS, NAN beyond
 */
double fe_chain_share(unsigned relays, fe_chain_sharing sharing);

/* A relay of a chain. */
typedef struct fe_chain_place {
    double at_m; /* from the first end */
    fe_station station;
} fe_chain_place;

/*
 * One chain.
 *
 *   direct   the whole way as one hop: ground, trees and the stations at its ends
 *   places   what stands between, in order; heights are above the bare ground there
 *   relays   0 (the direct hop) to FE_CHAIN_MOST_RELAYS
 *   sharing  on alternate bands both bands are taken to be like the one of `direct`
 *   wanted   airtime is that of the whole chain
 *   chain    result; untouched on error
 *
 * Statuses as for fe_hop_budget_compute; FE_E_DOMAIN also where places do not rise.
 */
FE_MUST_CHECK fe_status fe_chain_at(const fe_hop *direct, const fe_chain_place *places,
                                    unsigned relays, fe_chain_sharing sharing,
                                    const fe_season *seasons, size_t count,
                                    const fe_wanted *wanted, fe_chain *chain);

/* The same with one kind of relay at equal distances, on one channel. */
FE_MUST_CHECK fe_status fe_chain_equal(const fe_hop *direct, const fe_station *relay,
                                       unsigned relays, const fe_season *seasons, size_t count,
                                       const fe_wanted *wanted, fe_chain *chain);

#endif
