/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing.h"

#include <errno.h>
#include <gsl/gsl_min.h>
#include <gsl/gsl_roots.h>
#include <limits.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "testing.h"

/* ---- The allocations ---- */

#define CALL(function, parameters, arguments) #function,
static const char *const NAMES[FE_FAILING_COUNT] = {
    "allocation",
#include "failing_calls.h"
};
#undef CALL

static fe_failing failing;  /* what fails */
static long countdown = -1; /* below zero: none fails */
static long asked_for[FE_FAILING_COUNT];
static bool has_failed;
static long held;

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void __real_free(void *block);
char *__real_strdup(const char *text);
char *__real_strndup(const char *text, size_t length);
gsl_root_fsolver *__real_gsl_root_fsolver_alloc(const gsl_root_fsolver_type *type);
gsl_min_fminimizer *__real_gsl_min_fminimizer_alloc(const gsl_min_fminimizer_type *type);

/* Where each was asked for, in a run that is listened to. */
typedef struct request {
    fe_failing what;
    const void *from;
} request;

static request *requests;
static size_t request_count, request_room;
static bool listens;

static void note(fe_failing what, const void *from)
{
    if (request_count == request_room) {
        request_room = request_room ? 2 * request_room : 4096;
        requests = __real_realloc(requests, request_room * sizeof *requests);
        assert_non_null(requests);
    }
    requests[request_count++] = (request){what, from};
}

bool fe_testing_refuses(fe_failing what, const void *from)
{
    asked_for[what]++;
    if (listens)
        note(what, from);
    if (what != failing || countdown < 0 || countdown-- > 0)
        return false;
    has_failed = true;
    errno = ENOMEM;
    return true;
}

static bool refuses(const void *from)
{
    return fe_testing_refuses(FE_FAILING_ALLOCATION, from);
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

int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument);

int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument)
{
    (void)thread;
    (void)attributes;
    (void)start;
    (void)argument;
    return EAGAIN;
}

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
    return refuses(FE_TESTING_CALLED_FROM) ? NULL : count(__real_malloc(size));
}

void *__wrap_calloc(size_t number, size_t size)
{
    return refuses(FE_TESTING_CALLED_FROM) ? NULL : count(__real_calloc(number, size));
}

void *__wrap_realloc(void *block, size_t size)
{
    if (refuses(FE_TESTING_CALLED_FROM))
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
    return refuses(FE_TESTING_CALLED_FROM) ? NULL : count(__real_strdup(text));
}

char *__wrap_strndup(const char *text, size_t length)
{
    return refuses(FE_TESTING_CALLED_FROM) ? NULL : count(__real_strndup(text, length));
}

gsl_root_fsolver *__wrap_gsl_root_fsolver_alloc(const gsl_root_fsolver_type *type)
{
    return refuses(FE_TESTING_CALLED_FROM) ? NULL : __real_gsl_root_fsolver_alloc(type);
}

gsl_min_fminimizer *__wrap_gsl_min_fminimizer_alloc(const gsl_min_fminimizer_type *type)
{
    return refuses(FE_TESTING_CALLED_FROM) ? NULL : __real_gsl_min_fminimizer_alloc(type);
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
    /* What could not be printed is no whole result. */
    return status < 0 ? status : fe_status_worse(status, fe_strbuf_status(out));
}

/* A failure is told, or has cost nothing: where a second try succeeds the output is the same.
 */
static void check_run(const char *name, long n, fe_failing_stage *run, const fe_strbuf *whole)
{
    fe_strbuf out = FE_STRBUF_INIT;
    long kept = 0;
    const fe_status status = run_failing(run, n, &out, &kept);
    if (kept != 0)
        fail_msg("%s: %ld blocks leaked where %s %ld fails", name, kept, NAMES[failing], n);
    /* A call below may come up as a refusal of another name; want of memory has one name. */
    const bool told = failing == FE_FAILING_ALLOCATION ? status == FE_E_MEMORY : status < 0;
    if (!told && (status < 0 || strcmp(fe_strbuf_text(&out), fe_strbuf_text(whole)) != 0))
        fail_msg("%s: status %d (%s) where %s %ld fails, %.60s in the place of %.60s", name,
                 status, fe_status_text(status), NAMES[failing], n, fe_strbuf_text(&out),
                 fe_strbuf_text(whole));
    fe_strbuf_free(&out);
}

/* A run in which nothing fails, which counts and notes what it asks for. */
static void run_whole(const char *name, fe_failing_stage *run, fe_strbuf *whole)
{
    long kept = 0;
    memset(asked_for, 0, sizeof asked_for);
    request_count = 0;
    listens = true;
    const fe_status status = run_failing(run, -1, whole, &kept);
    listens = false;
    if (status < 0)
        fail_msg("%s: %s where nothing fails", name, fe_status_text(status));
}

/* Whether it is the first from where it is called. */
static bool is_first_from_there(size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (requests[i].what == requests[at].what && requests[i].from == requests[at].from)
            return false;
    return true;
}

/* The first from each place, and an even choice of some `most` among all. */
static void fail_each(const char *name, long total, fe_failing_stage *run, long most,
                      const fe_strbuf *whole)
{
    const long step = total / most + 1;
    long n = 0, chosen = 0, tried = 0;
    /* What a failing run asks for is counted anew. */
    const size_t count = request_count;
    for (size_t at = 0; at < count; at++) {
        if (requests[at].what != failing)
            continue;
        if (n % step == 0 || is_first_from_there(at)) {
            check_run(name, n, run, whole);
            chosen++;
            /* How often a pipe is read differs from run to run, so the last may not come. */
            tried += has_failed;
        }
        n++;
    }
    assert_true(tried > 0 && 2 * tried > chosen);
    printf("%s: %ld of %ld failed in turn: %s\n", name, tried, total, NAMES[failing]);
}

/* What is made once and kept is made before anything is counted. */
static void run_twice(const char *name, fe_failing_stage *run, fe_strbuf *whole)
{
    run_whole(name, run, whole);
    fe_strbuf_clear(whole);
    run_whole(name, run, whole);
}

long fe_testing_fail_each(const char *name, fe_failing_stage *run)
{
    const long most = getenv("FAREND_EVERY_FAILURE") ? LONG_MAX : 40;
    fe_strbuf whole = FE_STRBUF_INIT;
    run_twice(name, run, &whole);
    const long total = asked_for[FE_FAILING_ALLOCATION];
    failing = FE_FAILING_ALLOCATION;
    fail_each(name, total, run, most, &whole);
    fe_strbuf_free(&whole);
    return total;
}

void fe_testing_fail_each_call(const char *name, fe_failing_stage *run)
{
    enum { MOST = 4 };
    fe_strbuf whole = FE_STRBUF_INIT;
    long calls[FE_FAILING_COUNT], reached = 0;
    run_twice(name, run, &whole);
    memcpy(calls, asked_for, sizeof calls);
    for (int what = FE_FAILING_ALLOCATION + 1; what < FE_FAILING_COUNT; what++)
        if (calls[what] > 0) {
            failing = (fe_failing)what;
            fail_each(name, calls[what], run, MOST, &whole);
            reached++;
        }
    fe_strbuf_free(&whole);
    if (reached == 0)
        fail_msg("%s calls none of the functions listed", name);
}
