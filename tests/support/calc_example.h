/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CALC_EXAMPLE_H
#define FAREND_CALC_EXAMPLE_H

#include <stdio.h>
#include <string.h>

#include "app/calc_call.h"
#include "testing.h"

/* The arguments of a formula's example, but for the one named; null: all. */
static inline void give_example(calc_call *call, const calc_formula *formula, const char *but)
{
    char pairs[2000];
    char *rest = NULL;
    snprintf(pairs, sizeof pairs, "%s", formula->example);
    for (char *pair = strtok_r(pairs, " ", &rest); pair; pair = strtok_r(NULL, " ", &rest)) {
        char *value = strchr(pair, '=');
        assert_non_null(value);
        *value++ = 0;
        if (!but || strcmp(pair, but) != 0)
            calc_give(call, pair, value, NULL);
    }
}

#endif
