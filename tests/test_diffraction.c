/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/diffraction.h"

#include <math.h>

#include "farend/knife_edge.h"
#include "testing.h"

static const double AE_M = 8.5e6;

enum { POINTS = 401 };

typedef struct ground {
    double d_m[POINTS];
    double h_m[POINTS];
    double clutter_m[POINTS];
} ground;

static ground flat(double length_m)
{
    ground g;
    for (size_t i = 0; i < POINTS; i++) {
        g.d_m[i] = length_m * (double)i / (POINTS - 1);
        g.h_m[i] = 0.0;
        g.clutter_m[i] = 0.0;
    }
    return g;
}

/* Rolling ground with uneven steps; `phase` moves the hills. */
static ground rolling(double length_m, double height_m, double phase)
{
    ground g = flat(length_m);
    for (size_t i = 1; i + 1 < POINTS; i++)
        g.d_m[i] += 0.4 * length_m / (POINTS - 1) * sin(phase + 1.7 * (double)i);
    for (size_t i = 0; i < POINTS; i++) {
        const double t = g.d_m[i] / length_m;
        g.h_m[i] =
            200.0 + height_m * (sin(phase + 9.0 * t) + 0.3 * sin(2.0 * phase + 41.0 * t));
        g.clutter_m[i] = i % 7 == 0 ? 0.3 * height_m : 0.0;
    }
    return g;
}

static fe_diffraction_path path_over(const ground *g, double height1_m, double height2_m)
{
    return (fe_diffraction_path){.d_m = g->d_m,
                                 .h_m = g->h_m,
                                 .n = POINTS,
                                 .antenna1_m = g->h_m[0] + height1_m,
                                 .antenna2_m = g->h_m[POINTS - 1] + height2_m};
}

static fe_delta_bullington loss_of(const fe_diffraction_path *path,
                                   const fe_diffraction_wave *wave)
{
    fe_delta_bullington result;
    assert_int_equal(fe_delta_bullington_loss(path, wave, &result), FE_OK);
    return result;
}

/*
 * The method as its source writes it, in km and with a division for each slope, to hold the
 * rearranged passes against.
 */
static double plain_bullington(const fe_diffraction_path *p, const double *h_m, double a1_m,
                               double a2_m, double ae_m, double lambda_m)
{
    const double ce = 1e3 / ae_m;
    const double d = 1e-3 * (p->d_m[p->n - 1] - p->d_m[0]);
    double stim = -INFINITY;
    double srim = -INFINITY;
    double v_max = -INFINITY;
    for (size_t i = 1; i + 1 < p->n; i++) {
        const double di = 1e-3 * (p->d_m[i] - p->d_m[0]);
        const double top = h_m[i] + 500.0 * ce * di * (d - di);
        stim = fmax(stim, (top - a1_m) / di);
        srim = fmax(srim, (top - a2_m) / (d - di));
        v_max = fmax(v_max, (top - (a1_m * (d - di) + a2_m * di) / d) *
                                sqrt(0.002 * d / (lambda_m * di * (d - di))));
    }
    double v = v_max;
    if (stim >= (a2_m - a1_m) / d) {
        const double db = (a2_m - a1_m + srim * d) / (stim + srim);
        v = (a1_m + stim * db - (a1_m * (d - db) + a2_m * db) / d) *
            sqrt(0.002 * d / (lambda_m * db * (d - db)));
    }
    double edge_db = 0.0;
    assert_int_equal(fe_knife_edge_loss_fit(v, &edge_db), FE_OK);
    return edge_db + (1.0 - exp(-edge_db / 6.0)) * (10.0 + 0.02 * d);
}

static void plain_fit(const fe_diffraction_path *p, double *effective1_m, double *effective2_m)
{
    const size_t n = p->n;
    const double d = p->d_m[n - 1] - p->d_m[0];
    double v1 = 0.0;
    double v2 = 0.0;
    for (size_t i = 1; i < n; i++) {
        const double di = p->d_m[i] - p->d_m[0];
        const double dp = p->d_m[i - 1] - p->d_m[0];
        const double hi = p->h_m[i];
        const double hp = p->h_m[i - 1];
        v1 += (di - dp) * (hi + hp);
        v2 += (di - dp) * (hi * (2.0 * di + dp) + hp * (di + 2.0 * dp));
    }
    double st = (2.0 * v1 * d - v2) / (d * d);
    double sr = (v2 - v1 * d) / (d * d);
    double h_obs = -INFINITY;
    double a_t = -INFINITY;
    double a_r = -INFINITY;
    for (size_t i = 1; i + 1 < n; i++) {
        const double di = p->d_m[i] - p->d_m[0];
        const double h = p->h_m[i] - (p->antenna1_m * (d - di) + p->antenna2_m * di) / d;
        h_obs = fmax(h_obs, h);
        a_t = fmax(a_t, h / di);
        a_r = fmax(a_r, h / (d - di));
    }
    if (h_obs > 0.0) {
        st -= h_obs * a_t / (a_t + a_r);
        sr -= h_obs * a_r / (a_t + a_r);
    }
    *effective1_m = p->antenna1_m - fmin(st, p->h_m[0]);
    *effective2_m = p->antenna2_m - fmin(sr, p->h_m[n - 1]);
}

static void check_against_plain(const ground *g, bool cluttered, double height1_m,
                                double height2_m, double f_hz)
{
    fe_diffraction_path path = path_over(g, height1_m, height2_m);
    double top_m[POINTS];
    double zero_m[POINTS] = {0};
    for (size_t i = 0; i < POINTS; i++)
        top_m[i] = g->h_m[i] + (cluttered ? g->clutter_m[i] : 0.0);
    if (cluttered)
        path.clutter_m = g->clutter_m;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(f_hz, AE_M, true);
    const double lambda_m = wave.c_m_s / f_hz;
    const fe_delta_bullington got = loss_of(&path, &wave);

    double effective1_m = 0.0;
    double effective2_m = 0.0;
    plain_fit(&path, &effective1_m, &effective2_m);
    assert_close(got.fit.effective1_m, effective1_m, 1e-9);
    assert_close(got.fit.effective2_m, effective2_m, 1e-9);
    assert_close(
        got.actual.loss_db,
        plain_bullington(&path, top_m, path.antenna1_m, path.antenna2_m, AE_M, lambda_m), 1e-8);
    assert_close(got.smooth.loss_db,
                 plain_bullington(&path, zero_m, effective1_m, effective2_m, AE_M, lambda_m),
                 1e-8);
}

static void delta_bullington__agrees_with_its_source_written_out(void **state)
{
    (void)state;
    static const double lengths_m[] = {60.0, 400.0, 2e3, 20e3, 150e3};
    static const double heights_m[] = {0.0, 0.2, 3.0, 30.0};
    for (size_t l = 0; l < sizeof lengths_m / sizeof lengths_m[0]; l++)
        for (size_t h = 0; h < sizeof heights_m / sizeof heights_m[0]; h++)
            for (double phase = 0.0; phase < 6.0; phase += 0.7) {
                const ground g = rolling(lengths_m[l], heights_m[h], phase);
                check_against_plain(&g, false, 3.0, 1.5, 2.437e9);
                check_against_plain(&g, true, 2.0, 8.0, 0.868e9);
                check_against_plain(&g, true, 0.5, 12.0, 5.5e9);
            }
}

static void delta_bullington__is_same_in_parts_and_whole(void **state)
{
    (void)state;
    const ground g = rolling(1500.0, 6.0, 2.0);
    fe_diffraction_path path = path_over(&g, 3.0, 2.0);
    path.clutter_m = g.clutter_m;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, false);
    const fe_delta_bullington all = loss_of(&path, &wave);
    fe_bullington actual;
    fe_smooth_surface fit;
    fe_spherical_earth sphere;
    assert_int_equal(fe_bullington_loss(&path, &wave, &actual), FE_OK);
    assert_int_equal(fe_smooth_surface_fit(&path, &fit), FE_OK);
    assert_int_equal(
        fe_spherical_earth_loss(1500.0, fit.effective1_m, fit.effective2_m, &wave, &sphere),
        FE_OK);
    assert_close(all.actual.loss_db, actual.loss_db, 0.0);
    assert_close(all.fit.end1_m, fit.end1_m, 1e-9);
    assert_close(all.fit.effective2_m, fit.effective2_m, 1e-9);
    assert_close(all.sphere.loss_db, sphere.loss_db, 1e-9);
    assert_close(all.loss_db, actual.loss_db + fmax(sphere.loss_db - all.smooth.loss_db, 0.0),
                 1e-9);
}

static void delta_bullington__is_same_from_either_end(void **state)
{
    (void)state;
    for (double phase = 0.0; phase < 6.0; phase += 0.9) {
        const ground g = rolling(1200.0, 4.0, phase);
        ground turned = g;
        for (size_t i = 0; i < POINTS; i++) {
            turned.d_m[i] = 1200.0 - g.d_m[POINTS - 1 - i];
            turned.h_m[i] = g.h_m[POINTS - 1 - i];
        }
        const fe_diffraction_path there = path_over(&g, 3.0, 1.5);
        const fe_diffraction_path back = path_over(&turned, 1.5, 3.0);
        const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
        const fe_delta_bullington a = loss_of(&there, &wave);
        const fe_delta_bullington b = loss_of(&back, &wave);
        assert_close(a.loss_db, b.loss_db, 1e-8);
        assert_close(a.fit.effective1_m, b.fit.effective2_m, 1e-9);
    }
}

static void delta_bullington__takes_snow_as_lowered_masts(void **state)
{
    (void)state;
    const ground g = rolling(600.0, 1.0, 3.0);
    ground snowed = g;
    for (size_t i = 0; i < POINTS; i++)
        snowed.h_m[i] += 0.8;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    fe_diffraction_path low = path_over(&g, 2.0, 3.0);
    fe_diffraction_path snow = low;
    snow.h_m = snowed.h_m;
    low.antenna1_m -= 0.8;
    low.antenna2_m -= 0.8;
    const fe_diffraction_path bare = path_over(&g, 2.0, 3.0);
    assert_close(loss_of(&snow, &wave).loss_db, loss_of(&low, &wave).loss_db, 1e-9);
    assert_true(loss_of(&snow, &wave).loss_db > loss_of(&bare, &wave).loss_db);
}

static void delta_bullington__counts_from_where_the_profile_starts(void **state)
{
    (void)state;
    const ground g = rolling(600.0, 1.0, 3.0);
    ground moved = g;
    for (size_t i = 0; i < POINTS; i++) {
        moved.d_m[i] += 5000.0;
        moved.h_m[i] -= 300.0;
    }
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    const fe_diffraction_path here = path_over(&g, 2.0, 3.0);
    const fe_diffraction_path there = path_over(&moved, 2.0, 3.0);
    assert_close(loss_of(&here, &wave).loss_db, loss_of(&there, &wave).loss_db, 1e-7);
}

/* Computed for the project's engineering notes: 12.4 dB where the exact edge has 6.0. */
static void delta_bullington__is_twice_too_high_on_one_edge_at_grazing(void **state)
{
    (void)state;
    ground g = flat(400.0);
    g.h_m[200] = 10.0 - 200.0 * 200.0 / (2.0 * AE_M);
    const fe_diffraction_path path = path_over(&g, 10.0, 10.0);
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(5.5e9, AE_M, true);
    const fe_delta_bullington got = loss_of(&path, &wave);
    assert_close(got.actual.v, 0.0, 1e-9);
    assert_close(got.loss_db, 12.4, 0.05);
}

static void delta_bullington__is_finite_at_exact_grazing(void **state)
{
    (void)state;
    /* Both horizon lines are the line of sight itself: their crossing is 0 / 0. */
    const double d_m[] = {0.0, 512.0, 1024.0};
    const double ae_m = 512.0 * 512.0; /* puts a bulge of exactly 0.5 m under the point */
    const double h_m[] = {0.0, 3.5, 0.0};
    const fe_diffraction_path path = {
        .d_m = d_m, .h_m = h_m, .n = 3, .antenna1_m = 4.0, .antenna2_m = 4.0};
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(1e9, ae_m, true);
    const fe_delta_bullington got = loss_of(&path, &wave);
    assert_false(got.line_of_sight);
    assert_close(got.actual.v, 0.0, 0.0);
    assert_close(got.actual.edge_db, 6.03, 0.01);
}

static void delta_bullington__adds_clutter_between_the_ends_only(void **state)
{
    (void)state;
    ground g = flat(800.0);
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    fe_diffraction_path path = path_over(&g, 6.0, 6.0);
    const fe_delta_bullington bare = loss_of(&path, &wave);
    path.clutter_m = g.clutter_m;
    g.clutter_m[0] = g.clutter_m[POINTS - 1] = 20.0;
    assert_close(loss_of(&path, &wave).loss_db, bare.loss_db, 0.0);
    g.clutter_m[150] = 9.0;
    const fe_delta_bullington hidden = loss_of(&path, &wave);
    assert_true(hidden.actual.loss_db > bare.actual.loss_db + 15.0);
    assert_close(hidden.smooth.loss_db, bare.smooth.loss_db, 0.0);
    assert_close(hidden.sphere.loss_db, bare.sphere.loss_db, 0.0);
}

static void delta_bullington__of_two_points_is_the_round_earth(void **state)
{
    (void)state;
    const double d_m[] = {0.0, 400.0};
    const double h_m[] = {5.0, 5.0};
    const fe_diffraction_path path = {
        .d_m = d_m, .h_m = h_m, .n = 2, .antenna1_m = 6.5, .antenna2_m = 6.5};
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, false);
    const fe_delta_bullington got = loss_of(&path, &wave);
    assert_true(got.line_of_sight);
    assert_close(got.actual.loss_db, 0.0, 0.0);
    fe_spherical_earth sphere;
    assert_int_equal(fe_spherical_earth_loss(400.0, 1.5, 1.5, &wave, &sphere), FE_OK);
    assert_close(got.loss_db, sphere.loss_db, 1e-9);
}

/* Computed for the project's engineering notes, which give one decimal and no polarisation. */
static void spherical_earth__is_the_noted_one_between_low_masts(void **state)
{
    (void)state;
    fe_spherical_earth got;
    fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, false);
    assert_int_equal(fe_spherical_earth_loss(400.0, 1.5, 1.5, &wave, &got), FE_OK);
    assert_close(got.loss_db, 4.3, 0.05);
    wave.f_hz = 868e6;
    assert_int_equal(fe_spherical_earth_loss(420.0, 1.5, 1.5, &wave, &got), FE_OK);
    assert_close(got.loss_db, 12.8, 0.1);
}

static double sphere_loss(double d_m, double h1_m, double h2_m, const fe_diffraction_wave *wave)
{
    fe_spherical_earth got;
    assert_int_equal(fe_spherical_earth_loss(d_m, h1_m, h2_m, wave, &got), FE_OK);
    return got.loss_db;
}

static void spherical_earth__is_same_from_either_end(void **state)
{
    (void)state;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(0.868e9, AE_M, true);
    for (double d_m = 100.0; d_m < 40e3; d_m *= 1.7)
        assert_close(sphere_loss(d_m, 2.0, 9.0, &wave), sphere_loss(d_m, 9.0, 2.0, &wave),
                     1e-9);
}

static void spherical_earth__is_without_a_step_at_the_horizon(void **state)
{
    (void)state;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    fe_spherical_earth got;
    assert_int_equal(fe_spherical_earth_loss(1e3, 3.0, 5.0, &wave, &got), FE_OK);
    const double horizon_m = got.horizon_m;
    assert_close(horizon_m, sqrt(2.0 * AE_M) * (sqrt(3.0) + sqrt(5.0)), 1e-6);
    assert_close(sphere_loss(horizon_m * (1.0 - 1e-9), 3.0, 5.0, &wave),
                 sphere_loss(horizon_m * (1.0 + 1e-9), 3.0, 5.0, &wave), 1e-5);
}

static void spherical_earth__loses_more_with_distance_and_less_with_height(void **state)
{
    (void)state;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    for (double d_m = 300.0; d_m < 30e3; d_m *= 1.5) {
        assert_true(sphere_loss(1.2 * d_m, 2.0, 2.0, &wave) >=
                    sphere_loss(d_m, 2.0, 2.0, &wave));
        assert_true(sphere_loss(d_m, 2.5, 2.0, &wave) <= sphere_loss(d_m, 2.0, 2.0, &wave));
    }
}

static void spherical_earth__is_clear_with_enough_height(void **state)
{
    (void)state;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(5.5e9, AE_M, true);
    fe_spherical_earth got;
    assert_int_equal(fe_spherical_earth_loss(400.0, 6.0, 6.0, &wave, &got), FE_OK);
    assert_true(got.clear);
    assert_true(isnan(got.fx_db));
    assert_close(got.loss_db, 0.0, 0.0);
}

static void spherical_earth__weighs_sea_against_land(void **state)
{
    (void)state;
    fe_diffraction_wave wave = fe_diffraction_wave_over_land(100e6, AE_M, true);
    const double land_db = sphere_loss(60e3, 10.0, 10.0, &wave);
    wave.omega_sea = 1.0;
    const double sea_db = sphere_loss(60e3, 10.0, 10.0, &wave);
    wave.omega_sea = 0.25;
    assert_true(sea_db < land_db);
    assert_close(sphere_loss(60e3, 10.0, 10.0, &wave), 0.25 * sea_db + 0.75 * land_db, 1e-9);
    /* Sea all the way is ground with the constants of sea. */
    wave.omega_sea = 0.0;
    wave.permittivity = FE_SEA_PERMITTIVITY;
    wave.conductivity_s_m = FE_SEA_CONDUCTIVITY_S_M;
    assert_close(sphere_loss(60e3, 10.0, 10.0, &wave), sea_db, 1e-9);
}

static void spherical_earth__warns_below_10_mhz(void **state)
{
    (void)state;
    fe_spherical_earth got;
    fe_diffraction_wave wave = fe_diffraction_wave_over_land(9.9e6, AE_M, true);
    assert_int_equal(fe_spherical_earth_loss(10e3, 10.0, 10.0, &wave, &got), FE_W_RANGE);
    assert_true(isfinite(got.loss_db));
    wave.f_hz = 10e6;
    assert_int_equal(fe_spherical_earth_loss(10e3, 10.0, 10.0, &wave, &got), FE_OK);
}

static void spherical_earth__holds_with_an_antenna_on_the_ground(void **state)
{
    (void)state;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    assert_true(sphere_loss(400.0, 0.0, 0.0, &wave) > sphere_loss(400.0, 0.0, 3.0, &wave));
    assert_true(isfinite(sphere_loss(400.0, 0.0, 0.0, &wave)));
    assert_true(isfinite(sphere_loss(400.0, 0.0, 3.0, &wave)));
}

static void spherical_earth__refuses_what_is_no_wave(void **state)
{
    (void)state;
    const fe_diffraction_wave good = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    fe_spherical_earth got = {.loss_db = 7.0};
    assert_int_equal(fe_spherical_earth_loss(0.0, 1.0, 1.0, &good, &got), FE_E_DOMAIN);
    assert_int_equal(fe_spherical_earth_loss(NAN, 1.0, 1.0, &good, &got), FE_E_DOMAIN);
    assert_int_equal(fe_spherical_earth_loss(9.0, -1.0, 1.0, &good, &got), FE_E_DOMAIN);
    assert_int_equal(fe_spherical_earth_loss(9.0, 1.0, NAN, &good, &got), FE_E_DOMAIN);
    assert_int_equal(fe_spherical_earth_loss(9.0, INFINITY, 1.0, &good, &got), FE_E_DOMAIN);
    fe_diffraction_wave bad[10];
    for (size_t i = 0; i < 10; i++)
        bad[i] = good;
    bad[0].f_hz = 0.0;
    bad[1].f_hz = NAN;
    bad[2].ae_m = -1.0;
    bad[3].ae_m = INFINITY;
    bad[4].permittivity = 1.0;
    bad[5].permittivity = NAN;
    bad[6].conductivity_s_m = -0.1;
    bad[7].conductivity_s_m = NAN;
    bad[8].omega_sea = 1.1;
    bad[9].c_m_s = 0.0;
    for (size_t i = 0; i < 10; i++)
        assert_int_equal(fe_spherical_earth_loss(9.0, 1.0, 1.0, &bad[i], &got), FE_E_DOMAIN);
    assert_close(got.loss_db, 7.0, 0.0);
}

static void delta_bullington__refuses_what_is_no_path(void **state)
{
    (void)state;
    const double d_m[] = {0.0, 50.0, 100.0};
    const double h_m[] = {0.0, 0.0, 0.0};
    const double back_m[] = {0.0, 150.0, 100.0};
    const double same_m[] = {0.0, 50.0, 50.0};
    const double hole_m[] = {0.0, NAN, 0.0};
    const double peak_m[] = {0.0, INFINITY, 0.0};
    const double below_m[] = {0.0, -1.0, 0.0};
    const double nan_end_m[] = {NAN, 0.0, 0.0};
    const fe_diffraction_path good = {
        .d_m = d_m, .h_m = h_m, .n = 3, .antenna1_m = 2.0, .antenna2_m = 2.0};
    fe_diffraction_path bad[13];
    for (size_t i = 0; i < 13; i++)
        bad[i] = good;
    bad[0].n = 1;
    bad[1].d_m = back_m;
    bad[2].d_m = same_m;
    bad[3].h_m = hole_m;
    bad[4].h_m = peak_m;
    bad[5].h_m = nan_end_m;
    bad[6].clutter_m = below_m;
    bad[7].clutter_m = hole_m;
    bad[8].antenna1_m = -0.1;
    bad[9].antenna2_m = NAN;
    bad[10].antenna2_m = INFINITY;
    bad[11].clutter_m = peak_m;
    bad[12].d_m = hole_m;
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2.437e9, AE_M, true);
    fe_delta_bullington whole = {.loss_db = 7.0};
    fe_bullington part = {.loss_db = 7.0};
    for (size_t i = 0; i < 13; i++) {
        assert_int_equal(fe_delta_bullington_loss(&bad[i], &wave, &whole), FE_E_DOMAIN);
        assert_int_equal(fe_bullington_loss(&bad[i], &wave, &part), FE_E_DOMAIN);
    }
    fe_smooth_surface fit = {.end1_m = 7.0};
    assert_int_equal(fe_smooth_surface_fit(&bad[3], &fit), FE_E_DOMAIN);
    fe_diffraction_wave no_wave = wave;
    no_wave.f_hz = NAN;
    assert_int_equal(fe_delta_bullington_loss(&good, &no_wave, &whole), FE_E_DOMAIN);
    assert_int_equal(fe_bullington_loss(&good, &no_wave, &part), FE_E_DOMAIN);
    assert_close(whole.loss_db + part.loss_db + fit.end1_m, 21.0, 0.0);
    assert_int_equal(fe_delta_bullington_loss(&good, &wave, &whole), FE_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(delta_bullington__agrees_with_its_source_written_out),
        cmocka_unit_test(delta_bullington__is_same_in_parts_and_whole),
        cmocka_unit_test(delta_bullington__is_same_from_either_end),
        cmocka_unit_test(delta_bullington__takes_snow_as_lowered_masts),
        cmocka_unit_test(delta_bullington__counts_from_where_the_profile_starts),
        cmocka_unit_test(delta_bullington__is_twice_too_high_on_one_edge_at_grazing),
        cmocka_unit_test(delta_bullington__is_finite_at_exact_grazing),
        cmocka_unit_test(delta_bullington__adds_clutter_between_the_ends_only),
        cmocka_unit_test(delta_bullington__of_two_points_is_the_round_earth),
        cmocka_unit_test(delta_bullington__refuses_what_is_no_path),
        cmocka_unit_test(spherical_earth__is_the_noted_one_between_low_masts),
        cmocka_unit_test(spherical_earth__is_same_from_either_end),
        cmocka_unit_test(spherical_earth__is_without_a_step_at_the_horizon),
        cmocka_unit_test(spherical_earth__loses_more_with_distance_and_less_with_height),
        cmocka_unit_test(spherical_earth__is_clear_with_enough_height),
        cmocka_unit_test(spherical_earth__weighs_sea_against_land),
        cmocka_unit_test(spherical_earth__warns_below_10_mhz),
        cmocka_unit_test(spherical_earth__holds_with_an_antenna_on_the_ground),
        cmocka_unit_test(spherical_earth__refuses_what_is_no_wave),
    };
    return FE_RUN_TESTS(tests);
}
