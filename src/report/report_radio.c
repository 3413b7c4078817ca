/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every band in every season. */
#include <math.h>
#include <stdlib.h>

#include "farend/radio_link.h"
#include "report/report_parts.h"

static fe_mark season_mark(const fe_radio_result *radio, const fe_hop_season *season)
{
    return fe_mark_of_verdict(
        fe_radio_verdict(season->chance, season->margin_db, radio->wanted.confidence));
}

/* ---- Table ---- */

static void season_row(report_writer *writer, const fe_radio_result *radio, const char *label,
                       size_t index)
{
    fe_document *doc = writer->doc;
    const fe_plan *plan = writer->result->plan;
    const fe_hop_season *season = &radio->budget.seasons[index];
    fe_document_row(doc);
    fe_document_cell(doc, "%s", label);
    fe_document_cell(doc, "%s", plan->seasons[index].name);
    fe_document_cell(doc, "%s", fe_amount(doc, season->margin_low_db, FE_STYLE_RATIO));
    fe_document_cell(doc, "%s", fe_amount_beside(doc, season->margin_db, 0.0, FE_STYLE_RATIO));
    fe_document_cell(doc, "%s", fe_amount(doc, season->margin_high_db, FE_STYLE_RATIO));
    fe_document_cell(
        doc, "%s",
        fe_amount_beside(doc, season->chance, radio->wanted.confidence, FE_STYLE_PERCENT));
    if (fe_path_loss_is_buried(&season->loss))
        fe_document_cell(doc, "an antenna is under the snow");
    else
        fe_document_cell(doc, "to %s",
                         report_end_name(plan, radio->path, season->weaker == 0 ? 1 : 0));
}

static void seasons_table(report_writer *writer)
{
    const fe_result *result = writer->result;
    fe_document_table(writer->doc, "Margin by band and season",
                      "link|season|low>|middle>|high>|chance>|weaker direction");
    for (size_t i = 0; i < result->radio_count; i++) {
        char label[REPORT_LABEL_ROOM];
        report_link(result->plan, &result->radio[i], label);
        for (size_t s = 0; s < result->radio[i].budget.season_count; s++)
            season_row(writer, &result->radio[i], label, s);
    }
}

/* ---- Figure ---- */

static size_t margin_points(const fe_result *result, char (*labels)[REPORT_LABEL_ROOM],
                            fe_margin_point *points)
{
    size_t count = 0;
    for (size_t i = 0; i < result->radio_count; i++) {
        const fe_radio_result *radio = &result->radio[i];
        report_link(result->plan, radio, labels[i]);
        for (size_t s = 0; s < radio->budget.season_count; s++) {
            const fe_hop_season *season = &radio->budget.seasons[s];
            if (isfinite(season->margin_low_db) && isfinite(season->margin_high_db))
                points[count++] = (fe_margin_point){labels[i],
                                                    result->plan->seasons[s].name,
                                                    season->margin_db,
                                                    season->margin_low_db,
                                                    season->margin_high_db,
                                                    season_mark(radio, season)};
        }
    }
    return count;
}

static void margin_figure(report_writer *writer)
{
    const fe_result *result = writer->result;
    const size_t most = result->radio_count * result->plan->season_count;
    char(*labels)[REPORT_LABEL_ROOM] = calloc(result->radio_count, sizeof *labels);
    fe_margin_point *points = calloc(most, sizeof *points);
    if (labels && points) {
        fe_figure figure = FE_FIGURE_INIT;
        const fe_margin_data data = {"margin", "Margin by band and season", points,
                                     margin_points(result, labels, points)};
        report_add_figure(writer, fe_figure_margin(&data, writer->units, &figure), &figure);
    } else {
        writer->status = FE_E_MEMORY;
    }
    free(points);
    free(labels);
}

/* Which gear each link is for. */
static void list_gear(report_writer *writer)
{
    for (size_t i = 0; i < writer->result->radio_count; i++) {
        const fe_radio_result *radio = &writer->result->radio[i];
        char label[REPORT_LABEL_ROOM];
        report_link(writer->result->plan, radio, label);
        if (radio->gear[0] == radio->gear[1])
            fe_document_pair(writer->doc, label, "%s at both ends", radio->gear[0]->label);
        else
            fe_document_pair(writer->doc, label, "%s to %s", radio->gear[0]->label,
                             radio->gear[1]->label);
    }
}

void report_radio(report_writer *writer)
{
    fe_document_heading(writer->doc, 2, "Radio by band and season");
    if (writer->result->radio_count == 0) {
        fe_document_paragraph(writer->doc, "No gear of the plan has a band in common at both "
                                           "ends that the rules open there.");
        return;
    }
    fe_document_paragraph(
        writer->doc,
        "Margin is what is left above the weakest signal that carries the traffic, after "
        "fading. One build in ten comes out below the low figure and one in ten above the high "
        "one; below zero the link does not do its job.");
    list_gear(writer);
    seasons_table(writer);
    margin_figure(writer);
}

/* ---- JSON ---- */

static json_t *direction_json(report_json *json, const fe_plan *plan, size_t path, int from,
                              const fe_direction *way)
{
    json_t *object = report_json_object(json);
    json_t *steps = report_json_list(json);
    report_json_text(json, object, "from", report_end_name(plan, path, from));
    report_json_text(json, object, "to", report_end_name(plan, path, 1 - from));
    report_json_text(json, object, "mode", way->mode.name);
    report_json_text(json, object, "modulation", way->mode.modulation);
    report_json_count(json, object, "streams", way->streams);
    report_json_number(json, object, "phy_rate_mbps", way->mode.rate_bps / 1e6);
    report_json_number(json, object, "power_dbm", way->power_dbm);
    for (size_t i = 0; i < way->line_count; i++) {
        json_t *step = report_json_object(json);
        report_json_text(json, step, "step", way->lines[i].label);
        report_json_number(json, step, "change_db", way->lines[i].change_db);
        report_json_text(json, step, "source", way->lines[i].source);
        report_json_append(json, steps, step);
    }
    report_json_set(json, object, "steps", steps);
    report_json_number(json, object, "level_dbm", way->level_dbm);
    report_json_number(json, object, "threshold_dbm", way->threshold_dbm);
    report_json_number(json, object, "paper_margin_db", way->paper_margin_db);
    return object;
}

static json_t *loss_json(report_json *json, const fe_path_loss *loss)
{
    json_t *object = report_json_object(json);
    report_json_number(json, object, "distance_m", loss->distance_m);
    report_json_number(json, object, "free_space_db", loss->free_space_db);
    report_json_number(json, object, "ground_db", loss->ground_db);
    report_json_number(json, object, "standing_db", loss->standing_db);
    report_json_number(json, object, "trees_db", loss->trees_db);
    report_json_number(json, object, "trees_depth_m", loss->trees_depth_m);
    report_json_number(json, object, "walls_first_db", loss->wall_db[0]);
    report_json_number(json, object, "walls_second_db", loss->wall_db[1]);
    report_json_number(json, object, "covers_db", loss->cover_db[0] + loss->cover_db[1]);
    report_json_number(json, object, "gas_db", loss->gas_db);
    report_json_number(json, object, "total_db", loss->total_db);
    report_json_bool(json, object, "first_buried", loss->buried[0]);
    report_json_bool(json, object, "second_buried", loss->buried[1]);
    return object;
}

static json_t *tightest_json(report_json *json, const fe_path_loss *loss)
{
    if (!loss->has_tightest)
        return json_null();
    json_t *object = report_json_object(json);
    report_json_number(json, object, "at_m", loss->tightest.distance_m);
    report_json_number(json, object, "clearance_m", loss->tightest.clearance_m);
    report_json_number(json, object, "radius_m", loss->tightest.radius_m);
    report_json_number(json, object, "clearance_ratio", loss->tightest.clearance_ratio);
    report_json_number(json, object, "standing_m", loss->tightest_standing_m);
    report_json_number(json, object, "raise_first_m", loss->tightest.raise_end1_m);
    report_json_number(json, object, "raise_second_m", loss->tightest.raise_end2_m);
    report_json_number(json, object, "raise_both_m", loss->tightest.raise_both_m);
    return object;
}

static json_t *season_json(report_json *json, const fe_plan *plan, const fe_radio_result *radio,
                           size_t index)
{
    const fe_hop_season *season = &radio->budget.seasons[index];
    const bool buried = fe_path_loss_is_buried(&season->loss);
    json_t *object = report_json_object(json);
    json_t *directions = report_json_list(json);
    report_json_text(json, object, "season", plan->seasons[index].name);
    report_json_number(json, object, "margin_db", season->margin_db);
    report_json_number(json, object, "margin_low_db", season->margin_low_db);
    report_json_number(json, object, "margin_high_db", season->margin_high_db);
    report_json_number(json, object, "chance", season->chance);
    report_json_number(json, object, "fade_db", season->fade_db);
    report_json_number(json, object, "build_mean_db", season->build_mean_db);
    report_json_text(json, object, "weaker_from",
                     buried ? NULL : report_end_name(plan, radio->path, season->weaker));
    for (int from = 0; from < 2 && !buried; from++)
        report_json_append(json, directions,
                           direction_json(json, plan, radio->path, from, &season->from[from]));
    report_json_set(json, object, "directions", directions);
    report_json_set(json, object, "loss", loss_json(json, &season->loss));
    report_json_set(json, object, "tightest", tightest_json(json, &season->loss));
    return object;
}

static json_t *build_json(report_json *json, const fe_plan *plan, const fe_radio_result *radio)
{
    fe_radio_build_part parts[FE_BUILD_MOST_PARTS];
    size_t count = 0;
    json_t *list = report_json_list(json);
    if (fe_radio_build(plan, radio, parts, &count) < 0)
        json->failed = true;
    for (size_t i = 0; i < count; i++) {
        json_t *item = report_json_object(json);
        report_json_text(json, item, "part", parts[i].label);
        report_json_text(json, item, "end",
                         parts[i].end < 0 ? NULL
                                          : report_end_name(plan, radio->path, parts[i].end));
        report_json_number(json, item, "middle_db", parts[i].middle_db);
        report_json_number(json, item, "most_db", parts[i].most_db);
        report_json_text(json, item, "source", parts[i].source);
        report_json_append(json, list, item);
    }
    return list;
}

static json_t *rule_json(report_json *json, const fe_power_limit *limit)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "area", limit->rule->area);
    report_json_text(json, object, "use", limit->rule->use);
    report_json_number(json, object, "max_conducted_dbm", limit->max_conducted_dbm);
    report_json_number(json, object, "eirp_dbm", limit->eirp_dbm);
    report_json_number(json, object, "duty_cycle", limit->duty_cycle);
    report_json_bool(json, object, "outdoor_forbidden", limit->outdoor_forbidden);
    report_json_bool(json, object, "radar", limit->radar);
    report_json_text(json, object, "source", limit->rule->source);
    report_json_text(json, object, "text_date", limit->rule->text_date);
    return object;
}

static json_t *plausibility_json(report_json *json, const fe_plausibility *beside)
{
    json_t *object = report_json_object(json);
    report_json_number(json, object, "computed_db", beside->computed_db);
    report_json_text(json, object, "street", beside->street);
    report_json_number(json, object, "street_low_db", beside->street_low_db);
    report_json_number(json, object, "street_median_db", beside->street_median_db);
    report_json_number(json, object, "street_high_db", beside->street_high_db);
    report_json_bool(json, object, "street_stated", beside->street_stated);
    report_json_number(json, object, "clutter_db", beside->clutter_db);
    report_json_bool(json, object, "clutter_stated", beside->clutter_stated);
    return object;
}

static json_t *link_json(report_json *json, const fe_plan *plan, const fe_radio_result *radio)
{
    json_t *object = report_json_object(json);
    json_t *ends = report_json_list(json);
    json_t *seasons = report_json_list(json);
    report_json_text(json, object, "path", plan->paths[radio->path].name);
    report_json_text(json, object, "band", fe_band_name(radio->band));
    report_json_number(json, object, "frequency_hz", radio->f_hz);
    report_json_bool(json, object, "directional", radio->directional);
    for (int end = 0; end < 2; end++) {
        json_t *item = report_json_object(json);
        report_json_text(json, item, "end", report_end_name(plan, radio->path, end));
        report_json_text(json, item, "gear", radio->gear[end]->name);
        report_json_text(json, item, "mount", report_mount(radio->mount[end]));
        report_json_number(json, item, "height_m", radio->height_m[end]);
        report_json_set(json, item, "power_rule", rule_json(json, &radio->budget.limit[end]));
        report_json_append(json, ends, item);
    }
    report_json_set(json, object, "ends", ends);
    report_json_set(json, object, "standing", report_standing_json(json, radio));
    report_json_set(json, object, "build", build_json(json, plan, radio));
    report_json_text(json, object, "verdict", fe_verdict_name(radio->verdict));
    report_json_text(json, object, "limit", radio->limit);
    report_json_number(json, object, "limit_db", radio->limit_db);
    report_json_number(json, object, "chance", radio->budget.chance);
    report_json_bool(json, object, "carries_rate", radio->budget.carries_rate);
    report_json_number(json, object, "phy_rate_mbps", radio->budget.phy_rate_bps / 1e6);
    report_json_number(json, object, "delivered_rate_mbps",
                       radio->budget.delivered_rate_bps / 1e6);
    report_json_text(json, object, "worst_season", plan->seasons[radio->budget.worst].name);
    for (size_t s = 0; s < radio->budget.season_count; s++)
        report_json_append(json, seasons, season_json(json, plan, radio, s));
    report_json_set(json, object, "seasons", seasons);
    report_json_set(json, object, "plausibility",
                    plausibility_json(json, &radio->plausibility));
    return object;
}

json_t *report_radio_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->radio_count; i++)
        report_json_append(json, list, link_json(json, result->plan, &result->radio[i]));
    return list;
}
