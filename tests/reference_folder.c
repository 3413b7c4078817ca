/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The reference folder as a whole, against the list reference/files.csv: no file without a test
 * that opens it, no entry without a file, and in the folder that FAREND_REFERENCE_DIR names no
 * file that nothing reads.
 */
#include "testing.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "farend/textfile.h"

static const char *const ROOMS[] = {"radio", "wire"};
static const char *const KINDS[] = {
    "cases",    /* recomputed row by row */
    "table",    /* compared with the program's own data */
    "measured", /* held against intervals, slopes or sizes */
    "profile",  /* ground that rows of a file of cases name in their column `profile` */
    "facts",    /* passed over by name, nothing in them is computed */
};

static const char CASES_WITH_PROFILES[] = "radio/p526_delta_bullington_cases.csv";

static fe_csv *table_at(const char *path)
{
    fe_csv *table = NULL;
    int bad_line = 0;
    const fe_status status = fe_csv_read(path, &table, &bad_line);
    if (status != FE_OK)
        fail_msg("%s:%d: %s", path, bad_line, fe_status_text(status));
    return table;
}

/* Beside the tests, whatever FAREND_REFERENCE_DIR says. */
static fe_csv *list_of_files(void)
{
    return table_at(FAREND_SOURCE_DIR "/tests/reference/files.csv");
}

static bool is_listed(const fe_csv *list, const char *name)
{
    for (size_t i = 0; i < fe_csv_rows(list); i++)
        if (strcmp(fe_csv_text(list, i, "file"), name) == 0)
            return true;
    return false;
}

/* Whether a row of that folder's cases runs over this profile. */
static bool is_named_profile(const char *folder, const char *file)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", folder, CASES_WITH_PROFILES);
    struct stat about;
    if (stat(path, &about) != 0)
        return false;
    fe_csv *cases = table_at(path);
    bool named = false;
    for (size_t i = 0; i < fe_csv_rows(cases) && !named; i++)
        named = strcmp(fe_csv_text(cases, i, "profile"), file) == 0;
    fe_csv_free(cases);
    return named;
}

static bool ends_in_csv(const char *name)
{
    const size_t length = strlen(name);
    return length > 4 && strcmp(name + length - 4, ".csv") == 0;
}

/* Prints each CSV of a room that no test reads; returns how many. */
static unsigned unknown_in_room(const fe_csv *list, const char *folder, const char *room)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", folder, room);
    DIR *entries = opendir(path);
    if (!entries)
        return 0; /* a folder may hold one room only */
    unsigned unknown = 0;
    for (const struct dirent *entry = readdir(entries); entry; entry = readdir(entries)) {
        char name[512];
        snprintf(name, sizeof name, "%s/%s", room, entry->d_name);
        if (!ends_in_csv(name) || is_listed(list, name) ||
            is_named_profile(folder, entry->d_name))
            continue;
        print_error("%s/%s: no reference test reads this file\n", folder, name);
        unknown++;
    }
    closedir(entries);
    return unknown;
}

static unsigned unknown_in_folder(const fe_csv *list, const char *folder)
{
    unsigned unknown = 0;
    for (size_t i = 0; i < sizeof ROOMS / sizeof ROOMS[0]; i++)
        unknown += unknown_in_room(list, folder, ROOMS[i]);
    return unknown;
}

static void every_file__is_on_the_list(void **state)
{
    (void)state;
    fe_csv *list = list_of_files();
    assert_int_equal(unknown_in_folder(list, FAREND_SOURCE_DIR "/tests/reference"), 0);
    fe_csv_free(list);
}

static void every_entry__is_a_file_of_a_known_kind_once(void **state)
{
    (void)state;
    fe_csv *list = list_of_files();
    for (size_t i = 0; i < fe_csv_rows(list); i++) {
        const char *name = fe_csv_text(list, i, "file");
        char path[4096];
        snprintf(path, sizeof path, "%s/tests/reference/%s", FAREND_SOURCE_DIR, name);
        struct stat about;
        if (stat(path, &about) != 0)
            fail_msg("files.csv:%d: there is no %s", fe_csv_line(list, i), name);
        bool known = false;
        for (size_t k = 0; k < sizeof KINDS / sizeof KINDS[0]; k++)
            known = known || strcmp(KINDS[k], fe_csv_text(list, i, "kind")) == 0;
        if (!known)
            fail_msg("files.csv:%d: unknown kind", fe_csv_line(list, i));
        for (size_t j = 0; j < i; j++)
            if (strcmp(fe_csv_text(list, j, "file"), name) == 0)
                fail_msg("files.csv:%d: %s stands twice", fe_csv_line(list, i), name);
    }
    fe_csv_free(list);
}

static bool source_opens(const char *source, const char *name)
{
    char path[4096];
    char quoted[512];
    snprintf(path, sizeof path, "%s/tests/%s", FAREND_SOURCE_DIR, source);
    snprintf(quoted, sizeof quoted, "\"%s\"", name);
    char *text = NULL;
    size_t length = 0;
    if (fe_textfile_read(path, &text, &length) != FE_OK)
        fail_msg("%s cannot be read", path);
    const bool opens = strstr(text, quoted) != NULL;
    free(text);
    return opens;
}

/*
 * The test named opens the file, and no other does: a file opened twice would report two
 * numbers of rows. A profile is opened for the cases that name it.
 */
static void every_entry__is_opened_by_the_test_it_names(void **state)
{
    (void)state;
    fe_csv *list = list_of_files();
    for (size_t i = 0; i < fe_csv_rows(list); i++) {
        const char *name = fe_csv_text(list, i, "file");
        const char *checked_by = fe_csv_text(list, i, "checked_by");
        bool opened = source_opens(checked_by, name);
        if (strcmp(fe_csv_text(list, i, "kind"), "profile") == 0)
            opened =
                source_opens(checked_by, CASES_WITH_PROFILES) &&
                is_named_profile(FAREND_SOURCE_DIR "/tests/reference", strrchr(name, '/') + 1);
        if (!opened)
            fail_msg("files.csv:%d: %s does not open %s", fe_csv_line(list, i), checked_by,
                     name);
        for (size_t j = 0; j < fe_csv_rows(list); j++) {
            const char *other = fe_csv_text(list, j, "checked_by");
            if (strcmp(other, checked_by) != 0 && source_opens(other, name))
                fail_msg("files.csv:%d: %s opens %s too", fe_csv_line(list, i), other, name);
        }
    }
    fe_csv_free(list);
}

static void another_folder__exists_and_holds_nothing_unread(void **state)
{
    (void)state;
    const char *folder = getenv("FAREND_REFERENCE_DIR");
    if (!folder || !*folder)
        skip();
    struct stat about;
    if (stat(folder, &about) != 0 || !S_ISDIR(about.st_mode))
        fail_msg("FAREND_REFERENCE_DIR=%s is no folder", folder);
    fe_csv *list = list_of_files();
    assert_int_equal(unknown_in_folder(list, folder), 0);
    fe_csv_free(list);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_file__is_on_the_list),
        cmocka_unit_test(every_entry__is_a_file_of_a_known_kind_once),
        cmocka_unit_test(every_entry__is_opened_by_the_test_it_names),
        cmocka_unit_test(another_folder__exists_and_holds_nothing_unread),
    };
    return FE_RUN_TESTS(tests);
}
