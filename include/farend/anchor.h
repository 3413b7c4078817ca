/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_ANCHOR_H
#define FAREND_ANCHOR_H

#include <stddef.h>

#include "farend/aerial_cable.h"
#include "farend/status.h"

/*
 * What holds the foot of a stay in the ground: anchors by class of holding power, and a log
 * buried across the pull. Not here: driven pickets, which work loose; ground under water and
 * peat, in which none of these figures holds; frost, below which a plate must lie.
 *
 * Every function returns FE_OK, or FE_E_DOMAIN where an argument is out of its range; outputs
 * are then untouched.
 */

/* A plate or screw anchor by the holding power of its class, with its rod. */
typedef struct fe_anchor {
    const char *name;  /* "6000 lb": how a plan names it */
    double holding_n;  /* in firm ground, along the rod */
    const char *rod;   /* diameter, inches */
    double rod_mm;     /* the same */
    double breaking_n; /* of the rod */
} fe_anchor;

size_t fe_anchor_count(void);
/* In rising order of holding power; null beyond the last. */
const fe_anchor *fe_anchor_at(size_t index);
/* Null where there is none of that name. */
const fe_anchor *fe_anchor_find(const char *name);

/*
 * Holding power of a class in a soil: whole in gravel, three quarters in sand, half in clay. In
 * rock a drilled rod stands in for the plate, and its strength counts where that is less.
 *   soil  keyword of fe_soil_find
 *   FE_E_DOMAIN  also where no soil has that name
 * Source: classes and their derating by soil class 5, 6 and 7 from the rural utilities' design
 * guides for guys and anchors (RUS Bulletins 1724E-153 and 1728F-804), rods from ANSI C135.2,
 * all from memory; which soil is of which class: common practice, no source.
 */
FE_MUST_CHECK fe_status fe_anchor_holding(const fe_anchor *anchor, const char *soil,
                                          double *holding_n);

/* A log or a piece of post in a trench, across the pull, its middle at a depth. */
typedef struct fe_anchor_log {
    double length_m;  /* > 0 */
    double width_m;   /* of the face towards the pull, > 0 */
    double depth_m;   /* 0.9144 to 2.1336: 3 to 7 ft */
    double angle_rad; /* of the pull above level, 0.245 (1 in 4) to pi/2 */
} fe_anchor_log;

/*
 * Pressure of the table times the face, interpolated in depth and angle, and the share of the
 * soil as for an anchor.
 *   FE_E_DOMAIN  also in rock, which nobody digs
 * Source: US Army FM 5-125, holding power of deadmen in ordinary earth, from memory.
 */
FE_MUST_CHECK fe_status fe_anchor_log_holding(const fe_anchor_log *log, const char *soil,
                                              double *holding_n);

/*
 * Least depth of the table at which a log holds.
 *   log          its depth_m is not read
 *   holding_n    wanted, > 0
 *   FE_E_NO_SOLUTION  not at 7 ft either
 */
FE_MUST_CHECK fe_status fe_anchor_log_depth(const fe_anchor_log *log, const char *soil,
                                            double holding_n, double *depth_m);

/*
 * Anchors, and the strand and fittings of a stay, hold this many times the largest pull, a
 * broken span included. Source: CPUC General Order 95 rule 44, guys, from memory.
 */
#define FE_ANCHOR_FACTOR 2.0

/* Thinnest strand of high strength that bears a pull; null where none does. */
const fe_strand *fe_anchor_strand(double breaking_n);

#endif
