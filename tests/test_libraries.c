/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the main program loads, and what that costs at its start. */
#include <elf.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "farend/textfile.h"
#include "testing.h"

enum { ROUNDS = 20 };

/* A sanitizer's own start grows with the program that it watches. */
#ifdef FAREND_SANITIZED
static const double MOST_RATIO = 2.5;
#else
static const double MOST_RATIO = 1.5;
#endif

extern char **environ;

/* ---- Libraries ---- */

typedef struct program {
    char *bytes;
    size_t length;
} program;

static void *at(const program *read, size_t offset, size_t size)
{
    assert_true(offset <= read->length && size <= read->length - offset);
    return read->bytes + offset;
}

/* Calls back with each name of DT_NEEDED; returns how many. */
static size_t for_each_library(const program *read, void (*look)(const char *name))
{
    Elf64_Ehdr head;
    size_t count = 0;
    memcpy(&head, at(read, 0, sizeof head), sizeof head);
    assert_memory_equal(head.e_ident, ELFMAG, SELFMAG);
    assert_int_equal(head.e_ident[EI_CLASS], ELFCLASS64);
    for (size_t i = 0; i < head.e_shnum; i++) {
        Elf64_Shdr section;
        Elf64_Shdr names;
        memcpy(&section, at(read, head.e_shoff + i * sizeof section, sizeof section),
               sizeof section);
        if (section.sh_type != SHT_DYNAMIC)
            continue;
        memcpy(&names, at(read, head.e_shoff + section.sh_link * sizeof names, sizeof names),
               sizeof names);
        for (size_t k = 0; k < section.sh_size / sizeof(Elf64_Dyn); k++) {
            Elf64_Dyn entry;
            memcpy(&entry, at(read, section.sh_offset + k * sizeof entry, sizeof entry),
                   sizeof entry);
            if (entry.d_tag != DT_NEEDED)
                continue;
            look(at(read, names.sh_offset + entry.d_un.d_val, 1));
            count++;
        }
    }
    return count;
}

static void is_no_map_library(const char *name)
{
    static const char *const UNWANTED[] = {"libgdal", "libproj", "libcurl", "libgeos"};
    for (size_t i = 0; i < sizeof UNWANTED / sizeof UNWANTED[0]; i++)
        if (strncmp(name, UNWANTED[i], strlen(UNWANTED[i])) == 0)
            fail_msg("the main program links %s", name);
}

static void program__links_no_map_library(void **state)
{
    (void)state;
    program read = {0};
    assert_int_equal(fe_textfile_read(FAREND_PROGRAM, &read.bytes, &read.length), FE_OK);
    assert_true(for_each_library(&read, is_no_map_library) > 2);
    free(read.bytes);
}

/* ---- Start-up ---- */

/* Processor time of the children so far: what else runs on the machine hardly counts. */
static double children_s(void)
{
    struct rusage used;
    assert_int_equal(getrusage(RUSAGE_CHILDREN, &used), 0);
    return (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
           1e-6 * (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

static double run_s(char *const *words)
{
    pid_t child = 0;
    int ended = 0;
    posix_spawn_file_actions_t actions;
    assert_int_equal(posix_spawn_file_actions_init(&actions), 0);
    assert_int_equal(posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", 1, 0), 0);
    const double start_s = children_s();
    assert_int_equal(posix_spawn(&child, words[0], &actions, NULL, words, environ), 0);
    assert_int_equal(waitpid(child, &ended, 0), child);
    const double took_s = children_s() - start_s;
    posix_spawn_file_actions_destroy(&actions);
    assert_int_equal(ended, 0);
    return took_s;
}

/* In turns, the quickest of each: a cold cache only ever slows one down. */
static void calc__starts_about_as_fast_as_its_libraries_load(void **state)
{
    (void)state;
    char *const calc[] = {(char[]){FAREND_PROGRAM},      (char[]){"calc"},
                          (char[]){"free-space"},        (char[]){"distance=150m"},
                          (char[]){"frequency=2437MHz"}, NULL};
    char *const base[] = {(char[]){FAREND_START_BASELINE}, NULL};
    double calc_s = 1e9;
    double base_s = 1e9;
    for (int i = 0; i < ROUNDS; i++) {
        const double base_now_s = run_s(base);
        const double calc_now_s = run_s(calc);
        base_s = base_now_s < base_s ? base_now_s : base_s;
        calc_s = calc_now_s < calc_s ? calc_now_s : calc_s;
    }
    print_message("calc %.2f ms, its libraries alone %.2f ms, ratio %.2f\n", 1e3 * calc_s,
                  1e3 * base_s, calc_s / base_s);
    assert_true(calc_s / base_s < MOST_RATIO);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(program__links_no_map_library),
        cmocka_unit_test(calc__starts_about_as_fast_as_its_libraries_load),
    };
    return FE_RUN_TESTS(tests);
}
