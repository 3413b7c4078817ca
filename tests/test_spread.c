/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/spread.h"

#include <math.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#include "testing.h"

static void normal__has_its_own_quantiles(void **state)
{
    (void)state;
    fe_spread spread;
    assert_int_equal(fe_spread_normal(1.5, 3.0, &spread), FE_OK);
    assert_close(fe_spread_mean(&spread), 1.5, 1e-6);
    assert_close(fe_spread_sigma(&spread), 3.0, 0.005);
    assert_close(fe_spread_quantile(&spread, 0.9), 1.5 + 3.0 * gsl_cdf_ugaussian_Pinv(0.9),
                 0.01);
    assert_close(fe_spread_chance(&spread, 1.5), 0.5, 1e-4);
}

static void sum__adds_means_and_variances(void **state)
{
    (void)state;
    fe_spread a, b, sum;
    assert_int_equal(fe_spread_normal(2.0, 3.0, &a), FE_OK);
    assert_int_equal(fe_spread_normal(1.0, 4.0, &b), FE_OK);
    assert_int_equal(fe_spread_add(&a, &b, &sum), FE_OK);
    assert_close(fe_spread_mean(&sum), 3.0, 1e-6);
    assert_close(fe_spread_sigma(&sum), 5.0, 0.01);
    assert_int_equal(fe_spread_add(&a, &b, &a), FE_OK); /* in place */
    assert_close(fe_spread_quantile(&a, 0.3), fe_spread_quantile(&sum, 0.3), 1e-12);
}

static void aim__equal_axes_are_exponential(void **state)
{
    (void)state;
    /* 12 s^2 (z1^2 + z2^2) is exponential with mean 24 s^2. */
    fe_spread aim;
    assert_int_equal(fe_spread_aim(0.3, 0.3, 60.0, &aim), FE_OK);
    assert_close(fe_spread_mean(&aim), 24.0 * 0.09, 0.02);
    assert_close(fe_spread_quantile(&aim, 0.9), 24.0 * 0.09 * log(10.0), 0.06);
}

static void aim__dish_of_seven_degrees_aimed_by_eye_loses_seven_db(void **state)
{
    (void)state;
    /* Width 7 degrees, error 4 degrees an axis: the engineering notes give a mean of 7 dB. */
    fe_spread aim;
    assert_int_equal(fe_spread_aim(4.0 / 7.0, 4.0 / 7.0, 20.0, &aim), FE_OK);
    assert_close(fe_spread_mean(&aim), 7.0, 0.5);
    assert_close(fe_spread_chance(&aim, 20.0 + FE_SPREAD_STEP_DB), 1.0, 1e-12);
}

/* Errors far wider than the beam: the power comes by the side lobes, at their loss. */
static void aim__far_off_is_at_the_floor(void **state)
{
    (void)state;
    static const double FLOORS_DB[] = {0.1, 3.0, 20.0};
    for (size_t i = 0; i < 3; i++) {
        fe_spread aim;
        assert_int_equal(fe_spread_aim(1000.0, 0.0, FLOORS_DB[i], &aim), FE_OK);
        assert_close(fe_spread_mean(&aim), FLOORS_DB[i], 0.02);
        assert_int_equal(fe_spread_aim(0.0, 1000.0, FLOORS_DB[i], &aim), FE_OK);
        assert_close(fe_spread_mean(&aim), FLOORS_DB[i], 0.02);
    }
}

/* 12 s^2 z^2 on one axis has the mean 12 s^2, small errors too. */
static void aim__one_axis_has_the_mean_of_its_square(void **state)
{
    (void)state;
    static const double SHARES[] = {0.05, 0.2, 0.3};
    for (size_t i = 0; i < 3; i++) {
        const double wanted_db = 12.0 * SHARES[i] * SHARES[i];
        fe_spread across, upward;
        assert_int_equal(fe_spread_aim(SHARES[i], 0.0, 60.0, &across), FE_OK);
        assert_int_equal(fe_spread_aim(0.0, SHARES[i], 60.0, &upward), FE_OK);
        assert_close(fe_spread_mean(&across), wanted_db, 0.01);
        assert_close(fe_spread_mean(&upward), wanted_db, 0.01);
    }
}

static void half_normal__has_the_mean_of_its_formula(void **state)
{
    (void)state;
    fe_spread spread;
    assert_int_equal(fe_spread_half_normal(1.0, &spread), FE_OK);
    assert_close(fe_spread_mean(&spread), sqrt(2.0 / 3.14159265358979), 0.002);
}

static void no_deviation__is_no_loss(void **state)
{
    (void)state;
    fe_spread normal, half;
    assert_int_equal(fe_spread_normal(0.0, 0.0, &normal), FE_OK);
    assert_int_equal(fe_spread_half_normal(0.0, &half), FE_OK);
    assert_close(fe_spread_mean(&normal), 0.0, 1e-12);
    assert_close(fe_spread_mean(&half), 0.0, 1e-12);
}

static void drawn_builds__fall_into_the_interval_as_often_as_said(void **state)
{
    (void)state;
    /* 100,000 builds drawn from the parts themselves: 80 +- 1 % inside the 80 % interval. */
    fe_spread aim, power, off, all;
    assert_int_equal(fe_spread_aim(0.3, 0.3, 20.0, &aim), FE_OK);
    assert_int_equal(fe_spread_normal(1.5, 1.5, &power), FE_OK);
    assert_int_equal(fe_spread_half_normal(1.0, &off), FE_OK);
    assert_int_equal(fe_spread_add(&aim, &power, &all), FE_OK);
    assert_int_equal(fe_spread_add(&all, &off, &all), FE_OK);
    const double low_db = fe_spread_quantile(&all, 0.1);
    const double high_db = fe_spread_quantile(&all, 0.9);

    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(random, 20260101);
    unsigned inside = 0;
    for (unsigned i = 0; i < 100000; i++) {
        const double across = gsl_ran_gaussian(random, 0.3);
        const double upward = gsl_ran_gaussian(random, 0.3);
        const double loss_db = fmin(20.0, 12.0 * (across * across + upward * upward)) + 1.5 +
                               gsl_ran_gaussian(random, 1.5) +
                               fabs(gsl_ran_gaussian(random, 1.0));
        inside += loss_db >= low_db && loss_db <= high_db;
    }
    gsl_rng_free(random);
    assert_close(inside / 1e5, 0.80, 0.01);
}

static void bad_arguments__are_refused(void **state)
{
    (void)state;
    fe_spread spread;
    assert_int_equal(fe_spread_normal(NAN, 1.0, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_normal(0.0, -1.0, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_exact(INFINITY, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_aim(NAN, 0.1, 20.0, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_aim(0.1, 0.1, 0.0, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_half_normal(NAN, &spread), FE_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(normal__has_its_own_quantiles),
        cmocka_unit_test(sum__adds_means_and_variances),
        cmocka_unit_test(aim__equal_axes_are_exponential),
        cmocka_unit_test(aim__dish_of_seven_degrees_aimed_by_eye_loses_seven_db),
        cmocka_unit_test(aim__far_off_is_at_the_floor),
        cmocka_unit_test(aim__one_axis_has_the_mean_of_its_square),
        cmocka_unit_test(half_normal__has_the_mean_of_its_formula),
        cmocka_unit_test(no_deviation__is_no_loss),
        cmocka_unit_test(drawn_builds__fall_into_the_interval_as_often_as_said),
        cmocka_unit_test(bad_arguments__are_refused),
    };
    return FE_RUN_TESTS(tests);
}
