/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole plan, with no catalogue but what it defines itself. */
#include "farend/plan.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fe_plan plan = {0};
    fe_messages messages = {0};
    const fe_status status =
        fe_plan_read(fuzz_file("plan.ini", data, size), NULL, &plan, &messages);
    FUZZ_CLAIM((status == FE_OK) == fe_messages_none(&messages));
    if (status == FE_OK)
        FUZZ_CLAIM(plan.end_count >= 2);
    fe_plan_free(&plan);
    fe_messages_free(&messages);
    return 0;
}
