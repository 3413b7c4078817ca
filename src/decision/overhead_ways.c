/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables on posts: the plan's, fibre and one pair for long reach beside it. */
#include "decision/decide.h"

#include <stdlib.h>
#include <string.h>

#include "farend/workers.h"

enum { MOST_CLASSES = 3 };

/* One class of cable over every path: a share of the work, since a search for posts is the
 * longest that a plan asks for. */
typedef struct class_share {
    const fe_plan *plan;
    const fe_cable_class *cable;
    fe_posts_result *runs; /* one a path; no cable where it cannot hang */
    fe_status status;
} class_share;

static void *lay_out_class(void *argument)
{
    class_share *share = argument;
    for (size_t path = 0; path < share->plan->path_count && share->status >= 0; path++) {
        const fe_status status =
            fe_posts_plan(share->plan, path, share->cable, NULL, &share->runs[path]);
        /* A class that cannot hang with no strand to carry it; posts that do not reach out of
         * their holes; a run shorter than a span. */
        if (status != FE_E_DOMAIN && status != FE_E_INPUT)
            share->status = fe_status_worse(share->status, status);
    }
    return NULL;
}

/* The plan's own cable first; where the plan has a strand to lash to, the pair is the one for
 * the ground. */
static size_t classes_of(const fe_plan *plan, const fe_cable_class *classes[MOST_CLASSES])
{
    const char *const pair = plan->posts.messenger ? "single-pair" : "single-pair-messenger";
    const char *const names[MOST_CLASSES] = {plan->posts.cable, "aerial-fibre", pair};
    size_t count = 0;
    for (size_t i = 0; i < MOST_CLASSES; i++) {
        const bool again = i > 0 && names[0] && strcmp(names[0], names[i]) == 0;
        classes[count] = names[i] && !again ? fe_plan_cable_class(plan, names[i]) : NULL;
        count += classes[count] != NULL;
    }
    return count;
}

/* Path by path, however the work was shared. */
static void gather_runs(class_share *shares, size_t classes, fe_result *result)
{
    for (size_t path = 0; path < result->plan->path_count; path++)
        for (size_t i = 0; i < classes; i++)
            if (shares[i].runs[path].cable)
                result->overhead[result->overhead_count++] = shares[i].runs[path];
}

fe_status decide_overhead(const fe_plan *plan, fe_result *result)
{
    const fe_cable_class *classes[MOST_CLASSES];
    const size_t count = classes_of(plan, classes);
    if (!plan->posts.given || plan->posts.post_lengths_m.count == 0 || count == 0)
        return FE_OK;
    const size_t most = count * plan->path_count;
    fe_posts_result *runs = calloc(most, sizeof *runs);
    result->overhead = calloc(most, sizeof *result->overhead);
    class_share shares[MOST_CLASSES];
    for (size_t i = 0; i < count; i++)
        shares[i] = (class_share){.plan = plan,
                                  .cable = classes[i],
                                  .runs = runs + i * plan->path_count,
                                  .status = FE_OK};
    fe_status status = FE_E_MEMORY;
    if (runs && result->overhead) {
        fe_workers_run(lay_out_class, shares, sizeof shares[0], (unsigned)count);
        gather_runs(shares, count, result);
        status = FE_OK;
        for (size_t i = 0; i < count; i++)
            status = fe_status_worse(status, shares[i].status);
    }
    free(runs);
    return status;
}

const fe_posts_result *fe_result_hung(const fe_result *result, const fe_channel_result *channel)
{
    for (size_t i = 0; channel->overhead && i < result->overhead_count; i++)
        if (result->overhead[i].path == channel->path &&
            result->overhead[i].cable == channel->cable)
            return &result->overhead[i];
    return NULL;
}
