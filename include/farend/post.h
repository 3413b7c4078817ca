/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_POST_H
#define FAREND_POST_H

#include <stddef.h>

#include "farend/constants.h"
#include "farend/status.h"

/*
 * Posts: what bends them, what they resist, how deep they stand, and stays. Not here: buckling,
 * connections, the taper of strength above ground.
 *
 * Every function returns FE_OK, or FE_E_DOMAIN where an argument is not finite or out of its
 * range; outputs are then untouched.
 */
typedef enum fe_post_section { FE_POST_ROUND, FE_POST_SQUARE } fe_post_section;

/*
 * Wind on the post itself, wider at the ground than at the top: force p h (dg + dt)/2, moment
 * at the ground p h^2 (dg + 2 dt)/6. widths_m >= 0, height_m > 0 above ground, pressure_pa >= 0
 * Source: Electric Power Transmission System Engineering, 2nd ed., ex. 12.2 and 12.3.
 */
FE_MUST_CHECK fe_status fe_post_wind(double pressure_pa, double width_ground_m,
                                     double width_top_m, double height_m, double *force_n,
                                     double *moment_n_m);

/*
 * Moment at the ground of horizontal forces at heights, both as given; sums force times height.
 *   FE_E_DOMAIN  also where count is 0
 */
FE_MUST_CHECK fe_status fe_post_moment(const double *forces_n, const double *heights_m,
                                       size_t count, double *moment_n_m);

/* Section modulus, pi d^3/32 or b^3/6, and second moment of area, pi d^4/64 or b^4/12. */
FE_MUST_CHECK fe_status fe_post_section_modulus(fe_post_section section, double width_m,
                                                double *modulus_m3);
FE_MUST_CHECK fe_status fe_post_second_moment(fe_post_section section, double width_m,
                                              double *second_moment_m4);

/*
 * Moment that brings the outer fibre to a stress, and the width that a moment needs. The US
 * form M = f C^3/(32 pi^2 12) is this with the circumference of a round pole.
 */
FE_MUST_CHECK fe_status fe_post_resisting_moment(fe_post_section section, double width_m,
                                                 double stress_pa, double *moment_n_m);
FE_MUST_CHECK fe_status fe_post_width_for_moment(fe_post_section section, double moment_n_m,
                                                 double stress_pa, double *width_m);

/* Moments at the ground line by what causes them, without any factor; all >= 0. */
typedef struct fe_post_moments {
    double wind_n_m;     /* on post and cable */
    double tension_n_m;  /* unbalanced pull of the cable */
    double vertical_n_m; /* weight at an arm */
} fe_post_moments;

/* Share of what the post can bear that is used; above 1 it fails. */
typedef struct fe_post_use {
    double permanent; /* sustained loads alone; NAN in the US form, which has no such case */
    double with_gust;
    double largest;
} fe_post_use;

/*
 * European form: M <= k_mod f_m,k W / gamma_M with k_mod 0.50 for permanent load and 0.90 with
 * a gust (service class 3), gamma_M 1.3; loads times 1.35 and, wind, 1.5. The pull of the cable
 * is a permanent load.
 *   bending_pa  characteristic bending strength (fe_wood_class), never a mean
 * Source: EN 1995-1-1 and EN 1990, from memory.
 */
FE_MUST_CHECK fe_status fe_post_use_en(fe_post_section section, double width_m,
                                       double bending_pa, const fe_post_moments *moments,
                                       fe_post_use *use);

/* The two design moments of that form, without loads: permanent, and with a gust. */
FE_MUST_CHECK fe_status fe_post_resistance_en(fe_post_section section, double width_m,
                                              double bending_pa, double *permanent_n_m,
                                              double *gust_n_m);

/*
 * US form, Grade B: wind times 2.50, tension 1.65, vertical 1.50; wood 0.65.
 *   fibre_pa  designated fibre stress (fe_wood_pole_stress)
 * Source: IEEE C2 tables 253-1 and 261-1, from memory.
 */
FE_MUST_CHECK fe_status fe_post_use_us(fe_post_section section, double width_m, double fibre_pa,
                                       const fe_post_moments *moments, fe_post_use *use);
FE_MUST_CHECK fe_status fe_post_resistance_us(fe_post_section section, double width_m,
                                              double fibre_pa, double *moment_n_m);

/*
 * Depth of a post that nothing holds at the ground, d = A/2 (1 + sqrt(1 + 4.36 h / A)) with
 * A = 2.34 P / (S1 b).
 *   force_n     P, sideways, > 0
 *   height_m    h, of the force above ground, >= 0
 *   width_m     b, diameter of a round post, diagonal of a square one, > 0
 *   lateral_pa_m  what the soil bears for each metre of depth (fe_soil_lateral), > 0
 *   multiplier  2 for an isolated post under short-term load, where half an inch of motion at
 *               grade is acceptable; 1 otherwise, and always for sustained pull
 * S1 is taken at a third of the depth found (iterated), which the code takes no deeper than
 * FE_POST_MOST_S1_DEPTH_M. The `_trial` form takes the S1 of a trial depth and does not iterate.
 *   factor_a_m  may be null
 * Source: IBC 2012 1807.3.2.1; the 12 ft limit from memory.
 */
typedef struct fe_post_in_soil {
    double force_n;
    double height_m;
    double width_m;
    double lateral_pa_m;
    double multiplier;
} fe_post_in_soil;
#define FE_POST_MOST_S1_DEPTH_M (12.0 * FE_FOOT_M)
FE_MUST_CHECK fe_status fe_post_depth_free(const fe_post_in_soil *given, double *factor_a_m,
                                           double *depth_m);
FE_MUST_CHECK fe_status fe_post_depth_free_trial(double force_n, double height_m,
                                                 double width_m, double s1_pa,
                                                 double *factor_a_m, double *depth_m);

/*
 * Depth of a post held at the ground by a rigid floor: d^2 = 4.25 P h / (S3 b), S3 at the full
 * depth; height_m > 0. The `_trial` form takes S3 as given.
 * Source: IBC 2012 1807.3.2.2.
 */
FE_MUST_CHECK fe_status fe_post_depth_held(const fe_post_in_soil *given, double *depth_m);
FE_MUST_CHECK fe_status fe_post_depth_held_trial(double force_n, double height_m,
                                                 double width_m, double s3_pa, double *depth_m);

/*
 * The agricultural equations: free d^2 = (6 V + 8 M/d)/(S b), held at grade d^3 = 4 M/(S b).
 *   shear_n >= 0 and moment_n_m >= 0 at grade, not both zero; lateral_pa_m without doubling
 * Other depths than the building code's: never mix the two.
 * Source: ASAE EP486, simplified equations of editions before 2012, from memory.
 */
FE_MUST_CHECK fe_status fe_post_depth_farm_free(double shear_n, double moment_n_m,
                                                double width_m, double lateral_pa_m,
                                                double *depth_m);
FE_MUST_CHECK fe_status fe_post_depth_farm_held(double moment_n_m, double width_m,
                                                double lateral_pa_m, double *depth_m);

/*
 * Setting depth by rule of thumb. None of them is a check of moments.
 *   length_m  whole length, > 0; for FE_POST_THIRD_ABOVE the height above ground
 */
typedef enum fe_post_rule {
    FE_POST_TENTH_2FT,     /* "10 percent + 2 ft"; CPUC General Order 95 rule 49.1-C */
    FE_POST_TENTH_600MM,   /* "10 percent + 0.6 m"; metric form, from memory */
    FE_POST_QUARTER,       /* "one quarter of total length"; small posts, from memory */
    FE_POST_TENTH_MIN_5FT, /* "minimum depth": the first, never under 5 ft; handbooks */
    FE_POST_THIRD_ABOVE    /* "one third of height above ground"; small posts, from memory */
} fe_post_rule;
FE_MUST_CHECK fe_status fe_post_rule_depth(fe_post_rule rule, double length_m, double *depth_m);
/* By the name quoted above; FE_E_DOMAIN where there is no such rule. */
FE_MUST_CHECK fe_status fe_post_rule_find(const char *name, fe_post_rule *rule);

/*
 * Whole length of post that brings an attachment to a height, by the tenth-plus-2-ft rule:
 * (clearance + sag + top + snow + 0.6096)/0.9.
 *   each >= 0; top_m from the attachment to the top of the post
 */
FE_MUST_CHECK fe_status fe_post_length_needed(double clearance_m, double sag_m, double top_m,
                                              double snow_m, double *length_m);

/*
 * Pull at the height of a stay from forces at other heights, sum(F h)/h_stay: the post is a
 * strut and the stay carries the whole of it.
 */
FE_MUST_CHECK fe_status fe_post_stay_pull(const double *forces_n, const double *heights_m,
                                          size_t count, double stay_height_m, double *pull_n);

/*
 * A stay from a height to an anchor `lead_m` from the post: T = H sqrt(h^2 + l^2)/l.
 *   horizontal_n >= 0, height_m > 0, lead_m > 0
 * Source: statics; CPUC General Order 95 rule 86.2 for the post as a strut.
 */
typedef struct fe_post_stay {
    double tension_n;
    double vertical_n; /* that it adds downwards to the post, H h/l; the anchor's uplift */
    double angle_rad;  /* of the stay above the ground */
    double length_m;
} fe_post_stay;
FE_MUST_CHECK fe_status fe_post_stay_of(double horizontal_n, double height_m, double lead_m,
                                        fe_post_stay *stay);

/*
 * Pull of a corner on its post, 2 H sin(delta/2).
 *   turn_rad  by how much the line turns, 0 (straight on) to pi
 */
FE_MUST_CHECK fe_status fe_post_corner_pull(double tension_n, double turn_rad, double *pull_n);

/*
 * Sideways motion at a height under a force there: cantilever, with creep and ground that
 * turns. See fe_tension_post_compliance for arguments and source. force_n >= 0
 */
FE_MUST_CHECK fe_status fe_post_deflection(double force_n, double height_m,
                                           double bending_stiffness_n_m2, double ground_n_m_rad,
                                           double creep, double *deflection_m);

#endif
