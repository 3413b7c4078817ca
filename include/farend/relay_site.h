/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RELAY_SITE_H
#define FAREND_RELAY_SITE_H

#include <stddef.h>

#include "farend/chain.h"
#include "farend/placing.h"
#include "farend/status.h"

/*
 * Relays on a real profile: every hop between two candidate places is computed in every season,
 * the best places for 0, 1, 2 ... relays are found exactly (placing.h), and each chain is then
 * computed in full at those places.
 *
 * The table that is searched knows each hop's free space, ground, trees, air, covers, walls,
 * fade and how its build loss is spread. It differs from the full computation in five ways:
 * points are those of one grid for all hops; an isolated edge counts by delta-Bullington with
 * the spread of several, some decibels too careful; a hop has its worst season at the wanted
 * chance, also where the chain asks for more of it; errors of heights are left out; and the
 * spread of the ground ray is told by mean and deviation. What is told is the full computation.
 *
 * So that this difference never makes a finer step the worse one: places have a level, how
 * often the step may be doubled with the place still on it. Where the best places do not reach
 * the confidence in full, those of each coarser level are found in the same table and computed
 * too, and the likeliest stands. A search with `coarser` above zero computes only ways that a
 * finer one does, from the same table, so it never holds with fewer relays
 * (tests/test_relay_step.c). That leaves out levels more than 10 dB short by the table.
 */
typedef struct fe_relay_spot {
    double at_m; /* from the first end */
    unsigned level;
} fe_relay_spot;

enum { FE_RELAY_EVERY_LEVEL = 255 };

/* The spot that many steps from where a stretch begins. */
fe_relay_spot fe_relay_spot_of(size_t steps, double step_m);

typedef struct fe_relay_site {
    const fe_hop *direct;        /* the whole way as one hop */
    fe_station relay;            /* what stands at a place; its height is not read */
    const double *masts_m;       /* heights to try, above the bare ground */
    size_t mast_count;           /* 1 or more */
    const fe_relay_spot *places; /* candidates from the first end, rising; null: every step */
    size_t place_count;
    double step_m;    /* of the grid, > 0; a candidate each where places is null */
    unsigned coarser; /* only places of this level and coarser ones */
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
    double searched_db; /* margin at the confidence by the table */
} fe_relay_way;

/*
 * Ways with 0 relays, 1 relay ... until one more than the first that reaches the confidence, or
 * `most`, or until by the table no number up to that comes within 10 dB of it, or their share
 * of the time is too short for the rate.
 *   ways       room for most + 1
 *   count      how many were found, in order of relays
 *   looked_at  the largest number that the search answers for, whether its way is among them or
 *              the table or the rate ruled it out; may be null
 *
 * FE_OK, FE_W_RANGE as the budget
 * FE_E_NO_SOLUTION  the radios have no mode in common or may not transmit
 * FE_E_DOMAIN       also where the grid has more than FE_RELAY_MOST_POINTS
 * FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_relay_search(const fe_relay_site *site, unsigned most,
                                        fe_relay_way *ways, size_t *count, unsigned *looked_at);

#endif
