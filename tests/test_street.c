/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/street.h"
#include "testing.h"

static void street_bounds__are_continuous_at_the_breakpoint(void **state)
{
    (void)state;
    fe_street_bounds at, before, beyond;
    assert_int_equal(fe_street_breakpoint_bounds(2.4e9, 100.0, 2.0, 3.0, &at), FE_OK);
    const double d_m = at.breakpoint_m;
    assert_int_equal(fe_street_breakpoint_bounds(2.4e9, d_m * 0.999999, 2.0, 3.0, &before),
                     FE_OK);
    assert_int_equal(fe_street_breakpoint_bounds(2.4e9, d_m * 1.000001, 2.0, 3.0, &beyond),
                     FE_OK);
    assert_close(before.lower_db, beyond.lower_db, 1e-4);
    assert_close(before.upper_db, beyond.upper_db, 1e-4);
    assert_close(before.upper_db - before.lower_db, 20.0, 1e-4);
}

/* Inside 20 m with its square; the upper bound runs 20 dB beside the lower at any distance. */
static void low_antennas__lose_with_the_cube_of_distance(void **state)
{
    (void)state;
    fe_street_bounds inside, near, far;
    assert_int_equal(fe_street_low_antennas(5.8e9, 2.0, &inside), FE_OK);
    assert_int_equal(fe_street_low_antennas(5.8e9, 50.0, &near), FE_OK);
    assert_int_equal(fe_street_low_antennas(5.8e9, 500.0, &far), FE_OK);
    assert_close(far.lower_db - near.lower_db, 30.0, 1e-9);
    assert_close(inside.loss_breakpoint_db - inside.lower_db, 20.0, 1e-9);
    assert_close(inside.upper_db - inside.lower_db, 20.0, 1e-9);
    assert_close(near.upper_db - near.lower_db, 20.0, 1e-9);
    assert_close(far.upper_db - far.lower_db, 20.0, 1e-9);
}

static void street_quantiles__lie_even_about_the_median(void **state)
{
    (void)state;
    fe_street_loss got;
    assert_int_equal(
        fe_street_site_general(fe_street_law_find("nlos_residential"), 5.2e9, 60.0, &got),
        FE_OK);
    assert_close(got.p90_db - got.median_db, got.median_db - got.p10_db, 1e-9);
    assert_close(got.p90_db - got.median_db, 1.28155 * 3.07, 1e-4);
}

static void street__warns_and_refuses(void **state)
{
    (void)state;
    fe_street_loss got = {.median_db = 7.0};
    fe_street_bounds bounds = {.lower_db = 7.0};
    const fe_street_law *law = fe_street_law_find("los_urban_suburban");
    assert_null(fe_street_law_find("moor"));
    assert_int_equal(fe_street_site_general(NULL, 5e9, 60.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_street_site_general(law, NAN, 60.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_street_site_general(law, 5e9, 0.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_street_breakpoint_bounds(NAN, 1.0, 1.0, 1.0, &bounds), FE_E_DOMAIN);
    assert_int_equal(fe_street_breakpoint_bounds(1e9, 1.0, 0.0, 1.0, &bounds), FE_E_DOMAIN);
    assert_int_equal(fe_street_low_antennas(1e9, NAN, &bounds), FE_E_DOMAIN);
    assert_close(got.median_db, 7.0, 0.0);
    assert_close(bounds.lower_db, 7.0, 0.0);
    assert_int_equal(fe_street_site_general(law, 5e9, 661.0, &got), FE_W_RANGE);
    assert_int_equal(fe_street_site_general(law, 0.79e9, 60.0, &got), FE_W_RANGE);
    assert_int_equal(fe_street_breakpoint_bounds(5e9, 100.0, 2.0, 2.0, &bounds), FE_W_RANGE);
    assert_int_equal(fe_street_low_antennas(2.4e9, 100.0, &bounds), FE_W_RANGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(street_bounds__are_continuous_at_the_breakpoint),
        cmocka_unit_test(low_antennas__lose_with_the_cube_of_distance),
        cmocka_unit_test(street_quantiles__lie_even_about_the_median),
        cmocka_unit_test(street__warns_and_refuses),
    };
    return FE_RUN_TESTS(tests);
}
