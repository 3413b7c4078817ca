/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order of the work through a year. */
#include <stdio.h>

#include "report/report_parts.h"

enum { MONTHS_ROOM = 60 };

static const char *months_of(const fe_calendar_step *step, char room[MONTHS_ROOM])
{
    const char *year = step->next_year ? ", next year" : "";
    if (step->first_month == step->last_month)
        snprintf(room, MONTHS_ROOM, "%s%s", fe_month_name(step->first_month), year);
    else
        snprintf(room, MONTHS_ROOM, "%s to %s%s", fe_month_name(step->first_month),
                 fe_month_name(step->last_month), year);
    return room;
}

void report_calendar(report_writer *writer)
{
    const fe_outlook *outlook = writer->result->outlook;
    fe_document *doc = writer->doc;
    if (!outlook)
        return;
    const fe_calendar *calendar = &outlook->calendar;
    fe_document_heading(doc, 2, "Through the year");
    if (calendar->frost)
        fe_document_paragraph(
            doc,
            "For a winter like the plan's: frozen ground from %s to %s, leaves from %s to %s. "
            "Your own place knows better; the order matters more than the month.",
            fe_month_name(calendar->frost_first), fe_month_name(calendar->frost_last),
            fe_month_name(calendar->leaf_first), fe_month_name(calendar->leaf_last));
    fe_document_table(doc, "The work in its order", "when|what|because");
    for (size_t i = 0; i < calendar->step_count; i++) {
        char room[MONTHS_ROOM];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", months_of(&calendar->steps[i], room));
        fe_document_cell(doc, "%s", calendar->steps[i].what);
        fe_document_cell(doc, "%s", calendar->steps[i].why);
    }
}

json_t *report_calendar_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    const fe_outlook *outlook = result->outlook;
    for (size_t i = 0; outlook && i < outlook->calendar.step_count; i++) {
        const fe_calendar_step *step = &outlook->calendar.steps[i];
        json_t *object = report_json_object(json);
        report_json_count(json, object, "first_month", (size_t)step->first_month);
        report_json_count(json, object, "last_month", (size_t)step->last_month);
        report_json_bool(json, object, "next_year", step->next_year);
        report_json_text(json, object, "what", step->what);
        report_json_append(json, list, object);
    }
    return list;
}
