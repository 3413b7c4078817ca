/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BASE_NAME_H
#define BASE_NAME_H

#include <stdbool.h>

/* Private to the library: names as people write them. False where one of both is null. */

/* Capitals make no difference, and a space, a hyphen and an underscore are one. */
bool name_same(const char *a, const char *b);

/* Nor do these three where they are left out: "2.4GHz" is "2.4 GHz". */
bool name_same_without_gaps(const char *a, const char *b);

#endif
