/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_STANDING_H
#define FAREND_STANDING_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/hop.h"
#include "farend/status.h"

/*
 * What a profile shows standing on the ground (its column clutter_m: trees and roofs, surface
 * less terrain), and which of it is in the way of a hop.
 *
 * Nothing in a profile tells a tree from a roof, so what counts is solid: the wave goes over it
 * as over ground of that height, which is the most that it can cost. Not counted are
 *   - heights under FE_STANDING_LEAST_M: grass, and noise between two rasters;
 *   - the stretch that an antenna itself stands in, up to FE_STANDING_OWN_M from it: the plan
 *     says by its walls or trees what is right before the antenna;
 *   - what the plan names as trees, up to FE_STANDING_SLACK_M beyond their ends: those lose by
 *     the rules of foliage, and nothing is charged twice.
 * All three figures are common practice, no source.
 */
#define FE_STANDING_LEAST_M 0.5
#define FE_STANDING_OWN_M 20.0
#define FE_STANDING_SLACK_M 3.0

typedef enum fe_standing_use {
    FE_STANDING_NONE,    /* nothing stands there */
    FE_STANDING_COUNTED, /* solid, in the way */
    FE_STANDING_OWN,     /* an antenna stands in it */
    FE_STANDING_NAMED    /* trees of the plan stand in for it */
} fe_standing_use;

/* Neighbouring points with the same use. */
typedef struct fe_standing {
    double from_m; /* first and last of them, from the first station */
    double to_m;
    double height_m; /* of the highest */
    fe_standing_use use;
} fe_standing;

/*
 *   hop    its ground and trees; of the stations nothing is read
 *   uses   one for each point of the ground
 *
 * Returns how many points are counted; without the column none.
 */
size_t fe_standing_uses(const fe_hop *hop, fe_standing_use *uses);

/*
 * A copy of the ground on which only what counts still stands; without the column where nothing
 * does.
 *
 * FE_OK, FE_E_DOMAIN, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_standing_counted(const fe_hop *hop, fe_profile *counted);

/*
 * The stretches in the order of the path, at most `room` of them.
 *   count  how many there are, which may be more than `room`
 *
 * FE_OK, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_standing_list(const fe_hop *hop, fe_standing *list, size_t room,
                                         size_t *count);

#endif
