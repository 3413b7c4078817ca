/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SPREAD_H
#define FAREND_SPREAD_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * A loss that is fixed once something is built but not known before: a distribution over
 * decibels, held as shares on a grid of FE_SPREAD_STEP_DB. Independent parts add, so their
 * distributions convolve. A few thousand cells and a direct convolution: under a millisecond a
 * part.
 *
 * Every function returns FE_OK, or FE_E_DOMAIN where an argument is not finite or out of its
 * range, and leaves outputs untouched then; what else one returns stands at it.
 */
#define FE_SPREAD_STEP_DB 0.1
enum { FE_SPREAD_MOST_CELLS = 4001 };

typedef struct fe_spread {
    long first;   /* cell of the first share: its loss is first * FE_SPREAD_STEP_DB */
    size_t count; /* 1 or more */
    double share[FE_SPREAD_MOST_CELLS]; /* sums to 1 */
} fe_spread;

/* A loss known exactly (to the grid). FE_E_DOMAIN: not finite or beyond 100 dB. */
FE_MUST_CHECK fe_status fe_spread_exact(double loss_db, fe_spread *spread);

/*
 * Normal, cut off at four standard deviations.
 *   mean_db   -100 to 100
 *   sigma_db  0 to 30
 */
FE_MUST_CHECK fe_status fe_spread_normal(double mean_db, double sigma_db, fe_spread *spread);

/* The size of a normal with mean zero: a polarisation that is off to either side. sigma_db: 0 to
 * 30. */
FE_MUST_CHECK fe_status fe_spread_half_normal(double sigma_db, fe_spread *spread);

/*
 * Loss of an antenna that is not quite on target: the parabola 12 (theta / beam)^2 summed over
 * both axes, theta normal on each, and no worse than the side lobes.
 *
 *   across_share   standard deviation of the error across, as a share of the half-power width;
 *                  0: an antenna that looks all round on that axis
 *   upward_share   the same up and down
 *   floor_db       loss in the side lobes, > 0
 *
 * Source: parabolic main lobe, ITU-R F.1245 sec 2.1 (from memory); the error shares are the
 * caller's.
 */
FE_MUST_CHECK fe_status fe_spread_aim(double across_share, double upward_share, double floor_db,
                                      fe_spread *spread);

/*
 * Sum of two independent losses; the result may be one of them. Tails under 1e-9 in all are
 * dropped so that the grid does not grow.
 * FE_E_DOMAIN  the sum would not fit on the grid (beyond 400 dB from end to end)
 */
FE_MUST_CHECK fe_status fe_spread_add(const fe_spread *a, const fe_spread *b, fe_spread *sum);

/* Chance that the loss is at most loss_db, 0 to 1; straight between the cells' middles. */
double fe_spread_chance(const fe_spread *spread, double loss_db);

/* The loss not exceeded with a chance of 0 < chance < 1. */
double fe_spread_quantile(const fe_spread *spread, double chance);

double fe_spread_mean(const fe_spread *spread);
double fe_spread_sigma(const fe_spread *spread);

#endif
