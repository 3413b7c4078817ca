/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/earth.h"

#include <math.h>

#include "farend/constants.h"

/* Fall of refractivity that bends a ray exactly as the ground curves: 10^6 over 6371 km. */
static const double DUCT_LAPSE_N_PER_KM = 157.0;

fe_status fe_effective_earth_radius(double lapse_n_per_km, fe_effective_earth *earth)
{
    /* "Not below" rather than "at or above", so that NaN is refused too. */
    if (!(lapse_n_per_km < DUCT_LAPSE_N_PER_KM) || !isfinite(lapse_n_per_km))
        return FE_E_DOMAIN;

    const double k_factor = DUCT_LAPSE_N_PER_KM / (DUCT_LAPSE_N_PER_KM - lapse_n_per_km);
    earth->k_factor = k_factor;
    earth->ae_m = k_factor * FE_EARTH_RADIUS_M;
    return lapse_n_per_km < 0.0 ? FE_W_RANGE : FE_OK;
}
