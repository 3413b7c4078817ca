/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Power over data pairs against IEEE 802.3 clauses 33 and 145. */
#include <math.h>
#include <string.h>

#include "farend/conductor.h"
#include "farend/poe.h"
#include "testing.h"

static void types__are_the_published_ones(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/poe_types.csv");
    while (fe_reference_next(file)) {
        const fe_poe_type *type = fe_poe_type_find((int)fe_reference_need(file, "type"));
        fe_reference_check_that(file, type != NULL, "a known type");
        if (!type)
            continue;
        fe_reference_check_text(file, "amendment", type->amendment);
        fe_reference_check(file, "max_pse_power_W", type->source_w, 0.0);
        fe_reference_check(file, "pd_power_W", type->device_w, 0.0);
        fe_reference_check(file, "min_pse_voltage_V", type->least_source_v, 0.0);
        fe_reference_check(file, "min_pd_voltage_V", type->least_device_v, 0.0);
        fe_reference_check(file, "max_current_per_pair_set_mA", type->pair_set_ma, 0.0);
    }
    fe_reference_close(file);
}

static void classes__are_the_published_ones(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/poe_classes.csv");
    while (fe_reference_next(file)) {
        const fe_poe_class *row = fe_poe_class_find((int)fe_reference_need(file, "pd_class"));
        fe_reference_check_that(file, row != NULL, "a known class");
        if (!row)
            continue;
        fe_reference_check(file, "lowest_type", row->lowest_type, 0.0);
        fe_reference_check(file, "pse_power_W", row->source_w, 0.0);
        fe_reference_check(file, "pd_power_W", row->device_w, 0.0);
        fe_reference_check(file, "min_pse_voltage_V", row->least_source_v, 0.0);
        fe_reference_check(file, "total_current_A", row->current_a, 0.0);
        fe_reference_check(file, "equivalent_loop_ohm", row->loop_ohm, 0.0);
        fe_reference_check(file, "powered_pairs", row->pairs, 0.0);
        double device_w = NAN;
        fe_reference_check_status(file, fe_poe_device_power(row->least_source_v, row->source_w,
                                                            row->loop_ohm, &device_w));
        fe_reference_check(file, "pd_power_W", device_w, 0.1);
    }
    fe_reference_close(file);
}

static void devices__take_the_upper_root(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/poe_power_vs_loop.csv");
    while (fe_reference_next(file)) {
        const double source_v = fe_reference_need(file, "pse_voltage_V");
        const double device_w = fe_reference_need(file, "device_power_W");
        const double loop_ohm = fe_reference_need(file, "loop_ohm");
        const double tolerance = fe_reference_need(file, "tol_rel");
        double longest_ohm = NAN;
        fe_reference_check_status(file, fe_poe_longest_loop(source_v, device_w, &longest_ohm));
        /* At the limit itself the printed loop may lie a rounding beyond it. */
        const bool at_limit = fabs(loop_ohm / longest_ohm - 1.0) < tolerance;
        fe_poe_feed feed = {NAN, NAN, NAN, NAN};
        fe_reference_check_status(
            file, fe_poe_deliver(source_v, device_w, at_limit ? longest_ohm : loop_ohm, &feed));
        fe_reference_check_relative(file, "current_A", feed.current_a, tolerance);
        fe_reference_check_relative(file, "device_voltage_V", feed.device_v, tolerance);
        fe_reference_check_relative(file, "pse_power_W", feed.source_w, tolerance);
    }
    fe_reference_close(file);
}

/* "24 AWG solid conductor nominal" comes from the geometry, all others from the table. */
static void pair_resistances__are_the_published_ones(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/twisted_pair_dc_resistance.csv");
    while (fe_reference_next(file)) {
        const char *quantity = fe_reference_text(file, "quantity");
        if (strstr(quantity, "AWG")) {
            double gauge = NAN;
            fe_awg awg = {0};
            fe_reference_check_that(file, fe_testing_numbers(quantity, &gauge, 1) == 1,
                                    "a gauge");
            fe_reference_check_status(file, fe_awg_geometry((int)gauge, &awg));
            fe_reference_check_printed(file, "value", 100.0 * awg.copper_ohm_per_m_20c);
            continue;
        }
        const fe_pair_resistance *row = fe_pair_resistance_find(quantity);
        fe_reference_check_that(file, row != NULL, "a row of the table");
        if (!row)
            continue;
        fe_reference_check(file, "value", row->value, 0.0);
        fe_reference_check_text(file, "unit", row->unit);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(types__are_the_published_ones),
        cmocka_unit_test(classes__are_the_published_ones),
        cmocka_unit_test(devices__take_the_upper_root),
        cmocka_unit_test(pair_resistances__are_the_published_ones),
    };
    return FE_RUN_TESTS(tests);
}
