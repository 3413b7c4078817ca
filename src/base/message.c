/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/message.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "farend/strbuf.h"

enum { FIRST_ROOM = 16 };

/* Length of the well-formed UTF-8 character at the start of the text; 0 where there is none. */
static size_t character_length(const unsigned char *text)
{
    size_t length = 0;
    if (text[0] < 0x80)
        return 1;
    if (text[0] >= 0xC2 && text[0] <= 0xDF)
        length = 2;
    else if (text[0] >= 0xE0 && text[0] <= 0xEF)
        length = 3;
    else if (text[0] >= 0xF0 && text[0] <= 0xF4)
        length = 4;
    for (size_t i = 1; i < length; i++)
        if ((text[i] & 0xC0) != 0x80)
            return 0;
    return length;
}

/* Both sets of control characters: below space with DEL, and U+0080 to U+009F. */
static bool is_control(const unsigned char *text)
{
    return text[0] < 0x20 || text[0] == 0x7F || (text[0] == 0xC2 && text[1] < 0xA0);
}

/* A broken character is hidden too: a lone 0x9B opens a command on some terminals. */
static void hide_controls(char *text)
{
    unsigned char *write = (unsigned char *)text;
    const unsigned char *read = write;
    while (*read) {
        const size_t length = character_length(read);
        if (length == 0 || is_control(read)) {
            *write++ = '?';
            read += length ? length : 1;
        } else {
            memmove(write, read, length);
            write += length;
            read += length;
        }
    }
    *write = 0;
}

static bool make_room(fe_messages *list)
{
    if (list->count < list->room)
        return true;
    const size_t room = list->room ? 2 * list->room : FIRST_ROOM;
    fe_message *grown = realloc(list->items, room * sizeof *grown);
    if (!grown)
        return false;
    list->items = grown;
    list->room = room;
    return true;
}

static fe_strbuf begin(const char *file, int line)
{
    fe_strbuf text = FE_STRBUF_INIT;
    if (line > 0)
        fe_strbuf_format(&text, "%s:%d: ", file, line);
    else
        fe_strbuf_format(&text, "%s: ", file);
    return text;
}

/* Takes the text over. */
static void add(fe_messages *list, const char *file, int line, fe_strbuf *text)
{
    const fe_message message = {fe_strbuf_take(text), strdup(file), line};
    if (!message.text || !message.file || list->count >= FE_MESSAGES_MOST || !make_room(list)) {
        free(message.text);
        free(message.file);
        list->dropped++;
        return;
    }
    hide_controls(message.text);
    list->items[list->count++] = message;
}

void fe_messages_add(fe_messages *list, const char *file, int line, const char *format, ...)
{
    fe_strbuf text = begin(file, line);
    va_list arguments;
    va_start(arguments, format);
    fe_strbuf_format_list(&text, format, arguments);
    va_end(arguments);
    add(list, file, line, &text);
}

void fe_messages_add_value(fe_messages *list, const char *file, int line, const char *section,
                           const char *key, const char *read, const char *expected,
                           const char *example)
{
    fe_strbuf text = begin(file, line);
    fe_strbuf_format(&text, "[%s] %s: read \"%s\", expected %s, for example %s", section, key,
                     read, expected, example);
    add(list, file, line, &text);
}

bool fe_messages_none(const fe_messages *list)
{
    return list->count == 0 && list->dropped == 0;
}

static bool comes_before(const fe_message *a, const fe_message *b)
{
    const int files = strcmp(a->file, b->file);
    return files < 0 || (files == 0 && a->line < b->line);
}

/* Insertion keeps messages of one line in the order they were found, which qsort need not. */
void fe_messages_sort(fe_messages *list)
{
    for (size_t i = 1; i < list->count; i++) {
        const fe_message moved = list->items[i];
        size_t at = i;
        while (at > 0 && comes_before(&moved, &list->items[at - 1])) {
            list->items[at] = list->items[at - 1];
            at--;
        }
        list->items[at] = moved;
    }
}

void fe_messages_free(fe_messages *list)
{
    for (size_t i = 0; i < list->count; i++) {
        free(list->items[i].text);
        free(list->items[i].file);
    }
    free(list->items);
    *list = (fe_messages){0};
}
