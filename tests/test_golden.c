/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The examples' recommendations against the notes of tests/golden, in which each was argued
 * through by hand. A note has its conclusions in lines "data: NAME", "data verdict: WORD" and
 * the same for power.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/result.h"
#include "farend/textfile.h"
#include "testing.h"

/* What follows "KEY: " at the start of a line. */
static void conclusion(const char *note, const char *key, char room[200])
{
    char wanted[60];
    snprintf(wanted, sizeof wanted, "\n%s: ", key);
    const char *at = strstr(note, wanted);
    if (!at)
        fail_msg("the note has no line %s", key);
    at += strlen(wanted);
    snprintf(room, 200, "%.*s", (int)strcspn(at, "\n"), at);
}

static void check_choice(const fe_result *result, int index, const char *note, const char *what)
{
    char name[200];
    char verdict[200];
    char key[40];
    conclusion(note, what, name);
    snprintf(key, sizeof key, "%s verdict", what);
    conclusion(note, key, verdict);
    assert_true(index >= 0);
    assert_string_equal(result->ways[index].name, name);
    assert_string_equal(fe_verdict_name(result->ways[index].verdict), verdict);
}

static void agrees(const char *name)
{
    const fe_plan_places places = {NULL, getenv("FAREND_PROFILES")};
    char file[1000];
    fe_messages messages = {0};
    fe_plan plan;
    fe_result result;
    char *note = NULL;
    size_t length = 0;
    snprintf(file, sizeof file, "%s/tests/golden/%s.md", FAREND_SOURCE_DIR, name);
    assert_int_equal(fe_textfile_read(file, &note, &length), FE_OK);
    snprintf(file, sizeof file, "%s/examples/%s.ini", FAREND_SOURCE_DIR, name);
    assert_int_equal(fe_plan_read(file, &places, &plan, &messages), FE_OK);
    fe_messages_free(&messages);
    assert_true(fe_decide(&plan, &result) >= 0);
    check_choice(&result, result.data_way, note, "data");
    check_choice(&result, result.power_way, note, "power");
    fe_result_free(&result);
    fe_plan_free(&plan);
    free(note);
}

static void lambing_shed__agrees_with_its_note(void **state)
{
    (void)state;
    agrees("lambing-shed");
}

static void boathouse__agrees_with_its_note(void **state)
{
    (void)state;
    agrees("boathouse");
}

static void sugar_house__agrees_with_its_note(void **state)
{
    (void)state;
    agrees("sugar-house");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lambing_shed__agrees_with_its_note),
        cmocka_unit_test(boathouse__agrees_with_its_note),
        cmocka_unit_test(sugar_house__agrees_with_its_note),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
