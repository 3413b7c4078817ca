/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_PAIRS_ROUND_H
#define PROPAGATION_PAIRS_ROUND_H

#include <math.h>
#include <stddef.h>

#include "farend/diffraction.h"
#include "farend/status.h"

/*
 * What needs logarithms in the loss between two points of a profile, for some pairs of a row at
 * a time: the compiler puts two or more of them into one register. `farend/pairs.h` says what
 * the pairs are for.
 */
enum { PAIRS_BATCH = 64 };

/* What all pairs share; see pairs_earth_make. */
typedef struct pairs_earth {
    const fe_diffraction_wave *wave;
    const double *d_m; /* of the points of the profile */
    double curvature;
    double lambda_m;
    double admittance;
    double x;
    double y;
} pairs_earth;

pairs_earth pairs_earth_make(const fe_diffraction_wave *wave, const double *d_m);

/* Edges for which Bullington's loss is wanted. */
typedef struct pairs_edges {
    size_t count;
    size_t to[PAIRS_BATCH]; /* the caller's number of the pair */
    double v[PAIRS_BATCH];
    double length_m[PAIRS_BATCH];
    double loss_db[PAIRS_BATCH];
} pairs_edges;

void pairs_edges_compute(pairs_edges *edges);

/* Pairs for which the round earth and the smooth profile count. */
typedef struct pairs_rounds {
    size_t from; /* point at the first end of all of them */
    size_t count;
    size_t to[PAIRS_BATCH]; /* point at the other end */
    double length_m[PAIRS_BATCH];
    double h1_m[PAIRS_BATCH]; /* effective heights */
    double h2_m[PAIRS_BATCH];
    double near_m[3][PAIRS_BATCH]; /* of the point where the line should be lowest, from the
                                      first end, and of its neighbours; NAN: no such point */
    double roots[PAIRS_BATCH];     /* sqrt h1 + sqrt h2 */
    double sphere_db[PAIRS_BATCH]; /* results */
    double smooth_db[PAIRS_BATCH];
} pairs_rounds;

/*
 * True where the line is clear of the round earth by 0.552 of the zone everywhere, as the
 * geometric mean of the heights tells at once: h1 y + h2 x >= 2 sqrt(h1 h2 x y). Then nothing
 * is lost on the smooth profile either, whose limit is 0.78 / sqrt 2 of the zone.
 */
static inline int pairs_is_above(const pairs_earth *earth, double length_m, double h1_m,
                                 double h2_m)
{
    const double needed_m =
        0.552 * sqrt(earth->lambda_m * length_m) + 0.5 * earth->curvature * length_m * length_m;
    return 4.0 * h1_m * h2_m > needed_m * needed_m;
}

/* Adds a pair; the batch must not be full. */
void pairs_rounds_add(const pairs_earth *earth, size_t to, double length_m, double h1_m,
                      double h2_m, pairs_rounds *rounds);

/* Statuses as for fe_spherical_earth_loss. */
FE_MUST_CHECK fe_status pairs_rounds_compute(const pairs_earth *earth, pairs_rounds *rounds);

#endif
