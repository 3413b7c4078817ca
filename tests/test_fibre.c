/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/fibre.h"
#include "testing.h"

static void better_fibre__reaches_at_least_as_far(void **state)
{
    (void)state;
    const char *applications[] = {"1000BASE-SX", "1000BASE-LX", "10GBASE-SR", "10GBASE-LRM",
                                  "100BASE-FX"};
    const fe_fibre kinds[] = {FE_FIBRE_OM1, FE_FIBRE_OM2, FE_FIBRE_OM3, FE_FIBRE_OM4,
                              FE_FIBRE_OM5};
    for (size_t a = 0; a < 5; a++)
        for (size_t k = 1; k < 5; k++) {
            const fe_fibre_reach *worse = fe_fibre_reach_for(applications[a], kinds[k - 1]);
            const fe_fibre_reach *better = fe_fibre_reach_for(applications[a], kinds[k]);
            assert_non_null(worse);
            assert_non_null(better);
            assert_true(better->reach_m >= worse->reach_m);
        }
    assert_null(fe_fibre_reach_for("10GBASE-SR", FE_FIBRE_OS2));
    assert_null(fe_fibre_reach_for("10GBASE-LR", FE_FIBRE_OM4));
    assert_null(fe_fibre_reach_for("", FE_FIBRE_OS2));
}

/* A multimode run at full reach with two connector pairs, at 3.0 dB/km, fits its budget. */
static void reach_rows__fit_their_budgets(void **state)
{
    (void)state;
    for (size_t i = 0; fe_fibre_reach_at(i); i++) {
        const fe_fibre_reach *row = fe_fibre_reach_at(i);
        assert_ptr_equal(fe_fibre_reach_find(row->application, row->fibre), row);
        assert_true(row->reach_m > 0.0 && row->rate_bit_s >= 100e6);
        for (unsigned kind = FE_FIBRE_OM1; kind <= FE_FIBRE_OS2; kind *= 2) {
            double db_per_m = NAN;
            if (row->kinds & kind)
                assert_int_equal(
                    fe_fibre_attenuation((fe_fibre)kind, row->wavelength_m, &db_per_m), FE_OK);
        }
        if (row->wavelength_m < 1e-6 && !isnan(row->budget_db))
            assert_true(row->reach_m * 3e-3 + 1.5 <= row->budget_db + 1e-9);
    }
}

static void loss__adds_up(void **state)
{
    (void)state;
    double db_per_m = NAN, loss_db = NAN;
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OM4, 850e-9, &db_per_m), FE_OK);
    assert_int_equal(fe_fibre_link_loss(200.0, db_per_m, 2, 1, &loss_db), FE_OK);
    assert_close(loss_db, 0.6 + 1.5 + 0.3, 1e-9);
    assert_int_equal(fe_fibre_link_loss(0.0, db_per_m, 0, 0, &loss_db), FE_OK);
    assert_close(loss_db, 0.0, 0.0);
}

static void attenuation__is_known_where_the_fibre_is_specified(void **state)
{
    (void)state;
    double db_per_m = 7.0;
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OS2, 850e-9, &db_per_m), FE_E_DOMAIN);
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OM3, 1550e-9, &db_per_m), FE_E_DOMAIN);
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OM3, NAN, &db_per_m), FE_E_DOMAIN);
    assert_true(db_per_m == 7.0);
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OM1, 1310e-9, &db_per_m), FE_OK);
    assert_close(db_per_m, 1.5e-3, 1e-12);
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OM2, 850e-9, &db_per_m), FE_OK);
    assert_close(db_per_m, 3.5e-3, 1e-12);
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OS2, 1550e-9, &db_per_m), FE_OK);
    assert_close(db_per_m, 0.4e-3, 1e-12);
}

/* The budgets of the reach rows are those of the list of figures. */
static void budgets__are_the_listed_figures(void **state)
{
    (void)state;
    assert_close(fe_fibre_reach_for("1000BASE-SX", FE_FIBRE_OM2)->budget_db,
                 fe_fibre_figure_find("1000BASE-SX channel insertion loss 50 um 500")->value,
                 0.0);
    assert_close(fe_fibre_reach_for("10GBASE-SR", FE_FIBRE_OM3)->budget_db,
                 fe_fibre_figure_find("10GBASE-SR channel insertion loss OM3")->value, 0.0);
    assert_close(
        fe_fibre_reach_for("1000BASE-LX10", FE_FIBRE_OS2)->budget_db,
        fe_fibre_figure_find("1000BASE-LX10 channel insertion loss single mode")->value, 0.0);
    assert_null(fe_fibre_figure_find(""));
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    double loss_db = 7.0;
    fe_fibre fibre = FE_FIBRE_OM1;
    assert_int_equal(fe_fibre_link_loss(NAN, 1e-3, 2, 0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_fibre_link_loss(1.0, -1e-3, 2, 0, &loss_db), FE_E_DOMAIN);
    assert_true(loss_db == 7.0);
    assert_false(fe_fibre_named("OM9", &fibre));
    assert_true(fe_fibre_named("OS2", &fibre));
    assert_string_equal(fe_fibre_name(fibre), "OS2");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(better_fibre__reaches_at_least_as_far),
        cmocka_unit_test(reach_rows__fit_their_budgets),
        cmocka_unit_test(loss__adds_up),
        cmocka_unit_test(attenuation__is_known_where_the_fibre_is_specified),
        cmocka_unit_test(budgets__are_the_listed_figures),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
