/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WIRED_ROUTE_KERNEL_H
#define WIRED_ROUTE_KERNEL_H

#include "farend/route.h"

/*
 * Private to the wired room: one span and one post of a route, as the search sees them. A table
 * for each stringing pull holds exact pulls at nodes of span and slope; between them the
 * logarithm of the pull is interpolated.
 */
enum {
    ROUTE_MOST_CASES = (FE_MOST_SEASONS + 1) * FE_RUN_CASE_KINDS, /* one more for a district */
    ROUTE_MOST_PULLS = 2 * ROUTE_MOST_CASES
};

/* A piece of ground between two neighbouring points, with what is asked over it. */
typedef struct route_piece {
    double from_m;
    double to_m;
    double ground_from_m;
    double ground_to_m;
    double over_ground_m;
    double over_snow_m;
} route_piece;

enum { ROUTE_BLOCK = 4 }; /* pieces that are passed over together where all of them are low */

/* Heights are looked at for the largest drop of all cases, and of each season with snow. */
typedef struct route_height_group {
    double snow_m;
    bool snow; /* over snow; else over bare ground */
    size_t season;
    double *tops_m; /* of each block: a cable above it clears all its pieces */
} route_height_group;

typedef struct route_cached {
    long long length; /* micrometres; 0: empty */
    size_t slope;
} route_cached;

typedef struct route_kernel {
    const fe_route_input *input;
    fe_run_case cases[ROUTE_MOST_CASES];
    size_t case_count;
    /* Of a cable above: the same cases in the same order. Its pulls follow those of the first.
     */
    fe_run_case above[ROUTE_MOST_CASES];
    double above_share; /* of its pull at stringing over that of the first; 0: none */
    size_t pull_count;
    route_piece *pieces;
    size_t piece_count;
    route_height_group *groups;
    size_t group_count;
    fe_route_tables *tables; /* the input's, or its own */
    /* Of the stringing pull in hand. */
    double stringing_n;
    struct kept_table *table;
    route_cached *cached; /* spans of one length, interpolated */
    double *cached_n;     /* [slot][slope][case] */
    size_t breaking_case; /* that broke the last post */
    bool out_of_memory;   /* pulls are worthless from there on */
} route_kernel;

/* A span in all cases. */
typedef struct route_span {
    double length_m;
    double rise_m;
    double slope;
    double chord_m; /* straight line between the supports */
    double *pull_n; /* of each cable and case; room for pull_count is the caller's */
} route_span;

FE_MUST_CHECK fe_status route_kernel_make(const fe_route_input *input, route_kernel *kernel);
void route_kernel_free(route_kernel *kernel);

/* Height above the datum of an attachment. */
double route_height(const route_kernel *kernel, double at_m, double attachment_m);

/* A run as the cable above hangs in it. */
fe_run_input route_run_above(const fe_route_above *above, const fe_run_input *first);

/* What both cables do to a post, as a force on the lower one: the upper has so much more arm.
 */
double route_above_arm(const fe_route_input *input, const fe_posts_kind *kind);

/* Nothing but its own weight on it. */
bool route_is_bare(const fe_run_case *load, const fe_run_cable *cable);

/* Asked over given, finite and growing also where little or nothing is left. */
double route_height_use(double given_m, double asked_m);

/* Whether it sags more at stringing than is allowed, by relax; needs no pulls. */
bool route_sags_too_far(const route_kernel *kernel, double length_m, double rise_m,
                        double relax);

/*
 * Largest use of a limit on a span, pull first; `worst` may be null. A search that only wants
 * to know whether the span holds stops at the first limit above `enough`.
 */
double route_span_use(const route_kernel *kernel, const route_span *span, double from_m,
                      double from_height_m, double enough, double relax, fe_route_use *worst);

/* What one cable does to a post between two spans in a case. */
typedef struct route_hang {
    const fe_run_case *load;
    double back_n; /* pulls */
    double forward_n;
    double down_n;
} route_hang;

/*
 * Loads of a post, by its turn and half of both spans. A cable above (null: none) pulls and
 * catches wind with more arm.
 */
void route_load_post(const fe_route_input *input, const fe_posts_kind *kind, double turn_rad,
                     double half_m, const route_hang *hang, const route_hang *above,
                     fe_posts_load *on);

/* Whether a post between two spans holds; its moment where it does. */
bool route_post_holds(route_kernel *kernel, const fe_posts_kind *kind, double turn_rad,
                      const route_span *back, const route_span *forward, double *moment_n_m);

/*
 * Largest use of all limits of a whole route, as the last span or post has it that reaches it.
 *   places, kinds  of `count` posts
 *   moment_n_m     largest moment; null: the spans alone, which no stay and no stronger post
 *                  can help
 *   worst          may be null
 */
double route_whole_use(route_kernel *kernel, const size_t *places, const size_t *kinds,
                       size_t count, double *moment_n_m, fe_route_use *worst);

double route_length(const fe_route_input *input);

/* ---- route_pulls.c ---- */

/* Room for pulls, after the cases are known. FE_E_MEMORY leaves what there is to
 * route_pulls_free. */
FE_MUST_CHECK fe_status route_pulls_make(route_kernel *kernel);
void route_pulls_free(route_kernel *kernel);

/* Turns to a stringing pull and its table. */
FE_MUST_CHECK fe_status route_kernel_string(route_kernel *kernel, double stringing_n);

/* The exact pulls that the table holds, as logarithms. Statuses of fe_span_at_excess. */
FE_MUST_CHECK fe_status route_case_pulls(const route_kernel *kernel, double length_m,
                                         double slope, double *ln_pull);

void route_span_pulls(route_kernel *kernel, double length_m, double rise_m, route_span *span);

/* ---- route_heights.c ---- */

/* The pieces of ground and what is asked over them; the kernel's `input` is set. FE_E_MEMORY
 * leaves what there is to route_heights_free. */
FE_MUST_CHECK fe_status route_heights_make(route_kernel *kernel);
void route_heights_free(route_kernel *kernel);

/* Largest use of the heights asked for, as route_span_use. */
double route_heights_use(const route_kernel *kernel, const route_span *span, double from_m,
                         double from_height_m, double enough, double relax,
                         fe_route_use *worst);

/* Whether that is at most 1, found faster. */
bool route_heights_hold(const route_kernel *kernel, const route_span *span, double from_m,
                        double from_height_m, double relax);

/* How far the wind blows the cable out where it passes a thing beside the run, kept where it is
 * the worst so far. */
void route_look_beside(const route_kernel *kernel, const route_span *span, double from_m,
                       const fe_clearance_need *need, double relax, fe_route_use *worst);

/* How far a cable hangs below its straight line in the middle of a span. */
double route_middle_drop(const fe_run_cable *cable, const fe_run_case *load, double pull_n,
                         const route_span *span);

#endif
