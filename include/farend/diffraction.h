/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_DIFFRACTION_H
#define FAREND_DIFFRACTION_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Diffraction over a ground profile and the round earth: the delta-Bullington method, cut where
 * its source cuts it so that each published intermediate value can be tested.
 *
 * A call costs one pass over the profile with one division a point, a second where the line of
 * sight is cut, a few halving searches, and some twenty logarithms and roots; it allocates
 * nothing. The loss is in addition to free space, and already holds what the ground does to a
 * clear path over smooth land (the spherical term): no ground ray may be added to it.
 */

/* Average land and sea of the source, sec 3.1 and 4.5. */
#define FE_LAND_PERMITTIVITY 22.0
#define FE_LAND_CONDUCTIVITY_S_M 0.003
#define FE_SEA_PERMITTIVITY 80.0
#define FE_SEA_CONDUCTIVITY_S_M 5.0

/* The wave, and the ground and air under and through which it goes. */
typedef struct fe_diffraction_wave {
    double f_hz;             /* > 0; the method is stated from 10 MHz */
    double ae_m;             /* effective earth radius, > 0 */
    bool vertical;           /* polarisation: vertical, else horizontal */
    double permittivity;     /* of the ground, relative, > 1 */
    double conductivity_s_m; /* of the ground, >= 0 */
    double omega_sea;        /* share of the path over sea, 0 to 1 */
    double c_m_s;            /* speed of light; published cases were worked with rounded ones */
} fe_diffraction_wave;

/* A wave over average land, no sea, exact speed of light. */
fe_diffraction_wave fe_diffraction_wave_over_land(double f_hz, double ae_m, bool vertical);

/* What lies between two antennas. */
typedef struct fe_diffraction_path {
    const double *d_m;       /* distances, strictly rising; the first and last are the ends */
    const double *h_m;       /* ground above one datum (with snow, where it lies) */
    const double *clutter_m; /* height of what stands on it, >= 0, or null */
    size_t n;                /* points, 2 or more */
    double antenna1_m;       /* above the same datum, not below the ground there */
    double antenna2_m;
} fe_diffraction_path;

/* Bullington's one edge in place of all obstacles. */
typedef struct fe_bullington {
    double v;       /* of that edge; -INFINITY where there are no points between the ends */
    double edge_db; /* J(v), zero from -0.78 down */
    double loss_db; /* with the term for the other obstacles */
} fe_bullington;

/* The smooth surface fitted to the ground, above the datum, and the antennas over it. */
typedef struct fe_smooth_surface {
    double end1_m;
    double end2_m;
    double effective1_m; /* height of the first antenna over the surface */
    double effective2_m;
} fe_smooth_surface;

/* Loss of the round earth, with its parts. The three dB parts are those of land. */
typedef struct fe_spherical_earth {
    double horizon_m; /* farthest line of sight with these heights */
    bool clear;       /* so much clearance that no loss remains; the three parts are then NAN */
    double radius_m;  /* effective radius the first term was computed with */
    double fx_db;     /* distance term F(X) */
    double gy1_db;    /* height gain G(Y) of each end */
    double gy2_db;
    double loss_db;
} fe_spherical_earth;

typedef struct fe_delta_bullington {
    bool line_of_sight;        /* the profile with clutter and bulge stays under the line */
    fe_bullington actual;      /* over the profile, clutter added between the ends */
    fe_smooth_surface fit;     /* from the ground without clutter */
    fe_bullington smooth;      /* over a flat profile with the effective heights */
    fe_spherical_earth sphere; /* the same with the round earth */
    double loss_db;            /* actual + max(sphere - smooth, 0) */
} fe_delta_bullington;

/*
 * Bullington part alone.
 *
 *   path    as above; clutter is added to the points between the ends, never at the ends
 *   wave    f_hz, ae_m and c_m_s are used
 *   result  untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, below 10 MHz
 * FE_E_DOMAIN  a value is not finite or outside the ranges above, distances do not rise, or an
 *              antenna is under the ground
 *
 * Source: ITU-R P.526-15 sec 4.5 (sub-clause 4.5.1 from memory).
 */
FE_MUST_CHECK fe_status fe_bullington_loss(const fe_diffraction_path *path,
                                           const fe_diffraction_wave *wave,
                                           fe_bullington *result);

/*
 * Smooth surface and effective heights; clutter does not count. Statuses as above.
 *
 * Source: ITU-R P.526-15 sec 4.5, least squares over the profile as in P.452-18 (sub-clauses not
 * read).
 */
FE_MUST_CHECK fe_status fe_smooth_surface_fit(const fe_diffraction_path *path,
                                              fe_smooth_surface *result);

/*
 * Diffraction over the round earth alone, without irregularities.
 *
 *   d_m         distance over ground, > 0
 *   h1_m, h2_m  antennas over the smooth earth, >= 0
 *   result      loss may be below zero where the first term is used near the horizon with high
 *               antennas, as in the source; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, below 10 MHz
 * FE_E_DOMAIN  a value is not finite or outside the ranges above
 *
 * Source: ITU-R P.526-15 sec 3.2, first term sec 3.1.1 with its rounded
 * constants, as in P.452-18.
 */
FE_MUST_CHECK fe_status fe_spherical_earth_loss(double d_m, double h1_m, double h2_m,
                                                const fe_diffraction_wave *wave,
                                                fe_spherical_earth *result);

/*
 * The whole method.
 *
 *   result  loss_db 0 or more; untouched on error
 *
 * Statuses as for fe_bullington_loss.
 *
 * Source: ITU-R P.526-15 sec 4.5. One isolated sharp edge comes out too high by it (12.4 dB
 * where the edge alone has 6.0 at grazing): see fe_isolated_edge_find.
 */
FE_MUST_CHECK fe_status fe_delta_bullington_loss(const fe_diffraction_path *path,
                                                 const fe_diffraction_wave *wave,
                                                 fe_delta_bullington *result);

#endif
