/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which ways to build: data and power over a path together, since they may share a trench. */
#include <math.h>
#include <stdlib.h>

#include "decision/decide.h"
#include "farend/network.h"

/* ---- How much it asks of those who build it ---- */

/*
 * Where verdicts are equal: radio before cable, a cable in the air before one in the ground,
 * fewer relays before more; a panel before a trench of its own. Digging is what a trench asks,
 * LAYING what each cable in it asks: duct, cable and ends. Common practice, no source.
 */
enum { DIGGING = 7, LAYING = 3, HANGING = 8, MORE_FOR_MAINS = 2, NO_EFFORT_KNOWN = 20 };
/* A port of power over the pairs; the cable that it takes, where it is not there. */
enum { PORT = 1, CABLE_FOR_PORT = 8 };

static int effort(const fe_result *result, const fe_way *way)
{
    switch (way->kind) {
    case FE_WAY_DIRECT:
        return result->radio[way->index].owned ? 0 : 1;
    case FE_WAY_DIRECTIONAL:
        return 2;
    case FE_WAY_FEED_DATA:
        return 3;
    case FE_WAY_RELAYS:
        return 3 + 2 * (int)way->relays;
    case FE_WAY_FIBRE_POSTS:
    case FE_WAY_COPPER_POSTS:
        return HANGING;
    case FE_WAY_COPPER_BURIED:
    case FE_WAY_FIBRE_BURIED:
        return DIGGING + LAYING;
    case FE_WAY_SINGLE_PAIR:
        return (way->posts > 0 ? HANGING : DIGGING + LAYING) + 1;
    case FE_WAY_POE:
        return PORT + CABLE_FOR_PORT;
    case FE_WAY_FEED:
        /* On mains an electrician comes with it. */
        return DIGGING + LAYING +
               (fe_feed_is_mains(&result->feeds[way->index]) ? MORE_FOR_MAINS : 0);
    case FE_WAY_SOLAR:
        return 6;
    case FE_WAY_KINDS:
        break;
    }
    return NO_EFFORT_KNOWN;
}

/* Of a way of data and one of power over a path: what is done once for both. */
static int shared_effort(const fe_way *a, const fe_way *b)
{
    const fe_way *power = fe_way_is_power(a->kind) ? a : b;
    const fe_way *data = power == a ? b : a;
    if (power->kind == FE_WAY_POE)
        return data->index == power->index &&
                       (data->kind == FE_WAY_COPPER_BURIED || data->kind == FE_WAY_COPPER_POSTS)
                   ? CABLE_FOR_PORT
                   : 0;
    return fe_way_share_trench(a, b) ? DIGGING : 0;
}

/* What a way asks beside the other that is built anyway; null: nothing is. */
static int effort_beside(const fe_result *result, const fe_way *way, const fe_way *other)
{
    return effort(result, way) - (other ? shared_effort(way, other) : 0);
}

bool fe_way_share_trench(const fe_way *a, const fe_way *b)
{
    return a->path == b->path && a->trench_m > 0.0 && b->trench_m > 0.0;
}

/* ---- Which one is preferred ---- */

/* The smallest conductor that is not too much used, at the lowest voltage that has one. */
static bool is_preferred_feed(const fe_result *result, const fe_way *a, const fe_way *b)
{
    const fe_feed_choice *one = &result->feeds[a->index];
    const fe_feed_choice *other = &result->feeds[b->index];
    if (one->conductor.area_m2 != other->conductor.area_m2)
        return one->conductor.area_m2 < other->conductor.area_m2;
    return one->source.volt < other->source.volt;
}

/* Between ways that ask as much and have one verdict. */
static bool is_better_of_equals(const fe_result *result, const fe_way *a, const fe_way *b)
{
    if (a->kind == FE_WAY_FEED && b->kind == FE_WAY_FEED)
        return is_preferred_feed(result, a, b);
    if (!isnan(a->chance) && !isnan(b->chance))
        return a->chance > b->chance;
    return a->used < b->used;
}

static bool is_preferred(const fe_result *result, const fe_way *a, const fe_way *b,
                         const fe_way *beside)
{
    if (a->verdict != b->verdict)
        return a->verdict < b->verdict;
    const int asked_a = effort_beside(result, a, beside);
    const int asked_b = effort_beside(result, b, beside);
    return asked_a != asked_b ? asked_a < asked_b : is_better_of_equals(result, a, b);
}

/* ---- Pairs ---- */

/* Data and power over a path; one of them may be null. */
typedef struct way_pair {
    const fe_way *data;
    const fe_way *power;
} way_pair;

static int verdict_of(const fe_way *way)
{
    return way ? (int)way->verdict : (int)FE_VERDICT_FAILS;
}

static int pair_effort(const fe_result *result, const way_pair *pair)
{
    return (pair->data ? effort(result, pair->data) : 0) +
           (pair->power ? effort_beside(result, pair->power, pair->data) : 0);
}

/* Data first, then power, then what both together ask. */
static bool is_preferred_pair(const fe_result *result, const way_pair *a, const way_pair *b)
{
    if (verdict_of(a->data) != verdict_of(b->data))
        return verdict_of(a->data) < verdict_of(b->data);
    if (verdict_of(a->power) != verdict_of(b->power))
        return verdict_of(a->power) < verdict_of(b->power);
    const int asked_a = pair_effort(result, a);
    const int asked_b = pair_effort(result, b);
    if (asked_a != asked_b)
        return asked_a < asked_b;
    /* Then what asks less by itself, which does not hang on the other. */
    if (a->data != b->data)
        return a->data && b->data && is_preferred(result, a->data, b->data, NULL);
    return a->power && b->power && is_preferred(result, a->power, b->power, NULL);
}

/* Data that goes over a feed which is to be laid takes that feed with it. */
static bool goes_together(const fe_result *result, const way_pair *pair)
{
    if (!pair->data || !pair->power || pair->data->kind != FE_WAY_FEED_DATA ||
        !result->feed_data[pair->data->index].planned)
        return true;
    return pair->power->kind == FE_WAY_FEED && result->feeds[pair->power->index].source.ac;
}

static bool is_open(const fe_way *way, size_t path, bool power)
{
    return way->path == path && fe_way_is_power(way->kind) == power &&
           way->verdict != FE_VERDICT_FAILS;
}

/* The best with this way of data, or without any. */
static void pick_power_beside(const fe_result *result, size_t path, const fe_way *data,
                              way_pair *best)
{
    way_pair pair = {.data = data};
    if (is_preferred_pair(result, &pair, best))
        *best = pair;
    for (size_t i = 0; i < result->way_count && result->picks[path].power_asked; i++) {
        pair.power = &result->ways[i];
        if (is_open(pair.power, path, true) && goes_together(result, &pair) &&
            is_preferred_pair(result, &pair, best))
            *best = pair;
    }
}

static int index_of(const fe_result *result, const fe_way *way)
{
    return way ? (int)(way - result->ways) : -1;
}

static void pick_pair(fe_result *result, size_t path)
{
    fe_pick *pick = &result->picks[path];
    way_pair best = {NULL, NULL};
    pick_power_beside(result, path, NULL, &best);
    for (size_t i = 0; i < result->way_count && pick->asked; i++)
        if (is_open(&result->ways[i], path, false))
            pick_power_beside(result, path, &result->ways[i], &best);
    pick->way = index_of(result, best.data);
    pick->power_way = index_of(result, best.power);
}

/* ---- All paths ---- */

static bool needs_power(const fe_result *result, size_t path)
{
    for (size_t i = 0; i < result->way_count; i++)
        if (fe_way_is_power(result->ways[i].kind) && result->ways[i].path == path)
            return true;
    return false;
}

fe_status decide_ways(fe_result *result)
{
    const size_t paths = result->plan->path_count;
    result->picks = malloc((paths + 1) * sizeof *result->picks);
    if (!result->picks)
        return FE_E_MEMORY;
    result->pick_count = paths;
    for (size_t path = 0; path <= paths; path++)
        result->picks[path] = (fe_pick){.way = -1,
                                        .rival = -1,
                                        .power_way = -1,
                                        .power_rival = -1,
                                        .together = {.cost = (double)NAN}};
    const fe_status status = decide_rows(result);
    if (status < 0)
        return status;
    /* Path after path, since what one takes of a delay leaves the next so much less. */
    for (size_t path = 0; path < paths; path++) {
        decide_times(result, path);
        result->picks[path].asked = fe_network_is_asked(result->plan, path);
        result->picks[path].power_asked = needs_power(result, path);
        pick_pair(result, path);
    }
    return status;
}

/* ---- What comes close ---- */

/* Prices within this share, and efforts within this step, do not tell ways apart. */
static const double CLOSE_COST = 0.15;
enum { CLOSE_EFFORT = 2 };
/* A chance or a limit missed by this much is missed by a hair (all: common practice). */
static const double HAIR = 0.1;

static bool misses_by_a_hair(const fe_result *result, const fe_way *way)
{
    const double confidence = result->plan->site.confidence.typical;
    return isnan(way->chance) ? way->used <= 1.0 + HAIR : way->chance >= confidence - HAIR;
}

/* What a way costs more than the other that is built anyway; NAN where a price is missing. */
static fe_status cost_beside(const fe_result *result, const fe_way *way, const fe_way *other,
                             double *cost)
{
    fe_part_list both;
    *cost = way->parts.unpriced > 0 ? (double)NAN : way->parts.cost;
    if (isnan(*cost) || !other || other->parts.unpriced > 0)
        return FE_OK;
    const fe_status status = fe_parts_of_pair(result, way, other, &both);
    if (status < 0)
        return status;
    *cost = both.cost - other->parts.cost;
    fe_parts_free(&both);
    return status;
}

static fe_status comes_close(const fe_result *result, const fe_way *way, const fe_way *chosen,
                             const fe_way *beside, bool *close)
{
    const int more = effort_beside(result, way, beside) - effort_beside(result, chosen, beside);
    double costs[2];
    if (way->verdict != chosen->verdict || abs(more) <= CLOSE_EFFORT) {
        *close = way->verdict <= chosen->verdict ? abs(more) <= CLOSE_EFFORT
                                                 : more < 0 && misses_by_a_hair(result, way);
        if (*close || way->verdict > chosen->verdict)
            return FE_OK;
    }
    fe_status status = cost_beside(result, way, beside, &costs[0]);
    if (status >= 0)
        status = cost_beside(result, chosen, beside, &costs[1]);
    /* A sum that lacks something tells nothing. */
    *close = status >= 0 && fabs(costs[0] - costs[1]) <= CLOSE_COST * costs[1];
    return status;
}

static fe_status find_rival(const fe_result *result, int chosen, int other, int *rival)
{
    const fe_way *beside = fe_result_way(result, other);
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->way_count && chosen >= 0 && status >= 0; i++) {
        const fe_way *way = &result->ways[i];
        const fe_way *best = &result->ways[chosen];
        bool close = false;
        if ((int)i == chosen || !is_open(way, best->path, fe_way_is_power(best->kind)))
            continue;
        status = comes_close(result, way, best, beside, &close);
        if (close && (*rival < 0 || is_preferred(result, way, &result->ways[*rival], beside)))
            *rival = (int)i;
    }
    return status;
}

/* ---- Both together ---- */

static fe_status sum_up(const fe_result *result, fe_pick *pick)
{
    const fe_way *data = fe_result_way(result, pick->way);
    const fe_way *power = fe_result_way(result, pick->power_way);
    if (!data && !power)
        return FE_OK;
    if (data && power && fe_way_share_trench(data, power))
        pick->shared_m = fmin(data->trench_m, power->trench_m);
    return fe_parts_of_pair(result, data ? data : power, data ? power : NULL, &pick->together);
}

fe_status decide_rivals(fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t path = 0; path < result->pick_count && status >= 0; path++) {
        fe_pick *pick = &result->picks[path];
        status = sum_up(result, pick);
        if (status >= 0)
            status = find_rival(result, pick->way, pick->power_way, &pick->rival);
        if (status >= 0)
            status = find_rival(result, pick->power_way, pick->way, &pick->power_rival);
    }
    return status;
}
