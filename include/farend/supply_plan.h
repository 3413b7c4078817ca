/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SUPPLY_PLAN_H
#define FAREND_SUPPLY_PLAN_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/plan.h"
#include "farend/status.h"
#include "farend/supply.h"

/*
 * The feed of a plan as the kernel takes it: the length of the cable as laid, the plan's loads
 * at their places, and what the plan's loads leave out: the gear of the data link at the far
 * end and the spare power that [spare] asks for, at the far end. Relays on the way are not
 * on it: where a feed is laid, its trench holds the data cable. A load that does not accept the
 * source's voltage is behind a converter, whose loss is counted. Reports and commands both come
 * here.
 */

/* A load that accepts nothing up to here is one for the mains (common practice, no source). */
#define FE_SUPPLY_MAINS_FROM_V 60.0

/*
 * Whether power is asked for at the far end: the plan has loads, or says that there are no
 * mains, so that the gear of the data link needs some.
 */
bool fe_supply_is_asked(const fe_plan *plan, size_t path);
/*
 * Where the feed to the far end of a path begins: at the last end on the way that has mains.
 * Feeds that begin there share the paths that they have in common, as a tree: what goes to
 * other ends is a load where it leaves the way, so that one conductor all along is judged
 * under the sum. That is the safe side, as a shared stretch may be thicker than the rest.
 */
size_t fe_supply_begins_at(const fe_plan *plan, size_t path);
/* Whether the feed over a path goes on to the far end of another, which needs power too. */
bool fe_supply_goes_on(const fe_plan *plan, size_t path, size_t beyond);

/*
 * The part of a feed's length that has to be laid for this end alone.
 *
 *   fed  for each path whether its far end is fed along the way, so that its stretch is there
 */
void fe_supply_own_length(const fe_plan *plan, size_t path, const bool *fed,
                          fe_supply_place *place);

/*
 * The inputs of an entry; its results are fe_supply_solve's to fill.
 *
 *   source    voltage to feed from, a range judged at its low end; need not be the plan's
 *   length_m  of the cable, one way; 0: the plan's
 *
 * FE_OK
 * FE_E_INPUT   more loads than FE_SUPPLY_MOST_LOADS
 * FE_E_DOMAIN  a value that the plan reader should have refused
 */
FE_MUST_CHECK fe_status fe_supply_from_plan(const fe_plan *plan, size_t path,
                                            const fe_plan_source *source, double length_m,
                                            fe_supply_entry *entry);

/* What the far end of a path takes of power over the pairs of a data cable. */
typedef struct fe_pairs_need {
    /* Converters and spare power counted in; 0: it has mains, or takes nothing. */
    double power_w;
    bool mains; /* a load accepts nothing below FE_SUPPLY_MAINS_FROM_V: pairs cannot feed it */
} fe_pairs_need;

/*
 * All loads of the plan, those on the way too: over a data cable they are fed from its far end.
 * No gear, since the cable carries the data; where the plan has no loads, or at the end of
 * another path, the hungriest gear that the end names.
 *
 * FE_OK
 * FE_E_INPUT   more loads than FE_SUPPLY_MOST_LOADS
 * FE_E_DOMAIN  a value that the plan reader should have refused
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_supply_over_pairs(const fe_plan *plan, size_t path,
                                             fe_pairs_need *need);

#endif
