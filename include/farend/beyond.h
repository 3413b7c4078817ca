/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_BEYOND_H
#define FAREND_BEYOND_H

#include <stdbool.h>

#include "farend/status.h"
#include "farend/verdict.h"

/*
 * Ways past the limit of four pairs, on the same route: what each carries over this length, how
 * far it would reach, what it draws and where. By class figures; makers' sheets must follow.
 *
 * Common practice, no source: 3 W for a converter (single pair or fibre), 5 W for a line
 * extender and for a midpoint, each; extenders carry 100 Mb/s to 300 m, 50 Mb/s to 600 m and
 * 10 Mb/s to 1000 m of data or telephone pair; more than three devices in a row on the way is
 * nothing that anybody looks after.
 */
typedef enum fe_beyond_kind {
    FE_BEYOND_SINGLE_PAIR, /* 10BASE-T1L, a converter at each end, a cable of its own */
    FE_BEYOND_MIDPOINT,    /* switches on the way, fed over the cable itself */
    FE_BEYOND_EXTENDERS,   /* a pair of line extenders on one pair of the cable */
    FE_BEYOND_FIBRE,       /* single mode, a converter at each end */
    FE_BEYOND_KINDS
} fe_beyond_kind;

/* "powered midpoint", ...; never null. */
const char *fe_beyond_name(fe_beyond_kind kind);

enum { FE_BEYOND_MOST_MIDPOINTS = 3 };

typedef struct fe_beyond_case {
    double length_m;        /* from port to port, > 0 */
    double rate_bit_s;      /* wanted, > 0 */
    double port_bit_s;      /* of the Ethernet that a section would run; 0: none is that fast */
    double section_limit_m; /* of that Ethernet over this cable in its heat; 0: none */
    double wire_ohm_per_m;  /* one wire of the cable, warm, > 0 */
    double need_w;          /* that the far end takes of power over pairs; 0: none */
} fe_beyond_case;

typedef struct fe_beyond_way {
    fe_verdict verdict; /* of the data: rate and length */
    const char *limit;  /* what decides */
    double rate_bit_s;  /* over this length; 0: none */
    double reach_m;     /* at that rate, or at the slowest; of midpoints a section's */
    unsigned midpoints;
    double section_m;  /* from device to device */
    double house_w;    /* drawn at the house by what this way adds there, power passed on too */
    double midpoint_w; /* drawn by each device on the way itself */
    double far_w;      /* drawn out there by what this way adds there */
    double passed_w;   /* reaches the far end over the pairs */
    int port_class;    /* of power over the pairs at the house; -1: none is needed, or does */
} fe_beyond_way;

/*
 *   ways  FE_BEYOND_KINDS results; untouched on error
 *
 * Power of a midpoint: each section's port gives what the next device takes and its pairs lose,
 * at the least voltage of the class; a device on the way takes its own 5 W and, through a
 * converter, what it sends on. Where the far end's need cannot be passed on, the midpoints
 * alone are fed and passed_w is 0.
 *
 * FE_OK; FE_E_DOMAIN. Sources: those of farend/ethernet.h, poe.h, fibre.h and converter.h.
 */
FE_MUST_CHECK fe_status fe_beyond_solve(const fe_beyond_case *given, fe_beyond_way *ways);

#endif
