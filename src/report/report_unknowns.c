/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the plan leaves open: what it could change, and how to find it out. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/outlook.h"
#include "report/report_parts.h"

static const char *could_change(const fe_trial *trial)
{
    if (trial->changes_choice)
        return "what to build";
    if (trial->changes_verdict)
        return "a verdict";
    return trial->concerns == 0 ? "nothing here" : "no verdict";
}

/* What is worth settling comes first: the choice, then a verdict, then the rest by effect. */
static size_t rank(const fe_trial *trial)
{
    return trial->changes_choice ? 0 : (trial->changes_verdict ? 1 : 2);
}

static void settle_row(report_writer *writer, const fe_trial *trial)
{
    char name[REPORT_LABEL_ROOM];
    char range[REPORT_TEXT_ROOM];
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s", report_input_name(&trial->input, name));
    fe_document_cell(
        doc, "%s%s", trial->input.given == FE_GIVEN_UNKNOWN ? "unknown: " : "",
        report_input_range(writer, &trial->input, trial->input.low, trial->input.high, range));
    fe_document_cell(doc, "%s", could_change(trial));
    fe_document_cell(doc, "%s", trial->means ? trial->means : "-");
}

static bool is_tried(const fe_sensitivity *found, const fe_plan_default *taken)
{
    for (size_t i = 0; i < found->trial_count; i++)
        if (strcmp(found->trials[i].input.title, taken->section) == 0 &&
            strcmp(found->trials[i].input.key, taken->key) == 0)
            return true;
    return false;
}

/* Other names that the plan leaves open have no two ends; what stands in for them is said. */
static void name_rows(report_writer *writer, const fe_sensitivity *found)
{
    static const struct {
        const char *section; /* its first word */
        const char *key;
        const char *could_change;
        const char *means;
    } MEANS[] = {{"end", "gear", "nothing: all were tried, the best is recommended",
                  "the label on its back, where it is there already"},
                 {"relay", "gear", "how many relays, settle it first",
                  "the label on its back; farend relays tries the other classes"},
                 {"trench", "soil", "nothing here", "a spade: one hole, looked at"},
                 {"posts", "messenger", "nothing: no cable hangs", "-"},
                 {"feed", "protection", "nothing: nothing is fed", "-"}};
    const fe_plan *plan = writer->result->plan;
    fe_document *doc = writer->doc;
    for (size_t i = 0; i < plan->default_count; i++) {
        const fe_plan_default *taken = &plan->defaults[i];
        const char *could_change = "settle it first: nothing else was tried";
        const char *means = "the print on it";
        if (!fe_plan_is_unknown(taken) || is_tried(found, taken))
            continue;
        for (size_t k = 0; k < sizeof MEANS / sizeof MEANS[0]; k++)
            if (strcmp(MEANS[k].key, taken->key) == 0 &&
                strncmp(taken->section, MEANS[k].section, strlen(MEANS[k].section)) == 0) {
                could_change = MEANS[k].could_change;
                means = MEANS[k].means;
            }
        fe_document_row(doc);
        fe_document_cell(doc, "%s of %s", taken->key, taken->section);
        fe_document_cell(doc, "unknown: taken as %s", taken->value);
        fe_document_cell(doc, "%s", could_change);
        fe_document_cell(doc, "%s", means);
    }
}

static void settle_table(report_writer *writer, const fe_sensitivity *found)
{
    fe_document_table(writer->doc, "What to settle first",
                      "open in the plan|range|could change|how to find out");
    for (size_t step = 0; step < 3; step++)
        for (size_t i = 0; i < found->trial_count; i++)
            if (found->trials[i].input.open && rank(&found->trials[i]) == step)
                settle_row(writer, &found->trials[i]);
    name_rows(writer, found);
}

static bool same_verdict(const fe_way_interval *interval)
{
    return interval->worst.verdict == interval->best.verdict;
}

static bool is_open(const fe_way_interval *interval)
{
    const double margin_db = interval->best.margin_db - interval->worst.margin_db;
    const double used = interval->worst.used - interval->best.used;
    return !same_verdict(interval) || margin_db >= 0.5 || used >= 0.005;
}

const char *report_state_range(report_writer *writer, const fe_way_state *a,
                               const fe_way_state *b, char room[REPORT_TEXT_ROOM])
{
    fe_document *doc = writer->doc;
    room[0] = 0;
    if (!isnan(a->margin_db))
        snprintf(room, REPORT_TEXT_ROOM, "%s",
                 fe_amount_range(doc, fmin(a->margin_db, b->margin_db),
                                 fmax(a->margin_db, b->margin_db), FE_STYLE_RATIO));
    else if (!isnan(a->used))
        snprintf(room, REPORT_TEXT_ROOM, "%s of limit",
                 fe_amount_range(doc, fmin(a->used, b->used), fmax(a->used, b->used),
                                 FE_STYLE_PERCENT));
    return room;
}

static void interval_row(report_writer *writer, const fe_way *way,
                         const fe_way_interval *interval)
{
    char room[REPORT_TEXT_ROOM];
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s", way->name);
    if (same_verdict(interval))
        fe_document_cell(doc, "%s either way", fe_verdict_name(interval->worst.verdict));
    else
        fe_document_cell(doc, "%s to %s", fe_verdict_name(interval->worst.verdict),
                         fe_verdict_name(interval->best.verdict));
    fe_document_cell(doc, "%s",
                     report_state_range(writer, &interval->worst, &interval->best, room));
    if (isnan(interval->worst.chance))
        fe_document_cell(doc, "-");
    else
        fe_document_cell(doc, "%s",
                         fe_amount_range(doc, interval->worst.chance, interval->best.chance,
                                         FE_STYLE_PERCENT));
}

static void interval_table(report_writer *writer, const fe_sensitivity *found)
{
    const fe_result *result = writer->result;
    size_t still = 0;
    for (size_t i = 0; i < found->way_count; i++)
        still += is_open(&found->intervals[i]) ? 0 : 1;
    fe_document_table(writer->doc, "From the worst to the best that is possible",
                      "way|verdict|margin or use|chance>");
    for (size_t i = 0; i < found->way_count; i++)
        if (is_open(&found->intervals[i]))
            interval_row(writer, &result->ways[i], &found->intervals[i]);
    if (still == found->way_count)
        fe_document_paragraph(writer->doc, "No way's margin or verdict depends on them.");
    else if (still > 0)
        fe_document_paragraph(writer->doc,
                              "The other ways come out the same at both ends of all of them.");
}

void report_unknowns(report_writer *writer)
{
    const fe_outlook *outlook = writer->result->outlook;
    if (!outlook || outlook->sensitivity.open_count == 0)
        return;
    fe_document_heading(writer->doc, 2, "What the plan leaves open");
    fe_document_paragraph(
        writer->doc, "Each range and unknown of the plan was computed at both of its ends, "
                     "and all of them together at the worse and at the better ends. "
                     "Everything else in this report stands at the middle.");
    settle_table(writer, &outlook->sensitivity);
    interval_table(writer, &outlook->sensitivity);
}

/* ---- JSON ---- */

static json_t *state_json(report_json *json, const fe_way_state *state)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "verdict", fe_verdict_name(state->verdict));
    report_json_number(json, object, "margin_db", state->margin_db);
    report_json_number(json, object, "chance", state->chance);
    report_json_number(json, object, "used", state->used);
    return object;
}

json_t *report_interval_json(report_json *json, const fe_way_interval *interval)
{
    json_t *object = report_json_object(json);
    report_json_set(json, object, "worst", state_json(json, &interval->worst));
    report_json_set(json, object, "best", state_json(json, &interval->best));
    return object;
}

json_t *report_unknowns_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    const fe_outlook *outlook = result->outlook;
    for (size_t i = 0; outlook && i < outlook->sensitivity.trial_count; i++) {
        const fe_trial *trial = &outlook->sensitivity.trials[i];
        if (!trial->input.open)
            continue;
        json_t *object = report_input_json(json, &trial->input);
        report_json_bool(json, object, "unknown", trial->input.given == FE_GIVEN_UNKNOWN);
        report_json_bool(json, object, "changes_verdict", trial->changes_verdict);
        report_json_bool(json, object, "changes_choice", trial->changes_choice);
        report_json_text(json, object, "means", trial->means);
        report_json_append(json, list, object);
    }
    return list;
}
