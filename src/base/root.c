/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/root.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

/* Brent's method halves at least every third step; no double needs more. */
enum { MOST_STEPS = 200 };

static fe_status status_of(int code)
{
    switch (code) {
    case GSL_SUCCESS:
        return FE_OK;
    case GSL_EINVAL:
        return FE_E_NO_SOLUTION; /* the ends do not straddle a root */
    case GSL_ENOMEM:
        return FE_E_MEMORY;
    default:
        return FE_E_CONVERGE;
    }
}

static fe_status iterate(gsl_root_fsolver *solver, root_width width, double *root)
{
    for (int step = 0; step < MOST_STEPS; step++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
            return FE_E_CONVERGE;
        const double low = gsl_root_fsolver_x_lower(solver);
        const double high = gsl_root_fsolver_x_upper(solver);
        const int test = gsl_root_test_interval(low, high, width.absolute, width.relative);
        if (test == GSL_SUCCESS || low == high) {
            *root = gsl_root_fsolver_root(solver);
            return FE_OK;
        }
        if (test != GSL_CONTINUE)
            return status_of(test);
    }
    return FE_E_CONVERGE;
}

fe_status root_between(root_function function, void *constants, double low, double high,
                       root_width width, double *root)
{
    gsl_function wrapped = {.function = function, .params = constants};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return FE_E_MEMORY;
    fe_status status = status_of(gsl_root_fsolver_set(solver, &wrapped, low, high));
    if (status == FE_OK)
        status = iterate(solver, width, root);
    gsl_root_fsolver_free(solver);
    return status;
}
