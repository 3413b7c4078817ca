/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How high a span hangs over the ground, and how far the wind blows it out. */
#include "route_kernel.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "run_kernel.h"

/* ---- The ground and what is asked over it ---- */

static int by_value(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

/*
 * Where a need is looked at. A thing given at one place takes hardly any room, but some: a piece
 * of no length would be none.
 */
typedef struct need_part {
    double from_m;
    double to_m;
} need_part;

static need_part part_of(const fe_clearance_need *need)
{
    static const double LEAST_M = 1e-6;
    const double wider_m = fmax(0.5 * (LEAST_M - (need->to_m - need->from_m)), 0.0);
    return (need_part){need->from_m - wider_m, need->to_m + wider_m};
}

static size_t gather_bounds(const fe_route_input *input, double *bounds)
{
    const double length_m = route_length(input);
    size_t count = 0;
    for (size_t i = 0; i < input->run.ground->count; i++)
        if (run_is_bend(input->run.ground, i))
            bounds[count++] = input->run.ground->distance_m[i];
    for (size_t i = 0; i < input->need_count; i++) {
        const need_part over = part_of(&input->needs[i]);
        bounds[count++] = fmin(fmax(over.from_m, 0.0), length_m);
        bounds[count++] = fmin(fmax(over.to_m, 0.0), length_m);
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
        const need_part over = part_of(need);
        if (middle_m < over.from_m || middle_m > over.to_m)
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

fe_status route_heights_make(route_kernel *kernel)
{
    const fe_status status = make_pieces(kernel);
    return status == FE_OK ? make_groups(kernel) : status;
}

void route_heights_free(route_kernel *kernel)
{
    free(kernel->pieces);
    for (size_t g = 0; kernel->groups && g < kernel->group_count; g++)
        free(kernel->groups[g].tops_m);
    free(kernel->groups);
}

/* ---- The cable over it ---- */

/*
 * The catenary as a polynomial about its straight line. With k the curvature, m the slope:
 * y'' = k sqrt(1 + y'^2)/sqrt(1 + m^2), expanded to second order in y' - m, gives the drop
 * x (a - x) [k/2 + b k^2 (x - a/2)/6 + k^3 (a^2/4 + (x - a/2)^2)/24], b = m/(1 + m^2). At 5 %
 * sag it is within 1e-5 of the span up to a slope of a quarter, and within 3e-5 up to a half.
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

double route_middle_drop(const fe_run_cable *cable, const fe_run_case *load, double pull_n,
                         const route_span *span)
{
    const curve line = curve_of(cable, load, pull_n, span);
    return 0.5 * span->rise_m - curve_height(&line, 0.5 * span->length_m);
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

double route_heights_use(const route_kernel *kernel, const route_span *span, double from_m,
                         double from_height_m, double enough, double relax, fe_route_use *worst)
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

/* Most blocks of pieces lie so low that one look will do, and where a span fails it is mostly in
 * the middle. */
bool route_heights_hold(const route_kernel *kernel, const route_span *span, double from_m,
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

void route_look_beside(const route_kernel *kernel, const route_span *span, double from_m,
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
