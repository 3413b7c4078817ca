/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TESTING_UNITS_H
#define FAREND_TESTING_UNITS_H

#include <math.h>
#include <string.h>

/* The library is SI; reference rows are not. Exact factors where a definition makes them so. */
#define TEST_FOOT_M 0.3048
#define TEST_INCH_M 0.0254
#define TEST_POUND_KG 0.45359237
#define TEST_KGF_N 9.80665
#define TEST_LBF_N (TEST_POUND_KG * TEST_KGF_N)
#define TEST_PSF_PA (TEST_LBF_N / (TEST_FOOT_M * TEST_FOOT_M))
#define TEST_PSI_PA (TEST_LBF_N / (TEST_INCH_M * TEST_INCH_M))
#define TEST_MPH_M_S 0.44704

/* Metres in a unit of length, newtons in a unit of force; NAN where the name is unknown. */
static inline double test_length_unit(const char *name)
{
    if (strcmp(name, "m") == 0)
        return 1.0;
    return strcmp(name, "ft") == 0 ? TEST_FOOT_M : NAN;
}

static inline double test_force_unit(const char *name)
{
    if (strcmp(name, "N") == 0)
        return 1.0;
    if (strcmp(name, "kN") == 0)
        return 1e3;
    if (strcmp(name, "kgf") == 0)
        return TEST_KGF_N;
    return strcmp(name, "lbf") == 0 ? TEST_LBF_N : NAN;
}

#endif
