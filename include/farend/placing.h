/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLACING_H
#define FAREND_PLACING_H

#include <stddef.h>

#include "farend/chain.h"
#include "farend/spread.h"
#include "farend/status.h"

/*
 * Where to put relays: of all ways to choose N of the candidate places, the best by what a
 * chain is judged by, which is the chance that all of its hops hold.
 *
 * A hop has a margin at the wanted chance: what it has left when its own build is as bad as
 * that chance allows. With x dB less it holds with some greater or smaller chance, told by its
 * curve, and the chances of hops multiply. The margin of a way at the wanted chance is the most
 * dB that all of its hops can lose while their chances together are still the wanted one; it is
 * zero or more just where the way is likely enough. That margin is made as large as it gets (to
 * FE_PLACING_STEP_DB); of ways that are equal in it, the likelier at that loss, then the one
 * that delivers most on one channel, that is, with the least sum of 1/R over the hops.
 *
 * Exact. For one x the logarithms of the chances add up over the hops, so the likeliest way is
 * found by dynamic programming; a way that is likely enough at x has a margin of x or more. So
 * the margin of a first way is raised to that of each better one, until no way is likely enough
 * one step above: as no way gains by losing more, none has a larger margin. Some three rounds,
 * each of N n^2 / 2 steps.
 *
 * How a channel is used again along a long chain is not a sum over hops; score that afterwards.
 *
 * The hops are given as packed rows: row i has its hops to i + 1 ... n - 1, row after row. Two
 * mast heights at one place are two candidates without a hop between them.
 */
#define FE_PLACING_STEP_DB (1.0 / 1024.0)

/* Cells of a curve, each as wide as one of a spread. */
#define FE_PLACING_CURVE_STEP_DB FE_SPREAD_STEP_DB
enum { FE_PLACING_CURVE_CELLS = 512 };

/*
 * -log of the chance of a hop that has something left at the wanted chance: of nothing first
 * (-log of that chance itself), falling, zero in the last cell. Straight between the cells.
 */
typedef struct fe_placing_curve {
    double cost[FE_PLACING_CURVE_CELLS];
} fe_placing_curve;

typedef struct fe_placing {
    size_t n;                   /* candidates along the path, both ends included; 2 or more */
    const double *margin_db;    /* n (n - 1) / 2, of each hop alone at the wanted chance;
                                   -INFINITY where there is no such hop */
    const unsigned char *curve; /* n (n - 1) / 2, index of curves */
    const fe_placing_curve *curves;
    size_t curve_count;
    double cost;           /* -log of the wanted chance, > 0 */
    const double *seconds; /* per bit, 1/R, >= 0; null: they do not count */
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
    double margin_db; /* of the way, at the wanted chance; a multiple of the step */
    double cost;      /* -log of the way's chance when it has lost that */
    double seconds;   /* sum over the hops */
} fe_placing_best;

/* Index of hop i to j, i < j, in the packed rows. */
size_t fe_placing_index(size_t n, size_t i, size_t j);

/*
 * -log of the chance of a hop by its curve, in multiples of 2^-30, so that sums of them are
 * exact and ties are ties.
 *   left_db  at the wanted chance, >= 0
 */
double fe_placing_cost(const fe_placing_curve *curve, double left_db);

/*
 * The best way with exactly that many relays. Of ways that are equal in everything, the one
 * whose last relay stands nearest to the first end, then the last but one, and so on.
 *
 * FE_OK
 * FE_E_NO_SOLUTION  no way with that many
 * FE_E_DOMAIN       n under 2, more relays than FE_CHAIN_MOST_RELAYS, a margin or time is NaN,
 *                   a curve that does not end at zero, the index of none
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_placing_find(const fe_placing *placing, unsigned relays,
                                        fe_placing_best *best);

#endif
