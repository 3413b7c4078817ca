/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_FIGURE_TEXT_H
#define REPORT_FIGURE_TEXT_H

#include <stdbool.h>

#include "farend/figures.h"

/* What the builders of figures share: variables, arrays and data blocks for gnuplot. */

/* Starts a figure: its kind, id, title and size. */
void figure_start(fe_figure *figure, const char *kind, const char *id, const char *title,
                  unsigned width, unsigned height);

void figure_number(fe_figure *figure, const char *name, double value);
/* A text, cut to so many characters. */
void figure_text(fe_figure *figure, const char *name, const char *text, size_t most);

/* An array of texts, each cut to so many characters; nothing where there is none. */
void figure_array_start(fe_figure *figure, const char *name, size_t count);
void figure_array_text(fe_figure *figure, size_t index, const char *text, size_t most);
/* The same of a text that was built for it, which is freed. */
void figure_array_take(fe_figure *figure, size_t index, fe_strbuf *text, size_t most);
void figure_array_number(fe_figure *figure, size_t index, double value);
void figure_array_end(fe_figure *figure);

/* A block of rows of numbers. An empty block gets a row without values: gnuplot needs one. */
void figure_block_start(fe_figure *figure, const char *name);
/* One of several alike: "line", 2 is $line2. */
void figure_numbered_block_start(fe_figure *figure, const char *name, size_t number);
void figure_row(fe_figure *figure, const double *values, size_t count);
void figure_gap(fe_figure *figure);
void figure_block_end(fe_figure *figure, size_t columns);

/* A value in the text alternative. */
void figure_say(fe_figure *figure, const char *format, ...) FE_PRINTF(2, 3);
void figure_say_amount(fe_figure *figure, double si, fe_style style, fe_units units);
/* One that must not read like the bound it is judged by. */
void figure_say_beside(fe_figure *figure, double si, double bound_si, fe_style style,
                       fe_units units);

/* One array value: the same text as in the alternative. */
void figure_array_amount(fe_figure *figure, size_t index, double si, fe_style style,
                         fe_units units);
void figure_array_beside(fe_figure *figure, size_t index, double si, double bound_si,
                         fe_style style, fe_units units);

/* A value in the unit of an axis. */
double figure_scaled(fe_scale scale, double si);

/* Two points of ground or more, all finite, each farther than the one before. */
bool figure_ground_is_sound(const double *distance_m, const double *ground_m, size_t count);

/* A label in the middle of which something stands; half: of its width, in the axis' unit. */
typedef struct figure_label {
    double at;
    double half;
    size_t row;
} figure_label;

/* The first of `rows` rows in which a label touches none before it; the last where all are
 * taken. */
size_t figure_free_row(const figure_label *labels, size_t index, size_t rows);

/* FE_OK, or FE_E_MEMORY with the figure emptied. */
fe_status figure_end(fe_figure *figure);

enum { FIGURE_WIDTH = 480 };

#endif
