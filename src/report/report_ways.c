/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every way beside the others. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/report_posts.h"
#include "report/report_parts.h"

/* ---- Limit and needs in the units of the page ---- */

const char *report_link_limit(report_writer *writer, const fe_radio_result *radio,
                              char room[REPORT_TEXT_ROOM])
{
    const double distance_m = radio->budget.seasons[radio->budget.worst].loss.distance_m;
    fe_document *doc = writer->doc;
    snprintf(room, REPORT_TEXT_ROOM, "%s", radio->limit);
    if (strcmp(radio->limit, "the distance") == 0)
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s", radio->limit,
                 fe_amount(doc, distance_m, FE_STYLE_DISTANCE));
    else if (isfinite(radio->limit_db))
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s", radio->limit,
                 fe_amount(doc, radio->limit_db, FE_STYLE_RATIO));
    return room;
}

static void cable_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    const fe_channel_result *channel = &writer->result->channels[way->index];
    const fe_posts_result *hung = fe_result_hung(writer->result, channel);
    fe_document *doc = writer->doc;
    if (!hung || hung->verdict <= channel->verdict) {
        snprintf(room, REPORT_TEXT_ROOM, "cable length, %s of at most %s",
                 fe_amount(doc, channel->length_m, FE_STYLE_DISTANCE),
                 fe_amount(doc, channel->limit_m, FE_STYLE_DISTANCE));
        return;
    }
    fe_strbuf text = FE_STRBUF_INIT;
    if (hung->too_short && !hung->meets)
        snprintf(room, REPORT_TEXT_ROOM, "posts too short, tied %s up where %s is asked",
                 fe_amount(doc, hung->longest_up_m, FE_STYLE_HEIGHT),
                 fe_amount(doc, hung->asked_m, FE_STYLE_HEIGHT));
    else
        snprintf(room, REPORT_TEXT_ROOM, "%s",
                 fe_report_posts_use(hung, fe_posts_reason(hung), doc, &text));
    fe_document_free_text(doc, &text);
}

/* The number that goes with what limits a feed, of the size that was chosen. */
static void feed_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    const fe_feed_choice *feed = &writer->result->feeds[way->index];
    const fe_supply_size *size = fe_supply_shown(feed->entry);
    fe_document *doc = writer->doc;
    if (!feed->found || !size)
        return;
    switch (feed->entry->choices[feed->entry->main_metal][FE_SIZES_METRIC].limited_by) {
    case FE_DEMAND_DROP:
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s of %s allowed", feed->limit,
                 fe_amount_digits(doc, feed->drop, FE_STYLE_PERCENT, 1),
                 fe_amount(doc, feed->allowed, FE_STYLE_PERCENT));
        return;
    case FE_DEMAND_LOAD:
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s arrive", feed->limit,
                 fe_amount(doc, size->worst_v, FE_STYLE_VOLTAGE));
        return;
    case FE_DEMAND_START:
        snprintf(room, REPORT_TEXT_ROOM, "%s, down to %s", feed->limit,
                 fe_amount(doc, size->start_v, FE_STYLE_VOLTAGE));
        return;
    case FE_DEMAND_AMPACITY:
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s of %s", feed->limit,
                 fe_amount(doc, size->current_a, FE_STYLE_CURRENT),
                 fe_amount(doc, size->ampacity_a, FE_STYLE_CURRENT));
        return;
    case FE_DEMAND_FAULT:
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s of %s", feed->limit,
                 fe_amount(doc, size->fault_ohm, FE_STYLE_RESISTANCE),
                 fe_amount(doc, size->fault_limit_ohm, FE_STYLE_RESISTANCE));
        return;
    default:
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s and no thinner", feed->limit, size->name);
        return;
    }
}

static void relay_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    const fe_chain *chain = &writer->result->relays[way->index].chains[way->relays];
    fe_document *doc = writer->doc;
    if (chain->carries_rate)
        snprintf(room, REPORT_TEXT_ROOM, "%s, the %zu%s of %zu, %s %s", way->limit,
                 chain->weakest_hop + 1,
                 chain->weakest_hop == 0   ? "st"
                 : chain->weakest_hop == 1 ? "nd"
                 : chain->weakest_hop == 2 ? "rd"
                                           : "th",
                 chain->hop_count,
                 fe_amount_beside(doc, fabs(chain->margin_db), 0.0, FE_STYLE_RATIO),
                 chain->margin_db < 0.0 ? "missing" : "to spare");
    else
        snprintf(room, REPORT_TEXT_ROOM, "%s, which leaves %s", way->limit,
                 fe_amount(doc, chain->delivered_rate_bps, FE_STYLE_DATA_RATE));
}

static void feed_data_limit(report_writer *writer, const fe_way *way,
                            char room[REPORT_TEXT_ROOM])
{
    const fe_feed_data_result *data = &writer->result->feed_data[way->index];
    fe_document *doc = writer->doc;
    if (!(data->high_bps > 0.0))
        snprintf(room, REPORT_TEXT_ROOM, "%s of feed, too long for such adapters",
                 fe_amount(doc, data->length_m, FE_STYLE_DISTANCE));
    else
        snprintf(room, REPORT_TEXT_ROOM, "such adapters reach %s, and %s is wanted",
                 fe_amount_range(doc, data->low_bps, data->high_bps, FE_STYLE_DATA_RATE),
                 fe_amount(doc, data->wanted_bps, FE_STYLE_DATA_RATE));
}

static void poe_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    const fe_poe_result *poe = &writer->result->channels[way->index].poe;
    if (!poe->need.mains)
        snprintf(room, REPORT_TEXT_ROOM, "%s; %s is wanted there", poe->limit,
                 fe_amount(writer->doc, poe->need.power_w, FE_STYLE_POWER));
}

/* Limits of time, which any way of data has. */
static bool time_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    fe_document *doc = writer->doc;
    if (strcmp(way->limit, FE_LIMIT_TRANSFER) != 0)
        return false;
    if (isinf(way->transfer_s))
        snprintf(room, REPORT_TEXT_ROOM, "%s: nothing is left of the rate", way->limit);
    else
        snprintf(room, REPORT_TEXT_ROOM, "%s, %s of %s", way->limit,
                 fe_amount(doc, way->transfer_s, FE_STYLE_TIME),
                 fe_amount(doc, way->allowed_s, FE_STYLE_TIME));
    return true;
}

static void delay_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    fe_document *doc = writer->doc;
    snprintf(room, REPORT_TEXT_ROOM, "delay, %s%s of %s",
             fe_amount(doc, way->route_delay_s, FE_STYLE_TIME),
             way->route_delay_s > way->delay_s ? " over all paths" : "",
             fe_amount(doc, way->longest_delay_s, FE_STYLE_TIME));
}

const char *report_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    snprintf(room, REPORT_TEXT_ROOM, "%s", way->limit);
    if (time_limit(writer, way, room))
        return room;
    if (strcmp(way->limit, FE_LIMIT_DELAY) == 0)
        delay_limit(writer, way, room);
    else if (fe_way_is_link(way->kind))
        report_link_limit(writer, &writer->result->radio[way->index], room);
    else if (report_is_cable(way))
        cable_limit(writer, way, room);
    else if (way->kind == FE_WAY_RELAYS)
        relay_limit(writer, way, room);
    else if (way->kind == FE_WAY_FEED_DATA)
        feed_data_limit(writer, way, room);
    else if (way->kind == FE_WAY_FEED)
        feed_limit(writer, way, room);
    else if (way->kind == FE_WAY_POE)
        poe_limit(writer, way, room);
    else if (way->kind == FE_WAY_SOLAR)
        snprintf(
            room, REPORT_TEXT_ROOM,
            "a panel of %s; one over %s is a burden, %s the most worth putting up",
            fe_amount(writer->doc, writer->result->solars[way->index].panel_w, FE_STYLE_POWER),
            fe_amount(writer->doc, FE_SOLAR_EASY_W, FE_STYLE_POWER),
            fe_amount(writer->doc, FE_SOLAR_MOST_W, FE_STYLE_POWER));
    return room;
}

static void cable_needs(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    const fe_channel_result *channel = &writer->result->channels[way->index];
    const fe_posts_result *hung = fe_result_hung(writer->result, channel);
    const char *cable = fe_amount(writer->doc, channel->length_m, FE_STYLE_DISTANCE);
    if (hung)
        snprintf(room, REPORT_TEXT_ROOM, "%s of cable with its cords, %zu post%s%s", cable,
                 hung->route.post_count, hung->route.post_count == 1 ? "" : "s",
                 hung->layout == FE_LAYOUT_WOULD_DO ? " longer or thicker than those on hand"
                                                    : "");
    else
        snprintf(room, REPORT_TEXT_ROOM, "%s of cable with its cords, %s of trench", cable,
                 fe_amount(writer->doc, channel->route_m, FE_STYLE_DISTANCE));
}

const char *report_needs(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    snprintf(room, REPORT_TEXT_ROOM, "%s", way->needs);
    if (report_is_cable(way)) {
        cable_needs(writer, way, room);
    } else if (way->kind == FE_WAY_FEED) {
        const fe_feed_choice *feed = &writer->result->feeds[way->index];
        if (feed->found)
            snprintf(room, REPORT_TEXT_ROOM, "%s of %s %s",
                     fe_amount(writer->doc, feed->entry->place.own_m, FE_STYLE_DISTANCE),
                     feed->size_name, fe_conductor_material_name(feed->conductor.material));
    } else if (way->kind == FE_WAY_SOLAR) {
        const fe_solar_result *solar = &writer->result->solars[way->index];
        snprintf(room, REPORT_TEXT_ROOM, "a panel of %s, a battery of %s",
                 fe_amount(writer->doc, solar->panel_w, FE_STYLE_POWER),
                 fe_amount(writer->doc, solar->battery_j, FE_STYLE_ENERGY));
    }
    return room;
}

/* ---- Tables ---- */

static void put_name(report_writer *writer, const fe_way *way)
{
    char path[REPORT_PREFIX_ROOM];
    fe_document_cell(writer->doc, "%s%s",
                     report_path_prefix(writer->result->plan, way->path, path), way->name);
}

static void verdict_rows(report_writer *writer)
{
    const double confidence = writer->result->plan->site.confidence.typical;
    fe_document *doc = writer->doc;
    fe_document_table(doc, "Verdicts", "way|verdict|margin>|chance>|worst season|limited by");
    for (size_t i = 0; i < writer->result->way_count; i++) {
        const fe_way *way = &writer->result->ways[i];
        char room[REPORT_TEXT_ROOM];
        fe_document_row(doc);
        put_name(writer, way);
        fe_document_cell(doc, "%s", fe_mark_of(doc, fe_mark_of_verdict(way->verdict)));
        fe_document_cell(doc, "%s", fe_amount_beside(doc, way->margin_db, 0.0, FE_STYLE_RATIO));
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, way->chance, confidence, FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", way->season ? way->season : "all alike");
        fe_document_cell(doc, "%s", report_limit(writer, way, room));
    }
}

static bool any_transfer(const fe_result *result)
{
    for (size_t i = 0; i < result->way_count; i++)
        if (!isnan(result->ways[i].transfer_s))
            return true;
    return false;
}

static void put_transfer(report_writer *writer, const fe_way *way)
{
    if (way->transfer_s > 0.0 && isinf(way->transfer_s))
        fe_document_cell(writer->doc, "never");
    else
        fe_document_cell(writer->doc, "%s",
                         fe_amount(writer->doc, way->transfer_s, FE_STYLE_TIME));
}

static void needs_rows(report_writer *writer)
{
    fe_document *doc = writer->doc;
    const bool transfer = any_transfer(writer->result);
    fe_document_table(doc, "What each way gives and takes",
                      transfer ? "way|rate>|transfer>|delay>|needs" : "way|rate>|delay>|needs");
    for (size_t i = 0; i < writer->result->way_count; i++) {
        const fe_way *way = &writer->result->ways[i];
        char room[REPORT_TEXT_ROOM];
        fe_document_row(doc);
        put_name(writer, way);
        fe_document_cell(doc, "%s", fe_amount(doc, way->rate_bps, FE_STYLE_DATA_RATE));
        if (transfer)
            put_transfer(writer, way);
        fe_document_cell(doc, "%s", fe_amount(doc, way->delay_s, FE_STYLE_TIME));
        fe_document_cell(doc, "%s", report_needs(writer, way, room));
    }
}

static void explain(report_writer *writer)
{
    const fe_plan_site *site = &writer->result->plan->site;
    fe_document *doc = writer->doc;
    fe_document_paragraph(
        doc,
        "A radio way holds when %s of links built like it meet the target for %s of the time "
        "in "
        "the worst season, is tight when the average one does, and fails when that one misses. "
        "A cable is tight from %s of its limit, a panel from %s. Margin is what an average "
        "build has to spare; "
        "rate is what to count on for the traffic of both directions together.",
        fe_amount(doc, site->confidence.typical, FE_STYLE_PERCENT),
        fe_amount(doc, site->availability.typical, FE_STYLE_PERCENT),
        fe_amount(doc, 0.9, FE_STYLE_PERCENT), fe_amount(doc, FE_SOLAR_EASY_W, FE_STYLE_POWER));
}

void report_ways(report_writer *writer)
{
    fe_document_heading(writer->doc, 2, "Ways side by side");
    verdict_rows(writer);
    needs_rows(writer);
    report_costs(writer);
    explain(writer);
}

/* ---- JSON ---- */

static const char *kind_name(fe_way_kind kind)
{
    static const char *const NAMES[] = {
        [FE_WAY_DIRECT] = "direct",
        [FE_WAY_RELAYS] = "relays",
        [FE_WAY_DIRECTIONAL] = "directional",
        [FE_WAY_COPPER_POSTS] = "copper on posts",
        [FE_WAY_COPPER_BURIED] = "copper buried",
        [FE_WAY_FIBRE_POSTS] = "fibre on posts",
        [FE_WAY_FIBRE_BURIED] = "fibre buried",
        [FE_WAY_SINGLE_PAIR] = "single pair",
        [FE_WAY_FEED_DATA] = "data over the feed",
        [FE_WAY_FEED] = "feed",
        [FE_WAY_POE] = "power over the data cable",
        [FE_WAY_SOLAR] = "panel and battery",
    };
    return kind < sizeof NAMES / sizeof NAMES[0] ? NAMES[kind] : "way";
}

static json_t *way_json(report_json *json, const fe_result *result, size_t index)
{
    const fe_plan *plan = result->plan;
    const fe_way *way = &result->ways[index];
    json_t *object = report_json_object(json);
    report_json_text(json, object, "name", way->name);
    report_json_text(json, object, "kind", kind_name(way->kind));
    report_json_text(json, object, "path",
                     fe_way_is_power(way->kind) ? NULL : plan->paths[way->path].name);
    report_json_text(json, object, "verdict", fe_verdict_name(way->verdict));
    report_json_text(json, object, "limit", way->limit);
    report_json_text(json, object, "season", way->season);
    report_json_number(json, object, "margin_db", way->margin_db);
    report_json_number(json, object, "chance", way->chance);
    if (result->outlook)
        report_json_set(
            json, object, "interval",
            report_interval_json(json, &result->outlook->sensitivity.intervals[index]));
    report_json_number(json, object, "used", way->used);
    report_json_number(json, object, "phy_rate_mbps", way->phy_rate_bps / 1e6);
    report_json_number(json, object, "delivered_rate_mbps", way->rate_bps / 1e6);
    report_json_number(json, object, "delay_ms", way->delay_s * 1e3);
    report_json_number(json, object, "route_delay_ms", way->route_delay_s * 1e3);
    report_json_number(json, object, "delay_allowed_ms", way->longest_delay_s * 1e3);
    report_json_number(json, object, "transfer_h", way->transfer_s / 3600.0);
    report_json_number(json, object, "transfer_allowed_h", way->allowed_s / 3600.0);
    report_json_text(json, object, "needs", way->needs);
    report_json_count(json, object, "relays", way->relays);
    report_json_count(json, object, "posts", way->posts);
    report_json_number(json, object, "trench_m", way->trench_m);
    report_json_count(json, object, "powered_places", way->powered_places);
    report_json_set(json, object, "hazards", report_hazards_json(json, way));
    report_json_number(json, object, "struck_per_year", way->struck_per_year);
    report_json_number(json, object, "near_per_year", way->near_per_year);
    report_json_set(json, object, "parts", report_parts_json(json, way));
    report_json_number(json, object, "cost", way->parts.cost);
    report_json_count(json, object, "unpriced_parts", way->parts.unpriced);
    report_json_count(json, object, "index", way->index);
    return object;
}

json_t *report_ways_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->way_count; i++)
        report_json_append(json, list, way_json(json, result, i));
    return list;
}
