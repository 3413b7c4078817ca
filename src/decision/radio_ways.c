/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Radio links of a plan: which gear at which end, in which band, and how many relays. */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>

#include "farend/radio_hop.h"
#include "farend/radio_link.h"
#include "farend/radio_relays.h"

static fe_status add_radio(const fe_radio_result *radio, fe_result *result)
{
    fe_radio_result *grown =
        realloc(result->radio, (result->radio_count + 1) * sizeof *result->radio);
    if (!grown)
        return FE_E_MEMORY;
    result->radio = grown;
    result->radio[result->radio_count++] = *radio;
    return FE_OK;
}

/* ---- Relays ---- */

static void keep_choice(const fe_relay_choice *choice, fe_relay_result *relays)
{
    relays->relay_gear = choice->class.gear;
    relays->owned = choice->class.owned;
    relays->chain_count = choice->count;
    relays->looked_at = choice->looked_at;
    for (size_t i = 0; i < choice->count; i++) {
        relays->chains[i] = choice->ways[i].chain;
        for (unsigned k = 0; k < choice->ways[i].chain.relays; k++) {
            relays->places_m[i][k] = choice->ways[i].places[k].at_m;
            relays->heights_m[i][k] = choice->ways[i].places[k].station.height_m;
        }
    }
    relays->best = (int)choice->best;
    relays->needed = choice->verdict == FE_VERDICT_HOLDS ? relays->best : -1;
    relays->verdict = choice->verdict;
    if (choice->best > 0)
        relays->relay_height_m = choice->ways[choice->best].places[0].station.height_m;
}

static fe_status ask_relays(const fe_plan *plan, const fe_radio_result *direct,
                            fe_relay_question *question, fe_relay_choice *choice)
{
    fe_relay_class classes[FE_RELAY_MOST_CLASSES];
    double masts_m[2];
    fe_relay_spot *places = NULL;
    fe_hop *hop = NULL;
    question->classes = classes;
    question->class_count = fe_relay_classes(plan, plan->relay.gear, direct->band, classes);
    question->masts_m = masts_m;
    question->mast_count = fe_relay_masts(plan, masts_m);
    fe_status status =
        fe_relay_places(plan, direct->path, question->step_m, &places, &question->place_count);
    if (status >= 0)
        status = fe_status_worse(
            status, fe_radio_hop(plan, direct->path, direct->gear, direct->band, &hop));
    question->places = places;
    question->direct = hop;
    if (status >= 0)
        status = fe_status_worse(status, fe_relay_choose(question, choice));
    free(places);
    free(hop);
    return status;
}

static fe_status size_alone(const fe_plan *plan, fe_relay_result *relays)
{
    if (!(relays->relay_gear->power_w > 0.0))
        return FE_OK;
    relays->alone = calloc(1, sizeof *relays->alone);
    if (!relays->alone)
        return FE_E_MEMORY;
    const fe_status status = fe_solar_for_gear(plan, relays->relay_gear, relays->alone);
    if (status < 0) {
        free(relays->alone);
        relays->alone = NULL;
    }
    return status;
}

static fe_status compute_relays(const fe_plan *plan, const fe_radio_result *direct,
                                fe_relay_result *relays)
{
    const double length_m = fe_profile_length(&plan->paths[direct->path].profile);
    fe_relay_question question = {.band = direct->band,
                                  .step_m = fe_relay_step(length_m),
                                  .seasons = plan->seasons,
                                  .season_count = plan->season_count,
                                  .wanted = &direct->wanted,
                                  .threads = 1};
    fe_relay_choice *choice = malloc(sizeof *choice);
    fe_status status = choice ? FE_OK : FE_E_MEMORY;
    if (status >= 0)
        status = ask_relays(plan, direct, &question, choice);
    *relays = (fe_relay_result){.path = direct->path,
                                .band = direct->band,
                                .end_gear = {direct->gear[0], direct->gear[1]},
                                .relay_height_m = plan->relay.height_m.typical};
    if (status >= 0) {
        keep_choice(choice, relays);
        status = fe_status_worse(status, size_alone(plan, relays));
    }
    free(choice);
    return status;
}

static fe_status add_relays(const fe_plan *plan, const fe_radio_result *direct,
                            fe_result *result)
{
    fe_relay_result *grown =
        realloc(result->relays, (result->relay_count + 1) * sizeof *result->relays);
    if (!grown)
        return FE_E_MEMORY;
    result->relays = grown;
    const fe_status status = compute_relays(plan, direct, &result->relays[result->relay_count]);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK; /* no class passes traffic on here, or none speaks with the ends */
    if (status >= 0)
        result->relay_count++;
    return status;
}

/*
 * Relays stand between the gear as it is; between beams where there is nothing else in the
 * band, whose links follow each other.
 */
static bool takes_relays(const fe_result *result, size_t index)
{
    const fe_radio_result *link = &result->radio[index];
    const fe_radio_result *before = index > 0 ? link - 1 : NULL;
    const bool first = !before || before->path != link->path || before->band != link->band;
    return !link->directional || (first && link->owned);
}

fe_status decide_relays(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->radio_count && status >= 0; i++)
        if (takes_relays(result, i))
            status = fe_status_worse(status, add_relays(plan, &result->radio[i], result));
    return status;
}

/* ---- Links ---- */

static fe_status decide_band(const fe_plan *plan, size_t path, fe_band band, fe_result *result)
{
    fe_status status = FE_OK;
    for (int directional = 0; directional < 2 && status >= 0; directional++) {
        fe_radio_result best;
        const fe_status found = fe_radio_best_link(plan, path, band, directional == 1, &best);
        if (found == FE_E_NO_SOLUTION)
            continue;
        status = fe_status_worse(status, found);
        if (status < 0)
            break;
        const fe_status added = add_radio(&best, result);
        if (added < 0)
            fe_hop_budget_free(&best.budget);
        status = fe_status_worse(status, added);
    }
    return status;
}

fe_status decide_links(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t path = 0; path < plan->path_count; path++)
        for (int band = 0; band < FE_BANDS && status >= 0; band++)
            if (plan->site.bands[band])
                status =
                    fe_status_worse(status, decide_band(plan, path, (fe_band)band, result));
    return status;
}
