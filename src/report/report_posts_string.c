/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cables of a run on posts: spans, a supply cable on the same posts, stringing. */
#include <math.h>

#include "farend/clearance.h"
#include "report/report_posts_parts.h"

/* ---- Spans ---- */

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

void report_posts_spans(const fe_posts_result *r, int level, fe_document *doc)
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
        fe_document_cell(doc, "%s, %s", report_posts_season(r, load->season),
                         fe_run_case_name(load->kind));
    }
}

/* ---- A supply cable on the same posts ---- */

void report_posts_supply(const fe_posts_result *r, int level, fe_document *doc)
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

/* ---- Stringing ---- */

bool report_spans_alike(const fe_posts_result *r, size_t a, size_t b, double sag_m)
{
    const size_t spans = r->check.run.span_count;
    bool alike = fabs(r->check.run.spans[a].length_m - r->check.run.spans[b].length_m) < 0.05;
    for (size_t t = 0; alike && t < r->stringing.temp_count; t++)
        alike =
            fabs(r->stringing.sag_m[t * spans + a] - r->stringing.sag_m[t * spans + b]) < sag_m;
    return alike;
}

size_t report_posts_first_alike(const fe_posts_result *r, size_t span)
{
    size_t other = 0;
    while (other < span && !report_spans_alike(r, other, span, 0.5e-3))
        other++;
    return other;
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

static void write_string(const fe_posts_result *r, const fe_posts_stringing *table,
                         const char *title, size_t span, fe_document *doc)
{
    const size_t spans = r->check.run.span_count;
    fe_strbuf caption = FE_STRBUF_INIT;
    size_t alike = 1;
    for (size_t other = span + 1; other < spans; other++)
        alike += report_posts_first_alike(r, other) == span;
    fe_strbuf_format(&caption, "%s, span%s %zu", title, alike > 1 ? "s" : "", span + 1);
    for (size_t other = span + 1; other < spans; other++)
        if (report_posts_first_alike(r, other) == span)
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
static double strung_height(const fe_posts_result *r, double from_m, double to_m,
                            fe_document *doc)
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
        if (!fe_document_takes(doc,
                               fe_span_at_tension(&bare, span->stringing_tension_n, &shape)))
            return (double)NAN;
        for (int i = 0; i <= LOOKS; i++) {
            const double at_m = from_m + (to_m - from_m) * i / LOOKS;
            const double x_m = at_m - span->from_m;
            double up_m = 0.0;
            if (x_m < 0.0 || x_m > span->length_m ||
                !fe_document_takes(doc, fe_span_height(&shape, x_m, &up_m)))
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
        const double height_m = strung_height(r, need->from_m, to_m, doc);
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

void report_posts_stringing(const fe_posts_result *r, int level, fe_document *doc)
{
    const fe_run *run = &r->check.run;
    fe_document_heading(doc, level, "Stringing");
    fe_document_paragraph(
        doc,
        "Span 1 starts at %s. Read the thermometer, find the row, and pull until the sag is "
        "right: sight from the mark at that distance below the cable's place on one post to "
        "the same mark on the next. Or strike the cable beside a post and time the third and "
        "the fifth return of the wave, with your hand on the cable. %s",
        report_posts_end(r, false),
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
        if (report_posts_first_alike(r, s) == s)
            write_string(r, &r->stringing, "Stringing table", s, doc);
    for (size_t s = 0; s < run->span_count && r->above; s++)
        if (report_posts_first_alike(r, s) == s)
            write_string(r, &r->supply_stringing, "Supply cable", s, doc);
    report_strung_heights(r, doc);
}
