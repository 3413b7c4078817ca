/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moments, stays and depths of posts against worked examples and codes. */
#include <math.h>
#include <string.h>

#include "cells.h"
#include "farend/constants.h"
#include "farend/ice_wind.h"
#include "farend/post.h"
#include "testing.h"
#include "units.h"

enum { LIST_ROOM = 32 };

/* A quantity of the `inputs` column under any of the unit endings that it may carry, in SI. */
struct ending {
    const char *ending;
    double si;
};

static const struct ending ENDINGS[] = {
    {"", 1.0},
    {"_psf", TEST_PSF_PA},
    {"_psi", TEST_PSI_PA},
    {"_Pa", 1.0},
    {"_kPa", 1e3},
    {"_MPa", 1e6},
    {"_in", TEST_INCH_M},
    {"_ft", TEST_FOOT_M},
    {"_m", 1.0},
    {"_mm", 1e-3},
    {"_mph", TEST_MPH_M_S},
    {"_m_s", 1.0},
    {"_lbf", TEST_LBF_N},
    {"_N", 1.0},
    {"_lbf_per_ft", TEST_LBF_N / TEST_FOOT_M},
    {"_N_per_m", 1.0},
    {"_lbf_ft", TEST_LBF_N *TEST_FOOT_M},
    {"_N_m", 1.0},
    {"_kN_m", 1e3},
};

static size_t list_of(fe_reference *file, const char *quantity, double *values)
{
    for (size_t i = 0; i < sizeof ENDINGS / sizeof ENDINGS[0]; i++) {
        char key[64];
        strcpy(key, quantity);
        strcat(key, ENDINGS[i].ending);
        const size_t count = fe_reference_input_list(file, key, values, LIST_ROOM);
        for (size_t j = 0; j < count; j++)
            values[j] *= ENDINGS[i].si;
        if (count > 0)
            return count;
    }
    return 0;
}

static double one_of(fe_reference *file, const char *quantity)
{
    double values[LIST_ROOM];
    return list_of(file, quantity, values) == 1 ? values[0] : NAN;
}

/* Width from a circumference or a diameter. */
static double width_of(fe_reference *file, const char *where)
{
    char key[64];
    strcpy(key, "circumference");
    strcat(key, where);
    const double circumference_m = one_of(file, key);
    strcpy(key, "diameter");
    strcat(key, where);
    return isnan(circumference_m) ? one_of(file, key) : circumference_m / FE_PI;
}

static double result_unit(fe_reference *file)
{
    const char *unit = fe_reference_text(file, "unit");
    const struct ending units[] = {
        {"psf", TEST_PSF_PA},
        {"Pa", 1.0},
        {"lbf", TEST_LBF_N},
        {"N", 1.0},
        {"kN", 1e3},
        {"lbf.ft", TEST_LBF_N * TEST_FOOT_M},
        {"N.m", 1.0},
        {"kN.m", 1e3},
        {"in", TEST_INCH_M},
        {"mm", 1e-3},
        {"m", 1.0},
        {"ft", TEST_FOOT_M},
        {"", 1.0},
    };
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (strcmp(units[i].ending, unit) == 0)
            return units[i].si;
    return NAN;
}

static fe_status wind_pressure(fe_reference *file, double *value)
{
    return fe_wind_pressure(one_of(file, "speed"), value);
}

static fe_status wind_on_pole(fe_reference *file, double *force_n, double *moment_n_m)
{
    return fe_post_wind(one_of(file, "pressure"), width_of(file, "_ground"),
                        width_of(file, "_top"), one_of(file, "height"), force_n, moment_n_m);
}

static fe_status wind_force_on_pole(fe_reference *file, double *value)
{
    double moment_n_m = NAN;
    return wind_on_pole(file, value, &moment_n_m);
}

static fe_status wind_moment_on_pole(fe_reference *file, double *value)
{
    double force_n = NAN;
    return wind_on_pole(file, &force_n, value);
}

static fe_status resisting_constant(fe_reference *file, double *value)
{
    (void)file;
    double moment_n_m = NAN;
    const fe_status status =
        fe_post_resisting_moment(FE_POST_ROUND, TEST_INCH_M / FE_PI, TEST_PSI_PA, &moment_n_m);
    *value = moment_n_m / (TEST_LBF_N * TEST_FOOT_M);
    return status;
}

static fe_status resisting_moment(fe_reference *file, double *value)
{
    return fe_post_resisting_moment(FE_POST_ROUND, width_of(file, ""), one_of(file, "stress"),
                                    value);
}

static fe_status stay_pull(fe_reference *file, double *value)
{
    double forces[LIST_ROOM];
    double heights[LIST_ROOM];
    const size_t count = list_of(file, "force", forces);
    if (count == 0 || list_of(file, "height", heights) != count)
        return FE_E_INPUT;
    return fe_post_stay_pull(forces, heights, count, one_of(file, "guy_height"), value);
}

/* Feet and metres alike: only the ratio of height and lead counts. */
static fe_status stay(fe_reference *file, fe_post_stay *found)
{
    return fe_post_stay_of(one_of(file, "horizontal"), one_of(file, "guy_height"),
                           one_of(file, "lead"), found);
}

static fe_status stay_tension(fe_reference *file, double *value)
{
    fe_post_stay found = {0};
    const fe_status status = stay(file, &found);
    *value = found.tension_n;
    return status;
}

static fe_status stay_vertical(fe_reference *file, double *value)
{
    fe_post_stay found = {0};
    const fe_status status = stay(file, &found);
    *value = found.vertical_n;
    return status;
}

static fe_status wind_on_wires(fe_reference *file, double *value)
{
    double load_n_m = NAN;
    const fe_status status =
        fe_wind_load(one_of(file, "diameter"), 0.0, one_of(file, "pressure"), &load_n_m);
    *value = one_of(file, "wires") * load_n_m * one_of(file, "span");
    return status;
}

static fe_status moment_of_wires(fe_reference *file, double *value)
{
    double wires[LIST_ROOM];
    double loads[LIST_ROOM];
    double heights[LIST_ROOM];
    const size_t count = list_of(file, "wires", wires);
    if (count == 0 || list_of(file, "load", loads) != count ||
        list_of(file, "height", heights) != count)
        return FE_E_INPUT;
    for (size_t i = 0; i < count; i++)
        loads[i] *= wires[i] * one_of(file, "span");
    return fe_post_moment(loads, heights, count, value);
}

static fe_status required_circumference(fe_reference *file, double *value)
{
    double width_m = NAN;
    const fe_status status = fe_post_width_for_moment(FE_POST_ROUND, one_of(file, "moment"),
                                                      one_of(file, "stress"), &width_m);
    *value = FE_PI * width_m;
    return status;
}

static const struct quantity {
    const char *name;
    fe_status (*value)(fe_reference *file, double *value);
} QUANTITIES[] = {
    {"wind pressure", wind_pressure},
    {"wind force on pole", wind_force_on_pole},
    {"ground-line moment of wind on pole", wind_moment_on_pole},
    {"resisting moment constant", resisting_constant},
    {"resisting moment", resisting_moment},
    {"horizontal guy component", stay_pull},
    {"guy tension", stay_tension},
    {"wind force on conductors", wind_on_wires},
    {"ground-line moment of wires", moment_of_wires},
    {"required ground-line circumference", required_circumference},
    {"vertical force added to post by the guy", stay_vertical},
};

/* Stays: forces without a unit of their own are in that of the result. */
static bool is_in_the_units_of_the_result(fe_reference *file)
{
    return !isnan(fe_reference_input(file, "force")) ||
           !isnan(fe_reference_input(file, "horizontal"));
}

static void moments_and_stays__are_those_of_the_books(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/post_moment_and_guy.csv");
    while (fe_reference_next(file)) {
        const char *quantity = fe_reference_text(file, "quantity");
        const struct quantity *known = NULL;
        for (size_t i = 0; i < sizeof QUANTITIES / sizeof QUANTITIES[0]; i++)
            if (strcmp(QUANTITIES[i].name, quantity) == 0)
                known = &QUANTITIES[i];
        if (!known && *fe_reference_text(file, "inputs") == 0) {
            fe_reference_pass(file, "a fact without numbers to compute from");
            continue;
        }
        fe_reference_check_that(file, known != NULL, "a quantity that this test knows");
        if (!known)
            continue;
        double value = NAN;
        fe_reference_check_status(file, known->value(file, &value));
        check_within(file, "value",
                     is_in_the_units_of_the_result(file) ? value : value / result_unit(file),
                     fe_reference_number(file, "tol_abs"));
    }
    fe_reference_close(file);
}

/* Metres, newtons and pascals in the units of a row. */
struct system {
    const char *name;
    double n;
    double m;
    double pa;
};

static const struct system *system_of(fe_reference *file)
{
    static const struct system SYSTEMS[] = {
        {"lbf ft psf", TEST_LBF_N, TEST_FOOT_M, TEST_PSF_PA},
        {"kN m kPa", 1e3, 1.0, 1e3},
        {"N m Pa", 1.0, 1.0, 1.0},
    };
    const char *name = fe_reference_text(file, "unit_system");
    for (size_t i = 0; i < sizeof SYSTEMS / sizeof SYSTEMS[0]; i++)
        if (strcmp(SYSTEMS[i].name, name) == 0)
            return &SYSTEMS[i];
    return NULL;
}

static fe_status building_code_depth(fe_reference *file, const struct system *unit, double *a_m,
                                     double *depth_m)
{
    const char *kind = fe_reference_text(file, "kind");
    const fe_post_in_soil given = {
        .force_n = fe_reference_need(file, "lateral_force") * unit->n,
        .height_m = fe_reference_need(file, "force_height") * unit->m,
        .width_m = fe_reference_need(file, "width_or_diameter") * unit->m,
        .lateral_pa_m =
            fe_reference_number(file, "soil_lateral_pressure_per_depth") * unit->pa / unit->m,
        .multiplier = fe_reference_number(file, "soil_multiplier"),
    };
    const double trial_pa = fe_reference_number(file, "trial_depth_pressure") * unit->pa;
    if (strcmp(kind, "nonconstrained fixed S1") == 0)
        return fe_post_depth_free_trial(given.force_n, given.height_m, given.width_m, trial_pa,
                                        a_m, depth_m);
    if (strcmp(kind, "nonconstrained iterated") == 0)
        return fe_post_depth_free(&given, a_m, depth_m);
    if (strcmp(kind, "constrained iterated") == 0)
        return fe_post_depth_held(&given, depth_m);
    if (strcmp(kind, "constrained fixed S3") == 0)
        return fe_post_depth_held_trial(given.force_n, given.height_m, given.width_m, trial_pa,
                                        depth_m);
    fe_reference_check_that(file, false, "a kind of case that this test knows");
    return FE_E_INPUT;
}

static void building_code_depth__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/post_embedment_building_code.csv");
    while (fe_reference_next(file)) {
        const struct system *unit = system_of(file);
        fe_reference_check_that(file, unit != NULL, "a system of units that this test knows");
        if (!unit)
            continue;
        double a_m = NAN;
        double depth_m = NAN;
        fe_reference_check_status(file, building_code_depth(file, unit, &a_m, &depth_m));
        check_within(file, "factor_A", a_m / unit->m, fe_reference_number(file, "tol_A"));
        check_within(file, "required_depth", depth_m / unit->m,
                     fe_reference_number(file, "tol_depth"));
    }
    fe_reference_close(file);
}

static void agricultural_depth__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/post_embedment_agricultural.csv");
    while (fe_reference_next(file)) {
        const char *kind = fe_reference_text(file, "case");
        const double shear_n = fe_reference_number(file, "shear_at_grade_lbf") * TEST_LBF_N;
        const double moment_n_m =
            fe_reference_need(file, "moment_at_grade_lbf_ft") * TEST_LBF_N * TEST_FOOT_M;
        const double lateral_pa_m =
            fe_reference_need(file, "soil_lateral_psf_per_ft") * TEST_PSF_PA / TEST_FOOT_M;
        const double width_m = fe_reference_need(file, "post_width_ft") * TEST_FOOT_M;
        double depth_m = NAN;
        fe_status status = FE_E_INPUT;
        if (strcmp(kind, "nonconstrained") == 0)
            status = fe_post_depth_farm_free(isnan(shear_n) ? 0.0 : shear_n, moment_n_m,
                                             width_m, lateral_pa_m, &depth_m);
        else if (strncmp(kind, "constrained", 11) == 0)
            status = fe_post_depth_farm_held(moment_n_m, width_m, lateral_pa_m, &depth_m);
        fe_reference_check_status(file, status);
        check_within(file, "depth_ft", depth_m / TEST_FOOT_M,
                     fe_reference_number(file, "tol_ft"));
    }
    fe_reference_close(file);
}

static void setting_depth__is_the_one_of_the_rule(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/pole_setting_depth.csv");
    while (fe_reference_next(file)) {
        const double m = test_length_unit(fe_reference_text(file, "length_unit"));
        fe_post_rule rule;
        double depth_m = NAN;
        const fe_status known = fe_post_rule_find(fe_reference_text(file, "rule"), &rule);
        fe_reference_check_that(file, known == FE_OK, "a rule that the program knows");
        if (known != FE_OK)
            continue;
        fe_reference_check_status(
            file,
            fe_post_rule_depth(rule, fe_reference_need(file, "pole_length") * m, &depth_m));
        fe_reference_check(file, "setting_depth", depth_m / m, 1e-9);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(moments_and_stays__are_those_of_the_books),
        cmocka_unit_test(building_code_depth__is_the_published_one),
        cmocka_unit_test(agricultural_depth__is_the_published_one),
        cmocka_unit_test(setting_depth__is_the_one_of_the_rule),
    };
    return FE_RUN_TESTS(tests);
}
