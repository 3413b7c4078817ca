/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_TERRAIN_SOURCE_H
#define APP_TERRAIN_SOURCE_H

#include <stdbool.h>

#include "app/terrain_made.h"
#include "farend/geodesic.h"

/*
 * Profiles out of files that GDAL reads. Every mistake is reported on stderr, FE_E_MEMORY left
 * to the caller; the profile and the facts about it are set where the status is good.
 */

/* A raster of steps up to this shows a hedge; a coarser one is judged by the length it covers. */
#define TERRAIN_FINE_STEP_M 5.0

typedef struct terrain_raster {
    const char *file;
    const char *surface; /* null: none */
    const char *unit;    /* of the heights; null: as the file says */
    fe_position from;
    fe_position to;
    bool coarse;           /* take a raster too coarse for the path all the same */
    double height_error_m; /* standard deviation; NAN: what such rasters have */
} terrain_raster;

FE_MUST_CHECK fe_status terrain_from_raster(const char *who, const terrain_raster *asked,
                                            terrain_made *made);

/* height_error_m: NAN where that of a hand-held receiver is to be taken. */
FE_MUST_CHECK fe_status terrain_from_track(const char *who, const char *file,
                                           double height_error_m, terrain_made *made);

/* False, and reported, where the file cannot be read. */
bool terrain_can_read(const char *who, const char *file);

/* False, and reported, where the height must be in another unit than the file says. NAN is no
 * height and passes. */
bool terrain_height_is_plausible(const char *who, const char *file, double height_m);

/* "46.8123,7.1512" in degrees; false, and reported, where it is none. */
bool terrain_position(const char *who, const char *name, const char *text, fe_position *at);

#endif
