/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Data cables by their real length, against the limit of what runs over them. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "farend/report_copper.h"
#include "farend/report_posts.h"
#include "report/report_parts.h"

enum { NAME_ROOM = 100 };

static const char *cable_name(const fe_channel_result *channel, char room[NAME_ROOM])
{
    snprintf(room, NAME_ROOM, "%s %s", channel->cable->label,
             channel->overhead ? "on posts" : "in the ground");
    return room;
}

static void length_rows(fe_document *doc, const fe_result *result)
{
    char name[NAME_ROOM];
    fe_document_table(doc, "Cable lengths",
                      "cable|outside>|inside>|slack>|in all>|limit>|verdict");
    for (size_t i = 0; i < result->channel_count; i++) {
        const fe_channel_result *channel = &result->channels[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", cable_name(channel, name));
        fe_document_cell(
            doc, "%s", fe_amount(doc, channel->route_m + channel->drops_m, FE_STYLE_DISTANCE));
        fe_document_cell(
            doc, "%s", fe_amount(doc, channel->indoor_m + channel->cords_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount(doc, channel->slack_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount(doc, channel->length_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount(doc, channel->limit_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_mark_of(doc, fe_mark_of_verdict(channel->verdict)));
    }
    fe_document_paragraph(doc,
                          "A cable follows the ground or the wire it hangs on, goes down at "
                          "both ends, and runs on indoors: the limit counts all of it. The "
                          "limit of a copper cable is shorter with long cords and in heat.");
}

static void rate_rows(fe_document *doc, const fe_result *result)
{
    char name[NAME_ROOM];
    fe_document_table(doc, "Rate, loss and power over each cable",
                      "cable|runs|loss>|loss allowed>|power out there>|asked>");
    for (size_t i = 0; i < result->channel_count; i++) {
        const fe_channel_result *channel = &result->channels[i];
        const int best = channel->has_answer ? fe_channel_best(&channel->answer) : -1;
        const bool power = channel->has_answer && channel->answer.has_power;
        const fe_channel_rate *rate = best < 0 ? NULL : &channel->answer.rates[best];
        const double none = (double)NAN;
        fe_document_row(doc);
        fe_document_cell(doc, "%s", cable_name(channel, name));
        fe_document_cell(doc, "%s", channel->application);
        fe_document_cell(doc, "%s",
                         fe_amount_digits(doc,
                                          channel->fibre ? channel->link.loss_db
                                          : rate         ? rate->loss_db
                                                         : none,
                                          FE_STYLE_RATIO, 1));
        fe_document_cell(doc, "%s",
                         fe_amount_digits(doc,
                                          channel->fibre ? channel->link.budget_db
                                          : rate         ? rate->loss_limit_db
                                                         : none,
                                          FE_STYLE_RATIO, 1));
        fe_document_cell(
            doc, "%s",
            fe_amount(doc, power ? channel->answer.power.device_w : none, FE_STYLE_POWER));
        fe_document_cell(
            doc, "%s",
            fe_amount(doc, channel->poe.need.power_w > 0.0 ? channel->poe.need.power_w : none,
                      FE_STYLE_POWER));
    }
}

fe_status fe_report_cables_reach(const fe_result *result, fe_units units, fe_figure *figure)
{
    fe_reach_row *rows = calloc(result->channel_count + 1, sizeof *rows);
    char(*names)[NAME_ROOM] = calloc(result->channel_count + 1, sizeof *names);
    fe_status status = rows && names ? FE_OK : FE_E_MEMORY;
    for (size_t i = 0; i < result->channel_count && status == FE_OK; i++) {
        const fe_channel_result *channel = &result->channels[i];
        snprintf(names[i], NAME_ROOM, "%s, %s", channel->overhead ? "posts" : "ground",
                 channel->cable->label);
        rows[i] = (fe_reach_row){names[i], channel->length_m, channel->limit_m,
                                 fe_mark_of_verdict(channel->verdict)};
    }
    if (status == FE_OK)
        status = fe_figure_reach(&(fe_reach_data){"reach", "Cable lengths against limits", rows,
                                                  result->channel_count},
                                 units, figure);
    free(rows);
    free(names);
    return status;
}

/* What is drawn through the trench's duct: the cable that does, else the last. */
static const fe_cable_class *buried_cable(const fe_result *result)
{
    const fe_cable_class *cable = NULL;
    for (size_t i = 0; i < result->channel_count; i++) {
        const fe_channel_result *channel = &result->channels[i];
        if (channel->overhead)
            continue;
        cable = channel->cable;
        if (channel->verdict != FE_VERDICT_FAILS)
            break;
    }
    return cable;
}

static bool is_recommended(const fe_result *result, size_t channel)
{
    for (size_t path = 0; path < result->pick_count; path++) {
        const fe_way *way = fe_result_way(result, result->picks[path].way);
        if (way && report_is_cable(way) && way->index == channel)
            return true;
    }
    return false;
}

void report_cables(report_writer *writer)
{
    const fe_result *result = writer->result;
    if (result->channel_count == 0)
        return;
    fe_figure figure = FE_FIGURE_INIT;
    fe_document_heading(writer->doc, 2, "Cable lengths against limits");
    length_rows(writer->doc, result);
    report_add_figure(writer, fe_report_cables_reach(result, writer->units, &figure), &figure);
    rate_rows(writer->doc, result);
    /* The list of what is recommended stands with the recommendation. */
    for (size_t i = 0; i < result->channel_count; i++)
        if (!is_recommended(result, i))
            report_buy_cable(writer->doc, result, &result->channels[i]);
    report_trench(writer->doc, result->plan, buried_cable(result), result->feed_count > 0);
}

/* ---- Cables alone ---- */

static void say_need(fe_document *doc, const fe_channel_result *channel)
{
    const fe_poe_result *poe = &channel->poe;
    const char *mark = fe_mark_of(doc, fe_mark_of_verdict(poe->verdict));
    if (!(poe->need.power_w > 0.0))
        return;
    if (poe->need.mains)
        fe_document_paragraph(doc,
                              "Power over the pairs: %s. A load there accepts nothing below "
                              "%s; it needs a feed of its own.",
                              mark, fe_amount(doc, FE_SUPPLY_MAINS_FROM_V, FE_STYLE_VOLTAGE));
    else
        fe_document_paragraph(doc,
                              "Power over the pairs: %s. The far end takes %s, converters and "
                              "spare power included; what limits it: %s.",
                              mark, fe_amount(doc, poe->need.power_w, FE_STYLE_POWER),
                              poe->limit);
}

/* Every application that the table has for a kind of fibre. */
static void fibre_rows(fe_document *doc, const fe_channel_result *channel)
{
    fe_fibre kind = FE_FIBRE_OS2;
    if (!fe_fibre_named(channel->cable->category, &kind))
        return;
    fe_document_table(doc, "What this fibre can carry",
                      "optics|rate|reach>|loss>|loss allowed>|verdict");
    for (size_t i = 0; fe_fibre_reach_at(i); i++) {
        const fe_fibre_reach *reach = fe_fibre_reach_at(i);
        fe_fibre_link link;
        if (!(reach->kinds & (unsigned)kind))
            continue;
        if (!fe_document_takes(doc, fe_fibre_link_try(reach, kind, channel->length_m,
                                                      channel->fibre_plugs,
                                                      channel->fibre_splices, &link)))
            return;
        fe_document_row(doc);
        fe_document_cell(doc, "%s", reach->application);
        fe_document_cell(doc, "%s", fe_amount(doc, reach->rate_bit_s, FE_STYLE_DATA_RATE));
        fe_document_cell(doc, "%s", fe_amount(doc, reach->reach_m, FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount_digits(doc, link.loss_db, FE_STYLE_RATIO, 1));
        fe_document_cell(doc, "%s", fe_amount_digits(doc, link.budget_db, FE_STYLE_RATIO, 1));
        fe_document_cell(
            doc, "%s", fe_mark_of(doc, fe_mark_of_verdict(fe_verdict_of_use(link.used, 1.0))));
    }
}

static void say_cable(fe_document *doc, const fe_result *result,
                      const fe_channel_result *channel)
{
    char name[NAME_ROOM];
    const fe_posts_result *hung = fe_result_hung(result, channel);
    fe_document_heading(doc, 2, "%s", cable_name(channel, name));
    fe_document_pair(doc, "From port to port", "%s",
                     fe_amount(doc, channel->length_m, FE_STYLE_LENGTH));
    fe_document_pair(doc, "Of it", "%s outside, %s indoors, %s of cords, %s of slack",
                     fe_amount(doc, channel->route_m + channel->drops_m, FE_STYLE_LENGTH),
                     fe_amount(doc, channel->indoor_m, FE_STYLE_LENGTH),
                     fe_amount(doc, channel->cords_m, FE_STYLE_LENGTH),
                     fe_amount(doc, channel->slack_m, FE_STYLE_LENGTH));
    if (isfinite(channel->cable->bend_radius_m))
        fe_document_pair(doc, "Bend no tighter than", "%s",
                         fe_amount(doc, channel->cable->bend_radius_m, FE_STYLE_THICKNESS));
    if (hung)
        report_hung_run(doc, result->plan, hung);
    if (channel->fibre) {
        fibre_rows(doc, channel);
        return;
    }
    fe_document_pair(doc, "Hottest", "%s",
                     fe_amount(doc, channel->temp_c, FE_STYLE_TEMPERATURE));
    if (!channel->has_answer)
        return;
    report_channel_rates(doc, &channel->answer);
    say_need(doc, channel);
    if (channel->answer.has_power)
        report_channel_power(doc, &channel->given, &channel->answer.power,
                             channel->cable->diameter_m);
}

/* Of the length and of the run it hangs on together. */
static void verdict_line(fe_document *doc, const fe_result *result,
                         const fe_channel_result *channel)
{
    char name[NAME_ROOM];
    fe_strbuf text = FE_STRBUF_INIT;
    const fe_posts_result *hung = fe_result_hung(result, channel);
    const bool posts = hung && hung->verdict > channel->verdict;
    fe_document_verdict(
        doc, fe_mark_of_verdict(posts ? hung->verdict : channel->verdict),
        "%s: %s for %s, the limit is %s%s%s.", cable_name(channel, name),
        fe_amount(doc, channel->length_m, FE_STYLE_LENGTH), channel->application,
        fe_amount(doc, channel->limit_m, FE_STYLE_DISTANCE), posts ? "; on its posts, " : "",
        posts ? fe_report_posts_use(hung, fe_posts_reason(hung), doc, &text) : "");
    fe_document_free_text(doc, &text);
}

static void say_beyond(fe_document *doc, const fe_result *result)
{
    char name[NAME_ROOM], caption[NAME_ROOM + 40];
    bool any = false;
    for (size_t i = 0; i < result->channel_count; i++) {
        const fe_channel_result *channel = &result->channels[i];
        if (!channel->has_answer || !channel->answer.is_beyond)
            continue;
        if (!any)
            fe_document_heading(doc, 2, "Longer than the limit");
        any = true;
        snprintf(caption, sizeof caption, "Ways past the limit of %s",
                 cable_name(channel, name));
        report_beyond_ways(doc, &channel->answer, caption);
    }
    if (any)
        report_beyond_notes(doc);
}

void fe_report_cables(fe_document *doc, const fe_result *result)
{
    const fe_channel_result *metal = NULL;
    for (size_t i = 0; i < result->channel_count; i++) {
        const fe_channel_result *channel = &result->channels[i];
        verdict_line(doc, result, channel);
        if (channel->cable->metallic && (!metal || channel->length_m > metal->length_m))
            metal = channel;
    }
    for (size_t i = 0; i < result->channel_count; i++) {
        say_cable(doc, result, &result->channels[i]);
        report_buy_cable(doc, result, &result->channels[i]);
    }
    report_trench(doc, result->plan, buried_cable(result), result->plan->feed.given);
    say_beyond(doc, result);
    fe_document_heading(doc, 2, "Between two buildings");
    if (metal)
        report_lightning(
            doc, metal->length_m,
            &(fe_copper_place){result->plan->site.flash_density, !metal->overhead});
    else
        fe_document_paragraph(doc, "Fibre without metal joins no two earths: no arresters and "
                                   "no bonding for it.");
    fe_document_heading(doc, 2, "Cautions");
    report_copper_notes(doc);
}

/* ---- JSON ---- */

static void put_fibre(report_json *json, json_t *object, const fe_channel_result *channel)
{
    report_json_number(json, object, "loss_db", channel->link.loss_db);
    report_json_number(json, object, "loss_limit_db", channel->link.budget_db);
}

/* The word on power is that of the way of power, which knows what the far end takes. */
static void put_need(report_json *json, json_t *object, const fe_poe_result *poe)
{
    const bool asked = poe->need.power_w > 0.0;
    report_json_number(json, object, "poe_need_w", asked ? poe->need.power_w : 0.0);
    if (asked)
        report_json_text(json, object, "poe_verdict", fe_verdict_name(poe->verdict));
    report_json_text(json, object, "poe_limit", asked ? poe->limit : NULL);
}

static json_t *channel_json(report_json *json, const fe_result *result,
                            const fe_channel_result *channel)
{
    const fe_plan *plan = result->plan;
    const fe_posts_result *hung = fe_result_hung(result, channel);
    json_t *object = report_json_object(json);
    report_json_text(json, object, "path", plan->paths[channel->path].name);
    report_json_text(json, object, "cable", channel->cable->name);
    report_json_bool(json, object, "overhead", channel->overhead);
    report_json_bool(json, object, "fibre", channel->fibre);
    report_json_text(json, object, "application", channel->application);
    report_json_number(json, object, "route_m", channel->route_m);
    report_json_number(json, object, "drops_m", channel->drops_m);
    report_json_number(json, object, "indoor_m", channel->indoor_m);
    report_json_number(json, object, "cords_m", channel->cords_m);
    report_json_number(json, object, "slack_m", channel->slack_m);
    report_json_number(json, object, "channel_length_m", channel->length_m);
    report_json_number(json, object, "limit_m", channel->limit_m);
    report_json_number(json, object, "rate_mbps", channel->rate_bps / 1e6);
    report_json_number(json, object, "temp_c", channel->temp_c);
    report_json_text(json, object, "verdict", fe_verdict_name(channel->verdict));
    if (channel->has_answer) {
        report_channel_answer_json(json, object, &channel->answer);
        put_need(json, object, &channel->poe);
    } else {
        report_json_set(json, object, "poe_power_w", json_null());
    }
    if (channel->fibre)
        put_fibre(json, object, channel);
    if (hung)
        report_json_set(json, object, "run", report_hung_run_json(json, plan, hung));
    return object;
}

json_t *report_cables_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->channel_count; i++)
        report_json_append(json, list, channel_json(json, result, &result->channels[i]));
    return list;
}

fe_status fe_report_cables_json(const fe_result *result, fe_strbuf *out)
{
    report_json json = {false};
    return report_json_write(&json, report_cables_json(&json, result), out);
}
