/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `farend relays` computes: each path and band, and what would help where none holds. */
#include "app/relays_answer.h"

#include <math.h>
#include <stdlib.h>

#include "app/command.h"
#include "farend/radio_link.h"

/* Every metre, on long ways a thousandth. */
static const double FINEST_M = 1.0;
enum { STEPS = 1000, STEPS_OF_CHANGES = 100 };

static const double LEAST_BEAM_HEIGHT_M = 3.0;

static double step_of(double length_m, int steps)
{
    return fmax(FINEST_M, length_m / steps);
}

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

static bool is_better_pair(const relays_pair *a, const relays_pair *b)
{
    if (!b->gear || a->verdict != b->verdict)
        return !b->gear || a->verdict < b->verdict;
    return a->chance > b->chance;
}

static fe_status planned_pair(const radio_setup *setup, fe_band band, relays_pair *pair)
{
    fe_radio_result link;
    const fe_status status = fe_radio_best_link(&setup->plan, setup->path, band, true, &link);
    if (status < 0)
        return status == FE_E_NO_SOLUTION ? FE_OK : status;
    *pair = (relays_pair){link.gear[0], link.budget.chance,
                          link.budget.seasons[link.budget.worst].margin_db, link.verdict};
    fe_hop_budget_free(&link.budget);
    return status;
}

/* The ends of the options with this gear on them, outdoors and not too low. */
static fe_status pair_from_options(const radio_setup *setup, const fe_gear *gear, fe_band band,
                                   relays_pair *pair)
{
    fe_hop hop = setup->hop;
    fe_hop_budget budget;
    for (int end = 0; end < 2; end++)
        hop.ends[end] = (fe_station){
            .radio = fe_gear_radio(gear, band),
            .antenna_built_in = gear->antenna_built_in,
            .height_m = fmax(LEAST_BEAM_HEIGHT_M, setup->hop.ends[end].height_m),
            .mount = FE_MOUNT_OUTDOORS,
            .aim = setup->hop.ends[end].aim,
            .noise = setup->hop.ends[end].noise,
            .port_bps = gear->port_bps,
        };
    const fe_status status = fe_hop_budget_compute(&hop, setup->seasons, setup->season_count,
                                                   &setup->wanted, &budget);
    if (status < 0)
        return status == FE_E_NO_SOLUTION ? FE_OK : status;
    const double margin_db = budget.seasons[budget.worst].margin_db;
    const relays_pair found = {
        gear, budget.chance, margin_db,
        fe_radio_verdict(budget.chance, margin_db, setup->wanted.confidence)};
    if (is_better_pair(&found, pair))
        *pair = found;
    fe_hop_budget_free(&budget);
    return status;
}

static fe_status find_pair(const radio_setup *setup, fe_band band, relays_pair *pair)
{
    *pair = (relays_pair){.verdict = FE_VERDICT_FAILS};
    if (setup->from_plan)
        return planned_pair(setup, band, pair);
    fe_status status = FE_OK;
    for (size_t i = 0; i < setup->plan.gear_count && status >= 0; i++) {
        const fe_gear *gear = &setup->plan.gear[i];
        const fe_radio *radio = fe_gear_radio(gear, band);
        if (radio && gear->outdoor && fe_beam_is_narrow(radio->beam_rad))
            status = fe_status_worse(status, pair_from_options(setup, gear, band, pair));
    }
    return status;
}

/* ---- One search ---- */

static fe_status ask(const radio_setup *setup, const fe_relay_question *like, double rise_m,
                     double share, fe_relay_choice *choice)
{
    fe_relay_question question = *like;
    double masts_m[SETUP_MASTS];
    fe_wanted wanted = *like->wanted;
    for (size_t i = 0; i < setup->mast_count; i++)
        masts_m[i] = setup->masts_m[i] + rise_m;
    for (int i = 0; i < 2; i++)
        wanted.rate_bps[i] *= share;
    question.masts_m = masts_m;
    question.mast_count = setup->mast_count;
    question.wanted = &wanted;
    return fe_relay_choose(&question, choice);
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
    if (fe_chain_rate_shared(way->chain.hop_rate_bps, way->chain.hop_count,
                             FE_CHAIN_ONE_CHANNEL, FE_CHAIN_TURNS_IDEAL, &band->ideal_bps) < 0)
        band->ideal_bps = 0.0;
    return status;
}

/* ---- What would help ---- */

static void keep(relays_band *band, const relays_what_if *change)
{
    if (band->change_count < RELAYS_MOST_CHANGES)
        band->changes[band->change_count++] = *change;
}

static fe_status try_change(const radio_setup *setup, const fe_relay_question *question,
                            relays_what_if *change)
{
    fe_relay_choice *choice = malloc(sizeof *choice);
    if (!choice)
        return FE_E_MEMORY;
    const fe_status status =
        ask(setup, question, change->rise_m, change->share > 0.0 ? change->share : 1.0, choice);
    if (status >= 0) {
        const fe_chain *chain = &choice->ways[choice->best].chain;
        change->gear = choice->class.gear;
        change->relays = chain->relays;
        change->margin_db = chain->margin_db;
        change->chance = chain->chance;
        change->verdict = choice->verdict;
    }
    free(choice);
    return status;
}

/* The first of growing changes that holds. Where the greatest does not, the others are not
 * tried. */
static fe_status try_steps(const radio_setup *setup, const fe_relay_question *question,
                           const relays_what_if *steps, size_t count, relays_band *band)
{
    relays_what_if best = steps[count - 1];
    fe_status status = try_change(setup, question, &best);
    for (size_t i = 0; i + 1 < count && status >= 0; i++) {
        relays_what_if change = steps[i];
        if (best.verdict != FE_VERDICT_HOLDS)
            break;
        status = fe_status_worse(status, try_change(setup, question, &change));
        if (status < 0 || change.verdict != FE_VERDICT_HOLDS)
            continue;
        best = change;
        break;
    }
    if (status >= 0)
        keep(band, &best);
    return status;
}

static fe_status try_changes(const radio_setup *setup, const fe_relay_question *asked,
                             relays_band *band)
{
    static const relays_what_if ANYWHERE[] = {{.kind = RELAYS_ANYWHERE}};
    static const relays_what_if HIGHER[] = {{.kind = RELAYS_HIGHER, .rise_m = 1.0},
                                            {.kind = RELAYS_HIGHER, .rise_m = 2.0},
                                            {.kind = RELAYS_HIGHER, .rise_m = 4.0}};
    static const relays_what_if SLOWER[] = {{.kind = RELAYS_SLOWER, .share = 0.5},
                                            {.kind = RELAYS_SLOWER, .share = 0.25},
                                            {.kind = RELAYS_SLOWER, .share = 0.1}};
    fe_relay_question question = *asked;
    question.classes = &band->choice.class;
    question.class_count = 1;
    question.step_m = step_of(band->length_m, STEPS_OF_CHANGES);
    fe_status status = try_steps(setup, &question, HIGHER, 3, band);
    if (status >= 0)
        status = fe_status_worse(status, try_steps(setup, &question, SLOWER, 3, band));
    if (status >= 0 && question.places_m) {
        question.places_m = NULL;
        question.place_count = 0;
        status = fe_status_worse(status, try_steps(setup, &question, ANYWHERE, 1, band));
    }
    if (status >= 0 && band->pair.gear)
        keep(band, &(relays_what_if){.kind = RELAYS_PAIR,
                                     .gear = band->pair.gear,
                                     .margin_db = band->pair.margin_db,
                                     .chance = band->pair.chance,
                                     .verdict = band->pair.verdict});
    return status;
}

static int by_kind(const void *a, const void *b)
{
    const relays_what_if *x = a;
    const relays_what_if *y = b;
    return x->kind != y->kind ? (int)x->kind - (int)y->kind : (int)x->band - (int)y->band;
}

static relays_what_if change_to(const relays_band *other)
{
    const fe_chain *chain = relays_best(other);
    return (relays_what_if){.kind = RELAYS_BAND,
                            .band = other->band,
                            .gear = other->choice.class.gear,
                            .relays = chain->relays,
                            .margin_db = chain->margin_db,
                            .chance = chain->chance,
                            .verdict = other->choice.verdict};
}

/* Other bands of the path that were asked for are there already. */
static void compare_bands(relays_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        relays_band *band = &answer->bands[i];
        if (band->choice.verdict == FE_VERDICT_HOLDS)
            continue;
        for (size_t k = 0; k < answer->count; k++) {
            const relays_band *other = &answer->bands[k];
            if (k == i || other->path != band->path)
                continue;
            const relays_what_if change = change_to(other);
            keep(band, &change);
        }
        qsort(band->changes, band->change_count, sizeof band->changes[0], by_kind);
    }
}

/* ---- One band ---- */

static fe_status answer_band(const radio_setup *setup, const fe_relay_question *question,
                             bool changes, relays_band *band)
{
    fe_status status = ask(setup, question, 0.0, 1.0, &band->choice);
    if (status < 0 || !changes)
        return status;
    status = fe_status_worse(status, other_sharings(setup, band));
    if (status >= 0)
        status = fe_status_worse(status, find_pair(setup, band->band, &band->pair));
    if (status >= 0 && band->choice.verdict != FE_VERDICT_HOLDS)
        status = fe_status_worse(status, try_changes(setup, question, band));
    return status;
}

/* FE_E_NO_SOLUTION: no gear of the plan, or no class that relays, works in this band. Without
 * `changes` only the choice, on a coarser grid. */
static fe_status find_band(radio_setup *setup, bool changes, relays_band *band)
{
    const int steps = changes ? STEPS : STEPS_OF_CHANGES;
    fe_relay_class classes[FE_RELAY_MOST_CLASSES];
    double *places_m = NULL;
    size_t place_count = 0;
    fe_status status = tune(setup, band->band);
    if (status < 0)
        return status;
    const char *named = setup->from_plan ? setup->plan.relay.gear : setup->gear[0]->name;
    band->path = setup->path;
    band->length_m = fe_profile_length(setup->hop.ground);
    band->wanted = setup->wanted;
    band->ends[0] = setup->gear[0];
    band->ends[1] = setup->gear[1];
    if (setup->from_plan)
        status = fe_status_worse(status, fe_relay_places(&setup->plan, setup->path,
                                                         step_of(band->length_m, steps),
                                                         &places_m, &place_count));
    const fe_relay_question question = {
        .direct = &setup->hop,
        .band = band->band,
        .classes = classes,
        .class_count = fe_relay_classes(&setup->plan, named, band->band, classes),
        .places_m = places_m,
        .place_count = place_count,
        .step_m = step_of(band->length_m, steps),
        .seasons = setup->seasons,
        .season_count = setup->season_count,
        .wanted = &setup->wanted,
        .threads = command_threads(),
    };
    if (status >= 0)
        status = fe_status_worse(status, answer_band(setup, &question, changes, band));
    free(places_m);
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
    if (status >= 0) {
        const relays_what_if change = change_to(found);
        for (size_t i = first; i < answer->count; i++)
            if (answer->bands[i].choice.verdict != FE_VERDICT_HOLDS)
                keep(&answer->bands[i], &change);
    }
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
