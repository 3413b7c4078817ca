/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a plan to a hop, and that all commands compute the same one. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "deciding.h"
#include "farend/feeder.h"
#include "farend/radio_hop.h"
#include "farend/radio_link.h"
#include "run.h"
#include "testing.h"

/* A dish-like panel without a built-in antenna, so that its feeder counts. */
static const char PANEL[] =
    "[gear panel]\noutdoor = yes\nconsumption = 6 W\nlowest-temperature = -30 degC\n"
    "radio = band 2.4 GHz, standard ht, width 20 MHz, streams 1, power 20 dBm, falloff 4 dB, "
    "gain 12 dBi, beam 40 deg, tilt-beam 40 deg, bonus 0 dB, polarisation vertical\n";

static void read_plan(fe_plan *plan, const char *ends)
{
    char text[16384];
    const int length = snprintf(text, sizeof text,
                                "[site]\nregion = EU\nbands = 2.4 GHz\n%s"
                                "[path way]\nfrom = house\nto = shed\ndistance = 120 m\n"
                                "[trees row]\npath = way\nfrom = 40 m\nto = 52 m\n"
                                "height = 6 m\nkind = conifer\n",
                                ends);
    assert_true(length > 0 && (size_t)length < sizeof text);
    read_text(plan, text);
}

static fe_hop *hop_of(const fe_plan *plan, const char *a, const char *b)
{
    const fe_gear *const gear[2] = {fe_plan_gear(plan, a), fe_plan_gear(plan, b)};
    fe_hop *hop = NULL;
    assert_non_null(gear[0]);
    assert_non_null(gear[1]);
    assert_true(fe_radio_hop(plan, 0, gear, FE_BAND_2_4_GHZ, &hop) >= 0);
    return hop;
}

static const char ENDS[] = "[end house]\ngear = indoor-access-point, directional-panel\n"
                           "height = 3 m\nmount = indoors\nwall = brick 110 mm\n"
                           "[end shed]\ngear = outdoor-access-point\nheight = 2 m\n"
                           "mount = behind glass\n";

static void hop__hangs_gear_with_a_beam_outdoors_whatever_its_end_says(void **state)
{
    (void)state;
    fe_plan plan;
    read_plan(&plan, ENDS);
    fe_hop *indoors = hop_of(&plan, "indoor-access-point", "outdoor-access-point");
    assert_int_equal(indoors->ends[0].mount, FE_MOUNT_INDOORS);
    assert_int_equal(indoors->ends[0].wall_count, 1);
    fe_hop *aimed = hop_of(&plan, "directional-panel", "outdoor-access-point");
    assert_int_equal(aimed->ends[0].mount, FE_MOUNT_OUTDOORS);
    assert_int_equal(aimed->ends[0].wall_count, 0);
    free(indoors);
    free(aimed);
    fe_plan_free(&plan);
}

static void hop__has_the_walls_trees_and_heights_of_the_plan(void **state)
{
    (void)state;
    fe_plan plan;
    read_plan(&plan, ENDS);
    fe_hop *hop = hop_of(&plan, "indoor-access-point", "outdoor-access-point");
    assert_string_equal(hop->ends[0].walls[0].kind, "brick");
    assert_close(hop->ends[0].walls[0].thickness_m, 0.11, 1e-12);
    /* Nothing was said about the pane. */
    assert_string_equal(hop->ends[1].walls[0].kind, "double glazing");
    assert_true(isnan(hop->ends[1].walls[0].thickness_m));
    assert_int_equal(hop->stand_count, 1);
    assert_close(hop->stands[0].to_m, 52.0, 1e-12);
    assert_close(hop->ends[1].height_m, 2.0, 1e-12);
    assert_close(fe_profile_length(hop->ground), 120.0, 1e-9);
    free(hop);
    fe_plan_free(&plan);
}

/* Once it was cut at 12 walls and 32 rows of trees, without a word. */
static void hop__has_all_walls_and_trees_however_many_there_are(void **state)
{
    (void)state;
    enum { WALLS = 40, ROWS = 70 };
    char ends[8192];
    size_t at = (size_t)snprintf(ends, sizeof ends, "%s", ENDS);
    for (int i = 0; i < WALLS; i++)
        at += (size_t)snprintf(ends + at, sizeof ends - at, "wall = brick %d mm\n", 10 + i);
    for (int i = 0; i < ROWS; i++)
        at += (size_t)snprintf(ends + at, sizeof ends - at,
                               "[trees row%d]\npath = way\nfrom = %d m\nto = %d m\n", i, i + 20,
                               i + 21);
    assert_true(at < sizeof ends);
    fe_plan plan;
    read_plan(&plan, ends);
    fe_hop *hop = hop_of(&plan, "indoor-access-point", "outdoor-access-point");
    assert_int_equal(hop->ends[0].wall_count, 1);
    assert_int_equal(hop->ends[1].wall_count, WALLS);
    assert_close(hop->ends[1].walls[WALLS - 1].thickness_m, 0.049, 1e-12);
    assert_close(hop->ends[0].walls[0].thickness_m, 0.11, 1e-12);
    assert_int_equal(hop->stand_count, ROWS + 1);
    double farthest_m = 0.0;
    for (size_t i = 0; i < hop->stand_count; i++)
        farthest_m = fmax(farthest_m, hop->stands[i].to_m);
    assert_close(farthest_m, ROWS + 20.0, 1e-12);
    free(hop);
    fe_plan_free(&plan);
}

/* Once no more than 24 classes of an end were tried. */
static void link__tries_every_class_of_an_end(void **state)
{
    (void)state;
    enum { WEAK = 30 };
    char ends[12288];
    size_t at = (size_t)snprintf(ends, sizeof ends, "[end house]\nheight = 3 m\ngear = ");
    for (int i = 0; i < WEAK; i++)
        at += (size_t)snprintf(ends + at, sizeof ends - at, "w%d, ", i);
    at += (size_t)snprintf(ends + at, sizeof ends - at,
                           "strong\n[end shed]\nheight = 2 m\ngear = strong\n");
    for (int i = 0; i <= WEAK; i++) {
        char name[16] = "strong";
        if (i < WEAK)
            snprintf(name, sizeof name, "w%d", i);
        at += (size_t)snprintf(
            ends + at, sizeof ends - at,
            "[gear %s]\noutdoor = yes\nconsumption = 6 W\nlowest-temperature = -30 degC\n"
            "radio = band 2.4 GHz, standard ht, width 20 MHz, streams 1, power %d dBm, "
            "falloff 4 dB, gain 2 dBi, beam 360 deg, tilt-beam 40 deg, bonus 0 dB, "
            "polarisation vertical\n",
            name, i < WEAK ? 5 : 15);
    }
    assert_true(at < sizeof ends);
    fe_plan plan;
    read_plan(&plan, ends);
    fe_radio_result best;
    assert_true(fe_radio_best_link(&plan, 0, FE_BAND_2_4_GHZ, false, &best) >= 0);
    assert_string_equal(best.gear[0]->name, "strong");
    fe_hop_budget_free(&best.budget);
    fe_plan_free(&plan);
}

static void hop__takes_the_loss_of_a_feeder_where_the_antenna_is_apart(void **state)
{
    (void)state;
    char ends[1024];
    snprintf(ends, sizeof ends,
             "[end house]\ngear = panel\nheight = 3 m\nfeeder = 5 mm\nfeeder-length = 10 m\n"
             "[end shed]\ngear = outdoor-access-point\nheight = 2 m\nfeeder = 5 "
             "mm\nfeeder-length = 10 m\n%s",
             PANEL);
    fe_plan plan;
    read_plan(&plan, ends);
    fe_hop *hop = hop_of(&plan, "panel", "outdoor-access-point");
    const fe_feeder *feeder = fe_feeder_find(plan.ends[0].feeder);
    double loss_db = 0.0;
    assert_int_equal(fe_feeder_loss(feeder, hop->f_hz, 10.0, 2, 20.0, &loss_db), FE_OK);
    assert_close(hop->ends[0].feeder_db, loss_db, 1e-12);
    assert_true(loss_db > 2.0);
    assert_close(hop->ends[1].feeder_db, 0.0, 0.0);
    free(hop);
    fe_plan_free(&plan);
}

static void hop__is_refused_without_path_or_radio(void **state)
{
    (void)state;
    fe_plan plan;
    read_plan(&plan, ENDS);
    const fe_gear *gear = fe_plan_gear(&plan, "outdoor-access-point");
    const fe_gear *const pair[2] = {gear, gear};
    fe_hop *hop = NULL;
    assert_int_equal(fe_radio_hop(&plan, 1, pair, FE_BAND_2_4_GHZ, &hop), FE_E_DOMAIN);
    assert_int_equal(fe_radio_hop(&plan, 0, pair, FE_BAND_60_GHZ, &hop), FE_E_NO_SOLUTION);
    assert_null(hop);
    fe_plan_free(&plan);
}

/* ---- One link, whoever asks ---- */

static const char *const EXAMPLES[] = {"lambing-shed", "boathouse", "sugar-house"};
enum { EXAMPLE_COUNT = sizeof EXAMPLES / sizeof EXAMPLES[0] };

static json_t *json_of(const char *line)
{
    return fe_testing_json_of(FAREND_SOURCE_DIR, line);
}

static const char *word(const json_t *object, const char *key)
{
    return json_string_value(json_object_get(object, key));
}

static const json_t *link_of(const json_t *report, const char *band, bool directional)
{
    const json_t *links = json_object_get(report, "radio");
    for (size_t i = 0; i < json_array_size(links); i++) {
        const json_t *link = json_array_get(links, i);
        if (strcmp(word(link, "band"), band) == 0 &&
            json_is_true(json_object_get(link, "directional")) == directional)
            return link;
    }
    return NULL;
}

static const json_t *season_of(const json_t *link, const char *name)
{
    const json_t *seasons = json_object_get(link, "seasons");
    for (size_t i = 0; i < json_array_size(seasons); i++)
        if (strcmp(word(json_array_get(seasons, i), "season"), name) == 0)
            return json_array_get(seasons, i);
    fail_msg("no season %s", name);
    return NULL;
}

static void relays__direct_link_is_that_of_the_report(void **state)
{
    (void)state;
    for (int i = 0; i < EXAMPLE_COUNT; i++) {
        char line[120];
        snprintf(line, sizeof line, "farend radio examples/%s.ini --json", EXAMPLES[i]);
        json_t *report = json_of(line);
        snprintf(line, sizeof line, "farend relays examples/%s.ini --json", EXAMPLES[i]);
        json_t *relays = json_of(line);
        const json_t *bands = json_object_get(relays, "bands");
        assert_true(json_array_size(bands) > 0);
        for (size_t k = 0; k < json_array_size(bands); k++) {
            const json_t *band = json_array_get(bands, k);
            const json_t *direct = json_array_get(json_object_get(band, "by_count"), 0);
            const json_t *link = link_of(report, word(band, "band"), false);
            assert_non_null(link);
            const json_t *worst = season_of(link, word(link, "worst_season"));
            assert_string_equal(word(direct, "worst_season"), word(link, "worst_season"));
            assert_close(fe_testing_number(direct, "worst_margin_db"),
                         fe_testing_number(worst, "margin_db"), 1e-9);
            assert_close(fe_testing_number(direct, "chance"), fe_testing_number(link, "chance"),
                         1e-9);
        }
        json_decref(relays);
        json_decref(report);
    }
}

/* The level of the median build: the paper's, less what the margin has lost in building. */
static double expected_level(const json_t *season, const char *from)
{
    const json_t *directions = json_object_get(season, "directions");
    double level_dbm = (double)NAN;
    double build_db = (double)NAN;
    for (size_t i = 0; i < json_array_size(directions); i++) {
        const json_t *direction = json_array_get(directions, i);
        if (strcmp(word(direction, "from"), word(season, "weaker_from")) == 0)
            build_db = fe_testing_number(direction, "paper_margin_db") -
                       fe_testing_number(season, "fade_db") -
                       fe_testing_number(season, "margin_db");
        if (strcmp(word(direction, "from"), from) == 0)
            level_dbm = fe_testing_number(direction, "level_dbm");
    }
    return level_dbm - build_db;
}

static bool has_gear(const json_t *link, const json_t *accepted)
{
    const json_t *ends = json_object_get(link, "ends");
    const json_t *gear = json_object_get(accepted, "gear");
    for (size_t i = 0; i < 2; i++)
        if (strcmp(word(json_array_get(ends, i), "gear"),
                   json_string_value(json_array_get(gear, i))) != 0)
            return false;
    return true;
}

static void accept__expects_the_level_of_the_report(void **state)
{
    (void)state;
    static const char *const BANDS[] = {"2.4 GHz", "5 GHz"};
    for (int i = 0; i < EXAMPLE_COUNT; i++) {
        char line[160];
        snprintf(line, sizeof line, "farend radio examples/%s.ini --json", EXAMPLES[i]);
        json_t *report = json_of(line);
        for (int k = 0; k < 2; k++) {
            snprintf(line, sizeof line,
                     "farend accept examples/%s.ini --band \"%s\" --level -70dBm --json",
                     EXAMPLES[i], BANDS[k]);
            json_t *accepted = json_of(line);
            const json_t *link = link_of(report, BANDS[k], false);
            if (!has_gear(link, accepted))
                link = link_of(report, BANDS[k], true);
            assert_true(has_gear(link, accepted));
            const json_t *seasons = json_object_get(accepted, "seasons");
            for (size_t s = 0; s < json_array_size(seasons); s++) {
                const json_t *outlook = json_array_get(seasons, s);
                const json_t *season = season_of(link, word(outlook, "season"));
                assert_close(fe_testing_number(outlook, "margin_before_db"),
                             fe_testing_number(season, "margin_db"), 1e-6);
            }
            /* Without a word about the weather the day is the first season. */
            const json_t *day = json_array_get(json_object_get(link, "seasons"), 0);
            const json_t *ways = json_object_get(
                json_array_get(json_object_get(accepted, "readings"), 0), "ways");
            for (size_t w = 0; w < 2; w++) {
                const json_t *way = json_array_get(ways, w);
                assert_close(fe_testing_number(way, "expected_dbm"),
                             expected_level(day, word(way, "from")), 1e-6);
            }
            json_decref(accepted);
        }
        json_decref(report);
    }
}

/* A crop that only the path knew was left out of seasons written by hand. */
static void crop__of_the_path_counts_in_a_summer_that_names_none(void **state)
{
    (void)state;
    static const char SEASONS[] = "[season hay]\nleaves = yes\ncoldest = 5 degC\n"
                                  "hottest = 30 degC\n"
                                  "[season mown]\nleaves = yes\ncrop = 5 cm\n"
                                  "coldest = 5 degC\nhottest = 30 degC\n"
                                  "[season frost]\nleaves = no\ncoldest = -9 degC\n"
                                  "hottest = 5 degC\n";
    char ends[1024];
    fe_plan plan;
    snprintf(ends, sizeof ends, "%s%s", ENDS, SEASONS);
    read_plan(&plan, ends);
    assert_int_equal(plan.season_count, 3);
    assert_close(plan.seasons[0].crop_height_m, plan.paths[0].crop_m.typical, 0.0);
    assert_true(plan.seasons[0].crop_height_m > 0.0);
    assert_close(plan.seasons[1].crop_height_m, 0.05, 1e-12);
    assert_close(plan.seasons[2].crop_height_m, 0.0, 0.0);
    fe_plan_free(&plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hop__hangs_gear_with_a_beam_outdoors_whatever_its_end_says),
        cmocka_unit_test(hop__has_the_walls_trees_and_heights_of_the_plan),
        cmocka_unit_test(hop__has_all_walls_and_trees_however_many_there_are),
        cmocka_unit_test(link__tries_every_class_of_an_end),
        cmocka_unit_test(hop__takes_the_loss_of_a_feeder_where_the_antenna_is_apart),
        cmocka_unit_test(hop__is_refused_without_path_or_radio),
        cmocka_unit_test(relays__direct_link_is_that_of_the_report),
        cmocka_unit_test(accept__expects_the_level_of_the_report),
        cmocka_unit_test(crop__of_the_path_counts_in_a_summer_that_names_none),
    };
    return FE_RUN_TESTS(tests);
}
