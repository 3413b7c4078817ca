/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PAIRS_H
#define FAREND_PAIRS_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/diffraction.h"
#include "farend/status.h"

/*
 * Diffraction between every two points of a profile with a mast at each: what the placing of
 * relays is searched on. The result of each pair is that of fe_delta_bullington_loss over the
 * points between the two (within 1e-6 dB), at a fraction of its cost:
 *
 *   slopes   with z = h - d^2 / (2 ae) the earth's bulge is in the heights, so horizon slopes
 *            are running maxima of chord slopes                                       n^2
 *   fit      differences of prefix sums                                               n^2
 *   hull     highest obstruction over the chord: monotone hull, binary search   n^2 log n
 *   clear    pairs in line of sight need the point that most nearly enters the Fresnel zone: a
 *            tree of blocks, each under a sloping line, searched by branch and bound between
 *            the places that the least slopes of the clearance leave. Exact; no bound better
 *            than n^3 is known, on ground some ten visits a pair.
 *   loss     roots and logarithms for some pairs of a row at a time, without jumps      n^2
 *
 * Memory: some tens of arrays of n. m mast heights at a place cost m^2 runs.
 */
typedef struct fe_pairs {
    const double *d_m;        /* strictly rising */
    const double *h_m;        /* ground above one datum, with snow */
    const double *clutter_m;  /* on it, >= 0, or null; not under a pair's own ends */
    size_t n;                 /* 2 or more */
    const bool *ends;         /* points that a pair may end at; null: all */
    const double *antenna1_m; /* of each point where it is the first end, above the datum; not
                                 below the ground */
    const double *antenna2_m; /* where it is the second */
    fe_diffraction_wave wave; /* over land: omega_sea 0 */
    unsigned threads;         /* 0 or 1: none beside the caller's */
} fe_pairs;

/* Parts as in fe_delta_bullington. */
typedef struct fe_pair {
    double loss_db;      /* actual + max(sphere - smooth, 0) */
    double v;            /* of the actual edge; -INFINITY where the pair is clear */
    double actual_db;    /* zero where clear */
    double effective1_m; /* heights over the fitted surface */
    double effective2_m;
    double smooth_db;
    double sphere_db;
} fe_pair;

/* Work done, for those who doubt the growth. */
typedef struct fe_pairs_counts {
    unsigned long long sweeps;      /* updates of running slopes */
    unsigned long long hull_steps;  /* points pushed, dropped or looked at */
    unsigned long long clear_pairs; /* in line of sight */
    unsigned long long visits;      /* blocks and points looked at for those */
} fe_pairs_counts;

/*
 * Takes one row: pairs[0] is that of i with i + 1, pairs[count - 1] with the last point. Rows
 * come in any order and, with threads, several at a time; each comes once. Where `ends` is
 * given, rows of other points do not come, and their pairs are not worked out.
 */
typedef void (*fe_pairs_row)(void *context, size_t i, const fe_pair *pairs, size_t count);

/*
 *   row     called with every row
 *   counts  result, may be null
 *
 * FE_OK
 * FE_W_RANGE   below 10 MHz
 * FE_E_DOMAIN  a value is not finite or outside the above; no row was called
 * FE_E_MEMORY  some rows may have been called
 *
 * Source: ITU-R P.526-15 sec 4.5 as fe_delta_bullington_loss; the search is derived here.
 */
FE_MUST_CHECK fe_status fe_pairs_compute(const fe_pairs *pairs, fe_pairs_row row, void *context,
                                         fe_pairs_counts *counts);

#endif
