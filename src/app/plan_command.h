/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_PLAN_COMMAND_H
#define APP_PLAN_COMMAND_H

#include <stdbool.h>

#include "app/command.h"
#include "farend/amount.h"
#include "farend/document.h"
#include "farend/result.h"

/* What commands on a plan have in common: read it, work it out, print the answer. */
typedef struct planned {
    fe_plan plan;
    fe_result result;
    bool read;
    bool decided;
} planned;

/*
 * Reads the plan and computes every way of it. Every mistake goes to stderr; returns an exit
 * code. `got` is to be freed in any case.
 */
int planned_open(const char *who, const options *given, planned *got);
void planned_free(planned *got);

/* --units; metric where it is not given. */
fe_units planned_units(const options *given);

/* The document on stdout: in UTF-8 on a terminal that says so, in plain ASCII elsewhere. */
FE_MUST_CHECK fe_status planned_print(const fe_document *doc, fe_units units);

/* One line for a status that has no message of its own; returns its exit code. */
int planned_failed(const char *who, fe_status status);

#endif
