/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a way is made of, what that costs, and what to beware of. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "decision/decide.h"
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

static unsigned hazards_of(const fe_result *result, const fe_way *way)
{
    switch (way->kind) {
    case FE_WAY_DIRECT:
    case FE_WAY_DIRECTIONAL:
        return radio_hazards(&result->radio[way->index]);
    case FE_WAY_RELAYS:
        return FE_HAZARD_RADIO_RULES | FE_HAZARD_HEIGHT;
    case FE_WAY_COPPER_POSTS:
    case FE_WAY_COPPER_BURIED:
    case FE_WAY_FIBRE_POSTS:
    case FE_WAY_FIBRE_BURIED:
    case FE_WAY_SINGLE_PAIR:
    case FE_WAY_POE:
        return cable_hazards(&result->channels[way->index]);
    case FE_WAY_FEED_DATA:
        return FE_HAZARD_MAINS;
    case FE_WAY_FEED: {
        const fe_plan_source *source = &result->feeds[way->index].source;
        const bool mains = source->ac && source->volt > 50.0;
        return FE_HAZARD_DIGGING | FE_HAZARD_LIGHTNING |
               (mains ? FE_HAZARD_MAINS : FE_HAZARD_BATTERY);
    }
    case FE_WAY_SOLAR:
        return FE_HAZARD_BATTERY;
    case FE_WAY_KINDS:
        break;
    }
    return 0;
}

/* ---- Parts ---- */

const fe_plan_price *decide_price(const fe_plan *plan, const char *thing)
{
    for (size_t i = 0; i < plan->prices.count; i++)
        if (strcmp(plan->prices.items[i].thing, thing) == 0)
            return &plan->prices.items[i];
    return NULL;
}

static unsigned owned_of(const fe_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->owned_count; i++)
        if (strcmp(plan->owned[i].gear, name) == 0)
            return plan->owned[i].count;
    return 0;
}

/* A part, its cost by the plan's prices; what is owned costs nothing. */
static void add_part(const fe_plan *plan, fe_way *way, const char *name, double count,
                     double length_m)
{
    if (way->part_count == FE_WAY_MOST_PARTS)
        return;
    fe_way_part *part = &way->parts[way->part_count++];
    *part = (fe_way_part){.count = count, .length_m = length_m, .cost = (double)NAN};
    snprintf(part->name, sizeof part->name, "%s", name);
    if (!isnan(count)) {
        part->owned = owned_of(plan, name);
        if ((double)part->owned > count)
            part->owned = (unsigned)count;
    }
    const fe_plan_price *price = decide_price(plan, name);
    const double buy = isnan(count) ? length_m : count - part->owned;
    if (price)
        part->cost = buy * (isnan(count) ? price->per_m : price->each);
    else if (buy == 0.0)
        part->cost = 0.0;
}

static void add_count(const fe_plan *plan, fe_way *way, const char *name, double count)
{
    add_part(plan, way, name, count, (double)NAN);
}

static void add_length(const fe_plan *plan, fe_way *way, const char *name, double length_m)
{
    add_part(plan, way, name, (double)NAN, length_m);
}

static void add_pair(const fe_plan *plan, fe_way *way, const fe_gear *const gear[2],
                     unsigned relays, const fe_gear *relay)
{
    /* One class may stand at several places; it is one part then, since owned ones are shared.
     */
    const fe_gear *const all[] = {gear[0], gear[1], relays > 0 ? relay : NULL};
    const double counts[] = {1.0, 1.0, relays};
    for (size_t i = 0; i < 3; i++) {
        double count = 0.0;
        bool before = false;
        for (size_t k = 0; k < 3 && all[i]; k++)
            if (all[k] == all[i]) {
                count += counts[k];
                before = before || k < i;
            }
        if (all[i] && !before)
            add_count(plan, way, all[i]->name, count);
    }
}

static void add_trench(const fe_plan *plan, fe_way *way)
{
    if (!(way->trench_m > 0.0))
        return;
    add_length(plan, way, "trench", way->trench_m);
    if (plan->trench.duct_m.given != FE_GIVEN_NOT)
        add_length(plan, way, "duct", way->trench_m * (1.0 + plan->spare.ducts.typical));
}

static void add_cable(const fe_result *result, fe_way *way)
{
    const fe_plan *plan = result->plan;
    const fe_channel_result *channel = &result->channels[way->index];
    const fe_posts_result *hung = fe_result_hung(result, channel);
    add_length(plan, way, channel->cable->name, channel->length_m - channel->cords_m);
    if (hung) {
        add_count(plan, way, "post", way->posts);
        if (hung->buy.messenger_m > 0.0)
            add_length(plan, way, "messenger", hung->buy.messenger_m);
        if (hung->hardware.stays > 0)
            add_count(plan, way, "stay", (double)hung->hardware.stays);
        add_count(
            plan, way, "fitting",
            (double)(hung->hardware.grips + hung->hardware.slides + hung->hardware.bolts));
    }
    add_trench(plan, way);
    if (channel->fibre)
        add_count(plan, way, "fibre converter", 2.0);
    if (way->kind == FE_WAY_SINGLE_PAIR)
        add_count(plan, way, "single-pair converter", 2.0);
    if (channel->cable->metallic)
        add_count(plan, way, "surge arrester", 2.0);
}

static void add_parts(const fe_result *result, fe_way *way)
{
    const fe_plan *plan = result->plan;
    switch (way->kind) {
    case FE_WAY_DIRECT:
    case FE_WAY_DIRECTIONAL:
        add_pair(plan, way, result->radio[way->index].gear, 0, NULL);
        return;
    case FE_WAY_RELAYS:
        add_pair(plan, way, result->relays[way->index].end_gear, way->relays,
                 result->relays[way->index].relay_gear);
        return;
    case FE_WAY_COPPER_POSTS:
    case FE_WAY_COPPER_BURIED:
    case FE_WAY_FIBRE_POSTS:
    case FE_WAY_FIBRE_BURIED:
    case FE_WAY_SINGLE_PAIR:
        add_cable(result, way);
        return;
    case FE_WAY_FEED_DATA:
        add_count(plan, way, "feed adapter", 2.0);
        return;
    case FE_WAY_FEED:
        add_length(plan, way, "supply cable", result->feeds[way->index].length_m);
        add_trench(plan, way);
        return;
    case FE_WAY_SOLAR:
        add_count(plan, way, "panel", 1.0);
        add_count(plan, way, "battery", 1.0);
        return;
    case FE_WAY_POE:
        add_count(plan, way, "port that powers", 1.0);
        return;
    case FE_WAY_KINDS:
        return;
    }
}

/* ---- Lightning ---- */

/* A line in the ground takes half of what one in the air does: IEC 62305-2:2010 table A.2
 * (from memory). */
static const double BURIED_FACTOR = 0.5;

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
                       hung ? 1.0 : BURIED_FACTOR, &direct_per_s, &nearby_per_s) < 0)
        return;
    way->struck_per_year = direct_per_s * FE_YEAR_S;
    way->near_per_year = nearby_per_s * FE_YEAR_S;
}

void decide_parts(const fe_result *result, fe_way *way)
{
    double cost = 0.0;
    size_t priced = 0;
    way->hazards = hazards_of(result, way);
    put_strikes(result, way);
    add_parts(result, way);
    for (size_t i = 0; i < way->part_count; i++) {
        const bool known = isfinite(way->parts[i].cost);
        priced += known ? 1 : 0;
        cost += known ? way->parts[i].cost : 0.0;
    }
    if (!result->plan->prices.given || priced == 0)
        return;
    way->cost = cost;
    way->unpriced = (unsigned)(way->part_count - priced);
}
