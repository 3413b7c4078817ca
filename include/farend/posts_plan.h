/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_POSTS_PLAN_H
#define FAREND_POSTS_PLAN_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/anchor.h"
#include "farend/cable_class.h"
#include "farend/plan.h"
#include "farend/route.h"
#include "farend/status.h"
#include "farend/verdict.h"

/*
 * The overhead run of a plan, from the plan's own words to a layout that can be built: posts,
 * spans, stringing table, what to buy, and what would overturn the verdict. Printed by
 * farend/report_posts.h; computes everything once.
 */

/* What a command may ask beyond the plan. All zero: nothing. */
typedef struct fe_posts_wish {
    double step_m; /* between places where a post may stand; 0: 1 m, 3 ft in the US form */
    double wet_snow_kg_m; /* 0: the plan's */
    const char *district; /* of fe_ice_preset; null: the plan's */
    bool no_stays;
    bool verdict_only; /* no stringing tables, and nothing about one post fewer */
} fe_posts_wish;

/* What to buy of the cable; metres. */
typedef struct fe_posts_cable {
    double in_air_m;
    double drops_m; /* down both walls */
    double drip_m;  /* drip loops at both entries */
    double slack_m; /* 2 % of what hangs, and what a new end wants at both sides */
    double indoor_m;
    double total_m;
    double messenger_m; /* of a strand of its own; 0: none */
} fe_posts_cable;

/* Hardware, by class. */
typedef struct fe_posts_hardware {
    size_t grips;  /* dead-end grips or clamps */
    size_t slides; /* blocks or suspension clamps in which a free cable runs */
    size_t bolts;  /* with eye or hook, one a post and one a wall */
    size_t stays;  /* strand, anchor, rod, thimbles, turnbuckle, guard */
} fe_posts_hardware;

/* Stringing table: rows by temperature, columns by span. */
typedef struct fe_posts_stringing {
    double *temp_c;
    size_t temp_count;
    double *sag_m; /* [temp][span] */
    double *pull_n;
} fe_posts_stringing;

typedef enum fe_posts_flip {
    FE_FLIP_NONE,
    FE_FLIP_ICE,    /* a quarter more ice */
    FE_FLIP_SLACK,  /* strung a tenth less */
    FE_FLIP_TAUT,   /* strung a tenth more */
    FE_FLIP_GROUND, /* ground 0.1 m higher */
    FE_FLIP_SNOW,   /* a fifth more snow */
    FE_FLIPS
} fe_posts_flip;
const char *fe_posts_flip_name(fe_posts_flip flip);

/* What the result lays out. */
typedef enum fe_posts_layout {
    FE_LAYOUT_ON_HAND,  /* posts of the plan: every limit is met */
    FE_LAYOUT_WOULD_DO, /* those on hand do not do, these would */
    FE_LAYOUT_CLOSEST   /* nothing that was tried does; not to be built */
} fe_posts_layout;

/* What bounds the search for posts that would do; all of one length. */
typedef struct fe_posts_tried {
    double step_m; /* between lengths */
    double longest_m;
    double deeper_m;   /* than the rule */
    double thickest_m; /* section */
} fe_posts_tried;

typedef struct fe_posts_result {
    const fe_plan *plan;
    size_t path;
    const fe_cable_class *cable;
    char messenger[48]; /* empty: the cable's own */
    fe_hung_cable hung;
    fe_posts_material material;
    fe_route_input input; /* points into this result and the plan */
    fe_posts_kind *kinds;
    fe_route_place *places;
    double *strings_n;
    fe_clearance_need *needs;
    fe_ice_district *district;    /* a code's load; null: none */
    const fe_cable_class *supply; /* above it on the same posts; null: none */
    fe_route_above *above;
    fe_ice_district *above_district;
    fe_posts_layout layout; /* what follows, and material, input and kinds above, belong to */
    fe_route route;
    fe_route_check check;
    bool meets;         /* every limit, in every case, with the posts on hand */
    fe_verdict verdict; /* of the posts on hand */
    fe_verdict layout_verdict;
    fe_route_use worst;       /* of the layout: what is used most, or exceeded most */
    fe_route_use falls_short; /* why the posts on hand do not do; use 0: not known */
    fe_posts_flip flip;       /* what small change would make it fail */
    /* Where the posts on hand do not do. */
    bool too_short;      /* what is left of the longest above ground is below what is asked */
    double longest_m;    /* on hand */
    double longest_up_m; /* its attachment above bare ground */
    double asked_m;      /* height asked above bare ground, the season's snow included */
    double would_do_m;   /* length that would do; NAN: none of those tried */
    size_t would_do_posts;
    double would_do_width_m; /* section that it needs; NAN: as planned */
    double would_do_start_m; /* attachments on the buildings that it needs; NAN: as planned */
    double would_do_end_m;
    fe_posts_tried tried;
    /* Why not one post fewer. */
    bool fewer_known;
    bool fewer_impossible; /* the spans would be longer than allowed */
    fe_route_use fewer;
    /* A cable that is not made to hang. */
    double alone_span_m; /* how far it would carry itself; NAN where it is made to hang */
    fe_posts_stringing stringing;
    fe_posts_stringing
        supply_stringing; /* same rows and columns; empty without a supply cable */
    double supply_m;      /* to buy of it, ends indoors not counted */
    double ruling_span_m; /* of a cable that runs free; NAN where it is tied at every post */
    fe_posts_cable buy;
    fe_posts_hardware hardware;
} fe_posts_result;

/*
 *   cable  class to hang; null: the plan's
 *   wish   may be null
 * The plan must outlive the result. A run that fails is a result, with FE_OK.
 *
 * FE_E_INPUT   the plan names a wood, soil or strand that no table has
 * FE_E_DOMAIN  a value that the plan reader should have refused; no post of the lengths given
 *              reaches out of the ground
 * FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_posts_plan(const fe_plan *plan, size_t path,
                                      const fe_cable_class *cable, const fe_posts_wish *wish,
                                      fe_posts_result *result);
void fe_posts_result_free(fe_posts_result *result);

/*
 * A run whose posts meet every limit, where it stands, with all else as another plan has it
 * (seasons, attachments, wood, soil, heights asked): whether it still meets them, its verdict
 * and its worst limit.
 *
 *   run  input and result; may be a copy that shares the rest, which is only read
 *
 * FE_OK, FE_E_MEMORY, FE_E_CONVERGE; untouched on error
 * FE_E_DOMAIN  a post no longer reaches out of the ground, or the run ends before it
 */
FE_MUST_CHECK fe_status fe_posts_stand(const fe_plan *plan, fe_posts_result *run);

/* The strand of the plan that a cable hangs under; empty: the cable's own, or none. */
const char *fe_posts_messenger(const fe_plan *plan, const fe_cable_class *cable);

/* What holds a stayed post of a layout. */
typedef struct fe_posts_hold {
    fe_post_stay stay;       /* under its largest pull, a broken span included */
    double lead_m;           /* from the post to the foot of the stay */
    const fe_anchor *anchor; /* the plan's class, or the least that holds well */
    double holding_n;        /* of that class in this soil */
    double use;              /* FE_ANCHOR_FACTOR times the pull of it */
    const fe_strand *strand; /* of high strength; null: none is strong enough */
    double log_depth_m;      /* of a piece of the post, FE_POSTS_LOG_M long; NAN: none does */
    size_t lines;            /* stays of the post: 1 at a corner, else 2 */
    bool rock;               /* a drilled rod in place of the plate */
} fe_posts_hold;
#define FE_POSTS_LOG_M 1.2

/*
 *   post  of the route, below its count
 * FE_E_DOMAIN  the post is not stayed
 */
FE_MUST_CHECK fe_status fe_posts_hold_of(const fe_posts_result *result, size_t post,
                                         fe_posts_hold *hold);

/* What decides the verdict: the limit most used, or why the posts on hand do not do. */
const fe_route_use *fe_posts_reason(const fe_posts_result *result);

#endif
