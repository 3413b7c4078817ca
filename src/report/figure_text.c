/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figure_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/lines.h"

void figure_start(fe_figure *figure, const char *kind, const char *id, const char *title,
                  unsigned width, unsigned height)
{
    fe_figure_free(figure);
    figure->kind = kind;
    figure->width = width;
    figure->height = height;
    fe_strbuf_append(&figure->id, id);
    fe_strbuf_append(&figure->title, title);
    figure_number(figure, "height", height);
}

void figure_number(fe_figure *figure, const char *name, double value)
{
    fe_strbuf_format(&figure->commands, "%s = ", name);
    fe_gnuplot_number(value, &figure->commands);
    fe_strbuf_append(&figure->commands, "\n");
}

/* Bytes of the first so many characters. */
static size_t bytes_of(const char *text, size_t characters)
{
    size_t at = 0;
    while (text[at]) {
        if (((unsigned char)text[at] & 0xc0) != 0x80 && characters-- == 0)
            break;
        at++;
    }
    return at;
}

static void quote_cut(fe_figure *figure, const char *text, size_t most)
{
    fe_strbuf cut = FE_STRBUF_INIT;
    fe_strbuf set = FE_STRBUF_INIT;
    if (bytes_of(text, most) == strlen(text)) {
        fe_strbuf_append(&cut, text);
    } else {
        fe_strbuf_append_bytes(&cut, text, bytes_of(text, most - 2));
        fe_strbuf_append(&cut, "..");
    }
    fe_lines_set_units(fe_strbuf_text(&cut), &set);
    fe_gnuplot_quote(fe_strbuf_text(&set), &figure->commands);
    figure->commands.failed = figure->commands.failed || cut.failed || set.failed;
    fe_strbuf_free(&cut);
    fe_strbuf_free(&set);
}

void figure_text(fe_figure *figure, const char *name, const char *text, size_t most)
{
    fe_strbuf_format(&figure->commands, "%s = ", name);
    quote_cut(figure, text, most);
    fe_strbuf_append(&figure->commands, "\n");
}

/* ---- Arrays ---- */

void figure_array_start(fe_figure *figure, const char *name, size_t count)
{
    fe_strbuf_format(&figure->commands, "array %s[%zu] = [", name, count);
}

static void separate(fe_figure *figure, size_t index)
{
    fe_strbuf_append(&figure->commands, index > 0 ? ", " : "");
}

void figure_array_text(fe_figure *figure, size_t index, const char *text, size_t most)
{
    separate(figure, index);
    quote_cut(figure, text, most);
}

void figure_array_take(fe_figure *figure, size_t index, fe_strbuf *text, size_t most)
{
    figure_array_text(figure, index, fe_strbuf_text(text), most);
    figure->commands.failed = figure->commands.failed || text->failed;
    fe_strbuf_free(text);
}

void figure_array_number(fe_figure *figure, size_t index, double value)
{
    separate(figure, index);
    fe_gnuplot_number(value, &figure->commands);
}

void figure_array_amount(fe_figure *figure, size_t index, double si, fe_style style,
                         fe_units units)
{
    figure_array_beside(figure, index, si, si, style, units);
}

void figure_array_beside(fe_figure *figure, size_t index, double si, double bound_si,
                         fe_style style, fe_units units)
{
    fe_strbuf text = FE_STRBUF_INIT;
    separate(figure, index);
    fe_amount_print(style, si, fe_amount_digits_beside(style, si, bound_si, units), units,
                    &text);
    fe_gnuplot_quote(fe_strbuf_text(&text), &figure->commands);
    figure->commands.failed = figure->commands.failed || text.failed;
    fe_strbuf_free(&text);
}

void figure_array_end(fe_figure *figure)
{
    fe_strbuf_append(&figure->commands, "]\n");
}

/* ---- Blocks ---- */

void figure_block_start(fe_figure *figure, const char *name)
{
    fe_strbuf_format(&figure->commands, "$%s << END_OF_DATA\n", name);
}

void figure_numbered_block_start(fe_figure *figure, const char *name, size_t number)
{
    fe_strbuf_format(&figure->commands, "$%s%zu << END_OF_DATA\n", name, number);
}

void figure_row(fe_figure *figure, const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        fe_strbuf_append(&figure->commands, i > 0 ? " " : "");
        fe_gnuplot_number(values[i], &figure->commands);
    }
    fe_strbuf_append(&figure->commands, "\n");
}

void figure_gap(fe_figure *figure)
{
    fe_strbuf_append(&figure->commands, "\n");
}

void figure_block_end(fe_figure *figure, size_t columns)
{
    static const char START[] = "END_OF_DATA\n";
    const fe_strbuf *commands = &figure->commands;
    const size_t length = sizeof START - 1;
    if (!commands->failed && commands->length >= length &&
        memcmp(commands->text + commands->length - length, START, length) == 0) {
        for (size_t i = 0; i < columns; i++)
            fe_strbuf_append(&figure->commands, i > 0 ? " NaN" : "NaN");
        fe_strbuf_append(&figure->commands, "\n");
    }
    fe_strbuf_append(&figure->commands, START);
}

/* ---- The alternative ---- */

void figure_say(fe_figure *figure, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fe_strbuf_format_list(&figure->alternative, format, arguments);
    va_end(arguments);
}

void figure_say_amount(fe_figure *figure, double si, fe_style style, fe_units units)
{
    figure_say_beside(figure, si, si, style, units);
}

void figure_say_beside(fe_figure *figure, double si, double bound_si, fe_style style,
                       fe_units units)
{
    fe_amount_print(style, si, fe_amount_digits_beside(style, si, bound_si, units), units,
                    &figure->alternative);
}

/* ---- Shared by several ---- */

double figure_scaled(fe_scale scale, double si)
{
    return si * scale.factor + scale.offset;
}

bool figure_ground_is_sound(const double *distance_m, const double *ground_m, size_t count)
{
    bool sound = count >= 2;
    for (size_t i = 0; sound && i < count; i++)
        sound = isfinite(distance_m[i]) && isfinite(ground_m[i]) &&
                (i == 0 || distance_m[i] > distance_m[i - 1]);
    return sound;
}

size_t figure_free_row(const figure_label *labels, size_t index, size_t rows)
{
    const figure_label *own = &labels[index];
    for (size_t row = 0; row + 1 < rows; row++) {
        bool is_free = true;
        for (size_t i = 0; i < index && is_free; i++)
            is_free = labels[i].row != row ||
                      fabs(labels[i].at - own->at) >= labels[i].half + own->half;
        if (is_free)
            return row;
    }
    return rows - 1;
}

fe_status figure_end(fe_figure *figure)
{
    if (!figure->id.failed && !figure->title.failed && !figure->alternative.failed &&
        !figure->commands.failed)
        return FE_OK;
    fe_figure_free(figure);
    return FE_E_MEMORY;
}

/* ---- Public ---- */

void fe_figure_free(fe_figure *figure)
{
    fe_strbuf_free(&figure->id);
    fe_strbuf_free(&figure->title);
    fe_strbuf_free(&figure->alternative);
    fe_strbuf_free(&figure->commands);
    *figure = (fe_figure)FE_FIGURE_INIT;
}

/* Style and data first, then the script of the figure's kind. */
static fe_status assemble(const fe_figure *figure, fe_strbuf *commands)
{
    char *common = NULL;
    char *script = NULL;
    fe_status status = fe_plot_script("common", &common);
    if (status == FE_OK)
        status = fe_plot_script(figure->kind, &script);
    if (status == FE_OK) {
        fe_strbuf_append(commands, common);
        fe_strbuf_append(commands, fe_strbuf_text(&figure->commands));
        fe_strbuf_append(commands, script);
        status = fe_strbuf_status(commands);
    }
    free(script);
    free(common);
    return status;
}

fe_status fe_figure_draw(const fe_figure *figure, fe_gnuplot *gnuplot, char **svg,
                         char reason[FE_GNUPLOT_REASON_ROOM])
{
    fe_strbuf commands = FE_STRBUF_INIT;
    fe_status status = assemble(figure, &commands);
    if (status == FE_E_IO) {
        strcpy(reason, "its script in the folder plots is missing");
        status = FE_E_EXTERNAL;
    } else if (status == FE_OK) {
        status =
            fe_gnuplot_draw(gnuplot, fe_strbuf_text(&figure->id), fe_strbuf_text(&commands),
                            figure->width, figure->height, svg, reason);
    }
    fe_strbuf_free(&commands);
    return status;
}

fe_status fe_figure_add(const fe_figure *figure, fe_gnuplot *gnuplot, fe_document *doc)
{
    char reason[FE_GNUPLOT_REASON_ROOM] = "gnuplot was not started";
    char *svg = NULL;
    fe_status status = gnuplot ? fe_figure_draw(figure, gnuplot, &svg, reason) : FE_E_EXTERNAL;
    if (status != FE_E_MEMORY) {
        fe_document_figure(doc, fe_strbuf_text(&figure->id), fe_strbuf_text(&figure->title),
                           fe_strbuf_text(&figure->alternative), svg, reason);
        status = fe_document_status(doc);
    }
    free(svg);
    return status;
}
