/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What walks along a ground profile: good as it stands, refused with each number of the wave and
 * of the profile in turn out of its range.
 */
#include <math.h>

#include "farend/diffraction.h"
#include "farend/fading.h"
#include "farend/fresnel.h"
#include "farend/height_error.h"
#include "farend/pairs.h"
#include "farend/profile.h"
#include "refusal.h"
#include "testing.h"

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])
#define CHECK(call, members) fe_testing_check_members(#call, call, members, COUNT(members))

enum { POINTS = 5 };
static double distance_m[POINTS], height_m[POINTS], error_m[POINTS], clutter_m[POINTS];
static double mast1_m[POINTS], mast2_m[POINTS];
static fe_diffraction_wave wave;
static fe_diffraction_path path;
static fe_profile profile;
static fe_pairs pairs;
static double f_hz;

static int make_paths(void **state)
{
    (void)state;
    for (int i = 0; i < POINTS; i++) {
        distance_m[i] = 50.0 * i;
        height_m[i] = i == 2 ? 1.5 : 0.0;
        error_m[i] = 0.2;
        clutter_m[i] = 0.5;
        mast1_m[i] = mast2_m[i] = height_m[i] + 3.0;
    }
    f_hz = 2437e6;
    wave = fe_diffraction_wave_over_land(f_hz, 8.5e6, true);
    path = (fe_diffraction_path){.d_m = distance_m,
                                 .h_m = height_m,
                                 .clutter_m = clutter_m,
                                 .n = POINTS,
                                 .antenna1_m = 3.0,
                                 .antenna2_m = 3.0};
    profile = (fe_profile){.count = POINTS,
                           .distance_m = distance_m,
                           .height_m = height_m,
                           .height_error_m = error_m};
    pairs = (fe_pairs){.d_m = distance_m,
                       .h_m = height_m,
                       .clutter_m = clutter_m,
                       .n = POINTS,
                       .antenna1_m = mast1_m,
                       .antenna2_m = mast2_m,
                       .wave = wave};
    return 0;
}

static fe_status bullington(void)
{
    fe_bullington found;
    return fe_bullington_loss(&path, &wave, &found);
}

static fe_status delta_bullington(void)
{
    fe_delta_bullington found;
    return fe_delta_bullington_loss(&path, &wave, &found);
}

static void diffraction__is_refused_out_of_range(void **state)
{
    (void)state;
    const fe_refusal_member of_both[] = {
        {"frequency", &wave.f_hz, 'p'},         {"earth", &wave.ae_m, 'p'},
        {"speed of light", &wave.c_m_s, 'p'},   {"antenna", &path.antenna1_m, 'f'},
        {"far antenna", &path.antenna2_m, 'f'}, {"distance", &distance_m[1], 'p'},
        {"last distance", &distance_m[4], 'p'}, {"height", &height_m[1], 'f'},
        {"clutter", &clutter_m[3], 'f'},
    };
    CHECK(bullington, of_both);
    CHECK(delta_bullington, of_both);
    const fe_refusal_member of_ground[] = {
        {"conductivity", &wave.conductivity_s_m, 'n'},
        {"sea", &wave.omega_sea, 'n'},
    };
    CHECK(delta_bullington, of_ground);
    wave.omega_sea = 1.01;
    assert_int_equal(delta_bullington(), FE_E_DOMAIN);
    make_paths(NULL);
    wave.permittivity = 1.0; /* as air */
    assert_int_equal(delta_bullington(), FE_E_DOMAIN);
    make_paths(NULL);
    path.antenna2_m = -0.1; /* in the ground */
    assert_int_equal(delta_bullington(), FE_E_DOMAIN);
    path.antenna2_m = 3.0;
    path.n = 1;
    assert_int_equal(delta_bullington(), FE_E_DOMAIN);
}

static void take_row(void *context, size_t i, const fe_pair *row, size_t count)
{
    (void)i;
    (void)row;
    *(size_t *)context += count;
}

static fe_status all_pairs(void)
{
    size_t taken = 0;
    const fe_status status = fe_pairs_compute(&pairs, take_row, &taken, NULL);
    /* No row of a case that is refused. */
    assert_int_equal(taken, status < 0 ? 0 : POINTS * (POINTS - 1) / 2);
    return status;
}

static void pairs__are_refused_out_of_range(void **state)
{
    (void)state;
    const fe_refusal_member members[] = {
        {"frequency", &pairs.wave.f_hz, 'p'},
        {"earth", &pairs.wave.ae_m, 'p'},
        {"speed of light", &pairs.wave.c_m_s, 'p'},
        {"permittivity", &pairs.wave.permittivity, 'p'},
        {"conductivity", &pairs.wave.conductivity_s_m, 'n'},
        {"distance", &distance_m[1], 'p'},
        {"height", &height_m[2], 'f'},
        {"clutter", &clutter_m[2], 'n'},
        {"mast", &mast1_m[3], 'f'},
        {"far mast", &mast2_m[0], 'f'},
    };
    CHECK(all_pairs, members);
    pairs.wave.permittivity = 1.0;
    assert_int_equal(all_pairs(), FE_E_DOMAIN);
    make_paths(NULL);
    pairs.wave.omega_sea = 0.5; /* over land alone */
    assert_int_equal(all_pairs(), FE_E_DOMAIN);
    make_paths(NULL);
    mast1_m[2] = 1.4; /* in the ground */
    assert_int_equal(all_pairs(), FE_E_DOMAIN);
    make_paths(NULL);
    mast2_m[2] = 1.4;
    assert_int_equal(all_pairs(), FE_E_DOMAIN);
    make_paths(NULL);
    pairs.n = 1;
    assert_int_equal(all_pairs(), FE_E_DOMAIN);
}

static fe_status judge(void)
{
    fe_height_judgement found;
    return fe_height_error_judge(&profile, f_hz, NULL, &found);
}

static fe_status spread_of_errors(void)
{
    fe_height_spread found;
    return fe_height_error_spread(&path, error_m, &wave, &found);
}

static void errors_of_heights__are_refused_out_of_range(void **state)
{
    (void)state;
    const fe_refusal_member judged[] = {
        {"frequency", &f_hz, 'p'},
        {"length", &distance_m[POINTS - 1], 'p'},
        {"error", &error_m[2], 'n'},
    };
    CHECK(judge, judged);
    const fe_refusal_member spread[] = {
        {"frequency", &wave.f_hz, 'p'},
        {"height", &height_m[2], 'f'},
        {"error", &error_m[2], 'n'},
        {"error at the end", &error_m[4], 'n'},
    };
    CHECK(spread_of_errors, spread);
    path.n = 2;
    assert_int_equal(spread_of_errors(), FE_E_DOMAIN);
    profile.count = 1;
    assert_int_equal(judge(), FE_E_DOMAIN);
    profile.count = POINTS;
    profile.height_error_m = NULL;
    assert_int_equal(judge(), FE_E_DOMAIN);
}

static fe_status walk(void)
{
    fe_fresnel_tightest tightest;
    return fe_fresnel_walk(distance_m, height_m, path.n, path.antenna1_m, path.antenna2_m,
                           wave.ae_m, f_hz, &tightest);
}

static void walk_along_the_zone__is_refused_out_of_range(void **state)
{
    (void)state;
    const fe_refusal_member members[] = {
        {"frequency", &f_hz, 'p'},          {"earth", &wave.ae_m, 'P'},
        {"antenna", &path.antenna1_m, 'f'}, {"far antenna", &path.antenna2_m, 'f'},
        {"distance", &distance_m[1], 'p'},  {"height", &height_m[2], 'f'},
    };
    CHECK(walk, members);
    path.n = 2;
    assert_int_equal(walk(), FE_E_DOMAIN);
}

static fe_fading law;
static fe_fade_rain rain;
static double availability;

static fe_status fade(void)
{
    double fade_db = 0.0;
    return fe_fade_quantile(&law, 1, &rain, availability, &fade_db);
}

/* Rain that costs twice as much a hundredth of the time, beside a sway. */
static void fade__is_refused_out_of_range(void **state)
{
    (void)state;
    law = (fe_fading){.law = FE_FADING_LOGNORMAL, .sigma_db = 1.0};
    rain = (fe_fade_rain){1.0, 2.0};
    availability = 0.99;
    const fe_refusal_member members[] = {
        {"spread", &law.sigma_db, 'n'},
        {"rain", &rain.loss_one_percent_db, 'n'},
        {"rain at its worst", &rain.loss_001_db, 'p'},
        {"availability", &availability, 'o'},
    };
    CHECK(fade, members);
    rain.loss_001_db = 0.9; /* less in worse rain */
    assert_int_equal(fade(), FE_E_DOMAIN);
    rain.loss_001_db = 201.0;
    assert_int_equal(fade(), FE_E_DOMAIN);
    rain = (fe_fade_rain){2.0, 2.0}; /* the same for all */
    assert_int_equal(fade(), FE_OK);
    double one_db = 0.0, beside_db = 0.0;
    assert_int_equal(fe_fade_quantile(NULL, 0, &rain, 0.99, &one_db), FE_OK);
    assert_int_equal(fe_fade_quantile(&law, 1, &rain, 0.99, &beside_db), FE_OK);
    assert_true(beside_db > one_db);
    double most_db = 0.0;
    assert_int_equal(fe_fade_quantile(NULL, 0, &rain, 0.999999, &most_db), FE_W_RANGE);
    assert_close(most_db, 2.0, 0.1 + 1e-9); /* the grid's step */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(diffraction__is_refused_out_of_range, make_paths),
        cmocka_unit_test_setup(pairs__are_refused_out_of_range, make_paths),
        cmocka_unit_test_setup(errors_of_heights__are_refused_out_of_range, make_paths),
        cmocka_unit_test_setup(walk_along_the_zone__is_refused_out_of_range, make_paths),
        cmocka_unit_test_setup(fade__is_refused_out_of_range, make_paths),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
