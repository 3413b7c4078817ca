/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "root.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdbool.h>

enum { MOST_STEPS = 200 };
static const double RELATIVE_WIDTH = 2e-14;

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

static fe_status iterate(gsl_root_fsolver *solver, double *root)
{
    for (int step = 0; step < MOST_STEPS; step++) {
        const int code = gsl_root_fsolver_iterate(solver);
        if (code != GSL_SUCCESS)
            return FE_E_CONVERGE;
        const double low = gsl_root_fsolver_x_lower(solver);
        const double high = gsl_root_fsolver_x_upper(solver);
        const int test = gsl_root_test_interval(low, high, 0.0, RELATIVE_WIDTH);
        if (test == GSL_SUCCESS || low == high) {
            *root = gsl_root_fsolver_root(solver);
            return FE_OK;
        }
        if (test != GSL_CONTINUE)
            return status_of(test);
    }
    return FE_E_CONVERGE;
}

fe_status wired_root_between(wired_function function, void *context, double low, double high,
                             double *root)
{
    gsl_function f = {.function = function, .params = context};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return FE_E_MEMORY;
    fe_status status = status_of(gsl_root_fsolver_set(solver, &f, low, high));
    if (status == FE_OK)
        status = iterate(solver, root);
    gsl_root_fsolver_free(solver);
    return status;
}

fe_status wired_root_near(wired_function function, void *context, double guess, double least,
                          double most, double *root)
{
    guess = fmin(fmax(guess, least), most);
    const double at_guess = function(guess, context);
    if (isnan(at_guess))
        return FE_E_CONVERGE;
    if (at_guess == 0.0) {
        *root = guess;
        return FE_OK;
    }
    const bool upwards = at_guess > 0.0;
    const double limit = upwards ? most : least;
    double inner = guess;
    for (double factor = 1.01; inner != limit; factor *= factor) {
        const double outer =
            upwards ? fmin(inner * factor, limit) : fmax(inner / factor, limit);
        const double value = function(outer, context);
        if (isnan(value))
            return FE_E_CONVERGE;
        if (value == 0.0) {
            *root = outer;
            return FE_OK;
        }
        if ((value > 0.0) != upwards)
            return wired_root_between(function, context, fmin(inner, outer), fmax(inner, outer),
                                      root);
        inner = outer;
    }
    return FE_E_NO_SOLUTION;
}

struct cubic {
    double k;
    double m;
};

static double cubic_value(double x, void *context)
{
    const struct cubic *cubic = context;
    return x * x * (x + cubic->k) - cubic->m;
}

fe_status wired_root_of_cubic(double k, double m, double *root)
{
    struct cubic cubic = {k, m};
    /* At the high end x + k and x are both at least the cube root of m. */
    const double high = (fmax(-k, 0.0) + cbrt(m)) * (1.0 + 1e-12);
    return wired_root_between(cubic_value, &cubic, 0.0, high, root);
}
