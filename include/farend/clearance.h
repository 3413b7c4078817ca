/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CLEARANCE_H
#define FAREND_CLEARANCE_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Least heights of overhead cables that codes ask for, as each code prints them: metres and
 * feet are no conversions of each other (NAN where it prints none). Codes differ in the state
 * at which the height must hold, see `condition`. Rules change: print code and clause beside a
 * figure. Sources are at the head of the table in src/wired/clearance.c.
 */
typedef struct fe_clearance {
    const char *code;
    const char *clause;
    const char *cable;
    const char *over;
    double height_m;
    double height_ft;
    const char *condition;
    const char *note;
    bool from_memory;
} fe_clearance;

size_t fe_clearance_count(void);
const fe_clearance *fe_clearance_at(size_t index);

/* The first row with these texts; null where there is none. */
const fe_clearance *fe_clearance_find(const char *code, const char *clause, const char *cable,
                                      const char *over);

#endif
