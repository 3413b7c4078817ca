/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLAN_INPUT_H
#define FAREND_PLAN_INPUT_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/plan.h"
#include "farend/quantity.h"
#include "farend/status.h"

/*
 * The values of a plan as a list, and the same plan with one of them moved. Unknowns, what
 * would overturn a choice and what moves an answer most are all computed through this.
 *
 * In the list are numbers and words that the plan holds, given or defaulted, and names that it
 * leaves open where those that may stand for them are few (soil, wood, feeder). Not in it:
 * ranges that are no unknowns (voltages that a load or a battery swings through, spans
 * allowed), places, other names and classes. A horizontal distance is in it only where no
 * profile fixes it.
 */
enum { FE_PLAN_INPUT_TITLE_ROOM = 96 };

typedef struct fe_plan_input {
    char title[FE_PLAN_INPUT_TITLE_ROOM]; /* of its section: "trees hedge" */
    const char *section;                  /* "trees" */
    const char *key;                      /* "height" */
    const char *help;                     /* what the key stands for */
    fe_dimension dimension;
    double one; /* SI value of one unit of the numbers below */
    fe_given given;
    double typical; /* what the plan computes with; of a word its index */
    double low; /* range of the plan, of its class where unknown or a default; else typical */
    double high;
    double least; /* sane bounds of the key; infinite where it has none */
    double greatest;
    const char *const *words; /* null: a number; else ends in null */
    size_t word_count;
    bool open; /* given as a range or as unknown */
    /* Where it lies, for fe_plan_move alone. */
    int part;
    size_t item;
    size_t place;
    size_t offset;
    bool text; /* a word that the plan holds as a text */
} fe_plan_input;

typedef struct fe_plan_inputs {
    fe_plan_input *items;
    size_t count;
} fe_plan_inputs;

/*
 * All inputs of a plan, in the order of the manual.
 *   inputs  result, to be freed; untouched on error. It points to no part of the plan.
 * FE_OK, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_plan_inputs_of(const fe_plan *plan, fe_plan_inputs *inputs);
void fe_plan_inputs_free(fe_plan_inputs *inputs);

/* Input of a section by its title and key; null where the list has none. */
const fe_plan_input *fe_plan_input_find(const fe_plan_inputs *inputs, const char *title,
                                        const char *key);

/* A plan that shares with the one it was made from all that was not moved. */
typedef struct fe_plan_moved {
    fe_plan plan;
    void *held[5];
    size_t held_count;
    fe_profile ground; /* of a path whose distance or rise was moved */
} fe_plan_moved;

/*
 * The plan with one input at another value, and what follows from that value anew: seasons of
 * a climate, even ground of a distance, the trench along it. Walls that are written are those
 * of the mount that is written: another mount has none.
 *
 *   plan   stays as it is and must outlive the moved one; may itself be a moved one
 *   value  in the unit of the input; of a word its index
 *   moved  result, to be freed; untouched on error
 *
 * FE_OK
 * FE_E_DOMAIN  beyond the sane bounds of the key, not finite, or no word
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_plan_move(const fe_plan *plan, const fe_plan_input *input,
                                     double value, fe_plan_moved *moved);
void fe_plan_moved_free(fe_plan_moved *moved);

/* Several inputs, one after the other. */
typedef struct fe_plan_step {
    const fe_plan_input *input;
    double value;
} fe_plan_step;

typedef struct fe_plan_moves {
    const fe_plan *plan; /* with all of them moved */
    fe_plan_moved *each;
    size_t count;
} fe_plan_moves;

/* As fe_plan_move; of no steps the plan itself. */
FE_MUST_CHECK fe_status fe_plan_move_all(const fe_plan *plan, const fe_plan_step *steps,
                                         size_t count, fe_plan_moves *moves);
void fe_plan_moves_free(fe_plan_moves *moves);

#endif
