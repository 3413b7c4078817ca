/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/soil.h"

#include <math.h>
#include <string.h>

#include "farend/constants.h"

/* clang-format off */

/* IBC 2012 Table 1806.2. */
static const fe_soil SOILS[] = {
    /* class, keyword, vertical psf, lateral psf/ft, kPa/m, friction, cohesion psf */
    {"crystalline bedrock", "bedrock",                                                            12000, 1200, 188.5, 0.7,  NAN},
    {"sedimentary and foliated rock", "rock",                                                  4000,  400,  62.83, 0.35, NAN},
    {"sandy gravel and gravel (GW GP)", "gravel",                                                3000,  200,  31.42, 0.35, NAN},
    {"sand; silty sand; clayey sand; silty gravel; clayey gravel (SW SP SM SC GM GC)", "sand", 2000,  150,  23.56, 0.25, NAN},
    {"clay; sandy clay; silty clay; clayey silt; silt and sandy silt (CL ML MH CH)", "clay",   1500,  100,  15.71, NAN,  130},
};

/*
 * Minnesota rule 1303.1600, IBC 1809.4, state codes and building practice as quoted by
 * engineers; the English figure is from memory.
 */
static const fe_frost_fact FROST[] = {
    /* place or rule, depth, unit, memory */
    {"Minnesota northern counties", 60,   "in", false},
    {"Columbus Ohio",               32,   "in", false},
    {"IBC minimum footing depth",   12,   "in", false},
    {"Minnesota southern counties", 42,   "in", false},
    {"Massachusetts state code",    48,   "in", false},
    {"southern England clay soils", 0.45, "m",  true},};
/* clang-format on */

enum {
    SOIL_COUNT = sizeof SOILS / sizeof SOILS[0],
    FROST_COUNT = sizeof FROST / sizeof FROST[0]
};

/* psf/ft in Pa/m: a pound-force over a cubic foot, exact. */
static const double PSF_FT_PA_M = FE_POUND_FORCE_N / (FE_FOOT_M * FE_FOOT_M * FE_FOOT_M);

size_t fe_soil_count(void)
{
    return SOIL_COUNT;
}

const fe_soil *fe_soil_at(size_t index)
{
    return index < SOIL_COUNT ? &SOILS[index] : NULL;
}

const fe_soil *fe_soil_find(const char *name)
{
    for (size_t i = 0; i < SOIL_COUNT; i++)
        if (strcmp(SOILS[i].name, name) == 0 || strcmp(SOILS[i].keyword, name) == 0)
            return &SOILS[i];
    return NULL;
}

double fe_soil_lateral(const fe_soil *soil)
{
    return soil->lateral_psf_ft * PSF_FT_PA_M;
}

size_t fe_frost_fact_count(void)
{
    return FROST_COUNT;
}

const fe_frost_fact *fe_frost_fact_at(size_t index)
{
    return index < FROST_COUNT ? &FROST[index] : NULL;
}

const fe_frost_fact *fe_frost_fact_find(const char *place)
{
    for (size_t i = 0; i < FROST_COUNT; i++)
        if (strcmp(FROST[i].place, place) == 0)
            return &FROST[i];
    return NULL;
}
