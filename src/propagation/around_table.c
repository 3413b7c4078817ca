/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/around_table.h"

#include <math.h>
#include <stdlib.h>

#include "farend/constants.h"
#include "farend/earth.h"
#include "farend/profile.h"
#include "farend/spread.h"
#include "propagation/hop_parts.h"

static const double SIGMA_STEP_DB = 0.05;
static const double LEFT_STEP_DB = 0.1;
static const double LEFT_FROM_DB = -60.0;

/* Even ground this long stands in where only what does not depend on the place is wanted. */
static const double REFERENCE_M = 100.0;

/* ---- Looking up ---- */

/* Whole and part of a place among `count` equal steps, kept inside. */
static size_t split(double at, size_t count, double *part)
{
    const double most = (double)(count - 1);
    const double kept = at < 0.0 ? 0.0 : at > most ? most : at;
    size_t whole = (size_t)kept;
    if (whole + 1 == count)
        whole--;
    *part = kept - (double)whole;
    return whole;
}

static double between(const double *values, size_t count, double at)
{
    double part = 0.0;
    const size_t i = split(at, count, &part);
    return values[i] + part * (values[i + 1] - values[i]);
}

double around_fade(const around_table *table, const around_season *season, bool obstructed,
                   double distance_m)
{
    return between(obstructed ? season->obstructed_fade_db : season->clear_fade_db,
                   AROUND_FADES, distance_m / table->in->radius_m * (AROUND_FADES - 1));
}

double around_median(const around_table *table, double sigma_db)
{
    return between(table->median_db, AROUND_SIGMAS, sigma_db / SIGMA_STEP_DB);
}

double around_chance(const around_table *table, double sigma_db, double left_db)
{
    double part = 0.0;
    const size_t i = split(sigma_db / SIGMA_STEP_DB, AROUND_SIGMAS, &part);
    const double at = (left_db - LEFT_FROM_DB) / LEFT_STEP_DB;
    const double low = between(table->chance[i], AROUND_LEFTS, at);
    return low + part * (between(table->chance[i + 1], AROUND_LEFTS, at) - low);
}

static double between_both(const double (*values)[AROUND_PHASES], size_t i, double across,
                           size_t k, double along)
{
    const double first = values[i][k] + along * (values[i][k + 1] - values[i][k]);
    const double second = values[i + 1][k] + along * (values[i + 1][k + 1] - values[i + 1][k]);
    return first + across * (second - first);
}

void around_cosines(const around_table *table, double mean_rad, double spread_rad,
                    double cosines[2])
{
    double across = 0.0;
    double along = 0.0;
    const double mean = fabs(remainder(mean_rad, 2.0 * FE_PI));
    const size_t i = split(mean / FE_PI * (AROUND_MEANS - 1), AROUND_MEANS, &across);
    const size_t k =
        split(spread_rad / (FE_PI / 2.0) * (AROUND_PHASES - 1), AROUND_PHASES, &along);
    cosines[0] = between_both(table->cosine10, i, across, k, along);
    cosines[1] = between_both(table->cosine90, i, across, k, along);
}

/* ---- Filling ---- */

static fe_status fill_cosines(around_table *table)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < AROUND_MEANS; i++)
        for (size_t k = 0; k < AROUND_PHASES && status >= 0; k++) {
            const double mean = FE_PI * (double)i / (AROUND_MEANS - 1);
            const double spread = FE_PI / 2.0 * (double)k / (AROUND_PHASES - 1);
            status = hop_cosine_quantile(mean, spread, 0.1, &table->cosine10[i][k]);
            if (status >= 0)
                status = hop_cosine_quantile(mean, spread, 0.9, &table->cosine90[i][k]);
        }
    return status;
}

/* fe_spread_chance for all margins in one pass. */
static void fill_chances(const fe_spread *build, double chances[AROUND_LEFTS])
{
    size_t cell = 0;
    double below = 0.0;
    for (size_t k = 0; k < AROUND_LEFTS; k++) {
        const double left_db = LEFT_FROM_DB + LEFT_STEP_DB * (double)k;
        const double cells = left_db / FE_SPREAD_STEP_DB - (double)build->first + 0.5;
        while (cell < build->count && (double)cell + 1.0 <= cells)
            below += build->share[cell++];
        if (cell == build->count)
            chances[k] = 1.0;
        else
            chances[k] = below + fmax(0.0, build->share[cell] * (cells - (double)cell));
    }
}

static fe_status fill_build(const fe_path_loss *reference, around_table *table)
{
    fe_path_loss loss = *reference;
    fe_spread others;
    loss.ground_sigma_db = 0.0;
    fe_status status = fe_build_loss(table->in->hop, &loss, &others);
    for (size_t i = 0; i < AROUND_SIGMAS && status >= 0; i++) {
        fe_spread all = others;
        fe_spread ground;
        if (i > 0)
            status = fe_spread_normal(0.0, SIGMA_STEP_DB * (double)i, &ground);
        if (i > 0 && status >= 0)
            status = fe_spread_add(&others, &ground, &all);
        if (status < 0)
            break;
        table->median_db[i] = fe_spread_quantile(&all, 0.5);
        if (table->carries_rate) /* else all stay 0 */
            fill_chances(&all, table->chance[i]);
    }
    return status;
}

static fe_status fill_fades(const around_table *table, const fe_season *state,
                            around_season *season)
{
    const fe_around *in = table->in;
    const fe_path_loss clear = {.ground_method = FE_GROUND_RAY};
    const fe_path_loss obstructed = {.ground_method = FE_GROUND_DELTA_BULLINGTON};
    const double k_db[2] = {hop_rician_k(in->hop, &clear), hop_rician_k(in->hop, &obstructed)};
    fe_status status = FE_OK;
    for (size_t i = 0; i < AROUND_FADES && status >= 0; i++) {
        const double distance_m =
            fmax(FE_AROUND_LEAST_M, in->radius_m * (double)i / (AROUND_FADES - 1));
        status = hop_fade(in->hop, state, distance_m, k_db[0], in->wanted->availability,
                          &season->clear_fade_db[i]);
        if (status >= 0)
            status = fe_status_worse(status, hop_fade(in->hop, state, distance_m, k_db[1],
                                                      in->wanted->availability,
                                                      &season->obstructed_fade_db[i]));
    }
    return status;
}

/* Margin of the weaker direction with all that the place does put back. */
static double base_of(const fe_hop *hop, const fe_hop_season *season)
{
    const fe_path_loss *loss = &season->loss;
    const double rise_m = hop->ends[1].height_m - hop->ends[0].height_m;
    return season->from[season->weaker].paper_margin_db + loss->free_space_db +
           loss->ground_db + loss->trees_db + loss->gas_db +
           hop_slope_loss(&hop->ends[0], rise_m, loss->distance_m) +
           hop_slope_loss(&hop->ends[1], rise_m, loss->distance_m);
}

static void put_rise(around_table *table, around_season *season)
{
    size_t level = 0;
    while (level < table->rise_count && table->rises_m[level] != season->rise_m)
        level++;
    if (level == table->rise_count)
        table->rises_m[table->rise_count++] = season->rise_m;
    season->level = level;
}

static fe_status fill_seasons(const fe_hop_budget *budget, around_table *table)
{
    const fe_around *in = table->in;
    fe_status status = FE_OK;
    for (size_t i = 0; i < in->season_count && status >= 0; i++) {
        const fe_season *state = &in->seasons[i];
        around_season *season = &table->seasons[i];
        const fe_surface surface = hop_surface(in->hop, state);
        season->rise_m = fe_season_rise(state);
        season->base_db = base_of(in->hop, &budget->seasons[i]);
        season->rough = fe_surface_roughness_m(surface) / table->lambda_m;
        put_rise(table, season);
        status = fe_surface_permittivity(surface, in->hop->f_hz, &season->ground);
        if (status >= 0)
            status = fe_status_worse(status, fill_fades(table, state, season));
    }
    return status;
}

static bool any_buried(const fe_hop_budget *budget)
{
    for (size_t i = 0; i < budget->season_count; i++)
        if (fe_path_loss_is_buried(&budget->seasons[i].loss))
            return true;
    return false;
}

static fe_status fill_from(const fe_hop_budget *budget, around_table *table)
{
    const fe_path_loss *loss = &budget->seasons[0].loss;
    table->carries_rate = budget->carries_rate;
    table->buried = any_buried(budget);
    if (table->buried)
        return FE_OK;
    table->gas_db_per_m = loss->gas_db / loss->distance_m;
    fe_status status = fill_seasons(budget, table);
    if (status >= 0)
        status = fe_status_worse(status, fill_build(loss, table));
    if (status >= 0)
        status = fe_status_worse(status, fill_cosines(table));
    return status;
}

fe_status around_table_make(const fe_around *in, around_table *table)
{
    *table = (around_table){.in = in, .lambda_m = FE_SPEED_OF_LIGHT_M_S / in->hop->f_hz};
    table->seasons = calloc(in->season_count, sizeof *table->seasons);
    table->rises_m = calloc(in->season_count, sizeof *table->rises_m);
    if (!table->seasons || !table->rises_m)
        return FE_E_MEMORY;
    fe_effective_earth earth;
    fe_status status = fe_effective_earth_radius(HOP_LAPSE_N_PER_KM, &earth);
    table->ae_m = earth.ae_m;
    fe_profile even = {0};
    if (status >= 0)
        status = fe_profile_even(REFERENCE_M, 0.0, REFERENCE_M, &even);
    if (status < 0)
        return status;

    fe_hop hop = *in->hop;
    fe_hop_budget budget = {0};
    hop.ground = &even;
    hop.stand_count = 0;
    status = fe_hop_budget_compute(&hop, in->seasons, in->season_count, in->wanted, &budget);
    if (status >= 0)
        status = fe_status_worse(status, fill_from(&budget, table));
    fe_hop_budget_free(&budget);
    fe_profile_free(&even);
    return status;
}

void around_table_free(around_table *table)
{
    free(table->seasons);
    free(table->rises_m);
    table->seasons = NULL;
    table->rises_m = NULL;
}
