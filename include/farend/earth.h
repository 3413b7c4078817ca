/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_EARTH_H
#define FAREND_EARTH_H

#include "farend/status.h"

/* The earth over which a ray runs straight: its radius, and how much larger that is. */
typedef struct fe_effective_earth {
    double k_factor; /* effective over true radius */
    double ae_m;     /* effective radius, m */
} fe_effective_earth;

/*
 * Effective earth radius from the lapse of radio refractivity in the lowest kilometre.
 *
 *   lapse_n_per_km  by how much the refractivity falls in 1 km, N-units; below 157. About 40 in
 *                   mean mid-latitude air (k = 4/3 is 39.25), more in warm wet air
 *   earth           result; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but the refractivity rises with height (lapse below 0, k below 1)
 * FE_E_DOMAIN  the lapse is not finite, or 157 or more: the ray follows the ground (a duct),
 *              and no effective radius stands for that
 *
 * Source: ITU-R P.452-18 eq 6, k = 157 / (157 - dN) and a radius of 6371 km. The warning below
 * 0 is ours: the average lapse of the Recommendation's maps is positive everywhere (from
 * memory).
 */
FE_MUST_CHECK fe_status fe_effective_earth_radius(double lapse_n_per_km,
                                                  fe_effective_earth *earth);

#endif
