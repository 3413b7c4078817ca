/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table of comma-separated cells; every cell is read as text and as a number. */
#include <string.h>

#include "farend/csv.h"
#include "fuzz.h"

static size_t read_cells(const fe_csv *table)
{
    size_t letters = 0;
    for (size_t row = 0; row < fe_csv_rows(table); row++) {
        for (size_t i = 0; i < fe_csv_columns(table); i++) {
            const char *const column = fe_csv_column_name(table, i);
            letters += strlen(fe_csv_text(table, row, column));
            letters += fe_csv_number(table, row, column) > 0.0;
        }
    }
    return letters;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fe_csv *table = NULL;
    int bad_line = 0;
    const fe_status status = fe_csv_parse((const char *)data, size, &table, &bad_line);
    /* Columns without a name are found at the first of them each time. */
    if (status == FE_OK)
        FUZZ_CLAIM(read_cells(table) <= 2 * size * fe_csv_columns(table));
    else
        FUZZ_CLAIM(table == NULL);
    fe_csv_free(table);
    return 0;
}
