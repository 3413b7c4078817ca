/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_AROUND_PLACES_H
#define FAREND_AROUND_PLACES_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/around.h"
#include "farend/status.h"

/*
 * What an owner can act on in a map around a place: how far the link holds without a gap in
 * each direction, which areas hold beyond that, and the nearest place that holds to one that
 * does not. A cell holds where its chance reaches the wanted confidence. Costs a few passes
 * over the cells.
 */
typedef struct fe_around_chances {
    const fe_around_land *land;
    const float *chance; /* of fe_around_compute; NAN: no answer there */
    double confidence;
    double radius_m;
} fe_around_chances;

typedef struct fe_around_place {
    size_t cell;
    double east_m; /* of the first end */
    double north_m;
} fe_around_place;

/* The cell about a place, metres from the first end; false beyond the raster. */
bool fe_around_cell(const fe_around_land *land, double east_m, double north_m, size_t *cell);

/*
 * How far from the first end every cell holds, along a direction.
 *   azimuth_rad  from north, clockwise
 *   to_the_rim   true where that is the whole map
 */
double fe_around_reach(const fe_around_chances *map, double azimuth_rad, bool *to_the_rim);

/* The cell that holds nearest to a place; false where none does. */
bool fe_around_nearest(const fe_around_chances *map, double east_m, double north_m,
                       fe_around_place *nearest);

/* Cells that hold and touch one another by a side. */
typedef struct fe_around_area {
    double area_m2;
    fe_around_place middle; /* the cell farthest inside */
    bool around_end;        /* the area that the first end itself stands in */
} fe_around_area;

/*
 * The largest areas, at most `room` of them, the largest first.
 *   count  how many were put down
 *
 * FE_OK, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_around_areas(const fe_around_chances *map, fe_around_area *areas,
                                        size_t room, size_t *count);

#endif
