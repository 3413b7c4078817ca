/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_POE_H
#define FAREND_POE_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Power over the pairs of a data cable (IEEE 802.3 clauses 33 and 145). A pair set has two
 * wires in parallel each way, so its loop has the resistance of ONE wire: half of the pair loop
 * that testers show. Two pair sets together have half of that again.
 */

/* What a device over the pairs must accept: IEEE 802.3 clause 33, type 1 (37 V from memory). */
#define FE_POE_DEVICE_LOW_V 37.0
#define FE_POE_DEVICE_HIGH_V 57.0

typedef struct fe_poe_type {
    int type;
    const char *amendment; /* "802.3bt" */
    double source_w;
    double device_w;
    double least_source_v;
    double least_device_v;
    double pair_set_ma; /* most current in one pair set */
} fe_poe_type;

/* Types 1 to 4; null for others. */
const fe_poe_type *fe_poe_type_find(int type);

typedef struct fe_poe_class {
    int device_class;
    int lowest_type;
    double source_w;
    double device_w;
    double least_source_v;
    double current_a; /* of all pair sets */
    double loop_ohm;  /* that the class is designed for, of all pair sets together */
    int pairs;        /* 2 or 4 */
} fe_poe_class;

/* Classes 0 to 8; null for others. */
const fe_poe_class *fe_poe_class_find(int device_class);

/* The lowest class that promises this power to the device; null where none does. */
const fe_poe_class *fe_poe_class_for(double device_w);

/*
 * Loop of the powered pairs together.
 *   wire_ohm_per_m  one wire at its temperature, > 0
 *   length_m        of the cable, > 0
 *   pair_sets       1 or 2
 */
FE_MUST_CHECK fe_status fe_poe_loop(double wire_ohm_per_m, double length_m, unsigned pair_sets,
                                    double *loop_ohm);

typedef struct fe_poe_feed {
    double device_v;
    double false_v; /* the other root, which no feed settles at */
    double current_a;
    double source_w;
} fe_poe_feed;

/*
 * A device of constant power at the end of a loop: V = (Vs + sqrt(Vs^2 - 4 R P)) / 2.
 *
 *   source_v, device_w, loop_ohm  > 0
 *
 * FE_OK; FE_E_NO_SOLUTION beyond fe_poe_longest_loop; FE_E_DOMAIN.
 */
FE_MUST_CHECK fe_status fe_poe_deliver(double source_v, double device_w, double loop_ohm,
                                       fe_poe_feed *feed);

/* The greatest loop that still delivers: Vs^2 / (4 P), both > 0. FE_OK, FE_E_DOMAIN. */
FE_MUST_CHECK fe_status fe_poe_longest_loop(double source_v, double device_w, double *loop_ohm);

/*
 * What is left for the device of a source power: P - (P / Vs)^2 R.
 * FE_OK; FE_E_NO_SOLUTION where nothing is left; FE_E_DOMAIN.
 */
FE_MUST_CHECK fe_status fe_poe_device_power(double source_v, double source_w, double loop_ohm,
                                            double *device_w);

/* Published DC resistances of data cable. */
typedef struct fe_pair_resistance {
    const char *quantity;
    double value;
    const char *unit; /* "ohm" or "ohm/100 m" */
} fe_pair_resistance;

/* Null where unknown. Nominal wires by gauge are fe_awg_geometry's business. */
const fe_pair_resistance *fe_pair_resistance_find(const char *quantity);

/* Largest resistance of one wire of a category cable at 20 degC (ANSI/TIA-568.2-D, memory). */
double fe_pair_wire_limit_ohm_per_m(void);

#endif
