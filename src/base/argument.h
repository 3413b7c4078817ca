/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BASE_ARGUMENT_H
#define BASE_ARGUMENT_H

#include <math.h>
#include <stdbool.h>

/* What an argument must be; false for NaN and for what is not finite. */

static inline bool is_at_least_zero(double value)
{
    return value >= 0.0 && isfinite(value);
}

static inline bool is_positive(double value)
{
    return value > 0.0 && isfinite(value);
}

static inline bool is_fraction(double value)
{
    return value > 0.0 && value <= 1.0;
}

#endif
