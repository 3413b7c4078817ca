/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_REPORT_POSTS_H
#define FAREND_REPORT_POSTS_H

#include "farend/amount.h"
#include "farend/document.h"
#include "farend/gnuplot.h"
#include "farend/posts_plan.h"
#include "farend/status.h"

/*
 * An overhead run in words: first what it comes to, then the sheet to build from, then why.
 * Somebody who has seen nothing else should be able to build from the sheet.
 */

/* The one line that answers: with posts that are too short, that and the length that would do.
 */
void fe_report_posts_verdict(const fe_posts_result *result, fe_document *doc);

/* "pull in the cable 640 N where 720 N is the most, 23 m along, deep winter (ice with wind)" */
const char *fe_report_posts_use(const fe_posts_result *result, const fe_route_use *use,
                                fe_document *doc, fe_strbuf *text);

/* Where the posts stand, in a table. */
void fe_report_posts_layout(const fe_posts_result *result, fe_document *doc);

/* Pegs, holes, attachments, stays, stringing table, what to buy. Headings from a level on. */
void fe_report_posts_sheet(const fe_posts_result *result, int level, fe_document *doc);

/* Limits, why not one post fewer, loads of the posts. */
void fe_report_posts_reasons(const fe_posts_result *result, int level, fe_document *doc);

/* Sources and cautions. */
void fe_report_posts_notes(const fe_posts_result *result, fe_document *doc);

/* The run in section, and the stringing chart; gnuplot may be null. FE_E_MEMORY, FE_E_DOMAIN */
FE_MUST_CHECK fe_status fe_report_posts_section(const fe_posts_result *result, const char *id,
                                                const char *title, fe_gnuplot *gnuplot,
                                                fe_units units, fe_document *doc);
FE_MUST_CHECK fe_status fe_report_posts_chart(const fe_posts_result *result,
                                              fe_gnuplot *gnuplot, fe_units units,
                                              fe_document *doc);

/* Everything with full digits, SI. FE_E_MEMORY */
FE_MUST_CHECK fe_status fe_report_posts_json(const fe_posts_result *result, fe_strbuf *out);

#endif
