/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables on equal spans: the fewest posts on which pull and clearance hold. */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/limits.h"
#include "farend/post.h"

enum { MOST_SPANS = 60 };

/* From the attachment to the top of the post (common practice, no source). */
static const double TOP_M = 0.15;

/* What all tries with one cable have in common. */
typedef struct overhead_task {
    const fe_plan *plan;
    size_t path;
    const fe_cable_class *cable;
    fe_hung_cable hung;
    fe_pull_limits limits;
} overhead_task;

static fe_status make_task(const fe_plan *plan, size_t path, const fe_cable_class *cable,
                           overhead_task *task)
{
    *task = (overhead_task){.plan = plan, .path = path, .cable = cable};
    const char *messenger =
        cable->has_messenger || cable->self_supporting ? NULL : plan->posts.messenger;
    fe_status status = fe_limits_cable(cable, messenger, &task->hung);
    return status < 0 ? status : fe_limits_pull(&task->hung, &task->limits);
}

/* Height of the attachment on the longest post on hand; NAN where none is given. */
static double attachment_on_hand(const fe_plan *plan, fe_overhead_result *overhead)
{
    const fe_value_list *lengths = &plan->posts.post_lengths_m;
    double longest_m = 0.0;
    for (size_t i = 0; i < lengths->count; i++)
        longest_m = fmax(longest_m, lengths->items[i].typical);
    double hole_m = 0.0;
    if (!(longest_m > 0.0) || fe_post_rule_depth(FE_POST_TENTH_600MM, longest_m, &hole_m) < 0)
        return (double)NAN;
    overhead->post_length_m = longest_m;
    overhead->hole_m = hole_m;
    return longest_m - hole_m - TOP_M;
}

static fe_status place_supports(const overhead_task *task, size_t spans,
                                fe_overhead_result *overhead)
{
    const fe_plan_posts *posts = &task->plan->posts;
    const double length_m = fe_profile_length(&task->plan->paths[task->path].profile);
    const double attachment_m = attachment_on_hand(task->plan, overhead);
    fe_run_support *supports = realloc(overhead->supports, (spans + 1) * sizeof *supports);
    if (!supports)
        return FE_E_MEMORY;
    overhead->supports = supports;
    overhead->support_count = spans + 1;
    for (size_t i = 0; i <= spans; i++)
        supports[i] = (fe_run_support){length_m * (double)i / (double)spans, attachment_m};
    supports[0].attachment_m = posts->start_height_m.typical;
    supports[spans].attachment_m = posts->end_height_m.typical;
    return FE_OK;
}

/* ---- Limits ---- */

static double height_over_snow(const overhead_task *task, const fe_run *run)
{
    double least_m = INFINITY;
    for (size_t i = 0; i < run->case_count * run->span_count; i++)
        least_m = fmin(least_m, run->states[i].over_season_m);
    (void)task;
    return least_m;
}

/* Least height over a stretch of bare ground, in any case; where and in which season. */
static fe_status least_height(const overhead_task *task, const fe_overhead_result *overhead,
                              double from_m, double to_m, double *height_m, double *at_m,
                              size_t *season)
{
    const fe_run *run = &overhead->run;
    const fe_profile *ground = &task->plan->paths[task->path].profile;
    *height_m = INFINITY;
    for (size_t c = 0; c < run->case_count; c++)
        for (size_t s = 0; s < run->span_count; s++) {
            const fe_run_span *span = &run->spans[s];
            const double start_m =
                fe_profile_height_at(ground, span->from_m) + overhead->supports[s].attachment_m;
            for (int i = 0; i <= 100; i++) {
                const double x_m = span->length_m * i / 100.0;
                const double place_m = span->from_m + x_m;
                if (place_m < from_m || place_m > to_m)
                    continue;
                double cable_m = 0.0;
                const fe_status status = fe_run_height(
                    span, &run->states[c * run->span_count + s], start_m, x_m, &cable_m);
                if (status < 0)
                    return status;
                const double over_m = cable_m - fe_profile_height_at(ground, place_m);
                if (over_m < *height_m) {
                    *height_m = over_m;
                    *at_m = place_m;
                    *season = run->cases[c].season;
                }
            }
        }
    return FE_OK;
}

/* The stretch where least is left of what is asked. */
static fe_status judge_clearance(const overhead_task *task, fe_overhead_result *overhead)
{
    const fe_plan_posts *posts = &task->plan->posts;
    const fe_safety_format format = (fe_safety_format)posts->safety.value;
    const double own_m =
        posts->clearance_m.given != FE_GIVEN_NOT ? posts->clearance_m.typical : (double)NAN;
    const double length_m = fe_profile_length(&task->plan->paths[task->path].profile);
    double least_spare_m = INFINITY;
    for (size_t i = 0; i <= posts->crossing_count; i++) {
        const bool whole = i == posts->crossing_count;
        const fe_plan_crossing *crossing = whole ? NULL : &posts->crossings[i];
        const bool has_own = !whole && crossing->clearance_m.given != FE_GIVEN_NOT;
        fe_clearance_need need;
        fe_status status =
            fe_limits_clearance(format, false, whole ? FE_BELOW_WALKERS : crossing->below,
                                has_own ? crossing->clearance_m.typical : own_m, &need);
        double height_m = 0.0, at_m = 0.0;
        size_t season = 0;
        if (status >= 0)
            status = least_height(task, overhead, whole ? 0.0 : crossing->from_m,
                                  whole ? length_m : crossing->to_m, &height_m, &at_m, &season);
        if (status < 0)
            return status;
        if (height_m - need.over_ground_m < least_spare_m) {
            least_spare_m = height_m - need.over_ground_m;
            overhead->required_m = need.over_ground_m;
            overhead->clearance_m = height_m;
            overhead->clearance_at_m = at_m;
            overhead->clearance_season = season;
        }
    }
    return FE_OK;
}

/* The case that uses most of its own pull limit. */
static double judge_pull(const overhead_task *task, fe_overhead_result *overhead)
{
    const fe_run *run = &overhead->run;
    double most = 0.0;
    for (size_t c = 0; c < run->case_count; c++)
        for (size_t s = 0; s < run->span_count; s++) {
            const double limit_n = task->limits.limit_n[run->cases[c].kind];
            const double pull_n = run->states[c * run->span_count + s].tension_n;
            if (!(pull_n / limit_n > most))
                continue;
            most = pull_n / limit_n;
            overhead->pull_n = pull_n;
            overhead->pull_limit_n = limit_n;
            overhead->pull_season = run->cases[c].season;
            overhead->pull_case = run->cases[c].kind;
        }
    return most;
}

static fe_status judge(const overhead_task *task, fe_overhead_result *overhead)
{
    static const double LITTLE_M = 0.1; /* the ground is known to this: common practice */
    fe_status status = judge_clearance(task, overhead);
    if (status < 0)
        return status;
    const double use = judge_pull(task, overhead);
    overhead->over_snow_m = height_over_snow(task, &overhead->run);
    const double spare_m = overhead->clearance_m - overhead->required_m;
    fe_verdict height = FE_VERDICT_HOLDS;
    if (spare_m < LITTLE_M)
        height = FE_VERDICT_TIGHT;
    if (spare_m < 0.0 || overhead->over_snow_m < 0.0)
        height = FE_VERDICT_FAILS;
    const fe_verdict pull = (fe_verdict)fe_limits_verdict(use);
    overhead->verdict = fe_verdict_worse(height, pull);
    overhead->limit = height >= pull ? "height over the ground" : "pull on the cable";
    if (overhead->over_snow_m < 0.0)
        overhead->limit = "the cable hangs in the snow";
    return FE_OK;
}

/* ---- One cable ---- */

static fe_status try_spans(const overhead_task *task, size_t spans,
                           fe_overhead_result *overhead)
{
    fe_status status = place_supports(task, spans, overhead);
    if (status < 0)
        return status;
    const fe_plan_posts *posts = &task->plan->posts;
    const fe_run_input input = {
        .ground = &task->plan->paths[task->path].profile,
        .supports = overhead->supports,
        .support_count = overhead->support_count,
        .cable = task->hung.run,
        .stringing_c = posts->stringing_c.typical,
        .sag_share = posts->sag_share.typical,
        .seasons = task->plan->seasons,
        .season_count = task->plan->season_count,
    };
    fe_run_free(&overhead->run);
    status = fe_run_compute(&input, &overhead->run);
    return status < 0 ? status : fe_status_worse(status, judge(task, overhead));
}

/* The fewest equal spans within the plan's range that hold; else the best of those tried. */
static fe_status compute_overhead(const overhead_task *task, fe_overhead_result *overhead)
{
    const fe_value *span = &task->plan->posts.span_m;
    const double length_m = fe_profile_length(&task->plan->paths[task->path].profile);
    size_t fewest = (size_t)ceil(length_m / span->high - 1e-9);
    size_t most = (size_t)floor(length_m / span->low + 1e-9);
    fewest = fewest < 1 ? 1 : fewest;
    most = most < fewest ? fewest : most;
    most = most > MOST_SPANS ? MOST_SPANS : most;
    *overhead = (fe_overhead_result){
        .path = task->path, .cable = task->cable, .post_length_m = (double)NAN};
    fe_status status = FE_OK;
    for (size_t spans = fewest; spans <= most && status >= 0; spans++) {
        status = try_spans(task, spans, overhead);
        if (status >= 0 && overhead->verdict == FE_VERDICT_HOLDS)
            break;
    }
    double sag_m = 0.0;
    for (size_t i = 0; i < overhead->run.case_count * overhead->run.span_count; i++)
        sag_m = fmax(sag_m, overhead->run.states[i].sag_m);
    if (status >= 0)
        status =
            fe_status_worse(status, fe_post_length_needed(overhead->required_m, sag_m, TOP_M,
                                                          0.0, &overhead->wanted_post_m));
    return status;
}

static fe_status add_overhead(const fe_plan *plan, size_t path, const fe_cable_class *cable,
                              fe_result *result)
{
    overhead_task task;
    fe_status status = make_task(plan, path, cable, &task);
    if (status == FE_E_DOMAIN || status == FE_E_INPUT)
        return FE_OK; /* a class that cannot hang, with no strand to carry it */
    if (status < 0)
        return status;
    fe_overhead_result *grown =
        realloc(result->overhead, (result->overhead_count + 1) * sizeof *grown);
    if (!grown)
        return FE_E_MEMORY;
    result->overhead = grown;
    fe_overhead_result *added = &result->overhead[result->overhead_count++];
    return compute_overhead(&task, added);
}

fe_status decide_overhead(const fe_plan *plan, fe_result *result)
{
    if (!plan->posts.given || plan->posts.post_lengths_m.count == 0)
        return FE_OK;
    const char *const names[] = {plan->posts.cable, "aerial-fibre"};
    fe_status status = FE_OK;
    for (size_t path = 0; path < plan->path_count; path++)
        for (size_t i = 0; i < 2 && status >= 0; i++) {
            if (i > 0 && names[0] && strcmp(names[0], names[1]) == 0)
                continue;
            const fe_cable_class *cable = names[i] ? fe_plan_cable_class(plan, names[i]) : NULL;
            if (cable)
                status = fe_status_worse(status, add_overhead(plan, path, cable, result));
        }
    return status;
}
