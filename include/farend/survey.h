/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SURVEY_H
#define FAREND_SURVEY_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/message.h"
#include "farend/profile.h"
#include "farend/status.h"

/*
 * The ground out of a list of readings taken with a tape, a level and staff, a slope meter or
 * by pacing. Each row of the list is a point of the ground, in the order walked. What closes
 * (a point of known height, or the way walked back to its start) gives a closing error, which
 * is spread over the legs by least squares: each leg takes the share that its variance has in
 * the whole. Costs a few passes over the list.
 */

/* How far each point is. */
typedef enum fe_survey_distance {
    FE_SURVEY_FROM_START, /* distance: horizontal, from the first point */
    FE_SURVEY_LEG,        /* leg: horizontal, from the point before; below zero walking back */
    FE_SURVEY_TAPE,       /* tape: the same along the ground */
    FE_SURVEY_STRIDES     /* strides along the ground, of a stride measured beforehand */
} fe_survey_distance;

/* How high. */
typedef enum fe_survey_height {
    FE_SURVEY_HEIGHT, /* above any one datum */
    FE_SURVEY_RISE,   /* above the point before */
    FE_SURVEY_STAFF,  /* staff readings through a level: backsight, foresight, intermediate */
    FE_SURVEY_SLOPE   /* angle of the ground from the point before, up is above zero */
} fe_survey_height;

/* One point; NAN where a cell is empty. */
typedef struct fe_survey_row {
    double distance_m;     /* FE_SURVEY_FROM_START */
    double leg_m;          /* the other three */
    double height_m;       /* FE_SURVEY_HEIGHT */
    double rise_m;         /* FE_SURVEY_RISE */
    double backsight_m;    /* FE_SURVEY_STAFF: the first reading after the level was set up */
    double foresight_m;    /* the last before it is moved */
    double intermediate_m; /* any between; no other point hangs on it */
    double slope_rad;      /* FE_SURVEY_SLOPE */
    double known_m;        /* height of this point from elsewhere, taken as exact */
    double error_m;        /* standard deviation of what this row adds, in place of ours */
} fe_survey_row;

typedef struct fe_survey_list {
    fe_survey_distance distance;
    fe_survey_height height;
    const fe_survey_row *rows;
    size_t count; /* 2 or more */
} fe_survey_list;

/*
 * What hand tools give, standard deviations. Common practice, no source: a line level on a
 * string 2 cm a leg, a staff read through a builder's level 3 mm a reading, a hand-held slope
 * meter half a degree, a stride 5 %, a height of a list without method 5 cm.
 */
#define FE_SURVEY_HEIGHT_SIGMA_M 0.05
#define FE_SURVEY_RISE_SIGMA_M 0.02
#define FE_SURVEY_READING_SIGMA_M 0.003
#define FE_SURVEY_SLOPE_SIGMA_RAD 0.0087
#define FE_SURVEY_STRIDE_SIGMA 0.05

/* A closing error of more standard deviations than this is a blunder, not a spread. */
#define FE_SURVEY_BLUNDER 3.0

typedef struct fe_survey {
    fe_profile profile;     /* with height_error_m, relative to the first point */
    bool closes;            /* the list returns to its start or meets known heights */
    double closing_error_m; /* the largest found minus wanted; NAN where it does not close */
    double closing_sigma_m; /* what such readings should close within; NAN likewise */
    double closing_row;     /* row (from 0) at which that was found; NAN likewise */
    double walked_m;        /* horizontal, forth and back */
    double largest_error_m; /* of the profile's heights */
} fe_survey;

/*
 * Reduces a list.
 *   survey      result, profile to be freed; untouched on error
 *   bad_row     row (from 0) that the error is about, count where it is about the whole
 *
 * FE_OK
 * FE_W_RANGE   result set, but the closing error is beyond FE_SURVEY_BLUNDER standard
 *              deviations: a reading is wrong. The errors are raised to match.
 * FE_E_DOMAIN  a row lacks a value its method needs, a value is not finite, a slope is not
 *              within 60 degrees, a rise is longer than its leg along the ground, the level has
 *              no backsight before a foresight, fewer than two different distances
 * FE_E_MEMORY
 *
 * Sources: height of instrument method, common practice, no source; spreading and the errors
 * after it derived here: least squares on one line of independent legs.
 */
FE_MUST_CHECK fe_status fe_survey_reduce(const fe_survey_list *list, fe_survey *survey,
                                         size_t *bad_row);
void fe_survey_free(fe_survey *survey);

/*
 * Reads and reduces a CSV whose header names quantities with their unit in brackets:
 * `distance [m]`, `leg [ft]`, `tape [m]` or `strides` with `stride [m]`; and `height [m]`,
 * `rise [cm]`, `backsight [m]` with `foresight [m]` and perhaps `intermediate [m]`, or
 * `slope [deg]` (`[%]`); perhaps `known [m]`, `error [m]` and `note`. Every mistake goes to
 * the list; `list` (null: not wanted) gets the methods, without rows.
 *
 * FE_OK, FE_W_RANGE  as above
 * FE_E_INPUT   the list of messages says what is wrong; nothing is set
 * FE_E_IO      the file cannot be read; the messages say so too
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_survey_read(const char *path, fe_survey *survey,
                                       fe_survey_list *list, fe_messages *messages);

/* "staff readings", "slope angles"; never null. */
const char *fe_survey_height_name(fe_survey_height height);
const char *fe_survey_distance_name(fe_survey_distance distance);

#endif
