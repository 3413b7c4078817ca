/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/relay_site.h"

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

/* Where a hop starts and ends decides which stations it has. */
typedef enum hop_class { FIRST, BETWEEN, LAST, DIRECT, HOP_CLASSES } hop_class;

/* Steady over scattered power as in budget.c: obstacles or trees, indoors, open. */
enum { K_COUNT = 3 };
static const double RICIAN_K_DB[K_COUNT] = {3.0, 6.0, 10.0};

enum { RATE_SAMPLES = 24 };

typedef struct node {
    size_t point;
    size_t mast;
} node;

typedef struct search {
    const fe_relay_site *site;
    fe_profile grid; /* bare */
    node *nodes;
    size_t node_count;
    size_t *node_of;   /* of point and mast; SIZE_MAX: no candidate */
    bool *is_node;     /* of a point */
    double *margin_db; /* packed over nodes, worst season */
    double *over_db;   /* packed over nodes: over the trees; null where none stand */
    double *seconds;
    double ae_m;
    double lambda_m;
    double fade_db[K_COUNT];
    double rate_margin_db[RATE_SAMPLES];
    double rate_bps[RATE_SAMPLES];
    size_t rate_count;
} search;

/* What a season adds to the hops over its ground. */
typedef struct season_state {
    const fe_season *season;
    fe_permittivity soil;
    double rough;                 /* in wavelengths */
    double level_db[HOP_CLASSES]; /* margin plus losses and fade */
    double rain_db_per_m;
    double gas_db_per_m;
} season_state;

/* One run over all pairs: a mast at each end, and the seasons in which snow or crop raise the
 * ground alike, so that the ways around the ground are the same. */
typedef struct run {
    search *s;
    season_state *states;
    size_t state_count;
    double rise_m;
    size_t masts[2];
    bool over; /* only keep what goes over the trees */
    double *ground_m;
    double *canopy_m; /* of trees and of the solid */
    double *solid_m;  /* trees and roofs of the profile */
    double *antenna_m[2];
    fe_status status;
} run;

/* ---- Candidates ---- */

/* A listed place this near to a point of the ground is that point: rounding of another unit. */
static const double SAME_PLACE_M = 1e-6;

/* The grid with the listed places as points of their own. */
static fe_status make_grid(search *s)
{
    const fe_relay_site *site = s->site;
    fe_profile counted = {0};
    fe_profile with = {0};
    fe_status status = fe_standing_counted(site->direct, &counted);
    const fe_profile *bare = &counted;
    const bool solid = counted.clutter_m != NULL;
    const fe_profile tops = {counted.count, counted.distance_m, counted.clutter_m, NULL, NULL};
    if (status >= 0)
        status = fe_profile_new(bare->count + site->place_count, false, solid, &with);
    if (status < 0) {
        fe_profile_free(&counted);
        return status;
    }
    size_t count = 0;
    for (size_t i = 0, p = 0; i < bare->count; i++) {
        for (; site->places_m && p < site->place_count &&
               site->places_m[p] <= bare->distance_m[i];
             p++) {
            const double d_m = site->places_m[p];
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
    status = fe_profile_refine(&with, site->step_m, &s->grid);
    fe_profile_free(&with);
    fe_profile_free(&counted);
    return status;
}

static bool is_listed(const fe_relay_site *site, double d_m)
{
    if (!site->places_m)
        return true;
    for (size_t i = 0; i < site->place_count; i++)
        if (fabs(site->places_m[i] - d_m) < SAME_PLACE_M)
            return true;
    return false;
}

static fe_status make_nodes(search *s)
{
    const size_t n = s->grid.count;
    const size_t masts = s->site->mast_count;
    s->nodes = calloc(n * masts + 2, sizeof *s->nodes);
    s->node_of = calloc(n * masts, sizeof *s->node_of);
    s->is_node = calloc(n, sizeof *s->is_node);
    if (!s->nodes || !s->node_of || !s->is_node)
        return FE_E_MEMORY;
    memset(s->node_of, 0xff, n * masts * sizeof *s->node_of);
    for (size_t i = 0; i < n; i++) {
        const bool end = i == 0 || i + 1 == n;
        if (!end && !is_listed(s->site, s->grid.distance_m[i]))
            continue;
        s->is_node[i] = true;
        for (size_t m = 0; m < (end ? 1 : masts); m++) {
            s->node_of[i * masts + m] = s->node_count;
            s->nodes[s->node_count++] = (node){i, m};
        }
    }
    if (s->node_count > FE_RELAY_MOST_NODES)
        return FE_E_DOMAIN;
    const size_t hops = s->node_count * (s->node_count - 1) / 2;
    s->margin_db = malloc(hops * sizeof *s->margin_db);
    s->seconds = malloc(hops * sizeof *s->seconds);
    if (s->site->direct->stand_count > 0)
        s->over_db = malloc(hops * sizeof *s->over_db);
    if (!s->margin_db || !s->seconds || (s->site->direct->stand_count > 0 && !s->over_db))
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
static fe_status reference_hop(const search *s, hop_class class, const fe_season *season,
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

/* What the path and the fade took off a hop's margin, walls and covers left out. */
static double taken_db(const fe_hop_season *season)
{
    const fe_path_loss *loss = &season->loss;
    return loss->free_space_db + loss->ground_db + loss->trees_db + loss->gas_db +
           season->fade_db;
}

static double fade_of_k(const search *s, double k_db)
{
    for (int i = 0; i < K_COUNT; i++)
        if (RICIAN_K_DB[i] == k_db)
            return s->fade_db[i];
    return s->fade_db[0];
}

static fe_status measure_season(const search *s, season_state *state)
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
        state->level_db[class] = hop->margin_db + taken_db(hop);
        state->gas_db_per_m = hop->loss.gas_db / hop->loss.distance_m;
        state->rain_db_per_m =
            fmax(0.0, hop->fade_db - fade_of_k(s, hop->rician_k_db)) / REFERENCE_M;
        fe_hop_budget_free(&budget);
    }
    return status;
}

/* By how much a hop's margin changes when it may use only a share of the time. */
static fe_status measure_shift(const search *s, hop_class class, double airtime, double *db)
{
    double margin_db[2] = {0.0, 0.0};
    fe_status status = FE_OK;
    for (int i = 0; i < 2 && status >= 0; i++) {
        fe_hop_budget budget;
        status =
            fe_status_worse(status, reference_hop(s, class, &s->site->seasons[0], REFERENCE_M,
                                                  i == 0 ? 1.0 : airtime, &budget));
        if (status < 0)
            break;
        margin_db[i] = budget.seasons[0].margin_db;
        fe_hop_budget_free(&budget);
    }
    *db = margin_db[1] - margin_db[0];
    return status;
}

/* Rate of a hop against its margin, from hops of growing length. */
static fe_status measure_rates(search *s)
{
    fe_status status = FE_OK;
    double length_m = 4.0;
    for (size_t i = 0; i < RATE_SAMPLES && status >= 0; i++, length_m *= 1.4) {
        fe_hop_budget budget;
        status = fe_status_worse(
            status, reference_hop(s, BETWEEN, &s->site->seasons[0], length_m, 1.0, &budget));
        if (status < 0)
            break;
        const double margin_db = budget.seasons[0].margin_db;
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

static double rate_at(const search *s, double margin_db)
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

static fe_status measure_fades(search *s)
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

static hop_class class_of(const search *s, size_t from, size_t to)
{
    if (from == 0)
        return to + 1 == s->grid.count ? DIRECT : FIRST;
    return to + 1 == s->grid.count ? LAST : BETWEEN;
}

static bool is_indoors(const search *s, hop_class class)
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
    double over_db; /* over the trees */
    bool beyond;    /* the break-point */
    bool has_ray;
    hop_ray ray;
} hop_sight;

static hop_sight sight_of(const run *r, const fe_pair *pair, size_t from, size_t to)
{
    const search *s = r->s;
    const double length_m = s->grid.distance_m[to] - s->grid.distance_m[from];
    const double rise_m = r->antenna_m[1][to] - r->antenna_m[0][from];
    const fe_ground_path path = {s->site->direct->f_hz, length_m, pair->effective1_m,
                                 pair->effective2_m};
    hop_sight sight = {.pair = pair, .from = from, .to = to};
    sight.line_m = sqrt(length_m * length_m + rise_m * rise_m);
    sight.free_db = 20.0 * log10(4.0 * FE_PI * sight.line_m / s->lambda_m);
    sight.beyond = length_m > 4.0 * pair->effective1_m * pair->effective2_m / s->lambda_m;
    sight.has_ray = sight.beyond || pair->v <= FE_KNIFE_EDGE_CLEAR_V;
    if (sight.has_ray)
        sight.ray = hop_ray_over(&path, FE_GROUND_HEIGHT_ERROR_M, FE_GROUND_HEIGHT_ERROR_M);
    return sight;
}

/* The ground's loss by the rules of path_loss.c. */
static double ground_loss(const hop_sight *sight, const season_state *state)
{
    const fe_pair *pair = sight->pair;
    if (!sight->has_ray)
        return pair->loss_db;
    const double ray_db = hop_ray_mean(&sight->ray, &state->soil, state->rough);
    if (!sight->beyond)
        return ray_db;
    return pair->actual_db + fmax(0.0, fmax(pair->sphere_db, ray_db) - pair->smooth_db);
}

/* Length of the line of sight below the crowns, by the grid's points. */
static double depth_of(const run *r, size_t from, size_t to, const fe_stand *stand)
{
    const double *d_m = r->s->grid.distance_m;
    const double length_m = d_m[to] - d_m[from];
    double depth_m = 0.0;
    for (size_t k = from; k < to; k++) {
        const double low_m = fmax(d_m[k], stand->from_m);
        const double high_m = fmin(d_m[k + 1], stand->to_m);
        if (!(high_m > low_m))
            continue;
        const double at_m = (low_m + high_m) / 2.0;
        const double line_m =
            r->antenna_m[0][from] +
            (r->antenna_m[1][to] - r->antenna_m[0][from]) * (at_m - d_m[from]) / length_m;
        const double bare_m = (r->ground_m[k] + r->ground_m[k + 1]) / 2.0 - r->rise_m;
        if (line_m < bare_m + stand->height_m)
            depth_m += high_m - low_m;
    }
    return depth_m;
}

static fe_status trees_loss(const run *r, const season_state *state, const hop_sight *sight,
                            double ground_db, double *loss_db)
{
    const size_t from = sight->from;
    const size_t to = sight->to;
    const fe_hop *direct = r->s->site->direct;
    double through_db = 0.0;
    for (size_t i = 0; i < direct->stand_count; i++) {
        const fe_stand *stand = &direct->stands[i];
        if (stand->to_m <= r->s->grid.distance_m[from] ||
            stand->from_m >= r->s->grid.distance_m[to])
            continue;
        const double depth_m = depth_of(r, from, to, stand);
        const fe_foliage_state trees = {stand->kind, state->season->in_leaf,
                                        state->season->trees};
        fe_foliage_result foliage = {0};
        if (!(depth_m > 0.0))
            continue;
        const fe_status status = fe_foliage_budget(&trees, direct->f_hz, depth_m, &foliage);
        if (status < 0)
            return status;
        through_db += foliage.loss_db;
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

static fe_status hop_margin(const run *r, const season_state *state, const hop_sight *sight,
                            double *margin_db)
{
    const search *s = r->s;
    const double ground_db = ground_loss(sight, state);
    double trees_db = 0.0;
    if (s->over_db) {
        const fe_status status = trees_loss(r, state, sight, ground_db, &trees_db);
        if (status < 0)
            return status;
    }
    const hop_class class = class_of(s, sight->from, sight->to);
    const bool scatters = !sight->has_ray || trees_db > HOP_SCATTERS_DB;
    const int k = scatters ? 0 : is_indoors(s, class) ? 1 : 2;
    *margin_db = state->level_db[class] - sight->free_db - ground_db - trees_db -
                 s->fade_db[k] - (state->gas_db_per_m + state->rain_db_per_m) * sight->line_m;
    return FE_OK;
}

/* The smallest margin of a hop in the seasons of a run. */
static fe_status worst_margin(const run *r, const fe_pair *pair, size_t from, size_t to,
                              double over_db, double *worst_db)
{
    hop_sight sight = sight_of(r, pair, from, to);
    sight.over_db = over_db;
    for (size_t i = 0; i < r->state_count; i++) {
        double margin_db = 0.0;
        const fe_status status = hop_margin(r, &r->states[i], &sight, &margin_db);
        if (status < 0)
            return status;
        *worst_db = fmin(*worst_db, margin_db);
    }
    return FE_OK;
}

static bool is_buried(const run *r, int end, size_t point)
{
    const bool terminal = point == 0 || point + 1 == r->s->grid.count;
    const double height_m = !terminal    ? r->s->site->masts_m[r->masts[end]]
                            : point == 0 ? r->s->site->direct->ends[0].height_m
                                         : r->s->site->direct->ends[1].height_m;
    return height_m < r->rise_m + HOP_LEAST_AIR_M;
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
    search *s = r->s;
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
        const fe_status status = worst_margin(
            r, &pairs[k], i, j, s->over_db ? s->over_db[at] : 0.0, &s->margin_db[at]);
        if (status < 0)
            r->status = status; /* any failure will do, whichever thread met it last */
    }
}

/* ---- Runs ---- */

static void place_antennas(run *r)
{
    const search *s = r->s;
    const fe_relay_site *site = s->site;
    for (size_t i = 0; i < s->grid.count; i++) {
        r->ground_m[i] = s->grid.height_m[i] + r->rise_m;
        r->solid_m[i] =
            s->grid.clutter_m ? fmax(0.0, s->grid.clutter_m[i] - r->rise_m) : 0.0;
        r->canopy_m[i] = r->solid_m[i];
        for (size_t k = 0; k < site->direct->stand_count; k++) {
            const fe_stand *stand = &site->direct->stands[k];
            const double d_m = s->grid.distance_m[i];
            if (d_m >= stand->from_m - site->step_m / 2.0 &&
                d_m <= stand->to_m + site->step_m / 2.0)
                r->canopy_m[i] = fmax(r->canopy_m[i], stand->height_m - r->rise_m);
        }
        for (int end = 0; end < 2; end++) {
            double height_m = site->masts_m[r->masts[end]];
            if (i == 0)
                height_m = site->direct->ends[0].height_m;
            else if (i + 1 == s->grid.count)
                height_m = site->direct->ends[1].height_m;
            /* A buried antenna has no hop; here it only must not stop the others. */
            r->antenna_m[end][i] =
                s->grid.height_m[i] + fmax(height_m, r->rise_m + HOP_LEAST_AIR_M);
        }
    }
}

static fe_status run_pairs(run *r)
{
    const search *s = r->s;
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

static fe_status make_state(const search *s, const fe_season *season, season_state *state)
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
static fe_status run_seasons(search *s, size_t first, run *r)
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

static fe_status fill_margins(search *s)
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

/* ---- Chains ---- */

/* Part of the time that each of equal hops can count on. */
static double share_of(unsigned relays, fe_chain_sharing sharing)
{
    double equal_bps[FE_CHAIN_MOST_HOPS];
    double share = 1.0;
    for (unsigned i = 0; i <= relays; i++)
        equal_bps[i] = 1.0;
    if (fe_chain_rate_shared(equal_bps, relays + 1, sharing, FE_CHAIN_TURNS_REAL, &share) < 0)
        return 1.0;
    return share;
}

static fe_status find_way(const search *s, unsigned relays, fe_relay_way *way)
{
    const fe_relay_site *site = s->site;
    fe_placing placing = {.n = s->node_count, .margin_db = s->margin_db, .seconds = s->seconds};
    double *const shifts[HOP_CLASSES] = {
        [FIRST] = &placing.first_db,
        [BETWEEN] = &placing.between_db,
        [LAST] = &placing.last_db,
        [DIRECT] = &placing.direct_db,
    };
    fe_status status = FE_OK;
    for (int class = 0; class < HOP_CLASSES && status >= 0; class ++)
        status = fe_status_worse(status,
                                 measure_shift(s, (hop_class) class,
                                               share_of(relays, site->sharing), shifts[class]));
    fe_placing_best best;
    if (status >= 0)
        status = fe_status_worse(status, fe_placing_find(&placing, relays, &best));
    if (status < 0)
        return status;
    *way = (fe_relay_way){.searched_db = best.margin_db};
    for (unsigned i = 0; i < relays; i++) {
        const node *at = &s->nodes[best.place[i]];
        way->places[i] = (fe_chain_place){s->grid.distance_m[at->point], site->relay};
        way->places[i].station.height_m = site->masts_m[at->mast];
    }
    return fe_status_worse(status, fe_chain_at(site->direct, way->places, relays, site->sharing,
                                               site->seasons, site->season_count, site->wanted,
                                               &way->chain));
}

static void search_free(search *s)
{
    fe_profile_free(&s->grid);
    free(s->nodes);
    free(s->node_of);
    free(s->is_node);
    free(s->margin_db);
    free(s->over_db);
    free(s->seconds);
}

static bool is_usable(const fe_relay_site *site)
{
    for (size_t i = 0; i < site->mast_count; i++)
        if (!(site->masts_m[i] > 0.0) || !isfinite(site->masts_m[i]))
            return false;
    for (size_t i = 0; i < site->place_count; i++)
        if (!(site->places_m[i] > (i > 0 ? site->places_m[i - 1] : 0.0)))
            return false;
    return site->mast_count > 0 && site->season_count > 0 && site->step_m > 0.0 &&
           fe_profile_length(site->direct->ground) / site->step_m < FE_RELAY_MOST_POINTS;
}

fe_status fe_relay_search(const fe_relay_site *site, unsigned most, fe_relay_way *ways,
                          size_t *count)
{
    if (!is_usable(site) || most > FE_CHAIN_MOST_RELAYS)
        return FE_E_DOMAIN;
    search s = {.site = site, .lambda_m = FE_SPEED_OF_LIGHT_M_S / site->direct->f_hz};
    fe_effective_earth earth;
    size_t found = 0;
    fe_status status = fe_effective_earth_radius(HOP_LAPSE_N_PER_KM, &earth);
    if (status >= 0) {
        s.ae_m = earth.ae_m;
        status = make_grid(&s);
    }
    if (status >= 0)
        status = make_nodes(&s);
    if (status >= 0)
        status = measure_fades(&s);
    if (status >= 0)
        status = fe_status_worse(status, measure_rates(&s));
    if (status >= 0)
        status = fe_status_worse(status, fill_margins(&s));
    for (unsigned relays = 0; relays <= most && status >= 0; relays++) {
        const fe_status way = find_way(&s, relays, &ways[relays]);
        if (way == FE_E_NO_SOLUTION && relays > 0)
            break; /* fewer places than relays, or none of them reachable */
        status = fe_status_worse(status, way);
        if (status < 0)
            break;
        found = relays + 1;
        /* One more than needed shows what another would bring. */
        if (relays > 0 && ways[relays - 1].chain.chance >= site->wanted->confidence)
            break;
    }
    search_free(&s);
    if (status >= 0)
        *count = found;
    return status;
}
