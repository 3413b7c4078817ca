/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BASE_GAUGE_H
#define BASE_GAUGE_H

#include <math.h>

#include "farend/constants.h"

/*
 * Private to the library: wire gauges by the law of ASTM B258, d = 0.005 in x 92^((36 - n)/39),
 * formula from memory. 1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3.
 */
static inline double gauge_diameter_m(int gauge)
{
    return 0.005 * FE_INCH_M * pow(92.0, (36.0 - gauge) / 39.0);
}

/* The law turned round: a gauge number that need not be whole. diameter_m > 0 */
static inline double gauge_of_diameter(double diameter_m)
{
    return 36.0 - 39.0 * log(diameter_m / (0.005 * FE_INCH_M)) / log(92.0);
}

#endif
