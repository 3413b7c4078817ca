/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/grow.h"

#include <stdlib.h>
#include <string.h>

void *plan_grow(void *items, size_t *count, size_t item_size)
{
    char *grown = realloc(items, (*count + 1) * item_size);
    if (!grown)
        return NULL;
    memset(grown + *count * item_size, 0, item_size);
    ++*count;
    return grown;
}
