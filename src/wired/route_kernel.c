/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "route_kernel.h"

#include <math.h>

double route_length(const fe_route_input *input)
{
    return fe_profile_length(input->run.ground);
}

double route_height(const route_kernel *kernel, double at_m, double attachment_m)
{
    return fe_profile_height_at(kernel->input->run.ground, at_m) + attachment_m;
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

fe_run_input route_run_above(const fe_route_above *above, const fe_run_input *first)
{
    fe_run_input run = *first;
    run.cable = above->cable;
    run.district = above->district;
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
    const fe_run_input run = route_run_above(input->above, &input->run);
    if (!(input->above->up_m > 0.0) || input->run.free_running ||
        fe_run_cases(&run, kernel->above) != kernel->case_count)
        return FE_E_DOMAIN;
    kernel->above_share = fe_route_above_string(input->above, &input->run.cable, 1.0);
    return FE_OK;
}

fe_status route_kernel_make(const fe_route_input *input, route_kernel *kernel)
{
    *kernel = (route_kernel){.input = input};
    if (input->run.season_count > FE_MOST_SEASONS)
        return FE_E_DOMAIN;
    kernel->case_count = fe_run_cases(&input->run, kernel->cases);
    fe_status status = make_above(input, kernel);
    if (status != FE_OK)
        return status;
    drop_repeated_cases(kernel);
    kernel->pull_count = kernel->case_count * (input->above ? 2 : 1);
    status = route_heights_make(kernel);
    if (status == FE_OK)
        status = route_pulls_make(kernel);
    if (status != FE_OK)
        route_kernel_free(kernel);
    return status;
}

void route_kernel_free(route_kernel *kernel)
{
    route_heights_free(kernel);
    route_pulls_free(kernel);
    *kernel = (route_kernel){0};
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
        const double drop_m =
            relax *
            route_middle_drop(&above->cable, upper, span->pull_n[kernel->case_count + c], span);
        for (size_t d = 0; d < kernel->case_count; d++) {
            const fe_run_case *lower = &kernel->cases[d];
            if (lower->season != upper->season ||
                !route_is_bare(lower, &kernel->input->run.cable))
                continue;
            const double apart_m =
                above->up_m - drop_m +
                route_middle_drop(&kernel->input->run.cable, lower, span->pull_n[d], span) /
                    relax;
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
        found.use =
            route_heights_hold(kernel, span, from_m, from_height_m, relax) ? found.use : 2.0;
    else
        (void)route_heights_use(kernel, span, from_m, from_height_m, enough, relax, &found);
    for (size_t n = 0; n < input->need_count && !input->clearance_free; n++)
        if (input->needs[n].beside_m > 0.0 && found.use <= enough)
            route_look_beside(kernel, span, from_m, &input->needs[n], relax, &found);
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

/*
 * What a post must stand alone where a span breaks: asked of corners, on any day without ice or
 * storm (common practice, no source); of straight posts it is reported only.
 */
static double broken_pull(fe_run_case_kind kind, double turn_rad, double back_n,
                          double forward_n)
{
    if (kind != FE_RUN_EVERYDAY || turn_rad == 0.0)
        return 0.0;
    return back_n > forward_n ? back_n : forward_n;
}

void route_load_post(const fe_route_input *input, const fe_posts_kind *kind, double turn_rad,
                     double half_m, const route_hang *hang, const route_hang *above,
                     fe_posts_load *on)
{
    const fe_run_case *load = hang->load;
    double back_n = hang->back_n;
    double forward_n = hang->forward_n;
    *on = (fe_posts_load){
        .cable_wind_n = load->wind_n_m * half_m,
        .pressure_pa = load->pressure_pa,
        .down_n = hang->down_n,
        .thaw = load->thaw,
    };
    if (above) {
        const double arm = route_above_arm(input, kind);
        back_n += arm * above->back_n;
        forward_n += arm * above->forward_n;
        on->cable_wind_n += arm * above->load->wind_n_m * half_m;
        on->down_n += above->down_n;
    }
    on->broken_n = broken_pull(load->kind, turn_rad, back_n, forward_n);
    fe_posts_set_pulls(back_n, forward_n, turn_rad, on);
}

/* `pull` counts the pulls of the spans, those of a cable above after the others. */
static route_hang hang_between(const route_span *back, const route_span *forward, size_t pull,
                               const fe_run_case *load)
{
    const double back_n = back->pull_n[pull];
    const double forward_n = forward->pull_n[pull];
    return (route_hang){load, back_n, forward_n,
                        down_on(back, 1.0, back_n, load->vertical_n_m) +
                            down_on(forward, -1.0, forward_n, load->vertical_n_m)};
}

static double post_case_use(const route_kernel *kernel, const fe_posts_kind *kind,
                            double turn_rad, const route_span *back, const route_span *forward,
                            size_t c, fe_posts_duty *duty)
{
    const fe_route_input *input = kernel->input;
    route_hang hang = hang_between(back, forward, c, &kernel->cases[c]);
    route_hang above;
    fe_posts_load on;
    /* A cable that runs free pulls alike on both sides. */
    if (input->run.free_running)
        hang.back_n = hang.forward_n = fmax(hang.back_n, hang.forward_n);
    if (input->above)
        above = hang_between(back, forward, kernel->case_count + c, &kernel->above[c]);
    route_load_post(input, kind, turn_rad, 0.5 * (back->length_m + forward->length_m), &hang,
                    input->above ? &above : NULL, &on);
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

/* ---- A whole route ---- */

/* The largest moment of a post between two spans; keeps its use where it is the worst so far. */
static double look_at_post(const route_kernel *kernel, const fe_posts_kind *kind,
                           double turn_rad, const route_span *back, const route_span *forward,
                           fe_route_use *worst)
{
    double most_n_m = 0.0;
    for (size_t c = 0; c < kernel->case_count && !kernel->input->posts_free; c++) {
        fe_posts_duty duty;
        const double use = post_case_use(kernel, kind, turn_rad, back, forward, c, &duty);
        most_n_m = fmax(most_n_m, duty.moment_n_m);
        if (use > worst->use)
            *worst = (fe_route_use){.limit = FE_ROUTE_POST,
                                    .post_limit = duty.limit,
                                    .use = use,
                                    .value = use,
                                    .allowed = 1.0,
                                    .season = kernel->cases[c].season,
                                    .kind = kernel->cases[c].kind};
    }
    return most_n_m;
}

double route_whole_use(route_kernel *kernel, const size_t *places, const size_t *kinds,
                       size_t count, double *moment_n_m, fe_route_use *worst)
{
    const fe_route_input *input = kernel->input;
    double pulls[2][ROUTE_MOST_PULLS];
    route_span spans[2] = {{.pull_n = pulls[0]}, {.pull_n = pulls[1]}};
    fe_route_use found = {0};
    double at_m = 0.0;
    double height_m = route_height(kernel, 0.0, input->start_attachment_m);
    double most_n_m = 0.0;
    for (size_t i = 0; i <= count; i++) {
        const double next_m = i < count ? input->places[places[i]].at_m : route_length(input);
        const double attachment_m =
            i < count ? input->kinds[kinds[i]].attachment_m : input->end_attachment_m;
        const double next_height_m = route_height(kernel, next_m, attachment_m);
        route_span *span = &spans[i % 2];
        route_span_pulls(kernel, next_m - at_m, next_height_m - height_m, span);
        (void)route_span_use(kernel, span, at_m, height_m, INFINITY, 1.0, &found);
        if (i > 0 && moment_n_m) {
            const double before = found.use;
            most_n_m = fmax(most_n_m, look_at_post(kernel, &input->kinds[kinds[i - 1]],
                                                   input->places[places[i - 1]].turn_rad,
                                                   &spans[(i + 1) % 2], span, &found));
            if (found.use > before) {
                found.at_m = at_m;
                found.index = i - 1;
            }
        }
        at_m = next_m;
        height_m = next_height_m;
    }
    if (moment_n_m)
        *moment_n_m = most_n_m;
    if (worst)
        *worst = found;
    return found.use;
}
