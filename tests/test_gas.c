/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/gas.h"
#include "testing.h"

static void gas_specific__of_dry_air_has_no_water_part(void **state)
{
    (void)state;
    fe_gas_air dry = fe_gas_standard_air();
    dry.water_vapour_kg_m3 = 0.0;
    fe_gas_attenuation got;
    assert_int_equal(fe_gas_specific(22e9, &dry, &got), FE_OK);
    assert_close(got.gamma_water_db_per_m, 0.0, 0.0);
    assert_close(got.gamma_total_db_per_m, got.gamma_oxygen_db_per_m, 0.0);
}

/* Validation examples of ITU-R P.676-13 Annex 1: 1013.25 hPa dry, 288.15 K, 7.5 g/m3 of vapour. */
static void standard_air__is_that_of_the_published_examples(void **state)
{
    (void)state;
    const fe_gas_air air = fe_gas_standard_air();
    fe_gas_attenuation got;
    assert_int_equal(fe_gas_specific(10e9, &air, &got), FE_OK);
    assert_close_relative(1000.0 * got.gamma_oxygen_db_per_m, 0.0082244167, 1e-6);
    assert_close_relative(1000.0 * got.gamma_water_db_per_m, 0.00597412525, 1e-6);
}

static void gas_specific__is_nothing_in_a_vacuum(void **state)
{
    (void)state;
    const fe_gas_air nothing = {0.0, 15.0, 0.0};
    fe_gas_attenuation got;
    assert_int_equal(fe_gas_specific(60e9, &nothing, &got), FE_OK);
    assert_close(got.gamma_total_db_per_m, 0.0, 0.0);
}

static void gas_specific__peaks_near_60_ghz(void **state)
{
    (void)state;
    const fe_gas_air air = fe_gas_standard_air();
    fe_gas_attenuation below, peak, above;
    assert_int_equal(fe_gas_specific(50e9, &air, &below), FE_OK);
    assert_int_equal(fe_gas_specific(60.5e9, &air, &peak), FE_OK);
    assert_int_equal(fe_gas_specific(70e9, &air, &above), FE_OK);
    assert_true(peak.gamma_total_db_per_m > 20.0 * below.gamma_total_db_per_m);
    assert_true(peak.gamma_total_db_per_m > 20.0 * above.gamma_total_db_per_m);
}

static void gas_specific__warns_below_1_ghz(void **state)
{
    (void)state;
    const fe_gas_air air = fe_gas_standard_air();
    fe_gas_attenuation got;
    assert_int_equal(fe_gas_specific(0.999e9, &air, &got), FE_W_RANGE);
    assert_int_equal(fe_gas_specific(1.001e9, &air, &got), FE_OK);
    assert_true(got.gamma_total_db_per_m < 1e-5);
}

static void gas__refuses_what_is_no_number(void **state)
{
    (void)state;
    const fe_gas_air air = fe_gas_standard_air();
    const fe_gas_air cold = {1e5, -273.15, 0.0};
    const fe_gas_air negative = {-1.0, 15.0, 0.0};
    const fe_gas_air unknown = {1e5, 15.0, NAN};
    fe_gas_attenuation got = {.gamma_total_db_per_m = 7.0};
    assert_int_equal(fe_gas_specific(NAN, &air, &got), FE_E_DOMAIN);
    assert_int_equal(fe_gas_specific(0.0, &air, &got), FE_E_DOMAIN);
    assert_int_equal(fe_gas_specific(INFINITY, &air, &got), FE_E_DOMAIN);
    assert_int_equal(fe_gas_specific(60e9, &cold, &got), FE_E_DOMAIN);
    assert_int_equal(fe_gas_specific(60e9, &negative, &got), FE_E_DOMAIN);
    assert_int_equal(fe_gas_specific(60e9, &unknown, &got), FE_E_DOMAIN);
    assert_close(got.gamma_total_db_per_m, 7.0, 0.0);

    fe_gas_refractivity n = {.n_total = 7.0};
    assert_int_equal(fe_gas_refractivity_of(NAN, 1e5, 0.5, &n), FE_E_DOMAIN);
    assert_int_equal(fe_gas_refractivity_of(15.0, 0.0, 0.5, &n), FE_E_DOMAIN);
    assert_int_equal(fe_gas_refractivity_of(15.0, 1e5, 1.01, &n), FE_E_DOMAIN);
    assert_int_equal(fe_gas_refractivity_of(15.0, 1e5, NAN, &n), FE_E_DOMAIN);
    /* Boiling: the vapour would be more than the whole. */
    assert_int_equal(fe_gas_refractivity_of(120.0, 1e5, 1.0, &n), FE_E_DOMAIN);
    assert_close(n.n_total, 7.0, 0.0);
}

static void refractivity__of_dry_air_has_no_wet_part(void **state)
{
    (void)state;
    fe_gas_refractivity n;
    assert_int_equal(fe_gas_refractivity_of(15.0, 101325.0, 0.0, &n), FE_OK);
    assert_close(n.n_wet, 0.0, 0.0);
    assert_close(n.n_total, 77.6 * 1013.25 / 288.15, 1e-9);
}

static void saturation__warns_outside_its_temperatures(void **state)
{
    (void)state;
    double e_pa;
    assert_int_equal(fe_gas_saturation(-41.0, 1e5, &e_pa), FE_W_RANGE);
    assert_int_equal(fe_gas_saturation(51.0, 1e5, &e_pa), FE_W_RANGE);
    assert_int_equal(fe_gas_saturation(-40.0, 1e5, &e_pa), FE_OK);
}

/* The triple point of water, 611.657 Pa at 0.01 C (IAPWS, from memory), is without air. */
static void saturation__in_next_to_no_air_is_that_of_the_triple_point(void **state)
{
    (void)state;
    double e_pa = NAN;
    assert_int_equal(fe_gas_saturation(0.01, 0.05, &e_pa), FE_OK);
    assert_close_relative(e_pa, 611.657, 2e-3);
    assert_int_equal(fe_gas_saturation(0.01, 0.0, &e_pa), FE_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gas_specific__of_dry_air_has_no_water_part),
        cmocka_unit_test(standard_air__is_that_of_the_published_examples),
        cmocka_unit_test(gas_specific__is_nothing_in_a_vacuum),
        cmocka_unit_test(gas_specific__peaks_near_60_ghz),
        cmocka_unit_test(gas_specific__warns_below_1_ghz),
        cmocka_unit_test(gas__refuses_what_is_no_number),
        cmocka_unit_test(refractivity__of_dry_air_has_no_wet_part),
        cmocka_unit_test(saturation__warns_outside_its_temperatures),
        cmocka_unit_test(saturation__in_next_to_no_air_is_that_of_the_triple_point),
    };
    return FE_RUN_TESTS(tests);
}
