/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FUZZ_H
#define FAREND_FUZZ_H

#include <stddef.h>
#include <stdint.h>

/* What libFuzzer calls. */
int LLVMFuzzerInitialize(int *argc, char ***argv);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* The input as text that ends with a NUL; the caller's to free. */
char *fuzz_text(const uint8_t *data, size_t size);

/*
 * The input as a file NAME in a folder of this process (in memory where /dev/shm exists);
 * returns its path, which lives until the next call.
 */
const char *fuzz_file(const char *name, const uint8_t *data, size_t size);

/* A claim about a result that must hold whatever the input was. */
#define FUZZ_CLAIM(holds)                                                                      \
    do {                                                                                       \
        if (!(holds))                                                                          \
            __builtin_trap();                                                                  \
    } while (0)

#endif
