/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figure of a run on posts in section: ground, snow, posts, the cable by season, crossings. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#include "farend/figures.h"
#include "report/figure_text.h"

/* Characters that fit in the legend. */
enum { SEASON_ROOM = 22, CROSSING_ROOM = 22, UNIT_ROOM = 12 };

static bool is_sound(const fe_overhead_data *data)
{
    bool sound = figure_ground_is_sound(data->distance_m, data->ground_m, data->count) &&
                 data->post_count >= 2 && data->line_count >= 1 &&
                 data->line_count <= FE_FIGURE_MOST_LINES && data->snow_m >= 0.0 &&
                 isfinite(data->snow_m);
    for (size_t i = 0; sound && i < data->post_count; i++)
        sound = isfinite(data->posts[i].at_m) && isfinite(data->posts[i].ground_m) &&
                isfinite(data->posts[i].attachment_m);
    for (size_t i = 0; sound && i < data->line_count; i++)
        sound = data->lines[i].count >= 2;
    for (size_t i = 0; sound && i < data->crossing_count; i++)
        sound = isfinite(data->crossings[i].needed_m) &&
                isfinite(data->crossings[i].surface_m) && isfinite(data->crossings[i].from_m) &&
                isfinite(data->crossings[i].to_m);
    return sound;
}

typedef struct overhead_view {
    const fe_overhead_data *data;
    fe_scale along;
    fe_scale up;
    double lowest_m;
    double highest_m;
    double near_m;
    double far_m;
    size_t *order;         /* crossings as they follow each other along the run */
    figure_label *letters; /* of the crossings, by that order */
    size_t row_count;
    size_t shown[2]; /* the lines that hang highest and lowest */
    size_t shown_count;
} overhead_view;

static void widen(overhead_view *view, double at_m, double height_m)
{
    view->lowest_m = fmin(view->lowest_m, height_m);
    view->highest_m = fmax(view->highest_m, height_m);
    view->near_m = fmin(view->near_m, at_m);
    view->far_m = fmax(view->far_m, at_m);
}

static overhead_view look_at(const fe_overhead_data *data, fe_units units)
{
    overhead_view view = {.data = data,
                          .lowest_m = data->ground_m[0],
                          .highest_m = data->ground_m[0],
                          .near_m = data->distance_m[0],
                          .far_m = data->distance_m[0]};
    for (size_t i = 0; i < data->count; i++)
        widen(&view, data->distance_m[i], data->ground_m[i]);
    for (size_t i = 0; i < data->post_count; i++)
        widen(&view, data->posts[i].at_m, data->posts[i].attachment_m);
    for (size_t i = 0; i < data->crossing_count; i++)
        widen(&view, data->crossings[i].from_m,
              data->crossings[i].surface_m + data->crossings[i].needed_m);
    view.along = fe_amount_scale(FE_STYLE_DISTANCE, view.far_m, units);
    view.up = fe_amount_scale(FE_STYLE_HEIGHT, view.highest_m, units);
    return view;
}

/* ---- Which seasons are drawn: between the highest and the lowest lie the others ---- */

static double mean_height_m(const fe_overhead_line *line)
{
    double sum_m = 0.0;
    size_t count = 0;
    for (size_t i = 0; i < line->count; i++)
        if (isfinite(line->height_m[i])) {
            sum_m += line->height_m[i];
            count++;
        }
    return count > 0 ? sum_m / (double)count : 0.0;
}

static void choose_lines(overhead_view *view)
{
    const fe_overhead_data *data = view->data;
    size_t high = 0, low = 0;
    for (size_t i = 1; i < data->line_count; i++) {
        const double mean_m = mean_height_m(&data->lines[i]);
        if (mean_m > mean_height_m(&data->lines[high]))
            high = i;
        if (mean_m < mean_height_m(&data->lines[low]))
            low = i;
    }
    view->shown[0] = high;
    view->shown[1] = low;
    view->shown_count = high == low ? 1 : 2;
}

/* ---- What the run crosses: a letter under each, in rows so that none stands on another ----
 */

/* Share of the drawing's width that a letter takes with the gap to the next. */
static const double LETTER_SHARE = 0.035;
enum { LETTER_ROWS = 4, LETTERS = 26, LETTER_ROOM = 8 };

/* "a" to "z", then "a2" and so on. */
static void letter_of(size_t number, char room[LETTER_ROOM])
{
    const char letter = (char)('a' + number % LETTERS);
    if (number < LETTERS)
        snprintf(room, LETTER_ROOM, "%c", letter);
    else
        snprintf(room, LETTER_ROOM, "%c%zu", letter, number / LETTERS % 1000 + 1);
}

/* Crossings are few: an insertion keeps those at one place in the plan's order. */
static void put_in_order(overhead_view *view)
{
    for (size_t i = 0; i < view->data->crossing_count; i++) {
        size_t at = i;
        for (; at > 0 && view->data->crossings[view->order[at - 1]].from_m >
                             view->data->crossings[i].from_m;
             at--)
            view->order[at] = view->order[at - 1];
        view->order[at] = i;
    }
}

static fe_status place_letters(overhead_view *view)
{
    const size_t count = view->data->crossing_count;
    const double half_m = 0.5 * LETTER_SHARE * (view->far_m - view->near_m);
    view->order = calloc(count + 1, sizeof *view->order);
    view->letters = calloc(count + 1, sizeof *view->letters);
    if (!view->order || !view->letters)
        return FE_E_MEMORY;
    put_in_order(view);
    for (size_t i = 0; i < count; i++) {
        const fe_overhead_crossing *each = &view->data->crossings[view->order[i]];
        view->letters[i] = (figure_label){0.5 * (each->from_m + each->to_m), half_m, 0};
        view->letters[i].row = figure_free_row(view->letters, i, LETTER_ROWS);
        if (view->letters[i].row >= view->row_count)
            view->row_count = view->letters[i].row + 1;
    }
    return FE_OK;
}

static void write_ground(const overhead_view *view, fe_figure *figure)
{
    const fe_overhead_data *data = view->data;
    figure_block_start(figure, "ground");
    for (size_t i = 0; i < data->count; i++) {
        const double row[] = {figure_scaled(view->along, data->distance_m[i]),
                              figure_scaled(view->up, data->ground_m[i]),
                              figure_scaled(view->up, data->ground_m[i] + data->snow_m)};
        figure_row(figure, row, 3);
    }
    figure_block_end(figure, 3);
    figure_block_start(figure, "posts");
    for (size_t i = 0; i < data->post_count; i++) {
        const double row[] = {figure_scaled(view->along, data->posts[i].at_m),
                              figure_scaled(view->up, data->posts[i].ground_m),
                              figure_scaled(view->up, data->posts[i].attachment_m)};
        figure_row(figure, row, 3);
    }
    figure_block_end(figure, 3);
}

/* "lowest: thaw with ice"; a single season has its name alone. */
static void line_name(const overhead_view *view, size_t index, fe_figure *figure)
{
    static const char *const PLACE[] = {"highest: ", "lowest: "};
    char name[SEASON_ROOM + 40];
    snprintf(name, sizeof name, "%s%s", view->shown_count > 1 ? PLACE[index] : "",
             view->data->lines[view->shown[index]].season);
    figure_array_text(figure, index, name, SEASON_ROOM);
}

static void write_lines(const overhead_view *view, fe_figure *figure)
{
    for (size_t i = 0; i < view->shown_count; i++) {
        const fe_overhead_line *line = &view->data->lines[view->shown[i]];
        figure_numbered_block_start(figure, "line", i + 1);
        for (size_t j = 0; j < line->count; j++) {
            const double row[] = {figure_scaled(view->along, line->at_m[j]),
                                  figure_scaled(view->up, line->height_m[j])};
            figure_row(figure, row, 2);
        }
        figure_block_end(figure, 2);
    }
    figure_number(figure, "lines", (double)view->shown_count);
    figure_array_start(figure, "season", view->shown_count);
    for (size_t i = 0; i < view->shown_count; i++)
        line_name(view, i, figure);
    figure_array_end(figure);
}

static void write_crossings(const overhead_view *view, fe_figure *figure)
{
    const fe_overhead_data *data = view->data;
    char letter[LETTER_ROOM];
    figure_number(figure, "crossings", (double)data->crossing_count);
    figure_block_start(figure, "crossings");
    for (size_t i = 0; i < data->crossing_count; i++) {
        const fe_overhead_crossing *each = &data->crossings[view->order[i]];
        const double row[] = {figure_scaled(view->along, each->from_m),
                              figure_scaled(view->along, each->to_m),
                              figure_scaled(view->up, each->surface_m + each->needed_m),
                              figure_scaled(view->up, each->surface_m)};
        figure_row(figure, row, 4);
    }
    figure_block_end(figure, 4);
    if (data->crossing_count == 0)
        return;
    figure_array_start(figure, "letter", data->crossing_count);
    for (size_t i = 0; i < data->crossing_count; i++) {
        letter_of(i, letter);
        figure_array_text(figure, i, letter, LETTER_ROOM);
    }
    figure_array_end(figure);
    figure_array_start(figure, "crossing", data->crossing_count);
    for (size_t i = 0; i < data->crossing_count; i++)
        figure_array_text(figure, i, data->crossings[view->order[i]].name, CROSSING_ROOM);
    figure_array_end(figure);
    figure_array_start(figure, "letter_row", data->crossing_count);
    for (size_t i = 0; i < data->crossing_count; i++)
        figure_array_number(figure, i, (double)view->letters[i].row);
    figure_array_end(figure);
    figure_number(figure, "letter_rows", (double)view->row_count);
}

static void say(const overhead_view *view, fe_units units, fe_figure *figure)
{
    const fe_overhead_data *data = view->data;
    figure_say(figure, "Overhead run of ");
    figure_say_amount(figure, data->posts[data->post_count - 1].at_m - data->posts[0].at_m,
                      FE_STYLE_DISTANCE, units);
    figure_say(figure, " in %zu span%s.", data->post_count - 1,
               data->post_count == 2 ? "" : "s");
    if (data->snow_m > 0.0) {
        figure_say(figure, " Snow ");
        figure_say_amount(figure, data->snow_m, FE_STYLE_DEPTH, units);
        figure_say(figure, ".");
    }
    for (size_t i = 0; i < data->line_count; i++) {
        if (!isfinite(data->lines[i].least_clearance_m))
            continue;
        figure_say(figure, " Least clearance in %s: ", data->lines[i].season);
        figure_say_amount(figure, data->lines[i].least_clearance_m, FE_STYLE_HEIGHT, units);
        figure_say(figure, ".");
    }
    for (size_t i = 0; i < data->crossing_count; i++) {
        const fe_overhead_crossing *each = &data->crossings[view->order[i]];
        figure_say(figure, " Over %s, ", each->name);
        figure_say_amount(figure, each->needed_m, FE_STYLE_HEIGHT, units);
        figure_say(figure, " are needed.");
    }
}

fe_status fe_figure_overhead(const fe_overhead_data *data, fe_units units, fe_figure *figure)
{
    if (!is_sound(data))
        return FE_E_DOMAIN;
    overhead_view view = look_at(data, units);
    fe_status status = place_letters(&view);
    if (status != FE_OK)
        goto done;
    choose_lines(&view);
    const double high_m = fmax(view.highest_m - view.lowest_m, 0.5);
    const double foot_m = (0.08 + 0.08 * (double)view.row_count) * high_m;
    const double side_m = 0.02 * (view.far_m - view.near_m);
    figure_start(figure, "overhead", data->id, data->title, FIGURE_WIDTH,
                 370 + 20 * (((unsigned)view.shown_count + 4) / 2 +
                             ((unsigned)data->crossing_count + 1) / 2));
    figure_text(figure, "x_unit", view.along.unit, UNIT_ROOM);
    figure_text(figure, "y_unit", view.up.unit, UNIT_ROOM);
    figure_number(figure, "near", figure_scaled(view.along, view.near_m - side_m));
    figure_number(figure, "far", figure_scaled(view.along, view.far_m + side_m));
    figure_number(figure, "bottom", figure_scaled(view.up, view.lowest_m - foot_m));
    figure_number(figure, "top", figure_scaled(view.up, view.highest_m + 0.07 * high_m));
    figure_number(figure, "has_snow", data->snow_m > 0.0);
    write_ground(&view, figure);
    write_lines(&view, figure);
    write_crossings(&view, figure);
    say(&view, units, figure);
    status = figure_end(figure);
done:
    free(view.order);
    free(view.letters);
    return status;
}
