/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/feeder.h"
#include "testing.h"

static double loss_of(const char *name, double f_hz, double length_m)
{
    double loss_db;
    assert_int_equal(fe_feeder_loss(fe_feeder_find(name), f_hz, length_m, 0, 20.0, &loss_db),
                     FE_OK);
    return loss_db;
}

static void feeder_loss__is_of_the_usual_size(void **state)
{
    (void)state;
    /* Usual catalogue figures of the classes, dB for 10 m: common practice, no source. */
    assert_close(loss_of("10 mm low-loss", 2.4e9, 10.0), 2.2, 0.1);
    assert_close(loss_of("10 mm low-loss", 5.8e9, 10.0), 3.5, 0.1);
    assert_close(loss_of("5 mm low-loss", 2.4e9, 10.0), 5.4, 0.2);
    assert_close(loss_of("5 mm", 1.0e9, 10.0), 6.2, 0.4);
    assert_close(loss_of("10 mm", 2.4e9, 10.0), 4.6, 0.3);
}

static void feeder_loss__grows_with_length_and_frequency(void **state)
{
    (void)state;
    size_t count;
    const fe_feeder *feeders = fe_feeders(&count);
    for (size_t i = 0; i < count; i++) {
        const char *name = feeders[i].name;
        assert_close_relative(loss_of(name, 1e9, 7.0), 7.0 * loss_of(name, 1e9, 1.0), 1e-12);
        assert_true(loss_of(name, 2.4e9, 1.0) > loss_of(name, 0.9e9, 1.0));
        assert_close(loss_of(name, 1e9, 0.0), 0.0, 0.0);
        /* Thicker classes follow thinner ones and lose less. */
        if (i > 0 && feeders[i].diameter_m > feeders[i - 1].diameter_m)
            assert_true(loss_of(name, 1e9, 1.0) < loss_of(feeders[0].name, 1e9, 1.0));
    }
}

/* Added apart from the code: what only a practice without source can confirm stays as it is. */
static void columns_of_the_table__add_up(void **state)
{
    (void)state;
    double conductor = 0.0, insulation = 0.0, diameter_m = 0.0;
    size_t count = 0;
    const fe_feeder *feeders = fe_feeders(&count);
    for (size_t i = 0; i < count; i++) {
        conductor += feeders[i].conductor;
        insulation += feeders[i].insulation;
        diameter_m += feeders[i].diameter_m;
    }
    assert_close(conductor, 3.3184, 1e-9);
    assert_close(insulation, 0.32, 1e-9);
    assert_close(diameter_m, 49.8e-3, 1e-9);
}

static void feeder__is_found_however_it_is_spelt(void **state)
{
    (void)state;
    assert_ptr_equal(fe_feeder_find("10mm-Low_loss"), fe_feeder_find("10 mm low-loss"));
    assert_non_null(fe_feeder_find("10mm"));
    assert_ptr_not_equal(fe_feeder_find("10mm"), fe_feeder_find("10mm low-loss"));
    assert_null(fe_feeder_find(""));
}

static void warm_feeder__loses_more(void **state)
{
    (void)state;
    const fe_feeder *feeder = fe_feeder_find("10 mm low-loss");
    double cold_db, warm_db;
    assert_int_equal(fe_feeder_loss(feeder, 1e9, 10.0, 2, -20.0, &cold_db), FE_OK);
    assert_int_equal(fe_feeder_loss(feeder, 1e9, 10.0, 2, 40.0, &warm_db), FE_OK);
    assert_close(warm_db - cold_db, 1.27 * 0.002 * 60.0, 1e-9);
}

static void feeder__warns_and_refuses(void **state)
{
    (void)state;
    const fe_feeder *feeder = fe_feeder_find("5 mm");
    double loss_db;
    assert_int_equal(fe_feeder_loss(feeder, 5.5e9, 1.0, 0, 20.0, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_feeder_loss(feeder, 1e6, 1.0, 0, 20.0, &loss_db), FE_W_RANGE);
    loss_db = 7.0;
    assert_null(fe_feeder_find("rope"));
    assert_int_equal(fe_feeder_loss(NULL, 1e9, 1.0, 0, 20.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_feeder_loss(feeder, NAN, 1.0, 0, 20.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_feeder_loss(feeder, 1e9, -1.0, 0, 20.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_feeder_loss(feeder, 1e9, NAN, 0, 20.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_feeder_loss(feeder, 1e9, 1.0, 0, NAN, &loss_db), FE_E_DOMAIN);
    assert_close(loss_db, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(feeder_loss__is_of_the_usual_size),
        cmocka_unit_test(feeder_loss__grows_with_length_and_frequency),
        cmocka_unit_test(columns_of_the_table__add_up),
        cmocka_unit_test(feeder__is_found_however_it_is_spelt),
        cmocka_unit_test(warm_feeder__loses_more),
        cmocka_unit_test(feeder__warns_and_refuses),
    };
    return FE_RUN_TESTS(tests);
}
