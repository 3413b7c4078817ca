/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/earth.h"

#include <math.h>

#include "farend/constants.h"
#include "testing.h"

static void effective_earth__is_the_true_one_in_uniform_air(void **state)
{
    (void)state;
    fe_effective_earth earth = {0};
    assert_int_equal(fe_effective_earth_radius(0.0, &earth), FE_OK);
    assert_close(earth.k_factor, 1.0, 0.0);
    assert_close(earth.ae_m, FE_EARTH_RADIUS_M, 0.0);
}

static void effective_earth__is_four_thirds_at_a_quarter_of_the_duct_lapse(void **state)
{
    (void)state;
    fe_effective_earth earth = {0};
    assert_int_equal(fe_effective_earth_radius(157.0 / 4.0, &earth), FE_OK);
    assert_close(earth.k_factor, 4.0 / 3.0, 1e-15);
}

static void effective_earth__gives_back_the_lapse(void **state)
{
    (void)state;
    for (double lapse = 1.0; lapse < 157.0; lapse += 12.0) {
        fe_effective_earth earth = {0};
        assert_int_equal(fe_effective_earth_radius(lapse, &earth), FE_OK);
        assert_close(157.0 * (1.0 - FE_EARTH_RADIUS_M / earth.ae_m), lapse, 1e-12);
    }
}

static void effective_earth__warns_where_refractivity_rises(void **state)
{
    (void)state;
    fe_effective_earth earth = {0};
    assert_int_equal(fe_effective_earth_radius(-20.0, &earth), FE_W_RANGE);
    assert_true(earth.k_factor < 1.0);
}

static void effective_earth__refuses_ducts_and_nan(void **state)
{
    (void)state;
    fe_effective_earth earth = {7.0, 7.0};
    assert_int_equal(fe_effective_earth_radius(157.0, &earth), FE_E_DOMAIN);
    assert_int_equal(fe_effective_earth_radius(200.0, &earth), FE_E_DOMAIN);
    assert_int_equal(fe_effective_earth_radius(NAN, &earth), FE_E_DOMAIN);
    assert_int_equal(fe_effective_earth_radius(-INFINITY, &earth), FE_E_DOMAIN);
    assert_close(earth.k_factor, 7.0, 0.0);
    assert_close(earth.ae_m, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(effective_earth__is_the_true_one_in_uniform_air),
        cmocka_unit_test(effective_earth__is_four_thirds_at_a_quarter_of_the_duct_lapse),
        cmocka_unit_test(effective_earth__gives_back_the_lapse),
        cmocka_unit_test(effective_earth__warns_where_refractivity_rises),
        cmocka_unit_test(effective_earth__refuses_ducts_and_nan),
    };
    return FE_RUN_TESTS(tests);
}
