/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/wifi.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Modulation and code rate. Sensitivity in a 20 MHz channel: IEEE 802.11-2016 Table 17-18,
 * 19-23, 21-25, 802.11ax Table 27-51, 802.11be 36.3.21. Rejection of the adjacent channel: same
 * clauses (from memory); two channels away 16 dB more. Repetition: 802.11ah 23.3.18 (from
 * memory).
 */
typedef struct modulation {
    const char *name;
    double bits; /* a tone and stream */
    double code_rate;
    double sensitivity_20_dbm;
    double adjacent_db;
} modulation;

enum { BPSK_1_2, QPSK_1_2, BPSK_3_4 = 14, BPSK_REPEATED };

/* The first fourteen are MCS 0 to 13 of HT, VHT, HE, EHT and S1G. */
static const modulation MODULATIONS[] = {
    /* name            bits  code   dBm at 20 MHz  adjacent dB */
    {"BPSK 1/2", 1, 1.0 / 2, -82, 16},       {"QPSK 1/2", 2, 1.0 / 2, -79, 13},
    {"QPSK 3/4", 2, 3.0 / 4, -77, 11},       {"16-QAM 1/2", 4, 1.0 / 2, -74, 8},
    {"16-QAM 3/4", 4, 3.0 / 4, -70, 4},      {"64-QAM 2/3", 6, 2.0 / 3, -66, 0},
    {"64-QAM 3/4", 6, 3.0 / 4, -65, -1},     {"64-QAM 5/6", 6, 5.0 / 6, -64, -2},
    {"256-QAM 3/4", 8, 3.0 / 4, -59, -7},    {"256-QAM 5/6", 8, 5.0 / 6, -57, -9},
    {"1024-QAM 3/4", 10, 3.0 / 4, -54, -12}, {"1024-QAM 5/6", 10, 5.0 / 6, -52, -14},
    {"4096-QAM 3/4", 12, 3.0 / 4, -49, -17}, {"4096-QAM 5/6", 12, 5.0 / 6, -46, -20},
    {"BPSK 3/4", 1, 3.0 / 4, -81, 15},       {"BPSK 1/2 repeated twice", 1, 1.0 / 4, -85, NAN},
};
static const double NON_ADJACENT_MORE_DB = 16.0;

static const char *const MCS_NAMES[] = {
    "MCS0",  "MCS1",  "MCS2",  "MCS3",  "MCS4",  "MCS5",  "MCS6",  "MCS7",
    "MCS8",  "MCS9",  "MCS10", "MCS11", "MCS12", "MCS13", "MCS14", "MCS15",
    "MCS16", "MCS17", "MCS18", "MCS19", "MCS20", "MCS21", "MCS22", "MCS23",
    "MCS24", "MCS25", "MCS26", "MCS27", "MCS28", "MCS29", "MCS30", "MCS31",
};

/* OFDM rates of IEEE 802.11-2016 Table 17-4, in rising order. */
static const struct {
    const char *name;
    int modulation;
} OFDM_RATES[] = {
    {"6 Mb/s", BPSK_1_2}, {"9 Mb/s", BPSK_3_4}, {"12 Mb/s", 1}, {"18 Mb/s", 2},
    {"24 Mb/s", 3},       {"36 Mb/s", 4},       {"48 Mb/s", 5}, {"54 Mb/s", 6},
};
enum { OFDM_RATE_COUNT = sizeof OFDM_RATES / sizeof *OFDM_RATES };

/*
 * Modes that no formula gives. DSSS: IEEE 802.11-2016 15.4.6.2 and 15.4.6.4 (1 Mb/s as 2 Mb/s,
 * from memory); HR/DSSS: 16.3.8.2 and 16.3.8.4; DMG: clause 20 tables, all from memory.
 */
typedef struct listed_mode {
    fe_wifi_standard standard;
    int mcs;
    const char *name;
    const char *modulation;
    double rate_mbps;
    double sensitivity_dbm;
    double adjacent_db;
    double per_limit;
    int psdu_octets;
} listed_mode;

static const listed_mode LISTED[] = {
    {FE_WIFI_DSSS, 0, "1 Mb/s", "DBPSK", 1, -80, 35, 0.08, 1024},
    {FE_WIFI_DSSS, 1, "2 Mb/s", "DQPSK", 2, -80, 35, 0.08, 1024},
    {FE_WIFI_HR_DSSS, 0, "5.5 Mb/s", "CCK", 5.5, -76, 35, 0.08, 1024},
    {FE_WIFI_HR_DSSS, 1, "11 Mb/s", "CCK", 11, -76, 35, 0.08, 1024},
    {FE_WIFI_DMG, 0, "MCS0", "control DBPSK 1/2 spread 32", 27.5, -78, NAN, 0.05, 256},
    {FE_WIFI_DMG, 1, "MCS1", "pi/2-BPSK 1/2 repeated twice", 385, -68, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 2, "MCS2", "pi/2-BPSK 1/2", 770, -66, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 3, "MCS3", "pi/2-BPSK 5/8", 962.5, -65, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 4, "MCS4", "pi/2-BPSK 3/4", 1155, -64, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 5, "MCS5", "pi/2-BPSK 13/16", 1251.25, -62, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 6, "MCS6", "pi/2-QPSK 1/2", 1540, -63, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 7, "MCS7", "pi/2-QPSK 5/8", 1925, -62, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 8, "MCS8", "pi/2-QPSK 3/4", 2310, -61, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 9, "MCS9", "pi/2-QPSK 13/16", 2502.5, -59, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 10, "MCS10", "pi/2-16-QAM 1/2", 3080, -55, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 11, "MCS11", "pi/2-16-QAM 5/8", 3850, -54, NAN, 0.01, 4096},
    {FE_WIFI_DMG, 12, "MCS12", "pi/2-16-QAM 3/4", 4620, -53, NAN, 0.01, 4096},
};
enum { LISTED_COUNT = sizeof LISTED / sizeof *LISTED };

/* What a standard shares between its modes; times in us. psdu 0: not known to us. */
typedef struct standard_row {
    const char *name;
    double dft_us;       /* 0: no OFDM formula */
    double guards_us[3]; /* the normal one first, 0 ends */
    int streams_max;
    int mcs_max;
    double per_limit;
    int psdu_octets;
} standard_row;

static const standard_row STANDARDS[FE_WIFI_STANDARD_COUNT] = {
    [FE_WIFI_DSSS] = {"dsss", 0, {0}, 1, 1, 0.08, 1024},
    [FE_WIFI_HR_DSSS] = {"hr_dsss", 0, {0}, 1, 1, 0.08, 1024},
    [FE_WIFI_OFDM] = {"ofdm", 3.2, {0.8}, 1, OFDM_RATE_COUNT - 1, 0.10, 1000},
    [FE_WIFI_HT] = {"ht", 3.2, {0.8, 0.4}, 4, 7, 0.10, 4096},
    [FE_WIFI_VHT] = {"vht", 3.2, {0.8, 0.4}, 8, 9, 0.10, 4096},
    [FE_WIFI_HE] = {"he", 12.8, {0.8, 1.6, 3.2}, 8, 11, 0.10, 4096},
    [FE_WIFI_EHT] = {"eht", 12.8, {0.8, 1.6, 3.2}, 8, 13, 0.10, 4096},
    [FE_WIFI_S1G] = {"s1g", 32.0, {8.0, 4.0}, 4, 10, 0.10, 256},
    [FE_WIFI_DMG] = {"dmg", 0, {0}, 1, 12, 0.01, 4096},
};

/* Data tones of each width; a standard's widths are its rows here. Source: rate clauses of
 * IEEE 802.11-2016, 802.11ax, 802.11be, 802.11ah. */
static const struct {
    fe_wifi_standard standard;
    double width_mhz;
    int tones; /* 0: rates are listed */
} WIDTHS[] = {
    {FE_WIFI_DSSS, 22, 0},   {FE_WIFI_HR_DSSS, 22, 0}, {FE_WIFI_OFDM, 20, 48},
    {FE_WIFI_HT, 20, 52},    {FE_WIFI_HT, 40, 108},    {FE_WIFI_VHT, 20, 52},
    {FE_WIFI_VHT, 40, 108},  {FE_WIFI_VHT, 80, 234},   {FE_WIFI_VHT, 160, 468},
    {FE_WIFI_HE, 20, 234},   {FE_WIFI_HE, 40, 468},    {FE_WIFI_HE, 80, 980},
    {FE_WIFI_HE, 160, 1960}, {FE_WIFI_EHT, 20, 234},   {FE_WIFI_EHT, 40, 468},
    {FE_WIFI_EHT, 80, 980},  {FE_WIFI_EHT, 160, 1960}, {FE_WIFI_EHT, 320, 3920},
    {FE_WIFI_S1G, 1, 24},    {FE_WIFI_S1G, 2, 52},     {FE_WIFI_S1G, 4, 108},
    {FE_WIFI_S1G, 8, 234},   {FE_WIFI_S1G, 16, 468},   {FE_WIFI_DMG, 2160, 0},
};
enum { WIDTH_COUNT = sizeof WIDTHS / sizeof *WIDTHS };

/*
 * Combinations that are not defined because the coded bits do not divide among the encoders.
 * Source: IEEE 802.11-2016 21.5 (from memory). S1G is VHT slowed down tenfold and inherits
 * them at a tenth of the width (from memory).
 */
static const struct {
    double vht_width_mhz;
    int mcs;
    const char *streams;
} UNDEFINED[] = {
    {20, 9, "124578"},
    {80, 6, "37"},
    {80, 9, "6"},
    {160, 9, "3"},
};
enum { UNDEFINED_COUNT = sizeof UNDEFINED / sizeof *UNDEFINED };

static const struct {
    const char *name;
    double low_mhz;
    double high_mhz;
    double width_max_mhz;
    unsigned standards; /* one bit each */
} BANDS[FE_WIFI_BAND_COUNT] = {
#define HAS(standard) (1U << (FE_WIFI_##standard))
    [FE_WIFI_BAND_S1G_EU] = {"s1g_eu", 863, 868, 2, HAS(S1G)},
    [FE_WIFI_BAND_S1G_US] = {"s1g_us", 902, 928, 16, HAS(S1G)},
    [FE_WIFI_BAND_2G4] = {"2.4", 2400, 2500, 40,
                          HAS(DSSS) | HAS(HR_DSSS) | HAS(OFDM) | HAS(HT) | HAS(HE) | HAS(EHT)},
    [FE_WIFI_BAND_5G] = {"5", 5150, 5895, 160,
                         HAS(OFDM) | HAS(HT) | HAS(VHT) | HAS(HE) | HAS(EHT)},
    [FE_WIFI_BAND_6G] = {"6", 5925, 7125, 320, HAS(HE) | HAS(EHT)},
    [FE_WIFI_BAND_60G] = {"60", 57000, 71000, 2160, HAS(DMG)},
#undef HAS
};

/* Runs of channels: first, last, step; centre = start + number x spacing. */
static const struct {
    fe_wifi_band band;
    double width_mhz;
    int first;
    int last;
    int step;
    double start_mhz;
    double spacing_mhz;
} CHANNELS[] = {
    {FE_WIFI_BAND_2G4, 20, 1, 13, 1, 2407, 5},
    {FE_WIFI_BAND_2G4, 20, 14, 14, 1, 2484, 0},
    {FE_WIFI_BAND_2G4, 40, 3, 11, 1, 2407, 5},
    {FE_WIFI_BAND_5G, 20, 36, 64, 4, 5000, 5},
    {FE_WIFI_BAND_5G, 20, 100, 144, 4, 5000, 5},
    {FE_WIFI_BAND_5G, 20, 149, 177, 4, 5000, 5},
    {FE_WIFI_BAND_5G, 40, 38, 62, 8, 5000, 5},
    {FE_WIFI_BAND_5G, 40, 102, 142, 8, 5000, 5},
    {FE_WIFI_BAND_5G, 40, 151, 175, 8, 5000, 5},
    {FE_WIFI_BAND_5G, 80, 42, 58, 16, 5000, 5},
    {FE_WIFI_BAND_5G, 80, 106, 138, 16, 5000, 5},
    {FE_WIFI_BAND_5G, 80, 155, 171, 16, 5000, 5},
    {FE_WIFI_BAND_5G, 160, 50, 50, 1, 5000, 5},
    {FE_WIFI_BAND_5G, 160, 114, 114, 1, 5000, 5},
    {FE_WIFI_BAND_5G, 160, 163, 163, 1, 5000, 5},
    {FE_WIFI_BAND_6G, 20, 1, 233, 4, 5950, 5},
    {FE_WIFI_BAND_6G, 20, 2, 2, 1, 5925, 5},
    {FE_WIFI_BAND_6G, 40, 3, 227, 8, 5950, 5},
    {FE_WIFI_BAND_6G, 80, 7, 215, 16, 5950, 5},
    {FE_WIFI_BAND_6G, 160, 15, 207, 32, 5950, 5},
    {FE_WIFI_BAND_6G, 320, 31, 191, 32, 5950, 5},
    {FE_WIFI_BAND_S1G_US, 1, 1, 51, 2, 902, 0.5},
    {FE_WIFI_BAND_S1G_US, 2, 2, 50, 4, 902, 0.5},
    {FE_WIFI_BAND_S1G_US, 4, 8, 48, 8, 902, 0.5},
    {FE_WIFI_BAND_S1G_US, 8, 12, 44, 16, 902, 0.5},
    {FE_WIFI_BAND_S1G_US, 16, 20, 20, 1, 902, 0.5},
    {FE_WIFI_BAND_S1G_EU, 1, 1, 9, 2, 863, 0.5},
    {FE_WIFI_BAND_S1G_EU, 2, 2, 6, 4, 863, 0.5},
    {FE_WIFI_BAND_60G, 2160, 1, 6, 1, 56160, 2160},
};
enum { CHANNEL_RUNS = sizeof CHANNELS / sizeof *CHANNELS };

static bool is_standard(fe_wifi_standard standard)
{
    return (int)standard >= 0 && standard < FE_WIFI_STANDARD_COUNT;
}

static bool is_band(fe_wifi_band band)
{
    return (int)band >= 0 && band < FE_WIFI_BAND_COUNT;
}

const char *fe_wifi_standard_name(fe_wifi_standard standard)
{
    return is_standard(standard) ? STANDARDS[standard].name : "";
}

const char *fe_wifi_band_name(fe_wifi_band band)
{
    return is_band(band) ? BANDS[band].name : "";
}

bool fe_wifi_standard_find(const char *name, fe_wifi_standard *standard)
{
    for (int i = 0; name && i < FE_WIFI_STANDARD_COUNT; i++)
        if (strcmp(name, STANDARDS[i].name) == 0) {
            *standard = (fe_wifi_standard)i;
            return true;
        }
    return false;
}

bool fe_wifi_band_find(const char *name, fe_wifi_band *band)
{
    for (int i = 0; name && i < FE_WIFI_BAND_COUNT; i++)
        if (strcmp(name, BANDS[i].name) == 0) {
            *band = (fe_wifi_band)i;
            return true;
        }
    return false;
}

void fe_wifi_band_edges(fe_wifi_band band, double *low_hz, double *high_hz)
{
    *low_hz = is_band(band) ? 1e6 * BANDS[band].low_mhz : NAN;
    *high_hz = is_band(band) ? 1e6 * BANDS[band].high_mhz : NAN;
}

bool fe_wifi_band_of(double f_hz, fe_wifi_band *band)
{
    for (int i = 0; i < FE_WIFI_BAND_COUNT; i++)
        if (f_hz >= 1e6 * BANDS[i].low_mhz && f_hz <= 1e6 * BANDS[i].high_mhz) {
            *band = (fe_wifi_band)i;
            return true;
        }
    return false;
}

bool fe_wifi_standard_in_band(fe_wifi_standard standard, fe_wifi_band band)
{
    return is_standard(standard) && is_band(band) &&
           (BANDS[band].standards >> standard & 1U) != 0;
}

size_t fe_wifi_widths(fe_wifi_standard standard, fe_wifi_band band,
                      double widths_hz[FE_WIFI_WIDTHS_MAX])
{
    size_t count = 0;
    if (!fe_wifi_standard_in_band(standard, band))
        return 0;
    for (size_t i = 0; i < WIDTH_COUNT; i++)
        if (WIDTHS[i].standard == standard && WIDTHS[i].width_mhz <= BANDS[band].width_max_mhz)
            widths_hz[count++] = 1e6 * WIDTHS[i].width_mhz;
    return count;
}

int fe_wifi_streams_max(fe_wifi_standard standard)
{
    return is_standard(standard) ? STANDARDS[standard].streams_max : 0;
}

/* Widths are round numbers of Hz; a double that came through a unit may be off by its last
 * digit. */
static bool same_width(double width_hz, double width_mhz)
{
    return fabs(width_hz - 1e6 * width_mhz) < 1.0;
}

/* -1: not a width of this standard. DSSS fills 22 MHz of a channel called 20 MHz wide. */
static int tones_of(fe_wifi_standard standard, double width_hz)
{
    for (size_t i = 0; i < WIDTH_COUNT; i++) {
        if (WIDTHS[i].standard != standard)
            continue;
        if (same_width(width_hz, WIDTHS[i].width_mhz) ||
            (WIDTHS[i].width_mhz == 22 && same_width(width_hz, 20)))
            return WIDTHS[i].tones;
    }
    return -1;
}

/* Guard interval in us as the standard has it; 0: none such. */
static double guard_us(const standard_row *row, double guard_interval_s)
{
    if (isnan(guard_interval_s))
        return row->guards_us[0];
    for (int i = 0; i < 3; i++)
        if (row->guards_us[i] > 0.0 && fabs(guard_interval_s * 1e6 - row->guards_us[i]) < 1e-6)
            return row->guards_us[i];
    return 0.0;
}

static bool is_undefined(const fe_wifi_link *link, int mcs)
{
    const double slowed = link->standard == FE_WIFI_S1G ? 10.0 : 1.0;
    if (link->standard != FE_WIFI_VHT && link->standard != FE_WIFI_S1G)
        return false;
    for (size_t i = 0; i < UNDEFINED_COUNT; i++)
        if (mcs == UNDEFINED[i].mcs &&
            same_width(link->width_hz * slowed, UNDEFINED[i].vht_width_mhz) &&
            strchr(UNDEFINED[i].streams, '0' + link->streams))
            return true;
    return false;
}

/* Index into MODULATIONS, -1 where the standard has no such index for this link. */
static int modulation_of(const fe_wifi_link *link, int mcs)
{
    if (mcs < 0)
        return -1;
    switch (link->standard) {
    case FE_WIFI_OFDM:
        return mcs < OFDM_RATE_COUNT ? OFDM_RATES[mcs].modulation : -1;
    case FE_WIFI_HT:
        if (mcs >= 8 && mcs / 8 + 1 != link->streams)
            return -1;
        return mcs < 32 ? mcs % 8 : -1;
    case FE_WIFI_S1G:
        if (mcs == 10)
            return same_width(link->width_hz, 1) && link->streams == 1 ? BPSK_REPEATED : -1;
        return mcs <= 9 ? mcs : -1;
    default:
        return mcs <= STANDARDS[link->standard].mcs_max ? mcs : -1;
    }
}

static const char *mode_name(fe_wifi_standard standard, int mcs)
{
    return standard == FE_WIFI_OFDM ? OFDM_RATES[mcs].name : MCS_NAMES[mcs];
}

static double sensitivity_dbm(const fe_wifi_link *link, const modulation *how)
{
    const bool s1g = link->standard == FE_WIFI_S1G;
    const double doublings = log2(link->width_hz / (s1g ? 2e6 : 20e6));
    return how->sensitivity_20_dbm - (s1g ? 10.0 : 0.0) + 3.0 * round(doublings);
}

static fe_status computed_mode(const fe_wifi_link *link, int tones, int mcs, fe_wifi_mode *mode)
{
    const standard_row *row = &STANDARDS[link->standard];
    const double guard = guard_us(row, link->guard_interval_s);
    const int which = modulation_of(link, mcs);
    if (which < 0 || !(guard > 0.0) || is_undefined(link, mcs))
        return FE_E_DOMAIN;
    const modulation *how = &MODULATIONS[which];
    *mode = (fe_wifi_mode){
        .mcs = mcs,
        .name = mode_name(link->standard, mcs),
        .modulation = how->name,
        .rate_bps =
            1e6 * tones * how->bits * how->code_rate * link->streams / (row->dft_us + guard),
        .min_sensitivity_dbm = sensitivity_dbm(link, how),
        .adjacent_rejection_db = how->adjacent_db,
        .non_adjacent_rejection_db = how->adjacent_db + NON_ADJACENT_MORE_DB,
        .per_limit = row->per_limit,
        .psdu_octets = row->psdu_octets,
    };
    return FE_OK;
}

static fe_status found_listed_mode(fe_wifi_standard standard, int mcs, fe_wifi_mode *mode)
{
    for (size_t i = 0; i < LISTED_COUNT; i++) {
        const listed_mode *row = &LISTED[i];
        if (row->standard != standard || row->mcs != mcs)
            continue;
        *mode = (fe_wifi_mode){
            .mcs = mcs,
            .name = row->name,
            .modulation = row->modulation,
            .rate_bps = 1e6 * row->rate_mbps,
            .min_sensitivity_dbm = row->sensitivity_dbm,
            .adjacent_rejection_db = row->adjacent_db,
            .non_adjacent_rejection_db = NAN,
            .per_limit = row->per_limit,
            .psdu_octets = row->psdu_octets,
        };
        return FE_OK;
    }
    return FE_E_DOMAIN;
}

fe_status fe_wifi_mode_at(const fe_wifi_link *link, int mcs, fe_wifi_mode *mode)
{
    if (!link || !is_standard(link->standard) || !isfinite(link->width_hz) ||
        isinf(link->guard_interval_s) || link->streams < 1 ||
        link->streams > STANDARDS[link->standard].streams_max)
        return FE_E_DOMAIN;
    const int tones = tones_of(link->standard, link->width_hz);
    if (tones < 0)
        return FE_E_DOMAIN;
    return tones > 0 ? computed_mode(link, tones, mcs, mode)
                     : found_listed_mode(link->standard, mcs, mode);
}

static int by_rate(const void *a, const void *b)
{
    const double x = ((const fe_wifi_mode *)a)->rate_bps;
    const double y = ((const fe_wifi_mode *)b)->rate_bps;
    return (x > y) - (x < y);
}

fe_status fe_wifi_modes(const fe_wifi_link *link, fe_wifi_mode modes[FE_WIFI_MODES_MAX],
                        size_t *count)
{
    fe_wifi_mode found[FE_WIFI_MODES_MAX];
    size_t n = 0;
    if (!link || !is_standard(link->standard))
        return FE_E_DOMAIN;
    for (int mcs = 0; mcs <= STANDARDS[link->standard].mcs_max; mcs++)
        if (fe_wifi_mode_at(link, mcs, &found[n]) == FE_OK)
            n++;
    if (n == 0)
        return FE_E_DOMAIN;
    /* The repeated mode of S1G has the highest index and the lowest rate. */
    qsort(found, n, sizeof *found, by_rate);
    memcpy(modes, found, n * sizeof *found);
    *count = n;
    return FE_OK;
}

/* "MCS3" and "3", "54 Mb/s" and "54" are the same mode. */
static bool names_mode(const char *text, const char *name)
{
    if (strcmp(text, name) == 0)
        return true;
    if (strncmp(name, "MCS", 3) == 0)
        return strcmp(text, name + 3) == 0;
    const size_t digits = strcspn(name, " ");
    return strlen(text) == digits && strncmp(text, name, digits) == 0;
}

bool fe_wifi_mcs_find(fe_wifi_standard standard, const char *name, int *mcs)
{
    if (!is_standard(standard) || !name)
        return false;
    const int last = standard == FE_WIFI_HT ? 31 : STANDARDS[standard].mcs_max;
    for (int i = 0; i <= last; i++) {
        fe_wifi_mode listed;
        const bool in_list = found_listed_mode(standard, i, &listed) == FE_OK;
        if (names_mode(name, in_list ? listed.name : mode_name(standard, i))) {
            *mcs = i;
            return true;
        }
    }
    return false;
}

double fe_wifi_rate_rounded_bps(double rate_bps, int decimals)
{
    const double scale = pow(10.0, decimals) / 1e6;
    /* The small addition keeps a half that binary arithmetic left just below itself. */
    return floor(rate_bps * scale + 0.5 + 1e-6) / scale;
}

static bool in_run(size_t run, fe_wifi_band band, double width_hz)
{
    return CHANNELS[run].band == band &&
           (same_width(width_hz, CHANNELS[run].width_mhz) ||
            (band == FE_WIFI_BAND_2G4 && CHANNELS[run].width_mhz == 20 &&
             same_width(width_hz, 22)));
}

static double centre_hz_of(size_t run, int number)
{
    return 1e6 * (CHANNELS[run].start_mhz + CHANNELS[run].spacing_mhz * number);
}

static int by_centre(const void *a, const void *b)
{
    const double x = ((const fe_wifi_channel *)a)->centre_hz;
    const double y = ((const fe_wifi_channel *)b)->centre_hz;
    return (x > y) - (x < y);
}

size_t fe_wifi_channels(fe_wifi_band band, double width_hz,
                        fe_wifi_channel channels[FE_WIFI_CHANNELS_MAX])
{
    size_t count = 0;
    for (size_t run = 0; run < CHANNEL_RUNS; run++) {
        if (!in_run(run, band, width_hz))
            continue;
        for (int n = CHANNELS[run].first; n <= CHANNELS[run].last; n += CHANNELS[run].step)
            channels[count++] = (fe_wifi_channel){n, centre_hz_of(run, n)};
    }
    qsort(channels, count, sizeof *channels, by_centre);
    return count;
}

fe_status fe_wifi_channel_centre(fe_wifi_band band, double width_hz, int number,
                                 double *centre_hz)
{
    for (size_t run = 0; run < CHANNEL_RUNS; run++) {
        if (!in_run(run, band, width_hz) || number < CHANNELS[run].first ||
            number > CHANNELS[run].last ||
            (number - CHANNELS[run].first) % CHANNELS[run].step != 0)
            continue;
        *centre_hz = centre_hz_of(run, number);
        return FE_OK;
    }
    return FE_E_DOMAIN;
}
