/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figures of a run on posts: in section, and the stringing chart. */
#include <math.h>
#include <stdlib.h>

#include "farend/figures.h"
#include "farend/report_posts.h"
#include "report/report_posts_parts.h"

/* ---- In section ---- */

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
        (fe_overhead_line){report_posts_season(r, season), at_m, height_m, points, least_m};
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

/* ---- Stringing ---- */

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
        alike[s] = report_posts_first_alike(r, s);
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
