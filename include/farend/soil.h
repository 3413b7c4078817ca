/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SOIL_H
#define FAREND_SOIL_H

#include <stdbool.h>
#include <stddef.h>

/*
 * What ground bears, by class, and how deep frost goes. NAN where a source gives no figure.
 * Source: IBC 2012 Table 1806.2. Lateral bearing may be doubled for an isolated pole that is
 * not harmed by half an inch of motion at grade under a short-term load (1806.3.4).
 */
typedef struct fe_soil {
    const char *name;    /* as the code has it */
    const char *keyword; /* "sand": how a plan names it */
    double vertical_psf;
    double lateral_psf_ft; /* for each foot of depth */
    double lateral_kpa_m;  /* the same in metric units, as printed */
    double friction;       /* coefficient */
    double cohesion_psf;
} fe_soil;

size_t fe_soil_count(void);
const fe_soil *fe_soil_at(size_t index);
/* By the code's name or by keyword; null where there is none. */
const fe_soil *fe_soil_find(const char *name);
/* Lateral bearing for each metre of depth, Pa/m, converted from psf/ft. */
double fe_soil_lateral(const fe_soil *soil);

/* Frost or footing depths that places and rules use, in the unit they use ("in", "m"). */
typedef struct fe_frost_fact {
    const char *place;
    double depth;
    const char *unit;
    bool from_memory;
} fe_frost_fact;

size_t fe_frost_fact_count(void);
const fe_frost_fact *fe_frost_fact_at(size_t index);
const fe_frost_fact *fe_frost_fact_find(const char *place);

#endif
