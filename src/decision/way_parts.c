/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a way is made of, what that costs, and what to beware of. */
#include <math.h>

#include "decision/decide.h"
#include "decision/part_list.h"
#include "farend/quantity.h"
#include "farend/strike.h"

/* ---- Hazards ---- */

const char *fe_hazard_name(unsigned bit)
{
    static const char *const NAMES[FE_HAZARDS] = {
        "mains voltage",    "fire from a battery", "lightning and earth between buildings",
        "work at a height", "a post that falls",   "digging into buried services",
        "radio rules",
    };
    return bit < FE_HAZARDS ? NAMES[bit] : "";
}

/* Above a head no antenna is reached from the ground (common practice, no source). */
static const double REACH_M = 2.2;

static unsigned radio_hazards(const fe_radio_result *radio)
{
    const bool high = (radio->mount[0] == FE_MOUNT_OUTDOORS && radio->height_m[0] > REACH_M) ||
                      (radio->mount[1] == FE_MOUNT_OUTDOORS && radio->height_m[1] > REACH_M);
    return FE_HAZARD_RADIO_RULES | (high ? FE_HAZARD_HEIGHT : 0u);
}

static unsigned cable_hazards(const fe_channel_result *channel)
{
    const unsigned metal = channel->cable->metallic ? FE_HAZARD_LIGHTNING : 0u;
    return metal | FE_HAZARD_DIGGING |
           (channel->overhead ? FE_HAZARD_HEIGHT | FE_HAZARD_FALLING_POST : 0u);
}

static bool has_battery(const fe_part_list *parts)
{
    for (size_t i = 0; i < parts->count; i++)
        if (parts->items[i].kind == FE_PART_BATTERY)
            return true;
    return false;
}

static unsigned hazards_of(const fe_result *result, const fe_way *way)
{
    switch (way->kind) {
    case FE_WAY_DIRECT:
    case FE_WAY_DIRECTIONAL:
        return radio_hazards(&result->radio[way->index]);
    case FE_WAY_RELAYS:
        return FE_HAZARD_RADIO_RULES | FE_HAZARD_HEIGHT | FE_HAZARD_FALLING_POST |
               FE_HAZARD_DIGGING | (has_battery(&way->parts) ? FE_HAZARD_BATTERY : 0u);
    case FE_WAY_COPPER_POSTS:
    case FE_WAY_COPPER_BURIED:
    case FE_WAY_FIBRE_POSTS:
    case FE_WAY_FIBRE_BURIED:
    case FE_WAY_SINGLE_PAIR:
    case FE_WAY_POE:
        return cable_hazards(&result->channels[way->index]);
    case FE_WAY_FEED_DATA:
        return FE_HAZARD_MAINS;
    case FE_WAY_FEED:
        return FE_HAZARD_DIGGING | FE_HAZARD_LIGHTNING |
               (fe_feed_is_mains(&result->feeds[way->index]) ? FE_HAZARD_MAINS
                                                             : FE_HAZARD_BATTERY);
    case FE_WAY_SOLAR:
        return FE_HAZARD_BATTERY;
    case FE_WAY_KINDS:
        break;
    }
    return 0;
}

/* ---- Parts ---- */

static fe_status parts_of_feed_data(const fe_plan *plan, size_t path, fe_part_list *list)
{
    part_maker maker = {.plan = plan};
    part_add_count(&maker, FE_PART_FEED_ADAPTER, FE_USE_PLAIN, 2.0);
    part_add_switch(&maker, path, false);
    return part_finish(&maker, list);
}

static fe_status parts_of(const fe_result *result, const fe_way *way, fe_part_list *list)
{
    const fe_plan *plan = result->plan;
    switch (way->kind) {
    case FE_WAY_DIRECT:
    case FE_WAY_DIRECTIONAL:
    case FE_WAY_RELAYS:
        return fe_parts_of_radio(result, way, list);
    case FE_WAY_COPPER_POSTS:
    case FE_WAY_COPPER_BURIED:
    case FE_WAY_FIBRE_POSTS:
    case FE_WAY_FIBRE_BURIED:
    case FE_WAY_SINGLE_PAIR:
        return fe_parts_of_cable(result, &result->channels[way->index], list);
    case FE_WAY_FEED_DATA:
        return parts_of_feed_data(plan, way->path, list);
    case FE_WAY_FEED:
        return fe_parts_of_feed(plan, result->feeds[way->index].entry, list);
    case FE_WAY_SOLAR:
        return fe_parts_of_solar(plan, result->solars[way->index].sized, list);
    case FE_WAY_POE:
        return fe_parts_of_pairs(plan, list);
    case FE_WAY_KINDS:
        break;
    }
    return FE_E_DOMAIN;
}

fe_status fe_parts_of_pair(const fe_result *result, const fe_way *way, const fe_way *other,
                           fe_part_list *list)
{
    part_maker maker = {.plan = result->plan};
    part_add_list(&maker, &way->parts, false);
    if (other)
        part_add_list(&maker, &other->parts, fe_way_share_trench(way, other));
    return part_finish(&maker, list);
}

/* ---- Lightning ---- */

static double line_length(const fe_result *result, const fe_way *way)
{
    if (way->kind == FE_WAY_FEED)
        return result->feeds[way->index].length_m;
    return result->channels[way->index].route_m;
}

static void put_strikes(const fe_result *result, fe_way *way)
{
    double direct_per_s = 0.0;
    double nearby_per_s = 0.0;
    if (!(way->hazards & FE_HAZARD_LIGHTNING))
        return;
    const bool hung = (way->hazards & FE_HAZARD_FALLING_POST) != 0;
    if (fe_strike_rate(line_length(result, way), result->plan->site.flash_density.typical,
                       hung ? 1.0 : FE_STRIKE_BURIED, &direct_per_s, &nearby_per_s) < 0)
        return;
    way->struck_per_year = direct_per_s * FE_YEAR_S;
    way->near_per_year = nearby_per_s * FE_YEAR_S;
}

fe_status decide_parts(const fe_result *result, fe_way *way)
{
    const fe_status status = parts_of(result, way, &way->parts);
    way->hazards = hazards_of(result, way);
    put_strikes(result, way);
    return status;
}
