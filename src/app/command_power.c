/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend power`: the feed. */
#include "app/command.h"
#include "app/output.h"

#include <ctype.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/radio_setup.h"
#include "farend/number.h"
#include "farend/report_power.h"
#include "farend/result.h"

static const char WHO[] = "farend power";

enum { MOST_SOURCES = 8 };
/* DC up to here unless a suffix says otherwise. */
static const double DC_TO_V = 60.0;
static const double HOURS = 24.0;

static const option OPTIONS[] = {
    {.name = "length",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .help = "cable as bought, one way"},
    {.name = "load",
     .kind = OPTION_TEXT,
     .metavar = "POWER[@PLACE]",
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
     .help = "allowed voltage drop (5 %)"},
    {.name = "minimum",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_VOLTAGE,
     .help = "least voltage that the loads accept"},
    {.name = "start",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_NUMBER,
     .metavar = "FACTOR",
     .help = "current of each load at start over running (1)"},
    {.name = "power-factor",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_NUMBER,
     .metavar = "NUMBER",
     .help = "of the loads on AC (1)"},
    {.name = "hours",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TIME,
     .help = "that the loads run each day (24 h)"},
    {.name = "material",
     .kind = OPTION_TEXT,
     .choices = "copper|aluminium|both",
     .help = "conductors to consider (both)"},
    {.name = "size",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_AREA,
     .help = "conductor of a cable you have already"},
    {.name = "air",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .help = "hottest air at the cable (30 degC)"},
    {.name = "protection",
     .kind = OPTION_TEXT,
     .metavar = "DEVICE",
     .help = "what protects the feed: B16, C10, 10A"},
    {.name = "loop-impedance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_RESISTANCE,
     .help = "of the supply, outside the feed (0.35 ohm)"},
    {.name = "span",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .help = "longest span where it hangs as open single conductors"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_FIGURES,
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

static bool read_voltage(const char *text, fe_supply_entry *entry)
{
    char number[80];
    fe_value value;
    snprintf(number, sizeof number, "%s", text);
    const bool ac = ends_with(number, "ac"), dc = !ac && ends_with(number, "dc");
    if (strlen(text) >= sizeof number ||
        fe_value_parse(number, FE_DIM_VOLTAGE, &value) != FE_OK ||
        value.given == FE_GIVEN_UNKNOWN || !(value.low > 0.0)) {
        options_complain(WHO,
                         "--voltage: '%.60s' is not a voltage, for example --voltage 48V, "
                         "--voltage 11.5..14.4V or --voltage 24Vac",
                         text);
        return false;
    }
    entry->nominal_v = value.typical;
    entry->high_v = value.high;
    entry->given.source_v = value.low;
    entry->given.ac = ac || (!dc && value.high > DC_TO_V);
    return true;
}

static bool read_load(const char *text, double length_m, fe_supply_load *load)
{
    char amount[80];
    snprintf(amount, sizeof amount, "%s", text);
    char *at = strchr(amount, '@');
    load->at_m = length_m;
    if (at)
        *at++ = 0;
    bool good = strlen(text) < sizeof amount;
    if (at)
        good = good && fe_quantity_parse(at, FE_DIM_LENGTH, &load->at_m) == FE_OK &&
               load->at_m > 0.0 && load->at_m <= length_m;
    load->kind = FE_LOAD_POWER;
    if (fe_quantity_parse(amount, FE_DIM_POWER, &load->load) != FE_OK) {
        load->kind = FE_LOAD_CURRENT;
        good = good && fe_quantity_parse(amount, FE_DIM_CURRENT, &load->load) == FE_OK;
    }
    good = good && load->load > 0.0;
    if (!good)
        options_complain(WHO,
                         "--load: '%.60s' is not a power or a current above 0, with its place "
                         "within the length: --load 60W, --load 2A@40m",
                         text);
    return good;
}

/* "B16", "c10", "10A", "10 A fuse". */
static bool read_device(const char *text, fe_supply_case *given)
{
    const char *end = text;
    static const char types[] = "BCD";
    const char *type = text[0] ? strchr(types, toupper((unsigned char)text[0])) : NULL;
    given->is_breaker = type != NULL;
    if (type)
        given->trip = (fe_breaker_type)(type - types);
    given->has_device =
        fe_number_scan(text + (type ? 1 : 0), &given->rating_a, &end) && given->rating_a > 0.0;
    if (!given->has_device)
        options_complain(WHO, "--protection: '%.60s' is no device: B16, C10, 10A", text);
    return given->has_device;
}

static int by_place(const void *a, const void *b)
{
    const fe_supply_load *one = a, *other = b;
    return (one->at_m > other->at_m) - (one->at_m < other->at_m);
}

static bool read_loads(const options *given, fe_supply_entry *entry)
{
    bool good = true;
    const size_t count = options_count(given, "load");
    entry->given.load_count = count;
    for (size_t i = 0; i < count; i++) {
        fe_supply_load *load = &entry->loads[i];
        good =
            read_load(options_text_at(given, "load", i), entry->given.length_m, load) && good;
        load->power_factor = options_number(given, "power-factor", 1.0);
        load->start_factor = options_number(given, "start", 1.0);
        load->hours_per_day = options_number(given, "hours", HOURS * 3600.0) / 3600.0;
        load->least_v = options_number(given, "minimum", 0.0);
    }
    qsort(entry->loads, count, sizeof entry->loads[0], by_place);
    return good;
}

static bool is_between(const options *given, const char *name, double low, double high,
                       double fallback, const char *wanted)
{
    const double value = options_number(given, name, fallback);
    if (value >= low && value <= high)
        return true;
    options_complain(WHO, "--%s: must be %s", name, wanted);
    return false;
}

static bool check(const options *given)
{
    bool good = true;
    if (!options_given(given, "length") || !options_given(given, "load") ||
        !options_given(given, "voltage")) {
        options_complain(WHO, "give --length, --load and --voltage, for example: farend power "
                              "--length 100m --load 60W --voltage 48V");
        good = false;
    }
    if (options_count(given, "voltage") > MOST_SOURCES ||
        options_count(given, "load") > FE_SUPPLY_MOST_LOADS) {
        options_complain(WHO, "at most %d voltages and %d loads", MOST_SOURCES,
                         FE_SUPPLY_MOST_LOADS);
        good = false;
    }
    good = is_between(given, "length", 0.01, 1e6, 1.0, "above 0, at most 1000 km") && good;
    good = is_between(given, "drop", 1e-6, 0.5, 0.05, "above 0, at most 50 %") && good;
    good = is_between(given, "air", -60.0, 60.0, 30.0, "from -60 to 60 degC") && good;
    good = is_between(given, "hours", 0.0, 86400.0, 0.0, "from 0 to 24 h") && good;
    good = is_between(given, "start", 1.0, 20.0, 1.0, "from 1 to 20") && good;
    good = is_between(given, "power-factor", 0.05, 1.0, 1.0, "from 0.05 to 1") && good;
    good = is_between(given, "minimum", 0.0, 1e4, 0.0, "0 or above") && good;
    good = is_between(given, "loop-impedance", 0.0, 1e4, 0.0, "0 or above") && good;
    good = is_between(given, "span", 0.0, 1e4, 0.0, "0 or above") && good;
    return is_between(given, "size", 1e-9, 1e-2, 1e-6, "above 0") && good;
}

static bool read_entry(const options *given, size_t index, fe_supply_entry *entry)
{
    const char *material = options_text(given, "material");
    const bool both = !material || strcmp(material, "both") == 0;
    entry->given.length_m = options_number(given, "length", 0.0);
    entry->given.allowed_drop = options_number(given, "drop", 0.05);
    entry->given.air_c = options_number(given, "air", 30.0);
    entry->given.loop_ohm = options_number(given, "loop-impedance", 0.35);
    entry->given.open_span_m = options_number(given, "span", 0.0);
    entry->owned_m2 = options_number(given, "size", 0.0);
    entry->metals[FE_CONDUCTOR_COPPER] = both || strcmp(material, "copper") == 0;
    entry->metals[FE_CONDUCTOR_ALUMINIUM] = both || strcmp(material, "aluminium") == 0;
    bool good = read_voltage(options_text_at(given, "voltage", index), entry);
    if (index == 0 || good)
        good = read_loads(given, entry) && good;
    if (options_given(given, "protection"))
        good = read_device(options_text(given, "protection"), &entry->given) && good;
    return good;
}

/* ---- JSON ---- */

static json_t *number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

static json_t *area_mm2(const fe_supply_size *size)
{
    return size ? json_real(1e6 * size->conductor.area_m2) : json_null();
}

static json_t *gauge(const fe_supply_size *size)
{
    return size ? json_string(size->name) : json_null();
}

static json_t *entry_json(const fe_supply_entry *entry)
{
    const fe_conductor_material metal = entry->main_metal;
    const fe_supply_size *smallest = fe_supply_smallest(entry, metal, FE_SIZES_METRIC);
    const fe_supply_size *shown = entry->owned_m2 > 0.0 ? &entry->owned : smallest;
    const fe_supply_size none = {.far_v = NAN,
                                 .drop = NAN,
                                 .loss_j_year = NAN,
                                 .start_v = NAN,
                                 .current_a = NAN,
                                 .conductor_c = NAN};
    const fe_supply_size *size = shown ? shown : &none;
    json_t *asked = json_object();
    const fe_supply_choice *choice = &entry->choices[metal][FE_SIZES_METRIC];
    for (int i = 0; i < FE_DEMANDS; i++)
        json_object_set_new(asked, fe_supply_demand_name((fe_supply_demand)i),
                            choice->asked[i] < 0 ? json_null()
                                                 : area_mm2(&choice->sizes[choice->asked[i]]));
    json_t *loads = json_array();
    for (size_t i = 0; size->delivered && i < entry->given.load_count; i++)
        json_array_append_new(
            loads,
            json_pack("{s:f, s:f, s:o}", "at_m", entry->loads[i].at_m, "voltage_v",
                      size->points[i].voltage_v, "starting_voltage_v",
                      isfinite(size->start_v) ? json_real(size->starting_v[i]) : json_null()));
    return json_pack(
        "{s:f, s:f, s:s, s:s, s:o, s:o, s:o, s:o, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:s, "
        "s:s, s:o, s:o}",
        "voltage_v", entry->nominal_v, "lowest_voltage_v", entry->given.source_v, "kind",
        entry->given.ac ? "ac" : "dc", "material", fe_conductor_material_name(metal),
        "smallest_mm2", area_mm2(smallest), "smallest_awg",
        gauge(fe_supply_smallest(entry, metal, FE_SIZES_AWG)), "smallest_aluminium_mm2",
        area_mm2(fe_supply_smallest(entry, FE_CONDUCTOR_ALUMINIUM, FE_SIZES_METRIC)),
        "smallest_aluminium_awg",
        gauge(fe_supply_smallest(entry, FE_CONDUCTOR_ALUMINIUM, FE_SIZES_AWG)), "conductor",
        shown ? shown->name : "", "drop_percent", number(100.0 * size->drop), "far_voltage_v",
        number(size->far_v), "starting_voltage_v", number(size->start_v), "current_a",
        number(size->current_a), "conductor_temp_c", number(size->conductor_c),
        "loss_kwh_per_year", number(size->loss_j_year / 3.6e6), "greatest_power_w",
        shown ? number(shown->greatest_w) : json_null(), "verdict",
        fe_verdict_name((fe_verdict)fe_supply_judge(entry)), "limited_by",
        fe_supply_demand_name(choice->limited_by), "asked_mm2", asked, "loads", loads);
}

static int print_json(const fe_supply_entry *entries, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++)
        json_array_append_new(list, entry_json(&entries[i]));
    return output_json(WHO, list, OUTPUT_JSON_FLAGS);
}

/* ---- Run ---- */

static fe_status add_figure(fe_document *doc, const fe_supply_entry *entries, size_t count,
                            const options *given)
{
    if (!options_given(given, "figures"))
        return FE_OK;
    const fe_units units = output_units(given);
    fe_figure figure = FE_FIGURE_INIT;
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    fe_status status = fe_report_power_figure(entries, count, units, &figure);
    if (status == FE_OK)
        status = fe_figure_add(&figure, gnuplot, doc);
    fe_figure_free(&figure);
    fe_gnuplot_free(gnuplot);
    return status == FE_E_DOMAIN ? FE_OK : status;
}

static int print_all(const options *given, const fe_supply_entry *entries, size_t count)
{
    fe_document *doc = fe_document_new("Power over a cable");
    fe_document_pair(doc, "Cable", "%s, one way",
                     fe_amount(doc, entries[0].given.length_m, FE_STYLE_LENGTH));
    fe_document_pair(doc, "Allowed drop", "%s",
                     fe_amount(doc, entries[0].given.allowed_drop, FE_STYLE_PERCENT));
    fe_report_power(doc, entries, count);
    const fe_status status = add_figure(doc, entries, count, given);
    int code = status < 0 ? command_exit_code(status) : output_document(WHO, given, doc);
    fe_document_free(doc);
    if (options_given(given, "json") && print_json(entries, count) != EXIT_DONE)
        code = EXIT_WORK_FAILED;
    return code;
}

static int run(const options *given)
{
    if (!check(given))
        return EXIT_BAD_INPUT;
    const size_t count = options_count(given, "voltage");
    fe_supply_entry *entries = calloc(count, sizeof *entries);
    if (!entries) {
        options_complain(WHO, "%s", fe_status_text(FE_E_MEMORY));
        return EXIT_WORK_FAILED;
    }
    bool good = true;
    for (size_t i = 0; i < count; i++)
        good = read_entry(given, i, &entries[i]) && good;
    fe_status status = good ? FE_OK : FE_E_INPUT;
    for (size_t i = 0; i < count && status >= 0; i++)
        status = fe_supply_solve(&entries[i]);
    if (good && status < 0)
        options_complain(WHO, "%s", fe_status_text(status));
    const int code = status < 0 ? command_exit_code(status) : print_all(given, entries, count);
    free(entries);
    return code;
}

const command COMMAND_POWER = {
    .name = "power",
    .summary = "the feed: which conductor, and what arrives",
    .usage = "--length LENGTH --load POWER --voltage VOLTAGE [OPTION]...",
    .description =
        "For each source voltage: the smallest conductor, as the largest that voltage drop,\n"
        "the loads, ampacity, the fault loop and mechanics ask for, the voltage at each load\n"
        "running and starting, and what the cable loses in a year.\n"
        "\n"
        "A voltage is DC up to 60 V, else AC, unless it ends in dc or ac. A battery is a\n"
        "range, 11.5..14.4V; its low end decides.\n",
    .options = OPTIONS,
    .example = "--length 100m --load 60W --voltage 12V --voltage 48V --voltage 230V --drop 5%",
    .run = run,
};
