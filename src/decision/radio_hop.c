/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/radio_hop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/feeder.h"
#include "farend/network.h"

fe_mount fe_radio_mount(const fe_plan_end *end, const fe_gear *gear, fe_band band)
{
    const fe_radio *radio = fe_gear_radio(gear, band);
    if (radio && gear->outdoor && fe_beam_is_narrow(radio->beam_rad))
        return FE_MOUNT_OUTDOORS;
    return (fe_mount)end->mount.value;
}

static void put_walls(const fe_plan_end *end, fe_hop_wall *room, fe_station *station)
{
    station->walls = room;
    for (size_t i = 0; i < end->wall_count; i++) {
        const fe_plan_wall *wall = &end->walls[i];
        if (strcmp(wall->kind, "unknown") == 0) {
            station->wall_unknown = true;
            continue;
        }
        const bool thick = wall->thickness_m.given != FE_GIVEN_NOT;
        room[station->wall_count++] =
            (fe_hop_wall){wall->kind, thick ? wall->thickness_m.typical : (double)NAN};
    }
    if (end->wall_count > 0)
        return;
    /* Nothing said about the walls: a window behind glass, an unknown house indoors. */
    if (station->mount == FE_MOUNT_BEHIND_GLASS)
        room[station->wall_count++] = (fe_hop_wall){"double glazing", (double)NAN};
    else
        station->wall_unknown = true;
}

static fe_status make_station(const fe_plan_end *end, const fe_gear *gear, fe_band band,
                              double f_hz, fe_hop_wall *room, fe_station *station)
{
    const fe_radio *radio = fe_gear_radio(gear, band);
    *station = (fe_station){
        .radio = radio,
        .antenna_built_in = gear->antenna_built_in,
        .height_m = end->height_m.typical,
        .mount = fe_radio_mount(end, gear, band),
        .aim = (fe_aim)end->aim.value,
        .noise = (fe_noise)end->noise.value,
        .port_bps = gear->port_bps,
    };
    if (station->mount != FE_MOUNT_OUTDOORS)
        put_walls(end, room, station);
    if (!end->feeder || gear->antenna_built_in)
        return FE_OK;
    const fe_feeder *feeder = fe_feeder_find(end->feeder);
    if (!feeder)
        return FE_E_DOMAIN; /* the plan reader knows the classes */
    return fe_feeder_loss(feeder, f_hz, end->feeder_m.typical, 2, 20.0, &station->feeder_db);
}

/* Where the walls of both ends and the trees of a hop are kept. */
typedef struct hop_room {
    fe_hop_wall *walls[2];
    fe_stand *stands;
} hop_room;

/* One block, the hop first and its room behind it, so that free() finds all of it. */
static fe_hop *new_hop(const fe_plan *plan, const size_t ends[2], hop_room *room)
{
    _Static_assert(_Alignof(fe_hop_wall) <= _Alignof(fe_stand) &&
                       _Alignof(fe_stand) <= _Alignof(fe_hop),
                   "each part of the block is aligned for the next");
    /* One more than an end names: where it names none, one may be taken. */
    const size_t first = plan->ends[ends[0]].wall_count + 1;
    const size_t second = plan->ends[ends[1]].wall_count + 1;
    fe_hop *hop = malloc(sizeof *hop + plan->tree_count * sizeof *room->stands +
                         (first + second) * sizeof *room->walls[0]);
    if (!hop)
        return NULL;
    room->stands = (fe_stand *)(hop + 1);
    room->walls[0] = (fe_hop_wall *)(room->stands + plan->tree_count);
    room->walls[1] = room->walls[0] + first;
    return hop;
}

static void put_stands(const fe_plan *plan, size_t path, fe_stand *room, fe_hop *hop)
{
    hop->stands = room;
    for (size_t i = 0; i < plan->tree_count; i++) {
        const fe_plan_trees *trees = &plan->trees[i];
        if (trees->path == path)
            room[hop->stand_count++] =
                (fe_stand){trees->from_m.typical, trees->to_m.typical, trees->height_m.typical,
                           (fe_tree_kind)trees->kind.value};
    }
}

static fe_status fill_hop(const fe_plan *plan, size_t path, const fe_gear *const gear[2],
                          fe_band band, const hop_room *room, fe_hop *hop)
{
    const fe_plan_path *way = &plan->paths[path];
    const size_t ends[2] = {way->from, way->to};
    const fe_region region = (fe_region)plan->site.region.value;
    *hop = (fe_hop){
        .ground = &way->profile,
        .land = (fe_land)way->land.value,
        .region = region,
        .f_hz = fe_band_frequency(band, region),
    };
    put_stands(plan, path, room->stands, hop);
    fe_status status = FE_OK;
    for (int end = 0; end < 2 && status >= 0; end++)
        status =
            fe_status_worse(status, make_station(&plan->ends[ends[end]], gear[end], band,
                                                 hop->f_hz, room->walls[end], &hop->ends[end]));
    return status;
}

fe_status fe_radio_hop(const fe_plan *plan, size_t path, const fe_gear *const gear[2],
                       fe_band band, fe_hop **hop)
{
    if (path >= plan->path_count)
        return FE_E_DOMAIN;
    if (!fe_gear_radio(gear[0], band) || !fe_gear_radio(gear[1], band))
        return FE_E_NO_SOLUTION;
    hop_room room;
    const size_t ends[2] = {plan->paths[path].from, plan->paths[path].to};
    fe_hop *made = new_hop(plan, ends, &room);
    if (!made)
        return FE_E_MEMORY;
    const fe_status status = fill_hop(plan, path, gear, band, &room, made);
    if (status < 0)
        free(made);
    else
        *hop = made;
    return status;
}

void fe_radio_rates(const fe_plan *plan, size_t path, double rate_bps[2])
{
    fe_path_traffic traffic;
    fe_network_traffic(plan, path, &traffic);
    for (int way = 0; way < 2; way++)
        rate_bps[way] = fe_path_traffic_rate(&traffic, way);
}

fe_wanted fe_radio_wanted(const fe_plan *plan, size_t path)
{
    fe_wanted wanted = {
        .airtime = 1.0,
        .availability = plan->site.availability.typical,
        .confidence = plan->site.confidence.typical,
    };
    fe_radio_rates(plan, path, wanted.rate_bps);
    return wanted;
}
