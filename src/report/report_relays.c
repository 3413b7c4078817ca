/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many equal relays, and what they deliver. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "report/report_parts.h"

static void chain_row(report_writer *writer, const fe_relay_result *relays,
                      const fe_chain *chain)
{
    fe_document *doc = writer->doc;
    const char *path = report_path_name(writer->result->plan, relays->path);
    fe_document_row(doc);
    fe_document_cell(doc, "%s%s%s", path ? path : "", path ? ": " : "",
                     fe_band_name(relays->band));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->relays, FE_STYLE_COUNT));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->hop_m, FE_STYLE_DISTANCE));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->margin_db, FE_STYLE_RATIO));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->chance, FE_STYLE_PERCENT));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->delivered_rate_bps, FE_STYLE_DATA_RATE));
    fe_document_cell(doc, "%s", fe_amount(doc, chain->delay_s, FE_STYLE_TIME));
}

/* Up to one more than the best; beyond that another relay only costs rate. */
static size_t rows_of(const fe_relay_result *relays)
{
    const size_t wanted = (size_t)relays->best + 2;
    return wanted < relays->chain_count ? wanted : relays->chain_count;
}

static void say_needed(report_writer *writer, const fe_relay_result *relays)
{
    fe_document *doc = writer->doc;
    const char *gear = relays->relay_gear->name;
    const char *band = fe_band_name(relays->band);
    if (relays->needed == 0)
        fe_document_item(doc, "%s: no relay is needed.", band);
    else if (relays->needed > 0)
        fe_document_item(
            doc, "%s: %d %s (%s, %s up) with power and shelter, %s apart.", band,
            relays->needed, relays->needed == 1 ? "relay" : "relays", gear,
            fe_amount(doc, relays->relay_height_m, FE_STYLE_HEIGHT),
            fe_amount(doc, relays->chains[relays->needed].hop_m, FE_STYLE_DISTANCE));
    else
        fe_document_item(doc, "%s: no number of relays up to %d is enough with %s at %s.", band,
                         FE_CHAIN_MOST_RELAYS, gear,
                         fe_amount(doc, relays->relay_height_m, FE_STYLE_HEIGHT));
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
    double needed_bps = 0.0;
    for (size_t i = 0; i < relays->chain_count; i++) {
        const fe_chain *chain = &relays->chains[i];
        if (isfinite(chain->margin_db) && isfinite(chain->delivered_rate_bps))
            points[count++] =
                (fe_relays_point){chain->relays, chain->delivered_rate_bps, chain->margin_db};
    }
    for (size_t i = 0; i < writer->result->radio_count; i++)
        if (writer->result->radio[i].path == relays->path)
            needed_bps = writer->result->radio[i].wanted.rate_bps[0] +
                         writer->result->radio[i].wanted.rate_bps[1];
    char title[120];
    snprintf(title, sizeof title, "Rate and margin against relays, %s",
             fe_band_name(relays->band));
    fe_figure figure = FE_FIGURE_INIT;
    const fe_relays_data data = {"relays", title, points, count, needed_bps};
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
    fe_document_paragraph(doc,
                          "Relays at equal distances that share one channel: only one of "
                          "them can send at a time, so each one more costs rate. Margin is "
                          "that of the weakest hop.");
    for (size_t i = 0; i < result->relay_count; i++)
        say_needed(writer, &result->relays[i]);
    fe_document_table(doc, "Equal relays on one channel",
                      "band|relays>|longest hop>|margin>|chance>|rate>|delay>");
    for (size_t i = 0; i < result->relay_count; i++)
        for (size_t n = 0; n < rows_of(&result->relays[i]); n++)
            chain_row(writer, &result->relays[i], &result->relays[i].chains[n]);
    relays_figure(writer);
}

/* ---- JSON ---- */

static json_t *chain_json(report_json *json, const fe_result *result,
                          const fe_relay_result *relays, const fe_chain *chain)
{
    json_t *object = report_json_object(json);
    json_t *positions = report_json_list(json);
    const double length_m = fe_profile_length(&result->plan->paths[relays->path].profile);
    for (unsigned i = 1; i <= chain->relays; i++)
        report_json_append(json, positions, json_real(length_m * i / (chain->relays + 1.0)));
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
        report_json_number(json, object, "height_m", relays->relay_height_m);
        report_json_text(json, object, "verdict", fe_verdict_name(relays->verdict));
        report_json_set(json, object, "needed",
                        relays->needed < 0 ? json_null() : json_integer(relays->needed));
        for (size_t n = 0; n < relays->chain_count; n++)
            report_json_append(json, chains,
                               chain_json(json, result, relays, &relays->chains[n]));
        report_json_set(json, object, "chains", chains);
        report_json_append(json, list, object);
    }
    return list;
}
