/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One row a way, out of what was computed for each kind. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "decision/cable_length.h"
#include "decision/decide.h"
#include "farend/network.h"
#include "farend/poe.h"
#include "farend/radio_relays.h"
#include "farend/supply_plan.h"

/* Relays are shown one number at a time up to here, and then the best. */
enum { MOST_RELAY_ROWS = 3 };
/* Adapters at both ends of a feed, each way (common practice, no source). */
static const double FEED_DATA_DELAY_S = 10e-3;
/* Two converters or switches (common practice, no source). */
static const double CABLE_DELAY_S = 0.1e-3;

static fe_way *new_way(fe_result *result, fe_way_kind kind, size_t path, size_t index)
{
    fe_way *grown = realloc(result->ways, (result->way_count + 1) * sizeof *grown);
    if (!grown)
        return NULL;
    result->ways = grown;
    fe_way *way = &result->ways[result->way_count++];
    *way = (fe_way){.kind = kind,
                    .path = path,
                    .index = index,
                    .margin_db = (double)NAN,
                    .chance = (double)NAN,
                    .used = (double)NAN,
                    .phy_rate_bps = (double)NAN,
                    .rate_bps = (double)NAN,
                    .delay_s = (double)NAN,
                    .route_delay_s = (double)NAN,
                    .longest_delay_s = INFINITY,
                    .transfer_s = (double)NAN,
                    .allowed_s = INFINITY,
                    .struck_per_year = (double)NAN,
                    .near_per_year = (double)NAN,
                    .parts = {.cost = (double)NAN}};
    return way;
}

FE_PRINTF(2, 3)
static void put(char room[FE_WAY_TEXT_ROOM], const char *format, ...)
{
    va_list values;
    va_start(values, format);
    vsnprintf(room, FE_WAY_TEXT_ROOM, format, values);
    va_end(values);
}

FE_PRINTF(2, 3)
static void append(char room[FE_WAY_TEXT_ROOM], const char *format, ...)
{
    const size_t used = strlen(room);
    va_list values;
    va_start(values, format);
    vsnprintf(room + used, FE_WAY_TEXT_ROOM - used, format, values);
    va_end(values);
}

/* ---- Radio ---- */

static fe_status radio_row(fe_result *result, size_t index)
{
    const fe_radio_result *radio = &result->radio[index];
    fe_way *way = new_way(result, radio->directional ? FE_WAY_DIRECTIONAL : FE_WAY_DIRECT,
                          radio->path, index);
    if (!way)
        return FE_E_MEMORY;
    const fe_hop_budget *budget = &radio->budget;
    way->verdict = radio->verdict;
    way->season = result->plan->seasons[budget->worst].name;
    way->margin_db = budget->seasons[budget->worst].margin_db;
    way->chance = budget->chance;
    way->phy_rate_bps = budget->phy_rate_bps;
    way->rate_bps = budget->delivered_rate_bps;
    way->delay_s = FE_CHAIN_HOP_DELAY_S;
    put(way->limit, "%s", radio->limit);
    if (radio->directional) {
        put(way->name, "aimed pair, %s", fe_band_name(radio->band));
        put(way->needs, "%s at both ends, outdoors, aimed; power at both ends",
            radio->gear[0]->label);
    } else {
        put(way->name, "direct radio, %s", fe_band_name(radio->band));
        put(way->needs, "%s to %s; power at both ends", radio->gear[0]->label,
            radio->gear[1]->label);
    }
    return FE_OK;
}

static bool is_without_power(const fe_plan *plan, const fe_relay_result *relays, size_t number)
{
    for (size_t i = 0; i < number; i++)
        if (!fe_relay_has_power(plan, relays->path, relays->places_m[number][i]))
            return true;
    return false;
}

static fe_status relay_row(fe_result *result, size_t index, size_t number)
{
    const fe_relay_result *relays = &result->relays[index];
    const fe_chain *chain = &relays->chains[number];
    fe_way *way = new_way(result, FE_WAY_RELAYS, relays->path, index);
    if (!way)
        return FE_E_MEMORY;
    way->relays = chain->relays;
    way->powered_places = chain->relays;
    way->verdict = fe_relay_verdict(chain, result->plan->site.confidence.typical);
    way->season = result->plan->seasons[chain->worst_season].name;
    way->margin_db = chain->margin_db;
    way->chance = chain->chance;
    way->rate_bps = chain->delivered_rate_bps;
    way->delay_s = chain->delay_s;
    put(way->name, "%u relay%s, %s", chain->relays, chain->relays == 1 ? "" : "s",
        fe_band_name(relays->band));
    put(way->limit, "%s", chain->carries_rate ? "the weakest hop" : "sharing one channel");
    put(way->needs, "%u %s in the open,%s on a post with power and shelter", chain->relays,
        relays->relay_gear->label, chain->relays == 1 ? "" : " each");
    if (is_without_power(result->plan, relays, number) && relays->alone)
        append(way->needs, "; where no feed passes, a panel of %.0f W%s",
               relays->alone->panel_w, chain->relays == 1 ? "" : " each");
    return FE_OK;
}

bool decide_shows_relays(const fe_relay_result *relays, size_t number)
{
    const int best = relays->best;
    return (int)number == best || ((int)number < best && number <= MOST_RELAY_ROWS);
}

static fe_status relay_rows(fe_result *result, size_t index)
{
    const fe_relay_result *relays = &result->relays[index];
    fe_status status = FE_OK;
    for (size_t number = 1; number < relays->chain_count && status >= 0; number++)
        if (decide_shows_relays(relays, number))
            status = relay_row(result, index, number);
    return status;
}

/* ---- Cable ---- */

static fe_way_kind kind_of(const fe_channel_result *channel, bool hung)
{
    if (channel->cable->medium == FE_MEDIUM_SINGLE_PAIR)
        return FE_WAY_SINGLE_PAIR;
    if (channel->fibre)
        return hung ? FE_WAY_FIBRE_POSTS : FE_WAY_FIBRE_BURIED;
    return hung ? FE_WAY_COPPER_POSTS : FE_WAY_COPPER_BURIED;
}

static void put_hung(const fe_result *result, const fe_posts_result *hung, fe_way *way)
{
    const fe_route_use *use = fe_posts_reason(hung);
    const fe_verdict run = hung->verdict;
    way->posts = (unsigned)hung->route.post_count;
    way->used = fmax(way->used, use->use);
    if (run <= way->verdict)
        return;
    way->verdict = run;
    way->season = result->plan->seasons[use->season].name;
    put(way->limit, "%s",
        hung->too_short && !hung->meets ? "posts too short" : fe_route_use_name(use));
}

static fe_status channel_row(fe_result *result, size_t index)
{
    const fe_channel_result *channel = &result->channels[index];
    const fe_posts_result *hung = fe_result_hung(result, channel);
    fe_way *way = new_way(result, kind_of(channel, hung != NULL), channel->path, index);
    if (!way)
        return FE_E_MEMORY;
    way->verdict = channel->verdict;
    way->phy_rate_bps = channel->rate_bps;
    way->rate_bps = channel->rate_bps;
    way->delay_s = CABLE_DELAY_S;
    way->used = channel->length_m / channel->limit_m;
    put(way->name, "%s %s", channel->cable->label, hung ? "on posts" : "in a trench");
    put(way->limit, "cable length");
    if (hung) {
        /* Warm copper reaches less far; glass and the one pair know no such limit. */
        if (channel->has_answer)
            way->season = plan_hottest_season(result->plan);
        put_hung(result, hung, way);
        put(way->needs, "%.0f m of cable with its cords, %u post%s", channel->length_m,
            way->posts, way->posts == 1 ? "" : "s");
        return FE_OK;
    }
    way->trench_m = channel->route_m;
    put(way->needs, "%.0f m of cable with its cords, %.0f m of trench", channel->length_m,
        channel->route_m);
    return FE_OK;
}

static fe_status feed_data_row(fe_result *result, size_t index)
{
    const fe_feed_data_result *data = &result->feed_data[index];
    fe_way *way = new_way(result, FE_WAY_FEED_DATA, data->path, index);
    if (!way)
        return FE_E_MEMORY;
    way->verdict = data->verdict;
    way->rate_bps = data->low_bps;
    way->delay_s = FEED_DATA_DELAY_S;
    way->used = data->wanted_bps / fmax(data->middle_bps, 1.0);
    put(way->name, "data over the feed's conductors");
    put(way->limit, "the rate such adapters reach, which differs widely");
    put(way->needs, "two adapters, %s", data->planned ? "and the feed" : "on one supply");
    return FE_OK;
}

/* ---- Power ---- */

void decide_feed_stretch(const fe_result *result, fe_way *way)
{
    const fe_feed_choice *feed = &result->feeds[way->index];
    way->trench_m = feed->entry->place.own_route_m;
    if (feed->found)
        put(way->needs, "%.0f m of %s %s", feed->entry->place.own_m, feed->size_name,
            fe_conductor_material_name(feed->conductor.material));
    else
        put(way->needs, "a higher voltage or a shorter way");
}

static fe_status feed_row(fe_result *result, size_t index)
{
    const fe_feed_choice *feed = &result->feeds[index];
    fe_way *way = new_way(result, FE_WAY_FEED, feed->path, index);
    if (!way)
        return FE_E_MEMORY;
    const fe_value *source = &feed->source.voltage_v;
    const char *kind = feed->source.ac ? "AC" : "DC";
    way->verdict = feed->verdict;
    way->season = plan_hottest_season(result->plan);
    way->used = feed->found ? feed->drop / feed->allowed : (double)INFINITY;
    if (source->low < source->high)
        put(way->name, "feed at %.4g..%.4g V %s", source->low, source->high, kind);
    else
        put(way->name, "feed at %.4g V %s", source->low, kind);
    put(way->limit, "%s", feed->limit);
    decide_feed_stretch(result, way);
    return FE_OK;
}

static fe_status poe_row(fe_result *result, size_t index)
{
    const fe_channel_result *channel = &result->channels[index];
    const fe_poe_result *poe = &channel->poe;
    const fe_channel_power *power = &channel->answer.power;
    if (!channel->has_answer || !(poe->need.power_w > 0.0) ||
        !fe_supply_is_asked(result->plan, channel->path))
        return FE_OK;
    fe_way *way = new_way(result, FE_WAY_POE, channel->path, index);
    if (!way)
        return FE_E_MEMORY;
    const bool any = channel->answer.has_power;
    way->verdict = poe->verdict;
    way->used = any ? poe->need.power_w / power->promised_w : (double)INFINITY;
    put(way->name, "power over %s %s", channel->cable->label,
        channel->overhead ? "on posts" : "in a trench");
    put(way->limit, "%s", poe->limit);
    if (channel->overhead)
        way->season = plan_hottest_season(result->plan);
    if (any)
        put(way->needs, "a port of class %d in the %s, and the data cable", power->device_class,
            fe_network_near_end(result->plan, channel->path) == 0
                ? "house"
                : result->plan->ends[fe_network_near_end(result->plan, channel->path)].name);
    else
        put(way->needs, "less power at the far end");
    return FE_OK;
}

static fe_status solar_row(fe_result *result, size_t index)
{
    static const double WH_J = 3600.0;
    const fe_solar_result *solar = &result->solars[index];
    fe_way *way = new_way(result, FE_WAY_SOLAR, solar->path, index);
    if (!way)
        return FE_E_MEMORY;
    way->verdict = solar->verdict;
    way->season = plan_coldest_season(result->plan);
    way->used = solar->panel_w / FE_SOLAR_MOST_W;
    put(way->name, "no mains: panel and battery");
    put(way->limit, "%s", solar->limit);
    put(way->needs, "a panel of %.0f W, a battery of %.0f Wh", solar->panel_w,
        solar->battery_j / WH_J);
    return FE_OK;
}

/* ---- Time ---- */

/* A limit that is used up makes a verdict worse, and is then what limits the way. */
static bool hold_against(fe_way *way, double used, double limit, const char *name)
{
    if (!(limit > 0.0) || isinf(limit))
        return false;
    const fe_verdict verdict = fe_verdict_of_use(used, limit);
    if (verdict <= way->verdict)
        return false;
    way->verdict = verdict;
    put(way->limit, "%s", name);
    return true;
}

/* What the streams leave of the rate goes to the transfers of both directions. */
static void put_transfer(const fe_path_traffic *traffic, fe_way *way)
{
    const double streams_bps = traffic->stream_bps[0] + traffic->stream_bps[1];
    const double bits = traffic->transfer_bit[0] + traffic->transfer_bit[1];
    way->allowed_s = traffic->transfer_s;
    if (!(bits > 0.0))
        return;
    way->transfer_s =
        way->rate_bps > streams_bps ? bits / (way->rate_bps - streams_bps) : (double)INFINITY;
    hold_against(way, way->transfer_s, way->allowed_s, FE_LIMIT_TRANSFER);
}

static bool is_data_over(const fe_way *way, size_t path)
{
    return way->path == path && !fe_way_is_power(way->kind);
}

/* Of what is picked for a path; before, of the quickest way that does, or that there is. */
static double delay_over(const fe_result *result, size_t path)
{
    double quickest_s[2] = {INFINITY, INFINITY};
    if (result->picks[path].way >= 0)
        return result->ways[result->picks[path].way].delay_s;
    for (size_t i = 0; i < result->way_count; i++) {
        const fe_way *way = &result->ways[i];
        double *quickest = &quickest_s[way->verdict == FE_VERDICT_FAILS];
        if (is_data_over(way, path))
            *quickest = fmin(*quickest, way->delay_s);
    }
    return isfinite(quickest_s[0]) ? quickest_s[0] : quickest_s[1];
}

/* A traffic and what the other paths of its route take of the delay that it bears. */
static void hold_to_delay(fe_result *result, size_t path, const fe_network_route *route,
                          double longest_s)
{
    double elsewhere_s = 0.0;
    for (size_t i = 0; i < route->count; i++)
        if (route->paths[i] != path)
            elsewhere_s += delay_over(result, route->paths[i]);
    for (size_t i = 0; i < result->way_count; i++) {
        fe_way *way = &result->ways[i];
        if (!is_data_over(way, path))
            continue;
        const double whole_s = way->delay_s + elsewhere_s;
        if (isnan(way->route_delay_s) ||
            whole_s / longest_s > way->route_delay_s / way->longest_delay_s) {
            way->route_delay_s = whole_s;
            way->longest_delay_s = longest_s;
        }
        if (hold_against(way, whole_s, longest_s, FE_LIMIT_DELAY))
            way->season = NULL; /* the same in all of them */
    }
}

void decide_times(fe_result *result, size_t path)
{
    const fe_plan *plan = result->plan;
    fe_path_traffic sum;
    fe_network_traffic(plan, path, &sum);
    for (size_t i = 0; i < result->way_count; i++)
        if (is_data_over(&result->ways[i], path))
            put_transfer(&sum, &result->ways[i]);
    for (size_t i = 0; i < plan->traffic_count; i++) {
        const fe_plan_traffic *traffic = &plan->traffic[i];
        fe_network_route route;
        if (traffic->longest_delay_s.given != FE_GIVEN_NOT &&
            fe_network_route_between(plan, traffic->from, traffic->to, &route) &&
            fe_network_passes(&route, path))
            hold_to_delay(result, path, &route, traffic->longest_delay_s.typical);
    }
}

/* ---- All of them ---- */

fe_status decide_rows(fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->radio_count && status >= 0; i++)
        status = radio_row(result, i);
    for (size_t i = 0; i < result->relay_count && status >= 0; i++)
        status = relay_rows(result, i);
    for (size_t i = 0; i < result->channel_count && status >= 0; i++)
        status = channel_row(result, i);
    for (size_t i = 0; i < result->feed_data_count && status >= 0; i++)
        status = feed_data_row(result, i);
    for (size_t i = 0; i < result->feed_count && status >= 0; i++)
        status = feed_row(result, i);
    for (size_t i = 0; i < result->channel_count && status >= 0; i++)
        status = poe_row(result, i);
    for (size_t i = 0; i < result->solar_count && status >= 0; i++)
        status = solar_row(result, i);
    return status;
}
