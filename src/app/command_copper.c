/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend copper`: Ethernet over copper by its real length, and power over its pairs. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "app/command.h"
#include "app/output.h"
#include "app/plan_command.h"
#include "farend/conductor.h"
#include "farend/report_copper.h"

static const char WHO[] = "farend copper";

static const option OPTIONS[] = {
    {.name = "length",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1 cm..100 km",
     .help = "cable from port to port, cords included"},
    {.name = "category",
     .kind = OPTION_TEXT,
     .metavar = "5|5e|6|6A|8",
     .help = "of the cable, solid copper (6)"},
    {.name = "screened", .help = "the cable has a screen"},
    {.name = "rate",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_DATA_RATE,
     .bounds = "1 b/s..100 Gb/s",
     .help = "rate wanted (1 Gb/s)"},
    {.name = "cords",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "0..1 km",
     .help = "stranded cords in it, both ends together (4 m)"},
    {.name = "cord-gauge",
     .kind = OPTION_TEXT,
     .choices = "24|26",
     .help = "of the cords (24)"},
    {.name = "connectors",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_COUNT,
     .bounds = "0..100",
     .help = "plug and socket pairs on the way (2)"},
    {.name = "temperature",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .bounds = "-60..90 degC",
     .help = "of the cable in its hottest season (20 degC)"},
    {.name = "poe-class",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_COUNT,
     .bounds = "0..8",
     .metavar = "CLASS",
     .help = "class of the device to power, 0 to 8"},
    {.name = "size",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_AREA,
     .bounds = "0.02..500 mm2",
     .help = "one wire (AWG 24 to category 5e, else AWG 23)"},
    {.name = "flash-density",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FLASH_DENSITY,
     .bounds = "0..100 /km2/year",
     .help = "lightning to the ground, for the strike estimate"},
    {.name = "buried", .help = "the cable lies in the ground"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_FIGURES,
    OPTION_ROW_PROFILES,
    {0},
};

static bool read_category(const char *text, fe_category *category)
{
    char name[24];
    if (strstr(text, "cca") || strstr(text, "CCA") || strstr(text, "clad")) {
        options_complain(WHO,
                         "--category: copper-clad aluminium is refused: the standards allow "
                         "solid copper only; with a tenth of copper its wires resist %.2f "
                         "times as much, so less power arrives and the cable warms, and they "
                         "break when bent",
                         fe_conductor_clad_factor(0.1));
        return false;
    }
    snprintf(name, sizeof name, "Cat %s", strcmp(text, "6a") == 0 ? "6A" : text);
    if (fe_category_named(name, category) && *category >= FE_CATEGORY_5)
        return true;
    options_complain(WHO, "--category: '%.40s' is not one of 5|5e|6|6A|8", text);
    return false;
}

static bool is_sane(const fe_channel_case *cable)
{
    if (cable->cords_m < cable->length_m)
        return true;
    options_complain(WHO, "--cords: must be a part of the length");
    return false;
}

static double gauge_derating(const char *gauge)
{
    return gauge && strcmp(gauge, "26") == 0 ? 0.5 : 0.2;
}

/* What is given in place of what the cable has. */
static void take_options(const options *given, fe_channel_case *cable)
{
    cable->length_m = options_number(given, "length", cable->length_m);
    cable->cords_m =
        options_number(given, "cords", fmin(cable->cords_m, 0.5 * cable->length_m));
    cable->connectors =
        (unsigned)options_number(given, "connectors", (double)cable->connectors);
    cable->temp_c = options_number(given, "temperature", cable->temp_c);
    cable->screened = cable->screened || options_given(given, "screened");
    cable->rate_bit_s = options_number(given, "rate", cable->rate_bit_s);
    cable->wire_area_m2 = options_number(given, "size", cable->wire_area_m2);
    if (options_given(given, "cord-gauge"))
        cable->cord_derating = gauge_derating(options_text(given, "cord-gauge"));
    if (options_given(given, "poe-class"))
        cable->poe_class = (int)options_number(given, "poe-class", 0.0);
}

static bool read_case(const options *given, fe_channel_case *cable)
{
    const char *category = options_text(given, "category");
    bool good = true;
    if (!options_given(given, "length")) {
        options_complain(WHO, "give a plan or --length, for example: farend copper --length "
                              "80m");
        good = false;
    }
    *cable = (fe_channel_case){.length_m = 100.0,
                               .cords_m = 4.0,
                               .cord_derating = gauge_derating(NULL),
                               .connectors = 2,
                               .temp_c = 20.0,
                               .rate_bit_s = 1e9,
                               .poe_class = FE_CHANNEL_NO_POE};
    take_options(given, cable);
    good = is_sane(cable) && good;
    return read_category(category ? category : "6", &cable->category) && good;
}

/* ---- Output ---- */

/* Text or JSON, and figures: of one cable from options, or of all cables of a plan. */
typedef struct copper_call {
    fe_channel_case one;
    fe_channel_answer answer;
    planned plan;
    bool has_plan;
    bool outside; /* the range of a model */
} copper_call;

/* The copper cable of a plan whose power is drawn: the first that carries any. */
static const fe_channel_case *powered(const copper_call *call)
{
    if (!call->has_plan)
        return &call->one;
    for (size_t i = 0; i < call->plan.result.channel_count; i++)
        if (call->plan.result.channels[i].has_answer)
            return &call->plan.result.channels[i].given;
    return NULL;
}

static fe_status add_figures(const options *given, const copper_call *call, fe_document *doc)
{
    const fe_units units = output_units(given);
    const fe_channel_case *power = powered(call);
    fe_figure figure = FE_FIGURE_INIT;
    if (!options_given(given, "figures"))
        return FE_OK;
    const fe_status built =
        call->has_plan ? fe_report_cables_reach(&call->plan.result, units, &figure)
                       : fe_report_copper_reach(&call->one, &call->answer, units, &figure);
    fe_status status = output_draw(WHO, built, &figure, doc);
    if (status >= 0 && power)
        status = output_draw(WHO, fe_report_poe_figure(power, units, &figure), &figure, doc);
    return status;
}

static int print_json(const copper_call *call)
{
    fe_strbuf out = FE_STRBUF_INIT;
    const fe_status made = call->has_plan
                               ? fe_report_cables_json(&call->plan.result, &out)
                               : fe_report_copper_json(&call->one, &call->answer, &out);
    return output_report(WHO, made, &out);
}

static int print_all(const options *given, const copper_call *call)
{
    const fe_copper_place place = {
        .flash_density = options_given(given, "flash-density")
                             ? fe_value_exact(options_number(given, "flash-density", 0.0))
                             : (fe_value){.given = FE_GIVEN_NOT},
        .buried = options_given(given, "buried")};
    fe_document *doc = fe_document_new(call->has_plan ? "Data cables" : "Ethernet over copper");
    if (call->has_plan)
        fe_report_cables(doc, &call->plan.result);
    else
        fe_report_copper(doc, &call->one, &call->answer, &place);
    if (call->outside)
        fe_document_paragraph(doc,
                              "A temperature or a size lies outside the range that a model "
                              "is stated for; take the figures with care.");
    const fe_status status = add_figures(given, call, doc);
    int code = status < 0 ? output_failed(WHO, status) : output_document(WHO, given, doc);
    fe_document_free(doc);
    if (options_given(given, "json") && print_json(call) != EXIT_DONE)
        code = EXIT_WORK_FAILED;
    return code;
}

/* ---- A plan ---- */

static bool change(const options *given, fe_channel_case *cable)
{
    const char *category = options_text(given, "category");
    take_options(given, cable);
    return is_sane(cable) && (!category || read_category(category, &cable->category));
}

/* Options that change a cable: said where the plan has none to change. */
static bool complain_of_changes(const options *given)
{
    static const char *const CHANGES[] = {
        "length",     "category",   "screened",    "rate",      "cords",
        "cord-gauge", "connectors", "temperature", "poe-class", "size"};
    bool good = true;
    for (size_t i = 0; i < sizeof CHANGES / sizeof CHANGES[0]; i++)
        if (options_given(given, CHANGES[i])) {
            options_complain(WHO, "--%s: the plan has no cable of four pairs to change",
                             CHANGES[i]);
            good = false;
        }
    return good;
}

static fe_status change_all(const options *given, fe_result *result)
{
    fe_status status = FE_OK;
    bool touched = false;
    for (size_t i = 0; i < result->channel_count && status >= 0; i++) {
        fe_channel_result *channel = &result->channels[i];
        if (!channel->has_answer)
            continue;
        touched = true;
        if (!change(given, &channel->given))
            return FE_E_INPUT;
        channel->length_m = channel->given.length_m;
        channel->cords_m = channel->given.cords_m;
        channel->temp_c = channel->given.temp_c;
        status = fe_status_worse(status, fe_channel_result_solve(channel));
    }
    return touched || complain_of_changes(given) ? status : FE_E_INPUT;
}

static int open_plan(const options *given, copper_call *call)
{
    static const char *const PLAN_KEYS[] = {"flash-density", "buried"};
    if (!plan_says(WHO, given, PLAN_KEYS, sizeof PLAN_KEYS / sizeof PLAN_KEYS[0]))
        return EXIT_BAD_INPUT;
    const int code =
        planned_open(WHO, given, options_operand(given, 0), fe_decide_cables, &call->plan);
    if (code != EXIT_DONE)
        return code;
    const fe_status status = change_all(given, &call->plan.result);
    call->outside = status == FE_W_RANGE;
    return output_ended(WHO, status);
}

static int solve_one(const options *given, copper_call *call)
{
    if (!read_case(given, &call->one))
        return EXIT_BAD_INPUT;
    const fe_status status = fe_channel_solve(&call->one, &call->answer);
    call->outside = status == FE_W_RANGE;
    return output_ended(WHO, status);
}

static int run(const options *given)
{
    copper_call call = {.has_plan = options_operands(given) > 0};
    int code = call.has_plan ? open_plan(given, &call) : solve_one(given, &call);
    if (code == EXIT_DONE)
        code = print_all(given, &call);
    if (call.has_plan)
        planned_free(&call.plan);
    return code;
}

const command COMMAND_COPPER = {
    .name = "copper",
    .summary = "Ethernet over copper and fibre by its real length, power over its pairs",
    .usage = "[PLAN] [OPTION]...",
    .description =
        "Holds the length of a data cable against the limit of each rate, with its cords and\n"
        "its warmth, computes the power that reaches a device over the pairs, and says what\n"
        "lies beyond the limit and what a cable between two buildings needs. With a plan,\n"
        "every data cable of it, copper or fibre, by its own length; options then change\n"
        "the cables of four pairs.\n",
    .options = OPTIONS,
    .example = "--length 80m --category 6 --rate 1Gb/s --poe-class 3",
    .operands_min = 0,
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
