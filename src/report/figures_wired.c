/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of the wired side: the overhead run, the feed, data cables. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#include "farend/figures.h"
#include "report/figure_text.h"

/* Characters that fit in the legend, and markers that do not crowd a line. */
enum { SEASON_ROOM = 22, LINE_ROOM = 44, CROSSING_ROOM = 22, MARKERS = 6, UNIT_ROOM = 12 };

static double scaled(fe_scale scale, double si)
{
    return si * scale.factor + scale.offset;
}

/* A marker every so many points. */
static double marker_step(size_t points)
{
    return fmax(1.0, floor((double)points / MARKERS));
}

/* ---- overhead ---- */

static bool overhead_is_sound(const fe_overhead_data *data)
{
    bool sound = data->count >= 2 && data->post_count >= 2 && data->line_count >= 1 &&
                 data->line_count <= FE_FIGURE_MOST_LINES && data->snow_m >= 0.0 &&
                 isfinite(data->snow_m);
    for (size_t i = 0; sound && i < data->count; i++)
        sound = isfinite(data->distance_m[i]) && isfinite(data->ground_m[i]) &&
                (i == 0 || data->distance_m[i] > data->distance_m[i - 1]);
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

static overhead_view overhead_look(const fe_overhead_data *data, fe_units units)
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

static void overhead_ground(const overhead_view *view, fe_figure *figure)
{
    const fe_overhead_data *data = view->data;
    figure_block_start(figure, "ground");
    for (size_t i = 0; i < data->count; i++) {
        const double row[] = {scaled(view->along, data->distance_m[i]),
                              scaled(view->up, data->ground_m[i]),
                              scaled(view->up, data->ground_m[i] + data->snow_m)};
        figure_row(figure, row, 3);
    }
    figure_block_end(figure, 3);
    figure_block_start(figure, "posts");
    for (size_t i = 0; i < data->post_count; i++) {
        const double row[] = {scaled(view->along, data->posts[i].at_m),
                              scaled(view->up, data->posts[i].ground_m),
                              scaled(view->up, data->posts[i].attachment_m)};
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

static void overhead_lines(const overhead_view *view, fe_figure *figure)
{
    for (size_t i = 0; i < view->shown_count; i++) {
        const fe_overhead_line *line = &view->data->lines[view->shown[i]];
        figure_numbered_block_start(figure, "line", i + 1);
        for (size_t j = 0; j < line->count; j++) {
            const double row[] = {scaled(view->along, line->at_m[j]),
                                  scaled(view->up, line->height_m[j])};
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

static void overhead_crossings(const overhead_view *view, fe_figure *figure)
{
    const fe_overhead_data *data = view->data;
    char letter[LETTER_ROOM];
    figure_number(figure, "crossings", (double)data->crossing_count);
    figure_block_start(figure, "crossings");
    for (size_t i = 0; i < data->crossing_count; i++) {
        const fe_overhead_crossing *each = &data->crossings[view->order[i]];
        const double row[] = {scaled(view->along, each->from_m),
                              scaled(view->along, each->to_m),
                              scaled(view->up, each->surface_m + each->needed_m),
                              scaled(view->up, each->surface_m)};
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

static void overhead_alternative(const overhead_view *view, fe_units units, fe_figure *figure)
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
    if (!overhead_is_sound(data))
        return FE_E_DOMAIN;
    overhead_view view = overhead_look(data, units);
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
    figure_number(figure, "near", scaled(view.along, view.near_m - side_m));
    figure_number(figure, "far", scaled(view.along, view.far_m + side_m));
    figure_number(figure, "bottom", scaled(view.up, view.lowest_m - foot_m));
    figure_number(figure, "top", scaled(view.up, view.highest_m + 0.07 * high_m));
    figure_number(figure, "has_snow", data->snow_m > 0.0);
    overhead_ground(&view, figure);
    overhead_lines(&view, figure);
    overhead_crossings(&view, figure);
    overhead_alternative(&view, units, figure);
    status = figure_end(figure);
done:
    free(view.order);
    free(view.letters);
    return status;
}

/* ---- feed ---- */

static bool feed_is_sound(const fe_feed_data *data)
{
    bool sound = data->line_count >= 1 && data->line_count <= FE_FIGURE_MOST_LINES &&
                 data->allowed_drop >= 0.0 && data->allowed_drop < 1.0;
    for (size_t i = 0; sound && i < data->line_count; i++) {
        const fe_feed_curve *line = &data->lines[i];
        sound = line->count >= 2 && line->source_v > 0.0 && isfinite(line->source_v);
        for (size_t j = 0; sound && j < line->count; j++)
            sound = isfinite(line->at_m[j]) && isfinite(line->voltage_v[j]);
    }
    return sound;
}

static void feed_alternative(const fe_feed_data *data, fe_units units, fe_figure *figure)
{
    for (size_t i = 0; i < data->line_count; i++) {
        const fe_feed_curve *line = &data->lines[i];
        const size_t last = line->count - 1;
        figure_say(figure, "%s%s: ", i > 0 ? " " : "", line->name);
        figure_say_amount(figure, line->voltage_v[last], FE_STYLE_VOLTAGE, units);
        figure_say(figure, " of ");
        figure_say_amount(figure, line->source_v, FE_STYLE_VOLTAGE, units);
        figure_say(figure, " left after ");
        figure_say_amount(figure, line->at_m[last], FE_STYLE_DISTANCE, units);
        figure_say(figure, ", a drop of ");
        fe_amount_print(FE_STYLE_PERCENT, 1.0 - line->voltage_v[last] / line->source_v, 1,
                        units, &figure->alternative);
        figure_say(figure, ".");
    }
    if (data->allowed_drop > 0.0) {
        figure_say(figure, " Allowed is a drop of ");
        fe_amount_print(FE_STYLE_PERCENT, data->allowed_drop, 1, units, &figure->alternative);
        figure_say(figure, ".");
    }
}

fe_status fe_figure_feed(const fe_feed_data *data, fe_units units, fe_figure *figure)
{
    if (!feed_is_sound(data))
        return FE_E_DOMAIN;
    double far_m = 0.0;
    double lowest = 100.0 * (1.0 - data->allowed_drop);
    for (size_t i = 0; i < data->line_count; i++)
        for (size_t j = 0; j < data->lines[i].count; j++) {
            far_m = fmax(far_m, data->lines[i].at_m[j]);
            lowest =
                fmin(lowest, 100.0 * data->lines[i].voltage_v[j] / data->lines[i].source_v);
        }
    const fe_scale along = fe_amount_scale(FE_STYLE_DISTANCE, far_m, units);
    figure_start(figure, "feed", data->id, data->title, FIGURE_WIDTH,
                 342 + 25 * ((unsigned)data->line_count + 1));
    figure_number(figure, "lines", (double)data->line_count);
    figure_number(figure, "every", marker_step(data->lines[0].count));
    figure_text(figure, "x_unit", along.unit, UNIT_ROOM);
    figure_number(figure, "far", scaled(along, far_m));
    figure_number(figure, "limit",
                  data->allowed_drop > 0.0 ? 100.0 * (1.0 - data->allowed_drop) : 0.0);
    figure_number(figure, "bottom", lowest - 0.08 * (100.0 - lowest) - 0.2);
    figure_array_start(figure, "name", data->line_count);
    for (size_t i = 0; i < data->line_count; i++)
        figure_array_text(figure, i, data->lines[i].name, LINE_ROOM);
    figure_array_end(figure);
    for (size_t i = 0; i < data->line_count; i++) {
        const fe_feed_curve *line = &data->lines[i];
        figure_numbered_block_start(figure, "line", i + 1);
        for (size_t j = 0; j < line->count; j++) {
            const double row[] = {scaled(along, line->at_m[j]),
                                  100.0 * line->voltage_v[j] / line->source_v};
            figure_row(figure, row, 2);
        }
        figure_block_end(figure, 2);
    }
    feed_alternative(data, units, figure);
    return figure_end(figure);
}

/* ---- reach ---- */

/* Name and numbers share the line over their bar. */
enum { ROW_ROOM = 30, SHOWN_ROOM = 24, ROW_HEIGHT = 44 };

static bool reach_is_sound(const fe_reach_data *data)
{
    bool sound = data->count >= 1;
    for (size_t i = 0; sound && i < data->count; i++)
        sound = data->rows[i].length_m > 0.0 && isfinite(data->rows[i].length_m) &&
                data->rows[i].limit_m >= 0.0 && isfinite(data->rows[i].limit_m) &&
                data->rows[i].mark < FE_MARK_UNKNOWN;
    return sound;
}

typedef struct reach_view {
    fe_scale along;
    double lowest_m;
    double highest_m;
    bool is_log;
} reach_view;

static reach_view reach_look(const fe_reach_data *data, fe_units units)
{
    /* Beyond this a short cable would vanish beside a long limit. */
    static const double LOG_FROM = 8.0;
    reach_view view = {.lowest_m = INFINITY};
    for (size_t i = 0; i < data->count; i++) {
        view.lowest_m = fmin(view.lowest_m, data->rows[i].length_m);
        if (data->rows[i].limit_m > 0.0)
            view.lowest_m = fmin(view.lowest_m, data->rows[i].limit_m);
        view.highest_m =
            fmax(view.highest_m, fmax(data->rows[i].length_m, data->rows[i].limit_m));
    }
    view.is_log = view.highest_m > LOG_FROM * view.lowest_m;
    /* One unit for all, and no kilometres where most are metres. */
    view.along = fe_amount_scale(FE_STYLE_LENGTH, view.lowest_m, units);
    return view;
}

static void reach_rows(const fe_reach_data *data, const reach_view *view, fe_units units,
                       fe_figure *figure)
{
    figure_block_start(figure, "rows");
    for (size_t i = 0; i < data->count; i++) {
        const double row[] = {scaled(view->along, data->rows[i].length_m),
                              scaled(view->along, data->rows[i].limit_m), (double)i + 1.0,
                              (double)data->rows[i].mark};
        figure_row(figure, row, 4);
    }
    figure_block_end(figure, 4);
    figure_array_start(figure, "name", data->count);
    for (size_t i = 0; i < data->count; i++)
        figure_array_text(figure, i, data->rows[i].name, ROW_ROOM);
    figure_array_end(figure);
    figure_array_start(figure, "shown", data->count);
    for (size_t i = 0; i < data->count; i++) {
        fe_strbuf text = FE_STRBUF_INIT;
        fe_amount_print(FE_STYLE_DISTANCE, data->rows[i].length_m, 0, units, &text);
        fe_strbuf_append(&text, " of ");
        fe_amount_print(FE_STYLE_DISTANCE, data->rows[i].limit_m, 0, units, &text);
        figure_array_text(figure, i, fe_strbuf_text(&text), SHOWN_ROOM);
        figure->commands.failed = figure->commands.failed || text.failed;
        fe_strbuf_free(&text);
    }
    figure_array_end(figure);
}

fe_status fe_figure_reach(const fe_reach_data *data, fe_units units, fe_figure *figure)
{
    if (!reach_is_sound(data))
        return FE_E_DOMAIN;
    const reach_view view = reach_look(data, units);
    figure_start(figure, "reach", data->id, data->title, FIGURE_WIDTH,
                 130 + ROW_HEIGHT * (unsigned)data->count);
    figure_text(figure, "x_unit", view.along.unit, UNIT_ROOM);
    figure_number(figure, "rows", (double)data->count);
    figure_number(figure, "is_log", view.is_log);
    figure_number(figure, "low", view.is_log ? scaled(view.along, 0.5 * view.lowest_m) : 0.0);
    figure_number(figure, "high",
                  scaled(view.along, view.highest_m) * (view.is_log ? 1.3 : 1.08));
    reach_rows(data, &view, units, figure);
    for (size_t i = 0; i < data->count; i++) {
        figure_say(figure, "%s%s: ", i > 0 ? " " : "", data->rows[i].name);
        figure_say_amount(figure, data->rows[i].length_m, FE_STYLE_DISTANCE, units);
        figure_say(figure, " of at most ");
        figure_say_amount(figure, data->rows[i].limit_m, FE_STYLE_DISTANCE, units);
        figure_say(figure, ", %s.", fe_mark_word(data->rows[i].mark));
    }
    return figure_end(figure);
}

/* ---- poe ---- */

static bool poe_is_sound(const fe_poe_data *data)
{
    bool sound = data->line_count >= 1 && data->line_count <= FE_FIGURE_MOST_LINES &&
                 data->length_m > 0.0 && isfinite(data->length_m) && data->need_w >= 0.0 &&
                 isfinite(data->need_w);
    for (size_t i = 0; sound && i < data->line_count; i++) {
        const fe_poe_curve *line = &data->lines[i];
        sound = line->count >= 2;
        for (size_t j = 0; sound && j < line->count; j++)
            sound = isfinite(line->at_m[j]);
    }
    return sound;
}

static void poe_alternative(const fe_poe_data *data, fe_units units, fe_figure *figure)
{
    figure_say(figure, "Left at the device after ");
    figure_say_amount(figure, data->length_m, FE_STYLE_LENGTH, units);
    figure_say(figure, ":");
    for (size_t i = 0; i < data->line_count; i++) {
        figure_say(figure, " %s: ", data->lines[i].name);
        if (isfinite(data->lines[i].here_w))
            figure_say_amount(figure, data->lines[i].here_w, FE_STYLE_POWER, units);
        else
            figure_say(figure, "nothing");
        figure_say(figure, i + 1 < data->line_count ? ";" : ".");
    }
    if (data->need_w > 0.0) {
        figure_say(figure, " Needed: ");
        figure_say_amount(figure, data->need_w, FE_STYLE_POWER, units);
        figure_say(figure, ".");
    }
}

fe_status fe_figure_poe(const fe_poe_data *data, fe_units units, fe_figure *figure)
{
    if (!poe_is_sound(data))
        return FE_E_DOMAIN;
    double far_m = data->length_m, top_w = data->need_w;
    for (size_t i = 0; i < data->line_count; i++)
        for (size_t j = 0; j < data->lines[i].count; j++) {
            far_m = fmax(far_m, data->lines[i].at_m[j]);
            if (isfinite(data->lines[i].power_w[j]))
                top_w = fmax(top_w, data->lines[i].power_w[j]);
        }
    const fe_scale along = fe_amount_scale(FE_STYLE_LENGTH, far_m, units);
    figure_start(figure, "poe", data->id, data->title, FIGURE_WIDTH,
                 342 + 25 * ((unsigned)data->line_count + 1));
    figure_number(figure, "lines", (double)data->line_count);
    figure_number(figure, "every", marker_step(data->lines[0].count));
    figure_text(figure, "x_unit", along.unit, UNIT_ROOM);
    figure_number(figure, "far", scaled(along, far_m));
    figure_number(figure, "here", scaled(along, data->length_m));
    figure_number(figure, "top", 1.05 * top_w);
    figure_number(figure, "need", data->need_w);
    figure_array_start(figure, "name", data->line_count);
    for (size_t i = 0; i < data->line_count; i++)
        figure_array_text(figure, i, data->lines[i].name, LINE_ROOM);
    figure_array_end(figure);
    for (size_t i = 0; i < data->line_count; i++) {
        figure_numbered_block_start(figure, "line", i + 1);
        for (size_t j = 0; j < data->lines[i].count; j++) {
            const double row[] = {scaled(along, data->lines[i].at_m[j]),
                                  data->lines[i].power_w[j]};
            figure_row(figure, row, 2);
        }
        figure_block_end(figure, 2);
    }
    poe_alternative(data, units, figure);
    return figure_end(figure);
}
