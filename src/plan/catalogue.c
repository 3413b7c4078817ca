/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/program.h"
#include "farend/textfile.h"
#include "plan/reader.h"

/*
 * Folders with profiles, in the order in which they are looked through: beside the plan (its
 * folder, `profiles` in it, `profiles` next to it), the option's, the environment's, the one
 * installed with this program wherever that is, the one it was configured for, that of the
 * source this was built of.
 */
enum { OPTION_PLACE = 3, ENVIRONMENT_PLACE = 4, PLACES = 8, PATH_ROOM = 4096 };

#ifndef FAREND_SOURCE_PROFILES
#define FAREND_SOURCE_PROFILES ""
#endif

static char *join(plan_reader *reader, const char *folder, const char *name)
{
    const size_t room = strlen(folder) + strlen(name) + 2;
    char *const path = malloc(room);
    if (path)
        snprintf(path, room, "%s/%s", folder, name);
    else
        reader->no_memory = true;
    return path;
}

/* A folder of the list; null where that place is not set. The caller frees it. */
static char *place(plan_reader *reader, int index)
{
    const fe_plan_places *const places = reader->places;
    char installed[PATH_ROOM];
    const char *folder = NULL;
    switch (index) {
    case 0:
        return reader->folder ? plan_copy(reader, reader->folder) : NULL;
    case 1:
        return reader->folder ? join(reader, reader->folder, "profiles") : NULL;
    case 2:
        return reader->folder ? join(reader, reader->folder, "../profiles") : NULL;
    case OPTION_PLACE:
        folder = places ? places->profiles_option : NULL;
        break;
    case ENVIRONMENT_PLACE:
        folder = places ? places->environment : NULL;
        break;
    case 5:
        if (fe_program_path(FAREND_DATA_FROM_PROGRAM, installed, sizeof installed))
            folder = installed;
        break;
    case 6:
        folder = FAREND_DATA_DIR;
        break;
    default:
        folder = FAREND_SOURCE_PROFILES;
        break;
    }
    return folder && *folder ? plan_copy(reader, folder) : NULL;
}

static bool is_there(const char *path)
{
    return access(path, F_OK) == 0;
}

char *plan_find_file(plan_reader *reader, const char *name)
{
    if (name[0] == '/')
        return is_there(name) ? plan_copy(reader, name) : NULL;
    for (int i = 0; i < PLACES; i++) {
        char *const folder = place(reader, i);
        char *const path = folder ? join(reader, folder, name) : NULL;
        free(folder);
        if (path && is_there(path))
            return path;
        free(path);
    }
    return NULL;
}

static const plan_part CATALOGUE_PARTS[] = {PART_GEAR, PART_CABLE_CLASS, PART_CLIMATE_CLASS};
enum { CATALOGUE_PART_COUNT = sizeof CATALOGUE_PARTS / sizeof CATALOGUE_PARTS[0] };

static void read_file(plan_reader *reader, const char *path)
{
    ini_text text = {0};
    const fe_status status = ini_text_read(path, &text, reader->messages);
    if (status == FE_E_MEMORY)
        reader->no_memory = true;
    if (status != FE_OK || reader->no_memory)
        return;
    plan_check_sections(reader, &text, true);
    for (int i = 0; i < CATALOGUE_PART_COUNT; i++)
        plan_read_part(reader, &text, CATALOGUE_PARTS[i]);
    ini_text_free(&text);
}

static int is_ini(const struct dirent *entry)
{
    const size_t length = strlen(entry->d_name);
    return entry->d_name[0] != '.' && length > 4 &&
           strcmp(entry->d_name + length - 4, ".ini") == 0;
}

static void refuse_folder(plan_reader *reader, const char *folder, int reason)
{
    fe_messages_add(reader->messages, folder, 0, "cannot read the folder: %s",
                    fe_textfile_reason(reason));
}

/* In the order of their names, so that nothing depends on the disk. */
static void read_folder(plan_reader *reader, const char *folder)
{
    struct dirent **entries = NULL;
    const int count = scandir(folder, &entries, is_ini, alphasort);
    /* A place need not have all kinds, and beside a plan the name may be another thing's. */
    if (count < 0 && errno != ENOENT && errno != ENOTDIR)
        refuse_folder(reader, folder, errno);
    for (int i = 0; i < count; i++) {
        char *const path = reader->no_memory ? NULL : join(reader, folder, entries[i]->d_name);
        if (path)
            read_file(reader, path);
        free(path);
        free(entries[i]);
    }
    free(entries);
}

/* Folders may coincide: a plan in the profiles folder, or FAREND_PROFILES beside it. */
typedef struct seen_folders {
    struct stat items[PLACES];
    int count;
} seen_folders;

static bool is_new_folder(plan_reader *reader, seen_folders *seen, int index,
                          const char *folder)
{
    struct stat about;
    const int reason = stat(folder, &about) != 0 ? errno : S_ISDIR(about.st_mode) ? 0 : ENOTDIR;
    /* These two somebody named; the others need not be there. */
    if (reason && (index == OPTION_PLACE || index == ENVIRONMENT_PLACE))
        refuse_folder(reader, folder, reason);
    if (reason)
        return false;
    for (int i = 0; i < seen->count; i++)
        if (seen->items[i].st_dev == about.st_dev && seen->items[i].st_ino == about.st_ino)
            return false;
    seen->items[seen->count++] = about;
    return true;
}

static void read_place(plan_reader *reader, const char *folder)
{
    static const char *const KINDS[] = {"gear", "cable", "climate"};
    for (size_t i = 0; i < sizeof KINDS / sizeof KINDS[0]; i++) {
        char *const path = join(reader, folder, KINDS[i]);
        if (path)
            read_folder(reader, path);
        free(path);
    }
}

void plan_read_catalogues(plan_reader *reader)
{
    seen_folders seen = {0};
    for (int i = 0; i < PLACES; i++) {
        char *const folder = place(reader, i);
        if (folder && is_new_folder(reader, &seen, i, folder))
            read_place(reader, folder);
        free(folder);
    }
}
