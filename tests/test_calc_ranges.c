/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every formula of `farend calc` with each argument of its example in turn nothing, negative,
 * tiny, huge, or another of its words: it answers with numbers that end, or says in one line
 * why it does not. A formula that is added is held to it too.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "calc_example.h"

enum { TEXT_ROOM = 2000 };

/* One argument of the example, and what stands in its place. */
typedef struct change {
    const calc_argument *argument;
    const char *text;
} change;

typedef struct outcome {
    fe_status status;
    char messages[TEXT_ROOM];
    size_t answers;
    bool endless; /* an answer without end */
} outcome;

static int stderr_usual = -1;
static FILE *stderr_held;

static int hold_stderr(void **state)
{
    (void)state;
    stderr_held = tmpfile();
    stderr_usual = dup(2);
    return stderr_held && stderr_usual >= 0 && chdir(FAREND_SOURCE_DIR) == 0 ? 0 : -1;
}

static int drop_stderr(void **state)
{
    (void)state;
    close(stderr_usual);
    return fclose(stderr_held);
}

/* The example's own pairs but that of the change, then the change. */
static void give_all(calc_call *call, const calc_formula *formula, const change *one)
{
    give_example(call, formula, one->argument->name);
    const fe_dimension dimension = one->argument->dimension;
    const bool has_unit = one->argument->kind != CALC_WORD && fe_dimension_has_unit(dimension);
    calc_give(call, one->argument->name, one->text,
              has_unit ? fe_dimension_unit(dimension) : NULL);
}

static void read_answers(const calc_call *call, outcome *found)
{
    found->answers = calc_answers(call);
    for (size_t i = 0; i < found->answers; i++) {
        const calc_answer *answer = calc_answer_at(call, i);
        found->endless = found->endless || (!answer->word && isinf(answer->value));
    }
}

static outcome run_changed(const calc_formula *formula, const char *who, const change *one)
{
    outcome found = {.status = FE_E_MEMORY};
    fflush(stderr);
    rewind(stderr_held);
    assert_int_equal(ftruncate(fileno(stderr_held), 0), 0);
    assert_int_equal(dup2(fileno(stderr_held), 2), 2);
    calc_call *call = calc_start(formula, who);
    if (call) {
        give_all(call, formula, one);
        calc_complete(call);
        found.status = calc_run(call);
        read_answers(call, &found);
    }
    fflush(stderr);
    assert_int_equal(dup2(stderr_usual, 2), 2);
    rewind(stderr_held);
    found.messages[fread(found.messages, 1, TEXT_ROOM - 1, stderr_held)] = 0;
    calc_free(call);
    return found;
}

static bool is_right(const outcome *found, const char *who)
{
    const char *end = strchr(found->messages, '\n');
    const bool one_line = strncmp(found->messages, who, strlen(who)) == 0 && end && !end[1];
    if (found->status < 0)
        return found->status != FE_E_MEMORY && one_line;
    return found->answers > 0 && !found->endless &&
           (one_line || (found->status == FE_OK && !*found->messages));
}

static size_t check_change(const calc_formula *formula, const change *one)
{
    char who[80];
    snprintf(who, sizeof who, "farend calc %s", formula->name);
    const outcome found = run_changed(formula, who, one);
    if (is_right(&found, who))
        return 0;
    print_error("%s %s=%s: %s, %zu answers%s, said:\n%s\n", who, one->argument->name, one->text,
                fe_status_text(found.status), found.answers,
                found.endless ? ", one without end" : "", found.messages);
    return 1;
}

static size_t check_words(const calc_formula *formula, const calc_argument *argument)
{
    char words[TEXT_ROOM];
    char *rest = NULL;
    size_t wrong = check_change(formula, &(change){argument, "zzzz"});
    snprintf(words, sizeof words, "%s", argument->choices ? argument->choices : "");
    for (char *word = strtok_r(words, "|", &rest); word; word = strtok_r(NULL, "|", &rest))
        wrong += check_change(formula, &(change){argument, word});
    return wrong;
}

static size_t check_quantities(const calc_formula *formula, const calc_argument *argument)
{
    static const char *const TEXTS[] = {"0", "-1", "1e-9", "1", "1e12"};
    size_t wrong = 0;
    for (size_t i = 0; i < sizeof TEXTS / sizeof TEXTS[0]; i++)
        wrong += check_change(formula, &(change){argument, TEXTS[i]});
    return wrong;
}

static void formulas__answer_or_say_why_not(void **state)
{
    (void)state;
    size_t wrong = 0, formulas = 0;
    for (size_t t = 0; CALC_TABLES[t]; t++)
        for (const calc_formula *formula = CALC_TABLES[t]; formula->name; formula++, formulas++)
            for (int i = 0; i < CALC_MAX_ARGUMENTS && formula->arguments[i].name; i++) {
                const calc_argument *argument = &formula->arguments[i];
                wrong += argument->kind == CALC_WORD ? check_words(formula, argument)
                                                     : check_quantities(formula, argument);
            }
    assert_true(formulas > 40);
    assert_int_equal(wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(formulas__answer_or_say_why_not),
    };
    fe_init();
    return cmocka_run_group_tests(tests, hold_stderr, drop_stderr);
}
