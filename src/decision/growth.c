/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/growth.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "decision/decide.h"
#include "farend/duct.h"
#include "farend/supply_plan.h"

/* Allowances where [spare] says nothing (common practice, no source). */
static const double USUAL_POWER = 0.25;
static const double USUAL_PORTS = 1.0;

/* ---- Shared stretches ---- */

/* Power that an end takes along its paths: its gear, where it has no mains. */
static double gear_power(const fe_plan *plan, size_t end)
{
    const fe_plan_end *at = &plan->ends[end];
    const fe_gear *gear = at->gear.count > 0 ? fe_plan_gear(plan, at->gear.items[0]) : NULL;
    return at->mains.value == 1 || !gear ? 0.0 : gear->power_w;
}

/* What an end takes: its loads and its gear. */
static double loads_at(const fe_plan *plan, size_t end)
{
    double power_w = gear_power(plan, end);
    for (size_t i = 0; i < plan->load_count; i++)
        power_w += plan->loads[i].end == end ? decide_load_power(&plan->loads[i]) : 0.0;
    return power_w;
}

static void sum_stretch(const fe_plan *plan, size_t path, fe_stretch *stretch)
{
    *stretch = (fe_stretch){.path = path};
    fe_network_traffic(plan, path, &stretch->traffic);
    for (size_t end = 1; end < plan->end_count; end++) {
        fe_network_route route;
        if (!fe_network_route_between(plan, 0, end, &route) || !fe_network_passes(&route, path))
            continue;
        stretch->ends_beyond++;
        stretch->load_w += loads_at(plan, end) * (1.0 + plan->spare.power.typical);
    }
}

/* A path, what is recommended over it (null: nothing), and the list that is filled. */
typedef struct growth_path {
    const fe_result *result;
    size_t path;
    bool us; /* sizes by the inch, the foot and the gauge */
    const fe_way *data;
    const fe_way *power;
    fe_growth *growth;
} growth_path;

/* ---- What it costs ---- */

/* What is sold by size, how many of it, and in which sizes. */
typedef struct growth_sale {
    const char *thing; /* its key in [prices] */
    fe_part_size kind;
    bool per_m;
    double amount; /* pieces or metres */
    double sold[2];
} growth_sale;

static void name_missing(const growth_path *on, const growth_sale *sale, fe_oversize *item)
{
    size_t used = 0;
    for (int i = 0; i < 2; i++) {
        char key[FE_PRICE_KEY_ROOM];
        if (isfinite(item->price[i]) || isnan(sale->sold[i]))
            continue;
        fe_price_key(sale->thing, sale->kind, sale->sold[i], on->us, key);
        used += (size_t)snprintf(item->missing + used, sizeof item->missing - used, "%s%s",
                                 used ? ", " : "", key);
        if (used >= sizeof item->missing)
            return;
    }
}

/* One size for both costs nothing more, whatever its price is. */
static void put_sale(const growth_path *on, const growth_sale *sale, fe_oversize *item)
{
    const fe_plan *plan = on->result->plan;
    item->pieces = sale->per_m ? (double)NAN : sale->amount;
    item->length_m = sale->per_m ? sale->amount : (double)NAN;
    for (int i = 0; i < 2; i++) {
        item->sold[i] = sale->sold[i];
        item->price[i] =
            fe_price_amount(fe_price_of_size(plan, sale->thing, sale->sold[i]), sale->per_m);
    }
    if (sale->sold[0] == sale->sold[1]) {
        item->more_cost = 0.0;
        return;
    }
    item->more_cost = sale->amount * (item->price[1] - item->price[0]);
    name_missing(on, sale, item);
}

static void add(const growth_path *on, fe_oversize item, const growth_sale *sale)
{
    item.path = on->path;
    put_sale(on, sale, &item);
    on->growth->items[on->growth->item_count++] = item;
}

/* ---- Duct ---- */

double fe_growth_duct(const double *diameters_m, size_t count, bool us)
{
    double fill = 0.0;
    double limit = 0.0;
    for (unsigned i = 0; isfinite(fe_sold_duct(us, i)); i++)
        if (fe_duct_fill(fe_sold_duct(us, i), diameters_m, count, &fill, &limit) == FE_OK &&
            fill <= limit)
            return fe_sold_duct(us, i);
    return (double)NAN;
}

/* More ducts of the size that is laid anyway; what they cost is their price, not a difference.
 */
static void size_spare_ducts(const growth_path *on, double duct_m, double length_m)
{
    const fe_plan *plan = on->result->plan;
    const double more = plan->spare.ducts.typical;
    fe_oversize item = {.kind = FE_OVERSIZE_DUCTS,
                        .path = on->path,
                        .needed = 1.0,
                        .better = 1.0 + more,
                        .planned = (double)NAN,
                        .asked = true,
                        .why = "empty, with a draw cord: supply and data stay apart",
                        .sold = {duct_m, duct_m},
                        .pieces = (double)NAN,
                        .length_m = more * length_m};
    if (!(more > 0.0))
        return;
    item.price[0] = item.price[1] = fe_price_amount(fe_price_of(plan, "duct", duct_m), true);
    item.more_cost = item.length_m * item.price[1];
    if (isnan(item.more_cost))
        fe_price_key("duct", FE_SIZE_INSIDE, duct_m, on->us, item.missing);
    on->growth->items[on->growth->item_count++] = item;
}

/* Supply and data have a duct each, of the size of the thicker; one cable more like it later. */
static void size_duct(const growth_path *on)
{
    const fe_result *result = on->result;
    const fe_plan *plan = result->plan;
    const fe_way *data = on->data;
    const fe_way *power = on->power;
    const fe_cable_class *supply = fe_plan_cable_class(plan, "supply-buried");
    double thickest_m = 0.0;
    double length_m = 0.0;
    if (data && data->trench_m > 0.0) {
        thickest_m = result->channels[data->index].cable->diameter_m;
        length_m = data->trench_m;
    }
    if (power && power->trench_m > 0.0 && supply) {
        thickest_m = fmax(thickest_m, supply->diameter_m);
        length_m += power->trench_m;
    }
    if (!(thickest_m > 0.0))
        return;
    const double both_m[] = {thickest_m, thickest_m};
    const double needed_m = fe_growth_duct(both_m, 1, on->us);
    const double better_m = fe_growth_duct(both_m, 2, on->us);
    const bool planned = plan->trench.duct_m.given != FE_GIVEN_NOT;
    const double planned_m = planned ? plan->trench.duct_m.typical : (double)NAN;
    add(on,
        (fe_oversize){.kind = FE_OVERSIZE_DUCT,
                      .needed = needed_m,
                      .better = better_m,
                      .planned = planned_m,
                      .why = "a cable more can be drawn in without digging"},
        &(growth_sale){"duct", FE_SIZE_INSIDE, true, length_m, {needed_m, better_m}});
    const double trench_m = fmax(data ? data->trench_m : 0.0, power ? power->trench_m : 0.0);
    size_spare_ducts(on, planned ? planned_m : needed_m, trench_m);
}

/* ---- Conductor ---- */

/* The smallest conductor with so much power to spare; NAN: none does. */
static fe_status area_with(const growth_path *on, const fe_feed_choice *feed, double spare,
                           double *area_m2)
{
    fe_plan grown = *on->result->plan; /* shares everything with the plan, is never freed */
    fe_supply_entry *entry = calloc(1, sizeof *entry);
    if (!entry)
        return FE_E_MEMORY;
    grown.spare.power.typical = spare;
    fe_status status = fe_supply_from_plan(&grown, on->path, &feed->source, 0.0, entry);
    /* What goes on from there is no thinner, whatever is spared. */
    memcpy(entry->given.least_m2, feed->entry->given.least_m2, sizeof entry->given.least_m2);
    if (status >= 0)
        status = fe_supply_solve(entry);
    const fe_supply_size *size =
        status < 0 ? NULL
                   : fe_supply_smallest(entry, entry->main_metal,
                                        on->us ? FE_SIZES_AWG : FE_SIZES_METRIC);
    *area_m2 = size ? size->conductor.area_m2 : (double)NAN;
    free(entry);
    return status;
}

static fe_status size_conductor(const growth_path *on)
{
    if (!on->power || on->power->kind != FE_WAY_FEED)
        return FE_OK;
    const fe_plan *plan = on->result->plan;
    const fe_feed_choice *feed = &on->result->feeds[on->power->index];
    const bool asked = plan->spare.power.given > FE_GIVEN_DEFAULT;
    const double more = asked ? plan->spare.power.typical : USUAL_POWER;
    double area_m2[2] = {0.0, 0.0};
    fe_status status = area_with(on, feed, 0.0, &area_m2[0]);
    if (status >= 0)
        status = area_with(on, feed, more, &area_m2[1]);
    if (status >= 0)
        add(on,
            (fe_oversize){.kind = FE_OVERSIZE_CONDUCTOR,
                          .needed = area_m2[0],
                          .better = area_m2[1],
                          .planned = feed->conductor.area_m2,
                          .asked = asked,
                          .why = "more power later goes through the same cable"},
            &(growth_sale){
                "supply-cable", FE_SIZE_WIRE, true, feed->length_m, {area_m2[0], area_m2[1]}});
    return status;
}

/* ---- Ports, fibres, posts ---- */

/* The switch that is sold with as many. */
static void size_ports(const growth_path *on)
{
    const fe_plan *plan = on->result->plan;
    const bool asked = plan->spare.ports.given > FE_GIVEN_DEFAULT;
    const double needed = fe_parts_ports(plan, on->path, 0.0);
    const double better = needed + (asked ? plan->spare.ports.typical : USUAL_PORTS);
    add(on,
        (fe_oversize){.kind = FE_OVERSIZE_PORTS,
                      .needed = needed,
                      .better = better,
                      .planned =
                          fe_parts_ports(plan, on->path, floor(plan->spare.ports.typical)),
                      .asked = asked,
                      .why = "of the switch out there"},
        &(growth_sale){"switch",
                       FE_SIZE_PORTS,
                       false,
                       1.0,
                       {fe_parts_switch(needed), fe_parts_switch(better)}});
}

static void size_fibres(const growth_path *on)
{
    const fe_way *data = on->data;
    if (!data || (data->kind != FE_WAY_FIBRE_BURIED && data->kind != FE_WAY_FIBRE_POSTS))
        return;
    const fe_channel_result *channel = &on->result->channels[data->index];
    add(on,
        (fe_oversize){.kind = FE_OVERSIZE_FIBRES,
                      .needed = FE_PARTS_FIBRES_RUN,
                      .better = FE_PARTS_FIBRES,
                      .planned = FE_PARTS_FIBRES, /* the list has no thinner one */
                      .why = "two to spare for a splice that fails or a second use"},
        &(growth_sale){channel->cable->name,
                       FE_SIZE_FIBRES,
                       true,
                       channel->length_m - channel->cords_m,
                       {FE_PARTS_FIBRES_RUN, FE_PARTS_FIBRES}});
}

/* Of the layout: its longest posts, and how many there are of them. */
static double longest_post(const fe_way *data, double *count)
{
    double longest_m = 0.0;
    *count = 0.0;
    for (size_t i = 0; i < data->parts.count; i++) {
        const fe_part *part = &data->parts.items[i];
        if (part->kind != FE_PART_POST || part->size <= longest_m)
            continue;
        longest_m = part->size;
        *count = part->count;
    }
    return longest_m;
}

static void size_posts(const growth_path *on)
{
    const fe_way *data = on->data;
    double count = 0.0;
    if (!data || data->posts == 0)
        return;
    const fe_posts_result *run = fe_result_hung(on->result, &on->result->channels[data->index]);
    const double needed_m = longest_post(data, &count);
    const double better_m = fe_sold_post_after(on->us, needed_m);
    add(on,
        (fe_oversize){.kind = FE_OVERSIZE_POST,
                      .needed = needed_m,
                      .better = better_m,
                      .planned = run->longest_m,
                      .why = "for deeper snow, a taller machine below, or a second cable"},
        &(growth_sale){"post", FE_SIZE_LENGTH, false, count, {needed_m, better_m}});
}

/* ---- All of it ---- */

static fe_status size_path(const fe_result *result, size_t path, fe_growth *growth)
{
    const growth_path on = {.result = result,
                            .path = path,
                            .us = fe_plan_is_us_or_canada(result->plan),
                            .data = fe_result_way(result, result->picks[path].way),
                            .power = fe_result_way(result, result->picks[path].power_way),
                            .growth = growth};
    size_duct(&on);
    const fe_status status = size_conductor(&on);
    size_ports(&on);
    size_fibres(&on);
    size_posts(&on);
    return status;
}

fe_status fe_growth_of(const fe_result *result, fe_growth *growth)
{
    const size_t paths = result->plan->path_count;
    fe_growth found = {.stretch_count = paths};
    found.stretches = calloc(paths + 1, sizeof *found.stretches);
    found.items = calloc(paths * FE_OVERSIZES + 1, sizeof *found.items);
    fe_status status = found.stretches && found.items ? FE_OK : FE_E_MEMORY;
    for (size_t path = 0; path < paths && status >= 0; path++) {
        sum_stretch(result->plan, path, &found.stretches[path]);
        if (result->picks[path].asked)
            status = size_path(result, path, &found);
    }
    if (status < 0)
        fe_growth_free(&found);
    else
        *growth = found;
    return status < 0 ? status : FE_OK;
}

void fe_growth_free(fe_growth *growth)
{
    free(growth->stretches);
    free(growth->items);
    *growth = (fe_growth){0};
}
