/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet to build a run on posts from: setting out, posts, stays, holes, what to buy. */
#include "farend/report_posts.h"

#include <math.h>
#include <stdio.h>

#include "farend/constants.h"
#include "report/report_posts_parts.h"

/* ---- Setting out ---- */

static void write_mark(const fe_posts_result *r, int level, fe_document *doc)
{
    fe_document_heading(doc, level, "Setting out");
    fe_document_paragraph(
        doc,
        "Fixed mark: a nail in the wall of %s, right under the place where the cable is tied. "
        "Measure level, not along the slope, from it towards %s; drive a peg at each distance "
        "of the table and sight the pegs into one line%s.",
        report_posts_end(r, false), report_posts_end(r, true),
        r->plan->posts.corner_count ? " from corner to corner" : "");
    fe_document_pair(doc, "Attachment", "%s, %s above the ground there",
                     report_posts_end(r, false),
                     fe_amount(doc, r->input.start_attachment_m, FE_STYLE_HEIGHT));
    fe_document_pair(doc, "Far attachment", "%s, %s above the ground, %s from the mark",
                     report_posts_end(r, true),
                     fe_amount(doc, r->input.end_attachment_m, FE_STYLE_HEIGHT),
                     fe_amount(doc, fe_profile_length(r->input.run.ground), FE_STYLE_LENGTH));
}

void fe_report_posts_layout(const fe_posts_result *r, fe_document *doc)
{
    fe_document_table(
        doc, "Posts, in order from the fixed mark",
        "post|peg at>|post length>|hole depth>|cable tied above bare ground>|stay");
    for (size_t i = 0; i < r->route.post_count; i++) {
        const fe_posts_kind *kind = report_post_kind(r, i);
        const fe_route_place *place = &r->places[r->route.places[i]];
        fe_document_row(doc);
        fe_document_cell(doc, "%zu", i + 1);
        fe_document_cell(doc, "%s", fe_amount(doc, place->at_m, FE_STYLE_LENGTH));
        fe_document_cell(doc, "%s", fe_amount_digits(doc, kind->length_m, FE_STYLE_LENGTH, 1));
        fe_document_cell(doc, "%s", fe_amount(doc, kind->depth_m, FE_STYLE_DEPTH));
        fe_document_cell(doc, "%s", fe_amount(doc, kind->attachment_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s",
                         !kind->stayed ? "none"
                                       : (place->turn_rad > 0.0 ? "one, outside of "
                                                                  "the corner"
                                                                : "two, along the "
                                                                  "line both ways"));
    }
    if (r->route.post_count == 0)
        fe_document_paragraph(doc, "No posts: one span from wall to wall.");
}

static void write_pegs(const fe_posts_result *r, size_t post, double lead_m, fe_document *doc)
{
    const fe_route_place *place = &r->places[r->route.places[post]];
    if (place->turn_rad > 0.0)
        fe_document_item(doc,
                         "Post %zu: anchor peg %s from the post, outwards, halving the "
                         "corner.",
                         post + 1, fe_amount(doc, lead_m, FE_STYLE_HEIGHT));
    else
        fe_document_item(doc, "Post %zu: anchor pegs in the line at %s and %s from the mark.",
                         post + 1,
                         fe_amount_digits(doc, place->at_m - lead_m, FE_STYLE_LENGTH, 1),
                         fe_amount_digits(doc, place->at_m + lead_m, FE_STYLE_LENGTH, 1));
}

static void write_anchor(size_t post, const fe_posts_hold *hold, fe_document *doc)
{
    fe_strbuf text = FE_STRBUF_INIT;
    report_anchor(doc, hold, &text);
    fe_document_item(doc,
                     "Post %zu, foot of each stay: %s, set in line with the stay, its plate at "
                     "least %s down and below the frost. Twice the pull takes %s of it.",
                     post + 1, fe_strbuf_text(&text),
                     fe_amount(doc, REPORT_PLATE_DEPTH_M, FE_STYLE_DEPTH),
                     fe_amount(doc, hold->use, FE_STYLE_PERCENT));
    if (isfinite(hold->log_depth_m))
        fe_document_item(
            doc,
            "Post %zu, or in its place: a piece of post %s long, its middle %s down, across "
            "the pull, the rod through it in a slot along the stay. Tamp the fill.",
            post + 1, fe_amount(doc, FE_POSTS_LOG_M, FE_STYLE_HEIGHT),
            fe_amount(doc, hold->log_depth_m, FE_STYLE_DEPTH));
    fe_document_free_text(doc, &text);
}

static void write_stays(const fe_posts_result *r, fe_document *doc)
{
    bool any = false;
    for (size_t i = 0; i < r->route.post_count; i++) {
        fe_posts_hold hold;
        if (fe_posts_hold_of(r, i, &hold) != FE_OK)
            continue;
        any = true;
        write_pegs(r, i, hold.lead_m, doc);
        fe_document_item(
            doc,
            "Post %zu: stay at %s to the ground, %s of strand with its ends. It pulls up to %s "
            "%s: strand %s%s and fittings that break at twice as much. Guard it where people "
            "or animals pass.",
            i + 1, fe_amount(doc, hold.stay.angle_rad, FE_STYLE_ANGLE),
            fe_amount(doc, hold.stay.length_m + REPORT_STAY_ENDS_M, FE_STYLE_LENGTH),
            fe_amount(doc, hold.stay.tension_n, FE_STYLE_FORCE),
            hold.lines > 1 ? "when a span beside it breaks" : "with wind from outside",
            hold.strand ? hold.strand->size_in : "stronger than any of the table",
            hold.strand ? " in high strength" : "");
        write_anchor(i, &hold, doc);
    }
    if (any)
        fe_document_item(doc, "An anchor's class holds in firm ground. In peat, fill or ground "
                              "under water none of this does: ask somebody who sets anchors.");
    else if (r->route.post_count > 0)
        fe_document_item(doc, "No post is stayed: there are no anchors to set. The two walls "
                              "take the whole pull of the cable.");
}

const char *report_corner_side(const fe_posts_result *r, double at_m)
{
    const fe_plan_posts *posts = &r->plan->posts;
    for (size_t i = 0; i < posts->corner_count; i++)
        if (posts->corners[i].at_m == at_m && posts->corners[i].side)
            return posts->corners[i].side[0] == 'l' ? " to the left" : " to the right";
    return "";
}

static void write_corners(const fe_posts_result *r, fe_document *doc)
{
    for (size_t i = 0; i < r->route.post_count; i++) {
        const fe_route_place *place = &r->places[r->route.places[i]];
        if (place->turn_rad > 0.0)
            fe_document_item(doc, "Post %zu stands at a corner: the line turns by %s%s there.",
                             i + 1, fe_amount(doc, place->turn_rad, FE_STYLE_ANGLE),
                             report_corner_side(r, place->at_m));
    }
}

static void write_ground(const fe_posts_result *r, fe_document *doc)
{
    const fe_value frost = r->plan->posts.frost_depth_m;
    double shallowest_m = INFINITY, needed_m = 0.0;
    for (size_t i = 0; i < r->route.post_count; i++) {
        shallowest_m = fmin(shallowest_m, report_post_kind(r, i)->depth_m);
        needed_m = fmax(needed_m, r->check.duties[i].depth_needed_m);
    }
    if (r->route.post_count == 0)
        return;
    fe_document_item(
        doc,
        "Hole depths are the largest of the rule (a tenth of the post and %s), the "
        "building code's formula for the soil (here up to %s) and the plan's own.",
        fe_amount(doc, 2.0 * FE_FOOT_M, FE_STYLE_DEPTH),
        fe_amount(doc, needed_m, FE_STYLE_DEPTH));
    if (frost.given == FE_GIVEN_NOT)
        fe_document_item(doc, "How deep frost goes was not given: ask the neighbours, and dig "
                              "every hole as deep.");
    else
        fe_document_item(
            doc, "Frost goes to %s here and the shallowest hole to %s.%s",
            fe_amount(doc, frost.high, FE_STYLE_DEPTH),
            fe_amount(doc, shallowest_m, FE_STYLE_DEPTH),
            frost.high > shallowest_m
                ? " Frost can lift that post: dig to the frost depth with a longer "
                  "post, or fill round it with gravel that drains."
                : "");
    if (!r->material.soil_known)
        fe_document_item(doc,
                         "The soil is not known; the weakest class of the table was taken. "
                         "Dig one hole before buying posts.");
    fe_document_item(doc, "Drill each post for its bolt %s below the top before it is set.",
                     fe_amount(doc, r->material.top_m, FE_STYLE_DEPTH));
    fe_document_item(doc, "The bolt lies along the line, an eye on each side of the post; at a "
                          "corner it halves the angle.");
    fe_document_item(doc, "Tamp the fill in layers of a hand's breadth; cut no top of a post "
                          "before the cable hangs.");
}

/* ---- To buy ---- */

static size_t count_length(const fe_posts_result *r, double length_m)
{
    size_t count = 0;
    for (size_t i = 0; i < r->route.post_count; i++)
        count += report_post_kind(r, i)->length_m == length_m;
    return count;
}

static void write_post_lengths(const fe_posts_result *r, fe_document *doc)
{
    for (size_t k = 0; k < r->input.kind_count; k++) {
        const double length_m = r->kinds[k].length_m;
        if (k > 0 && r->kinds[k - 1].length_m == length_m)
            continue;
        const size_t count = count_length(r, length_m);
        if (count > 0)
            fe_document_item(doc, "%zu post%s of %s, %s %s, %s, treated for use in the ground",
                             count, count == 1 ? "" : "s",
                             fe_amount_digits(doc, length_m, FE_STYLE_LENGTH, 1),
                             r->material.section == FE_POST_ROUND ? "round" : "square",
                             fe_amount(doc, r->material.width_m, FE_STYLE_THICKNESS),
                             r->plan->posts.wood ? r->plan->posts.wood : "C24");
    }
}

double report_bolt_length(const fe_posts_result *r)
{
    static const double OVER_M = 0.05; /* for washers and nut; common practice */
    return r->material.width_m + OVER_M;
}

const char *report_grip_for(const fe_posts_result *r, fe_document *doc,
                            char room[REPORT_LABEL_ROOM])
{
    if (*r->messenger)
        snprintf(room, REPORT_LABEL_ROOM, "strand %s", r->messenger);
    else if (r->cable->has_messenger)
        snprintf(room, REPORT_LABEL_ROOM, "this cable's messenger");
    else
        snprintf(room, REPORT_LABEL_ROOM, "a cable %s thick",
                 fe_amount_digits(doc, r->cable->diameter_m, FE_STYLE_THICKNESS, 0));
    return room;
}

static void write_hardware(const fe_posts_result *r, fe_document *doc)
{
    char grip[REPORT_LABEL_ROOM];
    const fe_posts_hardware *hardware = &r->hardware;
    const char *carrier = report_grip_for(r, doc, grip);
    if (r->input.run.free_running)
        fe_document_item(doc,
                         "2 dead-end grips or clamps for %s, and %zu blocks or suspension "
                         "clamps in which it slides",
                         carrier, hardware->slides);
    else
        fe_document_item(doc,
                         "%zu dead-end grips or clamps for %s, one at each end of each span",
                         hardware->grips, carrier);
    fe_document_item(doc,
                     "%zu through-bolts with eye or hook, one a post and one a wall, %s long "
                     "for the posts, " REPORT_BOLT_THICKNESS " (common practice, no source); "
                     "grips, bolts and what the wall is made of for a pull of "
                     "%s",
                     hardware->bolts, fe_amount(doc, report_bolt_length(r), FE_STYLE_THICKNESS),
                     fe_amount(doc, r->check.uses[FE_ROUTE_PULL].value, FE_STYLE_FORCE));
    if (hardware->stays > 0)
        fe_document_item(doc,
                         "%zu stay%s of steel strand,%s with anchor and rod as above, two "
                         "thimbles and grips, a turnbuckle and a guard",
                         hardware->stays, hardware->stays == 1 ? "" : "s",
                         hardware->stays == 1 ? "" : " each");
    if (*r->messenger)
        fe_document_item(doc, "Lashing wire or weatherproof ties every %s along the strand",
                         fe_amount(doc, REPORT_TIE_EVERY_M, FE_STYLE_DEPTH));
    if (r->hung.metallic)
        fe_document_item(doc,
                         "Arresters at both entries, within %s of where the cable comes "
                         "in, with a short bond to the building's earth; the carrying "
                         "steel bonded at one end",
                         fe_amount(doc, REPORT_ARRESTER_WITHIN_M, FE_STYLE_HEIGHT));
    fe_document_item(doc, "Clips down both walls, a drip loop and a sleeve sloping outwards at "
                          "both entries");
}

static void write_buying(const fe_posts_result *r, int level, fe_document *doc)
{
    const fe_posts_cable *buy = &r->buy;
    fe_document_heading(doc, level, "To buy");
    fe_document_pair(doc, "Cable", "%s of %s", fe_amount(doc, buy->total_m, FE_STYLE_LENGTH),
                     r->cable->label);
    fe_document_item(doc, "in the air, with its sag: %s",
                     fe_amount(doc, buy->in_air_m, FE_STYLE_LENGTH));
    fe_document_item(doc, "drops down both walls: %s",
                     fe_amount(doc, buy->drops_m, FE_STYLE_LENGTH));
    fe_document_item(doc, "two drip loops: %s", fe_amount(doc, buy->drip_m, FE_STYLE_LENGTH));
    fe_document_item(doc, "slack, to make a new end some day: %s",
                     fe_amount(doc, buy->slack_m, FE_STYLE_LENGTH));
    fe_document_item(doc, "indoor ends: %s", fe_amount(doc, buy->indoor_m, FE_STYLE_LENGTH));
    if (buy->messenger_m > 0.0)
        fe_document_pair(doc, "Messenger", "%s of strand %s",
                         fe_amount(doc, buy->messenger_m, FE_STYLE_LENGTH), r->messenger);
    else
        fe_document_pair(doc, "Messenger", "none of its own: the cable carries itself");
    if (r->above)
        fe_document_pair(doc, "Supply",
                         "%s of %s, indoor ends apart, with as many bolts and "
                         "grips as the data cable, for a pull of %s",
                         fe_amount(doc, r->supply_m, FE_STYLE_LENGTH), r->supply->label,
                         fe_amount(doc, r->check.uses[FE_ROUTE_ABOVE].value, FE_STYLE_FORCE));
    fe_document_heading(doc, level + 1, "Posts and hardware, by class");
    write_post_lengths(r, doc);
    write_hardware(r, doc);
}

void fe_report_posts_sheet(const fe_posts_result *r, int level, fe_document *doc)
{
    write_mark(r, level, doc);
    fe_report_posts_layout(r, doc);
    write_corners(r, doc);
    write_stays(r, doc);
    write_ground(r, doc);
    report_posts_spans(r, level, doc);
    report_posts_supply(r, level, doc);
    report_posts_stringing(r, level, doc);
    write_buying(r, level, doc);
}
