/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/recovery.h"

#include <math.h>
#include <stdio.h>

#include "decision/cable_length.h"

/* ---- Judging a list ---- */

/* From power on to passing traffic (common practice, no source). */
static const double BOOT_S = 120.0;
/*
 * A minute between probes, ten of them missed: longer than the house takes to come back after
 * an outage. Three tries, then six hours of rest, so that a house that is away is no reason to
 * go on cutting.
 */
static const fe_watchdog WATCHDOG = {60.0, 10, 30.0, 3, 6.0 * 3600.0};

const char *fe_cut_name(fe_cut cut)
{
    static const char *const NAMES[] = {
        [FE_CUT_BY_HAND] = "the plug, by hand",
        [FE_CUT_POE_PORT] = "its port in the house, which feeds it",
        [FE_CUT_FEED] = "the switch of the feed in the house",
        [FE_CUT_NOBODY] = "nobody from indoors; a watchdog beside it",
    };
    return NAMES[cut];
}

static fe_cut cut_of(const fe_device *device)
{
    static const fe_cut CUTS[] = {
        [FE_FED_HOUSE_OUTLET] = FE_CUT_BY_HAND,
        [FE_FED_HOUSE_POE] = FE_CUT_POE_PORT,
        [FE_FED_HOUSE_FEED] = FE_CUT_FEED,
        [FE_FED_OWN] = FE_CUT_NOBODY,
    };
    return CUTS[device->fed_by];
}

static size_t reachable_before(const fe_recovery *recovery, size_t index)
{
    size_t left = 0;
    for (size_t i = 0; i < recovery->device_count; i++)
        if (i != index && (i < index || !recovery->devices[index].passes_on))
            left++;
    return left;
}

static void add_failure(fe_recovery *recovery, const char *what, const char *name,
                        const char *remedy, bool walk)
{
    if (recovery->failure_count == sizeof recovery->failures / sizeof recovery->failures[0])
        return;
    fe_failure *failure = &recovery->failures[recovery->failure_count++];
    snprintf(failure->what, sizeof failure->what, "%.40s %.36s", name, what);
    failure->remedy = remedy;
    failure->walk = walk;
    recovery->walks += walk ? 1 : 0;
}

static void judge_device(fe_recovery *recovery, size_t index)
{
    fe_device *device = &recovery->devices[index];
    device->cut = cut_of(device);
    device->left = reachable_before(recovery, index);
    device->walk = device->cut == FE_CUT_NOBODY;
    device->cold_start =
        isnan(device->lowest_start_c) || device->lowest_start_c <= device->coldest_c;
    recovery->wants_watchdog = recovery->wants_watchdog || device->walk;
    recovery->walks += device->walk ? 1 : 0;
    if (device->passes_on && !device->at_house)
        add_failure(recovery, "dies", device->name, "a spare of it, set up, on a shelf indoors",
                    true);
    if (!device->cold_start)
        add_failure(recovery, "does not start in the cold", device->name,
                    "a class that starts colder, or a box kept warm by what runs in it",
                    !device->at_house);
}

void fe_recovery_judge(fe_recovery *recovery)
{
    recovery->failure_count = 0;
    recovery->walks = 0;
    recovery->wants_watchdog = false;
    recovery->watchdog = WATCHDOG;
    recovery->restart_s = 0.0;
    for (size_t i = 0; i < recovery->device_count; i++) {
        judge_device(recovery, i);
        recovery->restart_s += recovery->devices[i].passes_on ? BOOT_S : 0.0;
    }
    for (size_t i = 0; i < recovery->device_count; i++)
        if (recovery->devices[i].fed_by == FE_FED_OWN && recovery->devices[i].passes_on)
            add_failure(recovery, "loses its own power", recovery->devices[i].name,
                        "a battery that lasts until somebody comes", true);
}

/* ---- The devices of a result ---- */

/* Kept warm by those who live there (common practice, no source). */
static const double HOUSE_C = 5.0;
/* Plain converters and switches of the shelf; those for cabinets outdoors start at -40. */
static const double PLAIN_SWITCH_C = 0.0;

/* What the list is made from. */
typedef struct device_list {
    const fe_result *result;
    const fe_way *data;
    fe_fed_by far_fed;
    double coldest_c;
    fe_recovery *recovery;
} device_list;

/* A feed or the data cable from the house, else whatever is out there. */
static fe_fed_by fed_out_there(const fe_result *result)
{
    const fe_way_kind kind =
        result->power_way < 0 ? FE_WAY_KINDS : result->ways[result->power_way].kind;
    if (result->plan->ends[result->plan->paths[0].to].mains.value == 1)
        return FE_FED_OWN;
    if (kind == FE_WAY_POE)
        return FE_FED_HOUSE_POE;
    return kind == FE_WAY_FEED ? FE_FED_HOUSE_FEED : FE_FED_OWN;
}

static fe_device *add_device(device_list *list, const char *name, const char *place)
{
    fe_recovery *recovery = list->recovery;
    if (recovery->device_count == FE_RECOVERY_MOST)
        return &recovery->devices[FE_RECOVERY_MOST - 1];
    fe_device *device = &recovery->devices[recovery->device_count++];
    *device = (fe_device){.passes_on = true,
                          .fed_by = FE_FED_HOUSE_OUTLET,
                          .lowest_start_c = (double)NAN,
                          .coldest_c = list->coldest_c};
    snprintf(device->name, sizeof device->name, "%s", name);
    snprintf(device->place, sizeof device->place, "%s", place);
    return device;
}

static void add_indoors(device_list *list, const char *name, const char *house)
{
    fe_device *device = add_device(list, name, house);
    device->at_house = true;
    device->coldest_c = HOUSE_C;
    device->lowest_start_c = PLAIN_SWITCH_C;
}

/* Gear outdoors at the house hangs on a port indoors, gear indoors on a plug. */
static void add_near_gear(device_list *list, const fe_gear *gear, const char *house)
{
    fe_device *device = add_device(list, gear->name, house);
    device->at_house = true;
    device->lowest_start_c = gear->lowest_temp_c;
    if (gear->outdoor && gear->port_bps > 0.0)
        device->fed_by = FE_FED_HOUSE_POE;
    else
        device->coldest_c = HOUSE_C;
}

static void add_far_gear(device_list *list, const fe_gear *gear, const char *far)
{
    fe_device *device = add_device(list, gear->name, far);
    device->fed_by = list->far_fed;
    device->lowest_start_c = gear->lowest_temp_c;
}

static void add_relays(device_list *list, const fe_relay_result *relays, unsigned count)
{
    for (unsigned i = 0; i < count; i++) {
        char place[FE_RECOVERY_NAME_ROOM];
        snprintf(place, sizeof place, "relay %u on the way", i + 1);
        add_far_gear(list, relays->relay_gear, place);
        list->recovery->devices[list->recovery->device_count - 1].fed_by = FE_FED_OWN;
    }
}

static void add_radio(device_list *list, const char *house, const char *far)
{
    const fe_result *result = list->result;
    const bool relayed = list->data->kind == FE_WAY_RELAYS;
    const fe_gear *const *gear = relayed ? result->relays[list->data->index].end_gear
                                         : result->radio[list->data->index].gear;
    add_near_gear(list, gear[0], house);
    if (relayed)
        add_relays(list, &result->relays[list->data->index], list->data->relays);
    add_far_gear(list, gear[1], far);
}

/* Converters at both ends of a fibre or a pair; nothing but a switch on plain copper. */
static void add_cable(device_list *list, const char *house, const char *far)
{
    const bool copper =
        list->data->kind == FE_WAY_COPPER_POSTS || list->data->kind == FE_WAY_COPPER_BURIED;
    const char *name = list->data->kind == FE_WAY_FEED_DATA ? "feed adapter" : "converter";
    if (!copper)
        add_indoors(list, name, house);
    fe_device *device = add_device(list, copper ? "switch" : name, far);
    device->fed_by = list->far_fed;
    device->lowest_start_c = PLAIN_SWITCH_C;
}

/* What the owner has out there and wants to reach; nothing is behind it. */
static void add_loads(device_list *list, const char *far)
{
    const fe_plan *plan = list->result->plan;
    for (size_t i = 0; i < plan->load_count; i++) {
        fe_device *device = add_device(
            list, plan->loads[i].name && *plan->loads[i].name ? plan->loads[i].name : "load",
            far);
        device->passes_on = false;
        device->fed_by = list->far_fed;
    }
}

static void add_failures_of_way(const device_list *list)
{
    fe_recovery *recovery = list->recovery;
    const fe_way *data = list->data;
    if (data->kind == FE_WAY_DIRECTIONAL)
        add_failure(recovery, "is blown out of its aim", "an antenna",
                    "marks on the mount, and the level written down", true);
    if (data->trench_m > 0.0)
        add_failure(recovery, "is cut by a spade", "the cable",
                    "a drawing of the trench, tape above it, a draw cord in the duct", true);
    if (data->posts > 0)
        add_failure(recovery, "comes down in ice or under a tree", "the cable",
                    "slack kept at a post, a look after every ice and gale", true);
    if (list->far_fed == FE_FED_HOUSE_FEED)
        add_failure(recovery, "trips at the far end", "a protective device",
                    "only the one at the house, which is reached from indoors; an electrician "
                    "says whether that may be",
                    true);
}

void fe_recovery_of(const fe_result *result, fe_recovery *recovery)
{
    *recovery = (fe_recovery){.device_count = 0};
    if (result->data_way < 0)
        return;
    const fe_plan *plan = result->plan;
    device_list list = {.result = result,
                        .data = &result->ways[result->data_way],
                        .far_fed = fed_out_there(result),
                        .coldest_c = plan_coldest(plan),
                        .recovery = recovery};
    const char *house = plan->ends[plan->paths[list.data->path].from].name;
    const char *far = plan->ends[plan->paths[list.data->path].to].name;
    add_indoors(&list, "switch or router", house);
    switch (list.data->kind) {
    case FE_WAY_DIRECT:
    case FE_WAY_DIRECTIONAL:
    case FE_WAY_RELAYS:
        add_radio(&list, house, far);
        break;
    default:
        add_cable(&list, house, far);
        break;
    }
    add_loads(&list, far);
    fe_recovery_judge(recovery);
    add_failures_of_way(&list);
}
