/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/power_rules.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/hop.h"
#include "testing.h"

static fe_power_query query_at(const char *area, double f_mhz, double width_mhz,
                               double gain_dbi)
{
    return (fe_power_query){.area = area,
                            .f_hz = 1e6 * f_mhz,
                            .width_hz = 1e6 * width_mhz,
                            .antenna_gain_dbi = gain_dbi,
                            .outdoor = true,
                            .point_to_point = true};
}

static fe_power_limit limit_at(fe_power_query query)
{
    fe_power_limit limit = {0};
    assert_true(fe_power_limit_at(&query, &limit) >= 0);
    return limit;
}

static void every_rule__has_a_known_area_a_band_and_a_date(void **state)
{
    (void)state;
    size_t count = 0;
    const fe_power_rule *rules = fe_power_rule_table(&count);
    for (size_t i = 0; i < count; i++) {
        assert_true(fe_power_area_known(rules[i].area));
        assert_true(rules[i].f_low_mhz < rules[i].f_high_mhz);
        assert_true(*rules[i].source && *rules[i].text_date);
        assert_true(isfinite(rules[i].conducted_limit_dbm) ||
                    isfinite(rules[i].eirp_limit_dbm));
        /* What is never read must be said to be recalled. */
        assert_int_equal(rules[i].read, strcmp(rules[i].text_date, "from memory") != 0);
    }
}

/* Watts and percent in words come out in the figures, rounded to a tenth of a decibel. Effective
 * radiated power is that of a dipole, of 2.15 dBi. */
static void figures__are_those_of_their_words(void **state)
{
    (void)state;
    size_t count = 0, powers = 0, cycles = 0;
    const fe_power_rule *rules = fe_power_rule_table(&count);
    for (size_t i = 0; i < count; i++) {
        const fe_power_rule *rule = &rules[i];
        double power = 0.0, access_point = 100.0, other = 100.0;
        char unit[3] = "";
        if (sscanf(rule->condition, "%lf %2[mW]", &power, unit) == 2) {
            const double mw = strcmp(unit, "mW") == 0 ? power : 1e3 * power;
            const double dipole_db = strstr(rule->condition, "ERP") ? 2.15 : 0.0;
            assert_close(rule->eirp_limit_dbm, 10.0 * log10(mw) + dipole_db, 0.05);
            powers++;
        }
        const char *cycle = strstr(rule->condition, "duty cycle");
        if (cycle) {
            assert_int_equal(sscanf(cycle,
                                    "duty cycle at most %lf percent for network access points "
                                    "and %lf percent otherwise",
                                    &access_point, &other),
                             2);
            cycles++;
        }
        assert_close(rule->duty_cycle, 0.01 * other, 1e-12);
        assert_close(rule->duty_cycle_access_point, 0.01 * access_point, 1e-12);
    }
    assert_true(powers > 5 && cycles == 2);
}

static void conducted_power_and_gain__make_the_eirp(void **state)
{
    (void)state;
    fe_power_query query = query_at("EU", 5500, 20, 16);
    query.feeder_loss_db = 2.5;
    const fe_power_limit limit = limit_at(query);
    assert_close(limit.eirp_dbm, limit.max_conducted_dbm + 16 - 2.5, 1e-12);
    assert_close(limit.eirp_dbm, 27.0, 1e-12);
}

static void gain_under_a_power_cap__does_not_raise_eirp(void **state)
{
    (void)state;
    assert_close(limit_at(query_at("EU", 2437, 20, 14)).eirp_dbm,
                 limit_at(query_at("EU", 2437, 20, 2)).eirp_dbm, 1e-12);
}

static void fixed_link__keeps_two_thirds_of_its_gain_at_2_4_ghz_in_the_us(void **state)
{
    (void)state;
    /* 47 CFR 15.247(c)(1)(i), its own example: 24 dBi, 24 dBm conducted, 48 dBm EIRP. */
    const fe_power_limit limit = limit_at(query_at("US", 2437, 20, 24));
    assert_string_equal(limit.rule->use, "fixed_point_to_point");
    assert_close(limit.max_conducted_dbm, 24.0, 1e-12);
    assert_close(limit.eirp_dbm, 48.0, 1e-12);
}

static void narrow_channel__meets_the_limit_on_density(void **state)
{
    (void)state;
    /* 11 + 10 log10(10) = 21 dBm. */
    assert_close(limit_at(query_at("US", 5300, 10, 6)).max_conducted_dbm, 21.0, 1e-12);
    /* Low power indoors at 6 GHz: 18 dBm at 20 MHz, 30 dBm at 320 MHz. */
    fe_power_query query = query_at("US", 6265, 320, 0);
    query.outdoor = false;
    query.access_point = true;
    assert_close(limit_at(query).eirp_dbm, 30.0, 0.06);
    query.f_hz = 6115e6;
    query.width_hz = 20e6;
    assert_close(limit_at(query).eirp_dbm, 18.0, 0.02);
}

static void low_gain__is_worse_than_the_general_rule_at_60_ghz(void **state)
{
    (void)state;
    assert_string_equal(limit_at(query_at("US", 60480, 2160, 20)).rule->use, "general");
    assert_string_equal(limit_at(query_at("US", 60480, 2160, 38)).rule->use,
                        "fixed_outdoor_point_to_point");
}

static void radar_channels__are_told_with_their_wait(void **state)
{
    (void)state;
    const fe_power_limit plain = limit_at(query_at("EU", 5180, 20, 5));
    assert_false(plain.radar);
    assert_close(plain.radar_wait_s, 0.0, 0.0);
    assert_close(limit_at(query_at("EU", 5500, 20, 5)).radar_wait_s, 60.0, 0.0);
    assert_close(limit_at(query_at("EU", 5620, 20, 5)).radar_wait_s, 600.0, 0.0);
    assert_close(limit_at(query_at("US", 5620, 20, 5)).radar_wait_s, 60.0, 0.0);
    assert_close(limit_at(query_at("EU", 5580, 20, 5)).radar_wait_s, 60.0, 0.0);
}

static void channel_across_two_bands__meets_both_rules(void **state)
{
    (void)state;
    /* Channel 50: its upper half must listen for radar. */
    const fe_power_limit limit = limit_at(query_at("EU", 5250, 160, 5));
    assert_true(limit.radar);
    assert_close(limit.eirp_dbm, 20.0, 1e-12);
}

static void indoor_band_outdoors__is_a_warning_with_a_result(void **state)
{
    (void)state;
    fe_power_query query = query_at("EU", 5200, 20, 5);
    fe_power_limit limit = {0};
    assert_int_equal(fe_power_limit_at(&query, &limit), FE_W_RANGE);
    assert_true(limit.outdoor_forbidden);
    assert_close(limit.eirp_dbm, 23.0, 1e-12);
    query.outdoor = false;
    assert_int_equal(fe_power_limit_at(&query, &limit), FE_OK);
    assert_false(limit.outdoor_forbidden);
}

static void sub_gigahertz_in_europe__has_a_duty_cycle(void **state)
{
    (void)state;
    fe_power_query query = query_at("EU", 866, 2, 2);
    assert_close(limit_at(query).duty_cycle, 0.028, 1e-12);
    query.access_point = true;
    assert_close(limit_at(query).duty_cycle, 0.10, 1e-12);
    assert_close(limit_at(query_at("US", 915, 2, 2)).duty_cycle, 1.0, 0.0);
}

static void licensed_rules__are_taken_only_by_name(void **state)
{
    (void)state;
    fe_power_query query = query_at("EU", 5785, 20, 14);
    assert_string_equal(limit_at(query).rule->use, "short_range_device");
    query.use = "broadband_fixed_wireless";
    assert_close(limit_at(query).eirp_dbm, 36.0, 1e-12);
}

static void power_control__raises_the_limit_where_the_rule_says_so(void **state)
{
    (void)state;
    fe_power_query query = query_at("UK", 5560, 20, 5);
    assert_close(limit_at(query).eirp_dbm, 27.0, 1e-12);
    query.power_control = true;
    assert_close(limit_at(query).eirp_dbm, 30.0, 1e-12);
}

static void closed_frequencies__have_no_solution(void **state)
{
    (void)state;
    fe_power_limit limit = {.eirp_dbm = 7.0};
    const fe_power_query closed[] = {
        query_at("US", 3500, 20, 5), query_at("CA", 5620, 20, 5),
        query_at("AU", 5610, 80, 5), /* reaches into the gap */
        query_at("US", 2484, 20, 5), /* beyond the end of the band */
    };
    for (size_t i = 0; i < sizeof closed / sizeof *closed; i++)
        assert_int_equal(fe_power_limit_at(&closed[i], &limit), FE_E_NO_SOLUTION);
    fe_power_query strange = query_at("US", 2437, 20, 5);
    strange.use = "carrier_pigeon";
    assert_int_equal(fe_power_limit_at(&strange, &limit), FE_E_NO_SOLUTION);
    assert_true(limit.eirp_dbm == 7.0);
}

static void query_that_makes_no_sense__is_refused(void **state)
{
    (void)state;
    fe_power_limit limit = {.eirp_dbm = 7.0};
    fe_power_query lossy = query_at("US", 2437, 20, 5);
    lossy.feeder_loss_db = -1.0;
    const fe_power_query bad[] = {
        query_at("XX", 2437, 20, 5),   query_at(NULL, 2437, 20, 5),
        query_at("US", NAN, 20, 5),    query_at("US", 0, 20, 5),
        query_at("US", 2437, 0, 5),    query_at("US", 2437, -20, 5),
        query_at("US", 2437, 20, NAN), lossy,
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_int_equal(fe_power_limit_at(&bad[i], &limit), FE_E_DOMAIN);
    assert_int_equal(fe_power_limit_at(NULL, &limit), FE_E_DOMAIN);
    assert_true(limit.eirp_dbm == 7.0);
}

static void nearest_band__holds_the_frequency_or_lies_beside_it(void **state)
{
    (void)state;
    fe_power_band band = {0};
    assert_int_equal(fe_power_nearest_band("EU", 868e6, true, &band), FE_OK);
    assert_true(band.inside && band.low_hz == 863e6 && band.high_hz == 868e6);
    /* 915 MHz is open in the United States and not in Europe. */
    assert_int_equal(fe_power_nearest_band("EU", 915e6, true, &band), FE_OK);
    assert_true(!band.inside && band.high_hz == 868e6);
    assert_int_equal(fe_power_nearest_band("US", 433e6, true, &band), FE_OK);
    assert_true(!band.inside && band.low_hz == 902e6);
    /* Touching ranges are one band: 5150 to 5350 MHz indoors. */
    assert_int_equal(fe_power_nearest_band("EU", 5200e6, false, &band), FE_OK);
    assert_true(band.inside && band.low_hz == 5150e6 && band.high_hz == 5350e6);
    /* Outdoors that band is closed there. */
    assert_int_equal(fe_power_nearest_band("EU", 5300e6, true, &band), FE_OK);
    assert_true(!band.inside && band.low_hz == 5470e6);
    /* The gap of Canada splits its band. */
    assert_int_equal(fe_power_nearest_band("CA", 5620e6, true, &band), FE_OK);
    assert_false(band.inside);
    assert_int_equal(fe_power_nearest_band("XX", 5620e6, true, &band), FE_E_DOMAIN);
    assert_int_equal(fe_power_nearest_band("US", NAN, true, &band), FE_E_DOMAIN);
    assert_int_equal(fe_power_nearest_band("US", 0.0, true, &band), FE_E_DOMAIN);
}

/* 6 GHz is open indoors in all regions, not to gear fixed outdoors; 60 GHz is not in the table
 * for all. */
static void every_band__lies_where_its_region_is_open(void **state)
{
    (void)state;
    for (int region = 0; region < FE_REGIONS; region++)
        for (int b = 0; b < FE_BAND_60_GHZ; b++) {
            const double f_hz = fe_band_frequency((fe_band)b, (fe_region)region);
            fe_power_band band = {0};
            assert_int_equal(fe_power_nearest_band(fe_region_name((fe_region)region), f_hz,
                                                   b != FE_BAND_6_GHZ, &band),
                             FE_OK);
            if (!band.inside)
                fail_msg("%s: %g MHz is closed", fe_region_name((fe_region)region), f_hz / 1e6);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_rule__has_a_known_area_a_band_and_a_date),
        cmocka_unit_test(figures__are_those_of_their_words),
        cmocka_unit_test(conducted_power_and_gain__make_the_eirp),
        cmocka_unit_test(gain_under_a_power_cap__does_not_raise_eirp),
        cmocka_unit_test(fixed_link__keeps_two_thirds_of_its_gain_at_2_4_ghz_in_the_us),
        cmocka_unit_test(narrow_channel__meets_the_limit_on_density),
        cmocka_unit_test(low_gain__is_worse_than_the_general_rule_at_60_ghz),
        cmocka_unit_test(radar_channels__are_told_with_their_wait),
        cmocka_unit_test(channel_across_two_bands__meets_both_rules),
        cmocka_unit_test(indoor_band_outdoors__is_a_warning_with_a_result),
        cmocka_unit_test(sub_gigahertz_in_europe__has_a_duty_cycle),
        cmocka_unit_test(licensed_rules__are_taken_only_by_name),
        cmocka_unit_test(power_control__raises_the_limit_where_the_rule_says_so),
        cmocka_unit_test(closed_frequencies__have_no_solution),
        cmocka_unit_test(query_that_makes_no_sense__is_refused),
        cmocka_unit_test(nearest_band__holds_the_frequency_or_lies_beside_it),
        cmocka_unit_test(every_band__lies_where_its_region_is_open),
    };
    return FE_RUN_TESTS(tests);
}
