/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FEEDER_H
#define FAREND_FEEDER_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Loss of the coaxial line between a radio and its antenna, by class of cable. The loss of a
 * metre is a sqrt(f) (the skin of the conductors) plus b f (the insulation).
 */
typedef struct fe_feeder {
    const char *name;  /* "10 mm low-loss" */
    double diameter_m; /* outside */
    double conductor;  /* a: dB/m at 1 GHz */
    double insulation; /* b: dB/m at 1 GHz */
    double most_hz;    /* highest frequency of use */
} fe_feeder;

const fe_feeder *fe_feeders(size_t *count);

/* By name; case, spaces, hyphens and underscores make no difference. Null: unknown. */
const fe_feeder *fe_feeder_find(const char *name);

/* Loss of one pair of connectors; common practice, no source. */
#define FE_FEEDER_CONNECTOR_DB 0.15

/*
 * Loss of a feeder.
 *
 *   feeder      a row of the table
 *   f_hz        frequency, > 0; stated from 30 MHz to the row's highest
 *   length_m    >= 0
 *   connectors  pairs of them
 *   temp_c      of the cable, -60 to 100; the table is for 20
 *   loss_db     result; untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: class figures and connectors common practice, no source; 0.2 % a kelvin, half of
 * copper's 0.39 % because loss goes with the root of resistance.
 */
FE_MUST_CHECK fe_status fe_feeder_loss(const fe_feeder *feeder, double f_hz, double length_m,
                                       unsigned connectors, double temp_c, double *loss_db);

#endif
