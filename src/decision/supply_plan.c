/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/supply_plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "decision/cable_length.h"
#include "decision/supply_loads.h"
#include "farend/network.h"
#include "farend/poe.h"

/* ---- Where it goes ---- */

/* The paths that a feed follows, from where it begins. */
typedef struct feed_line {
    size_t paths[FE_NETWORK_MOST_ENDS];
    size_t count;
} feed_line;

/*
 * To the far end of a path, from the last end on the way that has mains. False: another path
 * leads to that end, and the feed follows this one alone.
 */
static bool feed_line_to(const fe_plan *plan, size_t path, feed_line *line)
{
    const size_t far = fe_network_far_end(plan, path);
    fe_network_route route;
    *line = (feed_line){.count = 1, .paths = {path}};
    if (!fe_network_route_between(plan, 0, far, &route) || route.count == 0 ||
        route.paths[route.count - 1] != path)
        return false;
    size_t first = 0;
    for (size_t i = 0; i + 1 < route.count; i++) {
        const fe_plan_path *over = &plan->paths[route.paths[i]];
        if (plan->ends[route.along[i] ? over->to : over->from].mains.value == 1)
            first = i + 1;
    }
    line->count = route.count - first;
    for (size_t i = 0; i < line->count; i++)
        line->paths[i] = route.paths[first + i];
    return true;
}

/* How many paths both follow from one beginning. */
static size_t shared_paths(const feed_line *a, const feed_line *b)
{
    size_t count = 0;
    while (count < a->count && count < b->count && a->paths[count] == b->paths[count])
        count++;
    return count;
}

static double line_length(const fe_plan *plan, const feed_line *line, size_t from, size_t to)
{
    double length_m = 0.0;
    for (size_t i = from; i < to; i++)
        length_m += plan_trench_length(plan, line->paths[i]);
    return length_m;
}

static size_t loads_at(const fe_plan *plan, size_t end)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->load_count; i++)
        count += plan->loads[i].end == end ? 1 : 0;
    return count;
}

bool fe_supply_is_asked(const fe_plan *plan, size_t path)
{
    const size_t far = fe_network_far_end(plan, path);
    const fe_choice *mains = &plan->ends[far].mains;
    feed_line line;
    return feed_line_to(plan, path, &line) &&
           (loads_at(plan, far) > 0 || (mains->given > FE_GIVEN_DEFAULT && mains->value == 0));
}

size_t fe_supply_begins_at(const fe_plan *plan, size_t path)
{
    feed_line line;
    feed_line_to(plan, path, &line);
    return fe_network_near_end(plan, line.paths[0]);
}

bool fe_supply_goes_on(const fe_plan *plan, size_t path, size_t beyond)
{
    feed_line line;
    feed_line farther;
    return path != beyond && fe_supply_is_asked(plan, path) &&
           fe_supply_is_asked(plan, beyond) && feed_line_to(plan, path, &line) &&
           feed_line_to(plan, beyond, &farther) &&
           shared_paths(&line, &farther) == line.count && farther.count > line.count;
}

/* ---- Length ---- */

/* One way: the trench, out of it at both ends, indoors, and slack. */
static void put_length(const fe_plan *plan, size_t path, fe_supply_place *place,
                       double *length_m)
{
    feed_line line;
    feed_line_to(plan, path, &line);
    place->planned = true;
    place->route_m = line_length(plan, &line, 0, line.count);
    place->depth_m = plan->trench.depth_m.typical;
    place->duct_m =
        plan->trench.duct_m.given == FE_GIVEN_NOT ? 0.0 : plan->trench.duct_m.typical;
    place->drops_m = 2.0 * place->depth_m;
    place->indoor_m = plan_indoor_length(plan);
    place->slack_m = plan_slack(place->route_m);
    *length_m = place->route_m + place->drops_m + place->indoor_m + place->slack_m;
    place->own_m = *length_m;
    place->own_route_m = place->route_m;
}

void fe_supply_own_length(const fe_plan *plan, size_t path, const bool *fed,
                          fe_supply_place *place)
{
    feed_line line;
    size_t from = 0;
    feed_line_to(plan, path, &line);
    for (size_t i = 0; i + 1 < line.count; i++)
        if (fed[line.paths[i]])
            from = i + 1;
    place->own_route_m = line_length(plan, &line, from, line.count);
    place->own_m =
        place->own_route_m + place->drops_m + place->indoor_m + plan_slack(place->own_route_m);
}

/* ---- Other ends on the same line ---- */

/* All that an end takes as one load: what starts hardest does so while the rest runs. */
static fe_supply_load sum_loads(const fe_supply_entry *end, double at_m)
{
    const supply_sum sum = supply_sum_of(end);
    const bool any = sum.power_w > 0.0;
    double surge_w = 0.0, least_v = 0.0;
    for (size_t i = 0; i < end->given.load_count; i++) {
        const fe_supply_load *load = &end->loads[i];
        surge_w = fmax(surge_w, supply_drawn_w(end, load) * (load->start_factor - 1.0));
        least_v = fmax(least_v, load->least_v);
    }
    return (fe_supply_load){.at_m = at_m,
                            .kind = FE_LOAD_POWER,
                            .load = sum.power_w,
                            .power_factor = any ? supply_power_factor(&sum) : 1.0,
                            .start_factor = any ? 1.0 + surge_w / sum.power_w : 1.0,
                            .hours_per_day = any ? supply_hours(&sum) : 0.0,
                            .least_v = least_v};
}

static fe_status add_other_end(const fe_plan *plan, size_t other, double at_m,
                               fe_supply_entry *entry)
{
    fe_supply_origin origin = {.elsewhere = true};
    fe_supply_entry *end = calloc(1, sizeof *end);
    if (!end)
        return FE_E_MEMORY;
    end->nominal_v = entry->nominal_v;
    end->high_v = entry->high_v;
    end->given = entry->given;
    end->given.load_count = 0;
    end->given.length_m = at_m;
    fe_status status = supply_add_end(plan, other, end);
    const fe_supply_load sum = sum_loads(end, at_m);
    free(end);
    snprintf(origin.name, sizeof origin.name, "all of %.40s",
             plan->ends[fe_network_far_end(plan, other)].name);
    if (status >= 0 && sum.load > 0.0)
        status = fe_supply_add(entry, &sum, &origin);
    return status;
}

/* Where the cable to this end also carries what goes to others, their loads are on it. */
static fe_status add_other_ends(const fe_plan *plan, size_t path, fe_supply_entry *entry)
{
    feed_line line;
    fe_status status = FE_OK;
    if (!feed_line_to(plan, path, &line))
        return FE_OK;
    for (size_t other = 0; other < plan->path_count && status >= 0; other++) {
        feed_line to;
        if (other == path || !fe_supply_is_asked(plan, other) ||
            !feed_line_to(plan, other, &to))
            continue;
        const size_t shared = shared_paths(&line, &to);
        const double part = line_length(plan, &line, 0, shared) / entry->place.route_m;
        if (shared > 0)
            status = add_other_end(plan, other, part * entry->given.length_m, entry);
    }
    return status;
}

/* What an electrician would put in where nothing is named: a breaker of type B, 16 A or the
 * next size that carries the loads. Common practice, no source. */
static void assume_device(fe_supply_entry *entry)
{
    static const double RATINGS_A[] = {16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0};
    const size_t count = sizeof RATINGS_A / sizeof RATINGS_A[0];
    const double apparent_va = supply_sum_of(entry).apparent_va;
    size_t at = 0;
    while (at + 1 < count && RATINGS_A[at] * entry->given.source_v < apparent_va)
        at++;
    entry->given.device = (fe_supply_device){true, FE_BREAKER_B, RATINGS_A[at]};
    entry->given.has_device = entry->place.device_taken = true;
}

fe_status fe_supply_from_plan(const fe_plan *plan, size_t path, const fe_plan_source *source,
                              double length_m, fe_supply_entry *entry)
{
    double planned_m = 0.0;
    *entry = (fe_supply_entry){
        .nominal_v = source->voltage_v.typical,
        .high_v = source->voltage_v.high,
        .given = {.source_v = source->voltage_v.low,
                  .ac = source->ac,
                  .allowed_drop = plan->feed.allowed_drop.typical,
                  .air_c = plan_hottest(plan),
                  .loop_ohm = plan->feed.loop_impedance_ohm.typical},
        .metals = {plan->feed.copper || !plan->feed.aluminium, plan->feed.aluminium},
        .owned_m2 = plan->feed.conductor_m2.given == FE_GIVEN_NOT
                        ? 0.0
                        : plan->feed.conductor_m2.typical,
        .place = {.path = plan->paths[path].name,
                  .coldest_c = fe_plan_coldest(plan),
                  .us = fe_plan_is_us_or_canada(plan),
                  .earthing_known = plan->feed.earthing.given > FE_GIVEN_DEFAULT,
                  .earthing = (fe_earthing)plan->feed.earthing.value}};
    put_length(plan, path, &entry->place, &planned_m);
    entry->given.length_m = length_m > 0.0 ? length_m : planned_m;
    entry->place.planned = !(length_m > 0.0);
    entry->given.has_device =
        plan->feed.protection &&
        fe_supply_device_named(plan->feed.protection, &entry->given.device);
    fe_status status = supply_add_end(plan, path, entry);
    if (status >= 0 && entry->place.planned)
        status = add_other_ends(plan, path, entry);
    if (status >= 0 && source->ac && !entry->place.us && !entry->given.has_device)
        assume_device(entry);
    return status;
}

/* ---- Power over the pairs of a data cable ---- */

/* The loads of an end as a device over the pairs has to feed them, growth included. */
static fe_status put_pairs_loads(const fe_plan *plan, size_t path, fe_supply_entry *entry)
{
    const double beside_m = 1.0;
    *entry =
        (fe_supply_entry){.nominal_v = FE_POE_DEVICE_LOW_V,
                          .high_v = FE_POE_DEVICE_HIGH_V,
                          .given = {.length_m = beside_m, .source_v = FE_POE_DEVICE_LOW_V}};
    const fe_status status = supply_add_loads(plan, path, entry);
    /* A current is taken at the highest voltage of the pairs, the safe side. */
    entry->nominal_v = FE_POE_DEVICE_HIGH_V;
    return status < 0 ? status : supply_add_spare(plan, entry);
}

fe_status fe_supply_over_pairs(const fe_plan *plan, size_t path, fe_pairs_need *need)
{
    const size_t end = fe_network_far_end(plan, path);
    const fe_plan_end *far = &plan->ends[end];
    const fe_gear *gear = supply_hungriest_gear(plan, far);
    *need = (fe_pairs_need){.power_w = gear ? gear->power_w : 0.0};
    if (loads_at(plan, end) == 0 || far->mains.value == 1)
        return FE_OK;
    fe_supply_entry *entry = calloc(1, sizeof *entry);
    if (!entry)
        return FE_E_MEMORY;
    const fe_status status = put_pairs_loads(plan, path, entry);
    need->power_w = supply_sum_of(entry).power_w;
    for (size_t i = 0; i < plan->load_count; i++)
        need->mains = need->mains || (plan->loads[i].end == end &&
                                      plan->loads[i].voltage_v.given != FE_GIVEN_NOT &&
                                      plan->loads[i].voltage_v.low > FE_SUPPLY_MAINS_FROM_V);
    free(entry);
    return status;
}
