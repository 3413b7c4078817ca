/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/status.h"

enum { PATH_ROOM = 256 };

static char folder[PATH_ROOM];
static char path[PATH_ROOM];

static void remove_folder(void)
{
    unlink(path);
    rmdir(folder);
}

int LLVMFuzzerInitialize(int *argc, char ***argv)
{
    (void)argc;
    (void)argv;
    fe_init();
    const char *const root = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
    snprintf(folder, sizeof folder, "%s/farend-fuzz.XXXXXX", root);
    if (!mkdtemp(folder))
        abort();
    atexit(remove_folder);
    return 0;
}

char *fuzz_text(const uint8_t *data, size_t size)
{
    char *const text = malloc(size + 1);
    if (!text)
        abort();
    if (size > 0)
        memcpy(text, data, size);
    text[size] = 0;
    return text;
}

const char *fuzz_file(const char *name, const uint8_t *data, size_t size)
{
    snprintf(path, sizeof path, "%.200s/%.40s", folder, name);
    FILE *const file = fopen(path, "wb");
    if (!file || fwrite(data, 1, size, file) != size || fclose(file) != 0)
        abort();
    return path;
}
