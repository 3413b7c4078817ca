/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formulas of the ground ray, foliage, weather, fading, streets and feeders. */
#include <math.h>
#include <string.h>

#include "calc.h"
#include "farend/clutter.h"
#include "farend/constants.h"
#include "farend/dielectric.h"
#include "farend/fading.h"
#include "farend/feeder.h"
#include "farend/foliage.h"
#include "farend/gas.h"
#include "farend/ground_ray.h"
#include "farend/rain.h"
#include "farend/street.h"
#include "farend/suggest.h"
#include "farend/woodland.h"

/* Place of a word among the choices of its argument, which are in the order of an enumeration.
 */
static int choice_of(const calc_call *call, const char *name, const char *const *choices)
{
    int at = 0;
    while (choices[at] && !calc_is_word(call, name, choices[at]))
        at++;
    return at;
}

/* ---- Ground ray ---- */

#define SURFACES "dry-soil|wet-soil|water|dry-snow|wet-snow|ice"
static const char *const SURFACE_WORDS[] = {"dry-soil", "wet-soil", "water", "dry-snow",
                                            "wet-snow", "ice",      NULL};

static fe_status reflection_of(const calc_call *call, const fe_ground_path *path,
                               fe_reflection *reflection)
{
    if (calc_is_word(call, "surface", "mirror")) {
        *reflection = (fe_reflection){1.0, FE_PI};
        return FE_OK;
    }
    const fe_ground_wave wave = calc_is_word(call, "polarisation", "horizontal")
                                    ? FE_GROUND_HORIZONTAL
                                    : FE_GROUND_VERTICAL;
    return fe_ground_reflection_over(
        path, (fe_surface)choice_of(call, "surface", SURFACE_WORDS), wave, reflection);
}

typedef struct two_ray {
    fe_reflection reflection;
    fe_ground_ray ray;
    fe_ground_spread spread;
    double breakpoint_m;
    double plane_earth_db;
    double below_m; /* heights of nulls about the second antenna's */
    double above_m;
} two_ray;

static fe_status solve_two_ray(const calc_call *call, const fe_ground_path *path, two_ray *got)
{
    const double error_m = calc_number(call, "height_error");
    fe_status status = reflection_of(call, path, &got->reflection);
    if (status >= 0)
        status = fe_status_worse(status, fe_ground_ray_loss(path, &got->reflection, &got->ray));
    if (status >= 0)
        status = fe_status_worse(status, fe_ground_ray_spread(path, &got->reflection, error_m,
                                                              error_m, &got->spread));
    if (status >= 0)
        status =
            fe_status_worse(status, fe_ground_breakpoint(path->f_hz, path->height1_m,
                                                         path->height2_m, &got->breakpoint_m));
    if (status >= 0)
        status =
            fe_status_worse(status, fe_ground_nulls_about(path, &got->below_m, &got->above_m));
    if (status < 0)
        return status;
    /* Nearer than the break-point the asymptote is beside the point, and no warning. */
    const fe_status plane = fe_ground_plane_earth(path, &got->plane_earth_db);
    return plane < 0 ? plane : status;
}

static void give_two_ray(calc_call *call, const two_ray *got)
{
    calc_result(call, "two_ray_exact_db", got->ray.total_db, "dB");
    calc_result(call, "free_space_db", got->ray.free_space_db, "dB");
    calc_result(call, "excess_db", got->ray.loss_db, "dB");
    calc_result(call, "reflection", got->reflection.size, "");
    calc_result(call, "excess_mean_db", got->spread.loss_db, "dB");
    calc_result(call, "excess_p10_db", got->spread.loss_p10_db, "dB");
    calc_result(call, "excess_p50_db", got->spread.loss_p50_db, "dB");
    calc_result(call, "excess_p90_db", got->spread.loss_p90_db, "dB");
    calc_result(call, "plane_earth_db", got->plane_earth_db, "dB");
    calc_result(call, "breakpoint_m", got->breakpoint_m, "m");
    calc_result(call, "null_below_m", got->below_m, "m");
    calc_result(call, "null_above_m", got->above_m, "m");
}

static fe_status run_two_ray(calc_call *call)
{
    const fe_ground_path path = {
        .f_hz = calc_number(call, "frequency"),
        .distance_m = calc_number(call, "distance"),
        .height1_m = calc_number(call, "height1"),
        .height2_m = calc_number(call, "height2"),
    };
    two_ray got = {.below_m = NAN, .above_m = NAN};
    const fe_status status = solve_two_ray(call, &path, &got);
    if (status < 0) {
        calc_explain(call, "frequency, distance and heights must be above 0, the height error "
                           "0 or more");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call,
                     "an antenna is within a wavelength of the ground or of the other, or "
                     "the surface's constants are not stated for this frequency");
    give_two_ray(call, &got);
    return status;
}

/* ---- Foliage and woodland ---- */

#define FOLIAGE_MODELS "modified_exponential_decay|early_itu|fitu_r|cost_235"
static const char *const FOLIAGE_WORDS[] = {"modified_exponential_decay", "early_itu", "fitu_r",
                                            "cost_235", NULL};
static const char *const TREE_KINDS[] = {"deciduous", "conifer", "hedge", NULL};
static const char *const TREE_STATES[] = {"dry", "wet", "frozen", NULL};

static fe_status run_foliage(calc_call *call)
{
    const double f_hz = calc_number(call, "frequency");
    const double depth_m = calc_number(call, "depth");
    const fe_foliage_state state = {
        .kind = (fe_tree_kind)choice_of(call, "kind", TREE_KINDS),
        .in_leaf = calc_is_word(call, "leaves", "in"),
        .trees = (fe_tree_state)choice_of(call, "state", TREE_STATES),
    };
    const fe_foliage_model model = (fe_foliage_model)choice_of(call, "model", FOLIAGE_WORDS);
    double loss_db = 0.0;
    fe_foliage_result season = {0};
    const fe_status status = fe_foliage_loss(model, state.in_leaf, f_hz, depth_m, &loss_db);
    const fe_status budget =
        status < 0 ? status : fe_foliage_budget(&state, f_hz, depth_m, &season);
    if (budget < 0) {
        calc_explain(call, "frequency must be above 0, depth 0 or more");
        return budget;
    }
    if (status == FE_W_RANGE)
        calc_explain(call,
                     "the law of loss_db was not stated for this frequency, depth or state "
                     "of leaf");
    calc_result(call, "loss_db", loss_db, "dB");
    calc_result(call, "season_loss_db", season.loss_db, "dB");
    calc_result(call, "season_low_db", season.loss_low_db, "dB");
    calc_result(call, "season_high_db", season.loss_high_db, "dB");
    return status;
}

static fe_status run_routes(calc_call *call)
{
    double loss_db = 0.0;
    const fe_status status =
        fe_foliage_routes(calc_number(call, "bare_loss"), calc_number(call, "foliage_loss"),
                          calc_number(call, "opaque_loss"), &loss_db);
    if (status >= 0)
        calc_result(call, "loss_db", loss_db, "dB");
    return status;
}

static const char *const WOODS[] = {"coniferous-deciduous", "mixed-forest", "tropical", NULL};

static fe_status run_woodland(calc_call *call)
{
    const double f_hz = calc_number(call, "frequency");
    double gamma_db_per_m = calc_number(call, "specific");
    double a_m_db = calc_number(call, "most");
    double loss_db = 0.0;
    fe_status status = FE_OK;
    if (isnan(gamma_db_per_m))
        status = fe_woodland_specific(f_hz, &gamma_db_per_m);
    if (isnan(a_m_db))
        status = fe_status_worse(
            status,
            fe_woodland_most((fe_woodland)choice_of(call, "wood", WOODS), f_hz, &a_m_db));
    if (status >= 0)
        status = fe_status_worse(status, fe_woodland_loss(calc_number(call, "depth"),
                                                          gamma_db_per_m, a_m_db, &loss_db));
    if (status < 0) {
        calc_explain(call, "depth and specific must be 0 or more, frequency and most above 0");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call,
                     "specific was read for 30 MHz to 30 GHz, most measured up to 2.2 GHz; "
                     "give both where they are known");
    calc_result(call, "loss_db", loss_db, "dB");
    calc_result(call, "gamma_db_per_m", gamma_db_per_m, "dB/m");
    calc_result(call, "a_m_db", a_m_db, "dB");
    return status;
}

/* ---- Weather ---- */

static double tilt_of(const calc_call *call)
{
    const double tilt_rad = calc_number(call, "tilt");
    if (!isnan(tilt_rad))
        return tilt_rad;
    if (calc_is_word(call, "polarisation", "horizontal"))
        return 0.0;
    return calc_is_word(call, "polarisation", "circular") ? FE_PI / 4.0 : FE_PI / 2.0;
}

static fe_status give_rain_path(calc_call *call, const fe_rain_wave *wave)
{
    const double distance_m = calc_number(call, "distance");
    fe_rain_path path = {0};
    if (isnan(distance_m))
        return FE_OK;
    const fe_status status = fe_rain_path_loss(wave, distance_m, calc_number(call, "rain_rate"),
                                               calc_number(call, "share"), &path);
    if (status < 0)
        return status;
    calc_result(call, "r_uncapped", isfinite(path.r_uncapped) ? path.r_uncapped : NAN, "");
    calc_result(call, "r_used", path.r, "");
    calc_result(call, "a001_db", path.loss_001_db, "dB");
    calc_result(call, "a_p_db", path.loss_db, "dB");
    return status;
}

static fe_status run_rain(calc_call *call)
{
    const fe_rain_wave wave = {
        .f_hz = calc_number(call, "frequency"),
        .elevation_rad = calc_number(call, "elevation"),
        .tilt_rad = tilt_of(call),
    };
    fe_rain_attenuation rain = {0};
    fe_status status = fe_rain_specific(&wave, calc_number(call, "rain_rate"), &rain);
    if (status >= 0) {
        calc_result(call, "k", rain.k, "");
        calc_result(call, "alpha", rain.alpha, "");
        calc_result(call, "gamma_db_km", 1000.0 * rain.gamma_db_per_m, "dB/km");
        status = fe_status_worse(status, give_rain_path(call, &wave));
    }
    if (status < 0)
        calc_explain(call, "frequency and distance must be above 0, rain 0 or more, elevation "
                           "within 90 deg of level, share above 0 and up to 100 %%");
    return status;
}

static fe_status run_gas(calc_call *call)
{
    const fe_gas_air air = {
        .dry_pressure_pa = calc_number(call, "dry_pressure"),
        .temp_c = calc_number(call, "temperature"),
        .water_vapour_kg_m3 = calc_number(call, "water_vapour"),
    };
    const double distance_m = calc_number(call, "distance");
    fe_gas_attenuation gas = {0};
    const fe_status status = distance_m < 0.0
                                 ? FE_E_DOMAIN
                                 : fe_gas_specific(calc_number(call, "frequency"), &air, &gas);
    if (status < 0) {
        calc_explain(call,
                     "frequency must be above 0, pressure, vapour and distance 0 or more, "
                     "temperature above absolute zero");
        return status;
    }
    calc_result(call, "gamma_oxygen_db_km", 1000.0 * gas.gamma_oxygen_db_per_m, "dB/km");
    calc_result(call, "gamma_water_db_km", 1000.0 * gas.gamma_water_db_per_m, "dB/km");
    calc_result(call, "gamma_total_db_km", 1000.0 * gas.gamma_total_db_per_m, "dB/km");
    if (!isnan(distance_m))
        calc_result(call, "loss_db", distance_m * gas.gamma_total_db_per_m, "dB");
    return status;
}

static fe_status run_refractivity(calc_call *call)
{
    fe_gas_refractivity n = {0};
    const fe_status status =
        fe_gas_refractivity_of(calc_number(call, "temperature"), calc_number(call, "pressure"),
                               calc_number(call, "humidity"), &n);
    if (status < 0) {
        calc_explain(call,
                     "pressure must be above 0 and above that of the vapour, humidity 0 to "
                     "100 %%");
        return status;
    }
    calc_result(call, "e_sat_hpa", n.e_sat_pa / 100.0, "hPa");
    calc_result(call, "e_hpa", n.e_pa / 100.0, "hPa");
    calc_result(call, "n_dry", n.n_dry, "");
    calc_result(call, "n_wet", n.n_wet, "");
    calc_result(call, "n_total", n.n_total, "");
    return status;
}

static fe_status permittivity_of(const calc_call *call, fe_permittivity *layer)
{
    const double f_hz = calc_number(call, "frequency");
    const double temp_c = calc_number(call, "temperature");
    const double density_kg_m3 = calc_number(call, "density");
    if (calc_is_word(call, "medium", "ice"))
        return fe_ice_permittivity(f_hz, temp_c, layer);
    if (calc_is_word(call, "medium", "dry-snow"))
        return fe_dry_snow_permittivity(density_kg_m3, f_hz, temp_c, layer);
    if (calc_is_word(call, "medium", "wet-snow"))
        return fe_wet_snow_permittivity(density_kg_m3, calc_number(call, "wetness"), f_hz,
                                        layer);
    return fe_water_permittivity(f_hz, temp_c, layer);
}

static fe_status run_water_film(calc_call *call)
{
    fe_permittivity layer = {0};
    double loss_db = 0.0;
    fe_status status = permittivity_of(call, &layer);
    if (status >= 0)
        status =
            fe_status_worse(status, fe_film_loss(&layer, calc_number(call, "thickness"),
                                                 calc_number(call, "frequency"), &loss_db));
    if (status < 0) {
        calc_explain(call, "frequency must be above 0, thickness 0 or more, density 0 to 917 "
                           "kg/m3, wetness 0 to 100 %%");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "water -20 to 50 degC; ice and dry snow up to 0 degC; wet snow 3 to "
                           "37 GHz, 90 to 380 kg/m3, 1 to 12 %% wet");
    calc_result(call, "eps_real", layer.real, "");
    calc_result(call, "eps_imag", layer.loss, "");
    calc_result(call, "film_transmission_loss_db", loss_db, "dB");
    return status;
}

/* ---- Fading ---- */

static const char *const FADING_LAWS[] = {"rayleigh", "rician", "lognormal", NULL};

static fe_status fading_of(calc_call *call, fe_fading *fading)
{
    *fading = (fe_fading){
        .law = (fe_fading_law)choice_of(call, "distribution", FADING_LAWS),
        .k_db = calc_number(call, "k_factor"),
        .sigma_db = calc_number(call, "sigma"),
        .reference =
            calc_is_word(call, "reference", "median") ? FE_FADING_MEDIAN : FE_FADING_MEAN,
    };
    if (fading->law == FE_FADING_RICIAN && isnan(fading->k_db))
        calc_explain(call, "rician needs k_factor, -40 to 30 dB");
    else if (fading->law == FE_FADING_LOGNORMAL && isnan(fading->sigma_db))
        calc_explain(call, "lognormal needs sigma, 0 to 30 dB");
    else
        return FE_OK;
    return FE_E_DOMAIN;
}

static fe_status run_fading(calc_call *call)
{
    const double margin_db = calc_number(call, "margin");
    double availability = calc_number(call, "availability");
    double found_db = margin_db;
    fe_fading fading;
    if (fading_of(call, &fading) < 0)
        return FE_E_DOMAIN;
    if (isnan(margin_db) == isnan(availability)) {
        calc_explain(call, "give either availability or margin");
        return FE_E_DOMAIN;
    }
    const fe_status status = isnan(margin_db)
                                 ? fe_fading_margin(&fading, availability, &found_db)
                                 : fe_fading_availability(&fading, margin_db, &availability);
    if (status < 0) {
        calc_explain(call, "availability must lie between 0 and 100 %%, k_factor -40 to 30 dB, "
                           "sigma 0 to 30 dB");
        return status;
    }
    calc_result(call, "margin_db", found_db, "dB");
    calc_result(call, "availability_pct", 100.0 * availability, "%");
    return status;
}

/* ---- Streets and clutter ---- */

static fe_status run_street(calc_call *call)
{
    const fe_street_law *law = fe_street_law_find(calc_word(call, "environment"));
    fe_street_loss loss = {0};
    const fe_status status = fe_street_site_general(law, calc_number(call, "frequency"),
                                                    calc_number(call, "distance"), &loss);
    if (status < 0) {
        calc_explain(call, "frequency and distance must be above 0");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "%s is stated for %g to %g GHz and %g to %g m", law->environment,
                     law->f_low_hz / 1e9, law->f_high_hz / 1e9, law->d_low_m, law->d_high_m);
    calc_result(call, "median_loss_db", loss.median_db, "dB");
    calc_result(call, "loss_p10_db", loss.p10_db, "dB");
    calc_result(call, "loss_p90_db", loss.p90_db, "dB");
    return status;
}

static fe_status run_street_bounds(calc_call *call)
{
    fe_street_bounds bounds = {0};
    const fe_status status = fe_street_breakpoint_bounds(
        calc_number(call, "frequency"), calc_number(call, "distance"),
        calc_number(call, "height1"), calc_number(call, "height2"), &bounds);
    if (status < 0) {
        calc_explain(call, "frequency, distance and heights must be above 0");
        return status;
    }
    calc_result(call, "breakpoint_m", bounds.breakpoint_m, "m");
    calc_result(call, "p1411_l_bp_db", bounds.loss_breakpoint_db, "dB");
    calc_result(call, "p1411_lower_db", bounds.lower_db, "dB");
    calc_result(call, "p1411_upper_db", bounds.upper_db, "dB");
    return status;
}

static fe_status run_clutter(calc_call *call)
{
    double loss_db = 0.0;
    const fe_status status =
        fe_clutter_statistical(calc_number(call, "frequency"), calc_number(call, "distance"),
                               calc_number(call, "share"), &loss_db);
    if (status < 0)
        calc_explain(call,
                     "frequency and distance must be above 0, share between 0 and 100 %%");
    else
        calc_result(call, "clutter_loss_db", loss_db, "dB");
    return status;
}

static fe_status run_clutter_height(calc_call *call)
{
    fe_clutter_place place = {
        .clutter = fe_clutter_find(calc_word(call, "clutter_type")),
        .clutter_height_m = calc_number(call, "clutter_height"),
        .street_width_m = calc_number(call, "street_width"),
        .antenna_height_m = calc_number(call, "antenna_height"),
    };
    if (place.clutter && isnan(place.clutter_height_m))
        place.clutter_height_m = place.clutter->usual_height_m;
    double loss_db = 0.0;
    const fe_status status =
        fe_clutter_height_gain(&place, calc_number(call, "frequency"), &loss_db);
    if (status < 0)
        calc_explain(call, "frequency, heights and street width must be above 0");
    else
        calc_result(call, "loss_db", loss_db, "dB");
    return status;
}

/* ---- Feeder ---- */

static void explain_unknown_feeder(calc_call *call, const char *name)
{
    size_t count = 0;
    const fe_feeder *table = fe_feeders(&count);
    fe_suggest search = fe_suggest_start(name);
    for (size_t i = 0; i < count; i++)
        fe_suggest_offer(&search, table[i].name);
    calc_explain_unknown(call, "class", "not a class of feeder that is known", &search);
}

static fe_status run_feeder(calc_call *call)
{
    const char *name = calc_word(call, "class");
    const fe_feeder *feeder = fe_feeder_find(name);
    if (!feeder) {
        explain_unknown_feeder(call, name);
        return FE_E_DOMAIN;
    }
    double loss_db = 0.0;
    const fe_status status =
        fe_feeder_loss(feeder, calc_number(call, "frequency"), calc_number(call, "length"),
                       (unsigned)fmin(calc_number(call, "connectors"), 1000.0),
                       calc_number(call, "temperature"), &loss_db);
    if (status < 0) {
        calc_explain(call,
                     "frequency must be above 0, length 0 or more, temperature -60 to 100 "
                     "degC");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "%s is used from 30 MHz to %g GHz", feeder->name,
                     feeder->most_hz / 1e9);
    calc_result(call, "loss_db", loss_db, "dB");
    return status;
}

/* clang-format off */
#define QUANTITY(name, dimension, fallback, range) {name, CALC_QUANTITY, dimension, NULL, fallback, range}
#define CHOICE(name, choices, fallback) {name, CALC_WORD, FE_DIM_NUMBER, choices, fallback, ""}
#define FREQUENCY(range) QUANTITY("frequency", FE_DIM_FREQUENCY, NULL, range)
#define DISTANCE(fallback, range) QUANTITY("distance", FE_DIM_LENGTH, fallback, range)

const calc_formula CALC_LOSSES[] = {
    {"two-ray",
     "the direct ray and the one off flat ground, and the heights that leave a null",
     "two-ray sum, Fresnel's coefficients; break-point 4 h1 h2 / wavelength",
     {FREQUENCY("> 0"), DISTANCE(NULL, "> 0, over ground"),
      QUANTITY("height1", FE_DIM_LENGTH, NULL, "> 0, over the surface"),
      QUANTITY("height2", FE_DIM_LENGTH, NULL, "> 0, over the surface"),
      CHOICE("surface", "mirror|" SURFACES, "mirror"),
      CHOICE("polarisation", "vertical|horizontal", "vertical"),
      QUANTITY("height_error", FE_DIM_LENGTH, "0.15 m", ">= 0, standard deviation of each height")},
     "two_ray_exact_db free_space_db excess_db reflection excess_mean_db excess_p10_db "
     "excess_p50_db excess_p90_db plane_earth_db breakpoint_m null_below_m null_above_m",
     "frequency=2437MHz distance=165m height1=3m height2=3.5m surface=dry-soil",
     run_two_ray},
    {"foliage",
     "loss through trees or a hedge by an empirical law, and in a season",
     "Weissberger 1982; CCIR Report 236-2; FITU-R; COST 235; seasons common practice, no source",
     {FREQUENCY("0.23 to 95 GHz"), QUANTITY("depth", FE_DIM_LENGTH, NULL, "0 to 400 m"),
      CHOICE("model", FOLIAGE_MODELS, "modified_exponential_decay"),
      CHOICE("leaves", "in|out", "in"),
      CHOICE("kind", "deciduous|conifer|hedge", "deciduous"),
      CHOICE("state", "dry|wet|frozen", "dry")},
     "loss_db season_loss_db season_low_db season_high_db",
     "frequency=2437MHz depth=10m state=wet",
     run_foliage},
    {"foliage-routes",
     "the way through foliage and the way over it as parallel routes",
     "ITU-R P.833 sec 3.2.5, formula from memory",
     {QUANTITY("bare_loss", FE_DIM_RATIO, "0 dB", "diffraction without the trees"),
      QUANTITY("foliage_loss", FE_DIM_RATIO, NULL, "through the trees"),
      QUANTITY("opaque_loss", FE_DIM_RATIO, NULL, "diffraction over them as solid ground")},
     "loss_db",
     "foliage_loss=1.5dB opaque_loss=18.2dB",
     run_routes},
    {"woodland",
     "excess loss of a path with one end in woodland",
     "ITU-R P.833-9 sec 2.1",
     {FREQUENCY("105.9 to 2117.5 MHz"), QUANTITY("depth", FE_DIM_LENGTH, NULL, ">= 0"),
      QUANTITY("specific", FE_DIM_RATIO_PER_LENGTH, "", ">= 0; by the frequency where not given"),
      QUANTITY("most", FE_DIM_RATIO, "", "> 0; by the wood and frequency where not given"),
      CHOICE("wood", "coniferous-deciduous|mixed-forest|tropical", "coniferous-deciduous")},
     "loss_db gamma_db_per_m a_m_db",
     "frequency=949MHz depth=100m specific=0.17dB/m most=26.5dB",
     run_woodland},
    {"rain",
     "specific attenuation of rain and what a path loses for a share of the year",
     "ITU-R P.838-3; P.530-18 sec 2.4.1",
     {FREQUENCY("1 to 1000 GHz, 1 to 100 GHz with a distance"),
      QUANTITY("rain_rate", FE_DIM_RAIN_RATE, NULL, ">= 0; exceeded 0.01 % of the year"),
      DISTANCE("", "> 0 to 60 km"),
      QUANTITY("share", FE_DIM_FRACTION, "0.01 %", "0.001 to 1 % of the year"),
      CHOICE("polarisation", "horizontal|vertical|circular", "vertical"),
      QUANTITY("elevation", FE_DIM_ANGLE, "0 deg", "-90 to 90 deg"),
      QUANTITY("tilt", FE_DIM_ANGLE, "", "of polarisation, in its place")},
     "k alpha gamma_db_km r_uncapped r_used a001_db a_p_db",
     "frequency=24.125GHz rain_rate=50mm/h distance=1.5km polarisation=horizontal",
     run_rain},
    {"gas",
     "attenuation by oxygen and water vapour, line by line",
     "ITU-R P.676-13 Annex 1",
     {FREQUENCY("1 to 1000 GHz"),
      QUANTITY("dry_pressure", FE_DIM_PRESSURE, "1013.25 hPa", ">= 0, of the dry part"),
      QUANTITY("temperature", FE_DIM_TEMPERATURE, "15 degC", ""),
      QUANTITY("water_vapour", FE_DIM_DENSITY, "0.0075 kg/m3", ">= 0"),
      DISTANCE("", ">= 0")},
     "gamma_oxygen_db_km gamma_water_db_km gamma_total_db_km loss_db",
     "frequency=60.48GHz distance=300m",
     run_gas},
    {"refractivity",
     "refractivity of moist air",
     "ITU-R P.453-14 eq 2 to 4, 7 to 9",
     {QUANTITY("temperature", FE_DIM_TEMPERATURE, NULL, "-40 to 50 degC"),
      QUANTITY("pressure", FE_DIM_PRESSURE, "1013.25 hPa", "> 0, total"),
      QUANTITY("humidity", FE_DIM_FRACTION, NULL, "0 to 100 %")},
     "e_sat_hpa e_hpa n_dry n_wet n_total",
     "temperature=15degC humidity=50%",
     run_refractivity},
    {"water-film",
     "permittivity of water, ice or snow and the loss of a layer of it on an antenna's cover",
     "ITU-R P.840-8 eq 4 to 10, P.2040-3 slab; ice and snow from memory",
     {FREQUENCY("> 0"), QUANTITY("thickness", FE_DIM_LENGTH, "0.1 mm", ">= 0"),
      QUANTITY("temperature", FE_DIM_TEMPERATURE, "10 degC", "-20 to 50 degC"),
      CHOICE("medium", "water|ice|dry-snow|wet-snow", "water"),
      QUANTITY("density", FE_DIM_DENSITY, "350 kg/m3", "of snow, 0 to 917 kg/m3"),
      QUANTITY("wetness", FE_DIM_FRACTION, "5 %", "of wet snow by volume")},
     "eps_real eps_imag film_transmission_loss_db",
     "frequency=5.5GHz thickness=0.1mm temperature=10degC",
     run_water_film},
    {"fading",
     "the margin that an availability needs, or the availability that a margin gives",
     "closed forms; Rice's law as non-central chi-square with two degrees of freedom",
     {CHOICE("distribution", "rayleigh|rician|lognormal", NULL),
      QUANTITY("availability", FE_DIM_FRACTION, "", "above 0 and below 100 %"),
      QUANTITY("margin", FE_DIM_RATIO, "", "in its place"),
      QUANTITY("k_factor", FE_DIM_RATIO, "", "-40 to 30 dB, rician"),
      QUANTITY("sigma", FE_DIM_RATIO, "", "0 to 30 dB, lognormal"),
      CHOICE("reference", "mean|median", "mean")},
     "margin_db availability_pct",
     "distribution=rician k_factor=10dB availability=99.9%",
     run_fading},
    {"street",
     "site-general loss between ends below roof level, for comparison",
     "ITU-R P.1411-10/-11 sec 4.1.1 Table 4",
     {CHOICE("environment",
             "los_urban_suburban|nlos_urban_high_rise|nlos_urban_low_rise_suburban|"
             "nlos_residential", "los_urban_suburban"),
      FREQUENCY("0.8 to 82 GHz by environment"), DISTANCE(NULL, "5 to 715 m by environment")},
     "median_loss_db loss_p10_db loss_p90_db",
     "frequency=2437MHz distance=50m",
     run_street},
    {"street-bounds",
     "bounds of the loss along a street in sight, about its break-point",
     "ITU-R P.1411 sec 4.1.1, from memory",
     {FREQUENCY("0.3 to 3 GHz"), DISTANCE(NULL, "> 0"),
      QUANTITY("height1", FE_DIM_LENGTH, NULL, "> 0"),
      QUANTITY("height2", FE_DIM_LENGTH, NULL, "> 0")},
     "breakpoint_m p1411_l_bp_db p1411_lower_db p1411_upper_db",
     "frequency=2437MHz distance=500m height1=2m height2=3m",
     run_street_bounds},
    {"clutter",
     "loss not exceeded at a share of places with one end in clutter, for comparison",
     "ITU-R P.2108-1 sec 3.2, from memory",
     {FREQUENCY("0.5 to 67 GHz"), DISTANCE(NULL, "250 m or more"),
      QUANTITY("share", FE_DIM_FRACTION, "50 %", "of places, above 0 and below 100 %")},
     "clutter_loss_db",
     "frequency=5GHz distance=650m share=95%",
     run_clutter},
    {"clutter-height",
     "loss of an antenna for its height among houses or trees",
     "ITU-R P.2108-1 sec 3.1, from memory",
     {FREQUENCY("0.03 to 3 GHz"),
      CHOICE("clutter_type", "water|open_rural|suburban|urban_trees_forest|dense_urban", NULL),
      QUANTITY("antenna_height", FE_DIM_LENGTH, NULL, "> 0"),
      QUANTITY("clutter_height", FE_DIM_LENGTH, "", "> 0; by the type where not given"),
      QUANTITY("street_width", FE_DIM_LENGTH, "27 m", "> 0")},
     "loss_db",
     "frequency=1.5GHz clutter_type=suburban antenna_height=2m",
     run_clutter_height},
    {"feeder",
     "loss of the coaxial line between radio and antenna",
     "common practice, no source",
     {{"class", CALC_WORD, FE_DIM_NUMBER, NULL, NULL,
       "1.4mm-pigtail, 2.8mm, 5mm, 5mm-low-loss, 10mm, 10mm-low-loss, 15mm-low-loss"},
      FREQUENCY("30 MHz to 3 or 6 GHz by class"), QUANTITY("length", FE_DIM_LENGTH, NULL, ">= 0"),
      QUANTITY("connectors", FE_DIM_COUNT, "2", "pairs"),
      QUANTITY("temperature", FE_DIM_TEMPERATURE, "20 degC", "-60 to 100 degC")},
     "loss_db",
     "class=10mm-low-loss frequency=2437MHz length=6m",
     run_feeder},
    {0},
};
/* clang-format on */
