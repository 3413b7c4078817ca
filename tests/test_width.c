/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whatever a command says about an example, in metric and in US units, fits a terminal of 80
 * columns. (What it says without a plan is held to that in test_help.c.)
 */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "run.h"
#include "testing.h"

enum { LINE_ROOM = 400 };

/* Where pages land; what is read is reached through links. */
static const char folder[] = "test_width_folder";

static int link_examples(void **state)
{
    (void)state;
    static const char *const READ[] = {"examples", "profiles"};
    mkdir(folder, 0777);
    for (size_t i = 0; i < sizeof READ / sizeof READ[0]; i++) {
        char path[1000], target[1000];
        snprintf(path, sizeof path, "%s/%s", folder, READ[i]);
        snprintf(target, sizeof target, "%s/%s", FAREND_SOURCE_DIR, READ[i]);
        unlink(path);
        assert_int_equal(symlink(target, path), 0);
    }
    return 0;
}

/* True where the call has an answer: a plan without loads or readings has none for some. */
static bool fits(const char *line)
{
    char *out = NULL;
    char *err = NULL;
    int code = 0;
    fe_testing_run_line(folder, line, &out, &err, &code);
    if (code != 0 && (code != 2 || *out))
        fail_msg("%s\nexit %d\n%s", line, code, err);
    fe_testing_check_width(line, out);
    free(out);
    free(err);
    return code == 0;
}

static size_t fitting_examples(const char *command, const char *units)
{
    size_t answered = 0;
    DIR *examples = opendir(FAREND_SOURCE_DIR "/examples");
    assert_non_null(examples);
    for (const struct dirent *entry = readdir(examples); entry; entry = readdir(examples)) {
        char line[LINE_ROOM];
        if (!strstr(entry->d_name, ".ini"))
            continue;
        snprintf(line, sizeof line, "farend %s examples/%s --units %s", command, entry->d_name,
                 units);
        answered += fits(line);
    }
    closedir(examples);
    return answered;
}

static void check_examples(const char *units)
{
    static const char *const COMMANDS[] = {"report", "radio",  "posts",
                                           "relays", "copper", "power"};
    for (size_t i = 0; i < sizeof COMMANDS / sizeof COMMANDS[0]; i++)
        assert_true(fitting_examples(COMMANDS[i], units) >= 3);
    assert_true(fitting_examples("accept", units) >= 1);
}

static void check_lines(const char *units)
{
    static const char *const LINES[] = {
        "terrain --survey examples/track-by-level.csv",
        "terrain --survey examples/track-by-level.csv --output profile.csv",
        "terrain --raster examples/byre.tif --from 46.952747,7.689129 --to 46.953753,7.690682",
        "terrain --around examples/byre.ini --raster examples/byre.tif --radius 100m",
        "claim --from 5.2GHz --to 2.4GHz --range-factor 4 --trees 10m",
        "claim --frequency 917MHz --distance 1km",
        "relays --distance 400m --band 2.4GHz --gear indoor-extender --rate 5Mb/s",
        "posts --distance 95m --post-length 4m --snow 0.8m --ice 10mm",
        "copper --length 130m --rate 1Gb/s --poe-class 8",
        "power --length 100m --load 60W --voltage 11.5..14.4V --voltage 230V",
        "accept --distance 165m --band 5GHz --level -81dBm --level-back -60dBm",
        "new plan.ini --force",
    };
    for (size_t i = 0; i < sizeof LINES / sizeof LINES[0]; i++) {
        char line[LINE_ROOM];
        snprintf(line, sizeof line, "farend %s --units %s", LINES[i], units);
        if (!fits(line))
            fail_msg("%s: no answer", line);
    }
}

static void text__fits_a_terminal_in_metric_units(void **state)
{
    (void)state;
    check_examples("metric");
    check_lines("metric");
}

static void text__fits_a_terminal_in_us_units(void **state)
{
    (void)state;
    check_examples("us");
    check_lines("us");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text__fits_a_terminal_in_metric_units),
        cmocka_unit_test(text__fits_a_terminal_in_us_units),
    };
    return cmocka_run_group_tests(tests, link_examples, NULL);
}
