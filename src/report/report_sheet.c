/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outdoor sheet: what is common, radio links and relays. */
#include "farend/report_sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "farend/duct.h"
#include "farend/geodesic.h"
#include "farend/strbuf.h"
#include "report/report_sheet_parts.h"

/* ---- Shared pieces ---- */

void sheet_add_sketch(report_writer *writer, const fe_sketch_data *data)
{
    fe_figure figure = FE_FIGURE_INIT;
    report_add_figure(writer, fe_figure_sketch(data, writer->units, &figure), &figure);
}

fe_sketch_crossing *sheet_crossings(report_writer *writer, const fe_plan *plan, size_t *count)
{
    fe_sketch_crossing *crossings = calloc(plan->posts.crossing_count + 1, sizeof *crossings);
    *count = 0;
    if (!crossings)
        writer->status = FE_E_MEMORY;
    for (size_t i = 0; crossings && i < plan->posts.crossing_count && plan->path_count < 2;
         i++) {
        const fe_plan_crossing *each = &plan->posts.crossings[i];
        if (!each->beside)
            crossings[(*count)++] = (fe_sketch_crossing){each->name, each->from_m, each->to_m};
    }
    return crossings;
}

void sheet_start_readings(report_writer *writer)
{
    fe_document_table(writer->doc, "Write down what you read",
                      "what|expected>|stop and look below>|read");
    sheet_to_read(writer, "date, weather, who", "", "");
}

void sheet_to_read(report_writer *writer, const char *what, const char *expected,
                   const char *stop)
{
    fe_document_row(writer->doc);
    fe_document_cell(writer->doc, "%s", what);
    fe_document_cell(writer->doc, "%s", *expected ? expected : "-");
    fe_document_cell(writer->doc, "%s", *stop ? stop : "-");
}

static void traffic_rows(report_writer *writer, double rate_bps)
{
    sheet_to_read(writer, "rate, with both directions busy",
                  fe_amount(writer->doc, rate_bps, FE_STYLE_DATA_RATE), "");
    sheet_to_read(writer, "pings lost of 100", "0 or 1", "");
}

static bool is_dug(const fe_way *way)
{
    return way->trench_m > 0.0;
}

static void say_power(report_writer *writer, size_t path)
{
    const fe_result *result = writer->result;
    const fe_way *way = fe_result_way(result, result->picks[path].power_way);
    char needs[REPORT_TEXT_ROOM];
    if (!way)
        return;
    char depth[REPORT_TEXT_ROOM] = "";
    if (is_dug(way))
        snprintf(
            depth, sizeof depth,
            ", %s deep at least, %s of earth between it and a data cable, warning tape",
            fe_amount(writer->doc,
                      fe_burial_supply_cover(result->plan->trench.duct_m.given != FE_GIVEN_NOT),
                      FE_STYLE_DEPTH),
            fe_amount(writer->doc, FE_TRENCH_SEPARATION_M, FE_STYLE_DEPTH));
    fe_document_paragraph(
        writer->doc, "Power: %s, %s%s.%s", way->name, report_needs(writer, way, needs), depth,
        way->hazards & FE_HAZARD_MAINS ? " Mains are for a licensed electrician." : "");
}

/* ---- Radio ---- */

static const fe_profile *ground_of(const fe_result *result, size_t path)
{
    return &result->plan->paths[path].profile;
}

static double height_of_end(const fe_radio_result *radio, const fe_profile *ground, int end)
{
    return ground->height_m[end == 0 ? 0 : ground->count - 1] + radio->height_m[end];
}

static void radio_sketch(report_writer *writer, const fe_radio_result *radio)
{
    const fe_plan *plan = writer->result->plan;
    const fe_profile *ground = ground_of(writer->result, radio->path);
    fe_sketch_support supports[2];
    fe_sketch_point line[2];
    for (int end = 0; end < 2; end++) {
        const size_t at = end == 0 ? 0 : ground->count - 1;
        const double top_m = height_of_end(radio, ground, end);
        supports[end] =
            (fe_sketch_support){ground->distance_m[at], ground->height_m[at], top_m};
        line[end] = (fe_sketch_point){ground->distance_m[at], top_m};
    }
    sheet_add_sketch(writer,
                     &(fe_sketch_data){.id = "sketch",
                                       .title = "The path, seen from the side",
                                       .from_name = report_end_name(plan, radio->path, 0),
                                       .to_name = report_end_name(plan, radio->path, 1),
                                       .distance_m = ground->distance_m,
                                       .ground_m = ground->height_m,
                                       .count = ground->count,
                                       .supports = supports,
                                       .support_count = 2,
                                       .line = line,
                                       .line_count = 2});
}

/* From one end to the other, clockwise from true north; NAN where a place is not known. */
static double bearing(const fe_plan *plan, size_t path, int end)
{
    const fe_plan_path *way = &plan->paths[path];
    const fe_plan_end *from = &plan->ends[end == 0 ? way->from : way->to];
    const fe_plan_end *to = &plan->ends[end == 0 ? way->to : way->from];
    if (from->latitude_rad.given == FE_GIVEN_NOT || to->latitude_rad.given == FE_GIVEN_NOT)
        return (double)NAN;
    fe_geodesic line;
    const fe_status status = fe_geodesic_between(
        &(fe_position){from->latitude_rad.typical, from->longitude_rad.typical},
        &(fe_position){to->latitude_rad.typical, to->longitude_rad.typical}, &line);
    return status < 0 ? (double)NAN : line.azimuth_rad;
}

static const char *tilt(report_writer *writer, const fe_radio_result *radio, int end,
                        char *room, size_t size)
{
    const fe_profile *ground = ground_of(writer->result, radio->path);
    const double rise_m =
        height_of_end(radio, ground, 1 - end) - height_of_end(radio, ground, end);
    const double up_rad = atan2(rise_m, fe_profile_length(ground));
    snprintf(room, size, "%s %s",
             fe_amount_digits(writer->doc, fabs(up_rad), FE_STYLE_ANGLE, 0),
             up_rad < 0.0 ? "down" : "up");
    return room;
}

/* One block a mounting: columns would break the words of a half page. */
static void mounting(report_writer *writer, const fe_radio_result *radio, int end)
{
    const fe_plan *plan = writer->result->plan;
    fe_document *doc = writer->doc;
    const fe_radio *beam = fe_gear_radio(radio->gear[end], radio->band);
    const double bearing_rad = bearing(plan, radio->path, end);
    char room[80];
    fe_document_heading(doc, 2, "Mounting at %s", report_end_name(plan, radio->path, end));
    fe_document_pair(doc, "Gear", "%s, %s", radio->gear[end]->label,
                     report_mount(radio->mount[end]));
    fe_document_pair(doc, "Antenna", "%s above bare ground",
                     fe_amount(doc, radio->height_m[end], FE_STYLE_HEIGHT));
    fe_document_pair(doc, "Tilt", "%s", tilt(writer, radio, end, room, sizeof room));
    if (beam && !fe_beam_is_all_round(beam->beam_rad))
        fe_document_pair(doc, "Beam", "%s wide: aim within a quarter of that",
                         fe_amount_digits(doc, beam->beam_rad, FE_STYLE_ANGLE, -1));
    /* An empty pair is a box to write in: the plan does not say where the ends are. */
    fe_document_pair(
        doc, "True bearing", "%s",
        isnan(bearing_rad) ? "" : fe_amount_digits(doc, bearing_rad, FE_STYLE_ANGLE, -1));
    fe_document_pair(doc, "Landmark in line", "%s", "");
}

static void mountings(report_writer *writer, const fe_radio_result *radio)
{
    fe_document *doc = writer->doc;
    for (int end = 0; end < 2; end++)
        mounting(writer, radio, end);
    fe_document_paragraph(
        doc,
        "%s apart. Swing each antenna slowly past the best reading both ways, up and down too, "
        "and fix it in the middle: the first peak may be a side lobe.",
        fe_amount(doc, fe_profile_length(ground_of(writer->result, radio->path)),
                  FE_STYLE_DISTANCE));
}

/*
 * What a radio should read. The build loss is that of both directions: its median is what the
 * margin keeps back beyond the fade, and one build in ten loses more than "stop" allows.
 */
static void level_rows(report_writer *writer, const fe_radio_result *radio)
{
    const fe_plan *plan = writer->result->plan;
    fe_document *doc = writer->doc;
    for (size_t s = 0; s < radio->budget.season_count; s++) {
        const fe_hop_season *season = &radio->budget.seasons[s];
        const fe_direction *weaker = &season->from[season->weaker];
        const double build_db = weaker->paper_margin_db - season->fade_db - season->margin_db;
        const double spread_db = season->margin_db - season->margin_low_db;
        if (fe_path_loss_is_buried(&season->loss))
            continue;
        for (int end = 0; end < 2; end++) {
            char what[REPORT_LABEL_ROOM];
            const double level_dbm = season->from[1 - end].level_dbm - build_db;
            snprintf(what, sizeof what, "level at %s, %s",
                     report_end_name(plan, radio->path, end), plan->seasons[s].name);
            sheet_to_read(writer, what, fe_amount(doc, level_dbm, FE_STYLE_LEVEL),
                          fe_amount(doc, level_dbm - spread_db, FE_STYLE_LEVEL));
        }
    }
}

static void radio_readings(report_writer *writer, const fe_radio_result *radio)
{
    fe_document *doc = writer->doc;
    sheet_start_readings(writer);
    level_rows(writer, radio);
    traffic_rows(writer, radio->budget.delivered_rate_bps);
    sheet_to_read(writer, "noise at both ends", "", "");
    fe_document_paragraph(doc, "Levels are the row of the season on the day; one build in ten "
                               "reads below the second figure. Put the readings into the plan "
                               "and run `farend accept`.");
}

static void radio_dangers(report_writer *writer, size_t path)
{
    fe_document *doc = writer->doc;
    const fe_result *result = writer->result;
    const fe_way *power = fe_result_way(result, result->picks[path].power_way);
    fe_document_heading(doc, 2, "Dangers");
    fe_document_item(doc, "Supply lines: keep ladder, mast and antenna a full length away from "
                          "them, falling too.");
    fe_document_item(doc, "Work at height tied on, never alone, never in wind, on ice or with "
                          "thunder near.");
    fe_document_item(doc, "Nobody stands before an aimed antenna that sends; switch it off to "
                          "work there.");
    fe_document_item(doc, "A mast and its cable are tied to the building's earth by somebody "
                          "licensed; a cable between two buildings carries lightning in.");
    if (power && is_dug(power))
        fe_document_item(doc, "Call before you dig for the supply cable; nobody in a trench "
                              "deeper than the knee without props; cover it every night.");
    fe_document_item(doc, "Nothing hangs where it can fall on somebody: a second fixing on "
                          "what is heavy.");
}

/* The dangers stand before the long table: they fill the column beside it. */
static void sheet_radio(report_writer *writer, const fe_radio_result *radio)
{
    radio_sketch(writer, radio);
    mountings(writer, radio);
    radio_dangers(writer, radio->path);
    radio_readings(writer, radio);
}

/* ---- Relays ---- */

enum { MOST_SUPPORTS = FE_CHAIN_MOST_RELAYS + 2 };

/* Both ends and every relay; returns how many. */
static size_t relay_supports(const fe_relay_result *relays, const fe_way *way,
                             const fe_result *result, fe_sketch_support *supports)
{
    const fe_profile *ground = ground_of(result, relays->path);
    const fe_plan_path *path = &result->plan->paths[relays->path];
    const double *places_m = relays->places_m[way->relays];
    const size_t last = way->relays + 1;
    for (size_t i = 0; i <= last; i++) {
        const double at_m = ground->distance_m[0] + (i == last ? fe_profile_length(ground)
                                                     : i == 0  ? 0.0
                                                               : places_m[i - 1]);
        const double ground_m = fe_profile_height_at(ground, at_m);
        const fe_plan_end *end = &result->plan->ends[i == 0 ? path->from : path->to];
        const double up_m =
            i == 0 || i == last ? end->height_m.typical : relays->relay_height_m;
        supports[i] = (fe_sketch_support){at_m, ground_m, ground_m + up_m};
    }
    return last + 1;
}

static void relay_sketch(report_writer *writer, const fe_relay_result *relays,
                         const fe_way *way)
{
    const fe_plan *plan = writer->result->plan;
    const fe_profile *ground = ground_of(writer->result, relays->path);
    fe_sketch_support supports[MOST_SUPPORTS];
    fe_sketch_point line[MOST_SUPPORTS];
    const size_t count = relay_supports(relays, way, writer->result, supports);
    for (size_t i = 0; i < count; i++)
        line[i] = (fe_sketch_point){supports[i].at_m, supports[i].top_m};
    sheet_add_sketch(writer,
                     &(fe_sketch_data){.id = "sketch",
                                       .title = "The hops, seen from the side",
                                       .from_name = report_end_name(plan, relays->path, 0),
                                       .to_name = report_end_name(plan, relays->path, 1),
                                       .distance_m = ground->distance_m,
                                       .ground_m = ground->height_m,
                                       .count = ground->count,
                                       .supports = supports,
                                       .support_count = count,
                                       .support_name = "Relay",
                                       .line = line,
                                       .line_count = count});
}

static bool stands_in_trees(const fe_plan *plan, size_t path, double at_m)
{
    for (size_t i = 0; i < plan->tree_count; i++)
        if (plan->trees[i].path == path && at_m >= plan->trees[i].from_m.typical &&
            at_m <= plan->trees[i].to_m.typical)
            return true;
    return false;
}

static void relay_pegs(report_writer *writer, const fe_relay_result *relays, const fe_way *way)
{
    fe_document *doc = writer->doc;
    fe_document_paragraph(doc,
                          "Fixed mark: the foot of the wall of %s, under the antenna. Measure "
                          "level, not along the slope.",
                          report_end_name(writer->result->plan, relays->path, 0));
    fe_document_table(doc, "Relays",
                      "relay|peg at>|antenna above bare ground>|stands|power from");
    for (unsigned i = 0; i < way->relays; i++) {
        fe_document_row(doc);
        fe_document_cell(doc, "%u", i + 1);
        fe_document_cell(doc, "%s",
                         fe_amount(doc, relays->places_m[way->relays][i], FE_STYLE_DISTANCE));
        fe_document_cell(doc, "%s", fe_amount(doc, relays->relay_height_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s",
                         stands_in_trees(writer->result->plan, relays->path,
                                         relays->places_m[way->relays][i])
                             ? "among trees"
                             : "in the open");
    }
}

static void sheet_relays(report_writer *writer, const fe_relay_result *relays,
                         const fe_way *way)
{
    fe_document *doc = writer->doc;
    const fe_chain *chain = &relays->chains[way->relays];
    relay_sketch(writer, relays, way);
    relay_pegs(writer, relays, way);
    fe_document_table(doc, "Hops, from the first end",
                      "hop|margin to spare>|level read at its start|level read at its end");
    for (size_t i = 0; i < chain->hop_count; i++) {
        fe_document_row(doc);
        fe_document_cell(doc, "%zu", i + 1);
        fe_document_cell(doc, "%s",
                         fe_amount_beside(doc, chain->hop_margin_db[i], 0.0, FE_STYLE_RATIO));
    }
    fe_document_paragraph(doc,
                          "No hop longer than %s; each relay in sight of both neighbours, with "
                          "power and shelter.",
                          fe_amount(doc, chain->hop_m, FE_STYLE_DISTANCE));
    radio_dangers(writer, relays->path);
    sheet_start_readings(writer);
    traffic_rows(writer, chain->delivered_rate_bps);
}

/* ---- Data over the feed ---- */

static void sheet_feed_data(report_writer *writer, const fe_way *way)
{
    fe_document *doc = writer->doc;
    fe_document_paragraph(doc, "One adapter at each end, on conductors of the same supply; try "
                               "both before anything is fixed.");
    sheet_start_readings(writer);
    traffic_rows(writer, way->rate_bps);
    fe_document_heading(doc, 2, "Dangers");
    fe_document_item(doc, "A new circuit or socket on mains is for a licensed electrician.");
}

/* ---- The whole ---- */

static fe_document *new_sheet(const fe_plan *plan, size_t path)
{
    return report_new_document(plan, path, "sheet for the day");
}

static void say_way(report_writer *writer, const fe_way *way)
{
    char needs[REPORT_TEXT_ROOM];
    fe_document_verdict(writer->doc, fe_mark_of_verdict(way->verdict), "%s: %s.", way->name,
                        report_needs(writer, way, needs));
}

static void sheet_of_way(report_writer *writer, const fe_way *way)
{
    const fe_result *result = writer->result;
    say_way(writer, way);
    say_power(writer, way->path);
    const fe_channel_result *channel =
        report_is_cable(way) ? &result->channels[way->index] : NULL;
    if (channel && fe_result_hung(result, channel)) {
        sheet_posts(writer, fe_result_hung(result, channel));
    } else if (channel) {
        sheet_trench(writer, channel);
    } else if (way->kind == FE_WAY_RELAYS) {
        sheet_relays(writer, &result->relays[way->index], way);
    } else if (way->kind == FE_WAY_FEED_DATA) {
        sheet_feed_data(writer, way);
    } else {
        sheet_radio(writer, &result->radio[way->index]);
    }
}

static void sheet_of_none(report_writer *writer, size_t path)
{
    const int chosen = fe_result_radio_over(writer->result, path);
    fe_document_verdict(writer->doc, FE_MARK_FAILS,
                        "No way will do in every season: this sheet is for trying out, not for "
                        "building.");
    say_power(writer, path);
    if (chosen >= 0)
        sheet_radio(writer, &writer->result->radio[chosen]);
    else
        radio_dangers(writer, path);
}

/* Which path this is; nobody shall take one sheet for all of the work. */
static void say_path(report_writer *writer, size_t path)
{
    const fe_plan *plan = writer->result->plan;
    fe_strbuf others = FE_STRBUF_INIT;
    if (plan->path_count < 2)
        return;
    for (size_t i = 0; i < plan->path_count; i++)
        if (i != path)
            fe_strbuf_format(&others, "%s%s", others.length ? ", " : "", plan->paths[i].name);
    fe_document_paragraph(writer->doc,
                          "Path %s, from %s to %s. Sheets of the other paths by --path: %s.",
                          plan->paths[path].name, report_end_name(plan, path, 0),
                          report_end_name(plan, path, 1), fe_strbuf_text(&others));
    fe_document_free_text(writer->doc, &others);
}

/* A path over which nothing goes has nothing to build. */
static void sheet_of_unasked(report_writer *writer, size_t path)
{
    fe_document_verdict(writer->doc, FE_MARK_UNKNOWN,
                        "No [traffic] of the plan goes over this path: nothing to build for "
                        "data.");
    say_power(writer, path);
}

fe_status fe_sheet_of_result(const fe_result *result, size_t path, fe_gnuplot *gnuplot,
                             fe_units units, fe_document **doc)
{
    const fe_way *way = fe_result_way(result, result->picks[path].way);
    report_writer writer = {.result = result,
                            .doc = new_sheet(result->plan, path),
                            .gnuplot = gnuplot,
                            .units = units,
                            .figures = true,
                            .status = FE_OK};
    say_path(&writer, path);
    report_open_distance(writer.doc, result->plan, path);
    if (way)
        sheet_of_way(&writer, way);
    else if (result->picks[path].asked)
        sheet_of_none(&writer, path);
    else
        sheet_of_unasked(&writer, path);
    return report_finish(&writer, doc);
}

fe_status fe_sheet_of_posts(const fe_posts_result *posts, fe_gnuplot *gnuplot, fe_units units,
                            fe_document **doc)
{
    static const char *const SAYS[] = {
        [FE_LAYOUT_ON_HAND] = ".",
        [FE_LAYOUT_WOULD_DO] = ". The posts on hand do not do; these would.",
        [FE_LAYOUT_CLOSEST] = ". Nothing that was tried does: do not build this.",
    };
    report_writer writer = {.doc = new_sheet(posts->plan, posts->path),
                            .gnuplot = gnuplot,
                            .units = units,
                            .figures = true,
                            .status = FE_OK};
    fe_document_verdict(writer.doc, fe_mark_of_verdict(posts->layout_verdict),
                        "%zu post%s for %s%s", posts->route.post_count,
                        posts->route.post_count == 1 ? "" : "s", posts->cable->label,
                        SAYS[posts->layout]);
    report_open_distance(writer.doc, posts->plan, posts->path);
    sheet_posts(&writer, posts);
    return report_finish(&writer, doc);
}
