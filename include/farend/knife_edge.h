/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_KNIFE_EDGE_H
#define FAREND_KNIFE_EDGE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Diffraction over one sharp edge across the path. The fit is what the path methods use (a
 * logarithm and a root); the exact loss sums Fresnel integrals and is for checks and `calc`.
 */

/* At and below this v the fit gives no loss: 0.55 of the first zone is clear. */
#define FE_KNIFE_EDGE_CLEAR_V (-0.78)

/*
 * The dimensionless parameter v of an edge.
 *
 *   height_m    top of the edge over the straight line between the ends, negative where clear
 *   d1_m, d2_m  distance from the edge to each end, > 0
 *   f_hz        frequency, > 0
 *   v           result, the sign of height_m; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but the edge stands out from the line by more than a tenth of the
 *              nearer distance, or that is under a wavelength: eq 26 holds for small angles
 * FE_E_DOMAIN  an argument is not finite, or a distance or the frequency not above zero
 *
 * Source: ITU-R P.526-15 sec 4.1 eq 26, v = h sqrt(2/lambda (1/d1 + 1/d2)). That a
 * tenth is small is ours: there the square root's next term is 0.25 % of the longer way.
 */
FE_MUST_CHECK fe_status fe_knife_edge_v(double height_m, double d1_m, double d2_m, double f_hz,
                                        double *v);

/*
 * Loss by the usual fit J(v); zero for v at or below -0.78.
 *
 *   v        finite
 *   loss_db  result, 0 or more, within 0.13 dB of the exact loss from v = -0.78 up
 *
 * FE_OK
 * FE_E_DOMAIN  v is not finite
 *
 * Source: ITU-R P.526-15 sec 4.1 eq 31.
 */
FE_MUST_CHECK fe_status fe_knife_edge_loss_fit(double v, double *loss_db);

/*
 * Loss by the Fresnel integrals. Swings about zero (up to 1.4 dB of gain) where the edge is
 * clear.
 *
 *   v        finite
 *   loss_db  result, error below 1e-9 dB; untouched on error
 *
 * FE_OK
 * FE_E_DOMAIN  v is not finite
 *
 * Source: ITU-R P.526-15 sec 4.1 eq 30.
 */
FE_MUST_CHECK fe_status fe_knife_edge_loss_exact(double v, double *loss_db);

/* What fe_isolated_edge_find found. */
typedef struct fe_isolated_edge {
    bool found;     /* exactly one sharp obstacle enters, and all else is clear of it */
    size_t index;   /* the tightest point of the profile, the obstacle's top */
    double v;       /* of that point */
    double loss_db; /* by the fit; 0 where nothing is found */
} fe_isolated_edge;

/*
 * Tells whether exactly one sharp obstacle enters the first Fresnel zone of a profile, so that
 * it may be treated as a knife edge alone. It may where
 *   - the points nearer to the line than 0.55 of the first zone (v above -0.78) are neighbours;
 *   - of the two lines from the ends to the highest of them (by v), each is clear of all other
 *     ground by 0.6 of its own first zone. Blunt hills fail this near their own top, and so
 *     does a path whose antennas are low over the ground on the way to the obstacle.
 *
 *   d_m, h_m, n, antenna1_m, antenna2_m, ae_m, f_hz   as for fe_fresnel_walk
 *   edge   result; untouched on error
 *
 * FE_OK
 * FE_E_DOMAIN  an argument is not finite or outside the above, or distances do not rise
 *
 * Source: ITU-R P.526-15 sec 4, conditions for an isolated obstacle (0.6 of the zone on either
 * side), and sec 4.1 for its loss; how they are read off a sampled profile is common practice,
 * no source.
 */
FE_MUST_CHECK fe_status fe_isolated_edge_find(const double *d_m, const double *h_m, size_t n,
                                              double antenna1_m, double antenna2_m, double ae_m,
                                              double f_hz, fe_isolated_edge *edge);

#endif
