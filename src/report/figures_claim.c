/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figure of a claim: what frequency does to range, and what was said of it. */
#include <math.h>
#include <stdbool.h>

#include "farend/figures.h"
#include "report/figure_text.h"

enum { CURVE_POINTS = 60, UNIT_ROOM = 12 };

static bool is_sound(const fe_claim_curve_data *data)
{
    return data->low_hz > 0.0 && data->high_hz > data->low_hz && isfinite(data->high_hz) &&
           data->from_hz >= data->low_hz && data->from_hz <= data->high_hz &&
           data->to_hz >= data->low_hz && data->to_hz <= data->high_hz && data->claimed > 0.0 &&
           isfinite(data->claimed) && data->range_m >= 0.0 && isfinite(data->range_m);
}

/* Factors of range: antennas of equal gain, of equal size, and far beyond the break-point. */
static void add_curves(const fe_claim_curve_data *data, double scale, fe_figure *figure)
{
    figure_block_start(figure, "curves");
    for (int i = 0; i <= CURVE_POINTS; i++) {
        const double f_hz =
            data->low_hz * pow(data->high_hz / data->low_hz, (double)i / CURVE_POINTS);
        const double row[] = {f_hz / 1e9, scale * data->from_hz / f_hz,
                              scale * f_hz / data->from_hz, scale};
        figure_row(figure, row, 4);
    }
    figure_block_end(figure, 4);
}

static void say_range(fe_figure *figure, const fe_claim_curve_data *data, double factor,
                      fe_units units)
{
    if (data->range_m > 0.0)
        figure_say_amount(figure, factor * data->range_m, FE_STYLE_DISTANCE, units);
    else
        figure_say(figure, "%.2f times", factor);
}

static void say_all(const fe_claim_curve_data *data, fe_units units, fe_figure *figure)
{
    figure_say(figure, "At ");
    figure_say_amount(figure, data->from_hz, FE_STYLE_FREQUENCY, units);
    figure_say(figure, " the range is ");
    say_range(figure, data, 1.0, units);
    figure_say(figure, ". At ");
    figure_say_amount(figure, data->to_hz, FE_STYLE_FREQUENCY, units);
    figure_say(figure, " frequency alone gives ");
    say_range(figure, data, data->from_hz / data->to_hz, units);
    figure_say(figure, " with antennas of equal gain, ");
    say_range(figure, data, data->to_hz / data->from_hz, units);
    figure_say(figure, " with antennas of equal size, ");
    say_range(figure, data, 1.0, units);
    figure_say(figure, " far beyond the break-point; claimed are ");
    say_range(figure, data, data->claimed, units);
    figure_say(figure, ".");
}

fe_status fe_figure_claim(const fe_claim_curve_data *data, fe_units units, fe_figure *figure)
{
    if (!is_sound(data))
        return FE_E_DOMAIN;
    const double most =
        fmax(data->claimed, fmax(data->from_hz / data->low_hz, data->high_hz / data->from_hz));
    fe_scale scale = {"", 1.0, 0.0, 1};
    if (data->range_m > 0.0)
        scale = fe_amount_scale(FE_STYLE_DISTANCE, most * data->range_m, units);
    const double one = data->range_m > 0.0 ? scale.factor * data->range_m : 1.0;
    figure_start(figure, "claim", data->id, data->title, FIGURE_WIDTH, 400);
    figure_text(figure, "range_unit", data->range_m > 0.0 ? scale.unit : "factor", UNIT_ROOM);
    figure_number(figure, "range_top", 1.12 * one * most);
    figure_number(figure, "low", data->low_hz / 1e9);
    figure_number(figure, "high", data->high_hz / 1e9);
    figure_number(figure, "claim_right",
                  data->to_hz > sqrt(data->low_hz * data->high_hz) ? 1.0 : 0.0);
    figure_number(figure, "known_at", data->from_hz / 1e9);
    figure_number(figure, "known_range", one);
    figure_number(figure, "claim_at", data->to_hz / 1e9);
    figure_number(figure, "claim_range", one * data->claimed);
    figure_block_start(figure, "marks");
    const double known[] = {data->from_hz / 1e9, one};
    const double claimed[] = {data->to_hz / 1e9, one * data->claimed};
    figure_row(figure, known, 2);
    figure_row(figure, claimed, 2);
    figure_block_end(figure, 2);
    add_curves(data, one, figure);
    say_all(data, units, figure);
    return figure_end(figure);
}
