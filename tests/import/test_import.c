/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * `farend terrain` over tracks and rasters that this program writes through GDAL: surfaces
 * whose exact profile is known, and files that are broken in each way.
 */
#ifndef _XOPEN_SOURCE
#define _XOPEN_SOURCE 700
#endif
#include <fcntl.h>
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cpl_string.h>
#include <gdal.h>
#include <geodesic.h>
#include <ogr_srs_api.h>

#include "farend/geodesic.h"
#include "farend/profile.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

static const double DEGREE_RAD = 3.14159265358979323846 / 180.0;

/* ---- Rasters of known surfaces ---- */

typedef double (*surface)(double x, double y);

typedef struct tile {
    const char *path;
    int epsg;    /* 0: none */
    double west; /* of the corner, in the system's units */
    double north;
    double step;
    int size;
    surface height; /* of the middle of a pixel, in the system's coordinates */
    const char *unit;
    double factor;  /* stored = height * factor */
    double hole[4]; /* west, east, south, north without data */
} tile;

static void write_tile(const tile *made)
{
    char **create = CSLAddNameValue(NULL, "COMPRESS", "DEFLATE");
    GDALDatasetH file = GDALCreate(GDALGetDriverByName("GTiff"), made->path, made->size,
                                   made->size, 1, GDT_Float64, create);
    CSLDestroy(create);
    assert_non_null(file);
    double affine[6] = {made->west, made->step, 0.0, made->north, 0.0, -made->step};
    assert_int_equal(GDALSetGeoTransform(file, affine), CE_None);
    if (made->epsg) {
        OGRSpatialReferenceH system = OSRNewSpatialReference(NULL);
        assert_int_equal(OSRImportFromEPSG(system, made->epsg), OGRERR_NONE);
        assert_int_equal(GDALSetSpatialRef(file, system), CE_None);
        OSRDestroySpatialReference(system);
    }
    GDALRasterBandH band = GDALGetRasterBand(file, 1);
    GDALSetRasterNoDataValue(band, -9999.0);
    if (made->unit)
        GDALSetRasterUnitType(band, made->unit);
    double *line = malloc((size_t)made->size * sizeof *line);
    assert_non_null(line);
    for (int row = 0; row < made->size; row++) {
        const double y = made->north - (row + 0.5) * made->step;
        for (int column = 0; column < made->size; column++) {
            const double x = made->west + (column + 0.5) * made->step;
            const bool hole = x > made->hole[0] && x < made->hole[1] && y > made->hole[2] &&
                              y < made->hole[3];
            line[column] = hole ? -9999.0 : made->height(x, y) * made->factor;
        }
        assert_int_equal(GDALRasterIO(band, GF_Write, 0, row, made->size, 1, line, made->size,
                                      1, GDT_Float64, 0, 0),
                         CE_None);
    }
    free(line);
    GDALClose(file);
}

/* UTM zone 32 north: the tile's middle lies at 400 400 east, 5 200 200 north. */
static const double EAST = 400200.0;
static const double NORTH = 5200400.0;

static double plane(double x, double y)
{
    return 500.0 + 0.05 * (x - EAST) - 0.03 * (NORTH - y);
}

static double ridge(double x, double y)
{
    (void)y;
    return 500.0 + fmax(0.0, 12.0 - 0.4 * fabs(x - EAST - 200.0));
}

static double hemisphere(double x, double y)
{
    const double apart = hypot(x - EAST - 200.0, y - NORTH + 200.0);
    return 500.0 + (apart < 100.0 ? sqrt(100.0 * 100.0 - apart * apart) : 0.0);
}

static double trees(double x, double y)
{
    return plane(x, y) + (x > EAST + 150.0 && x < EAST + 200.0 ? 14.0 : -0.2);
}

static double geographic_plane(double x, double y)
{
    return 700.0 + 2000.0 * (x - 7.0) + 3000.0 * (y - 46.0);
}

static const tile PLANE = {"plane.tif", 32632, 400200.0, 5200400.0, 1.0,
                           400,         plane, "m",      1.0,       {0.0, 0.0, 0.0, 0.0}};

/* Positions of the tile's system, as the command takes them. */
static void place(int epsg, double x, double y, double degrees[2])
{
    OGRSpatialReferenceH system = OSRNewSpatialReference(NULL);
    OGRSpatialReferenceH world = OSRNewSpatialReference(NULL);
    assert_int_equal(OSRImportFromEPSG(system, epsg), OGRERR_NONE);
    assert_int_equal(OSRImportFromEPSG(world, 4326), OGRERR_NONE);
    OSRSetAxisMappingStrategy(system, OAMS_TRADITIONAL_GIS_ORDER);
    OSRSetAxisMappingStrategy(world, OAMS_TRADITIONAL_GIS_ORDER);
    OGRCoordinateTransformationH way = OCTNewCoordinateTransformation(system, world);
    assert_non_null(way);
    assert_true(OCTTransform(way, 1, &x, &y, NULL));
    degrees[0] = y;
    degrees[1] = x;
    OCTDestroyCoordinateTransformation(way);
    OSRDestroySpatialReference(system);
    OSRDestroySpatialReference(world);
}

/* ---- Running ---- */

typedef struct outcome {
    int code;
    char *out;
    char *err;
} outcome;

static outcome run_line(const char *line)
{
    outcome got = {0};
    fe_testing_run_line(".", line, &got.out, &got.err, &got.code);
    return got;
}

static void outcome_free(outcome *got)
{
    free(got->out);
    free(got->err);
}

static void wants(const char *line, int code, const char *err)
{
    outcome got = run_line(line);
    if (got.code != code || !strstr(got.err, err))
        fail_msg("%s\nexit %d, wanted %d\nstderr:\n%s\nwanted in it:\n%s\nstdout:\n%s", line,
                 got.code, code, got.err, err, got.out);
    outcome_free(&got);
}

/* From two points of UTM 32 over a raster. */
static const char *path_line(const char *raster, const double ends[4], const char *more)
{
    static char line[1024];
    double from[2];
    double to[2];
    place(32632, ends[0], ends[1], from);
    place(32632, ends[2], ends[3], to);
    snprintf(line, sizeof line,
             "farend terrain --raster %s --from=%.9f,%.9f --to=%.9f,%.9f --output "
             "test_import_out.csv %s",
             raster, from[0], from[1], to[0], to[1], more);
    return line;
}

static fe_profile profile_of(const char *line)
{
    fe_profile profile = {0};
    fe_messages messages = {0};
    wants(line, 0, "");
    assert_int_equal(fe_profile_read("test_import_out.csv", &profile, &messages), FE_OK);
    return profile;
}

static const double ACROSS[4] = {EAST + 20.3, NORTH - 180.7, EAST + 371.4, NORTH - 233.2};

/* Every point against the surface at the same share of the way; lines of UTM are straight on
 * the ground to a millimetre here. */
static void check_surface(const char *raster, surface height, double tolerance_m)
{
    fe_profile got = profile_of(path_line(raster, ACROSS, ""));
    const double length_m = fe_profile_length(&got);
    assert_true(got.count > 350);
    for (size_t i = 0; i < got.count; i++) {
        const double share = got.distance_m[i] / length_m;
        const double x = ACROSS[0] + share * (ACROSS[2] - ACROSS[0]);
        const double y = ACROSS[1] + share * (ACROSS[3] - ACROSS[1]);
        assert_close(got.height_m[i], height(x, y), tolerance_m);
    }
    fe_profile_free(&got);
}

static void raster__plane_is_met_exactly(void **state)
{
    (void)state;
    write_tile(&PLANE);
    check_surface("plane.tif", plane, 0.002);
}

static void raster__ridge_is_met_within_a_pixel(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "ridge.tif";
    made.height = ridge;
    write_tile(&made);
    /* The crest lies between pixels' middles: a quarter of a step on either side is cut. */
    check_surface("ridge.tif", ridge, 0.4 * 0.5 + 0.002);
}

static void raster__hemisphere_is_met_but_at_its_foot(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "hemisphere.tif";
    made.height = hemisphere;
    write_tile(&made);
    fe_profile got = profile_of(path_line("hemisphere.tif", ACROSS, ""));
    const double length_m = fe_profile_length(&got);
    for (size_t i = 0; i < got.count; i++) {
        const double share = got.distance_m[i] / length_m;
        const double x = ACROSS[0] + share * (ACROSS[2] - ACROSS[0]);
        const double y = ACROSS[1] + share * (ACROSS[3] - ACROSS[1]);
        const double apart = hypot(x - EAST - 200.0, y - NORTH + 200.0);
        /* h^2 |z''| / 8 on each axis, |z''| = R^2 / z^3, twice for both axes. */
        if (apart < 90.0)
            assert_close(got.height_m[i], hemisphere(x, y),
                         2.0 * 1e4 / pow(43.0, 3.0) / 8.0 + 0.02);
        if (apart > 103.0)
            assert_close(got.height_m[i], 500.0, 1e-3);
    }
    fe_profile_free(&got);
}

static void raster__length_and_bearing_are_those_of_the_ellipsoid(void **state)
{
    (void)state;
    double from[2];
    double to[2];
    double length_m = 0.0;
    double azimuth_deg = 0.0;
    double back_deg = 0.0;
    struct geod_geodesic earth;
    geod_init(&earth, 6378137.0, 1.0 / 298.257223563);
    place(32632, ACROSS[0], ACROSS[1], from);
    place(32632, ACROSS[2], ACROSS[3], to);
    geod_inverse(&earth, from[0], from[1], to[0], to[1], &length_m, &azimuth_deg, &back_deg);
    fe_geodesic own;
    assert_int_equal(
        fe_geodesic_between(&(fe_position){from[0] * DEGREE_RAD, from[1] * DEGREE_RAD},
                            &(fe_position){to[0] * DEGREE_RAD, to[1] * DEGREE_RAD}, &own),
        FE_OK);
    assert_close(own.length_m, length_m, 1e-4);
    assert_close(own.azimuth_rad / DEGREE_RAD, azimuth_deg, 1e-4);
    fe_profile got = profile_of(path_line("plane.tif", ACROSS, ""));
    assert_close(fe_profile_length(&got), length_m, 1e-3);
    /* One point a step of the raster, which the map's scale makes 0.03 % longer here. */
    assert_close(length_m / (double)(got.count - 1), 1.0, 0.005);
    fe_profile_free(&got);
}

/* Metres from the middle of the path below, by the degree at this latitude. */
static double degrees_east_m(double x)
{
    return 77400.0 * (x - 7.00275);
}

static double degrees_north_m(double y)
{
    return 111150.0 * (y - 46.0046);
}

static double geographic_ridge(double x, double y)
{
    (void)y;
    return 500.0 + fmax(0.0, 12.0 - 0.4 * fabs(degrees_east_m(x)));
}

static double geographic_dome_apart_m(double x, double y)
{
    return hypot(degrees_east_m(x), degrees_north_m(y));
}

static double geographic_hemisphere(double x, double y)
{
    const double apart = geographic_dome_apart_m(x, y);
    return 500.0 + (apart < 100.0 ? sqrt(100.0 * 100.0 - apart * apart) : 0.0);
}

typedef double (*tolerance_at)(double x, double y);

/* Every point of one path over a raster in degrees, whose lines are straight there too. */
static void check_degrees(const char *path, surface height, tolerance_at tolerance_m)
{
    const tile made = {path, 4326,   7.0,     46.01, 1e-5,
                       1000, height, "metre", 1.0,   {0.0, 0.0, 0.0, 0.0}};
    char line[300];
    write_tile(&made);
    snprintf(line, sizeof line,
             "farend terrain --raster %s --from=46.001,7.0011 --to=46.0082,7.0044 --output "
             "test_import_out.csv",
             path);
    fe_profile got = profile_of(line);
    const double length_m = fe_profile_length(&got);
    /* The smaller side of the pixel: 0.77 m from west to east. */
    assert_close(length_m / (double)(got.count - 1), 0.774, 0.002);
    for (size_t i = 0; i < got.count; i++) {
        const double share = got.distance_m[i] / length_m;
        const double x = 7.0011 + 0.0033 * share;
        const double y = 46.001 + 0.0072 * share;
        assert_close(got.height_m[i], height(x, y), tolerance_m(x, y));
    }
    fe_profile_free(&got);
}

static double plane_tolerance_m(double x, double y)
{
    (void)x;
    (void)y;
    return 0.005;
}

/* A crest half-way between the middles of two pixels loses 0.4 times half of 0.77 m. */
static double ridge_tolerance_m(double x, double y)
{
    (void)y;
    const double off_m = fabs(degrees_east_m(x));
    return off_m < 0.8 || fabs(off_m - 30.0) < 0.8 ? 0.16 : 0.005;
}

/* h^2 |z''| / 8 over both sides of a pixel, |z''| = R^2 / z^3; at the foot a wall. */
static double hemisphere_tolerance_m(double x, double y)
{
    const double apart = geographic_dome_apart_m(x, y);
    if (apart > 103.0)
        return 0.001;
    const double z = sqrt(1e4 - fmin(apart * apart, 9e3));
    return apart > 90.0 ? 20.0 : (0.6 + 1.24) * 1e4 / (z * z * z) / 8.0 + 0.02;
}

static void raster__in_degrees_is_met_as_well(void **state)
{
    (void)state;
    check_degrees("degrees.tif", geographic_plane, plane_tolerance_m);
    check_degrees("degrees-ridge.tif", geographic_ridge, ridge_tolerance_m);
    check_degrees("degrees-dome.tif", geographic_hemisphere, hemisphere_tolerance_m);
}

static void raster__in_feet_comes_out_in_metres(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "feet.tif";
    made.unit = "ft";
    made.factor = 1.0 / 0.3048;
    write_tile(&made);
    check_surface("feet.tif", plane, 0.002);
    made.path = "plain.tif";
    made.unit = NULL;
    write_tile(&made);
    fe_profile got = profile_of(path_line("plain.tif", ACROSS, "--vertical-unit ft"));
    assert_close(got.height_m[0], plane(ACROSS[0], ACROSS[1]), 0.002);
    fe_profile_free(&got);
    made.path = "fathoms.tif";
    made.unit = "fathom";
    write_tile(&made);
    wants(path_line("fathoms.tif", ACROSS, ""), 2,
          "its heights are in \"fathom\", which is no unit of length known here");
}

static void raster__surface_less_terrain_is_trees(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "surface.tif";
    made.height = trees;
    write_tile(&made);
    fe_profile got = profile_of(path_line("plane.tif", ACROSS, "--surface surface.tif"));
    assert_non_null(got.clutter_m);
    const double length_m = fe_profile_length(&got);
    for (size_t i = 0; i < got.count; i++) {
        const double x =
            ACROSS[0] + got.distance_m[i] / length_m * (ACROSS[2] - ACROSS[0]) - EAST;
        if (x > 151.0 && x < 199.0)
            assert_close(got.clutter_m[i], 14.0, 0.002);
        if (x < 149.0 || x > 201.0)
            assert_close(got.clutter_m[i], 0.0, 0.0);
    }
    fe_profile_free(&got);
}

/* The file with heights above a zero of its own. */
static void set_datum(const char *path, int epsg_plane, int epsg_vertical)
{
    GDALDatasetH file = GDALOpen(path, GA_Update);
    OGRSpatialReferenceH both = OSRNewSpatialReference(NULL);
    OGRSpatialReferenceH flat = OSRNewSpatialReference(NULL);
    OGRSpatialReferenceH upright = OSRNewSpatialReference(NULL);
    assert_non_null(file);
    assert_int_equal(OSRImportFromEPSG(flat, epsg_plane), OGRERR_NONE);
    assert_int_equal(OSRImportFromEPSG(upright, epsg_vertical), OGRERR_NONE);
    assert_int_equal(OSRSetCompoundCS(both, "both", flat, upright), OGRERR_NONE);
    assert_int_equal(GDALSetSpatialRef(file, both), CE_None);
    OSRDestroySpatialReference(both);
    OSRDestroySpatialReference(flat);
    OSRDestroySpatialReference(upright);
    GDALClose(file);
}

/* 5783 counts from a mean sea level of one country, 5703 from that of another; 6360 is the
 * latter in feet. */
static void raster__of_another_zero_or_unit_is_noticed(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "zero-ground.tif";
    write_tile(&made);
    set_datum(made.path, 32632, 5783);
    made.path = "zero-top.tif";
    made.height = trees;
    write_tile(&made);
    set_datum(made.path, 32632, 5703);
    wants(path_line("zero-ground.tif", ACROSS, "--surface zero-top.tif"), 2,
          "have heights above different zeros");
    outcome said = run_line(path_line("zero-ground.tif", ACROSS, ""));
    assert_int_equal(said.code, 0);
    assert_non_null(strstr(said.out, "heights: m above Deutsches Haupthoehennetz 1992"));
    outcome_free(&said);
    made = PLANE;
    made.path = "two-units.tif";
    write_tile(&made);
    set_datum(made.path, 32632, 6360);
    wants(path_line("two-units.tif", ACROSS, ""), 2, "say which with --vertical-unit");
}

static void raster__without_data_is_bridged_or_refused(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "hole.tif";
    const double hole[4] = {EAST + 150.0, EAST + 170.0, NORTH - 400.0, NORTH};
    memcpy(made.hole, hole, sizeof hole);
    write_tile(&made);
    fe_profile got = profile_of(path_line("hole.tif", ACROSS, ""));
    wants(path_line("hole.tif", ACROSS, ""), 0, "straight lines stand in, with a larger error");
    bool larger = false;
    for (size_t i = 0; i < got.count; i++)
        larger = larger || got.height_error_m[i] > 0.9;
    assert_true(larger);
    fe_profile_free(&got);
    const double into_hole[4] = {EAST + 20.0, NORTH - 100.0, EAST + 160.0, NORTH - 100.0};
    wants(path_line("hole.tif", into_hole, ""), 2, "the ends must have heights");
    const double beyond[4] = {EAST + 20.0, NORTH - 100.0, EAST + 460.0, NORTH - 100.0};
    wants(path_line("plane.tif", beyond, ""), 2,
          "the path lies outside the raster from 380 m to 440 m of its 440 m");
}

static void raster__too_coarse_is_refused_or_used_when_asked(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "coarse.tif";
    made.step = 30.0;
    made.size = 40;
    write_tile(&made);
    const double ends[4] = {EAST + 100.0, NORTH - 100.0, EAST + 250.0, NORTH - 100.0};
    wants(path_line("coarse.tif", ends, ""), 2,
          "a raster of 30 m has 5 steps on a path of 150 m: a rise between them is not in it, "
          "and each height may be off by 4 m");
    fe_profile got = profile_of(path_line("coarse.tif", ends, "--coarse"));
    assert_int_equal(got.count, 6);
    assert_close(got.height_error_m[2], 4.0, 1e-3);
    fe_profile_free(&got);
    outcome said = run_line(path_line("coarse.tif", ends, "--coarse"));
    assert_non_null(strstr(said.out, "for the first Fresnel zone: not good enough"));
    outcome_free(&said);
}

static void raster__broken_files_are_refused(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "nowhere.tif";
    made.epsg = 0;
    write_tile(&made);
    wants(path_line("nowhere.tif", ACROSS, ""), 2,
          "it does not say where on the earth it lies");
    wants(path_line("no-such.tif", ACROSS, ""), 2, "no-such.tif: No such file or directory");
    assert_int_equal(fe_textfile_write("text.tif", "no raster", 9), FE_OK);
    wants(path_line("text.tif", ACROSS, ""), 2, "text.tif: cannot be read as a raster");
    assert_int_equal(truncate("plane.tif", 3000), 0);
    wants(path_line("plane.tif", ACROSS, ""), 2, "plane.tif");
    write_tile(&PLANE);
    GDALDatasetH picture = GDALCreate(GDALGetDriverByName("GTiff"), "picture.tif", 4, 4, 3,
                                      GDT_Byte, (char *[]){(char[]){"PHOTOMETRIC=RGB"}, NULL});
    GDALClose(picture);
    wants(path_line("picture.tif", ACROSS, ""), 2, "this is a picture (colours)");
    wants("farend terrain --raster plane.tif --from=46.9 --to=91,7", 2,
          "--to: 91,7: a latitude and longitude in degrees");
    wants("farend terrain --raster plane.tif --from=46.9,7", 2, "--raster needs --to LAT,LON");
    wants("farend terrain --raster plane.tif --from=46,7 --to=46,7", 2, "no two places");
}

/* One of a kind that write_tile does not make: half a metre a step of its whole numbers. */
static GDALDatasetH create_raster(const char *path, GDALDataType type, int size)
{
    GDALDatasetH file =
        GDALCreate(GDALGetDriverByName("GTiff"), path, size, size, 1, type, NULL);
    OGRSpatialReferenceH system = OSRNewSpatialReference(NULL);
    assert_non_null(file);
    assert_int_equal(OSRImportFromEPSG(system, 32632), OGRERR_NONE);
    assert_int_equal(GDALSetSpatialRef(file, system), CE_None);
    OSRDestroySpatialReference(system);
    return file;
}

static void set_place(GDALDatasetH file)
{
    double affine[6] = {EAST, 1.0, 0.0, NORTH, 0.0, -1.0};
    assert_int_equal(GDALSetGeoTransform(file, affine), CE_None);
}

static void raster__in_whole_numbers_has_its_scale_and_offset(void **state)
{
    (void)state;
    GDALDatasetH file = create_raster("scaled.tif", GDT_Int16, 400);
    set_place(file);
    GDALRasterBandH band = GDALGetRasterBand(file, 1);
    assert_int_equal(GDALSetRasterScale(band, 0.5), CE_None);
    assert_int_equal(GDALSetRasterOffset(band, 300.0), CE_None);
    assert_int_equal(GDALFillRaster(band, 250.0, 0.0), CE_None);
    GDALClose(file);
    fe_profile got = profile_of(path_line("scaled.tif", ACROSS, ""));
    for (size_t i = 0; i < got.count; i++)
        assert_close(got.height_m[i], 300.0 + 0.5 * 250.0, 1e-6);
    fe_profile_free(&got);
}

static void raster__that_holds_no_heights_is_refused(void **state)
{
    (void)state;
    GDALDatasetH file = create_raster("complex.tif", GDT_CFloat32, 4);
    set_place(file);
    GDALClose(file);
    wants(path_line("complex.tif", ACROSS, ""), 2, "its values are complex numbers");
    file = create_raster("palette.tif", GDT_Byte, 4);
    set_place(file);
    assert_int_equal(
        GDALSetRasterColorInterpretation(GDALGetRasterBand(file, 1), GCI_PaletteIndex),
        CE_None);
    GDALColorTableH colours = GDALCreateColorTable(GPI_RGB);
    assert_int_equal(GDALSetRasterColorTable(GDALGetRasterBand(file, 1), colours), CE_None);
    GDALDestroyColorTable(colours);
    GDALClose(file);
    wants(path_line("palette.tif", ACROSS, ""), 2, "this is a picture (colours)");
    /* A system of coordinates, but no place in it; a place that all pixels share. */
    file = create_raster("placeless.tif", GDT_Float32, 4);
    GDALClose(file);
    wants(path_line("placeless.tif", ACROSS, ""), 2, "where on the earth it lies");
    file = create_raster("flat.tif", GDT_Float32, 4);
    double flat[6] = {EAST, 0.0, 0.0, NORTH, 0.0, 0.0};
    assert_int_equal(GDALSetGeoTransform(file, flat), CE_None);
    GDALClose(file);
    wants(path_line("flat.tif", ACROSS, ""), 2, "where on the earth it lies");
    /* The same where it is the surface over a good one. */
    write_tile(&PLANE);
    wants(path_line("plane.tif", ACROSS, "--surface complex.tif"), 2,
          "complex.tif: its values are complex numbers");
    wants(path_line("plane.tif", ACROSS, "--surface no-such.tif"), 2, "no-such.tif");
}

static void raster__path_too_long_or_too_fine_is_refused(void **state)
{
    (void)state;
    tile made = PLANE;
    made.path = "fine.tif";
    made.step = 1e-4;
    write_tile(&made);
    wants(path_line("fine.tif", ACROSS, ""), 2, "points along the path, more than 1000000");
    wants("farend terrain --raster plane.tif --from=0,0 --to=0,180", 2,
          "no two places on one side of the earth");
}

/* 23 000 x 23 000 of 4 bytes are 2.1 GB; only the tiles written lie on the disk. */
static void write_gigabytes(const char *path)
{
    char **create = CSLAddNameValue(NULL, "SPARSE_OK", "TRUE");
    create = CSLAddNameValue(create, "TILED", "YES");
    create = CSLAddNameValue(create, "BIGTIFF", "YES");
    GDALDatasetH file =
        GDALCreate(GDALGetDriverByName("GTiff"), path, 23000, 23000, 1, GDT_Float32, create);
    CSLDestroy(create);
    assert_non_null(file);
    double affine[6] = {390000.0, 1.0, 0.0, 5210000.0, 0.0, -1.0};
    OGRSpatialReferenceH system = OSRNewSpatialReference(NULL);
    assert_int_equal(OSRImportFromEPSG(system, 32632), OGRERR_NONE);
    assert_int_equal(GDALSetGeoTransform(file, affine), CE_None);
    assert_int_equal(GDALSetSpatialRef(file, system), CE_None);
    OSRDestroySpatialReference(system);
    GDALClose(file);
}

static void raster__of_gigabytes_is_read_by_window(void **state)
{
    (void)state;
    write_gigabytes("big.tif");
    const double ends[4] = {391000.0, 5190000.0, 409000.0, 5209000.0};
    fe_profile got = profile_of(path_line("big.tif", ends, ""));
    assert_true(got.count > 26000);
    fe_profile_free(&got);
    struct rusage used;
    assert_int_equal(getrusage(RUSAGE_CHILDREN, &used), 0);
    print_message("largest child: %ld MB\n", used.ru_maxrss / 1024);
/* The sanitizer keeps some tens of megabytes for itself. */
#ifdef FAREND_SANITIZED
    assert_true(used.ru_maxrss < 200 * 1024);
#else
    assert_true(used.ru_maxrss < 100 * 1024);
#endif
    remove("big.tif");
}

/* ---- Tracks ---- */

#define GPX_HEAD                                                                               \
    "<?xml version=\"1.0\"?><gpx version=\"1.1\" creator=\"test\" "                            \
    "xmlns=\"http://www.topografix.com/GPX/1/1\">"

static void write_gpx(const char *body)
{
    char text[4096];
    const int length = snprintf(text, sizeof text, "%s%s</gpx>", GPX_HEAD, body);
    assert_int_equal(fe_textfile_write("walk.gpx", text, (size_t)length), FE_OK);
}

static const char TRACK_LINE[] = "farend terrain --track walk.gpx --output test_import_out.csv";

static void check_walk(const char *body, const char *said)
{
    write_gpx(body);
    fe_profile got = profile_of(TRACK_LINE);
    outcome again = run_line(TRACK_LINE);
    assert_non_null(strstr(again.out, said));
    assert_non_null(strstr(again.out, "for the first Fresnel zone: not good enough"));
    outcome_free(&again);
    assert_int_equal(got.count, 3);
    struct geod_geodesic earth;
    double step_m = 0.0;
    geod_init(&earth, 6378137.0, 1.0 / 298.257223563);
    geod_inverse(&earth, 46.8, 7.1, 46.801, 7.1, &step_m, NULL, NULL);
    assert_close(got.distance_m[1], step_m, 0.001);
    assert_close(fe_profile_length(&got), 2.0 * step_m, 0.001);
    assert_close(got.height_m[1], 607.5, 0.0);
    assert_close(got.height_error_m[1], 5.0, 0.0);
    fe_profile_free(&got);
}

static void track__comes_in_three_shapes(void **state)
{
    (void)state;
    check_walk("<trk><name>to the shed</name><trkseg>"
               "<trkpt lat=\"46.8\" lon=\"7.1\"><ele>600</ele></trkpt>"
               "<trkpt lat=\"46.801\" lon=\"7.1\"><ele>607.5</ele></trkpt></trkseg><trkseg>"
               "<trkpt lat=\"46.802\" lon=\"7.1\"><ele>603</ele></trkpt></trkseg></trk>",
               "from: track walk.gpx (to the shed)\n");
    check_walk("<rte><rtept lat=\"46.8\" lon=\"7.1\"><ele>600</ele></rtept>"
               "<rtept lat=\"46.801\" lon=\"7.1\"><ele>607.5</ele></rtept>"
               "<rtept lat=\"46.802\" lon=\"7.1\"><ele>603</ele></rtept></rte>",
               "from: route walk.gpx\n");
    check_walk("<wpt lat=\"46.8\" lon=\"7.1\"><ele>600</ele></wpt>"
               "<wpt lat=\"46.801\" lon=\"7.1\"><ele>607.5</ele></wpt>"
               "<wpt lat=\"46.802\" lon=\"7.1\"><ele>603</ele></wpt>",
               "from: waypoints walk.gpx\n");
}

static void track__broken_files_are_refused(void **state)
{
    (void)state;
    write_gpx("<wpt lat=\"46.8\" lon=\"7.1\"><ele>600</ele></wpt>");
    wants(TRACK_LINE, 2, "walk.gpx: neither a track, a route nor two waypoints in it");
    write_gpx("<wpt lat=\"46.8\" lon=\"7.1\"/><wpt lat=\"46.9\" lon=\"7.1\"/>");
    wants(TRACK_LINE, 2, "walk.gpx: fewer than two points with heights at different places");
    write_gpx("<wpt lat=\"46.8\" lon=\"7.1\"><ele>600</ele></wpt><wpt lat=\"46.8");
    wants(TRACK_LINE, 2, "walk.gpx: ");
    assert_int_equal(fe_textfile_write("walk.gpx", "", 0), FE_OK);
    wants(TRACK_LINE, 2, "walk.gpx: cannot be read as a GPX file");
    wants("farend terrain --track no-such.gpx", 2, "no-such.gpx: No such file or directory");
    write_gpx("<wpt lat=\"46.8\" lon=\"7.1\"><ele>nan</ele></wpt>"
              "<wpt lat=\"146.9\" lon=\"7.1\"><ele>3</ele></wpt>"
              "<wpt lat=\"46.9\" lon=\"7.1\"><ele>3</ele></wpt>");
    wants(TRACK_LINE, 2, "walk.gpx: ");
    wants("farend terrain --track walk.gpx --coarse", 2, "--coarse: goes with --raster");
    wants("farend terrain --track walk.gpx --survey x", 2, "say what the profile comes from");
}

/* ---- The map around a place ---- */

/* Hills of two sizes with a valley between two spurs; whole decimetres keep the file small. */
static double spurs(double x, double y)
{
    const double e = x - 400250.0;
    const double n = y - 5200750.0;
    const double height = 620.0 + 0.03 * n + 9.0 * cos(e / 85.0) * cos(n / 130.0) +
                          2.5 * sin((e + n) / 37.0) + 1.2 * sin(e / 19.0) * sin(n / 23.0);
    return round(10.0 * height) / 10.0;
}

/* The same with a wood of 12 m across the way from the house to the byre. */
static const double WOOD[2] = {400300.0, 400320.0};

static double wooded_spurs(double x, double y)
{
    return spurs(x, y) + (x > WOOD[0] && x < WOOD[1] ? 12.0 : 0.0);
}

/* Kept in the repository; `test_import --example FILE` writes it anew. */
static tile example_tile(const char *path)
{
    return (tile){path, 32632, 400092.0, 5200908.0, 2.0,
                  160,  spurs, "m",      1.0,       {0.0, 0.0, 0.0, 0.0}};
}

static const char EXAMPLE[] = FAREND_SOURCE_DIR "/examples/byre.tif";

/* Middles of two cells of the example; the plan has the house to a decimetre. */
static const double HOUSE[2] = {400253.0, 5200747.0};
static const double BYRE[2] = {400373.0, 5200857.0};

static void copy_text(const char *from, const char *to)
{
    char *text = NULL;
    size_t length = 0;
    assert_int_equal(fe_textfile_read(from, &text, &length), FE_OK);
    assert_int_equal(fe_textfile_write(to, text, length), FE_OK);
    free(text);
}

static double pixel_of(GDALDatasetH file, const double at[2])
{
    double affine[6];
    float value = 0.0f;
    assert_int_equal(GDALGetGeoTransform(file, affine), CE_None);
    const int column = (int)floor((at[0] - affine[0]) / affine[1]);
    const int row = (int)floor((at[1] - affine[3]) / affine[5]);
    assert_int_equal(GDALRasterIO(GDALGetRasterBand(file, 1), GF_Read, column, row, 1, 1,
                                  &value, 1, 1, GDT_Float32, 0, 0),
                     CE_None);
    return (double)value;
}

static void around__example_is_what_the_script_makes(void **state)
{
    (void)state;
    GDALDatasetH file = GDALOpen(EXAMPLE, GA_ReadOnly);
    assert_non_null(file);
    assert_int_equal(GDALGetRasterXSize(file), 160);
    for (double east = 400093.0; east < 400412.0; east += 10.0)
        for (double north = 5200589.0; north < 5200908.0; north += 10.0) {
            const double at[2] = {east, north};
            assert_close(pixel_of(file, at), spurs(east, north), 1e-4);
        }
    GDALClose(file);
}

/* Runs a line that must do well; its output, to be freed. */
static char *output_of(const char *line)
{
    outcome got = run_line(line);
    if (got.code != 0)
        fail_msg("%s\nexit %d\n%s", line, got.code, got.err);
    free(got.err);
    return got.out;
}

/* The plan with the profile to the byre as the terrain command makes it with more options. */
static void make_example_with(const char *more)
{
    copy_text(FAREND_SOURCE_DIR "/examples/byre.ini", "byre.ini");
    const double ends[4] = {HOUSE[0], HOUSE[1], BYRE[0], BYRE[1]};
    free(output_of(path_line(EXAMPLE, ends, more)));
    assert_int_equal(rename("test_import_out.csv", "byre-path.csv"), 0);
}

static void make_example(void)
{
    make_example_with("--height-error 1mm");
}

static void write_wood(const char *path)
{
    tile made = example_tile(path);
    made.height = wooded_spurs;
    write_tile(&made);
}

static const char *around_line(const char *raster, const char *more)
{
    static char line[1024];
    double at[2];
    place(32632, HOUSE[0], HOUSE[1], at);
    snprintf(line, sizeof line,
             "farend terrain --around byre.ini --raster %s --from=%.9f,%.9f %s", raster, at[0],
             at[1], more);
    return line;
}

/* The chosen link of the plan, out of its JSON. */
static json_t *chosen_link(const json_t *root)
{
    const size_t chosen = (size_t)json_integer_value(json_object_get(root, "chosen"));
    return json_array_get(json_object_get(root, "radio"), chosen);
}

static json_t *worst_season(const json_t *link)
{
    const char *worst = json_string_value(json_object_get(link, "worst_season"));
    size_t index = 0;
    json_t *season = NULL;
    assert_non_null(worst);
    json_array_foreach(json_object_get(link, "seasons"), index, season)
    {
        if (strcmp(json_string_value(json_object_get(season, "season")), worst) == 0)
            return season;
    }
    fail_msg("no season %s", worst);
    return NULL;
}

static json_t *radio_json(void)
{
    char *text = output_of("farend radio byre.ini --json");
    json_t *root = json_loads(text, 0, NULL);
    assert_non_null(root);
    free(text);
    return root;
}

/* Margin of the chosen link's worst season along the plan's own path. */
static double radio_margin(void)
{
    json_t *root = radio_json();
    const double margin_db =
        json_number_value(json_object_get(worst_season(chosen_link(root)), "margin_db"));
    json_decref(root);
    return margin_db;
}

/* Surface less terrain, into the plan's profile, into the answer, and said to come from there. */
static void surface__reaches_the_answer_of_the_plan(void **state)
{
    (void)state;
    write_wood("wood.tif");
    make_example();
    const double bare_db = radio_margin();
    make_example_with("--surface wood.tif --height-error 1mm");
    json_t *root = radio_json();
    json_t *link = chosen_link(root);
    json_t *one = json_array_get(json_object_get(link, "standing"), 0);
    json_t *loss = json_object_get(worst_season(link), "loss");
    const double standing_db = json_number_value(json_object_get(loss, "standing_db"));
    const double across = (BYRE[0] - HOUSE[0]) / hypot(BYRE[0] - HOUSE[0], BYRE[1] - HOUSE[1]);
    assert_int_equal(json_array_size(json_object_get(link, "standing")), 1);
    assert_string_equal(json_string_value(json_object_get(one, "counted_as")), "solid");
    assert_close(json_number_value(json_object_get(one, "from_m")),
                 (WOOD[0] - HOUSE[0]) / across, 2.5);
    assert_close(json_number_value(json_object_get(one, "to_m")), (WOOD[1] - HOUSE[0]) / across,
                 2.5);
    assert_close(json_number_value(json_object_get(one, "height_m")), 12.0, 0.01);
    assert_true(standing_db > 10.0);
    assert_true(radio_margin() < bare_db - 10.0);
    json_decref(root);
    char *text = output_of("farend radio byre.ini");
    assert_non_null(strstr(text, "Trees and roofs come from the"));
    assert_non_null(strstr(text, "trees and roofs on the"));
    free(text);
}

/* The profile that is kept beside the plan, to the centimetre that its header's ends allow. */
static void check_kept_profile(void)
{
    fe_messages messages = {0};
    fe_profile kept = {0};
    fe_profile made = {0};
    assert_int_equal(
        fe_profile_read(FAREND_SOURCE_DIR "/examples/byre-path.csv", &kept, &messages), FE_OK);
    assert_int_equal(fe_profile_read("byre-path.csv", &made, &messages), FE_OK);
    assert_int_equal(kept.count, made.count);
    for (size_t i = 0; i < kept.count; i++) {
        assert_close(kept.distance_m[i], made.distance_m[i], 0.1);
        assert_close(kept.height_m[i], made.height_m[i], 0.05);
    }
    fe_profile_free(&kept);
    fe_profile_free(&made);
}

static void around__example_runs_through_terrain_plan_and_report(void **state)
{
    (void)state;
    char *report = output_of("farend report " FAREND_SOURCE_DIR "/examples/byre.ini");
    assert_non_null(strstr(report, "byre"));
    free(report);
    make_example();
    check_kept_profile();
    char *text = output_of(
        around_line(EXAMPLE, "--radius 165m --output around.tif --plot around.svg --json"));
    json_t *root = json_loads(text, 0, NULL);
    assert_non_null(root);
    const double share = json_number_value(json_object_get(root, "holds_share"));
    assert_true(share > 0.0 && share < 1.0);
    /* A disc of 165 m in cells of 2 m, cut off by the raster's edges 160 m away. */
    const double cells = json_number_value(json_object_get(root, "cells"));
    assert_true(cells > 20000.0 && cells < 21382.0);
    GDALDatasetH map = GDALOpen("around.tif", GA_ReadOnly);
    assert_non_null(map);
    assert_close(pixel_of(map, HOUSE), -9999.0, 0.0);
    assert_close(pixel_of(map, BYRE), radio_margin(), 0.5);
    /* The map leaves out the errors of heights; those of a lidar tile widen the spread alone. */
    make_example_with("");
    assert_close(pixel_of(map, BYRE), radio_margin(), 0.5);
    json_t *far_end = json_object_get(root, "far_end");
    assert_false(json_is_true(json_object_get(far_end, "holds")));
    assert_close(json_number_value(json_object_get(far_end, "margin_db")), pixel_of(map, BYRE),
                 1e-3);
    GDALClose(map);
    json_t *nearest = json_object_get(far_end, "nearest_that_holds");
    assert_true(json_number_value(json_object_get(nearest, "chance")) >= 0.9);
    assert_int_equal(json_array_size(json_object_get(root, "reach")), 8);
    json_decref(root);
    free(text);
    assert_int_equal(access("around.tif.part", F_OK), -1);
    /* A far end off the map was passed over without a word. */
    text = output_of(around_line(EXAMPLE, "--radius 30m"));
    assert_non_null(strstr(text, "byre of the plan: the map has no answer there"));
    free(text);
    text = output_of(around_line(EXAMPLE, "--radius 30m --json"));
    assert_non_null(strstr(text, "\"far_end\": null"));
    free(text);
}

/* With a surface raster a cell is what the profile with the same surface makes of its path. */
static void around__with_a_surface_equals_the_path_over_it(void **state)
{
    (void)state;
    write_wood("wood.tif");
    make_example_with("--surface wood.tif --height-error 1mm");
    char *text =
        output_of(around_line(EXAMPLE, "--radius 165m --surface wood.tif --output wooded.tif"));
    assert_non_null(strstr(text, "trees and roofs are in it"));
    free(text);
    free(output_of(around_line(EXAMPLE, "--radius 165m --output bare.tif")));
    GDALDatasetH wooded = GDALOpen("wooded.tif", GA_ReadOnly);
    GDALDatasetH bare = GDALOpen("bare.tif", GA_ReadOnly);
    assert_non_null(wooded);
    assert_non_null(bare);
    assert_close(pixel_of(wooded, BYRE), radio_margin(), 0.5);
    assert_true(pixel_of(wooded, BYRE) < pixel_of(bare, BYRE) - 10.0);
    const double west[2] = {400163.0, 5200757.0};
    assert_close(pixel_of(wooded, west), pixel_of(bare, west), 1e-6);
    /* A surface in cells of its own gives nearly the same. */
    tile fine = example_tile("fine-wood.tif");
    fine.height = wooded_spurs;
    fine.west += 0.7;
    fine.north -= 0.3;
    fine.step = 1.0;
    fine.size = 316;
    write_tile(&fine);
    free(output_of(
        around_line(EXAMPLE, "--radius 165m --surface fine-wood.tif --output fine.tif")));
    GDALDatasetH other = GDALOpen("fine.tif", GA_ReadOnly);
    assert_non_null(other);
    assert_close(pixel_of(other, BYRE), pixel_of(wooded, BYRE), 3.0);
    GDALClose(other);
    GDALClose(wooded);
    GDALClose(bare);
}

/* Runs the program with its messages on a terminal; what it wrote there. */
static void run_on_terminal(char *const *words, char *text, size_t room)
{
    const int outer = posix_openpt(O_RDWR | O_NOCTTY);
    assert_true(outer >= 0 && grantpt(outer) == 0 && unlockpt(outer) == 0);
    const int inner = open(ptsname(outer), O_RDWR | O_NOCTTY);
    assert_true(inner >= 0);
    const pid_t child = fork();
    if (child == 0) {
        const int nowhere = open("/dev/null", O_WRONLY);
        if (nowhere < 0 || dup2(nowhere, 1) < 0 || dup2(inner, 2) < 0)
            _exit(127);
        execv(FAREND_PROGRAM, words);
        _exit(127);
    }
    assert_true(child > 0);
    close(inner);
    size_t length = 0;
    ssize_t count = 0;
    /* Ends with an error when the last who had the inner side is gone. */
    while (length + 1 < room && (count = read(outer, text + length, room - 1 - length)) > 0)
        length += (size_t)count;
    text[length] = '\0';
    int ended = 0;
    assert_true(waitpid(child, &ended, 0) == child);
    assert_int_equal(ended, 0);
    close(outer);
}

static void around__shows_its_progress_on_a_terminal_alone(void **state)
{
    (void)state;
    make_example();
    enum { ROOM = 65536 };
    char *text = malloc(ROOM);
    assert_non_null(text);
    char *const words[] = {(char[]){"farend"},
                           (char[]){"terrain"},
                           (char[]){"--around"},
                           (char[]){"byre.ini"},
                           (char[]){"--raster"},
                           (char[]){FAREND_SOURCE_DIR "/examples/byre.tif"},
                           (char[]){"--radius"},
                           (char[]){"60m"},
                           NULL};
    run_on_terminal(words, text, ROOM);
    /* The share done, rising from row to row; a slow machine says before that it works. */
    static const char HEAD[] = "\rfarend terrain: ";
    int shown = 0;
    int last = -1;
    for (const char *at = text; (at = strstr(at, HEAD));) {
        at += sizeof HEAD - 1;
        int percent = 0;
        if (sscanf(at, "%d %%", &percent) != 1)
            continue;
        assert_true(percent > last);
        last = percent;
        shown++;
    }
    assert_true(shown >= 10 && last >= 90 && last <= 100);
    /* Taken back at the end. */
    const size_t length = strlen(text);
    assert_true(length > 2 && text[length - 1] == '\r' && text[length - 2] == ' ');
    free(text);
    outcome got = run_line(around_line(EXAMPLE, "--radius 60m"));
    assert_int_equal(got.code, 0);
    assert_string_equal(got.err, "");
    outcome_free(&got);
}

/* Heights in feet, a hole beside the house, and an edge of the raster within the radius. */
static void around__takes_units_holes_and_edges_as_they_are(void **state)
{
    (void)state;
    make_example();
    tile made = example_tile("land-feet.tif");
    made.unit = "ft";
    made.factor = 1.0 / 0.3048;
    made.size = 120;
    const double hole[4] = {400280.0, 400300.0, 5200700.0, 5200760.0};
    memcpy(made.hole, hole, sizeof hole);
    write_tile(&made);
    free(output_of(around_line(EXAMPLE, "--radius 120m --output whole.tif")));
    free(output_of(around_line("land-feet.tif", "--radius 120m --output part.tif")));
    GDALDatasetH whole = GDALOpen("whole.tif", GA_ReadOnly);
    GDALDatasetH part = GDALOpen("part.tif", GA_ReadOnly);
    assert_non_null(whole);
    assert_non_null(part);
    const double west[2] = {400163.0, 5200757.0};
    const double in_hole[2] = {400291.0, 5200731.0};
    assert_true(pixel_of(whole, west) > -200.0);
    assert_close(pixel_of(part, west), pixel_of(whole, west), 0.02);
    assert_close(pixel_of(part, in_hole), -9999.0, 0.0);
    /* What lies beyond the edge is not on the map. */
    assert_true(GDALGetRasterXSize(part) < GDALGetRasterXSize(whole));
    GDALClose(whole);
    GDALClose(part);
}

static void around__asks_for_what_it_needs(void **state)
{
    (void)state;
    make_example();
    tile coarse = example_tile("coarse-land.tif");
    coarse.step = 30.0;
    coarse.size = 12;
    write_tile(&coarse);
    wants(around_line(EXAMPLE, ""), 2, "--around needs --radius");
    wants(around_line(EXAMPLE, "--radius 9km"), 2,
          "--radius: '9km' is not a length within 2 m..5 km");
    wants(around_line("coarse-land.tif", "--radius 150m"), 2, "--coarse");
    wants(around_line("missing.tif", "--radius 250m"), 2, "missing.tif");
    wants(around_line("plane.tif", "--radius 250m"), 2, "outside the raster");
    wants("farend terrain --survey a.csv --radius 20m", 2, "goes with --around");
    wants("farend terrain --around missing.ini --raster a.tif --radius 20m", 2, "missing.ini");
    wants(around_line(EXAMPLE, "--radius 50m --output no/such/folder.tif"), 1,
          "cannot be written");
}

static void around__too_small_and_too_large_are_refused(void **state)
{
    (void)state;
    make_example();
    tile made = example_tile("strip.tif");
    made.west = HOUSE[0] - 1.0;
    made.north = HOUSE[1] + 1.0;
    made.size = 1;
    write_tile(&made);
    wants(around_line("strip.tif", "--radius 50m"), 2, "strip.tif: too small for a map");
    write_gigabytes("big.tif");
    wants(around_line("big.tif", "--radius 5km"), 2, "too many; give a smaller radius");
    remove("big.tif");
    wants(around_line(EXAMPLE, "--radius 50m --surface complex.tif"), 2,
          "complex.tif: its values are complex numbers");
    /* What is there already stays, and nothing is left beside it. */
    assert_int_equal(mkdir("held.tif", 0777), 0);
    wants(around_line(EXAMPLE, "--radius 20m --output held.tif"), 1, "cannot be written");
    assert_int_equal(rmdir("held.tif"), 0);
    assert_int_equal(access("held.tif.part", F_OK), -1);
}

/* Words that farend would never hand over: they are no user's mistake, and nothing is made. */
static void import__by_hand_does_nothing(void **state)
{
    (void)state;
    static const char *const LINES[] = {
        "",
        "nonsense",
        "track",
        "sample plane.tif",
        "sample plane.tif north 7 47 7 none m",
        "sample plane.tif 47 east 47 7 none m",
        "sample plane.tif 47 7 south 7 none m",
        "sample plane.tif 47 7 47 west none m",
        "window plane.tif 47 7 100 m",
        "window plane.tif 47 7 wide m none",
        "paint plane.tif hand.tif 0 0 4",
        "paint plane.tif hand.tif 0 0 4 low",
        "paint plane.tif hand.tif 0 0 0 4",
        "paint plane.tif hand.tif 0 0 4 0",
    };
    char program[] = FAREND_PROGRAM;
    strcpy(strrchr(program, '/'), "/");
    char path[sizeof program + 32];
    snprintf(path, sizeof path, "%sfarend-import", program);
    for (size_t i = 0; i < sizeof LINES / sizeof LINES[0]; i++) {
        char line[200], *words[12] = {path};
        snprintf(line, sizeof line, "%s", LINES[i]);
        fe_testing_words(line, words + 1, 10);
        int ended = 0;
        const pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0) {
            const int out = open("hand.txt", O_WRONLY | O_CREAT | O_TRUNC, 0666);
            const int err = open("/dev/null", O_WRONLY);
            if (out < 0 || dup2(out, 1) < 0 || err < 0 || dup2(err, 2) < 0)
                _exit(127);
            execv(path, words);
            _exit(127);
        }
        assert_int_equal(waitpid(child, &ended, 0), child);
        char *said = fe_testing_read_in(".", "hand.txt");
        if (!WIFEXITED(ended) || WEXITSTATUS(ended) != 1 ||
            strcmp(said, "farend-import 1\n") != 0)
            fail_msg("%s: ended with %d and said \"%s\"", LINES[i], ended, said);
        free(said);
    }
    assert_int_equal(access("hand.tif", F_OK), -1);
}

static void import__that_is_missing_is_named(void **state)
{
    (void)state;
    setenv("FAREND_IMPORT", "no/such/program", 1);
    wants("farend terrain --track walk.gpx", 1, "FAREND_IMPORT: no/such/program: No such file");
    setenv("FAREND_IMPORT", "/bin/false", 1);
    wants("farend terrain --track walk.gpx", 1, "broke off, or belongs to another version");
    /* One that says nothing of the path was told as nobody's fault, and without a word. */
    static const char NOTHING[] = "#!/bin/sh\necho 'farend-import 1'\necho end\n";
    assert_int_equal(fe_textfile_write("nothing.sh", NOTHING, strlen(NOTHING)), FE_OK);
    assert_int_equal(chmod("nothing.sh", 0755), 0);
    setenv("FAREND_IMPORT", "./nothing.sh", 1);
    wants("farend terrain --raster plane.tif --from 46.9,7.7 --to 46.91,7.7 --coarse", 1,
          "farend-import broke off");
    unsetenv("FAREND_IMPORT");
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(raster__plane_is_met_exactly),
        cmocka_unit_test(raster__ridge_is_met_within_a_pixel),
        cmocka_unit_test(raster__hemisphere_is_met_but_at_its_foot),
        cmocka_unit_test(raster__length_and_bearing_are_those_of_the_ellipsoid),
        cmocka_unit_test(raster__in_degrees_is_met_as_well),
        cmocka_unit_test(raster__in_feet_comes_out_in_metres),
        cmocka_unit_test(raster__surface_less_terrain_is_trees),
        cmocka_unit_test(raster__of_another_zero_or_unit_is_noticed),
        cmocka_unit_test(raster__without_data_is_bridged_or_refused),
        cmocka_unit_test(raster__too_coarse_is_refused_or_used_when_asked),
        cmocka_unit_test(raster__broken_files_are_refused),
        cmocka_unit_test(raster__in_whole_numbers_has_its_scale_and_offset),
        cmocka_unit_test(raster__that_holds_no_heights_is_refused),
        cmocka_unit_test(raster__path_too_long_or_too_fine_is_refused),
        cmocka_unit_test(raster__of_gigabytes_is_read_by_window),
        cmocka_unit_test(track__comes_in_three_shapes),
        cmocka_unit_test(track__broken_files_are_refused),
        cmocka_unit_test(around__example_is_what_the_script_makes),
        cmocka_unit_test(surface__reaches_the_answer_of_the_plan),
        cmocka_unit_test(around__example_runs_through_terrain_plan_and_report),
        cmocka_unit_test(around__with_a_surface_equals_the_path_over_it),
        cmocka_unit_test(around__shows_its_progress_on_a_terminal_alone),
        cmocka_unit_test(around__takes_units_holes_and_edges_as_they_are),
        cmocka_unit_test(around__asks_for_what_it_needs),
        cmocka_unit_test(around__too_small_and_too_large_are_refused),
        cmocka_unit_test(import__by_hand_does_nothing),
        cmocka_unit_test(import__that_is_missing_is_named),
    };
    GDALAllRegister();
    if (argc == 3 && strcmp(argv[1], "--example") == 0) {
        const tile example = example_tile(argv[2]);
        write_tile(&example);
        return 0;
    }
    const int failed = FE_RUN_TESTS(tests);
    GDALDestroyDriverManager();
    OSRCleanup();
    return failed;
}
