/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An input of the plan and its values, in words. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/report_parts.h"

/* Lengths are written by what they measure. */
static fe_style length_style(const fe_plan_input *input)
{
    static const struct {
        const char *key;
        fe_style style;
    } KEYS[] = {
        {"ice", FE_STYLE_THICKNESS},       {"section", FE_STYLE_THICKNESS},
        {"wall", FE_STYLE_THICKNESS},      {"deepest-snow", FE_STYLE_DEPTH},
        {"snow", FE_STYLE_DEPTH},          {"depth", FE_STYLE_DEPTH},
        {"frost-depth", FE_STYLE_DEPTH},   {"height", FE_STYLE_HEIGHT},
        {"start-height", FE_STYLE_HEIGHT}, {"end-height", FE_STYLE_HEIGHT},
        {"crop", FE_STYLE_HEIGHT},         {"distance", FE_STYLE_DISTANCE},
    };
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++)
        if (strcmp(KEYS[i].key, input->key) == 0)
            return KEYS[i].style;
    return FE_STYLE_LENGTH;
}

static fe_style style_of(const fe_plan_input *input)
{
    switch (input->dimension) {
    case FE_DIM_LENGTH:
        return length_style(input);
    case FE_DIM_FRACTION:
        return FE_STYLE_PERCENT;
    case FE_DIM_COUNT:
        return FE_STYLE_COUNT;
    case FE_DIM_SPEED:
        return FE_STYLE_SPEED;
    case FE_DIM_RAIN_RATE:
        return FE_STYLE_RAIN;
    case FE_DIM_TEMPERATURE:
        return FE_STYLE_TEMPERATURE;
    case FE_DIM_TIME:
        return FE_STYLE_TIME;
    case FE_DIM_DATA:
        return FE_STYLE_DATA;
    case FE_DIM_DATA_RATE:
        return FE_STYLE_DATA_RATE;
    case FE_DIM_POWER:
        return FE_STYLE_POWER;
    case FE_DIM_CURRENT:
        return FE_STYLE_CURRENT;
    case FE_DIM_VOLTAGE:
        return FE_STYLE_VOLTAGE;
    case FE_DIM_RESISTANCE:
        return FE_STYLE_RESISTANCE;
    case FE_DIM_AREA:
        return FE_STYLE_WIRE;
    case FE_DIM_FLASH_DENSITY:
        return FE_STYLE_FLASH_DENSITY;
    default:
        return FE_STYLE_NUMBER;
    }
}

const char *report_input_value(report_writer *writer, const fe_plan_input *input, double value)
{
    if (input->words)
        return input->words[(size_t)fmax(value, 0.0)];
    /* A turning point is found to a part of its reach; whole percents would hide it. */
    const int extra = input->dimension == FE_DIM_FRACTION ? 1 : 0;
    return fe_amount_digits(writer->doc, value * input->one, style_of(input), extra);
}

const char *report_input_range(report_writer *writer, const fe_plan_input *input, double low,
                               double high, char room[REPORT_TEXT_ROOM])
{
    if (input->words)
        snprintf(room, REPORT_TEXT_ROOM, "%s or %s", input->words[(size_t)fmax(low, 0.0)],
                 input->words[(size_t)fmax(high, 0.0)]);
    else
        snprintf(
            room, REPORT_TEXT_ROOM, "%s",
            fe_amount_range(writer->doc, low * input->one, high * input->one, style_of(input)));
    return room;
}

/* "height of end shed": the key in plain words, and whose it is. */
const char *report_input_name(const fe_plan_input *input, char room[REPORT_LABEL_ROOM])
{
    const char *key = input->key;
    if (strcmp(key, "from") == 0)
        key = "start";
    else if (strcmp(key, "to") == 0)
        key = "end";
    else if (strcmp(key, "start") == 0)
        key = "surge at start over running power";
    snprintf(room, REPORT_LABEL_ROOM, "%s of %s", key, input->title);
    for (char *at = room; *at && at < room + strlen(key); at++)
        if (*at == '-')
            *at = ' ';
    return room;
}
