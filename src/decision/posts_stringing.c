/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the cable of a run is strung to on the day. */
#include "decision/posts_parts.h"

#include <math.h>
#include <stdlib.h>

#include "decision/cable_length.h"
#include "farend/tension.h"

static const double TABLE_STEP_C = 5.0;

static fe_tension_state bare_at(const fe_run_cable *cable, double temp_c)
{
    return (fe_tension_state){.temp_c = temp_c, .vertical_n_m = cable->weight_n_m};
}

/* Each span by itself, as it is tied off. */
static fe_status string_spans(const fe_run_cable *cable, double stringing_c, const fe_run *run,
                              fe_posts_stringing *table, size_t t)
{
    const size_t spans = run->span_count;
    const fe_tension_cable elastic = {cable->stiffness_n, cable->expansion_1_k};
    const fe_tension_state strung = bare_at(cable, stringing_c);
    const fe_tension_state now = bare_at(cable, table->temp_c[t]);
    for (size_t s = 0; s < spans; s++) {
        const fe_run_span *span = &run->spans[s];
        fe_span_shape shape;
        const fe_status status = fe_tension_change(span->length_m, span->rise_m, &elastic,
                                                   &strung, span->stringing_tension_n, &now,
                                                   &table->pull_n[t * spans + s], &shape);
        if (status < 0)
            return status;
        table->sag_m[t * spans + s] = shape.sag_m;
    }
    return FE_OK;
}

/* One pull in all spans while the cable runs free. */
static fe_status string_free(fe_posts_result *r, size_t t)
{
    const fe_tension_cable elastic = {r->input.run.cable.stiffness_n,
                                      r->input.run.cable.expansion_1_k};
    const size_t spans = r->check.run.span_count;
    const fe_tension_state strung = bare_at(&r->input.run.cable, r->input.run.stringing_c);
    const fe_tension_state now = bare_at(&r->input.run.cable, r->stringing.temp_c[t]);
    double *lengths_m = calloc(2 * spans, sizeof *lengths_m);
    if (!lengths_m)
        return FE_E_MEMORY;
    double *rises_m = lengths_m + spans;
    double pull_n = 0.0;
    for (size_t s = 0; s < spans; s++) {
        lengths_m[s] = r->check.run.spans[s].length_m;
        rises_m[s] = r->check.run.spans[s].rise_m;
    }
    fe_status status =
        fe_tension_change_free(lengths_m, rises_m, spans, &elastic, &strung,
                               r->check.run.spans[0].stringing_tension_n, &now, &pull_n);
    for (size_t s = 0; s < spans && status >= 0; s++) {
        const fe_span bare = {lengths_m[s], rises_m[s], r->input.run.cable.weight_n_m,
                              elastic.stiffness_n};
        fe_span_shape shape;
        status = fe_span_at_tension(&bare, pull_n, &shape);
        if (status < 0)
            break;
        r->stringing.pull_n[t * spans + s] = pull_n;
        r->stringing.sag_m[t * spans + s] = shape.sag_m;
    }
    free(lengths_m);
    return status;
}

/* The one span that would change as a cable does that runs free over all of them. */
static fe_status find_ruling_span(fe_posts_result *r)
{
    const fe_run *run = &r->check.run;
    r->ruling_span_m = (double)NAN;
    if (!r->input.run.free_running)
        return FE_OK;
    double *spans_m = calloc(run->span_count, sizeof *spans_m);
    if (!spans_m)
        return FE_E_MEMORY;
    for (size_t s = 0; s < run->span_count; s++)
        spans_m[s] = run->spans[s].length_m;
    const fe_status status =
        fe_tension_ruling_span(spans_m, run->span_count, &r->ruling_span_m);
    free(spans_m);
    return status;
}

static fe_status make_table(const fe_posts_result *r, fe_posts_stringing *table)
{
    /* Nobody pulls cable beyond these. */
    const double from_c =
        TABLE_STEP_C * floor(fmax(fe_plan_coldest(r->plan), -20.0) / TABLE_STEP_C);
    const double to_c = TABLE_STEP_C * ceil(fmin(plan_hottest(r->plan), 40.0) / TABLE_STEP_C);
    table->temp_count = (size_t)((to_c - from_c) / TABLE_STEP_C + 0.5) + 1;
    const size_t spans = r->check.run.span_count;
    table->temp_c = calloc(table->temp_count, sizeof *table->temp_c);
    table->sag_m = calloc(table->temp_count * spans, sizeof *table->sag_m);
    table->pull_n = calloc(table->temp_count * spans, sizeof *table->pull_n);
    if (!table->temp_c || !table->sag_m || !table->pull_n)
        return FE_E_MEMORY;
    for (size_t t = 0; t < table->temp_count; t++)
        table->temp_c[t] = from_c + TABLE_STEP_C * (double)t;
    return FE_OK;
}

fe_status posts_make_stringing(fe_posts_result *r)
{
    const double stringing_c = r->input.run.stringing_c;
    fe_status status = make_table(r, &r->stringing);
    if (status == FE_OK && r->above)
        status = make_table(r, &r->supply_stringing);
    for (size_t t = 0; t < r->stringing.temp_count && status >= 0; t++) {
        status = r->input.run.free_running ? string_free(r, t)
                                           : string_spans(&r->input.run.cable, stringing_c,
                                                          &r->check.run, &r->stringing, t);
        if (status >= 0 && r->above)
            status = string_spans(&r->above->cable, stringing_c, &r->check.above,
                                  &r->supply_stringing, t);
    }
    return status < 0 ? status : find_ruling_span(r);
}

void posts_free_stringing(fe_posts_stringing *table)
{
    free(table->temp_c);
    free(table->sag_m);
    free(table->pull_n);
}
