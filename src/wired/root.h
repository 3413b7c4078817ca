/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WIRED_ROOT_H
#define WIRED_ROOT_H

#include "farend/status.h"

/* Roots of the wired room, by the one method of base/root.h. */
typedef double (*wired_function)(double x, void *context);

/*
 * Root of a function that has opposite signs at low and high, to some 2e-14 relative.
 * A function value of NaN ends the search.
 *
 * FE_E_NO_SOLUTION  no change of sign between low and high
 * FE_E_CONVERGE     NaN met, or too many steps
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status wired_root_between(wired_function function, void *context, double low,
                                           double high, double *root);

/*
 * Root of a DECREASING function of a positive number near a guess: the guess is widened by
 * growing factors, never beyond least and most, until it encloses the root.
 *
 * FE_E_NO_SOLUTION  the function does not change sign between least and most
 */
FE_MUST_CHECK fe_status wired_root_near(wired_function function, void *context, double guess,
                                        double least, double most, double *root);

/* Positive root of x^2 (x + k) = m, m > 0: there is exactly one. */
FE_MUST_CHECK fe_status wired_root_of_cubic(double k, double m, double *root);

#endif
