/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_REPORT_COPPER_H
#define FAREND_REPORT_COPPER_H

#include "farend/channel.h"
#include "farend/document.h"

/* What else is known about the run. */
typedef struct fe_copper_place {
    double flash_density; /* strikes a square metre a second; 0: not known */
    bool buried;
} fe_copper_place;

/* A data cable as parts of a document: verdict, rates, power, ways past the limit, lightning.
 */
void fe_report_copper(fe_document *doc, const fe_channel_case *given,
                      const fe_channel_answer *answer, const fe_copper_place *place);

#endif
