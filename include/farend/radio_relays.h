/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RADIO_RELAYS_H
#define FAREND_RADIO_RELAYS_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/plan.h"
#include "farend/relay_site.h"
#include "farend/result.h"
#include "farend/status.h"

/*
 * Which gear is to stand between the ends of a path, how many of it and where. Classes are
 * tried in turn: what the owner has, what the plan names for relays, then the catalogue. Gear
 * with a narrow beam is none of them: one antenna cannot look both ways along a chain.
 */
typedef struct fe_relay_class {
    const fe_gear *gear;
    unsigned owned; /* how many the owner has */
    bool named;     /* the plan's class for relays */
} fe_relay_class;

enum { FE_RELAY_MOST_CLASSES = 24, FE_RELAY_MOST_MASTS = 4 };

/*
 * Classes that can pass traffic on in a band, in the order in which they are tried.
 *   named    class that was asked for, null: none
 *   classes  room for FE_RELAY_MOST_CLASSES
 * Returns how many there are.
 */
size_t fe_relay_classes(const fe_plan *plan, const char *named, fe_band band,
                        fe_relay_class *classes);

/* Heights of the plan's relays: of a range both ends, what is cheapest and what reaches
 * farthest. Returns 1 or 2. */
size_t fe_relay_masts(const fe_plan *plan, double *masts_m);

/* Step of every search: a metre, on long ways a thousandth. */
double fe_relay_step(double length_m);

/* How often that step is doubled where a change is only tried out: to a hundredth of the way.
 */
unsigned fe_relay_coarser(double length_m);

/*
 * Places that the plan allows for relays, rising, a range as a place every step from its low
 * end. Those of another path than the first are not known, so null there, and where relays may
 * stand anywhere.
 *   places  result, to be freed
 */
FE_MUST_CHECK fe_status fe_relay_places(const fe_plan *plan, size_t path, double step_m,
                                        fe_relay_spot **places, size_t *count);

/* A relay of a class as it hangs anywhere; its height is the caller's. It passes on by radio,
 * so no wired port holds it back. */
fe_station fe_relay_station(const fe_gear *gear, fe_band band, fe_noise noise);

/* True where the plan says that power is there, within 2 m. */
bool fe_relay_has_power(const fe_plan *plan, size_t path, double at_m);

typedef struct fe_relay_question {
    const fe_hop *direct; /* the way as one hop, with the gear of its ends */
    fe_band band;
    const fe_relay_class *classes;
    size_t class_count;
    const double *masts_m;
    size_t mast_count;
    const fe_relay_spot *places; /* null: anywhere, every step */
    size_t place_count;
    double step_m;
    unsigned coarser; /* as in relay_site.h */
    const fe_season *seasons;
    size_t season_count;
    const fe_wanted *wanted;
    unsigned threads;
} fe_relay_question;

/* What came of one class: the smallest number that holds, else the one that does best. */
typedef struct fe_relay_trial {
    fe_relay_class class;
    unsigned relays;
    double margin_db;
    double chance;
    fe_verdict verdict;
} fe_relay_trial;

enum { FE_RELAY_MOST_TRIALS = 6 };

typedef struct fe_relay_choice {
    fe_relay_class class;
    fe_relay_way ways[FE_CHAIN_MOST_RELAYS + 1];
    size_t count;
    unsigned looked_at; /* the largest number that was, see relay_site.h */
    size_t best;        /* index of ways: the smallest number that holds, else what does best */
    fe_verdict verdict;
    fe_relay_trial trials[FE_RELAY_MOST_TRIALS]; /* in turn, up to the class that was taken */
    size_t trial_count;
} fe_relay_choice;

/*
 * The first class that holds with no more relays than the owner has of it, if it is his; else
 * the first that holds at all; else the one that does best. The catalogue is looked at only
 * where nothing owned or named holds.
 *   choice  result; large (25 kB); untouched on error
 *
 * FE_OK, FE_W_RANGE
 * FE_E_NO_SOLUTION  there is no class that can talk with the ends
 * FE_E_DOMAIN, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_relay_choose(const fe_relay_question *question,
                                        fe_relay_choice *choice);

/*
 * HOLDS, TIGHT or FAILS of a chain. The median chain is not one of median hops: with many hops
 * one is sure to be worse, so TIGHT asks for a chance of a half as well.
 */
fe_verdict fe_relay_verdict(const fe_chain *chain, double confidence);

#endif
