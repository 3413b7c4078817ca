/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pull of a span in each case: exact at nodes of span and slope, interpolated between. */
#include "route_kernel.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "run_kernel.h"

enum { CUBIC = 4, CACHE_BITS = 9, CACHE_ROOM = 1 << CACHE_BITS };

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
    double lasting = 0.0;
    status = run_lasting(run, &piece, stringing_n, cases, case_count, &lasting);
    if (status < 0)
        return status;
    for (size_t c = 0; c < case_count; c++) {
        const fe_run_case *load = &cases[c];
        run_hung hung;
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
    const fe_run_input run = route_run_above(input->above, &input->run);
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

fe_status route_pulls_make(route_kernel *kernel)
{
    kernel->tables = kernel->input->tables ? kernel->input->tables : fe_route_tables_new();
    kernel->cached = calloc(CACHE_ROOM, sizeof *kernel->cached);
    kernel->cached_n = calloc(CACHE_ROOM * CUBIC * kernel->pull_count, sizeof(double));
    return kernel->tables && kernel->cached && kernel->cached_n ? FE_OK : FE_E_MEMORY;
}

void route_pulls_free(route_kernel *kernel)
{
    free(kernel->cached);
    free(kernel->cached_n);
    if (kernel->input && !kernel->input->tables)
        fe_route_tables_free(kernel->tables);
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
