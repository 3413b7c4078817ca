/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One change of the plan at a time, and what it does to a radio link. */
#include "farend/improve.h"

#include <math.h>
#include <stdio.h>

#include "farend/plan_input.h"
#include "farend/radio_link.h"

static const double RISE_STEP_M = 0.5;

/* The link as it is, and the values of the plan that may be moved. */
typedef struct improve_task {
    const fe_result *result;
    const fe_radio_result *now;
    fe_plan_inputs inputs;
    fe_improvements *found;
} improve_task;

static double worst_margin(const fe_radio_result *radio)
{
    return radio->budget.seasons[radio->budget.worst].margin_db;
}

static const fe_plan_end *end_of(const improve_task *task, int end)
{
    const fe_plan *plan = task->result->plan;
    const fe_plan_path *path = &plan->paths[task->now->path];
    return &plan->ends[end == 0 ? path->from : path->to];
}

/* A key of an end; null where the plan has none. */
static const fe_plan_input *input_of(const improve_task *task, int end, const char *key)
{
    char title[FE_PLAN_INPUT_TITLE_ROOM];
    snprintf(title, sizeof title, "end %s", end_of(task, end)->name);
    return fe_plan_input_find(&task->inputs, title, key);
}

static double channel_width(const fe_radio_result *radio)
{
    return fmin(fe_gear_radio(radio->gear[0], radio->band)->width_hz,
                fe_gear_radio(radio->gear[1], radio->band)->width_hz);
}

/* What a link after the change has over the link as it is. */
static void compare(const improve_task *task, const fe_radio_result *after,
                    fe_improvement *change)
{
    change->band = after->band;
    change->margin_db = worst_margin(after);
    change->gain_db = isfinite(worst_margin(task->now))
                          ? change->margin_db - worst_margin(task->now)
                          : (isfinite(change->margin_db) ? (double)INFINITY : 0.0);
    change->chance = after->budget.chance;
    change->carries_rate = after->budget.carries_rate;
    change->verdict = after->verdict;
}

static void keep(improve_task *task, fe_improvement change)
{
    fe_improvements *found = task->found;
    if (found->count < FE_IMPROVE_MOST)
        found->items[found->count++] = change;
}

/* The link on a changed plan; FE_E_NO_SOLUTION where gear or rules do not allow it. */
static fe_status recompute(const improve_task *task, const fe_plan *plan,
                           const fe_gear *const gear[2], fe_improvement *change)
{
    fe_radio_result after;
    const fe_status status =
        fe_radio_link(plan, task->now->path, gear, task->now->band, &after);
    if (status < 0)
        return status;
    compare(task, &after, change);
    change->width_hz = channel_width(&after);
    fe_hop_budget_free(&after.budget);
    return status;
}

/* With values moved; FE_E_NO_SOLUTION also where no plan may have them. */
static fe_status recompute_moved(const improve_task *task, const fe_plan_step *steps,
                                 size_t count, fe_improvement *change)
{
    fe_plan_moves moves;
    for (size_t i = 0; i < count; i++)
        if (!steps[i].input)
            return FE_E_NO_SOLUTION;
    fe_status status = fe_plan_move_all(task->result->plan, steps, count, &moves);
    if (status < 0)
        return status == FE_E_DOMAIN ? FE_E_NO_SOLUTION : status;
    status = recompute(task, moves.plan, task->now->gear, change);
    fe_plan_moves_free(&moves);
    return status;
}

static fe_status keep_if_allowed(improve_task *task, fe_status status,
                                 const fe_improvement *change)
{
    if (status == FE_E_NO_SOLUTION)
        return FE_OK;
    if (status >= 0)
        keep(task, *change);
    return status;
}

/* ---- Changes ---- */

/* An antenna that looks all round has nothing to aim. */
static bool is_aimed(const fe_radio_result *radio, int end)
{
    return !fe_beam_is_all_round(fe_gear_radio(radio->gear[end], radio->band)->beam_rad);
}

static fe_status try_aim(improve_task *task)
{
    fe_plan_step steps[2];
    size_t count = 0;
    for (int end = 0; end < 2; end++)
        if (end_of(task, end)->aim.value == FE_AIM_ROUGH)
            steps[count++] = (fe_plan_step){input_of(task, end, "aim"), FE_AIM_BY_SIGNAL};
    if (count == 0 || !(is_aimed(task->now, 0) || is_aimed(task->now, 1)))
        return FE_OK;
    fe_improvement change = {.kind = FE_IMPROVE_AIM, .end = -1};
    return keep_if_allowed(task, recompute_moved(task, steps, count, &change), &change);
}

static fe_status try_narrower(improve_task *task)
{
    fe_gear narrow[2] = {*task->now->gear[0], *task->now->gear[1]};
    const double width_hz = channel_width(task->now) / 2.0;
    for (int end = 0; end < 2; end++)
        for (size_t i = 0; i < narrow[end].radio_count; i++)
            if (narrow[end].radios[i].band == task->now->band)
                narrow[end].radios[i].width_hz = width_hz;
    const fe_gear *const gear[2] = {&narrow[0], &narrow[1]};
    fe_improvement change = {.kind = FE_IMPROVE_NARROWER, .end = -1};
    /* The standard may have no such width. */
    return keep_if_allowed(task, recompute(task, task->result->plan, gear, &change), &change);
}

/* Other bands were worked out with the plan; here they are only set beside. */
static void compare_bands(improve_task *task)
{
    const fe_result *result = task->result;
    for (size_t i = 0; i < result->radio_count; i++) {
        const fe_radio_result *other = &result->radio[i];
        if (other->path != task->now->path || other->band == task->now->band ||
            other->directional != task->now->directional)
            continue;
        fe_improvement change = {.kind = FE_IMPROVE_BAND,
                                 .end = -1,
                                 .gear = other->gear[0],
                                 .width_hz = channel_width(other)};
        compare(task, other, &change);
        keep(task, change);
    }
}

static fe_status try_mount(improve_task *task, fe_improve_kind kind, fe_mount mount)
{
    fe_status status = FE_OK;
    for (int end = 0; end < 2 && status >= 0; end++) {
        const fe_mount now = task->now->mount[end];
        if (now == FE_MOUNT_OUTDOORS || now == mount)
            continue;
        /* With it goes the wall: a window in its place, or nothing. */
        const fe_plan_step step = {input_of(task, end, "mount"), mount};
        fe_improvement change = {.kind = kind, .end = end};
        status = fe_status_worse(
            status, keep_if_allowed(task, recompute_moved(task, &step, 1, &change), &change));
    }
    return status;
}

/* The first height that gives what is wanted, else the one that gives most. */
static fe_status try_raise(improve_task *task, int end)
{
    fe_status status = FE_OK;
    fe_improvement best = {.kind = FE_IMPROVE_RAISE, .end = end, .gain_db = -INFINITY};
    for (double rise_m = RISE_STEP_M; rise_m <= FE_IMPROVE_MOST_RISE_M && status >= 0;
         rise_m += RISE_STEP_M) {
        fe_improvement change = {.kind = FE_IMPROVE_RAISE,
                                 .end = end,
                                 .rise_m = rise_m,
                                 .height_m = task->now->height_m[end] + rise_m};
        const fe_plan_step step = {input_of(task, end, "height"), change.height_m};
        const fe_status tried = recompute_moved(task, &step, 1, &change);
        if (tried == FE_E_NO_SOLUTION)
            return FE_OK;
        status = fe_status_worse(status, tried);
        if (status >= 0 && change.gain_db > best.gain_db)
            best = change;
        if (best.gain_db >= FE_IMPROVE_WANTED_DB)
            break;
    }
    if (status >= 0)
        keep(task, best);
    return status;
}

/* ---- All of them ---- */

static fe_status try_all(improve_task *task)
{
    fe_status status = try_aim(task);
    if (status >= 0)
        status = fe_status_worse(status, try_narrower(task));
    compare_bands(task);
    if (status >= 0)
        status =
            fe_status_worse(status, try_mount(task, FE_IMPROVE_WINDOW, FE_MOUNT_BEHIND_GLASS));
    if (status >= 0)
        status =
            fe_status_worse(status, try_mount(task, FE_IMPROVE_OUTDOORS, FE_MOUNT_OUTDOORS));
    for (int end = 0; end < 2 && status >= 0; end++)
        status = fe_status_worse(status, try_raise(task, end));
    return status;
}

static int cheapest_of(const fe_improvements *found)
{
    int cheapest = -1;
    for (size_t i = 0; i < found->count; i++) {
        const fe_improvement *change = &found->items[i];
        if (!change->carries_rate || !(change->gain_db >= FE_IMPROVE_WANTED_DB))
            continue;
        const fe_improvement *best = cheapest < 0 ? NULL : &found->items[cheapest];
        const bool lower = best && change->kind == FE_IMPROVE_RAISE &&
                           best->kind == FE_IMPROVE_RAISE && change->rise_m < best->rise_m;
        const bool stronger = best && change->kind == FE_IMPROVE_BAND &&
                              best->kind == FE_IMPROVE_BAND && change->gain_db > best->gain_db;
        if (!best || lower || stronger)
            cheapest = (int)i;
    }
    return cheapest;
}

fe_status fe_improve_radio(const fe_result *result, size_t radio, fe_improvements *found)
{
    if (radio >= result->radio_count)
        return FE_E_DOMAIN;
    fe_improvements list = {.cheapest = -1};
    improve_task task = {.result = result, .now = &result->radio[radio], .found = &list};
    fe_status status = fe_plan_inputs_of(result->plan, &task.inputs);
    if (status < 0)
        return status;
    status = try_all(&task);
    fe_plan_inputs_free(&task.inputs);
    if (status < 0)
        return status;
    list.cheapest = cheapest_of(&list);
    *found = list;
    return status;
}
