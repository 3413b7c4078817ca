/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/textfile.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

fe_status fe_textfile_read(const char *path, char **text, size_t *length)
{
    fe_status status = FE_E_IO;
    char *buffer = NULL;
    size_t room = 0;
    size_t used = 0;
    int error = 0;
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0)
        return FE_E_IO;
    for (;;) {
        if (room - used < 2) {
            room = room ? 2 * room : 16384;
            if (room > 2 * FE_TEXTFILE_MAX_BYTES) {
                error = EFBIG;
                goto done;
            }
            char *grown = realloc(buffer, room);
            if (!grown) {
                status = FE_E_MEMORY;
                goto done;
            }
            buffer = grown;
        }
        ssize_t got = read(file, buffer + used, room - used - 1);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0) {
            error = errno;
            goto done;
        }
        if (got == 0)
            break;
        used += (size_t)got;
    }
    buffer[used] = 0;
    *text = buffer;
    *length = used;
    buffer = NULL;
    status = FE_OK;
done:
    free(buffer);
    close(file);
    errno = error;
    return status;
}

static int write_all(int file, const char *text, size_t length)
{
    while (length > 0) {
        ssize_t put = write(file, text, length);
        if (put < 0 && errno == EINTR)
            continue;
        if (put < 0)
            return -1;
        text += put;
        length -= (size_t)put;
    }
    return 0;
}

fe_status fe_textfile_write(const char *path, const char *text, size_t length)
{
    static const char ENDING[] = ".XXXXXX";
    struct stat target;
    if (stat(path, &target) == 0 && !S_ISREG(target.st_mode)) {
        /* A device or pipe (say /dev/stdout) cannot be replaced, only written to. */
        if (S_ISDIR(target.st_mode)) {
            errno = EISDIR;
            return FE_E_IO;
        }
        int file = open(path, O_WRONLY | O_CLOEXEC);
        if (file < 0)
            return FE_E_IO;
        int failed = write_all(file, text, length);
        int error = errno;
        failed |= close(file);
        errno = error;
        return failed ? FE_E_IO : FE_OK;
    }

    size_t path_length = strlen(path);
    char *temporary = malloc(path_length + sizeof ENDING);
    if (!temporary)
        return FE_E_MEMORY;
    memcpy(temporary, path, path_length);
    memcpy(temporary + path_length, ENDING, sizeof ENDING);

    fe_status status = FE_E_IO;
    int error = 0;
    int file = mkstemp(temporary);
    if (file < 0) {
        error = errno;
        goto done;
    }
    mode_t mask = umask(0);
    umask(mask);
    int failed = write_all(file, text, length) || fchmod(file, 0666 & ~mask) || fsync(file);
    error = errno;
    if (close(file) && !failed) {
        failed = 1;
        error = errno;
    }
    if (!failed && rename(temporary, path)) {
        failed = 1;
        error = errno;
    }
    if (failed)
        unlink(temporary);
    else
        status = FE_OK;
done:
    free(temporary);
    errno = error;
    return status;
}
