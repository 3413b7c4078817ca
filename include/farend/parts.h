/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PARTS_H
#define FAREND_PARTS_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/prices.h"
#include "farend/solar_plan.h"
#include "farend/status.h"
#include "farend/supply.h"

/*
 * What a way is made of: one list, with counts, lengths and, where the plan has them, prices.
 * The cost of a way, the shopping list, the report and JSON are all made from it. Counts that
 * no key of the plan sets (labels, glands, lugs) are common practice, no source.
 */

/* What a part is for, where several of a kind differ in that alone. */
typedef enum fe_part_use {
    FE_USE_PLAIN,
    FE_USE_AC,
    FE_USE_AC_US,
    FE_USE_DC,
    FE_USE_SOLAR,
    FE_USE_SOLAR_CHARGE, /* between battery and controller */
    FE_USE_HUNG,
    FE_USE_BURIED,
    FE_USE_COPPER,
    FE_USE_PAIR,
    FE_USE_FIBRE,
    FE_USE_LEAD,   /* from indoors to a radio outdoors */
    FE_USE_FEEDER, /* between a radio and its antenna */
    FE_USE_MAST,
    FE_USE_RELAY, /* one on the way */
    FE_USES
} fe_part_use;

typedef struct fe_part {
    fe_part_kind kind;
    fe_part_use use;
    const char *name;  /* its key in [prices]; of the table, or of a class of the plan */
    const char *where; /* end of the plan that it stands at; null: any, or all */
    double count;      /* NAN where it is a length */
    double length_m;   /* NAN where it is a count */
    double size;       /* NAN where it has none; see fe_part_row */
    double other_size; /* that does as well, in the other series of wire; else NAN */
    double rating;     /* A of a fuse, a breaker or a controller, W of a source; else NAN */
    size_t load;       /* of the feed, that a converter is for */
    unsigned owned;    /* of the count, there already */
    bool instead;      /* of the part before it; not in the sum */
    double price;      /* each, or for a metre; NAN where the plan has none */
    double cost;       /* of what has to be bought; NAN likewise */
} fe_part;

typedef struct fe_part_list {
    fe_part *items;
    size_t count;
    double cost;       /* of the parts that have a price; NAN: none has */
    unsigned unpriced; /* parts without one, where the plan has prices at all */
} fe_part_list;

struct fe_result;
struct fe_way;
struct fe_channel_result;

/*
 *   plan  for its prices and spare ducts; null: neither
 *   list  result, to be freed; untouched on error
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_parts_of_feed(const fe_plan *plan, const fe_supply_entry *entry,
                                         fe_part_list *list);
FE_MUST_CHECK fe_status fe_parts_of_solar(const fe_plan *plan, const fe_solar *solar,
                                          fe_part_list *list);
/* Of a data cable, its ends and what it hangs on or lies in. */
FE_MUST_CHECK fe_status fe_parts_of_cable(const struct fe_result *result,
                                          const struct fe_channel_result *channel,
                                          fe_part_list *list);
/* Of a radio link: gear, mounts, leads and ways in; of relays also posts and power. */
FE_MUST_CHECK fe_status fe_parts_of_radio(const struct fe_result *result,
                                          const struct fe_way *way, fe_part_list *list);
/* What power over its pairs takes beside it. */
FE_MUST_CHECK fe_status fe_parts_of_pairs(const fe_plan *plan, fe_part_list *list);
/*
 * Of two ways that are built together. In one trench digging and warning tape are counted once,
 * as are ducts to spare; each cable keeps a duct or a bed of its own, so that supply and data
 * stay 300 mm apart (IEEE C2 rules 353 and 354). Null for the second: the first alone.
 */
FE_MUST_CHECK fe_status fe_parts_of_pair(const struct fe_result *result,
                                         const struct fe_way *way, const struct fe_way *other,
                                         fe_part_list *list);
void fe_parts_free(fe_part_list *list);

/* Fibres of a cable that run, and that are put in with the spare ones. */
enum { FE_PARTS_FIBRES_RUN = 2, FE_PARTS_FIBRES = 4 };

/* Places on the way where the cable is opened for a load: counted once each. */
size_t fe_parts_branches(const fe_supply_entry *entry);

/* Ports of the switch at the far end of a path: the link, what sends from there, further paths
 * that traffic goes over, and those to spare. */
double fe_parts_ports(const fe_plan *plan, size_t path, double spare);
/* The switch that is sold with so many ports; the number itself where none is as large. */
double fe_parts_switch(double ports);

#endif
