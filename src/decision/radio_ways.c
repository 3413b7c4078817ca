/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Radio links of a plan: which gear at which end, in which band, and how many relays. */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/clutter.h"
#include "farend/feeder.h"
#include "farend/street.h"

enum { MOST_WALLS = 12, MOST_STANDS = 32, MOST_GEAR = 24 };

/* A hop with the room its pointers need. */
typedef struct hop_room {
    fe_hop hop;
    fe_hop_wall walls[2][MOST_WALLS];
    fe_stand stands[MOST_STANDS];
} hop_room;

/* ---- From a plan to a hop ---- */

/* Gear that is built for the weather and has a beam hangs outdoors, whatever else is inside. */
static fe_mount mount_of(const fe_plan_end *end, const fe_gear *gear, const fe_radio *radio)
{
    if (gear->outdoor && fe_beam_is_narrow(radio->beam_rad))
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
        .mount = mount_of(end, gear, radio),
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

static fe_status make_hop(const fe_plan *plan, size_t path, const fe_gear *const gear[2],
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

fe_status fe_radio_hop(const fe_plan *plan, const fe_radio_result *radio, fe_hop **hop)
{
    hop_room *room = malloc(sizeof *room);
    if (!room)
        return FE_E_MEMORY;
    const fe_status status = make_hop(plan, radio->path, radio->gear, radio->band, room);
    if (status < 0)
        free(room);
    else
        *hop = &room->hop; /* its first member, so that free() finds all of it */
    return status;
}

void decide_rates(const fe_plan *plan, size_t path, double rate_bps[2])
{
    const fe_plan_path *way = &plan->paths[path];
    rate_bps[0] = rate_bps[1] = 0.0;
    for (size_t i = 0; i < plan->traffic_count; i++) {
        const fe_plan_traffic *traffic = &plan->traffic[i];
        double bps = traffic->stream_bps.typical;
        if (traffic->transfer_bit.given != FE_GIVEN_NOT)
            bps += traffic->transfer_bit.typical / traffic->transfer_s.typical;
        if (traffic->from == way->from && traffic->to == way->to)
            rate_bps[0] += bps;
        else if (traffic->from == way->to && traffic->to == way->from)
            rate_bps[1] += bps;
    }
}

static fe_wanted wanted_of(const fe_plan *plan, size_t path)
{
    fe_wanted wanted = {
        .airtime = 1.0,
        .availability = plan->site.availability.typical,
        .confidence = plan->site.confidence.typical,
    };
    decide_rates(plan, path, wanted.rate_bps);
    return wanted;
}

/* ---- Verdict ---- */

static fe_verdict verdict_of_chance(double chance, double margin_db, double confidence)
{
    if (chance >= confidence)
        return FE_VERDICT_HOLDS;
    return margin_db >= 0.0 && chance > 0.0 ? FE_VERDICT_TIGHT : FE_VERDICT_FAILS;
}

/* The largest single loss that something can be done about, or the distance itself. */
static void name_limit(fe_radio_result *radio)
{
    const fe_hop_season *season = &radio->budget.seasons[radio->budget.worst];
    const fe_path_loss *loss = &season->loss;
    radio->limit_db = (double)NAN;
    if (loss->buried[0] || loss->buried[1]) {
        radio->limit = "an antenna under the snow";
        return;
    }
    if (!radio->budget.carries_rate) {
        radio->limit = radio->budget.duty_cycle < 1.0
                           ? "the share of time the rules allow to transmit"
                           : "the fastest rate of this gear";
        return;
    }
    const struct {
        const char *name;
        double loss_db;
    } parts[] = {
        {"trees", loss->trees_db},
        {"the ground in the way", loss->ground_db},
        {"walls", loss->wall_db[0] + loss->wall_db[1]},
        {"wet antenna covers", loss->cover_db[0] + loss->cover_db[1]},
    };
    static const double WORTH_NAMING_DB = 6.0;
    radio->limit = "the distance";
    radio->limit_db = loss->free_space_db;
    double largest_db = WORTH_NAMING_DB;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        if (parts[i].loss_db > largest_db) {
            largest_db = parts[i].loss_db;
            radio->limit = parts[i].name;
            radio->limit_db = parts[i].loss_db;
        }
}

/* Laws among buildings for the same distance; statuses below zero leave NAN. */
static void put_plausibility(fe_radio_result *radio)
{
    const fe_path_loss *loss = &radio->budget.seasons[radio->budget.worst].loss;
    fe_plausibility *beside = &radio->plausibility;
    const bool clear =
        loss->has_tightest && loss->tightest.clearance_ratio > 0.0 && loss->trees_db < 3.0;
    beside->street = clear ? "los_urban_suburban" : "nlos_residential";
    beside->computed_db = loss->free_space_db + loss->ground_db + loss->trees_db;
    beside->street_low_db = beside->street_median_db = beside->street_high_db = (double)NAN;
    beside->clutter_db = (double)NAN;
    fe_street_loss street;
    const fe_street_law *law = fe_street_law_find(beside->street);
    fe_status status =
        law ? fe_street_site_general(law, radio->f_hz, loss->distance_m, &street) : FE_E_DOMAIN;
    if (status >= 0) {
        beside->street_low_db = street.p10_db;
        beside->street_median_db = street.median_db;
        beside->street_high_db = street.p90_db;
        beside->street_stated = status == FE_OK;
    }
    status = fe_clutter_statistical(radio->f_hz, loss->distance_m, 0.5, &beside->clutter_db);
    beside->clutter_stated = status == FE_OK;
}

fe_status decide_link(const fe_plan *plan, size_t path, const fe_gear *const gear[2],
                      fe_band band, fe_radio_result *radio)
{
    fe_radio_result found = {.path = path,
                             .band = band,
                             .gear = {gear[0], gear[1]},
                             .wanted = wanted_of(plan, path)};
    hop_room *room = malloc(sizeof *room);
    fe_status status = room ? FE_OK : FE_E_MEMORY;
    if (status >= 0)
        status = make_hop(plan, path, gear, band, room);
    if (status >= 0)
        status = fe_status_worse(status, fe_hop_budget_compute(&room->hop, plan->seasons,
                                                               plan->season_count,
                                                               &found.wanted, &found.budget));
    if (status < 0)
        goto done;

    found.f_hz = room->hop.f_hz;
    for (int end = 0; end < 2; end++) {
        found.mount[end] = room->hop.ends[end].mount;
        found.height_m[end] = room->hop.ends[end].height_m;
    }
    found.verdict = verdict_of_chance(found.budget.chance,
                                      found.budget.seasons[found.budget.worst].margin_db,
                                      found.wanted.confidence);
    name_limit(&found);
    put_plausibility(&found);
    *radio = found;
done:
    free(room);
    return status;
}

/* ---- Which gear ---- */

typedef struct gear_list {
    const fe_gear *items[MOST_GEAR];
    size_t count;
} gear_list;

static gear_list gear_of_end(const fe_plan *plan, size_t end, fe_band band)
{
    gear_list list = {.count = 0};
    const fe_plan_end *at = &plan->ends[end];
    for (size_t i = 0; i < at->gear.count && list.count < MOST_GEAR; i++) {
        const fe_gear *gear = fe_plan_gear(plan, at->gear.items[i]);
        if (gear && fe_gear_radio(gear, band))
            list.items[list.count++] = gear;
    }
    return list;
}

/* Every class of the catalogue that hangs outdoors and has a beam in the band. */
static gear_list directional_gear(const fe_plan *plan, fe_band band)
{
    gear_list list = {.count = 0};
    for (size_t i = 0; i < plan->gear_count && list.count < MOST_GEAR; i++) {
        const fe_radio *radio = fe_gear_radio(&plan->gear[i], band);
        if (radio && plan->gear[i].outdoor && fe_beam_is_narrow(radio->beam_rad))
            list.items[list.count++] = &plan->gear[i];
    }
    return list;
}

static bool pair_is_directional(const fe_gear *a, const fe_gear *b, fe_band band)
{
    return fe_beam_is_narrow(fe_gear_radio(a, band)->beam_rad) &&
           fe_beam_is_narrow(fe_gear_radio(b, band)->beam_rad);
}

bool decide_is_better(const fe_radio_result *a, const fe_radio_result *b)
{
    if (a->verdict != b->verdict)
        return a->verdict < b->verdict;
    if (fabs(a->budget.chance - b->budget.chance) > 0.005)
        return a->budget.chance > b->budget.chance;
    return a->budget.seasons[a->budget.worst].margin_db >
           b->budget.seasons[b->budget.worst].margin_db;
}

static bool end_lists(const fe_plan *plan, size_t end, const fe_gear *gear)
{
    for (size_t i = 0; i < plan->ends[end].gear.count; i++)
        if (strcmp(plan->ends[end].gear.items[i], gear->name) == 0)
            return true;
    return false;
}

static bool is_listed(const fe_plan *plan, const fe_radio_result *radio)
{
    const fe_plan_path *way = &plan->paths[radio->path];
    return end_lists(plan, way->from, radio->gear[0]) &&
           end_lists(plan, way->to, radio->gear[1]);
}

/* Of two pairs that both hold, gear that the plan names goes before a stronger one that it does
 * not. */
static bool is_preferred(const fe_plan *plan, const fe_radio_result *a,
                         const fe_radio_result *b)
{
    const bool both = a->verdict == FE_VERDICT_HOLDS && b->verdict == FE_VERDICT_HOLDS;
    if (both && is_listed(plan, a) != is_listed(plan, b))
        return is_listed(plan, a);
    return decide_is_better(a, b);
}

/* Tries a pair; keeps the better of it and *best. Pairs that cannot talk or may not are none.
 */
static fe_status try_pair(const fe_plan *plan, size_t path, const fe_gear *a, const fe_gear *b,
                          fe_band band, bool *found, fe_radio_result *best)
{
    const fe_gear *const gear[2] = {a, b};
    fe_radio_result radio;
    const fe_status status = decide_link(plan, path, gear, band, &radio);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK;
    if (status < 0)
        return status;
    if (*found && !is_preferred(plan, &radio, best)) {
        fe_hop_budget_free(&radio.budget);
        return status;
    }
    if (*found)
        fe_hop_budget_free(&best->budget);
    *best = radio;
    *found = true;
    return status;
}

/* The best pair of a band: of the plan's own gear as it is, or of directional gear. */
static fe_status best_of_band(const fe_plan *plan, size_t path, fe_band band, bool directional,
                              bool *found, fe_radio_result *best)
{
    const fe_plan_path *way = &plan->paths[path];
    gear_list a =
        directional ? directional_gear(plan, band) : gear_of_end(plan, way->from, band);
    gear_list b = directional ? a : gear_of_end(plan, way->to, band);
    fe_status status = FE_OK;
    *found = false;
    for (size_t i = 0; i < a.count; i++)
        for (size_t j = 0; j < b.count && status >= 0; j++) {
            /* One class at both ends: who buys a pair buys two of the same. */
            if (directional && i != j)
                continue;
            if (!directional && pair_is_directional(a.items[i], b.items[j], band))
                continue;
            status = fe_status_worse(
                status, try_pair(plan, path, a.items[i], b.items[j], band, found, best));
        }
    if (status >= 0 && *found)
        best->directional = directional;
    return status;
}

static fe_status add_radio(const fe_plan *plan, const fe_radio_result *radio, fe_result *result)
{
    fe_radio_result *grown =
        realloc(result->radio, (result->radio_count + 1) * sizeof *result->radio);
    if (!grown)
        return FE_E_MEMORY;
    result->radio = grown;
    fe_radio_result *added = &result->radio[result->radio_count++];
    *added = *radio;
    added->owned = is_listed(plan, added);
    return FE_OK;
}

/* ---- Relays ---- */

static const fe_gear *able_relay(const fe_plan *plan, const char *name, fe_band band)
{
    const fe_gear *gear = name ? fe_plan_gear(plan, name) : NULL;
    return gear && gear->relays && fe_gear_radio(gear, band) ? gear : NULL;
}

/* The plan's class first, then gear already owned, then the plainest class of the catalogue. */
static const fe_gear *relay_gear(const fe_plan *plan, fe_band band)
{
    const fe_gear *gear = able_relay(plan, plan->relay.gear, band);
    for (size_t i = 0; i < plan->owned_count && !gear; i++)
        gear = able_relay(plan, plan->owned[i].gear, band);
    const char *const names[] = {"indoor-extender", "outdoor-access-point", "sub-ghz-station"};
    for (size_t i = 0; i < sizeof names / sizeof names[0] && !gear; i++)
        gear = able_relay(plan, names[i], band);
    return gear;
}

static void judge_chains(fe_relay_result *relays, double confidence)
{
    relays->needed = -1;
    relays->best = 0;
    for (size_t i = 0; i < relays->chain_count; i++) {
        const fe_chain *chain = &relays->chains[i];
        if (chain->chance > relays->chains[relays->best].chance)
            relays->best = (int)i;
        if (relays->needed < 0 && chain->chance >= confidence)
            relays->needed = (int)i;
    }
    if (relays->needed >= 0)
        relays->best = relays->needed;
    /* The median chain is not the chain of median hops: with many, one is sure to be worse. */
    const fe_chain *best = &relays->chains[relays->best];
    const double margin_db = best->chance >= 0.5 ? best->margin_db : -INFINITY;
    relays->verdict = verdict_of_chance(best->chance, margin_db, confidence);
}

static fe_status compute_chains(const fe_plan *plan, const fe_radio_result *direct,
                                const hop_room *room, fe_relay_result *relays)
{
    const fe_station relay = {
        .radio = fe_gear_radio(relays->relay_gear, direct->band),
        .antenna_built_in = relays->relay_gear->antenna_built_in,
        .height_m = relays->relay_height_m,
        .mount = FE_MOUNT_OUTDOORS,
        .noise = room->hop.ends[1].noise,
    };
    fe_status status = FE_OK;
    for (unsigned n = 0; n <= FE_CHAIN_MOST_RELAYS && status >= 0; n++) {
        status = fe_status_worse(status, fe_chain_equal(&room->hop, &relay, n, plan->seasons,
                                                        plan->season_count, &direct->wanted,
                                                        &relays->chains[n]));
        relays->chain_count = n + 1;
        /* One more than needed shows what another would bring; beyond that none helps. */
        if (status >= 0 && n > 0 && relays->chains[n - 1].chance >= direct->wanted.confidence)
            break;
    }
    return status;
}

static fe_status compute_relays(const fe_plan *plan, const fe_radio_result *direct,
                                const fe_gear *gear, fe_relay_result *relays)
{
    hop_room *room = malloc(sizeof *room);
    *relays = (fe_relay_result){.path = direct->path,
                                .band = direct->band,
                                .end_gear = {direct->gear[0], direct->gear[1]},
                                .relay_gear = gear,
                                .relay_height_m = plan->relay.height_m.typical};
    fe_status status = room ? FE_OK : FE_E_MEMORY;
    if (status >= 0)
        status = make_hop(plan, direct->path, direct->gear, direct->band, room);
    if (status >= 0)
        status = fe_status_worse(status, compute_chains(plan, direct, room, relays));
    if (status >= 0)
        judge_chains(relays, direct->wanted.confidence);
    free(room);
    return status;
}

static fe_status add_relays(const fe_plan *plan, const fe_radio_result *direct,
                            fe_result *result)
{
    const fe_gear *gear = relay_gear(plan, direct->band);
    if (!gear)
        return FE_OK;
    fe_relay_result *grown =
        realloc(result->relays, (result->relay_count + 1) * sizeof *result->relays);
    if (!grown)
        return FE_E_MEMORY;
    result->relays = grown;
    const fe_status status =
        compute_relays(plan, direct, gear, &result->relays[result->relay_count]);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK; /* ends and relay do not speak the same standard */
    if (status >= 0)
        result->relay_count++;
    return status;
}

/* ---- All of it ---- */

static fe_status decide_band(const fe_plan *plan, size_t path, fe_band band, fe_result *result)
{
    fe_status status = FE_OK;
    for (int directional = 0; directional < 2 && status >= 0; directional++) {
        bool found = false;
        fe_radio_result best;
        status = fe_status_worse(
            status, best_of_band(plan, path, band, directional == 1, &found, &best));
        if (!found)
            continue;
        if (status >= 0 && directional == 0)
            status = fe_status_worse(status, add_relays(plan, &best, result));
        const fe_status added = status >= 0 ? add_radio(plan, &best, result) : status;
        if (added < 0)
            fe_hop_budget_free(&best.budget);
        status = fe_status_worse(status, added);
    }
    return status;
}

fe_status decide_radio(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t path = 0; path < plan->path_count; path++)
        for (int band = 0; band < FE_BANDS && status >= 0; band++)
            if (plan->site.bands[band])
                status =
                    fe_status_worse(status, decide_band(plan, path, (fe_band)band, result));
    return status;
}
