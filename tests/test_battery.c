/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/battery.h"
#include "testing.h"

static const double WH = 3600.0;

/* 240 Wh a day, 3 days, half used, 0.9, 0.8 left in the cold: by hand 2000 Wh, 166.7 Ah at 12
 * V. */
static void battery__bridges_the_days_without_sun(void **state)
{
    (void)state;
    const fe_battery_need need = {240.0 * WH, 3.0, 0.5, 0.9, 0.8};
    double energy_j = NAN, charge_c = NAN;
    assert_int_equal(fe_battery_energy(&need, &energy_j), FE_OK);
    assert_close(energy_j / WH, 2000.0, 1e-9);
    assert_int_equal(fe_battery_charge(energy_j, 12.0, &charge_c), FE_OK);
    assert_close(charge_c / 3600.0, 2000.0 / 12.0, 1e-9);
}

/* The same load in a month of 1.2 sun hours a day at 0.7: 285.7 W. */
static void panel__restores_a_day(void **state)
{
    (void)state;
    double power_w = NAN;
    assert_int_equal(fe_panel_power(240.0 * WH, 1.2 * 3600.0, 0.7, &power_w), FE_OK);
    assert_close(power_w, 240.0 / 1.2 / 0.7, 1e-9);
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    const fe_battery_need all[] = {
        {NAN, 3.0, 0.5, 0.9, 0.8}, {1.0, 0.0, 0.5, 0.9, 0.8}, {1.0, 3.0, 1.1, 0.9, 0.8},
        {1.0, 3.0, 0.5, 0.0, 0.8}, {1.0, 3.0, 0.5, 0.9, NAN},
    };
    double value = 7.0;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        assert_int_equal(fe_battery_energy(&all[i], &value), FE_E_DOMAIN);
    assert_int_equal(fe_battery_charge(1.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_panel_power(1.0, 90000.0, 0.7, &value), FE_E_DOMAIN);
    assert_int_equal(fe_panel_power(1.0, NAN, 0.7, &value), FE_E_DOMAIN);
    assert_true(value == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(battery__bridges_the_days_without_sun),
        cmocka_unit_test(panel__restores_a_day),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
