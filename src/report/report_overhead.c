/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cables on posts: each run with its sag, clearance and pull in every season. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "report/report_parts.h"

/* What one season does to a run, over all its spans and load cases. */
typedef struct run_season {
    double sag_m;
    double clearance_m;
    double over_snow_m;
    double pull_n;
    fe_run_case_kind pull_case;
} run_season;

static run_season season_of(const fe_run *run, size_t season)
{
    run_season found = {.clearance_m = INFINITY, .over_snow_m = INFINITY};
    for (size_t c = 0; c < run->case_count; c++) {
        if (run->cases[c].season != season)
            continue;
        for (size_t s = 0; s < run->span_count; s++) {
            const fe_run_state *state = &run->states[c * run->span_count + s];
            found.sag_m = fmax(found.sag_m, state->sag_m);
            found.clearance_m = fmin(found.clearance_m, state->clearance_m);
            found.over_snow_m = fmin(found.over_snow_m, state->over_season_m);
            if (state->tension_n > found.pull_n) {
                found.pull_n = state->tension_n;
                found.pull_case = run->cases[c].kind;
            }
        }
    }
    return found;
}

static const fe_channel_result *channel_of(const fe_result *result,
                                           const fe_overhead_result *overhead)
{
    for (size_t i = 0; i < result->channel_count; i++)
        if (result->channels[i].overhead && result->channels[i].path == overhead->path &&
            result->channels[i].cable == overhead->cable)
            return &result->channels[i];
    return NULL;
}

/* ---- Words ---- */

static void facts(report_writer *writer, const fe_overhead_result *overhead)
{
    const fe_season *seasons = writer->result->plan->seasons;
    const fe_channel_result *channel = channel_of(writer->result, overhead);
    const size_t posts = overhead->support_count - 2;
    fe_document *doc = writer->doc;
    fe_document_pair(doc, "Verdict", "%s; what limits it: %s",
                     fe_mark_of(doc, report_mark(overhead->verdict)), overhead->limit);
    if (posts > 0)
        fe_document_pair(doc, "Posts", "%zu of %s, %s in the ground, %s apart", posts,
                         fe_amount(doc, overhead->post_length_m, FE_STYLE_HEIGHT),
                         fe_amount(doc, overhead->hole_m, FE_STYLE_DEPTH),
                         fe_amount(doc, overhead->run.spans[0].length_m, FE_STYLE_LENGTH));
    else
        fe_document_pair(doc, "Posts", "none, one span of %s",
                         fe_amount(doc, overhead->run.spans[0].length_m, FE_STYLE_LENGTH));
    if (channel)
        fe_document_pair(doc, "Cable to buy", "%s",
                         fe_amount(doc, channel->length_m, FE_STYLE_LENGTH));
    fe_document_pair(doc, "Lowest place", "%s above the ground in %s, %s along; %s asked there",
                     fe_amount(doc, overhead->clearance_m, FE_STYLE_HEIGHT),
                     seasons[overhead->clearance_season].name,
                     fe_amount(doc, overhead->clearance_at_m, FE_STYLE_LENGTH),
                     fe_amount(doc, overhead->required_m, FE_STYLE_HEIGHT));
    fe_document_pair(doc, "Least over the snow", "%s",
                     fe_amount(doc, overhead->over_snow_m, FE_STYLE_HEIGHT));
    fe_document_pair(doc, "Greatest pull", "%s of at most %s, %s in %s",
                     fe_amount(doc, overhead->pull_n, FE_STYLE_FORCE),
                     fe_amount(doc, overhead->pull_limit_n, FE_STYLE_FORCE),
                     fe_run_case_name(overhead->pull_case),
                     seasons[overhead->pull_season].name);
    if (overhead->verdict != FE_VERDICT_HOLDS && isfinite(overhead->wanted_post_m) &&
        overhead->wanted_post_m > overhead->post_length_m)
        fe_document_pair(doc, "Posts that would do", "%s long",
                         fe_amount(doc, overhead->wanted_post_m, FE_STYLE_HEIGHT));
}

static void seasons_table(report_writer *writer, const fe_overhead_result *overhead)
{
    const fe_plan *plan = writer->result->plan;
    fe_document *doc = writer->doc;
    fe_document_table(doc, "The run in each season",
                      "season|greatest sag>|least above ground>|above snow>|greatest pull>|in");
    for (size_t i = 0; i < plan->season_count; i++) {
        const run_season season = season_of(&overhead->run, i);
        fe_document_row(doc);
        fe_document_cell(doc, "%s", plan->seasons[i].name);
        fe_document_cell(doc, "%s", fe_amount(doc, season.sag_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s", fe_amount(doc, season.clearance_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s", fe_amount(doc, season.over_snow_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s", fe_amount(doc, season.pull_n, FE_STYLE_FORCE));
        fe_document_cell(doc, "%s", fe_run_case_name(season.pull_case));
    }
}

/* ---- Figure ---- */

enum { POINTS_A_SPAN = 24 };

typedef struct run_drawing {
    double *at_m; /* of every line the same */
    double *height_m[FE_FIGURE_MOST_LINES];
    fe_overhead_line lines[FE_FIGURE_MOST_LINES];
    size_t line_count;
    fe_overhead_post *posts;
    fe_overhead_crossing *crossings;
} run_drawing;

/* The case in which the run as a whole hangs lowest in a season. */
static size_t lowest_case(const fe_run *run, size_t season)
{
    size_t lowest = run->case_count;
    double most_m = -1.0;
    for (size_t c = 0; c < run->case_count; c++) {
        double sag_m = 0.0;
        for (size_t s = 0; s < run->span_count; s++)
            sag_m = fmax(sag_m, run->states[c * run->span_count + s].sag_m);
        if (run->cases[c].season == season && sag_m > most_m) {
            most_m = sag_m;
            lowest = c;
        }
    }
    return lowest;
}

static void trace(const fe_overhead_result *overhead, const fe_profile *ground, size_t index,
                  double *at_m, double *height_m)
{
    const fe_run *run = &overhead->run;
    for (size_t s = 0; s < run->span_count; s++) {
        const fe_run_span *span = &run->spans[s];
        const double first_m =
            fe_profile_height_at(ground, span->from_m) + overhead->supports[s].attachment_m;
        for (int i = 0; i <= POINTS_A_SPAN; i++) {
            const size_t point = s * (POINTS_A_SPAN + 1) + (size_t)i;
            const double x_m = span->length_m * i / POINTS_A_SPAN;
            at_m[point] = span->from_m + x_m;
            if (fe_run_height(span, &run->states[index * run->span_count + s], first_m, x_m,
                              &height_m[point]) < 0)
                height_m[point] = (double)NAN;
        }
    }
}

static void drawing_free(run_drawing *drawing)
{
    free(drawing->at_m);
    for (size_t i = 0; i < FE_FIGURE_MOST_LINES; i++)
        free(drawing->height_m[i]);
    free(drawing->posts);
    free(drawing->crossings);
}

static bool draw_lines(const fe_plan *plan, const fe_overhead_result *overhead,
                       const fe_profile *ground, run_drawing *drawing)
{
    const size_t points = overhead->run.span_count * (POINTS_A_SPAN + 1);
    drawing->at_m = malloc(points * sizeof *drawing->at_m);
    if (!drawing->at_m)
        return false;
    for (size_t i = 0; i < plan->season_count && drawing->line_count < FE_FIGURE_MOST_LINES;
         i++) {
        const size_t index = lowest_case(&overhead->run, i);
        if (index == overhead->run.case_count)
            continue;
        double *height_m = malloc(points * sizeof *height_m);
        if (!height_m)
            return false;
        trace(overhead, ground, index, drawing->at_m, height_m);
        drawing->height_m[drawing->line_count] = height_m;
        drawing->lines[drawing->line_count++] =
            (fe_overhead_line){plan->seasons[i].name, drawing->at_m, height_m, points,
                               season_of(&overhead->run, i).clearance_m};
    }
    return true;
}

static bool draw_posts(const fe_plan *plan, const fe_overhead_result *overhead,
                       const fe_profile *ground, run_drawing *drawing)
{
    drawing->posts = calloc(overhead->support_count, sizeof *drawing->posts);
    drawing->crossings = calloc(plan->posts.crossing_count + 1, sizeof *drawing->crossings);
    if (!drawing->posts || !drawing->crossings)
        return false;
    for (size_t i = 0; i < overhead->support_count; i++) {
        const double ground_m = fe_profile_height_at(ground, overhead->supports[i].at_m);
        drawing->posts[i] = (fe_overhead_post){overhead->supports[i].at_m, ground_m,
                                               ground_m + overhead->supports[i].attachment_m};
    }
    for (size_t i = 0; i < plan->posts.crossing_count; i++) {
        const fe_plan_crossing *crossing = &plan->posts.crossings[i];
        const bool own = crossing->clearance_m.given != FE_GIVEN_NOT;
        fe_clearance_need need = {0};
        if (fe_limits_clearance((fe_safety_format)plan->posts.safety.value, false,
                                crossing->below,
                                own ? crossing->clearance_m.typical : (double)NAN, &need) < 0)
            need.over_ground_m = 0.0;
        const double middle_m = (crossing->from_m + crossing->to_m) / 2.0;
        drawing->crossings[i] =
            (fe_overhead_crossing){crossing->name, crossing->from_m, crossing->to_m,
                                   need.over_ground_m, fe_profile_height_at(ground, middle_m)};
    }
    return true;
}

static void overhead_figure(report_writer *writer, const fe_overhead_result *overhead,
                            size_t index)
{
    const fe_plan *plan = writer->result->plan;
    const fe_profile *ground = &plan->paths[overhead->path].profile;
    run_drawing drawing = {0};
    char id[32];
    char title[120];
    double snow_m = 0.0;
    for (size_t i = 0; i < plan->season_count; i++)
        snow_m = fmax(snow_m, plan->seasons[i].snow_depth_m);
    snprintf(id, sizeof id, index == 0 ? "overhead" : "overhead-%zu", index + 1);
    snprintf(title, sizeof title, "The overhead run, %s", overhead->cable->name);
    if (draw_lines(plan, overhead, ground, &drawing) &&
        draw_posts(plan, overhead, ground, &drawing)) {
        const fe_overhead_data data = {id,
                                       title,
                                       ground->distance_m,
                                       ground->height_m,
                                       ground->count,
                                       snow_m,
                                       drawing.posts,
                                       overhead->support_count,
                                       drawing.lines,
                                       drawing.line_count,
                                       drawing.crossings,
                                       plan->posts.crossing_count};
        fe_figure figure = FE_FIGURE_INIT;
        report_add_figure(writer, fe_figure_overhead(&data, writer->units, &figure), &figure);
    } else {
        writer->status = FE_E_MEMORY;
    }
    drawing_free(&drawing);
}

void report_overhead(report_writer *writer)
{
    const fe_result *result = writer->result;
    if (result->overhead_count == 0)
        return;
    fe_document_heading(writer->doc, 2, "Cables on posts");
    for (size_t i = 0; i < result->overhead_count; i++) {
        const fe_overhead_result *overhead = &result->overhead[i];
        const char *path = report_path_name(result->plan, overhead->path);
        fe_document_heading(writer->doc, 3, "%s%s%s", path ? path : "", path ? ": " : "",
                            overhead->cable->name);
        facts(writer, overhead);
        seasons_table(writer, overhead);
        overhead_figure(writer, overhead, i);
    }
}

/* ---- JSON ---- */

static json_t *supports_json(report_json *json, const fe_overhead_result *overhead)
{
    json_t *list = report_json_list(json);
    for (size_t i = 1; i + 1 < overhead->support_count; i++) {
        json_t *post = report_json_object(json);
        report_json_number(json, post, "station_m", overhead->supports[i].at_m);
        report_json_number(json, post, "length_m", overhead->post_length_m);
        report_json_number(json, post, "depth_m", overhead->hole_m);
        report_json_number(json, post, "attachment_m", overhead->supports[i].attachment_m);
        report_json_append(json, list, post);
    }
    return list;
}

static json_t *sags_json(report_json *json, const fe_plan *plan, const fe_run *run, size_t span)
{
    json_t *list = report_json_list(json);
    for (size_t c = 0; c < run->case_count; c++) {
        const fe_run_state *state = &run->states[c * run->span_count + span];
        json_t *item = report_json_object(json);
        report_json_text(json, item, "season", plan->seasons[run->cases[c].season].name);
        report_json_text(json, item, "case", fe_run_case_name(run->cases[c].kind));
        report_json_number(json, item, "temp_c", run->cases[c].temp_c);
        report_json_number(json, item, "sag_m", state->sag_m);
        report_json_number(json, item, "tension_n", state->tension_n);
        report_json_number(json, item, "clearance_m", state->clearance_m);
        report_json_number(json, item, "over_snow_m", state->over_season_m);
        report_json_append(json, list, item);
    }
    return list;
}

static json_t *spans_json(report_json *json, const fe_plan *plan, const fe_run *run)
{
    json_t *list = report_json_list(json);
    for (size_t s = 0; s < run->span_count; s++) {
        json_t *span = report_json_object(json);
        report_json_number(json, span, "from_m", run->spans[s].from_m);
        report_json_number(json, span, "length_m", run->spans[s].length_m);
        report_json_number(json, span, "rise_m", run->spans[s].rise_m);
        report_json_number(json, span, "stringing_tension_n",
                           run->spans[s].stringing_tension_n);
        report_json_number(json, span, "stringing_sag_m", run->spans[s].stringing_sag_m);
        report_json_set(json, span, "cases", sags_json(json, plan, run, s));
        report_json_append(json, list, span);
    }
    return list;
}

static json_t *seasons_json(report_json *json, const fe_plan *plan, const fe_run *run)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < plan->season_count; i++) {
        const run_season season = season_of(run, i);
        json_t *item = report_json_object(json);
        report_json_text(json, item, "season", plan->seasons[i].name);
        report_json_number(json, item, "sag_m", season.sag_m);
        report_json_number(json, item, "clearance_m", season.clearance_m);
        report_json_number(json, item, "over_snow_m", season.over_snow_m);
        report_json_number(json, item, "pull_n", season.pull_n);
        report_json_append(json, list, item);
    }
    return list;
}

static json_t *run_json(report_json *json, const fe_result *result,
                        const fe_overhead_result *overhead)
{
    const fe_plan *plan = result->plan;
    const fe_channel_result *channel = channel_of(result, overhead);
    json_t *object = report_json_object(json);
    report_json_text(json, object, "path", plan->paths[overhead->path].name);
    report_json_text(json, object, "cable", overhead->cable->name);
    report_json_text(json, object, "verdict", fe_verdict_name(overhead->verdict));
    report_json_text(json, object, "limit", overhead->limit);
    report_json_number(json, object, "post_length_m", overhead->post_length_m);
    report_json_number(json, object, "wanted_post_m", overhead->wanted_post_m);
    report_json_number(json, object, "worst_clearance_m", overhead->clearance_m);
    report_json_number(json, object, "required_clearance_m", overhead->required_m);
    report_json_number(json, object, "clearance_at_m", overhead->clearance_at_m);
    report_json_text(json, object, "clearance_season",
                     plan->seasons[overhead->clearance_season].name);
    report_json_number(json, object, "over_snow_m", overhead->over_snow_m);
    report_json_number(json, object, "pull_n", overhead->pull_n);
    report_json_number(json, object, "pull_limit_n", overhead->pull_limit_n);
    report_json_text(json, object, "pull_season", plan->seasons[overhead->pull_season].name);
    report_json_text(json, object, "pull_case", fe_run_case_name(overhead->pull_case));
    report_json_number(json, object, "in_air_m", overhead->run.in_air_m);
    report_json_number(json, object, "cable_length_m",
                       channel ? channel->length_m : (double)NAN);
    report_json_set(json, object, "posts", supports_json(json, overhead));
    report_json_set(json, object, "seasons", seasons_json(json, plan, &overhead->run));
    report_json_set(json, object, "spans", spans_json(json, plan, &overhead->run));
    return object;
}

json_t *report_overhead_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->overhead_count; i++)
        report_json_append(json, list, run_json(json, result, &result->overhead[i]));
    return list;
}
