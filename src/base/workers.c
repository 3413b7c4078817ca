/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/workers.h"

#include <pthread.h>
#include <stdbool.h>

void fe_workers_run(void *(*work)(void *share), void *shares, size_t size, unsigned count)
{
    pthread_t threads[FE_WORKERS_MOST];
    bool started[FE_WORKERS_MOST] = {false};
    char *first = shares;
    for (unsigned t = 1; t < count && t < FE_WORKERS_MOST; t++)
        started[t] = pthread_create(&threads[t], NULL, work, first + t * size) == 0;
    for (unsigned t = 0; t < count && t < FE_WORKERS_MOST; t++)
        if (!started[t])
            work(first + t * size);
    for (unsigned t = 1; t < count && t < FE_WORKERS_MOST; t++)
        if (started[t])
            pthread_join(threads[t], NULL);
}
