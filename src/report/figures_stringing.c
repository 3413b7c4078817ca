/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stringing chart. */
#include <math.h>
#include <stdbool.h>

#include "farend/figures.h"
#include "report/figure_text.h"

enum { HEIGHT = 330, UNIT_ROOM = 12, SPAN_ROOM = 30 };

static bool is_sound(const fe_stringing_data *data)
{
    bool sound = data->temp_count >= 2 && data->span_count >= 1;
    for (size_t t = 0; sound && t < data->temp_count; t++)
        sound = isfinite(data->temp_c[t]) && (t == 0 || data->temp_c[t] > data->temp_c[t - 1]);
    for (size_t i = 0; sound && i < data->temp_count * data->span_count; i++)
        sound = isfinite(data->sag_m[i]) && data->sag_m[i] > 0.0;
    for (size_t s = 0; sound && s < data->span_count; s++)
        sound = isfinite(data->span_m[s]);
    return sound;
}

static bool is_first(const fe_stringing_data *data, size_t span)
{
    return !data->alike || data->alike[span] == span;
}

static size_t count_different(const fe_stringing_data *data)
{
    size_t count = 0;
    for (size_t s = 0; s < data->span_count; s++)
        count += is_first(data, s);
    return count;
}

/* Spans to draw: all that differ, or so many spread from first to last. */
static size_t line_count(const fe_stringing_data *data)
{
    const size_t count = count_different(data);
    return count < FE_FIGURE_MOST_LINES ? count : FE_FIGURE_MOST_LINES;
}

static size_t span_of_line(const fe_stringing_data *data, size_t line)
{
    const size_t lines = line_count(data);
    size_t wanted = lines < 2 ? 0 : line * (count_different(data) - 1) / (lines - 1);
    for (size_t s = 0; s < data->span_count; s++)
        if (is_first(data, s) && wanted-- == 0)
            return s;
    return 0;
}

static void write_line(const fe_stringing_data *data, size_t line, fe_scale temp, fe_scale sag,
                       fe_figure *figure)
{
    const size_t span = span_of_line(data, line);
    figure_numbered_block_start(figure, "line", line + 1);
    for (size_t t = 0; t < data->temp_count; t++) {
        const double row[] = {figure_scaled(temp, data->temp_c[t]),
                              data->sag_m[t * data->span_count + span] * sag.factor};
        figure_row(figure, row, 2);
    }
    figure_block_end(figure, 2);
}

static void write_names(const fe_stringing_data *data, fe_units units, fe_figure *figure)
{
    figure_array_start(figure, "span", line_count(data));
    for (size_t i = 0; i < line_count(data); i++) {
        const size_t span = span_of_line(data, i);
        fe_strbuf text = FE_STRBUF_INIT;
        /* Those alike are not named: a longer name is cut by the edge of the figure. */
        fe_strbuf_format(&text, "span %zu, ", span + 1);
        fe_amount_print(FE_STYLE_LENGTH, data->span_m[span], 0, units, &text);
        figure_array_take(figure, i, &text, SPAN_ROOM);
    }
    figure_array_end(figure);
}

static void say(const fe_stringing_data *data, fe_units units, fe_figure *figure)
{
    const size_t last = data->temp_count - 1;
    for (size_t s = 0; s < data->span_count; s++) {
        if (!is_first(data, s))
            continue;
        figure_say(figure, "%sspan %zu sags ", s ? "; " : "Sag by temperature: ", s + 1);
        figure_say_amount(figure, data->sag_m[s], FE_STYLE_DEPTH, units);
        figure_say(figure, " at ");
        figure_say_amount(figure, data->temp_c[0], FE_STYLE_TEMPERATURE, units);
        figure_say(figure, " and ");
        figure_say_amount(figure, data->sag_m[last * data->span_count + s], FE_STYLE_DEPTH,
                          units);
        figure_say(figure, " at ");
        figure_say_amount(figure, data->temp_c[last], FE_STYLE_TEMPERATURE, units);
    }
    figure_say(figure, ".");
}

fe_status fe_figure_stringing(const fe_stringing_data *data, fe_units units, fe_figure *figure)
{
    if (!is_sound(data))
        return FE_E_DOMAIN;
    double most_m = 0.0;
    for (size_t i = 0; i < data->temp_count * data->span_count; i++)
        most_m = fmax(most_m, data->sag_m[i]);
    const double coldest_c = data->temp_c[0];
    const double hottest_c = data->temp_c[data->temp_count - 1];
    const fe_scale temp = fe_amount_scale(FE_STYLE_TEMPERATURE, hottest_c, units);
    const fe_scale sag = fe_amount_scale(FE_STYLE_DEPTH, most_m, units);
    figure_start(figure, "stringing", data->id, data->title, FIGURE_WIDTH, HEIGHT);
    for (size_t i = 0; i < line_count(data); i++)
        write_line(data, i, temp, sag, figure);
    write_names(data, units, figure);
    figure_number(figure, "lines", (double)line_count(data));
    figure_number(figure, "coldest", figure_scaled(temp, coldest_c));
    figure_number(figure, "hottest", figure_scaled(temp, hottest_c));
    figure_number(figure, "top", 1.08 * most_m * sag.factor);
    figure_text(figure, "t_unit", temp.unit, UNIT_ROOM);
    figure_text(figure, "s_unit", sag.unit, UNIT_ROOM);
    say(data, units, figure);
    return figure_end(figure);
}
