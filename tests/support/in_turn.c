/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <pthread.h>
#include <semaphore.h>

/*
 * In a build with counters a thread has ended before the next one starts: counters that two
 * threads count up at once must be locked, which takes three times as long, and without the lock
 * a branch that was never taken may seem to have been. Workers of ours never wait for each other.
 */
int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument);
int __real_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *argument);

typedef struct turn {
    void *(*start)(void *);
    void *argument;
    sem_t ended;
} turn;

static void *take_turn(void *argument)
{
    turn *own = argument;
    void *result = own->start(own->argument);
    sem_post(&own->ended);
    return result;
}

/* Weak: tests/test_workers.c and failing.c put one of their own in its place. */
__attribute__((weak)) int __wrap_pthread_create(pthread_t *thread,
                                                const pthread_attr_t *attributes,
                                                void *(*start)(void *), void *argument)
{
    turn own = {.start = start, .argument = argument};
    sem_init(&own.ended, 0, 0);
    const int failed = __real_pthread_create(thread, attributes, take_turn, &own);
    while (!failed && sem_wait(&own.ended) != 0)
        continue; /* a signal came between */
    sem_destroy(&own.ended);
    return failed;
}
