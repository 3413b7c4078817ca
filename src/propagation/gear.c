/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/gear.h"

#include <stdlib.h>
#include <string.h>

#include "base/name.h"
#include "farend/constants.h"
#include "farend/quantity.h"

typedef struct band_row {
    const char *name;
    double low_hz; /* what an owner may mean by the band, wider than any region opens */
    double high_hz;
} band_row;

static const band_row BANDS[FE_BANDS] = {
    [FE_BAND_SUB_GHZ] = {"sub-GHz", 0.75e9, 0.96e9},
    [FE_BAND_2_4_GHZ] = {"2.4 GHz", 2.4e9, 2.5e9},
    [FE_BAND_5_GHZ] = {"5 GHz", 4.9e9, 5.925e9},
    [FE_BAND_6_GHZ] = {"6 GHz", 5.925e9, 7.125e9},
    [FE_BAND_60_GHZ] = {"60 GHz", 57e9, 71e9},
};

const char *fe_band_name(fe_band band)
{
    return (unsigned)band < FE_BANDS ? BANDS[band].name : "no band";
}

fe_status fe_band_from_text(const char *text, fe_band *band)
{
    double f_hz = 0.0;
    for (int i = 0; i < FE_BANDS; i++) {
        if (name_same_without_gaps(text, BANDS[i].name)) {
            *band = (fe_band)i;
            return FE_OK;
        }
    }
    if (fe_quantity_parse(text, FE_DIM_FREQUENCY, &f_hz) != FE_OK)
        return FE_E_INPUT;
    for (int i = 0; i < FE_BANDS; i++) {
        if (f_hz >= BANDS[i].low_hz && f_hz < BANDS[i].high_hz) {
            *band = (fe_band)i;
            return FE_OK;
        }
    }
    return FE_E_INPUT;
}

void fe_gear_free(fe_gear *gear)
{
    for (size_t i = 0; i < gear->source_count; i++)
        free(gear->sources[i]);
    free(gear->sources);
    free(gear->summary);
    *gear = (fe_gear){0};
}

bool fe_gear_takes_lead(const fe_gear *gear)
{
    return gear->outdoor && gear->port_bps > 0.0;
}

const fe_radio *fe_gear_radio(const fe_gear *gear, fe_band band)
{
    for (size_t i = 0; i < gear->radio_count; i++)
        if (gear->radios[i].band == band)
            return &gear->radios[i];
    return NULL;
}

bool fe_beam_is_narrow(double beam_rad)
{
    return beam_rad < 100.0 * FE_DEG_RAD;
}

bool fe_beam_is_all_round(double beam_rad)
{
    return beam_rad > 1.8 * FE_PI;
}
