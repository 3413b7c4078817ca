/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/battery.h"

#include "base/argument.h"

static const double DAY_S = 86400.0;

fe_status fe_battery_energy(const fe_battery_need *need, double *energy_j)
{
    if (!is_positive(need->energy_per_day_j) || !is_positive(need->days) ||
        !is_fraction(need->depth) || !is_fraction(need->efficiency) ||
        !is_fraction(need->cold_part))
        return FE_E_DOMAIN;
    *energy_j = need->energy_per_day_j * need->days /
                (need->depth * need->efficiency * need->cold_part);
    return FE_OK;
}

fe_status fe_battery_charge(double energy_j, double nominal_v, double *charge_c)
{
    if (!is_positive(energy_j) || !is_positive(nominal_v))
        return FE_E_DOMAIN;
    *charge_c = energy_j / nominal_v;
    return FE_OK;
}

fe_status fe_panel_power(double energy_per_day_j, double sun_s, double efficiency,
                         double *power_w)
{
    if (!is_positive(energy_per_day_j) || !is_positive(sun_s) || !(sun_s <= DAY_S) ||
        !is_fraction(efficiency))
        return FE_E_DOMAIN;
    *power_w = energy_per_day_j / (sun_s * efficiency);
    return FE_OK;
}
