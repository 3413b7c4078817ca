/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cables on posts: each run with what it does in every season; to build from where chosen. */
#include <math.h>
#include <stdio.h>

#include "farend/report_posts.h"
#include "report/report_parts.h"

/* What one season does to a run, over all its spans and load cases. */
typedef struct run_season {
    double sag_m;
    double clearance_m;
    double clearance_at_m; /* where that is */
    double over_snow_m;
    double pull_n;
    fe_run_case_kind pull_case;
} run_season;

static run_season season_of(const fe_route_check *check, size_t season)
{
    run_season found = {.clearance_m = INFINITY, .over_snow_m = INFINITY};
    for (size_t c = 0; c < check->run.case_count; c++) {
        if (check->run.cases[c].season != season)
            continue;
        for (size_t s = 0; s < check->run.span_count; s++) {
            const fe_run_state *hung = &check->give.states[c * check->give.span_count + s];
            const double pull_n = check->run.states[c * check->run.span_count + s].tension_n;
            found.sag_m = fmax(found.sag_m, hung->sag_m);
            if (hung->clearance_m < found.clearance_m) {
                found.clearance_m = hung->clearance_m;
                found.clearance_at_m = hung->clearance_at_m;
            }
            found.over_snow_m = fmin(found.over_snow_m, hung->over_season_m);
            if (pull_n > found.pull_n) {
                found.pull_n = pull_n;
                found.pull_case = check->run.cases[c].kind;
            }
        }
    }
    return found;
}

static void seasons_table(fe_document *doc, const fe_plan *plan, const fe_posts_result *run)
{
    fe_document_table(doc, "The run in each season",
                      "season|greatest sag>|least above ground>|above snow>|greatest pull>|in");
    run_season lowest = {.clearance_m = INFINITY};
    for (size_t i = 0; i < plan->season_count; i++) {
        const run_season season = season_of(&run->check, i);
        if (season.clearance_m < lowest.clearance_m)
            lowest = season;
        fe_document_row(doc);
        fe_document_cell(doc, "%s", plan->seasons[i].name);
        fe_document_cell(doc, "%s", fe_amount(doc, season.sag_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s", fe_amount(doc, season.clearance_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s", fe_amount(doc, season.over_snow_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s", fe_amount(doc, season.pull_n, FE_STYLE_FORCE));
        fe_document_cell(doc, "%s", fe_run_case_name(season.pull_case));
    }
    if (isfinite(lowest.clearance_m))
        fe_document_paragraph(doc,
                              "The least above ground, %s, is %s along; each place is held "
                              "against what is asked there.",
                              fe_amount(doc, lowest.clearance_m, FE_STYLE_HEIGHT),
                              fe_amount(doc, lowest.clearance_at_m, FE_STYLE_LENGTH));
}

static double longest_span(const fe_posts_result *run)
{
    double longest_m = 0.0;
    for (size_t i = 0; i < run->check.run.span_count; i++)
        longest_m = fmax(longest_m, run->check.run.spans[i].length_m);
    return longest_m;
}

void report_hung_run(fe_document *doc, const fe_plan *plan, const fe_posts_result *run)
{
    const fe_route_use *pull = &run->check.uses[FE_ROUTE_PULL];
    fe_report_posts_verdict(run, doc);
    if (run->check.run.span_count == 0)
        return;
    fe_document_pair(doc, "Spans", "%zu, the longest %s", run->check.run.span_count,
                     fe_amount(doc, longest_span(run), FE_STYLE_LENGTH));
    if (pull->use > 0.0)
        fe_document_pair(doc, "Pull in the cable", "%s where %s is the most",
                         fe_amount(doc, pull->value, FE_STYLE_FORCE),
                         fe_amount(doc, pull->allowed, FE_STYLE_FORCE));
    seasons_table(doc, plan, run);
}

json_t *report_hung_run_json(report_json *json, const fe_plan *plan, const fe_posts_result *run)
{
    const fe_route_use *pull = &run->check.uses[FE_ROUTE_PULL];
    json_t *object = report_json_object(json);
    double sag_m = 0.0;
    for (size_t i = 0; i < plan->season_count; i++)
        sag_m = fmax(sag_m, season_of(&run->check, i).sag_m);
    report_json_text(json, object, "verdict", fe_verdict_name(run->verdict));
    report_json_count(json, object, "spans", run->check.run.span_count);
    report_json_number(json, object, "longest_span_m", longest_span(run));
    report_json_number(json, object, "greatest_sag_m", sag_m);
    report_json_number(json, object, "pull_n", pull->use > 0.0 ? pull->value : (double)NAN);
    report_json_number(json, object, "pull_limit_n",
                       pull->use > 0.0 ? pull->allowed : (double)NAN);
    return object;
}

static bool is_chosen(const fe_result *result, const fe_posts_result *run)
{
    const fe_way *way = fe_result_way(result, result->picks[run->path].way);
    return way && report_is_cable(way) &&
           fe_result_hung(result, &result->channels[way->index]) == run;
}

static void keep_status(report_writer *writer, fe_status status)
{
    if (status == FE_E_MEMORY)
        writer->status = status;
}

static void one_run(report_writer *writer, const fe_posts_result *run, size_t index)
{
    enum { LEVEL = 4 };
    const bool chosen = is_chosen(writer->result, run);
    char id[32], title[120];
    snprintf(id, sizeof id, index == 0 ? "overhead" : "overhead-%zu", index + 1);
    snprintf(title, sizeof title, "The overhead run, %s", run->cable->label);
    fe_report_posts_verdict(run, writer->doc);
    seasons_table(writer->doc, writer->result->plan, run);
    if (writer->figures)
        keep_status(writer, fe_report_posts_section(run, id, title, writer->gnuplot,
                                                    writer->units, writer->doc));
    if (!chosen) {
        fe_report_posts_layout(run, writer->doc);
        return;
    }
    fe_report_posts_sheet(run, LEVEL, writer->doc);
    if (writer->figures)
        keep_status(writer,
                    fe_report_posts_chart(run, writer->gnuplot, writer->units, writer->doc));
    fe_report_posts_reasons(run, LEVEL, writer->doc);
}

void report_overhead(report_writer *writer)
{
    const fe_result *result = writer->result;
    if (result->overhead_count == 0)
        return;
    fe_document_heading(writer->doc, 2, "Cables on posts");
    fe_document_paragraph(writer->doc, "A messenger is the strand that carries a cable between "
                                       "its posts, in its sheath or lashed to it.");
    for (size_t i = 0; i < result->overhead_count; i++) {
        const fe_posts_result *run = &result->overhead[i];
        char path[REPORT_PREFIX_ROOM];
        fe_document_heading(writer->doc, 3, "%s%s",
                            report_path_prefix(result->plan, run->path, path),
                            run->cable->label);
        one_run(writer, run, i);
    }
}

json_t *report_overhead_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->overhead_count; i++)
        report_json_append(json, list, report_posts_json(json, &result->overhead[i]));
    return list;
}
