/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report of a plan: its parts in the order in which an owner needs them. */
#include "report/report_parts.h"

static fe_document *new_document(const fe_plan *plan, const char *what)
{
    if (plan->site.name && *plan->site.name)
        return fe_document_new("%s: %s", plan->site.name, what);
    return fe_document_new("From %s to %s: %s", report_end_name(plan, 0, 0),
                           report_end_name(plan, 0, 1), what);
}

static fe_status finish(const report_writer *writer, fe_document **doc)
{
    fe_status status = fe_document_status(writer->doc);
    if (status >= 0 && writer->status < 0)
        status = writer->status;
    if (status < 0) {
        fe_document_free(writer->doc);
        *doc = NULL;
        return status;
    }
    *doc = writer->doc;
    return FE_OK;
}

fe_status fe_report_document(const fe_result *result, fe_gnuplot *gnuplot, fe_units units,
                             fe_document **doc)
{
    report_writer writer = {.result = result,
                            .doc = new_document(result->plan, "data and power out there"),
                            .gnuplot = gnuplot,
                            .units = units,
                            .figures = true,
                            .status = FE_OK};
    report_verdict(&writer);
    report_ways(&writer);
    report_unknowns(&writer);
    report_sensitivity(&writer);
    report_radio(&writer);
    const int chosen = fe_result_chosen_radio(result);
    if (chosen >= 0) {
        report_budget(&writer, (size_t)chosen);
        report_path(&writer, (size_t)chosen);
        report_power_rules(&writer, (size_t)chosen);
    }
    report_relays(&writer);
    report_overhead(&writer);
    report_cables(&writer);
    report_feeds(&writer);
    report_recovery(&writer);
    report_growth(&writer);
    report_calendar(&writer);
    report_assumptions(&writer);
    report_not_computed(&writer);
    report_warnings(&writer);
    report_cautions(&writer);
    report_sources(&writer);
    return finish(&writer, doc);
}

fe_status fe_report_radio_document(const fe_result *result, const fe_improvements *improvements,
                                   fe_document **doc)
{
    report_writer writer = {
        .result = result, .doc = new_document(result->plan, "the radio side"), .status = FE_OK};
    report_radio(&writer);
    const int chosen = fe_result_chosen_radio(result);
    if (chosen >= 0) {
        report_budget(&writer, (size_t)chosen);
        report_path(&writer, (size_t)chosen);
        if (improvements)
            report_improvements(&writer, improvements);
        report_power_rules(&writer, (size_t)chosen);
    }
    report_warnings(&writer);
    return finish(&writer, doc);
}
