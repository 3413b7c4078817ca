/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/clutter.h"
#include "testing.h"

static fe_clutter_place place_of(const char *type, double antenna_m)
{
    const fe_clutter *clutter = fe_clutter_find(type);
    assert_non_null(clutter);
    return (fe_clutter_place){clutter, clutter->usual_height_m, FE_CLUTTER_STREET_M, antenna_m};
}

static void antenna_above_the_clutter__loses_nothing(void **state)
{
    (void)state;
    const char *types[] = {"water", "open_rural", "suburban", "urban_trees_forest",
                           "dense_urban"};
    for (int i = 0; i < 5; i++) {
        double loss_db = 7.0;
        const fe_clutter_place above = place_of(types[i], 20.0);
        assert_int_equal(fe_clutter_height_gain(&above, 1e9, &loss_db), FE_OK);
        assert_close(loss_db, 0.0, 0.0);
        /* And little just under its top. */
        const fe_clutter *clutter = fe_clutter_find(types[i]);
        const fe_clutter_place under = place_of(types[i], clutter->usual_height_m - 1e-6);
        assert_int_equal(fe_clutter_height_gain(&under, 1e9, &loss_db), FE_OK);
        assert_close(loss_db, 0.0, 0.02);
    }
}

static void clutter_loss__grows_with_the_share_of_places(void **state)
{
    (void)state;
    double before_db = -INFINITY;
    for (double share = 0.01; share < 1.0; share += 0.07) {
        double loss_db;
        assert_int_equal(fe_clutter_statistical(2.4e9, 500.0, share, &loss_db), FE_OK);
        assert_true(loss_db > before_db);
        before_db = loss_db;
    }
}

static void clutter_loss__stays_from_2_km_on(void **state)
{
    (void)state;
    double at_db, beyond_db;
    assert_int_equal(fe_clutter_statistical(2.4e9, 2000.0, 0.5, &at_db), FE_OK);
    assert_int_equal(fe_clutter_statistical(2.4e9, 9000.0, 0.5, &beyond_db), FE_OK);
    assert_close(at_db, beyond_db, 0.0);
}

static void clutter__warns_and_refuses(void **state)
{
    (void)state;
    double loss_db;
    fe_clutter_place place = place_of("suburban", 2.0);
    assert_int_equal(fe_clutter_height_gain(&place, 5.5e9, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_clutter_statistical(2.4e9, 249.0, 0.5, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_clutter_statistical(68e9, 500.0, 0.5, &loss_db), FE_W_RANGE);
    loss_db = 7.0;
    assert_int_equal(fe_clutter_height_gain(&place, NAN, &loss_db), FE_E_DOMAIN);
    place.antenna_height_m = 0.0;
    assert_int_equal(fe_clutter_height_gain(&place, 1e9, &loss_db), FE_E_DOMAIN);
    place.clutter = fe_clutter_find("bog");
    assert_null(place.clutter);
    assert_int_equal(fe_clutter_height_gain(&place, 1e9, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_clutter_statistical(2.4e9, 500.0, 1.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_clutter_statistical(2.4e9, 500.0, NAN, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_clutter_statistical(2.4e9, 0.0, 0.5, &loss_db), FE_E_DOMAIN);
    assert_close(loss_db, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(antenna_above_the_clutter__loses_nothing),
        cmocka_unit_test(clutter_loss__grows_with_the_share_of_places),
        cmocka_unit_test(clutter_loss__stays_from_2_km_on),
        cmocka_unit_test(clutter__warns_and_refuses),
    };
    return FE_RUN_TESTS(tests);
}
