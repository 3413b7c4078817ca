/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_STRBUF_H
#define FAREND_STRBUF_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * A string that grows. Start with FE_STRBUF_INIT, append, ask for the status once at the end:
 * after a failure everything appended is dropped and the status stays FE_E_MEMORY. The text is
 * always NUL-terminated; appending costs amortised constant time a byte.
 */
typedef struct fe_strbuf {
    char *text; /* null before the first append: use fe_strbuf_text */
    size_t length;
    size_t room;
    bool failed;
} fe_strbuf;

/* clang-format off */
#define FE_STRBUF_INIT {NULL, 0, 0, false}
/* clang-format on */

/* A report stays far below; a run-away loop stops here. */
#define FE_STRBUF_MOST_BYTES ((size_t)256 * 1024 * 1024)

void fe_strbuf_append(fe_strbuf *buffer, const char *text);
void fe_strbuf_append_bytes(fe_strbuf *buffer, const char *bytes, size_t length);
void fe_strbuf_append_char(fe_strbuf *buffer, char character);
void fe_strbuf_repeat(fe_strbuf *buffer, char character, size_t times);
void fe_strbuf_format(fe_strbuf *buffer, const char *format, ...) FE_PRINTF(2, 3);
void fe_strbuf_format_list(fe_strbuf *buffer, const char *format, va_list arguments)
    FE_PRINTF(2, 0);

/* The text so far, "" where there is none; valid until the next append. Never null. */
const char *fe_strbuf_text(const fe_strbuf *buffer);

/* FE_OK or FE_E_MEMORY. */
FE_MUST_CHECK fe_status fe_strbuf_status(const fe_strbuf *buffer);

/* Hands the text over to be freed by the caller and empties the buffer; null after a failure.
 */
char *fe_strbuf_take(fe_strbuf *buffer);

/* Empties it for another use; keeps the memory, and a failure: what it held before was not
 * whole. */
void fe_strbuf_clear(fe_strbuf *buffer);
void fe_strbuf_free(fe_strbuf *buffer);

#endif
