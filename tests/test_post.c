/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/post.h"

#include <math.h>

#include "farend/constants.h"
#include "testing.h"

static void round_post_of_class_c24__bears_the_known_moments(void **state)
{
    (void)state;
    double permanent_n_m = NAN;
    double gust_n_m = NAN;
    assert_int_equal(fe_post_resistance_en(FE_POST_ROUND, 0.1, 24e6, &permanent_n_m, &gust_n_m),
                     FE_OK);
    /* pi 0.1^3/32 times 24 MPa times k_mod over 1.3, by hand. */
    assert_close(permanent_n_m, 906.2, 0.1);
    assert_close(gust_n_m, 1631.2, 0.1);
    fe_post_use use;
    const fe_post_moments sustained = {.tension_n_m = permanent_n_m / 1.35};
    assert_int_equal(fe_post_use_en(FE_POST_ROUND, 0.1, 24e6, &sustained, &use), FE_OK);
    assert_close(use.permanent, 1.0, 1e-12);
    assert_close(use.largest, 1.0, 1e-12);
    const fe_post_moments gust = {.wind_n_m = gust_n_m / 1.5};
    assert_int_equal(fe_post_use_en(FE_POST_ROUND, 0.1, 24e6, &gust, &use), FE_OK);
    assert_close(use.permanent, 0.0, 0.0);
    assert_close(use.largest, 1.0, 1e-12);
}

static void us_form__weighs_each_cause_by_its_factor(void **state)
{
    (void)state;
    double resistance_n_m = NAN;
    fe_post_use use;
    const fe_post_moments moments = {100.0, 200.0, 300.0};
    assert_int_equal(fe_post_resistance_us(FE_POST_SQUARE, 0.1, 41e6, &resistance_n_m), FE_OK);
    assert_close(resistance_n_m, 0.65 * 41e6 * 1e-3 / 6.0, 1e-6);
    assert_int_equal(fe_post_use_us(FE_POST_SQUARE, 0.1, 41e6, &moments, &use), FE_OK);
    assert_close(use.largest, (250.0 + 330.0 + 450.0) / resistance_n_m, 1e-12);
    assert_true(isnan(use.permanent));
}

static void width_for_a_moment__bears_just_that(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        const fe_post_section section = i ? FE_POST_SQUARE : FE_POST_ROUND;
        double width_m = NAN;
        double moment_n_m = NAN;
        double second_m4 = NAN;
        assert_int_equal(fe_post_width_for_moment(section, 3000.0, 20e6, &width_m), FE_OK);
        assert_int_equal(fe_post_resisting_moment(section, width_m, 20e6, &moment_n_m), FE_OK);
        assert_close(moment_n_m, 3000.0, 1e-9);
        assert_int_equal(fe_post_second_moment(section, 0.1, &second_m4), FE_OK);
        assert_close_relative(second_m4, i ? 1e-4 / 12.0 : FE_PI * 1e-4 / 64.0, 1e-12);
    }
}

static void wind_on_an_even_post__acts_at_half_its_height(void **state)
{
    (void)state;
    double force_n = NAN;
    double moment_n_m = NAN;
    assert_int_equal(fe_post_wind(500.0, 0.1, 0.1, 4.0, &force_n, &moment_n_m), FE_OK);
    assert_close(force_n, 200.0, 1e-12);
    assert_close(moment_n_m, 400.0, 1e-12);
}

/* 400 N at 2 m on 100 mm in sand of 23.56 kPa/m: 1.27 m doubled, 1.66 m for a sustained pull.
 */
static void depth__has_the_known_values(void **state)
{
    (void)state;
    fe_post_in_soil given = {400.0, 2.0, 0.1, 23560.0, 2.0};
    double depth_m = NAN;
    assert_int_equal(fe_post_depth_free(&given, NULL, &depth_m), FE_OK);
    assert_close(depth_m, 1.27, 0.005);
    given.multiplier = 1.0;
    assert_int_equal(fe_post_depth_free(&given, NULL, &depth_m), FE_OK);
    assert_close(depth_m, 1.66, 0.005);
}

static void iterated_depth__is_its_own_trial(void **state)
{
    (void)state;
    const fe_post_in_soil given = {900.0, 4.0, 0.12, 15000.0, 1.0};
    double depth_m = NAN;
    double a_m = NAN;
    double again_m = NAN;
    assert_int_equal(fe_post_depth_free(&given, &a_m, &depth_m), FE_OK);
    assert_int_equal(
        fe_post_depth_free_trial(900.0, 4.0, 0.12, 15000.0 * depth_m / 3.0, NULL, &again_m),
        FE_OK);
    assert_close_relative(again_m, depth_m, 1e-12);
    assert_close_relative(a_m, 2.34 * 900.0 / (15000.0 * depth_m / 3.0 * 0.12), 1e-12);
    assert_int_equal(fe_post_depth_held(&given, &depth_m), FE_OK);
    assert_int_equal(fe_post_depth_held_trial(900.0, 4.0, 0.12, 15000.0 * depth_m, &again_m),
                     FE_OK);
    assert_close_relative(again_m, depth_m, 1e-12);
}

/* Past 12 ft the soil's bearing grows no further, and the depth is more than the iteration. */
static void very_deep_post__gains_no_bearing_below_12_ft(void **state)
{
    (void)state;
    const fe_post_in_soil given = {40000.0, 6.0, 0.3, 15000.0, 1.0};
    double depth_m = NAN;
    double again_m = NAN;
    assert_int_equal(fe_post_depth_free(&given, NULL, &depth_m), FE_OK);
    assert_true(depth_m > 3.6576);
    assert_int_equal(
        fe_post_depth_free_trial(40000.0, 6.0, 0.3, 15000.0 * 3.6576 / 3.0, NULL, &again_m),
        FE_OK);
    assert_close_relative(again_m, depth_m, 1e-12);
}

static void agricultural_depths__satisfy_their_equations(void **state)
{
    (void)state;
    double depth_m = NAN;
    assert_int_equal(fe_post_depth_farm_free(500.0, 2000.0, 0.15, 20000.0, &depth_m), FE_OK);
    assert_close_relative(depth_m * depth_m,
                          (6.0 * 500.0 + 8.0 * 2000.0 / depth_m) / (20000.0 * 0.15), 1e-12);
    assert_int_equal(fe_post_depth_farm_free(500.0, 0.0, 0.15, 20000.0, &depth_m), FE_OK);
    assert_close_relative(depth_m, 1.0, 1e-12);
    assert_int_equal(fe_post_depth_farm_held(750.0, 0.15, 20000.0, &depth_m), FE_OK);
    assert_close_relative(depth_m, 1.0, 1e-12);
}

/* 9 ft above ground and a third of it below are 12 ft, of which that is a quarter. */
static void third_of_what_stands__is_a_quarter_of_the_whole(void **state)
{
    (void)state;
    double third_m = NAN, quarter_m = NAN;
    assert_int_equal(fe_post_rule_depth(FE_POST_THIRD_ABOVE, 9.0 * 0.3048, &third_m), FE_OK);
    assert_int_equal(fe_post_rule_depth(FE_POST_QUARTER, 12.0 * 0.3048, &quarter_m), FE_OK);
    assert_close(third_m, 0.9144, 1e-12);
    assert_close(quarter_m, 0.9144, 1e-12);
}

/* A share alone: half the length is half the depth, down to a peg; no least and nothing added. */
static void share_of_the_length__stays_one_on_the_shortest_post(void **state)
{
    (void)state;
    static const char *const NAMES[] = {"one quarter of total length",
                                        "one third of height above ground"};
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++) {
        fe_post_rule rule;
        double whole_m = NAN;
        assert_int_equal(fe_post_rule_find(NAMES[i], &rule), FE_OK);
        assert_int_equal(fe_post_rule_depth(rule, 12.8, &whole_m), FE_OK);
        for (double part = 0.5; part > 0.001; part /= 2.0) {
            double part_m = NAN;
            assert_int_equal(fe_post_rule_depth(rule, part * 12.8, &part_m), FE_OK);
            assert_close_relative(part_m, part * whole_m, 1e-12);
        }
    }
}

static void short_post__is_found_too_short(void **state)
{
    (void)state;
    double depth_m = NAN;
    double length_m = NAN;
    assert_int_equal(fe_post_rule_depth(FE_POST_TENTH_2FT, 3.0, &depth_m), FE_OK);
    assert_close(depth_m, 0.91, 0.001);
    assert_close(3.0 - depth_m - 0.15, 1.94, 0.001);
    /* Lengths for 2.9, 3.0 and 3.5 m at 0.3 m sag, and for 2.9 m over 2 m of snow. */
    const double clearances_m[] = {2.9, 3.0, 3.5, 2.9};
    const double snows_m[] = {0.0, 0.0, 0.0, 2.0};
    const double lengths_m[] = {4.40, 4.51, 5.07, 6.62};
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(
            fe_post_length_needed(clearances_m[i], 0.3, 0.15, snows_m[i], &length_m), FE_OK);
        assert_close(length_m, lengths_m[i], 0.006);
        assert_int_equal(fe_post_rule_depth(FE_POST_TENTH_2FT, length_m, &depth_m), FE_OK);
        assert_close(length_m - depth_m - 0.15 - 0.3 - snows_m[i], clearances_m[i], 1e-12);
    }
}

static void stay_at_45_degrees__pulls_root_two_of_the_load(void **state)
{
    (void)state;
    fe_post_stay stay;
    assert_int_equal(fe_post_stay_of(1000.0, 4.0, 4.0, &stay), FE_OK);
    assert_close(stay.tension_n, 1000.0 * sqrt(2.0), 1e-9);
    assert_close(stay.vertical_n, 1000.0, 1e-9);
    assert_close(stay.angle_rad, FE_PI / 4.0, 1e-12);
    assert_close(stay.length_m, 4.0 * sqrt(2.0), 1e-12);
    double pull_n = NAN;
    assert_int_equal(fe_post_corner_pull(500.0, FE_PI / 2.0, &pull_n), FE_OK);
    assert_close(pull_n, 500.0 * sqrt(2.0), 1e-9);
    assert_int_equal(fe_post_corner_pull(500.0, 0.0, &pull_n), FE_OK);
    assert_close(pull_n, 0.0, 0.0);
    assert_int_equal(fe_post_corner_pull(500.0, FE_PI, &pull_n), FE_OK);
    assert_close(pull_n, 1000.0, 1e-9);
}

static void deflection__is_that_of_a_cantilever(void **state)
{
    (void)state;
    double at_once_m = NAN;
    double later_m = NAN;
    assert_int_equal(fe_post_deflection(300.0, 2.0, 5e4, INFINITY, 0.0, &at_once_m), FE_OK);
    assert_close(at_once_m, 300.0 * 8.0 / 15e4, 1e-12);
    assert_int_equal(fe_post_deflection(300.0, 2.0, 5e4, INFINITY, 2.0, &later_m), FE_OK);
    assert_close(later_m, 3.0 * at_once_m, 1e-12);
}

static void post__refuses_what_makes_no_sense(void **state)
{
    (void)state;
    double value = 7.0;
    double other = 7.0;
    fe_post_use use;
    fe_post_stay stay;
    fe_post_rule rule;
    const fe_post_moments unknown = {.wind_n_m = NAN};
    const fe_post_in_soil bad[] = {
        {NAN, 2.0, 0.1, 2e4, 1.0},   {400.0, -1.0, 0.1, 2e4, 1.0}, {400.0, 2.0, 0.0, 2e4, 1.0},
        {400.0, 2.0, 0.1, 0.0, 1.0}, {400.0, 2.0, 0.1, 2e4, NAN},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(fe_post_depth_free(&bad[i], &other, &value), FE_E_DOMAIN);
        assert_int_equal(fe_post_depth_held(&bad[i], &value), FE_E_DOMAIN);
    }
    assert_int_equal(fe_post_depth_free_trial(1.0, 1.0, 1.0, 0.0, &other, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_depth_held_trial(1.0, 0.0, 1.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_depth_farm_free(0.0, 0.0, 1.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_depth_farm_held(NAN, 1.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_wind(-1.0, 0.1, 0.1, 4.0, &value, &other), FE_E_DOMAIN);
    assert_int_equal(fe_post_moment(NULL, NULL, 0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_section_modulus(FE_POST_ROUND, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_resisting_moment(FE_POST_ROUND, 0.1, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_width_for_moment(FE_POST_ROUND, NAN, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_use_en(FE_POST_ROUND, 0.1, 24e6, &unknown, &use), FE_E_DOMAIN);
    assert_int_equal(fe_post_use_us(FE_POST_ROUND, 0.1, 24e6, &unknown, &use), FE_E_DOMAIN);
    assert_int_equal(fe_post_rule_depth(FE_POST_QUARTER, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_rule_find("by eye", &rule), FE_E_DOMAIN);
    assert_int_equal(fe_post_length_needed(NAN, 0.0, 0.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_stay_pull(NULL, NULL, 0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_stay_of(1.0, 1.0, 0.0, &stay), FE_E_DOMAIN);
    assert_int_equal(fe_post_corner_pull(1.0, 4.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_post_deflection(NAN, 1.0, 1.0, 1.0, 0.0, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
    assert_close(other, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(round_post_of_class_c24__bears_the_known_moments),
        cmocka_unit_test(us_form__weighs_each_cause_by_its_factor),
        cmocka_unit_test(width_for_a_moment__bears_just_that),
        cmocka_unit_test(wind_on_an_even_post__acts_at_half_its_height),
        cmocka_unit_test(depth__has_the_known_values),
        cmocka_unit_test(iterated_depth__is_its_own_trial),
        cmocka_unit_test(very_deep_post__gains_no_bearing_below_12_ft),
        cmocka_unit_test(agricultural_depths__satisfy_their_equations),
        cmocka_unit_test(third_of_what_stands__is_a_quarter_of_the_whole),
        cmocka_unit_test(share_of_the_length__stays_one_on_the_shortest_post),
        cmocka_unit_test(short_post__is_found_too_short),
        cmocka_unit_test(stay_at_45_degrees__pulls_root_two_of_the_load),
        cmocka_unit_test(deflection__is_that_of_a_cantilever),
        cmocka_unit_test(post__refuses_what_makes_no_sense),
    };
    return FE_RUN_TESTS(tests);
}
