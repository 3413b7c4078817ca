/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/fresnel.h"

#include <math.h>

#include "testing.h"

static const double AE_M = 8.5e6;

static double radius(unsigned zone, double d1_m, double d2_m, double f_hz)
{
    double radius_m = NAN;
    assert_true(fe_fresnel_radius(zone, d1_m, d2_m, f_hz, &radius_m) >= 0);
    return radius_m;
}

static void fresnel_radius__is_same_from_either_end(void **state)
{
    (void)state;
    assert_close(radius(1, 150.0, 350.0, 5.5e9), radius(1, 350.0, 150.0, 5.5e9), 1e-12);
}

static void fresnel_radius__grows_with_the_root_of_the_zone(void **state)
{
    (void)state;
    const double first_m = radius(1, 150.0, 350.0, 5.5e9);
    assert_close(radius(4, 150.0, 350.0, 5.5e9), 2.0 * first_m, 1e-12);
    assert_close(radius(9, 150.0, 350.0, 5.5e9), 3.0 * first_m, 1e-12);
}

static void fresnel_radius__puts_the_way_round_half_a_wave_longer(void **state)
{
    (void)state;
    const double f_hz = 2.437e9;
    const double lambda_m = 299792458.0 / f_hz;
    const double r_m = radius(1, 150.0, 350.0, f_hz);
    const double longer_m = hypot(150.0, r_m) + hypot(350.0, r_m) - 500.0;
    assert_close_relative(longer_m, 0.5 * lambda_m, 1e-3);
}

static void fresnel_radius__warns_near_an_end(void **state)
{
    (void)state;
    double radius_m = 0.0;
    /* 13 wavelengths at 2.437 GHz are 1.60 m. */
    assert_int_equal(fe_fresnel_radius(1, 1.59, 100.0, 2.437e9, &radius_m), FE_W_RANGE);
    assert_int_equal(fe_fresnel_radius(1, 1.61, 100.0, 2.437e9, &radius_m), FE_OK);
    assert_int_equal(fe_fresnel_radius(1, 100.0, 1.0, 2.437e9, &radius_m), FE_W_RANGE);
}

static void fresnel_radius__refuses_what_is_no_path(void **state)
{
    (void)state;
    double radius_m = 7.0;
    assert_int_equal(fe_fresnel_radius(0, 1.0, 1.0, 1e9, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_radius(1, 0.0, 1.0, 1e9, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_radius(1, 1.0, -1.0, 1e9, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_radius(1, NAN, 1.0, 1e9, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_radius(1, 1.0, INFINITY, 1e9, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_radius(1, 1.0, 1.0, NAN, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_radius(1, 1.0, 1.0, INFINITY, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_clearance_ratio(NAN, 1.0, 1.0, 1e9, &radius_m), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_clearance_ratio(1.0, 0.0, 1.0, 1e9, &radius_m), FE_E_DOMAIN);
    assert_close(radius_m, 7.0, 0.0);
}

enum { POINTS = 101 };

/* 500 m of gentle ground with one bump, 5 m a step. */
typedef struct ground {
    double d_m[POINTS];
    double h_m[POINTS];
} ground;

static ground ground_with_bump(size_t at, double height_m)
{
    ground g;
    for (size_t i = 0; i < POINTS; i++) {
        g.d_m[i] = 5.0 * (double)i;
        g.h_m[i] = 100.0 + 0.3 * sin(0.4 * (double)i);
    }
    g.h_m[at] += height_m;
    return g;
}

static fe_fresnel_tightest walk(const ground *g, double antenna1_m, double antenna2_m)
{
    fe_fresnel_tightest t;
    assert_int_equal(
        fe_fresnel_walk(g->d_m, g->h_m, POINTS, antenna1_m, antenna2_m, AE_M, 2.437e9, &t),
        FE_OK);
    return t;
}

static void fresnel_walk__finds_the_bump(void **state)
{
    (void)state;
    const ground g = ground_with_bump(30, 4.0);
    const fe_fresnel_tightest t = walk(&g, 106.0, 104.0);
    assert_int_equal(t.index, 30);
    assert_close(t.distance_m, 150.0, 0.0);
    const double bulge_m = 150.0 * 350.0 / (2.0 * AE_M);
    assert_close(t.clearance_m, 106.0 - 2.0 * 0.3 - g.h_m[30] - bulge_m, 1e-12);
    assert_close(t.radius_m, radius(1, 150.0, 350.0, 2.437e9), 1e-12);
    double ratio = 0.0;
    assert_int_equal(fe_fresnel_clearance_ratio(t.clearance_m, 150.0, 350.0, 2.437e9, &ratio),
                     FE_OK);
    assert_close(t.clearance_ratio, ratio, 1e-12);
}

static void fresnel_walk__names_the_end_nearer_to_the_bump_as_cheaper(void **state)
{
    (void)state;
    const ground near1 = ground_with_bump(30, 4.0);
    const ground near2 = ground_with_bump(70, 4.0);
    assert_int_equal(walk(&near1, 105.0, 105.0).cheaper_end, 1);
    assert_int_equal(walk(&near2, 105.0, 105.0).cheaper_end, 2);
}

static void fresnel_walk__raises_by_exactly_what_frees_the_zone(void **state)
{
    (void)state;
    const ground g = ground_with_bump(30, 4.0);
    const fe_fresnel_tightest t = walk(&g, 105.0, 104.0);
    assert_true(t.raise_end1_m > 0.0 && t.raise_end2_m > t.raise_end1_m);
    assert_close(walk(&g, 105.0 + t.raise_end1_m, 104.0).clearance_ratio, 0.6, 1e-12);
    assert_close(walk(&g, 105.0, 104.0 + t.raise_end2_m).clearance_ratio, 0.6, 1e-12);
    const double both_m = t.raise_both_m;
    assert_close(walk(&g, 105.0 + both_m, 104.0 + both_m).clearance_ratio, 0.6, 1e-12);
}

static void fresnel_walk__asks_for_no_rise_where_all_is_free(void **state)
{
    (void)state;
    const ground g = ground_with_bump(30, 0.0);
    const fe_fresnel_tightest t = walk(&g, 110.0, 110.0);
    assert_true(t.clearance_ratio > 0.6);
    assert_close(t.raise_end1_m, 0.0, 0.0);
    assert_close(t.raise_end2_m, 0.0, 0.0);
    assert_close(t.raise_both_m, 0.0, 0.0);
    assert_int_equal(t.cheaper_end, 0);
}

static void fresnel_walk__is_same_from_either_end(void **state)
{
    (void)state;
    const ground g = ground_with_bump(30, 4.0);
    ground turned;
    for (size_t i = 0; i < POINTS; i++) {
        turned.d_m[i] = 500.0 - g.d_m[POINTS - 1 - i];
        turned.h_m[i] = g.h_m[POINTS - 1 - i];
    }
    const fe_fresnel_tightest a = walk(&g, 105.0, 103.0);
    const fe_fresnel_tightest b = walk(&turned, 103.0, 105.0);
    assert_close(a.clearance_m, b.clearance_m, 1e-12);
    assert_close(a.distance_m, 500.0 - b.distance_m, 1e-12);
    assert_close(a.raise_end1_m, b.raise_end2_m, 1e-12);
    assert_close(a.raise_end2_m, b.raise_end1_m, 1e-12);
    assert_int_equal(a.cheaper_end, 3 - b.cheaper_end);
}

static void fresnel_walk__takes_snow_as_lowered_masts(void **state)
{
    (void)state;
    const ground g = ground_with_bump(30, 4.0);
    ground snowed = g;
    for (size_t i = 0; i < POINTS; i++)
        snowed.h_m[i] += 0.75;
    const fe_fresnel_tightest snow = walk(&snowed, 106.0, 105.0);
    const fe_fresnel_tightest low = walk(&g, 106.0 - 0.75, 105.0 - 0.75);
    assert_close(snow.clearance_m, low.clearance_m, 1e-12);
    assert_close(snow.raise_end1_m, low.raise_end1_m, 1e-12);
}

static void fresnel_walk__warns_where_the_tight_place_is_at_an_end(void **state)
{
    (void)state;
    const double d_m[] = {0.0, 1.0, 50.0, 100.0};
    const double h_m[] = {0.0, 2.0, 0.0, 0.0};
    fe_fresnel_tightest t;
    assert_int_equal(fe_fresnel_walk(d_m, h_m, 4, 2.0, 2.0, AE_M, 2.437e9, &t), FE_W_RANGE);
    assert_int_equal(t.index, 1);
}

static void fresnel_walk__refuses_what_is_no_profile(void **state)
{
    (void)state;
    const double d_m[] = {0.0, 50.0, 100.0};
    const double h_m[] = {0.0, 0.0, 0.0};
    const double back_m[] = {0.0, 50.0, 50.0};
    const double hole_m[] = {0.0, NAN, 0.0};
    fe_fresnel_tightest t = {.index = 9};
    assert_int_equal(fe_fresnel_walk(d_m, h_m, 2, 2.0, 2.0, AE_M, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(back_m, h_m, 3, 2.0, 2.0, AE_M, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(d_m, hole_m, 3, 2.0, 2.0, AE_M, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(hole_m, h_m, 3, 2.0, 2.0, AE_M, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(d_m, h_m, 3, NAN, 2.0, AE_M, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(d_m, h_m, 3, 2.0, INFINITY, AE_M, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(d_m, h_m, 3, 2.0, 2.0, 0.0, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(d_m, h_m, 3, 2.0, 2.0, NAN, 1e9, &t), FE_E_DOMAIN);
    assert_int_equal(fe_fresnel_walk(d_m, h_m, 3, 2.0, 2.0, AE_M, 0.0, &t), FE_E_DOMAIN);
    assert_int_equal(t.index, 9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fresnel_radius__is_same_from_either_end),
        cmocka_unit_test(fresnel_radius__grows_with_the_root_of_the_zone),
        cmocka_unit_test(fresnel_radius__puts_the_way_round_half_a_wave_longer),
        cmocka_unit_test(fresnel_radius__warns_near_an_end),
        cmocka_unit_test(fresnel_radius__refuses_what_is_no_path),
        cmocka_unit_test(fresnel_walk__finds_the_bump),
        cmocka_unit_test(fresnel_walk__names_the_end_nearer_to_the_bump_as_cheaper),
        cmocka_unit_test(fresnel_walk__raises_by_exactly_what_frees_the_zone),
        cmocka_unit_test(fresnel_walk__asks_for_no_rise_where_all_is_free),
        cmocka_unit_test(fresnel_walk__is_same_from_either_end),
        cmocka_unit_test(fresnel_walk__takes_snow_as_lowered_masts),
        cmocka_unit_test(fresnel_walk__warns_where_the_tight_place_is_at_an_end),
        cmocka_unit_test(fresnel_walk__refuses_what_is_no_profile),
    };
    return FE_RUN_TESTS(tests);
}
