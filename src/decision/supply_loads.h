/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_SUPPLY_LOADS_H
#define DECISION_SUPPLY_LOADS_H

#include "farend/plan.h"
#include "farend/status.h"
#include "farend/supply.h"

/*
 * What a feed, the pairs of a data cable or a battery has to carry of a plan. A load that does
 * not accept the voltage of the entry is put behind a converter, whose loss is counted.
 * Statuses of fe_supply_add and of the converters.
 */

/* The loads that stand at the far end of a path. */
FE_MUST_CHECK fe_status supply_add_loads(const fe_plan *plan, size_t path,
                                         fe_supply_entry *entry);
/* A piece of radio gear, fed over its pairs. */
FE_MUST_CHECK fe_status supply_add_gear(const fe_gear *gear, double at_m, const char *what,
                                        fe_supply_entry *entry);
/* The growth that the plan asks for, of all that is on the entry so far. */
FE_MUST_CHECK fe_status supply_add_spare(const fe_plan *plan, fe_supply_entry *entry);
/* All that stands at the far end of a path: loads, gear of the data link, growth. */
FE_MUST_CHECK fe_status supply_add_end(const fe_plan *plan, size_t path,
                                       fe_supply_entry *entry);

/* The hungriest gear that an end without mains names; null: none. */
const fe_gear *supply_hungriest_gear(const fe_plan *plan, const fe_plan_end *end);

/* What a load draws from the source; and all of an entry together. */
double supply_drawn_w(const fe_supply_entry *entry, const fe_supply_load *load);
typedef struct supply_sum {
    double power_w;
    double apparent_va;
    double work_wh; /* of a day */
} supply_sum;
supply_sum supply_sum_of(const fe_supply_entry *entry);
/* Of a sum that draws something. */
double supply_power_factor(const supply_sum *sum);
double supply_hours(const supply_sum *sum);

#endif
