/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_WIFI_H
#define FAREND_WIFI_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * What IEEE 802.11 says of every generation: rates, the weakest signal that a receiver must at
 * least work with, rejection of neighbour channels, and the channels of each band. All from
 * tables and one formula; a call costs next to nothing. Real receivers differ: one published
 * receiver was 6 to 8 dB better than the minimum.
 */
typedef enum fe_wifi_standard {
    FE_WIFI_DSSS,    /* 1 and 2 Mb/s, 2.4 GHz */
    FE_WIFI_HR_DSSS, /* 5.5 and 11 Mb/s, 2.4 GHz */
    FE_WIFI_OFDM,    /* 6 to 54 Mb/s, 5 GHz, and the same waveform at 2.4 GHz */
    FE_WIFI_HT,
    FE_WIFI_VHT,
    FE_WIFI_HE,
    FE_WIFI_EHT,
    FE_WIFI_S1G, /* below 1 GHz */
    FE_WIFI_DMG, /* 60 GHz, single-carrier modes */
    FE_WIFI_STANDARD_COUNT
} fe_wifi_standard;

typedef enum fe_wifi_band {
    FE_WIFI_BAND_S1G_EU, /* 863 to 868 MHz */
    FE_WIFI_BAND_S1G_US, /* 902 to 928 MHz; its upper half serves where 915 to 928 MHz is open
                          */
    FE_WIFI_BAND_2G4,
    FE_WIFI_BAND_5G,
    FE_WIFI_BAND_6G,
    FE_WIFI_BAND_60G,
    FE_WIFI_BAND_COUNT
} fe_wifi_band;

/* Names as texts and tables spell them ("vht"; "s1g_eu", "2.4", "5"); never null in range. */
const char *fe_wifi_standard_name(fe_wifi_standard standard);
const char *fe_wifi_band_name(fe_wifi_band band);
bool fe_wifi_standard_find(const char *name, fe_wifi_standard *standard);
bool fe_wifi_band_find(const char *name, fe_wifi_band *band);

/* Edges of a band as a whole (a region may open less). */
void fe_wifi_band_edges(fe_wifi_band band, double *low_hz, double *high_hz);
/* The band that holds a frequency; false where none does. */
bool fe_wifi_band_of(double f_hz, fe_wifi_band *band);

/* Whether gear of a standard exists in a band. Source: clauses of IEEE 802.11-2020, from
 * memory. */
bool fe_wifi_standard_in_band(fe_wifi_standard standard, fe_wifi_band band);

enum { FE_WIFI_WIDTHS_MAX = 8, FE_WIFI_MODES_MAX = 16, FE_WIFI_CHANNELS_MAX = 64 };

/* Channel widths of a standard in a band, narrowest first; returns how many. */
size_t fe_wifi_widths(fe_wifi_standard standard, fe_wifi_band band,
                      double widths_hz[FE_WIFI_WIDTHS_MAX]);

/* Most spatial streams of a standard. */
int fe_wifi_streams_max(fe_wifi_standard standard);

/* How two radios talk. */
typedef struct fe_wifi_link {
    fe_wifi_standard standard;
    double width_hz;         /* of the channel */
    int streams;             /* 1 or more */
    double guard_interval_s; /* NAN: the standard's normal one (0.8 us; S1G 8 us) */
} fe_wifi_link;

/* One modulation and code rate of a link. */
typedef struct fe_wifi_mode {
    int mcs;                /* index; DSSS, HR/DSSS and OFDM rates are counted from 0 */
    const char *name;       /* "MCS3", "54 Mb/s" */
    const char *modulation; /* "16-QAM 1/2" */
    double rate_bps;
    double min_sensitivity_dbm;       /* weakest signal the standard demands to be received */
    double adjacent_rejection_db;     /* NAN where the table of rejections has no row */
    double non_adjacent_rejection_db; /* the same, two channels away */
    double per_limit;                 /* share of packets lost at that level */
    int psdu_octets;                  /* length of those packets */
} fe_wifi_mode;

/*
 * One mode of a link. HT counts 8 modes a stream: index 10 with 2 streams is index 2.
 *
 * FE_OK
 * FE_E_DOMAIN  the standard does not define this combination of width, streams, guard interval
 *              and index, or a number is not finite
 *
 * Sources: IEEE 802.11-2016 clauses 15 to 17, 19 to 21, 23; 802.11ax 27.3.20; 802.11be 36.3.21.
 * Rate = N_SD x bits x code rate x streams / (T_DFT + T_GI), the whole width for one user.
 * Sensitivity is that of 20 MHz plus 3 dB for each doubling; S1G at 2 MHz lies 10 dB below 20
 * MHz.
 */
FE_MUST_CHECK fe_status fe_wifi_mode_at(const fe_wifi_link *link, int mcs, fe_wifi_mode *mode);

/*
 * All modes of a link, slowest first. FE_E_DOMAIN as above, where there is none; modes and
 * count are then untouched.
 */
FE_MUST_CHECK fe_status fe_wifi_modes(const fe_wifi_link *link,
                                      fe_wifi_mode modes[FE_WIFI_MODES_MAX], size_t *count);

/* Index of a mode by name ("MCS3", "3", "54 Mb/s", "54"); false where the standard has none. */
bool fe_wifi_mcs_find(fe_wifi_standard standard, const char *name, int *mcs);

/* A rate as the standard prints it: so many decimals of a Mb/s, halves up (29.25 is 29.3). */
double fe_wifi_rate_rounded_bps(double rate_bps, int decimals);

typedef struct fe_wifi_channel {
    int number;
    double centre_hz;
} fe_wifi_channel;

/* Channels of a band and width in rising order; returns how many (0: none of that width). */
size_t fe_wifi_channels(fe_wifi_band band, double width_hz,
                        fe_wifi_channel channels[FE_WIFI_CHANNELS_MAX]);

/*
 * Centre of one channel. FE_E_DOMAIN where the band has no such channel of that width.
 *
 * Source: IEEE 802.11-2016 15.4.4.3, 17.3.8.4.2 and Annex E; 802.11ax Annex E; 802.11ah Annex
 * E.
 */
FE_MUST_CHECK fe_status fe_wifi_channel_centre(fe_wifi_band band, double width_hz, int number,
                                               double *centre_hz);

#endif
