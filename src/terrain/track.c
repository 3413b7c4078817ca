/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/track.h"

#include <math.h>
#include <stdlib.h>

#include "base/argument.h"

static const double SHORTEST_M = 2.0;

/* Points this close along the line are one. */
static const double SAME_M = 1.0;

typedef struct spot {
    double along_m;
    double height_m;
} spot;

static int compare_spots(const void *a, const void *b)
{
    const double left_m = ((const spot *)a)->along_m;
    const double right_m = ((const spot *)b)->along_m;
    return (left_m > right_m) - (left_m < right_m);
}

/* Index of the far end: the last point, or the farthest where the walk came back. */
static fe_status find_end(const fe_track_point *points, size_t count, size_t first, size_t last,
                          size_t *end, fe_geodesic *line, bool *came_back)
{
    fe_geodesic farthest = {0.0, 0.0};
    fe_geodesic whole = {0.0, 0.0};
    *end = last;
    for (size_t i = first; i < count; i++) {
        fe_geodesic here;
        if (!isfinite(points[i].height_m))
            continue;
        const fe_status status = fe_geodesic_between(&points[first].at, &points[i].at, &here);
        if (status < 0)
            return status;
        if (here.length_m > farthest.length_m) {
            farthest = here;
            *end = i;
        }
        if (i == last)
            whole = here;
    }
    *came_back = whole.length_m < farthest.length_m / 2.0;
    *line = *came_back ? farthest : whole;
    if (!*came_back)
        *end = last;
    return FE_OK;
}

/* Puts every point with a height onto the line; those beyond its ends are left out. */
static fe_status project(const fe_track_point *points, size_t count, size_t first,
                         const fe_geodesic *line, spot *spots, fe_track *made)
{
    for (size_t i = 0; i < count; i++) {
        fe_geodesic here;
        if (!isfinite(points[i].height_m))
            continue;
        const fe_status status = fe_geodesic_between(&points[first].at, &points[i].at, &here);
        if (status < 0)
            return status;
        const double off_rad = here.azimuth_rad - line->azimuth_rad;
        const double along_m = here.length_m * cos(off_rad);
        if (along_m < -SAME_M / 2.0 || along_m > line->length_m + SAME_M / 2.0)
            continue;
        made->stray_m = fmax(made->stray_m, fabs(here.length_m * sin(off_rad)));
        spots[made->used++] = (spot){along_m, points[i].height_m};
    }
    return FE_OK;
}

/* Averages what is close together; returns how many are left. */
static size_t merge_spots(spot *spots, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count;) {
        spot sum = {0.0, 0.0};
        size_t beyond = i;
        for (; beyond < count && spots[beyond].along_m - spots[i].along_m < SAME_M; beyond++) {
            sum.along_m += spots[beyond].along_m;
            sum.height_m += spots[beyond].height_m;
        }
        const double n = (double)(beyond - i);
        spots[kept++] = (spot){sum.along_m / n, sum.height_m / n};
        i = beyond;
    }
    return kept;
}

static fe_status make_profile(spot *spots, const fe_geodesic *line, double height_sigma_m,
                              fe_track *made)
{
    qsort(spots, made->used, sizeof *spots, compare_spots);
    const size_t count = merge_spots(spots, made->used);
    const fe_status status = fe_profile_new(count, true, false, &made->profile);
    if (status != FE_OK)
        return status == FE_E_DOMAIN ? FE_E_NO_SOLUTION : status;
    fe_profile *profile = &made->profile;
    for (size_t i = 0; i < count; i++) {
        profile->distance_m[i] = spots[i].along_m;
        profile->height_m[i] = spots[i].height_m;
        profile->height_error_m[i] = height_sigma_m;
    }
    /* Averaging moved the ends by less than what makes points one. */
    profile->distance_m[0] = 0.0;
    profile->distance_m[count - 1] = line->length_m;
    return FE_OK;
}

fe_status fe_track_reduce(const fe_track_point *points, size_t count, double height_sigma_m,
                          fe_track *track)
{
    if (!is_at_least_zero(height_sigma_m))
        return FE_E_DOMAIN;
    fe_track made = {0};
    size_t first = count;
    size_t last = 0;
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(points[i].height_m)) {
            made.without_height++;
            continue;
        }
        first = first == count ? i : first;
        last = i;
    }
    if (first >= last)
        return FE_E_NO_SOLUTION;

    fe_geodesic line;
    size_t end = last;
    fe_status status = find_end(points, count, first, last, &end, &line, &made.came_back);
    if (status < 0)
        return status;
    if (line.length_m < SHORTEST_M)
        return FE_E_NO_SOLUTION;
    spot *spots = calloc(count, sizeof *spots);
    if (!spots)
        return FE_E_MEMORY;
    status = project(points, count, first, &line, spots, &made);
    if (status >= 0)
        status = make_profile(spots, &line, height_sigma_m, &made);
    free(spots);
    if (status < 0)
        return status;
    made.bearing_rad = line.azimuth_rad;
    *track = made;
    return FE_OK;
}

void fe_track_free(fe_track *track)
{
    fe_profile_free(&track->profile);
    *track = (fe_track){0};
}
