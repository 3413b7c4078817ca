/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/ice_wind.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/constants.h"
#include "testing.h"

/* 12.5 mm of 913 kg/m3 on a figure-8 cable of 9.5 mm: area of a ring, by hand. */
static void ice__is_a_ring_around_the_cable(void **state)
{
    (void)state;
    double load_n_m = NAN;
    assert_int_equal(fe_ice_load(9.5e-3, 12.5e-3, 913.0, &load_n_m), FE_OK);
    const double ring_m2 = FE_PI / 4.0 * (34.5e-3 * 34.5e-3 - 9.5e-3 * 9.5e-3);
    assert_close_relative(load_n_m, ring_m2 * 913.0 * FE_GRAVITY_M_S2, 1e-12);
    assert_close(load_n_m, 7.735, 1e-3);
    assert_int_equal(fe_ice_load(9.5e-3, 0.0, 913.0, &load_n_m), FE_OK);
    assert_close(load_n_m, 0.0, 0.0);
}

static void sleeve_of_the_same_mass__has_the_same_diameter(void **state)
{
    (void)state;
    double load_n_m = NAN;
    double outer_m = NAN;
    assert_int_equal(fe_ice_load(8e-3, 30e-3, 400.0, &load_n_m), FE_OK);
    assert_int_equal(fe_ice_outer_diameter(8e-3, load_n_m / FE_GRAVITY_M_S2, 400.0, &outer_m),
                     FE_OK);
    assert_close_relative(outer_m, 68e-3, 1e-12);
}

static void wind__acts_on_the_iced_diameter(void **state)
{
    (void)state;
    double load_n_m = NAN;
    assert_int_equal(fe_wind_load(10e-3, 12.5e-3, 190.0, &load_n_m), FE_OK);
    assert_close(load_n_m, 190.0 * 35e-3, 1e-12);
    double pressure_pa = NAN;
    assert_int_equal(fe_wind_pressure(20.0, &pressure_pa), FE_OK);
    /* 0.6133 is the metric constant of the same formula in structural codes, rounded. */
    assert_close_relative(pressure_pa, 0.6133 * 400.0, 1e-3);
}

static void added_constant__counts_for_tension_only(void **state)
{
    (void)state;
    const fe_ice_wind_case given = {
        .diameter_m = 10e-3, .bare_n_m = 3.0, .pressure_pa = 400.0, .added_n_m = 4.4};
    fe_ice_wind_load load;
    assert_int_equal(fe_ice_wind(&given, &load), FE_OK);
    assert_close(load.resultant_n_m, 5.0, 1e-12);
    assert_close(load.tension_n_m, 9.4, 1e-12);
    assert_close(load.vertical_n_m, 3.0, 1e-12);
    assert_close(tan(load.blowout_rad), 4.0 / 3.0, 1e-12);
}

static void district__gives_its_case_in_si(void **state)
{
    (void)state;
    fe_ice_wind_case given;
    double temp_c = NAN;
    const fe_ice_district *heavy = fe_ice_district_find("US IEEE C2", "heavy");
    assert_non_null(heavy);
    assert_int_equal(fe_ice_district_case(heavy, 9.5e-3, 0.539, &given, &temp_c), FE_OK);
    assert_close(given.thickness_m, 12.5e-3, 1e-15);
    assert_close(given.pressure_pa, 190.0, 1e-12);
    assert_close(given.added_n_m, 4.4, 1e-12);
    assert_close(temp_c, -20.0, 1e-12);
    const fe_ice_district *inches =
        fe_ice_district_find("California GO 95", "heavy (above 3000 ft)");
    assert_non_null(inches);
    assert_int_equal(fe_ice_district_case(inches, 9.5e-3, 0.539, &given, &temp_c), FE_OK);
    assert_close(given.thickness_m, 12.7e-3, 1e-15);
    assert_close(given.pressure_pa, 287.28, 0.01);
    assert_close(temp_c, -17.78, 0.01);
    assert_null(fe_ice_district_find("US IEEE C2", "tropical"));
    assert_int_equal(fe_ice_district_case(heavy, NAN, 0.539, &given, &temp_c), FE_E_DOMAIN);
    for (size_t i = 0; i < fe_ice_district_count(); i++)
        assert_int_equal(
            fe_ice_district_case(fe_ice_district_at(i), 9.5e-3, 0.539, &given, &temp_c), FE_OK);
    assert_null(fe_ice_district_at(fe_ice_district_count()));
}

/* One load in two systems, the metric one rounded by the code: a temperature to 5 or 1 degrees or
 * to its digit, thickness to 0.5 mm, pressure to 10 Pa, the constant to 0.1 N/m. */
static void districts__say_the_same_in_both_systems(void **state)
{
    (void)state;
    const double psf_pa = FE_POUND_FORCE_N / (FE_FOOT_M * FE_FOOT_M);
    const double lb_ft_n_m = FE_POUND_FORCE_N / FE_FOOT_M;
    unsigned pairs = 0;
    for (size_t i = 0; i < fe_ice_district_count(); i++) {
        const fe_ice_district *row = fe_ice_district_at(i);
        const double step_c = fmod(row->temp_c, 5.0) == 0.0   ? 5.0
                              : fmod(row->temp_c, 1.0) == 0.0 ? 1.0
                                                              : 0.1;
        const double both[][3] = {
            {row->temp_c, (row->temp_f - 32.0) / 1.8, step_c / 2.0},
            {row->ice_mm, 1e3 * FE_INCH_M * row->ice_in, 0.25},
            {row->wind_pa, psf_pa * row->wind_psf, 5.0},
            {row->added_n_m, lb_ft_n_m * row->added_lb_ft, 0.05},
        };
        for (size_t k = 0; k < sizeof both / sizeof both[0]; k++) {
            if (isnan(both[k][0] + both[k][1]))
                continue;
            assert_close(both[k][0], both[k][1], both[k][2]);
            pairs++;
        }
    }
    /* Five of the US code; of the others constants of zero and one temperature. */
    assert_int_equal(pairs, 5 * 4 + 2 + 1);
}

static void ice_and_wind__refuse_what_is_no_load(void **state)
{
    (void)state;
    double value = 7.0;
    fe_ice_wind_load load;
    const fe_ice_wind_case weightless = {.diameter_m = 0.01};
    const fe_ice_wind_case unknown = {.diameter_m = 0.01, .bare_n_m = 1.0, .thickness_m = NAN};
    assert_int_equal(fe_ice_load(NAN, 0.01, 900.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_ice_load(0.01, -0.01, 900.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_ice_outer_diameter(0.01, 1.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_wind_load(0.01, 0.0, -1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_wind_pressure(NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_ice_wind(&weightless, &load), FE_E_DOMAIN);
    assert_int_equal(fe_ice_wind(&unknown, &load), FE_E_DOMAIN);
    assert_int_equal(fe_ice_zone_load(5, 0.01, &value), FE_E_DOMAIN);
    assert_int_equal(fe_ice_zone_load(1, NAN, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
    assert_null(fe_ice_type_find("density", "fog"));
    assert_null(fe_ice_type_at(fe_ice_type_count()));
}

static void ice_types__are_found_by_item_and_name(void **state)
{
    (void)state;
    for (size_t i = 0; i < fe_ice_type_count(); i++) {
        const fe_ice_type *type = fe_ice_type_at(i);
        assert_ptr_equal(fe_ice_type_find(type->item, type->name), type);
    }
}

/* ISO 12494: four classes of rime are ten times the mass, printed to two digits; a class of glaze
 * is 10 mm more (from memory). */
static void ice_classes__rise_by_even_steps(void **state)
{
    (void)state;
    static const char *const ITEMS[] = {"rime ice class mass", "glaze ice class thickness"};
    static const char *const PREFIXES[] = {"ICR R", "ICG G"};
    unsigned classes = 0;
    for (size_t i = 0; i < fe_ice_type_count(); i++) {
        const fe_ice_type *type = fe_ice_type_at(i);
        for (int k = 0; k < 2; k++) {
            if (strcmp(type->item, ITEMS[k]) != 0)
                continue;
            assert_int_equal(strncmp(type->name, PREFIXES[k], 5), 0);
            const double number = strtod(type->name + 5, NULL);
            const double value = k == 0 ? 0.5 * pow(10.0, (number - 1.0) / 4.0) : 10.0 * number;
            assert_close_relative(type->low, value, k == 0 ? 0.013 : 1e-12);
            assert_close(type->high, type->low, 0.0);
            classes++;
        }
    }
    assert_int_equal(classes, 9 + 5);
}

/* Zone 2 on 20 mm: 10 N/m + 0.2 * 20 = 14 N/m, whatever the sleeve's shape. */
static void presets__all_load_a_cable_by_their_code(void **state)
{
    (void)state;
    fe_ice_district found;
    fe_ice_wind_case given;
    fe_ice_wind_load load;
    double temp_c = 0.0;
    for (size_t i = 0; i < FE_ICE_PRESETS; i++) {
        char name[FE_ICE_PRESET_ROOM];
        fe_ice_preset_name(i, name);
        assert_int_equal(fe_ice_preset(name, 0.02, &found), FE_OK);
        assert_int_equal(fe_ice_district_case(&found, 0.02, 1.0, &given, &temp_c), FE_OK);
        assert_int_equal(fe_ice_wind(&given, &load), FE_OK);
        assert_true(load.tension_n_m > 1.0 && temp_c <= 10.0);
        assert_true(strcmp(fe_ice_preset_source(found.code), "no source read") != 0);
    }
    assert_int_equal(fe_ice_preset("EN 50341-2-4/zone 2", 0.02, &found), FE_OK);
    assert_int_equal(fe_ice_district_case(&found, 0.02, 1.0, &given, &temp_c), FE_OK);
    assert_int_equal(fe_ice_wind(&given, &load), FE_OK);
    assert_close(load.ice_n_m, 14.0, 1e-9);
    assert_close(temp_c, -5.0, 1e-12);
    assert_int_equal(fe_ice_preset("ISO 12494/ICR R2", 0.02, &found), FE_OK);
    assert_int_equal(fe_ice_district_case(&found, 0.02, 1.0, &given, &temp_c), FE_OK);
    assert_int_equal(fe_ice_wind(&given, &load), FE_OK);
    assert_close(load.ice_n_m, 0.9 * 9.80665, 1e-9);
    assert_int_equal(fe_ice_preset("US IEEE C2/heavy", 0.02, &found), FE_OK);
    assert_close(found.ice_mm, 12.5, 1e-12);
    assert_int_equal(fe_ice_preset("US IEEE C2/tropical", 0.02, &found), FE_E_INPUT);
}

/* 0.3 lbf/ft is 4.448 N by 0.3 over 0.3048 m; 4 lbf/ft2 and 0 degF by the same pound and foot. */
static void district_in_feet__is_the_same_in_metres(void **state)
{
    (void)state;
    const fe_ice_district district = {.ice_mm = NAN,
                                      .ice_in = 0.5,
                                      .wind_pa = NAN,
                                      .wind_psf = 4.0,
                                      .temp_c = NAN,
                                      .temp_f = 0.0,
                                      .added_n_m = NAN,
                                      .added_lb_ft = 0.3,
                                      .density_kg_m3 = 913.0};
    fe_ice_wind_case given;
    double temp_c = NAN;
    assert_int_equal(fe_ice_district_case(&district, 9.5e-3, 0.5, &given, &temp_c), FE_OK);
    assert_close(given.thickness_m, 12.7e-3, 1e-12);
    assert_close(given.pressure_pa, 191.52, 0.005);
    assert_close(given.added_n_m, 4.3782, 5e-5);
    assert_close(temp_c, -17.778, 0.001);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ice__is_a_ring_around_the_cable),
        cmocka_unit_test(sleeve_of_the_same_mass__has_the_same_diameter),
        cmocka_unit_test(wind__acts_on_the_iced_diameter),
        cmocka_unit_test(added_constant__counts_for_tension_only),
        cmocka_unit_test(district__gives_its_case_in_si),
        cmocka_unit_test(districts__say_the_same_in_both_systems),
        cmocka_unit_test(ice_and_wind__refuse_what_is_no_load),
        cmocka_unit_test(ice_types__are_found_by_item_and_name),
        cmocka_unit_test(ice_classes__rise_by_even_steps),
        cmocka_unit_test(presets__all_load_a_cable_by_their_code),
        cmocka_unit_test(district_in_feet__is_the_same_in_metres),
    };
    return FE_RUN_TESTS(tests);
}
