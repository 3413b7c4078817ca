/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CALENDAR_H
#define FAREND_CALENDAR_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/result.h"

/*
 * The order of the work through a year: surveyed while the trees are bare, dug before the
 * frost, measured in every state that the ways were computed in. Months follow from the coldest
 * air of the plan and the half of the earth it is on; they are common practice, no source, and
 * the owner's own place is the better authority.
 */
enum { FE_CALENDAR_MOST_STEPS = 20 };

typedef struct fe_calendar_step {
    int first_month; /* 1 January to 12 December */
    int last_month;
    bool next_year; /* after the winter that follows */
    const char *what;
    const char *why;
} fe_calendar_step;

typedef struct fe_calendar {
    bool south;      /* below the equator, or taken to be by the region */
    bool frost;      /* the ground freezes */
    int frost_first; /* months with frozen ground; 0: none */
    int frost_last;
    int leaf_first; /* months in leaf */
    int leaf_last;
    fe_calendar_step steps[FE_CALENDAR_MOST_STEPS]; /* in the order of the work */
    size_t step_count;
} fe_calendar;

/* The year of a result's recommended ways. */
void fe_calendar_of(const fe_result *result, fe_calendar *calendar);

/* "January" to "December"; "" for others. */
const char *fe_month_name(int month);

#endif
