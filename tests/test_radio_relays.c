/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which gear is to relay, where it may stand, and what helps where no number is enough. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "deciding.h"
#include "farend/constants.h"
#include "farend/radio_hop.h"
#include "farend/radio_link.h"
#include "farend/radio_relays.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

static const char PLAN_FILE[] = "test_radio_relays_plan.ini";

static const char *plan_text(char text[PLAN_TEXT_ROOM], const char *rest)
{
    const int length = snprintf(text, PLAN_TEXT_ROOM,
                                "[site]\nregion = EU\nbands = 2.4 GHz\n"
                                "[end house]\ngear = outdoor-access-point\nheight = 3 m\n"
                                "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
                                "[path way]\nfrom = house\nto = shed\ndistance = 300 m\n%s",
                                rest);
    assert_true(length > 0 && length < PLAN_TEXT_ROOM);
    return text;
}

static void write_plan(const char *rest)
{
    char text[PLAN_TEXT_ROOM];
    plan_text(text, rest);
    assert_int_equal(fe_textfile_write(PLAN_FILE, text, strlen(text)), FE_OK);
}

static void read_plan(fe_plan *plan, const char *rest)
{
    char text[PLAN_TEXT_ROOM];
    read_text(plan, plan_text(text, rest));
}

/* ---- Candidates ---- */

static void classes__are_what_is_owned_then_named_then_the_catalogue(void **state)
{
    (void)state;
    fe_plan plan;
    fe_relay_class classes[FE_RELAY_MOST_CLASSES];
    read_plan(&plan, "[relay]\ngear = outdoor-access-point\n"
                     "[own]\nindoor-extender = 2\nindoor-access-point = 0\n");
    const size_t count = fe_relay_classes(&plan, plan.relay.gear, FE_BAND_2_4_GHZ, classes);
    assert_true(count >= 2);
    assert_string_equal(classes[0].gear->name, "indoor-extender");
    assert_int_equal(classes[0].owned, 2);
    assert_false(classes[0].named);
    assert_string_equal(classes[1].gear->name, "outdoor-access-point");
    assert_int_equal(classes[1].owned, 0);
    assert_true(classes[1].named);
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < i; k++)
            assert_ptr_not_equal(classes[i].gear, classes[k].gear);
    fe_plan_free(&plan);
}

/* Owned panels were once put in a row as if each looked both ways. */
static void classes__leave_out_what_looks_one_way(void **state)
{
    (void)state;
    fe_plan plan;
    fe_relay_class classes[FE_RELAY_MOST_CLASSES];
    read_plan(&plan, "[own]\ndirectional-panel = 4\n");
    const size_t count = fe_relay_classes(&plan, "directional-panel", FE_BAND_2_4_GHZ, classes);
    assert_true(count > 0);
    for (size_t i = 0; i < count; i++) {
        assert_true(classes[i].gear->relays);
        assert_true(fe_gear_radio(classes[i].gear, FE_BAND_2_4_GHZ)->beam_rad >
                    100.0 * FE_DEG_RAD);
    }
    fe_plan_free(&plan);
}

static void places__of_a_range_are_every_step_of_it(void **state)
{
    (void)state;
    fe_plan plan;
    fe_relay_spot *places = NULL;
    size_t count = 0;
    read_plan(&plan, "[relay]\nplace = 205..209.5 m, 130 m, 206 m\n");
    assert_int_equal(fe_relay_places(&plan, 0, 1.0, &places, &count), FE_OK);
    /* What is listed and both ends of a range are there at any step; 207 m, two steps from its
     * start, at twice the step too, 209 m at four times. */
    enum { EVERY = FE_RELAY_EVERY_LEVEL };
    static const fe_relay_spot WANTED[] = {{130.0, EVERY}, {205.0, EVERY}, {206.0, EVERY},
                                           {207.0, 1},     {208.0, 0},     {209.0, 2},
                                           {209.5, EVERY}};
    assert_int_equal(count, sizeof WANTED / sizeof WANTED[0]);
    for (size_t i = 0; i < count; i++) {
        assert_close(places[i].at_m, WANTED[i].at_m, 1e-9);
        assert_int_equal(places[i].level, WANTED[i].level);
    }
    free(places);
    fe_plan_free(&plan);
    read_plan(&plan, "[relay]\nplace = anywhere\n");
    assert_int_equal(fe_relay_places(&plan, 0, 1.0, &places, &count), FE_OK);
    assert_null(places);
    assert_int_equal(count, 0);
    fe_plan_free(&plan);
}

static void power__is_known_within_two_metres(void **state)
{
    (void)state;
    fe_plan plan;
    read_plan(&plan, "[relay]\nplace = anywhere\npower = 48 m, 100..110 m\n");
    assert_true(fe_relay_has_power(&plan, 0, 46.0));
    assert_false(fe_relay_has_power(&plan, 0, 45.9));
    assert_true(fe_relay_has_power(&plan, 0, 105.0));
    assert_false(fe_relay_has_power(&plan, 1, 48.0));
    fe_plan_free(&plan);
}

/* ---- The choice ---- */

static fe_relay_choice *choose(const fe_plan *plan, double rate_bps)
{
    const fe_gear *ap = fe_plan_gear(plan, "outdoor-access-point");
    const fe_gear *const gear[2] = {ap, ap};
    fe_relay_class classes[FE_RELAY_MOST_CLASSES];
    double masts_m[2];
    fe_hop *hop = NULL;
    fe_wanted wanted = fe_radio_wanted(plan, 0);
    fe_relay_choice *choice = calloc(1, sizeof *choice);
    assert_non_null(choice);
    wanted.rate_bps[0] = rate_bps;
    wanted.rate_bps[1] = 0.0;
    assert_true(fe_radio_hop(plan, 0, gear, FE_BAND_2_4_GHZ, &hop) >= 0);
    const fe_relay_question question = {
        .direct = hop,
        .band = FE_BAND_2_4_GHZ,
        .classes = classes,
        .class_count = fe_relay_classes(plan, plan->relay.gear, FE_BAND_2_4_GHZ, classes),
        .masts_m = masts_m,
        .mast_count = fe_relay_masts(plan, masts_m),
        .step_m = 10.0,
        .seasons = plan->seasons,
        .season_count = plan->season_count,
        .wanted = &wanted,
        .threads = 1,
    };
    assert_true(fe_relay_choose(&question, choice) >= 0);
    free(hop);
    return choice;
}

static void choice__takes_what_is_owned_where_there_is_enough_of_it(void **state)
{
    (void)state;
    fe_plan plan;
    read_plan(&plan, "[relay]\nheight = 3 m\ngear = indoor-extender\n"
                     "[own]\noutdoor-access-point = 9\n");
    fe_relay_choice *choice = choose(&plan, 5e6);
    assert_int_equal(choice->verdict, FE_VERDICT_HOLDS);
    assert_string_equal(choice->class.gear->name, "outdoor-access-point");
    const unsigned needed = choice->ways[choice->best].chain.relays;
    assert_true(needed >= 1 && needed <= 9);
    assert_int_equal(choice->trial_count, 1);
    free(choice);
    fe_plan_free(&plan);
}

static void choice__passes_over_gear_of_which_too_little_is_owned(void **state)
{
    (void)state;
    fe_plan plan;
    read_plan(&plan, "[relay]\nheight = 3 m\ngear = outdoor-access-point\n"
                     "[own]\nindoor-extender = 1\n");
    fe_relay_choice *choice = choose(&plan, 5e6);
    assert_string_equal(choice->trials[0].class.gear->name, "indoor-extender");
    assert_true(choice->trials[0].relays > 1 || choice->trials[0].verdict != FE_VERDICT_HOLDS);
    assert_string_equal(choice->class.gear->name, "outdoor-access-point");
    assert_int_equal(choice->verdict, FE_VERDICT_HOLDS);
    free(choice);
    fe_plan_free(&plan);
}

/* Links and chains are chosen by one rule; chances half a percent apart are the same. */
static void score__is_verdict_then_chance_then_margin(void **state)
{
    (void)state;
    const fe_radio_score tight = {FE_VERDICT_TIGHT, 0.9, 20.0};
    const fe_radio_score sure = {FE_VERDICT_HOLDS, 0.91, 3.0};
    const fe_radio_score surer = {FE_VERDICT_HOLDS, 0.95, 2.0};
    const fe_radio_score same = {FE_VERDICT_HOLDS, 0.914, 4.0};
    assert_true(fe_radio_score_is_better(&sure, &tight));
    assert_true(fe_radio_score_is_better(&surer, &sure));
    assert_false(fe_radio_score_is_better(&sure, &surer));
    assert_true(fe_radio_score_is_better(&same, &sure));
    assert_false(fe_radio_score_is_better(&sure, &same));
    assert_false(fe_radio_score_is_better(&sure, &sure));
}

static void verdict__of_a_chain_is_tight_only_from_an_even_chance(void **state)
{
    (void)state;
    const fe_chain good = {.chance = 0.93, .margin_db = 9.0};
    const fe_chain even = {.chance = 0.6, .margin_db = 3.0};
    const fe_chain long_one = {.chance = 0.4, .margin_db = 3.0};
    assert_int_equal(fe_relay_verdict(&good, 0.9), FE_VERDICT_HOLDS);
    assert_int_equal(fe_relay_verdict(&even, 0.9), FE_VERDICT_TIGHT);
    assert_int_equal(fe_relay_verdict(&long_one, 0.9), FE_VERDICT_FAILS);
}

/* ---- The command ---- */

static json_t *json_of(const char *line)
{
    return fe_testing_json_of(".", line);
}

static const json_t *band_of(const json_t *root, size_t index)
{
    return json_array_get(json_object_get(root, "bands"), index);
}

static const char *word(const json_t *object, const char *key)
{
    return json_string_value(json_object_get(object, key));
}

static const json_t *change_of(const json_t *band, const char *kind)
{
    const json_t *changes = json_object_get(band, "what_if");
    for (size_t i = 0; i < json_array_size(changes); i++)
        if (strcmp(word(json_array_get(changes, i), "change"), kind) == 0)
            return json_array_get(changes, i);
    return NULL;
}

static const char FAILING[] = "[relay]\nplace = anywhere\nheight = %s\n"
                              "gear = outdoor-access-point\n"
                              "[climate]\ndeepest-snow = 2.4 m\n"
                              "[traffic t]\nfrom = house\nto = shed\nstream = 2 Mb/s\n";

/* What the table promises is what the plan gives once it has been changed so. */
static void what_if__of_higher_masts_is_what_the_changed_plan_gives(void **state)
{
    (void)state;
    char rest[512];
    snprintf(rest, sizeof rest, FAILING, "2 m");
    write_plan(rest);
    json_t *root = json_of("farend relays test_radio_relays_plan.ini --json");
    const json_t *change = change_of(band_of(root, 0), "relays_higher");
    assert_non_null(change);
    char height[24];
    snprintf(height, sizeof height, "%.2f m", 2.0 + fe_testing_number(change, "rise_m"));
    snprintf(rest, sizeof rest, FAILING, height);
    write_plan(rest);
    json_t *changed = json_of("farend relays test_radio_relays_plan.ini --json");
    remove(PLAN_FILE);
    assert_string_equal(word(change, "verdict"), word(band_of(changed, 0), "verdict"));
    assert_close(fe_testing_number(change, "count"),
                 fe_testing_number(band_of(changed, 0), "count"), 0.0);
    /* The table looks at every third metre, the answer at every one. */
    assert_close(fe_testing_number(change, "chance"),
                 fe_testing_number(band_of(changed, 0), "chance"), 0.05);
    json_decref(changed);
    json_decref(root);
}

static void write_plan_with_house_gear(const char *gear)
{
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text,
             "[site]\nregion = EU\nbands = 2.4 GHz\n[end house]\ngear = %s\nheight = 3 m\n"
             "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
             "[path way]\nfrom = house\nto = shed\ndistance = 300 m\n"
             "[relay]\nplace = anywhere\nheight = 2 m\ngear = outdoor-access-point\n"
             "[climate]\ndeepest-snow = 2.4 m\n"
             "[traffic t]\nfrom = house\nto = shed\nstream = 2 Mb/s\n",
             gear);
    assert_int_equal(fe_textfile_write(PLAN_FILE, text, strlen(text)), FE_OK);
}

/* The pair of ends in the table gives what a plan gives that names no other. */
static void what_if__of_other_ends_is_what_the_changed_plan_gives(void **state)
{
    (void)state;
    write_plan_with_house_gear("outdoor-access-point, directional-panel");
    json_t *root = json_of("farend relays test_radio_relays_plan.ini --json");
    const json_t *change = change_of(band_of(root, 0), "other_end_gear");
    assert_non_null(change);
    const json_t *gear = json_object_get(change, "end_gear");
    assert_string_equal(json_string_value(json_array_get(gear, 1)), "outdoor-access-point");
    write_plan_with_house_gear(json_string_value(json_array_get(gear, 0)));
    json_t *changed = json_of("farend relays test_radio_relays_plan.ini --json");
    remove(PLAN_FILE);
    assert_null(change_of(band_of(changed, 0), "other_end_gear"));
    assert_string_equal(word(change, "verdict"), word(band_of(changed, 0), "verdict"));
    assert_close(fe_testing_number(change, "count"),
                 fe_testing_number(band_of(changed, 0), "count"), 0.0);
    /* The table looks at every third metre, the answer at every one. */
    assert_close(fe_testing_number(change, "chance"),
                 fe_testing_number(band_of(changed, 0), "chance"), 0.05);
    json_decref(changed);
    json_decref(root);
}

static void what_if__is_asked_only_where_no_number_holds(void **state)
{
    (void)state;
    json_t *root = json_of("farend relays --distance 120m --gear outdoor-access-point "
                           "--rate 1Mb/s --json");
    for (size_t i = 0; i < json_array_size(json_object_get(root, "bands")); i++) {
        const json_t *band = band_of(root, i);
        if (strcmp(word(band, "verdict"), "holds") == 0)
            assert_int_equal(json_array_size(json_object_get(band, "what_if")), 0);
        else
            assert_true(json_array_size(json_object_get(band, "what_if")) >= 4);
    }
    json_decref(root);
}

static void what_if__of_a_band_not_asked_for_is_worked_out_too(void **state)
{
    (void)state;
    json_t *root = json_of("farend relays --distance 900m --gear outdoor-access-point "
                           "--band 2.4GHz --rate 40Mb/s --json");
    assert_int_equal(json_array_size(json_object_get(root, "bands")), 1);
    const json_t *change = change_of(band_of(root, 0), "other_band");
    assert_non_null(change);
    assert_string_equal(word(change, "band"), "5 GHz");
    assert_non_null(change_of(band_of(root, 0), "directional_pair"));
    assert_non_null(change_of(band_of(root, 0), "lower_rate"));
    json_decref(root);
}

static const char TWO_PATHS[] = "[end barn]\ngear = outdoor-access-point\nheight = 3 m\n"
                                "[path far way]\nfrom = house\nto = barn\ndistance = 90 m\n"
                                "[relay]\nplace = 100 m\ngear = outdoor-access-point\n";

static void relays__answer_every_path_or_the_one_that_is_named(void **state)
{
    (void)state;
    write_plan(TWO_PATHS);
    json_t *all = json_of("farend relays test_radio_relays_plan.ini --json");
    json_t *one = json_of("farend relays test_radio_relays_plan.ini --path \"far way\" --json");
    assert_int_equal(json_array_size(json_object_get(all, "bands")), 2);
    assert_string_equal(word(band_of(all, 0), "path"), "way");
    assert_string_equal(word(band_of(all, 1), "path"), "far way");
    assert_int_equal(json_array_size(json_object_get(one, "bands")), 1);
    assert_true(json_equal(band_of(all, 1), band_of(one, 0)));
    json_decref(one);
    json_decref(all);
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run_line(".", "farend relays test_radio_relays_plan.ini --path \"far wy\"", &out,
                        &err, &code);
    remove(PLAN_FILE);
    assert_int_equal(code, 2);
    assert_non_null(strstr(err, "did you mean far way?"));
    free(out);
    free(err);
}

/* What stands in for a plan is refused beside one, each option with its own line. */
static void options__beside_a_plan_are_refused(void **state)
{
    (void)state;
    static const char *const LINES[] = {
        "farend relays test_radio_relays_plan.ini --wall \"brick 110 mm\" --trees 3m "
        "--height 5m --region US",
        "farend accept test_radio_relays_plan.ini --band 5GHz --level -61dBm "
        "--wall \"brick 110 mm\" --trees 3m --height 5m --region US",
    };
    static const char *const KEYS[] = {"--wall", "--trees", "--height", "--region"};
    write_plan("[relay]\nplace = anywhere\n");
    for (size_t i = 0; i < 2; i++) {
        char *out = NULL, *err = NULL;
        int code = 0;
        fe_testing_run_line(".", LINES[i], &out, &err, &code);
        assert_int_equal(code, 2);
        assert_string_equal(out, "");
        for (size_t k = 0; k < 4; k++) {
            char wanted[64];
            snprintf(wanted, sizeof wanted, "%s: the plan says that", KEYS[k]);
            assert_non_null(strstr(err, wanted));
        }
        free(out);
        free(err);
    }
    remove(PLAN_FILE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(classes__are_what_is_owned_then_named_then_the_catalogue),
        cmocka_unit_test(classes__leave_out_what_looks_one_way),
        cmocka_unit_test(places__of_a_range_are_every_step_of_it),
        cmocka_unit_test(power__is_known_within_two_metres),
        cmocka_unit_test(choice__takes_what_is_owned_where_there_is_enough_of_it),
        cmocka_unit_test(choice__passes_over_gear_of_which_too_little_is_owned),
        cmocka_unit_test(options__beside_a_plan_are_refused),
        cmocka_unit_test(score__is_verdict_then_chance_then_margin),
        cmocka_unit_test(verdict__of_a_chain_is_tight_only_from_an_even_chance),
        cmocka_unit_test(what_if__of_higher_masts_is_what_the_changed_plan_gives),
        cmocka_unit_test(what_if__of_other_ends_is_what_the_changed_plan_gives),
        cmocka_unit_test(what_if__is_asked_only_where_no_number_holds),
        cmocka_unit_test(what_if__of_a_band_not_asked_for_is_worked_out_too),
        cmocka_unit_test(relays__answer_every_path_or_the_one_that_is_named),
    };
    return FE_RUN_TESTS(tests);
}
