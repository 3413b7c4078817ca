/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FAILING_H
#define FAREND_FAILING_H

#include "farend/strbuf.h"

/*
 * Lets every allocation of a stage fail in turn. The linker sends the allocations of farend,
 * and the workspaces it asks GSL for, through the functions of failing.c (see
 * tests/CMakeLists.txt).
 */

/* Some work that allocates; what it prints to out is compared. */
typedef fe_status fe_failing_stage(fe_strbuf *out);

/*
 * Each of a stage's allocations in turn: all of them where FAREND_EVERY_FAILURE is set, else
 * the first and an even choice of the others. The stage must come to "out of memory", or to the
 * whole result, and hold no block afterwards; anything else fails the test. How many
 * allocations the stage has.
 */
long fe_testing_fail_each(const char *name, fe_failing_stage *run);

/* For libraries that take the functions they allocate with. */
void *__wrap_malloc(size_t size);
void __wrap_free(void *block);

#endif
