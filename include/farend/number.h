/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_NUMBER_H
#define FAREND_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Numbers in text, always with a decimal point whatever the locale says. A number is written as
 * in C (12, -0.5, 1e-6); hexadecimal, NaN and infinities are refused.
 */

/* True where the whole text (spaces around it allowed) is one finite number. */
bool fe_number_parse(const char *text, double *value);

/*
 * Reads a number at the start of the text; *end is the first character after it. False, and
 * nothing set, where there is none or it is not finite.
 */
bool fe_number_scan(const char *text, double *value, const char **end);

/* Shortest text that reads back as the same double; needs 32 bytes. Returns buffer. */
char *fe_number_print(double value, char *buffer, size_t size);

/*
 * A figure with a fixed number of decimals, never "-0.00"; needs 32 bytes for values under
 * 1e15, larger ones go to fe_number_print. Returns buffer.
 */
char *fe_number_print_fixed(double value, int decimals, char *buffer, size_t size);

#endif
