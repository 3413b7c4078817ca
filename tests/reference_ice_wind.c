/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ice and wind on cables against code tables and worked examples. */
#include <math.h>
#include <stdlib.h>

#include "cells.h"
#include "farend/constants.h"
#include "farend/ice_wind.h"
#include "farend/parabola.h"
#include "testing.h"
#include "units.h"

static const double LB_FT_N_M = TEST_LBF_N / TEST_FOOT_M;
static const double LB_FT3_KG_M3 = TEST_POUND_KG / (TEST_FOOT_M * TEST_FOOT_M * TEST_FOOT_M);

static void district_loads__are_those_of_the_codes(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ice_wind_district_loads.csv");
    while (fe_reference_next(file)) {
        const fe_ice_district *ours = fe_ice_district_find(fe_reference_text(file, "code"),
                                                           fe_reference_text(file, "district"));
        fe_reference_check_that(file, ours != NULL, "a district that the program knows");
        if (!ours)
            continue;
        check_cell(file, "radial_ice_mm", ours->ice_mm);
        check_cell(file, "radial_ice_in", ours->ice_in);
        check_cell(file, "wind_pressure_Pa", ours->wind_pa);
        check_cell(file, "wind_pressure_psf", ours->wind_psf);
        check_cell(file, "temperature_C", ours->temp_c);
        check_cell(file, "temperature_F", ours->temp_f);
        check_cell(file, "added_constant_N_per_m", ours->added_n_m);
        check_cell(file, "added_constant_lb_per_ft", ours->added_lb_ft);
        check_cell(file, "ice_density_kg_per_m3", ours->density_kg_m3);
    }
    fe_reference_close(file);
}

/* Loads of the row's cable at an ice thickness and a wind, in lb/ft. */
static fe_ice_wind_load us_load(fe_reference *file, double thickness_in, double psf)
{
    const fe_ice_wind_case given = {
        .diameter_m = fe_reference_need(file, "diameter_in") * TEST_INCH_M,
        .bare_n_m = fe_reference_need(file, "bare_weight_lb_per_ft") * LB_FT_N_M,
        .thickness_m = thickness_in * TEST_INCH_M,
        .density_kg_m3 = 57.0 * LB_FT3_KG_M3,
        .pressure_pa = psf * TEST_PSF_PA,
    };
    fe_ice_wind_load load = {0};
    fe_reference_check_status(file, fe_ice_wind(&given, &load));
    return load;
}

static void load_tables__are_those_of_the_general_order(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ice_wind_loads_GO95_tables.csv");
    while (fe_reference_next(file)) {
        const fe_ice_wind_load light = us_load(file, 0.0, 8.0);
        const fe_ice_wind_load heavy = us_load(file, 0.5, 6.0);
        fe_reference_check(file, "light_wind8psf_lb_per_ft", light.wind_n_m / LB_FT_N_M, 5e-4);
        fe_reference_check(file, "light_resultant_lb_per_ft", light.resultant_n_m / LB_FT_N_M,
                           1.5e-3);
        fe_reference_check(file, "heavy_halfinch_ice_vertical_lb_per_ft",
                           heavy.vertical_n_m / LB_FT_N_M, 1.5e-3);
        fe_reference_check(file, "heavy_wind6psf_lb_per_ft", heavy.wind_n_m / LB_FT_N_M, 5e-4);
        fe_reference_check(file, "heavy_resultant_lb_per_ft", heavy.resultant_n_m / LB_FT_N_M,
                           1.5e-3);
    }
    fe_reference_close(file);
}

/* A cell, or nothing where it is empty. */
static double or_nothing(fe_reference *file, const char *column)
{
    const double value = fe_reference_number(file, column);
    return isnan(value) ? 0.0 : value;
}

static fe_ice_wind_load metric_load(fe_reference *file)
{
    const double bare_n_m = fe_reference_need(file, "bare_load_kgf_per_m") * TEST_KGF_N;
    const double diameter_mm = fe_reference_number(file, "diameter_mm");
    fe_ice_wind_load load = {0};
    if (isnan(diameter_mm)) {
        /* Loads as printed. */
        load.ice_n_m = or_nothing(file, "ice_load_kgf_per_m") * TEST_KGF_N;
        load.wind_n_m = or_nothing(file, "wind_load_kgf_per_m") * TEST_KGF_N;
        load.vertical_n_m = bare_n_m + load.ice_n_m;
        load.resultant_n_m = hypot(load.vertical_n_m, load.wind_n_m);
        return load;
    }
    const fe_ice_wind_case given = {
        .diameter_m = 1e-3 * diameter_mm,
        .bare_n_m = bare_n_m,
        .thickness_m = 1e-3 * or_nothing(file, "radial_ice_mm"),
        .density_kg_m3 = or_nothing(file, "ice_density_kg_per_m3"),
        .pressure_pa = or_nothing(file, "wind_pressure_kgf_per_m2") * TEST_KGF_N,
    };
    fe_reference_check_status(file, fe_ice_wind(&given, &load));
    return load;
}

static void iced_and_blown_spans__are_those_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ice_wind_sag_worked_examples.csv");
    while (fe_reference_next(file)) {
        const fe_ice_wind_load load = metric_load(file);
        const double tol_load = fe_reference_number(file, "tol_load_kgf_per_m");
        const double tol_sag = fe_reference_number(file, "tol_sag_m");
        double sag_m = NAN;
        fe_reference_check_status(
            file, fe_parabola_sag(fe_reference_need(file, "span_m"), load.resultant_n_m,
                                  fe_reference_need(file, "tension_kgf") * TEST_KGF_N, &sag_m));
        if (!isnan(fe_reference_number(file, "diameter_mm"))) {
            check_within(file, "ice_load_kgf_per_m", load.ice_n_m / TEST_KGF_N, tol_load);
            check_within(file, "wind_load_kgf_per_m", load.wind_n_m / TEST_KGF_N, tol_load);
            check_within(file, "resultant_load_kgf_per_m", load.resultant_n_m / TEST_KGF_N,
                         tol_load);
        }
        check_within(file, "sag_in_plane_m", sag_m, tol_sag);
        check_within(file, "sag_vertical_m", sag_m * load.vertical_n_m / load.resultant_n_m,
                     tol_sag);
    }
    fe_reference_close(file);
}

static void us_loads__are_those_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ice_wind_us_units.csv");
    while (fe_reference_next(file)) {
        const double factor = fe_reference_need(file, "ice_factor_lb_per_ft_in2");
        const fe_ice_wind_case given = {
            .diameter_m = fe_reference_need(file, "diameter_in") * TEST_INCH_M,
            .bare_n_m = fe_reference_need(file, "bare_load_lb_per_ft") * LB_FT_N_M,
            .thickness_m = fe_reference_need(file, "radial_ice_in") * TEST_INCH_M,
            /* The factor is pi rho, for thickness and diameter in inches. */
            .density_kg_m3 = factor * 144.0 / FE_PI * LB_FT3_KG_M3,
            .pressure_pa = fe_reference_need(file, "wind_pressure_psf") * TEST_PSF_PA,
            .added_n_m = or_nothing(file, "added_constant_lb_per_ft") * LB_FT_N_M,
        };
        const double tol_load = fe_reference_number(file, "tol_load");
        fe_ice_wind_load load = {0};
        fe_reference_check_status(file, fe_ice_wind(&given, &load));
        check_within(file, "ice_load_lb_per_ft", load.ice_n_m / LB_FT_N_M, tol_load);
        check_within(file, "vertical_load_lb_per_ft", load.vertical_n_m / LB_FT_N_M, tol_load);
        check_within(file, "wind_load_lb_per_ft", load.wind_n_m / LB_FT_N_M, tol_load);
        check_within(file, "resultant_lb_per_ft", load.tension_n_m / LB_FT_N_M, tol_load);
        if (isnan(fe_reference_number(file, "tension_lbf")))
            continue;
        double sag_m = NAN;
        fe_reference_check_status(
            file, fe_parabola_sag(fe_reference_need(file, "span_ft") * TEST_FOOT_M,
                                  load.resultant_n_m,
                                  fe_reference_need(file, "tension_lbf") * TEST_LBF_N, &sag_m));
        const double tol_sag = fe_reference_number(file, "tol_sag");
        check_within(file, "sag_in_plane_ft", sag_m / TEST_FOOT_M, tol_sag);
        check_within(file, "sag_vertical_ft",
                     sag_m / TEST_FOOT_M * load.vertical_n_m / load.resultant_n_m, tol_sag);
    }
    fe_reference_close(file);
}

static void zone_loads__are_those_of_the_annex(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ice_load_zones_german_annex.csv");
    while (fe_reference_next(file)) {
        const int zone = atoi(fe_reference_text(file, "zone"));
        const fe_ice_zone *ours = fe_ice_zone_find(zone);
        fe_reference_check_that(file, ours != NULL, "a zone that the program knows");
        if (!ours)
            continue;
        double load_n_m = NAN;
        fe_reference_check_status(
            file, fe_ice_zone_load(zone, 1e-3 * fe_reference_need(file, "example_diameter_mm"),
                                   &load_n_m));
        check_cell(file, "constant_N_per_m", ours->constant_n_m);
        check_cell(file, "per_diameter_N_per_m_per_mm", ours->per_diameter_n_m_mm);
        fe_reference_check(file, "example_load_N_per_m", load_n_m, 1e-9);
    }
    fe_reference_close(file);
}

static void ice_types__are_those_of_the_standard(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ice_types_iso12494.csv");
    while (fe_reference_next(file)) {
        const fe_ice_type *ours = fe_ice_type_find(fe_reference_text(file, "item"),
                                                   fe_reference_text(file, "class_or_type"));
        fe_reference_check_that(file, ours != NULL, "a type that the program knows");
        if (!ours)
            continue;
        check_cell(file, "value_low", ours->low);
        check_cell(file, "value_high", ours->high);
        fe_reference_check_text(file, "unit", ours->unit);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(district_loads__are_those_of_the_codes),
        cmocka_unit_test(load_tables__are_those_of_the_general_order),
        cmocka_unit_test(iced_and_blown_spans__are_those_of_the_books),
        cmocka_unit_test(us_loads__are_those_of_the_books),
        cmocka_unit_test(zone_loads__are_those_of_the_annex),
        cmocka_unit_test(ice_types__are_those_of_the_standard),
    };
    return FE_RUN_TESTS(tests);
}
