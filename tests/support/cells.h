/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TESTING_CELLS_H
#define FAREND_TESTING_CELLS_H

#include <math.h>

#include "testing.h"

/* A table's cell against ours, exactly; an empty cell wants NAN. */
static inline void check_cell(fe_reference *file, const char *column, double ours)
{
    if (*fe_reference_text(file, column))
        fe_reference_check(file, column, ours, 1e-12 * fabs(ours));
    else
        fe_reference_check_that(file, isnan(ours), "no figure where the source gives none");
}

/* Within the row's tolerance; half of the last printed digit where the row gives none. */
static inline void check_within(fe_reference *file, const char *column, double got,
                                double tolerance)
{
    if (isnan(tolerance))
        fe_reference_check_printed(file, column, got);
    else
        fe_reference_check(file, column, got, tolerance);
}

#endif
