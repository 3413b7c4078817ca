/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TESTING_RUN_H
#define FAREND_TESTING_RUN_H

#include <jansson.h>

/*
 * Runs the program under test (FAREND_PROGRAM) as a user would: no shell, standard input empty.
 * argv starts with the first argument ("calc") and ends at a null. Both texts end with a NUL
 * and are the caller's to free; a null address discards that stream. *exit_code is 128 + n
 * where signal n ended the run. Fails the test where the program cannot be started.
 *
 *     char *out, *err;
 *     int code;
 *     fe_testing_run((const char *[]){"calc", "--list", NULL}, &out, &err, &code);
 */
void fe_testing_run(const char *const argv[], char **out, char **err, int *exit_code);

/* The same in another folder. */
void fe_testing_run_in(const char *folder, const char *const argv[], char **out, char **err,
                       int *exit_code);

/*
 * Its standard output, in a test that wants this exit code and fails with any other. The
 * messages go to *err, or are dropped where it is null.
 */
char *fe_testing_runs_in(const char *folder, const char *const argv[], int wanted_code,
                         char **err);

/* What the program made of a file there, to be freed. */
char *fe_testing_read_in(const char *folder, const char *name);

/*
 * The same from one line as printed in a help text, cut by fe_testing_words. A leading "farend"
 * is dropped.
 */
void fe_testing_run_line(const char *folder, const char *line, char **out, char **err,
                         int *exit_code);

/*
 * The JSON that a line prints, to be given back; fails the test unless it ends with 0 and has
 * no message.
 */
json_t *fe_testing_json_of(const char *folder, const char *line);

/* A number of it; fails the test where there is none of that key. */
double fe_testing_number(const json_t *object, const char *key);

/*
 * A kept transcript: runs a line in the source folder and fails the test unless it ends with
 * that exit code and both streams hold the texts given ("" for any).
 */
void fe_testing_check_line(const char *line, int exit_code, const char *out_part,
                           const char *err_part);

/*
 * The same with stdout opened onto a path ("/dev/full"), or closed where it is null. Returns
 * the exit code.
 */
int fe_testing_run_into(const char *path, const char *const argv[], char **err);

/*
 * Cuts a line in place, at spaces; '...' and "..." hold a word together. A null stands behind
 * the last word; there is room for `most` and the null. How many words.
 */
size_t fe_testing_words(char *line, char **words, size_t most);

/*
 * Fails the test where a line of a text is wider than a terminal of 80 columns. Calls to copy
 * ("  farend ...", "  example farend ...") stand in one line however long.
 */
void fe_testing_check_width(const char *what, const char *text);

#endif
