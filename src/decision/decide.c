/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>

#include "farend/network.h"
#include "farend/outlook.h"
#include "farend/radio_link.h"

bool fe_way_is_power(fe_way_kind kind)
{
    return kind == FE_WAY_FEED || kind == FE_WAY_POE || kind == FE_WAY_SOLAR;
}

/* ---- What to build ---- */

/* The way of data that is recommended over a path; null: none. */
static const fe_way *data_of(const fe_result *result, size_t path)
{
    const int way = path < result->pick_count ? result->picks[path].way : -1;
    return way < 0 ? NULL : &result->ways[way];
}

/*
 * How much a way asks of those who build it, where verdicts are equal: radio before cable, a
 * cable in the air before one in the ground, fewer relays before more. Power that rides on what
 * is built anyway comes before a panel, and a panel before a trench of its own. Common
 * practice, no source.
 */
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
        return 8;
    case FE_WAY_COPPER_BURIED:
    case FE_WAY_FIBRE_BURIED:
        return 10;
    case FE_WAY_SINGLE_PAIR:
        return way->posts > 0 ? 9 : 11;
    case FE_WAY_POE: {
        /* On the data cable that is laid anyway it asks for nothing. */
        const fe_way *data = data_of(result, way->path);
        const bool same =
            data && (data->kind == FE_WAY_COPPER_BURIED || data->kind == FE_WAY_COPPER_POSTS) &&
            data->index == way->index;
        return same ? 1 : 9;
    }
    case FE_WAY_FEED: {
        /* In the trench of the data cable the feed costs its cable alone; on mains an
         * electrician comes with it. */
        const fe_plan_source *source = &result->feeds[way->index].source;
        const fe_way *data = data_of(result, way->path);
        const bool shared = data && data->trench_m > 0.0;
        return (shared ? 2 : 10) + (source->ac && source->volt > 50.0 ? 2 : 0);
    }
    case FE_WAY_SOLAR:
        return 6;
    case FE_WAY_KINDS:
        break;
    }
    return 20;
}

/* The smallest conductor that is not too much used, at the lowest voltage that has one. */
static bool is_preferred_feed(const fe_result *result, const fe_way *a, const fe_way *b)
{
    const fe_feed_choice *one = &result->feeds[a->index];
    const fe_feed_choice *other = &result->feeds[b->index];
    if (one->conductor.area_m2 != other->conductor.area_m2)
        return one->conductor.area_m2 < other->conductor.area_m2;
    return one->source.volt < other->source.volt;
}

static bool is_preferred(const fe_result *result, const fe_way *a, const fe_way *b)
{
    if (a->verdict != b->verdict)
        return a->verdict < b->verdict;
    const int asked_a = effort(result, a);
    const int asked_b = effort(result, b);
    if (asked_a != asked_b)
        return asked_a < asked_b;
    if (a->kind == FE_WAY_FEED && b->kind == FE_WAY_FEED)
        return is_preferred_feed(result, a, b);
    if (!isnan(a->chance) && !isnan(b->chance))
        return a->chance > b->chance;
    return a->used < b->used;
}

/* Data that goes over a feed which is to be laid takes that feed with it. */
static bool goes_together(const fe_result *result, const fe_way *power)
{
    const fe_way *data = data_of(result, power->path);
    if (!data || data->kind != FE_WAY_FEED_DATA || !result->feed_data[data->index].planned)
        return true;
    return power->kind == FE_WAY_FEED && result->feeds[power->index].source.ac;
}

static int best_way(const fe_result *result, size_t path, bool power)
{
    int best = -1;
    for (size_t i = 0; i < result->way_count; i++) {
        const fe_way *way = &result->ways[i];
        if (way->verdict == FE_VERDICT_FAILS || way->path != path ||
            fe_way_is_power(way->kind) != power || (power && !goes_together(result, way)))
            continue;
        if (best < 0 || is_preferred(result, way, &result->ways[best]))
            best = (int)i;
    }
    return best;
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

static bool comes_close(const fe_result *result, const fe_way *way, const fe_way *chosen)
{
    const int more = effort(result, way) - effort(result, chosen);
    if (way->verdict == FE_VERDICT_FAILS)
        return false;
    if (way->verdict > chosen->verdict)
        return more < 0 && misses_by_a_hair(result, way);
    /* A sum that lacks something tells nothing. */
    const bool costs =
        way->parts.unpriced == 0 && chosen->parts.unpriced == 0 &&
        fabs(way->parts.cost - chosen->parts.cost) <= CLOSE_COST * chosen->parts.cost;
    return abs(more) <= CLOSE_EFFORT || costs;
}

static int rival_of(const fe_result *result, int chosen)
{
    int rival = -1;
    for (size_t i = 0; i < result->way_count && chosen >= 0; i++) {
        const fe_way *way = &result->ways[i];
        const fe_way *best = &result->ways[chosen];
        if ((int)i == chosen || way->path != best->path ||
            fe_way_is_power(way->kind) != fe_way_is_power(best->kind) ||
            !comes_close(result, way, best))
            continue;
        if (rival < 0 || is_preferred(result, way, &result->ways[rival]))
            rival = (int)i;
    }
    return rival;
}

static bool is_asked(const fe_plan *plan, size_t path)
{
    fe_path_traffic traffic;
    fe_network_traffic(plan, path, &traffic);
    return path == 0 || traffic.traffic_count > 0;
}

/* Path after path, since what one takes of a delay leaves the next so much less. */
static void pick_data(fe_result *result)
{
    for (size_t path = 0; path < result->pick_count; path++) {
        fe_pick *pick = &result->picks[path];
        decide_times(result, path);
        if (!is_asked(result->plan, path))
            continue;
        pick->asked = true;
        pick->way = best_way(result, path, false);
    }
    result->data_way = result->picks[0].way;
}

/* After the data, in whose trench a feed may lie. */
static void pick_power(fe_result *result)
{
    for (size_t path = 0; path < result->pick_count; path++) {
        fe_pick *pick = &result->picks[path];
        for (size_t i = 0; i < result->way_count; i++)
            pick->power_asked = pick->power_asked || (fe_way_is_power(result->ways[i].kind) &&
                                                      result->ways[i].path == path);
        if (pick->power_asked)
            pick->power_way = best_way(result, path, true);
    }
    result->power_way = result->picks[0].power_way;
}

fe_status decide_ways(fe_result *result)
{
    const size_t paths = result->plan->path_count;
    result->data_way = result->power_way = -1;
    result->data_rival = result->power_rival = -1;
    result->picks = malloc((paths + 1) * sizeof *result->picks);
    if (!result->picks)
        return FE_E_MEMORY;
    result->pick_count = paths;
    for (size_t path = 0; path <= paths; path++)
        result->picks[path] = (fe_pick){false, -1, -1, false, -1, -1};
    const fe_status status = decide_rows(result);
    if (status < 0)
        return status;
    pick_data(result);
    pick_power(result);
    return status;
}

/* What no choice of a way depends on: parts, costs, hazards, and what comes close. */
static fe_status add_details(fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->way_count && status >= 0; i++)
        status = decide_parts(result, &result->ways[i]);
    for (size_t path = 0; path < result->pick_count; path++) {
        fe_pick *pick = &result->picks[path];
        pick->rival = rival_of(result, pick->way);
        pick->power_rival = rival_of(result, pick->power_way);
    }
    result->data_rival = result->picks[0].rival;
    result->power_rival = result->picks[0].power_rival;
    return status;
}

size_t fe_result_choice_count(const fe_result *result)
{
    return 2 * result->pick_count;
}

bool fe_result_is_power_choice(const fe_result *result, size_t choice)
{
    return choice >= result->pick_count;
}

size_t fe_result_path_of_choice(const fe_result *result, size_t choice)
{
    return choice % result->pick_count;
}

int fe_result_choice(const fe_result *result, size_t choice)
{
    const fe_pick *pick = &result->picks[fe_result_path_of_choice(result, choice)];
    return fe_result_is_power_choice(result, choice) ? pick->power_way : pick->way;
}

bool fe_result_needs_power(const fe_result *result)
{
    return result->feed_count > 0 || result->solar_count > 0;
}

bool fe_result_choice_is_asked(const fe_result *result, size_t choice)
{
    const fe_pick *pick = &result->picks[fe_result_path_of_choice(result, choice)];
    return fe_result_is_power_choice(result, choice) ? pick->power_asked : pick->asked;
}

fe_verdict fe_result_verdict(const fe_result *result)
{
    fe_verdict worst = FE_VERDICT_HOLDS;
    for (size_t choice = 0; choice < fe_result_choice_count(result); choice++) {
        const int way = fe_result_choice(result, choice);
        if (fe_result_choice_is_asked(result, choice))
            worst =
                fe_verdict_worse(worst, way < 0 ? FE_VERDICT_FAILS : result->ways[way].verdict);
    }
    return worst;
}

int fe_result_radio_over(const fe_result *result, size_t path)
{
    const fe_way *way = data_of(result, path);
    if (way && (way->kind == FE_WAY_DIRECT || way->kind == FE_WAY_DIRECTIONAL))
        return (int)way->index;
    int best = -1;
    for (size_t i = 0; i < result->radio_count; i++)
        if (result->radio[i].path == path &&
            (best < 0 || fe_radio_is_better(&result->radio[i], &result->radio[best])))
            best = (int)i;
    return best;
}

int fe_result_chosen_radio(const fe_result *result)
{
    return fe_result_radio_over(result, 0);
}

int fe_result_radio_way(const fe_result *result)
{
    const int chosen = fe_result_chosen_radio(result);
    for (size_t i = 0; i < result->way_count && chosen >= 0; i++)
        if ((result->ways[i].kind == FE_WAY_DIRECT ||
             result->ways[i].kind == FE_WAY_DIRECTIONAL) &&
            result->ways[i].index == (size_t)chosen)
            return (int)i;
    return -1;
}

/* ---- All of it ---- */

fe_status fe_decide(const fe_plan *plan, fe_result *result)
{
    fe_status (*const parts[])(const fe_plan *, fe_result *) = {
        decide_radio, decide_overhead,  decide_channels,
        decide_feeds, decide_feed_data, decide_solar,
    };
    fe_result found = {.plan = plan};
    fe_status status = FE_OK;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0] && status >= 0; i++)
        status = fe_status_worse(status, parts[i](plan, &found));
    found.outside_range = status == FE_W_RANGE;
    if (status >= 0)
        status = fe_status_worse(status, decide_ways(&found));
    if (status >= 0)
        status = fe_status_worse(status, add_details(&found));
    if (status < 0) {
        fe_result_free(&found);
        return status;
    }
    *result = found;
    return status;
}

fe_status fe_decide_cables(const fe_plan *plan, fe_result *result)
{
    fe_result found = {.plan = plan, .data_way = -1, .power_way = -1};
    fe_status status = decide_overhead(plan, &found);
    if (status >= 0)
        status = fe_status_worse(status, decide_channels(plan, &found));
    found.outside_range = status == FE_W_RANGE;
    if (status < 0) {
        fe_result_free(&found);
        return status;
    }
    *result = found;
    return status;
}

void fe_result_free(fe_result *result)
{
    for (size_t i = 0; i < result->radio_count; i++)
        fe_hop_budget_free(&result->radio[i].budget);
    for (size_t i = 0; i < result->overhead_count; i++)
        fe_posts_result_free(&result->overhead[i]);
    free(result->overhead);
    free(result->radio);
    for (size_t i = 0; i < result->relay_count; i++)
        free(result->relays[i].alone);
    free(result->relays);
    free(result->channels);
    for (size_t i = 0; i < result->feed_count; i++)
        free(result->feeds[i].entry);
    free(result->feeds);
    free(result->feed_data);
    for (size_t i = 0; i < result->solar_count; i++)
        free(result->solars[i].sized);
    free(result->solars);
    for (size_t i = 0; i < result->way_count; i++)
        fe_parts_free(&result->ways[i].parts);
    free(result->ways);
    free(result->picks);
    fe_outlook_free(result->outlook);
    *result = (fe_result){0};
}
