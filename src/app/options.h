/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_OPTIONS_H
#define APP_OPTIONS_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#include "farend/quantity.h"

/*
 * The options of a command, as a table from which the parser, --help, the man page and the
 * shell completions are all made. GNU conventions: `--name=value` or `--name value`, a name may
 * be shortened while it stays unique, `--` ends the options, operands may stand between them.
 * Every mistake of a call is reported in one go on stderr. --help belongs to every command and
 * is in no table.
 */
typedef enum option_kind {
    OPTION_FLAG,
    OPTION_TEXT,
    OPTION_QUANTITY, /* one quantity of `dimension` */
    OPTION_VALUE     /* a quantity, a range LOW..HIGH or `unknown` */
} option_kind;

typedef struct option {
    const char *name;    /* without the dashes; a table ends at a null name */
    const char *metavar; /* how --help calls the value: "FILE"; null: from the dimension */
    const char *help;    /* one line, small letter first, no full stop */
    option_kind kind;
    fe_dimension dimension;
    const char *choices; /* OPTION_TEXT: "metric|us"; null: any text */
    const char *bounds;  /* of a quantity: "1 m..50 km"; beyond them it is a mistake, and so is
                            `unknown` */
    bool repeats;        /* may be given more than once; otherwise that is a mistake */
} option;

/* Options that many commands share, to be put into their tables. */
#define OPTION_ROW_JSON                                                                        \
    {                                                                                          \
        .name = "json", .help = "print JSON, in SI units, alone on stdout"                     \
    }
#define OPTION_ROW_FIGURES                                                                     \
    {                                                                                          \
        .name = "figures", .kind = OPTION_TEXT, .metavar = "DIR",                              \
        .help = "write the figures there as SVG"                                               \
    }
#define OPTION_ROW_SHEET                                                                       \
    {                                                                                          \
        .name = "sheet", .kind = OPTION_TEXT, .metavar = "FILE",                               \
        .help = "write one side of A4 to take outdoors, as a page"                             \
    }
#define OPTION_ROW_UNITS                                                                       \
    {                                                                                          \
        .name = "units", .kind = OPTION_TEXT, .choices = "metric|us",                          \
        .help = "units of the text (JSON stays SI)"                                            \
    }
#define OPTION_ROW_PROFILES                                                                    \
    {                                                                                          \
        .name = "profiles", .kind = OPTION_TEXT, .metavar = "DIR",                             \
        .help = "folder with catalogues of your own"                                           \
    }

typedef struct options options;

/*
 * Reads argv[0..argc-1] (the words after the command's name). `who` stands before each message
 * ("farend claim"). Returns how many mistakes were reported, or -1 for no memory; *read is set
 * in any case but that one, and is the caller's to free with options_free.
 */
int options_parse(const char *who, const option *table, int argc, char **argv, options **read);
void options_free(options *given);

/* True where --help was among the words. */
bool options_help(const options *given);

/* How often an option was given. A name that is not in the table is our mistake (assertion). */
size_t options_count(const options *given, const char *name);
bool options_given(const options *given, const char *name);

/* The text as typed: of the last time, null where not given; or of one time. */
const char *options_text(const options *given, const char *name);
const char *options_text_at(const options *given, const char *name, size_t index);

/* The quantity in SI: of the last time, `fallback` where not given; or of one time. */
double options_number(const options *given, const char *name, double fallback);
double options_number_at(const options *given, const char *name, size_t index);

/* An OPTION_VALUE (or a quantity as exact value); .given is FE_GIVEN_NOT where not given. */
fe_value options_value(const options *given, const char *name);

/* Words that are no options, in order. */
size_t options_operands(const options *given);
const char *options_operand(const options *given, size_t index);

/* What --help calls the value of an option: "FILE", "LENGTH", "metric|us"; "" for a flag. */
const char *options_metavar(const option *row);

/*
 * Writes "a length with its unit, for example PREFIX165m" for a text that is no quantity of the
 * dimension; a bare number gets its own figure back with a unit. Returns buffer.
 */
char *options_expected(const char *text, fe_dimension dimension, const char *prefix,
                       char *buffer, size_t size);

/*
 * One line on stderr: "WHO: MESSAGE". Control characters of what was typed or read become '?',
 * so that no text can move a terminal's cursor. Every command writes its mistakes with this.
 */
void options_complain(const char *who, const char *format, ...) FE_PRINTF(2, 3);
void options_complain_list(const char *who, const char *format, va_list rest) FE_PRINTF(2, 0);

/* True where a text is a quantity of the option's dimension and within its bounds. */
bool options_holds(const option *row, const char *text, double *si);

/* True where the word is one of "a|b|c". */
bool options_is_choice(const char *choices, const char *word);

/* The nearest of "a|b|c" to a word, written into buffer; null where none is near. */
const char *options_nearest_choice(const char *choices, const char *word, char *buffer,
                                   size_t size);

#endif
