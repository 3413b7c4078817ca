/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a radio way is made of: its gear, what that hangs on, the lead from indoors to each unit
 * outdoors, and what relays on the way need. Every count and length here that no key of the
 * plan sets is common practice, no source.
 */
#include <math.h>

#include "decision/cable_length.h"
#include "decision/part_list.h"
#include "farend/constants.h"
#include "farend/network.h"
#include "farend/post.h"
#include "farend/radio_hop.h"
#include "farend/radio_relays.h"
#include "farend/result.h"
#include "farend/supply_plan.h"

/* Up to here a wall carries a bracket; what is higher stands on a mast... */
static const double WALL_UP_TO_M = 5.0;
/* ...of which so much is held between two brackets. */
static const double MAST_HELD_M = 1.0;
/* From the entry to the indoor gear, where the plan names no length for that end. */
static const double USUAL_INDOOR_M = 5.0;

/* A way over a path: its radio gear at both ends, and relays between. */
typedef struct radio_way {
    const fe_plan *plan;
    size_t path;
    fe_band band;
    const fe_gear *const *gear;
    const fe_relay_result *relays; /* null: none */
    unsigned relay_count;
    size_t index; /* of these relays */
    bool fed;     /* a feed is recommended along the path */
} radio_way;

/* ---- Gear ---- */

/* One class may stand at several places; it is one part then, since owned ones are shared. */
static void add_gear(part_maker *maker, const fe_gear *gear, double count)
{
    for (size_t i = 0; i < maker->list.count; i++)
        if (maker->list.items[i].name == gear->name) {
            maker->list.items[i].count += count;
            return;
        }
    part_add_count(maker, FE_PART_GEAR, FE_USE_PLAIN, count)->name = gear->name;
}

/* ---- What hangs outdoors at an end ---- */

static fe_part *add_at(part_maker *maker, fe_part_kind kind, fe_part_use use, double count,
                       const char *where)
{
    fe_part *part = part_add_count(maker, kind, use, count);
    part->where = where;
    return part;
}

/* The next length that is sold: by the metre, or by five feet. */
static double mast_length(bool us, double least_m)
{
    const double step_m = us ? 5.0 * FE_FOOT_M : 1.0;
    return step_m * ceil(least_m / step_m - 1e-9);
}

/* Metal above the roof is joined to the earth of the building, by a wire down the wall. */
static void add_mount(part_maker *maker, const fe_plan_end *end)
{
    const double height_m = end->height_m.typical;
    if (height_m <= WALL_UP_TO_M) {
        add_at(maker, FE_PART_BRACKET, FE_USE_PLAIN, 1.0, end->name);
        return;
    }
    const double mast_m = height_m - WALL_UP_TO_M + MAST_HELD_M;
    add_at(maker, FE_PART_MAST, FE_USE_PLAIN, 1.0, end->name)->size =
        mast_length(fe_plan_is_us_or_canada(maker->plan), mast_m);
    add_at(maker, FE_PART_BRACKET, FE_USE_MAST, 2.0, end->name);
    part_add_length(maker, FE_PART_EARTH_WIRE, FE_USE_MAST, height_m)->where = end->name;
}

/* Four pairs for outdoors: the plan's class, else that of the catalogue. */
static const char *lead_class(const fe_plan *plan)
{
    static const char *const USUAL = "outdoor-data";
    const fe_cable_class *own =
        plan->cable.cable_class ? fe_plan_cable_class(plan, plan->cable.cable_class) : NULL;
    return own && own->medium == FE_MEDIUM_COPPER_PAIRS ? own->name : USUAL;
}

static fe_part *add_lead(part_maker *maker, double length_m)
{
    fe_part *lead = part_add_length(maker, FE_PART_DATA_CABLE, FE_USE_LEAD, length_m);
    lead->name = lead_class(maker->plan);
    return lead;
}

static double indoor_length(const fe_plan *plan, size_t end)
{
    return end < plan->cable.indoor_m.count ? plan->cable.indoor_m.items[end].typical
                                            : USUAL_INDOOR_M;
}

/* Down to the foot of the wall, in, and on to the indoor gear. */
static void add_way_in(part_maker *maker, const fe_plan_end *end, double indoor_m)
{
    const double route_m = end->height_m.typical + indoor_m;
    add_lead(maker, route_m + plan_slack(route_m))->where = end->name;
    add_at(maker, FE_PART_DATA_ARRESTER, FE_USE_LEAD, 1.0, end->name);
    add_at(maker, FE_PART_SLEEVE, FE_USE_HUNG, 1.0, end->name);
    add_at(maker, FE_PART_GLAND, FE_USE_PLAIN, 1.0, end->name);
}

/* The list of the power out there has it already, where there is one. */
static bool is_fed_by_power_list(const fe_plan *plan, size_t path, size_t end)
{
    return end == fe_network_far_end(plan, path) && plan->ends[end].mains.value != 1 &&
           fe_supply_is_asked(plan, path);
}

/* True where a lead was added. */
static bool add_end(part_maker *maker, const radio_way *way, int which)
{
    const fe_plan *plan = way->plan;
    const fe_plan_path *path = &plan->paths[way->path];
    const size_t index = which == 0 ? path->from : path->to;
    const fe_plan_end *end = &plan->ends[index];
    const fe_gear *gear = way->gear[which];
    const bool outdoors = fe_radio_mount(end, gear, way->band) == FE_MOUNT_OUTDOORS;
    const bool wired = fe_gear_takes_lead(gear);
    if (outdoors)
        add_mount(maker, end);
    if (end->feeder && !gear->antenna_built_in) {
        part_add_length(maker, FE_PART_FEEDER, FE_USE_PLAIN, end->feeder_m.typical)->where =
            end->name;
        add_at(maker, FE_PART_DATA_ARRESTER, FE_USE_FEEDER, 1.0, end->name);
    } else if (outdoors && wired) {
        add_way_in(maker, end, indoor_length(plan, index));
    }
    if (wired && !is_fed_by_power_list(plan, way->path, index))
        add_at(maker, FE_PART_PAIRS_SOURCE, FE_USE_LEAD, 1.0, end->name);
    if (wired)
        add_at(maker, FE_PART_CORD, FE_USE_LEAD, 1.0, end->name);
    return outdoors && wired;
}

/* ---- Relays ---- */

static double set_deep(const fe_plan *plan, double length_m)
{
    double depth_m = 0.0;
    if (plan->posts.setting_depth_m.given != FE_GIVEN_NOT)
        return plan->posts.setting_depth_m.typical;
    return fe_post_rule_depth(FE_POST_TENTH_2FT, length_m, &depth_m) < 0 ? length_m : depth_m;
}

static bool reaches(const fe_plan *plan, double length_m, double height_m)
{
    return length_m - set_deep(plan, length_m) >= height_m;
}

/* The shortest that is on hand, else that is sold, and holds an antenna so high. */
static double post_for(const fe_plan *plan, double height_m)
{
    const fe_value_list *on_hand = &plan->posts.post_lengths_m;
    const bool us = fe_plan_is_us_or_canada(plan);
    double shortest_m = INFINITY;
    for (size_t i = 0; i < on_hand->count && plan->posts.given; i++)
        if (reaches(plan, on_hand->items[i].typical, height_m))
            shortest_m = fmin(shortest_m, on_hand->items[i].typical);
    if (isfinite(shortest_m))
        return shortest_m;
    double length_m = us ? 0.0 : 1.0;
    while (!reaches(plan, length_m, height_m)) {
        const double next_m = fe_sold_post_after(us, length_m);
        length_m = isfinite(next_m) ? next_m : length_m + 1.0;
    }
    return length_m;
}

/* Posts of one length are one part. */
static void add_post(part_maker *maker, double length_m)
{
    for (size_t i = 0; i < maker->list.count; i++)
        if (maker->list.items[i].kind == FE_PART_POST &&
            maker->list.items[i].size == length_m) {
            maker->list.items[i].count += 1.0;
            return;
        }
    part_add_count(maker, FE_PART_POST, FE_USE_RELAY, 1.0)->size = length_m;
}

/* The feed where one passes, a panel and a battery where none does. */
static void add_relay_power(part_maker *maker, const radio_way *way, double unpowered)
{
    if (unpowered == 0.0)
        return;
    if (way->fed) {
        part_add_count(maker, FE_PART_BRANCH_BOX, FE_USE_RELAY, unpowered);
        part_add_count(maker, FE_PART_INJECTOR, FE_USE_RELAY, unpowered);
    } else if (way->relays->alone) {
        part_add_solar(maker, way->relays->alone, unpowered);
    }
}

/* A post each, a box at its foot, and the lead between. */
static double add_relays(part_maker *maker, const radio_way *way)
{
    const fe_relay_result *relays = way->relays;
    const unsigned count = way->relay_count;
    const bool wired = fe_gear_takes_lead(relays->relay_gear);
    double leads_m = 0.0;
    double unpowered = 0.0;
    for (unsigned i = 0; i < count; i++) {
        const double height_m = relays->heights_m[count][i];
        add_post(maker, post_for(way->plan, height_m));
        leads_m += height_m + plan_slack(height_m);
        unpowered +=
            fe_relay_has_power(way->plan, way->path, relays->places_m[count][i]) ? 0.0 : 1.0;
    }
    part_add_count(maker, FE_PART_BRACKET, FE_USE_RELAY, count);
    part_add_count(maker, FE_PART_RELAY_BOX, FE_USE_RELAY, count);
    if (wired)
        add_lead(maker, leads_m);
    if (wired && count > unpowered)
        part_add_count(maker, FE_PART_PAIRS_SOURCE, FE_USE_RELAY, count - unpowered);
    add_relay_power(maker, way, unpowered);
    return wired ? count : 0.0;
}

/* ---- All of it ---- */

static fe_status parts_of(const radio_way *way, fe_part_list *list)
{
    part_maker maker = {.plan = way->plan};
    double leads = 0.0;
    add_gear(&maker, way->gear[0], 1.0);
    add_gear(&maker, way->gear[1], 1.0);
    if (way->relays)
        add_gear(&maker, way->relays->relay_gear, way->relay_count);
    for (int which = 0; which < 2; which++)
        leads += add_end(&maker, way, which) ? 1.0 : 0.0;
    if (way->relays)
        leads += add_relays(&maker, way);
    if (leads > 0.0) {
        part_add_count(&maker, FE_PART_PLUG, FE_USE_LEAD, 2.0 * leads);
        part_add_count(&maker, FE_PART_WALL_CLIPS, FE_USE_LEAD, 1.0);
        part_add_count(&maker, FE_PART_SOCKET_TOOL, FE_USE_LEAD, 1.0);
    }
    part_add_switch(&maker, way->path, false);
    part_add_count(&maker, FE_PART_LABEL, FE_USE_PLAIN, 2.0 + way->relay_count);
    return part_finish(&maker, list);
}

fe_status fe_parts_of_radio(const fe_result *result, const fe_way *way, fe_part_list *list)
{
    const fe_pick *pick = &result->picks[way->path];
    const fe_way *power = fe_result_way(result, pick->power_way);
    radio_way made = {.plan = result->plan, .path = way->path};
    if (way->kind == FE_WAY_RELAYS) {
        made.relays = &result->relays[way->index];
        made.relay_count = way->relays;
        made.band = made.relays->band;
        made.gear = made.relays->end_gear;
        made.fed = power && power->kind == FE_WAY_FEED;
    } else {
        made.band = result->radio[way->index].band;
        made.gear = result->radio[way->index].gear;
    }
    return parts_of(&made, list);
}
