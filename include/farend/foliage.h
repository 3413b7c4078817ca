/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FOLIAGE_H
#define FAREND_FOLIAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/season.h"
#include "farend/status.h"

/*
 * Loss through trees and hedges by the empirical laws a f^x d^y, what leaves, wetness and frost
 * do to it, and how the way through and the way over combine. For an end that stands in
 * woodland see woodland.h. The laws disagree by 10 dB and more; the budget uses the modified
 * exponential decay, the only one whose range holds the short depths and frequencies of this
 * program.
 */
typedef enum fe_foliage_model {
    FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY, /* Weissberger 1982; the budget's */
    FE_FOLIAGE_EARLY_ITU,
    /* Never these two below 9.6 GHz: they say 14 and 26 dB at 2.4 GHz where the first says 6.
     */
    FE_FOLIAGE_FITU_R,
    FE_FOLIAGE_COST_235,
    FE_FOLIAGE_MODELS
} fe_foliage_model;

/* One law, or one branch of one: loss = a f^f_exponent d^d_exponent, d in m. */
typedef struct fe_foliage_law {
    fe_foliage_model model;
    const char *model_name; /* "modified_exponential_decay", "early_itu", "fitu_r"... */
    const char *foliage;    /* what it was fitted to: "in leaf", "out of leaf", "any"... */
    bool for_leaves;        /* stated for trees in leaf */
    bool for_bare;          /* stated for trees out of leaf */
    double a;
    double f_exponent;
    double d_exponent;
    double f_unit_hz; /* 1e9 where f is in GHz, 1e6 where it is in MHz */
    double f_low_hz;  /* stated range */
    double f_high_hz;
    double depth_low_m; /* a branch counts above its low and up to its high end */
    double depth_high_m;
} fe_foliage_law;

/* All laws, the branches of one law in order of depth. */
const fe_foliage_law *fe_foliage_laws(size_t *count);

/*
 * Loss through foliage by one model.
 *
 *   model    which law
 *   in_leaf  false for bare trees
 *   f_hz     frequency, > 0
 *   depth_m  way through the foliage, >= 0
 *   loss_db  result; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but frequency, depth or state of leaf outside the model's stated
 *              range
 * FE_E_DOMAIN
 *
 * Source: the models' own papers, see the table in the source file.
 */
FE_MUST_CHECK fe_status fe_foliage_loss(fe_foliage_model model, bool in_leaf, double f_hz,
                                        double depth_m, double *loss_db);

/* A hedge is taken as deciduous; say conifer for an evergreen one. */
typedef enum fe_tree_kind { FE_TREES_DECIDUOUS, FE_TREES_CONIFER, FE_TREES_HEDGE } fe_tree_kind;

/* Trees in a season. */
typedef struct fe_foliage_state {
    fe_tree_kind kind;
    bool in_leaf; /* of no effect on conifers */
    fe_tree_state trees;
} fe_foliage_state;

/* What a state does to the loss of dry trees in leaf, a factor on decibels. */
typedef struct fe_foliage_factor {
    double low;
    double typical;
    double high;
} fe_foliage_factor;

/*
 * Bare deciduous 0.6, conifers 1, wet 1.3. Frozen 0.5, but anything from 0.2 to 1: the water in
 * frozen wood is ice and absorbs far less, how much less nobody has measured well; the other
 * factors have their low and high end at the typical one.
 *
 * Source: common practice, no source.
 */
fe_foliage_factor fe_foliage_factor_of(const fe_foliage_state *state);

typedef struct fe_foliage_result {
    double loss_low_db;
    double loss_db;
    double loss_high_db;
} fe_foliage_result;

/*
 * The budget's loss through foliage: modified exponential decay times the factor of the state.
 *
 *   state    see above
 *   f_hz     frequency, > 0; stated for 0.23 to 95 GHz
 *   depth_m  way through the foliage, >= 0; stated up to 400 m
 *   result   untouched on error
 *
 * FE_OK, FE_W_RANGE outside, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_foliage_budget(const fe_foliage_state *state, double f_hz,
                                          double depth_m, fe_foliage_result *result);

/*
 * Loss of two routes side by side, powers added: never more than the better of them and at most
 * 3 dB less. For foliage: `bare_db` diffraction over the ground without the trees, `foliage_db`
 * the loss through them, `opaque_db` diffraction with the canopies as solid ground.
 *
 *   each     >= 0 or a gain below 0; +INFINITY closes a route (not both)
 *   loss_db  result; untouched on error
 *
 * FE_OK, FE_E_DOMAIN NaN, or both routes closed
 *
 * Source: ITU-R P.833 sec 3.2.5, formula from memory.
 */
FE_MUST_CHECK fe_status fe_foliage_routes(double bare_db, double foliage_db, double opaque_db,
                                          double *loss_db);

#endif
