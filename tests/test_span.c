/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/span.h"

#include <math.h>
#include <string.h>

#include "farend/parabola.h"
#include "testing.h"

static fe_span_shape shape_at(double span_m, double rise_m, double load_n_m, double stiffness_n,
                              double tension_n)
{
    const fe_span span = {span_m, rise_m, load_n_m, stiffness_n};
    fe_span_shape shape;
    memset(&shape, 0, sizeof shape);
    assert_true(fe_span_at_tension(&span, tension_n, &shape) >= 0);
    return shape;
}

/* 7.3575 N/m over 40 m at 2943 N: catenary of c = 400 m, worked out with 30 digits. */
static void level_span__has_the_known_sag_length_and_end_tension(void **state)
{
    (void)state;
    const fe_span_shape shape = shape_at(40.0, 0.0, 7.3575, INFINITY, 2943.0);
    assert_close(shape.sag_m, 0.500104, 5e-7);
    assert_close(shape.length_m, 40.016669, 5e-7);
    assert_close(shape.tension_higher_end_n, 2946.680, 5e-4);
    assert_close(shape.tension_lower_end_n, shape.tension_higher_end_n, 1e-9);
    assert_close(shape.low_point_m, 20.0, 1e-12);
    assert_close(shape.low_point_height_m, -shape.sag_m, 1e-12);
    assert_true(shape.low_point_inside);
}

/* The plain formulas in long double, which has the digits to spare that they lose. */
struct plain {
    long double sag_m;
    long double length_excess_m;
    long double low_point_m;
    long double tension_second_n;
};

static struct plain plain_catenary(double span_m, double rise_m, double load, double tension)
{
    const long double a = span_m;
    const long double h = rise_m;
    const long double c = (long double)tension / load;
    const long double s = 2 * c * sinhl(a / (2 * c));
    const long double low = a / 2 - c * asinhl(h / s);
    const long double at_sag = low + c * asinhl(h / a);
    const struct plain plain = {
        .sag_m = h * at_sag / a - c * (coshl((at_sag - low) / c) - coshl(low / c)),
        /* Even long double wants the difference of squares here. */
        .length_excess_m = (s - a) * (s + a) / (sqrtl(h * h + s * s) + sqrtl(a * a + h * h)),
        .low_point_m = low,
        .tension_second_n = load * c * coshl((a - low) / c),
    };
    return plain;
}

static void catenary__agrees_with_long_double_even_when_nearly_taut(void **state)
{
    (void)state;
    const double rises_m[] = {0.0, 1e-3, 3.1, -3.1, 40.0, -200.0};
    for (size_t i = 0; i < sizeof rises_m / sizeof rises_m[0]; i++) {
        /* From a sag of some 5 spans to one of a millimetre in 40 m. */
        for (double half = 3.0; half > 1e-4; half *= 0.5) {
            const double tension_n = 2.0 * 40.0 / (2.0 * half);
            const fe_span_shape got = shape_at(40.0, rises_m[i], 2.0, INFINITY, tension_n);
            const struct plain want = plain_catenary(40.0, rises_m[i], 2.0, tension_n);
            assert_close_relative(got.sag_m, (double)want.sag_m, 1e-10);
            assert_close_relative(got.length_excess_m, (double)want.length_excess_m, 1e-10);
            assert_close_relative(got.tension_second_n, (double)want.tension_second_n, 1e-12);
            assert_close(got.low_point_m, (double)want.low_point_m,
                         1e-10 * (40.0 + fabs((double)want.low_point_m)));
        }
    }
}

/*
 * The same elastic catenary with 80 digits (mpmath), where doubles have least to give: slack
 * and nearly vertical, taut so that the stretch is millions of times what the curve takes, and
 * steep with the low point far outside. Two forms had failed here: the sag of a slack, nearly
 * vertical cable by 6e-10, and the length as it hangs, as excess without load plus stretch,
 * wholly.
 */
static void adversarial_spans__agree_with_80_digits(void **state)
{
    (void)state;
    static const struct {
        double span_m, rise_m, load_n_m, stiffness_n, tension_n;
        double sag_m, length_excess_m, unstretched_excess_m, low_point_m;
    } ROWS[] = {
        {3.5, 3200.0, 16.0, INFINITY, 1.5, 5995315.6616851934, 11986315.146067425,
         11986315.146067425, 1.749974978136862},
        {0.05, -34.0, 0.5, 50000.0, 0.0008, 4778.7708768640985, 9510.0252767525829,
         9292.5607961196815, 0.025005832826393888},
        {40.0, 0.0, 0.5, 200000.0, 20000.0, 0.0045454546166017804, 1.3774104773746618e-6,
         -3.6363624980078764, 20.0},
        {40.0, 3.0, 0.5, 200000.0, 50000.0, 0.0016035929362000663, 1.699976494627028e-7,
         -8.0404834618832579, -9347.9864566131636},
        {200.0, -15000.0, 0.5, 2e9, 1e6, 0.18073837442556288, 1.032143041272544e-9,
         -542.26331849590232, 10096459.470381952},
        {180.0, -5.0, 0.001, 1e12, 9e5, 4.5017317232209296e-6, 2.9988378619654493e-13,
         -0.00016212485373146563, 24996898.595237969},
        {40.0, 200.0, 2.0, 3.4e6, 60.0, 33.265898323456545, 0.61559096741597368,
         0.59458658482870287, -47.231669038028694},
        {40.0, 1e-6, 2.0, 5e4, 3000.0, 0.12578772815505186, 0.001054817050891224,
         -2.2632121624983876, 19.999960250988864},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        const fe_span span = {ROWS[i].span_m, ROWS[i].rise_m, ROWS[i].load_n_m,
                              ROWS[i].stiffness_n};
        fe_span_shape got;
        assert_true(fe_span_at_tension(&span, ROWS[i].tension_n, &got) >= 0);
        assert_close_relative(got.sag_m, ROWS[i].sag_m, 1e-12);
        assert_close_relative(got.length_excess_m, ROWS[i].length_excess_m, 1e-12);
        assert_close_relative(got.unstretched_excess_m, ROWS[i].unstretched_excess_m, 1e-12);
        assert_close_relative(got.low_point_m, ROWS[i].low_point_m, 1e-12);
    }
}

/* The two end equations of the elastic catenary as they are usually written. */
static void check_elastic_ends(const fe_span_shape *got)
{
    const long double h = got->tension_horizontal_n;
    const long double v = got->reaction_second_n;
    const long double w = (long double)got->reaction_first_n + got->reaction_second_n;
    const long double l0 = got->unstretched_m;
    const long double ea = got->span.stiffness_n;
    const long double a = h * l0 / ea + h * l0 / w * (asinhl(v / h) - asinhl((v - w) / h));
    const long double rise =
        w * l0 / ea * (v / w - 0.5L) + h * l0 / w * (hypotl(1, v / h) - hypotl(1, (v - w) / h));
    assert_close((double)a, got->span.span_m, 1e-10 * got->span.span_m);
    assert_close((double)rise, got->span.rise_m, 1e-10 * fe_span_chord(&got->span));
    assert_close_relative((double)w, got->span.load_n_m * got->unstretched_m, 1e-10);
}

static void elastic_catenary__satisfies_its_end_equations(void **state)
{
    (void)state;
    const double rises_m[] = {0.0, 0.4, -8.0, 60.0};
    const double stiffnesses_n[] = {3.4e6, 5e4};
    for (size_t i = 0; i < 4; i++)
        for (size_t j = 0; j < 2; j++)
            for (double tension_n = 20.0; tension_n < 2000.0; tension_n *= 1.7) {
                const fe_span_shape got =
                    shape_at(40.0, rises_m[i], 3.0, stiffnesses_n[j], tension_n);
                check_elastic_ends(&got);
            }
}

/* Stretch is tension over stiffness along the cable; sums of many short pieces agree. */
static void elastic_length_and_sag__agree_with_a_chain_of_short_pieces(void **state)
{
    (void)state;
    const fe_span_shape got = shape_at(40.0, 6.0, 8.0, 4e4, 300.0);
    enum { PIECES = 200000 };
    const double piece_m = got.unstretched_m / PIECES;
    double x_m = 0.0;
    double y_m = 0.0;
    double length_m = 0.0;
    double sag_m = 0.0;
    for (int i = 0; i < PIECES; i++) {
        const double pull_n = -got.reaction_first_n + got.span.load_n_m * piece_m * (i + 0.5);
        const double tension_n = hypot(300.0, pull_n);
        const double stretched_m = piece_m * (1.0 + tension_n / 4e4);
        x_m += stretched_m * 300.0 / tension_n;
        y_m += stretched_m * pull_n / tension_n;
        length_m += stretched_m;
        sag_m = fmax(sag_m, 6.0 / 40.0 * x_m - y_m);
        if (i == PIECES / 3) {
            double height_m = NAN;
            assert_int_equal(fe_span_height(&got, x_m, &height_m), FE_OK);
            assert_close(height_m, y_m, 1e-7);
        }
    }
    assert_close(x_m, 40.0, 1e-7);
    assert_close(y_m, 6.0, 1e-7);
    assert_close(got.length_m, length_m, 1e-7);
    assert_close(got.sag_m, sag_m, 1e-7);
}

struct ld_pair {
    long double span_m;
    long double rise_m;
};

/* The end equations of the elastic catenary in their usual form. */
static struct ld_pair ends_of(long double h, long double w, long double ea, long double l0,
                              long double v)
{
    const long double low = v - w * l0;
    const struct ld_pair ends = {
        h * l0 / ea + h / w * (asinhl(v / h) - asinhl(low / h)),
        (v * v - low * low) / (2 * w * ea) + (hypotl(h, v) - hypotl(h, low)) / w,
    };
    return ends;
}

/* Unstretched length less the straight line: Newton's method in long double from near by. */
static long double excess_in_long_double(const fe_span_shape *near)
{
    const long double h = near->tension_horizontal_n;
    const long double w = near->span.load_n_m;
    const long double ea = near->span.stiffness_n;
    long double l0 = near->unstretched_m;
    long double v = near->reaction_second_n;
    for (int step = 0; step < 6; step++) {
        const long double dl = 1e-7L * l0;
        const long double dv = 1e-7L * h;
        const struct ld_pair at = ends_of(h, w, ea, l0, v);
        const struct ld_pair longer = ends_of(h, w, ea, l0 + dl, v);
        const struct ld_pair higher = ends_of(h, w, ea, l0, v + dv);
        const long double a_l = (longer.span_m - at.span_m) / dl;
        const long double a_v = (higher.span_m - at.span_m) / dv;
        const long double h_l = (longer.rise_m - at.rise_m) / dl;
        const long double h_v = (higher.rise_m - at.rise_m) / dv;
        const long double miss_a = at.span_m - near->span.span_m;
        const long double miss_h = at.rise_m - near->span.rise_m;
        const long double determinant = a_l * h_v - a_v * h_l;
        l0 -= (miss_a * h_v - miss_h * a_v) / determinant;
        v -= (miss_h * a_l - miss_a * h_l) / determinant;
    }
    return l0 - hypotl(near->span.span_m, near->span.rise_m);
}

static void unstretched_excess__agrees_with_long_double_when_nearly_taut(void **state)
{
    (void)state;
    const double rises_m[] = {0.0, 3.1, -12.0};
    for (size_t i = 0; i < 3; i++)
        for (double tension_n = 100.0; tension_n < 3e4; tension_n *= 1.9) {
            const fe_span_shape got = shape_at(40.0, rises_m[i], 2.0, 3.4e6, tension_n);
            const long double want = excess_in_long_double(&got);
            /* Where curve and stretch nearly balance, the larger of the two is the scale. */
            const double scale =
                fmax(fabs((double)want), got.length_excess_m - got.unstretched_excess_m);
            assert_close(got.unstretched_excess_m, (double)want, 1e-10 * scale);
        }
}

static void stiffness_without_limit__is_the_cable_that_does_not_stretch(void **state)
{
    (void)state;
    const fe_span_shape rigid = shape_at(28.0, 3.1, 2.4, INFINITY, 180.0);
    const fe_span_shape stiff = shape_at(28.0, 3.1, 2.4, 1e15, 180.0);
    assert_close_relative(stiff.sag_m, rigid.sag_m, 1e-11);
    assert_close_relative(stiff.unstretched_m, rigid.length_m, 1e-11);
}

static void mirrored_span__is_the_mirror_image(void **state)
{
    (void)state;
    const fe_span_shape up = shape_at(28.0, 3.1, 2.4, 2e5, 180.0);
    const fe_span_shape down = shape_at(28.0, -3.1, 2.4, 2e5, 180.0);
    assert_close_relative(down.sag_m, up.sag_m, 1e-13);
    assert_close_relative(down.sag_at_m, 28.0 - up.sag_at_m, 1e-12);
    assert_close_relative(down.low_point_m, 28.0 - up.low_point_m, 1e-12);
    assert_close_relative(down.low_point_height_m, up.low_point_height_m - 3.1, 1e-12);
    assert_close_relative(down.tension_first_n, up.tension_second_n, 1e-13);
    assert_close_relative(down.reaction_first_n, up.reaction_second_n, 1e-13);
    assert_close_relative(down.tension_higher_end_n, up.tension_higher_end_n, 1e-13);
    assert_close_relative(down.unstretched_excess_m, up.unstretched_excess_m, 1e-13);
}

static void steep_taut_span__has_its_low_point_outside_and_pulls_a_support_up(void **state)
{
    (void)state;
    const fe_span_shape shape = shape_at(10.0, 6.0, 2.0, INFINITY, 500.0);
    assert_false(shape.low_point_inside);
    assert_true(shape.low_point_m < 0.0);
    assert_true(shape.reaction_first_n < 0.0);
    /* The lower end is the first, and pulls less by the load on the rise. */
    assert_close(shape.tension_lower_end_n, shape.tension_first_n, 0.0);
    assert_close(shape.tension_higher_end_n - shape.tension_lower_end_n, 2.0 * 6.0, 1e-9);
    assert_true(shape.sag_m > 0.0 && shape.sag_at_m > 0.0 && shape.sag_at_m < 10.0);
}

static void reactions__carry_the_whole_load(void **state)
{
    (void)state;
    const fe_span_shape shape = shape_at(33.0, -7.0, 4.0, 1e5, 90.0);
    assert_close_relative(shape.reaction_first_n + shape.reaction_second_n,
                          4.0 * shape.unstretched_m, 1e-12);
    assert_close_relative(hypot(90.0, shape.reaction_first_n), shape.tension_first_n, 1e-12);
    assert_close_relative(hypot(90.0, shape.reaction_second_n), shape.tension_second_n, 1e-12);
}

/* 60 m of cable hung down a drop of 30 m, a metre across: nearly vertical and very slack. */
static void slack_and_nearly_vertical_cable__has_a_shape(void **state)
{
    (void)state;
    const fe_span span = {1.0, -30.0, 3.0, INFINITY};
    fe_span_shape shape;
    assert_int_equal(fe_span_at_length(&span, 60.0, &shape), FE_OK);
    assert_close(shape.length_m, 60.0, 1e-9);
    /* Two plumb lines: 15 m hangs under the lower end, less the metre that goes across. */
    assert_close(shape.low_point_height_m, -45.0, 1.0);
    assert_true(shape.low_point_inside);
    assert_close(shape.tension_first_n, 3.0 * 45.0, 3.0);
    double height_m = NAN;
    assert_int_equal(fe_span_height(&shape, shape.low_point_m, &height_m), FE_OK);
    assert_close(height_m, shape.low_point_height_m, 1e-9);
}

static void drop__is_nothing_at_the_ends_and_the_sag_at_its_place(void **state)
{
    (void)state;
    const double stiffnesses_n[] = {INFINITY, 2e4, 500.0};
    for (size_t i = 0; i < 3; i++) {
        const fe_span_shape shape = shape_at(28.0, 3.1, 2.4, stiffnesses_n[i], 180.0);
        double drop_m = NAN;
        assert_int_equal(fe_span_drop(&shape, 0.0, &drop_m), FE_OK);
        assert_close(drop_m, 0.0, 1e-12);
        assert_int_equal(fe_span_drop(&shape, 28.0, &drop_m), FE_OK);
        assert_close(drop_m, 0.0, 1e-12);
        assert_int_equal(fe_span_drop(&shape, shape.sag_at_m, &drop_m), FE_OK);
        assert_close(drop_m, shape.sag_m, 1e-12);
        for (double x_m = 1.0; x_m < 28.0; x_m += 1.0) {
            assert_int_equal(fe_span_drop(&shape, x_m, &drop_m), FE_OK);
            assert_true(drop_m > 0.0 && drop_m <= shape.sag_m + 1e-15);
        }
        assert_int_equal(fe_span_drop(&shape, 28.1, &drop_m), FE_E_DOMAIN);
        assert_int_equal(fe_span_drop(&shape, NAN, &drop_m), FE_E_DOMAIN);
    }
}

static void tension_to_sag_and_length_and_back__returns(void **state)
{
    (void)state;
    const double rises_m[] = {0.0, 3.1, -25.0};
    const double stiffnesses_n[] = {INFINITY, 3.4e6, 4e4};
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j < 3; j++)
            for (double tension_n = 8.0; tension_n < 4000.0; tension_n *= 2.3) {
                const fe_span_shape shape =
                    shape_at(28.0, rises_m[i], 2.4, stiffnesses_n[j], tension_n);
                fe_span_shape back;
                assert_true(fe_span_at_sag(&shape.span, shape.sag_m, &back) >= 0);
                assert_close_relative(back.tension_horizontal_n, tension_n, 1e-11);
                assert_true(fe_span_at_excess(&shape.span, shape.unstretched_excess_m, &back) >=
                            0);
                assert_close_relative(back.tension_horizontal_n, tension_n, 1e-10);
            }
}

/* Down to a fiftieth of the load a tension makes a span; 67.2 N over 48 is just above it. */
static void slackest_span__is_found_again_by_its_sag(void **state)
{
    (void)state;
    const fe_span_shape shape = shape_at(28.0, 0.0, 2.4, INFINITY, 1.4);
    fe_span_shape back;
    assert_true(fe_span_at_sag(&shape.span, shape.sag_m, &back) >= 0);
    assert_close_relative(back.tension_horizontal_n, 1.4, 1e-9);
    assert_int_equal(fe_span_at_tension(&shape.span, 1.34, &back), FE_E_DOMAIN);
}

static void length_and_sag__give_back_the_span(void **state)
{
    (void)state;
    const fe_span_shape shape = shape_at(28.0, 0.0, 2.4, INFINITY, 30.0);
    double span_m = NAN;
    double constant_m = NAN;
    assert_int_equal(
        fe_span_from_length_and_sag(shape.length_m, shape.sag_m, &span_m, &constant_m), FE_OK);
    assert_close_relative(span_m, 28.0, 1e-12);
    assert_close_relative(constant_m * 2.4, 30.0, 1e-12);
    assert_int_equal(fe_span_from_length_and_sag(10.0, 5.0, &span_m, &constant_m),
                     FE_E_NO_SOLUTION);
    assert_int_equal(fe_span_from_length_and_sag(10.0, NAN, &span_m, &constant_m), FE_E_DOMAIN);
}

static void taut_catenary__tends_to_the_parabola(void **state)
{
    (void)state;
    for (double tension_n = 2e3; tension_n < 1e6; tension_n *= 10.0) {
        double sag_m = NAN;
        assert_int_equal(fe_parabola_sag(40.0, 2.0, tension_n, &sag_m), FE_OK);
        /* The next term of the series is (a / 2c)^2 / 12. */
        const double half = 40.0 * 2.0 / (2.0 * tension_n);
        const fe_span_shape shape = shape_at(40.0, 0.0, 2.0, INFINITY, tension_n);
        assert_close(shape.sag_m / sag_m - 1.0, half * half / 12.0, 1e-3 * half * half);
    }
}

/* A plumb bob of cable in wind hangs along the resultant; the straight line keeps its length.
 */
static void wind__turns_the_plane_and_keeps_the_straight_line(void **state)
{
    (void)state;
    const fe_span bare = {30.0, 8.0, 1.0, 5e5};
    fe_span plane;
    double psi_rad = NAN;
    assert_int_equal(fe_span_resultant(&bare, 3.0, 4.0, &plane, &psi_rad), FE_OK);
    assert_close(plane.load_n_m, 5.0, 1e-12);
    assert_close(tan(psi_rad), 4.0 / 3.0, 1e-12);
    assert_close(plane.rise_m, 8.0 * 0.6, 1e-12);
    assert_close(plane.span_m, sqrt(900.0 + 64.0 * 0.64), 1e-12);
    assert_close_relative(fe_span_chord(&plane), fe_span_chord(&bare), 1e-14);
    assert_int_equal(fe_span_resultant(&bare, 3.0, 0.0, &plane, &psi_rad), FE_OK);
    assert_close(plane.span_m, 30.0, 1e-14);
    assert_close(psi_rad, 0.0, 0.0);
    assert_int_equal(fe_span_resultant(&bare, NAN, 0.0, &plane, &psi_rad), FE_E_DOMAIN);
    assert_int_equal(fe_span_resultant(&bare, 1.0, -1.0, &plane, &psi_rad), FE_E_DOMAIN);
}

/* Worked out from 4 n sqrt(2 f / g) with g = 9.80665. */
static void wave_time__depends_on_the_sag_alone(void **state)
{
    (void)state;
    double time_s = NAN;
    double sag_m = NAN;
    assert_int_equal(fe_span_wave_time(0.5, 3, &time_s), FE_OK);
    assert_close(time_s, 3.832, 5e-4);
    assert_int_equal(fe_span_wave_time(0.5, 5, &time_s), FE_OK);
    assert_close(time_s, 6.387, 5e-4);
    assert_int_equal(fe_span_sag_from_wave_time(time_s, 5, &sag_m), FE_OK);
    assert_close(sag_m, 0.5, 1e-12);
    assert_int_equal(fe_span_wave_time(0.0, 3, &time_s), FE_E_DOMAIN);
    assert_int_equal(fe_span_wave_time(0.5, 0, &time_s), FE_E_DOMAIN);
    assert_int_equal(fe_span_sag_from_wave_time(NAN, 3, &sag_m), FE_E_DOMAIN);
}

static void span__refuses_what_is_none(void **state)
{
    (void)state;
    const fe_span good = {40.0, 0.0, 2.0, INFINITY};
    const fe_span bad[] = {
        {0.0, 0.0, 2.0, INFINITY},       {NAN, 0.0, 2.0, INFINITY},  {40.0, NAN, 2.0, INFINITY},
        {40.0, INFINITY, 2.0, INFINITY}, {40.0, 0.0, 0.0, INFINITY}, {40.0, 0.0, NAN, INFINITY},
        {40.0, 0.0, 2.0, 0.0},           {40.0, 0.0, 2.0, NAN},      {-40.0, 0.0, 2.0, 1e6},
    };
    fe_span_shape shape;
    memset(&shape, 7, sizeof shape);
    const fe_span_shape before = shape;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(fe_span_at_tension(&bad[i], 100.0, &shape), FE_E_DOMAIN);
        assert_int_equal(fe_span_at_sag(&bad[i], 1.0, &shape), FE_E_DOMAIN);
        assert_int_equal(fe_span_at_excess(&bad[i], 1.0, &shape), FE_E_DOMAIN);
    }
    assert_int_equal(fe_span_at_tension(&good, NAN, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_tension(&good, 0.0, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_tension(&good, 0.01, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_sag(&good, -1.0, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_sag(&good, NAN, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_length(&good, 39.0, &shape), FE_E_NO_SOLUTION);
    assert_int_equal(fe_span_at_length(&good, 40.0, &shape), FE_E_NO_SOLUTION);
    assert_int_equal(fe_span_at_length(&good, NAN, &shape), FE_E_DOMAIN);
    const fe_span elastic = {40.0, 0.0, 2.0, 1e5};
    assert_int_equal(fe_span_at_length(&elastic, 10.0, &shape), FE_E_NO_SOLUTION);
    assert_memory_equal(&shape, &before, sizeof shape);
}

static void stretch_over_a_percent__is_flagged(void **state)
{
    (void)state;
    const fe_span span = {40.0, 0.0, 2.0, 1e4};
    fe_span_shape shape;
    assert_int_equal(fe_span_at_tension(&span, 50.0, &shape), FE_OK);
    assert_int_equal(fe_span_at_tension(&span, 150.0, &shape), FE_W_RANGE);
    assert_true(shape.sag_m > 0.0);
    assert_int_equal(fe_span_at_tension(&span, 6000.0, &shape), FE_E_DOMAIN);
}

static void parabola__refuses_what_is_no_span(void **state)
{
    (void)state;
    double value = 7.0;
    fe_parabola_inclined inclined;
    fe_parabola_from_drops drops;
    assert_int_equal(fe_parabola_sag(NAN, 1.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_sag(40.0, 0.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_tension(40.0, 1.0, -1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_span(1.0, INFINITY, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_length(40.0, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_end_tension(40.0, 1.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_inclined_span(40.0, -1.0, 1.0, 9.0, &inclined), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_tensions_from_drops(40.0, 1.0, 2.0, 1.0, &drops), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_slope_clearance(40.0, NAN, 1.0, 9.0, 5.0, &value, &value),
                     FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
    assert_int_equal(fe_parabola_sag(40.0, 1.0, 40.0, &value), FE_W_RANGE);
    assert_close(value, 5.0, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(level_span__has_the_known_sag_length_and_end_tension),
        cmocka_unit_test(catenary__agrees_with_long_double_even_when_nearly_taut),
        cmocka_unit_test(adversarial_spans__agree_with_80_digits),
        cmocka_unit_test(elastic_catenary__satisfies_its_end_equations),
        cmocka_unit_test(elastic_length_and_sag__agree_with_a_chain_of_short_pieces),
        cmocka_unit_test(unstretched_excess__agrees_with_long_double_when_nearly_taut),
        cmocka_unit_test(stiffness_without_limit__is_the_cable_that_does_not_stretch),
        cmocka_unit_test(mirrored_span__is_the_mirror_image),
        cmocka_unit_test(steep_taut_span__has_its_low_point_outside_and_pulls_a_support_up),
        cmocka_unit_test(reactions__carry_the_whole_load),
        cmocka_unit_test(slack_and_nearly_vertical_cable__has_a_shape),
        cmocka_unit_test(drop__is_nothing_at_the_ends_and_the_sag_at_its_place),
        cmocka_unit_test(tension_to_sag_and_length_and_back__returns),
        cmocka_unit_test(slackest_span__is_found_again_by_its_sag),
        cmocka_unit_test(length_and_sag__give_back_the_span),
        cmocka_unit_test(taut_catenary__tends_to_the_parabola),
        cmocka_unit_test(wind__turns_the_plane_and_keeps_the_straight_line),
        cmocka_unit_test(wave_time__depends_on_the_sag_alone),
        cmocka_unit_test(span__refuses_what_is_none),
        cmocka_unit_test(stretch_over_a_percent__is_flagged),
        cmocka_unit_test(parabola__refuses_what_is_no_span),
    };
    return FE_RUN_TESTS(tests);
}
