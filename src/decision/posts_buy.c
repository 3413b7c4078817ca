/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a run on posts takes: cable, hardware, and what holds its stays. */
#include "decision/posts_parts.h"

#include <math.h>
#include <string.h>

#include "decision/cable_length.h"
#include "farend/anchor.h"

/* Common practice, no source, all of them. */
static const double END_SLACK_M = 3.0; /* at each end, to make a new one some day */
static const double DRIP_M = 0.5;
static const double ENTRY_M = 0.5; /* cable comes in so far above the ground */

static void count_cable(fe_posts_result *r)
{
    fe_posts_cable *buy = &r->buy;
    buy->in_air_m = r->check.run.in_air_m;
    buy->drops_m = fmax(r->input.start_attachment_m - ENTRY_M, 0.0) +
                   fmax(r->input.end_attachment_m - ENTRY_M, 0.0);
    buy->drip_m = 2.0 * DRIP_M;
    buy->slack_m = 0.02 * buy->in_air_m + 2.0 * END_SLACK_M;
    buy->indoor_m = plan_indoor_length(r->plan);
    buy->total_m = buy->in_air_m + buy->drops_m + buy->drip_m + buy->slack_m + buy->indoor_m;
    /* As much as the data cable, and from its own hooks down. */
    if (r->above)
        r->supply_m = 1.02 * r->check.above.in_air_m + 2.0 * END_SLACK_M + buy->drops_m +
                      2.0 * r->above->up_m + buy->drip_m;
    /* Grips at both sides of every post take a hand's breadth of strand more. */
    if (*r->messenger)
        buy->messenger_m = 1.02 * buy->in_air_m + 1.0 * (double)r->check.support_count;
}

static size_t stays_of(const fe_posts_result *r, size_t post)
{
    if (!r->kinds[r->route.kinds[post]].stayed)
        return 0;
    return r->places[r->route.places[post]].turn_rad > 0.0 ? 1 : 2;
}

static void count_hardware(fe_posts_result *r)
{
    const size_t posts = r->route.post_count;
    const bool free_running = r->input.run.free_running;
    fe_posts_hardware found = {.bolts = posts + 2};
    found.grips = free_running ? 2 : 2 * r->check.run.span_count;
    found.slides = free_running ? posts : 0;
    for (size_t i = 0; i < posts; i++)
        found.stays += stays_of(r, i);
    r->hardware = found;
}

void posts_count(fe_posts_result *r)
{
    count_cable(r);
    count_hardware(r);
}

/* ---- Stays ---- */

/* Least class that holds with something to spare, else the strongest. */
static fe_status choose_anchor(const fe_posts_result *r, fe_posts_hold *hold)
{
    static const double WELL = 0.85; /* as tight begins; common practice, no source */
    const char *named = r->plan->posts.anchor;
    for (size_t i = 0; i < fe_anchor_count(); i++) {
        const fe_anchor *anchor = fe_anchor_at(i);
        const bool last = i + 1 == fe_anchor_count();
        if (named && strcmp(anchor->name, named) != 0)
            continue;
        const fe_status status =
            fe_anchor_holding(anchor, posts_soil(r->plan), &hold->holding_n);
        if (status != FE_OK)
            return status;
        hold->anchor = anchor;
        hold->use = FE_ANCHOR_FACTOR * hold->stay.tension_n / hold->holding_n;
        if (named || last || hold->use <= WELL)
            return FE_OK;
    }
    return FE_E_DOMAIN;
}

fe_status fe_posts_hold_of(const fe_posts_result *r, size_t post, fe_posts_hold *hold)
{
    const fe_posts_kind *kind = &r->kinds[r->route.kinds[post]];
    const fe_route_duty *duty = &r->check.duties[post];
    const char *soil = posts_soil(r->plan);
    fe_posts_hold found = {.log_depth_m = (double)NAN};
    if (!kind->stayed)
        return FE_E_DOMAIN;
    fe_status status = fe_posts_stay(kind, duty->stay_n, &found.stay);
    if (status == FE_OK)
        status = choose_anchor(r, &found);
    if (status != FE_OK)
        return status;
    found.lead_m = kind->attachment_m / kind->stay_slope;
    found.lines = stays_of(r, post);
    found.rock = strcmp(soil, "rock") == 0 || strcmp(soil, "bedrock") == 0;
    found.strand = fe_anchor_strand(FE_ANCHOR_FACTOR * found.stay.tension_n);
    const fe_anchor_log log = {.length_m = FE_POSTS_LOG_M,
                               .width_m = kind->width_m,
                               .angle_rad = found.stay.angle_rad};
    status = fe_anchor_log_depth(&log, soil, FE_ANCHOR_FACTOR * found.stay.tension_n,
                                 &found.log_depth_m);
    if (status != FE_OK) /* in rock, or too weak at any depth */
        found.log_depth_m = (double)NAN;
    *hold = found;
    return FE_OK;
}
