/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every formula of src/propagation that takes plain numbers: one call with an answer worked out
 * apart from the code (the formula stands beside the row), and each argument out of its range.
 */
#include <math.h>

#include "farend/clutter.h"
#include "farend/constants.h"
#include "farend/dielectric.h"
#include "farend/diffraction.h"
#include "farend/earth.h"
#include "farend/entry_loss.h"
#include "farend/fading.h"
#include "farend/feeder.h"
#include "farend/foliage.h"
#include "farend/free_space.h"
#include "farend/fresnel.h"
#include "farend/gas.h"
#include "farend/ground_ray.h"
#include "farend/knife_edge.h"
#include "farend/obstruction.h"
#include "farend/rain.h"
#include "farend/receiver.h"
#include "farend/spread.h"
#include "farend/street.h"
#include "farend/wall.h"
#include "farend/woodland.h"
#include "refusal.h"
#include "testing.h"

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])
static const double ANY = (double)NAN;

/* ---- The open path ---- */

static fe_status fresnel_radius(const double *x, void *result)
{
    return fe_fresnel_radius(1, x[0], x[1], x[2], result);
}
static fe_status earth_radius(const double *x, void *result)
{
    return fe_effective_earth_radius(x[0], result);
}
static fe_status spherical_earth(const double *x, void *result)
{
    fe_diffraction_wave wave = fe_diffraction_wave_over_land(1e9, 8.5e6, true);
    wave.f_hz = x[3];
    wave.ae_m = x[4];
    fe_spherical_earth found;
    const fe_status status = fe_spherical_earth_loss(x[0], x[1], x[2], &wave, &found);
    if (status >= 0)
        *(double *)result = found.horizon_m;
    return status;
}
static fe_status gas(const double *x, void *result)
{
    const fe_gas_air air = {x[1], x[2], x[3]};
    return fe_gas_specific(x[0], &air, result);
}
static fe_status refractivity(const double *x, void *result)
{
    return fe_gas_refractivity_of(x[0], x[1], x[2], result);
}
static fe_status rain_coefficients(const double *x, void *result)
{
    return fe_rain_coefficients_at(x[0], result);
}
static fe_status rain_specific(const double *x, void *result)
{
    const fe_rain_wave wave = {x[0], x[1], x[2]};
    return fe_rain_specific(&wave, x[3], result);
}
static fe_status rain_path(const double *x, void *result)
{
    const fe_rain_wave wave = {x[0], 0.0, 0.0};
    return fe_rain_path_loss(&wave, x[1], x[2], x[3], result);
}
CALL_2(fe_free_space_loss)
CALL_4(fe_fresnel_clearance_ratio)
CALL_4(fe_knife_edge_v)
CALL_1(fe_knife_edge_loss_fit)
CALL_1(fe_knife_edge_loss_exact)
CALL_4(fe_terrain_obstruction_loss)
CALL_2(fe_gas_saturation)
CALL_2(fe_gas_wet_refractivity)

static const fe_refusal OPEN[] = {
    /* 20 log10(4 pi d f / c) */
    {"free_space_loss", call_fe_free_space_loss, "pp", {150.0, 2437e6}, 83.7067190},
    /* sqrt(lambda d1 d2 / d) */
    {"fresnel_radius", fresnel_radius, "ppp", {100.0, 50.0, 2437e6}, 2.02498569},
    {"fresnel_clearance_ratio",
     call_fe_fresnel_clearance_ratio,
     "fppp",
     {2.02498569, 100.0, 50.0, 2437e6},
     1.0},
    /* h sqrt(2 d / (lambda d1 d2)) */
    {"knife_edge_v",
     call_fe_knife_edge_v,
     "fppp",
     {2.02498569, 100.0, 50.0, 2437e6},
     1.41421356},
    /* 6.9 + 20 log10(sqrt((v - 0.1)^2 + 1) + v - 0.1); 20 log10 2 at grazing */
    {"knife_edge_loss_fit", call_fe_knife_edge_loss_fit, "f", {1.0}, 13.9257289},
    {"knife_edge_loss_exact", call_fe_knife_edge_loss_exact, "f", {0.0}, 6.02059991},
    {"terrain_obstruction_loss",
     call_fe_terrain_obstruction_loss,
     "fppp",
     {-1.0, 100.0, 50.0, 2437e6},
     ANY},
    {"effective_earth_radius", earth_radius, "f", {39.0}, ANY},
    {"spherical_earth_loss", spherical_earth, "pnnpp", {2e4, 10.0, 5.0, 1e9, 8.5e6}, ANY},
    {"gas_specific", gas, "pn-n", {60e9, 100500.0, 15.0, 7.5e-3}, ANY},
    {"gas_saturation", call_fe_gas_saturation, "fp", {20.0, 101300.0}, ANY},
    /* 72 e / T + 3.75e5 e / T^2, e in hPa */
    {"gas_wet_refractivity", call_fe_gas_wet_refractivity, "fn", {20.0, 1000.0}, 46.0927374},
    {"gas_refractivity_of", refractivity, "fpn", {20.0, 101300.0, 0.5}, ANY},
    {"rain_coefficients_at", rain_coefficients, "p", {60e9}, ANY},
    {"rain_specific", rain_specific, "pffn", {60e9, 0.0, 0.0, 30e-3 / 3600.0}, ANY},
    {"rain_path_loss", rain_path, "ppns", {60e9, 300.0, 30e-3 / 3600.0, 1e-4}, ANY},
};

static void open_path__refuses_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(OPEN, COUNT(OPEN));
    double value = 7.0;
    assert_int_equal(fe_fresnel_radius(0, 100.0, 50.0, 1e9, &value), FE_E_DOMAIN);
    const fe_rain_wave steep = {60e9, 1.6, 0.0};
    fe_rain_attenuation rain;
    assert_int_equal(fe_rain_specific(&steep, 1e-5, &rain), FE_E_DOMAIN);
    fe_gas_refractivity moist;
    assert_int_equal(fe_gas_refractivity_of(20.0, 101300.0, 1.01, &moist), FE_E_DOMAIN);
    assert_int_equal(fe_gas_refractivity_of(99.0, 20000.0, 1.0, &moist), FE_E_DOMAIN);
    assert_int_equal(fe_gas_saturation(-201.0, 101300.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_gas_wet_refractivity(-274.0, 100.0, &value), FE_E_DOMAIN);
    fe_gas_attenuation air;
    assert_int_equal(fe_gas_specific(60e9, &(fe_gas_air){100500.0, -273.15, 0.0}, &air),
                     FE_E_DOMAIN);
    assert_int_equal(fe_gas_specific(60e9, &(fe_gas_air){100500.0, NAN, 0.0}, &air),
                     FE_E_DOMAIN);
    assert_int_equal(fe_gas_specific(60e9, &(fe_gas_air){100500.0, INFINITY, 0.0}, &air),
                     FE_E_DOMAIN);
    /* The ray bends more than the earth: a duct. */
    fe_effective_earth earth;
    assert_int_equal(fe_effective_earth_radius(158.0, &earth), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
}

/* ---- Ground ---- */

static fe_ground_path ground_of(const double *x)
{
    return (fe_ground_path){x[0], x[1], x[2], x[3]};
}
static fe_status grazing(const double *x, void *result)
{
    const fe_ground_path path = ground_of(x);
    return fe_ground_grazing(&path, result);
}
static fe_status reflection(const double *x, void *result)
{
    const fe_permittivity soil = {x[0], x[1]};
    return fe_ground_reflection(&soil, FE_GROUND_HORIZONTAL, x[2], x[3], result);
}
static fe_status reflection_over(const double *x, void *result)
{
    const fe_ground_path path = ground_of(x);
    return fe_ground_reflection_over(&path, FE_SURFACE_WET_SOIL, FE_GROUND_VERTICAL, result);
}
static fe_status ground_ray(const double *x, void *result)
{
    const fe_ground_path path = ground_of(x);
    const fe_reflection back = {x[4], x[5]};
    return fe_ground_ray_loss(&path, &back, result);
}
static fe_status ground_spread(const double *x, void *result)
{
    const fe_ground_path path = ground_of(x);
    const fe_reflection back = {x[4], x[5]};
    return fe_ground_ray_spread(&path, &back, x[6], x[7], result);
}
static fe_status ground_mean(const double *x, void *result)
{
    const fe_ground_path path = ground_of(x);
    const fe_reflection back = {x[4], x[5]};
    return fe_ground_ray_mean(&path, &back, x[6], x[7], result);
}
static fe_status ground_nulls_about(const double *x, void *result)
{
    const fe_ground_path path = ground_of(x);
    double *two = result;
    return fe_ground_nulls_about(&path, two, two + 1);
}
static fe_status plane_earth(const double *x, void *result)
{
    const fe_ground_path path = ground_of(x);
    return fe_ground_plane_earth(&path, result);
}
static fe_status ground_nulls(const double *x, void *result)
{
    const fe_ground_path path = {x[0], x[1], x[2], 1.0};
    double *heights = result;
    size_t count = 0;
    return fe_ground_nulls(&path, x[3], x[4], heights, 8, &count);
}
CALL_3(fe_ground_breakpoint)

#define OVER_GROUND                                                                            \
    {                                                                                          \
        2437e6, 150.0, 3.0, 4.0, 0.5, 3.0, 0.05, 0.05                                          \
    }

static const fe_refusal GROUND[] = {
    /* atan((h1 + h2) / d); 4 h1 h2 / lambda; d^2 / (h1 h2) in decibels */
    {"ground_grazing", grazing, "pppp", OVER_GROUND, 0.0466328352},
    {"ground_breakpoint", call_fe_ground_breakpoint, "ppp", {2437e6, 3.0, 4.0}, 390.189936},
    {"ground_plane_earth", plane_earth, "pppp", OVER_GROUND, 65.4600255},
    {"ground_reflection", reflection, "-nnn", {15.0, 2.0, 0.05, 0.0}, ANY},
    {"ground_reflection_over", reflection_over, "pppp", OVER_GROUND, ANY},
    {"ground_ray_loss", ground_ray, "pppp-f", OVER_GROUND, ANY},
    {"ground_ray_spread", ground_spread, "pppp-fnn", OVER_GROUND, ANY},
    {"ground_ray_mean", ground_mean, "pppp-fnn", OVER_GROUND, ANY},
    {"ground_nulls", ground_nulls, "pppnn", {2437e6, 150.0, 3.0, 1.0, 12.0}, ANY},
    {"ground_nulls_about", ground_nulls_about, "pppp", OVER_GROUND, ANY},
};

static void ground__refuses_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(GROUND, COUNT(GROUND));
    fe_reflection back = {.size = 7.0};
    const fe_permittivity soils[] = {{0.99, 1.0}, {NAN, 1.0}, {INFINITY, 1.0}};
    for (size_t i = 0; i < COUNT(soils); i++)
        assert_int_equal(fe_ground_reflection(&soils[i], FE_GROUND_VERTICAL, 0.1, 0.0, &back),
                         FE_E_DOMAIN);
    const fe_permittivity soil = {15.0, 2.0};
    assert_int_equal(fe_ground_reflection(&soil, FE_GROUND_VERTICAL, 1.6, 0.0, &back),
                     FE_E_DOMAIN);
    assert_close(back.size, 7.0, 0.0);
    /* Nothing but glass-smooth ground reflects all at grazing. */
    assert_int_equal(fe_ground_reflection(&soil, FE_GROUND_HORIZONTAL, 0.0, 0.0, &back), FE_OK);
    assert_close(back.size, 1.0, 1e-12);
    size_t count = 0;
    double height_m = 7.0;
    const fe_ground_path path = {2437e6, 150.0, 3.0, 1.0};
    assert_int_equal(fe_ground_nulls(&path, 2.0, 1.0, &height_m, 1, &count), FE_E_DOMAIN);
    assert_close(height_m, 7.0, 0.0);
}

/* ---- Materials and surroundings ---- */

static fe_status water(const double *x, void *result)
{
    return fe_water_permittivity(x[0], x[1], result);
}
static fe_status ice(const double *x, void *result)
{
    return fe_ice_permittivity(x[0], x[1], result);
}
static fe_status dry_snow(const double *x, void *result)
{
    return fe_dry_snow_permittivity(x[0], x[1], x[2], result);
}
static fe_status wet_snow(const double *x, void *result)
{
    return fe_wet_snow_permittivity(x[0], x[1], x[2], result);
}
static fe_status wet_soil(const double *x, void *result)
{
    return fe_surface_permittivity(FE_SURFACE_WET_SOIL, x[0], result);
}
static fe_status film(const double *x, void *result)
{
    const fe_permittivity of = {x[0], x[1]};
    return fe_film_loss(&of, x[2], x[3], result);
}
static fe_status cover(const double *x, void *result)
{
    return fe_cover_loss(FE_COVER_WATER_FILM, x[0], result);
}
static fe_status no_cover(const double *x, void *result)
{
    return fe_cover_loss(FE_COVER_DRY, x[0], result);
}
static fe_status slab(const double *x, void *result)
{
    const fe_incidence wave = {x[1], x[2], FE_POLARISATION_TE};
    double *two = result;
    return fe_slab_loss(fe_material_find("brick"), x[0], &wave, two, two + 1);
}
static fe_status layers(const double *x, void *result)
{
    const fe_wall_layer layer = {"brick", x[0]};
    const fe_incidence wave = {x[1], x[2], FE_POLARISATION_TM};
    double *two = result;
    return fe_layers_loss(&layer, 1, &wave, two, two + 1);
}
static fe_status constants(const double *x, void *result)
{
    double *two = result;
    return fe_material_constants(fe_material_find("brick"), x[0], two, two + 1);
}
static fe_status entry_loss(const double *x, void *result)
{
    return fe_entry_loss(fe_entry_building_find("traditional"), x[0], x[1], x[2], result);
}
static fe_status height_gain(const double *x, void *result)
{
    const fe_clutter_place place = {fe_clutter_find("dense_urban"), x[0], x[1], x[2]};
    return fe_clutter_height_gain(&place, x[3], result);
}
static fe_status feeder(const double *x, void *result)
{
    static const fe_feeder PLAIN = {"plain", 5e-3, 0.1, 0.0, 6e9};
    return fe_feeder_loss(&PLAIN, x[0], x[1], 0, x[2], result);
}
static fe_status foliage(const double *x, void *result)
{
    return fe_foliage_loss(FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY, true, x[0], x[1], result);
}
static fe_status street(const double *x, void *result)
{
    size_t count = 0;
    return fe_street_site_general(fe_street_laws(&count), x[0], x[1], result);
}
static fe_status street_bounds(const double *x, void *result)
{
    return fe_street_breakpoint_bounds(x[0], x[1], x[2], x[3], result);
}
static fe_status street_low(const double *x, void *result)
{
    return fe_street_low_antennas(x[0], x[1], result);
}
static fe_status woodland_most(const double *x, void *result)
{
    return fe_woodland_most(FE_WOOD_MIXED_FOREST, x[0], result);
}
CALL_3(fe_clutter_statistical)
CALL_3(fe_woodland_loss)
CALL_1(fe_woodland_specific)
CALL_4(fe_receiver_threshold)

static const fe_refusal MATERIALS[] = {
    {"water_permittivity", water, "pf", {10e9, 20.0}, ANY},
    {"ice_permittivity", ice, "pf", {10e9, -10.0}, ANY},
    {"dry_snow_permittivity", dry_snow, "npf", {300.0, 10e9, -10.0}, ANY},
    {"wet_snow_permittivity", wet_snow, "nnp", {300.0, 0.05, 10e9}, ANY},
    {"surface_permittivity", wet_soil, "p", {2437e6}, ANY},
    /* A film of the air's own permittivity is no film. */
    {"film_loss", film, "pnnp", {4.0, 0.5, 1e-3, 10e9}, ANY},
    {"cover_loss", cover, "p", {10e9}, ANY},
    {"cover_loss of a dry cover", no_cover, "p", {10e9}, 0.0},
    {"slab_loss", slab, "ppn", {0.11, 2437e6, 0.2}, ANY},
    {"layers_loss", layers, "ppn", {0.11, 2437e6, 0.2}, ANY},
    /* P.2040: brick has 3.91 at every frequency */
    {"material_constants", constants, "p", {2.4e9}, 3.91},
    {"entry_loss", entry_loss, "pfo", {2.4e9, 0.0, 0.5}, ANY},
    {"clutter_height_gain", height_gain, "pppp", {20.0, 27.0, 5.0, 1e9}, ANY},
    {"clutter_statistical", call_fe_clutter_statistical, "ppo", {2e9, 2000.0, 0.5}, ANY},
    {"feeder_loss", feeder, "pnf", {1e9, 10.0, 20.0}, ANY},
    /* 1.33 f^0.284 d^0.588 with f in GHz */
    {"foliage_loss", foliage, "pn", {2.4e9, 20.0}, 9.92744000},
    {"street_site_general", street, "pp", {5.8e9, 100.0}, ANY},
    /* 4 h1 h2 / lambda */
    {"street_breakpoint_bounds", street_bounds, "pppp", {2437e6, 100.0, 3.0, 4.0}, 390.189936},
    {"street_low_antennas", street_low, "pp", {5.8e9, 100.0}, 20.0},
    /* Am (1 - exp(-d gamma / Am)) */
    {"woodland_loss", call_fe_woodland_loss, "nnp", {100.0, 0.2, 25.0}, 13.7667759},
    {"woodland_specific", call_fe_woodland_specific, "p", {1e9}, ANY},
    /* 1.15 f^0.43 with f in MHz */
    {"woodland_most", woodland_most, "p", {1e9}, 22.4232129},
    /* Noise from outside adds to that of the receiver, of which the bonus is taken. */
    {"receiver_threshold",
     call_fe_receiver_threshold,
     "fp-n",
     {-82.0, 20e6, -200.0, 3.0},
     -85.0},
};

static void materials__refuse_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(MATERIALS, COUNT(MATERIALS));
    double loss_db = 7.0;
    fe_permittivity found;
    assert_int_equal(fe_dry_snow_permittivity(918.0, 10e9, -10.0, &found), FE_E_DOMAIN);
    assert_int_equal(fe_wet_snow_permittivity(918.0, 0.05, 10e9, &found), FE_E_DOMAIN);
    assert_int_equal(fe_wet_snow_permittivity(300.0, 1.1, 10e9, &found), FE_E_DOMAIN);
    assert_int_equal(fe_surface_permittivity((fe_surface)99, 10e9, &found), FE_E_DOMAIN);
    assert_int_equal(fe_cover_loss((fe_cover)99, 10e9, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(NULL, 2.4e9, 0.0, 0.5, &loss_db), FE_E_DOMAIN);
    assert_int_equal(
        fe_entry_loss(fe_entry_building_find("traditional"), 2.4e9, 1.6, 0.5, &loss_db),
        FE_E_DOMAIN);
    fe_entry_spread entry;
    assert_int_equal(fe_entry_loss_spread(NULL, 2.4e9, 0.0, &entry), FE_E_DOMAIN);
    assert_int_equal(fe_feeder_loss(NULL, 1e9, 10.0, 0, 20.0, &loss_db), FE_E_DOMAIN);
    static const fe_feeder PLAIN = {"plain", 5e-3, 0.1, 0.0, 6e9};
    assert_int_equal(fe_feeder_loss(&PLAIN, 1e9, 10.0, 0, -60.1, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_feeder_loss(&PLAIN, 1e9, 10.0, 0, 100.1, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_loss((fe_foliage_model)99, true, 2.4e9, 20.0, &loss_db),
                     FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(NAN, 3.0, 20.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(0.0, NAN, 20.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(0.0, 3.0, NAN, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(0.0, -INFINITY, 20.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(0.0, 3.0, -INFINITY, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(0.0, INFINITY, INFINITY, &loss_db), FE_E_DOMAIN);
    fe_street_loss street_loss;
    assert_int_equal(fe_street_site_general(NULL, 5.8e9, 100.0, &street_loss), FE_E_DOMAIN);
    assert_int_equal(fe_receiver_threshold(-82.0, 20e6, NAN, 3.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_receiver_threshold(-82.0, 20e6, 100.1, 3.0, &loss_db), FE_E_DOMAIN);
    fe_clutter_place place = {NULL, 20.0, 27.0, 5.0};
    assert_int_equal(fe_clutter_height_gain(&place, 1e9, &loss_db), FE_E_DOMAIN);
    assert_close(loss_db, 7.0, 0.0);
    /* As high as what stands about: no loss from it. */
    place = (fe_clutter_place){fe_clutter_find("dense_urban"), 20.0, 27.0, 20.0};
    assert_int_equal(fe_clutter_height_gain(&place, 1e9, &loss_db), FE_OK);
    assert_close(loss_db, 0.0, 0.0);
}

/* Beside the range a law was stated for the result is set and the status says so. */
static void laws__tell_where_they_were_not_stated_for(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        fe_status (*call)(const double *x, void *result);
        double x[4];
    } ROWS[] = {
        {"entry loss", entry_loss, {79e6, 0.0, 0.5}},
        {"entry loss", entry_loss, {101e9, 0.0, 0.5}},
        {"height gain", height_gain, {20.0, 27.0, 5.0, 29e6}},
        {"height gain", height_gain, {20.0, 27.0, 5.0, 3.1e9}},
        {"clutter", call_fe_clutter_statistical, {0.49e9, 2000.0, 0.5}},
        {"clutter", call_fe_clutter_statistical, {68e9, 2000.0, 0.5}},
        {"clutter", call_fe_clutter_statistical, {2e9, 249.0, 0.5}},
        {"feeder", feeder, {6.1e9, 10.0, 20.0}},
        {"feeder", feeder, {0.9e6, 10.0, 20.0}},
        {"street bounds", street_bounds, {0.29e9, 100.0, 3.0, 4.0}},
        {"street bounds", street_bounds, {3.1e9, 100.0, 3.0, 4.0}},
        {"low antennas", street_low, {2.9e9, 100.0}},
        {"low antennas", street_low, {15.1e9, 100.0}},
        {"woodland specific", call_fe_woodland_specific, {10e6}},
        {"woodland specific", call_fe_woodland_specific, {100e9}},
        {"woodland most", woodland_most, {0.8e9}},
        {"woodland most", woodland_most, {2.3e9}},
        {"water", water, {1001e9, 20.0}},
        {"water", water, {10e9, -20.1}},
        {"water", water, {10e9, 50.1}},
        {"ice", ice, {0.9e6, -10.0}},
        {"ice", ice, {301e9, -10.0}},
        {"ice", ice, {10e9, -100.1}},
        {"ice", ice, {10e9, 0.1}},
        {"wet snow", wet_snow, {89.0, 0.05, 10e9}},
        {"wet snow", wet_snow, {381.0, 0.05, 10e9}},
        {"wet snow", wet_snow, {300.0, 0.009, 10e9}},
        {"wet snow", wet_snow, {300.0, 0.121, 10e9}},
        {"wet snow", wet_snow, {300.0, 0.05, 2.9e9}},
        {"wet snow", wet_snow, {300.0, 0.05, 38e9}},
        {"gas", gas, {0.9e9, 100500.0, 15.0, 7.5e-3}},
        {"gas", gas, {1001e9, 100500.0, 15.0, 7.5e-3}},
        {"saturation", call_fe_gas_saturation, {-41.0, 101300.0}},
        {"saturation", call_fe_gas_saturation, {51.0, 101300.0}},
        {"rain", rain_coefficients, {0.9e9}},
        {"rain", rain_coefficients, {1001e9}},
        {"rain path", rain_path, {101e9, 300.0, 1e-5, 1e-4}},
        {"rain path", rain_path, {60e9, 61e3, 1e-5, 1e-4}},
        {"rain path", rain_path, {60e9, 300.0, 1e-5, 0.9e-5}},
        {"rain path", rain_path, {60e9, 300.0, 1e-5, 1.1e-2}},
        {"brick", constants, {0.9e9}},
        {"brick", constants, {41e9}},
    };
    for (size_t i = 0; i < COUNT(ROWS); i++) {
        double result[16] = {NAN};
        const fe_status status = ROWS[i].call(ROWS[i].x, result);
        if (status != FE_W_RANGE || !isfinite(result[0]))
            fail_msg("row %zu, %s: %s, result %g", i, ROWS[i].name, fe_status_text(status),
                     result[0]);
    }
}

/* ---- Walls ---- */

static void walls__refuse_what_they_are_not(void **state)
{
    (void)state;
    double loss_db = 7.0, back_db = 7.0;
    const fe_incidence wave = {2437e6, 0.2, FE_POLARISATION_TE};
    const fe_incidence odd = {2437e6, 0.2, (fe_polarisation)9};
    const fe_incidence grazing_wave = {2437e6, FE_PI / 2.0, FE_POLARISATION_TE};
    const fe_wall_layer brick[9] = {{"brick", 0.1}, {"brick", 0.1}, {"brick", 0.1},
                                    {"brick", 0.1}, {"brick", 0.1}, {"brick", 0.1},
                                    {"brick", 0.1}, {"brick", 0.1}, {"brick", 0.1}};
    const fe_wall_layer unknown = {"moonstone", 0.1};
    const fe_material *found = fe_material_find("brick");
    assert_int_equal(fe_layers_loss(brick, 0, &wave, &loss_db, &back_db), FE_E_DOMAIN);
    assert_int_equal(fe_layers_loss(brick, 9, &wave, &loss_db, &back_db), FE_E_DOMAIN);
    assert_int_equal(fe_layers_loss(&unknown, 1, &wave, &loss_db, &back_db), FE_E_DOMAIN);
    assert_int_equal(fe_layers_loss(brick, 1, &odd, &loss_db, &back_db), FE_E_DOMAIN);
    assert_int_equal(fe_slab_loss(found, 0.1, &odd, &loss_db, &back_db), FE_E_DOMAIN);
    assert_int_equal(fe_slab_loss(found, 0.1, &grazing_wave, &loss_db, &back_db), FE_E_DOMAIN);
    assert_int_equal(fe_slab_loss(NULL, 0.1, &wave, &loss_db, &back_db), FE_E_DOMAIN);
    assert_null(fe_material_find("moonstone"));
    assert_null(fe_material_find(NULL));
    assert_null(fe_wall_kind_find(NULL));
    fe_wall_result wall = {.loss_db = 7.0};
    assert_int_equal(fe_wall_loss("moonstone", NAN, &wave, &wall), FE_E_DOMAIN);
    assert_int_equal(fe_wall_loss("brick", -0.1, &wave, &wall), FE_E_DOMAIN);
    assert_int_equal(fe_wall_loss("brick", INFINITY, &wave, &wall), FE_E_DOMAIN);
    assert_int_equal(fe_wall_loss("brick", 0.1, &odd, &wall), FE_E_DOMAIN);
    const fe_aperture too_wide = {1.1, 0.0};
    const fe_aperture negative = {-0.1, 0.0};
    const fe_aperture unclear = {0.5, NAN};
    const fe_aperture closed = {0.0, 0.0};
    assert_int_equal(fe_aperture_loss(&too_wide, 1, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_aperture_loss(&negative, 1, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_aperture_loss(&unclear, 1, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_aperture_loss(&closed, 1, &loss_db), FE_E_DOMAIN);
    assert_close(loss_db + back_db + wall.loss_db, 21.0, 0.0);
}

/* One layer is a slab; either answer may be left out. */
static void wall_of_one_layer__is_a_slab(void **state)
{
    (void)state;
    for (int p = FE_POLARISATION_TE; p <= FE_POLARISATION_TM; p++) {
        const fe_incidence wave = {5.5e9, 0.6, (fe_polarisation)p};
        const fe_wall_layer layer = {"concrete", 0.15};
        double through_db = NAN, back_db = NAN, slab_db = NAN, slab_back_db = NAN;
        assert_true(fe_layers_loss(&layer, 1, &wave, &through_db, NULL) >= 0);
        assert_true(fe_layers_loss(&layer, 1, &wave, NULL, &back_db) >= 0);
        assert_true(fe_slab_loss(fe_material_find("concrete"), 0.15, &wave, &slab_db, NULL) >=
                    0);
        assert_true(
            fe_slab_loss(fe_material_find("concrete"), 0.15, &wave, NULL, &slab_back_db) >= 0);
        assert_close_relative(through_db, slab_db, 1e-9);
        assert_close_relative(back_db, slab_back_db, 1e-9);
        assert_true(through_db > 0.0 && back_db > 0.0);
    }
}

/* A hole of a hundredth of a wall that lets nothing through: 20 dB. */
static void apertures__add_by_their_share_of_power(void **state)
{
    (void)state;
    double loss_db = NAN;
    const fe_aperture hole[] = {{0.99, INFINITY}, {0.01, 0.0}};
    assert_int_equal(fe_aperture_loss(hole, 2, &loss_db), FE_OK);
    assert_close(loss_db, 20.0, 1e-9);
    /* Half lets a tenth through, half all: 0.55 of the power. */
    const fe_aperture halves[] = {{0.5, 10.0}, {0.5, 0.0}};
    assert_int_equal(fe_aperture_loss(halves, 2, &loss_db), FE_OK);
    assert_close(loss_db, -10.0 * log10(0.55), 1e-9);
}

/* ---- Spread and fading ---- */

static fe_spread spread;

static fe_status exact(const double *x, void *result)
{
    (void)result;
    return fe_spread_exact(x[0], &spread);
}
static fe_status normal(const double *x, void *result)
{
    (void)result;
    return fe_spread_normal(x[0], x[1], &spread);
}
static fe_status half_normal(const double *x, void *result)
{
    (void)result;
    return fe_spread_half_normal(x[0], &spread);
}
static fe_status aim(const double *x, void *result)
{
    (void)result;
    return fe_spread_aim(x[0], x[1], x[2], &spread);
}
static fe_status rayleigh_availability(const double *x, void *result)
{
    const fe_fading law = {.law = FE_FADING_RAYLEIGH, .reference = FE_FADING_MEAN};
    return fe_fading_availability(&law, x[0], result);
}
static fe_status rayleigh_margin(const double *x, void *result)
{
    const fe_fading law = {.law = FE_FADING_RAYLEIGH, .reference = FE_FADING_MEAN};
    return fe_fading_margin(&law, x[0], result);
}

static const fe_refusal SPREADS[] = {
    {"spread_exact", exact, "f", {3.0}, ANY},
    {"spread_normal", normal, "fn", {3.0, 2.0}, ANY},
    {"spread_half_normal", half_normal, "n", {2.0}, ANY},
    {"spread_aim", aim, "nnp", {0.5, 0.5, 20.0}, ANY},
    /* exp(-10^(-M / 10)) and its inverse */
    {"fading_availability", rayleigh_availability, "-", {10.0}, 0.904837418},
    {"fading_margin", rayleigh_margin, "o", {0.904837418}, 10.0},
};

static void spreads__refuse_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(SPREADS, COUNT(SPREADS));
    /* Wider than the grid has room for. */
    assert_int_equal(fe_spread_exact(1e4, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_normal(0.0, 1e3, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_normal(1e4, 1.0, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_half_normal(1e3, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_spread_aim(0.5, 0.5, 1e4, &spread), FE_E_DOMAIN);
    double value = 7.0;
    const fe_fading wide = {.law = FE_FADING_LOGNORMAL, .sigma_db = 1e3};
    const fe_fading negative = {.law = FE_FADING_LOGNORMAL, .sigma_db = -1.0};
    const fe_fading unknown = {.law = (fe_fading_law)9};
    assert_int_equal(fe_fading_availability(&wide, 3.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_availability(&negative, 3.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_availability(&unknown, 3.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_margin(&unknown, 0.9, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fade_quantile(&unknown, 1, NULL, 0.9, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fade_quantile(&wide, 0, NULL, 0.4, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fade_quantile(&wide, 0, NULL, 1.0, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
    /* A shadow of no width is none: all or nothing. */
    const fe_fading still = {.law = FE_FADING_LOGNORMAL, .reference = FE_FADING_MEDIAN};
    assert_int_equal(fe_fading_availability(&still, 0.1, &value), FE_OK);
    assert_close(value, 1.0, 0.0);
    assert_int_equal(fe_fading_availability(&still, -0.1, &value), FE_OK);
    assert_close(value, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(open_path__refuses_what_is_out_of_range),
        cmocka_unit_test(ground__refuses_what_is_out_of_range),
        cmocka_unit_test(materials__refuse_what_is_out_of_range),
        cmocka_unit_test(laws__tell_where_they_were_not_stated_for),
        cmocka_unit_test(walls__refuse_what_they_are_not),
        cmocka_unit_test(wall_of_one_layer__is_a_slab),
        cmocka_unit_test(apertures__add_by_their_share_of_power),
        cmocka_unit_test(spreads__refuse_what_is_out_of_range),
    };
    return FE_RUN_TESTS(tests);
}
