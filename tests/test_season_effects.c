/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What each part of a season does to a radio path: one test an effect, with its direction and
 * its size from outside the program.
 */
#include <math.h>

#include "farend/budget.h"
#include "farend/dielectric.h"
#include "farend/path_loss.h"
#include "link.h"
#include "testing.h"

static const fe_radio BOX = {.band = FE_BAND_5_GHZ,
                             .standard = "vht",
                             .width_hz = 20e6,
                             .streams = 1,
                             .power_dbm = 17.0,
                             .gain_dbi = 3.0,
                             .beam_rad = 6.283,
                             .tilt_beam_rad = 1.0};

typedef struct scene {
    fe_profile ground;
    fe_stand stand;
    fe_hop hop;
} scene;

static void set_scene(scene *s, double length_m, double f_hz, double height_m, double trees_m)
{
    *s = (scene){.stand = {0.3 * length_m, 0.3 * length_m + trees_m, 12.0, FE_TREES_DECIDUOUS}};
    assert_int_equal(fe_profile_even(length_m, 0.0, length_m / 100.0, &s->ground), FE_OK);
    s->hop = (fe_hop){.ground = &s->ground,
                      .stands = &s->stand,
                      .stand_count = trees_m > 0.0,
                      .region = FE_REGION_EU,
                      .f_hz = f_hz};
    for (int end = 0; end < 2; end++)
        s->hop.ends[end] = outdoors(&BOX, height_m);
}

static fe_path_loss loss_in(const scene *s, const fe_season *season)
{
    fe_path_loss loss;
    assert_true(fe_path_loss_in_season(&s->hop, season, &loss) >= 0);
    return loss;
}

/* Plane earth, 20 log(h1 h2): 3 m masts in 1 m of snow have 2 m. */
static void snow__shortens_masts_by_its_depth(void **state)
{
    (void)state;
    scene s;
    fe_season snow = SUMMER;
    snow.snow_depth_m = 1.0;
    set_scene(&s, 1500.0, 868e6, 3.0, 0.0);
    assert_close(loss_in(&s, &snow).total_db - loss_in(&s, &SUMMER).total_db,
                 20.0 * log10(9.0 / 4.0), 1.0);
    fe_profile_free(&s.ground);
}

static void snow__takes_its_depth_off_the_clearance(void **state)
{
    (void)state;
    scene s;
    fe_season snow = SUMMER;
    snow.snow_depth_m = 1.2;
    set_scene(&s, 400.0, 2437e6, 3.0, 0.0);
    const fe_fresnel_tightest bare = loss_in(&s, &SUMMER).tightest;
    const fe_fresnel_tightest white = loss_in(&s, &snow).tightest;
    assert_close(bare.clearance_m - white.clearance_m, 1.2, 1e-9);
    /* 0.6 of the zone is 2.1 m in the middle: free before, to be raised by 0.3 m now. */
    assert_int_equal(bare.cheaper_end, 0);
    assert_close(white.raise_both_m, 0.6 * white.radius_m - white.clearance_m, 0.02);
    fe_profile_free(&s.ground);
}

static void snow__over_the_antenna_ends_everything(void **state)
{
    (void)state;
    scene s;
    fe_season snow = SUMMER;
    snow.snow_depth_m = 2.1;
    set_scene(&s, 100.0, 2437e6, 2.0, 0.0);
    const fe_path_loss loss = loss_in(&s, &snow);
    assert_true(loss.buried[0] && loss.buried[1] && isinf(loss.total_db));
    fe_profile_free(&s.ground);
}

static void crop__raises_the_ground_as_snow_of_its_height_does(void **state)
{
    (void)state;
    scene s;
    fe_season crop = SUMMER, snow = SUMMER;
    crop.crop_height_m = 0.8;
    snow.snow_depth_m = 0.8;
    set_scene(&s, 1500.0, 868e6, 3.0, 0.0);
    const double grown_db = loss_in(&s, &crop).total_db;
    assert_close(grown_db, loss_in(&s, &snow).total_db, 1e-9);
    assert_close(grown_db - loss_in(&s, &SUMMER).total_db, 40.0 * log10(3.0 / 2.2), 1.0);
    fe_profile_free(&s.ground);
}

/*
 * Fresnel's coefficient, vertical, 5 degrees above the ground: 0.43 for wet soil (permittivity
 * 20, near its Brewster angle of 13 degrees), 0.70 for dry snow (1.6). So in a null the direct
 * ray keeps 0.57 and 0.30, and snow cancels more.
 */
static void surface__of_dry_snow_cancels_more_than_wet_soil_at_five_degrees(void **state)
{
    (void)state;
    scene s;
    fe_season wet = SUMMER, snow = SUMMER;
    wet.surface = FE_SURFACE_WET_SOIL;
    snow.surface = FE_SURFACE_DRY_SNOW; /* its depth left at zero: the surface alone */
    set_scene(&s, 60.0, 2437e6, 3.0, 0.0);
    s.hop.ends[1].height_m = 0.12302 * 60.0 / 3.0; /* second null, lambda d / h1 */
    const double wet_db = loss_in(&s, &wet).ground_db;
    const double snow_db = loss_in(&s, &snow).ground_db;
    assert_true(snow_db > wet_db + 0.3);
    /* Heights are not exact, so no null is as deep as it is on paper. */
    assert_true(wet_db > 1.0 && wet_db < -20.0 * log10(0.57) + 0.5);
    assert_true(snow_db < -20.0 * log10(0.30) + 0.5);
    fe_profile_free(&s.ground);
}

/*
 * Fresnel's coefficient, vertical, 5 degrees above the ground: 0.12 off water (permittivity 80,
 * Brewster angle 6 degrees), 0.43 off wet soil (20), 0.67 off dry soil (4), 0.69 off ice (3.15):
 * the direct ray keeps so much less in a null.
 */
static void surface__cancels_the_more_the_drier_it_is(void **state)
{
    (void)state;
    static const struct {
        fe_surface surface;
        double reflection;
    } ROWS[] = {{FE_SURFACE_WATER, 0.12},
                {FE_SURFACE_WET_SOIL, 0.43},
                {FE_SURFACE_DRY_SOIL, 0.67},
                {FE_SURFACE_ICE, 0.69}};
    scene s;
    double before_db = 0.0;
    set_scene(&s, 60.0, 2437e6, 3.0, 0.0);
    s.hop.ends[1].height_m = 0.12302 * 60.0 / 3.0; /* second null, lambda d / h1 */
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        fe_season season = SUMMER;
        season.surface = ROWS[i].surface;
        const double loss_db = loss_in(&s, &season).ground_db;
        assert_true(loss_db > before_db);
        assert_true(loss_db < -20.0 * log10(1.0 - ROWS[i].reflection) + 0.7);
        before_db = loss_db;
    }
    fe_profile_free(&s.ground);
}

/*
 * A lake keeps its own surface, and below freezing that is ice, whatever lies on land. In the
 * null, with 0.15 m of error in each height (phase 1.0 rad, mean cosine -0.61), a coefficient of
 * 0.69 leaves 0.63 of the power and one of 0.12 leaves 0.87: 1.4 dB apart.
 */
static void surface__of_a_lake_turns_to_ice_below_freezing(void **state)
{
    (void)state;
    scene s;
    fe_season ice = SUMMER, winter = SUMMER, thaw = SUMMER, water = SUMMER;
    ice.surface = FE_SURFACE_ICE;
    water.surface = FE_SURFACE_WATER;
    winter.surface = thaw.surface = FE_SURFACE_DRY_SNOW;
    winter.coldest_c = thaw.coldest_c = -20.0;
    winter.hottest_c = -1.0;
    thaw.hottest_c = 3.0;
    set_scene(&s, 60.0, 2437e6, 3.0, 0.0);
    s.hop.ends[1].height_m = 0.12302 * 60.0 / 3.0;
    const double ice_db = loss_in(&s, &ice).ground_db;
    const double water_db = loss_in(&s, &water).ground_db;
    s.hop.land = FE_LAND_WATER;
    assert_close(loss_in(&s, &winter).ground_db, ice_db, 1e-12);
    assert_close(loss_in(&s, &thaw).ground_db, water_db, 1e-12);
    assert_close(ice_db - water_db, 1.4, 0.2);
    fe_profile_free(&s.ground);
}

/* Snow lies on the crop: the higher of the two counts, not their sum. */
static void snow__buries_the_crop(void **state)
{
    (void)state;
    scene s;
    fe_season snow = SUMMER, both = SUMMER;
    snow.snow_depth_m = both.snow_depth_m = 1.0;
    both.crop_height_m = 0.8;
    set_scene(&s, 1500.0, 868e6, 3.0, 0.0);
    assert_close(loss_in(&s, &both).total_db, loss_in(&s, &snow).total_db, 1e-12);
    fe_profile_free(&s.ground);
}

/* Bare deciduous 0.6, wet 1.3, frozen less than dry: common practice, no source. */
static void leaves__gone_leave_six_tenths(void **state)
{
    (void)state;
    scene s;
    fe_season bare = SUMMER;
    bare.in_leaf = false;
    set_scene(&s, 165.0, 5500e6, 3.0, 20.0);
    const double leafy_db = loss_in(&s, &SUMMER).trees_through_db;
    assert_close(loss_in(&s, &bare).trees_through_db, 0.6 * leafy_db, 1e-9);
    /* Weissberger beyond 14 m: 1.33 f^0.284 d^0.588, f in GHz. */
    const double depth_m = loss_in(&s, &SUMMER).trees_depth_m;
    assert_close(leafy_db, 1.33 * pow(5.5, 0.284) * pow(depth_m, 0.588), 1e-6);
    fe_profile_free(&s.ground);
}

static void wet_trees__lose_three_tenths_more(void **state)
{
    (void)state;
    scene s;
    fe_season wet = SUMMER;
    wet.trees = FE_TREES_WET;
    set_scene(&s, 165.0, 5500e6, 3.0, 20.0);
    assert_close(loss_in(&s, &wet).trees_through_db,
                 1.3 * loss_in(&s, &SUMMER).trees_through_db, 1e-9);
    fe_profile_free(&s.ground);
}

static void frozen_trees__lose_less_than_thawed_ones(void **state)
{
    (void)state;
    scene s;
    fe_season thawed = SUMMER, frozen = SUMMER;
    thawed.in_leaf = frozen.in_leaf = false;
    frozen.trees = FE_TREES_FROZEN;
    set_scene(&s, 165.0, 5500e6, 3.0, 20.0);
    const double thawed_db = loss_in(&s, &thawed).trees_through_db;
    const double frozen_db = loss_in(&s, &frozen).trees_through_db;
    assert_true(frozen_db < 0.9 * thawed_db && frozen_db > 0.2 * thawed_db);
    fe_profile_free(&s.ground);
}

static void wet_covers__add_their_film_at_both_ends(void **state)
{
    (void)state;
    static const fe_cover COVERS[] = {FE_COVER_WATER_FILM, FE_COVER_WET_SNOW};
    scene s;
    set_scene(&s, 165.0, 5500e6, 3.0, 0.0);
    for (int i = 0; i < 2; i++) {
        fe_season wet = SUMMER;
        double film_db = 0.0;
        wet.cover = COVERS[i];
        assert_true(fe_cover_loss(COVERS[i], 5500e6, &film_db) >= 0);
        assert_true(film_db > 0.3 && film_db < 6.0);
        assert_close(loss_in(&s, &wet).total_db - loss_in(&s, &SUMMER).total_db, 2.0 * film_db,
                     1e-9);
    }
    s.hop.ends[0].mount = FE_MOUNT_INDOORS; /* dry under a roof */
    fe_season wet = SUMMER;
    wet.cover = FE_COVER_WATER_FILM;
    assert_close(loss_in(&s, &wet).cover_db[0], 0.0, 0.0);
    assert_true(loss_in(&s, &wet).cover_db[1] > 0.0);
    fe_profile_free(&s.ground);
}

static double fade_in(const scene *s, double rain_mm_h, double availability)
{
    const fe_wanted wanted = {.rate_bps = {1e6, 0.0},
                              .airtime = 1.0,
                              .availability = availability,
                              .confidence = 0.9};
    fe_season season = SUMMER;
    fe_hop_budget budget;
    season.rain_mm_h = rain_mm_h;
    assert_true(fe_hop_budget_compute(&s->hop, &season, 1, &wanted, &budget) >= 0);
    const double fade_db = budget.seasons[0].fade_db;
    fe_hop_budget_free(&budget);
    return fade_db;
}

/* A fade and not a loss: nothing at 5 GHz, decibels at 60 GHz (18 dB/km in 50 mm/h). */
static void rain__is_a_fade_that_only_millimetre_waves_feel(void **state)
{
    (void)state;
    static const fe_radio SHORT_WAVE = {.band = FE_BAND_60_GHZ,
                                        .standard = "dmg",
                                        .width_hz = 2.16e9,
                                        .streams = 1,
                                        .power_dbm = 10.0,
                                        .gain_dbi = 30.0,
                                        .beam_rad = 0.1,
                                        .tilt_beam_rad = 0.1};
    scene s;
    fe_season rainy = SUMMER;
    rainy.rain_mm_h = 50.0;
    set_scene(&s, 400.0, 5500e6, 4.0, 0.0);
    assert_close(loss_in(&s, &rainy).total_db, loss_in(&s, &SUMMER).total_db, 0.0);
    assert_close(fade_in(&s, 50.0, 0.999), fade_in(&s, 0.0, 0.999), 0.15);
    fe_profile_free(&s.ground);
    set_scene(&s, 400.0, 60e9, 4.0, 0.0);
    s.hop.ends[0].radio = s.hop.ends[1].radio = &SHORT_WAVE;
    assert_true(fade_in(&s, 50.0, 0.999) > fade_in(&s, 0.0, 0.999) + 0.5);
    fe_profile_free(&s.ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(snow__shortens_masts_by_its_depth),
        cmocka_unit_test(snow__takes_its_depth_off_the_clearance),
        cmocka_unit_test(snow__over_the_antenna_ends_everything),
        cmocka_unit_test(crop__raises_the_ground_as_snow_of_its_height_does),
        cmocka_unit_test(surface__of_dry_snow_cancels_more_than_wet_soil_at_five_degrees),
        cmocka_unit_test(surface__cancels_the_more_the_drier_it_is),
        cmocka_unit_test(surface__of_a_lake_turns_to_ice_below_freezing),
        cmocka_unit_test(snow__buries_the_crop),
        cmocka_unit_test(leaves__gone_leave_six_tenths),
        cmocka_unit_test(wet_trees__lose_three_tenths_more),
        cmocka_unit_test(frozen_trees__lose_less_than_thawed_ones),
        cmocka_unit_test(wet_covers__add_their_film_at_both_ends),
        cmocka_unit_test(rain__is_a_fade_that_only_millimetre_waves_feel),
    };
    return FE_RUN_TESTS(tests);
}
