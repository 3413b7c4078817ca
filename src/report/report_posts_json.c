/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run on posts as JSON: of the posts command, and one of the runs of a report. */
#include <stdio.h>

#include "farend/report_posts.h"
#include "report/report_posts_parts.h"

/* Null where the post has no stay. */
static json_t *stay_json(report_json *json, const fe_posts_result *r, size_t post)
{
    fe_posts_hold hold;
    if (fe_posts_hold_of(r, post, &hold) != FE_OK)
        return json_null();
    json_t *object = report_json_object(json);
    report_json_number(json, object, "lines", (double)hold.lines);
    report_json_number(json, object, "tension_n", hold.stay.tension_n);
    report_json_number(json, object, "angle_rad", hold.stay.angle_rad);
    report_json_number(json, object, "lead_m", hold.lead_m);
    report_json_number(json, object, "length_m", hold.stay.length_m);
    report_json_text(json, object, "strand_in", hold.strand ? hold.strand->size_in : NULL);
    report_json_text(json, object, "anchor", hold.rock ? "drilled rod" : hold.anchor->name);
    report_json_text(json, object, "rod_in", hold.anchor->rod);
    report_json_number(json, object, "anchor_holding_n", hold.holding_n);
    report_json_number(json, object, "anchor_use", hold.use);
    report_json_number(json, object, "log_depth_m", hold.log_depth_m);
    return object;
}

static json_t *posts_json(report_json *json, const fe_posts_result *r)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < r->route.post_count; i++) {
        const fe_posts_kind *kind = report_post_kind(r, i);
        const fe_route_place *place = &r->places[r->route.places[i]];
        const fe_route_duty *duty = &r->check.duties[i];
        json_t *post = report_json_object(json);
        report_json_number(json, post, "station_m", place->at_m);
        report_json_number(json, post, "turn_rad", place->turn_rad);
        report_json_number(json, post, "length_m", kind->length_m);
        report_json_number(json, post, "width_m", kind->width_m);
        report_json_number(json, post, "depth_m", kind->depth_m);
        report_json_number(json, post, "depth_needed_m", duty->depth_needed_m);
        report_json_number(json, post, "attachment_m", kind->attachment_m);
        report_json_number(json, post, "moment_n_m", duty->moment_n_m);
        report_json_bool(json, post, "stayed", kind->stayed);
        report_json_set(json, post, "stay", stay_json(json, r, i));
        report_json_number(json, post, "largest_use", duty->worst.use);
        report_json_text(json, post, "limit", fe_posts_limit_name(duty->worst.limit));
        report_json_number(json, post, "moved_m", duty->moved_m);
        report_json_number(json, post, "broken_span_n", duty->broken_n);
        report_json_number(json, post, "broken_span_use", duty->broken_use);
        report_json_append(json, list, post);
    }
    return list;
}

/* One number of a span in every load case, by season and case. */
static json_t *cases_json(report_json *json, const fe_posts_result *r, size_t span,
                          double (*value)(const fe_run_state *state), const fe_run *run)
{
    json_t *all = report_json_object(json);
    for (size_t c = 0; c < run->case_count; c++) {
        char name[FE_SEASON_NAME_ROOM + 40];
        snprintf(name, sizeof name, "%s: %s", r->plan->seasons[run->cases[c].season].name,
                 fe_run_case_name(run->cases[c].kind));
        report_json_number(json, all, name, value(&run->states[c * run->span_count + span]));
    }
    return all;
}

static double sag_of(const fe_run_state *state)
{
    return state->sag_m;
}

static double tension_of(const fe_run_state *state)
{
    return state->tension_n;
}

static double blowout_of(const fe_run_state *state)
{
    return state->blowout_m;
}

static json_t *spans_json(report_json *json, const fe_posts_result *r)
{
    json_t *list = report_json_list(json);
    for (size_t s = 0; s < r->check.run.span_count; s++) {
        const fe_run_span *span = &r->check.run.spans[s];
        json_t *object = report_json_object(json);
        report_json_number(json, object, "from_m", span->from_m);
        report_json_number(json, object, "length_m", span->length_m);
        report_json_number(json, object, "rise_m", span->rise_m);
        report_json_number(json, object, "stringing_sag_m", span->stringing_sag_m);
        report_json_number(json, object, "stringing_tension_n", span->stringing_tension_n);
        report_json_set(json, object, "sag_m", cases_json(json, r, s, sag_of, &r->check.give));
        report_json_set(json, object, "tension_n",
                        cases_json(json, r, s, tension_of, &r->check.run));
        report_json_set(json, object, "blowout_m",
                        cases_json(json, r, s, blowout_of, &r->check.give));
        report_json_append(json, list, object);
    }
    return list;
}

static json_t *stringing_json(report_json *json, const fe_posts_stringing *table, size_t spans)
{
    json_t *list = report_json_list(json);
    for (size_t t = 0; t < table->temp_count; t++) {
        json_t *row = report_json_object(json);
        json_t *sags = report_json_list(json);
        json_t *pulls = report_json_list(json);
        for (size_t s = 0; s < spans; s++) {
            report_json_append(json, sags, json_real(table->sag_m[t * spans + s]));
            report_json_append(json, pulls, json_real(table->pull_n[t * spans + s]));
        }
        report_json_number(json, row, "temp_c", table->temp_c[t]);
        report_json_set(json, row, "sag_m", sags);
        report_json_set(json, row, "tension_n", pulls);
        report_json_append(json, list, row);
    }
    return list;
}

static json_t *use_json(report_json *json, const fe_posts_result *r, const fe_route_use *use)
{
    if (!(use->use > 0.0))
        return json_null();
    json_t *object = report_json_object(json);
    report_json_text(json, object, "limit", fe_route_use_name(use));
    report_json_number(json, object, "used", use->use);
    report_json_number(json, object, "value", use->value);
    report_json_number(json, object, "allowed", use->allowed);
    report_json_number(json, object, "at_m", use->at_m);
    report_json_text(json, object, "season", r->plan->seasons[use->season].name);
    report_json_text(json, object, "case", fe_run_case_name(use->kind));
    return object;
}

/* A supply cable on the same posts; null without one. */
static json_t *supply_json(report_json *json, const fe_posts_result *r)
{
    if (!r->above)
        return json_null();
    json_t *object = report_json_object(json);
    report_json_text(json, object, "cable", r->supply->name);
    report_json_number(json, object, "above_m", r->above->up_m);
    report_json_number(json, object, "at_post_asked_m", r->above->asked.at_pole_m);
    report_json_text(json, object, "at_post_rule", r->above->asked.pole_rule);
    report_json_number(json, object, "in_span_m", r->check.apart_m);
    report_json_number(json, object, "in_span_asked_m", r->above->asked.in_span_m);
    report_json_text(json, object, "in_span_rule", r->above->asked.span_rule);
    report_json_set(json, object, "pull", use_json(json, r, &r->check.uses[FE_ROUTE_ABOVE]));
    report_json_number(
        json, object, "stringing_tension_n",
        fe_route_above_string(r->above, &r->input.run.cable, r->route.stringing_n));
    report_json_set(json, object, "stringing",
                    stringing_json(json, &r->supply_stringing, r->check.above.span_count));
    report_json_number(json, object, "cable_length_m", r->supply_m);
    return object;
}

static json_t *buy_json(report_json *json, const fe_posts_cable *buy)
{
    json_t *object = report_json_object(json);
    report_json_number(json, object, "in_air_m", buy->in_air_m);
    report_json_number(json, object, "drops_m", buy->drops_m);
    report_json_number(json, object, "drip_loops_m", buy->drip_m);
    report_json_number(json, object, "slack_m", buy->slack_m);
    report_json_number(json, object, "indoor_m", buy->indoor_m);
    report_json_number(json, object, "messenger_m", buy->messenger_m);
    return object;
}

static json_t *hardware_json(report_json *json, const fe_posts_hardware *hardware)
{
    json_t *object = report_json_object(json);
    report_json_number(json, object, "grips", (double)hardware->grips);
    report_json_number(json, object, "slides", (double)hardware->slides);
    report_json_number(json, object, "bolts", (double)hardware->bolts);
    report_json_number(json, object, "stays", (double)hardware->stays);
    return object;
}

static void put_answer(report_json *json, const fe_posts_result *r, json_t *object)
{
    static const char *const LAYOUTS[] = {"posts on hand", "posts that would do", "closest"};
    report_json_text(json, object, "path", r->plan->paths[r->path].name);
    report_json_text(json, object, "cable", r->cable->name);
    report_json_text(json, object, "verdict", fe_verdict_name(r->verdict));
    report_json_bool(json, object, "too_short", r->too_short && !r->meets);
    report_json_set(json, object, "falls_short",
                    r->meets ? json_null() : use_json(json, r, &r->falls_short));
    report_json_number(json, object, "would_do_m", r->would_do_m);
    report_json_number(json, object, "would_do_width_m", r->would_do_width_m);
    report_json_number(json, object, "would_do_start_m", r->would_do_start_m);
    report_json_number(json, object, "would_do_end_m", r->would_do_end_m);
    report_json_number(json, object, "would_do_tried_to_m", r->tried.longest_m);
    report_json_text(json, object, "layout", LAYOUTS[r->layout]);
    report_json_text(json, object, "layout_verdict", fe_verdict_name(r->layout_verdict));
    report_json_text(json, object, "flips_with",
                     r->flip == FE_FLIP_NONE ? NULL : fe_posts_flip_name(r->flip));
}

json_t *report_posts_json(report_json *json, const fe_posts_result *r)
{
    json_t *object = report_json_object(json);
    put_answer(json, r, object);
    report_json_set(json, object, "worst", use_json(json, r, &r->worst));
    report_json_number(json, object, "worst_clearance_m", r->check.worst_clearance_m);
    report_json_number(json, object, "largest_moment_n_m", r->route.moment_n_m);
    report_json_set(json, object, "one_post_fewer",
                    r->fewer_known && !r->fewer_impossible ? use_json(json, r, &r->fewer)
                                                           : json_null());
    report_json_set(json, object, "posts", posts_json(json, r));
    report_json_set(json, object, "spans", spans_json(json, r));
    report_json_number(json, object, "stringing_tension_n", r->route.stringing_n);
    report_json_set(json, object, "stringing",
                    stringing_json(json, &r->stringing, r->check.run.span_count));
    report_json_set(json, object, "supply", supply_json(json, r));
    report_json_number(json, object, "cable_length_m", r->buy.total_m);
    report_json_set(json, object, "cable_parts", buy_json(json, &r->buy));
    report_json_set(json, object, "hardware", hardware_json(json, &r->hardware));
    report_json_number(json, object, "ruling_span_m", r->ruling_span_m);
    report_json_text(json, object, "district", r->district ? r->district->district : NULL);
    report_json_text(json, object, "district_code", r->district ? r->district->code : NULL);
    return object;
}

fe_status fe_report_posts_json(const fe_posts_result *result, fe_strbuf *out)
{
    report_json json = {false};
    return report_json_write(&json, report_posts_json(&json, result), out);
}
