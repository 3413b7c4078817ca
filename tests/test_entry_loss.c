/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/entry_loss.h"

#include <math.h>

#include "testing.h"

static double loss_at(const char *building, double f_hz, double elevation_rad, double p)
{
    double loss_db = NAN;
    assert_true(
        fe_entry_loss(fe_entry_building_find(building), f_hz, elevation_rad, p, &loss_db) >= 0);
    return loss_db;
}

static void entry_loss__rises_with_probability_and_elevation(void **state)
{
    (void)state;
    double last_db = -100.0;
    for (double p = 0.05; p < 1.0; p += 0.05) {
        const double loss_db = loss_at("traditional", 2.437e9, 0.0, p);
        assert_true(loss_db > last_db);
        last_db = loss_db;
    }
    assert_true(loss_at("traditional", 2.437e9, 0.5, 0.5) >
                loss_at("traditional", 2.437e9, 0.0, 0.5));
    assert_true(loss_at("traditional", 2.437e9, -0.5, 0.5) ==
                loss_at("traditional", 2.437e9, 0.5, 0.5));
    assert_true(loss_at("thermally efficient", 5.5e9, 0.0, 0.5) >
                loss_at("traditional", 5.5e9, 0.0, 0.5) + 10.0);
}

static void spread__holds_the_three_quantiles(void **state)
{
    (void)state;
    fe_entry_spread spread = {0};
    assert_int_equal(
        fe_entry_loss_spread(fe_entry_building_find("traditional"), 2.437e9, 0.0, &spread),
        FE_OK);
    assert_close(spread.p10_db, loss_at("traditional", 2.437e9, 0.0, 0.1), 1e-12);
    assert_close(spread.median_db, loss_at("traditional", 2.437e9, 0.0, 0.5), 1e-12);
    assert_close(spread.p90_db, loss_at("traditional", 2.437e9, 0.0, 0.9), 1e-12);
    assert_close(spread.sigma_db, (spread.p90_db - spread.p10_db) / 2.563103, 1e-5);
}

static void entry_loss__refuses_what_is_out_of_range(void **state)
{
    (void)state;
    const fe_entry_building *building = fe_entry_building_find("traditional");
    double loss_db = 7.0;
    fe_entry_spread spread = {.p10_db = 7.0};
    assert_null(fe_entry_building_find("castle"));
    assert_null(fe_entry_building_find(NULL));
    assert_int_equal(fe_entry_loss(NULL, 2e9, 0.0, 0.5, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(building, NAN, 0.0, 0.5, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(building, 0.0, 0.0, 0.5, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(building, 2e9, NAN, 0.5, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(building, 2e9, 2.0, 0.5, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(building, 2e9, 0.0, NAN, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(building, 2e9, 0.0, 0.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss(building, 2e9, 0.0, 1.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_entry_loss_spread(building, NAN, 0.0, &spread), FE_E_DOMAIN);
    assert_true(loss_db == 7.0 && spread.p10_db == 7.0);
    assert_int_equal(fe_entry_loss(building, 150e9, 0.0, 0.5, &loss_db), FE_W_RANGE);
    assert_true(loss_db > 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(entry_loss__rises_with_probability_and_elevation),
        cmocka_unit_test(spread__holds_the_three_quantiles),
        cmocka_unit_test(entry_loss__refuses_what_is_out_of_range),
    };
    return FE_RUN_TESTS(tests);
}
