/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every share is done once, on a thread of its own where the machine gives one. */
#include "farend/workers.h"

#include <errno.h>
#include <pthread.h>
#include <stdbool.h>

#include "testing.h"

typedef struct share {
    unsigned done;
    pthread_t by;
} share;

static bool threads_start = true;

/* Stands between the library and the threads: what a machine out of them answers. */
int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument);
int __real_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument);

int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument)
{
    return threads_start ? __real_pthread_create(thread, attributes, start, argument) : EAGAIN;
}

static void *do_share(void *argument)
{
    share *own = argument;
    own->done++;
    own->by = pthread_self();
    return NULL;
}

/* How many of the shares, each done once, were done by another thread than the caller's. */
static unsigned count_elsewhere(unsigned count)
{
    share shares[FE_WORKERS_MOST + 1] = {{0}};
    fe_workers_run(do_share, shares, sizeof shares[0], count);
    unsigned elsewhere = 0;
    for (unsigned t = 0; t < FE_WORKERS_MOST + 1; t++) {
        assert_int_equal(shares[t].done, t < count);
        elsewhere += t < count && !pthread_equal(shares[t].by, pthread_self());
    }
    return elsewhere;
}

static void every_share__is_done_once(void **state)
{
    (void)state;
    threads_start = true;
    for (unsigned count = 1; count <= FE_WORKERS_MOST; count++)
        assert_int_equal(count_elsewhere(count), count - 1);
}

static void without_threads__the_caller_does_all(void **state)
{
    (void)state;
    threads_start = false;
    for (unsigned count = 1; count <= FE_WORKERS_MOST; count++)
        assert_int_equal(count_elsewhere(count), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_share__is_done_once),
        cmocka_unit_test(without_threads__the_caller_does_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
