/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SPAN_H
#define FAREND_SPAN_H

#include <stdbool.h>

#include "farend/status.h"

/*
 * A cable between two supports: the exact elastic catenary, ends at any heights.
 *
 * The load is a constant force a metre of UNSTRETCHED cable, all in one plane (see
 * fe_span_resultant for wind); for a cable that does not stretch the two lengths are the same.
 * Everything is measured from the first support: x along the ground towards the second, heights
 * upwards. Costs about a microsecond at a known tension, some ten times that from a sag or a
 * length. Not here: bending stiffness, point loads, creep; supports that give are in tension.h.
 *
 * Nothing loses digits where the cable is nearly taut: differences of nearly equal numbers are
 * rearranged, and lengths come also as their excess over the straight line.
 *
 * Source: elastic catenary of Irvine, Cable Structures (1981) sec 1.4, from memory; rearranged
 * here in half the difference and the mean of the inclinations at the ends.
 */
typedef struct fe_span {
    double span_m;      /* horizontal distance of the supports, > 0 */
    double rise_m;      /* second support above the first; negative where below */
    double load_n_m;    /* > 0 */
    double stiffness_n; /* modulus times area, > 0; INFINITY: does not stretch */
} fe_span;

typedef struct fe_span_shape {
    fe_span span;
    double sag_m;                /* greatest drop below the straight line between supports */
    double sag_at_m;             /* where that is */
    bool low_point_inside;       /* the cable is level somewhere between the supports */
    double low_point_m;          /* where the curve, continued if need be, is level */
    double low_point_height_m;   /* height of that point above the first support */
    double length_m;             /* of the cable as it hangs */
    double length_excess_m;      /* that less the straight line */
    double unstretched_m;        /* of the same cable without load */
    double unstretched_excess_m; /* that less the straight line; negative where strung tight */
    double tension_horizontal_n; /* the same everywhere */
    double tension_first_n;
    double tension_second_n;
    double tension_lower_end_n;
    double tension_higher_end_n;
    /* Vertical force of a support on the cable; negative holds it down. */
    double reaction_first_n;
    double reaction_second_n;
    /* The curve itself, for heights: inclinations are asinh of slopes. */
    double constant_m;  /* horizontal tension over load */
    double strain;      /* horizontal tension over stiffness */
    double incline_0;   /* at the first support */
    double incline_sag; /* at the greatest sag, above incline_0 by incline_to_sag */
    double incline_to_sag;
} fe_span_shape;

/*
 * Shape at a horizontal tension.
 *
 *   span       see above
 *   tension_n  horizontal tension, > 0
 *   shape      result; untouched on error
 *
 * FE_OK        a few units in the last place
 * FE_W_RANGE   result set, but the cable stretches by more than 1 % somewhere
 * FE_E_DOMAIN  an argument is not finite or out of its range; the tension is under 1/50 of the
 *              load on the span (the cable is no span any more); it would stretch by half
 * FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_span_at_tension(const fe_span *span, double tension_n,
                                           fe_span_shape *shape);

/*
 * Shape with a given greatest drop below the straight line.
 *   sag_m  > 0
 * Statuses as above; FE_E_NO_SOLUTION where no tension gives that sag.
 */
FE_MUST_CHECK fe_status fe_span_at_sag(const fe_span *span, double sag_m, fe_span_shape *shape);

/*
 * Shape of a cable of given unstretched length. The second form takes the length less the
 * straight line, which keeps its digits where the two are nearly equal.
 * FE_E_NO_SOLUTION  too short: it would have to stretch by half, or at all where it cannot
 */
FE_MUST_CHECK fe_status fe_span_at_length(const fe_span *span, double unstretched_m,
                                          fe_span_shape *shape);
FE_MUST_CHECK fe_status fe_span_at_excess(const fe_span *span, double unstretched_excess_m,
                                          fe_span_shape *shape);

/*
 * Drop of the cable below the straight line, and its height above the first support.
 *   x_m          0 to the span
 *   FE_E_DOMAIN  x is outside the span
 */
FE_MUST_CHECK fe_status fe_span_drop(const fe_span_shape *shape, double x_m, double *drop_m);
FE_MUST_CHECK fe_status fe_span_height(const fe_span_shape *shape, double x_m,
                                       double *height_m);

/* Straight line between the supports. */
double fe_span_chord(const fe_span *span);

/*
 * Level span and catenary constant (horizontal tension over load) of a cable that does not
 * stretch, from its length and sag: c = ((s/2)^2 - f^2) / (2 f).
 *   length_m, sag_m   sag > 0 and under half the length
 *   FE_E_NO_SOLUTION  the sag is half the length or more
 */
FE_MUST_CHECK fe_status fe_span_from_length_and_sag(double length_m, double sag_m,
                                                    double *span_m, double *constant_m);

/*
 * The plane of the resultant where wind blows square to the span. A cable hangs in the plane of
 * weight and wind, turned by psi about the line of the supports, tan psi = wind / weight. In it
 * rise is h cos psi and span sqrt(a^2 + h^2 sin^2 psi): the straight line keeps its length.
 *
 *   vertical_n_m      weight with ice, > 0
 *   wind_n_m          >= 0
 *   plane             the span in that plane, stiffness taken over
 *   blowout_rad       psi
 *
 * Source: geometry, derived here. Sag times sin psi is the blow-out at the point of sag.
 */
FE_MUST_CHECK fe_status fe_span_resultant(const fe_span *bare, double vertical_n_m,
                                          double wind_n_m, fe_span *plane, double *blowout_rad);

/*
 * Time for a jerk to run along a bare cable and come back a number of times, whatever the span
 * and the weight: 4 n sqrt(2 f / g).
 *   sag_m    of a level span, > 0, small against the span
 *   returns  1 or more (three or five are usual)
 * Source: wave speed sqrt(H/m) with the sag of the parabola; common practice of line crews.
 */
FE_MUST_CHECK fe_status fe_span_wave_time(double sag_m, unsigned returns, double *time_s);
FE_MUST_CHECK fe_status fe_span_sag_from_wave_time(double time_s, unsigned returns,
                                                   double *sag_m);

#endif
