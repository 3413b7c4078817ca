/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/root.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>

/* Brent's method halves at least every third step; doubles have 2100 halvings at the very most.
 */
enum { MOST_STEPS = 200 };

static fe_status iterate(gsl_root_fsolver *solver, double tolerance, double *x)
{
    for (int step = 0; step < MOST_STEPS; step++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
            return FE_E_CONVERGE;
        const int test = gsl_root_test_interval(
            gsl_root_fsolver_x_lower(solver), gsl_root_fsolver_x_upper(solver), tolerance, 0.0);
        if (test == GSL_SUCCESS) {
            *x = gsl_root_fsolver_root(solver);
            return FE_OK;
        }
        if (test != GSL_CONTINUE)
            return FE_E_CONVERGE;
    }
    return FE_E_CONVERGE;
}

fe_status root_between(root_function function, void *constants, double low, double high,
                       double tolerance, double *x)
{
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return FE_E_MEMORY;
    gsl_function wrapped = {.function = function, .params = constants};
    fe_status status = FE_E_DOMAIN;
    if (gsl_root_fsolver_set(solver, &wrapped, low, high) == GSL_SUCCESS)
        status = iterate(solver, tolerance, x);
    gsl_root_fsolver_free(solver);
    return status;
}
