/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef IMPORT_IMPORT_H
#define IMPORT_IMPORT_H

/*
 * farend-import: reads rasters and tracks through GDAL for the terrain command, which starts it
 * as a program of its own. GDAL loads a hundred libraries and opens files from anywhere: here
 * neither the start nor a crash in one of its drivers costs the main program anything.
 *
 * What it says on standard output, a line each, is private to these two programs and changes
 * with them:
 *
 *     farend-import 1
 *     fact KEY VALUE          in any number
 *     row NUMBER...           in any number; "nodata" and "outside" in the place of a height
 *     heights NUMBER...       a row of a window, "nodata" as above
 *     tops NUMBER...          the same row with trees and roofs on it
 *     end                     or: problem TEXT
 *
 * Exit 0 after `end`; 2 after `problem`, where the input is to blame; 1 otherwise.
 */
#include <stdio.h>

#include "farend/status.h"

enum { IMPORT_DONE = 0, IMPORT_FAILED = 1, IMPORT_BAD_INPUT = 2 };

void import_fact(const char *key, const char *value);
void import_fact_number(const char *key, double value);

/* Says what is wrong, with what GDAL had to say; returns IMPORT_BAD_INPUT. */
int import_problem(const char *format, ...) FE_PRINTF(1, 2);

/* sample FILE LAT1 LON1 LAT2 LON2 SURFACE ("" for none) UNIT ("" as the file says) */
int import_sample(int argc, char **argv);

/*
 * window FILE LAT LON RADIUS UNIT ("" as the file says) SURFACE ("" for none): the heights
 * around a place
 */
int import_window(int argc, char **argv);

/*
 * paint FILE OUTPUT COLUMN ROW COLUMNS ROWS: writes values into a GeoTIFF that lies where that
 * window of FILE does. The values come on standard input, floats as this machine has them, NAN
 * where there is none.
 */
int import_paint(int argc, char **argv);

/* track FILE */
int import_track(int argc, char **argv);

#endif
