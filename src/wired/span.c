/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/span.h"

#include <math.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "root.h"

/* Half the load on the span over the tension; there the cable is 1e9 times as long as the span.
 */
static const double MOST_HALF_ANGLE = 25.0;
static const double MOST_STRAIN = 0.5;
static const double LINEAR_STRAIN = 0.01;
enum { MOST_NEWTON_STEPS = 60 };

static double square(double x)
{
    return x * x;
}

/* sinh x - x; the plain difference has no digits left where a cable is nearly taut. */
static double sinh_less(double x)
{
    if (fabs(x) > 1.0)
        return sinh(x) - x;
    double sum = 1.0;
    for (int n = 17; n >= 5; n -= 2)
        sum = 1.0 + sum * x * x / (n * (n - 1));
    return sum * x * x * x / 6.0;
}

static double cosh_less_1(double x)
{
    return 2.0 * square(sinh(0.5 * x));
}

double fe_span_chord(const fe_span *span)
{
    return hypot(span->span_m, span->rise_m);
}

static bool is_span(const fe_span *span)
{
    return span->span_m > 0.0 && span->load_n_m > 0.0 && span->stiffness_n > 0.0 &&
           isfinite(span->span_m + span->load_n_m) && isfinite(span->rise_m);
}

/*
 * Half the difference (half) and the mean (mean) of the inclinations at the ends. With
 * c = H/w and e = H/EA the elastic catenary reads
 *     a / 2c = half + e sinh(half) cosh(mean)
 *     h / 2c = sinh(mean) sinh(half) (1 + e cosh(half) cosh(mean))
 */
struct ends {
    double half;
    double mean;
};

/* One step of Newton's method in both unknowns; returns its size relative to them. */
static double newton_step(struct ends *at, double a_2c, double h_2c, double e)
{
    const double s = sinh(at->half);
    const double c = cosh(at->half);
    const double sm = sinh(at->mean);
    const double cm = cosh(at->mean);
    const double f1 = at->half + e * s * cm - a_2c;
    const double f2 = sm * s * (1.0 + e * c * cm) - h_2c;
    const double f1_half = 1.0 + e * c * cm;
    const double f1_mean = e * s * sm;
    const double f2_half = sm * (c + e * cm * (c * c + s * s));
    const double f2_mean = s * (cm + e * c * (cm * cm + sm * sm));
    const double determinant = f1_half * f2_mean - f1_mean * f2_half;
    const double d_half = (f1 * f2_mean - f2 * f1_mean) / determinant;
    const double d_mean = (f2 * f1_half - f1 * f2_half) / determinant;
    /* From a poor start: neither negative nor far beyond what the straight tangent is good for.
     */
    const double half = at->half - d_half;
    at->half = half > 0.0 ? half : 0.5 * at->half;
    at->mean -= fmin(fmax(d_mean, -1.0), 1.0);
    return fabs(d_half) / at->half + fabs(d_mean) / (1.0 + fabs(at->mean));
}

/* The cable that does not stretch, or one whose stretch takes up all of the span. */
static struct ends start_of(double a_2c, double h_2c, double e)
{
    struct ends at = {.half = a_2c};
    if (e > 0.0)
        at.half = fmin(a_2c / (1.0 + e * hypot(1.0, h_2c / a_2c)), asinh(a_2c / e));
    at.mean = asinh(h_2c / sinh(at.half));
    return at;
}

static fe_status solve_ends(double a_2c, double h_2c, double e, struct ends *result)
{
    struct ends at = start_of(a_2c, h_2c, e);
    bool settled = e == 0.0;
    for (int step = 0; !settled && step < MOST_NEWTON_STEPS; step++) {
        const double size = newton_step(&at, a_2c, h_2c, e);
        if (isnan(size))
            return FE_E_CONVERGE;
        /* Convergence is quadratic: one more step brings the last digits. */
        if (size < 1e-9) {
            (void)newton_step(&at, a_2c, h_2c, e);
            settled = true;
        }
    }
    *result = at;
    return settled ? FE_OK : FE_E_CONVERGE;
}

/*
 * Unstretched length less the straight line, from the difference of their squares: what the
 * curve takes (first term) against what the cable stretches (the others).
 */
static double unstretched_excess(const struct ends *at, double c_m, double e,
                                 double unstretched_m, double chord_m)
{
    const double s = sinh(at->half);
    const double sm2 = square(sinh(at->mean));
    const double cm = cosh(at->mean);
    const double curve = sinh_less(at->half) * (s + at->half);
    const double linear = 2.0 * e * s * cm * (at->half + sm2 * s * cosh(at->half));
    const double quadratic = square(e * s * cm) * (1.0 + sm2 * square(cosh(at->half)));
    return square(2.0 * c_m) * (curve - linear - quadratic) / (unstretched_m + chord_m);
}

/* Length as it hangs less that without load. */
static double stretch(const struct ends *at, double c_m, double e)
{
    return 0.5 * c_m * e * (2.0 * at->half + sinh(2.0 * at->half) * cosh(2.0 * at->mean));
}

/*
 * Length as it hangs less the straight line, again from the difference of squares, in which all
 * that cancels is gone: excess without load plus stretch has no digits left where a taut cable
 * stretches by far more than its curve takes.
 */
static double hanging_excess(const struct ends *at, double c_m, double e, double length_m,
                             double chord_m)
{
    const double s = sinh(at->half);
    const double cm = cosh(at->mean);
    const double bow = sinh_less(at->half);
    const double twice = 0.5 * sinh_less(2.0 * at->half);
    const double sum = bow * (s + at->half) + e * s * cm * twice +
                       square(e) * (0.25 * square(twice) +
                                    s * square(cm) * (at->half * cosh_less_1(at->half) - bow));
    return square(2.0 * c_m) * sum / (length_m + chord_m);
}

/* Inclination of the straight line less the mean of the ends; tends to zero when taut. */
static double sag_incline_less_mean(const struct ends *at, double slope, double e)
{
    const double s = sinh(at->half);
    const double q = sinh(at->mean);
    const double cm = cosh(at->mean);
    if (q == 0.0)
        return 0.0;
    const double excess = q * (sinh_less(at->half) + e * s * cm * cosh_less_1(at->half)) /
                          (at->half + e * s * cm);
    return asinh(excess * (slope + q) / (slope * cm + q * hypot(1.0, slope)));
}

/*
 * Height above the tangent that runs parallel to the straight line, `incline` away from the
 * point where it touches.
 */
static double above_tangent(const fe_span_shape *shape, double incline)
{
    const double at_sag = shape->incline_sag;
    /* Where much hangs the two terms of the first form cancel, where little does the others. */
    const double rise =
        fabs(incline) > 1.0
            ? cosh(at_sag + incline) - cosh(at_sag) - incline * sinh(at_sag)
            : cosh(at_sag) * cosh_less_1(incline) + sinh(at_sag) * sinh_less(incline);
    const double slope_change = 2.0 * cosh(at_sag + 0.5 * incline) * sinh(0.5 * incline);
    return shape->constant_m * (rise + 0.5 * shape->strain * square(slope_change));
}

/* Distance along the ground from the first support, at an inclination above the one there. */
static double along(const fe_span_shape *shape, double incline)
{
    const double slope_change =
        2.0 * cosh(shape->incline_0 + 0.5 * incline) * sinh(0.5 * incline);
    return shape->constant_m * (incline + shape->strain * slope_change);
}

static void set_low_point(fe_span_shape *shape, double incline_1)
{
    const double u0 = shape->incline_0;
    shape->low_point_inside = u0 <= 0.0 && incline_1 >= 0.0;
    shape->low_point_m = along(shape, -u0);
    shape->low_point_height_m =
        -shape->constant_m * (cosh_less_1(u0) + 0.5 * shape->strain * square(sinh(u0)));
}

static void set_forces(fe_span_shape *shape, double incline_1)
{
    const double tension_n = shape->tension_horizontal_n;
    shape->tension_first_n = tension_n * cosh(shape->incline_0);
    shape->tension_second_n = tension_n * cosh(incline_1);
    shape->reaction_first_n = -tension_n * sinh(shape->incline_0);
    shape->reaction_second_n = tension_n * sinh(incline_1);
    shape->tension_lower_end_n = fmin(shape->tension_first_n, shape->tension_second_n);
    shape->tension_higher_end_n = fmax(shape->tension_first_n, shape->tension_second_n);
}

static fe_span_shape shape_of(const fe_span *span, double tension_n, const struct ends *ends)
{
    const double e = tension_n / span->stiffness_n;
    const double c_m = tension_n / span->load_n_m;
    const double chord_m = fe_span_chord(span);
    const double mean_to_sag = sag_incline_less_mean(ends, span->rise_m / span->span_m, e);
    fe_span_shape shape = {
        .span = *span,
        .tension_horizontal_n = tension_n,
        .constant_m = c_m,
        .strain = e,
        .incline_0 = ends->mean - ends->half,
        .incline_sag = ends->mean + mean_to_sag,
        .incline_to_sag = ends->half + mean_to_sag,
        .unstretched_m = 2.0 * c_m * sinh(ends->half) * cosh(ends->mean),
    };
    shape.unstretched_excess_m = unstretched_excess(ends, c_m, e, shape.unstretched_m, chord_m);
    const double stretch_m = stretch(ends, c_m, e);
    shape.length_m = shape.unstretched_m + stretch_m;
    shape.length_excess_m = hanging_excess(ends, c_m, e, shape.length_m, chord_m);
    shape.sag_m = above_tangent(&shape, -shape.incline_to_sag);
    shape.sag_at_m = along(&shape, shape.incline_to_sag);
    set_low_point(&shape, ends->mean + ends->half);
    set_forces(&shape, ends->mean + ends->half);
    return shape;
}

static fe_status ends_at_tension(const fe_span *span, double tension_n, struct ends *ends)
{
    const double c2_m = 2.0 * tension_n / span->load_n_m;
    const double e = tension_n / span->stiffness_n;
    const double a_2c = span->span_m / c2_m;
    if (!(a_2c <= MOST_HALF_ANGLE) || e * fe_span_chord(span) > MOST_STRAIN * span->span_m)
        return FE_E_DOMAIN;
    return solve_ends(a_2c, span->rise_m / c2_m, e, ends);
}

fe_status fe_span_at_tension(const fe_span *span, double tension_n, fe_span_shape *shape)
{
    if (!is_span(span) || !is_positive(tension_n))
        return FE_E_DOMAIN;
    struct ends ends;
    const fe_status status = ends_at_tension(span, tension_n, &ends);
    if (status != FE_OK)
        return status;
    const fe_span_shape result = shape_of(span, tension_n, &ends);
    if (!isfinite(result.length_m) || !isfinite(result.sag_m))
        return FE_E_DOMAIN;
    *shape = result;
    return result.tension_higher_end_n > LINEAR_STRAIN * span->stiffness_n ? FE_W_RANGE : FE_OK;
}

/* What a search by tension aims at. */
struct aim {
    const fe_span *span;
    double wanted_m;
    bool by_excess; /* else by sag */
};

static double miss(double tension_n, void *context)
{
    const struct aim *aim = context;
    struct ends ends;
    if (ends_at_tension(aim->span, tension_n, &ends) != FE_OK)
        return NAN;
    if (!aim->by_excess)
        return shape_of(aim->span, tension_n, &ends).sag_m - aim->wanted_m;
    const double c_m = tension_n / aim->span->load_n_m;
    return unstretched_excess(&ends, c_m, tension_n / aim->span->stiffness_n,
                              2.0 * c_m * sinh(ends.half) * cosh(ends.mean),
                              fe_span_chord(aim->span)) -
           aim->wanted_m;
}

/* Sag and excess both fall as the tension grows. */
static fe_status search(const struct aim *aim, double guess_n, fe_span_shape *shape)
{
    const fe_span *span = aim->span;
    const double load_n = span->load_n_m * span->span_m;
    const double least_n = 0.5 * load_n / MOST_HALF_ANGLE * (1.0 + 1e-12);
    const double stretched_n =
        MOST_STRAIN * span->stiffness_n * (span->span_m / fe_span_chord(span)) * (1.0 - 1e-12);
    /* A cable that cannot stretch: so taut that its sag is a ten-millionth of the span. */
    const double most_n = fmin(stretched_n, 1e9 * load_n);
    struct aim context = *aim;
    double tension_n = 0.0;
    const fe_status status =
        wired_root_near(miss, &context, guess_n, least_n, most_n, &tension_n);
    return status == FE_OK ? fe_span_at_tension(span, tension_n, shape) : status;
}

fe_status fe_span_at_sag(const fe_span *span, double sag_m, fe_span_shape *shape)
{
    if (!is_span(span) || !is_positive(sag_m))
        return FE_E_DOMAIN;
    const struct aim aim = {span, sag_m, false};
    const double guess_n = span->load_n_m * span->span_m * fe_span_chord(span) / (8.0 * sag_m);
    return search(&aim, guess_n, shape);
}

/* Parabola: excess over the line is (w a^2)^2 / (24 H^2 line) less the stretch. */
static fe_status guess_from_excess(const fe_span *span, double excess_m, double *tension_n)
{
    const double chord_m = fe_span_chord(span);
    const double curve = square(span->load_n_m * square(span->span_m) / chord_m) / 24.0;
    if (isinf(span->stiffness_n)) {
        if (!(excess_m > 0.0))
            return FE_E_NO_SOLUTION;
        *tension_n = sqrt(curve * chord_m / excess_m);
        return FE_OK;
    }
    const double stiffness_n = span->stiffness_n * span->span_m / chord_m;
    return wired_root_of_cubic(stiffness_n * (excess_m / chord_m), stiffness_n * curve,
                               tension_n);
}

fe_status fe_span_at_excess(const fe_span *span, double unstretched_excess_m,
                            fe_span_shape *shape)
{
    if (!is_span(span) || !isfinite(unstretched_excess_m))
        return FE_E_DOMAIN;
    if (!(unstretched_excess_m > -fe_span_chord(span)))
        return FE_E_NO_SOLUTION;
    double guess_n = 0.0;
    const fe_status status = guess_from_excess(span, unstretched_excess_m, &guess_n);
    if (status != FE_OK)
        return status;
    const struct aim aim = {span, unstretched_excess_m, true};
    return search(&aim, guess_n, shape);
}

fe_status fe_span_at_length(const fe_span *span, double unstretched_m, fe_span_shape *shape)
{
    if (!is_span(span) || !(unstretched_m > 0.0))
        return FE_E_DOMAIN;
    return fe_span_at_excess(span, unstretched_m - fe_span_chord(span), shape);
}

/* Inclination above the one at the first support, at x; a few steps of Newton's method. */
static double incline_at(const fe_span_shape *shape, double x_m)
{
    double incline = x_m / (shape->constant_m * (1.0 + shape->strain));
    for (int step = 0; step < MOST_NEWTON_STEPS && shape->strain > 0.0; step++) {
        const double slope =
            shape->constant_m * (1.0 + shape->strain * cosh(shape->incline_0 + incline));
        const double change = (along(shape, incline) - x_m) / slope;
        incline -= change;
        if (fabs(change) <= 1e-15 * fabs(incline))
            break;
    }
    return incline;
}

fe_status fe_span_drop(const fe_span_shape *shape, double x_m, double *drop_m)
{
    if (!(x_m >= 0.0) || !(x_m <= shape->span.span_m))
        return FE_E_DOMAIN;
    const double incline = incline_at(shape, x_m) - shape->incline_to_sag;
    *drop_m = shape->sag_m - above_tangent(shape, incline);
    return FE_OK;
}

fe_status fe_span_height(const fe_span_shape *shape, double x_m, double *height_m)
{
    double drop_m = 0.0;
    const fe_status status = fe_span_drop(shape, x_m, &drop_m);
    if (status == FE_OK)
        *height_m = shape->span.rise_m * (x_m / shape->span.span_m) - drop_m;
    return status;
}

fe_status fe_span_from_length_and_sag(double length_m, double sag_m, double *span_m,
                                      double *constant_m)
{
    if (!(length_m > 0.0) || !(sag_m > 0.0) || !isfinite(length_m))
        return FE_E_DOMAIN;
    const double half_m = 0.5 * length_m;
    if (!(sag_m < half_m))
        return FE_E_NO_SOLUTION;
    const double c_m = (half_m - sag_m) * (half_m + sag_m) / (2.0 * sag_m);
    *span_m = 2.0 * c_m * asinh(half_m / c_m);
    *constant_m = c_m;
    return FE_OK;
}

fe_status fe_span_resultant(const fe_span *bare, double vertical_n_m, double wind_n_m,
                            fe_span *plane, double *blowout_rad)
{
    if (!is_positive(bare->span_m) || !isfinite(bare->rise_m) || !(bare->stiffness_n > 0.0))
        return FE_E_DOMAIN;
    if (!(vertical_n_m > 0.0) || !(wind_n_m >= 0.0) || !isfinite(vertical_n_m + wind_n_m))
        return FE_E_DOMAIN;
    const double load_n_m = hypot(vertical_n_m, wind_n_m);
    const fe_span turned = {
        .span_m = hypot(bare->span_m, bare->rise_m * (wind_n_m / load_n_m)),
        .rise_m = bare->rise_m * (vertical_n_m / load_n_m),
        .load_n_m = load_n_m,
        .stiffness_n = bare->stiffness_n,
    };
    *plane = turned;
    *blowout_rad = atan2(wind_n_m, vertical_n_m);
    return FE_OK;
}

fe_status fe_span_wave_time(double sag_m, unsigned returns, double *time_s)
{
    if (!is_positive(sag_m) || returns == 0)
        return FE_E_DOMAIN;
    *time_s = 4.0 * returns * sqrt(2.0 * sag_m / FE_GRAVITY_M_S2);
    return FE_OK;
}

fe_status fe_span_sag_from_wave_time(double time_s, unsigned returns, double *sag_m)
{
    if (!is_positive(time_s) || returns == 0)
        return FE_E_DOMAIN;
    *sag_m = 0.5 * FE_GRAVITY_M_S2 * square(time_s / (4.0 * returns));
    return FE_OK;
}
