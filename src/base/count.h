/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BASE_COUNT_H
#define BASE_COUNT_H

/* Items of an array; not for a pointer. */
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

#endif
