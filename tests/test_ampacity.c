/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/ampacity.h"
#include "testing.h"

static double ampacity(double area_m2, double air_c, double insulation_c, double terminal_c)
{
    const fe_conductor copper = {area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    const fe_ampacity_case where = {air_c, insulation_c, terminal_c, FE_METHOD_CLIPPED};
    double ampacity_a = NAN;
    assert_int_equal(fe_ampacity_of(&copper, &where, &ampacity_a), FE_OK);
    return ampacity_a;
}

/* NFPA 70: AWG 12, 90 degC wire: 30 A x 0.91 = 27.3 A, but a 75 degC terminal takes 25 A. */
static void terminal__caps_the_cable(void **state)
{
    (void)state;
    assert_close(ampacity(3.30877e-6, 40.0, 90.0, 75.0), 25.0, 1e-12);
    assert_close(ampacity(3.30877e-6, 50.0, 90.0, 75.0), 30.0 * 0.82, 1e-12);
}

static void metric_cable__follows_the_law(void **state)
{
    (void)state;
    assert_close(ampacity(2.5e-6, 30.0, 70.0, 70.0), 27.0, 1e-12);
    assert_close(ampacity(2.5e-6, 50.0, 70.0, 70.0), 27.0 * sqrt(0.5), 1e-12);
}

/* NFPA's steps are the law at their upper ends, to the two digits printed. */
static void steps_and_law__agree(void **state)
{
    (void)state;
    const double insulation_c[] = {60.0, 75.0, 90.0};
    for (size_t i = 0; i < 3; i++) {
        for (double air_c = 10.0; air_c < insulation_c[i] - 4.0; air_c += 5.0) {
            double step = NAN, law = NAN;
            assert_int_equal(fe_ampacity_air_factor(air_c, insulation_c[i], &step), FE_OK);
            assert_int_equal(fe_ampacity_air_law(air_c, insulation_c[i], &law), FE_OK);
            assert_close(step, law, 0.0051);
        }
    }
}

static void air_between_steps__takes_the_safe_one(void **state)
{
    (void)state;
    double factor = NAN;
    assert_int_equal(fe_ampacity_air_factor(31.0, 75.0, &factor), FE_OK);
    assert_close(factor, 0.94, 1e-12);
    assert_int_equal(fe_ampacity_air_factor(-40.0, 75.0, &factor), FE_OK);
    assert_close(factor, 1.20, 1e-12);
}

static void air_too_hot__carries_nothing(void **state)
{
    (void)state;
    double factor = 7.0;
    assert_int_equal(fe_ampacity_air_factor(71.0, 75.0, &factor), FE_E_NO_SOLUTION);
    assert_int_equal(fe_ampacity_air_factor(90.0, 90.0, &factor), FE_E_NO_SOLUTION);
    assert_int_equal(fe_ampacity_air_law(70.0, 70.0, &factor), FE_E_NO_SOLUTION);
    assert_true(factor == 7.0);
}

static void ampacity__falls_with_warmth_and_grows_with_size(void **state)
{
    (void)state;
    assert_true(ampacity(4e-6, 40.0, 70.0, 70.0) < ampacity(4e-6, 35.0, 70.0, 70.0));
    assert_true(ampacity(4e-6, 40.0, 70.0, 70.0) > ampacity(2.5e-6, 40.0, 70.0, 70.0));
}

/* 16 mm2 aluminium: BS 7671 Table 4H2A gives 66 A against 85 A of copper (from memory). */
static void metric_aluminium__is_estimated_with_a_warning(void **state)
{
    (void)state;
    const fe_conductor aluminium = {16e-6, FE_CONDUCTOR_ALUMINIUM, FE_CLASS_STRANDED};
    const fe_ampacity_case where = {30.0, 70.0, 70.0, FE_METHOD_CLIPPED};
    double ampacity_a = NAN;
    assert_int_equal(fe_ampacity_of(&aluminium, &where, &ampacity_a), FE_W_RANGE);
    assert_close(ampacity_a, 66.0, 1.0);
}

static void sizes_outside_the_tables__are_refused(void **state)
{
    (void)state;
    const double areas_m2[] = {0.5e-6, 3e-6, 120e-6, 0.205e-6, NAN};
    const fe_ampacity_case where = {30.0, 75.0, 75.0, FE_METHOD_CLIPPED};
    double ampacity_a = 7.0;
    for (size_t i = 0; i < sizeof areas_m2 / sizeof areas_m2[0]; i++) {
        const fe_conductor copper = {areas_m2[i], FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
        assert_int_equal(fe_ampacity_of(&copper, &where, &ampacity_a), FE_E_DOMAIN);
    }
    assert_int_equal(fe_ampacity_us(14, FE_CONDUCTOR_ALUMINIUM, 75.0, &ampacity_a),
                     FE_E_DOMAIN);
    assert_int_equal(fe_ampacity_us(14, FE_CONDUCTOR_COPPER, 70.0, &ampacity_a), FE_E_DOMAIN);
    assert_int_equal(fe_ampacity_air_factor(NAN, 75.0, &ampacity_a), FE_E_DOMAIN);
    assert_int_equal(fe_ampacity_air_law(NAN, 75.0, &ampacity_a), FE_E_DOMAIN);
    assert_true(ampacity_a == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(terminal__caps_the_cable),
        cmocka_unit_test(metric_cable__follows_the_law),
        cmocka_unit_test(steps_and_law__agree),
        cmocka_unit_test(air_between_steps__takes_the_safe_one),
        cmocka_unit_test(air_too_hot__carries_nothing),
        cmocka_unit_test(ampacity__falls_with_warmth_and_grows_with_size),
        cmocka_unit_test(metric_aluminium__is_estimated_with_a_warning),
        cmocka_unit_test(sizes_outside_the_tables__are_refused),
    };
    return FE_RUN_TESTS(tests);
}
