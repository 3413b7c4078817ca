/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PARABOLA_H
#define FAREND_PARABOLA_H

#include "farend/status.h"

/*
 * The parabola that textbooks and published sag sheets put in the place of the catenary: load
 * even along the ground. Good to some (sag / span)^2; the program prints catenaries (span.h)
 * and uses these to reproduce published sheets and to check.
 *
 * All lengths in m and > 0, loads in N/m and > 0 (the resultant where wind blows), tension the
 * horizontal one in N and > 0. Every function returns FE_OK, FE_E_DOMAIN where an argument is
 * not finite or out of its range, or FE_W_RANGE with the result set where the sag is over a
 * tenth of the span and the parabola departs from the catenary by more than a percent.
 *
 * Source: statics of the parabolic cable, as in the textbooks named in tests/reference/wire.
 */

/* Sag of a level span, w a^2 / (8 H), and the tension from the sag. */
FE_MUST_CHECK fe_status fe_parabola_sag(double span_m, double load_n_m, double tension_n,
                                        double *sag_m);
FE_MUST_CHECK fe_status fe_parabola_tension(double span_m, double load_n_m, double sag_m,
                                            double *tension_n);

/* Span from load, tension and sag, sqrt(8 H f / w). */
FE_MUST_CHECK fe_status fe_parabola_span(double load_n_m, double tension_n, double sag_m,
                                         double *span_m);

/* Length of a level cable, the two-term series a (1 + 8/3 (f/a)^2). */
FE_MUST_CHECK fe_status fe_parabola_length(double span_m, double sag_m, double *length_m);

/* Tension at the ends of a level span, sqrt(H^2 + (w a / 2)^2). */
FE_MUST_CHECK fe_status fe_parabola_end_tension(double span_m, double load_n_m,
                                                double tension_n, double *end_tension_n);

/*
 * Supports at different heights.
 *   rise_m                  of the higher support above the lower, >= 0
 *   low_point_from_lower_m  a/2 - H h / (w a); negative where it lies outside the span
 *   drop_below_lower_m      of that point, continued outside the span if need be
 *   drop_at_midspan_m       below the mean height of the supports, w a^2 / (8 H)
 */
typedef struct fe_parabola_inclined {
    double low_point_from_lower_m;
    double drop_below_lower_m;
    double drop_below_higher_m;
    double drop_at_midspan_m;
} fe_parabola_inclined;
FE_MUST_CHECK fe_status fe_parabola_inclined_span(double span_m, double rise_m, double load_n_m,
                                                  double tension_n,
                                                  fe_parabola_inclined *result);

/*
 * From the drops of the lowest point below both supports: where it is and the tensions.
 *   drop_below_lower_m <= drop_below_higher_m
 */
typedef struct fe_parabola_from_drops {
    double low_point_from_lower_m; /* a / (1 + sqrt(dh / dl)) */
    double tension_horizontal_n;   /* w x^2 / (2 dl) */
    double tension_higher_end_n;   /* sqrt(H^2 + (w (a - x))^2) */
} fe_parabola_from_drops;
FE_MUST_CHECK fe_status fe_parabola_tensions_from_drops(double span_m, double load_n_m,
                                                        double drop_below_lower_m,
                                                        double drop_below_higher_m,
                                                        fe_parabola_from_drops *result);

/*
 * Two posts of equal height on an even slope.
 *   span_m        horizontal distance
 *   slope         rise over run, any sign
 *   attachment_m  height of both attachments above the ground at their posts
 *   clearance_of_low_point_m  ground to the lowest point of the WIRE; that of the lower
 *                             attachment where the low point is outside the span
 *   minimum_clearance_m       smallest height above the ground anywhere: at midspan
 */
FE_MUST_CHECK fe_status fe_parabola_slope_clearance(double span_m, double slope,
                                                    double load_n_m, double tension_n,
                                                    double attachment_m,
                                                    double *clearance_of_low_point_m,
                                                    double *minimum_clearance_m);

#endif
