/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/season.h"
#include "testing.h"

static const fe_climate SNOWY = {
    .deepest_snow_m = 1.2,
    .coldest_c = -30.0,
    .hottest_c = 34.0,
    .ice_m = 0.012,
    .wind_m_s = 30.0,
    .rain_mm_h = 40.0,
    .crop_height_m = 0.8,
};

static void seasons_usual__are_the_four_named(void **state)
{
    (void)state;
    fe_season seasons[FE_USUAL_SEASONS];
    fe_seasons_usual(&SNOWY, seasons);
    assert_string_equal(seasons[0].name, "dry summer");
    assert_string_equal(seasons[1].name, "wet summer");
    assert_string_equal(seasons[2].name, "deep winter");
    assert_string_equal(seasons[3].name, "thaw with ice");
}

static void seasons_usual__carry_the_extremes_of_the_climate(void **state)
{
    (void)state;
    fe_season seasons[FE_USUAL_SEASONS];
    fe_seasons_usual(&SNOWY, seasons);
    assert_close(seasons[0].hottest_c, 34.0, 0.0);
    assert_close(seasons[1].rain_mm_h, 40.0, 0.0);
    assert_close(seasons[2].snow_depth_m, 1.2, 0.0);
    assert_close(seasons[2].coldest_c, -30.0, 0.0);
    assert_close(seasons[3].ice_m, 0.012, 0.0);
    assert_close(seasons[3].snow_depth_m, 0.6, 1e-12);
    for (int i = 0; i < FE_USUAL_SEASONS; i++)
        assert_true(seasons[i].coldest_c <= seasons[i].hottest_c);
}

static void seasons_usual__know_leaf_frost_and_cover(void **state)
{
    (void)state;
    fe_season seasons[FE_USUAL_SEASONS];
    fe_seasons_usual(&SNOWY, seasons);
    assert_true(seasons[0].in_leaf && seasons[1].in_leaf);
    assert_false(seasons[2].in_leaf || seasons[3].in_leaf);
    assert_int_equal(seasons[1].cover, FE_COVER_WATER_FILM);
    assert_int_equal(seasons[2].trees, FE_TREES_FROZEN);
    assert_int_equal(seasons[2].surface, FE_SURFACE_DRY_SNOW);
    assert_int_equal(seasons[3].cover, FE_COVER_WET_SNOW);
    assert_true(seasons[3].snow_is_wet);
}

static void seasons_usual__of_a_place_without_frost_have_no_snow_nor_frozen_trees(void **state)
{
    (void)state;
    const fe_climate mild = {.coldest_c = 4.0, .hottest_c = 30.0, .rain_mm_h = 30.0};
    fe_season seasons[FE_USUAL_SEASONS];
    fe_seasons_usual(&mild, seasons);
    assert_int_equal(seasons[2].trees, FE_TREES_WET);
    assert_int_equal(seasons[2].surface, FE_SURFACE_WET_SOIL);
    assert_close(seasons[2].hottest_c, 4.0, 0.0);
    assert_int_equal(seasons[3].cover, FE_COVER_WATER_FILM);
    assert_close(seasons[3].coldest_c, 4.0, 0.0);
}

static void season_ground__is_raised_by_the_higher_of_snow_and_crop(void **state)
{
    (void)state;
    double d_m[] = {0.0, 10.0, 20.0};
    double h_m[] = {3.0, 4.0, 5.0};
    const fe_profile bare = {.count = 3, .distance_m = d_m, .height_m = h_m};
    const fe_season season = {.snow_depth_m = 0.5, .crop_height_m = 0.8};
    fe_profile ground = {0};
    assert_int_equal(fe_season_ground(&season, &bare, &ground), FE_OK);
    assert_close(fe_season_rise(&season), 0.8, 0.0);
    assert_int_equal(ground.count, 3);
    assert_close(ground.height_m[0], 3.8, 1e-12);
    assert_close(ground.height_m[2], 5.8, 1e-12);
    assert_close(ground.distance_m[1], 10.0, 0.0);
    fe_profile_free(&ground);
}

static void season_ground__refuses_negative_and_nan_depths(void **state)
{
    (void)state;
    double d_m[] = {0.0, 10.0};
    double h_m[] = {3.0, 4.0};
    const fe_profile bare = {.count = 2, .distance_m = d_m, .height_m = h_m};
    fe_profile ground = {0};
    const fe_season negative = {.snow_depth_m = -0.1};
    const fe_season no_number = {.crop_height_m = NAN};
    assert_int_equal(fe_season_ground(&negative, &bare, &ground), FE_E_DOMAIN);
    assert_int_equal(fe_season_ground(&no_number, &bare, &ground), FE_E_DOMAIN);
    assert_int_equal(ground.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(seasons_usual__are_the_four_named),
        cmocka_unit_test(seasons_usual__carry_the_extremes_of_the_climate),
        cmocka_unit_test(seasons_usual__know_leaf_frost_and_cover),
        cmocka_unit_test(seasons_usual__of_a_place_without_frost_have_no_snow_nor_frozen_trees),
        cmocka_unit_test(season_ground__is_raised_by_the_higher_of_snow_and_crop),
        cmocka_unit_test(season_ground__refuses_negative_and_nan_depths),
    };
    return FE_RUN_TESTS(tests);
}
