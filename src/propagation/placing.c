/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/placing.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

size_t fe_placing_index(size_t n, size_t i, size_t j)
{
    return i * n - i * (i + 1) / 2 + (j - i - 1);
}

double fe_placing_cost(const fe_placing_curve *curve, double left_db)
{
    static const double LATTICE = 1073741824.0; /* 2^30 */
    const double cells = left_db / FE_PLACING_CURVE_STEP_DB;
    if (!(cells < FE_PLACING_CURVE_CELLS - 1))
        return 0.0;
    const size_t cell = (size_t)cells;
    const double from = curve->cost[cell];
    const double cost = from + (cells - (double)cell) * (curve->cost[cell + 1] - from);
    return floor(cost * LATTICE + 0.5) / LATTICE;
}

/*
 * Tables over hops made so far (0 to relays + 1) and candidate reached. The first pass fills
 * `reach` with the best weakest margin, the others with the least cost at one loss and
 * `seconds` with the least time among those; `before` is the candidate come from.
 */
typedef struct tables {
    const fe_placing *in;
    size_t n;
    unsigned hops;
    double *reach; /* (hops + 1) rows of n */
    double *seconds;
    size_t *before;
    double *cost; /* of each hop at one loss, packed; INFINITY where it is too weak */
} tables;

static double offset_of(const fe_placing *in, size_t i, size_t j)
{
    const bool from_end = i == 0;
    const bool to_end = j + 1 == in->n;
    if (from_end)
        return to_end ? in->direct_db : in->first_db;
    return to_end ? in->last_db : in->between_db;
}

static double margin_of(const fe_placing *in, size_t i, size_t j)
{
    return in->margin_db[fe_placing_index(in->n, i, j)] + offset_of(in, i, j);
}

static double seconds_of(const fe_placing *in, size_t i, size_t j)
{
    return in->seconds ? in->seconds[fe_placing_index(in->n, i, j)] : 0.0;
}

/* INFINITY where the hop alone is not as likely as the whole way has to be. */
static double cost_of(const fe_placing *in, size_t i, size_t j, double loss_db)
{
    const double left_db = margin_of(in, i, j) - loss_db;
    return left_db >= 0.0
               ? fe_placing_cost(&in->curves[in->curve[fe_placing_index(in->n, i, j)]], left_db)
               : INFINITY;
}

static void clear(tables *t, double value)
{
    for (size_t k = 0; k < (t->hops + 1) * t->n; k++) {
        t->reach[k] = value;
        t->seconds[k] = INFINITY;
    }
}

/* Candidates that can be a hop's start: the first end for the first hop, a relay after it. */
static size_t first_start(unsigned hop)
{
    return hop == 1 ? 0 : 1;
}

static size_t starts_until(const tables *t, unsigned hop)
{
    return hop == 1 ? 1 : t->n - 1;
}

/* Relays for every hop but the last, whose end is the far one. */
static size_t ends_from(const tables *t, unsigned hop, size_t start)
{
    return hop == t->hops ? t->n - 1 : start + 1;
}

static size_t ends_until(const tables *t, unsigned hop)
{
    return hop == t->hops ? t->n : t->n - 1;
}

/* The way that was reached, as indexes of its candidates from the first end to the far one. */
static void trace(const tables *t, size_t *at)
{
    at[0] = 0;
    at[t->hops] = t->n - 1;
    for (unsigned hop = t->hops; hop > 1; hop--)
        at[hop - 1] = t->before[hop * t->n + at[hop]];
}

/* The way with the best weakest hop; returns its margin. */
static double widest(tables *t, size_t *way)
{
    const fe_placing *in = t->in;
    clear(t, -INFINITY);
    t->reach[0] = INFINITY;
    for (unsigned hop = 1; hop <= t->hops; hop++) {
        const double *from = t->reach + (hop - 1) * t->n;
        double *to = t->reach + hop * t->n;
        size_t *before = t->before + hop * t->n;
        for (size_t i = first_start(hop); i < starts_until(t, hop); i++) {
            if (from[i] == -INFINITY)
                continue;
            for (size_t j = ends_from(t, hop, i); j < ends_until(t, hop); j++) {
                const double margin = margin_of(in, i, j);
                const double weakest = margin < from[i] ? margin : from[i];
                if (weakest > to[j]) {
                    to[j] = weakest;
                    before[j] = i;
                }
            }
        }
    }
    const double margin_db = t->reach[t->hops * t->n + t->n - 1];
    if (margin_db > -INFINITY)
        trace(t, way);
    return margin_db;
}

static void fill_costs(tables *t, double loss_db)
{
    size_t k = 0;
    for (size_t i = 0; i + 1 < t->n; i++)
        for (size_t j = i + 1; j < t->n; j++)
            t->cost[k++] = cost_of(t->in, i, j, loss_db);
}

/* The likeliest way that has lost so much, the fastest of those; returns its cost. */
static double likeliest(tables *t, double loss_db, size_t *way)
{
    fill_costs(t, loss_db);
    clear(t, INFINITY);
    t->reach[0] = 0.0;
    t->seconds[0] = 0.0;
    for (unsigned hop = 1; hop <= t->hops; hop++) {
        const size_t row = (size_t)hop * t->n;
        for (size_t i = first_start(hop); i < starts_until(t, hop); i++) {
            const double reached = t->reach[row - t->n + i];
            if (reached > t->in->cost)
                continue;
            for (size_t j = ends_from(t, hop, i); j < ends_until(t, hop); j++) {
                const double cost = reached + t->cost[fe_placing_index(t->n, i, j)];
                if (cost > t->reach[row + j] || cost == INFINITY)
                    continue;
                const double seconds = t->seconds[row - t->n + i] + seconds_of(t->in, i, j);
                if (cost == t->reach[row + j] && !(seconds < t->seconds[row + j]))
                    continue;
                t->reach[row + j] = cost;
                t->seconds[row + j] = seconds;
                t->before[row + j] = i;
            }
        }
    }
    const double cost = t->reach[(size_t)t->hops * t->n + t->n - 1];
    if (cost <= t->in->cost)
        trace(t, way);
    return cost;
}

static double way_cost(const tables *t, const size_t *way, double loss_db)
{
    double cost = 0.0;
    for (unsigned hop = 0; hop < t->hops; hop++)
        cost += cost_of(t->in, way[hop], way[hop + 1], loss_db);
    return cost;
}

/* The largest margin of a way, as steps. */
static double way_steps(const tables *t, const size_t *way)
{
    double weakest_db = INFINITY;
    for (unsigned hop = 0; hop < t->hops; hop++)
        weakest_db = fmin(weakest_db, margin_of(t->in, way[hop], way[hop + 1]));
    /* With a whole curve less than its weakest hop has, nothing is in doubt; with more than
     * that hop has, it alone is too much. */
    double low = floor((weakest_db - FE_PLACING_CURVE_CELLS * FE_PLACING_CURVE_STEP_DB) /
                       FE_PLACING_STEP_DB);
    double high = floor(weakest_db / FE_PLACING_STEP_DB) + 1.0;
    while (high - low > 1.0) {
        const double middle = floor((low + high) / 2.0);
        if (way_cost(t, way, middle * FE_PLACING_STEP_DB) <= t->in->cost)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static fe_status find(tables *t, fe_placing_best *found)
{
    size_t way[FE_CHAIN_MOST_HOPS + 1];
    /* -INFINITY: there is none, and nothing less would be one. */
    if (widest(t, way) == -INFINITY)
        return FE_E_NO_SOLUTION;
    double steps = way_steps(t, way);
    while (likeliest(t, (steps + 1.0) * FE_PLACING_STEP_DB, way) <= t->in->cost)
        steps = way_steps(t, way);
    found->margin_db = steps * FE_PLACING_STEP_DB;
    found->cost = likeliest(t, found->margin_db, way);
    found->seconds = t->seconds[(size_t)t->hops * t->n + t->n - 1];
    for (unsigned i = 0; i < found->relays; i++)
        found->place[i] = way[i + 1];
    return found->seconds < INFINITY ? FE_OK : FE_E_NO_SOLUTION;
}

static bool are_curves(const fe_placing *in)
{
    if (!in->curves || !in->curve || in->curve_count == 0 || !(in->cost > 0.0))
        return false;
    for (size_t c = 0; c < in->curve_count; c++) {
        const double *cost = in->curves[c].cost;
        for (size_t k = 1; k < FE_PLACING_CURVE_CELLS; k++)
            if (!(cost[k] <= cost[k - 1]))
                return false;
        if (cost[FE_PLACING_CURVE_CELLS - 1] != 0.0)
            return false;
    }
    return true;
}

static bool is_usable(const fe_placing *in, unsigned relays)
{
    if (in->n < 2 || relays > FE_CHAIN_MOST_RELAYS || !in->margin_db || !are_curves(in))
        return false;
    if (!isfinite(in->first_db + in->between_db) || !isfinite(in->last_db + in->direct_db))
        return false;
    for (size_t k = 0; k < in->n * (in->n - 1) / 2; k++)
        if (isnan(in->margin_db[k]) || in->curve[k] >= in->curve_count ||
            (in->seconds && !(in->seconds[k] >= 0.0)))
            return false;
    return true;
}

fe_status fe_placing_find(const fe_placing *placing, unsigned relays, fe_placing_best *best)
{
    if (!is_usable(placing, relays))
        return FE_E_DOMAIN;
    if (placing->n < (size_t)relays + 2)
        return FE_E_NO_SOLUTION;
    tables t = {.in = placing, .n = placing->n, .hops = relays + 1};
    const size_t cells = (t.hops + 1) * t.n;
    t.reach = calloc(cells, sizeof *t.reach);
    t.seconds = calloc(cells, sizeof *t.seconds);
    t.before = calloc(cells, sizeof *t.before);
    t.cost = malloc(t.n * (t.n - 1) / 2 * sizeof *t.cost);
    fe_status status = t.reach && t.seconds && t.before && t.cost ? FE_OK : FE_E_MEMORY;
    if (status == FE_OK) {
        fe_placing_best found = {.relays = relays};
        status = find(&t, &found);
        if (status == FE_OK)
            *best = found;
    }
    free(t.reach);
    free(t.seconds);
    free(t.before);
    free(t.cost);
    return status;
}
