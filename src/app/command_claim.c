/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend claim`: a statement about range, put to the test. */
#include "app/command.h"
#include "app/output.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "app/radio_setup.h"
#include "farend/claim.h"
#include "farend/figures.h"

static const char WHO[] = "farend claim";

static const option OPTIONS[] = {
    {.name = "from",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .bounds = "1 Hz..1000 THz",
     .help = "frequency before"},
    {.name = "to",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .bounds = "1 Hz..1000 THz",
     .help = "frequency after"},
    {.name = "range-factor",
     .kind = OPTION_TEXT,
     .metavar = "FACTOR",
     .help = "claimed change of range: 4, +300%, 300%"},
    {.name = "frequency",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .bounds = "1 Hz..1000 THz",
     .help = "frequency of a claim about one piece of gear"},
    {.name = "distance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1 mm..1000000 km",
     .help = "how far it is claimed to reach"},
    OPTION_ROWS_RADIO,
    OPTION_ROW_FIGURES,
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_PROFILES,
    {0},
};

/* ---- Questions before anything is computed ---- */

static bool frequency_is_plausible(const options *given, const char *name)
{
    const double f_hz = options_number(given, name, 2.4e9);
    const double meant_hz = fe_claim_frequency_meant_hz(f_hz);
    if (meant_hz == 0.0)
        return true;
    options_complain(
        WHO, "--%s: %s is no frequency of a radio link; did you mean %g GHz? Then say so", name,
        options_text(given, name), meant_hz / 1e9);
    return false;
}

static bool distance_is_plausible(const options *given)
{
    const double distance_m = options_number(given, "distance", 100.0);
    const double meant_m = fe_claim_distance_meant_m(distance_m);
    if (meant_m == 0.0)
        return true;
    options_complain(
        WHO, "--distance: %s is no range of a radio link; did you mean %g m? Then say so",
        options_text(given, "distance"), meant_m);
    return false;
}

static bool read_factor(const options *given, fe_claim_factor *factor)
{
    const char *text = options_text(given, "range-factor");
    if (fe_claim_factor_parse(text, factor) < 0) {
        if (*text == '+' || *text == '-')
            options_complain(WHO,
                             "--range-factor: %s can be read in two ways; write %s%% for a "
                             "change in percent, or %s for so many times",
                             text, text, text + 1);
        else
            options_complain(WHO,
                             "--range-factor: read \"%s\", expected times or percent, for "
                             "example 4, +300%% or 300%%",
                             text);
        return false;
    }
    if (factor->reading == FE_CLAIM_TIMES && factor->factor > FE_CLAIM_MOST_TIMES) {
        options_complain(WHO,
                         "--range-factor: %s times the range? If percent is meant, write %s%% "
                         "(%g times) or +%s%% (%g times)",
                         text, text, factor->factor / 100.0, text,
                         1.0 + factor->factor / 100.0);
        return false;
    }
    return true;
}

/* ---- From one frequency to another ---- */

typedef struct step_claim {
    fe_claim_step step;
    fe_claim_answer answer;
    char reading[160];
    fe_hop_wall walls[SETUP_WALLS];
    fe_claim_band bands[2];
} step_claim;

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

static fe_status add_claim_figure(fe_document *doc, const fe_claim_curve_data *data,
                                  const options *given)
{
    if (!options_given(given, "figures"))
        return FE_OK; /* words alone: gnuplot need not run */
    fe_figure figure = FE_FIGURE_INIT;
    const fe_status built = fe_figure_claim(data, output_units(given), &figure);
    return output_draw(WHO, built, &figure, doc);
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
    return add_claim_figure(doc, &data, given);
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

static int run_step(const options *given)
{
    fe_claim_factor factor;
    static const double HEIGHT_M = 2.0;
    step_claim c = {.step = {.trees_m = options_number(given, "trees", 0.0),
                             .trees = {.kind = FE_TREES_DECIDUOUS, .in_leaf = true},
                             .region = radio_setup_region(given),
                             .confirm_db = FE_CLAIM_CONFIRM_DB}};
    bool good = frequency_is_plausible(given, "from");
    good = frequency_is_plausible(given, "to") && good;
    good = read_factor(given, &factor) && good;
    good = radio_setup_heights(WHO, given, HEIGHT_M, c.step.height_m) && good;
    good = radio_setup_walls(WHO, given, c.walls, &c.step.wall_count) && good;
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
        return output_failed(WHO, status);
    fe_document *doc = fe_document_new("Going from %g to %g GHz: %.3g times the range?",
                                       c.step.from_hz / 1e9, c.step.to_hz / 1e9, c.step.factor);
    say_step_verdict(doc, &c);
    fe_document_paragraph(doc, "%s.", c.reading);
    say_balance(doc, &c);
    say_ranges(doc, &c);
    status = draw_step(doc, &c, given);
    int code = status < 0 ? output_failed(WHO, status) : output_document(WHO, given, doc);
    if (options_given(given, "json") && code != EXIT_BAD_INPUT &&
        output_json(WHO, step_json(&c), OUTPUT_JSON_FLAGS) != EXIT_DONE)
        code = EXIT_WORK_FAILED;
    fe_document_free(doc);
    return code;
}

/* ---- Gear that reaches a distance ---- */

typedef struct reach_claim {
    radio_setup setup;
    double f_hz;
    bool moved; /* off the band's edge */
    double distance_m;
    fe_claim_band band;
    double used_hz; /* frequency the claim was computed at */
    fe_band used;
    fe_hop_budget budget;
    double range_m[3]; /* with a chance of 90, 50, 10 % */
    fe_claim_verdict verdict;
    char reading[160];
} reach_claim;

static const double CHANCES[3] = {0.9, 0.5, 0.1};

/* The band of the gear that is nearest by ratio to a frequency; false where it has none. */
static bool nearest_of_gear(const fe_gear *gear, fe_region region, double f_hz, fe_band *band)
{
    double nearest = INFINITY;
    for (int b = 0; b < FE_BANDS; b++) {
        if (!fe_gear_radio(gear, (fe_band)b))
            continue;
        const double ratio = fabs(log(fe_band_frequency((fe_band)b, region) / f_hz));
        if (ratio < nearest) {
            nearest = ratio;
            *band = (fe_band)b;
        }
    }
    return isfinite(nearest);
}

static fe_status compute_at(const reach_claim *c, double distance_m, fe_hop_budget *budget)
{
    const radio_setup *setup = &c->setup;
    fe_hop hop = setup->hop;
    fe_profile ground = {0};
    fe_stand stand = setup->trees;
    fe_status status = fe_profile_even(distance_m, 0.0, fmax(0.5, distance_m / 20.0), &ground);
    if (status < 0)
        return status;
    hop.ground = &ground;
    if (hop.stand_count > 0) {
        const double depth_m = fmin(stand.to_m - stand.from_m, distance_m);
        stand.from_m = (distance_m - depth_m) / 2.0;
        stand.to_m = (distance_m + depth_m) / 2.0;
        hop.stands = &stand;
    }
    status = fe_hop_budget_compute(&hop, setup->seasons, setup->season_count, &setup->wanted,
                                   budget);
    fe_profile_free(&ground);
    return status;
}

static fe_status chance_at(const reach_claim *c, double distance_m, double *chance)
{
    fe_hop_budget budget;
    const fe_status status = compute_at(c, distance_m, &budget);
    if (status < 0)
        return status;
    *chance = budget.chance;
    fe_hop_budget_free(&budget);
    return status;
}

/* Farthest place up to which the chance stays, walking outwards by steps of a tenth. */
static fe_status find_range(const reach_claim *c, double wanted, double *range_m)
{
    /* As far as any way that is asked about; the walk ends where the chance falls short. */
    static const double NEAREST_M = 2.0, FARTHEST_M = 50e3, GROWTH = 1.1;
    double low_m = 0.0;
    double high_m = NEAREST_M;
    fe_status status = FE_OK;
    for (; high_m < FARTHEST_M && status >= 0; low_m = high_m, high_m *= GROWTH) {
        double chance = 0.0;
        status = fe_status_worse(status, chance_at(c, high_m, &chance));
        if (chance < wanted)
            break;
    }
    for (int i = 0; i < 8 && low_m > 0.0 && status >= 0; i++) {
        const double middle_m = (low_m + high_m) / 2.0;
        double chance = 0.0;
        status = fe_status_worse(status, chance_at(c, middle_m, &chance));
        if (chance < wanted)
            high_m = middle_m;
        else
            low_m = middle_m;
    }
    *range_m = low_m;
    return status;
}

static fe_status compute_reach(reach_claim *c)
{
    fe_status status = fe_claim_band_at(c->setup.hop.region, c->f_hz, &c->band);
    if (status < 0)
        return status;
    c->used = c->band.band;
    c->used_hz = c->band.f_hz;
    if (!fe_gear_radio(c->setup.gear[0], c->used)) {
        if (!nearest_of_gear(c->setup.gear[0], c->setup.hop.region, c->f_hz, &c->used))
            return FE_E_NO_SOLUTION;
        c->used_hz = fe_band_frequency(c->used, c->setup.hop.region);
    }
    if (!radio_setup_tune(&c->setup, c->used, c->used_hz))
        return FE_E_NO_SOLUTION;
    status = compute_at(c, c->distance_m, &c->budget);
    const double middle_hz = fe_band_frequency(c->used, c->setup.hop.region);
    if (status == FE_E_NO_SOLUTION && c->used_hz != middle_hz) {
        /* So near the band's edge that no channel of this gear has room. */
        c->used_hz = middle_hz;
        c->moved = true;
        if (!radio_setup_tune(&c->setup, c->used, c->used_hz))
            return FE_E_NO_SOLUTION;
        status = compute_at(c, c->distance_m, &c->budget);
    }
    for (int i = 0; i < 3 && status >= 0; i++)
        status = fe_status_worse(status, find_range(c, CHANCES[i], &c->range_m[i]));
    if (status < 0)
        return status;
    const double confidence = c->setup.wanted.confidence;
    c->verdict = !c->band.open                    ? FE_CLAIM_BAND_CLOSED
                 : c->budget.chance >= confidence ? FE_CLAIM_HOLDS
                                                  : FE_CLAIM_NEEDS_MORE;
    return status;
}

/* What the path asks for and what the gear has, of the weaker direction in the worst season. */
static double needed_of(const reach_claim *c)
{
    const fe_hop_season *s = &c->budget.seasons[c->budget.worst];
    return s->loss.total_db + s->fade_db + (s->margin_db - s->margin_low_db) +
           (s->from[s->weaker].paper_margin_db - s->fade_db - s->margin_db);
}

static double explained_of(const reach_claim *c)
{
    const fe_hop_season *s = &c->budget.seasons[c->budget.worst];
    return s->from[s->weaker].paper_margin_db + s->loss.total_db;
}

/* Where it was computed, if not at the frequency claimed. */
static void say_reach_band(fe_document *doc, const reach_claim *c)
{
    if (!c->band.open) {
        fe_document_verdict(doc, FE_MARK_FAILS,
                            "%s lies in no band that is open to Wi-Fi under the rules of the "
                            "%s: transmitting there is not licence-exempt. The nearest open "
                            "band is %s; the claim was computed there.",
                            fe_amount(doc, c->f_hz, FE_STYLE_FREQUENCY),
                            fe_region_name(c->setup.hop.region), fe_band_name(c->band.band));
    } else if (c->band.indoors) {
        fe_document_caution(doc, "At %s gear may transmit indoors only.",
                            fe_amount(doc, c->f_hz, FE_STYLE_FREQUENCY));
    }
    if (c->band.by_name)
        fe_document_paragraph(doc, "%s is read as the name of the band; computed at %s.",
                              fe_amount(doc, c->f_hz, FE_STYLE_FREQUENCY),
                              fe_amount(doc, c->used_hz, FE_STYLE_FREQUENCY));
    else if (c->moved)
        fe_document_caution(doc,
                            "No channel of this gear has room at %s, so near the edge of the "
                            "band; computed at %s.",
                            fe_amount(doc, c->f_hz, FE_STYLE_FREQUENCY),
                            fe_amount(doc, c->used_hz, FE_STYLE_FREQUENCY));
    if (c->used != c->band.band)
        fe_document_caution(doc, "This class has no radio at %s; computed at %s.",
                            fe_band_name(c->band.band), fe_band_name(c->used));
}

static void say_reach_verdict(fe_document *doc, const reach_claim *c)
{
    const fe_hop_season *worst = &c->budget.seasons[c->budget.worst];
    const radio_setup *setup = &c->setup;
    const bool holds = c->budget.chance >= setup->wanted.confidence;
    fe_document_verdict(
        doc,
        holds                                               ? FE_MARK_HOLDS
        : worst->margin_db >= 0.0 && c->budget.chance > 0.0 ? FE_MARK_TIGHT
                                                            : FE_MARK_FAILS,
        "%s at %s and %s: a chance of %s, margin %s in %s.",
        fe_amount(doc, c->distance_m, FE_STYLE_DISTANCE),
        fe_amount(doc, c->used_hz, FE_STYLE_FREQUENCY),
        fe_amount(doc, setup->wanted.rate_bps[0], FE_STYLE_DATA_RATE),
        fe_amount_beside(doc, c->budget.chance, setup->wanted.confidence, FE_STYLE_PERCENT),
        fe_amount_beside(doc, worst->margin_db, 0.0, FE_STYLE_RATIO),
        setup->seasons[c->budget.worst].name);
    if (!c->budget.carries_rate && c->budget.duty_cycle < 1.0)
        fe_document_caution(doc,
                            "The rules let this gear send %s of the time, which is too little "
                            "for %s at any distance.",
                            fe_amount(doc, c->budget.duty_cycle, FE_STYLE_PERCENT),
                            fe_amount(doc, setup->wanted.rate_bps[0], FE_STYLE_DATA_RATE));
    else if (!c->budget.carries_rate)
        fe_document_caution(doc, "The fastest mode of this gear is too slow for %s.",
                            fe_amount(doc, setup->wanted.rate_bps[0], FE_STYLE_DATA_RATE));
}

static void say_reach_ranges(fe_document *doc, const reach_claim *c)
{
    fe_document_heading(doc, 2, "How far it reaches");
    fe_document_table(doc, "Range by chance", "chance|range>");
    for (int i = 0; i < 3; i++) {
        fe_document_row(doc);
        fe_document_cell(doc, "%s", fe_amount(doc, CHANCES[i], FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", fe_amount(doc, c->range_m[i], FE_STYLE_DISTANCE));
    }
}

static void say_reach_seasons(fe_document *doc, const reach_claim *c)
{
    const radio_setup *setup = &c->setup;
    fe_document_heading(doc, 2, "At the distance claimed");
    fe_document_table(doc, "By season", "season|margin>|chance>|level>|needed>");
    for (size_t i = 0; i < c->budget.season_count; i++) {
        const fe_hop_season *s = &c->budget.seasons[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", setup->seasons[i].name);
        fe_document_cell(doc, "%s", fe_amount_beside(doc, s->margin_db, 0.0, FE_STYLE_RATIO));
        fe_document_cell(
            doc, "%s",
            fe_amount_beside(doc, s->chance, setup->wanted.confidence, FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s",
                         fe_amount(doc, s->from[s->weaker].level_dbm, FE_STYLE_LEVEL));
        fe_document_cell(doc, "%s",
                         fe_amount(doc, s->from[s->weaker].threshold_dbm, FE_STYLE_LEVEL));
    }
    fe_document_pair(doc, "Rate delivered", "%s",
                     fe_amount(doc, c->budget.delivered_rate_bps, FE_STYLE_DATA_RATE));
    fe_document_pair(doc, "Way and build ask for", "%s",
                     fe_amount(doc, needed_of(c), FE_STYLE_RATIO));
    fe_document_pair(doc, "Gear can give", "%s",
                     fe_amount(doc, explained_of(c), FE_STYLE_RATIO));
}

static void say_reach(fe_document *doc, const reach_claim *c)
{
    say_reach_band(doc, c);
    say_reach_verdict(doc, c);
    fe_document_paragraph(doc, "A pair of %s, %s apart.", c->setup.gear[0]->label,
                          fe_amount(doc, c->distance_m, FE_STYLE_DISTANCE));
    say_reach_ranges(doc, c);
    say_reach_seasons(doc, c);
    radio_setup_print(&c->setup, doc);
}

static json_t *reach_json(const reach_claim *c)
{
    const double needed_db = needed_of(c);
    const double explained_db = explained_of(c);
    const fe_hop_season *worst = &c->budget.seasons[c->budget.worst];
    json_t *root =
        json_pack("{s:s, s:s, s:b, s:f, s:f, s:f, s:f, s:f, s:f, s:s, s:f, s:f, s:f, s:f}",
                  "verdict", fe_claim_verdict_name(c->verdict), "reading", c->reading,
                  "band_open", c->band.open, "nearest_open_band_ghz", c->band.named_hz / 1e9,
                  "frequency_hz", c->f_hz, "computed_frequency_hz", c->used_hz, "distance_m",
                  c->distance_m, "chance", c->budget.chance, "margin_db", worst->margin_db,
                  "worst_season", c->setup.seasons[c->budget.worst].name, "range_90_m",
                  c->range_m[0], "range_50_m", c->range_m[1], "range_10_m", c->range_m[2],
                  "delivered_rate_mbps", c->budget.delivered_rate_bps / 1e6);
    output_json_set(&root, "factor_claimed",
                    c->range_m[1] > 0.0 ? json_real(c->distance_m / c->range_m[1])
                                        : json_null());
    output_json_set(&root, "factor_free_space", json_real(c->used_hz / c->f_hz));
    output_json_set(&root, "needed_db", json_real(needed_db));
    output_json_set(&root, "explained_db", json_real(explained_db));
    output_json_set(&root, "unexplained_db", json_real(fmax(0.0, needed_db - explained_db)));
    output_json_set(&root, "assumptions", radio_setup_json(&c->setup));
    return root;
}

/* Range at every frequency as if the gear's band were moved there, over that at its own. */
static fe_status draw_reach(fe_document *doc, const reach_claim *c, const options *given)
{
    if (!(c->range_m[1] > 0.0))
        return FE_OK;
    const fe_claim_curve_data data = {
        .id = "claim",
        .title = "Range against frequency",
        .from_hz = c->used_hz,
        .to_hz = c->f_hz,
        .claimed = c->distance_m / c->range_m[1],
        .low_hz = fmin(c->f_hz, c->used_hz) / 1.5,
        .high_hz = fmax(c->f_hz, c->used_hz) * 1.5,
        .range_m = c->range_m[1],
    };
    return add_claim_figure(doc, &data, given);
}

static int run_reach(const options *given)
{
    reach_claim c = {.f_hz = options_number(given, "frequency", 0.0),
                     .distance_m = options_number(given, "distance", 0.0)};
    bool good = frequency_is_plausible(given, "frequency");
    good = distance_is_plausible(given) && good;
    if (!good)
        return EXIT_BAD_INPUT;
    int code = EXIT_DONE;
    const radio_way way = {c.distance_m, false, "rate"};
    if (!radio_setup_options(WHO, given, &way, &c.setup, &code)) {
        radio_setup_free(&c.setup);
        return code;
    }
    snprintf(c.reading, sizeof c.reading, "A pair of %s at %g GHz, %g m apart, at %g Mb/s",
             c.setup.gear[0]->name, c.f_hz / 1e9, c.distance_m,
             c.setup.wanted.rate_bps[0] / 1e6);
    fe_document *doc = fe_document_new("Does %s at %g GHz reach as far as claimed?",
                                       c.setup.gear[0]->name, c.f_hz / 1e9);
    fe_status status = compute_reach(&c);
    if (status < 0) {
        code = output_failed(WHO, status);
    } else {
        say_reach(doc, &c);
        status = draw_reach(doc, &c, given);
        code = status < 0 ? output_failed(WHO, status) : output_document(WHO, given, doc);
        if (options_given(given, "json") &&
            output_json(WHO, reach_json(&c), OUTPUT_JSON_FLAGS) != EXIT_DONE)
            code = EXIT_WORK_FAILED;
    }
    fe_hop_budget_free(&c.budget);
    fe_document_free(doc);
    radio_setup_free(&c.setup);
    return code;
}

/* Says which of the names are missing, or in the way; how many. */
static int complain_of(const options *given, const char *const *names, bool wanted,
                       const char *what)
{
    int mistakes = 0;
    for (; *names; names++)
        if (options_given(given, *names) != wanted) {
            options_complain(WHO, "--%s%s", *names, what);
            mistakes++;
        }
    return mistakes;
}

static int run(const options *given)
{
    const bool step = options_given(given, "from") || options_given(given, "to") ||
                      options_given(given, "range-factor");
    const bool reach = options_given(given, "frequency") || options_given(given, "distance");
    if (step && reach) {
        options_complain(WHO, "--from, --to, --range-factor are one kind of claim, --frequency "
                              "and --distance another: test one at a time");
        return EXIT_BAD_INPUT;
    }
    static const char *const STEP[] = {"from", "to", "range-factor", NULL};
    static const char *const REACH[] = {"frequency", "distance", NULL};
    static const char *const OF_GEAR[] = {"gear", "rate", NULL};
    int mistakes = complain_of(given, reach ? REACH : STEP, true, " is missing");
    if (step)
        mistakes += complain_of(given, OF_GEAR, false,
                                ": goes with --frequency and --distance; a step of frequency "
                                "is tested for any gear");
    if (mistakes > 0)
        return EXIT_BAD_INPUT;
    return step ? run_step(given) : run_reach(given);
}

const command COMMAND_CLAIM = {
    .name = "claim",
    .summary = "test a statement about range",
    .usage = "--from F --to F --range-factor K [OPTION]...\n"
             "--frequency F --distance D [OPTION]...",
    .description =
        "Tests one of two kinds of statement. \"Going from one frequency to another\n"
        "multiplies the range by K\": what frequency alone gives in free space, beyond the\n"
        "break-point, through the walls and trees named, and which causes could supply the\n"
        "rest. \"This gear reaches D at F\": the chance, the margin and the range, and\n"
        "whether Wi-Fi may transmit there at all.\n"
        "\n"
        "4 is four times the range, 300% three times, +300% four times; the answer says\n"
        "which reading it used.\n",
    .options = OPTIONS,
    .example = "--from 5.2GHz --to 2.4GHz --range-factor 4",
    .run = run,
};
