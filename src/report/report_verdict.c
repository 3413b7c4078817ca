/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to build, and why. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "report/report_parts.h"

/* Others of the same use and path with at least this verdict. */
static size_t count_equals(const fe_result *result, const fe_way *chosen, fe_verdict verdict)
{
    size_t count = 0;
    for (size_t i = 0; i < result->way_count; i++) {
        const fe_way *way = &result->ways[i];
        if (way != chosen && fe_way_is_power(way->kind) == fe_way_is_power(chosen->kind) &&
            way->path == chosen->path && way->verdict <= verdict)
            count++;
    }
    return count;
}

/* Where none will do: the one that comes nearest, null where none was computed at all. */
static const fe_way *nearest(const fe_result *result, size_t path, bool power)
{
    const fe_way *best = NULL;
    for (size_t i = 0; i < result->way_count; i++) {
        const fe_way *way = &result->ways[i];
        if (fe_way_is_power(way->kind) != power || way->path != path)
            continue;
        const double least = -HUGE_VAL;
        const double margin = isnan(way->margin_db) ? least : way->margin_db;
        const double best_margin = !best || isnan(best->margin_db) ? least : best->margin_db;
        if (!best || margin > best_margin)
            best = way;
    }
    return best;
}

/* ---- Why, in two sentences ---- */

static void why_radio(report_writer *writer, const fe_way *way)
{
    const double confidence = writer->result->plan->site.confidence.typical;
    fe_document *doc = writer->doc;
    fe_document_paragraph(
        doc,
        "Why: in the worst season, %s, an average build has %s to spare, and %s of "
        "links built like this would do the job all year (asked: %s). %s",
        way->season, fe_amount_beside(doc, way->margin_db, 0.0, FE_STYLE_RATIO),
        fe_amount_beside(doc, way->chance, confidence, FE_STYLE_PERCENT),
        fe_amount(doc, confidence, FE_STYLE_PERCENT),
        way->verdict == FE_VERDICT_HOLDS
            ? (count_equals(writer->result, way, FE_VERDICT_HOLDS) > 0
                   ? "Of the ways that hold it asks for the least work."
                   : "No other way computed here holds.")
            : "No way holds outright; of those that are tight it asks for the least work.");
}

/* What a cable asks for beside the feed whose trench it lies in; false: it lies in none. */
static bool beside_feed(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    const fe_result *result = writer->result;
    const fe_pick *pick = &result->picks[way->path];
    const fe_way *power = fe_result_way(result, pick->power_way);
    char money[REPORT_LABEL_ROOM] = "";
    if (!power || !fe_way_share_trench(way, power))
        return false;
    const bool chosen = pick->way >= 0 && &result->ways[pick->way] == way;
    if (chosen && isfinite(pick->together.cost) && pick->together.unpriced == 0)
        snprintf(money, sizeof money, ", %s %s more than power alone",
                 fe_amount_digits(writer->doc, pick->together.cost - power->parts.cost,
                                  FE_STYLE_MONEY, -2),
                 report_currency(result->plan));
    snprintf(room, REPORT_TEXT_ROOM,
             "The trench is dug for power anyway, so that it asks for its cable, ends and duct "
             "alone%s.",
             money);
    return true;
}

static void why_cable(report_writer *writer, const fe_way *way)
{
    const size_t others = count_equals(writer->result, way, way->verdict);
    char limit[REPORT_TEXT_ROOM];
    char shared[REPORT_TEXT_ROOM];
    fe_document_paragraph(
        writer->doc, "Why: %s %s. %s",
        way->verdict == FE_VERDICT_HOLDS ? "it stays clear of every limit; the nearest is"
                                         : "it comes close to its limit of",
        report_limit(writer, way, limit),
        beside_feed(writer, way, shared) ? shared
        : others > 0 ? "Of the ways with this verdict it asks for the least work."
                     : "No other way computed here does as well.");
}

static void why_solar(report_writer *writer, const fe_way *way)
{
    const fe_solar_result *solar = &writer->result->solars[way->index];
    fe_document *doc = writer->doc;
    fe_document_paragraph(
        doc,
        "Why: the loads take %s a day, and a panel of %s brings that back in %s of full sun. "
        "%s",
        fe_amount(doc, solar->day_j, FE_STYLE_ENERGY),
        fe_amount(doc, solar->panel_w, FE_STYLE_POWER),
        fe_amount(doc, solar->sun_s, FE_STYLE_TIME),
        count_equals(writer->result, way, way->verdict) > 0
            ? "Of the ways of power with this verdict it asks for the least work."
            : "No other way of power does as well.");
}

static void why_feed(report_writer *writer, const fe_way *way)
{
    const fe_feed_choice *feed = &writer->result->feeds[way->index];
    fe_document *doc = writer->doc;
    fe_document_paragraph(doc,
                          "Why: %s arrive at the far end, a drop of %s where %s is allowed. %s",
                          fe_amount(doc, feed->far_v, FE_STYLE_VOLTAGE),
                          fe_amount_digits(doc, feed->drop, FE_STYLE_PERCENT, 1),
                          fe_amount(doc, feed->allowed, FE_STYLE_PERCENT),
                          count_equals(writer->result, way, way->verdict) > 0
                              ? "Of the ways of power with this verdict it asks for the "
                                "least work and metal."
                              : "No other way of power computed here does as well.");
}

/* ---- Data and power ---- */

/* "Data", "Data over shore", "Power over shore". */
static const char *choice_name(const fe_result *result, size_t choice,
                               char room[REPORT_LABEL_ROOM])
{
    const bool power = fe_result_is_power_choice(result, choice);
    const char *path = report_path_name(result->plan, fe_result_path_of_choice(result, choice));
    snprintf(room, REPORT_LABEL_ROOM, "%s%s%s", power ? "Power" : "Data", path ? " over " : "",
             path ? path : "");
    return room;
}

static void no_way(report_writer *writer, size_t choice)
{
    const fe_result *result = writer->result;
    const fe_way *best = nearest(result, fe_result_path_of_choice(result, choice),
                                 fe_result_is_power_choice(result, choice));
    char what[REPORT_LABEL_ROOM];
    choice_name(result, choice, what);
    if (!best) {
        fe_document_verdict(writer->doc, FE_MARK_FAILS, "%s: no way could be computed.", what);
        return;
    }
    fe_document_verdict(writer->doc, FE_MARK_FAILS,
                        "%s: none of the ways computed here will do in every season.", what);
    char limit[REPORT_TEXT_ROOM];
    fe_document_paragraph(writer->doc, "Nearest is %s; what limits it is %s.", best->name,
                          report_limit(writer, best, limit));
}

static void describe(report_writer *writer, const fe_way *way)
{
    fe_document *doc = writer->doc;
    char limit[REPORT_TEXT_ROOM];
    char needs[REPORT_TEXT_ROOM];
    report_limit(writer, way, limit);
    if (way->season)
        fe_document_pair(doc, "What limits it", "%s, in %s", limit, way->season);
    else
        fe_document_pair(doc, "What limits it", "%s", limit);
    fe_document_pair(doc, "What it takes", "%s", report_needs(writer, way, needs));
    if (isfinite(way->rate_bps))
        fe_document_pair(doc, "Rate to count on", "%s",
                         fe_amount(doc, way->rate_bps, FE_STYLE_DATA_RATE));
    if (isfinite(way->transfer_s))
        fe_document_pair(doc, "Time for the transfer", "%s",
                         fe_amount(doc, way->transfer_s, FE_STYLE_TIME));
}

/* ---- What comes close ---- */

enum { SEPARATES_ROOM = 900 };

FE_PRINTF(2, 3)
static void separate(char room[SEPARATES_ROOM], const char *format, ...)
{
    size_t used = strlen(room);
    if (used > 0 && used < SEPARATES_ROOM)
        used += (size_t)snprintf(room + used, SEPARATES_ROOM - used, "; ");
    va_list values;
    va_start(values, format);
    if (used < SEPARATES_ROOM)
        vsnprintf(room + used, SEPARATES_ROOM - used, format, values);
    va_end(values);
}

/* Whether both have the number and it differs as printed; the styles know one unit each. */
static bool differ(double a, double b, fe_style style, int extra_digits)
{
    return !isnan(a) && !isnan(b) &&
           !fe_amount_print_alike(style, a, b, extra_digits, FE_UNITS_METRIC);
}

/* What tells the two apart, in numbers that both have: verdict, chance, rate, work, money. */
static void put_separation(report_writer *writer, const fe_way *a, const fe_way *b,
                           char room[SEPARATES_ROOM])
{
    const double confidence = writer->result->plan->site.confidence.typical;
    fe_document *doc = writer->doc;
    room[0] = 0;
    if (a->verdict != b->verdict)
        separate(room, "%s against %s", fe_verdict_name(a->verdict),
                 fe_verdict_name(b->verdict));
    const bool chances = !isnan(a->chance) && !isnan(b->chance);
    if (chances && differ(a->chance, b->chance, FE_STYLE_PERCENT, 0))
        separate(room, "a chance of %s against %s",
                 fe_amount_beside(doc, a->chance, confidence, FE_STYLE_PERCENT),
                 fe_amount_beside(doc, b->chance, confidence, FE_STYLE_PERCENT));
    else if (!chances && differ(a->used, b->used, FE_STYLE_PERCENT, 0))
        separate(room, "%s of its limit against %s", fe_amount(doc, a->used, FE_STYLE_PERCENT),
                 fe_amount(doc, b->used, FE_STYLE_PERCENT));
    if (differ(a->rate_bps, b->rate_bps, FE_STYLE_DATA_RATE, 0))
        separate(room, "%s against %s", fe_amount(doc, a->rate_bps, FE_STYLE_DATA_RATE),
                 fe_amount(doc, b->rate_bps, FE_STYLE_DATA_RATE));
    char needs[2][REPORT_TEXT_ROOM];
    report_needs(writer, a, needs[0]);
    report_needs(writer, b, needs[1]);
    /* Amounts are marks of the document, so that equal ones differ as text; the way does not.
     */
    if (strcmp(a->needs, b->needs) != 0)
        separate(room, "the one takes %s, the other %s", needs[0], needs[1]);
    else if (a->hazards != b->hazards)
        separate(room, "the same work, but not the same hazards");
    /* Sums that lack something cannot be held against each other. */
    if (a->parts.unpriced == 0 && b->parts.unpriced == 0 &&
        differ(a->parts.cost, b->parts.cost, FE_STYLE_MONEY, -2))
        separate(room, "parts for %s against %s",
                 fe_amount_digits(doc, a->parts.cost, FE_STYLE_MONEY, -2),
                 fe_amount_digits(doc, b->parts.cost, FE_STYLE_MONEY, -2));
}

static void report_rival(report_writer *writer, const fe_way *way, int rival)
{
    char room[SEPARATES_ROOM];
    if (rival < 0)
        return;
    const fe_way *close = &writer->result->ways[rival];
    char shared[REPORT_TEXT_ROOM] = "";
    put_separation(writer, way, close, room);
    const bool beside = !fe_way_is_power(close->kind) && beside_feed(writer, close, shared);
    fe_document_pair(writer->doc, "Comes close", "%s. What separates them: %s.%s%s",
                     close->name, room[0] ? room : "none of the numbers shown here",
                     beside ? " " : "", shared);
}

static void why(report_writer *writer, const fe_way *way)
{
    if (way->kind == FE_WAY_SOLAR)
        why_solar(writer, way);
    else if (way->kind == FE_WAY_FEED)
        why_feed(writer, way);
    else if (isnan(way->margin_db))
        why_cable(writer, way);
    else
        why_radio(writer, way);
}

static void choice_verdict(report_writer *writer, size_t choice, int rival)
{
    const fe_result *result = writer->result;
    const int chosen = fe_result_choice(result, choice);
    char name[REPORT_LABEL_ROOM];
    if (chosen < 0) {
        no_way(writer, choice);
        report_overturn(writer, choice);
        return;
    }
    const fe_way *way = &result->ways[chosen];
    fe_document_verdict(writer->doc, fe_mark_of_verdict(way->verdict), "%s: %s.",
                        choice_name(result, choice, name), way->name);
    why(writer, way);
    describe(writer, way);
    report_overturn(writer, choice);
    report_rival(writer, way, rival);
    report_way_parts(writer, way);
}

/* ---- Data and power together ---- */

/* What both share, and what they cost as one purchase. */
static void report_together(report_writer *writer, size_t path)
{
    const fe_result *result = writer->result;
    const fe_pick *pick = &result->picks[path];
    fe_document *doc = writer->doc;
    char shared[REPORT_TEXT_ROOM] = "nothing is shared";
    char money[REPORT_TEXT_ROOM] = "";
    char name[REPORT_LABEL_ROOM];
    if (pick->way < 0 || pick->power_way < 0)
        return;
    if (pick->shared_m > 0.0)
        snprintf(shared, sizeof shared,
                 "one trench of %s holds both, each in a duct or a bed of its own, supply and "
                 "data 300 mm apart or more",
                 fe_amount(doc, pick->shared_m, FE_STYLE_DISTANCE));
    else if (isnan(pick->together.cost))
        return;
    if (isfinite(pick->together.cost))
        snprintf(money, sizeof money, " Parts for both cost %s %s%s.",
                 report_cost(doc, &pick->together, name), report_currency(result->plan),
                 pick->shared_m > 0.0
                     ? ", less than the two sums, since what is dug once is counted once"
                     : "");
    const char *where = report_path_name(result->plan, path);
    fe_document_paragraph(doc, "Data and power%s%s together: %s.%s", where ? " over " : "",
                          where ? where : "", shared, money);
}

void report_verdict(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document_heading(writer->doc, 2, "What to build");
    for (size_t path = 0; path < result->pick_count; path++)
        if (result->picks[path].asked)
            choice_verdict(writer, path, result->picks[path].rival);
    for (size_t path = 0; path < result->pick_count; path++)
        if (result->picks[path].power_asked)
            choice_verdict(writer, result->pick_count + path, result->picks[path].power_rival);
    for (size_t path = 0; path < result->pick_count; path++)
        report_together(writer, path);
    if (!fe_result_needs_power(result))
        fe_document_paragraph(writer->doc,
                              "Power: the plan has no [load], and does not say that the far "
                              "end is without mains, so nothing is said about power.");
}

/* ---- JSON ---- */

static json_t *chosen_json(report_json *json, const fe_result *result, int index)
{
    if (index < 0)
        return json_null();
    const fe_way *way = &result->ways[index];
    json_t *object = report_json_object(json);
    report_json_count(json, object, "way", (size_t)index);
    report_json_text(json, object, "name", way->name);
    report_json_text(json, object, "verdict", fe_verdict_name(way->verdict));
    return object;
}

json_t *report_recommended_json(report_json *json, const fe_result *result)
{
    json_t *object = report_json_object(json);
    report_json_set(json, object, "data", chosen_json(json, result, result->picks[0].way));
    report_json_set(json, object, "power",
                    chosen_json(json, result, result->picks[0].power_way));
    report_json_set(json, object, "data_close",
                    chosen_json(json, result, result->picks[0].rival));
    report_json_set(json, object, "power_close",
                    chosen_json(json, result, result->picks[0].power_rival));
    json_t *paths = report_json_list(json);
    for (size_t path = 0; path < result->pick_count; path++) {
        const fe_pick *pick = &result->picks[path];
        json_t *one = report_json_object(json);
        report_json_text(json, one, "path", result->plan->paths[path].name);
        report_json_bool(json, one, "asked", pick->asked);
        report_json_set(json, one, "data", chosen_json(json, result, pick->way));
        report_json_set(json, one, "data_close", chosen_json(json, result, pick->rival));
        report_json_bool(json, one, "power_asked", pick->power_asked);
        report_json_set(json, one, "power", chosen_json(json, result, pick->power_way));
        report_json_set(json, one, "power_close", chosen_json(json, result, pick->power_rival));
        report_json_number(json, one, "shared_trench_m", pick->shared_m);
        report_json_number(json, one, "together_cost", pick->together.cost);
        report_json_count(json, one, "together_unpriced_parts", pick->together.unpriced);
        report_json_append(json, paths, one);
    }
    report_json_set(json, object, "paths", paths);
    return object;
}
