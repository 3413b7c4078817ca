/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The feed from each source voltage of the plan. */
#include <stdlib.h>

#include "farend/report_power.h"
#include "report/report_parts.h"

static void feed_row(fe_document *doc, const fe_feed_choice *feed)
{
    char name[REPORT_SOURCE_ROOM];
    fe_document_row(doc);
    fe_document_cell(doc, "%s", report_source_name(doc, feed->entry, name));
    fe_document_cell(doc, "%s", fe_mark_of(doc, fe_mark_of_verdict(feed->verdict)));
    if (!feed->found) {
        fe_document_cell(doc, "none: %s", feed->limit);
        return;
    }
    fe_document_cell(doc, "%s %s", feed->size_name,
                     fe_conductor_material_name(feed->conductor.material));
    fe_document_cell(doc, "%s", fe_amount(doc, feed->far_v, FE_STYLE_VOLTAGE));
    fe_document_cell(doc, "%s", fe_amount_digits(doc, feed->drop, FE_STYLE_PERCENT, 1));
    fe_document_cell(doc, "%s", fe_amount(doc, feed->loss_w, FE_STYLE_POWER));
}

static void feed_figure(report_writer *writer)
{
    const fe_result *result = writer->result;
    const fe_supply_entry **entries = calloc(result->feed_count, sizeof *entries);
    if (!entries) {
        writer->status = FE_E_MEMORY;
        return;
    }
    for (size_t i = 0; i < result->feed_count; i++)
        entries[i] = result->feeds[i].entry;
    fe_figure figure = FE_FIGURE_INIT;
    report_add_figure(
        writer, fe_report_power_figure(entries, result->feed_count, writer->units, &figure),
        &figure);
    free(entries);
}

static bool is_chosen(const fe_result *result, fe_way_kind kind)
{
    return result->power_way >= 0 && result->ways[result->power_way].kind == kind;
}

/* The feed that is recommended, else the first: null where there is none. */
static const fe_feed_choice *detailed(const fe_result *result)
{
    if (is_chosen(result, FE_WAY_FEED))
        return &result->feeds[result->ways[result->power_way].index];
    return &result->feeds[0];
}

void report_feeds(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document *doc = writer->doc;
    char name[REPORT_SOURCE_ROOM];
    if (result->feed_count == 0)
        return;
    const fe_feed_choice *feed = detailed(result);
    fe_document_heading(doc, 2, "Power over a feed");
    fe_document_paragraph(
        doc,
        "For each source the smallest conductor on the list whose drop over %s of cable stays "
        "within %s of the source's lowest voltage, and which meets every other demand.",
        fe_amount(doc, feed->length_m, FE_STYLE_LENGTH),
        fe_amount(doc, feed->allowed, FE_STYLE_PERCENT));
    fe_document_table(doc, "Feed by source voltage",
                      "source|verdict|conductor|far end>|drop>|lost in it>");
    for (size_t i = 0; i < result->feed_count; i++)
        feed_row(doc, &result->feeds[i]);
    feed_figure(writer);
    fe_document_heading(doc, 3, "From %s", report_source_name(doc, feed->entry, name));
    report_power_source(doc, feed->entry);
    /* The list of what is recommended stands with the recommendation. */
    if (!is_chosen(result, FE_WAY_FEED))
        report_buy_feed(doc, result->plan, feed->entry);
    if (result->has_solar && result->plan->solar.given) {
        fe_document_heading(doc, 3, "From a panel and a battery there");
        report_solar(doc, result->solar.sized);
        if (!is_chosen(result, FE_WAY_SOLAR))
            report_buy_solar(doc, result->plan, result->solar.sized);
    }
}

json_t *report_feeds_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->feed_count; i++)
        report_json_append(json, list, report_power_source_json(json, result->feeds[i].entry));
    return list;
}
