/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/constants.h"
#include "farend/ground_ray.h"
#include "propagation/hop_parts.h"
#include "testing.h"

static const fe_reflection MIRROR = {1.0, FE_PI};

static fe_ground_ray ray_of(double f_hz, double distance_m, double h1_m, double h2_m)
{
    const fe_ground_path path = {f_hz, distance_m, h1_m, h2_m};
    fe_ground_ray ray;
    assert_int_equal(fe_ground_ray_loss(&path, &MIRROR, &ray), FE_OK);
    return ray;
}

/* 2.437 GHz, 165 m, a mast of 3 m: the far mast decides between a gain and a null. */
static void far_mast__decides_between_gain_and_null(void **state)
{
    (void)state;
    const double height_m[] = {2.0, 3.5, 5.0};
    const double gain_db[] = {4.7, -9.6, 4.4};
    const fe_permittivity ground = {15.0, 0.0};
    for (int i = 0; i < 3; i++) {
        const fe_ground_path path = {2.437e9, 165.0, 3.0, height_m[i]};
        double grazing_rad;
        fe_reflection reflection;
        fe_ground_ray ray;
        assert_int_equal(fe_ground_grazing(&path, &grazing_rad), FE_OK);
        assert_int_equal(
            fe_ground_reflection(&ground, FE_GROUND_VERTICAL, grazing_rad, 0.0, &reflection),
            FE_OK);
        assert_int_equal(fe_ground_ray_loss(&path, &reflection, &ray), FE_OK);
        assert_close(-ray.loss_db, gain_db[i], 0.1);
    }
}

static void ground_ray__is_what_spherical_earth_calls_it(void **state)
{
    (void)state;
    assert_close(ray_of(2.437e9, 400.0, 1.5, 1.5).loss_db, 4.9, 0.05);
    assert_close(ray_of(868e6, 420.0, 1.5, 1.5).loss_db, 14.2, 0.05);
}

static void ground_ray__is_same_from_either_end(void **state)
{
    (void)state;
    assert_close(ray_of(5.5e9, 233.0, 2.0, 7.0).loss_db, ray_of(5.5e9, 233.0, 7.0, 2.0).loss_db,
                 0.0);
}

static void snow_under_the_masts__costs_more_beyond_the_breakpoint(void **state)
{
    (void)state;
    /* 0.8 m of it; the fourth power of distance goes with the square of each height. */
    const double bare_db = ray_of(2.4e9, 3000.0, 3.0, 3.0).loss_db;
    const double snow_db = ray_of(2.4e9, 3000.0, 2.2, 2.2).loss_db;
    assert_close(snow_db - bare_db, 40.0 * log10(3.0 / 2.2), 0.05);
}

static void flat_ground__is_plane_earth_beyond_twice_the_breakpoint(void **state)
{
    (void)state;
    const double f_hz[] = {0.917e9, 2.437e9, 5.5e9};
    for (int i = 0; i < 3; i++) {
        double breakpoint_m;
        assert_int_equal(fe_ground_breakpoint(f_hz[i], 2.0, 3.0, &breakpoint_m), FE_OK);
        for (double times = 2.0; times < 50.0; times *= 1.7) {
            const fe_ground_path path = {f_hz[i], times * breakpoint_m, 2.0, 3.0};
            double asymptote_db;
            assert_int_equal(fe_ground_plane_earth(&path, &asymptote_db), FE_OK);
            assert_close(ray_of(f_hz[i], path.distance_m, 2.0, 3.0).total_db, asymptote_db,
                         1.0);
        }
    }
}

static void nulls__lie_a_wavelength_of_path_apart(void **state)
{
    (void)state;
    const fe_ground_path path = {.f_hz = 2.437e9, .distance_m = 165.0, .height1_m = 3.0};
    const double spacing_m = FE_SPEED_OF_LIGHT_M_S / 2.437e9 * 165.0 / (2.0 * 3.0);
    double height_m[4];
    size_t count;
    assert_int_equal(fe_ground_nulls(&path, 0.0, 12.0, height_m, 4, &count), FE_OK);
    assert_int_equal(count, 3);
    assert_close(spacing_m, 3.4, 0.05);
    for (size_t i = 0; i < count; i++) {
        assert_close(height_m[i], (double)(i + 1) * spacing_m, 0.03);
        assert_true(ray_of(2.437e9, 165.0, 3.0, height_m[i]).loss_db > 30.0);
    }
}

static void nulls_about_an_end__are_its_neighbours_in_the_list(void **state)
{
    (void)state;
    fe_ground_path path = {.f_hz = 60e9, .distance_m = 100.0, .height1_m = 12.0};
    double height_m[300], below_m, above_m;
    size_t count;
    assert_int_equal(fe_ground_nulls(&path, 0.0, 5.0, height_m, 300, &count), FE_OK);
    assert_true(count > 200 && count < 300);
    for (size_t i = 1; i < count; i += 17) {
        path.height2_m = (height_m[i - 1] + height_m[i]) / 2.0;
        assert_int_equal(fe_ground_nulls_about(&path, &below_m, &above_m), FE_OK);
        assert_close(below_m, height_m[i - 1], 1e-9);
        assert_close(above_m, height_m[i], 1e-9);
    }
    const fe_ground_path low = {0.9e9, 100.0, 0.1, 5.0};
    assert_int_equal(fe_ground_nulls_about(&low, &below_m, &above_m), FE_OK);
    assert_true(isnan(below_m) && isnan(above_m));
    path.height2_m = NAN;
    assert_int_equal(fe_ground_nulls_about(&path, &below_m, &above_m), FE_E_DOMAIN);
}

static void nulls__are_counted_beyond_the_room_given(void **state)
{
    (void)state;
    const fe_ground_path path = {.f_hz = 60e9, .distance_m = 100.0, .height1_m = 3.0};
    size_t count;
    assert_int_equal(fe_ground_nulls(&path, 0.0, 10.0, NULL, 0, &count), FE_OK);
    assert_int_equal(count, 119);
    double height_m[2];
    assert_int_equal(fe_ground_nulls(&path, 5.0, 10.0, height_m, 2, &count), FE_OK);
    assert_true(height_m[0] >= 5.0 && height_m[1] > height_m[0]);
    /* Nothing to cancel where the mast is lower than half a wavelength. */
    const fe_ground_path low = {.f_hz = 0.9e9, .distance_m = 100.0, .height1_m = 0.1};
    assert_int_equal(fe_ground_nulls(&low, 0.0, 1000.0, NULL, 0, &count), FE_OK);
    assert_int_equal(count, 0);
}

static void wide_phase_spread__gives_the_envelope(void **state)
{
    (void)state;
    /* rho = 0.9: 10, 2.6 and 5.5 dB lost, gained and gained at 10, 50, 90 %. */
    const fe_ground_path path = {60e9, 500.0, 3.0, 3.0};
    const fe_reflection rho = {0.9, FE_PI};
    fe_ground_spread got;
    assert_int_equal(fe_ground_ray_spread(&path, &rho, 0.15, 0.15, &got), FE_OK);
    assert_true(got.any_phase);
    assert_true(got.spread_rad > FE_PI / 2.0);
    assert_close(got.loss_p90_db, 10.0, 0.1);
    assert_close(got.loss_p50_db, -2.6, 0.05);
    assert_close(got.loss_p10_db, -5.5, 0.05);
    assert_close(got.loss_db, -10.0 * log10(1.81), 0.01);
}

static void exact_heights__leave_no_spread(void **state)
{
    (void)state;
    const fe_ground_path path = {2.437e9, 165.0, 3.0, 2.0};
    fe_ground_spread got;
    fe_ground_ray ray;
    assert_int_equal(fe_ground_ray_spread(&path, &MIRROR, 0.0, 0.0, &got), FE_OK);
    assert_int_equal(fe_ground_ray_loss(&path, &MIRROR, &ray), FE_OK);
    assert_close(got.spread_rad, 0.0, 0.0);
    assert_close(got.loss_db, ray.loss_db, 1e-9);
    assert_close(got.loss_p10_db, ray.loss_db, 1e-9);
    assert_close(got.loss_p90_db, ray.loss_db, 1e-9);
}

/* The quantiles against drawing the two heights' phase on a fine grid of its normal law. */
static void phase_spread__is_the_integral_over_heights(void **state)
{
    (void)state;
    const fe_ground_path path = {2.437e9, 165.0, 3.0, 3.3};
    const fe_reflection reflection = {0.8, FE_PI};
    fe_ground_spread got;
    fe_ground_ray ray;
    assert_int_equal(fe_ground_ray_spread(&path, &reflection, 0.15, 0.15, &got), FE_OK);
    assert_int_equal(fe_ground_ray_loss(&path, &reflection, &ray), FE_OK);
    assert_false(got.any_phase);

    double power = 0.0, weight = 0.0, below[3] = {0.0, 0.0, 0.0};
    const double quantile_db[3] = {got.loss_p10_db, got.loss_p50_db, got.loss_p90_db};
    for (int i = -60000; i <= 60000; i++) {
        const double z = i / 10000.0;
        const double w = exp(-z * z / 2.0);
        const double phase = ray.phase_rad + z * got.spread_rad;
        const double a = ray.amplitude;
        const double p = 1.0 + a * a + 2.0 * a * cos(phase);
        power += w * p;
        weight += w;
        for (int q = 0; q < 3; q++)
            below[q] += -10.0 * log10(p) <= quantile_db[q] ? w : 0.0;
    }
    assert_close(got.loss_db, -10.0 * log10(power / weight), 1e-6);
    assert_close(below[0] / weight, 0.1, 2e-4);
    assert_close(below[1] / weight, 0.5, 2e-4);
    assert_close(below[2] / weight, 0.9, 2e-4);
}

static void reflection__at_grazing_is_a_mirror_turned_over(void **state)
{
    (void)state;
    for (int surface = FE_SURFACE_DRY_SOIL; surface <= FE_SURFACE_ICE; surface++)
        for (int wave = FE_GROUND_VERTICAL; wave <= FE_GROUND_HORIZONTAL; wave++) {
            fe_permittivity ground;
            fe_reflection got;
            assert_int_equal(fe_surface_permittivity((fe_surface)surface, 5.5e9, &ground),
                             FE_OK);
            assert_int_equal(
                fe_ground_reflection(&ground, (fe_ground_wave)wave, 1e-7, 0.0, &got), FE_OK);
            assert_close(got.size, 1.0, 1e-5);
            assert_close(fabs(got.phase_rad), FE_PI, 1e-5);
        }
}

static void vertical_reflection__vanishes_at_brewsters_angle(void **state)
{
    (void)state;
    const fe_permittivity ground = {15.0, 0.0};
    fe_reflection vertical, horizontal;
    const double angle_rad = atan(1.0 / sqrt(15.0));
    assert_int_equal(
        fe_ground_reflection(&ground, FE_GROUND_VERTICAL, angle_rad, 0.0, &vertical), FE_OK);
    assert_int_equal(
        fe_ground_reflection(&ground, FE_GROUND_HORIZONTAL, angle_rad, 0.0, &horizontal),
        FE_OK);
    assert_close(vertical.size, 0.0, 1e-12);
    assert_close(horizontal.size, 14.0 / 16.0, 1e-12);
}

static void both_polarisations__reflect_alike_straight_down(void **state)
{
    (void)state;
    const fe_permittivity ground = {15.0, 2.0};
    fe_reflection vertical, horizontal;
    assert_int_equal(
        fe_ground_reflection(&ground, FE_GROUND_VERTICAL, FE_PI / 2.0, 0.0, &vertical), FE_OK);
    assert_int_equal(
        fe_ground_reflection(&ground, FE_GROUND_HORIZONTAL, FE_PI / 2.0, 0.0, &horizontal),
        FE_OK);
    assert_close(vertical.size, horizontal.size, 1e-12);
}

static void rough_ground__reflects_less(void **state)
{
    (void)state;
    const fe_permittivity ground = {15.0, 2.0};
    fe_reflection even, rough;
    assert_int_equal(fe_ground_reflection(&ground, FE_GROUND_HORIZONTAL, 0.1, 0.0, &even),
                     FE_OK);
    assert_int_equal(fe_ground_reflection(&ground, FE_GROUND_HORIZONTAL, 0.1, 0.5, &rough),
                     FE_OK);
    const double g = 4.0 * FE_PI * 0.5 * sin(0.1);
    assert_close(rough.size, even.size * exp(-g * g / 2.0), 1e-12);
    assert_close(rough.phase_rad, even.phase_rad, 0.0);
}

static void water_and_wet_soil__reflect_more_than_dry_snow(void **state)
{
    (void)state;
    const fe_ground_path path = {2.437e9, 60.0, 3.0, 3.0};
    fe_reflection snow, dry, wet;
    assert_int_equal(
        fe_ground_reflection_over(&path, FE_SURFACE_DRY_SNOW, FE_GROUND_HORIZONTAL, &snow),
        FE_OK);
    assert_int_equal(
        fe_ground_reflection_over(&path, FE_SURFACE_DRY_SOIL, FE_GROUND_HORIZONTAL, &dry),
        FE_OK);
    assert_int_equal(
        fe_ground_reflection_over(&path, FE_SURFACE_WET_SOIL, FE_GROUND_HORIZONTAL, &wet),
        FE_OK);
    assert_true(snow.size < dry.size && dry.size < wet.size);
}

/* Low and high masts, short and long, over every surface: the two ways must be one. */
static void ray_without_angles__is_the_mean_of_the_ray(void **state)
{
    (void)state;
    static const double FREQUENCIES_HZ[] = {868e6, 2.437e9, 5.58e9, 60.48e9};
    static const double HEIGHTS_M[] = {0.1, 1.5, 3.0, 12.0};
    static const double DISTANCES_M[] = {2.0, 65.0, 400.0, 2500.0};
    for (int i = 0; i < 64 * (FE_SURFACE_ICE + 1); i++) {
        const fe_surface surface = (fe_surface)(i / 64);
        const double f_hz = FREQUENCIES_HZ[i % 4];
        const fe_ground_path path = {f_hz, DISTANCES_M[i / 4 % 4], HEIGHTS_M[i / 16 % 4], 2.0};
        const double rough = fe_surface_roughness_m(surface) * f_hz / FE_SPEED_OF_LIGHT_M_S;
        fe_permittivity soil;
        fe_reflection reflection;
        double wanted_db = 0.0;
        assert_true(fe_surface_permittivity(surface, f_hz, &soil) >= 0);
        assert_true(
            fe_ground_reflection_over(&path, surface, FE_GROUND_VERTICAL, &reflection) >= 0);
        assert_true(fe_ground_ray_mean(&path, &reflection, 0.15, 0.15, &wanted_db) >= 0);
        const hop_ray ray = hop_ray_over(&path, 0.15, 0.15);
        assert_close(hop_ray_mean(&ray, &soil, rough), wanted_db, 1e-7);
    }
}

/* Heights known exactly leave nothing to spread, whatever the phase and the ground. */
static void ray_of_exact_heights__has_no_spread(void **state)
{
    (void)state;
    static const double HEIGHTS_M[] = {1.5, 2.0, 3.0, 12.0};
    const fe_permittivity soil = {15.0, 0.5};
    for (int i = 0; i < 4; i++) {
        const fe_ground_path path = {2.437e9, 165.0, 3.0, HEIGHTS_M[i]};
        const hop_ray ray = hop_ray_over(&path, 0.0, 0.0);
        const hop_ray_level level = hop_ray_levels(&ray, &soil, 0.0);
        assert_close(level.sigma_db, 0.0, 1e-5);
        assert_close(level.mean_db, hop_ray_mean(&ray, &soil, 0.0), 1e-12);
    }
}

static void ground_ray__warns_near_the_ground(void **state)
{
    (void)state;
    const fe_ground_path path = {0.9e9, 100.0, 0.3, 3.0};
    fe_ground_ray ray;
    assert_int_equal(fe_ground_ray_loss(&path, &MIRROR, &ray), FE_W_RANGE);
}

static void ground_ray__refuses_what_is_no_number(void **state)
{
    (void)state;
    const fe_ground_path good = {2.4e9, 100.0, 3.0, 3.0};
    const fe_ground_path bad[] = {
        {NAN, 100.0, 3.0, 3.0},        {2.4e9, 0.0, 3.0, 3.0}, {2.4e9, 100.0, 0.0, 3.0},
        {2.4e9, 100.0, 3.0, -1.0},     {2.4e9, NAN, 3.0, 3.0}, {2.4e9, 100.0, NAN, 3.0},
        {2.4e9, 100.0, 3.0, INFINITY},
    };
    fe_ground_ray ray = {.loss_db = 7.0};
    fe_ground_spread spread = {.loss_db = 7.0};
    double value = 7.0;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(fe_ground_ray_loss(&bad[i], &MIRROR, &ray), FE_E_DOMAIN);
        assert_int_equal(fe_ground_ray_spread(&bad[i], &MIRROR, 0.1, 0.1, &spread),
                         FE_E_DOMAIN);
        assert_int_equal(fe_ground_plane_earth(&bad[i], &value), FE_E_DOMAIN);
        assert_int_equal(fe_ground_grazing(&bad[i], &value), FE_E_DOMAIN);
    }
    const fe_reflection strong = {1.5, 0.0}, unknown = {NAN, 0.0};
    assert_int_equal(fe_ground_ray_loss(&good, &strong, &ray), FE_E_DOMAIN);
    assert_int_equal(fe_ground_ray_loss(&good, &unknown, &ray), FE_E_DOMAIN);
    assert_int_equal(fe_ground_ray_spread(&good, &MIRROR, -0.1, 0.1, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_ground_ray_spread(&good, &MIRROR, 0.1, NAN, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_ground_breakpoint(2.4e9, NAN, 3.0, &value), FE_E_DOMAIN);
    size_t count = 7;
    assert_int_equal(fe_ground_nulls(&good, 3.0, 2.0, NULL, 0, &count), FE_E_DOMAIN);
    assert_int_equal(fe_ground_nulls(&good, NAN, 2.0, NULL, 0, &count), FE_E_DOMAIN);
    assert_close(ray.loss_db, 7.0, 0.0);
    assert_close(spread.loss_db, 7.0, 0.0);
    assert_close(value, 7.0, 0.0);
    assert_int_equal(count, 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(far_mast__decides_between_gain_and_null),
        cmocka_unit_test(ground_ray__is_what_spherical_earth_calls_it),
        cmocka_unit_test(ground_ray__is_same_from_either_end),
        cmocka_unit_test(snow_under_the_masts__costs_more_beyond_the_breakpoint),
        cmocka_unit_test(flat_ground__is_plane_earth_beyond_twice_the_breakpoint),
        cmocka_unit_test(nulls__lie_a_wavelength_of_path_apart),
        cmocka_unit_test(nulls_about_an_end__are_its_neighbours_in_the_list),
        cmocka_unit_test(nulls__are_counted_beyond_the_room_given),
        cmocka_unit_test(wide_phase_spread__gives_the_envelope),
        cmocka_unit_test(exact_heights__leave_no_spread),
        cmocka_unit_test(phase_spread__is_the_integral_over_heights),
        cmocka_unit_test(reflection__at_grazing_is_a_mirror_turned_over),
        cmocka_unit_test(vertical_reflection__vanishes_at_brewsters_angle),
        cmocka_unit_test(both_polarisations__reflect_alike_straight_down),
        cmocka_unit_test(rough_ground__reflects_less),
        cmocka_unit_test(water_and_wet_soil__reflect_more_than_dry_snow),
        cmocka_unit_test(ray_without_angles__is_the_mean_of_the_ray),
        cmocka_unit_test(ray_of_exact_heights__has_no_spread),
        cmocka_unit_test(ground_ray__warns_near_the_ground),
        cmocka_unit_test(ground_ray__refuses_what_is_no_number),
    };
    return FE_RUN_TESTS(tests);
}
