/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_WOOD_H
#define FAREND_WOOD_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Strength of wood by species and class. Moduli of rupture are means of small clear specimens,
 * fibre stresses of ANSI O5.1 are means of whole poles, EN 338 figures are 5-percent
 * characteristic values: never mix them, and never design on a mean without a safety factor.
 * Green figures apply in the ground.
 */
typedef enum fe_wood_kind {
    FE_WOOD_RUPTURE_DRY,     /* mean, small clear specimens at 12 % moisture */
    FE_WOOD_RUPTURE_GREEN,   /* the same, green */
    FE_WOOD_ELASTICITY_DRY,  /* mean modulus of elasticity at 12 % moisture */
    FE_WOOD_POLE_STRESS,     /* ANSI O5.1 designated fibre stress, mean of whole poles */
    FE_WOOD_POLE_CLASS_LOAD, /* ANSI O5.1: horizontal load 2 ft below the top */
    FE_WOOD_CHARACTERISTIC,  /* EN 338 characteristic bending strength */
    FE_WOOD_CLASS_ELASTICITY /* EN 338 mean modulus of elasticity */
} fe_wood_kind;

typedef struct fe_wood {
    const char *name;     /* species, "EN 338 class C24", or "any" */
    const char *property; /* in the words of the source */
    double value;
    const char *unit; /* "psi", "million psi", "lbf", "N/mm2" */
    fe_wood_kind kind;
    bool from_memory;
} fe_wood;

/* What the names of strength classes begin with. */
#define FE_WOOD_CLASS_PREFIX "EN 338 class "

size_t fe_wood_count(void);
const fe_wood *fe_wood_at(size_t index);

/* The nth row (0 first) of that name and property; sources may differ. Null past the last. */
const fe_wood *fe_wood_find(const char *name, const char *property, size_t nth);

/* The row's value in Pa (N for a load). */
double fe_wood_si(const fe_wood *wood);

/*
 * What designs use, by the name a plan may give.
 *   class_name   "C24"
 *   species      "southern pine"
 *   FE_E_DOMAIN  no such name; outputs untouched
 */
FE_MUST_CHECK fe_status fe_wood_class(const char *class_name, double *bending_pa,
                                      double *elasticity_pa);
FE_MUST_CHECK fe_status fe_wood_pole_stress(const char *species, double *stress_pa);

/* Whether one of the two has the name. */
bool fe_wood_known(const char *name);

#endif
