/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Commands while memory fails: every allocation in turn, and every call below that returns a
 * status, ends with a message and nothing printed, or has cost nothing (see failing.h).
 */
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/command.h"
#include "failing.h"
#include "farend/quantity.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

/* ---- A command as a stage ---- */

typedef struct call {
    const command *row;
    const char *words;
    bool rests_on_calls;
    bool draws; /* what fails about gnuplot costs the figure alone, told in its own words */
} call;

static const call *called;

/* A stream of this process, which a file stands in for. */
typedef struct caught {
    FILE *stream;
    FILE *file;
    int held;
} caught;

static void catch_stream(caught *one)
{
    fflush(one->stream);
    rewind(one->file);
    assert_int_equal(ftruncate(fileno(one->file), 0), 0);
    one->held = dup(fileno(one->stream));
    assert_true(one->held >= 0);
    assert_true(dup2(fileno(one->file), fileno(one->stream)) >= 0);
}

static void release_stream(caught *one)
{
    fflush(one->stream);
    assert_true(dup2(one->held, fileno(one->stream)) >= 0);
    close(one->held);
}

/* What came, cut where there is no more room. */
static const char *text_of(caught *one, char *text, size_t room)
{
    rewind(one->file);
    text[fread(text, 1, room - 1, one->file)] = 0;
    return text;
}

static caught out_stream, err_stream;
enum { ROOM = 1 << 20 };
static char printed[ROOM];
static char whole[ROOM]; /* where nothing failed */

static int run_called(void)
{
    enum { MOST_WORDS = 40 };
    char line[500], *words[MOST_WORDS + 1];
    options *given = NULL;
    snprintf(line, sizeof line, "%s", called->words);
    const size_t count = fe_testing_words(line, words, MOST_WORDS);
    if (options_parse("farend", called->row->options, (int)count, words, &given) != 0) {
        if (!given)
            fprintf(stderr, "%s\n", fe_status_text(FE_E_MEMORY));
        options_free(given);
        return EXIT_WORK_FAILED;
    }
    const int code = called->row->run(given);
    options_free(given);
    return code;
}

/* The status that the exit code and the message tell of. */
static fe_status run_stage(fe_strbuf *out)
{
    char said[2000];
    catch_stream(&out_stream);
    catch_stream(&err_stream);
    const int code = run_called();
    release_stream(&err_stream);
    release_stream(&out_stream);
    text_of(&out_stream, printed, sizeof printed);
    text_of(&err_stream, said, sizeof said);
    if (code == EXIT_DONE) {
        strcpy(whole, printed);
        fe_strbuf_append(out, printed);
        return FE_OK;
    }
    /* Numbers are printed in spite of a figure that failed. */
    if ((*printed && strcmp(printed, whole) != 0) || !*said)
        fail_msg("%s: exit %d, said \"%s\" and printed:\n%.300s", called->words, code, said,
                 printed);
    if (strstr(said, fe_status_text(FE_E_MEMORY)))
        return FE_E_MEMORY;
    return code == EXIT_BAD_INPUT ? FE_E_INPUT : FE_E_IO;
}

#define PLAN_NAME "test_memory_commands.ini"
#define NEW_NAME "test_memory_commands_new.ini"
#define FIGURES "test_memory_commands_figures"

/*
 * Quick ones: each is run some hundred times. Calls below fail only where an answer rests on
 * all of them: a search takes what a formula refuses for what does not do, and a check of
 * plausibility for what is not stated.
 */
static call CALLS[] = {
    {&COMMAND_CALC, "free-space distance=150m frequency=2437MHz", true, false},
    {&COMMAND_CALC, "free-space distance=150m frequency=2437MHz --json", true, false},
    {&COMMAND_CALC, "--list --json", false, false},
    {&COMMAND_CLAIM, "--from 5.2GHz --to 2.4GHz --range-factor 4", true, false},
    {&COMMAND_CLAIM, "--from 5.2GHz --to 2.4GHz --range-factor 4 --json", true, false},
    {&COMMAND_CLAIM, "--distance 50m --frequency 5.5GHz --json", true, false},
    {&COMMAND_CLAIM, "--from 5.2GHz --to 2.4GHz --range-factor 4 --json --figures " FIGURES,
     true, true},
    {&COMMAND_COPPER, "--length 80m --category 6 --rate 1Gb/s --poe-class 3", true, false},
    {&COMMAND_COPPER, "--length 80m --category 6 --rate 1Gb/s --poe-class 3 --json", true,
     false},
    {&COMMAND_COPPER, PLAN_NAME, true, false},
    {&COMMAND_POWER, "--length 100m --load 60W --voltage 12V --voltage 230V --drop 5%", true,
     false},
    {&COMMAND_POWER, "--length 100m --load 60W --voltage 48V --json", true, false},
    {&COMMAND_POWER, PLAN_NAME, false, false},
    {&COMMAND_RADIO, PLAN_NAME " --json", false, false},
    {&COMMAND_ACCEPT, "--distance 165m --band 5GHz --gear directional-panel --level -61dBm",
     true, false},
    {&COMMAND_ACCEPT, PLAN_NAME " --band 2.4GHz --level -61dBm --json", true, false},
    {&COMMAND_POSTS, "--distance 20m --post-length 4m --step 5m --no-stays", false, false},
    {&COMMAND_POSTS,
     "--distance 20m --post-length 4m --step 10m --json "
     "--messenger \"3/16 extra high strength\"",
     false, false},
    {&COMMAND_TERRAIN, "--survey " FAREND_SOURCE_DIR "/examples/track-by-level.csv", true,
     false},
    {&COMMAND_TERRAIN, "--survey " FAREND_SOURCE_DIR "/examples/track-by-level.csv --json",
     true, false},
    {&COMMAND_NEW, NEW_NAME " --force --distance 40m", false, false},
};

/* Of each of the above. */
static void command__survives_every_failure(void **state)
{
    called = *state;
    assert_true(fe_testing_fail_each(called->words, run_stage) > 3);
}

static void command__passes_on_what_fails_below(void **state)
{
    called = *state;
    fe_testing_fail_each_call(called->words, run_stage);
}

/* ---- The group ---- */

static const char PLAN[] =
    "[site]\nregion = UK\nbands = 2.4 GHz\n"
    "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
    "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
    "[path way]\ndistance = 40 m\n"
    "[season winter]\nsnow = 0.5 m\ncoldest = -20 degC\nhottest = 5 degC\n"
    "[load lamp]\npower = 20 W\n";

static int open_streams(void **state)
{
    (void)state;
    json_set_alloc_funcs(__wrap_malloc, __wrap_free);
    out_stream = (caught){stdout, tmpfile(), -1};
    err_stream = (caught){stderr, tmpfile(), -1};
    return out_stream.file && err_stream.file &&
                   fe_textfile_write(PLAN_NAME, PLAN, strlen(PLAN)) == FE_OK
               ? 0
               : -1;
}

static int close_streams(void **state)
{
    (void)state;
    fclose(out_stream.file);
    fclose(err_stream.file);
    fe_quantity_shutdown();
    remove(PLAN_NAME);
    remove(NEW_NAME);
    remove(FIGURES "/claim.svg");
    remove(FIGURES);
    return 0;
}

int main(void)
{
    enum { COUNT = sizeof CALLS / sizeof CALLS[0] };
    struct CMUnitTest tests[COUNT], below[COUNT];
    size_t test_count = 0, below_count = 0;
    for (size_t i = 0; i < COUNT; i++) {
        if (!CALLS[i].draws)
            tests[test_count++] = (struct CMUnitTest)cmocka_unit_test_prestate(
                command__survives_every_failure, &CALLS[i]);
        if (CALLS[i].rests_on_calls)
            below[below_count++] = (struct CMUnitTest)cmocka_unit_test_prestate(
                command__passes_on_what_fails_below, &CALLS[i]);
    }
    fe_init();
    const int failed =
        _cmocka_run_group_tests("failures", tests, test_count, open_streams, close_streams);
    return failed +
           _cmocka_run_group_tests("below", below, below_count, open_streams, close_streams);
}
