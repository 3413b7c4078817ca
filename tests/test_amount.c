/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/amount.h"

#include <math.h>
#include <string.h>

#include "testing.h"

static void assert_shown(fe_style style, double si, const char *metric, const char *us)
{
    const char *wanted[] = {metric, us};
    for (int units = FE_UNITS_METRIC; units <= FE_UNITS_US; units++) {
        fe_strbuf out = FE_STRBUF_INIT;
        fe_strbuf ascii = FE_STRBUF_INIT;
        fe_amount_print(style, si, 0, (fe_units)units, &out);
        fe_amount_to_ascii(fe_strbuf_text(&out), &ascii);
        assert_string_equal(fe_strbuf_text(&ascii), wanted[units]);
        fe_strbuf_free(&out);
        fe_strbuf_free(&ascii);
    }
}

/* NIST SP 811 (2008) app. B.8: foot 0.3048 m, mile 1609.344 m, lbf 4.448222 N, psi 6894.757 Pa.
 */
static void amount__is_shown_in_both_systems(void **state)
{
    (void)state;
    assert_shown(FE_STYLE_LENGTH, 30.48, "30.5 m", "100 ft");
    assert_shown(FE_STYLE_DISTANCE, 165.0, "165 m", "541 ft");
    assert_shown(FE_STYLE_DISTANCE, 1609.344, "1.61 km", "1.00 mi");
    assert_shown(FE_STYLE_DEPTH, 0.4572, "46 cm", "18 in");
    assert_shown(FE_STYLE_THICKNESS, 0.0064, "6.4 mm", "0.25 in");
    assert_shown(FE_STYLE_FORCE, 444.8222, "445 N", "100 lbf");
    assert_shown(FE_STYLE_FORCE, 2943.0, "2.94 kN", "662 lbf");
    assert_shown(FE_STYLE_STRESS, 6894757.0, "6.9 MPa", "1000 psi");
    assert_shown(FE_STYLE_TEMPERATURE, -20.0, "-20 degC", "-4 degF");
    assert_shown(FE_STYLE_TEMPERATURE_STEP, 10.0, "10 K", "18 degF");
    assert_shown(FE_STYLE_SPEED, 44.704, "44.7 m/s", "100 mph");
    assert_shown(FE_STYLE_PRESSURE, 47.88026, "48 Pa", "1.0 psf");
    assert_shown(FE_STYLE_LINEAR_FORCE, 14.5939, "14.59 N/m", "1.000 lbf/ft");
}

static void amount__has_one_form_where_units_do_not_differ(void **state)
{
    (void)state;
    assert_shown(FE_STYLE_RATIO, 11.6, "12 dB", "12 dB");
    assert_shown(FE_STYLE_LEVEL, -63.2, "-63 dBm", "-63 dBm");
    assert_shown(FE_STYLE_PERCENT, 0.924, "92 %", "92 %");
    assert_shown(FE_STYLE_PERCENT, 0.996, "over 99 %", "over 99 %");
    assert_shown(FE_STYLE_PERCENT, 1.0, "100 %", "100 %");
    assert_shown(FE_STYLE_PERCENT, 0.004, "under 1 %", "under 1 %");
    assert_shown(FE_STYLE_PERCENT, 0.0, "0 %", "0 %");
    assert_shown(FE_STYLE_FREQUENCY, 2.437e9, "2.437 GHz", "2.437 GHz");
    assert_shown(FE_STYLE_FREQUENCY, 868e6, "868 MHz", "868 MHz");
    assert_shown(FE_STYLE_DATA_RATE, 6.5e6, "6.5 Mb/s", "6.5 Mb/s");
    assert_shown(FE_STYLE_DATA_RATE, 1.2e9, "1.2 Gb/s", "1.2 Gb/s");
    assert_shown(FE_STYLE_DATA, 20.0 * 8e9, "20 GB", "20 GB");
    assert_shown(FE_STYLE_TIME, 12600.0, "3.5 h", "3.5 h");
    assert_shown(FE_STYLE_TIME, 3.2 * 86400.0, "3.2 days", "3.2 days");
    assert_shown(FE_STYLE_TIME, 478.6 * 86400.0, "479 days", "479 days");
    assert_shown(FE_STYLE_TIME, 850.5 * 86400.0, "2.3 years", "2.3 years");
    assert_shown(FE_STYLE_CHARGE, 3.6e5, "100 Ah", "100 Ah");
    assert_shown(FE_STYLE_ANGLE, 0.0872664626, "5.0 deg", "5.0 deg");
    assert_shown(FE_STYLE_RESISTANCE, 12.5, "12.5 ohm", "12.5 ohm");
}

/* Three digits that mean something, however large. */
static void large_amount__has_no_more_digits_than_a_small_one(void **state)
{
    (void)state;
    assert_shown(FE_STYLE_POWER, 1480.0, "1.48 kW", "1.48 kW");
    assert_shown(FE_STYLE_POWER, 27040.0, "27.0 kW", "27.0 kW");
    assert_shown(FE_STYLE_ENERGY, 2.627 * 3.6e6, "2.63 kWh", "2.63 kWh");
    assert_shown(FE_STYLE_ENERGY, 26.33 * 3.6e6, "26.3 kWh", "26.3 kWh");
    assert_shown(FE_STYLE_ENERGY, 232.27 * 3.6e6, "232 kWh", "232 kWh");
    assert_shown(FE_STYLE_CURRENT, 36.54, "36.5 A", "36.5 A");
    assert_shown(FE_STYLE_CURRENT, 111.0, "111 A", "111 A");
    assert_shown(FE_STYLE_RESISTANCE, 5000.0 / 3.0, "1667 ohm", "1667 ohm");
}

static void height__is_read_on_a_tape_in_feet_and_half_inches(void **state)
{
    (void)state;
    assert_shown(FE_STYLE_HEIGHT, 3.81, "3.81 m", "12 ft 6 in");
    assert_shown(FE_STYLE_HEIGHT, 3.6576, "3.66 m", "12 ft");
    assert_shown(FE_STYLE_HEIGHT, 2.3495, "2.35 m", "7 ft 8 1/2 in");
    assert_shown(FE_STYLE_HEIGHT, 0.0127, "0.01 m", "1/2 in");
    assert_shown(FE_STYLE_HEIGHT, -0.3302, "-0.33 m", "-1 ft 1 in");
    assert_shown(FE_STYLE_HEIGHT, 0.0, "0.00 m", "0 in");
    /* Eleven and three quarters must become a foot, never "11 2/2 in" or "12 in". */
    assert_shown(FE_STYLE_HEIGHT, 0.30353, "0.30 m", "1 ft");
}

/* Areas of wire gauges: ASTM B258 (12: 3.309 mm2, 2/0: 67.43 mm2). */
static void wire__is_a_gauge_only_where_it_is_one(void **state)
{
    (void)state;
    assert_shown(FE_STYLE_WIRE, 3.309e-6, "3.3 mm2", "AWG 12");
    assert_shown(FE_STYLE_WIRE, 67.43e-6, "67 mm2", "2/0 AWG");
    assert_shown(FE_STYLE_WIRE, 2.5e-6, "2.5 mm2", "2.5 mm2");
    const double metric_mm2[] = {0.5, 0.75, 1.0, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95};
    for (size_t i = 0; i < sizeof metric_mm2 / sizeof metric_mm2[0]; i++) {
        fe_strbuf out = FE_STRBUF_INIT;
        fe_amount_print(FE_STYLE_WIRE, metric_mm2[i] * 1e-6, 0, FE_UNITS_US, &out);
        assert_null(strstr(fe_strbuf_text(&out), "AWG"));
        fe_strbuf_free(&out);
    }
}

static void amount__that_is_not_finite_is_a_dash(void **state)
{
    (void)state;
    assert_shown(FE_STYLE_HEIGHT, NAN, "-", "-");
    assert_shown(FE_STYLE_RATIO, INFINITY, "-", "-");
}

static void range__has_its_unit_once(void **state)
{
    (void)state;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_strbuf ascii = FE_STRBUF_INIT;
    fe_amount_print_range(FE_STYLE_DISTANCE, 800.0, 1200.0, 0, FE_UNITS_METRIC, &out);
    fe_strbuf_append(&out, "|");
    fe_amount_print_range(FE_STYLE_RATIO, 11.8, 12.2, 0, FE_UNITS_METRIC, &out);
    fe_strbuf_append(&out, "|");
    fe_amount_print_range(FE_STYLE_HEIGHT, 0.3048, 0.6096, 0, FE_UNITS_US, &out);
    fe_strbuf_append(&out, "|");
    fe_amount_print_range(FE_STYLE_RATIO, -3.0, 5.0, 1, FE_UNITS_US, &out);
    fe_amount_to_ascii(fe_strbuf_text(&out), &ascii);
    assert_string_equal(fe_strbuf_text(&ascii),
                        "0.80 to 1.20 km|12 dB|1 ft to 2 ft|-3.0 to 5.0 dB");
    fe_strbuf_free(&out);
    fe_strbuf_free(&ascii);
}

static void amount__can_have_more_or_fewer_digits(void **state)
{
    (void)state;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_amount_print(FE_STYLE_NUMBER, 3.14159, 2, FE_UNITS_METRIC, &out);
    fe_strbuf_append(&out, "|");
    fe_amount_print(FE_STYLE_COUNT, 1234.0, -2, FE_UNITS_METRIC, &out);
    assert_string_equal(fe_strbuf_text(&out), "3.1416|1200");
    fe_strbuf_free(&out);
}

/* What is judged by a bound reads on its own side of it. */
static void amount_beside_a_bound__does_not_print_like_it(void **state)
{
    (void)state;
    static const struct {
        fe_style style;
        double si;
        double bound_si;
        int extra;
        const char *text;
    } CASES[] = {
        {FE_STYLE_PERCENT, 0.896, 0.9, 1, "89.6 %"},
        {FE_STYLE_PERCENT, 0.8996, 0.9, 2, "89.96 %"},
        {FE_STYLE_PERCENT, 0.9, 0.9, 0, "90 %"},
        {FE_STYLE_PERCENT, 0.87, 0.9, 0, "87 %"},
        {FE_STYLE_RATIO, -0.3, 0.0, 1, "-0.3 dB"},
        {FE_STYLE_RATIO, 0.04, 0.0, 2, "0.04 dB"},
        {FE_STYLE_RATIO, 1e-9, 0.0, 2, "0.00 dB"},
        {FE_STYLE_RATIO, 0.7, 0.0, 0, "1 dB"},
        {FE_STYLE_RATIO, NAN, 0.0, 0, "-"},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        fe_strbuf out = FE_STRBUF_INIT;
        fe_strbuf ascii = FE_STRBUF_INIT;
        const int extra = fe_amount_digits_beside(CASES[i].style, CASES[i].si,
                                                  CASES[i].bound_si, FE_UNITS_METRIC);
        assert_int_equal(extra, CASES[i].extra);
        fe_amount_print(CASES[i].style, CASES[i].si, extra, FE_UNITS_METRIC, &out);
        fe_amount_to_ascii(fe_strbuf_text(&out), &ascii);
        assert_string_equal(fe_strbuf_text(&ascii), CASES[i].text);
        fe_strbuf_free(&out);
        fe_strbuf_free(&ascii);
    }
}

static void amounts__that_print_alike_are_told_so(void **state)
{
    (void)state;
    static const struct {
        fe_style style;
        double a, b;
        int extra;
        fe_units units;
        bool alike;
    } CASES[] = {
        {FE_STYLE_RATIO, 0.6, 1.4, 0, FE_UNITS_METRIC, true},
        {FE_STYLE_RATIO, 0.6, 1.4, 1, FE_UNITS_METRIC, false},
        {FE_STYLE_PERCENT, 0.996, 0.99, 0, FE_UNITS_METRIC, false},
        {FE_STYLE_PERCENT, 0.996, 1.0, 0, FE_UNITS_METRIC, false},
        {FE_STYLE_DISTANCE, 999.6, 1000.0, 0, FE_UNITS_METRIC, false},
        {FE_STYLE_HEIGHT, 1.0, 1.004, 0, FE_UNITS_US, true},
        {FE_STYLE_HEIGHT, 1.0, 1.02, 0, FE_UNITS_US, false},
        {FE_STYLE_WIRE, 2.08e-6, 2.09e-6, 0, FE_UNITS_US, true},
        {FE_STYLE_WIRE, 2.08e-6, 2.5e-6, 0, FE_UNITS_US, false},
        {FE_STYLE_WIRE, 2.5e-6, 2.5e-6, 0, FE_UNITS_US, true},
        {FE_STYLE_RATIO, NAN, NAN, 0, FE_UNITS_METRIC, true},
        {FE_STYLE_RATIO, NAN, 0.0, 0, FE_UNITS_METRIC, false},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++)
        assert_int_equal(fe_amount_print_alike(CASES[i].style, CASES[i].a, CASES[i].b,
                                               CASES[i].extra, CASES[i].units),
                         CASES[i].alike);
}

static void scale__serves_a_whole_axis(void **state)
{
    (void)state;
    const fe_scale feet = fe_amount_scale(FE_STYLE_HEIGHT, 3.0, FE_UNITS_US);
    assert_string_equal(feet.unit, "ft");
    assert_close(feet.factor * 3.048, 10.0, 1e-12);
    const fe_scale km = fe_amount_scale(FE_STYLE_DISTANCE, 2500.0, FE_UNITS_METRIC);
    assert_string_equal(km.unit, "km");
}

static void ascii__leaves_letters_of_names_alone(void **state)
{
    (void)state;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_amount_to_ascii("B\xc3\xa4rnhof 5\xc2\xa0\xce\xa9 \xe2\x89\xa5 3 \xc2\xb5m", &out);
    assert_string_equal(fe_strbuf_text(&out), "B\xc3\xa4rnhof 5 ohm >= 3 um");
    fe_strbuf_free(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(amount__is_shown_in_both_systems),
        cmocka_unit_test(amount__has_one_form_where_units_do_not_differ),
        cmocka_unit_test(large_amount__has_no_more_digits_than_a_small_one),
        cmocka_unit_test(height__is_read_on_a_tape_in_feet_and_half_inches),
        cmocka_unit_test(wire__is_a_gauge_only_where_it_is_one),
        cmocka_unit_test(amount__that_is_not_finite_is_a_dash),
        cmocka_unit_test(range__has_its_unit_once),
        cmocka_unit_test(amount__can_have_more_or_fewer_digits),
        cmocka_unit_test(amount_beside_a_bound__does_not_print_like_it),
        cmocka_unit_test(amounts__that_print_alike_are_told_so),
        cmocka_unit_test(scale__serves_a_whole_axis),
        cmocka_unit_test(ascii__leaves_letters_of_names_alone),
    };
    return FE_RUN_TESTS(tests);
}
