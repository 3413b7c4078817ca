/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/document.h"

#include <assert.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "report/document_model.h"

#define TOKEN_START '\1'
#define TOKEN_END '\2'

/* Room for one item more. Room is always a power of two, so no separate count of it is kept. */
static void *grown(void *items, size_t count, size_t item_size)
{
    if (count > 0 && (count & (count - 1)) != 0)
        return items;
    const size_t room = count ? count * 2 : 1;
    return realloc(items, room * item_size);
}

static char *copy_bytes(const char *text, size_t length)
{
    char *copy = malloc(length + 1);
    if (copy) {
        memcpy(copy, text, length);
        copy[length] = 0;
    }
    return copy;
}

/* ---- Texts ---- */

/* Number and length of the token that stands here; false where it is none of ours. */
static bool token_at(const fe_document *doc, const char *text, size_t *index, size_t *length)
{
    if (*text != TOKEN_START)
        return false;
    char *end = NULL;
    const uintmax_t key = strtoumax(text + 1, &end, 16);
    if (*end != ':' || key != (uintmax_t)(uintptr_t)doc)
        return false;
    const uintmax_t number = strtoumax(end + 1, &end, 10);
    if (*end != TOKEN_END || number >= doc->inline_count)
        return false;
    *index = (size_t)number;
    *length = (size_t)(end - text) + 1;
    return true;
}

static size_t utf8_length_of_lead(unsigned char lead)
{
    if (lead < 0x80)
        return 1;
    if (lead >= 0xc2 && lead <= 0xdf)
        return 2;
    if (lead >= 0xe0 && lead <= 0xef)
        return 3;
    return lead >= 0xf0 && lead <= 0xf4 ? 4 : 0;
}

/* Bytes of a well-formed UTF-8 character and its number; 0 where it is none (RFC 3629). */
static size_t utf8_scan(const char *text, unsigned long *code)
{
    static const unsigned long LEAST[] = {0, 0, 0x80, 0x800, 0x10000};
    const unsigned char lead = (unsigned char)text[0];
    const size_t length = utf8_length_of_lead(lead);
    unsigned long read = length > 1 ? lead & (0x7fu >> length) : lead;
    for (size_t i = 1; i < length; i++) {
        const unsigned char next = (unsigned char)text[i];
        if ((next & 0xc0) != 0x80)
            return 0;
        read = read << 6 | (next & 0x3fu);
    }
    if (length > 1 &&
        (read < LEAST[length] || read > 0x10ffff || (read >= 0xd800 && read <= 0xdfff)))
        return 0;
    *code = read;
    return length;
}

/* Characters that act on a terminal, hide, or turn the direction of what follows. */
static bool is_unprintable(unsigned long code)
{
    return code < 0x20 || (code >= 0x7f && code <= 0x9f) ||
           (code >= 0x200b && code <= 0x200f) || (code >= 0x2028 && code <= 0x202e) ||
           (code >= 0x2060 && code <= 0x206f) || code == 0xfeff || (code & 0xfffe) == 0xfffe;
}

static bool is_space(char character)
{
    return character == ' ' || (character >= '\t' && character <= '\r');
}

static const char *skip_spaces(const char *text)
{
    while (is_space(*text))
        text++;
    return text;
}

/* Copies one character, or '?' for what is none or cannot be shown; returns its length. */
static size_t copy_character(const char *text, fe_strbuf *out)
{
    unsigned long code = 0;
    const size_t length = utf8_scan(text, &code);
    if (length == 0 || is_unprintable(code))
        fe_strbuf_append_char(out, '?');
    else
        fe_strbuf_append_bytes(out, text, length);
    return length ? length : 1;
}

/* A text as blocks hold it: UTF-8, spaces collapsed, nothing unprintable but our tokens. */
static char *clean_copy(const fe_document *doc, const char *text)
{
    fe_strbuf out = FE_STRBUF_INIT;
    text = skip_spaces(text);
    while (*text) {
        size_t index = 0;
        size_t length = 0;
        if (is_space(*text)) {
            text = skip_spaces(text);
            fe_strbuf_append(&out, *text ? " " : "");
        } else if (token_at(doc, text, &index, &length)) {
            fe_strbuf_append_bytes(&out, text, length);
            text += length;
        } else {
            text += copy_character(text, &out);
        }
    }
    return fe_strbuf_take(&out);
}

static char *clean_format(const fe_document *doc, const char *format, va_list arguments)
    FE_PRINTF(2, 0);
static char *clean_format(const fe_document *doc, const char *format, va_list arguments)
{
    fe_strbuf whole = FE_STRBUF_INIT;
    fe_strbuf_format_list(&whole, format, arguments);
    char *copy = whole.failed ? NULL : clean_copy(doc, fe_strbuf_text(&whole));
    fe_strbuf_free(&whole);
    return copy;
}

/* ---- Life ---- */

fe_document *fe_document_new(const char *title_format, ...)
{
    fe_document *doc = calloc(1, sizeof *doc);
    if (!doc)
        return NULL;
    va_list arguments;
    va_start(arguments, title_format);
    doc->title = clean_format(doc, title_format, arguments);
    va_end(arguments);
    doc->failed = !doc->title;
    return doc;
}

static void free_table(document_table *table)
{
    for (size_t i = 0; i < table->row_count * table->column_count; i++)
        free(table->cells[i]);
    for (size_t i = 0; i < table->column_count; i++)
        free(table->columns[i].name);
    free(table->cells);
    free(table->columns);
}

void fe_document_free(fe_document *doc)
{
    if (!doc)
        return;
    for (size_t i = 0; i < doc->block_count; i++) {
        document_block *block = &doc->blocks[i];
        free(block->text);
        free(block->name);
        free(block->id);
        free(block->svg);
        free(block->reason);
        free_table(&block->table);
    }
    for (size_t i = 0; i < doc->inline_count; i++) {
        free(doc->inlines[i].text);
        free(doc->inlines[i].token);
    }
    free(doc->blocks);
    free(doc->inlines);
    free(doc->title);
    free(doc);
}

void fe_document_fail(fe_document *doc)
{
    if (doc)
        doc->failed = true;
}

bool fe_document_takes(fe_document *doc, fe_status status)
{
    if (doc && status < 0 && doc->refused >= 0)
        doc->refused = status;
    return status >= 0;
}

void fe_document_free_text(fe_document *doc, fe_strbuf *text)
{
    if (fe_strbuf_status(text) < 0)
        fe_document_fail(doc);
    fe_strbuf_free(text);
}

fe_status fe_document_status(const fe_document *doc)
{
    return !doc || doc->failed ? FE_E_MEMORY : doc->refused;
}

/* ---- Inline values ---- */

/* Takes value.text over, also where it fails. */
static const char *add_inline(fe_document *doc, document_inline value)
{
    if (!doc || doc->failed) {
        free(value.text);
        return "";
    }
    fe_strbuf token = FE_STRBUF_INIT;
    fe_strbuf_format(&token, "%c%" PRIxMAX ":%zu%c", TOKEN_START, (uintmax_t)(uintptr_t)doc,
                     doc->inline_count, TOKEN_END);
    value.token = fe_strbuf_take(&token);
    document_inline *items = grown(doc->inlines, doc->inline_count, sizeof *items);
    doc->inlines = items ? items : doc->inlines;
    if (!items || !value.token) {
        free(value.text);
        free(value.token);
        doc->failed = true;
        return "";
    }
    doc->inlines[doc->inline_count++] = value;
    return value.token;
}

const char *fe_amount_digits(fe_document *doc, double si, fe_style style, int extra_digits)
{
    return add_inline(doc, (document_inline){.kind = INLINE_AMOUNT,
                                             .style = style,
                                             .low = si,
                                             .high = si,
                                             .extra_digits = extra_digits});
}

const char *fe_amount(fe_document *doc, double si, fe_style style)
{
    return fe_amount_digits(doc, si, style, 0);
}

const char *fe_amount_beside(fe_document *doc, double si, double bound_si, fe_style style)
{
    return fe_amount_digits(doc, si, style,
                            fe_amount_digits_beside(style, si, bound_si, FE_UNITS_METRIC));
}

const char *fe_amount_count(fe_document *doc, size_t count)
{
    return count == 0 ? "none" : fe_amount(doc, (double)count, FE_STYLE_COUNT);
}

const char *fe_amount_range(fe_document *doc, double low_si, double high_si, fe_style style)
{
    return add_inline(
        doc, (document_inline){
                 .kind = INLINE_AMOUNT, .style = style, .low = low_si, .high = high_si});
}

const char *fe_amount_value(fe_document *doc, fe_value value, fe_style style)
{
    if (value.given == FE_GIVEN_NOT)
        return "-";
    const bool unknown = value.given == FE_GIVEN_UNKNOWN;
    return add_inline(doc, (document_inline){.kind = unknown ? INLINE_UNKNOWN : INLINE_AMOUNT,
                                             .style = style,
                                             .low = value.low,
                                             .high = value.high});
}

static const struct {
    const char *sign;
    const char *word;
} MARKS[FE_MARKS] = {
    [FE_MARK_HOLDS] = {"[+]", "holds"},
    [FE_MARK_TIGHT] = {"[~]", "tight"},
    [FE_MARK_FAILS] = {"[x]", "fails"},
    [FE_MARK_UNKNOWN] = {"[?]", "not computed"},
};

const char *fe_mark_word(fe_mark mark)
{
    assert(mark < FE_MARKS);
    return MARKS[mark].word;
}

const char *document_mark_sign(fe_mark mark)
{
    assert(mark < FE_MARKS);
    return MARKS[mark].sign;
}

fe_mark fe_mark_of_verdict(fe_verdict verdict)
{
    static const fe_mark OF[] = {
        [FE_VERDICT_HOLDS] = FE_MARK_HOLDS,
        [FE_VERDICT_TIGHT] = FE_MARK_TIGHT,
        [FE_VERDICT_FAILS] = FE_MARK_FAILS,
    };
    return OF[verdict];
}

const char *fe_mark_of(fe_document *doc, fe_mark mark)
{
    return add_inline(doc, (document_inline){.kind = INLINE_MARK, .mark = mark});
}

const char *fe_strong(fe_document *doc, const char *text)
{
    char *copy = doc ? clean_copy(doc, text) : NULL;
    if (doc && !copy)
        doc->failed = true;
    return add_inline(doc, (document_inline){.kind = INLINE_STRONG, .text = copy});
}

/* ---- Blocks ---- */

/* A new block that owns the text; null, with the text freed, after a failure. */
static document_block *add_block(fe_document *doc, block_kind kind, char *text)
{
    document_block *blocks = NULL;
    if (doc && !doc->failed && text)
        blocks = grown(doc->blocks, doc->block_count, sizeof *blocks);
    if (!blocks) {
        free(text);
        if (doc)
            doc->failed = true;
        return NULL;
    }
    doc->blocks = blocks;
    document_block *block = &doc->blocks[doc->block_count++];
    *block = (document_block){.kind = kind, .text = text};
    return block;
}

static document_block *add_formatted(fe_document *doc, block_kind kind, const char *format,
                                     va_list arguments) FE_PRINTF(3, 0);
static document_block *add_formatted(fe_document *doc, block_kind kind, const char *format,
                                     va_list arguments)
{
    return add_block(doc, kind, doc ? clean_format(doc, format, arguments) : NULL);
}

void fe_document_heading(fe_document *doc, int level, const char *format, ...)
{
    assert(level == 2 || level == 3);
    va_list arguments;
    va_start(arguments, format);
    document_block *block = add_formatted(doc, BLOCK_HEADING, format, arguments);
    va_end(arguments);
    if (block)
        block->level = level;
}

/* The blocks that are one text and nothing else. */
#define DEFINE_TEXT_BLOCK(name, kind)                                                          \
    void name(fe_document *doc, const char *format, ...)                                       \
    {                                                                                          \
        va_list arguments;                                                                     \
        va_start(arguments, format);                                                           \
        add_formatted(doc, kind, format, arguments);                                           \
        va_end(arguments);                                                                     \
    }
DEFINE_TEXT_BLOCK(fe_document_paragraph, BLOCK_PARAGRAPH)
DEFINE_TEXT_BLOCK(fe_document_item, BLOCK_ITEM)
DEFINE_TEXT_BLOCK(fe_document_step, BLOCK_STEP)
DEFINE_TEXT_BLOCK(fe_document_caution, BLOCK_CAUTION)
DEFINE_TEXT_BLOCK(fe_document_source, BLOCK_SOURCE)

/* A field of a block; where it finds no memory the document has failed. */
static void set_field(fe_document *doc, char **field, char *copy)
{
    *field = copy;
    if (!copy)
        doc->failed = true;
}

void fe_document_pair(fe_document *doc, const char *key, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    document_block *block = add_formatted(doc, BLOCK_PAIR, format, arguments);
    va_end(arguments);
    if (block)
        set_field(doc, &block->name, clean_copy(doc, key));
}

void fe_document_verdict(fe_document *doc, fe_mark mark, const char *format, ...)
{
    assert(mark < FE_MARKS);
    va_list arguments;
    va_start(arguments, format);
    document_block *block = add_formatted(doc, BLOCK_VERDICT, format, arguments);
    va_end(arguments);
    if (block)
        block->mark = mark;
}

/* ---- Tables ---- */

static bool add_column(const fe_document *doc, document_table *table, const char *name,
                       size_t length)
{
    document_column *columns = grown(table->columns, table->column_count, sizeof *columns);
    if (!columns)
        return false;
    table->columns = columns;
    const bool right = length > 0 && name[length - 1] == '>';
    char *part = copy_bytes(name, right ? length - 1 : length);
    char *clean = part ? clean_copy(doc, part) : NULL;
    free(part);
    if (clean)
        table->columns[table->column_count++] = (document_column){clean, right};
    return clean != NULL;
}

void fe_document_table(fe_document *doc, const char *caption, const char *columns)
{
    document_block *block =
        add_block(doc, BLOCK_TABLE, doc ? clean_copy(doc, caption ? caption : "") : NULL);
    for (const char *at = columns; block; at++) {
        const size_t length = strcspn(at, "|");
        if (!add_column(doc, &block->table, at, length)) {
            doc->failed = true;
            return;
        }
        at += length;
        if (*at == 0)
            return;
    }
}

/* The table that rows and cells go to: the last block. */
static document_table *open_table(fe_document *doc)
{
    if (!doc || doc->failed)
        return NULL;
    const bool open =
        doc->block_count > 0 && doc->blocks[doc->block_count - 1].kind == BLOCK_TABLE;
    assert(open);
    return open ? &doc->blocks[doc->block_count - 1].table : NULL;
}

void fe_document_row(fe_document *doc)
{
    document_table *table = open_table(doc);
    if (!table)
        return;
    const size_t width = table->column_count;
    char **cells = grown(table->cells, table->row_count, width * sizeof *cells);
    if (!cells) {
        doc->failed = true;
        return;
    }
    table->cells = cells;
    for (size_t i = 0; i < width; i++)
        cells[table->row_count * width + i] = NULL;
    table->row_count++;
    table->next_cell = 0;
}

void fe_document_cell(fe_document *doc, const char *format, ...)
{
    document_table *table = open_table(doc);
    assert(!table || (table->row_count > 0 && table->next_cell < table->column_count));
    if (!table || table->row_count == 0 || table->next_cell >= table->column_count)
        return;
    va_list arguments;
    va_start(arguments, format);
    char **cell =
        &table->cells[(table->row_count - 1) * table->column_count + table->next_cell++];
    set_field(doc, cell, clean_format(doc, format, arguments));
    va_end(arguments);
}

/* ---- Figures ---- */

/* An id is used in attributes and file names: everything else in it becomes '-'. */
static char *clean_id(const char *id)
{
    char *copy = copy_bytes(id, strlen(id));
    for (char *at = copy; at && *at; at++)
        if (!strchr("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-", *at))
            *at = '-';
    return copy;
}

void fe_document_figure(fe_document *doc, const char *id, const char *title,
                        const char *alternative, const char *svg, const char *reason)
{
    document_block *block =
        add_block(doc, BLOCK_FIGURE, doc ? clean_copy(doc, alternative) : NULL);
    if (!block)
        return;
    set_field(doc, &block->name, clean_copy(doc, title));
    set_field(doc, &block->id, clean_id(id));
    if (svg)
        set_field(doc, &block->svg, copy_bytes(svg, strlen(svg)));
    else
        set_field(doc, &block->reason, clean_copy(doc, reason ? reason : "not drawn"));
}

static const document_block *figure_block(const fe_document *doc, size_t index)
{
    for (size_t i = 0; doc && i < doc->block_count; i++)
        if (doc->blocks[i].kind == BLOCK_FIGURE && index-- == 0)
            return &doc->blocks[i];
    return NULL;
}

size_t fe_document_figures(const fe_document *doc)
{
    size_t count = 0;
    while (figure_block(doc, count))
        count++;
    return count;
}

fe_document_figure_view fe_document_figure_at(const fe_document *doc, size_t index)
{
    const document_block *block = figure_block(doc, index);
    assert(block);
    if (!block)
        return (fe_document_figure_view){"", "", "no such figure"};
    return (fe_document_figure_view){block->id, block->name, block->reason};
}

fe_status fe_document_figure_svg(const fe_document *doc, size_t index, fe_units units,
                                 fe_strbuf *out)
{
    const fe_status whole = fe_document_status(doc);
    if (whole < 0)
        return whole;
    const document_block *block = figure_block(doc, index);
    if (!block || !block->svg)
        return FE_E_INPUT;
    document_write_svg(doc, block, units, out);
    return fe_strbuf_status(out);
}

/* ---- For the renderers ---- */

bool document_next_piece(const fe_document *doc, const char **at, document_piece *piece)
{
    if (**at == 0)
        return false;
    size_t index = 0;
    size_t length = 0;
    if (token_at(doc, *at, &index, &length)) {
        *piece = (document_piece){NULL, 0, &doc->inlines[index]};
    } else {
        const char *next = strchr(*at + 1, TOKEN_START);
        length = next ? (size_t)(next - *at) : strlen(*at);
        *piece = (document_piece){*at, length, NULL};
    }
    *at += length;
    return true;
}

void document_print_amount(const document_inline *value, fe_units units, fe_strbuf *out)
{
    if (value->kind == INLINE_UNKNOWN)
        fe_strbuf_append(out, "unknown (");
    fe_amount_print_range(value->style, value->low, value->high, value->extra_digits, units,
                          out);
    if (value->kind == INLINE_UNKNOWN)
        fe_strbuf_append(out, ")");
}

void document_plain(const fe_document *doc, const char *text, fe_units units, fe_strbuf *out)
{
    document_piece piece;
    while (document_next_piece(doc, &text, &piece)) {
        if (!piece.value)
            fe_strbuf_append_bytes(out, piece.text, piece.length);
        else if (piece.value->kind == INLINE_MARK)
            fe_strbuf_format(out, "%s\xc2\xa0%s", document_mark_sign(piece.value->mark),
                             fe_mark_word(piece.value->mark));
        else if (piece.value->kind == INLINE_STRONG)
            document_plain(doc, piece.value->text, units, out);
        else
            document_print_amount(piece.value, units, out);
    }
}

bool document_is_shown(const document_block *block)
{
    return block->kind != BLOCK_TABLE || block->table.row_count > 0;
}
