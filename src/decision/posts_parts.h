/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_POSTS_PARTS_H
#define DECISION_POSTS_PARTS_H

#include "farend/posts_plan.h"

/* Private to this room: what the files of a run on posts ask of each other. */

/* ---- posts_plan.c: from the plan to a search and its layout ---- */

/* Ground that anchors and posts stand in, as a keyword of fe_soil_find. */
const char *posts_soil(const fe_plan *plan);

/* How a post of one length may be set. Those on hand may be in every way of those to buy, or
 * what was bought on this advice would not do. */
typedef struct posts_setting {
    double deeper_m; /* than the rule and the plan ask */
    bool stayed;
} posts_setting;

/* Posts of a length, set in each of these ways that leaves something above ground. */
void posts_add_kinds(const fe_posts_material *material, double length_m, bool stays,
                     const posts_setting *settings, size_t setting_count, fe_posts_kind *kinds,
                     size_t *count);

/* The route of the input in hand; `meets` says whether there is one. */
FE_MUST_CHECK fe_status posts_search(fe_posts_result *r);

/* Something to show where nothing does: so many posts, the highest on hand, where they fall
 * least short. */
FE_MUST_CHECK fe_status posts_show_closest(fe_posts_result *r);

/* ---- posts_would_do.c ---- */

/* Posts that would do where those on hand do not, or the closest layout where none would. */
FE_MUST_CHECK fe_status posts_find_what_would_do(fe_posts_result *r, bool stays);

/* ---- posts_stringing.c ---- */

/* Sag and pull of each span by the air on the day, and the ruling span. */
FE_MUST_CHECK fe_status posts_make_stringing(fe_posts_result *r);
void posts_free_stringing(fe_posts_stringing *table);

/* ---- posts_buy.c ---- */

/* Cable and hardware that the layout takes. */
void posts_count(fe_posts_result *r);

#endif
