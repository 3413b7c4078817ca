/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_ENTRY_LOSS_H
#define FAREND_ENTRY_LOSS_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Loss of going into a building whose walls nobody knows: one distribution over places inside,
 * walls, windows and furniture. Stands in the place of walls and their spread, never beside
 * them.
 */

/* Coefficients of one class of building. */
typedef struct fe_entry_building {
    const char *name; /* "traditional", "thermally_efficient" */
    double r;
    double s;
    double t;
    double u;
    double v;
    double w;
    double x;
    double y;
    double z;
} fe_entry_building;

/* A row of ITU-R P.2109-1 Table 1 by name; case makes no difference, and spaces, hyphens and
 * underscores are one. Null: unknown. */
const fe_entry_building *fe_entry_building_find(const char *name);

/*
 * Loss that is not exceeded with a given probability.
 *
 *   building       a row of the table
 *   f_hz           0.08 to 100 GHz
 *   elevation_rad  of the path at the facade, -pi/2 to pi/2
 *   probability    0 < p < 1; 0.5 gives the median
 *   loss_db        result; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, frequency outside the stated range
 * FE_E_DOMAIN  no building, or an argument is not finite or out of range
 *
 * Source: ITU-R P.2109-1 sec 3 eq 1 to 9 and Table 1.
 */
FE_MUST_CHECK fe_status fe_entry_loss(const fe_entry_building *building, double f_hz,
                                      double elevation_rad, double probability,
                                      double *loss_db);

/* The loss that one building in ten stays under, the median, and that nine in ten stay under.
 */
typedef struct fe_entry_spread {
    double p10_db;
    double median_db;
    double p90_db;
    double sigma_db; /* of the normal with the same 10 to 90 % width: (p90 - p10) / 2.5631 */
} fe_entry_spread;

/* Arguments and statuses as fe_entry_loss. */
FE_MUST_CHECK fe_status fe_entry_loss_spread(const fe_entry_building *building, double f_hz,
                                             double elevation_rad, fe_entry_spread *spread);

#endif
