/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/entry_loss.h"

#include <math.h>

#include <gsl/gsl_cdf.h>

#include "base/argument.h"
#include "base/name.h"
#include "farend/constants.h"

/* ITU-R P.2109-1 Table 1. */
static const fe_entry_building BUILDINGS[] = {
    /* name                  r      s     t     u     v    w     x     y    z */
    {"traditional", 12.64, 3.72, 0.96, 9.6, 2.0, 9.1, -3.0, 4.5, -2.0},
    {"thermally_efficient", 28.19, -3.0, 8.48, 13.5, 3.8, 27.8, -2.9, 9.4, -2.1},
};
enum { BUILDING_COUNT = sizeof BUILDINGS / sizeof *BUILDINGS };

static const double F_LOW_GHZ = 0.08;
static const double F_HIGH_GHZ = 100.0;

const fe_entry_building *fe_entry_building_find(const char *name)
{
    for (size_t i = 0; i < BUILDING_COUNT; i++)
        if (name_same(name, BUILDINGS[i].name))
            return &BUILDINGS[i];
    return NULL;
}

static double power_of(double loss_db)
{
    return pow(10.0, 0.1 * loss_db);
}

fe_status fe_entry_loss(const fe_entry_building *building, double f_hz, double elevation_rad,
                        double probability, double *loss_db)
{
    if (!building || !is_positive(f_hz) || !(fabs(elevation_rad) <= FE_PI / 2.0) ||
        !(probability > 0.0 && probability < 1.0))
        return FE_E_DOMAIN;

    const double f_ghz = f_hz / 1e9;
    const double log_f = log10(f_ghz);
    const double horizontal_db =
        building->r + building->s * log_f + building->t * log_f * log_f;
    const double elevation_db = 0.212 * fabs(elevation_rad) / FE_DEG_RAD;
    const double mean1_db = horizontal_db + elevation_db;
    const double sigma1_db = building->u + building->v * log_f;
    const double mean2_db = building->w + building->x * log_f;
    const double sigma2_db = building->y + building->z * log_f;
    const double normal = gsl_cdf_ugaussian_Pinv(probability);

    const double a_db = normal * sigma1_db + mean1_db;
    const double b_db = normal * sigma2_db + mean2_db;
    const double c_db = -3.0;
    *loss_db = 10.0 * log10(power_of(a_db) + power_of(b_db) + power_of(c_db));
    return f_ghz < F_LOW_GHZ || f_ghz > F_HIGH_GHZ ? FE_W_RANGE : FE_OK;
}

fe_status fe_entry_loss_spread(const fe_entry_building *building, double f_hz,
                               double elevation_rad, fe_entry_spread *spread)
{
    fe_entry_spread found = {0};
    fe_status status = fe_entry_loss(building, f_hz, elevation_rad, 0.1, &found.p10_db);
    if (status < 0)
        return status;
    status = fe_status_worse(
        status, fe_entry_loss(building, f_hz, elevation_rad, 0.5, &found.median_db));
    status = fe_status_worse(status,
                             fe_entry_loss(building, f_hz, elevation_rad, 0.9, &found.p90_db));
    if (status < 0)
        return status;
    found.sigma_db = (found.p90_db - found.p10_db) / (2.0 * gsl_cdf_ugaussian_Pinv(0.9));
    *spread = found;
    return status;
}
