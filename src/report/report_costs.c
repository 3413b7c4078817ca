/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What ways are made of, what that costs, and what to beware of. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/report_parts.h"

/* ---- Hazards and costs of every way ---- */

static const char *hazards_of(const fe_way *way, char room[REPORT_TEXT_ROOM])
{
    size_t used = 0;
    snprintf(room, REPORT_TEXT_ROOM, "-");
    for (unsigned bit = 0; bit < FE_HAZARDS && used < REPORT_TEXT_ROOM; bit++)
        if (way->hazards & 1u << bit)
            used += (size_t)snprintf(room + used, REPORT_TEXT_ROOM - used, "%s%s",
                                     used ? ", " : "", fe_hazard_name(bit));
    return room;
}

const char *report_currency(const fe_plan *plan)
{
    return plan->prices.currency ? plan->prices.currency : "";
}

const char *report_cost(fe_document *doc, const fe_part_list *parts,
                        char room[REPORT_LABEL_ROOM])
{
    if (isnan(parts->cost))
        snprintf(room, REPORT_LABEL_ROOM, "no price");
    else
        snprintf(room, REPORT_LABEL_ROOM, "%s%s", parts->unpriced > 0 ? "at least " : "",
                 fe_amount_digits(doc, parts->cost, FE_STYLE_MONEY, -2));
    return room;
}

/* The metal line that lightning finds most often stands for all of them. */
static void strikes(report_writer *writer)
{
    const fe_result *result = writer->result;
    const fe_way *worst = NULL;
    for (size_t i = 0; i < result->way_count; i++) {
        const fe_way *way = &result->ways[i];
        if (!isnan(way->near_per_year) && (!worst || way->near_per_year > worst->near_per_year))
            worst = way;
    }
    if (worst && worst->near_per_year > 0.0)
        fe_document_paragraph(
            writer->doc,
            "Lightning, at the flashes of the plan: %s is struck once in about %s years, and "
            "feels a stroke into the ground near it about every %s. Arresters at both ends of "
            "a "
            "metal line are for the second; fibre knows neither.",
            worst->name, fe_amount(writer->doc, 1.0 / worst->struck_per_year, FE_STYLE_COUNT),
            fe_amount(writer->doc, FE_YEAR_S / worst->near_per_year, FE_STYLE_TIME));
}

void report_costs(report_writer *writer)
{
    const fe_result *result = writer->result;
    const bool priced = result->plan->prices.given;
    fe_document *doc = writer->doc;
    char columns[100] = "way|beware of";
    if (priced)
        snprintf(columns, sizeof columns, "way|beware of|%s>", report_currency(result->plan));
    fe_document_table(doc, priced ? "Hazards and costs" : "Hazards", columns);
    for (size_t i = 0; i < result->way_count; i++) {
        char room[REPORT_TEXT_ROOM];
        char cost[REPORT_LABEL_ROOM];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", result->ways[i].name);
        fe_document_cell(doc, "%s", hazards_of(&result->ways[i], room));
        if (priced)
            fe_document_cell(doc, "%s", report_cost(doc, &result->ways[i].parts, cost));
    }
    strikes(writer);
    if (priced)
        fe_document_paragraph(
            doc,
            "Costs are those of the parts for which the plan gives a price%s%s; \"at least\" "
            "where some have none, and such sums are not held against others. Work is not in "
            "them. A trench is counted in each way that needs it, and dug once.",
            result->plan->prices.date ? ", as of " : "",
            result->plan->prices.date ? result->plan->prices.date : "");
}

/* ---- JSON ---- */

json_t *report_hazards_json(report_json *json, const fe_way *way)
{
    json_t *list = report_json_list(json);
    for (unsigned bit = 0; bit < FE_HAZARDS; bit++)
        if (way->hazards & 1u << bit)
            report_json_append(json, list, report_json_string(json, fe_hazard_name(bit)));
    return list;
}

/* A size has the unit of what it is a size of. */
static void put_size(report_json *json, json_t *object, const fe_part *part)
{
    static const char *const NAMES[FE_SIZES] = {
        [FE_SIZE_NONE] = NULL,
        [FE_SIZE_INSIDE] = "inside_m",
        [FE_SIZE_WIRE] = "conductor_mm2",
        [FE_SIZE_LENGTH] = "piece_length_m",
        [FE_SIZE_PORTS] = "ports",
        [FE_SIZE_FIBRES] = "fibres",
    };
    const fe_part_size kind =
        part->kind == FE_PART_DATA_CABLE ? FE_SIZE_FIBRES : fe_part_row_of(part->kind)->size;
    if (isfinite(part->size) && NAMES[kind])
        report_json_number(json, object, NAMES[kind],
                           kind == FE_SIZE_WIRE ? 1e6 * part->size : part->size);
}

json_t *report_parts_json(report_json *json, const fe_way *way)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < way->parts.count; i++) {
        const fe_part *part = &way->parts.items[i];
        json_t *object = report_json_object(json);
        report_json_text(json, object, "name", part->name);
        report_json_text(json, object, "where", part->where);
        report_json_number(json, object, "count", part->count);
        report_json_number(json, object, "length_m", part->length_m);
        put_size(json, object, part);
        report_json_count(json, object, "owned", part->owned);
        report_json_bool(json, object, "instead", part->instead);
        report_json_number(json, object, "price", part->price);
        report_json_number(json, object, "cost", part->cost);
        report_json_append(json, list, object);
    }
    return list;
}
