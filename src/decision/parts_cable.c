/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a data cable is made of: itself, its ends, what it hangs on or lies in. */
#include <math.h>

#include "decision/part_list.h"
#include "farend/network.h"
#include "farend/result.h"

/* ---- Ends ---- */

/* Pigtails and sleeves for the fibres of both ends. */
static void add_fibre_ends(part_maker *maker, double points)
{
    part_add_count(maker, FE_PART_OPTICS, FE_USE_FIBRE, 2.0);
    part_add_count(maker, FE_PART_SPLICE_BOX, FE_USE_FIBRE, 2.0);
    part_add_count(maker, FE_PART_PIGTAIL, FE_USE_FIBRE, 2.0 * FE_PARTS_FIBRES);
    part_add_count(maker, FE_PART_SPLICE, FE_USE_FIBRE, 2.0 * FE_PARTS_FIBRES);
    part_add_count(maker, FE_PART_CORD, FE_USE_FIBRE, points > 0.0 ? points : 2.0);
    part_add_count(maker, FE_PART_SPLICER, FE_USE_FIBRE, 1.0);
}

static void add_pair_ends(part_maker *maker)
{
    part_add_count(maker, FE_PART_PAIR_CONVERTER, FE_USE_PAIR, 2.0);
    part_add_count(maker, FE_PART_PAIR_BOX, FE_USE_PAIR, 2.0);
    part_add_count(maker, FE_PART_DATA_ARRESTER, FE_USE_PAIR, 2.0);
    part_add_count(maker, FE_PART_CORD, FE_USE_PAIR, 2.0);
}

static void add_copper_ends(part_maker *maker, double points)
{
    if (points > 0.0)
        part_add_count(maker, FE_PART_SOCKET, FE_USE_COPPER, points);
    part_add_count(maker, FE_PART_CORD, FE_USE_COPPER, 2.0);
    part_add_count(maker, FE_PART_DATA_ARRESTER, FE_USE_COPPER, 2.0);
    part_add_count(maker, FE_PART_SOCKET_TOOL, FE_USE_COPPER, 1.0);
}

double fe_parts_ports(const fe_plan *plan, size_t path, double spare)
{
    const size_t far = fe_network_far_end(plan, path);
    double ports = 1.0 + spare; /* the link itself */
    for (size_t i = 0; i < plan->traffic_count; i++)
        ports += plan->traffic[i].from == far ? 1.0 : 0.0;
    for (size_t i = 0; i < plan->path_count; i++)
        ports += i != path && fe_network_is_asked(plan, i) &&
                         (plan->paths[i].from == far || plan->paths[i].to == far)
                     ? 1.0
                     : 0.0;
    return ports;
}

double fe_parts_switch(double ports)
{
    for (unsigned i = 0; isfinite(fe_sold_switch(i)); i++)
        if (fe_sold_switch(i) >= ports)
            return fe_sold_switch(i);
    return ports;
}

void part_add_switch(part_maker *maker, size_t path, bool always)
{
    static const double LINK_AND_ONE = 2.0;
    const double ports =
        fe_parts_ports(maker->plan, path, floor(maker->plan->spare.ports.typical));
    if (always || ports > LINK_AND_ONE)
        part_add_count(maker, FE_PART_SWITCH, FE_USE_PLAIN, 1.0)->size = fe_parts_switch(ports);
}

static void add_ends(part_maker *maker, const fe_channel_result *channel)
{
    const double points = floor(maker->plan->cable.patch_points.typical);
    if (channel->fibre)
        add_fibre_ends(maker, points);
    else if (channel->cable->medium == FE_MEDIUM_SINGLE_PAIR)
        add_pair_ends(maker);
    else
        add_copper_ends(maker, points);
    part_add_switch(maker, channel->path, true);
}

/* ---- On posts ---- */

static double posts_of(const fe_posts_result *hung, double length_m)
{
    double count = 0.0;
    for (size_t i = 0; i < hung->route.post_count; i++)
        count += hung->kinds[hung->route.kinds[i]].length_m == length_m ? 1.0 : 0.0;
    return count;
}

/* Kinds of one length stand beside each other. */
static void add_posts(part_maker *maker, const fe_posts_result *hung)
{
    for (size_t k = 0; k < hung->input.kind_count; k++) {
        const double length_m = hung->kinds[k].length_m;
        const double count = posts_of(hung, length_m);
        if ((k == 0 || hung->kinds[k - 1].length_m != length_m) && count > 0.0)
            part_add_count(maker, FE_PART_POST, FE_USE_HUNG, count)->size = length_m;
    }
}

static void add_some(part_maker *maker, fe_part_kind kind, size_t count)
{
    if (count > 0)
        part_add_count(maker, kind, FE_USE_HUNG, (double)count);
}

static void add_hung(part_maker *maker, const fe_posts_result *hung)
{
    add_posts(maker, hung);
    add_some(maker, FE_PART_STAY, hung->hardware.stays);
    add_some(maker, FE_PART_GRIP, hung->hardware.grips);
    add_some(maker, FE_PART_SLIDE, hung->hardware.slides);
    add_some(maker, FE_PART_BOLT, hung->hardware.bolts);
    if (hung->buy.messenger_m > 0.0)
        part_add_length(maker, FE_PART_MESSENGER, FE_USE_HUNG, hung->buy.messenger_m);
    add_some(maker, FE_PART_WALL_CLIPS, 1);
}

/* ---- All of it ---- */

fe_status fe_parts_of_cable(const fe_result *result, const fe_channel_result *channel,
                            fe_part_list *list)
{
    const fe_plan *plan = result->plan;
    part_maker maker = {.plan = plan};
    const fe_posts_result *hung = fe_result_hung(result, channel);
    const fe_value *duct = &plan->trench.duct_m;
    fe_part *cable = part_add_length(&maker, FE_PART_DATA_CABLE, FE_USE_PLAIN,
                                     channel->length_m - channel->cords_m);
    cable->name = channel->cable->name;
    if (channel->fibre)
        cable->size = FE_PARTS_FIBRES;
    add_ends(&maker, channel);
    part_add_entries(&maker, channel->overhead);
    if (hung)
        add_hung(&maker, hung);
    else
        part_add_laying(&maker, channel->route_m,
                        duct->given == FE_GIVEN_NOT ? 0.0 : duct->typical);
    part_add_count(&maker, FE_PART_LABEL, FE_USE_PLAIN, 2.0);
    return part_finish(&maker, list);
}

fe_status fe_parts_of_pairs(const fe_plan *plan, fe_part_list *list)
{
    part_maker maker = {.plan = plan};
    part_add_count(&maker, FE_PART_PAIRS_SOURCE, FE_USE_COPPER, 1.0);
    part_add_count(&maker, FE_PART_SPLITTER, FE_USE_COPPER, 1.0);
    return part_finish(&maker, list);
}
