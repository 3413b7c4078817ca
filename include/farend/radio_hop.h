/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RADIO_HOP_H
#define FAREND_RADIO_HOP_H

#include <stddef.h>

#include "farend/budget.h"
#include "farend/gear.h"
#include "farend/hop.h"
#include "farend/plan.h"
#include "farend/status.h"

/*
 * From a plan to the hop that is computed: the one place where a plan's ends become stations.
 * Whoever wants a path of the plan as radio (report, relays, readings, the map around) asks
 * here, so that all of them compute the same link.
 *
 * Gear that is built for the weather and has a beam hangs outdoors, whatever its end says. An
 * end indoors without walls named has an unknown house around it, one behind glass a double
 * pane. A feeder counts where the antenna is not built in.
 */

/*
 *   path   index of the plan's paths
 *   gear   of its first and second end, of the plan's catalogue
 *   hop    result; points into the plan and the gear, to be freed with free(); untouched on
 *          error
 *
 * FE_OK, FE_W_RANGE  a feeder outside its model's range
 * FE_E_NO_SOLUTION   a gear has no radio in that band
 * FE_E_DOMAIN        no such path, or a value the plan reader should have refused
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_radio_hop(const fe_plan *plan, size_t path,
                                     const fe_gear *const gear[2], fe_band band, fe_hop **hop);

/* Where gear of an end is used; that of the end where it has no radio in that band. */
fe_mount fe_radio_mount(const fe_plan_end *end, const fe_gear *gear, fe_band band);

/* User's rates that must pass over a path, from its first end to its second, and back. */
void fe_radio_rates(const fe_plan *plan, size_t path, double rate_bps[2]);

/* Those rates with the plan's availability and confidence, over a channel of its own. */
fe_wanted fe_radio_wanted(const fe_plan *plan, size_t path);

#endif
