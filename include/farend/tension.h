/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TENSION_H
#define FAREND_TENSION_H

#include <stddef.h>

#include "farend/span.h"
#include "farend/status.h"

/*
 * Change of state: the tension of a cable that was strung in one state and is now colder,
 * warmer, iced or blown on. The piece of cable stays the same; its unstretched length changes
 * with temperature alone. Elastic only: creep and the stretch that ice leaves are the caller's,
 * as an unstretched length (span.h) or a temperature step.
 *
 * Tension is the horizontal pull along the line from support to support throughout. Loads are
 * forces a metre of cable, unstretched, at the temperature of the first state. A wind load
 * turns the plane of the cable (fe_span_resultant).
 */
typedef struct fe_tension_cable {
    double stiffness_n;     /* modulus times area, > 0; INFINITY: does not stretch */
    double expansion_per_k; /* any finite, usually 5e-6 to 25e-6 */
} fe_tension_cable;

typedef struct fe_tension_state {
    double temp_c;
    double vertical_n_m;   /* weight, with ice; > 0 */
    double wind_n_m;       /* square to the span; >= 0 */
    double compliance_m_n; /* how far BOTH supports together give for each newton; 0: rigid */
} fe_tension_state;

/*
 * Dead-ended span, elastic catenary at any heights of the supports: what the program prints.
 *
 *   span_m, rise_m  of the supports without any pull (as pegged)
 *   cable, from, to see above; supports that give stand nearer by compliance times pull, at
 *                   stringing too. Creep of a post is a larger compliance in the later state.
 *   tension_from_n  horizontal tension as strung, > 0
 *   tension_to_n    result; untouched on error
 *   shape           null, or the shape in the later state, in the plane of its resultant
 *
 * FE_OK
 * FE_W_RANGE        result set, but the cable stretches by more than 1 %
 * FE_E_DOMAIN       an argument is not finite or out of range; the ends meet
 * FE_E_NO_SOLUTION  the cable would have to stretch by half (or at all, where it cannot)
 * FE_E_CONVERGE, FE_E_MEMORY
 *
 * Source: equal unstretched lengths of the elastic catenary (span.h), derived here.
 */
FE_MUST_CHECK fe_status fe_tension_change(double span_m, double rise_m,
                                          const fe_tension_cable *cable,
                                          const fe_tension_state *from, double tension_from_n,
                                          const fe_tension_state *to, double *tension_to_n,
                                          fe_span_shape *shape);

/*
 * Spans over which the cable runs free (blocks): one pull along the line in all of them, and
 * the sum of the unstretched lengths is kept.
 *
 *   spans_m, rises_m  `count` values each; rises_m may be null where all are level
 * The same statuses. The supports' compliance is that of the two ends of the section.
 */
FE_MUST_CHECK fe_status fe_tension_change_free(const double *spans_m, const double *rises_m,
                                               size_t count, const fe_tension_cable *cable,
                                               const fe_tension_state *from,
                                               double tension_from_n,
                                               const fe_tension_state *to,
                                               double *tension_to_n);

/*
 * The parabolic state equation of published sheets:
 *   (T2 - T1)/(E A) + alpha (t2 - t1) = (a^2/24) (w2^2/T2^2 - w1^2/T1^2),
 * loads as resultants; with a rise, spans and loads are turned to the straight line between the
 * supports (derived here). Rigid supports: compliance must be 0.
 * Source: worked sheets named in tests/reference/wire/change_of_state.csv.
 */
FE_MUST_CHECK fe_status fe_tension_change_parabola(
    double span_m, double rise_m, const fe_tension_cable *cable, const fe_tension_state *from,
    double tension_from_n, const fe_tension_state *to, double *tension_to_n);

/*
 * Ruling (equivalent) span of level spans over which the cable runs free: the one span whose
 * tension changes as theirs does, sqrt(sum a^3 / sum a).
 *   spans_m  count > 0 values, > 0
 * FE_E_DOMAIN otherwise.
 * Source: rural utility design guides and papers on the method.
 */
FE_MUST_CHECK fe_status fe_tension_ruling_span(const double *spans_m, size_t count,
                                               double *ruling_span_m);

/*
 * How far an upright post gives at its attachment for each newton:
 * h^3 (1 + k_def) / (3 E I) + h^2 / k_theta.
 *
 *   height_m                 of the attachment above ground, > 0
 *   bending_stiffness_n_m2   E I of the post, > 0
 *   ground_n_m_rad           turning stiffness of the ground, > 0; INFINITY: clamped
 *   creep                    k_def: 0 at once, 2 for wood outdoors in the long run
 * FE_E_DOMAIN otherwise.
 * Source: cantilever formula; k_def of EN 1995-1-1 table 3.2 for service class 3, from memory.
 */
FE_MUST_CHECK fe_status fe_tension_post_compliance(double height_m,
                                                   double bending_stiffness_n_m2,
                                                   double ground_n_m_rad, double creep,
                                                   double *compliance_m_n);

#endif
