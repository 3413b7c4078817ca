/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend new`: a commented plan out of a few answers. */
#include "app/command.h"

#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include "app/new_ask.h"
#include "app/output.h"

static const char WHO[] = "farend new";

/* clang-format off */
/* One row a question of the starter plan, by its name; a test holds them together. */
static const option OPTIONS[] = {
    {.name = "name", .kind = OPTION_TEXT, .metavar = "TEXT", .help = "what the plan is called"},
    {.name = "region", .kind = OPTION_TEXT, .metavar = "REGION", .help = "whose radio rules hold: US, EU, UK, CA or AU"},
    {.name = "building", .kind = OPTION_TEXT, .metavar = "NAME", .help = "what the building out there is called"},
    {.name = "distance", .kind = OPTION_TEXT, .metavar = "LENGTH", .help = "from the house to it, straight across"},
    {.name = "rise", .kind = OPTION_TEXT, .metavar = "LENGTH", .help = "how much higher than the house it stands"},
    {.name = "land", .kind = OPTION_TEXT, .metavar = "KIND", .help = "meadow, field, yard, water or woodland"},
    {.name = "trees", .kind = OPTION_TEXT, .metavar = "FROM..TO", .help = "where the line passes through trees, or none"},
    {.name = "tree-kind", .kind = OPTION_TEXT, .metavar = "KIND", .help = "deciduous, conifer or hedge"},
    {.name = "tree-height", .kind = OPTION_TEXT, .metavar = "LENGTH", .help = "how tall they are"},
    {.name = "house-height", .kind = OPTION_TEXT, .metavar = "LENGTH", .help = "how high something can hang on the house"},
    {.name = "far-height", .kind = OPTION_TEXT, .metavar = "LENGTH", .help = "and on the other building"},
    {.name = "data", .kind = OPTION_TEXT, .metavar = "RATE", .help = "how much data comes home, all the time"},
    {.name = "mains", .kind = OPTION_TEXT, .metavar = "yes|no", .help = "whether there is mains power out there"},
    {.name = "power", .kind = OPTION_TEXT, .metavar = "POWER", .help = "power wanted out there beside the radio, or none"},
    {.name = "hours", .kind = OPTION_TEXT, .metavar = "TIME", .help = "how long a day that runs"},
    {.name = "posts", .kind = OPTION_TEXT, .metavar = "LENGTH", .help = "length of the posts for a cable, or none"},
    {.name = "soil", .kind = OPTION_TEXT, .metavar = "KIND", .help = "clay, sand, stony, gravel or rock"},
    {.name = "snow", .kind = OPTION_TEXT, .metavar = "LENGTH", .help = "deepest snow"},
    {.name = "coldest", .kind = OPTION_TEXT, .metavar = "TEMPERATURE", .help = "coldest air"},
    {.name = "force", .help = "overwrite FILE"},
    {.name = "units", .kind = OPTION_TEXT, .choices = "metric|us", .help = "units of what is offered; any unit may be answered"},
    {0},
};
/* clang-format on */

/* The options' answers, checked in the order of the questions. */
static fe_status take_options(const options *given, new_answers *answers)
{
    fe_status worst = FE_OK;
    for (size_t i = 0; i < fe_starter_questions(); i++) {
        const char *name = fe_starter_question_at(i).name;
        const char *text = options_text(given, name);
        fe_strbuf why = FE_STRBUF_INIT;
        const fe_status status = text ? fe_starter_check(i, text, answers->texts, &why) : FE_OK;
        if (status < 0)
            options_complain(WHO, "--%s: %s", name,
                             why.length > 0 ? fe_strbuf_text(&why) : fe_status_text(status));
        else
            answers->texts[i] = text;
        worst = fe_status_worse(worst, status);
        fe_strbuf_free(&why);
    }
    return worst;
}

/* What nobody said and the plan holds all the same. */
static void print_assumed(const new_answers *answers, bool us)
{
    bool any = false;
    for (size_t i = 0; i < fe_starter_questions(); i++) {
        if (answers->texts[i] || !fe_starter_asks(i, answers->texts))
            continue;
        const fe_starter_question question = fe_starter_question_at(i);
        if (!any)
            printf("\nAssumed, as nobody said otherwise:\n");
        printf("  %-14s%s\n", question.name, question.fallback[us]);
        any = true;
    }
}

static int write_plan(const char *path, const new_answers *answers, bool us)
{
    fe_strbuf plan = FE_STRBUF_INIT;
    fe_status status = fe_starter_write(answers->texts, us, &plan);
    if (status == FE_OK)
        status = output_file(WHO, path, fe_strbuf_text(&plan), plan.length);
    fe_strbuf_free(&plan);
    return output_ended(WHO, status);
}

static int run(const options *given)
{
    const char *path = options_operand(given, 0);
    const bool us = output_units(given) == FE_UNITS_US;
    new_answers answers = {0};
    struct stat there;
    if (!options_given(given, "force") && lstat(path, &there) == 0) {
        options_complain(WHO, "%s is there already; --force overwrites it", path);
        return EXIT_BAD_INPUT;
    }
    const fe_status taken = take_options(given, &answers);
    if (taken < 0)
        return command_exit_code(taken);
    if (isatty(STDIN_FILENO)) {
        printf(
            "A few questions. Enter alone takes what stands in [ ]; `unknown` is an answer.\n");
        const fe_status asked = new_ask(stdin, stdout, us, &answers);
        if (asked == FE_E_INPUT)
            options_complain(WHO, "the answers ended too early; %s was not written", path);
        if (asked < 0)
            return output_ended(WHO, asked);
    }
    const int code = write_plan(path, &answers, us);
    if (code != EXIT_DONE)
        return code;
    printf("Wrote %s.\n", path);
    print_assumed(&answers, us);
    printf("\nNext: farend report %s\nThe file says what each line means; change it and run "
           "again.\n",
           path);
    return code;
}

const command COMMAND_NEW = {
    .name = "new",
    .summary = "a commented plan to start from, by a few questions",
    .usage = "FILE [OPTION]...",
    .description =
        "Asks a dozen or so short questions about the place and writes a plan that runs at "
        "once,\n"
        "with a remark on every line. Enter alone takes what is offered, `unknown` is an\n"
        "answer, and any unit will do. Options answer beforehand; where the input is no\n"
        "terminal nothing is asked, and what was assumed is listed.\n",
    .options = OPTIONS,
    .example = "shed.ini --force --building shed --distance 165m --trees 84..87m --power 60W",
    .operands_min = 1,
    .operands_max = 1,
    .operand_name = "FILE",
    .run = run,
    .asks = true,
};
