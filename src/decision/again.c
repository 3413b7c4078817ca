/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ways of a result on a plan in which values have moved, as built and no more. */
#include "decision/again.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "decision/decide.h"
#include "farend/radio_hop.h"
#include "farend/radio_link.h"
#include "farend/radio_relays.h"
#include "farend/supply_plan.h"

/*
 * What was computed anew, and the result that is made of it and of what stays. Only the former
 * is freed.
 */
typedef struct again_work {
    fe_result fresh;
    fe_result whole;
    fe_posts_result *runs;
} again_work;

/* ---- Radio ---- */

/* So far below its target that no single input brings it back. */
static const double HOPELESS_DB = -25.0;

/* The link as it was, with memory of its own. */
static fe_status keep_link(const fe_radio_result *before, fe_radio_result *link)
{
    const size_t size = before->budget.season_count * sizeof *before->budget.seasons;
    *link = *before;
    link->budget.seasons = malloc(size);
    if (!link->budget.seasons)
        return FE_E_MEMORY;
    memcpy(link->budget.seasons, before->budget.seasons, size);
    return FE_OK;
}

/* A link that the moved plan does not allow: it fails by any measure. */
static fe_status lose_link(const fe_radio_result *before, fe_radio_result *link)
{
    const fe_status status = keep_link(before, link);
    if (status < 0)
        return status;
    for (size_t i = 0; i < link->budget.season_count; i++)
        link->budget.seasons[i].margin_db = -INFINITY;
    link->budget.chance = 0.0;
    link->verdict = FE_VERDICT_FAILS;
    return FE_OK;
}

static bool is_hopeless(const fe_result *result, size_t index)
{
    const fe_hop_budget *budget = &result->radio[index].budget;
    return (int)index != fe_result_chosen_radio(result) &&
           budget->seasons[budget->worst].margin_db < HOPELESS_DB;
}

static fe_status again_radio(const fe_result *result, const fe_plan *plan, again_depth depth,
                             fe_result *fresh)
{
    fresh->radio = calloc(result->radio_count + 1, sizeof *fresh->radio);
    if (!fresh->radio)
        return FE_E_MEMORY;
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->radio_count && status >= 0; i++) {
        const fe_radio_result *before = &result->radio[i];
        fe_radio_result *link = &fresh->radio[i];
        fe_status done =
            depth == AGAIN_CONTENDERS && is_hopeless(result, i)
                ? keep_link(before, link)
                : fe_radio_link(plan, before->path, before->gear, before->band, link);
        if (done == FE_E_NO_SOLUTION)
            done = lose_link(before, link);
        if (done >= 0) {
            fresh->radio_count = i + 1;
            link->directional = before->directional;
            link->owned = before->owned;
        }
        status = fe_status_worse(status, done);
    }
    return status;
}

/* ---- Relays ---- */

/* A chain so far from its target stays as it was, like a link. */
static bool is_followed(const fe_relay_result *relays, size_t number, again_depth depth)
{
    return relays->relay_gear && decide_shows_relays(relays, number) &&
           (depth != AGAIN_CONTENDERS || relays->chains[number].margin_db > HOPELESS_DB);
}

/* A number of relays, where they stand, on the moved plan. */
static fe_status again_chain(const fe_plan *plan, const fe_hop *hop, size_t number,
                             fe_relay_result *relays)
{
    const fe_wanted wanted = fe_radio_wanted(plan, relays->path);
    /* Where the plan leaves the height open, each place has the mast that was chosen for it. */
    const bool chosen = fe_value_is_open(plan->relay.height_m);
    fe_chain_place places[FE_CHAIN_MOST_RELAYS];
    fe_chain chain;
    for (size_t i = 0; i < number; i++) {
        places[i] = (fe_chain_place){
            relays->places_m[number][i],
            fe_relay_station(relays->relay_gear, relays->band, hop->ends[1].noise)};
        places[i].station.height_m =
            chosen ? relays->heights_m[number][i] : plan->relay.height_m.typical;
    }
    const fe_status status = fe_chain_at(hop, places, (unsigned)number, FE_CHAIN_ONE_CHANNEL,
                                         plan->seasons, plan->season_count, &wanted, &chain);
    if (status < 0)
        return status;
    relays->chains[number] = chain;
    if ((int)number == relays->best)
        relays->verdict = fe_relay_verdict(&chain, wanted.confidence);
    return status;
}

static fe_status again_chains(const fe_plan *plan, again_depth depth, fe_relay_result *relays)
{
    fe_hop *hop = NULL;
    fe_status status = fe_radio_hop(plan, relays->path, relays->end_gear, relays->band, &hop);
    for (size_t number = 1; number < relays->chain_count && status >= 0; number++) {
        if (!is_followed(relays, number, depth))
            continue;
        const fe_status done = again_chain(plan, hop, number, relays);
        status = done == FE_E_NO_SOLUTION ? status : fe_status_worse(status, done);
    }
    free(hop);
    return status == FE_E_NO_SOLUTION ? FE_OK : status;
}

static fe_status again_relays(const fe_result *result, const fe_plan *plan, again_depth depth,
                              fe_result *fresh)
{
    fresh->relays = calloc(result->relay_count + 1, sizeof *fresh->relays);
    if (!fresh->relays)
        return FE_E_MEMORY;
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->relay_count && status >= 0; i++) {
        fresh->relays[i] = result->relays[i];
        fresh->relays[i].alone = NULL; /* no verdict hangs on it */
        fresh->relay_count = i + 1;
        status = fe_status_worse(status, again_chains(plan, depth, &fresh->relays[i]));
    }
    return status;
}

/* ---- Feeds ---- */

/* The conductor that was chosen, on the moved plan; where none did, one that does now. */
static fe_status again_feed(const fe_plan *plan, const fe_feed_choice *before,
                            fe_feed_choice *feed)
{
    *feed = *before;
    feed->entry = NULL;
    if (!before->found)
        return decide_feed(plan, feed);
    feed->entry = calloc(1, sizeof *feed->entry);
    if (!feed->entry)
        return FE_E_MEMORY;
    fe_supply_entry *entry = feed->entry;
    fe_status status = fe_supply_from_plan(plan, before->path, &before->source, 0.0, entry);
    if (status < 0)
        return status;
    entry->given.loads = entry->loads;
    entry->owned_m2 = before->conductor.area_m2;
    status = fe_supply_try(&entry->given, &before->conductor, &entry->owned);
    if (status < 0)
        return status;
    feed->verdict = fe_supply_judge(entry);
    feed->allowed = entry->given.allowed_drop;
    feed->length_m = entry->given.length_m;
    feed->far_v = entry->owned.far_v;
    feed->drop = entry->owned.delivered ? entry->owned.drop : INFINITY;
    return status;
}

static fe_status again_feeds(const fe_result *result, const fe_plan *plan, again_work *work)
{
    fe_result *const fresh = &work->fresh;
    fresh->feeds = calloc(result->feed_count + 1, sizeof *fresh->feeds);
    if (!fresh->feeds)
        return FE_E_MEMORY;
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->feed_count && status >= 0; i++) {
        fresh->feed_count = i + 1;
        status = fe_status_worse(status, again_feed(plan, &result->feeds[i], &fresh->feeds[i]));
    }
    work->whole.feeds = fresh->feeds;
    return status;
}

/* ---- Runs on posts ---- */

/* A run whose posts do not do is laid out anew where a range of the plan may save it. */
static const double SAVED_UP_TO = 1.3;

/* What is asked belongs to the run, which has the same things below it as the layout. */
static fe_route_use use_of_run(const fe_posts_result *run, const fe_posts_result *laid,
                               fe_route_use use)
{
    if (use.need)
        use.need = run->needs + (use.need - laid->needs);
    return use;
}

static fe_status again_laid_out(const fe_plan *plan, fe_posts_result *run)
{
    static const fe_posts_wish WISH = {.verdict_only = true};
    fe_posts_result laid;
    const fe_status status = fe_posts_plan(plan, run->path, run->cable, &WISH, &laid);
    if (status == FE_E_DOMAIN || status == FE_E_INPUT)
        return FE_OK;
    if (status < 0)
        return status;
    run->verdict = laid.verdict;
    run->meets = laid.meets;
    run->worst = use_of_run(run, &laid, laid.worst);
    run->falls_short = use_of_run(run, &laid, laid.falls_short);
    fe_posts_result_free(&laid);
    return status;
}

static fe_status again_run(const fe_plan *plan, again_depth depth, fe_posts_result *run)
{
    /* Another strand is another cable: nothing of the layout stands. */
    if (strcmp(run->messenger, fe_posts_messenger(plan, run->cable)) != 0)
        return again_laid_out(plan, run);
    /* Only weather and attachments move a run that stands; the rest is another layout. */
    if (run->meets)
        return fe_posts_stand(plan, run);
    return depth == AGAIN_LAYOUTS && fe_posts_reason(run)->use <= SAVED_UP_TO
               ? again_laid_out(plan, run)
               : FE_OK;
}

/* A cable that is too long gains nothing from posts. */
static bool is_short_enough(const fe_result *result, const fe_posts_result *run)
{
    for (size_t i = 0; i < result->channel_count; i++)
        if (fe_result_hung(result, &result->channels[i]) == run)
            return result->channels[i].verdict != FE_VERDICT_FAILS;
    return false;
}

/* Copies that share all but their verdict with the runs of the result. */
static fe_status again_runs(const fe_result *result, const fe_plan *plan, again_depth depth,
                            fe_posts_result *runs)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < result->overhead_count && status >= 0; i++) {
        runs[i] = result->overhead[i];
        if (!is_short_enough(result, &result->overhead[i]))
            continue;
        /* Where a layout does not go with the moved plan at all, nothing is claimed of it. */
        const fe_status done = again_run(plan, depth, &runs[i]);
        status = done == FE_E_DOMAIN ? status : fe_status_worse(status, done);
    }
    return status;
}

/* ---- What hangs on cables and feeds ---- */

/* Data over a feed that the moved plan no longer has fails, and keeps its row. */
static fe_status again_feed_data(const fe_plan *plan, again_work *work)
{
    fe_result there = work->whole;
    const size_t count = there.feed_data_count;
    const fe_feed_data_result *const before = there.feed_data;
    there.feed_data = NULL;
    there.feed_data_count = 0;
    const fe_status status = decide_feed_data(plan, &there);
    fe_feed_data_result *const rows = calloc(count + 1, sizeof *rows);
    work->fresh.feed_data = rows;
    for (size_t i = 0; i < count && rows; i++) {
        rows[i] = before[i];
        rows[i].low_bps = rows[i].middle_bps = rows[i].high_bps = 0.0;
        rows[i].verdict = FE_VERDICT_FAILS;
        for (size_t k = 0; k < there.feed_data_count; k++)
            if (there.feed_data[k].path == rows[i].path)
                rows[i] = there.feed_data[k];
    }
    free(there.feed_data);
    work->whole.feed_data = rows;
    return rows ? status : FE_E_MEMORY;
}

static fe_status again_solar(const fe_plan *plan, again_work *work)
{
    work->whole.solars = NULL;
    work->whole.solar_count = 0;
    const fe_status status = decide_solar(plan, &work->whole);
    work->fresh.solars = work->whole.solars;
    work->fresh.solar_count = work->whole.solar_count;
    return status;
}

/* ---- All of it ---- */

static fe_status again_all_radio(const fe_result *result, const fe_plan *plan,
                                 again_depth depth, again_work *work)
{
    fe_status status = again_radio(result, plan, depth, &work->fresh);
    if (status >= 0)
        status = fe_status_worse(status, again_relays(result, plan, depth, &work->fresh));
    work->whole.radio = work->fresh.radio;
    work->whole.relays = work->fresh.relays;
    return status;
}

/* Channels look at the runs they hang on, as those were. */
static fe_status again_channels(const fe_plan *plan, again_work *work)
{
    fe_result *const whole = &work->whole;
    const size_t before = whole->channel_count;
    whole->channels = NULL;
    whole->channel_count = 0;
    const fe_status status = decide_channels(plan, whole);
    work->fresh.channels = whole->channels;
    return status >= 0 && whole->channel_count != before ? FE_E_DOMAIN : status;
}

/* In the order of fe_decide, each out of what is fresh by then. */
static fe_status compute_parts(const fe_result *result, const fe_plan *plan, unsigned concerns,
                               again_depth depth, again_work *work)
{
    const bool cables = (concerns & FE_CONCERNS_CABLES) != 0;
    const bool feed = (concerns & FE_CONCERNS_FEED) != 0;
    fe_status status = FE_OK;
    if (concerns & FE_CONCERNS_RADIO)
        status = again_all_radio(result, plan, depth, work);
    /* The loads of a feed are those of power over the pairs, which the channels carry. */
    if (status >= 0 && (cables || feed))
        status = fe_status_worse(status, again_channels(plan, work));
    if (status >= 0 && feed)
        status = fe_status_worse(status, again_feeds(result, plan, work));
    if (status >= 0 && (cables || feed))
        status = fe_status_worse(status, again_feed_data(plan, work));
    if (status >= 0 && feed)
        status = fe_status_worse(status, again_solar(plan, work));
    if (status >= 0 && (concerns & FE_CONCERNS_POSTS) && result->overhead_count > 0) {
        work->runs = calloc(result->overhead_count, sizeof *work->runs);
        status = work->runs ? again_runs(result, plan, depth, work->runs) : FE_E_MEMORY;
        if (work->runs)
            work->whole.overhead = work->runs;
    }
    return status;
}

fe_status again_answer_make(const fe_result *result, again_answer *answer)
{
    answer->ways = calloc(result->way_count + 1, sizeof *answer->ways);
    answer->chosen = calloc(fe_result_choice_count(result), sizeof *answer->chosen);
    return answer->ways && answer->chosen ? FE_OK : FE_E_MEMORY;
}

void again_answer_free(again_answer *answer)
{
    free(answer->ways);
    free(answer->chosen);
    *answer = (again_answer){NULL, NULL};
}

void again_answer_of(const fe_result *result, again_answer *answer)
{
    for (size_t i = 0; i < result->way_count; i++)
        answer->ways[i] = again_state(&result->ways[i]);
    for (size_t i = 0; i < fe_result_choice_count(result); i++)
        answer->chosen[i] = fe_result_choice(result, i);
}

void again_answer_copy(const fe_result *result, const again_answer *from, again_answer *to)
{
    memcpy(to->ways, from->ways, result->way_count * sizeof *to->ways);
    memcpy(to->chosen, from->chosen, fe_result_choice_count(result) * sizeof *to->chosen);
}

fe_way_state again_state(const fe_way *way)
{
    return (fe_way_state){way->verdict, way->margin_db, way->chance, way->used};
}

fe_status again_compute(const fe_result *result, const fe_plan *plan, unsigned concerns,
                        again_depth depth, again_answer *answer)
{
    again_work work = {.fresh = {.plan = plan}, .whole = *result};
    work.whole.plan = plan;
    work.whole.ways = NULL;
    work.whole.way_count = 0;
    work.whole.picks = NULL;
    work.whole.pick_count = 0;
    fe_status status = compute_parts(result, plan, concerns, depth, &work);
    if (status >= 0)
        status = fe_status_worse(status, decide_ways(&work.whole));
    if (status >= 0 && work.whole.way_count != result->way_count)
        status = FE_E_DOMAIN;
    if (status >= 0)
        again_answer_of(&work.whole, answer);
    free(work.whole.ways);
    free(work.whole.picks);
    free(work.runs);
    fe_result_free(&work.fresh);
    return status;
}
