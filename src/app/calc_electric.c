/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formulas of wires: conductors, feeds, faults, data over copper and fibre, batteries. */
#include <math.h>

#include "calc.h"
#include "farend/ampacity.h"
#include "farend/battery.h"
#include "farend/conductor.h"
#include "farend/ethernet.h"
#include "farend/fault_loop.h"
#include "farend/feed.h"
#include "farend/fibre.h"
#include "farend/poe.h"
#include "farend/strike.h"

static fe_conductor_material material_of(const calc_call *call)
{
    return calc_is_word(call, "material", "copper") ? FE_CONDUCTOR_COPPER
                                                    : FE_CONDUCTOR_ALUMINIUM;
}

static fe_conductor_class class_of(const calc_call *call)
{
    if (calc_is_word(call, "class", "1"))
        return FE_CLASS_SOLID;
    return calc_is_word(call, "class", "5") ? FE_CLASS_FLEXIBLE : FE_CLASS_STRANDED;
}

static fe_status wire_resistance(calc_call *call, fe_conductor conductor, double *ohm_per_m)
{
    const fe_status status =
        fe_conductor_resistance(&conductor, calc_number(call, "temperature"), ohm_per_m);
    if (status < 0)
        calc_explain(call, "size must be above 0, and the temperature that of a metal wire");
    else if (status == FE_W_RANGE)
        calc_explain(call, "no table has this size, metal and class (then it is resistivity "
                           "over area), or the temperature is outside -60 to 250 degC");
    return status;
}

static fe_status run_conductor(calc_call *call)
{
    const fe_conductor conductor = {calc_number(call, "size"), material_of(call),
                                    class_of(call)};
    double ohm_per_m = 0.0;
    const fe_status status = wire_resistance(call, conductor, &ohm_per_m);
    if (status < 0)
        return status;
    calc_result(call, "ohm_per_km", 1e3 * ohm_per_m, "ohm/km");
    calc_result(call, "area_mm2", 1e6 * conductor.area_m2, "mm2");
    return status;
}

/* One load at the end, by current or by power; false where it is neither or both. */
static bool read_load(calc_call *call, fe_feed_section *section)
{
    const double current_a = calc_number(call, "current");
    const double power_w = calc_number(call, "power");
    if (isnan(current_a) == isnan(power_w)) {
        calc_explain(call, "give either current or power");
        return false;
    }
    section->kind = isnan(power_w) ? FE_LOAD_CURRENT : FE_LOAD_POWER;
    section->load = isnan(power_w) ? current_a : power_w;
    section->power_factor = calc_number(call, "power-factor");
    section->reference = FE_ANGLE_OWN;
    if (calc_is_word(call, "kind", "dc") &&
        (section->x_ohm > 0.0 || section->power_factor != 1.0)) {
        calc_explain(call, "reactance and power-factor belong to kind=ac");
        return false;
    }
    return true;
}

static void explain_feed(calc_call *call, fe_status status, double source_v,
                         const fe_feed_section *section)
{
    double share = 0.0;
    if (status == FE_E_NO_SOLUTION &&
        fe_feed_greatest_share(source_v, section, 1, &share) == FE_OK)
        calc_explain(call, "this feed cannot deliver that at any voltage; the most is %.4g %s",
                     share * section->load, section->kind == FE_LOAD_POWER ? "W" : "A");
    else
        calc_explain(call, "voltage must be above 0; length, load and reactance 0 or more; "
                           "power-factor above 0 to 1, or negative where it leads");
}

static fe_status run_voltage_drop(calc_call *call)
{
    const fe_conductor conductor = {calc_number(call, "size"), material_of(call),
                                    class_of(call)};
    const double source_v = calc_number(call, "voltage");
    const double length_m = calc_number(call, "length");
    double ohm_per_m = 0.0;
    const fe_status found = wire_resistance(call, conductor, &ohm_per_m);
    if (found < 0)
        return found;
    fe_feed_section section = {.r_ohm = 2.0 * ohm_per_m * length_m,
                               .x_ohm = 2.0 * calc_number(call, "reactance") * length_m};
    if (!read_load(call, &section))
        return FE_E_DOMAIN;
    fe_feed_source source;
    const fe_status status = fe_feed_from_source(source_v, &section, 1, NULL, &source);
    if (status < 0) {
        explain_feed(call, status, source_v, &section);
        return status;
    }
    calc_result(call, "drop_v", source.drop_v, "V");
    calc_result(call, "drop_percent", 100.0 * source.drop_v / source_v, "%");
    calc_result(call, "far_voltage_v", source_v - source.drop_v, "V");
    calc_result(call, "current_a", source.current_a, "A");
    calc_result(call, "loss_w", source.loss_w, "W");
    calc_result(call, "ohm_per_km", 1e3 * ohm_per_m, "ohm/km");
    return fe_status_worse(found, status);
}

/* The loop as given, or from the cable. */
static fe_status poe_loop(calc_call *call, double *loop_ohm)
{
    const double given_ohm = calc_number(call, "loop");
    const double length_m = calc_number(call, "length");
    if (isnan(given_ohm) == isnan(length_m)) {
        calc_explain(call, "give either loop, or length with size");
        return FE_E_DOMAIN;
    }
    if (isnan(length_m)) {
        *loop_ohm = given_ohm;
        return FE_OK;
    }
    const fe_conductor wire = {calc_number(call, "size"), FE_CONDUCTOR_COPPER, FE_CLASS_SOLID};
    double ohm_per_m = 0.0;
    const fe_status found = wire_resistance(call, wire, &ohm_per_m);
    if (found < 0)
        return found;
    const fe_status status =
        fe_poe_loop(ohm_per_m, length_m, calc_is_word(call, "pairs", "4") ? 2 : 1, loop_ohm);
    if (status < 0)
        calc_explain(call, "length must be above 0");
    return fe_status_worse(found, status);
}

static fe_status run_poe(calc_call *call)
{
    const double source_v = calc_number(call, "voltage");
    const double device_w = calc_number(call, "power");
    double loop_ohm = 0.0, longest_ohm = 0.0;
    fe_poe_feed feed;
    const fe_status found = poe_loop(call, &loop_ohm);
    if (found < 0)
        return found;
    fe_status status = fe_poe_longest_loop(source_v, device_w, &longest_ohm);
    if (status == FE_OK)
        status = fe_poe_deliver(source_v, device_w, loop_ohm, &feed);
    if (status == FE_E_NO_SOLUTION)
        calc_explain(call, "a loop of %.4g ohm cannot deliver that; the most is %.4g ohm",
                     loop_ohm, longest_ohm);
    else if (status < 0)
        calc_explain(call, "voltage, power and loop must be above 0");
    if (status < 0)
        return status;
    calc_result(call, "loop_ohm", loop_ohm, "ohm");
    calc_result(call, "current_a", feed.current_a, "A");
    calc_result(call, "device_voltage_v", feed.device_v, "V");
    calc_result(call, "pse_power_w", feed.source_w, "W");
    calc_result(call, "longest_loop_ohm", longest_ohm, "ohm");
    return fe_status_worse(found, status);
}

static const fe_loss_equation *equation_of(const calc_call *call)
{
    const bool iso = calc_is_word(call, "standard", "iso");
    if (calc_is_word(call, "category", "5e"))
        return iso ? fe_loss_equation_find("ISO channel class D (Cat 5e)")
                   : fe_loss_equation_for(FE_CATEGORY_5E);
    if (calc_is_word(call, "category", "6"))
        return iso ? fe_loss_equation_find("ISO channel class E (Cat 6)")
                   : fe_loss_equation_for(FE_CATEGORY_6);
    return iso ? NULL : fe_loss_equation_for(FE_CATEGORY_6A);
}

static bool is_screened(const calc_call *call)
{
    return calc_is_word(call, "screened", "yes");
}

/* The cords' extra loss a metre, by their gauge. */
static double cord_derating(const calc_call *call)
{
    return calc_is_word(call, "cord-gauge", "26") ? 0.5 : 0.2;
}

static fe_status channel_as_built(calc_call *call, const fe_loss_equation *equation,
                                  double f_hz, double limit_db)
{
    const fe_channel_run run = {.fixed_cable_m = calc_number(call, "length"),
                                .cords_m = calc_number(call, "cords"),
                                .cord_derating = cord_derating(call),
                                .connectors = (unsigned)calc_number(call, "connectors"),
                                .temp_c = calc_number(call, "temperature"),
                                .screened = is_screened(call)};
    double run_db = 0.0;
    if (isnan(run.fixed_cable_m))
        return FE_OK;
    const fe_status status = fe_insertion_loss_run(equation, &run, f_hz, &run_db);
    if (status < 0) {
        calc_explain(call, "length and cords must be 0 or more");
        return status;
    }
    calc_result(call, "run_db", run_db, "dB");
    calc_result(call, "margin_db", limit_db - run_db, "dB");
    return status;
}

static fe_status run_insertion_loss(calc_call *call)
{
    const fe_loss_equation *equation = equation_of(call);
    const double f_hz = calc_number(call, "frequency");
    double cable_db = 0.0, connector_db = 0.0, channel_db = 0.0;
    if (!equation) {
        calc_explain(call, "standard=iso has categories 5e and 6");
        return FE_E_DOMAIN;
    }
    if (!(calc_number(call, "connectors") <= 100.0)) {
        calc_explain(call, "connectors must be 100 or fewer");
        return FE_E_DOMAIN;
    }
    const fe_status status = fe_status_worse(
        fe_insertion_loss_channel(equation, f_hz, &channel_db),
        fe_status_worse(fe_insertion_loss_cable(equation, f_hz, &cable_db),
                        fe_insertion_loss_connector(equation, f_hz, &connector_db)));
    if (status < 0) {
        calc_explain(call, "frequency must be above 0");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "the equation holds from 1 to %.0f MHz",
                     1e-6 * equation->highest_hz);
    calc_result(call, "cable_db", cable_db, "dB");
    calc_result(call, "connector_db", connector_db, "dB");
    calc_result(call, "channel_db", channel_db, "dB");
    return fe_status_worse(status, channel_as_built(call, equation, f_hz, channel_db));
}

static fe_category category_of(const calc_call *call)
{
    static const struct {
        const char *word;
        fe_category category;
    } words[] = {{"single", FE_CATEGORY_SINGLE_PAIR},
                 {"3", FE_CATEGORY_3},
                 {"5", FE_CATEGORY_5},
                 {"5e", FE_CATEGORY_5E},
                 {"6", FE_CATEGORY_6},
                 {"6A", FE_CATEGORY_6A},
                 {"8", FE_CATEGORY_8}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (calc_is_word(call, "category", words[i].word))
            return words[i].category;
    return FE_CATEGORY_3;
}

static fe_status run_channel_length(calc_call *call)
{
    const char *application = calc_word(call, "application");
    const fe_ethernet_reach *reach =
        fe_ethernet_reach_for(application, category_of(call), is_screened(call));
    if (!reach) {
        calc_explain(call, "%s is not known to run over that cable", application);
        return FE_E_DOMAIN;
    }
    const fe_channel_plan plan = {.channel_limit_m = reach->channel_limit_m,
                                  .permanent_link_limit_m = reach->permanent_link_limit_m,
                                  .cords_m = calc_number(call, "cords"),
                                  .cord_derating = cord_derating(call),
                                  .temp_c = calc_number(call, "temperature"),
                                  .screened = is_screened(call)};
    fe_channel_length length;
    const fe_status status = fe_channel_longest(&plan, &length);
    if (status < 0) {
        calc_explain(call, status == FE_E_NO_SOLUTION ? "the cords use the channel up"
                                                      : "cords must be 0 or more");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "the table of warm cable ends at 60 degC");
    calc_result(call, "channel_limit_m", reach->channel_limit_m, "m");
    calc_result(call, "fixed_cable_m", length.fixed_cable_m, "m");
    calc_result(call, "channel_m", length.channel_m, "m");
    calc_result(call, "standard_link_m", length.standard_link_m, "m");
    if (*reach->condition)
        calc_result_word(call, "condition", reach->condition);
    return status;
}

static fe_breaker_type breaker_of(const calc_call *call)
{
    if (calc_is_word(call, "type", "B"))
        return FE_BREAKER_B;
    return calc_is_word(call, "type", "C") ? FE_BREAKER_C : FE_BREAKER_D;
}

/* Loop impedance of the run with its supply. */
static fe_status loop_impedance(calc_call *call, double *zs_ohm)
{
    const double size_m2 = calc_number(call, "size");
    const double protective_m2 = calc_number(call, "protective");
    double r1r2 = 0.0;
    const fe_status found =
        fe_fault_loop_r1r2(size_m2, isnan(protective_m2) ? size_m2 : protective_m2, &r1r2);
    if (found == FE_W_RANGE)
        calc_explain(call, "no table has one of these sizes: resistivity over area");
    const fe_status status =
        found < 0 ? found
                  : fe_fault_loop_zs(calc_number(call, "ze"), r1r2, calc_number(call, "length"),
                                     calc_number(call, "factor"), zs_ohm);
    if (status < 0)
        calc_explain(call, "sizes must be above 0, ze and length 0 or more, factor 1 or more");
    return fe_status_worse(found, status);
}

static fe_status run_fault_loop(calc_call *call)
{
    const fe_breaker_type type = breaker_of(call);
    const double rating_a = calc_number(call, "rating");
    double zs_ohm = 0.0, max_ohm = 0.0, cold_ohm = 0.0, fault_a = 0.0, trip_a = 0.0;
    const fe_status found = loop_impedance(call, &zs_ohm);
    if (found < 0)
        return found;
    fe_status status = fe_fault_loop_max_zs(type, rating_a, &max_ohm);
    if (status == FE_OK)
        status = fe_fault_loop_cold_limit(max_ohm, &cold_ohm);
    if (status == FE_OK)
        status = fe_fault_loop_trip(type, rating_a, &trip_a);
    if (status == FE_OK)
        status = fe_fault_loop_current(zs_ohm, &fault_a);
    if (status < 0) {
        calc_explain(call, "rating and loop impedance must be above 0");
        return status;
    }
    calc_result(call, "zs_ohm", zs_ohm, "ohm");
    calc_result(call, "max_zs_ohm", max_ohm, "ohm");
    calc_result(call, "cold_limit_ohm", cold_ohm, "ohm");
    calc_result(call, "fault_current_a", fault_a, "A");
    calc_result(call, "trip_current_a", trip_a, "A");
    calc_result_word(call, "trips", zs_ohm <= max_ohm ? "yes" : "no");
    return fe_status_worse(found, status);
}

static fe_cable_method method_of(const calc_call *call)
{
    if (calc_is_word(call, "method", "conduit"))
        return FE_METHOD_CONDUIT_ON_WALL;
    return calc_is_word(call, "method", "flat") ? FE_METHOD_FLAT_CLIPPED : FE_METHOD_CLIPPED;
}

static fe_status run_ampacity(calc_call *call)
{
    const fe_conductor conductor = {calc_number(call, "size"), material_of(call),
                                    FE_CLASS_STRANDED};
    const fe_ampacity_case where = {.air_c = calc_number(call, "temperature"),
                                    .insulation_c = calc_number(call, "insulation"),
                                    .terminal_c = calc_number(call, "terminal"),
                                    .method = method_of(call)};
    double ampacity_a = 0.0;
    const fe_status status = fe_ampacity_of(&conductor, &where, &ampacity_a);
    if (status < 0) {
        calc_explain(call, status == FE_E_NO_SOLUTION
                               ? "air this hot leaves no current"
                               : "the table has no such size, metal, method or insulation");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "metric aluminium is estimated by equal heat; air below 10 degC is "
                           "beyond the tables");
    calc_result(call, "ampacity_a", ampacity_a, "A");
    return status;
}

/* What the application allows, beside what the link loses. */
static fe_status application_limits(calc_call *call, fe_fibre fibre, double loss_db)
{
    const char *application = calc_word(call, "application");
    if (!*application)
        return FE_OK;
    const fe_fibre_reach *reach = fe_fibre_reach_for(application, fibre);
    if (!reach) {
        calc_explain(call, "%s is not known to run over that fibre", application);
        return FE_E_DOMAIN;
    }
    calc_result(call, "reach_m", reach->reach_m, "m");
    if (!isnan(reach->budget_db))
        calc_result(call, "margin_db", reach->budget_db - loss_db, "dB");
    return FE_OK;
}

static fe_status run_fibre_loss(calc_call *call)
{
    const double connectors = calc_number(call, "connectors");
    const double splices = calc_number(call, "splices");
    fe_fibre fibre = FE_FIBRE_OS2;
    double db_per_m = 0.0, loss_db = 0.0;
    if (!fe_fibre_named(calc_word(call, "fibre"), &fibre) ||
        fe_fibre_attenuation(fibre, calc_number(call, "wavelength"), &db_per_m) != FE_OK) {
        calc_explain(call, "fibre is specified near 850 and 1300 nm (OM1 to OM5), or from 1260 "
                           "to 1625 nm (OS2)");
        return FE_E_DOMAIN;
    }
    if (!(connectors <= 1000.0) || !(splices <= 1000.0)) {
        calc_explain(call, "connectors and splices must be 1000 or fewer");
        return FE_E_DOMAIN;
    }
    const fe_status status =
        fe_fibre_link_loss(calc_number(call, "length"), db_per_m, (unsigned)connectors,
                           (unsigned)splices, &loss_db);
    if (status < 0) {
        calc_explain(call, "length must be 0 or more");
        return status;
    }
    calc_result(call, "loss_db", loss_db, "dB");
    return application_limits(call, fibre, loss_db);
}

static fe_status run_battery(calc_call *call)
{
    const fe_battery_need need = {.energy_per_day_j = calc_number(call, "energy"),
                                  .days = calc_number(call, "days"),
                                  .depth = calc_number(call, "depth"),
                                  .efficiency = calc_number(call, "efficiency"),
                                  .cold_part = calc_number(call, "cold")};
    double energy_j = 0.0, charge_c = 0.0, panel_w = 0.0;
    fe_status status = fe_battery_energy(&need, &energy_j);
    if (status == FE_OK)
        status = fe_battery_charge(energy_j, calc_number(call, "voltage"), &charge_c);
    if (status == FE_OK)
        status = fe_panel_power(need.energy_per_day_j, calc_number(call, "sun"),
                                calc_number(call, "panel-efficiency"), &panel_w);
    if (status < 0) {
        calc_explain(call, "all must be above 0; depth, efficiencies and cold at most 1; sun "
                           "at most 24 h");
        return status;
    }
    calc_result(call, "battery_wh", energy_j / 3600.0, "Wh");
    calc_result(call, "battery_ah", charge_c / 3600.0, "Ah");
    calc_result(call, "panel_w", panel_w, "W");
    return status;
}

static fe_status run_strike_rate(calc_call *call)
{
    double direct_per_s = 0.0, nearby_per_s = 0.0;
    const fe_status status =
        fe_strike_rate(calc_number(call, "length"), calc_number(call, "density"),
                       calc_number(call, "factor"), &direct_per_s, &nearby_per_s);
    if (status < 0) {
        calc_explain(call,
                     "length must be above 0, density 0 or more, factor above 0 to at most 1");
        return status;
    }
    calc_result(call, "direct_per_year", direct_per_s * FE_YEAR_S, "/year");
    calc_result(call, "nearby_per_year", nearby_per_s * FE_YEAR_S, "/year");
    return status;
}

#define SIZE(fallback)                                                                         \
    {                                                                                          \
        "size", CALC_QUANTITY, FE_DIM_AREA, NULL, fallback, "of one conductor"                 \
    }
#define MATERIAL                                                                               \
    {                                                                                          \
        "material", CALC_WORD, FE_DIM_NUMBER, "copper|aluminium", "copper", NULL               \
    }
#define CLASS                                                                                  \
    {                                                                                          \
        "class", CALC_WORD, FE_DIM_NUMBER, "1|2|5", "2", "1 solid, 2 stranded, 5 flexible"     \
    }
#define TEMPERATURE(fallback, range)                                                           \
    {                                                                                          \
        "temperature", CALC_QUANTITY, FE_DIM_TEMPERATURE, NULL, fallback, range                \
    }
#define LENGTH(fallback, range)                                                                \
    {                                                                                          \
        "length", CALC_QUANTITY, FE_DIM_LENGTH, NULL, fallback, range                          \
    }
#define CORDS(fallback)                                                                        \
    {"cords", CALC_QUANTITY, FE_DIM_LENGTH, NULL, fallback, "both ends together"},             \
    {                                                                                          \
        "cord-gauge", CALC_WORD, FE_DIM_NUMBER, "24|26", "24", "AWG of the cords"              \
    }
#define SCREENED                                                                               \
    {                                                                                          \
        "screened", CALC_WORD, FE_DIM_NUMBER, "yes|no", "no", NULL                             \
    }

const calc_formula CALC_ELECTRIC[] = {
    {
        .name = "conductor",
        .summary = "resistance of one conductor of a wire size",
        .source = "IEC 60228:2004 Tables 1 to 3; NFPA 70 ch. 9 Table 8; ASTM B258",
        .arguments = {SIZE(NULL), MATERIAL, TEMPERATURE("20degC", "of the conductor"), CLASS},
        .results = "ohm_per_km area_mm2",
        .example = "size=2.5mm2 temperature=70degC",
        .run = run_conductor,
    },
    {
        .name = "voltage-drop",
        .summary = "voltage left at the end of a two-wire feed",
        .source = "circuit theory with phasors; resistances as in conductor",
        .arguments = {LENGTH(NULL, "one way"),
                      {"current", CALC_QUANTITY, FE_DIM_CURRENT, NULL, "", "or power"},
                      {"power", CALC_QUANTITY, FE_DIM_POWER, NULL, "", "or current"},
                      {"voltage", CALC_QUANTITY, FE_DIM_VOLTAGE, NULL, NULL,
                       "at the source, > 0"},
                      SIZE(NULL),
                      MATERIAL,
                      TEMPERATURE("20degC", "of the conductor"),
                      CLASS,
                      {"kind", CALC_WORD, FE_DIM_NUMBER, "dc|ac", "dc", NULL},
                      {"power-factor", CALC_QUANTITY, FE_DIM_NUMBER, NULL, "1",
                       "> 0 to 1, negative where it leads"},
                      {"reactance", CALC_QUANTITY, FE_DIM_LINEAR_RESISTANCE, NULL, "0 ohm/km",
                       "of one conductor"}},
        .results = "drop_v drop_percent far_voltage_v current_a loss_w ohm_per_km",
        .example = "length=120m current=10A voltage=230V size=2.5mm2 material=copper "
                   "temperature=70degC kind=ac",
        .run = run_voltage_drop,
    },
    {
        .name = "poe",
        .summary = "power over data pairs: a device of constant power",
        .source = "IEEE 802.3 clauses 33 and 145; circuit theory",
        .arguments = {{"voltage", CALC_QUANTITY, FE_DIM_VOLTAGE, NULL, "54V",
                       "at the source, > 0"},
                      {"power", CALC_QUANTITY, FE_DIM_POWER, NULL, NULL, "of the device, > 0"},
                      {"loop", CALC_QUANTITY, FE_DIM_RESISTANCE, NULL, "",
                       "of all powered pairs together, or length"},
                      LENGTH("", "or loop"),
                      SIZE("AWG 24"),
                      TEMPERATURE("20degC", "of the cable"),
                      {"pairs", CALC_WORD, FE_DIM_NUMBER, "2|4", "2", "that carry power"}},
        .results = "loop_ohm current_a device_voltage_v pse_power_w longest_loop_ohm",
        .example = "power=25.5W length=80m",
        .run = run_poe,
    },
    {
        .name = "insertion-loss",
        .summary = "loss of data cable, of a 100 m channel, and of one as built",
        .source = "ANSI/TIA-568.2-D (from memory); ISO/IEC 11801 classes D and E",
        .arguments = {{"category", CALC_WORD, FE_DIM_NUMBER, "5e|6|6A", NULL, NULL},
                      {"frequency", CALC_QUANTITY, FE_DIM_FREQUENCY, NULL, NULL,
                       "1 MHz to 100, 250 or 500 MHz"},
                      {"standard", CALC_WORD, FE_DIM_NUMBER, "tia|iso", "tia", NULL},
                      LENGTH("", "fixed cable of a channel as built"),
                      CORDS("0m"),
                      {"connectors", CALC_QUANTITY, FE_DIM_COUNT, NULL, "4", "0 to 100"},
                      TEMPERATURE("20degC", "of the fixed cable, to 60 degC"),
                      SCREENED},
        .results = "cable_db connector_db channel_db run_db margin_db",
        .example = "category=6 frequency=100MHz length=85m cords=10m temperature=40degC",
        .run = run_insertion_loss,
    },
    {
        .name = "channel-length",
        .summary = "longest data cable for an application, cords and warmth",
        .source = "IEEE 802.3; ANSI/TIA-568.2-D cord and temperature derating",
        .arguments = {{"application", CALC_WORD, FE_DIM_NUMBER, NULL, "1000BASE-T",
                       "10BASE-T to 40GBASE-T, 10BASE-T1L"},
                      {"category", CALC_WORD, FE_DIM_NUMBER, "3|5|5e|6|6A|8|single", "5e",
                       NULL},
                      CORDS("10m"),
                      TEMPERATURE("20degC", "of the fixed cable, to 60 degC"),
                      SCREENED},
        .results = "channel_limit_m fixed_cable_m channel_m standard_link_m condition",
        .example = "application=1000BASE-T category=6 temperature=40degC",
        .run = run_channel_length,
    },
    {
        .name = "fault-loop",
        .summary = "whether a fault at the far end trips its breaker",
        .source = "BS 7671:2018+A2 Table 41.3 and appendix 3, 230 V",
        .arguments = {LENGTH(NULL, "one way"),
                      SIZE(NULL),
                      {"protective", CALC_QUANTITY, FE_DIM_AREA, NULL, "",
                       "protective conductor; as size where not given"},
                      {"ze", CALC_QUANTITY, FE_DIM_RESISTANCE, NULL, "0.35 ohm",
                       "outside the run"},
                      {"type", CALC_WORD, FE_DIM_NUMBER, "B|C|D", "B", NULL},
                      {"rating", CALC_QUANTITY, FE_DIM_CURRENT, NULL, NULL, "> 0"},
                      {"factor", CALC_QUANTITY, FE_DIM_NUMBER, NULL, "1.2",
                       "for warmth under fault, 1 or more"}},
        .results = "zs_ohm max_zs_ohm cold_limit_ohm fault_current_a trip_current_a trips",
        .example = "length=165m size=2.5mm2 rating=16A",
        .run = run_fault_loop,
    },
    {
        .name = "ampacity",
        .summary = "current that a cable may carry in its air",
        .source = "NFPA 70:2023 Table 310.16; BS 7671 Tables 4D2A and 4D5 (from memory)",
        .arguments = {SIZE(NULL),
                      MATERIAL,
                      TEMPERATURE("30degC", "of the air"),
                      {"method", CALC_WORD, FE_DIM_NUMBER, "conduit|clipped|flat", "clipped",
                       "of a metric cable"},
                      {"insulation", CALC_QUANTITY, FE_DIM_TEMPERATURE, NULL, "75degC",
                       "of a gauge cable: 60, 75 or 90 degC"},
                      {"terminal", CALC_QUANTITY, FE_DIM_TEMPERATURE, NULL, "75degC",
                       "of a gauge cable: 60 or 75 degC"}},
        .results = "ampacity_a",
        .example = "size=2.5mm2 temperature=40degC",
        .run = run_ampacity,
    },
    {
        .name = "fibre-loss",
        .summary = "loss of an optical link, with its application's limits",
        .source = "TIA-568.3; ISO/IEC 11801; IEEE 802.3",
        .arguments = {LENGTH(NULL, "0 or more"),
                      {"fibre", CALC_WORD, FE_DIM_NUMBER, "OM1|OM2|OM3|OM4|OM5|OS2", "OS2",
                       NULL},
                      {"wavelength", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "1310nm",
                       "850 or 1300 nm for OM1 to OM5"},
                      {"connectors", CALC_QUANTITY, FE_DIM_COUNT, NULL, "2", "pairs"},
                      {"splices", CALC_QUANTITY, FE_DIM_COUNT, NULL, "0", NULL},
                      {"application", CALC_WORD, FE_DIM_NUMBER, NULL,
                       "", "1000BASE-LX10, 10GBASE-SR"}},
        .results = "loss_db reach_m margin_db",
        .example = "length=1.2km splices=2 application=1000BASE-LX10",
        .run = run_fibre_loss,
    },
    {
        .name = "battery",
        .summary = "first size of a battery and a panel",
        .source = "common practice, no source",
        .arguments = {{"energy", CALC_QUANTITY, FE_DIM_ENERGY, NULL, NULL, "a day, > 0"},
                      {"days", CALC_QUANTITY, FE_DIM_NUMBER, NULL, "3", "without sun, > 0"},
                      {"depth", CALC_QUANTITY, FE_DIM_FRACTION, NULL, "50 %",
                       "part that may be used"},
                      {"efficiency", CALC_QUANTITY, FE_DIM_FRACTION, NULL, "90 %",
                       "battery to load"},
                      {"cold", CALC_QUANTITY, FE_DIM_FRACTION, NULL, "80 %",
                       "capacity left in the cold"},
                      {"voltage", CALC_QUANTITY, FE_DIM_VOLTAGE, NULL, "12V", "> 0"},
                      {"sun", CALC_QUANTITY, FE_DIM_TIME, NULL, NULL,
                       "full sun a day in the worst month"},
                      {"panel-efficiency", CALC_QUANTITY, FE_DIM_FRACTION, NULL, "70 %",
                       "panel to load"}},
        .results = "battery_wh battery_ah panel_w",
        .example = "energy=240Wh sun=1.2h",
        .run = run_battery,
    },
    {
        .name = "strike-rate",
        .summary = "how often lightning strikes a line or near it",
        .source = "IEC 62305-2:2010 annex A.4 and A.5 (40 m strip from memory)",
        .arguments = {LENGTH(NULL, "> 0"),
                      {"density", CALC_QUANTITY, FE_DIM_FLASH_DENSITY, NULL, "1 /km2/year",
                       "flashes to the ground"},
                      {"factor", CALC_QUANTITY, FE_DIM_NUMBER, NULL, "1",
                       "1 overhead in the open, 0.5 buried"}},
        .results = "direct_per_year nearby_per_year",
        .example = "length=165m",
        .run = run_strike_rate,
    },
    {0},
};
