/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/gnuplot.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "farend/number.h"
#include "report/svg_palette.h"

/* Printed by gnuplot after a figure; no text of a figure can hold a line end before it. */
#define END_MARK "\nfarend: end of figure\n"

/* A figure of ours is tens of kilobytes; what writes more is not drawing it. */
enum { MOST_OUTPUT = 16 * 1024 * 1024, MOST_ERRORS = 64 * 1024, CHUNK = 16 * 1024 };

/* Time gnuplot gets to leave by itself once its input ends. */
static const double LEAVE_SECONDS = 0.5;

/* The process group of the gnuplot that runs, for a signal's handler; 0 where none does. */
static volatile sig_atomic_t running_group;

struct fe_gnuplot {
    double seconds;
    pid_t pid; /* 0: not running */
    int input;
    int output;
    int errors;
    bool missing;
    bool hung; /* one that hangs would hang at every figure of a report */
};

/* ---- Text for gnuplot ---- */

void fe_gnuplot_quote(const char *text, fe_strbuf *out)
{
    fe_strbuf_append_char(out, '\'');
    /* gnuplot 5.4 takes a doubled quote at the start for an empty string. */
    if (*text == '\'') {
        fe_strbuf_append(out, "\xe2\x80\x99");
        text++;
    }
    for (; *text; text++) {
        const unsigned char byte = (unsigned char)*text;
        if (byte < 0x20 || byte == 0x7f)
            fe_strbuf_append_char(out, ' ');
        else if (byte == '\'')
            fe_strbuf_append(out, "''");
        else
            fe_strbuf_append_char(out, *text);
    }
    fe_strbuf_append_char(out, '\'');
}

void fe_gnuplot_number(double value, fe_strbuf *out)
{
    char number[64];
    fe_strbuf_append(out,
                     isfinite(value) ? fe_number_print(value, number, sizeof number) : "NaN");
}

/* ---- Time ---- */

static double now_s(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static int milliseconds_until(double deadline_s)
{
    const double left_s = deadline_s - now_s();
    return left_s <= 0.0 ? 0 : (int)fmin(1e3 * left_s + 1.0, 1e6);
}

/* ---- Starting and ending ---- */

static void close_end(int *end)
{
    if (*end >= 0)
        close(*end);
    *end = -1;
}

/* Above the standard three, so that setting those up in the child cannot overwrite it. */
static bool move_up(int *end)
{
    const int moved = fcntl(*end, F_DUPFD_CLOEXEC, 3);
    close_end(end);
    *end = moved;
    return moved >= 0;
}

static bool set_nonblocking(int end)
{
    const int flags = fcntl(end, F_GETFL);
    return flags >= 0 && fcntl(end, F_SETFL, flags | O_NONBLOCK) == 0;
}

typedef struct channels {
    int input[2]; /* 0 ours, 1 gnuplot's */
    int output[2];
    int errors[2];
} channels;

static void close_channels(channels *all)
{
    for (int i = 0; i < 2; i++) {
        close_end(&all->input[i]);
        close_end(&all->output[i]);
        close_end(&all->errors[i]);
    }
}

/* The input is a socket, since only a socket can be written to without the signal of a pipe. */
static bool open_channels(channels *all)
{
    *all = (channels){{-1, -1}, {-1, -1}, {-1, -1}};
    bool good = socketpair(AF_UNIX, SOCK_STREAM, 0, all->input) == 0 &&
                pipe(all->output) == 0 && pipe(all->errors) == 0;
    for (int i = 0; good && i < 2; i++)
        good = move_up(&all->input[i]) && move_up(&all->output[i]) && move_up(&all->errors[i]);
    good = good && set_nonblocking(all->input[0]) && set_nonblocking(all->output[0]) &&
           set_nonblocking(all->errors[0]);
    if (!good)
        close_channels(all);
    return good;
}

/* gnuplot leads a process group, so that what it may have started ends with it. */
static int spawn(const channels *all, char *const environment[], pid_t *pid)
{
    char program[] = "gnuplot";
    char defaults[] = "-d"; /* no start-up files */
    char *const arguments[] = {program, defaults, NULL};
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    sigset_t signals;
    int error = posix_spawn_file_actions_init(&actions);
    if (error)
        return error;
    error = posix_spawnattr_init(&attributes);
    if (error) {
        posix_spawn_file_actions_destroy(&actions);
        return error;
    }
    sigemptyset(&signals);
    posix_spawnattr_setsigmask(&attributes, &signals);
    sigaddset(&signals, SIGPIPE);
    sigaddset(&signals, SIGXFSZ);
    posix_spawnattr_setsigdefault(&attributes, &signals);
    posix_spawnattr_setpgroup(&attributes, 0);
    posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGMASK |
                                              POSIX_SPAWN_SETSIGDEF);
    error = posix_spawn_file_actions_adddup2(&actions, all->input[1], STDIN_FILENO);
    if (!error)
        error = posix_spawn_file_actions_adddup2(&actions, all->output[1], STDOUT_FILENO);
    if (!error)
        error = posix_spawn_file_actions_adddup2(&actions, all->errors[1], STDERR_FILENO);
    if (!error)
        error = posix_spawnp(pid, program, &actions, &attributes, arguments, environment);
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return error;
}

/* No signal comes between the start and the note of it. */
static int spawn_known(const channels *all, char *const environment[], pid_t *pid)
{
    sigset_t every, before;
    sigfillset(&every);
    pthread_sigmask(SIG_SETMASK, &every, &before);
    const int error = spawn(all, environment, pid);
    running_group = error ? 0 : (sig_atomic_t)*pid;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    return error;
}

void fe_gnuplot_kill(void)
{
    if (running_group > 0)
        kill(-(pid_t)running_group, SIGKILL);
}

/* Zero, or why gnuplot could not be started. Its environment is nothing but where programs are.
 */
static int start(fe_gnuplot *gnuplot)
{
    fe_strbuf path = FE_STRBUF_INIT;
    const char *given = getenv("PATH");
    channels all;
    fe_strbuf_format(&path, "PATH=%s", given ? given : "/usr/local/bin:/usr/bin:/bin");
    if (path.failed || !open_channels(&all)) {
        fe_strbuf_free(&path);
        return errno ? errno : ENOMEM;
    }
    char locale[] = "LC_ALL=C";
    char home[] = "HOME=/";
    char *const environment[] = {path.text, locale, home, NULL};
    const int error = spawn_known(&all, environment, &gnuplot->pid);
    fe_strbuf_free(&path);
    if (error) {
        gnuplot->pid = 0;
        close_channels(&all);
        return error;
    }
    gnuplot->input = all.input[0];
    gnuplot->output = all.output[0];
    gnuplot->errors = all.errors[0];
    close_end(&all.input[1]);
    close_end(&all.output[1]);
    close_end(&all.errors[1]);
    return 0;
}

/* True once the child is gone; waits for it until then. */
static bool reap(const fe_gnuplot *gnuplot, double deadline_s, int *wait_status)
{
    for (;;) {
        const pid_t gone = waitpid(gnuplot->pid, wait_status, WNOHANG);
        if (gone == gnuplot->pid || (gone < 0 && errno != EINTR))
            return true;
        if (now_s() >= deadline_s)
            return false;
        const struct timespec moment = {0, 5000000};
        nanosleep(&moment, NULL);
    }
}

/* Ends the child, by force where it does not go within the time; its wait status. */
static int stop(fe_gnuplot *gnuplot, double seconds)
{
    int wait_status = 0;
    if (gnuplot->pid == 0)
        return 0;
    close_end(&gnuplot->input);
    const bool gone = seconds > 0.0 && reap(gnuplot, now_s() + seconds, &wait_status);
    /* Also where it is gone: what it left behind in its group must not stay. */
    kill(-gnuplot->pid, SIGKILL);
    running_group = 0;
    if (!gone)
        while (waitpid(gnuplot->pid, &wait_status, 0) < 0 && errno == EINTR) {
        }
    close_end(&gnuplot->output);
    close_end(&gnuplot->errors);
    gnuplot->pid = 0;
    return wait_status;
}

fe_gnuplot *fe_gnuplot_new(double seconds)
{
    fe_gnuplot *gnuplot = calloc(1, sizeof *gnuplot);
    if (gnuplot)
        *gnuplot = (fe_gnuplot){.seconds = seconds, .input = -1, .output = -1, .errors = -1};
    return gnuplot;
}

void fe_gnuplot_free(fe_gnuplot *gnuplot)
{
    if (!gnuplot)
        return;
    stop(gnuplot, LEAVE_SECONDS);
    free(gnuplot);
}

/* ---- Talking ---- */

typedef enum outcome {
    TALK_DONE,
    TALK_ENDED, /* gnuplot closed its output */
    TALK_TIME_UP,
    TALK_TOO_MUCH,
    TALK_NO_MEMORY
} outcome;

/* Writes what the socket takes; after a failure nothing more, the output tells what happened.
 */
static void send_some(int end, const char *text, size_t length, size_t *sent)
{
    const ssize_t count = send(end, text + *sent, length - *sent, MSG_NOSIGNAL);
    if (count > 0)
        *sent += (size_t)count;
    else if (count < 0 && errno != EAGAIN && errno != EWOULDBLOCK && errno != EINTR)
        *sent = length;
}

/* Reads what is there; false at the end. */
static bool receive_some(int end, fe_strbuf *into)
{
    char chunk[CHUNK];
    const ssize_t count = read(end, chunk, sizeof chunk);
    if (count > 0)
        fe_strbuf_append_bytes(into, chunk, (size_t)count);
    return count > 0 || (count < 0 && (errno == EAGAIN || errno == EINTR));
}

static bool ends_with_mark(const fe_strbuf *output)
{
    const size_t length = strlen(END_MARK);
    return output->length >= length &&
           memcmp(output->text + output->length - length, END_MARK, length) == 0;
}

/* Sends the commands and reads the answer at the same time: either side may fill up first. */
static outcome talk(fe_gnuplot *gnuplot, const fe_strbuf *commands, double deadline_s,
                    fe_strbuf *output, fe_strbuf *errors)
{
    size_t sent = 0;
    bool errors_open = true;
    while (!ends_with_mark(output)) {
        struct pollfd ends[] = {
            {gnuplot->output, POLLIN, 0},
            {errors_open ? gnuplot->errors : -1, POLLIN, 0},
            {sent < commands->length ? gnuplot->input : -1, POLLOUT, 0},
        };
        const int ready = poll(ends, 3, milliseconds_until(deadline_s));
        if (ready == 0 && now_s() >= deadline_s)
            return TALK_TIME_UP;
        if (ready > 0 && ends[2].revents)
            send_some(gnuplot->input, commands->text, commands->length, &sent);
        if (ready > 0 && ends[1].revents)
            errors_open = receive_some(gnuplot->errors, errors);
        if (ready > 0 && ends[0].revents && !receive_some(gnuplot->output, output))
            return TALK_ENDED;
        if (output->failed || errors->failed)
            return TALK_NO_MEMORY;
        if (output->length > MOST_OUTPUT || errors->length > MOST_ERRORS)
            return TALK_TOO_MUCH;
        /* A flow that never pauses must not outrun the clock. */
        if (now_s() >= deadline_s)
            return TALK_TIME_UP;
    }
    /* What it complained of before the mark is there by now, but may not be read yet. */
    if (errors_open)
        receive_some(gnuplot->errors, errors);
    return errors->failed ? TALK_NO_MEMORY : TALK_DONE;
}

/* The line gnuplot ends its complaint with, printable. */
static void last_line(const fe_strbuf *errors, char *line, size_t size)
{
    const char *text = fe_strbuf_text(errors);
    size_t end = errors->length;
    while (end > 0 && strchr(" \t\r\n", text[end - 1]))
        end--;
    size_t start = end;
    while (start > 0 && text[start - 1] != '\n')
        start--;
    while (start < end && strchr(" \t", text[start]))
        start++;
    size_t length = end - start < size - 1 ? end - start : size - 1;
    for (size_t i = 0; i < length; i++) {
        const unsigned char byte = (unsigned char)text[start + i];
        line[i] = byte < 0x20 || byte >= 0x7f ? '?' : text[start + i];
    }
    line[length] = 0;
}

/*
 * True where a line is a complaint ("line 5: undefined variable: x") and no warning. gnuplot
 * reads on after a mistake, so a figure can come out whole and wrong.
 */
static bool complained(const fe_strbuf *errors)
{
    for (const char *at = fe_strbuf_text(errors); *at;) {
        const size_t length = strcspn(at, "\n");
        const char *number = strstr(at, "line ");
        const char *warning = strstr(at, "arning");
        const bool here = number && number < at + length;
        const bool mild = warning && warning < at + length;
        if (here && !mild && strspn(number + 5, "0123456789") > 0)
            return true;
        at += length + (at[length] != 0);
    }
    return false;
}

static void explain_end(fe_gnuplot *gnuplot, int wait_status, const fe_strbuf *errors,
                        char *reason)
{
    char line[160];
    last_line(errors, line, sizeof line);
    if (WIFEXITED(wait_status) && WEXITSTATUS(wait_status) == 127) {
        gnuplot->missing = true;
        snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot is not installed");
    } else if (line[0]) {
        snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot failed: %s", line);
    } else {
        snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot ended without a figure");
    }
}

/* What stands before and after every figure's own commands. */
static void wrap_commands(const char *commands, unsigned width, unsigned height, fe_strbuf *out)
{
    fe_strbuf_format(out,
                     "reset\nset encoding utf8\nset decimalsign '.'\n"
                     "set terminal svg size %u,%u fixed noenhanced font 'sans-serif,16' "
                     "linewidth 1.4\nset output\n",
                     width, height);
    for (size_t i = 0; i < PALETTE_ROWS; i++)
        fe_strbuf_format(out, "%s = '#%06x'\n", PALETTE[i].name, PALETTE[i].light);
    fe_strbuf_append(out, commands);
    fe_strbuf_append(out, "\nunset multiplot\nunset output\nset print '-'\nprint ''\n"
                          "print 'farend: end of figure'\nunset print\n");
}

/* Cuts the mark off and cleans; also where gnuplot wrote no SVG at all. */
static fe_status take_figure(fe_strbuf *output, const char *id, char **svg, char *reason)
{
    fe_strbuf cleaned = FE_STRBUF_INIT;
    output->length -= strlen(END_MARK);
    output->text[output->length] = 0;
    /* A NUL would hide the rest of the text from what reads it. */
    fe_status status = strlen(output->text) == output->length
                           ? fe_gnuplot_clean_svg(output->text, id, &cleaned)
                           : FE_E_INPUT;
    if (status == FE_OK) {
        char *text = fe_strbuf_take(&cleaned);
        if (!text)
            return FE_E_MEMORY;
        *svg = text;
        return FE_OK;
    }
    fe_strbuf_free(&cleaned);
    if (status == FE_E_MEMORY)
        return FE_E_MEMORY;
    snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot wrote something that is no drawing");
    return FE_E_EXTERNAL;
}

static void explain_hang(const fe_gnuplot *gnuplot, char *reason)
{
    snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot took longer than %g s", gnuplot->seconds);
}

static fe_status finish(fe_gnuplot *gnuplot, outcome how, const char *id, fe_strbuf *output,
                        const fe_strbuf *errors, char **svg, char *reason)
{
    switch (how) {
    case TALK_DONE: {
        fe_status status = FE_E_EXTERNAL;
        if (complained(errors))
            explain_end(gnuplot, 0, errors, reason);
        else
            status = take_figure(output, id, svg, reason);
        if (status != FE_OK)
            stop(gnuplot, 0.0);
        return status;
    }
    case TALK_ENDED:
        explain_end(gnuplot, stop(gnuplot, LEAVE_SECONDS), errors, reason);
        return FE_E_EXTERNAL;
    case TALK_TIME_UP:
        gnuplot->hung = true;
        explain_hang(gnuplot, reason);
        break;
    case TALK_TOO_MUCH:
        snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot wrote far too much");
        break;
    case TALK_NO_MEMORY:
        stop(gnuplot, 0.0);
        return FE_E_MEMORY;
    }
    stop(gnuplot, 0.0);
    return FE_E_EXTERNAL;
}

static fe_status need_running(fe_gnuplot *gnuplot, char *reason)
{
    int error = 0;
    if (gnuplot->hung) {
        explain_hang(gnuplot, reason);
        return FE_E_EXTERNAL;
    }
    if (!gnuplot->missing && gnuplot->pid == 0)
        error = start(gnuplot);
    if (error == ENOENT)
        gnuplot->missing = true;
    if (gnuplot->missing)
        snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot is not installed");
    else if (error)
        snprintf(reason, FE_GNUPLOT_REASON_ROOM, "gnuplot cannot be started: %s",
                 strerror(error));
    return gnuplot->missing || error ? FE_E_EXTERNAL : FE_OK;
}

fe_status fe_gnuplot_draw(fe_gnuplot *gnuplot, const char *id, const char *commands,
                          unsigned width, unsigned height, char **svg,
                          char reason[FE_GNUPLOT_REASON_ROOM])
{
    reason[0] = 0;
    if (!gnuplot)
        return FE_E_MEMORY;
    fe_status status = need_running(gnuplot, reason);
    if (status != FE_OK)
        return status;
    fe_strbuf whole = FE_STRBUF_INIT;
    fe_strbuf output = FE_STRBUF_INIT;
    fe_strbuf errors = FE_STRBUF_INIT;
    wrap_commands(commands, width, height, &whole);
    if (whole.failed) {
        status = FE_E_MEMORY;
    } else {
        const double deadline_s = now_s() + gnuplot->seconds;
        const outcome how = talk(gnuplot, &whole, deadline_s, &output, &errors);
        status = finish(gnuplot, how, id, &output, &errors, svg, reason);
    }
    fe_strbuf_free(&whole);
    fe_strbuf_free(&output);
    fe_strbuf_free(&errors);
    return status;
}
