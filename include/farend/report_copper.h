/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_REPORT_COPPER_H
#define FAREND_REPORT_COPPER_H

#include "farend/channel.h"
#include "farend/document.h"
#include "farend/figures.h"
#include "farend/result.h"

/* What else is known about the run. */
typedef struct fe_copper_place {
    fe_value flash_density; /* strikes a square metre a second; FE_GIVEN_NOT: not known */
    bool buried;
} fe_copper_place;

/* A data cable as parts of a document: verdict, rates, power, ways past the limit, lightning.
 */
void fe_report_copper(fe_document *doc, const fe_channel_case *given,
                      const fe_channel_answer *answer, const fe_copper_place *place);

/* The same for every data cable of a plan, copper or fibre. */
void fe_report_cables(fe_document *doc, const fe_result *result);

/* The answer as an object; every cable of a plan as a list of such. SI. FE_E_MEMORY. */
FE_MUST_CHECK fe_status fe_report_copper_json(const fe_channel_case *given,
                                              const fe_channel_answer *answer, fe_strbuf *out);
FE_MUST_CHECK fe_status fe_report_cables_json(const fe_result *result, fe_strbuf *out);

/*
 * Length against the limit of each rate, of each cable; power left at the device against
 * length. FE_E_DOMAIN where there is nothing to draw; FE_E_MEMORY.
 */
FE_MUST_CHECK fe_status fe_report_copper_reach(const fe_channel_case *given,
                                               const fe_channel_answer *answer, fe_units units,
                                               fe_figure *figure);
FE_MUST_CHECK fe_status fe_report_cables_reach(const fe_result *result, fe_units units,
                                               fe_figure *figure);
FE_MUST_CHECK fe_status fe_report_poe_figure(const fe_channel_case *given, fe_units units,
                                             fe_figure *figure);

#endif
