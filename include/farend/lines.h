/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_LINES_H
#define FAREND_LINES_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/strbuf.h"

/*
 * Text laid out in lines of a width, for a terminal or a man page of typewriter letters. Words
 * end at a space or a line end, so a text may be written over several lines of a source. Linear
 * in the text times the words of a line.
 */

/* The width that every text of the program keeps to. */
enum { FE_LINES_WIDTH = 80 };

/* Stands for a space at which no line is broken. */
#define FE_LINES_TIE '\x1f'

/* Columns a text takes: code points, without the marks that sit on the letter before. */
size_t fe_lines_columns(const char *text, size_t length);

/* Appends a text with ties for its no-break spaces, and between a number and its unit. */
void fe_lines_tie(const char *text, fe_strbuf *out);

/*
 * Appends a text as a page or a figure sets it: a no-break space between a number and its unit,
 * and the square that names of conductors have in ASCII ("6 mm2"), since a plan asks for them
 * so.
 */
void fe_lines_set_units(const char *text, fe_strbuf *out);

/*
 * The next line of a text: as many words as fit. A longer word is cut, after its last '|' that
 * fits where it has one. Moves *at past it; false where nothing is left. width: one or more.
 */
bool fe_lines_next(const char **at, size_t width, const char **line, size_t *length);

/* Appends a line as found: ties and line ends inside it become spaces. */
void fe_lines_append(fe_strbuf *out, const char *line, size_t length);

/*
 * Appends a text whose first line goes on where the output stands, at column `hang`, and whose
 * others are moved in as far. `width` is that of the page. A page too narrow for the hang is
 * written over, at ten columns a line.
 */
void fe_lines_hang(fe_strbuf *out, const char *text, size_t width, size_t hang);

#endif
