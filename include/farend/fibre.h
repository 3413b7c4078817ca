/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FIBRE_H
#define FAREND_FIBRE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Ethernet over optical fibre: the reach that dispersion allows, and the loss that the standard
 * allows. They are two checks and both must hold.
 */

/* Kinds of fibre, usable together as a set. */
typedef enum fe_fibre {
    FE_FIBRE_OM1 = 1,
    FE_FIBRE_OM2 = 2,
    FE_FIBRE_OM3 = 4,
    FE_FIBRE_OM4 = 8,
    FE_FIBRE_OM5 = 16,
    FE_FIBRE_OS2 = 32
} fe_fibre;

/* "OM3"; never null. */
const char *fe_fibre_name(fe_fibre fibre);
bool fe_fibre_named(const char *name, fe_fibre *fibre);

/* One row of the reach table. */
typedef struct fe_fibre_reach {
    const char *application;       /* "1000BASE-SX" */
    const char *fibre;             /* as published: "50 um OM2" */
    double modal_bandwidth_mhz_km; /* at the wavelength used; NAN for single mode */
    double reach_m;
    double budget_db;    /* largest channel insertion loss; NAN where not known here */
    double wavelength_m; /* the one the loss is reckoned at */
    double rate_bit_s;
    unsigned kinds; /* set of fe_fibre that the row holds for; 0: an older grade */
} fe_fibre_reach;

/* Row by number (null past the end); by published names; the farthest for a kind of fibre. */
const fe_fibre_reach *fe_fibre_reach_at(size_t index);
const fe_fibre_reach *fe_fibre_reach_find(const char *application, const char *fibre);
const fe_fibre_reach *fe_fibre_reach_for(const char *application, fe_fibre fibre);

/* A published figure: a loss limit, a budget, a level. */
typedef struct fe_fibre_figure {
    const char *item;
    double value;
    const char *unit;
} fe_fibre_figure;

/* Null where unknown. */
const fe_fibre_figure *fe_fibre_figure_find(const char *item);

/*
 * Largest loss of a metre of fibre: OS2 0.4 dB/km from 1260 to 1625 nm; OM1 and OM2 3.5, OM3 to
 * OM5 3.0 dB/km near 850 nm; 1.5 dB/km near 1300 nm.
 *
 *   wavelength_m   850 or 1300 nm, 30 nm either way, for multimode
 *   db_per_m       result; untouched on error
 *
 * FE_OK; FE_E_DOMAIN where the fibre is not specified at that wavelength.
 * Source: ISO/IEC 11801 and TIA-568.3-D (partly from memory).
 */
FE_MUST_CHECK fe_status fe_fibre_attenuation(fe_fibre fibre, double wavelength_m,
                                             double *db_per_m);

/*
 * Loss of a link: fibre, 0.75 dB a connector pair, 0.3 dB a splice (the limits of TIA-568.3).
 *   length_m, db_per_m  >= 0;  loss_db  result, positive; untouched on error
 */
FE_MUST_CHECK fe_status fe_fibre_link_loss(double length_m, double db_per_m,
                                           unsigned connector_pairs, unsigned splices,
                                           double *loss_db);

/* A link over a fibre: reach and loss. */
typedef struct fe_fibre_link {
    const fe_fibre_reach *reach;
    double length_m;
    double loss_db;
    double budget_db; /* NAN where the standard's is not known here: reach alone counts */
    double used;      /* the larger of length over reach and loss over budget; 1 is the limit */
} fe_fibre_link;

/*
 *   reach     row that holds for the fibre
 *   length_m  > 0
 * FE_OK; FE_E_DOMAIN. Source: both limits of the reach table's clauses.
 */
FE_MUST_CHECK fe_status fe_fibre_link_try(const fe_fibre_reach *reach, fe_fibre fibre,
                                          double length_m, unsigned connector_pairs,
                                          unsigned splices, fe_fibre_link *link);

#endif
