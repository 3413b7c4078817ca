/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_CALC_CALL_H
#define APP_CALC_CALL_H

#include "app/calc.h"

/*
 * One call of a formula, from the texts of its arguments to its results. Mistakes are written
 * to stderr, one line each with `who` before it, and counted; they never stop the reading.
 *
 *     calc_call *call = calc_start(formula, "farend calc sag");
 *     calc_give(call, "span", "40m", NULL);
 *     calc_complete(call);                      defaults, missing arguments
 *     fe_status status = calc_run(call);        FE_E_INPUT after a mistake
 *     ... calc_result_at ...
 *     calc_free(call);
 */
typedef struct calc_answer {
    const char *name;
    double value;
    const char *unit;
    const char *word; /* null: a number */
} calc_answer;

/* Null where there is no memory. `who` is copied. */
calc_call *calc_start(const calc_formula *formula, const char *who);
void calc_free(calc_call *call);

/* `unit`, where not null, is put after each bare number of the text (a table's header has it).
 */
void calc_give(calc_call *call, const char *name, const char *text, const char *unit);

/* A mistake found by the caller, written as the call's own are. */
void calc_complain(calc_call *call, const char *format, ...) FE_PRINTF(2, 3);

/* False after a mistake. */
bool calc_is_good(const calc_call *call);

void calc_complete(calc_call *call);

/*
 * Runs the formula where there was no mistake, and reports what it returns. FE_E_MEMORY is
 * left to the caller to report.
 */
fe_status calc_run(calc_call *call);

size_t calc_answers(const calc_call *call);
const calc_answer *calc_answer_at(const calc_call *call, size_t index);
/* Null where the run gave no result of this name. */
const calc_answer *calc_answer_named(const calc_call *call, const char *name, size_t length);

const calc_argument *calc_find_argument(const calc_formula *formula, const char *name);

/* Six significant digits, whole numbers in full, "none" for a value that does not exist. */
char *calc_print_value(double value, char *buffer, size_t size);

/* What an argument takes, in words: "a length (m)", "lengths (m), separated by commas". */
char *calc_describe_argument(const calc_argument *argument, char *buffer, size_t size);

#endif
