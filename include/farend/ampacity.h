/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_AMPACITY_H
#define FAREND_AMPACITY_H

#include "farend/conductor.h"
#include "farend/status.h"

/*
 * Current that a cable may carry without its insulation growing too hot: NFPA 70 Table 310.16
 * for gauge sizes and the basic two-core columns of IEC 60364-5-52 (BS 7671) for metric ones,
 * both at 30 degC of air and one circuit. Not here: cable in the ground, bundles, open span.
 */

/* One row of NFPA 70 Table 310.16; NAN where empty. */
typedef struct fe_us_ampacity {
    int gauge;
    double copper_60c_a, copper_75c_a, copper_90c_a;
    double aluminium_60c_a, aluminium_75c_a, aluminium_90c_a;
    double copper_device_a; /* largest overcurrent device, 240.4(D) */
} fe_us_ampacity;

/* Null where the table has no such gauge. */
const fe_us_ampacity *fe_us_ampacity_find(int gauge);

/* How a two-core 70 degC PVC cable with copper conductors lies. */
typedef enum fe_cable_method {
    FE_METHOD_CONDUIT_ON_WALL, /* reference method B (multicore: B2) */
    FE_METHOD_CLIPPED,         /* reference method C */
    FE_METHOD_FLAT_CLIPPED     /* flat twin and earth, method C */
} fe_cable_method;

/*
 * Ampacity at 30 degC from the tables.
 *
 *   gauge          of the table, 18 to 4/0
 *   insulation_c   60, 75 or 90
 *   area_m2        a metric size, 1 to 95 mm2 (flat: to 16 mm2)
 *   ampacity_a     result; untouched on error
 *
 * FE_OK; FE_E_DOMAIN where the table has no such cell.
 * Source: NFPA 70:2023 Table 310.16; BS 7671 Tables 4D2A and 4D5 (from memory).
 */
FE_MUST_CHECK fe_status fe_ampacity_us(int gauge, fe_conductor_material material,
                                       double insulation_c, double *ampacity_a);
FE_MUST_CHECK fe_status fe_ampacity_metric(double area_m2, fe_cable_method method,
                                           double *ampacity_a);

/*
 * Factor for air other than 30 degC, by the steps of NFPA 70 Table 310.15(B)(1)(1): the row
 * whose upper end is not below the air; the first row also below it.
 *
 *   insulation_c  60, 75 or 90
 *
 * FE_OK; FE_E_NO_SOLUTION in air too hot for any current; FE_E_DOMAIN.
 */
FE_MUST_CHECK fe_status fe_ampacity_air_factor(double air_c, double insulation_c,
                                               double *factor);

/*
 * The same as a law, sqrt((max - air) / (max - 30)), on which the IEC's and NFPA's tables rest.
 * FE_W_RANGE below 10 degC of air (the tables' first row); FE_E_NO_SOLUTION at the limit or
 * above it; FE_E_DOMAIN. Source: NFPA 70 310.15(B) equation; IEC 60364-5-52 Table B.52.14.
 */
FE_MUST_CHECK fe_status fe_ampacity_air_law(double air_c, double max_c, double *factor);

/* What surrounds a cable. */
typedef struct fe_ampacity_case {
    double air_c;
    double insulation_c; /* of gauge cable: 60, 75 or 90 */
    double terminal_c;   /* of gauge cable: 60 or 75; its column caps the result at 30 degC */
    fe_cable_method method; /* of metric cable */
} fe_ampacity_case;

/*
 * Ampacity of a cable in its air. A gauge takes its insulation's column times the factor, at
 * most the terminal's column; a metric size the IEC's column times the law for 70 degC PVC.
 *
 * FE_OK
 * FE_W_RANGE   metric aluminium: the copper figure times the root of the resistivities' ratio
 *              (equal heat); or a warning of fe_ampacity_air_law
 * FE_E_DOMAIN, FE_E_NO_SOLUTION  as above
 */
FE_MUST_CHECK fe_status fe_ampacity_of(const fe_conductor *conductor,
                                       const fe_ampacity_case *where, double *ampacity_a);

#endif
