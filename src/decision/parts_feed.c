/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a feed, or a battery with its panel, is made of. */
#include <math.h>

#include "decision/part_list.h"

/* A quarter in reserve (common practice, no source). */
static const double RESERVE = 1.25;

/* Next rating of a fuse that is sold (common practice, no source). */
static double rated_for(double least_a)
{
    static const double RATINGS[] = {1.0,  2.0,  3.0,  5.0,  7.5,  10.0, 15.0,  20.0,  25.0,
                                     30.0, 40.0, 50.0, 60.0, 80.0, 100., 125.0, 150.0, 200.0};
    static const size_t COUNT = sizeof RATINGS / sizeof RATINGS[0];
    for (size_t i = 0; i < COUNT; i++)
        if (RATINGS[i] >= least_a)
            return RATINGS[i];
    return least_a;
}

static double fuse_rating(double current_a)
{
    return rated_for(RESERVE * current_a);
}

/* ---- The cable ---- */

static double area_of(const fe_supply_size *size)
{
    return size ? size->conductor.area_m2 : (double)NAN;
}

/* Sizes of both series do; that of the place is the first. */
static void put_sizes(const fe_supply_entry *entry, fe_conductor_material metal, fe_part *part)
{
    const double metric_m2 = area_of(fe_supply_smallest(entry, metal, FE_SIZES_METRIC));
    const double gauge_m2 = area_of(fe_supply_smallest(entry, metal, FE_SIZES_AWG));
    const bool gauge = isnan(metric_m2) || (entry->place.us && isfinite(gauge_m2));
    part->size = gauge ? gauge_m2 : metric_m2;
    part->other_size = gauge ? metric_m2 : gauge_m2;
}

static bool has_size(const fe_supply_entry *entry, fe_conductor_material metal)
{
    return fe_supply_smallest(entry, metal, FE_SIZES_METRIC) ||
           fe_supply_smallest(entry, metal, FE_SIZES_AWG);
}

/* What another end's feed has laid already is not bought twice. */
static double bought_length(const fe_supply_entry *entry)
{
    return entry->place.planned ? entry->place.own_m : entry->given.length_m;
}

/* The other metal, where the plan allows it, goes instead. */
static void add_cable(part_maker *maker, const fe_supply_entry *entry)
{
    const fe_conductor_material other =
        entry->main_metal == FE_CONDUCTOR_COPPER ? FE_CONDUCTOR_ALUMINIUM : FE_CONDUCTOR_COPPER;
    if (entry->owned_m2 > 0.0)
        return;
    fe_part *cable =
        part_add_length(maker, FE_PART_SUPPLY_CABLE, entry->given.ac ? FE_USE_AC : FE_USE_DC,
                        bought_length(entry));
    put_sizes(entry, entry->main_metal, cable);
    if (!has_size(entry, other))
        return;
    cable = part_add_length(maker, FE_PART_SUPPLY_CABLE,
                            entry->given.ac ? FE_USE_AC : FE_USE_DC, bought_length(entry));
    put_sizes(entry, other, cable);
    cable->instead = true;
}

size_t fe_parts_branches(const fe_supply_entry *entry)
{
    size_t count = 0;
    for (size_t i = 0; i < entry->given.load_count; i++) {
        const double at_m = entry->loads[i].at_m;
        if (!entry->origins[i].elsewhere && at_m < entry->given.length_m - 0.5 &&
            (i == 0 || entry->loads[i - 1].at_m < at_m))
            count++;
    }
    return count;
}

/* ---- Protection ---- */

static void add_mains(part_maker *maker, const fe_supply_entry *entry)
{
    const fe_part_use use = entry->place.us ? FE_USE_AC_US : FE_USE_AC;
    fe_part *breaker = part_add_count(maker, FE_PART_BREAKER, use, 1.0);
    if (entry->given.has_device && entry->given.device.is_breaker)
        breaker->rating = entry->given.device.rating_a;
    part_add_count(maker, FE_PART_RESIDUAL, use, 1.0);
    part_add_count(maker, FE_PART_BOARD, FE_USE_AC, 1.0);
    part_add_count(maker, FE_PART_SUPPLY_ARRESTER, FE_USE_AC, 2.0);
    part_add_count(maker, FE_PART_ELECTRODE, use, 1.0);
}

/* A source of direct current is seldom there: a supply in the house, or what keeps a battery
 * full. */
static void add_source(part_maker *maker, const fe_supply_entry *entry,
                       const fe_supply_size *size)
{
    const double power_w = RESERVE * (size->load_w + size->loss_w);
    if (entry->given.source_v < entry->high_v) {
        part_add_count(maker, FE_PART_BATTERY, FE_USE_DC, 1.0);
        part_add_count(maker, FE_PART_CHARGER, FE_USE_DC, 1.0)->rating = power_w;
    } else {
        part_add_count(maker, FE_PART_SUPPLY, FE_USE_DC, 1.0)->rating = power_w;
    }
}

static void add_low_voltage(part_maker *maker, const fe_supply_entry *entry,
                            const fe_supply_size *size)
{
    /* What goes on from another end is fed by that end's source. */
    if (!entry->place.planned || entry->place.own_route_m == entry->place.route_m)
        add_source(maker, entry, size);
    part_add_count(maker, FE_PART_FUSE, FE_USE_DC, 1.0)->rating =
        entry->given.has_device ? entry->given.device.rating_a : fuse_rating(size->current_a);
    part_add_count(maker, FE_PART_DC_SWITCH, FE_USE_DC, 2.0);
    part_add_count(maker, FE_PART_SUPPLY_ARRESTER, FE_USE_DC, 2.0);
    part_add_count(maker, FE_PART_BOARD, FE_USE_DC, 1.0);
}

/* ---- Converters ---- */

static bool wants_converter(const fe_supply_entry *entry, size_t i)
{
    return entry->origins[i].added || entry->origins[i].device_w > 0.0;
}

static void add_converters(part_maker *maker, const fe_supply_entry *entry, double times)
{
    for (size_t i = 0; i < entry->given.load_count; i++) {
        if (!wants_converter(entry, i))
            continue;
        const fe_supply_origin *origin = &entry->origins[i];
        fe_part *part =
            part_add_count(maker, origin->added ? FE_PART_INJECTOR : FE_PART_CONVERTER,
                           entry->given.ac ? FE_USE_AC : FE_USE_DC, times);
        part->load = i;
        part->rating =
            RESERVE * (origin->device_w > 0.0 ? origin->device_w : entry->loads[i].load);
    }
}

/* ---- A feed ---- */

static void add_terminals(part_maker *maker, const fe_supply_entry *entry,
                          const fe_supply_size *size)
{
    /* What the terminals of small devices take (common practice, no source). */
    static const double TERMINAL_M2 = 10.1e-6;
    const double ends = entry->given.ac ? 6.0 : 4.0;
    part_add_count(maker, FE_PART_LUG, FE_USE_PLAIN, ends);
    if (size->conductor.area_m2 > TERMINAL_M2)
        part_add_count(maker, FE_PART_TERMINAL, FE_USE_PLAIN, ends)->size =
            size->conductor.area_m2;
    part_add_count(maker, FE_PART_CRIMPER, entry->given.ac ? FE_USE_AC : FE_USE_DC, 1.0);
}

/* Where no size does, the cable and its trench are all that is known. */
fe_status fe_parts_of_feed(const fe_plan *plan, const fe_supply_entry *entry,
                           fe_part_list *list)
{
    part_maker maker = {.plan = plan};
    const fe_supply_size *size =
        fe_supply_judge(entry) == FE_VERDICT_FAILS ? NULL : fe_supply_shown(entry);
    add_cable(&maker, entry);
    if (size) {
        if (entry->given.ac)
            add_mains(&maker, entry);
        else
            add_low_voltage(&maker, entry, size);
        add_converters(&maker, entry, 1.0);
        const size_t branches = fe_parts_branches(entry);
        if (branches > 0)
            part_add_count(&maker, FE_PART_BRANCH_BOX, entry->given.ac ? FE_USE_AC : FE_USE_DC,
                           (double)branches);
        part_add_entries(&maker, !entry->place.planned);
        add_terminals(&maker, entry, size);
    }
    if (entry->place.planned)
        part_add_laying(&maker, entry->place.own_route_m, entry->place.duct_m);
    if (size)
        part_add_count(&maker, FE_PART_LABEL, entry->given.ac ? FE_USE_AC : FE_USE_DC, 2.0);
    return part_finish(&maker, list);
}

/* ---- Battery and panel ---- */

void part_add_solar(part_maker *maker, const fe_solar *solar, double count)
{
    part_add_count(maker, FE_PART_BATTERY, FE_USE_SOLAR, count);
    part_add_count(maker, FE_PART_PANEL, FE_USE_SOLAR, count)->rating = solar->panel_w;
    part_add_count(maker, FE_PART_CHARGER, FE_USE_SOLAR, count)->rating = solar->charger_a;
    part_add_count(maker, FE_PART_FUSE, FE_USE_SOLAR, count)->rating =
        fuse_rating(solar->load_w / solar->battery_v);
    part_add_count(maker, FE_PART_FUSE, FE_USE_SOLAR_CHARGE, count)->rating =
        rated_for(solar->charger_a);
    part_add_count(maker, FE_PART_DC_SWITCH, FE_USE_SOLAR, count);
    part_add_count(maker, FE_PART_SUPPLY_ARRESTER, FE_USE_SOLAR, count);
    part_add_count(maker, FE_PART_ELECTRODE, FE_USE_SOLAR, count);
    part_add_count(maker, FE_PART_BOARD, FE_USE_SOLAR, count);
    part_add_count(maker, FE_PART_PANEL_CABLES, FE_USE_SOLAR, count);
    add_converters(maker, &solar->loads, count);
}

fe_status fe_parts_of_solar(const fe_plan *plan, const fe_solar *solar, fe_part_list *list)
{
    part_maker maker = {.plan = plan};
    part_add_solar(&maker, solar, 1.0);
    return part_finish(&maker, list);
}
