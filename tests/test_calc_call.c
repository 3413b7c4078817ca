/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One call of a formula, with a formula made for the purpose. */
#include "app/calc_call.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "testing.h"

/* Sum of lengths times a factor; every kind of argument and of ending. */
static fe_status run_sum(calc_call *call)
{
    const double *lengths = NULL;
    const size_t count = calc_list(call, "lengths", &lengths);
    const char *mood = calc_word(call, "mood");
    double sum_m = 0.0;
    for (size_t i = 0; i < count; i++)
        sum_m += lengths[i];
    if (strcmp(mood, "unsolvable") == 0) {
        calc_explain(call, "the sum of %zu lengths never rests", count);
        return FE_E_NO_SOLUTION;
    }
    if (strcmp(mood, "silent") == 0)
        return FE_E_DOMAIN;
    if (strcmp(mood, "lost") == 0) {
        calc_explain(call, "every length must be above 0");
        return FE_E_CONVERGE;
    }
    calc_result(call, "sum_m", sum_m * calc_number(call, "factor"), "m");
    calc_result(call, "count", (double)count, "");
    calc_result(call, "spare_m", calc_number(call, "spare"), "m");
    calc_result_word(call, "mood", mood);
    return strcmp(mood, "wild") == 0 ? FE_W_RANGE : FE_OK;
}

static const calc_formula SUM = {
    .name = "sum",
    .summary = "sum of lengths",
    .source = "common practice, no source",
    .arguments =
        {
            {.name = "lengths", .kind = CALC_LIST, .dimension = FE_DIM_LENGTH, .range = "> 0"},
            {.name = "factor", .dimension = FE_DIM_NUMBER, .fallback = "2", .range = "1 to 9"},
            {.name = "spare", .dimension = FE_DIM_LENGTH, .fallback = ""},
            {.name = "mood",
             .kind = CALC_WORD,
             .choices = "calm|wild|unsolvable|silent|lost",
             .fallback = "calm"},
        },
    .results = "sum_m count spare_m mood",
    .example = "lengths=1m,2m",
    .run = run_sum,
};

enum { TEXT_ROOM = 2000 };

typedef struct pair {
    const char *name;
    const char *text;
    const char *unit;
} pair;

/* Runs the formula with pairs up to a null name; stderr comes back in `messages`. */
static calc_call *run_pairs(const pair *pairs, fe_status *status, char messages[TEXT_ROOM])
{
    FILE *held = tmpfile();
    assert_non_null(held);
    fflush(stderr);
    const int usual = dup(2);
    assert_true(usual >= 0 && dup2(fileno(held), 2) == 2);
    calc_call *call = calc_start(&SUM, "farend calc sum");
    for (; call && pairs->name; pairs++)
        calc_give(call, pairs->name, pairs->text, pairs->unit);
    if (call) {
        calc_complete(call);
        *status = calc_run(call);
    }
    fflush(stderr);
    assert_true(dup2(usual, 2) == 2);
    close(usual);
    rewind(held);
    messages[fread(messages, 1, TEXT_ROOM - 1, held)] = 0;
    fclose(held);
    assert_non_null(call);
    return call;
}

#define PAIRS(...) ((const pair[]){__VA_ARGS__, {0}})

static double answer(const calc_call *call, const char *name)
{
    const calc_answer *found = calc_answer_named(call, name, strlen(name));
    assert_non_null(found);
    return found->value;
}

static void call__takes_defaults_and_leaves_out_the_optional(void **state)
{
    (void)state;
    fe_status status = FE_E_IO;
    char messages[TEXT_ROOM];
    calc_call *call = run_pairs(PAIRS({"lengths", "1m,250 cm", NULL}), &status, messages);
    assert_int_equal(status, FE_OK);
    assert_string_equal(messages, "");
    assert_close(answer(call, "sum_m"), 7.0, 1e-12);
    assert_close(answer(call, "count"), 2.0, 0.0);
    assert_true(isnan(answer(call, "spare_m")));
    assert_string_equal(calc_answer_named(call, "mood", 4)->word, "calm");
    assert_null(calc_answer_named(call, "summ", 4));
    assert_int_equal(calc_answers(call), 4);
    calc_free(call);
}

static void unit_of_a_header__serves_bare_numbers_only(void **state)
{
    (void)state;
    fe_status status = FE_E_IO;
    char messages[TEXT_ROOM];
    calc_call *call = run_pairs(PAIRS({"lengths", "1,2,3 m", "cm"}), &status, messages);
    assert_int_equal(status, FE_OK);
    assert_close(answer(call, "sum_m"), 6.06, 1e-12);
    calc_free(call);
}

static void call__reports_every_mistake_at_once(void **state)
{
    (void)state;
    fe_status status = FE_OK;
    char messages[TEXT_ROOM];
    calc_call *call =
        run_pairs(PAIRS({"factr", "3", NULL}, {"spare", "4", NULL}, {"spare", "5m", NULL},
                        {"mood", "wldi", NULL}, {"factor", "nan", NULL}),
                  &status, messages);
    assert_int_equal(status, FE_E_INPUT);
    assert_string_equal(
        messages, "farend calc sum: factr: no argument of this name; did you mean factor?\n"
                  "farend calc sum: spare=4: a length with its unit, for example spare=4m\n"
                  "farend calc sum: spare=5m: spare is given twice\n"
                  "farend calc sum: mood=wldi: one of calm|wild|unsolvable|silent|lost; did "
                  "you mean wild?\n"
                  "farend calc sum: factor=nan: a number, for example factor=1.5\n"
                  "farend calc sum: lengths is missing: a length with its unit, for example "
                  "lengths=3m\n");
    assert_int_equal(calc_answers(call), 0);
    calc_free(call);
}

static void warning__names_the_ranges(void **state)
{
    (void)state;
    fe_status status = FE_OK;
    char messages[TEXT_ROOM];
    calc_call *call =
        run_pairs(PAIRS({"lengths", "1m", NULL}, {"mood", "wild", NULL}), &status, messages);
    assert_int_equal(status, FE_W_RANGE);
    assert_string_equal(messages,
                        "farend calc sum: warning: outside the range the formula was stated "
                        "for: lengths > 0; factor 1 to 9\n");
    assert_close(answer(call, "sum_m"), 2.0, 0.0);
    calc_free(call);
}

static void failure__is_said_in_the_formulas_words(void **state)
{
    (void)state;
    fe_status status = FE_OK;
    char messages[TEXT_ROOM];
    calc_call *call = run_pairs(PAIRS({"lengths", "1m", NULL}, {"mood", "unsolvable", NULL}),
                                &status, messages);
    assert_int_equal(status, FE_E_NO_SOLUTION);
    assert_string_equal(messages, "farend calc sum: the problem as posed has no solution: the "
                                  "sum of 1 lengths never rests\n");
    calc_free(call);
    call =
        run_pairs(PAIRS({"lengths", "1m", NULL}, {"mood", "silent", NULL}), &status, messages);
    assert_int_equal(status, FE_E_DOMAIN);
    assert_string_equal(messages,
                        "farend calc sum: an argument is outside what the formula accepts\n");
    calc_free(call);
    /* What the formula says of its arguments explains no solver that gave up. */
    call = run_pairs(PAIRS({"lengths", "1m", NULL}, {"mood", "lost", NULL}), &status, messages);
    assert_int_equal(status, FE_E_CONVERGE);
    assert_non_null(strstr(messages, fe_status_text(FE_E_CONVERGE)));
    assert_null(strstr(messages, "every length"));
    calc_free(call);
}

static void long_lists__are_refused(void **state)
{
    (void)state;
    fe_status status = FE_OK;
    char messages[TEXT_ROOM], list[3 * CALC_MAX_LIST + 8] = "";
    for (int i = 0; i <= CALC_MAX_LIST; i++)
        memcpy(list + 3 * i, "1m,", 4);
    calc_call *call = run_pairs(PAIRS({"lengths", list, NULL}), &status, messages);
    assert_int_equal(status, FE_E_INPUT);
    assert_string_equal(messages, "farend calc sum: lengths: more than 256 values\n");
    calc_free(call);
}

static void value__is_printed_with_six_digits_or_whole(void **state)
{
    (void)state;
    static const struct {
        double value;
        const char *text;
    } CASES[] = {
        {83.70672, "83.7067"},
        {0.5001042, "0.500104"},
        {2943.6781, "2943.68"},
        {3.0, "3"},
        {-0.0, "0"},
        {1234567.8, "1234568"},
        {1.15e-5, "1.15e-05"},
        {2.437e9, "2437000000"},
        {1e20, "1e+20"},
    };
    char text[64];
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++)
        assert_string_equal(calc_print_value(CASES[i].value, text, sizeof text), CASES[i].text);
    assert_string_equal(calc_print_value(NAN, text, sizeof text), "none");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(call__takes_defaults_and_leaves_out_the_optional),
        cmocka_unit_test(unit_of_a_header__serves_bare_numbers_only),
        cmocka_unit_test(call__reports_every_mistake_at_once),
        cmocka_unit_test(warning__names_the_ranges),
        cmocka_unit_test(failure__is_said_in_the_formulas_words),
        cmocka_unit_test(long_lists__are_refused),
        cmocka_unit_test(value__is_printed_with_six_digits_or_whole),
    };
    return FE_RUN_TESTS(tests);
}
