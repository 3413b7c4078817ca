/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_TERRAIN_PLACES_H
#define APP_TERRAIN_PLACES_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#include "farend/amount.h"
#include "farend/around_places.h"
#include "farend/geodesic.h"
#include "farend/strbuf.h"

/* What an owner can act on in the map about an end, in words and as JSON. */
enum { PLACES_DIRECTIONS = 8, PLACES_AREAS = 3 };

typedef struct terrain_place {
    fe_position at;
    fe_geodesic way; /* from the first end, or from the far end to the nearest that holds */
    double margin_db;
    double chance;
} terrain_place;

typedef struct terrain_places {
    double reach_m[PLACES_DIRECTIONS]; /* from north, clockwise */
    bool to_the_rim[PLACES_DIRECTIONS];
    double area_m2[PLACES_AREAS]; /* that hold but not about the end, the largest first */
    terrain_place middle[PLACES_AREAS];
    size_t area_count;
    double own_area_m2; /* that about the end; 0: none */
    bool knows_far_end; /* the plan has its position */
    bool has_far_end;   /* and the map an answer there */
    terrain_place far_end;
    bool far_end_holds;
    bool has_nearest; /* where it does not: a place that does */
    terrain_place nearest;
} terrain_places;

/*
 *   from      the first end
 *   far_end   of the plan; null: not known
 *
 * FE_OK, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status terrain_places_find(const fe_around_chances *map,
                                            const float *margin_db, const fe_position *from,
                                            const fe_position *far_end, terrain_places *found);

void terrain_places_print(const terrain_places *found, const char *far_name, fe_units units,
                          fe_strbuf *out);

/* "reach", "areas" and, where it is known, "far_end" (null: the map has no answer there) into an
 * object (see output_json_set). */
void terrain_places_json(const terrain_places *found, json_t **object);

#endif
