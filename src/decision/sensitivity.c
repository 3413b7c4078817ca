/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/sensitivity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "decision/again.h"
#include "decision/input_traits.h"
#include "farend/workers.h"

enum { THREADS = 2, BISECTIONS = 7 };

/* A decibel count and a part of a limit weigh alike at this many decibels: common practice. */
static const double DB_OF_A_LIMIT = 10.0;
/* No input moves an answer further than this; a way that is lost has no number. */
static const double MOST_EFFECT = 10.0;
/* Looked for so many times farther out than an input is usually off. */
static const double FARTHER = 6.0;
/* An input that moves its choice by less is not followed farther out. */
static const double WORTH_FOLLOWING = 0.01;

/* ---- Answers ---- */

/* The plan with one input at a value, all ways again. Room is the caller's, one a way. */
static fe_status answer_at(const fe_result *result, const fe_trial *trial, double value,
                           again_depth depth, again_answer *answer)
{
    fe_plan_moved moved;
    fe_status status = fe_plan_move(result->plan, &trial->input, value, &moved);
    if (status < 0)
        return status;
    status = again_compute(result, &moved.plan, trial->concerns, depth, answer);
    fe_plan_moved_free(&moved);
    return status;
}

/* How well a way does, on one scale: 1 is ten decibels or all of a limit. */
static double standing(const fe_way_state *state)
{
    if (!isnan(state->margin_db))
        return fmax(-MOST_EFFECT, fmin(MOST_EFFECT, state->margin_db / DB_OF_A_LIMIT));
    if (!isnan(state->used))
        return fmax(-MOST_EFFECT, 1.0 - state->used);
    return -(double)state->verdict;
}

static double standing_of(const again_answer *answer, int way)
{
    return way < 0 ? 0.0 : standing(&answer->ways[way]);
}

/* The ways that an answer is about: what is recommended, and the best radio link. */
static size_t leader_count(const fe_result *result)
{
    return fe_result_choice_count(result) + 1;
}

static int leader(const fe_result *result, size_t index)
{
    return index < fe_result_choice_count(result) ? fe_result_choice(result, index)
                                                  : fe_result_radio_way(result);
}

static double standing_of_leaders(const fe_result *result, const again_answer *answer)
{
    double sum = 0.0;
    for (size_t i = 0; i < leader_count(result); i++)
        sum += standing_of(answer, leader(result, i));
    return sum;
}

/* The recommended way does worse than it does now. */
static bool breaks(const fe_result *result, const again_answer *answer, size_t choice)
{
    const int now = fe_result_choice(result, choice);
    return now >= 0 && answer->ways[now].verdict > result->ways[now].verdict;
}

/* It does as well, yet another is recommended. */
static bool eases(const fe_result *result, const again_answer *answer, size_t choice)
{
    return !breaks(result, answer, choice) &&
           answer->chosen[choice] != fe_result_choice(result, choice);
}

static bool is_overturned(const fe_result *result, const again_answer *answer)
{
    for (size_t choice = 0; choice < fe_result_choice_count(result); choice++)
        if (breaks(result, answer, choice) || eases(result, answer, choice))
            return true;
    return false;
}

/* ---- One trial ---- */

static void put_reach(const input_trait *trait, fe_trial *trial)
{
    const fe_plan_input *input = &trial->input;
    trial->value[0] = input->low;
    trial->value[1] = input->high;
    trial->reach = input->open ? FE_REACH_OPEN : FE_REACH_DEFAULT;
    /* A season that is written out is a description: its defaults mean none of it. */
    const bool described = !input->open && strcmp(input->section, "season") == 0;
    if (input->low < input->high && !described)
        return;
    const double step = fmax(trait->step, trait->share * fabs(input->typical));
    trial->reach = FE_REACH_STEP;
    trial->value[0] = fmax(input->least, input->typical - step);
    trial->value[1] = fmin(input->greatest, input->typical + step);
}

/* Both ends may lie on the same side of what is: a dip of the ground ray is left either way. */
static double effect_between(const fe_result *result, const again_answer *a,
                             const again_answer *b)
{
    double effect = 0.0;
    for (size_t i = 0; i < leader_count(result); i++) {
        const int way = leader(result, i);
        if (way < 0)
            continue;
        const fe_way_state now = again_state(&result->ways[way]);
        const double at[] = {standing(&now), standing_of(a, way), standing_of(b, way)};
        effect =
            fmax(effect, fmax(fmax(at[0], at[1]), at[2]) - fmin(fmin(at[0], at[1]), at[2]));
    }
    return effect;
}

static void note_changes(const fe_result *result, fe_trial *trial, const again_answer ends[2])
{
    trial->changes_choice = trial->changes_verdict = false;
    for (int end = 0; end < 2; end++) {
        trial->changes_choice = trial->changes_choice || is_overturned(result, &ends[end]);
        for (size_t i = 0; i < result->way_count; i++)
            trial->changes_verdict =
                trial->changes_verdict || ends[end].ways[i].verdict != result->ways[i].verdict;
    }
    trial->effect = effect_between(result, &ends[0], &ends[1]);
}

/* What the plan leaves open is followed through in full. */
static again_depth depth_of(const fe_trial *trial)
{
    return trial->input.open ? AGAIN_LAYOUTS : AGAIN_CONTENDERS;
}

/* An end that cannot be computed counts as what is: nothing is claimed from it. */
static fe_status end_of_number(const fe_result *result, fe_trial *trial, int end,
                               again_answer *answer)
{
    const fe_status status = trial->concerns == 0 ? FE_E_DOMAIN
                                                  : answer_at(result, trial, trial->value[end],
                                                              depth_of(trial), answer);
    if (status != FE_E_DOMAIN)
        return status;
    again_answer_of(result, answer);
    return FE_OK;
}

static fe_status try_number(const fe_result *result, fe_trial *trial, again_answer ends[2])
{
    fe_status status = FE_OK;
    for (int end = 0; end < 2 && status >= 0; end++)
        status = end_of_number(result, trial, end, &ends[end]);
    return status;
}

/* How much better an answer is than another: for the recommended ways, else for all. */
static double standing_over(const fe_result *result, const again_answer *one,
                            const again_answer *other)
{
    double more = standing_of_leaders(result, one) - standing_of_leaders(result, other);
    for (size_t i = 0; i < result->way_count && more == 0.0; i++)
        more += standing(&one->ways[i]) - standing(&other->ways[i]);
    return more;
}

/* The words that serve the recommended ways worst and best. */
static fe_status try_words(const fe_result *result, fe_trial *trial, again_answer ends[2])
{
    again_answer tried;
    fe_status status = again_answer_make(result, &tried);
    if (status < 0)
        goto done;
    for (int end = 0; end < 2; end++) {
        again_answer_of(result, &ends[end]);
        trial->value[end] = trial->input.typical;
    }
    for (size_t word = 0; word < trial->input.word_count && status >= 0; word++) {
        if (trial->concerns == 0 || (double)word == trial->input.typical)
            continue;
        status = answer_at(result, trial, (double)word, depth_of(trial), &tried);
        if (status == FE_E_DOMAIN)
            status = FE_OK;
        else if (status >= 0) {
            for (int end = 0; end < 2; end++) {
                const double more = standing_over(result, &tried, &ends[end]);
                if (end == 0 ? more >= 0.0 : more <= 0.0)
                    continue;
                again_answer_copy(result, &tried, &ends[end]);
                trial->value[end] = (double)word;
            }
        }
    }
done:
    again_answer_free(&tried);
    return status;
}

/* What was found at an end of a trial; shares its arrays. */
static again_answer answer_at_end(const fe_trial *trial, int end)
{
    return (again_answer){trial->at[end], trial->chosen[end]};
}

static fe_status run_trial(const fe_result *result, fe_trial *trial)
{
    again_answer ends[2] = {answer_at_end(trial, 0), answer_at_end(trial, 1)};
    const fe_status status =
        trial->input.words ? try_words(result, trial, ends) : try_number(result, trial, ends);
    if (status >= 0)
        note_changes(result, trial, ends);
    return status;
}

/* ---- All trials, on two threads ---- */

typedef struct trial_worker {
    const fe_result *result;
    fe_trial *trials;
    size_t count;
    size_t first; /* this one and every THREADS-th after it */
    fe_status status;
} trial_worker;

static void *run_trials(void *argument)
{
    trial_worker *worker = argument;
    for (size_t i = worker->first; i < worker->count && worker->status >= 0; i += THREADS) {
        const fe_status status = run_trial(worker->result, &worker->trials[i]);
        if (status < 0)
            worker->status = status;
    }
    return NULL;
}

static fe_status run_all(const fe_result *result, fe_sensitivity *found)
{
    trial_worker workers[THREADS];
    for (size_t t = 0; t < THREADS; t++)
        workers[t] = (trial_worker){.result = result,
                                    .trials = found->trials,
                                    .count = found->trial_count,
                                    .first = t,
                                    .status = FE_OK};
    fe_workers_run(run_trials, workers, sizeof workers[0], THREADS);
    fe_status status = FE_OK;
    for (size_t t = 0; t < THREADS; t++)
        status = workers[t].status < 0 ? workers[t].status : status;
    return status;
}

/* ---- Which inputs ---- */

/* Whether the result has a way that the input has a hand in. */
static unsigned concerns_of(const fe_result *result, const input_trait *trait)
{
    unsigned there = result->radio_count > 0 ? FE_CONCERNS_RADIO : 0;
    there |= result->overhead_count > 0 ? FE_CONCERNS_POSTS : 0;
    there |= result->channel_count > 0 ? FE_CONCERNS_CABLES : 0;
    there |= fe_result_needs_power(result) ? FE_CONCERNS_FEED : 0;
    return trait->concerns & there;
}

/* What the owner sees or means, and is in doubt about only where he says so. */
static bool is_description(const fe_plan_input *input)
{
    static const char *const KEYS[] = {"mains", "region", "tied", "earthing"};
    bool described = strcmp(input->section, "season") == 0;
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++)
        described = described || strcmp(input->key, KEYS[i]) == 0;
    return input->words && described;
}

static fe_status add_trials(const fe_result *result, const fe_plan_inputs *inputs,
                            fe_sensitivity *found)
{
    found->trials = calloc(inputs->count + 1, sizeof *found->trials);
    if (!found->trials)
        return FE_E_MEMORY;
    for (size_t i = 0; i < inputs->count; i++) {
        const input_trait *trait = input_trait_of(&inputs->items[i]);
        const unsigned concerns = trait ? concerns_of(result, trait) : 0;
        if (!inputs->items[i].open && (concerns == 0 || is_description(&inputs->items[i])))
            continue;
        fe_trial *trial = &found->trials[found->trial_count++];
        *trial = (fe_trial){.input = inputs->items[i], .concerns = concerns};
        static const input_trait NOTHING = {.means = NULL};
        trial->means = trait ? trait->means : NULL;
        trial->want = trait && trait->want;
        put_reach(trait ? trait : &NOTHING, trial);
        found->open_count += trial->input.open ? 1 : 0;
        for (int end = 0; end < 2; end++) {
            again_answer room = {NULL, NULL};
            const fe_status status = again_answer_make(result, &room);
            trial->at[end] = room.ways;
            trial->chosen[end] = room.chosen;
            if (status < 0)
                return status;
        }
    }
    return FE_OK;
}

static int by_effect(const void *a, const void *b)
{
    const fe_trial *one = a;
    const fe_trial *other = b;
    if (one->changes_choice != other->changes_choice)
        return one->changes_choice ? -1 : 1;
    if (one->effect != other->effect)
        return one->effect > other->effect ? -1 : 1;
    /* Equal ones in the order of the plan, so that every machine says the same. */
    if (one->input.part != other->input.part)
        return one->input.part - other->input.part;
    if (one->input.item != other->input.item)
        return one->input.item < other->input.item ? -1 : 1;
    const int keys = strcmp(one->input.key, other->input.key);
    return keys != 0 ? keys : (one->input.place > other->input.place) * 2 - 1;
}

/* ---- Intervals ---- */

static void widen(fe_way_interval *interval, const fe_way_state *state)
{
    const bool worse = state->verdict > interval->worst.verdict ||
                       (state->verdict == interval->worst.verdict &&
                        standing(state) < standing(&interval->worst));
    const bool better = state->verdict < interval->best.verdict ||
                        (state->verdict == interval->best.verdict &&
                         standing(state) > standing(&interval->best));
    if (worse)
        interval->worst = *state;
    if (better)
        interval->best = *state;
}

/* The end of an open input that serves the chosen ways worst, or best. */
static double end_for(const fe_result *result, const fe_trial *trial, int best)
{
    double sums[2];
    for (int end = 0; end < 2; end++) {
        const again_answer there = answer_at_end(trial, end);
        sums[end] = standing_of_leaders(result, &there);
    }
    return trial->value[(sums[1] > sums[0]) == (best == 1) ? 1 : 0];
}

/* All open inputs at once, each at the end that serves the chosen ways worst, or best. */
static fe_status all_open(const fe_result *result, const fe_sensitivity *found, int best,
                          again_answer *answer)
{
    fe_plan_step *steps = calloc(found->open_count + 1, sizeof *steps);
    if (!steps)
        return FE_E_MEMORY;
    fe_plan_moves moves;
    unsigned concerns = 0;
    size_t taken = 0;
    for (size_t i = 0; i < found->trial_count; i++) {
        const fe_trial *trial = &found->trials[i];
        if (!trial->input.open || trial->concerns == 0)
            continue;
        steps[taken++] = (fe_plan_step){&trial->input, end_for(result, trial, best)};
        concerns |= trial->concerns;
    }
    fe_status status = fe_plan_move_all(result->plan, steps, taken, &moves);
    if (status >= 0) {
        status = again_compute(result, moves.plan, concerns, AGAIN_EVERYTHING, answer);
        fe_plan_moves_free(&moves);
    }
    free(steps);
    return status;
}

static fe_status find_intervals(const fe_result *result, fe_sensitivity *found)
{
    found->way_count = result->way_count;
    found->intervals = calloc(result->way_count + 1, sizeof *found->intervals);
    again_answer answer = {NULL, NULL};
    fe_status status = again_answer_make(result, &answer);
    status = found->intervals ? status : FE_E_MEMORY;
    for (size_t way = 0; way < result->way_count && status >= 0; way++) {
        const fe_way_state base = again_state(&result->ways[way]);
        found->intervals[way] = (fe_way_interval){base, base};
        for (size_t i = 0; i < found->trial_count; i++)
            for (int end = 0; end < 2 && found->trials[i].input.open; end++)
                widen(&found->intervals[way], &found->trials[i].at[end][way]);
    }
    for (int best = 0; best < 2 && status >= 0 && found->open_count > 0; best++) {
        status = all_open(result, found, best, &answer);
        for (size_t way = 0; way < result->way_count && status >= 0; way++)
            widen(&found->intervals[way], &answer.ways[way]);
        if (status == FE_E_DOMAIN)
            status = FE_OK; /* the ends do not go together */
    }
    again_answer_free(&answer);
    return status;
}

/* ---- What would overturn a choice ---- */

typedef bool turn_test(const fe_result *result, const again_answer *answer, size_t choice);

/* An input looked at farther out than it may be, once for all searches. */
typedef struct far_out {
    bool tried;
    bool there; /* it can be computed */
    double value;
    again_answer answer;
} far_out;

/* The search for one kind of turn of one choice. */
typedef struct turn_search {
    const fe_result *result;
    const fe_sensitivity *found;
    far_out *far; /* two a trial */
    size_t choice;
    turn_test *turns;
    again_depth depth;
    again_answer answer; /* room */
    fe_turn best;
    double distance; /* of the best, in reaches of its input */
} turn_search;

static bool concerns_choice(const turn_search *search, const fe_trial *trial)
{
    /* A cable may carry power too, and a feed data. */
    const bool power = fe_result_is_power_choice(search->result, search->choice);
    const unsigned with_power = FE_CONCERNS_FEED | FE_CONCERNS_CABLES;
    const unsigned with_data = FE_CONCERNS_RADIO | FE_CONCERNS_POSTS | FE_CONCERNS_CABLES |
                               (search->result->feed_data_count > 0 ? FE_CONCERNS_FEED : 0);
    /* A word that the owner wrote is his choice; one that nobody wrote may be another. */
    const bool chosen = trial->input.words && trial->input.given == FE_GIVEN_VALUE;
    return !trial->want && !chosen && (trial->concerns & (power ? with_power : with_data)) != 0;
}

static double reach_of(const fe_trial *trial, int end)
{
    const double reach = fabs(trial->value[end] - trial->input.typical);
    return reach > 0.0 ? reach : 0.5 * fabs(trial->value[1] - trial->value[0]);
}

/* A word counts as far off as an input that is out by all of its reach. */
static double distance_of(const fe_trial *trial, int end, double value)
{
    const double reach = reach_of(trial, end);
    if (trial->input.words || !(reach > 0.0))
        return 1.0;
    return fabs(value - trial->input.typical) / reach;
}

/* Whether the choice turns at a value; the answer there is kept. FE_E_DOMAIN: no telling. */
static fe_status turns_there(turn_search *search, const fe_trial *trial, double value,
                             bool *turns)
{
    const fe_status status =
        answer_at(search->result, trial, value, search->depth, &search->answer);
    *turns = status >= 0 && search->turns(search->result, &search->answer, search->choice);
    return status;
}

/*
 * Nearer than the best so far or not at all: one look at the best's distance saves the rest of
 * the search for most inputs. False: nothing to be found.
 */
static fe_status come_nearer(turn_search *search, const fe_trial *trial, int end, double *out,
                             bool *nearer)
{
    *nearer = true;
    if (!search->best.found)
        return FE_OK;
    *nearer = distance_of(trial, end, trial->input.words ? 0.0 : *out) < search->distance;
    if (trial->input.words || *nearer)
        return FE_OK;
    const double step = search->distance * reach_of(trial, end);
    const double probe = trial->input.typical + (*out < trial->input.typical ? -step : step);
    const fe_status status = turns_there(search, trial, probe, nearer);
    if (*nearer)
        *out = probe;
    return status;
}

/* Moves *out to the value nearest to the plan's at which the choice still turns. */
static fe_status narrow(turn_search *search, const fe_trial *trial, double *out)
{
    double in = trial->input.typical;
    const int steps = search->depth == AGAIN_LAYOUTS ? BISECTIONS / 2 : BISECTIONS;
    for (int i = 0; i < steps; i++) {
        const double middle = 0.5 * (in + *out);
        bool turns = false;
        const fe_status status = turns_there(search, trial, middle, &turns);
        if (status < 0)
            return status == FE_E_DOMAIN ? FE_OK : status;
        if (turns)
            *out = middle;
        else
            in = middle;
    }
    bool turns = false;
    return turns_there(search, trial, *out, &turns);
}

static void keep_nearest(turn_search *search, size_t index, int end, double value, bool likely)
{
    const fe_trial *trial = &search->found->trials[index];
    const double distance = distance_of(trial, end, value);
    const int way = search->answer.chosen[search->choice];
    if (search->best.found && distance >= search->distance)
        return;
    search->distance = distance;
    search->best = (fe_turn){
        .found = true,
        .trial = index,
        .value = value,
        .above = value > trial->input.typical,
        .likely = likely,
        .way = way,
        .verdict = way < 0 ? FE_VERDICT_FAILS : search->answer.ways[way].verdict,
    };
}

/* From a value at which the choice turns, with the answer there, to the nearest. */
static fe_status look_at(turn_search *search, size_t index, int end, double value, bool likely,
                         const again_answer *there)
{
    const fe_trial *trial = &search->found->trials[index];
    bool nearer = false;
    search->depth = likely ? depth_of(trial) : AGAIN_CONTENDERS;
    fe_status status = come_nearer(search, trial, end, &value, &nearer);
    if (status >= 0 && nearer && trial->input.words)
        again_answer_copy(search->result, there, &search->answer);
    else if (status >= 0 && nearer)
        status = narrow(search, trial, &value);
    if (status >= 0 && nearer)
        keep_nearest(search, index, end, value, likely);
    return status == FE_E_DOMAIN ? FE_OK : status;
}

static double farther_out(const fe_trial *trial, int end)
{
    const fe_plan_input *input = &trial->input;
    const double far =
        input->typical + (end == 0 ? -1.0 : 1.0) * FARTHER * reach_of(trial, end);
    return fmax(input->least, fmin(input->greatest, far));
}

static fe_status try_far_out(const fe_result *result, const fe_trial *trial, int end,
                             far_out *far)
{
    if (far->tried)
        return FE_OK;
    far->tried = true;
    far->value = farther_out(trial, end);
    fe_status status = again_answer_make(result, &far->answer);
    if (status >= 0)
        status = answer_at(result, trial, far->value, AGAIN_CONTENDERS, &far->answer);
    far->there = status >= 0;
    return status == FE_E_DOMAIN ? FE_OK : status;
}

static fe_status look_likely(turn_search *search, size_t index, int end)
{
    const fe_trial *trial = &search->found->trials[index];
    const again_answer there = answer_at_end(trial, end);
    if (!search->turns(search->result, &there, search->choice))
        return FE_OK;
    return look_at(search, index, end, trial->value[end], true, &there);
}

static fe_status look_far(turn_search *search, size_t index, int end)
{
    const fe_trial *trial = &search->found->trials[index];
    far_out *far = &search->far[2 * index + (size_t)end];
    if (trial->input.words || trial->effect < WORTH_FOLLOWING)
        return FE_OK;
    const fe_status status = try_far_out(search->result, trial, end, far);
    if (status < 0 || !far->there ||
        !search->turns(search->result, &far->answer, search->choice))
        return status;
    return look_at(search, index, end, far->value, false, &far->answer);
}

static fe_status look(turn_search *search, bool likely)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < search->found->trial_count && status >= 0; i++)
        for (int end = 0; end < 2 && status >= 0; end++)
            if (concerns_choice(search, &search->found->trials[i]))
                status = likely ? look_likely(search, i, end) : look_far(search, i, end);
    return status;
}

static fe_status find_turn(const fe_result *result, const fe_sensitivity *found, far_out *far,
                           size_t choice, turn_test *turns, fe_turn *turn)
{
    turn_search search = {
        .result = result, .found = found, .far = far, .choice = choice, .turns = turns};
    fe_status status = again_answer_make(result, &search.answer);
    if (status >= 0)
        status = look(&search, true);
    if (status >= 0 && !search.best.found)
        status = look(&search, false);
    again_answer_free(&search.answer);
    if (status >= 0)
        *turn = search.best;
    return status;
}

static fe_status find_overturns(const fe_result *result, fe_sensitivity *found)
{
    const size_t choices = fe_result_choice_count(result);
    far_out *far = calloc(2 * found->trial_count + 1, sizeof *far);
    found->overturns = calloc(choices, sizeof *found->overturns);
    found->choice_count = choices;
    fe_status status = far && found->overturns ? FE_OK : FE_E_MEMORY;
    for (size_t choice = 0; choice < choices && status >= 0; choice++) {
        /* Over a path that nothing goes over, there is no choice to turn. */
        if (!fe_result_choice_is_asked(result, choice))
            continue;
        fe_overturn *overturn = &found->overturns[choice];
        status = find_turn(result, found, far, choice, breaks, &overturn->breaks);
        if (status >= 0)
            status = find_turn(result, found, far, choice, eases, &overturn->eases);
    }
    for (size_t i = 0; far && i < 2 * found->trial_count; i++)
        again_answer_free(&far[i].answer);
    free(far);
    return status;
}

const fe_overturn *fe_overturn_data(const fe_sensitivity *sensitivity, size_t path)
{
    return &sensitivity->overturns[path];
}

const fe_overturn *fe_overturn_power(const fe_sensitivity *sensitivity, size_t path)
{
    return &sensitivity->overturns[sensitivity->choice_count / 2 + path];
}

/* ---- All of it ---- */

fe_status fe_sensitivity_compute(const fe_result *result, fe_sensitivity *sensitivity)
{
    fe_plan_inputs inputs;
    fe_sensitivity found = {.trials = NULL};
    fe_status status = fe_plan_inputs_of(result->plan, &inputs);
    if (status < 0)
        return status;
    status = add_trials(result, &inputs, &found);
    if (status >= 0)
        status = run_all(result, &found);
    if (status >= 0 && found.trial_count > 1)
        qsort(found.trials, found.trial_count, sizeof found.trials[0], by_effect);
    if (status >= 0)
        status = find_intervals(result, &found);
    if (status >= 0)
        status = find_overturns(result, &found);
    fe_plan_inputs_free(&inputs);
    if (status < 0)
        fe_sensitivity_free(&found);
    else
        *sensitivity = found;
    return status < 0 ? status : FE_OK;
}

void fe_sensitivity_free(fe_sensitivity *sensitivity)
{
    for (size_t i = 0; i < sensitivity->trial_count; i++)
        for (int end = 0; end < 2; end++) {
            free(sensitivity->trials[i].at[end]);
            free(sensitivity->trials[i].chosen[end]);
        }
    free(sensitivity->trials);
    free(sensitivity->intervals);
    free(sensitivity->overturns);
    *sensitivity = (fe_sensitivity){0};
}
