/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outdoor sheet, as a user asks for it; how it prints is looked at in tests/browser. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

static const char FOLDER[] = "test_sheet_folder";

static int make_folder(void **state)
{
    (void)state;
    mkdir(FOLDER, 0777);
    return 0;
}

static char *runs(const char *const argv[], int wanted_code, char **err)
{
    return fe_testing_runs_in(FOLDER, argv, wanted_code, err);
}

static json_t *runs_json(const char *const argv[])
{
    char *out = runs(argv, 0, NULL);
    json_error_t problem;
    json_t *all = json_loads(out, 0, &problem);
    if (!all)
        fail_msg("%s", problem.text);
    free(out);
    return all;
}

/* The sheet without its tags: cells and pairs are separated by '|'. */
static char *read_sheet(const char *name)
{
    char *text = fe_testing_read_in(FOLDER, name);
    char *to = text;
    for (const char *at = strstr(text, "<main"); *at;) {
        if (*at == '<') {
            const bool cell = strncmp(at, "</t", 3) == 0 || strncmp(at, "</dt", 4) == 0 ||
                              strncmp(at, "</dd", 4) == 0;
            at = strchr(at, '>') + 1;
            if (cell)
                *to++ = '|';
        } else if (strncmp(at, "\xc2\xa0", 2) == 0) {
            *to++ = ' ';
            at += 2;
        } else {
            *to++ = *at++;
        }
    }
    *to = 0;
    return text;
}

static char *example(const char *name)
{
    static char path[1000];
    snprintf(path, sizeof path, "%s/examples/%s.ini", FAREND_SOURCE_DIR, name);
    return path;
}

/* ---- Posts ---- */

#define POSTS                                                                                  \
    "posts", "--distance", "80m", "--post-length", "6m", "--cable", "outdoor-data-messenger",  \
        "--sheet", "posts.html"

static void posts__has_every_peg_hole_and_attachment(void **state)
{
    (void)state;
    json_t *all = runs_json((const char *[]){POSTS, "--json", NULL});
    char *sheet = read_sheet("posts.html");
    const json_t *posts = json_object_get(all, "posts");
    assert_true(json_array_size(posts) > 0);
    for (size_t i = 0; i < json_array_size(posts); i++) {
        const json_t *post = json_array_get(posts, i);
        char row[200];
        snprintf(row, sizeof row, "%zu|%.1f m|%.1f m|%.0f cm|%.2f m|", i + 1,
                 fe_testing_number(post, "station_m"), fe_testing_number(post, "length_m"),
                 100.0 * fe_testing_number(post, "depth_m"),
                 fe_testing_number(post, "attachment_m"));
        assert_has(sheet, row);
    }
    free(sheet);
    json_decref(all);
}

/* Somebody with nothing but the sheet: every field that issue and trade want on it. */
static void posts__sheet_of_the_boathouse_is_enough_to_build_from(void **state)
{
    (void)state;
    static const char *const FIELDS[] = {
        "Fixed mark",
        "peg at",
        "hole",
        "tied above bare ground",
        "stay",
        "Sag by air temperature",
        "return waves",
        "three in",
        "five in",
        "in the air with its sag",
        "down the walls",
        "drip loops",
        "slack",
        "indoors",
        "(messenger), 3/16 extra high strength",
        "square 5.50 in",
        "southern pine, treated",
        "drill each for its bolt",
        "an eye on each side",
        "slide the butt down a board",
        "the cable never",
        "dead-end grips",
        "for a pull of",
        "tie it off at the mark",
        "over cart track",
        "arrester at both entries",
        "Call before you dig",
        "Supply lines",
        "never alone",
        "Two people stretch",
        "of one that is not tamped",
        "Trees are no posts",
        "qualified designer",
        "first winter",
    };
    free(runs((const char *[]){"posts", example("boathouse"), "--units", "us", "--sheet",
                               "b.html", NULL},
              0, NULL));
    char *sheet = read_sheet("b.html");
    for (size_t i = 0; i < sizeof FIELDS / sizeof FIELDS[0]; i++)
        assert_has(sheet, FIELDS[i]);
    free(sheet);
}

/* The one example that its posts on hand do for, with a stay at its corner. */
static void posts__potting_shed_holds_with_its_anchor(void **state)
{
    (void)state;
    json_t *all = runs_json((const char *[]){"posts", example("potting-shed"), "--sheet",
                                             "p.html", "--json", NULL});
    char *sheet = read_sheet("p.html");
    assert_string_equal(json_string_value(json_object_get(all, "verdict")), "holds");
    assert_string_equal(json_string_value(json_object_get(all, "layout")), "posts on hand");
    const json_t *post = json_array_get(json_object_get(all, "posts"), 0);
    const json_t *stay = json_object_get(post, "stay");
    assert_true(fe_testing_number(stay, "lines") == 1.0);
    assert_true(fe_testing_number(stay, "anchor_use") > 0.0 &&
                fe_testing_number(stay, "anchor_use") < 0.85);
    assert_has(sheet, "6000 lb class");
    assert_has(sheet, "outside of the corner");
    free(sheet);
    json_decref(all);
}

static void posts__has_the_sag_of_the_coldest_and_the_warmest_row(void **state)
{
    (void)state;
    json_t *all = runs_json((const char *[]){POSTS, "--json", NULL});
    char *sheet = read_sheet("posts.html");
    const json_t *table = json_object_get(all, "stringing");
    const json_t *coldest = json_array_get(table, 0);
    const json_t *warmest = json_array_get(table, json_array_size(table) - 1);
    char part[100];
    snprintf(part, sizeof part, "|%.0f cm|",
             100.0 * json_number_value(json_array_get(json_object_get(coldest, "sag_m"), 0)));
    assert_has(sheet, part);
    snprintf(part, sizeof part, "|%.0f cm||",
             100.0 * json_number_value(json_array_get(json_object_get(warmest, "sag_m"), 0)));
    assert_has(sheet, part);
    snprintf(part, sizeof part, "cable outdoor data messenger: %.1f m",
             fe_testing_number(all, "cable_length_m"));
    assert_has(sheet, part);
    free(sheet);
    json_decref(all);
}

/* ---- Radio ---- */

/* Two ends on one meridian: the first looks due north. */
static const char NORTH[] =
    "[site]\nregion = UK\n"
    "[end house]\ngear = directional-panel\nheight = 4 m\n"
    "mount = outdoors\naim = by signal\nposition = 51.5 deg, -3.0 deg\n"
    "[end hut]\ngear = directional-panel\nheight = 3 m\n"
    "mount = outdoors\naim = by signal\nposition = 51.502 deg, -3.0 deg\n"
    "[path way]\nfrom = house\nto = hut\ndistance = 222 m\n";

static void write_plan(const char *text)
{
    char path[200];
    snprintf(path, sizeof path, "%s/plan.ini", FOLDER);
    assert_int_equal(fe_textfile_write(path, text, strlen(text)), FE_OK);
}

static void radio__aims_by_tilt_and_true_bearing(void **state)
{
    (void)state;
    write_plan(NORTH);
    free(runs(
        (const char *[]){"report", "plan.ini", "--sheet", "s.html", "--html", "r.html", NULL},
        0, NULL));
    char *sheet = read_sheet("s.html");
    /* atan(1 m / 222 m) is 0.26 degrees. */
    static const char *const MOUNTINGS[][4] = {
        {"Mounting at house", "4.00 m above bare ground|", "0.3\xc2\xb0 down|", "0\xc2\xb0|"},
        {"Mounting at hut", "3.00 m above bare ground|", "0.3\xc2\xb0 up|", "180\xc2\xb0|"},
    };
    for (int end = 0; end < 2; end++) {
        char part[300];
        snprintf(part, sizeof part,
                 "%s\n\nGear|\ndirectional panel, outdoors|\nAntenna|\n%s\nTilt|\n%s",
                 MOUNTINGS[end][0], MOUNTINGS[end][1], MOUNTINGS[end][2]);
        assert_has(sheet, part);
        snprintf(part, sizeof part, "True bearing|\n%s\nLandmark in line|\n|",
                 MOUNTINGS[end][3]);
        assert_has(sheet, part);
    }
    free(sheet);
}

static void radio__expects_the_level_on_paper_less_an_average_build(void **state)
{
    (void)state;
    write_plan(NORTH);
    json_t *all =
        runs_json((const char *[]){"report", "plan.ini", "--sheet", "s.html", "--json", NULL});
    char *sheet = read_sheet("s.html");
    const json_t *ways = json_object_get(all, "ways");
    const json_t *chosen = json_object_get(json_object_get(all, "recommended"), "data");
    const json_t *way = json_array_get(ways, (size_t)fe_testing_number(chosen, "way"));
    const json_t *radio =
        json_array_get(json_object_get(all, "radio"), (size_t)fe_testing_number(way, "index"));
    const json_t *season = json_array_get(json_object_get(radio, "seasons"), 0);
    const json_t *directions = json_object_get(season, "directions");
    const json_t *there = json_array_get(directions, 0);
    /* Both directions share the build: what the margin lacks of the paper's, less the fade. */
    const double margin_db =
        fe_testing_number(season, "margin_db") + fe_testing_number(season, "fade_db");
    const double build_db =
        fmin(fe_testing_number(there, "paper_margin_db"),
             fe_testing_number(json_array_get(directions, 1), "paper_margin_db")) -
        margin_db;
    char part[200];
    snprintf(part, sizeof part, "level at hut, %s|%.0f dBm|",
             json_string_value(json_object_get(season, "season")),
             fe_testing_number(there, "level_dbm") - build_db);
    assert_has(sheet, part);
    free(sheet);
    json_decref(all);
}

/* ---- Relays ---- */

static const char ONE_RELAY[] = "[site]\nregion = EU\nbands = 5 GHz\n"
                                "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                                "[end hut]\ngear = outdoor-access-point\nheight = 2.2 m\n"
                                "[path way]\nfrom = house\nto = hut\ndistance = 240 m\n"
                                "[relay]\ngear = outdoor-access-point\nheight = 2.2 m\n";

/* It once showed the hops of the best chain, which need not be the one that was chosen. */
static void relays__have_the_pegs_of_the_chain_that_is_built(void **state)
{
    (void)state;
    write_plan(ONE_RELAY);
    json_t *all =
        runs_json((const char *[]){"report", "plan.ini", "--sheet", "s.html", "--json", NULL});
    char *sheet = read_sheet("s.html");
    const json_t *chosen = json_object_get(json_object_get(all, "recommended"), "data");
    const json_t *way =
        json_array_get(json_object_get(all, "ways"), (size_t)fe_testing_number(chosen, "way"));
    const json_t *relays =
        json_array_get(json_object_get(all, "relays"), (size_t)fe_testing_number(way, "index"));
    const size_t count = (size_t)fe_testing_number(way, "relays");
    const json_t *chain = json_array_get(json_object_get(relays, "chains"), count);
    const json_t *places = json_object_get(chain, "positions_m");
    assert_true(count > 0);
    assert_int_equal(json_array_size(places), count);
    for (size_t i = 0; i < count; i++) {
        char row[100];
        snprintf(row, sizeof row, "\n%zu|%.0f m|2.20 m|in the open||", i + 1,
                 json_number_value(json_array_get(places, i)));
        assert_has(sheet, row);
    }
    assert_has(sheet, "Relay 1 stands at");
    free(sheet);
    json_decref(all);
}

/* One that has to stand in the wood is told so. */
static void relays__are_told_that_stand_among_trees(void **state)
{
    (void)state;
    char plan[600];
    snprintf(plan, sizeof plan, "%s%s", ONE_RELAY,
             "[trees low]\nkind = hedge\nfrom = 100 m\nto = 230 m\nheight = 1 m\n");
    write_plan(plan);
    free(runs((const char *[]){"report", "plan.ini", "--sheet", "s.html", "--json", NULL}, 0,
              NULL));
    char *sheet = read_sheet("s.html");
    assert_has(sheet, "2.20 m|among trees||");
    assert_null(strstr(sheet, "The plan gives"));
    free(sheet);
}

/* Cable is cut once: a distance that is not known is taped before. */
static void sheet__asks_for_the_tape_where_the_way_is_open(void **state)
{
    (void)state;
    write_plan("[site]\nregion = EU\nbands = 2.4 GHz\n"
               "[end house]\nmains = yes\n[end hut]\nmains = yes\n"
               "[path way]\nfrom = house\nto = hut\ndistance = 95..115 m\n");
    free(runs((const char *[]){"report", "plan.ini", "--sheet", "s.html", "--json", NULL}, 0,
              NULL));
    char *sheet = read_sheet("s.html");
    assert_has(sheet, "95 to 115 m of way are given; this is for 105 m. Tape it");
    free(sheet);
}

/* Once no more than eight were told. */
static void sheet__tells_every_crossing_however_many(void **state)
{
    (void)state;
    enum { CROSSINGS = 12 };
    char plan[2048];
    size_t at = (size_t)snprintf(plan, sizeof plan,
                                 "[site]\nregion = EU\nbands = 2.4 GHz\n"
                                 "[end house]\nmains = yes\n[end hut]\nmains = yes\n"
                                 "[path way]\nfrom = house\nto = hut\ndistance = 80 m\n"
                                 "[posts]\ncable = outdoor-data-messenger\n"
                                 "length = 6 m\n");
    for (int i = 0; i < CROSSINGS; i++)
        at += (size_t)snprintf(plan + at, sizeof plan - at,
                               "over track %d = %d m..%d m walkers\n", i, 5 * i + 5, 5 * i + 6);
    assert_true(at < sizeof plan);
    write_plan(plan);
    free(runs((const char *[]){"posts", "plan.ini", "--sheet", "s.html", NULL}, 0, NULL));
    char *sheet = read_sheet("s.html");
    for (int i = 0; i < CROSSINGS; i++) {
        char told[40];
        snprintf(told, sizeof told, "It crosses track %d at ", i);
        assert_has(sheet, told);
    }
    free(sheet);
}

/* ---- Data over the feed ---- */

static const char THROUGH_WOOD[] =
    "[site]\nregion = UK\n"
    "[end house]\ngear = indoor-extender\nmains = yes\n"
    "[end hut]\ngear = indoor-extender\nmains = yes\n"
    "[path way]\nfrom = house\nto = hut\ndistance = 140 m\n"
    "[trees firs]\nkind = conifer\nfrom = 3 m\nto = 138 m\nheight = 14 m\n"
    "[traffic control]\nfrom = hut\nto = house\nstream = 100 kb/s\n";

/* It once took the way's index for that of a radio link, and said where to aim that. */
static void feed_data__has_no_radio_link_on_its_sheet(void **state)
{
    (void)state;
    write_plan(THROUGH_WOOD);
    free(runs(
        (const char *[]){"report", "plan.ini", "--sheet", "s.html", "--html", "r.html", NULL},
        0, NULL));
    char *sheet = read_sheet("s.html");
    assert_has(sheet, "data over the feed");
    assert_has(sheet, "rate, with both directions busy|3.0 Mb/s|");
    assert_null(strstr(sheet, "Mounting at"));
    assert_null(strstr(sheet, "level at"));
    free(sheet);
}

/* A building behind another: each path has a sheet of its own, which names the others. */
static void sheet__is_that_of_the_path_that_is_named(void **state)
{
    (void)state;
    write_plan("[site]\nregion = EU\nbands = 2.4 GHz\n"
               "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
               "[end barn]\ngear = outdoor-access-point\nheight = 4 m\n"
               "[end hut]\ngear = outdoor-access-point\nheight = 5 m\n"
               "[path near]\nfrom = house\nto = barn\ndistance = 60 m\n"
               "[path far]\nfrom = barn\nto = hut\ndistance = 80 m\n"
               "[traffic hut]\nfrom = hut\nto = house\nstream = 1 Mb/s\n"
               "[load lamp]\npower = 40 W\n[load pump]\nend = hut\npower = 300 W\n"
               "[feed]\nvoltage = 230 V ac\n");
    char *err = NULL;
    free(runs(
        (const char *[]){"report", "plan.ini", "--html", "r.html", "--sheet", "s.html", NULL},
        0, NULL));
    char *first = read_sheet("s.html");
    free(runs((const char *[]){"report", "plan.ini", "--html", "r.html", "--sheet", "s.html",
                               "--path", "far", NULL},
              0, NULL));
    char *second = read_sheet("s.html");
    assert_has(first,
               "Path near, from house to barn. Sheets of the other paths by --path: far.");
    assert_has(first, "60 m apart");
    assert_has(first, "Mounting at barn");
    assert_null(strstr(first, "Mounting at hut"));
    assert_has(second,
               "Path far, from barn to hut. Sheets of the other paths by --path: near.");
    assert_has(second, "80 m apart");
    assert_has(second, "Mounting at hut");
    assert_null(strstr(second, "Mounting at house"));
    /* The hut's feed goes on where the barn's ends: each path has its own part, laid once. */
    assert_has(first, "Power: feed at 230 V AC, 74 m");
    assert_has(second, "Power: feed at 230 V AC, 95 m");
    free(first);
    free(second);
    free(runs((const char *[]){"report", "plan.ini", "--html", "r.html", "--sheet", "s.html",
                               "--path", "fat", NULL},
              2, &err));
    assert_has(err, "--path: fat: the plan has no such path; did you mean far?");
    free(err);
    free(runs((const char *[]){"report", "plan.ini", "--path", "far", NULL}, 2, &err));
    assert_has(err, "--path: chooses the path of a --sheet; the report has them all");
    free(err);
}

static void sheet__that_cannot_be_written_is_said(void **state)
{
    (void)state;
    char *said = NULL;
    free(runs((const char *[]){"report", example("lambing-shed"), "--html", "r.html", "--sheet",
                               "nowhere/s.html", NULL},
              1, &said));
    assert_has(said, "cannot write nowhere/s.html");
    free(said);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(posts__has_every_peg_hole_and_attachment),
        cmocka_unit_test(posts__sheet_of_the_boathouse_is_enough_to_build_from),
        cmocka_unit_test(posts__potting_shed_holds_with_its_anchor),
        cmocka_unit_test(posts__has_the_sag_of_the_coldest_and_the_warmest_row),
        cmocka_unit_test(radio__aims_by_tilt_and_true_bearing),
        cmocka_unit_test(radio__expects_the_level_on_paper_less_an_average_build),
        cmocka_unit_test(relays__have_the_pegs_of_the_chain_that_is_built),
        cmocka_unit_test(relays__are_told_that_stand_among_trees),
        cmocka_unit_test(sheet__asks_for_the_tape_where_the_way_is_open),
        cmocka_unit_test(sheet__tells_every_crossing_however_many),
        cmocka_unit_test(feed_data__has_no_radio_link_on_its_sheet),
        cmocka_unit_test(sheet__is_that_of_the_path_that_is_named),
        cmocka_unit_test(sheet__that_cannot_be_written_is_said),
    };
    return cmocka_run_group_tests(tests, make_folder, NULL);
}
