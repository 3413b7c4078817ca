/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/figures.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "testing.h"

static const char HOSTILE[] =
    "a`touch farend-test-ran`'b\"c\n{/:Bold d}@e %d <script>x</script>";

static char *ascii(const fe_strbuf *text)
{
    fe_strbuf out = FE_STRBUF_INIT;
    fe_amount_to_ascii(fe_strbuf_text(text), &out);
    return fe_strbuf_take(&out);
}

static void assert_alternative(const fe_figure *figure, const char *wanted)
{
    char *text = ascii(&figure->alternative);
    assert_string_equal(text, wanted);
    free(text);
}

/* ---- One figure of each kind, with names given ---- */

static fe_status build_margin(const char *name, fe_units units, fe_figure *figure)
{
    const fe_margin_point points[] = {
        {"2.4 GHz", name, 12.4, 5.1, 19.6, FE_MARK_HOLDS},
        {"2.4 GHz", "deep winter", 3.0, -4.0, 9.0, FE_MARK_TIGHT},
        {name, "deep winter", -8.0, -15.0, -2.0, FE_MARK_FAILS},
    };
    return fe_figure_margin(&(fe_margin_data){"margin", name, points, 3}, units, figure);
}

static fe_status build_profile(const char *name, double snow_m, size_t trees, fe_units units,
                               fe_figure *figure)
{
    static const double DISTANCE_M[] = {0.0, 100.0, 165.0};
    static const double GROUND_M[] = {400.0, 400.0, 400.0};
    const fe_profile_trees hedge[] = {{name, 60.0, 64.0, 2.0}};
    return fe_figure_profile(&(fe_profile_data){"profile", name, DISTANCE_M, GROUND_M, 3,
                                                snow_m, name, name, 3.0, 3.0, 2.437e9, 0.0,
                                                hedge, trees},
                             units, figure);
}

static fe_status build_overhead(const char *name, double snow_m, size_t crossings,
                                fe_units units, fe_figure *figure)
{
    static const double DISTANCE_M[] = {0.0, 40.0};
    static const double GROUND_M[] = {10.0, 8.0};
    static const double AT_M[] = {0.0, 20.0, 40.0};
    static const double HEIGHT_M[] = {14.0, 12.5, 12.0};
    static const fe_overhead_post POSTS[] = {{0.0, 10.0, 14.0}, {40.0, 8.0, 12.0}};
    static const double BETWEEN_M[] = {14.0, 12.4, 12.0};
    static const double LOWEST_M[] = {14.0, 12.2, 12.0};
    const fe_overhead_line lines[] = {{"wet summer", AT_M, BETWEEN_M, 3, NAN},
                                      {"thaw with ice", AT_M, LOWEST_M, 3, NAN},
                                      {name, AT_M, HEIGHT_M, 3, 3.45}};
    const fe_overhead_crossing over[] = {{name, 18.0, 22.0, 3.0, 9.0}};
    return fe_figure_overhead(&(fe_overhead_data){"overhead", name, DISTANCE_M, GROUND_M, 2,
                                                  snow_m, POSTS, 2, lines, 3, over, crossings},
                              units, figure);
}

static fe_status build_budget(const char *name, double needed_dbm, fe_units units,
                              fe_figure *figure)
{
    const fe_budget_step steps[] = {
        {"antenna", 14.0}, {name, -98.0}, {"antenna, far", 14.0}, {"built", -10.0}};
    return fe_figure_budget(&(fe_budget_data){"budget", name, 20.0, steps, 4, needed_dbm},
                            units, figure);
}

static fe_status build_relays(const char *name, double needed_bps, fe_units units,
                              fe_figure *figure)
{
    static const fe_relays_point POINTS[] = {
        {0, 0.0, -6.0, 0.02}, {1, 12e6, 4.0, 0.71}, {2, 8e6, 9.0, 0.9}};
    return fe_figure_relays(&(fe_relays_data){"relays", name, POINTS, 3, needed_bps, 0.9},
                            units, figure);
}

static fe_status build_reach(const char *name, double limit_m, fe_units units,
                             fe_figure *figure)
{
    const fe_reach_row rows[] = {{name, 80.0, 100.0, FE_MARK_HOLDS},
                                 {"far", 190.0, limit_m, FE_MARK_FAILS}};
    return fe_figure_reach(&(fe_reach_data){"reach", name, rows, 2}, units, figure);
}

static fe_status build_poe(const char *name, double need_w, fe_units units, fe_figure *figure)
{
    static const double AT_M[] = {1.0, 100.0, 200.0};
    static const double POWER_W[] = {15.4, 13.0, NAN};
    const fe_poe_curve lines[] = {{name, AT_M, POWER_W, 3, 13.9}};
    return fe_figure_poe(&(fe_poe_data){"poe", name, lines, 1, 60.0, need_w}, units, figure);
}

static fe_status build_feed(const char *name, double allowed, fe_units units, fe_figure *figure)
{
    static const double AT_M[] = {0.0, 82.5, 165.0};
    static const double VOLTAGE_V[] = {230.0, 226.9, 223.8};
    const fe_feed_curve lines[] = {{name, 230.0, AT_M, VOLTAGE_V, 3}};
    return fe_figure_feed(&(fe_feed_data){"feed", name, lines, 1, allowed}, units, figure);
}

/* ---- What the commands and the words say ---- */

static void margin__has_rows_by_band_and_says_the_same_in_words(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_margin("dry summer", FE_UNITS_METRIC, &figure), FE_OK);
    const char *commands = fe_strbuf_text(&figure.commands);
    assert_string_equal(figure.kind, "margin");
    /* A band's name has a row of its own above its seasons. */
    assert_has(commands, "$points << END_OF_DATA\n12.4 5.1 19.6 2 0\n3 -4 9 3 1\n"
                         "-8 -15 -2 5 2\nEND_OF_DATA\n");
    assert_has(commands, "array band[2] = ['2.4\xc2\xa0GHz', 'dry summer']\n");
    assert_has(commands, "array band_row[2] = [1, 4]\n");
    assert_has(commands, "array shown[3] = ['12\xc2\xa0"
                         "dB', '3\xc2\xa0"
                         "dB', '-8\xc2\xa0"
                         "dB']\n");
    assert_alternative(
        &figure, "Margin of the middle build, and in brackets where eight of ten builds "
                 "come out. 2.4 GHz: dry summer 12 dB (5 to 20 dB), holds; deep winter "
                 "3 dB (-4 to 9 dB), tight. dry summer: deep winter -8 dB (-15 to -2 dB), "
                 "fails.");
    fe_figure_free(&figure);
}

/* Number of the row at a distance, as columns. */
static void section_row(const char *commands, double at, double values[7])
{
    const char *line = strstr(commands, "$section << END_OF_DATA\n");
    assert_non_null(line);
    for (line = strchr(line, '\n'); line; line = strchr(line + 1, '\n')) {
        if (fe_testing_numbers(line + 1, values, 7) == 7 && fabs(values[0] - at) < 1e-9)
            return;
    }
    fail_msg("no row at %g", at);
}

/*
 * ITU-R P.526-15 sec 2.1: 100 m and 65 m at 2.437 GHz give 2.2016 m; and the zone ends at the
 * antennas.
 */
static void profile__draws_the_zone_around_the_line_of_sight(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    double row[7] = {0};
    assert_int_equal(build_profile("shed", 0.5, 1, FE_UNITS_METRIC, &figure), FE_OK);
    section_row(fe_strbuf_text(&figure.commands), 100.0, row);
    const double radius_m = sqrt(299792458.0 / 2.437e9 * 100.0 * 65.0 / 165.0);
    assert_close(row[1], 400.0, 1e-9);
    assert_close(row[2], 400.5, 1e-9);
    assert_close(row[3], 403.0, 1e-9);
    assert_close(row[4], 403.0 - radius_m, 1e-6);
    assert_close(row[5], 403.0 + radius_m, 1e-6);
    assert_close(row[6], 403.0 - 0.6 * radius_m, 1e-6);
    section_row(fe_strbuf_text(&figure.commands), 0.0, row);
    assert_close(row[4], 403.0, 1e-9);
    section_row(fe_strbuf_text(&figure.commands), 165.0, row);
    assert_close(row[5], 403.0, 1e-9);
    assert_has(fe_strbuf_text(&figure.commands), "$trees << END_OF_DATA\n60 400 402\n");
    fe_figure_free(&figure);
}

static void profile__says_where_the_ground_is_nearest(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_profile("shed", 0.5, 1, FE_UNITS_METRIC, &figure), FE_OK);
    char *text = ascii(&figure.alternative);
    /* Even ground: the middle, 2.5 m under a zone of 2.25 m. */
    assert_has(text, "over 165 m with 50 cm of snow. The ground comes nearest to the line of "
                     "sight at 82 m, with a clearance of 1.1 of the first zone's radius. Trees "
                     "(shed) from 60 m to 64 m, 2.0 m high.");
    free(text);
    fe_figure_free(&figure);
}

/* P.452-18 sec 4.2: the bulge in the middle of a path is d^2 / (8 ae). */
static void profile__raises_the_ground_by_the_earth(void **state)
{
    (void)state;
    static const double DISTANCE_M[] = {0.0, 10000.0};
    static const double GROUND_M[] = {0.0, 0.0};
    fe_figure figure = FE_FIGURE_INIT;
    double row[7] = {0};
    const fe_profile_data data = {.id = "p",
                                  .title = "p",
                                  .distance_m = DISTANCE_M,
                                  .ground_m = GROUND_M,
                                  .count = 2,
                                  .from_name = "a",
                                  .to_name = "b",
                                  .from_height_m = 10.0,
                                  .to_height_m = 10.0,
                                  .f_hz = 5.5e9,
                                  .earth_radius_m = 8.5e6};
    assert_int_equal(fe_figure_profile(&data, FE_UNITS_METRIC, &figure), FE_OK);
    section_row(fe_strbuf_text(&figure.commands), 5.0, row);
    assert_close(row[1], 1e8 / (8.0 * 8.5e6), 1e-9);
    fe_figure_free(&figure);
}

static void overhead__has_the_highest_and_lowest_line_and_what_is_crossed(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_overhead("track", 0.4, 1, FE_UNITS_METRIC, &figure), FE_OK);
    const char *commands = fe_strbuf_text(&figure.commands);
    assert_has(commands, "$line1 << END_OF_DATA\n0 14\n20 12.5\n40 12\nEND_OF_DATA\n");
    assert_has(commands, "$line2 << END_OF_DATA\n0 14\n20 12.2\n40 12\nEND_OF_DATA\n");
    assert_has(commands, "array season[2] = ['highest: track', 'lowest: thaw with ice']\n");
    assert_has(commands, "array letter[1] = ['a']\narray crossing[1] = ['track']\n");
    assert_has(commands, "$crossings << END_OF_DATA\n18 22 12 9\nEND_OF_DATA\n");
    assert_has(commands, "$posts << END_OF_DATA\n0 10 14\n40 8 12\nEND_OF_DATA\n");
    assert_has(commands, "$ground << END_OF_DATA\n0 10 10.4\n40 8 8.4\nEND_OF_DATA\n");
    assert_alternative(&figure, "Overhead run of 40 m in 1 span. Snow 40 cm. Least clearance "
                                "in track: 3.45 m. Over track, 3.00 m are needed.");
    fe_figure_free(&figure);
}

/* 20 + 14 - 98 + 14 - 10 = -60 dBm, 26 dB above -86 dBm. */
static void budget__adds_up_from_step_to_step(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_budget("free space", -86.0, FE_UNITS_METRIC, &figure), FE_OK);
    const char *commands = fe_strbuf_text(&figure.commands);
    assert_has(commands, "$gains << END_OF_DATA\n20 34 2\n-64 -50 4\nEND_OF_DATA\n");
    assert_has(commands, "$losses << END_OF_DATA\n34 -64 3\n-50 -60 5\nEND_OF_DATA\n");
    assert_has(commands, "$margin << END_OF_DATA\n-86 -60 7\nEND_OF_DATA\n");
    assert_alternative(&figure,
                       "Transmitted 20 dBm; antenna 14 dB; free space -98 dB; antenna, "
                       "far 14 dB; built -10 dB; received -60 dBm, needed -86 dBm; "
                       "margin 26 dB.");
    assert_int_equal(build_budget("free space", -50.0, FE_UNITS_METRIC, &figure), FE_OK);
    char *text = ascii(&figure.alternative);
    assert_has(text, "needed -50 dBm; missing 10 dB.");
    free(text);
    fe_figure_free(&figure);
}

static void relays__has_one_rate_unit_for_all(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_relays("relays", 6e6, FE_UNITS_METRIC, &figure), FE_OK);
    assert_has(fe_strbuf_text(&figure.commands), "rate_unit = 'Mb/s'\nneeded = 6\n");
    assert_has(fe_strbuf_text(&figure.commands),
               "$points << END_OF_DATA\n0 0 -6 0\n1 12 4 0\n2 8 9 1\nEND_OF_DATA\n");
    assert_alternative(&figure,
                       "Needed 6.0 Mb/s. 0 relays: 0 kb/s, margin -6 dB, chance 2 %; 1 "
                       "relay: 12 Mb/s, margin 4 dB, chance 71 %; 2 relays: 8.0 Mb/s, "
                       "margin 9 dB, chance 90 %.");
    fe_figure_free(&figure);
}

static void feed__is_a_share_of_the_source(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_feed("230 V", 0.03, FE_UNITS_METRIC, &figure), FE_OK);
    const char *commands = fe_strbuf_text(&figure.commands);
    assert_has(commands, "$line1 << END_OF_DATA\n0 100\n82.5 98.6");
    assert_has(commands, "limit = 97\n");
    assert_alternative(&figure, "230 V: 224 V of 230 V left after 165 m, a drop of 2.7 %. "
                                "Allowed is a drop of 3.0 %.");
    fe_figure_free(&figure);
}

static void reach__holds_lengths_against_limits(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_reach("near", 100.0, FE_UNITS_METRIC, &figure), FE_OK);
    assert_has(fe_strbuf_text(&figure.commands),
               "$rows << END_OF_DATA\n80 100 1 0\n190 100 2 2\nEND_OF_DATA\n");
    assert_has(fe_strbuf_text(&figure.commands), "of 100");
    assert_has(fe_strbuf_text(&figure.commands), "is_log = 0\n");
    assert_alternative(&figure, "near: 80 m of at most 100 m, holds. far: 190 m of at most "
                                "100 m, fails.");
    assert_int_equal(build_reach("near", 5000.0, FE_UNITS_METRIC, &figure), FE_OK);
    assert_has(fe_strbuf_text(&figure.commands), "is_log = 1\n");
    fe_figure_free(&figure);
}

static void poe__says_what_is_left_here(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_poe("class 3", 12.95, FE_UNITS_METRIC, &figure), FE_OK);
    assert_has(fe_strbuf_text(&figure.commands), "here = 60\n");
    assert_alternative(&figure, "Left at the device after 60.0 m: class 3: 13.9 W. Needed: "
                                "12.9 W.");
    fe_figure_free(&figure);
}

static void units__go_to_the_axes_too(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(build_feed("230 V", 0.03, FE_UNITS_US, &figure), FE_OK);
    assert_has(fe_strbuf_text(&figure.commands), "x_unit = 'ft'\n");
    assert_has(fe_strbuf_text(&figure.commands), "\n541.33");
    assert_int_equal(build_overhead("a", 0.0, 0, FE_UNITS_US, &figure), FE_OK);
    assert_has(fe_strbuf_text(&figure.commands), "y_unit = 'ft'\n");
    fe_figure_free(&figure);
}

/* ---- Refusals ---- */

static void figure__with_nothing_or_nonsense_is_refused(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    const fe_margin_point wild[] = {{"b", "s", NAN, 0.0, 0.0, FE_MARK_HOLDS}};
    const double backwards_m[] = {10.0, 0.0};
    const double level_m[] = {0.0, 0.0};
    assert_int_equal(
        fe_figure_margin(&(fe_margin_data){"m", "m", wild, 0}, FE_UNITS_METRIC, &figure),
        FE_E_DOMAIN);
    assert_int_equal(
        fe_figure_margin(&(fe_margin_data){"m", "m", wild, 1}, FE_UNITS_METRIC, &figure),
        FE_E_DOMAIN);
    assert_int_equal(fe_figure_profile(&(fe_profile_data){.id = "p",
                                                          .title = "p",
                                                          .distance_m = backwards_m,
                                                          .ground_m = level_m,
                                                          .count = 2,
                                                          .from_name = "",
                                                          .to_name = "",
                                                          .f_hz = 1e9},
                                       FE_UNITS_METRIC, &figure),
                     FE_E_DOMAIN);
    assert_int_equal(build_profile("a", NAN, 0, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    assert_int_equal(build_budget("a", NAN, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    assert_int_equal(build_relays("a", INFINITY, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    assert_int_equal(build_feed("a", NAN, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    assert_int_equal(build_reach("a", NAN, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    assert_int_equal(build_poe("a", NAN, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    assert_int_equal(build_overhead("a", -1.0, 0, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    assert_string_equal(fe_strbuf_text(&figure.commands), "");
}

/* ---- Drawing ---- */

static void add(fe_status built, fe_figure *figure, fe_gnuplot *gnuplot, fe_document *doc)
{
    assert_int_equal(built, FE_OK);
    assert_int_equal(fe_figure_add(figure, gnuplot, doc), FE_OK);
}

/* Every kind, with what it may lack as well, under the given name. */
static fe_document *every_figure(const char *name, fe_gnuplot *gnuplot)
{
    const fe_units units = FE_UNITS_METRIC;
    fe_document *doc = fe_document_new("figures");
    fe_figure figure = FE_FIGURE_INIT;
    add(build_margin(name, units, &figure), &figure, gnuplot, doc);
    add(build_profile(name, 0.5, 1, units, &figure), &figure, gnuplot, doc);
    add(build_profile(name, 0.0, 0, units, &figure), &figure, gnuplot, doc);
    add(build_overhead(name, 0.4, 1, units, &figure), &figure, gnuplot, doc);
    add(build_overhead(name, 0.0, 0, units, &figure), &figure, gnuplot, doc);
    add(build_budget(name, -86.0, units, &figure), &figure, gnuplot, doc);
    add(build_budget(name, -50.0, units, &figure), &figure, gnuplot, doc);
    add(build_relays(name, 6e6, units, &figure), &figure, gnuplot, doc);
    add(build_relays(name, 0.0, units, &figure), &figure, gnuplot, doc);
    add(build_feed(name, 0.03, units, &figure), &figure, gnuplot, doc);
    add(build_feed(name, 0.0, units, &figure), &figure, gnuplot, doc);
    add(build_reach(name, 100.0, units, &figure), &figure, gnuplot, doc);
    add(build_reach(name, 5000.0, units, &figure), &figure, gnuplot, doc);
    add(build_poe(name, 12.95, units, &figure), &figure, gnuplot, doc);
    add(build_poe(name, 0.0, units, &figure), &figure, gnuplot, doc);
    fe_figure_free(&figure);
    return doc;
}

static bool gnuplot_is_missing(const fe_document *doc)
{
    const char *reason = fe_document_figure_at(doc, 0).reason;
    return reason && strstr(reason, "not installed");
}

static void every_kind__is_drawn_whatever_the_names_are(void **state)
{
    (void)state;
    static const char *const NAMES[] = {
        "shed", "", HOSTILE, "B\xc3\xa4rnhof \xe2\x9c\x93",
        "a name that goes on far beyond what fits beside a plot or above it or below"};
    fe_gnuplot *gnuplot = fe_gnuplot_new(60.0);
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++) {
        fe_document *doc = every_figure(NAMES[i], gnuplot);
        fe_strbuf html = FE_STRBUF_INIT;
        for (size_t j = 0; !gnuplot_is_missing(doc) && j < fe_document_figures(doc); j++)
            if (fe_document_figure_at(doc, j).reason)
                fail_msg("%s, named %s: %s", fe_document_figure_at(doc, j).id, NAMES[i],
                         fe_document_figure_at(doc, j).reason);
        assert_int_equal(fe_document_html(doc, FE_UNITS_METRIC, &html), FE_OK);
        assert_has_not(fe_strbuf_text(&html), "<script");
        assert_int_not_equal(access("farend-test-ran", F_OK), 0);
        fe_strbuf_free(&html);
        fe_document_free(doc);
    }
    fe_gnuplot_free(gnuplot);
}

static void figure__is_missing_without_gnuplot_but_its_words_stay(void **state)
{
    (void)state;
    fe_document *doc = every_figure("shed", NULL);
    fe_strbuf text = FE_STRBUF_INIT;
    assert_string_equal(fe_document_figure_at(doc, 0).reason, "gnuplot was not started");
    assert_int_equal(
        fe_document_text(doc, &(fe_text_options){80, FE_UNITS_METRIC, false}, &text), FE_OK);
    assert_has(fe_strbuf_text(&text), "received -60 dBm");
    fe_strbuf_free(&text);
    fe_document_free(doc);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(margin__has_rows_by_band_and_says_the_same_in_words),
        cmocka_unit_test(profile__draws_the_zone_around_the_line_of_sight),
        cmocka_unit_test(profile__says_where_the_ground_is_nearest),
        cmocka_unit_test(profile__raises_the_ground_by_the_earth),
        cmocka_unit_test(overhead__has_the_highest_and_lowest_line_and_what_is_crossed),
        cmocka_unit_test(budget__adds_up_from_step_to_step),
        cmocka_unit_test(relays__has_one_rate_unit_for_all),
        cmocka_unit_test(feed__is_a_share_of_the_source),
        cmocka_unit_test(reach__holds_lengths_against_limits),
        cmocka_unit_test(poe__says_what_is_left_here),
        cmocka_unit_test(units__go_to_the_axes_too),
        cmocka_unit_test(figure__with_nothing_or_nonsense_is_refused),
        cmocka_unit_test(every_kind__is_drawn_whatever_the_names_are),
        cmocka_unit_test(figure__is_missing_without_gnuplot_but_its_words_stay),
    };
    return FE_RUN_TESTS(tests);
}
