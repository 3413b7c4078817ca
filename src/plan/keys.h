/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLAN_KEYS_H
#define FAREND_PLAN_KEYS_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/plan.h"

/*
 * The plan format as two tables: sections, and keys. Reading, range checks, suggestions, the
 * list of defaults, the starter plan and the manual all come from them, so a key is added in
 * one place: a row here and a member of its struct.
 */

/* Sections, in the order in which they are read: what others name comes first. */
typedef enum plan_part {
    PART_GEAR,
    PART_CABLE_CLASS,
    PART_CLIMATE_CLASS,
    PART_SITE,
    PART_END,
    PART_PATH,
    PART_TREES,
    PART_TRAFFIC,
    PART_RELAY,
    PART_OWN,
    PART_CLIMATE,
    PART_SEASON,
    PART_POSTS,
    PART_TRENCH,
    PART_CABLE,
    PART_LOAD,
    PART_FEED,
    PART_SOLAR,
    PART_SPARE,
    PART_PRICES,
    PART_READING,
    PARTS
} plan_part;

typedef enum plan_naming { NAME_NONE, NAME_MAY, NAME_MUST } plan_naming;

enum { NOWHERE = -1 };

typedef struct plan_section {
    const char *word;
    plan_naming naming;
    plan_part keys;   /* whose keys it takes: its own, or another's of the same struct */
    bool catalogue;   /* may stand in a catalogue; has no defaults */
    bool assumed;     /* its defaults are listed although the plan has no such section */
    size_t offset;    /* in fe_plan: of the struct, or of the pointer to an array of them */
    int count_offset; /* in fe_plan, of the array's count; NOWHERE: a single struct */
    size_t size;      /* of one struct */
    int name_offset;  /* in the struct, of a char *; NOWHERE: none */
    size_t name_room; /* not 0: the name is an array of char of this size, */
    size_t label_offset; /* and this is another one, for the name in words */
    int line_offset;  /* in the struct, of an int; NOWHERE: none */
    int given_offset; /* in the struct, of a bool; NOWHERE: none */
    const char *help;
} plan_section;

/* One row for each plan_part. */
const plan_section *plan_section_of(plan_part part);

typedef enum plan_kind {
    KIND_VALUE,  /* fe_value: VALUE, LOW..HIGH or `unknown` */
    KIND_VALUES, /* fe_value_list, separated by commas or repeated */
    KIND_NUMBER, /* double, exact; NAN where absent */
    KIND_FLAG,   /* bool: yes or no */
    KIND_WORD,   /* fe_choice out of words */
    KIND_TEXT,   /* char *, any text */
    KIND_TEXTS,  /* fe_text_list, separated by commas or repeated */
    KIND_LINES,  /* fe_text_list, a whole line each */
    KIND_GEAR,   /* char *, name of a gear class */
    KIND_GEARS,  /* fe_text_list of them */
    KIND_CABLE,  /* char *, name of a cable class */
    KIND_END,    /* size_t, index of an end; fallback "0" or "1" where there are two */
    KIND_PATH,   /* size_t, index of a path; the only one where absent */
    KIND_SPECIAL /* by a function of its own */
} plan_kind;

typedef struct plan_reader plan_reader;
typedef struct plan_key plan_key;

/* What stands under a key, and where: enough for any message about it. */
typedef struct plan_entry {
    const plan_key *row;
    const char *file;
    int line;
    const char *section; /* title */
    const char *key;     /* as written: "over track" for the row "over *" */
    const char *text;
    fe_given given; /* what values shall say of themselves; FE_GIVEN_NOT: as read */
} plan_entry;

/* False: the text is not of the row's form, and nothing has been said about it yet. */
typedef bool plan_special(plan_reader *reader, const plan_entry *entry, void *base);

struct plan_key {
    plan_part part;
    const char *key; /* one that ends in '*' stands for all that begin so */
    plan_kind kind;
    fe_dimension dimension;
    size_t offset;
    bool required;
    bool repeats;
    double one;           /* SI value of one unit of what is inside; 0: it is SI */
    const char *unit;     /* of what is inside; null: the dimension's */
    const char *fallback; /* default, as it would be written; null: none */
    const char *bounds;   /* least and greatest sane value */
    const char *unknown;  /* what stands in for `unknown` */
    const char *example;  /* null: the dimension's */
    const char *expected; /* in a message; null: made from kind and dimension */
    const char *why;      /* of the default; null: common practice */
    const char *const *words;
    const char *const *may_be; /* of a text: what an unknown one may turn out to be */
    plan_special *special;
    const char *help;
};

/* Room for a mark at each row of the table. */
enum { PLAN_MOST_KEYS = 256 };
const plan_key *plan_keys(size_t *count);

/* Row of a part by the key as written; null where there is none. */
const plan_key *plan_key_find(plan_part part, const char *key);

/* The key of a part nearest to a mistyped one; null where none is near. */
const char *plan_key_nearest(plan_part part, const char *key);

/* What a message shows as a correct text. */
const char *plan_key_example(const plan_key *row);

/* Structs of a part in a plan; a single one for parts that do not repeat. */
size_t plan_item_count(const fe_plan *plan, plan_part part);
void *plan_item(fe_plan *plan, plan_part part, size_t index);

/* A struct more, zeroed; null where there is no memory. */
void *plan_item_add(fe_plan *plan, plan_part part);

#endif
