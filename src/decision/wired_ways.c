/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables by their real length, and the feed by what arrives at its far end. */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Data cable ---- */

/* Up or down a wall or post at each end, and what is left over for trimming: common practice.
 */
static const double SLACK_SHARE = 0.02;
static const double SLACK_EACH_END_M = 1.0;
/* A cable in the sun runs so much over the air (common practice, no source). */
static const double SUN_K = 20.0;

static double hottest(const fe_plan *plan)
{
    double hottest_c = -INFINITY;
    for (size_t i = 0; i < plan->season_count; i++)
        hottest_c = fmax(hottest_c, plan->seasons[i].hottest_c);
    return hottest_c;
}

static double sum_of(const fe_value_list *list)
{
    double sum = 0.0;
    for (size_t i = 0; i < list->count; i++)
        sum += list->items[i].typical;
    return sum;
}

static void add_lengths(const fe_plan *plan, fe_channel_result *channel)
{
    channel->indoor_m = sum_of(&plan->cable.indoor_m);
    channel->cords_m = plan->cable.cords_m.typical;
    channel->slack_m = SLACK_SHARE * channel->route_m + 2.0 * SLACK_EACH_END_M;
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
        .temp_c = channel->overhead ? hottest(plan) + SUN_K : 20.0,
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
    add_lengths(plan, channel);
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

static fe_status add_hung(const fe_plan *plan, const fe_overhead_result *overhead,
                          fe_result *result)
{
    fe_channel_result *channel = NULL;
    fe_status status = new_channel(result, &channel);
    if (status < 0)
        return status;
    *channel = (fe_channel_result){
        .path = overhead->path,
        .cable = overhead->cable,
        .overhead = true,
        .route_m = overhead->run.in_air_m,
        .drops_m = overhead->supports[0].attachment_m +
                   overhead->supports[overhead->support_count - 1].attachment_m};
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
    const fe_plan_trench *trench = &plan->trench;
    const bool own = trench->length_m.given != FE_GIVEN_NOT && !trench->along_path;
    *channel = (fe_channel_result){
        .path = path,
        .cable = cable,
        .route_m = own ? trench->length_m.typical
                       : fe_profile_ground_length(&plan->paths[path].profile),
        .drops_m = 2.0 * trench->depth_m.typical};
    return judge_channel(plan, channel);
}

fe_status decide_channels(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->overhead_count && status >= 0; i++)
        status = fe_status_worse(status, add_hung(plan, &result->overhead[i], result));
    const char *const buried[] = {plan->cable.cable_class, "duct-fibre"};
    for (size_t path = 0; path < plan->path_count; path++)
        for (size_t i = 0; i < 2 && status >= 0; i++) {
            if (!buried[i] || (i > 0 && buried[0] && strcmp(buried[0], buried[1]) == 0))
                continue;
            status = fe_status_worse(status, add_buried(plan, path, buried[i], result));
        }
    return status;
}

/* ---- Feed ---- */

enum { MOST_LOADS = FE_FEED_MAX_LOADS };

typedef struct load_list {
    fe_feed_load items[MOST_LOADS];
    size_t count;
    double least_v; /* highest of the lower ends the loads accept, at the source's level */
} load_list;

static int by_place(const void *a, const void *b)
{
    const fe_feed_load *one = a;
    const fe_feed_load *other = b;
    return (one->at_m > other->at_m) - (one->at_m < other->at_m);
}

static bool accepts(const fe_plan_load *load, const fe_plan_source *source)
{
    return load->voltage_v.given == FE_GIVEN_NOT ||
           (load->voltage_v.low <= source->volt && source->volt <= load->voltage_v.high * 1.1);
}

/* Loads that run on this source; those for another voltage need a converter of their own. */
static load_list loads_for(const fe_plan *plan, const fe_plan_source *source, double length_m)
{
    load_list list = {.count = 0};
    for (size_t i = 0; i < plan->load_count && list.count < MOST_LOADS; i++) {
        const fe_plan_load *load = &plan->loads[i];
        const bool current = load->current_a.given != FE_GIVEN_NOT;
        list.items[list.count++] = (fe_feed_load){
            .at_m = load->at_m.given == FE_GIVEN_NOT ? length_m : load->at_m.typical,
            .kind = current ? FE_LOAD_CURRENT : FE_LOAD_POWER,
            .load = current ? load->current_a.typical : load->power_w.typical,
            .power_factor = source->ac && load->power_factor.given != FE_GIVEN_NOT
                                ? load->power_factor.typical
                                : 1.0,
        };
        if (accepts(load, source) && load->voltage_v.given != FE_GIVEN_NOT)
            list.least_v = fmax(list.least_v, load->voltage_v.low);
    }
    qsort(list.items, list.count, sizeof list.items[0], by_place);
    return list;
}

static bool delivers(const fe_feed_choice *choice, double least_v)
{
    return choice->drop <= choice->allowed && choice->far_v >= least_v;
}

static fe_status try_size(const fe_wire_size *size, fe_conductor_material material,
                          double source_v, double air_c, const load_list *loads,
                          fe_feed_choice *choice)
{
    const fe_feed_line line = {
        .source_v = source_v,
        .conductor = {size->area_m2, material, FE_CLASS_STRANDED},
        .air_c = air_c,
        .ampacity_a = INFINITY,
        .ampacity_air_c = 30.0,
        .conductor_max_c = 70.0,
    };
    fe_feed_result solved;
    fe_status status = fe_feed_line_solve(&line, loads->items, loads->count, NULL, &solved);
    if (status < 0)
        return status;
    choice->conductor = line.conductor;
    choice->size_name = size->name;
    choice->conductor_c = solved.conductor_c;
    choice->far_v = solved.far_v;
    choice->drop = (source_v - solved.far_v) / source_v;
    choice->loss_w = solved.source.loss_w;
    choice->load_w = solved.source.load_w;
    /* A table without the size is no mistake of the plan's. */
    return FE_OK;
}

static fe_status choose_size(const fe_plan *plan, const load_list *loads,
                             fe_conductor_material material, fe_feed_choice *choice)
{
    const double low_v = choice->source.volt;
    for (size_t i = 0;; i++) {
        const fe_wire_size *size = fe_wire_size_at(FE_SIZES_METRIC, i);
        if (!size)
            break;
        if (size->area_m2 < 1.5e-6 * 0.999)
            continue; /* nobody lays thinner wire outdoors */
        const fe_status status = try_size(size, material, low_v, hottest(plan), loads, choice);
        if (status == FE_E_NO_SOLUTION)
            continue;
        if (status < 0)
            return status;
        if (delivers(choice, loads->least_v)) {
            choice->found = true;
            break;
        }
    }
    choice->verdict =
        choice->found ? fe_verdict_of_use(choice->drop, choice->allowed) : FE_VERDICT_FAILS;
    choice->limit = choice->found ? "voltage drop" : "no size on the list delivers";
    return FE_OK;
}

static double feed_length(const fe_plan *plan)
{
    if (plan->trench.given && plan->trench.length_m.given != FE_GIVEN_NOT &&
        !plan->trench.along_path)
        return plan->trench.length_m.typical;
    return fe_profile_ground_length(&plan->paths[0].profile);
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
        *choice = (fe_feed_choice){.source = plan->feed.sources[i],
                                   .length_m = feed_length(plan),
                                   .allowed = plan->feed.allowed_drop.typical};
        const load_list loads = loads_for(plan, &choice->source, choice->length_m);
        status = choose_size(plan, &loads,
                             plan->feed.copper ? FE_CONDUCTOR_COPPER : FE_CONDUCTOR_ALUMINIUM,
                             choice);
    }
    return status;
}
