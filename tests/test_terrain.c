/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend terrain --survey`, as a user runs it. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/profile.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

static const char LIST[] = "test_terrain_list.csv";
static const char OUT[] = "test_terrain_out.csv";

static void write_list(const char *text)
{
    assert_int_equal(fe_textfile_write(LIST, text, strlen(text)), FE_OK);
}

/* Runs in the current folder and wants this exit code and, where not null, this stderr. */
static char *runs(const char *line, int exit_code, const char *wanted_err)
{
    char *out = NULL;
    char *err = NULL;
    int code = 0;
    fe_testing_run_line(".", line, &out, &err, &code);
    if (code != exit_code || (wanted_err && strcmp(err, wanted_err) != 0))
        fail_msg("%s\nexit %d, wanted %d\nstderr:\n%s\nwanted:\n%s\nstdout:\n%s", line, code,
                 exit_code, err, wanted_err ? wanted_err : "", out);
    free(err);
    return out;
}

static void terrain__makes_a_profile_that_reads_back(void **state)
{
    (void)state;
    fe_profile profile = {0};
    fe_messages messages = {0};
    write_list("distance [m],height [m]\n0,1\n50,1.5\n100,2.25\n");
    char *text = runs("farend terrain --survey test_terrain_list.csv --output "
                      "test_terrain_out.csv",
                      0, "");
    assert_non_null(strstr(text, "from: survey list test_terrain_list.csv\n"));
    assert_non_null(strstr(text, "for the first Fresnel zone: good enough\n"));
    free(text);
    assert_int_equal(fe_profile_read(OUT, &profile, &messages), FE_OK);
    assert_int_equal(profile.count, 3);
    assert_close(profile.height_m[2], 2.25, 0.0);
    assert_close(profile.height_error_m[1], 0.05, 0.0);
    fe_profile_free(&profile);
    remove(OUT);
    remove(LIST);
}

static void terrain__marks_what_is_too_coarse_for_the_zone(void **state)
{
    (void)state;
    write_list("distance [m],height [m],error [m]\n0,1,0\n50,1.5,0.1\n75,1,2\n100,2.25,0\n");
    char *text = runs("farend terrain --survey test_terrain_list.csv --frequency 60GHz", 0, "");
    assert_non_null(strstr(text, "good enough in part; too coarse at 50.0 to 75.0 m"));
    assert_non_null(strstr(text, "distance_m,height_m,height_error_m,mark\n0.000,1.000,0.000,\n"
                                 "50.000,1.500,0.100,coarse\n75.000,1.000,2.000,coarse\n"));
    free(text);
    remove(LIST);
}

static void terrain__json_has_the_same_numbers(void **state)
{
    (void)state;
    write_list("distance [m],height [m]\n0,1\n50,1.5\n100,2.25\n0,1.02\n");
    char *text = runs("farend terrain --json --survey test_terrain_list.csv", 0, "");
    json_t *root = json_loads(text, 0, NULL);
    assert_non_null(root);
    assert_close(json_real_value(json_object_get(root, "length_m")), 100.0, 0.0);
    assert_close(json_real_value(json_object_get(root, "closing_error_m")), 0.02, 1e-12);
    assert_int_equal(json_array_size(json_object_get(root, "profile_height_m")), 3);
    json_decref(root);
    free(text);
    remove(LIST);
}

static void terrain__warns_of_a_wrong_reading(void **state)
{
    (void)state;
    write_list("distance [m],backsight [m],foresight [m]\n0,1.5,\n40,1.2,1.1\n0,,1.7\n");
    char *text =
        runs("farend terrain --survey test_terrain_list.csv", 0,
             "farend terrain: warning: test_terrain_list.csv: closing error -0.100 m "
             "where such readings close within 0.006 m; look for a wrong reading at or "
             "before point 3\n");
    free(text);
    remove(LIST);
}

static void terrain__draws_the_profile(void **state)
{
    (void)state;
    char *svg = NULL;
    size_t length = 0;
    write_list("distance [m],height [m]\n0,1\n50,6\n100,2.25\n");
    free(runs("farend terrain --survey test_terrain_list.csv --plot test_terrain.svg", 0, ""));
    assert_int_equal(fe_textfile_read("test_terrain.svg", &svg, &length), FE_OK);
    assert_non_null(strstr(svg, "<svg"));
    assert_non_null(strstr(svg, "second end"));
    free(svg);
    free(runs("farend terrain --survey test_terrain_list.csv --plot no/such/folder.svg", 1,
              "farend terrain: cannot write no/such/folder.svg: No such file or directory\n"));
    remove("test_terrain.svg");
    remove(LIST);
}

static void terrain__says_every_mistake(void **state)
{
    (void)state;
    free(runs("farend terrain", 2, NULL));
    free(runs("farend terrain --survey no-such-list.csv", 1,
              "farend terrain: no-such-list.csv: cannot read the survey list: No such file or "
              "directory\n"));
    free(runs("farend terrain --survey x --frequency 0Hz", 2,
              "farend terrain: --frequency: '0Hz' is not a frequency within 1 MHz..1 THz\n"));
    write_list("distance [m],height [m]\n0,x\n50,y\n");
    free(
        runs("farend terrain --survey test_terrain_list.csv", 2,
             "farend terrain: test_terrain_list.csv:2: column height [m]: read \"x\", expected "
             "a number, for example 1.25\n"
             "farend terrain: test_terrain_list.csv:3: column height [m]: read \"y\", expected "
             "a number, for example 1.25\n"));
    write_list("distance [m],height [m]\n0,1\n50,2\n");
    free(runs("farend terrain --survey test_terrain_list.csv --output no/such/folder.csv", 1,
              "farend terrain: cannot write no/such/folder.csv: No such file or directory\n"));
    remove(LIST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(terrain__makes_a_profile_that_reads_back),
        cmocka_unit_test(terrain__marks_what_is_too_coarse_for_the_zone),
        cmocka_unit_test(terrain__json_has_the_same_numbers),
        cmocka_unit_test(terrain__warns_of_a_wrong_reading),
        cmocka_unit_test(terrain__draws_the_profile),
        cmocka_unit_test(terrain__says_every_mistake),
    };
    return FE_RUN_TESTS(tests);
}
