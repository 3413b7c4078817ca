/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_COMMAND_H
#define APP_COMMAND_H

#include "app/options.h"
#include "farend/strbuf.h"

/* What a process can end with. */
enum {
    EXIT_DONE = 0,        /* also where a way fails: that is an answer */
    EXIT_WORK_FAILED = 1, /* disk, memory, an asked figure */
    EXIT_BAD_INPUT = 2
};

/*
 * A command: a row of main's table. src/app/command_NAME.c exports `const command COMMAND_NAME`
 * (COMMAND_CALC, ...), declares it below, and main.c lists it. main has parsed the options and
 * reported every mistake before `run` is called; `run` prints and returns an exit code.
 */
typedef struct command {
    const char *name;
    const char *summary; /* one line, small letter first, no full stop */
    const char *usage;   /* after the name: "PLAN [OPTION]..."; a line each manner of calling */
    const char *description; /* paragraphs, an empty line between them; lines are filled */
    const option *options;   /* ends at a null name */
    const char *example;     /* the words after "farend NAME " of a run that works */
    unsigned operands_min;
    unsigned operands_max;    /* COMMAND_ANY: any number */
    const char *operand_name; /* for messages: "PLAN" */
    int (*run)(const options *given);
    bool asks; /* talks to who sits there: no line that says that work goes on */
    /* Where not null: prints a help of its own for --help; main's is printed by command_help.
     */
    int (*help)(const options *given);
    /*
     * For shell completion: the index-th candidate for the first operand (`first` null) or the
     * index-th key of `key=value` after it; null at the end. A null function: operands are
     * files.
     */
    const char *(*candidate)(const char *first, size_t index);
} command;

#define COMMAND_ANY 1000000u

extern const command COMMAND_CALC;
extern const command COMMAND_ACCEPT;
extern const command COMMAND_NEW;
extern const command COMMAND_RADIO;
extern const command COMMAND_REPORT;
extern const command COMMAND_POSTS;
extern const command COMMAND_TERRAIN;
extern const command COMMAND_RELAYS;
extern const command COMMAND_CLAIM;
extern const command COMMAND_COPPER;
extern const command COMMAND_POWER;

/* What may stand in the place of a command. */
typedef struct program_option {
    const char *name;    /* with its dashes */
    const char *metavar; /* null: a flag */
    const char *summary;
    int (*run)(int argc, char **argv); /* the words after the option */
} program_option;

/* Everything that the program understands, as main has it. */
typedef struct program_table {
    const command *const *commands;
    size_t command_count;
    const program_option *options;
    size_t option_count;
} program_table;

/* What --help does, which every command has. */
#define COMMAND_HELP_SUMMARY "print this help"

/* Prints the help that is made from the table; an exit code, as the next. */
int command_help(const command *row);
/* Length of the paragraph that a text begins with; *next is where the one after it begins. */
size_t command_paragraph(const char *text, const char **next);

/* Prints a text that was made, or says why there is none, and frees it. */
int command_printed(fe_strbuf *text);

/* A part of it: an option, its name with its dashes, metavar null or "" for a flag. */
void command_help_option(const char *name, const char *metavar, const char *text,
                         fe_strbuf *out);

/*
 * What an exit code becomes of a library status whose message was already printed: bad input
 * and a problem without solution are 2, everything else that failed 1.
 */
int command_exit_code(fe_status status);

/* How many threads long work may take: one a core. */
unsigned command_threads(void);

#endif
