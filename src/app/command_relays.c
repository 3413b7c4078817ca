/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend relays`: how many repeaters a way needs, and where. */
#include "app/command.h"
#include "app/output.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/radio_setup.h"
#include "farend/figures.h"
#include "farend/relay_site.h"

static const char WHO[] = "farend relays";

static const option OPTIONS[] = {
    {.name = "distance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .help = "length of the way, where there is no plan"},
    {.name = "band",
     .kind = OPTION_TEXT,
     .metavar = "BAND",
     .repeats = true,
     .help = "band to look at: \"2.4 GHz\", sub-GHz (all of the gear)"},
    OPTION_ROW_PATH,
    OPTION_ROWS_RADIO,
    OPTION_ROW_FIGURES,
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_PROFILES,
    {0},
};

/* The answer for one band. */
typedef struct band_answer {
    fe_band band;
    const fe_gear *relay;
    bool owned; /* the owner has such gear lying about */
    fe_relay_way ways[FE_CHAIN_MOST_RELAYS + 1];
    size_t count;
    size_t best; /* the smallest number that holds, else the one with the best chance */
    bool holds;
    double sharing_bps[3]; /* of the best, by fe_chain_sharing */
    double ideal_bps;
    const fe_gear *pair; /* directional antennas that need no relay; null: none do */
    double pair_chance;
    double pair_margin_db;
} band_answer;

typedef struct relays_answer {
    radio_setup setup;
    band_answer bands[FE_BANDS];
    size_t count;
} relays_answer;

/* ---- Gear ---- */

static const fe_gear *able(const radio_setup *setup, const char *name, fe_band band)
{
    const fe_gear *gear = name ? fe_plan_gear(&setup->plan, name) : NULL;
    return gear && gear->relays && fe_gear_radio(gear, band) ? gear : NULL;
}

/* Gear already owned, then what the plan or the options name, then any class of the band. */
static const fe_gear *relay_gear(const radio_setup *setup, fe_band band, bool *owned)
{
    const fe_plan *plan = &setup->plan;
    *owned = false;
    for (size_t i = 0; i < plan->owned_count; i++) {
        const fe_gear *gear = able(setup, plan->owned[i].gear, band);
        *owned = gear != NULL && plan->owned[i].count > 0;
        if (*owned)
            return gear;
    }
    const fe_gear *named = able(setup, plan->relay.gear, band);
    if (!named && !setup->from_plan)
        named = able(setup, setup->gear[0]->name, band);
    for (size_t i = 0; i < plan->gear_count && !named; i++)
        named = able(setup, plan->gear[i].name, band);
    return named;
}

static fe_station relay_station(const radio_setup *setup, const fe_gear *gear, fe_band band)
{
    return (fe_station){
        .radio = fe_gear_radio(gear, band),
        .antenna_built_in = gear->antenna_built_in,
        .height_m = setup->masts_m[0],
        .mount = FE_MOUNT_OUTDOORS,
        .noise = FE_NOISE_QUIET_RURAL,
    };
}

/* The best pair of directional antennas hung outdoors in place of both ends, if it holds. */
static fe_status try_pairs(const radio_setup *setup, band_answer *answer)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < setup->plan.gear_count && status >= 0; i++) {
        const fe_gear *gear = &setup->plan.gear[i];
        const fe_radio *radio = fe_gear_radio(gear, answer->band);
        if (!radio || !gear->outdoor || !fe_beam_is_narrow(radio->beam_rad))
            continue;
        fe_hop hop = setup->hop;
        fe_hop_budget budget;
        for (int end = 0; end < 2; end++) {
            hop.ends[end] = relay_station(setup, gear, answer->band);
            hop.ends[end].height_m = fmax(3.0, setup->hop.ends[end].height_m);
            hop.ends[end].aim = setup->hop.ends[end].aim;
            hop.ends[end].noise = setup->hop.ends[end].noise;
        }
        const fe_status one = fe_hop_budget_compute(&hop, setup->seasons, setup->season_count,
                                                    &setup->wanted, &budget);
        if (one == FE_E_NO_SOLUTION)
            continue;
        status = fe_status_worse(status, one);
        if (status < 0)
            break;
        if (budget.chance >= setup->wanted.confidence &&
            (!answer->pair || budget.chance > answer->pair_chance)) {
            answer->pair = gear;
            answer->pair_chance = budget.chance;
            answer->pair_margin_db = budget.seasons[budget.worst].margin_db;
        }
        fe_hop_budget_free(&budget);
    }
    return status;
}

/* ---- One band ---- */

static fe_status other_sharings(const radio_setup *setup, band_answer *answer)
{
    const fe_relay_way *way = &answer->ways[answer->best];
    fe_status status = FE_OK;
    for (int sharing = 0; sharing < 3 && status >= 0; sharing++) {
        fe_chain chain;
        status =
            fe_status_worse(status, fe_chain_at(&setup->hop, way->places, way->chain.relays,
                                                (fe_chain_sharing)sharing, setup->seasons,
                                                setup->season_count, &setup->wanted, &chain));
        if (status >= 0)
            answer->sharing_bps[sharing] = chain.delivered_rate_bps;
    }
    if (fe_chain_rate_shared(way->chain.hop_rate_bps, way->chain.hop_count,
                             FE_CHAIN_ONE_CHANNEL, FE_CHAIN_TURNS_IDEAL,
                             &answer->ideal_bps) < 0)
        answer->ideal_bps = 0.0;
    return status;
}

static void choose(const radio_setup *setup, band_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        const fe_chain *chain = &answer->ways[i].chain;
        if (chain->chance >= setup->wanted.confidence) {
            answer->best = i;
            answer->holds = true;
            return;
        }
        const fe_chain *best = &answer->ways[answer->best].chain;
        if (chain->chance > best->chance ||
            (chain->chance == best->chance && chain->margin_db > best->margin_db))
            answer->best = i;
    }
}

static double *listed_places(const radio_setup *setup, size_t *count)
{
    const fe_plan_relay *relay = &setup->plan.relay;
    *count = 0;
    if (!setup->from_plan || relay->anywhere || relay->places_m.count == 0)
        return NULL;
    double *places_m = calloc(relay->places_m.count, sizeof *places_m);
    for (size_t i = 0; places_m && i < relay->places_m.count; i++) {
        size_t at = *count;
        const double d_m = relay->places_m.items[i].typical;
        for (; at > 0 && places_m[at - 1] > d_m; at--)
            places_m[at] = places_m[at - 1];
        places_m[at] = d_m;
        ++*count;
    }
    return places_m;
}

static fe_status tune(radio_setup *setup, fe_band band)
{
    if (setup->from_plan)
        return radio_setup_pair(setup, band, false);
    return radio_setup_tune(setup, band, fe_band_frequency(band, setup->hop.region))
               ? FE_OK
               : FE_E_NO_SOLUTION;
}

static fe_status compute_band(radio_setup *setup, fe_band band, bool *possible,
                              band_answer *answer)
{
    *answer = (band_answer){.band = band};
    fe_status status = tune(setup, band);
    *possible = status != FE_E_NO_SOLUTION;
    if (status < 0)
        return *possible ? status : FE_OK;
    if (*possible)
        answer->relay = relay_gear(setup, band, &answer->owned);
    if (!answer->relay) {
        *possible = false;
        return FE_OK;
    }
    size_t place_count = 0;
    double *places_m = listed_places(setup, &place_count);
    const double length_m = fe_profile_length(setup->hop.ground);
    const long cores = sysconf(_SC_NPROCESSORS_ONLN);
    const fe_relay_site site = {
        .direct = &setup->hop,
        .relay = relay_station(setup, answer->relay, band),
        .masts_m = setup->masts_m,
        .mast_count = setup->mast_count,
        .places_m = places_m,
        .place_count = place_count,
        /* Every metre, on long ways a thousandth. */
        .step_m = fmax(1.0, length_m / 1000.0),
        .seasons = setup->seasons,
        .season_count = setup->season_count,
        .wanted = &setup->wanted,
        .threads = cores > 0 ? (unsigned)cores : 1,
    };
    status = fe_relay_search(&site, FE_CHAIN_MOST_RELAYS, answer->ways, &answer->count);
    free(places_m);
    if (status == FE_E_NO_SOLUTION) {
        *possible = false;
        return FE_OK;
    }
    if (status >= 0) {
        choose(setup, answer);
        status = fe_status_worse(status, other_sharings(setup, answer));
    }
    if (status >= 0)
        status = fe_status_worse(status, try_pairs(setup, answer));
    return status;
}

/* ---- Text ---- */

static fe_mark mark_of(const band_answer *answer)
{
    const fe_chain *chain = &answer->ways[answer->best].chain;
    return answer->holds                                    ? FE_MARK_HOLDS
           : chain->margin_db >= 0.0 && chain->chance > 0.0 ? FE_MARK_TIGHT
                                                            : FE_MARK_FAILS;
}

static const char *season_of(const radio_setup *setup, const fe_chain *chain)
{
    return setup->seasons[chain->worst_season].name;
}

static void say_verdict(fe_document *doc, const radio_setup *setup, const band_answer *answer)
{
    const fe_chain *chain = &answer->ways[answer->best].chain;
    if (answer->holds && chain->relays == 0)
        fe_document_verdict(
            doc, FE_MARK_HOLDS, "%s: no relay is needed; a chance of %s, margin %s in %s.",
            fe_band_name(answer->band), fe_amount(doc, chain->chance, FE_STYLE_PERCENT),
            fe_amount(doc, chain->margin_db, FE_STYLE_RATIO), season_of(setup, chain));
    else if (answer->holds)
        fe_document_verdict(
            doc, FE_MARK_HOLDS,
            "%s: %u relay%s of the class %s; a chance of %s, margin %s in %s.",
            fe_band_name(answer->band), chain->relays, chain->relays == 1 ? "" : "s",
            answer->relay->name, fe_amount(doc, chain->chance, FE_STYLE_PERCENT),
            fe_amount(doc, chain->margin_db, FE_STYLE_RATIO), season_of(setup, chain));
    else
        fe_document_verdict(doc, mark_of(answer),
                            "%s: up to %zu relays of the class %s do not reach the confidence; "
                            "best with %u, a chance of %s, margin %s in %s.",
                            fe_band_name(answer->band), answer->count - 1, answer->relay->name,
                            chain->relays, fe_amount(doc, chain->chance, FE_STYLE_PERCENT),
                            fe_amount(doc, chain->margin_db, FE_STYLE_RATIO),
                            season_of(setup, chain));
}

static void say_numbers(fe_document *doc, const radio_setup *setup, const band_answer *answer)
{
    fe_document_heading(doc, 2, "%s", fe_band_name(answer->band));
    fe_document_table(doc, "Against the number of relays, one shared channel",
                      "relays>|longest hop>|rate>|delay>|margin>|chance>|worst season");
    for (size_t i = 0; i < answer->count; i++) {
        const fe_chain *chain = &answer->ways[i].chain;
        fe_document_row(doc);
        fe_document_cell(doc, "%u", chain->relays);
        fe_document_cell(doc, "%s", fe_amount(doc, chain->hop_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s",
                         fe_amount(doc, chain->delivered_rate_bps, FE_STYLE_DATA_RATE));
        fe_document_cell(doc, "%s", fe_amount(doc, chain->delay_s, FE_STYLE_TIME));
        fe_document_cell(doc, "%s", fe_amount(doc, chain->margin_db, FE_STYLE_RATIO));
        fe_document_cell(doc, "%s", fe_amount(doc, chain->chance, FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", season_of(setup, chain));
    }
}

static bool has_power(const radio_setup *setup, double at_m)
{
    static const double NEAR_M = 2.0;
    const fe_value_list *powered = &setup->plan.relay.powered_m;
    for (size_t i = 0; i < powered->count; i++)
        if (fabs(powered->items[i].typical - at_m) <= NEAR_M)
            return true;
    return false;
}

static void say_places(fe_document *doc, const radio_setup *setup, const band_answer *answer)
{
    const fe_relay_way *way = &answer->ways[answer->best];
    for (unsigned i = 0; i < way->chain.relays; i++) {
        const fe_chain_place *place = &way->places[i];
        fe_document_item(doc, "Relay %u at %s, antenna %s above the ground: %s; %s for %s.",
                         i + 1, fe_amount(doc, place->at_m, FE_STYLE_LENGTH),
                         fe_amount(doc, place->station.height_m, FE_STYLE_HEIGHT),
                         answer->relay->outdoor ? "outdoors as it is"
                                                : "in a weatherproof case that lets radio "
                                                  "through, since this class knows no rain and "
                                                  "no frost",
                         has_power(setup, place->at_m) ? "power is there"
                                                       : "power must come "
                                                         "there",
                         fe_amount(doc, answer->relay->power_w, FE_STYLE_POWER));
    }
    if (answer->owned)
        fe_document_item(doc, "The class %s is owned already and was tried first.",
                         answer->relay->name);
    if (way->chain.relays > 0) {
        for (int sharing = 0; sharing < 3; sharing++)
            fe_document_pair(doc, fe_chain_sharing_name((fe_chain_sharing)sharing), "%s",
                             fe_amount(doc, answer->sharing_bps[sharing], FE_STYLE_DATA_RATE));
        if (answer->ideal_bps > 1.001 * answer->sharing_bps[0])
            fe_document_pair(doc, "one channel, ideal turns", "%s",
                             fe_amount(doc, answer->ideal_bps, FE_STYLE_DATA_RATE));
    }
    if (answer->pair && way->chain.relays > 0)
        fe_document_paragraph(doc,
                              "A pair of the class %s, hung outdoors at both ends, does it "
                              "with no relay: a chance of %s, margin %s.",
                              answer->pair->name,
                              fe_amount(doc, answer->pair_chance, FE_STYLE_PERCENT),
                              fe_amount(doc, answer->pair_margin_db, FE_STYLE_RATIO));
    else if (way->chain.relays > 0 || !answer->holds)
        fe_document_paragraph(doc,
                              "No pair of directional antennas of the catalogue does it in "
                              "this band without a relay.");
}

static fe_status draw(fe_document *doc, const radio_setup *setup, const band_answer *answer,
                      fe_gnuplot *gnuplot, fe_units units)
{
    fe_relays_point points[FE_CHAIN_MOST_RELAYS + 1];
    char id[32], title[64];
    size_t count = 0;
    for (size_t i = 0; i < answer->count; i++) {
        const fe_chain *chain = &answer->ways[i].chain;
        if (isfinite(chain->margin_db)) /* an antenna under the snow has none */
            points[count++] =
                (fe_relays_point){chain->relays, chain->delivered_rate_bps, chain->margin_db};
    }
    if (count == 0)
        return FE_OK;
    snprintf(id, sizeof id, "relays-%d", (int)answer->band);
    snprintf(title, sizeof title, "Rate and margin against relays, %s",
             fe_band_name(answer->band));
    const fe_relays_data data = {id, title, points, count,
                                 setup->wanted.rate_bps[0] + setup->wanted.rate_bps[1]};
    fe_figure figure = FE_FIGURE_INIT;
    fe_status status = fe_figure_relays(&data, units, &figure);
    if (status == FE_OK)
        status = fe_figure_add(&figure, gnuplot, doc);
    fe_figure_free(&figure);
    return status;
}

static fe_document *write_document(const relays_answer *answer)
{
    const radio_setup *setup = &answer->setup;
    fe_document *doc =
        fe_document_new("Relays over %.0f m", fe_profile_length(setup->hop.ground));
    for (size_t i = 0; i < answer->count; i++)
        say_verdict(doc, setup, &answer->bands[i]);
    fe_document_pair(doc, "Wanted rate", "%s",
                     fe_amount(doc, setup->wanted.rate_bps[0] + setup->wanted.rate_bps[1],
                               FE_STYLE_DATA_RATE));
    for (size_t i = 0; i < answer->count; i++) {
        say_numbers(doc, setup, &answer->bands[i]);
        say_places(doc, setup, &answer->bands[i]);
    }
    radio_setup_print(setup, doc);
    fe_document_source(doc, "Chain on one channel: 1 / sum(1/R); in long chains a quarter of "
                            "one hop ideally (Li et al. 2001), a seventh in practice (from "
                            "memory). A channel for each hop, alternate bands, 3 ms of delay a "
                            "hop: common practice, no source.");
    return doc;
}

/* ---- JSON ---- */

static json_t *way_json(const radio_setup *setup, const fe_relay_way *way)
{
    const fe_chain *chain = &way->chain;
    json_t *positions = json_array();
    json_t *heights = json_array();
    for (unsigned i = 0; i < chain->relays; i++) {
        json_array_append_new(positions, json_real(way->places[i].at_m));
        json_array_append_new(heights, json_real(way->places[i].station.height_m));
    }
    json_t *margin = isfinite(chain->margin_db) ? json_real(chain->margin_db) : json_null();
    return json_pack("{s:i, s:o, s:o, s:o, s:f, s:f, s:f, s:s}", "count", (int)chain->relays,
                     "positions_m", positions, "heights_m", heights, "worst_margin_db", margin,
                     "chance", chain->chance, "delivered_rate_mbps",
                     chain->delivered_rate_bps / 1e6, "delay_ms", 1e3 * chain->delay_s,
                     "worst_season", season_of(setup, chain));
}

static json_t *band_json(const radio_setup *setup, const band_answer *answer)
{
    json_t *root = way_json(setup, &answer->ways[answer->best]);
    json_t *numbers = json_array();
    for (size_t i = 0; i < answer->count; i++)
        json_array_append_new(numbers, way_json(setup, &answer->ways[i]));
    if (!root)
        return root;
    json_object_set_new(root, "band", json_string(fe_band_name(answer->band)));
    json_object_set_new(root, "verdict", json_string(fe_mark_word(mark_of(answer))));
    json_object_set_new(root, "relay_gear", json_string(answer->relay->name));
    json_object_set_new(root, "relay_gear_owned", json_boolean(answer->owned));
    json_object_set_new(root, "own_channels_rate_mbps",
                        json_real(answer->sharing_bps[FE_CHAIN_OWN_CHANNELS] / 1e6));
    json_object_set_new(root, "alternate_bands_rate_mbps",
                        json_real(answer->sharing_bps[FE_CHAIN_ALTERNATE_BANDS] / 1e6));
    json_object_set_new(root, "directional_gear",
                        answer->pair ? json_string(answer->pair->name) : json_null());
    json_object_set_new(root, "by_count", numbers);
    return root;
}

static int print_json(const relays_answer *answer)
{
    json_t *bands = json_array();
    json_t *assumptions = json_array();
    for (size_t i = 0; i < answer->count; i++)
        json_array_append_new(bands, band_json(&answer->setup, &answer->bands[i]));
    for (size_t i = 0; i < answer->setup.assumption_count; i++)
        json_array_append_new(assumptions,
                              json_string(fe_strbuf_text(&answer->setup.assumptions[i])));
    json_t *root =
        json_pack("{s:f, s:o, s:o}", "distance_m", fe_profile_length(answer->setup.hop.ground),
                  "bands", bands, "assumptions", assumptions);
    return output_json(WHO, root, OUTPUT_JSON_FLAGS);
}

/* ---- The command ---- */

static bool read_bands(const options *given, bool bands[FE_BANDS])
{
    bool good = true;
    if (!options_given(given, "band"))
        return true;
    for (int band = 0; band < FE_BANDS; band++)
        bands[band] = false;
    for (size_t i = 0; i < options_count(given, "band"); i++) {
        fe_band band;
        const char *text = options_text_at(given, "band", i);
        if (fe_band_from_text(text, &band) == FE_OK) {
            bands[band] = true;
            continue;
        }
        options_complain(WHO, "--band: %s: no such band; for example 2.4GHz, 5GHz, sub-GHz",
                         text);
        good = false;
    }
    return good;
}

static bool make_setup(const options *given, radio_setup *setup, int *code)
{
    const double distance_m = options_number(given, "distance", 0.0);
    *code = EXIT_BAD_INPUT;
    *setup = (radio_setup){0};
    if (options_operands(given) == 1) {
        static const char *const PLAN_KEYS[] = {"distance", "gear",   "rate",  "wall",
                                                "trees",    "height", "region"};
        bool good = true;
        for (size_t i = 0; i < sizeof PLAN_KEYS / sizeof PLAN_KEYS[0]; i++)
            if (options_given(given, PLAN_KEYS[i])) {
                options_complain(WHO, "--%s: the plan says that", PLAN_KEYS[i]);
                good = false;
            }
        return good && radio_setup_plan(WHO, given, options_operand(given, 0), setup, code);
    }
    if (!options_given(given, "distance")) {
        options_complain(WHO, "name a plan, or a --distance");
        return false;
    }
    if (!(distance_m >= 1.0) || distance_m > 50e3) {
        options_complain(WHO, "--distance: must be from 1 m to 50 km");
        return false;
    }
    return radio_setup_options(WHO, given, distance_m, true, setup, code);
}

static fe_status compute_all(relays_answer *answer)
{
    fe_status status = FE_OK;
    for (int band = 0; band < FE_BANDS && status >= 0; band++) {
        bool possible = false;
        if (!answer->setup.bands[band])
            continue;
        status = fe_status_worse(status, compute_band(&answer->setup, (fe_band)band, &possible,
                                                      &answer->bands[answer->count]));
        answer->count += possible && status >= 0;
    }
    return status;
}

static fe_status draw_all(const relays_answer *answer, const options *given, fe_document *doc)
{
    if (!options_given(given, "figures"))
        return FE_OK;
    const fe_units units = output_units(given);
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    fe_status status = FE_OK;
    for (size_t i = 0; i < answer->count && status == FE_OK; i++)
        status = draw(doc, &answer->setup, &answer->bands[i], gnuplot, units);
    fe_gnuplot_free(gnuplot);
    return status;
}

static int run(const options *given)
{
    relays_answer *answer = calloc(1, sizeof *answer);
    int code = EXIT_WORK_FAILED;
    if (!answer) {
        options_complain(WHO, "%s", fe_status_text(FE_E_MEMORY));
        return code;
    }
    fe_document *doc = NULL;
    if (!make_setup(given, &answer->setup, &code))
        goto done;
    code = EXIT_BAD_INPUT;
    if (!read_bands(given, answer->setup.bands))
        goto done;
    fe_status status = compute_all(answer);
    if (status < 0) {
        options_complain(WHO, "%s", fe_status_text(status));
        code = command_exit_code(status);
        goto done;
    }
    if (answer->count == 0) {
        options_complain(WHO, "this gear has no radio in that band, or no class passes traffic "
                              "on there, or the region's rules close it");
        goto done;
    }
    doc = write_document(answer);
    status = draw_all(answer, given, doc);
    code = status < 0 ? command_exit_code(status) : output_document(WHO, given, doc);
    if (options_given(given, "json") && print_json(answer) != EXIT_DONE)
        code = EXIT_WORK_FAILED;
done:
    fe_document_free(doc);
    radio_setup_free(&answer->setup);
    free(answer);
    return code;
}

const command COMMAND_RELAYS = {
    .name = "relays",
    .summary = "how many repeaters, and where",
    .usage = "PLAN | --distance D [OPTION]...",
    .description =
        "Finds the smallest number of relays for which every season reaches the confidence\n"
        "and the rate, in each band, and the best places for them: every metre of the way\n"
        "or the places that the plan allows. Without a plan the way is even ground, and\n"
        "what was not said is filled with usual values, which are listed.\n",
    .options = OPTIONS,
    .example = "--distance 400m --band 2.4GHz --gear indoor-extender --rate 5Mb/s",
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
