/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/radio_link.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/clutter.h"
#include "farend/radio_hop.h"
#include "farend/street.h"

/* ---- Verdict ---- */

fe_verdict fe_radio_verdict(double chance, double margin_db, double confidence)
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
    if (fe_path_loss_is_buried(loss)) {
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
        {"trees and roofs on the profile", loss->standing_db},
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
    beside->computed_db =
        loss->free_space_db + loss->ground_db + loss->standing_db + loss->trees_db;
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

fe_status fe_radio_link(const fe_plan *plan, size_t path, const fe_gear *const gear[2],
                        fe_band band, fe_radio_result *radio)
{
    fe_radio_result found = {.path = path,
                             .band = band,
                             .gear = {gear[0], gear[1]},
                             .wanted = fe_radio_wanted(plan, path)};
    fe_hop *hop = NULL;
    fe_status status = fe_radio_hop(plan, path, gear, band, &hop);
    if (status >= 0)
        status = fe_status_worse(status,
                                 fe_standing_list(hop, found.standing, FE_RADIO_MOST_STANDING,
                                                  &found.standing_count));
    if (status >= 0)
        status = fe_status_worse(status,
                                 fe_hop_budget_compute(hop, plan->seasons, plan->season_count,
                                                       &found.wanted, &found.budget));
    if (status < 0)
        goto done;

    found.f_hz = hop->f_hz;
    for (int end = 0; end < 2; end++) {
        found.mount[end] = hop->ends[end].mount;
        found.height_m[end] = hop->ends[end].height_m;
    }
    found.verdict = fe_radio_verdict(found.budget.chance,
                                     found.budget.seasons[found.budget.worst].margin_db,
                                     found.wanted.confidence);
    name_limit(&found);
    put_plausibility(&found);
    *radio = found;
done:
    free(hop);
    return status;
}

/* ---- What building costs ---- */

static fe_status take_part(const fe_build_part *part, fe_radio_build_part *taken)
{
    fe_spread spread;
    const fe_status status = fe_build_part_spread(part, &spread);
    if (status >= 0)
        *taken = (fe_radio_build_part){part->label, part->source, part->end,
                                       fe_spread_quantile(&spread, 0.5),
                                       fe_spread_quantile(&spread, 0.9)};
    return status;
}

fe_status fe_radio_build(const fe_plan *plan, const fe_radio_result *radio,
                         fe_radio_build_part *parts, size_t *count)
{
    fe_build_part all[FE_BUILD_MOST_PARTS];
    size_t found = 0;
    fe_hop *hop = NULL;
    const fe_path_loss *loss = &radio->budget.seasons[radio->budget.worst].loss;
    fe_status status = fe_radio_hop(plan, radio->path, radio->gear, radio->band, &hop);
    if (status < 0)
        return status;
    if (isfinite(loss->total_db))
        fe_build_parts(hop, loss, all, &found);
    for (size_t i = 0; i < found && status >= 0; i++)
        status = fe_status_worse(status, take_part(&all[i], &parts[i]));
    free(hop);
    if (status >= 0)
        *count = found;
    return status;
}

/* ---- Which gear ---- */

/* A class that hangs outdoors and has a beam in the band. */
static bool is_beam(const fe_gear *gear, fe_band band)
{
    const fe_radio *radio = fe_gear_radio(gear, band);
    return radio && gear->outdoor && fe_beam_is_narrow(radio->beam_rad);
}

static bool pair_is_directional(const fe_gear *a, const fe_gear *b, fe_band band)
{
    return fe_beam_is_narrow(fe_gear_radio(a, band)->beam_rad) &&
           fe_beam_is_narrow(fe_gear_radio(b, band)->beam_rad);
}

bool fe_radio_score_is_better(const fe_radio_score *a, const fe_radio_score *b)
{
    static const double SAME_CHANCE = 0.005;
    if (a->verdict != b->verdict)
        return a->verdict < b->verdict;
    if (fabs(a->chance - b->chance) > SAME_CHANCE)
        return a->chance > b->chance;
    return a->margin_db > b->margin_db;
}

fe_radio_score fe_radio_score_of(const fe_radio_result *radio)
{
    return (fe_radio_score){radio->verdict, radio->budget.chance,
                            radio->budget.seasons[radio->budget.worst].margin_db};
}

bool fe_radio_is_better(const fe_radio_result *a, const fe_radio_result *b)
{
    const fe_radio_score x = fe_radio_score_of(a);
    const fe_radio_score y = fe_radio_score_of(b);
    return fe_radio_score_is_better(&x, &y);
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
    return fe_radio_is_better(a, b);
}

/* The best pair of a band so far. */
typedef struct pair_search {
    const fe_plan *plan;
    size_t path;
    fe_band band;
    bool found;
    fe_radio_result best;
} pair_search;

/* Pairs that cannot talk or may not are none. */
static fe_status try_pair(pair_search *search, const fe_gear *a, const fe_gear *b)
{
    const fe_gear *const gear[2] = {a, b};
    fe_radio_result radio;
    const fe_status status =
        fe_radio_link(search->plan, search->path, gear, search->band, &radio);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK;
    if (status < 0)
        return status;
    if (search->found && !is_preferred(search->plan, &radio, &search->best)) {
        fe_hop_budget_free(&radio.budget);
        return status;
    }
    if (search->found)
        fe_hop_budget_free(&search->best.budget);
    search->best = radio;
    search->found = true;
    return status;
}

/* One class at both ends: who buys a pair buys two of the same. */
static fe_status try_beams(pair_search *search)
{
    const fe_plan *plan = search->plan;
    fe_status status = FE_OK;
    for (size_t i = 0; i < plan->gear_count && status >= 0; i++)
        if (is_beam(&plan->gear[i], search->band))
            status = fe_status_worse(status, try_pair(search, &plan->gear[i], &plan->gear[i]));
    return status;
}

/* Every pair that the ends list and that has a radio in the band. */
static fe_status try_listed(pair_search *search)
{
    const fe_plan *plan = search->plan;
    const fe_plan_path *way = &plan->paths[search->path];
    const fe_text_list *from = &plan->ends[way->from].gear;
    const fe_text_list *to = &plan->ends[way->to].gear;
    fe_status status = FE_OK;
    for (size_t i = 0; i < from->count * to->count && status >= 0; i++) {
        const fe_gear *a = fe_plan_gear(plan, from->items[i / to->count]);
        const fe_gear *b = fe_plan_gear(plan, to->items[i % to->count]);
        if (a && b && fe_gear_radio(a, search->band) && fe_gear_radio(b, search->band) &&
            !pair_is_directional(a, b, search->band))
            status = fe_status_worse(status, try_pair(search, a, b));
    }
    return status;
}

fe_status fe_radio_best_link(const fe_plan *plan, size_t path, fe_band band, bool directional,
                             fe_radio_result *best)
{
    if (path >= plan->path_count)
        return FE_E_DOMAIN;
    pair_search search = {.plan = plan, .path = path, .band = band};
    const fe_status status = directional ? try_beams(&search) : try_listed(&search);
    if (status < 0 && search.found)
        fe_hop_budget_free(&search.best.budget);
    if (status < 0)
        return status;
    if (!search.found)
        return FE_E_NO_SOLUTION;
    *best = search.best;
    best->directional = directional;
    best->owned = is_listed(plan, best);
    return status;
}

fe_status fe_radio_reported_link(const fe_plan *plan, size_t path, fe_band band, bool aimed,
                                 fe_radio_result *link)
{
    fe_radio_result own;
    fe_radio_result beams;
    const fe_status found = fe_radio_best_link(plan, path, band, false, &own);
    if (found == FE_E_NO_SOLUTION)
        return fe_radio_best_link(plan, path, band, true, link);
    if (found < 0)
        return found;
    const fe_status other =
        aimed ? fe_radio_best_link(plan, path, band, true, &beams) : FE_E_NO_SOLUTION;
    if (other >= 0 && beams.owned && fe_radio_is_better(&beams, &own)) {
        fe_hop_budget_free(&own.budget);
        *link = beams;
        return other;
    }
    if (other >= 0)
        fe_hop_budget_free(&beams.budget);
    if (other < 0 && other != FE_E_NO_SOLUTION) {
        fe_hop_budget_free(&own.budget);
        return other;
    }
    *link = own;
    return found;
}

/* ---- Without a plan ---- */

static const double LEAST_BEAM_HEIGHT_M = 3.0;

static fe_hop hop_with(const fe_hop *like, const fe_gear *gear, fe_band band)
{
    fe_hop hop = *like;
    for (int end = 0; end < 2; end++)
        hop.ends[end] = (fe_station){
            .radio = fe_gear_radio(gear, band),
            .antenna_built_in = gear->antenna_built_in,
            .height_m = fmax(LEAST_BEAM_HEIGHT_M, like->ends[end].height_m),
            .mount = FE_MOUNT_OUTDOORS,
            .aim = like->ends[end].aim,
            .noise = like->ends[end].noise,
            .port_bps = gear->port_bps,
        };
    return hop;
}

fe_status fe_radio_beam_pair(const fe_plan *plan, const fe_hop *like, fe_band band,
                             const fe_season *seasons, size_t season_count,
                             const fe_wanted *wanted, fe_beam_pair *pair)
{
    fe_beam_pair best = {.score = {.verdict = FE_VERDICT_FAILS}};
    fe_status status = FE_OK;
    for (size_t i = 0; i < plan->gear_count; i++) {
        const fe_gear *gear = &plan->gear[i];
        if (!is_beam(gear, band))
            continue;
        const fe_hop hop = hop_with(like, gear, band);
        fe_hop_budget budget;
        const fe_status tried =
            fe_hop_budget_compute(&hop, seasons, season_count, wanted, &budget);
        if (tried == FE_E_NO_SOLUTION)
            continue;
        if (tried < 0)
            return tried;
        status = fe_status_worse(status, tried);
        const double margin_db = budget.seasons[budget.worst].margin_db;
        const fe_beam_pair found = {
            gear,
            {fe_radio_verdict(budget.chance, margin_db, wanted->confidence), budget.chance,
             margin_db}};
        if (!best.gear || fe_radio_score_is_better(&found.score, &best.score))
            best = found;
        fe_hop_budget_free(&budget);
    }
    *pair = best;
    return status;
}
