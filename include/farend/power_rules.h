/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_POWER_RULES_H
#define FAREND_POWER_RULES_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * How strong a licence-exempt radio may be, by area and band. The rules are a dated table: they
 * change, and whoever prints a limit prints `text_date` with it. Not legal advice, and not
 * complete: marks above the horizon, exclusion zones and the like are only in `condition`.
 */

/* What a rule asks for beyond its figures; read out of its condition. */
enum {
    FE_POWER_RADAR = 1 << 0,          /* must listen for radar before it sends */
    FE_POWER_LICENCE = 1 << 1,        /* licence or registration */
    FE_POWER_COORDINATION = 1 << 2,   /* must ask a frequency coordination system */
    FE_POWER_POINT_TO_POINT = 1 << 3, /* only a fixed link between two places */
    FE_POWER_ACCESS_POINT = 1 << 4,   /* only the end that runs the network */
    FE_POWER_CLIENT = 1 << 5,         /* only the end that joins it */
    FE_POWER_CONTROL = 1 << 6,        /* only with automatic power control */
    FE_POWER_PORTABLE = 1 << 7,       /* not for gear that is fixed outdoors */
    FE_POWER_GAIN_SLOPE = 1 << 8 /* EIRP limit falls 2 dB for each dB of gain below 51 dBi */
};

/* One row. NAN or "" where the source gives nothing. */
typedef struct fe_power_rule {
    const char *area; /* "US", "EU", "UK", "CA", "AU" */
    double f_low_mhz;
    double f_high_mhz;
    const char *use;
    double conducted_limit_dbm;
    double gain_before_backoff_dbi; /* conducted power falls where the antenna has more */
    double eirp_limit_dbm;
    double psd_limit_dbm_per_mhz;
    const char *psd_kind; /* "conducted", "eirp", or words where it is in another unit */
    bool outdoor_allowed;
    const char *condition;
    const char *source;
    bool read; /* false: recalled, not read */
    /* Years of the text read (those of EN editions from memory); "from memory", "not dated here". */
    const char *text_date;

    /* What the condition comes to: */
    unsigned flags;
    double backoff_db_per_db; /* conducted power lost for each dB above that gain */
    double also_low_mhz;      /* a second range with the same figures, or NAN */
    double also_high_mhz;
    double gap_low_mhz; /* closed within the range, or NAN */
    double gap_high_mhz;
    double duty_cycle; /* share of an hour that may be sent, 1: no limit */
    double duty_cycle_access_point;
} fe_power_rule;

const fe_power_rule *fe_power_rule_table(size_t *count);

/* Names of the areas. */
const char *const *fe_power_areas(size_t *count);
bool fe_power_area_known(const char *area);

/* What is to be sent, where and with what. Set to zero what does not apply. */
typedef struct fe_power_query {
    const char *area;
    double f_hz;     /* centre, > 0 */
    double width_hz; /* of the channel, > 0; NAN: limits on density do not count */
    const char *use; /* that row and no other; null: the kindest that fits what follows */
    double antenna_gain_dbi;
    double feeder_loss_db; /* between radio and antenna, 0 or more */
    bool outdoor;
    bool point_to_point; /* a fixed link between two places */
    bool access_point;   /* this end runs the network */
    bool power_control;  /* the gear lowers its power by itself */
} fe_power_query;

typedef struct fe_power_limit {
    double max_conducted_dbm; /* at the radio's socket */
    double eirp_dbm;          /* what that makes of the antenna */
    const fe_power_rule *rule;
    bool outdoor_forbidden; /* the query is outdoors and the rule is for indoors only */
    bool radar;             /* listens for radar first, and leaves when it hears one */
    double radar_wait_s;    /* silence before sending; 0 without radar (from memory) */
    double duty_cycle;      /* share of an hour; 1: no limit */
} fe_power_limit;

/*
 * Strongest setting that the rules allow.
 *
 * Where no use is named, rules that want a licence or coordination are left out, then the one
 * with the highest EIRP is taken. A channel that lies across two bands must meet the rules of
 * both.
 *
 * FE_OK
 * FE_W_RANGE        result set, but the rule is for indoors only and the query is outdoors
 * FE_E_NO_SOLUTION  no rule opens the channel there (for that use)
 * FE_E_DOMAIN       unknown area, or a number is not finite or out of range
 *
 * Source: the row of the table. Radar waits of 60 s, and 600 s on 5600 to 5650 MHz in Europe:
 * from memory (EN 301 893).
 */
FE_MUST_CHECK fe_status fe_power_limit_at(const fe_power_query *query, fe_power_limit *limit);

/* A stretch of spectrum without holes. */
typedef struct fe_power_band {
    double low_hz;
    double high_hz;
    bool inside; /* the frequency asked for lies in it */
} fe_power_band;

/*
 * The open band that holds a frequency, or else the nearest (by ratio). Open means: some rule
 * allows Wi-Fi class gear there without a licence or coordination and, where `outdoor`, for
 * gear fixed outdoors.
 *
 * FE_OK
 * FE_E_NO_SOLUTION  the area has none
 * FE_E_DOMAIN       unknown area, or the frequency is not finite or not above zero
 */
FE_MUST_CHECK fe_status fe_power_nearest_band(const char *area, double f_hz, bool outdoor,
                                              fe_power_band *band);

#endif
