/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PROGRAM_H
#define FAREND_PROGRAM_H

#include <stdbool.h>
#include <stddef.h>

/*
 * A path that starts at the folder of the running program, so that an installation which was
 * moved, or put under another prefix than it was built for, finds what belongs to it.
 *
 *   rest   what follows that folder, for example "../share/farend"
 *   path   room bytes; untouched where the result is false
 *
 * False where the system does not tell, or the path is too long. Nothing says that it exists.
 */
bool fe_program_path(const char *rest, char *path, size_t room);

#endif
