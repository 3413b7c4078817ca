/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/placing.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

size_t fe_placing_index(size_t n, size_t i, size_t j)
{
    return i * n - i * (i + 1) / 2 + (j - i - 1);
}

/*
 * Tables over hops made so far (0 to relays + 1) and candidate reached. The first pass fills
 * `reach` with the best weakest margin; the second, over hops that have at least the margin
 * found, fills it with the least time and `before` with the candidate come from.
 */
typedef struct tables {
    const fe_placing *in;
    size_t n;
    unsigned hops;
    double *reach;  /* (hops + 1) rows of n */
    size_t *before; /* the same */
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

static void clear(tables *t, double value)
{
    for (size_t k = 0; k < (t->hops + 1) * t->n; k++)
        t->reach[k] = value;
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

static double widest(tables *t)
{
    const fe_placing *in = t->in;
    clear(t, -INFINITY);
    t->reach[0] = INFINITY;
    for (unsigned hop = 1; hop <= t->hops; hop++) {
        const double *from = t->reach + (hop - 1) * t->n;
        double *to = t->reach + hop * t->n;
        for (size_t i = first_start(hop); i < starts_until(t, hop); i++) {
            if (from[i] == -INFINITY)
                continue;
            for (size_t j = ends_from(t, hop, i); j < ends_until(t, hop); j++) {
                const double margin = margin_of(in, i, j);
                const double weakest = margin < from[i] ? margin : from[i];
                to[j] = weakest > to[j] ? weakest : to[j];
            }
        }
    }
    return t->reach[t->hops * t->n + t->n - 1];
}

static double quickest(tables *t, double least_db)
{
    const fe_placing *in = t->in;
    clear(t, INFINITY);
    t->reach[0] = 0.0;
    for (unsigned hop = 1; hop <= t->hops; hop++) {
        const double *from = t->reach + (hop - 1) * t->n;
        double *to = t->reach + hop * t->n;
        size_t *before = t->before + hop * t->n;
        for (size_t i = first_start(hop); i < starts_until(t, hop); i++) {
            if (from[i] == INFINITY)
                continue;
            for (size_t j = ends_from(t, hop, i); j < ends_until(t, hop); j++) {
                if (margin_of(in, i, j) < least_db)
                    continue;
                const double seconds =
                    from[i] + (in->seconds ? in->seconds[fe_placing_index(t->n, i, j)] : 0.0);
                if (seconds < to[j]) {
                    to[j] = seconds;
                    before[j] = i;
                }
            }
        }
    }
    return t->reach[t->hops * t->n + t->n - 1];
}

static bool is_usable(const fe_placing *in, unsigned relays)
{
    if (in->n < 2 || relays > FE_CHAIN_MOST_RELAYS || !in->margin_db)
        return false;
    if (!isfinite(in->first_db + in->between_db) || !isfinite(in->last_db + in->direct_db))
        return false;
    for (size_t k = 0; k < in->n * (in->n - 1) / 2; k++)
        if (isnan(in->margin_db[k]) || (in->seconds && !(in->seconds[k] >= 0.0)))
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
    t.before = calloc(cells, sizeof *t.before);
    fe_status status = t.reach && t.before ? FE_OK : FE_E_MEMORY;
    if (status == FE_OK) {
        fe_placing_best found = {.relays = relays};
        found.margin_db = widest(&t);
        /* -INFINITY too would be "at least the margin found" in the second pass. */
        found.seconds = found.margin_db > -INFINITY ? quickest(&t, found.margin_db) : INFINITY;
        if (found.seconds == INFINITY)
            status = FE_E_NO_SOLUTION;
        size_t at = t.n - 1;
        for (unsigned hop = t.hops; hop > 1 && status == FE_OK; hop--) {
            at = t.before[hop * t.n + at];
            found.place[hop - 2] = at;
        }
        if (status == FE_OK)
            *best = found;
    }
    free(t.reach);
    free(t.before);
    return status;
}
