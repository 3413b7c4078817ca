/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/lines.h"

#include <string.h>

#define GAPS " \n"
#define NO_BREAK "\xc2\xa0"

enum { LEAST_COLUMN = 10 };

size_t fe_lines_columns(const char *text, size_t length)
{
    size_t columns = 0;
    for (size_t i = 0; i < length; i++) {
        const unsigned char byte = (unsigned char)text[i];
        const bool combining = byte == 0xcc || (byte == 0xcd && i + 1 < length &&
                                                (unsigned char)text[i + 1] < 0xb0);
        if ((byte & 0xc0) != 0x80 && !combining)
            columns++;
    }
    return columns;
}

/* Letters of the unit that a text goes on with, one that words carry beside a number; 0: none.
 */
static size_t unit_length(const char *text)
{
    static const char *const UNITS[] = {"GHz", "MHz",  "V",    "mW",   "W",   "A",  "dBm",
                                        "dB",  "mm2",  "mm",   "m",    "ft",  "in", "N",
                                        "%",   "Mb/s", "kb/s", "Gb/s", "ohm", "s",  "lb"};
    for (size_t i = 0; i < sizeof UNITS / sizeof *UNITS; i++) {
        const size_t length = strlen(UNITS[i]);
        if (strncmp(text, UNITS[i], length) == 0 && strchr(" ,;.:)/", text[length]))
            return length;
    }
    return 0;
}

void fe_lines_tie(const char *text, fe_strbuf *out)
{
    bool digit = false;
    while (*text) {
        const bool is_tie = strncmp(text, NO_BREAK, 2) == 0;
        if (is_tie || (*text == ' ' && digit && unit_length(text + 1) > 0))
            fe_strbuf_append_char(out, FE_LINES_TIE);
        else
            fe_strbuf_append_char(out, *text);
        digit = *text >= '0' && *text <= '9';
        text += is_tie ? 2 : 1;
    }
}

void fe_lines_set_units(const char *text, fe_strbuf *out)
{
    static const char AREA[] = "mm2";
    bool digit = false;
    while (*text) {
        const size_t unit = *text == ' ' && digit ? unit_length(text + 1) : 0;
        digit = *text >= '0' && *text <= '9';
        if (unit == 0) {
            fe_strbuf_append_char(out, *text++);
            continue;
        }
        fe_strbuf_append(out, NO_BREAK);
        if (unit == strlen(AREA) && strncmp(text + 1, AREA, unit) == 0)
            fe_strbuf_append(out, "mm\xc2\xb2");
        else
            fe_strbuf_append_bytes(out, text + 1, unit);
        text += 1 + unit;
    }
}

/* Bytes of the start of a word that is longer than a width. */
static size_t bytes_that_fit(const char *word, size_t length, size_t width)
{
    size_t end = 0;
    size_t bar = 0;
    for (size_t i = 1; i <= length; i++) {
        const bool whole = i == length || ((unsigned char)word[i] & 0xc0) != 0x80;
        if (!whole || fe_lines_columns(word, i) > width)
            continue;
        end = i;
        if (word[i - 1] == '|')
            bar = i;
    }
    return bar ? bar : end ? end : length;
}

bool fe_lines_next(const char **at, size_t width, const char **line, size_t *length)
{
    *at += strspn(*at, GAPS);
    if (**at == 0)
        return false;
    *line = *at;
    *length = 0;
    const char *end = *at;
    for (;;) {
        const char *word = end + strspn(end, GAPS);
        const size_t word_length = strcspn(word, GAPS);
        const size_t whole = (size_t)(word + word_length - *line);
        if (word_length == 0 || fe_lines_columns(*line, whole) > width)
            break;
        *length = whole;
        end = word + word_length;
    }
    if (*length == 0)
        *length = bytes_that_fit(*line, strcspn(*line, GAPS), width);
    *at = *line + *length;
    return true;
}

void fe_lines_append(fe_strbuf *out, const char *line, size_t length)
{
    for (size_t i = 0; i < length; i++)
        fe_strbuf_append_char(out, line[i] == FE_LINES_TIE || line[i] == '\n' ? ' ' : line[i]);
}

void fe_lines_hang(fe_strbuf *out, const char *text, size_t width, size_t hang)
{
    const size_t room = width > hang + LEAST_COLUMN ? width - hang : LEAST_COLUMN;
    const char *line = "";
    size_t length = 0;
    bool first = true;
    while (fe_lines_next(&text, room, &line, &length)) {
        fe_strbuf_repeat(out, ' ', first ? 0 : hang);
        fe_lines_append(out, line, length);
        fe_strbuf_append_char(out, '\n');
        first = false;
    }
    if (first)
        fe_strbuf_append_char(out, '\n');
}
