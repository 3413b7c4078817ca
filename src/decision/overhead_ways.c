/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables on posts: the plan's, fibre and one pair for long reach beside it. */
#include "decision/decide.h"

#include <stdlib.h>
#include <string.h>

static fe_status add_run(const fe_plan *plan, size_t path, const fe_cable_class *cable,
                         fe_result *result)
{
    fe_posts_result run;
    const fe_status status = fe_posts_plan(plan, path, cable, NULL, &run);
    /* A class that cannot hang with no strand to carry it; posts that do not reach out of their
     * holes; a run shorter than a span. */
    if (status == FE_E_DOMAIN || status == FE_E_INPUT)
        return FE_OK;
    if (status < 0)
        return status;
    fe_posts_result *grown =
        realloc(result->overhead, (result->overhead_count + 1) * sizeof *grown);
    if (!grown) {
        fe_posts_result_free(&run);
        return FE_E_MEMORY;
    }
    result->overhead = grown;
    result->overhead[result->overhead_count++] = run;
    return status;
}

fe_status decide_overhead(const fe_plan *plan, fe_result *result)
{
    if (!plan->posts.given || plan->posts.post_lengths_m.count == 0)
        return FE_OK;
    /* Where the plan has a strand to lash to, the pair is the one for the ground. */
    const char *const pair = plan->posts.messenger ? "single-pair" : "single-pair-messenger";
    const char *const names[] = {plan->posts.cable, "aerial-fibre", pair};
    fe_status status = FE_OK;
    for (size_t path = 0; path < plan->path_count; path++)
        for (size_t i = 0; i < sizeof names / sizeof names[0] && status >= 0; i++) {
            if (i > 0 && names[0] && strcmp(names[0], names[i]) == 0)
                continue;
            const fe_cable_class *cable = names[i] ? fe_plan_cable_class(plan, names[i]) : NULL;
            if (cable)
                status = fe_status_worse(status, add_run(plan, path, cable, result));
        }
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
