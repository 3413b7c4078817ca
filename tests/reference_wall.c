/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walls against ITU-R P.2040-3 and building entry loss against ITU-R P.2109-1. */
#include <math.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/entry_loss.h"
#include "farend/wall.h"
#include "testing.h"

static void materials__are_the_published_table(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p2040_materials.csv");
    while (fe_reference_next(file)) {
        const fe_material *row = fe_material_find(fe_reference_text(file, "material"));
        fe_reference_check_that(file, row != NULL, "a material of that name");
        if (!row)
            continue;
        fe_reference_check_text(file, "material", row->name);
        fe_reference_check(file, "a", row->a, 0.0);
        fe_reference_check(file, "b", row->b, 0.0);
        fe_reference_check(file, "c", row->c, 0.0);
        fe_reference_check(file, "d", row->d, 0.0);
        fe_reference_check(file, "f_low_ghz", row->f_low_ghz, 0.0);
        fe_reference_check(file, "f_high_ghz", row->f_high_ghz, 0.0);
    }
    fe_reference_close(file);
}

/* The row of the present edition as published; false where there is none. */
static bool published_now(const char *material, double now[6])
{
    static const char *const COLUMNS[] = {"a", "b", "c", "d", "f_low_ghz", "f_high_ghz"};
    fe_csv *table = NULL;
    int bad_line = 0;
    bool found = false;
    assert_int_equal(
        fe_csv_read(fe_reference_path("radio/p2040_materials.csv"), &table, &bad_line), FE_OK);
    for (size_t row = 0; row < fe_csv_rows(table) && !found; row++) {
        found = strcmp(fe_csv_text(table, row, "material"), material) == 0;
        for (int i = 0; found && i < 6; i++)
            now[i] = fe_csv_number(table, row, COLUMNS[i]);
    }
    fe_csv_free(table);
    return found;
}

static void materials__are_not_those_of_the_older_edition(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p2040_materials_older_edition.csv");
    while (fe_reference_next(file)) {
        const double old[] = {
            fe_reference_need(file, "a"),         fe_reference_need(file, "b"),
            fe_reference_need(file, "c"),         fe_reference_need(file, "d"),
            fe_reference_need(file, "f_low_ghz"), fe_reference_need(file, "f_high_ghz")};
        const char *name = fe_reference_text(file, "material");
        const fe_material *row = fe_material_find(name);
        double now[6];
        const bool in_both = row && published_now(name, now);
        fe_reference_check_that(file, in_both, "a material of that name in both editions");
        if (!in_both)
            continue;
        const double ours[] = {row->a, row->b, row->c, row->d, row->f_low_ghz, row->f_high_ghz};
        const bool differs = memcmp(old, now, sizeof old) != 0;
        /* A failure must count even though the old rows are recalled. */
        assert_int_equal(memcmp(old, ours, sizeof old) != 0, differs);
    }
    fe_reference_close(file);
}

static void slab_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p2040_slab_cases.csv");
    while (fe_reference_next(file)) {
        const char *polarisation = fe_reference_text(file, "pol");
        const fe_incidence wave = {
            .f_hz = 1e9 * fe_reference_need(file, "f_ghz"),
            .incidence_rad = FE_DEG_RAD * fe_reference_need(file, "incidence_deg"),
            .polarisation =
                strcmp(polarisation, "TM") == 0 ? FE_POLARISATION_TM : FE_POLARISATION_TE,
        };
        const char *name = fe_reference_text(file, "material");
        const double thickness_m = fe_reference_need(file, "thickness_m");
        const fe_material *material = fe_material_find(name);
        double permittivity = 0.0;
        double conductivity_s_m = 0.0;
        double transmission_db = 0.0;
        double reflection_db = 0.0;
        fe_reference_check_status(
            file, fe_material_constants(material, wave.f_hz, &permittivity, &conductivity_s_m));
        fe_reference_check_printed(file, "eps_r", permittivity);
        fe_reference_check_printed(file, "sigma_s_m", conductivity_s_m);
        fe_reference_check_status(
            file, fe_slab_loss(material, thickness_m, &wave, &transmission_db, &reflection_db));
        fe_reference_check(file, "transmission_loss_db", transmission_db, 0.001);
        fe_reference_check(file, "reflection_loss_db", reflection_db, 0.001);

        /* The method for several layers must agree where there is one. */
        const fe_wall_layer layer = {name, thickness_m};
        fe_reference_check_status(
            file, fe_layers_loss(&layer, 1, &wave, &transmission_db, &reflection_db));
        fe_reference_check(file, "transmission_loss_db", transmission_db, 0.001);
        fe_reference_check(file, "reflection_loss_db", reflection_db, 0.001);
    }
    fe_reference_close(file);
}

static void entry_coefficients__are_the_published_table(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p2109_coefficients.csv");
    while (fe_reference_next(file)) {
        const fe_entry_building *row =
            fe_entry_building_find(fe_reference_text(file, "building"));
        fe_reference_check_that(file, row != NULL, "a building of that name");
        if (!row)
            continue;
        fe_reference_check(file, "r", row->r, 0.0);
        fe_reference_check(file, "s", row->s, 0.0);
        fe_reference_check(file, "t", row->t, 0.0);
        fe_reference_check(file, "u", row->u, 0.0);
        fe_reference_check(file, "v", row->v, 0.0);
        fe_reference_check(file, "w", row->w, 0.0);
        fe_reference_check(file, "x", row->x, 0.0);
        fe_reference_check(file, "y", row->y, 0.0);
        fe_reference_check(file, "z", row->z, 0.0);
    }
    fe_reference_close(file);
}

static void entry_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p2109_cases.csv");
    while (fe_reference_next(file)) {
        double loss_db = 0.0;
        const fe_status status =
            fe_entry_loss(fe_entry_building_find(fe_reference_text(file, "building")),
                          1e9 * fe_reference_need(file, "f_ghz"),
                          FE_DEG_RAD * fe_reference_need(file, "elevation_deg"),
                          fe_reference_need(file, "p_pct_not_exceeded") / 100.0, &loss_db);
        fe_reference_check_status(file, status);
        fe_reference_check(file, "loss_db", loss_db, fe_reference_need(file, "tolerance_db"));
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(materials__are_the_published_table),
        cmocka_unit_test(materials__are_not_those_of_the_older_edition),
        cmocka_unit_test(slab_loss__is_the_published_one),
        cmocka_unit_test(entry_coefficients__are_the_published_table),
        cmocka_unit_test(entry_loss__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
