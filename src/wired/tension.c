/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/tension.h"

#include <math.h>
#include <stdbool.h>

#include "base/argument.h"
#include "root.h"

static double square(double x)
{
    return x * x;
}

static bool is_state(const fe_tension_state *state)
{
    return isfinite(state->temp_c) && state->vertical_n_m > 0.0 && state->wind_n_m >= 0.0 &&
           isfinite(state->vertical_n_m + state->wind_n_m) &&
           is_at_least_zero(state->compliance_m_n);
}

static bool is_cable(const fe_tension_cable *cable)
{
    return cable->stiffness_n > 0.0 && isfinite(cable->expansion_per_k);
}

/* The spans of a section, and what its cable is compared with. */
struct section {
    const double *spans_m;
    const double *rises_m;
    size_t count;
    const fe_tension_cable *cable;
    const fe_tension_state *state;
    double warmth;   /* 1 + expansion times the temperature step since stringing */
    double wanted_m; /* unstretched excess over the lines between the pegged supports */
};

static double rise_of(const struct section *section, size_t i)
{
    return section->rises_m ? section->rises_m[i] : 0.0;
}

/* Line of the supports, and how much nearer they stand under the pull. */
struct line {
    double span_m;
    double chord_m;
    double given_m; /* chord as pegged less the chord now, without loss of digits */
};

static struct line line_of(double span_m, double rise_m, double given_m)
{
    const double now_m = span_m - given_m;
    const double chord_m = hypot(now_m, rise_m);
    const double pegged_m = hypot(span_m, rise_m);
    const struct line line = {now_m, chord_m,
                              given_m * (span_m + now_m) / (pegged_m + chord_m)};
    return line;
}

/* One span at a pull along the line; its shape in the plane of the resultant. */
static fe_status shape_at(const struct section *section, size_t i, double pull_n,
                          struct line *line, fe_span_shape *shape)
{
    /* All spans share what the ends of the section give; the middle supports are blocks. */
    const double given_m = section->state->compliance_m_n * pull_n / (double)section->count;
    if (!(section->spans_m[i] > given_m))
        return FE_E_DOMAIN;
    *line = line_of(section->spans_m[i], rise_of(section, i), given_m);
    const fe_span bare = {.span_m = line->span_m,
                          .rise_m = rise_of(section, i),
                          .stiffness_n = section->cable->stiffness_n};
    fe_span plane;
    double blowout_rad = 0.0;
    const fe_status status =
        fe_span_resultant(&bare, section->state->vertical_n_m / section->warmth,
                          section->state->wind_n_m / section->warmth, &plane, &blowout_rad);
    if (status < 0)
        return status;
    return fe_span_at_tension(&plane, pull_n * (plane.span_m / line->span_m), shape);
}

/* Unstretched excess over the pegged lines, summed. */
static fe_status excess_at(const struct section *section, double pull_n, double *excess_m)
{
    double sum_m = 0.0;
    fe_status worst = FE_OK;
    for (size_t i = 0; i < section->count; i++) {
        struct line line;
        fe_span_shape shape;
        const fe_status status = shape_at(section, i, pull_n, &line, &shape);
        if (status < 0)
            return status;
        worst = fe_status_worse(worst, status);
        sum_m += shape.unstretched_excess_m - line.given_m;
    }
    *excess_m = sum_m;
    return worst;
}

static double miss(double pull_n, void *context)
{
    const struct section *section = context;
    double excess_m = 0.0;
    if (excess_at(section, pull_n, &excess_m) < 0)
        return NAN;
    return excess_m - section->wanted_m;
}

/* Pulls between which every span of the section can be computed. */
static void pull_limits(const struct section *section, double *least_n, double *most_n)
{
    const double load_n_m =
        hypot(section->state->vertical_n_m, section->state->wind_n_m) / section->warmth;
    *least_n = 0.0;
    *most_n = INFINITY;
    for (size_t i = 0; i < section->count; i++) {
        const double span_m = section->spans_m[i];
        const double chord_m = hypot(span_m, rise_of(section, i));
        const double share = section->state->compliance_m_n / (double)section->count;
        /* A line shortened to half is no longer a span between posts. */
        const double give_n = share > 0.0 ? 0.5 * span_m / share : INFINITY;
        const double near_m = share > 0.0 ? 0.5 * span_m : span_m;
        const double slope_share = near_m / hypot(near_m, rise_of(section, i));
        const double stretch_n = 0.49 * section->cable->stiffness_n * slope_share;
        *least_n = fmax(*least_n, load_n_m * chord_m / 49.0);
        *most_n = fmin(*most_n, fmin(fmin(give_n, stretch_n), 1e9 * load_n_m * span_m));
    }
}

/* Sum of (span^2 / chord)^2 load^2 / 24 chord over the chords: the parabola's slack. */
struct sums {
    double slack;
    double stretch;
    double chord_m;
};

static struct sums sums_of(const struct section *section)
{
    struct sums sums = {0};
    const double load_n_m =
        hypot(section->state->vertical_n_m, section->state->wind_n_m) / section->warmth;
    for (size_t i = 0; i < section->count; i++) {
        const double span_m = section->spans_m[i];
        const double chord_m = hypot(span_m, rise_of(section, i));
        sums.slack += square(load_n_m * square(span_m)) / (24.0 * chord_m);
        sums.stretch += square(chord_m) / span_m / section->cable->stiffness_n;
        sums.chord_m += chord_m;
    }
    sums.stretch += section->state->compliance_m_n;
    return sums;
}

/* slack / H^2 - stretch H = wanted */
static fe_status guess_pull(const struct section *section, double *pull_n)
{
    const struct sums sums = sums_of(section);
    if (sums.stretch > 0.0)
        return wired_root_of_cubic(section->wanted_m / sums.stretch, sums.slack / sums.stretch,
                                   pull_n);
    if (!(section->wanted_m > 0.0))
        return FE_E_NO_SOLUTION;
    *pull_n = sqrt(sums.slack / section->wanted_m);
    return FE_OK;
}

static fe_status check_section(const struct section *section, const fe_tension_state *to,
                               double tension_n)
{
    if (!is_cable(section->cable) || !is_state(section->state) || !is_state(to))
        return FE_E_DOMAIN;
    if (!is_positive(tension_n) || section->count == 0)
        return FE_E_DOMAIN;
    for (size_t i = 0; i < section->count; i++)
        if (!is_positive(section->spans_m[i]) || !isfinite(rise_of(section, i)))
            return FE_E_DOMAIN;
    return FE_OK;
}

/* Turns a section as strung into one in the later state; wanted_m from equal pieces of cable.
 */
static fe_status carry_over(struct section *section, const fe_tension_state *to,
                            double tension_n)
{
    double excess_m = 0.0;
    const fe_status status = excess_at(section, tension_n, &excess_m);
    if (status < 0)
        return status;
    const double growth =
        section->cable->expansion_per_k * (to->temp_c - section->state->temp_c);
    if (!(growth > -0.5) || !(growth < 1.0))
        return FE_E_DOMAIN;
    section->wanted_m = excess_m + growth * (sums_of(section).chord_m + excess_m);
    section->warmth = 1.0 + growth;
    section->state = to;
    return FE_OK;
}

fe_status fe_tension_change_free(const double *spans_m, const double *rises_m, size_t count,
                                 const fe_tension_cable *cable, const fe_tension_state *from,
                                 double tension_from_n, const fe_tension_state *to,
                                 double *tension_to_n)
{
    struct section section = {.spans_m = spans_m,
                              .rises_m = rises_m,
                              .count = count,
                              .cable = cable,
                              .state = from,
                              .warmth = 1.0};
    double pull_n = 0.0;
    double least_n = 0.0;
    double most_n = 0.0;
    fe_status status = check_section(&section, to, tension_from_n);
    if (status == FE_OK)
        status = carry_over(&section, to, tension_from_n);
    if (status == FE_OK)
        status = guess_pull(&section, &pull_n);
    if (status != FE_OK)
        return status;
    pull_limits(&section, &least_n, &most_n);
    if (!(least_n < most_n))
        return FE_E_DOMAIN;
    status = wired_root_near(miss, &section, pull_n, least_n, most_n, &pull_n);
    if (status != FE_OK)
        return status;
    double excess_m = 0.0;
    status = excess_at(&section, pull_n, &excess_m);
    if (status >= 0)
        *tension_to_n = pull_n;
    return status;
}

static fe_status shape_of_change(double span_m, double rise_m, const fe_tension_cable *cable,
                                 const fe_tension_state *from, const fe_tension_state *to,
                                 double pull_n, fe_span_shape *shape)
{
    const struct section section = {.spans_m = &span_m,
                                    .rises_m = &rise_m,
                                    .count = 1,
                                    .cable = cable,
                                    .state = to,
                                    .warmth = 1.0 + cable->expansion_per_k *
                                                        (to->temp_c - from->temp_c)};
    struct line line;
    return shape_at(&section, 0, pull_n, &line, shape);
}

fe_status fe_tension_change(double span_m, double rise_m, const fe_tension_cable *cable,
                            const fe_tension_state *from, double tension_from_n,
                            const fe_tension_state *to, double *tension_to_n,
                            fe_span_shape *shape)
{
    double pull_n = 0.0;
    fe_status status =
        fe_tension_change_free(&span_m, &rise_m, 1, cable, from, tension_from_n, to, &pull_n);
    if (status >= 0 && shape)
        status = shape_of_change(span_m, rise_m, cable, from, to, pull_n, shape);
    if (status >= 0)
        *tension_to_n = pull_n;
    return status;
}

fe_status fe_tension_change_parabola(double span_m, double rise_m,
                                     const fe_tension_cable *cable,
                                     const fe_tension_state *from, double tension_from_n,
                                     const fe_tension_state *to, double *tension_to_n)
{
    const struct section section = {.spans_m = &span_m,
                                    .rises_m = &rise_m,
                                    .count = 1,
                                    .cable = cable,
                                    .state = from,
                                    .warmth = 1.0};
    const fe_status status = check_section(&section, to, tension_from_n);
    if (status != FE_OK)
        return status;
    if (from->compliance_m_n > 0.0 || to->compliance_m_n > 0.0 || isinf(cable->stiffness_n))
        return FE_E_DOMAIN;
    const double share = span_m / hypot(span_m, rise_m);
    const double stiffness_n = cable->stiffness_n * share;
    const double slack = square(span_m * share) / 24.0;
    const double load1_n_m = hypot(from->vertical_n_m, from->wind_n_m);
    const double load2_n_m = hypot(to->vertical_n_m, to->wind_n_m);
    const double strain = slack * square(load1_n_m / tension_from_n) +
                          cable->expansion_per_k * (to->temp_c - from->temp_c) -
                          tension_from_n / stiffness_n;
    return wired_root_of_cubic(stiffness_n * strain, stiffness_n * slack * square(load2_n_m),
                               tension_to_n);
}

fe_status fe_tension_ruling_span(const double *spans_m, size_t count, double *ruling_span_m)
{
    double sum = 0.0;
    double sum_cubes = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!is_positive(spans_m[i]))
            return FE_E_DOMAIN;
        sum += spans_m[i];
        sum_cubes += square(spans_m[i]) * spans_m[i];
    }
    if (count == 0)
        return FE_E_DOMAIN;
    *ruling_span_m = sqrt(sum_cubes / sum);
    return FE_OK;
}

fe_status fe_tension_post_compliance(double height_m, double bending_stiffness_n_m2,
                                     double ground_n_m_rad, double creep,
                                     double *compliance_m_n)
{
    if (!is_positive(height_m) || !(bending_stiffness_n_m2 > 0.0) || !(ground_n_m_rad > 0.0) ||
        !is_at_least_zero(creep))
        return FE_E_DOMAIN;
    *compliance_m_n =
        square(height_m) * height_m * (1.0 + creep) / (3.0 * bending_stiffness_n_m2) +
        square(height_m) / ground_n_m_rad;
    return FE_OK;
}
