/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/report_power.h"

#include <math.h>
#include <stdio.h>

#include "farend/number.h"
#include "report/report_parts.h"

/* A nominal voltage is a name: 48 V, not 48.0 V; but 14.4 V. */
static const char *nominal(double volt, char room[32])
{
    const bool whole = fabs(volt - round(volt)) < 0.05;
    return fe_number_print_fixed(volt, whole ? 0 : 1, room, 32);
}

const char *report_source_name(const fe_supply_entry *entry, char text[REPORT_SOURCE_ROOM])
{
    char low[32];
    char high[32];
    const bool is_range = entry->given.source_v < entry->high_v;
    snprintf(text, REPORT_SOURCE_ROOM, "%s%s%s V %s", nominal(entry->given.source_v, low),
             is_range ? " to " : "", is_range ? nominal(entry->high_v, high) : "",
             entry->given.ac ? "AC" : "DC");
    return text;
}

/* What a size misses, or nearly so. */
static const char *limit_of(const fe_supply_size *size)
{
    return size->limit == FE_DEMANDS ? "" : fe_supply_demand_name(size->limit);
}

/* The power that could be delivered at most, or the share of loads that are no powers. */
static const char *greatest(fe_document *doc, const fe_supply_size *size)
{
    return isfinite(size->greatest_w) ? fe_amount(doc, size->greatest_w, FE_STYLE_POWER)
                                      : fe_amount(doc, size->deliverable, FE_STYLE_PERCENT);
}

static const char *wire(fe_document *doc, const fe_supply_size *size)
{
    return size->name[0] ? size->name : fe_amount(doc, size->conductor.area_m2, FE_STYLE_WIRE);
}

static void say_verdict(fe_document *doc, const fe_supply_entry *entry)
{
    char name[REPORT_SOURCE_ROOM];
    const fe_supply_size *size = fe_supply_shown(entry);
    /* What a shop of the other system sells; nobody buys beside a cable that is there. */
    const fe_supply_size *gauge =
        entry->owned_m2 > 0.0 ? NULL
                              : fe_supply_smallest(entry, entry->main_metal, FE_SIZES_AWG);
    const fe_verdict verdict = fe_supply_judge(entry);
    report_source_name(entry, name);
    if (!size) {
        fe_document_verdict(doc, FE_MARK_FAILS,
                            "%s: no size on the list delivers this; it fails on %s.", name,
                            fe_supply_demand_name(
                                entry->choices[entry->main_metal][FE_SIZES_METRIC].limited_by));
    } else if (!size->delivered) {
        fe_document_verdict(doc, FE_MARK_FAILS,
                            "%s: the loads cannot be delivered over %s; at most %s%s could.",
                            name, wire(doc, size), greatest(doc, size),
                            isfinite(size->greatest_w) ? "" : " of the loads");
    } else if (verdict == FE_VERDICT_FAILS) {
        fe_document_verdict(doc, FE_MARK_FAILS, "%s over %s leaves %s: fails on %s.", name,
                            wire(doc, size), fe_amount(doc, size->worst_v, FE_STYLE_VOLTAGE),
                            limit_of(size));
    } else {
        fe_document_verdict(doc, fe_mark_of_verdict(verdict),
                            "%s: %s %s%s%s%s leaves %s at the worst load, a drop of %s.", name,
                            wire(doc, size),
                            fe_conductor_material_name(size->conductor.material),
                            gauge ? " (or " : "", gauge ? gauge->name : "", gauge ? ")" : "",
                            fe_amount(doc, size->worst_v, FE_STYLE_VOLTAGE),
                            fe_amount_digits(doc, size->drop, FE_STYLE_PERCENT, 1));
    }
}

/* ---- What decides ---- */

static void size_cell(fe_document *doc, const fe_supply_choice *choice, int index)
{
    fe_document_cell(doc, "%s", index < 0 ? "none" : choice->sizes[index].name);
}

static void say_demands(fe_document *doc, const fe_supply_entry *entry)
{
    const fe_supply_choice *metric = &entry->choices[entry->main_metal][FE_SIZES_METRIC];
    const fe_supply_choice *gauge = &entry->choices[entry->main_metal][FE_SIZES_AWG];
    fe_document_table(doc, "Smallest conductor that each demand asks for",
                      "demand|metric>|gauge>");
    for (int i = 0; i < FE_DEMANDS; i++) {
        const fe_supply_demand demand = (fe_supply_demand)i;
        const bool unknown = (demand == FE_DEMAND_FAULT || demand == FE_DEMAND_WITHSTAND) &&
                             metric->count > 0 && isnan(metric->sizes[0].fault_ohm);
        fe_document_row(doc);
        fe_document_cell(doc, "%s", fe_supply_demand_name(demand));
        if (unknown) {
            fe_document_cell(doc, "%s", entry->given.ac ? "not checked" : "fuse decides");
            fe_document_cell(doc, "%s", "");
            continue;
        }
        size_cell(doc, metric, metric->asked[i]);
        size_cell(doc, gauge, gauge->asked[i]);
    }
    if (metric->smallest >= 0)
        fe_document_paragraph(doc, "What decides: %s.",
                              fe_supply_demand_name(metric->limited_by));
}

/* ---- Sizes side by side ---- */

/* Sizes up to one beyond the answer, at most so many. */
enum { SHOWN_SIZES = 7 };

static void say_sizes(fe_document *doc, const fe_supply_entry *entry)
{
    const fe_supply_choice *choice = &entry->choices[entry->main_metal][FE_SIZES_METRIC];
    const size_t last = choice->smallest < 0 ? choice->count - 1 : (size_t)choice->smallest + 1;
    const size_t end = last + 1 < choice->count ? last + 1 : choice->count;
    fe_document_table(doc, "Conductors side by side",
                      "conductor|at the worst load>|drop>|starting>|verdict");
    for (size_t i = end > SHOWN_SIZES ? end - SHOWN_SIZES : 0; i < end; i++) {
        const fe_supply_size *size = &choice->sizes[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", size->name);
        if (!size->delivered) {
            fe_document_cell(doc, "-");
            fe_document_cell(doc, "-");
            fe_document_cell(doc, "-");
            fe_document_cell(doc, "cannot be delivered; at most %s%s", greatest(doc, size),
                             isfinite(size->greatest_w) ? "" : " of the loads");
            continue;
        }
        fe_document_cell(doc, "%s", fe_amount(doc, size->worst_v, FE_STYLE_VOLTAGE));
        fe_document_cell(doc, "%s", fe_amount_digits(doc, size->drop, FE_STYLE_PERCENT, 1));
        fe_document_cell(doc, "%s", fe_amount(doc, size->start_v, FE_STYLE_VOLTAGE));
        const char *limit = limit_of(size);
        fe_document_cell(doc, "%s%s%s", fe_mark_of(doc, fe_mark_of_verdict(size->verdict)),
                         limit[0] ? ": " : "", limit);
    }
}

static void load_cell(fe_document *doc, const fe_supply_load *load,
                      const fe_supply_origin *origin)
{
    if (origin->device_w > 0.0)
        fe_document_cell(doc, "%s for %s", fe_amount(doc, load->load, FE_STYLE_POWER),
                         fe_amount(doc, origin->device_w, FE_STYLE_POWER));
    else
        fe_document_cell(
            doc, "%s",
            fe_amount(doc, load->load,
                      load->kind == FE_LOAD_POWER ? FE_STYLE_POWER : FE_STYLE_CURRENT));
}

static void say_loads(fe_document *doc, const fe_supply_entry *entry,
                      const fe_supply_size *size)
{
    const bool named = entry->origins[0].name[0] != 0;
    fe_document_table(doc, "Voltage at each load",
                      named ? "load|place>|takes>|running>|starting>|accepts from>"
                            : "place|takes>|running>|starting>|accepts from>");
    for (size_t i = 0; i < entry->given.load_count; i++) {
        const fe_supply_load *load = &entry->loads[i];
        fe_document_row(doc);
        if (named)
            fe_document_cell(doc, "%s", entry->origins[i].name);
        fe_document_cell(doc, "%s", fe_amount(doc, load->at_m, FE_STYLE_LENGTH));
        load_cell(doc, load, &entry->origins[i]);
        fe_document_cell(doc, "%s",
                         fe_amount(doc, size->points[i].voltage_v, FE_STYLE_VOLTAGE));
        fe_document_cell(doc, "%s",
                         isfinite(size->start_v)
                             ? fe_amount(doc, size->starting_v[i], FE_STYLE_VOLTAGE)
                             : "stalls");
        fe_document_cell(doc, "%s",
                         load->least_v > 0.0 ? fe_amount(doc, load->least_v, FE_STYLE_VOLTAGE)
                                             : "not said");
    }
}

/* What stands between the feed and loads of another voltage. */
static void say_converters(fe_document *doc, const fe_supply_entry *entry)
{
    bool any = false, added = false, spare = false;
    for (size_t i = 0; i < entry->given.load_count; i++) {
        any = any || entry->origins[i].device_w > 0.0;
        added = added || entry->origins[i].added;
        spare = spare || entry->origins[i].spare;
    }
    if (any)
        fe_document_paragraph(doc,
                              "Loads that do not accept this voltage are behind a converter; "
                              "what they take here includes its loss, by the least efficiency "
                              "that such a converter may be sold with.");
    if (added)
        fe_document_paragraph(doc, "The gear of the data link is counted as a load too: the "
                                   "hungriest that the plan lists there.");
    if (spare)
        fe_document_paragraph(doc,
                              "Spare power is the growth that the plan asks for; the conductor "
                              "is chosen with it, at the far end.");
}

/* With converters on it a feed carries more current than its watts would say. */
static void say_current(fe_document *doc, const fe_supply_entry *entry,
                        const fe_supply_size *size)
{
    const double apparent_va = size->current_a * entry->given.source_v;
    const double factor = (size->load_w + size->loss_w) / apparent_va;
    const char *current = fe_amount(doc, size->current_a, FE_STYLE_CURRENT);
    if (entry->given.ac && factor < 0.99)
        fe_document_pair(doc, "Current at the source",
                         "%s, which is %s: the loads' power factor is %s", current,
                         fe_amount(doc, apparent_va, FE_STYLE_APPARENT_POWER),
                         fe_amount(doc, factor, FE_STYLE_NUMBER));
    else
        fe_document_pair(doc, "Current at the source", "%s", current);
}

static void say_feed(fe_document *doc, const fe_supply_entry *entry, const fe_supply_size *size)
{
    say_current(doc, entry, size);
    fe_document_pair(doc, "Cable may carry", "%s in air of %s (in conduit)",
                     fe_amount(doc, size->ampacity_a, FE_STYLE_CURRENT),
                     fe_amount(doc, entry->given.air_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Conductor", "%s",
                     fe_amount(doc, size->conductor_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Lost in the cable", "%s of %s; %s a year",
                     fe_amount(doc, size->loss_w, FE_STYLE_POWER),
                     fe_amount(doc, size->load_w + size->loss_w, FE_STYLE_POWER),
                     fe_amount(doc, size->loss_j_per_year, FE_STYLE_ENERGY));
    if (isfinite(size->greatest_w))
        fe_document_pair(doc, "Could deliver at most", "%s; use no more than %s of it",
                         fe_amount(doc, size->greatest_w, FE_STYLE_POWER),
                         fe_amount(doc, FE_SUPPLY_STABLE_SHARE, FE_STYLE_PERCENT));
    if (isfinite(size->fault_ohm)) {
        fe_document_pair(doc, "Fault loop", "%s warm, limit %s for the device",
                         fe_amount(doc, size->fault_ohm, FE_STYLE_RESISTANCE),
                         fe_amount(doc, size->fault_limit_ohm, FE_STYLE_RESISTANCE));
        fe_document_pair(doc, "A meter on the cold cable", "about %s; may show at most %s",
                         fe_amount(doc, size->fault_cold_ohm, FE_STYLE_RESISTANCE),
                         fe_amount(doc, size->fault_cold_limit_ohm, FE_STYLE_RESISTANCE));
    }
}

/* ---- Cautions ---- */

static void say_earthing(fe_document *doc, const fe_supply_entry *entry)
{
    const fe_supply_place *place = &entry->place;
    double electrode_ohm = 0.0;
    if (place->us) {
        fe_document_paragraph(
            doc,
            "Earthing: an equipment grounding conductor runs with the supply; the far building "
            "has an electrode of its own, neutral and ground stay apart there (NFPA 70 "
            "250.32). "
            "A rod or a ground-fault device never replaces the grounding conductor "
            "(250.4(A)(5), "
            "from memory).");
        return;
    }
    if (!fe_document_takes(doc, fe_fault_loop_electrode(0.03, &electrode_ohm)))
        return;
    if (!place->earthing_known || place->earthing == FE_EARTHING_TT)
        fe_document_paragraph(
            doc,
            "Earthing as TT (the far building has an earth of its own, none comes with the "
            "supply): an electrode there; with a residual-current device "
            "of 30 mA it may have at most %s by the rule (50 V), and should have under %s to "
            "be "
            "steady through the year (BS 7671 411.5.3 and its note, from memory). The breaker "
            "must still trip on a fault between the conductors: that is the fault loop here.",
            fe_amount(doc, electrode_ohm, FE_STYLE_RESISTANCE),
            fe_amount(doc, 200.0, FE_STYLE_RESISTANCE));
    else if (place->earthing == FE_EARTHING_TN_S)
        fe_document_paragraph(doc,
                              "Earthing as TN-S: the protective conductor of the supply goes "
                              "along; the fault loop here trips the breaker.");
    else
        fe_document_paragraph(
            doc,
            "Earthing as TN-C-S: the supply's protective earth may be taken along only with a "
            "full-size bond to every metal of the far building; where animals stand, a boat "
            "lies or metal goes into the ground, the far building is made TT with a "
            "residual-current device (BS 7671 411.4 and 544, from memory).");
}

static void say_cautions(fe_document *doc, bool ac, bool dc)
{
    if (ac)
        fe_document_caution(
            doc,
            "Mains outdoors and the earthing of a far building are work for a licensed "
            "electrician under the local code: isolation first, a residual-current device, "
            "burial depth, and distance from data cables. An earth rod or a residual-current "
            "device never replaces a protective conductor where the code asks for one.");
    if (ac)
        fe_document_caution(
            doc,
            "Where animals stand: 30 mA for sockets to 32 A, 100 mA above, 300 mA for other "
            "circuits, and bonding under their feet (BS 7671 section 705; NFPA 70 article 547 "
            "from memory). Boats: no earth of the supply goes aboard (section 709, from "
            "memory).");
    if (dc)
        fe_document_caution(
            doc,
            "DC arcs do not go out by themselves: fuses and switches rated for DC, the fuse "
            "at the battery, never unplug under load. Batteries give hundreds of amperes "
            "into a short circuit; fix, cover and ventilate them.");
    fe_document_caution(doc,
                        "A cable between buildings carries lightning surges: surge arresters "
                        "at both entries, nobody works on it in a thunderstorm.");
}

static void say_sources(fe_document *doc)
{
    fe_document_source(doc,
                       "Conductors: IEC 60228; NFPA 70 chapter 9 Table 8. Ampacity: BS 7671 "
                       "Table 4D2A (from memory); NFPA 70 Table 310.16.");
    fe_document_source(doc,
                       "Fault loop: BS 7671 Table 41.3. Open spans: NFPA 70 225.6(A). Warmth "
                       "of the conductor: IEC 60287-1-1 (form from memory).");
    fe_document_source(doc,
                       "Withstand: BS 7671 434.5.2 for 0.1 s, k of 115 and 76 (from memory). "
                       "Converters: 10 CFR 430.32(w) (from memory).");
    fe_document_source(doc,
                       "Drop of 15 %% while starting, 0.8 of the greatest power, 1.5 mm2 as "
                       "the thinnest wire: common practice, no source.");
}

static void say_unknowns(fe_document *doc, const fe_supply_entry *entry)
{
    if (!entry->given.ac && !(entry->given.source_v < entry->high_v))
        fe_document_paragraph(doc, "Reckoned at this voltage itself. A battery sinks under "
                                   "load (12 V to about 11.5 V): give its range, such as "
                                   "11.5..14.4V, and the low end decides.");
    else if (!entry->given.ac)
        fe_document_paragraph(doc, "Reckoned at the low end, %s: the battery nearly empty.",
                              fe_amount(doc, entry->given.source_v, FE_STYLE_VOLTAGE));
    if (entry->place.device_taken)
        fe_document_paragraph(
            doc,
            "No protective device is named: a breaker of type B, %s, is taken. "
            "Name the one that will feed it, such as B16, before the cable is "
            "bought: it decides whether a fault at the far end trips.",
            fe_amount(doc, entry->given.device.rating_a, FE_STYLE_CURRENT));
    if (entry->given.ac && !entry->given.has_device)
        fe_document_paragraph(doc, "The fault loop is not checked: name the protective "
                                   "device, such as B16. A long thin feed can carry its "
                                   "load and still not trip its breaker.");
}

void report_power_source(fe_document *doc, const fe_supply_entry *entry)
{
    const fe_supply_size *size = fe_supply_shown(entry);
    say_unknowns(doc, entry);
    if (size && size->delivered) {
        say_loads(doc, entry, size);
        say_converters(doc, entry);
        say_feed(doc, entry, size);
    }
    if (!(entry->owned_m2 > 0.0))
        say_sizes(doc, entry);
    say_demands(doc, entry);
    if (entry->given.ac)
        say_earthing(doc, entry);
}

void fe_report_power(fe_document *doc, const fe_supply_entry *const *entries, size_t count,
                     const fe_plan *plan, const fe_solar *solar)
{
    bool ac = false, dc = false;
    for (size_t i = 0; i < count; i++)
        say_verdict(doc, entries[i]);
    for (size_t i = 0; i < count; i++) {
        char name[REPORT_SOURCE_ROOM];
        ac = ac || entries[i]->given.ac;
        dc = dc || !entries[i]->given.ac;
        fe_document_heading(doc, 2, "From %s", report_source_name(entries[i], name));
        report_power_source(doc, entries[i]);
        report_buy_feed(doc, plan, entries[i]);
    }
    if (solar) {
        fe_document_heading(doc, 2, "From a panel and a battery there");
        report_solar(doc, solar);
        report_buy_solar(doc, plan, solar);
    }
    if (plan)
        report_trench(doc, plan, NULL, true);
    fe_document_heading(doc, 2, "Cautions");
    say_cautions(doc, ac, dc);
    say_sources(doc);
}

/* ---- Figure ---- */

enum { FIGURE_POINTS = 25 };

typedef struct feed_lines {
    double at_m[FE_FIGURE_MOST_LINES][FIGURE_POINTS];
    double voltage_v[FE_FIGURE_MOST_LINES][FIGURE_POINTS];
    char names[FE_FIGURE_MOST_LINES][REPORT_SOURCE_ROOM];
    fe_feed_curve curves[FE_FIGURE_MOST_LINES];
    size_t count;
} feed_lines;

static void add_line(feed_lines *lines, const fe_supply_entry *entry,
                     const fe_supply_size *size)
{
    const size_t n = lines->count;
    if (n == FE_FIGURE_MOST_LINES || !size || !size->delivered)
        return;
    for (size_t j = 0; j < FIGURE_POINTS; j++) {
        lines->at_m[n][j] = entry->given.length_m * (double)j / (FIGURE_POINTS - 1);
        lines->voltage_v[n][j] = fe_supply_voltage_at(&entry->given, size, lines->at_m[n][j]);
    }
    /* A size that is refused for another reason than its drop says which. */
    const bool dropped = size->limit == FE_DEMAND_DROP;
    const char *refused = size->verdict == FE_VERDICT_FAILS && !dropped ? limit_of(size) : "";
    snprintf(lines->names[n], REPORT_SOURCE_ROOM, "%.4g V %s, %s %s%s%s", entry->given.source_v,
             entry->given.ac ? "AC" : "DC", size->name,
             fe_conductor_material_name(size->conductor.material), *refused ? ", no: " : "",
             refused);
    lines->curves[n] = (fe_feed_curve){lines->names[n], entry->given.source_v, lines->at_m[n],
                                       lines->voltage_v[n], FIGURE_POINTS};
    lines->count++;
}

/* The size chosen and the next smaller one, to show what it is chosen for. */
static void add_candidates(feed_lines *lines, const fe_supply_entry *entry)
{
    const fe_supply_choice *choice = &entry->choices[entry->main_metal][FE_SIZES_METRIC];
    add_line(lines, entry, fe_supply_shown(entry));
    if (!(entry->owned_m2 > 0.0) && choice->smallest > 0)
        add_line(lines, entry, &choice->sizes[choice->smallest - 1]);
}

fe_status fe_report_power_figure(const fe_supply_entry *const *entries, size_t count,
                                 fe_units units, fe_figure *figure)
{
    feed_lines lines = {.count = 0};
    for (size_t i = 0; i < count; i++)
        add_candidates(&lines, entries[i]);
    if (lines.count == 0)
        return FE_E_DOMAIN;
    return fe_figure_feed(&(fe_feed_data){"feed", "Voltage along the feed", lines.curves,
                                          lines.count, entries[0]->given.allowed_drop},
                          units, figure);
}

/* ---- JSON ---- */

static double mm2(const fe_supply_size *size)
{
    return size ? 1e6 * size->conductor.area_m2 : (double)NAN;
}

static json_t *asked_json(report_json *json, const fe_supply_choice *choice)
{
    json_t *asked = report_json_object(json);
    for (int i = 0; i < FE_DEMANDS; i++)
        report_json_number(json, asked, fe_supply_demand_name((fe_supply_demand)i),
                           choice->asked[i] < 0 ? (double)NAN
                                                : mm2(&choice->sizes[choice->asked[i]]));
    return asked;
}

static json_t *load_json(report_json *json, const fe_supply_entry *entry, size_t i,
                         const fe_supply_size *size)
{
    const fe_supply_load *load = &entry->loads[i];
    const fe_supply_origin *origin = &entry->origins[i];
    json_t *object = report_json_object(json);
    report_json_text(json, object, "name", origin->name);
    report_json_number(json, object, "at_m", load->at_m);
    report_json_number(json, object, load->kind == FE_LOAD_POWER ? "power_w" : "current_a",
                       load->load);
    report_json_bool(json, object, "converter", origin->device_w > 0.0);
    if (origin->device_w > 0.0) {
        report_json_number(json, object, "device_w", origin->device_w);
        report_json_number(json, object, "converter_efficiency", origin->efficiency);
    }
    report_json_number(json, object, "least_voltage_v",
                       load->least_v > 0.0 ? load->least_v : (double)NAN);
    report_json_number(json, object, "voltage_v", size->points[i].voltage_v);
    report_json_number(json, object, "starting_voltage_v",
                       isfinite(size->start_v) ? size->starting_v[i] : (double)NAN);
    return object;
}

static json_t *loads_json(report_json *json, const fe_supply_entry *entry,
                          const fe_supply_size *size)
{
    json_t *loads = report_json_list(json);
    for (size_t i = 0; size && size->delivered && i < entry->given.load_count; i++)
        report_json_append(json, loads, load_json(json, entry, i, size));
    return loads;
}

static void put_sizes(report_json *json, json_t *object, const fe_supply_entry *entry)
{
    const fe_conductor_material metal = entry->main_metal;
    const fe_supply_size *gauge = fe_supply_smallest(entry, metal, FE_SIZES_AWG);
    const fe_supply_size *light =
        fe_supply_smallest(entry, FE_CONDUCTOR_ALUMINIUM, FE_SIZES_AWG);
    report_json_text(json, object, "material", fe_conductor_material_name(metal));
    report_json_number(json, object, "smallest_mm2",
                       mm2(fe_supply_smallest(entry, metal, FE_SIZES_METRIC)));
    report_json_text(json, object, "smallest_awg", gauge ? gauge->name : NULL);
    report_json_number(json, object, "smallest_aluminium_mm2",
                       mm2(fe_supply_smallest(entry, FE_CONDUCTOR_ALUMINIUM, FE_SIZES_METRIC)));
    report_json_text(json, object, "smallest_aluminium_awg", light ? light->name : NULL);
}

static void put_answer(report_json *json, json_t *object, const fe_supply_size *size)
{
    static const fe_supply_size none = {.far_v = NAN,
                                        .worst_v = NAN,
                                        .drop = NAN,
                                        .loss_w = NAN,
                                        .load_w = NAN,
                                        .loss_j_per_year = NAN,
                                        .start_v = NAN,
                                        .current_a = NAN,
                                        .greatest_w = NAN,
                                        .fault_ohm = NAN,
                                        .fault_limit_ohm = NAN,
                                        .conductor_c = NAN};
    const fe_supply_size *shown = size ? size : &none;
    report_json_text(json, object, "conductor", size ? size->name : NULL);
    report_json_number(json, object, "drop_percent", 100.0 * shown->drop);
    report_json_number(json, object, "far_voltage_v", shown->far_v);
    report_json_number(json, object, "worst_voltage_v", shown->worst_v);
    report_json_number(json, object, "starting_voltage_v", shown->start_v);
    report_json_number(json, object, "current_a", shown->current_a);
    report_json_number(json, object, "conductor_temp_c", shown->conductor_c);
    report_json_number(json, object, "load_w", shown->load_w);
    report_json_number(json, object, "loss_w", shown->loss_w);
    report_json_number(json, object, "loss_kwh_per_year", shown->loss_j_per_year / 3.6e6);
    report_json_number(json, object, "greatest_power_w", shown->greatest_w);
    report_json_number(json, object, "fault_loop_ohm", shown->fault_ohm);
    report_json_number(json, object, "fault_loop_limit_ohm", shown->fault_limit_ohm);
}

json_t *report_power_source_json(report_json *json, const fe_supply_entry *entry)
{
    const fe_supply_choice *choice = &entry->choices[entry->main_metal][FE_SIZES_METRIC];
    const fe_supply_size *size = fe_supply_shown(entry);
    json_t *object = report_json_object(json);
    report_json_text(json, object, "path", entry->place.path);
    report_json_number(json, object, "voltage_v", entry->nominal_v);
    report_json_number(json, object, "lowest_voltage_v", entry->given.source_v);
    report_json_text(json, object, "kind", entry->given.ac ? "ac" : "dc");
    report_json_text(json, object, "verdict", fe_verdict_name(fe_supply_judge(entry)));
    report_json_text(json, object, "limited_by", fe_supply_demand_name(choice->limited_by));
    report_json_number(json, object, "length_m", entry->given.length_m);
    report_json_number(json, object, "allowed_drop_percent", 100.0 * entry->given.allowed_drop);
    put_sizes(json, object, entry);
    put_answer(json, object, size);
    report_json_set(json, object, "asked_mm2", asked_json(json, choice));
    report_json_set(json, object, "loads", loads_json(json, entry, size));
    return object;
}

fe_status fe_report_power_json(const fe_supply_entry *const *entries, size_t count,
                               const fe_solar *solar, fe_strbuf *out)
{
    report_json json = {false};
    json_t *list = report_json_list(&json);
    for (size_t i = 0; i < count; i++)
        report_json_append(&json, list, report_power_source_json(&json, entries[i]));
    if (solar)
        report_json_append(&json, list, report_solar_json(&json, solar));
    return report_json_write(&json, list, out);
}
