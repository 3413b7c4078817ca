/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Input that means harm or is far too large: texts of a plan are only ever text, whatever reads
 * them afterwards; nothing but what was asked for is written; sizes have a bound and a message.
 */
#include <dirent.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/profile.h"
#include "farend/strbuf.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

static const char FOLDER[] = "test_hostile_folder";
static const char PLAN[] = FAREND_SOURCE_DIR "/tests/hostile/markup.ini";

/* ---- The folder ---- */

static void path_in(const char *name, char path[300])
{
    snprintf(path, 300, "%s/%s", FOLDER, name);
}

static char *read_file(const char *name)
{
    return fe_testing_read_in(FOLDER, name);
}

static void write_file(const char *name, const char *text)
{
    char path[300];
    path_in(name, path);
    assert_int_equal(fe_textfile_write(path, text, strlen(text)), FE_OK);
}

static void remove_file(const char *name)
{
    char path[300];
    path_in(name, path);
    remove(path);
}

/* Names of what lies in a folder of the test, sorted by nothing but their number. */
static size_t count_files(const char *name)
{
    char path[300];
    size_t count = 0;
    path_in(name, path);
    DIR *folder = opendir(path);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder));)
        count += entry->d_name[0] != '.';
    closedir(folder);
    return count;
}

static int make_folder(void **state)
{
    (void)state;
    char *text = NULL;
    size_t length = 0;
    char path[300];
    mkdir(FOLDER, 0777);
    path_in("place", path);
    mkdir(path, 0777);
    /* What a run that was stopped may have left. */
    remove_file("gnuplot");
    remove_file("commands");
    remove_file("page.html");
    if (fe_textfile_read(PLAN, &text, &length) != FE_OK)
        return -1;
    write_file("place/hostile.ini", text);
    free(text);
    return 0;
}

static char *runs(const char *const argv[], int wanted_code, char **err)
{
    return fe_testing_runs_in(FOLDER, argv, wanted_code, err);
}

/* ---- Texts ---- */

/* A command of the plan's texts that ran would have made this file where the program ran. */
static void assert_nothing_ran(void)
{
    static const char *const PLACES[] = {"reached", "place/reached"};
    char path[300];
    for (size_t i = 0; i < 2; i++) {
        path_in(PLACES[i], path);
        assert_int_equal(access(path, F_OK), -1);
    }
}

/* Nothing of the plan's became markup; its texts stand there as texts. */
static void assert_page_is_harmless(const char *name)
{
    char *page = read_file(name);
    static const char *const FORBIDDEN[] = {
        "<script", "<img", "<b onclick", "<svg/", "<iframe", "href=\"javascript", "</title><"};
    for (size_t i = 0; i < sizeof FORBIDDEN / sizeof FORBIDDEN[0]; i++)
        if (strstr(page, FORBIDDEN[i]))
            fail_msg("%s stands in %s", FORBIDDEN[i], name);
    assert_non_null(strstr(page, "&lt;script&gt;reached=1&lt;/script&gt;"));
    free(page);
}

static void report__of_a_hostile_plan_writes_its_page_alone(void **state)
{
    (void)state;
    char *text = runs(
        (const char *[]){"report", "place/hostile.ini", "--html", "page.html", NULL}, 0, NULL);
    assert_page_is_harmless("page.html");
    assert_null(strchr(text, '\033'));
    assert_nothing_ran();
    /* The plan's folder holds the plan, the current one that folder and the page. */
    assert_int_equal(count_files("place"), 1);
    assert_int_equal(count_files("."), 2);
    remove_file("page.html");
    free(text);
}

static void json__of_a_hostile_plan_holds_its_texts_as_written(void **state)
{
    (void)state;
    char *json = runs((const char *[]){"report", "place/hostile.ini", "--json", NULL}, 0, NULL);
    json_error_t error;
    json_t *root = json_loads(json, JSON_REJECT_DUPLICATES, &error);
    if (!root)
        fail_msg("JSON line %d: %s", error.line, error.text);
    const json_t *site = json_object_get(root, "site");
    assert_string_equal(json_string_value(json_object_get(site, "name")),
                        "</title><script>reached=1</script>\"onload=\"reached=1\" & 'x' "
                        "`reached` $(reached)");
    json_decref(root);
    free(json);
    assert_nothing_ran();
}

/* Everything else that reads a plan: words for the terminal, numbers for other programs. */
static void other_commands__take_texts_of_a_hostile_plan_as_texts(void **state)
{
    (void)state;
    static const char *const LINES[][6] = {
        {"radio", "place/hostile.ini"},
        {"relays", "place/hostile.ini"},
        {"posts", "place/hostile.ini"},
        {"power", "place/hostile.ini"},
        {"copper", "place/hostile.ini"},
        {"accept", "place/hostile.ini", "--band", "5GHz", "--level", "-60dBm"},
    };
    for (size_t i = 0; i < sizeof LINES / sizeof LINES[0]; i++) {
        const char *words[8] = {NULL};
        size_t count = 0;
        for (; count < 6 && LINES[i][count]; count++)
            words[count] = LINES[i][count];
        char *text = runs(words, 0, NULL);
        for (const char *at = text; *at; at++)
            if (((unsigned char)*at < ' ' && *at != '\n') || *at == 0x7f)
                fail_msg("%s prints a control character: %.60s", words[0], at);
        assert_true(strlen(text) > 100);
        free(text);
        words[count] = "--json";
        text = runs(words, 0, NULL);
        json_error_t error;
        json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &error);
        if (!root)
            fail_msg("%s: JSON line %d: %s", words[0], error.line, error.text);
        json_decref(root);
        free(text);
        assert_nothing_ran();
    }
    assert_int_equal(count_files("place"), 1);
    assert_int_equal(count_files("."), 1);
}

static void sheet__of_a_hostile_plan_holds_no_markup_of_its(void **state)
{
    (void)state;
    free(runs((const char *[]){"report", "place/hostile.ini", "--html", "page.html", "--sheet",
                               "sheet.html", NULL},
              0, NULL));
    assert_page_is_harmless("sheet.html");
    assert_nothing_ran();
    remove_file("page.html");
    remove_file("sheet.html");
}

/* What stands outside single quotes, in which gnuplot takes everything as it is. */
static void strip_quoted(char *text)
{
    bool quoted = false;
    char *write = text;
    for (char *read = text; *read; read++) {
        if (*read == '\n')
            quoted = false;
        if (*read == '\'')
            quoted = !quoted;
        else if (!quoted)
            *write++ = *read;
    }
    *write = 0;
}

static void assert_commands_are_harmless(const char *who)
{
    static const char *const FORBIDDEN[] = {"reached", "`", "$(", "system", "\"", "<script"};
    char *commands = read_file("commands");
    assert_non_null(strstr(commands, "farend: end of figure"));
    strip_quoted(commands);
    for (size_t i = 0; i < sizeof FORBIDDEN / sizeof FORBIDDEN[0]; i++)
        if (strstr(commands, FORBIDDEN[i]))
            fail_msg("%s: %s stands outside quotes: %.200s", who, FORBIDDEN[i],
                     strstr(commands, FORBIDDEN[i]));
    free(commands);
}

/* A stand-in keeps the commands of every figure and draws none. */
static void gnuplot__gets_texts_of_a_hostile_plan_in_single_quotes(void **state)
{
    (void)state;
    static const char *const DRAWING[] = {"report", "relays", "posts", "power", "copper"};
    char here[500], joined[5000], path[300];
    char *kept = strdup(getenv("PATH") ? getenv("PATH") : "");
    assert_non_null(kept);
    assert_non_null(getcwd(here, sizeof here));
    write_file("gnuplot", "#!/bin/sh\nexec sed '/^unset print$/q' >>commands\n");
    path_in("gnuplot", path);
    assert_int_equal(chmod(path, 0700), 0);
    snprintf(joined, sizeof joined, "%s/%s:%.4000s", here, FOLDER, kept);
    path_in("figures", path);
    for (size_t i = 0; i < sizeof DRAWING / sizeof DRAWING[0]; i++) {
        setenv("PATH", joined, 1);
        int code = 0;
        const char *const words[] = {DRAWING[i],  "place/hostile.ini", "--json",
                                     "--figures", "figures",           NULL};
        fe_testing_run_in(FOLDER, words, NULL, NULL, &code);
        assert_true(code == 0 || code == 1);
        setenv("PATH", kept, 1);
        if (i == 0) {
            char *commands = read_file("commands");
            assert_non_null(strstr(commands, "'<script>reached=1<"));
            free(commands);
        }
        assert_commands_are_harmless(DRAWING[i]);
        remove_file("commands");
        rmdir(path);
    }
    free(kept);
    remove_file("gnuplot");
    assert_nothing_ran();
}

/* The name of a file is text, too: on the command line and as a word in a plan. */
static void file_name__runs_nothing(void **state)
{
    (void)state;
    char *err = NULL;
    free(runs((const char *[]){"report", "`touch reached`;$(touch reached).ini", NULL}, 2,
              &err));
    assert_non_null(strstr(err, "`touch reached`;$(touch reached).ini"));
    free(err);
    free(runs((const char *[]){"report", "place/hostile.ini", "--json", "--html",
                               "'\"`touch reached`$(touch reached)<b>.html", NULL},
              0, NULL));
    remove_file("'\"`touch reached`$(touch reached)<b>.html");
    write_file("place/odd.ini", "[end a]\n[end b]\n[path p]\nprofile = $(touch reached)`x`\n");
    free(runs((const char *[]){"report", "place/odd.ini", "--json", NULL}, 2, &err));
    assert_non_null(strstr(err, "$(touch reached)`x`"));
    free(err);
    remove_file("place/odd.ini");
    assert_nothing_ran();
}

static void profile__is_looked_for_beside_its_plan(void **state)
{
    (void)state;
    write_file("place/near.ini", "[site]\nregion = UK\nbands = 2.4 GHz\n"
                                 "[end a]\ngear = outdoor-access-point\nheight = 3 m\n"
                                 "[end b]\ngear = outdoor-access-point\nheight = 3 m\n"
                                 "[path p]\nprofile = ground.csv\n");
    write_file("place/ground.csv", "distance_m,height_m\n0,10\n60,11\n120,10\n");
    /* One of this name where the program runs is another one. */
    write_file("ground.csv", "distance_m,height_m\n0,10\n999,11\n");
    char *json = runs((const char *[]){"report", "place/near.ini", "--json", NULL}, 0, NULL);
    json_t *root = json_loads(json, 0, NULL);
    assert_non_null(root);
    const json_t *path = json_array_get(json_object_get(root, "paths"), 0);
    assert_close(json_number_value(json_object_get(path, "distance_m")), 120.0, 0.0);
    json_decref(root);
    free(json);
    assert_int_equal(count_files("place"), 3);
    remove_file("place/near.ini");
    remove_file("place/ground.csv");
    remove_file("ground.csv");
}

/* ---- Sizes ---- */

/* A plan of just under a megabyte, most of it remarks, as somebody's notes might be. */
static void plan_of_a_megabyte__is_read(void **state)
{
    (void)state;
    static const char REMARK[] = "; a remark of the owner, forty-two letters.\n; and one more "
                                 "of them, for the morning\n";
    fe_strbuf text = FE_STRBUF_INIT;
    fe_strbuf_append(&text, "[site]\nregion = UK\nbands = 2.4 GHz\n"
                            "[end a]\ngear = outdoor-access-point\nheight = 3 m\n"
                            "[end b]\ngear = outdoor-access-point\nheight = 3 m\n"
                            "[path p]\ndistance = 120 m\n");
    while (text.length + sizeof REMARK < 1000000)
        fe_strbuf_append(&text, REMARK);
    write_file("place/large.ini", fe_strbuf_text(&text));
    free(runs((const char *[]){"radio", "place/large.ini", NULL}, 0, NULL));
    while (text.length < 1100000)
        fe_strbuf_append(&text, REMARK);
    write_file("place/large.ini", fe_strbuf_text(&text));
    char *err = NULL;
    free(runs((const char *[]){"radio", "place/large.ini", NULL}, 2, &err));
    assert_non_null(strstr(err, "large.ini"));
    free(err);
    fe_strbuf_free(&text);
    remove_file("place/large.ini");
}

static void write_profile(const char *name, size_t points)
{
    fe_strbuf text = FE_STRBUF_INIT;
    fe_strbuf_append(&text, "distance_m,height_m\n");
    for (size_t i = 0; i < points; i++)
        fe_strbuf_format(&text, "%zu.%zu,%zu\n", i / 10, i % 10, i % 7);
    write_file(name, fe_strbuf_text(&text));
    fe_strbuf_free(&text);
}

static void profile_of_a_million_points__is_read_and_one_more_refused(void **state)
{
    (void)state;
    char path[300];
    fe_profile profile = {0};
    fe_messages messages = {0};
    path_in("million.csv", path);
    write_profile("million.csv", FE_PROFILE_MOST_POINTS);
    assert_int_equal(fe_profile_read(path, &profile, &messages), FE_OK);
    assert_int_equal(profile.count, FE_PROFILE_MOST_POINTS);
    assert_close(fe_profile_length(&profile), 99999.9, 1e-9);
    fe_profile_free(&profile);
    write_profile("million.csv", FE_PROFILE_MOST_POINTS + 1);
    assert_int_equal(fe_profile_read(path, &profile, &messages), FE_E_INPUT);
    assert_non_null(
        strstr(messages.items[0].text, "1000001 points, expected from 2 to 1000000"));
    fe_messages_free(&messages);
    remove_file("million.csv");
}

/* The file is all hole: it takes no room on the disk, and none in memory either. */
static void file_beyond_64_megabytes__is_refused_before_it_is_read(void **state)
{
    (void)state;
    char path[300];
    fe_profile profile = {0};
    fe_messages messages = {0};
    path_in("huge.csv", path);
    write_file("huge.csv", "distance_m,height_m\n");
    assert_int_equal(truncate(path, (off_t)FE_TEXTFILE_MAX_BYTES + 1), 0);
    assert_int_equal(fe_profile_read(path, &profile, &messages), FE_E_IO);
    assert_non_null(strstr(messages.items[0].text, "larger than 64 MB"));
    fe_messages_free(&messages);
    remove_file("huge.csv");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(report__of_a_hostile_plan_writes_its_page_alone),
        cmocka_unit_test(json__of_a_hostile_plan_holds_its_texts_as_written),
        cmocka_unit_test(other_commands__take_texts_of_a_hostile_plan_as_texts),
        cmocka_unit_test(sheet__of_a_hostile_plan_holds_no_markup_of_its),
        cmocka_unit_test(gnuplot__gets_texts_of_a_hostile_plan_in_single_quotes),
        cmocka_unit_test(file_name__runs_nothing),
        cmocka_unit_test(profile__is_looked_for_beside_its_plan),
        cmocka_unit_test(plan_of_a_megabyte__is_read),
        cmocka_unit_test(profile_of_a_million_points__is_read_and_one_more_refused),
        cmocka_unit_test(file_beyond_64_megabytes__is_refused_before_it_is_read),
    };
    fe_init();
    return cmocka_run_group_tests(tests, make_folder, NULL);
}
