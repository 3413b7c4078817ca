/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLAN_INI_TEXT_H
#define FAREND_PLAN_INI_TEXT_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/message.h"
#include "farend/status.h"

/*
 * The INI form of plans and catalogues, as sections with their keys, lines kept. inih splits
 * keys from values; what it would cut or join in silence is refused here first: a line over 199
 * bytes, a section name over 49, text after a section's bracket. An indented line, which inih
 * appends to the value above, is read as any other. CRLF and a byte order mark are accepted,
 * control characters and what is no UTF-8 are not: texts go on into terminals, pages and JSON.
 */
enum { INI_LONGEST_LINE = 199, INI_LONGEST_SECTION = 49, INI_MOST_SECTIONS = 2000 };

/* Bytes of the largest file that is taken for a plan. */
enum { INI_LARGEST_FILE = 1024 * 1024 };

typedef struct ini_entry {
    char *key;
    char *value;
    int line;
} ini_entry;

typedef struct ini_section {
    char *title; /* "end shed" */
    char *word;  /* "end" */
    char *name;  /* "shed"; "" where there is none */
    int line;
    ini_entry *entries;
    size_t count;
} ini_section;

typedef struct ini_text {
    char *file; /* as messages name it */
    ini_section *sections;
    size_t count;
} ini_text;

/*
 * Reads a file. Lines with mistakes are told and passed over, so that the rest is still read:
 * FE_OK means that there is something to check, not that nothing was wrong.
 *
 * FE_E_IO      cannot be read; the list says why
 * FE_E_INPUT   empty, too large or no text; the list says which
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status ini_text_read(const char *path, ini_text *text, fe_messages *messages);

void ini_text_free(ini_text *text);

/* True for UTF-8 without control characters but tabs: what a plan may hold. */
bool ini_text_is_clean(const char *text);

/* Entry of a section by key, the last one; null where there is none. */
const ini_entry *ini_section_entry(const ini_section *section, const char *key);

#endif
