/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RELAY_SITE_H
#define FAREND_RELAY_SITE_H

#include <stddef.h>

#include "farend/chain.h"
#include "farend/placing.h"
#include "farend/status.h"

/*
 * Relays on a real profile: every hop between two candidate places is computed in every season,
 * the best places for 0, 1, 2 ... relays are found exactly, and each chain is then computed in
 * full at those places.
 *
 * The table that is searched knows each hop's free space, ground, trees, air, covers, walls and
 * fade. It differs from the full computation in three ways: points are those of one grid for
 * all hops; an isolated edge counts by delta-Bullington, some decibels too careful; and the
 * middle build is that of an open hop. The margins told are those of the full computation.
 */
typedef struct fe_relay_site {
    const fe_hop *direct;   /* the whole way as one hop */
    fe_station relay;       /* what stands at a place; its height is not read */
    const double *masts_m;  /* heights to try, above the bare ground */
    size_t mast_count;      /* 1 or more */
    const double *places_m; /* candidates from the first end, rising; null: every step */
    size_t place_count;
    double step_m; /* of the grid, > 0; a candidate each where places_m is null */
    fe_chain_sharing sharing;
    const fe_season *seasons;
    size_t season_count;
    const fe_wanted *wanted; /* airtime is that of the whole chain */
    unsigned threads;
} fe_relay_site;

enum { FE_RELAY_MOST_POINTS = 3000, FE_RELAY_MOST_NODES = 6000 };

typedef struct fe_relay_way {
    fe_chain chain;
    fe_chain_place places[FE_CHAIN_MOST_RELAYS];
    double searched_db; /* weakest margin by the table */
} fe_relay_way;

/*
 * Ways with 0 relays, 1 relay ... until one more than the first that reaches the confidence, or
 * `most`.
 *   ways   room for most + 1
 *   count  how many were found, in order of relays; can be less where places are few
 *
 * FE_OK, FE_W_RANGE as the budget
 * FE_E_NO_SOLUTION  the radios have no mode in common or may not transmit
 * FE_E_DOMAIN       also where the grid has more than FE_RELAY_MOST_POINTS
 * FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_relay_search(const fe_relay_site *site, unsigned most,
                                        fe_relay_way *ways, size_t *count);

#endif
