/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_MANUAL_H
#define APP_MANUAL_H

#include <stdbool.h>
#include <stdio.h>

#include "app/command.h"

/* The manual page, in the man macros of roff, from the tables that --help is printed from. */
void manual_print(const program_table *program, FILE *out);

/* The completion script for "bash", "zsh" or "fish"; false, and nothing, for another shell. */
bool completion_print(const program_table *program, const char *shell, FILE *out);

#endif
