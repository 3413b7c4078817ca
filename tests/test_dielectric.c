/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/dielectric.h"
#include "testing.h"

static void water__is_static_at_low_frequency_and_light_at_high(void **state)
{
    (void)state;
    fe_permittivity low, high;
    assert_int_equal(fe_water_permittivity(1e6, 25.0, &low), FE_OK);
    /* Static permittivity of water at 25 degrees C is 78.4 in any handbook. */
    assert_close(low.real, 78.4, 0.2);
    assert_close(low.loss, 0.0, 0.01);
    assert_int_equal(fe_water_permittivity(1e15, 25.0, &high), FE_W_RANGE);
    assert_close(high.real, 3.52, 0.01);
}

static void water_loss__peaks_near_20_ghz_at_room_temperature(void **state)
{
    (void)state;
    fe_permittivity below, peak, above;
    assert_int_equal(fe_water_permittivity(8e9, 25.0, &below), FE_OK);
    assert_int_equal(fe_water_permittivity(20e9, 25.0, &peak), FE_OK);
    assert_int_equal(fe_water_permittivity(50e9, 25.0, &above), FE_OK);
    assert_true(peak.loss > below.loss && peak.loss > above.loss);
}

static void dry_snow__goes_from_air_to_ice(void **state)
{
    (void)state;
    fe_permittivity got;
    assert_int_equal(fe_dry_snow_permittivity(0.0, 2.4e9, -5.0, &got), FE_OK);
    assert_close(got.real, 1.0, 0.0);
    assert_close(got.loss, 0.0, 0.0);
    assert_int_equal(fe_dry_snow_permittivity(917.0, 2.4e9, -5.0, &got), FE_OK);
    assert_close(got.real, 3.17, 0.03);
    /* The two rules meet at 0.5 g/cm3 within their precision. */
    fe_permittivity light, heavy;
    assert_int_equal(fe_dry_snow_permittivity(500.0, 2.4e9, -5.0, &light), FE_OK);
    assert_int_equal(fe_dry_snow_permittivity(500.001, 2.4e9, -5.0, &heavy), FE_OK);
    assert_close(light.real, heavy.real, 0.001);
}

static void wet_snow__absorbs_far_more_than_dry(void **state)
{
    (void)state;
    fe_permittivity dry, wet;
    assert_int_equal(fe_dry_snow_permittivity(300.0, 5.5e9, -1.0, &dry), FE_OK);
    assert_int_equal(fe_wet_snow_permittivity(300.0, 0.05, 5.5e9, &wet), FE_OK);
    assert_true(wet.loss > 100.0 * dry.loss);
    assert_true(wet.real > dry.real);
}

/*
 * Debye's law at the relaxation frequency, 9.07 GHz: half of what water adds at rest is left in the
 * real part, and as much is lost. 10 % of water add 0.073 x 10^1.31 = 1.4904, and 0.02 x 10^1.015
 * = 0.2070 without loss, to 1 + 1.83 x 0.3 (Hallikainen 1986, figures from memory).
 */
static void wet_snow__loses_most_at_its_relaxation(void **state)
{
    (void)state;
    fe_permittivity peak, lower, higher;
    assert_int_equal(fe_wet_snow_permittivity(300.0, 0.1, 9.07e9, &peak), FE_OK);
    assert_close(peak.loss, 1.4904 / 2.0, 1e-4);
    assert_close(peak.real, 1.549 + 0.2070 + 1.4904 / 2.0, 2e-4);
    /* Three times higher or lower loses 0.6 of it; the real part has 0.1 and 0.9 of the step. */
    assert_int_equal(fe_wet_snow_permittivity(300.0, 0.1, 3.0 * 9.07e9, &higher), FE_OK);
    assert_int_equal(fe_wet_snow_permittivity(300.0, 0.1, 9.07e9 / 3.0, &lower), FE_OK);
    assert_close_relative(higher.loss, 0.6 * peak.loss, 1e-12);
    assert_close_relative(lower.loss, 0.6 * peak.loss, 1e-12);
    assert_close(lower.real - higher.real, 0.8 * 1.4904, 1e-4);
}

/* A conductor loses sigma lambda Z0 / 2 pi: at 1 GHz 0.035 and 0.15 S/m x 0.299792 m x 376.730 ohm
 * / 6.283185, with the soils' own values there. */
static void soil__loses_by_its_conductivity(void **state)
{
    (void)state;
    fe_permittivity dry, wet;
    assert_int_equal(fe_surface_permittivity(FE_SURFACE_DRY_SOIL, 1e9, &dry), FE_OK);
    assert_int_equal(fe_surface_permittivity(FE_SURFACE_WET_SOIL, 1e9, &wet), FE_OK);
    assert_close(dry.real, 15.0, 1e-9);
    assert_close(dry.loss, 0.62913, 1e-4);
    assert_close(wet.real, 30.0, 1e-9);
    assert_close(wet.loss, 2.69626, 1e-4);
}

static void film__without_thickness_or_contrast_costs_nothing(void **state)
{
    (void)state;
    const fe_permittivity water = {71.3, 28.6}, air = {1.0, 0.0};
    double loss_db;
    assert_int_equal(fe_film_loss(&water, 0.0, 5.5e9, &loss_db), FE_OK);
    assert_close(loss_db, 0.0, 0.0);
    assert_int_equal(fe_film_loss(&air, 0.1, 5.5e9, &loss_db), FE_OK);
    assert_close(loss_db, 0.0, 1e-9);
}

static void film_of_0_15_mm__costs_over_5_db_at_12_ghz(void **state)
{
    (void)state;
    fe_permittivity water;
    double loss_db;
    assert_int_equal(fe_water_permittivity(12e9, 20.0, &water), FE_OK);
    assert_int_equal(fe_film_loss(&water, 0.15e-3, 12e9, &loss_db), FE_OK);
    assert_close(loss_db, 5.7, 0.05);
}

static void half_wave_layer__is_clear(void **state)
{
    (void)state;
    const fe_permittivity glass = {4.0, 0.0};
    double loss_db;
    /* Half a wavelength inside: 0.15 m at 1 GHz over the square root of 4. */
    assert_int_equal(fe_film_loss(&glass, 0.299792458 / 4.0, 1e9, &loss_db), FE_OK);
    assert_close(loss_db, 0.0, 1e-9);
}

static void wet_cover__costs_more_the_higher_the_frequency(void **state)
{
    (void)state;
    double low_db, high_db, dry_db;
    assert_int_equal(fe_cover_loss(FE_COVER_WATER_FILM, 2.437e9, &low_db), FE_OK);
    assert_int_equal(fe_cover_loss(FE_COVER_WATER_FILM, 60.48e9, &high_db), FE_OK);
    assert_int_equal(fe_cover_loss(FE_COVER_DRY, 60.48e9, &dry_db), FE_OK);
    assert_close(low_db, 0.482, 0.001);
    assert_close(high_db, 6.183, 0.001);
    assert_close(dry_db, 0.0, 0.0);
}

static void wet_snow_on_a_cover__costs_some_decibels_at_5_ghz(void **state)
{
    (void)state;
    double low_db, high_db;
    assert_int_equal(fe_cover_loss(FE_COVER_WET_SNOW, 5.5e9, &low_db), FE_OK);
    assert_int_equal(fe_cover_loss(FE_COVER_WET_SNOW, 24e9, &high_db), FE_OK);
    assert_true(low_db > 0.5 && low_db < 6.0);
    assert_true(high_db > low_db);
    assert_int_equal(fe_cover_loss(FE_COVER_WET_SNOW, 2.4e9, &low_db), FE_W_RANGE);
}

static void dielectric__refuses_what_is_no_number(void **state)
{
    (void)state;
    fe_permittivity got = {.real = 7.0};
    assert_int_equal(fe_water_permittivity(NAN, 10.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_water_permittivity(1e9, NAN, &got), FE_E_DOMAIN);
    assert_int_equal(fe_ice_permittivity(0.0, -5.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_ice_permittivity(1e9, -274.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_dry_snow_permittivity(918.0, 1e9, -5.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_dry_snow_permittivity(NAN, 1e9, -5.0, &got), FE_E_DOMAIN);
    assert_int_equal(fe_wet_snow_permittivity(300.0, 1.1, 1e9, &got), FE_E_DOMAIN);
    assert_int_equal(fe_wet_snow_permittivity(300.0, NAN, 1e9, &got), FE_E_DOMAIN);
    assert_int_equal(fe_surface_permittivity(FE_SURFACE_DRY_SOIL, NAN, &got), FE_E_DOMAIN);
    assert_close(got.real, 7.0, 0.0);

    const fe_permittivity water = {71.3, 28.6}, none = {0.0, 0.0}, active = {4.0, -1.0};
    double loss_db = 7.0;
    assert_int_equal(fe_film_loss(&water, -1e-3, 1e9, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_film_loss(&water, NAN, 1e9, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_film_loss(&water, 1e-3, 0.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_film_loss(&none, 1e-3, 1e9, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_film_loss(&active, 1e-3, 1e9, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_cover_loss(FE_COVER_DRY, NAN, &loss_db), FE_E_DOMAIN);
    assert_close(loss_db, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(water__is_static_at_low_frequency_and_light_at_high),
        cmocka_unit_test(water_loss__peaks_near_20_ghz_at_room_temperature),
        cmocka_unit_test(dry_snow__goes_from_air_to_ice),
        cmocka_unit_test(wet_snow__absorbs_far_more_than_dry),
        cmocka_unit_test(wet_snow__loses_most_at_its_relaxation),
        cmocka_unit_test(soil__loses_by_its_conductivity),
        cmocka_unit_test(film__without_thickness_or_contrast_costs_nothing),
        cmocka_unit_test(film_of_0_15_mm__costs_over_5_db_at_12_ghz),
        cmocka_unit_test(half_wave_layer__is_clear),
        cmocka_unit_test(wet_cover__costs_more_the_higher_the_frequency),
        cmocka_unit_test(wet_snow_on_a_cover__costs_some_decibels_at_5_ghz),
        cmocka_unit_test(dielectric__refuses_what_is_no_number),
    };
    return FE_RUN_TESTS(tests);
}
