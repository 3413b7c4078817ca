/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/path_loss.h"

#include <math.h>
#include <string.h>

#include "link.h"
#include "testing.h"

static fe_hop hop_over(const fe_profile *ground, double f_hz, double h1_m, double h2_m)
{
    return (fe_hop){
        .ground = ground, .f_hz = f_hz, .ends = {outdoors(&OMNI, h1_m), outdoors(&OMNI, h2_m)}};
}

static fe_path_loss loss_of(const fe_hop *hop, const fe_season *season)
{
    fe_path_loss loss;
    assert_true(fe_path_loss_in_season(hop, season, &loss) >= 0);
    return loss;
}

static fe_profile even(double length_m)
{
    fe_profile ground;
    assert_int_equal(fe_profile_even(length_m, 0.0, 5.0, &ground), FE_OK);
    return ground;
}

/* Source: plane-earth asymptote, 40 log d - 20 log(h1 h2). */
static void flat_ground__beyond_twice_the_break_point_is_plane_earth(void **state)
{
    (void)state;
    fe_profile ground = even(800.0);
    const fe_hop hop = hop_over(&ground, 868e6, 2.0, 3.0);
    const fe_path_loss loss = loss_of(&hop, &SUMMER);
    assert_true(800.0 > 2.0 * loss.break_point_m);
    assert_int_equal(loss.ground_method, FE_GROUND_BEYOND);
    assert_close(loss.free_space_db + loss.ground_db, 40.0 * log10(800.0) - 20.0 * log10(6.0),
                 1.0);
    fe_profile_free(&ground);
}

static void swapped_ends__lose_the_same(void **state)
{
    (void)state;
    double d_m[] = {0.0, 40.0, 90.0, 130.0, 200.0};
    double h_m[] = {10.0, 11.0, 14.5, 12.0, 13.0};
    fe_profile ground = {.count = 5, .distance_m = d_m, .height_m = h_m};
    fe_profile turned;
    assert_int_equal(fe_profile_reverse(&ground, &turned), FE_OK);
    const fe_stand there = {30.0, 38.0, 6.0, FE_TREES_DECIDUOUS};
    const fe_stand back = {162.0, 170.0, 6.0, FE_TREES_DECIDUOUS};
    fe_hop hop = hop_over(&ground, 2437e6, 2.0, 4.0);
    hop.stands = &there;
    hop.stand_count = 1;
    fe_hop mirror = hop_over(&turned, 2437e6, 4.0, 2.0);
    mirror.stands = &back;
    mirror.stand_count = 1;
    assert_close(loss_of(&hop, &SUMMER).total_db, loss_of(&mirror, &SUMMER).total_db, 0.02);
    fe_profile_free(&turned);
}

static void uniform_snow__equals_lowered_masts(void **state)
{
    (void)state;
    fe_profile ground = even(300.0);
    fe_season snow = SUMMER;
    snow.snow_depth_m = 0.8; /* same surface, so that only the depth differs */
    const fe_hop high = hop_over(&ground, 868e6, 2.8, 3.8);
    const fe_hop low = hop_over(&ground, 868e6, 2.0, 3.0);
    const fe_path_loss a = loss_of(&high, &snow);
    const fe_path_loss b = loss_of(&low, &SUMMER);
    assert_close(a.ground_db, b.ground_db, 1e-6);
    assert_close(a.tightest.clearance_m, b.tightest.clearance_m, 1e-9);
    fe_profile_free(&ground);
}

static void buried_antenna__loses_everything(void **state)
{
    (void)state;
    fe_profile ground = even(300.0);
    fe_season snow = SUMMER;
    snow.snow_depth_m = 2.0;
    const fe_hop hop = hop_over(&ground, 2437e6, 1.5, 4.0);
    const fe_path_loss loss = loss_of(&hop, &snow);
    assert_true(loss.buried[0]);
    assert_false(loss.buried[1]);
    assert_true(isinf(loss.total_db));
    fe_profile_free(&ground);
}

static double hedge_loss(const fe_profile *ground, double thickness_m)
{
    const fe_stand hedge = {80.0, 80.0 + thickness_m, 2.5, FE_TREES_HEDGE};
    fe_hop hop = hop_over(ground, 5500e6, 2.0, 2.0);
    hop.stands = &hedge;
    hop.stand_count = 1;
    return loss_of(&hop, &SUMMER).trees_db;
}

/* The engineering notes: through it and over it are parallel, never a sum. */
static void hedge__goes_from_nothing_to_the_way_over_it(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    assert_close(hedge_loss(&ground, 1e-9), 0.0, 0.01);
    const double thin_db = hedge_loss(&ground, 2.0);
    const double thick_db = hedge_loss(&ground, 60.0);
    assert_true(thin_db > 0.2 && thin_db < 1.6);
    assert_true(thick_db > thin_db);
    /* Much longer changes little: what goes over the top stays. */
    assert_true(hedge_loss(&ground, 80.0) < thick_db + 6.0);
    fe_profile_free(&ground);
}

/* A profile of few points costs what the same ground costs told by the metre. */
static void hedge__between_distant_points_is_seen(void **state)
{
    (void)state;
    fe_profile few, many;
    assert_int_equal(fe_profile_even(600.0, 0.0, 200.0, &few), FE_OK);
    assert_int_equal(fe_profile_even(600.0, 0.0, 1.0, &many), FE_OK);
    const fe_stand hedge = {298.0, 302.0, 5.0, FE_TREES_HEDGE};
    fe_hop hop = hop_over(&few, 5500e6, 3.0, 3.0);
    hop.stands = &hedge;
    hop.stand_count = 1;
    const fe_path_loss rough = loss_of(&hop, &SUMMER);
    hop.ground = &many;
    const fe_path_loss fine = loss_of(&hop, &SUMMER);
    assert_true(fine.trees_db > 1.0);
    assert_close(rough.trees_db, fine.trees_db, 1e-6);
    assert_close(rough.total_db, fine.total_db, 1e-6);
    fe_profile_free(&few);
    fe_profile_free(&many);
}

static void leaves__cost_more_than_bare_wood_and_wet_ones_most(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_stand wood = {40.0, 60.0, 12.0, FE_TREES_DECIDUOUS};
    fe_hop hop = hop_over(&ground, 5500e6, 3.0, 3.0);
    hop.stands = &wood;
    hop.stand_count = 1;
    fe_season bare = SUMMER, wet = SUMMER;
    bare.in_leaf = false;
    wet.trees = FE_TREES_WET;
    const double dry_db = loss_of(&hop, &SUMMER).trees_through_db;
    assert_close(loss_of(&hop, &bare).trees_through_db, 0.6 * dry_db, 1e-9);
    assert_close(loss_of(&hop, &wet).trees_through_db, 1.3 * dry_db, 1e-9);
    assert_close(loss_of(&hop, &SUMMER).trees_depth_m, 20.0, 0.2);
    fe_profile_free(&ground);
}

/* 2.437 GHz, 165 m, 3 m mast: nulls every 3.4 m of the other mast, one near 3.5 m. */
static void null__is_named_with_a_better_height(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_over(&ground, 2437e6, 3.0, 3.4);
    const fe_path_loss loss = loss_of(&hop, &SUMMER);
    assert_int_equal(loss.ground_method, FE_GROUND_RAY);
    assert_true(loss.null_height[1]);
    assert_close(loss.better_height_m[1], 3.4 + 1.7, 0.15);
    const fe_hop better = hop_over(&ground, 2437e6, 3.0, loss.better_height_m[1]);
    assert_true(loss_of(&better, &SUMMER).ground_db < loss.ground_db - 6.0);
    fe_profile_free(&ground);
}

static void one_sharp_edge__is_charged_as_an_edge(void **state)
{
    (void)state;
    double d_m[] = {0.0, 99.0, 100.0, 101.0, 200.0};
    double h_m[] = {0.0, 0.0, 10.0, 0.0, 0.0};
    fe_profile ground = {.count = 5, .distance_m = d_m, .height_m = h_m};
    const fe_hop hop = hop_over(&ground, 5500e6, 10.0, 10.0);
    const fe_path_loss loss = loss_of(&hop, &SUMMER);
    assert_int_equal(loss.ground_method, FE_GROUND_EDGE);
    assert_close(loss.ground_db, 6.03, 0.05); /* grazing, ITU-R P.526-15 eq 31 */
}

static void rough_survey__widens_the_ground_not_its_loss(void **state)
{
    (void)state;
    double d_m[] = {0.0, 99.0, 100.0, 101.0, 200.0};
    double h_m[] = {0.0, 0.0, 10.0, 0.0, 0.0};
    double error_m[] = {0.5, 0.5, 0.5, 0.5, 0.5};
    fe_profile sure = {.count = 5, .distance_m = d_m, .height_m = h_m};
    fe_profile rough = sure;
    rough.height_error_m = error_m;
    const fe_hop hop = hop_over(&sure, 5500e6, 10.0, 10.0);
    const fe_hop rough_hop = hop_over(&rough, 5500e6, 10.0, 10.0);
    const fe_path_loss a = loss_of(&hop, &SUMMER);
    const fe_path_loss b = loss_of(&rough_hop, &SUMMER);
    assert_close(a.ground_db, b.ground_db, 1e-9);
    assert_true(b.ground_sigma_db > a.ground_sigma_db + 0.5);
    assert_true(b.clearance_sigma_m > 0.4 && b.clearance_sigma_m < 0.8);
}

static void wet_covers__count_outdoors_only(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    fe_season wet = SUMMER;
    wet.cover = FE_COVER_WATER_FILM;
    fe_hop hop = hop_over(&ground, 5500e6, 3.0, 3.0);
    hop.ends[0].mount = FE_MOUNT_INDOORS;
    const fe_path_loss loss = loss_of(&hop, &wet);
    assert_true(loss.cover_db[0] == 0.0);
    /* 0.1 mm of water at 10 degrees: tests/reference/radio/water_ice_snow.csv. */
    assert_close(loss.cover_db[1], 1.8189, 0.001);
    fe_profile_free(&ground);
}

static void unknown_wall__takes_entry_loss_and_its_spread(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    fe_hop hop = hop_over(&ground, 2437e6, 3.0, 3.0);
    hop.ends[0].mount = FE_MOUNT_INDOORS;
    hop.ends[0].wall_unknown = true;
    const fe_path_loss loss = loss_of(&hop, &SUMMER);
    /* The notes: median about 15, sigma about 10 dB for a traditional house at 2.4 GHz. */
    assert_close(loss.wall_db[0], 15.0, 2.0);
    assert_close(loss.wall_sigma_db[0], 10.0, 2.0);
    fe_profile_free(&ground);
}

static void bad_heights__are_refused(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    fe_path_loss loss;
    const fe_hop below = hop_over(&ground, 2437e6, -1.0, 3.0);
    assert_int_equal(fe_path_loss_in_season(&below, &SUMMER, &loss), FE_E_DOMAIN);
    const fe_hop unknown = hop_over(&ground, 2437e6, (double)NAN, 3.0);
    assert_int_equal(fe_path_loss_in_season(&unknown, &SUMMER, &loss), FE_E_DOMAIN);
    fe_profile_free(&ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(flat_ground__beyond_twice_the_break_point_is_plane_earth),
        cmocka_unit_test(swapped_ends__lose_the_same),
        cmocka_unit_test(uniform_snow__equals_lowered_masts),
        cmocka_unit_test(buried_antenna__loses_everything),
        cmocka_unit_test(hedge__goes_from_nothing_to_the_way_over_it),
        cmocka_unit_test(hedge__between_distant_points_is_seen),
        cmocka_unit_test(leaves__cost_more_than_bare_wood_and_wet_ones_most),
        cmocka_unit_test(null__is_named_with_a_better_height),
        cmocka_unit_test(one_sharp_edge__is_charged_as_an_edge),
        cmocka_unit_test(rough_survey__widens_the_ground_not_its_loss),
        cmocka_unit_test(wet_covers__count_outdoors_only),
        cmocka_unit_test(unknown_wall__takes_entry_loss_and_its_spread),
        cmocka_unit_test(bad_heights__are_refused),
    };
    return FE_RUN_TESTS(tests);
}
