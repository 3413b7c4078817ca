/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/parabola.h"

#include <math.h>
#include <stdbool.h>

#include "base/argument.h"

/* At a sag of a tenth of the span the catenary of the same tension sags 1.3 % more. */
static const double MOST_SAG_OF_SPAN = 0.1;

static fe_status range_of(double sag_m, double span_m)
{
    return sag_m > MOST_SAG_OF_SPAN * span_m ? FE_W_RANGE : FE_OK;
}

static double sag_of(double span_m, double load_n_m, double tension_n)
{
    return load_n_m * span_m * span_m / (8.0 * tension_n);
}

fe_status fe_parabola_sag(double span_m, double load_n_m, double tension_n, double *sag_m)
{
    if (!is_positive(span_m) || !is_positive(load_n_m) || !is_positive(tension_n))
        return FE_E_DOMAIN;
    *sag_m = sag_of(span_m, load_n_m, tension_n);
    return range_of(*sag_m, span_m);
}

fe_status fe_parabola_tension(double span_m, double load_n_m, double sag_m, double *tension_n)
{
    if (!is_positive(span_m) || !is_positive(load_n_m) || !is_positive(sag_m))
        return FE_E_DOMAIN;
    *tension_n = load_n_m * span_m * span_m / (8.0 * sag_m);
    return range_of(sag_m, span_m);
}

fe_status fe_parabola_span(double load_n_m, double tension_n, double sag_m, double *span_m)
{
    if (!is_positive(load_n_m) || !is_positive(tension_n) || !is_positive(sag_m))
        return FE_E_DOMAIN;
    *span_m = sqrt(8.0 * tension_n * sag_m / load_n_m);
    return range_of(sag_m, *span_m);
}

fe_status fe_parabola_length(double span_m, double sag_m, double *length_m)
{
    if (!is_positive(span_m) || !is_positive(sag_m))
        return FE_E_DOMAIN;
    *length_m = span_m + 8.0 / 3.0 * sag_m * (sag_m / span_m);
    return range_of(sag_m, span_m);
}

fe_status fe_parabola_end_tension(double span_m, double load_n_m, double tension_n,
                                  double *end_tension_n)
{
    if (!is_positive(span_m) || !is_positive(load_n_m) || !is_positive(tension_n))
        return FE_E_DOMAIN;
    *end_tension_n = hypot(tension_n, 0.5 * load_n_m * span_m);
    return range_of(sag_of(span_m, load_n_m, tension_n), span_m);
}

fe_status fe_parabola_inclined_span(double span_m, double rise_m, double load_n_m,
                                    double tension_n, fe_parabola_inclined *result)
{
    if (!is_positive(span_m) || !is_positive(load_n_m) || !is_positive(tension_n))
        return FE_E_DOMAIN;
    if (!is_at_least_zero(rise_m))
        return FE_E_DOMAIN;
    const double half_curvature = load_n_m / (2.0 * tension_n);
    const double low_m = 0.5 * span_m - tension_n * rise_m / (load_n_m * span_m);
    const fe_parabola_inclined found = {
        .low_point_from_lower_m = low_m,
        .drop_below_lower_m = half_curvature * low_m * low_m,
        .drop_below_higher_m = half_curvature * (span_m - low_m) * (span_m - low_m),
        .drop_at_midspan_m = sag_of(span_m, load_n_m, tension_n),
    };
    *result = found;
    return range_of(found.drop_at_midspan_m, span_m);
}

fe_status fe_parabola_tensions_from_drops(double span_m, double load_n_m,
                                          double drop_below_lower_m, double drop_below_higher_m,
                                          fe_parabola_from_drops *result)
{
    if (!is_positive(span_m) || !is_positive(load_n_m) || !is_positive(drop_below_lower_m))
        return FE_E_DOMAIN;
    if (!(drop_below_higher_m >= drop_below_lower_m) || !isfinite(drop_below_higher_m))
        return FE_E_DOMAIN;
    const double low_m = span_m / (1.0 + sqrt(drop_below_higher_m / drop_below_lower_m));
    const double tension_n = load_n_m * low_m * low_m / (2.0 * drop_below_lower_m);
    const fe_parabola_from_drops found = {
        .low_point_from_lower_m = low_m,
        .tension_horizontal_n = tension_n,
        .tension_higher_end_n = hypot(tension_n, load_n_m * (span_m - low_m)),
    };
    *result = found;
    return range_of(sag_of(span_m, load_n_m, tension_n), span_m);
}

fe_status fe_parabola_slope_clearance(double span_m, double slope, double load_n_m,
                                      double tension_n, double attachment_m,
                                      double *clearance_of_low_point_m,
                                      double *minimum_clearance_m)
{
    if (!is_positive(attachment_m))
        return FE_E_DOMAIN;
    /* Which end is the higher one makes no difference. */
    const double rise_per_m = fabs(slope);
    fe_parabola_inclined wire;
    const fe_status status =
        fe_parabola_inclined_span(span_m, rise_per_m * span_m, load_n_m, tension_n, &wire);
    if (status < 0)
        return status;
    const double low_m = wire.low_point_from_lower_m;
    *minimum_clearance_m = attachment_m - wire.drop_at_midspan_m;
    *clearance_of_low_point_m =
        low_m > 0.0 ? attachment_m - wire.drop_below_lower_m - rise_per_m * low_m
                    : attachment_m;
    return status;
}
