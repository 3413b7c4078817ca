/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_AROUND_H
#define FAREND_AROUND_H

#include <stddef.h>

#include "farend/budget.h"
#include "farend/hop.h"
#include "farend/season.h"
#include "farend/status.h"

/*
 * The margin of a link from one place to every cell of a raster of heights around it: where on
 * this land the far end, or a relay, could stand. Each cell gets what fe_hop_budget_compute
 * says of the straight profile to it, within 0.5 dB, at a small part of its cost.
 *
 * Each cell has its own ray, sampled as `farend terrain` samples a raster. Seasons of different
 * snow share its heights over the line of sight and the sums of the fit, because snow lifts
 * every point alike, and only ground that may be one sharp edge is looked at more closely. Fade
 * over distance, build loss over the spread of the ground and the quantiles of the ground ray
 * are tables, filled once by the routines of the single path. Where two seasons are so nearly
 * the worst that the tables cannot tell which, the single path decides.
 *
 * A ray that many cells share costs one step a cell but passes beside most of them: on random
 * rough ground that was wrong by up to 18 dB, and no criterion that is cheaper than the cell's
 * own ray tells where.
 *
 * Where the tops of trees and roofs are known too, they count along each line as standing.h
 * says; lines with any cost about twice as much. The plan's own trees and errors of heights are
 * not counted. Memory: 8 bytes a cell for the results.
 */
typedef struct fe_around_land {
    const float *height_m; /* row by row, bare ground above one datum; NAN: not known */
    /* The same with trees and roofs on it, NAN: none known there; null: not known at all. */
    const float *top_m;
    size_t columns; /* 2 or more */
    size_t rows;
    double east_m[2];  /* metres east from a cell to the next of its row, and of its column */
    double north_m[2]; /* the same north */
    double column;     /* where the first end stands, counted from the middle of cell 0 */
    double row;
} fe_around_land;

typedef struct fe_around {
    const fe_hop *hop; /* its first end stands at that place, its second at each cell; ground
                          and stands are not read */
    const fe_season *seasons;
    size_t season_count; /* 1 or more */
    const fe_wanted *wanted;
    fe_around_land land;
    double radius_m;  /* 2 to FE_AROUND_MOST_M */
    unsigned threads; /* 0 or 1: none beside the caller's */
    /* Called now and then by the caller's thread with the share done; null: not wanted. */
    void (*progress)(void *context, double share);
    void *context;
} fe_around;

#define FE_AROUND_MOST_M 5000.0
#define FE_AROUND_LEAST_M 1.0 /* nearer cells are not computed */

typedef struct fe_around_count {
    size_t cells; /* with a margin */
    size_t holds; /* whose chance reaches the wanted confidence */
    size_t alone; /* that were left to the single path */
} fe_around_count;

/*
 *   margin_db  columns * rows results: margin of the worst season, that with the smallest
 *              chance; NAN outside the radius and where no height is known; -INFINITY where an
 *              antenna is under the snow
 *   chance     the same number: that the link meets its target there; may be null
 *   count      what was found
 *
 * FE_OK
 * FE_W_RANGE        results set, but a part lies outside its model's range at some cell
 * FE_E_DOMAIN       a value is not finite or outside the above, or the first end stands where
 *                   no height is known
 * FE_E_NO_SOLUTION  the radios have no mode in common, or no rule lets them transmit
 * FE_E_MEMORY, FE_E_CONVERGE
 * On error the results mean nothing.
 *
 * Sources: those of fe_hop_budget_compute.
 */
FE_MUST_CHECK fe_status fe_around_compute(const fe_around *around, float *margin_db,
                                          float *chance, fe_around_count *count);

/*
 * Height at a place between the cells' middles, linear in both, as `farend terrain` reads a
 * raster: cells that are not known are left out where the others carry half of the weight, else
 * NAN. Half a cell about the middles of the outermost still belongs to them.
 */
double fe_around_height(const fe_around_land *land, double column, double row);

/* The same of the tops; NAN where there are none. */
double fe_around_top(const fe_around_land *land, double column, double row);

/* The shorter side of a cell, m. */
double fe_around_step(const fe_around_land *land);

#endif
