/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A claim that a step of frequency multiplies the range. */
#include "app/claim_kinds.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>

#include "app/command.h"
#include "app/output.h"
#include "app/radio_setup.h"
#include "farend/claim.h"

typedef struct step_claim {
    fe_claim_step step;
    fe_claim_answer answer;
    char reading[160];
    fe_hop_wall walls[SETUP_WALLS];
    fe_claim_band bands[2];
} step_claim;

static bool read_factor(const options *given, fe_claim_factor *factor)
{
    const char *text = options_text(given, "range-factor");
    if (fe_claim_factor_parse(text, factor) < 0) {
        if (*text == '+' || *text == '-')
            options_complain(CLAIM_WHO,
                             "--range-factor: %s can be read in two ways; write %s%% for a "
                             "change in percent, or %s for so many times",
                             text, text, text + 1);
        else
            options_complain(CLAIM_WHO,
                             "--range-factor: read \"%s\", expected times or percent, for "
                             "example 4, +300%% or 300%%",
                             text);
        return false;
    }
    if (factor->reading == FE_CLAIM_TIMES && factor->factor > FE_CLAIM_MOST_TIMES) {
        options_complain(CLAIM_WHO,
                         "--range-factor: %s times the range? If percent is meant, write %s%% "
                         "(%g times) or +%s%% (%g times)",
                         text, text, factor->factor / 100.0, text,
                         1.0 + factor->factor / 100.0);
        return false;
    }
    return true;
}

static void word_reading(const char *typed, const fe_claim_factor *factor, char *out,
                         size_t room)
{
    static const char *const HOW[] = {
        [FE_CLAIM_TIMES] = "so many times the range",
        [FE_CLAIM_PERCENT_OF] = "percent of the range",
        [FE_CLAIM_PERCENT_MORE] = "percent added to the range",
    };
    snprintf(out, room, "\"%.60s\" read as %s: %.3g times the range before", typed,
             factor->reading == FE_CLAIM_PERCENT_MORE && factor->factor < 1.0
                 ? "percent taken off the range"
                 : HOW[factor->reading],
             factor->factor);
}

/* A claim that needs more than it names is not true as it stands. */
static fe_mark mark_of(fe_claim_verdict verdict)
{
    return verdict == FE_CLAIM_HOLDS ? FE_MARK_HOLDS : FE_MARK_FAILS;
}

static void say_not_by_frequency(fe_document *doc, const fe_claim_answer *a)
{
    const bool against = a->needed_db >= 0.0 ? a->explained_db <= 0.0 : a->explained_db >= 0.0;
    if (against)
        fe_document_verdict(doc, mark_of(a->verdict),
                            "Not by frequency: the claim needs %s and the step gives %s, so "
                            "it works against the claim.",
                            fe_amount_digits(doc, a->needed_db, FE_STYLE_RATIO, 1),
                            fe_amount_digits(doc, a->explained_db, FE_STYLE_RATIO, 1));
    else
        fe_document_verdict(doc, mark_of(a->verdict),
                            "Not by frequency: the claim needs %s and the step gives %s, which "
                            "leaves %s; the usual causes together reach %s.",
                            fe_amount_digits(doc, a->needed_db, FE_STYLE_RATIO, 1),
                            fe_amount_digits(doc, a->explained_db, FE_STYLE_RATIO, 1),
                            fe_amount_digits(doc, a->unexplained_db, FE_STYLE_RATIO, 1),
                            fe_amount_digits(doc, a->causes_db, FE_STYLE_RATIO, 1));
}

static void say_closed_bands(fe_document *doc, const step_claim *c)
{
    for (int i = 0; i < 2; i++)
        if (!c->answer.open[i])
            fe_document_verdict(
                doc, mark_of(c->answer.verdict),
                "Wi-Fi gear may not transmit at %s here without a licence; the nearest open "
                "band is %s.",
                fe_amount(doc, i == 0 ? c->step.from_hz : c->step.to_hz, FE_STYLE_FREQUENCY),
                fe_band_name(c->bands[i].band));
}

static void say_step_verdict(fe_document *doc, const step_claim *c)
{
    const fe_claim_answer *a = &c->answer;
    switch (a->verdict) {
    case FE_CLAIM_HOLDS:
        fe_document_verdict(doc, mark_of(a->verdict),
                            "The claim holds: the step in frequency gives the %s it needs.",
                            fe_amount_digits(doc, a->needed_db, FE_STYLE_RATIO, 1));
        return;
    case FE_CLAIM_NEEDS_MORE:
        fe_document_verdict(doc, mark_of(a->verdict),
                            "Not by frequency alone: it gives %s of the %s that %.3g times the "
                            "range need; the other %s must come from something else.",
                            fe_amount_digits(doc, a->explained_db, FE_STYLE_RATIO, 1),
                            fe_amount_digits(doc, a->needed_db, FE_STYLE_RATIO, 1),
                            c->step.factor,
                            fe_amount_digits(doc, a->unexplained_db, FE_STYLE_RATIO, 1));
        return;
    case FE_CLAIM_NOT_BY_FREQUENCY:
        say_not_by_frequency(doc, a);
        return;
    case FE_CLAIM_BAND_CLOSED:
        say_closed_bands(doc, c);
        return;
    }
}

static void add_range_row(fe_document *doc, const char *place, double gain, double one,
                          double both)
{
    fe_document_row(doc);
    fe_document_cell(doc, "%s", place);
    fe_document_cell(doc, "%.2f", gain);
    if (isfinite(one)) {
        fe_document_cell(doc, "%.2f", one);
        fe_document_cell(doc, "%.2f", both);
    }
}

static void say_ranges(fe_document *doc, const step_claim *c)
{
    const fe_claim_answer *a = &c->answer;
    fe_document_heading(doc, 2, "What frequency alone does to the range");
    fe_document_table(doc, "Factor of range by frequency alone",
                      "where|antennas of equal gain>|one of equal size>|both of equal size>");
    add_range_row(doc, "free space", a->free_space.equal_gain, a->free_space.one_equal_area,
                  a->free_space.equal_area);
    add_range_row(doc, "beyond the break-point", a->beyond.equal_gain, a->beyond.one_equal_area,
                  a->beyond.equal_area);
    if (a->obstacles_db != 0.0) {
        add_range_row(doc, "free space, walls and trees", a->through_free_space, (double)NAN,
                      0.0);
        add_range_row(doc, "beyond it, walls and trees", a->through_beyond, (double)NAN, 0.0);
    }
    fe_document_paragraph(
        doc,
        "With antennas %s and %s above even ground the break-point lies at %s "
        "at %s and at %s at %s. Beyond it the ground ray eats what a lower "
        "frequency gains, and %.3g times the range need %s instead of %s.",
        fe_amount(doc, c->step.height_m[0], FE_STYLE_HEIGHT),
        fe_amount(doc, c->step.height_m[1], FE_STYLE_HEIGHT),
        fe_amount(doc, a->break_from_m, FE_STYLE_DISTANCE),
        fe_amount(doc, c->step.from_hz, FE_STYLE_FREQUENCY),
        fe_amount(doc, a->break_to_m, FE_STYLE_DISTANCE),
        fe_amount(doc, c->step.to_hz, FE_STYLE_FREQUENCY), c->step.factor,
        fe_amount(doc, a->needed_beyond_db, FE_STYLE_RATIO),
        fe_amount(doc, a->needed_db, FE_STYLE_RATIO));
}

static void say_balance(fe_document *doc, const step_claim *c)
{
    const fe_claim_answer *a = &c->answer;
    fe_document_heading(doc, 2, "Decibels");
    fe_document_pair(doc, "Claim needs", "%s",
                     fe_amount_digits(doc, a->needed_db, FE_STYLE_RATIO, 1));
    fe_document_pair(doc, "Frequency gives", "%s",
                     fe_amount_digits(doc, a->frequency_db, FE_STYLE_RATIO, 1));
    if (c->step.wall_count > 0)
        fe_document_pair(
            doc, "Walls lose less by", "%s",
            fe_amount_digits(doc, a->wall_from_db - a->wall_to_db, FE_STYLE_RATIO, 1));
    if (c->step.trees_m > 0.0)
        fe_document_pair(
            doc, "Trees lose less by", "%s",
            fe_amount_digits(doc, a->trees_from_db - a->trees_to_db, FE_STYLE_RATIO, 1));
    fe_document_pair(doc, "Left unexplained", "%s",
                     fe_amount_digits(doc, a->unexplained_db, FE_STYLE_RATIO, 1));
    fe_document_heading(doc, 2, "What else could be behind it");
    fe_document_table(doc, "Causes and their size", "cause|gives>|when");
    for (size_t i = 0; i < a->cause_count; i++) {
        const fe_claim_cause *cause = &a->causes[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", cause->name);
        fe_document_cell(doc, "%s%s",
                         fe_amount_range(doc, cause->low_db, cause->high_db, FE_STYLE_RATIO),
                         cause->high_db < 0.0 ? " (against it)" : "");
        fe_document_cell(doc, "%s", cause->how);
    }
    for (size_t i = 0; i < a->cause_count; i++)
        fe_document_source(doc, "%s: %s.", a->causes[i].name, a->causes[i].source);
    fe_document_source(doc, "Free space: ITU-R P.525-4. Walls: ITU-R P.2040-3. Trees: "
                            "Weissberger 1982.");
}

/* Range against frequency as factors of the range before. */
static fe_status draw_step(fe_document *doc, const step_claim *c, const options *given)
{
    const fe_claim_curve_data data = {
        .id = "claim",
        .title = "Range against frequency",
        .from_hz = c->step.from_hz,
        .to_hz = c->step.to_hz,
        .claimed = c->step.factor,
        .low_hz = fmin(c->step.from_hz, c->step.to_hz) / 1.5,
        .high_hz = fmax(c->step.from_hz, c->step.to_hz) * 1.5,
    };
    return claim_draw(doc, &data, given);
}

static json_t *ranges_json(const fe_claim_range *range)
{
    return json_pack("{s:f, s:f, s:f}", "equal_gain", range->equal_gain, "one_equal_area",
                     range->one_equal_area, "equal_area", range->equal_area);
}

static json_t *step_json(const step_claim *c)
{
    const fe_claim_answer *a = &c->answer;
    json_t *causes = json_array();
    for (size_t i = 0; i < a->cause_count; i++)
        output_json_append(&causes, json_pack("{s:s, s:f, s:f, s:s, s:s}", "name",
                                              a->causes[i].name, "low_db", a->causes[i].low_db,
                                              "high_db", a->causes[i].high_db, "when",
                                              a->causes[i].how, "source", a->causes[i].source));
    /* Of the band that was asked about last, or of the first that is closed. */
    const int at = a->open[0] ? 1 : 0;
    json_t *root = json_pack(
        "{s:s, s:s, s:f, s:f, s:f, s:f, s:f, s:f, s:b, s:f, s:f, s:f}", "verdict",
        fe_claim_verdict_name(a->verdict), "reading", c->reading, "factor_claimed",
        c->step.factor, "factor_free_space", a->free_space.equal_gain, "needed_db",
        a->needed_db, "explained_db", a->explained_db, "unexplained_db", a->unexplained_db,
        "unexplained_beyond_breakpoint_db", a->unexplained_beyond_db, "band_open",
        a->open[0] && a->open[1], "nearest_open_band_ghz", c->bands[at].named_hz / 1e9,
        "break_point_before_m", a->break_from_m, "break_point_after_m", a->break_to_m);
    output_json_set(&root, "free_space", ranges_json(&a->free_space));
    output_json_set(&root, "beyond_break_point", ranges_json(&a->beyond));
    output_json_set(&root, "factor_through_obstacles", json_real(a->through_free_space));
    output_json_set(&root, "factor_through_obstacles_beyond", json_real(a->through_beyond));
    output_json_set(&root, "causes", causes);
    return root;
}

int claim_step(const options *given)
{
    fe_claim_factor factor;
    static const double HEIGHT_M = 2.0;
    step_claim c = {.step = {.trees_m = options_number(given, "trees", 0.0),
                             .trees = {.kind = FE_TREES_DECIDUOUS, .in_leaf = true},
                             .region = radio_setup_region(given),
                             .confirm_db = FE_CLAIM_CONFIRM_DB}};
    bool good = claim_frequency_is_plausible(given, "from");
    good = claim_frequency_is_plausible(given, "to") && good;
    good = read_factor(given, &factor) && good;
    good = radio_setup_heights(CLAIM_WHO, given, HEIGHT_M, c.step.height_m) && good;
    good = radio_setup_walls(CLAIM_WHO, given, c.walls, &c.step.wall_count) && good;
    if (!good)
        return EXIT_BAD_INPUT;
    c.step.from_hz = options_number(given, "from", 0.0);
    c.step.to_hz = options_number(given, "to", 0.0);
    c.step.factor = factor.factor;
    c.step.walls = c.walls;
    word_reading(options_text(given, "range-factor"), &factor, c.reading, sizeof c.reading);
    fe_status status = fe_claim_test(&c.step, &c.answer);
    for (int i = 0; i < 2 && status >= 0; i++)
        status = fe_status_worse(
            status,
            fe_claim_band_at(c.step.region, i ? c.step.to_hz : c.step.from_hz, &c.bands[i]));
    if (status < 0)
        return output_failed(CLAIM_WHO, status);
    fe_document *doc = fe_document_new("Going from %g to %g GHz: %.3g times the range?",
                                       c.step.from_hz / 1e9, c.step.to_hz / 1e9, c.step.factor);
    say_step_verdict(doc, &c);
    fe_document_paragraph(doc, "%s.", c.reading);
    say_balance(doc, &c);
    say_ranges(doc, &c);
    status = draw_step(doc, &c, given);
    int code =
        status < 0 ? output_failed(CLAIM_WHO, status) : output_document(CLAIM_WHO, given, doc);
    if (options_given(given, "json") && code != EXIT_BAD_INPUT &&
        output_json(CLAIM_WHO, step_json(&c), OUTPUT_JSON_FLAGS) != EXIT_DONE)
        code = EXIT_WORK_FAILED;
    fe_document_free(doc);
    return code;
}
