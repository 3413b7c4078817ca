/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/fault_loop.h"
#include "testing.h"

/* 165 m of 2.5 mm2 behind 0.35 ohm on a B16: worked by hand after BS 7671. */
static void long_thin_feed__does_not_trip_its_breaker(void **state)
{
    (void)state;
    double r1r2 = NAN, zs_ohm = NAN, max_ohm = NAN, fault_a = NAN, trip_a = NAN, cold = NAN;
    assert_int_equal(fe_fault_loop_r1r2(2.5e-6, 2.5e-6, &r1r2), FE_OK);
    assert_int_equal(fe_fault_loop_zs(0.35, r1r2, 165.0, 1.2, &zs_ohm), FE_OK);
    assert_close(zs_ohm, 3.284, 0.0005);
    assert_int_equal(fe_fault_loop_max_zs(FE_BREAKER_B, 16.0, &max_ohm), FE_OK);
    assert_close(max_ohm, 2.73, 1e-12);
    assert_int_equal(fe_fault_loop_current(zs_ohm, &fault_a), FE_OK);
    assert_close(fault_a, 66.5, 0.05);
    assert_int_equal(fe_fault_loop_trip(FE_BREAKER_B, 16.0, &trip_a), FE_OK);
    assert_close(trip_a, 80.0, 1e-12);
    assert_int_equal(fe_fault_loop_cold_limit(max_ohm, &cold), FE_OK);
    assert_close(cold, 0.8 * 2.73, 1e-12);
}

/* At the unrounded limit the fault current is exactly the trip current. */
static void limit_and_trip__are_two_ways_to_say_it(void **state)
{
    (void)state;
    for (int type = FE_BREAKER_B; type <= FE_BREAKER_D; type++) {
        double max_ohm = NAN, fault_a = NAN, trip_a = NAN;
        assert_int_equal(fe_fault_loop_max_zs((fe_breaker_type)type, 13.0, &max_ohm), FE_OK);
        assert_int_equal(fe_fault_loop_current(max_ohm, &fault_a), FE_OK);
        assert_int_equal(fe_fault_loop_trip((fe_breaker_type)type, 13.0, &trip_a), FE_OK);
        assert_close_relative(fault_a, trip_a, 1e-12);
    }
}

/* BS 7671 Table 41.5 note: 1667 ohm for 30 mA, 500 ohm for 100 mA. */
static void electrode__may_have_50_v_over_the_residual_current(void **state)
{
    (void)state;
    double ohm = NAN;
    assert_int_equal(fe_fault_loop_electrode(0.03, &ohm), FE_OK);
    assert_close(ohm, 1667.0, 0.5);
    assert_int_equal(fe_fault_loop_electrode(0.1, &ohm), FE_OK);
    assert_close(ohm, 500.0, 1e-9);
}

static void least_area__grows_with_the_root_of_time(void **state)
{
    (void)state;
    double short_m2 = NAN, long_m2 = NAN;
    assert_int_equal(fe_fault_loop_least_area(1000.0, 0.1, 115.0, &short_m2), FE_OK);
    assert_int_equal(fe_fault_loop_least_area(1000.0, 0.4, 115.0, &long_m2), FE_OK);
    assert_close(1e6 * short_m2, 1000.0 * sqrt(0.1) / 115.0, 1e-12);
    assert_close_relative(long_m2, 2.0 * short_m2, 1e-12);
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    double value = 7.0;
    assert_int_equal(fe_fault_loop_r1r2(0.0, 2.5e-6, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_zs(NAN, 0.01, 10.0, 1.2, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_zs(0.35, 0.01, 10.0, 0.9, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_max_zs(FE_BREAKER_C, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_max_zs_law(FE_BREAKER_C, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_cold_limit(-1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_current(0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_electrode(NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_least_area(1.0, 1.0, 0.0, &value), FE_E_DOMAIN);
    assert_true(value == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(long_thin_feed__does_not_trip_its_breaker),
        cmocka_unit_test(limit_and_trip__are_two_ways_to_say_it),
        cmocka_unit_test(electrode__may_have_50_v_over_the_residual_current),
        cmocka_unit_test(least_area__grows_with_the_root_of_time),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
