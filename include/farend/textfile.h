/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_TEXTFILE_H
#define FAREND_TEXTFILE_H

#include <stddef.h>

#include "farend/status.h"

/* Largest file that is read whole; a profile of a million points stays below it. */
#define FE_TEXTFILE_MAX_BYTES ((size_t)64 * 1024 * 1024)

/*
 * Reads a whole file; *text ends with a NUL that *length does not count, and is the caller's to
 * free.
 *
 * FE_E_IO      cannot be opened or read, or is a directory; errno tells why (EFBIG: too large)
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_textfile_read(const char *path, char **text, size_t *length);

/*
 * Writes a whole file or nothing: the text goes to a temporary beside the target, which is then
 * renamed over it. An earlier file stays untouched until the new one is complete.
 *
 * FE_E_IO      errno tells why; no temporary is left
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_textfile_write(const char *path, const char *text, size_t length);

#endif
