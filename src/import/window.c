/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heights around a place, and a raster of values written back in their place. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_error.h>
#include <cpl_string.h>
#include <gdal.h>

#include "farend/constants.h"
#include "farend/number.h"
#include "import/import.h"
#include "import/raster.h"

/* As many cells as a map is computed for. */
enum { MOST_CELLS = 64 * 1000 * 1000 };

/* What stands for no value in a raster of ours. */
static const double NO_VALUE = -9999.0;

static bool read_numbers(char **words, size_t count, double *values)
{
    for (size_t i = 0; i < count; i++)
        if (!fe_number_parse(words[i], &values[i]))
            return false;
    return true;
}

/* ---- Out ---- */

typedef struct window {
    int column;
    int row;
    int columns;
    int rows;
} window;

static int kept(double value, int most)
{
    return value < 0.0 ? 0 : value > most ? most : (int)value;
}

static void print_row(const char *word, const double *heights_m, int count)
{
    fputs(word, stdout);
    for (int i = 0; i < count; i++)
        if (isfinite(heights_m[i]))
            printf(" %.3f", heights_m[i]);
        else
            fputs(" nodata", stdout);
    putchar('\n');
}

/* The ground, and what stands on it where a second raster tells. */
static int print_heights(const raster *from, const raster *surface, const window *part)
{
    double *heights_m = calloc((size_t)part->columns, sizeof *heights_m);
    int code = heights_m ? IMPORT_DONE : IMPORT_FAILED;
    for (int row = part->row; row < part->row + part->rows && code == IMPORT_DONE; row++) {
        if (!raster_row(from, part->column, row, part->columns, heights_m)) {
            code = import_problem("%s: its heights cannot be read", from->path);
            break;
        }
        print_row("heights", heights_m, part->columns);
        if (!surface)
            continue;
        if (!raster_row_on(surface, from, part->column, row, part->columns, heights_m)) {
            code = import_problem("%s: its heights cannot be read", surface->path);
            break;
        }
        print_row("tops", heights_m, part->columns);
    }
    free(heights_m);
    return code;
}

static int print_window(const raster *from, const raster *surface, const fe_position *at,
                        double radius_m)
{
    double x = 0.0;
    double y = 0.0;
    double step_m = 0.0;
    double east_m[2];
    double north_m[2];
    if (!raster_step(from, at, &step_m) || !raster_metres(from, at, east_m, north_m))
        return IMPORT_BAD_INPUT;
    if (!raster_pixel(from, at, &x, &y) || x < 0.0 || y < 0.0 || x > from->width ||
        y > from->height)
        return import_problem("%s: the place lies outside the raster", from->path);
    const double half = radius_m / step_m + 2.0;
    window part = {.column = kept(floor(x - half), from->width - 1),
                   .row = kept(floor(y - half), from->height - 1)};
    part.columns = kept(ceil(x + half), from->width) - part.column;
    part.rows = kept(ceil(y + half), from->height) - part.row;
    if (part.columns < 2 || part.rows < 2)
        return import_problem("%s: too small for a map", from->path);
    if (part.columns > FE_MAP_MOST_SIDE || part.rows > FE_MAP_MOST_SIDE ||
        (double)part.columns * part.rows > MOST_CELLS)
        return import_problem("%s: %d by %d cells around the place, too many; give a smaller "
                              "radius",
                              from->path, part.columns, part.rows);
    const struct {
        const char *key;
        double value;
    } facts[] = {{"step_m", step_m},          {"first_column", part.column},
                 {"first_row", part.row},     {"columns", part.columns},
                 {"rows", part.rows},         {"column", x - 0.5 - part.column},
                 {"row", y - 0.5 - part.row}, {"east0_m", east_m[0]},
                 {"east1_m", east_m[1]},      {"north0_m", north_m[0]},
                 {"north1_m", north_m[1]}};
    import_fact("crs", from->crs);
    for (size_t i = 0; i < sizeof facts / sizeof facts[0]; i++)
        import_fact_number(facts[i].key, facts[i].value);
    return print_heights(from, surface, &part);
}

int import_window(int argc, char **argv)
{
    double numbers[3];
    raster from = {0};
    raster surface = {0};
    if (argc != 6 || !read_numbers(argv + 1, 3, numbers))
        return IMPORT_FAILED;
    const fe_position at = {numbers[0] * FE_DEG_RAD, numbers[1] * FE_DEG_RAD};
    const bool has_surface = argv[5][0] != '\0';
    int code = IMPORT_BAD_INPUT;
    if (raster_open(argv[0], argv[4], &from) &&
        (!has_surface || (raster_open(argv[5], argv[4], &surface) &&
                          raster_datums_agree(&from, &surface))))
        code = print_window(&from, has_surface ? &surface : NULL, &at, numbers[2]);
    raster_close(&from);
    raster_close(&surface);
    return code;
}

/* ---- Back ---- */

static bool copy_place(const raster *from, const window *part, GDALDatasetH made)
{
    double affine[6];
    memcpy(affine, from->from_pixel, sizeof affine);
    affine[0] += affine[1] * part->column + affine[2] * part->row;
    affine[3] += affine[4] * part->column + affine[5] * part->row;
    return GDALSetGeoTransform(made, affine) == CE_None &&
           GDALSetSpatialRef(made, GDALGetSpatialRef(from->dataset)) == CE_None;
}

static bool copy_values(const window *part, GDALRasterBandH band)
{
    float *line = calloc((size_t)part->columns, sizeof *line);
    bool good = line != NULL;
    for (int row = 0; row < part->rows && good; row++) {
        good = fread(line, sizeof *line, (size_t)part->columns, stdin) == (size_t)part->columns;
        for (int i = 0; good && i < part->columns; i++)
            if (isnan(line[i]))
                line[i] = (float)NO_VALUE;
        good = good && GDALRasterIO(band, GF_Write, 0, row, part->columns, 1, line,
                                    part->columns, 1, GDT_Float32, 0, 0) == CE_None;
    }
    free(line);
    return good;
}

/* Under another name first: what bears the name asked for is whole. */
static int paint(const raster *from, const window *part, const char *path)
{
    char name[4096];
    const int length = snprintf(name, sizeof name, "%s.part", path);
    if (length < 0 || length >= (int)sizeof name)
        return import_problem("%s: too long a name", path);
    char **create = CSLAddNameValue(NULL, "COMPRESS", "DEFLATE");
    GDALDatasetH made = GDALCreate(GDALGetDriverByName("GTiff"), name, part->columns,
                                   part->rows, 1, GDT_Float32, create);
    CSLDestroy(create);
    if (!made)
        return import_problem("%s: cannot be written", path);
    GDALRasterBandH band = GDALGetRasterBand(made, 1);
    GDALSetDescription(band, "margin in the worst season");
    GDALSetRasterUnitType(band, "dB");
    bool good = GDALSetRasterNoDataValue(band, NO_VALUE) == CE_None &&
                copy_place(from, part, made) && copy_values(part, band);
    /* Closing writes what is left, and tells of a full disk by an error alone. */
    CPLErrorReset();
    GDALClose(made);
    good = good && CPLGetLastErrorType() < CE_Failure;
    good = good && rename(name, path) == 0;
    if (good)
        return IMPORT_DONE;
    remove(name);
    return import_problem("%s: cannot be written", path);
}

int import_paint(int argc, char **argv)
{
    double numbers[4];
    raster from = {0};
    if (argc != 6 || !read_numbers(argv + 2, 4, numbers))
        return IMPORT_FAILED;
    const window part = {(int)numbers[0], (int)numbers[1], (int)numbers[2], (int)numbers[3]};
    if (part.columns < 1 || part.rows < 1)
        return IMPORT_FAILED;
    const int code =
        raster_open(argv[0], "m", &from) ? paint(&from, &part, argv[1]) : IMPORT_BAD_INPUT;
    raster_close(&from);
    return code;
}
