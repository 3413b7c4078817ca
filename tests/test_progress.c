/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line that shows that work goes on, on a terminal made for the test. */
#ifndef _XOPEN_SOURCE
#define _XOPEN_SOURCE 700
#endif
#include "app/progress.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "testing.h"

enum { TEXT_ROOM = 4000 };

static void work(double seconds)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    const double end = (double)now.tv_sec + 1e-9 * (double)now.tv_nsec + seconds;
    do
        clock_gettime(CLOCK_MONOTONIC, &now);
    while ((double)now.tv_sec + 1e-9 * (double)now.tv_nsec < end);
}

/* What appears on a stream in place of stderr while work takes so long. */
static void watch(int onto, int from, double seconds, char text[TEXT_ROOM])
{
    const int usual = dup(2);
    assert_true(usual >= 0 && dup2(onto, 2) == 2);
    progress_start("farend test");
    work(seconds);
    progress_end();
    assert_true(dup2(usual, 2) == 2);
    close(usual);
    assert_true(fcntl(from, F_SETFL, O_NONBLOCK) == 0);
    size_t length = 0;
    ssize_t count = 0;
    while ((count = read(from, text + length, TEXT_ROOM - 1 - length)) > 0)
        length += (size_t)count;
    text[length] = 0;
}

static int open_terminal(int *inner)
{
    const int outer = posix_openpt(O_RDWR | O_NOCTTY);
    assert_true(outer >= 0 && grantpt(outer) == 0 && unlockpt(outer) == 0);
    *inner = open(ptsname(outer), O_RDWR | O_NOCTTY);
    assert_true(*inner >= 0);
    return outer;
}

static void line__comes_after_a_second_and_is_taken_back(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    int inner = -1;
    const int outer = open_terminal(&inner);
    watch(inner, outer, 2.5, text);
    assert_non_null(strstr(text, "farend test: working, 1 s\r"));
    assert_non_null(strstr(text, "farend test: working, 2 s\r"));
    const size_t length = strlen(text);
    assert_true(length > 2 && text[length - 1] == '\r' && text[length - 2] == ' ');
    close(inner);
    close(outer);
}

static void line__does_not_come_for_quick_work(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    int inner = -1;
    const int outer = open_terminal(&inner);
    watch(inner, outer, 0.0, text);
    assert_string_equal(text, "");
    close(inner);
    close(outer);
}

static void line__comes_on_a_terminal_only(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    watch(ends[1], ends[0], 1.3, text);
    assert_string_equal(text, "");
    close(ends[0]);
    close(ends[1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line__comes_after_a_second_and_is_taken_back),
        cmocka_unit_test(line__does_not_come_for_quick_work),
        cmocka_unit_test(line__comes_on_a_terminal_only),
    };
    return FE_RUN_TESTS(tests);
}
