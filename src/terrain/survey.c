/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/survey.h"

#include <math.h>
#include <stdlib.h>

/* Nobody walks, let alone measures, a steeper stretch. */
static const double STEEPEST_RAD = 1.0472;

/* Two points this close are one: a peg, met again. */
static const double SAME_PEG_M = 0.01;

/* One point while it is worked on. */
typedef struct peg {
    double distance_m;
    double height_m;
    double variance_m2; /* gathered since the first point, along the legs */
    double side_m2;     /* of this point alone: no other hangs on it */
    double fixed_m;     /* height it must come out at; NAN: none */
} peg;

typedef struct reduction {
    const fe_survey_list *list;
    peg *pegs;
    double closing_m;
    double closing_sigma_m;
    double closing_row;
    double walked_m;
    double scale; /* of all errors, where the closing error shows them too small */
} reduction;

static double square(double value)
{
    return value * value;
}

/* ---- Legs ---- */

/* Horizontal part and rise of a leg along the ground. */
static bool leg_along_ground(const fe_survey_list *list, const fe_survey_row *row,
                             double rise_m, double *across_m)
{
    if (list->height == FE_SURVEY_SLOPE) {
        *across_m = row->leg_m * cos(row->slope_rad);
        return true;
    }
    if (!(fabs(rise_m) < fabs(row->leg_m)))
        return false;
    *across_m = copysign(sqrt(square(row->leg_m) - square(rise_m)), row->leg_m);
    return true;
}

/* How far the point lies from the one before; needs the rise where the tape followed it. */
static bool find_distance(const fe_survey_list *list, size_t i, double rise_m, peg *pegs)
{
    const fe_survey_row *row = &list->rows[i];
    double across_m = row->leg_m;
    if (list->distance == FE_SURVEY_FROM_START) {
        pegs[i].distance_m = row->distance_m;
        return isfinite(row->distance_m);
    }
    if (i == 0) {
        pegs[0].distance_m = 0.0;
        return true;
    }
    if (!isfinite(row->leg_m) || row->leg_m == 0.0)
        return false;
    if (list->distance != FE_SURVEY_LEG && !leg_along_ground(list, row, rise_m, &across_m))
        return false;
    pegs[i].distance_m = pegs[i - 1].distance_m + across_m;
    return true;
}

/* Variance that a leg adds: the row's own error, or what its method gives. */
static double leg_variance(const fe_survey_list *list, size_t i, double across_m, double rise_m)
{
    const fe_survey_row *row = &list->rows[i];
    if (isfinite(row->error_m))
        return square(row->error_m);
    double variance_m2 = 0.0;
    if (list->height == FE_SURVEY_RISE)
        variance_m2 = square(FE_SURVEY_RISE_SIGMA_M);
    if (list->height == FE_SURVEY_SLOPE) {
        /* d(L sin a) = L cos a where L was taped, d(D tan a) = D / cos2 a where D is level. */
        const bool level =
            list->distance == FE_SURVEY_FROM_START || list->distance == FE_SURVEY_LEG;
        const double lever_m = level ? across_m / square(cos(row->slope_rad)) : across_m;
        variance_m2 = square(lever_m * FE_SURVEY_SLOPE_SIGMA_RAD);
        if (list->distance == FE_SURVEY_STRIDES)
            variance_m2 += square(FE_SURVEY_STRIDE_SIGMA * rise_m);
    }
    return variance_m2;
}

/* ---- The four ways to a height ---- */

static bool by_height(const fe_survey_list *list, size_t i, peg *pegs)
{
    const fe_survey_row *row = &list->rows[i];
    if (!isfinite(row->height_m))
        return false;
    pegs[i].height_m = row->height_m;
    pegs[i].side_m2 = square(isfinite(row->error_m) ? row->error_m : FE_SURVEY_HEIGHT_SIGMA_M);
    return find_distance(list, i, i ? row->height_m - pegs[i - 1].height_m : 0.0, pegs);
}

/* Rises and slopes: each point hangs on the one before. */
static bool by_leg(const fe_survey_list *list, size_t i, peg *pegs)
{
    const fe_survey_row *row = &list->rows[i];
    const bool slopes = list->height == FE_SURVEY_SLOPE;
    if (i == 0) {
        pegs[0].height_m = isfinite(row->known_m) ? row->known_m : 0.0;
        return find_distance(list, 0, 0.0, pegs);
    }
    if (slopes && !(fabs(row->slope_rad) <= STEEPEST_RAD))
        return false;
    if (!slopes && !isfinite(row->rise_m))
        return false;
    if (!find_distance(list, i, slopes ? 0.0 : row->rise_m, pegs))
        return false;
    const double across_m = pegs[i].distance_m - pegs[i - 1].distance_m;
    /* The angle was read in the direction walked, also on the way back. */
    const double rise_m = slopes ? fabs(across_m) * tan(row->slope_rad) : row->rise_m;
    pegs[i].height_m = pegs[i - 1].height_m + rise_m;
    pegs[i].variance_m2 = pegs[i - 1].variance_m2 + leg_variance(list, i, across_m, rise_m);
    return true;
}

/* The level where it stands: height of its line of sight, and how well that is known. */
typedef struct instrument {
    bool set_up;
    double height_m;
    double variance_m2;
} instrument;

static double reading_variance(const fe_survey_row *row)
{
    return square(isfinite(row->error_m) ? row->error_m : FE_SURVEY_READING_SIGMA_M);
}

/*
 * Height of the line of sight is the point's height plus the backsight on it; a later point is
 * that less the reading on it. A change point has both: its foresight comes first.
 */
static bool by_staff(const fe_survey_list *list, size_t i, instrument *level, peg *pegs)
{
    const fe_survey_row *row = &list->rows[i];
    const bool fore = isfinite(row->foresight_m);
    const bool between = isfinite(row->intermediate_m);
    const bool back = isfinite(row->backsight_m);
    if (i == 0)
        pegs[0].height_m = isfinite(row->known_m) ? row->known_m : 0.0;
    if (fore == between && i > 0) /* one of both, and no more */
        return false;
    if ((i == 0 && (fore || between || !back)) || (between && back) ||
        (i > 0 && !level->set_up))
        return false;
    if (i > 0) {
        pegs[i].height_m = level->height_m - (fore ? row->foresight_m : row->intermediate_m);
        pegs[i].variance_m2 = level->variance_m2;
        if (fore)
            pegs[i].variance_m2 += reading_variance(row);
        else
            pegs[i].side_m2 = reading_variance(row);
    }
    if (fore)
        level->set_up = false;
    if (back)
        *level = (instrument){true, pegs[i].height_m + row->backsight_m,
                              pegs[i].variance_m2 + reading_variance(row)};
    return find_distance(list, i, i ? pegs[i].height_m - pegs[i - 1].height_m : 0.0, pegs);
}

static bool walk(reduction *work, size_t *bad_row)
{
    const fe_survey_list *list = work->list;
    instrument level = {0};
    for (size_t i = 0; i < list->count; i++) {
        peg *const pegs = work->pegs;
        pegs[i].fixed_m = list->rows[i].known_m;
        bool good = false;
        if (list->height == FE_SURVEY_HEIGHT)
            good = by_height(list, i, pegs);
        else if (list->height == FE_SURVEY_STAFF)
            good = by_staff(list, i, &level, pegs);
        else
            good = by_leg(list, i, pegs);
        if (!good || !isfinite(pegs[i].height_m + pegs[i].distance_m)) {
            *bad_row = i;
            return false;
        }
        if (i > 0)
            work->walked_m += fabs(pegs[i].distance_m - pegs[i - 1].distance_m);
    }
    return true;
}

/* ---- Closing ---- */

/* A list that ends where it began is closed by its own start. */
static void fix_return(reduction *work)
{
    peg *const pegs = work->pegs;
    const size_t last = work->list->count - 1;
    if (last < 2 || isfinite(pegs[last].fixed_m) ||
        work->list->distance != FE_SURVEY_FROM_START)
        return;
    if (fabs(pegs[last].distance_m - pegs[0].distance_m) < SAME_PEG_M)
        pegs[last].fixed_m = pegs[0].height_m;
}

/* Variance between two points: of the legs, or where there are none of both readings. */
static double variance_between(const peg *from, const peg *to)
{
    return to->variance_m2 - from->variance_m2 + from->side_m2 + to->side_m2;
}

/*
 * Brings one stretch between two fixed points onto them. Least squares gives each leg its
 * share of variance; a height list has no legs and drifts with the way walked.
 */
static void spread_stretch(reduction *work, size_t from, size_t to)
{
    peg *const pegs = work->pegs;
    const double start_m2 = pegs[from].variance_m2;
    const double all_m2 = pegs[to].variance_m2 - start_m2;
    const double error_m = pegs[to].height_m - pegs[to].fixed_m;
    double way_m = 0.0;
    double all_way_m = 0.0;
    for (size_t i = from + 1; i <= to; i++)
        all_way_m += fabs(pegs[i].distance_m - pegs[i - 1].distance_m);
    for (size_t i = from + 1; i <= to; i++) {
        way_m += fabs(pegs[i].distance_m - pegs[i - 1].distance_m);
        const double gathered_m2 = pegs[i].variance_m2 - start_m2;
        const double share = all_m2 > 0.0      ? gathered_m2 / all_m2
                             : all_way_m > 0.0 ? way_m / all_way_m
                                               : 1.0;
        pegs[i].height_m -= share * error_m;
        /* Tied down at both ends the error is largest half-way: the bridge of a random walk. */
        pegs[i].variance_m2 = start_m2 + gathered_m2 * (1.0 - share);
    }
}

/* What lies beyond a fixed point moves with it. */
static void shift_rest(reduction *work, size_t after, double shift_m, double less_m2)
{
    for (size_t i = after + 1; i < work->list->count; i++) {
        work->pegs[i].height_m += shift_m;
        work->pegs[i].variance_m2 -= less_m2;
    }
}

static void note_closing(reduction *work, size_t row, double error_m, double sigma_m)
{
    const double ratio = sigma_m > 0.0 ? fabs(error_m) / sigma_m : 0.0;
    work->scale = fmax(work->scale, ratio);
    if (isfinite(work->closing_m) && fabs(error_m) <= fabs(work->closing_m))
        return;
    work->closing_m = error_m;
    work->closing_sigma_m = sigma_m;
    work->closing_row = (double)row;
}

static void close_all(reduction *work)
{
    peg *const pegs = work->pegs;
    size_t from = 0;
    fix_return(work);
    if (isfinite(pegs[0].fixed_m) && work->list->height == FE_SURVEY_HEIGHT)
        shift_rest(work, 0, pegs[0].fixed_m - pegs[0].height_m, 0.0);
    if (isfinite(pegs[0].fixed_m))
        pegs[0].height_m = pegs[0].fixed_m;
    for (size_t i = 1; i < work->list->count; i++) {
        if (!isfinite(pegs[i].fixed_m))
            continue;
        const double error_m = pegs[i].height_m - pegs[i].fixed_m;
        const double gathered_m2 = pegs[i].variance_m2 - pegs[from].variance_m2;
        note_closing(work, i, error_m, sqrt(variance_between(&pegs[from], &pegs[i])));
        spread_stretch(work, from, i);
        shift_rest(work, i, -error_m, gathered_m2);
        pegs[i].side_m2 = 0.0;
        from = i;
    }
}

/* ---- The profile ---- */

static int compare_pegs(const void *a, const void *b)
{
    const double left_m = ((const peg *)a)->distance_m;
    const double right_m = ((const peg *)b)->distance_m;
    return (left_m > right_m) - (left_m < right_m);
}

/* Pegs met more than once become their mean; returns how many are left. */
static size_t merge_pegs(peg *pegs, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count;) {
        size_t beyond = i;
        double height_m = 0.0;
        double variance_m2 = 0.0;
        while (beyond < count && pegs[beyond].distance_m - pegs[i].distance_m < SAME_PEG_M) {
            height_m += pegs[beyond].height_m;
            /* No better than the best of them: forth and back share their readings' faults. */
            const double own_m2 = pegs[beyond].variance_m2 + pegs[beyond].side_m2;
            variance_m2 = beyond == i ? own_m2 : fmin(variance_m2, own_m2);
            beyond++;
        }
        pegs[kept++] = (peg){.distance_m = pegs[i].distance_m,
                             .height_m = height_m / (double)(beyond - i),
                             .variance_m2 = variance_m2};
        i = beyond;
    }
    return kept;
}

static fe_status make_profile(reduction *work, fe_survey *survey)
{
    peg *const pegs = work->pegs;
    qsort(pegs, work->list->count, sizeof *pegs, compare_pegs);
    const size_t count = merge_pegs(pegs, work->list->count);
    fe_profile made = {0};
    const fe_status status = fe_profile_new(count, true, false, &made);
    if (status != FE_OK)
        return status;
    const double scale = fmax(1.0, work->scale);
    for (size_t i = 0; i < count; i++) {
        made.distance_m[i] = pegs[i].distance_m - pegs[0].distance_m;
        made.height_m[i] = pegs[i].height_m;
        made.height_error_m[i] = scale * sqrt(fmax(0.0, pegs[i].variance_m2));
        survey->largest_error_m = fmax(survey->largest_error_m, made.height_error_m[i]);
    }
    survey->profile = made;
    return FE_OK;
}

fe_status fe_survey_reduce(const fe_survey_list *list, fe_survey *survey, size_t *bad_row)
{
    *bad_row = list->count;
    if (list->count < 2 || list->count > FE_PROFILE_MOST_POINTS)
        return FE_E_DOMAIN;
    reduction work = {
        .list = list, .closing_m = NAN, .closing_sigma_m = NAN, .closing_row = NAN};
    work.pegs = calloc(list->count, sizeof *work.pegs);
    if (!work.pegs)
        return FE_E_MEMORY;
    fe_survey made = {0};
    fe_status status = FE_E_DOMAIN;
    if (walk(&work, bad_row)) {
        close_all(&work);
        status = make_profile(&work, &made);
    }
    free(work.pegs);
    if (status < 0)
        return status;
    made.closes = isfinite(work.closing_m);
    made.closing_error_m = work.closing_m;
    made.closing_sigma_m = work.closing_sigma_m;
    made.closing_row = work.closing_row;
    made.walked_m = work.walked_m;
    *survey = made;
    return work.scale > FE_SURVEY_BLUNDER ? FE_W_RANGE : FE_OK;
}

void fe_survey_free(fe_survey *survey)
{
    fe_profile_free(&survey->profile);
    *survey = (fe_survey){0};
}

const char *fe_survey_height_name(fe_survey_height height)
{
    static const char *const NAMES[] = {
        [FE_SURVEY_HEIGHT] = "heights",
        [FE_SURVEY_RISE] = "rises from point to point",
        [FE_SURVEY_STAFF] = "staff readings",
        [FE_SURVEY_SLOPE] = "slope angles",
    };
    return NAMES[height];
}

const char *fe_survey_distance_name(fe_survey_distance distance)
{
    static const char *const NAMES[] = {
        [FE_SURVEY_FROM_START] = "distances from the start",
        [FE_SURVEY_LEG] = "level legs",
        [FE_SURVEY_TAPE] = "tape along the ground",
        [FE_SURVEY_STRIDES] = "strides",
    };
    return NAMES[distance];
}
