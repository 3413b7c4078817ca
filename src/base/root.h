/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BASE_ROOT_H
#define BASE_ROOT_H

#include "farend/status.h"

/* A function of one variable with its constants. */
typedef double (*root_function)(double x, void *constants);

/* How narrow the interval about a root must be: the absolute width plus the relative one. */
typedef struct root_width {
    double absolute;
    double relative;
} root_width;

/*
 * Private to the library: zero of a function that has opposite signs at low and high, by GSL's
 * Brent method, every code checked. A value of NaN ends the search.
 *
 * FE_E_NO_SOLUTION  no change of sign between low and high
 * FE_E_CONVERGE     NaN met, or too many steps
 * FE_E_MEMORY       the solver is allocated inside, for a plain call
 */
FE_MUST_CHECK fe_status root_between(root_function function, void *constants, double low,
                                     double high, root_width width, double *root);

#endif
