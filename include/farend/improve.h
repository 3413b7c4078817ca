/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_IMPROVE_H
#define FAREND_IMPROVE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/result.h"
#include "farend/status.h"

/*
 * What would help a radio link: one change of the plan at a time, each computed by changing a
 * copy of the plan and working the link out again in every season. Costs some tens of budgets.
 */
typedef enum fe_improve_kind { /* from what costs least to what costs most: common practice */
                               FE_IMPROVE_AIM, /* point the antenna by its signal rather than by
                                                  eye */
                               FE_IMPROVE_NARROWER, /* half the channel width */
                               FE_IMPROVE_BAND,     /* the best pair of another band */
                               FE_IMPROVE_WINDOW,   /* from indoors to behind a window */
                               FE_IMPROVE_OUTDOORS, /* to the outer wall */
                               FE_IMPROVE_RAISE,    /* an end higher up */
                               FE_IMPROVE_KINDS
} fe_improve_kind;

#define FE_IMPROVE_WANTED_DB 3.0
/* A higher mast is another building site: none is tried. */
#define FE_IMPROVE_MOST_RISE_M 8.0
enum { FE_IMPROVE_MOST = 24 };

typedef struct fe_improvement {
    fe_improve_kind kind;
    int end;             /* 0 or 1 of the path; -1: both */
    fe_band band;        /* of the link afterwards */
    const fe_gear *gear; /* first end's, where the band changes */
    double width_hz;     /* of the channel afterwards */
    double height_m;     /* of that end afterwards, where it is raised */
    double rise_m;
    double gain_db;   /* of the margin in the worst season; INFINITY from a buried antenna */
    double margin_db; /* afterwards */
    double chance;
    bool carries_rate;
    fe_verdict verdict;
} fe_improvement;

typedef struct fe_improvements {
    fe_improvement items[FE_IMPROVE_MOST]; /* in the order of their kinds */
    size_t count;
    int cheapest; /* first that gives FE_IMPROVE_WANTED_DB and carries the rate; -1: none */
} fe_improvements;

/*
 *   radio   index of result->radio
 *   found   result; untouched on error
 * Raising an end goes in steps of half a metre to the first height that gives 3 dB, or to the
 * best tried.
 *
 * FE_OK, FE_W_RANGE, FE_E_MEMORY, FE_E_CONVERGE
 * FE_E_DOMAIN  no such radio
 */
FE_MUST_CHECK fe_status fe_improve_radio(const fe_result *result, size_t radio,
                                         fe_improvements *found);

#endif
