/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef IMPORT_RASTER_H
#define IMPORT_RASTER_H

#include <stdbool.h>

#include <gdal.h>
#include <ogr_srs_api.h>

#include "farend/geodesic.h"

/* An elevation raster, opened, with the way from a position to a pixel. */
typedef struct raster {
    const char *path;
    GDALDatasetH dataset;
    GDALRasterBandH band;
    GDALRasterBandH mask; /* null: every pixel is valid */
    int width;
    int height;
    double to_pixel[6];
    double from_pixel[6];
    OGRCoordinateTransformationH to_crs;
    OGRCoordinateTransformationH from_crs;
    double metres_per_unit; /* of the heights */
    double scale;           /* height = (value * scale + offset) * metres_per_unit */
    double offset;
    char vertical_unit[64];   /* as told; "" where assumed */
    char vertical_datum[256]; /* "" where not told */
    char crs[256];
} raster;

/*
 * Opens a raster and checks that it holds heights at known places. `unit` is "" or the vertical
 * unit as the user knows it (m, ft, us-ft). Returns false after import_problem.
 */
bool raster_open(const char *path, const char *unit, raster *opened);
void raster_close(raster *opened);

/* Heights over different zeros make trees of what is a difference of datums: false, after
 * import_problem, where both name theirs and they differ. */
bool raster_datums_agree(const raster *ground, const raster *top);

/* Side of a pixel in metres at a position, the smaller one; false after import_problem. */
bool raster_step(const raster *from, const fe_position *at, double *step_m);

typedef enum raster_answer { RASTER_HEIGHT, RASTER_NODATA, RASTER_OUTSIDE } raster_answer;

/* Height at a position, bilinear between the four nearest pixels' centres. */
raster_answer raster_height(const raster *from, const fe_position *at, double *height_m);

/* Place of a position in pixels from the raster's corner; false where there is none. */
bool raster_pixel(const raster *from, const fe_position *at, double *x, double *y);

/*
 * Metres east and north from a pixel to the next of its row ([0]) and of its column ([1]), at a
 * position; false after import_problem.
 */
bool raster_metres(const raster *from, const fe_position *at, double east_m[2],
                   double north_m[2]);

/* Heights of `count` pixels of a row, NAN without data; false where they cannot be read. */
bool raster_row(const raster *from, int column, int row, int count, double *heights_m);

/*
 * Heights of a raster at the middles of `count` pixels of a row of another one, NAN where it has
 * none. Quick where both have the same grid.
 */
bool raster_row_on(const raster *from, const raster *grid, int column, int row, int count,
                   double *heights_m);

#endif
