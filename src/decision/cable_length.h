/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_CABLE_LENGTH_H
#define DECISION_CABLE_LENGTH_H

#include <stddef.h>

#include "farend/plan.h"

/* Parts of a cable's length that every cable of a plan shares, data or supply, and its air. */

/* The trench's own length where the plan has one, else that of the ground. */
double plan_trench_length(const fe_plan *plan, size_t path);

/* Run inside the buildings, all of them together. */
double plan_indoor_length(const fe_plan *plan);

/* 2 % of the way, and a metre at each end to trim (common practice, no source). */
double plan_slack(double route_m);

/* Hottest air of any season. */
double plan_hottest(const fe_plan *plan);
/* The seasons that have the hottest and the coldest. */
const char *plan_hottest_season(const fe_plan *plan);
const char *plan_coldest_season(const fe_plan *plan);

#endif
