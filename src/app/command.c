/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/command.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "farend/lines.h"

int command_exit_code(fe_status status)
{
    switch (status) {
    case FE_OK:
    case FE_W_RANGE:
        return EXIT_DONE;
    case FE_E_DOMAIN:
    case FE_E_INPUT:
    case FE_E_NO_SOLUTION:
        return EXIT_BAD_INPUT;
    case FE_E_CONVERGE:
    case FE_E_MEMORY:
    case FE_E_IO:
    case FE_E_EXTERNAL:
        break;
    }
    return EXIT_WORK_FAILED;
}

unsigned command_threads(void)
{
    const long cores = sysconf(_SC_NPROCESSORS_ONLN);
    return cores > 0 ? (unsigned)cores : 1;
}

static void put_usage(const command *row, fe_strbuf *out)
{
    const char *lead = "usage: ";
    for (const char *at = row->usage; *at; at += strspn(at, "\n")) {
        const int length = (int)strcspn(at, "\n");
        fe_strbuf_format(out, "%sfarend %s %.*s\n", lead, row->name, length, at);
        lead = "       ";
        at += length;
    }
}

void command_help_option(const char *name, const char *metavar, const char *text,
                         fe_strbuf *out)
{
    enum { NAME_COLUMN = 2, TEXT_COLUMN = 28 };
    const char *value = metavar ? metavar : "";
    fe_strbuf left = FE_STRBUF_INIT;
    fe_strbuf_append(&left, name);
    /* In one piece: a long list of choices is parted at its bars alone. */
    if (*value)
        fe_strbuf_append_char(&left, FE_LINES_TIE);
    for (; *value; value++)
        fe_strbuf_append_char(&left, *value == ' ' ? FE_LINES_TIE : *value);
    fe_strbuf_repeat(out, ' ', NAME_COLUMN);
    if (NAME_COLUMN + left.length + 2 > TEXT_COLUMN) {
        const size_t hang = NAME_COLUMN + strlen(name) + 1;
        fe_lines_hang(out, fe_strbuf_text(&left), FE_LINES_WIDTH, hang);
        fe_strbuf_repeat(out, ' ', TEXT_COLUMN);
    } else {
        fe_lines_append(out, fe_strbuf_text(&left), left.length);
        fe_strbuf_repeat(out, ' ', TEXT_COLUMN - NAME_COLUMN - left.length);
    }
    fe_strbuf_clear(&left);
    fe_lines_tie(text, &left);
    fe_lines_hang(out, fe_strbuf_text(&left), FE_LINES_WIDTH, TEXT_COLUMN);
    out->failed = out->failed || left.failed;
    fe_strbuf_free(&left);
}

size_t command_paragraph(const char *text, const char **next)
{
    const char *end = strstr(text, "\n\n");
    const size_t length = end ? (size_t)(end - text) : strlen(text);
    *next = text + length + strspn(text + length, "\n");
    return length;
}

/* Paragraphs with an empty line between, and one after them. */
static void put_paragraphs(const char *text, fe_strbuf *out)
{
    fe_strbuf paragraph = FE_STRBUF_INIT;
    for (const char *next = text; *text; text = next) {
        const size_t length = command_paragraph(text, &next);
        fe_strbuf_clear(&paragraph);
        fe_strbuf_append_bytes(&paragraph, text, length);
        fe_lines_hang(out, fe_strbuf_text(&paragraph), FE_LINES_WIDTH, 0);
        fe_strbuf_append_char(out, '\n');
    }
    out->failed = out->failed || paragraph.failed;
    fe_strbuf_free(&paragraph);
}

int command_help(const command *row)
{
    fe_strbuf out = FE_STRBUF_INIT;
    put_usage(row, &out);
    fe_strbuf_append_char(&out, '\n');
    put_paragraphs(row->description, &out);
    fe_strbuf_append(&out, "options:\n");
    for (const option *at = row->options; at && at->name; at++) {
        char name[64];
        snprintf(name, sizeof name, "--%s", at->name);
        command_help_option(name, options_metavar(at), at->help, &out);
    }
    command_help_option("--help", NULL, COMMAND_HELP_SUMMARY, &out);
    /* In one line however long, to be copied. */
    fe_strbuf_format(&out, "\nexample:\n  farend %s %s\n", row->name, row->example);
    return command_printed(&out);
}

int command_printed(fe_strbuf *text)
{
    const fe_status status = fe_strbuf_status(text);
    if (status == FE_OK)
        fputs(fe_strbuf_text(text), stdout);
    else
        options_complain("farend", "%s", fe_status_text(status));
    fe_strbuf_free(text);
    return command_exit_code(status);
}
