/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_OBSTRUCTION_H
#define FAREND_OBSTRUCTION_H

#include "farend/status.h"

/* Loss over average terrain, with the zone it is counted in. */
typedef struct fe_obstruction {
    double radius_m; /* of the first Fresnel zone, by the source's rounded 17.3 */
    double loss_db;  /* negative where more than half of that radius is clear */
} fe_obstruction;

/*
 * Obstruction loss of average terrain: a plausibility check beside diffraction, not a term.
 *
 *   clearance_m  line of sight over the highest obstacle, negative where it cuts the line
 *   d1_m, d2_m   distance from the obstacle to each end, > 0
 *   f_hz         frequency, > 0
 *   result       untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but under the 15 dB from which the formula is stated
 * FE_E_DOMAIN  an argument is not finite, or a distance or the frequency not above zero
 *
 * Source: ITU-R P.530-18 sec 2.2.1 eq 2 (A = -20 h / F1 + 10) and 3 (F1 = 17.3 sqrt(d1 d2 / f
 * d)).
 */
FE_MUST_CHECK fe_status fe_terrain_obstruction_loss(double clearance_m, double d1_m,
                                                    double d2_m, double f_hz,
                                                    fe_obstruction *result);

#endif
