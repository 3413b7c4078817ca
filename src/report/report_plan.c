/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report of a plan: its parts in the order in which an owner needs them. */
#include "report/report_parts.h"

fe_status fe_report_document(const fe_result *result, fe_gnuplot *gnuplot, fe_units units,
                             fe_document **doc)
{
    report_writer writer = {
        .result = result,
        .doc = report_new_document(result->plan, 0, "data and power out there"),
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
    return report_finish(&writer, doc);
}

fe_status fe_report_radio_document(const fe_result *result, const fe_improvements *improvements,
                                   fe_document **doc)
{
    report_writer writer = {.result = result,
                            .doc = report_new_document(result->plan, 0, "the radio side"),
                            .status = FE_OK};
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
    return report_finish(&writer, doc);
}
