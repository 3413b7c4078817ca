/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing.h"

#include <errno.h>
#include <gsl/gsl_min.h>
#include <gsl/gsl_roots.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "testing.h"

/* ---- The allocations ---- */

static long countdown = -1; /* below zero: none fails */
static long asked_for;
static bool has_failed;
static long held;

static bool refuses(void)
{
    asked_for++;
    if (countdown < 0 || countdown-- > 0)
        return false;
    has_failed = true;
    errno = ENOMEM;
    return true;
}

/* Blocks that we hold; what a library has allocated and we free is not among them. */
enum { HELD_ROOM = 1 << 17 };
static void *held_blocks[HELD_ROOM];

static size_t place_of(const void *block)
{
    size_t at = ((uintptr_t)block >> 4) * 2654435761u % HELD_ROOM;
    while (held_blocks[at] && held_blocks[at] != block)
        at = (at + 1) % HELD_ROOM;
    return at;
}

static void *count(void *block)
{
    if (block) {
        held_blocks[place_of(block)] = block;
        held++;
    }
    return block;
}

/* The blocks behind it move up, so that a search need not pass over gaps. */
static void forget(const void *block)
{
    size_t at = place_of(block);
    if (!block || !held_blocks[at])
        return;
    held--;
    held_blocks[at] = NULL;
    for (size_t next = (at + 1) % HELD_ROOM; held_blocks[next]; next = (next + 1) % HELD_ROOM) {
        void *const moved = held_blocks[next];
        held_blocks[next] = NULL;
        held_blocks[place_of(moved)] = moved;
    }
}

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void __real_free(void *block);
char *__real_strdup(const char *text);
char *__real_strndup(const char *text, size_t length);
gsl_root_fsolver *__real_gsl_root_fsolver_alloc(const gsl_root_fsolver_type *type);
gsl_min_fminimizer *__real_gsl_min_fminimizer_alloc(const gsl_min_fminimizer_type *type);

void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);
void __wrap_free(void *block);
char *__wrap_strdup(const char *text);
char *__wrap_strndup(const char *text, size_t length);
gsl_root_fsolver *__wrap_gsl_root_fsolver_alloc(const gsl_root_fsolver_type *type);
gsl_min_fminimizer *__wrap_gsl_min_fminimizer_alloc(const gsl_min_fminimizer_type *type);

void *__wrap_malloc(size_t size)
{
    return refuses() ? NULL : count(__real_malloc(size));
}

void *__wrap_calloc(size_t number, size_t size)
{
    return refuses() ? NULL : count(__real_calloc(number, size));
}

void *__wrap_realloc(void *block, size_t size)
{
    if (refuses())
        return NULL;
    forget(block);
    void *const grown = __real_realloc(block, size);
    return count(grown ? grown : block) == grown ? grown : NULL;
}

void __wrap_free(void *block)
{
    forget(block);
    __real_free(block);
}

char *__wrap_strdup(const char *text)
{
    return refuses() ? NULL : count(__real_strdup(text));
}

char *__wrap_strndup(const char *text, size_t length)
{
    return refuses() ? NULL : count(__real_strndup(text, length));
}

gsl_root_fsolver *__wrap_gsl_root_fsolver_alloc(const gsl_root_fsolver_type *type)
{
    return refuses() ? NULL : __real_gsl_root_fsolver_alloc(type);
}

gsl_min_fminimizer *__wrap_gsl_min_fminimizer_alloc(const gsl_min_fminimizer_type *type)
{
    return refuses() ? NULL : __real_gsl_min_fminimizer_alloc(type);
}

/* ---- Failing ---- */

/* One run with its n-th allocation failing, or none below zero; the status it came to. */
static fe_status run_failing(fe_failing_stage *run, long n, fe_strbuf *out, long *kept)
{
    const long before = held;
    has_failed = false;
    countdown = n;
    const fe_status status = run(out);
    countdown = -1;
    *kept = held - before - (out->text != NULL && n >= 0);
    return status;
}

/* A failure is told, or has cost nothing: where a second try succeeds the output is the same.
 */
static void check_run(const char *name, long n, fe_failing_stage *run, const fe_strbuf *whole)
{
    fe_strbuf out = FE_STRBUF_INIT;
    long kept = 0;
    const fe_status status = run_failing(run, n, &out, &kept);
    if (kept != 0)
        fail_msg("%s: %ld blocks leaked where allocation %ld fails", name, kept, n);
    if (status < 0 ? status != FE_E_MEMORY
                   : strcmp(fe_strbuf_text(&out), fe_strbuf_text(whole)) != 0)
        fail_msg("%s: status %d (%s) where allocation %ld fails, %.60s in the place of %.60s",
                 name, status, fe_status_text(status), n, fe_strbuf_text(&out),
                 fe_strbuf_text(whole));
    fe_strbuf_free(&out);
}

long fe_testing_fail_each(const char *name, fe_failing_stage *run)
{
    const long most = getenv("FAREND_EVERY_FAILURE") ? LONG_MAX : 60;
    fe_strbuf whole = FE_STRBUF_INIT;
    long kept = 0, tried = 0;
    /* What is made once and kept is made now. */
    const fe_status first = run_failing(run, -1, &whole, &kept);
    if (first < 0)
        fail_msg("%s: %s where nothing fails", name, fe_status_text(first));
    fe_strbuf_clear(&whole);
    asked_for = 0;
    assert_true(run_failing(run, -1, &whole, &kept) >= 0);
    const long total = asked_for;
    const long step = total / most + 1;
    for (long n = 0; n < total; n += n < most / 3 ? 1 : step) {
        check_run(name, n, run, &whole);
        /* How often a pipe is read differs from run to run, so the last may not come. */
        tried += has_failed;
    }
    assert_true(tried > 0 && (tried >= most / 2 || 2 * tried > total));
    printf("%s: %ld of %ld allocations failed in turn\n", name, tried, total);
    fe_strbuf_free(&whole);
    return total;
}
