/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/quantity.h"
#include "farend/strike.h"
#include "testing.h"

/* IEC 62305-2:2010 by hand: 165 m at 1 /km2/year, 40 L and 4000 L. */
static void overhead_line__is_struck_once_in_150_years(void **state)
{
    (void)state;
    const double density = 1e-6 / FE_YEAR_S;
    double direct = NAN, nearby = NAN;
    assert_int_equal(fe_strike_rate(165.0, density, 1.0, &direct, &nearby), FE_OK);
    assert_close(direct * FE_YEAR_S, 0.0066, 1e-9);
    assert_close(nearby * FE_YEAR_S, 0.66, 1e-9);
    assert_int_equal(fe_strike_rate(165.0, density, 0.5, &direct, &nearby), FE_OK);
    assert_close(direct * FE_YEAR_S, 0.0033, 1e-9);
    assert_int_equal(fe_strike_rate(165.0, 0.0, 1.0, &direct, &nearby), FE_OK);
    assert_close(direct, 0.0, 0.0);
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    double direct = 7.0, nearby = 7.0;
    assert_int_equal(fe_strike_rate(NAN, 1.0, 1.0, &direct, &nearby), FE_E_DOMAIN);
    assert_int_equal(fe_strike_rate(0.0, 1.0, 1.0, &direct, &nearby), FE_E_DOMAIN);
    assert_int_equal(fe_strike_rate(1.0, -1.0, 1.0, &direct, &nearby), FE_E_DOMAIN);
    assert_int_equal(fe_strike_rate(1.0, 1.0, 0.0, &direct, &nearby), FE_E_DOMAIN);
    assert_int_equal(fe_strike_rate(1.0, 1.0, 1.1, &direct, &nearby), FE_E_DOMAIN);
    assert_true(direct == 7.0 && nearby == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(overhead_line__is_struck_once_in_150_years),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
