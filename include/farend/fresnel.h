/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FRESNEL_H
#define FAREND_FRESNEL_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Fresnel zones: how wide the space is that a radio path needs around its line of sight, and
 * where a ground profile comes nearest to it. Costs one pass over the profile, allocates
 * nothing.
 */

/* Share of the first zone that a path is commonly kept clear of (ITU-R P.526-15 sec 4). */
#define FE_FRESNEL_WANTED_SHARE 0.6

/*
 * Radius of a Fresnel zone at one point of a path, across the line of sight.
 *
 *   zone         number of the zone, 1 or more
 *   d1_m, d2_m   distance from the point to each end, > 0
 *   f_hz         frequency, > 0
 *   radius_m     result; untouched on error
 *
 * FE_OK        radius within 1 % of the exact ellipsoid
 * FE_W_RANGE   result set, but an end is so near that the true zone is wider
 * FE_E_DOMAIN  an argument is not finite or not above zero
 *
 * Source: ITU-R P.526-15 sec 2.1; range limit derived here from the exact ellipsoid.
 */
FE_MUST_CHECK fe_status fe_fresnel_radius(unsigned zone, double d1_m, double d2_m, double f_hz,
                                          double *radius_m);

/*
 * Clearance as a share of the first zone's radius at that point.
 *
 *   clearance_m  height of the line of sight over the obstacle, negative where it is cut
 *   ratio        result, same sign; untouched on error
 *
 * Other arguments and statuses as above.
 */
FE_MUST_CHECK fe_status fe_fresnel_clearance_ratio(double clearance_m, double d1_m, double d2_m,
                                                   double f_hz, double *ratio);

/* Where a profile comes nearest to the line of sight, and what would free it. */
typedef struct fe_fresnel_tightest {
    size_t index;       /* point of the profile with the least clearance_ratio */
    double distance_m;  /* of that point from the first end */
    double clearance_m; /* of the line over the ground there, earth's bulge included */
    double radius_m;    /* of the first zone there */
    double clearance_ratio;
    /* Least rise for 0.6 of the first zone at every point; 0 where it is free already. */
    double raise_end1_m; /* of the first end alone */
    double raise_end2_m; /* of the second end alone */
    double raise_both_m; /* of both ends, each by this */
    int cheaper_end;     /* 1 or 2: the end with the smaller rise; 0 where none is needed */
} fe_fresnel_tightest;

/*
 * Walks a ground profile and finds its tightest point.
 *
 *   d_m           distances of the points, strictly rising; the first and last are the ends
 *   h_m           ground (with snow, crop or what else stands in the way) above one datum
 *   n             number of points, 3 or more: only points between the ends are judged
 *   antenna1_m, antenna2_m  antennas above the same datum
 *   ae_m          effective earth radius, > 0
 *   f_hz          frequency, > 0
 *   tightest      result; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but the tightest point is within 13 wavelengths of an end, where the
 *              zone is wider than the formula says
 * FE_E_DOMAIN  an argument is not finite or outside the above, or distances do not rise
 *
 * Source: ITU-R P.526-15 sec 2.1; earth's bulge d1 d2 / (2 ae), sec 4.5 (500 Ce d1 d2 in km).
 */
FE_MUST_CHECK fe_status fe_fresnel_walk(const double *d_m, const double *h_m, size_t n,
                                        double antenna1_m, double antenna2_m, double ae_m,
                                        double f_hz, fe_fresnel_tightest *tightest);

#endif
