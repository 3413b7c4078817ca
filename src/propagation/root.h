/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_ROOT_H
#define PROPAGATION_ROOT_H

#include "farend/status.h"

/* A function of one variable with its constants. */
typedef double (*root_function)(double x, void *constants);

/*
 * Zero of a function between two points where its sign differs (Brent's method).
 * FE_E_DOMAIN no change of sign, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status root_between(root_function function, void *constants, double low,
                                     double high, double tolerance, double *x);

#endif
