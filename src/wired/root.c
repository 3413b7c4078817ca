/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "root.h"

#include <math.h>
#include <stdbool.h>

#include "base/root.h"

fe_status wired_root_between(wired_function function, void *context, double low, double high,
                             double *root)
{
    static const root_width WIDTH = {.relative = 2e-14};
    return root_between(function, context, low, high, WIDTH, root);
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
