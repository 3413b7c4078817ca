/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closest of too few posts: what fails, and by how little. */
#include "farend/route.h"

#include <math.h>
#include <stdlib.h>

#include "route_line.h"

/* Smallest largest use of the spans, with so many of them, and the node before. */
typedef struct closest {
    double *use; /* [spans][node] */
    size_t *before;
    float *edge; /* [node][step] */
} closest;

static fe_status make_closest(const route_line *line, size_t spans, closest *c)
{
    c->use = malloc((spans + 1) * line->count * sizeof *c->use);
    c->before = calloc((spans + 1) * line->count, sizeof *c->before);
    c->edge = calloc(line->count * (line->steps + 1), sizeof *c->edge);
    return c->use && c->before && c->edge ? FE_OK : FE_E_MEMORY;
}

static void free_closest(closest *c)
{
    free(c->use);
    free(c->before);
    free(c->edge);
}

/* Uses of all spans; of one above `most`, and of one that is not allowed, only that it is. */
static void measure_edges(route_line *line, double attachment_m, double most, closest *c)
{
    double pulls[ROUTE_MOST_PULLS];
    for (size_t i = 0; i + 1 < line->count; i++)
        for (size_t j = i + 1; j <= line->reach[i]; j++) {
            const double length_m = line->at_m[j] - line->at_m[i];
            const double from_m = route_line_height(line, i, attachment_m);
            route_span span = {.pull_n = pulls};
            double use = INFINITY;
            if (route_line_allows(line, length_m)) {
                route_span_pulls(&line->kernel, length_m,
                                 route_line_height(line, j, attachment_m) - from_m, &span);
                use = route_span_use(&line->kernel, &span, line->at_m[i], from_m, most, 1.0,
                                     NULL);
            }
            c->edge[i * (line->steps + 1) + (j - i)] = use <= most ? (float)use : INFINITY;
        }
}

static void spread_closest(const route_line *line, size_t spans, closest *c)
{
    for (size_t i = 0; i < (spans + 1) * line->count; i++)
        c->use[i] = INFINITY;
    c->use[0] = 0.0;
    for (size_t n = 0; n < spans; n++)
        for (size_t i = 0; i + 1 < line->count; i++) {
            const double so_far = c->use[n * line->count + i];
            if (isinf(so_far))
                continue;
            for (size_t j = i + 1; j <= line->reach[i]; j++) {
                const double use =
                    fmax(so_far, (double)c->edge[i * (line->steps + 1) + (j - i)]);
                const size_t at = (n + 1) * line->count + j;
                if (use < c->use[at]) {
                    c->use[at] = use;
                    c->before[at] = i;
                }
            }
        }
}

static void keep_closest(const route_line *line, const closest *c, size_t spans, size_t kind,
                         fe_route *route)
{
    size_t node = line->count - 1;
    for (size_t n = spans; n > 1; n--) {
        node = c->before[n * line->count + node];
        route->places[n - 2] = node - 1;
        route->kinds[n - 2] = kind;
    }
    route->stringing_n = line->kernel.stringing_n;
}

size_t fe_route_highest_kind(const fe_route_input *input)
{
    size_t found = 0;
    for (size_t k = 1; k < input->kind_count; k++) {
        const fe_posts_kind *kind = &input->kinds[k];
        const fe_posts_kind *best = &input->kinds[found];
        if (kind->attachment_m > best->attachment_m ||
            (kind->attachment_m == best->attachment_m && best->stayed && !kind->stayed))
            found = k;
    }
    return found;
}

/* The least use of any stringing pull, where it is no more than `most`: else `route` is as it
 * was. */
static fe_status search_closest(route_line *line, size_t post_count, double *most, closest *c,
                                fe_route *route, bool *found)
{
    const size_t spans = post_count + 1;
    const size_t kind = fe_route_highest_kind(line->input);
    for (size_t i = 0; i < line->input->string_count; i++) {
        const fe_status status = route_kernel_string(&line->kernel, line->input->strings_n[i]);
        if (status != FE_OK)
            return status;
        measure_edges(line, line->input->kinds[kind].attachment_m, *most, c);
        if (line->kernel.out_of_memory)
            return FE_E_MEMORY;
        spread_closest(line, spans, c);
        const double use = c->use[spans * line->count + line->count - 1];
        if (*found ? use < *most : use <= *most) {
            *found = true;
            *most = use;
            keep_closest(line, c, spans, kind, route);
        }
    }
    return FE_OK;
}

/* Most spans use far more than the closest route does. How little that is shows only when it is
 * found, so that low uses are tried first. */
static fe_status widen_closest(route_line *line, size_t post_count, closest *c, fe_route *route)
{
    static const double FIRST_USE = 2.0;
    static const double WIDER = 4.0;
    static const double LARGEST_USE = 9e5; /* beyond it a span is none */
    bool found = false;
    for (double from = FIRST_USE; !found && from < WIDER * LARGEST_USE; from *= WIDER) {
        double most = fmin(from, LARGEST_USE);
        const fe_status status = search_closest(line, post_count, &most, c, route, &found);
        if (status != FE_OK)
            return status;
    }
    return found ? FE_OK : FE_E_NO_SOLUTION;
}

static fe_status judge_closest(route_line *line, fe_route *route, fe_route_use *worst)
{
    const fe_status status = route_kernel_string(&line->kernel, route->stringing_n);
    if (status != FE_OK)
        return status;
    fe_route_use spans;
    (void)route_whole_use(&line->kernel, route->places, route->kinds, route->post_count,
                          &route->moment_n_m, worst);
    /* A stay may mend a post, nothing mends a span: that is the reason to give. */
    if (route_whole_use(&line->kernel, route->places, route->kinds, route->post_count, NULL,
                        &spans) > 1.0)
        *worst = spans;
    for (size_t i = 0; i < route->post_count; i++)
        route->stay_count += line->input->kinds[route->kinds[i]].stayed;
    return FE_OK;
}

fe_status fe_route_closest(const fe_route_input *input, size_t post_count, fe_route *route,
                           fe_route_use *worst)
{
    if (!route_input_is_sound(input) || post_count > FE_ROUTE_MOST_POSTS)
        return FE_E_DOMAIN;
    route_line line = {0};
    closest c = {0};
    fe_route found = {.post_count = post_count};
    fe_status status = route_line_make(input, &line);
    if (status == FE_OK)
        status = make_closest(&line, post_count + 1, &c);
    found.places = calloc(post_count + 1, sizeof *found.places);
    found.kinds = calloc(post_count + 1, sizeof *found.kinds);
    if (status == FE_OK && (!found.places || !found.kinds))
        status = FE_E_MEMORY;
    if (status == FE_OK)
        status = widen_closest(&line, post_count, &c, &found);
    if (status == FE_OK)
        status = judge_closest(&line, &found, worst);
    if (line.kernel.out_of_memory)
        status = FE_E_MEMORY;
    free_closest(&c);
    route_line_free(&line);
    if (status == FE_OK)
        *route = found;
    else
        fe_route_free(&found);
    return status;
}
