/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FAULT_LOOP_H
#define FAREND_FAULT_LOOP_H

#include "farend/status.h"

/*
 * Whether a fault at the far end draws enough current to trip the device that feeds it. A long
 * thin feed may carry its load and still hold a fault for ever. Method and figures of BS 7671
 * (IEC 60364-4-41), 230 V to earth. The earthing itself is work for a licensed electrician;
 * these functions only show whether a size can be right.
 *
 * Every function returns FE_OK, or FE_E_DOMAIN where an argument is not finite or out of its
 * range, and leaves outputs untouched then; what else one returns stands at it.
 */

/* Instantaneous trip at 5, 10 or 20 times the rating (IEC 60898, upper ends). */
typedef enum fe_breaker_type { FE_BREAKER_B, FE_BREAKER_C, FE_BREAKER_D } fe_breaker_type;

/*
 * Line and protective conductor together, a metre at 20 degC: the sum of the IEC 60228 values.
 * Areas of metric copper sizes; FE_W_RANGE for others.
 */
FE_MUST_CHECK fe_status fe_fault_loop_r1r2(double line_m2, double protective_m2,
                                           double *ohm_per_m);

/*
 * Loop impedance at the end of a run: Ze + factor (R1 + R2) L.
 *
 *   ze_ohm          outside the run, >= 0
 *   r1r2_ohm_per_m  at 20 degC, > 0
 *   length_m        one way, >= 0
 *   factor          for the conductors' warmth under fault: 1.2 for 70 degC PVC; >= 1
 */
FE_MUST_CHECK fe_status fe_fault_loop_zs(double ze_ohm, double r1r2_ohm_per_m, double length_m,
                                         double factor, double *zs_ohm);

/*
 * Greatest loop impedance that trips a breaker at once: the printed value of Table 41.3 for its
 * ratings, 230 V * 0.95 / (n In) unrounded for others. rating_a > 0.
 * Source: BS 7671:2018+A2 Table 41.3 (80 A and above from memory).
 */
FE_MUST_CHECK fe_status fe_fault_loop_max_zs(fe_breaker_type type, double rating_a,
                                             double *max_zs_ohm);

/* The same by the formula alone. */
FE_MUST_CHECK fe_status fe_fault_loop_max_zs_law(fe_breaker_type type, double rating_a,
                                                 double *max_zs_ohm);

/* What a meter may show on cold conductors: 80 % of the table. Source: BS 7671 appendix 3. */
FE_MUST_CHECK fe_status fe_fault_loop_cold_limit(double max_zs_ohm, double *cold_ohm);

/* Least fault current, 230 V * 0.95 / Zs, and the current that trips at once, n In. */
FE_MUST_CHECK fe_status fe_fault_loop_current(double zs_ohm, double *current_a);
FE_MUST_CHECK fe_status fe_fault_loop_trip(fe_breaker_type type, double rating_a,
                                           double *trip_a);

/*
 * Greatest resistance of a local electrode with a residual-current device: 50 V / I.
 * residual_a > 0. Source: BS 7671 411.5.3 (from memory).
 */
FE_MUST_CHECK fe_status fe_fault_loop_electrode(double residual_a, double *max_ohm);

/*
 * Smallest conductor that survives a fault: I sqrt(t) / k, k in A s^0.5 / mm2 (115 for copper
 * in PVC). Source: BS 7671 543.1.3 (from memory).
 */
FE_MUST_CHECK fe_status fe_fault_loop_least_area(double current_a, double time_s, double k,
                                                 double *area_m2);

#endif
