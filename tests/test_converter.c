/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Efficiency of converters and adapters. */
#include <math.h>

#include "farend/converter.h"
#include "testing.h"

static double efficiency_of(double power_w)
{
    double efficiency = 0.0;
    assert_int_equal(fe_converter_efficiency(power_w, &efficiency), FE_OK);
    return efficiency;
}

/* Worked by hand from 10 CFR 430.32(w), basic voltage (from memory). */
static void efficiency__follows_the_rule_for_adapters(void **state)
{
    (void)state;
    assert_close(efficiency_of(0.5), 0.41, 1e-12);
    assert_close(efficiency_of(10.0), 0.071 * 2.302585093 - 0.014 + 0.67, 1e-9);
    assert_close(efficiency_of(60.0), 0.88, 1e-12);
    assert_close(efficiency_of(300.0), 0.875, 1e-12);
}

static void efficiency__never_leaves_a_share(void **state)
{
    (void)state;
    for (double power_w = 0.001; power_w < 1e5; power_w *= 1.3) {
        assert_true(efficiency_of(power_w) > 0.0);
        assert_true(efficiency_of(power_w) < 1.0);
    }
}

static void efficiency__is_refused_without_a_power(void **state)
{
    (void)state;
    double efficiency = 7.0;
    assert_int_equal(fe_converter_efficiency(NAN, &efficiency), FE_E_DOMAIN);
    assert_int_equal(fe_converter_efficiency(0.0, &efficiency), FE_E_DOMAIN);
    assert_close(efficiency, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(efficiency__follows_the_rule_for_adapters),
        cmocka_unit_test(efficiency__never_leaves_a_share),
        cmocka_unit_test(efficiency__is_refused_without_a_power),
    };
    return FE_RUN_TESTS(tests);
}
