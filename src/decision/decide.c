/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/decide.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#include "farend/outlook.h"
#include "farend/radio_link.h"

static const double TIGHT_SHARE = 0.9;

const char *fe_verdict_name(fe_verdict verdict)
{
    static const char *const NAMES[] = {"holds", "tight", "fails"};
    return NAMES[verdict];
}

fe_verdict fe_verdict_worse(fe_verdict a, fe_verdict b)
{
    return a > b ? a : b;
}

fe_verdict fe_verdict_of_use(double used, double limit)
{
    /* "Not within" rather than "beyond", so that NaN fails. */
    if (!(used <= limit))
        return FE_VERDICT_FAILS;
    return used >= TIGHT_SHARE * limit ? FE_VERDICT_TIGHT : FE_VERDICT_HOLDS;
}

/* ---- One row a way ---- */

static fe_way *new_way(fe_result *result, fe_way_kind kind, size_t index)
{
    fe_way *grown = realloc(result->ways, (result->way_count + 1) * sizeof *grown);
    if (!grown)
        return NULL;
    result->ways = grown;
    fe_way *way = &result->ways[result->way_count++];
    *way = (fe_way){.kind = kind,
                    .index = index,
                    .margin_db = (double)NAN,
                    .chance = (double)NAN,
                    .used = (double)NAN,
                    .phy_rate_bps = (double)NAN,
                    .rate_bps = (double)NAN,
                    .delay_s = (double)NAN,
                    .transfer_s = (double)NAN};
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

static fe_status radio_row(fe_result *result, size_t index)
{
    const fe_radio_result *radio = &result->radio[index];
    fe_way *way =
        new_way(result, radio->directional ? FE_WAY_DIRECTIONAL : FE_WAY_DIRECT, index);
    if (!way)
        return FE_E_MEMORY;
    const fe_hop_budget *budget = &radio->budget;
    way->path = radio->path;
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
            radio->gear[0]->name);
    } else {
        put(way->name, "direct radio, %s", fe_band_name(radio->band));
        put(way->needs, "%s to %s; power at both ends", radio->gear[0]->name,
            radio->gear[1]->name);
    }
    return FE_OK;
}

static fe_status relay_row(fe_result *result, size_t index)
{
    const fe_relay_result *relays = &result->relays[index];
    const fe_chain *chain = &relays->chains[relays->best];
    /* No relay needed is the direct way itself. */
    if (chain->relays == 0)
        return FE_OK;
    fe_way *way = new_way(result, FE_WAY_RELAYS, index);
    if (!way)
        return FE_E_MEMORY;
    way->path = relays->path;
    way->verdict = relays->verdict;
    way->season = result->plan->seasons[chain->worst_season].name;
    way->margin_db = chain->margin_db;
    way->chance = chain->chance;
    way->rate_bps = chain->delivered_rate_bps;
    way->delay_s = chain->delay_s;
    put(way->name, "%u relay%s, %s", chain->relays, chain->relays == 1 ? "" : "s",
        fe_band_name(relays->band));
    put(way->limit, "%s", chain->carries_rate ? "the weakest hop" : "sharing one channel");
    put(way->needs, "%u %s in the open, each with power and shelter", chain->relays,
        relays->relay_gear->name);
    return FE_OK;
}

static fe_status channel_row(fe_result *result, size_t index)
{
    const fe_channel_result *channel = &result->channels[index];
    const fe_posts_result *hung = fe_result_hung(result, channel);
    const fe_way_kind kind = channel->fibre
                                 ? (hung ? FE_WAY_FIBRE_POSTS : FE_WAY_FIBRE_BURIED)
                                 : (hung ? FE_WAY_COPPER_POSTS : FE_WAY_COPPER_BURIED);
    fe_way *way = new_way(result, kind, index);
    if (!way)
        return FE_E_MEMORY;
    way->path = channel->path;
    way->verdict = channel->verdict;
    way->phy_rate_bps = channel->rate_bps;
    way->rate_bps = channel->rate_bps;
    way->delay_s = 0.0;
    way->used = channel->length_m / channel->limit_m;
    put(way->name, "%s %s", channel->cable->name, hung ? "on posts" : "in a trench");
    put(way->limit, "cable length");
    put(way->needs, "%.0f m of cable, %.0f m of trench", channel->length_m, channel->route_m);
    if (!hung)
        return FE_OK;
    put(way->needs, "%.0f m of cable, %zu posts", channel->length_m, hung->route.post_count);
    way->used = fmax(way->used, fe_posts_reason(hung)->use);
    const fe_verdict run = (fe_verdict)hung->verdict;
    if (run > way->verdict) {
        const fe_route_use *use = fe_posts_reason(hung);
        way->verdict = run;
        put(way->limit, "%s",
            hung->too_short && !hung->meets ? "posts too short" : fe_route_use_name(use));
        way->season = result->plan->seasons[use->season].name;
    }
    return FE_OK;
}

static fe_status feed_row(fe_result *result, size_t index)
{
    const fe_feed_choice *feed = &result->feeds[index];
    fe_way *way = new_way(result, FE_WAY_FEED, index);
    if (!way)
        return FE_E_MEMORY;
    way->verdict = feed->verdict;
    const fe_value *source = &feed->source.voltage_v;
    const char *kind = feed->source.ac ? "AC" : "DC";
    if (source->low < source->high)
        put(way->name, "feed at %.4g..%.4g V %s", source->low, source->high, kind);
    else
        put(way->name, "feed at %.4g V %s", source->low, kind);
    way->used = feed->found ? feed->drop / feed->allowed : (double)INFINITY;
    put(way->limit, "%s", feed->limit);
    if (feed->found)
        put(way->needs, "%.0f m of %s %s", feed->length_m, feed->size_name,
            fe_conductor_material_name(feed->conductor.material));
    else
        put(way->needs, "a higher voltage or a shorter way");
    return FE_OK;
}

/* ---- What to build ---- */

/*
 * How much a way asks of those who build it, where verdicts are equal: radio before cable, a
 * cable in the air before one in the ground, fewer relays before more. Common practice.
 */
static int effort(const fe_result *result, const fe_way *way)
{
    switch (way->kind) {
    case FE_WAY_DIRECT:
        return result->radio[way->index].owned ? 0 : 1;
    case FE_WAY_DIRECTIONAL:
        return 2;
    case FE_WAY_RELAYS:
        return 3 + 2 * (int)result->relays[way->index]
                           .chains[result->relays[way->index].best]
                           .relays;
    case FE_WAY_FIBRE_POSTS:
    case FE_WAY_COPPER_POSTS:
        return 8;
    case FE_WAY_COPPER_BURIED:
    case FE_WAY_FIBRE_BURIED:
        return 10;
    case FE_WAY_FEED:
    case FE_WAY_KINDS:
        break;
    }
    return 20;
}

static bool is_preferred(const fe_result *result, const fe_way *a, const fe_way *b)
{
    if (a->verdict != b->verdict)
        return a->verdict < b->verdict;
    const int asked_a = effort(result, a);
    const int asked_b = effort(result, b);
    if (asked_a != asked_b)
        return asked_a < asked_b;
    return a->chance > b->chance;
}

/* The smallest conductor that is not too much used, at the lowest voltage that has one. */
static bool is_preferred_feed(const fe_result *result, const fe_way *a, const fe_way *b)
{
    if (a->verdict != b->verdict)
        return a->verdict < b->verdict;
    const fe_feed_choice *one = &result->feeds[a->index];
    const fe_feed_choice *other = &result->feeds[b->index];
    if (one->conductor.area_m2 != other->conductor.area_m2)
        return one->conductor.area_m2 < other->conductor.area_m2;
    return one->source.volt < other->source.volt;
}

static void recommend(fe_result *result)
{
    result->data_way = result->power_way = -1;
    for (size_t i = 0; i < result->way_count; i++) {
        const fe_way *way = &result->ways[i];
        if (way->verdict == FE_VERDICT_FAILS || way->path != 0)
            continue;
        if (way->kind == FE_WAY_FEED) {
            if (result->power_way < 0 ||
                is_preferred_feed(result, way, &result->ways[result->power_way]))
                result->power_way = (int)i;
        } else if (result->data_way < 0 ||
                   is_preferred(result, way, &result->ways[result->data_way])) {
            result->data_way = (int)i;
        }
    }
}

/* ---- Transfers ---- */

/* How long the transfers of a path take with what its streams leave of the rate. */
static double transfer_time(const fe_plan *plan, size_t path, double rate_bps)
{
    const fe_plan_path *way = &plan->paths[path];
    double streams_bps = 0.0;
    double bits = 0.0;
    for (size_t i = 0; i < plan->traffic_count; i++) {
        const fe_plan_traffic *traffic = &plan->traffic[i];
        const bool there = traffic->from == way->from && traffic->to == way->to;
        const bool back = traffic->from == way->to && traffic->to == way->from;
        if (!there && !back)
            continue;
        streams_bps += traffic->stream_bps.typical;
        if (traffic->transfer_bit.given != FE_GIVEN_NOT)
            bits += traffic->transfer_bit.typical;
    }
    if (!(bits > 0.0) || isnan(rate_bps))
        return (double)NAN;
    return rate_bps > streams_bps ? bits / (rate_bps - streams_bps) : (double)INFINITY;
}

static void time_transfers(fe_result *result)
{
    for (size_t i = 0; i < result->way_count; i++) {
        fe_way *way = &result->ways[i];
        if (way->kind != FE_WAY_FEED)
            way->transfer_s = transfer_time(result->plan, way->path, way->rate_bps);
    }
}

fe_status decide_ways(fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->radio_count && status >= 0; i++)
        status = radio_row(result, i);
    for (size_t i = 0; i < result->relay_count && status >= 0; i++)
        status = relay_row(result, i);
    for (size_t i = 0; i < result->channel_count && status >= 0; i++)
        status = channel_row(result, i);
    for (size_t i = 0; i < result->feed_count && status >= 0; i++)
        status = feed_row(result, i);
    if (status >= 0) {
        time_transfers(result);
        recommend(result);
    }
    return status;
}

fe_verdict fe_result_verdict(const fe_result *result)
{
    if (result->data_way < 0)
        return FE_VERDICT_FAILS;
    const fe_verdict data = result->ways[result->data_way].verdict;
    if (result->feed_count == 0)
        return data;
    return result->power_way < 0
               ? FE_VERDICT_FAILS
               : fe_verdict_worse(data, result->ways[result->power_way].verdict);
}

int fe_result_chosen_radio(const fe_result *result)
{
    if (result->data_way >= 0) {
        const fe_way *way = &result->ways[result->data_way];
        if (way->kind == FE_WAY_DIRECT || way->kind == FE_WAY_DIRECTIONAL)
            return (int)way->index;
    }
    int best = -1;
    for (size_t i = 0; i < result->radio_count; i++)
        if (result->radio[i].path == 0 &&
            (best < 0 || fe_radio_is_better(&result->radio[i], &result->radio[best])))
            best = (int)i;
    return best;
}

/* ---- All of it ---- */

fe_status fe_decide(const fe_plan *plan, fe_result *result)
{
    fe_status (*const parts[])(const fe_plan *, fe_result *) = {decide_radio, decide_overhead,
                                                                decide_channels, decide_feeds};
    fe_result found = {.plan = plan, .data_way = -1, .power_way = -1};
    fe_status status = FE_OK;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0] && status >= 0; i++)
        status = fe_status_worse(status, parts[i](plan, &found));
    found.outside_range = status == FE_W_RANGE;
    if (status >= 0)
        status = fe_status_worse(status, decide_ways(&found));
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
    free(result->relays);
    free(result->channels);
    for (size_t i = 0; i < result->feed_count; i++)
        free(result->feeds[i].entry);
    free(result->feeds);
    free(result->ways);
    fe_outlook_free(result->outlook);
    *result = (fe_result){0};
}
