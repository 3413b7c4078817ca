/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer of `farend relays` as text, figures and JSON. */
#include "app/relays_answer.h"

#include <jansson.h>
#include <stdio.h>
#include <string.h>

#include "app/output.h"
#include "farend/figures.h"

static const char *season_of(const radio_setup *setup, const fe_chain *chain)
{
    return setup->seasons[chain->worst_season].name;
}

static const fe_chain *best_chain(const relays_band *band)
{
    return &band->choice.ways[band->choice.best].chain;
}

static double wanted_bps(const relays_band *band)
{
    return band->wanted.rate_bps[0] + band->wanted.rate_bps[1];
}

/* "shore, 5 GHz" where there is more than one path, else the band alone. */
static const char *subject(const relays_answer *answer, const relays_band *band, char *room,
                           size_t size)
{
    if (answer->path_count > 1)
        snprintf(room, size, "%s, %s", answer->setup.plan.paths[band->path].name,
                 fe_band_name(band->band));
    else
        snprintf(room, size, "%s", fe_band_name(band->band));
    return room;
}

/* ---- What would help ---- */

static void put_change(fe_document *doc, const relays_band *band,
                       const fe_relay_what_if *change, fe_strbuf *out)
{
    switch (change->kind) {
    case FE_RELAY_OTHER_ENDS:
        if (strcmp(change->ends[0]->name, change->ends[1]->name) == 0)
            fe_strbuf_format(out, "%s at both ends", change->ends[0]->name);
        else
            fe_strbuf_format(out, "%s and %s at the ends", change->ends[0]->name,
                             change->ends[1]->name);
        break;
    case FE_RELAY_BEAMS:
        fe_strbuf_format(out, "a pair of %s, hung outdoors, without a relay",
                         change->gear->label);
        break;
    case FE_RELAY_ANYWHERE:
        fe_strbuf_append(out, "relays at other places than the plan allows");
        break;
    case FE_RELAY_HIGHER:
        fe_strbuf_format(out, "relays %s higher up",
                         fe_amount(doc, change->rise_m, FE_STYLE_HEIGHT));
        break;
    case FE_RELAY_SLOWER:
        fe_strbuf_format(out, "a rate of %s in all",
                         fe_amount(doc, change->share * wanted_bps(band), FE_STYLE_DATA_RATE));
        break;
    case FE_RELAY_OTHER_BAND:
        fe_strbuf_append(out, fe_band_name(change->band));
        break;
    case FE_RELAY_CHANGES:
        break;
    }
}

static void say_changes(fe_document *doc, const relays_band *band)
{
    if (band->choice.verdict == FE_VERDICT_HOLDS)
        return;
    fe_document_table(doc, "If one thing were changed, each worked out again",
                      "change|relays>|margin>|chance>|verdict");
    for (size_t i = 0; i < band->changes.count; i++) {
        const fe_relay_what_if *change = &band->changes.items[i];
        fe_strbuf text = FE_STRBUF_INIT;
        put_change(doc, band, change, &text);
        fe_document_row(doc);
        fe_document_cell(doc, "%s", fe_strbuf_text(&text));
        fe_document_cell(doc, "%u", change->relays);
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, change->score.margin_db, 0.0, FE_STYLE_RATIO));
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, change->score.chance, band->wanted.confidence,
                                          FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", fe_mark_of(doc, fe_mark_of_verdict(change->score.verdict)));
        fe_document_free_text(doc, &text);
    }
    if (!fe_relay_changes_best(&band->changes))
        fe_document_paragraph(doc, "None of these alone does it: two of them together, or a "
                                   "cable, may.");
}

/* ---- Verdicts ---- */

static void say_holding(fe_document *doc, const radio_setup *setup, const char *name,
                        const relays_band *band)
{
    const fe_chain *chain = best_chain(band);
    const char *chance =
        fe_amount_beside(doc, chain->chance, band->wanted.confidence, FE_STYLE_PERCENT);
    const char *margin = fe_amount_beside(doc, chain->margin_db, 0.0, FE_STYLE_RATIO);
    if (chain->relays == 0)
        fe_document_verdict(doc, FE_MARK_HOLDS,
                            "%s: no relay is needed; a chance of %s, margin %s in %s.", name,
                            chance, margin, season_of(setup, chain));
    else
        fe_document_verdict(doc, FE_MARK_HOLDS,
                            "%s: %u relay%s of the class %s; a chance of %s, margin %s in %s.",
                            name, chain->relays, chain->relays == 1 ? "" : "s",
                            band->choice.class.gear->label, chance, margin,
                            season_of(setup, chain));
}

static void say_failing(fe_document *doc, const radio_setup *setup, const char *name,
                        const relays_band *band)
{
    const fe_chain *chain = best_chain(band);
    const fe_relay_what_if *change = fe_relay_changes_best(&band->changes);
    fe_strbuf help = FE_STRBUF_INIT;
    if (change) {
        fe_strbuf_append(&help, "It would hold with ");
        put_change(doc, band, change, &help);
        fe_strbuf_format(&help, ", a chance of %s",
                         fe_amount_beside(doc, change->score.chance, band->wanted.confidence,
                                          FE_STYLE_PERCENT));
    } else {
        fe_strbuf_append(&help, "No single change that was tried does it");
    }
    fe_document_verdict(
        doc, fe_mark_of_verdict(band->choice.verdict),
        "%s: up to %u relay%s of the class %s do%s not reach the confidence; "
        "best with %s, a chance of %s, margin %s in %s. %s.",
        name, band->choice.looked_at, band->choice.looked_at == 1 ? "" : "s",
        band->choice.class.gear->label, band->choice.looked_at == 1 ? "es" : "",
        fe_amount_count(doc, chain->relays),
        fe_amount_beside(doc, chain->chance, band->wanted.confidence, FE_STYLE_PERCENT),
        fe_amount_beside(doc, chain->margin_db, 0.0, FE_STYLE_RATIO), season_of(setup, chain),
        fe_strbuf_text(&help));
    fe_document_free_text(doc, &help);
}

/* ---- One band ---- */

/* One more than the best shows what another brings; the rest is in the JSON. */
static size_t rows_of(const fe_relay_choice *choice)
{
    return choice->best + 2 < choice->count ? choice->best + 2 : choice->count;
}

static void say_numbers(fe_document *doc, const radio_setup *setup, const relays_band *band)
{
    const size_t rows = rows_of(&band->choice);
    fe_document_table(doc, "Against the number of relays, one shared channel",
                      "relays>|longest hop>|rate>|delay>|margin>|chance>|worst season");
    for (size_t i = 0; i < rows; i++) {
        const fe_chain *chain = &band->choice.ways[i].chain;
        fe_document_row(doc);
        fe_document_cell(doc, "%u", chain->relays);
        fe_document_cell(doc, "%s", fe_amount(doc, chain->hop_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s",
                         fe_amount(doc, chain->delivered_rate_bps, FE_STYLE_DATA_RATE));
        fe_document_cell(doc, "%s", fe_amount(doc, chain->delay_s, FE_STYLE_TIME));
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, chain->margin_db, 0.0, FE_STYLE_RATIO));
        fe_document_cell(
            doc, "%s",
            fe_amount_beside(doc, chain->chance, band->wanted.confidence, FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", season_of(setup, chain));
    }
    if (band->choice.verdict != FE_VERDICT_HOLDS && rows <= band->choice.looked_at)
        fe_document_paragraph(doc, "More of them, up to %u, do no better.",
                              band->choice.looked_at);
}

static void say_ends(fe_document *doc, const relays_answer *answer, const relays_band *band)
{
    const fe_plan *plan = &answer->setup.plan;
    const fe_plan_path *path = answer->setup.from_plan ? &plan->paths[band->path] : NULL;
    fe_document_pair(doc, path ? plan->ends[path->from].name : "first end", "%s",
                     band->ends[0]->name);
    fe_document_pair(doc, path ? plan->ends[path->to].name : "far end", "%s",
                     band->ends[1]->name);
    fe_document_pair(doc, "distance", "%s", fe_amount(doc, band->length_m, FE_STYLE_DISTANCE));
    fe_document_pair(doc, "wanted rate", "%s",
                     fe_amount(doc, wanted_bps(band), FE_STYLE_DATA_RATE));
}

/* What the search takes as given. */
static void say_given(fe_document *doc, const relays_answer *answer, const relays_band *band)
{
    const fe_plan *plan = &answer->setup.plan;
    if (!answer->setup.from_plan)
        return;
    const fe_plan_path *path = &plan->paths[band->path];
    if (plan->ends[path->from].gear.count > 1 || plan->ends[path->to].gear.count > 1)
        fe_document_item(doc, "The ends keep the gear that does best without a relay%s.",
                         band->choice.verdict == FE_VERDICT_HOLDS
                             ? ""
                             : "; other gear that the plan names is a change below");
    if (band->path > 0 && !plan->relay.anywhere && plan->relay.places_m.count > 0)
        fe_document_item(doc,
                         "The plan tells its places for relays along %s; on this path they may "
                         "stand anywhere, and none is known to have power.",
                         plan->paths[0].name);
}

static void say_places(fe_document *doc, const radio_setup *setup, const relays_band *band)
{
    const fe_relay_way *way = &band->choice.ways[band->choice.best];
    const fe_gear *gear = band->choice.class.gear;
    for (unsigned i = 0; i < way->chain.relays; i++) {
        const fe_chain_place *place = &way->places[i];
        const bool powered =
            setup->from_plan && fe_relay_has_power(&setup->plan, band->path, place->at_m);
        fe_document_item(doc, "Relay %u at %s, antenna %s above the ground: %s; %s %s.", i + 1,
                         fe_amount(doc, place->at_m, FE_STYLE_LENGTH),
                         fe_amount(doc, place->station.height_m, FE_STYLE_HEIGHT),
                         gear->outdoor ? "outdoors as it is"
                                       : "in a weatherproof case that lets radio through, "
                                         "since this class knows no rain and no frost",
                         powered ? "power is there for its" : "power must come there for its",
                         fe_amount(doc, gear->power_w, FE_STYLE_POWER));
    }
}

/* Why what was asked for does not stand between. */
static void say_named(fe_document *doc, const relays_band *band)
{
    const fe_relay_choice *choice = &band->choice;
    if (!band->named || band->named == choice->class.gear)
        return;
    for (size_t i = 0; i < choice->trial_count; i++) {
        const fe_relay_trial *trial = &choice->trials[i];
        if (trial->class.gear != band->named)
            continue;
        fe_document_item(
            doc,
            "%s was asked for and does not hold as a relay: %s at best, with %u "
            "of them; so %s stands between the ends.",
            band->named->name,
            fe_amount_beside(doc, trial->chance, band->wanted.confidence, FE_STYLE_PERCENT),
            trial->relays, choice->class.gear->label);
        return;
    }
    fe_document_item(doc,
                     "%s was asked for but cannot be a relay in this band (a beam looks one "
                     "way only, and not all gear passes traffic on); so %s stands between the "
                     "ends.",
                     band->named->label, choice->class.gear->label);
}

static void say_gear(fe_document *doc, const relays_band *band)
{
    const fe_relay_choice *choice = &band->choice;
    say_named(doc, band);
    if (choice->trial_count == 1 && choice->class.owned > 0)
        fe_document_item(doc, "%u of the class %s %s owned already and did for a first try.",
                         choice->class.owned, choice->class.gear->label,
                         choice->class.owned == 1 ? "is" : "are");
    if (choice->trial_count < 2)
        return;
    fe_document_table(doc, "Gear for relays, in the order in which it was tried",
                      "class|owned>|relays>|margin>|chance>|verdict|taken");
    for (size_t i = 0; i < choice->trial_count; i++) {
        const fe_relay_trial *trial = &choice->trials[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", trial->class.gear->label);
        fe_document_cell(doc, "%u", trial->class.owned);
        fe_document_cell(doc, "%u", trial->relays);
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, trial->margin_db, 0.0, FE_STYLE_RATIO));
        fe_document_cell(
            doc, "%s",
            fe_amount_beside(doc, trial->chance, band->wanted.confidence, FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", fe_mark_of(doc, fe_mark_of_verdict(trial->verdict)));
        fe_document_cell(doc, "%s", trial->class.gear == choice->class.gear ? "yes" : "");
    }
}

static void say_sharing(fe_document *doc, const relays_band *band)
{
    if (best_chain(band)->relays == 0)
        return;
    for (int sharing = 0; sharing < 3; sharing++)
        fe_document_pair(doc, fe_chain_sharing_name((fe_chain_sharing)sharing), "%s",
                         fe_amount(doc, band->sharing_bps[sharing], FE_STYLE_DATA_RATE));
    if (band->ideal_bps > 1.001 * band->sharing_bps[0])
        fe_document_pair(doc, "one channel, ideal turns", "%s",
                         fe_amount(doc, band->ideal_bps, FE_STYLE_DATA_RATE));
}

/* Where no number holds the pair is a row of the changes. */
static void say_pair(fe_document *doc, const relays_band *band)
{
    const fe_beam_pair *pair = &band->pair;
    if (band->choice.verdict != FE_VERDICT_HOLDS || best_chain(band)->relays == 0)
        return;
    if (!pair->gear) {
        fe_document_paragraph(doc, "No class of the catalogue has a beam in this band.");
        return;
    }
    const char *chance =
        fe_amount_beside(doc, pair->score.chance, band->wanted.confidence, FE_STYLE_PERCENT);
    const char *margin = fe_amount_beside(doc, pair->score.margin_db, 0.0, FE_STYLE_RATIO);
    fe_document_paragraph(doc,
                          pair->score.verdict == FE_VERDICT_HOLDS
                              ? "A pair of the class %s, hung outdoors at both ends, does it "
                                "with no relay: a chance of %s, margin %s."
                              : "No pair of antennas with a beam does it without a relay; the "
                                "best, %s, has a chance of %s, margin %s.",
                          pair->gear->label, chance, margin);
}

fe_document *relays_document(const relays_answer *answer)
{
    const radio_setup *setup = &answer->setup;
    char name[160];
    fe_document *doc = answer->path_count > 1
                           ? fe_document_new("Relays on %zu paths", answer->path_count)
                           : fe_document_new("Relays on one path");
    for (size_t i = 0; i < answer->count; i++) {
        const relays_band *band = &answer->bands[i];
        subject(answer, band, name, sizeof name);
        if (band->choice.verdict == FE_VERDICT_HOLDS)
            say_holding(doc, setup, name, band);
        else
            say_failing(doc, setup, name, band);
    }
    for (size_t i = 0; i < answer->count; i++) {
        const relays_band *band = &answer->bands[i];
        fe_document_heading(doc, 2, "%s", subject(answer, band, name, sizeof name));
        say_ends(doc, answer, band);
        say_numbers(doc, setup, band);
        say_given(doc, answer, band);
        say_places(doc, setup, band);
        say_gear(doc, band);
        say_sharing(doc, band);
        say_pair(doc, band);
        say_changes(doc, band);
    }
    radio_setup_print(setup, doc);
    fe_document_source(doc, "Chain on one channel: 1 / sum(1/R); in long chains a quarter of "
                            "one hop ideally (Li et al. 2001), a seventh in practice (from "
                            "memory). A channel for each hop, alternate bands, 3 ms of delay a "
                            "hop: common practice, no source.");
    return doc;
}

/* ---- Figures ---- */

static fe_status draw(const relays_answer *answer, const relays_band *band, fe_gnuplot *gnuplot,
                      fe_units units, fe_document *doc)
{
    fe_relays_point points[FE_CHAIN_MOST_RELAYS + 1];
    char id[48], title[240], name[160];
    size_t count = 0;
    for (size_t i = 0; i < band->choice.count; i++)
        count = fe_figure_relays_add(points, count, &band->choice.ways[i].chain);
    if (count == 0)
        return FE_OK;
    if (answer->path_count > 1)
        snprintf(id, sizeof id, "relays-%zu-%d", band->path + 1, (int)band->band);
    else
        snprintf(id, sizeof id, "relays-%d", (int)band->band);
    snprintf(title, sizeof title, "Rate and margin against relays, %s",
             subject(answer, band, name, sizeof name));
    const fe_relays_data data = {
        id, title, points, count, wanted_bps(band), band->wanted.confidence};
    fe_figure figure = FE_FIGURE_INIT;
    fe_status status = fe_figure_relays(&data, units, &figure);
    if (status == FE_OK)
        status = fe_figure_add(&figure, gnuplot, doc);
    fe_figure_free(&figure);
    return status;
}

fe_status relays_figures(const relays_answer *answer, fe_gnuplot *gnuplot, fe_units units,
                         fe_document *doc)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < answer->count && status == FE_OK; i++)
        status = draw(answer, &answer->bands[i], gnuplot, units, doc);
    return status;
}

/* ---- JSON ---- */

static json_t *way_json(const radio_setup *setup, const fe_relay_way *way)
{
    const fe_chain *chain = &way->chain;
    json_t *positions = json_array();
    json_t *heights = json_array();
    for (unsigned i = 0; i < chain->relays; i++) {
        output_json_append(&positions, json_real(way->places[i].at_m));
        output_json_append(&heights, json_real(way->places[i].station.height_m));
    }
    return json_pack("{s:i, s:o, s:o, s:o, s:f, s:f, s:f, s:s}", "count", (int)chain->relays,
                     "positions_m", positions, "heights_m", heights, "worst_margin_db",
                     output_number(chain->margin_db), "chance", chain->chance,
                     "delivered_rate_mbps", chain->delivered_rate_bps / 1e6, "delay_ms",
                     1e3 * chain->delay_s, "worst_season", season_of(setup, chain));
}

static json_t *trial_json(const fe_relay_trial *trial)
{
    return json_pack("{s:s, s:i, s:i, s:o, s:f, s:s}", "gear", trial->class.gear->name, "owned",
                     (int)trial->class.owned, "count", (int)trial->relays, "worst_margin_db",
                     output_number(trial->margin_db), "chance", trial->chance, "verdict",
                     fe_verdict_name(trial->verdict));
}

static json_t *change_json(const fe_relay_what_if *change)
{
    static const char *const KINDS[FE_RELAY_CHANGES] = {
        [FE_RELAY_BEAMS] = "directional_pair", [FE_RELAY_ANYWHERE] = "relays_anywhere",
        [FE_RELAY_HIGHER] = "relays_higher",   [FE_RELAY_SLOWER] = "lower_rate",
        [FE_RELAY_OTHER_BAND] = "other_band",  [FE_RELAY_OTHER_ENDS] = "other_end_gear",
    };
    json_t *object = json_pack(
        "{s:s, s:i, s:o, s:f, s:s}", "change", KINDS[change->kind], "count",
        (int)change->relays, "worst_margin_db", output_number(change->score.margin_db),
        "chance", change->score.chance, "verdict", fe_verdict_name(change->score.verdict));
    if (change->kind == FE_RELAY_HIGHER)
        output_json_set(&object, "rise_m", json_real(change->rise_m));
    if (change->kind == FE_RELAY_SLOWER)
        output_json_set(&object, "rate_share", json_real(change->share));
    if (change->kind == FE_RELAY_OTHER_ENDS)
        output_json_set(&object, "end_gear",
                        json_pack("[s, s]", change->ends[0]->name, change->ends[1]->name));
    if (change->kind == FE_RELAY_OTHER_BAND)
        output_json_set(&object, "band", json_string(fe_band_name(change->band)));
    if (change->gear)
        output_json_set(&object, "gear", json_string(change->gear->name));
    return object;
}

static json_t *band_json(const radio_setup *setup, const relays_band *band)
{
    const fe_relay_choice *choice = &band->choice;
    json_t *root = way_json(setup, &choice->ways[choice->best]);
    json_t *numbers = json_array();
    json_t *trials = json_array();
    json_t *changes = json_array();
    for (size_t i = 0; i < choice->count; i++)
        output_json_append(&numbers, way_json(setup, &choice->ways[i]));
    for (size_t i = 0; i < choice->trial_count; i++)
        output_json_append(&trials, trial_json(&choice->trials[i]));
    for (size_t i = 0; i < band->changes.count; i++)
        output_json_append(&changes, change_json(&band->changes.items[i]));
    if (setup->from_plan)
        output_json_set(&root, "path", json_string(setup->plan.paths[band->path].name));
    output_json_set(&root, "band", json_string(fe_band_name(band->band)));
    output_json_set(&root, "distance_m", json_real(band->length_m));
    output_json_set(&root, "verdict", json_string(fe_verdict_name(choice->verdict)));
    output_json_set(&root, "end_gear",
                    json_pack("[s, s]", band->ends[0]->name, band->ends[1]->name));
    output_json_set(&root, "relay_gear", json_string(choice->class.gear->name));
    output_json_set(&root, "relay_gear_owned", json_integer(choice->class.owned));
    output_json_set(&root, "own_channels_rate_mbps",
                    json_real(band->sharing_bps[FE_CHAIN_OWN_CHANNELS] / 1e6));
    output_json_set(&root, "alternate_bands_rate_mbps",
                    json_real(band->sharing_bps[FE_CHAIN_ALTERNATE_BANDS] / 1e6));
    output_json_set(&root, "directional_gear",
                    band->pair.gear && band->pair.score.verdict == FE_VERDICT_HOLDS
                        ? json_string(band->pair.gear->name)
                        : json_null());
    output_json_set(&root, "by_count", numbers);
    output_json_set(&root, "tried", trials);
    output_json_set(&root, "what_if", changes);
    return root;
}

int relays_print_json(const char *who, const relays_answer *answer)
{
    json_t *bands = json_array();
    for (size_t i = 0; i < answer->count; i++)
        output_json_append(&bands, band_json(&answer->setup, &answer->bands[i]));
    json_t *root = json_pack("{s:f, s:o, s:o}", "distance_m", answer->bands[0].length_m,
                             "bands", bands, "assumptions", radio_setup_json(&answer->setup));
    return output_json(who, root, OUTPUT_JSON_FLAGS);
}
