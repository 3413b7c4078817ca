/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/report_power.h"

#include <math.h>
#include <stdio.h>

static const char *source_name(fe_document *doc, const fe_supply_entry *entry, char *text,
                               size_t size)
{
    const double low_v = entry->given.source_v;
    snprintf(text, size, "%s %s",
             low_v < entry->high_v
                 ? fe_amount_range(doc, low_v, entry->high_v, FE_STYLE_VOLTAGE)
                 : fe_amount(doc, low_v, FE_STYLE_VOLTAGE),
             entry->given.ac ? "AC" : "DC");
    return text;
}

enum { NAME_ROOM = 60 };

static const fe_supply_size *shown_size(const fe_supply_entry *entry)
{
    return entry->owned_m2 > 0.0
               ? &entry->owned
               : fe_supply_smallest(entry, entry->main_metal, FE_SIZES_METRIC);
}

static fe_mark mark_of(fe_supply_verdict verdict)
{
    static const fe_mark marks[] = {FE_MARK_HOLDS, FE_MARK_TIGHT, FE_MARK_FAILS};
    return marks[verdict];
}

/* The first demand that a size misses. */
static const char *missed(const fe_supply_size *size)
{
    for (int i = 0; i < FE_DEMANDS; i++)
        if (!size->meets[i])
            return fe_supply_demand_name((fe_supply_demand)i);
    return "nothing";
}

static void say_verdict(fe_document *doc, const fe_supply_entry *entry)
{
    char name[NAME_ROOM];
    const fe_supply_size *size = shown_size(entry);
    const fe_supply_verdict verdict = fe_supply_judge(entry);
    source_name(doc, entry, name, sizeof name);
    if (!size) {
        fe_document_verdict(doc, FE_MARK_FAILS,
                            "%s: no size on the list delivers this; it fails on %s.", name,
                            fe_supply_demand_name(
                                entry->choices[entry->main_metal][FE_SIZES_METRIC].limited_by));
    } else if (!size->delivered) {
        fe_document_verdict(doc, FE_MARK_FAILS,
                            "%s: the loads cannot be delivered over %s; at most %s could.",
                            name, fe_amount(doc, size->conductor.area_m2, FE_STYLE_WIRE),
                            fe_amount(doc, size->greatest_w, FE_STYLE_POWER));
    } else if (verdict == FE_SUPPLY_FAILS) {
        fe_document_verdict(doc, FE_MARK_FAILS, "%s over %s leaves %s: fails on %s.", name,
                            fe_amount(doc, size->conductor.area_m2, FE_STYLE_WIRE),
                            fe_amount(doc, size->worst_v, FE_STYLE_VOLTAGE), missed(size));
    } else {
        fe_document_verdict(doc, mark_of(verdict),
                            "%s: %s %s leaves %s at the worst load, a drop of %s.", name,
                            fe_amount(doc, size->conductor.area_m2, FE_STYLE_WIRE),
                            fe_conductor_material_name(size->conductor.material),
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
        const bool unknown =
            demand == FE_DEMAND_FAULT && metric->count > 0 && isnan(metric->sizes[0].fault_ohm);
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
            fe_document_cell(doc, "cannot be delivered; at most %s",
                             fe_amount(doc, size->greatest_w, FE_STYLE_POWER));
            continue;
        }
        fe_document_cell(doc, "%s", fe_amount(doc, size->worst_v, FE_STYLE_VOLTAGE));
        fe_document_cell(doc, "%s", fe_amount_digits(doc, size->drop, FE_STYLE_PERCENT, 1));
        fe_document_cell(doc, "%s", fe_amount(doc, size->start_v, FE_STYLE_VOLTAGE));
        fe_document_cell(doc, "%s%s%s",
                         fe_mark_of(doc, size->holds ? FE_MARK_HOLDS : FE_MARK_FAILS),
                         size->holds ? "" : ": ", size->holds ? "" : missed(size));
    }
}

static void say_loads(fe_document *doc, const fe_supply_entry *entry,
                      const fe_supply_size *size)
{
    fe_document_table(doc, "Voltage at each load",
                      "place|takes>|running>|starting>|accepts from>");
    for (size_t i = 0; i < entry->given.load_count; i++) {
        const fe_supply_load *load = &entry->loads[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", fe_amount(doc, load->at_m, FE_STYLE_LENGTH));
        fe_document_cell(
            doc, "%s",
            fe_amount(doc, load->load,
                      load->kind == FE_LOAD_POWER ? FE_STYLE_POWER : FE_STYLE_CURRENT));
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

static void say_feed(fe_document *doc, const fe_supply_entry *entry, const fe_supply_size *size)
{
    fe_document_pair(doc, "Current at the source", "%s",
                     fe_amount(doc, size->current_a, FE_STYLE_CURRENT));
    fe_document_pair(doc, "Cable may carry", "%s in air of %s (in conduit)",
                     fe_amount(doc, size->ampacity_a, FE_STYLE_CURRENT),
                     fe_amount(doc, entry->given.air_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Conductor", "%s",
                     fe_amount(doc, size->conductor_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Lost in the cable", "%s of %s; %s a year",
                     fe_amount(doc, size->loss_w, FE_STYLE_POWER),
                     fe_amount(doc, size->load_w + size->loss_w, FE_STYLE_POWER),
                     fe_amount(doc, size->loss_j_year, FE_STYLE_ENERGY));
    if (isfinite(size->greatest_w))
        fe_document_pair(doc, "Could deliver at most", "%s; use no more than %s of it",
                         fe_amount(doc, size->greatest_w, FE_STYLE_POWER),
                         fe_amount(doc, FE_SUPPLY_STABLE_SHARE, FE_STYLE_PERCENT));
    if (isfinite(size->fault_ohm))
        fe_document_pair(doc, "Fault loop", "%s, limit %s for the device",
                         fe_amount(doc, size->fault_ohm, FE_STYLE_RESISTANCE),
                         fe_amount(doc, size->fault_limit_ohm, FE_STYLE_RESISTANCE));
}

/* ---- What to buy ---- */

static void say_parts(fe_document *doc, const fe_supply_entry *entry)
{
    for (int metal = 0; metal < 2; metal++) {
        const fe_conductor_material material = (fe_conductor_material)metal;
        const fe_supply_size *metric = fe_supply_smallest(entry, material, FE_SIZES_METRIC);
        const fe_supply_size *gauge = fe_supply_smallest(entry, material, FE_SIZES_AWG);
        if (!metric && !gauge)
            continue;
        fe_document_item(doc, "%s of %s cable for outdoors, %s%s%s%s, two conductors%s.",
                         fe_amount(doc, entry->given.length_m, FE_STYLE_LENGTH),
                         fe_conductor_material_name(material), metric ? metric->name : "",
                         metric && gauge ? " or " : "", gauge ? gauge->name : "",
                         metal == FE_CONDUCTOR_ALUMINIUM ? " with lugs made for aluminium" : "",
                         entry->given.ac ? " and a protective conductor" : "");
    }
    if (entry->given.ac) {
        fe_document_item(doc, "A circuit breaker and a residual-current device of 30 mA at the "
                              "supply end, an isolator at the far end.");
    } else {
        fe_document_item(doc, "A fuse or breaker rated for DC within reach of the source, no "
                              "larger than what the cable may carry, and a DC switch.");
        if (entry->nominal_v > 0.0)
            fe_document_item(doc,
                             "Where the loads want another voltage: a converter at the far "
                             "end, with its own loss of a tenth added to the load.");
    }
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
        fe_document_caution(doc, "Where animals stand or boats moor, bonding and earthing have "
                                 "rules of their own; say so to the electrician.");
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
                       "Drop of 15 %% while starting, 0.8 of the greatest power, 1.5 mm2 as "
                       "the thinnest wire: common practice, no source.");
}

void fe_report_power(fe_document *doc, const fe_supply_entry *entries, size_t count)
{
    bool ac = false, dc = false;
    for (size_t i = 0; i < count; i++)
        say_verdict(doc, &entries[i]);
    for (size_t i = 0; i < count; i++) {
        const fe_supply_entry *entry = &entries[i];
        const fe_supply_size *size = shown_size(entry);
        char name[NAME_ROOM];
        ac = ac || entry->given.ac;
        dc = dc || !entry->given.ac;
        fe_document_heading(doc, 2, "From %s", source_name(doc, entry, name, sizeof name));
        if (!entry->given.ac && !(entry->given.source_v < entry->high_v))
            fe_document_paragraph(doc, "Reckoned at this voltage itself. A battery sinks under "
                                       "load (12 V to about 11.5 V): give its range, such as "
                                       "11.5..14.4V, and the low end decides.");
        if (entry->given.ac && !entry->given.has_device)
            fe_document_paragraph(doc, "The fault loop is not checked: name the protective "
                                       "device, such as B16. A long thin feed can carry its "
                                       "load and still not trip its breaker.");
        if (size && size->delivered) {
            say_loads(doc, entry, size);
            say_feed(doc, entry, size);
        }
        if (!(entry->owned_m2 > 0.0))
            say_sizes(doc, entry);
        say_demands(doc, entry);
        if (fe_supply_judge(entry) != FE_SUPPLY_FAILS)
            say_parts(doc, entry);
    }
    fe_document_heading(doc, 2, "Cautions");
    say_cautions(doc, ac, dc);
    say_sources(doc);
}

/* ---- Figure ---- */

enum { FIGURE_POINTS = 25 };

fe_status fe_report_power_figure(const fe_supply_entry *entries, size_t count, fe_units units,
                                 fe_figure *figure)
{
    double at_m[FE_FIGURE_MOST_LINES][FIGURE_POINTS];
    double voltage_v[FE_FIGURE_MOST_LINES][FIGURE_POINTS];
    char names[FE_FIGURE_MOST_LINES][NAME_ROOM];
    fe_feed_curve lines[FE_FIGURE_MOST_LINES];
    size_t used = 0;
    for (size_t i = 0; i < count && used < FE_FIGURE_MOST_LINES; i++) {
        const fe_supply_entry *entry = &entries[i];
        const fe_supply_size *size = shown_size(entry);
        if (!size || !size->delivered)
            continue;
        for (size_t j = 0; j < FIGURE_POINTS; j++) {
            at_m[used][j] = entry->given.length_m * (double)j / (FIGURE_POINTS - 1);
            voltage_v[used][j] = fe_supply_voltage_at(&entry->given, size, at_m[used][j]);
        }
        snprintf(names[used], NAME_ROOM, "%g V %s, %s %s", entry->given.source_v,
                 entry->given.ac ? "AC" : "DC", size->name,
                 fe_conductor_material_name(size->conductor.material));
        lines[used] = (fe_feed_curve){names[used], entry->given.source_v, at_m[used],
                                      voltage_v[used], FIGURE_POINTS};
        used++;
    }
    if (used == 0)
        return FE_E_DOMAIN;
    return fe_figure_feed(&(fe_feed_data){"feed", "Voltage along the feed", lines, used,
                                          entries[0].given.allowed_drop},
                          units, figure);
}
