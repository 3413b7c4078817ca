/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One change of the plan at a time, and what it does to a radio link. */
#include "farend/improve.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/radio_link.h"

static const double RISE_STEP_M = 0.5;

/* The link as it is, and a copy of the plan whose ends may be changed. */
typedef struct improve_task {
    const fe_result *result;
    const fe_radio_result *now;
    fe_plan plan;
    fe_plan_end *ends;
    fe_improvements *found;
} improve_task;

static double worst_margin(const fe_radio_result *radio)
{
    return radio->budget.seasons[radio->budget.worst].margin_db;
}

static size_t end_index(const improve_task *task, int end)
{
    const fe_plan_path *path = &task->plan.paths[task->now->path];
    return end == 0 ? path->from : path->to;
}

static void restore_ends(improve_task *task)
{
    memcpy(task->ends, task->result->plan->ends, task->plan.end_count * sizeof task->ends[0]);
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

/* The link on the changed plan; FE_E_NO_SOLUTION where gear or rules do not allow it. */
static fe_status recompute(const improve_task *task, const fe_gear *const gear[2],
                           fe_improvement *change)
{
    fe_radio_result after;
    const fe_status status =
        fe_radio_link(&task->plan, task->now->path, gear, task->now->band, &after);
    if (status < 0)
        return status;
    compare(task, &after, change);
    change->width_hz = channel_width(&after);
    fe_hop_budget_free(&after.budget);
    return status;
}

static fe_status try_change(improve_task *task, fe_improvement change)
{
    const fe_status status = recompute(task, task->now->gear, &change);
    restore_ends(task);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK;
    if (status >= 0)
        keep(task, change);
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
    bool any = false;
    for (int end = 0; end < 2; end++) {
        fe_choice *aim = &task->ends[end_index(task, end)].aim;
        any = any || aim->value == FE_AIM_ROUGH;
        aim->value = FE_AIM_BY_SIGNAL;
    }
    const bool beams = is_aimed(task->now, 0) || is_aimed(task->now, 1);
    if (any && beams)
        return try_change(task, (fe_improvement){.kind = FE_IMPROVE_AIM, .end = -1});
    restore_ends(task);
    return FE_OK;
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
    const fe_status status = recompute(task, gear, &change);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK; /* the standard has no such width */
    if (status >= 0)
        keep(task, change);
    return status;
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
        fe_plan_end *changed = &task->ends[end_index(task, end)];
        changed->mount.value = mount;
        changed->wall_count = 0; /* a window in place of the wall, or nothing */
        status = fe_status_worse(status,
                                 try_change(task, (fe_improvement){.kind = kind, .end = end}));
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
        task->ends[end_index(task, end)].height_m.typical = change.height_m;
        const fe_status tried = recompute(task, task->now->gear, &change);
        restore_ends(task);
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
    improve_task task = {.result = result,
                         .now = &result->radio[radio],
                         .plan = *result->plan,
                         .ends = malloc(result->plan->end_count * sizeof *task.ends),
                         .found = &list};
    if (!task.ends)
        return FE_E_MEMORY;
    task.plan.ends = task.ends;
    restore_ends(&task);
    const fe_status status = try_all(&task);
    free(task.ends);
    if (status < 0)
        return status;
    list.cheapest = cheapest_of(&list);
    *found = list;
    return status;
}
