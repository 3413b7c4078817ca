/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CHANNEL_H
#define FAREND_CHANNEL_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/beyond.h"
#include "farend/ethernet.h"
#include "farend/poe.h"
#include "farend/status.h"
#include "farend/verdict.h"

/*
 * A data cable of a real length: which rates the standard promises over it, how its loss stands
 * against the limit line where it is too long, what power over the pairs is left at its end,
 * and what carries past the limit. Not here: crosstalk, which no length alone tells.
 */

enum { FE_CHANNEL_RATES = 6, FE_CHANNEL_NO_POE = -1 };

/* A cable in the sun runs so much over the air (common practice, no source). */
#define FE_CHANNEL_SUN_K 20.0

typedef struct fe_channel_case {
    double length_m;      /* from port to port, cords included, > 0 */
    double cords_m;       /* part of it, both ends together, >= 0 and below length_m */
    double cord_derating; /* 0.2 for AWG 24, 0.5 for AWG 26 */
    unsigned connectors;
    double temp_c; /* of the fixed cable in its hottest season, -60 to 90 */
    fe_category category;
    bool screened;
    double rate_bit_s;   /* wanted, > 0 */
    double wire_area_m2; /* one wire of the fixed cable; 0: AWG 24 to category 5e, else 23 */
    int poe_class;       /* FE_CHANNEL_NO_POE: none */
    double poe_need_w;   /* that the device takes; 0: what the class promises */
} fe_channel_case;

/* One rate over the cable: TIGHT also where it is promised on a condition only. */
typedef struct fe_channel_rate {
    const fe_ethernet_reach *reach; /* null where the category does not carry it */
    double limit_m;       /* whole channel, these cords, this warmth; 0: cords alone */
    double f_hz;          /* the highest that the signal needs (from memory) */
    double loss_db;       /* computed there; NAN where there is no equation */
    double loss_limit_db; /* of the 100 m channel there */
    fe_verdict verdict;
} fe_channel_rate;

typedef struct fe_channel_power {
    int device_class;
    double wire_ohm_per_m; /* at the cable's warmth */
    double loop_ohm;
    double design_ohm; /* loop that the class is designed for */
    double device_w;   /* left of the source's whole power at its least voltage */
    double promised_w; /* that the class promises a device */
    double device_v;   /* at the promised power; NAN where it cannot be delivered */
    double heat_w_m;   /* lost in a metre of cable at the source's whole power */
    fe_verdict verdict;
} fe_channel_power;

typedef struct fe_channel_answer {
    fe_channel_rate rates[FE_CHANNEL_RATES]; /* slowest first */
    int wanted;  /* index of the rate asked for; -1: no rate is that fast */
    int fastest; /* index of the fastest that does not fail; -1: none */
    bool has_power;
    fe_channel_power power;
    fe_verdict verdict; /* of the wanted rate and the power together */
    bool is_beyond;     /* the wanted rate does not simply hold: then what else would do */
    fe_beyond_way beyond[FE_BEYOND_KINDS];
} fe_channel_answer;

/*
 * FE_OK; FE_W_RANGE  result set; warmth beyond 60 degC or another model's range
 * FE_E_DOMAIN        an argument is out of range, or no such class of power
 * Sources: those of farend/ethernet.h and farend/poe.h.
 */
FE_MUST_CHECK fe_status fe_channel_solve(const fe_channel_case *given,
                                         fe_channel_answer *answer);

/* Fastest port that ordinary gear has (common practice, no source). */
#define FE_CHANNEL_PORT_BIT_S 1e9

/*
 * The rate to run: the wanted one, or a faster one up to an ordinary port's where that is as
 * sure. Index of rates; -1: none is as fast as wanted.
 */
int fe_channel_best(const fe_channel_answer *answer);

/*
 * How much a bundle of cables that all carry power warms inside.
 *   heat_w_m     lost in a metre of one cable, >= 0
 *   diameter_m   of one cable, > 0
 *   cables       1 or more; they lie round, with four fifths of the circle filled
 *   rise_k       result: of the bundle's surface over still air; untouched on error
 * FE_OK, FE_E_DOMAIN
 * Source: 10 W/(m2 K) from a surface to still air; common practice, no source.
 */
FE_MUST_CHECK fe_status fe_channel_bundle_rise(double heat_w_m, double diameter_m,
                                               unsigned cables, double *rise_k);

#endif
