/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/plan_command.h"

#include <stdlib.h>

#include "app/output.h"

int plan_open(const char *who, const options *given, const char *file, fe_plan *plan)
{
    const fe_plan_places places = {
        .profiles_option = options_text(given, "profiles"),
        .environment = getenv("FAREND_PROFILES"),
    };
    fe_messages messages = {0};
    const fe_status status = file ? fe_plan_read(file, &places, plan, &messages)
                                  : fe_plan_catalogue(&places, plan, &messages);
    const bool explained = !fe_messages_none(&messages);
    output_messages(&messages);
    fe_messages_free(&messages);
    if (status >= 0)
        return EXIT_DONE;
    if (status == FE_E_IO || status == FE_E_INPUT)
        return EXIT_BAD_INPUT;
    return explained ? command_exit_code(status) : output_failed(who, status);
}

int planned_open(const char *who, const options *given, planned *got)
{
    return planned_open_file(who, given, options_operand(given, 0), got);
}

int planned_open_file(const char *who, const options *given, const char *file, planned *got)
{
    *got = (planned){0};
    const int code = plan_open(who, given, file, &got->plan);
    if (code != EXIT_DONE)
        return code;
    got->read = true;
    const fe_status decided = fe_decide(&got->plan, &got->result);
    if (decided < 0)
        return output_failed(who, decided);
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
