/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/street.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "base/argument.h"
#include "farend/constants.h"

#define GHZ 1e9

/* ITU-R P.1411-10/-11 sec 4.1.1 Table 4; the upper frequency is 73 or 82 GHz by edition. */
/* clang-format off */
static const fe_street_law LAWS[] = {
    /* environment,                 alpha, beta,  gamma, dB,  from f,     to f,       from, to m */
    {"los_urban_suburban",           2.12, 29.2,  2.11, 5.06, 0.8 * GHZ,  82.0 * GHZ,  5.0, 660.0},
    {"nlos_urban_high_rise",         4.0,  10.2,  2.36, 7.6,  0.8 * GHZ,  82.0 * GHZ, 30.0, 715.0},
    {"nlos_urban_low_rise_suburban", 5.06, -4.68, 2.02, 9.33, 10.0 * GHZ, 73.0 * GHZ, 30.0, 250.0},
    {"nlos_residential",             3.01, 18.8,  2.07, 3.07, 0.8 * GHZ,  73.0 * GHZ, 30.0, 170.0},
};
/* clang-format on */
enum { LAW_COUNT = sizeof LAWS / sizeof LAWS[0] };

/* Normal quantile of 90 %. */
static const double TEN_PERCENT = 1.2815515655446004;

static const double LOW_ANTENNA_TURN_M = 20.0;

const fe_street_law *fe_street_laws(size_t *count)
{
    *count = LAW_COUNT;
    return LAWS;
}

const fe_street_law *fe_street_law_find(const char *environment)
{
    for (size_t i = 0; i < LAW_COUNT; i++)
        if (strcmp(LAWS[i].environment, environment) == 0)
            return &LAWS[i];
    return NULL;
}

fe_status fe_street_site_general(const fe_street_law *law, double f_hz, double distance_m,
                                 fe_street_loss *result)
{
    if (!law || !is_positive(f_hz) || !is_positive(distance_m))
        return FE_E_DOMAIN;
    const double median_db = 10.0 * law->alpha * log10(distance_m) + law->beta +
                             10.0 * law->gamma * log10(f_hz / GHZ);
    const double ten_percent_db = TEN_PERCENT * law->sigma_db;
    *result = (fe_street_loss){
        .median_db = median_db,
        .p10_db = median_db - ten_percent_db,
        .p90_db = median_db + ten_percent_db,
    };
    const bool inside = f_hz >= law->f_low_hz && f_hz <= law->f_high_hz &&
                        distance_m >= law->d_low_m && distance_m <= law->d_high_m;
    return inside ? FE_OK : FE_W_RANGE;
}

fe_status fe_street_breakpoint_bounds(double f_hz, double distance_m, double height1_m,
                                      double height2_m, fe_street_bounds *result)
{
    if (!is_positive(f_hz) || !is_positive(distance_m) || !is_positive(height1_m) ||
        !is_positive(height2_m))
        return FE_E_DOMAIN;
    const double wavelength_m = FE_SPEED_OF_LIGHT_M_S / f_hz;
    const double heights_m2 = height1_m * height2_m;
    const double breakpoint_m = 4.0 * heights_m2 / wavelength_m;
    const double loss_db =
        fabs(20.0 * log10(wavelength_m * wavelength_m / (8.0 * FE_PI * heights_m2)));
    const double decades = log10(distance_m / breakpoint_m);
    const bool near = decades <= 0.0;
    *result = (fe_street_bounds){
        .breakpoint_m = breakpoint_m,
        .loss_breakpoint_db = loss_db,
        .lower_db = loss_db + (near ? 20.0 : 40.0) * decades,
        .upper_db = loss_db + 20.0 + (near ? 25.0 : 40.0) * decades,
    };
    return f_hz < 0.3 * GHZ || f_hz > 3.0 * GHZ ? FE_W_RANGE : FE_OK;
}

fe_status fe_street_low_antennas(double f_hz, double distance_m, fe_street_bounds *result)
{
    if (!is_positive(f_hz) || !is_positive(distance_m))
        return FE_E_DOMAIN;
    const double wavelength_m = FE_SPEED_OF_LIGHT_M_S / f_hz;
    const double loss_db =
        fabs(20.0 * log10(wavelength_m / (2.0 * FE_PI * LOW_ANTENNA_TURN_M)));
    const double decades = log10(distance_m / LOW_ANTENNA_TURN_M);
    const double slope = decades <= 0.0 ? 20.0 : 30.0;
    *result = (fe_street_bounds){
        .breakpoint_m = LOW_ANTENNA_TURN_M,
        .loss_breakpoint_db = loss_db,
        .lower_db = loss_db + slope * decades,
        .upper_db = loss_db + 20.0 + slope * decades,
    };
    return f_hz < 3.0 * GHZ || f_hz > 15.0 * GHZ ? FE_W_RANGE : FE_OK;
}
