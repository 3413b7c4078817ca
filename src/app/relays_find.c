/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `farend relays` computes: each path and band, and what would help where none holds. */
#include "app/relays_answer.h"

#include <stdlib.h>

#include "app/command.h"
#include "farend/radio_link.h"

static fe_status tune(radio_setup *setup, fe_band band)
{
    if (!setup->from_plan)
        return radio_setup_tune(setup, band, fe_band_frequency(band, setup->hop.region))
                   ? FE_OK
                   : FE_E_NO_SOLUTION;
    /* Where the plan has only gear with beams, relays stand between those. */
    return radio_setup_pair(setup, band, false);
}

/* ---- A pair with beams ---- */

static fe_status planned_pair(const radio_setup *setup, fe_band band, fe_beam_pair *pair)
{
    fe_radio_result link;
    const fe_status status = fe_radio_best_link(&setup->plan, setup->path, band, true, &link);
    if (status < 0)
        return status == FE_E_NO_SOLUTION ? FE_OK : status;
    *pair = (fe_beam_pair){link.gear[0], fe_radio_score_of(&link)};
    fe_hop_budget_free(&link.budget);
    return status;
}

static fe_status find_pair(const radio_setup *setup, fe_band band, fe_beam_pair *pair)
{
    *pair = (fe_beam_pair){.score = {.verdict = FE_VERDICT_FAILS}};
    if (setup->from_plan)
        return planned_pair(setup, band, pair);
    return fe_radio_beam_pair(&setup->plan, &setup->hop, band, setup->seasons,
                              setup->season_count, &setup->wanted, pair);
}

static fe_status other_sharings(const radio_setup *setup, relays_band *band)
{
    const fe_relay_way *way = &band->choice.ways[band->choice.best];
    fe_status status = FE_OK;
    for (int sharing = 0; sharing < 3 && status >= 0; sharing++) {
        fe_chain chain;
        status =
            fe_status_worse(status, fe_chain_at(&setup->hop, way->places, way->chain.relays,
                                                (fe_chain_sharing)sharing, setup->seasons,
                                                setup->season_count, &setup->wanted, &chain));
        if (status >= 0)
            band->sharing_bps[sharing] = chain.delivered_rate_bps;
    }
    /* A hop that carries nothing leaves nothing to share. */
    if (status >= 0 && way->chain.delivered_rate_bps > 0.0)
        status = fe_status_worse(
            status,
            fe_chain_rate_shared(way->chain.hop_rate_bps, way->chain.hop_count,
                                 FE_CHAIN_ONE_CHANNEL, FE_CHAIN_TURNS_IDEAL, &band->ideal_bps));
    return status;
}

/* ---- Other bands ---- */

/* Other bands of the path that were asked for are there already. */
static void compare_bands(relays_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        relays_band *band = &answer->bands[i];
        if (band->choice.verdict == FE_VERDICT_HOLDS)
            continue;
        for (size_t k = 0; k < answer->count; k++) {
            const relays_band *other = &answer->bands[k];
            if (k != i && other->path == band->path)
                fe_relay_changes_add_band(&band->changes, other->band, &other->choice);
        }
        fe_relay_changes_sort(&band->changes);
    }
}

/* ---- One band ---- */

static fe_status answer_band(const radio_setup *setup, const fe_relay_question *question,
                             bool changes, relays_band *band)
{
    fe_status status = fe_relay_choose(question, &band->choice);
    if (status < 0 || !changes)
        return status;
    status = fe_status_worse(status, other_sharings(setup, band));
    if (status >= 0)
        status = fe_status_worse(status, find_pair(setup, band->band, &band->pair));
    if (status < 0 || band->choice.verdict == FE_VERDICT_HOLDS)
        return status;
    status = fe_status_worse(
        status, fe_relay_changes_find(question, &band->choice, &band->pair, &band->changes));
    if (status >= 0 && setup->from_plan)
        status = fe_status_worse(
            status, fe_relay_changes_find_ends(&setup->plan, setup->path, question,
                                               &band->choice, band->ends, &band->changes));
    return status;
}

/* FE_E_NO_SOLUTION: no gear of the plan, or no class that relays, works in this band. Without
 * `changes` only the choice, on a coarser grid. */
static fe_status find_band(radio_setup *setup, bool changes, relays_band *band)
{
    fe_relay_class classes[FE_RELAY_MOST_CLASSES];
    fe_relay_spot *places = NULL;
    size_t place_count = 0;
    fe_status status = tune(setup, band->band);
    if (status < 0)
        return status;
    const char *named = setup->from_plan ? setup->plan.relay.gear : setup->gear[0]->name;
    band->path = setup->path;
    band->length_m = fe_profile_length(setup->hop.ground);
    const double step_m = fe_relay_step(band->length_m);
    band->wanted = setup->wanted;
    band->ends[0] = setup->gear[0];
    band->ends[1] = setup->gear[1];
    band->named = named ? fe_plan_gear(&setup->plan, named) : NULL;
    if (setup->from_plan)
        status = fe_status_worse(
            status, fe_relay_places(&setup->plan, setup->path, step_m, &places, &place_count));
    const fe_relay_question question = {
        .direct = &setup->hop,
        .band = band->band,
        .classes = classes,
        .class_count = fe_relay_classes(&setup->plan, named, band->band, classes),
        .places = places,
        .place_count = place_count,
        .masts_m = setup->masts_m,
        .mast_count = setup->mast_count,
        .step_m = step_m,
        .coarser = changes ? 0 : fe_relay_coarser(band->length_m),
        .seasons = setup->seasons,
        .season_count = setup->season_count,
        .wanted = &setup->wanted,
        .threads = command_threads(),
    };
    if (status >= 0)
        status = fe_status_worse(status, answer_band(setup, &question, changes, band));
    free(places);
    return status;
}

/* A band nobody asked for, beside those of a path that failed. */
static fe_status try_other(relays_answer *answer, fe_band other, size_t first)
{
    relays_band *found = calloc(1, sizeof *found);
    if (!found)
        return FE_E_MEMORY;
    found->band = other;
    fe_status status = find_band(&answer->setup, false, found);
    for (size_t i = first; i < answer->count && status >= 0; i++)
        if (answer->bands[i].choice.verdict != FE_VERDICT_HOLDS)
            fe_relay_changes_add_band(&answer->bands[i].changes, other, &found->choice);
    free(found);
    return status == FE_E_NO_SOLUTION ? FE_OK : status;
}

static bool any_fails(const relays_answer *answer, size_t first)
{
    for (size_t i = first; i < answer->count; i++)
        if (answer->bands[i].choice.verdict != FE_VERDICT_HOLDS)
            return true;
    return false;
}

static fe_status find_path(relays_answer *answer)
{
    fe_status status = FE_OK;
    const size_t first = answer->count;
    for (int band = 0; band < FE_BANDS && status >= 0; band++) {
        relays_band *to = &answer->bands[answer->count];
        if (!answer->setup.bands[band])
            continue;
        *to = (relays_band){.band = (fe_band)band};
        const fe_status found = find_band(&answer->setup, true, to);
        if (found == FE_E_NO_SOLUTION)
            continue;
        status = fe_status_worse(status, found);
        answer->count += status >= 0;
    }
    answer->path_count++;
    for (int band = 0; band < FE_BANDS && status >= 0 && any_fails(answer, first); band++)
        if (answer->others[band])
            status = fe_status_worse(status, try_other(answer, (fe_band)band, first));
    return status;
}

fe_status relays_find(relays_answer *answer, bool all)
{
    radio_setup *setup = &answer->setup;
    const size_t paths = all ? setup->plan.path_count : 1;
    answer->bands = calloc(paths * FE_BANDS, sizeof *answer->bands);
    if (!answer->bands)
        return FE_E_MEMORY;
    fe_status status = FE_OK;
    for (size_t i = 0; i < paths && status >= 0; i++) {
        if (all)
            radio_setup_path(setup, i);
        status = fe_status_worse(status, find_path(answer));
    }
    compare_bands(answer);
    return status;
}
