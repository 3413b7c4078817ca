/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_NEW_ASK_H
#define APP_NEW_ASK_H

#include <stdbool.h>
#include <stdio.h>

#include "farend/starter.h"
#include "farend/status.h"

enum { NEW_MOST_QUESTIONS = 32, NEW_ANSWER_ROOM = 160 };

/* One text a question of fe_starter_question; null: not answered, the fallback stands. */
typedef struct new_answers {
    const char *texts[NEW_MOST_QUESTIONS];
    char typed[NEW_MOST_QUESTIONS][NEW_ANSWER_ROOM];
} new_answers;

/*
 * Asks on `out` what `answers` does not hold yet and reads a line each from `in`, again until
 * it is good; an empty line takes the fallback.
 *
 * FE_E_INPUT   `in` ended before all was asked
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status new_ask(FILE *in, FILE *out, bool us, new_answers *answers);

#endif
