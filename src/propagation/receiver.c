/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/receiver.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"

/* Thermal noise of 20 MHz (-101 dBm) with 10 dB of noise figure and 5 dB of implementation. */
static const double FLOOR_20_MHZ_DBM = -86.0;
static const double REFERENCE_WIDTH_HZ = 20e6;

double fe_receiver_noise_dbm(fe_band band, fe_noise noise)
{
    /* dBm in 20 MHz; common practice, no source. The lower the band, the more is on it. */
    static const double NOISE_DBM[FE_BANDS][3] = {
        /* quiet, village, flats */
        [FE_BAND_SUB_GHZ] = {-104.0, -95.0, -88.0},  [FE_BAND_2_4_GHZ] = {-104.0, -91.0, -82.0},
        [FE_BAND_5_GHZ] = {-106.0, -98.0, -90.0},    [FE_BAND_6_GHZ] = {-108.0, -102.0, -96.0},
        [FE_BAND_60_GHZ] = {-110.0, -110.0, -108.0},
    };
    return NOISE_DBM[band][noise];
}

fe_status fe_receiver_threshold(double sensitivity_dbm, double width_hz, double outside_dbm,
                                double bonus_db, double *threshold_dbm)
{
    if (!isfinite(sensitivity_dbm) || !is_positive(width_hz))
        return FE_E_DOMAIN;
    if (isnan(outside_dbm) || outside_dbm > 100.0 || !is_at_least_zero(bonus_db))
        return FE_E_DOMAIN;

    const double floor_dbm = FLOOR_20_MHZ_DBM + 10.0 * log10(width_hz / REFERENCE_WIDTH_HZ);
    const double ratio_db = sensitivity_dbm - floor_dbm;
    const double noise_mw = pow(10.0, floor_dbm / 10.0) + pow(10.0, outside_dbm / 10.0);
    *threshold_dbm = 10.0 * log10(noise_mw) + ratio_db - bonus_db;
    return FE_OK;
}

double fe_receiver_efficiency(const char *standard)
{
    static const struct {
        const char *standard;
        double share;
    } SHARES[] = {
        /* Short frames and long waits leave less; frame aggregation came with ht. */
        {"dsss", 0.45}, {"hr_dsss", 0.5}, {"ofdm", 0.5}, {"s1g", 0.5}, {"ht", 0.55},
        {"vht", 0.6},   {"he", 0.6},      {"eht", 0.6},  {"dmg", 0.6},
    };
    for (size_t i = 0; i < sizeof SHARES / sizeof SHARES[0]; i++)
        if (strcmp(standard, SHARES[i].standard) == 0)
            return SHARES[i].share;
    return 0.5;
}
