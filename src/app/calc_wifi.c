/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formulas of Wi-Fi rates, sensitivity and channels, and of power rules. */
#include <math.h>
#include <string.h>

#include "calc.h"
#include "farend/power_rules.h"
#include "farend/wifi.h"

/* Streams as given, or 0 where they were not or are out of all range. */
static int streams_of(const calc_call *call)
{
    const double streams = calc_number(call, "streams");
    return streams >= 1.0 && streams <= 64.0 ? (int)streams : 0;
}

static fe_status find_mode(calc_call *call, fe_wifi_standard *standard, int *mcs)
{
    const char *name = calc_word(call, "mcs");
    if (fe_wifi_standard_find(calc_word(call, "standard"), standard) &&
        fe_wifi_mcs_find(*standard, name, mcs))
        return FE_OK;
    calc_explain(
        call, "mcs=%.20s: no such mode of this standard; write \"MCS3\" or \"54 Mb/s\"", name);
    return FE_E_DOMAIN;
}

/* One place for what is not defined, because the reason is a table and no range. */
static void explain_undefined(calc_call *call, fe_wifi_standard standard)
{
    calc_explain(
        call, "%s does not define this combination of width, mode, streams and guard interval",
        fe_wifi_standard_name(standard));
}

static fe_status run_rate(calc_call *call)
{
    fe_wifi_standard standard = FE_WIFI_OFDM;
    int mcs = 0;
    fe_wifi_mode mode = {0};
    fe_status status = find_mode(call, &standard, &mcs);
    if (status < 0)
        return status;
    const fe_wifi_link link = {standard, calc_number(call, "width"), streams_of(call),
                               calc_number(call, "guard_interval")};
    status = fe_wifi_mode_at(&link, mcs, &mode);
    if (status < 0) {
        explain_undefined(call, standard);
        return status;
    }
    calc_result(call, "rate_mbps", mode.rate_bps / 1e6, "Mb/s");
    calc_result_word(call, "modulation", mode.modulation);
    return status;
}

/* Sensitivity does not depend on streams, but some counts of them leave a mode undefined. */
static fe_status mode_of_any_streams(fe_wifi_standard standard, double width_hz, int mcs,
                                     fe_wifi_mode *mode)
{
    fe_status status = FE_E_DOMAIN;
    for (int streams = 1; status < 0 && streams <= fe_wifi_streams_max(standard); streams++) {
        const fe_wifi_link link = {standard, width_hz, streams, NAN};
        status = fe_wifi_mode_at(&link, mcs, mode);
    }
    return status;
}

static fe_status run_sensitivity(calc_call *call)
{
    fe_wifi_standard standard = FE_WIFI_OFDM;
    int mcs = 0;
    fe_wifi_mode mode = {0};
    fe_status status = find_mode(call, &standard, &mcs);
    if (status < 0)
        return status;
    status = mode_of_any_streams(standard, calc_number(call, "width"), mcs, &mode);
    if (status < 0) {
        explain_undefined(call, standard);
        return status;
    }
    calc_result(call, "min_sensitivity_dbm", mode.min_sensitivity_dbm, "dBm");
    calc_result(call, "adjacent_rejection_db", mode.adjacent_rejection_db, "dB");
    calc_result(call, "non_adjacent_rejection_db", mode.non_adjacent_rejection_db, "dB");
    calc_result_word(call, "modulation", mode.modulation);
    return status;
}

static fe_status run_channel(calc_call *call)
{
    fe_wifi_band band = FE_WIFI_BAND_2G4;
    const double number = calc_number(call, "channel");
    double centre_hz = 0.0;
    if (!fe_wifi_band_find(calc_word(call, "band"), &band) || !(number <= 1000.0) ||
        fe_wifi_channel_centre(band, calc_number(call, "width"), (int)number, &centre_hz) < 0) {
        calc_explain(call, "the band has no channel of this number and width");
        return FE_E_DOMAIN;
    }
    calc_result(call, "centre_mhz", centre_hz / 1e6, "MHz");
    return FE_OK;
}

static bool is_yes(const calc_call *call, const char *name)
{
    return calc_is_word(call, name, "yes");
}

static void give_limit(calc_call *call, const fe_power_limit *limit)
{
    calc_result(call, "max_conducted_dbm", limit->max_conducted_dbm, "dBm");
    calc_result(call, "resulting_eirp_dbm", limit->eirp_dbm, "dBm");
    calc_result(call, "duty_cycle_percent", 100.0 * limit->duty_cycle, "%");
    calc_result(call, "radar_wait_s", limit->radar_wait_s, "s");
    calc_result_word(call, "use", limit->rule->use);
    calc_result_word(call, "outdoors", limit->rule->outdoor_allowed ? "allowed" : "forbidden");
    if (*limit->rule->condition)
        calc_result_word(call, "condition", limit->rule->condition);
    calc_result_word(call, "text_date", limit->rule->text_date);
    calc_result_word(call, "source", limit->rule->source);
}

static fe_status run_eirp_limit(calc_call *call)
{
    const char *use = calc_word(call, "use");
    const fe_power_query query = {
        .area = calc_word(call, "area"),
        .f_hz = calc_number(call, "frequency"),
        .width_hz = calc_number(call, "width"),
        .use = *use ? use : NULL,
        .antenna_gain_dbi = calc_number(call, "antenna_gain"),
        .feeder_loss_db = calc_number(call, "feeder_loss"),
        .outdoor = is_yes(call, "outdoor"),
        .point_to_point = is_yes(call, "fixed_link"),
        .access_point = is_yes(call, "access_point"),
        .power_control = is_yes(call, "power_control"),
    };
    fe_power_limit limit = {0};
    const fe_status status = fe_power_limit_at(&query, &limit);
    if (status == FE_E_NO_SOLUTION)
        calc_explain(call, "no rule opens this channel in that area%s%.60s",
                     use[0] ? " for " : "", use);
    if (status < 0)
        return status;
    if (status == FE_W_RANGE)
        calc_explain(call, "the rule is for indoors only");
    give_limit(call, &limit);
    return status;
}

#define STANDARD                                                                               \
    {                                                                                          \
        "standard", CALC_WORD, FE_DIM_NUMBER, "dsss|hr_dsss|ofdm|ht|vht|he|eht|s1g|dmg", NULL, \
            ""                                                                                 \
    }
#define WIDTH                                                                                  \
    {                                                                                          \
        "width", CALC_QUANTITY, FE_DIM_FREQUENCY, NULL, "20 MHz",                              \
            "a width of the standard: 20 to 320 MHz, s1g 1 to 16 MHz, dmg 2160 MHz"            \
    }
#define MCS                                                                                    \
    {                                                                                          \
        "mcs", CALC_WORD, FE_DIM_NUMBER, NULL, NULL, "\"MCS3\" or 3, \"54 Mb/s\" or 54"        \
    }
#define YES_NO(name, usual, meaning)                                                           \
    {                                                                                          \
        name, CALC_WORD, FE_DIM_NUMBER, "yes|no", usual, meaning                               \
    }

const calc_formula CALC_WIFI[] = {
    {
        .name = "wifi-rate",
        .summary = "rate on the air of one mode of a Wi-Fi standard",
        .source = "IEEE 802.11-2016 clauses 15 to 21 and 23, 802.11ax, 802.11be",
        .arguments =
            {
                STANDARD,
                MCS,
                WIDTH,
                {"streams", CALC_QUANTITY, FE_DIM_COUNT, NULL, "1", "1 to 8"},
                {"guard_interval", CALC_QUANTITY, FE_DIM_TIME, NULL, "",
                 "one of the standard; its normal one if absent"},
            },
        .results = "rate_mbps modulation",
        .example = "standard=he mcs=MCS7 width=80MHz streams=2",
        .run = run_rate,
    },
    {
        .name = "wifi-sensitivity",
        .summary = "weakest signal that a receiver must at least work with",
        .source =
            "IEEE 802.11-2016 17.3.10, 19.3.19, 21.3.18; 802.11ax 27.3.20; 802.11ah 23.3.18",
        .arguments = {STANDARD, MCS, WIDTH},
        .results =
            "min_sensitivity_dbm adjacent_rejection_db non_adjacent_rejection_db modulation",
        .example = "standard=he mcs=MCS0 width=40MHz",
        .run = run_sensitivity,
    },
    {
        .name = "wifi-channel",
        .summary = "centre frequency of a Wi-Fi channel",
        .source = "IEEE 802.11-2016 Annex E, 802.11ax and 802.11ah Annex E",
        .arguments =
            {
                {"band", CALC_WORD, FE_DIM_NUMBER, "s1g_eu|s1g_us|2.4|5|6|60", NULL, ""},
                {"channel", CALC_QUANTITY, FE_DIM_COUNT, NULL, NULL, "a channel of the band"},
                WIDTH,
            },
        .results = "centre_mhz",
        .example = "band=5 channel=36",
        .run = run_channel,
    },
    {
        .name = "eirp-limit",
        .summary = "strongest setting that the power rules of an area allow; not legal advice",
        .source = "dated table of rules, source and date with each result",
        .arguments =
            {
                {"area", CALC_WORD, FE_DIM_NUMBER, "US|EU|UK|CA|AU", NULL, ""},
                {"frequency", CALC_QUANTITY, FE_DIM_FREQUENCY, NULL, NULL, "> 0"},
                {"antenna_gain", CALC_QUANTITY, FE_DIM_GAIN, NULL, "0 dBi", "of the antenna"},
                {"use", CALC_WORD, FE_DIM_NUMBER, NULL, "",
                 "a use of the rules; the kindest that fits if absent"},
                {"width", CALC_QUANTITY, FE_DIM_FREQUENCY, NULL, "",
                 "> 0; limits on density do not count if absent"},
                {"feeder_loss", CALC_QUANTITY, FE_DIM_RATIO, NULL, "0 dB", "0 or more"},
                YES_NO("outdoor", "yes", ""),
                YES_NO("fixed_link", "yes", ""),
                YES_NO("access_point", "no", ""),
                YES_NO("power_control", "no", ""),
            },
        .results =
            "max_conducted_dbm resulting_eirp_dbm duty_cycle_percent radar_wait_s use outdoors "
            "condition text_date source",
        .example = "area=US frequency=2437MHz antenna_gain=14dBi",
        .run = run_eirp_limit,
    },
    {0},
};
