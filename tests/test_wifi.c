/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/wifi.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "testing.h"

static const fe_wifi_link HE20 = {FE_WIFI_HE, 20e6, 1, NAN};

static double rate_mbps(fe_wifi_standard standard, double width_hz, int streams,
                        double guard_interval_s, int mcs)
{
    const fe_wifi_link link = {standard, width_hz, streams, guard_interval_s};
    fe_wifi_mode mode = {0};
    assert_int_equal(fe_wifi_mode_at(&link, mcs, &mode), FE_OK);
    return mode.rate_bps / 1e6;
}

static void rates__are_the_well_known_top_rates(void **state)
{
    (void)state;
    /* Highest rates of the tables in IEEE 802.11-2016 clauses 17, 19, 21. */
    assert_close(rate_mbps(FE_WIFI_OFDM, 20e6, 1, NAN, 7), 54.0, 1e-9);
    assert_close(rate_mbps(FE_WIFI_HT, 40e6, 4, 0.4e-6, 31), 600.0, 1e-9);
    assert_close(rate_mbps(FE_WIFI_VHT, 160e6, 8, 0.4e-6, 9), 6933.333, 1e-3);
    assert_close(rate_mbps(FE_WIFI_HR_DSSS, 20e6, 1, NAN, 1), 11.0, 1e-9);
}

/*
 * Single carrier at 60 GHz: 448 of every 512 chips at 1760 Mchip/s are data, so 1540 million
 * symbols a second of 1, 2 or 4 bits (IEEE 802.11-2016 clause 20.6, from memory).
 */
static void rates_at_60_ghz__are_symbols_times_bits_times_code(void **state)
{
    (void)state;
    const fe_wifi_link link = {FE_WIFI_DMG, 2160e6, 1, NAN};
    for (int mcs = 2; mcs <= 12; mcs++) {
        fe_wifi_mode mode;
        assert_int_equal(fe_wifi_mode_at(&link, mcs, &mode), FE_OK);
        const double bits = strstr(mode.modulation, "BPSK")   ? 1.0
                            : strstr(mode.modulation, "QPSK") ? 2.0
                                                              : 4.0;
        const char *share = strrchr(mode.modulation, ' ');
        int above = 0, below = 1;
        assert_int_equal(sscanf(share, "%d/%d", &above, &below), 2);
        assert_close(mode.rate_bps, 1760e6 * 448.0 / 512.0 * bits * above / below, 1.0);
    }
}

static void rate__is_proportional_to_streams(void **state)
{
    (void)state;
    for (int streams = 2; streams <= 8; streams++)
        assert_close(rate_mbps(FE_WIFI_HE, 80e6, streams, 0.8e-6, 11),
                     streams * rate_mbps(FE_WIFI_HE, 80e6, 1, 0.8e-6, 11), 1e-9);
}

static void ht_index__counts_eight_modes_a_stream(void **state)
{
    (void)state;
    assert_close(rate_mbps(FE_WIFI_HT, 20e6, 2, NAN, 10),
                 rate_mbps(FE_WIFI_HT, 20e6, 2, NAN, 2), 1e-9);
    const fe_wifi_link one = {FE_WIFI_HT, 20e6, 1, NAN};
    fe_wifi_mode mode;
    assert_int_equal(fe_wifi_mode_at(&one, 10, &mode), FE_E_DOMAIN);
}

/* Share of lost packets, and their length, that a standard's sensitivity is stated for. */
static void sensitivity__is_stated_for_one_packet_length(void **state)
{
    (void)state;
    static const struct {
        fe_wifi_standard standard;
        double width_hz;
        double per_limit;
        int psdu_octets;
    } WANTED[] = {
        /* IEEE 802.11-2016 15.4.6.2, 17.3.10.2, 19.3.19.2, 21.3.18.1, 802.11ax 27.3.20.2; from
         * memory: 16.3.8.2 (hr_dsss), 802.11be 36.3.21, 802.11ah 23.3.18, clause 20 (60 GHz) */
        {FE_WIFI_DSSS, 22e6, 0.08, 1024},  {FE_WIFI_HR_DSSS, 22e6, 0.08, 1024},
        {FE_WIFI_OFDM, 20e6, 0.10, 1000},  {FE_WIFI_HT, 20e6, 0.10, 4096},
        {FE_WIFI_VHT, 80e6, 0.10, 4096},   {FE_WIFI_HE, 80e6, 0.10, 4096},
        {FE_WIFI_EHT, 320e6, 0.10, 4096},  {FE_WIFI_S1G, 2e6, 0.10, 256},
        {FE_WIFI_DMG, 2160e6, 0.01, 4096},
    };
    for (size_t i = 0; i < sizeof WANTED / sizeof WANTED[0]; i++) {
        const fe_wifi_link link = {WANTED[i].standard, WANTED[i].width_hz, 1, NAN};
        fe_wifi_mode modes[FE_WIFI_MODES_MAX];
        size_t count = 0;
        assert_int_equal(fe_wifi_modes(&link, modes, &count), FE_OK);
        for (size_t k = 0; k < count; k++) {
            /* The control mode at 60 GHz has its own. */
            const bool control = WANTED[i].standard == FE_WIFI_DMG && modes[k].mcs == 0;
            assert_close(modes[k].per_limit, control ? 0.05 : WANTED[i].per_limit, 1e-12);
            assert_int_equal(modes[k].psdu_octets, control ? 256 : WANTED[i].psdu_octets);
        }
    }
}

static void missing_guard_interval__is_the_normal_one(void **state)
{
    (void)state;
    assert_true(rate_mbps(FE_WIFI_VHT, 80e6, 1, NAN, 4) ==
                rate_mbps(FE_WIFI_VHT, 80e6, 1, 0.8e-6, 4));
    assert_true(rate_mbps(FE_WIFI_S1G, 1e6, 1, NAN, 0) ==
                rate_mbps(FE_WIFI_S1G, 1e6, 1, 8e-6, 0));
}

static void modes__rise_in_rate_for_every_standard_band_and_width(void **state)
{
    (void)state;
    for (int s = 0; s < FE_WIFI_STANDARD_COUNT; s++)
        for (int b = 0; b < FE_WIFI_BAND_COUNT; b++) {
            double widths_hz[FE_WIFI_WIDTHS_MAX];
            const size_t widths =
                fe_wifi_widths((fe_wifi_standard)s, (fe_wifi_band)b, widths_hz);
            assert_int_equal(widths > 0,
                             fe_wifi_standard_in_band((fe_wifi_standard)s, (fe_wifi_band)b));
            for (size_t w = 0; w < widths; w++) {
                const fe_wifi_link link = {(fe_wifi_standard)s, widths_hz[w], 1, NAN};
                fe_wifi_mode modes[FE_WIFI_MODES_MAX];
                fe_wifi_channel channels[FE_WIFI_CHANNELS_MAX];
                size_t count = 0;
                assert_int_equal(fe_wifi_modes(&link, modes, &count), FE_OK);
                for (size_t i = 1; i < count; i++)
                    assert_true(modes[i].rate_bps > modes[i - 1].rate_bps);
                assert_true(fe_wifi_channels((fe_wifi_band)b, widths_hz[w], channels) > 0);
            }
        }
}

static void doubled_width__costs_three_decibels(void **state)
{
    (void)state;
    const double widths_hz[] = {20e6, 40e6, 80e6, 160e6, 320e6};
    fe_wifi_mode last = {0};
    for (size_t i = 0; i < 5; i++) {
        const fe_wifi_link link = {FE_WIFI_EHT, widths_hz[i], 1, NAN};
        fe_wifi_mode mode = {0};
        assert_int_equal(fe_wifi_mode_at(&link, 4, &mode), FE_OK);
        if (i > 0)
            assert_close(mode.min_sensitivity_dbm, last.min_sensitivity_dbm + 3.0, 1e-12);
        last = mode;
    }
}

static void slowest_sub_gigahertz_mode__is_the_repeated_one(void **state)
{
    (void)state;
    const fe_wifi_link link = {FE_WIFI_S1G, 1e6, 1, NAN};
    fe_wifi_mode modes[FE_WIFI_MODES_MAX];
    size_t count = 0;
    assert_int_equal(fe_wifi_modes(&link, modes, &count), FE_OK);
    assert_int_equal(modes[0].mcs, 10);
    assert_close(modes[0].rate_bps, 150e3, 1e-6);
    assert_close(modes[0].min_sensitivity_dbm, -98.0, 1e-12);
    const fe_wifi_link wider = {FE_WIFI_S1G, 2e6, 1, NAN};
    fe_wifi_mode mode;
    assert_int_equal(fe_wifi_mode_at(&wider, 10, &mode), FE_E_DOMAIN);
}

static void halves__are_rounded_up(void **state)
{
    (void)state;
    assert_close(fe_wifi_rate_rounded_bps(29.25e6, 1), 29.3e6, 1e-6);
    assert_close(fe_wifi_rate_rounded_bps(21.666e6, 1), 21.7e6, 1e-6);
    assert_close(fe_wifi_rate_rounded_bps(6.5e6, 0), 7e6, 1e-6);
}

static void mode_name__finds_the_mode_again(void **state)
{
    (void)state;
    int mcs = -1;
    assert_true(fe_wifi_mcs_find(FE_WIFI_OFDM, "36 Mb/s", &mcs) && mcs == 5);
    assert_true(fe_wifi_mcs_find(FE_WIFI_OFDM, "36", &mcs) && mcs == 5);
    assert_true(fe_wifi_mcs_find(FE_WIFI_HR_DSSS, "5.5", &mcs) && mcs == 0);
    assert_true(fe_wifi_mcs_find(FE_WIFI_EHT, "MCS13", &mcs) && mcs == 13);
    assert_true(fe_wifi_mcs_find(FE_WIFI_HT, "MCS31", &mcs) && mcs == 31);
    assert_true(fe_wifi_mcs_find(FE_WIFI_DMG, "MCS12", &mcs) && mcs == 12);
    assert_false(fe_wifi_mcs_find(FE_WIFI_HE, "MCS12", &mcs));
    assert_false(fe_wifi_mcs_find(FE_WIFI_OFDM, "5.5 Mb/s", &mcs));
    assert_false(fe_wifi_mcs_find(FE_WIFI_OFDM, "", &mcs));
    assert_false(fe_wifi_mcs_find(FE_WIFI_OFDM, NULL, &mcs));
}

static void channels__lie_inside_their_band_and_come_in_order(void **state)
{
    (void)state;
    const double widths_hz[] = {1e6,  2e6,  4e6,   8e6,   16e6,  20e6,
                                40e6, 80e6, 160e6, 320e6, 2160e6};
    for (int b = 0; b < FE_WIFI_BAND_COUNT; b++)
        for (size_t w = 0; w < sizeof widths_hz / sizeof *widths_hz; w++) {
            fe_wifi_channel channels[FE_WIFI_CHANNELS_MAX];
            double low_hz = 0.0;
            double high_hz = 0.0;
            fe_wifi_band_edges((fe_wifi_band)b, &low_hz, &high_hz);
            const size_t count = fe_wifi_channels((fe_wifi_band)b, widths_hz[w], channels);
            for (size_t i = 0; i < count; i++) {
                double centre_hz = 0.0;
                fe_wifi_band band = FE_WIFI_BAND_COUNT;
                assert_true(channels[i].centre_hz - widths_hz[w] / 2.0 >= low_hz);
                assert_true(channels[i].centre_hz + widths_hz[w] / 2.0 <= high_hz);
                assert_true(i == 0 || channels[i].centre_hz > channels[i - 1].centre_hz);
                assert_int_equal(fe_wifi_channel_centre((fe_wifi_band)b, widths_hz[w],
                                                        channels[i].number, &centre_hz),
                                 FE_OK);
                assert_true(centre_hz == channels[i].centre_hz);
                assert_true(fe_wifi_band_of(centre_hz, &band) && (int)band == b);
            }
        }
}

static void six_gigahertz_band__has_its_count_of_channels(void **state)
{
    (void)state;
    /* IEEE 802.11ax Annex E: 59 channels of 20 MHz (and one more, number 2), 29, 14 and 7. */
    fe_wifi_channel channels[FE_WIFI_CHANNELS_MAX];
    assert_int_equal(fe_wifi_channels(FE_WIFI_BAND_6G, 20e6, channels), 60);
    assert_int_equal(fe_wifi_channels(FE_WIFI_BAND_6G, 40e6, channels), 29);
    assert_int_equal(fe_wifi_channels(FE_WIFI_BAND_6G, 80e6, channels), 14);
    assert_int_equal(fe_wifi_channels(FE_WIFI_BAND_6G, 160e6, channels), 7);
    assert_int_equal(fe_wifi_channels(FE_WIFI_BAND_6G, 320e6, channels), 6);
    assert_int_equal(fe_wifi_channels(FE_WIFI_BAND_2G4, 80e6, channels), 0);
}

static void names__lead_back_to_what_they_name(void **state)
{
    (void)state;
    for (int i = 0; i < FE_WIFI_STANDARD_COUNT; i++) {
        fe_wifi_standard standard;
        assert_true(
            fe_wifi_standard_find(fe_wifi_standard_name((fe_wifi_standard)i), &standard));
        assert_int_equal(standard, i);
    }
    for (int i = 0; i < FE_WIFI_BAND_COUNT; i++) {
        fe_wifi_band band;
        assert_true(fe_wifi_band_find(fe_wifi_band_name((fe_wifi_band)i), &band));
        assert_int_equal(band, i);
    }
    fe_wifi_standard standard;
    fe_wifi_band band;
    assert_false(fe_wifi_standard_find("morse", &standard));
    assert_false(fe_wifi_band_find("27", &band));
    assert_false(fe_wifi_band_of(27e6, &band));
    assert_false(fe_wifi_band_of(NAN, &band));
}

static void what_no_standard_defines__is_refused(void **state)
{
    (void)state;
    fe_wifi_mode mode = {.mcs = 77};
    fe_wifi_mode modes[FE_WIFI_MODES_MAX];
    size_t count = 77;
    const fe_wifi_link bad[] = {
        {FE_WIFI_HE, NAN, 1, NAN},       {FE_WIFI_HE, 0.0, 1, NAN},
        {FE_WIFI_HE, 320e6, 1, NAN},     {FE_WIFI_HE, 20e6, 0, NAN},
        {FE_WIFI_HE, 20e6, 9, NAN},      {FE_WIFI_HE, 20e6, 1, 0.4e-6},
        {FE_WIFI_HE, 20e6, 1, INFINITY}, {FE_WIFI_HT, 80e6, 1, NAN},
        {FE_WIFI_OFDM, 20e6, 2, NAN},    {FE_WIFI_STANDARD_COUNT, 20e6, 1, NAN},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        assert_int_equal(fe_wifi_mode_at(&bad[i], 0, &mode), FE_E_DOMAIN);
        assert_int_equal(fe_wifi_modes(&bad[i], modes, &count), FE_E_DOMAIN);
    }
    assert_int_equal(fe_wifi_mode_at(&HE20, -1, &mode), FE_E_DOMAIN);
    assert_int_equal(fe_wifi_mode_at(&HE20, 12, &mode), FE_E_DOMAIN);
    assert_int_equal(fe_wifi_mode_at(NULL, 0, &mode), FE_E_DOMAIN);
    assert_true(mode.mcs == 77 && count == 77);
    double centre_hz = 7.0;
    assert_int_equal(fe_wifi_channel_centre(FE_WIFI_BAND_5G, 20e6, 37, &centre_hz),
                     FE_E_DOMAIN);
    assert_int_equal(fe_wifi_channel_centre(FE_WIFI_BAND_5G, NAN, 36, &centre_hz), FE_E_DOMAIN);
    assert_int_equal(fe_wifi_channel_centre(FE_WIFI_BAND_5G, 20e6, 35, &centre_hz),
                     FE_E_DOMAIN);
    assert_int_equal(fe_wifi_channel_centre(FE_WIFI_BAND_5G, 20e6, 999, &centre_hz),
                     FE_E_DOMAIN);
    assert_true(centre_hz == 7.0);
    const fe_wifi_link s1g_two = {FE_WIFI_S1G, 2e6, 1, NAN},
                       ofdm = {FE_WIFI_OFDM, 20e6, 1, NAN};
    assert_int_equal(fe_wifi_mode_at(&s1g_two, 10, &mode), FE_E_DOMAIN);
    assert_int_equal(fe_wifi_mode_at(&s1g_two, 11, &mode), FE_E_DOMAIN);
    assert_int_equal(fe_wifi_mode_at(&ofdm, 8, &mode), FE_E_DOMAIN);
    assert_int_equal(fe_wifi_modes(NULL, modes, &count), FE_E_DOMAIN);
}

static void what_is_not_in_the_tables__has_no_name(void **state)
{
    (void)state;
    double low_hz = 0.0, high_hz = 0.0, widths_hz[FE_WIFI_WIDTHS_MAX];
    int mcs = 77;
    assert_string_equal(fe_wifi_band_name(FE_WIFI_BAND_COUNT), "");
    assert_string_equal(fe_wifi_standard_name(FE_WIFI_STANDARD_COUNT), "");
    fe_wifi_band_edges(FE_WIFI_BAND_COUNT, &low_hz, &high_hz);
    assert_true(isnan(low_hz) && isnan(high_hz));
    assert_int_equal(fe_wifi_widths(FE_WIFI_VHT, FE_WIFI_BAND_2G4, widths_hz), 0);
    assert_int_equal(fe_wifi_streams_max(FE_WIFI_STANDARD_COUNT), 0);
    assert_false(fe_wifi_standard_in_band(FE_WIFI_STANDARD_COUNT, FE_WIFI_BAND_5G));
    assert_false(fe_wifi_standard_in_band(FE_WIFI_HE, FE_WIFI_BAND_COUNT));
    fe_wifi_band band;
    fe_wifi_standard standard;
    assert_false(fe_wifi_band_find(NULL, &band));
    assert_false(fe_wifi_standard_find(NULL, &standard));
    assert_false(fe_wifi_mcs_find(FE_WIFI_STANDARD_COUNT, "3", &mcs));
    assert_false(fe_wifi_mcs_find(FE_WIFI_HE, NULL, &mcs));
    assert_false(fe_wifi_mcs_find(FE_WIFI_HE, "99", &mcs));
    assert_int_equal(mcs, 77);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rates__are_the_well_known_top_rates),
        cmocka_unit_test(rates_at_60_ghz__are_symbols_times_bits_times_code),
        cmocka_unit_test(rate__is_proportional_to_streams),
        cmocka_unit_test(ht_index__counts_eight_modes_a_stream),
        cmocka_unit_test(sensitivity__is_stated_for_one_packet_length),
        cmocka_unit_test(missing_guard_interval__is_the_normal_one),
        cmocka_unit_test(modes__rise_in_rate_for_every_standard_band_and_width),
        cmocka_unit_test(doubled_width__costs_three_decibels),
        cmocka_unit_test(slowest_sub_gigahertz_mode__is_the_repeated_one),
        cmocka_unit_test(halves__are_rounded_up),
        cmocka_unit_test(mode_name__finds_the_mode_again),
        cmocka_unit_test(channels__lie_inside_their_band_and_come_in_order),
        cmocka_unit_test(six_gigahertz_band__has_its_count_of_channels),
        cmocka_unit_test(names__lead_back_to_what_they_name),
        cmocka_unit_test(what_no_standard_defines__is_refused),
        cmocka_unit_test(what_is_not_in_the_tables__has_no_name),
    };
    return FE_RUN_TESTS(tests);
}
