/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/program.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { FOLDER_ROOM = 4096 };

bool fe_program_path(const char *rest, char *path, size_t room)
{
    char folder[FOLDER_ROOM];
    const ssize_t length = readlink("/proc/self/exe", folder, sizeof folder - 1);
    if (length <= 0 || length >= (ssize_t)sizeof folder - 1)
        return false; /* not told, or cut */
    folder[length] = '\0';
    char *slash = strrchr(folder, '/');
    if (!slash || (size_t)(slash - folder) + strlen(rest) + 2 > room)
        return false;
    *slash = '\0';
    snprintf(path, room, "%s/%s", folder, rest);
    return true;
}
