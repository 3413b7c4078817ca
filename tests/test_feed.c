/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/feed.h"
#include "testing.h"

static double loop_ohm(double area_m2, double temp_c, double length_m)
{
    const fe_conductor copper = {area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    double ohm_per_m = NAN;
    assert_int_equal(fe_conductor_resistance(&copper, temp_c, &ohm_per_m), FE_OK);
    return 2.0 * ohm_per_m * length_m;
}

static fe_feed_section power_section(double r_ohm, double power_w)
{
    return (fe_feed_section){r_ohm, 0.0, FE_LOAD_POWER, power_w, 1.0, FE_ANGLE_OWN};
}

/* 60 W over 100 m at 12 V: worked by hand from the quadratic and IEC 60228. */
static void small_conductor__cannot_deliver_60_w(void **state)
{
    (void)state;
    const double thin_ohm = loop_ohm(6e-6, 20.0, 100.0);
    fe_power_feed feed = {.far_v = 7.0};
    double greatest_w = NAN;
    assert_int_equal(fe_feed_constant_power(12.0, thin_ohm, 0.0, 60.0, 1.0, &feed),
                     FE_E_NO_SOLUTION);
    assert_true(feed.far_v == 7.0);
    assert_int_equal(fe_feed_greatest_power(12.0, thin_ohm, 0.0, 1.0, &greatest_w), FE_OK);
    assert_close(greatest_w, 58.4, 0.05);

    const fe_feed_section section = power_section(thin_ohm, 60.0);
    fe_feed_source source;
    double share = NAN;
    assert_int_equal(fe_feed_from_source(12.0, &section, 1, NULL, &source), FE_E_NO_SOLUTION);
    assert_int_equal(fe_feed_greatest_share(12.0, &section, 1, &share), FE_OK);
    assert_close_relative(60.0 * share, greatest_w, 1e-6);

    assert_int_equal(
        fe_feed_constant_power(12.0, loop_ohm(10e-6, 20.0, 100.0), 0.0, 60.0, 1.0, &feed),
        FE_OK);
    assert_close(feed.far_v, 9.75, 0.005);
}

/* 1.2 kW over 165 m of 2.5 mm2 at 70 degC, 0.1 ohm/km: the false root is told apart. */
static void two_roots__are_told_apart(void **state)
{
    (void)state;
    const double r_ohm = loop_ohm(2.5e-6, 70.0, 165.0);
    const double x_ohm = 2.0 * 0.1e-3 * 165.0;
    fe_power_feed feed;
    assert_int_equal(fe_feed_constant_power(230.0, r_ohm, x_ohm, 1200.0, 1.0, &feed), FE_OK);
    assert_close(feed.far_v, 213.56, 0.005);
    assert_close(feed.false_v, 16.44, 0.005);

    /* Both satisfy the circuit; the solver takes the upper. */
    fe_feed_section section = power_section(r_ohm, 1200.0);
    section.x_ohm = x_ohm;
    fe_feed_source source;
    assert_int_equal(fe_feed_from_far_end(feed.false_v, &section, 1, NULL, &source), FE_OK);
    assert_close_relative(source.voltage_v, 230.0, 1e-9);
    assert_int_equal(fe_feed_from_source(230.0, &section, 1, NULL, &source), FE_OK);
    assert_close_relative(source.voltage_v - source.drop_v, feed.far_v, 1e-12);
    assert_close_relative(source.power_w, feed.source_w, 1e-12);
}

static void closed_form_and_search__agree_up_to_the_limit(void **state)
{
    (void)state;
    const double factors[] = {1.0, 0.9, 0.7, -0.9};
    for (size_t f = 0; f < 4; f++) {
        double greatest_w = NAN;
        assert_int_equal(fe_feed_greatest_power(48.0, 1.3, 0.4, factors[f], &greatest_w),
                         FE_OK);
        const double parts[] = {1e-6, 0.3, 0.8, 0.99, 0.999999};
        for (size_t p = 0; p < 5; p++) {
            const double power_w = parts[p] * greatest_w;
            const fe_feed_section section = {1.3,     0.4,        FE_LOAD_POWER,
                                             power_w, factors[f], FE_ANGLE_OWN};
            fe_power_feed closed;
            fe_feed_source source;
            assert_int_equal(
                fe_feed_constant_power(48.0, 1.3, 0.4, power_w, factors[f], &closed), FE_OK);
            assert_int_equal(fe_feed_from_source(48.0, &section, 1, NULL, &source), FE_OK);
            assert_close_relative(source.voltage_v - source.drop_v, closed.far_v, 1e-9);
        }
        fe_power_feed beyond;
        assert_int_equal(fe_feed_constant_power(48.0, 1.3, 0.4, greatest_w * (1.0 + 1e-9),
                                                factors[f], &beyond),
                         FE_E_NO_SOLUTION);
    }
}

/* A feed with everything in it, source first. */
static const fe_feed_section MIXED[] = {
    {0.30, 0.05, FE_LOAD_POWER, 600.0, 0.9, FE_ANGLE_OWN},
    {0.45, 0.08, FE_LOAD_CURRENT, 4.0, 0.8, FE_ANGLE_OWN},
    {0.20, 0.03, FE_LOAD_CURRENT, 2.0, 0.95, FE_ANGLE_FAR},
    {0.60, 0.11, FE_LOAD_POWER, 900.0, -0.98, FE_ANGLE_OWN},
};

static void energy__balances_to_1e_9(void **state)
{
    (void)state;
    fe_feed_point points[4];
    fe_feed_source source;
    assert_int_equal(fe_feed_from_source(230.0, MIXED, 4, points, &source), FE_OK);
    double sum_w = 0.0;
    for (size_t i = 0; i < 4; i++)
        sum_w += points[i].load_w + points[i].loss_w;
    assert_close_relative(source.power_w, sum_w, 1e-9);
    assert_close_relative(source.power_w, source.load_w + source.loss_w, 1e-9);
    assert_close_relative(source.voltage_v, 230.0, 1e-12);
    assert_close_relative(points[0].load_w, 600.0, 1e-12);
    assert_close_relative(points[3].load_w, 900.0, 1e-12);
    assert_close_relative(points[1].load_w, 4.0 * 0.8 * points[1].voltage_v, 1e-12);
}

static void source_and_far_end__invert_each_other(void **state)
{
    (void)state;
    fe_feed_source from_source, from_far;
    assert_int_equal(fe_feed_from_source(230.0, MIXED, 4, NULL, &from_source), FE_OK);
    assert_int_equal(
        fe_feed_from_far_end(230.0 - from_source.drop_v, MIXED, 4, NULL, &from_far), FE_OK);
    assert_close_relative(from_far.voltage_v, 230.0, 1e-12);
    assert_true(from_far.drop_phasor_v >= from_far.drop_v);
}

static void greatest_share__is_where_the_feed_gives_up(void **state)
{
    (void)state;
    double share = NAN;
    fe_feed_section scaled[4];
    fe_feed_source source;
    assert_int_equal(fe_feed_greatest_share(230.0, MIXED, 4, &share), FE_OK);
    assert_true(share > 1.0);
    for (int beyond = 0; beyond < 2; beyond++) {
        for (size_t i = 0; i < 4; i++) {
            scaled[i] = MIXED[i];
            scaled[i].load *= share * (beyond ? 1.0001 : 0.9999);
        }
        assert_int_equal(fe_feed_from_source(230.0, scaled, 4, NULL, &source),
                         beyond ? FE_E_NO_SOLUTION : FE_OK);
    }
}

/* Two loads at one place are one load of their sum. */
static void loads_at_one_place__add_up(void **state)
{
    (void)state;
    const fe_feed_section two[] = {power_section(2.0, 30.0), power_section(0.0, 20.0)};
    const fe_feed_section one = power_section(2.0, 50.0);
    fe_feed_source apart, together;
    assert_int_equal(fe_feed_from_source(48.0, two, 2, NULL, &apart), FE_OK);
    assert_int_equal(fe_feed_from_source(48.0, &one, 1, NULL, &together), FE_OK);
    assert_close_relative(apart.drop_v, together.drop_v, 1e-12);
}

/* The even load is the limit of many small ones. */
static void uniform_load__is_the_limit_of_many(void **state)
{
    (void)state;
    fe_feed_section sections[FE_FEED_MAX_LOADS];
    const double length_m = 200.0, load_a_per_m = 0.05, loop_ohm_per_m = 1e-3;
    const double piece_m = length_m / FE_FEED_MAX_LOADS;
    for (size_t i = 0; i < FE_FEED_MAX_LOADS; i++)
        sections[i] = (fe_feed_section){loop_ohm_per_m * piece_m * (i == 0 ? 0.5 : 1.0),
                                        0.0,
                                        FE_LOAD_CURRENT,
                                        load_a_per_m * piece_m,
                                        1.0,
                                        FE_ANGLE_OWN};
    fe_feed_source source;
    double drop_v = NAN, loss_w = NAN;
    assert_int_equal(fe_feed_from_source(48.0, sections, FE_FEED_MAX_LOADS, NULL, &source),
                     FE_OK);
    assert_int_equal(
        fe_feed_uniform_drop(loop_ohm_per_m, load_a_per_m, length_m, length_m, &drop_v), FE_OK);
    assert_int_equal(fe_feed_uniform_loss(loop_ohm_per_m, load_a_per_m, length_m, &loss_w),
                     FE_OK);
    assert_close_relative(source.drop_v, drop_v, 1e-3);
    assert_close_relative(source.loss_w, loss_w, 1e-3);
}

static double line_drop(double length_m, double load, double area_m2, fe_load_kind kind)
{
    const fe_feed_line line = {.source_v = 230.0,
                               .conductor = {area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED},
                               .x_ohm_per_m = 0.1e-3,
                               .air_c = 30.0,
                               .ampacity_a = 27.0,
                               .ampacity_air_c = 30.0,
                               .conductor_max_c = 70.0};
    const fe_feed_load one = {length_m, kind, load, 0.9, FE_ANGLE_OWN};
    fe_feed_result result;
    assert_int_equal(fe_feed_line_solve(&line, &one, 1, NULL, &result), FE_OK);
    return result.source.drop_v;
}

static void drop__grows_with_length_load_and_resistance(void **state)
{
    (void)state;
    for (int kind = FE_LOAD_CURRENT; kind <= FE_LOAD_POWER; kind++) {
        const fe_load_kind k = (fe_load_kind)kind;
        const double unit = k == FE_LOAD_POWER ? 230.0 : 1.0;
        assert_true(line_drop(60.0, 5.0 * unit, 2.5e-6, k) <
                    line_drop(70.0, 5.0 * unit, 2.5e-6, k));
        assert_true(line_drop(60.0, 5.0 * unit, 2.5e-6, k) <
                    line_drop(60.0, 6.0 * unit, 2.5e-6, k));
        assert_true(line_drop(60.0, 5.0 * unit, 4e-6, k) <
                    line_drop(60.0, 5.0 * unit, 2.5e-6, k));
    }
}

/* Smallest metric size for 60 W over 100 m at 12 V with 5 %. */
static const char *smallest_size(double air_c)
{
    for (size_t i = 0;; i++) {
        const fe_wire_size *size = fe_wire_size_at(FE_SIZES_METRIC, i);
        assert_non_null(size);
        const fe_feed_line line = {
            .source_v = 12.0,
            .conductor = {size->area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED},
            .air_c = air_c,
            /* BS 7671 Table 4D2A method C, 35 mm2; larger sizes are warmed less. */
            .ampacity_a = 138.0,
            .ampacity_air_c = 30.0,
            .conductor_max_c = 70.0};
        const fe_feed_load load = {100.0, FE_LOAD_POWER, 60.0, 1.0, FE_ANGLE_OWN};
        fe_feed_result result;
        const fe_status status = fe_feed_line_solve(&line, &load, 1, NULL, &result);
        if (status == FE_OK && result.source.drop_v <= 0.05 * 12.0)
            return size->name;
    }
}

static void warm_air__asks_the_next_size(void **state)
{
    (void)state;
    assert_string_equal(smallest_size(20.0), "35 mm2");
    assert_string_equal(smallest_size(42.0), "35 mm2");
    assert_string_equal(smallest_size(43.0), "50 mm2");
}

static void conductor_at_its_ampacity__is_at_its_limit(void **state)
{
    (void)state;
    const fe_feed_line line = {.source_v = 230.0,
                               .conductor = {2.5e-6, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED},
                               .air_c = 30.0,
                               .ampacity_a = 27.0,
                               .ampacity_air_c = 30.0,
                               .conductor_max_c = 70.0};
    fe_feed_load load = {10.0, FE_LOAD_CURRENT, 27.0, 1.0, FE_ANGLE_OWN};
    fe_feed_result result;
    assert_int_equal(fe_feed_line_solve(&line, &load, 1, NULL, &result), FE_OK);
    assert_close(result.conductor_c, 70.0, 1e-9);
    assert_close_relative(2.0 * result.r_ohm_per_m, loop_ohm(2.5e-6, 70.0, 1.0), 1e-12);
    load.load = 28.0;
    assert_int_equal(fe_feed_line_solve(&line, &load, 1, NULL, &result), FE_W_RANGE);
    assert_true(result.conductor_c > 70.0);
}

static void idle_feed__has_no_drop(void **state)
{
    (void)state;
    const fe_feed_section no_load = power_section(1.0, 0.0);
    const fe_feed_section no_wire = power_section(0.0, 100.0);
    fe_feed_source source;
    double share = 7.0;
    assert_int_equal(fe_feed_from_source(12.0, &no_load, 1, NULL, &source), FE_OK);
    assert_true(source.drop_v == 0.0);
    assert_int_equal(fe_feed_from_source(12.0, &no_wire, 1, NULL, &source), FE_OK);
    assert_true(source.drop_v == 0.0);
    assert_int_equal(fe_feed_greatest_share(12.0, &no_wire, 1, &share), FE_E_NO_SOLUTION);
    assert_true(share == 7.0);
}

/* A constant current that drops the whole source voltage cannot flow. */
static void too_large_current__has_no_solution(void **state)
{
    (void)state;
    const fe_feed_section section = {1.0, 0.0, FE_LOAD_CURRENT, 12.5, 1.0, FE_ANGLE_OWN};
    fe_feed_source source;
    double share = NAN;
    assert_int_equal(fe_feed_from_source(12.0, &section, 1, NULL, &source), FE_E_NO_SOLUTION);
    assert_int_equal(fe_feed_greatest_share(12.0, &section, 1, &share), FE_OK);
    assert_close_relative(share, 12.0 / 12.5, 2e-4);
}

/* Leading loads lift the far end above the source, as on a lightly loaded line. */
static void leading_load__can_raise_the_far_end(void **state)
{
    (void)state;
    const fe_feed_section section = {0.1, 2.0, FE_LOAD_CURRENT, 5.0, -0.2, FE_ANGLE_OWN};
    fe_feed_source source;
    assert_int_equal(fe_feed_from_source(230.0, &section, 1, NULL, &source), FE_OK);
    assert_true(source.drop_v < 0.0);
    assert_close_relative(source.voltage_v, 230.0, 1e-12);
}

static void iec_limit__grows_to_half_a_percent(void **state)
{
    (void)state;
    double percent = NAN;
    assert_int_equal(fe_drop_limit_iec(5.0, 80.0, &percent), FE_OK);
    assert_close(percent, 5.0, 1e-12);
    assert_int_equal(fe_drop_limit_iec(5.0, 165.0, &percent), FE_OK);
    assert_close(percent, 5.325, 1e-12);
    assert_int_equal(fe_drop_limit_iec(5.0, 400.0, &percent), FE_OK);
    assert_close(percent, 5.5, 1e-12);
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    fe_feed_section section = power_section(1.0, 10.0);
    fe_feed_source source = {.drop_v = 7.0};
    fe_power_feed feed;
    double value = 7.0;
    assert_int_equal(fe_feed_from_source(NAN, &section, 1, NULL, &source), FE_E_DOMAIN);
    assert_int_equal(fe_feed_from_source(0.0, &section, 1, NULL, &source), FE_E_DOMAIN);
    assert_int_equal(fe_feed_from_source(12.0, &section, 0, NULL, &source), FE_E_DOMAIN);
    assert_int_equal(fe_feed_from_source(12.0, &section, FE_FEED_MAX_LOADS + 1, NULL, &source),
                     FE_E_DOMAIN);
    assert_int_equal(fe_feed_from_far_end(-1.0, &section, 1, NULL, &source), FE_E_DOMAIN);
    section.power_factor = 0.0;
    assert_int_equal(fe_feed_from_source(12.0, &section, 1, NULL, &source), FE_E_DOMAIN);
    section.power_factor = 1.0;
    section.r_ohm = NAN;
    assert_int_equal(fe_feed_from_source(12.0, &section, 1, NULL, &source), FE_E_DOMAIN);
    assert_true(source.drop_v == 7.0);
    assert_int_equal(fe_feed_constant_power(12.0, 1.0, 0.0, NAN, 1.0, &feed), FE_E_DOMAIN);
    assert_int_equal(fe_feed_greatest_power(12.0, 0.0, 0.0, 1.0, &value), FE_E_NO_SOLUTION);
    assert_int_equal(fe_feed_uniform_drop(1e-3, 1.0, 10.0, 11.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_feed_uniform_loss(1e-3, NAN, 10.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_feed_area_for_drop(1.7e-8, 10.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_feed_drop_mv(NAN, 1.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_feed_drop_two_wire(1.0, -1.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_drop_limit_iec(5.0, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_conductor_warmth(30.0, 30.0, 30.0, 1.0, 10.0, &value), FE_E_DOMAIN);
    assert_true(value == 7.0);
    assert_null(fe_uk_drop_find(3e-6));
    assert_null(fe_drop_limit_find("", ""));
}

/*
 * What BS 7671's mV/A/m are made of: both conductors by IEC 60228 at the insulation's temperature
 * (copper, 0.00393 a kelvin) and some 0.08 ohm/km of reactance each (common practice, no source).
 * Rounding to two or three digits leaves at most 2.5 %.
 */
static void uk_table__is_impedance_there_and_back(void **state)
{
    (void)state;
    static const double AREAS_MM2[] = {1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95};
    for (size_t i = 0; i < sizeof AREAS_MM2 / sizeof AREAS_MM2[0]; i++) {
        const double area_m2 = 1e-6 * AREAS_MM2[i];
        const fe_uk_drop *row = fe_uk_drop_find(area_m2);
        assert_non_null(row);
        const double x_mv = 0.08, cold_mv = 1e3 * loop_ohm(area_m2, 20.0, 1.0);
        assert_close_relative(row->pvc_70c_mv_per_a_m,
                              hypot(cold_mv * (1.0 + 0.00393 * 50.0), 2.0 * x_mv), 0.025);
        assert_close_relative(row->xlpe_90c_mv_per_a_m,
                              hypot(cold_mv * (1.0 + 0.00393 * 70.0), 2.0 * x_mv), 0.025);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_conductor__cannot_deliver_60_w),
        cmocka_unit_test(two_roots__are_told_apart),
        cmocka_unit_test(closed_form_and_search__agree_up_to_the_limit),
        cmocka_unit_test(energy__balances_to_1e_9),
        cmocka_unit_test(source_and_far_end__invert_each_other),
        cmocka_unit_test(greatest_share__is_where_the_feed_gives_up),
        cmocka_unit_test(loads_at_one_place__add_up),
        cmocka_unit_test(uniform_load__is_the_limit_of_many),
        cmocka_unit_test(drop__grows_with_length_load_and_resistance),
        cmocka_unit_test(warm_air__asks_the_next_size),
        cmocka_unit_test(conductor_at_its_ampacity__is_at_its_limit),
        cmocka_unit_test(idle_feed__has_no_drop),
        cmocka_unit_test(too_large_current__has_no_solution),
        cmocka_unit_test(leading_load__can_raise_the_far_end),
        cmocka_unit_test(iec_limit__grows_to_half_a_percent),
        cmocka_unit_test(nonsense__is_refused),
        cmocka_unit_test(uk_table__is_impedance_there_and_back),
    };
    return FE_RUN_TESTS(tests);
}
