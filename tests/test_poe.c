/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/conductor.h"
#include "farend/poe.h"
#include "testing.h"

static double wire(int gauge)
{
    fe_awg awg;
    assert_int_equal(fe_awg_geometry(gauge, &awg), FE_OK);
    return awg.copper_ohm_per_m_20c;
}

/* By hand from the quadratic and the geometry of ASTM B258. */
static void pair_set__has_the_loop_of_one_wire(void **state)
{
    (void)state;
    double loop_ohm = NAN;
    fe_poe_feed feed;
    assert_int_equal(fe_poe_loop(wire(24), 80.0, 1, &loop_ohm), FE_OK);
    assert_close(loop_ohm, 6.737, 0.0005);
    assert_int_equal(fe_poe_deliver(54.0, 25.5, loop_ohm, &feed), FE_OK);
    assert_close(feed.current_a, 0.5039, 0.00005);
    assert_close(feed.device_v, 50.606, 0.001);

    assert_int_equal(fe_poe_loop(wire(23), 90.0, 2, &loop_ohm), FE_OK);
    assert_close(loop_ohm, 3.005, 0.0005);
    assert_int_equal(fe_poe_deliver(54.0, 51.0, loop_ohm, &feed), FE_OK);
    assert_close(feed.current_a, 1.0001, 0.00005);
    assert_close(feed.device_v, 50.994, 0.0005);
}

static void two_roots__are_told_apart(void **state)
{
    (void)state;
    fe_poe_feed feed;
    assert_int_equal(fe_poe_deliver(50.0, 25.5, 12.5, &feed), FE_OK);
    assert_true(feed.device_v > 25.0 && feed.false_v < 25.0);
    assert_close(feed.device_v + feed.false_v, 50.0, 1e-9);
    assert_close(feed.device_v * feed.false_v, 12.5 * 25.5, 1e-9);
}

static void energy__balances_to_1e_9(void **state)
{
    (void)state;
    fe_poe_feed feed;
    assert_int_equal(fe_poe_deliver(52.0, 71.3, 6.25, &feed), FE_OK);
    assert_close_relative(feed.source_w, 52.0 * feed.current_a, 1e-9);
    assert_close_relative(feed.source_w - 6.25 * feed.current_a * feed.current_a, 71.3, 1e-9);
    double device_w = NAN;
    assert_int_equal(fe_poe_device_power(52.0, feed.source_w, 6.25, &device_w), FE_OK);
    assert_close_relative(device_w, 71.3, 1e-9);
}

/* Two pairs of the channel side by side are a pair set, and two of these carry four pairs. */
static void design_loops__are_those_of_pairs_side_by_side(void **state)
{
    (void)state;
    const double channel_ohm =
        fe_pair_resistance_find("channel DC loop resistance limit")->value;
    const double set_ohm =
        fe_pair_resistance_find(
            "PoE design figure of a pair set in a 100 m channel of category 5e and better")
            ->value;
    assert_close(set_ohm, channel_ohm / 2.0, 1e-12);
    assert_close(fe_pair_resistance_find("PoE design figure of a pair set Type 1")->value,
                 fe_poe_class_find(3)->loop_ohm, 1e-12);
    for (int device_class = 4; device_class <= 8; device_class++) {
        const fe_poe_class *found = fe_poe_class_find(device_class);
        assert_close(found->loop_ohm * found->pairs, 2.0 * set_ohm, 1e-12);
    }
}

static void loop_beyond_the_longest__has_no_answer(void **state)
{
    (void)state;
    double longest_ohm = NAN;
    fe_poe_feed feed = {.device_v = 7.0};
    assert_int_equal(fe_poe_longest_loop(44.0, 12.95, &longest_ohm), FE_OK);
    assert_int_equal(fe_poe_deliver(44.0, 12.95, longest_ohm * 1.0001, &feed),
                     FE_E_NO_SOLUTION);
    assert_true(feed.device_v == 7.0);
    assert_int_equal(fe_poe_deliver(44.0, 12.95, longest_ohm * 0.999999, &feed), FE_OK);
    assert_close(feed.device_v, 22.0, 0.1);
}

static void device_voltage__falls_with_length_and_power(void **state)
{
    (void)state;
    fe_poe_feed near, far, heavy;
    assert_int_equal(fe_poe_deliver(54.0, 25.5, 5.0, &near), FE_OK);
    assert_int_equal(fe_poe_deliver(54.0, 25.5, 6.0, &far), FE_OK);
    assert_int_equal(fe_poe_deliver(54.0, 30.0, 6.0, &heavy), FE_OK);
    assert_true(near.device_v > far.device_v && far.device_v > heavy.device_v);
}

static void class__is_the_lowest_that_promises_the_power(void **state)
{
    (void)state;
    assert_int_equal(fe_poe_class_for(3.0)->device_class, 1);
    assert_int_equal(fe_poe_class_for(12.95)->device_class, 3);
    assert_int_equal(fe_poe_class_for(13.0)->device_class, 4);
    assert_int_equal(fe_poe_class_for(51.0)->device_class, 6);
    assert_null(fe_poe_class_for(72.0));
    assert_null(fe_poe_class_for(NAN));
    for (int i = 0; i <= 8; i++)
        assert_non_null(fe_poe_type_find(fe_poe_class_find(i)->lowest_type));
    assert_null(fe_poe_class_find(9));
    assert_null(fe_poe_type_find(0));
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    fe_poe_feed feed;
    double value = 7.0;
    assert_int_equal(fe_poe_loop(0.08, 80.0, 0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_poe_loop(0.08, 80.0, 3, &value), FE_E_DOMAIN);
    assert_int_equal(fe_poe_loop(NAN, 80.0, 1, &value), FE_E_DOMAIN);
    assert_int_equal(fe_poe_deliver(54.0, NAN, 5.0, &feed), FE_E_DOMAIN);
    assert_int_equal(fe_poe_deliver(54.0, 5.0, 0.0, &feed), FE_E_DOMAIN);
    assert_int_equal(fe_poe_longest_loop(54.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_poe_device_power(54.0, 100.0, 40.0, &value), FE_E_NO_SOLUTION);
    assert_int_equal(fe_poe_device_power(NAN, 100.0, 40.0, &value), FE_E_DOMAIN);
    assert_true(value == 7.0);
    assert_null(fe_pair_resistance_find(""));
    assert_close(fe_pair_wire_limit_ohm_per_m(), 0.0938, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pair_set__has_the_loop_of_one_wire),
        cmocka_unit_test(two_roots__are_told_apart),
        cmocka_unit_test(energy__balances_to_1e_9),
        cmocka_unit_test(design_loops__are_those_of_pairs_side_by_side),
        cmocka_unit_test(loop_beyond_the_longest__has_no_answer),
        cmocka_unit_test(device_voltage__falls_with_length_and_power),
        cmocka_unit_test(class__is_the_lowest_that_promises_the_power),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
