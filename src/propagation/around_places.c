/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/around_places.h"

#include <math.h>
#include <stdlib.h>

static size_t cell_count(const fe_around_land *land)
{
    return land->columns * land->rows;
}

static bool holds(const fe_around_chances *map, size_t cell)
{
    return (double)map->chance[cell] >= map->confidence; /* not where it is NAN */
}

static fe_around_place place_of(const fe_around_land *land, size_t cell)
{
    const double x = (double)(cell % land->columns) - land->column;
    const double y = (double)(cell / land->columns) - land->row;
    return (fe_around_place){cell, x * land->east_m[0] + y * land->east_m[1],
                             x * land->north_m[0] + y * land->north_m[1]};
}

static double cell_area_m2(const fe_around_land *land)
{
    return fabs(land->east_m[0] * land->north_m[1] - land->east_m[1] * land->north_m[0]);
}

bool fe_around_cell(const fe_around_land *land, double east_m, double north_m, size_t *cell)
{
    const double turn = land->east_m[0] * land->north_m[1] - land->east_m[1] * land->north_m[0];
    const double x = (east_m * land->north_m[1] - north_m * land->east_m[1]) / turn;
    const double y = (north_m * land->east_m[0] - east_m * land->north_m[0]) / turn;
    const double column = floor(land->column + x + 0.5);
    const double row = floor(land->row + y + 0.5);
    if (!(column >= 0.0) || !(row >= 0.0) || column >= (double)land->columns ||
        row >= (double)land->rows)
        return false;
    *cell = (size_t)row * land->columns + (size_t)column;
    return true;
}

double fe_around_reach(const fe_around_chances *map, double azimuth_rad, bool *to_the_rim)
{
    const double step_m = fe_around_step(map->land) / 2.0;
    double reach_m = 0.0;
    *to_the_rim = false;
    for (double at_m = FE_AROUND_LEAST_M + 2.0 * step_m; at_m <= map->radius_m;
         at_m += step_m) {
        size_t cell = 0;
        if (!fe_around_cell(map->land, at_m * sin(azimuth_rad), at_m * cos(azimuth_rad), &cell))
            break; /* the raster ends before the radius */
        /* The middle of the cell may lie beyond the radius, where there is no answer. */
        const fe_around_place middle = place_of(map->land, cell);
        if (hypot(middle.east_m, middle.north_m) > map->radius_m)
            break;
        if (!holds(map, cell))
            return reach_m;
        reach_m = at_m;
    }
    *to_the_rim = true;
    return reach_m;
}

bool fe_around_nearest(const fe_around_chances *map, double east_m, double north_m,
                       fe_around_place *nearest)
{
    double least_m = INFINITY;
    for (size_t i = 0; i < cell_count(map->land); i++) {
        if (!holds(map, i))
            continue;
        const fe_around_place here = place_of(map->land, i);
        const double away_m = hypot(here.east_m - east_m, here.north_m - north_m);
        if (away_m < least_m) {
            least_m = away_m;
            *nearest = here;
        }
    }
    return isfinite(least_m);
}

/* ---- Areas ---- */

/* Cells still to be looked at, each put in once. */
typedef struct search {
    const fe_around_chances *map;
    size_t *queue;
    unsigned char *state;
} search;

enum { FRESH, SEEN, INNER };

/* The neighbours by a side; returns how many there are. */
static size_t sides_of(const fe_around_land *land, size_t cell, size_t sides[4])
{
    const size_t column = cell % land->columns;
    const size_t row = cell / land->columns;
    size_t count = 0;
    if (column > 0)
        sides[count++] = cell - 1;
    if (column + 1 < land->columns)
        sides[count++] = cell + 1;
    if (row > 0)
        sides[count++] = cell - land->columns;
    if (row + 1 < land->rows)
        sides[count++] = cell + land->columns;
    return count;
}

/* All cells of the area that holds one cell, into the queue; returns how many. */
static size_t flood(search *s, size_t first)
{
    size_t count = 0;
    s->queue[count++] = first;
    s->state[first] = SEEN;
    for (size_t at = 0; at < count; at++) {
        size_t sides[4];
        const size_t side_count = sides_of(s->map->land, s->queue[at], sides);
        for (size_t k = 0; k < side_count; k++)
            if (s->state[sides[k]] == FRESH && holds(s->map, sides[k])) {
                s->state[sides[k]] = SEEN;
                s->queue[count++] = sides[k];
            }
    }
    return count;
}

/* At the rim of its area: a side of it is the map's edge or a cell that does not hold. */
static bool is_rim(const search *s, size_t cell)
{
    size_t sides[4];
    const size_t count = sides_of(s->map->land, cell, sides);
    for (size_t k = 0; k < count; k++)
        if (!holds(s->map, sides[k]))
            return true;
    return count < 4;
}

/*
 * From the rim inwards, side by side: the cell that is reached last. The area's cells are the
 * first in the queue; behind them is room for as many again.
 */
static size_t find_middle(search *s, size_t count)
{
    size_t *inner = s->queue + count;
    size_t put = 0;
    for (size_t i = 0; i < count; i++)
        if (is_rim(s, s->queue[i])) {
            s->state[s->queue[i]] = INNER;
            inner[put++] = s->queue[i];
        }
    for (size_t at = 0; at < put; at++) {
        size_t sides[4];
        const size_t side_count = sides_of(s->map->land, inner[at], sides);
        for (size_t k = 0; k < side_count; k++)
            if (s->state[sides[k]] == SEEN && holds(s->map, sides[k])) {
                s->state[sides[k]] = INNER;
                inner[put++] = sides[k];
            }
    }
    return inner[put - 1];
}

/* Two cells from the end, or as near as cells are computed. */
static bool touches_end(const search *s, size_t count)
{
    const double near_m = FE_AROUND_LEAST_M + 2.0 * fe_around_step(s->map->land);
    for (size_t i = 0; i < count; i++) {
        const fe_around_place here = place_of(s->map->land, s->queue[i]);
        if (hypot(here.east_m, here.north_m) <= near_m)
            return true;
    }
    return false;
}

static void keep_large(const fe_around_area *found, fe_around_area *areas, size_t room,
                       size_t *count)
{
    if (*count == room && (room == 0 || areas[room - 1].area_m2 >= found->area_m2))
        return;
    size_t at = *count < room ? (*count)++ : room - 1;
    for (; at > 0 && areas[at - 1].area_m2 < found->area_m2; at--)
        areas[at] = areas[at - 1];
    areas[at] = *found;
}

fe_status fe_around_areas(const fe_around_chances *map, fe_around_area *areas, size_t room,
                          size_t *count)
{
    const size_t cells = cell_count(map->land);
    search s = {map, malloc(2 * cells * sizeof *s.queue), calloc(cells, 1)};
    const bool good = s.queue && s.state;
    size_t put = 0;
    for (size_t i = 0; good && i < cells; i++) {
        if (s.state[i] != FRESH || !holds(map, i))
            continue;
        const size_t own = flood(&s, i);
        fe_around_area found = {.area_m2 = (double)own * cell_area_m2(map->land),
                                .around_end = touches_end(&s, own)};
        found.middle = place_of(map->land, find_middle(&s, own));
        keep_large(&found, areas, room, &put);
    }
    free(s.queue);
    free(s.state);
    if (good)
        *count = put;
    return good ? FE_OK : FE_E_MEMORY;
}
