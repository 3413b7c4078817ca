/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SENSITIVITY_H
#define FAREND_SENSITIVITY_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/plan_input.h"
#include "farend/result.h"
#include "farend/status.h"

/*
 * What a recommendation hangs on. Each input of the plan is moved by itself to both ends of
 * what it may be, and the ways it has a hand in are worked out again: with the gear, the posts
 * and the number of relays that were chosen, so that the answer is about what would be built.
 * From that come the interval of every way, the unknowns worth settling, the single change that
 * would overturn the choice, and the inputs in the order in which they move the answer.
 */

/* Parts of a result that an input has a hand in; bits. */
enum {
    FE_CONCERNS_RADIO = 1,
    FE_CONCERNS_POSTS = 2,
    FE_CONCERNS_CABLES = 4,
    FE_CONCERNS_FEED = 8
};

/* A way at one value of an input. */
typedef struct fe_way_state {
    fe_verdict verdict;
    double margin_db; /* NAN where it is no radio way */
    double chance;
    double used; /* part of its limit, NAN where it has none of that kind */
} fe_way_state;

/* Why an input is moved as far as it is. */
typedef enum fe_trial_reach {
    FE_REACH_OPEN,    /* the plan gives a range, or unknown */
    FE_REACH_DEFAULT, /* the plan says nothing: the range of its class */
    FE_REACH_STEP     /* as much as such a value is usually out: common practice */
} fe_trial_reach;

typedef struct fe_trial {
    fe_plan_input input;
    unsigned concerns;
    const char *means; /* how a household finds out; null: nothing to find out */
    fe_trial_reach reach;
    double value[2];      /* low and high; of a word the worst and the best for the choice */
    fe_way_state *at[2];  /* one a way of the result */
    int *chosen[2];       /* recommended there, one a choice: fe_result_choice */
    bool changes_verdict; /* of any way */
    bool changes_choice;  /* another way is recommended, or the same with a worse verdict */
    bool want;            /* what the owner asks for, not what is the case */
    double effect;        /* on what is recommended and on the best radio link; 1: ten decibels,
                             or all of a limit */
} fe_trial;

/* From the worst to the best that the open inputs leave possible. */
typedef struct fe_way_interval {
    fe_way_state worst;
    fe_way_state best;
} fe_way_interval;

/* One input, and the value from which on a choice is another. */
typedef struct fe_turn {
    bool found;
    size_t trial;
    double value; /* in the input's unit; of a word its index */
    bool above;   /* beyond this value upward; of a word nothing */
    bool likely;  /* within what the input may be; else it was looked for farther out */
    int way;      /* recommended then, -1: none */
    fe_verdict verdict;
} fe_turn;

/*
 * The single changes that come nearest to overturning a choice. What the owner asks for
 * (availability, confidence, drop allowed) is not among them; traffic and loads are.
 */
typedef struct fe_overturn {
    fe_turn breaks; /* the recommended way does worse than it should */
    fe_turn eases;  /* a way that asks for less work will do; or any, where none did */
} fe_overturn;

typedef struct fe_sensitivity {
    fe_trial *trials; /* those with the largest effect first */
    size_t trial_count;
    size_t open_count;          /* of the plan's ranges and unknowns among them */
    fe_way_interval *intervals; /* one a way */
    size_t way_count;
    fe_overturn *overturns; /* one a choice: fe_result_choice */
    size_t choice_count;
} fe_sensitivity;

/* Of data over a path, and of power. */
const fe_overturn *fe_overturn_data(const fe_sensitivity *sensitivity, size_t path);
const fe_overturn *fe_overturn_power(const fe_sensitivity *sensitivity, size_t path);

/*
 *   result       of fe_decide; its ways are what is moved
 *   sensitivity  result, to be freed; untouched on error
 * Costs about two budgets of every link an input, on two threads.
 *
 * FE_OK, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_sensitivity_compute(const fe_result *result,
                                               fe_sensitivity *sensitivity);
void fe_sensitivity_free(fe_sensitivity *sensitivity);

#endif
