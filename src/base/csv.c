/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/csv.h"

#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/number.h"
#include "farend/textfile.h"

/* No table of ours has fifty; looking for a name twice costs their square. */
enum { MOST_COLUMNS = 1000 };

struct fe_csv {
    char *text;         /* the file; cells are cut out of it in place */
    const char **cells; /* header first, then row by row */
    int *lines;         /* line on which each row starts, header included */
    size_t columns;
    size_t rows; /* header not counted */
    size_t cell_count;
    size_t cell_room;
    size_t row_room;
};

static fe_status add_cell(fe_csv *table, const char *cell)
{
    if (table->cell_count == table->cell_room) {
        size_t room = table->cell_room ? 2 * table->cell_room : 64;
        const char **grown = realloc(table->cells, room * sizeof *grown);
        if (!grown)
            return FE_E_MEMORY;
        table->cells = grown;
        table->cell_room = room;
    }
    table->cells[table->cell_count++] = cell;
    return FE_OK;
}

static fe_status add_line(fe_csv *table, size_t row, int line)
{
    if (row == table->row_room) {
        size_t room = table->row_room ? 2 * table->row_room : 64;
        int *grown = realloc(table->lines, room * sizeof *grown);
        if (!grown)
            return FE_E_MEMORY;
        table->lines = grown;
        table->row_room = room;
    }
    table->lines[row] = line;
    return FE_OK;
}

/*
 * Cuts one cell out in place. Returns the character that ended it (',', '\n' or 0 at the end of
 * the text), or -1 where a quote is left open or followed by text.
 */
static int cut_cell(char **at, int *line, char **cell)
{
    char *read = *at;
    if (*read == '"') {
        char *write = *cell = ++read;
        for (;;) {
            if (*read == 0)
                return -1;
            if (*read == '"') {
                if (read[1] != '"')
                    break;
                read++;
            } else if (*read == '\n') {
                (*line)++;
            }
            *write++ = *read++;
        }
        read++;
        *write = 0;
    } else {
        *cell = read;
        read += strcspn(read, ",\n");
    }
    char *end = read;
    if (*end == '\r' && (end[1] == '\n' || end[1] == 0))
        end++;
    if (*end != ',' && *end != '\n' && *end != 0)
        return -1;
    int ended_by = *end;
    if (read > *cell && ended_by != ',' && read[-1] == '\r')
        read[-1] = 0;
    *read = 0;
    *at = ended_by ? end + 1 : end;
    return ended_by;
}

/* Columns are found by name, so a name that two share would hide the second. Spreadsheets may
 * add columns without any name. */
static bool names_are_usable(const fe_csv *table)
{
    if (table->columns > MOST_COLUMNS)
        return false;
    for (size_t i = 1; i < table->columns; i++)
        for (size_t k = 0; k < i; k++)
            if (table->cells[i][0] && strcmp(table->cells[i], table->cells[k]) == 0)
                return false;
    return true;
}

static bool is_skipped_line(const char *at)
{
    return *at == '#' || *at == '\n' || (*at == '\r' && at[1] == '\n');
}

static fe_status cut_rows(fe_csv *table, int *bad_line)
{
    char *at = table->text;
    if (strncmp(at, "\xEF\xBB\xBF", 3) == 0)
        at += 3;
    size_t rows = 0;
    int line = 1;
    while (*at) {
        if (is_skipped_line(at)) {
            at += strcspn(at, "\n");
            at += *at != 0;
            line++;
            continue;
        }
        *bad_line = line;
        fe_status status = add_line(table, rows, line);
        size_t columns = 0;
        int ended_by = ',';
        while (ended_by == ',' && status == FE_OK) {
            char *cell = NULL;
            ended_by = cut_cell(&at, &line, &cell);
            if (ended_by < 0)
                return FE_E_INPUT;
            status = add_cell(table, cell);
            columns++;
        }
        if (status != FE_OK)
            return status;
        if (rows == 0)
            table->columns = columns;
        if (columns != table->columns || (rows == 0 && !names_are_usable(table)))
            return FE_E_INPUT;
        rows++;
        line++;
    }
    if (rows == 0) {
        *bad_line = 1;
        return FE_E_INPUT;
    }
    table->rows = rows - 1;
    return FE_OK;
}

/* Takes the text over, also on failure. */
static fe_status parse_owned(char *text, size_t length, fe_csv **result, int *bad_line)
{
    int scratch = 0;
    if (!bad_line)
        bad_line = &scratch;
    *bad_line = 1;
    fe_csv *table = calloc(1, sizeof *table);
    if (!table) {
        free(text);
        return FE_E_MEMORY;
    }
    table->text = text;
    fe_status status = strlen(text) == length ? cut_rows(table, bad_line) : FE_E_INPUT;
    if (status != FE_OK) {
        fe_csv_free(table);
        return status;
    }
    *result = table;
    return FE_OK;
}

fe_status fe_csv_parse(const char *text, size_t length, fe_csv **table, int *bad_line)
{
    char *copy = malloc(length + 1);
    if (!copy)
        return FE_E_MEMORY;
    memcpy(copy, text, length);
    copy[length] = 0;
    return parse_owned(copy, length, table, bad_line);
}

fe_status fe_csv_read(const char *path, fe_csv **table, int *bad_line)
{
    char *text = NULL;
    size_t length = 0;
    fe_status status = fe_textfile_read(path, &text, &length);
    if (status != FE_OK)
        return status;
    return parse_owned(text, length, table, bad_line);
}

static void explain(const char *path, const char *text, size_t length, int bad_line,
                    fe_messages *messages)
{
    if (length == 0)
        fe_messages_add(messages, path, 0, "the file is empty");
    else if (strlen(text) != length)
        fe_messages_add(messages, path, 0, "the file holds a NUL byte, so it is no text");
    else
        fe_messages_add(messages, path, bad_line, FE_CSV_FAULT);
}

fe_status fe_csv_read_or_say(const char *path, const char *what, fe_csv **table,
                             fe_messages *messages)
{
    char *text = NULL;
    size_t length = 0;
    int bad_line = 0;
    fe_status status = fe_textfile_read(path, &text, &length);
    if (status == FE_E_IO)
        fe_messages_add(messages, path, 0, "cannot read the %s: %s", what,
                        fe_textfile_reason(errno));
    if (status != FE_OK)
        return status;
    status = fe_csv_parse(text, length, table, &bad_line);
    if (status == FE_E_INPUT)
        explain(path, text, length, bad_line, messages);
    free(text);
    return status;
}

void fe_csv_free(fe_csv *table)
{
    if (!table)
        return;
    free(table->text);
    free(table->cells);
    free(table->lines);
    free(table);
}

size_t fe_csv_rows(const fe_csv *table)
{
    return table->rows;
}

size_t fe_csv_columns(const fe_csv *table)
{
    return table->columns;
}

const char *fe_csv_column_name(const fe_csv *table, size_t column)
{
    return column < table->columns ? table->cells[column] : "";
}

int fe_csv_column(const fe_csv *table, const char *name)
{
    for (size_t i = 0; i < table->columns; i++)
        if (strcmp(table->cells[i], name) == 0)
            return (int)i;
    return -1;
}

int fe_csv_line(const fe_csv *table, size_t row)
{
    return row < table->rows ? table->lines[row + 1] : 0;
}

const char *fe_csv_text(const fe_csv *table, size_t row, const char *column)
{
    int at = fe_csv_column(table, column);
    if (at < 0 || row >= table->rows)
        return "";
    return table->cells[(row + 1) * table->columns + (size_t)at];
}

double fe_csv_number(const fe_csv *table, size_t row, const char *column)
{
    double value = NAN;
    return fe_number_parse(fe_csv_text(table, row, column), &value) ? value : NAN;
}
