/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/supply_loads.h"

#include <math.h>
#include <stdio.h>

#include "farend/converter.h"
#include "farend/network.h"
#include "farend/poe.h"
#include "farend/supply_plan.h"

static const double SAME = 1.001;

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

fe_status supply_add_gear(const fe_gear *gear, double at_m, const char *what,
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

const fe_gear *supply_hungriest_gear(const fe_plan *plan, const fe_plan_end *end)
{
    const fe_gear *hungriest = NULL;
    for (size_t i = 0; i < end->gear.count && end->mains.value != 1; i++) {
        const fe_gear *gear = fe_plan_gear(plan, end->gear.items[i]);
        if (gear && gear->power_w > 0.0 && (!hungriest || gear->power_w > hungriest->power_w))
            hungriest = gear;
    }
    return hungriest;
}

fe_status supply_add_loads(const fe_plan *plan, size_t path, fe_supply_entry *entry)
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
    const fe_gear *gear =
        supply_hungriest_gear(plan, &plan->ends[fe_network_far_end(plan, path)]);
    return gear ? supply_add_gear(gear, entry->given.length_m, "gear of the data link", entry)
                : FE_OK;
}

/* ---- Spare power ---- */

double supply_drawn_w(const fe_supply_entry *entry, const fe_supply_load *load)
{
    const double factor = entry->given.ac ? load->power_factor : 1.0;
    return load->kind == FE_LOAD_POWER ? load->load : load->load * entry->nominal_v * factor;
}

supply_sum supply_sum_of(const fe_supply_entry *entry)
{
    supply_sum sum = {0.0, 0.0, 0.0};
    for (size_t i = 0; i < entry->given.load_count; i++) {
        const fe_supply_load *load = &entry->loads[i];
        const double drawn = supply_drawn_w(entry, load);
        sum.power_w += drawn;
        sum.apparent_va += entry->given.ac ? drawn / load->power_factor : drawn;
        sum.work_wh += drawn * load->hours_per_day;
    }
    return sum;
}

/* Means of factors up to 1 and hours up to 24, but for the last digit. */
double supply_power_factor(const supply_sum *sum)
{
    return fmin(sum->power_w / sum->apparent_va, 1.0);
}

double supply_hours(const supply_sum *sum)
{
    return fmin(sum->work_wh / sum->power_w, 24.0);
}

/* A share of all that is on the entry so far, at the far end, run for as long as that. */
fe_status supply_add_spare(const fe_plan *plan, fe_supply_entry *entry)
{
    const double share = plan->spare.power.typical;
    const supply_sum sum = supply_sum_of(entry);
    if (!(share * sum.power_w > 0.0))
        return FE_OK;
    const fe_supply_load spare = {.at_m = entry->given.length_m,
                                  .kind = FE_LOAD_POWER,
                                  .load = share * sum.power_w,
                                  .power_factor = supply_power_factor(&sum),
                                  .start_factor = 1.0,
                                  .hours_per_day = supply_hours(&sum)};
    const fe_supply_origin origin = {.name = "spare power", .spare = true};
    return fe_supply_add(entry, &spare, &origin);
}

fe_status supply_add_end(const fe_plan *plan, size_t path, fe_supply_entry *entry)
{
    fe_status status = supply_add_loads(plan, path, entry);
    if (status >= 0)
        status = add_far_gear(plan, path, entry);
    if (status >= 0)
        status = supply_add_spare(plan, entry);
    return status;
}
