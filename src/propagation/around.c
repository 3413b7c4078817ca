/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/around.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/ground_ray.h"
#include "farend/knife_edge.h"
#include "farend/workers.h"
#include "propagation/around_line.h"
#include "propagation/hop_parts.h"

enum { MOST_LEVELS = 16, MOST_SEASONS = 64 };

/* Two seasons so near in their chances are told apart by the single path itself. */
static const double TABLE_CHANCE = 1e-4;
static const double SAME_MARGIN_DB = 0.3;

/* ---- The land ---- */

static double between_cells(const fe_around_land *land, const float *values, double column,
                            double row)
{
    const double most_column = (double)(land->columns - 1);
    const double most_row = (double)(land->rows - 1);
    /* Half a cell about the middles of the outermost still belongs to them. */
    if (!(column >= -0.5) || !(row >= -0.5) || column > most_column + 0.5 ||
        row > most_row + 0.5)
        return NAN;
    const double x = fmin(fmax(column, 0.0), most_column);
    const double y = fmin(fmax(row, 0.0), most_row);
    const size_t left = x < most_column ? (size_t)x : land->columns - 2;
    const size_t top = y < most_row ? (size_t)y : land->rows - 2;
    const double across = x - (double)left;
    const double down = y - (double)top;
    const double weights[4] = {(1.0 - across) * (1.0 - down), across * (1.0 - down),
                               (1.0 - across) * down, across * down};
    double sum = 0.0;
    double weight = 0.0;
    for (size_t k = 0; k < 4; k++) {
        const double value = (double)values[(top + k / 2) * land->columns + left + k % 2];
        if (isnan(value))
            continue;
        sum += weights[k] * value;
        weight += weights[k];
    }
    return weight < 0.5 ? (double)NAN : sum / weight;
}

double fe_around_height(const fe_around_land *land, double column, double row)
{
    return between_cells(land, land->height_m, column, row);
}

double fe_around_top(const fe_around_land *land, double column, double row)
{
    return land->top_m ? between_cells(land, land->top_m, column, row) : (double)NAN;
}

double fe_around_step(const fe_around_land *land)
{
    return fmin(hypot(land->east_m[0], land->north_m[0]),
                hypot(land->east_m[1], land->north_m[1]));
}

/* ---- One cell in one season ---- */

/* Loss beyond free space and how it is spread, as path_loss.c joins it. */
typedef struct ground_loss {
    fe_ground_method method;
    double loss_db;
    double sigma_db;
    bool fades; /* as behind obstacles */
} ground_loss;

/* Parts that seasons of equal snow share. */
typedef struct level_loss {
    around_sight sight;
    fe_ground_method method;
    double obstacle_db; /* EDGE, DELTA_BULLINGTON */
    double sphere_db;
    double smooth_db;
} level_loss;

/* Standard deviation of the ground ray's phase; from pi/2 up the single path takes any phase.
 */
static double phase_spread(const around_job *work, const around_sight *s)
{
    return 4.0 * FE_PI * FE_GROUND_HEIGHT_ERROR_M * hypot(s->h1, s->h2) /
           (work->table.lambda_m * s->length);
}

/* Loss of obstacles alone: the edge where there is just one, else delta-Bullington. */
static fe_status use_obstacles(around_line *l, double snow_m, level_loss *made)
{
    const around_sight *s = &made->sight;
    fe_isolated_edge edge = {.found = false};
    fe_status status = FE_OK;
    if (around_may_be_edge(l, snow_m, s)) {
        if (l->fine_count == 0)
            around_line_refine(l);
        status = fe_isolated_edge_find(l->fine_d, l->fine_h, l->fine_count, s->a1, s->a2,
                                       l->work->table.ae_m, l->work->wave.f_hz, &edge);
    }
    made->method = edge.found ? FE_GROUND_EDGE : FE_GROUND_DELTA_BULLINGTON;
    made->obstacle_db =
        edge.found ? edge.loss_db : s->actual_db + fmax(made->sphere_db - made->smooth_db, 0.0);
    return status;
}

static fe_status level_make(around_line *l, size_t level, level_loss *made)
{
    const around_table *table = &l->work->table;
    const double snow_m = table->rises_m[level];
    around_sight *s = &made->sight;
    *made = (level_loss){.method = FE_GROUND_RAY};
    s->length = l->length_m;
    s->inverse = 1.0 / s->length;
    s->a1 = around_antenna(l->work, 0) - snow_m;
    s->a2 = l->rise_m + around_antenna(l->work, 1) - snow_m;
    around_look_along(l, snow_m, s);
    const bool beyond = s->length > 4.0 * s->h1 * s->h2 / table->lambda_m;
    if (!beyond && s->v <= FE_KNIFE_EDGE_CLEAR_V)
        return FE_OK;
    const fe_status status = around_round_earth(l->work, s, &made->sphere_db, &made->smooth_db);
    if (status < 0 || !beyond)
        return status < 0 ? status : fe_status_worse(status, use_obstacles(l, snow_m, made));
    made->method = FE_GROUND_BEYOND;
    return status;
}

/* The same level over what stands on the ground; the surface is that of the bare ground. */
static fe_status level_raise(around_line *l, size_t level, const level_loss *bare,
                             level_loss *made)
{
    const double snow_m = l->work->table.rises_m[level];
    fe_status status = FE_OK;
    *made = *bare;
    around_line_raise(l, snow_m);
    around_look_up(l->over, snow_m, &made->sight);
    if (bare->method == FE_GROUND_BEYOND)
        return FE_OK;
    made->method = FE_GROUND_RAY;
    if (made->sight.v <= FE_KNIFE_EDGE_CLEAR_V)
        return FE_OK;
    if (bare->method == FE_GROUND_RAY)
        status = around_round_earth(l->work, &made->sight, &made->sphere_db, &made->smooth_db);
    return status < 0 ? status : fe_status_worse(status, use_obstacles(l->over, snow_m, made));
}

static double power_loss(double amplitude, double cosine)
{
    const double power = 1.0 + amplitude * amplitude + 2.0 * amplitude * cosine;
    return -10.0 * log10(fmax(power, 1e-20));
}

/* The ground ray as the single path takes it, its quantiles from the table. */
static fe_status ray_loss(const around_job *work, const around_season *season,
                          const around_sight *s, double *loss_db, double *sigma_db)
{
    const fe_ground_path path = {work->in->hop->f_hz, s->length, s->h1, s->h2};
    fe_reflection reflection;
    fe_ground_ray ray;
    fe_status status =
        fe_ground_reflection(&season->ground, FE_GROUND_VERTICAL,
                             atan2(s->h1 + s->h2, s->length), season->rough, &reflection);
    if (status >= 0)
        status = fe_status_worse(status, fe_ground_ray_loss(&path, &reflection, &ray));
    if (status < 0)
        return status;
    const double spread_rad = phase_spread(work, s);
    double cosines[2] = {cos(0.9 * FE_PI), cos(0.1 * FE_PI)};
    double mean_cosine = 0.0;
    if (spread_rad <= FE_PI / 2.0) {
        around_cosines(&work->table, ray.phase_rad, spread_rad, cosines);
        mean_cosine = cos(ray.phase_rad) * exp(-spread_rad * spread_rad / 2.0);
    }
    *loss_db = power_loss(ray.amplitude, mean_cosine);
    *sigma_db =
        (power_loss(ray.amplitude, cosines[0]) - power_loss(ray.amplitude, cosines[1])) /
        HOP_TENTHS_SIGMAS;
    return status;
}

static fe_status ground_of(const around_job *work, const around_season *season,
                           const level_loss *level, ground_loss *ground)
{
    const around_sight *s = &level->sight;
    *ground = (ground_loss){.method = level->method,
                            .loss_db = level->obstacle_db,
                            .sigma_db = HOP_SEVERAL_OBSTACLES_SIGMA_DB};
    if (level->method == FE_GROUND_EDGE)
        ground->sigma_db = HOP_EDGE_SIGMA_DB;
    if (level->method == FE_GROUND_EDGE || level->method == FE_GROUND_DELTA_BULLINGTON)
        return FE_OK;
    double ray_db = 0.0;
    double ray_sigma_db = 0.0;
    const fe_status status = ray_loss(work, season, s, &ray_db, &ray_sigma_db);
    if (status < 0)
        return status;
    if (level->method == FE_GROUND_RAY) {
        ground->loss_db = ray_db;
        ground->sigma_db = ray_sigma_db;
    } else {
        ground->loss_db =
            s->actual_db + fmax(0.0, fmax(level->sphere_db, ray_db) - level->smooth_db);
        ground->sigma_db =
            s->actual_db <= 0.0 ? HOP_EDGE_SIGMA_DB : HOP_SEVERAL_OBSTACLES_SIGMA_DB;
    }
    return status;
}

typedef struct answer {
    double margin_db;
    double chance;
} answer;

/* Ground and what stands on it, which is never better than the ground alone. */
static fe_status solid_of(const around_job *work, const around_season *season,
                          const level_loss *level, const level_loss *over, ground_loss *ground)
{
    fe_status status = ground_of(work, season, level, ground);
    ground->fades = ground->method == FE_GROUND_DELTA_BULLINGTON;
    if (status < 0 || !over)
        return status;
    ground_loss solid;
    status = fe_status_worse(status, ground_of(work, season, over, &solid));
    if (status < 0 || !(solid.loss_db > ground->loss_db))
        return status;
    ground->fades = ground->fades || solid.loss_db - ground->loss_db > HOP_SCATTERS_DB;
    ground->loss_db = solid.loss_db;
    ground->sigma_db = solid.sigma_db;
    return status;
}

static fe_status season_answer(const around_job *work, const around_season *season,
                               const level_loss *level, const level_loss *over, answer *found)
{
    const around_table *table = &work->table;
    const fe_station *ends = work->in->hop->ends;
    const around_sight *s = &level->sight;
    ground_loss ground;
    const fe_status status = solid_of(work, season, level, over, &ground);
    if (status < 0)
        return status;
    const double rise_m = s->a2 - s->a1;
    const double direct_m = hypot(s->length, rise_m);
    const double free_space_db = 20.0 * log10(4.0 * FE_PI * direct_m / table->lambda_m);
    const double left_db = season->base_db - free_space_db - ground.loss_db -
                           table->gas_db_per_m * direct_m -
                           hop_slope_loss(&ends[0], rise_m, direct_m) -
                           hop_slope_loss(&ends[1], rise_m, direct_m) -
                           around_fade(table, season, ground.fades, direct_m);
    found->margin_db = left_db - around_median(table, ground.sigma_db);
    found->chance = around_chance(table, ground.sigma_db, left_db);
    return status;
}

/* The least margin of the seasons whose chance is no greater. */
static double least_margin(const answer *seasons, size_t count, double chance)
{
    double least_db = INFINITY;
    for (size_t i = 0; i < count; i++)
        if (seasons[i].chance <= chance)
            least_db = fmin(least_db, seasons[i].margin_db);
    return least_db;
}

/* The cell by the single path. */
static fe_status answer_alone(around_line *l, answer *found)
{
    const fe_around *in = l->work->in;
    fe_profile ground = {0};
    fe_status status = fe_profile_new(l->pieces + 1, false, l->cluttered, &ground);
    if (status < 0)
        return status;
    for (size_t i = 0; i <= l->pieces; i++) {
        ground.distance_m[i] = i < l->pieces ? l->piece_m * (double)i : l->length_m;
        ground.height_m[i] = l->bare_m[i];
        if (l->cluttered)
            ground.clutter_m[i] = l->clutter_m[i];
    }
    fe_hop hop = *in->hop;
    fe_hop_budget budget = {0};
    hop.ground = &ground;
    hop.stand_count = 0;
    status = fe_hop_budget_compute(&hop, in->seasons, in->season_count, in->wanted, &budget);
    if (status >= 0)
        *found = (answer){budget.seasons[budget.worst].margin_db, budget.chance};
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
    return status;
}

static fe_status season_answers(const around_line *l, const level_loss *levels,
                                const level_loss *overs, answer *seasons)
{
    const around_job *work = l->work;
    fe_status status = FE_OK;
    for (size_t i = 0; i < work->in->season_count && status >= 0; i++) {
        const around_season *season = &work->table.seasons[i];
        const level_loss *over = l->cluttered ? &overs[season->level] : NULL;
        status = fe_status_worse(
            status, season_answer(work, season, &levels[season->level], over, &seasons[i]));
    }
    return status;
}

/*
 * Margins of seasons whose chances are about the same may lie apart, and then which is the
 * worst hangs on less than the tables are good for: there the single path decides.
 */
static fe_status worst_answer(around_line *l, const answer *seasons, answer *found)
{
    const size_t count = l->work->in->season_count;
    double least = INFINITY;
    for (size_t i = 0; i < count; i++)
        least = fmin(least, seasons[i].chance);
    const double same = hop_same_chance(least);
    *found = (answer){least_margin(seasons, count, same), least};
    /* None below the least: with that the set is never empty. */
    const double fewer = fmax(same - TABLE_CHANCE, least);
    if (least_margin(seasons, count, fewer) -
            least_margin(seasons, count, same + TABLE_CHANCE) <=
        SAME_MARGIN_DB)
        return FE_OK;
    l->alone++;
    return answer_alone(l, found);
}

static fe_status find_answer(around_line *l, answer *found)
{
    level_loss levels[MOST_LEVELS];
    level_loss overs[MOST_LEVELS];
    answer seasons[MOST_SEASONS];
    fe_status status = FE_OK;
    for (size_t r = 0; r < l->work->table.rise_count && status >= 0; r++) {
        status = fe_status_worse(status, level_make(l, r, &levels[r]));
        if (l->cluttered && status >= 0)
            status = fe_status_worse(status, level_raise(l, r, &levels[r], &overs[r]));
    }
    if (status >= 0)
        status = fe_status_worse(status, season_answers(l, levels, overs, seasons));
    return status < 0 ? status : fe_status_worse(status, worst_answer(l, seasons, found));
}

static fe_status compute_cell(around_line *l)
{
    const around_job *work = l->work;
    answer found = {0};
    const fe_status status = find_answer(l, &found);
    if (status < 0)
        return status;
    work->margin_db[l->index] = (float)found.margin_db;
    if (work->chance)
        work->chance[l->index] = (float)found.chance;
    l->cells++;
    l->holds += found.chance >= work->in->wanted->confidence;
    return status;
}

/* ---- Threads ---- */

typedef struct worker {
    around_line line;
    size_t first; /* rows first, first + every, ... */
    size_t every;
} worker;

static void *compute_rows(void *argument)
{
    worker *own = argument;
    around_line *l = &own->line;
    const fe_around *in = l->work->in;
    const bool tells = own->first == 0 && in->progress;
    for (size_t row = own->first; row < in->land.rows && l->status >= 0; row += own->every) {
        for (size_t column = 0; column < in->land.columns && l->status >= 0; column++)
            if (around_line_reaches(l, column, row)) {
                around_line_walk(l, column, row);
                l->status = fe_status_worse(l->status, compute_cell(l));
            }
        if (tells)
            in->progress(in->context, (double)row / (double)in->land.rows);
    }
    return NULL;
}

static fe_status run_threads(around_job *work, fe_around_count *count)
{
    worker workers[FE_WORKERS_MOST];
    unsigned wanted = work->in->threads < 1 ? 1 : work->in->threads;
    if (wanted > FE_WORKERS_MOST)
        wanted = FE_WORKERS_MOST;
    unsigned made = 0;
    while (made < wanted && around_line_make(work, &workers[made].line)) {
        workers[made].first = made;
        workers[made].every = wanted;
        made++;
    }
    fe_status status = made == wanted ? FE_OK : FE_E_MEMORY;
    if (status >= 0)
        fe_workers_run(compute_rows, workers, sizeof workers[0], made);
    for (unsigned t = 0; t < made; t++) {
        around_line *l = &workers[t].line;
        status = fe_status_worse(status, l->status);
        count->cells += l->cells;
        count->holds += l->holds;
        count->alone += l->alone;
        around_line_free(l);
    }
    return status;
}

/* ---- All of it ---- */

static bool is_usable(const fe_around *in)
{
    const fe_around_land *land = &in->land;
    const double area = land->east_m[0] * land->north_m[1] - land->east_m[1] * land->north_m[0];
    return in->season_count > 0 && in->season_count <= MOST_SEASONS && land->columns >= 2 &&
           land->rows >= 2 && land->columns <= FE_MAP_MOST_SIDE &&
           land->rows <= FE_MAP_MOST_SIDE && fabs(area) > 0.0 && isfinite(area) &&
           in->radius_m >= 2.0 && in->radius_m <= FE_AROUND_MOST_M &&
           is_positive(in->hop->f_hz) && in->hop->ends[0].height_m > 0.0 &&
           in->hop->ends[1].height_m > 0.0;
}

static void fill_buried(around_job *work, fe_around_count *count)
{
    around_line l = {.work = work};
    const fe_around_land *land = &work->in->land;
    for (size_t i = 0; i < land->columns * land->rows; i++) {
        if (!around_line_reaches(&l, i % land->columns, i / land->columns))
            continue;
        work->margin_db[i] = -INFINITY;
        if (work->chance)
            work->chance[i] = 0.0f;
        count->cells++;
    }
}

static fe_status prepare(const fe_around *in, around_job *work)
{
    work->height_m = fe_around_height(&in->land, in->land.column, in->land.row);
    if (!isfinite(work->height_m))
        return FE_E_DOMAIN;
    const fe_status status = around_table_make(in, &work->table);
    if (status < 0)
        return status;
    if (work->table.rise_count > MOST_LEVELS)
        return FE_E_DOMAIN;
    work->step_m = fe_around_step(&in->land);
    work->room = (size_t)(in->radius_m / work->step_m) + 4;
    work->inverse = calloc(work->room, sizeof *work->inverse);
    if (!work->inverse)
        return FE_E_MEMORY;
    for (size_t i = 1; i < work->room; i++)
        work->inverse[i] = 1.0 / (double)i;
    work->wave = fe_diffraction_wave_over_land(in->hop->f_hz, work->table.ae_m, true);
    return status;
}

fe_status fe_around_compute(const fe_around *around, float *margin_db, float *chance,
                            fe_around_count *count)
{
    if (!is_usable(around))
        return FE_E_DOMAIN;
    around_job *work = calloc(1, sizeof *work);
    if (!work)
        return FE_E_MEMORY;
    work->in = around;
    work->margin_db = margin_db;
    work->chance = chance;
    for (size_t i = 0; i < around->land.columns * around->land.rows; i++) {
        margin_db[i] = NAN;
        if (chance)
            chance[i] = NAN;
    }
    fe_around_count found = {0};
    fe_status status = prepare(around, work);
    if (status >= 0 && work->table.buried)
        fill_buried(work, &found);
    else if (status >= 0)
        status = fe_status_worse(status, run_threads(work, &found));
    if (status >= 0)
        *count = found;
    around_table_free(&work->table);
    free(work->inverse);
    free(work);
    return status;
}
