/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLAN_GROW_H
#define FAREND_PLAN_GROW_H

#include <stddef.h>

/*
 * The array with one zeroed item more, and the count raised; null where there is no memory (the
 * old array stays valid). Plans are short: no room is kept ahead.
 */
void *plan_grow(void *items, size_t *count, size_t item_size);

#endif
