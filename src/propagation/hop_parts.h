/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_HOP_PARTS_H
#define PROPAGATION_HOP_PARTS_H

#include <stdbool.h>

#include "farend/dielectric.h"
#include "farend/ground_ray.h"
#include "farend/hop.h"
#include "farend/path_loss.h"
#include "farend/season.h"
#include "farend/status.h"

/*
 * Parts of one hop's path loss and budget that the map around a place takes over unchanged, so
 * that both say the same of the same cell.
 */

/* Median refractivity lapse of temperate land, N-units a kilometre (ITU-R P.452-18 fig 11,
 * from memory); it hardly matters below 2 km. */
#define HOP_LAPSE_N_PER_KM 40.0

/* An antenna needs a little air under it; a water film or drift closes the rest. */
#define HOP_LEAST_AIR_M 0.1

/* How finely the ground is looked at: points closer than this resolve a hedge and cost little,
 * and so many are enough of any path. */
#define HOP_FINEST_STEP_M 0.5
#define HOP_POINTS_WANTED 600.0

/* Standard deviations of a normal from what one in ten is below to what one in ten is above. */
#define HOP_TENTHS_SIGMAS 2.5631

/* Spread of a loss by obstacles: ground and edges are never as drawn. Common practice. */
#define HOP_EDGE_SIGMA_DB 3.0
#define HOP_SEVERAL_OBSTACLES_SIGMA_DB 6.0

/* Trees, or what stands on a profile, that cost more than this scatter what comes through.
 * Common practice. */
#define HOP_SCATTERS_DB 1.0

/* What the ground ray meets in a season. */
fe_surface hop_surface(const fe_hop *hop, const fe_season *season);

/* Spread of what trees lose; common practice. */
double hop_trees_sigma(double trees_db);

/* What is lost along depth_m inside a wood, `factor` times the usual one. Statuses of its
 * parts. */
FE_MUST_CHECK fe_status hop_wood_loss(double f_hz, double depth_m, double factor,
                                      double *loss_db);

/* True where an end at a distance of 0 or length_m stands in the wood itself, below its crowns;
 * heights are above the ground. */
bool hop_wood_holds_end(const fe_stand *stand, double length_m, double height1_m,
                        double height2_m);

/*
 * Ratio of the steady to the scattered power: behind trees that sway or over ground in the way,
 * with an end among walls, clear and outdoors. Common practice, no source.
 */
#define HOP_K_OBSTRUCTED_DB 3.0
#define HOP_K_INDOORS_DB 6.0
#define HOP_K_CLEAR_DB 10.0

/* That of a hop; what stands on a profile may be trees. */
double hop_rician_k(const fe_hop *hop, const fe_path_loss *loss);

/* Fade of the wanted availability over a distance, rain included. Statuses of its parts. */
FE_MUST_CHECK fe_status hop_fade(const fe_hop *hop, const fe_season *season, double distance_m,
                                 double k_db, double availability, double *fade_db);

/*
 * The ground ray of fe_ground_reflection, vertical, and fe_ground_ray_mean for who needs many:
 * what depends on the path apart from what depends on the soil, and no angle is ever made, so
 * that neither arc tangents nor logarithms of complex numbers are.
 */
typedef struct hop_ray {
    double sine; /* of the grazing angle */
    double cosine_square;
    double ratio; /* direct over reflected length */
    double behind_cosine;
    double behind_sine;
    double steady; /* what the error of heights leaves of the mean phase */
} hop_ray;

/* Height and distance as in fe_ground_path, all above zero; errors of both heights. */
hop_ray hop_ray_over(const fe_ground_path *path, double error1_m, double error2_m);

/* soil as in fe_ground_reflection, roughness in wavelengths; the loss in dB. */
double hop_ray_mean(const hop_ray *ray, const fe_permittivity *soil, double rough);

/* The same with its spread, as far as mean and deviation of the cosine tell that. */
typedef struct hop_ray_level {
    double mean_db;
    double sigma_db;
} hop_ray_level;

hop_ray_level hop_ray_levels(const hop_ray *ray, const fe_permittivity *soil, double rough);

/* What one antenna loses for a far one that stands rise_m higher or lower, distance_m away. */
double hop_slope_loss(const fe_station *station, double rise_m, double distance_m);

/*
 * The cosine not exceeded with a chance, of a phase that is normal about mean_rad with
 * deviation sigma_rad, at most pi/2. Statuses of the root finder.
 */
FE_MUST_CHECK fe_status hop_cosine_quantile(double mean_rad, double sigma_rad, double chance,
                                            double *cosine);

/*
 * The season with the smallest chance is the worst. Chances that nobody could tell apart from
 * it, and those of a link that is hopeless anyway, count as the same, and of such seasons the
 * one with the smallest margin is the worst. This is the greatest chance that counts so.
 */
double hop_same_chance(double least);

#endif
