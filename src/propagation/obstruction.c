/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/obstruction.h"

#include <math.h>

#include "base/argument.h"

static const double STATED_FROM_DB = 15.0;

fe_status fe_terrain_obstruction_loss(double clearance_m, double d1_m, double d2_m, double f_hz,
                                      fe_obstruction *result)
{
    if (!is_positive(d1_m) || !is_positive(d2_m) || !is_positive(f_hz) ||
        !isfinite(d1_m + d2_m) || !isfinite(clearance_m))
        return FE_E_DOMAIN;

    /* The source's km and GHz: its 17.3 is 0.08 % under the exact radius, which its own loss
     * carries along, so fe_fresnel_radius would miss the published values by 0.02 dB. */
    const double d_km = 1e-3 * d1_m * (d2_m / (d1_m + d2_m));
    result->radius_m = 17.3 * sqrt(d_km / (1e-9 * f_hz));
    result->loss_db = 10.0 - 20.0 * clearance_m / result->radius_m;
    return result->loss_db < STATED_FROM_DB ? FE_W_RANGE : FE_OK;
}
