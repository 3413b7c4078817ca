/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/knife_edge.h"

#include <math.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/fresnel.h"

static const double MAX_HEIGHT_OVER_DISTANCE = 0.1;

fe_status fe_knife_edge_v(double height_m, double d1_m, double d2_m, double f_hz, double *v)
{
    if (!is_positive(d1_m) || !is_positive(d2_m) || !is_positive(f_hz) ||
        !isfinite(d1_m + d2_m) || !isfinite(height_m))
        return FE_E_DOMAIN;

    const double lambda_m = FE_SPEED_OF_LIGHT_M_S / f_hz;
    const double nearer_m = fmin(d1_m, d2_m);
    *v = height_m * sqrt(2.0 / lambda_m * (1.0 / d1_m + 1.0 / d2_m));
    return fabs(height_m) > MAX_HEIGHT_OVER_DISTANCE * nearer_m || nearer_m < lambda_m
               ? FE_W_RANGE
               : FE_OK;
}

fe_status fe_knife_edge_loss_fit(double v, double *loss_db)
{
    if (!isfinite(v))
        return FE_E_DOMAIN;
    if (v <= FE_KNIFE_EDGE_CLEAR_V) {
        *loss_db = 0.0;
        return FE_OK;
    }
    const double w = v - 0.1;
    *loss_db = 6.9 + 20.0 * log10(hypot(w, 1.0) + w);
    return FE_OK;
}

/*
 * The loss needs a = 1/2 - C(v) and b = 1/2 - S(v): the field behind the edge is, in square,
 * (a^2 + b^2) / 2. Both fall as 1/v, so that C and S themselves would lose all digits of them.
 */
typedef struct fresnel_rest {
    double a;
    double b;
} fresnel_rest;

/* Power series of C and S; below SERIES_END no term exceeds 4, so no digits are lost. */
static const double SERIES_END = 1.5;

static fresnel_rest rest_by_series(double v)
{
    const double angle = 0.5 * FE_PI * v * v;
    double c = 0.0;
    double s = 0.0;
    double power = v; /* v angle^k / k! */
    for (int k = 0; k < 40 && fabs(power) > 1e-18; k++) {
        const double term = (k / 2 % 2 == 0 ? power : -power) / (2 * k + 1);
        if (k % 2 == 0)
            c += term;
        else
            s += term;
        power *= angle / (k + 1);
    }
    return (fresnel_rest){0.5 - c, 0.5 - s};
}

/*
 * Above it, the auxiliary functions in the form
 *     f = (sqrt 2 / (pi q)) int_0^inf exp(-u^2) / (1 + (u/q)^4) du,   q = v sqrt(pi/2)
 * and g the same with (u/q)^2 in the numerator. The trapezoid rule converges exponentially on
 * such integrands: the poles at |Im u| = q / sqrt 2 leave exp(-sqrt 2 pi q / step), 3e-15 at
 * v = 1.5, and the cut at u = 6.5 leaves 1e-18.
 */
static fresnel_rest rest_by_auxiliary(double v)
{
    const double step = 0.25;
    const double q = v * sqrt(0.5 * FE_PI);
    double f = 0.5;
    double g = 0.0;
    for (int i = 1; i <= 26; i++) {
        const double u = i * step;
        const double ratio = u / q * (u / q);
        const double weight = exp(-u * u) / (1.0 + ratio * ratio);
        f += weight;
        g += weight * ratio;
    }
    const double scale = sqrt(2.0) / (FE_PI * q) * step;
    const double sine = sin(0.5 * FE_PI * v * v);
    const double cosine = cos(0.5 * FE_PI * v * v);
    return (fresnel_rest){scale * (g * cosine - f * sine), scale * (f * cosine + g * sine)};
}

fe_status fe_knife_edge_loss_exact(double v, double *loss_db)
{
    if (!isfinite(v))
        return FE_E_DOMAIN;
    const double size = fabs(v);
    fresnel_rest rest = size < SERIES_END ? rest_by_series(size) : rest_by_auxiliary(size);
    if (v < 0.0) /* C and S are odd */
        rest = (fresnel_rest){1.0 - rest.a, 1.0 - rest.b};
    *loss_db = 3.0102999566398120 - 20.0 * log10(hypot(rest.a, rest.b));
    return FE_OK;
}

/* The straight line from one antenna to another point, over the earth's bulge. */
typedef struct sight {
    double from_d_m;
    double from_h_m;
    double to_d_m;
    double to_h_m;
    double ae_m;
    double lambda_m;
} sight;

/* Clearance over the radius of the first zone. */
static double clearance_ratio(const sight *line, double d_m, double h_m)
{
    const double d1_m = d_m - line->from_d_m;
    const double d2_m = line->to_d_m - d_m;
    const double length_m = line->to_d_m - line->from_d_m;
    const double line_m = (line->from_h_m * d2_m + line->to_h_m * d1_m) / length_m;
    const double clearance_m = line_m - h_m - d1_m * d2_m / (2.0 * line->ae_m);
    return clearance_m / sqrt(line->lambda_m * d1_m * d2_m / length_m);
}

/* Points first to last (not beyond) all clear of the line by 0.6 of its zone. */
static bool is_clear(const sight *line, const double *d_m, const double *h_m, size_t first,
                     size_t end)
{
    for (size_t i = first; i < end; i++)
        if (clearance_ratio(line, d_m[i], h_m[i]) < FE_FRESNEL_WANTED_SHARE)
            return false;
    return true;
}

/* How many separate groups of neighbouring points have v above -0.78. */
static size_t groups_entering(const sight *line, const double *d_m, const double *h_m, size_t n)
{
    size_t groups = 0;
    bool inside = false;
    for (size_t i = 1; i + 1 < n; i++) {
        const bool enters =
            -sqrt(2.0) * clearance_ratio(line, d_m[i], h_m[i]) > FE_KNIFE_EDGE_CLEAR_V;
        groups += enters && !inside;
        inside = enters;
    }
    return groups;
}

fe_status fe_isolated_edge_find(const double *d_m, const double *h_m, size_t n,
                                double antenna1_m, double antenna2_m, double ae_m, double f_hz,
                                fe_isolated_edge *edge)
{
    fe_fresnel_tightest tightest;
    const fe_status status =
        fe_fresnel_walk(d_m, h_m, n, antenna1_m, antenna2_m, ae_m, f_hz, &tightest);
    if (status < 0)
        return status;

    const size_t top = tightest.index;
    const double lambda_m = FE_SPEED_OF_LIGHT_M_S / f_hz;
    const sight whole = {d_m[0], antenna1_m, d_m[n - 1], antenna2_m, ae_m, lambda_m};
    const sight before = {d_m[0], antenna1_m, d_m[top], h_m[top], ae_m, lambda_m};
    const sight behind = {d_m[top], h_m[top], d_m[n - 1], antenna2_m, ae_m, lambda_m};

    /* v is the clearance in first zones times -sqrt 2, so the tightest point has the largest.
     */
    fe_isolated_edge result = {.index = top, .v = -sqrt(2.0) * tightest.clearance_ratio};
    result.found = groups_entering(&whole, d_m, h_m, n) == 1 &&
                   is_clear(&before, d_m, h_m, 1, top) &&
                   is_clear(&behind, d_m, h_m, top + 1, n - 1);
    if (result.found) {
        const fe_status fit = fe_knife_edge_loss_fit(result.v, &result.loss_db);
        if (fit < 0)
            return fit;
    }
    *edge = result;
    return FE_OK;
}
