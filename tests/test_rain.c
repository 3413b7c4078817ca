/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/constants.h"
#include "farend/rain.h"
#include "testing.h"

static const fe_rain_wave LEVEL_24GHZ = {.f_hz = 24.125e9};

static void rain_specific__is_nothing_without_rain(void **state)
{
    (void)state;
    fe_rain_attenuation got;
    assert_int_equal(fe_rain_specific(&LEVEL_24GHZ, 0.0, &got), FE_OK);
    assert_close(got.gamma_db_per_m, 0.0, 0.0);
}

static void rain_specific__straight_up_does_not_know_polarisation(void **state)
{
    (void)state;
    fe_rain_attenuation h, v;
    const fe_rain_wave up_h = {24e9, FE_PI / 2.0, 0.0};
    const fe_rain_wave up_v = {24e9, FE_PI / 2.0, FE_PI / 2.0};
    const double rain_m_s = 30.0 * FE_MM_PER_HOUR_M_S;
    assert_int_equal(fe_rain_specific(&up_h, rain_m_s, &h), FE_OK);
    assert_int_equal(fe_rain_specific(&up_v, rain_m_s, &v), FE_OK);
    assert_close_relative(h.gamma_db_per_m, v.gamma_db_per_m, 1e-12);
}

static void rain_path_loss__at_0_01_percent_is_near_its_anchor(void **state)
{
    (void)state;
    /* The share formula gives 0.12 * 8.3 = 0.998 there, not 1. */
    fe_rain_path got;
    assert_int_equal(
        fe_rain_path_loss(&LEVEL_24GHZ, 1500.0, 50.0 * FE_MM_PER_HOUR_M_S, 1e-4, &got), FE_OK);
    assert_close_relative(got.loss_db, got.loss_001_db, 0.005);
}

static void rain_path_loss__falls_with_the_share_of_time(void **state)
{
    (void)state;
    double before = INFINITY;
    for (double share = 1e-5; share <= 1e-2; share *= 1.5) {
        fe_rain_path got;
        assert_int_equal(
            fe_rain_path_loss(&LEVEL_24GHZ, 1500.0, 50.0 * FE_MM_PER_HOUR_M_S, share, &got),
            FE_OK);
        assert_true(got.loss_db < before);
        before = got.loss_db;
    }
}

static void rain_path_factor__is_capped_on_a_short_path(void **state)
{
    (void)state;
    /* 20 m: the denominator is far below 0.4. */
    fe_rain_path got;
    assert_int_equal(
        fe_rain_path_loss(&LEVEL_24GHZ, 20.0, 50.0 * FE_MM_PER_HOUR_M_S, 1e-4, &got), FE_OK);
    assert_true(got.r_uncapped > 2.5);
    assert_close(got.r, 2.5, 0.0);
}

static void rain__warns_outside_its_range(void **state)
{
    (void)state;
    const fe_rain_wave low = {.f_hz = 0.9e9};
    fe_rain_attenuation specific;
    assert_int_equal(fe_rain_specific(&low, 1e-5, &specific), FE_W_RANGE);
    fe_rain_path often, one_percent;
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 1500.0, 1e-5, 0.1, &often), FE_W_RANGE);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 1500.0, 1e-5, 0.01, &one_percent), FE_OK);
    assert_close(often.loss_db, one_percent.loss_db, 0.0);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 61e3, 1e-5, 1e-4, &often), FE_W_RANGE);
}

static void rain__refuses_what_is_no_number(void **state)
{
    (void)state;
    fe_rain_path got = {.loss_db = 7.0};
    const fe_rain_wave no_f = {.f_hz = NAN};
    const fe_rain_wave steep = {24e9, 2.0, 0.0};
    const fe_rain_wave no_tilt = {24e9, 0.0, NAN};
    assert_int_equal(fe_rain_path_loss(&no_f, 100.0, 1e-5, 1e-4, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&steep, 100.0, 1e-5, 1e-4, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&no_tilt, 100.0, 1e-5, 1e-4, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 0.0, 1e-5, 1e-4, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, NAN, 1e-5, 1e-4, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 100.0, -1e-5, 1e-4, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 100.0, NAN, 1e-4, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 100.0, 1e-5, 0.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_rain_path_loss(&LEVEL_24GHZ, 100.0, 1e-5, NAN, &got), FE_E_DOMAIN);
    assert_close(got.loss_db, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rain_specific__is_nothing_without_rain),
        cmocka_unit_test(rain_specific__straight_up_does_not_know_polarisation),
        cmocka_unit_test(rain_path_loss__at_0_01_percent_is_near_its_anchor),
        cmocka_unit_test(rain_path_loss__falls_with_the_share_of_time),
        cmocka_unit_test(rain_path_factor__is_capped_on_a_short_path),
        cmocka_unit_test(rain__warns_outside_its_range),
        cmocka_unit_test(rain__refuses_what_is_no_number),
    };
    return FE_RUN_TESTS(tests);
}
