/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_GROWTH_H
#define FAREND_GROWTH_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/network.h"
#include "farend/prices.h"
#include "farend/result.h"
#include "farend/status.h"

/*
 * What is shared, and what to make larger now because it costs little while the ground is open
 * and much afterwards. The plan's [spare] is what is asked; where it says nothing, a usual
 * allowance stands in.
 */

/* What a path carries in sum. */
typedef struct fe_stretch {
    size_t path;
    fe_path_traffic traffic; /* spare rate counted in */
    double load_w;      /* loads and far gear that are fed along it, spare power counted in */
    size_t ends_beyond; /* that are reached over it from the first end */
} fe_stretch;

typedef enum fe_oversize_kind {
    FE_OVERSIZE_DUCT,      /* inner diameter, m */
    FE_OVERSIZE_DUCTS,     /* count */
    FE_OVERSIZE_CONDUCTOR, /* area, m2 */
    FE_OVERSIZE_PORTS,     /* count, at the far end */
    FE_OVERSIZE_FIBRES,    /* count */
    FE_OVERSIZE_POST,      /* length, m */
    FE_OVERSIZES
} fe_oversize_kind;

enum { FE_OVERSIZE_MISSING_ROOM = 2 * FE_PRICE_KEY_ROOM };
typedef struct fe_oversize {
    fe_oversize_kind kind;
    size_t path;    /* that it belongs to */
    double needed;  /* today */
    double better;  /* to put in now */
    double planned; /* what the plan has; NAN: it does not say */
    bool asked;     /* by [spare]; else the usual allowance */
    const char *why;
    /* What it costs: the price of the better size less that of the needed, so many times. */
    double sold[2];   /* sizes that prices are looked up for: needed and better */
    double price[2];  /* theirs; NAN: the plan has none */
    double pieces;    /* NAN where it is sold by length */
    double length_m;  /* NAN where it is sold by the piece */
    double more_cost; /* NAN where a price is missing */
    char missing[FE_OVERSIZE_MISSING_ROOM]; /* keys of [prices] that would tell; empty: none */
} fe_oversize;

typedef struct fe_growth {
    fe_stretch *stretches; /* one a path */
    size_t stretch_count;
    fe_oversize *items; /* path by path */
    size_t item_count;
} fe_growth;

/*
 * Cables of these diameters in a duct: the smallest inner diameter that is sold, filled to no
 * more than 53, 31 and 40 % by one, two and more cables (NFPA 70 chapter 9 table 1, memory).
 * NAN where none is large enough.
 *   us  ducts by the inch
 */
double fe_growth_duct(const double *diameters_m, size_t count, bool us);

/*
 *   growth  result, to be freed; untouched on error
 * FE_OK, FE_E_MEMORY, FE_E_CONVERGE, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_growth_of(const fe_result *result, fe_growth *growth);
void fe_growth_free(fe_growth *growth);

#endif
