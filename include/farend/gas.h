/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_GAS_H
#define FAREND_GAS_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Attenuation and refractivity of the air. The attenuation is the sum over spectral lines,
 * which counts from 20 GHz up and above all at the oxygen lines near 60 GHz. A call costs some
 * eighty divisions and exponentials.
 */

/* The air at one place. */
typedef struct fe_gas_air {
    double dry_pressure_pa;    /* of the dry part, without the vapour; >= 0 */
    double temp_c;             /* above absolute zero */
    double water_vapour_kg_m3; /* >= 0 */
} fe_gas_air;

/* Dry pressure 1013.25 hPa, 15 degrees C, 7.5 g/m3: the mean air of ITU-R P.676. */
fe_gas_air fe_gas_standard_air(void);

typedef struct fe_gas_attenuation {
    double gamma_oxygen_db_per_m; /* with the dry continuum */
    double gamma_water_db_per_m;
    double gamma_total_db_per_m;
} fe_gas_attenuation;

/*
 * Specific attenuation by oxygen and water vapour, line by line.
 *
 *   f_hz    frequency, > 0; stated for 1 to 1000 GHz
 *   air     see above
 *   result  untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but f outside 1 to 1000 GHz; below 1 GHz the loss is under 0.01
 *              dB/km
 * FE_E_DOMAIN
 *
 * Source: ITU-R P.676-13 Annex 1 eq 1 to 9, Tables 1 and 2.
 */
FE_MUST_CHECK fe_status fe_gas_specific(double f_hz, const fe_gas_air *air,
                                        fe_gas_attenuation *result);

/*
 * One spectral line: its frequency and the six figures of its table, in the units of the
 * Recommendation (GHz, hPa, K): a1 to a6 of Table 1 for oxygen, b1 to b6 of Table 2 for water.
 */
typedef struct fe_gas_line {
    double f0_ghz;
    double figure[6];
} fe_gas_line;

const fe_gas_line *fe_gas_oxygen_lines(size_t *count);
const fe_gas_line *fe_gas_water_lines(size_t *count);

/*
 * Saturation pressure of water vapour over water, also below 0 degrees C.
 *
 *   temp_c      stated for -40 to 50 degrees C
 *   pressure_pa total pressure, > 0
 *   e_sat_pa    result; untouched on error
 *
 * FE_OK, FE_W_RANGE outside -40 to 50 degrees C, FE_E_DOMAIN not finite, or at or below -200
 *
 * Source: ITU-R P.453-14 eq 9 (figures from memory, range with them).
 */
FE_MUST_CHECK fe_status fe_gas_saturation(double temp_c, double pressure_pa, double *e_sat_pa);

/* What water vapour of pressure e_pa (>= 0) adds to the refractivity, in N-units; P.453-14
 * eq 4. */
FE_MUST_CHECK fe_status fe_gas_wet_refractivity(double temp_c, double e_pa, double *n_wet);

typedef struct fe_gas_refractivity {
    double e_sat_pa;
    double e_pa;
    double n_dry; /* N-units */
    double n_wet;
    double n_total;
} fe_gas_refractivity;

/*
 * Refractivity of moist air.
 *
 *   temp_c       as above
 *   pressure_pa  total pressure, > 0
 *   humidity     relative humidity, 0 to 1
 *   result       untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN as above, or where the vapour would exceed the total pressure
 *
 * Source: ITU-R P.453-14 eq 2 to 4, 7 to 9.
 */
FE_MUST_CHECK fe_status fe_gas_refractivity_of(double temp_c, double pressure_pa,
                                               double humidity, fe_gas_refractivity *result);

#endif
