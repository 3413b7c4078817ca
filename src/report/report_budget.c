/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One link from transmit power to margin, the path it takes, and the rule it falls under. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "farend/constants.h"
#include "farend/earth.h"
#include "farend/radio_link.h"
#include "report/report_parts.h"

typedef struct chosen_hop {
    const fe_radio_result *radio;
    const fe_hop_season *season; /* the worst */
    const fe_direction *way;     /* its weaker direction */
    const char *season_name;
    const char *from;
    const char *to;
} chosen_hop;

static chosen_hop choose(const fe_result *result, size_t index)
{
    const fe_radio_result *radio = &result->radio[index];
    const fe_hop_season *season = &radio->budget.seasons[radio->budget.worst];
    return (chosen_hop){
        .radio = radio,
        .season = season,
        .way = &season->from[season->weaker],
        .season_name = result->plan->seasons[radio->budget.worst].name,
        .from = report_end_name(result->plan, radio->path, season->weaker),
        .to = report_end_name(result->plan, radio->path, 1 - season->weaker),
    };
}

/* ---- Steps ---- */

static void step_row(report_writer *writer, const char *label, const char *change,
                     double level_dbm, const char *source)
{
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s", label);
    fe_document_cell(doc, "%s", change);
    fe_document_cell(
        doc, "%s", isnan(level_dbm) ? "" : fe_amount_digits(doc, level_dbm, FE_STYLE_LEVEL, 1));
    fe_document_cell(doc, "%s", source);
}

static const char *db(report_writer *writer, double change_db)
{
    return fe_amount_digits(writer->doc, change_db, FE_STYLE_RATIO, 1);
}

static void steps_table(report_writer *writer, const chosen_hop *hop)
{
    const fe_direction *way = hop->way;
    double level_dbm = way->power_dbm;
    fe_document_table(writer->doc, "Budget in steps", "step|change>|level then>|source");
    step_row(writer, "transmit power", "", level_dbm, "class figure, power rule");
    for (size_t i = 0; i < way->line_count; i++) {
        level_dbm += way->lines[i].change_db;
        step_row(writer, way->lines[i].label, db(writer, way->lines[i].change_db), level_dbm,
                 way->lines[i].source);
    }
    step_row(writer, "level needed", "", way->threshold_dbm,
             "IEEE 802.11 sensitivity, noise by class");
    step_row(writer, "margin on paper", db(writer, way->paper_margin_db), (double)NAN, "");
    step_row(writer, "kept for fading", db(writer, -hop->season->fade_db), (double)NAN,
             "Rice distribution, ITU-R P.530-18 rain");
    step_row(writer, "lost in an average build",
             db(writer, hop->season->margin_db + hop->season->fade_db - way->paper_margin_db),
             (double)NAN, "parts of the build loss; most are common practice");
    step_row(writer, "margin left", db(writer, hop->season->margin_db), (double)NAN, "");
}

static void build_row(report_writer *writer, const char *label, const char *at,
                      double middle_db, double most_db, const char *source)
{
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s%s%s", label, *at ? " at " : "", at);
    fe_document_cell(doc, "%s", db(writer, middle_db));
    fe_document_cell(doc, "%s", db(writer, most_db));
    fe_document_cell(doc, "%s", source);
}

/* Where the loss in an average build comes from, so that hands know what to take care of. */
static void build_table(report_writer *writer, const chosen_hop *hop)
{
    const fe_plan *plan = writer->result->plan;
    fe_radio_build_part parts[FE_BUILD_MOST_PARTS];
    size_t count = 0;
    const fe_status status = fe_radio_build(plan, hop->radio, parts, &count);
    if (status < 0) {
        writer->status = status;
        return;
    }
    fe_document_table(writer->doc, "What building may cost",
                      "part|middle>|one in ten above>|source");
    for (size_t i = 0; i < count; i++)
        build_row(writer, parts[i].label,
                  parts[i].end < 0 ? "" : report_end_name(plan, hop->radio->path, parts[i].end),
                  parts[i].middle_db, parts[i].most_db, parts[i].source);
    const double left_db = hop->way->paper_margin_db - hop->season->fade_db;
    build_row(writer, "all together", "", left_db - hop->season->margin_db,
              left_db - hop->season->margin_low_db, "the parts convolved");
}

/* The direction that is not shown step by step. */
static void say_other_way(report_writer *writer, const chosen_hop *hop)
{
    const fe_direction *other = &hop->season->from[1 - hop->season->weaker];
    fe_document_paragraph(writer->doc,
                          "The other way, from %s to %s, the margin left is %s.", hop->to,
                          hop->from,
                          fe_amount(writer->doc,
                                    hop->season->margin_db + other->paper_margin_db -
                                        hop->way->paper_margin_db,
                                    FE_STYLE_RATIO));
}

static void budget_figure(report_writer *writer, const chosen_hop *hop)
{
    const fe_direction *way = hop->way;
    fe_budget_step steps[FE_BUDGET_MOST_LINES + 2];
    size_t count = 0;
    for (size_t i = 0; i < way->line_count; i++)
        steps[count++] = (fe_budget_step){way->lines[i].label, way->lines[i].change_db};
    steps[count++] = (fe_budget_step){"kept for fading", -hop->season->fade_db};
    steps[count++] = (fe_budget_step){
        "average build", hop->season->margin_db + hop->season->fade_db - way->paper_margin_db};
    char title[200];
    snprintf(title, sizeof title, "Budget at %s, %s", fe_band_name(hop->radio->band),
             hop->season_name);
    fe_figure figure = FE_FIGURE_INIT;
    const fe_budget_data data = {"budget", title, way->power_dbm,
                                 steps,    count, way->threshold_dbm};
    report_add_figure(writer, fe_figure_budget(&data, writer->units, &figure), &figure);
}

static void name_gear(report_writer *writer, const chosen_hop *hop)
{
    for (int end = 0; end < 2; end++) {
        const fe_radio_result *radio = hop->radio;
        fe_document_pair(writer->doc, report_end_name(writer->result->plan, radio->path, end),
                         "%s, %s, %s above the ground", radio->gear[end]->label,
                         report_mount(radio->mount[end]),
                         fe_amount(writer->doc, radio->height_m[end], FE_STYLE_HEIGHT));
    }
}

/* What the law for streets would give: no part of the budget, only a look from aside. */
static void say_plausible(report_writer *writer, const chosen_hop *hop)
{
    const fe_plausibility *beside = &hop->radio->plausibility;
    fe_document *doc = writer->doc;
    if (!isfinite(beside->street_median_db))
        return;
    fe_document_paragraph(
        doc,
        "For comparison, not part of the sum: free space, ground and trees take %s here; among "
        "houses at this distance ITU-R P.1411 gives %s (%s)%s.",
        fe_amount(doc, beside->computed_db, FE_STYLE_RATIO),
        fe_amount(doc, beside->street_median_db, FE_STYLE_RATIO),
        fe_amount_range(doc, beside->street_low_db, beside->street_high_db, FE_STYLE_RATIO),
        beside->street_stated ? "" : ", outside the range it is stated for");
}

void report_budget(report_writer *writer, size_t radio)
{
    const chosen_hop hop = choose(writer->result, radio);
    fe_document *doc = writer->doc;
    fe_document_heading(doc, 2, "The %s link step by step", fe_band_name(hop.radio->band));
    name_gear(writer, &hop);
    if (fe_path_loss_is_buried(&hop.season->loss)) {
        fe_document_paragraph(doc, "In %s an antenna is under the snow: nothing gets through.",
                              hop.season_name);
        return;
    }
    fe_document_paragraph(doc,
                          "The worst season is %s and the weaker direction is from %s to %s. "
                          "The margin is that of %s, a step of modulation and coding (%s, %s "
                          "on the air), which carries the traffic with "
                          "most to spare; where the level allows, gear runs faster.",
                          hop.season_name, hop.from, hop.to, hop.way->mode.name,
                          hop.way->mode.modulation,
                          fe_amount(doc, hop.way->mode.rate_bps, FE_STYLE_DATA_RATE));
    steps_table(writer, &hop);
    say_other_way(writer, &hop);
    build_table(writer, &hop);
    say_plausible(writer, &hop);
    budget_figure(writer, &hop);
}

/* ---- What stands in the way ---- */

static void say_raise(report_writer *writer, const chosen_hop *hop,
                      const fe_fresnel_tightest *tight, bool standing)
{
    fe_document *doc = writer->doc;
    const fe_plan *plan = writer->result->plan;
    if (tight->cheaper_end == 0) {
        fe_document_paragraph(doc,
                              "Above the ground that is enough: %s of the first zone are "
                              "free all along, and no end has to go up for it.",
                              fe_amount(doc, FE_FRESNEL_WANTED_SHARE, FE_STYLE_PERCENT));
        return;
    }
    const bool first = tight->cheaper_end == 1;
    fe_document_paragraph(
        doc, "To free %s of the first zone above %s raise %s by %s (or both ends by %s each).",
        fe_amount(doc, FE_FRESNEL_WANTED_SHARE, FE_STYLE_PERCENT),
        standing ? "it" : "the ground",
        report_end_name(plan, hop->radio->path, first ? 0 : 1),
        fe_amount(doc, first ? tight->raise_end1_m : tight->raise_end2_m, FE_STYLE_HEIGHT),
        fe_amount(doc, tight->raise_both_m, FE_STYLE_HEIGHT));
}

/* The zone is as wide as it is high, and widest half-way. */
static void say_sides(report_writer *writer, const chosen_hop *hop, const fe_path_loss *loss)
{
    double radius_m = 0.0;
    const double half_m = loss->distance_m / 2.0;
    if (fe_fresnel_radius(1, half_m, half_m, hop->radio->f_hz, &radius_m) < 0)
        return;
    fe_document_paragraph(writer->doc,
                          "To the sides keep as much free: half-way %s to either side, clear of "
                          "walls, vehicles and trunks; trees of the plan are counted beside this.",
                          fe_amount(writer->doc, FE_FRESNEL_WANTED_SHARE * radius_m,
                                    FE_STYLE_HEIGHT));
}

/* The season that leaves least of the zone: snow under the line need not be what decides. */
static size_t tightest_season(const fe_hop_budget *budget)
{
    size_t tightest = budget->worst;
    for (size_t i = 0; i < budget->season_count; i++) {
        const fe_path_loss *loss = &budget->seasons[i].loss;
        if (loss->has_tightest && loss->tightest.clearance_ratio <
                                      budget->seasons[tightest].loss.tightest.clearance_ratio)
            tightest = i;
    }
    return tightest;
}

static void say_tightest(report_writer *writer, const chosen_hop *hop)
{
    const size_t season = tightest_season(&hop->radio->budget);
    const fe_path_loss *loss = &hop->radio->budget.seasons[season].loss;
    const fe_fresnel_tightest *tight = &loss->tightest;
    fe_document *doc = writer->doc;
    if (!loss->has_tightest)
        return;
    const char *first = report_end_name(writer->result->plan, hop->radio->path, 0);
    fe_document_paragraph(
        doc,
        "The tight place is %s from %s: in %s the line of sight passes %s %s %s, where the "
        "first "
        "Fresnel zone, the room that the wave needs around that line, has a radius of %s.",
        fe_amount(doc, tight->distance_m, FE_STYLE_DISTANCE), first,
        writer->result->plan->seasons[season].name,
        fe_amount(doc, fabs(tight->clearance_m), FE_STYLE_HEIGHT),
        tight->clearance_m < 0.0 ? "below" : "above",
        loss->tightest_standing_m > 0.0 ? "the top of what the profile shows standing there"
                                        : "what lies on the ground",
        fe_amount(doc, tight->radius_m, FE_STYLE_HEIGHT));
    say_raise(writer, hop, tight, loss->tightest_standing_m > 0.0);
    say_sides(writer, hop, loss);
}

static void say_trees(report_writer *writer, const chosen_hop *hop)
{
    const fe_path_loss *loss = &hop->season->loss;
    if (loss->trees_depth_m > 0.0)
        fe_document_paragraph(
            writer->doc, "The line of sight runs through %s of trees, which take %s in %s.",
            fe_amount(writer->doc, loss->trees_depth_m, FE_STYLE_DISTANCE),
            fe_amount(writer->doc, loss->trees_db, FE_STYLE_RATIO), hop->season_name);
}

/* Seasons in which an end sits in a null; the height that is out of it in the first. */
static void say_null(report_writer *writer, const chosen_hop *hop, int end)
{
    const fe_hop_budget *budget = &hop->radio->budget;
    fe_strbuf seasons = FE_STRBUF_INIT;
    double better_m = (double)NAN;
    for (size_t s = 0; s < budget->season_count; s++) {
        const fe_path_loss *loss = &budget->seasons[s].loss;
        if (!loss->null_height[end])
            continue;
        fe_strbuf_format(&seasons, "%s%s", seasons.length > 0 ? ", " : "",
                         writer->result->plan->seasons[s].name);
        better_m = isnan(better_m) ? loss->better_height_m[end] : better_m;
    }
    if (seasons.length > 0)
        fe_document_item(
            writer->doc,
            "The antenna at %s is at a height where the ray off the ground cancels "
            "the direct one in: %s. %s is better.",
            report_end_name(writer->result->plan, hop->radio->path, end),
            fe_strbuf_text(&seasons), fe_amount(writer->doc, better_m, FE_STYLE_HEIGHT));
    fe_document_free_text(writer->doc, &seasons);
}

static void profile_figure(report_writer *writer, const chosen_hop *hop)
{
    const fe_plan *plan = writer->result->plan;
    const fe_plan_path *path = &plan->paths[hop->radio->path];
    fe_profile_trees *trees =
        calloc(plan->tree_count + FE_RADIO_MOST_STANDING, sizeof *trees);
    if (!trees) {
        writer->status = FE_E_MEMORY;
        return;
    }
    size_t count = 0;
    for (size_t i = 0; i < plan->tree_count; i++)
        if (plan->trees[i].path == hop->radio->path)
            trees[count++] = (fe_profile_trees){
                plan->trees[i].name, plan->trees[i].from_m.typical, plan->trees[i].to_m.typical,
                plan->trees[i].height_m.typical};
    count += report_standing_trees(hop->radio, trees + count);
    const fe_profile_data data = {
        .id = "profile",
        .title = "What stands between the antennas",
        .distance_m = path->profile.distance_m,
        .ground_m = path->profile.height_m,
        .count = path->profile.count,
        .snow_m = fe_plan_deepest_snow(plan),
        .from_name = report_end_name(plan, hop->radio->path, 0),
        .to_name = report_end_name(plan, hop->radio->path, 1),
        .from_height_m = hop->radio->height_m[0],
        .to_height_m = hop->radio->height_m[1],
        .f_hz = hop->radio->f_hz,
        .earth_radius_m = FE_EARTH_RADIUS_M * 4.0 / 3.0,
        .trees = trees,
        .tree_count = count,
    };
    fe_figure figure = FE_FIGURE_INIT;
    report_add_figure(writer, fe_figure_profile(&data, writer->units, &figure), &figure);
    free(trees);
}

void report_path(report_writer *writer, size_t radio)
{
    const chosen_hop hop = choose(writer->result, radio);
    fe_document_heading(writer->doc, 2, "What stands in the way");
    if (!fe_path_loss_is_buried(&hop.season->loss)) {
        say_tightest(writer, &hop);
        report_standing(writer, hop.radio, hop.season, hop.season_name);
        say_trees(writer, &hop);
        say_null(writer, &hop, 0);
        say_null(writer, &hop, 1);
    }
    profile_figure(writer, &hop);
}

/* ---- Power rule ---- */

static bool same_rule(const fe_power_limit *a, const fe_power_limit *b)
{
    return a->rule == b->rule && a->max_conducted_dbm == b->max_conducted_dbm &&
           a->eirp_dbm == b->eirp_dbm && a->outdoor_forbidden == b->outdoor_forbidden &&
           a->radar == b->radar && a->radar_wait_s == b->radar_wait_s &&
           a->duty_cycle == b->duty_cycle;
}

static void one_rule(report_writer *writer, const char *where, const fe_power_limit *limit)
{
    fe_document *doc = writer->doc;
    fe_document_pair(doc, where,
                     "at most %s from the radio, %s with this antenna (%s; text: %s)",
                     fe_amount(doc, limit->max_conducted_dbm, FE_STYLE_LEVEL),
                     fe_amount(doc, limit->eirp_dbm, FE_STYLE_LEVEL), limit->rule->source,
                     limit->rule->text_date);
    if (limit->outdoor_forbidden)
        fe_document_caution(doc, "The rule at %s is for use indoors only.", where);
    if (limit->radar)
        fe_document_item(doc,
                         "Radar shares these channels: the gear listens for %s before it sends "
                         "and leaves a channel where it hears one.",
                         fe_amount(doc, limit->radar_wait_s, FE_STYLE_TIME));
    if (limit->duty_cycle < 1.0)
        fe_document_item(doc, "It may send for %s of an hour.",
                         fe_amount_digits(doc, limit->duty_cycle, FE_STYLE_PERCENT, 1));
}

void report_power_rules(report_writer *writer, size_t radio)
{
    const chosen_hop hop = choose(writer->result, radio);
    const fe_power_limit *limit = hop.radio->budget.limit;
    fe_document_heading(writer->doc, 3, "How strong it may be");
    if (same_rule(&limit[0], &limit[1])) {
        one_rule(writer, "both ends", &limit[0]);
        return;
    }
    for (int end = 0; end < 2; end++)
        one_rule(writer, report_end_name(writer->result->plan, hop.radio->path, end),
                 &limit[end]);
}
