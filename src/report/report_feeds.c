/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The feed from each source voltage of the plan. */
#include <math.h>
#include <stdio.h>

#include "report/report_parts.h"

static void feed_row(fe_document *doc, const fe_feed_choice *feed)
{
    fe_document_row(doc);
    fe_document_cell(doc, "%s %s", fe_amount(doc, feed->source.volt, FE_STYLE_VOLTAGE),
                     feed->source.ac ? "AC" : "DC");
    fe_document_cell(doc, "%s", fe_mark_of(doc, report_mark(feed->verdict)));
    if (!feed->found) {
        fe_document_cell(doc, "none on the list delivers");
        return;
    }
    fe_document_cell(doc, "%s %s", feed->size_name,
                     fe_conductor_material_name(feed->conductor.material));
    fe_document_cell(doc, "%s", fe_amount(doc, feed->length_m, FE_STYLE_LENGTH));
    fe_document_cell(doc, "%s", fe_amount(doc, feed->far_v, FE_STYLE_VOLTAGE));
    fe_document_cell(doc, "%s", fe_amount_digits(doc, feed->drop, FE_STYLE_PERCENT, 1));
    fe_document_cell(doc, "%s", fe_amount(doc, feed->loss_w, FE_STYLE_POWER));
}

/* Voltage falls evenly only where nothing is taken on the way. */
static bool loads_at_end(const fe_plan *plan)
{
    for (size_t i = 0; i < plan->load_count; i++)
        if (plan->loads[i].at_m.given != FE_GIVEN_NOT)
            return false;
    return true;
}

static void feed_figure(report_writer *writer)
{
    const fe_result *result = writer->result;
    double at_m[FE_FIGURE_MOST_LINES][2];
    double volt[FE_FIGURE_MOST_LINES][2];
    char names[FE_FIGURE_MOST_LINES][80];
    fe_feed_curve lines[FE_FIGURE_MOST_LINES];
    size_t count = 0;
    for (size_t i = 0; i < result->feed_count && count < FE_FIGURE_MOST_LINES; i++) {
        const fe_feed_choice *feed = &result->feeds[i];
        if (!feed->found)
            continue;
        at_m[count][0] = 0.0;
        at_m[count][1] = feed->length_m;
        volt[count][0] = feed->source.volt;
        volt[count][1] = feed->far_v;
        snprintf(names[count], sizeof names[count], "%.0f V, %s %s", feed->source.volt,
                 feed->size_name, fe_conductor_material_name(feed->conductor.material));
        lines[count] =
            (fe_feed_curve){names[count], feed->source.volt, at_m[count], volt[count], 2};
        count++;
    }
    if (count == 0 || !loads_at_end(result->plan))
        return;
    fe_figure figure = FE_FIGURE_INIT;
    const fe_feed_data data = {"feed", "Voltage along the feed", lines, count,
                               result->feeds[0].allowed};
    report_add_figure(writer, fe_figure_feed(&data, writer->units, &figure), &figure);
}

void report_feeds(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document *doc = writer->doc;
    if (result->feed_count == 0)
        return;
    fe_document_heading(doc, 2, "Power over a feed");
    fe_document_paragraph(
        doc,
        "For each voltage the smallest conductor on the list whose drop stays "
        "within %s and whose far end still suits the loads.",
        fe_amount(doc, result->feeds[0].allowed, FE_STYLE_PERCENT));
    fe_document_table(doc, "Feed by source voltage",
                      "source|verdict|conductor|length>|far end>|drop>|lost in it>");
    for (size_t i = 0; i < result->feed_count; i++)
        feed_row(doc, &result->feeds[i]);
    feed_figure(writer);
}

/* ---- JSON ---- */

static json_t *feed_json(report_json *json, const fe_feed_choice *feed)
{
    json_t *object = report_json_object(json);
    report_json_number(json, object, "voltage_v", feed->source.volt);
    report_json_bool(json, object, "ac", feed->source.ac);
    report_json_text(json, object, "verdict", fe_verdict_name(feed->verdict));
    report_json_text(json, object, "limit", feed->limit);
    report_json_bool(json, object, "found", feed->found);
    report_json_number(json, object, "length_m", feed->length_m);
    report_json_number(json, object, "allowed_drop_percent", feed->allowed * 100.0);
    const double none = (double)NAN;
    report_json_number(json, object, "smallest_mm2",
                       feed->found ? feed->conductor.area_m2 * 1e6 : none);
    report_json_text(json, object, "material",
                     feed->found ? fe_conductor_material_name(feed->conductor.material) : NULL);
    report_json_number(json, object, "conductor_c", feed->found ? feed->conductor_c : none);
    report_json_number(json, object, "far_voltage_v", feed->found ? feed->far_v : none);
    report_json_number(json, object, "drop_percent", feed->found ? feed->drop * 100.0 : none);
    report_json_number(json, object, "loss_w", feed->found ? feed->loss_w : none);
    report_json_number(json, object, "load_w", feed->found ? feed->load_w : none);
    return object;
}

json_t *report_feeds_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->feed_count; i++)
        report_json_append(json, list, feed_json(json, &result->feeds[i]));
    return list;
}
