/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_TERRAIN_MADE_H
#define APP_TERRAIN_MADE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/amount.h"
#include "farend/profile.h"
#include "farend/status.h"

/*
 * A profile that the terrain command made, with what there is to say about it. A fact is said
 * once and comes out as a comment of the CSV, a line of text and a member of the JSON.
 */
typedef struct terrain_fact {
    const char *key;   /* of the JSON; ends in its unit */
    const char *label; /* of the text; null: in the JSON alone */
    char *text;        /* null: a number */
    double si;
    fe_style style;
} terrain_fact;

enum { TERRAIN_MOST_FACTS = 40 };

typedef struct terrain_made {
    fe_profile profile; /* with height_error_m */
    bool *coarse;       /* points not good enough for the zone; null: not judged */
    terrain_fact facts[TERRAIN_MOST_FACTS];
    size_t fact_count;
    bool failed; /* out of memory while a fact was added */
} terrain_made;

void terrain_made_free(terrain_made *made);

void terrain_fact_number(terrain_made *made, const char *key, const char *label, double si,
                         fe_style style);
void terrain_fact_text(terrain_made *made, const char *key, const char *label,
                       const char *format, ...) FE_PRINTF(4, 5);

/* Length, rise and errors of the profile, and whether it is good enough for the first zone. */
FE_MUST_CHECK fe_status terrain_judge(terrain_made *made, double f_hz);

/* A line a fact, "label: value". */
void terrain_print_facts(const terrain_made *made, fe_units units, fe_strbuf *out);

/* The profile as CSV, the facts as its comments. */
void terrain_print_csv(const terrain_made *made, fe_strbuf *out);

/* Facts and columns. */
FE_MUST_CHECK fe_status terrain_print_json(const terrain_made *made, fe_strbuf *out);

#endif
