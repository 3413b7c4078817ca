/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_REFUSAL_H
#define FAREND_REFUSAL_H

#include <stddef.h>

#include "farend/status.h"

/*
 * A function of plain numbers: one good call with its known answer, then every argument in turn
 * made what it must not be, each of which must be refused with the result untouched.
 *
 *     CALL_3(fe_feed_drop_mv)
 *     {"fe_feed_drop_mv", call_fe_feed_drop_mv, "nnn", {18.0, 20.0, 100.0}, 36.0},
 */
enum { FE_REFUSAL_ARGUMENTS = 12 };

typedef struct fe_refusal {
    const char *name;
    fe_status (*call)(const double *x, void *result);
    /*
     * A letter an argument, what it must be:
     *   p  above zero and finite      n  zero or more and finite      f  finite
     *   s  above zero, at most one    o  above zero, under one        P  above zero
     *   -  anything
     */
    const char *kinds;
    double good[FE_REFUSAL_ARGUMENTS];
    double answer; /* the first number of the result, to 1e-5 of it; NAN: not compared */
} fe_refusal;

void fe_testing_check_refusals(const fe_refusal *rows, size_t count);

/*
 * The same for a case in a struct: the call must be good with the case as it stands, and
 * refused with each member of double out of its range.
 */
typedef struct fe_refusal_member {
    const char *name;
    double *member;
    char kind; /* as above */
} fe_refusal_member;

void fe_testing_check_members(const char *name, fe_status (*call)(void),
                              const fe_refusal_member *members, size_t count);

#define CALL_1(function)                                                                       \
    static fe_status call_##function(const double *x, void *result)                            \
    {                                                                                          \
        return function(x[0], result);                                                         \
    }
#define CALL_2(function)                                                                       \
    static fe_status call_##function(const double *x, void *result)                            \
    {                                                                                          \
        return function(x[0], x[1], result);                                                   \
    }
#define CALL_3(function)                                                                       \
    static fe_status call_##function(const double *x, void *result)                            \
    {                                                                                          \
        return function(x[0], x[1], x[2], result);                                             \
    }
#define CALL_4(function)                                                                       \
    static fe_status call_##function(const double *x, void *result)                            \
    {                                                                                          \
        return function(x[0], x[1], x[2], x[3], result);                                       \
    }
#define CALL_5(function)                                                                       \
    static fe_status call_##function(const double *x, void *result)                            \
    {                                                                                          \
        return function(x[0], x[1], x[2], x[3], x[4], result);                                 \
    }

#endif
