/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/wood.h"

#include <string.h>

#include "farend/constants.h"

/* clang-format off */

/*
 * Wood Handbook table of clear-wood properties and the Oregon State University table after it;
 * ASTM D2555; ANSI O5.1 fibre stresses and pole classes; EN 338. Rows from memory are so marked.
 */
static const fe_wood WOODS[] = {
    /* species or class, property, value, unit, kind, memory */
    {"Douglas-fir",          "modulus of rupture 12 percent moisture",       12400, "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"Douglas-fir (coast)",  "modulus of rupture 12 percent moisture",       12400, "psi",         FE_WOOD_RUPTURE_DRY,     true},
    {"Engelmann spruce",     "modulus of rupture 12 percent moisture",       9300,  "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"Pacific silver fir",   "modulus of rupture 12 percent moisture",       11000, "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"grand fir",            "modulus of rupture 12 percent moisture",       8900,  "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"loblolly pine",        "modulus of rupture 12 percent moisture",       12800, "psi",         FE_WOOD_RUPTURE_DRY,     true},
    {"lodgepole pine",       "modulus of rupture 12 percent moisture",       9400,  "psi",         FE_WOOD_RUPTURE_DRY,     true},
    {"noble fir",            "modulus of rupture 12 percent moisture",       10700, "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"northern white cedar", "modulus of rupture 12 percent moisture",       6500,  "psi",         FE_WOOD_RUPTURE_DRY,     true},
    {"subalpine fir",        "modulus of rupture 12 percent moisture",       8600,  "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"western hemlock",      "modulus of rupture 12 percent moisture",       11300, "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"western larch",        "modulus of rupture 12 percent moisture",       13000, "psi",         FE_WOOD_RUPTURE_DRY,     false},
    {"western redcedar",     "modulus of rupture 12 percent moisture",       7500,  "psi",         FE_WOOD_RUPTURE_DRY,     true},
    {"Douglas-fir",          "modulus of elasticity 12 percent moisture",    1.95,  "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"Engelmann spruce",     "modulus of elasticity 12 percent moisture",    1.3,   "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"Pacific silver fir",   "modulus of elasticity 12 percent moisture",    1.76,  "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"grand fir",            "modulus of elasticity 12 percent moisture",    1.57,  "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"noble fir",            "modulus of elasticity 12 percent moisture",    1.72,  "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"subalpine fir",        "modulus of elasticity 12 percent moisture",    1.29,  "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"western hemlock",      "modulus of elasticity 12 percent moisture",    1.63,  "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"western larch",        "modulus of elasticity 12 percent moisture",    1.87,  "million psi", FE_WOOD_ELASTICITY_DRY,  false},
    {"Douglas-fir (coast)",  "modulus of rupture green",                     7700,  "psi",         FE_WOOD_RUPTURE_GREEN,   true},
    {"loblolly pine",        "modulus of rupture green",                     7300,  "psi",         FE_WOOD_RUPTURE_GREEN,   true},
    {"lodgepole pine",       "modulus of rupture green",                     5500,  "psi",         FE_WOOD_RUPTURE_GREEN,   true},
    {"lodgepole pine",       "modulus of rupture green",                     5490,  "psi",         FE_WOOD_RUPTURE_GREEN,   false},
    {"northern white cedar", "modulus of rupture green",                     4200,  "psi",         FE_WOOD_RUPTURE_GREEN,   true},
    {"western hemlock",      "modulus of rupture green",                     6637,  "psi",         FE_WOOD_RUPTURE_GREEN,   false},
    {"western redcedar",     "modulus of rupture green",                     5200,  "psi",         FE_WOOD_RUPTURE_GREEN,   true},
    {"Douglas-fir",          "pole fibre stress at ground line",             8000,  "psi",         FE_WOOD_POLE_STRESS,     false},
    {"jack pine",            "pole fibre stress at ground line",             6600,  "psi",         FE_WOOD_POLE_STRESS,     false},
    {"lodgepole pine",       "pole fibre stress at ground line",             6600,  "psi",         FE_WOOD_POLE_STRESS,     true},
    {"northern white cedar", "pole fibre stress at ground line",             4000,  "psi",         FE_WOOD_POLE_STRESS,     true},
    {"ponderosa pine",       "pole fibre stress at ground line",             6000,  "psi",         FE_WOOD_POLE_STRESS,     true},
    {"red pine",             "pole fibre stress at ground line",             6600,  "psi",         FE_WOOD_POLE_STRESS,     true},
    {"southern pine",        "pole fibre stress at ground line",             8000,  "psi",         FE_WOOD_POLE_STRESS,     false},
    {"western larch",        "pole fibre stress at ground line",             8400,  "psi",         FE_WOOD_POLE_STRESS,     true},
    {"western redcedar",     "pole fibre stress at ground line",             6000,  "psi",         FE_WOOD_POLE_STRESS,     true},
    {"any",                  "ANSI class H1 horizontal load 2 ft below top", 5400,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 1 horizontal load 2 ft below top",  4500,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 2 horizontal load 2 ft below top",  3700,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 3 horizontal load 2 ft below top",  3000,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 4 horizontal load 2 ft below top",  2400,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 5 horizontal load 2 ft below top",  1900,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, false},
    {"any",                  "ANSI class 6 horizontal load 2 ft below top",  1500,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 7 horizontal load 2 ft below top",  1200,  "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 9 horizontal load 2 ft below top",  740,   "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"any",                  "ANSI class 10 horizontal load 2 ft below top", 370,   "lbf",         FE_WOOD_POLE_CLASS_LOAD, true},
    {"EN 338 class C14",     "characteristic bending strength",              14,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C16",     "characteristic bending strength",              16,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C18",     "characteristic bending strength",              18,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C20",     "characteristic bending strength",              20,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C22",     "characteristic bending strength",              22,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C24",     "characteristic bending strength",              24,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C27",     "characteristic bending strength",              27,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C30",     "characteristic bending strength",              30,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C35",     "characteristic bending strength",              35,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    {"EN 338 class C40",     "characteristic bending strength",              40,    "N/mm2",       FE_WOOD_CHARACTERISTIC,  true},
    /* EN 338, from memory; for deflection. */
    {"EN 338 class C14", "mean modulus of elasticity",  7.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C16", "mean modulus of elasticity",  8.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C18", "mean modulus of elasticity",  9.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C20", "mean modulus of elasticity",  9.5, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C22", "mean modulus of elasticity", 10.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C24", "mean modulus of elasticity", 11.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C27", "mean modulus of elasticity", 11.5, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C30", "mean modulus of elasticity", 12.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C35", "mean modulus of elasticity", 13.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
    {"EN 338 class C40", "mean modulus of elasticity", 14.0, "kN/mm2", FE_WOOD_CLASS_ELASTICITY, true},
};

static const struct unit {
    const char *name;
    double si;
} UNITS[] = {
    {"psi",         FE_POUND_FORCE_N / (FE_INCH_M * FE_INCH_M)},
    {"million psi", FE_POUND_FORCE_N / (FE_INCH_M * FE_INCH_M) * 1e6},
    {"lbf",         FE_POUND_FORCE_N},
    {"N/mm2",       1e6},
    {"kN/mm2",      1e9},
};
/* clang-format on */

enum {
    WOOD_COUNT = sizeof WOODS / sizeof WOODS[0],
    UNIT_COUNT = sizeof UNITS / sizeof UNITS[0]
};

size_t fe_wood_count(void)
{
    return WOOD_COUNT;
}

const fe_wood *fe_wood_at(size_t index)
{
    return index < WOOD_COUNT ? &WOODS[index] : NULL;
}

const fe_wood *fe_wood_find(const char *name, const char *property, size_t nth)
{
    for (size_t i = 0; i < WOOD_COUNT; i++)
        if (strcmp(WOODS[i].name, name) == 0 && strcmp(WOODS[i].property, property) == 0 &&
            nth-- == 0)
            return &WOODS[i];
    return NULL;
}

double fe_wood_si(const fe_wood *wood)
{
    for (size_t i = 0; i < UNIT_COUNT; i++)
        if (strcmp(UNITS[i].name, wood->unit) == 0)
            return wood->value * UNITS[i].si;
    return 0.0;
}

static const fe_wood *first_of(fe_wood_kind kind, const char *prefix, const char *name)
{
    const size_t length = strlen(prefix);
    for (size_t i = 0; i < WOOD_COUNT; i++)
        if (WOODS[i].kind == kind && strncmp(WOODS[i].name, prefix, length) == 0 &&
            strcmp(WOODS[i].name + length, name) == 0)
            return &WOODS[i];
    return NULL;
}

fe_status fe_wood_class(const char *class_name, double *bending_pa, double *elasticity_pa)
{
    const fe_wood *bending = first_of(FE_WOOD_CHARACTERISTIC, FE_WOOD_CLASS_PREFIX, class_name);
    const fe_wood *elasticity =
        first_of(FE_WOOD_CLASS_ELASTICITY, FE_WOOD_CLASS_PREFIX, class_name);
    if (!bending || !elasticity)
        return FE_E_DOMAIN;
    *bending_pa = fe_wood_si(bending);
    *elasticity_pa = fe_wood_si(elasticity);
    return FE_OK;
}

fe_status fe_wood_pole_stress(const char *species, double *stress_pa)
{
    const fe_wood *found = first_of(FE_WOOD_POLE_STRESS, "", species);
    if (!found)
        return FE_E_DOMAIN;
    *stress_pa = fe_wood_si(found);
    return FE_OK;
}

bool fe_wood_known(const char *name)
{
    double bending_pa = 0.0, elasticity_pa = 0.0;
    return fe_wood_class(name, &bending_pa, &elasticity_pa) == FE_OK ||
           fe_wood_pole_stress(name, &bending_pa) == FE_OK;
}
