/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Change of state and ruling span against published sheets. */
#include <math.h>

#include "cells.h"
#include "farend/parabola.h"
#include "farend/tension.h"
#include "testing.h"
#include "units.h"

static void tension_after_change__is_the_one_of_the_sheets(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/change_of_state.csv");
    while (fe_reference_next(file)) {
        const double span_m = fe_reference_need(file, "span_m");
        const fe_tension_cable cable = {
            .stiffness_n = fe_reference_need(file, "area_mm2") *
                           fe_reference_need(file, "modulus_kgf_per_mm2") * TEST_KGF_N,
            .expansion_per_k = fe_reference_need(file, "expansion_per_C")};
        const fe_tension_state from = {
            .temp_c = fe_reference_need(file, "t1_C"),
            .vertical_n_m = fe_reference_need(file, "load1_kgf_per_m") * TEST_KGF_N};
        const fe_tension_state to = {
            .temp_c = fe_reference_need(file, "t2_C"),
            .vertical_n_m = fe_reference_need(file, "load2_kgf_per_m") * TEST_KGF_N};
        const double tension_n = fe_reference_need(file, "tension1_kgf") * TEST_KGF_N;
        double tension2_n = NAN;
        double sag2_m = NAN;
        fe_reference_check_status(file,
                                  fe_tension_change_parabola(span_m, 0.0, &cable, &from,
                                                             tension_n, &to, &tension2_n));
        fe_reference_check_status(
            file,
            fe_parabola_sag(span_m, fe_reference_need(file, "sag_load_kgf_per_m") * TEST_KGF_N,
                            tension2_n, &sag2_m));
        check_within(file, "tension2_kgf", tension2_n / TEST_KGF_N,
                     fe_reference_number(file, "tol_tension_kgf"));
        check_within(file, "sag2_m", sag2_m, fe_reference_number(file, "tol_sag_m"));

        /* The catenary is the better model; on these sheets it stays within 0.2 percent. */
        double catenary_n = NAN;
        fe_reference_check_status(file, fe_tension_change(span_m, 0.0, &cable, &from, tension_n,
                                                          &to, &catenary_n, NULL));
        fe_reference_check_that(file, fabs(catenary_n / tension2_n - 1.0) < 2e-3,
                                "the catenary's tension within 0.2 percent");
    }
    fe_reference_close(file);
}

static void ruling_span__is_the_one_of_the_formula(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ruling_span_formula_check.csv");
    while (fe_reference_next(file)) {
        double spans_m[64];
        double ruling_m = NAN;
        const size_t count =
            fe_testing_numbers(fe_reference_text(file, "spans_m"), spans_m, 64);
        fe_reference_check_status(file, fe_tension_ruling_span(spans_m, count, &ruling_m));
        check_within(file, "ruling_span_m", ruling_m, fe_reference_number(file, "tol_m"));
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tension_after_change__is_the_one_of_the_sheets),
        cmocka_unit_test(ruling_span__is_the_one_of_the_formula),
    };
    return FE_RUN_TESTS(tests);
}
