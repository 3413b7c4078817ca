/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_DOCUMENT_MODEL_H
#define REPORT_DOCUMENT_MODEL_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/document.h"

/*
 * The inside of a document, for its renderers. A text holds plain UTF-8 without control
 * characters, and tokens "\1KEY:INDEX\2" that stand for an inline value. KEY is the document's
 * own, so nothing that comes out of a plan can pass for a token.
 */
typedef enum block_kind {
    BLOCK_HEADING,
    BLOCK_PARAGRAPH,
    BLOCK_PAIR,
    BLOCK_ITEM,
    BLOCK_STEP,
    BLOCK_VERDICT,
    BLOCK_CAUTION,
    BLOCK_SOURCE,
    BLOCK_TABLE,
    BLOCK_FIGURE
} block_kind;

typedef struct document_column {
    char *name;
    bool right;
} document_column;

typedef struct document_table {
    document_column *columns;
    size_t column_count;
    char **cells; /* row after row; null: empty */
    size_t row_count;
    size_t next_cell; /* of the last row */
} document_table;

typedef struct document_block {
    block_kind kind;
    int level;    /* of a heading */
    fe_mark mark; /* of a verdict */
    char *text;   /* what a block says; caption of a table; alternative of a figure */
    char *name;   /* key of a pair; title of a figure */
    char *id;     /* of a figure */
    char *svg;    /* of a figure; null: missing */
    char *reason; /* why it is */
    document_table table;
} document_block;

typedef enum inline_kind {
    INLINE_AMOUNT,
    INLINE_UNKNOWN, /* the range that stands in for what nobody knows */
    INLINE_MARK,
    INLINE_STRONG
} inline_kind;

typedef struct document_inline {
    inline_kind kind;
    fe_style style;
    double low;
    double high;
    int extra_digits;
    fe_mark mark;
    char *text; /* of strong */
    char *token;
} document_inline;

struct fe_document {
    char *title;
    document_block *blocks;
    size_t block_count;
    document_inline *inlines;
    size_t inline_count;
    bool failed;
    fe_status refused; /* below zero: of the first formula that did */
};

/* A stretch of plain characters, or an inline value. */
typedef struct document_piece {
    const char *text;
    size_t length;
    const document_inline *value; /* null: plain text */
} document_piece;

/* The next piece of a text; moves *at past it, false at the end. */
bool document_next_piece(const fe_document *doc, const char **at, document_piece *piece);

/* An amount (no mark, no strong text) as UTF-8. */
void document_print_amount(const document_inline *value, fe_units units, fe_strbuf *out);

/* "[+]", "[~]"... */
const char *document_mark_sign(fe_mark mark);

/* Text with its inline values, without any markup. */
void document_plain(const fe_document *doc, const char *text, fe_units units, fe_strbuf *out);

/* True where a block leaves a trace: a table without rows does not. */
bool document_is_shown(const document_block *block);

/* The SVG of a figure with role, title and description. */
void document_write_svg(const fe_document *doc, const document_block *figure, fe_units units,
                        fe_strbuf *out);

#endif
