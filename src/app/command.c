/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/command.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

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

void command_help_option(const char *name, const char *metavar, const char *text)
{
    enum { TEXT_COLUMN = 24 };
    const bool has_value = metavar && *metavar;
    char left[80];
    snprintf(left, sizeof left, "%s%s%s", name, has_value ? " " : "", has_value ? metavar : "");
    if (strlen(left) > TEXT_COLUMN)
        printf("  %s\n  %-*s  %s\n", left, TEXT_COLUMN, "", text);
    else
        printf("  %-*s  %s\n", TEXT_COLUMN, left, text);
}

void command_help(const command *row)
{
    printf("usage: farend %s %s\n\n%s\noptions:\n", row->name, row->usage, row->description);
    for (const option *at = row->options; at && at->name; at++) {
        char name[64];
        snprintf(name, sizeof name, "--%s", at->name);
        command_help_option(name, options_metavar(at), at->help);
    }
    command_help_option("--help", NULL, "print this help");
    printf("\nexample:\n  farend %s %s\n", row->name, row->example);
}
