/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_DOCUMENT_H
#define FAREND_DOCUMENT_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/amount.h"
#include "farend/quantity.h"
#include "farend/status.h"
#include "farend/strbuf.h"
#include "farend/verdict.h"

/*
 * A report as a list of blocks, written once and rendered as text and as HTML, so that both say
 * the same by construction. Units are chosen at rendering.
 *
 *     fe_document *doc = fe_document_new("Reaching the %s", end_name);
 *     fe_document_verdict(doc, FE_MARK_HOLDS, "Radio at 5 GHz, margin %s in %s.",
 *                         fe_amount(doc, margin_db, FE_STYLE_RATIO), season_name);
 *     fe_document_heading(doc, 2, "Ways side by side");
 *     fe_document_table(doc, "Ways", "way|verdict|margin>|limited by");
 *     for (size_t i = 0; i < count; i++) {
 *         fe_document_row(doc);
 *         fe_document_cell(doc, "%s", ways[i].name);
 *         fe_document_cell(doc, "%s", fe_mark_of(doc, ways[i].mark));
 *         fe_document_cell(doc, "%s", fe_amount(doc, ways[i].margin_db, FE_STYLE_RATIO));
 *         fe_document_cell(doc, "%s in %s", ways[i].limit, ways[i].season);
 *     }
 *     fe_document_pair(doc, "Distance", "%s", fe_amount(doc, distance_m, FE_STYLE_DISTANCE));
 *     fe_document_item(doc, "Cut %s of cable.", fe_amount(doc, cut_m, FE_STYLE_LENGTH));
 *     fe_document_caution(doc, "Work on the mains is for a licensed electrician.");
 *     fe_document_source(doc, "Free space: ITU-R P.525-4.");
 *     fe_document_figure(doc, "margin", "Margin by band and season", alternative, svg, reason);
 *     status = fe_document_status(doc);
 *     if (status == FE_OK)
 *         status = fe_document_text(doc, &(fe_text_options){80, FE_UNITS_METRIC, false}, &out);
 *     fe_document_free(doc);
 *
 * Every text is plain text, copied: nothing in it is markup, in either form. A failure of
 * memory sticks and is reported by fe_document_status and by the renderers; a null document
 * (new failed) takes every call. Blocks of one kind that follow each other (pairs, items,
 * steps) make one list.
 */
typedef struct fe_document fe_document;

fe_document *fe_document_new(const char *title_format, ...) FE_PRINTF(1, 2);
void fe_document_free(fe_document *doc);
FE_MUST_CHECK fe_status fe_document_status(const fe_document *doc);
/* Notes that what belongs into the document had no memory elsewhere. */
void fe_document_fail(fe_document *doc);
/*
 * True where a formula gave what is to be written next. The first that refused sticks as a
 * failure of memory does: no document comes out that lacks a sentence.
 */
bool fe_document_takes(fe_document *doc, fe_status status);
/* Frees a text that went into the document, which has failed where the text had. */
void fe_document_free_text(fe_document *doc, fe_strbuf *text);

/* ---- Inline values: each returns text to pass to %s of a call on the same document ---- */

/* A value in SI, written in the style's unit; "-" where it is not finite. */
const char *fe_amount(fe_document *doc, double si, fe_style style);
/* The same with more (below zero: fewer) decimals than usual. */
const char *fe_amount_digits(fe_document *doc, double si, fe_style style, int extra_digits);
/* The same with as many decimals more as it takes not to print like a bound, of a style that
 * has one unit: fe_amount_digits_beside. */
const char *fe_amount_beside(fe_document *doc, double si, double bound_si, fe_style style);
/* A number of things: "12", or "none". */
const char *fe_amount_count(fe_document *doc, size_t count);
/* "3 to 5 m". */
const char *fe_amount_range(fe_document *doc, double low_si, double high_si, fe_style style);
/* A value of the plan: one value, a range, or "unknown (3 to 5 m)". */
const char *fe_amount_value(fe_document *doc, fe_value value, fe_style style);

/* How a verdict is marked; the word always stands beside the sign. */
typedef enum fe_mark {
    FE_MARK_HOLDS,   /* [+] holds */
    FE_MARK_TIGHT,   /* [~] tight */
    FE_MARK_FAILS,   /* [x] fails */
    FE_MARK_UNKNOWN, /* [?] not computed */
    FE_MARKS
} fe_mark;
const char *fe_mark_word(fe_mark mark);
fe_mark fe_mark_of_verdict(fe_verdict verdict);
/* Sign and word, for a cell or a sentence. */
const char *fe_mark_of(fe_document *doc, fe_mark mark);
/* Text that stands out. */
const char *fe_strong(fe_document *doc, const char *text);

/* ---- Blocks ---- */

/* Level 2 is a part of the report, 3 a part of that; 1 is the title. */
void fe_document_heading(fe_document *doc, int level, const char *format, ...) FE_PRINTF(3, 4);
void fe_document_paragraph(fe_document *doc, const char *format, ...) FE_PRINTF(2, 3);
void fe_document_pair(fe_document *doc, const char *key, const char *format, ...)
    FE_PRINTF(3, 4);
void fe_document_item(fe_document *doc, const char *format, ...) FE_PRINTF(2, 3); /* bullet */
void fe_document_step(fe_document *doc, const char *format, ...) FE_PRINTF(2, 3); /* 1. 2. */
void fe_document_verdict(fe_document *doc, fe_mark mark, const char *format, ...)
    FE_PRINTF(3, 4);
void fe_document_caution(fe_document *doc, const char *format, ...) FE_PRINTF(2, 3);
void fe_document_source(fe_document *doc, const char *format, ...) FE_PRINTF(2, 3);

/*
 * A table: caption (plain text, needed by those who hear it) and columns as "way|margin>|why";
 * '>' at the end of a name sets numbers to the right. Then rows, each a call of row and one of
 * cell a column (missing cells are empty, cells too many are dropped). The first cell of a row
 * names it. Any other block ends the table; a table without rows is not shown.
 */
void fe_document_table(fe_document *doc, const char *caption, const char *columns);
void fe_document_row(fe_document *doc);
void fe_document_cell(fe_document *doc, const char *format, ...) FE_PRINTF(2, 3);

/*
 * A figure.
 *   id           letters, digits and '-': names the figure in the page, the file and JSON
 *   alternative  what the figure shows, in words and numbers; the text form prints it
 *   svg          from fe_gnuplot_draw; null where there is none
 *   reason       why there is none; not read where svg is given
 */
void fe_document_figure(fe_document *doc, const char *id, const char *title,
                        const char *alternative, const char *svg, const char *reason);

/* The figures of a document, for --figures DIR and figures_missing. */
typedef struct fe_document_figure_view {
    const char *id;
    const char *title;
    const char *reason; /* why it is missing; null where it is there */
} fe_document_figure_view;
size_t fe_document_figures(const fe_document *doc);
fe_document_figure_view fe_document_figure_at(const fe_document *doc, size_t index);

/* A figure as a file of its own, with title and description. FE_E_INPUT: it is missing. */
FE_MUST_CHECK fe_status fe_document_figure_svg(const fe_document *doc, size_t index,
                                               fe_units units, fe_strbuf *out);

/* ---- Rendering ---- */

typedef struct fe_text_options {
    unsigned width; /* columns, 80; under 40 counts as 40 */
    fe_units units;
    bool utf8; /* signs such as ° as they are, else in plain ASCII */
} fe_text_options;

/* Text in columns, ending with a newline. FE_E_MEMORY */
FE_MUST_CHECK fe_status fe_document_text(const fe_document *doc, const fe_text_options *options,
                                         fe_strbuf *out);

/* One HTML file that needs nothing else. FE_E_MEMORY */
FE_MUST_CHECK fe_status fe_document_html(const fe_document *doc, fe_units units,
                                         fe_strbuf *out);

/* The same for one side of A4: close set, empty cells as boxes to write in. FE_E_MEMORY */
FE_MUST_CHECK fe_status fe_document_sheet(const fe_document *doc, fe_units units,
                                          fe_strbuf *out);

#endif
