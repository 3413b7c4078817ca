/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every formula of `farend calc` at some hundred places around its example, all arguments moved
 * at once, most a little and some far out of the range: what it answers is what it answered
 * when tests/golden/formulas.csv was written. A formula that is added wants its lines there.
 */
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "calc_example.h"
#include "kept.h"

enum { TEXT_ROOM = 2000, PLACES = 240 };

/* Words to try where the row names none. */
static const struct {
    const char *argument;
    const char *words;
} OPEN_WORDS[] = {
    {"application", "10BASE-T|100BASE-TX|1000BASE-T|2.5GBASE-T|10GBASE-T|1000BASE-LX10|"
                    "1000BASE-SX|10GBASE-SR|10GBASE-LR"},
    {"material", "concrete|brick|wood|glass|plasterboard|metal|chipboard|marble"},
    {"kind", "brick|cavity-brick|concrete|stone|timber|log|plywood|plasterboard-stud|"
             "insulated-timber|foil-insulated-timber|glass"},
    {"class", "1.4mm-pigtail|2.8mm|5mm|5mm-low-loss|10mm|10mm-low-loss|15mm-low-loss"},
    {"mcs", "MCS0|MCS1|MCS4|MCS7|MCS9|MCS11"},
    {"wood", "C14|C16|C24|C30|C40"},
    {"anchor", "6000 lb|8000 lb|10000 lb|12000 lb"},
};

/* From 0 to 1: the place-th of a row that fills the range evenly and in no step with those of
 * other arguments (additive recurrence, the square root of a prime as its step). */
static double evenly(size_t place, size_t argument)
{
    static const double PRIMES[CALC_MAX_ARGUMENTS] = {2,  3,  5,  7,  11, 13, 17, 19,
                                                      23, 29, 31, 37, 41, 43, 47, 53};
    double whole;
    return modf((double)place * sqrt(PRIMES[argument]), &whole);
}

/* What a value is multiplied by: 1 at the first place, then mostly near it, from 1/55 to 55. */
static double factor_at(size_t place, size_t argument)
{
    const double side = 2.0 * evenly(place, argument) - 1.0;
    return place == 0 ? 1.0 : exp(4.0 * side * side * side);
}

static void give_word(calc_call *call, const calc_call *base, const calc_argument *argument,
                      size_t place, size_t at)
{
    char text[TEXT_ROOM];
    const char *words = argument->choices;
    for (size_t i = 0; !words && i < sizeof OPEN_WORDS / sizeof OPEN_WORDS[0]; i++)
        if (strcmp(argument->name, OPEN_WORDS[i].argument) == 0)
            words = OPEN_WORDS[i].words;
    if (!words)
        words = calc_word(base, argument->name);
    size_t count = 1;
    for (const char *bar = words; (bar = strchr(bar, '|')); bar++)
        count++;
    size_t skip = (size_t)(evenly(place, at) * (double)count);
    for (; skip > 0; skip--)
        words = strchr(words, '|') + 1;
    snprintf(text, sizeof text, "%.*s", (int)strcspn(words, "|"), words);
    calc_give(call, argument->name, text, NULL);
}

/* A value of the example, moved; `base` is the call of the example itself. */
static void give_moved(calc_call *call, const calc_call *base, const calc_argument *argument,
                       size_t place, size_t at)
{
    const double factor = factor_at(place, at);
    const bool whole = argument->dimension == FE_DIM_COUNT;
    const bool has_unit = fe_dimension_has_unit(argument->dimension);
    double one = 0.0;
    const double *values = &one;
    size_t count = 1, length = 0;
    char text[TEXT_ROOM];
    if (argument->kind == CALC_LIST)
        count = calc_list(base, argument->name, &values);
    else
        one = calc_number(base, argument->name);
    if (count == 0 || isnan(values[0]))
        return;
    for (size_t i = 0; i < count; i++) {
        const double moved = whole ? round(values[i] * factor) : values[i] * factor;
        length +=
            (size_t)snprintf(text + length, sizeof text - length, "%s%.17g%s", i ? "," : "",
                             moved, has_unit ? fe_dimension_unit(argument->dimension) : "");
    }
    calc_give(call, argument->name, text, NULL);
}

static calc_call *example_of(const calc_formula *formula, const char *who)
{
    calc_call *call = calc_start(formula, who);
    assert_non_null(call);
    give_example(call, formula, NULL);
    calc_complete(call);
    assert_true(calc_run(call) >= 0);
    return call;
}

static void keep_answers(kept *numbers, const calc_formula *formula, const calc_call *call,
                         fe_status status)
{
    char quantity[100];
    snprintf(quantity, sizeof quantity, "%s: status", formula->name);
    kept_number(numbers, quantity, status);
    for (size_t i = 0; i < calc_answers(call); i++) {
        const calc_answer *answer = calc_answer_at(call, i);
        snprintf(quantity, sizeof quantity, "%s: %s", formula->name, answer->name);
        if (answer->word)
            kept_word(numbers, quantity, answer->word);
        else
            kept_number(numbers, quantity, answer->value);
    }
}

/* The example, then places around it; how many of all gave an answer. */
static size_t sweep(kept *numbers, const calc_formula *formula)
{
    calc_call *base = example_of(formula, formula->name);
    size_t answered = 0;
    for (size_t place = 0; place < PLACES; place++) {
        calc_call *call = calc_start(formula, formula->name);
        assert_non_null(call);
        for (size_t at = 0; at < CALC_MAX_ARGUMENTS && formula->arguments[at].name; at++) {
            const calc_argument *argument = &formula->arguments[at];
            if (argument->kind == CALC_WORD)
                give_word(call, base, argument, place, at);
            else
                give_moved(call, base, argument, place, at);
        }
        calc_complete(call);
        const fe_status status = calc_run(call);
        assert_int_not_equal(status, FE_E_MEMORY);
        answered += status >= 0;
        keep_answers(numbers, formula, call, status);
        calc_free(call);
    }
    calc_free(base);
    return answered;
}

static void formulas__answer_what_they_did(void **state)
{
    (void)state;
    kept *numbers = kept_open("formulas");
    size_t swept = 0;
    /* Out of a range each call says so. */
    fflush(stderr);
    const int usual = dup(2), nowhere = open("/dev/null", O_WRONLY);
    assert_true(usual >= 0 && nowhere >= 0 && dup2(nowhere, 2) == 2);
    close(nowhere);
    for (size_t t = 0; CALC_TABLES[t]; t++)
        for (const calc_formula *formula = CALC_TABLES[t]; formula->name; formula++)
            swept += sweep(numbers, formula) >= PLACES / 10;
    fflush(stderr);
    assert_int_equal(dup2(usual, 2), 2);
    close(usual);
    printf("%zu formulas answered at a tenth of the places and more\n", swept);
    kept_close(numbers);
}

static int go_to_source(void **state)
{
    (void)state;
    return chdir(FAREND_SOURCE_DIR);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(formulas__answer_what_they_did),
    };
    fe_init();
    return cmocka_run_group_tests(tests, go_to_source, NULL);
}
