/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data over the conductors of a feed, and power without mains. */
#include <math.h>
#include <stdlib.h>

#include "decision/cable_length.h"
#include "decision/decide.h"
#include "farend/network.h"

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

/* A feed of alternating current along a path that delivers; null: none. */
static const fe_feed_choice *shared_feed(const fe_result *result, size_t path)
{
    for (size_t i = 0; i < result->feed_count; i++)
        if (result->feeds[i].path == path && result->feeds[i].source.ac &&
            result->feeds[i].found && result->feeds[i].verdict != FE_VERDICT_FAILS)
            return &result->feeds[i];
    return NULL;
}

static bool have_mains(const fe_plan *plan, const fe_plan_path *path)
{
    return plan->ends[path->from].mains.value == 1 && plan->ends[path->to].mains.value == 1;
}

fe_status decide_feed_data(const fe_plan *plan, fe_result *result)
{
    result->feed_data = calloc(plan->path_count + 1, sizeof *result->feed_data);
    if (!result->feed_data)
        return FE_E_MEMORY;
    for (size_t path = 0; path < plan->path_count; path++) {
        /* Where the cable runs on past the building on the way, its data do too. */
        const fe_feed_choice *feed =
            fe_supply_begins_at(plan, path) == fe_network_near_end(plan, path)
                ? shared_feed(result, path)
                : NULL;
        const bool planned = feed != NULL;
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

/* ---- Panel and battery ---- */

double decide_load_power(const fe_plan_load *load)
{
    return load->current_a.given == FE_GIVEN_NOT
               ? load->power_w.typical
               : load->current_a.typical * load->voltage_v.typical;
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

static fe_status add_solar(const fe_plan *plan, size_t path, fe_result *result)
{
    fe_solar *sized = calloc(1, sizeof *sized);
    if (!sized)
        return FE_E_MEMORY;
    const fe_status status = fe_solar_from_plan(plan, path, sized);
    if (status < 0) {
        free(sized);
        return status == FE_E_NO_SOLUTION ? FE_OK : status;
    }
    fe_solar_result solar = {.path = path,
                             .day_j = sized->energy_per_day_j,
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
    result->solars[result->solar_count++] = solar;
    return status;
}

fe_status decide_solar(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    result->solars = calloc(plan->path_count + 1, sizeof *result->solars);
    if (!result->solars)
        return FE_E_MEMORY;
    for (size_t path = 0; path < plan->path_count && status >= 0; path++)
        status = fe_status_worse(status, add_solar(plan, path, result));
    return status;
}
