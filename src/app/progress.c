/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/progress.h"

#include <errno.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* What the handler may touch: written before the alarm is set, read by it alone. */
static char line[80];
static size_t line_length;
static volatile sig_atomic_t seconds;
static volatile sig_atomic_t is_shown;

enum { DIGITS = 6 };

static void put(const char *text, size_t length)
{
    /* Nobody can be told that the line did not arrive. */
    (void)!write(STDERR_FILENO, text, length);
}

/* Only calls that a signal handler may make. */
static void tick(int signal_number)
{
    (void)signal_number;
    const int held = errno;
    char digits[DIGITS + 4] = {0};
    size_t at = DIGITS;
    seconds++;
    for (int left = seconds; at > 0 && (left > 0 || at == DIGITS); left /= 10)
        digits[--at] = (char)('0' + left % 10);
    memcpy(digits + DIGITS, " s\r", 3);
    put(line, line_length);
    put(digits + at, DIGITS + 3 - at);
    is_shown = 1;
    alarm(1);
    errno = held;
}

void progress_start(const char *who)
{
    if (!isatty(STDERR_FILENO))
        return;
    const int length = snprintf(line, sizeof line, "%s: working, ", who);
    line_length = length > 0 && (size_t)length < sizeof line ? (size_t)length : 0;
    seconds = 0;
    is_shown = 0;
    struct sigaction action = {.sa_handler = tick, .sa_flags = SA_RESTART};
    sigemptyset(&action.sa_mask);
    if (sigaction(SIGALRM, &action, NULL) == 0)
        alarm(1);
}

void progress_end(void)
{
    static const char BLANK[] = "\r                                                "
                                "                               \r";
    alarm(0);
    if (is_shown)
        put(BLANK, sizeof BLANK - 1);
    is_shown = 0;
}
