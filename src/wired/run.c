/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/run.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "farend/ice_wind.h"
#include "farend/tension.h"

/* Glaze (ISO 12494 Table 1, from memory). */
static const double ICE_DENSITY_KG_M3 = 900.0;

/*
 * Wind while ice hangs: 0.6 of the strongest speed, so 0.36 of its pressure. IEC 60826 sec 6.4
 * takes 0.4 to 0.5 of the extreme wind with extreme ice, older practice more: common practice.
 */
static const double WIND_SHARE_WITH_ICE = 0.6;

/* Ice falls off a cable above this. */
static const double ICE_TEMP_C = 0.0;

/* Places along a span at which the ground under it is looked at, besides its own points. */
enum { CLEARANCE_SAMPLES = 200 };

const char *fe_run_case_name(fe_run_case_kind kind)
{
    static const char *const NAMES[FE_RUN_CASE_KINDS] = {
        "coldest, bare", "hottest, bare", "ice, still air", "ice with wind", "wind, bare",
    };
    return NAMES[kind];
}

static fe_run_case make_case(size_t season, fe_run_case_kind kind, double temp_c, double ice_m,
                             double wind_m_s, const fe_run_cable *cable)
{
    double pressure_pa = 0.0;
    fe_ice_wind_load load = {0};
    const bool known = fe_wind_pressure(wind_m_s, &pressure_pa) == FE_OK;
    const fe_ice_wind_case given = {
        .diameter_m = cable->diameter_m,
        .bare_n_m = cable->weight_n_m,
        .thickness_m = ice_m,
        .density_kg_m3 = ICE_DENSITY_KG_M3,
        .pressure_pa = pressure_pa,
    };
    /* Not-a-number forces make the solvers refuse the case. */
    if (!known || fe_ice_wind(&given, &load) != FE_OK)
        load.vertical_n_m = load.wind_n_m = (double)NAN;
    return (fe_run_case){season, kind, temp_c, load.vertical_n_m, load.wind_n_m};
}

size_t fe_run_season_cases(const fe_season *season, size_t index, const fe_run_cable *cable,
                           fe_run_case cases[FE_RUN_CASE_KINDS])
{
    const double mean_c = (season->coldest_c + season->hottest_c) / 2.0;
    size_t count = 0;
    cases[count++] = make_case(index, FE_RUN_COLD, season->coldest_c, 0.0, 0.0, cable);
    cases[count++] = make_case(index, FE_RUN_HOT, season->hottest_c, 0.0, 0.0, cable);
    if (season->ice_m > 0.0) {
        const double temp_c = fmin(ICE_TEMP_C, season->hottest_c);
        cases[count++] = make_case(index, FE_RUN_ICE, temp_c, season->ice_m, 0.0, cable);
        cases[count++] = make_case(index, FE_RUN_ICE_WIND, temp_c, season->ice_m,
                                   WIND_SHARE_WITH_ICE * season->wind_m_s, cable);
    }
    if (season->wind_m_s > 0.0)
        cases[count++] = make_case(index, FE_RUN_WIND, mean_c, 0.0, season->wind_m_s, cable);
    return count;
}

fe_status fe_run_height(const fe_run_span *span, const fe_run_state *state,
                        double first_height_m, double x_m, double *height_m)
{
    /* The plane of the resultant keeps the share of the way along the straight line. */
    const double share = x_m / span->length_m;
    double drop_m = 0.0;
    fe_status status = fe_span_drop(&state->shape, share * state->shape.span.span_m, &drop_m);
    if (status < 0)
        return status;
    *height_m = first_height_m + share * span->rise_m - drop_m * cos(state->blowout_rad);
    return status;
}

/* Least height over bare ground and over the season's snow, along one span. */
static fe_status look_below(const fe_run_input *input, const fe_run_span *span,
                            double first_height_m, double snow_m, fe_run_state *state)
{
    state->clearance_m = INFINITY;
    for (int i = 0; i <= CLEARANCE_SAMPLES; i++) {
        const double x_m = span->length_m * i / CLEARANCE_SAMPLES;
        double height_m = 0.0;
        fe_status status = fe_run_height(span, state, first_height_m, x_m, &height_m);
        if (status < 0)
            return status;
        const double over_m =
            height_m - fe_profile_height_at(input->ground, span->from_m + x_m);
        if (over_m < state->clearance_m) {
            state->clearance_m = over_m;
            state->clearance_at_m = span->from_m + x_m;
        }
    }
    state->over_season_m = state->clearance_m - snow_m;
    return FE_OK;
}

static double support_height(const fe_run_input *input, size_t index)
{
    const fe_run_support *support = &input->supports[index];
    return fe_profile_height_at(input->ground, support->at_m) + support->attachment_m;
}

static fe_status string_span(const fe_run_input *input, size_t index, fe_run_span *span)
{
    span->from_m = input->supports[index].at_m;
    span->length_m = input->supports[index + 1].at_m - span->from_m;
    span->rise_m = support_height(input, index + 1) - support_height(input, index);
    const fe_span given = {span->length_m, span->rise_m, input->cable.weight_n_m,
                           input->cable.stiffness_n};
    fe_span_shape shape;
    fe_status status = fe_span_at_sag(&given, input->sag_share * span->length_m, &shape);
    if (status < 0)
        return status;
    span->stringing_tension_n = shape.tension_horizontal_n;
    span->stringing_sag_m = shape.sag_m;
    span->unstretched_m = shape.unstretched_m;
    return status;
}

static fe_status load_span(const fe_run_input *input, const fe_run_span *span, size_t index,
                           const fe_run_case *load, fe_run_state *state)
{
    const fe_tension_cable cable = {input->cable.stiffness_n, input->cable.expansion_1_k};
    const fe_tension_state strung = {.temp_c = input->stringing_c,
                                     .vertical_n_m = input->cable.weight_n_m};
    const fe_tension_state loaded = {
        .temp_c = load->temp_c, .vertical_n_m = load->vertical_n_m, .wind_n_m = load->wind_n_m};
    double tension_n = 0.0;
    fe_status status =
        fe_tension_change(span->length_m, span->rise_m, &cable, &strung,
                          span->stringing_tension_n, &loaded, &tension_n, &state->shape);
    if (status < 0)
        return status;
    state->tension_n = state->shape.tension_higher_end_n;
    state->blowout_rad = atan2(load->wind_n_m, load->vertical_n_m);
    state->sag_m = state->shape.sag_m * cos(state->blowout_rad);
    state->blowout_m = state->shape.sag_m * sin(state->blowout_rad);
    return fe_status_worse(status,
                           look_below(input, span, support_height(input, index),
                                      input->seasons[load->season].snow_depth_m, state));
}

static bool supports_are_sound(const fe_run_input *input)
{
    const double length_m = fe_profile_length(input->ground);
    for (size_t i = 0; i < input->support_count; i++) {
        const fe_run_support *support = &input->supports[i];
        if (!(support->at_m >= 0.0) || support->at_m > length_m + 1e-6)
            return false;
        if (!isfinite(support->attachment_m))
            return false;
        if (i > 0 && !(support->at_m > input->supports[i - 1].at_m))
            return false;
    }
    return true;
}

static fe_status make_room(const fe_run_input *input, fe_run *run)
{
    run->span_count = input->support_count - 1;
    run->spans = calloc(run->span_count, sizeof *run->spans);
    run->cases = calloc(input->season_count * FE_RUN_CASE_KINDS, sizeof *run->cases);
    if (!run->spans || !run->cases)
        return FE_E_MEMORY;
    for (size_t i = 0; i < input->season_count; i++)
        run->case_count += fe_run_season_cases(&input->seasons[i], i, &input->cable,
                                               run->cases + run->case_count);
    run->states = calloc(run->case_count * run->span_count, sizeof *run->states);
    return run->states ? FE_OK : FE_E_MEMORY;
}

fe_status fe_run_compute(const fe_run_input *input, fe_run *run)
{
    if (input->support_count < 2 || input->season_count == 0 || !supports_are_sound(input))
        return FE_E_DOMAIN;
    if (!(input->sag_share >= 0.002) || input->sag_share > 0.2 || !isfinite(input->stringing_c))
        return FE_E_DOMAIN;

    fe_run found = {0};
    fe_status status = make_room(input, &found);
    for (size_t s = 0; s < found.span_count && status >= 0; s++) {
        status = fe_status_worse(status, string_span(input, s, &found.spans[s]));
        found.in_air_m += found.spans[s].unstretched_m;
    }
    for (size_t c = 0; c < found.case_count && status >= 0; c++)
        for (size_t s = 0; s < found.span_count && status >= 0; s++)
            status =
                fe_status_worse(status, load_span(input, &found.spans[s], s, &found.cases[c],
                                                  &found.states[c * found.span_count + s]));
    if (status < 0) {
        fe_run_free(&found);
        return status;
    }
    *run = found;
    return status;
}

void fe_run_free(fe_run *run)
{
    free(run->spans);
    free(run->cases);
    free(run->states);
    *run = (fe_run){0};
}

static const fe_run_state *most(const fe_run *run, size_t season, size_t span, bool by_pull,
                                fe_run_case_kind *kind)
{
    const fe_run_state *found = NULL;
    for (size_t c = 0; c < run->case_count; c++) {
        if (run->cases[c].season != season)
            continue;
        const fe_run_state *state = &run->states[c * run->span_count + span];
        if (found &&
            !(by_pull ? state->tension_n > found->tension_n : state->sag_m > found->sag_m))
            continue;
        found = state;
        if (kind)
            *kind = run->cases[c].kind;
    }
    return found;
}

const fe_run_state *fe_run_most_sag(const fe_run *run, size_t season, size_t span,
                                    fe_run_case_kind *kind)
{
    return most(run, season, span, false, kind);
}

const fe_run_state *fe_run_most_pull(const fe_run *run, size_t season, size_t span,
                                     fe_run_case_kind *kind)
{
    return most(run, season, span, true, kind);
}
