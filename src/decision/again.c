/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ways of a result on a plan in which values have moved, as built and no more. */
#include "decision/again.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "decision/decide.h"
#include "farend/radio_link.h"

/*
 * What was computed anew, and the result that is made of it and of what stays. Only the former
 * is freed.
 */
typedef struct again_work {
    fe_result fresh;
    fe_result whole;
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

static fe_status again_radio(const fe_result *result, const fe_plan *plan, bool everything,
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
            !everything && is_hopeless(result, i)
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

/* ---- All of it ---- */

static fe_status compute_parts(const fe_result *result, const fe_plan *plan, unsigned concerns,
                               bool everything, again_work *work)
{
    fe_result *fresh = &work->fresh;
    fe_status status = FE_OK;
    if (concerns & FE_CONCERNS_RADIO)
        status = again_radio(result, plan, everything, fresh);
    if (status >= 0 && (concerns & FE_CONCERNS_CABLES)) {
        /* Channels look at the runs they hang on; those are the result's. */
        fresh->overhead = result->overhead;
        fresh->overhead_count = result->overhead_count;
        status = fe_status_worse(status, decide_channels(plan, fresh));
        fresh->overhead = NULL;
        fresh->overhead_count = 0;
    }
    if (status >= 0 && (concerns & FE_CONCERNS_FEED))
        status = fe_status_worse(status, decide_feeds(plan, fresh));
    return status;
}

/* Takes what is fresh and, for the rest, what was there. */
static fe_status put_together(const fe_result *result, const fe_plan *plan, unsigned concerns,
                              again_work *work)
{
    const fe_result *fresh = &work->fresh;
    fe_result *whole = &work->whole;
    *whole = *result;
    whole->plan = plan;
    whole->ways = NULL;
    whole->way_count = 0;
    if (concerns & FE_CONCERNS_RADIO)
        whole->radio = fresh->radio;
    if (concerns & FE_CONCERNS_CABLES)
        whole->channels = fresh->channels;
    if (concerns & FE_CONCERNS_FEED)
        whole->feeds = fresh->feeds;
    const bool same =
        (!(concerns & FE_CONCERNS_CABLES) || fresh->channel_count == result->channel_count) &&
        (!(concerns & FE_CONCERNS_FEED) || fresh->feed_count == result->feed_count);
    return same ? decide_ways(whole) : FE_E_DOMAIN;
}

fe_way_state again_state(const fe_way *way)
{
    return (fe_way_state){way->verdict, way->margin_db, way->chance, way->used};
}

fe_status again_compute(const fe_result *result, const fe_plan *plan, unsigned concerns,
                        bool everything, again_answer *answer)
{
    again_work work = {.fresh = {.plan = plan}};
    fe_status status = compute_parts(result, plan, concerns, everything, &work);
    if (status >= 0)
        status = fe_status_worse(status, put_together(result, plan, concerns, &work));
    if (status >= 0 && work.whole.way_count != result->way_count)
        status = FE_E_DOMAIN;
    if (status >= 0) {
        for (size_t i = 0; i < work.whole.way_count; i++)
            answer->ways[i] = again_state(&work.whole.ways[i]);
        answer->data_way = work.whole.data_way;
        answer->power_way = work.whole.power_way;
    }
    free(work.whole.ways);
    fe_result_free(&work.fresh);
    return status;
}
