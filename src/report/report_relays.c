/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many relays, where, and what they deliver. */
#include <stdio.h>

#include "farend/radio_relays.h"
#include "report/report_parts.h"

static void chain_row(report_writer *writer, const fe_relay_result *relays,
                      const fe_chain *chain)
{
    fe_document *doc = writer->doc;
    char path[REPORT_PREFIX_ROOM];
    fe_document_row(doc);
    fe_document_cell(doc, "%s%s", report_path_prefix(writer->result->plan, relays->path, path),
                     fe_band_name(relays->band));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->relays, FE_STYLE_COUNT));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->hop_m, FE_STYLE_DISTANCE));
    fe_document_cell(doc, "%s", fe_amount_beside(doc, chain->margin_db, 0.0, FE_STYLE_RATIO));
    fe_document_cell(doc, "%s",
                     fe_amount_beside(doc, chain->chance,
                                      writer->result->plan->site.confidence.typical,
                                      FE_STYLE_PERCENT));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->delivered_rate_bps, FE_STYLE_DATA_RATE));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->delay_s, FE_STYLE_TIME));
}

/* Up to one more than the best; beyond that another relay only costs rate. */
static size_t rows_of(const fe_relay_result *relays)
{
    const size_t wanted = (size_t)relays->best + 2;
    return wanted < relays->chain_count ? wanted : relays->chain_count;
}

/* "at 55 m and 68 m" */
static void put_places(fe_document *doc, const fe_relay_result *relays, fe_strbuf *out)
{
    const unsigned count = relays->chains[relays->best].relays;
    for (unsigned i = 0; i < count; i++)
        fe_strbuf_format(out, "%s%s",
                         i == 0           ? "at "
                         : i + 1 == count ? " and "
                                          : ", ",
                         fe_amount(doc, relays->places_m[relays->best][i], FE_STYLE_DISTANCE));
}

static const char *whose(const fe_relay_result *relays)
{
    if (relays->owned == 0)
        return "";
    return relays->owned >= relays->chains[relays->best].relays ? ", all owned"
                                                                : ", not all owned yet";
}

static const char *word_power(const fe_plan *plan, const fe_relay_result *relays)
{
    unsigned powered = 0;
    for (int i = 0; i < relays->needed; i++)
        powered += fe_relay_has_power(plan, relays->path, relays->places_m[relays->needed][i]);
    return powered == 0                          ? "power must come there"
           : powered == (unsigned)relays->needed ? "power is there"
                                                 : "power is at some of them";
}

static void say_needed(report_writer *writer, const fe_relay_result *relays)
{
    fe_document *doc = writer->doc;
    const char *gear = relays->relay_gear->label;
    const char *band = fe_band_name(relays->band);
    const fe_chain *best = &relays->chains[relays->best];
    fe_strbuf places = FE_STRBUF_INIT;
    put_places(doc, relays, &places);
    if (relays->needed == 0)
        fe_document_item(doc, "%s: no relay is needed.", band);
    else if (relays->needed > 0)
        fe_document_item(doc, "%s: %d %s (%s%s, %s up) %s, in shelter; %s.", band,
                         relays->needed, relays->needed == 1 ? "relay" : "relays", gear,
                         whose(relays), fe_amount(doc, relays->relay_height_m, FE_STYLE_HEIGHT),
                         fe_strbuf_text(&places), word_power(writer->result->plan, relays));
    else
        fe_document_item(doc,
                         "%s: up to %u of %s at %s do not do it; best with %s%s%s, a chance "
                         "of %s.",
                         band, relays->looked_at, gear,
                         fe_amount(doc, relays->relay_height_m, FE_STYLE_HEIGHT),
                         fe_amount_count(doc, best->relays), places.length > 0 ? " " : "",
                         fe_strbuf_text(&places),
                         fe_amount_beside(doc, best->chance,
                                          writer->result->plan->site.confidence.typical,
                                          FE_STYLE_PERCENT));
    fe_document_free_text(doc, &places);
}

/* The band that needs fewest relays, of those that need any; else the first. */
static const fe_relay_result *to_draw(const fe_result *result)
{
    const fe_relay_result *best = NULL;
    for (size_t i = 0; i < result->relay_count; i++) {
        const fe_relay_result *relays = &result->relays[i];
        if (relays->path != 0)
            continue;
        const bool better =
            best && relays->needed > 0 && (best->needed <= 0 || relays->needed < best->needed);
        if (!best || better)
            best = relays;
    }
    return best;
}

static void relays_figure(report_writer *writer)
{
    const fe_relay_result *relays = to_draw(writer->result);
    if (!relays)
        return;
    fe_relays_point points[FE_CHAIN_MOST_RELAYS + 1];
    size_t count = 0;
    fe_wanted wanted = {0};
    for (size_t i = 0; i < relays->chain_count; i++)
        count = fe_figure_relays_add(points, count, &relays->chains[i]);
    for (size_t i = 0; i < writer->result->radio_count; i++)
        if (writer->result->radio[i].path == relays->path)
            wanted = writer->result->radio[i].wanted;
    char title[120];
    snprintf(title, sizeof title, "Rate and margin against relays, %s",
             fe_band_name(relays->band));
    fe_figure figure = FE_FIGURE_INIT;
    const fe_relays_data data = {
        "relays",         title, points, count, wanted.rate_bps[0] + wanted.rate_bps[1],
        wanted.confidence};
    if (count > 1)
        report_add_figure(writer, fe_figure_relays(&data, writer->units, &figure), &figure);
}

void report_relays(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document *doc = writer->doc;
    if (result->relay_count == 0)
        return;
    fe_document_heading(doc, 2, "Relays in a row");
    fe_document_paragraph(doc, "Relays at the best places that the plan allows, on one shared "
                               "channel: only one of them can send at a time, so each one more "
                               "costs rate. Margin is that of the weakest hop.");
    for (size_t i = 0; i < result->relay_count; i++)
        say_needed(writer, &result->relays[i]);
    fe_document_table(doc, "Relays on one channel",
                      "band|relays>|longest hop>|margin>|chance>|rate>|delay>");
    for (size_t i = 0; i < result->relay_count; i++)
        for (size_t n = 0; n < rows_of(&result->relays[i]); n++)
            chain_row(writer, &result->relays[i], &result->relays[i].chains[n]);
    relays_figure(writer);
}

/* ---- JSON ---- */

static json_t *chain_json(report_json *json, const fe_result *result,
                          const fe_relay_result *relays, size_t which)
{
    const fe_chain *chain = &relays->chains[which];
    json_t *object = report_json_object(json);
    json_t *positions = report_json_list(json);
    for (unsigned i = 0; i < chain->relays; i++)
        report_json_append(json, positions, json_real(relays->places_m[which][i]));
    report_json_count(json, object, "count", chain->relays);
    report_json_set(json, object, "positions_m", positions);
    report_json_number(json, object, "hop_m", chain->hop_m);
    report_json_text(json, object, "season", result->plan->seasons[chain->worst_season].name);
    report_json_number(json, object, "worst_margin_db", chain->margin_db);
    report_json_number(json, object, "margin_low_db", chain->margin_low_db);
    report_json_number(json, object, "margin_high_db", chain->margin_high_db);
    report_json_number(json, object, "chance", chain->chance);
    report_json_bool(json, object, "carries_rate", chain->carries_rate);
    report_json_number(json, object, "delivered_rate_mbps", chain->delivered_rate_bps / 1e6);
    report_json_number(json, object, "delay_ms", chain->delay_s * 1e3);
    return object;
}

json_t *report_relays_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->relay_count; i++) {
        const fe_relay_result *relays = &result->relays[i];
        json_t *object = report_json_object(json);
        json_t *chains = report_json_list(json);
        report_json_text(json, object, "path", result->plan->paths[relays->path].name);
        report_json_text(json, object, "band", fe_band_name(relays->band));
        report_json_text(json, object, "gear", relays->relay_gear->name);
        report_json_count(json, object, "owned", relays->owned);
        report_json_number(json, object, "height_m", relays->relay_height_m);
        report_json_text(json, object, "verdict", fe_verdict_name(relays->verdict));
        report_json_set(json, object, "needed",
                        relays->needed < 0 ? json_null() : json_integer(relays->needed));
        for (size_t n = 0; n < relays->chain_count; n++)
            report_json_append(json, chains, chain_json(json, result, relays, n));
        report_json_set(json, object, "chains", chains);
        report_json_append(json, list, object);
    }
    return list;
}
