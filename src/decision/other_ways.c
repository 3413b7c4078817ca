/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data over the conductors of a feed, and power without mains. */
#include <math.h>
#include <stdlib.h>

#include "decision/cable_length.h"
#include "decision/decide.h"
#include "farend/network.h"
#include "farend/poe.h"

/* ---- Data over a feed ---- */

/*
 * What adapters of the newer kind deliver over a feed of its own, without a transformer or a
 * surge device between: one in ten is below `low`, one in ten above `high`. They differ by a
 * factor of ten from house to house. Common practice, no source.
 * length up to m, low, middle, high Mb/s
 */
static const struct {
    double length_m;
    double low_mbps;
    double middle_mbps;
    double high_mbps;
} FEED_DATA[] = {
    {50.0, 20.0, 80.0, 200.0},
    {100.0, 10.0, 40.0, 120.0},
    {200.0, 3.0, 15.0, 60.0},
    {300.0, 0.5, 5.0, 30.0},
};

static void rate_over(fe_feed_data_result *data)
{
    for (size_t i = 0; i < sizeof FEED_DATA / sizeof FEED_DATA[0]; i++)
        if (data->length_m <= FEED_DATA[i].length_m) {
            data->low_bps = FEED_DATA[i].low_mbps * 1e6;
            data->middle_bps = FEED_DATA[i].middle_mbps * 1e6;
            data->high_bps = FEED_DATA[i].high_mbps * 1e6;
            return;
        }
}

/* HOLDS where nine in ten deliver what is wanted, TIGHT where five in ten do. */
static void judge_feed_data(const fe_plan *plan, fe_feed_data_result *data)
{
    fe_path_traffic traffic;
    fe_network_traffic(plan, data->path, &traffic);
    data->wanted_bps = traffic.stream_bps[0] + traffic.stream_bps[1] + traffic.transfer_bps[0] +
                       traffic.transfer_bps[1];
    rate_over(data);
    data->verdict = data->middle_bps >= data->wanted_bps && data->middle_bps > 0.0
                        ? FE_VERDICT_TIGHT
                        : FE_VERDICT_FAILS;
    if (data->low_bps >= data->wanted_bps && data->low_bps > 0.0)
        data->verdict = FE_VERDICT_HOLDS;
}

/* A feed of alternating current that delivers; null: none. */
static const fe_feed_choice *shared_feed(const fe_result *result)
{
    for (size_t i = 0; i < result->feed_count; i++)
        if (result->feeds[i].source.ac && result->feeds[i].found &&
            result->feeds[i].verdict != FE_VERDICT_FAILS)
            return &result->feeds[i];
    return NULL;
}

static bool have_mains(const fe_plan *plan, const fe_plan_path *path)
{
    return plan->ends[path->from].mains.value == 1 && plan->ends[path->to].mains.value == 1;
}

fe_status decide_feed_data(const fe_plan *plan, fe_result *result)
{
    const fe_feed_choice *feed = shared_feed(result);
    result->feed_data = calloc(plan->path_count + 1, sizeof *result->feed_data);
    if (!result->feed_data)
        return FE_E_MEMORY;
    for (size_t path = 0; path < plan->path_count; path++) {
        const bool planned = path == 0 && feed;
        if (!planned && !have_mains(plan, &plan->paths[path]))
            continue;
        fe_feed_data_result *data = &result->feed_data[result->feed_data_count++];
        *data = (fe_feed_data_result){.path = path,
                                      .planned = planned,
                                      .length_m = planned ? feed->length_m
                                                          : plan_trench_length(plan, path) +
                                                                plan_indoor_length(plan)};
        judge_feed_data(plan, data);
    }
    return FE_OK;
}

/* ---- Power over a data cable ---- */

/* From the voltage of the pairs to what a load wants (common practice, no source). */
static const double CONVERTER = 0.85;
/* Copper, a kelvin. Warm cable: in the ground, or in the sun on posts (common practice). */
static const double COPPER_1_K = 0.00393;
static const double GROUND_C = 20.0;
static const double SUN_K = 20.0;
/* A load that accepts nothing lower wants mains. */
static const double MAINS_V = 60.0;

static bool wants_mains(const fe_plan *plan)
{
    for (size_t i = 0; i < plan->load_count; i++)
        if (plan->loads[i].voltage_v.given != FE_GIVEN_NOT &&
            plan->loads[i].voltage_v.low > MAINS_V)
            return true;
    return false;
}

static double poe_need(const fe_plan *plan)
{
    double need_w = 0.0;
    for (size_t i = 0; i < plan->load_count; i++)
        need_w += decide_load_power(&plan->loads[i]) / CONVERTER;
    return need_w * (1.0 + plan->spare.power.typical);
}

static fe_status deliver_poe(const fe_plan *plan, const fe_channel_result *channel,
                             const fe_poe_class *class, fe_poe_result *poe)
{
    const double cable_c = channel->overhead ? plan_hottest(plan) + SUN_K : GROUND_C;
    const double wire_ohm_per_m =
        fe_pair_wire_limit_ohm_per_m() * (1.0 + COPPER_1_K * (cable_c - 20.0));
    fe_poe_feed feed;
    fe_status status = fe_poe_loop(wire_ohm_per_m, channel->length_m, class->pairs == 4 ? 2 : 1,
                                   &poe->loop_ohm);
    if (status >= 0)
        status = fe_poe_deliver(class->least_source_v, poe->need_w, poe->loop_ohm, &feed);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK;
    if (status >= 0)
        poe->device_v = feed.device_v;
    return status;
}

static fe_status judge_poe(const fe_plan *plan, const fe_channel_result *channel,
                           fe_poe_result *poe)
{
    const fe_poe_class *class = fe_poe_class_for(poe->need_w);
    poe->verdict = FE_VERDICT_FAILS;
    poe->device_class = class ? class->device_class : -1;
    poe->device_v = (double)NAN;
    poe->limit = "the power that pairs may carry";
    if (wants_mains(plan))
        poe->limit = "loads that want mains voltage";
    if (!class || wants_mains(plan))
        return FE_OK;
    poe->least_v = fe_poe_type_find(class->lowest_type)->least_device_v;
    const fe_status status = deliver_poe(plan, channel, class, poe);
    poe->limit = "voltage at the far end";
    if (status < 0 || !(poe->device_v >= poe->least_v))
        return status;
    poe->verdict = fe_verdict_of_use(poe->need_w, class->device_w);
    poe->limit = "the power of its class";
    if (channel->verdict > poe->verdict) {
        poe->verdict = channel->verdict;
        poe->limit = "cable length";
    }
    return status;
}

fe_status decide_poe(const fe_plan *plan, fe_result *result)
{
    const double need_w = poe_need(plan);
    result->poe = calloc(result->channel_count + 1, sizeof *result->poe);
    if (!result->poe)
        return FE_E_MEMORY;
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->channel_count && status >= 0 && need_w > 0.0; i++) {
        const fe_channel_result *channel = &result->channels[i];
        if (channel->cable->medium != FE_MEDIUM_COPPER_PAIRS || channel->path != 0)
            continue;
        fe_poe_result *poe = &result->poe[result->poe_count++];
        *poe = (fe_poe_result){.channel = i, .need_w = need_w};
        status = fe_status_worse(status, judge_poe(plan, channel, poe));
    }
    return status;
}

/* ---- Panel and battery ---- */

double decide_load_power(const fe_plan_load *load)
{
    if (load->current_a.given == FE_GIVEN_NOT)
        return load->power_w.typical;
    const double volt = load->voltage_v.given == FE_GIVEN_NOT ? 12.0 : load->voltage_v.typical;
    return load->current_a.typical * volt;
}

static void judge_solar(fe_solar_result *solar)
{
    solar->limit = "the panel";
    solar->verdict = FE_VERDICT_FAILS;
    if (solar->panel_w <= FE_SOLAR_MOST_W)
        solar->verdict = FE_VERDICT_TIGHT;
    if (solar->panel_w <= FE_SOLAR_EASY_W)
        solar->verdict = FE_VERDICT_HOLDS;
}

fe_status decide_solar(const fe_plan *plan, fe_result *result)
{
    fe_solar *sized = calloc(1, sizeof *sized);
    if (!sized)
        return FE_E_MEMORY;
    const fe_status status = fe_solar_from_plan(plan, sized);
    if (status < 0) {
        free(sized);
        return status == FE_E_NO_SOLUTION ? FE_OK : status;
    }
    fe_solar_result solar = {.day_j = sized->energy_per_day_j,
                             .battery_j = sized->battery_j,
                             .panel_w = sized->panel_w,
                             .sun_s = sized->sun_s,
                             .dark_s = sized->dark_days * 86400.0,
                             .discharge = sized->discharge,
                             .cold_part = sized->cold_part,
                             .coldest_c = sized->coldest_c,
                             .assumed = sized->assumed,
                             .sized = sized};
    judge_solar(&solar);
    result->solar = solar;
    result->has_solar = true;
    return status;
}
