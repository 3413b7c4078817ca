/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RELAY_CHANGES_H
#define FAREND_RELAY_CHANGES_H

#include <stddef.h>

#include "farend/radio_link.h"
#include "farend/radio_relays.h"
#include "farend/status.h"

/*
 * What would help where no number of relays reaches the confidence: one change at a time, each
 * worked out again. What is named first costs least, by common practice.
 */
typedef enum fe_relay_change {
    FE_RELAY_OTHER_BAND,
    FE_RELAY_OTHER_ENDS, /* other gear that the plan names for the ends */
    FE_RELAY_BEAMS,      /* a pair with beams, no relay */
    FE_RELAY_HIGHER,     /* relays on higher masts */
    FE_RELAY_ANYWHERE,   /* relays where the plan does not allow them */
    FE_RELAY_SLOWER,     /* part of the rate */
    FE_RELAY_CHANGES
} fe_relay_change;

typedef struct fe_relay_what_if {
    fe_relay_change kind;
    double rise_m;          /* of FE_RELAY_HIGHER */
    double share;           /* of the rate, of FE_RELAY_SLOWER */
    fe_band band;           /* of FE_RELAY_OTHER_BAND */
    const fe_gear *ends[2]; /* of FE_RELAY_OTHER_ENDS */
    const fe_gear *gear;
    unsigned relays;
    fe_radio_score score;
} fe_relay_what_if;

typedef struct fe_relay_what_ifs {
    fe_relay_what_if items[FE_RELAY_CHANGES + FE_BANDS];
    size_t count;
} fe_relay_what_ifs;

/*
 * Higher relays, part of the rate and, where places are listed, others, with the class that
 * `choice` took; and the pair with beams. Steps are coarse.
 *   pair     its gear null: there is none
 *   changes  result, added to what is there
 *
 * Statuses as fe_relay_choose.
 */
FE_MUST_CHECK fe_status fe_relay_changes_find(const fe_relay_question *question,
                                              const fe_relay_choice *choice,
                                              const fe_beam_pair *pair,
                                              fe_relay_what_ifs *changes);

/*
 * The ends of a question have the gear that does best without a relay. Of all other pairs that
 * the plan names, a beam at both ends among them, the one that does best on the way found is
 * worked out anew. Nothing is added where the plan names no other gear for this band.
 *   ends     gear of the question's ends
 *
 * Statuses as fe_relay_choose.
 */
FE_MUST_CHECK fe_status fe_relay_changes_find_ends(const fe_plan *plan, size_t path,
                                                   const fe_relay_question *question,
                                                   const fe_relay_choice *choice,
                                                   const fe_gear *const ends[2],
                                                   fe_relay_what_ifs *changes);

/* Adds what came of another band. */
void fe_relay_changes_add_band(fe_relay_what_ifs *changes, fe_band band,
                               const fe_relay_choice *choice);

/* By kind, then by band. */
void fe_relay_changes_sort(fe_relay_what_ifs *changes);

/* What holds goes first, then what costs least by the order of the kinds; null: nothing holds.
 */
const fe_relay_what_if *fe_relay_changes_best(const fe_relay_what_ifs *changes);

#endif
