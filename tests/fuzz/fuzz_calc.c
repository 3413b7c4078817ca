/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The arguments of `farend calc`, a word a line: the formula, then key=value. */
#include <stdlib.h>
#include <string.h>

#include "app/calc_call.h"
#include "fuzz.h"

static const calc_formula *find(const char *name)
{
    const calc_formula *const tables[] = {CALC_PATH,   CALC_MATERIAL, CALC_WIFI,
                                          CALC_LOSSES, CALC_SPAN,     CALC_ELECTRIC};
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
        for (const calc_formula *row = tables[i]; row->name; row++)
            if (strcmp(row->name, name) == 0)
                return row;
    return NULL;
}

static void give_words(calc_call *call, char *rest)
{
    char *word = NULL;
    while ((word = strtok_r(NULL, "\n", &rest))) {
        char *const equals = strchr(word, '=');
        if (!equals)
            continue;
        *equals = 0;
        calc_give(call, word, equals + 1, NULL);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *const text = fuzz_text(data, size);
    char *rest = NULL;
    const char *const name = strtok_r(text, "\n", &rest);
    const calc_formula *const formula = name ? find(name) : NULL;
    calc_call *const call = formula ? calc_start(formula, "farend calc") : NULL;
    if (call) {
        give_words(call, rest);
        calc_complete(call);
        if (calc_run(call) == FE_OK)
            for (size_t i = 0; i < calc_answers(call); i++)
                FUZZ_CLAIM(calc_answer_at(call, i)->name != NULL);
        calc_free(call);
    }
    free(text);
    return 0;
}
