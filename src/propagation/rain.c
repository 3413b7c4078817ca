/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/rain.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "farend/constants.h"

/* ITU-R P.838-3 Tables 1 to 4, f in GHz, R in mm/h, gamma in dB/km. */
/* clang-format off */
static const fe_rain_form FORMS[] = {
    /*         a         b         c */
    {.quantity = "log10_k_h",
     .term = {{-5.33980, -0.10008,  1.13098},
              {-0.35351,  1.26970,  0.45400},
              {-0.23789,  0.86036,  0.15354},
              {-0.94158,  0.64552,  0.16817}},
     .terms = 4, .m = -0.18961, .c_line = 0.71147},
    {.quantity = "log10_k_v",
     .term = {{-3.80595,  0.56934,  0.81061},
              {-3.44965, -0.22911,  0.51059},
              {-0.39902,  0.73042,  0.11899},
              { 0.50167,  1.07319,  0.27195}},
     .terms = 4, .m = -0.16398, .c_line = 0.63297},
    {.quantity = "alpha_h",
     .term = {{-0.14318,  1.82442, -0.55187},
              { 0.29591,  0.77564,  0.19822},
              { 0.32177,  0.63773,  0.13164},
              {-5.37610, -0.96230,  1.47828},
              { 16.1721, -3.29980,  3.43990}},
     .terms = 5, .m = 0.67849, .c_line = -1.95537},
    {.quantity = "alpha_v",
     .term = {{-0.07771,  2.33840, -0.76284},
              { 0.56727,  0.95545,  0.54039},
              {-0.20238,  1.14520,  0.26809},
              {-48.2991, 0.791669, 0.116226},
              { 48.5833, 0.791459, 0.116479}},
     .terms = 5, .m = -0.053739, .c_line = 0.83433},
};
/* clang-format on */
enum { LOG10_K_H, LOG10_K_V, ALPHA_H, ALPHA_V, FORM_COUNT };
_Static_assert(sizeof FORMS / sizeof FORMS[0] == FORM_COUNT, "one row a form");

/* The range in which P.838 states the closed forms. */
static const double P838_LOW_GHZ = 1.0;
static const double P838_HIGH_GHZ = 1000.0;

/* P.530-18 sec 2.4.1: its range, and the cap of the path factor (from memory). */
static const double P530_HIGH_GHZ = 100.0;
static const double P530_HIGH_KM = 60.0;
static const double P530_LOW_PCT = 0.001;
static const double P530_HIGH_PCT = 1.0;
static const double PATH_FACTOR_CAP = 2.5;

const fe_rain_form *fe_rain_form_find(const char *quantity)
{
    for (size_t i = 0; i < FORM_COUNT; i++)
        if (strcmp(FORMS[i].quantity, quantity) == 0)
            return &FORMS[i];
    return NULL;
}

static double form_value(const fe_rain_form *form, double log_f)
{
    double sum = form->m * log_f + form->c_line;
    for (size_t i = 0; i < form->terms; i++) {
        const fe_rain_term *term = &form->term[i];
        const double x = (log_f - term->b) / term->c;
        sum += term->a * exp(-x * x);
    }
    return sum;
}

fe_status fe_rain_coefficients_at(double f_hz, fe_rain_coefficients *result)
{
    if (!is_positive(f_hz))
        return FE_E_DOMAIN;
    const double f_ghz = f_hz / 1e9;
    const double log_f = log10(f_ghz);
    *result = (fe_rain_coefficients){
        .k_h = pow(10.0, form_value(&FORMS[LOG10_K_H], log_f)),
        .alpha_h = form_value(&FORMS[ALPHA_H], log_f),
        .k_v = pow(10.0, form_value(&FORMS[LOG10_K_V], log_f)),
        .alpha_v = form_value(&FORMS[ALPHA_V], log_f),
    };
    return f_ghz < P838_LOW_GHZ || f_ghz > P838_HIGH_GHZ ? FE_W_RANGE : FE_OK;
}

fe_status fe_rain_specific(const fe_rain_wave *wave, double rain_m_s,
                           fe_rain_attenuation *result)
{
    if (!(fabs(wave->elevation_rad) <= FE_PI / 2.0) || !isfinite(wave->tilt_rad) ||
        !is_at_least_zero(rain_m_s))
        return FE_E_DOMAIN;
    fe_rain_coefficients at;
    const fe_status status = fe_rain_coefficients_at(wave->f_hz, &at);
    if (status < 0)
        return status;

    const double cos_elevation = cos(wave->elevation_rad);
    const double tilt_term = cos_elevation * cos_elevation * cos(2.0 * wave->tilt_rad);
    const double ka_h = at.k_h * at.alpha_h;
    const double ka_v = at.k_v * at.alpha_v;
    const double k = (at.k_h + at.k_v + (at.k_h - at.k_v) * tilt_term) / 2.0;
    const double alpha = (ka_h + ka_v + (ka_h - ka_v) * tilt_term) / (2.0 * k);
    const double gamma_db_km = k * pow(rain_m_s / FE_MM_PER_HOUR_M_S, alpha);
    *result = (fe_rain_attenuation){k, alpha, gamma_db_km / 1000.0};
    return status;
}

/* Step 3: the formula has no value where its denominator is zero or less. */
static double path_factor(double distance_km, double rain_mm_h, double alpha, double f_ghz)
{
    const double denominator =
        0.477 * pow(distance_km, 0.633) * pow(rain_mm_h, 0.073 * alpha) * pow(f_ghz, 0.123) -
        10.579 * (1.0 - exp(-0.024 * distance_km));
    return denominator > 0.0 ? 1.0 / denominator : INFINITY;
}

/* Step 5: loss exceeded p % of the year over that exceeded 0.01 %. */
static double share_factor(double f_ghz, double p_pct)
{
    const double c0 = f_ghz >= 10.0 ? 0.12 + 0.4 * log10(pow(f_ghz / 10.0, 0.8)) : 0.12;
    const double c1 = pow(0.07, c0) * pow(0.12, 1.0 - c0);
    const double c2 = 0.855 * c0 + 0.546 * (1.0 - c0);
    const double c3 = 0.139 * c0 + 0.043 * (1.0 - c0);
    return c1 * pow(p_pct, -(c2 + c3 * log10(p_pct)));
}

fe_status fe_rain_path_loss(const fe_rain_wave *wave, double distance_m, double rain_001_m_s,
                            double share, fe_rain_path *result)
{
    if (!is_positive(distance_m) || !(share > 0.0) || !(share <= 1.0))
        return FE_E_DOMAIN;
    fe_rain_attenuation rain;
    fe_status status = fe_rain_specific(wave, rain_001_m_s, &rain);
    if (status < 0)
        return status;

    const double distance_km = distance_m / 1000.0;
    const double f_ghz = wave->f_hz / 1e9;
    const double p_pct = 100.0 * share;
    const double uncapped =
        path_factor(distance_km, rain_001_m_s / FE_MM_PER_HOUR_M_S, rain.alpha, f_ghz);
    const double r = fmin(uncapped, PATH_FACTOR_CAP);
    const double loss_001_db = rain.gamma_db_per_m * distance_m * r;
    *result = (fe_rain_path){
        .gamma_db_per_m = rain.gamma_db_per_m,
        .r_uncapped = uncapped,
        .r = r,
        .loss_001_db = loss_001_db,
        .loss_db = loss_001_db * share_factor(f_ghz, fmin(p_pct, P530_HIGH_PCT)),
    };
    if (f_ghz > P530_HIGH_GHZ || distance_km > P530_HIGH_KM || p_pct < P530_LOW_PCT ||
        p_pct > P530_HIGH_PCT)
        status = FE_W_RANGE;
    return status;
}
