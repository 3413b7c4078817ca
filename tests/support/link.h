/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TESTING_LINK_H
#define FAREND_TESTING_LINK_H

#include "farend/constants.h"
#include "farend/hop.h"
#include "farend/season.h"

/* Radios and a summer that several tests start from; what a test is about it changes itself. */

static const fe_radio OMNI = {.band = FE_BAND_2_4_GHZ,
                              .standard = "ht",
                              .width_hz = 20e6,
                              .streams = 1,
                              .power_dbm = 17.0,
                              .gain_dbi = 3.0,
                              .beam_rad = 2.0 * FE_PI,
                              .tilt_beam_rad = 1.0};

/* Of a small box that relays for others. */
static const fe_radio RELAY = {.band = FE_BAND_2_4_GHZ,
                               .standard = "ht",
                               .width_hz = 20e6,
                               .streams = 1,
                               .power_dbm = 15.0,
                               .falloff_db = 4.0,
                               .gain_dbi = 2.0,
                               .beam_rad = 2.0 * FE_PI,
                               .tilt_beam_rad = 1.4};

/* Of a house's router. */
static const fe_radio ROUTER = {.band = FE_BAND_2_4_GHZ,
                                .standard = "ht",
                                .width_hz = 20e6,
                                .streams = 2,
                                .power_dbm = 18.0,
                                .falloff_db = 4.0,
                                .gain_dbi = 3.0,
                                .beam_rad = 2.0 * FE_PI,
                                .tilt_beam_rad = 60.0 * FE_DEG_RAD,
                                .polarisation = FE_ANTENNA_VERTICAL};

static const fe_season SUMMER = {.name = "dry summer",
                                 .surface = FE_SURFACE_DRY_SOIL,
                                 .in_leaf = true,
                                 .trees = FE_TREES_DRY,
                                 .coldest_c = 5.0,
                                 .hottest_c = 30.0};

static inline fe_station outdoors(const fe_radio *radio, double height_m)
{
    return (fe_station){.radio = radio, .height_m = height_m, .mount = FE_MOUNT_OUTDOORS};
}

#endif
