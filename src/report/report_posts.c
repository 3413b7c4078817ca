/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a run on posts comes to, and why: verdict, limits, loads, cautions, sources. */
#include "farend/report_posts.h"

#include <math.h>

#include "report/report_posts_parts.h"

/* ---- Words ---- */

const char *report_posts_end(const fe_posts_result *r, bool far)
{
    return report_end_name(r->plan, r->path, far);
}

const char *report_posts_season(const fe_posts_result *r, size_t season)
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
                     report_posts_season(r, use->season), fe_run_case_name(use->kind));
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
                              report_posts_end(r, far),
                              fe_amount(doc, planned_m, FE_STYLE_HEIGHT),
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
                        report_posts_end(r, false), report_posts_end(r, true),
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
    fe_document_pair(
        doc, "Pull on the walls", "%s at %s, %s at %s",
        fe_amount(doc, r->check.start_pull_n, FE_STYLE_FORCE), report_posts_end(r, false),
        fe_amount(doc, r->check.end_pull_n, FE_STYLE_FORCE), report_posts_end(r, true));
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
