/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_REPORT_SHEET_H
#define FAREND_REPORT_SHEET_H

#include "farend/amount.h"
#include "farend/document.h"
#include "farend/gnuplot.h"
#include "farend/posts_plan.h"
#include "farend/result.h"
#include "farend/status.h"

/*
 * The sheet for the day of building, one side of A4 for the hand that holds the spade: sketch,
 * pegs from a fixed mark, what to cut, sag by temperature, where to aim, what the radios should
 * read and below which reading to stop and look, boxes to write in, dangers. Printed by
 * fe_document_sheet.
 *
 * Past FE_SHEET_MOST_POSTS posts the sheet says where the rest is: it stays one side.
 */
enum { FE_SHEET_MOST_POSTS = 30 };

/*
 * For the way of data that a plan's result recommends over a path, with the power to its far
 * end; where none holds, for the best radio link, which the sheet then says not to build. Where
 * the plan has other paths the sheet names them.
 *   path     of the plan, below its count
 *   gnuplot  draws the sketch; null: it is missing
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_sheet_of_result(const fe_result *result, size_t path,
                                           fe_gnuplot *gnuplot, fe_units units,
                                           fe_document **doc);

/* For an overhead run alone. */
FE_MUST_CHECK fe_status fe_sheet_of_posts(const fe_posts_result *posts, fe_gnuplot *gnuplot,
                                          fe_units units, fe_document **doc);

#endif
