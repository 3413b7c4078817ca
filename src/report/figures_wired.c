/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of the wired side: the feed, data cables and power over them. */
#include <math.h>
#include <stdbool.h>

#include "farend/figures.h"
#include "report/figure_text.h"

/* Characters that fit in the legend, and markers that do not crowd a line. */
enum { LINE_ROOM = 44, MARKERS = 6, UNIT_ROOM = 12 };

/* A marker every so many points. */
static double marker_step(size_t points)
{
    return fmax(1.0, floor((double)points / MARKERS));
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
    figure_number(figure, "far", figure_scaled(along, far_m));
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
            const double row[] = {figure_scaled(along, line->at_m[j]),
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
        const double row[] = {figure_scaled(view->along, data->rows[i].length_m),
                              figure_scaled(view->along, data->rows[i].limit_m),
                              (double)i + 1.0, (double)data->rows[i].mark};
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
        figure_array_take(figure, i, &text, SHOWN_ROOM);
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
    figure_number(figure, "low",
                  view.is_log ? figure_scaled(view.along, 0.5 * view.lowest_m) : 0.0);
    figure_number(figure, "high",
                  figure_scaled(view.along, view.highest_m) * (view.is_log ? 1.3 : 1.08));
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
    figure_number(figure, "far", figure_scaled(along, far_m));
    figure_number(figure, "here", figure_scaled(along, data->length_m));
    figure_number(figure, "top", 1.05 * top_w);
    figure_number(figure, "need", data->need_w);
    figure_array_start(figure, "name", data->line_count);
    for (size_t i = 0; i < data->line_count; i++)
        figure_array_text(figure, i, data->lines[i].name, LINE_ROOM);
    figure_array_end(figure);
    for (size_t i = 0; i < data->line_count; i++) {
        figure_numbered_block_start(figure, "line", i + 1);
        for (size_t j = 0; j < data->lines[i].count; j++) {
            const double row[] = {figure_scaled(along, data->lines[i].at_m[j]),
                                  data->lines[i].power_w[j]};
            figure_row(figure, row, 2);
        }
        figure_block_end(figure, 2);
    }
    poe_alternative(data, units, figure);
    return figure_end(figure);
}
