/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables by their real length, and the feed by what arrives at its far end. */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "decision/cable_length.h"
#include "farend/poe.h"
#include "farend/radio_hop.h"
#include "farend/supply_plan.h"

/* ---- Data cable ---- */

static const double HOTTEST_CABLE_C = 90.0;
static const double IN_GROUND_C = 20.0;
/* Stranded cords of AWG 24: ANSI/TIA-568. */
static const double CORD_DERATING = 0.2;

static void add_lengths(const fe_plan *plan, fe_channel_result *channel)
{
    channel->indoor_m = plan_indoor_length(plan);
    channel->cords_m = plan->cable.cords_m.typical;
    channel->slack_m = plan_slack(channel->route_m);
    channel->length_m = channel->route_m + channel->drops_m + channel->indoor_m +
                        channel->cords_m + channel->slack_m;
}

/* One pair: a single length, no power and no cords. */
static fe_status judge_single_pair(fe_channel_result *channel)
{
    const fe_ethernet_reach *reach =
        fe_ethernet_reach_for("10BASE-T1L", FE_CATEGORY_SINGLE_PAIR, false);
    if (!reach)
        return FE_E_DOMAIN;
    channel->application = reach->application;
    channel->rate_bps = reach->rate_bit_s;
    channel->limit_m = reach->channel_limit_m;
    channel->verdict = fe_verdict_of_use(channel->length_m, channel->limit_m);
    return FE_OK;
}

/* ---- Four pairs ---- */

static double wanted_rate(const fe_plan *plan, size_t path)
{
    double rate_bps[2];
    fe_radio_rates(plan, path, rate_bps);
    return fmax(fmax(rate_bps[0], rate_bps[1]), 1.0);
}

static void judge_poe(fe_channel_result *channel)
{
    fe_poe_result *poe = &channel->poe;
    const fe_channel_power *power = &channel->answer.power;
    poe->verdict = FE_VERDICT_FAILS;
    poe->least_v = (double)NAN;
    poe->limit =
        poe->need.mains ? "loads that want mains voltage" : "the power that pairs may carry";
    if (!channel->answer.has_power || poe->need.mains)
        return;
    const fe_poe_class *class = fe_poe_class_find(power->device_class);
    poe->least_v = fe_poe_type_find(class->lowest_type)->least_device_v;
    poe->limit = "voltage at the far end";
    if (power->verdict == FE_VERDICT_FAILS || !(power->device_v >= poe->least_v))
        return;
    poe->verdict = fe_verdict_of_use(poe->need.power_w, power->promised_w);
    poe->limit = "the power of its class";
    if (power->verdict > poe->verdict) {
        poe->verdict = power->verdict;
        poe->limit = "resistance of the pairs";
    }
    if (channel->verdict > poe->verdict) {
        poe->verdict = channel->verdict;
        poe->limit = "cable length";
    }
}

fe_status fe_channel_result_solve(fe_channel_result *channel)
{
    const fe_status status = fe_channel_solve(&channel->given, &channel->answer);
    if (status < 0)
        return status;
    const int best = fe_channel_best(&channel->answer);
    channel->has_answer = true;
    channel->application = "Ethernet";
    channel->verdict = FE_VERDICT_FAILS;
    channel->limit_m = channel->rate_bps = 0.0;
    if (best >= 0) {
        const fe_channel_rate *rate = &channel->answer.rates[best];
        channel->application = rate->reach->application;
        channel->rate_bps = rate->reach->rate_bit_s;
        channel->limit_m = rate->limit_m;
        channel->verdict = rate->verdict;
    }
    judge_poe(channel);
    return status;
}

static fe_status judge_pairs(const fe_plan *plan, fe_channel_result *channel)
{
    fe_pairs_need *need = &channel->poe.need;
    const fe_status known = fe_supply_over_pairs(plan, channel->path, need);
    if (known < 0)
        return known;
    const fe_poe_class *power =
        need->power_w > 0.0 && !need->mains ? fe_poe_class_for(need->power_w) : NULL;
    channel->given =
        (fe_channel_case){.length_m = channel->length_m,
                          .cords_m = channel->cords_m,
                          .cord_derating = CORD_DERATING,
                          .connectors = (unsigned)plan->cable.patch_points.typical,
                          .temp_c = channel->temp_c,
                          .rate_bit_s = wanted_rate(plan, channel->path),
                          .wire_area_m2 = isfinite(channel->cable->conductor_area_m2)
                                              ? channel->cable->conductor_area_m2
                                              : 0.0,
                          .poe_class = power ? power->device_class : FE_CHANNEL_NO_POE,
                          .poe_need_w = power ? need->power_w : 0.0};
    if (!fe_category_named(channel->cable->category, &channel->given.category))
        return FE_E_DOMAIN;
    return fe_channel_result_solve(channel);
}

/* A pigtail spliced on at each end; the plan says how many pairs of plugs there are. */
enum { FIBRE_SPLICES = 2 };

static fe_status judge_fibre(const fe_plan *plan, fe_channel_result *channel)
{
    fe_fibre kind = FE_FIBRE_OS2;
    channel->fibre = true;
    if (!fe_fibre_named(channel->cable->category, &kind))
        return FE_E_DOMAIN;
    channel->application = kind == FE_FIBRE_OS2 ? "1000BASE-LX" : "1000BASE-SX";
    const fe_fibre_reach *reach = fe_fibre_reach_for(channel->application, kind);
    if (!reach)
        return FE_E_DOMAIN;
    channel->fibre_plugs = (unsigned)plan->cable.patch_points.typical;
    channel->fibre_splices = FIBRE_SPLICES;
    const fe_status status =
        fe_fibre_link_try(reach, kind, channel->length_m, channel->fibre_plugs,
                          channel->fibre_splices, &channel->link);
    channel->rate_bps = reach->rate_bit_s;
    channel->limit_m = reach->reach_m;
    channel->verdict = fe_verdict_of_use(channel->link.used, 1.0);
    return status;
}

static fe_status judge_channel(const fe_plan *plan, fe_channel_result *channel)
{
    channel->temp_c = channel->overhead
                          ? fmin(plan_hottest(plan) + FE_CHANNEL_SUN_K, HOTTEST_CABLE_C)
                          : IN_GROUND_C;
    if (channel->cable->medium == FE_MEDIUM_FIBRE)
        return judge_fibre(plan, channel);
    return channel->cable->medium == FE_MEDIUM_SINGLE_PAIR ? judge_single_pair(channel)
                                                           : judge_pairs(plan, channel);
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
        if (result->overhead[i].cable->medium != FE_MEDIUM_SUPPLY)
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
    choice->verdict = fe_supply_judge(entry);
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

fe_status decide_feed(const fe_plan *plan, fe_feed_choice *choice)
{
    choice->entry = calloc(1, sizeof *choice->entry);
    if (!choice->entry)
        return FE_E_MEMORY;
    fe_status status =
        fe_supply_from_plan(plan, choice->path, &choice->source, 0.0, choice->entry);
    if (status >= 0)
        status = fe_supply_solve(choice->entry);
    if (status >= 0)
        sum_up(choice);
    return status;
}

/* What a feed that goes on asks of this one; true where that is more than so far. */
static bool ask_for_beyond(const fe_feed_choice *farther, fe_feed_choice *feed)
{
    bool more = false;
    for (int metal = 0; metal < 2; metal++) {
        const fe_supply_size *size =
            fe_supply_smallest(farther->entry, (fe_conductor_material)metal, FE_SIZES_METRIC);
        double *least_m2 = &feed->entry->given.least_m2[metal];
        if (size && size->conductor.area_m2 > *least_m2) {
            *least_m2 = size->conductor.area_m2;
            more = true;
        }
    }
    return more;
}

static bool is_same_source(const fe_feed_choice *a, const fe_feed_choice *b)
{
    return a->source.ac == b->source.ac && a->source.volt == b->source.volt;
}

/* A stretch is no thinner than what goes on from its far end; from the tips to the root. */
static fe_status size_for_beyond(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    for (bool more = true; more && status >= 0;) {
        more = false;
        for (size_t i = 0; i < result->feed_count && status >= 0; i++) {
            fe_feed_choice *feed = &result->feeds[i];
            bool asked = false;
            for (size_t k = 0; k < result->feed_count; k++)
                if (is_same_source(feed, &result->feeds[k]) &&
                    fe_supply_goes_on(plan, feed->path, result->feeds[k].path))
                    asked = ask_for_beyond(&result->feeds[k], feed) || asked;
            if (!asked)
                continue;
            status = fe_status_worse(status, fe_supply_solve(feed->entry));
            if (status >= 0)
                sum_up(feed);
            more = true;
        }
    }
    return status;
}

/* The paths whose stretch is laid as a feed from the same source. */
static void put_fed(const fe_result *result, const fe_feed_choice *feed, bool *fed)
{
    for (size_t path = 0; path < result->pick_count; path++) {
        const fe_way *power = fe_result_way(result, result->picks[path].power_way);
        fed[path] = power && power->kind == FE_WAY_FEED &&
                    is_same_source(&result->feeds[power->index], feed);
    }
}

fe_status decide_own_stretches(fe_result *result)
{
    bool *fed = calloc(result->pick_count + 1, sizeof *fed);
    if (!fed)
        return FE_E_MEMORY;
    for (size_t i = 0; i < result->way_count; i++) {
        fe_way *way = &result->ways[i];
        if (way->kind != FE_WAY_FEED)
            continue;
        fe_feed_choice *feed = &result->feeds[way->index];
        put_fed(result, feed, fed);
        fe_supply_own_length(result->plan, feed->path, fed, &feed->entry->place);
        decide_feed_stretch(result, way);
    }
    free(fed);
    return FE_OK;
}

fe_status decide_feeds(const fe_plan *plan, fe_result *result)
{
    if (!plan->feed.given)
        return FE_OK;
    result->feeds =
        calloc(plan->path_count * plan->feed.source_count + 1, sizeof *result->feeds);
    if (!result->feeds)
        return FE_E_MEMORY;
    fe_status status = FE_OK;
    for (size_t path = 0; path < plan->path_count; path++) {
        if (!fe_supply_is_asked(plan, path))
            continue;
        for (size_t i = 0; i < plan->feed.source_count && status >= 0; i++) {
            fe_feed_choice *choice = &result->feeds[result->feed_count++];
            *choice = (fe_feed_choice){.path = path, .source = plan->feed.sources[i]};
            status = decide_feed(plan, choice);
        }
    }
    return status < 0 ? status : fe_status_worse(status, size_for_beyond(plan, result));
}
