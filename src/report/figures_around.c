/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figure of the land about one end: steps of margin in one hue, with labelled contours. */
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "farend/figures.h"
#include "report/figure_text.h"

/* Squares across the picture, steps of colour (as many as the palette has), room for names. */
enum {
    SIDE = 100,
    BANDS = 7,
    LEVELS = BANDS - 1,
    NAME_ROOM = 24,
    UNIT_ROOM = 12,
    HEIGHT = 606
};

typedef struct picture {
    double mean_db[SIDE][SIDE]; /* from the south-west; NAN: none there */
    double place[SIDE];         /* of the squares' middles, in the shown unit */
    double half;                /* of a square */
    double level_db[LEVELS];
    size_t level_count;
    double step_db;
} picture;

/* What an antenna under the snow counts for, where nothing works at all. */
static const double LOWEST_DB = -200.0;

/* ---- Squares ---- */

static bool is_sound(const fe_around_data *data)
{
    const double area = data->east_m[0] * data->north_m[1] - data->east_m[1] * data->north_m[0];
    return data->columns >= 2 && data->rows >= 2 && data->radius_m > 0.0 &&
           isfinite(data->radius_m) && isfinite(data->column) && isfinite(data->row) &&
           isfinite(area) && area != 0.0;
}

/* Square of a distance from the middle; outside of 0 to SIDE - 1 there is none. */
static double square_of(const fe_around_data *data, double way_m)
{
    return floor((way_m / data->radius_m + 1.0) / 2.0 * SIDE);
}

static void add_means(const fe_around_data *data, picture *drawn)
{
    double count[SIDE][SIDE] = {{0.0}};
    for (size_t i = 0; i < data->columns * data->rows; i++) {
        if (isnan(data->margin_db[i]))
            continue;
        const double x = (double)(i % data->columns) - data->column;
        const double y = (double)(i / data->columns) - data->row;
        const double east = square_of(data, x * data->east_m[0] + y * data->east_m[1]);
        const double north = square_of(data, x * data->north_m[0] + y * data->north_m[1]);
        if (!(east >= 0.0) || !(north >= 0.0) || east >= SIDE || north >= SIDE)
            continue;
        const size_t column = (size_t)east;
        const size_t row = (size_t)north;
        drawn->mean_db[row][column] += fmax(LOWEST_DB, (double)data->margin_db[i]);
        count[row][column]++;
    }
    for (size_t row = 0; row < SIDE; row++)
        for (size_t column = 0; column < SIDE; column++)
            drawn->mean_db[row][column] = count[row][column] > 0.0
                                              ? drawn->mean_db[row][column] / count[row][column]
                                              : (double)NAN;
}

/* Cells wider than the squares leave some empty: each takes its cell's value. */
static void fill_between(const fe_around_data *data, picture *drawn)
{
    const double area = data->east_m[0] * data->north_m[1] - data->east_m[1] * data->north_m[0];
    for (size_t row = 0; row < SIDE; row++)
        for (size_t column = 0; column < SIDE; column++) {
            const double east = (2.0 * ((double)column + 0.5) / SIDE - 1.0) * data->radius_m;
            const double north = (2.0 * ((double)row + 0.5) / SIDE - 1.0) * data->radius_m;
            const double x = (data->north_m[1] * east - data->east_m[1] * north) / area;
            const double y = (data->east_m[0] * north - data->north_m[0] * east) / area;
            const double at_column = floor(x + data->column + 0.5);
            const double at_row = floor(y + data->row + 0.5);
            if (!isnan(drawn->mean_db[row][column]) || !(at_column >= 0.0) ||
                !(at_row >= 0.0) || at_column >= (double)data->columns ||
                at_row >= (double)data->rows)
                continue;
            const float value =
                data->margin_db[(size_t)at_row * data->columns + (size_t)at_column];
            if (!isnan(value))
                drawn->mean_db[row][column] = fmax(LOWEST_DB, (double)value);
        }
}

/* ---- Levels ---- */

static int by_size(const void *a, const void *b)
{
    const double first = *(const double *)a;
    const double second = *(const double *)b;
    return (first > second) - (first < second);
}

/* Round levels between what nearly all squares exceed and what hardly any does. */
static bool choose_levels(picture *drawn)
{
    static const double STEPS_DB[] = {2.0, 5.0, 10.0, 20.0, 50.0};
    double sorted[SIDE * SIDE];
    size_t count = 0;
    for (size_t i = 0; i < SIDE * SIDE; i++)
        if (!isnan(drawn->mean_db[i / SIDE][i % SIDE]))
            sorted[count++] = drawn->mean_db[i / SIDE][i % SIDE];
    if (count == 0)
        return false;
    qsort(sorted, count, sizeof *sorted, by_size);
    const double low_db = sorted[count / 50];
    const double high_db = sorted[count - 1 - count / 50];
    for (size_t i = 0; i < sizeof STEPS_DB / sizeof STEPS_DB[0]; i++) {
        drawn->step_db = STEPS_DB[i];
        const double first = ceil(low_db / STEPS_DB[i]);
        const double last = floor(high_db / STEPS_DB[i]);
        drawn->level_count = 0;
        if (last - first + 1.0 > LEVELS)
            continue;
        for (double level = first; level <= last; level++)
            drawn->level_db[drawn->level_count++] = level * STEPS_DB[i];
        return true;
    }
    return true;
}

/* ---- Shades and contours ---- */

/* How far from one square towards the next a level is crossed. */
static double crossing(double from_db, double to_db, double level_db)
{
    const double share = (level_db - from_db) / (to_db - from_db);
    return share < 0.0 ? 0.0 : share > 1.0 ? 1.0 : share;
}

/* Stretches of a row at or above a level; the ends lie where the level is crossed. */
static void add_stretches(const picture *drawn, size_t row, double level_db, fe_figure *figure)
{
    const double *values = drawn->mean_db[row];
    const double side = 2.0 * drawn->half;
    for (size_t i = 0; i < SIDE; i++) {
        if (!(values[i] >= level_db))
            continue;
        size_t last = i;
        while (last + 1 < SIDE && values[last + 1] >= level_db)
            last++;
        double from = drawn->place[i] - drawn->half;
        double to = drawn->place[last] + drawn->half;
        if (i > 0 && !isnan(values[i - 1]))
            from = drawn->place[i - 1] + side * crossing(values[i - 1], values[i], level_db);
        if (last + 1 < SIDE && !isnan(values[last + 1]))
            to = drawn->place[last] + side * crossing(values[last], values[last + 1], level_db);
        /* Rows overlap a little: two edges side by side would let the paper show through. */
        const double shown[] = {from, to, drawn->place[row] - 1.1 * drawn->half,
                                drawn->place[row] + 1.1 * drawn->half};
        figure_row(figure, shown, 4);
        i = last;
    }
}

static void add_bands(const picture *drawn, fe_figure *figure)
{
    for (size_t band = 0; band < BANDS; band++) {
        figure_numbered_block_start(figure, "band", band + 1);
        for (size_t row = 0; row < SIDE && band <= drawn->level_count; row++)
            add_stretches(drawn, row, band > 0 ? drawn->level_db[band - 1] : -INFINITY, figure);
        figure_block_end(figure, 4);
    }
}

typedef struct point {
    double x;
    double y;
} point;

/* Where a level crosses the edge between two squares' middles; false where it does not. */
static bool cross_edge(const picture *drawn, size_t row1, size_t column1, size_t row2,
                       size_t column2, double level_db, point *at)
{
    const double first = drawn->mean_db[row1][column1];
    const double second = drawn->mean_db[row2][column2];
    if (isnan(first) || isnan(second) || (first >= level_db) == (second >= level_db))
        return false;
    const double share = crossing(first, second, level_db);
    *at =
        (point){drawn->place[column1] + share * (drawn->place[column2] - drawn->place[column1]),
                drawn->place[row1] + share * (drawn->place[row2] - drawn->place[row1])};
    return true;
}

/* The pieces of a contour between four squares' middles; returns how many of up to two. */
static size_t pieces_in(const picture *drawn, size_t row, size_t column, double level_db,
                        point ends[4])
{
    size_t count = 0;
    count += cross_edge(drawn, row, column, row, column + 1, level_db, &ends[count]);
    count += cross_edge(drawn, row, column + 1, row + 1, column + 1, level_db, &ends[count]);
    count += cross_edge(drawn, row + 1, column + 1, row + 1, column, level_db, &ends[count]);
    count += cross_edge(drawn, row + 1, column, row, column, level_db, &ends[count]);
    return count / 2;
}

static void add_contours(const picture *drawn, bool zero, fe_figure *figure)
{
    figure_block_start(figure, zero ? "zero" : "contours");
    for (size_t i = 0; i < drawn->level_count; i++)
        for (size_t at = 0; at < (SIDE - 1) * (SIDE - 1); at++) {
            point ends[4];
            if ((drawn->level_db[i] == 0.0) != zero)
                continue;
            const size_t count =
                pieces_in(drawn, at / (SIDE - 1), at % (SIDE - 1), drawn->level_db[i], ends);
            for (size_t k = 0; k < count; k++) {
                const point *piece = &ends[2 * k];
                const double shown[] = {piece[0].x, piece[0].y, piece[1].x - piece[0].x,
                                        piece[1].y - piece[0].y};
                figure_row(figure, shown, 4);
            }
        }
    figure_block_end(figure, 4);
}

/* ---- Labels ---- */

enum { MOST_LABELS = 2 * LEVELS };

/* How much nearer a label may stand to the next where it covers no other contour. */
static const double CROWDED = 2.5;

/* True where another level would run through a label that stands on these squares. */
static bool is_crowded(const picture *drawn, size_t row, size_t column)
{
    enum { WIDE = 6, HIGH = 2 };
    double least = INFINITY;
    double most = -INFINITY;
    for (size_t y = row - HIGH; y <= row + HIGH; y++)
        for (size_t x = column - WIDE; x <= column + WIDE; x++) {
            least = fmin(least, drawn->mean_db[y][x]);
            most = fmax(most, drawn->mean_db[y][x]);
        }
    return floor(most / drawn->step_db) - floor(least / drawn->step_db) > 1.0;
}

/* The point of a contour farthest from the labels so far and the middle, where no other contour
 * is near if there is such a point. */
static bool find_spot(const picture *drawn, double level_db, const point *placed, size_t count,
                      point *spot)
{
    double best = 0.0;
    for (size_t at = 0; at < (SIDE - 1) * (SIDE - 1); at++) {
        point ends[4];
        const size_t row = at / (SIDE - 1);
        const size_t column = at % (SIDE - 1);
        if (row < SIDE / 12 || row > SIDE - SIDE / 12 || column < SIDE / 12 ||
            column > SIDE - SIDE / 12 || pieces_in(drawn, row, column, level_db, ends) == 0)
            continue;
        double apart = hypot(ends[0].x, ends[0].y);
        for (size_t i = 0; i < count; i++)
            apart = fmin(apart, hypot(ends[0].x - placed[i].x, ends[0].y - placed[i].y));
        if (is_crowded(drawn, row, column))
            apart /= CROWDED;
        if (apart > best) {
            best = apart;
            *spot = ends[0];
        }
    }
    /* Nearer than a seventh of the picture's half two labels would touch. */
    return best > drawn->half * SIDE / 7.0;
}

static void add_labels(const picture *drawn, fe_figure *figure)
{
    point placed[MOST_LABELS];
    size_t count = 0;
    figure_block_start(figure, "labels");
    for (int turn = 0; turn < 2; turn++)
        for (size_t i = 0; i < drawn->level_count; i++) {
            if (!find_spot(drawn, drawn->level_db[i], placed, count, &placed[count]))
                continue;
            const double shown[] = {placed[count].x, placed[count].y, drawn->level_db[i]};
            figure_row(figure, shown, 3);
            count++;
        }
    figure_block_end(figure, 3);
}

static void band_name(const picture *drawn, size_t band, fe_strbuf *name)
{
    const double *level = drawn->level_db;
    if (drawn->level_count == 0)
        fe_strbuf_append(name, "all within one step");
    else if (band == 0)
        fe_strbuf_format(name, "below %.0f dB", level[0]);
    else if (band == drawn->level_count)
        fe_strbuf_format(name, "%.0f dB and more", level[band - 1]);
    else
        fe_strbuf_format(name, "%.0f to %.0f dB", level[band - 1], level[band]);
}

static double share_of_band(const picture *drawn, size_t band)
{
    size_t in = 0;
    size_t all = 0;
    for (size_t i = 0; i < SIDE * SIDE; i++) {
        const double value = drawn->mean_db[i / SIDE][i % SIDE];
        if (isnan(value))
            continue;
        all++;
        in += (band == 0 || value >= drawn->level_db[band - 1]) &&
              (band == drawn->level_count || value < drawn->level_db[band]);
    }
    return (double)in / (double)all;
}

static void add_names(const fe_around_data *data, const picture *drawn, fe_units units,
                      fe_figure *figure)
{
    figure_say(figure, "Margin in the worst season within ");
    figure_say_amount(figure, data->radius_m, FE_STYLE_DISTANCE, units);
    figure_say(figure, " of %s: ", data->end_name);
    figure_array_start(figure, "band_name", BANDS);
    for (size_t band = 0; band < BANDS; band++) {
        fe_strbuf name = FE_STRBUF_INIT;
        if (band <= drawn->level_count) {
            band_name(drawn, band, &name);
            figure_say(figure, "%s%s on ", band > 0 ? ", " : "", fe_strbuf_text(&name));
            figure_say_amount(figure, share_of_band(drawn, band), FE_STYLE_PERCENT, units);
        }
        figure_array_take(figure, band, &name, NAME_ROOM);
    }
    figure_array_end(figure);
    figure_say(figure, " of the land.");
}

fe_status fe_figure_around(const fe_around_data *data, fe_units units, fe_figure *figure)
{
    if (!is_sound(data))
        return FE_E_DOMAIN;
    picture *drawn = calloc(1, sizeof *drawn);
    if (!drawn)
        return FE_E_MEMORY;
    const fe_scale scale = fe_amount_scale(FE_STYLE_DISTANCE, data->radius_m, units);
    const double half_width = scale.factor * data->radius_m;
    drawn->half = half_width / SIDE;
    for (size_t i = 0; i < SIDE; i++)
        drawn->place[i] = (2.0 * ((double)i + 0.5) / SIDE - 1.0) * half_width;
    add_means(data, drawn);
    fill_between(data, drawn);
    if (!choose_levels(drawn)) {
        free(drawn);
        return FE_E_DOMAIN;
    }
    figure_start(figure, "around", data->id, data->title, FIGURE_WIDTH, HEIGHT);
    figure_number(figure, "far", half_width);
    figure_text(figure, "unit", scale.unit, UNIT_ROOM);
    figure_text(figure, "end_name", data->end_name, NAME_ROOM);
    figure_number(figure, "bands", (double)drawn->level_count + 1.0);
    add_names(data, drawn, units, figure);
    add_bands(drawn, figure);
    add_contours(drawn, false, figure);
    add_contours(drawn, true, figure);
    add_labels(drawn, figure);
    free(drawn);
    return figure_end(figure);
}
