/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/network.h"

#include <math.h>
#include <stdint.h>

/* How an end was reached first. */
typedef struct network_step {
    bool reached;
    size_t path;
    size_t before; /* end it was reached from */
} network_step;

static size_t other_end(const fe_plan_path *path, size_t end)
{
    if (path->from == end)
        return path->to;
    return path->to == end ? path->from : SIZE_MAX;
}

/* Breadth first from `from`, in the order of the plan's paths. */
static void spread_out(const fe_plan *plan, size_t from, network_step *steps)
{
    size_t queue[FE_NETWORK_MOST_ENDS];
    size_t head = 0;
    size_t tail = 0;
    steps[from].reached = true;
    queue[tail++] = from;
    while (head < tail) {
        const size_t end = queue[head++];
        for (size_t i = 0; i < plan->path_count; i++) {
            const size_t next = other_end(&plan->paths[i], end);
            if (next >= FE_NETWORK_MOST_ENDS || steps[next].reached)
                continue;
            steps[next] = (network_step){true, i, end};
            queue[tail++] = next;
        }
    }
}

bool fe_network_route_between(const fe_plan *plan, size_t from, size_t to,
                              fe_network_route *route)
{
    network_step steps[FE_NETWORK_MOST_ENDS] = {{0}};
    if (from >= FE_NETWORK_MOST_ENDS || to >= FE_NETWORK_MOST_ENDS)
        return false;
    spread_out(plan, from, steps);
    if (!steps[to].reached)
        return false;
    fe_network_route found = {.count = 0};
    for (size_t end = to; end != from; end = steps[end].before)
        found.count++;
    size_t at = found.count;
    for (size_t end = to; end != from; end = steps[end].before) {
        at--;
        found.paths[at] = steps[end].path;
        found.along[at] = plan->paths[steps[end].path].to == end;
    }
    *route = found;
    return true;
}

bool fe_network_passes(const fe_network_route *route, size_t path)
{
    for (size_t i = 0; i < route->count; i++)
        if (route->paths[i] == path)
            return true;
    return false;
}

size_t fe_network_far_end(const fe_plan *plan, size_t path)
{
    network_step steps[FE_NETWORK_MOST_ENDS] = {{0}};
    spread_out(plan, 0, steps);
    for (size_t end = 1; end < plan->end_count && end < FE_NETWORK_MOST_ENDS; end++)
        if (steps[end].reached && steps[end].path == path)
            return end;
    return plan->paths[path].to;
}

size_t fe_network_near_end(const fe_plan *plan, size_t path)
{
    return other_end(&plan->paths[path], fe_network_far_end(plan, path));
}

static void add_traffic(const fe_plan_traffic *passing, double growth, int direction,
                        fe_path_traffic *traffic)
{
    traffic->stream_bps[direction] += growth * passing->stream_bps.typical;
    if (passing->transfer_bit.given != FE_GIVEN_NOT) {
        const double bits = growth * passing->transfer_bit.typical;
        traffic->transfer_bit[direction] += bits;
        traffic->transfer_bps[direction] += bits / passing->transfer_s.typical;
        traffic->transfer_s = fmin(traffic->transfer_s, passing->transfer_s.typical);
    }
    if (passing->longest_delay_s.given != FE_GIVEN_NOT)
        traffic->longest_delay_s =
            fmin(traffic->longest_delay_s, passing->longest_delay_s.typical);
    traffic->traffic_count++;
}

void fe_network_traffic(const fe_plan *plan, size_t path, fe_path_traffic *traffic)
{
    const double growth = 1.0 + plan->spare.rate.typical;
    *traffic = (fe_path_traffic){.transfer_s = INFINITY, .longest_delay_s = INFINITY};
    for (size_t i = 0; i < plan->traffic_count; i++) {
        const fe_plan_traffic *passing = &plan->traffic[i];
        fe_network_route route;
        if (!fe_network_route_between(plan, passing->from, passing->to, &route))
            continue;
        for (size_t k = 0; k < route.count; k++)
            if (route.paths[k] == path) {
                add_traffic(passing, growth, route.along[k] ? 0 : 1, traffic);
                traffic->through_count += route.count > 1 ? 1 : 0;
            }
    }
}

double fe_path_traffic_rate(const fe_path_traffic *traffic, int direction)
{
    return traffic->stream_bps[direction] + traffic->transfer_bps[direction];
}

bool fe_network_is_asked(const fe_plan *plan, size_t path)
{
    fe_path_traffic traffic;
    fe_network_traffic(plan, path, &traffic);
    return path == 0 || traffic.traffic_count > 0;
}
