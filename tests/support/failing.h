/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FAILING_H
#define FAREND_FAILING_H

#include <stdbool.h>

#include "farend/strbuf.h"

/*
 * Lets every allocation of a stage fail in turn, or every call below it that returns a status.
 * The linker sends the allocations of farend, the workspaces it asks GSL for, and the calls
 * listed in failing_calls.h through functions of failing.c and failing_calls.c (see
 * tests/CMakeLists.txt).
 */

/* Some work that allocates; what it prints to out is compared. */
typedef fe_status fe_failing_stage(fe_strbuf *out);

/*
 * Each of a stage's allocations in turn: all of them where FAREND_EVERY_FAILURE names a
 * plan, else the first of each place in the source and an even choice of the others. No thread
 * starts meanwhile, so that the n-th allocation is the same one each time. The stage must come
 * to "out of memory", or to the whole result, and hold no block afterwards; anything else fails
 * the test. How many allocations the stage has.
 */
long fe_testing_fail_each(const char *name, fe_failing_stage *run);

/*
 * The same for each function of failing_calls.h: the first from each place in the source, and
 * some others, return "out of memory", which must come up as a refusal, of whatever name, or
 * have cost nothing.
 */
void fe_testing_fail_each_call(const char *name, fe_failing_stage *run);

/* What may fail. */
typedef enum fe_failing {
    FE_FAILING_ALLOCATION,
#define CALL(function, parameters, arguments) FE_FAILING_##function,
#include "failing_calls.h"
#undef CALL
    FE_FAILING_COUNT
} fe_failing;

/* Whether this call, or allocation, is the one that fails; `from` is where it is called. */
bool fe_testing_refuses(fe_failing what, const void *from);
#define FE_TESTING_CALLED_FROM __builtin_return_address(0)

/* For libraries that take the functions they allocate with. */
void *__wrap_malloc(size_t size);
void __wrap_free(void *block);

#endif
