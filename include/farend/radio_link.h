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

/* True where one link is to be preferred: verdict, then chance, then margin. */
bool fe_radio_is_better(const fe_radio_result *a, const fe_radio_result *b);

/* HOLDS from the confidence up, TIGHT where the median build meets the target, else FAILS. */
fe_verdict fe_radio_verdict(double chance, double margin_db, double confidence);

#endif
