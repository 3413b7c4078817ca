/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The program: looks a command up in a table, has its options read, runs it, and makes sure
 * that what it printed arrived.
 */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "app/command.h"
#include "app/manual.h"
#include "app/progress.h"
#include "farend/gnuplot.h"
#include "farend/lines.h"
#include "farend/quantity.h"
#include "farend/status.h"
#include "farend/suggest.h"

static const command *const COMMANDS[] = {
    &COMMAND_CALC,  &COMMAND_NEW,    &COMMAND_REPORT,  &COMMAND_RADIO,
    &COMMAND_POSTS, &COMMAND_ACCEPT, &COMMAND_TERRAIN, &COMMAND_RELAYS,
    &COMMAND_CLAIM, &COMMAND_COPPER, &COMMAND_POWER,
};

static int help_program(int argc, char **argv);
static int print_version(int argc, char **argv);
static int print_manual(int argc, char **argv);
static int print_completion(int argc, char **argv);

static const program_option OPTIONS[] = {
    {"--help", NULL, COMMAND_HELP_SUMMARY, help_program},
    {"--version", NULL, "print the version", print_version},
    {"--man", NULL, "print the manual page", print_manual},
    {"--completion", "bash|zsh|fish", "print the completion of a shell", print_completion},
};

static const program_table PROGRAM = {
    .commands = COMMANDS,
    .command_count = sizeof COMMANDS / sizeof COMMANDS[0],
    .options = OPTIONS,
    .option_count = sizeof OPTIONS / sizeof OPTIONS[0],
};

enum { COMMAND_COUNT = sizeof COMMANDS / sizeof COMMANDS[0], WHO_ROOM = 64 };

/* ---- Help ---- */

static int help_program(int argc, char **argv)
{
    (void)argc;
    (void)argv;
    enum { SUMMARY_COLUMN = 14 };
    fe_strbuf out = FE_STRBUF_INIT;
    fe_strbuf_append(
        &out, "usage: farend COMMAND [ARGUMENT]...\n\n"
              "Which ways of carrying data and power to an outbuilding work, by how much, "
              "in\nthe worst season.\n\ncommands:\n");
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        fe_strbuf_format(&out, "  %-*s", SUMMARY_COLUMN - 2, COMMANDS[i]->name);
        fe_lines_hang(&out, COMMANDS[i]->summary, FE_LINES_WIDTH, SUMMARY_COLUMN);
    }
    fe_strbuf_append(&out, "\noptions:\n");
    for (size_t i = 0; i < PROGRAM.option_count; i++)
        command_help_option(OPTIONS[i].name, OPTIONS[i].metavar, OPTIONS[i].summary, &out);
    fe_strbuf_format(&out,
                     "\n`farend COMMAND --help` explains a command.\n"
                     "Exit codes: 0 done, 1 the work failed, 2 bad input.\n\nexample:\n"
                     "  farend %s %s\n",
                     COMMANDS[0]->name, COMMANDS[0]->example);
    return command_printed(&out);
}

static int print_manual(int argc, char **argv)
{
    (void)argc;
    (void)argv;
    manual_print(&PROGRAM, stdout);
    return EXIT_DONE;
}

static int print_completion(int argc, char **argv)
{
    if (argc == 1 && completion_print(&PROGRAM, argv[0], stdout))
        return EXIT_DONE;
    fprintf(stderr, "farend: --completion: name a shell: bash, zsh or fish\n");
    return EXIT_BAD_INPUT;
}

static int print_version(int argc, char **argv)
{
    (void)argc;
    (void)argv;
    printf("farend %s\n", FAREND_VERSION);
    return EXIT_DONE;
}

/* ---- Commands ---- */

static const command *find_command(const char *name)
{
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        if (strcmp(COMMANDS[i]->name, name) == 0)
            return COMMANDS[i];
    return NULL;
}

static int report_unknown(const char *name)
{
    fe_suggest search = fe_suggest_start(name);
    const bool is_option = name[0] == '-';
    for (size_t i = 0; is_option && i < sizeof OPTIONS / sizeof OPTIONS[0]; i++)
        fe_suggest_offer(&search, OPTIONS[i].name);
    for (size_t i = 0; !is_option && i < COMMAND_COUNT; i++)
        fe_suggest_offer(&search, COMMANDS[i]->name);
    const char *sort = is_option ? "option" : "command";
    if (search.best)
        options_complain("farend", "%s: no such %s; did you mean %s?", name, sort, search.best);
    else
        options_complain("farend", "%s: no such %s; `farend --help` shows them all", name,
                         sort);
    return EXIT_BAD_INPUT;
}

/* How many operands are wanting or too many, in words; returns the count of mistakes. */
static int check_operands(const char *who, const command *row, const options *given)
{
    const size_t count = options_operands(given);
    int mistakes = 0;
    if (count < row->operands_min) {
        options_complain(who, "%s is missing: farend %s %s", row->operand_name, row->name,
                         row->usage);
        mistakes++;
    }
    for (size_t i = row->operands_max; i < count; i++) {
        options_complain(who,
                         "%s: one word too many; what has a space in it goes in quotes, "
                         "or without it: 5GHz",
                         options_operand(given, i));
        mistakes++;
    }
    return mistakes;
}

static int work(const char *who, const command *row, const options *given)
{
    if (!row->asks)
        progress_start(who);
    const int code = row->run(given);
    progress_end();
    return code;
}

static int run_command(const command *row, int argc, char **argv)
{
    char who[WHO_ROOM];
    options *given = NULL;
    snprintf(who, sizeof who, "farend %s", row->name);
    int mistakes = options_parse(who, row->options, argc, argv, &given);
    if (mistakes < 0) {
        fprintf(stderr, "%s: %s\n", who, fe_status_text(FE_E_MEMORY));
        return EXIT_WORK_FAILED;
    }
    int code = EXIT_DONE;
    if (options_help(given) && row->help)
        code = row->help(given);
    else if (options_help(given))
        code = command_help(row);
    else if (mistakes + check_operands(who, row, given) > 0)
        code = EXIT_BAD_INPUT;
    else
        code = work(who, row, given);
    options_free(given);
    return code;
}

static int dispatch(int argc, char **argv)
{
    if (argc < 2) {
        fprintf(stderr, "farend: name a command; `farend --help` shows them all\n");
        return EXIT_BAD_INPUT;
    }
    const char *word = strcmp(argv[1], "-h") == 0 ? "--help" : argv[1];
    for (size_t i = 0; i < sizeof OPTIONS / sizeof OPTIONS[0]; i++)
        if (strcmp(word, OPTIONS[i].name) == 0)
            return OPTIONS[i].run(argc - 2, argv + 2);
    const command *row = find_command(word);
    return row ? run_command(row, argc - 2, argv + 2) : report_unknown(word);
}

/* ---- The process ---- */

/*
 * A file opened while a standard stream is closed would get its number and receive what is
 * meant for the terminal; a descriptor that cannot be used keeps the place, so that writing
 * fails.
 */
static void hold_standard_streams(void)
{
    for (int fd = 0; fd <= 2; fd++)
        if (fcntl(fd, F_GETFD) == -1 && errno == EBADF)
            (void)!open("/dev/null", fd == 0 ? O_WRONLY : O_RDONLY);
}

static void stop(int signal_number)
{
    static const char SAID[] = "farend: stopped by a signal\n";
    (void)signal_number;
    fe_gnuplot_kill();
    (void)!write(STDERR_FILENO, SAID, sizeof SAID - 1);
    _exit(EXIT_WORK_FAILED);
}

/*
 * Writing to a reader that is gone, or beyond a limit, comes back as an error to be told like
 * any other. What stops the program says so; a signal that its starter ignores stays ignored.
 */
static void set_signals(void)
{
    static const int STOPPING[] = {SIGHUP, SIGINT, SIGTERM};
    struct sigaction before;
    const struct sigaction ignoring = {.sa_handler = SIG_IGN};
    const struct sigaction stopping = {.sa_handler = stop};
    sigaction(SIGPIPE, &ignoring, NULL);
    sigaction(SIGXFSZ, &ignoring, NULL);
    for (size_t i = 0; i < sizeof STOPPING / sizeof STOPPING[0]; i++)
        if (sigaction(STOPPING[i], NULL, &before) == 0 && before.sa_handler != SIG_IGN)
            sigaction(STOPPING[i], &stopping, NULL);
}

static int check_output(int code)
{
    errno = 0;
    const bool failed = ferror(stdout) != 0;
    if (fflush(stdout) == 0 && !failed)
        return code;
    fprintf(stderr, "farend: cannot write the output: %s\n",
            errno ? strerror(errno) : "an earlier write failed");
    return code == EXIT_DONE ? EXIT_WORK_FAILED : code;
}

int main(int argc, char **argv)
{
    hold_standard_streams();
    set_signals();
    fe_init();
    const int code = check_output(dispatch(argc, argv));
    fe_quantity_shutdown();
    return code;
}
