/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_BATTERY_H
#define FAREND_BATTERY_H

#include "farend/status.h"

/*
 * First sizing of a battery and a panel; a maker's sheet must follow. Every function returns
 * FE_OK, or FE_E_DOMAIN where an argument is not finite or out of its range, with its output
 * untouched. Source: common practice, no source.
 */

typedef struct fe_battery_need {
    double energy_per_day_j; /* at the load, > 0 */
    double days;             /* without sun, > 0 */
    double depth;            /* part of the battery that may be used, > 0 to 1 */
    double efficiency;       /* battery and converter to the load, > 0 to 1 */
    double cold_part;        /* part of the capacity left in the coldest season, > 0 to 1 */
} fe_battery_need;

/*
 * Nominal energy of the battery: day * days / (depth * efficiency * cold part).
 */
FE_MUST_CHECK fe_status fe_battery_energy(const fe_battery_need *need, double *energy_j);

/* Charge of a battery of that energy (> 0) at its nominal voltage (> 0), in coulombs. */
FE_MUST_CHECK fe_status fe_battery_charge(double energy_j, double nominal_v, double *charge_c);

/*
 * Panel that restores a day's energy in the worst month: day / (sun time * efficiency), the sun
 * time being hours of full sun (1 kW/m2) as climate tables give them.
 *   sun_s       a day, > 0 to 86400
 *   efficiency  panel to load: dirt, heat, controller, battery; > 0 to 1
 */
FE_MUST_CHECK fe_status fe_panel_power(double energy_per_day_j, double sun_s, double efficiency,
                                       double *power_w);

#endif
