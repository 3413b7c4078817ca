/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/ini_text.h"

#include <errno.h>
#include <ini.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/textfile.h"
#include "plan/grow.h"

static const char BYTE_ORDER_MARK[] = "\xEF\xBB\xBF";

/* Where the reader stands; inih asks for lines and gives keys back while it does. */
typedef struct line_reader {
    const char *at;
    int line;
    ini_text *text;
    ini_section *section; /* null before the first one, and in one that is passed over */
    bool passing_over;
    bool no_memory;
    char off[INI_LONGEST_SECTION + 1]; /* section switched off by a ; since then; "": none */
    fe_messages *messages;
} line_reader;

static void complain(const line_reader *reader, const char *what)
{
    fe_messages_add(reader->messages, reader->text->file, reader->line, "%s", what);
}

static bool is_blank(char letter)
{
    return letter == ' ' || letter == '\t';
}

static bool is_comment(const char *text)
{
    return *text == ';' || *text == '#';
}

/* First of the letters before a comment begins, as inih finds it; null where there is none. */
static const char *find_letter(const char *text, const char *letters)
{
    for (const char *at = text; *at; at++) {
        if (*at == ';' && at > text && is_blank(at[-1]))
            return NULL;
        if (strchr(letters, *at))
            return at;
    }
    return NULL;
}

static char *copy_part(line_reader *reader, const char *from, const char *end)
{
    while (from < end && is_blank(*from))
        from++;
    while (end > from && is_blank(end[-1]))
        end--;
    char *copy = strndup(from, (size_t)(end - from));
    if (!copy)
        reader->no_memory = true;
    return copy;
}

static void start_section(line_reader *reader, const char *from, const char *end)
{
    ini_text *const text = reader->text;
    ini_section *grown = plan_grow(text->sections, &text->count, sizeof *grown);
    if (!grown) {
        reader->no_memory = true;
        return;
    }
    text->sections = grown;
    ini_section *const section = &grown[text->count - 1];
    section->line = reader->line;
    section->title = copy_part(reader, from, end);
    if (!section->title)
        return;
    const char *const title = section->title;
    const size_t word = strcspn(title, " \t");
    section->word = copy_part(reader, title, title + word);
    section->name = copy_part(reader, title + word, title + strlen(title));
    reader->section = section;
    reader->passing_over = false;
}

/* What is wrong with a section's line; null where nothing is. */
static const char *section_fault(const line_reader *reader, const char *line, const char *end)
{
    if (!end)
        return "a section's name has no closing bracket, expected for example [site]";
    if (end - line - 1 > INI_LONGEST_SECTION)
        return "the section's name is longer than 49 bytes";
    const char *after = end + 1;
    while (is_blank(*after))
        after++;
    if (*after && !is_comment(after))
        return "text after the section's closing bracket; keys go on lines of their own";
    if (reader->text->count >= INI_MOST_SECTIONS)
        return "more than 2000 sections";
    return NULL;
}

static void read_section(line_reader *reader, const char *line)
{
    const char *const end = find_letter(line + 1, "]");
    const char *const fault = section_fault(reader, line, end);
    reader->section = NULL;
    reader->passing_over = true;
    reader->off[0] = 0;
    if (fault)
        complain(reader, fault);
    else
        start_section(reader, line + 1, end);
}

/* ";[posts]": keys that follow it without a ; were meant for that section. */
static void note_switched_off(line_reader *reader, const char *comment)
{
    const char *const end = comment[1] == '[' ? strchr(comment, ']') : NULL;
    if (end)
        snprintf(reader->off, sizeof reader->off, "%.*s", (int)(end - comment - 2),
                 comment + 2);
}

/* True where inih shall see the line. */
static bool is_key_line(line_reader *reader, const char *line)
{
    if (is_comment(line))
        note_switched_off(reader, line);
    if (*line == 0 || is_comment(line))
        return false;
    if (*line == '[') {
        read_section(reader, line);
        return false;
    }
    if (!find_letter(line, "=:")) {
        complain(reader, "neither a section nor a key with its value, expected for example "
                         "height = 3 m");
        return false;
    }
    return true;
}

static bool is_utf8(const unsigned char *text)
{
    while (*text) {
        const unsigned lead = *text++;
        unsigned more = lead < 0x80 ? 0 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : 3;
        if (lead >= 0x80 && (lead < 0xC2 || lead > 0xF4))
            return false;
        /* Overlong forms, surrogates and what lies beyond the last code point. */
        if ((lead == 0xE0 && *text < 0xA0) || (lead == 0xED && *text > 0x9F) ||
            (lead == 0xF0 && *text < 0x90) || (lead == 0xF4 && *text > 0x8F))
            return false;
        for (; more > 0; more--, text++)
            if ((*text & 0xC0) != 0x80)
                return false;
    }
    return true;
}

static bool has_controls(const unsigned char *text)
{
    for (; *text; text++)
        if ((*text < 0x20 && *text != '\t') || *text == 0x7F ||
            (*text == 0xC2 && text[1] < 0xA0))
            return true;
    return false;
}

bool ini_text_is_clean(const char *text)
{
    return is_utf8((const unsigned char *)text) && !has_controls((const unsigned char *)text);
}

static bool is_clean(line_reader *reader, const char *line)
{
    if (!is_utf8((const unsigned char *)line)) {
        complain(reader, "the line is no UTF-8 text; save the file as UTF-8");
        return false;
    }
    if (has_controls((const unsigned char *)line)) {
        complain(reader, "the line holds a control character");
        return false;
    }
    return true;
}

/* Cuts the next line out, without its ending. Returns its length in the file. */
static size_t cut_line(line_reader *reader, char *line)
{
    const size_t found = strcspn(reader->at, "\n");
    size_t length = found;
    if (length > 0 && reader->at[length - 1] == '\r')
        length--;
    const size_t kept = length <= INI_LONGEST_LINE ? length : 0;
    memcpy(line, reader->at, kept);
    line[kept] = 0;
    reader->at += found;
    if (*reader->at)
        reader->at++;
    reader->line++;
    return length;
}

static void refuse_length(line_reader *reader, size_t length, bool opens_section)
{
    fe_messages_add(reader->messages, reader->text->file, reader->line,
                    "the line has %zu bytes, at most %d are read; repeat the key on another "
                    "line where it may repeat",
                    length, INI_LONGEST_LINE);
    if (opens_section) {
        reader->section = NULL;
        reader->passing_over = true;
    }
}

/* inih's reader: one line into `room`, without leading blanks; null at the end. */
static char *next_line(char *room, int size, void *stream)
{
    line_reader *const reader = stream;
    char line[INI_LONGEST_LINE + 1];
    if (*reader->at == 0 || size <= INI_LONGEST_LINE)
        return NULL;
    const bool opens_section = reader->at[strspn(reader->at, " \t")] == '[';
    const size_t length = cut_line(reader, line);
    const char *start = line;
    while (is_blank(*start))
        start++;
    room[0] = 0;
    if (length > INI_LONGEST_LINE)
        refuse_length(reader, length, opens_section);
    else if (is_clean(reader, start) && is_key_line(reader, start))
        memcpy(room, start, strlen(start) + 1);
    return room;
}

static int add_entry(void *user, const char *section, const char *key, const char *value)
{
    line_reader *const reader = user;
    (void)section; /* ours knows its line */
    if (!reader->section) {
        if (!reader->passing_over)
            complain(reader, "a key before the first section, expected for example [site]");
        return 1;
    }
    if (reader->off[0]) {
        fe_messages_add(
            reader->messages, reader->text->file, reader->line,
            "[%s] %s: stands under ;[%s], which is switched off: take the ; off that "
            "line too, or move the key to its own section",
            reader->section->title, key, reader->off);
        return 1;
    }
    ini_section *const into = reader->section;
    ini_entry *grown = plan_grow(into->entries, &into->count, sizeof *grown);
    if (!grown) {
        reader->no_memory = true;
        return 0;
    }
    into->entries = grown;
    ini_entry *const entry = &grown[into->count - 1];
    entry->line = reader->line;
    entry->key = copy_part(reader, key, key + strlen(key));
    entry->value = copy_part(reader, value, value + strlen(value));
    return entry->key && entry->value;
}

/* Number of the line on which a byte stands. */
static int line_of(const char *text, size_t at)
{
    int line = 1;
    for (size_t i = 0; i < at; i++)
        line += text[i] == '\n';
    return line;
}

static bool is_blank_text(const char *text)
{
    return text[strspn(text, " \t\r\n")] == 0;
}

static fe_status refuse(const char *path, const char *text, size_t length,
                        fe_messages *messages)
{
    const size_t seen = strlen(text);
    if (length > INI_LARGEST_FILE)
        fe_messages_add(messages, path, 0, "the file has %zu bytes, at most %d are read",
                        length, INI_LARGEST_FILE);
    else if (seen < length)
        fe_messages_add(messages, path, line_of(text, seen),
                        "the file holds a NUL byte, so it is no text");
    else if (is_blank_text(text))
        fe_messages_add(messages, path, 0, "the file is empty");
    else
        return FE_OK;
    return FE_E_INPUT;
}

static fe_status parse(const char *content, ini_text *text, fe_messages *messages)
{
    if (strncmp(content, BYTE_ORDER_MARK, 3) == 0)
        content += 3;
    line_reader reader = {.at = content, .text = text, .messages = messages};
    const int bad_line = ini_parse_stream(next_line, &reader, add_entry, &reader);
    if (reader.no_memory)
        return FE_E_MEMORY;
    if (bad_line > 0)
        fe_messages_add(messages, text->file, bad_line, "the line cannot be understood");
    return FE_OK;
}

fe_status ini_text_read(const char *path, ini_text *text, fe_messages *messages)
{
    char *content = NULL;
    size_t length = 0;
    fe_status status = fe_textfile_read(path, &content, &length);
    if (status == FE_E_IO)
        fe_messages_add(messages, path, 0, "cannot read the file: %s",
                        fe_textfile_reason(errno));
    if (status != FE_OK)
        return status;
    ini_text made = {.file = strdup(path)};
    status = made.file ? refuse(path, content, length, messages) : FE_E_MEMORY;
    if (status == FE_OK)
        status = parse(content, &made, messages);
    if (status == FE_OK)
        *text = made;
    else
        ini_text_free(&made);
    free(content);
    return status;
}

static void free_section(ini_section *section)
{
    for (size_t i = 0; i < section->count; i++) {
        free(section->entries[i].key);
        free(section->entries[i].value);
    }
    free(section->entries);
    free(section->title);
    free(section->word);
    free(section->name);
}

void ini_text_free(ini_text *text)
{
    for (size_t i = 0; i < text->count; i++)
        free_section(&text->sections[i]);
    free(text->sections);
    free(text->file);
    *text = (ini_text){0};
}

const ini_entry *ini_section_entry(const ini_section *section, const char *key)
{
    for (size_t i = section->count; i > 0; i--)
        if (strcmp(section->entries[i - 1].key, key) == 0)
            return &section->entries[i - 1];
    return NULL;
}
