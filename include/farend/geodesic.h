/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_GEODESIC_H
#define FAREND_GEODESIC_H

#include "farend/status.h"

/*
 * Shortest lines on the WGS 84 ellipsoid: length and azimuth between two positions, and the
 * position at a length and azimuth from another. A few iterations of elementary functions.
 */
typedef struct fe_position {
    double latitude_rad;  /* -pi/2 to pi/2, north above zero */
    double longitude_rad; /* -2 pi to 2 pi, east above zero */
} fe_position;

typedef struct fe_geodesic {
    double length_m;
    double azimuth_rad; /* at the first end, from north through east, 0 to 2 pi; 0 where both
                           ends are one */
} fe_geodesic;

/*
 * The line between two positions.
 *   line   result; untouched on error
 *
 * FE_OK           within a millimetre
 * FE_E_DOMAIN     a position is not finite or out of range
 * FE_E_CONVERGE   the ends lie almost opposite on the earth
 *
 * Source: Vincenty, Survey Review XXIII 176, 1975, from memory; ellipsoid WGS 84.
 */
FE_MUST_CHECK fe_status fe_geodesic_between(const fe_position *from, const fe_position *to,
                                            fe_geodesic *line);

/*
 * The far end of a line.
 *   line   length_m >= 0
 *   to     result, longitude from -pi to pi; untouched on error
 *
 * Statuses and source as above.
 */
FE_MUST_CHECK fe_status fe_geodesic_end(const fe_position *from, const fe_geodesic *line,
                                        fe_position *to);

#endif
