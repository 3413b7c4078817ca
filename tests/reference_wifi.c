/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rates, minimum sensitivity, rejection and channels against IEEE 802.11. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/wifi.h"
#include "testing.h"

/* Decimals of the cell's number as printed. */
static int decimals_of(const char *text)
{
    const char *point = strchr(text, '.');
    return point ? (int)strspn(point + 1, "0123456789") : 0;
}

/* The row's standard and mode index; false, and told, where we have none of that name. */
static bool row_mode(fe_reference *file, fe_wifi_standard *standard, int *mcs)
{
    const bool known = fe_wifi_standard_find(fe_reference_text(file, "standard"), standard) &&
                       fe_wifi_mcs_find(*standard, fe_reference_text(file, "mcs_or_rate"), mcs);
    fe_reference_check_that(file, known, "a known standard and mode");
    return known;
}

static void rates__are_the_published_ones_as_printed(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/wifi_data_rates.csv");
    while (fe_reference_next(file)) {
        fe_wifi_standard standard;
        int mcs = 0;
        if (!row_mode(file, &standard, &mcs))
            continue;
        const fe_wifi_link link = {
            .standard = standard,
            .width_hz = 1e6 * fe_reference_need(file, "width_mhz"),
            .streams = (int)fe_reference_need(file, "streams"),
            .guard_interval_s = 1e-6 * fe_reference_number(file, "guard_interval_us"),
        };
        fe_wifi_mode mode = {0};
        fe_reference_check_status(file, fe_wifi_mode_at(&link, mcs, &mode));
        const int decimals = decimals_of(fe_reference_text(file, "rate_mbit_s"));
        fe_reference_check(file, "rate_mbit_s",
                           fe_wifi_rate_rounded_bps(mode.rate_bps, decimals) / 1e6, 1e-9);
    }
    fe_reference_close(file);
}

static void undefined_combinations__are_refused(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/wifi_rates_undefined.csv");
    while (fe_reference_next(file)) {
        fe_wifi_standard standard;
        int mcs = 0;
        if (!row_mode(file, &standard, &mcs))
            continue;
        const fe_wifi_link link = {standard, 1e6 * fe_reference_need(file, "width_mhz"),
                                   (int)fe_reference_need(file, "streams"), NAN};
        fe_wifi_mode mode;
        fe_reference_check_that(file, fe_wifi_mode_at(&link, mcs, &mode) == FE_E_DOMAIN,
                                "this combination refused");
    }
    fe_reference_close(file);
}

/* A mode whatever the number of streams: one index can be undefined with some and not others.
 */
static fe_status any_streams(fe_wifi_standard standard, double width_hz, int mcs,
                             fe_wifi_mode *mode)
{
    fe_status status = FE_E_DOMAIN;
    for (int streams = 1; status != FE_OK && streams <= fe_wifi_streams_max(standard);
         streams++) {
        const fe_wifi_link link = {standard, width_hz, streams, NAN};
        status = fe_wifi_mode_at(&link, mcs, mode);
    }
    return status;
}

static void check_sensitivity_row(fe_reference *file)
{
    fe_wifi_standard standard;
    int mcs = 0;
    fe_wifi_mode mode = {0};
    if (!row_mode(file, &standard, &mcs))
        return;
    fe_reference_check_status(
        file, any_streams(standard, 1e6 * fe_reference_need(file, "width_mhz"), mcs, &mode));
    fe_reference_check_text(file, "modulation", mode.modulation ? mode.modulation : "");
    fe_reference_check(file, "min_sensitivity_dbm", mode.min_sensitivity_dbm, 0.0);
    fe_reference_check(file, "per_limit_pct", 100.0 * mode.per_limit, 1e-12);
    fe_reference_check(file, "psdu_octets", mode.psdu_octets, 0.0);
}

static void minimum_sensitivity__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/wifi_min_sensitivity.csv");
    while (fe_reference_next(file))
        check_sensitivity_row(file);
    fe_reference_close(file);
}

static void sixty_gigahertz_modes__are_the_listed_ones(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/wifi_dmg_60ghz.csv");
    while (fe_reference_next(file)) {
        check_sensitivity_row(file);
        const fe_wifi_link link = {FE_WIFI_DMG, 2160e6, 1, NAN};
        fe_wifi_mode mode = {0};
        int mcs = -1;
        fe_reference_check_that(
            file, fe_wifi_mcs_find(FE_WIFI_DMG, fe_reference_text(file, "mcs_or_rate"), &mcs),
            "a known mode");
        fe_reference_check_status(file, fe_wifi_mode_at(&link, mcs, &mode));
        fe_reference_check(file, "rate_mbit_s", mode.rate_bps / 1e6, 1e-9);
    }
    fe_reference_close(file);
}

/* Finds a mode by its modulation, or modulation and rate ("CCK 11 Mb/s"). */
static bool mode_of_modulation(fe_wifi_standard standard, const char *text, fe_wifi_mode *mode)
{
    for (int band = 0; band < FE_WIFI_BAND_COUNT; band++) {
        double widths_hz[FE_WIFI_WIDTHS_MAX];
        const size_t count = fe_wifi_widths(standard, (fe_wifi_band)band, widths_hz);
        for (int mcs = 0; count > 0 && mcs < FE_WIFI_MODES_MAX; mcs++) {
            char both[80];
            if (any_streams(standard, widths_hz[count - 1], mcs, mode) != FE_OK)
                continue;
            snprintf(both, sizeof both, "%s %s", mode->modulation, mode->name);
            if (strcmp(text, mode->modulation) == 0 || strcmp(text, both) == 0)
                return true;
        }
    }
    return false;
}

static void channel_rejection__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/wifi_channel_rejection.csv");
    while (fe_reference_next(file)) {
        fe_wifi_standard standard = FE_WIFI_OFDM;
        fe_wifi_mode mode = {0};
        const bool known =
            fe_wifi_standard_find(fe_reference_text(file, "standard"), &standard) &&
            mode_of_modulation(standard, fe_reference_text(file, "modulation"), &mode);
        fe_reference_check_that(file, known, "a known standard and modulation");
        fe_reference_check(file, "adjacent_rejection_db", mode.adjacent_rejection_db, 0.0);
        fe_reference_check(file, "non_adjacent_rejection_db", mode.non_adjacent_rejection_db,
                           0.0);
    }
    fe_reference_close(file);
}

static void channel_centres__are_the_published_ones(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/wifi_channels.csv");
    while (fe_reference_next(file)) {
        fe_wifi_band band = FE_WIFI_BAND_COUNT;
        double centre_hz = NAN;
        fe_reference_check_that(file, fe_wifi_band_find(fe_reference_text(file, "band"), &band),
                                "a known band");
        fe_reference_check_status(
            file, fe_wifi_channel_centre(band, 1e6 * fe_reference_need(file, "width_mhz"),
                                         (int)fe_reference_need(file, "channel"), &centre_hz));
        fe_reference_check(file, "centre_mhz", centre_hz / 1e6, 1e-9);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rates__are_the_published_ones_as_printed),
        cmocka_unit_test(undefined_combinations__are_refused),
        cmocka_unit_test(minimum_sensitivity__is_the_published_one),
        cmocka_unit_test(sixty_gigahertz_modes__are_the_listed_ones),
        cmocka_unit_test(channel_rejection__is_the_published_one),
        cmocka_unit_test(channel_centres__are_the_published_ones),
    };
    return FE_RUN_TESTS(tests);
}
