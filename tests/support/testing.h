/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TESTING_H
#define FAREND_TESTING_H

/* What cmocka wants before its own header, in one place. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "farend/csv.h"
#include "farend/status.h"

/*
 * Checks against the files of tests/reference (or of FAREND_REFERENCE_DIR, which has the same
 * sub-folders radio and wire; there any subset of the files may be missing).
 *
 *     fe_reference *file = fe_reference_open("radio/p525_free_space.csv");
 *     while (fe_reference_next(file)) {
 *         double d_m = fe_reference_number(file, "d_m");
 *         ...
 *         fe_reference_check(file, "loss_exact_db", loss_db, 0.001);
 *     }
 *     fe_reference_close(file);
 *
 * A missing file prints that it is skipped and has no rows. Closing prints how many rows were
 * checked and fails the test where any row differed. A row marked `memory` that differs prints
 * QUESTION instead of failing. A row on which nothing was checked, and that was not passed over
 * with fe_reference_pass, is a failure: a check that cannot fail is a defect.
 */
typedef struct fe_reference fe_reference;

fe_reference *fe_reference_open(const char *name);
bool fe_reference_next(fe_reference *file);
void fe_reference_close(fe_reference *file);

/* The cell's text ("" where empty); fails the test where the file has no such column. */
const char *fe_reference_text(fe_reference *file, const char *column);
/* The cell's number; NAN where empty. */
double fe_reference_number(fe_reference *file, const char *column);
/* The cell's number; fails the test where it is empty or none. */
double fe_reference_need(fe_reference *file, const char *column);
/* Number of a `key=value; key=value` list in column `inputs`; NAN where the key is missing. */
double fe_reference_input(fe_reference *file, const char *key);
/* The same as a list of numbers separated by spaces; returns how many (room at most). */
size_t fe_reference_input_list(fe_reference *file, const char *key, double *values,
                               size_t room);
/* A list of numbers separated by spaces in any text. */
size_t fe_testing_numbers(const char *text, double *values, size_t room);

/* Compares with the cell of that column, absolute tolerance. An empty cell is no check. */
void fe_reference_check(fe_reference *file, const char *column, double got, double tolerance);
/* The same with a tolerance relative to the wanted value. */
void fe_reference_check_relative(fe_reference *file, const char *column, double got,
                                 double tolerance);
/* The same with half of the last printed digit of the cell as tolerance. */
void fe_reference_check_printed(fe_reference *file, const char *column, double got);
/* Compares text, exactly. */
void fe_reference_check_text(fe_reference *file, const char *column, const char *got);
/* A check that is no comparison with one cell: a condition with what was expected in words. */
void fe_reference_check_that(fe_reference *file, bool holds, const char *expected);
/* A status that must be FE_OK or a warning before its result is compared. */
void fe_reference_check_status(fe_reference *file, fe_status status);
/* This row is no check (a fact, or words in the place of a number): say why once a file. */
void fe_reference_pass(fe_reference *file, const char *why);

/* Full path of a file in the reference folder; of our own copy where the other has none. */
const char *fe_reference_path(const char *name);

/* Absolute and relative comparison for unit tests; prints both values on failure. */
#define assert_close(got, wanted, tolerance)                                                   \
    fe_testing_assert_close((got), (wanted), (tolerance), #got, __FILE__, __LINE__)
#define assert_close_relative(got, wanted, tolerance)                                          \
    fe_testing_assert_close_relative((got), (wanted), (tolerance), #got, __FILE__, __LINE__)
void fe_testing_assert_close(double got, double wanted, double tolerance, const char *what,
                             const char *file, int line);
void fe_testing_assert_close_relative(double got, double wanted, double tolerance,
                                      const char *what, const char *file, int line);

/* A part of a text; both are printed where it is missing, or there and not wanted. */
#define assert_has(text, part) fe_testing_assert_has((text), (part), true, __FILE__, __LINE__)
#define assert_has_not(text, part)                                                             \
    fe_testing_assert_has((text), (part), false, __FILE__, __LINE__)
void fe_testing_assert_has(const char *text, const char *part, bool wanted, const char *file,
                           int line);

/* Every main of a test program: prepares the library and runs the group. */
#define FE_RUN_TESTS(tests) (fe_init(), cmocka_run_group_tests((tests), NULL, NULL))

#endif
