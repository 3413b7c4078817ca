/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/plan_command.h"

#include <stdlib.h>
#include <string.h>

#include "app/output.h"
#include "farend/suggest.h"

int plan_open(const char *who, const options *given, const char *file, fe_plan *plan)
{
    const fe_plan_places places = {
        .profiles_option = options_text(given, "profiles"),
        .environment = getenv("FAREND_PROFILES"),
    };
    fe_messages messages = {0};
    const fe_status status = file ? fe_plan_read(file, &places, plan, &messages)
                                  : fe_plan_catalogue(&places, plan, &messages);
    /* What memory did not suffice for may look like a mistake. */
    const bool explained = status != FE_E_MEMORY && !fe_messages_none(&messages);
    if (explained)
        output_messages(&messages);
    fe_messages_free(&messages);
    if (status >= 0)
        return EXIT_DONE;
    if (status == FE_E_IO || status == FE_E_INPUT)
        return EXIT_BAD_INPUT;
    return explained ? command_exit_code(status) : output_failed(who, status);
}

fe_climate plan_usual_climate(const fe_plan *plan)
{
    static const char USUAL[] = "temperate-continental";
    for (size_t i = 0; i < plan->climate_count; i++) {
        const fe_plan_climate *row = &plan->climates[i];
        if (strcmp(row->name, USUAL) == 0)
            return (fe_climate){row->snow_m.typical,
                                row->coldest_c.typical,
                                row->hottest_c.typical,
                                row->ice_m.typical,
                                row->wind_m_s.typical,
                                row->rain_mm_h.typical,
                                0.0};
    }
    return (fe_climate){0.6, -22.0, 37.0, 0.008, 28.0, 36.0, 0.0};
}

bool plan_path_given(const char *who, const options *given, const fe_plan *plan, size_t *path)
{
    const char *name = options_text(given, "path");
    if (!name)
        return true;
    fe_suggest search = fe_suggest_start(name);
    for (size_t i = 0; i < plan->path_count; i++) {
        if (strcmp(plan->paths[i].name, name) == 0) {
            *path = i;
            return true;
        }
        fe_suggest_offer(&search, plan->paths[i].name);
    }
    options_complain(who, "--path: %s: the plan has no such path; did you mean %s?", name,
                     search.best ? search.best : plan->paths[0].name);
    return false;
}

bool plan_says(const char *who, const options *given, const char *const *keys, size_t count)
{
    bool good = true;
    for (size_t i = 0; i < count; i++)
        if (options_given(given, keys[i])) {
            options_complain(who, "--%s: the plan says that", keys[i]);
            good = false;
        }
    return good;
}

bool plan_path_has_plan(const char *who, const options *given)
{
    if (options_operands(given) > 0 || !options_given(given, "path"))
        return true;
    options_complain(who, "--path: only a plan has paths with names");
    return false;
}

int planned_open(const char *who, const options *given, const char *file,
                 planned_decide *decide, planned *got)
{
    *got = (planned){0};
    const int code = plan_open(who, given, file, &got->plan);
    if (code != EXIT_DONE)
        return code;
    got->read = true;
    const fe_status decided = decide(&got->plan, &got->result);
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
