/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CLUTTER_H
#define FAREND_CLUTTER_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Loss of an antenna within houses and trees by ITU-R P.2108. Plausibility beside a result,
 * never added to one that already has trees or walls.
 */
typedef struct fe_clutter {
    const char *type;      /* "water", "open_rural", "suburban"... */
    double usual_height_m; /* of the clutter, where the caller knows none */
    bool stands;           /* houses and trees: diffraction; open land: height alone */
} fe_clutter;

/* A row of ITU-R P.2108-1 Table 3 by name; null: unknown. */
const fe_clutter *fe_clutter_find(const char *type);

/* Width of a street where the caller knows none; P.2108-1 sec 3.1. */
#define FE_CLUTTER_STREET_M 27.0

/* An antenna in clutter. */
typedef struct fe_clutter_place {
    const fe_clutter *clutter;
    double clutter_height_m; /* > 0 */
    double street_width_m;   /* > 0 */
    double antenna_height_m; /* > 0 */
} fe_clutter_place;

/*
 * Loss at one end for its height among the clutter.
 *
 *   place    see above
 *   f_hz     frequency, > 0; stated for 0.03 to 3 GHz
 *   loss_db  result, 0 for an antenna above the clutter; untouched on error
 *
 * FE_OK, FE_W_RANGE outside 0.03 to 3 GHz, FE_E_DOMAIN
 *
 * Source: ITU-R P.2108-1 sec 3.1, from memory.
 */
FE_MUST_CHECK fe_status fe_clutter_height_gain(const fe_clutter_place *place, double f_hz,
                                               double *loss_db);

/*
 * Loss not exceeded at a share of places for a path that has one end within clutter.
 *
 *   f_hz        frequency, > 0; stated for 0.5 to 67 GHz
 *   distance_m  whole path, > 0; stated from 250 m
 *   share       of places, above 0 and below 1
 *   loss_db     result, the smaller of the values at the distance and at 2 km; untouched on
 *               error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: ITU-R P.2108-1 sec 3.2, from memory.
 */
FE_MUST_CHECK fe_status fe_clutter_statistical(double f_hz, double distance_m, double share,
                                               double *loss_db);

#endif
