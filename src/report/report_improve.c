/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would help the chosen link, each change worked out by itself. */
#include <math.h>

#include "report/report_parts.h"

/* The change in words, as an owner would do it. */
static void put_change(report_writer *writer, const fe_radio_result *radio,
                       const fe_improvement *change)
{
    const fe_plan *plan = writer->result->plan;
    const char *end = change->end < 0 ? "" : report_end_name(plan, radio->path, change->end);
    fe_document *doc = writer->doc;
    switch (change->kind) {
    case FE_IMPROVE_AIM:
        fe_document_cell(doc, "aim both ends by signal");
        return;
    case FE_IMPROVE_NARROWER:
        fe_document_cell(doc, "set the channel to %s",
                         fe_amount(doc, change->width_hz, FE_STYLE_FREQUENCY));
        return;
    case FE_IMPROVE_BAND:
        fe_document_cell(doc, "use %s with %s", fe_band_name(change->band),
                         change->gear->label);
        return;
    case FE_IMPROVE_WINDOW:
        fe_document_cell(doc, "move %s to a window", end);
        return;
    case FE_IMPROVE_OUTDOORS:
        fe_document_cell(doc, "move %s outdoors", end);
        return;
    case FE_IMPROVE_RAISE:
        fe_document_cell(doc, "raise %s by %s to %s", end,
                         fe_amount(doc, change->rise_m, FE_STYLE_LENGTH),
                         fe_amount(doc, change->height_m, FE_STYLE_HEIGHT));
        return;
    case FE_IMPROVE_KINDS:
        break;
    }
    fe_document_cell(doc, "-");
}

static void change_row(report_writer *writer, const fe_radio_result *radio,
                       const fe_improvement *change, bool cheapest)
{
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    put_change(writer, radio, change);
    if (isinf(change->gain_db))
        fe_document_cell(doc, "out of the snow");
    else
        fe_document_cell(doc, "%s", fe_amount(doc, change->gain_db, FE_STYLE_RATIO));
    fe_document_cell(doc, "%s", fe_amount_beside(doc, change->margin_db, 0.0, FE_STYLE_RATIO));
    fe_document_cell(
        doc, "%s",
        fe_amount_beside(doc, change->chance, radio->wanted.confidence, FE_STYLE_PERCENT));
    fe_document_cell(doc, "%s", fe_mark_of(doc, fe_mark_of_verdict(change->verdict)));
    fe_document_cell(doc, "%s",
                     !change->carries_rate ? "too slow" : (cheapest ? "cheapest 3 dB" : ""));
}

/* Where nothing listed makes it hold, what is missing and where to look instead. */
static void say_hopeless(report_writer *writer, const fe_radio_result *radio,
                         const fe_improvements *found)
{
    double best_db = -INFINITY;
    if (radio->verdict == FE_VERDICT_HOLDS)
        return;
    for (size_t i = 0; i < found->count; i++) {
        if (found->items[i].verdict == FE_VERDICT_HOLDS)
            return;
        if (found->items[i].carries_rate)
            best_db = fmax(best_db, found->items[i].margin_db);
    }
    if (best_db < 0.0 && isfinite(best_db))
        fe_document_paragraph(writer->doc,
                              "None of these makes the link work: even the best leaves it %s "
                              "short. Relays (farend relays) or a cable (farend posts, farend "
                              "copper) are what to look at.",
                              fe_amount(writer->doc, -best_db, FE_STYLE_RATIO));
    else
        fe_document_paragraph(writer->doc, "None of these alone reaches the confidence; two of "
                                           "them together may.");
}

void report_improvements(report_writer *writer, const fe_improvements *found)
{
    const int chosen = fe_result_chosen_radio(writer->result);
    fe_document *doc = writer->doc;
    if (chosen < 0)
        return;
    const fe_radio_result *radio = &writer->result->radio[chosen];
    fe_document_heading(doc, 2, "What would help");
    char limit[REPORT_TEXT_ROOM];
    fe_document_pair(doc, "What limits it", "%s", report_link_limit(writer, radio, limit));
    if (found->cheapest < 0)
        fe_document_paragraph(doc, "No single change tried here brings another %s.",
                              fe_amount(doc, FE_IMPROVE_WANTED_DB, FE_STYLE_RATIO));
    fe_document_paragraph(doc, "Each line changes one thing in the plan and works the link out "
                               "again in every season; from what costs least to what costs "
                               "most.");
    fe_document_table(doc, "Changes, one at a time",
                      "change|gain>|margin then>|chance>|verdict|note");
    for (size_t i = 0; i < found->count; i++)
        change_row(writer, radio, &found->items[i], found->cheapest == (int)i);
    say_hopeless(writer, radio, found);
}

/* ---- JSON ---- */

static const char *kind_name(fe_improve_kind kind)
{
    static const char *const NAMES[] = {
        [FE_IMPROVE_AIM] = "aim by signal",    [FE_IMPROVE_NARROWER] = "narrower channel",
        [FE_IMPROVE_BAND] = "other band",      [FE_IMPROVE_WINDOW] = "to a window",
        [FE_IMPROVE_OUTDOORS] = "to outdoors", [FE_IMPROVE_RAISE] = "raise an end",
    };
    return kind < FE_IMPROVE_KINDS ? NAMES[kind] : "change";
}

static json_t *change_json(report_json *json, const fe_result *result,
                           const fe_radio_result *radio, const fe_improvement *change)
{
    const bool raised = change->kind == FE_IMPROVE_RAISE;
    json_t *object = report_json_object(json);
    report_json_text(json, object, "change", kind_name(change->kind));
    report_json_text(json, object, "end",
                     change->end < 0 ? NULL
                                     : report_end_name(result->plan, radio->path, change->end));
    report_json_text(json, object, "band", fe_band_name(change->band));
    report_json_number(json, object, "width_hz", change->width_hz);
    report_json_number(json, object, "height_m", raised ? change->height_m : (double)NAN);
    report_json_number(json, object, "rise_m", raised ? change->rise_m : (double)NAN);
    report_json_number(json, object, "gain_db", change->gain_db);
    report_json_number(json, object, "margin_db", change->margin_db);
    report_json_number(json, object, "chance", change->chance);
    report_json_bool(json, object, "carries_rate", change->carries_rate);
    report_json_text(json, object, "verdict", fe_verdict_name(change->verdict));
    return object;
}

json_t *report_improvements_json(report_json *json, const fe_result *result,
                                 const fe_improvements *found)
{
    const int chosen = fe_result_chosen_radio(result);
    json_t *object = report_json_object(json);
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < found->count && chosen >= 0; i++)
        report_json_append(json, list,
                           change_json(json, result, &result->radio[chosen], &found->items[i]));
    report_json_set(json, object, "changes", list);
    report_json_set(json, object, "cheapest",
                    found->cheapest < 0 ? json_null() : json_integer(found->cheapest));
    return object;
}
