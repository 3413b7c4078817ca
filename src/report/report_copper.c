/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/report_copper.h"

#include <math.h>
#include <stdio.h>

#include "farend/conductor.h"
#include "farend/strike.h"
#include "report/report_parts.h"

static void say_verdict(fe_document *doc, const fe_channel_case *given,
                        const fe_channel_answer *answer)
{
    const char *length = fe_amount(doc, given->length_m, FE_STYLE_LENGTH);
    const char *category = fe_category_name(given->category);
    if (answer->wanted < 0) {
        fe_document_verdict(doc, FE_MARK_FAILS, "%s carries %s over no length.", category,
                            fe_amount(doc, given->rate_bit_s, FE_STYLE_DATA_RATE));
        return;
    }
    const fe_channel_rate *rate = &answer->rates[answer->wanted];
    fe_document_verdict(doc, fe_mark_of_verdict(rate->verdict),
                        "%s of %s for %s (%s): the limit is %s with these cords at %s.", length,
                        category, fe_amount(doc, rate->reach->rate_bit_s, FE_STYLE_DATA_RATE),
                        rate->reach->application,
                        fe_amount(doc, rate->limit_m, FE_STYLE_LENGTH),
                        fe_amount(doc, given->temp_c, FE_STYLE_TEMPERATURE));
    if (answer->has_power)
        fe_document_verdict(doc, fe_mark_of_verdict(answer->power.verdict),
                            "Power of class %d: %s can reach the device, which is promised %s.",
                            answer->power.device_class,
                            fe_amount(doc, answer->power.device_w, FE_STYLE_POWER),
                            fe_amount_digits(doc, answer->power.promised_w, FE_STYLE_POWER, 1));
}

void report_channel_rates(fe_document *doc, const fe_channel_answer *answer)
{
    fe_document_table(doc, "Rates over this cable",
                      "rate|limit>|loss>|loss allowed>|at>|verdict");
    for (int i = 0; i < FE_CHANNEL_RATES; i++) {
        const fe_channel_rate *rate = &answer->rates[i];
        if (!rate->reach)
            continue;
        fe_document_row(doc);
        fe_document_cell(doc, "%s",
                         fe_amount(doc, rate->reach->rate_bit_s, FE_STYLE_DATA_RATE));
        fe_document_cell(doc, "%s", fe_amount(doc, rate->limit_m, FE_STYLE_LENGTH));
        fe_document_cell(doc, "%s", fe_amount_digits(doc, rate->loss_db, FE_STYLE_RATIO, 1));
        fe_document_cell(doc, "%s",
                         fe_amount_digits(doc, rate->loss_limit_db, FE_STYLE_RATIO, 1));
        fe_document_cell(doc, "%s", fe_amount(doc, rate->f_hz, FE_STYLE_FREQUENCY));
        const char *condition = rate->verdict == FE_VERDICT_TIGHT ? rate->reach->condition : "";
        fe_document_cell(doc, "%s%s%s", fe_mark_of(doc, fe_mark_of_verdict(rate->verdict)),
                         condition[0] ? ": " : "", condition);
    }
}

/* ---- Beyond the limit ---- */

/* "2 powered midpoints" */
static const char *way_name(const fe_beyond_way *way, fe_beyond_kind kind, char room[48])
{
    if (kind == FE_BEYOND_MIDPOINT && way->midpoints > 0)
        snprintf(room, 48, "%u %s%s", way->midpoints, fe_beyond_name(kind),
                 way->midpoints > 1 ? "s" : "");
    else
        snprintf(room, 48, "%s", fe_beyond_name(kind));
    return room;
}

static void power_cell(fe_document *doc, double power_w)
{
    if (power_w > 0.0)
        fe_document_cell(doc, "%s", fe_amount(doc, power_w, FE_STYLE_POWER));
    else
        fe_document_cell(doc, "-");
}

static void beyond_row(fe_document *doc, const fe_beyond_way *way, fe_beyond_kind kind)
{
    char room[48];
    fe_document_row(doc);
    fe_document_cell(doc, "%s", way_name(way, kind, room));
    if (way->rate_bit_s > 0.0)
        fe_document_cell(doc, "%s", fe_amount(doc, way->rate_bit_s, FE_STYLE_DATA_RATE));
    else
        fe_document_cell(doc, "-");
    if (way->reach_m > 0.0)
        fe_document_cell(doc, "%s of %s", fe_amount(doc, way->section_m, FE_STYLE_DISTANCE),
                         fe_amount(doc, way->reach_m, FE_STYLE_DISTANCE));
    else
        fe_document_cell(doc, "-");
    power_cell(doc, way->house_w);
    power_cell(doc, way->midpoint_w);
    power_cell(doc, way->far_w);
    power_cell(doc, way->passed_w);
    const bool good = way->verdict == FE_VERDICT_HOLDS;
    fe_document_cell(doc, "%s%s%s", fe_mark_of(doc, fe_mark_of_verdict(way->verdict)),
                     good ? "" : ": ", good ? "" : way->limit);
}

void report_beyond_ways(fe_document *doc, const fe_channel_answer *answer, const char *caption)
{
    fe_document_table(
        doc, caption,
        "way|carries>|length of at most|house>|each midpoint>|out there>|brings>|verdict");
    for (int kind = 0; kind < FE_BEYOND_KINDS; kind++)
        beyond_row(doc, &answer->beyond[kind], (fe_beyond_kind)kind);
}

/* Beyond the standard, told honestly. */
void report_beyond_notes(fe_document *doc)
{
    fe_document_paragraph(
        doc,
        "Beyond its limit a channel is outside the standard: nobody promises that it links. "
        "It may still link, often at a lower rate, and drop out in the heat; the table of "
        "rates compares its loss with what the standard allows. At 10 Mb/s the real limits "
        "are 11.5 dB and a delay of 1000 ns, which good cable meets to about %s.",
        fe_amount(doc, 200.0, FE_STYLE_DISTANCE));
    fe_document_paragraph(doc,
                          "The columns of power: drawn at the house, by each midpoint on the "
                          "way and by what stands out there, and brought there over the pairs. "
                          "Without a figure under \"brings\" the far end needs power of its "
                          "own.");
    fe_document_item(doc, "A single pair is another cable, of the AWG 18 class.");
    fe_document_item(
        doc, "A midpoint is a weatherproof switch on a post, fed over the cable itself. "
             "It must stand the cold and be reached when it hangs. Its length is that "
             "of a section.");
    fe_document_item(doc, "Line extenders run on one pair of the cable; the others lie idle.");
    fe_document_item(doc, "A fibre's converters need the cold rating of the place; leave spare "
                          "fibres.");
    fe_document_source(doc,
                       "Single pair: IEEE 802.3cg. Fibre: IEEE 802.3 clause 38 and TIA-568.3. "
                       "Extenders of 100, 50 and 10 Mb/s to %s, %s and %s; 5 W an extender or "
                       "midpoint, 3 W a converter: common practice, no source.",
                       fe_amount(doc, 300.0, FE_STYLE_DISTANCE),
                       fe_amount(doc, 600.0, FE_STYLE_DISTANCE),
                       fe_amount(doc, 1000.0, FE_STYLE_DISTANCE));
}

static void say_bundle(fe_document *doc, const fe_channel_case *given,
                       const fe_channel_power *power, double diameter_m)
{
    double seven_k = 0.0, many_k = 0.0;
    if (!fe_document_takes(doc,
                           fe_channel_bundle_rise(power->heat_w_m, diameter_m, 7, &seven_k)) ||
        !fe_document_takes(doc,
                           fe_channel_bundle_rise(power->heat_w_m, diameter_m, 24, &many_k)))
        return;
    fe_document_pair(doc, "Heat in the cable",
                     "%s along its whole length; a bundle of 7 such cables runs %s over the "
                     "air, one of 24 %s",
                     fe_amount(doc, power->heat_w_m * given->length_m, FE_STYLE_POWER),
                     fe_amount_digits(doc, seven_k, FE_STYLE_TEMPERATURE_STEP, 1),
                     fe_amount_digits(doc, many_k, FE_STYLE_TEMPERATURE_STEP, 1));
}

/* A four-pair cable where its own is not known. */
static const double USUAL_DIAMETER_M = 6e-3;

void report_channel_power(fe_document *doc, const fe_channel_case *given,
                          const fe_channel_power *power, double diameter_m)
{
    fe_document_pair(doc, "Class", "%d, source of at least %s", power->device_class,
                     fe_amount(doc, fe_poe_class_find(power->device_class)->least_source_v,
                               FE_STYLE_VOLTAGE));
    fe_document_pair(doc, "Wire", "%s each, at %s",
                     fe_amount(doc, power->wire_ohm_per_m, FE_STYLE_LINEAR_RESISTANCE),
                     fe_amount(doc, given->temp_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Loop of the powered pairs", "%s; the class is designed for %s",
                     fe_amount(doc, power->loop_ohm, FE_STYLE_RESISTANCE),
                     fe_amount(doc, power->design_ohm, FE_STYLE_RESISTANCE));
    fe_document_pair(doc, "At the device", "%s at the promised power, at most %s",
                     fe_amount(doc, power->device_v, FE_STYLE_VOLTAGE),
                     fe_amount(doc, power->device_w, FE_STYLE_POWER));
    say_bundle(doc, given, power, diameter_m > 0.0 ? diameter_m : USUAL_DIAMETER_M);
    fe_document_paragraph(doc,
                          "Between buildings with earths of their own each port must be "
                          "isolated from every other and from earth (IEEE 802.3 Environment "
                          "B; a port is tested with 1500 V AC for a minute, from memory). Ask "
                          "the seller: much gear is made for one building only.");
}

static void say_strikes(fe_document *doc, double length_m, const fe_copper_place *place)
{
    const double factor = place->buried ? FE_STRIKE_BURIED : 1.0;
    double direct_per_s[2], nearby_per_s[2];
    if (place->flash_density.given == FE_GIVEN_NOT || !(place->flash_density.high > 0.0))
        return;
    if (!fe_document_takes(doc, fe_strike_rate(length_m, place->flash_density.low, factor,
                                               &direct_per_s[0], &nearby_per_s[0])) ||
        !fe_document_takes(doc, fe_strike_rate(length_m, place->flash_density.high, factor,
                                               &direct_per_s[1], &nearby_per_s[1])))
        return;
    if (place->flash_density.low < place->flash_density.high)
        fe_document_paragraph(doc,
                              "Lightning: between %.1g and %.1g direct strikes on the cable a "
                              "year, and between %.1g and %.1g near enough to be felt.",
                              direct_per_s[0] * FE_YEAR_S, direct_per_s[1] * FE_YEAR_S,
                              nearby_per_s[0] * FE_YEAR_S, nearby_per_s[1] * FE_YEAR_S);
    else
        fe_document_paragraph(doc,
                              "Lightning: expect about %.2g direct strikes on the cable a "
                              "year and %.2g near enough to be felt.",
                              direct_per_s[1] * FE_YEAR_S, nearby_per_s[1] * FE_YEAR_S);
}

void report_lightning(fe_document *doc, double length_m, const fe_copper_place *place)
{
    say_strikes(doc, length_m, place);
    fe_document_item(doc,
                     "Surge arresters made for powered data pairs at both entries, within %s "
                     "of the wall, with a short wire to the building's earth bar; bond the "
                     "data arrester and the supply's to the same bar.",
                     fe_amount(doc, REPORT_ARRESTER_WITHIN_M, FE_STYLE_LENGTH));
    fe_document_item(doc, "A screen joins two earths that differ: earth it at one end only, or "
                          "take unscreened cable, and ask the electrician about bonding.");
    fe_document_item(doc, "Keep data cables %s from a lightning conductor.",
                     fe_amount(doc, 1.8, FE_STYLE_LENGTH));
    fe_document_item(doc, "All-dielectric fibre removes the problem, but only with no steel "
                          "messenger, no toning wire and no copper feed alongside.");
}

void report_copper_notes(fe_document *doc)
{
    fe_document_caution(doc,
                        "Buy solid copper. Copper-clad aluminium is outside the standard: with "
                        "a tenth of copper it resists %.2f times as much, so less power "
                        "arrives and the cable warms, and it breaks when bent.",
                        fe_conductor_clad_factor(0.1));
    fe_document_caution(doc,
                        "Keep data cable apart from mains, and off the posts of mains unless "
                        "the code's distance is kept. Nobody works on it in a thunderstorm.");
    fe_document_source(doc, "Channel lengths: IEEE 802.3, ANSI/TIA-568 cord and temperature "
                            "derating. Loss: ANSI/TIA-568.2-D (from memory).");
    fe_document_source(doc, "Power: IEEE 802.3 clauses 33 and 145. Strikes: IEC 62305-2:2010 "
                            "annex A. Arresters: NFPA 70 800.90, 800.53. Heat of a bundle: "
                            "10 W/(m2 K), common practice, no source.");
}

void fe_report_copper(fe_document *doc, const fe_channel_case *given,
                      const fe_channel_answer *answer, const fe_copper_place *place)
{
    say_verdict(doc, given, answer);
    fe_document_pair(doc, "From port to port", "%s, of it %s of cords",
                     fe_amount(doc, given->length_m, FE_STYLE_LENGTH),
                     fe_amount(doc, given->cords_m, FE_STYLE_LENGTH));
    if (answer->fastest >= 0)
        fe_document_pair(doc, "Fastest within the standard", "%s",
                         fe_amount(doc, answer->rates[answer->fastest].reach->rate_bit_s,
                                   FE_STYLE_DATA_RATE));
    fe_document_paragraph(doc,
                          "The length is that of the cable as laid: sag, both drops, slack, "
                          "indoor ends and cords. In the sun a cable runs %s over the air.",
                          fe_amount(doc, FE_CHANNEL_SUN_K, FE_STYLE_TEMPERATURE_STEP));
    report_channel_rates(doc, answer);
    if (answer->has_power) {
        fe_document_heading(doc, 2, "Power over the pairs");
        report_channel_power(doc, given, &answer->power, 0.0);
    }
    if (answer->is_beyond) {
        fe_document_heading(doc, 2, "Longer than the limit");
        report_beyond_ways(doc, answer, "Ways past the limit");
        report_beyond_notes(doc);
    }
    fe_document_heading(doc, 2, "Between two buildings");
    report_lightning(doc, given->length_m, place);
    fe_document_heading(doc, 2, "Cautions");
    report_copper_notes(doc);
}

/* ---- Figures ---- */

fe_status fe_report_copper_reach(const fe_channel_case *given, const fe_channel_answer *answer,
                                 fe_units units, fe_figure *figure)
{
    fe_reach_row rows[FE_CHANNEL_RATES];
    char names[FE_CHANNEL_RATES][32];
    size_t count = 0;
    for (int i = 0; i < FE_CHANNEL_RATES; i++) {
        const fe_channel_rate *rate = &answer->rates[i];
        if (!rate->reach)
            continue;
        snprintf(names[count], sizeof names[count], "%.4g %s",
                 rate->reach->rate_bit_s / (rate->reach->rate_bit_s < 1e9 ? 1e6 : 1e9),
                 rate->reach->rate_bit_s < 1e9 ? "Mb/s" : "Gb/s");
        rows[count] = (fe_reach_row){names[count], given->length_m, rate->limit_m,
                                     fe_mark_of_verdict(rate->verdict)};
        count++;
    }
    return fe_figure_reach(
        &(fe_reach_data){"reach", "Length against the limit of each rate", rows, count}, units,
        figure);
}

enum { POE_LINES = 5, POE_POINTS = 41 };

/* Power left at a length; NAN where nothing is. */
static double left_at(const fe_channel_case *given, int device_class, double length_m)
{
    fe_channel_case there = *given;
    fe_channel_answer answer;
    there.poe_class = device_class;
    there.length_m = length_m;
    there.cords_m = fmin(given->cords_m, 0.5 * length_m);
    if (fe_channel_solve(&there, &answer) < 0 || !(answer.power.device_w > 0.0))
        return (double)NAN;
    return answer.power.device_w;
}

fe_status fe_report_poe_figure(const fe_channel_case *given, fe_units units, fe_figure *figure)
{
    static const int CLASSES[POE_LINES] = {2, 3, 4, 6, 8};
    double at_m[POE_LINES][POE_POINTS], power_w[POE_LINES][POE_POINTS];
    char names[POE_LINES][48];
    fe_poe_curve lines[POE_LINES];
    const fe_poe_class *wanted = fe_poe_class_find(given->poe_class);
    const double far_m = fmax(150.0, 1.5 * given->length_m);
    for (int i = 0; i < POE_LINES; i++) {
        const fe_poe_class *row = fe_poe_class_find(CLASSES[i]);
        for (int j = 0; j < POE_POINTS; j++) {
            at_m[i][j] = fmax(far_m * (double)j / (POE_POINTS - 1), 1.0);
            power_w[i][j] = left_at(given, CLASSES[i], at_m[i][j]);
        }
        snprintf(names[i], sizeof names[i], "class %d, %.4g W promised to 100 m",
                 row->device_class, row->device_w);
        lines[i] = (fe_poe_curve){names[i], at_m[i], power_w[i], POE_POINTS,
                                  left_at(given, CLASSES[i], given->length_m)};
    }
    return fe_figure_poe(&(fe_poe_data){"poe", "Power over the pairs against length", lines,
                                        POE_LINES, given->length_m,
                                        wanted ? wanted->device_w : 0.0},
                         units, figure);
}

/* ---- JSON ---- */

/* 0 where the standard promises no rate over this length. */
static double fastest_mbps(const fe_channel_answer *answer)
{
    return answer->fastest < 0 ? 0.0 : answer->rates[answer->fastest].reach->rate_bit_s / 1e6;
}

/* The wanted rate where it is promised, else the fastest that is. */
static double rate_held_mbps(const fe_channel_answer *answer)
{
    const fe_channel_rate *wanted = answer->wanted < 0 ? NULL : &answer->rates[answer->wanted];
    return wanted && wanted->verdict != FE_VERDICT_FAILS ? wanted->reach->rate_bit_s / 1e6
                                                         : fastest_mbps(answer);
}

static json_t *rate_json(report_json *json, const fe_channel_rate *rate)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "application", rate->reach->application);
    report_json_number(json, object, "rate_mbps", rate->reach->rate_bit_s / 1e6);
    report_json_number(json, object, "limit_m", rate->limit_m);
    report_json_number(json, object, "loss_db", rate->loss_db);
    report_json_number(json, object, "loss_limit_db", rate->loss_limit_db);
    report_json_number(json, object, "frequency_hz", rate->f_hz);
    report_json_text(json, object, "verdict", fe_verdict_name(rate->verdict));
    return object;
}

static json_t *beyond_json(report_json *json, const fe_beyond_way *way, fe_beyond_kind kind)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "way", fe_beyond_name(kind));
    report_json_text(json, object, "verdict", fe_verdict_name(way->verdict));
    report_json_text(json, object, "limit", way->limit);
    report_json_number(json, object, "rate_mbps", way->rate_bit_s / 1e6);
    report_json_number(json, object, "section_m", way->section_m);
    report_json_number(json, object, "reach_m", way->reach_m);
    report_json_number(json, object, "midpoints", way->midpoints);
    report_json_number(json, object, "house_power_w", way->house_w);
    report_json_number(json, object, "midpoint_power_w", way->midpoint_w);
    report_json_number(json, object, "far_power_w", way->far_w);
    report_json_number(json, object, "passed_power_w", way->passed_w);
    report_json_number(json, object, "port_class",
                       way->port_class < 0 ? (double)NAN : way->port_class);
    return object;
}

void report_channel_answer_json(report_json *json, json_t *object,
                                const fe_channel_answer *answer)
{
    const fe_channel_power *power = answer->has_power ? &answer->power : NULL;
    const double none = (double)NAN;
    json_t *rates = report_json_list(json);
    for (int i = 0; i < FE_CHANNEL_RATES; i++)
        if (answer->rates[i].reach)
            report_json_append(json, rates, rate_json(json, &answer->rates[i]));
    report_json_number(json, object, "fastest_mbps", fastest_mbps(answer));
    report_json_number(json, object, "poe_class", power ? (double)power->device_class : none);
    report_json_number(json, object, "poe_power_w", power ? power->device_w : none);
    report_json_number(json, object, "poe_voltage_v", power ? power->device_v : none);
    report_json_number(json, object, "poe_loop_ohm", power ? power->loop_ohm : none);
    report_json_text(json, object, "poe_verdict",
                     power ? fe_verdict_name(power->verdict) : NULL);
    report_json_set(json, object, "rates", rates);
    json_t *beyond = report_json_list(json);
    for (int kind = 0; answer->is_beyond && kind < FE_BEYOND_KINDS; kind++)
        report_json_append(json, beyond,
                           beyond_json(json, &answer->beyond[kind], (fe_beyond_kind)kind));
    report_json_set(json, object, "beyond", beyond);
}

fe_status fe_report_copper_json(const fe_channel_case *given, const fe_channel_answer *answer,
                                fe_strbuf *out)
{
    report_json json = {false};
    json_t *object = report_json_object(&json);
    report_json_number(&json, object, "channel_length_m", given->length_m);
    report_json_number(&json, object, "limit_m",
                       answer->wanted < 0 ? (double)NAN
                                          : answer->rates[answer->wanted].limit_m);
    report_json_number(&json, object, "rate_mbps", rate_held_mbps(answer));
    report_json_text(&json, object, "verdict", fe_verdict_name(answer->verdict));
    report_channel_answer_json(&json, object, answer);
    return report_json_write(&json, object, out);
}
