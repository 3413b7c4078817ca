/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_TERRAIN_IMPORT_H
#define APP_TERRAIN_IMPORT_H

#include <stddef.h>
#include <stdio.h>

#include "farend/status.h"

/*
 * Runs farend-import, the program that has GDAL, without a shell, and reads what it says (see
 * src/import/import.h). It is looked for in FAREND_IMPORT, beside the program, and in
 * ../libexec/farend from there.
 */
enum { IMPORT_MOST_CELLS = 3 };

/* What stands in a cell in the place of a number. */
typedef enum import_cell { IMPORT_NUMBER, IMPORT_NODATA, IMPORT_OUTSIDE } import_cell;

typedef struct import_row {
    double value[IMPORT_MOST_CELLS]; /* NAN where it is none */
    import_cell kind[IMPORT_MOST_CELLS];
} import_row;

typedef struct import_fact_pair {
    char *key; /* in the answer's text */
    char *value;
} import_fact_pair;

enum { IMPORT_MOST_FACTS = 64 };

typedef struct import_answer {
    char *text;
    import_fact_pair facts[IMPORT_MOST_FACTS];
    size_t fact_count;
    import_row *rows;
    size_t row_count;
    float *heights; /* of a window, row by row; NAN where there is none */
    size_t height_count;
    float *tops; /* the same with trees and roofs, where they were asked for */
    size_t top_count;
} import_answer;

/*
 * words: the arguments, ending at a null. Mistakes were already reported on stderr.
 *
 * FE_OK
 * FE_E_INPUT     the file is to blame
 * FE_E_EXTERNAL  farend-import is missing, failed, or said what this program does not know
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status import_run(const char *who, const char *const *words,
                                   import_answer *answer);
/* The same with a file, at its start, as the program's standard input; null: none. */
FE_MUST_CHECK fe_status import_run_with(const char *who, const char *const *words, FILE *input,
                                        import_answer *answer);
void import_answer_free(import_answer *answer);

/* A fact's text, "" where it was not said; as number, NAN. */
const char *import_text(const import_answer *answer, const char *key);
double import_number(const import_answer *answer, const char *key);

#endif
