/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TRACK_H
#define FAREND_TRACK_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/geodesic.h"
#include "farend/profile.h"
#include "farend/status.h"

/*
 * The ground out of positions with heights: a walked line or single points marked on the way.
 * Each is put onto the straight line from the first point to the far end. A walk that comes
 * back is taken to end at its farthest point, and both ways count.
 */
typedef struct fe_track_point {
    fe_position at;
    double height_m; /* NAN: none */
} fe_track_point;

/* Height of a hand-held receiver, standard deviation. Common practice, no source. */
#define FE_TRACK_HEIGHT_SIGMA_M 5.0

typedef struct fe_track {
    fe_profile profile;
    double bearing_rad; /* of the straight line, from north through east */
    double stray_m;     /* farthest that a point lies beside that line */
    size_t used;        /* points on it */
    size_t without_height;
    bool came_back;
} fe_track;

/*
 * Reduces a track.
 *   points          count 2 or more
 *   height_sigma_m  standard deviation of each height, >= 0
 *   track           result, profile to be freed; untouched on error
 *
 * FE_OK
 * FE_E_DOMAIN       a position or the error is not finite or out of range
 * FE_E_NO_SOLUTION  fewer than two points with heights, or all within two metres
 * FE_E_MEMORY, FE_E_CONVERGE
 *
 * Points that come within a metre of one another along the line are averaged; that lowers
 * their error not at all, since a receiver is off by much the same for minutes.
 */
FE_MUST_CHECK fe_status fe_track_reduce(const fe_track_point *points, size_t count,
                                        double height_sigma_m, fe_track *track);
void fe_track_free(fe_track *track);

#endif
