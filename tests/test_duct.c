/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ducts: how full, how far to draw a cable, how deep. */
#include <math.h>

#include "farend/duct.h"
#include "testing.h"

/* NFPA 70 chapter 9 Table 1 (from memory): 53, 31 and 40 %. */
static void fill__is_area_over_area(void **state)
{
    (void)state;
    const double cables_m[] = {10e-3, 10e-3, 20e-3};
    static const double limits[] = {0.53, 0.31, 0.40};
    static const double fills[] = {1.0 / 16.0, 2.0 / 16.0, 6.0 / 16.0};
    for (size_t count = 1; count <= 3; count++) {
        double fill = 0.0, limit = 0.0;
        assert_int_equal(fe_duct_fill(40e-3, cables_m, count, &fill, &limit), FE_OK);
        assert_close(fill, fills[count - 1], 1e-12);
        assert_close(limit, limits[count - 1], 1e-12);
    }
}

/* 110 N, 45 kg/km, friction 0.5: 498.5 m straight; a half turn divides by exp(pi/2) = 4.81. */
static void pull__is_shortened_by_bends(void **state)
{
    (void)state;
    double straight_m = 0.0, bent_m = 0.0;
    const double weight_n_m = 0.045 * 9.80665;
    assert_int_equal(fe_duct_longest_pull(110.0, weight_n_m, 0.5, 0.0, &straight_m), FE_OK);
    assert_close(straight_m, 498.5, 0.1);
    assert_int_equal(fe_duct_longest_pull(110.0, weight_n_m, 0.5, 3.14159265, &bent_m), FE_OK);
    assert_close(straight_m / bent_m, 4.8105, 1e-3);
}

/* NFPA 70 Table 300.5(A): 24 in direct, 18 in in nonmetallic conduit, 6 in in rigid metal
 * conduit, 12 in of its column 4; printed as 600, 450, 150 and 300 mm. */
static void supply__lies_as_deep_as_the_table_says(void **state)
{
    (void)state;
    static const double COVERS_M[] = {0.60, 0.45, 0.15, 0.30};
    for (size_t i = 0; i < sizeof COVERS_M / sizeof COVERS_M[0]; i++) {
        assert_string_equal(fe_burial_depth_at(i)->code, "NFPA 70 Table 300.5(A)");
        assert_close(fe_burial_depth_at(i)->cover_m, COVERS_M[i], 1e-12);
    }
    assert_close(fe_burial_supply_cover(false), 0.60, 1e-12);
    assert_close(fe_burial_supply_cover(true), 0.45, 1e-12);
}

/* Common practice, no source: the rows of the table that are asked for by name. */
static void cover__under_vehicles_and_the_plough_is_that_of_the_table(void **state)
{
    (void)state;
    assert_close(fe_burial_vehicles_cover(), 0.60, 1e-12);
    assert_close(fe_burial_ploughland_cover(), 0.90, 1e-12);
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    double a = 7.0, b = 7.0;
    const double cable_m = 10e-3, none_m = NAN;
    assert_int_equal(fe_duct_fill(NAN, &cable_m, 1, &a, &b), FE_E_DOMAIN);
    assert_int_equal(fe_duct_fill(40e-3, &none_m, 1, &a, &b), FE_E_DOMAIN);
    assert_int_equal(fe_duct_fill(40e-3, &cable_m, 0, &a, &b), FE_E_DOMAIN);
    assert_int_equal(fe_duct_longest_pull(0.0, 1.0, 0.5, 0.0, &a), FE_E_DOMAIN);
    assert_int_equal(fe_duct_longest_pull(110.0, 1.0, 0.5, NAN, &a), FE_E_DOMAIN);
    assert_close(a, 7.0, 0.0);
    assert_close(b, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fill__is_area_over_area),
        cmocka_unit_test(pull__is_shortened_by_bends),
        cmocka_unit_test(supply__lies_as_deep_as_the_table_says),
        cmocka_unit_test(cover__under_vehicles_and_the_plough_is_that_of_the_table),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
