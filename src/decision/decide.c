/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>

#include "farend/outlook.h"
#include "farend/radio_link.h"

bool fe_way_is_power(fe_way_kind kind)
{
    return kind == FE_WAY_FEED || kind == FE_WAY_POE || kind == FE_WAY_SOLAR;
}

bool fe_way_is_link(fe_way_kind kind)
{
    return kind == FE_WAY_DIRECT || kind == FE_WAY_DIRECTIONAL;
}

bool fe_way_is_radio(fe_way_kind kind)
{
    return fe_way_is_link(kind) || kind == FE_WAY_RELAYS;
}

bool fe_feed_is_mains(const fe_feed_choice *feed)
{
    static const double EXTRA_LOW_V = 50.0;
    return feed->source.ac && feed->source.volt > EXTRA_LOW_V;
}

const fe_way *fe_result_way(const fe_result *result, int index)
{
    return index < 0 ? NULL : &result->ways[index];
}

/* The way of data that is recommended over a path; null: none. */
static const fe_way *data_of(const fe_result *result, size_t path)
{
    return path < result->pick_count ? fe_result_way(result, result->picks[path].way) : NULL;
}

/* What no choice of a way depends on: parts, costs, hazards, and what comes close. */
static fe_status add_details(fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->way_count && status >= 0; i++)
        status = decide_parts(result, &result->ways[i]);
    if (status >= 0)
        status = decide_rivals(result);
    return status;
}

/* ---- Choices by number ---- */

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
        const fe_way *way = fe_result_way(result, fe_result_choice(result, choice));
        if (fe_result_choice_is_asked(result, choice))
            worst = fe_verdict_worse(worst, way ? way->verdict : FE_VERDICT_FAILS);
    }
    return worst;
}

/* Over a path, whatever is recommended there; -1: none. */
static int best_radio(const fe_result *result, size_t path)
{
    int best = -1;
    for (size_t i = 0; i < result->radio_count; i++)
        if (result->radio[i].path == path &&
            (best < 0 || fe_radio_is_better(&result->radio[i], &result->radio[best])))
            best = (int)i;
    return best;
}

int fe_result_radio_over(const fe_result *result, size_t path)
{
    const fe_way *way = data_of(result, path);
    return way && fe_way_is_link(way->kind) ? (int)way->index : best_radio(result, path);
}

int fe_result_chosen_radio(const fe_result *result)
{
    return fe_result_radio_over(result, 0);
}

int fe_result_radio_way(const fe_result *result)
{
    const int chosen = fe_result_chosen_radio(result);
    for (size_t i = 0; i < result->way_count && chosen >= 0; i++)
        if (fe_way_is_link(result->ways[i].kind) && result->ways[i].index == (size_t)chosen)
            return (int)i;
    return -1;
}

/* ---- All of it ---- */

fe_status fe_decide(const fe_plan *plan, fe_result *result)
{
    fe_status (*const parts[])(const fe_plan *, fe_result *) = {
        decide_links, decide_relays,    decide_overhead, decide_channels,
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
        status = fe_status_worse(status, decide_own_stretches(&found));
    if (status >= 0)
        status = fe_status_worse(status, add_details(&found));
    if (status < 0) {
        fe_result_free(&found);
        return status;
    }
    *result = found;
    return status;
}

/*
 * A link shares no work with a way of power, so which of them is picked, if one is, hangs on no
 * other way of a plan with one path. Where that is the best of them, as where none is picked,
 * fe_result_chosen_radio is settled.
 */
static bool is_settled(const fe_result *links)
{
    return links->plan->path_count == 1 &&
           fe_result_chosen_radio(links) == best_radio(links, 0);
}

fe_status fe_decide_links(const fe_plan *plan, fe_result *result)
{
    fe_result found = {.plan = plan};
    fe_status status = decide_links(plan, &found);
    found.outside_range = status == FE_W_RANGE;
    if (status >= 0)
        status = fe_status_worse(status, decide_ways(&found));
    if (status >= 0 && is_settled(&found)) {
        *result = found;
        return status;
    }
    fe_result_free(&found);
    return status < 0 ? status : fe_decide(plan, result);
}

fe_status fe_decide_cables(const fe_plan *plan, fe_result *result)
{
    fe_result found = {.plan = plan};
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
    for (size_t i = 0; i < result->pick_count; i++)
        fe_parts_free(&result->picks[i].together);
    free(result->picks);
    fe_outlook_free(result->outlook);
    *result = (fe_result){0};
}
