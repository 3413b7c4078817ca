/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_ROUTE_H
#define FAREND_ROUTE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/limits.h"
#include "farend/posts.h"
#include "farend/run.h"
#include "farend/status.h"

/*
 * Where posts of an overhead run should stand. The search is exact over the places, kinds of
 * post and stringing pulls it is given: no route of fewer posts meets every limit in every load
 * case, and of those with as many posts none needs fewer stays, nor, with as many stays, has a
 * smaller largest moment. (A stay is as much work as a post, so it is only taken where it saves
 * one.)
 *
 * The unknown of the search is the span, not the post: what a post bears depends on the spans
 * before and behind it. A span knows its pull in every case; the step from one span to the next
 * checks the post between them. One stringing pull serves the whole run and is tried in an
 * outer loop. Cost grows linearly with the length of the run at a fixed step between places,
 * and with the cube of their density; about a second for 1 km at every metre.
 *
 * Supports are rigid in the search, and every span tied off. Posts that give and a cable that
 * runs free couple all spans: the check afterwards
 * (fe_route_assess) looks at clearance with giving posts too, by the exact catenary, where the
 * search interpolates a table of exact pulls (within 1e-4).
 */
typedef struct fe_route_place {
    double at_m;     /* along the run */
    double turn_rad; /* by how much the line turns here; 0 straight on */
    bool must;       /* a post stands here in any case: given, or a corner */
} fe_route_place;

/*
 * Exact pulls, worked out by one search and kept for the next. Only for searches of one run
 * (cables, stringing_c, seasons, wet snow, district); posts, places, heights, spans and
 * stringing pulls may differ. A search finds the same with kept tables as without.
 */
typedef struct fe_route_tables fe_route_tables;
fe_route_tables *fe_route_tables_new(void); /* null: no memory */
void fe_route_tables_free(fe_route_tables *tables);

/*
 * A second cable above the first on the same posts and buildings, strung on the same day to the
 * same sag: its pull is to that of the first as their weights.
 */
typedef struct fe_route_above {
    fe_run_cable cable;
    const fe_ice_district *district; /* for its diameter; null with that of the run */
    fe_pull_limits limits;
    double up_m; /* over the first at every support, above 0 */
    fe_shared_posts asked;
} fe_route_above;

/* Stringing pull of the cable above, where the first has another. */
double fe_route_above_string(const fe_route_above *above, const fe_run_cable *first,
                             double stringing_n);

typedef struct fe_route_input {
    fe_run_input run; /* ground, cable, stringing_c, seasons, wet snow, district; no supports */
    double start_attachment_m; /* on the buildings, above the ground there */
    double end_attachment_m;
    const fe_route_place *places; /* rising, inside the run, ends not among them */
    size_t place_count;
    double span_low_m; /* allowed spans */
    double span_high_m;
    const fe_posts_kind *kinds; /* posts that may be set, stayed and not; at most 64 */
    size_t kind_count;
    fe_pull_limits limits;
    const double *strings_n; /* horizontal stringing pulls to try */
    size_t string_count;
    double most_sag_share; /* of any span at stringing */
    const fe_clearance_need *needs;
    size_t need_count;
    double wall_free_m;  /* so near a building nothing is asked: nobody passes in the wall */
    bool clearance_free; /* look at pulls and posts alone */
    bool posts_free;     /* posts bear anything */
    const fe_route_above *above; /* null: one cable; not with one that runs free */
    bool any_route;          /* whether there is one is the question: the first found will do */
    fe_route_tables *tables; /* to use and add to; null: nothing is kept */
} fe_route_input;

typedef struct fe_route {
    double stringing_n;
    size_t *places; /* of each post, index of input places */
    size_t *kinds;
    size_t post_count;
    size_t stay_count;
    double moment_n_m; /* largest of the posts, by the search's own pulls */
} fe_route;

enum { FE_ROUTE_MOST_KINDS = 64, FE_ROUTE_MOST_POSTS = 400 };

/*
 * FE_OK
 * FE_E_NO_SOLUTION  no route meets all limits
 * FE_E_DOMAIN       a value is not finite or out of range, places do not rise, spans may be
 *                   longer than FE_ROUTE_LONGEST_SPAN_M, seasons are more than FE_MOST_SEASONS
 * FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_route_search(const fe_route_input *input, fe_route *route);
void fe_route_free(fe_route *route);

#define FE_ROUTE_LONGEST_SPAN_M 10e3

/* ---- How much of each limit is used ---- */

typedef enum fe_route_limit {
    FE_ROUTE_PULL,    /* of the cable */
    FE_ROUTE_STRAIN,  /* of a cable that steel carries, as a pull of the whole */
    FE_ROUTE_GROUND,  /* height over bare ground, water or a way */
    FE_ROUTE_SNOW,    /* height over the season's snow */
    FE_ROUTE_SIDE,    /* blown out towards a thing beside the run */
    FE_ROUTE_ABOVE,   /* pull of the cable above */
    FE_ROUTE_APART,   /* distance of both cables in the span */
    FE_ROUTE_AT_POST, /* distance of both cables at the posts */
    FE_ROUTE_POST,    /* see post_limit */
    FE_ROUTE_LIMITS
} fe_route_limit;

/* The tightest place of one limit. */
typedef struct fe_route_use {
    fe_route_limit limit;
    fe_posts_limit post_limit; /* of FE_ROUTE_POST */
    double use;                /* used over allowed; above 1 it fails; 0: nothing to look at */
    double value;              /* N, m, or the share itself for posts */
    double allowed;
    double at_m;  /* along the run */
    size_t index; /* of the span, or of the post */
    size_t season;
    fe_run_case_kind kind;
    const fe_clearance_need *need; /* null for pulls and posts */
} fe_route_use;

/* "pull in the cable", "height over the snow", ... */
const char *fe_route_use_name(const fe_route_use *use);

/* The kind that ties the cable highest; of equal ones one without a stay. */
size_t fe_route_highest_kind(const fe_route_input *input);

/*
 * What fails with a number of posts: of all ways to place them (every post of the kind that
 * reaches highest), the one whose worst limit is least exceeded.
 *   FE_E_NO_SOLUTION  so few posts cannot be placed at all within the allowed spans
 */
FE_MUST_CHECK fe_status fe_route_closest(const fe_route_input *input, size_t post_count,
                                         fe_route *route, fe_route_use *worst);

/* What might be otherwise than planned. All 1 or 0 for the plan itself. */
typedef struct fe_route_change {
    double ice; /* times */
    double stringing;
    double snow;
    double ground_m; /* ground higher by so much under the spans */
} fe_route_change;
#define FE_ROUTE_AS_PLANNED ((fe_route_change){1.0, 1.0, 1.0, 0.0})

/* One post of a route as it stands. */
typedef struct fe_route_duty {
    fe_posts_duty worst; /* the case that uses most */
    size_t season;
    fe_run_case_kind kind;
    double moment_n_m;     /* largest, any case, without factors */
    double lasting_pull_n; /* largest horizontal pull that no stay holds, everyday */
    double pull_n;         /* largest left over from both sides, any case, stays or not */
    double stay_n;         /* largest that its stay must hold, sideways */
    double thaw_pull_n;    /* lasting, while the ground thaws */
    double thaw_moment_n_m;
    double depth_needed_m; /* by the building code's formula; wind alone where stayed */
    double broken_n;       /* pull on it where a span beside it breaks, worst case */
    double broken_use;     /* of its bending strength then, by what no stay holds */
    double moved_m;        /* of its top after creep, everyday */
    double down_n;         /* largest weight of cable on it */
} fe_route_duty;

typedef struct fe_route_check {
    fe_run run;               /* rigid supports: pulls */
    fe_run give;              /* posts that give, with creep: heights */
    fe_run above;             /* the cable above, rigid supports */
    double apart_m;           /* least distance of both in any span; NAN: one cable */
    fe_run_support *supports; /* ends and posts */
    size_t support_count;
    fe_route_duty *duties; /* of each post */
    fe_route_use uses[FE_ROUTE_LIMITS];
    double largest_use;
    double worst_clearance_m; /* over bare ground or snow less what is asked, least anywhere */
    double start_pull_n;      /* on the buildings, worst case */
    double end_pull_n;
} fe_route_check;

/*
 * A route by the exact catenary.
 *   material  for posts that give and the depth formula
 * Statuses of fe_run_compute.
 */
FE_MUST_CHECK fe_status fe_route_assess(const fe_route_input *input, const fe_route *route,
                                        const fe_posts_material *material,
                                        const fe_route_change *change, fe_route_check *check);
void fe_route_check_free(fe_route_check *check);

#endif
