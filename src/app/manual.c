/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/manual.h"

#include <string.h>

/* Text as roff takes it: no escape, no hyphen for a minus, no control line by chance. */
static void write_part(FILE *out, const char *text, size_t length)
{
    bool line_start = true;
    for (size_t i = 0; i < length; i++) {
        if (line_start && (text[i] == '.' || text[i] == '\''))
            fputs("\\&", out);
        if (text[i] == '\\')
            fputs("\\e", out);
        else if (text[i] == '-')
            fputs("\\-", out);
        else
            fputc(text[i], out);
        line_start = text[i] == '\n';
    }
}

static void write_text(FILE *out, const char *text)
{
    write_part(out, text, strlen(text));
}

/* Paragraphs divided by empty lines. */
static void write_paragraphs(FILE *out, const char *text)
{
    for (const char *next = text; *text; text = next) {
        write_part(out, text, command_paragraph(text, &next));
        fputs(*next ? "\n.PP\n" : "\n", out);
    }
}

/* Choices may part at their bars, nowhere else. */
static void write_metavar(FILE *out, const char *text)
{
    for (; *text; text++) {
        if (*text == ' ')
            fputs("\\ ", out);
        else
            write_part(out, text, 1);
        if (*text == '|')
            fputs("\\:", out);
    }
}

static void write_option(FILE *out, const char *name, const char *metavar, const char *help)
{
    fputs(".TP\n\\fB", out);
    write_text(out, name);
    fputs("\\fR", out);
    if (metavar && *metavar) {
        fputs(" \\fI", out);
        write_metavar(out, metavar);
        fputs("\\fR", out);
    }
    fputc('\n', out);
    write_text(out, help);
    fputc('\n', out);
}

static void write_example(FILE *out, const command *row)
{
    fputs(".PP\nExample:\n.PP\n.RS\n.nf\n", out);
    fprintf(out, "farend %s ", row->name);
    write_text(out, row->example);
    fputs("\n.fi\n.RE\n", out);
}

static void write_command(FILE *out, const command *row)
{
    fprintf(out, ".SS farend %s\n.nf\n", row->name);
    for (const char *at = row->usage; *at; at += strspn(at, "\n")) {
        const size_t length = strcspn(at, "\n");
        fprintf(out, "\\fBfarend %s\\fR ", row->name);
        write_part(out, at, length);
        fputc('\n', out);
        at += length;
    }
    fputs(".fi\n.PP\n", out);
    write_paragraphs(out, row->description);
    for (const option *at = row->options; at && at->name; at++) {
        char name[80];
        snprintf(name, sizeof name, "--%s", at->name);
        write_option(out, name, options_metavar(at), at->help);
    }
    write_option(out, "--help", NULL, COMMAND_HELP_SUMMARY);
    write_example(out, row);
}

static const char HEAD[] =
    ".SH NAME\n"
    "farend \\- data and power to an outbuilding: which ways work, in the worst season\n"
    ".SH SYNOPSIS\n"
    ".B farend\n"
    ".I COMMAND\n"
    "[\\fIARGUMENT\\fR]...\n"
    ".SH DESCRIPTION\n"
    "From a description of a building out of reach of the house, farend computes which ways\n"
    "of carrying data and power there work, by how much, in the worst season.\n"
    ".PP\n"
    "Quantities are written with their units: 150 m, 12 ft 6 in, 2437 MHz, \\-20 degC,\n"
    "6 Mb/s, AWG 12. The decimal sign is a point in every locale.\n";

static const char TAIL[] =
    ".SH EXIT STATUS\n"
    ".TP\n0\nDone; a way that fails is an answer.\n"
    ".TP\n1\nThe work failed: disk, memory, a figure that was asked for.\n"
    ".TP\n2\nBad input; every mistake is on standard error, a line each.\n"
    ".SH ENVIRONMENT\n"
    ".TP\n\\fBFAREND_PROFILES\\fR\n"
    "Folder with catalogues, searched after those beside the plan and of \\-\\-profiles and\n"
    "before those installed.\n";

void manual_print(const program_table *program, FILE *out)
{
    /* No hyphenation and no stretched spaces: what is typed must stand there as it is typed. */
    fprintf(out, ".TH FAREND 1 \"\" \"farend %s\" \"User Commands\"\n.nh\n.ad l\n%s",
            FAREND_VERSION, HEAD);
    fputs(".SH OPTIONS\n", out);
    for (size_t i = 0; i < program->option_count; i++)
        write_option(out, program->options[i].name, program->options[i].metavar,
                     program->options[i].summary);
    fputs(".SH COMMANDS\n", out);
    for (size_t i = 0; i < program->command_count; i++)
        write_command(out, program->commands[i]);
    fputs(TAIL, out);
}
