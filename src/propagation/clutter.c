/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/clutter.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/knife_edge.h"

/* ITU-R P.2108-1 Table 3. */
static const fe_clutter TYPES[] = {
    /* type,                height m, diffraction */
    {"water", 10.0, false},      {"open_rural", 10.0, false},
    {"suburban", 10.0, true},    {"urban_trees_forest", 15.0, true},
    {"dense_urban", 20.0, true},
};
enum { TYPE_COUNT = sizeof TYPES / sizeof TYPES[0] };

/* Loss of a knife edge at grazing, which the diffraction form is counted from. */
static const double GRAZING_DB = 6.03;

/* P.2108-1 sec 3.2: spread of places at low and high loss, and where the loss stops growing. */
static const double SIGMA_LONG_DB = 4.0;
static const double SIGMA_SHORT_DB = 6.0;
static const double LAST_KM = 2.0;
static const double FIRST_KM = 0.25;

const fe_clutter *fe_clutter_find(const char *type)
{
    for (size_t i = 0; i < TYPE_COUNT; i++)
        if (strcmp(TYPES[i].type, type) == 0)
            return &TYPES[i];
    return NULL;
}

static fe_status stand_loss(const fe_clutter_place *place, double f_ghz, double *loss_db)
{
    double edge_db = 0.0;
    const double above_m = place->clutter_height_m - place->antenna_height_m;
    const double angle_deg = atan(above_m / place->street_width_m) / FE_DEG_RAD;
    const double v = 0.342 * sqrt(f_ghz) * sqrt(above_m * angle_deg);
    const fe_status status = fe_knife_edge_loss_fit(v, &edge_db);
    if (status == FE_OK)
        *loss_db = edge_db - GRAZING_DB;
    return status;
}

static double open_loss_db(const fe_clutter_place *place, double f_ghz)
{
    const double slope = 21.8 + 6.2 * log10(f_ghz);
    return -slope * log10(place->antenna_height_m / place->clutter_height_m);
}

fe_status fe_clutter_height_gain(const fe_clutter_place *place, double f_hz, double *loss_db)
{
    if (!place->clutter || !is_positive(place->clutter_height_m) ||
        !is_positive(place->street_width_m) || !is_positive(place->antenna_height_m) ||
        !is_positive(f_hz))
        return FE_E_DOMAIN;
    const double f_ghz = f_hz / 1e9;
    double found_db = 0.0;
    fe_status status = FE_OK;
    if (place->antenna_height_m < place->clutter_height_m && place->clutter->stands)
        status = stand_loss(place, f_ghz, &found_db);
    else if (place->antenna_height_m < place->clutter_height_m)
        found_db = open_loss_db(place, f_ghz);
    if (status < 0)
        return status;
    *loss_db = found_db;
    return f_ghz < 0.03 || f_ghz > 3.0 ? FE_W_RANGE : FE_OK;
}

static double statistical_db(double f_ghz, double distance_km, double quantile)
{
    const double log_f = log10(f_ghz);
    const double long_db = -2.0 * log10(pow(10.0, -5.0 * log_f - 12.5) + pow(10.0, -16.5));
    const double short_db = 32.98 + 23.9 * log10(distance_km) + 3.0 * log_f;
    const double long_weight = pow(10.0, -0.2 * long_db);
    const double short_weight = pow(10.0, -0.2 * short_db);
    const double weight = long_weight + short_weight;
    const double sigma_db = sqrt((SIGMA_LONG_DB * SIGMA_LONG_DB * long_weight +
                                  SIGMA_SHORT_DB * SIGMA_SHORT_DB * short_weight) /
                                 weight);
    return -5.0 * log10(weight) + sigma_db * quantile;
}

fe_status fe_clutter_statistical(double f_hz, double distance_m, double share, double *loss_db)
{
    if (!is_positive(f_hz) || !is_positive(distance_m) || !(share > 0.0) || !(share < 1.0))
        return FE_E_DOMAIN;
    const double f_ghz = f_hz / 1e9;
    const double distance_km = distance_m / 1000.0;
    const double quantile = gsl_cdf_ugaussian_Pinv(share);
    *loss_db = fmin(statistical_db(f_ghz, distance_km, quantile),
                    statistical_db(f_ghz, LAST_KM, quantile));
    return f_ghz < 0.5 || f_ghz > 67.0 || distance_km < FIRST_KM ? FE_W_RANGE : FE_OK;
}
