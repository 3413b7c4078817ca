/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outdoor sheet of a run on posts. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "farend/report_sheet.h"
#include "report/report_posts_parts.h"
#include "report/report_sheet_parts.h"

static size_t shown_posts(const fe_posts_result *r)
{
    return r->route.post_count < FE_SHEET_MOST_POSTS ? r->route.post_count
                                                     : (size_t)FE_SHEET_MOST_POSTS;
}

/* ---- Sketch ---- */

enum { POINTS_A_SPAN = 12 };

/* The cable at rest, span after span; parabolas are near enough for a sketch. */
static void hang(const fe_posts_result *r, const fe_sketch_support *supports,
                 fe_sketch_point *line)
{
    const fe_run *run = &r->check.run;
    for (size_t s = 0; s < run->span_count; s++)
        for (int p = 0; p <= POINTS_A_SPAN; p++) {
            const double share = (double)p / POINTS_A_SPAN;
            const double straight_m =
                supports[s].top_m + share * (supports[s + 1].top_m - supports[s].top_m);
            line[s * (POINTS_A_SPAN + 1) + (size_t)p] = (fe_sketch_point){
                run->spans[s].from_m + share * run->spans[s].length_m,
                straight_m - 4.0 * share * (1.0 - share) * run->spans[s].stringing_sag_m};
        }
}

static void sketch(report_writer *writer, const fe_posts_result *r)
{
    const fe_profile *ground = r->input.run.ground;
    const size_t count = r->check.support_count;
    const size_t points = r->check.run.span_count * (POINTS_A_SPAN + 1);
    fe_sketch_support *supports = calloc(count, sizeof *supports);
    fe_sketch_point *line = calloc(points, sizeof *line);
    size_t crossing_count = 0;
    fe_sketch_crossing *crossings = sheet_crossings(writer, r->plan, &crossing_count);
    if (!supports || !line || !crossings) {
        writer->status = FE_E_MEMORY;
    } else {
        for (size_t i = 0; i < count; i++) {
            const fe_run_support *support = &r->check.supports[i];
            const double ground_m = fe_profile_height_at(ground, support->at_m);
            supports[i] =
                (fe_sketch_support){support->at_m, ground_m, ground_m + support->attachment_m};
        }
        hang(r, supports, line);
        const fe_sketch_top top = {r->material.top_m, r->above ? r->above->up_m : 0.0,
                                   r->material.width_m, r->input.run.free_running};
        sheet_add_sketch(writer,
                         &(fe_sketch_data){.id = "sketch",
                                           .title = "The run, seen from the side",
                                           .from_name = report_end_name(r->plan, r->path, 0),
                                           .to_name = report_end_name(r->plan, r->path, 1),
                                           .distance_m = ground->distance_m,
                                           .ground_m = ground->height_m,
                                           .count = ground->count,
                                           .supports = supports,
                                           .support_count = count,
                                           .line = line,
                                           .line_count = points,
                                           .crossings = crossings,
                                           .crossing_count = crossing_count,
                                           .top = r->route.post_count > 0 ? &top : NULL});
    }
    free(supports);
    free(line);
    free(crossings);
}

/* ---- Posts ---- */

static const char *stay_of(const fe_posts_result *r, size_t post)
{
    if (!report_post_kind(r, post)->stayed)
        return "none";
    return r->places[r->route.places[post]].turn_rad > 0.0 ? "outside of the corner"
                                                           : "both ways along";
}

static void posts_table(report_writer *writer, const fe_posts_result *r)
{
    fe_document *doc = writer->doc;
    fe_document_paragraph(
        doc,
        "Fixed mark: a nail in the wall of %s under the place where the cable is tied. Measure "
        "level, not along the slope; drive a peg at each distance and sight them into line%s. "
        "The cable is tied %s above the ground at %s and %s above the ground at %s, %s from "
        "the "
        "mark.",
        report_end_name(r->plan, r->path, 0),
        r->plan->posts.corner_count ? " from corner to corner" : "",
        fe_amount(doc, r->input.start_attachment_m, FE_STYLE_HEIGHT),
        report_end_name(r->plan, r->path, 0),
        fe_amount(doc, r->input.end_attachment_m, FE_STYLE_HEIGHT),
        report_end_name(r->plan, r->path, 1),
        fe_amount(doc, fe_profile_length(r->input.run.ground), FE_STYLE_LENGTH));
    fe_document_table(doc, "Posts", "post|peg at>|length>|hole>|tied above bare ground>|stay");
    for (size_t i = 0; i < shown_posts(r); i++) {
        const fe_posts_kind *kind = report_post_kind(r, i);
        fe_document_row(doc);
        fe_document_cell(doc, "%zu", i + 1);
        fe_document_cell(doc, "%s",
                         fe_amount(doc, r->places[r->route.places[i]].at_m, FE_STYLE_LENGTH));
        fe_document_cell(doc, "%s", fe_amount(doc, kind->length_m, FE_STYLE_LENGTH));
        fe_document_cell(doc, "%s", fe_amount(doc, kind->depth_m, FE_STYLE_DEPTH));
        fe_document_cell(doc, "%s", fe_amount(doc, kind->attachment_m, FE_STYLE_HEIGHT));
        fe_document_cell(doc, "%s", stay_of(r, i));
    }
    if (shown_posts(r) < r->route.post_count)
        fe_document_paragraph(doc, "Posts %zu to %zu are in the text of `farend posts`.",
                              shown_posts(r) + 1, r->route.post_count);
}

/* ---- Sag by temperature ---- */

enum { MOST_TEMPS = 5 };

static size_t temp_of(const fe_posts_result *r, size_t column, size_t columns)
{
    return columns < 2 ? 0 : column * (r->stringing.temp_count - 1) / (columns - 1);
}

static double sag_of(const fe_posts_result *r, const fe_posts_stringing *table, size_t span,
                     size_t temp)
{
    return table->sag_m[temp * r->check.run.span_count + span];
}

static void sag_row(report_writer *writer, const fe_posts_result *r,
                    const fe_posts_stringing *table, size_t first, size_t last, size_t columns)
{
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    if (first == last)
        fe_document_cell(doc, "%zu", first + 1);
    else
        fe_document_cell(doc, "%zu to %zu", first + 1, last + 1);
    fe_document_cell(doc, "%s",
                     fe_amount(doc, r->check.run.spans[first].length_m, FE_STYLE_LENGTH));
    for (size_t c = 0; c < columns; c++)
        fe_document_cell(
            doc, "%s",
            fe_amount(doc, sag_of(r, table, first, temp_of(r, c, columns)), FE_STYLE_DEPTH));
}

static void sag_table(report_writer *writer, const fe_posts_result *r,
                      const fe_posts_stringing *table, const char *title)
{
    const size_t columns =
        r->stringing.temp_count < MOST_TEMPS ? r->stringing.temp_count : (size_t)MOST_TEMPS;
    const size_t spans = r->check.run.span_count;
    fe_document *doc = writer->doc;
    fe_strbuf heads = FE_STRBUF_INIT;
    fe_strbuf_append(&heads, "span|long>");
    for (size_t c = 0; c < columns; c++)
        fe_strbuf_format(
            &heads, "|%s>",
            fe_amount(doc, r->stringing.temp_c[temp_of(r, c, columns)], FE_STYLE_TEMPERATURE));
    fe_document_table(doc, title, fe_strbuf_text(&heads));
    fe_document_free_text(doc, &heads);
    /* Spans that read alike to the centimetre share a row. */
    const double alike_m = 0.005;
    size_t rows = 0;
    for (size_t first = 0; first < spans && rows < FE_SHEET_MOST_POSTS; rows++) {
        size_t last = first;
        while (last + 1 < spans && report_spans_alike(r, first, last + 1, alike_m))
            last++;
        sag_row(writer, r, table, first, last, columns);
        first = last + 1;
    }
}

/* ---- What to cut ---- */

/* The same pieces, cut and set alike. */
static bool stays_alike(const fe_posts_hold *hold, const fe_posts_hold *other)
{
    const double alike_m = 0.005;
    return hold->lines == other->lines && hold->strand == other->strand &&
           hold->anchor == other->anchor && hold->rock == other->rock &&
           fabs(hold->stay.length_m - other->stay.length_m) < alike_m &&
           fabs(hold->lead_m - other->lead_m) < alike_m;
}

/* "1 to 15, 26": the posts from `first` whose stays are alike; marks them as told. */
static void name_alike(const fe_posts_hold *holds, size_t count, size_t first, bool *told,
                       fe_strbuf *text)
{
    fe_strbuf_clear(text);
    for (size_t i = first; i < count; i++) {
        size_t end = i;
        while (end < count && !told[end] && stays_alike(&holds[first], &holds[end]))
            told[end++] = true;
        if (end == i)
            continue;
        fe_strbuf_format(text, i == first ? "%zu" : ", %zu", i + 1);
        if (end > i + 1)
            fe_strbuf_format(text, end == i + 2 ? ", %zu" : " to %zu", end);
        i = end - 1;
    }
}

static void stay_lengths(report_writer *writer, const fe_posts_result *r)
{
    fe_document *doc = writer->doc;
    const size_t count = shown_posts(r);
    fe_posts_hold holds[FE_SHEET_MOST_POSTS];
    bool told[FE_SHEET_MOST_POSTS];
    fe_strbuf anchor = FE_STRBUF_INIT;
    fe_strbuf posts = FE_STRBUF_INIT;
    for (size_t i = 0; i < count; i++)
        told[i] = fe_posts_hold_of(r, i, &holds[i]) != FE_OK; /* nothing to tell */
    for (size_t i = 0; i < count; i++) {
        const fe_posts_hold *hold = &holds[i];
        if (told[i])
            continue;
        name_alike(holds, count, i, told, &posts);
        report_anchor(doc, hold, &anchor);
        fe_document_item(
            doc,
            "%s of post %s: %s of strand %s%s, foot %s from the post, %s, on %s, its plate "
            "%s down in line with the stay",
            hold->lines > 1 ? "each stay" : "stay", fe_strbuf_text(&posts),
            fe_amount(doc, hold->stay.length_m + REPORT_STAY_ENDS_M, FE_STYLE_LENGTH),
            hold->strand ? hold->strand->size_in : "stronger than any of the table",
            hold->strand ? " in high strength" : "",
            fe_amount(doc, hold->lead_m, FE_STYLE_HEIGHT),
            hold->lines > 1 ? "one each way in the line" : "outwards, halving the corner",
            fe_strbuf_text(&anchor), fe_amount(doc, REPORT_PLATE_DEPTH_M, FE_STYLE_DEPTH));
    }
    fe_document_free_text(doc, &posts);
    fe_document_free_text(doc, &anchor);
}

static void cut_list(report_writer *writer, const fe_posts_result *r)
{
    fe_document *doc = writer->doc;
    fe_document_heading(doc, 2, "Cut");
    fe_document_item(doc,
                     "cable %s: %s: %s in the air with its sag, %s down the walls, %s drip "
                     "loops, %s slack, %s indoors",
                     r->cable->label, fe_amount(doc, r->buy.total_m, FE_STYLE_LENGTH),
                     fe_amount(doc, r->buy.in_air_m, FE_STYLE_LENGTH),
                     fe_amount(doc, r->buy.drops_m, FE_STYLE_LENGTH),
                     fe_amount(doc, r->buy.drip_m, FE_STYLE_LENGTH),
                     fe_amount(doc, r->buy.slack_m, FE_STYLE_LENGTH),
                     fe_amount(doc, r->buy.indoor_m, FE_STYLE_LENGTH));
    if (r->buy.messenger_m > 0.0)
        fe_document_item(doc, "carrying strand (messenger), %s: %s", r->messenger,
                         fe_amount(doc, r->buy.messenger_m, FE_STYLE_LENGTH));
    if (r->above)
        fe_document_item(doc, "supply cable %s: %s, indoor ends apart", r->supply->label,
                         fe_amount(doc, r->supply_m, FE_STYLE_LENGTH));
    stay_lengths(writer, r);
}

/* ---- Set, hang, pull ---- */

static void set_list(report_writer *writer, const fe_posts_result *r)
{
    fe_document *doc = writer->doc;
    if (r->route.post_count == 0)
        return;
    fe_document_heading(doc, 2, "Set");
    fe_document_item(
        doc,
        "posts %s %s, %s, treated for the ground; drill each for its bolt %s below "
        "the top, along the line, before it is set",
        r->material.section == FE_POST_ROUND ? "round" : "square",
        fe_amount(doc, r->material.width_m, FE_STYLE_THICKNESS),
        r->plan->posts.wood ? r->plan->posts.wood : "C24",
        fe_amount(doc, r->material.top_m, FE_STYLE_DEPTH));
    if (r->above)
        fe_document_item(doc,
                         "and for the supply cable %s over that, on the same side; on both "
                         "walls as well",
                         fe_amount(doc, r->above->up_m, FE_STYLE_DEPTH));
    if (r->hardware.stays > 0)
        fe_document_item(doc,
                         "set the stays, a thimble and a grip at each end, and draw them snug "
                         "by the turnbuckle before the cable is pulled; a guard on each "
                         "where somebody passes");
    fe_document_item(
        doc, "dig with auger or long bar, no wider than tamping needs, and cover the hole "
             "until its post stands; nobody climbs in. Water in it, or sides that fall in: "
             "stop, the depth is that for ground that stands");
    fe_document_item(
        doc, "slide the butt down a board against the far side, three people and ropes to "
             "pegs on three sides until it is tamped, in layers of a hand's breadth; plumb "
             "two ways. No pull and no ladder on a post before");
    for (size_t i = 0; i < shown_posts(r); i++) {
        const fe_route_place *place = &r->places[r->route.places[i]];
        if (place->turn_rad > 0.0)
            fe_document_item(doc,
                             "post %zu: the line turns by %s%s; its bolt halves the corner",
                             i + 1, fe_amount(doc, place->turn_rad, FE_STYLE_ANGLE),
                             report_corner_side(r, place->at_m));
    }
}

static void wave_item(const fe_posts_result *r, fe_document *doc)
{
    const double sag_m = r->check.run.spans[0].stringing_sag_m;
    double three_s = 0.0;
    double five_s = 0.0;
    if (fe_span_wave_time(sag_m, 3, &three_s) < 0 || fe_span_wave_time(sag_m, 5, &five_s) < 0)
        return;
    fe_document_item(doc,
                     "or strike the cable beside a post and time its return waves: span 1 at "
                     "%s three in %.1f\xc2\xa0s, five in %.1f\xc2\xa0s (any span: seconds "
                     "for three, squared, times %s is its sag)",
                     fe_amount(doc, r->input.run.stringing_c, FE_STYLE_TEMPERATURE), three_s,
                     five_s,
                     fe_amount_digits(doc, sag_m / (three_s * three_s), FE_STYLE_DEPTH, 2));
}

/* What it hangs by, and what goes up before it. */
static void hang_items(const fe_posts_result *r, fe_document *doc)
{
    char grip[REPORT_LABEL_ROOM];
    fe_document_item(
        doc,
        "%zu bolts, one a post (%s long, " REPORT_BOLT_THICKNESS
        ", %s) and one a wall (through a beam or masonry, a plate behind, never boards), %zu "
        "dead-end grips for %s, all for a pull of %s with ice and wind",
        r->hardware.bolts, fe_amount(doc, report_bolt_length(r), FE_STYLE_THICKNESS),
        r->input.run.free_running ? "with an eye" : "an eye on each side", r->hardware.grips,
        report_grip_for(r, doc, grip),
        fe_amount(doc, r->check.uses[FE_ROUTE_PULL].value, FE_STYLE_FORCE));
    if (r->above)
        fe_document_item(doc,
                         "the supply cable first, as many bolts and grips again, for a pull of "
                         "%s, dead and locked off: a licensed electrician's work",
                         fe_amount(doc, r->check.uses[FE_ROUTE_ABOVE].value, FE_STYLE_FORCE));
}

static void pull_items(const fe_posts_result *r, fe_document *doc)
{
    if (*r->messenger)
        fe_document_item(doc,
                         "lash the cable to the strand on the ground, a tie every %s, and "
                         "pull both up together",
                         fe_amount(doc, REPORT_TIE_EVERY_M, FE_STYLE_DEPTH));
    if (*r->messenger && !r->input.run.free_running)
        fe_document_item(
            doc,
            "the strand is cut for each span, the cable never: it passes a post in a "
            "loose loop, with no tie for %s on each side",
            fe_amount(doc, 0.5, FE_STYLE_DEPTH));
    if (r->input.run.free_running)
        fe_document_item(doc,
                         "the cable slides in %zu clamps; tie it off at the two walls "
                         "alone",
                         r->hardware.slides);
    else
        fe_document_item(doc, "span 1 first: tie it off at the mark's wall, pull from post 1, "
                              "tie off there; then the next span from the other side of it");
    fe_document_item(
        doc,
        "read the air in the shade, find its column or the place between two; sight from "
        "that far below the hook on one side to as far below the next, and pull, by a rope "
        "hoist with the gauge between it and the grip, until the cable touches the line of "
        "sight. It looks slack and has to: a tighter one breaks walls and posts in ice");
    wave_item(r, doc);
}

static void wall_items(const fe_posts_result *r, fe_document *doc)
{
    report_strung_heights(r, doc);
    fe_document_item(doc,
                     "down both walls: clips, a drip loop of %s, a sleeve that slopes "
                     "outwards",
                     fe_amount(doc, 0.5 * r->buy.drip_m, FE_STYLE_DEPTH));
    if (r->hung.metallic)
        fe_document_item(doc,
                         "arrester at both entries, within %s, on a short bond to the "
                         "building's earth; steel that carries is bonded at one end, of the "
                         "electrician's choice: a "
                         "licensed electrician's work",
                         fe_amount(doc, REPORT_ARRESTER_WITHIN_M, FE_STYLE_HEIGHT));
    fe_document_item(doc, "after the first winter pull it to the table again; look after every "
                          "ice and gale, and probe posts at the ground line");
}

static void pull_list(report_writer *writer, const fe_posts_result *r)
{
    fe_document_heading(writer->doc, 2, "Hang and pull");
    hang_items(r, writer->doc);
    pull_items(r, writer->doc);
    fe_document_heading(writer->doc, 2, "Check, then the walls");
    wall_items(r, writer->doc);
}

/* ---- To write down, dangers ---- */

static void readings(report_writer *writer, const fe_posts_result *r)
{
    fe_document *doc = writer->doc;
    const size_t spans = r->check.run.span_count;
    const size_t middle = r->stringing.temp_count / 2;
    char what[64];
    sheet_start_readings(writer);
    sheet_to_read(writer, "air when pulling", "", "");
    sheet_to_read(writer, "sag of span 1", "by the table", "a tenth off");
    if (spans > 1) {
        snprintf(what, sizeof what, "sag of span %zu", spans);
        sheet_to_read(writer, what, "by the table", "a tenth off");
    }
    snprintf(what, sizeof what, "pull in span 1 at %s",
             fe_amount(doc, r->stringing.temp_c[middle], FE_STYLE_TEMPERATURE));
    sheet_to_read(writer, what,
                  fe_amount(doc, r->stringing.pull_n[middle * spans], FE_STYLE_FORCE), "");
    sheet_to_read(writer, "lowest place above ground", "", "");
    sheet_to_read(writer, "soil in the holes", r->plan->posts.soil ? r->plan->posts.soil : "",
                  "water stands in it");
}

static void dangers(fe_document *doc)
{
    fe_document_heading(doc, 2, "Dangers");
    fe_document_item(doc, "Supply lines: keep post, cable and ladder a full post length away, "
                          "falling too.");
    fe_document_item(doc, "Call before you dig.");
    fe_document_item(doc,
                     "Work at height with a belt or a scaffold, never alone, never in wind, "
                     "on ice or with thunder near.");
    fe_document_item(doc,
                     "Within a post's length of one that is not tamped only those who raise "
                     "and tamp it; nobody stands below or astride a cable that is pulled.");
    fe_document_item(doc, "Two people stretch: one at the pull, one at the sag.");
    fe_document_item(doc, "Ice, snow or wind beyond the plan's can bring it down. Trees are no "
                          "posts.");
    fe_document_item(doc, "Over a road or near supply lines a qualified designer decides, and "
                          "everywhere the local code.");
}

void sheet_posts(report_writer *writer, const fe_posts_result *r)
{
    sketch(writer, r);
    posts_table(writer, r);
    sag_table(writer, r, &r->stringing,
              "Sag by air temperature; span 1 starts at the fixed mark");
    if (r->above)
        sag_table(writer, r, &r->supply_stringing, "The same of the supply cable");
    cut_list(writer, r);
    set_list(writer, r);
    pull_list(writer, r);
    readings(writer, r);
    dangers(writer->doc);
}
