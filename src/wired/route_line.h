/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WIRED_ROUTE_LINE_H
#define WIRED_ROUTE_LINE_H

#include "route_kernel.h"

/*
 * Private to the wired room: where posts may stand along a run. Nodes are the first building
 * (0), the places, and the last building.
 */
typedef struct route_line {
    const fe_route_input *input;
    route_kernel kernel;
    size_t count;  /* of nodes */
    double *at_m;  /* of each node */
    size_t *reach; /* the farthest node that a span may end at */
    size_t steps;  /* largest number of nodes that a span spans */
} route_line;

/* Whether values are finite and in range, and places rise: what a line can be made of. */
bool route_input_is_sound(const fe_route_input *input);

/* Any error leaves what there is to route_line_free. */
FE_MUST_CHECK fe_status route_line_make(const fe_route_input *input, route_line *line);
void route_line_free(route_line *line);

/* Height above the datum of an attachment at a node; a building has its own. */
double route_line_height(const route_line *line, size_t node, double attachment_m);

/* Whether a span is no shorter than allowed; none that `reach` has is longer. */
bool route_line_allows(const route_line *line, double length_m);

#endif
