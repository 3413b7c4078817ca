/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/textfile.h"

#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/strbuf.h"

const char *fe_textfile_reason(int error)
{
    if (error == EFBIG)
        return "larger than 64 MB";
    if (error == ENOTSUP)
        return "not a regular file";
    return strerror(error);
}

bool fe_textfile_is_no_file(int error)
{
    return error == ENOENT || error == EISDIR || error == ENOTSUP || error == EFBIG;
}

/*
 * Opened without waiting, since a pipe nobody writes to would hold the caller for ever; what is
 * no file of its own is refused, as a device may never end. The descriptor, or -1 with errno.
 */
static int open_regular(const char *path, size_t *size)
{
    struct stat found;
    const int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (file < 0)
        return -1;
    int error = 0;
    if (fstat(file, &found) != 0)
        error = errno;
    else if (S_ISDIR(found.st_mode))
        error = EISDIR;
    else if (!S_ISREG(found.st_mode))
        error = ENOTSUP;
    else if (found.st_size > (off_t)FE_TEXTFILE_MAX_BYTES)
        error = EFBIG;
    if (error == 0) {
        *size = (size_t)found.st_size;
        return file;
    }
    close(file);
    errno = error;
    return -1;
}

/* The size is a guess: a file may grow while it is read, and some tell none. */
static fe_status read_all(int file, size_t size, char **text, size_t *length)
{
    size_t room = 0;
    *text = NULL;
    *length = 0;
    for (;;) {
        if (room - *length < 2) {
            const size_t most = FE_TEXTFILE_MAX_BYTES + 2;
            const size_t wanted = room ? 2 * room : size + 2;
            if (room == most) {
                errno = EFBIG;
                return FE_E_IO;
            }
            room = wanted < most ? wanted : most;
            char *grown = realloc(*text, room);
            if (!grown)
                return FE_E_MEMORY;
            *text = grown;
        }
        const ssize_t got = read(file, *text + *length, room - *length - 1);
        if (got < 0 && errno != EINTR)
            return FE_E_IO;
        if (got > 0)
            *length += (size_t)got;
        if (got == 0)
            break;
    }
    (*text)[*length] = 0;
    return FE_OK;
}

fe_status fe_textfile_read(const char *path, char **text, size_t *length)
{
    char *buffer = NULL;
    size_t size = 0;
    size_t used = 0;
    const int file = open_regular(path, &size);
    if (file < 0)
        return FE_E_IO;
    const fe_status status = read_all(file, size, &buffer, &used);
    const int error = errno;
    close(file);
    errno = error;
    if (status != FE_OK) {
        free(buffer);
        return status;
    }
    *text = buffer;
    *length = used;
    return FE_OK;
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

/* A device or pipe (say /dev/stdout) cannot be replaced, only written to. */
static fe_status write_into(const char *path, const char *text, size_t length)
{
    const int file = open(path, O_WRONLY | O_CLOEXEC);
    if (file < 0)
        return FE_E_IO;
    int failed = write_all(file, text, length);
    int error = errno;
    if (close(file) && !failed) {
        failed = 1;
        error = errno;
    }
    errno = error;
    return failed ? FE_E_IO : FE_OK;
}

/* Fills the temporary and puts it in the place of the file; leaves it behind nowhere. */
static fe_status replace(char *temporary, const char *path, const char *text, size_t length)
{
    const int file = mkstemp(temporary);
    if (file < 0)
        return FE_E_IO;
    const mode_t mask = umask(0);
    umask(mask);
    int failed = write_all(file, text, length) || fchmod(file, 0666 & ~mask) || fsync(file);
    int error = errno;
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
    errno = error;
    return failed ? FE_E_IO : FE_OK;
}

/* Signals that end a program wait until the temporary is gone or has become the file. */
static fe_status replace_undisturbed(char *temporary, const char *path, const char *text,
                                     size_t length)
{
    sigset_t ending, before;
    sigemptyset(&ending);
    sigaddset(&ending, SIGHUP);
    sigaddset(&ending, SIGINT);
    sigaddset(&ending, SIGQUIT);
    sigaddset(&ending, SIGTERM);
    if (pthread_sigmask(SIG_BLOCK, &ending, &before) != 0)
        return FE_E_IO;
    const fe_status status = replace(temporary, path, text, length);
    const int error = errno;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    errno = error;
    return status;
}

fe_status fe_textfile_write(const char *path, const char *text, size_t length)
{
    struct stat target;
    const bool there = stat(path, &target) == 0;
    if (there && S_ISDIR(target.st_mode)) {
        errno = EISDIR;
        return FE_E_IO;
    }
    if (there && !S_ISREG(target.st_mode))
        return write_into(path, text, length);
    fe_strbuf temporary = FE_STRBUF_INIT;
    fe_strbuf_format(&temporary, "%s.XXXXXX", path);
    fe_status status = fe_strbuf_status(&temporary);
    if (status == FE_OK)
        status = replace_undisturbed(temporary.text, path, text, length);
    const int error = errno;
    fe_strbuf_free(&temporary);
    errno = error;
    return status;
}
