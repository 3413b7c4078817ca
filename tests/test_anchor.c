/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/anchor.h"

#include <math.h>

#include "farend/constants.h"
#include "testing.h"

static fe_anchor_log log_at(double depth_m, double angle_deg)
{
    return (fe_anchor_log){.length_m = 1.2,
                           .width_m = 0.1,
                           .depth_m = depth_m,
                           .angle_rad = angle_deg * FE_DEG_RAD};
}

static void weaker_soil__holds_less(void **state)
{
    (void)state;
    double gravel_n = 0.0, sand_n = 0.0, clay_n = 0.0, rock_n = 0.0;
    const fe_anchor *least = fe_anchor_at(0);
    assert_int_equal(fe_anchor_holding(least, "gravel", &gravel_n), FE_OK);
    assert_int_equal(fe_anchor_holding(least, "sand", &sand_n), FE_OK);
    assert_int_equal(fe_anchor_holding(least, "clay", &clay_n), FE_OK);
    assert_int_equal(fe_anchor_holding(least, "rock", &rock_n), FE_OK);
    assert_close(gravel_n, 26689.3, 0.1); /* 6000 lbf */
    assert_close(sand_n, 0.75 * gravel_n, 1e-9);
    assert_close(clay_n, 0.5 * gravel_n, 1e-9);
    assert_close(rock_n, gravel_n, 1e-9);
    assert_int_equal(fe_anchor_holding(least, "peat", &clay_n), FE_E_DOMAIN);
}

static void classes__rise_and_their_rods_are_stronger(void **state)
{
    (void)state;
    for (size_t i = 0; i < fe_anchor_count(); i++) {
        assert_true(fe_anchor_at(i)->breaking_n > fe_anchor_at(i)->holding_n);
        assert_true(i == 0 || fe_anchor_at(i)->holding_n > fe_anchor_at(i - 1)->holding_n);
        assert_ptr_equal(fe_anchor_find(fe_anchor_at(i)->name), fe_anchor_at(i));
    }
    assert_null(fe_anchor_at(fe_anchor_count()));
    assert_null(fe_anchor_find("5 lb"));
}

/* Rods of one steel: what breaks one grows with its section, by 357 N/mm2 (from memory: 16,000
 * lbf for 5/8 in). */
static void rods__break_by_their_section(void **state)
{
    (void)state;
    for (size_t i = 0; i < fe_anchor_count(); i++) {
        const fe_anchor *anchor = fe_anchor_at(i);
        const double area_mm2 = 0.25 * FE_PI * anchor->rod_mm * anchor->rod_mm;
        assert_close_relative(anchor->breaking_n, 357.5 * area_mm2, 0.01);
    }
}

/* Halfway between 3 and 4 ft, and between plumb (90) and 45 degrees. */
static void log__holds_between_the_rows_of_its_table(void **state)
{
    (void)state;
    fe_anchor_log log = log_at(3.5 * 0.3048, 67.5);
    double holds_n = 0.0;
    assert_int_equal(fe_anchor_log_holding(&log, "gravel", &holds_n), FE_OK);
    const double psf = 0.25 * (600.0 + 950.0 + 1050.0 + 1750.0);
    assert_close_relative(holds_n, psf * 47.880259 * 0.12, 1e-7);
    double flatter_n = 0.0, deeper_n = 0.0;
    log.angle_rad = 30.0 * FE_DEG_RAD;
    assert_int_equal(fe_anchor_log_holding(&log, "gravel", &flatter_n), FE_OK);
    assert_true(flatter_n > holds_n);
    log.depth_m = 7.0 * 0.3048;
    assert_int_equal(fe_anchor_log_holding(&log, "gravel", &deeper_n), FE_OK);
    assert_true(deeper_n > flatter_n);
    /* Plumb and a quarter of the way from one row to the next, lbf/ft2. */
    static const double ROWS[][2] = {
        {600.0, 1050.0}, {1050.0, 1700.0}, {1700.0, 2400.0}, {2400.0, 3200.0}};
    log.angle_rad = 0.5 * FE_PI;
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        log.depth_m = (3.25 + (double)i) * 0.3048;
        assert_int_equal(fe_anchor_log_holding(&log, "gravel", &holds_n), FE_OK);
        const double between = ROWS[i][0] + 0.25 * (ROWS[i][1] - ROWS[i][0]);
        assert_close_relative(holds_n, between * 47.880259 * 0.12, 1e-7);
    }
}

static void log__is_buried_as_deep_as_it_must(void **state)
{
    (void)state;
    const fe_anchor_log log = log_at(0.0, 45.0);
    double depth_m = 0.0;
    /* 950 and 1750 lbf/ft2 on 0.12 m2, in sand three quarters of it: 4.09 and 7.54 kN. */
    assert_int_equal(fe_anchor_log_depth(&log, "sand", 4.0e3, &depth_m), FE_OK);
    assert_close(depth_m, 0.9144, 1e-9);
    assert_int_equal(fe_anchor_log_depth(&log, "sand", 4.2e3, &depth_m), FE_OK);
    assert_close(depth_m, 1.2192, 1e-9);
    assert_int_equal(fe_anchor_log_depth(&log, "sand", 1e6, &depth_m), FE_E_NO_SOLUTION);
    assert_int_equal(fe_anchor_log_depth(&log, "rock", 1e3, &depth_m), FE_E_DOMAIN);
    assert_int_equal(fe_anchor_log_depth(&log, "sand", 0.0, &depth_m), FE_E_DOMAIN);
}

static void bad_logs__are_refused(void **state)
{
    (void)state;
    const double nan_ = (double)NAN;
    const fe_anchor_log bad[] = {
        {0.0, 0.1, 1.0, 1.0},  {1.2, nan_, 1.0, 1.0},        {1.2, 0.1, 0.5, 1.0},
        {1.2, 0.1, 2.5, 1.0},  {1.2, 0.1, nan_, 1.0},        {1.2, 0.1, 1.0, 0.1},
        {1.2, 0.1, 1.0, nan_}, {1.2, 0.1, 1.0, 0.6 * FE_PI},
    };
    double holds_n = 7.0;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        assert_int_equal(fe_anchor_log_holding(&bad[i], "sand", &holds_n), FE_E_DOMAIN);
    assert_close(holds_n, 7.0, 0.0);
}

static void strand__is_the_thinnest_that_bears(void **state)
{
    (void)state;
    const fe_strand *strand = fe_anchor_strand(9.0e3);
    assert_non_null(strand);
    assert_string_equal(strand->size_in, "5/32"); /* 9.519 kN; 1/8 in has 5.916 */
    assert_null(fe_anchor_strand(1e6));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weaker_soil__holds_less),
        cmocka_unit_test(classes__rise_and_their_rods_are_stronger),
        cmocka_unit_test(rods__break_by_their_section),
        cmocka_unit_test(log__holds_between_the_rows_of_its_table),
        cmocka_unit_test(log__is_buried_as_deep_as_it_must),
        cmocka_unit_test(bad_logs__are_refused),
        cmocka_unit_test(strand__is_the_thinnest_that_bears),
    };
    return FE_RUN_TESTS(tests);
}
