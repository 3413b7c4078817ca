/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_RELAYS_ANSWER_H
#define APP_RELAYS_ANSWER_H

#include "app/radio_setup.h"
#include "farend/radio_relays.h"

/* What `farend relays` has worked out, for the text and the JSON that say it. */

/* A pair of antennas with a beam in place of all relays. */
typedef struct relays_pair {
    const fe_gear *gear; /* null: there is none that may be used here */
    double chance;
    double margin_db;
    fe_verdict verdict;
} relays_pair;

/* One change where no number of relays holds; what is named first costs least, by common
 * practice. */
typedef enum relays_change {
    RELAYS_BAND,     /* another band */
    RELAYS_PAIR,     /* a pair with beams, no relay */
    RELAYS_HIGHER,   /* relays on higher masts */
    RELAYS_ANYWHERE, /* relays where the plan does not allow them */
    RELAYS_SLOWER,   /* part of the rate */
    RELAYS_CHANGES
} relays_change;

typedef struct relays_what_if {
    relays_change kind;
    double rise_m;
    double share; /* of the rate */
    fe_band band;
    const fe_gear *gear;
    unsigned relays;
    double margin_db;
    double chance;
    fe_verdict verdict;
} relays_what_if;

enum { RELAYS_MOST_CHANGES = RELAYS_CHANGES + FE_BANDS };

/* One path in one band. */
typedef struct relays_band {
    size_t path;
    fe_band band;
    double length_m;
    fe_wanted wanted;
    const fe_gear *ends[2];
    fe_relay_choice choice;
    double sharing_bps[3]; /* of the best, by fe_chain_sharing */
    double ideal_bps;
    relays_pair pair;
    relays_what_if changes[RELAYS_MOST_CHANGES];
    size_t change_count;
} relays_band;

typedef struct relays_answer {
    radio_setup setup;
    bool others[FE_BANDS]; /* not asked for, but open to whoever changes the band */
    relays_band *bands;    /* by path, then band */
    size_t count;
    size_t path_count; /* that were looked at */
} relays_answer;

static inline const fe_chain *relays_best(const relays_band *band)
{
    return &band->choice.ways[band->choice.best].chain;
}

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
