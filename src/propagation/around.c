/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/around.h"

#include <math.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

#include "farend/constants.h"
#include "farend/diffraction.h"
#include "farend/ground_ray.h"
#include "farend/knife_edge.h"
#include "propagation/around_table.h"
#include "propagation/hop_parts.h"

enum {
    BLOCK = 16,
    MOST_THREADS = 16,
    MOST_SIDE = 20000,
    SAME_TOP = 2,
    MOST_LEVELS = 16,
    MOST_SEASONS = 64
};

/* The single path looks at its ground at least so often; see path_loss.c. */
static const double FINEST_STEP_M = 0.5;
static const double POINTS_WANTED = 600.0;

/* How near to a change of method the cell's own profile is looked at. */
static const double NEAR_BREAK_POINT = 0.03;
static const double NEAR_ANY_PHASE = 0.03;
static const double NEAR_CLEAR_V = 0.15;

/* ---- The land ---- */

static double cell_of(const fe_around_land *land, size_t column, size_t row)
{
    return (double)land->height_m[row * land->columns + column];
}

double fe_around_height(const fe_around_land *land, double column, double row)
{
    const double most_column = (double)(land->columns - 1);
    const double most_row = (double)(land->rows - 1);
    /* Half a cell about the middles of the outermost still belongs to them. */
    if (!(column >= -0.5) || !(row >= -0.5) || column > most_column + 0.5 ||
        row > most_row + 0.5)
        return NAN;
    const double x = fmin(fmax(column, 0.0), most_column);
    const double y = fmin(fmax(row, 0.0), most_row);
    const size_t left = x < most_column ? (size_t)x : land->columns - 2;
    const size_t top = y < most_row ? (size_t)y : land->rows - 2;
    const double across = x - (double)left;
    const double down = y - (double)top;
    const double upper = cell_of(land, left, top) +
                         across * (cell_of(land, left + 1, top) - cell_of(land, left, top));
    const double lower =
        cell_of(land, left, top + 1) +
        across * (cell_of(land, left + 1, top + 1) - cell_of(land, left, top + 1));
    return upper + down * (lower - upper);
}

/* Metres to cells, of a way from the first end. */
typedef struct to_cells {
    double column[2]; /* of a metre east, of a metre north */
    double row[2];
} to_cells;

static bool invert(const fe_around_land *land, to_cells *map)
{
    const double area = land->east_m[0] * land->north_m[1] - land->east_m[1] * land->north_m[0];
    if (!(fabs(area) > 0.0) || !isfinite(area))
        return false;
    *map = (to_cells){{land->north_m[1] / area, -land->east_m[1] / area},
                      {-land->north_m[0] / area, land->east_m[0] / area}};
    return true;
}

static double cell_step(const fe_around_land *land)
{
    return fmin(hypot(land->east_m[0], land->north_m[0]),
                hypot(land->east_m[1], land->north_m[1]));
}

/* ---- Cells by their rays ---- */

typedef struct cell {
    double distance_m;
    size_t index;
} cell;

typedef struct job {
    const fe_around *in;
    around_table table;
    to_cells map;
    double step_m;   /* along a ray */
    double height_m; /* of the ground at the first end */
    size_t ray_count;
    cell *cells;       /* those of one ray follow each other */
    size_t *ray_start; /* ray_count + 1 */
    float *margin_db;
    float *chance;
    double clear_square; /* v^2 lambda / 2: clear where excess^2 d / (x y) is above it */
    fe_diffraction_wave wave;
} job;

/* East and north of a cell; false where nothing is computed for it. */
static bool place_of(const job *work, size_t column, size_t row, double *east, double *north)
{
    const fe_around_land *land = &work->in->land;
    const double x = (double)column - land->column;
    const double y = (double)row - land->row;
    *east = x * land->east_m[0] + y * land->east_m[1];
    *north = x * land->north_m[0] + y * land->north_m[1];
    const double distance_m = hypot(*east, *north);
    return distance_m >= FE_AROUND_LEAST_M && distance_m <= work->in->radius_m &&
           isfinite(cell_of(land, column, row));
}

static size_t ray_of(const job *work, double east, double north)
{
    const double turn = atan2(east, north) / (2.0 * FE_PI) + 1.0;
    return (size_t)(turn * (double)work->ray_count + 0.5) % work->ray_count;
}

/* Once to count the cells of each ray, once to put them into their places. */
static void visit_cells(job *work, size_t *next, bool put)
{
    const fe_around_land *land = &work->in->land;
    for (size_t row = 0; row < land->rows; row++)
        for (size_t column = 0; column < land->columns; column++) {
            double east = 0.0;
            double north = 0.0;
            if (!place_of(work, column, row, &east, &north))
                continue;
            const size_t at = next[ray_of(work, east, north)]++;
            if (put)
                work->cells[at] = (cell){hypot(east, north), row * land->columns + column};
        }
}

static fe_status sort_cells(job *work)
{
    size_t *next = calloc(work->ray_count, sizeof *next);
    work->ray_start = calloc(work->ray_count + 1, sizeof *work->ray_start);
    if (!next || !work->ray_start) {
        free(next);
        return FE_E_MEMORY;
    }
    visit_cells(work, next, false);
    for (size_t ray = 0; ray < work->ray_count; ray++) {
        work->ray_start[ray + 1] = work->ray_start[ray] + next[ray];
        next[ray] = work->ray_start[ray];
    }
    work->cells = calloc(work->ray_start[work->ray_count] + 1, sizeof *work->cells);
    if (work->cells)
        visit_cells(work, next, true);
    free(next);
    return work->cells ? FE_OK : FE_E_MEMORY;
}

static int by_distance(const void *a, const void *b)
{
    const double first_m = ((const cell *)a)->distance_m;
    const double second_m = ((const cell *)b)->distance_m;
    return (first_m > second_m) - (first_m < second_m);
}

/* ---- Walking a ray ---- */

/* Points of a block lie under height + slope d. */
typedef struct block {
    double slope;
    double height;
} block;

/* What runs along a ray for one height of the snow. */
typedef struct running {
    double slope1; /* from the first antenna to points so far, over z */
    size_t at1;    /* where */
    double bare1;  /* the same over bare ground */
} running;

/* Points of a ray so far; point 0 is the first end. */
typedef struct walk {
    const job *work;
    double towards[2]; /* east and north of a metre */
    double next_m;     /* distance of the point to come */
    size_t count;
    size_t room;
    double *d;      /* from the first end */
    double *bare;   /* heights over that of the first end */
    double *z;      /* less d^2 / (2 ae): the bulge then is in the heights */
    double *area;   /* prefix sums: twice the area, six times its moment */
    double *moment; /* about the first end */
    block *blocks;
    size_t *hull; /* upper hull of z, and of the bare heights */
    size_t hull_count;
    size_t *bare_hull;
    size_t bare_hull_count;
    running *running; /* one a height of the snow */
    size_t near;      /* the last point that entered a zone: the next one's first guess */
    double *fine_d;   /* a cell's own profile */
    double *fine_h;
    size_t fine_room;
    size_t fine_index; /* of the cell whose profile it is, SIZE_MAX: none */
    size_t fine_count;
    fe_status status;
    size_t holds;
    size_t profiles;
} walk;

static void walk_free(walk *w)
{
    free(w->d); /* one piece holds the five arrays of the points */
    free(w->blocks);
    free(w->hull);
    free(w->bare_hull);
    free(w->running);
    free(w->fine_d);
    free(w->fine_h);
}

static bool walk_make(const job *work, walk *w)
{
    *w = (walk){.work = work};
    w->room = (size_t)(work->in->radius_m / work->step_m) + 4;
    w->fine_room = w->room + (size_t)(4.0 * fmax(POINTS_WANTED, 2.0 * (double)w->room)) + 8;
    w->d = calloc(5 * w->room, sizeof *w->d);
    w->blocks = calloc(w->room / BLOCK + 1, sizeof *w->blocks);
    w->hull = calloc(w->room, sizeof *w->hull);
    w->bare_hull = calloc(w->room, sizeof *w->bare_hull);
    w->running = calloc(work->table.rise_count, sizeof *w->running);
    w->fine_d = calloc(w->fine_room, sizeof *w->fine_d);
    w->fine_h = calloc(w->fine_room, sizeof *w->fine_h);
    if (!w->d || !w->blocks || !w->hull || !w->bare_hull || !w->running || !w->fine_d ||
        !w->fine_h) {
        walk_free(w);
        return false;
    }
    w->bare = w->d + w->room;
    w->z = w->bare + w->room;
    w->area = w->z + w->room;
    w->moment = w->area + w->room;
    return true;
}

static void walk_start(walk *w, size_t ray)
{
    const double turn = 2.0 * FE_PI * (double)ray / (double)w->work->ray_count;
    w->towards[0] = sin(turn);
    w->towards[1] = cos(turn);
    w->next_m = w->work->step_m;
    w->count = 1;
    w->d[0] = w->bare[0] = w->z[0] = w->area[0] = w->moment[0] = 0.0;
    w->hull_count = w->bare_hull_count = 0;
    w->near = 0;
    w->fine_index = SIZE_MAX;
    for (size_t r = 0; r < w->work->table.rise_count; r++)
        w->running[r] = (running){-INFINITY, 0, -INFINITY};
}

/* Adds the last point to an upper hull; returns how many are on it. */
static size_t push_hull(const walk *w, const double *height, size_t *hull, size_t count)
{
    const size_t k = w->count - 1;
    while (count >= 2) {
        const size_t a = hull[count - 2];
        const size_t b = hull[count - 1];
        const double turn = (height[b] - height[a]) * (w->d[k] - w->d[b]) -
                            (height[k] - height[b]) * (w->d[b] - w->d[a]);
        if (turn > 0.0)
            break;
        count--;
    }
    hull[count] = k;
    return count + 1;
}

/* A line over the points of the block that the last point has filled, along its chord. */
static void close_block(walk *w)
{
    const size_t last = w->count - 1;
    if (w->count % BLOCK != 0)
        return;
    const size_t from = w->count - BLOCK;
    block b = {(w->z[last] - w->z[from]) / (w->d[last] - w->d[from]), -INFINITY};
    for (size_t k = from; k <= last; k++)
        b.height = fmax(b.height, w->z[k] - b.slope * w->d[k]);
    w->blocks[from / BLOCK] = b;
}

static double first_antenna(const walk *w, size_t level)
{
    return w->work->in->hop->ends[0].height_m - w->work->table.rises_m[level];
}

/* Area and moment of a trapezium, as the source of the fit sums them. */
static double area_between(const walk *w, size_t k, double d, double h)
{
    return (d - w->d[k]) * (h + w->bare[k]);
}

static double moment_between(const walk *w, size_t k, double d, double h)
{
    return (d - w->d[k]) * (h * (2.0 * d + w->d[k]) + w->bare[k] * (d + 2.0 * w->d[k]));
}

static void add_point(walk *w, double d, double h)
{
    const size_t k = w->count++;
    w->d[k] = d;
    w->bare[k] = h;
    w->z[k] = h - d * d / (2.0 * w->work->table.ae_m);
    w->area[k] = w->area[k - 1] + area_between(w, k - 1, d, h);
    w->moment[k] = w->moment[k - 1] + moment_between(w, k - 1, d, h);
    for (size_t r = 0; r < w->work->table.rise_count; r++) {
        running *run = &w->running[r];
        const double slope = (w->z[k] - first_antenna(w, r)) / d;
        if (slope > run->slope1) {
            run->slope1 = slope;
            run->at1 = k;
        }
        run->bare1 = fmax(run->bare1, (h - first_antenna(w, r)) / d);
    }
    w->hull_count = push_hull(w, w->z, w->hull, w->hull_count);
    w->bare_hull_count = push_hull(w, w->bare, w->bare_hull, w->bare_hull_count);
    close_block(w);
}

/* Takes the points that lie before a distance; unknown heights are bridged straight. */
static void walk_to(walk *w, double distance_m)
{
    const fe_around_land *land = &w->work->in->land;
    const to_cells *map = &w->work->map;
    /* Very near to the cell the ray beside it would put a step where there is none. */
    const double until_m = distance_m - w->work->step_m / 2.0;
    while (w->next_m < until_m && w->count + 1 < w->room) {
        const double d = w->next_m;
        const double east = d * w->towards[0];
        const double north = d * w->towards[1];
        const double height_m = fe_around_height(
            land, land->column + map->column[0] * east + map->column[1] * north,
            land->row + map->row[0] * east + map->row[1] * north);
        if (isfinite(height_m))
            add_point(w, d, height_m - w->work->height_m);
        w->next_m += w->work->step_m;
    }
}

/* ---- One cell under one height of the snow ---- */

/* What the ground does between the two antennas, the snow at one height. */
typedef struct sight {
    double length;
    double inverse;
    double ground2; /* bare ground of the cell over that of the first end */
    double a1;      /* antennas over the same, lowered by the snow */
    double a2;
    double za2;
    double slope; /* of the line of sight over z */
    double v;     /* of the one edge in place of all obstacles */
    double actual_db;
    double h1; /* heights over the fitted surface */
    double h2;
    bool sharp; /* what most nearly enters or cuts the zone may be a sharp edge */
} sight;

/* The greatest slope from a point behind all others back over a hull, and where. */
static double tangent(const walk *w, const double *height, const size_t *hull, size_t count,
                      double d, double h, size_t *at)
{
    size_t low = 0;
    size_t high = count - 1;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const size_t a = hull[middle];
        const size_t b = hull[middle + 1];
        /* Further on while the next corner lies above the line to this one. */
        if ((height[b] - h) * (d - w->d[a]) > (height[a] - h) * (d - w->d[b]))
            low = middle + 1;
        else
            high = middle;
    }
    *at = hull[low];
    return (height[*at] - h) / (d - w->d[*at]);
}

/* Highest bare point over a line through the first antenna. */
static double highest_over(const walk *w, double a1, double slope)
{
    size_t low = 0;
    size_t high = w->bare_hull_count - 1;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const size_t a = w->bare_hull[middle];
        const size_t b = w->bare_hull[middle + 1];
        if (w->bare[b] - w->bare[a] > slope * (w->d[b] - w->d[a]))
            low = middle + 1;
        else
            high = middle;
    }
    const size_t top = w->bare_hull[low];
    return w->bare[top] - a1 - slope * w->d[top];
}

static void try_point(const walk *w, const sight *s, size_t k, double *square, size_t *near)
{
    const double x = w->d[k];
    const double excess = w->z[k] - (s->a1 + s->slope * x);
    const double product = x * (s->length - x);
    if (excess * excess < *square * product) {
        *square = excess * excess / product;
        *near = k;
    }
}

/* No point of a block that lies e under the line everywhere has less than e^2 over the largest
 * product of distances. */
static bool may_hold(const walk *w, const sight *s, size_t from, double square)
{
    const block *b = &w->blocks[from / BLOCK];
    const double low = w->d[from];
    const double high = w->d[from + BLOCK - 1];
    const double e = fmax(b->height + b->slope * low - (s->a1 + s->slope * low),
                          b->height + b->slope * high - (s->a1 + s->slope * high));
    const double middle = s->length / 2.0;
    const double at = middle < low ? low : middle > high ? high : middle;
    return e >= 0.0 || e * e < square * at * (s->length - at);
}

/* v of a cell in line of sight; p and q are the least slopes of its clearance. */
static double clear_v(walk *w, const sight *s, double p, double q)
{
    double square = w->work->clear_square * s->inverse;
    size_t near = 0;
    /* Every clearance is at least max(p x, q y), so at least sqrt(p q x y). */
    if (p * q >= square)
        return -INFINITY;
    if (w->near > 0)
        try_point(w, s, w->near, &square, &near);
    const size_t filled = w->count - w->count % BLOCK;
    for (size_t from = 0; from < filled; from += BLOCK)
        if (may_hold(w, s, from, square))
            for (size_t k = from > 0 ? from : 1; k < from + BLOCK; k++)
                try_point(w, s, k, &square, &near);
    for (size_t k = filled > 0 ? filled : 1; k < w->count; k++)
        try_point(w, s, k, &square, &near);
    if (near == 0)
        return -INFINITY;
    w->near = near;
    return -sqrt(2.0 * s->length / w->work->table.lambda_m * square);
}

/* J(v) and the whole of Bullington's part; ITU-R P.526-15 sec 4.1 eq 31, sec 4.5. */
static double bullington_loss(double v, double length_m)
{
    if (v <= FE_KNIFE_EDGE_CLEAR_V)
        return 0.0;
    const double w = v - 0.1;
    const double edge_db = 6.9 + 20.0 * log10(sqrt(w * w + 1.0) + w);
    return edge_db > 0.0 ? edge_db + (1.0 - exp(-edge_db / 6.0)) * (10.0 + 2e-5 * length_m)
                         : 0.0;
}

/* The fitted surface of the source; `bare` is the highest ground over the line, or 0. */
static void fit_surface(const walk *w, double bare, double rise1, double rise2, sight *s)
{
    const size_t last = w->count - 1;
    const double area = w->area[last] + area_between(w, last, s->length, s->ground2);
    const double moment = w->moment[last] + moment_between(w, last, s->length, s->ground2);
    const double square = s->inverse * s->inverse;
    double end1 = (2.0 * area * s->length - moment) * square;
    double end2 = (moment - area * s->length) * square;
    if (bare > 0.0) {
        end1 -= bare * rise1 / (rise1 + rise2);
        end2 -= bare * rise2 / (rise1 + rise2);
    }
    s->h1 = s->a1 - fmin(end1, 0.0);
    s->h2 = s->a2 - fmin(end2, s->ground2);
}

/* Height of a point of z under the straight line between two others, in first zones of that
 * line. */
static double clear_share(const walk *w, double d1, double z1, double d2, double z2, size_t k)
{
    const double x = w->d[k] - d1;
    const double y = d2 - w->d[k];
    const double under = (z1 * y + z2 * x) / (x + y) - w->z[k];
    return under / sqrt(w->work->table.lambda_m * fabs(x * y / (x + y)));
}

/*
 * False where the ground on one side of a point stays so near to the line from that end to it
 * that it can be no single edge, which wants 0.6 of that line's zone clear. The ray is not
 * quite the cell's own line and may cut the top flat, so less is asked, and of one of three
 * points.
 */
static bool is_sharp(const walk *w, const sight *s, size_t top)
{
    static const double LEAST_SHARE = 0.35;
    enum { LOOKED_AT = 3 };
    bool before = top < 2;
    bool behind = top + 1 >= w->count;
    for (size_t i = 1; i <= LOOKED_AT && i < top && !before; i++)
        before = clear_share(w, 0.0, s->a1, w->d[top], w->z[top], top - i) > LEAST_SHARE;
    for (size_t i = 1; i <= LOOKED_AT && top + i < w->count && !behind; i++)
        behind = clear_share(w, w->d[top], w->z[top], s->length, s->za2, top + i) > LEAST_SHARE;
    return before && behind;
}

static void look_along(walk *w, size_t level, sight *s)
{
    const running *run = &w->running[level];
    size_t at2 = 0;
    double bare = 0.0;
    double bare1 = 0.0;
    double bare2 = 0.0;
    s->v = -INFINITY;
    s->sharp = false;
    if (w->count > 1) {
        const double over1 = run->slope1 - s->slope;
        const double over2 =
            tangent(w, w->z, w->hull, w->hull_count, s->length, s->za2, &at2) + s->slope;
        if (over1 < 0.0) {
            s->v = clear_v(w, s, -over1, -over2);
            s->sharp = s->v > -INFINITY && is_sharp(w, s, w->near);
        } else {
            const double line = (s->a2 - s->a1) * s->inverse;
            s->v = sqrt(2.0 * s->length / w->work->table.lambda_m * over1 * fmax(over2, 0.0));
            s->sharp = run->at1 <= at2 + SAME_TOP && at2 <= run->at1 + SAME_TOP &&
                       (is_sharp(w, s, run->at1) || is_sharp(w, s, at2));
            bare1 = run->bare1 - line;
            bare2 =
                tangent(w, w->bare, w->bare_hull, w->bare_hull_count, s->length, s->a2, &at2) +
                line;
            if (bare1 > 0.0 && bare2 > 0.0)
                bare = highest_over(w, s->a1, line);
        }
    }
    fit_surface(w, bare, bare1, bare2, s);
    s->actual_db = bullington_loss(s->v, s->length);
}

/*
 * What the smooth earth's own edge leaves of the round earth. On smooth ground the point that
 * most nearly enters the zone divides the way as the heights do; within the limit of this
 * module the horizon is far off and the bulge does not move it.
 */
static fe_status round_earth(const job *work, const sight *s, double *sphere_db,
                             double *smooth_db)
{
    const double root = sqrt(s->h1 * s->h2);
    const double curvature = 0.5 / work->table.ae_m;
    const double excess =
        curvature * s->length * root / (s->h1 + s->h2) - 2.0 * root * s->inverse;
    *smooth_db =
        bullington_loss(excess * sqrt(2.0 * s->length / work->table.lambda_m), s->length);
    *sphere_db = 0.0;
    /* Clear of the round earth by 0.552 of the zone everywhere: h1 y + h2 x is at least
     * 2 sqrt(h1 h2 x y). */
    const double sag_m = curvature * s->length * s->length;
    if (2.0 * root - 0.5 * sag_m > 0.552 * sqrt(work->table.lambda_m * s->length))
        return FE_OK;
    fe_spherical_earth sphere;
    const fe_status status =
        fe_spherical_earth_loss(s->length, s->h1, s->h2, &work->wave, &sphere);
    if (status >= 0)
        *sphere_db = sphere.loss_db;
    return status;
}

/* ---- One cell in one season ---- */

/* Loss beyond free space and how it is spread, as path_loss.c joins it. */
typedef struct ground_loss {
    fe_ground_method method;
    double loss_db;
    double sigma_db;
} ground_loss;

/* Parts that seasons of equal snow share. */
typedef struct level_loss {
    sight sight;
    fe_ground_method method;
    double obstacle_db; /* EDGE, DELTA_BULLINGTON */
    double sphere_db;
    double smooth_db;
    bool own_profile;
} level_loss;

/*
 * The straight profile to a cell, sampled and refined as the single path has it: heights over
 * that of the first end. Seasons share it.
 */
static void own_profile(walk *w, const cell *at)
{
    if (w->fine_index == at->index)
        return;
    const fe_around_land *land = &w->work->in->land;
    const double columns = (double)(at->index % land->columns) - land->column;
    const double rows = (double)(at->index / land->columns) - land->row;
    const double pieces = fmax(1.0, ceil(at->distance_m / w->work->step_m - 1e-6));
    const double piece_m = at->distance_m / pieces;
    const double wanted_m = fmax(FINEST_STEP_M, at->distance_m / POINTS_WANTED);
    const double parts = fmax(1.0, ceil(piece_m / wanted_m - 1e-9));
    double before = 0.0;
    double before_m = 0.0;
    size_t count = 1;
    w->fine_d[0] = w->fine_h[0] = 0.0;
    for (double i = 1.0; i <= pieces; i++) {
        const double share = i / pieces;
        const double height_m =
            fe_around_height(land, land->column + share * columns, land->row + share * rows) -
            w->work->height_m;
        if (!isfinite(height_m)) /* bridged by the next that is known; the cell itself is */
            continue;
        const double new_parts = parts * (i - before);
        for (double part = 1.0; part <= new_parts && count < w->fine_room; part++, count++) {
            w->fine_d[count] = piece_m * (before + (i - before) * part / new_parts);
            w->fine_h[count] = before_m + (height_m - before_m) * part / new_parts;
        }
        before = i;
        before_m = height_m;
    }
    w->fine_index = at->index;
    w->fine_count = count;
}

/* Standard deviation of the ground ray's phase; from pi/2 up the single path takes any phase.
 */
static double phase_spread(const job *work, const sight *s)
{
    return 4.0 * FE_PI * FE_GROUND_HEIGHT_ERROR_M * hypot(s->h1, s->h2) /
           (work->table.lambda_m * s->length);
}

/* The cell's own profile in place of what runs along the ray beside it. */
static fe_status level_from_profile(walk *w, const cell *at, level_loss *made)
{
    sight *s = &made->sight;
    const job *work = w->work;
    own_profile(w, at);
    const fe_diffraction_path path = {.d_m = w->fine_d,
                                      .h_m = w->fine_h,
                                      .n = w->fine_count,
                                      .antenna1_m = s->a1,
                                      .antenna2_m = s->a2};
    fe_delta_bullington all;
    fe_isolated_edge edge = {.found = false};
    w->profiles++;
    made->own_profile = true;
    fe_status status = fe_delta_bullington_loss(&path, &work->wave, &all);
    if (status < 0)
        return status;
    s->v = all.actual.v;
    s->actual_db = all.actual.loss_db;
    s->h1 = all.fit.effective1_m;
    s->h2 = all.fit.effective2_m;
    made->sphere_db = all.sphere.loss_db;
    made->smooth_db = all.smooth.loss_db;
    made->method = FE_GROUND_BEYOND;
    if (s->length > 4.0 * s->h1 * s->h2 / work->table.lambda_m)
        return status;
    made->method = FE_GROUND_RAY;
    if (s->v <= FE_KNIFE_EDGE_CLEAR_V)
        return status;
    status = fe_status_worse(status,
                             fe_isolated_edge_find(path.d_m, path.h_m, path.n, s->a1, s->a2,
                                                   work->table.ae_m, work->wave.f_hz, &edge));
    made->method = edge.found ? FE_GROUND_EDGE : FE_GROUND_DELTA_BULLINGTON;
    made->obstacle_db = edge.found ? edge.loss_db : all.loss_db;
    return status;
}

/*
 * Where the single path changes its method the loss steps, and the ray beside the cell may
 * stand on the other side: there the cell's own profile decides. So it does where the ground
 * may be one sharp edge: over the line of sight both ends must see it as their horizon.
 */
static bool needs_profile(const job *work, const sight *s, double break_point_m)
{
    const double phases = phase_spread(work, s) / (FE_PI / 2.0);
    if (fabs(phases - 1.0) < NEAR_ANY_PHASE)
        return true;
    const bool at_break_point = fabs(s->length / break_point_m - 1.0) < NEAR_BREAK_POINT;
    const bool at_clear = fabs(s->v - FE_KNIFE_EDGE_CLEAR_V) < NEAR_CLEAR_V;
    const bool beyond = s->length > break_point_m;
    const bool may_be_edge = !beyond && s->v > FE_KNIFE_EDGE_CLEAR_V && s->sharp;
    return at_break_point || (at_clear && !beyond) || may_be_edge;
}

static fe_status level_make(walk *w, size_t level, const cell *at, level_loss *made)
{
    const around_table *table = &w->work->table;
    sight *s = &made->sight;
    *made = (level_loss){.method = FE_GROUND_RAY};
    s->length = at->distance_m;
    s->inverse = 1.0 / s->length;
    s->ground2 = (double)w->work->in->land.height_m[at->index] - w->work->height_m;
    s->a1 = first_antenna(w, level);
    s->a2 = s->ground2 + w->work->in->hop->ends[1].height_m - table->rises_m[level];
    s->za2 = s->a2 - s->length * s->length / (2.0 * table->ae_m);
    s->slope = (s->za2 - s->a1) * s->inverse;
    look_along(w, level, s);
    const double break_point_m = 4.0 * s->h1 * s->h2 / table->lambda_m;
    if (needs_profile(w->work, s, break_point_m))
        return level_from_profile(w, at, made);
    const bool beyond = s->length > break_point_m;
    if (!beyond && s->v <= FE_KNIFE_EDGE_CLEAR_V)
        return FE_OK;
    const fe_status status = round_earth(w->work, s, &made->sphere_db, &made->smooth_db);
    made->method = beyond ? FE_GROUND_BEYOND : FE_GROUND_DELTA_BULLINGTON;
    made->obstacle_db = s->actual_db + fmax(made->sphere_db - made->smooth_db, 0.0);
    return status;
}

static double power_loss(double amplitude, double cosine)
{
    const double power = 1.0 + amplitude * amplitude + 2.0 * amplitude * cosine;
    return -10.0 * log10(fmax(power, 1e-20));
}

/* The ground ray as the single path takes it, its quantiles from the table. */
static fe_status ray_loss(const job *work, const around_season *season, const sight *s,
                          double *loss_db, double *sigma_db)
{
    const fe_ground_path path = {work->in->hop->f_hz, s->length, s->h1, s->h2};
    fe_reflection reflection;
    fe_ground_ray ray;
    fe_status status =
        fe_ground_reflection(&season->ground, FE_GROUND_VERTICAL,
                             atan2(s->h1 + s->h2, s->length), season->rough, &reflection);
    if (status >= 0)
        status = fe_status_worse(status, fe_ground_ray_loss(&path, &reflection, &ray));
    if (status < 0)
        return status;
    const double spread_rad = phase_spread(work, s);
    double cosines[2] = {cos(0.9 * FE_PI), cos(0.1 * FE_PI)};
    double mean_cosine = 0.0;
    if (spread_rad <= FE_PI / 2.0) {
        around_cosines(&work->table, ray.phase_rad, spread_rad, cosines);
        mean_cosine = cos(ray.phase_rad) * exp(-spread_rad * spread_rad / 2.0);
    }
    *loss_db = power_loss(ray.amplitude, mean_cosine);
    *sigma_db =
        (power_loss(ray.amplitude, cosines[0]) - power_loss(ray.amplitude, cosines[1])) /
        2.5631;
    return status;
}

static fe_status ground_of(const job *work, const around_season *season,
                           const level_loss *level, ground_loss *ground)
{
    const sight *s = &level->sight;
    *ground = (ground_loss){level->method, level->obstacle_db, HOP_SEVERAL_OBSTACLES_SIGMA_DB};
    if (level->method == FE_GROUND_EDGE)
        ground->sigma_db = HOP_EDGE_SIGMA_DB;
    if (level->method == FE_GROUND_EDGE || level->method == FE_GROUND_DELTA_BULLINGTON)
        return FE_OK;
    double ray_db = 0.0;
    double ray_sigma_db = 0.0;
    const fe_status status = ray_loss(work, season, s, &ray_db, &ray_sigma_db);
    if (status < 0)
        return status;
    if (level->method == FE_GROUND_RAY) {
        ground->loss_db = ray_db;
        ground->sigma_db = ray_sigma_db;
    } else {
        ground->loss_db =
            s->actual_db + fmax(0.0, fmax(level->sphere_db, ray_db) - level->smooth_db);
        ground->sigma_db =
            s->actual_db <= 0.0 ? HOP_EDGE_SIGMA_DB : HOP_SEVERAL_OBSTACLES_SIGMA_DB;
    }
    return status;
}

typedef struct answer {
    double margin_db;
    double chance;
} answer;

static bool is_worse(const answer *a, const answer *b)
{
    if (a->chance != b->chance)
        return a->chance < b->chance;
    return a->margin_db < b->margin_db;
}

static fe_status season_answer(const job *work, const around_season *season,
                               const level_loss *level, answer *found)
{
    const around_table *table = &work->table;
    const fe_station *ends = work->in->hop->ends;
    const sight *s = &level->sight;
    ground_loss ground;
    const fe_status status = ground_of(work, season, level, &ground);
    if (status < 0)
        return status;
    const double rise_m = s->a2 - s->a1;
    const double direct_m = hypot(s->length, rise_m);
    const double free_space_db = 20.0 * log10(4.0 * FE_PI * direct_m / table->lambda_m);
    const double left_db =
        season->base_db - free_space_db - ground.loss_db - table->gas_db_per_m * direct_m -
        hop_slope_loss(&ends[0], rise_m, direct_m) -
        hop_slope_loss(&ends[1], rise_m, direct_m) -
        around_fade(table, season, ground.method == FE_GROUND_DELTA_BULLINGTON, direct_m);
    found->margin_db = left_db - around_median(table, ground.sigma_db);
    found->chance = around_chance(table, ground.sigma_db, left_db);
    return status;
}

static fe_status make_answers(const job *work, const level_loss *levels, answer *answers,
                              size_t *worst)
{
    fe_status status = FE_OK;
    *worst = 0;
    for (size_t i = 0; i < work->in->season_count && status >= 0; i++) {
        const around_season *season = &work->table.seasons[i];
        status = fe_status_worse(
            status, season_answer(work, season, &levels[season->level], &answers[i]));
        if (status >= 0 && is_worse(&answers[i], &answers[*worst]))
            *worst = i;
    }
    return status;
}

/* Two seasons of about the same chance whose margins differ: which is the worst hangs on less
 * than the ray beside the cell is good for. */
static bool is_close_call(const answer *answers, size_t count, size_t worst)
{
    static const double SAME_MARGIN_DB = 0.3;
    const double chance = answers[worst].chance;
    const double same = 0.12 * chance * (1.0 - chance);
    for (size_t i = 0; i < count; i++)
        if (answers[i].chance - chance < same &&
            fabs(answers[i].margin_db - answers[worst].margin_db) > SAME_MARGIN_DB)
            return true;
    return false;
}

static fe_status compute_cell(walk *w, const cell *at)
{
    const job *work = w->work;
    const size_t level_count = work->table.rise_count;
    level_loss levels[MOST_LEVELS];
    answer answers[MOST_SEASONS];
    size_t worst = 0;
    fe_status status = FE_OK;
    walk_to(w, at->distance_m);
    for (size_t r = 0; r < level_count && status >= 0; r++)
        status = fe_status_worse(status, level_make(w, r, at, &levels[r]));
    if (status >= 0)
        status = fe_status_worse(status, make_answers(work, levels, answers, &worst));
    if (status >= 0 && is_close_call(answers, work->in->season_count, worst)) {
        for (size_t r = 0; r < level_count && status >= 0; r++)
            if (!levels[r].own_profile)
                status = fe_status_worse(status, level_from_profile(w, at, &levels[r]));
        if (status >= 0)
            status = fe_status_worse(status, make_answers(work, levels, answers, &worst));
    }
    if (status < 0)
        return status;
    work->margin_db[at->index] = (float)answers[worst].margin_db;
    if (work->chance)
        work->chance[at->index] = (float)answers[worst].chance;
    w->holds += answers[worst].chance >= work->in->wanted->confidence;
    return status;
}

/* ---- Threads ---- */

typedef struct worker {
    walk walk;
    size_t first; /* rays first, first + every, ... */
    size_t every;
} worker;

static void *walk_rays(void *argument)
{
    worker *own = argument;
    walk *w = &own->walk;
    const job *work = w->work;
    const bool tells = own->first == 0 && work->in->progress;
    for (size_t ray = own->first; ray < work->ray_count && w->status >= 0; ray += own->every) {
        cell *cells = &work->cells[work->ray_start[ray]];
        const size_t count = work->ray_start[ray + 1] - work->ray_start[ray];
        qsort(cells, count, sizeof *cells, by_distance);
        walk_start(w, ray);
        for (size_t i = 0; i < count && w->status >= 0; i++)
            w->status = fe_status_worse(w->status, compute_cell(w, &cells[i]));
        if (tells)
            work->in->progress(work->in->context, (double)ray / (double)work->ray_count);
    }
    return NULL;
}

static fe_status run_threads(job *work, fe_around_count *count)
{
    worker workers[MOST_THREADS];
    pthread_t threads[MOST_THREADS];
    bool started[MOST_THREADS] = {false};
    unsigned wanted = work->in->threads < 1 ? 1 : work->in->threads;
    if (wanted > MOST_THREADS)
        wanted = MOST_THREADS;
    unsigned made = 0;
    while (made < wanted && walk_make(work, &workers[made].walk)) {
        workers[made].first = made;
        workers[made].every = wanted;
        made++;
    }
    fe_status status = made == wanted ? FE_OK : FE_E_MEMORY;
    for (unsigned t = 1; t < made && status >= 0; t++)
        started[t] = pthread_create(&threads[t], NULL, walk_rays, &workers[t]) == 0;
    for (unsigned t = 0; t < made && status >= 0; t++)
        if (!started[t]) /* the caller's share, and that of a thread that would not start */
            walk_rays(&workers[t]);
    for (unsigned t = 0; t < made; t++) {
        if (started[t])
            pthread_join(threads[t], NULL);
        status = fe_status_worse(status, workers[t].walk.status);
        count->holds += workers[t].walk.holds;
        count->profiles += workers[t].walk.profiles;
        walk_free(&workers[t].walk);
    }
    return status;
}

/* ---- All of it ---- */

static bool is_usable(const fe_around *in)
{
    const fe_around_land *land = &in->land;
    return in->season_count > 0 && in->season_count <= MOST_SEASONS && land->columns >= 2 &&
           land->rows >= 2 && land->columns <= MOST_SIDE && land->rows <= MOST_SIDE &&
           in->radius_m >= 2.0 && in->radius_m <= FE_AROUND_MOST_M && in->hop->f_hz > 0.0 &&
           isfinite(in->hop->f_hz) && in->hop->ends[0].height_m > 0.0 &&
           in->hop->ends[1].height_m > 0.0;
}

static void fill_buried(job *work, size_t cell_count)
{
    for (size_t i = 0; i < cell_count; i++) {
        work->margin_db[work->cells[i].index] = -INFINITY;
        if (work->chance)
            work->chance[work->cells[i].index] = 0.0f;
    }
}

static fe_status prepare(const fe_around *in, job *work)
{
    work->height_m = fe_around_height(&in->land, in->land.column, in->land.row);
    if (!invert(&in->land, &work->map) || !isfinite(work->height_m))
        return FE_E_DOMAIN;
    fe_status status = around_table_make(in, &work->table);
    if (status >= 0 && work->table.rise_count > MOST_LEVELS)
        return FE_E_DOMAIN;
    const around_table *table = &work->table;
    const double step_m = cell_step(&in->land);
    work->step_m = step_m;
    work->ray_count = (size_t)ceil(16.0 * FE_PI * in->radius_m / step_m);
    if (work->ray_count < 8)
        work->ray_count = 8;
    const double least_v = FE_KNIFE_EDGE_CLEAR_V - NEAR_CLEAR_V;
    work->clear_square = least_v * least_v * table->lambda_m / 2.0;
    work->wave = fe_diffraction_wave_over_land(in->hop->f_hz, table->ae_m, true);
    return status < 0 ? status : fe_status_worse(status, sort_cells(work));
}

fe_status fe_around_compute(const fe_around *around, float *margin_db, float *chance,
                            fe_around_count *count)
{
    if (!is_usable(around))
        return FE_E_DOMAIN;
    job *work = calloc(1, sizeof *work);
    if (!work)
        return FE_E_MEMORY;
    work->in = around;
    work->margin_db = margin_db;
    work->chance = chance;
    for (size_t i = 0; i < around->land.columns * around->land.rows; i++) {
        margin_db[i] = NAN;
        if (chance)
            chance[i] = NAN;
    }
    fe_around_count found = {0};
    fe_status status = prepare(around, work);
    if (status >= 0) {
        found.cells = work->ray_start[work->ray_count];
        if (work->table.buried)
            fill_buried(work, found.cells);
        else
            status = fe_status_worse(status, run_threads(work, &found));
    }
    if (status >= 0)
        *count = found;
    around_table_free(&work->table);
    free(work->cells);
    free(work->ray_start);
    free(work);
    return status;
}
