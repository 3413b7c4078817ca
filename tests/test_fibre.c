/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/count.h"
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
    static const struct {
        const char *application;
        const char *fibre;
        const char *figure;
    } ROWS[] = {
        {"1000BASE-SX", "62.5 um",
         "1000BASE-SX channel insertion loss 62.5 um 160 MHz.km (220 m)"},
        {"1000BASE-SX", "62.5 um OM1",
         "1000BASE-SX channel insertion loss 62.5 um 200 MHz.km (275 m)"},
        {"1000BASE-SX", "50 um", "1000BASE-SX channel insertion loss 50 um 400 MHz.km (500 m)"},
        {"1000BASE-SX", "50 um OM2", "1000BASE-SX channel insertion loss 50 um 500"},
        {"1000BASE-LX", "62.5 um", "1000BASE-LX channel insertion loss multimode 550 m"},
        {"1000BASE-LX", "50 um", "1000BASE-LX channel insertion loss multimode 550 m"},
        {"1000BASE-LX", "50 um OM2", "1000BASE-LX channel insertion loss multimode 550 m"},
        {"1000BASE-LX", "9 um single mode",
         "1000BASE-LX channel insertion loss single mode 5 km"},
        {"1000BASE-LX10", "single mode OS1 OS2",
         "1000BASE-LX10 channel insertion loss single mode"},
        {"1000BASE-BX10", "single mode one fibre",
         "1000BASE-BX10 channel insertion loss upstream (1310 nm)"},
        {"10GBASE-SR", "62.5 um OM1", "10GBASE-SR channel insertion loss OM1"},
        {"10GBASE-SR", "50 um OM2", "10GBASE-SR channel insertion loss OM2"},
        {"10GBASE-SR", "50 um OM3", "10GBASE-SR channel insertion loss OM3"},
        {"10GBASE-SR", "50 um OM4", "10GBASE-SR channel insertion loss OM4"},
        {"10GBASE-SR", "OM5", "10GBASE-SR channel insertion loss OM4"},
        {"10GBASE-LRM", "62.5 um OM1", "10GBASE-LRM channel insertion loss OM1"},
        {"10GBASE-LRM", "50 um OM2", "10GBASE-LRM channel insertion loss OM1"},
        {"10GBASE-LRM", "50 um OM3", "10GBASE-LRM channel insertion loss OM1"},
        {"10GBASE-LRM", "50 um", "10GBASE-LRM channel insertion loss 50 um 400/400"},
        {"10GBASE-LR", "single mode",
         "10GBASE-LR power difference min transmit to min receive"},
    };
    for (size_t i = 0; i < COUNT(ROWS); i++)
        assert_close(fe_fibre_reach_find(ROWS[i].application, ROWS[i].fibre)->budget_db,
                     fe_fibre_figure_find(ROWS[i].figure)->value, 0.0);
    size_t budgets = 0;
    for (size_t i = 0; fe_fibre_reach_at(i); i++)
        budgets += !isnan(fe_fibre_reach_at(i)->budget_db);
    assert_int_equal(budgets, COUNT(ROWS));
    assert_null(fe_fibre_figure_find(""));
}

/* An application's name says its rate: 100 and 1000 in Mbit/s, 10G. */
static void rates__are_those_of_the_names(void **state)
{
    (void)state;
    for (size_t i = 0; fe_fibre_reach_at(i); i++) {
        const fe_fibre_reach *row = fe_fibre_reach_at(i);
        char *end = NULL;
        const double number = strtod(row->application, &end);
        assert_close(row->rate_bit_s, number * (*end == 'G' ? 1e9 : 1e6), 0.0);
    }
}

/* A fibre has one modal bandwidth at one wavelength, whatever is sent over it. */
static void bandwidth__is_the_fibres(void **state)
{
    (void)state;
    size_t pairs = 0;
    for (size_t i = 0; fe_fibre_reach_at(i); i++)
        for (size_t k = 0; k < i; k++) {
            const fe_fibre_reach *a = fe_fibre_reach_at(i), *b = fe_fibre_reach_at(k);
            if (isnan(a->modal_bandwidth_mhz_km) || strcmp(a->fibre, b->fibre) != 0 ||
                a->wavelength_m != b->wavelength_m)
                continue;
            assert_close(a->modal_bandwidth_mhz_km, b->modal_bandwidth_mhz_km, 0.0);
            pairs++;
        }
    assert_int_equal(pairs, 6);
}

/* Modes that drift apart end a run of 10GBASE-SR on fibre that was not made for lasers: it
 * reaches as far as its modal bandwidth, 0.164 m for each MHz km, to the metre. */
static void reach__grows_with_modal_bandwidth(void **state)
{
    (void)state;
    static const char *const FIBRES[] = {"62.5 um", "62.5 um OM1", "50 um", "50 um OM2"};
    for (size_t i = 0; i < COUNT(FIBRES); i++) {
        const fe_fibre_reach *row = fe_fibre_reach_find("10GBASE-SR", FIBRES[i]);
        assert_close(row->reach_m, 0.164 * row->modal_bandwidth_mhz_km, 0.5);
    }
}

/*
 * 10GBASE-LR, OS2: 10 km and 6.2 dB. By hand, 0.4 dB/km and 0.75 dB a pair: 8 km with 2 pairs lose
 * 4.7 dB, so length uses more; 5 km with 4 pairs and 2 splices 5.6 dB, so loss does. 10GBASE-ER has
 * no budget here: length alone.
 */
static void link__is_used_by_length_or_loss_whichever_is_more(void **state)
{
    (void)state;
    static const struct {
        const char *application;
        double length_m;
        unsigned pairs;
        unsigned splices;
        double loss_db;
        double use;
    } CASES[] = {
        {"10GBASE-LR", 8000.0, 2, 0, 4.7, 0.8},
        {"10GBASE-LR", 5000.0, 4, 2, 5.6, 5.6 / 6.2},
        {"10GBASE-ER", 5000.0, 4, 2, 5.6, 0.125},
    };
    for (size_t i = 0; i < COUNT(CASES); i++) {
        fe_fibre_link link = {0};
        assert_int_equal(
            fe_fibre_link_try(fe_fibre_reach_for(CASES[i].application, FE_FIBRE_OS2),
                              FE_FIBRE_OS2, CASES[i].length_m, CASES[i].pairs, CASES[i].splices,
                              &link),
            FE_OK);
        assert_close(link.loss_db, CASES[i].loss_db, 1e-9);
        assert_close(link.used, CASES[i].use, 1e-9);
    }
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
        cmocka_unit_test(rates__are_those_of_the_names),
        cmocka_unit_test(bandwidth__is_the_fibres),
        cmocka_unit_test(reach__grows_with_modal_bandwidth),
        cmocka_unit_test(link__is_used_by_length_or_loss_whichever_is_more),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
