/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/route.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "route_line.h"

/*
 * A state is a span: from a node (route_line.h) with a kind of post to a later node with a kind
 * of post. Its value is the best way to get there: posts, stays, largest moment of the posts
 * passed, in that order. Nodes are worked off in rising order, so every state is final before it
 * is used.
 */
typedef struct state {
    int posts; /* -1: not reached */
    int stays;
    double moment_n_m;
    size_t before; /* key of the state that led here */
} state;

/* Nodes of a span. */
typedef struct ends {
    size_t from;
    size_t to;
} ends;

typedef struct search {
    route_line line;
    size_t kinds;   /* kinds in use: all, or those without stays */
    size_t heights; /* different attachments of kinds */
    size_t height_of[FE_ROUTE_MOST_KINDS];
    size_t kind_list[FE_ROUTE_MOST_KINDS]; /* kinds in use */
    int *numbers; /* of spans by nodes: CLOSED, or of those that a route may use, in `spans` */
    ends *spans;
    size_t span_count;
    size_t span_room;
    state *states; /* of each numbered span, by kinds at its end and at its start */
    int *edges;    /* of the same by heights: EDGE_NEW, EDGE_NONE or a number */
    double *pulls; /* of edge e: the four of a span, then a pull a case */
    size_t row_room;
    int *spare_rows; /* of pulls */
    size_t spare_count;
    int *from_start; /* fewest spans from the first building, optimistic; INT_MAX none */
    int *to_end;
    size_t *incoming;    /* keys */
    int *least_posts;    /* of each stringing pull, by the optimistic look; -1 not known yet */
    unsigned char *open; /* a bit for each stringing pull and pair of nodes, by the same look */
    size_t open_size;    /* bytes of one stringing pull */
    size_t *order;       /* of stringing pulls, those that may do with fewest posts first */
} search;

enum { EDGE_NEW = -1, EDGE_NONE = -2, EDGE_HEAD = 4 };
enum { CLOSED = -1 };
static const size_t NO_STATE = SIZE_MAX;

static size_t pair_of(const search *s, size_t i, size_t j)
{
    return i * (s->line.steps + 1) + (j - i);
}

static int *number_of(const search *s, size_t i, size_t j)
{
    return &s->numbers[pair_of(s, i, j)];
}

static bool is_open(const search *s, size_t string, size_t i, size_t j)
{
    const size_t pair = pair_of(s, i, j);
    return s->open[string * s->open_size + pair / CHAR_BIT] >> pair % CHAR_BIT & 1;
}

static size_t state_key(const search *s, int span, size_t ki, size_t kj)
{
    return ((size_t)span * s->kinds + kj) * s->kinds + ki;
}

/* The span and the kind at its start that a state was made of. */
static int span_of_state(const search *s, size_t key)
{
    return (int)(key / (s->kinds * s->kinds));
}

static size_t kind_before(const search *s, size_t key)
{
    return key % s->kinds;
}

static bool is_building(const search *s, size_t node)
{
    return node == 0 || node + 1 == s->line.count;
}

static size_t kinds_at(const search *s, size_t node)
{
    return is_building(s, node) ? 1 : s->kinds;
}

static const fe_posts_kind *kind_of(const search *s, size_t kind)
{
    return &s->line.input->kinds[s->kind_list[kind]];
}

/* ---- Spans ---- */

static double *row_of(const search *s, int edge)
{
    return s->pulls + (size_t)edge * (s->line.kernel.pull_count + EDGE_HEAD);
}

static void give_row(search *s, int row)
{
    s->spare_rows[s->spare_count++] = row;
}

static fe_status take_row(search *s, int *row)
{
    if (s->spare_count == 0) {
        const size_t room = s->row_room + s->row_room / 2 + 1024;
        const size_t stride = s->line.kernel.pull_count + EDGE_HEAD;
        double *pulls = realloc(s->pulls, room * stride * sizeof *pulls);
        s->pulls = pulls ? pulls : s->pulls;
        int *spare_rows = pulls ? realloc(s->spare_rows, room * sizeof *spare_rows) : NULL;
        if (!spare_rows)
            return FE_E_MEMORY;
        s->spare_rows = spare_rows;
        while (s->row_room < room)
            give_row(s, (int)s->row_room++);
    }
    *row = s->spare_rows[--s->spare_count];
    return FE_OK;
}

static route_span edge_span(const search *s, int edge)
{
    double *row = row_of(s, edge);
    return (route_span){row[0], row[1], row[2], row[3], row + EDGE_HEAD};
}

/* The span between two attachments, worked out once for each stringing pull. */
static fe_status find_edge(search *s, int span_number, size_t ki, size_t kj, int *edge)
{
    const size_t i = s->spans[span_number].from;
    const size_t j = s->spans[span_number].to;
    const size_t hi = is_building(s, i) ? 0 : s->height_of[ki];
    const size_t hj = is_building(s, j) ? 0 : s->height_of[kj];
    int *kept = &s->edges[((size_t)span_number * s->heights + hi) * s->heights + hj];
    if (*kept == EDGE_NEW) {
        int number = 0;
        if (take_row(s, &number) != FE_OK)
            return FE_E_MEMORY;
        double *row = row_of(s, number);
        const double from_m = route_line_height(&s->line, i, kind_of(s, ki)->attachment_m);
        route_span span = {.pull_n = row + EDGE_HEAD};
        route_span_pulls(&s->line.kernel, s->line.at_m[j] - s->line.at_m[i],
                         route_line_height(&s->line, j, kind_of(s, kj)->attachment_m) - from_m,
                         &span);
        row[0] = span.length_m;
        row[1] = span.rise_m;
        row[2] = span.slope;
        row[3] = span.chord_m;
        const bool holds = route_span_use(&s->line.kernel, &span, s->line.at_m[i], from_m, 1.0,
                                          1.0, NULL) <= 1.0;
        if (!holds)
            give_row(s, number);
        *kept = holds ? number : EDGE_NONE;
    }
    *edge = *kept;
    return FE_OK;
}

/* Nobody asks again for the spans to a node that is passed, unless another try does. */
static void forget_edges(search *s, size_t j)
{
    const size_t most = j < s->line.steps ? j : s->line.steps;
    const size_t each = s->heights * s->heights;
    for (size_t step = 1; step <= most; step++) {
        const int span = *number_of(s, j - step, j);
        for (size_t e = 0; span != CLOSED && e < each; e++) {
            int *edge = &s->edges[(size_t)span * each + e];
            if (*edge < 0)
                continue;
            give_row(s, *edge);
            *edge = EDGE_NEW;
        }
    }
}

/* Least and largest attachment of the kinds in use: all that the optimistic look knows. */
static void attachment_range(const search *s, double *lowest_m, double *highest_m)
{
    *lowest_m = INFINITY;
    *highest_m = 0.0;
    for (size_t k = 0; k < s->kinds; k++) {
        *lowest_m = fmin(*lowest_m, kind_of(s, k)->attachment_m);
        *highest_m = fmax(*highest_m, kind_of(s, k)->attachment_m);
    }
}

/*
 * A look that never says no to a span that holds: highest attachments at both posts, and drops
 * and pulls taken smaller by more than the slope between any two attachments can change them.
 */
static bool may_hold(search *s, size_t i, size_t j, double highest_m, double spread_m,
                     double *pulls)
{
    const double length_m = s->line.at_m[j] - s->line.at_m[i];
    const double from_m = route_line_height(&s->line, i, highest_m);
    const double rise_m = route_line_height(&s->line, j, highest_m) - from_m;
    const double slope = fabs(rise_m) / length_m;
    const double steeper = slope + spread_m / length_m;
    const double relax = 0.95 * (1.0 + slope * slope) / (1.0 + steeper * steeper);
    route_span span = {.pull_n = pulls};
    if (route_sags_too_far(&s->line.kernel, length_m, rise_m, relax))
        return false;
    route_span_pulls(&s->line.kernel, length_m, rise_m, &span);
    return route_span_use(&s->line.kernel, &span, s->line.at_m[i], from_m, 1.0, relax, NULL) <=
           1.0;
}

/* Fewest spans from the first building and to the far one, by the spans that are open. */
static void count_spans(search *s, size_t string)
{
    for (size_t i = 0; i < s->line.count; i++)
        s->from_start[i] = s->to_end[i] = INT_MAX;
    s->from_start[0] = 0;
    s->to_end[s->line.count - 1] = 0;
    for (size_t i = 0; i + 1 < s->line.count; i++)
        for (size_t j = i + 1; j <= s->line.reach[i] && s->from_start[i] != INT_MAX; j++)
            if (is_open(s, string, i, j) && s->from_start[i] + 1 < s->from_start[j])
                s->from_start[j] = s->from_start[i] + 1;
    for (size_t i = s->line.count - 1; i-- > 0;)
        for (size_t j = i + 1; j <= s->line.reach[i]; j++)
            if (s->to_end[j] != INT_MAX && is_open(s, string, i, j) &&
                s->to_end[j] + 1 < s->to_end[i])
                s->to_end[i] = s->to_end[j] + 1;
}

static void look_ahead(search *s, size_t string)
{
    unsigned char *open = s->open + string * s->open_size;
    double pulls[ROUTE_MOST_PULLS];
    double lowest_m = 0.0;
    double highest_m = 0.0;
    attachment_range(s, &lowest_m, &highest_m);
    memset(open, 0, s->open_size);
    for (size_t i = 0; i < s->line.count; i++)
        s->from_start[i] = INT_MAX;
    s->from_start[0] = 0;
    for (size_t i = 0; i + 1 < s->line.count; i++)
        for (size_t j = i + 1; j <= s->line.reach[i] && s->from_start[i] != INT_MAX; j++)
            if (route_line_allows(&s->line, s->line.at_m[j] - s->line.at_m[i]) &&
                may_hold(s, i, j, highest_m, highest_m - lowest_m, pulls)) {
                const size_t pair = pair_of(s, i, j);
                open[pair / CHAR_BIT] |= (unsigned char)(1u << pair % CHAR_BIT);
                s->from_start[j] = 1; /* reached, that is; counted below */
            }
    count_spans(s, string);
}

/* Whether a route of at most so many posts may have the span, by the optimistic look. */
static bool is_of_use(const search *s, size_t string, size_t i, size_t j, int most_posts)
{
    return is_open(s, string, i, j) && s->from_start[i] != INT_MAX && s->to_end[j] != INT_MAX &&
           s->from_start[i] + s->to_end[j] <= most_posts;
}

/* Numbers the spans that are of use, of which there are few: states and edges need room for
 * these alone. */
static fe_status number_spans(search *s, size_t string, int most_posts)
{
    s->span_count = s->spare_count = 0;
    for (size_t row = 0; row < s->row_room; row++)
        give_row(s, (int)row);
    for (size_t i = 0; i + 1 < s->line.count; i++)
        for (size_t j = i + 1; j <= s->line.reach[i]; j++)
            s->span_count += is_of_use(s, string, i, j, most_posts);
    if (s->span_count > s->span_room) {
        s->span_room = 0;
        free(s->spans);
        free(s->states);
        free(s->edges);
        s->spans = malloc(s->span_count * sizeof *s->spans);
        s->states = malloc(s->span_count * s->kinds * s->kinds * sizeof *s->states);
        s->edges = malloc(s->span_count * s->heights * s->heights * sizeof *s->edges);
        if (!s->spans || !s->states || !s->edges)
            return FE_E_MEMORY;
        s->span_room = s->span_count;
    }
    int number = 0;
    for (size_t i = 0; i + 1 < s->line.count; i++)
        for (size_t j = i + 1; j <= s->line.reach[i]; j++) {
            const bool is = is_of_use(s, string, i, j, most_posts);
            *number_of(s, i, j) = is ? number : CLOSED;
            if (is)
                s->spans[number++] = (ends){i, j};
        }
    for (size_t i = 0; i < s->span_count * s->heights * s->heights; i++)
        s->edges[i] = EDGE_NEW;
    return FE_OK;
}

/* ---- States ---- */

static bool is_better(int posts, int stays, double moment_n_m, const state *than)
{
    if (than->posts < 0 || posts != than->posts)
        return than->posts < 0 || posts < than->posts;
    if (stays != than->stays)
        return stays < than->stays;
    return moment_n_m < than->moment_n_m;
}

static void reach_state(search *s, size_t key, int posts, int stays, double moment_n_m,
                        size_t before)
{
    if (is_better(posts, stays, moment_n_m, &s->states[key]))
        s->states[key] = (state){posts, stays, moment_n_m, before};
}

/* States that arrive at a post, best first: most of the later ones then need no look. */
static size_t gather_incoming(search *s, size_t j, size_t kj)
{
    size_t count = 0;
    const size_t most = j < s->line.steps ? j : s->line.steps;
    for (size_t step = 1; step <= most; step++) {
        const int span = *number_of(s, j - step, j);
        for (size_t ki = 0; span != CLOSED && ki < kinds_at(s, j - step); ki++) {
            const size_t key = state_key(s, span, ki, kj);
            if (s->states[key].posts < 0)
                continue;
            size_t at = count++;
            const state *one = &s->states[key];
            for (; at > 0 && is_better(one->posts, one->stays, one->moment_n_m,
                                       &s->states[s->incoming[at - 1]]);
                 at--)
                s->incoming[at] = s->incoming[at - 1];
            s->incoming[at] = key;
        }
    }
    return count;
}

static fe_status leave_by(search *s, int span, size_t kj, size_t kk, size_t count,
                          int most_posts)
{
    const size_t j = s->spans[span].from;
    const size_t k = s->spans[span].to;
    const fe_posts_kind *kind = kind_of(s, kj);
    const bool last = k + 1 == s->line.count;
    const size_t target = state_key(s, span, kj, kk);
    const int more_posts = last ? 0 : 1;
    const int more_stays = !last && kind_of(s, kk)->stayed ? 1 : 0;
    const double turn_rad = s->line.input->places[j - 1].turn_rad;
    int forward = EDGE_NONE;
    fe_status status = find_edge(s, span, kj, kk, &forward);
    for (size_t n = 0; n < count && status == FE_OK && forward >= 0; n++) {
        const size_t key = s->incoming[n];
        const state from = s->states[key];
        const int posts = from.posts + more_posts;
        if (posts + (last ? 0 : s->to_end[k] - 1) > most_posts)
            break;
        if (!is_better(posts, from.stays + more_stays, from.moment_n_m, &s->states[target]))
            break;
        int back = EDGE_NONE;
        status = find_edge(s, span_of_state(s, key), kind_before(s, key), kj, &back);
        if (status != FE_OK)
            return status;
        const route_span behind = edge_span(s, back);
        const route_span ahead = edge_span(s, forward);
        double moment_n_m = 0.0;
        if (!route_post_holds(&s->line.kernel, kind, turn_rad, &behind, &ahead, &moment_n_m))
            continue;
        reach_state(s, target, posts, from.stays + more_stays,
                    fmax(from.moment_n_m, moment_n_m), key);
    }
    return status;
}

static fe_status leave_node(search *s, size_t j, size_t kj, int most_posts)
{
    const size_t count = gather_incoming(s, j, kj);
    fe_status status = FE_OK;
    for (size_t k = j + 1; k <= s->line.reach[j] && count > 0 && status == FE_OK; k++) {
        const int span = *number_of(s, j, k);
        for (size_t kk = 0; span != CLOSED && kk < kinds_at(s, k) && status == FE_OK; kk++)
            status = leave_by(s, span, kj, kk, count, most_posts);
    }
    return status;
}

static fe_status leave_start(search *s, int most_posts)
{
    fe_status status = FE_OK;
    for (size_t k = 1; k <= s->line.reach[0] && status == FE_OK; k++) {
        const bool last = k + 1 == s->line.count;
        const int span = *number_of(s, 0, k);
        if (span == CLOSED || (last ? 0 : s->to_end[k]) > most_posts)
            continue;
        for (size_t kk = 0; kk < kinds_at(s, k) && status == FE_OK; kk++) {
            int edge = EDGE_NONE;
            status = find_edge(s, span, 0, kk, &edge);
            if (status == FE_OK && edge >= 0)
                reach_state(s, state_key(s, span, 0, kk), last ? 0 : 1,
                            !last && kind_of(s, kk)->stayed ? 1 : 0, 0.0, 0);
        }
    }
    return status;
}

/* All states of one stringing pull with at most so many posts; the best at the far end. */
static fe_status run_states(search *s, int most_posts, size_t *best)
{
    for (size_t i = 0; i < s->span_count * s->kinds * s->kinds; i++)
        s->states[i].posts = -1;
    fe_status status = leave_start(s, most_posts);
    for (size_t j = 1; j + 1 < s->line.count && status == FE_OK; j++) {
        for (size_t kj = 0; kj < s->kinds && status == FE_OK; kj++)
            status = leave_node(s, j, kj, most_posts);
        forget_edges(s, j);
    }
    if (status != FE_OK)
        return status;
    *best = gather_incoming(s, s->line.count - 1, 0) > 0 ? s->incoming[0] : NO_STATE;
    return FE_OK;
}

/* ---- The result ---- */

static fe_status take_route(const search *s, size_t key, fe_route *route)
{
    const state *last = &s->states[key];
    fe_route found = {.stringing_n = s->line.kernel.stringing_n,
                      .post_count = (size_t)last->posts,
                      .stay_count = (size_t)last->stays,
                      .moment_n_m = last->moment_n_m};
    found.places = calloc(found.post_count + 1, sizeof *found.places);
    found.kinds = calloc(found.post_count + 1, sizeof *found.kinds);
    if (!found.places || !found.kinds) {
        fe_route_free(&found);
        return FE_E_MEMORY;
    }
    for (size_t i = found.post_count; i-- > 0; key = s->states[key].before) {
        found.places[i] = s->spans[span_of_state(s, key)].from - 1;
        found.kinds[i] = s->kind_list[kind_before(s, key)];
    }
    fe_route_free(route);
    *route = found;
    return FE_OK;
}

void fe_route_free(fe_route *route)
{
    free(route->places);
    free(route->kinds);
    *route = (fe_route){0};
}

/* ---- Setting up ---- */

/* A post that its own wind and that on the shortest spans break stands nowhere: every limit but
 * lift grows with each load. */
static bool stands_somewhere(const search *s, const fe_posts_kind *kind)
{
    for (size_t c = 0; c < s->line.kernel.case_count && !s->line.input->posts_free; c++) {
        const fe_run_case *load = &s->line.kernel.cases[c];
        /* A stay may take the cable's wind. */
        const double wind_m = kind->stayed ? 0.0 : s->line.input->span_low_m;
        const fe_posts_load least = {.cable_wind_n = load->wind_n_m * wind_m,
                                     .pressure_pa = load->pressure_pa,
                                     .thaw = load->thaw};
        fe_posts_duty duty;
        fe_posts_check(kind, &least, &duty);
        if (duty.use > 1.0)
            return false;
    }
    return true;
}

/* Kinds in use, and which of them share a height of attachment. One stays in any case: it may
 * be that no post is needed. */
static void set_kinds(search *s, bool stays)
{
    s->kinds = s->heights = 0;
    for (size_t k = 0; k < s->line.input->kind_count; k++) {
        const bool last = k + 1 == s->line.input->kind_count && s->kinds == 0;
        if (s->line.input->kinds[k].stayed && !stays)
            continue;
        if (!stands_somewhere(s, &s->line.input->kinds[k]) && !last)
            continue;
        const double attachment_m = s->line.input->kinds[k].attachment_m;
        size_t height = s->heights;
        for (size_t other = 0; other < s->kinds; other++)
            if (kind_of(s, other)->attachment_m == attachment_m)
                height = s->height_of[other];
        s->heights += height == s->heights;
        s->height_of[s->kinds] = height;
        s->kind_list[s->kinds++] = k;
    }
}

static void free_search(search *s)
{
    route_line_free(&s->line);
    free(s->states);
    free(s->edges);
    free(s->pulls);
    free(s->spare_rows);
    free(s->numbers);
    free(s->spans);
    free(s->from_start);
    free(s->to_end);
    free(s->incoming);
    free(s->least_posts);
    free(s->open);
    free(s->order);
}

static fe_status make_search(const fe_route_input *input, search *s)
{
    *s = (search){0};
    const fe_status status = route_line_make(input, &s->line);
    if (status != FE_OK)
        return status;
    const size_t pairs = s->line.count * (s->line.steps + 1);
    s->from_start = calloc(s->line.count, sizeof *s->from_start);
    s->to_end = calloc(s->line.count, sizeof *s->to_end);
    s->least_posts = malloc(input->string_count * sizeof *s->least_posts);
    s->numbers = malloc(pairs * sizeof *s->numbers);
    s->open_size = pairs / CHAR_BIT + 1;
    s->open = malloc(input->string_count * s->open_size);
    s->order = malloc(input->string_count * sizeof *s->order);
    if (!s->from_start || !s->to_end || !s->least_posts || !s->numbers || !s->open || !s->order)
        return FE_E_MEMORY;
    for (size_t i = 0; i < input->string_count; i++)
        s->least_posts[i] = -1;
    for (size_t i = 0; i < pairs; i++)
        s->numbers[i] = CLOSED;
    return FE_OK;
}

/* ---- The search ---- */

/* Fewest posts of a stringing pull by the optimistic look, once for attachments as they are. */
static fe_status look_at_string(search *s, size_t string)
{
    if (s->least_posts[string] >= 0)
        return FE_OK;
    const fe_status status =
        route_kernel_string(&s->line.kernel, s->line.input->strings_n[string]);
    if (status != FE_OK)
        return status;
    look_ahead(s, string);
    if (s->line.kernel.out_of_memory)
        return FE_E_MEMORY;
    s->least_posts[string] = s->to_end[0] == INT_MAX ? INT_MAX : s->to_end[0] - 1;
    return FE_OK;
}

/* What may do with fewest posts goes first: the others then need a look only where they may do
 * with as few. As they come where any route will do. */
static fe_status order_strings(search *s)
{
    const bool any = s->line.input->any_route;
    for (size_t i = 0; i < s->line.input->string_count; i++) {
        const fe_status status = any ? FE_OK : look_at_string(s, i);
        if (status != FE_OK)
            return status;
        size_t at = i;
        for (; !any && at > 0 && s->least_posts[s->order[at - 1]] > s->least_posts[i]; at--)
            s->order[at] = s->order[at - 1];
        s->order[at] = i;
    }
    return FE_OK;
}

/* The best route of one stringing pull, where it beats what is known; of equal ones the pull
 * that comes first in the input. */
static fe_status try_string(search *s, size_t string, int *most_posts, size_t *known_string,
                            fe_route *route)
{
    fe_status status = look_at_string(s, string);
    if (status != FE_OK || s->least_posts[string] > *most_posts)
        return status;
    status = route_kernel_string(&s->line.kernel, s->line.input->strings_n[string]);
    if (status != FE_OK)
        return status;
    count_spans(s, string);
    const int least = s->to_end[0];
    /* First with few posts to spare, which leaves most states out; then with as many as may
     * be. */
    const int tries[] = {least - 1, least + 1, *most_posts};
    size_t best = NO_STATE;
    for (size_t i = 0; i < sizeof tries / sizeof tries[0] && best == NO_STATE; i++) {
        const int bound = tries[i] < *most_posts ? tries[i] : *most_posts;
        if (i > 0 && tries[i - 1] >= *most_posts)
            break;
        status = number_spans(s, string, bound);
        if (status == FE_OK)
            status = run_states(s, bound, &best);
        if (s->line.kernel.out_of_memory)
            status = FE_E_MEMORY;
        if (status != FE_OK)
            return status;
    }
    if (best == NO_STATE)
        return FE_OK;
    const state *found = &s->states[best];
    const state known = {route->places ? (int)route->post_count : -1, (int)route->stay_count,
                         route->moment_n_m, 0};
    const bool equal = found->posts == known.posts && found->stays == known.stays &&
                       found->moment_n_m == known.moment_n_m;
    const bool earlier = equal && string < *known_string;
    if (!earlier && !is_better(found->posts, found->stays, found->moment_n_m, &known))
        return FE_OK;
    *known_string = string;
    *most_posts = found->posts;
    return take_route(s, best, route);
}

static fe_status search_kinds(search *s, bool stays, int most_posts, fe_route *route)
{
    size_t known_string = 0; /* with stays only fewer posts are better */
    double lowest_m = 0.0, highest_m = 0.0, low_m = 0.0, high_m = 0.0;
    attachment_range(s, &lowest_m, &highest_m);
    set_kinds(s, stays);
    if (s->kinds == 0)
        return FE_OK;
    attachment_range(s, &low_m, &high_m);
    for (size_t i = 0; i < s->line.input->string_count; i++)
        if (low_m != lowest_m || high_m != highest_m)
            s->least_posts[i] = -1;
    free(s->incoming);
    s->incoming = malloc((s->line.steps + 1) * s->kinds * sizeof *s->incoming);
    s->span_room = 0; /* that there was is for other kinds */
    fe_status status = s->incoming ? order_strings(s) : FE_E_MEMORY;
    for (size_t i = 0; i < s->line.input->string_count && status == FE_OK; i++) {
        status = try_string(s, s->order[i], &most_posts, &known_string, route);
        if (s->line.input->any_route && route->places)
            break;
    }
    return status;
}

static bool has_stays(const fe_route_input *input)
{
    if (input->posts_free)
        return false;
    for (size_t k = 0; k < input->kind_count; k++)
        if (input->kinds[k].stayed)
            return true;
    return false;
}

fe_status fe_route_search(const fe_route_input *input, fe_route *route)
{
    if (!route_input_is_sound(input))
        return FE_E_DOMAIN;
    search s;
    fe_route found = {0};
    fe_status status = make_search(input, &s);
    if (status == FE_OK)
        status = search_kinds(&s, false, FE_ROUTE_MOST_POSTS, &found);
    /* Stays are worth it only where they save a post. */
    const int fewer = found.places ? (int)found.post_count - 1 : FE_ROUTE_MOST_POSTS;
    if (status == FE_OK && has_stays(input) && fewer >= 0)
        status = search_kinds(&s, true, fewer, &found);
    /* Also where it ran out after the last look. */
    if (s.line.kernel.out_of_memory)
        status = FE_E_MEMORY;
    free_search(&s);
    if (status == FE_OK && !found.places)
        status = FE_E_NO_SOLUTION;
    if (status == FE_OK)
        *route = found;
    else
        fe_route_free(&found);
    return status;
}
