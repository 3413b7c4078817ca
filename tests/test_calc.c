/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend calc` and the program around it, as kept transcripts with exit codes. */
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

typedef struct transcript {
    const char *line;
    int exit_code;
    const char *out; /* exact */
    const char *err; /* exact */
} transcript;

static void check_transcript_in(const char *folder, const transcript *wanted)
{
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run_line(folder, wanted->line, &out, &err, &code);
    if (code != wanted->exit_code || strcmp(out, wanted->out) != 0 ||
        strcmp(err, wanted->err) != 0)
        fail_msg("%s\nexit %d, wanted %d\nstdout:\n%s\nwanted:\n%s\nstderr:\n%s\nwanted:\n%s",
                 wanted->line, code, wanted->exit_code, out, wanted->out, err, wanted->err);
    free(out);
    free(err);
}

static void check_transcript(const transcript *wanted)
{
    check_transcript_in(FAREND_SOURCE_DIR, wanted);
}

static const transcript PROGRAM[] = {
    {"farend", 2, "", "farend: name a command; `farend --help` shows them all\n"},
    {"farend --version", 0, "farend 0.1.0\n", ""},
    {"farend clac", 2, "", "farend: clac: no such command; did you mean calc?\n"},
    {"farend xyz", 2, "", "farend: xyz: no such command; `farend --help` shows them all\n"},
    {"farend --hlep", 2, "", "farend: --hlep: no such option; did you mean --help?\n"},
    {"farend --completion", 2, "", "farend: --completion: name a shell: bash, zsh or fish\n"},
    {"farend --completion csh", 2, "",
     "farend: --completion: name a shell: bash, zsh or fish\n"},
    {"farend calc", 2, "",
     "farend calc: name a formula; `farend calc --list` shows them all\n"},
    {"farend calc --jsn --lsit --cases", 2, "",
     "farend calc: --jsn: no such option; did you mean --json?\n"
     "farend calc: --lsit: no such option; did you mean --list?\n"
     "farend calc: --cases: needs a value: --cases FILE.csv\n"},
    {"farend calc --json=yes", 2, "", "farend calc: --json: takes no value\n"},
    {"farend calc -x", 2, "", "farend calc: -x: no such option; --help shows them all\n"},
    {"farend calc qqqqq", 2, "",
     "farend calc: qqqqq: no such formula; `farend calc --list` shows them all\n"},
};

static void program__says_what_was_wrong(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof PROGRAM / sizeof PROGRAM[0]; i++)
        check_transcript(&PROGRAM[i]);
}

static const transcript CALC[] = {
    {"farend calc free-space distance=150m frequency=2437MHz", 0, "loss_db = 83.7067 dB\n", ""},
    {"farend calc free-space 'distance=492 ft 1.5 in' frequency=2.437GHz", 0,
     "loss_db = 83.7067 dB\n", ""},
    {"farend calc free-space distance=1mm frequency=2437MHz", 0, "loss_db = -19.8151 dB\n",
     "farend calc free-space: warning: outside the range the formula was stated for: nearer "
     "than a wavelength, where the far field has not begun\n"},
    {"farend calc free-space distance=-1m frequency=2437MHz", 2, "",
     "farend calc free-space: distance and frequency must be above 0\n"},
    {"farend calc wifi-channel band=5 channel=36", 0, "centre_mhz = 5180 MHz\n", ""},
    {"farend calc wifi-channel band=5 channel=36 --json", 0, "{\n  \"centre_mhz\": 5180.0\n}\n",
     ""},
    {"farend calc slab material=concrete thickness=150mm frequency=2437MHz", 0,
     "transmission_loss_db = 11.4817 dB\nreflection_loss_db = 7.45408 dB\n", ""},
    {"farend calc slba material=concrete", 2, "",
     "farend calc: slba: no such formula; did you mean slab?\n"},
    {"farend calc slab thikness=150 frequency=2437 polarisation=tr angle=0deg angle=1deg word",
     2, "",
     "farend calc slab: thikness: no argument of this name; did you mean thickness?\n"
     "farend calc slab: frequency=2437: a frequency with its unit, for example "
     "frequency=2437MHz\n"
     "farend calc slab: polarisation=tr: one of te|tm; did you mean te?\n"
     "farend calc slab: angle=1deg: angle is given twice\n"
     "farend calc slab: word: arguments are written key=value\n"
     "farend calc slab: material is missing: a word\n"
     "farend calc slab: thickness is missing: a length with its unit, for example "
     "thickness=3m\n"},
    {"farend calc slab --cases no-such-file.csv", 2, "",
     "farend calc: no-such-file.csv: No such file or directory\n"},
    {"farend calc slab --cases .", 2, "", "farend calc: .: Is a directory\n"},
};

static void calc__prints_results_or_every_mistake(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof CALC / sizeof CALC[0]; i++)
        check_transcript(&CALC[i]);
}

typedef struct case_run {
    const char *table;
    const char *more; /* words after --cases FILE */
    int exit_code;
    const char *out;
    const char *err; /* FILE stands for the name of the table */
} case_run;

#define CASES_FILE "test_calc_cases.csv"

static const case_run CASE_RUNS[] = {
    {"case,band,channel\n\"a, \"\"b\"\"\",5,36\n,2.4,1\n", "", 0,
     "case,band,channel,centre_mhz\n\"a, \"\"b\"\"\",5,36,5180\n,2.4,1,2412\n", ""},
    /* Words of the owner's are words in a spreadsheet, too; numbers stay numbers. */
    {"note,case,channel\n=cmd|' /C x'!A0,-3,36\n\"@SUM(1,2)\",+1e3,40\n-1+1,\"#4\",44\n",
     " band=5", 0,
     "note,case,channel,centre_mhz\n'=cmd|' /C x'!A0,-3,36,5180\n\"'@SUM(1,2)\",+1e3,40,5200\n"
     "'-1+1,\"#4\",44,5220\n",
     ""},
    {"channel\r\n36\r\n40\r\n", " band=5", 0, "channel,centre_mhz\n36,5180\n40,5200\n", ""},
    {"channel,width [MHz]\n38,40\n36,\n", " band=5", 0,
     "channel,width [MHz],centre_mhz\n38,40,5190\n36,,5180\n", ""},
    {"channel\n36\n40\n", " band=5 --json", 0,
     "[\n  {\n    \"centre_mhz\": 5180.0\n  },\n  {\n    \"centre_mhz\": 5200.0\n  }\n]\n", ""},
    /* Nothing is written where one row is wrong, and each wrong row is named. */
    {"channel,width\n36,20\n36,20 MHz\n-1,20MHz\n", " band=5", 2, "",
     "farend calc wifi-channel: " CASES_FILE ":2: width=20: a frequency with its unit, for "
     "example width=20MHz\n"
     "farend calc wifi-channel: " CASES_FILE ":4: channel=-1: a whole number, zero or more, "
     "for example channel=3\n"},
    {"chanel,colour\n36,20\n", " band=5", 2, "",
     "farend calc wifi-channel: " CASES_FILE ":1: chanel: no argument of this name; did you "
     "mean channel?\n"
     "farend calc wifi-channel: " CASES_FILE ":1: colour: no argument of this name; there are "
     "band, channel, width\n"},
    {"channel\n\x1b[2Jx\n", " band=5", 2, "",
     "farend calc wifi-channel: " CASES_FILE ":2: channel=?[2Jx: a whole number, zero or more, "
     "for example channel=3\n"},
    /* A mistake of the call is said once, also where there is no row. */
    {"channel\n36\n40\n", " bnd=5 width", 2, "",
     "farend calc wifi-channel: bnd: no argument of this name; did you mean band?\n"
     "farend calc wifi-channel: width: arguments are written key=value\n"},
    {"channel\n", " channel=36 width=much", 2, "",
     "farend calc wifi-channel: width=much: a frequency with its unit, for example "
     "width=2437MHz\n"
     "farend calc wifi-channel: channel=36: is a column of the table\n"},
    {"channel\n36,37\n", " band=5", 2, "", "farend calc: " CASES_FILE ":2: " FE_CSV_FAULT "\n"},
};

static void cases__run_whole_or_not_at_all(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof CASE_RUNS / sizeof CASE_RUNS[0]; i++) {
        const case_run *row = &CASE_RUNS[i];
        char line[200];
        snprintf(line, sizeof line, "calc wifi-channel --cases " CASES_FILE "%s", row->more);
        assert_int_equal(fe_textfile_write(CASES_FILE, row->table, strlen(row->table)), FE_OK);
        check_transcript_in(NULL, &(transcript){line, row->exit_code, row->out, row->err});
    }
    remove(CASES_FILE);
}

static void output_that_cannot_be_written__ends_with_1(void **state)
{
    (void)state;
    char *err = NULL;
    const char *const words[] = {"calc", "wifi-channel", "band=5", "channel=36", NULL};
    assert_int_equal(fe_testing_run_into("/dev/full", words, &err), 1);
    assert_string_equal(err, "farend: cannot write the output: No space left on device\n");
    free(err);
    assert_int_equal(fe_testing_run_into(NULL, words, &err), 1);
    assert_string_equal(err, "farend: cannot write the output: Bad file descriptor\n");
    free(err);
    /* A long listing fails before its end. */
    const char *const list[] = {"calc", "--list", NULL};
    assert_int_equal(fe_testing_run_into("/dev/full", list, NULL), 1);
}

/* A formula whose run gives a result that its row does not declare would lose it in a table. */
static void check_declared(const json_t *formula)
{
    char line[1024], *out = NULL, *err = NULL;
    int code = 0;
    const char *name = NULL;
    json_t *value = NULL;
    snprintf(line, sizeof line, "calc %s %s --json",
             json_string_value(json_object_get(formula, "name")),
             json_string_value(json_object_get(formula, "example")));
    fe_testing_run_line(FAREND_SOURCE_DIR, line, &out, &err, &code);
    json_t *results = json_loads(out, 0, NULL);
    assert_int_equal(code, 0);
    assert_true(json_object_size(results) > 0);
    json_object_foreach(results, name, value)
    {
        bool declared = false;
        const json_t *list = json_object_get(formula, "results");
        for (size_t i = 0; i < json_array_size(list); i++)
            declared |= strcmp(json_string_value(json_array_get(list, i)), name) == 0;
        if (!declared)
            fail_msg("%s: result %s is not declared", line, name);
    }
    json_decref(results);
    free(out);
    free(err);
}

static void every_result__is_declared_in_the_table(void **state)
{
    (void)state;
    char *out = NULL;
    int code = 0;
    fe_testing_run((const char *[]){"calc", "--list", "--json", NULL}, &out, NULL, &code);
    json_t *list = json_loads(out, 0, NULL);
    assert_true(json_array_size(list) > 0);
    for (size_t i = 0; i < json_array_size(list); i++)
        check_declared(json_array_get(list, i));
    json_decref(list);
    free(out);
}

static const char EXAMPLE_MARK[] = "    example ";

/* Runs what stands after the mark on one line of the listing. */
static void run_example(char *line)
{
    char *out = NULL, *err = NULL;
    int code = 0;
    line[strcspn(line, "\n")] = 0;
    fe_testing_run_line(FAREND_SOURCE_DIR, line, &out, &err, &code);
    if (code != 0)
        fail_msg("%s\nexit %d: %s", line, code, err);
    if (*out == 0 || *err != 0)
        fail_msg("%s\nprints '%s' and '%s'", line, out, err);
    free(out);
    free(err);
}

static void every_formula__has_an_example_that_runs(void **state)
{
    (void)state;
    char *list = NULL;
    int code = 0;
    unsigned count = 0;
    fe_testing_run((const char *[]){"calc", "--list", NULL}, &list, NULL, &code);
    assert_int_equal(code, 0);
    for (char *at = list; (at = strstr(at, EXAMPLE_MARK)); count++) {
        at += strlen(EXAMPLE_MARK);
        const size_t length = strcspn(at, "\n");
        const bool more = at[length] != 0;
        run_example(at);
        at += length + more;
    }
    printf("%u examples run\n", count);
    free(list);
}

/* Every name that --help prints must be in what is made from the same table. */
static void check_words(const char *const argv[], const char *const words[])
{
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run(argv, &out, &err, &code);
    assert_int_equal(code, 0);
    assert_string_equal(err, "");
    for (size_t i = 0; words[i]; i++)
        if (!strstr(out, words[i]))
            fail_msg("%s %s has no %s", argv[0], argv[1] ? argv[1] : "", words[i]);
    free(out);
    free(err);
}

static void help_of_a_formula__has_its_arguments_and_example(void **state)
{
    (void)state;
    check_words((const char *[]){"calc", "wifi-channel", "--help", NULL},
                (const char *[]){"usage: farend calc wifi-channel key=value...", "    channel ",
                                 "must be given", "    results          centre_mhz",
                                 "farend calc wifi-channel band=5 channel=36", NULL});
    check_words((const char *[]){"calc", "--list", "wifi-channel", NULL},
                (const char *[]){"    source           IEEE 802.11-2016", NULL});
}

static void manual_and_completion__know_every_option(void **state)
{
    (void)state;
    check_words((const char *[]){"--help", NULL},
                (const char *[]){"calc", "--version", "--man", "--completion", NULL});
    check_words((const char *[]){"--man", NULL},
                (const char *[]){".TH FAREND 1", "farend calc", "\\-\\-cases", "\\-\\-list",
                                 "\\-\\-json", "free\\-space distance=150m", NULL});
    check_words((const char *[]){"--completion", "bash", NULL},
                (const char *[]){"complete -F _farend farend", "--cases", "--list", NULL});
    check_words((const char *[]){"--completion", "zsh", NULL},
                (const char *[]){"#compdef farend", "--cases=", "--list[", NULL});
    check_words((const char *[]){"--completion", "fish", NULL},
                (const char *[]){"complete -c farend", "-l cases -r -F", "-l list", NULL});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(program__says_what_was_wrong),
        cmocka_unit_test(calc__prints_results_or_every_mistake),
        cmocka_unit_test(cases__run_whole_or_not_at_all),
        cmocka_unit_test(output_that_cannot_be_written__ends_with_1),
        cmocka_unit_test(every_result__is_declared_in_the_table),
        cmocka_unit_test(help_of_a_formula__has_its_arguments_and_example),
        cmocka_unit_test(manual_and_completion__know_every_option),
        cmocka_unit_test(every_formula__has_an_example_that_runs),
    };
    return FE_RUN_TESTS(tests);
}
