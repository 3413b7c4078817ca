/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/supply_plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "decision/cable_length.h"
#include "farend/battery.h"
#include "farend/converter.h"
#include "farend/network.h"
#include "farend/poe.h"
#include "farend/solar_plan.h"

static const double SAME = 1.001;

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

/* ---- Loads ---- */

static bool accepts(double low_v, double high_v, const fe_supply_entry *entry)
{
    if (!(high_v > 0.0))
        return true;
    const bool mains = low_v > FE_SUPPLY_MAINS_FROM_V;
    return mains == entry->given.ac && low_v <= entry->nominal_v * SAME &&
           entry->high_v <= high_v * SAME;
}

/* What a load takes at the middle of what it accepts. */
static double power_of(const fe_supply_load *load, double low_v, double high_v)
{
    const double factor = low_v > FE_SUPPLY_MAINS_FROM_V ? load->power_factor : 1.0;
    return load->kind == FE_LOAD_POWER ? load->load
                                       : load->load * 0.5 * (low_v + high_v) * factor;
}

/* A load at its own voltage, behind a converter where that is not the source's; 0 and 0: it
 * accepts any. */
static fe_status connect_load(fe_supply_entry *entry, const fe_supply_load *load, double low_v,
                              double high_v, const char *name, bool added)
{
    fe_supply_load there = *load;
    fe_supply_origin origin = {.added = added};
    snprintf(origin.name, sizeof origin.name, "%s", name);
    if (accepts(low_v, high_v, entry)) {
        there.least_v = low_v;
        if (!entry->given.ac)
            there.power_factor = 1.0;
        return fe_supply_add(entry, &there, &origin);
    }
    origin.device_w = power_of(load, low_v, high_v);
    origin.device_low_v = low_v;
    origin.device_high_v = high_v;
    const fe_status status = fe_converter_efficiency(origin.device_w, &origin.efficiency);
    if (status < 0)
        return status;
    there.kind = FE_LOAD_POWER;
    there.load = origin.device_w / origin.efficiency;
    there.power_factor = entry->given.ac ? fe_converter_power_factor(origin.device_w) : 1.0;
    there.least_v = fe_converter_least_v(entry->nominal_v, entry->given.ac);
    return fe_supply_add(entry, &there, &origin);
}

static fe_status add_load(const fe_plan_load *load, fe_supply_entry *entry)
{
    /* A load at the source itself needs no feed; the kernel wants a place beyond it. */
    static const double NEAREST_M = 0.01;
    const double length_m = entry->given.length_m;
    const bool current = load->current_a.given != FE_GIVEN_NOT;
    const fe_supply_load there = {
        .at_m = load->at_m.given == FE_GIVEN_NOT
                    ? length_m
                    : fmin(fmax(load->at_m.typical, NEAREST_M), length_m),
        .kind = current ? FE_LOAD_CURRENT : FE_LOAD_POWER,
        .load = current ? load->current_a.typical : load->power_w.typical,
        .power_factor =
            load->power_factor.given == FE_GIVEN_NOT ? 1.0 : load->power_factor.typical,
        .start_factor = fmax(load->start_factor.typical, 1.0),
        .hours_per_day = load->hours_per_day.typical,
    };
    const bool any = load->voltage_v.given == FE_GIVEN_NOT;
    return connect_load(entry, &there, any ? 0.0 : load->voltage_v.low,
                        any ? 0.0 : load->voltage_v.high, load->name ? load->name : "", false);
}

static fe_status add_gear(const fe_gear *gear, double at_m, const char *what,
                          fe_supply_entry *entry)
{
    char name[FE_SUPPLY_NAME_ROOM];
    const fe_supply_load there = {.at_m = at_m,
                                  .kind = FE_LOAD_POWER,
                                  .load = gear->power_w,
                                  .power_factor = 1.0,
                                  .start_factor = 1.0,
                                  .hours_per_day = 24.0};
    snprintf(name, sizeof name, "%s", what);
    return connect_load(entry, &there, FE_POE_DEVICE_LOW_V, FE_POE_DEVICE_HIGH_V, name, true);
}

/* The hungriest gear that an end without mains names; null: none. */
static const fe_gear *hungriest_gear(const fe_plan *plan, const fe_plan_end *end)
{
    const fe_gear *hungriest = NULL;
    for (size_t i = 0; i < end->gear.count && end->mains.value != 1; i++) {
        const fe_gear *gear = fe_plan_gear(plan, end->gear.items[i]);
        if (gear && gear->power_w > 0.0 && (!hungriest || gear->power_w > hungriest->power_w))
            hungriest = gear;
    }
    return hungriest;
}

/* The loads that stand at the far end of a path. */
static fe_status add_loads(const fe_plan *plan, size_t path, fe_supply_entry *entry)
{
    const size_t far = fe_network_far_end(plan, path);
    fe_status status = FE_OK;
    for (size_t i = 0; i < plan->load_count && status >= 0; i++)
        if (plan->loads[i].end == far)
            status = add_load(&plan->loads[i], entry);
    return status;
}

/* Whatever the data link will be, it takes no more than that. */
static fe_status add_far_gear(const fe_plan *plan, size_t path, fe_supply_entry *entry)
{
    const fe_gear *gear = hungriest_gear(plan, &plan->ends[fe_network_far_end(plan, path)]);
    return gear ? add_gear(gear, entry->given.length_m, "gear of the data link", entry) : FE_OK;
}

/* ---- Spare power ---- */

/* What a load draws from the source. */
static double drawn_w(const fe_supply_entry *entry, const fe_supply_load *load)
{
    const double factor = entry->given.ac ? load->power_factor : 1.0;
    return load->kind == FE_LOAD_POWER ? load->load : load->load * entry->nominal_v * factor;
}

/* A share of all that is on the entry so far, at the far end, run for as long as that. */
static fe_status add_spare(const fe_plan *plan, fe_supply_entry *entry)
{
    const double share = plan->spare.power.typical;
    double power_w = 0.0, apparent_va = 0.0, work_wh = 0.0;
    for (size_t i = 0; i < entry->given.load_count; i++) {
        const fe_supply_load *load = &entry->loads[i];
        const double drawn = drawn_w(entry, load);
        power_w += drawn;
        apparent_va += entry->given.ac ? drawn / load->power_factor : drawn;
        work_wh += drawn * load->hours_per_day;
    }
    if (!(share * power_w > 0.0))
        return FE_OK;
    /* Means of factors up to 1 and hours up to 24, but for the last digit. */
    const fe_supply_load spare = {.at_m = entry->given.length_m,
                                  .kind = FE_LOAD_POWER,
                                  .load = share * power_w,
                                  .power_factor = fmin(power_w / apparent_va, 1.0),
                                  .start_factor = 1.0,
                                  .hours_per_day = fmin(work_wh / power_w, 24.0)};
    const fe_supply_origin origin = {.name = "spare power", .spare = true};
    return fe_supply_add(entry, &spare, &origin);
}

/* All that stands at the far end of a path, and its growth. */
static fe_status add_end(const fe_plan *plan, size_t path, fe_supply_entry *entry)
{
    fe_status status = add_loads(plan, path, entry);
    if (status >= 0)
        status = add_far_gear(plan, path, entry);
    if (status >= 0)
        status = add_spare(plan, entry);
    return status;
}

/* ---- Other ends on the same line ---- */

/* All that an end takes as one load: what starts hardest does so while the rest runs. */
static fe_supply_load sum_loads(const fe_supply_entry *end, double at_m)
{
    double power_w = 0.0, apparent_va = 0.0, work_wh = 0.0, surge_w = 0.0;
    fe_supply_load sum = {.at_m = at_m, .kind = FE_LOAD_POWER};
    for (size_t i = 0; i < end->given.load_count; i++) {
        const fe_supply_load *load = &end->loads[i];
        const double drawn = drawn_w(end, load);
        power_w += drawn;
        apparent_va += end->given.ac ? drawn / load->power_factor : drawn;
        work_wh += drawn * load->hours_per_day;
        surge_w = fmax(surge_w, drawn * (load->start_factor - 1.0));
        sum.least_v = fmax(sum.least_v, load->least_v);
    }
    sum.load = power_w;
    sum.power_factor = power_w > 0.0 ? fmin(power_w / apparent_va, 1.0) : 1.0;
    sum.start_factor = power_w > 0.0 ? 1.0 + surge_w / power_w : 1.0;
    sum.hours_per_day = power_w > 0.0 ? fmin(work_wh / power_w, 24.0) : 0.0;
    return sum;
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
    fe_status status = add_end(plan, other, end);
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
    double apparent_va = 0.0;
    size_t at = 0;
    for (size_t i = 0; i < entry->given.load_count; i++)
        apparent_va += drawn_w(entry, &entry->loads[i]) / entry->loads[i].power_factor;
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
    fe_status status = add_end(plan, path, entry);
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
    const fe_status status = add_loads(plan, path, entry);
    /* A current is taken at the highest voltage of the pairs, the safe side. */
    entry->nominal_v = FE_POE_DEVICE_HIGH_V;
    return status < 0 ? status : add_spare(plan, entry);
}

fe_status fe_supply_over_pairs(const fe_plan *plan, size_t path, fe_pairs_need *need)
{
    const size_t end = fe_network_far_end(plan, path);
    const fe_plan_end *far = &plan->ends[end];
    const fe_gear *gear = hungriest_gear(plan, far);
    *need = (fe_pairs_need){.power_w = gear ? gear->power_w : 0.0};
    if (loads_at(plan, end) == 0 || far->mains.value == 1)
        return FE_OK;
    fe_supply_entry *entry = calloc(1, sizeof *entry);
    if (!entry)
        return FE_E_MEMORY;
    const fe_status status = put_pairs_loads(plan, path, entry);
    need->power_w = 0.0;
    for (size_t i = 0; i < entry->given.load_count; i++)
        need->power_w += drawn_w(entry, &entry->loads[i]);
    for (size_t i = 0; i < plan->load_count; i++)
        need->mains = need->mains || (plan->loads[i].end == end &&
                                      plan->loads[i].voltage_v.given != FE_GIVEN_NOT &&
                                      plan->loads[i].voltage_v.low > FE_SUPPLY_MAINS_FROM_V);
    free(entry);
    return status;
}

/* ---- Battery and panel ---- */

static const double TO_LOAD = 0.85;
static const double PANEL_TO_LOAD = 0.65;

static double cold_part(double temp_c)
{
    static const double FULL_AT_C = 20.0;
    static const double LESS_A_KELVIN = 0.01;
    static const double LEAST = 0.3;
    return fmax(LEAST, fmin(1.0, 1.0 - LESS_A_KELVIN * (FULL_AT_C - temp_c)));
}

/* What a battery runs: all of the far end of a path, or one piece of gear. */
typedef struct battery_use {
    size_t path;
    const fe_gear *alone; /* null: the end */
} battery_use;

/* At a battery of this voltage. */
static fe_status put_loads(const fe_plan *plan, const battery_use *use, double battery_v,
                           fe_solar *solar)
{
    /* From nearly empty to charging, a lead battery of 12 V: common practice, no source. */
    static const double EMPTY = 11.0 / 12.0;
    static const double CHARGING = 14.4 / 12.0;
    const double beside_m = 1.0;
    solar->battery_v = battery_v;
    solar->loads =
        (fe_supply_entry){.nominal_v = battery_v,
                          .high_v = battery_v * CHARGING,
                          .given = {.length_m = beside_m, .source_v = battery_v * EMPTY}};
    const fe_status status = use->alone
                                 ? add_gear(use->alone, beside_m, "the relay", &solar->loads)
                                 : add_end(plan, use->path, &solar->loads);
    solar->load_w = solar->energy_per_day_j = 0.0;
    for (size_t i = 0; i < solar->loads.given.load_count; i++) {
        const fe_supply_load *load = &solar->loads.loads[i];
        const double power_w = drawn_w(&solar->loads, load);
        solar->load_w += power_w;
        solar->energy_per_day_j += power_w * load->hours_per_day * 3600.0;
    }
    return status;
}

static double voltage_for(double energy_per_day_j)
{
    static const double KWH_J = 3.6e6;
    if (energy_per_day_j <= 1.0 * KWH_J)
        return 12.0;
    return energy_per_day_j <= 4.0 * KWH_J ? 24.0 : 48.0;
}

static fe_status size_once(const fe_solar *solar, double sun_hours, double dark_days,
                           double discharge, double *battery_j, double *panel_w)
{
    const fe_battery_need need = {solar->energy_per_day_j, fmax(dark_days, 1.0), discharge,
                                  TO_LOAD, solar->cold_part};
    fe_status status = fe_battery_energy(&need, battery_j);
    if (status >= 0)
        status =
            fe_panel_power(solar->energy_per_day_j, sun_hours * 3600.0, PANEL_TO_LOAD, panel_w);
    return status;
}

static fe_status size_solar(const fe_plan *plan, const battery_use *use, fe_solar *solar)
{
    /* A cold panel in hard sun gives more than its rating. The quarter that fuses and sources
     * keep in parts_feed.c is for loads, and neither follows the other. */
    static const double OVER_RATING = 1.25;
    /* Where the plan says nothing: its defaults, a dull winter. */
    const fe_plan_solar given = plan->solar;
    *solar = (fe_solar){.assumed = !plan->solar.given};
    fe_status status = put_loads(plan, use, 12.0, solar);
    if (status >= 0 && voltage_for(solar->energy_per_day_j) > solar->battery_v)
        status = put_loads(plan, use, voltage_for(solar->energy_per_day_j), solar);
    if (status < 0)
        return status;
    if (!(solar->energy_per_day_j > 0.0))
        return FE_E_NO_SOLUTION;
    solar->coldest_c = fe_plan_coldest(plan);
    solar->cold_part = cold_part(solar->coldest_c);
    solar->sun_s = given.sun_hours.typical * 3600.0;
    solar->dark_days = given.dark_days.typical;
    solar->discharge = given.discharge.typical;
    status = size_once(solar, given.sun_hours.typical, given.dark_days.typical,
                       given.discharge.typical, &solar->battery_j, &solar->panel_w);
    if (status >= 0)
        status = size_once(solar, given.sun_hours.low, given.dark_days.high,
                           given.discharge.low, &solar->battery_hard_j, &solar->panel_hard_w);
    if (status >= 0)
        status = size_once(solar, given.sun_hours.high, given.dark_days.low,
                           given.discharge.high, &solar->battery_easy_j, &solar->panel_easy_w);
    if (status >= 0)
        status = fe_battery_charge(solar->battery_j, solar->battery_v, &solar->battery_c);
    solar->charger_a = OVER_RATING * solar->panel_w / solar->battery_v;
    return status;
}

fe_status fe_solar_from_plan(const fe_plan *plan, size_t path, fe_solar *solar)
{
    const battery_use use = {.path = path};
    return fe_supply_is_asked(plan, path) ? size_solar(plan, &use, solar) : FE_E_NO_SOLUTION;
}

fe_status fe_solar_for_gear(const fe_plan *plan, const fe_gear *gear, fe_solar *solar)
{
    const battery_use use = {.alone = gear};
    return size_solar(plan, &use, solar);
}
