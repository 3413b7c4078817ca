/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/strike.h"

#include "base/argument.h"

/* IEC 62305-2:2010: width of the strips that collect strikes to a line and beside it. */
static const double DIRECT_WIDTH_M = 40.0;
static const double NEARBY_WIDTH_M = 4000.0;

fe_status fe_strike_rate(double length_m, double density_per_m2_s, double line_factor,
                         double *direct_per_s, double *nearby_per_s)
{
    if (!is_positive(length_m) || !is_at_least_zero(density_per_m2_s) ||
        !is_fraction(line_factor))
        return FE_E_DOMAIN;
    const double per_m_s = line_factor * density_per_m2_s * length_m;
    *direct_per_s = DIRECT_WIDTH_M * per_m_s;
    *nearby_per_s = NEARBY_WIDTH_M * per_m_s;
    return FE_OK;
}
