/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/run.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/ice_wind.h"
#include "root.h"
#include "run_kernel.h"

/* Glaze (ISO 12494 Table 1, from memory). */
static const double ICE_DENSITY_KG_M3 = 900.0;

/*
 * Wind while ice hangs: 0.6 of the strongest speed, so 0.36 of its pressure. IEC 60826 sec 6.4
 * takes 0.4 to 0.5 of the extreme wind with extreme ice, older practice more: common practice.
 */
static const double WIND_SHARE_WITH_ICE = 0.6;

/* Ice falls off a cable above this. */
static const double ICE_TEMP_C = 0.0;

/* Even places along a span at which its height is looked at. */
enum { EVEN_LOOKS = 200 };

const char *fe_run_case_name(fe_run_case_kind kind)
{
    static const char *const NAMES[FE_RUN_CASE_KINDS] = {
        "coldest, bare", "hottest, bare", "ice, still air", "ice with wind",
        "wind, bare",    "everyday",      "wet snow",       "district load",
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
    return (fe_run_case){.season = season,
                         .kind = kind,
                         .temp_c = temp_c,
                         .vertical_n_m = load.vertical_n_m,
                         .wind_n_m = load.wind_n_m,
                         .pressure_pa = pressure_pa,
                         .final = kind == FE_RUN_HOT || kind == FE_RUN_ICE ||
                                  kind == FE_RUN_EVERYDAY || kind == FE_RUN_WET_SNOW};
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
    cases[count++] = make_case(index, FE_RUN_EVERYDAY, mean_c, 0.0, 0.0, cable);
    for (size_t i = 0; i < count; i++)
        cases[i].thaw = season->coldest_c < 0.0 && season->hottest_c > 0.0;
    return count;
}

/* Wet snow goes by mass a metre: its thickness says little, its density even less. */
static fe_run_case wet_snow_case(const fe_run_input *input, size_t season)
{
    fe_run_case found = make_case(season, FE_RUN_WET_SNOW, ICE_TEMP_C, 0.0, 0.0, &input->cable);
    found.vertical_n_m += input->wet_snow_kg_m * FE_GRAVITY_M_S2;
    return found;
}

static fe_run_case district_case(const fe_run_input *input)
{
    fe_ice_wind_case given;
    fe_ice_wind_load load;
    fe_run_case found = {.kind = FE_RUN_DISTRICT};
    if (fe_ice_district_case(input->district, input->cable.diameter_m, input->cable.weight_n_m,
                             &given, &found.temp_c) != FE_OK ||
        fe_ice_wind(&given, &load) != FE_OK) {
        found.vertical_n_m = (double)NAN;
        return found;
    }
    found.vertical_n_m = load.vertical_n_m;
    found.wind_n_m = load.wind_n_m;
    found.pressure_pa = given.pressure_pa;
    found.added_n_m = given.added_n_m;
    return found;
}

size_t fe_run_cases(const fe_run_input *input, fe_run_case *cases)
{
    size_t count = 0;
    for (size_t i = 0; i < input->season_count; i++) {
        const fe_season *season = &input->seasons[i];
        count += fe_run_season_cases(season, i, &input->cable, cases + count);
        if (input->wet_snow_kg_m > 0.0 && season->snow_is_wet && season->snow_depth_m > 0.0)
            cases[count++] = wet_snow_case(input, i);
    }
    if (input->district)
        cases[count++] = district_case(input);
    return count;
}

fe_status fe_run_height(const fe_run_span *span, const fe_run_state *state,
                        double first_height_m, double x_m, double *height_m)
{
    /* The plane of the resultant keeps the share of the way along the straight line. A place
     * worked out as a share of the span may come out one digit beyond its end. */
    double share = x_m / span->length_m;
    if (share > 1.0 && share < 1.0 + 1e-9)
        share = 1.0;
    double drop_m = 0.0;
    fe_status status = fe_span_drop(&state->shape, share * state->shape.span.span_m, &drop_m);
    if (status < 0)
        return status;
    *height_m = first_height_m + share * span->rise_m - drop_m * cos(state->blowout_rad);
    return status;
}

bool run_is_bend(const fe_profile *ground, size_t point)
{
    if (point == 0 || point + 1 == ground->count)
        return true;
    const double *at_m = ground->distance_m + point;
    const double *height_m = ground->height_m + point;
    const double share = (at_m[0] - at_m[-1]) / (at_m[1] - at_m[-1]);
    const double line_m = height_m[-1] + share * (height_m[1] - height_m[-1]);
    return fabs(height_m[0] - line_m) > 1e-9;
}

run_looks run_looks_along(const fe_profile *ground, const fe_run_span *span)
{
    return (run_looks){.ground = ground,
                       .from_m = span->from_m,
                       .length_m = span->length_m,
                       .point = fe_profile_first_beyond(ground, span->from_m)};
}

bool run_next_look(run_looks *looks, double *x_m)
{
    if (looks->even <= EVEN_LOOKS) {
        *x_m = looks->length_m * looks->even++ / EVEN_LOOKS;
        return true;
    }
    for (; looks->point < looks->ground->count; looks->point++) {
        *x_m = looks->ground->distance_m[looks->point] - looks->from_m;
        if (!(*x_m < looks->length_m))
            return false;
        if (run_is_bend(looks->ground, looks->point)) {
            looks->point++;
            return true;
        }
    }
    return false;
}

/* Least height over bare ground and over the season's snow, along one span. */
static fe_status look_below(const fe_run_input *input, const fe_run_span *span,
                            double first_height_m, double snow_m, fe_run_state *state)
{
    run_looks looks = run_looks_along(input->ground, span);
    double x_m = 0.0;
    state->clearance_m = INFINITY;
    while (run_next_look(&looks, &x_m)) {
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
    fe_status status = input->stringing_n > 0.0
                           ? fe_span_at_tension(&given, input->stringing_n, &shape)
                           : fe_span_at_sag(&given, input->sag_share * span->length_m, &shape);
    if (status < 0)
        return status;
    span->stringing_tension_n = shape.tension_horizontal_n;
    span->stringing_sag_m = shape.sag_m;
    span->unstretched_m = shape.unstretched_m;
    span->unstretched_excess_m = shape.unstretched_excess_m;
    return status;
}

fe_status run_hang(const fe_run_input *input, const run_piece *piece, double now_m,
                   const fe_run_case *load, double lasting, run_hung *hung)
{
    const double growth =
        input->cable.expansion_1_k * (load->temp_c - input->stringing_c) + lasting;
    if (!(now_m > 0.0) || !(growth > -0.5) || !(growth < 1.0))
        return FE_E_DOMAIN;
    /* The constant of a code pulls along the resultant. */
    const double resultant_n_m = hypot(load->vertical_n_m, load->wind_n_m);
    const double scale = (1.0 + load->added_n_m / resultant_n_m) / (1.0 + growth);
    const fe_span bare = {now_m, piece->rise_m, load->vertical_n_m, input->cable.stiffness_n};
    fe_span plane;
    fe_status status = fe_span_resultant(&bare, load->vertical_n_m * scale,
                                         load->wind_n_m * scale, &plane, &hung->blowout_rad);
    if (status < 0)
        return status;
    /* Unstretched excess over the line as it is now, from that over the line as pegged. */
    const double pegged_m = hypot(piece->length_m, piece->rise_m);
    const double chord_m = hypot(now_m, piece->rise_m);
    const double nearer_m =
        (piece->length_m - now_m) * (piece->length_m + now_m) / (pegged_m + chord_m);
    const double excess_m = piece->unstretched_excess_m +
                            growth * (pegged_m + piece->unstretched_excess_m) + nearer_m;
    status = fe_span_at_excess(&plane, excess_m, &hung->shape);
    if (status >= 0)
        hung->pull_n = hung->shape.tension_horizontal_n * (now_m / plane.span_m);
    return status;
}

static run_piece piece_of(const fe_run_span *span)
{
    return (run_piece){span->length_m, span->rise_m, span->unstretched_excess_m};
}

fe_status run_lasting(const fe_run_input *input, const run_piece *piece, double stringing_n,
                      const fe_run_case *cases, size_t case_count, double *lasting)
{
    double most_n = stringing_n;
    for (size_t c = 0; c < case_count && input->cable.ice_set > 0.0; c++) {
        if (cases[c].kind != FE_RUN_ICE && cases[c].kind != FE_RUN_WET_SNOW)
            continue;
        run_hung hung;
        const fe_status status = run_hang(input, piece, piece->length_m, &cases[c], 0.0, &hung);
        if (status < 0)
            return status;
        most_n = fmax(most_n, hung.pull_n);
    }
    *lasting = input->cable.creep +
               input->cable.ice_set * (most_n - stringing_n) / input->cable.stiffness_n;
    return FE_OK;
}

static fe_status fill_state(const fe_run_input *input, const fe_run_span *span, size_t index,
                            const fe_run_case *load, const run_hung *hung, fe_run_state *state)
{
    const double upright = cos(hung->blowout_rad);
    state->shape = hung->shape;
    state->pull_n = hung->pull_n;
    state->tension_n = hung->shape.tension_higher_end_n;
    state->blowout_rad = hung->blowout_rad;
    state->sag_m = hung->shape.sag_m * upright;
    state->blowout_m = hung->shape.sag_m * sin(hung->blowout_rad);
    state->down_first_n = hung->shape.reaction_first_n * upright;
    state->down_second_n = hung->shape.reaction_second_n * upright;
    return look_below(input, span, support_height(input, index),
                      input->seasons[load->season].snow_depth_m, state);
}

/* Scratch of supports that give: arrays of one more than the spans. */
typedef struct give_room {
    double *moved_m; /* forwards; owns the four that follow */
    double *pull_n;
    double *slope;
    double *upper;
    double *side;
    run_hung *hung;
} give_room;

/* Where the two ends of a span stand, given how far each support gave. */
static double span_now(const fe_run_span *span, const double *moved_m, size_t index)
{
    return moved_m ? span->length_m + moved_m[index + 1] - moved_m[index] : span->length_m;
}

/* Slope of pull over span: what cable and curve together resist. */
static double pull_per_metre(const fe_run_input *input, const fe_run_span *span,
                             const fe_run_case *load, double pull_n)
{
    const double weight_n = hypot(load->vertical_n_m, load->wind_n_m) * span->length_m;
    return 1.0 / (span->length_m / input->cable.stiffness_n +
                  weight_n * weight_n * span->length_m / (12.0 * pull_n * pull_n * pull_n));
}

/*
 * One step of Newton's method for supports that give: moved = c ((1 + k) U - U0), U the pull
 * forwards less the pull back, now and as strung. The matrix has three diagonals and is
 * dominated by the middle one. Returns the largest step.
 */
static double give_step(const fe_run_input *input, const fe_run *run, const fe_run_case *load,
                        give_room *room)
{
    const size_t last = run->span_count;
    const double creep = load->final ? 1.0 + input->post_creep : 1.0;
    double carried = 0.0; /* upper diagonal and right side of the row before */
    double carried_side = 0.0;
    for (size_t j = 0; j <= last; j++) {
        const double give = input->gives_m_n[j];
        const double back_n = j > 0 ? room->pull_n[j - 1] : 0.0;
        const double forward_n = j < last ? room->pull_n[j] : 0.0;
        const double back0_n = j > 0 ? run->spans[j - 1].stringing_tension_n : 0.0;
        const double forward0_n = j < last ? run->spans[j].stringing_tension_n : 0.0;
        const double left = j > 0 ? room->slope[j - 1] : 0.0;
        const double right = j < last ? room->slope[j] : 0.0;
        const double miss =
            room->moved_m[j] - give * (creep * (forward_n - back_n) - (forward0_n - back0_n));
        const double lower = -give * creep * left;
        const double upper = -give * creep * right;
        const double middle = 1.0 + give * creep * (left + right) - lower * carried;
        room->upper[j] = upper / middle;
        room->side[j] = (-miss - lower * carried_side) / middle;
        carried = room->upper[j];
        carried_side = room->side[j];
    }
    double next = 0.0;
    double largest = 0.0;
    for (size_t j = last + 1; j-- > 0;) {
        next = room->side[j] - (j < last ? room->upper[j] * next : 0.0);
        room->moved_m[j] += next;
        largest = fmax(largest, fabs(next));
    }
    return largest;
}

static fe_status hang_all(const fe_run_input *input, const fe_run *run, const fe_run_case *load,
                          const double *lasting, const double *moved_m, run_hung *hung)
{
    fe_status worst = FE_OK;
    for (size_t s = 0; s < run->span_count; s++) {
        const run_piece piece = piece_of(&run->spans[s]);
        const fe_status status = run_hang(input, &piece, span_now(&run->spans[s], moved_m, s),
                                          load, load->final ? lasting[s] : 0.0, &hung[s]);
        if (status < 0)
            return status;
        worst = fe_status_worse(worst, status);
    }
    return worst;
}

/* A cable that runs free: spans in the plane of a load, and what they hold together. */
typedef struct free_section {
    const fe_run *run;
    fe_span *planes;
    double wanted_m;
} free_section;

static double free_pull_in_plane(const free_section *section, size_t s, double pull_n)
{
    return pull_n * section->planes[s].span_m / section->run->spans[s].length_m;
}

static double free_miss(double pull_n, void *context)
{
    const free_section *section = context;
    double excess_m = -section->wanted_m;
    for (size_t s = 0; s < section->run->span_count; s++) {
        fe_span_shape shape;
        if (fe_span_at_tension(&section->planes[s], free_pull_in_plane(section, s, pull_n),
                               &shape) < 0)
            return (double)NAN;
        excess_m += shape.unstretched_excess_m;
    }
    return excess_m;
}

static fe_status solve_free(const free_section *section, double guess_n, run_hung *hung)
{
    free_section found = *section;
    double least_n = 0.0, most_n = INFINITY, pull_n = 0.0;
    for (size_t s = 0; s < section->run->span_count; s++) {
        const fe_span *plane = &section->planes[s];
        const double share = section->run->spans[s].length_m / fe_span_chord(plane);
        /* From a cable that hangs down steeply to one that stretches by a third. */
        least_n = fmax(least_n, 0.025 * plane->load_n_m * plane->span_m);
        most_n = fmin(most_n, 0.33 * plane->stiffness_n * share);
    }
    const fe_status status =
        wired_root_near(free_miss, &found, guess_n, least_n, most_n, &pull_n);
    fe_status worst = status;
    for (size_t s = 0; s < section->run->span_count && worst >= 0; s++) {
        hung[s].pull_n = pull_n;
        worst = fe_status_worse(
            worst, fe_span_at_tension(&section->planes[s],
                                      free_pull_in_plane(section, s, pull_n), &hung[s].shape));
    }
    return worst;
}

/* One pull along all spans: the sum of what is strung into them is kept. */
static fe_status hang_free(const fe_run_input *input, const fe_run *run,
                           const fe_run_case *load, const double *lasting, run_hung *hung)
{
    free_section section = {.run = run, .planes = calloc(run->span_count, sizeof(fe_span))};
    fe_status status = section.planes ? FE_OK : FE_E_MEMORY;
    for (size_t s = 0; s < run->span_count && status >= 0; s++) {
        const fe_run_span *span = &run->spans[s];
        const double growth = input->cable.expansion_1_k * (load->temp_c - input->stringing_c) +
                              (load->final ? lasting[s] : 0.0);
        const double resultant_n_m = hypot(load->vertical_n_m, load->wind_n_m);
        const double scale = (1.0 + load->added_n_m / resultant_n_m) / (1.0 + growth);
        const fe_span bare = {span->length_m, span->rise_m, load->vertical_n_m,
                              input->cable.stiffness_n};
        section.wanted_m +=
            span->unstretched_excess_m +
            growth * (hypot(span->length_m, span->rise_m) + span->unstretched_excess_m);
        status = fe_span_resultant(&bare, load->vertical_n_m * scale, load->wind_n_m * scale,
                                   &section.planes[s], &hung[s].blowout_rad);
    }
    if (status >= 0)
        status = solve_free(&section, run->spans[0].stringing_tension_n, hung);
    free(section.planes);
    return status;
}

/* All spans in one case, supports giving until pulls and places agree. */
static fe_status settle(const fe_run_input *input, const fe_run *run, const fe_run_case *load,
                        const double *lasting, give_room *room)
{
    enum { MOST_STEPS = 100 };
    if (input->free_running)
        return hang_free(input, run, load, lasting, room->hung);
    fe_status status = hang_all(input, run, load, lasting, NULL, room->hung);
    if (status < 0 || !input->gives_m_n)
        return status;
    for (size_t j = 0; j <= run->span_count; j++)
        room->moved_m[j] = 0.0;
    for (int step = 0; step < MOST_STEPS; step++) {
        for (size_t s = 0; s < run->span_count; s++) {
            room->pull_n[s] = room->hung[s].pull_n;
            room->slope[s] = pull_per_metre(input, &run->spans[s], load, room->pull_n[s]);
        }
        const double moved_m = give_step(input, run, load, room);
        status = hang_all(input, run, load, lasting, room->moved_m, room->hung);
        if (status < 0 || moved_m < 1e-10)
            return status;
    }
    return FE_E_CONVERGE;
}

static fe_status load_case(const fe_run_input *input, size_t index, const double *lasting,
                           give_room *room, fe_run *run)
{
    const fe_run_case *load = &run->cases[index];
    const bool gives = input->gives_m_n && !input->free_running;
    fe_status status = settle(input, run, load, lasting, room);
    for (size_t s = 0; s < run->span_count && status >= 0; s++) {
        fe_run_state *state = &run->states[index * run->span_count + s];
        state->span_now_m = span_now(&run->spans[s], gives ? room->moved_m : NULL, s);
        status = fe_status_worse(
            status, fill_state(input, &run->spans[s], s, load, &room->hung[s], state));
    }
    return status;
}

static void free_give(give_room *room)
{
    free(room->moved_m);
    free(room->hung);
}

static fe_status make_give(size_t spans, give_room *room)
{
    enum { COLUMNS = 5 };
    const size_t length = spans + 1;
    room->moved_m = calloc(COLUMNS * length, sizeof *room->moved_m);
    room->hung = calloc(length, sizeof *room->hung);
    if (!room->moved_m || !room->hung)
        return FE_E_MEMORY;
    room->pull_n = room->moved_m + length;
    room->slope = room->moved_m + 2 * length;
    room->upper = room->moved_m + 3 * length;
    room->side = room->moved_m + 4 * length;
    return FE_OK;
}

static fe_status load_all(const fe_run_input *input, fe_run *run)
{
    give_room room = {0};
    double *lasting = calloc(run->span_count, sizeof *lasting);
    fe_status status = lasting ? make_give(run->span_count, &room) : FE_E_MEMORY;
    for (size_t s = 0; s < run->span_count && status >= 0; s++) {
        const run_piece piece = piece_of(&run->spans[s]);
        status = fe_status_worse(status,
                                 run_lasting(input, &piece, run->spans[s].stringing_tension_n,
                                             run->cases, run->case_count, &lasting[s]));
    }
    for (size_t c = 0; c < run->case_count && status >= 0; c++)
        status = fe_status_worse(status, load_case(input, c, lasting, &room, run));
    free_give(&room);
    free(lasting);
    return status;
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
    run->case_count = fe_run_cases(input, run->cases);
    run->states = calloc(run->case_count * run->span_count, sizeof *run->states);
    return run->states ? FE_OK : FE_E_MEMORY;
}

static bool strings_soundly(const fe_run_input *input)
{
    const bool by_pull = is_positive(input->stringing_n);
    const bool by_sag = input->sag_share >= 0.002 && input->sag_share <= 0.2;
    const fe_run_cable *cable = &input->cable;
    return (by_pull || by_sag) && isfinite(input->stringing_c) && cable->creep >= 0.0 &&
           cable->creep < 0.1 && cable->ice_set >= 0.0 && cable->ice_set <= 1.0 &&
           is_at_least_zero(input->wet_snow_kg_m);
}

static bool gives_soundly(const fe_run_input *input)
{
    if (!is_at_least_zero(input->post_creep))
        return false;
    for (size_t i = 0; input->gives_m_n && i < input->support_count; i++)
        if (!is_at_least_zero(input->gives_m_n[i]))
            return false;
    return true;
}

fe_status fe_run_compute(const fe_run_input *input, fe_run *run)
{
    if (input->support_count < 2 || input->season_count == 0 || !supports_are_sound(input))
        return FE_E_DOMAIN;
    if (!strings_soundly(input) || !gives_soundly(input))
        return FE_E_DOMAIN;

    fe_run found = {0};
    fe_status status = make_room(input, &found);
    for (size_t s = 0; s < found.span_count && status >= 0; s++) {
        status = fe_status_worse(status, string_span(input, s, &found.spans[s]));
        found.in_air_m += found.spans[s].unstretched_m;
    }
    if (status >= 0)
        status = fe_status_worse(status, load_all(input, &found));
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
