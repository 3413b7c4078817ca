/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of the radio side: margin, budget, relays. */
#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "farend/figures.h"
#include "report/figure_text.h"

/* Characters that fit beside the plot, and rows of the drawing's 16-high text. */
enum { SEASON_ROOM = 17, STEP_ROOM = 24, END_ROOM = 20, ROW_HEIGHT = 26, UNIT_ROOM = 12 };

/* ---- margin ---- */

static bool margins_are_finite(const fe_margin_data *data)
{
    for (size_t i = 0; i < data->count; i++) {
        const fe_margin_point *point = &data->points[i];
        if (!isfinite(point->median_db) || !isfinite(point->low_db) ||
            !isfinite(point->high_db) || point->mark >= FE_MARK_UNKNOWN)
            return false;
    }
    return data->count > 0;
}

static bool starts_band(const fe_margin_data *data, size_t index)
{
    return index == 0 || strcmp(data->points[index].band, data->points[index - 1].band) != 0;
}

static size_t count_bands(const fe_margin_data *data)
{
    size_t bands = 0;
    for (size_t i = 0; i < data->count; i++)
        bands += starts_band(data, i);
    return bands;
}

/* Row of a point: every band starts with a row for its name. */
static double margin_row(const fe_margin_data *data, size_t index)
{
    size_t row = 0;
    for (size_t i = 0; i <= index; i++)
        row += starts_band(data, i) ? 2 : 1;
    return (double)row;
}

static void margin_texts(const fe_margin_data *data, fe_units units, fe_figure *figure)
{
    figure_array_start(figure, "name", data->count);
    for (size_t i = 0; i < data->count; i++)
        figure_array_text(figure, i, data->points[i].season, SEASON_ROOM);
    figure_array_end(figure);
    figure_array_start(figure, "shown", data->count);
    for (size_t i = 0; i < data->count; i++)
        figure_array_beside(figure, i, data->points[i].median_db, 0.0, FE_STYLE_RATIO, units);
    figure_array_end(figure);
    figure_array_start(figure, "row", data->count);
    for (size_t i = 0; i < data->count; i++)
        figure_array_number(figure, i, margin_row(data, i));
    figure_array_end(figure);
}

static void margin_bands(const fe_margin_data *data, fe_figure *figure)
{
    const size_t bands = count_bands(data);
    size_t at = 0;
    figure_number(figure, "bands", (double)bands);
    figure_array_start(figure, "band", bands);
    for (size_t i = 0; i < data->count; i++)
        if (starts_band(data, i))
            figure_array_text(figure, at++, data->points[i].band, END_ROOM);
    figure_array_end(figure);
    at = 0;
    figure_array_start(figure, "band_row", bands);
    for (size_t i = 0; i < data->count; i++)
        if (starts_band(data, i))
            figure_array_number(figure, at++, margin_row(data, i) - 1.0);
    figure_array_end(figure);
}

static void margin_points(const fe_margin_data *data, fe_figure *figure)
{
    double low = 0.0;
    double high = 0.0;
    figure_block_start(figure, "points");
    for (size_t i = 0; i < data->count; i++) {
        const fe_margin_point *point = &data->points[i];
        const double row[] = {point->median_db, point->low_db, point->high_db,
                              margin_row(data, i), (double)point->mark};
        figure_row(figure, row, 5);
        low = fmin(low, fmin(point->low_db, point->median_db));
        high = fmax(high, fmax(point->high_db, point->median_db));
    }
    figure_block_end(figure, 5);
    figure_number(figure, "low", low - 2.0);
    figure_number(figure, "high", high + 2.0);
}

static void margin_alternative(const fe_margin_data *data, fe_units units, fe_figure *figure)
{
    figure_say(figure, "Margin of the middle build, and in brackets where eight of ten builds "
                       "come out.");
    for (size_t i = 0; i < data->count; i++) {
        const fe_margin_point *point = &data->points[i];
        if (starts_band(data, i))
            figure_say(figure, "%s %s: ", i > 0 ? "." : "", point->band);
        else
            figure_say(figure, "; ");
        figure_say(figure, "%s ", point->season);
        figure_say_beside(figure, point->median_db, 0.0, FE_STYLE_RATIO, units);
        figure_say(figure, " (");
        fe_amount_print_range(FE_STYLE_RATIO, point->low_db, point->high_db, 0, units,
                              &figure->alternative);
        figure_say(figure, "), %s", fe_mark_word(point->mark));
    }
    figure_say(figure, ".");
}

fe_status fe_figure_margin(const fe_margin_data *data, fe_units units, fe_figure *figure)
{
    if (!margins_are_finite(data))
        return FE_E_DOMAIN;
    const double rows = margin_row(data, data->count - 1);
    figure_start(figure, "margin", data->id, data->title, FIGURE_WIDTH,
                 108 + ROW_HEIGHT * (unsigned)rows);
    figure_number(figure, "points", (double)data->count);
    figure_number(figure, "rows", rows);
    margin_texts(data, units, figure);
    margin_bands(data, figure);
    margin_points(data, figure);
    margin_alternative(data, units, figure);
    return figure_end(figure);
}

/* ---- budget ---- */

static bool budget_is_finite(const fe_budget_data *data)
{
    bool finite = isfinite(data->power_dbm) && isfinite(data->needed_dbm);
    for (size_t i = 0; i < data->count; i++)
        finite = finite && isfinite(data->steps[i].change_db);
    return finite;
}

static double budget_level(const fe_budget_data *data, size_t steps)
{
    double level_dbm = data->power_dbm;
    for (size_t i = 0; i < steps; i++)
        level_dbm += data->steps[i].change_db;
    return level_dbm;
}

/* Rows: the power, the steps, the level received, the margin. */
static void budget_texts(const fe_budget_data *data, fe_units units, fe_figure *figure)
{
    const double level_dbm = budget_level(data, data->count);
    const size_t rows = data->count + 3;
    figure_number(figure, "rows", (double)rows);
    figure_array_start(figure, "name", rows);
    figure_array_text(figure, 0, "transmitted", STEP_ROOM);
    for (size_t i = 0; i < data->count; i++)
        figure_array_text(figure, i + 1, data->steps[i].label, STEP_ROOM);
    figure_array_text(figure, data->count + 1, "received", STEP_ROOM);
    figure_array_text(figure, data->count + 2,
                      level_dbm < data->needed_dbm ? "missing" : "margin", STEP_ROOM);
    figure_array_end(figure);
    figure_array_start(figure, "shown", rows);
    figure_array_amount(figure, 0, data->power_dbm, FE_STYLE_LEVEL, units);
    for (size_t i = 0; i < data->count; i++)
        figure_array_amount(figure, i + 1, data->steps[i].change_db, FE_STYLE_RATIO, units);
    figure_array_amount(figure, data->count + 1, level_dbm, FE_STYLE_LEVEL, units);
    figure_array_amount(figure, data->count + 2, level_dbm - data->needed_dbm, FE_STYLE_RATIO,
                        units);
    figure_array_end(figure);
}

static void budget_bars(const fe_budget_data *data, const char *block, bool gains,
                        fe_figure *figure)
{
    figure_block_start(figure, block);
    for (size_t i = 0; i < data->count; i++) {
        const double row[] = {budget_level(data, i), budget_level(data, i + 1),
                              (double)i + 2.0};
        if ((data->steps[i].change_db >= 0.0) == gains)
            figure_row(figure, row, 3);
    }
    figure_block_end(figure, 3);
}

static void budget_blocks(const fe_budget_data *data, fe_figure *figure)
{
    const double level_dbm = budget_level(data, data->count);
    const double rows = (double)data->count + 3.0;
    budget_bars(data, "gains", true, figure);
    budget_bars(data, "losses", false, figure);
    figure_block_start(figure, "joins");
    for (size_t i = 0; i <= data->count; i++) {
        const double row[] = {budget_level(data, i), (double)i + 1.0, (double)i + 2.0};
        figure_row(figure, row, 3);
    }
    const double last[] = {level_dbm, rows - 1.0, rows};
    figure_row(figure, last, 3);
    figure_block_end(figure, 3);
    const double marks[2][2] = {{data->power_dbm, 1.0}, {level_dbm, rows - 1.0}};
    figure_block_start(figure, "marks");
    figure_row(figure, marks[0], 2);
    figure_row(figure, marks[1], 2);
    figure_block_end(figure, 2);
    const double margin[] = {data->needed_dbm, level_dbm, rows};
    figure_block_start(figure, "margin");
    figure_row(figure, margin, 3);
    figure_block_end(figure, 3);
    const double needed[2][2] = {{data->needed_dbm, 0.4}, {data->needed_dbm, rows + 0.6}};
    figure_block_start(figure, "needed");
    figure_row(figure, needed[0], 2);
    figure_row(figure, needed[1], 2);
    figure_block_end(figure, 2);
}

static void budget_range(const fe_budget_data *data, fe_figure *figure)
{
    double low = fmin(data->needed_dbm, data->power_dbm);
    double high = fmax(data->needed_dbm, data->power_dbm);
    for (size_t i = 1; i <= data->count; i++) {
        low = fmin(low, budget_level(data, i));
        high = fmax(high, budget_level(data, i));
    }
    figure_number(figure, "low", low - 4.0);
    figure_number(figure, "high", high + 4.0);
    figure_number(figure, "level", budget_level(data, data->count));
    figure_number(figure, "needed", data->needed_dbm);
}

static void budget_alternative(const fe_budget_data *data, fe_units units, fe_figure *figure)
{
    const double level_dbm = budget_level(data, data->count);
    figure_say(figure, "Transmitted ");
    figure_say_amount(figure, data->power_dbm, FE_STYLE_LEVEL, units);
    for (size_t i = 0; i < data->count; i++) {
        figure_say(figure, "; %s ", data->steps[i].label);
        figure_say_amount(figure, data->steps[i].change_db, FE_STYLE_RATIO, units);
    }
    figure_say(figure, "; received ");
    figure_say_amount(figure, level_dbm, FE_STYLE_LEVEL, units);
    figure_say(figure, ", needed ");
    figure_say_amount(figure, data->needed_dbm, FE_STYLE_LEVEL, units);
    figure_say(figure, level_dbm < data->needed_dbm ? "; missing " : "; margin ");
    figure_say_beside(figure, fabs(level_dbm - data->needed_dbm), 0.0, FE_STYLE_RATIO, units);
    figure_say(figure, ".");
}

fe_status fe_figure_budget(const fe_budget_data *data, fe_units units, fe_figure *figure)
{
    if (!budget_is_finite(data))
        return FE_E_DOMAIN;
    figure_start(figure, "budget", data->id, data->title, FIGURE_WIDTH,
                 108 + ROW_HEIGHT * ((unsigned)data->count + 3));
    budget_texts(data, units, figure);
    budget_blocks(data, figure);
    budget_range(data, figure);
    budget_alternative(data, units, figure);
    return figure_end(figure);
}

/* ---- relays ---- */

static bool relays_are_finite(const fe_relays_data *data)
{
    bool finite = data->count > 0 && isfinite(data->needed_bps);
    for (size_t i = 0; i < data->count; i++)
        finite = finite && isfinite(data->points[i].rate_bps) &&
                 isfinite(data->points[i].margin_db) && isfinite(data->points[i].chance) &&
                 (i == 0 || data->points[i].relays > data->points[i - 1].relays);
    return finite;
}

static void relays_alternative(const fe_relays_data *data, fe_units units, fe_figure *figure)
{
    if (data->needed_bps > 0.0) {
        figure_say(figure, "Needed ");
        figure_say_amount(figure, data->needed_bps, FE_STYLE_DATA_RATE, units);
        figure_say(figure, ". ");
    }
    for (size_t i = 0; i < data->count; i++) {
        const fe_relays_point *point = &data->points[i];
        figure_say(figure, "%s%u relay%s: ", i > 0 ? "; " : "", point->relays,
                   point->relays == 1 ? "" : "s");
        figure_say_amount(figure, point->rate_bps, FE_STYLE_DATA_RATE, units);
        figure_say(figure, ", margin ");
        figure_say_beside(figure, point->margin_db, 0.0, FE_STYLE_RATIO, units);
        figure_say(figure, ", chance ");
        figure_say_beside(figure, point->chance, data->confidence, FE_STYLE_PERCENT, units);
    }
    figure_say(figure, ".");
}

size_t fe_figure_relays_add(fe_relays_point *points, size_t count, const fe_chain *chain)
{
    if (!isfinite(chain->margin_db) || !isfinite(chain->delivered_rate_bps))
        return count;
    points[count] = (fe_relays_point){chain->relays, chain->delivered_rate_bps,
                                      chain->margin_db, chain->chance};
    return count + 1;
}

fe_status fe_figure_relays(const fe_relays_data *data, fe_units units, fe_figure *figure)
{
    if (!relays_are_finite(data))
        return FE_E_DOMAIN;
    double largest_bps = fmax(data->needed_bps, 1.0);
    size_t holding = 0;
    double low_db = 0.0;
    double high_db = 1.0;
    for (size_t i = 0; i < data->count; i++) {
        largest_bps = fmax(largest_bps, data->points[i].rate_bps);
        low_db = fmin(low_db, data->points[i].margin_db);
        high_db = fmax(high_db, data->points[i].margin_db);
        holding += data->points[i].chance >= data->confidence;
    }
    const fe_scale rate = fe_amount_scale(FE_STYLE_DATA_RATE, largest_bps, units);
    figure_start(figure, "relays", data->id, data->title, FIGURE_WIDTH, 430);
    figure_text(figure, "rate_unit", rate.unit, UNIT_ROOM);
    figure_number(figure, "needed", figure_scaled(rate, data->needed_bps));
    figure_number(figure, "rate_top", 1.1 * figure_scaled(rate, largest_bps));
    figure_number(figure, "margin_low", low_db - 0.1 * (high_db - low_db));
    figure_number(figure, "margin_high", high_db + 0.1 * (high_db - low_db));
    figure_number(figure, "first", data->points[0].relays);
    figure_number(figure, "most", data->points[data->count - 1].relays);
    figure_number(figure, "holding", (double)holding);
    figure_block_start(figure, "points");
    for (size_t i = 0; i < data->count; i++) {
        const double row[] = {
            (double)data->points[i].relays, figure_scaled(rate, data->points[i].rate_bps),
            data->points[i].margin_db, data->points[i].chance >= data->confidence};
        figure_row(figure, row, 4);
    }
    figure_block_end(figure, 4);
    relays_alternative(data, units, figure);
    return figure_end(figure);
}
