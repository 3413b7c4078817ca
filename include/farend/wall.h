/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_WALL_H
#define FAREND_WALL_H

#include <stddef.h>

#include "farend/status.h"

/*
 * What a plane wave loses in walls: electrical constants of building materials, one slab,
 * several layers, openings side by side, and the ordinary kinds of wall as named lists of
 * layers. A call costs microseconds and keeps nothing. Does not cover what goes round a wall,
 * studs and other things inside it, or water on or in it.
 *
 * All losses are positive decibels. The angle of incidence is from the normal, in air. With
 * polarisation TE the electric field lies across the plane of incidence: that is a vertical
 * antenna looking at an upright wall from the side.
 */
typedef enum fe_polarisation { FE_POLARISATION_TE, FE_POLARISATION_TM } fe_polarisation;

/* Relative permittivity a f^b and conductivity c f^d in S/m, f in GHz. */
typedef struct fe_material {
    const char *name; /* as in the table of P.2040, lower case with underscores */
    double a;
    double b;
    double c;
    double d;
    double f_low_ghz;
    double f_high_ghz;
} fe_material;

/* The whole table (ITU-R P.2040-3 Table 3; -4 is the same). */
const fe_material *fe_material_table(size_t *count);

/* A row by name; case makes no difference, and spaces, hyphens and underscores are one. Null:
 * unknown. */
const fe_material *fe_material_find(const char *name);

/*
 * Electrical constants of a material.
 *
 *   material        a row of the table
 *   f_hz            frequency, > 0
 *   permittivity    result, relative, real part; untouched on error
 *   conductivity_s_m result
 *
 * FE_OK
 * FE_W_RANGE   result set, but the row is not stated for this frequency
 * FE_E_DOMAIN  no material, or the frequency is not finite or not above zero
 *
 * Source: ITU-R P.2040-3 sec 3 eq 28 and 29 with Table 3 (clause numbers from memory).
 */
FE_MUST_CHECK fe_status fe_material_constants(const fe_material *material, double f_hz,
                                              double *permittivity, double *conductivity_s_m);

/* How a wave meets a wall. */
typedef struct fe_incidence {
    double f_hz;          /* > 0 */
    double incidence_rad; /* 0 to below pi/2, from the normal */
    fe_polarisation polarisation;
} fe_incidence;

/*
 * One plane slab in air. The phase term is kept, so a thin slab can lose less than its surface
 * reflection suggests and a low-loss one ripples with thickness.
 *
 *   material              a row of the table
 *   thickness_m           > 0
 *   wave                  frequency, angle and polarisation
 *   transmission_loss_db  result, or null where nobody wants it; untouched on error
 *   reflection_loss_db    result or null: of the wave thrown back; infinite where none is
 *
 * FE_OK
 * FE_W_RANGE   results set, but the material is not stated for this frequency
 * FE_E_DOMAIN  no material, or an argument is not finite or out of range
 *
 * Source: ITU-R P.2040-3 sec 2.2.2.2 (single slab, air both sides).
 */
FE_MUST_CHECK fe_status fe_slab_loss(const fe_material *material, double thickness_m,
                                     const fe_incidence *wave, double *transmission_loss_db,
                                     double *reflection_loss_db);

typedef struct fe_wall_layer {
    const char *material; /* name of a material */
    double thickness_m;   /* > 0 */
} fe_wall_layer;

/*
 * Several plane layers touching one another, air on both sides; arguments, results and statuses
 * as for one slab. FE_E_DOMAIN also where there is no layer or a material is unknown.
 *
 * Source: ITU-R P.2040-3 sec 2.2.2.1 (recursion from the far side; written with the reflection
 * coefficients seen at each face, which cannot overflow in a thick lossy layer).
 */
FE_MUST_CHECK fe_status fe_layers_loss(const fe_wall_layer *layers, size_t count,
                                       const fe_incidence *wave, double *transmission_loss_db,
                                       double *reflection_loss_db);

/* A part of a wall: its share of the surface (0 to 1) and its loss. */
typedef struct fe_aperture {
    double share;
    double loss_db;
} fe_aperture;

/*
 * Openings side by side (wall, window, door) as parallel ways: -10 log sum a 10^(-L/10).
 *
 * FE_OK
 * FE_W_RANGE   result set, but the shares do not add up to 1 within 1 %
 * FE_E_DOMAIN  no aperture, a share outside 0 to 1, all shares zero, or a loss that is NaN
 *
 * Source: common practice, no source (powers of the parts added).
 */
FE_MUST_CHECK fe_status fe_aperture_loss(const fe_aperture *apertures, size_t count,
                                         double *loss_db);

enum { FE_WALL_LAYERS_MAX = 8 };

/*
 * An ordinary wall as an owner would call it. A thickness given for it is that of the whole
 * wall; the layer `grows` takes the difference to the usual thickness.
 */
typedef struct fe_wall_kind {
    const char *name;
    const char *also; /* a second name, or null */
    fe_wall_layer layers[FE_WALL_LAYERS_MAX];
    size_t layer_count;
    size_t grows;
    /* What leaks through joints, seams and holes of a metal skin whatever its thickness: a way
     * in parallel. Infinite: none. */
    double leak_loss_db;
} fe_wall_kind;

const fe_wall_kind *fe_wall_kind_table(size_t *count);

/* A kind by either name, as above. Null: unknown. */
const fe_wall_kind *fe_wall_kind_find(const char *name);

/* Usual thickness of the whole wall. */
double fe_wall_kind_thickness_m(const fe_wall_kind *kind);

/* What a named wall loses. */
typedef struct fe_wall_result {
    double loss_db; /* at the thickness given */
    /* Least and most within 10 % of that thickness (common practice, no source): nobody knows a
     * wall to a fraction of a wavelength, so the ripple is part of the answer. */
    double low_db;
    double high_db;
    double thickness_m; /* whole wall, as used */
} fe_wall_result;

/*
 * Loss of a named wall.
 *
 *   kind         name ("brick", "double glazing")
 *   thickness_m  of the whole wall, > 0; NAN for the usual one
 *   wave         frequency, angle and polarisation
 *   result       untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but a layer's material is not stated for this frequency
 * FE_E_DOMAIN  the kind is unknown, the thickness leaves nothing for the layer that grows, or
 *              an argument is out of range
 *
 * Source: layers by ITU-R P.2040-3; lists and thicknesses common practice, no source. The
 * coating of coated glazing is a metal film of 15 nm (7 ohm a square), which gives 25 to 35 dB:
 * a class figure, common practice. Leaks of metal walls: common practice.
 */
FE_MUST_CHECK fe_status fe_wall_loss(const char *kind, double thickness_m,
                                     const fe_incidence *wave, fe_wall_result *result);

#endif
