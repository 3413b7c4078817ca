/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/path_loss.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/argument.h"
#include "farend/dielectric.h"
#include "farend/diffraction.h"
#include "farend/earth.h"
#include "farend/entry_loss.h"
#include "farend/free_space.h"
#include "farend/gas.h"
#include "farend/ground_ray.h"
#include "farend/height_error.h"
#include "farend/knife_edge.h"
#include "farend/standing.h"
#include "farend/wall.h"
#include "farend/woodland.h"
#include "propagation/hop_parts.h"

/* A null that costs less, errors of the heights averaged in, is not named. */
static const double NULL_WORTH_NAMING_DB = 3.0;

/* Walls are known to a material, not to a mix of it. Common practice, no source. */
static const double WALL_SIGMA_SHARE = 0.2;
static const double WALL_SIGMA_LEAST_DB = 1.0;

/* The profile of one hop in one season, with all that is read off it again and again. */
typedef struct season_path {
    fe_profile ground;   /* raised by the season; clutter_m: what counts of it, null: nothing */
    double *top_m;       /* that ground with what counts on it; null: nothing does */
    double *canopy_m;    /* trees above that ground; 0 where none stand */
    double antenna_m[2]; /* above the datum */
    double ae_m;
} season_path;

static void season_path_free(season_path *path)
{
    fe_profile_free(&path->ground);
    free(path->top_m);
    free(path->canopy_m);
    path->top_m = NULL;
    path->canopy_m = NULL;
}

static bool stands_at(const fe_stand *stand, double d_m, double step_m)
{
    return d_m >= stand->from_m - step_m / 2.0 && d_m <= stand->to_m + step_m / 2.0;
}

/* The season's ground, finely, and its top where something stands on it. */
static fe_status make_ground(const fe_hop *hop, const fe_season *season, double step_m,
                             season_path *path)
{
    fe_profile counted = {0};
    fe_profile fine = {0};
    fe_status status = fe_standing_counted(hop, &counted);
    if (status >= 0)
        status = fe_profile_refine(&counted, step_m, &fine);
    if (status >= 0)
        status = fe_season_ground(season, &fine, &path->ground);
    fe_profile_free(&fine);
    fe_profile_free(&counted);
    if (status < 0 || !path->ground.clutter_m)
        return status;
    path->top_m = malloc(path->ground.count * sizeof *path->top_m);
    if (!path->top_m)
        return FE_E_MEMORY;
    for (size_t i = 0; i < path->ground.count; i++)
        path->top_m[i] = path->ground.height_m[i] + path->ground.clutter_m[i];
    return FE_OK;
}

static fe_status season_path_make(const fe_hop *hop, const fe_season *season, season_path *path)
{
    const double length_m = fe_profile_length(hop->ground);
    const double step_m = fmax(HOP_FINEST_STEP_M, length_m / HOP_POINTS_WANTED);
    fe_status status = make_ground(hop, season, step_m, path);
    if (status < 0)
        return status;

    path->canopy_m = calloc(path->ground.count, sizeof *path->canopy_m);
    if (!path->canopy_m)
        return FE_E_MEMORY;
    const double rise_m = fe_season_rise(season);
    for (size_t s = 0; s < hop->stand_count; s++)
        for (size_t i = 0; i < path->ground.count; i++)
            if (stands_at(&hop->stands[s], path->ground.distance_m[i], step_m))
                path->canopy_m[i] = fmax(path->canopy_m[i], hop->stands[s].height_m - rise_m);

    const size_t last = hop->ground->count - 1;
    path->antenna_m[0] = hop->ground->height_m[0] + hop->ends[0].height_m;
    path->antenna_m[1] = hop->ground->height_m[last] + hop->ends[1].height_m;
    fe_effective_earth earth;
    status = fe_effective_earth_radius(HOP_LAPSE_N_PER_KM, &earth);
    path->ae_m = earth.ae_m;
    return status;
}

static bool is_buried(const season_path *path, int end)
{
    const size_t at = end == 0 ? 0 : path->ground.count - 1;
    return path->antenna_m[end] < path->ground.height_m[at] + HOP_LEAST_AIR_M;
}

static fe_diffraction_path as_diffraction(const season_path *path, const double *clutter_m)
{
    return (fe_diffraction_path){
        .d_m = path->ground.distance_m,
        .h_m = path->ground.height_m,
        .clutter_m = clutter_m,
        .n = path->ground.count,
        .antenna1_m = path->antenna_m[0],
        .antenna2_m = path->antenna_m[1],
    };
}

fe_surface hop_surface(const fe_hop *hop, const fe_season *season)
{
    const bool frozen = season->hottest_c < 0.0;
    if (hop->land == FE_LAND_WATER)
        return frozen ? FE_SURFACE_ICE : FE_SURFACE_WATER;
    return season->surface;
}

/* ---- Ground ---- */

/* The ray off the ground, with the errors of heights averaged in. */
static fe_status ground_ray(const fe_hop *hop, const fe_season *season,
                            const fe_smooth_surface *fit, double distance_m,
                            fe_ground_spread *spread)
{
    const fe_ground_path ray = {
        .f_hz = hop->f_hz,
        .distance_m = distance_m,
        .height1_m = fit->effective1_m,
        .height2_m = fit->effective2_m,
    };
    fe_reflection reflection;
    fe_status status = fe_ground_reflection_over(&ray, hop_surface(hop, season),
                                                 FE_GROUND_VERTICAL, &reflection);
    if (status < 0)
        return status;
    return fe_status_worse(status,
                           fe_ground_ray_spread(&ray, &reflection, FE_GROUND_HEIGHT_ERROR_M,
                                                FE_GROUND_HEIGHT_ERROR_M, spread));
}

/*
 * Heights of one end at which the rays cancel. A null counts where the end stands within a
 * quarter of the way to the next; the better height is half-way between two nulls. Blurred by
 * the errors of heights there is no null to avoid.
 */
static fe_status look_for_null(const fe_hop *hop, const fe_smooth_surface *fit,
                               double distance_m, int end, fe_path_loss *loss)
{
    const double own_m = end == 0 ? fit->effective1_m : fit->effective2_m;
    const fe_ground_path ray = {
        .f_hz = hop->f_hz,
        .distance_m = distance_m,
        .height1_m = end == 0 ? fit->effective2_m : fit->effective1_m,
        .height2_m = own_m,
    };
    double nulls_m[64];
    size_t count = 0;
    fe_status status = fe_ground_nulls(&ray, 0.0, 2.0 * own_m + 5.0, nulls_m, 64, &count);
    if (status < 0)
        return status;
    if (count > 64)
        count = 64;
    for (size_t i = 0; i < count; i++) {
        /* Nulls repeat evenly; that at the ground itself is no null to move out of. */
        const double apart_m = nulls_m[0];
        if (fabs(own_m - nulls_m[i]) > apart_m / 4.0)
            continue;
        const double up_m = nulls_m[i] + apart_m / 2.0 - own_m;
        loss->null_height[end] = true;
        loss->better_height_m[end] = hop->ends[end].height_m + up_m;
    }
    return status;
}

/* Inside the break-point with nothing in the zone: the ray alone. */
static void use_ray(const fe_ground_spread *ray, fe_path_loss *loss)
{
    loss->ground_method = FE_GROUND_RAY;
    /* Where any phase is as likely as another the median stands for what will be built. */
    loss->ground_db = ray->any_phase ? ray->loss_p50_db : ray->loss_db;
    loss->ground_sigma_db = (ray->loss_p90_db - ray->loss_p10_db) / HOP_TENTHS_SIGMAS;
}

/* Loss of obstacles alone: the edge where there is just one, else delta-Bullington. */
static fe_status use_obstacles(const season_path *path, const double *top_m, const fe_hop *hop,
                               const fe_delta_bullington *bullington, fe_path_loss *loss)
{
    fe_isolated_edge edge;
    fe_status status = fe_isolated_edge_find(path->ground.distance_m, top_m, path->ground.count,
                                             path->antenna_m[0], path->antenna_m[1], path->ae_m,
                                             hop->f_hz, &edge);
    if (status < 0)
        return status;
    loss->ground_method = edge.found ? FE_GROUND_EDGE : FE_GROUND_DELTA_BULLINGTON;
    loss->ground_db = edge.found ? edge.loss_db : bullington->loss_db;
    loss->ground_sigma_db = edge.found ? HOP_EDGE_SIGMA_DB : HOP_SEVERAL_OBSTACLES_SIGMA_DB;
    return status;
}

/*
 * The round earth and the ground ray are the same thing told twice, so beyond the break-point
 * the greater of the two stands in for delta-Bullington's spherical term.
 */
static void use_greater(const fe_delta_bullington *bullington, const fe_ground_spread *ray,
                        fe_path_loss *loss)
{
    const double round_db = fmax(bullington->sphere.loss_db, ray->loss_db);
    loss->ground_method = FE_GROUND_BEYOND;
    loss->ground_db =
        bullington->actual.loss_db + fmax(0.0, round_db - bullington->smooth.loss_db);
    const bool clear = bullington->actual.edge_db <= 0.0;
    loss->ground_sigma_db = clear ? HOP_EDGE_SIGMA_DB : HOP_SEVERAL_OBSTACLES_SIGMA_DB;
}

/* Heights that were only roughly surveyed widen the spread of what the ground does. */
static fe_status widen_by_survey(const season_path *path, const fe_diffraction_path *over,
                                 const fe_diffraction_wave *wave, fe_path_loss *loss)
{
    if (!path->ground.height_error_m)
        return FE_OK;
    fe_height_spread survey;
    const fe_status status =
        fe_height_error_spread(over, path->ground.height_error_m, wave, &survey);
    if (status < 0)
        return status;
    loss->clearance_sigma_m = survey.clearance_sigma_m;
    loss->ground_sigma_db = hypot(loss->ground_sigma_db, survey.loss_sigma_db);
    return status;
}

/* The ground with nothing on it, or with all that counts: the fit is that of the bare ground.
 */
static fe_status ground_over(const fe_hop *hop, const fe_season *season,
                             const season_path *path, bool bare, fe_path_loss *loss)
{
    const double distance_m = fe_profile_length(&path->ground);
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(hop->f_hz, path->ae_m, true);
    const fe_diffraction_path over = as_diffraction(path, bare ? NULL : path->ground.clutter_m);
    const double *top_m = bare ? path->ground.height_m : path->top_m;
    fe_delta_bullington bullington;
    fe_status status = fe_delta_bullington_loss(&over, &wave, &bullington);
    if (status < 0)
        return status;

    fe_ground_spread ray;
    const fe_smooth_surface *fit = &bullington.fit;
    status = fe_status_worse(status, ground_ray(hop, season, fit, distance_m, &ray));
    if (status >= 0)
        status = fe_status_worse(status,
                                 fe_ground_breakpoint(hop->f_hz, fit->effective1_m,
                                                      fit->effective2_m, &loss->break_point_m));
    if (status < 0)
        return status;

    if (distance_m > loss->break_point_m) {
        use_greater(&bullington, &ray, loss);
    } else if (bullington.actual.v > FE_KNIFE_EDGE_CLEAR_V) {
        status = fe_status_worse(status, use_obstacles(path, top_m, hop, &bullington, loss));
    } else {
        use_ray(&ray, loss);
        /* A null that the errors of the heights blur costs little and is no reason to move. */
        const bool deep = !ray.any_phase && ray.loss_db > NULL_WORTH_NAMING_DB;
        for (int end = 0; end < 2 && status >= 0 && deep; end++)
            status = fe_status_worse(status, look_for_null(hop, fit, distance_m, end, loss));
    }
    return status < 0 ? status
                      : fe_status_worse(status, widen_by_survey(path, &over, &wave, loss));
}

/*
 * What stands on the profile, as solid as the ground: the way over both, and never better than
 * over the bare ground. Where it decides, its spread stands and a null of the ground ray is no
 * matter.
 */
static fe_status standing_part(const fe_hop *hop, const fe_season *season,
                               const season_path *path, fe_path_loss *loss)
{
    if (!path->top_m)
        return FE_OK;
    fe_path_loss over = {.better_height_m = {NAN, NAN}};
    const fe_status status = ground_over(hop, season, path, false, &over);
    if (status < 0 || !(over.ground_db > loss->ground_db))
        return status;
    loss->standing_db = over.ground_db - loss->ground_db;
    loss->ground_sigma_db = over.ground_sigma_db;
    loss->clearance_sigma_m = over.clearance_sigma_m;
    for (int end = 0; end < 2; end++) {
        loss->null_height[end] = over.null_height[end];
        loss->better_height_m[end] = over.better_height_m[end];
    }
    return status;
}

/* ---- Trees ---- */

/* Length of the straight line inside one stand, which stands on the bare ground. */
static double depth_in(const fe_hop *hop, const season_path *path, const fe_stand *stand)
{
    enum { SAMPLES = 400 };
    const double length_m = fe_profile_length(hop->ground);
    const double from_m = fmax(0.0, stand->from_m);
    const double to_m = fmin(length_m, stand->to_m);
    const double step_m = (to_m - from_m) / SAMPLES;
    unsigned inside = 0;
    for (int i = 0; i < SAMPLES && step_m > 0.0; i++) {
        const double d_m = from_m + (i + 0.5) * step_m;
        const double line_m =
            path->antenna_m[0] + (path->antenna_m[1] - path->antenna_m[0]) * d_m / length_m;
        inside += line_m < fe_profile_height_at(hop->ground, d_m) + stand->height_m;
    }
    return inside * step_m;
}

bool hop_wood_holds_end(const fe_stand *stand, double length_m, double height1_m,
                        double height2_m)
{
    return (stand->from_m <= 0.0 && height1_m < stand->height_m) ||
           (stand->to_m >= length_m && height2_m < stand->height_m);
}

fe_status hop_wood_loss(double f_hz, double depth_m, double factor, double *loss_db)
{
    double gamma_db_per_m = 0.0;
    double most_db = 0.0;
    fe_status status = fe_woodland_specific(f_hz, &gamma_db_per_m);
    if (status >= 0)
        status = fe_status_worse(
            status, fe_woodland_most(FE_WOOD_CONIFEROUS_DECIDUOUS, f_hz, &most_db));
    if (status >= 0)
        status = fe_status_worse(
            status, fe_woodland_loss(depth_m, factor * gamma_db_per_m, most_db, loss_db));
    return status;
}

static fe_status loss_through(const fe_hop *hop, const fe_season *season,
                              const season_path *path, fe_path_loss *loss)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < hop->stand_count && status >= 0; i++) {
        const fe_stand *stand = &hop->stands[i];
        const double depth_m = depth_in(hop, path, stand);
        if (!(depth_m > 0.0))
            continue;
        const fe_foliage_state trees = {stand->kind, season->in_leaf, season->trees};
        double through_db = 0.0;
        if (hop_wood_holds_end(stand, fe_profile_length(hop->ground), hop->ends[0].height_m,
                               hop->ends[1].height_m)) {
            const double factor = fe_foliage_factor_of(&trees).typical;
            status =
                fe_status_worse(status, hop_wood_loss(hop->f_hz, depth_m, factor, &through_db));
            loss->used |= FE_USED_WOOD;
        } else {
            fe_foliage_result foliage;
            status = fe_status_worse(status,
                                     fe_foliage_budget(&trees, hop->f_hz, depth_m, &foliage));
            if (status >= 0)
                through_db = foliage.loss_db;
            loss->used |= FE_USED_STAND;
        }
        loss->trees_depth_m += depth_m;
        loss->trees_through_db += through_db;
    }
    return status;
}

/* The crowns and what else counts as solid, above the season's ground. */
static void raise_canopy(season_path *path)
{
    for (size_t i = 0; path->ground.clutter_m && i < path->ground.count; i++)
        path->canopy_m[i] = fmax(path->canopy_m[i], path->ground.clutter_m[i]);
}

/*
 * Through the trees and over them as two routes side by side, beyond the loss of the ground and
 * of what else stands on it.
 */
static fe_status trees_part(const fe_hop *hop, const fe_season *season, season_path *path,
                            fe_path_loss *loss)
{
    fe_status status = loss_through(hop, season, path, loss);
    if (status < 0 || !(loss->trees_through_db > 0.0))
        return status;

    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(hop->f_hz, path->ae_m, true);
    raise_canopy(path);
    const fe_diffraction_path opaque = as_diffraction(path, path->canopy_m);
    const double solid_db = loss->ground_db + loss->standing_db;
    fe_delta_bullington over;
    status = fe_status_worse(status, fe_delta_bullington_loss(&opaque, &wave, &over));
    double both_db = 0.0;
    if (status >= 0)
        status = fe_status_worse(status, fe_foliage_routes(solid_db, loss->trees_through_db,
                                                           over.loss_db, &both_db));
    if (status < 0)
        return status;
    /* Two routes cannot beat the way that had no trees on it. */
    loss->trees_db = fmax(0.0, both_db - solid_db);
    return status;
}

/* ---- Walls, covers, air ---- */

static fe_status entry_part(const fe_hop *hop, int end, fe_path_loss *loss)
{
    fe_entry_spread entry;
    fe_status status =
        fe_entry_loss_spread(fe_entry_building_find("traditional"), hop->f_hz, 0.0, &entry);
    if (status < 0)
        return status;
    loss->wall_db[end] = entry.median_db;
    loss->wall_sigma_db[end] = entry.sigma_db;
    return status;
}

static fe_status walls_part(const fe_hop *hop, int end, fe_path_loss *loss)
{
    const fe_station *station = &hop->ends[end];
    if (station->wall_unknown || station->wall_count > 0)
        loss->used |= station->wall_unknown ? FE_USED_ENTRY : FE_USED_WALLS;
    if (station->wall_unknown)
        return entry_part(hop, end, loss);
    const fe_incidence wave = {
        .f_hz = hop->f_hz, .incidence_rad = 0.0, .polarisation = FE_POLARISATION_TE};
    fe_status status = FE_OK;
    double variance = 0.0;
    for (size_t i = 0; i < station->wall_count && status >= 0; i++) {
        const fe_hop_wall *wall = &station->walls[i];
        fe_wall_result result;
        status = fe_status_worse(status,
                                 fe_wall_loss(wall->kind, wall->thickness_m, &wave, &result));
        if (status < 0)
            break;
        /* The middle of the ripple: nobody knows a wall to a part of a wavelength. */
        const double loss_db = (result.low_db + result.high_db) / 2.0;
        const double sigma_db = fmax(WALL_SIGMA_LEAST_DB, WALL_SIGMA_SHARE * loss_db);
        loss->wall_db[end] += loss_db;
        variance += sigma_db * sigma_db;
    }
    loss->wall_sigma_db[end] = sqrt(variance);
    return status;
}

static fe_status cover_part(const fe_hop *hop, const fe_season *season, int end,
                            fe_path_loss *loss)
{
    if (hop->ends[end].mount != FE_MOUNT_OUTDOORS)
        return FE_OK;
    return fe_cover_loss(season->cover, hop->f_hz, &loss->cover_db[end]);
}

static fe_status air_part(const fe_hop *hop, fe_path_loss *loss)
{
    const fe_gas_air air = fe_gas_standard_air();
    fe_gas_attenuation gas;
    fe_status status = fe_gas_specific(hop->f_hz, &air, &gas);
    if (status < 0)
        return status;
    loss->gas_db = gas.gamma_total_db_per_m * loss->distance_m;
    /* Below 1 GHz the sum is not stated, and a path of 2 km would lose under 0.02 dB. */
    return FE_OK;
}

static fe_status walk_part(const fe_hop *hop, const season_path *path, fe_path_loss *loss)
{
    if (path->ground.count < 3)
        return FE_OK;
    loss->has_tightest = true;
    const fe_status status = fe_fresnel_walk(
        path->ground.distance_m, path->top_m ? path->top_m : path->ground.height_m,
        path->ground.count, path->antenna_m[0], path->antenna_m[1], path->ae_m, hop->f_hz,
        &loss->tightest);
    if (status >= 0 && path->top_m)
        loss->tightest_standing_m = path->ground.clutter_m[loss->tightest.index];
    return status;
}

/* Takes a part's status into that of the whole, and remembers which part left its range. */
static fe_status note(fe_status sofar, fe_status part, unsigned flag, fe_path_loss *loss)
{
    if (part == FE_W_RANGE)
        loss->outside |= flag;
    return fe_status_worse(sofar, part);
}

static fe_status all_parts(const fe_hop *hop, const fe_season *season, season_path *path,
                           fe_path_loss *loss)
{
    fe_status status =
        note(FE_OK, ground_over(hop, season, path, true, loss), FE_OUTSIDE_GROUND, loss);
    if (status >= 0)
        status = note(status, standing_part(hop, season, path, loss), FE_OUTSIDE_GROUND, loss);
    if (status >= 0)
        status = note(status, trees_part(hop, season, path, loss), FE_OUTSIDE_TREES, loss);
    for (int end = 0; end < 2 && status >= 0; end++) {
        status = note(status, walls_part(hop, end, loss), FE_OUTSIDE_WALLS, loss);
        if (status >= 0)
            status = note(status, cover_part(hop, season, end, loss), FE_OUTSIDE_COVERS, loss);
    }
    if (status >= 0)
        status = fe_status_worse(status, air_part(hop, loss));
    /* Close to an end the zone's width is not known well; that is no fault of the loss. */
    if (status >= 0 && walk_part(hop, path, loss) < 0)
        loss->has_tightest = false;
    if (status < 0)
        return status;
    loss->total_db = loss->free_space_db + loss->ground_db + loss->standing_db +
                     loss->trees_db + loss->wall_db[0] + loss->wall_db[1] + loss->cover_db[0] +
                     loss->cover_db[1] + loss->gas_db;
    return status;
}

bool fe_path_loss_is_buried(const fe_path_loss *loss)
{
    return loss->buried[0] || loss->buried[1];
}

fe_status fe_path_loss_in_season(const fe_hop *hop, const fe_season *season, fe_path_loss *loss)
{
    for (int end = 0; end < 2; end++)
        if (!is_at_least_zero(hop->ends[end].height_m))
            return FE_E_DOMAIN;
    if (!hop->ground || hop->ground->count < 2)
        return FE_E_DOMAIN;

    season_path path = {0};
    fe_path_loss found = {.better_height_m = {NAN, NAN}};
    fe_status status = season_path_make(hop, season, &path);
    if (status < 0)
        goto done;
    found.distance_m =
        hypot(fe_profile_length(&path.ground), path.antenna_m[1] - path.antenna_m[0]);
    status = fe_status_worse(
        status, fe_free_space_loss(found.distance_m, hop->f_hz, &found.free_space_db));
    if (status < 0)
        goto done;

    for (int end = 0; end < 2; end++)
        found.buried[end] = is_buried(&path, end);
    if (fe_path_loss_is_buried(&found))
        found.total_db = INFINITY;
    else
        status = fe_status_worse(status, all_parts(hop, season, &path, &found));
    if (status >= 0)
        *loss = found;
done:
    season_path_free(&path);
    return status;
}
