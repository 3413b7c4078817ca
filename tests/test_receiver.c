/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/receiver.h"

#include <math.h>

#include "testing.h"

static double threshold(double sensitivity_dbm, double width_hz, double outside_dbm,
                        double bonus_db)
{
    double threshold_dbm = NAN;
    assert_int_equal(
        fe_receiver_threshold(sensitivity_dbm, width_hz, outside_dbm, bonus_db, &threshold_dbm),
        FE_OK);
    return threshold_dbm;
}

static void quiet_air__leaves_the_sensitivity(void **state)
{
    (void)state;
    assert_close(threshold(-82.0, 20e6, -INFINITY, 0.0), -82.0, 1e-12);
    assert_close(threshold(-76.0, 80e6, -INFINITY, 4.0), -80.0, 1e-12);
}

static void noise_equal_to_the_floor__costs_three_decibels(void **state)
{
    (void)state;
    assert_close(threshold(-82.0, 20e6, -86.0, 0.0), -82.0 + 10.0 * log10(2.0), 1e-12);
    /* The floor rises with the width, so the same noise in each 20 MHz costs the same. */
    assert_close(threshold(-79.0, 40e6, -86.0 + 10.0 * log10(2.0), 0.0),
                 -79.0 + 10.0 * log10(2.0), 1e-9);
}

static void strong_noise__sets_the_threshold_alone(void **state)
{
    (void)state;
    /* 4 dB of signal-to-noise ratio over noise 40 dB above the floor. */
    assert_close(threshold(-82.0, 20e6, -46.0, 0.0), -42.0, 0.001);
}

static void bad_arguments__are_refused(void **state)
{
    (void)state;
    double threshold_dbm = 7.0;
    assert_int_equal(fe_receiver_threshold(NAN, 20e6, -90.0, 0.0, &threshold_dbm), FE_E_DOMAIN);
    assert_int_equal(fe_receiver_threshold(-82.0, 0.0, -90.0, 0.0, &threshold_dbm),
                     FE_E_DOMAIN);
    assert_int_equal(fe_receiver_threshold(-82.0, 20e6, NAN, 0.0, &threshold_dbm), FE_E_DOMAIN);
    assert_int_equal(fe_receiver_threshold(-82.0, 20e6, -90.0, -1.0, &threshold_dbm),
                     FE_E_DOMAIN);
    assert_true(threshold_dbm == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quiet_air__leaves_the_sensitivity),
        cmocka_unit_test(noise_equal_to_the_floor__costs_three_decibels),
        cmocka_unit_test(strong_noise__sets_the_threshold_alone),
        cmocka_unit_test(bad_arguments__are_refused),
    };
    return FE_RUN_TESTS(tests);
}
