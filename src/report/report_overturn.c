/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would overturn the choice, and what moves the answer most. */
#include <math.h>
#include <stdio.h>

#include "farend/outlook.h"
#include "report/report_parts.h"

/* As many as an owner reads. */
enum { MOST_ROWS = 10 };
/* A tenth of a decibel, or a hundredth of a limit: less is not shown. */
static const double LEAST_EFFECT = 0.01;

/* ---- What would overturn it ---- */

/* "height of end shed were under 2.62 m (the plan says 2.80 m)" */
static void put_turn(report_writer *writer, const fe_sensitivity *found, const fe_turn *turn,
                     char room[REPORT_TEXT_ROOM])
{
    const fe_plan_input *input = &found->trials[turn->trial].input;
    char name[REPORT_LABEL_ROOM];
    snprintf(room, REPORT_TEXT_ROOM, "the %s were %s%s (computed with %s)",
             report_input_name(input, name),
             input->words  ? ""
             : turn->above ? "over "
                           : "under ",
             report_input_value(writer, input, turn->value),
             report_input_value(writer, input, input->typical));
}

static const char *way_name(const fe_result *result, int index)
{
    const fe_way *way = fe_result_way(result, index);
    return way ? way->name : "none of the ways";
}

static const char *next_choice(const fe_result *result, int way, char room[REPORT_TEXT_ROOM])
{
    if (way < 0)
        return "none of the other ways would do";
    snprintf(room, REPORT_TEXT_ROOM, "%s would be the choice", result->ways[way].name);
    return room;
}

void report_overturn(report_writer *writer, size_t choice)
{
    const fe_result *result = writer->result;
    const fe_outlook *outlook = result->outlook;
    if (!outlook)
        return;
    const fe_sensitivity *found = &outlook->sensitivity;
    const fe_overturn *overturn = &found->overturns[choice];
    const int now = fe_result_choice(result, choice);
    const fe_turn *breaks = &overturn->breaks;
    const fe_turn *eases = &overturn->eases;
    char room[REPORT_TEXT_ROOM];
    char next[REPORT_TEXT_ROOM];
    fe_document *doc = writer->doc;
    if (breaks->found) {
        put_turn(writer, found, breaks, room);
        if (breaks->way == now && now >= 0)
            fe_document_pair(doc, "What would overturn it", "If %s, it would be %s.", room,
                             fe_verdict_name(breaks->verdict));
        else
            fe_document_pair(doc, "What would overturn it",
                             "If %s, it would no longer %s, and %s.", room,
                             result->ways[now].verdict == FE_VERDICT_HOLDS ? "hold" : "do",
                             next_choice(result, breaks->way, next));
    }
    if (eases->found) {
        put_turn(writer, found, eases, room);
        fe_document_pair(doc, now < 0 ? "What would help" : "An easier way",
                         "If %s, %s would do.", room, way_name(result, eases->way));
    }
    if (!breaks->found && !eases->found)
        fe_document_pair(doc, "What would overturn it",
                         "No single value of the plan, moved as far as it may be out and "
                         "several times farther, leads to another choice.");
}

/* ---- What moves the answer ---- */

/* The ways whose movement is shown, each once; more columns nobody reads. */
enum { MOST_SHOWN = 4 };
typedef struct shown_ways {
    int items[MOST_SHOWN];
    size_t count;
} shown_ways;

static shown_ways ways_to_show(const fe_result *result)
{
    const size_t choices = fe_result_choice_count(result);
    shown_ways shown = {.count = 0};
    for (size_t i = 0; i <= choices && shown.count < MOST_SHOWN; i++) {
        /* The radio link after the data that it stands beside, power last. */
        const int wanted = i == 0   ? result->picks[0].way
                           : i == 1 ? fe_result_radio_way(result)
                                    : fe_result_choice(result, i - 1);
        bool there = wanted < 0;
        for (size_t k = 0; k < shown.count; k++)
            there = there || shown.items[k] == wanted;
        if (!there)
            shown.items[shown.count++] = wanted;
    }
    return shown;
}

static const char *reach_word(const fe_trial *trial)
{
    static const char *const WORDS[] = {
        [FE_REACH_OPEN] = "open", [FE_REACH_DEFAULT] = "assumed", [FE_REACH_STEP] = "stated"};
    if (trial->want)
        return "wanted";
    return trial->input.words && trial->input.given == FE_GIVEN_VALUE ? "chosen"
                                                                      : WORDS[trial->reach];
}

/* What a way is measured by: its margin, or its share of a limit. */
static double measure(const fe_way_state *state)
{
    return isnan(state->margin_db) ? state->used : state->margin_db;
}

/* The least and the greatest of both ends and of what is. */
static void reach_of(const fe_result *result, const fe_trial *trial, int way,
                     fe_way_state reach[2])
{
    const fe_way *now = &result->ways[way];
    const fe_way_state states[] = {{now->verdict, now->margin_db, now->chance, now->used},
                                   trial->at[0][way],
                                   trial->at[1][way]};
    reach[0] = reach[1] = states[0];
    for (size_t i = 1; i < 3; i++) {
        if (measure(&states[i]) < measure(&reach[0]))
            reach[0] = states[i];
        if (measure(&states[i]) > measure(&reach[1]))
            reach[1] = states[i];
    }
}

static double gap_of(const fe_way_state reach[2])
{
    const double gap = measure(&reach[1]) - measure(&reach[0]);
    return isnan(reach[0].margin_db) ? gap : gap / 10.0;
}

static void movement_row(report_writer *writer, const fe_trial *trial, const shown_ways *shown)
{
    char name[REPORT_LABEL_ROOM];
    char room[REPORT_TEXT_ROOM];
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s", report_input_name(&trial->input, name));
    fe_document_cell(doc, "%s", reach_word(trial));
    fe_document_cell(
        doc, "%s",
        report_input_range(writer, &trial->input, trial->value[0], trial->value[1], room));
    for (size_t i = 0; i < shown->count; i++) {
        fe_way_state reach[2];
        reach_of(writer->result, trial, shown->items[i], reach);
        if (!(gap_of(reach) >= LEAST_EFFECT))
            fe_document_cell(doc, "-");
        else
            fe_document_cell(doc, "%s", report_state_range(writer, &reach[0], &reach[1], room));
    }
}

static bool is_shown(const fe_trial *trial)
{
    return trial->effect >= LEAST_EFFECT;
}

void report_sensitivity(report_writer *writer)
{
    const fe_result *result = writer->result;
    const fe_outlook *outlook = result->outlook;
    if (!outlook || outlook->sensitivity.trial_count == 0)
        return;
    const shown_ways shown = ways_to_show(result);
    char columns[MOST_SHOWN * FE_WAY_TEXT_ROOM + 40];
    int length = snprintf(columns, sizeof columns, "input|in the plan|tried");
    for (size_t i = 0; i < shown.count; i++)
        length += snprintf(columns + length, sizeof columns - (size_t)length, "|%s",
                           result->ways[shown.items[i]].name);
    fe_document_heading(writer->doc, 2, "What moves the answer most");
    fe_document_paragraph(
        writer->doc, "One value of the plan at a time, moved as far as it may be out: an "
                     "open one over its range, an assumed one over what is usual, a stated "
                     "one by what such a value is commonly wrong by. Margins in decibels, "
                     "cables in shares of their limit; first what would change the choice.");
    fe_document_table(writer->doc, "Inputs by effect", columns);
    size_t rows = 0;
    for (size_t i = 0; i < outlook->sensitivity.trial_count && rows < MOST_ROWS; i++)
        if (is_shown(&outlook->sensitivity.trials[i])) {
            movement_row(writer, &outlook->sensitivity.trials[i], &shown);
            rows++;
        }
}

/* ---- JSON ---- */

static void put_value(report_json *json, json_t *object, const char *key,
                      const fe_plan_input *input, double value)
{
    if (input->words)
        report_json_text(json, object, key, input->words[(size_t)fmax(value, 0.0)]);
    else
        report_json_number(json, object, key, value * input->one);
}

json_t *report_input_json(report_json *json, const fe_plan_input *input)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "section", input->title);
    report_json_text(json, object, "key", input->key);
    report_json_text(json, object, "unit",
                     input->words ? NULL : fe_dimension_unit(input->dimension));
    put_value(json, object, "value", input, input->typical);
    put_value(json, object, "low", input, input->low);
    put_value(json, object, "high", input, input->high);
    return object;
}

static json_t *turn_json(report_json *json, const fe_result *result, const fe_turn *turn)
{
    if (!turn->found)
        return json_null();
    const fe_plan_input *input = &result->outlook->sensitivity.trials[turn->trial].input;
    json_t *object = report_input_json(json, input);
    put_value(json, object, "turns_at", input, turn->value);
    report_json_bool(json, object, "above", turn->above);
    report_json_bool(json, object, "likely", turn->likely);
    report_json_text(json, object, "then", turn->way < 0 ? NULL : result->ways[turn->way].name);
    report_json_text(json, object, "verdict", fe_verdict_name(turn->verdict));
    return object;
}

static json_t *overturn_json(report_json *json, const fe_result *result,
                             const fe_overturn *overturn)
{
    json_t *object = report_json_object(json);
    report_json_set(json, object, "breaks", turn_json(json, result, &overturn->breaks));
    report_json_set(json, object, "eases", turn_json(json, result, &overturn->eases));
    return object;
}

json_t *report_overturn_json(report_json *json, const fe_result *result)
{
    if (!result->outlook)
        return json_null();
    const fe_sensitivity *found = &result->outlook->sensitivity;
    json_t *object = report_json_object(json);
    json_t *paths = report_json_list(json);
    report_json_set(json, object, "data",
                    overturn_json(json, result, fe_overturn_data(found, 0)));
    report_json_set(json, object, "power",
                    overturn_json(json, result, fe_overturn_power(found, 0)));
    for (size_t path = 0; path < result->pick_count; path++) {
        json_t *one = overturn_json(json, result, fe_overturn_data(found, path));
        report_json_text(json, one, "path", result->plan->paths[path].name);
        report_json_set(json, one, "power",
                        overturn_json(json, result, fe_overturn_power(found, path)));
        report_json_append(json, paths, one);
    }
    report_json_set(json, object, "paths", paths);
    return object;
}

json_t *report_sensitivity_json(report_json *json, const fe_result *result)
{
    static const char *const REACHES[] = {
        [FE_REACH_OPEN] = "open", [FE_REACH_DEFAULT] = "default", [FE_REACH_STEP] = "step"};
    json_t *list = report_json_list(json);
    const fe_outlook *outlook = result->outlook;
    for (size_t i = 0; outlook && i < outlook->sensitivity.trial_count; i++) {
        const fe_trial *trial = &outlook->sensitivity.trials[i];
        json_t *object = report_input_json(json, &trial->input);
        report_json_text(json, object, "reach", REACHES[trial->reach]);
        put_value(json, object, "tried_low", &trial->input, trial->value[0]);
        put_value(json, object, "tried_high", &trial->input, trial->value[1]);
        report_json_number(json, object, "effect", trial->effect);
        report_json_bool(json, object, "changes_verdict", trial->changes_verdict);
        report_json_bool(json, object, "changes_choice", trial->changes_choice);
        report_json_append(json, list, object);
    }
    return list;
}
