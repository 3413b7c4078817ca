/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend copper`: Ethernet over copper by its real length, and power over its pairs. */
#include "app/command.h"
#include "app/output.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/report_copper.h"
#include "farend/result.h"

static const char WHO[] = "farend copper";

static const option OPTIONS[] = {
    {.name = "length",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .help = "cable from port to port, cords included"},
    {.name = "category",
     .kind = OPTION_TEXT,
     .metavar = "5|5e|6|6A|8",
     .help = "of the cable, solid copper (6)"},
    {.name = "screened", .help = "the cable has a screen"},
    {.name = "rate",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_DATA_RATE,
     .help = "rate wanted (1 Gb/s)"},
    {.name = "cords",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .help = "stranded cords in it, both ends together (4 m)"},
    {.name = "cord-gauge",
     .kind = OPTION_TEXT,
     .choices = "24|26",
     .help = "of the cords (24)"},
    {.name = "connectors",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_COUNT,
     .help = "plug and socket pairs on the way (2)"},
    {.name = "temperature",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .help = "of the cable in its hottest season (20 degC)"},
    {.name = "poe-class",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_COUNT,
     .metavar = "CLASS",
     .help = "class of the device to power, 0 to 8"},
    {.name = "size",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_AREA,
     .help = "one wire (AWG 24 to category 5e, else AWG 23)"},
    {.name = "flash-density",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FLASH_DENSITY,
     .help = "lightning to the ground, for the strike estimate"},
    {.name = "buried", .help = "the cable lies in the ground"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    {0},
};

static bool read_category(const char *text, fe_category *category)
{
    char name[24];
    if (strstr(text, "cca") || strstr(text, "CCA") || strstr(text, "clad")) {
        options_complain(WHO,
                         "--category: copper-clad aluminium is refused: the standards allow "
                         "solid copper only; its wires resist about 1.6 times as much, so "
                         "less power arrives and the cable warms, and they break when bent");
        return false;
    }
    snprintf(name, sizeof name, "Cat %s", strcmp(text, "6a") == 0 ? "6A" : text);
    if (fe_category_named(name, category) && *category >= FE_CATEGORY_5)
        return true;
    options_complain(WHO, "--category: '%.40s' is not one of 5|5e|6|6A|8", text);
    return false;
}

static bool read_case(const options *given, fe_channel_case *plan)
{
    const char *category = options_text(given, "category");
    const char *gauge = options_text(given, "cord-gauge");
    bool good = true;
    if (!options_given(given, "length")) {
        options_complain(WHO, "give --length, for example: farend copper --length 80m");
        good = false;
    }
    plan->length_m = options_number(given, "length", 100.0);
    plan->cords_m = options_number(given, "cords", fmin(4.0, 0.5 * plan->length_m));
    plan->cord_derating = gauge && strcmp(gauge, "26") == 0 ? 0.5 : 0.2;
    plan->connectors = (unsigned)fmin(options_number(given, "connectors", 2.0), 100.0);
    plan->temp_c = options_number(given, "temperature", 20.0);
    plan->screened = options_given(given, "screened");
    plan->rate_bit_s = options_number(given, "rate", 1e9);
    plan->wire_area_m2 = options_number(given, "size", 0.0);
    plan->poe_class = options_given(given, "poe-class")
                          ? (int)fmin(options_number(given, "poe-class", 0.0), 1000.0)
                          : FE_CHANNEL_NO_POE;
    if (!(plan->length_m > 0.0) || !(plan->cords_m >= 0.0) ||
        !(plan->cords_m < plan->length_m)) {
        options_complain(WHO, "--length must be above 0 and the cords a part of it");
        good = false;
    }
    if (!(plan->temp_c >= -60.0) || !(plan->temp_c <= 90.0)) {
        options_complain(WHO, "--temperature: must be from -60 to 90 degC");
        good = false;
    }
    if (!(plan->rate_bit_s > 0.0) || !(plan->wire_area_m2 >= 0.0)) {
        options_complain(WHO, "--rate and --size must be above 0");
        good = false;
    }
    if (plan->poe_class != FE_CHANNEL_NO_POE && !fe_poe_class_find(plan->poe_class)) {
        options_complain(WHO, "--poe-class: must be from 0 to 8");
        good = false;
    }
    return read_category(category ? category : "6", &plan->category) && good;
}

static json_t *number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

/* 0 where the standard promises no rate over this length. */
static double fastest_mbps(const fe_channel_answer *answer)
{
    return answer->fastest < 0 ? 0.0 : answer->rates[answer->fastest].reach->rate_bit_s / 1e6;
}

/* The wanted rate where it is promised, else the fastest that is. */
static double rate_held_mbps(const fe_channel_answer *answer)
{
    const fe_channel_rate *wanted = answer->wanted < 0 ? NULL : &answer->rates[answer->wanted];
    return wanted && wanted->verdict != FE_CHANNEL_FAILS ? wanted->reach->rate_bit_s / 1e6
                                                         : fastest_mbps(answer);
}

static json_t *answer_json(const fe_channel_case *plan, const fe_channel_answer *answer)
{
    const fe_channel_rate *wanted = answer->wanted < 0 ? NULL : &answer->rates[answer->wanted];
    json_t *rates = json_array();
    for (int i = 0; i < FE_CHANNEL_RATES; i++) {
        const fe_channel_rate *rate = &answer->rates[i];
        if (rate->reach)
            json_array_append_new(
                rates,
                json_pack("{s:s, s:f, s:f, s:o, s:o, s:f, s:s}", "application",
                          rate->reach->application, "rate_mbps", rate->reach->rate_bit_s / 1e6,
                          "limit_m", rate->limit_m, "loss_db", number(rate->loss_db),
                          "loss_limit_db", number(rate->loss_limit_db), "frequency_hz",
                          rate->f_hz, "verdict", fe_verdict_name((fe_verdict)rate->verdict)));
    }
    return json_pack(
        "{s:f, s:o, s:f, s:f, s:o, s:o, s:o, s:s, s:o}", "channel_length_m", plan->length_m,
        "limit_m", wanted ? json_real(wanted->limit_m) : json_null(), "rate_mbps",
        rate_held_mbps(answer), "fastest_mbps", fastest_mbps(answer), "poe_power_w",
        answer->has_power ? json_real(answer->power.device_w) : json_null(), "poe_voltage_v",
        answer->has_power ? number(answer->power.device_v) : json_null(), "poe_loop_ohm",
        answer->has_power ? json_real(answer->power.loop_ohm) : json_null(), "verdict",
        fe_verdict_name((fe_verdict)answer->verdict), "rates", rates);
}

static int run(const options *given)
{
    fe_channel_case plan = {0};
    fe_channel_answer answer;
    if (!read_case(given, &plan))
        return EXIT_BAD_INPUT;
    const fe_status status = fe_channel_solve(&plan, &answer);
    if (status < 0) {
        options_complain(WHO, "%s", fe_status_text(status));
        return command_exit_code(status);
    }
    const fe_copper_place place = {options_number(given, "flash-density", 0.0),
                                   options_given(given, "buried")};
    fe_document *doc = fe_document_new("Ethernet over copper");
    fe_report_copper(doc, &plan, &answer, &place);
    if (status == FE_W_RANGE)
        fe_document_paragraph(doc,
                              "A temperature or a size lies outside the range that a model "
                              "is stated for; take the figures with care.");
    const int code = options_given(given, "json")
                         ? output_json(WHO, answer_json(&plan, &answer), OUTPUT_JSON_FLAGS)
                         : output_words(WHO, given, doc);
    fe_document_free(doc);
    return code;
}

const command COMMAND_COPPER = {
    .name = "copper",
    .summary = "Ethernet over copper by its real length, power over its pairs",
    .usage = "--length LENGTH [OPTION]...",
    .description =
        "Holds the length of a data cable against the limit of each rate, with its cords and\n"
        "its warmth, computes the power that reaches a device over the pairs, and says what\n"
        "lies beyond the limit and what a cable between two buildings needs.\n",
    .options = OPTIONS,
    .example = "--length 80m --category 6 --rate 1Gb/s --poe-class 3",
    .run = run,
};
