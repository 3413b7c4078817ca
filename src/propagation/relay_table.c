/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/relay_table.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/dielectric.h"
#include "farend/earth.h"
#include "farend/fading.h"
#include "farend/foliage.h"
#include "farend/knife_edge.h"
#include "farend/pairs.h"
#include "farend/standing.h"
#include "propagation/hop_parts.h"

/* Short and even, so that nothing but the stations counts. */
static const double REFERENCE_M = 100.0;

static const double RICIAN_K_DB[K_COUNT] = {HOP_K_OBSTRUCTED_DB, HOP_K_INDOORS_DB,
                                            HOP_K_CLEAR_DB};

/* What a season adds to the hops over its ground. */
typedef struct season_state {
    const fe_season *season;
    fe_permittivity soil;
    double rough;                 /* in wavelengths */
    double level_db[HOP_CLASSES]; /* left on paper plus what the path took */
    double rain_db_per_m;
    double gas_db_per_m;
} season_state;

/* One run over all pairs: a mast at each end, and the seasons in which snow or crop raise the
 * ground alike, so that the ways around the ground are the same. */
typedef struct run {
    relay_table *s;
    season_state *states;
    size_t state_count;
    double rise_m;
    size_t masts[2];
    bool over; /* only keep what goes over the trees */
    double *ground_m;
    double *canopy_m; /* of trees and of the solid */
    double *solid_m;  /* trees and roofs of the profile */
    double *antenna_m[2];
    _Atomic fe_status status; /* rows come on several threads */
} run;

/* ---- Candidates ---- */

/* A listed place this near to a point of the ground is that point: rounding of another unit. */
static const double SAME_PLACE_M = 1e-6;

/* The spots as the caller lists them, or one every step. */
static fe_status make_spots(relay_table *s)
{
    const fe_relay_site *site = s->site;
    const double length_m = fe_profile_length(site->direct->ground);
    const size_t steps = (size_t)fmax(0.0, ceil(length_m / site->step_m - SAME_PLACE_M) - 1.0);
    s->spot_count = site->places ? site->place_count : steps;
    s->spots = malloc((s->spot_count + 1) * sizeof *s->spots);
    if (!s->spots)
        return FE_E_MEMORY;
    for (size_t k = 0; k < s->spot_count; k++)
        s->spots[k] = site->places ? site->places[k] : fe_relay_spot_of(k + 1, site->step_m);
    return FE_OK;
}

/* The grid with the spots as points of their own. */
static fe_status make_grid(relay_table *s)
{
    fe_profile counted = {0};
    fe_profile with = {0};
    fe_status status = fe_standing_counted(s->site->direct, &counted);
    const fe_profile *bare = &counted;
    const bool solid = counted.clutter_m != NULL;
    const fe_profile tops = {counted.count, counted.distance_m, counted.clutter_m, NULL, NULL};
    if (status >= 0)
        status = fe_profile_new(bare->count + s->spot_count, false, solid, &with);
    if (status < 0) {
        fe_profile_free(&counted);
        return status;
    }
    size_t count = 0;
    for (size_t i = 0, p = 0; i < bare->count; i++) {
        for (; p < s->spot_count && s->spots[p].at_m <= bare->distance_m[i]; p++) {
            const double d_m = s->spots[p].at_m;
            if (d_m > 0.0 && d_m < bare->distance_m[i] - SAME_PLACE_M &&
                (count == 0 || d_m > with.distance_m[count - 1] + SAME_PLACE_M)) {
                with.distance_m[count] = d_m;
                if (solid)
                    with.clutter_m[count] = fe_profile_height_at(&tops, d_m);
                with.height_m[count++] = fe_profile_height_at(bare, d_m);
            }
        }
        with.distance_m[count] = bare->distance_m[i];
        if (solid)
            with.clutter_m[count] = bare->clutter_m[i];
        with.height_m[count++] = bare->height_m[i];
    }
    with.count = count;
    status = fe_profile_refine(&with, s->site->step_m, &s->grid);
    fe_profile_free(&with);
    fe_profile_free(&counted);
    return status;
}

/*
 * The spot at a point of the grid, null: none of a level that is looked at. Both go outwards,
 * so that what lies before a point is passed for good.
 */
static const fe_relay_spot *spot_at(const relay_table *s, double d_m, size_t *next)
{
    while (*next < s->spot_count && s->spots[*next].at_m <= d_m - SAME_PLACE_M)
        (*next)++;
    if (*next == s->spot_count || s->spots[*next].at_m >= d_m + SAME_PLACE_M)
        return NULL;
    return s->spots[*next].level >= s->site->coarser ? &s->spots[*next] : NULL;
}

static fe_status make_nodes(relay_table *s)
{
    const size_t n = s->grid.count;
    const size_t masts = s->site->mast_count;
    const bool trees = s->site->direct->stand_count > 0;
    s->nodes = calloc(n * masts + 2, sizeof *s->nodes);
    s->node_of = calloc(n * masts, sizeof *s->node_of);
    s->is_node = calloc(n, sizeof *s->is_node);
    if (!s->nodes || !s->node_of || !s->is_node)
        return FE_E_MEMORY;
    memset(s->node_of, 0xff, n * masts * sizeof *s->node_of);
    size_t next = 0;
    for (size_t i = 0; i < n; i++) {
        const bool end = i == 0 || i + 1 == n;
        const fe_relay_spot *spot = end ? NULL : spot_at(s, s->grid.distance_m[i], &next);
        if (!end && !spot)
            continue;
        s->is_node[i] = true;
        for (size_t m = 0; m < (end ? 1 : masts); m++) {
            s->node_of[i * masts + m] = s->node_count;
            s->nodes[s->node_count++] =
                (relay_node){i, m, end ? FE_RELAY_EVERY_LEVEL : spot->level};
        }
    }
    if (s->node_count > FE_RELAY_MOST_NODES)
        return FE_E_DOMAIN;
    const size_t hops = s->node_count * (s->node_count - 1) / 2;
    s->margin_db = malloc(hops * sizeof *s->margin_db);
    s->curve = calloc(hops, sizeof *s->curve);
    s->seconds = malloc(hops * sizeof *s->seconds);
    if (trees)
        s->over_db = malloc(hops * sizeof *s->over_db);
    if (!s->margin_db || !s->curve || !s->seconds || (trees && !s->over_db))
        return FE_E_MEMORY;
    /* Worst season: a minimum over what follows. Nodes at one place stay without a hop. */
    for (size_t k = 0; k < hops; k++) {
        s->margin_db[k] = INFINITY;
        s->seconds[k] = INFINITY;
    }
    return FE_OK;
}

/* ---- What the stations bring ---- */

static void stations_of(const fe_relay_site *site, hop_class class, fe_hop *hop)
{
    if (class == BETWEEN || class == LAST)
        hop->ends[0] = site->relay;
    if (class == FIRST || class == BETWEEN)
        hop->ends[1] = site->relay;
    for (int end = 0; end < 2; end++)
        if (!(hop->ends[end].height_m > 0.0))
            hop->ends[end].height_m = site->masts_m[0];
}

/* A hop over even ground without anything on it, high enough for any snow. */
static fe_status reference_hop(const relay_table *s, hop_class class, const fe_season *season,
                               double length_m, double airtime, fe_hop_budget *budget)
{
    const fe_relay_site *site = s->site;
    fe_profile even = {0};
    fe_status status = fe_profile_even(length_m, 0.0, length_m / 20.0, &even);
    if (status < 0)
        return status;
    fe_hop hop = *site->direct;
    fe_wanted wanted = *site->wanted;
    wanted.airtime *= airtime;
    hop.ground = &even;
    hop.stand_count = 0;
    stations_of(site, class, &hop);
    for (int end = 0; end < 2; end++)
        hop.ends[end].height_m = 3.0 + fe_season_rise(season);
    status = fe_hop_budget_compute(&hop, season, 1, &wanted, budget);
    fe_profile_free(&even);
    return status;
}

/* What a hop has left on paper, and what its path took; walls and covers left out. */
static double level_of(const fe_hop_season *season)
{
    const fe_path_loss *loss = &season->loss;
    return season->from[season->weaker].paper_margin_db + loss->free_space_db +
           loss->ground_db + loss->trees_db + loss->gas_db;
}

static double fade_of_k(const relay_table *s, double k_db)
{
    for (int i = 0; i < K_COUNT; i++)
        if (RICIAN_K_DB[i] == k_db)
            return s->fade_db[i];
    return s->fade_db[0];
}

static fe_status measure_season(const relay_table *s, season_state *state)
{
    const fe_season *season = state->season;
    fe_status status = FE_OK;
    for (int class = 0; class < HOP_CLASSES && status >= 0; class ++) {
        fe_hop_budget budget;
        status = fe_status_worse(
            status, reference_hop(s, (hop_class) class, season, REFERENCE_M, 1.0, &budget));
        if (status < 0)
            break;
        const fe_hop_season *hop = &budget.seasons[0];
        state->level_db[class] = level_of(hop);
        state->gas_db_per_m = hop->loss.gas_db / hop->loss.distance_m;
        state->rain_db_per_m =
            fmax(0.0, hop->fade_db - fade_of_k(s, hop->rician_k_db)) / REFERENCE_M;
        fe_hop_budget_free(&budget);
    }
    return status;
}

/* Margin and build losses of a class; walls are the same in all seasons. */
static fe_status measure_build(relay_table *s, hop_class class)
{
    const fe_relay_site *site = s->site;
    fe_hop hop = *site->direct;
    fe_hop_budget budget;
    stations_of(site, class, &hop);
    fe_status status = reference_hop(s, class, &site->seasons[0], REFERENCE_M, 1.0, &budget);
    if (status < 0)
        return status;
    s->reference_db[class] = budget.seasons[0].margin_db;
    status = fe_status_worse(
        status, build_curves_make(&hop, &budget.seasons[0].loss, site->wanted->confidence,
                                  &s->build[class], s->shapes + class * BUILD_CURVES));
    fe_hop_budget_free(&budget);
    return status;
}

static fe_status measure_builds(relay_table *s)
{
    fe_status status = FE_OK;
    s->shapes = malloc(HOP_CLASSES * BUILD_CURVES * sizeof *s->shapes);
    if (!s->shapes)
        return FE_E_MEMORY;
    for (int class = 0; class < HOP_CLASSES && status >= 0; class ++)
        status = fe_status_worse(status, measure_build(s, (hop_class) class));
    return status;
}

fe_status relay_table_shift(const relay_table *s, hop_class class, double airtime, double *db)
{
    fe_hop_budget budget;
    const fe_status status =
        reference_hop(s, class, &s->site->seasons[0], REFERENCE_M, airtime, &budget);
    if (status < 0)
        return status;
    *db = budget.seasons[0].margin_db - s->reference_db[class];
    fe_hop_budget_free(&budget);
    return status;
}

/* Rate of a hop against its margin, from hops of growing length. */
static fe_status measure_rates(relay_table *s)
{
    fe_status status = FE_OK;
    double length_m = 4.0;
    for (size_t i = 0; i < RATE_SAMPLES && status >= 0; i++, length_m *= 1.4) {
        fe_hop_budget budget;
        status = fe_status_worse(
            status, reference_hop(s, BETWEEN, &s->site->seasons[0], length_m, 1.0, &budget));
        if (status < 0)
            break;
        const fe_hop_season *hop = &budget.seasons[0];
        const double margin_db =
            hop->from[hop->weaker].paper_margin_db - hop->fade_db -
            build_curves_lost(&s->build[BETWEEN], hop->loss.ground_sigma_db);
        const bool falls =
            s->rate_count == 0 || margin_db < s->rate_margin_db[s->rate_count - 1];
        if (falls && isfinite(margin_db)) {
            s->rate_margin_db[s->rate_count] = margin_db;
            s->rate_bps[s->rate_count++] = fmax(budget.delivered_rate_bps, 1.0);
        }
        fe_hop_budget_free(&budget);
    }
    return status;
}

static double rate_at(const relay_table *s, double margin_db)
{
    if (s->rate_count == 0 || margin_db >= s->rate_margin_db[0])
        return s->rate_count ? s->rate_bps[0] : 1.0;
    for (size_t i = 1; i < s->rate_count; i++)
        if (margin_db >= s->rate_margin_db[i]) {
            const double share = (margin_db - s->rate_margin_db[i]) /
                                 (s->rate_margin_db[i - 1] - s->rate_margin_db[i]);
            return s->rate_bps[i] + share * (s->rate_bps[i - 1] - s->rate_bps[i]);
        }
    return 1.0;
}

static fe_status measure_fades(relay_table *s)
{
    fe_status status = FE_OK;
    for (int i = 0; i < K_COUNT && status >= 0; i++) {
        const fe_fading law = {
            .law = FE_FADING_RICIAN, .k_db = RICIAN_K_DB[i], .reference = FE_FADING_MEAN};
        status = fe_status_worse(
            status,
            fe_fade_quantile(&law, 1, NULL, s->site->wanted->availability, &s->fade_db[i]));
    }
    return status;
}

/* ---- One hop ---- */

static hop_class class_of(const relay_table *s, size_t from, size_t to)
{
    if (from == 0)
        return to + 1 == s->grid.count ? DIRECT : FIRST;
    return to + 1 == s->grid.count ? LAST : BETWEEN;
}

static bool is_indoors(const relay_table *s, hop_class class)
{
    const fe_relay_site *site = s->site;
    const fe_mount a =
        class == FIRST || class == DIRECT ? site->direct->ends[0].mount : site->relay.mount;
    const fe_mount b =
        class == LAST || class == DIRECT ? site->direct->ends[1].mount : site->relay.mount;
    return a != FE_MOUNT_OUTDOORS || b != FE_MOUNT_OUTDOORS;
}

/* What the seasons of a run have in common on a hop. */
typedef struct hop_sight {
    const fe_pair *pair;
    size_t from;
    size_t to;
    double line_m;
    double free_db;
    double slope_db; /* at both ends, outside the beam */
    double over_db;  /* over the trees */
    bool beyond;     /* the break-point */
    bool has_ray;
    hop_ray ray;
} hop_sight;

static double slope_loss(const relay_table *s, size_t from, size_t to, double rise_m,
                         double line_m)
{
    const fe_station *ends = s->site->direct->ends;
    const fe_station *relay = &s->site->relay;
    return hop_slope_loss(from == 0 ? &ends[0] : relay, rise_m, line_m) +
           hop_slope_loss(to + 1 == s->grid.count ? &ends[1] : relay, rise_m, line_m);
}

static hop_sight sight_of(const run *r, const fe_pair *pair, size_t from, size_t to)
{
    const relay_table *s = r->s;
    const double length_m = s->grid.distance_m[to] - s->grid.distance_m[from];
    const double rise_m = r->antenna_m[1][to] - r->antenna_m[0][from];
    const fe_ground_path path = {s->site->direct->f_hz, length_m, pair->effective1_m,
                                 pair->effective2_m};
    hop_sight sight = {.pair = pair, .from = from, .to = to};
    sight.line_m = sqrt(length_m * length_m + rise_m * rise_m);
    sight.slope_db = slope_loss(s, from, to, rise_m, sight.line_m);
    sight.free_db = 20.0 * log10(4.0 * FE_PI * sight.line_m / s->lambda_m);
    sight.beyond = length_m > 4.0 * pair->effective1_m * pair->effective2_m / s->lambda_m;
    sight.has_ray = sight.beyond || pair->v <= FE_KNIFE_EDGE_CLEAR_V;
    if (sight.has_ray)
        sight.ray = hop_ray_over(&path, FE_GROUND_HEIGHT_ERROR_M, FE_GROUND_HEIGHT_ERROR_M);
    return sight;
}

/* The ground's loss and its spread by the rules of path_loss.c; an isolated edge is not told
 * from several. */
static hop_ray_level ground_level(const hop_sight *sight, const season_state *state)
{
    const fe_pair *pair = sight->pair;
    if (!sight->has_ray)
        return (hop_ray_level){pair->loss_db, HOP_SEVERAL_OBSTACLES_SIGMA_DB};
    if (!sight->beyond)
        return hop_ray_levels(&sight->ray, &state->soil, state->rough);
    const double ray_db = hop_ray_mean(&sight->ray, &state->soil, state->rough);
    return (hop_ray_level){
        pair->actual_db + fmax(0.0, fmax(pair->sphere_db, ray_db) - pair->smooth_db),
        pair->v <= FE_KNIFE_EDGE_CLEAR_V ? HOP_EDGE_SIGMA_DB : HOP_SEVERAL_OBSTACLES_SIGMA_DB};
}

/* Length of a stretch over which what is `from` at its start and `to` at its end, straight
 * between, is above zero. */
static double length_above_zero(double stretch_m, double from, double to)
{
    if (from > 0.0 && to > 0.0)
        return stretch_m;
    if (!(from > 0.0) && !(to > 0.0))
        return 0.0;
    return stretch_m * fmax(from, to) / fabs(from - to);
}

/* Length of the line of sight below the crowns, which stand on the bare ground. */
static double depth_of(const run *r, const hop_sight *sight, const fe_stand *stand)
{
    const double *d_m = r->s->grid.distance_m;
    const double start_m = d_m[sight->from];
    const double slope = (r->antenna_m[1][sight->to] - r->antenna_m[0][sight->from]) /
                         (d_m[sight->to] - start_m);
    double depth_m = 0.0;
    for (size_t k = sight->from; k < sight->to; k++) {
        const double low_m = fmax(d_m[k], stand->from_m);
        const double high_m = fmin(d_m[k + 1], stand->to_m);
        if (!(high_m > low_m))
            continue;
        double over_line_m[2];
        for (int end = 0; end < 2; end++) {
            const double at_m = end == 0 ? low_m : high_m;
            const double share = (at_m - d_m[k]) / (d_m[k + 1] - d_m[k]);
            const double ground_m =
                r->ground_m[k] + share * (r->ground_m[k + 1] - r->ground_m[k]) - r->rise_m;
            over_line_m[end] = ground_m + stand->height_m - r->antenna_m[0][sight->from] -
                               slope * (at_m - start_m);
        }
        depth_m += length_above_zero(high_m - low_m, over_line_m[0], over_line_m[1]);
    }
    return depth_m;
}

/* Whether an end of the hop stands in the wood itself. */
static bool is_in_wood(const run *r, const hop_sight *sight, const fe_stand *stand)
{
    const fe_profile *grid = &r->s->grid;
    const double start_m = grid->distance_m[sight->from];
    fe_stand seen = *stand;
    seen.from_m -= start_m;
    seen.to_m -= start_m;
    return hop_wood_holds_end(&seen, grid->distance_m[sight->to] - start_m,
                              r->antenna_m[0][sight->from] - grid->height_m[sight->from],
                              r->antenna_m[1][sight->to] - grid->height_m[sight->to]);
}

static fe_status stand_loss(const run *r, const season_state *state, const hop_sight *sight,
                            const fe_stand *stand, double *loss_db)
{
    const double f_hz = r->s->site->direct->f_hz;
    const fe_foliage_state trees = {stand->kind, state->season->in_leaf, state->season->trees};
    const double depth_m = depth_of(r, sight, stand);
    fe_foliage_result foliage = {0};
    *loss_db = 0.0;
    if (!(depth_m > 0.0))
        return FE_OK;
    if (is_in_wood(r, sight, stand))
        return hop_wood_loss(f_hz, depth_m, fe_foliage_factor_of(&trees).typical, loss_db);
    const fe_status status = fe_foliage_budget(&trees, f_hz, depth_m, &foliage);
    *loss_db = foliage.loss_db;
    return status;
}

static fe_status trees_loss(const run *r, const season_state *state, const hop_sight *sight,
                            double ground_db, double *loss_db)
{
    const double *d_m = r->s->grid.distance_m;
    const fe_hop *direct = r->s->site->direct;
    double through_db = 0.0;
    for (size_t i = 0; i < direct->stand_count; i++) {
        const fe_stand *stand = &direct->stands[i];
        if (stand->to_m <= d_m[sight->from] || stand->from_m >= d_m[sight->to])
            continue;
        double stand_db = 0.0;
        const fe_status status = stand_loss(r, state, sight, stand, &stand_db);
        if (status < 0)
            return status;
        through_db += stand_db;
    }
    *loss_db = 0.0;
    if (!(through_db > 0.0))
        return FE_OK;
    double both_db = 0.0;
    const fe_status status = fe_foliage_routes(ground_db, through_db, sight->over_db, &both_db);
    if (status >= 0)
        *loss_db = fmax(0.0, both_db - ground_db);
    return status < 0 ? status : FE_OK;
}

/* A hop in one season: what it has left at the wanted chance, and the curve of its chances. */
typedef struct hop_left {
    double margin_db;
    unsigned char curve;
} hop_left;

static fe_status hop_margin(const run *r, const season_state *state, const hop_sight *sight,
                            hop_left *left)
{
    const relay_table *s = r->s;
    const hop_ray_level ground = ground_level(sight, state);
    double trees_db = 0.0;
    if (s->over_db) {
        const fe_status status = trees_loss(r, state, sight, ground.mean_db, &trees_db);
        if (status < 0)
            return status;
    }
    const hop_class class = class_of(s, sight->from, sight->to);
    const bool scatters = !sight->has_ray || trees_db > HOP_SCATTERS_DB;
    const int k = scatters ? 0 : is_indoors(s, class) ? 1 : 2;
    const double sigma_db = hypot(ground.sigma_db, hop_trees_sigma(trees_db));
    left->margin_db = state->level_db[class] - sight->free_db - sight->slope_db -
                      ground.mean_db - trees_db - s->fade_db[k] -
                      (state->gas_db_per_m + state->rain_db_per_m) * sight->line_m -
                      build_curves_lost(&s->build[class], sigma_db);
    left->curve =
        (unsigned char)((size_t) class * BUILD_CURVES + build_curves_nearest(sigma_db));
    return FE_OK;
}

/* Takes the season of a run in which the hop has least. */
static fe_status worst_margin(const run *r, const fe_pair *pair, size_t from, size_t to,
                              size_t at)
{
    relay_table *s = r->s;
    hop_sight sight = sight_of(r, pair, from, to);
    sight.over_db = s->over_db ? s->over_db[at] : 0.0;
    for (size_t i = 0; i < r->state_count; i++) {
        hop_left left = {0};
        const fe_status status = hop_margin(r, &r->states[i], &sight, &left);
        if (status < 0)
            return status;
        if (!(left.margin_db < s->margin_db[at]))
            continue;
        s->margin_db[at] = left.margin_db;
        s->curve[at] = left.curve;
    }
    return FE_OK;
}

/* Height of the antenna at a point: a mast of the run, or a building's own. */
static double height_at(const run *r, int end, size_t point)
{
    const fe_relay_site *site = r->s->site;
    if (point == 0)
        return site->direct->ends[0].height_m;
    if (point + 1 == r->s->grid.count)
        return site->direct->ends[1].height_m;
    return site->masts_m[r->masts[end]];
}

static bool is_buried(const run *r, int end, size_t point)
{
    return height_at(r, end, point) < r->rise_m + HOP_LEAST_AIR_M;
}

/* The node of a point in a run; SIZE_MAX where it has none or another run serves it. */
static size_t node_in_run(const run *r, int end, size_t point)
{
    const bool terminal = point == 0 || point + 1 == r->s->grid.count;
    if (terminal && r->masts[end] > 0)
        return SIZE_MAX;
    return r->s->node_of[point * r->s->site->mast_count + r->masts[end]];
}

static void take_row(void *context, size_t i, const fe_pair *pairs, size_t count)
{
    run *r = context;
    relay_table *s = r->s;
    const size_t from = node_in_run(r, 0, i);
    if (from == SIZE_MAX)
        return;
    for (size_t k = 0; k < count; k++) {
        const size_t j = i + 1 + k;
        const size_t to = node_in_run(r, 1, j);
        if (to == SIZE_MAX)
            continue;
        const size_t at = fe_placing_index(s->node_count, from, to);
        if (r->over) {
            s->over_db[at] = pairs[k].loss_db;
            continue;
        }
        if (is_buried(r, 0, i) || is_buried(r, 1, j)) {
            s->margin_db[at] = -INFINITY;
            continue;
        }
        const fe_status status = worst_margin(r, &pairs[k], i, j, at);
        if (status < 0)
            r->status = status; /* any failure will do */
    }
}

/* ---- Runs ---- */

static void place_antennas(run *r)
{
    const relay_table *s = r->s;
    const fe_relay_site *site = s->site;
    for (size_t i = 0; i < s->grid.count; i++) {
        r->ground_m[i] = s->grid.height_m[i] + r->rise_m;
        r->solid_m[i] = s->grid.clutter_m ? fmax(0.0, s->grid.clutter_m[i] - r->rise_m) : 0.0;
        r->canopy_m[i] = r->solid_m[i];
        for (size_t k = 0; k < site->direct->stand_count; k++) {
            const fe_stand *stand = &site->direct->stands[k];
            const double d_m = s->grid.distance_m[i];
            if (d_m >= stand->from_m - site->step_m / 2.0 &&
                d_m <= stand->to_m + site->step_m / 2.0)
                r->canopy_m[i] = fmax(r->canopy_m[i], stand->height_m - r->rise_m);
        }
        /* A buried antenna has no hop; here it only must not stop the others. */
        for (int end = 0; end < 2; end++)
            r->antenna_m[end][i] =
                s->grid.height_m[i] + fmax(height_at(r, end, i), r->rise_m + HOP_LEAST_AIR_M);
    }
}

static fe_status run_pairs(run *r)
{
    const relay_table *s = r->s;
    place_antennas(r);
    fe_pairs pairs = {
        .d_m = s->grid.distance_m,
        .h_m = r->ground_m,
        .n = s->grid.count,
        .ends = s->is_node,
        .antenna1_m = r->antenna_m[0],
        .antenna2_m = r->antenna_m[1],
        .wave = fe_diffraction_wave_over_land(s->site->direct->f_hz, s->ae_m, true),
        .threads = s->site->threads,
    };
    fe_status status = FE_OK;
    if (s->over_db) {
        pairs.clutter_m = r->canopy_m;
        r->over = true;
        status = fe_pairs_compute(&pairs, take_row, r, NULL);
        r->over = false;
    }
    /* What the profile shows is solid even about a mast in it: the chain knows better. */
    pairs.clutter_m = s->grid.clutter_m ? r->solid_m : NULL;
    if (status >= 0)
        status = fe_status_worse(status, fe_pairs_compute(&pairs, take_row, r, NULL));
    return fe_status_worse(status, r->status);
}

static fe_status make_state(const relay_table *s, const fe_season *season, season_state *state)
{
    const fe_surface surface = hop_surface(s->site->direct, season);
    *state = (season_state){.season = season};
    state->rough = fe_surface_roughness_m(surface) / s->lambda_m;
    fe_status status = measure_season(s, state);
    if (status >= 0)
        status = fe_status_worse(
            status, fe_surface_permittivity(surface, s->site->direct->f_hz, &state->soil));
    return status;
}

static bool is_first_with_its_rise(const fe_relay_site *site, size_t season)
{
    for (size_t i = 0; i < season; i++)
        if (fe_season_rise(&site->seasons[i]) == fe_season_rise(&site->seasons[season]))
            return false;
    return true;
}

/* A season and those after it with the same rise. */
static fe_status run_seasons(relay_table *s, size_t first, run *r)
{
    const fe_relay_site *site = s->site;
    fe_status status = FE_OK;
    r->rise_m = fe_season_rise(&site->seasons[first]);
    r->state_count = 0;
    for (size_t i = first; i < site->season_count && status >= 0; i++)
        if (fe_season_rise(&site->seasons[i]) == r->rise_m)
            status = fe_status_worse(
                status, make_state(s, &site->seasons[i], &r->states[r->state_count++]));
    for (size_t a = 0; a < site->mast_count; a++)
        for (size_t b = 0; b < site->mast_count && status >= 0; b++) {
            r->masts[0] = a;
            r->masts[1] = b;
            status = fe_status_worse(status, run_pairs(r));
        }
    return status;
}

static fe_status fill_margins(relay_table *s)
{
    run r = {.s = s};
    const size_t n = s->grid.count;
    double *room = calloc(5 * n, sizeof *room);
    r.states = calloc(s->site->season_count, sizeof *r.states);
    fe_status status = room && r.states ? FE_OK : FE_E_MEMORY;
    if (status < 0)
        goto done;
    r.ground_m = room;
    r.canopy_m = room + n;
    r.solid_m = room + 4 * n;
    r.antenna_m[0] = room + 2 * n;
    r.antenna_m[1] = room + 3 * n;
    for (size_t i = 0; i < s->site->season_count && status >= 0; i++)
        if (is_first_with_its_rise(s->site, i))
            status = fe_status_worse(status, run_seasons(s, i, &r));
done:
    free(room);
    free(r.states);
    if (status < 0)
        return status;
    for (size_t k = 0; k < s->node_count * (s->node_count - 1) / 2; k++) {
        if (s->margin_db[k] == INFINITY) /* two masts at one place */
            s->margin_db[k] = -INFINITY;
        s->seconds[k] = 1.0 / rate_at(s, s->margin_db[k]);
    }
    return status;
}

/* ---- The table ---- */

fe_status relay_table_make(relay_table *s)
{
    fe_effective_earth earth;
    fe_status status = fe_effective_earth_radius(HOP_LAPSE_N_PER_KM, &earth);
    if (status < 0)
        return status;
    s->ae_m = earth.ae_m;
    status = make_spots(s);
    if (status >= 0)
        status = make_grid(s);
    if (status >= 0)
        status = make_nodes(s);
    if (status >= 0)
        status = measure_fades(s);
    if (status >= 0)
        status = fe_status_worse(status, measure_builds(s));
    if (status >= 0)
        status = fe_status_worse(status, measure_rates(s));
    return status < 0 ? status : fe_status_worse(status, fill_margins(s));
}

void relay_table_free(relay_table *s)
{
    fe_profile_free(&s->grid);
    free(s->nodes);
    free(s->spots);
    free(s->curve);
    free(s->shapes);
    free(s->node_of);
    free(s->is_node);
    free(s->margin_db);
    free(s->over_db);
    free(s->seconds);
}
