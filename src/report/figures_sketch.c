/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sketch of the outdoor sheet. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/figures.h"
#include "report/figure_text.h"

/* As wide as the paper: its letters are then as small as the sheet's. */
enum { WIDTH = 860, HEIGHT = 215, UNIT_ROOM = 12, NAME_ROOM = 36, NUMBERED_MOST = 30 };
enum { CROSSING_ROOM = 20, CROSSING_ROWS = 2, NUMBER_ROOM = 12 };

static bool is_sound(const fe_sketch_data *data)
{
    bool sound = figure_ground_is_sound(data->distance_m, data->ground_m, data->count);
    for (size_t i = 0; sound && i < data->support_count; i++)
        sound = isfinite(data->supports[i].at_m) && isfinite(data->supports[i].ground_m) &&
                isfinite(data->supports[i].top_m);
    for (size_t i = 0; sound && i < data->line_count; i++)
        sound = isfinite(data->line[i].at_m) && isfinite(data->line[i].height_m);
    for (size_t i = 0; sound && i < data->crossing_count; i++)
        sound = isfinite(data->crossings[i].from_m) && isfinite(data->crossings[i].to_m);
    return sound;
}

typedef struct sketch_view {
    const fe_sketch_data *data;
    fe_scale along;
    fe_scale up;
    double lowest_m;
    double highest_m;
    double from_m;
    double length_m;
} sketch_view;

static sketch_view look_at(const fe_sketch_data *data, fe_units units)
{
    sketch_view view = {.data = data,
                        .lowest_m = data->ground_m[0],
                        .highest_m = data->ground_m[0],
                        .from_m = data->distance_m[0],
                        .length_m = data->distance_m[data->count - 1] - data->distance_m[0]};
    for (size_t i = 0; i < data->count; i++) {
        view.lowest_m = fmin(view.lowest_m, data->ground_m[i]);
        view.highest_m = fmax(view.highest_m, data->ground_m[i]);
    }
    for (size_t i = 0; i < data->support_count; i++)
        view.highest_m = fmax(view.highest_m, data->supports[i].top_m);
    view.along = fe_amount_scale(FE_STYLE_DISTANCE, view.length_m, units);
    view.up = fe_amount_scale(FE_STYLE_HEIGHT, view.highest_m - view.lowest_m, units);
    return view;
}

static double along(const sketch_view *view, double at_m)
{
    return (at_m - view->from_m) * view->along.factor;
}

/* Heights from the lowest ground: nobody outdoors has a datum. */
static double up(const sketch_view *view, double height_m)
{
    return (height_m - view->lowest_m) * view->up.factor;
}

static void write_blocks(const sketch_view *view, fe_figure *figure)
{
    const fe_sketch_data *data = view->data;
    figure_block_start(figure, "ground");
    for (size_t i = 0; i < data->count; i++) {
        const double row[] = {along(view, data->distance_m[i]), up(view, data->ground_m[i])};
        figure_row(figure, row, 2);
    }
    figure_block_end(figure, 2);
    figure_block_start(figure, "supports");
    for (size_t i = 0; i < data->support_count; i++) {
        const double row[] = {along(view, data->supports[i].at_m),
                              up(view, data->supports[i].ground_m),
                              up(view, data->supports[i].top_m)};
        figure_row(figure, row, 3);
    }
    figure_block_end(figure, 3);
    figure_block_start(figure, "line");
    for (size_t i = 0; i < data->line_count; i++) {
        const double row[] = {along(view, data->line[i].at_m),
                              up(view, data->line[i].height_m)};
        figure_row(figure, row, 2);
    }
    figure_block_end(figure, 2);
}

/* Numbers of what stands between the ends, while there is room for them. */
static void write_numbers(const sketch_view *view, fe_figure *figure)
{
    const fe_sketch_data *data = view->data;
    const size_t between = data->support_count > 2 ? data->support_count - 2 : 0;
    const size_t count = between <= NUMBERED_MOST ? between : 0;
    figure_number(figure, "numbers", (double)count);
    if (count == 0)
        return;
    figure_array_start(figure, "number", count);
    for (size_t i = 0; i < count; i++) {
        char text[24];
        snprintf(text, sizeof text, "%zu", i + 1);
        figure_array_text(figure, i, text, sizeof text);
    }
    figure_array_end(figure);
    figure_array_start(figure, "number_at", count);
    for (size_t i = 0; i < count; i++)
        figure_array_number(figure, i, along(view, data->supports[i + 1].at_m));
    figure_array_end(figure);
    figure_array_start(figure, "number_up", count);
    for (size_t i = 0; i < count; i++)
        figure_array_number(figure, i, up(view, data->supports[i + 1].top_m));
    figure_array_end(figure);
}

/* A bar on the ground where something is crossed, its name under it. */
static fe_status write_crossings(const sketch_view *view, fe_figure *figure)
{
    static const double CHARACTER_SHARE = 0.0115;
    const fe_sketch_data *data = view->data;
    const size_t count = data->crossing_count;
    figure_label *labels = calloc(count + 1, sizeof *labels);
    if (!labels)
        return FE_E_MEMORY;
    figure_number(figure, "crossings", (double)count);
    figure_block_start(figure, "crossing");
    for (size_t i = 0; i < count; i++) {
        const fe_sketch_crossing *each = &data->crossings[i];
        const double shown = fmin((double)strlen(each->name), CROSSING_ROOM);
        const double half_m = 0.5 * CHARACTER_SHARE * shown * view->length_m;
        const double middle_m = 0.5 * (each->from_m + each->to_m) - view->from_m;
        labels[i] = (figure_label){fmax(half_m, fmin(middle_m, view->length_m - half_m)) *
                                       view->along.factor,
                                   half_m * view->along.factor, 0};
        labels[i].row = figure_free_row(labels, i, CROSSING_ROWS);
        const double row[] = {along(view, each->from_m), along(view, each->to_m)};
        figure_row(figure, row, 2);
    }
    figure_block_end(figure, 2);
    if (count > 0) {
        figure_array_start(figure, "name", count);
        for (size_t i = 0; i < count; i++)
            figure_array_text(figure, i, data->crossings[i].name, CROSSING_ROOM);
        figure_array_end(figure);
        figure_array_start(figure, "name_at", count);
        for (size_t i = 0; i < count; i++)
            figure_array_number(figure, i, labels[i].at);
        figure_array_end(figure);
        figure_array_start(figure, "name_row", count);
        for (size_t i = 0; i < count; i++)
            figure_array_number(figure, i, (double)labels[i].row);
        figure_array_end(figure);
    }
    free(labels);
    return FE_OK;
}

static void write_top(const fe_sketch_top *top, fe_units units, fe_figure *figure)
{
    fe_strbuf text = FE_STRBUF_INIT;
    figure_number(figure, "has_top", top != NULL);
    if (!top)
        return;
    fe_amount_print(FE_STYLE_DEPTH, top->bolt_m, 0, units, &text);
    figure_text(figure, "bolt_text", fe_strbuf_text(&text), NUMBER_ROOM);
    figure->commands.failed = figure->commands.failed || text.failed;
    fe_strbuf_clear(&text);
    if (top->supply_m > 0.0)
        fe_amount_print(FE_STYLE_DEPTH, top->supply_m, 0, units, &text);
    figure_text(figure, "supply_text", fe_strbuf_text(&text), NUMBER_ROOM);
    figure->commands.failed = figure->commands.failed || text.failed;
    fe_strbuf_clear(&text);
    fe_amount_print(FE_STYLE_THICKNESS, top->width_m, 0, units, &text);
    figure_text(figure, "post_text", fe_strbuf_text(&text), NUMBER_ROOM);
    figure->commands.failed = figure->commands.failed || text.failed;
    figure_number(figure, "has_supply", top->supply_m > 0.0);
    figure_number(figure, "slides", top->slides);
    fe_strbuf_free(&text);
}

static void say_top(const fe_sketch_top *top, fe_units units, fe_figure *figure)
{
    figure_say(figure, " Top of a post: the bolt ");
    figure_say_amount(figure, top->bolt_m, FE_STYLE_DEPTH, units);
    figure_say(figure, " below it, %s",
               top->slides ? "the cable in a clamp" : "a grip on each side, a loop between");
    if (top->supply_m > 0.0) {
        figure_say(figure, "; the supply cable ");
        figure_say_amount(figure, top->supply_m, FE_STYLE_DEPTH, units);
        figure_say(figure, " over that");
    }
    figure_say(figure, ".");
}

static void say(const sketch_view *view, fe_units units, fe_figure *figure)
{
    const fe_sketch_data *data = view->data;
    figure_say(figure, "From %s to %s, ", data->from_name, data->to_name);
    figure_say_amount(figure, view->length_m, FE_STYLE_DISTANCE, units);
    figure_say(figure, "; the ground lies ");
    figure_say_amount(figure, fabs(data->ground_m[data->count - 1] - data->ground_m[0]),
                      FE_STYLE_HEIGHT, units);
    figure_say(figure, " %s at the far end.",
               data->ground_m[data->count - 1] < data->ground_m[0] ? "lower" : "higher");
    for (size_t i = 1; i + 1 < data->support_count; i++) {
        figure_say(figure, " %s %zu stands at ",
                   data->support_name ? data->support_name : "Post", i);
        figure_say_amount(figure, data->supports[i].at_m - view->from_m, FE_STYLE_LENGTH,
                          units);
        figure_say(figure, ".");
    }
    for (size_t i = 0; i < data->crossing_count; i++) {
        figure_say(figure, " It crosses %s at ", data->crossings[i].name);
        figure_say_amount(figure, data->crossings[i].from_m - view->from_m, FE_STYLE_LENGTH,
                          units);
        figure_say(figure, ".");
    }
    if (data->top)
        say_top(data->top, units, figure);
}

fe_status fe_figure_sketch(const fe_sketch_data *data, fe_units units, fe_figure *figure)
{
    if (!is_sound(data))
        return FE_E_DOMAIN;
    const sketch_view view = look_at(data, units);
    const double high = fmax(up(&view, view.highest_m), 1.0 * view.up.factor);
    figure_start(figure, "sketch", data->id, data->title, WIDTH, HEIGHT);
    figure_text(figure, "x_unit", view.along.unit, UNIT_ROOM);
    figure_text(figure, "y_unit", view.up.unit, UNIT_ROOM);
    figure_text(figure, "from_name", data->from_name, NAME_ROOM);
    figure_text(figure, "to_name", data->to_name, NAME_ROOM);
    figure_number(figure, "far", along(&view, view.from_m + view.length_m));
    figure_number(figure, "bottom", (data->crossing_count > 0 ? -0.4 : -0.15) * high);
    figure_number(figure, "top", 1.25 * high);
    write_blocks(&view, figure);
    write_numbers(&view, figure);
    const fe_status status = write_crossings(&view, figure);
    if (status != FE_OK)
        return status;
    write_top(data->top, units, figure);
    say(&view, units, figure);
    return figure_end(figure);
}
