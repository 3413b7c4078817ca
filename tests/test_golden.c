/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The examples' recommendations against the notes of tests/golden, in which each was argued
 * through by hand. A note has what it concludes at its head, a line each:
 *
 *   data: NAME               power: NAME              what to build
 *   data verdict: WORD       power verdict: WORD
 *   data close: NAME         power close: NAME        or "none"
 *   data turns: INPUT        power turns: INPUT       first to break it, or "nothing"
 *   data eases: INPUT        power eases: INPUT       first to make an easier way do
 *   way NAME: VERDICT, LIMIT, NUMBER                  margin in dB, or % of a limit
 *
 * And every number of all examples' reports against what it was (support/kept.h).
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/outlook.h"
#include "farend/textfile.h"
#include "kept.h"
#include "testing.h"

enum { LINE_ROOM = 300 };

/* What follows "KEY: " at the start of a line. */
static void conclusion(const char *note, const char *key, char room[LINE_ROOM])
{
    char wanted[60];
    snprintf(wanted, sizeof wanted, "\n%s: ", key);
    const char *at = strstr(note, wanted);
    if (!at)
        fail_msg("the note has no line %s", key);
    at += strlen(wanted);
    snprintf(room, LINE_ROOM, "%.*s", (int)strcspn(at, "\n"), at);
}

static void check_conclusion(const char *note, const char *what, const char *key,
                             const char *got)
{
    char line[40];
    char wanted[LINE_ROOM];
    snprintf(line, sizeof line, "%s%s%s", what, *key ? " " : "", key);
    conclusion(note, line, wanted);
    if (strcmp(wanted, got) != 0)
        fail_msg("%s: the note has \"%s\", the program \"%s\"", line, wanted, got);
}

static const char *name_of(const fe_result *result, int way)
{
    return way < 0 ? "none" : result->ways[way].name;
}

static const char *input_of(const fe_sensitivity *found, const fe_turn *turn,
                            char room[LINE_ROOM])
{
    snprintf(room, LINE_ROOM, "nothing");
    if (turn->found)
        snprintf(room, LINE_ROOM, "[%s] %s", found->trials[turn->trial].input.title,
                 found->trials[turn->trial].input.key);
    return room;
}

static void check_choice(const fe_result *result, const char *note, size_t choice, int rival,
                         const char *what)
{
    const fe_sensitivity *found = &result->outlook->sensitivity;
    const fe_overturn *overturn = &found->overturns[choice];
    const int way = fe_result_choice(result, choice);
    char room[LINE_ROOM];
    assert_true(way >= 0);
    check_conclusion(note, what, "", name_of(result, way));
    check_conclusion(note, what, "verdict", fe_verdict_name(result->ways[way].verdict));
    check_conclusion(note, what, "close", name_of(result, rival));
    check_conclusion(note, what, "turns", input_of(found, &overturn->breaks, room));
    check_conclusion(note, what, "eases", input_of(found, &overturn->eases, room));
}

/* The way whose line this is; null: none of that name. */
static const fe_way *way_of_line(const fe_result *result, const char *line, const char **rest)
{
    for (size_t i = 0; i < result->way_count; i++) {
        const size_t length = strlen(result->ways[i].name);
        if (strncmp(line, result->ways[i].name, length) == 0 && line[length] == ':') {
            *rest = line + length + 2;
            return &result->ways[i];
        }
    }
    return NULL;
}

/* Verdict and limit to the word, the number as it is rounded. */
static void check_way(const fe_result *result, const char *line)
{
    const char *rest = NULL;
    const fe_way *way = way_of_line(result, line, &rest);
    char got[LINE_ROOM];
    if (!way)
        fail_msg("no way for the line \"%s\"", line);
    if (isnan(way->margin_db))
        snprintf(got, sizeof got, "%s, %s, %.0f %%", fe_verdict_name(way->verdict), way->limit,
                 100.0 * way->used);
    else
        snprintf(got, sizeof got, "%s, %s, %.0f dB", fe_verdict_name(way->verdict), way->limit,
                 way->margin_db);
    if (strcmp(rest, got) != 0)
        fail_msg("the note has \"%s\", the program \"%s\"", line, got);
}

static void check_ways(const fe_result *result, const char *note)
{
    size_t count = 0;
    for (const char *at = note; (at = strstr(at, "\nway ")); at++, count++) {
        char line[LINE_ROOM];
        const char *from = at + strlen("\nway ");
        snprintf(line, sizeof line, "%.*s", (int)strcspn(from, "\n"), from);
        check_way(result, line);
    }
    assert_true(count >= 5);
}

typedef struct example {
    fe_plan plan;
    fe_result result;
} example;

static void decide_example(const char *name, example *got)
{
    const fe_plan_places places = {NULL, getenv("FAREND_PROFILES")};
    char file[1000];
    fe_messages messages = {0};
    snprintf(file, sizeof file, "%s/examples/%s.ini", FAREND_SOURCE_DIR, name);
    assert_int_equal(fe_plan_read(file, &places, &got->plan, &messages), FE_OK);
    fe_messages_free(&messages);
    assert_true(fe_decide(&got->plan, &got->result) >= 0);
    assert_int_equal(fe_outlook_add(&got->result), FE_OK);
}

static void example_free(example *got)
{
    fe_result_free(&got->result);
    fe_plan_free(&got->plan);
}

static void check_note(const fe_result *result, const char *name)
{
    char file[1000];
    char *note = NULL;
    size_t length = 0;
    snprintf(file, sizeof file, "%s/tests/golden/%s.md", FAREND_SOURCE_DIR, name);
    assert_int_equal(fe_textfile_read(file, &note, &length), FE_OK);
    check_choice(result, note, 0, result->picks[0].rival, "data");
    check_choice(result, note, result->pick_count, result->picks[0].power_rival, "power");
    check_ways(result, note);
    free(note);
}

static void check_kept(const fe_result *result, const char *name)
{
    kept *numbers = kept_open(name);
    kept_report(numbers, result);
    kept_close(numbers);
}

static void keeps(const char *name, bool has_note)
{
    example got;
    decide_example(name, &got);
    if (has_note)
        check_note(&got.result, name);
    check_kept(&got.result, name);
    example_free(&got);
}

static void lambing_shed__agrees_with_its_note(void **state)
{
    (void)state;
    keeps("lambing-shed", true);
}

static void boathouse__agrees_with_its_note(void **state)
{
    (void)state;
    keeps("boathouse", true);
}

static void sugar_house__agrees_with_its_note(void **state)
{
    (void)state;
    keeps("sugar-house", true);
}

static void byre__answers_what_it_did(void **state)
{
    (void)state;
    keeps("byre", false);
}

static void potting_shed__answers_what_it_did(void **state)
{
    (void)state;
    keeps("potting-shed", false);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lambing_shed__agrees_with_its_note),
        cmocka_unit_test(boathouse__agrees_with_its_note),
        cmocka_unit_test(sugar_house__agrees_with_its_note),
        cmocka_unit_test(byre__answers_what_it_did),
        cmocka_unit_test(potting_shed__answers_what_it_did),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
