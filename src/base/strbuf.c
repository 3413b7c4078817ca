/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/strbuf.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_ROOM = 256 };

static bool make_room(fe_strbuf *buffer, size_t more)
{
    if (buffer->failed)
        return false;
    if (more > FE_STRBUF_MOST_BYTES || buffer->length + more > FE_STRBUF_MOST_BYTES) {
        buffer->failed = true;
        return false;
    }
    const size_t needed = buffer->length + more + 1;
    if (needed <= buffer->room)
        return true;
    size_t room = buffer->room ? buffer->room : FIRST_ROOM;
    while (room < needed)
        room *= 2;
    char *text = realloc(buffer->text, room);
    if (!text) {
        buffer->failed = true;
        return false;
    }
    buffer->text = text;
    buffer->room = room;
    return true;
}

void fe_strbuf_append_bytes(fe_strbuf *buffer, const char *bytes, size_t length)
{
    if (!make_room(buffer, length))
        return;
    if (length > 0)
        memcpy(buffer->text + buffer->length, bytes, length);
    buffer->length += length;
    buffer->text[buffer->length] = 0;
}

void fe_strbuf_append(fe_strbuf *buffer, const char *text)
{
    fe_strbuf_append_bytes(buffer, text, strlen(text));
}

void fe_strbuf_append_char(fe_strbuf *buffer, char character)
{
    fe_strbuf_append_bytes(buffer, &character, 1);
}

void fe_strbuf_repeat(fe_strbuf *buffer, char character, size_t times)
{
    if (!make_room(buffer, times))
        return;
    memset(buffer->text + buffer->length, character, times);
    buffer->length += times;
    buffer->text[buffer->length] = 0;
}

void fe_strbuf_format_list(fe_strbuf *buffer, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    const int length = vsnprintf(NULL, 0, format, arguments);
    if (length < 0)
        buffer->failed = true;
    else if (make_room(buffer, (size_t)length)) {
        vsnprintf(buffer->text + buffer->length, (size_t)length + 1, format, again);
        buffer->length += (size_t)length;
    }
    va_end(again);
}

void fe_strbuf_format(fe_strbuf *buffer, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fe_strbuf_format_list(buffer, format, arguments);
    va_end(arguments);
}

const char *fe_strbuf_text(const fe_strbuf *buffer)
{
    return buffer->text ? buffer->text : "";
}

fe_status fe_strbuf_status(const fe_strbuf *buffer)
{
    return buffer->failed ? FE_E_MEMORY : FE_OK;
}

char *fe_strbuf_take(fe_strbuf *buffer)
{
    /* An empty text is a text too: the caller gets "", not null. */
    fe_strbuf_append_bytes(buffer, "", 0);
    char *text = buffer->failed ? NULL : buffer->text;
    if (buffer->failed)
        free(buffer->text);
    *buffer = (fe_strbuf)FE_STRBUF_INIT;
    return text;
}

void fe_strbuf_clear(fe_strbuf *buffer)
{
    buffer->length = 0;
    if (buffer->text)
        buffer->text[0] = 0;
}

void fe_strbuf_free(fe_strbuf *buffer)
{
    free(buffer->text);
    *buffer = (fe_strbuf)FE_STRBUF_INIT;
}
