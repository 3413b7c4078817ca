/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_WOODLAND_H
#define FAREND_WOODLAND_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Excess loss of a path with one end in woodland: it grows with the depth of wood in front of
 * that end and levels off where the wave finds a way around or over. ITU-R P.833-9 sec 2.1.
 */

/* One row of the parameters; a figure that the set does not give is NAN. */
typedef struct fe_woodland_row {
    const char *set; /* name of the parameter set */
    double f_hz;     /* of a measured point */
    double gamma_db_per_m;
    double a_m_db;
    double a1_db; /* a_m = a1 f^alpha, f in MHz */
    double alpha;
    double f_low_hz; /* of that law */
    double f_high_hz;
} fe_woodland_row;

const fe_woodland_row *fe_woodland_rows(size_t *count);

/*
 * Excess loss: a_m (1 - exp(-depth gamma / a_m)).
 *
 *   depth_m         length of path within the wood, >= 0
 *   gamma_db_per_m  specific attenuation of very short paths, >= 0
 *   a_m_db          the most that the wood can add, > 0
 *   loss_db         result; untouched on error
 *
 * FE_OK, FE_E_DOMAIN
 *
 * Source: ITU-R P.833-9 sec 2.1 eq 1.
 */
FE_MUST_CHECK fe_status fe_woodland_loss(double depth_m, double gamma_db_per_m, double a_m_db,
                                         double *loss_db);

/*
 * Specific attenuation off the curve for vertical polarisation, straight between three points
 * on logarithmic axes.
 *
 *   f_hz            frequency, > 0; read for 30 MHz to 30 GHz
 *   gamma_db_per_m  result; untouched on error
 *
 * FE_OK, FE_W_RANGE outside the points (the nearest stretch goes on), FE_E_DOMAIN
 *
 * Source: ITU-R P.833-9 Figure 2, points as used by a published vegetation study.
 */
FE_MUST_CHECK fe_status fe_woodland_specific(double f_hz, double *gamma_db_per_m);

typedef enum fe_woodland {
    FE_WOOD_CONIFEROUS_DECIDUOUS, /* mixed woodland, mean height 16 m */
    FE_WOOD_MIXED_FOREST,         /* mean height 15 m */
    FE_WOOD_TROPICAL              /* park with tropical trees, receiver at 2.4 m */
} fe_woodland;

/*
 * The most that a wood can add, a1 f^alpha.
 *
 *   wood    which measured wood
 *   f_hz    frequency, > 0
 *   a_m_db  result; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   outside the frequencies it was measured at, which all end at 2.2 GHz
 * FE_E_DOMAIN
 *
 * Source: ITU-R P.833-9 sec 2.1, coefficients from memory; the first meets the measured pairs
 * of Table 1 within 0.3 dB at 106, 466 and 2118 MHz and misses by -2.1 dB at 949 MHz and +3.3
 * dB at 1852 MHz.
 */
FE_MUST_CHECK fe_status fe_woodland_most(fe_woodland wood, double f_hz, double *a_m_db);

#endif
