/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The models that a result was computed with: one table, from which text, page and JSON are
 * made. A row stands in a report only where the result used it, and says for what.
 */
#include <stdio.h>
#include <string.h>

#include "farend/limits.h"
#include "report/report_parts.h"

/* ---- What models are used for ---- */

typedef enum subject {
    OF_RADIO,
    OF_RELAYS,
    OF_POSTS,
    OF_CABLES,
    OF_FEEDS,
    OF_SOLAR,
    OF_ADAPTERS,
    SUBJECTS
} subject;

static size_t count_of(const fe_result *result, subject of)
{
    const size_t counts[SUBJECTS] = {
        [OF_RADIO] = result->radio_count,        [OF_RELAYS] = result->relay_count,
        [OF_POSTS] = result->overhead_count,     [OF_CABLES] = result->channel_count,
        [OF_FEEDS] = result->feed_count,         [OF_SOLAR] = result->solar_count,
        [OF_ADAPTERS] = result->feed_data_count,
    };
    return counts[of];
}

/* What stands for all of a subject where a row holds for each of them. */
static const char *const ALL_OF[SUBJECTS] = {
    [OF_RADIO] = "every radio link",
    [OF_RELAYS] = "every search for relays",
    [OF_POSTS] = "every run on posts",
    [OF_CABLES] = "every data cable",
    [OF_FEEDS] = "every feed",
    [OF_SOLAR] = "panel and battery",
    [OF_ADAPTERS] = "data over the feed's conductors",
};

static void put_name(const fe_result *result, subject of, size_t index, fe_strbuf *out)
{
    char link[REPORT_LABEL_ROOM];
    char source[REPORT_SOURCE_ROOM];
    const char *path = NULL;
    switch (of) {
    case OF_RADIO:
        fe_strbuf_append(out, report_link(result->plan, &result->radio[index], link));
        break;
    case OF_RELAYS:
        fe_strbuf_format(out, "relays at %s", fe_band_name(result->relays[index].band));
        path = report_path_name(result->plan, result->relays[index].path);
        break;
    case OF_POSTS:
        fe_strbuf_format(out, "%s on posts", result->overhead[index].cable->label);
        path = report_path_name(result->plan, result->overhead[index].path);
        break;
    case OF_CABLES:
        fe_strbuf_format(out, "%s %s", result->channels[index].cable->label,
                         result->channels[index].overhead ? "on posts" : "in the ground");
        path = report_path_name(result->plan, result->channels[index].path);
        break;
    case OF_FEEDS:
        fe_strbuf_format(out, "feed at %s",
                         report_source_name(result->feeds[index].entry, source));
        path = report_path_name(result->plan, result->feeds[index].path);
        break;
    case OF_SOLAR:
        fe_strbuf_append(out, ALL_OF[of]);
        path = report_path_name(result->plan, result->solars[index].path);
        break;
    case OF_ADAPTERS:
    case SUBJECTS:
        fe_strbuf_append(out, ALL_OF[of]);
        break;
    }
    if (path)
        fe_strbuf_format(out, " (%s)", path);
}

/* ---- Who uses what ---- */

typedef bool (*user)(const fe_result *result, size_t index);

static unsigned used_by(const fe_result *result, size_t index)
{
    const fe_hop_budget *budget = &result->radio[index].budget;
    unsigned used = 0;
    for (size_t i = 0; i < budget->season_count; i++)
        used |= budget->seasons[i].loss.used;
    return used;
}

static bool has_method(const fe_result *result, size_t index, unsigned methods)
{
    const fe_hop_budget *budget = &result->radio[index].budget;
    for (size_t i = 0; i < budget->season_count; i++)
        if (methods & 1U << budget->seasons[i].loss.ground_method)
            return true;
    return false;
}

static bool by_ray(const fe_result *result, size_t index)
{
    return has_method(result, index, 1U << FE_GROUND_RAY | 1U << FE_GROUND_BEYOND);
}

static bool by_edge(const fe_result *result, size_t index)
{
    return has_method(result, index, 1U << FE_GROUND_EDGE);
}

static bool by_diffraction(const fe_result *result, size_t index)
{
    return has_method(result, index, 1U << FE_GROUND_DELTA_BULLINGTON | 1U << FE_GROUND_BEYOND);
}

static bool by_standing(const fe_result *result, size_t index)
{
    return result->radio[index].standing_count > 0;
}

static bool by_stand(const fe_result *result, size_t index)
{
    return used_by(result, index) & FE_USED_STAND;
}

static bool by_wood(const fe_result *result, size_t index)
{
    return used_by(result, index) & FE_USED_WOOD;
}

static bool by_trees(const fe_result *result, size_t index)
{
    return by_stand(result, index) || by_wood(result, index);
}

static bool by_walls(const fe_result *result, size_t index)
{
    return used_by(result, index) & FE_USED_WALLS;
}

static bool by_entry(const fe_result *result, size_t index)
{
    return used_by(result, index) & FE_USED_ENTRY;
}

static bool by_covers(const fe_result *result, size_t index)
{
    const fe_hop_budget *budget = &result->radio[index].budget;
    for (size_t i = 0; i < budget->season_count; i++)
        if (budget->seasons[i].loss.cover_db[0] + budget->seasons[i].loss.cover_db[1] > 0.0)
            return true;
    return false;
}

static bool by_rain(const fe_result *result, size_t index)
{
    (void)index;
    for (size_t i = 0; i < result->plan->season_count; i++)
        if (result->plan->seasons[i].rain_mm_h > 0.0)
            return true;
    return false;
}

static bool by_aim(const fe_result *result, size_t index)
{
    return result->radio[index].directional;
}

static bool by_common_rates(const fe_result *result, size_t index)
{
    const fe_band band = result->radio[index].band;
    return band != FE_BAND_SUB_GHZ && band != FE_BAND_60_GHZ;
}

static bool by_sub_ghz(const fe_result *result, size_t index)
{
    return result->radio[index].band == FE_BAND_SUB_GHZ;
}

static bool by_60_ghz(const fe_result *result, size_t index)
{
    return result->radio[index].band == FE_BAND_60_GHZ;
}

static bool by_street(const fe_result *result, size_t index)
{
    return result->radio[index].plausibility.street_stated;
}

static bool by_clutter(const fe_result *result, size_t index)
{
    return result->radio[index].plausibility.clutter_stated;
}

static bool in_en_form(const fe_result *result, size_t index)
{
    return result->overhead[index].material.format == FE_SAFETY_EN;
}

static bool in_us_form(const fe_result *result, size_t index)
{
    return !in_en_form(result, index);
}

static bool by_stays(const fe_result *result, size_t index)
{
    return result->overhead[index].hardware.stays > 0;
}

static bool by_pairs(const fe_result *result, size_t index)
{
    return result->channels[index].has_answer;
}

static bool by_one_pair(const fe_result *result, size_t index)
{
    return result->channels[index].cable->medium == FE_MEDIUM_SINGLE_PAIR;
}

static bool by_fibre(const fe_result *result, size_t index)
{
    return result->channels[index].fibre;
}

static bool by_poe(const fe_result *result, size_t index)
{
    return by_pairs(result, index) && result->channels[index].poe.need.power_w > 0.0;
}

static bool by_metal(const fe_result *result, size_t index)
{
    return result->channels[index].cable->metallic;
}

static bool by_mains(const fe_result *result, size_t index)
{
    return result->feeds[index].source.ac;
}

/* ---- The table ---- */

static const char READ[] = "read";
static const char PART[] = "read in part";
static const char MEMORY[] = "from memory";
static const char PHYSICS[] = "derived here";
static const char CUSTOM[] = "common practice, no source";

typedef struct model_row {
    subject of;
    user used; /* null: by each of its subject */
    const char *name;
    const char *source; /* with clause, and year of the text */
    const char *range;
    const char *known;
} model_row;

/* clang-format off */
static const model_row MODELS[] = {
    {OF_RADIO, NULL, "free space", "ITU-R P.525-4 (2019) sec 2.2 eq 3",
     "beyond the near field of both antennas", READ},
    {OF_RADIO, NULL, "Fresnel zone, round earth",
     "ITU-R P.526-15 (2019) sec 2.1; earth radius ITU-R P.452-18 (2023) eq 6", "1 % from 13 wavelengths off an end", READ},
    {OF_RADIO, by_ray, "ray off the ground", "Fresnel's formulas; roughness Ament 1953; soils after ITU-R P.527",
     "soil 0.5 to 30 GHz, wet snow 3 to 37 GHz, antennas a wavelength up", MEMORY},
    {OF_RADIO, by_edge, "one sharp edge", "ITU-R P.526-15 (2019) sec 4.1 eq 26 and 31", "an isolated edge, 0.6 of the zone free beside it", READ},
    {OF_RADIO, by_diffraction, "diffraction over the ground", "ITU-R P.526-15 (2019) sec 4.5, delta-Bullington",
     "any profile; sub-clauses from memory", READ},
    {OF_RADIO, by_standing, "trees and roofs of the profile, as solid",
     "the diffraction above over ground plus clutter", "no ground loss below zero", CUSTOM},
    {OF_RADIO, by_stand, "trees between the ends", "Weissberger 1982, modified exponential decay",
     "0.23 to 95 GHz, up to 400 m of leaves", READ},
    {OF_RADIO, by_wood, "an end in the wood", "ITU-R P.833-9 (2016) sec 2.1 eq 1", "to 2.2 GHz; the most that a wood adds from memory", PART},
    {OF_RADIO, by_trees, "through the leaves and over them at once", "ITU-R P.833 sec 3.2.5", "never more than the better route", MEMORY},
    {OF_RADIO, by_trees, "bare, wet and frozen trees", CUSTOM, "a factor on decibels, 0.2 to 1.3", CUSTOM},
    {OF_RADIO, by_walls, "known walls", "ITU-R P.2040-3 (2023) sec 2.2.2 and Table 3", "most materials from 1 GHz up; layers of a wall common practice", READ},
    {OF_RADIO, by_entry, "a house nobody knows", "ITU-R P.2109-1 (2019) sec 3 eq 1 to 9", "0.08 to 100 GHz", READ},
    {OF_RADIO, by_covers, "wet antenna covers", "ITU-R P.840-8 (2019) eq 4 to 10 with ITU-R P.2040-3; thickness of the film common practice",
     "water to 1000 GHz, wet snow 3 to 37 GHz", PART},
    {OF_RADIO, NULL, "air", "ITU-R P.676-13 (2022) annex 1", "1 to 1000 GHz", READ},
    {OF_RADIO, by_rain, "rain", "ITU-R P.838-3 (2005) eq 1 to 5; ITU-R P.530-18 (2021) sec 2.4.1", "1 to 1000 GHz, paths to 60 km", READ},
    {OF_RADIO, NULL, "fading", "Rice's law", "factor of the steady part common practice, no source", PHYSICS},
    {OF_RADIO, by_aim, "aim of a beam", "ITU-R F.1245 sec 2.1, parabolic main lobe", "within the main lobe", MEMORY},
    {OF_RADIO, NULL, "power setting, stated gain, fittings, place", CUSTOM, "gear put up with care", CUSTOM},
    {OF_RADIO, by_common_rates, "rates and weakest signals", "IEEE 802.11-2016 clauses 15 to 21; 802.11ax (2021) 27.3.20; 802.11be (2024) 36.3.21",
     "the least a receiver must do; most do better", READ},
    {OF_RADIO, by_sub_ghz, "rates and weakest signals below 1 GHz", "IEEE 802.11ah (2016) clause 23", "the least a receiver must do", PART},
    {OF_RADIO, by_60_ghz, "rates and weakest signals at 60 GHz", "IEEE 802.11-2020 clause 20", "single-carrier modes", MEMORY},
    {OF_RADIO, by_street, "the same distance in a street, as a check", "ITU-R P.1411-10 (2019) sec 4.1 Table 4", "0.8 to 73 GHz among houses; formula from memory", PART},
    {OF_RADIO, by_clutter, "an end among houses, as a check", "ITU-R P.2108-1 (2021) sec 3.2", "0.5 to 67 GHz, from 0.25 km", MEMORY},
    {OF_RELAYS, NULL, "hops that share a channel", "Li and others 2001, capacity of ad hoc wireless networks", "one channel, hops in a row", READ},
    {OF_RELAYS, NULL, "places of relays", "every place of a step, exactly; the losses above", "ground of the profile", PHYSICS},

    {OF_POSTS, NULL, "shape of a span", "elastic catenary, Irvine, Cable Structures (1981) sec 1.4", "supports at any height, cable without stiffness", MEMORY},
    {OF_POSTS, NULL, "sag by temperature and load", "equal lengths of the unstretched cable", "elastic cable; creep apart", PHYSICS},
    {OF_POSTS, NULL, "ice and wind on the cable", "geometry of a sleeve, ISO 12494 (2001) for its density; pressure of the gust as it is", "no galloping", PART},
    {OF_POSTS, in_en_form, "strength of a post", "EN 1995-1-1 (2004) and EN 1990 (2002); wood by EN 338", "sound wood, service class 3", MEMORY},
    {OF_POSTS, in_us_form, "strength of a post", "IEEE C2 tables 253-1 and 261-1, Grade B; wood by ANSI O5.1", "sound wood", MEMORY},
    {OF_POSTS, NULL, "depth of a post", "CPUC General Order 95 rule 49.1-C; IBC 2012 1807.3.2.1 and Table 1806.2", "to 12 ft deep; soils of the table", READ},
    {OF_POSTS, by_stays, "anchors of stays", "RUS Bulletin 1728F-804; US Army FM 5-125; CPUC General Order 95 rule 44", "classes of holding power and soil", MEMORY},
    {OF_POSTS, NULL, "search for posts", "every place, length and pull tried, exactly", "posts that give are checked afterwards", PHYSICS},

    {OF_CABLES, by_pairs, "length of a copper cable", "ISO/IEC 11801 and ANSI/TIA-568.2-D (2018), 100 m channel; warmth by its annex", "to 60 degC", PART},
    {OF_CABLES, by_one_pair, "length of a single pair", "IEEE 802.3cg (2019) clauses 146 and 147", "cable of its loss and impedance", MEMORY},
    {OF_CABLES, by_fibre, "length and loss of a fibre", "IEEE 802.3 clauses 38, 52, 59; TIA-568.3-D (2016)", "both limits are held", PART},
    {OF_CABLES, by_poe, "power over the pairs", "IEEE 802.3 (2018) clauses 33 and 145", "classes 0 to 8; voltages from memory", PART},
    {OF_CABLES, by_metal, "strikes of lightning", "IEC 62305-2 (2010) annex A.4 and A.5", "flashes of the plan, flat land", PART},

    {OF_FEEDS, NULL, "resistance of conductors", "IEC 60228 (2004) Tables 1 to 3; NFPA 70 chapter 9 Table 8", "the sizes of the tables, at their warmth", READ},
    {OF_FEEDS, NULL, "voltage at each load", "circuit theory, Kirchhoff's laws with phasors", "loads of constant power", PHYSICS},
    {OF_FEEDS, NULL, "what a conductor may carry", "NFPA 70 (2023) Table 310.16; BS 7671 Tables 4D2A and 4D5", "air of the hottest season", PART},
    {OF_FEEDS, by_mains, "fault loop", "BS 7671:2018+A2 Table 41.3", "devices B, C, D; 0.4 s", PART},
    {OF_SOLAR, NULL, "panel and battery", CUSTOM, "sun of the worst month as the plan has it", CUSTOM},
    {OF_ADAPTERS, NULL, "adapters on mains conductors", CUSTOM, "a factor of ten from house to house", CUSTOM},
};
/* clang-format on */

enum { MODEL_COUNT = sizeof MODELS / sizeof MODELS[0] };

/* ---- Rows of a result ---- */

/* One row, of the table or of a rule that the result was held to. */
typedef struct shown_row {
    subject of;
    const char *name;
    char source[400];
    const char *range;
    const char *known;
    user used;
    const fe_power_rule *power;
    const char *height; /* rule of a clearance */
} shown_row;

/* Where the walk over the rows of a result stands. All zero: before the first. */
typedef struct row_walk {
    size_t model;
    size_t limit; /* two a radio link */
    size_t run;
    size_t need;
} row_walk;

static const fe_power_rule *power_rule(const fe_result *result, size_t limit)
{
    return result->radio[limit / 2].budget.limit[limit % 2].rule;
}

static bool asks_height(const fe_result *result, size_t run, size_t needs, const char *rule)
{
    for (size_t i = 0; i < needs; i++)
        if (strcmp(result->overhead[run].needs[i].rule, rule) == 0)
            return true;
    return false;
}

static bool uses(const fe_result *result, const shown_row *row, size_t index)
{
    if (row->power)
        return power_rule(result, 2 * index) == row->power ||
               power_rule(result, 2 * index + 1) == row->power;
    if (row->height)
        return asks_height(result, index, result->overhead[index].input.need_count,
                           row->height);
    return !row->used || row->used(result, index);
}

static size_t users_of(const fe_result *result, const shown_row *row)
{
    size_t count = 0;
    for (size_t i = 0; i < count_of(result, row->of); i++)
        count += uses(result, row, i);
    return count;
}

/* date: of the source's text; null where it needs none. */
static void put_source(const char *source, const char *date, shown_row *row)
{
    if (date)
        snprintf(row->source, sizeof row->source, "%s (text: %s)", source, date);
    else
        snprintf(row->source, sizeof row->source, "%s", source);
}

static bool next_model(const fe_result *result, row_walk *at, shown_row *row)
{
    while (at->model < MODEL_COUNT) {
        const model_row *model = &MODELS[at->model++];
        *row = (shown_row){.of = model->of,
                           .name = model->name,
                           .range = model->range,
                           .known = model->known,
                           .used = model->used};
        put_source(model->source, NULL, row);
        if (users_of(result, row) > 0)
            return true;
    }
    return false;
}

static bool next_power_rule(const fe_result *result, row_walk *at, shown_row *row)
{
    while (at->limit < 2 * result->radio_count) {
        const fe_power_rule *rule = power_rule(result, at->limit);
        size_t first = 0;
        while (power_rule(result, first) != rule)
            first++;
        if (first != at->limit++ || !rule)
            continue;
        *row = (shown_row){.of = OF_RADIO,
                           .name = "how strong a radio may be",
                           .range = "the rules in force where you are decide",
                           .known = rule->read ? READ : MEMORY,
                           .power = rule};
        put_source(rule->source, rule->text_date, row);
        return true;
    }
    return false;
}

/* True where a run before this one, or this one before that need, asks the same. */
static bool asked_before(const fe_result *result, size_t run, size_t need, const char *rule)
{
    for (size_t i = 0; i < run; i++)
        if (asks_height(result, i, result->overhead[i].input.need_count, rule))
            return true;
    return asks_height(result, run, need, rule);
}

static bool next_height(const fe_result *result, row_walk *at, shown_row *row)
{
    const char *code = result->plan->posts.clearance_code;
    const fe_limits_code *text = code ? fe_limits_code_find(code) : NULL;
    const char *date = text ? text->date : "not dated here";
    for (; at->run < result->overhead_count; at->run++, at->need = 0) {
        while (at->need < result->overhead[at->run].input.need_count) {
            const size_t need = at->need++;
            const char *rule = result->overhead[at->run].needs[need].rule;
            if (asked_before(result, at->run, need, rule))
                continue;
            const bool owners = strcmp(rule, FE_LIMITS_OWN_HEIGHT) == 0;
            const bool dated = owners || strstr(rule, "edition");
            *row = (shown_row){.of = OF_POSTS,
                               .name = "heights asked",
                               .range = "the code and authority where you are decide",
                               .known = owners                     ? "given"
                                        : strstr(rule, "memory")   ? MEMORY
                                        : strstr(rule, "not read") ? PART
                                                                   : READ,
                               .height = rule};
            put_source(rule, dated ? NULL : date, row);
            return true;
        }
    }
    return false;
}

/* Rows that this result used, one after the other; false at the end. */
static bool next_row(const fe_result *result, row_walk *at, shown_row *row)
{
    return next_model(result, at, row) || next_power_rule(result, at, row) ||
           next_height(result, at, row);
}

/* ---- Printing ---- */

static void put_users(const fe_result *result, const shown_row *row, fe_strbuf *out)
{
    const size_t count = count_of(result, row->of);
    if (users_of(result, row) == count && count > 1) {
        fe_strbuf_append(out, ALL_OF[row->of]);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        if (!uses(result, row, i))
            continue;
        fe_strbuf_append(out, out->length > 0 ? "; " : "");
        put_name(result, row->of, i, out);
    }
}

void report_sources(report_writer *writer)
{
    fe_document *doc = writer->doc;
    shown_row row;
    row_walk at = {0};
    fe_document_heading(doc, 2, "Sources of the models");
    fe_document_paragraph(
        doc, "What this result was computed with, and nothing else. Read: the text or its "
             "figures were read; in part: the rest is from memory. From memory: "
             "recalled, and not held against the text. Years in brackets are from "
             "memory.");
    fe_document_table(doc, "Models used here", "model|used for|source|holds for|known");
    while (next_row(writer->result, &at, &row)) {
        fe_strbuf users = FE_STRBUF_INIT;
        put_users(writer->result, &row, &users);
        fe_document_row(doc);
        fe_document_cell(doc, "%s", row.name);
        fe_document_cell(doc, "%s", fe_strbuf_text(&users));
        fe_document_cell(doc, "%s", row.source);
        fe_document_cell(doc, "%s", row.range);
        fe_document_cell(doc, "%s", row.known);
        fe_document_free_text(doc, &users);
    }
}

json_t *report_sources_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    shown_row row;
    row_walk at = {0};
    while (next_row(result, &at, &row)) {
        json_t *object = report_json_object(json);
        json_t *users = report_json_list(json);
        for (size_t i = 0; i < count_of(result, row.of); i++) {
            fe_strbuf name = FE_STRBUF_INIT;
            if (uses(result, &row, i)) {
                put_name(result, row.of, i, &name);
                report_json_append(json, users,
                                   report_json_string(json, fe_strbuf_text(&name)));
            }
            json->failed = json->failed || name.failed;
            fe_strbuf_free(&name);
        }
        report_json_text(json, object, "model", row.name);
        report_json_set(json, object, "used_for", users);
        report_json_text(json, object, "source", row.source);
        report_json_text(json, object, "holds_for", row.range);
        report_json_text(json, object, "known", row.known);
        report_json_append(json, list, object);
    }
    return list;
}
