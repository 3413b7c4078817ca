/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend calc` and the program around it, as kept transcripts with exit codes. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "run.h"
#include "testing.h"

typedef struct transcript {
    const char *line;
    int exit_code;
    const char *out; /* exact */
    const char *err; /* exact */
} transcript;

static void check_transcript(const transcript *wanted)
{
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run_line(FAREND_SOURCE_DIR, wanted->line, &out, &err, &code);
    if (code != wanted->exit_code || strcmp(out, wanted->out) != 0 ||
        strcmp(err, wanted->err) != 0)
        fail_msg("%s\nexit %d, wanted %d\nstdout:\n%s\nwanted:\n%s\nstderr:\n%s\nwanted:\n%s",
                 wanted->line, code, wanted->exit_code, out, wanted->out, err, wanted->err);
    free(out);
    free(err);
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
        cmocka_unit_test(manual_and_completion__know_every_option),
        cmocka_unit_test(every_formula__has_an_example_that_runs),
    };
    return FE_RUN_TESTS(tests);
}
