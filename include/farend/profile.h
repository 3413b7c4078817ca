/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PROFILE_H
#define FAREND_PROFILE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/message.h"
#include "farend/status.h"
#include "farend/strbuf.h"

/*
 * The ground along a path, from one end to the other: horizontal distance and height at points
 * in rising order. Bare ground, without snow, crop or trees; a season adds those.
 */
typedef struct fe_profile {
    size_t count;           /* 2 or more */
    double *distance_m;     /* strictly rising, first 0 */
    double *height_m;       /* above any one datum */
    double *height_error_m; /* standard deviation of each height; null: not known */
    double *clutter_m;      /* trees and roofs above the ground, >= 0; null: not known */
} fe_profile;

enum { FE_PROFILE_MOST_POINTS = 1000000 };

/* Beyond these a height is in another unit than metres. */
#define FE_PROFILE_LOWEST_M (-500.0)
#define FE_PROFILE_HIGHEST_M 9000.0

/*
 * Reads a CSV with the columns distance_m and height_m, and height_error_m and clutter_m where
 * it has them (others are ignored, '#' starts a comment). Every mistake goes to the list.
 *
 * FE_E_INPUT   the list says what is wrong; nothing is set
 * FE_E_IO      the file cannot be read; the list says so too
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_profile_read(const char *path, fe_profile *profile,
                                        fe_messages *messages);

/*
 * Appends the profile as the CSV that fe_profile_read takes: each line of `comments` (null:
 * none) after a '#', then the table, heights in millimetres. `marks` is null or has a word for
 * each point for a last column `mark`.
 */
void fe_profile_print(const fe_profile *profile, const char *comments, const char *const *marks,
                      fe_strbuf *out);

/*
 * Room for count points, all zero, with height_error_m and clutter_m where asked.
 * FE_E_DOMAIN  count is not from 2 to FE_PROFILE_MOST_POINTS
 */
FE_MUST_CHECK fe_status fe_profile_new(size_t count, bool with_error, bool with_clutter,
                                       fe_profile *profile);

/*
 * The routines that follow make a profile to be freed, untouched on error: FE_OK; FE_E_DOMAIN
 * where an argument is out of its range, the profile given has fewer than two points, or the one
 * asked for more than FE_PROFILE_MOST_POINTS; FE_E_MEMORY.
 */

/*
 * Even ground from one height to another.
 *   length_m  > 0
 *   rise_m    of the end over the start
 *   step_m    between points, at most; > 0
 */
FE_MUST_CHECK fe_status fe_profile_even(double length_m, double rise_m, double step_m,
                                        fe_profile *profile);

/* The same points. */
FE_MUST_CHECK fe_status fe_profile_copy(const fe_profile *profile, fe_profile *copy);

/* The same ground with points at most step_m (> 0) apart; the points given stay. */
FE_MUST_CHECK fe_status fe_profile_refine(const fe_profile *profile, double step_m,
                                          fe_profile *refined);

/* The same ground walked from the other end. */
FE_MUST_CHECK fe_status fe_profile_reverse(const fe_profile *profile, fe_profile *reversed);

/* The part between two distances, whose own start is 0; 0 <= from_m < to_m <= length. */
FE_MUST_CHECK fe_status fe_profile_cut(const fe_profile *profile, double from_m, double to_m,
                                       fe_profile *part);

void fe_profile_free(fe_profile *profile);

/* Horizontal length. */
double fe_profile_length(const fe_profile *profile);

/* Length along the ground, as a buried or walked cable follows it. */
double fe_profile_ground_length(const fe_profile *profile);

/*
 * Height by straight lines between the points; outside the profile that of the nearer end. NAN
 * for a profile without points, or a distance that is none.
 */
double fe_profile_height_at(const fe_profile *profile, double distance_m);

/* Index of the first point farther than a distance; the count where there is none. */
size_t fe_profile_first_beyond(const fe_profile *profile, double distance_m);

#endif
