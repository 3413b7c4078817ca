/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to buy, and how to lay it: for somebody on the way to the shop. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/conductor.h"
#include "farend/constants.h"
#include "farend/duct.h"
#include "report/report_parts.h"

enum { WHAT_ROOM = 300, COUNT_ROOM = 24 };

static void start_list(fe_document *doc, const char *caption)
{
    fe_document_table(doc, caption, "how much>|what");
}

static void buy_length(fe_document *doc, double length_m, const char *what)
{
    fe_document_row(doc);
    fe_document_cell(doc, "%s", fe_amount_digits(doc, ceil(length_m), FE_STYLE_LENGTH, -1));
    fe_document_cell(doc, "%s", what);
}

static void buy_count(fe_document *doc, size_t count, const char *what)
{
    if (count == 0)
        return;
    fe_document_row(doc);
    fe_document_cell(doc, "%zu", count);
    fe_document_cell(doc, "%s", what);
}

/* ---- A feed ---- */

/* Next rating of a fuse that is sold (common practice, no source). */
static double rated_for(double least_a)
{
    static const double RATINGS[] = {1.0,  2.0,  3.0,  5.0,  7.5,  10.0, 15.0,  20.0,  25.0,
                                     30.0, 40.0, 50.0, 60.0, 80.0, 100., 125.0, 150.0, 200.0};
    static const size_t COUNT = sizeof RATINGS / sizeof RATINGS[0];
    for (size_t i = 0; i < COUNT; i++)
        if (RATINGS[i] >= least_a)
            return RATINGS[i];
    return least_a;
}

/* A quarter over the current (common practice, no source). */
static double fuse_rating(double current_a)
{
    return rated_for(1.25 * current_a);
}

/* Places on the way where the cable is opened for a load: counted once each. */
static size_t branch_places(const fe_supply_entry *entry)
{
    size_t count = 0;
    for (size_t i = 0; i < entry->given.load_count; i++) {
        const double at_m = entry->loads[i].at_m;
        if (at_m < entry->given.length_m - 0.5 && (i == 0 || entry->loads[i - 1].at_m < at_m))
            count++;
    }
    return count;
}

static void buy_feed_cable(fe_document *doc, const fe_supply_entry *entry)
{
    char what[WHAT_ROOM];
    const char *pieces = branch_places(entry) > 0 ? "in one piece between the branch boxes"
                                                  : "in one piece, no joint";
    const bool buried = entry->place.planned;
    const char *cores = entry->given.ac ? "two conductors and a protective conductor of the "
                                          "same size"
                                        : "two conductors";
    if (entry->owned_m2 > 0.0)
        return;
    for (int metal = 0; metal < 2; metal++) {
        const fe_conductor_material material = (fe_conductor_material)metal;
        const fe_supply_size *metric = fe_supply_smallest(entry, material, FE_SIZES_METRIC);
        const fe_supply_size *gauge = fe_supply_smallest(entry, material, FE_SIZES_AWG);
        if (!metric && !gauge)
            continue;
        snprintf(what, sizeof what, "%s%s cable, %s%s%s, %s, %s; %s%s",
                 material != entry->main_metal ? "or instead: " : "",
                 fe_conductor_material_name(material), metric ? metric->name : "",
                 metric && gauge ? " or " : "", gauge ? gauge->name : "", cores,
                 buried && entry->place.duct_m > 0.0 ? "for outdoors, in the duct"
                 : buried                            ? "armoured or made for burial"
                                                     : "for outdoors",
                 pieces,
                 metal == FE_CONDUCTOR_ALUMINIUM
                     ? "; with lugs and jointing compound made for aluminium"
                     : "");
        buy_length(doc, entry->given.length_m, what);
    }
}

/* A source of direct current is seldom there: a supply in the house, or what keeps a battery
 * full. */
static void buy_source(fe_document *doc, const fe_supply_entry *entry,
                       const fe_supply_size *size)
{
    /* A quarter in reserve: common practice. */
    static const double RESERVE = 1.25;
    char what[WHAT_ROOM], source[REPORT_SOURCE_ROOM];
    const bool battery = entry->given.source_v < entry->high_v;
    const double power_w = RESERVE * (size->load_w + size->loss_w);
    report_source_name(doc, entry, source);
    snprintf(what, sizeof what,
             battery ? "battery of %s in the house, with a charger of %s or more; not where "
                       "they are there already"
                     : "power supply of %s in the house, %s or more, isolated from the mains; "
                       "not where a source is there already",
             source, fe_amount(doc, power_w, FE_STYLE_POWER));
    buy_count(doc, 1, what);
}

static void buy_protection(fe_document *doc, const fe_supply_entry *entry,
                           const fe_supply_size *size)
{
    char what[WHAT_ROOM];
    const fe_supply_case *feed = &entry->given;
    if (feed->ac) {
        if (feed->has_device && feed->device.is_breaker)
            snprintf(what, sizeof what, "circuit breaker %c%.4g, two-pole, at the supply end",
                     "BCD"[feed->device.trip], feed -> device.rating_a);
        else
            snprintf(what, sizeof what,
                     "circuit breaker, two-pole, at the supply end; no more "
                     "than the cable may carry");
        buy_count(doc, 1, what);
        buy_count(doc, 1,
                  entry->place.us
                      ? "ground-fault device for the sockets out there, as the code asks"
                      : "residual-current device, 30 mA, for the sockets out there; upstream "
                        "of it one of 100 mA with a delay where the code lets both stand");
        buy_count(doc, 1,
                  "small distribution board at the far end, with a main switch and a breaker "
                  "for each circuit there");
        buy_count(doc, 2, "surge arrester for the supply, type 2, one at each board");
        buy_count(doc, 1,
                  entry->place.us
                      ? "earth electrode of the far building, with clamp and earth wire"
                      : "earth electrode with clamp, inspection pit and earth wire, if the "
                        "electrician makes a local earth");
        return;
    }
    buy_source(doc, entry, size);
    snprintf(what, sizeof what,
             "fuse of %.4g A rated for DC, with its holder, beside the source%s",
             feed->has_device ? feed->device.rating_a : fuse_rating(size->current_a),
             feed->has_device ? " (the plan's)" : "");
    buy_count(doc, 1, what);
    buy_count(doc, 2, "switch rated for DC and this voltage, one at each end");
    buy_count(doc, 2, "surge arrester for DC of this voltage, one at each entry");
    buy_count(doc, 1, "board with a fuse for each load at the far end");
}

/* What stands between the feed and one load; false: nothing. */
static bool converter_text(fe_document *doc, const fe_supply_entry *entry, size_t i,
                           char what[WHAT_ROOM])
{
    /* A quarter in reserve: common practice. */
    static const double RESERVE = 1.25;
    char source[REPORT_SOURCE_ROOM], cold[60] = "";
    const fe_supply_origin *origin = &entry->origins[i];
    const double device_w = origin->device_w > 0.0 ? origin->device_w : entry->loads[i].load;
    if (!origin->added && !(origin->device_w > 0.0))
        return false;
    report_source_name(doc, entry, source);
    if (isfinite(entry->place.coldest_c))
        snprintf(cold, sizeof cold, "; runs from %s up",
                 fe_amount(doc, entry->place.coldest_c, FE_STYLE_TEMPERATURE));
    const char *power = fe_amount(doc, RESERVE * device_w, FE_STYLE_POWER);
    if (origin->added) {
        snprintf(what, WHAT_ROOM,
                 "injector for power over the pairs, fed with %s, for %s, %s or more%s", source,
                 origin->name, power, cold);
        return true;
    }
    const bool inverter = !entry->given.ac && origin->device_low_v > 60.0;
    snprintf(
        what, WHAT_ROOM, "%s from %s to %s for %s, %s or more%s",
        entry->given.ac ? "power adapter"
        : inverter      ? "inverter"
                        : "converter",
        source,
        fe_amount_range(doc, origin->device_low_v, origin->device_high_v, FE_STYLE_VOLTAGE),
        origin->name, power, cold);
    return true;
}

static bool is_same_thing(const fe_supply_entry *entry, size_t i, size_t k)
{
    const fe_supply_origin *a = &entry->origins[i], *b = &entry->origins[k];
    return strcmp(a->name, b->name) == 0 && a->added == b->added &&
           a->device_w == b->device_w && a->device_low_v == b->device_low_v &&
           a->device_high_v == b->device_high_v && entry->loads[i].load == entry->loads[k].load;
}

/* Two of the same, such as relays, are one line. */
static void buy_converters(fe_document *doc, const fe_supply_entry *entry)
{
    const size_t count = entry->given.load_count;
    bool bought[FE_SUPPLY_MOST_LOADS] = {false};
    for (size_t i = 0; i < count; i++) {
        char what[WHAT_ROOM];
        size_t same = 0;
        if (bought[i] || !converter_text(doc, entry, i, what))
            continue;
        for (size_t k = i; k < count; k++)
            if (is_same_thing(entry, i, k)) {
                bought[k] = true;
                same++;
            }
        buy_count(doc, same, what);
    }
}

static void buy_laying(fe_document *doc, double route_m, double duct_m, size_t spare_ducts)
{
    char what[WHAT_ROOM];
    if (duct_m > 0.0) {
        snprintf(what, sizeof what, "duct, %s inside%s, with couplings",
                 fe_amount(doc, duct_m, FE_STYLE_THICKNESS),
                 spare_ducts > 0 ? ", the spare ones included" : "");
        buy_length(doc, route_m * (double)(1 + spare_ducts), what);
        buy_length(doc, (route_m + 4.0) * (double)(1 + spare_ducts),
                   "draw cord, left in the duct");
        buy_count(doc, 2 * (1 + spare_ducts),
                  "long bend of the duct, to come up at the wall, one at each end");
        buy_count(doc, 2 * (1 + spare_ducts), "duct seal, one at each end");
    } else {
        buy_length(doc, route_m, "sand without stones, a bed under the cable and over it");
    }
    buy_length(doc, route_m,
               "warning tape, laid half way down the trench; one does for all in it");
}

/* Where a load on the way, a relay or a lamp, takes its part. */
static void buy_branches(fe_document *doc, const fe_supply_entry *entry)
{
    char what[WHAT_ROOM];
    snprintf(what, sizeof what,
             "weatherproof branch box on the way, above the snow, with three glands, "
             "terminals for the conductor and a %s for the branch",
             entry->given.ac ? "fuse" : "fuse rated for DC");
    buy_count(doc, branch_places(entry), what);
}

/* A cable out of the ground comes in from below: only one that hangs needs a drip loop. */
static void buy_entries(fe_document *doc, bool hangs)
{
    buy_count(doc, 2,
              hangs ? "sleeve through the wall, sloping outwards, with a drip loop before it, "
                      "sealed against water and mice"
                    : "sleeve through the wall, sloping outwards, with a guard over the cable "
                      "where it leaves the ground, sealed against water and mice");
    buy_count(doc, 2, "gland that fits the cable, one at each box or board");
}

static void buy_terminals(fe_document *doc, const fe_supply_entry *entry,
                          const fe_supply_size *size)
{
    /* What the terminals of small devices take (common practice, no source). */
    static const double TERMINAL_M2 = 10.1e-6;
    char what[WHAT_ROOM];
    const size_t ends = entry->given.ac ? 6 : 4;
    buy_count(doc, ends, "lug or ferrule for the conductor, with sleeves");
    if (size->conductor.area_m2 > TERMINAL_M2) {
        snprintf(what, sizeof what,
                 "insulated terminal from %s down to what a fuse or a board takes (%s)",
                 size->name, fe_amount(doc, 6e-6, FE_STYLE_WIRE));
        buy_count(doc, ends, what);
    }
    buy_count(doc, 1,
              entry->given.ac
                  ? "crimping tool for those; the electrician brings the testers"
                  : "crimping tool for those, and a meter for voltage and polarity");
}

void report_buy_feed(fe_document *doc, const fe_supply_entry *entry)
{
    const fe_supply_size *size = fe_supply_shown(entry);
    if (!size || fe_supply_judge(entry) == FE_VERDICT_FAILS)
        return;
    start_list(doc, "What to buy for the feed");
    buy_feed_cable(doc, entry);
    buy_protection(doc, entry, size);
    buy_converters(doc, entry);
    buy_branches(doc, entry);
    buy_entries(doc, !entry->place.planned);
    buy_terminals(doc, entry, size);
    if (entry->place.planned)
        buy_laying(doc, entry->place.route_m, entry->place.duct_m, 0);
    buy_count(doc, 2, "label: what feeds this and where it is switched off");
}

/* ---- A data cable ---- */

static void buy_fibre_ends(fe_document *doc, const fe_channel_result *channel, size_t points,
                           const char *cold)
{
    char what[WHAT_ROOM];
    snprintf(what, sizeof what,
             "optics for %s in a switch, or converter (about %s, its own adapter), one at each "
             "end; the far one runs from %s up",
             channel->application, fe_amount_digits(doc, 3.0, FE_STYLE_POWER, -1), cold);
    buy_count(doc, 2, what);
    buy_count(doc, 2, "splice box for the wall with a splice tray and a panel for plugs");
    buy_count(doc, 8, "pigtail to splice on: 4 fibres at each end, two of them spare");
    buy_count(doc, 8, "splice sleeve, and a few to spare");
    buy_count(doc, points > 0 ? points : 2,
              "duplex patch cord, with plugs that fit the optics and the box");
    buy_count(
        doc, 1,
        "hire of a splicer, a cleaver and a light source for a day; or else the cable made "
        "to length with plugs on it, and a sock to pull it by");
}

static void buy_pair_ends(fe_document *doc, const fe_channel_result *channel, const char *cold)
{
    char what[WHAT_ROOM];
    snprintf(what, sizeof what,
             "converter from %s to Ethernet, with its adapter, one at each end; the far one "
             "runs from %s up",
             channel->application, cold);
    buy_count(doc, 2, what);
    buy_count(doc, 2, "box with terminals for the pair and its screen");
    buy_count(doc, 2,
              "surge arrester for one data pair, one at each entry, with its wire to the earth "
              "bar");
    buy_count(doc, 2, "patch cord from the converter to the port");
}

static void buy_copper_ends(fe_document *doc, const fe_channel_result *channel, size_t points)
{
    char what[WHAT_ROOM];
    buy_count(doc, points, "socket or panel port of the cable's category");
    snprintf(what, sizeof what, "cord of AWG 24, together %s",
             fe_amount(doc, channel->cords_m, FE_STYLE_LENGTH));
    buy_count(doc, 2, what);
    buy_count(doc, 2,
              "surge arrester for powered data pairs, one at each entry, with its wire "
              "to the earth bar");
    buy_count(doc, 1, "tool to press the wires into a socket, and a tester for the pairs");
    if (channel->poe.need.power_w > 0.0 && channel->poe.verdict != FE_VERDICT_FAILS) {
        snprintf(what, sizeof what,
                 "source of power over the pairs, class %d, isolated for use between buildings",
                 channel->answer.power.device_class);
        buy_count(doc, 1, what);
        buy_count(doc, 1,
                  "splitter out there, where a device does not take power over the "
                  "pairs, with the voltage of the loads");
    }
}

/* What everything out there plugs into, by traffic and the ports to spare. */
static void buy_switch(fe_document *doc, const fe_plan *plan, const char *cold)
{
    char what[WHAT_ROOM];
    size_t ports = 1 + (size_t)plan->spare.ports.typical;
    for (size_t i = 0; i < plan->traffic_count; i++)
        ports += plan->traffic[i].from == plan->paths[0].to;
    snprintf(what, sizeof what,
             "switch out there, %zu ports or more, for what is plugged in; runs from %s up",
             ports, cold);
    buy_count(doc, 1, what);
}

static void buy_ends(fe_document *doc, const fe_channel_result *channel, const fe_plan *plan)
{
    const size_t points = (size_t)plan->cable.patch_points.typical;
    double coldest_c = INFINITY;
    for (size_t i = 0; i < plan->season_count; i++)
        coldest_c = fmin(coldest_c, plan->seasons[i].coldest_c);
    const char *cold = fe_amount(doc, coldest_c, FE_STYLE_TEMPERATURE);
    if (channel->fibre)
        buy_fibre_ends(doc, channel, points, cold);
    else if (channel->cable->medium == FE_MEDIUM_SINGLE_PAIR)
        buy_pair_ends(doc, channel, cold);
    else
        buy_copper_ends(doc, channel, points);
    buy_switch(doc, plan, cold);
}

/* The run's own sheet has posts and stays by length; here what somebody may forget. */
static void buy_hung(fe_document *doc, const fe_posts_result *hung)
{
    char what[WHAT_ROOM];
    snprintf(what, sizeof what,
             "post with its hole; lengths, stays and the stringing table stand in the sheet of "
             "the run (farend posts)");
    buy_count(doc, hung->route.post_count, what);
    buy_count(doc, hung->hardware.grips,
              "dead-end grip or clamp that is made for this cable, one at each end of a span");
    buy_count(doc, hung->hardware.slides, "block or clamp in which the cable slides");
    buy_count(doc, hung->hardware.bolts,
              "through-bolt with eye or hook, a post or a wall each");
    if (hung->buy.messenger_m > 0.0) {
        snprintf(what, sizeof what, "strand %s, and lashing wire or ties", hung->messenger);
        buy_length(doc, hung->buy.messenger_m, what);
    }
    buy_count(doc, 1, "set of wall clips for both drops, with guards to the height of a hand");
}

static size_t spare_ducts(const fe_plan *plan)
{
    return plan->spare.ducts.given == FE_GIVEN_NOT ? 0 : (size_t)plan->spare.ducts.typical;
}

void report_buy_cable(fe_document *doc, const fe_result *result,
                      const fe_channel_result *channel)
{
    char what[WHAT_ROOM], caption[120];
    const fe_plan *plan = result->plan;
    const fe_posts_result *hung = fe_result_hung(result, channel);
    /* Nobody buys for a cable that is too long, or that its posts do not carry. */
    if (channel->verdict == FE_VERDICT_FAILS || (hung && hung->verdict == FE_VERDICT_FAILS))
        return;
    snprintf(caption, sizeof caption, "What to buy for %s", channel->cable->name);
    start_list(doc, caption);
    snprintf(what, sizeof what, "%s, %s%s; in one piece from the drum", channel->cable->name,
             channel->cable->summary ? channel->cable->summary : "",
             channel->fibre ? ", 4 fibres or more: two run, two are spare" : ", solid copper");
    buy_length(doc, channel->length_m - channel->cords_m, what);
    buy_ends(doc, channel, plan);
    buy_entries(doc, channel->overhead);
    if (hung)
        buy_hung(doc, hung);
    else
        buy_laying(doc, channel->route_m,
                   plan->trench.duct_m.given == FE_GIVEN_NOT ? 0.0
                                                             : plan->trench.duct_m.typical,
                   spare_ducts(plan));
    buy_count(doc, 2, "label: what this is and where it goes");
}

/* ---- A trench ---- */

static void say_depth(fe_document *doc, const fe_plan *plan, bool supply)
{
    const bool duct = plan->trench.duct_m.given != FE_GIVEN_NOT;
    const double asked_m = fe_burial_supply_cover(duct);
    const double depth_m = plan->trench.depth_m.typical;
    fe_document_pair(doc, "Depth", "%s in the plan; %s for supply %s",
                     fe_amount(doc, depth_m, FE_STYLE_DEPTH),
                     fe_amount(doc, asked_m, FE_STYLE_DEPTH),
                     duct ? "in a plastic duct" : "in the ground as it is");
    if (supply && depth_m < asked_m - 1e-9)
        fe_document_paragraph(doc,
                              "The trench is too shallow for a supply cable: dig %s deeper, or "
                              "ask what your code allows.",
                              fe_amount(doc, asked_m - depth_m, FE_STYLE_DEPTH));
    fe_document_paragraph(
        doc,
        "Under a way for vehicles %s in a duct that goes on beyond it on both sides; under "
        "ploughland %s (common practice, no source).",
        fe_amount(doc, 0.6, FE_STYLE_DEPTH), fe_amount(doc, 0.9, FE_STYLE_DEPTH));
}

static void say_duct(fe_document *doc, const fe_plan *plan, const fe_cable_class *cable)
{
    static const double FRICTION = 0.5;
    double fill = 0.0, limit = 0.0, pull_m = 0.0;
    if (plan->trench.duct_m.given == FE_GIVEN_NOT || !cable)
        return;
    if (fe_duct_fill(plan->trench.duct_m.typical, &cable->diameter_m, 1, &fill, &limit) ==
        FE_OK)
        fe_document_pair(doc, "Duct",
                         "%s fills %s of %s; at most %s for one cable, %s for "
                         "two, %s for more",
                         cable->name, fe_amount(doc, fill, FE_STYLE_PERCENT),
                         fe_amount(doc, plan->trench.duct_m.typical, FE_STYLE_THICKNESS),
                         fe_amount(doc, limit, FE_STYLE_PERCENT),
                         fe_amount(doc, 0.31, FE_STYLE_PERCENT),
                         fe_amount(doc, 0.40, FE_STYLE_PERCENT));
    if (isfinite(cable->pulling_limit_n) &&
        fe_duct_longest_pull(cable->pulling_limit_n, cable->weight_n_m, FRICTION, FE_PI,
                             &pull_m) == FE_OK)
        fe_document_pair(doc, "Draw points",
                         "every %s with two right-angle bends on the way, at %s of pull; no "
                         "more than a full turn of bends between two",
                         fe_amount(doc, pull_m, FE_STYLE_DISTANCE),
                         fe_amount(doc, cable->pulling_limit_n, FE_STYLE_FORCE));
}

static void say_crossings(fe_document *doc, const fe_plan *plan)
{
    for (size_t i = 0; i < plan->trench.crossings.count; i++)
        fe_document_item(doc,
                         "Crossing: %s. A duct goes through under it; dig by hand, and ask "
                         "whose it is.",
                         plan->trench.crossings.items[i]);
}

void report_trench(fe_document *doc, const fe_plan *plan, const fe_cable_class *cable,
                   bool supply)
{
    fe_document_heading(doc, 3, "The trench");
    say_depth(doc, plan, supply);
    say_duct(doc, plan, cable);
    say_crossings(doc, plan);
    fe_document_item(doc,
                     "Supply and data may share the trench, each in its own duct, with %s of "
                     "tamped earth between; not with gas, and water pipes lie lower. Warning "
                     "tape over both.",
                     fe_amount(doc, FE_TRENCH_SEPARATION_M, FE_STYLE_DEPTH));
    fe_document_item(doc, "Bed the cable in sand without stones; drain the ends of a duct; "
                          "draw a plan with measures from fixed points before filling in.");
    fe_document_source(doc, "Cover: NFPA 70 Table 300.5(A). Supply beside data: IEEE C2 rule "
                            "320B2. Duct fill: NFPA 70 chapter 9 Table 1 (from memory). "
                            "Pull: friction of 0.5, common practice, no source.");
}

/* ---- Battery and panel ---- */

void report_solar(fe_document *doc, const fe_solar *solar)
{
    char what[WHAT_ROOM];
    fe_document_paragraph(doc, "A first sizing: the makers' sheets must follow.");
    fe_document_pair(doc, "Loads", "%s at once, %s a day, converters included",
                     fe_amount(doc, solar->load_w, FE_STYLE_POWER),
                     fe_amount(doc, solar->energy_per_day_j, FE_STYLE_ENERGY));
    fe_document_pair(doc, "Battery",
                     "%s at %s for %s without sun, %s of it used, %s left at %s",
                     fe_amount(doc, solar->battery_c, FE_STYLE_CHARGE),
                     fe_amount(doc, solar->battery_v, FE_STYLE_VOLTAGE),
                     fe_amount(doc, solar->dark_days * 86400.0, FE_STYLE_TIME),
                     fe_amount(doc, solar->discharge, FE_STYLE_PERCENT),
                     fe_amount(doc, solar->cold_part, FE_STYLE_PERCENT),
                     fe_amount(doc, solar->coldest_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Panel", "%s for %s of full sun a day in the worst month",
                     fe_amount(doc, solar->panel_w, FE_STYLE_POWER),
                     fe_amount(doc, solar->sun_s, FE_STYLE_TIME));
    if (solar->panel_easy_w < 0.999 * solar->panel_hard_w ||
        solar->battery_easy_j < 0.999 * solar->battery_hard_j)
        fe_document_paragraph(
            doc, "Over the plan's ranges: %s of battery and %s of panel.",
            fe_amount_range(doc, solar->battery_easy_j, solar->battery_hard_j, FE_STYLE_ENERGY),
            fe_amount_range(doc, solar->panel_easy_w, solar->panel_hard_w, FE_STYLE_POWER));
    start_list(doc, "What to buy for battery and panel");
    snprintf(what, sizeof what,
             "battery or batteries, %s, together %s, in a ventilated box out of the frost",
             fe_amount(doc, solar->battery_v, FE_STYLE_VOLTAGE),
             fe_amount(doc, solar->battery_c, FE_STYLE_CHARGE));
    buy_count(doc, 1, what);
    snprintf(what, sizeof what,
             "panel or panels, together %s, with a steep frame that sheds snow",
             fe_amount(doc, solar->panel_w, FE_STYLE_POWER));
    buy_count(doc, 1, what);
    snprintf(what, sizeof what, "charge controller of %s or more that shuts the loads off",
             fe_amount(doc, solar->charger_a, FE_STYLE_CURRENT));
    buy_count(doc, 1, what);
    snprintf(what, sizeof what, "fuse of %.4g A rated for DC, with its holder, at the battery",
             fuse_rating(solar->load_w / solar->battery_v));
    buy_count(doc, 1, what);
    snprintf(what, sizeof what,
             "fuse of %.4g A rated for DC, with its holder, between battery and controller",
             rated_for(solar->charger_a));
    buy_count(doc, 1, what);
    buy_count(doc, 1, "switch rated for DC between panel and controller");
    buy_count(doc, 1, "surge arrester for DC of the panel's voltage");
    buy_count(doc, 1, "earth electrode with clamp and wire, for frame and arrester");
    buy_count(doc, 1, "board with a fuse for each load");
    buy_count(doc, 1, "set of panel cable and plugs, battery cable with lugs, glands");
    fe_supply_entry loads = solar->loads;
    loads.place.coldest_c = solar->coldest_c;
    buy_converters(doc, &loads);
    fe_document_caution(doc, "A battery gives hundreds of amperes into a short circuit: fuse "
                             "at its post, cover the posts. A lithium battery must not be "
                             "charged below freezing.");
    fe_document_source(doc,
                       "Battery and panel: 85 %% from battery to load, 65 %% from panel to "
                       "load, 1 %% of a battery's capacity lost a kelvin below %s: common "
                       "practice, no source.",
                       fe_amount(doc, 20.0, FE_STYLE_TEMPERATURE));
}

json_t *report_solar_json(report_json *json, const fe_solar *solar)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "kind", "battery and panel");
    report_json_number(json, object, "voltage_v", solar->battery_v);
    report_json_number(json, object, "load_w", solar->load_w);
    report_json_number(json, object, "energy_wh_per_day", solar->energy_per_day_j / 3600.0);
    report_json_number(json, object, "battery_wh", solar->battery_j / 3600.0);
    report_json_number(json, object, "battery_ah", solar->battery_c / 3600.0);
    report_json_number(json, object, "panel_w", solar->panel_w);
    report_json_number(json, object, "battery_hard_wh", solar->battery_hard_j / 3600.0);
    report_json_number(json, object, "panel_hard_w", solar->panel_hard_w);
    report_json_number(json, object, "battery_easy_wh", solar->battery_easy_j / 3600.0);
    report_json_number(json, object, "panel_easy_w", solar->panel_easy_w);
    report_json_number(json, object, "coldest_c", solar->coldest_c);
    return object;
}
