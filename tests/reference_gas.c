/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The air against ITU-R P.676-13 Annex 1 and P.453. */
#include <math.h>
#include <stdio.h>

#include "farend/constants.h"
#include "farend/gas.h"
#include "testing.h"

static void check_lines(const char *name, const fe_gas_line *lines, size_t count, char letter)
{
    fe_reference *file = fe_reference_open(name);
    while (fe_reference_next(file)) {
        const double f0_ghz = fe_reference_need(file, "f0_ghz");
        const fe_gas_line *line = NULL;
        for (size_t i = 0; i < count && !line; i++)
            if (lines[i].f0_ghz == f0_ghz)
                line = &lines[i];
        fe_reference_check_that(file, line != NULL, "a line at that frequency");
        for (int i = 0; line && i < 6; i++) {
            const char column[] = {letter, (char)('1' + i), 0};
            fe_reference_check(file, column, line->figure[i], 0.0);
        }
    }
    fe_reference_close(file);
}

static void oxygen_lines__are_the_published_ones(void **state)
{
    (void)state;
    size_t count;
    const fe_gas_line *lines = fe_gas_oxygen_lines(&count);
    check_lines("radio/p676_lines_oxygen.csv", lines, count, 'a');
}

static void water_lines__are_the_published_ones(void **state)
{
    (void)state;
    size_t count;
    const fe_gas_line *lines = fe_gas_water_lines(&count);
    check_lines("radio/p676_lines_water_vapour.csv", lines, count, 'b');
}

static void gas_specific__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p676_specific_attenuation.csv");
    while (fe_reference_next(file)) {
        const fe_gas_air air = {
            .dry_pressure_pa = 100.0 * fe_reference_need(file, "dry_pressure_hpa"),
            .temp_c = fe_reference_need(file, "temp_k") - FE_KELVIN_OFFSET_C,
            .water_vapour_kg_m3 = fe_reference_need(file, "water_vapour_g_m3") / 1000.0,
        };
        fe_gas_attenuation got = {0};
        fe_reference_check_status(
            file, fe_gas_specific(1e9 * fe_reference_need(file, "f_ghz"), &air, &got));
        fe_reference_check_relative(file, "gamma_oxygen_db_km",
                                    1000.0 * got.gamma_oxygen_db_per_m, 1e-6);
        fe_reference_check_relative(file, "gamma_water_db_km",
                                    1000.0 * got.gamma_water_db_per_m, 1e-6);
        fe_reference_check_relative(file, "gamma_total_db_km",
                                    1000.0 * got.gamma_total_db_per_m, 1e-6);
    }
    fe_reference_close(file);
}

/* A row gives humidity and pressure, or the vapour pressure alone. */
static void refractivity__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p453_refractivity.csv");
    while (fe_reference_next(file)) {
        const double temp_c = fe_reference_need(file, "temp_c");
        const double humidity = fe_reference_number(file, "rel_humidity_pct") / 100.0;
        fe_gas_refractivity got = {0};
        if (isnan(humidity)) {
            fe_reference_check_status(
                file, fe_gas_wet_refractivity(temp_c, 100.0 * fe_reference_need(file, "e_hpa"),
                                              &got.n_wet));
            fe_reference_check(file, "n_wet", got.n_wet, 0.01);
            continue;
        }
        const double pressure_pa = 100.0 * fe_reference_need(file, "pressure_hpa");
        fe_reference_check_status(file,
                                  fe_gas_refractivity_of(temp_c, pressure_pa, humidity, &got));
        fe_reference_check(file, "e_sat_hpa", got.e_sat_pa / 100.0, 0.001);
        fe_reference_check(file, "e_hpa", got.e_pa / 100.0, 0.001);
        fe_reference_check(file, "n_wet", got.n_wet, 0.01);
        fe_reference_check(file, "n_total", got.n_total, 0.01);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(oxygen_lines__are_the_published_ones),
        cmocka_unit_test(water_lines__are_the_published_ones),
        cmocka_unit_test(gas_specific__is_the_published_one),
        cmocka_unit_test(refractivity__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
