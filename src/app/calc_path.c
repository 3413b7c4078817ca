/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formulas of the bare path: free space, earth, Fresnel zones, edges and ground profiles. */
#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "calc.h"
#include "farend/constants.h"
#include "farend/csv.h"
#include "farend/diffraction.h"
#include "farend/earth.h"
#include "farend/free_space.h"
#include "farend/fresnel.h"
#include "farend/knife_edge.h"
#include "farend/obstruction.h"
#include "farend/profile.h"
#include "farend/textfile.h"

static const char POSITIVE_PATH[] = "distances and frequency must be above 0";

static fe_status run_free_space(calc_call *call)
{
    double loss_db = 0.0;
    const fe_status status = fe_free_space_loss(calc_number(call, "distance"),
                                                calc_number(call, "frequency"), &loss_db);
    if (status < 0) {
        calc_explain(call, "distance and frequency must be above 0");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "nearer than a wavelength, where the far field has not begun");
    calc_result(call, "loss_db", loss_db, "dB");
    return status;
}

static fe_status run_earth_radius(calc_call *call)
{
    fe_effective_earth earth = {0};
    const fe_status status = fe_effective_earth_radius(calc_number(call, "lapse"), &earth);
    if (status < 0) {
        calc_explain(call, "lapse must be below 157: from there on a ray follows the ground");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "refractivity that rises with height is no average air");
    calc_result(call, "k_factor", earth.k_factor, "");
    calc_result(call, "ae_km", 1e-3 * earth.ae_m, "km");
    return status;
}

static fe_status run_fresnel(calc_call *call)
{
    const double zone = calc_number(call, "zone");
    double radius_m = 0.0;
    if (!(zone >= 1.0 && zone <= 1e6)) {
        calc_explain(call, "zone must be 1 to 1000000");
        return FE_E_DOMAIN;
    }
    const fe_status status = fe_fresnel_radius((unsigned)zone, calc_number(call, "distance1"),
                                               calc_number(call, "distance2"),
                                               calc_number(call, "frequency"), &radius_m);
    if (status < 0) {
        calc_explain(call, "%s", POSITIVE_PATH);
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "within 13 wavelengths of an end (times the zone's number) the "
                           "true zone is wider");
    calc_result(call, "radius_m", radius_m, "m");
    return status;
}

static fe_status run_knife_edge(calc_call *call)
{
    double v = 0.0;
    double fit_db = 0.0;
    double exact_db = 0.0;
    const fe_status status =
        fe_knife_edge_v(calc_number(call, "height"), calc_number(call, "distance1"),
                        calc_number(call, "distance2"), calc_number(call, "frequency"), &v);
    const fe_status losses = status < 0
                                 ? status
                                 : fe_status_worse(fe_knife_edge_loss_fit(v, &fit_db),
                                                   fe_knife_edge_loss_exact(v, &exact_db));
    if (losses < 0) {
        calc_explain(call, "%s", POSITIVE_PATH);
        return losses;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "the edge must be lower than a tenth of the nearer distance, and "
                           "a wavelength or more away");
    calc_result(call, "v", v, "");
    calc_result(call, "loss_fit_db", fit_db, "dB");
    calc_result(call, "loss_exact_db", exact_db, "dB");
    return status;
}

static fe_status run_obstruction(calc_call *call)
{
    fe_obstruction result = {0};
    const fe_status status = fe_terrain_obstruction_loss(
        calc_number(call, "clearance"), calc_number(call, "distance1"),
        calc_number(call, "distance2"), calc_number(call, "frequency"), &result);
    if (status < 0) {
        calc_explain(call, "%s", POSITIVE_PATH);
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "stated for losses above about 15 dB");
    calc_result(call, "radius_m", result.radius_m, "m");
    calc_result(call, "loss_db", result.loss_db, "dB");
    return status;
}

/* ---- Ground profiles ---- */

/* A profile as `calc` reads it: unlike a plan's, it may be in km and may carry clutter. */
typedef struct calc_profile {
    double *d_m;
    double *h_m;
    double *clutter_m; /* null where the file has none */
    size_t n;
} calc_profile;

static void profile_free(calc_profile *profile)
{
    free(profile->d_m);
    free(profile->h_m);
    free(profile->clutter_m);
}

static fe_status read_column(calc_call *call, const fe_csv *table, const char *name,
                             double scale, double **values)
{
    const size_t n = fe_csv_rows(table);
    double *column = calloc(n, sizeof *column);
    if (!column)
        return FE_E_MEMORY;
    for (size_t i = 0; i < n; i++) {
        column[i] = scale * fe_csv_number(table, i, name);
        if (!isfinite(column[i])) {
            calc_explain(call, "profile=%.100s: line %d has no number in column %s",
                         calc_word(call, "profile"), fe_csv_line(table, i), name);
            free(column);
            return FE_E_INPUT;
        }
    }
    *values = column;
    return FE_OK;
}

static fe_status read_columns(calc_call *call, const fe_csv *table, calc_profile *profile)
{
    const bool in_km = fe_csv_column(table, "distance_m") < 0;
    if (in_km && fe_csv_column(table, "distance_km") < 0) {
        calc_explain(call, "profile=%.100s: no column distance_m or distance_km",
                     calc_word(call, "profile"));
        return FE_E_INPUT;
    }
    if (fe_csv_rows(table) > FE_PROFILE_MOST_POINTS) {
        calc_explain(call, "profile=%.100s: more than %d points", calc_word(call, "profile"),
                     FE_PROFILE_MOST_POINTS);
        return FE_E_INPUT;
    }
    profile->n = fe_csv_rows(table);
    fe_status status = read_column(call, table, in_km ? "distance_km" : "distance_m",
                                   in_km ? 1e3 : 1.0, &profile->d_m);
    if (status == FE_OK)
        status = read_column(call, table, "height_m", 1.0, &profile->h_m);
    if (status == FE_OK && fe_csv_column(table, "clutter_m") >= 0)
        status = read_column(call, table, "clutter_m", 1.0, &profile->clutter_m);
    return status;
}

static bool distances_rise(const calc_profile *profile)
{
    for (size_t i = 1; i < profile->n; i++)
        if (!(profile->d_m[i] > profile->d_m[i - 1]))
            return false;
    return profile->n >= 2;
}

/* On error everything is freed and explained. */
static fe_status read_profile(calc_call *call, calc_profile *profile)
{
    const char *path = calc_word(call, "profile");
    fe_csv *table = NULL;
    int bad_line = 0;
    *profile = (calc_profile){0};
    fe_status status = fe_csv_read(path, &table, &bad_line);
    if (status == FE_E_IO) {
        /* A name that is wrong is the user's; a disk that fails is not. */
        if (fe_textfile_is_no_file(errno))
            status = FE_E_INPUT;
        calc_explain(call, "profile=%.100s: %s", path, fe_textfile_reason(errno));
    } else if (status == FE_E_INPUT) {
        calc_explain(call, "profile=%.100s: line %d: " FE_CSV_FAULT, path, bad_line);
    }
    if (status != FE_OK)
        goto done;
    status = read_columns(call, table, profile);
    if (status == FE_OK && !distances_rise(profile)) {
        calc_explain(call, "profile=%.100s: two points or more, each farther than the last",
                     path);
        status = FE_E_INPUT;
    }
done:
    fe_csv_free(table);
    if (status != FE_OK) {
        profile_free(profile);
        *profile = (calc_profile){0};
    }
    return status;
}

/* From `k` or `ae`, or the usual 4/3 where neither is given. */
static fe_status read_earth(calc_call *call, double *ae_m)
{
    const double k = calc_number(call, "k");
    const double ae = calc_number(call, "ae");
    if (!isnan(k) && !isnan(ae)) {
        calc_explain(call, "k and ae say the same thing: give one of them");
        return FE_E_INPUT;
    }
    *ae_m = !isnan(ae) ? ae : FE_EARTH_RADIUS_M * (isnan(k) ? 4.0 / 3.0 : k);
    if (!(*ae_m > 0.0)) {
        calc_explain(call, "k and ae must be above 0");
        return FE_E_DOMAIN;
    }
    return FE_OK;
}

static const char PATH_MISTAKE[] =
    "heights must be 0 or more, frequency above 0, clutter not below 0, permittivity above 1, "
    "conductivity 0 or more, sea 0 to 1; a clearance needs three points or more";

static fe_diffraction_wave wave_of(const calc_call *call, double ae_m)
{
    fe_diffraction_wave wave = fe_diffraction_wave_over_land(
        calc_number(call, "frequency"), ae_m, calc_is_word(call, "polarisation", "vertical"));
    wave.permittivity = calc_number(call, "permittivity");
    wave.conductivity_s_m = calc_number(call, "conductivity");
    wave.omega_sea = calc_number(call, "sea");
    wave.c_m_s = calc_number(call, "light");
    return wave;
}

static void give_diffraction(calc_call *call, const fe_delta_bullington *got)
{
    calc_result(call, "loss_db", got->loss_db, "dB");
    calc_result_word(call, "line_of_sight", got->line_of_sight ? "yes" : "no");
    if (isfinite(got->actual.v))
        calc_result(call, "v", got->actual.v, "");
    calc_result(call, "bullington_actual_db", got->actual.loss_db, "dB");
    calc_result(call, "bullington_smooth_db", got->smooth.loss_db, "dB");
    calc_result(call, "spherical_db", got->sphere.loss_db, "dB");
    calc_result(call, "effective1_m", got->fit.effective1_m, "m");
    calc_result(call, "effective2_m", got->fit.effective2_m, "m");
    calc_result(call, "horizon_m", got->sphere.horizon_m, "m");
}

static fe_status run_diffraction(calc_call *call)
{
    double ae_m = 0.0;
    calc_profile profile;
    fe_delta_bullington got;
    fe_status status = read_earth(call, &ae_m);
    if (status == FE_OK)
        status = read_profile(call, &profile);
    if (status != FE_OK)
        return status;

    const fe_diffraction_wave wave = wave_of(call, ae_m);
    const fe_diffraction_path path = {
        .d_m = profile.d_m,
        .h_m = profile.h_m,
        .clutter_m = profile.clutter_m,
        .n = profile.n,
        .antenna1_m = profile.h_m[0] + calc_number(call, "height1"),
        .antenna2_m = profile.h_m[profile.n - 1] + calc_number(call, "height2"),
    };
    status = fe_delta_bullington_loss(&path, &wave, &got);
    if (status < 0)
        calc_explain(call, "%s", PATH_MISTAKE);
    else
        give_diffraction(call, &got);
    if (status == FE_W_RANGE)
        calc_explain(call, "stated from 10 MHz");
    profile_free(&profile);
    return status;
}

static void add_clutter(calc_profile *profile)
{
    for (size_t i = 1; profile->clutter_m && i + 1 < profile->n; i++)
        profile->h_m[i] += profile->clutter_m[i];
}

static void give_clearance(calc_call *call, const fe_fresnel_tightest *got,
                           const fe_isolated_edge *edge)
{
    calc_result(call, "distance_m", got->distance_m, "m");
    calc_result(call, "clearance_m", got->clearance_m, "m");
    calc_result(call, "radius_m", got->radius_m, "m");
    calc_result(call, "clearance_ratio", got->clearance_ratio, "");
    calc_result(call, "raise_end1_m", got->raise_end1_m, "m");
    calc_result(call, "raise_end2_m", got->raise_end2_m, "m");
    calc_result(call, "raise_both_m", got->raise_both_m, "m");
    calc_result_word(call, "isolated_edge", edge->found ? "yes" : "no");
    if (edge->found)
        calc_result(call, "edge_db", edge->loss_db, "dB");
}

static fe_status run_clearance(calc_call *call)
{
    double ae_m = 0.0;
    calc_profile profile;
    fe_fresnel_tightest got;
    fe_isolated_edge edge;
    fe_status status = read_earth(call, &ae_m);
    if (status == FE_OK)
        status = read_profile(call, &profile);
    if (status != FE_OK)
        return status;

    const double f_hz = calc_number(call, "frequency");
    const double antenna1_m = profile.h_m[0] + calc_number(call, "height1");
    const double antenna2_m = profile.h_m[profile.n - 1] + calc_number(call, "height2");
    add_clutter(&profile);
    status = fe_fresnel_walk(profile.d_m, profile.h_m, profile.n, antenna1_m, antenna2_m, ae_m,
                             f_hz, &got);
    if (status >= 0)
        status = fe_status_worse(status, fe_isolated_edge_find(profile.d_m, profile.h_m,
                                                               profile.n, antenna1_m,
                                                               antenna2_m, ae_m, f_hz, &edge));
    if (status < 0)
        calc_explain(call, "%s", PATH_MISTAKE);
    else
        give_clearance(call, &got, &edge);
    if (status == FE_W_RANGE)
        calc_explain(call, "the tightest point is within 13 wavelengths of an end, where the "
                           "true zone is wider");
    profile_free(&profile);
    return status;
}

/* ---- The table ---- */

/* clang-format off */
#define FREQUENCY {"frequency", CALC_QUANTITY, FE_DIM_FREQUENCY, NULL, NULL, "> 0"}
#define DISTANCE(name) {name, CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "> 0"}
#define MAST(name) {name, CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "above ground, >= 0"}
#define PROFILE {"profile", CALC_WORD, FE_DIM_NUMBER, NULL, NULL, \
                 "CSV: distance_m or distance_km, height_m, clutter_m if any"}
#define EARTH_K {"k", CALC_QUANTITY, FE_DIM_NUMBER, NULL, "", "> 0; 4/3 without k and ae"}
#define EARTH_AE {"ae", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "", "> 0; instead of k"}
/* clang-format on */

const calc_formula CALC_PATH[] = {
    {
        .name = "free-space",
        .summary = "loss between isotropic antennas with nothing around",
        .source = "ITU-R P.525-4 sec 2.2 eq 3, exact speed of light",
        .arguments = {DISTANCE("distance"), FREQUENCY},
        .results = "loss_db",
        .example = "distance=150m frequency=2437MHz",
        .run = run_free_space,
    },
    {
        .name = "earth-radius",
        .summary = "effective earth radius from the fall of refractivity",
        .source = "ITU-R P.452-18 eq 6, radius 6371 km",
        .arguments = {{"lapse", CALC_QUANTITY, FE_DIM_NUMBER, NULL, NULL,
                       "0 to below 157, N-units a km"}},
        .results = "k_factor ae_km",
        .example = "lapse=40",
        .run = run_earth_radius,
    },
    {
        .name = "fresnel",
        .summary = "radius of a Fresnel zone at one point of a path",
        .source = "ITU-R P.526-15 sec 2.1",
        .arguments = {DISTANCE("distance1"),
                      DISTANCE("distance2"),
                      FREQUENCY,
                      {"zone", CALC_QUANTITY, FE_DIM_COUNT, NULL, "1", "1 or more"}},
        .results = "radius_m",
        .example = "distance1=150m distance2=350m frequency=5500MHz",
        .run = run_fresnel,
    },
    {
        .name = "knife-edge",
        .summary = "loss over one sharp edge, by the usual fit and exactly",
        .source = "ITU-R P.526-15 sec 4.1 eq 26, 30 and 31",
        .arguments = {{"height", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL,
                       "over the line of sight, negative where clear"},
                      DISTANCE("distance1"),
                      DISTANCE("distance2"),
                      FREQUENCY},
        .results = "v loss_fit_db loss_exact_db",
        .example = "height=2m distance1=150m distance2=350m frequency=2437MHz",
        .run = run_knife_edge,
    },
    {
        .name = "obstruction",
        .summary = "loss over average terrain, a plausibility check",
        .source = "ITU-R P.530-18 sec 2.2.1 eq 2 and 3",
        .arguments = {{"clearance", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL,
                       "of the line over the obstacle, negative where it is cut"},
                      DISTANCE("distance1"),
                      DISTANCE("distance2"),
                      FREQUENCY},
        .results = "radius_m loss_db",
        .example = "clearance=-2m distance1=100m distance2=400m frequency=5500MHz",
        .run = run_obstruction,
    },
    {
        .name = "clearance",
        .summary = "where a ground profile comes nearest to the line of sight",
        .source = "ITU-R P.526-15 sec 2.1; one isolated edge by sec 4.1",
        .arguments = {PROFILE, MAST("height1"), MAST("height2"), FREQUENCY, EARTH_K, EARTH_AE},
        .results = "distance_m clearance_m radius_m clearance_ratio raise_end1_m raise_end2_m "
                   "raise_both_m isolated_edge edge_db",
        .example = "profile=profiles/terrain/low-ridge.csv height1=3m height2=3m "
                   "frequency=2437MHz",
        .run = run_clearance,
    },
    {
        .name = "diffraction",
        .summary = "loss over a ground profile and the round earth, beyond free space",
        .source = "ITU-R P.526-15 sec 4.5 (delta-Bullington)",
        .arguments = {PROFILE,
                      MAST("height1"),
                      MAST("height2"),
                      FREQUENCY,
                      EARTH_K,
                      EARTH_AE,
                      {"polarisation", CALC_WORD, FE_DIM_NUMBER, "vertical|horizontal",
                       "vertical", ""},
                      {"permittivity", CALC_QUANTITY, FE_DIM_NUMBER, NULL, "22", "> 1"},
                      {"conductivity", CALC_QUANTITY, FE_DIM_CONDUCTIVITY, NULL, "0.003 S/m",
                       ">= 0"},
                      {"sea", CALC_QUANTITY, FE_DIM_FRACTION, NULL, "0", "0 to 1"},
                      {"light", CALC_QUANTITY, FE_DIM_SPEED, NULL, "299792458 m/s",
                       "> 0; published cases used rounded ones"}},
        .results = "loss_db line_of_sight v bullington_actual_db bullington_smooth_db "
                   "spherical_db effective1_m effective2_m horizon_m",
        .example = "profile=profiles/terrain/low-ridge.csv height1=3m height2=3m "
                   "frequency=2437MHz",
        .run = run_diffraction,
    },
    {0},
};
