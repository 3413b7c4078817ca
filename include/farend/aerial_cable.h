/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_AERIAL_CABLE_H
#define FAREND_AERIAL_CABLE_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Published figures of what hangs between posts: steel strand by size, modulus and expansion by
 * material, and aerial cables by class. Figures are in the units of their sources; NAN where a
 * source gives none. Sources are at the head of each table in src/wired/aerial_cable.c.
 */

/* Zinc-coated steel strand of ASTM A475; breaking strength by grade. */
typedef struct fe_strand {
    const char *size_in; /* "1/4" */
    double diameter_mm;
    int wires;
    double weight_lb_kft;
    double mass_kg_m;
    double common_kn;
    double siemens_martin_kn;
    double high_strength_kn;
    double extra_high_strength_kn;
    bool from_memory;
} fe_strand;

size_t fe_strand_count(void);
const fe_strand *fe_strand_at(size_t index);
/* Null where there is no such strand. */
const fe_strand *fe_strand_find(const char *size_in, int wires);
/*
 * Steel area in m2 from the mass a metre, at 7850 kg/m3 (common practice, no source; zinc is
 * lighter, so it is low by about a percent).
 */
double fe_strand_area(const fe_strand *strand);

typedef struct fe_cable_material {
    const char *name;
    double modulus_gpa;
    double expansion_per_k;
    bool from_memory;
} fe_cable_material;

size_t fe_cable_material_count(void);
const fe_cable_material *fe_cable_material_at(size_t index);
const fe_cable_material *fe_cable_material_find(const char *name);

/*
 * Aerial cables by class and size. Typical figures of single sheets, which spread by a fifth
 * and more between makers: to start from, not for proof.
 */
typedef struct fe_aerial_cable {
    const char *name;
    const char *size;
    double diameter_mm; /* or width */
    double height_mm;
    double mass_kg_km;
    double strength_kn; /* breaking or rated */
    double working_kn;
    double typical_span_m;
    const char *note;
    bool from_memory;
} fe_aerial_cable;

size_t fe_aerial_cable_count(void);
const fe_aerial_cable *fe_aerial_cable_at(size_t index);
const fe_aerial_cable *fe_aerial_cable_find(const char *name, const char *size);

#endif
