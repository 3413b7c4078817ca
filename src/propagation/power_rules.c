/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/power_rules.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"

/*
 * Limits of licence-exempt radios; each row names its source and the date of the text that was
 * read. Columns: area, from and to MHz, use, conducted limit dBm, gain before back-off dBi,
 * EIRP limit dBm, density limit dBm/MHz and its kind, outdoors allowed; condition; source,
 * read, date of the text; flags, back-off dB a dB, second range from and to, gap from and to,
 * duty cycle, the same for an access point.
 */
/* clang-format off */
static const fe_power_rule RULES[] = {
    {"US", 902, 928, "digital_modulation", 30, 6, 36, NAN, "", true,
     "conducted power falls 1 dB for each dB of gain above 6 dBi",
     "47 CFR 15.247(b)(3),(b)(4); conducted 30 dBm also in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 2400, 2483.5, "fixed_point_to_point", 30, 6, NAN, NAN, "", true,
     "conducted power falls only 1 dB for each 3 dB of gain above 6 dBi (24 dBi: 24 dBm conducted, 48 dBm EIRP)",
     "47 CFR 15.247(c)(1)(i)", true, "not dated here",
     FE_POWER_POINT_TO_POINT, 1.0 / 3, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 2400, 2483.5, "point_to_multipoint", 30, 6, 36, NAN, "", true,
     "conducted power falls 1 dB for each dB of gain above 6 dBi",
     "47 CFR 15.247(b)(3),(b)(4)", true, "not dated here",
     0, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5150, 5250, "indoor_access_point", 30, 6, 36, 17, "conducted", false,
     "",
     "47 CFR 15.407(a)(1)(ii), 2015-2017 text", true, "2015 to 2017",
     FE_POWER_ACCESS_POINT, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5150, 5250, "client", 24, 6, 30, 11, "conducted", true,
     "",
     "47 CFR 15.407(a)(1)(iv)", false, "from memory",
     FE_POWER_CLIENT, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5150, 5250, "outdoor_access_point", 30, 6, 36, 17, "conducted", true,
     "EIRP above 30 degrees elevation at most 21 dBm",
     "47 CFR 15.407(a)(1)(i), 2015-2017 text", true, "2015 to 2017",
     FE_POWER_ACCESS_POINT, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5150, 5250, "fixed_point_to_point", 30, 23, 53, 17, "conducted", true,
     "1 dB reduction for each dB of gain above 23 dBi",
     "47 CFR 15.407(a)(1)(iii), 2015-2017 text", true, "2015 to 2017",
     FE_POWER_POINT_TO_POINT, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5250, 5350, "any", 24, 6, 30, 11, "conducted", true,
     "conducted limit is the lesser of 24 dBm and 11 + 10 log10(26 dB bandwidth in MHz); DFS; TPC above 27 dBm EIRP",
     "47 CFR 15.407(a)(2),(h); 24 dBm also in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5470, 5725, "any", 24, 6, 30, 11, "conducted", true,
     "same as 5250-5350 MHz",
     "47 CFR 15.407(a)(2),(h); 24 dBm also in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5725, 5850, "fixed_point_to_point", 30, NAN, NAN, NAN, "30 dBm in 500 kHz conducted", true,
     "gain above 6 dBi needs no reduction of conducted power",
     "47 CFR 15.407(a)(3)", false, "from memory",
     FE_POWER_POINT_TO_POINT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5725, 5850, "point_to_multipoint", 30, 6, 36, NAN, "30 dBm in 500 kHz conducted", true,
     "",
     "47 CFR 15.407(a)(3); 30 dBm also in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5850, 5895, "indoor_access_point", NAN, NAN, 36, 20, "eirp", false,
     "33 dBm at 20 MHz, 36 dBm at 40 MHz and wider; client 6 dB less",
     "47 CFR 15.407(a)(3); figures in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_ACCESS_POINT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5925, 6425, "standard_power_access_point", NAN, NAN, 36, 23, "eirp", true,
     "frequency coordination system; outdoor EIRP above 30 degrees elevation at most 21 dBm; also 6525-6875 MHz",
     "47 CFR 15.407(a)(4); text of the 2020 rule summary (same power as 5150-5250)", false, "from memory",
     FE_POWER_COORDINATION | FE_POWER_ACCESS_POINT, 0, 6525, 6875, NAN, NAN, 1, 1},
    {"US", 5925, 6425, "very_low_power", NAN, NAN, 14, -5, "eirp", true,
     "also 6525-6875 MHz, extended later",
     "47 CFR 15.407(a)(9), 2023-2024 orders", false, "from memory",
     FE_POWER_PORTABLE, 0, 6525, 6875, NAN, NAN, 1, 1},
    {"US", 5925, 7125, "low_power_indoor_client", NAN, NAN, 24, -1, "eirp", false,
     "12, 15, 18, 21, 24 dBm for 20 to 320 MHz",
     "47 CFR 15.407(a)(8); figures on the regulatory-database mailing list 2022", true, "2022",
     FE_POWER_CLIENT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 5925, 7125, "low_power_indoor_access_point", NAN, NAN, 30, 5, "eirp", false,
     "EIRP = 5 + 10 log10(width in MHz), at most 30 dBm: 18, 21, 24, 27, 30 dBm for 20 to 320 MHz",
     "47 CFR 15.407(a)(5); figures on the regulatory-database mailing list 2022", true, "2022",
     FE_POWER_ACCESS_POINT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 57000, 71000, "general", NAN, NAN, 40, NAN, "", true,
     "43 dBm peak",
     "47 CFR 15.255 (EIRP limits); figures in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"US", 57000, 71000, "fixed_outdoor_point_to_point", NAN, NAN, 82, NAN, "", true,
     "average EIRP 82 dBm less 2 dB for each dB that gain is below 51 dBi; peak 85 dBm",
     "47 CFR 15.255 (EIRP limits, fixed point-to-point outdoors)", false, "from memory",
     FE_POWER_POINT_TO_POINT | FE_POWER_GAIN_SLOPE, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 863, 868, "wideband_data", NAN, NAN, 16.15, NAN, "", true,
     "25 mW ERP; duty cycle at most 10 percent for network access points and 2.8 percent otherwise",
     "Decision (EU) 2018/1538 / ERC Rec 70-03 annex 1", false, "from memory",
     0, 0, NAN, NAN, NAN, NAN, 0.028, 0.1},
    {"EU", 2400, 2483.5, "wideband_data", NAN, NAN, 20, 10, "eirp", true,
     "",
     "EN 300 328 V2.2.2 4.3.2.2 and 4.3.2.3; 100 mW also in open wireless regulatory database (2022 snapshot)", true, "2019 to 2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5150, 5250, "rlan", NAN, NAN, 23, 10, "eirp", false,
     "indoor use (limited outdoor use since Decision (EU) 2022/179)",
     "EN 301 893 V2.1.1 4.2.3; 200 mW also in open wireless regulatory database (2022 snapshot)", true, "2017 to 2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5250, 5350, "rlan_without_tpc", NAN, NAN, 20, 7, "eirp", false,
     "DFS",
     "EN 301 893 V2.1.1 4.2.3 Table 2; 100 mW also in open wireless regulatory database (2022 snapshot)", true, "2017 to 2022",
     FE_POWER_RADAR, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5250, 5350, "rlan_with_tpc", NAN, NAN, 23, 10, "eirp", false,
     "DFS",
     "EN 301 893 V2.1.1 4.2.3 Table 2", false, "from memory",
     FE_POWER_RADAR | FE_POWER_CONTROL, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5470, 5725, "rlan_without_tpc", NAN, NAN, 27, 14, "eirp", true,
     "DFS",
     "same allocation, 3 dB less without TPC; EN 301 893 V2.1.1 Table 2", true, "2017",
     FE_POWER_RADAR, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5470, 5725, "rlan_with_tpc", NAN, NAN, 30, 17, "eirp", true,
     "DFS",
     "national general allocation for 5470-5725 MHz (1 W, 50 mW/MHz); EN 301 893 V2.1.1 Table 2", true, "2017",
     FE_POWER_RADAR | FE_POWER_CONTROL, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5725, 5875, "broadband_fixed_wireless", NAN, NAN, 36, 23, "eirp", true,
     "licence or registration; DFS and TPC; not in every country",
     "ECC Rec (06)04 annex", true, "not dated here",
     FE_POWER_RADAR | FE_POWER_LICENCE, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5725, 5875, "short_range_device", NAN, NAN, 14, NAN, "", true,
     "25 mW",
     "EN 300 440 V2.2.1 4.2.2; 25 mW in open wireless regulatory database (2022 snapshot)", true, "2018 to 2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5945, 6425, "very_low_power", NAN, NAN, 14, 1, "eirp", true,
     "portable use",
     "Decision (EU) 2021/1067 / ECC Dec (20)01", false, "from memory",
     FE_POWER_PORTABLE, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 5945, 6425, "low_power_indoor", NAN, NAN, 23, 10, "eirp", false,
     "",
     "Decision (EU) 2021/1067 / ECC Dec (20)01; 23 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"EU", 57000, 71000, "wideband_data", NAN, NAN, 40, 23, "eirp", true,
     "EN 302 567; fixed outdoor installations have a separate entry",
     "ERC Rec 70-03 annex 3; 40 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 2400, 2483.5, "wideband_data", NAN, NAN, 20, 10, "eirp", true,
     "",
     "UK Interface Requirement 2030; 100 mW in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5150, 5250, "rlan", NAN, NAN, 23, 10, "eirp", false,
     "indoor in the 2022 snapshot",
     "UK Interface Requirement 2030; 200 mW in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5250, 5350, "rlan_without_tpc", NAN, NAN, 20, 7, "eirp", false,
     "DFS",
     "UK Interface Requirement 2030; 100 mW in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5470, 5730, "rlan_without_tpc", NAN, NAN, 27, 14, "eirp", true,
     "DFS",
     "UK Interface Requirement 2030; 500 mW (26.99 dBm) in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5470, 5730, "rlan_with_tpc", NAN, NAN, 30, 17, "eirp", true,
     "DFS",
     "UK Interface Requirement 2030", false, "from memory",
     FE_POWER_RADAR | FE_POWER_CONTROL, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5725, 5850, "fixed_wireless_access_light_licence", NAN, NAN, 36, 23, "eirp", true,
     "light licence; 4 W",
     "UK Interface Requirement 2007", false, "from memory",
     FE_POWER_LICENCE, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5725, 5850, "rlan", NAN, NAN, 23, 10, "eirp", false,
     "200 mW",
     "UK Interface Requirement 2030; 200 mW in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5925, 6425, "very_low_power", NAN, NAN, 14, 1, "eirp", true,
     "25 mW",
     "UK Interface Requirement 2030", false, "from memory",
     FE_POWER_PORTABLE, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 5925, 6425, "low_power_indoor", NAN, NAN, 24, 11, "eirp", false,
     "250 mW",
     "UK Interface Requirement 2030; 250 mW in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 57000, 71000, "wideband_data", NAN, NAN, 40, 23, "eirp", true,
     "",
     "UK Interface Requirement 2030 / 2078; 40 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 2400, 2483.5, "point_to_multipoint", 30, 6, 36, NAN, "", true,
     "",
     "RSS-247 5.4(d); 30 dBm conducted in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 2400, 2483.5, "fixed_point_to_point", 30, NAN, NAN, NAN, "", true,
     "EIRP may exceed 4 W with a directional antenna, conducted power unchanged",
     "RSS-247 5.4(e)", false, "from memory",
     FE_POWER_POINT_TO_POINT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 5150, 5250, "rlan", NAN, NAN, 23, 10, "eirp", false,
     "lesser of 200 mW and 10 + 10 log10(bandwidth MHz); indoor",
     "RSS-247 6.2.1.1; 23 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 5250, 5350, "rlan", 24, NAN, 30, 11, "conducted", true,
     "DFS; lesser of 250 mW and 11 + 10 log10(bandwidth MHz) conducted; extra elevation mask above 200 mW EIRP",
     "RSS-247 6.2.2.1; 24 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 5470, 5725, "rlan", 24, NAN, 30, 11, "conducted", true,
     "DFS; 5600-5650 MHz not permitted",
     "RSS-247 6.2.3.1; 24 dBm and the gap in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 0, NAN, NAN, 5600, 5650, 1, 1},
    {"CA", 5725, 5850, "fixed_point_to_point", 30, NAN, NAN, NAN, "30 dBm in 500 kHz conducted", true,
     "EIRP may exceed 4 W",
     "RSS-247 6.2.4.1", false, "from memory",
     FE_POWER_POINT_TO_POINT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 5725, 5850, "point_to_multipoint", 30, 6, 36, NAN, "30 dBm in 500 kHz conducted", true,
     "",
     "RSS-247 6.2.4.1; 30 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 1, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 5925, 6875, "standard_power_access_point", NAN, NAN, 36, 23, "eirp", true,
     "frequency coordination system",
     "RSS-248", false, "from memory",
     FE_POWER_COORDINATION | FE_POWER_ACCESS_POINT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"CA", 5925, 7125, "low_power_indoor_access_point", NAN, NAN, 30, 5, "eirp", false,
     "",
     "RSS-248", false, "from memory",
     FE_POWER_ACCESS_POINT, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 915, 928, "s1g", NAN, NAN, 30, NAN, "", true,
     "1 W",
     "LIPD class licence; 1000 mW in the regulatory database as quoted in a 2025 kernel discussion", true, "2025",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 2400, 2483.5, "rlan", NAN, NAN, 36, NAN, "", true,
     "4 W",
     "LIPD class licence; 36 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 5150, 5250, "rlan", NAN, NAN, 23, 10, "eirp", false,
     "200 mW, indoor",
     "LIPD class licence; 23 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 5250, 5350, "rlan_without_tpc", NAN, NAN, 20, 7, "eirp", false,
     "DFS; 3 dB more with TPC",
     "LIPD class licence; 20 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 5470, 5725, "rlan_without_tpc", NAN, NAN, 27, 14, "eirp", true,
     "DFS; 5600-5650 MHz not permitted; 3 dB more with TPC",
     "LIPD class licence; 27 dBm and the gap in open wireless regulatory database (2022 snapshot)", true, "2022",
     FE_POWER_RADAR, 0, NAN, NAN, 5600, 5650, 1, 1},
    {"AU", 5725, 5850, "rlan", NAN, NAN, 36, NAN, "", true,
     "4 W",
     "LIPD class licence; 36 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 5925, 6425, "low_power_indoor", NAN, NAN, 24, 11, "eirp", false,
     "250 mW",
     "LIPD class licence 2022; 24 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 5925, 6425, "very_low_power", NAN, NAN, 14, 1, "eirp", true,
     "25 mW",
     "LIPD class licence 2022", false, "from memory",
     FE_POWER_PORTABLE, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"AU", 57000, 66000, "data", NAN, NAN, 43, NAN, "", false,
     "20 W",
     "LIPD class licence; 43 dBm in open wireless regulatory database (2022 snapshot)", true, "2022",
     0, 0, NAN, NAN, NAN, NAN, 1, 1},
    {"UK", 863, 868, "wideband_data", NAN, NAN, 16.15, NAN, "", true,
     "25 mW ERP; duty cycle at most 10 percent for network access points and 2.8 percent otherwise",
     "UK Interface Requirement 2030", false, "from memory",
     0, 0, NAN, NAN, NAN, NAN, 0.028, 0.1},
    {"CA", 902, 928, "digital_modulation", 30, 6, 36, NAN, "", true,
     "conducted power falls 1 dB for each dB of gain above 6 dBi",
     "RSS-247 5.4(d)", false, "from memory",
     0, 1, NAN, NAN, NAN, NAN, 1, 1},
};
/* clang-format on */
enum { RULE_COUNT = sizeof RULES / sizeof *RULES };

static const char *const AREAS[] = {"US", "EU", "UK", "CA", "AU"};
enum { AREA_COUNT = sizeof AREAS / sizeof *AREAS };

/* Silence before sending, and where weather radars make it longer; EN 301 893, from memory. */
static const double RADAR_WAIT_S = 60.0;
static const double RADAR_WAIT_WEATHER_S = 600.0;
static const double WEATHER_LOW_MHZ = 5600.0;
static const double WEATHER_HIGH_MHZ = 5650.0;

/* Gain below which the 60 GHz fixed-link limit falls, 2 dB each dB. */
static const double SLOPE_GAIN_DBI = 51.0;

/* A channel in MHz, both ends the same where its width does not count. */
typedef struct channel {
    double low_mhz;
    double high_mhz;
} channel;

const fe_power_rule *fe_power_rule_table(size_t *count)
{
    *count = RULE_COUNT;
    return RULES;
}

const char *const *fe_power_areas(size_t *count)
{
    *count = AREA_COUNT;
    return AREAS;
}

bool fe_power_area_known(const char *area)
{
    for (size_t i = 0; area && i < AREA_COUNT; i++)
        if (strcmp(area, AREAS[i]) == 0)
            return true;
    return false;
}

static bool in_range(double f_mhz, double low_mhz, double high_mhz)
{
    return f_mhz >= low_mhz && f_mhz <= high_mhz;
}

/* Whether a rule speaks of one frequency and leaves the whole channel out of its gap. */
static bool rule_holds(const fe_power_rule *rule, double f_mhz, channel whole)
{
    const bool meets_gap =
        whole.high_mhz > rule->gap_low_mhz && whole.low_mhz < rule->gap_high_mhz;
    return !meets_gap && (in_range(f_mhz, rule->f_low_mhz, rule->f_high_mhz) ||
                          in_range(f_mhz, rule->also_low_mhz, rule->also_high_mhz));
}

/* Whether a rule is for what is to be done; the named use, or anything that needs no
 * permission. */
static bool rule_fits(const fe_power_rule *rule, const fe_power_query *query)
{
    const unsigned flags = rule->flags;
    if (strcmp(rule->area, query->area) != 0)
        return false;
    if (query->use)
        return strcmp(rule->use, query->use) == 0;
    return !(flags & (FE_POWER_LICENCE | FE_POWER_COORDINATION)) &&
           !((flags & FE_POWER_POINT_TO_POINT) && !query->point_to_point) &&
           !((flags & FE_POWER_ACCESS_POINT) && !query->access_point) &&
           !((flags & FE_POWER_CLIENT) && query->access_point) &&
           !((flags & FE_POWER_CONTROL) && !query->power_control) &&
           !((flags & FE_POWER_PORTABLE) && query->outdoor);
}

/* The smaller, where NAN means no limit. */
static double tighter(double a, double b)
{
    return fmin(a, b); /* fmin leaves a NAN aside */
}

static double conducted_dbm(const fe_power_rule *rule, const fe_power_query *query)
{
    const double width_db = 10.0 * log10(query->width_hz / 1e6);
    const bool density = strcmp(rule->psd_kind, "conducted") == 0;
    const double whole_dbm = tighter(rule->conducted_limit_dbm,
                                     density ? rule->psd_limit_dbm_per_mhz + width_db : NAN);
    const double above_db = query->antenna_gain_dbi - rule->gain_before_backoff_dbi;
    return whole_dbm - (above_db > 0.0 ? rule->backoff_db_per_db * above_db : 0.0);
}

static double eirp_dbm(const fe_power_rule *rule, const fe_power_query *query)
{
    const double width_db = 10.0 * log10(query->width_hz / 1e6);
    const bool density = strcmp(rule->psd_kind, "eirp") == 0;
    const double whole_dbm =
        tighter(rule->eirp_limit_dbm, density ? rule->psd_limit_dbm_per_mhz + width_db : NAN);
    const double below_db = SLOPE_GAIN_DBI - query->antenna_gain_dbi;
    return (rule->flags & FE_POWER_GAIN_SLOPE) && below_db > 0.0 ? whole_dbm - 2.0 * below_db
                                                                 : whole_dbm;
}

static double radar_wait_s(const fe_power_rule *rule, channel whole)
{
    if (!(rule->flags & FE_POWER_RADAR))
        return 0.0;
    const bool europe = strcmp(rule->area, "EU") == 0 || strcmp(rule->area, "UK") == 0;
    const bool weather = whole.high_mhz > WEATHER_LOW_MHZ && whole.low_mhz < WEATHER_HIGH_MHZ;
    return europe && weather ? RADAR_WAIT_WEATHER_S : RADAR_WAIT_S;
}

static fe_power_limit limit_of(const fe_power_rule *rule, const fe_power_query *query,
                               channel whole)
{
    const double net_gain_db = query->antenna_gain_dbi - query->feeder_loss_db;
    fe_power_limit limit = {
        .rule = rule,
        .max_conducted_dbm =
            tighter(conducted_dbm(rule, query), eirp_dbm(rule, query) - net_gain_db),
        .outdoor_forbidden = query->outdoor && !rule->outdoor_allowed,
        .radar = (rule->flags & FE_POWER_RADAR) != 0,
        .radar_wait_s = radar_wait_s(rule, whole),
        .duty_cycle = query->access_point ? rule->duty_cycle_access_point : rule->duty_cycle,
    };
    limit.eirp_dbm = limit.max_conducted_dbm + net_gain_db;
    return limit;
}

/* Allowed outdoors before forbidden, then the stronger. */
static bool is_kinder(const fe_power_limit *a, const fe_power_limit *b)
{
    if (a->outdoor_forbidden != b->outdoor_forbidden)
        return !a->outdoor_forbidden;
    return a->eirp_dbm > b->eirp_dbm;
}

/* The kindest rule at one frequency of the channel; false where there is none. */
static bool best_at(const fe_power_query *query, double f_mhz, channel whole,
                    fe_power_limit *best)
{
    bool found = false;
    for (size_t i = 0; i < RULE_COUNT; i++) {
        if (!rule_fits(&RULES[i], query) || !rule_holds(&RULES[i], f_mhz, whole))
            continue;
        const fe_power_limit limit = limit_of(&RULES[i], query, whole);
        if (!found || is_kinder(&limit, best))
            *best = limit;
        found = true;
    }
    return found;
}

/* A channel across two bands must meet the rules of both. */
static fe_power_limit stricter_of(const fe_power_limit *a, const fe_power_limit *b)
{
    fe_power_limit strict = a->eirp_dbm <= b->eirp_dbm ? *a : *b;
    strict.outdoor_forbidden = a->outdoor_forbidden || b->outdoor_forbidden;
    strict.radar = a->radar || b->radar;
    strict.radar_wait_s = fmax(a->radar_wait_s, b->radar_wait_s);
    strict.duty_cycle = fmin(a->duty_cycle, b->duty_cycle);
    return strict;
}

static bool is_query(const fe_power_query *query)
{
    return query && fe_power_area_known(query->area) && is_positive(query->f_hz) &&
           (isnan(query->width_hz) || query->width_hz > 0.0) && !isinf(query->width_hz) &&
           isfinite(query->antenna_gain_dbi) && is_at_least_zero(query->feeder_loss_db);
}

fe_status fe_power_limit_at(const fe_power_query *query, fe_power_limit *limit)
{
    if (!is_query(query))
        return FE_E_DOMAIN;
    /* Just inside the ends, so that a channel that ends where its band ends is in that band. */
    const double half_mhz =
        isnan(query->width_hz) ? 0.0 : 0.5 * query->width_hz / 1e6 * (1.0 - 1e-6);
    const channel whole = {query->f_hz / 1e6 - half_mhz, query->f_hz / 1e6 + half_mhz};
    fe_power_limit low = {0};
    fe_power_limit high = {0};
    if (!best_at(query, whole.low_mhz, whole, &low) ||
        !best_at(query, whole.high_mhz, whole, &high))
        return FE_E_NO_SOLUTION;
    *limit = stricter_of(&low, &high);
    return limit->outdoor_forbidden ? FE_W_RANGE : FE_OK;
}

/* The stretches that a rule opens: before and after its gap, and its second range. */
static size_t stretches_of(const fe_power_rule *rule, channel stretches[3])
{
    size_t count = 0;
    if (isnan(rule->gap_low_mhz)) {
        stretches[count++] = (channel){rule->f_low_mhz, rule->f_high_mhz};
    } else {
        stretches[count++] = (channel){rule->f_low_mhz, rule->gap_low_mhz};
        stretches[count++] = (channel){rule->gap_high_mhz, rule->f_high_mhz};
    }
    if (!isnan(rule->also_low_mhz))
        stretches[count++] = (channel){rule->also_low_mhz, rule->also_high_mhz};
    return count;
}

static bool rule_opens(const fe_power_rule *rule, const char *area, bool outdoor)
{
    return strcmp(rule->area, area) == 0 &&
           !(rule->flags & (FE_POWER_LICENCE | FE_POWER_COORDINATION)) &&
           (!outdoor || (rule->outdoor_allowed && !(rule->flags & FE_POWER_PORTABLE)));
}

/* How far a frequency lies outside a stretch, as a ratio of 1 or more. */
static double ratio_outside(double f_mhz, channel stretch)
{
    return fmax(fmax(stretch.low_mhz / f_mhz, f_mhz / stretch.high_mhz), 1.0);
}

/* Widens a stretch by every other that touches it; true where one did. */
static bool widen(channel *stretch, const char *area, bool outdoor)
{
    const channel before = *stretch;
    for (size_t i = 0; i < RULE_COUNT; i++) {
        channel others[3];
        const size_t count =
            rule_opens(&RULES[i], area, outdoor) ? stretches_of(&RULES[i], others) : 0;
        for (size_t k = 0; k < count; k++)
            if (others[k].low_mhz <= stretch->high_mhz &&
                others[k].high_mhz >= stretch->low_mhz) {
                stretch->low_mhz = fmin(stretch->low_mhz, others[k].low_mhz);
                stretch->high_mhz = fmax(stretch->high_mhz, others[k].high_mhz);
            }
    }
    return stretch->low_mhz < before.low_mhz || stretch->high_mhz > before.high_mhz;
}

fe_status fe_power_nearest_band(const char *area, double f_hz, bool outdoor,
                                fe_power_band *band)
{
    if (!fe_power_area_known(area) || !is_positive(f_hz))
        return FE_E_DOMAIN;
    const double f_mhz = f_hz / 1e6;
    double nearest = INFINITY;
    channel found = {0.0, 0.0};
    for (size_t i = 0; i < RULE_COUNT; i++) {
        channel stretches[3];
        const size_t count =
            rule_opens(&RULES[i], area, outdoor) ? stretches_of(&RULES[i], stretches) : 0;
        for (size_t k = 0; k < count; k++)
            if (ratio_outside(f_mhz, stretches[k]) < nearest) {
                nearest = ratio_outside(f_mhz, stretches[k]);
                found = stretches[k];
            }
    }
    if (!isfinite(nearest))
        return FE_E_NO_SOLUTION;
    while (widen(&found, area, outdoor))
        ;
    *band = (fe_power_band){1e6 * found.low_mhz, 1e6 * found.high_mhz, nearest <= 1.0};
    return FE_OK;
}
