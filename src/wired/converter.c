/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/converter.h"

#include <math.h>

#include "base/argument.h"

fe_status fe_converter_efficiency(double power_w, double *efficiency)
{
    if (!is_positive(power_w))
        return FE_E_DOMAIN;
    if (power_w <= 1.0)
        *efficiency = 0.5 * power_w + 0.16;
    else if (power_w <= 49.0)
        *efficiency = 0.071 * log(power_w) - 0.0014 * power_w + 0.67;
    else
        *efficiency = power_w <= 250.0 ? 0.88 : 0.875;
    return FE_OK;
}

double fe_converter_least_v(double source_v, bool is_ac)
{
    return is_ac ? fmin(90.0, source_v) : 0.75 * source_v;
}

double fe_converter_power_factor(double power_w)
{
    return power_w > 75.0 ? 0.9 : 0.6;
}
