/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/hop.h"

const char *fe_region_name(fe_region region)
{
    static const char *const NAMES[FE_REGIONS] = {"US", "EU", "UK", "CA", "AU"};
    return NAMES[region];
}

double fe_band_frequency(fe_band band, fe_region region)
{
    switch (band) {
    case FE_BAND_SUB_GHZ:
        /* The 800 MHz band of Europe, the 900 MHz band elsewhere. */
        return region == FE_REGION_EU || region == FE_REGION_UK ? 866e6 : 917e6;
    case FE_BAND_2_4_GHZ:
        return 2437e6;
    case FE_BAND_5_GHZ:
        /* Where outdoor use is open in every region, radar channels included. */
        return 5580e6;
    case FE_BAND_6_GHZ:
        return 6175e6;
    case FE_BAND_60_GHZ:
    case FE_BANDS:
        break;
    }
    return 60480e6;
}
