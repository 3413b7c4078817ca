/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trees and roofs that a profile shows: what counts, and what they cost. */
#include "farend/standing.h"

#include <math.h>
#include <string.h>

#include "farend/budget.h"
#include "farend/path_loss.h"
#include "link.h"
#include "testing.h"

enum { COUNT = 201, BUMP_FIRST = 90, BUMP_LAST = 110 };

/* 200 m of even ground, a point a metre, with room for clutter. */
static fe_profile even(void)
{
    fe_profile ground;
    assert_int_equal(fe_profile_new(COUNT, false, true, &ground), FE_OK);
    for (size_t i = 0; i < COUNT; i++)
        ground.distance_m[i] = (double)i;
    return ground;
}

static void stand_between(double *column, size_t first, size_t last, double height_m)
{
    for (size_t i = first; i <= last; i++)
        column[i] = height_m;
}

static fe_hop hop_over(const fe_profile *ground, double h1_m, double h2_m)
{
    return (fe_hop){.ground = ground,
                    .f_hz = 2437e6,
                    .ends = {outdoors(&OMNI, h1_m), outdoors(&OMNI, h2_m)}};
}

static fe_path_loss loss_in(const fe_hop *hop, const fe_season *season)
{
    fe_path_loss loss;
    assert_true(fe_path_loss_in_season(hop, season, &loss) >= 0);
    return loss;
}

/* ---- What counts ---- */

static void stretches__are_counted_left_out_or_named(void **state)
{
    (void)state;
    fe_profile ground = even();
    stand_between(ground.clutter_m, 0, 7, 6.0);      /* the house with the antenna on it */
    stand_between(ground.clutter_m, 40, 48, 9.0);    /* a barn */
    stand_between(ground.clutter_m, 60, 70, 0.4);    /* grass */
    stand_between(ground.clutter_m, 97, 122, 12.0);  /* the plan's trees, a crown wider */
    stand_between(ground.clutter_m, 160, 200, 15.0); /* a wood that the far end stands in */
    const fe_stand trees = {100.0, 120.0, 11.0, FE_TREES_CONIFER};
    fe_hop hop = hop_over(&ground, 3.0, 3.0);
    hop.stands = &trees;
    hop.stand_count = 1;
    static const fe_standing WANTED[] = {
        {0.0, 7.0, 6.0, FE_STANDING_OWN},       {40.0, 48.0, 9.0, FE_STANDING_COUNTED},
        {97.0, 122.0, 12.0, FE_STANDING_NAMED}, {160.0, 179.0, 15.0, FE_STANDING_COUNTED},
        {180.0, 200.0, 15.0, FE_STANDING_OWN},
    };
    enum { MOST = 8 };
    fe_standing got[MOST];
    size_t count = 0;
    assert_int_equal(fe_standing_list(&hop, got, MOST, &count), FE_OK);
    assert_int_equal(count, 5);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(got[i].use, WANTED[i].use);
        assert_close(got[i].from_m, WANTED[i].from_m, 0.0);
        assert_close(got[i].to_m, WANTED[i].to_m, 0.0);
        assert_close(got[i].height_m, WANTED[i].height_m, 0.0);
    }
    size_t all = 0;
    assert_int_equal(fe_standing_list(&hop, got, 2, &all), FE_OK);
    assert_int_equal(all, count);
    fe_profile_free(&ground);
}

static void no_column__counts_nothing(void **state)
{
    (void)state;
    fe_profile ground;
    fe_standing_use uses[COUNT];
    assert_int_equal(fe_profile_even(200.0, 0.0, 1.0, &ground), FE_OK);
    const fe_hop hop = hop_over(&ground, 3.0, 3.0);
    assert_int_equal(fe_standing_uses(&hop, uses), 0);
    fe_profile_free(&ground);
}

/* ---- What it costs ---- */

/* A roof of a height and ground of that height stop the wave alike. */
static void block__costs_what_the_same_rise_of_the_ground_costs(void **state)
{
    (void)state;
    static const double HEIGHTS_M[] = {4.0, 6.0, 10.0, 15.0};
    for (size_t k = 0; k < sizeof HEIGHTS_M / sizeof HEIGHTS_M[0]; k++) {
        fe_profile roof = even();
        fe_profile hill = even();
        stand_between(roof.clutter_m, BUMP_FIRST, BUMP_LAST, HEIGHTS_M[k]);
        stand_between(hill.height_m, BUMP_FIRST, BUMP_LAST, HEIGHTS_M[k]);
        const fe_hop over_roof = hop_over(&roof, 3.0, 3.0);
        const fe_hop over_hill = hop_over(&hill, 3.0, 3.0);
        const fe_path_loss a = loss_in(&over_roof, &SUMMER);
        const fe_path_loss b = loss_in(&over_hill, &SUMMER);
        assert_true(b.ground_db > 10.0);
        assert_close(a.ground_db + a.standing_db, b.ground_db, 0.05);
        assert_close(a.ground_sigma_db, b.ground_sigma_db, 1e-9);
        assert_close(a.tightest.clearance_m, b.tightest.clearance_m, 1e-9);
        assert_close(a.tightest_standing_m, HEIGHTS_M[k], 1e-9);
        fe_profile_free(&roof);
        fe_profile_free(&hill);
    }
}

/* ITU-R P.526-15 sec 4.1 eq 31: an edge 4 m over a 200 m path half-way, v = 2.28: 20.1 dB. */
static void thin_wall__costs_an_edge(void **state)
{
    (void)state;
    fe_profile ground = even();
    ground.clutter_m[100] = 14.0;
    const fe_hop hop = hop_over(&ground, 10.0, 10.0);
    const fe_path_loss loss = loss_in(&hop, &SUMMER);
    const double v = 4.0 * sqrt(2.0 / 0.123017 * (1.0 / 100.0 + 1.0 / 100.0));
    const double edge_db = 6.9 + 20.0 * log10(sqrt((v - 0.1) * (v - 0.1) + 1.0) + v - 0.1);
    assert_close(loss.ground_db + loss.standing_db, edge_db, 0.05);
    fe_profile_free(&ground);
}

/* Neither a low thing under a path whose ground ray is in a null, nor any other. */
static void standing__is_never_better_than_nothing(void **state)
{
    (void)state;
    for (double height_m = 0.6; height_m < 12.0; height_m += 0.3)
        for (double antenna_m = 1.5; antenna_m < 6.0; antenna_m += 0.5) {
            fe_profile ground = even();
            const fe_hop bare = hop_over(&ground, 3.0, antenna_m);
            const double before_db = loss_in(&bare, &SUMMER).total_db;
            stand_between(ground.clutter_m, BUMP_FIRST, BUMP_LAST, height_m);
            const fe_path_loss loss = loss_in(&bare, &SUMMER);
            assert_true(loss.standing_db >= 0.0);
            assert_true(loss.total_db >= before_db);
            fe_profile_free(&ground);
        }
}

static void higher_roof__costs_more(void **state)
{
    (void)state;
    double before_db = 0.0;
    for (double height_m = 3.0; height_m <= 15.0; height_m += 1.0) {
        fe_profile ground = even();
        stand_between(ground.clutter_m, BUMP_FIRST, BUMP_LAST, height_m);
        const fe_hop hop = hop_over(&ground, 3.0, 3.0);
        const double now_db = loss_in(&hop, &SUMMER).standing_db;
        assert_true(now_db > before_db);
        before_db = now_db;
        fe_profile_free(&ground);
    }
}

/* The plan's trees stand in for the profile's: the same as without the column. */
static void named_trees__are_charged_once(void **state)
{
    (void)state;
    const fe_stand trees = {90.0, 110.0, 12.0, FE_TREES_DECIDUOUS};
    fe_profile ground = even();
    fe_hop hop = hop_over(&ground, 3.0, 3.0);
    hop.stands = &trees;
    hop.stand_count = 1;
    const fe_path_loss alone = loss_in(&hop, &SUMMER);
    stand_between(ground.clutter_m, 88, 112, 12.5);
    const fe_path_loss both = loss_in(&hop, &SUMMER);
    assert_close(both.standing_db, 0.0, 0.0);
    assert_close(both.total_db, alone.total_db, 1e-12);
    /* Without their name they are solid, which costs more than leaves. */
    hop.stand_count = 0;
    const fe_path_loss solid = loss_in(&hop, &SUMMER);
    assert_close(solid.trees_db, 0.0, 0.0);
    assert_true(solid.standing_db > alone.trees_db + 1.0);
    fe_profile_free(&ground);
}

/* Trees before a barn: through the leaves the barn is still in the way. */
static void trees_before_a_roof__add_to_it(void **state)
{
    (void)state;
    const fe_stand trees = {40.0, 50.0, 9.0, FE_TREES_DECIDUOUS};
    fe_profile ground = even();
    fe_hop hop = hop_over(&ground, 3.0, 3.0);
    stand_between(ground.clutter_m, 120, 130, 7.0);
    const fe_path_loss roof = loss_in(&hop, &SUMMER);
    hop.stands = &trees;
    hop.stand_count = 1;
    const fe_path_loss both = loss_in(&hop, &SUMMER);
    assert_close(both.standing_db, roof.standing_db, 1e-12);
    assert_true(both.trees_db > 0.0);
    assert_true(both.total_db > roof.total_db);
    fe_profile_free(&ground);
}

/* A wood too thick to see through costs no more than the way over its tops, barn and all. */
static void thick_wood_behind_a_roof__is_passed_over(void **state)
{
    (void)state;
    const fe_stand wood = {90.0, 170.0, 8.0, FE_TREES_CONIFER};
    fe_profile ground = even();
    fe_hop hop = hop_over(&ground, 3.0, 3.0);
    stand_between(ground.clutter_m, 40, 48, 8.0);
    hop.stands = &wood;
    hop.stand_count = 1;
    const fe_path_loss leaves = loss_in(&hop, &SUMMER);
    assert_true(leaves.standing_db > 10.0);
    hop.stand_count = 0;
    stand_between(ground.clutter_m, 90, 170, 8.0);
    const fe_path_loss solid = loss_in(&hop, &SUMMER);
    const double over_db = solid.ground_db + solid.standing_db;
    const double both_db = leaves.ground_db + leaves.standing_db + leaves.trees_db;
    assert_true(both_db < over_db + 0.1);
    assert_true(both_db > over_db - 3.0); /* as much through as over, at the most */
    fe_profile_free(&ground);
}

/* Snow lies under what stands, whose top stays; leaves do not matter to a solid thing. */
static void snow_and_leaves__leave_the_top_of_a_roof(void **state)
{
    (void)state;
    fe_profile ground = even();
    stand_between(ground.clutter_m, BUMP_FIRST, BUMP_LAST, 8.0);
    const fe_hop hop = hop_over(&ground, 3.0, 3.0);
    fe_season snow = SUMMER;
    snow.snow_depth_m = 1.0;
    fe_season bare = SUMMER;
    bare.in_leaf = false;
    const fe_path_loss summer = loss_in(&hop, &SUMMER);
    const fe_path_loss white = loss_in(&hop, &snow);
    const fe_path_loss winter = loss_in(&hop, &bare);
    assert_close(white.tightest.clearance_m, summer.tightest.clearance_m, 1e-9);
    assert_close(white.tightest_standing_m, 7.0, 1e-9);
    assert_close(winter.total_db, summer.total_db, 1e-12);
    fe_profile_free(&ground);
}

/* It is in the budget as a step of its own, and fading behind it is that behind trees. */
static void budget__names_the_profile(void **state)
{
    (void)state;
    fe_profile ground = even();
    stand_between(ground.clutter_m, BUMP_FIRST, BUMP_LAST, 8.0);
    const fe_hop hop = hop_over(&ground, 3.0, 3.0);
    const fe_wanted wanted = {
        .rate_bps = {1e6, 1e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};
    fe_hop_budget budget;
    assert_true(fe_hop_budget_compute(&hop, &SUMMER, 1, &wanted, &budget) >= 0);
    const fe_hop_season *season = &budget.seasons[0];
    const fe_direction *way = &season->from[0];
    double found_db = NAN;
    for (size_t i = 0; i < way->line_count; i++)
        if (strcmp(way->lines[i].label, "trees and roofs on the profile") == 0)
            found_db = way->lines[i].change_db;
    assert_close(found_db, -season->loss.standing_db, 1e-12);
    assert_true(found_db < -10.0);
    assert_close(season->rician_k_db, 3.0, 0.0);
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stretches__are_counted_left_out_or_named),
        cmocka_unit_test(no_column__counts_nothing),
        cmocka_unit_test(block__costs_what_the_same_rise_of_the_ground_costs),
        cmocka_unit_test(thin_wall__costs_an_edge),
        cmocka_unit_test(standing__is_never_better_than_nothing),
        cmocka_unit_test(higher_roof__costs_more),
        cmocka_unit_test(named_trees__are_charged_once),
        cmocka_unit_test(trees_before_a_roof__add_to_it),
        cmocka_unit_test(thick_wood_behind_a_roof__is_passed_over),
        cmocka_unit_test(snow_and_leaves__leave_the_top_of_a_roof),
        cmocka_unit_test(budget__names_the_profile),
    };
    return FE_RUN_TESTS(tests);
}
