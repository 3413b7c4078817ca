/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_INPUT_TRAITS_H
#define DECISION_INPUT_TRAITS_H

#include "farend/sensitivity.h"

/* What a key of the plan has a hand in, and how an owner finds out its value. */
typedef struct input_trait {
    const char *section;
    const char *key;
    unsigned concerns;
    /* How far a stated value is usually out: in the unit of the plan's struct, or as a share of
     * it, whichever is more. */
    double step;
    double share;
    const char *means;
    bool want; /* the owner's to choose */
} input_trait;

/* Null: nothing is computed from the key. */
const input_trait *input_trait_of(const fe_plan_input *input);

#endif
