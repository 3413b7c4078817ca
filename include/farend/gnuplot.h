/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_GNUPLOT_H
#define FAREND_GNUPLOT_H

#include <stddef.h>

#include "farend/status.h"
#include "farend/strbuf.h"

/*
 * The one owner of the pipe to gnuplot. gnuplot is started on the first figure, without a shell
 * and with an environment of its own, and draws one figure after the other; commands and data
 * go in through its standard input, the SVG comes back through its standard output, nothing
 * touches the disk. A gnuplot that is missing, fails, hangs or writes rubbish costs that figure
 * and gives a reason; the next figure starts a new one. After a gnuplot that is missing or
 * hangs no more are tried, so that a report waits for one figure at most.
 */
typedef struct fe_gnuplot fe_gnuplot;

#define FE_GNUPLOT_SECONDS 20.0

enum { FE_GNUPLOT_REASON_ROOM = 256 };

/* seconds: longest time for one figure. Null where memory is out; draw then says so. */
fe_gnuplot *fe_gnuplot_new(double seconds);

/* Ends gnuplot and waits for it, at most a moment. */
void fe_gnuplot_free(fe_gnuplot *gnuplot);

/*
 * Ends the gnuplot that runs, if any, at once and without waiting: for the handler of a signal
 * that ends the program, since a gnuplot that does not heed the end of its input would stay.
 * Of several at a time the last one started.
 */
void fe_gnuplot_kill(void);

/*
 * Draws one figure.
 *   id        prefix of every id inside, so that several figures live in one page
 *   commands  data blocks, variables and script; no terminal and no output, those are set here
 *   width, height  of the drawing, in its own units; the text is 16 high
 *   svg       result, the caller's to free: scales to its place, no scripts, nothing fetched,
 *             colours that follow a dark page; null where there is none
 *   reason    one line why there is none
 *
 * FE_OK
 * FE_E_EXTERNAL  no figure; see reason
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_gnuplot_draw(fe_gnuplot *gnuplot, const char *id,
                                        const char *commands, unsigned width, unsigned height,
                                        char **svg, char reason[FE_GNUPLOT_REASON_ROOM]);

/*
 * Appends any text as a gnuplot string that is only ever text: in single quotes, since a double
 * quoted string runs what stands in backquotes as a shell command; control characters and line
 * ends become spaces, an apostrophe that leads becomes the typographic one. Terminals are set
 * with noenhanced, so '{', '^', '_', '@' are themselves.
 */
void fe_gnuplot_quote(const char *text, fe_strbuf *out);

/* Appends a number as gnuplot reads it; NaN where it is not finite. */
void fe_gnuplot_number(double value, fe_strbuf *out);

/*
 * The clean-up that draw does, for any SVG text that gnuplot's terminal writes: keeps only the
 * elements and attributes that draw something.
 *   FE_E_INPUT  no SVG: another root, cut off, or not well formed
 */
FE_MUST_CHECK fe_status fe_gnuplot_clean_svg(const char *raw, const char *id, fe_strbuf *out);

/*
 * Reads plots/NAME.gp: from FAREND_PLOTS, from the installed data folder, from the source
 * folder this was built of, the first that has it. FE_E_IO  none has
 */
FE_MUST_CHECK fe_status fe_plot_script(const char *name, char **text);

#endif
