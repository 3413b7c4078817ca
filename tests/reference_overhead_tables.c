/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data of strand, aerial cables, clearances, soil and wood against their published tables. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cells.h"
#include "farend/aerial_cable.h"
#include "farend/clearance.h"
#include "farend/soil.h"
#include "farend/wood.h"
#include "testing.h"
#include "units.h"

static void strand__is_that_of_the_standard(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/messenger_strand_a475.csv");
    while (fe_reference_next(file)) {
        const fe_strand *ours = fe_strand_find(fe_reference_text(file, "nominal_diameter_in"),
                                               atoi(fe_reference_text(file, "wires")));
        fe_reference_check_that(file, ours != NULL, "a strand that the program knows");
        if (!ours)
            continue;
        check_cell(file, "nominal_diameter_mm", ours->diameter_mm);
        check_cell(file, "weight_lb_per_kft", ours->weight_lb_kft);
        check_cell(file, "mass_kg_per_m", ours->mass_kg_m);
        check_cell(file, "common_kN", ours->common_kn);
        check_cell(file, "siemens_martin_kN", ours->siemens_martin_kn);
        check_cell(file, "high_strength_kN", ours->high_strength_kn);
        check_cell(file, "extra_high_strength_kN", ours->extra_high_strength_kn);
        fe_reference_check(file, "mass_kg_per_m", ours->weight_lb_kft * 0.00148816, 1e-4);
    }
    fe_reference_close(file);
}

static void modulus_and_expansion__are_those_published(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/cable_modulus_and_expansion.csv");
    while (fe_reference_next(file)) {
        const fe_cable_material *ours =
            fe_cable_material_find(fe_reference_text(file, "material"));
        fe_reference_check_that(file, ours != NULL, "a material that the program knows");
        if (!ours)
            continue;
        check_cell(file, "modulus_GPa", ours->modulus_gpa);
        check_cell(file, "expansion_per_C", ours->expansion_per_k);
    }
    fe_reference_close(file);
}

static void aerial_cables__are_those_of_the_sheets(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/aerial_cable_classes.csv");
    while (fe_reference_next(file)) {
        const fe_aerial_cable *ours = fe_aerial_cable_find(
            fe_reference_text(file, "cable_class"), fe_reference_text(file, "size"));
        fe_reference_check_that(file, ours != NULL, "a cable that the program knows");
        if (!ours)
            continue;
        check_cell(file, "diameter_or_width_mm", ours->diameter_mm);
        check_cell(file, "height_mm", ours->height_mm);
        check_cell(file, "mass_kg_per_km", ours->mass_kg_km);
        check_cell(file, "breaking_or_rated_strength_kN", ours->strength_kn);
        check_cell(file, "max_working_tension_kN", ours->working_kn);
        check_cell(file, "typical_max_span_m", ours->typical_span_m);
        fe_reference_check_text(file, "note", ours->note);
    }
    fe_reference_close(file);
}

static void clearances__are_those_of_the_codes(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/clearances_overhead.csv");
    while (fe_reference_next(file)) {
        const fe_clearance *ours = fe_clearance_find(
            fe_reference_text(file, "code"), fe_reference_text(file, "clause"),
            fe_reference_text(file, "cable_kind"), fe_reference_text(file, "over"));
        fe_reference_check_that(file, ours != NULL, "a rule that the program knows");
        if (!ours)
            continue;
        check_cell(file, "min_vertical_clearance_m", ours->height_m);
        check_cell(file, "min_vertical_clearance_ft", ours->height_ft);
        fe_reference_check_text(file, "condition", ours->condition);
        fe_reference_check_text(file, "note", ours->note);
    }
    fe_reference_close(file);
}

static void soil__bears_what_the_code_says(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/soil_lateral_bearing.csv");
    while (fe_reference_next(file)) {
        const fe_soil *ours = fe_soil_find(fe_reference_text(file, "soil_class"));
        fe_reference_check_that(file, ours != NULL, "a soil that the program knows");
        if (!ours)
            continue;
        check_cell(file, "vertical_psf", ours->vertical_psf);
        check_cell(file, "lateral_bearing_psf_per_ft", ours->lateral_psf_ft);
        check_cell(file, "lateral_bearing_kPa_per_m", ours->lateral_kpa_m);
        check_cell(file, "friction_coefficient", ours->friction);
        check_cell(file, "cohesion_psf", ours->cohesion_psf);
        fe_reference_check_printed(file, "lateral_bearing_kPa_per_m",
                                   1e-3 * fe_soil_lateral(ours));
    }
    fe_reference_close(file);
}

static void frost_depths__are_those_published(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/frost_depth_facts.csv");
    while (fe_reference_next(file)) {
        const fe_frost_fact *ours =
            fe_frost_fact_find(fe_reference_text(file, "place_or_rule"));
        if (!ours) {
            fe_reference_pass(file, "facts about other places than the program's");
            continue;
        }
        check_cell(file, "frost_or_footing_depth", ours->depth);
        fe_reference_check_text(file, "unit", ours->unit);
    }
    fe_reference_close(file);
}

/* Two sources may give one property: the row of ours with that very value, else the first. */
static const fe_wood *wood_of(fe_reference *file)
{
    const char *name = fe_reference_text(file, "species");
    const char *property = fe_reference_text(file, "property");
    const double value = fe_reference_need(file, "value");
    for (size_t nth = 0;; nth++) {
        const fe_wood *ours = fe_wood_find(name, property, nth);
        if (!ours)
            return fe_wood_find(name, property, 0);
        if (fabs(ours->value - value) <= 1e-12 * value)
            return ours;
    }
}

static void wood__is_as_strong_as_published(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/wood_bending_strength.csv");
    while (fe_reference_next(file)) {
        const fe_wood *ours = wood_of(file);
        fe_reference_check_that(file, ours != NULL, "a wood that the program knows");
        if (!ours)
            continue;
        check_cell(file, "value", ours->value);
        fe_reference_check_text(file, "unit", ours->unit);
        fe_reference_check_that(file, fe_wood_si(ours) > 0.0, "a unit that the program knows");
    }
    fe_reference_close(file);
}

/* Names that a plan uses lead to the same rows. */
static void names_of_plans__find_soil_and_wood(void **state)
{
    (void)state;
    double bending_pa = NAN;
    double elasticity_pa = NAN;
    assert_int_equal(fe_wood_class("C24", &bending_pa, &elasticity_pa), FE_OK);
    assert_close(bending_pa, 24e6, 1.0);
    assert_close(elasticity_pa, 11e9, 1.0);
    assert_int_equal(fe_wood_pole_stress("southern pine", &bending_pa), FE_OK);
    assert_close(bending_pa, 8000.0 * TEST_PSI_PA, 1.0);
    assert_int_equal(fe_wood_class("C99", &bending_pa, &elasticity_pa), FE_E_DOMAIN);
    assert_int_equal(fe_wood_pole_stress("balsa", &bending_pa), FE_E_DOMAIN);
    assert_non_null(fe_soil_find("sand"));
    assert_close(fe_soil_find("sand")->lateral_psf_ft, 150.0, 0.0);
    assert_null(fe_soil_find("quicksand"));
    assert_null(fe_clearance_find("US NFPA 70", "none", "any", "any"));
    assert_null(fe_strand_find("1/4", 19));
    assert_close(1e6 * fe_strand_area(fe_strand_find("1/4", 7)), 22.9, 0.1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strand__is_that_of_the_standard),
        cmocka_unit_test(modulus_and_expansion__are_those_published),
        cmocka_unit_test(aerial_cables__are_those_of_the_sheets),
        cmocka_unit_test(clearances__are_those_of_the_codes),
        cmocka_unit_test(soil__bears_what_the_code_says),
        cmocka_unit_test(frost_depths__are_those_published),
        cmocka_unit_test(wood__is_as_strong_as_published),
        cmocka_unit_test(names_of_plans__find_soil_and_wood),
    };
    return FE_RUN_TESTS(tests);
}
