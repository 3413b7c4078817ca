/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/obstruction.h"

#include <math.h>

#include "farend/fresnel.h"
#include "testing.h"

static void terrain_obstruction__is_10_db_at_grazing_and_0_at_half_the_zone(void **state)
{
    (void)state;
    fe_obstruction got = {0};
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 300.0, 700.0, 2e9, &got), FE_W_RANGE);
    assert_close(got.loss_db, 10.0, 0.0);
    assert_int_equal(fe_terrain_obstruction_loss(0.5 * got.radius_m, 300.0, 700.0, 2e9, &got),
                     FE_W_RANGE);
    assert_close(got.loss_db, 0.0, 1e-12);
}

static void terrain_obstruction__is_stated_from_15_db(void **state)
{
    (void)state;
    fe_obstruction got = {0};
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 300.0, 700.0, 2e9, &got), FE_W_RANGE);
    const double quarter_m = 0.25 * got.radius_m; /* 5 dB of the slope of 20 a radius */
    assert_int_equal(fe_terrain_obstruction_loss(-1.001 * quarter_m, 300.0, 700.0, 2e9, &got),
                     FE_OK);
    assert_int_equal(fe_terrain_obstruction_loss(-0.999 * quarter_m, 300.0, 700.0, 2e9, &got),
                     FE_W_RANGE);
}

static void terrain_obstruction__is_same_from_either_end(void **state)
{
    (void)state;
    fe_obstruction a = {0};
    fe_obstruction b = {0};
    assert_int_equal(fe_terrain_obstruction_loss(-3.0, 300.0, 700.0, 2e9, &a), FE_OK);
    assert_int_equal(fe_terrain_obstruction_loss(-3.0, 700.0, 300.0, 2e9, &b), FE_OK);
    assert_close(a.loss_db, b.loss_db, 1e-12);
}

static void terrain_obstruction__counts_in_the_zone_rounded_by_its_source(void **state)
{
    (void)state;
    fe_obstruction got = {0};
    double radius_m = 0.0;
    assert_int_equal(fe_terrain_obstruction_loss(-9.0, 300.0, 700.0, 2e9, &got), FE_OK);
    assert_int_equal(fe_fresnel_radius(1, 300.0, 700.0, 2e9, &radius_m), FE_OK);
    assert_close_relative(got.radius_m, radius_m, 1e-3);
}

/* An obstacle a hand's breadth from an antenna: grazing is 10 dB however small the zone. */
static void terrain_obstruction__counts_close_to_an_end(void **state)
{
    (void)state;
    fe_obstruction got = {0};
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 0.05, 1000.0, 2e9, &got), FE_W_RANGE);
    assert_close(got.loss_db, 10.0, 0.0);
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 1000.0, 0.05, 2e9, &got), FE_W_RANGE);
    assert_close(got.loss_db, 10.0, 0.0);
    /* 0.05 m of the way: wavelength 0.15 m, so a radius of sqrt(0.15 x 0.05) m = 86.6 mm. */
    assert_close(got.radius_m, 0.0866, 0.0002);
}

static void terrain_obstruction__refuses_what_is_no_path(void **state)
{
    (void)state;
    fe_obstruction got = {7.0, 7.0};
    assert_int_equal(fe_terrain_obstruction_loss(NAN, 1.0, 1.0, 1e9, &got), FE_E_DOMAIN);
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 0.0, 1.0, 1e9, &got), FE_E_DOMAIN);
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 1.0, -1.0, 1e9, &got), FE_E_DOMAIN);
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 1.0, NAN, 1e9, &got), FE_E_DOMAIN);
    assert_int_equal(fe_terrain_obstruction_loss(0.0, INFINITY, 1.0, 1e9, &got), FE_E_DOMAIN);
    assert_int_equal(fe_terrain_obstruction_loss(0.0, 1.0, 1.0, 0.0, &got), FE_E_DOMAIN);
    assert_close(got.loss_db, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(terrain_obstruction__is_10_db_at_grazing_and_0_at_half_the_zone),
        cmocka_unit_test(terrain_obstruction__is_stated_from_15_db),
        cmocka_unit_test(terrain_obstruction__is_same_from_either_end),
        cmocka_unit_test(terrain_obstruction__counts_in_the_zone_rounded_by_its_source),
        cmocka_unit_test(terrain_obstruction__counts_close_to_an_end),
        cmocka_unit_test(terrain_obstruction__refuses_what_is_no_path),
    };
    return FE_RUN_TESTS(tests);
}
