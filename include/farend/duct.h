/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_DUCT_H
#define FAREND_DUCT_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * What goes into the ground: how full a duct may be, how far a cable can be drawn through it,
 * how deep things lie. Nothing is allocated.
 */

/* The largest share of a duct that so many cables may fill; source as below. count: 1 or more. */
double fe_duct_fill_limit(size_t count);

/*
 * Share of a duct's inside that cables fill, and the largest that is allowed: 53 % for one,
 * 31 % for two, 40 % for more.
 *
 *   inner_m      inner diameter, > 0
 *   diameter_m   of each cable, > 0
 *   count        1 or more
 *   fill, limit  results; untouched on error
 *
 * FE_OK; FE_E_DOMAIN. Source: NFPA 70 chapter 9 Table 1 (from memory).
 */
FE_MUST_CHECK fe_status fe_duct_fill(double inner_m, const double *diameter_m, size_t count,
                                     double *fill, double *limit);

/*
 * Longest straight pull before a number of bends at its far end: limit / (friction weight
 * exp(friction angle)).
 *
 *   limit_n      largest pull that the cable stands, > 0
 *   weight_n_m   > 0
 *   friction     0.5 for a dry plastic duct (common practice, no source), > 0
 *   bends_rad    all bends together, >= 0
 *
 * FE_OK; FE_E_DOMAIN. Source: the belt equation, mechanics.
 */
FE_MUST_CHECK fe_status fe_duct_longest_pull(double limit_n, double weight_n_m, double friction,
                                             double bends_rad, double *length_m);

/* How deep something lies: cover over it. */
typedef struct fe_burial_depth {
    const char *code; /* "NFPA 70 Table 300.5(A)", "common practice, no source" */
    const char *what; /* "supply cable in the ground as it is" */
    double cover_m;
} fe_burial_depth;

/* Null past the end. */
const fe_burial_depth *fe_burial_depth_at(size_t index);

/* Cover that a supply cable asks for, in a duct of plastic or without one. */
double fe_burial_supply_cover(bool in_duct);
/* Under a way for vehicles, in a duct, and under ploughland, for supply and data alike. */
double fe_burial_vehicles_cover(void);
double fe_burial_ploughland_cover(void);

/* Well tamped earth between supply and data in one trench: IEEE C2 rule 320B2. */
#define FE_TRENCH_SEPARATION_M 0.3

#endif
