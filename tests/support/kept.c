/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "kept.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/csv.h"
#include "farend/report.h"
#include "farend/strbuf.h"
#include "farend/textfile.h"
#include "testing.h"

enum { MOST_QUANTITIES = 1000, QUANTITY_ROOM = 120, PATH_ROOM = 1000 };

/* Compilers agree to this (tests/compilers.sh). */
static const double TOLERANCE = 1e-9;

typedef struct digest {
    char quantity[QUANTITY_ROOM];
    size_t values;
    size_t none; /* values that do not exist, or have no end */
    double least;
    double greatest;
    double mix;
} digest;

struct kept {
    char file[PATH_ROOM];
    digest rows[MOST_QUANTITIES];
    size_t count;
    size_t last; /* row found last: the next value is mostly of it or of the one behind */
};

kept *kept_open(const char *name)
{
    kept *numbers = calloc(1, sizeof *numbers);
    assert_non_null(numbers);
    snprintf(numbers->file, sizeof numbers->file, "%s/golden/%s.csv", FAREND_TEST_DIR, name);
    return numbers;
}

static digest *row_of(kept *numbers, const char *quantity)
{
    for (size_t k = 0; k < numbers->count; k++) {
        const size_t row = (numbers->last + k) % numbers->count;
        if (strcmp(numbers->rows[row].quantity, quantity) == 0) {
            numbers->last = row;
            return &numbers->rows[row];
        }
    }
    assert_true(numbers->count < MOST_QUANTITIES && strlen(quantity) < QUANTITY_ROOM);
    digest *row = &numbers->rows[numbers->count];
    *row = (digest){.least = NAN, .greatest = NAN};
    snprintf(row->quantity, sizeof row->quantity, "%s", quantity);
    numbers->last = numbers->count++;
    return row;
}

/*
 * Weights that no two places share, from 0.5 to 1.5. The values enter by their logarithm, but
 * for those under a millionth: one in a thousand million counts as much in 1e-3 as in 1e9.
 */
static void mix_in(digest *row, double value)
{
    double whole;
    const double weight = 0.5 + modf(0.6180339887498949 * (double)row->values, &whole);
    row->mix += weight * asinh(1e6 * value);
}

void kept_number(kept *numbers, const char *quantity, double value)
{
    digest *row = row_of(numbers, quantity);
    row->values++;
    if (!isfinite(value)) {
        row->none++;
        return;
    }
    row->least = fmin(row->least, value);
    row->greatest = fmax(row->greatest, value);
    mix_in(row, value);
}

/* A number from 0 to 1 for each word (FNV-1a). */
static double number_of(const char *word)
{
    uint32_t hash = 2166136261u;
    for (; *word; word++)
        hash = (hash ^ (unsigned char)*word) * 16777619u;
    return hash / 4294967296.0;
}

void kept_word(kept *numbers, const char *quantity, const char *word)
{
    kept_number(numbers, quantity, number_of(word));
}

static void add_json(kept *numbers, char path[QUANTITY_ROOM], json_t *value)
{
    const size_t length = strlen(path);
    const char *key;
    json_t *inner;
    size_t index;
    if (json_is_object(value))
        json_object_foreach(value, key, inner)
        {
            snprintf(path + length, QUANTITY_ROOM - length, "%s%s", length ? " " : "", key);
            add_json(numbers, path, inner);
        }
    else if (json_is_array(value))
        json_array_foreach(value, index, inner) add_json(numbers, path, inner);
    else if (!json_is_string(value))
        kept_number(numbers, path,
                    json_is_number(value) ? json_number_value(value)
                    : json_is_null(value) ? NAN
                                          : json_is_true(value));
    else if (!strchr(json_string_value(value), ' '))
        kept_word(numbers, path, json_string_value(value));
    path[length] = 0;
}

void kept_json(kept *numbers, json_t *value)
{
    char path[QUANTITY_ROOM] = "";
    add_json(numbers, path, value);
}

void kept_report(kept *numbers, const fe_result *result)
{
    fe_strbuf text = FE_STRBUF_INIT;
    assert_int_equal(fe_report_json(result, NULL, &text), FE_OK);
    json_t *answers = json_loads(fe_strbuf_text(&text), 0, NULL);
    assert_non_null(answers);
    kept_json(numbers, answers);
    json_decref(answers);
    fe_strbuf_free(&text);
}

static void write_anew(const kept *numbers)
{
    fe_strbuf out = FE_STRBUF_INIT;
    fe_strbuf_append(&out, "quantity,values,none,least,greatest,mix\n");
    for (size_t i = 0; i < numbers->count; i++) {
        const digest *row = &numbers->rows[i];
        fe_strbuf_format(&out, "\"%s\",%zu,%zu,", row->quantity, row->values, row->none);
        if (isnan(row->least))
            fe_strbuf_append(&out, ",,");
        else
            fe_strbuf_format(&out, "%.12g,%.12g,%.13g", row->least, row->greatest, row->mix);
        fe_strbuf_append_char(&out, '\n');
    }
    assert_int_equal(fe_textfile_write(numbers->file, fe_strbuf_text(&out), out.length), FE_OK);
    fe_strbuf_free(&out);
}

static bool near(double got, double wanted, double tolerance)
{
    return (isnan(got) && isnan(wanted)) || fabs(got - wanted) <= tolerance;
}

static size_t compare_row(const fe_csv *file, size_t at, const digest *row)
{
    const double values = fe_csv_number(file, at, "values");
    const double none = fe_csv_number(file, at, "none");
    const double least = fe_csv_number(file, at, "least");
    const double greatest = fe_csv_number(file, at, "greatest");
    const double mix = fe_csv_number(file, at, "mix");
    if ((double)row->values == values && (double)row->none == none &&
        near(row->least, least, TOLERANCE * fabs(least) + 1e-15) &&
        near(row->greatest, greatest, TOLERANCE * fabs(greatest) + 1e-15) &&
        near(isnan(row->least) ? NAN : row->mix, mix, TOLERANCE * (values + fabs(mix))))
        return 0;
    print_error("%s: %zu values, %zu none, %.12g to %.12g, mix %.13g; kept: %.0f, %.0f, "
                "%.12g to %.12g, %.13g\n",
                row->quantity, row->values, row->none, row->least, row->greatest, row->mix,
                values, none, least, greatest, mix);
    return 1;
}

static size_t compare(kept *numbers)
{
    fe_csv *file = NULL;
    int bad_line = 0;
    size_t wrong = 0, found = 0;
    assert_int_equal(fe_csv_read(numbers->file, &file, &bad_line), FE_OK);
    for (size_t at = 0; at < fe_csv_rows(file); at++) {
        const size_t before = numbers->count;
        const digest *row = row_of(numbers, fe_csv_text(file, at, "quantity"));
        wrong += compare_row(file, at, row);
        found += numbers->count == before;
    }
    if (found < numbers->count)
        print_error("%zu quantities are new\n", numbers->count - found);
    fe_csv_free(file);
    return wrong + (numbers->count - found);
}

void kept_close(kept *numbers)
{
    const char *keep = getenv("FAREND_KEEP");
    size_t wrong = 0;
    if (keep && *keep)
        write_anew(numbers);
    else
        wrong = compare(numbers);
    const char *name = strrchr(numbers->file, '/') + 1;
    if (wrong)
        print_error("%zu quantities of tests/golden/%s moved; tests/support/kept.h says what "
                    "to do where that is meant\n",
                    wrong, name);
    free(numbers);
    assert_int_equal(wrong, 0);
}
