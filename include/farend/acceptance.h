/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_ACCEPTANCE_H
#define FAREND_ACCEPTANCE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/budget.h"
#include "farend/hop.h"
#include "farend/season.h"
#include "farend/spread.h"
#include "farend/status.h"

/*
 * Readings of a link put against what was computed for it: which cause explains them best, what
 * the link then loses for good, and what the seasons still take.
 *
 * A cause is a row of figures: the chance of meeting it at all, the loss it brings in both
 * directions or in one, how much of that remains in dry weather and without leaves, and what it
 * does to noise, rate, lost pings and the swing of the level. Build loss and cause are summed
 * over a grid, so the chances after the readings are Bayes' rule and nothing else. A few tens
 * of milliseconds.
 */
typedef enum fe_cause {
    FE_CAUSE_NONE,
    FE_CAUSE_AIM,
    FE_CAUSE_FEEDER,
    FE_CAUSE_WATER,
    FE_CAUSE_OBSTRUCTION,
    FE_CAUSE_FOLIAGE,
    FE_CAUSE_WALL,
    FE_CAUSE_WEATHER,
    FE_CAUSE_NOISE,
    FE_CAUSE_POWER,
    FE_CAUSE_ACK_TIMEOUT,
    FE_CAUSE_MOUNT,
    FE_CAUSE_SUPPLY,
    FE_CAUSE_PORT,
    FE_CAUSE_FAR_HOP,
    FE_CAUSES
} fe_cause;

typedef enum fe_cause_way {
    FE_CAUSE_NO_LOSS,
    FE_CAUSE_BOTH_WAYS,
    FE_CAUSE_ONE_WAY
} fe_cause_way;

/* All figures: common practice, no source. */
typedef struct fe_cause_row {
    const char *name;
    const char *check; /* what to do about it */
    double prior;      /* chance before any reading; all rows sum to 1 */
    fe_cause_way way;
    double loss_db; /* normal with sigma_db, cut off at least_db and most_db */
    double sigma_db;
    double least_db;
    double most_db;
    double dry_share;  /* of the loss, in dry weather */
    double bare_share; /* of the loss, without leaves */
    double noise_db;   /* above what was computed, at one end */
    double noise_sigma_db;
    double rate_decades; /* rate against what the level would give, logarithm to base 10 */
    double rate_sigma;
    double ping_share; /* lost, beside what the level explains */
    double swing_db;   /* how far the level wanders within minutes */
    double swing_sigma_db;
} fe_cause_row;

const fe_cause_row *fe_cause_of(fe_cause cause);

/* Words about the weather and the leaves, as far as a text says anything. */
typedef struct fe_accept_weather {
    bool said; /* any of the rest */
    bool wet;
    bool snow;
    bool frost;
    bool hot;
    bool windy;
    int leaves; /* 1 in leaf, 0 bare, -1 not said */
} fe_accept_weather;

/* "wet morning in May", "bare, frost": the known words in it; .said is false without any. */
fe_accept_weather fe_accept_weather_of(const char *text);

/*
 * State of the place on the day: the nearest of the seasons, with leaves, snow and water as
 * they were said. count >= 1.
 */
fe_season fe_accept_season(const fe_season *seasons, size_t count,
                           const fe_accept_weather *weather);

/* One visit. NAN stands for what was not read; [0] is sent by the first end, [1] by the other.
 */
typedef struct fe_accept_reading {
    fe_accept_weather weather;
    bool before; /* with other gear, before anything was built: sigma 6 dB in place of 3 */
    double level_dbm[2];
    double swing_db[2]; /* highest less lowest level */
    double noise_dbm[2];
    double rate_bps[2];
    double ping_share; /* lost, 0 to 1 */
} fe_accept_reading;

typedef struct fe_accept_link {
    const fe_hop *hop;
    const fe_season *seasons;
    size_t season_count;
    const fe_wanted *wanted;
    bool relayed; /* there is a relay, so that a station may choose another partner */
} fe_accept_link;

/* What speaks for or against a cause, by how often it makes that reading likelier. */
typedef enum fe_evidence {
    FE_EVIDENCE_LEVEL,
    FE_EVIDENCE_SWING,
    FE_EVIDENCE_NOISE,
    FE_EVIDENCE_RATE,
    FE_EVIDENCE_PING,
    FE_EVIDENCE_PLACE, /* the gear, the place and the weather */
    FE_EVIDENCES
} fe_evidence;

enum { FE_ACCEPT_MOST_READINGS = 12 };

/* What was computed for one visit. */
typedef struct fe_accept_expected {
    fe_season season;
    double total_db;     /* loss of the path in it */
    double low_dbm[2];   /* one build in ten is below */
    double level_dbm[2]; /* median build */
    double high_dbm[2];
    double noise_dbm[2];
    double rate_bps[2]; /* at the level that was read, else at the median build */
} fe_accept_expected;

typedef struct fe_accept_outlook {
    double to_come_db; /* loss of the path beyond that of the last visit */
    double leaves_db;  /* of that, by trees */
    double margin_before_db;
    double chance_before;
    double margin_db; /* weaker direction, median build as it is now known */
    double margin_low_db;
    double margin_high_db;
    double chance;
} fe_accept_outlook;

typedef struct fe_acceptance {
    double chance[FE_CAUSES]; /* after the readings; sums to 1 */
    /*
     * By chance; but "nothing wrong" comes first only where it is at least as likely as all that
     * can be wrong together. Else some cause is the better guess, and the likeliest comes first.
     */
    fe_cause order[FE_CAUSES];
    /* Factor by which a kind of evidence raises (above 1) or lowers the cause. */
    double factor[FE_CAUSES][FE_EVIDENCES];
    fe_accept_expected expected[FE_ACCEPT_MOST_READINGS];
    size_t reading_count;
    fe_spread before;   /* build loss before the readings, in the season of the last */
    fe_spread after[2]; /* and after, with the loss of whatever is wrong, each direction */
    fe_accept_outlook outlook[FE_MOST_SEASONS];
    size_t season_count;
    size_t worst; /* season with the smallest chance, then margin */
} fe_acceptance;

/*
 *   readings  1 to FE_ACCEPT_MOST_READINGS; each with a level, rate, noise or pings
 *   result    large: 100 kB; untouched on error
 *
 * FE_OK
 * FE_W_RANGE        result set, but a part of the budget lies outside its model's range
 * FE_E_DOMAIN       a reading is out of range, there is none, or an antenna is under the snow
 * FE_E_NO_SOLUTION  the radios have no mode in common
 * FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_accept(const fe_accept_link *link, const fe_accept_reading *readings,
                                  size_t count, fe_acceptance *result);

/*
 * Bayes' rule for one reading of a loss with a normal error.
 *   before    chances before
 *   loss_db   what the reading says, finite
 *   sigma_db  its error, > 0
 *   after     may be `before`
 *
 * FE_E_DOMAIN also where the reading is so far off that no chance is left
 */
FE_MUST_CHECK fe_status fe_accept_update(const fe_spread *before, double loss_db,
                                         double sigma_db, fe_spread *after);

/* Errors of a level, common practice: of the link's own radio, and of another before it. */
#define FE_ACCEPT_LEVEL_SIGMA_DB 3.0
#define FE_ACCEPT_BEFORE_SIGMA_DB 6.0
/*
 * Of that, each receiver's own scale; the rest is common to both directions. IEEE 802.11-2016
 * sec 17.3.10.7: received power is told within 5 dB at 95 % confidence (from memory), which is
 * 5 / 1.96 of a normal error.
 */
#define FE_ACCEPT_SCALE_SIGMA_DB 2.55

#endif
