/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Foliage laws and woodland against their sources. */
#include <math.h>
#include <string.h>

#include "farend/foliage.h"
#include "farend/woodland.h"
#include "testing.h"

static const fe_foliage_law *law_of_row(fe_reference *file)
{
    size_t count;
    const fe_foliage_law *laws = fe_foliage_laws(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(laws[i].model_name, fe_reference_text(file, "model")) == 0 &&
            strcmp(laws[i].foliage, fe_reference_text(file, "foliage")) == 0 &&
            laws[i].depth_low_m == fe_reference_need(file, "depth_low_m"))
            return &laws[i];
    return NULL;
}

static void foliage_table__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/vegetation_models.csv");
    while (fe_reference_next(file)) {
        const fe_foliage_law *law = law_of_row(file);
        fe_reference_check_that(file, law != NULL, "a law of that model, foliage and depth");
        if (!law)
            continue;
        fe_reference_check(file, "a", law->a, 0.0);
        fe_reference_check(file, "f_exponent", law->f_exponent, 0.0);
        fe_reference_check(file, "d_exponent", law->d_exponent, 0.0);
        fe_reference_check_text(file, "f_unit", law->f_unit_hz == 1e9 ? "GHz" : "MHz");
        fe_reference_check(file, "f_low_ghz", law->f_low_hz / 1e9, 1e-12);
        fe_reference_check(file, "f_high_ghz", law->f_high_hz / 1e9, 1e-12);
        fe_reference_check(file, "depth_low_m", law->depth_low_m, 0.0);
        fe_reference_check(file, "depth_high_m", law->depth_high_m, 0.0);
    }
    fe_reference_close(file);
}

static bool model_of_row(fe_reference *file, fe_foliage_model *model)
{
    size_t count;
    const fe_foliage_law *laws = fe_foliage_laws(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(laws[i].model_name, fe_reference_text(file, "model")) == 0) {
            *model = laws[i].model;
            return true;
        }
    return false;
}

static void foliage_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/vegetation_cases.csv");
    while (fe_reference_next(file)) {
        fe_foliage_model model;
        if (!model_of_row(file, &model)) {
            fe_reference_check_that(file, false, "a model of that name");
            continue;
        }
        const bool in_leaf = strcmp(fe_reference_text(file, "foliage"), "out of leaf") != 0;
        double loss_db = NAN;
        const fe_status status =
            fe_foliage_loss(model, in_leaf, 1e9 * fe_reference_need(file, "f_ghz"),
                            fe_reference_need(file, "depth_m"), &loss_db);
        fe_reference_check_status(file, status);
        fe_reference_check_printed(file, "loss_db", loss_db);
        fe_reference_check_text(file, "inside_stated_range", status == FE_OK ? "yes" : "no");
    }
    fe_reference_close(file);
}

/* Equal within rounding of the unit, where an empty cell asks for NAN. */
static void check_cell(fe_reference *file, const char *column, double got)
{
    const double wanted = fe_reference_number(file, column);
    if (isnan(wanted))
        fe_reference_check_that(file, isnan(got), "no figure in this cell");
    else
        fe_reference_check_relative(file, column, got, 1e-12);
}

static bool fits_row(fe_reference *file, const fe_woodland_row *row)
{
    const double f_mhz = fe_reference_number(file, "f_mhz");
    const bool same_f = isnan(f_mhz) ? isnan(row->f_hz) : fabs(row->f_hz / 1e6 - f_mhz) < 1e-6;
    return same_f && strcmp(row->set, fe_reference_text(file, "parameter_set")) == 0;
}

static void woodland_table__is_the_published_one(void **state)
{
    (void)state;
    size_t count;
    const fe_woodland_row *rows = fe_woodland_rows(&count);
    fe_reference *file = fe_reference_open("radio/p833_parameters.csv");
    while (fe_reference_next(file)) {
        const fe_woodland_row *row = NULL;
        for (size_t i = 0; i < count && !row; i++)
            if (fits_row(file, &rows[i]))
                row = &rows[i];
        fe_reference_check_that(file, row != NULL, "a row of that set and frequency");
        if (!row)
            continue;
        check_cell(file, "gamma_db_per_m", row->gamma_db_per_m);
        check_cell(file, "a_m_db", row->a_m_db);
        check_cell(file, "a1_db", row->a1_db);
        check_cell(file, "alpha_exponent", row->alpha);
        check_cell(file, "f_low_mhz", row->f_low_hz / 1e6);
        check_cell(file, "f_high_mhz", row->f_high_hz / 1e6);
    }
    fe_reference_close(file);
}

static void woodland_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p833_cases.csv");
    while (fe_reference_next(file)) {
        const double depth_m = fe_reference_need(file, "depth_m");
        const double gamma_db_per_m = fe_reference_need(file, "gamma_db_per_m");
        const double a_m_db = fe_reference_need(file, "a_m_db");
        double loss_db = NAN;
        fe_reference_check_status(file,
                                  fe_woodland_loss(depth_m, gamma_db_per_m, a_m_db, &loss_db));
        fe_reference_check_printed(file, "a_ev_db", loss_db);
        /* A wood that never levels off is the short-path law. */
        fe_reference_check_status(file,
                                  fe_woodland_loss(depth_m, gamma_db_per_m, 1e9, &loss_db));
        fe_reference_check(file, "short_path_gamma_times_d_db", loss_db, 2e-5);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(foliage_table__is_the_published_one),
        cmocka_unit_test(foliage_loss__is_the_published_one),
        cmocka_unit_test(woodland_table__is_the_published_one),
        cmocka_unit_test(woodland_loss__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
