/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/plan_command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "farend/strbuf.h"

enum { TEXT_WIDTH = 80 };

static void complain_all(const char *who, const fe_messages *messages)
{
    /* They begin with file and line; the command's name before would hide that. */
    (void)who;
    for (size_t i = 0; i < messages->count; i++)
        fprintf(stderr, "%s\n", messages->items[i].text);
    if (messages->dropped > 0)
        fprintf(stderr, "and %zu more\n", messages->dropped);
}

int planned_failed(const char *who, fe_status status)
{
    options_complain(who, "%s", fe_status_text(status));
    return command_exit_code(status);
}

int planned_open(const char *who, const options *given, planned *got)
{
    const fe_plan_places places = {
        .profiles_option = options_text(given, "profiles"),
        .environment = getenv("FAREND_PROFILES"),
    };
    fe_messages messages = {0};
    *got = (planned){0};
    const fe_status read =
        fe_plan_read(options_operand(given, 0), &places, &got->plan, &messages);
    const bool explained = !fe_messages_none(&messages);
    complain_all(who, &messages);
    fe_messages_free(&messages);
    if (read < 0) {
        /* A plan that is not there is bad input too. */
        if (read == FE_E_IO || read == FE_E_INPUT)
            return EXIT_BAD_INPUT;
        return explained ? command_exit_code(read) : planned_failed(who, read);
    }
    got->read = true;
    const fe_status decided = fe_decide(&got->plan, &got->result);
    if (decided < 0)
        return planned_failed(who, decided);
    got->decided = true;
    return EXIT_DONE;
}

void planned_free(planned *got)
{
    if (got->decided)
        fe_result_free(&got->result);
    if (got->read)
        fe_plan_free(&got->plan);
    *got = (planned){0};
}

fe_units planned_units(const options *given)
{
    const char *units = options_text(given, "units");
    return units && strcmp(units, "us") == 0 ? FE_UNITS_US : FE_UNITS_METRIC;
}

/* The first that is set rules, as for any program; nothing is set up process-wide. */
static bool speaks_utf8(void)
{
    static const char *const NAMES[] = {"LC_ALL", "LC_CTYPE", "LANG"};
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++) {
        const char *value = getenv(NAMES[i]);
        if (value && *value) {
            const char *charset = strchr(value, '.');
            return charset &&
                   (strcasecmp(charset, ".UTF-8") == 0 || strcasecmp(charset, ".utf8") == 0);
        }
    }
    return false;
}

fe_status planned_print(const fe_document *doc, fe_units units)
{
    const fe_text_options layout = {TEXT_WIDTH, units, isatty(STDOUT_FILENO) && speaks_utf8()};
    fe_strbuf out = FE_STRBUF_INIT;
    const fe_status status = fe_document_text(doc, &layout, &out);
    if (status >= 0)
        fputs(fe_strbuf_text(&out), stdout);
    fe_strbuf_free(&out);
    return status;
}
