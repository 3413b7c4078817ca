/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/growth.h"

#include <math.h>
#include <stdlib.h>

#include "decision/decide.h"
#include "farend/duct.h"
#include "farend/supply_plan.h"

/* Allowances where [spare] says nothing (common practice, no source). */
static const double USUAL_POWER = 0.25;
static const double USUAL_PORTS = 1.0;
static const double USUAL_FIBRES = 4.0;
/* A lift of the run, or a metre of snow more than anybody remembers. */
static const double POST_STEP_M = 1.0;

/* ---- Shared stretches ---- */

/* Power that an end takes along its paths: its gear, where it has no mains. */
static double gear_power(const fe_plan *plan, size_t end)
{
    const fe_plan_end *at = &plan->ends[end];
    const fe_gear *gear = at->gear.count > 0 ? fe_plan_gear(plan, at->gear.items[0]) : NULL;
    return at->mains.value == 1 || !gear ? 0.0 : gear->power_w;
}

/* The plan's loads stand at the far end of its first path. */
static double loads_at(const fe_plan *plan, size_t end)
{
    double power_w = gear_power(plan, end);
    for (size_t i = 0; i < plan->load_count && end == plan->paths[0].to; i++)
        power_w += decide_load_power(&plan->loads[i]);
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

/* ---- Duct ---- */

double fe_growth_duct(const double *diameters_m, size_t count)
{
    /* Inner diameters that are sold, m (common practice, no source). */
    static const double SOLD_M[] = {0.020, 0.025, 0.032, 0.040, 0.050, 0.063, 0.075, 0.100};
    double fill = 0.0;
    double limit = 0.0;
    for (size_t i = 0; i < sizeof SOLD_M / sizeof SOLD_M[0]; i++)
        if (fe_duct_fill(SOLD_M[i], diameters_m, count, &fill, &limit) == FE_OK &&
            fill <= limit)
            return SOLD_M[i];
    return (double)NAN;
}

static const fe_way *way_at(const fe_result *result, int index)
{
    return index < 0 ? NULL : &result->ways[index];
}

static double price_per_m(const fe_plan *plan, const char *thing)
{
    const fe_plan_price *price = decide_price(plan, thing);
    return price ? price->per_m : (double)NAN;
}

/* A path, what is recommended over it (null: nothing), and the list that is filled. */
typedef struct growth_path {
    const fe_result *result;
    size_t path;
    const fe_way *data;
    const fe_way *power;
    fe_growth *growth;
} growth_path;

static void add(const growth_path *on, fe_oversize item)
{
    item.path = on->path;
    on->growth->items[on->growth->item_count++] = item;
}

/* The data cable and the feed in one duct; one cable more like the thicker of them later. */
static void size_duct(const growth_path *on)
{
    const fe_result *result = on->result;
    const fe_plan *plan = result->plan;
    const fe_way *data = on->data;
    const fe_way *power = on->power;
    const fe_cable_class *supply = fe_plan_cable_class(plan, "supply-buried");
    const bool trenched[] = {data && data->trench_m > 0.0, power && power->trench_m > 0.0};
    const double diameters_m[] = {trenched[0] ? result->channels[data->index].cable->diameter_m
                                              : 0.0,
                                  trenched[1] && supply ? supply->diameter_m : 0.0};
    double inside_m[3];
    size_t count = 0;
    double thickest_m = 0.0;
    for (size_t i = 0; i < 2; i++)
        if (diameters_m[i] > 0.0) {
            inside_m[count++] = diameters_m[i];
            thickest_m = fmax(thickest_m, diameters_m[i]);
        }
    if (count == 0)
        return;
    const double needed_m = fe_growth_duct(inside_m, count);
    inside_m[count] = thickest_m;
    const double planned_m =
        plan->trench.duct_m.given == FE_GIVEN_NOT ? (double)NAN : plan->trench.duct_m.typical;
    add(on, (fe_oversize){.kind = FE_OVERSIZE_DUCT,
                          .needed = needed_m,
                          .better = fe_growth_duct(inside_m, count + 1),
                          .planned = planned_m,
                          .more_cost = (double)NAN,
                          .why = "a cable more can be drawn in without digging"});
    const double more = plan->spare.ducts.typical;
    if (more > 0.0)
        add(on, (fe_oversize){.kind = FE_OVERSIZE_DUCTS,
                              .needed = 1.0,
                              .better = 1.0 + more,
                              .planned = (double)NAN,
                              .asked = true,
                              .more_cost = more *
                                           fmax(trenched[0] ? data->trench_m : 0.0,
                                                trenched[1] ? power->trench_m : 0.0) *
                                           price_per_m(plan, "duct"),
                              .why = "empty, with a draw cord: supply and data stay apart"});
}

/* ---- Conductor ---- */

/* The smallest conductor with so much power to spare; NAN: none does. */
static fe_status area_with(const fe_plan *plan, const fe_plan_source *source, double spare,
                           double *area_m2)
{
    fe_plan grown = *plan; /* shares everything with the plan, and is never freed */
    fe_supply_entry *entry = calloc(1, sizeof *entry);
    if (!entry)
        return FE_E_MEMORY;
    grown.spare.power.typical = spare;
    fe_status status = fe_supply_from_plan(&grown, source, 0.0, entry);
    if (status >= 0)
        status = fe_supply_solve(entry);
    const fe_supply_size *size =
        status < 0 ? NULL : fe_supply_smallest(entry, entry->main_metal, FE_SIZES_METRIC);
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
    double today_m2 = 0.0, better_m2 = 0.0;
    fe_status status = area_with(plan, &feed->source, 0.0, &today_m2);
    if (status >= 0)
        status = area_with(plan, &feed->source, more, &better_m2);
    if (status >= 0)
        add(on, (fe_oversize){.kind = FE_OVERSIZE_CONDUCTOR,
                              .needed = today_m2,
                              .better = better_m2,
                              .planned = (double)NAN,
                              .asked = asked,
                              .more_cost = (double)NAN,
                              .why = "more power later goes through the same cable"});
    return status;
}

/* ---- Ports, fibres, posts ---- */

/* A port for each traffic that begins out there, and one for each path that is used. */
static void size_ports(const growth_path *on)
{
    const fe_plan *plan = on->result->plan;
    const size_t far = fe_network_far_end(plan, on->path);
    const bool asked = plan->spare.ports.given > FE_GIVEN_DEFAULT;
    double ports = 0.0;
    for (size_t i = 0; i < plan->path_count; i++)
        ports += on->result->picks[i].asked &&
                         (plan->paths[i].from == far || plan->paths[i].to == far)
                     ? 1.0
                     : 0.0;
    for (size_t i = 0; i < plan->traffic_count; i++)
        ports += plan->traffic[i].from == far ? 1.0 : 0.0;
    add(on, (fe_oversize){.kind = FE_OVERSIZE_PORTS,
                          .needed = ports,
                          .better = ports + (asked ? plan->spare.ports.typical : USUAL_PORTS),
                          .planned = (double)NAN,
                          .asked = asked,
                          .more_cost = (double)NAN,
                          .why = "of the switch out there"});
}

static void size_fibres(const growth_path *on)
{
    const fe_way *data = on->data;
    if (data && (data->kind == FE_WAY_FIBRE_BURIED || data->kind == FE_WAY_FIBRE_POSTS))
        add(on, (fe_oversize){.kind = FE_OVERSIZE_FIBRES,
                              .needed = 2.0,
                              .better = USUAL_FIBRES,
                              .planned = (double)NAN,
                              .more_cost = (double)NAN,
                              .why = "two to spare for a splice that fails or a second use"});
}

static void size_posts(const growth_path *on)
{
    const fe_way *data = on->data;
    if (!data || data->posts == 0)
        return;
    const fe_posts_result *run = fe_result_hung(on->result, &on->result->channels[data->index]);
    add(on, (fe_oversize){.kind = FE_OVERSIZE_POST,
                          .needed = run->longest_m,
                          .better = run->longest_m + POST_STEP_M,
                          .planned = run->longest_m,
                          .more_cost = (double)NAN,
                          .why = "for deeper snow, a taller machine below, or a second "
                                 "cable"});
}

/* ---- All of it ---- */

/* Power goes to the far end of the first path alone. */
static fe_status size_path(const fe_result *result, size_t path, fe_growth *growth)
{
    const growth_path on = {.result = result,
                            .path = path,
                            .data = way_at(result, result->picks[path].way),
                            .power = path == 0 ? way_at(result, result->power_way) : NULL,
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
