/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/tension.h"

#include <math.h>

#include "testing.h"

/* 20 mm2 of steel strand: 170 GPa, 11.5e-6 a kelvin. */
static const fe_tension_cable STRAND = {.stiffness_n = 20e-6 * 170e9,
                                        .expansion_per_k = 11.5e-6};
static const fe_tension_state STRUNG = {.temp_c = 15.0, .vertical_n_m = 2.0};
static const fe_tension_state ICED = {.temp_c = -20.0, .vertical_n_m = 12.0};

static double change(double span_m, double rise_m, const fe_tension_state *from,
                     double tension_n, const fe_tension_state *to)
{
    double result_n = NAN;
    const fe_status status =
        fe_tension_change(span_m, rise_m, &STRAND, from, tension_n, to, &result_n, NULL);
    assert_true(status >= 0);
    return result_n;
}

/* Worked out with 30 digits from the end equations of the elastic catenary. */
static void iced_strand__has_the_known_tension(void **state)
{
    (void)state;
    assert_close(change(40.0, 0.0, &STRUNG, 800.0, &ICED), 3465.754620, 1e-6);
    assert_close(change(40.0, 8.0, &STRUNG, 800.0, &ICED), 3425.461313, 1e-6);
    assert_close(change(40.0, -8.0, &STRUNG, 800.0, &ICED), 3425.461313, 1e-6);
    double parabola_n = NAN;
    assert_int_equal(
        fe_tension_change_parabola(40.0, 0.0, &STRAND, &STRUNG, 800.0, &ICED, &parabola_n),
        FE_OK);
    assert_close(parabola_n, 3467.112, 5e-4);
    /* With a rise the turned parabola follows the catenary as well as it does without. */
    assert_int_equal(
        fe_tension_change_parabola(40.0, 8.0, &STRAND, &STRUNG, 800.0, &ICED, &parabola_n),
        FE_OK);
    assert_close_relative(parabola_n, 3425.461, 1e-3);
}

static void nothing_changed__leaves_the_tension(void **state)
{
    (void)state;
    for (double tension_n = 20.0; tension_n < 2e4; tension_n *= 3.0)
        assert_close_relative(change(40.0, 3.0, &STRUNG, tension_n, &STRUNG), tension_n, 1e-10);
}

static void there_and_back__returns_to_the_stringing_tension(void **state)
{
    (void)state;
    const fe_tension_state gale = {.temp_c = 5.0, .vertical_n_m = 2.0, .wind_n_m = 9.0};
    const double blown_n = change(40.0, 5.0, &STRUNG, 800.0, &gale);
    /* Loads and expansion count by the metre of cable at the first state's temperature. */
    const double shrunk = 1.0 - 11.5e-6 * (15.0 - 5.0);
    const fe_tension_state gale_there = {
        .temp_c = 5.0, .vertical_n_m = 2.0 / shrunk, .wind_n_m = 9.0 / shrunk};
    const fe_tension_state strung_there = {.temp_c = 15.0, .vertical_n_m = 2.0 / shrunk};
    const fe_tension_cable there = {STRAND.stiffness_n, STRAND.expansion_per_k / shrunk};
    double back_n = NAN;
    assert_int_equal(fe_tension_change(40.0, 5.0, &there, &gale_there, blown_n, &strung_there,
                                       &back_n, NULL),
                     FE_OK);
    assert_close_relative(back_n, 800.0, 1e-10);
}

static void tension__falls_with_temperature_and_grows_with_load(void **state)
{
    (void)state;
    double before_n = INFINITY;
    for (double temp_c = -50.0; temp_c <= 90.0; temp_c += 5.0) {
        const fe_tension_state to = {.temp_c = temp_c, .vertical_n_m = 2.0};
        const double tension_n = change(40.0, 4.0, &STRUNG, 800.0, &to);
        assert_true(tension_n < before_n);
        before_n = tension_n;
    }
    before_n = 0.0;
    for (double load_n_m = 2.0; load_n_m < 40.0; load_n_m *= 1.3) {
        const fe_tension_state to = {.temp_c = 15.0, .vertical_n_m = load_n_m};
        const double tension_n = change(40.0, 4.0, &STRUNG, 800.0, &to);
        assert_true(tension_n > before_n);
        before_n = tension_n;
    }
}

static void wind__counts_by_the_resultant_on_a_level_span(void **state)
{
    (void)state;
    const fe_tension_state blown = {.temp_c = -5.0, .vertical_n_m = 3.0, .wind_n_m = 4.0};
    const fe_tension_state heavy = {.temp_c = -5.0, .vertical_n_m = 5.0};
    assert_close_relative(change(40.0, 0.0, &STRUNG, 800.0, &blown),
                          change(40.0, 0.0, &STRUNG, 800.0, &heavy), 1e-12);
}

static void mirrored_span__has_the_same_tension_also_in_wind(void **state)
{
    (void)state;
    const fe_tension_state blown = {.temp_c = -5.0, .vertical_n_m = 3.0, .wind_n_m = 4.0};
    assert_close_relative(change(40.0, 9.0, &STRUNG, 800.0, &blown),
                          change(40.0, -9.0, &STRUNG, 800.0, &blown), 1e-12);
}

static void equal_free_running_spans__behave_as_one_dead_ended(void **state)
{
    (void)state;
    const double spans_m[] = {40.0, 40.0, 40.0, 40.0};
    const double rises_m[] = {8.0, -8.0, 8.0, 8.0};
    double free_n = NAN;
    assert_int_equal(
        fe_tension_change_free(spans_m, rises_m, 4, &STRAND, &STRUNG, 800.0, &ICED, &free_n),
        FE_OK);
    assert_close_relative(free_n, change(40.0, 8.0, &STRUNG, 800.0, &ICED), 1e-12);
    /* Each takes up a quarter of what the ends of the section give. */
    fe_tension_state from = STRUNG, to = ICED;
    from.compliance_m_n = to.compliance_m_n = 4e-5;
    assert_int_equal(
        fe_tension_change_free(spans_m, rises_m, 4, &STRAND, &from, 800.0, &to, &free_n),
        FE_OK);
    from.compliance_m_n = to.compliance_m_n = 1e-5;
    assert_close_relative(free_n, change(40.0, 8.0, &from, 800.0, &to), 1e-10);
}

static void free_running_spans__behave_as_their_ruling_span(void **state)
{
    (void)state;
    const double spans_m[] = {24.0, 31.0, 18.5};
    double ruling_m = NAN;
    double free_n = NAN;
    assert_int_equal(fe_tension_ruling_span(spans_m, 3, &ruling_m), FE_OK);
    assert_close(ruling_m, sqrt((24.0 * 24 * 24 + 31.0 * 31 * 31 + 18.5 * 18.5 * 18.5) / 73.5),
                 1e-12);
    assert_int_equal(
        fe_tension_change_free(spans_m, NULL, 3, &STRAND, &STRUNG, 800.0, &ICED, &free_n),
        FE_OK);
    assert_close_relative(free_n, change(ruling_m, 0.0, &STRUNG, 800.0, &ICED), 2e-4);
}

static void yielding_supports__tend_to_rigid_ones(void **state)
{
    (void)state;
    const double rigid_n = change(30.0, 2.0, &STRUNG, 400.0, &ICED);
    double before_n = 0.0;
    for (double compliance = 1e-3; compliance > 1e-12; compliance *= 0.1) {
        fe_tension_state from = STRUNG;
        fe_tension_state to = ICED;
        from.compliance_m_n = to.compliance_m_n = compliance;
        const double tension_n = change(30.0, 2.0, &from, 400.0, &to);
        assert_true(tension_n > before_n && tension_n < rigid_n);
        before_n = tension_n;
    }
    assert_close_relative(before_n, rigid_n, 1e-5);
}

/* Creep lets the posts lean: the sag of a span strung at 375 N grows. */
static void creep_of_the_posts__slackens_the_span(void **state)
{
    (void)state;
    double at_once = NAN;
    double later = NAN;
    /* 100 mm of wood, 11 GPa; attachment 1.5 m up; ground that holds. */
    const double stiffness = 11e9 * acos(-1.0) / 64.0 * 1e-4;
    assert_int_equal(fe_tension_post_compliance(1.5, stiffness, INFINITY, 0.0, &at_once),
                     FE_OK);
    assert_int_equal(fe_tension_post_compliance(1.5, stiffness, INFINITY, 2.0, &later), FE_OK);
    assert_close_relative(later, 3.0 * at_once, 1e-12);
    const fe_tension_state from = {
        .temp_c = 15.0, .vertical_n_m = 1.0, .compliance_m_n = 2.0 * at_once};
    const fe_tension_state to = {
        .temp_c = 15.0, .vertical_n_m = 1.0, .compliance_m_n = 2.0 * later};
    double tension_n = NAN;
    fe_span_shape shape;
    assert_int_equal(
        fe_tension_change(30.0, 0.0, &STRAND, &from, 375.0, &to, &tension_n, &shape), FE_OK);
    assert_close_relative(shape.tension_horizontal_n, tension_n, 1e-12);
    assert_true(shape.sag_m > 0.4 && shape.sag_m < 0.6);
    /* The piece of cable is the one that was strung. */
    const fe_span strung = {30.0 - 2.0 * at_once * 375.0, 0.0, 1.0, STRAND.stiffness_n};
    fe_span_shape before;
    assert_int_equal(fe_span_at_tension(&strung, 375.0, &before), FE_OK);
    assert_close_relative(shape.unstretched_m, before.unstretched_m, 1e-13);
}

static void change__refuses_what_is_no_state(void **state)
{
    (void)state;
    double result_n = 7.0;
    const fe_tension_state bad[] = {
        {.temp_c = NAN, .vertical_n_m = 2.0},
        {.temp_c = 15.0, .vertical_n_m = 0.0},
        {.temp_c = 15.0, .vertical_n_m = NAN},
        {.temp_c = 15.0, .vertical_n_m = 2.0, .wind_n_m = -1.0},
        {.temp_c = 15.0, .vertical_n_m = 2.0, .compliance_m_n = NAN},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(
            fe_tension_change(40.0, 0.0, &STRAND, &bad[i], 800.0, &ICED, &result_n, NULL),
            FE_E_DOMAIN);
        assert_int_equal(
            fe_tension_change_parabola(40.0, 0.0, &STRAND, &STRUNG, 800.0, &bad[i], &result_n),
            FE_E_DOMAIN);
    }
    /* The parabola knows no supports that give, and no cable that does not stretch. */
    fe_tension_cable rigid = STRAND;
    fe_tension_state giving = ICED;
    rigid.stiffness_n = INFINITY;
    giving.compliance_m_n = 1e-4;
    assert_int_equal(
        fe_tension_change_parabola(40.0, 0.0, &rigid, &STRUNG, 800.0, &ICED, &result_n),
        FE_E_DOMAIN);
    assert_int_equal(
        fe_tension_change_parabola(40.0, 0.0, &STRAND, &giving, 800.0, &ICED, &result_n),
        FE_E_DOMAIN);
    assert_int_equal(
        fe_tension_change_parabola(40.0, 0.0, &STRAND, &STRUNG, 800.0, &giving, &result_n),
        FE_E_DOMAIN);
    assert_int_equal(
        fe_tension_change(40.0, 0.0, &STRAND, &STRUNG, NAN, &ICED, &result_n, NULL),
        FE_E_DOMAIN);
    assert_int_equal(
        fe_tension_change(0.0, 0.0, &STRAND, &STRUNG, 800.0, &ICED, &result_n, NULL),
        FE_E_DOMAIN);
    assert_int_equal(
        fe_tension_change_free(NULL, NULL, 0, &STRAND, &STRUNG, 800.0, &ICED, &result_n),
        FE_E_DOMAIN);
    assert_int_equal(fe_tension_ruling_span(NULL, 0, &result_n), FE_E_DOMAIN);
    const double spans_m[] = {30.0, NAN};
    assert_int_equal(fe_tension_ruling_span(spans_m, 2, &result_n), FE_E_DOMAIN);
    assert_int_equal(fe_tension_post_compliance(0.0, 1.0, 1.0, 0.0, &result_n), FE_E_DOMAIN);
    assert_close(result_n, 7.0, 0.0);
}

/* A cable that cannot stretch and shrinks below the straight line breaks: no tension will do.
 */
static void inextensible_cable_shrunk_too_short__has_no_solution(void **state)
{
    (void)state;
    const fe_tension_cable rigid = {.stiffness_n = INFINITY, .expansion_per_k = 1e-4};
    const fe_tension_state cold = {.temp_c = -200.0, .vertical_n_m = 2.0};
    double result_n = 7.0;
    assert_int_equal(
        fe_tension_change(40.0, 0.0, &rigid, &STRUNG, 800.0, &cold, &result_n, NULL),
        FE_E_NO_SOLUTION);
    assert_close(result_n, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(iced_strand__has_the_known_tension),
        cmocka_unit_test(nothing_changed__leaves_the_tension),
        cmocka_unit_test(there_and_back__returns_to_the_stringing_tension),
        cmocka_unit_test(tension__falls_with_temperature_and_grows_with_load),
        cmocka_unit_test(wind__counts_by_the_resultant_on_a_level_span),
        cmocka_unit_test(mirrored_span__has_the_same_tension_also_in_wind),
        cmocka_unit_test(equal_free_running_spans__behave_as_one_dead_ended),
        cmocka_unit_test(free_running_spans__behave_as_their_ruling_span),
        cmocka_unit_test(yielding_supports__tend_to_rigid_ones),
        cmocka_unit_test(creep_of_the_posts__slackens_the_span),
        cmocka_unit_test(change__refuses_what_is_no_state),
        cmocka_unit_test(inextensible_cable_shrunk_too_short__has_no_solution),
    };
    return FE_RUN_TESTS(tests);
}
