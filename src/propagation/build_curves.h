/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_BUILD_CURVES_H
#define PROPAGATION_BUILD_CURVES_H

#include <stddef.h>

#include "farend/hop.h"
#include "farend/path_loss.h"
#include "farend/placing.h"
#include "farend/status.h"

/*
 * Build losses of many hops between the same two stations, which differ by the spread that
 * ground and trees bring: worked out for a spread every decibel, as one convolution takes
 * longer than all else on a hop. What is lost at a chance lies straight between those; the
 * shape above it is that of the nearest (half a decibel off, a curve is some 5 % too wide or
 * narrow).
 */
enum { BUILD_CURVES = 25 };

typedef struct build_curves {
    double lost_db[BUILD_CURVES]; /* not exceeded with the wanted chance */
} build_curves;

/*
 *   hop, loss  stations and walls; the loss's own spread of ground and trees does not count
 *   chance     wanted, 0 to 1
 *   shapes     BUILD_CURVES of them, result with `curves`; past 51 dB nothing is in doubt
 *
 * Statuses as fe_build_loss.
 */
FE_MUST_CHECK fe_status build_curves_make(const fe_hop *hop, const fe_path_loss *loss,
                                          double chance, build_curves *curves,
                                          fe_placing_curve *shapes);

/* Lost with a spread of sigma_db, >= 0; the widest stands for what is wider. */
double build_curves_lost(const build_curves *curves, double sigma_db);

/* Which curve is nearest. */
size_t build_curves_nearest(double sigma_db);

#endif
