/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RAIN_H
#define FAREND_RAIN_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Loss by rain along a path: the specific attenuation of ITU-R P.838 and the path loss of ITU-R
 * P.530 that is exceeded for a share of the time. Snow and hail are not covered. Rain rates are
 * SI (m/s): 1 mm/h is FE_MM_PER_HOUR_M_S. Each call costs a few dozen transcendentals.
 */
#define FE_MM_PER_HOUR_M_S (1e-3 / 3600.0)

/* One line of P.838-3 Tables 1 to 4: a exp(-((log10 f - b) / c)^2), f in GHz. */
typedef struct fe_rain_term {
    double a;
    double b;
    double c;
} fe_rain_term;

/* One of the four closed forms: the sum of its terms plus m log10 f + c_line. */
typedef struct fe_rain_form {
    const char *quantity; /* log10_k_h, log10_k_v, alpha_h or alpha_v */
    fe_rain_term term[5];
    size_t terms;
    double m;
    double c_line;
} fe_rain_form;

/* The closed form of a quantity; null where there is none of that name. */
const fe_rain_form *fe_rain_form_find(const char *quantity);

/* k and alpha of gamma = k R^alpha with R in mm/h and gamma in dB/km, as P.838 states them. */
typedef struct fe_rain_coefficients {
    double k_h;
    double alpha_h;
    double k_v;
    double alpha_v;
} fe_rain_coefficients;

/*
 * Coefficients for horizontal and vertical polarisation.
 *
 *   f_hz    frequency, > 0; stated for 1 to 1000 GHz
 *   result  untouched on error
 *
 * FE_OK, FE_W_RANGE outside 1 to 1000 GHz, FE_E_DOMAIN
 *
 * Source: ITU-R P.838-3 eq 2, 3 and Tables 1 to 4.
 */
FE_MUST_CHECK fe_status fe_rain_coefficients_at(double f_hz, fe_rain_coefficients *result);

/* A wave in rain. */
typedef struct fe_rain_wave {
    double f_hz;          /* > 0 */
    double elevation_rad; /* of the path, -pi/2 to pi/2 */
    double tilt_rad;      /* of polarisation: 0 horizontal, pi/2 vertical, pi/4 circular */
} fe_rain_wave;

typedef struct fe_rain_attenuation {
    double k; /* of the wave, as P.838 states it (mm/h, dB/km) */
    double alpha;
    double gamma_db_per_m;
} fe_rain_attenuation;

/*
 * Specific attenuation of rain.
 *
 *   wave      see there
 *   rain_m_s  rain rate, >= 0
 *   result    untouched on error
 *
 * FE_OK, FE_W_RANGE outside 1 to 1000 GHz, FE_E_DOMAIN
 *
 * Source: ITU-R P.838-3 eq 1, 4, 5.
 */
FE_MUST_CHECK fe_status fe_rain_specific(const fe_rain_wave *wave, double rain_m_s,
                                         fe_rain_attenuation *result);

typedef struct fe_rain_path {
    double gamma_db_per_m; /* at the rate exceeded 0.01 % of the year */
    double r_uncapped;     /* path factor by the formula; infinite where that has no value */
    double r;              /* path factor used, 2.5 at most */
    double loss_001_db;    /* exceeded 0.01 % of the year */
    double loss_db;        /* exceeded for the wanted share */
} fe_rain_path;

/*
 * Rain loss of a path that is exceeded for a share of an average year.
 *
 *   wave          see above
 *   distance_m    length of the path, > 0; stated up to 60 km
 *   rain_001_m_s  rain rate exceeded 0.01 % of an average year, >= 0
 *   share         share of the year, > 0 and <= 1; stated for 1e-5 to 1e-2 (0.001 to 1 %)
 *   result        untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but f outside 1 to 100 GHz, path over 60 km, or share outside; for a
 *              share above 1 % the loss at 1 % stands in, which is more than the true one
 * FE_E_DOMAIN
 *
 * The path factor exceeds 1 on short paths and is held at 2.5, also where its denominator is
 * below 0.4 (the cap is from memory).
 *
 * Source: ITU-R P.530-18 sec 2.4.1 steps 1 to 5.
 */
FE_MUST_CHECK fe_status fe_rain_path_loss(const fe_rain_wave *wave, double distance_m,
                                          double rain_001_m_s, double share,
                                          fe_rain_path *result);

#endif
