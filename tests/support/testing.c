/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "testing.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "farend/number.h"

struct fe_reference {
    const char *name;
    fe_csv *table;
    size_t next;    /* row that fe_reference_next turns to */
    size_t checked; /* rows with at least one check */
    size_t passed_over;
    unsigned failures;
    bool row_open;
    bool row_touched;
    char *passed_why;
};

/* Room for four paths, so that two may be used in one expression. */
const char *fe_reference_path(const char *name)
{
    static char rooms[4][4096];
    static unsigned turn;
    char *path = rooms[turn++ % 4];
    const char *other = getenv("FAREND_REFERENCE_DIR");
    if (other && *other) {
        snprintf(path, sizeof rooms[0], "%s/%s", other, name);
        if (access(path, R_OK) == 0)
            return path;
    }
    snprintf(path, sizeof rooms[0], "%s/reference/%s", FAREND_TEST_DIR, name);
    return path;
}

static const char *file_part(const char *name)
{
    const char *slash = strrchr(name, '/');
    return slash ? slash + 1 : name;
}

fe_reference *fe_reference_open(const char *name)
{
    fe_reference *file = calloc(1, sizeof *file);
    assert_non_null(file);
    file->name = name;
    const char *other = getenv("FAREND_REFERENCE_DIR");
    char path[4096];
    if (other && *other)
        snprintf(path, sizeof path, "%s/%s", other, name);
    else
        snprintf(path, sizeof path, "%s/reference/%s", FAREND_TEST_DIR, name);
    if (other && *other && access(path, F_OK) != 0) {
        printf("%s: skipped, not in the reference folder\n", file_part(name));
        return file;
    }
    int bad_line = 0;
    fe_status status = fe_csv_read(path, &file->table, &bad_line);
    if (status != FE_OK)
        fail_msg("%s:%d: %s", path, bad_line, fe_status_text(status));
    return file;
}

static void complain(fe_reference *file, const char *what, const char *got, const char *wanted,
                     const char *tolerance)
{
    const size_t row = file->next - 1;
    const bool recalled = fe_csv_column(file->table, "how") >= 0 &&
                          strcmp(fe_csv_text(file->table, row, "how"), "memory") == 0;
    printf("%s%s:%d: %s: got %s, wanted %s, tolerance %s; source: %s\n",
           recalled ? "QUESTION " : "", file_part(file->name), fe_csv_line(file->table, row),
           what, got, wanted, tolerance, fe_csv_text(file->table, row, "source"));
    if (!recalled)
        file->failures++;
}

static void end_row(fe_reference *file)
{
    if (file->row_open && !file->row_touched)
        complain(file, "nothing was checked on this row", "-", "a check", "-");
    file->row_open = false;
}

bool fe_reference_next(fe_reference *file)
{
    if (!file->table)
        return false;
    end_row(file);
    if (file->next == fe_csv_rows(file->table))
        return false;
    file->next++;
    file->row_open = true;
    file->row_touched = false;
    return true;
}

void fe_reference_close(fe_reference *file)
{
    unsigned failures = 0;
    if (file->table) {
        end_row(file);
        failures = file->failures;
        printf("%s: %zu rows checked", file_part(file->name), file->checked);
        if (file->passed_over)
            printf(", %zu passed over (%s)", file->passed_over, file->passed_why);
        printf("\n");
        fflush(stdout);
    }
    const char *name = file->name;
    fe_csv_free(file->table);
    free(file->passed_why);
    free(file);
    if (failures)
        fail_msg("%s: %u checks failed", file_part(name), failures);
}

const char *fe_reference_text(fe_reference *file, const char *column)
{
    if (fe_csv_column(file->table, column) < 0)
        fail_msg("%s has no column %s", file->name, column);
    return fe_csv_text(file->table, file->next - 1, column);
}

double fe_reference_number(fe_reference *file, const char *column)
{
    double value = NAN;
    return fe_number_parse(fe_reference_text(file, column), &value) ? value : NAN;
}

double fe_reference_need(fe_reference *file, const char *column)
{
    double value = fe_reference_number(file, column);
    if (isnan(value))
        fail_msg("%s:%d: no number in column %s", file_part(file->name),
                 fe_csv_line(file->table, file->next - 1), column);
    return value;
}

size_t fe_testing_numbers(const char *text, double *values, size_t room)
{
    size_t count = 0;
    const char *at = text;
    while (count < room && fe_number_scan(at, &values[count], &at))
        count++;
    return count;
}

size_t fe_reference_input_list(fe_reference *file, const char *key, double *values, size_t room)
{
    const char *at = fe_reference_text(file, "inputs");
    const size_t key_length = strlen(key);
    while (at && *at) {
        while (*at == ' ' || *at == ';')
            at++;
        if (strncmp(at, key, key_length) == 0 && at[key_length] == '=') {
            const size_t length = strcspn(at, ";");
            char copy[1024];
            assert_true(length < sizeof copy);
            memcpy(copy, at, length);
            copy[length] = 0;
            return fe_testing_numbers(copy + key_length + 1, values, room);
        }
        at = strchr(at, ';');
    }
    return 0;
}

double fe_reference_input(fe_reference *file, const char *key)
{
    double value = NAN;
    return fe_reference_input_list(file, key, &value, 1) == 1 ? value : NAN;
}

static void touch(fe_reference *file)
{
    if (!file->row_touched)
        file->checked++;
    file->row_touched = true;
}

void fe_reference_check(fe_reference *file, const char *column, double got, double tolerance)
{
    const double wanted = fe_reference_number(file, column);
    if (isnan(wanted))
        return;
    touch(file);
    /* "Not within" rather than "beyond", so that NaN fails. */
    if (!(fabs(got - wanted) <= tolerance)) {
        char text[3][40];
        snprintf(text[0], sizeof text[0], "%.10g", got);
        snprintf(text[1], sizeof text[1], "%.10g", wanted);
        snprintf(text[2], sizeof text[2], "%.3g", tolerance);
        complain(file, column, text[0], text[1], text[2]);
    }
}

void fe_reference_check_relative(fe_reference *file, const char *column, double got,
                                 double tolerance)
{
    fe_reference_check(file, column, got, tolerance * fabs(fe_reference_number(file, column)));
}

void fe_reference_check_printed(fe_reference *file, const char *column, double got)
{
    const char *text = fe_reference_text(file, column);
    const char *point = strchr(text, '.');
    int decimals = point ? (int)strspn(point + 1, "0123456789") : 0;
    const char *power = strpbrk(text, "eE");
    if (power)
        decimals -= atoi(power + 1);
    /* A little over a half, for cells rounded from a binary tie. */
    fe_reference_check(file, column, got, 0.5000001 * pow(10.0, -decimals));
}

void fe_reference_check_text(fe_reference *file, const char *column, const char *got)
{
    const char *wanted = fe_reference_text(file, column);
    touch(file);
    if (strcmp(got, wanted) != 0)
        complain(file, column, got, wanted, "exact");
}

void fe_reference_check_that(fe_reference *file, bool holds, const char *expected)
{
    touch(file);
    if (!holds)
        complain(file, "condition", "false", expected, "-");
}

void fe_reference_check_status(fe_reference *file, fe_status status)
{
    if (status < 0)
        fe_reference_check_that(file, false, fe_status_text(status));
}

void fe_reference_pass(fe_reference *file, const char *why)
{
    file->row_touched = true;
    file->passed_over++;
    if (!file->passed_why)
        file->passed_why = strdup(why);
}

void fe_testing_assert_close(double got, double wanted, double tolerance, const char *what,
                             const char *file, int line)
{
    if (!(fabs(got - wanted) <= tolerance)) {
        print_error("%s: got %.12g, wanted %.12g, tolerance %.3g\n", what, got, wanted,
                    tolerance);
        _fail(file, line);
    }
}

void fe_testing_assert_close_relative(double got, double wanted, double tolerance,
                                      const char *what, const char *file, int line)
{
    fe_testing_assert_close(got, wanted, tolerance * fabs(wanted), what, file, line);
}

void fe_testing_assert_has(const char *text, const char *part, bool wanted, const char *file,
                           int line)
{
    if ((strstr(text, part) != NULL) == wanted)
        return;
    print_error("\"%s\" is %s\n%s\n", part, wanted ? "not in:" : "in:", text);
    _fail(file, line);
}
