/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/recovery.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "decision/cable_length.h"
#include "farend/network.h"
#include "farend/supply_plan.h"

/* ---- Judging a list ---- */

/* From power on to passing traffic (common practice, no source). */
static const double BOOT_S = 120.0;
/*
 * A minute between probes, ten of them missed, and never fewer than last half as long again as
 * all takes to come back after an outage. Three tries, then six hours of rest, so that a house
 * that is away is no reason to go on cutting.
 */
static const fe_watchdog WATCHDOG = {60.0, 10, 30.0, 3, 6.0 * 3600.0};
static const double OUTLASTS = 1.5;

const char *fe_cut_name(fe_cut cut)
{
    static const char *const NAMES[] = {
        [FE_CUT_BY_HAND] = "the plug, by hand",
        [FE_CUT_POE_PORT] = "its port in the house, which feeds it",
        [FE_CUT_FEED] = "the switch of the feed in the house",
        [FE_CUT_OUTLET] = "a switched outlet or port out there, reached past it",
        [FE_CUT_NOBODY] = "nobody from indoors; a watchdog beside it",
    };
    return NAMES[cut];
}

/* What a device is reached through; itself: nothing, it is the first. */
static size_t before(const fe_recovery *recovery, size_t index)
{
    const size_t behind = recovery->devices[index].behind;
    if (behind > 0 && behind <= index)
        return index - behind;
    for (size_t i = index; i > 0; i--)
        if (recovery->devices[i - 1].passes_on)
            return i - 1;
    return index;
}

static bool is_behind(const fe_recovery *recovery, size_t index, size_t other)
{
    size_t at = index;
    while (before(recovery, at) != at) {
        at = before(recovery, at);
        if (at == other)
            return true;
    }
    return false;
}

static fe_cut cut_of(const fe_device *device)
{
    static const fe_cut CUTS[] = {
        [FE_FED_HOUSE_OUTLET] = FE_CUT_BY_HAND,
        [FE_FED_HOUSE_POE] = FE_CUT_POE_PORT,
        [FE_FED_HOUSE_FEED] = FE_CUT_FEED,
        [FE_FED_OWN] = FE_CUT_NOBODY,
    };
    /* What nothing is reached through can be cut by what it is reached through. */
    if (device->fed_by == FE_FED_OWN && !device->passes_on)
        return FE_CUT_OUTLET;
    return CUTS[device->fed_by];
}

static size_t still_reached(const fe_recovery *recovery, size_t index)
{
    size_t left = 0;
    for (size_t i = 0; i < recovery->device_count; i++)
        left += i != index && !is_behind(recovery, i, index) ? 1 : 0;
    return left;
}

static void add_failure(fe_recovery *recovery, const char *what, const char *name,
                        const char *remedy, bool walk)
{
    char text[FE_RECOVERY_WHAT_ROOM];
    snprintf(text, sizeof text, "%.170s %.60s", name, what);
    /* Two paths may have the same weak spot; it is written down once. */
    for (size_t i = 0; i < recovery->failure_count; i++)
        if (strcmp(recovery->failures[i].what, text) == 0)
            return;
    if (recovery->failure_count == sizeof recovery->failures / sizeof recovery->failures[0])
        return;
    fe_failure *failure = &recovery->failures[recovery->failure_count++];
    snprintf(failure->what, sizeof failure->what, "%s", text);
    failure->remedy = remedy;
    failure->walk = walk;
    recovery->walks += walk ? 1 : 0;
}

/* Where it stands tells apart what has the same name. */
static void add_device_failure(fe_recovery *recovery, const fe_device *device, const char *what,
                               const char *remedy, bool walk)
{
    char name[2 * FE_RECOVERY_NAME_ROOM + 4];
    snprintf(name, sizeof name, "%s (%s)", device->name, device->place);
    add_failure(recovery, what, name, remedy, walk);
}

static void judge_device(fe_recovery *recovery, size_t index)
{
    fe_device *device = &recovery->devices[index];
    device->cut = cut_of(device);
    device->left = still_reached(recovery, index);
    device->walk = device->cut == FE_CUT_NOBODY;
    recovery->wants_outlet = recovery->wants_outlet || device->cut == FE_CUT_OUTLET;
    device->cold_start =
        isnan(device->lowest_start_c) || device->lowest_start_c <= device->coldest_c;
    recovery->wants_watchdog = recovery->wants_watchdog || device->walk;
    recovery->walks += device->walk ? 1 : 0;
    if (!device->at_house)
        add_device_failure(recovery, device, "dies",
                           "a spare of it, set up, on a shelf indoors", true);
    if (!device->cold_start)
        add_device_failure(recovery, device, "does not start in the cold",
                           "a class that starts colder, or a box kept warm by what runs in it",
                           !device->at_house);
}

void fe_recovery_judge(fe_recovery *recovery)
{
    recovery->failure_count = 0;
    recovery->walks = 0;
    recovery->wants_watchdog = recovery->wants_outlet = false;
    recovery->watchdog = WATCHDOG;
    recovery->restart_s = 0.0;
    for (size_t i = 0; i < recovery->device_count; i++) {
        judge_device(recovery, i);
        recovery->restart_s += recovery->devices[i].passes_on ? BOOT_S : 0.0;
    }
    const double probes = OUTLASTS * recovery->restart_s / recovery->watchdog.probe_s;
    recovery->watchdog.misses = (unsigned)fmax(recovery->watchdog.misses, ceil(probes));
    for (size_t i = 0; i < recovery->device_count; i++)
        if (recovery->devices[i].fed_by == FE_FED_OWN && recovery->devices[i].passes_on)
            add_device_failure(recovery, &recovery->devices[i], "loses its own power",
                               "a battery that lasts until somebody comes", true);
}

/* ---- The devices of a result ---- */

/* Kept warm by those who live there (common practice, no source). */
static const double HOUSE_C = 5.0;
/* Plain switches and converters of the shelf (likewise). */
static const double PLAIN_SWITCH_C = 0.0;

enum { NO_HUB = FE_RECOVERY_MOST };

/* What the list is made from, path by path from the house outwards. */
typedef struct device_list {
    const fe_result *result;
    const fe_way *data; /* over the path at hand */
    size_t near;        /* ends of the path at hand */
    size_t far;
    size_t through; /* device that the next one is reached through; NO_HUB: the one before it */
    size_t hubs[FE_NETWORK_MOST_ENDS]; /* what all else at an end is reached through */
    double coldest_c;
    fe_recovery *recovery;
    fe_device spare; /* what there is no room for goes here */
} device_list;

/* A feed or the data cable from the house, else whatever is out there. */
static fe_fed_by fed_at(const fe_result *result, size_t end)
{
    fe_network_route route;
    if (end == 0)
        return FE_FED_HOUSE_OUTLET;
    if (result->plan->ends[end].mains.value == 1 ||
        !fe_network_route_between(result->plan, 0, end, &route))
        return FE_FED_OWN;
    const size_t last = route.paths[route.count - 1];
    const fe_way *power = fe_result_way(result, result->picks[last].power_way);
    const fe_way_kind kind = power ? power->kind : FE_WAY_KINDS;
    /* A port or a switch at a building on the way is out there too. */
    if (kind == FE_WAY_POE)
        return route.count == 1 ? FE_FED_HOUSE_POE : FE_FED_OWN;
    if (fe_supply_begins_at(result->plan, last) != 0)
        return FE_FED_OWN;
    return kind == FE_WAY_FEED ? FE_FED_HOUSE_FEED : FE_FED_OWN;
}

static fe_device *add_device(device_list *list, const char *name, const char *place)
{
    fe_recovery *recovery = list->recovery;
    const bool room = recovery->device_count < FE_RECOVERY_MOST;
    const size_t index = recovery->device_count;
    fe_device *device = room ? &recovery->devices[index] : &list->spare;
    recovery->device_count += room;
    recovery->left_out += !room;
    *device = (fe_device){.passes_on = true,
                          .fed_by = FE_FED_HOUSE_OUTLET,
                          .lowest_start_c = (double)NAN,
                          .coldest_c = list->coldest_c};
    if (list->through != NO_HUB)
        device->behind = index - list->through;
    list->through = NO_HUB;
    snprintf(device->name, sizeof device->name, "%s", name);
    snprintf(device->place, sizeof device->place, "%s", place);
    return device;
}

/* A thing at an end: in the house warm and on a plug, elsewhere as that end is fed. */
static fe_device *add_at(device_list *list, const char *name, double lowest_start_c, size_t end)
{
    fe_device *device = add_device(list, name, list->result->plan->ends[end].name);
    device->at_house = end == 0;
    device->fed_by = fed_at(list->result, end);
    device->lowest_start_c = lowest_start_c;
    if (end == 0)
        device->coldest_c = HOUSE_C;
    return device;
}

/* What the list of the way buys for the cold of the plan; in the house a plain one does. */
static fe_device *add_bought(device_list *list, const char *name, size_t end)
{
    return add_at(list, name, end == 0 ? PLAIN_SWITCH_C : list->coldest_c, end);
}

/* Gear outdoors at the house hangs on a port indoors, gear indoors on a plug. */
static void add_gear(device_list *list, const fe_gear *gear, size_t end)
{
    fe_device *device = add_at(list, gear->label, gear->lowest_temp_c, end);
    if (end == 0 && fe_gear_takes_lead(gear)) {
        device->fed_by = FE_FED_HOUSE_POE;
        device->coldest_c = list->coldest_c;
    }
}

static void add_relays(device_list *list, const fe_relay_result *relays, unsigned count)
{
    for (unsigned i = 0; i < count; i++) {
        char place[FE_RECOVERY_NAME_ROOM];
        snprintf(place, sizeof place, "relay %u on the way", i + 1);
        fe_device *device = add_device(list, relays->relay_gear->label, place);
        device->fed_by = FE_FED_OWN;
        device->lowest_start_c = relays->relay_gear->lowest_temp_c;
    }
}

static void add_radio(device_list *list)
{
    const fe_result *result = list->result;
    const fe_way *data = list->data;
    const bool relayed = data->kind == FE_WAY_RELAYS;
    const fe_gear *const *gear =
        relayed ? result->relays[data->index].end_gear : result->radio[data->index].gear;
    /* Gear is listed by the path's own direction. */
    const int first = result->plan->paths[data->path].from == list->near ? 0 : 1;
    add_gear(list, gear[first], list->near);
    if (relayed)
        add_relays(list, &result->relays[data->index], data->relays);
    add_gear(list, gear[1 - first], list->far);
}

/* Converters at both ends of a fibre or a pair; plain copper goes straight into a switch. */
static void add_cable(device_list *list)
{
    const bool copper =
        list->data->kind == FE_WAY_COPPER_POSTS || list->data->kind == FE_WAY_COPPER_BURIED;
    const char *name = list->data->kind == FE_WAY_FEED_DATA ? "feed adapter" : "converter";
    if (!copper) {
        add_bought(list, name, list->near);
        add_bought(list, name, list->far);
    }
}

/* As the list of the way has it. */
static void add_far_switch(device_list *list)
{
    const fe_part_list *parts = &list->data->parts;
    for (size_t i = 0; i < parts->count; i++)
        if (parts->items[i].kind == FE_PART_SWITCH)
            add_bought(list, "switch", list->far);
    list->hubs[list->far] = list->recovery->device_count - 1;
}

/* What the owner has out there and wants to reach; nothing is behind it. */
static void add_loads(device_list *list)
{
    const fe_plan *plan = list->result->plan;
    for (size_t i = 0; i < plan->load_count; i++) {
        const char *name = plan->loads[i].name;
        const size_t end = plan->loads[i].end;
        if (end >= FE_NETWORK_MOST_ENDS || list->hubs[end] == NO_HUB)
            continue;
        list->through = list->hubs[end];
        add_at(list, name && *name ? name : "load", (double)NAN, end)->passes_on = false;
    }
}

static void add_path(device_list *list)
{
    const fe_way_kind kind = list->data->kind;
    list->through = list->hubs[list->near];
    if (fe_way_is_radio(kind))
        add_radio(list);
    else
        add_cable(list);
    add_far_switch(list);
}

/* The paths that begin where something stands by now; true where there was one. */
static bool add_next_paths(device_list *list)
{
    const fe_result *result = list->result;
    bool any = false;
    for (size_t path = 0; path < result->pick_count; path++) {
        const fe_plan_path *there = &result->plan->paths[path];
        const size_t far = fe_network_far_end(result->plan, path);
        const size_t near = there->from == far ? there->to : there->from;
        if (result->picks[path].way < 0 || list->hubs[near] == NO_HUB ||
            list->hubs[far] != NO_HUB)
            continue;
        list->data = &result->ways[result->picks[path].way];
        list->near = near;
        list->far = far;
        add_path(list);
        any = true;
    }
    return any;
}

/* ---- What else fails ---- */

static void add_failures_of_way(fe_recovery *recovery, const fe_way *data)
{
    const bool radio = !isnan(data->margin_db);
    if (data->kind == FE_WAY_DIRECTIONAL)
        add_failure(recovery, "is blown out of its aim", "an antenna",
                    "marks on the mount, and the level written down", true);
    if (radio)
        add_failure(recovery, "fills with water", "a plug outdoors",
                    "drip loops, sleeves that shrink, plugs that face down", true);
    if (data->trench_m > 0.0)
        add_failure(recovery, "is cut by a spade", "the cable",
                    "a drawing of the trench, tape above it, a draw cord in the duct", true);
    if (data->posts > 0)
        add_failure(recovery, "comes down in ice or under a tree", "the cable",
                    "slack kept at a post, a look after every ice and gale", true);
    if (data->hazards & FE_HAZARD_LIGHTNING)
        add_failure(recovery, "goes short after a stroke", "an arrester out there",
                    "one that shows its state, and a spare of it", true);
}

static void add_failures_of_power(fe_recovery *recovery, const fe_result *result,
                                  const fe_way *power)
{
    if (power->kind == FE_WAY_FEED)
        add_failure(recovery, "trips at the far end", "a protective device",
                    "only the one at the house, which is reached from indoors; an electrician "
                    "says whether that may be",
                    true);
    if (power->kind == FE_WAY_FEED || power->kind == FE_WAY_POE)
        add_failure(recovery, "dies out there", "an adapter or converter",
                    "a spare of it, and one size larger than is asked", true);
    if (power->kind == FE_WAY_SOLAR) {
        add_failure(recovery, "lies under snow", "the panel",
                    "a steep frame, higher than the deepest snow", true);
        add_failure(recovery, "runs flat in a dark spell", "the battery",
                    "a controller that sheds loads and leaves the link for last", true);
        if (fe_plan_coldest(result->plan) < 0.0)
            add_failure(recovery, "is too cold to be charged", "a lithium battery",
                        "lead, or one that warms itself, in a box", true);
    }
}

void fe_recovery_of(const fe_result *result, fe_recovery *recovery)
{
    *recovery = (fe_recovery){.device_count = 0};
    device_list list = {.result = result,
                        .through = NO_HUB,
                        .coldest_c = fe_plan_coldest(result->plan),
                        .recovery = recovery};
    if (result->picks[0].way < 0)
        return;
    for (size_t end = 0; end < FE_NETWORK_MOST_ENDS; end++)
        list.hubs[end] = NO_HUB;
    add_at(&list, "switch or router", PLAIN_SWITCH_C, 0);
    list.hubs[0] = 0;
    while (add_next_paths(&list))
        ;
    add_loads(&list);
    fe_recovery_judge(recovery);
    for (size_t choice = 0; choice < fe_result_choice_count(result); choice++) {
        const fe_way *way = fe_result_way(result, fe_result_choice(result, choice));
        if (way && fe_way_is_power(way->kind))
            add_failures_of_power(recovery, result, way);
        else if (way)
            add_failures_of_way(recovery, way);
    }
}
