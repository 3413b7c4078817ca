/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/height_error.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/argument.h"
#include "farend/fresnel.h"

enum { MOST_PLACES = 8 };

/* A place counts where the ground comes within this many radii of the line. */
static const double TIGHT_RATIO = 1.0;

static fe_status allowed_at(double length_m, double distance_m, double f_hz, double *allowed_m)
{
    const double end_m = FE_HEIGHT_ERROR_END_SHARE * length_m;
    const double at_m = fmin(fmax(distance_m, end_m), length_m - end_m);
    double radius_m = 0.0;
    const fe_status status = fe_fresnel_radius(1, at_m, length_m - at_m, f_hz, &radius_m);
    if (status >= 0)
        *allowed_m = FE_HEIGHT_ERROR_GOOD_SHARE * radius_m;
    return status;
}

/* Length that a point stands for: half-way to its neighbours. */
static double stretch_of(const fe_profile *profile, size_t i)
{
    const double from_m = profile->distance_m[i > 0 ? i - 1 : i];
    const double to_m = profile->distance_m[i + 1 < profile->count ? i + 1 : i];
    return (to_m - from_m) / 2.0;
}

fe_status fe_height_error_judge(const fe_profile *profile, double f_hz, bool *coarse,
                                fe_height_judgement *judgement)
{
    if (profile->count < 2 || !profile->height_error_m)
        return FE_E_DOMAIN;
    const double length_m = fe_profile_length(profile);
    fe_height_judgement found = {0};
    /* Close to an end the zone is only wider than the formula says: no fault of the judgement.
     */
    if (allowed_at(length_m, length_m / 2.0, f_hz, &found.allowed_mid_m) < 0 ||
        allowed_at(length_m, 0.0, f_hz, &found.allowed_end_m) < 0)
        return FE_E_DOMAIN;
    for (size_t i = 0; i < profile->count; i++) {
        const double error_m = profile->height_error_m[i];
        double allowed_m = 0.0;
        if (!is_at_least_zero(error_m) ||
            allowed_at(length_m, profile->distance_m[i], f_hz, &allowed_m) < 0)
            return FE_E_DOMAIN;
        const bool is_coarse = error_m > allowed_m;
        if (coarse)
            coarse[i] = is_coarse;
        found.worst_error_m = fmax(found.worst_error_m, error_m);
        found.coarse += is_coarse;
        found.coarse_share += is_coarse ? stretch_of(profile, i) / length_m : 0.0;
    }
    *judgement = found;
    return FE_OK;
}

/* ---- Tight places ---- */

typedef struct place {
    size_t first; /* points that move together */
    size_t tight;
    size_t last;
    double ratio; /* clearance in radii of the first zone */
} place;

typedef struct place_list {
    place items[MOST_PLACES]; /* the tightest, in no order */
    size_t count;
} place_list;

static double line_share(const fe_diffraction_path *path, size_t i)
{
    return (path->d_m[i] - path->d_m[0]) / (path->d_m[path->n - 1] - path->d_m[0]);
}

static double clearance_ratio(const fe_diffraction_path *path, const fe_diffraction_wave *wave,
                              size_t i)
{
    const double share = line_share(path, i);
    const double d1_m = path->d_m[i] - path->d_m[0];
    const double d2_m = path->d_m[path->n - 1] - path->d_m[i];
    const double line_m = path->antenna1_m + share * (path->antenna2_m - path->antenna1_m);
    const double top_m = path->h_m[i] + (path->clutter_m ? path->clutter_m[i] : 0.0);
    const double lambda_m = wave->c_m_s / wave->f_hz;
    return (line_m - top_m - d1_m * d2_m / (2.0 * wave->ae_m)) /
           sqrt(lambda_m * d1_m * d2_m / (d1_m + d2_m));
}

static void keep_tightest(place_list *list, place found)
{
    if (list->count < MOST_PLACES) {
        list->items[list->count++] = found;
        return;
    }
    size_t widest = 0;
    for (size_t k = 1; k < MOST_PLACES; k++)
        if (list->items[k].ratio > list->items[widest].ratio)
            widest = k;
    if (found.ratio < list->items[widest].ratio)
        list->items[widest] = found;
}

/* Every least of the ratio between two greatest is a place. */
static void find_places(const fe_diffraction_path *path, const fe_diffraction_wave *wave,
                        place_list *list)
{
    place open = {1, 1, 1, INFINITY};
    double before = INFINITY;
    bool rising = false;
    for (size_t i = 1; i + 1 < path->n; i++) {
        const double ratio = clearance_ratio(path, wave, i);
        if (ratio < before && rising) {
            open.last = i - 1;
            if (open.ratio < TIGHT_RATIO)
                keep_tightest(list, open);
            open = (place){i, i, i, INFINITY};
        }
        rising = ratio > before || (rising && ratio == before);
        if (ratio < open.ratio) {
            open.tight = i;
            open.ratio = ratio;
        }
        before = ratio;
    }
    open.last = path->n - 2;
    if (open.ratio < TIGHT_RATIO)
        keep_tightest(list, open);
}

static size_t tightest_point(const fe_diffraction_path *path, const fe_diffraction_wave *wave)
{
    size_t tightest = 1;
    double least = INFINITY;
    for (size_t i = 1; i + 1 < path->n; i++) {
        const double ratio = clearance_ratio(path, wave, i);
        if (ratio < least) {
            least = ratio;
            tightest = i;
        }
    }
    return tightest;
}

/* ---- Differences ---- */

typedef struct trial {
    const fe_diffraction_path *path;
    const double *error_m;
    const fe_diffraction_wave *wave;
    double *h_m; /* heights moved */
} trial;

/* Loss with points first..last and perhaps an antenna moved by `times` their errors. */
static fe_status loss_moved(const trial *work, size_t first, size_t last, double times,
                            double *loss_db)
{
    const fe_diffraction_path *path = work->path;
    fe_diffraction_path moved = *path;
    memcpy(work->h_m, path->h_m, path->n * sizeof *work->h_m);
    for (size_t i = first; i <= last; i++)
        work->h_m[i] += times * work->error_m[i];
    moved.h_m = work->h_m;
    if (first == 0)
        moved.antenna1_m += times * work->error_m[0];
    if (last == path->n - 1)
        moved.antenna2_m += times * work->error_m[last];
    fe_delta_bullington over;
    const fe_status status = fe_delta_bullington_loss(&moved, work->wave, &over);
    if (status >= 0)
        *loss_db = over.loss_db;
    return status;
}

static fe_status add_difference(const trial *work, size_t first, size_t last, double *variance)
{
    double up_db = 0.0;
    double down_db = 0.0;
    fe_status status = loss_moved(work, first, last, 1.0, &up_db);
    if (status >= 0)
        status = fe_status_worse(status, loss_moved(work, first, last, -1.0, &down_db));
    if (status >= 0)
        *variance += (up_db - down_db) * (up_db - down_db) / 4.0;
    return status;
}

static double clearance_sigma(const fe_diffraction_path *path, const double *error_m, size_t at)
{
    const double share = line_share(path, at);
    return hypot(error_m[at], hypot((1.0 - share) * error_m[0], share * error_m[path->n - 1]));
}

fe_status fe_height_error_spread(const fe_diffraction_path *path, const double *height_error_m,
                                 const fe_diffraction_wave *wave, fe_height_spread *spread)
{
    if (path->n < 3)
        return FE_E_DOMAIN;
    for (size_t i = 0; i < path->n; i++)
        if (!is_at_least_zero(height_error_m[i]))
            return FE_E_DOMAIN;
    /* Also the check of everything else that was given. */
    fe_delta_bullington over;
    fe_status status = fe_delta_bullington_loss(path, wave, &over);
    if (status < 0)
        return status;

    trial work = {path, height_error_m, wave, malloc(path->n * sizeof *work.h_m)};
    if (!work.h_m)
        return FE_E_MEMORY;
    place_list places = {.count = 0};
    double variance = 0.0;
    find_places(path, wave, &places);
    for (size_t k = 0; k < places.count && status >= 0; k++)
        status = fe_status_worse(status, add_difference(&work, places.items[k].first,
                                                        places.items[k].last, &variance));
    if (status >= 0)
        status = fe_status_worse(status, add_difference(&work, 0, 0, &variance));
    if (status >= 0)
        status =
            fe_status_worse(status, add_difference(&work, path->n - 1, path->n - 1, &variance));
    free(work.h_m);
    if (status >= 0)
        *spread = (fe_height_spread){
            clearance_sigma(path, height_error_m, tightest_point(path, wave)), sqrt(variance),
            places.count};
    return status;
}
