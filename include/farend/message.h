/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_MESSAGE_H
#define FAREND_MESSAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * What is wrong with the user's input, collected so that one run shows every mistake. A message
 * is one line: "plan.ini:14: [end shed] height: read \"3\", expected a length with its unit,
 * for example 3 m". Nothing is printed here; src/app shows the list on stderr.
 */
typedef struct fe_message {
    char *text; /* the whole line, without newline */
    char *file;
    int line; /* 0 where the whole file is meant */
} fe_message;

typedef struct fe_messages {
    fe_message *items;
    size_t count;
    size_t room;
    size_t dropped; /* messages beyond FE_MESSAGES_MOST, or that found no memory */
} fe_messages;

/* A plan of a megabyte of rubbish should not print a megabyte. */
enum { FE_MESSAGES_MOST = 200 };

/*
 * Adds a message. Control characters in the text are shown as '?', so that no input can act on
 * the terminal. Out of memory counts as dropped: the list is still not empty, and the run fails
 * as it should.
 */
void fe_messages_add(fe_messages *list, const char *file, int line, const char *format, ...)
    FE_PRINTF(4, 5);

/* The usual shape: what was read under which key, what was expected, an example. */
void fe_messages_add_value(fe_messages *list, const char *file, int line, const char *section,
                           const char *key, const char *read, const char *expected,
                           const char *example);

/* True where nothing was added. */
bool fe_messages_none(const fe_messages *list);

/* Sorts by file and line, as a reader walks through the file. */
void fe_messages_sort(fe_messages *list);

void fe_messages_free(fe_messages *list);

#endif
