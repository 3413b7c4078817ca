/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_WORKERS_H
#define FAREND_WORKERS_H

#include <stddef.h>

/* Most shares that a piece of work is cut into. */
enum { FE_WORKERS_MOST = 16 };

/*
 * Calls work for each of count shares, the first by the caller and every other on a thread of
 * its own, and returns when all are done. Where a thread will not start, the caller does its
 * share too, so that everything is done whatever the machine gives.
 * shares: count pieces of size bytes each, one behind the other; count: 1 to FE_WORKERS_MOST,
 * more are not done. work must not touch what another share writes; it returns NULL.
 */
void fe_workers_run(void *(*work)(void *share), void *shares, size_t size, unsigned count);

#endif
