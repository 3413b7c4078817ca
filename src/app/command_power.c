/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend power`: the feed, from a plan or from options. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/command.h"
#include "app/output.h"
#include "app/plan_command.h"
#include "farend/report_power.h"
#include "farend/supply_plan.h"

static const char WHO[] = "farend power";

enum { MOST_SOURCES = 8 };
/* DC up to here unless a suffix says otherwise. */
static const double DC_TO_V = 60.0;
static const double HOURS = 24.0;
/* Beyond these a figure is a slip; those of the plan's keys. */
static const double MOST_V = 1000.0;
static const double MOST_W = 200e3;
static const double MOST_A = 1000.0;

static const option OPTIONS[] = {
    {.name = "path",
     .kind = OPTION_TEXT,
     .metavar = "NAME",
     .help = "path of the plan (the first whose far end needs power)"},
    {.name = "length",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1 cm..1000 km",
     .help = "cable as bought, one way (the plan's)"},
    {.name = "load",
     .kind = OPTION_TEXT,
     .metavar = "POWER[@PLACE][,KEY=VALUE]...",
     .repeats = true,
     .help = "a load, W or A; @ its place along the cable (the end); again: another"},
    {.name = "voltage",
     .kind = OPTION_TEXT,
     .metavar = "VOLTAGE[dc|ac]",
     .repeats = true,
     .help = "source, or a battery's range; again: another (DC to 60 V)"},
    {.name = "drop",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FRACTION,
     .bounds = "0.1..50 %",
     .help = "allowed voltage drop (the plan's, or 5 %)"},
    {.name = "minimum",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_VOLTAGE,
     .bounds = "0..1000 V",
     .help = "least voltage that each --load accepts"},
    {.name = "start",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_NUMBER,
     .bounds = "1..20",
     .metavar = "FACTOR",
     .help = "current of each --load at start over running (1)"},
    {.name = "power-factor",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_NUMBER,
     .bounds = "0.05..1",
     .metavar = "NUMBER",
     .help = "of each --load on AC (1)"},
    {.name = "hours",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TIME,
     .bounds = "0..24 h",
     .help = "that each --load runs a day (24 h)"},
    {.name = "material",
     .kind = OPTION_TEXT,
     .choices = "copper|aluminium|both",
     .help = "conductors to consider (the plan's, or both)"},
    {.name = "size",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_AREA,
     .bounds = "0.1..500 mm2",
     .help = "conductor of a cable you have already"},
    {.name = "air",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .bounds = "-60..60 degC",
     .help = "hottest air at the cable (the plan's, or 30 degC)"},
    {.name = "protection",
     .kind = OPTION_TEXT,
     .metavar = "DEVICE",
     .help = "what protects the feed: B16, C10, 10A"},
    {.name = "loop-impedance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_RESISTANCE,
     .bounds = "0..1000 ohm",
     .help = "of the supply, outside the feed (0.35 ohm)"},
    {.name = "span",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "0..300 m",
     .help = "longest span where it hangs as open single conductors"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_FIGURES,
    OPTION_ROW_PROFILES,
    {0},
};

static bool ends_with(char *text, const char *suffix)
{
    const size_t length = strlen(text), tail = strlen(suffix);
    if (length <= tail)
        return false;
    for (size_t i = 0; i < tail; i++)
        if (tolower((unsigned char)text[length - tail + i]) != suffix[i])
            return false;
    text[length - tail] = 0;
    return true;
}

static bool read_voltage(const char *text, fe_plan_source *source)
{
    char number[80];
    fe_value value;
    snprintf(number, sizeof number, "%s", text);
    const bool ac = ends_with(number, "ac"), dc = !ac && ends_with(number, "dc");
    if (strlen(text) >= sizeof number ||
        fe_value_parse(number, FE_DIM_VOLTAGE, &value) != FE_OK ||
        value.given == FE_GIVEN_UNKNOWN || !(value.low > 0.0) || value.high > MOST_V) {
        options_complain(WHO,
                         "--voltage: '%.60s' is not a voltage above 0, at most 1000 V, for "
                         "example --voltage 48V, "
                         "--voltage 11.5..14.4V or --voltage 24Vac",
                         text);
        return false;
    }
    *source = (fe_plan_source){value.typical, ac || (!dc && value.high > DC_TO_V), value};
    return true;
}

/* ---- A load: "60W@40m,start=3" ---- */

/* What may stand behind a load, within the bounds of its own option for all loads. */
static bool read_load_key(const char *key, const char *text, fe_supply_load *load)
{
    double hours_s = 3600.0 * load->hours_per_day;
    const struct {
        const char *name;
        double *value;
    } keys[] = {{"start", &load->start_factor},
                {"minimum", &load->least_v},
                {"power-factor", &load->power_factor},
                {"hours", &hours_s}};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        if (strcmp(keys[i].name, key) != 0)
            continue;
        const option *row = OPTIONS;
        while (strcmp(row->name, key) != 0)
            row++;
        if (!options_holds(row, text, keys[i].value))
            return false;
        load->hours_per_day = hours_s / 3600.0;
        return true;
    }
    return false;
}

static bool read_load_keys(char *text, fe_supply_load *load)
{
    for (char *next = NULL; text; text = next) {
        next = strchr(text, ',');
        if (next)
            *next++ = 0;
        char *value = strchr(text, '=');
        if (!value)
            return false;
        *value++ = 0;
        if (!read_load_key(text, value, load))
            return false;
    }
    return true;
}

static bool read_load(const char *text, double length_m, fe_supply_load *load)
{
    char amount[120];
    snprintf(amount, sizeof amount, "%s", text);
    char *keys = strchr(amount, ',');
    if (keys)
        *keys++ = 0;
    char *at = strchr(amount, '@');
    load->at_m = length_m;
    if (at)
        *at++ = 0;
    bool good = strlen(text) < sizeof amount && read_load_keys(keys, load);
    if (at)
        good = good && fe_quantity_parse(at, FE_DIM_LENGTH, &load->at_m) == FE_OK &&
               load->at_m > 0.0 && load->at_m <= length_m;
    load->kind = FE_LOAD_POWER;
    if (fe_quantity_parse(amount, FE_DIM_POWER, &load->load) != FE_OK) {
        load->kind = FE_LOAD_CURRENT;
        good = good && fe_quantity_parse(amount, FE_DIM_CURRENT, &load->load) == FE_OK;
    }
    good = good && load->load > 0.0 &&
           load->load <= (load->kind == FE_LOAD_POWER ? MOST_W : MOST_A);
    if (!good)
        options_complain(WHO,
                         "--load: '%.60s' is not a power or a current above 0, at most 200 kW "
                         "or 1000 A, with its place "
                         "within the length and what else is known: --load 60W, "
                         "--load 2A@40m, --load 60W@40m,start=3,hours=6h,minimum=10.8V",
                         text);
    return good;
}

static bool read_device(const char *text, fe_supply_case *given)
{
    given->has_device = fe_supply_device_named(text, &given->device);
    if (!given->has_device)
        options_complain(WHO, "--protection: '%.60s' is no device: B16, C10, 10A", text);
    return given->has_device;
}

/* In place of those of a plan; an exit code. */
static int read_loads(const options *given, fe_supply_entry *entry)
{
    int code = EXIT_DONE;
    entry->given.load_count = 0;
    for (size_t i = 0; i < options_count(given, "load"); i++) {
        fe_supply_load load = {.power_factor = options_number(given, "power-factor", 1.0),
                               .start_factor = options_number(given, "start", 1.0),
                               .hours_per_day =
                                   options_number(given, "hours", HOURS * 3600.0) / 3600.0,
                               .least_v = options_number(given, "minimum", 0.0)};
        const fe_supply_origin origin = {.name = ""};
        if (!read_load(options_text_at(given, "load", i), entry->given.length_m, &load)) {
            code = EXIT_BAD_INPUT;
            continue;
        }
        const fe_status status = fe_supply_add(entry, &load, &origin);
        if (status < 0)
            return output_failed(WHO, status);
    }
    return code;
}

static bool check(const options *given)
{
    const bool has_plan = options_operands(given) > 0;
    bool good = true;
    if (!has_plan && (!options_given(given, "length") || !options_given(given, "load") ||
                      !options_given(given, "voltage"))) {
        options_complain(WHO, "give a plan, or --length, --load and --voltage, for example: "
                              "farend power --length 100m --load 60W --voltage 48V");
        good = false;
    }
    static const char *const of_loads[] = {"minimum", "start", "power-factor", "hours"};
    for (size_t i = 0; i < sizeof of_loads / sizeof of_loads[0]; i++)
        if (options_given(given, of_loads[i]) && !options_given(given, "load")) {
            options_complain(WHO, "--%s goes with --load; the loads of a plan have their own",
                             of_loads[i]);
            good = false;
        }
    if (options_count(given, "voltage") > MOST_SOURCES ||
        options_count(given, "load") > FE_SUPPLY_MOST_LOADS) {
        options_complain(WHO, "at most %d voltages and %d loads", MOST_SOURCES,
                         FE_SUPPLY_MOST_LOADS);
        good = false;
    }
    return good;
}

/* ---- Entries ---- */

typedef struct power_call {
    fe_plan plan;
    bool has_plan;
    size_t path;                          /* of the plan, to whose far end power goes */
    fe_plan_source sources[MOST_SOURCES]; /* of the options */
    const fe_plan_source *from;           /* those, or the plan's */
    size_t count;
    fe_supply_entry **entries;
    fe_solar *solar; /* null: the plan asks for none */
} power_call;

static void free_call(power_call *call)
{
    for (size_t i = 0; call->entries && i < call->count; i++)
        free(call->entries[i]);
    free(call->entries);
    free(call->solar);
    if (call->has_plan)
        fe_plan_free(&call->plan);
}

/* What is given beside or in place of a plan; an exit code. */
static int override(const options *given, fe_supply_entry *entry)
{
    const char *material = options_text(given, "material");
    fe_supply_case *feed = &entry->given;
    feed->allowed_drop = options_number(given, "drop", feed->allowed_drop);
    feed->air_c = options_number(given, "air", feed->air_c);
    feed->loop_ohm = options_number(given, "loop-impedance", feed->loop_ohm);
    feed->open_span_m = options_number(given, "span", feed->open_span_m);
    entry->owned_m2 = options_number(given, "size", entry->owned_m2);
    if (material) {
        const bool both = strcmp(material, "both") == 0;
        entry->metals[FE_CONDUCTOR_COPPER] = both || strcmp(material, "copper") == 0;
        entry->metals[FE_CONDUCTOR_ALUMINIUM] = both || strcmp(material, "aluminium") == 0;
    }
    const bool good = !options_given(given, "protection") ||
                      read_device(options_text(given, "protection"), feed);
    const int loads = options_given(given, "load") ? read_loads(given, entry) : EXIT_DONE;
    return good ? loads : EXIT_BAD_INPUT;
}

static fe_supply_entry entry_from_options(const options *given, const fe_plan_source *source)
{
    return (fe_supply_entry){.nominal_v = source->voltage_v.typical,
                             .high_v = source->voltage_v.high,
                             .metals = {true, true},
                             .place = {.coldest_c = (double)NAN},
                             .given = {.length_m = options_number(given, "length", 0.0),
                                       .source_v = source->voltage_v.low,
                                       .ac = source->ac,
                                       .allowed_drop = 0.05,
                                       .air_c = 30.0,
                                       .loop_ohm = 0.35}};
}

static fe_status start_entry(const options *given, const power_call *call, size_t index,
                             fe_supply_entry *entry)
{
    if (call->has_plan)
        return fe_supply_from_plan(&call->plan, call->path, &call->from[index],
                                   options_number(given, "length", 0.0), entry);
    *entry = entry_from_options(given, &call->from[index]);
    return FE_OK;
}

static int solve_entry(const options *given, power_call *call, size_t index)
{
    fe_supply_entry *entry = calloc(1, sizeof *entry);
    call->entries[index] = entry;
    fe_status status = entry ? start_entry(given, call, index, entry) : FE_E_MEMORY;
    if (status < 0)
        return output_failed(WHO, status);
    const int code = override(given, entry);
    if (code != EXIT_DONE)
        return code;
    status = fe_supply_solve(entry);
    return status < 0 ? output_failed(WHO, status) : EXIT_DONE;
}

static int solve_solar(power_call *call)
{
    if (!call->plan.solar.given)
        return EXIT_DONE;
    call->solar = calloc(1, sizeof *call->solar);
    const fe_status status =
        call->solar ? fe_solar_from_plan(&call->plan, call->path, call->solar) : FE_E_MEMORY;
    if (status >= 0)
        return EXIT_DONE;
    free(call->solar);
    call->solar = NULL;
    return status == FE_E_NO_SOLUTION ? EXIT_DONE : output_failed(WHO, status);
}

static int solve_all(const options *given, power_call *call)
{
    call->entries = calloc(call->count, sizeof *call->entries);
    if (!call->entries)
        return output_failed(WHO, FE_E_MEMORY);
    int code = EXIT_DONE;
    /* A mistake of the options is the same for every voltage: said once. */
    for (size_t i = 0; i < call->count && code == EXIT_DONE; i++)
        code = solve_entry(given, call, i);
    if (code == EXIT_DONE && call->has_plan && !options_given(given, "load"))
        code = solve_solar(call);
    return code;
}

/* The first path whose far end needs power, where --path does not say. */
static bool choose_path(const options *given, power_call *call)
{
    const fe_plan *plan = &call->plan;
    while (call->path + 1 < plan->path_count && !fe_supply_is_asked(plan, call->path))
        call->path++;
    if (!fe_supply_is_asked(plan, call->path))
        call->path = 0;
    return plan_path_given(WHO, given, plan, &call->path);
}

static int read_call(const options *given, power_call *call)
{
    bool good = check(given);
    for (size_t i = 0; i < options_count(given, "voltage") && i < MOST_SOURCES; i++)
        good = read_voltage(options_text_at(given, "voltage", i), &call->sources[i]) && good;
    if (!good)
        return EXIT_BAD_INPUT;
    call->from = call->sources;
    call->count = options_count(given, "voltage");
    if (!plan_path_has_plan(WHO, given))
        return EXIT_BAD_INPUT;
    if (options_operands(given) == 0)
        return EXIT_DONE;
    const int code = plan_open(WHO, given, options_operand(given, 0), &call->plan);
    if (code != EXIT_DONE)
        return code;
    call->has_plan = true;
    if (!choose_path(given, call))
        return EXIT_BAD_INPUT;
    if (call->count == 0) {
        call->from = call->plan.feed.sources;
        call->count = call->plan.feed.source_count;
    }
    if (call->plan.load_count == 0 && !options_given(given, "load")) {
        options_complain(WHO, "the plan has no [load]; write one, or give --load");
        return EXIT_BAD_INPUT;
    }
    return EXIT_DONE;
}

/* ---- Run ---- */

static fe_status add_figure(fe_document *doc, const fe_supply_entry *const *entries,
                            size_t count, const options *given)
{
    if (!options_given(given, "figures"))
        return FE_OK;
    fe_figure figure = FE_FIGURE_INIT;
    const fe_status built =
        fe_report_power_figure(entries, count, output_units(given), &figure);
    return output_draw(WHO, built, &figure, doc);
}

static int print_json(const power_call *call)
{
    fe_strbuf out = FE_STRBUF_INIT;
    const fe_status made = fe_report_power_json((const fe_supply_entry *const *)call->entries,
                                                call->count, call->solar, &out);
    return output_report(WHO, made, &out);
}

static int print_all(const options *given, const power_call *call)
{
    const fe_supply_entry *const *entries = (const fe_supply_entry *const *)call->entries;
    const fe_supply_entry *first = entries[0];
    fe_document *doc = fe_document_new("Power over a cable");
    fe_document_pair(doc, "Cable", "%s, one way",
                     fe_amount(doc, first->given.length_m, FE_STYLE_LENGTH));
    fe_document_pair(doc, "Allowed drop", "%s",
                     fe_amount(doc, first->given.allowed_drop, FE_STYLE_PERCENT));
    fe_report_power(doc, entries, call->count, call->has_plan ? &call->plan : NULL,
                    call->solar);
    const fe_status status = add_figure(doc, entries, call->count, given);
    int code = status < 0 ? output_failed(WHO, status) : output_document(WHO, given, doc);
    fe_document_free(doc);
    if (options_given(given, "json") && print_json(call) != EXIT_DONE)
        code = EXIT_WORK_FAILED;
    return code;
}

static int run(const options *given)
{
    power_call call = {.count = 0};
    int code = read_call(given, &call);
    if (code == EXIT_DONE)
        code = solve_all(given, &call);
    if (code == EXIT_DONE)
        code = print_all(given, &call);
    free_call(&call);
    return code;
}

const command COMMAND_POWER = {
    .name = "power",
    .summary = "the feed: which conductor, and what arrives",
    .usage = "[PLAN] [OPTION]...",
    .description =
        "For each source voltage: the smallest conductor, as the largest that voltage drop,\n"
        "the loads, ampacity, the fault loop and mechanics ask for, the voltage at each load\n"
        "running and starting, and what the cable loses in a year. With a plan, what is\n"
        "given there counts, and options change it: --load replaces its loads,\n"
        "--voltage its voltages.\n"
        "\n"
        "A voltage is DC up to 60 V, else AC, unless it ends in dc or ac. A battery is a\n"
        "range, 11.5..14.4V; its low end decides. What is known of one load alone follows\n"
        "it: --load 60W@40m,start=3,hours=6h,minimum=10.8V,power-factor=0.9\n",
    .options = OPTIONS,
    .example = "--length 100m --load 60W --voltage 12V --voltage 48V --voltage 230V --drop 5%",
    .operands_min = 0,
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
