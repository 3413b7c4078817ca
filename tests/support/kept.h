/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_KEPT_H
#define FAREND_KEPT_H

#include <jansson.h>

#include "farend/result.h"

/*
 * Thousands of answers held to what they were, as a digest with a line for each quantity, in
 * tests/golden/NAME.csv: how many values, how many that do not exist, the least, the greatest,
 * and a sum of all, each with a weight of its place, in which every value tells by its own
 * digits whatever its size.
 *
 * A digest says nothing of an answer being right (tests/reference does), only that a change of
 * the source moved it. Where that is meant, FAREND_KEEP=1 writes the file anew, and the commit
 * says which quantities moved and why.
 *
 *     kept *numbers = kept_open("formulas");
 *     kept_number(numbers, "sag: sag_m", sag_m);
 *     kept_close(numbers);                 fails the test where a quantity differs
 */
typedef struct kept kept;

kept *kept_open(const char *name);
void kept_number(kept *numbers, const char *quantity, double value);
void kept_word(kept *numbers, const char *quantity, const char *word);

/* Every number of a JSON value and every text without a blank, by the keys that lead to it. */
void kept_json(kept *numbers, json_t *value);

/* The same of the JSON of a report. */
void kept_report(kept *numbers, const fe_result *result);

void kept_close(kept *numbers);

#endif
