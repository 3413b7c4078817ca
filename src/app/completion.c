/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Completion scripts. Names of commands, options, choices and formulas consist of letters,
 * digits and dashes; help texts are quoted for the shell they are printed for.
 */
#include "app/manual.h"

#include <string.h>

typedef enum value_sort {
    SORT_NONE,
    SORT_CHOICES,
    SORT_FILE,
    SORT_FOLDER,
    SORT_OTHER
} value_sort;

static value_sort sort_of(const option *row)
{
    if (row->kind == OPTION_FLAG)
        return SORT_NONE;
    if (row->kind != OPTION_TEXT)
        return SORT_OTHER;
    if (row->choices)
        return SORT_CHOICES;
    if (row->metavar && strncmp(row->metavar, "FILE", 4) == 0)
        return SORT_FILE;
    return row->metavar && strcmp(row->metavar, "DIR") == 0 ? SORT_FOLDER : SORT_OTHER;
}

/* "a|b c" as a shell's list: what parts the choices, and how a space within one is written. */
static void write_choices(FILE *out, const char *choices, char between, const char *space)
{
    for (; *choices; choices++) {
        if (*choices == ' ')
            fputs(space, out);
        else
            fputc(*choices == '|' ? between : *choices, out);
    }
}

static void write_commands(FILE *out, const program_table *program)
{
    for (size_t i = 0; i < program->command_count; i++)
        fprintf(out, "%s%s", i ? " " : "", program->commands[i]->name);
}

static void write_candidates(FILE *out, const command *row, const char *first, const char *end)
{
    const char *word = NULL;
    for (size_t i = 0; (word = row->candidate(first, i)); i++)
        fprintf(out, "%s%s%s", i ? " " : "", word, end);
}

/* ---- bash ---- */

static void bash_value(FILE *out, const option *row)
{
    fprintf(out, "        --%s) local IFS=$'\\n'; ", row->name);
    switch (sort_of(row)) {
    case SORT_CHOICES:
        fputs("COMPREPLY=($(compgen -W '", out);
        /* compgen takes one of the two strokes away. */
        write_choices(out, row->choices, '\n', "\\\\ ");
        fputs("' -- \"$word\"));", out);
        break;
    case SORT_FILE:
        fputs("COMPREPLY=($(compgen -f -- \"$word\")); compopt -o filenames;", out);
        break;
    case SORT_FOLDER:
        fputs("COMPREPLY=($(compgen -d -- \"$word\")); compopt -o filenames;", out);
        break;
    case SORT_NONE:
    case SORT_OTHER:
        break;
    }
    fputs(" return ;;\n", out);
}

static void bash_operands(FILE *out, const command *row)
{
    if (!row->candidate) {
        fputs("        local IFS=$'\\n'\n"
              "        COMPREPLY=($(compgen -f -- \"$word\"))\n"
              "        compopt -o filenames\n",
              out);
        return;
    }
    fputs("        if ((COMP_CWORD == 2)); then\n"
          "            COMPREPLY=($(compgen -W '",
          out);
    write_candidates(out, row, NULL, "");
    fputs("' -- \"$word\"))\n"
          "            return\n"
          "        fi\n"
          "        compopt -o nospace\n"
          "        case ${COMP_WORDS[2]} in\n",
          out);
    const char *first = NULL;
    for (size_t i = 0; (first = row->candidate(NULL, i)); i++) {
        fprintf(out, "        %s) COMPREPLY=($(compgen -W '", first);
        write_candidates(out, row, first, "=");
        fputs("' -- \"$word\")) ;;\n", out);
    }
    fputs("        esac\n", out);
}

static void bash_command(FILE *out, const command *row)
{
    fprintf(out, "    %s)\n        case $before in\n", row->name);
    for (const option *at = row->options; at && at->name; at++)
        if (at->kind != OPTION_FLAG)
            bash_value(out, at);
    fputs("        esac\n"
          "        ((after_sign)) && return\n"
          "        if [[ $word == -* ]]; then\n"
          "            COMPREPLY=($(compgen -W '--help",
          out);
    for (const option *at = row->options; at && at->name; at++)
        fprintf(out, " --%s", at->name);
    fputs("' -- \"$word\"))\n"
          "            return\n"
          "        fi\n",
          out);
    bash_operands(out, row);
    fputs("        ;;\n", out);
}

static void bash_print(const program_table *program, FILE *out)
{
    fputs("# bash completion for farend\n"
          "_farend() {\n"
          "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}\n"
          "    local after_sign=0 # of --name=value, whose sign is a word of its own\n"
          "    [[ $before == = ]] && { after_sign=1 before=${COMP_WORDS[COMP_CWORD-2]}; }\n"
          "    [[ $word == = ]] && after_sign=1 word=\n"
          "    COMPREPLY=()\n"
          "    if ((COMP_CWORD == 1)); then\n"
          "        COMPREPLY=($(compgen -W '",
          out);
    write_commands(out, program);
    for (size_t i = 0; i < program->option_count; i++)
        fprintf(out, " %s", program->options[i].name);
    fputs("' -- \"$word\"))\n"
          "        return\n"
          "    fi\n"
          "    case ${COMP_WORDS[1]} in\n",
          out);
    for (size_t i = 0; i < program->option_count; i++) {
        if (!program->options[i].metavar)
            continue;
        fprintf(out, "    %s) COMPREPLY=($(compgen -W '", program->options[i].name);
        write_choices(out, program->options[i].metavar, ' ', " ");
        fputs("' -- \"$word\")) ;;\n", out);
    }
    for (size_t i = 0; i < program->command_count; i++)
        bash_command(out, program->commands[i]);
    fputs("    esac\n}\ncomplete -F _farend farend\n", out);
}

/* ---- zsh ---- */

/* Text inside '...' and a _arguments or _describe specification. */
static void zsh_text(FILE *out, const char *text)
{
    for (; *text; text++) {
        if (*text == '\'')
            fputs("'\\'", out);
        else if (strchr("[]:\\", *text))
            fputc('\\', out);
        fputc(*text, out);
    }
}

static void zsh_option(FILE *out, const option *row)
{
    fprintf(out, "            '%s--%s%s[", row->repeats ? "*" : "", row->name,
            row->kind == OPTION_FLAG ? "" : "=");
    zsh_text(out, row->help);
    fputc(']', out);
    if (row->kind != OPTION_FLAG) {
        fputc(':', out);
        zsh_text(out, options_metavar(row));
        fputc(':', out);
    }
    switch (sort_of(row)) {
    case SORT_CHOICES:
        fputc('(', out);
        write_choices(out, row->choices, ' ', "\\ ");
        fputc(')', out);
        break;
    case SORT_FILE:
        fputs("_files", out);
        break;
    case SORT_FOLDER:
        fputs("_files -/", out);
        break;
    case SORT_NONE:
    case SORT_OTHER:
        break;
    }
    fputs("' \\\n", out);
}

static void zsh_keys(FILE *out, const command *row)
{
    const char *first = NULL;
    fputs("        local -a keys\n        case $words[2] in\n", out);
    for (size_t i = 0; (first = row->candidate(NULL, i)); i++) {
        fprintf(out, "        %s) keys=(", first);
        write_candidates(out, row, first, "=");
        fputs(") ;;\n", out);
    }
    fputs("        esac\n", out);
}

static void zsh_command(FILE *out, const command *row)
{
    fprintf(out, "    %s)\n", row->name);
    if (row->candidate)
        zsh_keys(out, row);
    fputs("        _arguments -S \\\n            '--help[" COMMAND_HELP_SUMMARY "]' \\\n", out);
    for (const option *at = row->options; at && at->name; at++)
        zsh_option(out, at);
    if (row->candidate) {
        fprintf(out, "            '1:%s:(", row->operand_name);
        write_candidates(out, row, NULL, "");
        fputs(")' \\\n            '*:argument:compadd -S \"\" -a keys'\n", out);
    } else {
        fputs("            '*:file:_files'\n", out);
    }
    fputs("        ;;\n", out);
}

static void zsh_first_word(FILE *out, const char *name, const char *summary)
{
    fprintf(out, "            '%s:", name);
    zsh_text(out, summary);
    fputs("'\n", out);
}

static void zsh_print(const program_table *program, FILE *out)
{
    fputs("#compdef farend\n"
          "_farend() {\n"
          "    if ((CURRENT == 2)); then\n"
          "        local -a first\n"
          "        first=(\n",
          out);
    for (size_t i = 0; i < program->command_count; i++)
        zsh_first_word(out, program->commands[i]->name, program->commands[i]->summary);
    for (size_t i = 0; i < program->option_count; i++)
        zsh_first_word(out, program->options[i].name, program->options[i].summary);
    fputs("        )\n"
          "        _describe command first\n"
          "        return\n"
          "    fi\n"
          "    shift words\n"
          "    ((CURRENT--))\n"
          "    case $words[1] in\n",
          out);
    for (size_t i = 0; i < program->option_count; i++) {
        if (!program->options[i].metavar)
            continue;
        fprintf(out, "    %s) compadd ", program->options[i].name);
        write_choices(out, program->options[i].metavar, ' ', " ");
        fputs(" ;;\n", out);
    }
    for (size_t i = 0; i < program->command_count; i++)
        zsh_command(out, program->commands[i]);
    fputs("    esac\n}\n_farend \"$@\"\n", out);
}

/* ---- fish ---- */

/* Of every command, in no table. */
static const option HELP = {.name = "help", .help = COMMAND_HELP_SUMMARY};

static void fish_text(FILE *out, const char *text)
{
    fputc('\'', out);
    for (; *text; text++) {
        if (*text == '\'' || *text == '\\')
            fputc('\\', out);
        fputc(*text, out);
    }
    fputc('\'', out);
}

static void fish_option(FILE *out, const command *row, const option *at)
{
    fprintf(out, "complete -c farend -n '__fish_seen_subcommand_from %s' -l %s", row->name,
            at->name);
    switch (sort_of(at)) {
    case SORT_NONE:
        break;
    case SORT_CHOICES:
        fputs(" -x -a '", out);
        write_choices(out, at->choices, ' ', "\\\\ ");
        fputc('\'', out);
        break;
    case SORT_FILE:
        fputs(" -r -F", out);
        break;
    case SORT_FOLDER:
        fputs(" -x -a '(__fish_complete_directories)'", out);
        break;
    case SORT_OTHER:
        fputs(" -x", out);
        break;
    }
    fputs(" -d ", out);
    fish_text(out, at->help);
    fputc('\n', out);
}

static void fish_operands(FILE *out, const command *row)
{
    const char *first = NULL;
    if (!row->candidate) {
        fprintf(out, "complete -c farend -n '__fish_seen_subcommand_from %s' -F\n", row->name);
        return;
    }
    fprintf(out,
            "complete -c farend -n '__fish_seen_subcommand_from %s; and test (count "
            "(commandline -opc)) -eq 2' -a '",
            row->name);
    write_candidates(out, row, NULL, "");
    fputs("'\n", out);
    for (size_t i = 0; (first = row->candidate(NULL, i)); i++) {
        fprintf(out,
                "complete -c farend -n '__fish_seen_subcommand_from %s; and contains -- %s "
                "(commandline -opc)' -a '",
                row->name, first);
        write_candidates(out, row, first, "=");
        fputs("'\n", out);
    }
}

static void fish_print(const program_table *program, FILE *out)
{
    fputs("# fish completion for farend\ncomplete -c farend -f\n", out);
    for (size_t i = 0; i < program->command_count; i++) {
        fprintf(out, "complete -c farend -n __fish_use_subcommand -a %s -d ",
                program->commands[i]->name);
        fish_text(out, program->commands[i]->summary);
        fputc('\n', out);
    }
    for (size_t i = 0; i < program->option_count; i++) {
        const program_option *at = &program->options[i];
        fprintf(out, "complete -c farend -n __fish_use_subcommand -l %s", at->name + 2);
        if (at->metavar) {
            fputs(" -x -a '", out);
            write_choices(out, at->metavar, ' ', " ");
            fputc('\'', out);
        }
        fputs(" -d ", out);
        fish_text(out, at->summary);
        fputc('\n', out);
    }
    for (size_t i = 0; i < program->command_count; i++) {
        const command *row = program->commands[i];
        for (const option *at = row->options; at && at->name; at++)
            fish_option(out, row, at);
        fish_option(out, row, &HELP);
        fish_operands(out, row);
    }
}

bool completion_print(const program_table *program, const char *shell, FILE *out)
{
    typedef struct shell_row {
        const char *name;
        void (*print)(const program_table *program, FILE *out);
    } shell_row;
    static const shell_row SHELLS[] = {
        {"bash", bash_print}, {"zsh", zsh_print}, {"fish", fish_print}};
    for (size_t i = 0; i < sizeof SHELLS / sizeof SHELLS[0]; i++) {
        if (strcmp(SHELLS[i].name, shell) == 0) {
            SHELLS[i].print(program, out);
            return true;
        }
    }
    return false;
}
