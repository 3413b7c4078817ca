/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A data cable of a real length. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
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
    assert_int_equal(solved(&inside).verdict, FE_VERDICT_HOLDS);
    assert_close(solved(&inside).rates[2].limit_m, 100.0, 1e-9);
    assert_int_equal(solved(&outside).verdict, FE_VERDICT_FAILS);
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
    /* What does not arrive warms the cable. */
    assert_close(80.0 * answer.power.heat_w_m, 30.0 - answer.power.device_w, 1e-9);
    assert_int_equal(answer.power.verdict, FE_VERDICT_HOLDS);
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
    assert_int_equal(solved(&far).power.verdict, FE_VERDICT_FAILS);
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

static void best_rate__is_as_sure_as_the_wanted_one(void **state)
{
    (void)state;
    fe_channel_case given = cable(60.0);
    given.rate_bit_s = 6e6;
    fe_channel_answer answer = solved(&given);
    assert_string_equal(answer.rates[fe_channel_best(&answer)].reach->application,
                        "1000BASE-T");
    given.length_m = 150.0; /* nothing holds: what was wanted is what is told */
    answer = solved(&given);
    assert_string_equal(answer.rates[fe_channel_best(&answer)].reach->application, "10BASE-T");
    given.rate_bit_s = 100e9;
    answer = solved(&given);
    assert_int_equal(fe_channel_best(&answer), -1);
}

/* n cables in a round bundle: n times the heat over sqrt(n / 0.8) times the surface. */
static void bundle__warms_with_the_root_of_its_number(void **state)
{
    (void)state;
    double one_k = 0.0, many_k = 0.0;
    assert_int_equal(fe_channel_bundle_rise(0.06, 6e-3, 1, &one_k), FE_OK);
    assert_close(one_k, 0.06 / (10.0 * 3.14159265358979 * 6e-3), 1e-12);
    assert_int_equal(fe_channel_bundle_rise(0.06, 6e-3, 80, &many_k), FE_OK);
    assert_close(many_k / one_k, 8.0, 1e-9);
    assert_int_equal(fe_channel_bundle_rise(NAN, 6e-3, 1, &one_k), FE_E_DOMAIN);
    assert_int_equal(fe_channel_bundle_rise(0.06, 6e-3, 0, &one_k), FE_E_DOMAIN);
}

static json_t *json_of(const char *line)
{
    return fe_testing_json_of(FAREND_SOURCE_DIR, line);
}

/* The boathouse's 25 W, and 0.5 A at 12.9 V, each through a converter: class 5. */
static void copper__powers_what_a_plan_has_out_there(void **state)
{
    (void)state;
    json_t *list = json_of("copper examples/boathouse.ini --json");
    const json_t *one = json_array_get(list, 0);
    const double lamp_w = 0.5 * 0.5 * (10.8 + 15.0);
    const double lamp_efficiency = 0.071 * log(lamp_w) - 0.0014 * lamp_w + 0.67;
    assert_close(json_number_value(json_object_get(one, "poe_need_w")),
                 25.0 / 0.86354 + lamp_w / lamp_efficiency, 1e-3);
    assert_close(json_number_value(json_object_get(one, "poe_class")), 5.0, 0.0);
    json_decref(list);
}

static const json_t *named(const json_t *list, const char *key, const char *name)
{
    for (size_t i = 0; i < json_array_size(list); i++) {
        const char *text = json_string_value(json_object_get(json_array_get(list, i), key));
        if (text && strcmp(text, name) == 0)
            return json_array_get(list, i);
    }
    fail_msg("no %s", name);
    return NULL;
}

/* 121 m on 89 m: one device halfway, on which all of the far end's need passes. */
static void copper__says_what_carries_past_the_limit_and_how_it_hangs(void **state)
{
    (void)state;
    json_t *list = json_of("copper examples/boathouse.ini --json");
    const json_t *hung = named(list, "cable", "outdoor-data-messenger");
    const json_t *ways = json_object_get(hung, "beyond");
    const json_t *midpoint = named(ways, "way", "powered midpoint");
    assert_int_equal(json_array_size(ways), 4);
    assert_close(json_number_value(json_object_get(midpoint, "midpoints")), 1.0, 0.0);
    assert_close_relative(json_number_value(json_object_get(midpoint, "section_m")),
                          0.5 * json_number_value(json_object_get(hung, "channel_length_m")),
                          1e-9);
    assert_close_relative(json_number_value(json_object_get(midpoint, "passed_power_w")),
                          json_number_value(json_object_get(hung, "poe_need_w")), 1e-12);
    assert_string_equal(json_string_value(json_object_get(midpoint, "verdict")), "holds");
    const json_t *extenders = named(ways, "way", "pair of line extenders");
    assert_close(json_number_value(json_object_get(extenders, "rate_mbps")), 100.0, 0.0);
    const json_t *fibre = named(list, "cable", "aerial-fibre");
    assert_int_equal(json_array_size(json_object_get(fibre, "beyond")), 0);
    const json_t *run = json_object_get(fibre, "run");
    const double spans = json_number_value(json_object_get(run, "spans"));
    const double longest_m = json_number_value(json_object_get(run, "longest_span_m"));
    assert_true(spans >= 2.0 && spans * longest_m >= 95.0); /* the shore is 95 m long */
    assert_true(json_number_value(json_object_get(run, "greatest_sag_m")) > 0.0);
    assert_string_equal(json_string_value(json_object_get(run, "verdict")), "fails");
    json_decref(list);
}

static void copper__lets_options_change_a_plan(void **state)
{
    (void)state;
    json_t *list = json_of("copper examples/boathouse.ini --length 50m --rate 100Mb/s "
                           "--poe-class 3 --json");
    const json_t *one = json_array_get(list, 0);
    assert_close(json_number_value(json_object_get(one, "channel_length_m")), 50.0, 1e-12);
    assert_close(json_number_value(json_object_get(one, "poe_class")), 3.0, 0.0);
    assert_string_equal(json_string_value(json_object_get(one, "verdict")), "holds");
    json_decref(list);
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
        cmocka_unit_test(best_rate__is_as_sure_as_the_wanted_one),
        cmocka_unit_test(bundle__warms_with_the_root_of_its_number),
        cmocka_unit_test(copper__powers_what_a_plan_has_out_there),
        cmocka_unit_test(copper__says_what_carries_past_the_limit_and_how_it_hangs),
        cmocka_unit_test(copper__lets_options_change_a_plan),
    };
    return FE_RUN_TESTS(tests);
}
