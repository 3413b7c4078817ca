/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CLAIM_H
#define FAREND_CLAIM_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/hop.h"
#include "farend/season.h"
#include "farend/status.h"

/*
 * Statements about range at a frequency, put to the test. "Going from f1 to f2 multiplies the
 * range by k" asks for so many decibels; the step in frequency gives some of them, and what is
 * left must come from something else. The figures are for gear of the same power and antennas
 * at both frequencies. Costs next to nothing.
 */

/* ---- How a number was meant ---- */
typedef enum fe_claim_reading {
    FE_CLAIM_TIMES,       /* "4", "4x", "4 times": four times */
    FE_CLAIM_PERCENT_OF,  /* "300%": three times */
    FE_CLAIM_PERCENT_MORE /* "+300%": four times; "-50%": half */
} fe_claim_reading;

typedef struct fe_claim_factor {
    double factor;
    fe_claim_reading reading;
} fe_claim_factor;

/* Above this many times a missing percent sign is likelier than the claim. */
#define FE_CLAIM_MOST_TIMES 50.0

/*
 * Reads a factor of range.
 * FE_E_INPUT  no number, not above zero in the end, or words that are none of the above; also
 *             "+3" and "-3" without a percent sign, which could mean either
 */
FE_MUST_CHECK fe_status fe_claim_factor_parse(const char *text, fe_claim_factor *factor);

/*
 * A slip of the unit: a frequency or distance no claim about radio range is made of, and the
 * same figure with the unit that was likely meant. 0 where the value needs no question.
 */
double fe_claim_frequency_meant_hz(double f_hz);
double fe_claim_distance_meant_m(double distance_m);

/* ---- From one frequency to another ---- */
typedef struct fe_claim_step {
    double from_hz; /* 0.4 to 100 GHz */
    double to_hz;
    double factor; /* of range, > 0 */
    double height_m[2];
    const fe_hop_wall *walls; /* that the path goes through */
    size_t wall_count;
    double trees_m; /* of foliage on the path, 0: none */
    fe_foliage_state trees;
    fe_region region;
    double confirm_db; /* what nobody can measure: a claim this near holds; see the default */
} fe_claim_step;

#define FE_CLAIM_CONFIRM_DB 0.5

/* Factors of range that frequency alone gives. */
typedef struct fe_claim_range {
    double equal_gain;     /* antennas of the same gain at both frequencies */
    double one_equal_area; /* one of them of the same size in metres instead */
    double equal_area;     /* both */
} fe_claim_range;

/* Something that goes along with a change of band and brings decibels of its own. */
typedef struct fe_claim_cause {
    const char *name;
    double low_db; /* below zero where it can also take some away */
    double high_db;
    const char *how; /* what the size stands for */
    const char *source;
} fe_claim_cause;

enum { FE_CLAIM_MOST_CAUSES = 8 };

typedef enum fe_claim_verdict {
    FE_CLAIM_HOLDS,            /* frequency (or the gear) gives what is claimed */
    FE_CLAIM_NEEDS_MORE,       /* not alone, but the named causes could give the rest */
    FE_CLAIM_NOT_BY_FREQUENCY, /* frequency gives none of it, or too little for any cause */
    FE_CLAIM_BAND_CLOSED       /* Wi-Fi gear may not transmit there */
} fe_claim_verdict;

/* "holds", "needs_more", "not_by_frequency", "band_closed". */
const char *fe_claim_verdict_name(fe_claim_verdict verdict);

typedef struct fe_claim_answer {
    fe_claim_range free_space; /* range grows as the distance squared is lost */
    fe_claim_range beyond;     /* beyond the break-point: as its fourth power */
    double break_from_m;       /* break-points 4 h1 h2 / lambda */
    double break_to_m;
    double wall_from_db; /* of all walls together */
    double wall_to_db;
    double trees_from_db;
    double trees_to_db;
    double through_free_space; /* factor with walls and trees, equal gain */
    double through_beyond;
    double frequency_db; /* free space, equal gain: 20 log(f1 / f2) */
    double obstacles_db; /* walls and trees lose so much less */
    double needed_db;    /* 20 log k in free space */
    double explained_db; /* the two above together */
    double unexplained_db;
    double needed_beyond_db;      /* 40 log k */
    double unexplained_beyond_db; /* there equal gain explains only walls and trees */
    bool open[2];                 /* Wi-Fi gear may transmit at from, at to */
    fe_claim_cause causes[FE_CLAIM_MOST_CAUSES];
    size_t cause_count;
    double causes_db; /* the most that all of them give together */
    fe_claim_verdict verdict;
} fe_claim_answer;

/*
 *   step    see above; a wall kind must be known
 *   answer  result; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   result set, but a wall or the trees are outside their model's range
 * FE_E_DOMAIN
 *
 * Sources: ITU-R P.525-4 (antennas of equal gain; of equal area as the classic transmission
 * formula, Friis 1946); plane earth beyond the break-point as in ground_ray.h; each cause names
 * its own.
 */
FE_MUST_CHECK fe_status fe_claim_test(const fe_claim_step *step, fe_claim_answer *answer);

/* ---- Bands ---- */
typedef struct fe_claim_band {
    bool open;       /* f lies where Wi-Fi gear may transmit in the region, indoors at least */
    bool indoors;    /* ... but not outdoors */
    bool by_name;    /* f is the name of a band (2.4, 5, 6, 60 GHz), not a channel in it */
    fe_band band;    /* the open one that holds f or is nearest by ratio */
    double named_hz; /* that band as people call it: 2.4 GHz */
    double f_hz;     /* f itself where open, else, and by name, a usual channel of that band */
} fe_claim_band;

/* FE_OK, FE_E_NO_SOLUTION, FE_E_DOMAIN. Source: the rules of power_rules.h. */
FE_MUST_CHECK fe_status fe_claim_band_at(fe_region region, double f_hz, fe_claim_band *band);

#endif
