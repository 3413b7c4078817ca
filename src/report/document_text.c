/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A document in columns of characters, readable in black and white. */
#include <stdlib.h>
#include <string.h>

#include "farend/lines.h"
#include "report/document_model.h"

enum { LEAST_WIDTH = 40, COLUMN_GAP = 2, WIDEST_KEY = 30, LONGEST_KEPT_WORD = 24 };

typedef struct text_writer {
    const fe_document *doc;
    const fe_text_options *options;
    size_t width;
    fe_strbuf *out;
} text_writer;

/*
 * The text to lay out: values in the wished units, ties marked, plain ASCII where wanted. The
 * caller's to free; null without memory, which the output remembers.
 */
static char *resolved(const text_writer *writer, const char *text)
{
    fe_strbuf plain = FE_STRBUF_INIT;
    fe_strbuf tied = FE_STRBUF_INIT;
    fe_strbuf ascii = FE_STRBUF_INIT;
    document_plain(writer->doc, text ? text : "", writer->options->units, &plain);
    fe_lines_tie(fe_strbuf_text(&plain), &tied);
    if (!writer->options->utf8)
        fe_amount_to_ascii(fe_strbuf_text(&tied), &ascii);
    const bool failed = plain.failed || tied.failed;
    char *result = fe_strbuf_take(writer->options->utf8 ? &tied : &ascii);
    if (failed || !result) {
        free(result);
        result = NULL;
        writer->out->failed = true;
    }
    fe_strbuf_free(&plain);
    fe_strbuf_free(&tied);
    fe_strbuf_free(&ascii);
    return result;
}

/* Goes on where the output stands, at column `hang`. */
static void write_hanging(const text_writer *writer, const char *text, size_t hang)
{
    fe_lines_hang(writer->out, text, writer->width, hang);
}

/* A text behind a lead such as "Caution: ", under whose end it hangs. */
static void write_led(const text_writer *writer, const char *lead, const char *text)
{
    char *body = resolved(writer, text);
    fe_strbuf_append(writer->out, lead);
    write_hanging(writer, body ? body : "", fe_lines_columns(lead, strlen(lead)));
    free(body);
}

static void write_underlined(const text_writer *writer, const char *text, char underline)
{
    char *body = resolved(writer, text);
    const char *at = body ? body : "";
    const char *line = "";
    size_t length = 0;
    size_t widest = 0;
    while (fe_lines_next(&at, writer->width, &line, &length)) {
        const size_t columns = fe_lines_columns(line, length);
        widest = columns > widest ? columns : widest;
    }
    write_hanging(writer, body ? body : "", 0);
    fe_strbuf_repeat(writer->out, underline, widest);
    fe_strbuf_append_char(writer->out, '\n');
    free(body);
}

/* ---- Pairs ---- */

/* Where the values start in the run of pairs that this block belongs to. */
static size_t pair_column(const text_writer *writer, size_t index)
{
    const fe_document *doc = writer->doc;
    while (index > 0 && doc->blocks[index - 1].kind == BLOCK_PAIR)
        index--;
    size_t widest = 0;
    for (; index < doc->block_count && doc->blocks[index].kind == BLOCK_PAIR; index++) {
        char *key = resolved(writer, doc->blocks[index].name);
        const size_t columns = key ? fe_lines_columns(key, strlen(key)) : 0;
        if (columns > widest && columns <= WIDEST_KEY)
            widest = columns;
        free(key);
    }
    return widest + COLUMN_GAP;
}

static void write_pair(const text_writer *writer, size_t index)
{
    const document_block *block = &writer->doc->blocks[index];
    const size_t column = pair_column(writer, index);
    char *key = resolved(writer, block->name);
    char *text = resolved(writer, block->text);
    if (key && text) {
        const size_t columns = fe_lines_columns(key, strlen(key));
        if (columns < column) {
            fe_lines_append(writer->out, key, strlen(key));
            fe_strbuf_repeat(writer->out, ' ', column - columns);
        } else {
            write_hanging(writer, key, 0);
            fe_strbuf_repeat(writer->out, ' ', column);
        }
        write_hanging(writer, text, column);
    }
    free(key);
    free(text);
}

/* ---- Tables ---- */

/* A table with its texts resolved: row 0 is the head. */
typedef struct grid {
    size_t rows;
    size_t columns;
    char **cells;
    size_t *widths;
    const document_column *heads;
} grid;

static void grid_free(grid *table)
{
    for (size_t i = 0; table->cells && i < table->rows * table->columns; i++)
        free(table->cells[i]);
    free(table->cells);
    free(table->widths);
}

static bool grid_fill(const text_writer *writer, const document_table *source, grid *table)
{
    *table = (grid){source->row_count + 1, source->column_count, NULL, NULL, source->columns};
    table->cells = calloc(table->rows * table->columns, sizeof *table->cells);
    table->widths = calloc(table->columns, sizeof *table->widths);
    if (!table->cells || !table->widths)
        return false;
    for (size_t i = 0; i < table->rows * table->columns; i++) {
        const char *text =
            i < table->columns ? source->columns[i].name : source->cells[i - table->columns];
        table->cells[i] = resolved(writer, text);
        if (!table->cells[i])
            return false;
    }
    return true;
}

static size_t widest_cell(const grid *table, size_t column)
{
    size_t widest = 1;
    for (size_t row = 0; row < table->rows; row++) {
        const char *text = table->cells[row * table->columns + column];
        const size_t columns = fe_lines_columns(text, strlen(text));
        widest = columns > widest ? columns : widest;
    }
    return widest;
}

/* No column becomes narrower than its longest word, within reason. */
static size_t longest_word(const grid *table, size_t column)
{
    size_t longest = 1;
    for (size_t row = 0; row < table->rows; row++) {
        const char *at = table->cells[row * table->columns + column];
        while (*at) {
            const size_t length = strcspn(at, " ");
            const size_t columns = fe_lines_columns(at, length);
            longest = columns > longest ? columns : longest;
            at += length;
            at += strspn(at, " ");
        }
    }
    return longest < LONGEST_KEPT_WORD ? longest : LONGEST_KEPT_WORD;
}

static size_t grid_width(const grid *table)
{
    size_t width = COLUMN_GAP * (table->columns - 1);
    for (size_t i = 0; i < table->columns; i++)
        width += table->widths[i];
    return width;
}

/* Narrows the widest column that still may, step by step; false where the table cannot fit. */
static bool grid_fit(grid *table, size_t width)
{
    for (size_t i = 0; i < table->columns; i++)
        table->widths[i] = widest_cell(table, i);
    while (grid_width(table) > width) {
        size_t best = table->columns;
        for (size_t i = 0; i < table->columns; i++)
            if (table->widths[i] > longest_word(table, i) &&
                (best == table->columns || table->widths[i] > table->widths[best]))
                best = i;
        if (best == table->columns)
            return false;
        table->widths[best]--;
    }
    return true;
}

static void write_slot(const text_writer *writer, const grid *table, size_t column,
                       const char *line, size_t length)
{
    const size_t fill = table->widths[column] - fe_lines_columns(line, length);
    if (column > 0)
        fe_strbuf_repeat(writer->out, ' ', COLUMN_GAP);
    if (table->heads[column].right)
        fe_strbuf_repeat(writer->out, ' ', fill);
    fe_lines_append(writer->out, line, length);
    if (!table->heads[column].right)
        fe_strbuf_repeat(writer->out, ' ', fill);
}

static void cut_back_to(fe_strbuf *out, size_t length)
{
    if (out->failed)
        return;
    out->length = length;
    out->text[length] = 0;
}

static void drop_trailing_spaces(fe_strbuf *out)
{
    size_t length = out->length;
    while (!out->failed && length > 0 && out->text[length - 1] == ' ')
        length--;
    cut_back_to(out, length);
}

/* One line across all cells of a row; false, and nothing written, where all are used up. */
static bool write_grid_line(const text_writer *writer, const grid *table, const char **at)
{
    const size_t start = writer->out->length;
    bool any = false;
    for (size_t i = 0; i < table->columns; i++) {
        const char *line = "";
        size_t length = 0;
        any = fe_lines_next(&at[i], table->widths[i], &line, &length) || any;
        write_slot(writer, table, i, line, length);
    }
    if (any) {
        drop_trailing_spaces(writer->out);
        fe_strbuf_append_char(writer->out, '\n');
    } else {
        cut_back_to(writer->out, start);
    }
    return any;
}

static void write_grid_row(const text_writer *writer, const grid *table, size_t row)
{
    const char **at = calloc(table->columns, sizeof *at);
    if (!at) {
        writer->out->failed = true;
        return;
    }
    for (size_t i = 0; i < table->columns; i++)
        at[i] = table->cells[row * table->columns + i];
    while (write_grid_line(writer, table, at)) {
    }
    free(at);
}

static void write_grid(const text_writer *writer, const grid *table)
{
    write_grid_row(writer, table, 0);
    for (size_t i = 0; i < table->columns; i++) {
        fe_strbuf_repeat(writer->out, ' ', i > 0 ? COLUMN_GAP : 0);
        fe_strbuf_repeat(writer->out, '-', table->widths[i]);
    }
    fe_strbuf_append_char(writer->out, '\n');
    for (size_t row = 1; row < table->rows; row++)
        write_grid_row(writer, table, row);
}

/* A table too wide for the page: one record after the other. */
static void write_records(const text_writer *writer, const grid *table)
{
    for (size_t row = 1; row < table->rows; row++) {
        char *const *cells = &table->cells[row * table->columns];
        write_hanging(writer, cells[0], 0);
        for (size_t i = 1; i < table->columns; i++) {
            const char *head = table->cells[i];
            if (cells[i][0] == 0)
                continue;
            fe_strbuf_append(writer->out, "  ");
            fe_lines_append(writer->out, head, strlen(head));
            fe_strbuf_append(writer->out, ": ");
            write_hanging(writer, cells[i], fe_lines_columns(head, strlen(head)) + 4);
        }
    }
}

static void write_table(const text_writer *writer, const document_block *block)
{
    grid table;
    if (!grid_fill(writer, &block->table, &table)) {
        writer->out->failed = true;
    } else {
        if (block->text[0])
            write_led(writer, "", block->text);
        if (grid_fit(&table, writer->width))
            write_grid(writer, &table);
        else
            write_records(writer, &table);
    }
    grid_free(&table);
}

/* ---- The other blocks ---- */

static void write_figure(const text_writer *writer, const document_block *block)
{
    if (block->reason) {
        write_led(writer, "Figure missing: ", block->name);
        write_led(writer, "  Reason: ", block->reason);
    } else {
        write_led(writer, "Figure: ", block->name);
    }
    if (block->text[0])
        write_led(writer, "  ", block->text);
}

static size_t step_number(const fe_document *doc, size_t index)
{
    size_t number = 1;
    while (index > 0 && doc->blocks[--index].kind == BLOCK_STEP)
        number++;
    return number;
}

static void write_step(const text_writer *writer, size_t index)
{
    fe_strbuf lead = FE_STRBUF_INIT;
    fe_strbuf_format(&lead, "%zu. ", step_number(writer->doc, index));
    write_led(writer, fe_strbuf_text(&lead), writer->doc->blocks[index].text);
    writer->out->failed = writer->out->failed || lead.failed;
    fe_strbuf_free(&lead);
}

/* Sign, word and text as one run that hangs under the word. */
static void write_verdict(const text_writer *writer, const document_block *block)
{
    fe_strbuf whole = FE_STRBUF_INIT;
    char *text = resolved(writer, block->text);
    fe_strbuf_format(&whole, "%s: %s", fe_mark_word(block->mark), text ? text : "");
    fe_strbuf_format(writer->out, "%s ", document_mark_sign(block->mark));
    write_hanging(writer, fe_strbuf_text(&whole), strlen(document_mark_sign(block->mark)) + 1);
    writer->out->failed = writer->out->failed || whole.failed;
    free(text);
    fe_strbuf_free(&whole);
}

static void write_block(const text_writer *writer, size_t index)
{
    const document_block *block = &writer->doc->blocks[index];
    switch (block->kind) {
    case BLOCK_HEADING:
        if (block->level == 2)
            write_underlined(writer, block->text, '-');
        else
            write_led(writer, "", block->text);
        break;
    case BLOCK_PARAGRAPH:
        write_led(writer, "", block->text);
        break;
    case BLOCK_PAIR:
        write_pair(writer, index);
        break;
    case BLOCK_ITEM:
        write_led(writer, "- ", block->text);
        break;
    case BLOCK_STEP:
        write_step(writer, index);
        break;
    case BLOCK_VERDICT:
        write_verdict(writer, block);
        break;
    case BLOCK_CAUTION:
        write_led(writer, "Caution: ", block->text);
        break;
    case BLOCK_SOURCE:
        write_led(writer, "Source: ", block->text);
        break;
    case BLOCK_TABLE:
        write_table(writer, block);
        break;
    case BLOCK_FIGURE:
        write_figure(writer, block);
        break;
    }
}

/* Lists stand together, and a small heading stands on what it heads. */
static bool is_tight(const document_block *above, const document_block *below)
{
    if (above->kind == BLOCK_HEADING && above->level == 3)
        return true;
    return above->kind == below->kind &&
           (below->kind == BLOCK_PAIR || below->kind == BLOCK_ITEM ||
            below->kind == BLOCK_STEP || below->kind == BLOCK_SOURCE);
}

fe_status fe_document_text(const fe_document *doc, const fe_text_options *options,
                           fe_strbuf *out)
{
    const fe_status whole = fe_document_status(doc);
    if (whole < 0)
        return whole;
    const size_t width = options->width < LEAST_WIDTH ? LEAST_WIDTH : options->width;
    const text_writer writer = {doc, options, width, out};
    write_underlined(&writer, doc->title, '=');
    const document_block *above = NULL;
    for (size_t i = 0; i < doc->block_count; i++) {
        if (!document_is_shown(&doc->blocks[i]))
            continue;
        if (!above || !is_tight(above, &doc->blocks[i]))
            fe_strbuf_append_char(out, '\n');
        write_block(&writer, i);
        above = &doc->blocks[i];
    }
    return fe_strbuf_status(out);
}
