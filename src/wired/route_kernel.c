/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "route_kernel.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "run_kernel.h"

enum { CUBIC = 4, CACHE_BITS = 9, CACHE_ROOM = 1 << CACHE_BITS };

double route_length(const fe_route_input *input)
{
    return fe_profile_length(input->run.ground);
}

double route_height(const route_kernel *kernel, double at_m, double attachment_m)
{
    return fe_profile_height_at(kernel->input->run.ground, at_m) + attachment_m;
}

/* ---- The ground and what is asked over it ---- */

static int by_value(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

/* A point of the profile that lies on the line of its neighbours says nothing. */
static bool is_bend(const fe_profile *ground, size_t i)
{
    if (i == 0 || i + 1 == ground->count)
        return true;
    const double run_m = ground->distance_m[i + 1] - ground->distance_m[i - 1];
    const double share = (ground->distance_m[i] - ground->distance_m[i - 1]) / run_m;
    const double line_m =
        ground->height_m[i - 1] + share * (ground->height_m[i + 1] - ground->height_m[i - 1]);
    return fabs(ground->height_m[i] - line_m) > 1e-9;
}

static size_t gather_bounds(const fe_route_input *input, double *bounds)
{
    const double length_m = route_length(input);
    size_t count = 0;
    for (size_t i = 0; i < input->run.ground->count; i++)
        if (is_bend(input->run.ground, i))
            bounds[count++] = input->run.ground->distance_m[i];
    for (size_t i = 0; i < input->need_count; i++) {
        bounds[count++] = fmin(fmax(input->needs[i].from_m, 0.0), length_m);
        bounds[count++] = fmin(fmax(input->needs[i].to_m, 0.0), length_m);
    }
    bounds[count++] = fmin(input->wall_free_m, length_m);
    bounds[count++] = fmax(length_m - input->wall_free_m, 0.0);
    qsort(bounds, count, sizeof *bounds, by_value);
    return count;
}

static void ask_over(const fe_route_input *input, route_piece *piece)
{
    const double middle_m = 0.5 * (piece->from_m + piece->to_m);
    if (middle_m < input->wall_free_m || middle_m > route_length(input) - input->wall_free_m)
        return;
    for (size_t i = 0; i < input->need_count; i++) {
        const fe_clearance_need *need = &input->needs[i];
        if (middle_m < need->from_m || middle_m > need->to_m)
            continue;
        piece->over_ground_m = fmax(piece->over_ground_m, need->over_ground_m);
        piece->over_snow_m = fmax(piece->over_snow_m, need->over_snow_m);
    }
}

static fe_status make_pieces(route_kernel *kernel)
{
    const fe_route_input *input = kernel->input;
    const size_t most = input->run.ground->count + 2 * input->need_count + 2;
    double *bounds = calloc(most, sizeof *bounds);
    kernel->pieces = calloc(most, sizeof *kernel->pieces);
    if (!bounds || !kernel->pieces) {
        free(bounds);
        return FE_E_MEMORY;
    }
    const size_t count = gather_bounds(input, bounds);
    for (size_t i = 0; i + 1 < count; i++) {
        if (!(bounds[i + 1] - bounds[i] > 1e-9))
            continue;
        route_piece *piece = &kernel->pieces[kernel->piece_count++];
        piece->from_m = bounds[i];
        piece->to_m = bounds[i + 1];
        piece->ground_from_m = fe_profile_height_at(input->run.ground, bounds[i]);
        piece->ground_to_m = fe_profile_height_at(input->run.ground, bounds[i + 1]);
        ask_over(input, piece);
    }
    free(bounds);
    return FE_OK;
}

static double asked_over(const route_height_group *group, const route_piece *piece)
{
    return group->snow ? piece->over_snow_m : piece->over_ground_m;
}

static fe_status make_tops(const route_kernel *kernel, route_height_group *group)
{
    const size_t blocks = kernel->piece_count / ROUTE_BLOCK + 1;
    group->tops_m = malloc(blocks * sizeof *group->tops_m);
    if (!group->tops_m)
        return FE_E_MEMORY;
    for (size_t b = 0; b < blocks; b++)
        group->tops_m[b] = -INFINITY;
    for (size_t p = 0; p < kernel->piece_count; p++) {
        const route_piece *piece = &kernel->pieces[p];
        const double asked_m = asked_over(group, piece);
        double *top_m = &group->tops_m[p / ROUTE_BLOCK];
        if (asked_m > 0.0)
            *top_m = fmax(*top_m, fmax(piece->ground_from_m, piece->ground_to_m) +
                                      group->snow_m + asked_m);
    }
    return FE_OK;
}

static fe_status make_groups(route_kernel *kernel)
{
    const fe_run_input *run = &kernel->input->run;
    kernel->groups = calloc(run->season_count + 1, sizeof *kernel->groups);
    if (!kernel->groups)
        return FE_E_MEMORY;
    kernel->group_count = 1; /* bare ground, all seasons */
    for (size_t s = 0; s < run->season_count; s++)
        if (run->seasons[s].snow_depth_m > 0.0)
            kernel->groups[kernel->group_count++] = (route_height_group){
                .snow_m = run->seasons[s].snow_depth_m, .snow = true, .season = s};
    fe_status status = FE_OK;
    for (size_t g = 0; g < kernel->group_count && status == FE_OK; g++)
        status = make_tops(kernel, &kernel->groups[g]);
    return status;
}

/* Seasons share cases: the same load at the same temperature is looked at once. */
static void drop_repeated_cases(route_kernel *kernel)
{
    size_t kept = 0;
    for (size_t i = 0; i < kernel->case_count; i++) {
        const fe_run_case *one = &kernel->cases[i];
        bool seen = false;
        for (size_t k = 0; k < kept && !seen; k++) {
            const fe_run_case *other = &kernel->cases[k];
            const double snow_m = kernel->input->run.seasons[one->season].snow_depth_m;
            const double other_m = kernel->input->run.seasons[other->season].snow_depth_m;
            seen = one->kind == other->kind && one->thaw == other->thaw &&
                   one->temp_c == other->temp_c && one->vertical_n_m == other->vertical_n_m &&
                   one->wind_n_m == other->wind_n_m && snow_m == 0.0 && other_m == 0.0;
        }
        if (seen)
            continue;
        kernel->above[kept] = kernel->above[i];
        kernel->cases[kept++] = *one;
    }
    kernel->case_count = kept;
}

/* The run as the cable above hangs in it. */
static fe_run_input run_above(const fe_route_input *input)
{
    fe_run_input run = input->run;
    run.cable = input->above->cable;
    run.district = input->above->district;
    return run;
}

double fe_route_above_string(const fe_route_above *above, const fe_run_cable *first,
                             double stringing_n)
{
    return stringing_n * above->cable.weight_n_m / first->weight_n_m;
}

double route_above_arm(const fe_route_input *input, const fe_posts_kind *kind)
{
    return 1.0 + input->above->up_m / kind->attachment_m;
}

static fe_status make_above(const fe_route_input *input, route_kernel *kernel)
{
    if (!input->above)
        return FE_OK;
    const fe_run_input run = run_above(input);
    if (!(input->above->up_m > 0.0) || input->run.free_running ||
        fe_run_cases(&run, kernel->above) != kernel->case_count)
        return FE_E_DOMAIN;
    kernel->above_share = fe_route_above_string(input->above, &input->run.cable, 1.0);
    return FE_OK;
}

fe_status route_kernel_make(const fe_route_input *input, route_kernel *kernel)
{
    *kernel = (route_kernel){.input = input};
    if ((input->run.season_count + 1) * FE_RUN_CASE_KINDS > ROUTE_MOST_CASES)
        return FE_E_DOMAIN;
    kernel->case_count = fe_run_cases(&input->run, kernel->cases);
    fe_status status = make_above(input, kernel);
    if (status != FE_OK)
        return status;
    drop_repeated_cases(kernel);
    kernel->pull_count = kernel->case_count * (input->above ? 2 : 1);
    status = make_pieces(kernel);
    if (status == FE_OK)
        status = make_groups(kernel);
    kernel->tables = input->tables ? input->tables : fe_route_tables_new();
    kernel->cached = calloc(CACHE_ROOM, sizeof *kernel->cached);
    kernel->cached_n = calloc(CACHE_ROOM * CUBIC * kernel->pull_count, sizeof(double));
    if (status == FE_OK && (!kernel->tables || !kernel->cached || !kernel->cached_n))
        status = FE_E_MEMORY;
    if (status != FE_OK)
        route_kernel_free(kernel);
    return status;
}

void route_kernel_free(route_kernel *kernel)
{
    free(kernel->pieces);
    for (size_t g = 0; kernel->groups && g < kernel->group_count; g++)
        free(kernel->groups[g].tops_m);
    free(kernel->groups);
    free(kernel->cached);
    free(kernel->cached_n);
    if (kernel->input && !kernel->input->tables)
        fe_route_tables_free(kernel->tables);
    *kernel = (route_kernel){0};
}

/* ---- Pulls ---- */

static fe_status cable_pulls(const fe_run_input *run, double stringing_n,
                             const fe_run_case *cases, size_t case_count, double length_m,
                             double slope, double *ln_pull)
{
    const fe_span bare = {length_m, slope * length_m, run->cable.weight_n_m,
                          run->cable.stiffness_n};
    fe_span_shape strung;
    fe_status status = fe_span_at_tension(&bare, stringing_n, &strung);
    if (status < 0)
        return status;
    const run_piece piece = {length_m, bare.rise_m, strung.unstretched_excess_m};
    double ice_n = stringing_n;
    run_hung hung;
    for (size_t c = 0; c < case_count && run->cable.ice_set > 0.0; c++) {
        if (cases[c].kind != FE_RUN_ICE && cases[c].kind != FE_RUN_WET_SNOW)
            continue;
        status = run_hang(run, &piece, length_m, &cases[c], 0.0, &hung);
        if (status < 0)
            return status;
        ice_n = fmax(ice_n, hung.pull_n);
    }
    const double lasting =
        run->cable.creep + run->cable.ice_set * (ice_n - stringing_n) / run->cable.stiffness_n;
    for (size_t c = 0; c < case_count; c++) {
        const fe_run_case *load = &cases[c];
        status = run_hang(run, &piece, length_m, load, load->final ? lasting : 0.0, &hung);
        if (status < 0)
            return status;
        ln_pull[c] = log(hung.pull_n);
    }
    return FE_OK;
}

fe_status route_case_pulls(const route_kernel *kernel, double length_m, double slope,
                           double *ln_pull)
{
    const fe_route_input *input = kernel->input;
    const fe_status status = cable_pulls(&input->run, kernel->stringing_n, kernel->cases,
                                         kernel->case_count, length_m, slope, ln_pull);
    if (status < 0 || !input->above)
        return status;
    const fe_run_input run = run_above(input);
    return cable_pulls(&run, kernel->above_share * kernel->stringing_n, kernel->above,
                       kernel->case_count, length_m, slope, ln_pull + kernel->case_count);
}

/* ---- Tables ---- */

/*
 * Nodes are the same whatever is searched: spans in a geometric row from 0.1 m on, slopes even
 * in the squared sine of their angle (pulls go with powers of its cosine). A node is worked out
 * when it is first needed, so what a table gives does not depend on who asked before. Cubics
 * through four nodes each way are within 1e-4 (5 m to 50 m, slopes to 1).
 */
enum { SPAN_NODES = 200, SLOPE_NODES = 25 };
static const double LEAST_SPAN_M = 0.1;
static const double SPAN_STEP_LN = 0.06;
static const double STEEPNESS_STEP = 0.04;

typedef struct kept_table {
    double stringing_n;
    double *rows[SPAN_NODES][SLOPE_NODES]; /* logarithm of the pull in each case, or null */
} kept_table;

struct fe_route_tables {
    kept_table **items;
    size_t count;
    size_t room;
};

fe_route_tables *fe_route_tables_new(void)
{
    return calloc(1, sizeof(fe_route_tables));
}

static void free_table(kept_table *table)
{
    for (size_t a = 0; a < SPAN_NODES; a++)
        for (size_t m = 0; m < SLOPE_NODES; m++)
            free(table->rows[a][m]);
    free(table);
}

void fe_route_tables_free(fe_route_tables *tables)
{
    if (!tables)
        return;
    for (size_t i = 0; i < tables->count; i++)
        free_table(tables->items[i]);
    free(tables->items);
    free(tables);
}

static kept_table *add_table(fe_route_tables *tables, double stringing_n)
{
    if (tables->count == tables->room) {
        const size_t room = 2 * tables->room + 16;
        kept_table **more = realloc(tables->items, room * sizeof *more);
        if (!more)
            return NULL;
        tables->items = more;
        tables->room = room;
    }
    kept_table *table = calloc(1, sizeof *table);
    if (!table)
        return NULL;
    table->stringing_n = stringing_n;
    tables->items[tables->count++] = table;
    return table;
}

fe_status route_kernel_string(route_kernel *kernel, double stringing_n)
{
    fe_route_tables *tables = kernel->tables;
    kernel->stringing_n = stringing_n;
    kernel->table = NULL;
    for (size_t i = 0; i < tables->count && !kernel->table; i++)
        if (tables->items[i]->stringing_n == stringing_n)
            kernel->table = tables->items[i];
    if (!kernel->table)
        kernel->table = add_table(tables, stringing_n);
    for (size_t i = 0; i < CACHE_ROOM; i++)
        kernel->cached[i].length = 0;
    return kernel->table ? FE_OK : FE_E_MEMORY;
}

/* A span that cannot hang so is no span: its pull is beyond every limit. */
static const double LN_IMPOSSIBLE = 40.0;

static const double *table_row(route_kernel *kernel, size_t a, size_t m)
{
    double **row = &kernel->table->rows[a][m];
    if (*row)
        return *row;
    *row = calloc(kernel->pull_count, sizeof **row);
    if (!*row) {
        kernel->out_of_memory = true;
        return NULL;
    }
    const double sine2 = STEEPNESS_STEP * (double)m;
    const double length_m = LEAST_SPAN_M * exp((double)a * SPAN_STEP_LN);
    const fe_status status =
        route_case_pulls(kernel, length_m, sqrt(sine2 / (1.0 - sine2)), *row);
    if (status == FE_E_MEMORY) {
        /* Not known, which is not impossible; the table may outlive this search. */
        free(*row);
        *row = NULL;
        kernel->out_of_memory = true;
        return NULL;
    }
    for (size_t c = 0; c < kernel->pull_count && status < 0; c++)
        (*row)[c] = LN_IMPOSSIBLE;
    return *row;
}

/* Weights of Lagrange's cubic through nodes 0 to 3. */
static void cubic_weights(double x, double weights[CUBIC])
{
    const double a = x, b = x - 1.0, c = x - 2.0, d = x - 3.0;
    weights[0] = -b * c * d / 6.0;
    weights[1] = a * c * d / 2.0;
    weights[2] = -a * b * d / 2.0;
    weights[3] = a * b * c / 6.0;
}

static size_t first_node(double at, size_t count)
{
    return (size_t)fmin(fmax(floor(at) - 1.0, 0.0), (double)(count - CUBIC));
}

/* Pulls at one length, for the four slopes from one on. */
static void interpolate_length(route_kernel *kernel, double length_m, size_t slope,
                               double *pulls_n)
{
    const double at = log(length_m / LEAST_SPAN_M) / SPAN_STEP_LN;
    const size_t first = first_node(at, SPAN_NODES);
    double weights[CUBIC];
    cubic_weights(at - (double)first, weights);
    for (size_t m = 0; m < CUBIC; m++) {
        double *row_n = pulls_n + m * kernel->pull_count;
        for (size_t c = 0; c < kernel->pull_count; c++)
            row_n[c] = 0.0;
        for (size_t k = 0; k < CUBIC; k++) {
            const double *ln_pull = table_row(kernel, first + k, slope + m);
            for (size_t c = 0; c < kernel->pull_count && ln_pull; c++)
                row_n[c] += weights[k] * ln_pull[c];
        }
        for (size_t c = 0; c < kernel->pull_count; c++)
            row_n[c] = exp(row_n[c]);
    }
}

/* Spans of a length come again and again; lengths count in micrometres. */
static const double *length_pulls(route_kernel *kernel, double length_m, size_t slope)
{
    const long long length = llround(length_m * 1e6);
    /* Knuth's multiplicative hashing: the top bits are well mixed. */
    const uint64_t mixed = ((uint64_t)length * 32 + slope) * UINT64_C(0x9E3779B97F4A7C15);
    const size_t slot = (size_t)(mixed >> (64 - CACHE_BITS));
    route_cached *cached = &kernel->cached[slot];
    double *pulls_n = kernel->cached_n + slot * CUBIC * kernel->pull_count;
    if (cached->length != length || cached->slope != slope) {
        interpolate_length(kernel, 1e-6 * (double)length, slope, pulls_n);
        *cached = (route_cached){length, slope};
    }
    return pulls_n;
}

void route_span_pulls(route_kernel *kernel, double length_m, double rise_m, route_span *span)
{
    const double slope = rise_m / length_m;
    const double at = slope * slope / (1.0 + slope * slope) / STEEPNESS_STEP;
    const size_t first = first_node(at, SLOPE_NODES);
    const double *pulls_n = length_pulls(kernel, length_m, first);
    const size_t cases = kernel->pull_count;
    double weights[CUBIC];
    cubic_weights(at - (double)first, weights);
    span->length_m = length_m;
    span->rise_m = rise_m;
    span->slope = slope;
    span->chord_m = length_m * sqrt(1.0 + slope * slope);
    for (size_t c = 0; c < cases; c++)
        span->pull_n[c] = weights[0] * pulls_n[c] + weights[1] * pulls_n[cases + c] +
                          weights[2] * pulls_n[2 * cases + c] +
                          weights[3] * pulls_n[3 * cases + c];
}

/* ---- Heights ---- */

/*
 * The catenary as a polynomial about its straight line. With k the curvature, m the slope:
 * y'' = k sqrt(1 + y'^2)/sqrt(1 + m^2), expanded to second order in y' - m, gives the drop
 * x (a - x) [k/2 + b k^2 (x - a/2)/6 + k^3 (a^2/4 + (x - a/2)^2)/24], b = m/(1 + m^2). At 5 %
 * sag it is within 1e-5 of the span.
 */
typedef struct curve {
    double length_m;
    double rise_m;
    double slope;
    double half_k;
    double skew;
    double cube;
} curve;

static curve curve_of(const fe_run_cable *cable, const fe_run_case *load, double pull_n,
                      const route_span *span)
{
    const double slope = span->rise_m / span->length_m;
    const double stretch = sqrt(1.0 + slope * slope);
    /* The stretched cable weighs less a metre. */
    const double strain = pull_n * stretch / cable->stiffness_n;
    const double share = stretch / (pull_n * (1.0 + strain));
    const double k = load->vertical_n_m * share;
    const double resultant = hypot(load->vertical_n_m, load->wind_n_m) * share;
    const double flat = 1.0 / (1.0 + slope * slope);
    return (curve){span->length_m,
                   span->rise_m,
                   slope,
                   0.5 * k,
                   slope * flat * k * k / 6.0,
                   k * resultant * resultant * flat * flat / 24.0};
}

static double curve_height(const curve *line, double x_m)
{
    const double from_middle_m = x_m - 0.5 * line->length_m;
    const double quarter = 0.25 * line->length_m * line->length_m;
    const double drop_m = x_m * (line->length_m - x_m) *
                          (line->half_k + line->skew * from_middle_m +
                           line->cube * (quarter + from_middle_m * from_middle_m));
    return line->slope * x_m - drop_m;
}

/* The curve of the case that hangs deepest of those that a group of heights looks at; the
 * number of the case, SIZE_MAX where there is none. */
static size_t deepest_curve(const route_kernel *kernel, const route_span *span,
                            const route_height_group *group, double relax, curve *line)
{
    size_t found = SIZE_MAX;
    double most = -1.0;
    for (size_t c = 0; c < kernel->case_count; c++) {
        const fe_run_case *load = &kernel->cases[c];
        if (group->snow && load->season != group->season)
            continue;
        const double k = load->vertical_n_m / span->pull_n[c];
        if (k > most) {
            most = k;
            found = c;
        }
    }
    if (found == SIZE_MAX)
        return found;
    *line =
        curve_of(&kernel->input->run.cable, &kernel->cases[found], span->pull_n[found], span);
    line->half_k *= relax;
    return found;
}

/* The first piece that reaches beyond a place. */
static size_t piece_at(const route_kernel *kernel, double at_m)
{
    size_t low = 0;
    size_t high = kernel->piece_count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (kernel->pieces[middle].to_m <= at_m)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

double route_height_use(double given_m, double asked_m)
{
    return given_m > 0.05 * asked_m ? asked_m / given_m : 20.0 + (0.05 * asked_m - given_m);
}

/* What is needed over what there is, at one place; and where it is the worst so far, keeps it.
 */
static void look_at(const curve *line, double from_m, double from_height_m, double at_m,
                    double ground_m, double asked_m, fe_route_use *worst)
{
    const double height_m = from_height_m + curve_height(line, at_m - from_m) - ground_m;
    const double use = route_height_use(height_m, asked_m);
    if (use <= worst->use)
        return;
    worst->use = use;
    worst->value = height_m;
    worst->allowed = asked_m;
    worst->at_m = at_m;
}

/* Cable less straight ground is convex: its least is where they are parallel, or at an end. */
static void look_over_piece(const curve *line, const route_piece *piece, double from_m,
                            double from_height_m, double snow_m, double asked_m, bool first,
                            fe_route_use *worst)
{
    const double to_m = from_m + line->length_m;
    const double x1_m = fmax(piece->from_m, from_m);
    const double x2_m = fmin(piece->to_m, to_m);
    const double slope =
        (piece->ground_to_m - piece->ground_from_m) / (piece->to_m - piece->from_m);
    const double base_m = piece->ground_from_m + snow_m - slope * piece->from_m;
    const double parallel_m = from_m + 0.5 * line->length_m +
                              (slope - line->rise_m / line->length_m) / (2.0 * line->half_k);
    /* The end of one piece is the start of the next, but what is asked may change there. */
    if (first)
        look_at(line, from_m, from_height_m, x1_m, base_m + slope * x1_m, asked_m, worst);
    look_at(line, from_m, from_height_m, x2_m, base_m + slope * x2_m, asked_m, worst);
    if (parallel_m > x1_m && parallel_m < x2_m)
        look_at(line, from_m, from_height_m, parallel_m, base_m + slope * parallel_m, asked_m,
                worst);
}

static double heights_use(const route_kernel *kernel, const route_span *span, double from_m,
                          double from_height_m, double enough, double relax,
                          fe_route_use *worst)
{
    fe_route_use found = {0};
    for (size_t g = 0; g < kernel->group_count && found.use <= enough; g++) {
        const route_height_group *group = &kernel->groups[g];
        curve line;
        const size_t c = deepest_curve(kernel, span, group, relax, &line);
        if (c == SIZE_MAX)
            continue;
        const double before = found.use;
        double asked_before_m = 0.0;
        for (size_t p = piece_at(kernel, from_m);
             p < kernel->piece_count && found.use <= enough; p++) {
            const route_piece *piece = &kernel->pieces[p];
            if (piece->from_m >= from_m + span->length_m)
                break;
            const double asked_m = asked_over(group, piece);
            if (asked_m > 0.0)
                look_over_piece(&line, piece, from_m, from_height_m, group->snow_m, asked_m,
                                asked_m > asked_before_m, &found);
            asked_before_m = asked_m;
        }
        if (found.use > before) {
            found.limit = group->snow ? FE_ROUTE_SNOW : FE_ROUTE_GROUND;
            found.season = kernel->cases[c].season;
            found.kind = kernel->cases[c].kind;
        }
    }
    if (worst && found.use > worst->use)
        *worst = found;
    return found.use;
}

/* A height that the curve does not come below between two places: its bends are taken as large
 * as they get anywhere. */
static double curve_floor(const curve *line, double x1_m, double x2_m)
{
    const double bend = line->half_k + 0.5 * fabs(line->skew) * line->length_m +
                        0.5 * line->cube * line->length_m * line->length_m;
    const double low_m = 0.5 * (line->length_m - line->slope / bend);
    const double x_m = fmin(fmax(low_m, x1_m), x2_m);
    return x_m * (line->slope - bend * (line->length_m - x_m));
}

/* Whether nothing is too low over the pieces of one block. */
static bool block_holds(const route_kernel *kernel, const route_height_group *group,
                        const curve *line, size_t block, double from_m, double from_height_m)
{
    static const double ROUNDING_M = 1e-6;
    const double to_m = from_m + line->length_m;
    const size_t end = (block + 1) * ROUTE_BLOCK < kernel->piece_count
                           ? (block + 1) * ROUTE_BLOCK
                           : kernel->piece_count;
    const double x1_m = fmax(kernel->pieces[block * ROUTE_BLOCK].from_m, from_m) - from_m;
    const double x2_m = fmin(kernel->pieces[end - 1].to_m, to_m) - from_m;
    if (from_height_m + curve_floor(line, x1_m, x2_m) > group->tops_m[block] + ROUNDING_M)
        return true;
    fe_route_use found = {0};
    for (size_t p = block * ROUTE_BLOCK; p < end && found.use <= 1.0; p++) {
        const route_piece *piece = &kernel->pieces[p];
        const double asked_m = asked_over(group, piece);
        if (asked_m > 0.0 && piece->to_m > from_m && piece->from_m < to_m)
            look_over_piece(line, piece, from_m, from_height_m, group->snow_m, asked_m, true,
                            &found);
    }
    return found.use <= 1.0;
}

/* heights_use <= 1, without the value: most blocks of pieces lie so low that one look will do,
 * and where a span fails it is mostly in the middle. */
static bool heights_hold(const route_kernel *kernel, const route_span *span, double from_m,
                         double from_height_m, double relax)
{
    const double to_m = from_m + span->length_m;
    const size_t first = piece_at(kernel, from_m) / ROUTE_BLOCK;
    const size_t middle = piece_at(kernel, from_m + 0.5 * span->length_m) / ROUTE_BLOCK;
    for (size_t g = 0; g < kernel->group_count; g++) {
        const route_height_group *group = &kernel->groups[g];
        curve line;
        if (deepest_curve(kernel, span, group, relax, &line) == SIZE_MAX)
            continue;
        if (!block_holds(kernel, group, &line, middle, from_m, from_height_m))
            return false;
        for (size_t b = first; b * ROUTE_BLOCK < kernel->piece_count &&
                               kernel->pieces[b * ROUTE_BLOCK].from_m < to_m;
             b++)
            if (b != middle && !block_holds(kernel, group, &line, b, from_m, from_height_m))
                return false;
    }
    return true;
}

/* How far the wind blows the cable out where it passes a thing beside the run. */
static void look_beside(const route_kernel *kernel, const route_span *span, double from_m,
                        const fe_clearance_need *need, double relax, fe_route_use *worst)
{
    const double low_m = fmax(need->from_m - from_m, 0.0);
    const double high_m = fmin(need->to_m - from_m, span->length_m);
    if (!(high_m >= low_m))
        return;
    const double x_m = fmin(fmax(0.5 * span->length_m, low_m), high_m);
    for (size_t c = 0; c < kernel->case_count; c++) {
        const fe_run_case *load = &kernel->cases[c];
        if (!(load->wind_n_m > 0.0))
            continue;
        const curve line = curve_of(&kernel->input->run.cable, load, span->pull_n[c], span);
        const double drop_m = line.slope * x_m - curve_height(&line, x_m);
        const double side_m = relax * drop_m * load->wind_n_m / load->vertical_n_m;
        const double use = (side_m + FE_LIMITS_BESIDE_M) / need->beside_m;
        if (use > worst->use)
            *worst = (fe_route_use){.limit = FE_ROUTE_SIDE,
                                    .use = use,
                                    .value = side_m + FE_LIMITS_BESIDE_M,
                                    .allowed = need->beside_m,
                                    .at_m = from_m + x_m,
                                    .season = load->season,
                                    .kind = load->kind,
                                    .need = need};
    }
}

bool route_sags_too_far(const route_kernel *kernel, double length_m, double rise_m,
                        double relax)
{
    const fe_route_input *input = kernel->input;
    const double strung_m = input->run.cable.weight_n_m * length_m * hypot(length_m, rise_m) /
                            (8.0 * kernel->stringing_n);
    return relax * strung_m > input->most_sag_share * length_m;
}

/* ---- A cable above ---- */

static double middle_drop(const fe_run_cable *cable, const fe_run_case *load, double pull_n,
                          const route_span *span)
{
    const curve line = curve_of(cable, load, pull_n, span);
    return 0.5 * span->rise_m - curve_height(&line, 0.5 * span->length_m);
}

static void look_at_pull_above(const route_kernel *kernel, const route_span *span,
                               double from_m, double relax, fe_route_use *worst)
{
    const fe_route_above *above = kernel->input->above;
    const double *pull_n = span->pull_n + kernel->case_count;
    for (size_t c = 0; c < kernel->case_count; c++) {
        const fe_run_case *load = &kernel->above[c];
        const double upright_n =
            load->vertical_n_m * 0.5 * span->chord_m + pull_n[c] * fabs(span->slope);
        const double end_n =
            hypot(hypot(pull_n[c], upright_n), load->wind_n_m * 0.5 * span->chord_m);
        const double use = relax * end_n / above->limits.limit_n[load->kind];
        if (use > worst->use)
            *worst = (fe_route_use){.limit = FE_ROUTE_ABOVE,
                                    .use = use,
                                    .value = end_n,
                                    .allowed = above->limits.limit_n[load->kind],
                                    .at_m = from_m + 0.5 * span->length_m,
                                    .season = load->season,
                                    .kind = load->kind};
    }
}

bool route_is_bare(const fe_run_case *load, const fe_run_cable *cable)
{
    return load->wind_n_m == 0.0 && load->vertical_n_m <= cable->weight_n_m * (1.0 + 1e-12);
}

/* The upper hot or iced, the lower as taut as any bare case of the season has it; both still.
 */
static void look_between(const route_kernel *kernel, const route_span *span, double from_m,
                         double relax, fe_route_use *worst)
{
    const fe_route_above *above = kernel->input->above;
    for (size_t c = 0; c < kernel->case_count; c++) {
        const fe_run_case *upper = &kernel->above[c];
        if (upper->wind_n_m > 0.0)
            continue;
        const double drop_m = relax * middle_drop(&above->cable, upper,
                                                  span->pull_n[kernel->case_count + c], span);
        for (size_t d = 0; d < kernel->case_count; d++) {
            const fe_run_case *lower = &kernel->cases[d];
            if (lower->season != upper->season ||
                !route_is_bare(lower, &kernel->input->run.cable))
                continue;
            const double apart_m =
                above->up_m - drop_m +
                middle_drop(&kernel->input->run.cable, lower, span->pull_n[d], span) / relax;
            const double use = route_height_use(apart_m, above->asked.in_span_m);
            if (use > worst->use)
                *worst = (fe_route_use){.limit = FE_ROUTE_APART,
                                        .use = use,
                                        .value = apart_m,
                                        .allowed = above->asked.in_span_m,
                                        .at_m = from_m + 0.5 * span->length_m,
                                        .season = upper->season,
                                        .kind = upper->kind};
        }
    }
}

static void look_above(const route_kernel *kernel, const route_span *span, double from_m,
                       double relax, fe_route_use *worst)
{
    const fe_route_above *above = kernel->input->above;
    const double at_post = above->asked.at_pole_m / above->up_m;
    if (!kernel->input->clearance_free && at_post > worst->use)
        *worst = (fe_route_use){.limit = FE_ROUTE_AT_POST,
                                .use = at_post,
                                .value = above->up_m,
                                .allowed = above->asked.at_pole_m,
                                .at_m = from_m,
                                .kind = FE_RUN_EVERYDAY};
    look_at_pull_above(kernel, span, from_m, relax, worst);
    if (!kernel->input->clearance_free)
        look_between(kernel, span, from_m, relax, worst);
}

double route_span_use(const route_kernel *kernel, const route_span *span, double from_m,
                      double from_height_m, double enough, double relax, fe_route_use *worst)
{
    const fe_route_input *input = kernel->input;
    const double slope = span->slope;
    fe_route_use found = {0};
    if (route_sags_too_far(kernel, span->length_m, span->rise_m, relax))
        found = (fe_route_use){.limit = FE_ROUTE_GROUND, .use = 1e3};
    const double half_m = 0.5 * span->chord_m;
    for (size_t c = 0; c < kernel->case_count && found.use <= enough; c++) {
        const fe_run_case *load = &kernel->cases[c];
        /* Pull at the higher end: V = w L/2 + H h/a, both parts in the plane of the load. */
        const double along_n = span->pull_n[c];
        const double upright_n = load->vertical_n_m * half_m + along_n * fabs(slope);
        const double sideways_n = load->wind_n_m * half_m;
        const double square_n2 =
            along_n * along_n + upright_n * upright_n + sideways_n * sideways_n;
        const double carried_n = kernel->stringing_n + input->limits.carried_n;
        const bool carries =
            input->limits.carried_n > 0.0 && carried_n < input->limits.limit_n[load->kind];
        const double allowed_n = carries ? carried_n : input->limits.limit_n[load->kind];
        /* Most cases use less than the worst so far: no root and no division for them. */
        if (relax * relax * square_n2 <= found.use * found.use * allowed_n * allowed_n)
            continue;
        const double pull_n = sqrt(square_n2);
        found = (fe_route_use){.limit = carries ? FE_ROUTE_STRAIN : FE_ROUTE_PULL,
                               .use = relax * pull_n / allowed_n,
                               .value = pull_n,
                               .allowed = allowed_n,
                               .at_m = from_m + 0.5 * span->length_m,
                               .season = load->season,
                               .kind = load->kind};
    }
    if (input->above && found.use <= enough)
        look_above(kernel, span, from_m, relax, &found);
    if (input->clearance_free || found.use > enough)
        ;
    else if (!worst && enough == 1.0)
        found.use = heights_hold(kernel, span, from_m, from_height_m, relax) ? found.use : 2.0;
    else
        (void)heights_use(kernel, span, from_m, from_height_m, enough, relax, &found);
    for (size_t n = 0; n < input->need_count && !input->clearance_free; n++)
        if (input->needs[n].beside_m > 0.0 && found.use <= enough)
            look_beside(kernel, span, from_m, &input->needs[n], relax, &found);
    if (worst && found.use > worst->use)
        *worst = found;
    return found.use;
}

/* ---- Posts ---- */

/* Vertical force of a cable of a span on its second support (towards 1), or its first (-1). */
static double down_on(const route_span *span, double towards, double pull_n,
                      double vertical_n_m)
{
    return vertical_n_m * 0.5 * span->chord_m + towards * pull_n * span->slope;
}

double route_broken_pull(fe_run_case_kind kind, double turn_rad, double back_n,
                         double forward_n)
{
    if (kind != FE_RUN_EVERYDAY || turn_rad == 0.0)
        return 0.0;
    return back_n > forward_n ? back_n : forward_n;
}

/* Adds a cable above: its pulls and wind by their arm, its weight as it is. */
static void add_above(const route_kernel *kernel, const fe_posts_kind *kind,
                      const route_span *back, const route_span *forward, size_t c,
                      double pulls_n[2], fe_posts_load *on)
{
    const double arm = route_above_arm(kernel->input, kind);
    const double *back_n = back->pull_n + kernel->case_count;
    const double *forward_n = forward->pull_n + kernel->case_count;
    const fe_run_case *load = &kernel->above[c];
    pulls_n[0] += arm * back_n[c];
    pulls_n[1] += arm * forward_n[c];
    on->cable_wind_n += arm * load->wind_n_m * 0.5 * (back->length_m + forward->length_m);
    on->down_n += down_on(back, 1.0, back_n[c], load->vertical_n_m) +
                  down_on(forward, -1.0, forward_n[c], load->vertical_n_m);
}

static double post_case_use(const route_kernel *kernel, const fe_posts_kind *kind,
                            double turn_rad, const route_span *back, const route_span *forward,
                            size_t c, fe_posts_duty *duty)
{
    const fe_run_case *load = &kernel->cases[c];
    double pulls_n[2] = {back->pull_n[c], forward->pull_n[c]};
    /* A cable that runs free pulls alike on both sides. */
    if (kernel->input->run.free_running)
        pulls_n[0] = pulls_n[1] = fmax(pulls_n[0], pulls_n[1]);
    fe_posts_load on = {
        .cable_wind_n = load->wind_n_m * 0.5 * (back->length_m + forward->length_m),
        .pressure_pa = load->pressure_pa,
        .down_n = down_on(back, 1.0, back->pull_n[c], load->vertical_n_m) +
                  down_on(forward, -1.0, forward->pull_n[c], load->vertical_n_m),
        .thaw = load->thaw,
    };
    if (kernel->input->above)
        add_above(kernel, kind, back, forward, c, pulls_n, &on);
    on.broken_n = route_broken_pull(load->kind, turn_rad, pulls_n[0], pulls_n[1]);
    fe_posts_set_pulls(pulls_n[0], pulls_n[1], turn_rad, &on);
    fe_posts_check(kind, &on, duty);
    return duty->use;
}

bool route_post_holds(route_kernel *kernel, const fe_posts_kind *kind, double turn_rad,
                      const route_span *back, const route_span *forward, double *moment_n_m)
{
    const size_t cases = kernel->case_count;
    *moment_n_m = 0.0;
    if (kernel->input->posts_free)
        return true;
    /* What broke one post breaks the next as well, mostly: that case goes first. */
    for (size_t i = 0; i < cases; i++) {
        const size_t c = (i + kernel->breaking_case) % cases;
        fe_posts_duty duty;
        if (post_case_use(kernel, kind, turn_rad, back, forward, c, &duty) > 1.0) {
            kernel->breaking_case = c;
            return false;
        }
        if (duty.moment_n_m > *moment_n_m)
            *moment_n_m = duty.moment_n_m;
    }
    return true;
}

double route_post_use(const route_kernel *kernel, const fe_posts_kind *kind, double turn_rad,
                      const route_span *back, const route_span *forward, double *moment_n_m,
                      fe_route_use *worst)
{
    double most = 0.0;
    *moment_n_m = 0.0;
    for (size_t c = 0; c < kernel->case_count && !kernel->input->posts_free; c++) {
        fe_posts_duty duty;
        const double use = post_case_use(kernel, kind, turn_rad, back, forward, c, &duty);
        *moment_n_m = fmax(*moment_n_m, duty.moment_n_m);
        if (use <= most)
            continue;
        most = use;
        if (worst && most > worst->use)
            *worst = (fe_route_use){.limit = FE_ROUTE_POST,
                                    .post_limit = duty.limit,
                                    .use = most,
                                    .value = most,
                                    .allowed = 1.0,
                                    .season = kernel->cases[c].season,
                                    .kind = kernel->cases[c].kind};
    }
    return most;
}

double route_whole_use(route_kernel *kernel, const size_t *places, const size_t *kinds,
                       size_t count, double *moment_n_m, fe_route_use *worst)
{
    const fe_route_input *input = kernel->input;
    double pulls[2][ROUTE_MOST_PULLS];
    route_span spans[2] = {{.pull_n = pulls[0]}, {.pull_n = pulls[1]}};
    double most = 0.0;
    double at_m = 0.0;
    double height_m = route_height(kernel, 0.0, input->start_attachment_m);
    *moment_n_m = 0.0;
    for (size_t i = 0; i <= count; i++) {
        const double next_m = i < count ? input->places[places[i]].at_m : route_length(input);
        const double attachment_m =
            i < count ? input->kinds[kinds[i]].attachment_m : input->end_attachment_m;
        const double next_height_m = route_height(kernel, next_m, attachment_m);
        route_span *span = &spans[i % 2];
        route_span_pulls(kernel, next_m - at_m, next_height_m - height_m, span);
        most = fmax(most, route_span_use(kernel, span, at_m, height_m, INFINITY, 1.0, worst));
        if (i > 0) {
            double moment = 0.0;
            fe_route_use before = worst ? *worst : (fe_route_use){0};
            most = fmax(most, route_post_use(kernel, &input->kinds[kinds[i - 1]],
                                             input->places[places[i - 1]].turn_rad,
                                             &spans[(i + 1) % 2], span, &moment, worst));
            *moment_n_m = fmax(*moment_n_m, moment);
            if (worst && worst->use > before.use) {
                worst->at_m = at_m;
                worst->index = i - 1;
            }
        }
        at_m = next_m;
        height_m = next_height_m;
    }
    return most;
}

double route_spans_use(route_kernel *kernel, const size_t *places, const size_t *kinds,
                       size_t count, fe_route_use *worst)
{
    const fe_route_input *input = kernel->input;
    double pulls[ROUTE_MOST_PULLS];
    route_span span = {.pull_n = pulls};
    double most = 0.0;
    double at_m = 0.0;
    double height_m = route_height(kernel, 0.0, input->start_attachment_m);
    for (size_t i = 0; i <= count; i++) {
        const double next_m = i < count ? input->places[places[i]].at_m : route_length(input);
        const double attachment_m =
            i < count ? input->kinds[kinds[i]].attachment_m : input->end_attachment_m;
        const double next_height_m = route_height(kernel, next_m, attachment_m);
        route_span_pulls(kernel, next_m - at_m, next_height_m - height_m, &span);
        most = fmax(most, route_span_use(kernel, &span, at_m, height_m, INFINITY, 1.0, worst));
        at_m = next_m;
        height_m = next_height_m;
    }
    return most;
}
