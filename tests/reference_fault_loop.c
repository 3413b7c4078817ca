/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fault loop impedance against BS 7671. */
#include <math.h>

#include "farend/fault_loop.h"
#include "testing.h"

static void loops__come_out_as_worked(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/fault_loop_examples.csv");
    while (fe_reference_next(file)) {
        double got = NAN;
        if (*fe_reference_text(file, "inputs")) {
            fe_reference_check_status(
                file, fe_fault_loop_zs(fe_reference_input(file, "ze_ohm"),
                                       1e-3 * fe_reference_input(file, "r1r2_mohm_per_m"),
                                       fe_reference_input(file, "length_m"),
                                       fe_reference_input(file, "factor"), &got));
            fe_reference_check(file, "value", got, 0.0001);
        } else if (!isnan(fe_reference_number(file, "line_mm2"))) {
            fe_reference_check_status(
                file,
                fe_fault_loop_r1r2(1e-6 * fe_reference_need(file, "line_mm2"),
                                   1e-6 * fe_reference_need(file, "protective_mm2"), &got));
            fe_reference_check(file, "value", 1e3 * got, 1e-9);
        } else {
            fe_reference_pass(file, "a fact, nothing to compute");
        }
    }
    fe_reference_close(file);
}

static void check_type(fe_reference *file, const char *column, fe_breaker_type type)
{
    const double rating_a = fe_reference_need(file, "rating_A");
    double table_ohm = NAN, law_ohm = NAN;
    fe_reference_check_status(file, fe_fault_loop_max_zs(type, rating_a, &table_ohm));
    fe_reference_check_status(file, fe_fault_loop_max_zs_law(type, rating_a, &law_ohm));
    fe_reference_check(file, column, table_ohm, 0.0);
    fe_reference_check(file, column, law_ohm, 0.0051);
}

static void greatest_loops__are_those_of_table_41_3(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/fault_loop_max_zs.csv");
    while (fe_reference_next(file)) {
        check_type(file, "type_B_ohm", FE_BREAKER_B);
        check_type(file, "type_C_ohm", FE_BREAKER_C);
        check_type(file, "type_D_ohm", FE_BREAKER_D);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(loops__come_out_as_worked),
        cmocka_unit_test(greatest_loops__are_those_of_table_41_3),
    };
    return FE_RUN_TESTS(tests);
}
