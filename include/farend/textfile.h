/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TEXTFILE_H
#define FAREND_TEXTFILE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/* Largest file that is read whole; a profile of a million points stays below it. */
#define FE_TEXTFILE_MAX_BYTES ((size_t)64 * 1024 * 1024)

/*
 * Reads a whole file; *text ends with a NUL that *length does not count, and is the caller's to
 * free. Pipes and devices are refused: they may never end.
 *
 * FE_E_IO      cannot be opened or read, is no regular file, or too large; errno tells why
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_textfile_read(const char *path, char **text, size_t *length);

/* An errno of these functions in words, for a message. */
const char *fe_textfile_reason(int error);

/* True where it is the name that is wrong (nothing there, no regular file, too large), so that
 * whoever gave it can mend it; a disk that fails is another matter. */
bool fe_textfile_is_no_file(int error);

/*
 * Writes a whole file or nothing: the text goes to a temporary beside the target, which is then
 * renamed over it. An earlier file stays untouched until the new one is complete, and signals
 * that would end the program wait until then.
 *
 * FE_E_IO      errno tells why; no temporary is left
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_textfile_write(const char *path, const char *text, size_t length);

#endif
