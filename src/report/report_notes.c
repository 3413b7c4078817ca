/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was assumed, what is not computed, and what to beware of. */
#include <string.h>

#include "report/report_parts.h"

/* ---- Defaults ---- */

/* Defaults of a section that nothing is computed from would only be noise. */
static bool matters(const fe_plan *plan, const fe_plan_default *taken)
{
    return plan->solar.given || !taken->section || strcmp(taken->section, "solar") != 0;
}

void report_assumptions(report_writer *writer)
{
    const fe_plan *plan = writer->result->plan;
    fe_document *doc = writer->doc;
    if (plan->default_count == 0)
        return;
    fe_document_heading(doc, 2, "Assumed, because the plan does not say");
    fe_document_table(doc, "Defaults taken", "where|key|value|why");
    for (size_t i = 0; i < plan->default_count; i++) {
        const fe_plan_default *taken = &plan->defaults[i];
        if (!matters(plan, taken))
            continue;
        fe_document_row(doc);
        fe_document_cell(doc, "[%s]", taken->section ? taken->section : "");
        fe_document_cell(doc, "%s", taken->key ? taken->key : "");
        fe_document_cell(doc, "%s", taken->value ? taken->value : "");
        fe_document_cell(doc, "%s", taken->why ? taken->why : "");
    }
}

json_t *report_assumptions_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->plan->default_count; i++) {
        const fe_plan_default *taken = &result->plan->defaults[i];
        if (!matters(result->plan, taken))
            continue;
        json_t *object = report_json_object(json);
        report_json_text(json, object, "section", taken->section);
        report_json_text(json, object, "key", taken->key);
        report_json_text(json, object, "value", taken->value);
        report_json_text(json, object, "why", taken->why);
        report_json_append(json, list, object);
    }
    return list;
}

/* ---- Named in the plan, not computed ---- */

static bool has_readings(const fe_plan *plan)
{
    return plan->reading_count > 0;
}

/* A row goes when its subject is computed. */
static const struct {
    bool (*named)(const fe_plan *plan);
    const char *text;
} NOT_COMPUTED[] = {
    {has_readings, "Readings ([reading]): `farend accept` with this plan compares them with what is computed."},
};

enum { NOT_COMPUTED_COUNT = sizeof NOT_COMPUTED / sizeof NOT_COMPUTED[0] };

void report_not_computed(report_writer *writer)
{
    bool started = false;
    for (size_t i = 0; i < NOT_COMPUTED_COUNT; i++) {
        if (!NOT_COMPUTED[i].named(writer->result->plan))
            continue;
        if (!started)
            fe_document_heading(writer->doc, 2, "In the plan, but not computed");
        started = true;
        fe_document_item(writer->doc, "%s", NOT_COMPUTED[i].text);
    }
}

json_t *report_not_computed_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < NOT_COMPUTED_COUNT; i++)
        if (NOT_COMPUTED[i].named(result->plan))
            report_json_append(json, list, report_json_string(json, NOT_COMPUTED[i].text));
    return list;
}

/* ---- Warnings and cautions ---- */

/* Parts of a radio path and what their models were stated for. */
static const struct {
    unsigned flag;
    const char *text;
} OUTSIDE[] = {
    {FE_OUTSIDE_GROUND, "the ground (soil is stated from 0.5 to 30 GHz, wet snow from 3 to "
                        "37 GHz, the ray off the ground from a wavelength up)"},
    {FE_OUTSIDE_TREES, "trees (stated for 0.23 to 95 GHz and 400 m; woodland about an end to "
                       "2.2 GHz)"},
    {FE_OUTSIDE_WALLS, "walls (most materials are stated from 1 GHz up)"},
    {FE_OUTSIDE_COVERS, "wet antenna covers (wet snow is stated for 3 to 37 GHz)"},
};

static unsigned outside_of(const fe_radio_result *radio)
{
    unsigned flags = 0;
    for (size_t i = 0; i < radio->budget.season_count; i++)
        flags |= radio->budget.seasons[i].loss.outside;
    return flags;
}

/* One line a model, with all links that it was used for. */
static void warn_of_model(report_writer *writer, unsigned flag, const char *text)
{
    const fe_result *result = writer->result;
    fe_strbuf links = FE_STRBUF_INIT;
    char link[REPORT_LABEL_ROOM];
    for (size_t i = 0; i < result->radio_count; i++)
        if (outside_of(&result->radio[i]) & flag)
            fe_strbuf_format(&links, "%s%s", links.length > 0 ? "; " : "",
                             report_link(result->plan, &result->radio[i], link));
    if (links.length > 0)
        fe_document_item(writer->doc,
                         "The loss of %s is rough for %s: do not build on the last few "
                         "decibels of margin there.",
                         text, fe_strbuf_text(&links));
    fe_document_free_text(writer->doc, &links);
}

static void warn_of_rule(report_writer *writer, const fe_radio_result *radio)
{
    char link[REPORT_LABEL_ROOM];
    for (int end = 0; end < 2; end++)
        if (radio->budget.limit[end].outdoor_forbidden)
            fe_document_item(
                writer->doc, "%s: the rule is for indoor use only, and %s hangs outdoors.",
                report_link(writer->result->plan, radio, link), radio->gear[end]->label);
}

void report_warnings(report_writer *writer)
{
    const fe_result *result = writer->result;
    if (!result->outside_range)
        return;
    fe_document_heading(writer->doc, 2, "Models outside their range");
    fe_document_paragraph(writer->doc,
                          "The source of each model says where it holds. Where a number was "
                          "taken beyond that, it stands here.");
    for (size_t i = 0; i < sizeof OUTSIDE / sizeof OUTSIDE[0]; i++)
        warn_of_model(writer, OUTSIDE[i].flag, OUTSIDE[i].text);
    for (size_t i = 0; i < result->radio_count; i++)
        warn_of_rule(writer, &result->radio[i]);
}

static bool has_mains(const fe_result *result)
{
    for (size_t i = 0; i < result->feed_count; i++)
        if (fe_feed_is_mains(&result->feeds[i]))
            return true;
    return false;
}

static bool has_metal_outdoors(const fe_result *result)
{
    for (size_t i = 0; i < result->channel_count; i++)
        if (result->channels[i].cable->metallic)
            return true;
    return false;
}

static void caution_radio(report_writer *writer)
{
    const int chosen = fe_result_chosen_radio(writer->result);
    if (chosen < 0)
        return;
    const fe_power_rule *rule = writer->result->radio[chosen].budget.limit[0].rule;
    fe_document_caution(writer->doc,
                        "Radio power: the limits are those of %s (text: %s). Rules "
                        "change; the rules in force where you are decide.",
                        rule->source, rule->text_date);
}

void report_cautions(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document *doc = writer->doc;
    fe_document_heading(doc, 2, "Cautions");
    if (has_mains(result))
        fe_document_caution(doc,
                            "Mains voltage kills. Cable, protection and earthing of a mains "
                            "feed are for a licensed electrician under your local code; "
                            "what is computed here is a first sizing.");
    else if (result->feed_count > 0)
        fe_document_caution(doc, "A battery can start a fire through a short circuit: fuse a "
                                 "low-voltage feed at its source, by your local code.");
    if (has_metal_outdoors(result))
        fe_document_caution(doc, "Lightning: metal between two buildings carries surges and "
                                 "differences of earth into both. Surge protection and bonding "
                                 "at both ends follow your local code; fibre without metal "
                                 "avoids the matter.");
    if (result->overhead_count > 0) {
        fe_document_caution(doc,
                            "Height: falls are what kills at such work. Never climb a post "
                            "that is not known to be sound, never work alone, stop in wind "
                            "and ice.");
        fe_document_caution(doc,
                            "A post that falls takes the cable and whoever is below along: "
                            "keep people out of its length while it is set, and away from "
                            "power lines.");
    }
    if (result->overhead_count > 0 || result->channel_count > 0)
        fe_document_caution(doc,
                            "Digging: have buried cables and pipes located before any hole "
                            "or trench; shore or slope a trench that is deeper than a "
                            "knee.");
    caution_radio(writer);
    fe_document_paragraph(doc, "Heights over ways, distances from power lines, and what may be "
                               "built at all are set by your local code and authority; they "
                               "decide, not this report.");
}
