/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would do where the posts on hand do not. */
#include "decision/posts_parts.h"

#include <math.h>
#include <stdlib.h>

#include "farend/constants.h"

/* Common practice, no source, all of them. */
static const double LONGEST_POST_M = 12.0; /* that anybody sets by hand */
static const double LENGTH_STEP_M = 0.25;
static const double US_LENGTH_STEP_M = FE_FOOT_M;
static const double WORTH_RAISING_M = 0.9; /* of every post, for a hook higher on a wall */
static const double LITTLE_M = 0.05;
static const double WIDTH_STEP_M = 0.020;
static const double US_WIDTH_STEP_M = FE_INCH_M;

enum { MOST_LONGER = 6, MOST_THICKER = 8 };

static const posts_setting TO_BUY[] = {{0.0, false}, {0.6, false}, {0.0, true}, {0.6, true}};

/* Posts of one length and section, and how high the buildings hold the cable. */
typedef struct offer {
    double length_m;
    double width_m;
    double start_m;
    double end_m;
} offer;

static void set_offer(const offer *o, bool stays, fe_posts_result *r)
{
    r->material.width_m = o->width_m;
    r->input.start_attachment_m = o->start_m;
    r->input.end_attachment_m = o->end_m;
    r->input.kind_count = 0;
    posts_add_kinds(&r->material, o->length_m, stays, TO_BUY, sizeof TO_BUY / sizeof TO_BUY[0],
                    r->kinds, &r->input.kind_count);
}

/* Whether spans hang high enough, whatever the posts bear. */
static fe_status see_reach(const fe_posts_result *r, bool *reaches)
{
    fe_route_input easier = r->input;
    fe_route found = {0};
    easier.posts_free = true;
    easier.any_route = true;
    const fe_status status =
        r->input.kind_count > 0 ? fe_route_search(&easier, &found) : FE_E_NO_SOLUTION;
    *reaches = status == FE_OK;
    fe_route_free(&found);
    return status == FE_E_NO_SOLUTION ? FE_OK : status;
}

static double length_step(const fe_posts_result *r)
{
    return r->material.format == FE_SAFETY_US ? US_LENGTH_STEP_M : LENGTH_STEP_M;
}

/* Shortest length of the list that reaches: longer posts tie the cable higher. */
static fe_status find_reach(fe_posts_result *r, offer *o, bool stays, bool *reaches)
{
    const double step_m = length_step(r);
    double least_m = 0.0;
    fe_status status = fe_posts_length_for(&r->material, r->needs[0].over_ground_m, &least_m);
    int low = (int)ceil(least_m / step_m) - 1; /* too short */
    int high = (int)floor(LONGEST_POST_M / step_m);
    *reaches = false;
    for (int tried = high; status == FE_OK && high > low; tried = low + (high - low) / 2) {
        bool does = false;
        o->length_m = tried * step_m;
        set_offer(o, stays, r);
        status = see_reach(r, &does);
        if (!does && tried == high)
            return status;
        *reaches = true;
        if (does)
            high = tried;
        else
            low = tried;
        if (high - low == 1)
            break;
    }
    o->length_m = high * step_m;
    return status;
}

static fe_status try_offer(const offer *o, bool stays, fe_posts_result *r)
{
    set_offer(o, stays, r);
    return r->input.kind_count > 0 ? posts_search(r) : FE_OK;
}

/* Thinnest section with which a length holds: thicker posts bear more of everything. */
static fe_status find_width(fe_posts_result *r, offer *o, bool stays, double planned_m)
{
    const double step_m = r->material.format == FE_SAFETY_US ? US_WIDTH_STEP_M : WIDTH_STEP_M;
    int low = -1;
    int high = MOST_THICKER;
    int tried = 0; /* the planned one first */
    fe_status status = FE_OK;
    while (status == FE_OK && high - low > 1) {
        o->width_m = planned_m + tried * step_m;
        status = try_offer(o, stays, r);
        if (r->meets)
            high = tried;
        else
            low = tried;
        tried = low + (high - low) / 2;
    }
    if (status != FE_OK || r->meets) /* the last one tried is the thinnest that does */
        return status;
    o->width_m = planned_m + high * step_m;
    return try_offer(o, stays, r);
}

/* The length that reaches, or as much longer as its hole must be deeper; first with posts so
 * thick that only the ground can fail. */
static fe_status find_strength(fe_posts_result *r, offer *o, bool stays)
{
    const offer least = *o;
    const double step_m = r->material.format == FE_SAFETY_US ? US_WIDTH_STEP_M : WIDTH_STEP_M;
    fe_status status = FE_OK;
    o->width_m = least.width_m + MOST_THICKER * step_m;
    for (int i = 0; i < MOST_LONGER && status == FE_OK && !r->meets; i++) {
        o->length_m = least.length_m + i * length_step(r);
        status = try_offer(o, stays, r);
    }
    return status == FE_OK && r->meets ? find_width(r, o, stays, least.width_m) : status;
}

static void keep_offer(const offer *planned, const offer *o, fe_posts_result *r)
{
    r->layout = FE_LAYOUT_WOULD_DO;
    r->meets = false; /* not with what is on hand */
    r->would_do_m = o->length_m;
    r->would_do_posts = r->route.post_count;
    r->would_do_width_m = o->width_m > planned->width_m ? o->width_m : (double)NAN;
    r->would_do_start_m = o->start_m > planned->start_m + LITTLE_M ? o->start_m : (double)NAN;
    r->would_do_end_m = o->end_m > planned->end_m + LITTLE_M ? o->end_m : (double)NAN;
}

static void set_tried(fe_posts_result *r)
{
    const bool us = r->material.format == FE_SAFETY_US;
    const double width_step_m = us ? US_WIDTH_STEP_M : WIDTH_STEP_M;
    const double step_m = length_step(r);
    r->tried =
        (fe_posts_tried){.step_m = step_m,
                         .longest_m = step_m * floor(LONGEST_POST_M / step_m),
                         .deeper_m = TO_BUY[1].deeper_m,
                         .thickest_m = r->material.width_m + MOST_THICKER * width_step_m};
}

static fe_status find_offer(fe_posts_result *r, bool stays)
{
    const offer planned = {.width_m = r->material.width_m,
                           .start_m = r->input.start_attachment_m,
                           .end_m = r->input.end_attachment_m};
    offer o = planned;
    bool reaches = false;
    set_tried(r);
    fe_status status = find_reach(r, &o, stays, &reaches);
    /* A cable that starts too low is too low beside the wall: higher posts there make up for it
     * at a price, or not at all. */
    const double enough_m = ceil((r->asked_m + 0.3) * 10.0 - 1e-6) / 10.0;
    offer raised = planned;
    raised.start_m = fmax(planned.start_m, enough_m);
    raised.end_m = fmax(planned.end_m, enough_m);
    if (status == FE_OK &&
        fmax(raised.start_m - o.start_m, raised.end_m - o.end_m) > LITTLE_M) {
        bool also = false;
        status = find_reach(r, &raised, stays, &also);
        if (also && (!reaches || raised.length_m < o.length_m - WORTH_RAISING_M))
            o = raised;
        reaches = reaches || also;
    }
    if (status == FE_OK && reaches)
        status = find_strength(r, &o, stays);
    if (status == FE_OK && r->meets)
        keep_offer(&planned, &o, r);
    return status;
}

/* With posts and buildings of the plan again where nothing would do. */
fe_status posts_find_what_would_do(fe_posts_result *r, bool stays)
{
    const fe_posts_material material = r->material;
    const fe_route_input input = r->input;
    fe_posts_kind *kinds = r->kinds;
    r->kinds = calloc(sizeof TO_BUY / sizeof TO_BUY[0], sizeof *r->kinds);
    r->input.kinds = r->kinds;
    fe_status status = r->kinds ? find_offer(r, stays) : FE_E_MEMORY;
    if (status == FE_OK && r->layout == FE_LAYOUT_WOULD_DO) {
        free(kinds);
        return FE_OK;
    }
    free(r->kinds);
    r->kinds = kinds;
    r->material = material;
    r->input = input;
    return status == FE_OK ? posts_show_closest(r) : status;
}
