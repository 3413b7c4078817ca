/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CSV_H
#define FAREND_CSV_H

#include <stddef.h>

#include "farend/message.h"
#include "farend/status.h"

/*
 * A comma-separated table held in memory (RFC 4180: quoted cells, doubled quotes, CRLF or LF),
 * first line the header. A UTF-8 mark at the start, empty lines, and lines that start with '#'
 * are skipped. Costs one read of the file; cells are looked up by row number and column name.
 */
typedef struct fe_csv fe_csv;

/* What is wrong with the line of FE_E_INPUT, in words for a message. */
#define FE_CSV_FAULT                                                                           \
    "not a row of the table: another number of cells than the first line, a quote left open, " \
    "or a column named twice"

/*
 * FE_E_IO      the file cannot be opened or read (errno tells why)
 * FE_E_INPUT   a quote is left open, a row has another number of cells than the header, two
 *              columns share a name, more than 1000 columns, a NUL byte, or the table is empty;
 *              *bad_line is the line (1 is the first)
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_csv_read(const char *path, fe_csv **table, int *bad_line);

/* The same from text of a given length. */
FE_MUST_CHECK fe_status fe_csv_parse(const char *text, size_t length, fe_csv **table,
                                     int *bad_line);

/*
 * fe_csv_read with what goes wrong put on a list.
 *   what  the file is called in a message: "profile"
 */
FE_MUST_CHECK fe_status fe_csv_read_or_say(const char *path, const char *what, fe_csv **table,
                                           fe_messages *messages);

void fe_csv_free(fe_csv *table);

size_t fe_csv_rows(const fe_csv *table);
size_t fe_csv_columns(const fe_csv *table);
const char *fe_csv_column_name(const fe_csv *table, size_t column);

/* Column number of a header name, or -1. */
int fe_csv_column(const fe_csv *table, const char *name);

/* Line of the file on which a row starts. */
int fe_csv_line(const fe_csv *table, size_t row);

/* A cell's text; "" where the column does not exist. Lives as long as the table. */
const char *fe_csv_text(const fe_csv *table, size_t row, const char *column);

/* A cell as a number; NAN where it is empty, missing or no finite number. */
double fe_csv_number(const fe_csv *table, size_t row, const char *column);

#endif
