/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A data cable of a real length. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/channel.h"
#include "run.h"
#include "testing.h"

static fe_channel_case cable(double length_m)
{
    return (fe_channel_case){.length_m = length_m,
                             .cords_m = 4.0,
                             .cord_derating = 0.2,
                             .connectors = 2,
                             .temp_c = 20.0,
                             .category = FE_CATEGORY_6,
                             .rate_bit_s = 1e9,
                             .poe_class = FE_CHANNEL_NO_POE};
}

static fe_channel_answer solved(const fe_channel_case *given)
{
    fe_channel_answer answer = {0};
    assert_true(fe_channel_solve(given, &answer) >= 0);
    return answer;
}

/* IEEE 802.3: 100 m for 1000BASE-T. */
static void channel__gigabit_ends_at_100_m(void **state)
{
    (void)state;
    const fe_channel_case inside = cable(80.0), outside = cable(100.5);
    assert_int_equal(solved(&inside).verdict, FE_CHANNEL_HOLDS);
    assert_close(solved(&inside).rates[2].limit_m, 100.0, 1e-9);
    assert_int_equal(solved(&outside).verdict, FE_CHANNEL_FAILS);
}

/* ANSI/TIA-568.2-D: 84 m of fixed cable beside 10 m of cords at 40 degC. */
static void channel__warm_cable_is_shorter(void **state)
{
    (void)state;
    fe_channel_case given = cable(80.0);
    given.cords_m = 10.0;
    given.temp_c = 40.0;
    assert_close(solved(&given).rates[2].limit_m, 94.0, 1e-9);
}

static void channel__loss_grows_with_length_and_warmth(void **state)
{
    (void)state;
    double before_db = 0.0;
    for (int i = 1; i <= 10; i++) {
        fe_channel_case given = cable(20.0 * i);
        const double loss_db = solved(&given).rates[2].loss_db;
        assert_true(loss_db > before_db);
        before_db = loss_db;
        given.temp_c = 50.0;
        assert_true(solved(&given).rates[2].loss_db > loss_db);
    }
}

/* 80 m of AWG 24: 6.737 ohm, one wire's resistance; class 4 at 50 V draws 0.6 A of its 30 W. */
static void channel__power_loop_is_one_wire(void **state)
{
    (void)state;
    fe_channel_case given = cable(80.0);
    given.category = FE_CATEGORY_5E;
    given.poe_class = 4;
    const fe_channel_answer answer = solved(&given);
    assert_close(answer.power.loop_ohm, 6.737, 0.001);
    assert_close(answer.power.device_w, 30.0 - 0.36 * 6.737, 0.001);
    assert_int_equal(answer.power.verdict, FE_CHANNEL_HOLDS);
}

static void channel__power_falls_with_length_and_fails_at_last(void **state)
{
    (void)state;
    double before_w = INFINITY;
    for (int i = 1; i <= 8; i++) {
        fe_channel_case given = cable(50.0 * i);
        given.poe_class = 3;
        const fe_channel_answer answer = solved(&given);
        assert_true(answer.power.device_w < before_w);
        before_w = answer.power.device_w;
    }
    fe_channel_case far = cable(400.0);
    far.poe_class = 3;
    assert_int_equal(solved(&far).power.verdict, FE_CHANNEL_FAILS);
}

static void channel__refuses_what_is_no_cable(void **state)
{
    (void)state;
    fe_channel_answer answer = {.wanted = 77};
    fe_channel_case given = cable(NAN);
    assert_int_equal(fe_channel_solve(&given, &answer), FE_E_DOMAIN);
    given = cable(3.0);
    assert_int_equal(fe_channel_solve(&given, &answer), FE_E_DOMAIN);
    given = cable(80.0);
    given.poe_class = 9;
    assert_int_equal(fe_channel_solve(&given, &answer), FE_E_DOMAIN);
    assert_int_equal(answer.wanted, 77);
}

static void copper__refuses_copper_clad_aluminium_with_the_reason(void **state)
{
    (void)state;
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run_line(".", "copper --length 80m --category cca", &out, &err, &code);
    assert_int_equal(code, 2);
    assert_non_null(strstr(err, "solid copper only"));
    free(out);
    free(err);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(channel__gigabit_ends_at_100_m),
        cmocka_unit_test(channel__warm_cable_is_shorter),
        cmocka_unit_test(channel__loss_grows_with_length_and_warmth),
        cmocka_unit_test(channel__power_loop_is_one_wire),
        cmocka_unit_test(channel__power_falls_with_length_and_fails_at_last),
        cmocka_unit_test(channel__refuses_what_is_no_cable),
        cmocka_unit_test(copper__refuses_copper_clad_aluminium_with_the_reason),
    };
    return FE_RUN_TESTS(tests);
}
