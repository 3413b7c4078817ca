/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLACING_H
#define FAREND_PLACING_H

#include <stddef.h>

#include "farend/chain.h"
#include "farend/status.h"

/*
 * Where to put relays: of all ways to choose N of the candidate places, the one whose weakest
 * hop has the largest margin and, among those, the one that delivers most on one channel, that
 * is, with the least sum of 1/R over the hops. Exact, by dynamic programming: N n^2 / 2 steps
 * for the margins and as many for the rates of each N. How a channel is used again along a long
 * chain is not a sum over hops; score that afterwards.
 *
 * The hops are given as packed rows: row i has its hops to i + 1 ... n - 1, row after row. Two
 * mast heights at one place are two candidates without a hop between them.
 */
typedef struct fe_placing {
    size_t n;                /* candidates along the path, both ends included; 2 or more */
    const double *margin_db; /* n (n - 1) / 2; -INFINITY where there is no such hop */
    const double *seconds;   /* per bit, 1/R, >= 0; null: margins alone count */
    /* Added to the margin of hops by what stands at their ends: the stations of the two ends
     * are not the relays. */
    double first_db;   /* from candidate 0 to a relay */
    double between_db; /* from relay to relay */
    double last_db;    /* from a relay to candidate n - 1 */
    double direct_db;  /* from candidate 0 to n - 1 */
} fe_placing;

typedef struct fe_placing_best {
    unsigned relays;
    size_t place[FE_CHAIN_MOST_RELAYS]; /* candidates, in order */
    double margin_db;                   /* of the weakest hop; -INFINITY: there is no way */
    double seconds;                     /* sum over the hops */
} fe_placing_best;

/* Index of hop i to j, i < j, in the packed rows. */
size_t fe_placing_index(size_t n, size_t i, size_t j);

/*
 * The best way with exactly that many relays. Of ways that are equal in both, the one whose
 * last relay stands nearest to the first end, then the last but one, and so on.
 *
 * FE_OK
 * FE_E_NO_SOLUTION  no way with that many
 * FE_E_DOMAIN       n under 2, more relays than FE_CHAIN_MOST_RELAYS, a margin or time is NaN
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_placing_find(const fe_placing *placing, unsigned relays,
                                        fe_placing_best *best);

#endif
