/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/lanes.h"

#include <math.h>

#include "testing.h"

enum { SAMPLES = 20000 };

static void logarithm__is_the_librarys_to_1e12(void **state)
{
    (void)state;
    for (int i = 0; i <= SAMPLES; i++) {
        const double wide = exp(-200.0 + 400.0 * i / SAMPLES);
        const double near_one = 0.5 + 1.5 * i / SAMPLES;
        assert_close(lane_log(wide), log(wide), 1e-12 * fmax(1.0, fabs(log(wide))));
        assert_close(lane_log(near_one), log(near_one), 1e-12);
    }
    assert_close(lane_log(1.0), 0.0, 0.0);
}

static void exponential__is_the_librarys_to_1e11_of_it(void **state)
{
    (void)state;
    for (int i = 0; i <= SAMPLES; i++) {
        const double value = -700.0 + 1400.0 * i / SAMPLES;
        assert_close(lane_exp(value) / exp(value), 1.0, 1e-11);
    }
    assert_close(lane_exp(0.0), 1.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(logarithm__is_the_librarys_to_1e12),
        cmocka_unit_test(exponential__is_the_librarys_to_1e11_of_it),
    };
    return FE_RUN_TESTS(tests);
}
