/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every example that the program or README.md prints runs as printed, and keeps to 80 columns. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

enum { LINE_ROOM = 400 };

/* A copy of what the examples read, so that nothing they write lands in the source. */
static const char folder[] = "test_help_folder";

static void copy_file(const char *from_folder, const char *name)
{
    char path[1000];
    char *text = NULL;
    size_t length = 0;
    snprintf(path, sizeof path, "%s/%s", from_folder, name);
    assert_int_equal(fe_textfile_read(path, &text, &length), FE_OK);
    snprintf(path, sizeof path, "%s/examples/%s", folder, name);
    assert_int_equal(fe_textfile_write(path, text, length), FE_OK);
    free(text);
}

static int copy_examples(void **state)
{
    (void)state;
    char path[1000];
    mkdir(folder, 0777);
    snprintf(path, sizeof path, "%s/examples", folder);
    mkdir(path, 0777);
    snprintf(path, sizeof path, "%s/profiles", folder);
    unlink(path);
    assert_int_equal(symlink(FAREND_SOURCE_DIR "/profiles", path), 0);
    DIR *examples = opendir(FAREND_SOURCE_DIR "/examples");
    assert_non_null(examples);
    for (const struct dirent *entry = readdir(examples); entry; entry = readdir(examples))
        if (strstr(entry->d_name, ".ini") || strstr(entry->d_name, ".csv") ||
            strstr(entry->d_name, ".tif"))
            copy_file(FAREND_SOURCE_DIR "/examples", entry->d_name);
    closedir(examples);
    return 0;
}

static char *prints(const char *line)
{
    char *out = NULL;
    char *err = NULL;
    int code = 0;
    fe_testing_run_line(folder, line, &out, &err, &code);
    if (code != 0 || *err || !*out)
        fail_msg("%s\nexit %d, %zu bytes\n%s", line, code, strlen(out), err);
    fe_testing_check_width(line, out);
    free(err);
    return out;
}

/*
 * Runs every line of a text that starts a call of the program, up to where its remark begins;
 * returns how many there were.
 */
static size_t run_lines(const char *text, const char *start)
{
    size_t count = 0;
    for (const char *at = strstr(text, start); at; at = strstr(at + 1, start)) {
        const char *call = at + strspn(at, "\n ");
        size_t length = strcspn(call, "\n");
        const char *remark = strstr(call, "   ");
        if (remark && (size_t)(remark - call) < length)
            length = (size_t)(remark - call);
        char line[LINE_ROOM];
        assert_true(length < sizeof line);
        snprintf(line, sizeof line, "%.*s", (int)length, call);
        free(prints(line));
        count++;
    }
    return count;
}

static void help__of_every_command_has_an_example_that_runs(void **state)
{
    (void)state;
    char *help = prints("farend --help");
    size_t commands = 0;
    const char *at = strstr(help, "\ncommands:\n");
    assert_non_null(at);
    for (at += strlen("\ncommands:\n"); strncmp(at, "  ", 2) == 0; at = strchr(at, '\n') + 1) {
        char line[LINE_ROOM];
        snprintf(line, sizeof line, "farend %.*s --help", (int)strcspn(at + 2, " "), at + 2);
        char *own = prints(line);
        const char *example = strstr(own, "\nexample:\n");
        if (!example || run_lines(example, "\n  farend ") == 0)
            fail_msg("%s shows no example", line);
        free(own);
        commands++;
    }
    assert_true(commands >= 11);
    assert_int_equal(run_lines(strstr(help, "\nexample:\n"), "\n  farend "), 1);
    free(help);
}

static void calc_list__has_an_example_of_every_formula_that_runs(void **state)
{
    (void)state;
    char *list = prints("farend calc --list");
    size_t formulas = 0;
    for (const char *at = list; (at = strstr(at, "\n    results ")) != NULL; at++)
        formulas++;
    assert_true(formulas > 0);
    assert_int_equal(run_lines(list, " farend calc "), formulas);
    free(list);
}

static void readme__shows_calls_that_run(void **state)
{
    (void)state;
    char *text = NULL;
    size_t length = 0;
    assert_int_equal(fe_textfile_read(FAREND_SOURCE_DIR "/README.md", &text, &length), FE_OK);
    assert_true(run_lines(text, "\n    farend ") >= 8);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(help__of_every_command_has_an_example_that_runs),
        cmocka_unit_test(calc_list__has_an_example_of_every_formula_that_runs),
        cmocka_unit_test(readme__shows_calls_that_run),
    };
    return cmocka_run_group_tests(tests, copy_examples, NULL);
}
