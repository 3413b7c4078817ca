/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/spread.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

static const double WIDEST_DB = 100.0;
static const double WIDEST_SIGMA_DB = 30.0;
/* A normal loses 6e-5 of its mass beyond this; the rest is scaled up to one. */
static const double NORMAL_CUT = 4.0;
/* Mass that may be dropped at either end of a sum. */
static const double TAIL = 5e-10;

static double cell_loss(const fe_spread *spread, size_t cell)
{
    return (double)(spread->first + (long)cell) * FE_SPREAD_STEP_DB;
}

static long nearest_cell(double loss_db)
{
    return lround(loss_db / FE_SPREAD_STEP_DB);
}

static void scale_to_one(fe_spread *spread)
{
    double sum = 0.0;
    for (size_t i = 0; i < spread->count; i++)
        sum += spread->share[i];
    for (size_t i = 0; i < spread->count; i++)
        spread->share[i] /= sum;
}

fe_status fe_spread_exact(double loss_db, fe_spread *spread)
{
    if (!(fabs(loss_db) <= WIDEST_DB))
        return FE_E_DOMAIN;
    spread->first = nearest_cell(loss_db);
    spread->count = 1;
    spread->share[0] = 1.0;
    return FE_OK;
}

fe_status fe_spread_normal(double mean_db, double sigma_db, fe_spread *spread)
{
    if (!(fabs(mean_db) <= WIDEST_DB) || !(sigma_db >= 0.0) || sigma_db > WIDEST_SIGMA_DB)
        return FE_E_DOMAIN;
    if (sigma_db < FE_SPREAD_STEP_DB / 4.0)
        return fe_spread_exact(mean_db, spread);

    spread->first = nearest_cell(mean_db - NORMAL_CUT * sigma_db);
    spread->count = (size_t)(nearest_cell(mean_db + NORMAL_CUT * sigma_db) - spread->first) + 1;
    for (size_t i = 0; i < spread->count; i++) {
        const double from = cell_loss(spread, i) - FE_SPREAD_STEP_DB / 2.0 - mean_db;
        spread->share[i] = gsl_cdf_gaussian_P(from + FE_SPREAD_STEP_DB, sigma_db) -
                           gsl_cdf_gaussian_P(from, sigma_db);
    }
    scale_to_one(spread);
    return FE_OK;
}

/*
 * Mass of each cell from 0 up for a loss never below zero, given the chance that it is at most
 * x. Cell 0 holds what lies below half a step.
 */
static void fill_from_chance(double (*chance)(double x_db, double parameter), double parameter,
                             size_t count, fe_spread *spread)
{
    spread->first = 0;
    spread->count = count;
    double below = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double here = chance(((double)i + 0.5) * FE_SPREAD_STEP_DB, parameter);
        spread->share[i] = here - below;
        below = here;
    }
}

static double half_normal_chance(double x_db, double sigma_db)
{
    return 1.0 - 2.0 * gsl_cdf_gaussian_Q(x_db, sigma_db);
}

fe_status fe_spread_half_normal(double sigma_db, fe_spread *spread)
{
    if (!(sigma_db >= 0.0) || sigma_db > WIDEST_SIGMA_DB)
        return FE_E_DOMAIN;
    if (sigma_db < FE_SPREAD_STEP_DB / 4.0)
        return fe_spread_exact(0.0, spread);
    const size_t count = (size_t)nearest_cell(NORMAL_CUT * sigma_db) + 1;
    fill_from_chance(half_normal_chance, sigma_db, count, spread);
    scale_to_one(spread);
    return FE_OK;
}

/* 12 share^2 z^2 with z standard normal: at most x with the chance that |z| is small enough. */
static double axis_chance(double x_db, double share)
{
    return 1.0 - 2.0 * gsl_cdf_ugaussian_Q(sqrt(x_db / 12.0) / share);
}

static fe_status axis_loss(double share, double floor_db, fe_spread *spread)
{
    if (share < 1e-3)
        return fe_spread_exact(0.0, spread);
    const size_t count = (size_t)nearest_cell(floor_db) + 1;
    fill_from_chance(axis_chance, share, count, spread);
    /* What lies beyond the floor is at the floor. */
    spread->share[count - 1] +=
        1.0 - axis_chance(((double)count - 0.5) * FE_SPREAD_STEP_DB, share);
    return FE_OK;
}

static void cut_at(double floor_db, fe_spread *spread)
{
    const long last = nearest_cell(floor_db) - spread->first;
    for (size_t i = spread->count; i-- > (size_t)last + 1;)
        spread->share[last] += spread->share[i];
    if (spread->count > (size_t)last + 1)
        spread->count = (size_t)last + 1;
}

fe_status fe_spread_aim(double across_share, double upward_share, double floor_db,
                        fe_spread *spread)
{
    if (!(across_share >= 0.0) || !(upward_share >= 0.0) || !(floor_db > 0.0))
        return FE_E_DOMAIN;
    if (!isfinite(across_share) || !isfinite(upward_share) || floor_db > WIDEST_DB)
        return FE_E_DOMAIN;

    fe_spread upward;
    fe_status status = axis_loss(across_share, floor_db, spread);
    if (status == FE_OK)
        status = axis_loss(upward_share, floor_db, &upward);
    if (status == FE_OK)
        status = fe_spread_add(spread, &upward, spread);
    if (status == FE_OK)
        cut_at(floor_db, spread);
    return status;
}

/* Drops what is negligible at both ends and scales the rest to one. */
static void trim(fe_spread *spread)
{
    size_t from = 0;
    size_t to = spread->count;
    for (double lost = 0.0; from + 1 < to && (lost += spread->share[from]) < TAIL;)
        from++;
    for (double lost = 0.0; to > from + 1 && (lost += spread->share[to - 1]) < TAIL;)
        to--;
    memmove(spread->share, spread->share + from, (to - from) * sizeof spread->share[0]);
    spread->first += (long)from;
    spread->count = to - from;
    scale_to_one(spread);
}

fe_status fe_spread_add(const fe_spread *a, const fe_spread *b, fe_spread *sum)
{
    const size_t count = a->count + b->count - 1;
    if (count > FE_SPREAD_MOST_CELLS)
        return FE_E_DOMAIN;
    double share[FE_SPREAD_MOST_CELLS] = {0.0};
    for (size_t i = 0; i < a->count; i++)
        for (size_t j = 0; j < b->count; j++)
            share[i + j] += a->share[i] * b->share[j];
    sum->first = a->first + b->first;
    sum->count = count;
    memcpy(sum->share, share, count * sizeof share[0]);
    trim(sum);
    return FE_OK;
}

double fe_spread_chance(const fe_spread *spread, double loss_db)
{
    /* A cell's mass lies evenly over its width. */
    const double cells = loss_db / FE_SPREAD_STEP_DB - (double)spread->first + 0.5;
    if (!(cells > 0.0))
        return 0.0;
    double chance = 0.0;
    for (size_t i = 0; i < spread->count; i++) {
        if ((double)i + 1.0 > cells)
            return chance + spread->share[i] * (cells - (double)i);
        chance += spread->share[i];
    }
    return 1.0;
}

double fe_spread_quantile(const fe_spread *spread, double chance)
{
    double below = 0.0;
    for (size_t i = 0; i < spread->count; i++) {
        const double share = spread->share[i];
        if (below + share >= chance && share > 0.0)
            return cell_loss(spread, i) + ((chance - below) / share - 0.5) * FE_SPREAD_STEP_DB;
        below += share;
    }
    return cell_loss(spread, spread->count - 1) + FE_SPREAD_STEP_DB / 2.0;
}

double fe_spread_mean(const fe_spread *spread)
{
    double mean = 0.0;
    for (size_t i = 0; i < spread->count; i++)
        mean += spread->share[i] * cell_loss(spread, i);
    return mean;
}

double fe_spread_sigma(const fe_spread *spread)
{
    const double mean = fe_spread_mean(spread);
    double square = 0.0;
    for (size_t i = 0; i < spread->count; i++) {
        const double off = cell_loss(spread, i) - mean;
        square += spread->share[i] * off * off;
    }
    return sqrt(square);
}
