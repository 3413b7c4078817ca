/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What paths carry in sum, and what to make larger now. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/strbuf.h"
#include "report/report_parts.h"

static const struct {
    const char *name;
    fe_style style;
} SIZES[FE_OVERSIZES] = {
    [FE_OVERSIZE_DUCT] = {"duct, inner diameter", FE_STYLE_THICKNESS},
    [FE_OVERSIZE_DUCTS] = {"ducts in the trench", FE_STYLE_COUNT},
    [FE_OVERSIZE_CONDUCTOR] = {"conductor of the feed", FE_STYLE_WIRE},
    [FE_OVERSIZE_PORTS] = {"wired ports out there", FE_STYLE_COUNT},
    [FE_OVERSIZE_FIBRES] = {"fibres in the cable", FE_STYLE_COUNT},
    [FE_OVERSIZE_POST] = {"longest post", FE_STYLE_LENGTH},
};

/* A size that what is needed, what the plan says or what is bought comes up to is no advice. */
static bool is_larger(const fe_oversize *item)
{
    return item->better > item->needed && !(item->better <= item->planned);
}

/* What it costs, or which price would tell. */
static void put_more(fe_document *doc, const fe_oversize *item)
{
    if (isfinite(item->more_cost))
        fe_document_cell(doc, "%s", fe_amount_digits(doc, item->more_cost, FE_STYLE_MONEY, -2));
    else
        fe_document_cell(doc, "no price: %s", item->missing);
}

/* Each of the keys once, although paths may want the same. */
static void say_missing(report_writer *writer, const fe_growth *growth)
{
    fe_strbuf keys = FE_STRBUF_INIT;
    for (size_t i = 0; i < growth->item_count; i++) {
        const char *missing = growth->items[i].missing;
        if (!*missing || !is_larger(&growth->items[i]) ||
            (keys.length && strstr(fe_strbuf_text(&keys), missing)))
            continue;
        fe_strbuf_format(&keys, "%s%s", keys.length ? ", " : "", missing);
    }
    if (keys.length)
        fe_document_paragraph(writer->doc,
                              "What this costs follows where the plan gives prices by size, as "
                              "keys of [prices]: %s.",
                              fe_strbuf_text(&keys));
    fe_document_free_text(writer->doc, &keys);
}

static void item_row(report_writer *writer, const fe_oversize *item)
{
    char path[REPORT_PREFIX_ROOM];
    const fe_style style = SIZES[item->kind].style;
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s%s", report_path_prefix(writer->result->plan, item->path, path),
                     SIZES[item->kind].name);
    fe_document_cell(doc, "%s", fe_amount(doc, item->needed, style));
    fe_document_cell(doc, "%s", fe_amount(doc, item->better, style));
    fe_document_cell(doc, "%s", fe_amount(doc, item->planned, style));
    fe_document_cell(doc, "%s%s", item->why, item->asked ? " (asked by the plan)" : "");
    if (writer->result->plan->prices.given)
        put_more(doc, item);
}

static void stretch_row(report_writer *writer, const fe_stretch *stretch)
{
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s", writer->result->plan->paths[stretch->path].name);
    fe_document_cell(doc, "%zu", stretch->ends_beyond);
    fe_document_cell(doc, "%zu, %zu of it for others beyond", stretch->traffic.traffic_count,
                     stretch->traffic.through_count);
    fe_document_cell(
        doc, "%s",
        fe_amount(doc, fe_path_traffic_rate(&stretch->traffic, 0), FE_STYLE_DATA_RATE));
    fe_document_cell(
        doc, "%s",
        fe_amount(doc, fe_path_traffic_rate(&stretch->traffic, 1), FE_STYLE_DATA_RATE));
    fe_document_cell(doc, "%s", fe_amount(doc, stretch->load_w, FE_STYLE_POWER));
}

static void stretches(report_writer *writer, const fe_growth *growth)
{
    if (growth->stretch_count < 2)
        return;
    fe_document_table(writer->doc, "What each path carries in sum",
                      "path|ends beyond>|traffics|outwards>|homewards>|power>");
    for (size_t i = 0; i < growth->stretch_count; i++)
        stretch_row(writer, &growth->stretches[i]);
}

void report_growth(report_writer *writer)
{
    const fe_outlook *outlook = writer->result->outlook;
    const fe_plan *plan = writer->result->plan;
    fe_document *doc = writer->doc;
    if (!outlook)
        return;
    fe_document_heading(doc, 2, "Room to grow");
    const double rate = plan->spare.rate.typical;
    const double power = plan->spare.power.typical;
    char asked[REPORT_LABEL_ROOM] = "no more data or power than today";
    if (rate > 0.0 && power > 0.0)
        snprintf(asked, sizeof asked,
                 "%s more data and %s more power than today; rates and conductors above have "
                 "both counted in",
                 fe_amount(doc, rate, FE_STYLE_PERCENT),
                 fe_amount(doc, power, FE_STYLE_PERCENT));
    else if (rate > 0.0)
        snprintf(asked, sizeof asked, "%s more data than today; rates above have it counted in",
                 fe_amount(doc, rate, FE_STYLE_PERCENT));
    else if (power > 0.0)
        snprintf(asked, sizeof asked,
                 "%s more power than today; conductors above have it counted in",
                 fe_amount(doc, power, FE_STYLE_PERCENT));
    fe_document_paragraph(doc,
                          "The plan asks for %s. What is larger now costs its own price; later "
                          "it costs the digging again.",
                          asked);
    stretches(writer, &outlook->growth);
    char columns[100] = "thing|today>|better>|planned>|why";
    if (plan->prices.given)
        snprintf(columns, sizeof columns, "thing|today>|better>|planned>|why|more %.40s>",
                 plan->prices.currency ? plan->prices.currency : "to pay");
    fe_document_table(doc, "What to make larger now", columns);
    for (size_t i = 0; i < outlook->growth.item_count; i++)
        if (is_larger(&outlook->growth.items[i]))
            item_row(writer, &outlook->growth.items[i]);
    if (!plan->prices.given)
        say_missing(writer, &outlook->growth);
}

/* ---- JSON ---- */

json_t *report_growth_json(report_json *json, const fe_result *result)
{
    if (!result->outlook)
        return json_null();
    const fe_growth *growth = &result->outlook->growth;
    json_t *object = report_json_object(json);
    json_t *paths = report_json_list(json);
    json_t *items = report_json_list(json);
    for (size_t i = 0; i < growth->stretch_count; i++) {
        const fe_stretch *stretch = &growth->stretches[i];
        json_t *path = report_json_object(json);
        report_json_text(json, path, "path", result->plan->paths[stretch->path].name);
        report_json_count(json, path, "ends_beyond", stretch->ends_beyond);
        report_json_number(json, path, "outwards_bps",
                           fe_path_traffic_rate(&stretch->traffic, 0));
        report_json_number(json, path, "homewards_bps",
                           fe_path_traffic_rate(&stretch->traffic, 1));
        report_json_number(json, path, "load_w", stretch->load_w);
        report_json_append(json, paths, path);
    }
    for (size_t i = 0; i < growth->item_count; i++) {
        const fe_oversize *item = &growth->items[i];
        json_t *one = report_json_object(json);
        report_json_text(json, one, "thing", SIZES[item->kind].name);
        report_json_text(json, one, "path", result->plan->paths[item->path].name);
        report_json_number(json, one, "needed", item->needed);
        report_json_number(json, one, "better", item->better);
        report_json_number(json, one, "planned", item->planned);
        report_json_bool(json, one, "asked", item->asked);
        report_json_number(json, one, "price_needed", item->price[0]);
        report_json_number(json, one, "price_better", item->price[1]);
        report_json_number(json, one, "pieces", item->pieces);
        report_json_number(json, one, "length_m", item->length_m);
        report_json_number(json, one, "more_cost", item->more_cost);
        report_json_text(json, one, "missing_prices", *item->missing ? item->missing : NULL);
        report_json_text(json, one, "why", item->why);
        report_json_append(json, items, one);
    }
    report_json_set(json, object, "paths", paths);
    report_json_set(json, object, "larger", items);
    return object;
}
