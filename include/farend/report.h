/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_REPORT_H
#define FAREND_REPORT_H

#include "farend/amount.h"
#include "farend/document.h"
#include "farend/gnuplot.h"
#include "farend/improve.h"
#include "farend/result.h"
#include "farend/status.h"
#include "farend/strbuf.h"

/*
 * A result as a document (text and page) and as JSON. Nothing is computed here that decides:
 * numbers are read off the result, so the three forms say the same.
 */

/*
 * The whole report.
 *   gnuplot  draws the figures; null: each is added as missing
 *   units    of the figures' axes; those of the text are chosen where it is rendered
 *   doc      result, to be freed; null on error
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_report_document(const fe_result *result, fe_gnuplot *gnuplot,
                                           fe_units units, fe_document **doc);

/*
 * The whole result, SI, the end of a key its unit; null where a number is not finite.
 *   doc   figures that it is missing are listed in "figures_missing"; null: none listed
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_report_json(const fe_result *result, const fe_document *doc,
                                       fe_strbuf *out);

/* The radio side alone, with what would help the chosen link; improvements null: not looked
 * for. */
FE_MUST_CHECK fe_status fe_report_radio_document(const fe_result *result,
                                                 const fe_improvements *improvements,
                                                 fe_document **doc);
FE_MUST_CHECK fe_status fe_report_radio_json(const fe_result *result,
                                             const fe_improvements *improvements,
                                             fe_strbuf *out);

#endif
