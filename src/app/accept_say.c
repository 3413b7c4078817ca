/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer of `farend accept` as text and JSON. */
#include "app/accept_answer.h"

#include <jansson.h>
#include <math.h>

#include "app/output.h"
#include "farend/radio_link.h"

/* ---- What the readings say, in words ---- */

static const char *const EVIDENCE[FE_EVIDENCES] = {
    [FE_EVIDENCE_LEVEL] = "the levels",    [FE_EVIDENCE_SWING] = "how the level wanders",
    [FE_EVIDENCE_NOISE] = "the noise",     [FE_EVIDENCE_RATE] = "the rate for that level",
    [FE_EVIDENCE_PING] = "the lost pings", [FE_EVIDENCE_PLACE] = "gear, place and weather",
};

/* Kinds of evidence that raise (or lower) a cause, with their factors. */
static void word_evidence(const fe_acceptance *result, fe_cause cause, bool raising,
                          fe_strbuf *out)
{
    static const double WORTH_NAMING = 1.3;
    for (int kind = 0; kind < FE_EVIDENCES; kind++) {
        const double factor = result->factor[cause][kind];
        const double size = raising ? factor : 1.0 / factor;
        if (!(size > WORTH_NAMING))
            continue;
        fe_strbuf_format(out, "%s%s", out->length > 0 ? ", " : "", EVIDENCE[kind]);
        if (size >= 100.0)
            fe_strbuf_append(out, " (more than 100 times)");
        else
            fe_strbuf_format(out, " (%.*f times)", size < 10.0 ? 1 : 0, size);
    }
    if (out->length == 0)
        fe_strbuf_append(out, "nothing that was read");
}

static double percent(double chance)
{
    return 100.0 * chance;
}

static fe_mark outlook_mark(const accept_answer *answer)
{
    const fe_accept_outlook *worst = &answer->result.outlook[answer->result.worst];
    return fe_mark_of_verdict(
        fe_radio_verdict(worst->chance, worst->margin_db, answer->link.wanted->confidence));
}

static void say_verdict(fe_document *doc, const accept_answer *answer)
{
    const fe_acceptance *result = &answer->result;
    const fe_cause first = result->order[0];
    const fe_accept_outlook *worst = &result->outlook[result->worst];
    const char *season = answer->link.seasons[result->worst].name;
    if (first == FE_CAUSE_NONE)
        fe_document_verdict(doc, outlook_mark(answer),
                            "The link is as computed: nothing looks wrong (chance %.0f %%). In "
                            "%s, its worst season, a margin of %s is to be expected.",
                            percent(result->chance[first]), season,
                            fe_amount_beside(doc, worst->margin_db, 0.0, FE_STYLE_RATIO));
    else
        fe_document_verdict(doc, outlook_mark(answer),
                            "Something is wrong by a chance of %.0f %%: most likely %s "
                            "(%.0f %%). Left as it is, a margin of %s is to be expected in %s, "
                            "the worst season.",
                            percent(1.0 - result->chance[FE_CAUSE_NONE]),
                            fe_cause_of(first)->name, percent(result->chance[first]),
                            fe_amount_beside(doc, worst->margin_db, 0.0, FE_STYLE_RATIO),
                            season);
}

static void row_of(fe_document *doc, const accept_answer *answer, const char *what, int to)
{
    fe_document_row(doc);
    if (to < 0)
        fe_document_cell(doc, "%s", what);
    else
        fe_document_cell(doc, "%s at %s", what, answer->ends[to]);
}

/* What one end sent and the other read. */
static void say_direction(fe_document *doc, const accept_answer *answer, size_t i, int from)
{
    const fe_accept_reading *read = &answer->readings[i];
    const fe_accept_expected *expected = &answer->result.expected[i];
    if (isfinite(read->level_dbm[from])) {
        row_of(doc, answer, "level", 1 - from);
        fe_document_cell(doc, "%s", fe_amount(doc, read->level_dbm[from], FE_STYLE_LEVEL));
        fe_document_cell(doc, "%s",
                         fe_amount_range(doc, expected->low_dbm[from], expected->high_dbm[from],
                                         FE_STYLE_LEVEL));
        fe_document_cell(
            doc, "%s",
            fe_amount(doc, read->level_dbm[from] - expected->level_dbm[from], FE_STYLE_RATIO));
    }
    if (isfinite(read->noise_dbm[from])) {
        row_of(doc, answer, "noise", 1 - from);
        fe_document_cell(doc, "%s", fe_amount(doc, read->noise_dbm[from], FE_STYLE_LEVEL));
        fe_document_cell(doc, "%s", fe_amount(doc, expected->noise_dbm[from], FE_STYLE_LEVEL));
        fe_document_cell(
            doc, "%s",
            fe_amount(doc, read->noise_dbm[from] - expected->noise_dbm[from], FE_STYLE_RATIO));
    }
    if (isfinite(read->rate_bps[from])) {
        row_of(doc, answer, "rate", 1 - from);
        fe_document_cell(doc, "%s", fe_amount(doc, read->rate_bps[from], FE_STYLE_DATA_RATE));
        fe_document_cell(doc, "%s",
                         fe_amount(doc, expected->rate_bps[from], FE_STYLE_DATA_RATE));
        fe_document_cell(
            doc, "%s of it",
            fe_amount(doc, read->rate_bps[from] / expected->rate_bps[from], FE_STYLE_PERCENT));
    }
}

static void say_visit(fe_document *doc, const accept_answer *answer, size_t i)
{
    const fe_accept_reading *read = &answer->readings[i];
    const fe_accept_expected *expected = &answer->result.expected[i];
    fe_document_paragraph(doc, "%s. Computed for %s ground, %s, %s%s.", answer->names[i],
                          expected->season.snow_depth_m > 0.0 ? "snow on the" : "bare",
                          expected->season.in_leaf ? "leaves on the trees" : "bare trees",
                          expected->season.cover == FE_COVER_DRY ? "dry" : "wet",
                          read->weather.said ? "" : " (nothing was said about the weather)");
    fe_document_table(doc, "Read and computed", "reading|read>|computed>|off>");
    for (int from = 0; from < 2; from++)
        say_direction(doc, answer, i, from);
    if (isfinite(read->ping_share)) {
        row_of(doc, answer, "pings lost", -1);
        fe_document_cell(doc, "%s", fe_amount(doc, read->ping_share, FE_STYLE_PERCENT));
        fe_document_cell(doc, "under 1 %%");
        fe_document_cell(doc, "%s", "");
    }
}

static void say_where_to_look(fe_document *doc, const fe_acceptance *result)
{
    /* A link that looks well need not be searched for what is merely possible. */
    const double worth_a_look = result->order[0] == FE_CAUSE_NONE ? 0.1 : 0.05;
    fe_document_heading(doc, 3,
                        result->order[0] == FE_CAUSE_NONE
                            ? "Where to look if it still does not work well"
                            : "What to look at, in this order");
    for (int i = 0, said = 0; i < FE_CAUSES && said < 3; i++) {
        const fe_cause cause = result->order[i];
        if (cause == FE_CAUSE_NONE || (said > 0 && result->chance[cause] < worth_a_look))
            continue;
        fe_document_step(doc, "%s: %s", fe_cause_of(cause)->name, fe_cause_of(cause)->check);
        said++;
    }
}

static void say_causes(fe_document *doc, const fe_acceptance *result)
{
    enum { MOST = 5 };
    static const double WORTH_NAMING = 0.02;
    fe_document_heading(doc, 2, "Likeliest causes");
    fe_document_table(doc, "Causes, by their chance after the readings",
                      "cause|chance>|speaks for it|speaks against it");
    for (int i = 0; i < MOST; i++) {
        const fe_cause cause = result->order[i];
        if (i > 1 && result->chance[cause] < WORTH_NAMING)
            break;
        fe_strbuf raises = FE_STRBUF_INIT;
        fe_strbuf lowers = FE_STRBUF_INIT;
        word_evidence(result, cause, true, &raises);
        word_evidence(result, cause, false, &lowers);
        fe_document_row(doc);
        fe_document_cell(doc, "%s", fe_cause_of(cause)->name);
        fe_document_cell(doc, "%.0f %%", percent(result->chance[cause]));
        fe_document_cell(doc, "%s", fe_strbuf_text(&raises));
        fe_document_cell(doc, "%s", fe_strbuf_text(&lowers));
        fe_document_free_text(doc, &raises);
        fe_document_free_text(doc, &lowers);
    }
    fe_document_paragraph(doc, "\"5 times\": the reading makes the cause five times as likely "
                               "(or unlikely) against the others.");
}

static void say_outlook(fe_document *doc, const accept_answer *answer)
{
    const fe_acceptance *result = &answer->result;
    size_t dearest = 0;
    fe_document_heading(doc, 2, "What is still to come");
    for (size_t i = 1; i < result->season_count; i++)
        if (result->outlook[i].leaves_db > result->outlook[dearest].leaves_db)
            dearest = i;
    if (result->outlook[dearest].leaves_db >= 1.0)
        fe_document_caution(doc,
                            "Leaves are still to come: in %s the trees take %s more than on "
                            "the day of the last reading.",
                            answer->link.seasons[dearest].name,
                            fe_amount(doc, result->outlook[dearest].leaves_db, FE_STYLE_RATIO));
    fe_document_table(doc, "Seasons, recomputed from the readings",
                      "season|loss to come>|margin on paper>|margin now>|chance now>");
    for (size_t i = 0; i < result->season_count; i++) {
        const fe_accept_outlook *o = &result->outlook[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", answer->link.seasons[i].name);
        fe_document_cell(doc, "%s", fe_amount(doc, o->to_come_db, FE_STYLE_RATIO));
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, o->margin_before_db, 0.0, FE_STYLE_RATIO));
        fe_document_cell(
            doc, "%s",
            fe_amount_range(doc, o->margin_low_db, o->margin_high_db, FE_STYLE_RATIO));
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, o->chance, answer->link.wanted->confidence,
                                          FE_STYLE_PERCENT));
    }
    fe_document_pair(doc, "Build loss before", "%s",
                     fe_amount_range(doc, fe_spread_quantile(&result->before, 0.1),
                                     fe_spread_quantile(&result->before, 0.9), FE_STYLE_RATIO));
    fe_document_pair(doc, "Known now, out", "%s",
                     fe_amount_range(doc, fe_spread_quantile(&result->after[0], 0.1),
                                     fe_spread_quantile(&result->after[0], 0.9),
                                     FE_STYLE_RATIO));
    fe_document_pair(doc, "Known now, back", "%s",
                     fe_amount_range(doc, fe_spread_quantile(&result->after[1], 0.1),
                                     fe_spread_quantile(&result->after[1], 0.9),
                                     FE_STYLE_RATIO));
}

fe_document *accept_document(const accept_answer *answer)
{
    fe_document *doc =
        fe_document_new("Readings of the link from %s to %s at %s", answer->ends[0],
                        answer->ends[1], fe_band_name(answer->band));
    say_verdict(doc, answer);
    fe_document_heading(doc, 2, "Readings against what was computed");
    for (size_t i = 0; i < answer->count; i++)
        say_visit(doc, answer, i);
    say_causes(doc, &answer->result);
    say_where_to_look(doc, &answer->result);
    say_outlook(doc, answer);
    radio_setup_print(&answer->setup, doc);
    fe_document_source(doc,
                       "Causes: chances by Bayes' rule from a table of losses, noise, rate "
                       "and pings for each; its figures are common practice, no source. "
                       "A level reading errs by 3 dB (6 dB before building): common "
                       "practice, no source.");
    return doc;
}

/* ---- JSON ---- */

static json_t *cause_json(const fe_acceptance *result, fe_cause cause)
{
    static const char *const KEYS[FE_EVIDENCES] = {
        [FE_EVIDENCE_LEVEL] = "level", [FE_EVIDENCE_SWING] = "swing",
        [FE_EVIDENCE_NOISE] = "noise", [FE_EVIDENCE_RATE] = "rate",
        [FE_EVIDENCE_PING] = "pings",  [FE_EVIDENCE_PLACE] = "place",
    };
    json_t *factors = json_object();
    for (int kind = 0; kind < FE_EVIDENCES; kind++)
        output_json_set(&factors, KEYS[kind], output_number(result->factor[cause][kind]));
    return json_pack("{s:s, s:f, s:o}", "cause", fe_cause_of(cause)->name, "chance",
                     result->chance[cause], "factors", factors);
}

static json_t *reading_json(const accept_answer *answer, size_t i)
{
    const fe_accept_expected *e = &answer->result.expected[i];
    json_t *ways = json_array();
    for (int from = 0; from < 2; from++)
        output_json_append(
            &ways, json_pack("{s:s, s:s, s:o, s:f, s:f, s:f, s:o, s:f, s:o, s:f}", "from",
                             answer->ends[from], "to", answer->ends[1 - from], "level_dbm",
                             output_number(answer->readings[i].level_dbm[from]),
                             "expected_low_dbm", e->low_dbm[from], "expected_dbm",
                             e->level_dbm[from], "expected_high_dbm", e->high_dbm[from],
                             "noise_dbm", output_number(answer->readings[i].noise_dbm[from]),
                             "expected_noise_dbm", e->noise_dbm[from], "rate_bps",
                             output_number(answer->readings[i].rate_bps[from]),
                             "expected_rate_bps", e->rate_bps[from]));
    return json_pack("{s:s, s:b, s:o}", "when", answer->names[i], "in_leaf", e->season.in_leaf,
                     "ways", ways);
}

static json_t *outlook_json(const accept_answer *answer, size_t i)
{
    const fe_accept_outlook *o = &answer->result.outlook[i];
    return json_pack("{s:s, s:o, s:o, s:o, s:f, s:o, s:f}", "season",
                     answer->link.seasons[i].name, "to_come_db", output_number(o->to_come_db),
                     "leaves_db", output_number(o->leaves_db), "margin_before_db",
                     output_number(o->margin_before_db), "chance_before", o->chance_before,
                     "margin_db", output_number(o->margin_db), "chance", o->chance);
}

int accept_print_json(const char *who, const accept_answer *answer)
{
    const fe_acceptance *result = &answer->result;
    json_t *readings = json_array();
    json_t *causes = json_array();
    json_t *seasons = json_array();
    for (size_t i = 0; i < answer->count; i++)
        output_json_append(&readings, reading_json(answer, i));
    for (int i = 0; i < FE_CAUSES; i++)
        output_json_append(&causes, cause_json(result, result->order[i]));
    for (size_t i = 0; i < result->season_count; i++)
        output_json_append(&seasons, outlook_json(answer, i));
    json_t *root =
        json_pack("{s:s, s:[s, s], s:s, s:o, s:o, s:o, s:f, s:f, s:f, s:f, s:o}", "band",
                  fe_band_name(answer->band), "gear", answer->setup.gear[0]->name,
                  answer->setup.gear[1]->name, "verdict", fe_mark_word(outlook_mark(answer)),
                  "readings", readings, "causes", causes, "seasons", seasons,
                  "build_loss_before_db", fe_spread_quantile(&result->before, 0.5),
                  "build_loss_before_sigma_db", fe_spread_sigma(&result->before),
                  "build_loss_out_db", fe_spread_quantile(&result->after[0], 0.5),
                  "build_loss_back_db", fe_spread_quantile(&result->after[1], 0.5),
                  "assumptions", radio_setup_json(&answer->setup));
    return output_json(who, root, OUTPUT_JSON_FLAGS);
}
