/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <pthread.h>

/*
 * In a build with counters threads run where they are started, to their end: counters that two
 * threads count up at once must be locked, which takes three times as long, and without the
 * lock a branch that was never taken may seem to have been. Workers of ours never wait for each
 * other.
 */
int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument);
int __wrap_pthread_join(pthread_t thread, void **result);

int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument)
{
    (void)attributes;
    *thread = pthread_self();
    start(argument);
    return 0;
}

int __wrap_pthread_join(pthread_t thread, void **result)
{
    (void)thread;
    (void)result;
    return 0;
}
