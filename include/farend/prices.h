/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PRICES_H
#define FAREND_PRICES_H

#include <stdbool.h>

#include "farend/plan.h"

/*
 * What ways are made of, and what the plan's [prices] say it costs. A key of that section is a
 * word of the table below, or the name of a class of gear or cable, with a size behind it where
 * one has sizes: "duct 32 mm", "supply-cable AWG 12", "post 5 m", "switch 8 ports".
 */
typedef enum fe_part_size {
    FE_SIZE_NONE,
    FE_SIZE_INSIDE, /* inner diameter, m */
    FE_SIZE_WIRE,   /* area of a conductor, m2 */
    FE_SIZE_LENGTH, /* m */
    FE_SIZE_PORTS,  /* a count */
    FE_SIZE_FIBRES, /* a count */
    FE_SIZES
} fe_part_size;

typedef enum fe_part_kind {
    FE_PART_GEAR,       /* by the name of its class */
    FE_PART_DATA_CABLE, /* likewise */
    FE_PART_SUPPLY_CABLE,
    FE_PART_TRENCH,
    FE_PART_DUCT,
    FE_PART_DRAW_CORD,
    FE_PART_DUCT_BEND,
    FE_PART_DUCT_SEAL,
    FE_PART_SAND,
    FE_PART_WARNING_TAPE,
    FE_PART_POST,
    FE_PART_STAY,
    FE_PART_GRIP,
    FE_PART_SLIDE,
    FE_PART_BOLT,
    FE_PART_MESSENGER,
    FE_PART_WALL_CLIPS,
    FE_PART_SLEEVE,
    FE_PART_GLAND,
    FE_PART_LABEL,
    FE_PART_SOCKET,
    FE_PART_SOCKET_TOOL,
    FE_PART_CORD,
    FE_PART_SWITCH,
    FE_PART_DATA_ARRESTER,
    FE_PART_PAIRS_SOURCE, /* of power over the pairs */
    FE_PART_SPLITTER,
    FE_PART_OPTICS,
    FE_PART_SPLICE_BOX,
    FE_PART_PIGTAIL,
    FE_PART_SPLICE,
    FE_PART_SPLICER,
    FE_PART_PAIR_CONVERTER,
    FE_PART_PAIR_BOX,
    FE_PART_FEED_ADAPTER,
    FE_PART_BREAKER,
    FE_PART_RESIDUAL,
    FE_PART_BOARD,
    FE_PART_ELECTRODE,
    FE_PART_SUPPLY_ARRESTER,
    FE_PART_SUPPLY, /* of direct current */
    FE_PART_BATTERY,
    FE_PART_CHARGER,
    FE_PART_FUSE,
    FE_PART_DC_SWITCH,
    FE_PART_CONVERTER,
    FE_PART_INJECTOR,
    FE_PART_BRANCH_BOX,
    FE_PART_LUG,
    FE_PART_TERMINAL,
    FE_PART_CRIMPER,
    FE_PART_PANEL,
    FE_PART_PANEL_CABLES,
    FE_PART_BRACKET,
    FE_PART_MAST,
    FE_PART_EARTH_WIRE,
    FE_PART_FEEDER,
    FE_PART_PLUG,
    FE_PART_RELAY_BOX,
    FE_PARTS
} fe_part_kind;

typedef struct fe_part_row {
    const char *word; /* several kinds may share one; null: the name of a class */
    bool per_m;       /* else each */
    fe_part_size size;
} fe_part_row;

/* Null past the last kind. */
const fe_part_row *fe_part_row_of(fe_part_kind kind);

/*
 * What a key of [prices] begins with: how it is sold.
 *   thing  a word of the table or the name of a class of the plan
 * False where it is neither.
 */
bool fe_price_thing(const fe_plan *plan, const char *thing, fe_part_row *sold);

/*
 * The price of a thing in a size, within 2 % (an inch and a quarter is 32 mm); NAN for a size:
 * that without one. Null where the plan has none.
 */
const fe_plan_price *fe_price_of_size(const fe_plan *plan, const char *thing, double size);
/* The same, or else the price that holds for any size. */
const fe_plan_price *fe_price_of(const fe_plan *plan, const char *thing, double size);
/* A price each or a metre, whichever it is; NAN where it is null. */
double fe_price_amount(const fe_plan_price *price, bool per_m);

/*
 * The key under which a price would stand: "duct 32 mm", "duct 1.25 in".
 *   us  inches, feet and gauges
 */
enum { FE_PRICE_KEY_ROOM = 96 };
const char *fe_price_key(const char *thing, fe_part_size kind, double size, bool us,
                         char room[FE_PRICE_KEY_ROOM]);

/*
 * Sizes that are sold (common practice, no source), from the smallest; NAN past the last.
 *   us  in inches and feet
 * Wire sizes are those of farend/conductor.h; posts are sold by the metre where not in feet.
 */
double fe_sold_duct(bool us, unsigned index);
double fe_sold_switch(unsigned index);
/* The next longer post that is sold. */
double fe_sold_post_after(bool us, double length_m);

#endif
