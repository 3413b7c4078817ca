/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_TERRAIN_PLOT_H
#define APP_TERRAIN_PLOT_H

#include "app/terrain_made.h"
#include "farend/figures.h"

/* Draws a built figure into an SVG file. FE_E_EXTERNAL where gnuplot gives none, FE_E_IO, both
 * already reported; FE_E_MEMORY. */
FE_MUST_CHECK fe_status terrain_draw(const char *who, const fe_figure *figure,
                                     const char *path);

/* The same for the profile, with the line of sight and first zone of antennas 3 m up. */
FE_MUST_CHECK fe_status terrain_plot(const char *who, const terrain_made *made, double f_hz,
                                     fe_units units, const char *path);

#endif
