/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run.h"

#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "farend/lines.h"
#include "farend/textfile.h"
#include "testing.h"

enum { MOST_WORDS = 64, LONGEST_LINE = 4096 };

typedef struct stream {
    int fd;
    char *text;
    size_t length;
    size_t room;
} stream;

/* Reads what there is; closes at the end of the stream. */
static void drain(stream *from)
{
    if (from->length + 4096 >= from->room) {
        from->room = from->room ? 2 * from->room : 16384;
        from->text = realloc(from->text, from->room);
        assert_non_null(from->text);
    }
    const ssize_t count = read(from->fd, from->text + from->length, 4095);
    if (count > 0)
        from->length += (size_t)count;
    if (count <= 0) {
        close(from->fd);
        from->fd = -1;
    }
    from->text[from->length] = 0;
}

static void execute(const char *folder, const char *const argv[])
{
    char *words[MOST_WORDS + 2];
    char program[] = FAREND_PROGRAM;
    size_t count = 0;
    words[count++] = program;
    for (size_t i = 0; argv[i] && i < MOST_WORDS; i++)
        words[count++] = strdup(argv[i]);
    words[count] = NULL;
    if (!folder || chdir(folder) == 0)
        execv(program, words);
    _exit(127);
}

static void become_program(const char *folder, const char *const argv[], const int out[2],
                           const int err[2])
{
    const int none = open("/dev/null", O_RDONLY);
    if (none < 0 || dup2(none, 0) < 0 || dup2(out[1], 1) < 0 || dup2(err[1], 2) < 0)
        _exit(127);
    const int held[] = {none, out[0], out[1], err[0], err[1]};
    for (size_t i = 0; i < sizeof held / sizeof held[0]; i++)
        if (held[i] > 2)
            close(held[i]);
    execute(folder, argv);
}

static void hand_over(stream *from, char **text)
{
    if (text)
        *text = from->text;
    else
        free(from->text);
}

void fe_testing_run_in(const char *folder, const char *const argv[], char **out, char **err,
                       int *exit_code)
{
    int out_pipe[2], err_pipe[2], state = 0;
    assert_int_equal(pipe(out_pipe), 0);
    assert_int_equal(pipe(err_pipe), 0);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0)
        become_program(folder, argv, out_pipe, err_pipe);
    close(out_pipe[1]);
    close(err_pipe[1]);
    stream streams[2] = {{.fd = out_pipe[0]}, {.fd = err_pipe[0]}};
    while (streams[0].fd >= 0 || streams[1].fd >= 0) {
        struct pollfd polls[2] = {{.fd = streams[0].fd, .events = POLLIN},
                                  {.fd = streams[1].fd, .events = POLLIN}};
        assert_true(poll(polls, 2, -1) > 0);
        for (size_t i = 0; i < 2; i++)
            if (streams[i].fd >= 0 && polls[i].revents)
                drain(&streams[i]);
    }
    assert_true(waitpid(child, &state, 0) == child);
    *exit_code = WIFSIGNALED(state) ? 128 + WTERMSIG(state) : WEXITSTATUS(state);
    if (*exit_code == 127)
        fail_msg("cannot start %s", FAREND_PROGRAM);
    hand_over(&streams[0], out);
    hand_over(&streams[1], err);
}

void fe_testing_run(const char *const argv[], char **out, char **err, int *exit_code)
{
    fe_testing_run_in(NULL, argv, out, err, exit_code);
}

char *fe_testing_runs_in(const char *folder, const char *const argv[], int wanted_code,
                         char **err)
{
    char *out = NULL;
    char *said = NULL;
    int code = 0;
    fe_testing_run_in(folder, argv, &out, &said, &code);
    if (code != wanted_code)
        fail_msg("exit %d, wanted %d\n%s", code, wanted_code, said);
    if (err)
        *err = said;
    else
        free(said);
    return out;
}

char *fe_testing_read_in(const char *folder, const char *name)
{
    char path[300];
    char *text = NULL;
    size_t length = 0;
    const int named = snprintf(path, sizeof path, "%s/%s", folder, name);
    assert_true(named > 0 && (size_t)named < sizeof path);
    assert_int_equal(fe_textfile_read(path, &text, &length), FE_OK);
    return text;
}

int fe_testing_run_into(const char *path, const char *const argv[], char **err)
{
    int err_pipe[2], state = 0;
    assert_int_equal(pipe(err_pipe), 0);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        close(1);
        if (dup2(err_pipe[1], 2) < 0 || (path && open(path, O_WRONLY) != 1))
            _exit(127);
        close(err_pipe[0]);
        close(err_pipe[1]);
        execute(NULL, argv);
    }
    close(err_pipe[1]);
    stream from = {.fd = err_pipe[0]};
    while (from.fd >= 0)
        drain(&from);
    assert_true(waitpid(child, &state, 0) == child);
    hand_over(&from, err);
    return WIFSIGNALED(state) ? 128 + WTERMSIG(state) : WEXITSTATUS(state);
}

/* Cuts one word out in place; null at the end of the line. */
static char *cut_word(char **at)
{
    char *read = *at + strspn(*at, " \t\n");
    if (*read == 0)
        return NULL;
    char *word = read, *write = read, quote = 0;
    for (; *read && (quote || !strchr(" \t\n", *read)); read++) {
        if (quote ? *read == quote : *read == '\'' || *read == '"')
            quote = quote ? 0 : *read;
        else
            *write++ = *read;
    }
    *at = *read ? read + 1 : read;
    *write = 0;
    return word;
}

size_t fe_testing_words(char *line, char **words, size_t most)
{
    size_t count = 0;
    while (count < most && (words[count] = cut_word(&line)))
        count++;
    words[count] = NULL;
    return count;
}

void fe_testing_run_line(const char *folder, const char *line, char **out, char **err,
                         int *exit_code)
{
    char copy[LONGEST_LINE];
    char *words[MOST_WORDS + 1];
    assert_true(strlen(line) < sizeof copy);
    memcpy(copy, line, strlen(line) + 1);
    const size_t count = fe_testing_words(copy, words, MOST_WORDS);
    const bool named = count > 0 && strcmp(words[0], "farend") == 0;
    fe_testing_run_in(folder, (const char *const *)words + named, out, err, exit_code);
}

json_t *fe_testing_json_of(const char *folder, const char *line)
{
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run_line(folder, line, &out, &err, &code);
    if (code != 0 || *err)
        fail_msg("%s: exit %d: %s", line, code, err);
    json_t *root = json_loads(out, 0, NULL);
    assert_non_null(root);
    free(out);
    free(err);
    return root;
}

double fe_testing_number(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);
    if (!json_is_number(value))
        fail_msg("no number %s", key);
    return json_number_value(value);
}

void fe_testing_check_line(const char *line, int exit_code, const char *out_part,
                           const char *err_part)
{
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run_line(FAREND_SOURCE_DIR, line, &out, &err, &code);
    if (code != exit_code || !strstr(out, out_part) || !strstr(err, err_part))
        fail_msg("%s\nexit %d, wanted %d\nstdout:\n%s\nstderr:\n%s", line, code, exit_code, out,
                 err);
    free(out);
    free(err);
}

static bool is_call(const char *line)
{
    line += strspn(line, " ");
    if (strncmp(line, "example ", 8) == 0)
        line += 8 + strspn(line + 8, " ");
    return strncmp(line, "farend ", 7) == 0;
}

void fe_testing_check_width(const char *what, const char *text)
{
    for (const char *line = text; *line; line += *line == '\n') {
        const size_t length = strcspn(line, "\n");
        if (fe_lines_columns(line, length) > FE_LINES_WIDTH && !is_call(line))
            fail_msg("%s: wider than a terminal:\n%.*s", what, (int)length, line);
        line += length;
    }
}
