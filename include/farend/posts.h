/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_POSTS_H
#define FAREND_POSTS_H

#include <stdbool.h>

#include "farend/limits.h"
#include "farend/post.h"
#include "farend/status.h"

/*
 * What one post of an overhead run must bear and can bear: wind on post and cable, unequal
 * pulls, corners, a broken span; strength by one safety format, the ground it stands in, stays.
 * Made once for each kind of post (fe_posts_make), so that one check costs some ten
 * nanoseconds. Not here: which posts stand where (route.h).
 *
 * Wind comes from the worst direction: its moment is added to that of the pull. A stay only
 * pulls, and only in its own line: what it cannot hold bends the post.
 */

/* What all posts of a run have in common. */
typedef struct fe_posts_material {
    fe_post_section section;
    double width_m;       /* diameter or side */
    double bending_pa;    /* EN: characteristic; US: designated fibre stress */
    double elasticity_pa; /* mean modulus along the grain */
    fe_safety_format format;
    double lateral_pa_m; /* fe_soil_lateral */
    bool soil_known;
    fe_post_rule rule;
    double own_depth_m; /* the plan's own; NAN: none */
    double top_m;       /* from the attachment to the top of the post */
    double thaw_m;      /* top of the ground that bears nothing while it thaws; 0: none */
    double anchor_n;    /* what a stay's anchor holds (anchor.h); 0: not looked at */
} fe_posts_material;

typedef enum fe_posts_limit {
    FE_POSTS_PERMANENT, /* bending under lasting pull */
    FE_POSTS_GUST,      /* bending with wind */
    FE_POSTS_GROUND,    /* what the ground holds, lasting */
    FE_POSTS_GROUND_GUST,
    FE_POSTS_UPLIFT,   /* the cable lifts the post */
    FE_POSTS_BUCKLING, /* the strut under a stay */
    FE_POSTS_BROKEN,   /* a span beside it breaks, where that is asked */
    FE_POSTS_ANCHOR,   /* pull-out of a stay's anchor */
    FE_POSTS_LIMITS
} fe_posts_limit;
const char *fe_posts_limit_name(fe_posts_limit limit);

/* One kind of post as it may stand. */
typedef struct fe_posts_kind {
    double length_m;
    double depth_m;      /* largest of rule, plan and what was added */
    double rule_depth_m; /* by the rule alone */
    double attachment_m; /* above bare ground */
    bool stayed;
    /* Use of each limit for a newton metre or a newton; see fe_posts_check. */
    double permanent_per_n_m;
    double gust_per_n_m;
    double gust_per_wind_n_m;
    double gust_held_per_n_m; /* less, where a lasting pull works against the wind */
    double ground_per_n;
    double ground_gust_per_n;
    double ground_thaw_per_n;
    double ground_gust_thaw_per_n;
    double buckling_per_n;
    double width_m;
    double stay_slope;   /* height over lead of the stay */
    double anchor_per_n; /* 0 without a stay or where it is not looked at */
} fe_posts_kind;

/*
 *   length_m        of the post, > 0
 *   added_depth_m   deeper than rule and plan ask, >= 0
 *   stayed          at a corner one stay outside of it, in the line that halves it: it takes
 *                   what pulls inwards; what pulls along the line, what is left of a broken
 *                   span, and wind outwards beyond the pull inwards bend the post. In a
 *                   straight line a pair takes the pull both ways, and the post itself the
 *                   wind across
 *   FE_E_DOMAIN     an argument is out of range; nothing of the post is left above ground
 *
 * Source: strength of post.h; IBC 2012 1807.3.2.1 for the ground, at service load: factor 1 for
 * lasting pull, 2 for wind (a post that an inch of motion does not harm); a pull that works
 * against the wind counts once (EN 1990 table A1.2(B), from memory; the same in the US form,
 * common practice, no source); a stayed post as a strut, CPUC General Order 95 rule 86.2, Euler
 * with a factor of 3 (common practice). Stays lead out as far as two thirds of the attachment's
 * height; their anchors hold FE_ANCHOR_FACTOR times the pull, that of one side alone included (a
 * broken span).
 */
FE_MUST_CHECK fe_status fe_posts_make(const fe_posts_material *material, double length_m,
                                      double added_depth_m, bool stayed, fe_posts_kind *kind);

/* Loads on a post in one load case, without factors. */
typedef struct fe_posts_load {
    double pull_n;   /* horizontal, left over from both sides: fe_posts_pull */
    double inward_n; /* of it, to the inside of a corner */
    double along_n;  /* of it, along the line */
    double turn_sin; /* of half the turn; 0: straight on */
    double turn_cos;
    double cable_wind_n; /* wind on half of both spans */
    double pressure_pa;  /* wind on the post */
    double down_n;       /* of the cable on the post; below zero lifts */
    double broken_n;     /* pull of one side alone that it must stand as well; 0: not asked */
    double side_n; /* the larger pull of the two sides, which a stay in line holds alone */
    bool thaw;     /* the top of the ground bears nothing */
} fe_posts_load;

/* What is left of two pulls where the line turns: sqrt((H2 - H1)^2 + 4 H1 H2 sin^2(turn/2)). */
double fe_posts_pull(double back_n, double forward_n, double turn_rad);

/* Sets all of a load that comes from the pulls of both sides. The turn is at least 0. */
void fe_posts_set_pulls(double back_n, double forward_n, double turn_rad, fe_posts_load *load);

typedef struct fe_posts_duty {
    double moment_n_m; /* at the ground, without factors */
    double stay_n;     /* horizontal, that a stay must hold; 0 without */
    double bending_n;  /* horizontal pull, without wind, that no stay holds */
    double broken_n;   /* of a broken span on either side, what no stay holds */
    double use;        /* largest share of a limit; above 1 it fails */
    fe_posts_limit limit;
    double uses[FE_POSTS_LIMITS];
} fe_posts_duty;

/*
 * Arguments must be finite; pulls, wind and pressure at least 0. At a stayed corner the wind on
 * a span is taken square to it at its full force, outwards for the post, inwards for the stay.
 */
void fe_posts_check(const fe_posts_kind *kind, const fe_posts_load *load, fe_posts_duty *duty);

/* Depth that the building code's formula asks for a load, at this height; 0 for no load. */
FE_MUST_CHECK fe_status fe_posts_depth_needed(const fe_posts_material *material,
                                              double attachment_m, double lasting_n,
                                              double gust_n, double *depth_m);

/*
 * How far the attachment gives along the line for each newton, at once; the ground taken as
 * stiff. A pair of stays in the line does not give, the stay of a corner does not help there.
 */
FE_MUST_CHECK fe_status fe_posts_give(const fe_posts_material *material,
                                      const fe_posts_kind *kind, double turn_rad,
                                      double *give_m_n);

/* k_def of wood outdoors (EN 1995-1-1 table 3.2, service class 3, from memory). */
#define FE_POSTS_CREEP 2.0

/* A stay of a kind of post under a horizontal load. */
FE_MUST_CHECK fe_status fe_posts_stay(const fe_posts_kind *kind, double horizontal_n,
                                      fe_post_stay *stay);

/* Least length on hand, whatever it bears, that brings an attachment to a height. */
FE_MUST_CHECK fe_status fe_posts_length_for(const fe_posts_material *material,
                                            double attachment_m, double *length_m);

#endif
