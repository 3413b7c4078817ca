/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to buy: for somebody on the way to the shop. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/conductor.h"
#include "farend/parts.h"
#include "farend/strbuf.h"
#include "report/report_parts.h"

enum { WHAT_ROOM = 300 };

/* What a list is for: what its words are about. */
typedef struct buy_list {
    const fe_plan *plan; /* null where there is none */
    const fe_supply_entry *entry;
    const fe_channel_result *channel;
    const fe_posts_result *hung;
    const fe_solar *solar;
    size_t path;
    bool relayed; /* what is not at an end is a relay's */
} buy_list;

/* ---- Words that are always the same ---- */

static const struct {
    fe_part_kind kind;
    fe_part_use use; /* FE_USES: any */
    const char *text;
} WORDS[] = {
    {FE_PART_TRENCH, FE_USES, "trench, dug and filled in again; one does for all in it"},
    {FE_PART_DRAW_CORD, FE_USES, "draw cord, left in the duct"},
    {FE_PART_DUCT_BEND, FE_USES,
     "long bend of the duct, to come up at the wall, one at each end"},
    {FE_PART_DUCT_SEAL, FE_USES, "duct seal, one at each end"},
    {FE_PART_SAND, FE_USES, "sand without stones, a bed under the cable and over it"},
    {FE_PART_WARNING_TAPE, FE_USES,
     "warning tape, laid half way down the trench; one does for all in it"},
    {FE_PART_STAY, FE_USES,
     "stay: strand, anchor, rod, two thimbles and grips, a turnbuckle and a guard"},
    {FE_PART_GRIP, FE_USES,
     "dead-end grip or clamp that is made for this cable, one at each end of a span"},
    {FE_PART_SLIDE, FE_USES, "block or clamp in which the cable slides"},
    {FE_PART_BOLT, FE_USES, "through-bolt with eye or hook, a post or a wall each"},
    {FE_PART_WALL_CLIPS, FE_USE_LEAD, "set of clips for the leads on walls and posts"},
    {FE_PART_WALL_CLIPS, FE_USES,
     "set of wall clips for both drops, with guards to the height of a hand"},
    {FE_PART_SLEEVE, FE_USE_HUNG,
     "sleeve through the wall, sloping outwards, with a drip loop before it, sealed against "
     "water and mice"},
    {FE_PART_SLEEVE, FE_USE_BURIED,
     "sleeve through the wall, sloping outwards, with a guard over the cable where it leaves "
     "the ground, sealed against water and mice"},
    {FE_PART_GLAND, FE_USES, "gland that fits the cable, one at each box or board"},
    {FE_PART_LABEL, FE_USE_PLAIN, "label: what this is and where it goes"},
    {FE_PART_LABEL, FE_USES, "label: what feeds this and where it is switched off"},
    {FE_PART_SOCKET, FE_USES, "socket or panel port of the cable's category"},
    {FE_PART_SOCKET_TOOL, FE_USE_LEAD, "tool to press plugs on, and a tester for the pairs"},
    {FE_PART_SOCKET_TOOL, FE_USES,
     "tool to press the wires into a socket, and a tester for the pairs"},
    {FE_PART_CORD, FE_USE_FIBRE,
     "duplex patch cord, with plugs that fit the optics and the box"},
    {FE_PART_CORD, FE_USE_PAIR, "patch cord from the converter to the port"},
    {FE_PART_CORD, FE_USE_LEAD, "patch cord from the injector to the port"},
    {FE_PART_DATA_ARRESTER, FE_USE_LEAD,
     "surge arrester for powered data pairs, within a metre of where the lead comes in, with "
     "its wire to the earth bar"},
    {FE_PART_DATA_ARRESTER, FE_USE_FEEDER,
     "surge arrester for the feeder, where it comes in, with its wire to the earth bar"},
    {FE_PART_PAIRS_SOURCE, FE_USE_LEAD,
     "injector for power over the pairs, indoors; not where the gear comes with one"},
    {FE_PART_PAIRS_SOURCE, FE_USE_RELAY,
     "injector for power over the pairs, in the box of a relay that has mains power"},
    {FE_PART_INJECTOR, FE_USE_RELAY,
     "injector for power over the pairs, fed from the feed, in the box of a relay"},
    {FE_PART_BRANCH_BOX, FE_USE_RELAY,
     "weatherproof branch box of the feed at a relay, with three glands, terminals for the "
     "conductor and a fuse for the branch"},
    {FE_PART_BRACKET, FE_USE_MAST,
     "wall bracket that holds the mast, two of them a metre apart"},
    {FE_PART_BRACKET, FE_USE_RELAY, "bracket or bands to hold a relay to its post"},
    {FE_PART_BRACKET, FE_USES, "wall bracket for what hangs outdoors"},
    {FE_PART_EARTH_WIRE, FE_USES,
     "earth wire of the mast to the earth bar; how thick, and where, is for the local code"},
    {FE_PART_FEEDER, FE_USES, "feeder between radio and antenna, of the class in the plan"},
    {FE_PART_PLUG, FE_USES, "plug for the leads, one at each end of each"},
    {FE_PART_RELAY_BOX, FE_USES,
     "weatherproof box on the post of a relay, above the snow, with glands"},
    {FE_PART_DATA_ARRESTER, FE_USE_PAIR,
     "surge arrester for one data pair, one at each entry, with its wire to the earth bar"},
    {FE_PART_DATA_ARRESTER, FE_USE_COPPER,
     "surge arrester for powered data pairs, one at each entry, with its wire to the earth "
     "bar"},
    {FE_PART_SPLITTER, FE_USES,
     "splitter out there, where a device does not take power over the pairs, with the voltage "
     "of the loads"},
    {FE_PART_SPLICE_BOX, FE_USES,
     "splice box for the wall with a splice tray and a panel for plugs"},
    {FE_PART_SPLICE, FE_USES, "splice sleeve, and a few to spare"},
    {FE_PART_SPLICER, FE_USES,
     "hire of a splicer, a cleaver and a light source for a day; or else the cable made to "
     "length with plugs on it, and a sock to pull it by"},
    {FE_PART_PAIR_BOX, FE_USES, "box with terminals for the pair and its screen"},
    {FE_PART_RESIDUAL, FE_USE_AC_US,
     "ground-fault device for the sockets out there, as the code asks"},
    {FE_PART_RESIDUAL, FE_USES,
     "residual-current device, 30 mA, for the sockets out there; upstream of it one of 100 mA "
     "with a delay where the code lets both stand"},
    {FE_PART_BOARD, FE_USE_AC,
     "small distribution board at the far end, with a main switch and a breaker for each "
     "circuit there"},
    {FE_PART_BOARD, FE_USE_DC, "board with a fuse for each load at the far end"},
    {FE_PART_BOARD, FE_USE_SOLAR, "board with a fuse for each load"},
    {FE_PART_ELECTRODE, FE_USE_AC_US,
     "earth electrode of the far building, with clamp and earth wire"},
    {FE_PART_ELECTRODE, FE_USE_AC,
     "earth electrode with clamp, inspection pit and earth wire, if the electrician makes a "
     "local earth"},
    {FE_PART_ELECTRODE, FE_USE_SOLAR,
     "earth electrode with clamp and wire, for frame and arrester"},
    {FE_PART_SUPPLY_ARRESTER, FE_USE_AC,
     "surge arrester for the supply, type 2, one at each board"},
    {FE_PART_SUPPLY_ARRESTER, FE_USE_DC,
     "surge arrester for DC of this voltage, one at each entry"},
    {FE_PART_SUPPLY_ARRESTER, FE_USE_SOLAR, "surge arrester for DC of the panel's voltage"},
    {FE_PART_DC_SWITCH, FE_USE_DC, "switch rated for DC and this voltage, one at each end"},
    {FE_PART_DC_SWITCH, FE_USE_SOLAR, "switch rated for DC between panel and controller"},
    {FE_PART_LUG, FE_USES, "lug or ferrule for the conductor, with sleeves"},
    {FE_PART_CRIMPER, FE_USE_AC, "crimping tool for those; the electrician brings the testers"},
    {FE_PART_CRIMPER, FE_USES, "crimping tool for those, and a meter for voltage and polarity"},
    {FE_PART_PANEL_CABLES, FE_USES,
     "set of panel cable and plugs, battery cable with lugs, glands"},
    {FE_PART_BRANCH_BOX, FE_USE_AC,
     "weatherproof branch box on the way, above the snow, with three glands, terminals for the "
     "conductor and a fuse for the branch"},
    {FE_PART_BRANCH_BOX, FE_USES,
     "weatherproof branch box on the way, above the snow, with three glands, terminals for the "
     "conductor and a fuse rated for DC for the branch"},
};

static const char *fixed_words(const fe_part *part)
{
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        if (WORDS[i].kind == part->kind &&
            (WORDS[i].use == part->use || WORDS[i].use == FE_USES))
            return WORDS[i].text;
    return NULL;
}

/* ---- A feed ---- */

static const char *wire_name(fe_document *doc, double area_m2)
{
    const fe_wire_size *sold = fe_wire_size_find(area_m2);
    return sold ? sold->name : fe_amount(doc, area_m2, FE_STYLE_WIRE);
}

/* The metal of a size: that of the series in which it is the smallest that does. */
static fe_conductor_material metal_of(const fe_supply_entry *entry, const fe_part *part)
{
    const bool copper = entry->main_metal == FE_CONDUCTOR_COPPER;
    return copper != part->instead ? FE_CONDUCTOR_COPPER : FE_CONDUCTOR_ALUMINIUM;
}

static void supply_cable(fe_document *doc, const buy_list *list, const fe_part *part,
                         char what[WHAT_ROOM])
{
    const fe_supply_entry *entry = list->entry;
    const fe_conductor_material metal = metal_of(entry, part);
    const bool both = isfinite(part->other_size);
    const char *size = isfinite(part->size) ? wire_name(doc, part->size) : "";
    const char *other = both ? wire_name(doc, part->other_size) : "";
    snprintf(what, WHAT_ROOM, "%s%s cable, %s%s%s%s%s, %s; %s%s",
             part->instead ? "or instead: " : "", fe_conductor_material_name(metal), size,
             both ? " or " : "", other, *size ? ", " : "",
             entry->given.ac ? "two conductors and a protective conductor of the same size"
                             : "two conductors",
             entry->place.planned && entry->place.duct_m > 0.0 ? "for outdoors, in the duct"
             : entry->place.planned                            ? "armoured or made for burial"
                                                               : "for outdoors",
             fe_parts_branches(entry) > 0 ? "in one piece between the branch boxes"
                                          : "in one piece, no joint",
             metal == FE_CONDUCTOR_ALUMINIUM
                 ? "; with lugs and jointing compound made for aluminium"
                 : "");
}

static void feed_source(fe_document *doc, const buy_list *list, const fe_part *part,
                        char what[WHAT_ROOM])
{
    char source[REPORT_SOURCE_ROOM];
    report_source_name(list->entry, source);
    if (part->kind == FE_PART_SUPPLY)
        snprintf(what, WHAT_ROOM,
                 "power supply of %s in the house, %s or more, isolated from the mains; not "
                 "where a source is there already",
                 source, fe_amount(doc, part->rating, FE_STYLE_POWER));
    else if (part->kind == FE_PART_BATTERY)
        snprintf(what, WHAT_ROOM, "battery of %s in the house; not where it is there already",
                 source);
    else
        snprintf(what, WHAT_ROOM, "charger for it, %s or more; not where it is there already",
                 fe_amount(doc, part->rating, FE_STYLE_POWER));
}

static void breaker(fe_document *doc, const buy_list *list, const fe_part *part,
                    char what[WHAT_ROOM])
{
    static const char TYPES[] = "BCD";
    (void)doc;
    if (isfinite(part->rating))
        snprintf(what, WHAT_ROOM, "circuit breaker %c%.4g, two-pole, at the supply end",
                 TYPES[list->entry->given.device.trip], part->rating);
    else
        snprintf(what, WHAT_ROOM,
                 "circuit breaker, two-pole, at the supply end; no more than the cable may "
                 "carry");
}

static void fuse(fe_document *doc, const buy_list *list, const fe_part *part,
                 char what[WHAT_ROOM])
{
    (void)doc;
    const char *where = part->use == FE_USE_SOLAR          ? ", at the battery"
                        : part->use == FE_USE_SOLAR_CHARGE ? ", between battery and controller"
                        : list->entry->given.has_device    ? ", beside the source (the plan's)"
                                                           : ", beside the source";
    snprintf(what, WHAT_ROOM, "fuse of %.4g A rated for DC, with its holder%s", part->rating,
             where);
}

/* What stands between the feed, or the battery, and one load. */
static void converter(fe_document *doc, const buy_list *list, const fe_part *part,
                      char what[WHAT_ROOM])
{
    const fe_supply_entry *entry = list->solar ? &list->solar->loads : list->entry;
    const double coldest_c = list->solar ? list->solar->coldest_c : entry->place.coldest_c;
    const fe_supply_origin *origin = &entry->origins[part->load];
    const bool inverter = !entry->given.ac && origin->device_low_v > FE_SUPPLY_MAINS_FROM_V;
    char source[REPORT_SOURCE_ROOM], cold[60] = "";
    report_source_name(entry, source);
    if (isfinite(coldest_c))
        snprintf(cold, sizeof cold, "; runs from %s up",
                 fe_amount(doc, coldest_c, FE_STYLE_TEMPERATURE));
    const char *power = fe_amount(doc, part->rating, FE_STYLE_POWER);
    if (part->kind == FE_PART_INJECTOR)
        snprintf(what, WHAT_ROOM,
                 "injector for power over the pairs, fed with %s, for %s%s, %s or more%s",
                 source, origin->name, origin->added ? ", where the data goes by radio" : "",
                 power, cold);
    else
        snprintf(
            what, WHAT_ROOM, "%s from %s to %s for %s, %s or more%s",
            entry->given.ac ? "power adapter"
            : inverter      ? "inverter"
                            : "converter",
            source,
            fe_amount_range(doc, origin->device_low_v, origin->device_high_v, FE_STYLE_VOLTAGE),
            origin->name, power, cold);
}

static void terminal(fe_document *doc, const buy_list *list, const fe_part *part,
                     char what[WHAT_ROOM])
{
    (void)list;
    snprintf(what, WHAT_ROOM,
             "insulated terminal from %s down to what a fuse or a board takes (%s)",
             wire_name(doc, part->size), fe_amount(doc, 6e-6, FE_STYLE_WIRE));
}

/* ---- A battery with its panel ---- */

static void solar_part(fe_document *doc, const buy_list *list, const fe_part *part,
                       char what[WHAT_ROOM])
{
    const fe_solar *solar = list->solar;
    if (part->kind == FE_PART_BATTERY)
        snprintf(what, WHAT_ROOM,
                 "battery or batteries, %s, together %s, in a ventilated box out of the frost",
                 fe_amount(doc, solar->battery_v, FE_STYLE_VOLTAGE),
                 fe_amount(doc, solar->battery_c, FE_STYLE_CHARGE));
    else if (part->kind == FE_PART_PANEL)
        snprintf(what, WHAT_ROOM,
                 "panel or panels, together %s, with a steep frame that sheds snow",
                 fe_amount(doc, part->rating, FE_STYLE_POWER));
    else
        snprintf(what, WHAT_ROOM, "charge controller of %s or more that shuts the loads off",
                 fe_amount(doc, part->rating, FE_STYLE_CURRENT));
}

/* Batteries, and what keeps them or the feed going: of the panel, else of the feed. */
static void source_part(fe_document *doc, const buy_list *list, const fe_part *part,
                        char what[WHAT_ROOM])
{
    (list->solar ? solar_part : feed_source)(doc, list, part, what);
}

/* ---- A data cable ---- */

static void data_end(fe_document *doc, const buy_list *list, const fe_part *part,
                     char what[WHAT_ROOM])
{
    /* The coldest that what stands at the far end has to start in. */
    const char *cold = fe_amount(doc, fe_plan_coldest(list->plan), FE_STYLE_TEMPERATURE);
    if (part->kind == FE_PART_OPTICS)
        snprintf(what, WHAT_ROOM,
                 "optics for %s in a switch, or converter (about %s, its own adapter), one at "
                 "each end; the far one runs from %s up",
                 list->channel->application, fe_amount_digits(doc, 3.0, FE_STYLE_POWER, -1),
                 cold);
    else if (part->kind == FE_PART_FEED_ADAPTER)
        snprintf(what, WHAT_ROOM,
                 "adapter for data over the conductors of the supply, one at each end; the far "
                 "one runs from %s up",
                 cold);
    else if (part->kind == FE_PART_PAIR_CONVERTER)
        snprintf(what, WHAT_ROOM,
                 "converter from %s to Ethernet, with its adapter, one at each end; the far "
                 "one runs from %s up",
                 list->channel->application, cold);
    else
        snprintf(what, WHAT_ROOM,
                 "switch out there, %.0f ports or more, for what is plugged in; runs from %s "
                 "up",
                 fe_parts_ports(list->plan, list->path, floor(list->plan->spare.ports.typical)),
                 cold);
}

/* From indoors to a radio outdoors, or up the post of a relay. */
static void lead(const buy_list *list, const fe_part *part, char what[WHAT_ROOM])
{
    const fe_cable_class *cable = fe_plan_cable_class(list->plan, part->name);
    snprintf(what, WHAT_ROOM, "%s, %s, solid copper; %s", cable ? cable->label : part->name,
             cable && cable->summary ? cable->summary : "",
             part->where ? "the lead from indoors to the radio outside"
                         : "the leads up the posts of the relays");
}

static void cable_part(fe_document *doc, const buy_list *list, const fe_part *part,
                       char what[WHAT_ROOM])
{
    const fe_channel_result *channel = list->channel;
    char fibres[80];
    snprintf(fibres, sizeof fibres, ", %d fibres or more: %d run, the others are spare",
             FE_PARTS_FIBRES, FE_PARTS_FIBRES_RUN);
    if (part->kind == FE_PART_PIGTAIL)
        snprintf(what, WHAT_ROOM,
                 "pigtail to splice on: %d fibres at each end, %d of them spare",
                 FE_PARTS_FIBRES, FE_PARTS_FIBRES - FE_PARTS_FIBRES_RUN);
    else if (part->use == FE_USE_LEAD)
        lead(list, part, what);
    else if (part->use == FE_USE_RELAY)
        snprintf(what, WHAT_ROOM, "post of %s with its hole, for a relay",
                 fe_amount_digits(doc, part->size, FE_STYLE_LENGTH, 1));
    else if (part->kind == FE_PART_DATA_CABLE)
        snprintf(what, WHAT_ROOM, "%s, %s%s; in one piece from the drum", channel->cable->label,
                 channel->cable->summary ? channel->cable->summary : "",
                 channel->fibre ? fibres : ", solid copper");
    else if (part->kind == FE_PART_CORD)
        snprintf(what, WHAT_ROOM, "cord of AWG 24, together %s",
                 fe_amount(doc, channel->cords_m, FE_STYLE_LENGTH));
    else if (part->kind == FE_PART_PAIRS_SOURCE)
        snprintf(what, WHAT_ROOM,
                 "source of power over the pairs, class %d, isolated for use between buildings",
                 channel->answer.power.device_class);
    else if (part->kind == FE_PART_MESSENGER)
        snprintf(what, WHAT_ROOM, "strand %s, and lashing wire or ties", list->hung->messenger);
    else
        snprintf(what, WHAT_ROOM,
                 "post of %s with its hole; where each goes, stays and the stringing table "
                 "stand in the sheet of the run (farend posts)",
                 fe_amount_digits(doc, part->size, FE_STYLE_LENGTH, 1));
}

static void duct_part(fe_document *doc, const buy_list *list, const fe_part *part,
                      char what[WHAT_ROOM])
{
    const bool spares = list->plan && list->plan->spare.ducts.typical >= 1.0;
    snprintf(what, WHAT_ROOM, "duct, %s inside%s, with couplings",
             fe_amount(doc, part->size, FE_STYLE_THICKNESS),
             spares ? ", the spare ones included" : "");
}

static void mast(fe_document *doc, const buy_list *list, const fe_part *part,
                 char what[WHAT_ROOM])
{
    (void)list;
    snprintf(what, WHAT_ROOM, "mast of %s for the wall",
             fe_amount_digits(doc, part->size, FE_STYLE_LENGTH, 1));
}

/* ---- Any part ---- */

/* Words that numbers of the list go into. */
static const struct {
    fe_part_kind kind;
    void (*write)(fe_document *doc, const buy_list *list, const fe_part *part,
                  char what[WHAT_ROOM]);
} WRITERS[] = {
    {FE_PART_SUPPLY_CABLE, supply_cable},
    {FE_PART_BATTERY, source_part},
    {FE_PART_PANEL, source_part},
    {FE_PART_CHARGER, source_part},
    {FE_PART_SUPPLY, source_part},
    {FE_PART_BREAKER, breaker},
    {FE_PART_FUSE, fuse},
    {FE_PART_CONVERTER, converter},
    {FE_PART_INJECTOR, converter},
    {FE_PART_TERMINAL, terminal},
    {FE_PART_OPTICS, data_end},
    {FE_PART_PAIR_CONVERTER, data_end},
    {FE_PART_FEED_ADAPTER, data_end},
    {FE_PART_SWITCH, data_end},
    {FE_PART_DUCT, duct_part},
    {FE_PART_MAST, mast},
    {FE_PART_DATA_CABLE, cable_part},
    {FE_PART_PIGTAIL, cable_part},
    {FE_PART_CORD, cable_part},
    {FE_PART_PAIRS_SOURCE, cable_part},
    {FE_PART_MESSENGER, cable_part},
    {FE_PART_POST, cable_part},
};

/* What neither table has is gear, told by its class, or a part by its own name. */
static void part_words(fe_document *doc, const buy_list *list, const fe_part *part,
                       char what[WHAT_ROOM])
{
    const char *fixed = fixed_words(part);
    const fe_gear *gear = list->plan ? fe_plan_gear(list->plan, part->name) : NULL;
    for (size_t i = 0; i < sizeof WRITERS / sizeof WRITERS[0] && !fixed; i++)
        if (WRITERS[i].kind == part->kind) {
            WRITERS[i].write(doc, list, part, what);
            return;
        }
    snprintf(what, WHAT_ROOM, "%s", fixed ? fixed : gear ? gear->label : part->name);
}

/* ---- A list as a table ---- */

/* The end that it stands at, or a relay's own power; else empty. */
static const char *whose_part(const buy_list *list, const fe_part *part)
{
    if (part->where)
        return part->where;
    const bool own_power =
        part->use == FE_USE_SOLAR || part->use == FE_USE_SOLAR_CHARGE || part->use == FE_USE_DC;
    return list->relayed && own_power ? "each relay" : "";
}

static void part_row(fe_document *doc, const buy_list *list, const fe_part *part, bool priced)
{
    char what[WHAT_ROOM];
    part_words(doc, list, part, what);
    fe_document_row(doc);
    if (isnan(part->count))
        fe_document_cell(doc, "%s",
                         fe_amount_digits(doc, ceil(part->length_m), FE_STYLE_LENGTH, -1));
    else
        fe_document_cell(doc, "%.0f", part->count);
    const char *whose = whose_part(list, part);
    const char *colon = *whose ? ": " : "";
    if (part->owned > 0)
        fe_document_cell(doc, "%s%s%s; %u there already", whose, colon, what, part->owned);
    else
        fe_document_cell(doc, "%s%s%s", whose, colon, what);
    if (priced)
        fe_document_cell(doc, "%s", fe_amount_digits(doc, part->cost, FE_STYLE_MONEY, -2));
}

static void sum_row(fe_document *doc, const fe_part_list *parts)
{
    fe_document_row(doc);
    fe_document_cell(doc, "%s", "");
    if (parts->unpriced > 0)
        fe_document_cell(doc, "together, without %u that %s no price in the plan",
                         parts->unpriced, parts->unpriced == 1 ? "has" : "have");
    else
        fe_document_cell(doc, "together");
    char cost[REPORT_LABEL_ROOM];
    fe_document_cell(doc, "%s", report_cost(doc, parts, cost));
}

static void write_list(fe_document *doc, const char *caption, const buy_list *list,
                       const fe_part_list *parts)
{
    const bool priced = list->plan && list->plan->prices.given;
    char columns[80] = "how much>|what";
    if (priced)
        snprintf(columns, sizeof columns, "how much>|what|%.40s>",
                 list->plan->prices.currency ? list->plan->prices.currency : "price");
    fe_document_table(doc, caption, columns);
    for (size_t i = 0; i < parts->count; i++)
        part_row(doc, list, &parts->items[i], priced);
    if (priced && isfinite(parts->cost))
        sum_row(doc, parts);
}

/* The keys of [prices] that a list lacks, each once. */
static void say_unpriced(fe_document *doc, const fe_plan *plan, const fe_part_list *parts)
{
    fe_strbuf keys = FE_STRBUF_INIT;
    for (size_t i = 0; i < parts->count; i++) {
        const fe_part *part = &parts->items[i];
        bool before = isfinite(part->cost);
        for (size_t k = 0; k < i && !before; k++)
            before = strcmp(parts->items[k].name, part->name) == 0;
        if (!before)
            fe_strbuf_format(&keys, "%s%s", keys.length ? ", " : "", part->name);
    }
    if (plan->prices.given && keys.length)
        fe_document_paragraph(doc, "Keys of [prices] that would complete the sum: %s.",
                              fe_strbuf_text(&keys));
    fe_document_free_text(doc, &keys);
}

/* A list that could not be made is missing memory: the document says so by itself. */
static void write_made(fe_document *doc, const char *caption, const buy_list *list,
                       fe_status made, fe_part_list *parts)
{
    if (made < 0) {
        fe_document_fail(doc);
        return;
    }
    write_list(doc, caption, list, parts);
    fe_parts_free(parts);
}

void report_buy_feed(fe_document *doc, const fe_plan *plan, const fe_supply_entry *entry)
{
    fe_part_list parts;
    if (!fe_supply_shown(entry) || fe_supply_judge(entry) == FE_VERDICT_FAILS)
        return;
    const fe_status made = fe_parts_of_feed(plan, entry, &parts);
    write_made(doc, "What to buy for the feed", &(buy_list){.plan = plan, .entry = entry}, made,
               &parts);
}

void report_buy_solar(fe_document *doc, const fe_plan *plan, const fe_solar *solar)
{
    fe_part_list parts;
    const fe_status made = fe_parts_of_solar(plan, solar, &parts);
    write_made(doc, "What to buy for battery and panel",
               &(buy_list){.plan = plan, .solar = solar}, made, &parts);
}

void report_buy_cable(fe_document *doc, const fe_result *result,
                      const fe_channel_result *channel)
{
    char caption[120];
    const fe_posts_result *hung = fe_result_hung(result, channel);
    const buy_list list = {
        .plan = result->plan, .channel = channel, .hung = hung, .path = channel->path};
    fe_part_list parts;
    /* Nobody buys for a cable that is too long, or that its posts do not carry. */
    if (channel->verdict == FE_VERDICT_FAILS || (hung && hung->verdict == FE_VERDICT_FAILS))
        return;
    snprintf(caption, sizeof caption, "What to buy for %s", channel->cable->label);
    fe_status made = fe_parts_of_cable(result, channel, &parts);
    write_made(doc, caption, &list, made, &parts);
    if (!(channel->poe.need.power_w > 0.0) || channel->poe.verdict == FE_VERDICT_FAILS)
        return;
    made = fe_parts_of_pairs(result->plan, &parts);
    write_made(doc, "And for power over its pairs", &list, made, &parts);
}

void report_way_parts(report_writer *writer, const fe_way *way)
{
    const fe_result *result = writer->result;
    buy_list list = {.plan = result->plan, .path = way->path};
    char caption[REPORT_LABEL_ROOM + 20];
    if (report_is_cable(way) || way->kind == FE_WAY_POE) {
        list.channel = &result->channels[way->index];
        list.hung = fe_result_hung(result, list.channel);
    }
    if (way->kind == FE_WAY_FEED)
        list.entry = result->feeds[way->index].entry;
    if (way->kind == FE_WAY_SOLAR)
        list.solar = result->solars[way->index].sized;
    if (way->kind == FE_WAY_RELAYS) {
        list.solar = result->relays[way->index].alone;
        list.relayed = true;
    }
    snprintf(caption, sizeof caption, "What to buy: %.*s", REPORT_LABEL_ROOM, way->name);
    write_list(writer->doc, caption, &list, &way->parts);
    say_unpriced(writer->doc, result->plan, &way->parts);
}
