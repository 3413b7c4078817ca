/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FADING_H
#define FAREND_FADING_H

#include <stddef.h>

#include "farend/spread.h"
#include "farend/status.h"

/*
 * Loss that varies in time: how deep a signal fades below its mean or median for a share of the
 * time. What is fixed once built belongs in a spread, not here. Rayleigh and log-normal cost a
 * logarithm; Rician a few hundred terms a value and a root for a margin.
 */
typedef enum fe_fading_law {
    FE_FADING_RAYLEIGH, /* no direct ray */
    FE_FADING_RICIAN,   /* a direct ray k_db stronger than all the others together */
    FE_FADING_LOGNORMAL /* slow: sway, shadowing */
} fe_fading_law;

typedef enum fe_fading_reference { FE_FADING_MEAN, FE_FADING_MEDIAN } fe_fading_reference;

typedef struct fe_fading {
    fe_fading_law law;
    double k_db;     /* Rician only: -40 to 30 */
    double sigma_db; /* log-normal only: 0 to 30 */
    /* What a margin is counted from: the mean power or the median. */
    fe_fading_reference reference;
} fe_fading;

/*
 * The share of time in which the signal is no further than a margin below its reference.
 *
 *   fading        see above
 *   margin_db     any finite value; negative above the reference
 *   availability  result, 0 to 1; untouched on error
 *
 * FE_OK, FE_E_DOMAIN; FE_E_MEMORY and FE_E_CONVERGE from the median of a Rician signal
 *
 * Source: closed forms; Rice's law as a Poisson mixture of gamma laws (non-central chi-square
 * with two degrees of freedom). As in any textbook.
 */
FE_MUST_CHECK fe_status fe_fading_availability(const fe_fading *fading, double margin_db,
                                               double *availability);

/*
 * The margin that an availability needs: the inverse of the above.
 *
 *   availability  above 0 and below 1
 *   margin_db     result; untouched on error
 *
 * FE_OK, FE_E_DOMAIN, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_fading_margin(const fe_fading *fading, double availability,
                                         double *margin_db);

/* Rain as a part of fading: what it costs as fe_rain_path_loss gives it. */
typedef struct fe_fade_rain {
    double loss_one_percent_db; /* exceeded 1 % of the time */
    double loss_001_db;         /* exceeded 0.01 % */
} fe_fade_rain;

/*
 * The fade that is not exceeded for a share of the time where several independent causes add:
 * multipath, sway, rain. One law alone is its margin exactly; several are convolved on the grid
 * of spread.h, good to 0.1 dB.
 *
 *   laws, count   0 to 4 laws
 *   rain          or null; between its two figures, and beyond, the loss is straight against
 *                 the logarithm of the share; it rains 5 % of the time (common practice, no
 *                 source)
 *   availability  0.5 or more, below 1; stated up to 0.99999
 *   fade_db       result; untouched on error
 *
 * FE_OK, FE_W_RANGE above 0.99999, FE_E_DOMAIN, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_fade_quantile(const fe_fading *laws, size_t count,
                                         const fe_fade_rain *rain, double availability,
                                         double *fade_db);

#endif
