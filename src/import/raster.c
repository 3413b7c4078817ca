/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "import/raster.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_error.h>

#include "farend/constants.h"
#include "import/import.h"

static const double SURVEY_FOOT_M = 1200.0 / 3937.0;

/* Two statements of a unit that differ by no more than both kinds of foot do are one. */
static const double SAME_UNIT = 1e-4;

/* ---- Vertical unit and datum ---- */

typedef struct unit_name {
    const char *name;
    double metres;
} unit_name;

static const unit_name UNITS[] = {
    {"m", 1.0},
    {"metre", 1.0},
    {"meter", 1.0},
    {"metres", 1.0},
    {"meters", 1.0},
    {"ft", FE_FOOT_M},
    {"foot", FE_FOOT_M},
    {"feet", FE_FOOT_M},
    {"us-ft", SURVEY_FOOT_M},
    {"ft-us", SURVEY_FOOT_M},
    {"ftUS", SURVEY_FOOT_M},
    {"US survey foot", SURVEY_FOOT_M},
    {"cm", 0.01},
    {"dm", 0.1},
};

/* 0 where the name is not known. */
static double metres_of(const char *name)
{
    for (size_t i = 0; i < sizeof UNITS / sizeof UNITS[0]; i++)
        if (EQUAL(UNITS[i].name, name))
            return UNITS[i].metres;
    return 0.0;
}

/* The unit that the coordinate system gives heights; 0 where it says nothing of them. */
static double metres_of_system(OGRSpatialReferenceH system, raster *opened)
{
    char *name = NULL;
    const char *vertical = OSRGetAttrValue(system, "VERT_CS", 0);
    const char *datum = OSRGetAttrValue(system, "VERT_DATUM", 0);
    if (!vertical) {
        if (OSRGetAxesCount(system) == 3)
            snprintf(opened->vertical_datum, sizeof opened->vertical_datum,
                     "ellipsoid, not sea level");
        return 0.0;
    }
    snprintf(opened->vertical_datum, sizeof opened->vertical_datum, "%s",
             datum ? datum : vertical);
    return OSRGetTargetLinearUnits(system, "VERT_CS", &name);
}

static bool find_unit(OGRSpatialReferenceH system, const char *unit, raster *opened)
{
    const char *told = GDALGetRasterUnitType(opened->band);
    const double by_system = metres_of_system(system, opened);
    double by_band = told && *told ? metres_of(told) : 0.0;
    if (*unit) {
        opened->metres_per_unit = metres_of(unit);
        snprintf(opened->vertical_unit, sizeof opened->vertical_unit, "%s", unit);
        return true;
    }
    if (told && *told && by_band == 0.0) {
        import_problem("%s: its heights are in \"%s\", which is no unit of length known here; "
                       "say it with --vertical-unit",
                       opened->path, told);
        return false;
    }
    if (by_band > 0.0 && by_system > 0.0 && fabs(by_band / by_system - 1.0) > SAME_UNIT) {
        import_problem("%s: the band says heights in %s, the coordinate system says a unit of "
                       "%g m; say which with --vertical-unit",
                       opened->path, told, by_system);
        return false;
    }
    opened->metres_per_unit = by_band > 0.0 ? by_band : by_system > 0.0 ? by_system : 1.0;
    if (by_band > 0.0)
        snprintf(opened->vertical_unit, sizeof opened->vertical_unit, "%s", told);
    else if (by_system > 0.0)
        snprintf(opened->vertical_unit, sizeof opened->vertical_unit, "%g m", by_system);
    return true;
}

/* ---- Coordinates ---- */

static bool open_transforms(OGRSpatialReferenceH system, raster *opened)
{
    OGRSpatialReferenceH world = OSRNewSpatialReference(NULL);
    /* Heights stay as they are in the file: only the plane counts here. */
    OGRSpatialReferenceH plane = OSRClone(system);
    bool good = world && plane && OSRImportFromEPSG(world, 4326) == OGRERR_NONE &&
                OSRDemoteTo2D(plane, NULL) == OGRERR_NONE;
    if (good) {
        OSRSetAxisMappingStrategy(world, OAMS_TRADITIONAL_GIS_ORDER);
        OSRSetAxisMappingStrategy(plane, OAMS_TRADITIONAL_GIS_ORDER);
        opened->to_crs = OCTNewCoordinateTransformation(world, plane);
        opened->from_crs = OCTNewCoordinateTransformation(plane, world);
    }
    OSRDestroySpatialReference(world);
    OSRDestroySpatialReference(plane);
    if (!opened->to_crs || !opened->from_crs) {
        import_problem("%s: no way from latitude and longitude into its coordinate system",
                       opened->path);
        return false;
    }
    return true;
}

static bool find_place(raster *opened)
{
    OGRSpatialReferenceH system = GDALGetSpatialRef(opened->dataset);
    if (!system || GDALGetGeoTransform(opened->dataset, opened->from_pixel) != CE_None ||
        !GDALInvGeoTransform(opened->from_pixel, opened->to_pixel)) {
        import_problem("%s: it does not say where on the earth it lies", opened->path);
        return false;
    }
    const char *name = OSRGetName(system);
    snprintf(opened->crs, sizeof opened->crs, "%s", name ? name : "unnamed");
    return open_transforms(system, opened);
}

/* ---- Opening ---- */

static bool holds_heights(const raster *opened)
{
    const GDALColorInterp colour = GDALGetRasterColorInterpretation(opened->band);
    if (colour == GCI_PaletteIndex || colour == GCI_RedBand) {
        import_problem("%s: this is a picture (colours), not a raster of heights",
                       opened->path);
        return false;
    }
    if (GDALDataTypeIsComplex(GDALGetRasterDataType(opened->band))) {
        import_problem("%s: its values are complex numbers, not heights", opened->path);
        return false;
    }
    return true;
}

bool raster_open(const char *path, const char *unit, raster *opened)
{
    *opened = (raster){.path = path, .scale = 1.0};
    opened->dataset = GDALOpenEx(path, GDAL_OF_RASTER | GDAL_OF_READONLY, NULL, NULL, NULL);
    if (!opened->dataset) {
        import_problem("%s: cannot be read as a raster", path);
        return false;
    }
    if (GDALGetRasterCount(opened->dataset) < 1) {
        import_problem("%s: no band in it", path);
        return false;
    }
    opened->band = GDALGetRasterBand(opened->dataset, 1);
    opened->width = GDALGetRasterXSize(opened->dataset);
    opened->height = GDALGetRasterYSize(opened->dataset);
    if (!holds_heights(opened) || !find_place(opened))
        return false;
    int given = 0;
    const double scale = GDALGetRasterScale(opened->band, &given);
    opened->scale = given && scale != 0.0 ? scale : 1.0;
    const double offset = GDALGetRasterOffset(opened->band, &given);
    opened->offset = given ? offset : 0.0;
    if (!(GDALGetMaskFlags(opened->band) & GMF_ALL_VALID))
        opened->mask = GDALGetMaskBand(opened->band);
    return find_unit(GDALGetSpatialRef(opened->dataset), unit, opened);
}

void raster_close(raster *opened)
{
    if (opened->to_crs)
        OCTDestroyCoordinateTransformation(opened->to_crs);
    if (opened->from_crs)
        OCTDestroyCoordinateTransformation(opened->from_crs);
    if (opened->dataset)
        GDALClose(opened->dataset);
    *opened = (raster){0};
}

bool raster_datums_agree(const raster *ground, const raster *top)
{
    if (!*ground->vertical_datum || !*top->vertical_datum ||
        strcmp(ground->vertical_datum, top->vertical_datum) == 0)
        return true;
    import_problem("%s and %s have heights above different zeros (%s and %s); their difference "
                   "would not be trees and roofs",
                   ground->path, top->path, ground->vertical_datum, top->vertical_datum);
    return false;
}

/* ---- Places ---- */

/* As GDAL orders a geotransform; its own function takes no const. */
static void apply(const double affine[6], double u, double v, double *x, double *y)
{
    *x = affine[0] + affine[1] * u + affine[2] * v;
    *y = affine[3] + affine[4] * u + affine[5] * v;
}

bool raster_pixel(const raster *from, const fe_position *at, double *x, double *y)
{
    double east = at->longitude_rad / FE_DEG_RAD;
    double north = at->latitude_rad / FE_DEG_RAD;
    if (!OCTTransform(from->to_crs, 1, &east, &north, NULL) || !isfinite(east) ||
        !isfinite(north))
        return false;
    apply(from->to_pixel, east, north, x, y);
    return isfinite(*x) && isfinite(*y);
}

static bool from_pixel(const raster *from, double x, double y, fe_position *at)
{
    double east = 0.0;
    double north = 0.0;
    apply(from->from_pixel, x, y, &east, &north);
    if (!OCTTransform(from->from_crs, 1, &east, &north, NULL) || !isfinite(east) ||
        !isfinite(north))
        return false;
    *at = (fe_position){north * FE_DEG_RAD, remainder(east, 360.0) * FE_DEG_RAD};
    return true;
}

/* From the pixel at a position to the next of its row, and of its column. */
static bool pixel_ways(const raster *from, const fe_position *at, fe_geodesic ways[2])
{
    double x = 0.0;
    double y = 0.0;
    fe_position here;
    fe_position across;
    fe_position down;
    const bool good = raster_pixel(from, at, &x, &y) && from_pixel(from, x, y, &here) &&
                      from_pixel(from, x + 1.0, y, &across) &&
                      from_pixel(from, x, y + 1.0, &down) &&
                      fe_geodesic_between(&here, &across, &ways[0]) == FE_OK &&
                      fe_geodesic_between(&here, &down, &ways[1]) == FE_OK &&
                      fmin(ways[0].length_m, ways[1].length_m) > 0.0;
    if (!good)
        import_problem("%s: the path lies outside its coordinate system", from->path);
    return good;
}

bool raster_step(const raster *from, const fe_position *at, double *step_m)
{
    fe_geodesic ways[2];
    if (!pixel_ways(from, at, ways))
        return false;
    *step_m = fmin(ways[0].length_m, ways[1].length_m);
    return true;
}

bool raster_metres(const raster *from, const fe_position *at, double east_m[2],
                   double north_m[2])
{
    fe_geodesic ways[2];
    if (!pixel_ways(from, at, ways))
        return false;
    for (size_t i = 0; i < 2; i++) {
        east_m[i] = ways[i].length_m * sin(ways[i].azimuth_rad);
        north_m[i] = ways[i].length_m * cos(ways[i].azimuth_rad);
    }
    return true;
}

/* ---- Heights ---- */

/* Two by two pixels; those that do not exist repeat the edge. */
typedef struct patch {
    double value[4];
    bool valid[4];
} patch;

static bool read_patch(const raster *from, int column, int row, patch *read)
{
    const int columns = column + 1 < from->width ? 2 : 1;
    const int rows = row + 1 < from->height ? 2 : 1;
    double values[4];
    unsigned char shown[4] = {255, 255, 255, 255};
    if (GDALRasterIO(from->band, GF_Read, column, row, columns, rows, values, columns, rows,
                     GDT_Float64, 0, 0) != CE_None)
        return false;
    if (from->mask && GDALRasterIO(from->mask, GF_Read, column, row, columns, rows, shown,
                                   columns, rows, GDT_Byte, 0, 0) != CE_None)
        return false;
    for (int k = 0; k < 4; k++) {
        const int source = (k % 2) * (columns - 1) + (k / 2) * (rows - 1) * columns;
        read->value[k] = values[source];
        read->valid[k] = shown[source] != 0 && isfinite(values[source]);
    }
    return true;
}

/* Pixels without data are left out where the others carry at least half of the weight. */
static raster_answer blend(const patch *read, double across, double down, double *value)
{
    const double weights[4] = {(1.0 - across) * (1.0 - down), across * (1.0 - down),
                               (1.0 - across) * down, across * down};
    double sum = 0.0;
    double weight = 0.0;
    for (int k = 0; k < 4; k++) {
        if (!read->valid[k])
            continue;
        sum += weights[k] * read->value[k];
        weight += weights[k];
    }
    if (weight < 0.5)
        return RASTER_NODATA;
    *value = sum / weight;
    return RASTER_HEIGHT;
}

static double height_of(const raster *from, double value)
{
    return (value * from->scale + from->offset) * from->metres_per_unit;
}

raster_answer raster_height(const raster *from, const fe_position *at, double *height_m)
{
    double x = 0.0;
    double y = 0.0;
    if (!raster_pixel(from, at, &x, &y) || x < 0.0 || y < 0.0 || x > from->width ||
        y > from->height)
        return RASTER_OUTSIDE;
    /* A pixel's value is that of its middle; in the outermost half pixel the edge holds. */
    x = fmin(fmax(x - 0.5, 0.0), from->width - 1.0);
    y = fmin(fmax(y - 0.5, 0.0), from->height - 1.0);
    const int column = (int)x;
    const int row = (int)y;
    patch read;
    double value = 0.0;
    if (!read_patch(from, column, row, &read))
        return RASTER_NODATA;
    const raster_answer answer = blend(&read, x - column, y - row, &value);
    if (answer == RASTER_HEIGHT)
        *height_m = height_of(from, value);
    return answer;
}

/* ---- Windows ---- */

bool raster_row(const raster *from, int column, int row, int count, double *heights_m)
{
    if (GDALRasterIO(from->band, GF_Read, column, row, count, 1, heights_m, count, 1,
                     GDT_Float64, 0, 0) != CE_None)
        return false;
    unsigned char *shown = from->mask ? malloc((size_t)count) : NULL;
    if (from->mask && !shown)
        return false;
    const bool good = !shown || GDALRasterIO(from->mask, GF_Read, column, row, count, 1, shown,
                                             count, 1, GDT_Byte, 0, 0) == CE_None;
    for (int i = 0; i < count; i++)
        heights_m[i] = (shown && !shown[i]) ? (double)NAN : height_of(from, heights_m[i]);
    free(shown);
    return good;
}

/* How far a raster's pixels are shifted against those of another; false where they are not
 * the same grid to a thousandth of a pixel. */
static bool find_shift(const raster *from, const raster *grid, int *columns, int *rows)
{
    double x = 0.0;
    double y = 0.0;
    const double *own = from->from_pixel;
    const double *other = grid->from_pixel;
    const double turn = 1e-6 * (fabs(own[1]) + fabs(own[2]) + fabs(own[4]) + fabs(own[5]));
    for (int k = 1; k < 6; k++)
        if (k != 3 && fabs(own[k] - other[k]) * fmax(from->width, from->height) > turn * 1e3)
            return false;
    if (!OSRIsSame(GDALGetSpatialRef(from->dataset), GDALGetSpatialRef(grid->dataset)))
        return false;
    apply(from->to_pixel, other[0], other[3], &x, &y);
    *columns = (int)round(x);
    *rows = (int)round(y);
    return fabs(x - *columns) < 1e-3 && fabs(y - *rows) < 1e-3;
}

/* The part of a row that the raster has; the rest is not known. */
static bool shifted_row(const raster *from, int column, int row, int count, double *heights_m)
{
    for (int i = 0; i < count; i++)
        heights_m[i] = NAN;
    const int first = column < 0 ? -column : 0;
    const int beyond = column + count > from->width ? from->width - column : count;
    if (row < 0 || row >= from->height || first >= beyond)
        return true;
    return raster_row(from, column + first, row, beyond - first, heights_m + first);
}

bool raster_row_on(const raster *from, const raster *grid, int column, int row, int count,
                   double *heights_m)
{
    int columns = 0;
    int rows = 0;
    if (find_shift(from, grid, &columns, &rows))
        return shifted_row(from, column + columns, row + rows, count, heights_m);
    for (int i = 0; i < count; i++) {
        fe_position at;
        heights_m[i] = NAN;
        if (from_pixel(grid, column + i + 0.5, row + 0.5, &at))
            (void)raster_height(from, &at, &heights_m[i]);
    }
    return true;
}
