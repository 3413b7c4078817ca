/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WIRED_RUN_KERNEL_H
#define WIRED_RUN_KERNEL_H

#include "farend/run.h"

/* Private to the wired room: one piece of cable in one load case, shared by run and route. */

/* What was strung into a span. */
typedef struct run_piece {
    double length_m; /* as pegged */
    double rise_m;
    double unstretched_excess_m;
} run_piece;

typedef struct run_hung {
    fe_span_shape shape; /* in the plane of weight and wind */
    double pull_n;       /* along the line of the supports */
    double blowout_rad;
} run_hung;

/*
 * The piece in a load case, its supports now_m apart.
 *   lasting  strain that creep and ice have left
 * Statuses of fe_span_at_excess.
 */
FE_MUST_CHECK fe_status run_hang(const fe_run_input *input, const run_piece *piece,
                                 double now_m, const fe_run_case *load, double lasting,
                                 run_hung *hung);

/*
 * Stretch that a cable strung so has kept for good: creep, and a share of what the heaviest ice
 * added. Statuses of run_hang.
 */
FE_MUST_CHECK fe_status run_lasting(const fe_run_input *input, const run_piece *piece,
                                    double stringing_n, const fe_run_case *cases,
                                    size_t case_count, double *lasting);

/*
 * Places along a span at which its height is looked at: even ones, then those where the ground
 * bends between them, over which a cable is nearest.
 */
typedef struct run_looks {
    const fe_profile *ground;
    double from_m;
    double length_m;
    int even;     /* the next even one */
    size_t point; /* the next of the ground */
} run_looks;

run_looks run_looks_along(const fe_profile *ground, const fe_run_span *span);

/* The next place, from the first support; false where there is none. */
bool run_next_look(run_looks *looks, double *x_m);

/* A point of the profile that lies on the line of its neighbours says nothing. */
bool run_is_bend(const fe_profile *ground, size_t point);

#endif
