/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_RELAYS_ANSWER_H
#define APP_RELAYS_ANSWER_H

#include "app/radio_setup.h"
#include "farend/radio_relays.h"
#include "farend/relay_changes.h"

/* What `farend relays` has worked out, for the text and the JSON that say it. */

/* One path in one band. */
typedef struct relays_band {
    size_t path;
    fe_band band;
    double length_m;
    fe_wanted wanted;
    const fe_gear *ends[2];
    const fe_gear *named; /* class that was asked for between them, null: none */
    fe_relay_choice choice;
    double sharing_bps[3]; /* of the best, by fe_chain_sharing */
    double ideal_bps;
    fe_beam_pair pair; /* in place of all relays */
    fe_relay_what_ifs changes;
} relays_band;

typedef struct relays_answer {
    radio_setup setup;
    bool others[FE_BANDS]; /* not asked for, but open to whoever changes the band */
    relays_band *bands;    /* by path, then band */
    size_t count;
    size_t path_count; /* that were looked at */
} relays_answer;

/*
 * Every band of a path, added to the answer. With `all` every path of the plan, else the one
 * the setup has turned to.
 */
FE_MUST_CHECK fe_status relays_find(relays_answer *answer, bool all);

fe_document *relays_document(const relays_answer *answer);
fe_status relays_figures(const relays_answer *answer, fe_gnuplot *gnuplot, fe_units units,
                         fe_document *doc);
int relays_print_json(const char *who, const relays_answer *answer);

#endif
