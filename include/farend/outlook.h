/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_OUTLOOK_H
#define FAREND_OUTLOOK_H

#include "farend/calendar.h"
#include "farend/growth.h"
#include "farend/recovery.h"
#include "farend/result.h"
#include "farend/sensitivity.h"
#include "farend/status.h"

/*
 * What lies beyond the ways themselves: how sure the choice is, what happens when a part of it
 * fails, what to build larger, and when. Only the whole report asks for it; the other commands
 * do without and are faster.
 */
typedef struct fe_outlook {
    fe_sensitivity sensitivity;
    fe_recovery recovery;
    fe_growth growth;
    fe_calendar calendar;
} fe_outlook;

/*
 * Puts an outlook on a result; freed with it. Costs some hundreds of budgets.
 * FE_OK, FE_E_MEMORY, FE_E_CONVERGE; the result stays as it is on error.
 */
FE_MUST_CHECK fe_status fe_outlook_add(fe_result *result);

/* For fe_result_free alone. */
void fe_outlook_free(fe_outlook *outlook);

#endif
