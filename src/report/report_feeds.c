/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The feed from each source voltage of the plan. */
#include <stdlib.h>

#include "farend/report_power.h"
#include "report/report_parts.h"

static void feed_row(fe_document *doc, const fe_plan *plan, const fe_feed_choice *feed)
{
    char path[REPORT_PREFIX_ROOM];
    char name[REPORT_SOURCE_ROOM];
    fe_document_row(doc);
    fe_document_cell(doc, "%s%s", report_path_prefix(plan, feed->path, path),
                     report_source_name(feed->entry, name));
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

static bool is_chosen(const fe_result *result, size_t path, fe_way_kind kind)
{
    const fe_way *power = fe_result_way(result, result->picks[path].power_way);
    return power && power->kind == kind;
}

/* The feed over a path that is recommended, else the first: null where there is none. */
static const fe_feed_choice *detailed(const fe_result *result, size_t path)
{
    if (is_chosen(result, path, FE_WAY_FEED))
        return &result->feeds[result->ways[result->picks[path].power_way].index];
    for (size_t i = 0; i < result->feed_count; i++)
        if (result->feeds[i].path == path)
            return &result->feeds[i];
    return NULL;
}

/* The list of what is recommended stands with the recommendation. */
static void feed_in_full(report_writer *writer, const fe_feed_choice *feed)
{
    const fe_plan *plan = writer->result->plan;
    char path[REPORT_PREFIX_ROOM];
    fe_document *doc = writer->doc;
    char name[REPORT_SOURCE_ROOM];
    fe_document_heading(doc, 3, "%sFrom %s", report_path_prefix(plan, feed->path, path),
                        report_source_name(feed->entry, name));
    report_power_source(doc, feed->entry);
    if (!is_chosen(writer->result, feed->path, FE_WAY_FEED))
        report_buy_feed(doc, plan, feed->entry);
}

static void solar_in_full(report_writer *writer, const fe_solar_result *solar)
{
    const fe_plan *plan = writer->result->plan;
    char path[REPORT_PREFIX_ROOM];
    fe_document_heading(writer->doc, 3, "%sFrom a panel and a battery there",
                        report_path_prefix(plan, solar->path, path));
    report_solar(writer->doc, solar->sized);
    if (!is_chosen(writer->result, solar->path, FE_WAY_SOLAR))
        report_buy_solar(writer->doc, plan, solar->sized);
}

static void say_what_is_shown(report_writer *writer)
{
    const fe_result *result = writer->result;
    const fe_feed_choice *first = &result->feeds[0];
    fe_document *doc = writer->doc;
    if (result->plan->path_count == 1)
        fe_document_paragraph(
            doc,
            "For each source the smallest conductor on the list whose drop over %s of cable "
            "stays within %s of the source's lowest voltage, and which meets every other "
            "demand.",
            fe_amount(doc, first->length_m, FE_STYLE_DISTANCE),
            fe_amount(doc, first->allowed, FE_STYLE_PERCENT));
    else
        fe_document_paragraph(
            doc,
            "For each source the smallest conductor on the list whose drop stays within %s of "
            "the source's lowest voltage, and which meets every other demand. Feeds begin at "
            "the last building on their way that has mains. Stretches that several share are "
            "laid once: they carry the sum, and are no thinner than what goes on from them.",
            fe_amount(doc, first->allowed, FE_STYLE_PERCENT));
}

void report_feeds(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document *doc = writer->doc;
    if (result->feed_count == 0)
        return;
    fe_document_heading(doc, 2, "Power over a feed");
    say_what_is_shown(writer);
    fe_document_table(doc, "Feed by source voltage",
                      "source|verdict|conductor|far end>|drop>|lost in it>");
    for (size_t i = 0; i < result->feed_count; i++)
        feed_row(doc, result->plan, &result->feeds[i]);
    feed_figure(writer);
    for (size_t path = 0; path < result->pick_count; path++)
        if (detailed(result, path))
            feed_in_full(writer, detailed(result, path));
    for (size_t i = 0; i < result->solar_count && result->plan->solar.given; i++)
        solar_in_full(writer, &result->solars[i]);
}

json_t *report_feeds_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->feed_count; i++)
        report_json_append(json, list, report_power_source_json(json, result->feeds[i].entry));
    return list;
}
