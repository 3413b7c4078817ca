/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TESTING_CLOCK_H
#define FAREND_TESTING_CLOCK_H

#include <time.h>

/* Seconds of a clock. Other work on the machine does not count in those of the processor. */
static inline double seconds(clockid_t clock)
{
    struct timespec now;
    clock_gettime(clock, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

#endif
