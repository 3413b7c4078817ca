/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/bullington_v.h"

double bullington_v_of_horizons(double rise1, double rise2, double length_m, double lambda_m,
                                double v_points)
{
    const double d1_m = rise2 * length_m / (rise1 + rise2);
    const double d2_m = length_m - d1_m;
    if (!(d1_m > 0.0) || !(d2_m > 0.0))
        return v_points;
    return rise1 * d1_m * sqrt(2.0 * length_m / (lambda_m * d1_m * d2_m));
}

static double smooth_slope1(const smooth_earth *e, size_t i)
{
    const double x = e->d_m[i] - e->d_m[0];
    return e->curvature * (e->length_m - x) - e->a1_m / x;
}

static double smooth_slope2(const smooth_earth *e, size_t i)
{
    const double x = e->d_m[i] - e->d_m[0];
    return e->curvature * x - e->a2_m / (e->length_m - x);
}

static double smooth_v_squared(const smooth_earth *e, size_t i)
{
    const double x = e->d_m[i] - e->d_m[0];
    const double y = e->length_m - x;
    const double excess = e->curvature * x * y - (e->a1_m * y + e->a2_m * x) / e->length_m;
    return excess * fabs(excess) / (x * y);
}

/* Largest value at a point between the ends. */
typedef double (*smooth_value)(const smooth_earth *earth, size_t point);

static double largest(const smooth_earth *e, smooth_value value)
{
    double found = -INFINITY;
    for (size_t i = 1; i + 1 < e->n; i++)
        found = larger(found, value(e, i));
    return found;
}

/*
 * The same, of what rises to one peak and falls, by halving: a pass over all points would cost
 * as much as the whole actual profile. Both slopes do, being concave in x. So does v where the
 * line clears the earth everywhere: in u = ln sqrt(d2/d1), with A = a1/d, B = a2/d and
 * M = curvature d / 2, -v goes as A e^u + B e^-u - M / cosh u, whose second derivative is above
 * zero if A e^u + B e^-u > M / cosh u for all u.
 */
static double peak(const smooth_earth *e, smooth_value value)
{
    if (e->n < 3)
        return -INFINITY;
    size_t low = 1;
    size_t high = e->n - 2;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (value(e, middle) < value(e, middle + 1))
            low = middle + 1;
        else
            high = middle;
    }
    return value(e, low);
}

double bullington_v_smooth(const smooth_earth *e, double lambda_m)
{
    const double horizon_m = (sqrt(e->a1_m) + sqrt(e->a2_m)) / sqrt(e->curvature);
    if (e->length_m < horizon_m) /* the line clears the earth everywhere */
        return bullington_v_of_square(peak(e, smooth_v_squared), e->length_m, lambda_m);
    const double line_slope = (e->a2_m - e->a1_m) / e->length_m;
    const double slope1 = peak(e, smooth_slope1);
    if (slope1 < line_slope) /* between wide steps it touches earth that its points clear */
        return bullington_v_of_square(largest(e, smooth_v_squared), e->length_m, lambda_m);
    const double slope2 = peak(e, smooth_slope2);
    return bullington_v_of_horizons(slope1 - line_slope, slope2 + line_slope, e->length_m,
                                    lambda_m, 0.0);
}
