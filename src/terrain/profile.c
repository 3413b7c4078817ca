/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/profile.h"

#include <math.h>
#include <stdlib.h>

#include "farend/csv.h"
#include "farend/number.h"

/* Beyond these a column is in another unit than metres, or swapped with another. */
static const double LONGEST_M = 200e3;
static const double LARGEST_ERROR_M = 1000.0;
static const double HIGHEST_CLUTTER_M = 1000.0;

/* A step that divides a stretch up to rounding should not cost a point more. */
static const double ROUNDING = 1e-9;

/* The columns beside the distance, so that what is done to one is done to all. */
enum { VALUES = 3 };

static double **value_of(fe_profile *profile, size_t column)
{
    double **const columns[VALUES] = {&profile->height_m, &profile->height_error_m,
                                      &profile->clutter_m};
    return columns[column];
}

static const double *values_in(const fe_profile *profile, size_t column)
{
    const double *const columns[VALUES] = {profile->height_m, profile->height_error_m,
                                           profile->clutter_m};
    return columns[column];
}

fe_status fe_profile_new(size_t count, bool with_error, bool with_clutter, fe_profile *profile)
{
    if (count < 2 || count > FE_PROFILE_MOST_POINTS)
        return FE_E_DOMAIN;
    const bool wanted[VALUES] = {true, with_error, with_clutter};
    fe_profile made = {.count = count};
    made.distance_m = calloc(count, sizeof *made.distance_m);
    bool good = made.distance_m != NULL;
    for (size_t k = 0; k < VALUES; k++) {
        double **const value = value_of(&made, k);
        if (wanted[k])
            *value = calloc(count, sizeof **value);
        good = good && (*value || !wanted[k]);
    }
    if (!good) {
        fe_profile_free(&made);
        return FE_E_MEMORY;
    }
    *profile = made;
    return FE_OK;
}

/* Room for count points with the columns of another profile. */
static fe_status allocate_like(const fe_profile *profile, size_t count, fe_profile *made)
{
    return fe_profile_new(count, profile->height_error_m != NULL, profile->clutter_m != NULL,
                          made);
}

static bool is_usable(const fe_profile *profile)
{
    return profile->count >= 2 && profile->distance_m && profile->height_m;
}

/* What a cell says and what was wanted, where it is no number in its range. */
static bool read_cell(const fe_csv *table, size_t row, const char *column, double low,
                      double high, const char *path, fe_messages *messages, double *value)
{
    const double number = fe_csv_number(table, row, column);
    if (number >= low && number <= high) {
        *value = number;
        return true;
    }
    fe_messages_add(messages, path, fe_csv_line(table, row),
                    "column %s: read \"%s\", expected metres from %g to %g, for example 12.5",
                    column, fe_csv_text(table, row, column), low, high);
    return false;
}

static bool in_order(const fe_csv *table, size_t row, double last_m, double distance_m,
                     const char *path, fe_messages *messages)
{
    const int line = fe_csv_line(table, row);
    if (row == 0 && distance_m != 0.0) {
        fe_messages_add(messages, path, line,
                        "column distance_m: the first point is at %g, expected 0", distance_m);
        return false;
    }
    if (row > 0 && distance_m <= last_m) {
        fe_messages_add(messages, path, line,
                        "column distance_m: %g does not come after %g; distances must rise",
                        distance_m, last_m);
        return false;
    }
    return true;
}

/* The optional columns are checked only where the table has them. */
static bool read_extras(const fe_csv *table, size_t row, const char *path,
                        fe_messages *messages, fe_profile *profile)
{
    bool good = true;
    if (profile->height_error_m)
        good = read_cell(table, row, "height_error_m", 0.0, LARGEST_ERROR_M, path, messages,
                         &profile->height_error_m[row]);
    if (profile->clutter_m)
        good = read_cell(table, row, "clutter_m", 0.0, HIGHEST_CLUTTER_M, path, messages,
                         &profile->clutter_m[row]) &&
               good;
    return good;
}

static bool read_rows(const fe_csv *table, const char *path, fe_messages *messages,
                      fe_profile *profile)
{
    bool good = true;
    double last_m = 0.0;
    for (size_t row = 0; row < profile->count; row++) {
        double *const distance_m = &profile->distance_m[row];
        double *const height_m = &profile->height_m[row];
        if (!read_cell(table, row, "height_m", FE_PROFILE_LOWEST_M, FE_PROFILE_HIGHEST_M, path,
                       messages, height_m))
            good = false;
        if (!read_extras(table, row, path, messages, profile))
            good = false;
        if (!read_cell(table, row, "distance_m", 0.0, LONGEST_M, path, messages, distance_m)) {
            good = false;
            continue;
        }
        if (!in_order(table, row, last_m, *distance_m, path, messages))
            good = false;
        last_m = *distance_m;
    }
    return good;
}

static bool has_columns(const fe_csv *table, const char *path, fe_messages *messages)
{
    static const char *const COLUMNS[] = {"distance_m", "height_m"};
    bool good = true;
    for (size_t i = 0; i < 2; i++) {
        if (fe_csv_column(table, COLUMNS[i]) >= 0)
            continue;
        fe_messages_add(messages, path, 0,
                        "no column %s; the first line should be distance_m,height_m",
                        COLUMNS[i]);
        good = false;
    }
    return good;
}

static fe_status from_table(const fe_csv *table, const char *path, fe_profile *profile,
                            fe_messages *messages)
{
    const size_t count = fe_csv_rows(table);
    if (!has_columns(table, path, messages))
        return FE_E_INPUT;
    if (count < 2 || count > FE_PROFILE_MOST_POINTS) {
        fe_messages_add(messages, path, 0, "%zu points, expected from 2 to %d", count,
                        FE_PROFILE_MOST_POINTS);
        return FE_E_INPUT;
    }
    fe_profile read = {0};
    const fe_status status = fe_profile_new(count, fe_csv_column(table, "height_error_m") >= 0,
                                            fe_csv_column(table, "clutter_m") >= 0, &read);
    if (status != FE_OK)
        return status;
    if (!read_rows(table, path, messages, &read)) {
        fe_profile_free(&read);
        return FE_E_INPUT;
    }
    *profile = read;
    return FE_OK;
}

fe_status fe_profile_read(const char *path, fe_profile *profile, fe_messages *messages)
{
    fe_csv *table = NULL;
    fe_status status = fe_csv_read_or_say(path, "profile", &table, messages);
    if (status == FE_OK)
        status = from_table(table, path, profile, messages);
    fe_csv_free(table);
    return status;
}

/* Pieces that a stretch is cut into; 0 where there would be too many. */
static size_t pieces(double stretch_m, double step_m)
{
    const double count = fmax(1.0, ceil(stretch_m / step_m - ROUNDING));
    return count < FE_PROFILE_MOST_POINTS ? (size_t)count : 0;
}

fe_status fe_profile_even(double length_m, double rise_m, double step_m, fe_profile *profile)
{
    if (!(length_m > 0.0) || !(step_m > 0.0) || !isfinite(length_m) || !isfinite(rise_m))
        return FE_E_DOMAIN;
    const size_t count = pieces(length_m, step_m);
    if (count == 0)
        return FE_E_DOMAIN;
    const fe_status status = fe_profile_new(count + 1, false, false, profile);
    if (status != FE_OK)
        return status;
    for (size_t i = 0; i <= count; i++) {
        const double share = (double)i / (double)count;
        profile->distance_m[i] = share * length_m;
        profile->height_m[i] = share * rise_m;
    }
    return FE_OK;
}

static void copy_point(const fe_profile *from, size_t i, fe_profile *to, size_t at)
{
    for (size_t k = 0; k < VALUES; k++)
        if (values_in(from, k))
            (*value_of(to, k))[at] = values_in(from, k)[i];
}

/* The values on the straight line that ends at point i, at a share of the way to it. */
static void copy_between(const fe_profile *from, size_t i, double share, fe_profile *to,
                         size_t at)
{
    for (size_t k = 0; k < VALUES; k++) {
        const double *const value = values_in(from, k);
        if (value)
            (*value_of(to, k))[at] = value[i - 1] + share * (value[i] - value[i - 1]);
    }
}

/* Number of points after refining; 0 where there would be too many. */
static size_t refined_count(const fe_profile *profile, double step_m)
{
    size_t count = 1;
    for (size_t i = 1; i < profile->count; i++) {
        const size_t more = pieces(profile->distance_m[i] - profile->distance_m[i - 1], step_m);
        count += more;
        if (more == 0 || count > FE_PROFILE_MOST_POINTS)
            return 0;
    }
    return count;
}

fe_status fe_profile_refine(const fe_profile *profile, double step_m, fe_profile *refined)
{
    if (!is_usable(profile) || !(step_m > 0.0))
        return FE_E_DOMAIN;
    const size_t count = refined_count(profile, step_m);
    if (count == 0)
        return FE_E_DOMAIN;
    fe_profile made = {0};
    const fe_status status = allocate_like(profile, count, &made);
    if (status != FE_OK)
        return status;
    size_t at = 0;
    for (size_t i = 1; i < profile->count; i++) {
        const double start_m = profile->distance_m[i - 1];
        const double stretch_m = profile->distance_m[i] - start_m;
        const size_t parts = pieces(stretch_m, step_m);
        for (size_t k = 0; k < parts; k++, at++) {
            const double share = (double)k / (double)parts;
            made.distance_m[at] = start_m + share * stretch_m;
            copy_between(profile, i, share, &made, at);
        }
    }
    made.distance_m[at] = profile->distance_m[profile->count - 1];
    copy_point(profile, profile->count - 1, &made, at);
    *refined = made;
    return FE_OK;
}

/* The points in their order or from the last to the first, with distances from the new start.
 */
static fe_status copy_points(const fe_profile *profile, bool backwards, fe_profile *copy)
{
    if (!is_usable(profile))
        return FE_E_DOMAIN;
    fe_profile made = {0};
    const fe_status status = allocate_like(profile, profile->count, &made);
    if (status != FE_OK)
        return status;
    const size_t last = profile->count - 1;
    for (size_t i = 0; i <= last; i++) {
        made.distance_m[i] = backwards
                                 ? profile->distance_m[last] - profile->distance_m[last - i]
                                 : profile->distance_m[i];
        copy_point(profile, backwards ? last - i : i, &made, i);
    }
    *copy = made;
    return FE_OK;
}

fe_status fe_profile_copy(const fe_profile *profile, fe_profile *copy)
{
    return copy_points(profile, false, copy);
}

fe_status fe_profile_reverse(const fe_profile *profile, fe_profile *reversed)
{
    return copy_points(profile, true, reversed);
}

size_t fe_profile_first_beyond(const fe_profile *profile, double distance_m)
{
    size_t low = 0;
    size_t high = profile->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (profile->distance_m[middle] > distance_m)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

/* The values at any distance within the profile. */
static void copy_at(const fe_profile *from, double distance_m, fe_profile *to, size_t at)
{
    const size_t beyond = fe_profile_first_beyond(from, distance_m);
    if (beyond == from->count) {
        copy_point(from, from->count - 1, to, at);
        return;
    }
    const double start_m = from->distance_m[beyond - 1];
    copy_between(from, beyond, (distance_m - start_m) / (from->distance_m[beyond] - start_m),
                 to, at);
}

fe_status fe_profile_cut(const fe_profile *profile, double from_m, double to_m,
                         fe_profile *part)
{
    if (!is_usable(profile) || !(from_m >= 0.0) || !(to_m > from_m) ||
        !(to_m <= fe_profile_length(profile)))
        return FE_E_DOMAIN;
    const size_t first = fe_profile_first_beyond(profile, from_m);
    size_t beyond = first;
    while (profile->distance_m[beyond] < to_m)
        beyond++;
    fe_profile made = {0};
    const fe_status status = allocate_like(profile, beyond - first + 2, &made);
    if (status != FE_OK)
        return status;
    copy_at(profile, from_m, &made, 0);
    for (size_t i = first; i < beyond; i++) {
        made.distance_m[i - first + 1] = profile->distance_m[i] - from_m;
        copy_point(profile, i, &made, i - first + 1);
    }
    made.distance_m[made.count - 1] = to_m - from_m;
    copy_at(profile, to_m, &made, made.count - 1);
    *part = made;
    return FE_OK;
}

/* Each line after a '#'; control characters would end the comment early. */
static void print_comments(const char *comments, fe_strbuf *out)
{
    bool starts = true;
    for (const char *at = comments; *at; at++) {
        if (starts)
            fe_strbuf_append(out, "# ");
        starts = *at == '\n';
        fe_strbuf_append_char(out, (unsigned char)*at < ' ' && !starts ? '?' : *at);
    }
    if (!starts)
        fe_strbuf_append_char(out, '\n');
}

void fe_profile_print(const fe_profile *profile, const char *comments, const char *const *marks,
                      fe_strbuf *out)
{
    if (comments)
        print_comments(comments, out);
    fe_strbuf_format(out, "distance_m,height_m%s%s%s\n", profile->clutter_m ? ",clutter_m" : "",
                     profile->height_error_m ? ",height_error_m" : "", marks ? ",mark" : "");
    char text[32];
    for (size_t i = 0; i < profile->count; i++) {
        fe_strbuf_append(out,
                         fe_number_print_fixed(profile->distance_m[i], 3, text, sizeof text));
        const double *const values[VALUES] = {profile->height_m, profile->clutter_m,
                                              profile->height_error_m};
        for (size_t k = 0; k < VALUES; k++)
            if (values[k])
                fe_strbuf_format(out, ",%s",
                                 fe_number_print_fixed(values[k][i], 3, text, sizeof text));
        if (marks)
            fe_strbuf_format(out, ",%s", marks[i]);
        fe_strbuf_append_char(out, '\n');
    }
}

void fe_profile_free(fe_profile *profile)
{
    free(profile->distance_m);
    free(profile->height_m);
    free(profile->height_error_m);
    free(profile->clutter_m);
    *profile = (fe_profile){0};
}

double fe_profile_length(const fe_profile *profile)
{
    return profile->count ? profile->distance_m[profile->count - 1] : 0.0;
}

double fe_profile_ground_length(const fe_profile *profile)
{
    double length_m = 0.0;
    for (size_t i = 1; i < profile->count; i++)
        length_m += hypot(profile->distance_m[i] - profile->distance_m[i - 1],
                          profile->height_m[i] - profile->height_m[i - 1]);
    return length_m;
}

double fe_profile_height_at(const fe_profile *profile, double distance_m)
{
    if (isnan(distance_m) || profile->count == 0)
        return NAN;
    const size_t beyond = fe_profile_first_beyond(profile, distance_m);
    if (beyond == 0)
        return profile->height_m[0];
    const size_t before = beyond - 1;
    const double *const d_m = profile->distance_m;
    const double *const h_m = profile->height_m;
    if (beyond == profile->count)
        return h_m[before];
    const double share = (distance_m - d_m[before]) / (d_m[beyond] - d_m[before]);
    return h_m[before] + share * (h_m[beyond] - h_m[before]);
}
