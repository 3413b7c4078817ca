/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_AGAIN_H
#define DECISION_AGAIN_H

#include "farend/result.h"
#include "farend/sensitivity.h"

/* What a moved plan comes to: the ways of the result, in its order. */
typedef struct again_answer {
    fe_way_state *ways;
    int *chosen; /* of each choice, as fe_result_choice has it */
} again_answer;

/* How much is worked out again. */
typedef enum again_depth {
    AGAIN_CONTENDERS, /* links that fail by far stay as they are, which saves their budgets */
    AGAIN_EVERYTHING, /* all links, for their intervals */
    AGAIN_LAYOUTS /* also another layout for posts that do not do; some tenths of a second */
} again_depth;

/*
 * The ways of a result once more on a plan in which values have moved. Gear, posts and the
 * number of relays stay; only the parts that `concerns` names are computed.
 *
 *   answer  arrays are the caller's, with room for all ways and choices of the result
 *
 * FE_OK, FE_W_RANGE, FE_E_MEMORY, FE_E_CONVERGE
 * FE_E_DOMAIN  the moved values do not go together (trees beyond the end of the path)
 */
FE_MUST_CHECK fe_status again_compute(const fe_result *result, const fe_plan *plan,
                                      unsigned concerns, again_depth depth,
                                      again_answer *answer);

/* Arrays of an answer; FE_E_MEMORY. What was made is freed in any case. */
FE_MUST_CHECK fe_status again_answer_make(const fe_result *result, again_answer *answer);
void again_answer_free(again_answer *answer);
/* The answer that the result itself is. */
void again_answer_of(const fe_result *result, again_answer *answer);
void again_answer_copy(const fe_result *result, const again_answer *from, again_answer *to);

/* State of a way as the result has it. */
fe_way_state again_state(const fe_way *way);

#endif
