/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables by their real length, against the limit of what runs over them. */
#include "report/report_parts.h"

void report_cables(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document *doc = writer->doc;
    if (result->channel_count == 0)
        return;
    fe_document_heading(doc, 2, "Cable lengths against limits");
    fe_document_table(doc, "Cable lengths",
                      "cable|outside>|inside>|slack>|in all>|limit>|verdict");
    for (size_t i = 0; i < result->channel_count; i++) {
        const fe_channel_result *channel = &result->channels[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s %s", channel->cable->name,
                         channel->overhead ? "on posts" : "in the ground");
        fe_document_cell(
            doc, "%s", fe_amount(doc, channel->route_m + channel->drops_m, FE_STYLE_DISTANCE));
        fe_document_cell(
            doc, "%s", fe_amount(doc, channel->indoor_m + channel->cords_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount(doc, channel->slack_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount(doc, channel->length_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount(doc, channel->limit_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_mark_of(doc, report_mark(channel->verdict)));
    }
    fe_document_paragraph(doc,
                          "A cable follows the ground or the wire it hangs on, goes down at "
                          "both ends, and runs on indoors: the limit counts all of it. The "
                          "limit of a copper cable is shorter with long cords and in heat.");
}

/* ---- JSON ---- */

json_t *report_cables_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->channel_count; i++) {
        const fe_channel_result *channel = &result->channels[i];
        json_t *object = report_json_object(json);
        report_json_text(json, object, "path", result->plan->paths[channel->path].name);
        report_json_text(json, object, "cable", channel->cable->name);
        report_json_bool(json, object, "overhead", channel->overhead);
        report_json_bool(json, object, "fibre", channel->fibre);
        report_json_text(json, object, "application", channel->application);
        report_json_number(json, object, "route_m", channel->route_m);
        report_json_number(json, object, "drops_m", channel->drops_m);
        report_json_number(json, object, "indoor_m", channel->indoor_m);
        report_json_number(json, object, "cords_m", channel->cords_m);
        report_json_number(json, object, "slack_m", channel->slack_m);
        report_json_number(json, object, "channel_length_m", channel->length_m);
        report_json_number(json, object, "limit_m", channel->limit_m);
        report_json_number(json, object, "rate_mbps", channel->rate_bps / 1e6);
        report_json_text(json, object, "verdict", fe_verdict_name(channel->verdict));
        report_json_append(json, list, object);
    }
    return list;
}
