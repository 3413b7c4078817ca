/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Positions and heights out of a GPX file: a walked track, a route, or waypoints. */
#include <math.h>
#include <stdbool.h>
#include <string.h>

#include <gdal.h>
#include <ogr_api.h>

#include "farend/number.h"
#include "import/import.h"

typedef struct shape {
    const char *layer;
    const char *group; /* field that tells lines of one file apart; null: one group */
    const char *name;
    const char *lines; /* layer that has the lines' names */
} shape;

/* The best first: a walked line says more than a few marks. */
static const shape SHAPES[] = {
    {"track_points", "track_fid", "track", "tracks"},
    {"route_points", "route_fid", "route", "routes"},
    {"waypoints", NULL, "waypoints", NULL},
};

enum { MOST_GROUPS = 1000 };

static int group_of(OGRFeatureH feature, int field)
{
    return field < 0 ? 0 : OGR_F_GetFieldAsInteger(feature, field);
}

/* The group with most points; 0 points where none has any. */
static size_t largest_group(OGRLayerH layer, int field, int *group, size_t *groups)
{
    size_t counts[MOST_GROUPS] = {0};
    OGRFeatureH feature = NULL;
    OGR_L_ResetReading(layer);
    while ((feature = OGR_L_GetNextFeature(layer))) {
        const int at = group_of(feature, field);
        if (at >= 0 && at < MOST_GROUPS)
            counts[at]++;
        OGR_F_Destroy(feature);
    }
    *groups = 0;
    *group = 0;
    for (int i = 0; i < MOST_GROUPS; i++) {
        *groups += counts[i] > 0;
        if (counts[i] > counts[*group])
            *group = i;
    }
    return counts[*group];
}

static void print_point(OGRFeatureH feature, int height_field)
{
    OGRGeometryH point = OGR_F_GetGeometryRef(feature);
    char latitude[32];
    char longitude[32];
    char height[32] = "nodata";
    if (!point)
        return;
    if (height_field >= 0 && OGR_F_IsFieldSetAndNotNull(feature, height_field)) {
        const double height_m = OGR_F_GetFieldAsDouble(feature, height_field);
        if (isfinite(height_m))
            fe_number_print(height_m, height, sizeof height);
    }
    printf("row %s %s %s\n", fe_number_print(OGR_G_GetY(point, 0), latitude, sizeof latitude),
           fe_number_print(OGR_G_GetX(point, 0), longitude, sizeof longitude), height);
}

static void print_group(OGRLayerH layer, int field, int group)
{
    OGRFeatureDefnH layout = OGR_L_GetLayerDefn(layer);
    const int height_field = OGR_FD_GetFieldIndex(layout, "ele");
    OGRFeatureH feature = NULL;
    OGR_L_ResetReading(layer);
    while ((feature = OGR_L_GetNextFeature(layer))) {
        if (group_of(feature, field) == group)
            print_point(feature, height_field);
        OGR_F_Destroy(feature);
    }
}

/* The name that the owner gave the line. */
static void print_name(GDALDatasetH dataset, const shape *form, int group)
{
    OGRLayerH lines = form->lines ? GDALDatasetGetLayerByName(dataset, form->lines) : NULL;
    OGRFeatureH feature = lines ? OGR_L_GetFeature(lines, group) : NULL;
    if (!feature)
        return;
    const int field = OGR_F_GetFieldIndex(feature, "name");
    if (field >= 0 && OGR_F_IsFieldSetAndNotNull(feature, field))
        import_fact("name", OGR_F_GetFieldAsString(feature, field));
    OGR_F_Destroy(feature);
}

static int read_track(GDALDatasetH dataset, const char *path)
{
    for (size_t i = 0; i < sizeof SHAPES / sizeof SHAPES[0]; i++) {
        const shape *form = &SHAPES[i];
        OGRLayerH layer = GDALDatasetGetLayerByName(dataset, form->layer);
        int group = 0;
        size_t groups = 0;
        if (!layer)
            continue;
        const int field =
            form->group ? OGR_FD_GetFieldIndex(OGR_L_GetLayerDefn(layer), form->group) : -1;
        CPLErrorReset();
        const size_t count = largest_group(layer, field, &group, &groups);
        if (CPLGetLastErrorType() >= CE_Failure)
            return import_problem("%s: broken off", path);
        if (count < 2)
            continue;
        import_fact("shape", form->name);
        import_fact_number("groups", (double)groups);
        print_name(dataset, form, group);
        print_group(layer, field, group);
        return IMPORT_DONE;
    }
    return import_problem("%s: neither a track, a route nor two waypoints in it", path);
}

int import_track(int argc, char **argv)
{
    static const char *const DRIVERS[] = {"GPX", NULL};
    if (argc != 1)
        return IMPORT_FAILED;
    GDALDatasetH dataset =
        GDALOpenEx(argv[0], GDAL_OF_VECTOR | GDAL_OF_READONLY, DRIVERS, NULL, NULL);
    if (!dataset)
        return import_problem("%s: cannot be read as a GPX file", argv[0]);
    const int code = read_track(dataset, argv[0]);
    GDALClose(dataset);
    return code;
}
