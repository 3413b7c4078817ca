/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Delta-Bullington and smooth earth against the ITU-R validation examples. */
#include "farend/diffraction.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "testing.h"

static double *column(const fe_csv *table, const char *name, double scale)
{
    const size_t n = fe_csv_rows(table);
    double *values = calloc(n, sizeof *values);
    assert_non_null(values);
    for (size_t i = 0; i < n; i++) {
        values[i] = scale * fe_csv_number(table, i, name);
        if (!isfinite(values[i]))
            fail_msg("profile line %d: no number in %s", fe_csv_line(table, i), name);
    }
    return values;
}

typedef struct profile {
    double *d_m;
    double *h_m;
    double *clutter_m;
    size_t n;
} profile;

static profile profile_read(const char *name)
{
    char relative[256];
    snprintf(relative, sizeof relative, "radio/%s", name);
    const char *path = fe_reference_path(relative);
    fe_csv *table = NULL;
    int bad_line = 0;
    if (fe_csv_read(path, &table, &bad_line) != FE_OK)
        fail_msg("%s:%d: cannot be read", path, bad_line);
    profile p = {column(table, "distance_km", 1e3), column(table, "height_m", 1.0),
                 column(table, "clutter_m", 1.0), fe_csv_rows(table)};
    fe_csv_free(table);
    return p;
}

static void profile_free(profile *p)
{
    free(p->d_m);
    free(p->h_m);
    free(p->clutter_m);
}

static fe_diffraction_wave wave_of(fe_reference *file, double c_m_s)
{
    const char *polarisation = fe_reference_text(file, "pol");
    if (strcmp(polarisation, "H") != 0 && strcmp(polarisation, "V") != 0)
        fail_msg("unknown polarisation %s", polarisation);
    fe_diffraction_wave wave = fe_diffraction_wave_over_land(
        1e9 * fe_reference_need(file, "f_ghz"), 1e3 * fe_reference_need(file, "ae_km"),
        polarisation[0] == 'V');
    wave.omega_sea = fe_reference_need(file, "omega_sea");
    wave.c_m_s = c_m_s;
    return wave;
}

/*
 * The folder's README says to what the examples repeat: Bullington's parts to 1e-6 dB, the
 * spherical loss to 0.005 dB, for they used unrounded constants in the first term. Its distance
 * and height parts differ more, with opposite signs, and get the 0.1 dB that the authors ask
 * for. Heights over the fitted surface are printed to 1e-5 m or better.
 */
static const double BULLINGTON_TOLERANCE_DB = 1e-6;
static const double SPHERICAL_TOLERANCE_DB = 0.005;
static const double HEIGHT_TOLERANCE_M = 1e-5;

static void delta_bullington__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p526_delta_bullington_cases.csv");
    while (fe_reference_next(file)) {
        profile p = profile_read(fe_reference_text(file, "profile"));
        const fe_diffraction_wave wave = wave_of(file, fe_reference_need(file, "c_m_s"));
        const fe_diffraction_path path = {
            .d_m = p.d_m,
            .h_m = p.h_m,
            .clutter_m = p.clutter_m,
            .n = p.n,
            .antenna1_m = p.h_m[0] + fe_reference_need(file, "htg_m"),
            .antenna2_m = p.h_m[p.n - 1] + fe_reference_need(file, "hrg_m"),
        };
        const double tolerance_db = fe_reference_need(file, "tolerance_db");
        fe_delta_bullington got = {0};
        fe_reference_check_status(file, fe_delta_bullington_loss(&path, &wave, &got));
        fe_reference_check(file, "hte_smooth_m", got.fit.effective1_m, HEIGHT_TOLERANCE_M);
        fe_reference_check(file, "hre_smooth_m", got.fit.effective2_m, HEIGHT_TOLERANCE_M);
        fe_reference_check(file, "fx_db", got.sphere.fx_db, tolerance_db);
        fe_reference_check(file, "gy1_db", got.sphere.gy1_db, tolerance_db);
        fe_reference_check(file, "gy2_db", got.sphere.gy2_db, tolerance_db);
        fe_reference_check(file, "l_bull_actual_db", got.actual.loss_db,
                           BULLINGTON_TOLERANCE_DB);
        fe_reference_check(file, "l_bull_smooth_db", got.smooth.loss_db,
                           BULLINGTON_TOLERANCE_DB);
        fe_reference_check(file, "l_sph_db", got.sphere.loss_db, SPHERICAL_TOLERANCE_DB);
        fe_reference_check(file, "l_delta_bull_db", got.loss_db, tolerance_db);
        profile_free(&p);
    }
    fe_reference_close(file);
}

enum { FLAT_POINTS = 501 };

static void smooth_earth__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p526_smooth_earth_cases.csv");
    while (fe_reference_next(file)) {
        const double length_m = 1e3 * fe_reference_need(file, "d_km");
        double d_m[FLAT_POINTS];
        double h_m[FLAT_POINTS];
        for (size_t i = 0; i < FLAT_POINTS; i++) {
            d_m[i] = length_m * (double)i / (FLAT_POINTS - 1);
            h_m[i] = 0.0;
        }
        const fe_diffraction_wave wave = wave_of(file, 2.998e8);
        const fe_diffraction_path path = {.d_m = d_m,
                                          .h_m = h_m,
                                          .n = FLAT_POINTS,
                                          .antenna1_m = fe_reference_need(file, "h1_m"),
                                          .antenna2_m = fe_reference_need(file, "h2_m")};
        fe_spherical_earth sphere = {0};
        fe_delta_bullington got = {0};
        fe_reference_check_status(file,
                                  fe_spherical_earth_loss(length_m, path.antenna1_m,
                                                          path.antenna2_m, &wave, &sphere));
        fe_reference_check_status(file, fe_delta_bullington_loss(&path, &wave, &got));
        const double tolerance_db = fe_reference_need(file, "tolerance_db");
        fe_reference_check(file, "l_sph_db", sphere.loss_db, tolerance_db);
        fe_reference_check(file, "l_delta_bull_db", got.loss_db, tolerance_db);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(delta_bullington__is_the_published_one),
        cmocka_unit_test(smooth_earth__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
