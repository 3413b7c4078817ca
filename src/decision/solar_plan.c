/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/solar_plan.h"

#include <math.h>

#include "decision/supply_loads.h"
#include "farend/battery.h"
#include "farend/supply_plan.h"

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
    const fe_status status =
        use->alone ? supply_add_gear(use->alone, beside_m, "the relay", &solar->loads)
                   : supply_add_end(plan, use->path, &solar->loads);
    solar->load_w = solar->energy_per_day_j = 0.0;
    for (size_t i = 0; i < solar->loads.given.load_count; i++) {
        const fe_supply_load *load = &solar->loads.loads[i];
        const double power_w = supply_drawn_w(&solar->loads, load);
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
