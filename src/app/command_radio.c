/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend radio`: budgets of every band and season, and what would help. */
#include "app/output.h"
#include "app/plan_command.h"
#include "farend/report.h"

static const char WHO[] = "farend radio";

static const option OPTIONS[] = {
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_PROFILES,
    {0},
};

static fe_status print_json(const fe_result *result, const fe_improvements *improvements)
{
    fe_strbuf out = FE_STRBUF_INIT;
    return output_made(fe_report_radio_json(result, improvements, &out), &out);
}

static fe_status print_text(const fe_result *result, const fe_improvements *improvements,
                            fe_units units)
{
    fe_document *doc = NULL;
    fe_status status = fe_report_radio_document(result, improvements, &doc);
    if (status >= 0)
        status = output_text(doc, units);
    fe_document_free(doc);
    return status;
}

static int answer(const options *given, const fe_result *result)
{
    fe_improvements found;
    const int chosen = fe_result_chosen_radio(result);
    fe_status status = FE_OK;
    if (chosen >= 0)
        status = fe_improve_radio(result, (size_t)chosen, &found);
    const fe_improvements *improvements = chosen >= 0 ? &found : NULL;
    if (status >= 0)
        status = options_given(given, "json")
                     ? print_json(result, improvements)
                     : print_text(result, improvements, output_units(given));
    return status < 0 ? output_failed(WHO, status) : EXIT_DONE;
}

static int run(const options *given)
{
    planned got;
    int code = planned_open(WHO, given, options_operand(given, 0), fe_decide_links, &got);
    if (code == EXIT_DONE)
        code = answer(given, &got.result);
    planned_free(&got);
    return code;
}

const command COMMAND_RADIO = {
    .name = "radio",
    .summary = "the radio budgets of a plan and what would help",
    .usage = "PLAN [OPTION]...",
    .description =
        "Prints the margin of every band in every season, the best link step by step, the\n"
        "tight place on its way, what limits it, and what one change at a time would bring:\n"
        "each change is made in a copy of the plan, and the link is worked out again.\n",
    .options = OPTIONS,
    .example = "examples/lambing-shed.ini",
    .operands_min = 1,
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
