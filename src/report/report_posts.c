/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/report_posts.h"

#include <math.h>
#include <stdlib.h>

#include "farend/clearance.h"
#include "farend/figures.h"
#include "report/report_parts.h"

/* ---- Words ---- */

static const char *end_name(const fe_posts_result *r, bool far)
{
    return report_end_name(r->plan, r->path, far);
}

static const char *season_name(const fe_posts_result *r, size_t season)
{
    return r->plan->seasons[season].name;
}

const fe_posts_kind *report_post_kind(const fe_posts_result *r, size_t post)
{
    return &r->kinds[r->route.kinds[post]];
}

void report_anchor(fe_document *doc, const fe_posts_hold *hold, fe_strbuf *text)
{
    fe_strbuf_clear(text);
    if (hold->rock)
        fe_strbuf_append(text, "a rod drilled and grouted into the rock");
    else
        fe_strbuf_format(text, "a plate or screw anchor of the %s class (it holds %s here)",
                         hold->anchor->name, fe_amount(doc, hold->holding_n, FE_STYLE_FORCE));
    fe_strbuf_format(text, ", rod %s in (%s)", hold->anchor->rod,
                     fe_amount(doc, 1e-3 * hold->anchor->rod_mm, FE_STYLE_THICKNESS));
}

bool report_spans_alike(const fe_posts_result *r, size_t a, size_t b, double sag_m)
{
    const size_t spans = r->check.run.span_count;
    bool alike = fabs(r->check.run.spans[a].length_m - r->check.run.spans[b].length_m) < 0.05;
    for (size_t t = 0; alike && t < r->stringing.temp_count; t++)
        alike =
            fabs(r->stringing.sag_m[t * spans + a] - r->stringing.sag_m[t * spans + b]) < sag_m;
    return alike;
}

/* "pull in the cable 640 N of 720 N allowed, at 23 m, deep winter, ice with wind" */
const char *fe_report_posts_use(const fe_posts_result *r, const fe_route_use *use,
                                fe_document *doc, fe_strbuf *text)
{
    const bool pull = use->limit == FE_ROUTE_PULL || use->limit == FE_ROUTE_STRAIN ||
                      use->limit == FE_ROUTE_ABOVE;
    const fe_style style = pull ? FE_STYLE_FORCE : FE_STYLE_HEIGHT;
    fe_strbuf_clear(text);
    fe_strbuf_append(text, fe_route_use_name(use));
    if ((use->limit == FE_ROUTE_GROUND || use->limit == FE_ROUTE_SIDE) && use->need)
        fe_strbuf_format(text, ", %s", use->need->name);
    if (use->limit == FE_ROUTE_POST)
        fe_strbuf_format(text, " at %s of what is allowed",
                         fe_amount(doc, use->use, FE_STYLE_PERCENT));
    else
        fe_strbuf_format(text, " %s where %s is %s", fe_amount(doc, use->value, style),
                         fe_amount(doc, use->allowed, style),
                         pull || use->limit == FE_ROUTE_SIDE ? "the most" : "the least");
    fe_strbuf_format(text, ", %s along, %s (%s)", fe_amount(doc, use->at_m, FE_STYLE_LENGTH),
                     season_name(r, use->season), fe_run_case_name(use->kind));
    return fe_strbuf_text(text);
}

/* ---- Verdict ---- */

/* "4 posts of 21.0 ft, square 150 mm", after what would do. */
static const char *offer_text(const fe_posts_result *r, fe_strbuf *text, fe_document *doc)
{
    fe_strbuf_clear(text);
    if (r->layout != FE_LAYOUT_WOULD_DO)
        return "none that was tried";
    fe_strbuf_format(text, "%s, %zu of them",
                     fe_amount_digits(doc, r->would_do_m, FE_STYLE_LENGTH, 1),
                     r->would_do_posts);
    if (isfinite(r->would_do_width_m))
        fe_strbuf_format(text, ", %s %s in section",
                         r->material.section == FE_POST_ROUND ? "round" : "square",
                         fe_amount(doc, r->would_do_width_m, FE_STYLE_THICKNESS));
    return fe_strbuf_text(text);
}

static void say_raised(const fe_posts_result *r, double raised_m, double planned_m, bool far,
                       fe_document *doc)
{
    if (isfinite(raised_m))
        fe_document_paragraph(doc,
                              "The attachment at %s must be raised from %s to %s: a cable "
                              "that starts too low is too low beside the wall.",
                              end_name(r, far), fe_amount(doc, planned_m, FE_STYLE_HEIGHT),
                              fe_amount(doc, raised_m, FE_STYLE_HEIGHT));
}

/* What bounds the search for posts that would do. */
static const char *tried_text(const fe_posts_result *r, fe_document *doc, fe_strbuf *text)
{
    const fe_posts_tried *tried = &r->tried;
    fe_strbuf_clear(text);
    fe_strbuf_format(text,
                     "Tried: posts all of one length, in steps of %s up to %s, set by the rule "
                     "or %s deeper, "
                     "stayed or not, and sections up to %s.",
                     fe_amount(doc, tried->step_m, FE_STYLE_DEPTH),
                     fe_amount(doc, tried->longest_m, FE_STYLE_LENGTH),
                     fe_amount(doc, tried->deeper_m, FE_STYLE_DEPTH),
                     fe_amount(doc, tried->thickest_m, FE_STYLE_THICKNESS));
    return fe_strbuf_text(text);
}

static void say_what_follows(const fe_posts_result *r, fe_document *doc)
{
    fe_strbuf text = FE_STRBUF_INIT;
    if (r->layout == FE_LAYOUT_CLOSEST) {
        fe_document_paragraph(doc,
                              "%s None of them meets every limit on this run. Another cable, "
                              "shorter spans or a trench are the way.",
                              tried_text(r, doc, &text));
        fe_document_free_text(doc, &text);
        fe_document_paragraph(doc, "What follows is the layout that comes closest with the "
                                   "posts on hand. Do not build it as it is.");
        return;
    }
    const fe_plan_posts *posts = &r->plan->posts;
    say_raised(r, r->would_do_start_m, posts->start_height_m.typical, false, doc);
    say_raised(r, r->would_do_end_m, posts->end_height_m.typical, true, doc);
    fe_document_paragraph(doc,
                          "What follows is laid out with the posts that would do. Nearest to "
                          "its limit then: %s.",
                          fe_report_posts_use(r, &r->worst, doc, &text));
    fe_document_paragraph(doc,
                          "%s The shortest that holds is shown; posts of unlike lengths "
                          "may do with less.",
                          tried_text(r, doc, &text));
    fe_document_free_text(doc, &text);
}

static void say_too_short(const fe_posts_result *r, fe_document *doc)
{
    const bool snow = r->asked_m > r->needs[0].over_ground_m;
    fe_strbuf offer = FE_STRBUF_INIT;
    fe_document_verdict(
        doc, FE_MARK_FAILS,
        "Posts of %s are too short: once the hole is dug the cable is tied %s above bare "
        "ground, and %s is asked%s before any sag. Length that would do: %s.",
        fe_amount(doc, r->longest_m, FE_STYLE_LENGTH),
        fe_amount(doc, r->longest_up_m, FE_STYLE_HEIGHT),
        fe_amount(doc, r->asked_m, FE_STYLE_HEIGHT), snow ? " with the deepest snow" : "",
        offer_text(r, &offer, doc));
    fe_document_free_text(doc, &offer);
}

static void say_shortfall(const fe_posts_result *r, fe_document *doc)
{
    fe_strbuf text = FE_STRBUF_INIT;
    fe_strbuf offer = FE_STRBUF_INIT;
    const bool known = r->falls_short.use > 1.0;
    fe_document_verdict(doc, FE_MARK_FAILS,
                        "No choice of posts on hand meets every limit%s%s. Length that would "
                        "do: %s.",
                        known ? "; the closest fails by: " : "",
                        known ? fe_report_posts_use(r, &r->falls_short, doc, &text) : "",
                        offer_text(r, &offer, doc));
    fe_document_free_text(doc, &text);
    fe_document_free_text(doc, &offer);
}

static void say_meets(const fe_posts_result *r, fe_document *doc)
{
    fe_strbuf text = FE_STRBUF_INIT;
    fe_document_verdict(doc, fe_mark_of_verdict(r->verdict),
                        "%zu post%s between %s and %s, %s stayed, carrying %s. Nearest to its "
                        "limit: %s.",
                        r->route.post_count, r->route.post_count == 1 ? "" : "s",
                        end_name(r, false), end_name(r, true),
                        fe_amount_count(doc, r->route.stay_count), r->cable->label,
                        fe_report_posts_use(r, &r->worst, doc, &text));
    fe_document_free_text(doc, &text);
}

void fe_report_posts_verdict(const fe_posts_result *r, fe_document *doc)
{
    if (r->meets)
        say_meets(r, doc);
    else if (r->too_short)
        say_too_short(r, doc);
    else
        say_shortfall(r, doc);
    if (r->input.limits.needs_messenger)
        fe_document_paragraph(
            doc,
            "%s is not made to hang: alone it carries itself %s at most in these seasons. It "
            "needs a messenger: a steel strand, or a cable class with one.",
            r->cable->label, fe_amount(doc, r->alone_span_m, FE_STYLE_LENGTH));
    if (!r->meets)
        say_what_follows(r, doc);
    if (r->layout != FE_LAYOUT_CLOSEST && r->flip != FE_FLIP_NONE)
        fe_document_paragraph(doc, "What would make this layout fail: %s.",
                              fe_posts_flip_name(r->flip));
}

/* ---- The sheet ---- */

static void write_mark(const fe_posts_result *r, int level, fe_document *doc)
{
    fe_document_heading(doc, level, "Setting out");
    fe_document_paragraph(
        doc,
        "Fixed mark: a nail in the wall of %s, right under the place where the cable is tied. "
        "Measure level, not along the slope, from it towards %s; drive a peg at each distance "
        "of the table and sight the pegs into one line%s.",
        end_name(r, false), end_name(r, true),
        r->plan->posts.corner_count ? " from corner to corner" : "");
    fe_document_pair(doc, "Attachment", "%s, %s above the ground there", end_name(r, false),
                     fe_amount(doc, r->input.start_attachment_m, FE_STYLE_HEIGHT));
    fe_document_pair(doc, "Far attachment", "%s, %s above the ground, %s from the mark",
                     end_name(r, true),
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

void report_open_distance(fe_document *doc, const fe_plan *plan, size_t path)
{
    const fe_plan_path *way = &plan->paths[path];
    if (fe_value_is_open(way->distance_m))
        fe_document_paragraph(
            doc,
            "%s of way are given; this is for %s. Tape it before anything is ordered, dug or "
            "cut.",
            fe_amount_range(doc, way->distance_m.low, way->distance_m.high, FE_STYLE_DISTANCE),
            fe_amount(doc, fe_profile_length(&way->profile), FE_STYLE_DISTANCE));
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
        fe_amount(doc, 0.6096, FE_STYLE_DEPTH), fe_amount(doc, needed_m, FE_STYLE_DEPTH));
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

/* Greatest sag of a span, and in what. */
static const fe_run_state *deepest(const fe_posts_result *r, size_t span, size_t *found)
{
    const fe_run *run = &r->check.give;
    *found = 0;
    for (size_t c = 1; c < run->case_count; c++)
        if (run->states[c * run->span_count + span].sag_m >
            run->states[*found * run->span_count + span].sag_m)
            *found = c;
    return &run->states[*found * run->span_count + span];
}

static void write_spans(const fe_posts_result *r, int level, fe_document *doc)
{
    const fe_run *run = &r->check.run;
    fe_document_heading(doc, level, "Spans");
    fe_document_table(doc, "Spans: sag as strung and the deepest of all seasons",
                      "span|length>|rise>|sag as strung>|deepest sag>|in");
    for (size_t s = 0; s < run->span_count; s++) {
        size_t c = 0;
        const fe_run_state *most = deepest(r, s, &c);
        const fe_run_case *load = &r->check.give.cases[c];
        fe_document_row(doc);
        fe_document_cell(doc, "%zu", s + 1);
        fe_document_cell(doc, "%s", fe_amount(doc, run->spans[s].length_m, FE_STYLE_LENGTH));
        fe_document_cell(doc, "%s", fe_amount(doc, run->spans[s].rise_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s",
                         fe_amount(doc, run->spans[s].stringing_sag_m, FE_STYLE_DEPTH));
        fe_document_cell(doc, "%s", fe_amount(doc, most->sag_m, FE_STYLE_DEPTH));
        fe_document_cell(doc, "%s, %s", season_name(r, load->season),
                         fe_run_case_name(load->kind));
    }
}

/* Always seconds: a stop watch shows nothing else. */
static void put_wave_time(fe_document *doc, double sag_m, unsigned returns)
{
    double time_s = (double)NAN;
    if (fe_span_wave_time(sag_m, returns, &time_s) < 0)
        fe_document_cell(doc, "-");
    else
        fe_document_cell(doc, "%.1f\xc2\xa0s", time_s);
}

/* ---- A supply cable on the same posts ---- */

static void write_supply(const fe_posts_result *r, int level, fe_document *doc)
{
    if (!r->above)
        return;
    const fe_route_above *above = r->above;
    fe_document_heading(doc, level, "Supply cable on the same posts");
    fe_document_caution(doc,
                        "It is licensed work, made dead, locked off and proved dead before "
                        "anybody climbs or touches the data cable below it. Better in a "
                        "trench.");
    fe_document_item(doc,
                     "%s is tied %s over the data cable at every post and on both walls, on "
                     "the same side, by a bolt of its own %s below the top of each post. At "
                     "least %s is asked there (%s).",
                     r->supply->label, fe_amount(doc, above->up_m, FE_STYLE_HEIGHT),
                     fe_amount(doc, r->material.top_m - above->up_m, FE_STYLE_DEPTH),
                     fe_amount(doc, above->asked.at_pole_m, FE_STYLE_HEIGHT),
                     above->asked.pole_rule);
    fe_document_item(doc,
                     "In the spans %s is left at the least, the supply cable hot or iced and "
                     "the data cable neither; %s is asked (%s).",
                     fe_amount(doc, r->check.apart_m, FE_STYLE_HEIGHT),
                     fe_amount(doc, above->asked.in_span_m, FE_STYLE_HEIGHT),
                     above->asked.span_rule);
    const fe_clearance *openings = fe_clearance_find(
        "US NFPA 70", "225.19(D)(1)",
        "power conductors or open multiconductor cable up to 1000 V",
        "final span to openable windows doors porches balconies (any direction)");
    if (openings)
        fe_document_item(
            doc,
            "At both walls it stays %s from windows that open, doors and balconies, "
            "in any direction (NFPA 70 (2023) 225.19(D)(1)).",
            fe_amount(doc, openings->height_m, FE_STYLE_HEIGHT));
    fe_document_item(doc,
                     "String both on the same day to the same sag: the supply cable by its own "
                     "table, before the data cable.");
    fe_document_item(doc,
                     "Posts, stays, anchors and walls are counted for the pull, the wind and "
                     "the weight of both.");
}

/* The first span that is strung as this one is, to half a millimetre at every temperature. */
static size_t first_alike(const fe_posts_result *r, size_t span)
{
    size_t other = 0;
    while (other < span && !report_spans_alike(r, other, span, 0.5e-3))
        other++;
    return other;
}

static void write_string(const fe_posts_result *r, const fe_posts_stringing *table,
                         const char *title, size_t span, fe_document *doc)
{
    const size_t spans = r->check.run.span_count;
    fe_strbuf caption = FE_STRBUF_INIT;
    size_t alike = 1;
    for (size_t other = span + 1; other < spans; other++)
        alike += first_alike(r, other) == span;
    fe_strbuf_format(&caption, "%s, span%s %zu", title, alike > 1 ? "s" : "", span + 1);
    for (size_t other = span + 1; other < spans; other++)
        if (first_alike(r, other) == span)
            fe_strbuf_format(&caption, ", %zu", other + 1);
    fe_strbuf_format(&caption, " (%s)",
                     fe_amount(doc, r->check.run.spans[span].length_m, FE_STYLE_LENGTH));
    fe_document_table(doc, fe_strbuf_text(&caption), "air|sag>|pull>|3 waves>|5 waves>");
    fe_document_free_text(doc, &caption);
    for (size_t t = 0; t < table->temp_count; t++) {
        const double sag_m = table->sag_m[t * spans + span];
        fe_document_row(doc);
        fe_document_cell(doc, "%s", fe_amount(doc, table->temp_c[t], FE_STYLE_TEMPERATURE));
        fe_document_cell(doc, "%s",
                         fe_amount_digits(doc, sag_m, FE_STYLE_DEPTH, sag_m < 0.15 ? 1 : 0));
        fe_document_cell(doc, "%s",
                         fe_amount(doc, table->pull_n[t * spans + span], FE_STYLE_FORCE));
        put_wave_time(doc, sag_m, 3);
        put_wave_time(doc, sag_m, 5);
    }
}

/* Least height above bare ground of the cable as strung, over a stretch; NAN where none is. */
static double strung_height(const fe_posts_result *r, double from_m, double to_m)
{
    enum { LOOKS = 60 };
    const fe_profile *ground = r->input.run.ground;
    double least_m = INFINITY;
    for (size_t s = 0; s < r->check.run.span_count; s++) {
        const fe_run_span *span = &r->check.run.spans[s];
        const fe_span bare = {span->length_m, span->rise_m, r->input.run.cable.weight_n_m,
                              r->input.run.cable.stiffness_n};
        const double first_m =
            fe_profile_height_at(ground, span->from_m) + r->check.supports[s].attachment_m;
        fe_span_shape shape;
        if (fe_span_at_tension(&bare, span->stringing_tension_n, &shape) < 0)
            return (double)NAN;
        for (int i = 0; i <= LOOKS; i++) {
            const double at_m = from_m + (to_m - from_m) * i / LOOKS;
            const double x_m = at_m - span->from_m;
            double up_m = 0.0;
            if (x_m < 0.0 || x_m > span->length_m || fe_span_height(&shape, x_m, &up_m) < 0)
                continue;
            least_m = fmin(least_m, first_m + up_m - fe_profile_height_at(ground, at_m));
        }
    }
    return least_m;
}

/* What a staff or a weighted line shows on the day, if all is as it should be. */
void report_strung_heights(const fe_posts_result *r, fe_document *doc)
{
    for (size_t i = 1; i < r->input.need_count; i++) {
        const fe_clearance_need *need = &r->needs[i];
        const double to_m = fmin(need->to_m, fe_profile_length(r->input.run.ground));
        const double height_m = strung_height(r, need->from_m, to_m);
        if (need->beside_m > 0.0 || !isfinite(height_m))
            continue;
        fe_document_item(
            doc,
            "Check when done: at %s the cable hangs %s above bare ground at the "
            "least over %s, from %s to %s; with ice, and in heat, %s must be left.",
            fe_amount(doc, r->input.run.stringing_c, FE_STYLE_TEMPERATURE),
            fe_amount(doc, height_m, FE_STYLE_HEIGHT), need->name,
            fe_amount(doc, need->from_m, FE_STYLE_LENGTH),
            fe_amount(doc, to_m, FE_STYLE_LENGTH),
            fe_amount(doc, need->over_ground_m, FE_STYLE_HEIGHT));
    }
}

static void write_stringing(const fe_posts_result *r, int level, fe_document *doc)
{
    const fe_run *run = &r->check.run;
    fe_document_heading(doc, level, "Stringing");
    fe_document_paragraph(
        doc,
        "Span 1 starts at %s. Read the thermometer, find the row, and pull until the sag is "
        "right: sight from the mark at that distance below the cable's place on one post to "
        "the same mark on the next. Or strike the cable beside a post and time the third and "
        "the fifth return of the wave, with your hand on the cable. %s",
        end_name(r, false),
        r->input.run.free_running
            ? "Leave the cable free to slide at every post and tie it off at the two ends "
              "alone: the pull is the same in all spans."
            : "Tie off both sides of every post: each span is dead-ended.");
    if (isfinite(r->ruling_span_m))
        fe_document_paragraph(doc,
                              "Ruling span %s: the one span that changes with the weather as "
                              "all of these together do, which a maker's stringing chart asks "
                              "for.",
                              fe_amount(doc, r->ruling_span_m, FE_STYLE_LENGTH));
    if (*r->messenger)
        fe_document_paragraph(doc,
                              "Lash the cable to the strand on the ground and pull both up "
                              "together: the tables are for both.");
    for (size_t s = 0; s < run->span_count; s++)
        if (first_alike(r, s) == s)
            write_string(r, &r->stringing, "Stringing table", s, doc);
    for (size_t s = 0; s < run->span_count && r->above; s++)
        if (first_alike(r, s) == s)
            write_string(r, &r->supply_stringing, "Supply cable", s, doc);
    report_strung_heights(r, doc);
}

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
    write_spans(r, level, doc);
    write_supply(r, level, doc);
    write_stringing(r, level, doc);
    write_buying(r, level, doc);
}

/* ---- Reasons ---- */

static const char *for_above(const fe_clearance_need *need)
{
    return need->for_above ? "; for the supply cable, less what is left between it and this one"
                           : "";
}

static void write_needs(const fe_posts_result *r, fe_document *doc)
{
    for (size_t i = 0; i < r->input.need_count; i++) {
        const fe_clearance_need *need = &r->needs[i];
        if (need->beside_m > 0.0)
            fe_document_item(doc, "Beside %s, %s from the line: %s must be left in any wind.",
                             need->name, fe_amount(doc, need->beside_m, FE_STYLE_HEIGHT),
                             fe_amount(doc, FE_LIMITS_BESIDE_M, FE_STYLE_HEIGHT));
        else if (need->over_snow_m > 0.0)
            fe_document_item(doc, "Over %s: %s above bare ground (%s%s), %s above the snow.",
                             need->name, fe_amount(doc, need->over_ground_m, FE_STYLE_HEIGHT),
                             need->rule, for_above(need),
                             fe_amount(doc, need->over_snow_m, FE_STYLE_HEIGHT));
        else
            fe_document_item(doc, "Over %s: %s above bare ground (%s%s).", need->name,
                             fe_amount(doc, need->over_ground_m, FE_STYLE_HEIGHT), need->rule,
                             for_above(need));
    }
}

static void write_limits(const fe_posts_result *r, int level, fe_document *doc)
{
    static const char *const NAMES[FE_ROUTE_LIMITS] = {
        [FE_ROUTE_PULL] = "pull in the cable",
        [FE_ROUTE_STRAIN] = "stretch of the carried cable",
        [FE_ROUTE_GROUND] = "height over ground and ways",
        [FE_ROUTE_SNOW] = "height over snow",
        [FE_ROUTE_SIDE] = "blow-out",
        [FE_ROUTE_ABOVE] = "pull in the supply cable",
        [FE_ROUTE_APART] = "supply over data, span",
        [FE_ROUTE_AT_POST] = "supply over data, posts",
        [FE_ROUTE_POST] = "posts"};
    fe_strbuf text = FE_STRBUF_INIT;
    fe_document_heading(doc, level, "Limits");
    fe_document_table(doc, "The tightest place of each limit", "limit|used>|where");
    for (int i = 0; i < FE_ROUTE_LIMITS; i++) {
        const fe_route_use *use = &r->check.uses[i];
        if (!(use->use > 0.0))
            continue;
        fe_document_row(doc);
        fe_document_cell(doc, "%s", NAMES[i]);
        fe_document_cell(doc, "%s", fe_amount(doc, use->use, FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", fe_report_posts_use(r, use, doc, &text));
    }
    fe_document_free_text(doc, &text);
    write_needs(r, doc);
}

static void write_fewer(const fe_posts_result *r, fe_document *doc)
{
    fe_strbuf text = FE_STRBUF_INIT;
    if (!r->fewer_known)
        return;
    if (r->fewer_impossible)
        fe_document_paragraph(doc,
                              "One post fewer fails: the spans would be longer than the "
                              "%s allowed.",
                              fe_amount(doc, r->input.span_high_m, FE_STYLE_LENGTH));
    else if (r->fewer.use > 1.0)
        fe_document_paragraph(doc, "One post fewer fails, at best by: %s.",
                              fe_report_posts_use(r, &r->fewer, doc, &text));
    fe_document_free_text(doc, &text);
}

static void write_loads(const fe_posts_result *r, fe_document *doc)
{
    fe_document_table(
        doc, "Loads on the posts, without factors",
        "post|moment at ground>|used>|by|moves in the long run>|if a span breaks>");
    for (size_t i = 0; i < r->route.post_count; i++) {
        const fe_route_duty *duty = &r->check.duties[i];
        fe_document_row(doc);
        fe_document_cell(doc, "%zu", i + 1);
        fe_document_cell(doc, "%s", fe_amount(doc, duty->moment_n_m, FE_STYLE_MOMENT));
        fe_document_cell(doc, "%s", fe_amount(doc, duty->worst.use, FE_STYLE_PERCENT));
        fe_document_cell(doc, "%s", fe_posts_limit_name(duty->worst.limit));
        fe_document_cell(doc, "%s", fe_amount(doc, duty->moved_m, FE_STYLE_DEPTH));
        fe_document_cell(doc, "%s",
                         duty->broken_use == 0.0
                             ? "stays hold"
                             : (duty->broken_use > 1.0 ? "breaks" : "stands"));
    }
    fe_document_pair(doc, "Pull on the walls", "%s at %s, %s at %s",
                     fe_amount(doc, r->check.start_pull_n, FE_STYLE_FORCE), end_name(r, false),
                     fe_amount(doc, r->check.end_pull_n, FE_STYLE_FORCE), end_name(r, true));
}

static void write_trees(const fe_posts_result *r, fe_document *doc)
{
    for (size_t i = 0; i < r->plan->tree_count; i++) {
        const fe_plan_trees *trees = &r->plan->trees[i];
        if (trees->path == r->path)
            fe_document_caution(doc,
                                "The run passes trees from %s to %s: branches are cut back by "
                                "an arm's length all round before it is strung, every few "
                                "years again, and what is dead or leans over it is felled, by "
                                "somebody who does that.",
                                fe_amount(doc, trees->from_m.typical, FE_STYLE_DISTANCE),
                                fe_amount(doc, trees->to_m.typical, FE_STYLE_DISTANCE));
    }
}

static void write_cautions(const fe_posts_result *r, fe_document *doc)
{
    const fe_shared_posts shared = fe_limits_shared_posts(r->material.format);
    fe_document_caution(doc, "Supply lines near the run can kill through a cable or a ladder: "
                             "keep post, cable and ladder a full post length away from them, "
                             "falling too.");
    fe_document_caution(doc, "Call before you dig: pipes and cables lie where no plan shows "
                             "them.");
    fe_document_caution(doc, "Work at height with a belt or a scaffold, never alone, never in "
                             "wind or on ice.");
    fe_document_caution(doc,
                        "Two people stretch the cable, one at the pull and one at the sag; "
                        "nobody stands in line with it.");
    fe_document_caution(doc, "The fall zone of a post is its length all round; keep others out "
                             "until it is tamped.");
    fe_document_caution(doc, "Ice, snow or wind beyond the plan's can bring it down: nothing "
                             "below that must not be hit.");
    fe_document_caution(doc, "Trees are no posts: they sway, grow and fall.");
    write_trees(r, doc);
    fe_document_caution(doc, "Over a road or near supply lines a qualified designer decides, "
                             "and everywhere the local code.");
    fe_document_caution(doc,
                        "Retension after the first winter; look at posts, grips and sag "
                        "after every ice and gale, and probe the posts at the ground line.");
    if (r->above) /* told with its own part */
        return;
    fe_document_caution(doc,
                        "Supply on the same posts goes on top, %s above the data cable at "
                        "the post and %s everywhere in the span; a trench is better for it. "
                        "This run is laid out for the data cable alone: `supply` in [posts] "
                        "counts both.",
                        fe_amount(doc, shared.at_pole_m, FE_STYLE_HEIGHT),
                        fe_amount(doc, shared.in_span_m, FE_STYLE_HEIGHT));
}

static void write_sources(const fe_posts_result *r, fe_document *doc)
{
    fe_document_source(doc, "Spans: elastic catenary after Irvine, Cable Structures (1981), "
                            "from memory.");
    fe_document_source(doc, "Pull everyday: %s; coldest: %s; ice with wind: %s; wind: %s.",
                       r->input.limits.rule[FE_RUN_EVERYDAY], r->input.limits.rule[FE_RUN_COLD],
                       r->input.limits.rule[FE_RUN_ICE_WIND],
                       r->input.limits.rule[FE_RUN_WIND]);
    fe_document_source(doc, "%s",
                       r->material.format == FE_SAFETY_EN
                           ? "Posts: EN 1995-1-1 and EN 1990, from memory."
                           : "Posts: IEEE C2 tables 253-1 and 261-1, Grade B, from memory.");
    if (r->district)
        fe_document_source(doc, "Load of a district besides the seasons: %s, %s; %s.",
                           r->district->code, r->district->district,
                           fe_ice_preset_source(r->district->code));
    if (r->hardware.stays > 0)
        fe_document_source(doc,
                           "Anchors: classes of holding power and soil after RUS Bulletin "
                           "1728F-804, logs after US Army FM 5-125, twice the pull by CPUC "
                           "General Order 95 rule 44; all from memory.");
    fe_document_source(doc, "Holes: CPUC General Order 95 rule 49.1-C; IBC 2012 1807.3.2.1 and "
                            "Table 1806.2.");
    fe_document_source(doc, "Choice of posts: exact over the places, lengths and pulls tried; "
                            "posts that give are checked afterwards.");
}

void fe_report_posts_reasons(const fe_posts_result *r, int level, fe_document *doc)
{
    write_limits(r, level, doc);
    write_fewer(r, doc);
    write_loads(r, doc);
}

void fe_report_posts_notes(const fe_posts_result *r, fe_document *doc)
{
    write_sources(r, doc);
    write_cautions(r, doc);
}

/* ---- Figures ---- */

enum { POINTS_A_SPAN = 24 };

/* The cable of one season where it sags most, span after span. */
typedef struct section_lines {
    fe_overhead_line lines[FE_FIGURE_MOST_LINES];
    size_t count;
    double *at_m;
    double *height_m;
    fe_overhead_post *posts;
    fe_overhead_crossing *crossings;
    size_t crossing_count;
} section_lines;

static void free_section(section_lines *s)
{
    free(s->at_m);
    free(s->height_m);
    free(s->posts);
    free(s->crossings);
}

static fe_status fill_line(const fe_posts_result *r, size_t season, section_lines *s)
{
    const fe_run *run = &r->check.give;
    const size_t points = run->span_count * (POINTS_A_SPAN + 1);
    double *at_m = s->at_m + s->count * points;
    double *height_m = s->height_m + s->count * points;
    double least_m = INFINITY;
    for (size_t i = 0; i < run->span_count; i++) {
        fe_run_case_kind kind;
        const fe_run_state *state = fe_run_most_sag(run, season, i, &kind);
        const double first_m = s->posts[i].attachment_m;
        least_m = fmin(least_m, state->over_season_m);
        for (int p = 0; p <= POINTS_A_SPAN; p++) {
            const double x_m = run->spans[i].length_m * p / POINTS_A_SPAN;
            const size_t at = i * (POINTS_A_SPAN + 1) + (size_t)p;
            at_m[at] = run->spans[i].from_m + x_m;
            const fe_status status =
                fe_run_height(&run->spans[i], state, first_m, x_m, &height_m[at]);
            if (status < 0)
                return status;
        }
    }
    s->lines[s->count++] =
        (fe_overhead_line){season_name(r, season), at_m, height_m, points, least_m};
    return FE_OK;
}

static const double WIDEST_DRAWN = 1.0 / 3.0;

/* The whole run is no crossing, and what stands beside is in no section. */
static void fill_crossings(const fe_posts_result *r, section_lines *s)
{
    for (size_t i = 1; i < r->input.need_count; i++) {
        const fe_clearance_need *need = &r->needs[i];
        const double length_m = fe_profile_length(r->input.run.ground);
        /* One level line says nothing of a stretch that follows hill and valley. */
        if (need->beside_m > 0.0 || need->to_m - need->from_m > WIDEST_DRAWN * length_m)
            continue;
        const double from_m = fmin(need->from_m, length_m);
        const double to_m = fmin(need->to_m, length_m);
        double surface_m = -INFINITY;
        for (int p = 0; p <= 20; p++)
            surface_m =
                fmax(surface_m, fe_profile_height_at(r->input.run.ground,
                                                     from_m + (to_m - from_m) * p / 20.0));
        s->crossings[s->crossing_count++] =
            (fe_overhead_crossing){need->name, from_m, to_m, need->over_ground_m, surface_m};
    }
}

/* Where the cable comes nearest to what it must keep clear of. */
static const fe_route_use *tight_spot(const fe_posts_result *r)
{
    const fe_route_use *ground = &r->check.uses[FE_ROUTE_GROUND];
    const fe_route_use *snow = &r->check.uses[FE_ROUTE_SNOW];
    return snow->use > ground->use ? snow : ground;
}

static void fill_tight_spot(const fe_posts_result *r, section_lines *s)
{
    const fe_route_use *spot = tight_spot(r);
    const double half_m = 0.005 * fe_profile_length(r->input.run.ground);
    const double snow_m =
        spot->limit == FE_ROUTE_SNOW ? r->plan->seasons[spot->season].snow_depth_m : 0.0;
    s->crossings[s->crossing_count++] = (fe_overhead_crossing){
        "tight spot", spot->at_m - half_m, spot->at_m + half_m, spot->allowed,
        fe_profile_height_at(r->input.run.ground, spot->at_m) + snow_m};
}

static fe_status fill_section(const fe_posts_result *r, section_lines *s)
{
    const fe_run *run = &r->check.give;
    const size_t points = run->span_count * (POINTS_A_SPAN + 1);
    const size_t seasons = r->plan->season_count < FE_FIGURE_MOST_LINES ? r->plan->season_count
                                                                        : FE_FIGURE_MOST_LINES;
    s->at_m = calloc(points * seasons, sizeof *s->at_m);
    s->height_m = calloc(points * seasons, sizeof *s->height_m);
    s->posts = calloc(r->check.support_count, sizeof *s->posts);
    s->crossings = calloc(r->input.need_count + 1, sizeof *s->crossings);
    if (!s->at_m || !s->height_m || !s->posts || !s->crossings)
        return FE_E_MEMORY;
    for (size_t i = 0; i < r->check.support_count; i++) {
        const fe_run_support *support = &r->check.supports[i];
        const double ground_m = fe_profile_height_at(r->input.run.ground, support->at_m);
        s->posts[i] =
            (fe_overhead_post){support->at_m, ground_m, ground_m + support->attachment_m};
    }
    fe_status status = FE_OK;
    for (size_t i = 0; i < seasons && status >= 0; i++)
        status = fill_line(r, i, s);
    fill_crossings(r, s);
    fill_tight_spot(r, s);
    return status;
}

fe_status fe_report_posts_section(const fe_posts_result *r, const char *id, const char *title,
                                  fe_gnuplot *gnuplot, fe_units units, fe_document *doc)
{
    section_lines s = {0};
    fe_figure figure = FE_FIGURE_INIT;
    fe_status status = fill_section(r, &s);
    const fe_profile *ground = r->input.run.ground;
    if (status >= 0)
        status = fe_figure_overhead(
            &(fe_overhead_data){
                .id = id,
                .title = title,
                .distance_m = ground->distance_m,
                .ground_m = ground->height_m,
                .count = ground->count,
                .snow_m = fe_plan_deepest_snow(r->plan),
                .posts = s.posts,
                .post_count = r->check.support_count,
                .lines = s.lines,
                .line_count = s.count,
                .crossings = s.crossings,
                .crossing_count = s.crossing_count,
            },
            units, &figure);
    if (status == FE_OK)
        status = fe_figure_add(&figure, gnuplot, doc);
    fe_figure_free(&figure);
    free_section(&s);
    return status;
}

fe_status fe_report_posts_chart(const fe_posts_result *r, fe_gnuplot *gnuplot, fe_units units,
                                fe_document *doc)
{
    fe_figure figure = FE_FIGURE_INIT;
    const size_t spans = r->check.run.span_count;
    double *lengths_m = calloc(spans, sizeof *lengths_m);
    size_t *alike = calloc(spans, sizeof *alike);
    fe_status status = lengths_m && alike ? FE_OK : FE_E_MEMORY;
    for (size_t s = 0; status == FE_OK && s < spans; s++) {
        lengths_m[s] = r->check.run.spans[s].length_m;
        alike[s] = first_alike(r, s);
    }
    if (status == FE_OK)
        status = fe_figure_stringing(&(fe_stringing_data){.id = "stringing",
                                                          .title = "Sag on the day of pulling",
                                                          .temp_c = r->stringing.temp_c,
                                                          .temp_count = r->stringing.temp_count,
                                                          .sag_m = r->stringing.sag_m,
                                                          .span_m = lengths_m,
                                                          .alike = alike,
                                                          .span_count = spans},
                                     units, &figure);
    if (status == FE_OK)
        status = fe_figure_add(&figure, gnuplot, doc);
    fe_figure_free(&figure);
    free(lengths_m);
    free(alike);
    return status;
}
