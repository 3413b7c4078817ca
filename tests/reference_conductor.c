/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wire sizes and resistances against IEC 60228, ASTM B258 and NFPA 70 chapter 9. */
#include <math.h>
#include <string.h>

#include "farend/conductor.h"
#include "testing.h"

static int read_gauge(fe_reference *file)
{
    int gauge = 0;
    fe_reference_check_that(file, fe_awg_parse(fe_reference_text(file, "size_AWG"), &gauge),
                            "a gauge");
    return gauge;
}

/* The table's cell through the function that the program uses; an empty cell must be a warning.
 */
static void check_metric(fe_reference *file, const char *column, fe_conductor_material material,
                         fe_conductor_class build)
{
    const fe_conductor conductor = {1e-6 * fe_reference_need(file, "area_mm2"), material,
                                    build};
    double ohm_per_m = NAN;
    const fe_status status = fe_conductor_resistance(&conductor, 20.0, &ohm_per_m);
    const bool empty = isnan(fe_reference_number(file, column));
    fe_reference_check_that(file, status == (empty ? FE_W_RANGE : FE_OK),
                            "a value of the standard, or a warning where it has none");
    fe_reference_check_relative(file, column, 1e3 * ohm_per_m, 1e-12);
}

static void metric_resistances__are_those_of_iec_60228(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/conductor_resistance_iec60228.csv");
    while (fe_reference_next(file)) {
        check_metric(file, "cu_class1_ohm_per_km_20C", FE_CONDUCTOR_COPPER, FE_CLASS_SOLID);
        check_metric(file, "cu_class2_ohm_per_km_20C", FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED);
        check_metric(file, "cu_class5_ohm_per_km_20C", FE_CONDUCTOR_COPPER, FE_CLASS_FLEXIBLE);
        check_metric(file, "al_class1_ohm_per_km_20C", FE_CONDUCTOR_ALUMINIUM, FE_CLASS_SOLID);
        check_metric(file, "al_class2_ohm_per_km_20C", FE_CONDUCTOR_ALUMINIUM,
                     FE_CLASS_STRANDED);
    }
    fe_reference_close(file);
}

static void check_gauge_metal(fe_reference *file, const char *column, fe_conductor conductor)
{
    double ohm_per_m = NAN;
    fe_reference_check_status(file, fe_conductor_resistance(&conductor, 75.0, &ohm_per_m));
    fe_reference_check_relative(file, column, 304.8 * ohm_per_m, 1e-12);
}

static void gauge_resistances__are_those_of_table_8(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/conductor_resistance_awg_table8.csv");
    while (fe_reference_next(file)) {
        const int gauge = read_gauge(file);
        const bool solid = strcmp(fe_reference_text(file, "stranding"), "solid") == 0;
        const fe_conductor_class build = solid ? FE_CLASS_SOLID : FE_CLASS_STRANDED;
        const fe_awg_resistance *row = fe_awg_resistance_find(gauge, build);
        fe_reference_check_that(file, row != NULL, "a row of the table");
        if (!row)
            continue;
        fe_reference_check(file, "area_cmil", row->area_cmil, 0.0);
        fe_reference_check(file, "overall_diameter_in", row->diameter_in, 0.0);
        fe_awg awg;
        fe_reference_check_status(file, fe_awg_geometry(gauge, &awg));
        check_gauge_metal(file, "copper_uncoated_ohm_per_kft_75C",
                          (fe_conductor){awg.area_m2, FE_CONDUCTOR_COPPER, build});
        check_gauge_metal(file, "aluminium_ohm_per_kft_75C",
                          (fe_conductor){awg.area_m2, FE_CONDUCTOR_ALUMINIUM, build});
    }
    fe_reference_close(file);
}

static double half_of_last_digit(fe_reference *file, const char *column)
{
    const char *point = strchr(fe_reference_text(file, column), '.');
    return 0.5 * pow(10.0, point ? -(double)strlen(point + 1) : 0.0);
}

/*
 * The table rounds R before it forms Z: half of the last digit of both. Only the foot columns
 * can be recomputed: the metre columns are those, rounded, and then multiplied by 3.28.
 */
static void check_effective(fe_reference *file, const fe_awg_impedance *row)
{
    double z = NAN;
    fe_reference_check_status(
        file, fe_effective_impedance(row->copper_r_ohm_per_kft, row->x_ohm_per_kft, 0.85, &z));
    fe_reference_check(file, "copper_Z_pf085_ohm_per_kft", z,
                       half_of_last_digit(file, "copper_R_ohm_per_kft") +
                           half_of_last_digit(file, "copper_Z_pf085_ohm_per_kft"));
    const double kft_per_km = 1.0 / 0.3048;
    fe_reference_check_printed(file, "reactance_ohm_per_km", row->x_ohm_per_kft * kft_per_km);
    fe_reference_check_printed(file, "copper_R_ohm_per_km",
                               row->copper_r_ohm_per_kft * kft_per_km);
    fe_reference_check_printed(file, "aluminium_R_ohm_per_km",
                               row->aluminium_r_ohm_per_kft * kft_per_km);
    fe_reference_check_printed(file, "copper_Z_pf085_ohm_per_km",
                               row->copper_z_ohm_per_kft * kft_per_km);
}

static void gauge_impedances__are_those_of_table_9(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/conductor_ac_impedance_table9.csv");
    while (fe_reference_next(file)) {
        const fe_awg_impedance *row = fe_awg_impedance_find(read_gauge(file));
        fe_reference_check_that(file, row != NULL, "a row of the table");
        if (!row)
            continue;
        fe_reference_check(file, "reactance_ohm_per_km", row->x_ohm_per_km, 0.0);
        fe_reference_check(file, "copper_R_ohm_per_km", row->copper_r_ohm_per_km, 0.0);
        fe_reference_check(file, "aluminium_R_ohm_per_km", row->aluminium_r_ohm_per_km, 0.0);
        fe_reference_check(file, "copper_Z_pf085_ohm_per_km", row->copper_z_ohm_per_km, 0.0);
        fe_reference_check(file, "reactance_ohm_per_kft", row->x_ohm_per_kft, 0.0);
        fe_reference_check(file, "copper_R_ohm_per_kft", row->copper_r_ohm_per_kft, 0.0);
        fe_reference_check(file, "aluminium_R_ohm_per_kft", row->aluminium_r_ohm_per_kft, 0.0);
        fe_reference_check(file, "copper_Z_pf085_ohm_per_kft", row->copper_z_ohm_per_kft, 0.0);
        check_effective(file, row);
    }
    fe_reference_close(file);
}

static void gauge_geometry__is_that_of_astm_b258(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/awg_geometry.csv");
    while (fe_reference_next(file)) {
        const double tolerance = fe_reference_need(file, "tol_rel");
        fe_awg awg = {0};
        fe_reference_check_status(file, fe_awg_geometry(read_gauge(file), &awg));
        fe_reference_check_relative(file, "diameter_mm", 1e3 * awg.diameter_m, tolerance);
        fe_reference_check_relative(file, "area_mm2", 1e6 * awg.area_m2, tolerance);
        fe_reference_check_relative(file, "copper_ohm_per_km_20C",
                                    1e3 * awg.copper_ohm_per_m_20c, tolerance);
        const double diameter_in = awg.diameter_m / 0.0254;
        fe_reference_check(file, "published_diameter_in", diameter_in, 0.0006);
        fe_reference_check_relative(file, "published_area_cmil",
                                    1e6 * diameter_in * diameter_in, 0.003);
    }
    fe_reference_close(file);
}

/* "alpha of copper at 75 C", "resistivity of annealed copper at 20 C (ohm.mm2/km)" */
static double constant(fe_reference *file)
{
    const char *given = fe_reference_text(file, "given");
    const fe_conductor_material material =
        strstr(given, "copper") ? FE_CONDUCTOR_COPPER : FE_CONDUCTOR_ALUMINIUM;
    if (strstr(given, "resistivity"))
        return 1e9 * fe_conductor_resistivity_20c_ohm_m(material);
    double temp_c = 20.0;
    double alpha = NAN;
    const char *at = strstr(given, " at ");
    if (at)
        (void)fe_testing_numbers(at + 4, &temp_c, 1);
    fe_reference_check_status(file, fe_conductor_alpha_at(material, temp_c, &alpha));
    return alpha;
}

static double by_temperature(fe_reference *file, const char *kind)
{
    double result = NAN;
    const double r1_ohm = fe_reference_input(file, "r1_ohm");
    const double t1_c = fe_reference_input(file, "t1_C");
    const double alpha = fe_reference_input(file, "alpha_per_K");
    const double alpha_at_c = fe_reference_input(file, "alpha_at_C");
    fe_status status = FE_E_INPUT;
    if (strcmp(kind, "IEC 60228 kt") == 0)
        status = fe_conductor_kt(fe_reference_input(file, "t_C"), &result);
    else if (strcmp(kind, "resistance of a wire") == 0)
        status = fe_resistance_of_wire(fe_reference_input(file, "resistivity_ohm_m"),
                                       fe_reference_input(file, "length_m"),
                                       1e-6 * fe_reference_input(file, "area_mm2"), &result);
    else if (strcmp(kind, "resistance at temperature") == 0)
        status = fe_resistance_at_temp(r1_ohm, t1_c, alpha, alpha_at_c,
                                       fe_reference_input(file, "t2_C"), &result);
    else if (strcmp(kind, "temperature from resistance") == 0)
        status = fe_temp_from_resistance(r1_ohm, t1_c, alpha, alpha_at_c,
                                         fe_reference_input(file, "r2_ohm"), &result);
    fe_reference_check_status(file, status);
    return result;
}

static void resistance_follows_temperature__as_published(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/resistance_temperature.csv");
    while (fe_reference_next(file)) {
        const char *kind = fe_reference_text(file, "kind");
        const bool is_constant = strcmp(kind, "constant") == 0;
        const double got = is_constant ? constant(file) : by_temperature(file, kind);
        const double tolerance = fe_reference_number(file, "tol_abs");
        if (isnan(tolerance))
            fe_reference_check_printed(file, "value", got);
        else
            fe_reference_check(file, "value", got, tolerance);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(metric_resistances__are_those_of_iec_60228),
        cmocka_unit_test(gauge_resistances__are_those_of_table_8),
        cmocka_unit_test(gauge_impedances__are_those_of_table_9),
        cmocka_unit_test(gauge_geometry__is_that_of_astm_b258),
        cmocka_unit_test(resistance_follows_temperature__as_published),
    };
    return FE_RUN_TESTS(tests);
}
