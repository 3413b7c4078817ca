/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figure of a path: ground, snow, trees, line of sight and the first Fresnel zone. */
#include <math.h>
#include <stdbool.h>

#include "farend/figures.h"
#include "farend/fresnel.h"
#include "report/figure_text.h"

/* Characters that fit beside the plot. */
enum { END_ROOM = 20, UNIT_ROOM = 12 };

/* Pieces the path is drawn in at least, so that the zone looks round. */
enum { PROFILE_PIECES = 96 };

static bool is_sound(const fe_profile_data *data)
{
    bool sound = figure_ground_is_sound(data->distance_m, data->ground_m, data->count) &&
                 data->f_hz > 0.0 && isfinite(data->f_hz) && isfinite(data->from_height_m) &&
                 isfinite(data->to_height_m) && data->snow_m >= 0.0 && isfinite(data->snow_m) &&
                 data->earth_radius_m >= 0.0;
    for (size_t i = 0; sound && i < data->tree_count; i++)
        sound = data->trees[i].to_m >= data->trees[i].from_m &&
                isfinite(data->trees[i].to_m - data->trees[i].from_m) &&
                isfinite(data->trees[i].height_m);
    return sound;
}

typedef struct profile_view {
    const fe_profile_data *data;
    double start_m; /* along the profile */
    double length_m;
    double from_m; /* antennas above the datum */
    double to_m;
    fe_scale along;
    fe_scale up;
    double lowest_m;
    double highest_m;
} profile_view;

/* The ground between two points of the profile, raised by the earth's bulge. */
static double ground_at(const profile_view *view, double at_m)
{
    const fe_profile_data *data = view->data;
    size_t next = 1;
    while (next + 1 < data->count && data->distance_m[next] < at_m)
        next++;
    const double before_m = data->distance_m[next - 1];
    double share = (at_m - before_m) / (data->distance_m[next] - before_m);
    share = fmin(fmax(share, 0.0), 1.0);
    const double ground_m =
        data->ground_m[next - 1] + share * (data->ground_m[next] - data->ground_m[next - 1]);
    const double near_m = at_m - view->start_m;
    const double bulge_m = data->earth_radius_m > 0.0 ? near_m * (view->length_m - near_m) /
                                                            (2.0 * data->earth_radius_m)
                                                      : 0.0;
    return ground_m + bulge_m;
}

static double sight_at(const profile_view *view, double at_m)
{
    const double share = (at_m - view->start_m) / view->length_m;
    return view->from_m + share * (view->to_m - view->from_m);
}

/* Zero at the antennas, where the formula has no value. */
static double zone_at(const profile_view *view, double at_m)
{
    const double near_m = at_m - view->start_m;
    double radius_m = 0.0;
    const fe_status status =
        fe_fresnel_radius(1, near_m, view->length_m - near_m, view->data->f_hz, &radius_m);
    return status < 0 ? 0.0 : radius_m;
}

static void write_row(profile_view *view, double at_m, fe_figure *figure)
{
    const double ground_m = ground_at(view, at_m);
    const double top_m = ground_m + view->data->snow_m;
    const double sight_m = sight_at(view, at_m);
    const double zone_m = zone_at(view, at_m);
    const double row[] = {
        figure_scaled(view->along, at_m - view->start_m),
        figure_scaled(view->up, ground_m),
        figure_scaled(view->up, top_m),
        figure_scaled(view->up, sight_m),
        figure_scaled(view->up, sight_m - zone_m),
        figure_scaled(view->up, sight_m + zone_m),
        figure_scaled(view->up, sight_m - FE_FRESNEL_WANTED_SHARE * zone_m),
    };
    figure_row(figure, row, 7);
    view->lowest_m = fmin(view->lowest_m, ground_m);
    view->highest_m = fmax(view->highest_m, fmax(top_m, sight_m + zone_m));
}

/* Every point of the profile is kept; long stretches between them are cut into pieces. */
static void write_section(profile_view *view, fe_figure *figure)
{
    const fe_profile_data *data = view->data;
    figure_block_start(figure, "section");
    for (size_t i = 0; i + 1 < data->count; i++) {
        const double from_m = data->distance_m[i];
        const double span_m = data->distance_m[i + 1] - from_m;
        const size_t pieces = (size_t)ceil(PROFILE_PIECES * span_m / view->length_m);
        for (size_t piece = 0; piece < pieces; piece++)
            write_row(view, from_m + span_m * (double)piece / (double)pieces, figure);
    }
    write_row(view, data->distance_m[data->count - 1], figure);
    figure_block_end(figure, 7);
}

static void write_trees(profile_view *view, fe_figure *figure)
{
    enum { PIECES = 12 };
    figure_block_start(figure, "trees");
    for (size_t i = 0; i < view->data->tree_count; i++) {
        const fe_profile_trees *trees = &view->data->trees[i];
        for (int piece = 0; piece <= PIECES; piece++) {
            const double at_m =
                trees->from_m + (trees->to_m - trees->from_m) * (double)piece / PIECES;
            const double ground_m = ground_at(view, at_m);
            const double row[] = {figure_scaled(view->along, at_m - view->start_m),
                                  figure_scaled(view->up, ground_m),
                                  figure_scaled(view->up, ground_m + trees->height_m)};
            figure_row(figure, row, 3);
            view->highest_m = fmax(view->highest_m, ground_m + trees->height_m);
        }
        figure_gap(figure);
    }
    figure_block_end(figure, 3);
}

static void write_antennas(const profile_view *view, fe_figure *figure)
{
    const double from[] = {0.0,
                           figure_scaled(view->up, view->from_m - view->data->from_height_m),
                           figure_scaled(view->up, view->from_m)};
    const double to[] = {figure_scaled(view->along, view->length_m),
                         figure_scaled(view->up, view->to_m - view->data->to_height_m),
                         figure_scaled(view->up, view->to_m)};
    figure_block_start(figure, "antennas");
    figure_row(figure, from, 3);
    figure_row(figure, to, 3);
    figure_block_end(figure, 3);
}

static void write_variables(const profile_view *view, fe_figure *figure)
{
    const double room_m = 0.06 * fmax(view->highest_m - view->lowest_m, 0.5);
    figure_text(figure, "x_unit", view->along.unit, UNIT_ROOM);
    figure_text(figure, "y_unit", view->up.unit, UNIT_ROOM);
    figure_text(figure, "from_name", view->data->from_name, END_ROOM);
    figure_text(figure, "to_name", view->data->to_name, END_ROOM);
    figure_number(figure, "far", figure_scaled(view->along, view->length_m));
    figure_number(figure, "bottom", figure_scaled(view->up, view->lowest_m - 2.0 * room_m));
    figure_number(figure, "top", figure_scaled(view->up, view->highest_m + room_m));
    figure_number(figure, "has_snow", view->data->snow_m > 0.0);
    figure_number(figure, "has_trees", view->data->tree_count > 0);
}

static void say(const profile_view *view, fe_units units, fe_figure *figure)
{
    const fe_profile_data *data = view->data;
    double nearest = INFINITY;
    double nearest_m = view->start_m;
    for (int piece = 1; piece < PROFILE_PIECES; piece++) {
        const double at_m = view->start_m + view->length_m * (double)piece / PROFILE_PIECES;
        const double share =
            (sight_at(view, at_m) - ground_at(view, at_m) - data->snow_m) / zone_at(view, at_m);
        if (share < nearest) {
            nearest = share;
            nearest_m = at_m;
        }
    }
    figure_say(figure, "From %s, antenna ", data->from_name);
    figure_say_amount(figure, data->from_height_m, FE_STYLE_HEIGHT, units);
    figure_say(figure, " above the ground, to %s, antenna ", data->to_name);
    figure_say_amount(figure, data->to_height_m, FE_STYLE_HEIGHT, units);
    figure_say(figure, ", over ");
    figure_say_amount(figure, view->length_m, FE_STYLE_DISTANCE, units);
    if (data->snow_m > 0.0) {
        figure_say(figure, " with ");
        figure_say_amount(figure, data->snow_m, FE_STYLE_DEPTH, units);
        figure_say(figure, " of snow");
    }
    figure_say(figure, ". The ground comes nearest to the line of sight at ");
    figure_say_amount(figure, nearest_m - view->start_m, FE_STYLE_DISTANCE, units);
    figure_say(figure, ", with a clearance of ");
    fe_amount_print(FE_STYLE_NUMBER, nearest, -1, units, &figure->alternative);
    figure_say(figure, " of the first zone's radius.");
    for (size_t i = 0; i < data->tree_count; i++) {
        figure_say(figure, " Trees (%s) from ", data->trees[i].name);
        figure_say_amount(figure, data->trees[i].from_m - view->start_m, FE_STYLE_DISTANCE,
                          units);
        figure_say(figure, " to ");
        figure_say_amount(figure, data->trees[i].to_m - view->start_m, FE_STYLE_DISTANCE,
                          units);
        figure_say(figure, ", ");
        figure_say_amount(figure, data->trees[i].height_m, FE_STYLE_LENGTH, units);
        figure_say(figure, " high.");
    }
}

fe_status fe_figure_profile(const fe_profile_data *data, fe_units units, fe_figure *figure)
{
    if (!is_sound(data))
        return FE_E_DOMAIN;
    const size_t last = data->count - 1;
    const double length_m = data->distance_m[last] - data->distance_m[0];
    const double from_m = data->ground_m[0] + data->from_height_m;
    const double to_m = data->ground_m[last] + data->to_height_m;
    profile_view view = {.data = data,
                         .start_m = data->distance_m[0],
                         .length_m = length_m,
                         .from_m = from_m,
                         .to_m = to_m,
                         .along = fe_amount_scale(FE_STYLE_DISTANCE, length_m, units),
                         .up = fe_amount_scale(FE_STYLE_HEIGHT, from_m, units),
                         .lowest_m = data->ground_m[0],
                         .highest_m = fmax(from_m, to_m)};
    figure_start(figure, "profile", data->id, data->title, FIGURE_WIDTH, 398);
    write_section(&view, figure);
    write_trees(&view, figure);
    write_antennas(&view, figure);
    write_variables(&view, figure);
    say(&view, units, figure);
    return figure_end(figure);
}
