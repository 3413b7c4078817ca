/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/dielectric.h"

#include <math.h>
#include <stdbool.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/wall.h"

static const double ICE_REAL = 3.17;
static const double ICE_DENSITY_KG_M3 = 917.0;
static const double WATER_TEMP_C = 10.0;
static const double FROST_TEMP_C = -5.0;

/* What the usual snow is made of, and what lies on covers: common practice, no source. */
static const double DRY_SNOW_KG_M3 = 250.0;
static const double WET_SNOW_KG_M3 = 350.0;
static const double WET_SNOW_WETNESS = 0.05;
static const double COVER_FILM_M = 0.1e-3;
static const double COVER_SNOW_M = 10e-3;

/* Constants of a soil as powers of the frequency in GHz; zeros where another law serves. */
typedef struct surface_row {
    double roughness_m;
    double eps;
    double eps_exponent;
    double sigma_s_m;
    double sigma_exponent;
} surface_row;

/* Soils: medium dry and wet ground of ITU-R P.527, fitted from memory. Roughness: common
 * practice, no source. */
/* clang-format off */
static const surface_row SURFACES[] = {
    /*                       rms m   eps   exp.   S/m    exp. */
    [FE_SURFACE_DRY_SOIL] = {0.03,  15.0, -0.05, 0.035, 1.4},
    [FE_SURFACE_WET_SOIL] = {0.03,  30.0, -0.15, 0.15,  1.3},
    [FE_SURFACE_WATER]    = {0.01,   0.0,  0.0,  0.0,   0.0},
    [FE_SURFACE_DRY_SNOW] = {0.02,   0.0,  0.0,  0.0,   0.0},
    [FE_SURFACE_WET_SNOW] = {0.02,   0.0,  0.0,  0.0,   0.0},
    [FE_SURFACE_ICE]      = {0.005,  0.0,  0.0,  0.0,   0.0},
};
/* clang-format on */
enum { SURFACE_COUNT = sizeof SURFACES / sizeof SURFACES[0] };

static const double SOIL_LOW_GHZ = 0.5;
static const double SOIL_HIGH_GHZ = 30.0;

fe_status fe_water_permittivity(double f_hz, double temp_c, fe_permittivity *result)
{
    if (!is_positive(f_hz) || !(temp_c > -100.0) || !isfinite(temp_c))
        return FE_E_DOMAIN;
    const double f = f_hz / 1e9;
    const double x = 300.0 / (temp_c + FE_KELVIN_OFFSET_C) - 1.0;
    const double eps0 = 77.66 + 103.3 * x;
    const double eps1 = 0.0671 * eps0;
    const double eps2 = 3.52;
    const double fp = 20.20 - 146.0 * x + 316.0 * x * x; /* GHz */
    const double fs = 39.8 * fp;
    const double principal = (eps0 - eps1) / (1.0 + (f / fp) * (f / fp));
    const double secondary = (eps1 - eps2) / (1.0 + (f / fs) * (f / fs));
    *result = (fe_permittivity){
        .real = principal + secondary + eps2,
        .loss = f / fp * principal + f / fs * secondary,
    };
    return f > 1000.0 || temp_c < -20.0 || temp_c > 50.0 ? FE_W_RANGE : FE_OK;
}

fe_status fe_ice_permittivity(double f_hz, double temp_c, fe_permittivity *result)
{
    const double temp_k = temp_c + FE_KELVIN_OFFSET_C;
    if (!is_positive(f_hz) || !is_positive(temp_k))
        return FE_E_DOMAIN;
    const double f = f_hz / 1e9;
    const double x = 300.0 / temp_k - 1.0;
    const double alpha = (50.4 + 62.0 * x) * 1e-4 * exp(-22.1 * x);
    const double peak = (1.0 + x) / (x + 0.0073);
    const double beta = (0.502 - 0.131 * x) / (1.0 + x) * 1e-4 + 0.542e-6 * peak * peak;
    *result = (fe_permittivity){.real = ICE_REAL, .loss = alpha / f + fmax(beta, 0.0) * f};
    return f < 1e-3 || f > 300.0 || temp_c < -100.0 || temp_c > 0.0 ? FE_W_RANGE : FE_OK;
}

fe_status fe_dry_snow_permittivity(double density_kg_m3, double f_hz, double temp_c,
                                   fe_permittivity *result)
{
    if (!(density_kg_m3 >= 0.0) || !(density_kg_m3 <= ICE_DENSITY_KG_M3))
        return FE_E_DOMAIN;
    fe_permittivity ice;
    const fe_status status = fe_ice_permittivity(f_hz, temp_c, &ice);
    if (status < 0)
        return status;
    const double rho = density_kg_m3 / 1000.0; /* g/cm3 */
    *result = (fe_permittivity){
        .real = rho <= 0.5 ? 1.0 + 1.9 * rho : 0.51 + 2.88 * rho,
        .loss = ice.loss * (0.52 * rho + 0.62 * rho * rho),
    };
    return status;
}

fe_status fe_wet_snow_permittivity(double density_kg_m3, double wetness, double f_hz,
                                   fe_permittivity *result)
{
    if (!(density_kg_m3 >= 0.0) || !(density_kg_m3 <= ICE_DENSITY_KG_M3) || !(wetness >= 0.0) ||
        !(wetness <= 1.0) || !is_positive(f_hz))
        return FE_E_DOMAIN;
    const double rho = density_kg_m3 / 1000.0;
    const double percent = 100.0 * wetness;
    const double f = f_hz / 1e9;
    const double ratio = f / 9.07; /* relaxation frequency, GHz */
    const double debye = 0.073 * pow(percent, 1.31) / (1.0 + ratio * ratio);
    *result = (fe_permittivity){
        .real = 1.0 + 1.83 * rho + 0.02 * pow(percent, 1.015) + debye,
        .loss = ratio * debye,
    };
    return density_kg_m3 < 90.0 || density_kg_m3 > 380.0 || wetness < 0.01 || wetness > 0.12 ||
                   f < 3.0 || f > 37.0
               ? FE_W_RANGE
               : FE_OK;
}

static fe_status soil_permittivity(const surface_row *soil, double f_hz,
                                   fe_permittivity *result)
{
    if (!is_positive(f_hz))
        return FE_E_DOMAIN;
    const double f = f_hz / 1e9;
    const double sigma_s_m = soil->sigma_s_m * pow(f, soil->sigma_exponent);
    *result = (fe_permittivity){
        .real = soil->eps * pow(f, soil->eps_exponent),
        .loss = sigma_s_m / (2.0 * FE_PI * f_hz * 8.8541878128e-12),
    };
    return f < SOIL_LOW_GHZ || f > SOIL_HIGH_GHZ ? FE_W_RANGE : FE_OK;
}

fe_status fe_surface_permittivity(fe_surface surface, double f_hz, fe_permittivity *result)
{
    switch (surface) {
    case FE_SURFACE_DRY_SOIL:
    case FE_SURFACE_WET_SOIL:
        return soil_permittivity(&SURFACES[surface], f_hz, result);
    case FE_SURFACE_WATER:
        return fe_water_permittivity(f_hz, WATER_TEMP_C, result);
    case FE_SURFACE_DRY_SNOW:
        return fe_dry_snow_permittivity(DRY_SNOW_KG_M3, f_hz, FROST_TEMP_C, result);
    case FE_SURFACE_WET_SNOW:
        return fe_wet_snow_permittivity(WET_SNOW_KG_M3, WET_SNOW_WETNESS, f_hz, result);
    case FE_SURFACE_ICE:
        return fe_ice_permittivity(f_hz, FROST_TEMP_C, result);
    default:
        return FE_E_DOMAIN;
    }
}

double fe_surface_roughness_m(fe_surface surface)
{
    return (size_t)surface < SURFACE_COUNT ? SURFACES[surface].roughness_m : 0.0;
}

fe_status fe_film_loss(const fe_permittivity *permittivity, double thickness_m, double f_hz,
                       double *loss_db)
{
    if (!is_positive(f_hz) || !is_at_least_zero(thickness_m) ||
        !is_positive(permittivity->real) || !is_at_least_zero(permittivity->loss))
        return FE_E_DOMAIN;
    if (thickness_m == 0.0) {
        *loss_db = 0.0;
        return FE_OK;
    }
    /* 17.98: P.2040's factor between conductivity and loss, taken out again by the slab. */
    const fe_material film = {
        .name = "film",
        .a = permittivity->real,
        .c = permittivity->loss * (f_hz / 1e9) / 17.98,
        .f_low_ghz = 0.0,
        .f_high_ghz = INFINITY,
    };
    const fe_incidence straight = {.f_hz = f_hz, .polarisation = FE_POLARISATION_TE};
    return fe_slab_loss(&film, thickness_m, &straight, loss_db, NULL);
}

fe_status fe_cover_loss(fe_cover cover, double f_hz, double *loss_db)
{
    fe_permittivity layer;
    fe_status status;
    double thickness_m;
    switch (cover) {
    case FE_COVER_DRY:
        if (!is_positive(f_hz))
            return FE_E_DOMAIN;
        *loss_db = 0.0;
        return FE_OK;
    case FE_COVER_WATER_FILM:
        thickness_m = COVER_FILM_M;
        status = fe_water_permittivity(f_hz, WATER_TEMP_C, &layer);
        break;
    case FE_COVER_WET_SNOW:
        thickness_m = COVER_SNOW_M;
        status = fe_wet_snow_permittivity(WET_SNOW_KG_M3, WET_SNOW_WETNESS, f_hz, &layer);
        break;
    default:
        return FE_E_DOMAIN;
    }
    if (status < 0)
        return status;
    return fe_status_worse(status, fe_film_loss(&layer, thickness_m, f_hz, loss_db));
}
