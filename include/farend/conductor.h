/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CONDUCTOR_H
#define FAREND_CONDUCTOR_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Wire sizes and what their conductors resist: the metric sizes of IEC 60228, the gauge sizes
 * of ASTM B258 with NFPA 70 chapter 9 Tables 8 and 9, and the change with temperature.
 * Resistances are those of ONE conductor; a feed's go and return is twice as much. Tables are
 * looked up by linear search; nothing is allocated. Skin effect is only in Table 9 (it matters
 * from about 70 mm2 at mains frequency).
 */

typedef enum fe_conductor_material {
    FE_CONDUCTOR_COPPER,
    FE_CONDUCTOR_ALUMINIUM
} fe_conductor_material;

/* Numbered as IEC 60228 numbers its classes. */
typedef enum fe_conductor_class {
    FE_CLASS_SOLID = 1,
    FE_CLASS_STRANDED = 2,
    FE_CLASS_FLEXIBLE = 5
} fe_conductor_class;

typedef struct fe_conductor {
    double area_m2; /* nominal area of a metric size, geometric area of a gauge size */
    fe_conductor_material material;
    fe_conductor_class build;
} fe_conductor;

/* At 20 degC: IEC 60028 and IEC 60889 (from memory). */
double fe_conductor_resistivity_20c_ohm_m(fe_conductor_material material);

/*
 * How many times as much as copper a wire of copper-clad aluminium resists, where copper has
 * this share of its area (0 to 1); NAN for others. Computed from the resistivities.
 */
double fe_conductor_clad_factor(double copper_share);

/* "copper" or "aluminium"; never null. */
const char *fe_conductor_material_name(fe_conductor_material material);
bool fe_conductor_material_named(const char *name, fe_conductor_material *material);

/*
 * Resistance against temperature. alpha belongs to the temperature it was measured at: with
 * alpha_at_c it gives R2/R1 = (1 + alpha (t2 - alpha_at)) / (1 + alpha (t1 - alpha_at)).
 *
 *   r1_ohm       resistance at t1_c, > 0
 *   alpha_per_k  > 0, referred to alpha_at_c
 *   r2_ohm, t2_c results; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   a temperature outside -60 to 250 degC, where the straight line is not vouched
 *              for
 * FE_E_DOMAIN  an argument is not finite or not above zero, or the line has crossed zero ohm
 *
 * Source: IEC 60228:2004 annex A and NFPA 70 ch. 9 Table 8 note (the same line).
 */
FE_MUST_CHECK fe_status fe_resistance_at_temp(double r1_ohm, double t1_c, double alpha_per_k,
                                              double alpha_at_c, double t2_c, double *r2_ohm);
FE_MUST_CHECK fe_status fe_temp_from_resistance(double r1_ohm, double t1_c, double alpha_per_k,
                                                double alpha_at_c, double r2_ohm, double *t2_c);

/*
 * alpha of a conductor metal referred to another temperature: alpha20 / (1 + alpha20 (t - 20)).
 * Statuses as above.
 */
FE_MUST_CHECK fe_status fe_conductor_alpha_at(fe_conductor_material material, double temp_c,
                                              double *alpha_per_k);

/*
 * Factor that takes a resistance measured at temp_c to 20 degC: 1 / (1 + 0.004 (t - 20)).
 * FE_W_RANGE outside the listed 0 to 90 degC; FE_E_DOMAIN at -230 degC or below, or no number.
 * Source: IEC 60228:2004 annex A.
 */
FE_MUST_CHECK fe_status fe_conductor_kt(double temp_c, double *factor);

/* rho L / A; FE_E_DOMAIN where an argument is not finite or not above zero. */
FE_MUST_CHECK fe_status fe_resistance_of_wire(double resistivity_ohm_m, double length_m,
                                              double area_m2, double *r_ohm);

/* Gauges: 1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3. */
enum { FE_AWG_SMALLEST = 40, FE_AWG_LARGEST = -3 };

typedef struct fe_awg {
    double diameter_m;
    double area_m2;
    double copper_ohm_per_m_20c; /* solid annealed copper */
} fe_awg;

/*
 * A gauge's wire: d = 0.127 mm * 92^((36 - n)/39).
 * FE_E_DOMAIN outside 4/0 to 40. Source: ASTM B258 (formula from memory).
 */
FE_MUST_CHECK fe_status fe_awg_geometry(int gauge, fe_awg *awg);

/* The gauge of "12", "4/0"; false where the text is none. */
bool fe_awg_parse(const char *text, int *gauge);

/* One row of NFPA 70 chapter 9 Table 8, as printed: ohm per 1000 feet at 75 degC. */
typedef struct fe_awg_resistance {
    int gauge;
    fe_conductor_class build;
    double area_cmil;
    double diameter_in;
    double copper_ohm_per_kft_75c;
    double aluminium_ohm_per_kft_75c;
} fe_awg_resistance;

/* Null where the table has no such row. */
const fe_awg_resistance *fe_awg_resistance_find(int gauge, fe_conductor_class build);

/* One row of NFPA 70 chapter 9 Table 9, PVC conduit, 75 degC, 60 Hz; NAN where empty. */
typedef struct fe_awg_impedance {
    int gauge;
    double x_ohm_per_km;
    double copper_r_ohm_per_km;
    double aluminium_r_ohm_per_km;
    double copper_z_ohm_per_km; /* at a power factor of 0.85 */
    double x_ohm_per_kft;
    double copper_r_ohm_per_kft;
    double aluminium_r_ohm_per_kft;
    double copper_z_ohm_per_kft;
} fe_awg_impedance;

const fe_awg_impedance *fe_awg_impedance_find(int gauge);

/*
 * Effective impedance along the voltage, R cos + X sin: what a drop is nearly proportional to.
 * It is not the modulus. Any one unit of resistance, r and x >= 0, power factor above 0 to 1,
 * lagging; FE_E_DOMAIN otherwise. Source: NFPA 70 ch. 9 Table 9 note 2.
 */
FE_MUST_CHECK fe_status fe_effective_impedance(double r, double x, double power_factor,
                                               double *z);

/* One row of IEC 60228:2004 Tables 1 to 3, as printed: largest ohm per km at 20 degC. */
typedef struct fe_metric_resistance {
    double area_mm2;
    double copper_solid_ohm_per_km;
    double copper_stranded_ohm_per_km;
    double copper_flexible_ohm_per_km;
    double aluminium_solid_ohm_per_km;
    double aluminium_stranded_ohm_per_km; /* NAN where the standard has none */
} fe_metric_resistance;

/* Null where the area is within a thousandth of no metric size. */
const fe_metric_resistance *fe_metric_resistance_find(double area_m2);

typedef enum fe_size_series { FE_SIZES_METRIC, FE_SIZES_AWG } fe_size_series;

/* A size that can be bought. */
typedef struct fe_wire_size {
    const char *name; /* "2.5 mm2", "AWG 12", "AWG 1/0" */
    fe_size_series series;
    int gauge;      /* of a gauge size; 0 otherwise */
    double area_m2; /* nominal or geometric */
} fe_wire_size;

/* A series, smallest first (metric 0.5 to 400 mm2, gauges 28 to 4/0); null past its end. */
const fe_wire_size *fe_wire_size_at(fe_size_series series, size_t index);

/* The size within a thousandth of an area; null where it is none. */
const fe_wire_size *fe_wire_size_find(double area_m2);

/*
 * Resistance of a metre of one conductor. A metric size is the largest that IEC 60228 allows;
 * a gauge size is that of Table 8 (from AWG 18 up; solid rows end at AWG 8 and the stranded row
 * stands in), a finer solid gauge that of its geometry.
 *
 *   conductor  area > 0
 *   temp_c     of the conductor, not of the air
 *   ohm_per_m  result; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   no table has this size, metal and build: resistivity over area; or a temperature
 *              outside -60 to 250 degC
 * FE_E_DOMAIN  an argument is not finite or not above zero
 *
 * Source: IEC 60228:2004 Tables 1 to 3 at 20 degC; NFPA 70 ch. 9 Table 8 at 75 degC.
 */
FE_MUST_CHECK fe_status fe_conductor_resistance(const fe_conductor *conductor, double temp_c,
                                                double *ohm_per_m);

#endif
