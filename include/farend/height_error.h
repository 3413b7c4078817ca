/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_HEIGHT_ERROR_H
#define FAREND_HEIGHT_ERROR_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/diffraction.h"
#include "farend/profile.h"
#include "farend/status.h"

/*
 * What the likely error of ground heights does to a radio path: whether a profile is good
 * enough to judge the first Fresnel zone by, and the spread of clearance and diffraction that
 * it leaves.
 */

/*
 * A height is good enough where its standard deviation is at most this share of the first
 * zone's radius: two of them then fit between the 0.6 that is wanted clear and the whole zone.
 * Derived here. Near the ends, where the zone closes, the radius a tenth of the path away
 * stands in: there the owner sees the ground.
 */
#define FE_HEIGHT_ERROR_GOOD_SHARE 0.2
#define FE_HEIGHT_ERROR_END_SHARE 0.1

typedef struct fe_height_judgement {
    size_t coarse;        /* points that are not good enough */
    double coarse_share;  /* of the path's length */
    double worst_error_m; /* largest standard deviation on the profile */
    double allowed_mid_m; /* standard deviation that would do in the middle */
    double allowed_end_m; /* and near the ends */
} fe_height_judgement;

/*
 *   profile    with height_error_m
 *   f_hz       > 0
 *   coarse     count marks, true where a point is not good enough; null: not wanted
 *   judgement  result; untouched on error
 *
 * FE_OK
 * FE_E_DOMAIN  no height errors, a value that is not finite or out of range
 *
 * Source: zone's radius ITU-R P.526-15 sec 2.1; the share derived here.
 */
FE_MUST_CHECK fe_status fe_height_error_judge(const fe_profile *profile, double f_hz,
                                              bool *coarse, fe_height_judgement *judgement);

/* The spread that height errors leave. */
typedef struct fe_height_spread {
    double clearance_sigma_m; /* at the tightest point, errors of both ends included */
    double loss_sigma_db;     /* of the diffraction loss */
    size_t places;            /* tight places that were moved */
} fe_height_spread;

/*
 * Propagates height errors into clearance and loss by finite differences: each tight place
 * (where the ground comes within one zone of the line of sight, as a whole between the dips on
 * either side) and each end with its antenna is moved up and down by its error, and half the
 * difference of the losses counts. Places are taken as independent, points within one as moving
 * together. At most the eight tightest places are moved; costs some twenty passes of the
 * diffraction method and one copy of the heights.
 *
 *   path            as fe_delta_bullington_loss takes it
 *   height_error_m  standard deviation of each of the path's heights, >= 0
 *   spread          result; untouched on error
 *
 * FE_OK, FE_W_RANGE  as fe_delta_bullington_loss
 * FE_E_DOMAIN        as there, or an error is not finite or below zero, or fewer than 3 points
 * FE_E_MEMORY
 *
 * Source: first-order propagation of independent errors; diffraction ITU-R P.526-15 sec 4.5.
 */
FE_MUST_CHECK fe_status fe_height_error_spread(const fe_diffraction_path *path,
                                               const double *height_error_m,
                                               const fe_diffraction_wave *wave,
                                               fe_height_spread *spread);

#endif
