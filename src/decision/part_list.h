/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_PART_LIST_H
#define DECISION_PART_LIST_H

#include "farend/parts.h"

/* A list that is being written. A failure of memory sticks. */
typedef struct part_maker {
    const fe_plan *plan; /* null: without prices */
    fe_part_list list;
    bool failed;
    fe_part nowhere; /* what there is no memory for */
} part_maker;

/* A part to fill in further, before the list is finished; never null. */
fe_part *part_add_count(part_maker *maker, fe_part_kind kind, fe_part_use use, double count);
fe_part *part_add_length(part_maker *maker, fe_part_kind kind, fe_part_use use,
                         double length_m);
/* The parts of another list; in one trench what is there already is not counted again. */
void part_add_list(part_maker *maker, const fe_part_list *list, bool one_trench);
/* Prices and sum; frees the list where it failed. */
FE_MUST_CHECK fe_status part_finish(part_maker *maker, fe_part_list *list);

/* Two entries through a wall, and glands. */
void part_add_entries(part_maker *maker, bool hangs);
/* The switch at the far end of a path; `always` also where one thing alone would hang on it. */
void part_add_switch(part_maker *maker, size_t path, bool always);
/* A battery with its panel and all between, so many times. */
void part_add_solar(part_maker *maker, const fe_solar *solar, double count);
/* What lies in the trench beside the cable, the digging too. duct_m: 0 without a duct */
void part_add_laying(part_maker *maker, double route_m, double duct_m);

#endif
