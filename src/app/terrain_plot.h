/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_TERRAIN_PLOT_H
#define APP_TERRAIN_PLOT_H

#include "app/terrain_made.h"

/*
 * Draws the profile, with the line of sight and first zone of antennas 3 m up, into an SVG
 * file. FE_E_EXTERNAL where gnuplot gives none, FE_E_IO; both already reported.
 */
FE_MUST_CHECK fe_status terrain_plot(const char *who, const terrain_made *made, double f_hz,
                                     fe_units units, const char *path);

#endif
