/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refusal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "testing.h"

enum { RESULT_BYTES = 4096, UNTOUCHED = 0x5a, MOST_BAD = 4 };

/* What an argument of a kind must not be. */
static size_t bad_values(char kind, double bad[MOST_BAD])
{
    static const struct {
        char kind;
        size_t count;
        double values[MOST_BAD];
    } KINDS[] = {
        {'p', 4, {0.0, -1.0, (double)NAN, (double)INFINITY}},
        {'n', 3, {-1e-3, (double)NAN, (double)INFINITY}},
        {'f', 3, {(double)NAN, (double)INFINITY, -(double)INFINITY}},
        {'s', 4, {0.0, -0.5, 1.001, (double)NAN}},
        {'o', 4, {0.0, -0.5, 1.0, (double)NAN}},
        {'P', 3, {0.0, -1.0, (double)NAN}},
        {'-', 0, {0.0}},
    };
    for (size_t i = 0; i < sizeof KINDS / sizeof KINDS[0]; i++)
        if (KINDS[i].kind == kind) {
            memcpy(bad, KINDS[i].values, sizeof KINDS[i].values);
            return KINDS[i].count;
        }
    fail_msg("no kind of argument is called %c", kind);
    return 0;
}

static void check_refused(const fe_refusal *row, size_t argument, double value, char *result)
{
    double x[FE_REFUSAL_ARGUMENTS];
    memcpy(x, row->good, sizeof x);
    x[argument] = value;
    memset(result, UNTOUCHED, RESULT_BYTES);
    const fe_status status = row->call(x, result);
    if (status != FE_E_DOMAIN)
        fail_msg("%s: argument %zu of %g: %s, expected it refused", row->name, argument + 1,
                 value, fe_status_text(status));
    for (size_t i = 0; i < RESULT_BYTES; i++)
        if (result[i] != UNTOUCHED)
            fail_msg("%s: argument %zu of %g changed the result", row->name, argument + 1,
                     value);
}

static void check_answer(const fe_refusal *row, char *result)
{
    double answer = 0.0;
    const fe_status status = row->call(row->good, result);
    if (status < 0)
        fail_msg("%s: good arguments give: %s", row->name, fe_status_text(status));
    memcpy(&answer, result, sizeof answer);
    if (!isnan(row->answer) && !(fabs(answer - row->answer) <= 1e-5 * fabs(row->answer)))
        fail_msg("%s: %.9g, expected %.9g", row->name, answer, row->answer);
}

void fe_testing_check_refusals(const fe_refusal *rows, size_t count)
{
    /* Memory without a type of its own; kept, since a failing test does not come back. */
    static char *result;
    if (!result)
        result = malloc(RESULT_BYTES);
    assert_non_null(result);
    for (size_t i = 0; i < count; i++) {
        const fe_refusal *row = &rows[i];
        check_answer(row, result);
        for (size_t argument = 0; row->kinds[argument]; argument++) {
            double bad[MOST_BAD];
            const size_t bad_count = bad_values(row->kinds[argument], bad);
            for (size_t k = 0; k < bad_count; k++)
                check_refused(row, argument, bad[k], result);
        }
    }
}

void fe_testing_check_members(const char *name, fe_status (*call)(void),
                              const fe_refusal_member *members, size_t count)
{
    fe_status status = call();
    if (status < 0)
        fail_msg("%s: a good case gives: %s", name, fe_status_text(status));
    for (size_t i = 0; i < count; i++) {
        double bad[MOST_BAD];
        const double good = *members[i].member;
        const size_t bad_count = bad_values(members[i].kind, bad);
        for (size_t k = 0; k < bad_count; k++) {
            *members[i].member = bad[k];
            status = call();
            if (status != FE_E_DOMAIN)
                fail_msg("%s: %s of %g: %s, expected it refused", name, members[i].name, bad[k],
                         fe_status_text(status));
        }
        *members[i].member = good;
    }
}
