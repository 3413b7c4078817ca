/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_NETWORK_H
#define FAREND_NETWORK_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/plan.h"

/*
 * Ends and paths of a plan as a network: which paths a traffic takes, and what every path
 * carries in sum. A stretch that several buildings share carries the traffic of all of them.
 * Traffic takes the fewest paths; between equals, those that the plan names first.
 */
enum { FE_NETWORK_MOST_ENDS = 64 };

/* A route over paths; along[i] is false where a path is taken from its second end. */
typedef struct fe_network_route {
    size_t paths[FE_NETWORK_MOST_ENDS];
    bool along[FE_NETWORK_MOST_ENDS];
    size_t count; /* 0: from an end to itself */
} fe_network_route;

/* False where no paths lead from one end to the other. Ends beyond the 64th lead nowhere. */
bool fe_network_route_between(const fe_plan *plan, size_t from, size_t to,
                              fe_network_route *route);

/* Whether a route goes over a path. */
bool fe_network_passes(const fe_network_route *route, size_t path);

/* The end of a path that is reached over it from the first end; else its second. */
size_t fe_network_far_end(const fe_plan *plan, size_t path);
/* The other one. */
size_t fe_network_near_end(const fe_plan *plan, size_t path);

/* What a path carries: [0] from its first end to its second, [1] back. Growth is counted in. */
typedef struct fe_path_traffic {
    double stream_bps[2];
    double transfer_bit[2];
    double transfer_bps[2]; /* least rate that gets the transfers through in their time */
    double transfer_s;      /* shortest time allowed for a transfer; INFINITY: none */
    double longest_delay_s; /* the strictest of what passes; INFINITY: none */
    size_t traffic_count;   /* how many traffics pass */
    size_t through_count;   /* of these, how many come from or go to beyond its ends */
} fe_path_traffic;

/*
 * Traffic of a path, all that passes it summed and enlarged by the plan's spare rate.
 * A path that the plan has not carries nothing.
 */
void fe_network_traffic(const fe_plan *plan, size_t path, fe_path_traffic *traffic);

/* Streams and transfers together, in one direction. */
double fe_path_traffic_rate(const fe_path_traffic *traffic, int direction);

/* Whether a way of data is asked over a path: it is the first, or some traffic goes over it. */
bool fe_network_is_asked(const fe_plan *plan, size_t path);

#endif
