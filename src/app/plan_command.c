/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/plan_command.h"

#include <stdlib.h>

#include "app/output.h"

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
    output_messages(&messages);
    fe_messages_free(&messages);
    if (read < 0) {
        /* A plan that is not there is bad input too. */
        if (read == FE_E_IO || read == FE_E_INPUT)
            return EXIT_BAD_INPUT;
        return explained ? command_exit_code(read) : output_failed(who, read);
    }
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
