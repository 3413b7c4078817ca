/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/report_copper.h"

#include <math.h>

#include "farend/fibre.h"
#include "farend/strike.h"

static fe_mark mark_of(fe_channel_verdict verdict)
{
    static const fe_mark marks[] = {FE_MARK_HOLDS, FE_MARK_TIGHT, FE_MARK_FAILS};
    return marks[verdict];
}

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
    fe_document_verdict(doc, mark_of(rate->verdict),
                        "%s of %s for %s (%s): the limit is %s with these cords at %s.", length,
                        category, fe_amount(doc, rate->reach->rate_bit_s, FE_STYLE_DATA_RATE),
                        rate->reach->application,
                        fe_amount(doc, rate->limit_m, FE_STYLE_LENGTH),
                        fe_amount(doc, given->temp_c, FE_STYLE_TEMPERATURE));
    if (answer->has_power)
        fe_document_verdict(doc, mark_of(answer->power.verdict),
                            "Power of class %d: %s can reach the device, which is promised %s.",
                            answer->power.device_class,
                            fe_amount(doc, answer->power.device_w, FE_STYLE_POWER),
                            fe_amount_digits(doc, answer->power.promised_w, FE_STYLE_POWER, 1));
}

static void say_rates(fe_document *doc, const fe_channel_answer *answer)
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
        fe_document_cell(doc, "%s%s%s", fe_mark_of(doc, mark_of(rate->verdict)),
                         rate->reach->condition[0] ? ": " : "", rate->reach->condition);
    }
}

/* Beyond the standard, told honestly. */
static void say_beyond(fe_document *doc, const fe_channel_case *given)
{
    fe_document_heading(doc, 2, "Longer than the limit");
    fe_document_paragraph(
        doc,
        "Beyond its limit a channel is outside the standard: nobody promises that it links. "
        "It may still link, often at a lower rate, and drop out in the heat; the table "
        "compares its loss with what the standard allows. At 10 Mb/s the real limits are "
        "11.5 dB and a delay of 1000 ns, which good cable meets to about 200 m.");
    fe_document_item(doc,
                     "Single-pair Ethernet (10BASE-T1L): 10 Mb/s over %s on one pair of the "
                     "AWG 18 class, a converter at each end.",
                     fe_amount(doc, 1000.0, FE_STYLE_DISTANCE));
    fe_document_item(doc,
                     "A powered midpoint: a weatherproof switch fed over the cable itself "
                     "starts a new channel of %s; it must stand the cold and be reached "
                     "when it hangs.",
                     fe_amount(doc, 100.0, FE_STYLE_DISTANCE));
    fe_document_item(doc,
                     "A pair of line extenders: of the order of 100 Mb/s over %s and "
                     "10 Mb/s over %s of telephone or data pair (common practice, no "
                     "source); no power over the pairs.",
                     fe_amount(doc, 300.0, FE_STYLE_DISTANCE),
                     fe_amount(doc, 1000.0, FE_STYLE_DISTANCE));
    double db_per_m = 0.0, loss_db = 0.0;
    const fe_fibre_reach *reach = fe_fibre_reach_for("1000BASE-LX", FE_FIBRE_OS2);
    if (reach && fe_fibre_attenuation(FE_FIBRE_OS2, 1310e-9, &db_per_m) == FE_OK &&
        fe_fibre_link_loss(given->length_m, db_per_m, 2, 0, &loss_db) == FE_OK)
        fe_document_item(
            doc,
            "Single-mode fibre: 1 Gb/s to %s; over this length it loses %s with two "
            "connector pairs. A converter at each end with its own power and cold rating; "
            "leave spare fibres.",
            fe_amount(doc, reach->reach_m, FE_STYLE_DISTANCE),
            fe_amount_digits(doc, loss_db, FE_STYLE_RATIO, 1));
}

static void say_power(fe_document *doc, const fe_channel_case *given,
                      const fe_channel_power *power)
{
    fe_document_heading(doc, 2, "Power over the pairs");
    fe_document_pair(doc, "Wire", "%s each, at %s",
                     fe_amount(doc, power->wire_ohm_per_m, FE_STYLE_LINEAR_RESISTANCE),
                     fe_amount(doc, given->temp_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Loop of the powered pairs", "%s; the class is designed for %s",
                     fe_amount(doc, power->loop_ohm, FE_STYLE_RESISTANCE),
                     fe_amount(doc, power->design_ohm, FE_STYLE_RESISTANCE));
    fe_document_pair(doc, "At the device", "%s at the promised power, at most %s",
                     fe_amount(doc, power->device_v, FE_STYLE_VOLTAGE),
                     fe_amount(doc, power->device_w, FE_STYLE_POWER));
    fe_document_paragraph(doc,
                          "Cables that carry power in a bundle warm each other: keep bundles "
                          "small or reckon with a warmer cable. Between buildings the "
                          "equipment must have the isolation of IEEE 802.3 Environment B.");
}

static void say_lightning(fe_document *doc, const fe_channel_case *given,
                          const fe_copper_place *place)
{
    double direct_per_s = 0.0, nearby_per_s = 0.0;
    static const double year_s = 31557600.0;
    fe_document_heading(doc, 2, "Between two buildings");
    if (place->flash_density > 0.0 &&
        fe_strike_rate(given->length_m, place->flash_density, place->buried ? 0.5 : 1.0,
                       &direct_per_s, &nearby_per_s) == FE_OK)
        fe_document_paragraph(doc,
                              "Expect about %.2g direct strikes on the cable a year and %.2g "
                              "near enough to be felt.",
                              direct_per_s * year_s, nearby_per_s * year_s);
    fe_document_item(doc,
                     "Surge arresters made for powered data pairs at both entries, within a "
                     "metre of the wall, with a short wire to the building's earth bar.");
    fe_document_item(doc, "A screen joins two earths that differ: earth it at one end only, or "
                          "take unscreened cable, and ask the electrician about bonding.");
    fe_document_item(doc, "All-dielectric fibre removes the problem, but only with no steel "
                          "messenger, no toning wire and no copper feed alongside.");
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
                          "indoor ends and cords. In the sun a cable runs 20 K over the air.");
    say_rates(doc, answer);
    if (answer->has_power)
        say_power(doc, given, &answer->power);
    if (answer->wanted < 0 || answer->rates[answer->wanted].verdict != FE_CHANNEL_HOLDS)
        say_beyond(doc, given);
    say_lightning(doc, given, place);
    fe_document_heading(doc, 2, "Cautions");
    fe_document_caution(doc, "Buy solid copper. Copper-clad aluminium is outside the standard, "
                             "loses more voltage, breaks when bent and warms under power.");
    fe_document_caution(doc,
                        "Keep data cable apart from mains, and off the posts of mains unless "
                        "the code's distance is kept. Nobody works on it in a thunderstorm.");
    fe_document_source(doc, "Channel lengths: IEEE 802.3, ANSI/TIA-568 cord and temperature "
                            "derating. Loss: ANSI/TIA-568.2-D (from memory).");
    fe_document_source(doc, "Power: IEEE 802.3 clauses 33 and 145. Strikes: IEC 62305-2:2010 "
                            "annex A.");
}
