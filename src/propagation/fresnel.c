/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/fresnel.h"

#include <math.h>
#include <stdbool.h>

#include "base/argument.h"
#include "farend/constants.h"

/* The closed form drops terms of about n * wavelength / (8 d), which is 1 % here. */
static const double MIN_WAVELENGTHS = 13.0;

fe_status fe_fresnel_radius(unsigned zone, double d1_m, double d2_m, double f_hz,
                            double *radius_m)
{
    /* "Not above zero" rather than "zero or less", so that NaN is refused too. */
    if (zone == 0 || !(d1_m > 0.0) || !(d2_m > 0.0) || !(f_hz > 0.0))
        return FE_E_DOMAIN;
    if (!isfinite(d1_m + d2_m) || !isfinite(f_hz))
        return FE_E_DOMAIN;

    const double n_lambda_m = zone * FE_SPEED_OF_LIGHT_M_S / f_hz;
    *radius_m = sqrt(n_lambda_m * d1_m * (d2_m / (d1_m + d2_m)));
    return fmin(d1_m, d2_m) < MIN_WAVELENGTHS * n_lambda_m ? FE_W_RANGE : FE_OK;
}

fe_status fe_fresnel_clearance_ratio(double clearance_m, double d1_m, double d2_m, double f_hz,
                                     double *ratio)
{
    if (!isfinite(clearance_m))
        return FE_E_DOMAIN;
    double radius_m = 0.0;
    const fe_status status = fe_fresnel_radius(1, d1_m, d2_m, f_hz, &radius_m);
    if (status < 0)
        return status;
    *ratio = clearance_m / radius_m;
    return status;
}

/* Every height finite and every distance beyond the one before it. */
static bool profile_is_usable(const double *d_m, const double *h_m, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(d_m[i]) || !isfinite(h_m[i]) || (i > 0 && !(d_m[i] > d_m[i - 1])))
            return false;
    return n >= 3;
}

static int cheaper_end(double raise1_m, double raise2_m)
{
    if (raise1_m <= 0.0 && raise2_m <= 0.0)
        return 0;
    return raise1_m <= raise2_m ? 1 : 2;
}

fe_status fe_fresnel_walk(const double *d_m, const double *h_m, size_t n, double antenna1_m,
                          double antenna2_m, double ae_m, double f_hz,
                          fe_fresnel_tightest *tightest)
{
    if (!isfinite(antenna1_m) || !isfinite(antenna2_m) || !(ae_m > 0.0) || !is_positive(f_hz) ||
        !profile_is_usable(d_m, h_m, n))
        return FE_E_DOMAIN;

    const double lambda_m = FE_SPEED_OF_LIGHT_M_S / f_hz;
    const double length_m = d_m[n - 1] - d_m[0];
    fe_fresnel_tightest found = {.clearance_ratio = INFINITY};
    for (size_t i = 1; i + 1 < n; i++) {
        const double d1_m = d_m[i] - d_m[0];
        const double d2_m = d_m[n - 1] - d_m[i];
        const double line_m = (antenna1_m * d2_m + antenna2_m * d1_m) / length_m;
        const double clearance_m = line_m - h_m[i] - d1_m * d2_m / (2.0 * ae_m);
        const double radius_m = sqrt(lambda_m * d1_m * d2_m / length_m);
        const double lacking_m = FE_FRESNEL_WANTED_SHARE * radius_m - clearance_m;

        /* Raising one end lifts the line here by the share of the way from the other end. */
        found.raise_end1_m = fmax(found.raise_end1_m, lacking_m * length_m / d2_m);
        found.raise_end2_m = fmax(found.raise_end2_m, lacking_m * length_m / d1_m);
        found.raise_both_m = fmax(found.raise_both_m, lacking_m);
        if (clearance_m < found.clearance_ratio * radius_m) {
            found.index = i;
            found.distance_m = d1_m;
            found.clearance_m = clearance_m;
            found.radius_m = radius_m;
            found.clearance_ratio = clearance_m / radius_m;
        }
    }
    found.cheaper_end = cheaper_end(found.raise_end1_m, found.raise_end2_m);
    *tightest = found;

    const double to_end_m = fmin(found.distance_m, length_m - found.distance_m);
    return to_end_m < MIN_WAVELENGTHS * lambda_m ? FE_W_RANGE : FE_OK;
}
