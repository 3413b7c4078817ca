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

/* Pegs, holes, attachments, stays, stringing table, what to buy. */
void fe_report_posts_sheet(const fe_posts_result *result, fe_document *doc);

/* Limits and what would change the verdict, loads of the posts, sources, cautions. */
void fe_report_posts_reasons(const fe_posts_result *result, fe_document *doc);

/* The run in section and the stringing chart; gnuplot may be null. FE_E_MEMORY, FE_E_DOMAIN */
FE_MUST_CHECK fe_status fe_report_posts_figures(const fe_posts_result *result,
                                                fe_gnuplot *gnuplot, fe_units units,
                                                fe_document *doc);

#endif
