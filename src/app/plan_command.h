/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_PLAN_COMMAND_H
#define APP_PLAN_COMMAND_H

#include <stdbool.h>

#include "app/command.h"
#include "farend/result.h"
#include "farend/season.h"

/* What commands on a plan have in common: read it and work it out. */
typedef struct planned {
    fe_plan plan;
    fe_result result;
    bool read;
    bool decided;
} planned;

/*
 * Reads a plan file, or the catalogues alone where file is null. Every mistake goes to stderr.
 * Returns an exit code; a plan that is not there is bad input too. *plan is untouched unless
 * EXIT_DONE.
 */
int plan_open(const char *who, const options *given, const char *file, fe_plan *plan);

/* The climate where nothing is said of it: warm summers and cold winters, from the catalogue. */
fe_climate plan_usual_climate(const fe_plan *plan);

/*
 * The path that --path names; where it is not given *path stays. False, and said, where the
 * plan has no such path.
 */
bool plan_path_given(const char *who, const options *given, const fe_plan *plan, size_t *path);

/* False, and said, where an option was given that only stands in for a plan. */
bool plan_says(const char *who, const options *given, const char *const *keys, size_t count);

/* False, and said, where --path is given and no plan. */
bool plan_path_has_plan(const char *who, const options *given);

/* fe_decide, or what computes only what is asked. */
typedef fe_status planned_decide(const fe_plan *plan, fe_result *result);

/*
 * Reads the plan and works it out. Every mistake goes to stderr; returns an exit code. `got` is
 * to be freed in any case.
 */
int planned_open(const char *who, const options *given, const char *file,
                 planned_decide *decide, planned *got);
void planned_free(planned *got);

#endif
