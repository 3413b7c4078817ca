/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ways past the copper limit. */
#include <math.h>
#include <string.h>

#include "farend/beyond.h"
#include "farend/converter.h"
#include "testing.h"

/* 188 m of a cable whose sections may have 100 m at 100 Mb/s; AWG 24 at 20 degC. */
static fe_beyond_case meadow(void)
{
    return (fe_beyond_case){.length_m = 188.0,
                            .rate_bit_s = 12e6,
                            .port_bit_s = 100e6,
                            .section_limit_m = 100.0,
                            .wire_ohm_per_m = 0.0842};
}

static void beyond__reaches_end_where_the_class_does(void **state)
{
    (void)state;
    fe_beyond_case given = meadow();
    fe_beyond_way ways[FE_BEYOND_KINDS];
    assert_int_equal(fe_beyond_solve(&given, ways), FE_OK);
    /* IEEE 802.3cg: 1000 m, but 10 Mb/s where 12 are wanted. */
    assert_close(ways[FE_BEYOND_SINGLE_PAIR].reach_m, 1000.0, 0.0);
    assert_int_equal(ways[FE_BEYOND_SINGLE_PAIR].verdict, FE_VERDICT_FAILS);
    assert_string_equal(ways[FE_BEYOND_SINGLE_PAIR].limit, "rate");
    assert_close(ways[FE_BEYOND_EXTENDERS].rate_bit_s, 100e6, 0.0);
    assert_int_equal(ways[FE_BEYOND_EXTENDERS].verdict, FE_VERDICT_HOLDS);
    assert_int_equal(ways[FE_BEYOND_FIBRE].verdict, FE_VERDICT_HOLDS);
    assert_int_equal(ways[FE_BEYOND_MIDPOINT].midpoints, 1);
    assert_int_equal(ways[FE_BEYOND_MIDPOINT].verdict, FE_VERDICT_TIGHT); /* 94 m of 100 */
    given.length_m = 301.0;
    given.rate_bit_s = 2e6;
    assert_int_equal(fe_beyond_solve(&given, ways), FE_OK);
    assert_close(ways[FE_BEYOND_EXTENDERS].rate_bit_s, 50e6, 0.0);
    assert_int_equal(ways[FE_BEYOND_SINGLE_PAIR].verdict, FE_VERDICT_HOLDS);
    assert_int_equal(ways[FE_BEYOND_MIDPOINT].midpoints, 3);
    given.length_m = 401.0;
    assert_int_equal(fe_beyond_solve(&given, ways), FE_OK);
    assert_int_equal(ways[FE_BEYOND_MIDPOINT].verdict, FE_VERDICT_FAILS);
    given.length_m = 1001.0;
    assert_int_equal(fe_beyond_solve(&given, ways), FE_OK);
    assert_int_equal(ways[FE_BEYOND_EXTENDERS].verdict, FE_VERDICT_FAILS);
    assert_int_equal(ways[FE_BEYOND_SINGLE_PAIR].verdict, FE_VERDICT_FAILS);
    assert_int_equal(ways[FE_BEYOND_FIBRE].verdict, FE_VERDICT_HOLDS);
}

/*
 * By hand, 94 m a section, 6 W out there. The second port is of class 2 (44 V): 7.91 ohm, V of
 * V^2 - 44 V + 6 x 7.91 = 0. The midpoint takes that through a converter, and 5 W.
 */
static void midpoint__is_fed_back_from_the_far_end(void **state)
{
    (void)state;
    fe_beyond_case given = meadow();
    fe_beyond_way ways[FE_BEYOND_KINDS];
    given.need_w = 6.0;
    assert_int_equal(fe_beyond_solve(&given, ways), FE_OK);
    const fe_beyond_way *way = &ways[FE_BEYOND_MIDPOINT];
    const double loop_ohm = 94.0 * 0.0842;
    const double far_v = 0.5 * (44.0 + sqrt(44.0 * 44.0 - 4.0 * loop_ohm * 6.0));
    const double second_w = 44.0 * (44.0 - far_v) / loop_ohm;
    double efficiency = 0.0;
    assert_int_equal(fe_converter_efficiency(second_w, &efficiency), FE_OK);
    const double device_w = 5.0 + second_w / efficiency;
    const double middle_v = 0.5 * (44.0 + sqrt(44.0 * 44.0 - 4.0 * loop_ohm * device_w));
    assert_true(device_w < 12.95); /* class 3: IEEE 802.3 */
    assert_int_equal(way->port_class, 3);
    assert_close(way->house_w, 44.0 * (44.0 - middle_v) / loop_ohm, 1e-6);
    assert_close(way->passed_w, 6.0, 0.0);
    /* What goes in is what is used: the device, the midpoint, its converter, both loops. */
    const double lost_w = pow((44.0 - middle_v) / loop_ohm, 2.0) * loop_ohm +
                          pow((44.0 - far_v) / loop_ohm, 2.0) * loop_ohm;
    assert_close(way->house_w, 6.0 + 5.0 + second_w * (1.0 / efficiency - 1.0) + lost_w, 1e-6);
}

static void midpoint__feeds_itself_alone_where_more_cannot_pass(void **state)
{
    (void)state;
    fe_beyond_case given = meadow();
    fe_beyond_way ways[FE_BEYOND_KINDS];
    given.need_w = 70.0; /* with the midpoint's own more than class 8 gives */
    assert_int_equal(fe_beyond_solve(&given, ways), FE_OK);
    assert_close(ways[FE_BEYOND_MIDPOINT].passed_w, 0.0, 0.0);
    assert_true(ways[FE_BEYOND_MIDPOINT].house_w > 5.0 &&
                ways[FE_BEYOND_MIDPOINT].house_w < 5.5);
    assert_int_equal(ways[FE_BEYOND_MIDPOINT].verdict, FE_VERDICT_TIGHT);
}

static void beyond__refuses_what_is_no_cable(void **state)
{
    (void)state;
    fe_beyond_way ways[FE_BEYOND_KINDS] = {{.reach_m = -1.0}};
    fe_beyond_case given = meadow();
    given.length_m = (double)NAN;
    assert_int_equal(fe_beyond_solve(&given, ways), FE_E_DOMAIN);
    given = meadow();
    given.wire_ohm_per_m = 0.0;
    assert_int_equal(fe_beyond_solve(&given, ways), FE_E_DOMAIN);
    given = meadow();
    given.need_w = -1.0;
    assert_int_equal(fe_beyond_solve(&given, ways), FE_E_DOMAIN);
    assert_close(ways[0].reach_m, -1.0, 0.0);
    given = meadow();
    given.section_limit_m = given.port_bit_s = 0.0; /* the category carries nothing so fast */
    assert_int_equal(fe_beyond_solve(&given, ways), FE_OK);
    assert_int_equal(ways[FE_BEYOND_MIDPOINT].verdict, FE_VERDICT_FAILS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(beyond__reaches_end_where_the_class_does),
        cmocka_unit_test(midpoint__is_fed_back_from_the_far_end),
        cmocka_unit_test(midpoint__feeds_itself_alone_where_more_cannot_pass),
        cmocka_unit_test(beyond__refuses_what_is_no_cable),
    };
    return FE_RUN_TESTS(tests);
}
