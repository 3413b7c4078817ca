/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_VERDICT_H
#define FAREND_VERDICT_H

/*
 * The one answer that a limit, a part or a whole way gets. What makes an answer TIGHT is said
 * where it is judged: for most limits it is fe_verdict_of_use. Worse is greater.
 */
typedef enum fe_verdict { FE_VERDICT_HOLDS, FE_VERDICT_TIGHT, FE_VERDICT_FAILS } fe_verdict;

/* "holds", "tight", "fails". */
const char *fe_verdict_name(fe_verdict verdict);
fe_verdict fe_verdict_worse(fe_verdict a, fe_verdict b);

/* A used part of a limit: TIGHT from 90 %, FAILS above all of it; NaN fails. */
fe_verdict fe_verdict_of_use(double used, double limit);

#endif
