/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/prices.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/conductor.h"
#include "farend/constants.h"

static const fe_part_row ROWS[FE_PARTS] = {
    [FE_PART_GEAR] = {NULL, false, FE_SIZE_NONE},
    [FE_PART_DATA_CABLE] = {NULL, true, FE_SIZE_NONE},
    [FE_PART_SUPPLY_CABLE] = {"supply-cable", true, FE_SIZE_WIRE},
    [FE_PART_TRENCH] = {"trench", true, FE_SIZE_NONE},
    [FE_PART_DUCT] = {"duct", true, FE_SIZE_INSIDE},
    [FE_PART_DRAW_CORD] = {"draw-cord", true, FE_SIZE_NONE},
    [FE_PART_DUCT_BEND] = {"duct-bend", false, FE_SIZE_INSIDE},
    [FE_PART_DUCT_SEAL] = {"duct-seal", false, FE_SIZE_INSIDE},
    [FE_PART_SAND] = {"sand", true, FE_SIZE_NONE},
    [FE_PART_WARNING_TAPE] = {"warning-tape", true, FE_SIZE_NONE},
    [FE_PART_POST] = {"post", false, FE_SIZE_LENGTH},
    [FE_PART_STAY] = {"stay", false, FE_SIZE_NONE},
    [FE_PART_GRIP] = {"fitting", false, FE_SIZE_NONE},
    [FE_PART_SLIDE] = {"fitting", false, FE_SIZE_NONE},
    [FE_PART_BOLT] = {"fitting", false, FE_SIZE_NONE},
    [FE_PART_MESSENGER] = {"messenger", true, FE_SIZE_NONE},
    [FE_PART_WALL_CLIPS] = {"wall-clips", false, FE_SIZE_NONE},
    [FE_PART_SLEEVE] = {"sleeve", false, FE_SIZE_NONE},
    [FE_PART_GLAND] = {"gland", false, FE_SIZE_NONE},
    [FE_PART_LABEL] = {"label", false, FE_SIZE_NONE},
    [FE_PART_SOCKET] = {"socket", false, FE_SIZE_NONE},
    [FE_PART_SOCKET_TOOL] = {"socket-tool", false, FE_SIZE_NONE},
    [FE_PART_CORD] = {"cord", false, FE_SIZE_NONE},
    [FE_PART_SWITCH] = {"switch", false, FE_SIZE_PORTS},
    [FE_PART_DATA_ARRESTER] = {"arrester", false, FE_SIZE_NONE},
    [FE_PART_PAIRS_SOURCE] = {"pairs-source", false, FE_SIZE_NONE},
    [FE_PART_SPLITTER] = {"splitter", false, FE_SIZE_NONE},
    [FE_PART_OPTICS] = {"converter", false, FE_SIZE_NONE},
    [FE_PART_SPLICE_BOX] = {"splice-box", false, FE_SIZE_NONE},
    [FE_PART_PIGTAIL] = {"pigtail", false, FE_SIZE_NONE},
    [FE_PART_SPLICE] = {"splice", false, FE_SIZE_NONE},
    [FE_PART_SPLICER] = {"splicer", false, FE_SIZE_NONE},
    [FE_PART_PAIR_CONVERTER] = {"converter", false, FE_SIZE_NONE},
    [FE_PART_PAIR_BOX] = {"pair-box", false, FE_SIZE_NONE},
    [FE_PART_FEED_ADAPTER] = {"feed-adapter", false, FE_SIZE_NONE},
    [FE_PART_BREAKER] = {"breaker", false, FE_SIZE_NONE},
    [FE_PART_RESIDUAL] = {"residual-current-device", false, FE_SIZE_NONE},
    [FE_PART_BOARD] = {"board", false, FE_SIZE_NONE},
    [FE_PART_ELECTRODE] = {"electrode", false, FE_SIZE_NONE},
    [FE_PART_SUPPLY_ARRESTER] = {"arrester", false, FE_SIZE_NONE},
    [FE_PART_SUPPLY] = {"power-supply", false, FE_SIZE_NONE},
    [FE_PART_BATTERY] = {"battery", false, FE_SIZE_NONE},
    [FE_PART_CHARGER] = {"charger", false, FE_SIZE_NONE},
    [FE_PART_FUSE] = {"fuse", false, FE_SIZE_NONE},
    [FE_PART_DC_SWITCH] = {"dc-switch", false, FE_SIZE_NONE},
    [FE_PART_CONVERTER] = {"converter", false, FE_SIZE_NONE},
    [FE_PART_INJECTOR] = {"injector", false, FE_SIZE_NONE},
    [FE_PART_BRANCH_BOX] = {"branch-box", false, FE_SIZE_NONE},
    [FE_PART_LUG] = {"lug", false, FE_SIZE_NONE},
    [FE_PART_TERMINAL] = {"terminal", false, FE_SIZE_NONE},
    [FE_PART_CRIMPER] = {"crimping-tool", false, FE_SIZE_NONE},
    [FE_PART_PANEL] = {"panel", false, FE_SIZE_NONE},
    [FE_PART_PANEL_CABLES] = {"panel-cables", false, FE_SIZE_NONE},
    [FE_PART_BRACKET] = {"bracket", false, FE_SIZE_NONE},
    [FE_PART_MAST] = {"mast", false, FE_SIZE_LENGTH},
    [FE_PART_EARTH_WIRE] = {"earth-wire", true, FE_SIZE_NONE},
    [FE_PART_FEEDER] = {"feeder", true, FE_SIZE_NONE},
    [FE_PART_PLUG] = {"plug", false, FE_SIZE_NONE},
    [FE_PART_RELAY_BOX] = {"relay-box", false, FE_SIZE_NONE},
};

const fe_part_row *fe_part_row_of(fe_part_kind kind)
{
    return (unsigned)kind < FE_PARTS ? &ROWS[kind] : NULL;
}

/* ---- What has a price ---- */

bool fe_price_thing(const fe_plan *plan, const char *thing, fe_part_row *sold)
{
    for (size_t i = 0; i < FE_PARTS; i++)
        if (ROWS[i].word && strcmp(ROWS[i].word, thing) == 0) {
            *sold = ROWS[i];
            return true;
        }
    if (fe_plan_gear(plan, thing)) {
        *sold = ROWS[FE_PART_GEAR];
        return true;
    }
    const fe_cable_class *cable = fe_plan_cable_class(plan, thing);
    if (!cable)
        return false;
    *sold = ROWS[FE_PART_DATA_CABLE];
    if (cable->medium == FE_MEDIUM_FIBRE)
        sold->size = FE_SIZE_FIBRES;
    return true;
}

/* ---- Looking a price up ---- */

/* Between an inch size and the metric one that goes for it. */
static const double SAME_SIZE = 0.02;

static bool is_same_size(double a, double b)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) <= SAME_SIZE * fmax(a, b);
}

const fe_plan_price *fe_price_of_size(const fe_plan *plan, const char *thing, double size)
{
    const fe_plan_price *nearest = NULL;
    for (size_t i = 0; i < plan->prices.count; i++) {
        const fe_plan_price *price = &plan->prices.items[i];
        if (strcmp(price->thing, thing) != 0 || !is_same_size(price->size, size))
            continue;
        if (!nearest || fabs(price->size - size) < fabs(nearest->size - size))
            nearest = price;
    }
    return nearest;
}

const fe_plan_price *fe_price_of(const fe_plan *plan, const char *thing, double size)
{
    const fe_plan_price *price = fe_price_of_size(plan, thing, size);
    return price ? price : fe_price_of_size(plan, thing, (double)NAN);
}

double fe_price_amount(const fe_plan_price *price, bool per_m)
{
    if (!price)
        return (double)NAN;
    return per_m ? price->per_m : price->each;
}

/* ---- How it is written ---- */

static void put_wire(const char *thing, double area_m2, char room[FE_PRICE_KEY_ROOM])
{
    const fe_wire_size *sold = fe_wire_size_find(area_m2);
    if (sold)
        snprintf(room, FE_PRICE_KEY_ROOM, "%s %s", thing, sold->name);
    else
        snprintf(room, FE_PRICE_KEY_ROOM, "%s %.4g mm2", thing, 1e6 * area_m2);
}

const char *fe_price_key(const char *thing, fe_part_size kind, double size, bool us,
                         char room[FE_PRICE_KEY_ROOM])
{
    static const struct {
        double unit[2]; /* SI value of one, elsewhere and in the US */
        const char *name[2];
    } UNITS[FE_SIZES] = {
        [FE_SIZE_INSIDE] = {{1e-3, FE_INCH_M}, {"mm", "in"}},
        [FE_SIZE_LENGTH] = {{1.0, FE_FOOT_M}, {"m", "ft"}},
        [FE_SIZE_PORTS] = {{1.0, 1.0}, {"ports", "ports"}},
        [FE_SIZE_FIBRES] = {{1.0, 1.0}, {"fibres", "fibres"}},
    };
    if (kind == FE_SIZE_WIRE && isfinite(size))
        put_wire(thing, size, room);
    else if (kind == FE_SIZE_NONE || !isfinite(size))
        snprintf(room, FE_PRICE_KEY_ROOM, "%s", thing);
    else
        snprintf(room, FE_PRICE_KEY_ROOM, "%s %.4g %s", thing, size / UNITS[kind].unit[us],
                 UNITS[kind].name[us]);
    return room;
}

/* ---- Sizes that are sold ---- */

double fe_sold_duct(bool us, unsigned index)
{
    static const double METRIC_M[] = {0.020, 0.025, 0.032, 0.040, 0.050, 0.063, 0.075, 0.100};
    static const double INCHES[] = {0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0};
    static const unsigned COUNT = sizeof METRIC_M / sizeof METRIC_M[0];
    if (index >= COUNT)
        return (double)NAN;
    return us ? FE_INCH_M * INCHES[index] : METRIC_M[index];
}

double fe_sold_switch(unsigned index)
{
    static const double PORTS[] = {5.0, 8.0, 16.0, 24.0, 48.0};
    return index < sizeof PORTS / sizeof PORTS[0] ? PORTS[index] : (double)NAN;
}

double fe_sold_post_after(bool us, double length_m)
{
    static const double FEET[] = {8.0,  10.0, 12.0, 14.0, 16.0, 18.0, 20.0,
                                  25.0, 30.0, 35.0, 40.0, 45.0, 50.0};
    if (!us)
        return length_m + 1.0;
    for (size_t i = 0; i < sizeof FEET / sizeof FEET[0]; i++)
        if (FE_FOOT_M * FEET[i] > length_m + 0.01)
            return FE_FOOT_M * FEET[i];
    return (double)NAN;
}
