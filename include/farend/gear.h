/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_GEAR_H
#define FAREND_GEAR_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Radio gear by class and figures. A class stands for what shops sell under that description;
 * its figures come from profiles/gear or from [gear NAME] sections of a plan.
 */
typedef enum fe_band {
    FE_BAND_SUB_GHZ, /* 0.86 to 0.93 GHz by region */
    FE_BAND_2_4_GHZ,
    FE_BAND_5_GHZ,
    FE_BAND_6_GHZ,
    FE_BAND_60_GHZ,
    FE_BANDS
} fe_band;

/* "sub-GHz", "2.4 GHz", "5 GHz", "6 GHz", "60 GHz". */
const char *fe_band_name(fe_band band);

/*
 * The band a text names ("2.4 GHz", "2437MHz", "sub-GHz", "900 MHz").
 * FE_E_INPUT  none
 */
FE_MUST_CHECK fe_status fe_band_from_text(const char *text, fe_band *band);

enum { FE_GEAR_NAME_ROOM = 50, FE_GEAR_MOST_RADIOS = 6, FE_STANDARD_NAME_ROOM = 12 };

typedef enum fe_antenna_polarisation {
    FE_ANTENNA_VERTICAL,
    FE_ANTENNA_HORIZONTAL,
    FE_ANTENNA_DUAL
} fe_antenna_polarisation;

typedef struct fe_radio {
    fe_band band;
    char standard[FE_STANDARD_NAME_ROOM]; /* ht, vht, he, eht, s1g, dmg, ofdm */
    double width_hz;
    unsigned streams;
    double power_dbm;  /* conducted, at the lowest rate, all chains together */
    double falloff_db; /* how much less at the highest rate */
    double gain_dbi;
    double beam_rad;          /* half-power width across, 2 pi: all round */
    double tilt_beam_rad;     /* half-power width up and down */
    double receiver_bonus_db; /* better than the standard's least sensitivity */
    fe_antenna_polarisation polarisation;
} fe_radio;

typedef struct fe_gear {
    char name[FE_GEAR_NAME_ROOM];
    char label[FE_GEAR_NAME_ROOM]; /* the name in words, for a reader */
    char *summary;
    fe_radio radios[FE_GEAR_MOST_RADIOS];
    size_t radio_count;
    bool outdoor; /* built to hang in the weather */
    bool relays;  /* passes traffic on over radio */
    bool antenna_built_in;
    double port_bps; /* wired port; 0: none */
    double power_w;
    double lowest_temp_c; /* starts and runs down to here */
    char **sources;       /* "gain: common practice, no source", one a figure */
    size_t source_count;
} fe_gear;

void fe_gear_free(fe_gear *gear);

/* Hangs outdoors on a cable that brings data and power; gear for rooms has an adapter. */
bool fe_gear_takes_lead(const fe_gear *gear);

/* The radio of a gear in a band; null where it has none. */
const fe_radio *fe_gear_radio(const fe_gear *gear, fe_band band);

/*
 * What a half-power width means: an antenna that is aimed at the other end (under 100 degrees),
 * one that looks all round (over 324) and has nothing to aim. Common practice, no source.
 */
bool fe_beam_is_narrow(double beam_rad);
bool fe_beam_is_all_round(double beam_rad);

#endif
