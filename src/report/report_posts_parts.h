/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_REPORT_POSTS_PARTS_H
#define REPORT_REPORT_POSTS_PARTS_H

#include "farend/posts_plan.h"
#include "report/report_parts.h"

/*
 * What the report of a run on posts is made of: verdict and reasons in report_posts.c, the
 * sheet to build from in _build.c, its cables in _string.c, figures in _figures.c, JSON in
 * _json.c; and what the sheet for the day says of it too (report_sheet_posts.c).
 */

/* ---- Words ---- */

/* The building at its start, or its far one. */
const char *report_posts_end(const fe_posts_result *run, bool far);
const char *report_posts_season(const fe_posts_result *run, size_t season);
/* A post of a run: what it is, and the anchor of its stay, "6000 lb class, rod 5/8 in". */
const fe_posts_kind *report_post_kind(const fe_posts_result *run, size_t post);
void report_anchor(fe_document *doc, const fe_posts_hold *hold, fe_strbuf *text);
/* " to the left", as the run is walked from its start; "" where the plan does not say. */
const char *report_corner_side(const fe_posts_result *run, double at_m);
/* What a grip is bought for: the strand, the cable's own thickness or its messenger. */
const char *report_grip_for(const fe_posts_result *run, fe_document *doc,
                            char room[REPORT_LABEL_ROOM]);

/* ---- Lengths ---- */

/* Of a bolt through a post. */
double report_bolt_length(const fe_posts_result *run);
/* Through-bolts of posts come in this thickness (common practice, no source). */
#define REPORT_BOLT_THICKNESS "16\xc2\xa0mm or 5/8\xc2\xa0in thick"
/* What hands need and nothing is computed from (common practice, no source): strand for the
 * ends of a stay, an anchor's plate, ties along a strand. */
#define REPORT_STAY_ENDS_M 1.0
#define REPORT_PLATE_DEPTH_M 1.2
#define REPORT_TIE_EVERY_M 0.3

/* ---- Its cables ---- */

/* True where two spans are equally long and strung, to a sag, at every temperature. */
bool report_spans_alike(const fe_posts_result *run, size_t a, size_t b, double sag_m);
/* The first span that is strung as this one is, to half a millimetre at every temperature. */
size_t report_posts_first_alike(const fe_posts_result *run, size_t span);
/* How high the cable hangs over each thing below on the day it is strung; one item each. */
void report_strung_heights(const fe_posts_result *run, fe_document *doc);
/* Parts of the sheet, with headings of a level; that of the supply cable only where one is. */
void report_posts_spans(const fe_posts_result *run, int level, fe_document *doc);
void report_posts_supply(const fe_posts_result *run, int level, fe_document *doc);
void report_posts_stringing(const fe_posts_result *run, int level, fe_document *doc);

#endif
