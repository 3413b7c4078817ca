/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/calc_call.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/options.h"
#include "farend/number.h"
#include "farend/suggest.h"

enum { ITEM_ROOM = 160, MESSAGE_ROOM = 400 };

typedef struct calc_input {
    bool given;
    double number;
    double *list;
    size_t count;
    char *word;
} calc_input;

struct calc_call {
    const calc_formula *formula;
    char *who;
    calc_input inputs[CALC_MAX_ARGUMENTS];
    calc_answer answers[CALC_MAX_RESULTS];
    size_t answer_count;
    char explanation[MESSAGE_ROOM];
    int mistakes;
    bool out_of_memory;
};

calc_call *calc_start(const calc_formula *formula, const char *who)
{
    calc_call *call = calloc(1, sizeof *call);
    char *copy = strdup(who);
    if (!call || !copy) {
        free(copy);
        free(call);
        return NULL;
    }
    call->formula = formula;
    call->who = copy;
    for (size_t i = 0; i < CALC_MAX_ARGUMENTS; i++)
        call->inputs[i].number = NAN;
    return call;
}

void calc_free(calc_call *call)
{
    if (!call)
        return;
    for (size_t i = 0; i < CALC_MAX_ARGUMENTS; i++) {
        free(call->inputs[i].list);
        free(call->inputs[i].word);
    }
    free(call->who);
    free(call);
}

static size_t argument_count(const calc_formula *formula)
{
    size_t count = 0;
    while (count < CALC_MAX_ARGUMENTS && formula->arguments[count].name)
        count++;
    return count;
}

const calc_argument *calc_find_argument(const calc_formula *formula, const char *name)
{
    for (size_t i = 0; i < argument_count(formula); i++)
        if (strcmp(formula->arguments[i].name, name) == 0)
            return &formula->arguments[i];
    return NULL;
}

/* ---- What a formula's run function calls ---- */

static const calc_input *input_named(const calc_call *call, const char *name, calc_kind kind)
{
    const calc_argument *argument = calc_find_argument(call->formula, name);
    /* A formula that asks for what its own row does not have is our mistake. */
    assert(argument && argument->kind == kind);
    (void)kind;
    return &call->inputs[argument - call->formula->arguments];
}

double calc_number(const calc_call *call, const char *name)
{
    return input_named(call, name, CALC_QUANTITY)->number;
}

const char *calc_word(const calc_call *call, const char *name)
{
    const char *word = input_named(call, name, CALC_WORD)->word;
    return word ? word : "";
}

bool calc_is_word(const calc_call *call, const char *name, const char *word)
{
    return strcmp(calc_word(call, name), word) == 0;
}

size_t calc_list(const calc_call *call, const char *name, const double **values)
{
    const calc_input *input = input_named(call, name, CALC_LIST);
    *values = input->list;
    return input->count;
}

static void add_answer(calc_call *call, calc_answer answer)
{
    assert(call->answer_count < CALC_MAX_RESULTS);
    if (call->answer_count < CALC_MAX_RESULTS)
        call->answers[call->answer_count++] = answer;
}

void calc_result(calc_call *call, const char *name, double value, const char *unit)
{
    add_answer(call, (calc_answer){.name = name, .value = value, .unit = unit});
}

void calc_result_word(calc_call *call, const char *name, const char *word)
{
    add_answer(call, (calc_answer){.name = name, .value = NAN, .unit = "", .word = word});
}

void calc_explain(calc_call *call, const char *format, ...)
{
    va_list rest;
    va_start(rest, format);
    vsnprintf(call->explanation, sizeof call->explanation, format, rest);
    va_end(rest);
}

void calc_explain_unknown(calc_call *call, const char *argument, const char *is_not,
                          const fe_suggest *search)
{
    const char *best = search->best;
    calc_explain(call, "%s=%.60s: %s%s%s%s", argument, search->text, is_not,
                 best ? "; did you mean " : "", best ? best : "", best ? "?" : "");
}

/* ---- Mistakes ---- */

void calc_complain(calc_call *call, const char *format, ...)
{
    va_list rest;
    va_start(rest, format);
    options_complain_list(call->who, format, rest);
    va_end(rest);
    call->mistakes++;
}

static void complain_unknown(calc_call *call, const char *name)
{
    const size_t count = argument_count(call->formula);
    fe_suggest search = fe_suggest_start(name);
    char known[MESSAGE_ROOM] = "";
    for (size_t i = 0; i < count; i++) {
        const size_t used = strlen(known);
        fe_suggest_offer(&search, call->formula->arguments[i].name);
        snprintf(known + used, sizeof known - used, "%s%s", i ? ", " : "",
                 call->formula->arguments[i].name);
    }
    if (search.best)
        calc_complain(call, "%.60s: no argument of this name; did you mean %s?", name,
                      search.best);
    else
        calc_complain(call, "%.60s: no argument of this name; there are %s", name, known);
}

static void complain_text(calc_call *call, const calc_argument *argument, const char *text)
{
    char prefix[80], expected[MESSAGE_ROOM];
    snprintf(prefix, sizeof prefix, "%s=", argument->name);
    options_expected(text, argument->dimension, prefix, expected, sizeof expected);
    calc_complain(call, "%s=%.80s: %s", argument->name, text, expected);
}

static void complain_word(calc_call *call, const calc_argument *argument, const char *text)
{
    char near[64];
    const char *nearest = options_nearest_choice(argument->choices, text, near, sizeof near);
    calc_complain(call, "%s=%.80s: one of %s%s%s%s", argument->name, text, argument->choices,
                  nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

/* ---- Reading arguments ---- */

/* One quantity of `length` characters. False where it was a mistake, already reported. */
static bool read_item(calc_call *call, const calc_argument *argument, const char *text,
                      size_t length, const char *unit, double *si)
{
    char item[2 * ITEM_ROOM];
    double number = 0.0;
    snprintf(item, sizeof item, "%.*s", (int)(length < ITEM_ROOM ? length : ITEM_ROOM), text);
    if (unit && fe_number_parse(item, &number)) {
        const size_t used = strlen(item);
        snprintf(item + used, sizeof item - used, "%.*s", ITEM_ROOM - 1, unit);
    }
    if (length < ITEM_ROOM && fe_quantity_parse(item, argument->dimension, si) == FE_OK)
        return true;
    complain_text(call, argument, item);
    return false;
}

static void read_list(calc_call *call, const calc_argument *argument, const char *text,
                      const char *unit, calc_input *input)
{
    input->list = calloc(CALC_MAX_LIST, sizeof *input->list);
    if (!input->list) {
        call->out_of_memory = true;
        return;
    }
    for (const char *at = text; at;) {
        const size_t length = strcspn(at, ",");
        if (input->count == CALC_MAX_LIST) {
            calc_complain(call, "%s: more than %d values", argument->name, CALC_MAX_LIST);
            return;
        }
        if (read_item(call, argument, at, length, unit, &input->list[input->count]))
            input->count++;
        at = at[length] ? at + length + 1 : NULL;
    }
}

static void read_word(calc_call *call, const calc_argument *argument, const char *text,
                      calc_input *input)
{
    if (argument->choices && !options_is_choice(argument->choices, text)) {
        complain_word(call, argument, text);
        return;
    }
    input->word = strdup(text);
    if (!input->word)
        call->out_of_memory = true;
}

static void read_argument(calc_call *call, const calc_argument *argument, const char *text,
                          const char *unit)
{
    calc_input *input = &call->inputs[argument - call->formula->arguments];
    if (input->given) {
        calc_complain(call, "%s=%.80s: %s is given twice", argument->name, text,
                      argument->name);
        return;
    }
    input->given = true;
    switch (argument->kind) {
    case CALC_QUANTITY:
        read_item(call, argument, text, strlen(text), unit, &input->number);
        break;
    case CALC_LIST:
        read_list(call, argument, text, unit, input);
        break;
    case CALC_WORD:
        read_word(call, argument, text, input);
        break;
    }
}

void calc_give(calc_call *call, const char *name, const char *text, const char *unit)
{
    const calc_argument *argument = calc_find_argument(call->formula, name);
    if (argument)
        read_argument(call, argument, text, unit);
    else
        complain_unknown(call, name);
}

static void complain_missing(calc_call *call, const calc_argument *argument)
{
    char prefix[80], expected[MESSAGE_ROOM];
    if (argument->kind == CALC_WORD) {
        calc_complain(call, "%s is missing: %s%s", argument->name,
                      argument->choices ? "one of " : "a word",
                      argument->choices ? argument->choices : "");
        return;
    }
    snprintf(prefix, sizeof prefix, "%s=", argument->name);
    options_expected("", argument->dimension, prefix, expected, sizeof expected);
    calc_complain(call, "%s is missing: %s", argument->name, expected);
}

void calc_complete(calc_call *call)
{
    for (size_t i = 0; i < argument_count(call->formula); i++) {
        const calc_argument *argument = &call->formula->arguments[i];
        if (call->inputs[i].given)
            continue;
        if (!argument->fallback)
            complain_missing(call, argument);
        else if (*argument->fallback)
            read_argument(call, argument, argument->fallback, NULL);
    }
}

bool calc_is_good(const calc_call *call)
{
    return call->mistakes == 0;
}

/* ---- Running ---- */

/* "distance > 0; depth 0 to 400 m" of the arguments that have a range. */
static void join_ranges(const calc_formula *formula, char *text, size_t size)
{
    size_t used = 0;
    *text = 0;
    for (size_t i = 0; i < argument_count(formula) && used < size; i++) {
        const calc_argument *argument = &formula->arguments[i];
        if (!argument->range || !*argument->range)
            continue;
        used += (size_t)snprintf(text + used, size - used, "%s%s %s", used ? "; " : "",
                                 argument->name, argument->range);
    }
}

static void warn_range(const calc_call *call)
{
    char ranges[2 * MESSAGE_ROOM];
    join_ranges(call->formula, ranges, sizeof ranges);
    const char *what = call->explanation[0] ? call->explanation : ranges;
    options_complain(call->who, "warning: outside the range the formula was stated for%s%s",
                     *what ? ": " : "", what);
}

static void report_failure(calc_call *call, fe_status status)
{
    const char *why = call->explanation;
    if (status == FE_E_NO_SOLUTION)
        calc_complain(call, "the problem as posed has no solution%s%s", *why ? ": " : "", why);
    else if (*why && status != FE_E_CONVERGE) /* no argument is to blame for that */
        calc_complain(call, "%s", why);
    else
        calc_complain(call, "%s", fe_status_text(status));
}

fe_status calc_run(calc_call *call)
{
    if (call->out_of_memory)
        return FE_E_MEMORY;
    if (call->mistakes)
        return FE_E_INPUT;
    const fe_status status = call->formula->run(call);
    if (status < 0 && status != FE_E_MEMORY)
        report_failure(call, status);
    else if (status == FE_W_RANGE)
        warn_range(call);
    return status;
}

size_t calc_answers(const calc_call *call)
{
    return call->answer_count;
}

const calc_answer *calc_answer_at(const calc_call *call, size_t index)
{
    return &call->answers[index];
}

const calc_answer *calc_answer_named(const calc_call *call, const char *name, size_t length)
{
    for (size_t i = 0; i < call->answer_count; i++) {
        const char *known = call->answers[i].name;
        if (strlen(known) == length && strncmp(known, name, length) == 0)
            return &call->answers[i];
    }
    return NULL;
}

/* ---- Words ---- */

char *calc_print_value(double value, char *buffer, size_t size)
{
    if (isnan(value))
        snprintf(buffer, size, "none");
    else if ((value == floor(value) || fabs(value) >= 1e6) && fabs(value) < 1e15)
        fe_number_print_fixed(value, 0, buffer, size);
    else
        snprintf(buffer, size, "%.6g", value);
    return buffer;
}

char *calc_describe_argument(const calc_argument *argument, char *buffer, size_t size)
{
    const char *unit = fe_dimension_unit(argument->dimension);
    const char *open = *unit ? " (" : "", *close = *unit ? ")" : "";
    if (argument->kind == CALC_WORD)
        snprintf(buffer, size, "%s%s", argument->choices ? "one of " : "a word",
                 argument->choices ? argument->choices : "");
    else
        snprintf(buffer, size, "%s%s%s%s%s", fe_dimension_name(argument->dimension), open, unit,
                 close, argument->kind == CALC_LIST ? ", several with commas between" : "");
    return buffer;
}
