/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend accept`: readings of a link against what was computed for it. */
#include "app/command.h"
#include "app/output.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/accept_answer.h"
#include "app/plan_command.h"

static const char WHO[] = "farend accept";
#define NOTHING_READ                                                                           \
    "nothing was read: give --level, --rate, --noise or --ping-loss, or a [reading] section "  \
    "in the plan"

/* clang-format off */
static const option OPTIONS[] = {
    {.name = "band", .kind = OPTION_TEXT, .metavar = "BAND", .help = "radio band of the readings"},
    OPTION_ROW_PATH,
    {.name = "level", .kind = OPTION_VALUE, .dimension = FE_DIM_LEVEL, .bounds = "-150..30 dBm", .help = "level at the far end; LOW..HIGH where it wanders"},
    {.name = "level-back", .kind = OPTION_VALUE, .dimension = FE_DIM_LEVEL, .bounds = "-150..30 dBm", .help = "level at the near end"},
    {.name = "rate", .kind = OPTION_QUANTITY, .dimension = FE_DIM_DATA_RATE, .bounds = "0..100 Gb/s", .help = "rate measured out to the far end"},
    {.name = "rate-back", .kind = OPTION_QUANTITY, .dimension = FE_DIM_DATA_RATE, .bounds = "0..100 Gb/s", .help = "rate measured back home"},
    {.name = "noise", .kind = OPTION_QUANTITY, .dimension = FE_DIM_LEVEL, .bounds = "-150..0 dBm", .help = "noise at the far end"},
    {.name = "noise-back", .kind = OPTION_QUANTITY, .dimension = FE_DIM_LEVEL, .bounds = "-150..0 dBm", .help = "noise at the near end"},
    {.name = "ping-loss", .kind = OPTION_QUANTITY, .dimension = FE_DIM_FRACTION, .bounds = "0..100 %", .help = "share of pings that were lost"},
    {.name = "where", .kind = OPTION_TEXT, .metavar = "END", .help = "the end at which --level, --rate, --noise were read"},
    {.name = "weather", .kind = OPTION_TEXT, .metavar = "WORDS", .help = "wet, dry, snow, frost, hot, windy, leaves, bare"},
    {.name = "built", .kind = OPTION_TEXT, .choices = "before|after", .help = "read before anything was bought, or after (after)"},
    {.name = "wanted", .kind = OPTION_QUANTITY, .dimension = FE_DIM_DATA_RATE, .bounds = "1 b/s..100 Gb/s", .help = "rate that is wanted, without a plan (2 Mb/s)"},
    {.name = "distance", .kind = OPTION_QUANTITY, .dimension = FE_DIM_LENGTH, .bounds = "1 m..50 km", .help = "length of the way, without a plan"},
    {.name = "gear", .kind = OPTION_TEXT, .metavar = "CLASS", .help = "class of gear at both ends"},
    {.name = "wall", .kind = OPTION_TEXT, .metavar = "KIND", .repeats = true, .help = "wall of the house (\"brick 110 mm\"), or none"},
    {.name = "trees", .kind = OPTION_QUANTITY, .dimension = FE_DIM_LENGTH, .bounds = "0..1 km", .help = "depth of trees in the middle of the way (0 m)"},
    {.name = "height", .kind = OPTION_QUANTITY, .dimension = FE_DIM_LENGTH, .bounds = "0.05..150 m", .repeats = true, .help = "antenna over ground; twice: near end, far end"},
    {.name = "region", .kind = OPTION_TEXT, .choices = "US|EU|UK|CA|AU", .help = "whose radio rules (EU)"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_PROFILES,
    {0},
};
/* clang-format on */

/* ---- Readings ---- */

static fe_accept_reading blank_reading(const char *weather)
{
    const double no = (double)NAN;
    return (fe_accept_reading){.weather = fe_accept_weather_of(weather),
                               .level_dbm = {no, no},
                               .swing_db = {no, no},
                               .noise_dbm = {no, no},
                               .rate_bps = {no, no},
                               .ping_share = no};
}

static bool is_known(fe_value value)
{
    return value.given != FE_GIVEN_NOT && value.given != FE_GIVEN_UNKNOWN;
}

static void put_level(fe_accept_reading *reading, int from, fe_value level)
{
    if (!is_known(level))
        return;
    reading->level_dbm[from] = level.typical;
    if (fe_value_is_open(level))
        reading->swing_db[from] = level.high - level.low;
}

static void put_reading(fe_accept_reading *reading, int from, const fe_plan_reading *read)
{
    put_level(reading, from, read->level_dbm);
    if (is_known(read->rate_bps))
        reading->rate_bps[from] = read->rate_bps.typical;
    if (is_known(read->noise_dbm))
        reading->noise_dbm[from] = read->noise_dbm.typical;
}

static bool any_reading(const options *given)
{
    static const char *const NAMES[] = {"level", "level-back", "rate",     "rate-back",
                                        "noise", "noise-back", "ping-loss"};
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++)
        if (options_given(given, NAMES[i]))
            return true;
    return false;
}

/* A visit out of the options; --where near home turns the directions round. */
static bool take_options(const options *given, accept_answer *answer)
{
    const char *where = options_text(given, "where");
    const char *weather = options_text(given, "weather");
    const char *built = options_text(given, "built");
    const bool at_home = where && strcmp(where, answer->ends[0]) == 0;
    if (where && !at_home && strcmp(where, answer->ends[1]) != 0) {
        options_complain(WHO, "--where: %s: neither end; name %s or %s", where, answer->ends[0],
                         answer->ends[1]);
        return false;
    }
    fe_accept_reading *reading = &answer->readings[0];
    *reading = blank_reading(weather);
    if (weather && !reading->weather.said) {
        options_complain(WHO,
                         "--weather: read \"%s\", expected words such as wet, dry, snow, "
                         "frost, hot, windy, leaves, bare",
                         weather);
        return false;
    }
    reading->before = built && strcmp(built, "before") == 0;
    for (int back = 0; back < 2; back++) {
        const int from = at_home ? 1 - back : back;
        const double no = (double)NAN;
        put_level(reading, from, options_value(given, back ? "level-back" : "level"));
        reading->rate_bps[from] = options_number(given, back ? "rate-back" : "rate", no);
        reading->noise_dbm[from] = options_number(given, back ? "noise-back" : "noise", no);
    }
    reading->ping_share = options_number(given, "ping-loss", (double)NAN);
    snprintf(answer->names[0], sizeof answer->names[0], "%s",
             weather ? weather : "the day of the reading");
    answer->count = 1;
    return true;
}

static bool is_same_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

/* Whether a visit has no figure yet of what a reading tells. */
static bool is_free(const fe_accept_reading *visit, int from, const fe_plan_reading *read)
{
    return !(is_known(read->level_dbm) && isfinite(visit->level_dbm[from])) &&
           !(is_known(read->rate_bps) && isfinite(visit->rate_bps[from])) &&
           !(is_known(read->noise_dbm) && isfinite(visit->noise_dbm[from]));
}

/*
 * Which visit a reading of the plan belongs to: those of one `when` are one, until one of them
 * tells again what another has told. Null, and said, where they are too many.
 */
static fe_accept_reading *visit_of(accept_answer *answer, int from, const fe_plan_reading *read,
                                   const char *whens[FE_ACCEPT_MOST_READINGS])
{
    const bool before = read->built.value == 0;
    for (size_t i = 0; i < answer->count; i++)
        if (is_same_text(whens[i], read->when) && answer->readings[i].before == before &&
            is_free(&answer->readings[i], from, read))
            return &answer->readings[i];
    if (answer->count == FE_ACCEPT_MOST_READINGS) {
        options_complain(WHO,
                         "%s:%d: [reading]: the readings of this link are of more than %d "
                         "visits; take the telling ones",
                         answer->setup.plan.file, read->line, FE_ACCEPT_MOST_READINGS);
        return NULL;
    }
    snprintf(answer->names[answer->count], sizeof answer->names[0], "%s%s",
             read->when ? read->when : "no day given", before ? ", before building" : "");
    whens[answer->count] = read->when;
    fe_accept_reading *visit = &answer->readings[answer->count++];
    *visit = blank_reading(read->when);
    visit->before = before;
    return visit;
}

/* Whether a reading is of the path, and which of its ends sent: 1 the far one. */
static bool is_over_path(const fe_plan_path *path, const fe_plan_reading *read, int *from)
{
    *from = read->from == path->to && read->to == path->from;
    return *from || (read->from == path->from && read->to == path->to);
}

/* Those that do not count, in one sentence however many they are. */
static void say_others(radio_setup *setup, const fe_strbuf *lines, size_t count)
{
    if (count == 0)
        return;
    radio_setup_assume(setup,
                       count == 1 ? "The reading of line %s is of another band or path and "
                                    "does not count here."
                                  : "The readings of lines %s are of another band or path and "
                                    "do not count here.",
                       fe_strbuf_text(lines));
    fe_strbuf *said = &setup->assumptions[setup->assumption_count - 1];
    said->failed = said->failed || lines->failed;
}

static bool take_plan(accept_answer *answer)
{
    const fe_plan *plan = &answer->setup.plan;
    const fe_plan_path *path = &plan->paths[answer->setup.path];
    const char *whens[FE_ACCEPT_MOST_READINGS];
    fe_strbuf others = FE_STRBUF_INIT;
    size_t other_count = 0;
    bool good = true;
    for (size_t i = 0; i < plan->reading_count && good; i++) {
        const fe_plan_reading *read = &plan->readings[i];
        int from = 0;
        if (!is_over_path(path, read, &from) || (fe_band)read->band.value != answer->band) {
            fe_strbuf_format(&others, "%s%d", other_count++ > 0 ? ", " : "", read->line);
            continue;
        }
        if (!is_known(read->level_dbm) && !is_known(read->rate_bps) &&
            !is_known(read->noise_dbm))
            continue;
        fe_accept_reading *visit = visit_of(answer, from, read, whens);
        good = visit != NULL;
        if (good)
            put_reading(visit, from, read);
    }
    say_others(&answer->setup, &others, other_count);
    fe_strbuf_free(&others);
    return good;
}

/* ---- The link ---- */

/* A plan's link is that of the report, or by --gear at both ends. */
static fe_status make_plan_hop(const options *given, accept_answer *answer)
{
    radio_setup *setup = &answer->setup;
    const char *name = options_text(given, "gear");
    if (!name)
        return radio_setup_pair(setup, answer->band, true);
    setup->gear[0] = setup->gear[1] = radio_setup_gear(WHO, &setup->plan, name);
    return setup->gear[0] ? radio_setup_hop(setup, answer->band) : FE_E_INPUT;
}

static bool make_hop(const options *given, accept_answer *answer, int *code)
{
    radio_setup *setup = &answer->setup;
    fe_status status = FE_OK;
    if (setup->from_plan)
        status = make_plan_hop(given, answer);
    else if (!radio_setup_tune(setup, answer->band,
                               fe_band_frequency(answer->band, setup->hop.region)))
        status = FE_E_NO_SOLUTION;
    *code = command_exit_code(status);
    if (status == FE_E_NO_SOLUTION) {
        options_complain(WHO, "the gear has no radio at %s; name it with --gear",
                         fe_band_name(answer->band));
        *code = EXIT_BAD_INPUT;
    } else if (status < 0 && status != FE_E_INPUT) {
        options_complain(WHO, "%s", fe_status_text(status));
    }
    return status >= 0;
}

/* The first reading over the path of the plan; null where it has none. */
static const fe_plan_reading *first_reading(const radio_setup *setup)
{
    const fe_plan *plan = &setup->plan;
    int from = 0;
    for (size_t i = 0; setup->from_plan && i < plan->reading_count; i++)
        if (is_over_path(&plan->paths[setup->path], &plan->readings[i], &from))
            return &plan->readings[i];
    return NULL;
}

/* What a reading of the options has beside its figures; a [reading] says it itself. */
static bool check_beside(const options *given)
{
    static const char *const BESIDE[] = {"where", "weather", "built"};
    bool good = true;
    for (size_t i = 0; i < sizeof BESIDE / sizeof BESIDE[0]; i++)
        if (options_given(given, BESIDE[i]) && !any_reading(given)) {
            options_complain(WHO,
                             "--%s: goes with --level, --rate, --noise or --ping-loss; a "
                             "[reading] of the plan says it itself",
                             BESIDE[i]);
            good = false;
        }
    return good;
}

static bool choose_band(const options *given, accept_answer *answer, int *code)
{
    const char *text = options_text(given, "band");
    const fe_plan_reading *first = first_reading(&answer->setup);
    if (text && fe_band_from_text(text, &answer->band) != FE_OK) {
        options_complain(WHO, "--band: %s: no such band; for example 2.4GHz, 5GHz, sub-GHz",
                         text);
        return false;
    }
    if (!text && (!first || any_reading(given))) {
        options_complain(WHO, "--band is missing: say which radio was read, for example "
                              "--band 5GHz");
        if (!any_reading(given))
            options_complain(WHO, NOTHING_READ);
        return false;
    }
    if (!text)
        answer->band = (fe_band)first->band.value;
    if (!make_hop(given, answer, code))
        return false;
    for (int end = 0; end < 2; end++)
        radio_setup_assume(&answer->setup, "At %s: %s.", answer->ends[end],
                           answer->setup.gear[end]->name);
    return true;
}

static bool make_link(const options *given, accept_answer *answer, int *code)
{
    radio_setup *setup = &answer->setup;
    const double distance_m = options_number(given, "distance", 0.0);
    *code = EXIT_BAD_INPUT;
    if (!plan_path_has_plan(WHO, given))
        return false;
    if (options_operands(given) == 1) {
        static const char *const PLAN_KEYS[] = {"distance", "wall",   "trees",
                                                "height",   "region", "wanted"};
        if (!plan_says(WHO, given, PLAN_KEYS, sizeof PLAN_KEYS / sizeof PLAN_KEYS[0]) ||
            !radio_setup_plan(WHO, given, options_operand(given, 0), setup, code))
            return false;
        const fe_plan_path *path = &setup->plan.paths[setup->path];
        answer->ends[0] = setup->plan.ends[path->from].name;
        answer->ends[1] = setup->plan.ends[path->to].name;
    } else {
        if (!options_given(given, "distance")) {
            options_complain(WHO, "name a plan, or a --distance, for example --distance 165m");
            return false;
        }
        const radio_way way = {distance_m, false, "wanted"};
        if (!radio_setup_options(WHO, given, &way, setup, code))
            return false;
        answer->ends[0] = "house";
        answer->ends[1] = "far end";
    }
    *code = EXIT_BAD_INPUT;
    return choose_band(given, answer, code);
}

/* ---- The command ---- */

static bool take_readings(const options *given, accept_answer *answer)
{
    if (any_reading(given))
        return take_options(given, answer);
    if (!check_beside(given) || (answer->setup.from_plan && !take_plan(answer)))
        return false;
    if (answer->count == 0)
        options_complain(WHO, NOTHING_READ);
    return answer->count > 0;
}

static int compute(accept_answer *answer)
{
    radio_setup *setup = &answer->setup;
    answer->link = (fe_accept_link){.hop = &setup->hop,
                                    .seasons = setup->seasons,
                                    .season_count = setup->season_count,
                                    .wanted = &setup->wanted,
                                    .relayed = setup->plan.relay.places_m.count > 0};
    for (size_t i = 0; i < setup->plan.owned_count; i++) {
        const fe_gear *gear = fe_plan_gear(&setup->plan, setup->plan.owned[i].gear);
        answer->link.relayed = answer->link.relayed || (gear && gear->relays);
    }
    const fe_status status =
        fe_accept(&answer->link, answer->readings, answer->count, &answer->result);
    if (status == FE_E_DOMAIN)
        options_complain(WHO,
                         "these readings belong to no build of this link, or an antenna is "
                         "under the snow");
    else if (status == FE_E_NO_SOLUTION)
        options_complain(WHO, "these radios cannot talk to one another, or the region's rules "
                              "close the band");
    else if (status < 0)
        options_complain(WHO, "%s", fe_status_text(status));
    return command_exit_code(status);
}

static int run(const options *given)
{
    accept_answer *answer = calloc(1, sizeof *answer);
    fe_document *doc = NULL;
    int code = EXIT_WORK_FAILED;
    if (!answer)
        return output_failed(WHO, FE_E_MEMORY);
    if (!make_link(given, answer, &code))
        goto done;
    code = EXIT_BAD_INPUT;
    if (!take_readings(given, answer))
        goto done;
    code = compute(answer);
    if (code != EXIT_DONE)
        goto done;
    if (options_given(given, "json")) {
        code = accept_print_json(WHO, answer);
        goto done;
    }
    doc = accept_document(answer);
    code = output_words(WHO, given, doc);
done:
    fe_document_free(doc);
    radio_setup_free(&answer->setup);
    free(answer);
    return code;
}

const command COMMAND_ACCEPT = {
    .name = "accept",
    .summary = "readings against what was computed, and what explains them",
    .usage = "PLAN [READING]... [OPTION]...\n--distance D --band B READING... [OPTION]...",
    .description =
        "Puts levels, rates, noise and lost pings against the interval computed for the day,\n"
        "names the likeliest causes of a difference with what speaks for and against each,\n"
        "and says what the seasons still take. Readings come from [reading] sections of\n"
        "the plan or from options; those of another day make causes easier to tell apart.\n",
    .options = OPTIONS,
    .example = "--distance 165m --band 5GHz --gear directional-panel --level -61dBm "
               "--level-back -60dBm --weather \"dry, bare\"",
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
