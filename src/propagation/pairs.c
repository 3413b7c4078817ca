/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/pairs.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/argument.h"
#include "farend/knife_edge.h"
#include "farend/workers.h"
#include "propagation/bullington_v.h"
#include "propagation/pairs_round.h"

/* Points in a leaf of the tree of blocks: fewer make more blocks to visit, more make each dear.
 */
enum { LEAF = 8, STACK_ROOM = 64 };

/* Points of a block lie under height + slope d. */
typedef struct block {
    double slope;
    double height;
} block;

/*
 * What all rows share. Distances are counted from the middle and heights from their mean, which
 * keeps the sums small.
 */
typedef struct ground {
    const fe_pairs *in;
    size_t n;
    double *d;    /* from the middle of the profile */
    double *bare; /* heights less their mean */
    double *z;    /* with clutter, less d^2 / (2 ae) */
    double *a1;   /* antennas less the mean, and the same less d^2 / (2 ae) */
    double *a2;
    double *za1;
    double *za2;
    /* Prefix sums of area and moment, each as a head and what rounding left of it: at the end
     * of a long profile a short pair is a small difference of large sums. */
    double *area;
    double *area_rest;
    double *moment;
    double *moment_rest;
    block *blocks; /* heap: children of b are 2 b and 2 b + 1, leaves from leaf_count up */
    size_t leaf_count;
    pairs_earth earth;
    double clear_square; /* 0.78^2 lambda / 2: clear where excess^2 d / (x y) is above it */
} ground;

/* What a thread needs for its rows. */
typedef struct row_space {
    const ground *g;
    fe_pairs_row row;
    void *context;
    size_t from; /* rows from to until, walked downwards */
    size_t until;
    double *inverse; /* 1 / (d[j] - d[i]) */
    double *rise2;   /* running slope seen from j back to i, over z */
    double *bare2;   /* the same over bare ground */
    size_t *hull;    /* upper hull of the bare points after i */
    fe_pair *pairs;
    pairs_edges edges;
    pairs_rounds rounds;
    fe_pairs_counts counts;
    fe_status status;
} row_space;

/* ---- Setting up ---- */

static bool is_usable(const fe_pairs *in)
{
    const fe_diffraction_wave *w = &in->wave;
    if (in->n < 2 || !(w->f_hz > 0.0) || !(w->ae_m > 0.0) || !(w->c_m_s > 0.0) ||
        !(w->permittivity > 1.0) || !(w->conductivity_s_m >= 0.0) || w->omega_sea != 0.0)
        return false;
    if (!isfinite(w->f_hz + w->ae_m + w->c_m_s + w->permittivity + w->conductivity_s_m))
        return false;
    for (size_t i = 0; i < in->n; i++) {
        const double clutter_m = in->clutter_m ? in->clutter_m[i] : 0.0;
        if (!isfinite(in->d_m[i] + in->h_m[i]) || !isfinite(in->antenna1_m[i]) ||
            !isfinite(in->antenna2_m[i]) || !is_at_least_zero(clutter_m))
            return false;
        if (in->antenna1_m[i] < in->h_m[i] || in->antenna2_m[i] < in->h_m[i])
            return false;
        if (i > 0 && !(in->d_m[i] > in->d_m[i - 1]))
            return false;
    }
    return true;
}

/* Adds to a sum held as head and rest (two-sum). */
static void add_to_sum(double *head, double *rest, double value)
{
    const double sum = *head + value;
    const double part = sum - *head;
    *rest += (*head - (sum - part)) + (value - part);
    *head = sum;
}

static void fill_sums(ground *g)
{
    double area = 0.0, area_rest = 0.0, moment = 0.0, moment_rest = 0.0;
    for (size_t k = 0; k < g->n; k++) {
        if (k > 0) {
            const double step = g->d[k] - g->d[k - 1];
            const double h = g->bare[k];
            const double before = g->bare[k - 1];
            add_to_sum(&area, &area_rest, step * (h + before));
            add_to_sum(&moment, &moment_rest,
                       step * (h * (2.0 * g->d[k] + g->d[k - 1]) +
                               before * (g->d[k] + 2.0 * g->d[k - 1])));
        }
        g->area[k] = area;
        g->area_rest[k] = area_rest;
        g->moment[k] = moment;
        g->moment_rest[k] = moment_rest;
    }
}

/* A line over the points of a block, along the chord of its ends. */
static block cover(const ground *g, size_t from, size_t until)
{
    block b = {0.0, -INFINITY};
    if (from >= g->n)
        return b;
    const size_t last = (until < g->n ? until : g->n) - 1;
    if (last > from)
        b.slope = (g->z[last] - g->z[from]) / (g->d[last] - g->d[from]);
    for (size_t k = from; k <= last; k++)
        b.height = larger(b.height, g->z[k] - b.slope * g->d[k]);
    return b;
}

static void fill_blocks(ground *g)
{
    size_t size = LEAF;
    for (size_t first = g->leaf_count; first > 0; first /= 2, size *= 2)
        for (size_t b = 0; b < first; b++)
            g->blocks[first + b] = cover(g, b * size, (b + 1) * size);
}

static void fill_heights(ground *g)
{
    const fe_pairs *in = g->in;
    const double middle = (in->d_m[0] + in->d_m[in->n - 1]) / 2.0;
    double mean = 0.0;
    for (size_t k = 0; k < in->n; k++)
        mean += in->h_m[k] / (double)in->n;
    for (size_t k = 0; k < in->n; k++) {
        const double d = in->d_m[k] - middle;
        const double fall = g->earth.curvature * d * d;
        g->d[k] = d;
        g->bare[k] = in->h_m[k] - mean;
        g->z[k] = g->bare[k] + (in->clutter_m ? in->clutter_m[k] : 0.0) - fall;
        g->a1[k] = in->antenna1_m[k] - mean;
        g->a2[k] = in->antenna2_m[k] - mean;
        g->za1[k] = g->a1[k] - fall;
        g->za2[k] = g->a2[k] - fall;
    }
}

static void ground_free(ground *g)
{
    free(g->d); /* one piece holds all arrays of doubles */
    free(g->blocks);
}

static fe_status ground_make(const fe_pairs *in, ground *g)
{
    enum { ARRAYS = 11 };
    *g = (ground){.in = in, .n = in->n};
    g->leaf_count = 1;
    while (g->leaf_count * LEAF < in->n)
        g->leaf_count *= 2;
    double *room = calloc(ARRAYS * in->n, sizeof *room);
    g->blocks = calloc(2 * g->leaf_count, sizeof *g->blocks);
    double **const arrays[ARRAYS] = {&g->d,         &g->bare,   &g->z,          &g->a1,
                                     &g->a2,        &g->za1,    &g->za2,        &g->area,
                                     &g->area_rest, &g->moment, &g->moment_rest};
    for (size_t i = 0; i < ARRAYS && room; i++)
        *arrays[i] = room + i * in->n;
    if (!room || !g->blocks) {
        g->d = room;
        ground_free(g);
        return FE_E_MEMORY;
    }
    g->earth = pairs_earth_make(&in->wave, g->d);
    g->clear_square = FE_KNIFE_EDGE_CLEAR_V * FE_KNIFE_EDGE_CLEAR_V * g->earth.lambda_m / 2.0;
    fill_heights(g);
    fill_sums(g);
    fill_blocks(g);
    return FE_OK;
}

/* ---- One pair ---- */

/* A pair with what its parts have in common. */
typedef struct sight {
    size_t i;
    size_t j;
    double from_d;
    double to_d;
    double length;
    double inverse; /* of the length */
    double z1;      /* first antenna */
    double slope;   /* of the line of sight over z */
} sight;

/* Height of a block's cover over the line of sight; at most this at any of its points. */
static inline double over_line(const block *b, const sight *s, double low, double high)
{
    const double at_low = b->height + b->slope * low - (s->z1 + s->slope * (low - s->from_d));
    const double at_high =
        b->height + b->slope * high - (s->z1 + s->slope * (high - s->from_d));
    return larger(at_low, at_high);
}

/* Largest product of the distances to both ends between two places. */
static inline double largest_product(const sight *s, double low, double high)
{
    const double middle = (s->from_d + s->to_d) * 0.5;
    const double at = middle < low ? low : middle > high ? high : middle;
    return (at - s->from_d) * (s->to_d - at);
}

typedef struct nearest {
    double square; /* least excess^2 / (x y) so far */
    size_t at;     /* where; 0: no point lies below the first bound */
    double low;    /* a nearer point lies between these distances */
    double high;
} nearest;

/* True where a point of a block lies below the bound; without a jump, so some at a time. */
static inline bool has_nearer(const ground *g, const sight *s, size_t from, size_t until,
                              double square)
{
    uint64_t any = 0;
    for (size_t k = from; k <= until; k++) {
        const double x = g->d[k] - s->from_d;
        const double excess = g->z[k] - (s->z1 + s->slope * x);
        any |= excess * excess < square * (x * (s->to_d - g->d[k]));
    }
    return any != 0;
}

static inline void try_point(const ground *g, const sight *s, size_t k, nearest *best)
{
    const double x = g->d[k] - s->from_d;
    const double excess = g->z[k] - (s->z1 + s->slope * x);
    const double product = x * (s->to_d - g->d[k]);
    if (excess * excess < best->square * product) {
        best->square = excess * excess / product;
        best->at = k;
    }
}

/*
 * The point between the ends with the least excess^2 / (x y) below best->square. All points lie
 * under the line, so a block whose cover is e under it everywhere, with products up to p, has
 * none below e^2 / p.
 */
static void search(const ground *g, const sight *s, nearest *best, unsigned long long *visits)
{
    size_t stack[STACK_ROOM];
    unsigned depth = 0;
    const size_t first = s->i + 1;
    const size_t last = s->j - 1;
    /* The smallest block that holds all points between. */
    size_t low = g->leaf_count + first / LEAF;
    size_t high = g->leaf_count + last / LEAF;
    while (low != high) {
        low /= 2;
        high /= 2;
    }
    stack[depth++] = low;
    while (depth > 0) {
        const size_t b = stack[--depth];
        const unsigned level = (unsigned)(__builtin_clzll(b) - __builtin_clzll(g->leaf_count));
        const size_t size = (size_t)LEAF << level;
        size_t from = (b << level) * LEAF - g->leaf_count * LEAF;
        size_t until = from + size - 1;
        if (until < first || from > last)
            continue;
        from = from < first ? first : from;
        until = until > last ? last : until;
        if (g->d[until] < best->low || g->d[from] > best->high)
            continue;
        ++*visits;
        const double e = over_line(&g->blocks[b], s, g->d[from], g->d[until]);
        if (e < 0.0 && e * e >= best->square * largest_product(s, g->d[from], g->d[until]))
            continue;
        if (level == 0) {
            *visits += until - from + 1;
            if (!has_nearer(g, s, from, until, best->square))
                continue;
            for (size_t k = from; k <= until; k++)
                try_point(g, s, k, best);
            continue;
        }
        /* The half towards the best so far is looked at first. */
        const bool right_first = best->at >= from + size / 2;
        stack[depth++] = 2 * b + (right_first ? 0 : 1);
        stack[depth++] = 2 * b + (right_first ? 1 : 0);
    }
}

/* ---- One row ---- */

static inline bool is_end(const ground *g, size_t k)
{
    return !g->in->ends || g->in->ends[k];
}

/* Raises running slopes to those from points at `from_m` high. */
static void pull_up(double *restrict slopes, double from_m, const double *restrict to_m,
                    const double *restrict inverse, size_t first, size_t n)
{
    for (size_t j = first; j < n; j++)
        slopes[j] = larger(slopes[j], (from_m - to_m[j]) * inverse[j]);
}

/* Slopes from points above to here of the running kind, updated with the point after i. */
static void update_backward(row_space *space, size_t i)
{
    const ground *g = space->g;
    const size_t k = i + 1;
    /* Still those of row i + 1: 1 / (d[j] - d[k]). */
    pull_up(space->rise2, g->z[k], g->za2, space->inverse, k + 1, g->n);
    pull_up(space->bare2, g->bare[k], g->a2, space->inverse, k + 1, g->n);
    if (k + 1 < g->n)
        space->counts.sweeps += 2 * (g->n - k - 1);
}

static void invert_distances(row_space *space, size_t i)
{
    const double *d = space->g->d;
    for (size_t j = i + 1; j < space->g->n; j++)
        space->inverse[j] = 1.0 / (d[j] - d[i]);
}

/* Slopes of the row to start with, as if all rows above had been walked. */
static void start_backward(row_space *space, size_t i)
{
    const ground *g = space->g;
    for (size_t j = 0; j < g->n; j++)
        space->rise2[j] = space->bare2[j] = -INFINITY;
    for (size_t j = i + 2; j < g->n; j++) {
        for (size_t k = i + 1; k < j; k++) {
            const double inverse = 1.0 / (g->d[j] - g->d[k]);
            space->rise2[j] = larger(space->rise2[j], (g->z[k] - g->za2[j]) * inverse);
            space->bare2[j] = larger(space->bare2[j], (g->bare[k] - g->a2[j]) * inverse);
        }
        space->counts.sweeps += 2 * (j - i - 1);
    }
}

/* Adds a point to the upper hull of those after i; returns how many are on it. */
static size_t push_hull(row_space *space, size_t count, size_t k)
{
    const ground *g = space->g;
    size_t *hull = space->hull;
    space->counts.hull_steps++;
    while (count >= 2) {
        const size_t a = hull[count - 2];
        const size_t b = hull[count - 1];
        const double turn = (g->bare[b] - g->bare[a]) * (g->d[k] - g->d[b]) -
                            (g->bare[k] - g->bare[b]) * (g->d[b] - g->d[a]);
        if (turn > 0.0)
            break;
        space->counts.hull_steps++;
        count--;
    }
    hull[count] = k;
    return count + 1;
}

/* Highest bare point over a line through the first antenna. */
static double highest_over(row_space *space, size_t count, size_t i, double slope)
{
    const ground *g = space->g;
    const size_t *hull = space->hull;
    size_t low = 0;
    size_t high = count - 1;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const size_t a = hull[middle];
        const size_t b = hull[middle + 1];
        space->counts.hull_steps++;
        if (g->bare[b] - g->bare[a] > slope * (g->d[b] - g->d[a]))
            low = middle + 1;
        else
            high = middle;
    }
    const size_t top = hull[low];
    return g->bare[top] - g->a1[i] - slope * (g->d[top] - g->d[i]);
}

/* What stands on bare ground over the line of sight. */
typedef struct standing {
    double highest; /* over it; 0: nothing stands over it */
    double rise1;   /* steepest slopes from both ends over that of the line */
    double rise2;
} standing;

/* The fitted surface of the source, from prefix sums. */
static void fit_surface(const ground *g, const sight *s, const standing *over, fe_pair *pair)
{
    const double area =
        (g->area[s->j] - g->area[s->i]) + (g->area_rest[s->j] - g->area_rest[s->i]);
    const double moment = (g->moment[s->j] - g->moment[s->i]) +
                          (g->moment_rest[s->j] - g->moment_rest[s->i]) -
                          3.0 * s->from_d * area;
    const double square = s->inverse * s->inverse;
    double end1 = (2.0 * area * s->length - moment) * square;
    double end2 = (moment - area * s->length) * square;
    if (over->highest > 0.0) {
        end1 -= over->highest * over->rise1 / (over->rise1 + over->rise2);
        end2 -= over->highest * over->rise2 / (over->rise1 + over->rise2);
    }
    pair->effective1_m = g->a1[s->i] - (end1 < g->bare[s->i] ? end1 : g->bare[s->i]);
    pair->effective2_m = g->a2[s->j] - (end2 < g->bare[s->j] ? end2 : g->bare[s->j]);
}

/* v of a pair in line of sight; p and q are the least slopes of its clearance. */
static double clear_v(row_space *space, const sight *s, double p, double q, size_t *near)
{
    const ground *g = space->g;
    const double limit = g->clear_square * s->inverse;
    space->counts.clear_pairs++;
    /* Every clearance is at least max(p x, q y), so at least sqrt(p q x y). */
    if (p * q >= limit)
        return -INFINITY;
    nearest best = {.square = limit};
    if (*near > s->i && *near < s->j) {
        space->counts.visits++;
        try_point(g, s, *near, &best);
    }
    /* By the same, a nearer point has p^2 x / y and q^2 y / x below the best square. */
    const double share1 = best.square / (best.square + p * p);
    const double share2 = best.square / (best.square + q * q);
    best.low = s->to_d - s->length * share2;
    best.high = s->from_d + s->length * share1;
    if (best.low < best.high)
        search(g, s, &best, &space->counts.visits);
    if (best.at == 0)
        return -INFINITY;
    *near = best.at;
    return bullington_v_of_square(-best.square, s->length, g->earth.lambda_m);
}

/* ---- Batches ---- */

static void finish_edges(row_space *space, size_t i)
{
    pairs_edges *edges = &space->edges;
    pairs_edges_compute(edges);
    for (size_t k = 0; k < edges->count; k++)
        space->pairs[edges->to[k] - i - 1].actual_db = edges->loss_db[k];
    edges->count = 0;
}

static void add_edge(row_space *space, const sight *s, double v)
{
    pairs_edges *edges = &space->edges;
    if (edges->count == PAIRS_BATCH)
        finish_edges(space, s->i);
    edges->to[edges->count] = s->j;
    edges->v[edges->count] = v;
    edges->length_m[edges->count++] = s->length;
}

static fe_status finish_rounds(row_space *space, size_t i)
{
    pairs_rounds *rounds = &space->rounds;
    const fe_status status = pairs_rounds_compute(&space->g->earth, rounds);
    for (size_t k = 0; k < rounds->count; k++) {
        fe_pair *pair = &space->pairs[rounds->to[k] - i - 1];
        pair->sphere_db = rounds->sphere_db[k];
        pair->smooth_db = rounds->smooth_db[k];
    }
    rounds->count = 0;
    return status;
}

static fe_status add_round(row_space *space, const sight *s, const fe_pair *pair)
{
    pairs_rounds *rounds = &space->rounds;
    const fe_status status = rounds->count == PAIRS_BATCH ? finish_rounds(space, s->i) : FE_OK;
    rounds->from = s->i;
    pairs_rounds_add(&space->g->earth, s->j, s->length, pair->effective1_m, pair->effective2_m,
                     rounds);
    return status;
}

/* What the points before j are to a row, gathered as j moves on. */
typedef struct passed {
    double rise1; /* steepest slope from i, over z */
    double bare1; /* the same over bare ground */
    size_t hull_count;
    size_t hull_until; /* points before it were pushed: only where a hull is wanted */
    size_t near;       /* the one that came nearest to the last clear line */
} passed;

static void pass(row_space *space, size_t i, size_t j, passed *before)
{
    const ground *g = space->g;
    before->rise1 = larger(before->rise1, (g->z[j] - g->za1[i]) * space->inverse[j]);
    before->bare1 = larger(before->bare1, (g->bare[j] - g->a1[i]) * space->inverse[j]);
    space->counts.sweeps += 2;
}

static sight sight_of(const row_space *space, size_t i, size_t j)
{
    const ground *g = space->g;
    const double inverse = space->inverse[j];
    return (sight){.i = i,
                   .j = j,
                   .from_d = g->d[i],
                   .to_d = g->d[j],
                   .length = g->d[j] - g->d[i],
                   .inverse = inverse,
                   .z1 = g->za1[i],
                   .slope = (g->za2[j] - g->za1[i]) * inverse};
}

/* Sets v of a pair; what stands on bare ground over its line. */
static standing look_along(row_space *space, const sight *s, passed *before, fe_pair *pair)
{
    const ground *g = space->g;
    const double over1 = before->rise1 - s->slope;
    const double over2 = space->rise2[s->j] + s->slope;
    standing bare = {0};
    if (s->j == s->i + 1)
        return bare;
    if (over1 < 0.0) {
        pair->v = clear_v(space, s, -over1, -over2, &before->near);
        return bare;
    }
    pair->v = sqrt(2.0 * s->length / g->earth.lambda_m * over1 * larger(over2, 0.0));
    const double line = (g->a2[s->j] - g->a1[s->i]) * s->inverse;
    bare.rise1 = before->bare1 - line;
    bare.rise2 = space->bare2[s->j] + line;
    if (!(bare.rise1 > 0.0 && bare.rise2 > 0.0))
        return bare;
    for (; before->hull_until < s->j; before->hull_until++)
        before->hull_count = push_hull(space, before->hull_count, before->hull_until);
    bare.highest = highest_over(space, before->hull_count, s->i, line);
    return bare;
}

static fe_status compute_row(row_space *space, size_t i)
{
    const ground *g = space->g;
    passed before = {.rise1 = -INFINITY, .bare1 = -INFINITY, .hull_until = i + 1};
    fe_status status = FE_OK;
    for (size_t j = i + 1; j < g->n && status >= 0; j++) {
        if (j > i + 1)
            pass(space, i, j - 1, &before);
        if (!is_end(g, j))
            continue;
        const sight s = sight_of(space, i, j);
        fe_pair *pair = &space->pairs[j - i - 1];
        *pair = (fe_pair){.v = -INFINITY};
        const standing bare = look_along(space, &s, &before, pair);
        fit_surface(g, &s, &bare, pair);
        if (pair->v > FE_KNIFE_EDGE_CLEAR_V)
            add_edge(space, &s, pair->v);
        if (!pairs_is_above(&g->earth, s.length, pair->effective1_m, pair->effective2_m))
            status = add_round(space, &s, pair);
    }
    finish_edges(space, i);
    if (status >= 0)
        status = finish_rounds(space, i);
    for (size_t j = i + 1; j < g->n; j++) {
        fe_pair *pair = &space->pairs[j - i - 1];
        pair->loss_db = pair->actual_db + larger(pair->sphere_db - pair->smooth_db, 0.0);
    }
    return status;
}

static void *compute_rows(void *argument)
{
    row_space *space = argument;
    const ground *g = space->g;
    for (size_t i = space->until; i-- > space->from && space->status >= 0;) {
        if (i + 1 == space->until)
            start_backward(space, i);
        else
            update_backward(space, i);
        invert_distances(space, i);
        if (!is_end(g, i))
            continue;
        space->status = compute_row(space, i);
        if (space->status >= 0)
            space->row(space->context, i, space->pairs, g->n - i - 1);
    }
    return NULL;
}

/* ---- Threads ---- */

static fe_status space_make(row_space *space, size_t n)
{
    space->inverse = calloc(3 * n, sizeof *space->inverse);
    space->hull = calloc(n, sizeof *space->hull);
    space->pairs = calloc(n, sizeof *space->pairs);
    if (!space->inverse || !space->hull || !space->pairs)
        return FE_E_MEMORY;
    space->rise2 = space->inverse + n;
    space->bare2 = space->inverse + 2 * n;
    return FE_OK;
}

static void space_free(row_space *space)
{
    free(space->inverse);
    free(space->hull);
    free(space->pairs);
}

/* Row where a share of all pairs is behind: rows shorten, so the first ones weigh most. */
static size_t row_of_share(size_t n, double share)
{
    return (size_t)((double)n * (1.0 - sqrt(1.0 - share)));
}

static void add_counts(fe_pairs_counts *sum, const fe_pairs_counts *part)
{
    sum->sweeps += part->sweeps;
    sum->hull_steps += part->hull_steps;
    sum->clear_pairs += part->clear_pairs;
    sum->visits += part->visits;
}

fe_status fe_pairs_compute(const fe_pairs *pairs, fe_pairs_row row, void *context,
                           fe_pairs_counts *counts)
{
    if (!is_usable(pairs))
        return FE_E_DOMAIN;
    ground g;
    fe_status status = ground_make(pairs, &g);
    if (status < 0)
        return status;

    row_space spaces[FE_WORKERS_MOST] = {0};
    const size_t n = pairs->n;
    unsigned count = pairs->threads < 1 ? 1 : pairs->threads;
    /* Starting a thread costs as much as some hundred short pairs. */
    if (count > FE_WORKERS_MOST || n < 64)
        count = n < 64 ? 1 : FE_WORKERS_MOST;
    for (unsigned t = 0; t < count && status >= 0; t++) {
        spaces[t] = (row_space){.g = &g, .row = row, .context = context};
        spaces[t].from = row_of_share(n, (double)t / count);
        spaces[t].until = t + 1 == count ? n - 1 : row_of_share(n, (double)(t + 1) / count);
        status = space_make(&spaces[t], n);
    }
    if (status >= 0)
        fe_workers_run(compute_rows, spaces, sizeof spaces[0], count);
    fe_pairs_counts sum = {0};
    for (unsigned t = 0; t < count; t++) {
        status = fe_status_worse(status, spaces[t].status);
        add_counts(&sum, &spaces[t].counts);
        space_free(&spaces[t]);
    }
    ground_free(&g);
    if (status >= 0 && counts)
        *counts = sum;
    return status < 0 || pairs->wave.f_hz >= 10e6 ? status : FE_W_RANGE;
}
