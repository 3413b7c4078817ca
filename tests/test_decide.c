/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How ways are judged, on plans small enough to see through. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "deciding.h"
#include "farend/improve.h"

/* ---- Limits ---- */

static void use__is_tight_from_ninety_percent_of_a_limit(void **state)
{
    (void)state;
    assert_int_equal(fe_verdict_of_use(89.9, 100.0), FE_VERDICT_HOLDS);
    assert_int_equal(fe_verdict_of_use(90.0, 100.0), FE_VERDICT_TIGHT);
    assert_int_equal(fe_verdict_of_use(100.0, 100.0), FE_VERDICT_TIGHT);
    assert_int_equal(fe_verdict_of_use(100.1, 100.0), FE_VERDICT_FAILS);
    assert_int_equal(fe_verdict_of_use((double)NAN, 100.0), FE_VERDICT_FAILS);
}

static void verdict__worse_of_two_is_the_same_either_way(void **state)
{
    (void)state;
    assert_int_equal(fe_verdict_worse(FE_VERDICT_HOLDS, FE_VERDICT_TIGHT), FE_VERDICT_TIGHT);
    assert_int_equal(fe_verdict_worse(FE_VERDICT_FAILS, FE_VERDICT_TIGHT), FE_VERDICT_FAILS);
    assert_string_equal(fe_verdict_name(FE_VERDICT_TIGHT), "tight");
}

/* ---- Radio ---- */

static void radio__is_decided_by_its_worst_season(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "300 m",
              "[trees row]\npath = way\nfrom = 100 m\nto = 110 m\nheight = 8 m\n"
              "kind = deciduous\n");
    const fe_radio_result *radio = &got.result.radio[0];
    const fe_hop_budget *budget = &radio->budget;
    double least = INFINITY;
    for (size_t i = 0; i < budget->season_count; i++)
        least = fmin(least, budget->seasons[i].chance);
    assert_close(budget->chance, least, 0.0);
    assert_close(budget->seasons[budget->worst].chance, least, 0.0);
    const fe_way *way = way_of(&got, FE_WAY_DIRECT);
    assert_string_equal(way->season, got.plan.seasons[budget->worst].name);
    assert_close(way->margin_db, budget->seasons[budget->worst].margin_db, 0.0);
    /* Leaves are what makes a row of trees worst. */
    assert_true(got.plan.seasons[budget->worst].in_leaf);
    done(&got);
}

static void radio__fails_where_snow_buries_an_antenna(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "100 m", "[climate]\ndeepest-snow = 3.5 m\n");
    const fe_way *way = way_of(&got, FE_WAY_DIRECT);
    assert_int_equal(way->verdict, FE_VERDICT_FAILS);
    assert_string_equal(way->season, "deep winter");
    assert_string_equal(got.result.radio[0].limit, "an antenna under the snow");
    done(&got);
}

static void radio__loses_margin_with_distance(void **state)
{
    (void)state;
    decided near;
    decided far;
    decide_on(&near, "100 m", "");
    decide_on(&far, "900 m", "");
    assert_true(way_of(&near, FE_WAY_DIRECT)->margin_db >
                way_of(&far, FE_WAY_DIRECT)->margin_db + 6.0);
    done(&near);
    done(&far);
}

/* True where links alone settled which of them is chosen. */
static bool links_agree(const char *distance, const char *more)
{
    decided got;
    fe_result links;
    decide_on(&got, distance, more);
    assert_true(fe_decide_links(&got.plan, &links) >= 0);
    assert_int_equal(links.radio_count, got.result.radio_count);
    for (size_t i = 0; i < links.radio_count; i++) {
        assert_int_equal(links.radio[i].band, got.result.radio[i].band);
        assert_close(links.radio[i].budget.chance, got.result.radio[i].budget.chance, 0.0);
    }
    assert_int_equal(fe_result_chosen_radio(&links), fe_result_chosen_radio(&got.result));
    const bool alone = links.relay_count == 0 && links.channel_count == 0;
    fe_result_free(&links);
    done(&got);
    return alone;
}

/* The link that is shown is the same; the rest is computed only where it hangs on that. */
static void links__are_those_of_the_whole_decision(void **state)
{
    (void)state;
    static const char *const DISTANCES[] = {"40 m", "300 m", "2 km"};
    static const char *const MORE[] = {
        "", "[load pump]\npower = 30 W\n",
        "[traffic film]\nfrom = shed\nto = house\nstream = 20 Mb/s\nlongest-delay = 4 ms\n"};
    size_t alone = 0, whole = 0;
    for (size_t i = 0; i < sizeof DISTANCES / sizeof DISTANCES[0]; i++)
        for (size_t k = 0; k < sizeof MORE / sizeof MORE[0]; k++) {
            const bool settled = links_agree(DISTANCES[i], MORE[k]);
            alone += settled;
            whole += !settled;
        }
    assert_true(alone > 0);
    assert_true(whole > 0);
    /* Over two paths a delay is shared, and a cable may be the quicker one. */
    assert_false(links_agree("300 m", "[end far]\ngear = directional-panel\n"
                                      "[path on]\nfrom = shed\nto = far\n"
                                      "distance = 200 m\n"));
}

static void pair__of_the_plans_own_gear_goes_before_a_stronger_one(void **state)
{
    (void)state;
    static const char *const GEAR[] = {"directional-panel", "dish"};
    for (size_t i = 0; i < 2; i++) {
        decided got;
        char text[1000];
        snprintf(text, sizeof text,
                 "[site]\nregion = EU\nbands = 5 GHz\n"
                 "[end house]\ngear = %s\nheight = 4 m\nmount = outdoors\naim = by signal\n"
                 "[end shed]\ngear = %s\nheight = 3 m\nmount = outdoors\naim = by signal\n"
                 "[path way]\nfrom = house\nto = shed\ndistance = 60 m\n",
                 GEAR[i], GEAR[i]);
        decide_text(&got, text);
        const fe_way *way = way_of(&got, FE_WAY_DIRECTIONAL);
        assert_int_equal(way->verdict, FE_VERDICT_HOLDS);
        assert_string_equal(got.result.radio[way->index].gear[0]->name, GEAR[i]);
        assert_true(got.result.radio[way->index].owned);
        done(&got);
    }
}

static void relays__needed_is_the_smallest_number_that_reaches_the_confidence(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "700 m", "[relay]\nplace = anywhere\ngear = outdoor-access-point\n");
    assert_true(got.result.relay_count > 0);
    const fe_relay_result *relays = &got.result.relays[0];
    const double confidence = got.plan.site.confidence.typical;
    for (int i = 0; i < relays->needed; i++)
        assert_true(relays->chains[i].chance < confidence);
    if (relays->needed >= 0)
        assert_true(relays->chains[relays->needed].chance >= confidence);
    else
        for (size_t i = 0; i < relays->chain_count; i++)
            assert_true(relays->chains[i].chance < confidence);
    assert_true(relays->needed > 0);
    assert_string_equal(relays->relay_gear->name, "outdoor-access-point");
    done(&got);
}

static void transfer__waits_for_the_streams(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "80 m",
              "[traffic night]\nfrom = shed\nto = house\n"
              "transfer = 4 GB in 8 h\n");
    const fe_way *way = way_of(&got, FE_WAY_DIRECT);
    assert_close_relative(way->transfer_s, 4e9 * 8.0 / (way->rate_bps - 2e6), 1e-12);
    done(&got);
}

/* ---- Cable ---- */

static void copper__over_its_limit_fails_and_within_it_holds(void **state)
{
    (void)state;
    decided near;
    decided far;
    decide_on(&near, "60 m", "[cable]\nclass = outdoor-data\nindoor = 5 m\ncords = 4 m\n");
    decide_on(&far, "120 m", "[cable]\nclass = outdoor-data\nindoor = 5 m\ncords = 4 m\n");
    assert_int_equal(way_of(&near, FE_WAY_COPPER_BURIED)->verdict, FE_VERDICT_HOLDS);
    assert_int_equal(way_of(&far, FE_WAY_COPPER_BURIED)->verdict, FE_VERDICT_FAILS);
    assert_int_equal(way_of(&far, FE_WAY_FIBRE_BURIED)->verdict, FE_VERDICT_HOLDS);
    done(&near);
    done(&far);
}

/* It was judged as pairs of no category, and the whole report failed without saying why. */
static void supply_cable__alone_on_posts_carries_no_data(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m", "[posts]\ncable = supply-aerial\nlength = 5 m\n");
    assert_string_equal(got.result.overhead[0].cable->name, "supply-aerial");
    for (size_t i = 0; i < got.result.channel_count; i++)
        assert_int_not_equal(got.result.channels[i].cable->medium, FE_MEDIUM_SUPPLY);
    done(&got);
}

static void cable__is_the_sum_of_its_parts(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m", "[cable]\nclass = outdoor-data\nindoor = 5 m, 3 m\ncords = 4 m\n");
    const fe_channel_result *channel = &got.result.channels[0];
    assert_close(channel->indoor_m, 8.0, 1e-12);
    assert_close(channel->length_m,
                 channel->route_m + channel->drops_m + channel->indoor_m + channel->cords_m +
                     channel->slack_m,
                 1e-9);
    done(&got);
}

/* ---- Feed ---- */

static const char FEED[] = "[load pump]\npower = 600 W\nvoltage = 207..253 V\n"
                           "[feed]\nvoltage = 230 V ac\nconductor = copper\n"
                           "protection = 6 A fuse\nallowed-drop = "; /* the drop decides */

static double area_at(const char *drop)
{
    char rest[400];
    decided got;
    snprintf(rest, sizeof rest, "%s%s\n", FEED, drop);
    decide_on(&got, "200 m", rest);
    const fe_feed_choice *feed = &got.result.feeds[0];
    assert_true(feed->found);
    assert_true(feed->drop <= feed->allowed);
    assert_close(feed->drop, (230.0 - feed->far_v) / 230.0, 1e-12);
    const double area_m2 = feed->conductor.area_m2;
    done(&got);
    return area_m2;
}

static void feed__takes_the_smallest_size_that_delivers(void **state)
{
    (void)state;
    /* 600 W over 2 x 200 m: 2.61 A, 7.41 ohm/km at 20 degC for 2.5 mm2 (IEC 60228
     * class 2). */
    assert_true(area_at("3 %") > area_at("5 %"));
    assert_close(area_at("8 %"), 1.5e-6, 1e-12);
}

static void plan__fails_where_no_voltage_carries_the_power(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m",
              "[load heater]\npower = 5 kW\n"
              "[feed]\nvoltage = 12 V dc\nconductor = copper\nallowed-drop = 3 %\n");
    assert_int_equal(got.result.picks[0].power_way, -1);
    assert_true(got.result.picks[0].way >= 0);
    assert_int_equal(fe_result_verdict(&got.result), FE_VERDICT_FAILS);
    done(&got);
}

static void plan__without_a_feed_is_judged_by_its_data(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m", "");
    assert_int_equal(got.result.feed_count, 0);
    assert_true(got.result.picks[0].way >= 0);
    assert_int_equal(fe_result_verdict(&got.result),
                     got.result.ways[got.result.picks[0].way].verdict);
    done(&got);
}

/* ---- What would help ---- */

static void improvement__comes_of_the_changed_plan(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "400 m", "[climate]\ndeepest-snow = 1 m\n");
    const int chosen = fe_result_chosen_radio(&got.result);
    assert_true(chosen >= 0);
    const fe_radio_result *radio = &got.result.radio[chosen];
    const double before_m = got.plan.ends[0].height_m.typical;
    fe_improvements found;
    assert_true(fe_improve_radio(&got.result, (size_t)chosen, &found) >= 0);
    assert_close(got.plan.ends[0].height_m.typical, before_m, 0.0);
    const fe_improvement *raised = NULL;
    for (size_t i = 0; i < found.count; i++)
        if (found.items[i].kind == FE_IMPROVE_RAISE && found.items[i].end == 0)
            raised = &found.items[i];
    assert_non_null(raised);
    assert_close(raised->height_m, before_m + raised->rise_m, 1e-12);

    /* The same by hand. */
    got.plan.ends[0].height_m.typical = raised->height_m;
    fe_result again;
    assert_true(fe_decide(&got.plan, &again) >= 0);
    bool same = false;
    for (size_t i = 0; i < again.radio_count; i++)
        if (again.radio[i].band == radio->band &&
            again.radio[i].directional == radio->directional &&
            again.radio[i].gear[0] == radio->gear[0]) {
            const fe_hop_budget *budget = &again.radio[i].budget;
            assert_close(budget->seasons[budget->worst].margin_db, raised->margin_db, 1e-9);
            same = true;
        }
    assert_true(same);
    fe_result_free(&again);
    done(&got);
}

static void improvement__cheapest_gives_three_decibels(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "400 m", "[climate]\ndeepest-snow = 1 m\n");
    const int chosen = fe_result_chosen_radio(&got.result);
    assert_true(chosen >= 0);
    fe_improvements found;
    assert_true(fe_improve_radio(&got.result, (size_t)chosen, &found) >= 0);
    assert_true(found.count > 0);
    for (size_t i = 1; i < found.count; i++)
        assert_true(found.items[i].kind >= found.items[i - 1].kind);
    if (found.cheapest >= 0) {
        assert_true(found.items[found.cheapest].gain_db >= FE_IMPROVE_WANTED_DB);
        assert_true(found.items[found.cheapest].carries_rate);
    }
    assert_int_equal(fe_improve_radio(&got.result, got.result.radio_count, &found),
                     FE_E_DOMAIN);
    done(&got);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(use__is_tight_from_ninety_percent_of_a_limit),
        cmocka_unit_test(verdict__worse_of_two_is_the_same_either_way),
        cmocka_unit_test(radio__is_decided_by_its_worst_season),
        cmocka_unit_test(radio__fails_where_snow_buries_an_antenna),
        cmocka_unit_test(radio__loses_margin_with_distance),
        cmocka_unit_test(links__are_those_of_the_whole_decision),
        cmocka_unit_test(pair__of_the_plans_own_gear_goes_before_a_stronger_one),
        cmocka_unit_test(relays__needed_is_the_smallest_number_that_reaches_the_confidence),
        cmocka_unit_test(transfer__waits_for_the_streams),
        cmocka_unit_test(copper__over_its_limit_fails_and_within_it_holds),
        cmocka_unit_test(supply_cable__alone_on_posts_carries_no_data),
        cmocka_unit_test(cable__is_the_sum_of_its_parts),
        cmocka_unit_test(feed__takes_the_smallest_size_that_delivers),
        cmocka_unit_test(plan__fails_where_no_voltage_carries_the_power),
        cmocka_unit_test(plan__without_a_feed_is_judged_by_its_data),
        cmocka_unit_test(improvement__comes_of_the_changed_plan),
        cmocka_unit_test(improvement__cheapest_gives_three_decibels),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
