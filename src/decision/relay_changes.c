/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/relay_changes.h"

#include <math.h>
#include <stdlib.h>

#include "farend/radio_hop.h"

static void keep(fe_relay_what_ifs *changes, const fe_relay_what_if *change)
{
    if (changes->count < sizeof changes->items / sizeof changes->items[0])
        changes->items[changes->count++] = *change;
}

/* The question with one thing changed; the room for masts and rates is the caller's. */
static fe_relay_question changed(const fe_relay_question *like, const fe_relay_what_if *change,
                                 double masts_m[FE_RELAY_MOST_MASTS], fe_wanted *wanted)
{
    fe_relay_question question = *like;
    *wanted = *like->wanted;
    question.mast_count =
        like->mast_count < FE_RELAY_MOST_MASTS ? like->mast_count : FE_RELAY_MOST_MASTS;
    for (size_t i = 0; i < question.mast_count; i++)
        masts_m[i] = like->masts_m[i] + change->rise_m;
    for (int i = 0; i < 2 && change->kind == FE_RELAY_SLOWER; i++)
        wanted->rate_bps[i] *= change->share;
    question.masts_m = masts_m;
    question.wanted = wanted;
    return question;
}

static void take(const fe_relay_choice *choice, fe_relay_what_if *change)
{
    const fe_chain *chain = &choice->ways[choice->best].chain;
    change->gear = choice->class.gear;
    change->relays = chain->relays;
    change->score = (fe_radio_score){choice->verdict, chain->chance, chain->margin_db};
}

static fe_status try_change(const fe_relay_question *like, fe_relay_what_if *change)
{
    double masts_m[FE_RELAY_MOST_MASTS];
    fe_wanted wanted;
    const fe_relay_question question = changed(like, change, masts_m, &wanted);
    fe_relay_choice *choice = malloc(sizeof *choice);
    if (!choice)
        return FE_E_MEMORY;
    const fe_status status = fe_relay_choose(&question, choice);
    if (status >= 0)
        take(choice, change);
    free(choice);
    return status;
}

/* The question of the class that was taken, in coarse steps. */
static fe_relay_question narrowed(const fe_relay_question *asked, const fe_relay_choice *choice)
{
    fe_relay_question question = *asked;
    question.classes = &choice->class;
    question.class_count = 1;
    question.coarser = fe_relay_coarser(fe_profile_length(asked->direct->ground));
    return question;
}

/* The first of growing changes that holds. Where the greatest does not, the others are not
 * tried. */
static fe_status try_steps(const fe_relay_question *question, const fe_relay_what_if *steps,
                           size_t count, fe_relay_what_ifs *changes)
{
    fe_relay_what_if best = steps[count - 1];
    fe_status status = try_change(question, &best);
    for (size_t i = 0; i + 1 < count && status >= 0; i++) {
        fe_relay_what_if change = steps[i];
        if (best.score.verdict != FE_VERDICT_HOLDS)
            break;
        status = fe_status_worse(status, try_change(question, &change));
        if (status < 0 || change.score.verdict != FE_VERDICT_HOLDS)
            continue;
        best = change;
        break;
    }
    if (status >= 0)
        keep(changes, &best);
    return status;
}

fe_status fe_relay_changes_find(const fe_relay_question *asked, const fe_relay_choice *choice,
                                const fe_beam_pair *pair, fe_relay_what_ifs *changes)
{
    static const fe_relay_what_if ANYWHERE[] = {{.kind = FE_RELAY_ANYWHERE}};
    static const fe_relay_what_if HIGHER[] = {{.kind = FE_RELAY_HIGHER, .rise_m = 1.0},
                                              {.kind = FE_RELAY_HIGHER, .rise_m = 2.0},
                                              {.kind = FE_RELAY_HIGHER, .rise_m = 4.0}};
    static const fe_relay_what_if SLOWER[] = {{.kind = FE_RELAY_SLOWER, .share = 0.5},
                                              {.kind = FE_RELAY_SLOWER, .share = 0.25},
                                              {.kind = FE_RELAY_SLOWER, .share = 0.1}};
    fe_relay_question question = narrowed(asked, choice);
    fe_status status = try_steps(&question, HIGHER, 3, changes);
    if (status >= 0)
        status = fe_status_worse(status, try_steps(&question, SLOWER, 3, changes));
    if (status >= 0 && question.places) {
        question.places = NULL;
        question.place_count = 0;
        status = fe_status_worse(status, try_steps(&question, ANYWHERE, 1, changes));
    }
    if (status >= 0 && pair->gear)
        keep(changes, &(fe_relay_what_if){
                          .kind = FE_RELAY_BEAMS, .gear = pair->gear, .score = pair->score});
    return status;
}

/* ---- Other gear at the ends ---- */

/* The way that the ends are compared on: with a relay, where there is one at all. */
static const fe_relay_way *way_of(const fe_relay_choice *choice)
{
    const size_t at = choice->best == 0 && choice->count > 1 ? 1 : choice->best;
    return &choice->ways[at];
}

static fe_status score_ends(const fe_plan *plan, size_t path, const fe_relay_question *question,
                            const fe_relay_way *way, const fe_gear *const ends[2],
                            fe_radio_score *score)
{
    fe_hop *hop = NULL;
    fe_chain chain;
    fe_status status = fe_radio_hop(plan, path, ends, question->band, &hop);
    if (status >= 0)
        status = fe_status_worse(status,
                                 fe_chain_at(hop, way->places, way->chain.relays,
                                             FE_CHAIN_ONE_CHANNEL, question->seasons,
                                             question->season_count, question->wanted, &chain));
    if (status >= 0)
        *score = (fe_radio_score){fe_relay_verdict(&chain, question->wanted->confidence),
                                  chain.chance, chain.margin_db};
    free(hop);
    return status;
}

/* Ends stay null where there is no other pair. */
static fe_status best_ends(const fe_plan *plan, size_t path, const fe_relay_question *question,
                           const fe_relay_way *way, const fe_gear *const now[2],
                           const fe_gear *best[2])
{
    const fe_plan_path *along = &plan->paths[path];
    const fe_text_list *from = &plan->ends[along->from].gear;
    const fe_text_list *to = &plan->ends[along->to].gear;
    fe_radio_score kept = {.verdict = FE_VERDICT_FAILS};
    for (size_t i = 0; i < from->count * to->count; i++) {
        const fe_gear *const ends[2] = {fe_plan_gear(plan, from->items[i / to->count]),
                                        fe_plan_gear(plan, to->items[i % to->count])};
        fe_radio_score score;
        if (!ends[0] || !ends[1] || (ends[0] == now[0] && ends[1] == now[1]))
            continue;
        const fe_status status = score_ends(plan, path, question, way, ends, &score);
        if (status == FE_E_NO_SOLUTION)
            continue; /* not in this band, or they do not speak with the relay */
        if (status < 0)
            return status;
        if (!best[0] || fe_radio_score_is_better(&score, &kept)) {
            kept = score;
            best[0] = ends[0];
            best[1] = ends[1];
        }
    }
    return FE_OK;
}

fe_status fe_relay_changes_find_ends(const fe_plan *plan, size_t path,
                                     const fe_relay_question *asked,
                                     const fe_relay_choice *choice,
                                     const fe_gear *const ends[2], fe_relay_what_ifs *changes)
{
    fe_relay_what_if change = {.kind = FE_RELAY_OTHER_ENDS};
    fe_relay_question question = narrowed(asked, choice);
    fe_hop *hop = NULL;
    fe_status status = best_ends(plan, path, asked, way_of(choice), ends, change.ends);
    if (status < 0 || !change.ends[0])
        return status;
    status = fe_radio_hop(plan, path, change.ends, asked->band, &hop);
    question.direct = hop;
    if (status >= 0)
        status = fe_status_worse(status, try_change(&question, &change));
    if (status >= 0)
        keep(changes, &change);
    free(hop);
    return status;
}

void fe_relay_changes_add_band(fe_relay_what_ifs *changes, fe_band band,
                               const fe_relay_choice *choice)
{
    fe_relay_what_if change = {.kind = FE_RELAY_OTHER_BAND, .band = band};
    take(choice, &change);
    keep(changes, &change);
}

static int by_kind(const void *a, const void *b)
{
    const fe_relay_what_if *x = a;
    const fe_relay_what_if *y = b;
    return x->kind != y->kind ? (int)x->kind - (int)y->kind : (int)x->band - (int)y->band;
}

void fe_relay_changes_sort(fe_relay_what_ifs *changes)
{
    qsort(changes->items, changes->count, sizeof changes->items[0], by_kind);
}

const fe_relay_what_if *fe_relay_changes_best(const fe_relay_what_ifs *changes)
{
    const fe_relay_what_if *best = NULL;
    for (size_t i = 0; i < changes->count; i++) {
        const fe_relay_what_if *change = &changes->items[i];
        if (change->score.verdict == FE_VERDICT_HOLDS && (!best || change->kind < best->kind))
            best = change;
    }
    return best;
}
