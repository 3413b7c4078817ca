/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/radio_relays.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/radio_link.h"

/* Classes of the catalogue that are tried where nothing else holds. */
enum { MOST_STRANGERS = 3 };

/* ---- Candidates ---- */

static bool can_relay(const fe_gear *gear, fe_band band)
{
    const fe_radio *radio = gear ? fe_gear_radio(gear, band) : NULL;
    return radio && gear->relays && !fe_beam_is_narrow(radio->beam_rad);
}

static bool has_class(const fe_relay_class *classes, size_t count, const fe_gear *gear)
{
    for (size_t i = 0; i < count; i++)
        if (classes[i].gear == gear)
            return true;
    return false;
}

size_t fe_relay_classes(const fe_plan *plan, const char *named, fe_band band,
                        fe_relay_class *classes)
{
    const fe_gear *wanted = named ? fe_plan_gear(plan, named) : NULL;
    size_t count = 0;
    for (size_t i = 0; i < plan->owned_count && count < FE_RELAY_MOST_CLASSES; i++) {
        const fe_gear *gear = fe_plan_gear(plan, plan->owned[i].gear);
        if (can_relay(gear, band) && plan->owned[i].count > 0 &&
            !has_class(classes, count, gear))
            classes[count++] = (fe_relay_class){gear, plan->owned[i].count, gear == wanted};
    }
    if (can_relay(wanted, band) && !has_class(classes, count, wanted) &&
        count < FE_RELAY_MOST_CLASSES)
        classes[count++] = (fe_relay_class){wanted, 0, true};
    for (size_t i = 0; i < plan->gear_count && count < FE_RELAY_MOST_CLASSES; i++)
        if (can_relay(&plan->gear[i], band) && !has_class(classes, count, &plan->gear[i]))
            classes[count++] = (fe_relay_class){&plan->gear[i], 0, false};
    return count;
}

size_t fe_relay_masts(const fe_plan *plan, double *masts_m)
{
    const fe_value *height = &plan->relay.height_m;
    const bool open = fe_value_is_open(*height);
    masts_m[0] = open ? height->low : height->typical;
    masts_m[1] = height->high;
    return open ? 2 : 1;
}

/* By place, that of the coarser level first. */
static int by_place(const void *a, const void *b)
{
    const fe_relay_spot *x = a;
    const fe_relay_spot *y = b;
    if (x->at_m != y->at_m)
        return x->at_m > y->at_m ? 1 : -1;
    return (y->level > x->level) - (y->level < x->level);
}

double fe_relay_step(double length_m)
{
    static const double FINEST_M = 1.0, STEPS = 1000.0;
    return fmax(FINEST_M, length_m / STEPS);
}

unsigned fe_relay_coarser(double length_m)
{
    static const double COARSE_STEPS = 100.0;
    unsigned coarser = 0;
    for (double step_m = fe_relay_step(length_m); step_m * COARSE_STEPS < length_m;
         step_m *= 2.0)
        coarser++;
    return coarser;
}

fe_station fe_relay_station(const fe_gear *gear, fe_band band, fe_noise noise)
{
    return (fe_station){.radio = fe_gear_radio(gear, band),
                        .antenna_built_in = gear->antenna_built_in,
                        .mount = FE_MOUNT_OUTDOORS,
                        .noise = noise};
}

/*
 * Steps from the low end of a stretch to its high end. A last step that rounding alone makes (a
 * stretch given in feet) would put a second place a hair before the end.
 */
static size_t steps_of(const fe_value *at, double step_m)
{
    static const double ROUNDING = 1e-6;
    return (size_t)fmax(0.0, ceil((at->high - at->low) / step_m - ROUNDING));
}

fe_status fe_relay_places(const fe_plan *plan, size_t path, double step_m,
                          fe_relay_spot **allowed, size_t *count)
{
    const fe_value_list *listed = &plan->relay.places_m;
    const double length_m = fe_profile_length(&plan->paths[path].profile);
    *allowed = NULL;
    *count = 0;
    if (plan->relay.anywhere || path != 0 || listed->count == 0)
        return FE_OK;
    size_t most = 0;
    for (size_t i = 0; i < listed->count; i++)
        most += 1 + steps_of(&listed->items[i], step_m);
    fe_relay_spot *places = malloc(most * sizeof *places);
    if (!places)
        return FE_E_MEMORY;
    size_t found = 0;
    for (size_t i = 0; i < listed->count; i++) {
        const fe_value *at = &listed->items[i];
        for (size_t k = 0; k < steps_of(at, step_m); k++) {
            places[found] = fe_relay_spot_of(k, step_m);
            places[found++].at_m += at->low;
        }
        places[found++] = (fe_relay_spot){at->high, FE_RELAY_EVERY_LEVEL};
    }
    qsort(places, found, sizeof *places, by_place);
    for (size_t i = 0; i < found; i++)
        if (places[i].at_m > 0.0 && places[i].at_m < length_m &&
            (*count == 0 || places[i].at_m > places[*count - 1].at_m))
            places[(*count)++] = places[i];
    *allowed = places;
    return FE_OK;
}

bool fe_relay_has_power(const fe_plan *plan, size_t path, double at_m)
{
    static const double NEAR_M = 2.0;
    const fe_value_list *powered = &plan->relay.powered_m;
    for (size_t i = 0; path == 0 && i < powered->count; i++)
        if (at_m >= powered->items[i].low - NEAR_M && at_m <= powered->items[i].high + NEAR_M)
            return true;
    return false;
}

/* ---- One class ---- */

fe_verdict fe_relay_verdict(const fe_chain *chain, double confidence)
{
    return fe_radio_verdict(chain->chance, chain->chance >= 0.5 ? chain->margin_db : -INFINITY,
                            confidence);
}

/* Verdicts apart: whether one does better than another that holds no more than it. */
static bool does_better(const fe_chain *a, const fe_chain *b)
{
    const fe_radio_score x = {FE_VERDICT_FAILS, a->chance, a->margin_db};
    const fe_radio_score y = {FE_VERDICT_FAILS, b->chance, b->margin_db};
    return fe_radio_score_is_better(&x, &y);
}

static void judge(fe_relay_choice *one, double confidence)
{
    one->best = 0;
    for (size_t i = 0; i < one->count; i++) {
        const fe_chain *chain = &one->ways[i].chain;
        if (chain->chance >= confidence) {
            one->best = i;
            break;
        }
        if (does_better(chain, &one->ways[one->best].chain))
            one->best = i;
    }
    one->verdict = fe_relay_verdict(&one->ways[one->best].chain, confidence);
}

static fe_status try_class(const fe_relay_question *question, const fe_relay_class *class,
                           fe_relay_choice *one)
{
    const fe_relay_site site = {
        .direct = question->direct,
        .relay = fe_relay_station(class->gear, question->band, question->direct->ends[1].noise),
        .masts_m = question->masts_m,
        .mast_count = question->mast_count,
        .places = question->places,
        .place_count = question->place_count,
        .step_m = question->step_m,
        .coarser = question->coarser,
        .seasons = question->seasons,
        .season_count = question->season_count,
        .wanted = question->wanted,
        .threads = question->threads,
    };
    const fe_status status =
        fe_relay_search(&site, FE_CHAIN_MOST_RELAYS, one->ways, &one->count, &one->looked_at);
    if (status < 0)
        return status;
    one->class = *class;
    judge(one, question->wanted->confidence);
    return status;
}

/* ---- Which class ---- */

static bool has_enough(const fe_relay_choice *one)
{
    return one->class.owned == 0 || one->ways[one->best].chain.relays <= one->class.owned;
}

static bool is_settled(const fe_relay_choice *one)
{
    return one->verdict == FE_VERDICT_HOLDS && has_enough(one);
}

static bool is_chosen_over(const fe_relay_choice *one, const fe_relay_choice *kept)
{
    if (is_settled(one) != is_settled(kept))
        return is_settled(one);
    if (one->verdict != kept->verdict)
        return one->verdict < kept->verdict;
    return one->verdict != FE_VERDICT_HOLDS &&
           does_better(&one->ways[one->best].chain, &kept->ways[kept->best].chain);
}

static fe_relay_trial trial_of(const fe_relay_choice *one)
{
    const fe_chain *chain = &one->ways[one->best].chain;
    return (fe_relay_trial){one->class, chain->relays, chain->margin_db, chain->chance,
                            one->verdict};
}

/* Keeps the trials while the class that stands so far is replaced. */
static void take(const fe_relay_choice *one, fe_relay_choice *kept)
{
    const size_t trials = kept->trial_count;
    const bool first = trials == 0;
    if (first || is_chosen_over(one, kept)) {
        kept->class = one->class;
        memcpy(kept->ways, one->ways, sizeof kept->ways);
        kept->count = one->count;
        kept->looked_at = one->looked_at;
        kept->best = one->best;
        kept->verdict = one->verdict;
    }
    kept->trials[kept->trial_count++] = trial_of(one);
}

fe_status fe_relay_choose(const fe_relay_question *question, fe_relay_choice *choice)
{
    fe_relay_choice *room = calloc(2, sizeof *room);
    fe_relay_choice *one = room;
    fe_relay_choice *kept = room ? room + 1 : NULL;
    fe_status status = room ? FE_OK : FE_E_MEMORY;
    size_t strangers = 0;
    for (size_t i = 0; i < question->class_count && status >= 0; i++) {
        const fe_relay_class *class = &question->classes[i];
        const bool stranger = class->owned == 0 && !class->named;
        if (kept->trial_count == FE_RELAY_MOST_TRIALS || strangers == MOST_STRANGERS ||
            (kept->trial_count > 0 && is_settled(kept)) ||
            (stranger && kept->trial_count > 0 && kept->verdict == FE_VERDICT_HOLDS))
            break;
        const fe_status tried = try_class(question, class, one);
        if (tried == FE_E_NO_SOLUTION)
            continue; /* this class and the ends do not speak the same standard */
        status = fe_status_worse(status, tried);
        if (status < 0)
            break;
        strangers += stranger;
        take(one, kept);
    }
    if (status >= 0 && kept->trial_count == 0)
        status = FE_E_NO_SOLUTION;
    if (status >= 0)
        *choice = *kept;
    free(room);
    return status;
}
