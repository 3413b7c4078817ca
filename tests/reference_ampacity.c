/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ampacity against NFPA 70 Table 310.16, its correction table, and BS 7671. */
#include <math.h>

#include "farend/ampacity.h"
#include "testing.h"

static void check_us(fe_reference *file, const char *column, int gauge,
                     fe_conductor_material material, double insulation_c)
{
    double ampacity_a = NAN;
    const fe_status status = fe_ampacity_us(gauge, material, insulation_c, &ampacity_a);
    const bool empty = isnan(fe_reference_number(file, column));
    fe_reference_check_that(file, status == (empty ? FE_E_DOMAIN : FE_OK),
                            "a value, or a refusal where the table has none");
    fe_reference_check(file, column, ampacity_a, 0.0);
}

static void gauges__carry_what_table_310_16_says(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ampacity_us_310_16.csv");
    while (fe_reference_next(file)) {
        int gauge = 99;
        fe_reference_check_that(file, fe_awg_parse(fe_reference_text(file, "size_AWG"), &gauge),
                                "a gauge");
        check_us(file, "cu_60C_A", gauge, FE_CONDUCTOR_COPPER, 60.0);
        check_us(file, "cu_75C_A", gauge, FE_CONDUCTOR_COPPER, 75.0);
        check_us(file, "cu_90C_A", gauge, FE_CONDUCTOR_COPPER, 90.0);
        check_us(file, "al_60C_A", gauge, FE_CONDUCTOR_ALUMINIUM, 60.0);
        check_us(file, "al_75C_A", gauge, FE_CONDUCTOR_ALUMINIUM, 75.0);
        check_us(file, "al_90C_A", gauge, FE_CONDUCTOR_ALUMINIUM, 90.0);
        const fe_us_ampacity *row = fe_us_ampacity_find(gauge);
        fe_reference_check(file, "max_overcurrent_device_cu_A",
                           row ? row->copper_device_a : NAN, 0.0);
    }
    fe_reference_close(file);
}

static void check_metric(fe_reference *file, const char *column, fe_cable_method method)
{
    double ampacity_a = NAN;
    const fe_status status =
        fe_ampacity_metric(1e-6 * fe_reference_need(file, "area_mm2"), method, &ampacity_a);
    const bool empty = isnan(fe_reference_number(file, column));
    fe_reference_check_that(file, status == (empty ? FE_E_DOMAIN : FE_OK),
                            "a value, or a refusal where the table has none");
    fe_reference_check(file, column, ampacity_a, 0.0);
}

static void metric_sizes__carry_what_bs_7671_says(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ampacity_iec_uk_basic.csv");
    while (fe_reference_next(file)) {
        check_metric(file, "method_B_two_core_pvc_A", FE_METHOD_CONDUIT_ON_WALL);
        check_metric(file, "method_C_two_core_pvc_A", FE_METHOD_CLIPPED);
        check_metric(file, "flat_twin_earth_method_C_A", FE_METHOD_FLAT_CLIPPED);
    }
    fe_reference_close(file);
}

static void check_factor(fe_reference *file, const char *column, double insulation_c)
{
    const double air_c = fe_reference_need(file, "ambient_up_to_C");
    const bool empty = isnan(fe_reference_number(file, column));
    double factor = NAN;
    const fe_status status = fe_ampacity_air_factor(air_c, insulation_c, &factor);
    fe_reference_check_that(file, status == (empty ? FE_E_NO_SOLUTION : FE_OK),
                            "a factor, or no current where the table has none");
    fe_reference_check(file, column, factor, 0.0);
}

static void air_factors__are_the_published_steps(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ampacity_ambient_correction.csv");
    while (fe_reference_next(file)) {
        check_factor(file, "factor_60C", 60.0);
        check_factor(file, "factor_75C", 75.0);
        check_factor(file, "factor_90C", 90.0);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gauges__carry_what_table_310_16_says),
        cmocka_unit_test(metric_sizes__carry_what_bs_7671_says),
        cmocka_unit_test(air_factors__are_the_published_steps),
    };
    return FE_RUN_TESTS(tests);
}
