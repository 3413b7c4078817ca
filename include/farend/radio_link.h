/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RADIO_LINK_H
#define FAREND_RADIO_LINK_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/result.h"
#include "farend/status.h"

/*
 * One radio link over a path of a plan, worked out in every season, and the pair of gear that
 * does best in a band.
 */

/*
 *   path    index of the plan's paths
 *   gear    of its first and second end
 *   radio   result; its budget is the caller's to free; untouched on error
 *
 * FE_OK, FE_W_RANGE
 * FE_E_NO_SOLUTION  the pair cannot talk, or no rule lets it transmit there
 * FE_E_DOMAIN, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_radio_link(const fe_plan *plan, size_t path,
                                      const fe_gear *const gear[2], fe_band band,
                                      fe_radio_result *radio);

/*
 * The best pair of a band: of the plan's own gear as it is (not both with a beam), or two of
 * one class with a beam, hung outdoors. Of pairs that hold, one that the plan names goes first.
 *
 * Statuses as above; FE_E_NO_SOLUTION: there is no such pair.
 */
FE_MUST_CHECK fe_status fe_radio_best_link(const fe_plan *plan, size_t path, fe_band band,
                                           bool directional, fe_radio_result *best);

/*
 * The pair that the report takes in a band: the best of the plan's own gear as it is, and two
 * of one class with a beam where there is none such. With `aimed` those also where the plan
 * names them and they do better.
 *
 * Result and statuses as above.
 */
FE_MUST_CHECK fe_status fe_radio_reported_link(const fe_plan *plan, size_t path, fe_band band,
                                               bool aimed, fe_radio_result *link);

/* What a link, or a chain of relays, is chosen by. */
typedef struct fe_radio_score {
    fe_verdict verdict;
    double chance;
    double margin_db; /* in the worst season */
} fe_radio_score;

fe_radio_score fe_radio_score_of(const fe_radio_result *radio);

/*
 * True where one is to be preferred: verdict, then chance, then margin. Chances that differ by
 * 0.005 or less are the same for whoever has to choose.
 */
bool fe_radio_score_is_better(const fe_radio_score *a, const fe_radio_score *b);
bool fe_radio_is_better(const fe_radio_result *a, const fe_radio_result *b);

/* A pair of antennas with a beam, one class at both ends. */
typedef struct fe_beam_pair {
    const fe_gear *gear; /* null: there is none that may be used here */
    fe_radio_score score;
} fe_beam_pair;

/*
 * The best pair with beams of the catalogue over a way that no plan describes.
 *   like     the way; its stations get the class in turn, outdoors and 3 m up or higher
 *   pair     result; gear null where there is no such class
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_radio_beam_pair(const fe_plan *plan, const fe_hop *like,
                                           fe_band band, const fe_season *seasons,
                                           size_t season_count, const fe_wanted *wanted,
                                           fe_beam_pair *pair);

/* HOLDS from the confidence up, TIGHT where the median build meets the target, else FAILS. */
fe_verdict fe_radio_verdict(double chance, double margin_db, double confidence);

/* One part of what is lost in building a link, in its worst season. */
typedef struct fe_radio_build_part {
    const char *label;
    const char *source;
    int end; /* 0 or 1: of that end; -1: of the link */
    double middle_db;
    double most_db; /* one build in ten loses more by it */
} fe_radio_build_part;

/*
 * The parts of a link's build loss, worked out when they are asked for.
 *   parts  room for FE_BUILD_MOST_PARTS
 *   count  how many there are; 0 where an antenna is under the snow
 *
 * FE_OK, FE_E_DOMAIN, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_radio_build(const fe_plan *plan, const fe_radio_result *radio,
                                       fe_radio_build_part *parts, size_t *count);

#endif
