/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A claim that gear reaches a distance. */
#include "app/claim_kinds.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>

#include "app/command.h"
#include "app/output.h"
#include "app/radio_setup.h"
#include "farend/claim.h"

static bool distance_is_plausible(const options *given)
{
    const double distance_m = options_number(given, "distance", 100.0);
    const double meant_m = fe_claim_distance_meant_m(distance_m);
    if (meant_m == 0.0)
        return true;
    options_complain(
        CLAIM_WHO, "--distance: %s is no range of a radio link; did you mean %g m? Then say so",
        options_text(given, "distance"), meant_m);
    return false;
}

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
    return claim_draw(doc, &data, given);
}

int claim_reach(const options *given)
{
    reach_claim c = {.f_hz = options_number(given, "frequency", 0.0),
                     .distance_m = options_number(given, "distance", 0.0)};
    bool good = claim_frequency_is_plausible(given, "frequency");
    good = distance_is_plausible(given) && good;
    if (!good)
        return EXIT_BAD_INPUT;
    int code = EXIT_DONE;
    const radio_way way = {c.distance_m, false, "rate"};
    if (!radio_setup_options(CLAIM_WHO, given, &way, &c.setup, &code)) {
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
        code = output_failed(CLAIM_WHO, status);
    } else {
        say_reach(doc, &c);
        status = draw_reach(doc, &c, given);
        code = status < 0 ? output_failed(CLAIM_WHO, status)
                          : output_document(CLAIM_WHO, given, doc);
        if (options_given(given, "json") &&
            output_json(CLAIM_WHO, reach_json(&c), OUTPUT_JSON_FLAGS) != EXIT_DONE)
            code = EXIT_WORK_FAILED;
    }
    fe_hop_budget_free(&c.budget);
    fe_document_free(doc);
    radio_setup_free(&c.setup);
    return code;
}
