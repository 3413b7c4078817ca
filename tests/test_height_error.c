/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/height_error.h"
#include "testing.h"

enum { POINTS = 101 };

/* 400 m of flat ground with a sharp rise in the middle. */
typedef struct ground {
    double d_m[POINTS];
    double h_m[POINTS];
    double error_m[POINTS];
} ground;

static ground ridge(double ridge_m, double error_m)
{
    ground made;
    for (int i = 0; i < POINTS; i++) {
        made.d_m[i] = 4.0 * i;
        made.h_m[i] = fmax(0.0, ridge_m - fabs(made.d_m[i] - 200.0) * 0.2);
        made.error_m[i] = error_m;
    }
    return made;
}

static fe_diffraction_path path_over(const ground *given, double antenna_m)
{
    return (fe_diffraction_path){.d_m = given->d_m,
                                 .h_m = given->h_m,
                                 .n = POINTS,
                                 .antenna1_m = antenna_m,
                                 .antenna2_m = antenna_m};
}

static const double F_HZ = 5.5e9;

static fe_height_spread spread_over(const ground *given, double antenna_m)
{
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(F_HZ, 8.5e6, true);
    const fe_diffraction_path path = path_over(given, antenna_m);
    fe_height_spread spread;
    assert_int_equal(fe_height_error_spread(&path, given->error_m, &wave, &spread), FE_OK);
    return spread;
}

static void height_error__is_nothing_where_heights_are_exact(void **state)
{
    (void)state;
    const ground given = ridge(6.0, 0.0);
    const fe_height_spread spread = spread_over(&given, 5.0);
    assert_close(spread.loss_sigma_db, 0.0, 0.0);
    assert_close(spread.clearance_sigma_m, 0.0, 0.0);
    assert_int_equal(spread.places, 1); /* the ridge as a whole */
}

static void height_error__counts_ridge_and_both_ends_in_the_clearance(void **state)
{
    (void)state;
    /* In the middle each end counts half: sqrt(1 + 1/4 + 1/4) of one error. */
    const ground given = ridge(6.0, 0.3);
    assert_close(spread_over(&given, 5.0).clearance_sigma_m, 0.3 * sqrt(1.5), 1e-12);
}

/* A small error must give the slope of the loss over the ridge's height times that error. */
static void height_error__follows_the_slope_of_the_loss(void **state)
{
    (void)state;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(F_HZ, 8.5e6, true);
    const double error_m = 0.02;
    ground given = ridge(6.0, 0.0);
    double loss_db[2];
    for (int k = 0; k < 2; k++) {
        ground moved = given;
        for (int i = 1; i + 1 < POINTS; i++)
            if (given.h_m[i] > 0.0)
                moved.h_m[i] += k ? 0.5 * error_m : -0.5 * error_m;
        const fe_diffraction_path path = path_over(&moved, 5.0);
        fe_delta_bullington over;
        assert_int_equal(fe_delta_bullington_loss(&path, &wave, &over), FE_OK);
        loss_db[k] = over.loss_db;
    }
    for (int i = 0; i < POINTS; i++)
        given.error_m[i] = given.h_m[i] > 0.0 ? error_m : 0.0;
    assert_close_relative(spread_over(&given, 5.0).loss_sigma_db, loss_db[1] - loss_db[0],
                          0.02);
}

/* Two ridges alike, with a dip between them, err apart from each other: one's spread times
 * sqrt(2). */
static void height_error__takes_two_ridges_as_independent(void **state)
{
    (void)state;
    ground given = ridge(0.0, 0.0);
    for (int i = 0; i < POINTS; i++) {
        const double from_top_m = fabs(fabs(given.d_m[i] - 200.0) - 80.0);
        given.h_m[i] = fmax(0.0, 6.0 - 0.2 * from_top_m);
    }
    double one_db[2];
    for (int side = 0; side < 2; side++) {
        ground half = given;
        for (int i = 0; i < POINTS; i++)
            half.error_m[i] = (given.d_m[i] > 200.0) == side && given.h_m[i] > 0.0 ? 0.1 : 0.0;
        const fe_height_spread spread = spread_over(&half, 5.0);
        assert_int_equal(spread.places, 2);
        one_db[side] = spread.loss_sigma_db;
    }
    assert_true(one_db[0] > 0.1);
    assert_close_relative(one_db[0], one_db[1], 1e-9);
    for (int i = 0; i < POINTS; i++)
        given.error_m[i] = given.h_m[i] > 0.0 ? 0.1 : 0.0;
    assert_close_relative(spread_over(&given, 5.0).loss_sigma_db, sqrt(2.0) * one_db[0], 1e-9);
}

static void height_error__grows_with_the_error_and_stays_without_obstacles(void **state)
{
    (void)state;
    const ground fine = ridge(6.0, 0.1);
    const ground rough = ridge(6.0, 0.4);
    const double fine_db = spread_over(&fine, 5.0).loss_sigma_db;
    const double rough_db = spread_over(&rough, 5.0).loss_sigma_db;
    assert_true(fine_db > 0.1);
    assert_true(rough_db > 3.0 * fine_db);
    /* Far below the line nothing comes near the zone. */
    const ground low = ridge(1.0, 0.1);
    const fe_height_spread clear = spread_over(&low, 20.0);
    assert_int_equal(clear.places, 0);
    assert_close(clear.loss_sigma_db, 0.0, 1e-9);
}

static void height_error__is_the_same_from_either_end(void **state)
{
    (void)state;
    ground given = ridge(6.0, 0.2);
    given.error_m[0] = 0.0;
    ground turned = given;
    turned.error_m[0] = 0.2;
    turned.error_m[POINTS - 1] = 0.0;
    assert_close_relative(spread_over(&given, 5.0).loss_sigma_db,
                          spread_over(&turned, 5.0).loss_sigma_db, 1e-9);
}

static void height_error__judges_by_the_zone(void **state)
{
    (void)state;
    double d_m[] = {0.0, 50.0, 100.0, 150.0, 200.0};
    double h_m[] = {0.0, 0.0, 0.0, 0.0, 0.0};
    double error_m[] = {0.1, 0.4, 0.4, 0.55, 0.1};
    const fe_profile profile = {
        .count = 5, .distance_m = d_m, .height_m = h_m, .height_error_m = error_m};
    bool coarse[5];
    fe_height_judgement judged;
    assert_int_equal(fe_height_error_judge(&profile, 2.437e9, coarse, &judged), FE_OK);
    /* Middle of 100 m + 100 m at 2.437 GHz: radius 2.48009 m, as in p526_knife_edge_geometry.
     */
    assert_close(judged.allowed_mid_m, 0.2 * 2.48009, 1e-5);
    assert_close(judged.allowed_end_m, 0.2 * 2.48009 * 0.6, 1e-5);
    assert_int_equal(judged.coarse, 1);
    assert_true(coarse[3] && !coarse[1] && !coarse[0]);
    assert_close(judged.coarse_share, 0.25, 1e-12);
    assert_close(judged.worst_error_m, 0.55, 0.0);
}

static void height_error__refuses_what_is_no_error(void **state)
{
    (void)state;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(F_HZ, 8.5e6, true);
    ground given = ridge(6.0, 0.1);
    const fe_diffraction_path path = path_over(&given, 5.0);
    fe_height_spread spread = {.places = 77};
    given.error_m[4] = NAN;
    assert_int_equal(fe_height_error_spread(&path, given.error_m, &wave, &spread), FE_E_DOMAIN);
    given.error_m[4] = -0.1;
    assert_int_equal(fe_height_error_spread(&path, given.error_m, &wave, &spread), FE_E_DOMAIN);
    assert_int_equal(spread.places, 77);
    const fe_profile bare = {.count = POINTS, .distance_m = given.d_m, .height_m = given.h_m};
    fe_height_judgement judged;
    assert_int_equal(fe_height_error_judge(&bare, F_HZ, NULL, &judged), FE_E_DOMAIN);
    given.error_m[4] = 0.1;
    const fe_profile full = {.count = POINTS,
                             .distance_m = given.d_m,
                             .height_m = given.h_m,
                             .height_error_m = given.error_m};
    assert_int_equal(fe_height_error_judge(&full, NAN, NULL, &judged), FE_E_DOMAIN);
    assert_int_equal(fe_height_error_judge(&full, 0.0, NULL, &judged), FE_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(height_error__is_nothing_where_heights_are_exact),
        cmocka_unit_test(height_error__counts_ridge_and_both_ends_in_the_clearance),
        cmocka_unit_test(height_error__follows_the_slope_of_the_loss),
        cmocka_unit_test(height_error__takes_two_ridges_as_independent),
        cmocka_unit_test(height_error__grows_with_the_error_and_stays_without_obstacles),
        cmocka_unit_test(height_error__is_the_same_from_either_end),
        cmocka_unit_test(height_error__judges_by_the_zone),
        cmocka_unit_test(height_error__refuses_what_is_no_error),
    };
    return FE_RUN_TESTS(tests);
}
