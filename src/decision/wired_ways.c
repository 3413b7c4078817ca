/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables by their real length, and the feed by what arrives at its far end. */
#include "decision/decide.h"

#include <stdlib.h>
#include <string.h>

#include "decision/cable_length.h"
#include "farend/supply_plan.h"

/* ---- Data cable ---- */

/* A cable in the sun runs so much over the air (common practice, no source). */
static const double SUN_K = 20.0;

static void add_lengths(const fe_plan *plan, fe_channel_result *channel)
{
    channel->indoor_m = plan_indoor_length(plan);
    channel->cords_m = plan->cable.cords_m.typical;
    channel->slack_m = plan_slack(channel->route_m);
    channel->length_m = channel->route_m + channel->drops_m + channel->indoor_m +
                        channel->cords_m + channel->slack_m;
}

static fe_status judge_copper(const fe_plan *plan, fe_channel_result *channel)
{
    const bool single = channel->cable->medium == FE_MEDIUM_SINGLE_PAIR;
    channel->application = single ? "10BASE-T1L" : "1000BASE-T";
    fe_category category = FE_CATEGORY_SINGLE_PAIR;
    if (!single && !fe_category_named(channel->cable->category, &category))
        return FE_E_DOMAIN;
    const fe_ethernet_reach *reach =
        fe_ethernet_reach_for(channel->application, category, false);
    if (!reach)
        return FE_E_DOMAIN;
    channel->rate_bps = reach->rate_bit_s;
    const fe_channel_plan limit = {
        .channel_limit_m = reach->channel_limit_m,
        .cords_m = single ? 0.0 : channel->cords_m,
        .cord_derating = 0.2,
        .temp_c = channel->overhead ? plan_hottest(plan) + SUN_K : 20.0,
    };
    fe_channel_length longest;
    fe_status status = fe_channel_longest(&limit, &longest);
    if (status == FE_E_NO_SOLUTION) {
        channel->limit_m = 0.0;
        status = FE_OK;
    } else if (status >= 0) {
        channel->limit_m = longest.channel_m;
    }
    channel->verdict = fe_verdict_of_use(channel->length_m, channel->limit_m);
    return status;
}

static fe_status judge_fibre(fe_channel_result *channel)
{
    channel->fibre = true;
    channel->application = "1000BASE-LX";
    fe_fibre kind = FE_FIBRE_OS2;
    if (!fe_fibre_named(channel->cable->category, &kind))
        return FE_E_DOMAIN;
    if (kind != FE_FIBRE_OS2)
        channel->application = "1000BASE-SX";
    const fe_fibre_reach *reach = fe_fibre_reach_for(channel->application, kind);
    if (!reach)
        return FE_E_DOMAIN;
    channel->rate_bps = reach->rate_bit_s;
    channel->limit_m = reach->reach_m;
    channel->verdict = fe_verdict_of_use(channel->length_m, channel->limit_m);
    return FE_OK;
}

static fe_status judge_channel(const fe_plan *plan, fe_channel_result *channel)
{
    return channel->cable->medium == FE_MEDIUM_FIBRE ? judge_fibre(channel)
                                                     : judge_copper(plan, channel);
}

static fe_status new_channel(fe_result *result, fe_channel_result **channel)
{
    fe_channel_result *grown =
        realloc(result->channels, (result->channel_count + 1) * sizeof *grown);
    if (!grown)
        return FE_E_MEMORY;
    result->channels = grown;
    *channel = &result->channels[result->channel_count++];
    return FE_OK;
}

/* As the run on posts counts it, and the cords. */
static fe_status add_hung(const fe_plan *plan, const fe_posts_result *run, fe_result *result)
{
    fe_channel_result *channel = NULL;
    fe_status status = new_channel(result, &channel);
    if (status < 0)
        return status;
    *channel = (fe_channel_result){.path = run->path,
                                   .cable = run->cable,
                                   .overhead = true,
                                   .route_m = run->buy.in_air_m,
                                   .drops_m = run->buy.drops_m + run->buy.drip_m,
                                   .indoor_m = run->buy.indoor_m,
                                   .cords_m = plan->cable.cords_m.typical,
                                   .slack_m = run->buy.slack_m};
    channel->length_m = run->buy.total_m + channel->cords_m;
    return judge_channel(plan, channel);
}

static fe_status add_buried(const fe_plan *plan, size_t path, const char *name,
                            fe_result *result)
{
    const fe_cable_class *cable = fe_plan_cable_class(plan, name);
    if (!cable)
        return FE_OK;
    fe_channel_result *channel = NULL;
    fe_status status = new_channel(result, &channel);
    if (status < 0)
        return status;
    *channel = (fe_channel_result){.path = path,
                                   .cable = cable,
                                   .route_m = plan_trench_length(plan, path),
                                   .drops_m = 2.0 * plan->trench.depth_m.typical};
    add_lengths(plan, channel);
    return judge_channel(plan, channel);
}

fe_status decide_channels(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->overhead_count && status >= 0; i++)
        status = fe_status_worse(status, add_hung(plan, &result->overhead[i], result));
    const char *const buried[] = {plan->cable.cable_class, "duct-fibre", "single-pair"};
    for (size_t path = 0; path < plan->path_count; path++)
        for (size_t i = 0; i < sizeof buried / sizeof buried[0] && status >= 0; i++) {
            if (!buried[i] || (i > 0 && buried[0] && strcmp(buried[0], buried[i]) == 0))
                continue;
            status = fe_status_worse(status, add_buried(plan, path, buried[i], result));
        }
    return status;
}

/* ---- Feed ---- */

/* What rows and tables need of the entry, beside the entry itself. */
static void sum_up(fe_feed_choice *choice)
{
    const fe_supply_entry *entry = choice->entry;
    const fe_supply_choice *sizes = &entry->choices[entry->main_metal][FE_SIZES_METRIC];
    const fe_supply_size *size = fe_supply_shown(entry);
    choice->length_m = entry->given.length_m;
    choice->allowed = entry->given.allowed_drop;
    choice->verdict = (fe_verdict)fe_supply_judge(entry);
    choice->limit = fe_supply_demand_name(sizes->limited_by);
    choice->found = size && size->delivered && choice->verdict != FE_VERDICT_FAILS;
    if (!choice->found)
        return;
    choice->conductor = size->conductor;
    choice->size_name = size->name;
    choice->conductor_c = size->conductor_c;
    choice->far_v = size->far_v;
    choice->drop = size->drop;
    choice->loss_w = size->loss_w;
    choice->load_w = size->load_w;
}

static fe_status solve_source(const fe_plan *plan, fe_feed_choice *choice)
{
    choice->entry = calloc(1, sizeof *choice->entry);
    if (!choice->entry)
        return FE_E_MEMORY;
    fe_status status = fe_supply_from_plan(plan, &choice->source, 0.0, choice->entry);
    if (status >= 0)
        status = fe_supply_solve(choice->entry);
    if (status >= 0)
        sum_up(choice);
    return status;
}

fe_status decide_feeds(const fe_plan *plan, fe_result *result)
{
    if (!plan->feed.given || plan->load_count == 0)
        return FE_OK;
    result->feeds = calloc(plan->feed.source_count, sizeof *result->feeds);
    if (!result->feeds)
        return FE_E_MEMORY;
    fe_status status = FE_OK;
    for (size_t i = 0; i < plan->feed.source_count && status >= 0; i++) {
        fe_feed_choice *choice = &result->feeds[result->feed_count++];
        *choice = (fe_feed_choice){.source = plan->feed.sources[i]};
        status = solve_source(plan, choice);
    }
    return status;
}
