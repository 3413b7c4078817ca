/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outdoor sheet of a cable in the ground. */
#include <stdlib.h>

#include "farend/duct.h"
#include "report/report_sheet_parts.h"

static void trench_sketch(report_writer *writer, size_t path)
{
    const fe_plan *plan = writer->result->plan;
    const fe_profile *ground = &plan->paths[path].profile;
    size_t crossing_count = 0;
    fe_sketch_crossing *crossings = sheet_crossings(writer, plan, &crossing_count);
    sheet_add_sketch(writer, &(fe_sketch_data){.id = "sketch",
                                               .title = "The ground, seen from the side",
                                               .from_name = report_end_name(plan, path, 0),
                                               .to_name = report_end_name(plan, path, 1),
                                               .distance_m = ground->distance_m,
                                               .ground_m = ground->height_m,
                                               .count = ground->count,
                                               .crossings = crossings,
                                               .crossing_count = crossing_count});
    free(crossings);
}

/* Named by the plan for its trench, and what it names for posts on the same way. */
static void say_crossed(report_writer *writer)
{
    const fe_plan *plan = writer->result->plan;
    fe_document *doc = writer->doc;
    size_t count = 0;
    fe_sketch_crossing *crossings = sheet_crossings(writer, plan, &count);
    for (size_t i = 0; i < plan->trench.crossings.count; i++)
        fe_document_pair(doc, "It crosses", "%s", plan->trench.crossings.items[i]);
    for (size_t i = 0; i < count; i++)
        fe_document_pair(
            doc, "It crosses", "%s, %s along", crossings[i].name,
            fe_amount_range(doc, crossings[i].from_m, crossings[i].to_m, FE_STYLE_LENGTH));
    free(crossings);
}

static void trench_pairs(report_writer *writer, const fe_channel_result *channel)
{
    const fe_plan_trench *trench = &writer->result->plan->trench;
    fe_document *doc = writer->doc;
    fe_document_pair(doc, "Trench", "%s long from the wall of %s, drive a peg every %s",
                     fe_amount(doc, channel->route_m, FE_STYLE_LENGTH),
                     report_end_name(writer->result->plan, channel->path, 0),
                     fe_amount(doc, 20.0, FE_STYLE_LENGTH));
    if (trench->depth_m.given != FE_GIVEN_NOT)
        fe_document_pair(doc, "Depth", "%s to the cable, on sand or sifted earth",
                         fe_amount_value(doc, trench->depth_m, FE_STYLE_DEPTH));
    if (trench->duct_m.given != FE_GIVEN_NOT)
        fe_document_pair(doc, "Duct", "%s inside, a draw cord in it, ends stopped",
                         fe_amount(doc, trench->duct_m.typical, FE_STYLE_THICKNESS));
    fe_document_pair(doc, "Under a way for vehicles",
                     "%s, in a duct that goes on %s beyond it on both sides",
                     fe_amount(doc, fe_burial_vehicles_cover(), FE_STYLE_DEPTH),
                     fe_amount(doc, 0.5, FE_STYLE_DEPTH));
    fe_document_pair(doc, "Marking",
                     "warning tape half way between cable and grass, pegs or a plan that stay");
    fe_document_pair(doc, "Into the walls",
                     "through a sleeve that falls outwards, the cable hanging below it first, "
                     "sealed on the outside");
    say_crossed(writer);
    fe_document_pair(doc, "Cut",
                     "%s of %s: %s in the ground, %s up the walls, %s indoors, %s "
                     "slack; %s of cords come ready made",
                     fe_amount(doc, channel->length_m - channel->cords_m, FE_STYLE_LENGTH),
                     channel->cable->label, fe_amount(doc, channel->route_m, FE_STYLE_LENGTH),
                     fe_amount(doc, channel->drops_m, FE_STYLE_LENGTH),
                     fe_amount(doc, channel->indoor_m, FE_STYLE_LENGTH),
                     fe_amount(doc, channel->slack_m, FE_STYLE_LENGTH),
                     fe_amount(doc, channel->cords_m, FE_STYLE_LENGTH));
}

static void trench_readings(report_writer *writer, const fe_channel_result *channel)
{
    fe_document *doc = writer->doc;
    const double depth_m = writer->result->plan->trench.depth_m.low;
    const char *depth = fe_amount(doc, depth_m, FE_STYLE_DEPTH);
    sheet_start_readings(writer);
    sheet_to_read(writer, "depth at the start", depth, depth);
    sheet_to_read(writer, "depth half way", depth, depth);
    sheet_to_read(writer, "depth at the far end", depth, depth);
    sheet_to_read(writer, "length pulled in",
                  fe_amount(doc, channel->length_m - channel->cords_m, FE_STYLE_LENGTH), "");
    sheet_to_read(writer, "rate at the far end",
                  fe_amount(doc, channel->rate_bps, FE_STYLE_DATA_RATE), "");
    fe_document_heading(doc, 2, "What came up");
    fe_document_table(doc, "Pipes, stones, corners: distance from the mark and depth",
                      "no|distance|depth|what");
    for (int i = 1; i <= 6; i++) {
        fe_document_row(doc);
        fe_document_cell(doc, "%d", i);
    }
}

static void trench_dangers(fe_document *doc)
{
    fe_document_heading(doc, 2, "Dangers");
    fe_document_item(doc, "Call before you dig: pipes and cables lie where no plan shows them. "
                          "Dig by hand where one may be.");
    fe_document_item(doc, "Nobody in a trench deeper than the knee in loose or wet ground "
                          "without props; spoil a stride back from the edge.");
    fe_document_item(doc, "Cover or fence it every night, for people and animals.");
    fe_document_item(doc, "Mains in the same trench lie deeper, apart, and are for a licensed "
                          "electrician.");
}

void sheet_trench(report_writer *writer, const fe_channel_result *channel)
{
    trench_sketch(writer, channel->path);
    trench_pairs(writer, channel);
    trench_readings(writer, channel);
    trench_dangers(writer->doc);
}
