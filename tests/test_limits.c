/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/limits.h"

#include <math.h>
#include <stdio.h>

#include "farend/constants.h"
#include "testing.h"

/* Figure-8 data cable: working 400 N, breaking 1200 N (aerial_cable_classes.csv). */
static const fe_cable_class FIGURE_8 = {.diameter_m = 9.5e-3,
                                        .weight_n_m = 0.539,
                                        .has_messenger = true,
                                        .self_supporting = true,
                                        .metallic = true,
                                        .area_m2 = 1.131e-6,
                                        .modulus_pa = 200e9,
                                        .expansion_1_k = 11.5e-6,
                                        .breaking_n = 1200.0,
                                        .everyday_limit_n = 400.0,
                                        .pulling_limit_n = 110.0};

static fe_hung_cable hang(const fe_cable_class *given, const char *messenger)
{
    fe_hung_cable cable;
    assert_int_equal(fe_limits_cable(given, messenger, &cable), FE_OK);
    return cable;
}

static fe_pull_limits pull(const fe_hung_cable *cable)
{
    fe_pull_limits limits;
    assert_int_equal(fe_limits_pull(cable, &limits), FE_OK);
    return limits;
}

static void strand__has_shares_of_its_breaking_strength(void **state)
{
    (void)state;
    const fe_hung_cable cable = hang(&FIGURE_8, "3/16 extra high strength");
    const fe_pull_limits limits = pull(&cable);
    assert_close(cable.breaking_n, 17748.0, 1e-6); /* messenger_strand_a475.csv */
    assert_close(limits.limit_n[FE_RUN_EVERYDAY], 0.25 * 17748.0, 1e-6);
    assert_close(limits.limit_n[FE_RUN_HOT], 0.25 * 17748.0, 1e-6);
    assert_close(limits.limit_n[FE_RUN_COLD], 0.35 * 17748.0, 1e-6);
    assert_close(limits.limit_n[FE_RUN_ICE_WIND], 0.60 * 17748.0, 1e-6);
    assert_close(limits.limit_n[FE_RUN_WIND], 0.80 * 17748.0, 1e-6);
    assert_false(limits.needs_messenger);
    /* Weights add, ice meets both, steel alone is stretched: 0.10864 kg/m at 7850 kg/m3. */
    assert_close(cable.run.weight_n_m, 0.539 + 0.10864 * FE_GRAVITY_M_S2, 1e-9);
    assert_close(cable.run.diameter_m, 9.5e-3 + 4.76e-3, 1e-9);
    assert_close_relative(cable.run.stiffness_n, 170e9 * 0.10864 / 7850.0, 1e-9);
}

/* Every case of every kind of cable is limited to what the words beside the limit say. */
static void limits__are_the_share_that_their_words_say(void **state)
{
    (void)state;
    fe_cable_class fibre = FIGURE_8;
    fibre.metallic = false;
    fibre.everyday_limit_n = (double)NAN;
    const fe_hung_cable cables[] = {hang(&FIGURE_8, "3/16 extra high strength"),
                                    hang(&FIGURE_8, NULL), hang(&fibre, NULL)};
    size_t told = 0;
    for (size_t i = 0; i < sizeof cables / sizeof cables[0]; i++) {
        const fe_pull_limits limits = pull(&cables[i]);
        for (int k = 0; k < FE_RUN_CASE_KINDS; k++) {
            double percent = 0.0;
            if (sscanf(limits.rule[k], "%lf %% of breaking", &percent) != 1)
                continue;
            assert_close_relative(limits.limit_n[k], 0.01 * percent * cables[i].breaking_n,
                                  1e-12);
            told++;
        }
    }
    /* All but the two long-term cases of the maker's cable. */
    assert_int_equal(told, 3 * FE_RUN_CASE_KINDS - 2);
}

/* Eight wires of 0.205 mm2 and 60 GPa at 110 N: a strain of 1.12e-3, as the strand's. */
static void lashed_cable__stretches_with_its_strand(void **state)
{
    (void)state;
    fe_cable_class pairs = FIGURE_8;
    pairs.conductor_area_m2 = 0.205e-6;
    const fe_hung_cable lashed = hang(&pairs, "3/16 extra high strength");
    const double strain = 110.0 / (8.0 * 0.205e-6 * 60e9);
    assert_close_relative(pull(&lashed).carried_n, strain * lashed.run.stiffness_n, 1e-12);
    /* A messenger that the maker built in comes with loads for both. */
    const fe_hung_cable built = hang(&pairs, NULL);
    assert_true(pull(&built).carried_n == 0.0);
}

static void figure_8__has_the_makers_load_everyday_and_a_share_with_ice(void **state)
{
    (void)state;
    const fe_hung_cable cable = hang(&FIGURE_8, NULL);
    const fe_pull_limits limits = pull(&cable);
    assert_close(limits.limit_n[FE_RUN_EVERYDAY], 400.0, 1e-9);
    assert_close(limits.limit_n[FE_RUN_ICE], 720.0, 1e-9);
    assert_close(limits.limit_n[FE_RUN_COLD], 420.0, 1e-9);
}

static void plain_data_cable__needs_a_messenger(void **state)
{
    (void)state;
    fe_cable_class plain = FIGURE_8;
    plain.self_supporting = plain.has_messenger = false;
    plain.breaking_n = plain.everyday_limit_n = plain.area_m2 = (double)NAN;
    plain.pulling_limit_n = (double)NAN;
    const fe_hung_cable cable = hang(&plain, NULL);
    const fe_pull_limits limits = pull(&cable);
    assert_true(limits.needs_messenger);
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++)
        assert_close(limits.limit_n[k], 110.0, 1e-9);
    const fe_season winter = {.coldest_c = -20.0, .hottest_c = 0.0, .ice_m = 10e-3};
    fe_run_case cases[FE_RUN_CASE_KINDS];
    const size_t count = fe_run_season_cases(&winter, 0, &cable.run, cases);
    double span_m = 0.0;
    assert_int_equal(fe_limits_longest_span(&cable, &limits, cases, count, 15.0, 0.05, &span_m),
                     FE_OK);
    /* 6 N/m of ice: at 110 N some metres, w a / (8 s) with the sag grown by the stretch. */
    assert_true(span_m > 3.0 && span_m < 15.0);
}

static void typical_span_of_fifty_metres__means_no_ice(void **state)
{
    (void)state;
    const fe_hung_cable cable = hang(&FIGURE_8, NULL);
    const fe_pull_limits limits = pull(&cable);
    const fe_season mild = {.coldest_c = 0.0, .hottest_c = 30.0};
    fe_run_case cases[FE_RUN_CASE_KINDS];
    size_t count = fe_run_season_cases(&mild, 0, &cable.run, cases);
    double bare_m = 0.0;
    assert_int_equal(fe_limits_longest_span(&cable, &limits, cases, count, 15.0, 0.03, &bare_m),
                     FE_OK);
    const fe_season ice = {.coldest_c = -20.0, .hottest_c = 5.0, .ice_m = 12.5e-3};
    count = fe_run_season_cases(&ice, 0, &cable.run, cases);
    double iced_m = 0.0;
    assert_int_equal(fe_limits_longest_span(&cable, &limits, cases, count, 15.0, 0.03, &iced_m),
                     FE_OK);
    assert_true(bare_m > 100.0);
    assert_true(iced_m > 15.0 && iced_m < 40.0);
}

static void clearance__follows_code_and_plan(void **state)
{
    (void)state;
    fe_clearance_need need;
    const double none = (double)NAN;
    assert_int_equal(
        fe_limits_clearance(FE_SAFETY_US, NULL, false, FE_BELOW_WALKERS, none, &need), FE_OK);
    assert_close(need.over_ground_m, 2.9, 1e-12); /* clearances_overhead.csv, C2 Table 232-1 */
    assert_close(need.over_snow_m, 2.5, 1e-12);
    assert_int_equal(
        fe_limits_clearance(FE_SAFETY_US, NULL, true, FE_BELOW_WALKERS, none, &need), FE_OK);
    assert_close(need.over_ground_m, 3.6, 1e-12);
    assert_close(need.over_snow_m, 3.6, 1e-12);
    assert_int_equal(
        fe_limits_clearance(FE_SAFETY_EN, NULL, false, FE_BELOW_WALKERS, none, &need), FE_OK);
    assert_close(need.over_ground_m, 3.5, 1e-12);
    assert_int_equal(
        fe_limits_clearance(FE_SAFETY_EN, NULL, false, FE_BELOW_TALL_MACHINES, none, &need),
        FE_OK);
    assert_close(need.over_ground_m, 5.8, 1e-12);
    assert_close(need.over_snow_m, 0.0, 1e-12);
    assert_int_equal(
        fe_limits_clearance(FE_SAFETY_EN, NULL, false, FE_BELOW_VEHICLES, 4.2, &need), FE_OK);
    assert_close(need.over_ground_m, 4.2, 1e-12);
    for (int b = 0; b < FE_BELOW_LAST; b++)
        for (int f = 0; f < 2; f++)
            for (int s = 0; s < 2; s++)
                assert_int_equal(fe_limits_clearance((fe_safety_format)f, NULL, s == 1,
                                                     (fe_thing_below)b, none, &need),
                                 fe_limits_is_roof((fe_thing_below)b) ? FE_E_DOMAIN : FE_OK);
    assert_int_equal(fe_limits_clearance(FE_SAFETY_EN, NULL, false, FE_BELOW_LAST, none, &need),
                     FE_E_DOMAIN);
}

/* Roofs count from their own height; clearances_overhead.csv. */
static void clearance_over_a_roof__is_added_to_it(void **state)
{
    (void)state;
    static const struct {
        const char *code;
        bool supply;
        fe_thing_below below;
        double over_m;
    } CASES[] = {
        {"US NFPA 70", false, FE_BELOW_ROOF, 2.5},
        {"US NFPA 70", true, FE_BELOW_ROOF, 2.6},
        {"US NFPA 70", true, FE_BELOW_STEEP_ROOF, 0.9},
        {"US NFPA 70", false, FE_BELOW_EAVES, 0.45},
        {"California GO 95", true, FE_BELOW_ROOF, 2.44},
        {"US IEEE C2", false, FE_BELOW_ROOF, 2.5},
        {"California GO 95", true, FE_BELOW_EAVES, 2.44},
    };
    fe_clearance_need need;
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        assert_int_equal(fe_limits_clearance(FE_SAFETY_US, CASES[i].code, CASES[i].supply,
                                             CASES[i].below, 3.2, &need),
                         FE_OK);
        assert_close(need.over_ground_m, 3.2 + CASES[i].over_m, 1e-12);
        assert_close(need.over_snow_m, 0.0, 1e-12);
        assert_int_equal(fe_limits_clearance(FE_SAFETY_US, CASES[i].code, CASES[i].supply,
                                             CASES[i].below, (double)NAN, &need),
                         FE_E_DOMAIN);
    }
}

/* Each code by its own rows; clearances_overhead.csv. What it does not name, by the usual. */
static void clearance__follows_the_code_that_is_asked(void **state)
{
    (void)state;
    static const struct {
        const char *code;
        bool supply;
        fe_thing_below below;
        double height_m;
    } CASES[] = {
        {"US NFPA 70", true, FE_BELOW_WALKERS, 3.0},
        {"US NFPA 70", true, FE_BELOW_DRIVEWAY, 3.7},
        {"US NFPA 70", false, FE_BELOW_RIDERS, 5.5},
        {"US NFPA 70", false, FE_BELOW_RAILWAY, 7.5},
        {"US IEEE C2", false, FE_BELOW_RIDERS, 4.7},
        {"US IEEE C2", true, FE_BELOW_DRIVEWAY, 4.9},
        {"US IEEE C2", false, FE_BELOW_TALL_MACHINES, 5.5},
        {"UK wiring guide", false, FE_BELOW_ROAD, 5.8},
        {"UK communications code", false, FE_BELOW_ROAD, 5.5},
        {"UK communications code", false, FE_BELOW_HIGH_LOADS, 6.5},
        {"UK communications code", false, FE_BELOW_WALKERS, 3.5}, /* of the wiring guide */
        {"Canada CSA C22.1", true, FE_BELOW_DRIVEWAY, 4.0},
        {"Canada CSA C22.1", true, FE_BELOW_VEHICLES, 5.0},
        {"Canada CSA C22.1", true, FE_BELOW_ROAD, 5.5},
        {"California GO 95", false, FE_BELOW_WALKERS, 3.05},
        {"California GO 95", false, FE_BELOW_VEHICLES, 4.57},
        {"California GO 95", false, FE_BELOW_ROAD, 5.49},
        {"US IEEE C2", false, FE_BELOW_LOW_DRIVEWAY, 3.5},
        {"US IEEE C2", true, FE_BELOW_LOW_DRIVEWAY, 3.8},
        {"US NFPA 70", true, FE_BELOW_LOW_DRIVEWAY, 3.7}, /* of its driveways */
        {"UK ESQCR 2002", true, FE_BELOW_WALKERS, 5.2},
        {"UK ESQCR 2002", true, FE_BELOW_ROAD, 5.8},
    };
    fe_clearance_need need;
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        assert_int_equal(fe_limits_clearance(FE_SAFETY_EN, CASES[i].code, CASES[i].supply,
                                             CASES[i].below, (double)NAN, &need),
                         FE_OK);
        if (fabs(need.over_ground_m - CASES[i].height_m) > 1e-12)
            fail_msg("%s, case %zu: %g", CASES[i].code, i, need.over_ground_m);
    }
    assert_int_equal(
        fe_limits_clearance(FE_SAFETY_EN, "US NFPA 70", true, FE_BELOW_WALKERS, 2.2, &need),
        FE_OK);
    assert_close(need.over_ground_m, 2.2, 1e-12); /* the plan's own overrides */
    assert_int_equal(fe_limits_clearance(FE_SAFETY_EN, "no code", true, FE_BELOW_WALKERS,
                                         (double)NAN, &need),
                     FE_E_DOMAIN);
    assert_int_equal(fe_limits_code_count(), 7);
}

static void shared_posts__keep_supply_above_data(void **state)
{
    (void)state;
    const fe_shared_posts shared = fe_limits_shared_posts(FE_SAFETY_EN);
    assert_close(shared.at_pole_m, 1.0, 1e-12);
    assert_close(shared.in_span_m, 0.3, 1e-12);
    double pole_m = 0.0, span_m = 0.0;
    assert_int_equal(fe_limits_shared_distance(5.0, 1.0, 4.0, 0.2, &pole_m, &span_m), FE_OK);
    assert_close(pole_m, 1.0, 1e-12);
    assert_close(span_m, 0.2, 1e-12); /* 1 m at the post is not enough: unequal sags */
}

static void verdict__is_tight_before_it_fails(void **state)
{
    (void)state;
    assert_int_equal(fe_limits_verdict(0.5), FE_VERDICT_HOLDS);
    assert_int_equal(fe_limits_verdict(0.85), FE_VERDICT_TIGHT);
    assert_int_equal(fe_limits_verdict(1.0), FE_VERDICT_TIGHT);
    assert_int_equal(fe_limits_verdict(1.001), FE_VERDICT_FAILS);
    assert_int_equal(fe_limits_verdict((double)NAN), FE_VERDICT_FAILS);
}

static void bad_cables__are_refused(void **state)
{
    (void)state;
    fe_hung_cable cable;
    fe_cable_class bad = FIGURE_8;
    bad.weight_n_m = (double)NAN;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_E_DOMAIN);
    bad = FIGURE_8;
    bad.breaking_n = (double)NAN;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_E_DOMAIN);
    assert_int_equal(fe_limits_cable(&FIGURE_8, "3/16", &cable), FE_E_INPUT);
    assert_int_equal(fe_limits_cable(&FIGURE_8, "3/16 splendid", &cable), FE_E_INPUT);
    assert_int_equal(fe_limits_cable(&FIGURE_8, "99 common", &cable), FE_E_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strand__has_shares_of_its_breaking_strength),
        cmocka_unit_test(limits__are_the_share_that_their_words_say),
        cmocka_unit_test(lashed_cable__stretches_with_its_strand),
        cmocka_unit_test(figure_8__has_the_makers_load_everyday_and_a_share_with_ice),
        cmocka_unit_test(plain_data_cable__needs_a_messenger),
        cmocka_unit_test(typical_span_of_fifty_metres__means_no_ice),
        cmocka_unit_test(clearance__follows_code_and_plan),
        cmocka_unit_test(clearance_over_a_roof__is_added_to_it),
        cmocka_unit_test(clearance__follows_the_code_that_is_asked),
        cmocka_unit_test(shared_posts__keep_supply_above_data),
        cmocka_unit_test(verdict__is_tight_before_it_fails),
        cmocka_unit_test(bad_cables__are_refused),
    };
    return FE_RUN_TESTS(tests);
}
