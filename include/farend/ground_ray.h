/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_GROUND_RAY_H
#define FAREND_GROUND_RAY_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/dielectric.h"
#include "farend/status.h"

/*
 * The ray off the ground beside the direct one, over flat ground. Heights are over the surface
 * that reflects: over snow where it lies. Its loss is against free space along the direct way
 * and negative where the two rays help each other. A spherical-earth diffraction term already
 * is the ground ray: never charge both.
 */
typedef struct fe_ground_path {
    double f_hz;       /* > 0 */
    double distance_m; /* horizontal, > 0 */
    double height1_m;  /* over the surface, > 0 */
    double height2_m;
} fe_ground_path;

/* Reflection coefficient: size exp(j phase). A perfect mirror at grazing is 1, pi. */
typedef struct fe_reflection {
    double size;
    double phase_rad;
} fe_reflection;

typedef enum fe_ground_wave { FE_GROUND_VERTICAL, FE_GROUND_HORIZONTAL } fe_ground_wave;

/* Angle between the reflected ray and the ground. FE_OK, FE_E_DOMAIN */
FE_MUST_CHECK fe_status fe_ground_grazing(const fe_ground_path *path, double *grazing_rad);

/*
 * Reflection coefficient of an even surface (Fresnel) times exp(-g^2 / 2) for its roughness,
 * with g = 4 pi roughness sin(grazing) / wavelength.
 *
 *   ground       permittivity, real part 1 or more
 *   wave         polarisation against the ground
 *   grazing_rad  0 to pi/2
 *   rough        roughness in wavelengths, root mean square, >= 0
 *   result       untouched on error
 *
 * FE_OK, FE_E_DOMAIN
 *
 * Source: Fresnel's formulas as in any textbook; roughness by Ament 1953, from memory.
 */
FE_MUST_CHECK fe_status fe_ground_reflection(const fe_permittivity *ground, fe_ground_wave wave,
                                             double grazing_rad, double rough,
                                             fe_reflection *result);

/*
 * The same for a path over a surface of the table.
 *
 * FE_OK, FE_W_RANGE where the surface's constants are not stated for the frequency, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_ground_reflection_over(const fe_ground_path *path,
                                                  fe_surface surface, fe_ground_wave wave,
                                                  fe_reflection *result);

typedef struct fe_ground_ray {
    double loss_db;       /* against free space along the direct way; below 0: a gain */
    double free_space_db; /* along the direct way */
    double total_db;
    double phase_rad; /* of the reflected ray behind the direct one, reflection included */
    double amplitude; /* of the reflected ray over the direct one */
} fe_ground_ray;

/*
 * Sum of the direct and the reflected ray, each with its own length in phase and amplitude:
 * -20 log |1 + coefficient (r_d / r_r) exp(-j k (r_r - r_d))|. In an exact null the loss is
 * 200 dB.
 *
 * FE_OK
 * FE_W_RANGE   result set, but an antenna is within a wavelength of the ground, where the
 *              surface wave counts too
 * FE_E_DOMAIN
 *
 * Source: two-ray sum as in any textbook.
 */
FE_MUST_CHECK fe_status fe_ground_ray_loss(const fe_ground_path *path,
                                           const fe_reflection *reflection,
                                           fe_ground_ray *result);

typedef struct fe_ground_spread {
    double loss_db;     /* of the mean power over the errors */
    double loss_p10_db; /* not exceeded with a chance of 10 % */
    double loss_p50_db;
    double loss_p90_db;
    double spread_rad; /* standard deviation of the phase */
    bool any_phase;    /* spread above pi/2: every phase was taken as equally likely */
} fe_ground_spread;

/* Error of a height that an owner measured or built, standard deviation; common practice. */
#define FE_GROUND_HEIGHT_ERROR_M 0.15

/*
 * Ground ray where the heights are known only so well: the phase is normal with standard
 * deviation 4 pi sqrt((h1 s2)^2 + (h2 s1)^2) / (wavelength distance), or uniform once that
 * exceeds pi/2.
 *
 *   path, reflection  as above
 *   error1_m          standard deviation of height1_m, >= 0
 *   error2_m          of height2_m
 *   result            untouched on error
 *
 * FE_OK, FE_W_RANGE as above, FE_E_DOMAIN
 * FE_E_MEMORY, FE_E_CONVERGE   from the root finder
 *
 * Source: common practice, no source.
 */
FE_MUST_CHECK fe_status fe_ground_ray_spread(const fe_ground_path *path,
                                             const fe_reflection *reflection, double error1_m,
                                             double error2_m, fe_ground_spread *result);

/*
 * loss_db of the above alone, without the quantiles, whose roots cost a hundred times as much:
 * for those who compute a million pairs. FE_OK, FE_W_RANGE as above, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_ground_ray_mean(const fe_ground_path *path,
                                           const fe_reflection *reflection, double error1_m,
                                           double error2_m, double *loss_db);

/*
 * Heights of the second end, lowest first, at which a perfect reflection leaves a null: the
 * rays differ by whole wavelengths. About wavelength distance / (2 height1) apart.
 *
 *   path      height2_m is not read
 *   low_m     heights wanted from here, >= 0
 *   high_m    to here
 *   heights_m room for `room` results; may be null where room is 0
 *   count     how many there are, which can be more than the room; untouched on error
 *
 * FE_OK, FE_E_DOMAIN
 *
 * Source: hyperbola about an antenna and its image; derived here.
 */
FE_MUST_CHECK fe_status fe_ground_nulls(const fe_ground_path *path, double low_m, double high_m,
                                        double *heights_m, size_t room, size_t *count);

/*
 * The null heights next to height2_m, below it (or at it) and above; NAN where there is none.
 *
 * FE_OK, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_ground_nulls_about(const fe_ground_path *path, double *below_m,
                                              double *above_m);

/*
 * Where the last maximum of the two-ray sum lies: 4 h1 h2 / wavelength. FE_OK, FE_E_DOMAIN
 * Source: as in any textbook.
 */
FE_MUST_CHECK fe_status fe_ground_breakpoint(double f_hz, double height1_m, double height2_m,
                                             double *distance_m);

/*
 * Plane-earth asymptote, 40 log d - 20 log(h1 h2): the total loss far beyond the break-point.
 *
 * FE_OK, FE_W_RANGE nearer than the break-point, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_ground_plane_earth(const fe_ground_path *path, double *loss_db);

#endif
