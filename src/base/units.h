/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BASE_UNITS_H
#define BASE_UNITS_H

#include <stdbool.h>

#include "farend/quantity.h"

/*
 * Private to the library: a number in a unit that people write, in the one unit used inside.
 * False where our own table has no such unit of the dimension; *si is untouched then.
 */
bool units_convert(double number, const char *unit, fe_dimension dimension, double *si);

#endif
