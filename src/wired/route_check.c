/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "farend/route.h"
#include "route_kernel.h"
#include "run_kernel.h"

const char *fe_route_use_name(const fe_route_use *use)
{
    static const char *const NAMES[FE_ROUTE_LIMITS] = {
        [FE_ROUTE_PULL] = "pull in the cable",
        [FE_ROUTE_STRAIN] = "stretch of the carried cable",
        [FE_ROUTE_SIDE] = "blow-out towards a thing beside",
        [FE_ROUTE_GROUND] = "height over bare ground",
        [FE_ROUTE_SNOW] = "height over the snow",
        [FE_ROUTE_ABOVE] = "pull in the supply cable",
        [FE_ROUTE_APART] = "supply cable over the data cable in the span",
        [FE_ROUTE_AT_POST] = "supply cable over the data cable at the posts",
    };
    return use->limit == FE_ROUTE_POST ? fe_posts_limit_name(use->post_limit)
                                       : NAMES[use->limit];
}

/* The input as it would be if something were otherwise. */
typedef struct changed {
    fe_run_input run;
    fe_season *seasons;
} changed;

static void free_changed(changed *c)
{
    free(c->seasons);
}

static fe_status change_input(const fe_route_input *input, const fe_route_change *change,
                              changed *c)
{
    *c = (changed){.run = input->run};
    c->seasons = calloc(input->run.season_count, sizeof *c->seasons);
    if (!c->seasons)
        return FE_E_MEMORY;
    for (size_t s = 0; s < input->run.season_count; s++) {
        c->seasons[s] = input->run.seasons[s];
        c->seasons[s].ice_m *= change->ice;
        c->seasons[s].snow_depth_m *= change->snow;
    }
    c->run.seasons = c->seasons;
    c->run.wet_snow_kg_m *= change->ice;
    return FE_OK;
}

static const fe_posts_kind *post_kind(const fe_route_input *input, const fe_route *route,
                                      size_t post)
{
    return &input->kinds[route->kinds[post]];
}

static double turn_at(const fe_route_input *input, const fe_route *route, size_t post)
{
    return input->places[route->places[post]].turn_rad;
}

static fe_status make_supports(const fe_route_input *input, const fe_route *route,
                               fe_route_check *check)
{
    const size_t posts = route->post_count;
    check->support_count = posts + 2;
    check->supports = calloc(posts + 2, sizeof *check->supports);
    check->duties = calloc(posts + 1, sizeof *check->duties);
    if (!check->supports || !check->duties)
        return FE_E_MEMORY;
    check->supports[0] = (fe_run_support){0.0, input->start_attachment_m};
    for (size_t i = 0; i < posts; i++)
        check->supports[i + 1] = (fe_run_support){input->places[route->places[i]].at_m,
                                                  post_kind(input, route, i)->attachment_m};
    check->supports[posts + 1] =
        (fe_run_support){fe_profile_length(input->run.ground), input->end_attachment_m};
    return FE_OK;
}

/* A cable above pulls at a post as well; how it shares in what moves it goes by the weights. */
static double give_of_both(const fe_route_input *input, const fe_posts_kind *kind,
                           double give_m_n)
{
    if (!input->above)
        return give_m_n;
    return give_m_n * (1.0 + route_above_arm(input, kind) *
                                 fe_route_above_string(input->above, &input->run.cable, 1.0));
}

/* Cases of the same order as those of the first cable: both go by the seasons. */
static fe_status compute_above(const fe_route_input *input, const changed *c,
                               fe_route_check *check)
{
    fe_run_input run = route_run_above(input->above, &c->run);
    fe_run_support *supports = calloc(check->support_count, sizeof *supports);
    if (!supports)
        return FE_E_MEMORY;
    for (size_t i = 0; i < check->support_count; i++) {
        supports[i] = check->supports[i];
        supports[i].attachment_m += input->above->up_m;
    }
    run.supports = supports;
    run.stringing_n =
        fe_route_above_string(input->above, &input->run.cable, c->run.stringing_n);
    const fe_status status = fe_run_compute(&run, &check->above);
    free(supports);
    return status;
}

static fe_status compute_runs(const fe_route_input *input, const fe_route *route,
                              const fe_posts_material *material, changed *c,
                              fe_route_check *check)
{
    double *gives_m_n = calloc(check->support_count, sizeof *gives_m_n);
    fe_status status = gives_m_n ? FE_OK : FE_E_MEMORY;
    for (size_t i = 0; i < route->post_count && status == FE_OK; i++)
        status = fe_posts_give(material, post_kind(input, route, i), turn_at(input, route, i),
                               &gives_m_n[i + 1]);
    for (size_t i = 0; i < route->post_count && status == FE_OK; i++)
        gives_m_n[i + 1] = give_of_both(input, post_kind(input, route, i), gives_m_n[i + 1]);
    c->run.supports = check->supports;
    c->run.support_count = check->support_count;
    if (status == FE_OK)
        status = fe_run_compute(&c->run, &check->run);
    if (status >= 0 && input->above)
        status = fe_status_worse(status, compute_above(input, c, check));
    c->run.gives_m_n = gives_m_n;
    c->run.post_creep = FE_POSTS_CREEP;
    if (status >= 0)
        status = fe_status_worse(status, fe_run_compute(&c->run, &check->give));
    c->run.gives_m_n = NULL;
    free(gives_m_n);
    return status;
}

/* ---- Pull and height ---- */

static void keep(fe_route_check *check, const fe_route_use *use)
{
    if (use->use > check->uses[use->limit].use)
        check->uses[use->limit] = *use;
    check->largest_use = fmax(check->largest_use, use->use);
}

static void keep_strain(const fe_route_input *input, double strung_n, fe_route_use use,
                        fe_route_check *check)
{
    if (!(input->limits.carried_n > 0.0))
        return;
    use.limit = FE_ROUTE_STRAIN;
    use.allowed = strung_n + input->limits.carried_n;
    use.use = use.value / use.allowed;
    keep(check, &use);
}

static double tension_above(const fe_route_input *input, const fe_route_check *check, size_t c,
                            size_t s)
{
    return input->above ? check->above.states[c * check->above.span_count + s].tension_n : 0.0;
}

static void check_pulls(const fe_route_input *input, fe_route_check *check)
{
    const fe_run *run = &check->run;
    for (size_t c = 0; c < run->case_count; c++)
        for (size_t s = 0; s < run->span_count; s++) {
            const fe_run_state *state = &run->states[c * run->span_count + s];
            const double allowed_n = input->limits.limit_n[run->cases[c].kind];
            const fe_route_use use = {.limit = FE_ROUTE_PULL,
                                      .use = state->tension_n / allowed_n,
                                      .value = state->tension_n,
                                      .allowed = allowed_n,
                                      .at_m =
                                          run->spans[s].from_m + 0.5 * run->spans[s].length_m,
                                      .index = s,
                                      .season = run->cases[c].season,
                                      .kind = run->cases[c].kind};
            keep(check, &use);
            keep_strain(input, run->spans[s].stringing_tension_n, use, check);
            const double both_n = state->tension_n + tension_above(input, check, c, s);
            if (s == 0)
                check->start_pull_n = fmax(check->start_pull_n, both_n);
            if (s + 1 == run->span_count)
                check->end_pull_n = fmax(check->end_pull_n, both_n);
        }
}

static fe_route_use use_of_above(const fe_route_check *check, fe_route_limit limit, size_t c,
                                 size_t s)
{
    const fe_run *run = &check->above;
    return (fe_route_use){.limit = limit,
                          .at_m = run->spans[s].from_m + 0.5 * run->spans[s].length_m,
                          .index = s,
                          .season = run->cases[c].season,
                          .kind = run->cases[c].kind};
}

static double least_bare_sag(const fe_route_input *input, const fe_run *run, size_t season,
                             size_t s)
{
    double least_m = INFINITY;
    for (size_t c = 0; c < run->case_count; c++)
        if (run->cases[c].season == season && route_is_bare(&run->cases[c], &input->run.cable))
            least_m = fmin(least_m, run->states[c * run->span_count + s].sag_m);
    return least_m;
}

/* The upper still and as deep as its case has it, the lower as taut as a bare case of the
 * season. Both ends move alike where posts give. */
static fe_status check_apart(const fe_route_input *input, size_t c, size_t s,
                             fe_route_check *check)
{
    const fe_run_case *upper = &check->above.cases[c];
    const double data_m = least_bare_sag(input, &check->run, upper->season, s);
    fe_route_use post = use_of_above(check, FE_ROUTE_AT_POST, c, s);
    fe_route_use span = use_of_above(check, FE_ROUTE_APART, c, s);
    if (upper->wind_n_m > 0.0 || !isfinite(data_m))
        return FE_OK;
    const double low_m = check->supports[s].attachment_m;
    const fe_status status = fe_limits_shared_distance(
        low_m + input->above->up_m, check->above.states[c * check->above.span_count + s].sag_m,
        low_m, data_m, &post.value, &span.value);
    if (status < 0)
        return status;
    post.at_m = check->above.spans[s].from_m;
    post.allowed = input->above->asked.at_pole_m;
    post.use = route_height_use(post.value, post.allowed);
    span.allowed = input->above->asked.in_span_m;
    span.use = route_height_use(span.value, span.allowed);
    check->apart_m = fmin(check->apart_m, span.value);
    keep(check, &post);
    keep(check, &span);
    return FE_OK;
}

static fe_status check_above(const fe_route_input *input, fe_route_check *check)
{
    const fe_run *run = &check->above;
    fe_status status = FE_OK;
    check->apart_m = input->above ? INFINITY : (double)NAN;
    for (size_t c = 0; c < run->case_count && input->above; c++)
        for (size_t s = 0; s < run->span_count && status == FE_OK; s++) {
            fe_route_use use = use_of_above(check, FE_ROUTE_ABOVE, c, s);
            use.value = run->states[c * run->span_count + s].tension_n;
            use.allowed = input->above->limits.limit_n[use.kind];
            use.use = use.value / use.allowed;
            keep(check, &use);
            status = check_apart(input, c, s, check);
        }
    return status;
}

static void check_height(const fe_clearance_need *need, double height_m, double snow_m,
                         fe_route_use *use, fe_route_check *check)
{
    const struct {
        fe_route_limit limit;
        double value_m;
        double asked_m;
    } both[] = {
        {FE_ROUTE_GROUND, height_m, need->over_ground_m},
        {FE_ROUTE_SNOW, height_m - snow_m, need->over_snow_m},
    };
    for (size_t i = 0; i < 2; i++) {
        if (!(both[i].asked_m > 0.0) || (i == 1 && !(snow_m > 0.0)))
            continue;
        use->limit = both[i].limit;
        use->value = both[i].value_m;
        use->allowed = both[i].asked_m;
        use->use = route_height_use(both[i].value_m, both[i].asked_m);
        use->need = need;
        check->worst_clearance_m =
            fmin(check->worst_clearance_m, both[i].value_m - both[i].asked_m);
        keep(check, use);
    }
}

/* Blown out at one place, as far as the nearest thing beside allows. */
static fe_status check_beside(const fe_run_span *span, const fe_run_state *state, double x_m,
                              const fe_clearance_need *need, fe_route_use *use,
                              fe_route_check *check)
{
    double drop_m = 0.0;
    const double share = fmin(x_m / span->length_m, 1.0);
    const fe_status status =
        fe_span_drop(&state->shape, share * state->shape.span.span_m, &drop_m);
    if (status < 0)
        return status;
    use->limit = FE_ROUTE_SIDE;
    use->value = drop_m * sin(state->blowout_rad) + FE_LIMITS_BESIDE_M;
    use->allowed = need->beside_m;
    use->use = use->value / use->allowed;
    use->need = need;
    keep(check, use);
    return FE_OK;
}

/* One span in one case, and what stands or lies along it. */
typedef struct looked_span {
    const fe_route_input *input;
    const fe_run_input *run;
    const fe_run_span *span;
    const fe_run_state *state;
    const fe_run_case *load;
    size_t index;
    double first_m;  /* height of the cable at the first support */
    double raised_m; /* ground higher by so much */
} looked_span;

static fe_status check_place(const looked_span *looked, double x_m, double at_m,
                             fe_route_check *check)
{
    const fe_route_input *input = looked->input;
    const fe_run_input *run = looked->run;
    double cable_m = 0.0;
    if (at_m < input->wall_free_m || at_m > fe_profile_length(run->ground) - input->wall_free_m)
        return FE_OK;
    const fe_status status =
        fe_run_height(looked->span, looked->state, looked->first_m, x_m, &cable_m);
    if (status < 0)
        return status;
    const double height_m =
        cable_m - fe_profile_height_at(run->ground, at_m) - looked->raised_m;
    fe_route_use use = {.at_m = at_m,
                        .index = looked->index,
                        .season = looked->load->season,
                        .kind = looked->load->kind};
    for (size_t n = 0; n < input->need_count; n++) {
        const fe_clearance_need *need = &input->needs[n];
        if (at_m < need->from_m || at_m > need->to_m)
            continue;
        check_height(need, height_m, run->seasons[looked->load->season].snow_depth_m, &use,
                     check);
        if (need->beside_m > 0.0 &&
            check_beside(looked->span, looked->state, x_m, need, &use, check) < 0)
            return FE_E_DOMAIN;
    }
    return FE_OK;
}

/* A thing may lie between two looks. */
static fe_status check_edges(const looked_span *looked, fe_route_check *check)
{
    fe_status status = FE_OK;
    for (size_t n = 0; n < looked->input->need_count; n++) {
        const fe_clearance_need *need = &looked->input->needs[n];
        const double edges_m[] = {need->from_m, need->to_m};
        for (size_t i = 0; i < 2 && status == FE_OK; i++) {
            const double x_m = edges_m[i] - looked->span->from_m;
            if (x_m >= 0.0 && x_m <= looked->span->length_m)
                status = check_place(looked, x_m, edges_m[i], check);
        }
    }
    return status;
}

static fe_status check_span_heights(const fe_route_input *input, const fe_run_input *run,
                                    double ground_m, size_t c, size_t s, fe_route_check *check)
{
    const fe_run_span *span = &check->give.spans[s];
    const looked_span looked = {
        .input = input,
        .run = run,
        .span = span,
        .state = &check->give.states[c * check->give.span_count + s],
        .load = &check->give.cases[c],
        .index = s,
        .first_m =
            fe_profile_height_at(run->ground, span->from_m) + check->supports[s].attachment_m,
        .raised_m = ground_m,
    };
    run_looks looks = run_looks_along(run->ground, span);
    fe_status status = FE_OK;
    double x_m = 0.0;
    while (status == FE_OK && run_next_look(&looks, &x_m))
        status = check_place(&looked, x_m, span->from_m + x_m, check);
    return status == FE_OK ? check_edges(&looked, check) : status;
}

static fe_status check_heights(const fe_route_input *input, const fe_run_input *run,
                               double ground_m, fe_route_check *check)
{
    fe_status status = FE_OK;
    check->worst_clearance_m = INFINITY;
    for (size_t c = 0; c < check->give.case_count && status == FE_OK; c++)
        for (size_t s = 0; s < check->give.span_count && status == FE_OK; s++)
            status = check_span_heights(input, run, ground_m, c, s, check);
    return status;
}

/* ---- Posts ---- */

static route_hang hang_at(const fe_run *run, size_t c, size_t post)
{
    const fe_run_state *back = &run->states[c * run->span_count + post];
    const fe_run_state *forward = back + 1;
    return (route_hang){&run->cases[c], back->pull_n, forward->pull_n,
                        back->down_second_n + forward->down_first_n};
}

static void look_at_post(const fe_route_input *input, const fe_route *route, size_t post,
                         size_t c, fe_route_check *check)
{
    const fe_run *run = &check->run;
    const fe_run_case *load = &run->cases[c];
    const double half_m = 0.5 * (run->spans[post].length_m + run->spans[post + 1].length_m);
    const fe_posts_kind *kind = post_kind(input, route, post);
    const route_hang hang = hang_at(run, c, post);
    route_hang above;
    fe_posts_load on;
    if (input->above)
        above = hang_at(&check->above, c, post);
    route_load_post(input, kind, turn_at(input, route, post), half_m, &hang,
                    input->above ? &above : NULL, &on);
    fe_route_duty *duty = &check->duties[post];
    fe_posts_duty found;
    fe_posts_check(kind, &on, &found);
    duty->moment_n_m = fmax(duty->moment_n_m, found.moment_n_m);
    duty->pull_n = fmax(duty->pull_n, on.pull_n);
    duty->stay_n = fmax(duty->stay_n, found.stay_n);
    duty->down_n = fmax(duty->down_n, on.down_n);
    duty->broken_n = fmax(duty->broken_n, on.side_n);
    duty->broken_use =
        fmax(duty->broken_use, kind->gust_per_n_m * found.broken_n * kind->attachment_m);
    if (load->kind == FE_RUN_EVERYDAY)
        duty->lasting_pull_n = fmax(duty->lasting_pull_n, found.bending_n);
    if (load->thaw && load->kind == FE_RUN_EVERYDAY)
        duty->thaw_pull_n = fmax(duty->thaw_pull_n, found.bending_n);
    if (load->thaw)
        duty->thaw_moment_n_m = fmax(duty->thaw_moment_n_m, found.moment_n_m);
    if (found.use >= duty->worst.use) {
        duty->worst = found;
        duty->season = load->season;
        duty->kind = load->kind;
    }
}

/* The deeper of what firm ground asks for, and thawing ground in its season. */
static fe_status find_depth(const fe_posts_material *material, const fe_posts_kind *kind,
                            fe_route_duty *duty)
{
    fe_posts_material firm = *material;
    double thaw_depth_m = 0.0;
    firm.thaw_m = 0.0;
    fe_status status =
        fe_posts_depth_needed(&firm, kind->attachment_m, duty->lasting_pull_n,
                              duty->moment_n_m / kind->attachment_m, &duty->depth_needed_m);
    if (status == FE_OK && duty->thaw_moment_n_m > 0.0)
        status =
            fe_posts_depth_needed(material, kind->attachment_m, duty->thaw_pull_n,
                                  duty->thaw_moment_n_m / kind->attachment_m, &thaw_depth_m);
    if (status == FE_OK)
        duty->depth_needed_m = fmax(duty->depth_needed_m, thaw_depth_m);
    return status;
}

static fe_status finish_post(const fe_route_input *input, const fe_route *route,
                             const fe_posts_material *material, size_t post,
                             fe_route_check *check)
{
    const fe_posts_kind *kind = post_kind(input, route, post);
    fe_route_duty *duty = &check->duties[post];
    double give_m_n = 0.0;
    fe_status status = fe_posts_give(material, kind, turn_at(input, route, post), &give_m_n);
    if (status == FE_OK)
        status = find_depth(material, kind, duty);
    duty->moved_m = give_m_n * (1.0 + FE_POSTS_CREEP) * duty->lasting_pull_n;
    const fe_route_use use = {.limit = FE_ROUTE_POST,
                              .post_limit = duty->worst.limit,
                              .use = duty->worst.use,
                              .value = duty->worst.use,
                              .allowed = 1.0,
                              .at_m = check->supports[post + 1].at_m,
                              .index = post,
                              .season = duty->season,
                              .kind = duty->kind};
    keep(check, &use);
    return status;
}

static fe_status check_posts(const fe_route_input *input, const fe_route *route,
                             const fe_posts_material *material, fe_route_check *check)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < route->post_count && status == FE_OK; i++) {
        for (size_t c = 0; c < check->run.case_count; c++)
            look_at_post(input, route, i, c, check);
        status = finish_post(input, route, material, i, check);
    }
    return status;
}

fe_status fe_route_assess(const fe_route_input *input, const fe_route *route,
                          const fe_posts_material *material, const fe_route_change *change,
                          fe_route_check *check)
{
    changed c;
    fe_route_check found = {0};
    fe_status status = change_input(input, change, &c);
    if (status == FE_OK)
        status = make_supports(input, route, &found);
    c.run.stringing_n = route->stringing_n * change->stringing;
    if (status == FE_OK)
        status = compute_runs(input, route, material, &c, &found);
    if (status >= 0)
        check_pulls(input, &found);
    if (status >= 0)
        status = fe_status_worse(status, check_above(input, &found));
    if (status >= 0)
        status =
            fe_status_worse(status, check_heights(input, &c.run, change->ground_m, &found));
    if (status >= 0)
        status = fe_status_worse(status, check_posts(input, route, material, &found));
    free_changed(&c);
    if (status >= 0)
        *check = found;
    else
        fe_route_check_free(&found);
    return status;
}

void fe_route_check_free(fe_route_check *check)
{
    fe_run_free(&check->run);
    fe_run_free(&check->give);
    fe_run_free(&check->above);
    free(check->supports);
    free(check->duties);
    *check = (fe_route_check){0};
}
