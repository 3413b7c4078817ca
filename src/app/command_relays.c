/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend relays`: how many repeaters a way needs, and where. */
#include "app/command.h"
#include "app/output.h"

#include <stdlib.h>

#include "app/plan_command.h"
#include "app/relays_answer.h"

static const char WHO[] = "farend relays";

static const option OPTIONS[] = {
    {.name = "distance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1 m..50 km",
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

/* ---- The command ---- */

static bool read_bands(const options *given, bool bands[FE_BANDS])
{
    bool good = true;
    if (!options_given(given, "band"))
        return true;
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
        return plan_says(WHO, given, PLAN_KEYS, sizeof PLAN_KEYS / sizeof PLAN_KEYS[0]) &&
               radio_setup_plan(WHO, given, options_operand(given, 0), setup, code);
    }
    if (!plan_path_has_plan(WHO, given))
        return false;
    if (!options_given(given, "distance")) {
        options_complain(WHO, "name a plan, or a --distance");
        return false;
    }
    return radio_setup_options(WHO, given, &(radio_way){distance_m, true, "rate"}, setup, code);
}

static fe_status draw(const options *given, const relays_answer *answer, fe_document *doc)
{
    if (!options_given(given, "figures"))
        return FE_OK;
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    const fe_status status = relays_figures(answer, gnuplot, output_units(given), doc);
    fe_gnuplot_free(gnuplot);
    return status;
}

static int say(const options *given, const relays_answer *answer)
{
    fe_document *doc = relays_document(answer);
    const fe_status status = draw(given, answer, doc);
    int code = status < 0 ? output_failed(WHO, status) : output_document(WHO, given, doc);
    fe_document_free(doc);
    if (options_given(given, "json") && relays_print_json(WHO, answer) != EXIT_DONE)
        code = EXIT_WORK_FAILED;
    return code;
}

#define NO_BAND                                                                                \
    "this gear has no radio in that band, or no class passes traffic on there, or the "        \
    "region's rules close it"

/* False, and said, where a band that was asked for has no answer on any path. */
static bool has_asked(const relays_answer *answer, const bool asked[FE_BANDS])
{
    bool good = true;
    for (int band = 0; band < FE_BANDS; band++) {
        bool found = !asked[band];
        for (size_t i = 0; i < answer->count && !found; i++)
            found = answer->bands[i].band == (fe_band)band;
        if (!found)
            options_complain(WHO, "--band: %s: " NO_BAND, fe_band_name((fe_band)band));
        good = good && found;
    }
    return good;
}

static int find(const options *given, relays_answer *answer)
{
    int code = EXIT_BAD_INPUT;
    if (!make_setup(given, &answer->setup, &code))
        return code;
    bool asked[FE_BANDS] = {false};
    bool *bands = answer->setup.bands;
    if (!read_bands(given, asked))
        return EXIT_BAD_INPUT;
    for (int band = 0; band < FE_BANDS && options_given(given, "band"); band++) {
        answer->others[band] = bands[band] && !asked[band];
        bands[band] = asked[band];
    }
    const bool all = answer->setup.from_plan && !options_given(given, "path");
    const fe_status status = relays_find(answer, all);
    if (status < 0)
        return output_failed(WHO, status);
    if (!has_asked(answer, asked))
        return EXIT_BAD_INPUT;
    if (answer->count > 0)
        return EXIT_DONE;
    options_complain(WHO, NO_BAND);
    return EXIT_BAD_INPUT;
}

static int run(const options *given)
{
    relays_answer answer = {.count = 0};
    int code = find(given, &answer);
    if (code == EXIT_DONE)
        code = say(given, &answer);
    free(answer.bands);
    radio_setup_free(&answer.setup);
    return code;
}

const command COMMAND_RELAYS = {
    .name = "relays",
    .summary = "how many repeaters, and where",
    .usage = "PLAN [OPTION]...\n--distance D [OPTION]...",
    .description =
        "Finds the smallest number of relays for which every season reaches the confidence\n"
        "and the rate, on each path and band, and the best places for them: every metre of\n"
        "the way or the places that the plan allows. Gear already owned is tried first, then\n"
        "the plan's class, then the catalogue. Where no number is enough, one change at a\n"
        "time is worked out: a pair with beams, other places, higher, slower, another band.\n"
        "Without a plan the way is even ground, and what was not said is filled with usual\n"
        "values, which are listed.\n",
    .options = OPTIONS,
    .example = "--distance 400m --band 2.4GHz --gear indoor-extender --rate 5Mb/s",
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
