/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sag, length and tension of spans against worked examples of textbooks. */
#include <math.h>

#include "cells.h"
#include "farend/parabola.h"
#include "farend/span.h"
#include "testing.h"
#include "units.h"

static double length_unit(fe_reference *file)
{
    return test_length_unit(fe_reference_text(file, "length_unit"));
}

static double force_unit(fe_reference *file)
{
    return test_force_unit(fe_reference_text(file, "force_unit"));
}

static void level_sag__is_the_one_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/sag_level_parabola.csv");
    while (fe_reference_next(file)) {
        const double m = length_unit(file);
        const double n = force_unit(file);
        const double vertical = fe_reference_need(file, "load_vertical_per_length") * n / m;
        const double across = fe_reference_need(file, "load_horizontal_per_length") * n / m;
        const double span_m = fe_reference_need(file, "span") * m;
        const double tension_n = fe_reference_need(file, "tension_horizontal") * n;
        const double load = hypot(vertical, across);
        const double tolerance = fe_reference_number(file, "tol_abs");
        double sag_m = NAN;
        fe_reference_check_status(file, fe_parabola_sag(span_m, load, tension_n, &sag_m));
        check_within(file, "sag_in_plane_of_resultant", sag_m / m, tolerance);
        check_within(file, "sag_vertical", sag_m / m * vertical / load, tolerance);
    }
    fe_reference_close(file);
}

/* Shape from whatever the row gives beside the load; the span for `length+sag`. */
static fe_status catenary_of(fe_reference *file, double m, double n, fe_span *span,
                             fe_span_shape *shape)
{
    const char *given = fe_reference_text(file, "given");
    const double sag_m = fe_reference_number(file, "sag") * m;
    if (strcmp(given, "length+sag") == 0) {
        double constant_m = NAN;
        const double length_m = fe_reference_need(file, "cable_length") * m;
        const fe_status status =
            fe_span_from_length_and_sag(length_m, sag_m, &span->span_m, &constant_m);
        return status < 0 ? status
                          : fe_span_at_tension(span, constant_m * span->load_n_m, shape);
    }
    span->span_m = fe_reference_need(file, "span") * m;
    if (strcmp(given, "span+c") == 0) {
        const double constant_m = fe_reference_need(file, "catenary_constant") * m;
        return fe_span_at_tension(span, constant_m * span->load_n_m, shape);
    }
    if (strcmp(given, "span+H") == 0)
        return fe_span_at_tension(span, fe_reference_need(file, "tension_lowest_point") * n,
                                  shape);
    if (strcmp(given, "span+length") == 0)
        return fe_span_at_length(span, fe_reference_need(file, "cable_length") * m, shape);
    if (strcmp(given, "span+sag") == 0)
        return fe_span_at_sag(span, sag_m, shape);
    fe_reference_check_that(file, false, "a kind of case that this test knows");
    return FE_E_INPUT;
}

static void catenary__is_the_one_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/sag_catenary.csv");
    while (fe_reference_next(file)) {
        const double m = length_unit(file);
        const double n = force_unit(file);
        fe_span span = {.load_n_m = fe_reference_need(file, "load_per_length") * n / m,
                        .stiffness_n = INFINITY};
        fe_span_shape shape = {0};
        fe_reference_check_status(file, catenary_of(file, m, n, &span, &shape));
        const double tol_sag = fe_reference_number(file, "tol_sag_or_span_abs");
        const double tol_length = fe_reference_number(file, "tol_length_abs");
        const double tol_tension = fe_reference_number(file, "tol_tension_abs");
        check_within(file, "span", span.span_m / m, tol_sag);
        check_within(file, "sag", shape.sag_m / m, tol_sag);
        check_within(file, "cable_length", shape.length_m / m, tol_length);
        check_within(file, "tension_lowest_point", shape.tension_horizontal_n / n, tol_tension);
        check_within(file, "tension_end", shape.tension_higher_end_n / n, tol_tension);
        check_within(file, "catenary_constant", shape.constant_m / m,
                     tol_tension / (span.load_n_m / n * m));
    }
    fe_reference_close(file);
}

static void parabola_length_and_end_tension__are_those_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/sag_parabola_length_tension.csv");
    while (fe_reference_next(file)) {
        const double m = length_unit(file);
        const double n = force_unit(file);
        const double span_m = fe_reference_need(file, "span") * m;
        const double load = fe_reference_need(file, "load_per_length") * n / m;
        const double sag_m = fe_reference_need(file, "sag") * m;
        const double tol_tension = fe_reference_number(file, "tol_tension_abs");
        const double tol_length = fe_reference_number(file, "tol_length_abs");
        double tension_n = NAN;
        double end_n = NAN;
        double length_m = NAN;
        fe_reference_check_status(file, fe_parabola_tension(span_m, load, sag_m, &tension_n));
        fe_reference_check_status(file,
                                  fe_parabola_end_tension(span_m, load, tension_n, &end_n));
        fe_reference_check_status(file, fe_parabola_length(span_m, sag_m, &length_m));
        check_within(file, "tension_horizontal", tension_n / n, tol_tension);
        check_within(file, "tension_end", end_n / n, tol_tension);
        check_within(file, "cable_length", length_m / m, tol_length);
    }
    fe_reference_close(file);
}

static void inclined_parabola__is_the_one_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/sag_inclined_parabola.csv");
    while (fe_reference_next(file)) {
        const double m = length_unit(file);
        const double n = force_unit(file);
        const double rise_m = fe_reference_need(file, "support_diff") * m;
        const double lower_m = fe_reference_number(file, "lower_support_height") * m;
        const double tolerance = fe_reference_number(file, "tol_abs");
        fe_parabola_inclined got = {0};
        fe_reference_check_status(
            file,
            fe_parabola_inclined_span(fe_reference_need(file, "span_horizontal") * m, rise_m,
                                      fe_reference_need(file, "load_per_length") * n / m,
                                      fe_reference_need(file, "tension_horizontal") * n, &got));
        check_within(file, "low_point_from_lower_support", got.low_point_from_lower_m / m,
                     tolerance);
        check_within(file, "drop_below_lower_support", got.drop_below_lower_m / m, tolerance);
        check_within(file, "drop_below_higher_support", got.drop_below_higher_m / m, tolerance);
        check_within(file, "height_at_midspan",
                     (lower_m + 0.5 * rise_m - got.drop_at_midspan_m) / m, tolerance);
        check_within(file, "height_of_low_point", (lower_m - got.drop_below_lower_m) / m,
                     tolerance);
    }
    fe_reference_close(file);
}

static void tensions_from_drops__are_those_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/sag_inclined_end_tension.csv");
    while (fe_reference_next(file)) {
        const double tol_m = fe_reference_number(file, "tol_m");
        const double tol_kn = fe_reference_number(file, "tol_kN");
        fe_parabola_from_drops got = {0};
        fe_reference_check_status(file,
                                  fe_parabola_tensions_from_drops(
                                      fe_reference_need(file, "span_m"),
                                      fe_reference_need(file, "load_N_per_m"),
                                      fe_reference_need(file, "drop_below_lower_m"),
                                      fe_reference_need(file, "drop_below_higher_m"), &got));
        check_within(file, "low_point_from_lower_m", got.low_point_from_lower_m, tol_m);
        check_within(file, "tension_min_kN", got.tension_horizontal_n / 1e3, tol_kn);
        check_within(file, "tension_max_kN", got.tension_higher_end_n / 1e3, tol_kn);
    }
    fe_reference_close(file);
}

/* Rise over run from the ways in which a slope is written. */
static double slope_of(fe_reference *file)
{
    const double slope = fe_reference_need(file, "ground_slope");
    const char *kind = fe_reference_text(file, "slope_kind");
    if (strcmp(kind, "rise/run") == 0)
        return slope;
    if (strcmp(kind, "sine") == 0)
        return slope / sqrt(1.0 - slope * slope);
    if (strcmp(kind, "percent") == 0)
        return slope / 100.0;
    if (strcmp(kind, "degrees") == 0)
        return tan(slope * acos(-1.0) / 180.0);
    fe_reference_check_that(file, false, "a kind of slope that this test knows");
    return NAN;
}

static void clearance_on_a_slope__is_the_one_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/sag_sloping_ground.csv");
    while (fe_reference_next(file)) {
        const double tolerance = fe_reference_number(file, "tol_abs_m");
        double low_m = NAN;
        double least_m = NAN;
        fe_reference_check_status(
            file,
            fe_parabola_slope_clearance(
                fe_reference_need(file, "span_horizontal_m"), slope_of(file),
                fe_reference_need(file, "load_kgf_per_m") * TEST_KGF_N,
                fe_reference_need(file, "tension_horizontal_kgf") * TEST_KGF_N,
                fe_reference_need(file, "attachment_height_above_ground_m"), &low_m, &least_m));
        check_within(file, "clearance_of_low_point_m", low_m, tolerance);
        check_within(file, "minimum_clearance_m", least_m, tolerance);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(level_sag__is_the_one_of_the_books),
        cmocka_unit_test(catenary__is_the_one_of_the_books),
        cmocka_unit_test(parabola_length_and_end_tension__are_those_of_the_books),
        cmocka_unit_test(inclined_parabola__is_the_one_of_the_books),
        cmocka_unit_test(tensions_from_drops__are_those_of_the_books),
        cmocka_unit_test(clearance_on_a_slope__is_the_one_of_the_books),
    };
    return FE_RUN_TESTS(tests);
}
