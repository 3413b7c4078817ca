/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SOLAR_PLAN_H
#define FAREND_SOLAR_PLAN_H

#include <stdbool.h>

#include "farend/plan.h"
#include "farend/status.h"
#include "farend/supply.h"

/*
 * A battery and a panel at the far end in place of a feed: a first sizing out of the plan's
 * loads, its [solar] section and its coldest season. The likely values of ranges decide; both
 * ends are computed too.
 */
typedef struct fe_solar {
    fe_supply_entry loads; /* at the battery; its results are not filled */
    double load_w;         /* all of them at once, converters and growth included */
    double energy_per_day_j;
    double battery_v; /* nominal */
    double coldest_c;
    double cold_part; /* of the capacity left in that cold */
    double sun_s;     /* full sun a day in the worst month */
    double dark_days;
    double discharge;      /* part of the battery that may be used */
    bool assumed;          /* the plan has no [solar]: a dull winter's values */
    double battery_j;      /* nominal energy */
    double battery_c;      /* the same as a charge at battery_v */
    double panel_w;        /* nominal */
    double charger_a;      /* of the charge controller, a quarter in reserve */
    double battery_hard_j; /* at the hard end of the plan's ranges... */
    double panel_hard_w;
    double battery_easy_j; /* ...and at the easy end */
    double panel_easy_w;
} fe_solar;

/*
 * FE_OK
 * FE_E_NO_SOLUTION  there is nothing to run: fe_supply_is_asked
 * FE_E_DOMAIN       a value that the plan reader should have refused
 * Source: those of farend/battery.h; a battery keeps all of its capacity at 20 degC and half of
 * it at -30; 85 % from battery to load, 65 % from panel to load; 12 V to 1 kWh a day, 24 V to
 * 4 kWh, 48 V above: common practice, no source.
 */
FE_MUST_CHECK fe_status fe_solar_from_plan(const fe_plan *plan, size_t path, fe_solar *solar);
/* The same for one piece of gear that stands alone, such as a relay on the way. */
FE_MUST_CHECK fe_status fe_solar_for_gear(const fe_plan *plan, const fe_gear *gear,
                                          fe_solar *solar);

#endif
