/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/terrain_source.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/options.h"
#include "app/terrain_import.h"
#include "farend/constants.h"
#include "farend/number.h"

/* Least steps to a path where a raster is coarser than TERRAIN_FINE_STEP_M. */
static const double LEAST_STEPS = 20.0;

/* Ground under water or a roof rises or falls by so much a metre, for all that is known. */
static const double UNKNOWN_SLOPE = 0.1;

/* ---- What rasters are good for ---- */

typedef struct raster_class {
    double step_m; /* up to */
    double sigma_m;
    const char *what;
} raster_class;

/* Standard deviations of heights. Common practice, no source. */
static const raster_class CLASSES[] = {
    {2.5, 0.15, "lidar tile"},
    {12.5, 1.0, "tile of 5 to 10 m"},
    {INFINITY, 4.0, "global tile"},
};

static const raster_class *class_of(double step_m)
{
    size_t i = 0;
    while (step_m > CLASSES[i].step_m)
        i++;
    return &CLASSES[i];
}

bool terrain_position(const char *who, const char *name, const char *text, fe_position *at)
{
    double latitude_deg = 0.0;
    double longitude_deg = 0.0;
    const char *rest = NULL;
    const bool good = fe_number_scan(text, &latitude_deg, &rest) && *rest == ',' &&
                      fe_number_parse(rest + 1, &longitude_deg) && fabs(latitude_deg) <= 90.0 &&
                      fabs(longitude_deg) <= 180.0;
    if (!good)
        options_complain(who,
                         "--%s: %s: a latitude and longitude in degrees, north and east above "
                         "zero, for example --%s=46.8123,7.1512",
                         name, text, name);
    *at = (fe_position){latitude_deg * FE_DEG_RAD, longitude_deg * FE_DEG_RAD};
    return good;
}

/* ---- Asking ---- */

bool terrain_can_read(const char *who, const char *file)
{
    if (access(file, R_OK) == 0)
        return true;
    options_complain(who, "%s: %s", file, strerror(errno));
    return false;
}

static fe_status ask(const char *who, const terrain_raster *asked, import_answer *answer)
{
    char numbers[4][32];
    const double degrees[4] = {
        asked->from.latitude_rad / FE_DEG_RAD, asked->from.longitude_rad / FE_DEG_RAD,
        asked->to.latitude_rad / FE_DEG_RAD, asked->to.longitude_rad / FE_DEG_RAD};
    for (size_t i = 0; i < 4; i++)
        fe_number_print(degrees[i], numbers[i], sizeof numbers[i]);
    const char *const words[] = {"sample",
                                 asked->file,
                                 numbers[0],
                                 numbers[1],
                                 numbers[2],
                                 numbers[3],
                                 asked->surface ? asked->surface : "",
                                 asked->unit ? asked->unit : "",
                                 NULL};
    if (!terrain_can_read(who, asked->file) ||
        (asked->surface && !terrain_can_read(who, asked->surface)))
        return FE_E_INPUT;
    return import_run(who, words, answer);
}

/* ---- Judging the answer ---- */

/* First and last row of a kind in a column; false where there is none. */
static bool find_kind(const import_answer *answer, size_t column, import_cell kind,
                      size_t *first, size_t *last, size_t *count)
{
    *count = 0;
    for (size_t i = 0; i < answer->row_count; i++) {
        if (answer->rows[i].kind[column] != kind)
            continue;
        if ((*count)++ == 0)
            *first = i;
        *last = i;
    }
    return *count > 0;
}

static bool covers_path(const char *who, const char *file, const import_answer *answer)
{
    size_t first = 0;
    size_t last = 0;
    size_t count = 0;
    if (find_kind(answer, 1, IMPORT_OUTSIDE, &first, &last, &count)) {
        options_complain(who,
                         "%s: the path lies outside the raster from %.0f m to %.0f m of its "
                         "%.0f m; take the neighbouring tile as well, as one file",
                         file, answer->rows[first].value[0], answer->rows[last].value[0],
                         import_number(answer, "length_m"));
        return false;
    }
    if (!find_kind(answer, 1, IMPORT_NODATA, &first, &last, &count))
        return true;
    if (first == 0 || last + 1 == answer->row_count || 2 * count > answer->row_count) {
        options_complain(who, "%s: no data from %.0f m to %.0f m of the path; %s", file,
                         answer->rows[first].value[0], answer->rows[last].value[0],
                         2 * count > answer->row_count ? "too little is left"
                                                       : "the ends must have heights");
        return false;
    }
    options_complain(who,
                     "warning: %s: no data at %zu of %zu points between %.0f m and %.0f m; "
                     "straight lines stand in, with a larger error",
                     file, count, answer->row_count, answer->rows[first].value[0],
                     answer->rows[last].value[0]);
    return true;
}

bool terrain_height_is_plausible(const char *who, const char *file, double height_m)
{
    if (!(height_m < FE_PROFILE_LOWEST_M) && !(height_m > FE_PROFILE_HIGHEST_M))
        return true;
    options_complain(who,
                     "%s: a height of %.0f m is on no land; say the unit with --vertical-unit",
                     file, height_m);
    return false;
}

static bool has_plausible_heights(const char *who, const char *file,
                                  const import_answer *answer)
{
    for (size_t i = 0; i < answer->row_count; i++)
        if (!terrain_height_is_plausible(who, file, answer->rows[i].value[1]))
            return false;
    return true;
}

static bool is_fine_enough(const char *who, const terrain_raster *asked,
                           const import_answer *answer)
{
    const double step_m = import_number(answer, "terrain_step_m");
    const double length_m = import_number(answer, "length_m");
    if (step_m <= TERRAIN_FINE_STEP_M || length_m / step_m >= LEAST_STEPS || asked->coarse)
        return true;
    options_complain(
        who,
        "%s: a raster of %.0f m has %.0f steps on a path of %.0f m: a rise between "
        "them is not in it, and each height may be off by %.0f m; take a lidar "
        "tile or measure, or add --coarse to use it all the same",
        asked->file, step_m, floor(length_m / step_m), length_m, class_of(step_m)->sigma_m);
    return false;
}

/* ---- The profile ---- */

/* Straight over the points without data; the error grows with the way from what is known. */
static void bridge(const import_answer *answer, fe_profile *profile)
{
    for (size_t i = 1; i + 1 < profile->count; i++) {
        if (answer->rows[i].kind[1] == IMPORT_NUMBER)
            continue;
        size_t beyond = i;
        while (answer->rows[beyond].kind[1] != IMPORT_NUMBER)
            beyond++;
        const double from_m = profile->distance_m[i - 1];
        const double way_m = profile->distance_m[beyond] - from_m;
        for (size_t k = i; k < beyond; k++) {
            const double gone_m = profile->distance_m[k] - from_m;
            profile->height_m[k] =
                profile->height_m[i - 1] +
                (profile->height_m[beyond] - profile->height_m[i - 1]) * gone_m / way_m;
            profile->height_error_m[k] = UNKNOWN_SLOPE * fmin(gone_m, way_m - gone_m);
        }
        i = beyond;
    }
}

/* The raster's own error, and what a straight line between its steps misses: a bow of second
 * difference D has D / 8 between its points. */
static void set_errors(double sigma_m, fe_profile *profile)
{
    const double *const h_m = profile->height_m;
    for (size_t i = 0; i < profile->count; i++) {
        double bow_m = 0.0;
        if (i > 0 && i + 1 < profile->count)
            bow_m = fabs(h_m[i - 1] - 2.0 * h_m[i] + h_m[i + 1]) / 8.0;
        profile->height_error_m[i] = hypot(profile->height_error_m[i], hypot(sigma_m, bow_m));
    }
}

static fe_status make_profile(const char *who, const import_answer *answer,
                              const terrain_raster *asked, double sigma_m, fe_profile *profile)
{
    const fe_status status =
        fe_profile_new(answer->row_count, true, asked->surface != NULL, profile);
    if (status == FE_E_DOMAIN) {
        options_complain(who, "farend-import broke off");
        return FE_E_EXTERNAL;
    }
    if (status < 0)
        return status;
    for (size_t i = 0; i < profile->count; i++) {
        const import_row *row = &answer->rows[i];
        profile->distance_m[i] = row->value[0];
        profile->height_m[i] = row->value[1];
    }
    bridge(answer, profile);
    for (size_t i = 0; asked->surface && i < profile->count; i++) {
        const double top_m = answer->rows[i].value[2];
        profile->clutter_m[i] = isnan(top_m) ? 0.0 : fmax(0.0, top_m - profile->height_m[i]);
    }
    set_errors(sigma_m, profile);
    return FE_OK;
}

/* ---- What to say about it ---- */

static const char *or_else(const char *text, const char *otherwise)
{
    return *text ? text : otherwise;
}

static void add_facts(const terrain_raster *asked, const import_answer *answer, double sigma_m,
                      terrain_made *made)
{
    const double step_m = import_number(answer, "terrain_step_m");
    terrain_fact_text(made, "source", "from", "raster %s (%s)", asked->file,
                      import_text(answer, "terrain_crs"));
    terrain_fact_text(
        made, "ends", "ends, latitude,longitude", "%.7f,%.7f to %.7f,%.7f",
        asked->from.latitude_rad / FE_DEG_RAD, asked->from.longitude_rad / FE_DEG_RAD,
        asked->to.latitude_rad / FE_DEG_RAD, asked->to.longitude_rad / FE_DEG_RAD);
    terrain_fact_number(made, "bearing_rad", "bearing from north",
                        import_number(answer, "bearing_rad"), FE_STYLE_ANGLE);
    terrain_fact_number(made, "step_m", "step of the raster", step_m, FE_STYLE_LENGTH);
    terrain_fact_text(made, "vertical", "heights", "%s above %s",
                      or_else(import_text(answer, "terrain_vertical_unit"),
                              "metres (assumed: the file does not say)"),
                      or_else(import_text(answer, "terrain_vertical_datum"),
                              "a zero that the file does not name"));
    terrain_fact_number(made, "raster_error_m",
                        isfinite(asked->height_error_m) ? "error of the raster, as told"
                                                        : "usual error of such a raster",
                        sigma_m, FE_STYLE_HEIGHT);
    if (asked->surface)
        terrain_fact_text(made, "surface", "trees and roofs from",
                          "%s, less the terrain: column clutter_m, which radio links take as "
                          "solid but where the plan has [trees]",
                          asked->surface);
}

static void warn_of_surface(const char *who, const terrain_raster *asked,
                            const import_answer *answer)
{
    size_t missing = 0;
    for (size_t i = 0; asked->surface && i < answer->row_count; i++)
        missing += answer->rows[i].kind[2] != IMPORT_NUMBER;
    if (missing > 0)
        options_complain(who, "warning: %s: no data at %zu of %zu points; no trees there",
                         asked->surface, missing, answer->row_count);
}

fe_status terrain_from_raster(const char *who, const terrain_raster *asked, terrain_made *made)
{
    import_answer answer;
    fe_status status = ask(who, asked, &answer);
    if (status < 0)
        return status;
    if (!covers_path(who, asked->file, &answer) ||
        !has_plausible_heights(who, asked->file, &answer) ||
        !is_fine_enough(who, asked, &answer))
        status = FE_E_INPUT;
    const double sigma_m = isfinite(asked->height_error_m)
                               ? asked->height_error_m
                               : class_of(import_number(&answer, "terrain_step_m"))->sigma_m;
    if (status >= 0)
        status = make_profile(who, &answer, asked, sigma_m, &made->profile);
    if (status >= 0) {
        warn_of_surface(who, asked, &answer);
        add_facts(asked, &answer, sigma_m, made);
    }
    import_answer_free(&answer);
    return status;
}
