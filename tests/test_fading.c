/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/fading.h"
#include "testing.h"

static double margin_of(fe_fading fading, double availability)
{
    double margin_db;
    assert_int_equal(fe_fading_margin(&fading, availability, &margin_db), FE_OK);
    return margin_db;
}

static void margin_and_availability__undo_each_other(void **state)
{
    (void)state;
    const fe_fading laws[] = {
        {.law = FE_FADING_RAYLEIGH, .reference = FE_FADING_MEDIAN},
        {.law = FE_FADING_RICIAN, .k_db = 3.0},
        {.law = FE_FADING_RICIAN, .k_db = 10.0, .reference = FE_FADING_MEDIAN},
        {.law = FE_FADING_RICIAN, .k_db = 25.0},
        {.law = FE_FADING_LOGNORMAL, .sigma_db = 6.0, .reference = FE_FADING_MEDIAN},
        {.law = FE_FADING_LOGNORMAL, .sigma_db = 6.0, .reference = FE_FADING_MEAN},
    };
    const double availability[] = {0.01, 0.5, 0.9, 0.99, 0.9999, 0.999999};
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) {
            double back;
            const double margin_db = margin_of(laws[i], availability[j]);
            assert_int_equal(fe_fading_availability(&laws[i], margin_db, &back), FE_OK);
            assert_close(back, availability[j], 1e-9);
        }
}

static void median_reference__needs_no_margin_for_half_the_time(void **state)
{
    (void)state;
    const fe_fading rician = {
        .law = FE_FADING_RICIAN, .k_db = 6.0, .reference = FE_FADING_MEDIAN};
    const fe_fading rayleigh = {.law = FE_FADING_RAYLEIGH, .reference = FE_FADING_MEDIAN};
    const fe_fading slow = {
        .law = FE_FADING_LOGNORMAL, .sigma_db = 4.0, .reference = FE_FADING_MEDIAN};
    assert_close(margin_of(rician, 0.5), 0.0, 1e-8);
    assert_close(margin_of(rayleigh, 0.5), 0.0, 1e-12);
    assert_close(margin_of(slow, 0.5), 0.0, 1e-12);
}

static void weak_direct_ray__is_rayleigh(void **state)
{
    (void)state;
    const fe_fading rician = {.law = FE_FADING_RICIAN, .k_db = -40.0};
    const fe_fading rayleigh = {.law = FE_FADING_RAYLEIGH};
    assert_close(margin_of(rician, 0.99), margin_of(rayleigh, 0.99), 0.001);
    assert_close(margin_of(rician, 0.1), margin_of(rayleigh, 0.1), 0.001);
}

static void strong_direct_ray__hardly_fades(void **state)
{
    (void)state;
    /* At 30 dB the amplitude is normal with deviation 1 / sqrt(2 K). */
    const fe_fading rician = {.law = FE_FADING_RICIAN, .k_db = 30.0};
    const double z = 2.3263478740408408;
    assert_close(margin_of(rician, 0.99), -20.0 * log10(1.0 - z / sqrt(2000.0)), 0.01);
}

static void swaying_trees__fade_16_db_for_one_percent(void **state)
{
    (void)state;
    const fe_fading sway = {.law = FE_FADING_RICIAN, .k_db = 3.0};
    assert_close(margin_of(sway, 0.99), 16.0, 0.5);
}

static void rician_tail__keeps_its_digits(void **state)
{
    (void)state;
    /* Far down the law is (1 + K) exp(-K) times the power. */
    const double k = pow(10.0, 0.6);
    const fe_fading rician = {.law = FE_FADING_RICIAN, .k_db = 6.0};
    assert_close(margin_of(rician, 1.0 - 1e-9), 10.0 * log10((1.0 + k) * exp(-k) / 1e-9),
                 0.001);
}

/*
 * 12 dB over the mean power, build sigma 5 dB, K 10 dB, 99.9 % of time: the build decides
 * whether the fade fits, so the chance is 69 % and not the 99 % of one quadrature sum.
 */
static void build_error__is_not_a_fade(void **state)
{
    (void)state;
    const fe_fading rician = {.law = FE_FADING_RICIAN, .k_db = 10.0};
    const double fade_db = margin_of(rician, 0.999);
    const double chance = 0.5 * erfc(-(12.0 - fade_db) / 5.0 / sqrt(2.0));
    assert_close(chance, 0.69, 0.005);
}

static double quantile_of(const fe_fading *laws, size_t count, const fe_fade_rain *rain,
                          double availability)
{
    double fade_db;
    assert_int_equal(fe_fade_quantile(laws, count, rain, availability, &fade_db), FE_OK);
    return fade_db;
}

static void two_slow_causes__add_their_variances(void **state)
{
    (void)state;
    static const struct {
        double sigma_db[2], both_db;
    } ROWS[] = {{{3.0, 4.0}, 5.0}, {{0.1, 0.1}, 0.1414}};
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        fe_fading laws[2];
        for (size_t k = 0; k < 2; k++)
            laws[k] = (fe_fading){.law = FE_FADING_LOGNORMAL,
                                  .sigma_db = ROWS[i].sigma_db[k],
                                  .reference = FE_FADING_MEDIAN};
        assert_close(quantile_of(laws, 2, NULL, 0.99), ROWS[i].both_db * 2.3263478740408408,
                     0.05);
        assert_close(quantile_of(laws, 2, NULL, 0.5), 0.0, 0.05);
    }
}

static void one_cause__is_its_own_margin(void **state)
{
    (void)state;
    const fe_fading rician = {.law = FE_FADING_RICIAN, .k_db = 6.0};
    const fe_fading still = {.law = FE_FADING_LOGNORMAL, .sigma_db = 0.0};
    assert_close(quantile_of(&rician, 1, NULL, 0.999), margin_of(rician, 0.999), 0.0);
    /* The same over the grid, with a second cause that does nothing. */
    const fe_fading both[] = {rician, still};
    assert_close(quantile_of(both, 2, NULL, 0.999), margin_of(rician, 0.999), 0.05);
    assert_close(quantile_of(NULL, 0, NULL, 0.999), 0.0, 0.051);
}

static void rain_alone__is_its_two_figures(void **state)
{
    (void)state;
    const fe_fade_rain rain = {.loss_one_percent_db = 2.0, .loss_001_db = 9.0};
    assert_close(quantile_of(NULL, 0, &rain, 0.99), 2.0, 0.06);
    assert_close(quantile_of(NULL, 0, &rain, 0.9999), 9.0, 0.06);
    assert_close(quantile_of(NULL, 0, &rain, 0.9), 0.0, 0.06);
    const fe_fade_rain none = {0.0, 0.0};
    assert_close(quantile_of(NULL, 0, &none, 0.9999), 0.0, 0.06);
}

static void rain_and_multipath__need_less_than_both_margins(void **state)
{
    (void)state;
    const fe_fade_rain rain = {.loss_one_percent_db = 2.0, .loss_001_db = 9.0};
    const fe_fading rician = {.law = FE_FADING_RICIAN, .k_db = 10.0};
    const double alone_db = quantile_of(&rician, 1, NULL, 0.9999);
    const double both_db = quantile_of(&rician, 1, &rain, 0.9999);
    assert_true(both_db > alone_db);
    assert_true(both_db < alone_db + 9.0);
}

/* Each fits the 400 dB of the grid, and so must their sum. */
static void widest_law_and_hard_rain__fit_the_grid(void **state)
{
    (void)state;
    const fe_fade_rain rain = {.loss_one_percent_db = 1.0, .loss_001_db = 25.0};
    const fe_fading wide = {
        .law = FE_FADING_LOGNORMAL, .sigma_db = 30.0, .reference = FE_FADING_MEDIAN};
    /* So wide a law sees only the mean of the rain. It costs more than 0 dB for 5 % of the time
     * and than 1 dB for 1 %, then a tenth as often every 12 dB: 0.04 / ln 5 + 0.01 x 12 / ln 10
     * = 0.077 dB. */
    assert_close(quantile_of(&wide, 1, &rain, 0.5), 0.077, 0.06);
    assert_close(quantile_of(&wide, 1, &rain, 0.99), 30.0 * 2.3263478740408408, 0.3);
}

static void fading__refuses_what_is_no_number(void **state)
{
    (void)state;
    const fe_fading good = {.law = FE_FADING_RAYLEIGH};
    const fe_fading bad[] = {
        {.law = FE_FADING_RICIAN, .k_db = NAN},
        {.law = FE_FADING_RICIAN, .k_db = 31.0},
        {.law = FE_FADING_LOGNORMAL, .sigma_db = -1.0},
        {.law = FE_FADING_LOGNORMAL, .sigma_db = NAN},
    };
    double value = 7.0;
    for (int i = 0; i < 4; i++) {
        assert_int_equal(fe_fading_margin(&bad[i], 0.9, &value), FE_E_DOMAIN);
        assert_int_equal(fe_fading_availability(&bad[i], 3.0, &value), FE_E_DOMAIN);
        assert_int_equal(fe_fade_quantile(&bad[i], 1, NULL, 0.9, &value), FE_E_DOMAIN);
    }
    const fe_fade_rain backwards = {5.0, 2.0}, unknown = {NAN, 2.0};
    assert_int_equal(fe_fade_quantile(&good, 1, &backwards, 0.9, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fade_quantile(&good, 1, &unknown, 0.9, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fade_quantile(&good, 1, NULL, 0.4, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fade_quantile(&good, 1, NULL, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_margin(&good, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_margin(&good, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_margin(&good, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_availability(&good, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fading_availability(&good, INFINITY, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(margin_and_availability__undo_each_other),
        cmocka_unit_test(median_reference__needs_no_margin_for_half_the_time),
        cmocka_unit_test(weak_direct_ray__is_rayleigh),
        cmocka_unit_test(strong_direct_ray__hardly_fades),
        cmocka_unit_test(swaying_trees__fade_16_db_for_one_percent),
        cmocka_unit_test(rician_tail__keeps_its_digits),
        cmocka_unit_test(build_error__is_not_a_fade),
        cmocka_unit_test(two_slow_causes__add_their_variances),
        cmocka_unit_test(one_cause__is_its_own_margin),
        cmocka_unit_test(rain_alone__is_its_two_figures),
        cmocka_unit_test(rain_and_multipath__need_less_than_both_margins),
        cmocka_unit_test(widest_law_and_hard_rain__fit_the_grid),
        cmocka_unit_test(fading__refuses_what_is_no_number),
    };
    return FE_RUN_TESTS(tests);
}
