/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/radio_hop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/feeder.h"
#include "farend/network.h"

enum { MOST_WALLS = 12, MOST_STANDS = 32 };

/* A hop with the room its pointers need; the hop comes first, so that free() finds all of it.
 */
typedef struct hop_room {
    fe_hop hop;
    fe_hop_wall walls[2][MOST_WALLS];
    fe_stand stands[MOST_STANDS];
} hop_room;

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
    for (size_t i = 0; i < end->wall_count && i < MOST_WALLS; i++) {
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

static fe_status fill_hop(const fe_plan *plan, size_t path, const fe_gear *const gear[2],
                          fe_band band, hop_room *room)
{
    const fe_plan_path *way = &plan->paths[path];
    const size_t ends[2] = {way->from, way->to};
    const fe_region region = (fe_region)plan->site.region.value;
    *room = (hop_room){0};
    room->hop = (fe_hop){
        .ground = &way->profile,
        .stands = room->stands,
        .land = (fe_land)way->land.value,
        .region = region,
        .f_hz = fe_band_frequency(band, region),
    };
    for (size_t i = 0; i < plan->tree_count && room->hop.stand_count < MOST_STANDS; i++) {
        const fe_plan_trees *trees = &plan->trees[i];
        if (trees->path == path)
            room->stands[room->hop.stand_count++] =
                (fe_stand){trees->from_m.typical, trees->to_m.typical, trees->height_m.typical,
                           (fe_tree_kind)trees->kind.value};
    }
    fe_status status = FE_OK;
    for (int end = 0; end < 2 && status >= 0; end++)
        status = fe_status_worse(status, make_station(&plan->ends[ends[end]], gear[end], band,
                                                      room->hop.f_hz, room->walls[end],
                                                      &room->hop.ends[end]));
    return status;
}

fe_status fe_radio_hop(const fe_plan *plan, size_t path, const fe_gear *const gear[2],
                       fe_band band, fe_hop **hop)
{
    if (path >= plan->path_count)
        return FE_E_DOMAIN;
    if (!fe_gear_radio(gear[0], band) || !fe_gear_radio(gear[1], band))
        return FE_E_NO_SOLUTION;
    hop_room *room = malloc(sizeof *room);
    if (!room)
        return FE_E_MEMORY;
    const fe_status status = fill_hop(plan, path, gear, band, room);
    if (status < 0)
        free(room);
    else
        *hop = &room->hop;
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
