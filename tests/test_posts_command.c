/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kept transcripts of `farend posts`: metric, US and JSON, with their exit codes. */
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

static void options_alone__say_first_that_posts_are_short(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend posts --distance 95m --post-length 4m --cable outdoor-data-messenger "
        "--snow 0.8m --ice 10mm",
        0,
        "[x] fails: Posts of 4.0 m are too short: once the hole is dug the cable is tied\n"
        "    2.84 m above bare ground, and 3.50 m is asked before any sag. Length that\n"
        "    would do: ",
        "");
}

static void us_run__is_in_feet_inches_and_pounds(void **state)
{
    (void)state;
    static const char LINE[] = "farend posts --distance 60m --post-length 18ft --diameter 7in "
                               "--soil sand --snow 1ft --units us --safety us";
    static const char *const PARTS[] = {"lbf", "degF", "18.0", "Table 232-1"};
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++)
        fe_testing_check_line(LINE, 0, PARTS[i], "");
}

/* The keys that others may read. */
static void json__has_the_keys_of_posts_and_spans(void **state)
{
    (void)state;
    static const char *const POST[] = {"station_m",    "length_m",   "depth_m",
                                       "attachment_m", "moment_n_m", "stayed"};
    static const char *const SPAN[] = {"length_m", "rise_m", "sag_m"};
    char *out = NULL;
    int code = -1;
    fe_testing_run_line(FAREND_SOURCE_DIR,
                        "farend posts --distance 60m --post-length 6m --diameter 18cm "
                        "--soil gravel --json",
                        &out, NULL, &code);
    assert_int_equal(code, 0);
    json_t *root = json_loads(out, 0, NULL);
    assert_non_null(root);
    assert_true(json_is_number(json_object_get(root, "worst_clearance_m")));
    assert_true(json_is_number(json_object_get(root, "cable_length_m")));
    assert_string_equal(json_string_value(json_object_get(root, "layout")), "posts on hand");
    assert_true(json_is_string(json_object_get(root, "verdict")));
    const json_t *posts = json_object_get(root, "posts");
    const json_t *spans = json_object_get(root, "spans");
    assert_true(json_array_size(posts) >= 1);
    assert_int_equal(json_array_size(spans), json_array_size(posts) + 1);
    for (size_t i = 0; i < sizeof POST / sizeof POST[0]; i++)
        assert_non_null(json_object_get(json_array_get(posts, 0), POST[i]));
    for (size_t i = 0; i < sizeof SPAN / sizeof SPAN[0]; i++)
        assert_non_null(json_object_get(json_array_get(spans, 0), SPAN[i]));
    const json_t *sags = json_object_get(json_array_get(spans, 0), "sag_m");
    assert_true(json_is_number(json_object_get(sags, "deep winter: coldest, bare")));
    json_decref(root);
    free(out);
}

static void free_running_cable__is_tied_at_its_ends(void **state)
{
    (void)state;
    fe_testing_check_line("farend posts --distance 60m --post-length 6m --diameter 18cm "
                          "--soil gravel --free-running",
                          0, "2 dead-end grips", "");
}

/* Every run of blanks and ends of lines becomes one blank. */
static void join_lines(char *text)
{
    char *to = text;
    for (const char *at = text; *at; at++) {
        if (!strchr(" \n", *at))
            *to++ = *at;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    }
    *to = 0;
}

/* Posts of three lengths were laid out that nobody had said to have. */
static void usual_values__are_told(void **state)
{
    (void)state;
    static const char *const PARTS[] = {"posts on hand", "spans of", "sag at stringing",
                                        "day of pulling"};
    char *out = NULL;
    int code = -1;
    fe_testing_run_line(FAREND_SOURCE_DIR, "farend posts --distance 30m", &out, NULL, &code);
    assert_int_equal(code, 0);
    join_lines(out);
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++)
        assert_non_null(strstr(out, PARTS[i]));
    free(out);
}

static void bad_calls__end_with_two(void **state)
{
    (void)state;
    fe_testing_check_line("farend posts", 2, "", "give a PLAN or --distance, one of both");
    fe_testing_check_line("farend posts --distance 95", 2, "", "--distance");
    fe_testing_check_line("farend posts --distance 95m --wood marzipan", 2, "",
                          "--wood: marzipan: no such strength class or species");
    fe_testing_check_line("farend posts --distance 95m --district nowhere", 2, "",
                          "--district: expected one of US IEEE C2/heavy");
    fe_testing_check_line("farend posts --distance 95m --clearance-code nobody", 2, "",
                          "--clearance-code: expected one of US NFPA 70");
    fe_testing_check_line("farend posts --distance 95m --anchor 5", 2, "",
                          "--anchor: expected a class of holding power");
    fe_testing_check_line("farend posts examples/boathouse.ini --snow 1m", 2, "",
                          "--snow: goes with --distance; a plan says it itself");
}

static void assert_says(const char *text, const char *part)
{
    if (!strstr(text, part))
        fail_msg("\"%s\" is not in\n%s", part, text);
}

/* A code's load and heights by their names, each with the date of its text. Spans of 16, 8 and
 * 16 m change as one of sqrt((16^3 + 8^3 + 16^3)/40) = 14.75 m where the cable runs free. */
static void presets_of_codes__are_reached_by_options(void **state)
{
    (void)state;
    char *out = fe_testing_runs_in(
        FAREND_SOURCE_DIR,
        (const char *[]){"posts", "--distance", "40m", "--post-length", "7m", "--diameter",
                         "140mm", "--district", "EN 50341-2-4/zone 2", "--clearance-code",
                         "US NFPA 70", "--below", "driveway", "--free-running", NULL},
        0, NULL);
    assert_says(out, "NFPA 70 (2023) 225.18(2)");
    assert_says(out, "EN 50341-2-4, zone 2");
    assert_says(out, "Ruling span 14.8");
    free(out);
}

static void presets_of_codes__that_do_not_exist_are_said_on_their_lines(void **state)
{
    (void)state;
    static const char PLAN[] = "[end a]\n[end b]\n[path p]\nfrom = a\nto = b\ndistance = 40 m\n"
                               "[posts]\nlength = 7 m\nanchor = 6001 lb\n"
                               "district = US IEEE C2/heavi\nclearance-code = US NFPA 71\n";
    char *said = NULL;
    assert_int_equal(fe_textfile_write("test_posts_presets.ini", PLAN, strlen(PLAN)), FE_OK);
    free(fe_testing_runs_in(".", (const char *[]){"posts", "test_posts_presets.ini", NULL}, 2,
                            &said));
    assert_says(said, "did you mean \"6000 lb\"?");
    assert_says(said, "did you mean \"US IEEE C2/heavy\"?");
    assert_says(said, "did you mean \"US NFPA 70\"?");
    free(said);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(options_alone__say_first_that_posts_are_short),
        cmocka_unit_test(us_run__is_in_feet_inches_and_pounds),
        cmocka_unit_test(json__has_the_keys_of_posts_and_spans),
        cmocka_unit_test(free_running_cable__is_tied_at_its_ends),
        cmocka_unit_test(usual_values__are_told),
        cmocka_unit_test(bad_calls__end_with_two),
        cmocka_unit_test(presets_of_codes__are_reached_by_options),
        cmocka_unit_test(presets_of_codes__that_do_not_exist_are_said_on_their_lines),
    };
    return FE_RUN_TESTS(tests);
}
