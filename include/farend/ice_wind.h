/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_ICE_WIND_H
#define FAREND_ICE_WIND_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Ice, snow and wind on a cable, as forces a metre; and the loads that codes prescribe by
 * district. Radial ice goes all around, so the diameter grows by twice its thickness, and wind
 * acts on the iced diameter. A lashed bundle is iced on its outer circumference as a hollow
 * cylinder: give its outer diameter. Not here: shedding, galloping, drag factors other than the
 * one inside a code's pressure.
 *
 * Every function returns FE_OK, or FE_E_DOMAIN where an argument is not finite or out of its
 * range; outputs are then untouched.
 */

/*
 * Weight of a sleeve of ice, pi t (d + t) rho g.
 *   diameter_m >= 0, thickness_m >= 0, density_kg_m3 >= 0 (900 to 920 for glaze)
 * Source: geometry; CPUC General Order 95 Appendix B uses it with 57 lb/ft3.
 */
FE_MUST_CHECK fe_status fe_ice_load(double diameter_m, double thickness_m, double density_kg_m3,
                                    double *load_n_m);

/*
 * Outer diameter of a sleeve of given mass, for wet snow and rime, which go by mass a metre:
 * sqrt(d^2 + 4 m / (pi rho)).
 *   mass_kg_m >= 0, density_kg_m3 > 0
 */
FE_MUST_CHECK fe_status fe_ice_outer_diameter(double diameter_m, double mass_kg_m,
                                              double density_kg_m3, double *outer_m);

/* Force of wind square to the cable, p (d + 2 t). */
FE_MUST_CHECK fe_status fe_wind_load(double diameter_m, double thickness_m, double pressure_pa,
                                     double *load_n_m);

/*
 * Pressure of wind on round things, p = 0.00256 V^2 with psf and mph (0.6133 V^2 in Pa and m/s:
 * half the density of air, drag 1).
 * Source: line-design textbooks (Electric Power Transmission System Engineering ex. 12.2).
 */
FE_MUST_CHECK fe_status fe_wind_pressure(double speed_m_s, double *pressure_pa);

typedef struct fe_ice_wind_case {
    double diameter_m;
    double bare_n_m;      /* weight, > 0 */
    double thickness_m;   /* radial ice */
    double density_kg_m3; /* of the ice */
    double pressure_pa;   /* wind on the iced diameter */
    double added_n_m;     /* a code's constant, 0 where it has none */
} fe_ice_wind_case;

typedef struct fe_ice_wind_load {
    double ice_n_m;
    double vertical_n_m; /* bare and ice */
    double wind_n_m;
    double resultant_n_m; /* for sag */
    double tension_n_m;   /* resultant and the code's constant, for tension only */
    double blowout_rad;   /* of the cable's plane from plumb */
} fe_ice_wind_load;

/* All of it. IEEE C2 rule 251 adds its constant to the resultant, never to wind on a post. */
FE_MUST_CHECK fe_status fe_ice_wind(const fe_ice_wind_case *given, fe_ice_wind_load *load);

/*
 * Loads that codes prescribe by district. Metric and inch columns are separate roundings of the
 * code; NAN where it gives none (California prints no metric figures).
 * Source: in src/wired/ice_wind.c, with what is from memory.
 */
typedef struct fe_ice_district {
    const char *code;
    const char *district;
    double ice_mm;
    double ice_in;
    double wind_pa;
    double wind_psf;
    double temp_c;
    double temp_f;
    double added_n_m;
    double added_lb_ft;
    double density_kg_m3;
    bool from_memory;
} fe_ice_district;

size_t fe_ice_district_count(void);
const fe_ice_district *fe_ice_district_at(size_t index);
/* Null where there is no such pair of names. */
const fe_ice_district *fe_ice_district_find(const char *code, const char *district);

/* The district's load in SI: metric column where the code has one, else inches converted. */
FE_MUST_CHECK fe_status fe_ice_district_case(const fe_ice_district *district, double diameter_m,
                                             double bare_n_m, fe_ice_wind_case *given,
                                             double *temp_c);

/*
 * Ice by zone, q = a + b d, whatever the wind.
 *   zone        1 to 4
 *   diameter_m  >= 0
 * Source: EN 50341-2-4 (German national annex), from memory.
 */
typedef struct fe_ice_zone {
    int zone;
    double constant_n_m;
    double per_diameter_n_m_mm; /* for each millimetre of diameter */
} fe_ice_zone;
const fe_ice_zone *fe_ice_zone_find(int zone);
FE_MUST_CHECK fe_status fe_ice_zone_load(int zone, double diameter_m, double *load_n_m);

/*
 * Densities of kinds of ice, and ice classes: glaze by thickness, rime by mass on a collector
 * of 30 mm. Classes R10 and G6 have no figure: a study of the site is wanted. Source: ISO
 * 12494, Table 1 and the ice classes, from memory.
 */
typedef struct fe_ice_type {
    const char *item; /* "density", "rime ice class mass", "glaze ice class thickness" */
    const char *name;
    double low;
    double high;
    const char *unit;
} fe_ice_type;

size_t fe_ice_type_count(void);
const fe_ice_type *fe_ice_type_at(size_t index);
const fe_ice_type *fe_ice_type_find(const char *item, const char *name);

/*
 * Every load a code prescribes, by one name "CODE/DISTRICT": the districts above, the zones as
 * "EN 50341-2-4/zone 1" (in still air at -5 degC), the ice classes as "ISO 12494/ICG G1" and
 * "ISO 12494/ICR R1" (in still air at 0 degC, rime as hard rime of 600 kg/m3).
 *   diameter_m  of the cable, >= 0: zones go by it
 *   district    result; its texts are static
 *   FE_E_INPUT  no such name
 */
FE_MUST_CHECK fe_status fe_ice_preset(const char *name, double diameter_m,
                                      fe_ice_district *district);

enum { FE_ICE_PRESETS = 30, FE_ICE_PRESET_ROOM = 64 };
/* Name of a preset, index below FE_ICE_PRESETS. */
void fe_ice_preset_name(size_t index, char name[FE_ICE_PRESET_ROOM]);

/* Rule and date of the text that a code's loads are from; never null. */
const char *fe_ice_preset_source(const char *code);

#endif
