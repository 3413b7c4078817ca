/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/route.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/constants.h"
#include "testing.h"
#include "wired/route_kernel.h"

enum { MOST_PLACES = 9, MOST_KINDS = 6, MOST_STRINGS = 2, MOST_NEEDS = 2 };

/* A small random case, everything it points to with it. */
typedef struct small_case {
    fe_profile ground;
    fe_season seasons[2];
    fe_route_place places[MOST_PLACES];
    fe_posts_kind kinds[MOST_KINDS];
    double strings_n[MOST_STRINGS];
    fe_clearance_need needs[MOST_NEEDS];
    fe_posts_material material;
    fe_route_input input;
} small_case;

static unsigned long random_state = 1;

/* Numerical Recipes' quick generator: the same cases on every machine. */
static double uniform(double low, double high)
{
    random_state = (random_state * 1664525UL + 1013904223UL) & 0xffffffffUL;
    return low + (high - low) * (double)(random_state >> 8) / (double)0xffffffUL;
}

static const fe_run_cable FIGURE_8 = {.diameter_m = 9.5e-3,
                                      .weight_n_m = 0.539,
                                      .stiffness_n = 1.131e-6 * 200e9,
                                      .expansion_1_k = 11.5e-6,
                                      .creep = 1e-4,
                                      .ice_set = 0.05};

static void add_kinds(small_case *c, const double *lengths_m, size_t count, bool stays)
{
    c->input.kind_count = 0;
    for (size_t i = 0; i < count; i++)
        for (int stayed = 0; stayed <= (stays ? 1 : 0); stayed++)
            if (fe_posts_make(&c->material, lengths_m[i], 0.0, stayed == 1,
                              &c->kinds[c->input.kind_count]) == FE_OK)
                c->input.kind_count++;
}

static void make_case(small_case *c, size_t places, double length_m, bool hills)
{
    memset(c, 0, sizeof *c);
    assert_int_equal(
        fe_profile_even(length_m, hills ? uniform(-4.0, 4.0) : 0.0, 10.0, &c->ground), FE_OK);
    for (size_t i = 1; hills && i + 1 < c->ground.count; i++)
        c->ground.height_m[i] += uniform(-1.5, 1.5);
    c->seasons[0] = (fe_season){
        .name = "summer", .coldest_c = 5.0, .hottest_c = 32.0, .wind_m_s = uniform(15.0, 28.0)};
    c->seasons[1] = (fe_season){.name = "winter",
                                .snow_depth_m = uniform(0.0, 1.2),
                                .coldest_c = uniform(-25.0, -5.0),
                                .hottest_c = 2.0,
                                .ice_m = uniform(0.0, 8e-3),
                                .wind_m_s = uniform(10.0, 25.0)};
    c->material = (fe_posts_material){.section = FE_POST_ROUND,
                                      .width_m = uniform(0.09, 0.16),
                                      .bending_pa = 24e6,
                                      .elasticity_pa = 11e9,
                                      .format = FE_SAFETY_EN,
                                      .lateral_pa_m = 31.42e3,
                                      .rule = FE_POST_TENTH_2FT,
                                      .own_depth_m = (double)NAN,
                                      .top_m = 0.15};
    for (size_t i = 0; i < places; i++)
        c->places[i].at_m =
            length_m * ((double)(i + 1) + uniform(-0.3, 0.3)) / (double)(places + 1);
    c->strings_n[0] = uniform(60.0, 150.0);
    c->strings_n[1] = uniform(150.0, 300.0);
    c->needs[0] = (fe_clearance_need){.from_m = 0.0,
                                      .to_m = length_m,
                                      .over_ground_m = uniform(2.0, 3.2),
                                      .over_snow_m = uniform(1.5, 2.5)};
    c->input = (fe_route_input){
        .run = {.ground = &c->ground,
                .cable = FIGURE_8,
                .stringing_c = 15.0,
                .seasons = c->seasons,
                .season_count = 2},
        .start_attachment_m = 3.5,
        .end_attachment_m = 3.5,
        .places = c->places,
        .place_count = places,
        .span_low_m = 5.0,
        .span_high_m = 50.0,
        .kinds = c->kinds,
        .strings_n = c->strings_n,
        .string_count = 2,
        .most_sag_share = 0.1,
        .needs = c->needs,
        .need_count = 1,
        .wall_free_m = 1.5,
    };
    c->material.thaw_m = uniform(0.0, 0.3);
    c->needs[1] = (fe_clearance_need){.from_m = 0.3 * length_m,
                                      .to_m = uniform(0.4, 0.6) * length_m,
                                      .beside_m = uniform(0.6, 1.6)};
    c->input.need_count = uniform(0.0, 1.0) < 0.4 ? 2 : 1;
    c->input.limits.carried_n = uniform(150.0, 900.0);
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++)
        c->input.limits.limit_n[k] = 720.0;
    c->input.limits.limit_n[FE_RUN_EVERYDAY] = c->input.limits.limit_n[FE_RUN_HOT] = 400.0;
    c->input.limits.limit_n[FE_RUN_COLD] = 420.0;
    const double lengths_m[] = {uniform(3.8, 4.8), uniform(4.8, 6.0)};
    add_kinds(c, lengths_m, 2, true);
}

/* Two twisted conductors of 6 mm2, hung over the first cable. */
static const fe_route_above SUPPLY = {
    .cable = {.diameter_m = 10.5e-3,
              .weight_n_m = 1.57,
              .stiffness_n = 12e-6 * 112e9,
              .expansion_1_k = 17e-6},
    .limits = {.limit_n = {1610.0, 1300.0, 2760.0, 2760.0, 2760.0, 1300.0, 2760.0, 2760.0}},
    .up_m = 1.0,
    .asked = {.at_pole_m = 1.0, .in_span_m = 0.8},
};

/* Every choice of places, kinds and pull, one after the other. */
typedef struct best {
    bool found;
    size_t posts;
    size_t stays;
    double moment_n_m;
} best;

static bool spans_allowed(const fe_route_input *input, const size_t *places, size_t count)
{
    double at_m = 0.0;
    for (size_t i = 0; i <= count; i++) {
        const double next_m = i < count ? input->places[places[i]].at_m : route_length(input);
        if (next_m - at_m < input->span_low_m || next_m - at_m > input->span_high_m + 1e-9)
            return false;
        at_m = next_m;
    }
    return true;
}

static void try_kinds(route_kernel *kernel, const size_t *places, size_t count, best *known)
{
    const fe_route_input *input = kernel->input;
    size_t kinds[MOST_PLACES] = {0};
    for (;;) {
        double moment_n_m = 0.0;
        size_t stays = 0;
        for (size_t i = 0; i < count; i++)
            stays += input->kinds[kinds[i]].stayed;
        if (route_whole_use(kernel, places, kinds, count, &moment_n_m, NULL) <= 1.0) {
            const bool better = !known->found || count < known->posts ||
                                (count == known->posts &&
                                 (stays < known->stays ||
                                  (stays == known->stays && moment_n_m < known->moment_n_m)));
            if (better)
                *known = (best){true, count, stays, moment_n_m};
        }
        size_t digit = 0;
        while (digit < count && ++kinds[digit] == input->kind_count)
            kinds[digit++] = 0;
        if (digit == count)
            return;
    }
}

/* The places whose bits are set; whether posts may stand there and nowhere else. */
static bool choose_places(const fe_route_input *input, unsigned chosen, size_t *places,
                          size_t *count)
{
    *count = 0;
    for (size_t i = 0; i < input->place_count; i++) {
        if (chosen & (1u << i))
            places[(*count)++] = i;
        else if (input->places[i].must)
            return false;
    }
    return spans_allowed(input, places, *count);
}

static best try_everything(const fe_route_input *input)
{
    best known = {0};
    route_kernel kernel;
    assert_int_equal(route_kernel_make(input, &kernel), FE_OK);
    for (size_t s = 0; s < input->string_count; s++) {
        assert_int_equal(route_kernel_string(&kernel, input->strings_n[s]), FE_OK);
        for (unsigned chosen = 0; chosen < 1u << input->place_count; chosen++) {
            size_t places[MOST_PLACES];
            size_t count = 0;
            if (!choose_places(input, chosen, places, &count) ||
                (known.found && count > known.posts))
                continue;
            try_kinds(&kernel, places, count, &known);
        }
    }
    route_kernel_free(&kernel);
    return known;
}

static void route__is_the_best_of_all_choices(void **state)
{
    (void)state;
    unsigned solved = 0, stayed = 0, refused = 0, with_posts = 0;
    unsigned with_supply = 0, supply_solved = 0;
    for (int trial = 0; trial < 60; trial++) {
        small_case c;
        make_case(&c, 3 + (size_t)(trial % 3), uniform(40.0, 110.0), trial % 2 == 1);
        if (trial % 5 == 0)
            c.places[1].turn_rad = uniform(0.0, 0.5);
        c.places[1].must = trial % 5 == 0;
        if (trial % 4 == 3) {
            c.input.above = &SUPPLY;
            with_supply += 1;
        }
        const best wanted = try_everything(&c.input);
        fe_route got = {0};
        const fe_status status = fe_route_search(&c.input, &got);
        assert_int_equal(status, wanted.found ? FE_OK : FE_E_NO_SOLUTION);
        if (wanted.found) {
            assert_int_equal(got.post_count, wanted.posts);
            assert_int_equal(got.stay_count, wanted.stays);
            assert_close_relative(got.moment_n_m, wanted.moment_n_m, 1e-9);
            solved++;
            stayed += wanted.stays > 0;
            with_posts += wanted.posts > 1;
            supply_solved += c.input.above != NULL;
        } else {
            refused++;
        }
        fe_route_free(&got);
        fe_profile_free(&c.ground);
    }
    printf("solved %u (%u of them with two posts and more, %u with stays), without route %u; "
           "with a supply cable %u of %u\n",
           solved, with_posts, stayed, refused, supply_solved, with_supply);
    /* A proof over cases that are all the same proves little. */
    assert_true(solved > 30 && stayed > 5 && with_posts > 20 && refused > 5);
    assert_true(supply_solved > 3 && supply_solved < with_supply);
}

/* More places, lengths or stays leave every old route open. */
static void one_more_choice__never_worsens(void **state)
{
    (void)state;
    for (int trial = 0; trial < 40; trial++) {
        small_case c;
        make_case(&c, 7, uniform(60.0, 120.0), trial % 2 == 1);
        fe_route_input fewer = c.input;
        fewer.place_count = 6;
        fe_route_input shorter = c.input;
        shorter.kind_count = 2;
        const fe_route_input *less[] = {&fewer, &shorter};
        fe_route all = {0};
        const fe_status status = fe_route_search(&c.input, &all);
        for (size_t i = 0; i < 2; i++) {
            fe_route one = {0};
            if (fe_route_search(less[i], &one) != FE_OK)
                continue;
            assert_int_equal(status, FE_OK);
            assert_true(all.post_count <= one.post_count);
            if (all.post_count == one.post_count)
                assert_true(all.stay_count <= one.stay_count);
            if (all.post_count == one.post_count && all.stay_count == one.stay_count)
                assert_true(all.moment_n_m <= one.moment_n_m * (1.0 + 1e-9));
            fe_route_free(&one);
        }
        fe_route_free(&all);
        fe_profile_free(&c.ground);
    }
}

static double shortest_span(const fe_route_input *input, const fe_route *route)
{
    double at_m = 0.0;
    double shortest_m = INFINITY;
    for (size_t i = 0; i <= route->post_count; i++) {
        const double next_m =
            i < route->post_count ? input->places[route->places[i]].at_m : route_length(input);
        shortest_m = fmin(shortest_m, next_m - at_m);
        at_m = next_m;
    }
    return shortest_m;
}

/* A limit that was given in feet may be a rounding off the span that it just allows. */
static void span_as_short_as_allowed__is_allowed(void **state)
{
    (void)state;
    unsigned tried = 0;
    for (int trial = 0; trial < 40; trial++) {
        small_case c;
        make_case(&c, 7, uniform(60.0, 120.0), false);
        fe_route loose = {0}, same = {0}, longer = {0};
        if (fe_route_search(&c.input, &loose) == FE_OK) {
            tried++;
            const double shortest_m = shortest_span(&c.input, &loose);
            c.input.span_low_m = shortest_m * (1.0 + 1e-14);
            assert_int_equal(fe_route_search(&c.input, &same), FE_OK);
            assert_close(same.moment_n_m, loose.moment_n_m, 0.0);
            c.input.span_low_m = shortest_m + 1e-6;
            if (fe_route_search(&c.input, &longer) == FE_OK)
                assert_true(shortest_span(&c.input, &longer) > shortest_m);
        }
        fe_route_free(&loose);
        fe_route_free(&same);
        fe_route_free(&longer);
        fe_profile_free(&c.ground);
    }
    assert_true(tried > 10);
}

/* Walked from the other end, wind and all: the same posts from there. */
static void mirrored_route__is_the_same(void **state)
{
    (void)state;
    for (int trial = 0; trial < 20; trial++) {
        small_case c, m;
        make_case(&c, 7, uniform(60.0, 120.0), true);
        m = c;
        assert_int_equal(fe_profile_reverse(&c.ground, &m.ground), FE_OK);
        const double length_m = fe_profile_length(&c.ground);
        for (size_t i = 0; i < 7; i++)
            m.places[i].at_m = length_m - c.places[6 - i].at_m;
        m.input.run.ground = &m.ground;
        m.input.run.seasons = m.seasons;
        m.input.places = m.places;
        m.input.kinds = m.kinds;
        m.input.needs = m.needs;
        m.needs[1].from_m = length_m - c.needs[1].to_m;
        m.needs[1].to_m = length_m - c.needs[1].from_m;
        m.input.strings_n = m.strings_n;
        fe_route there = {0}, back = {0};
        const fe_status status = fe_route_search(&c.input, &there);
        assert_int_equal(fe_route_search(&m.input, &back), status);
        if (status == FE_OK) {
            assert_int_equal(there.post_count, back.post_count);
            assert_int_equal(there.stay_count, back.stay_count);
            assert_close_relative(there.moment_n_m, back.moment_n_m, 1e-6);
        }
        fe_route_free(&there);
        fe_route_free(&back);
        fe_profile_free(&c.ground);
        fe_profile_free(&m.ground);
    }
}

/* The table that the search reads against the exact catenary, limit by limit. */
static void search__agrees_with_the_exact_catenary(void **state)
{
    (void)state;
    unsigned seen = 0, beside = 0, above = 0;
    for (int trial = 0; trial < 30; trial++) {
        small_case c;
        make_case(&c, 7, uniform(60.0, 120.0), trial % 2 == 1);
        if (trial % 3 == 2)
            c.input.above = &SUPPLY;
        fe_route route = {0};
        if (fe_route_search(&c.input, &route) == FE_OK) {
            fe_route_check check;
            assert_int_equal(
                fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check),
                FE_OK);
            double moment_n_m = 0.0;
            for (size_t i = 0; i < route.post_count; i++)
                moment_n_m = fmax(moment_n_m, check.duties[i].moment_n_m);
            if (route.post_count > 0)
                assert_close_relative(moment_n_m, route.moment_n_m, 2e-3);
            assert_true(check.uses[FE_ROUTE_PULL].use <= 1.001);
            assert_true(check.uses[FE_ROUTE_STRAIN].use <= 1.001);
            assert_true(check.uses[FE_ROUTE_POST].use <= 1.005);
            if (c.input.need_count > 1) {
                beside += check.uses[FE_ROUTE_SIDE].use > 0.0;
                assert_true(check.uses[FE_ROUTE_SIDE].use <= 1.05); /* posts that give */
            }
            if (c.input.above) {
                assert_true(check.uses[FE_ROUTE_ABOVE].use <= 1.001);
                assert_true(check.uses[FE_ROUTE_APART].use <= 1.001);
                assert_close(check.uses[FE_ROUTE_AT_POST].use, 1.0, 1e-9);
                above++;
            } else {
                assert_true(check.uses[FE_ROUTE_APART].use == 0.0 && isnan(check.apart_m));
            }
            seen++;
            fe_route_check_free(&check);
        }
        fe_route_free(&route);
        fe_profile_free(&c.ground);
    }
    assert_true(seen > 5 && beside > 1 && above > 1);
}

/*
 * By hand, by the parabola (change of state H^3 + H^2 (w^2 L^2 EA/(24 H0^2) + EA alpha dT - H0)
 * = w^2 L^2 EA/24): two spans of 20 m, both cables strung to 26.7 cm at 15 degC, the data cable
 * with 101 N and so the supply cable with 101 x 1.57/0.539 = 294.2 N. At 30 degC the supply
 * cable pulls 243.6 N and hangs 32.2 cm low; at -10 degC it pulls 473.6 N, the data cable 126.8
 * N at 21.3 cm. Between them 1 - 0.322 + 0.213 = 0.890 m are left.
 */
static void two_cables_on_a_post__are_counted_together(void **state)
{
    (void)state;
    small_case c;
    make_case(&c, 1, 40.0, false);
    c.places[0].at_m = 20.0;
    c.seasons[0] =
        (fe_season){.name = "year", .coldest_c = -10.0, .hottest_c = 30.0, .wind_m_s = 20.0};
    c.input.run.season_count = 1;
    c.input.run.cable.creep = c.input.run.cable.ice_set = 0.0;
    c.input.above = &SUPPLY;
    size_t place = 0, kind = 0;
    c.input.start_attachment_m = c.input.end_attachment_m = c.kinds[0].attachment_m;
    const fe_route route = {
        .stringing_n = 101.0, .places = &place, .kinds = &kind, .post_count = 1};
    fe_route_check check;
    assert_int_equal(
        fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check), FE_OK);
    assert_close(check.above.spans[0].stringing_tension_n, 294.2, 0.1);
    assert_close(check.apart_m, 0.890, 1e-3);
    assert_close(check.uses[FE_ROUTE_APART].use, 0.8 / 0.890, 2e-3);
    assert_close(check.uses[FE_ROUTE_AT_POST].value, 1.0, 1e-9);
    /* What a span is asked for is told at its middle. */
    static const fe_route_limit OF_SPANS[] = {FE_ROUTE_PULL, FE_ROUTE_STRAIN, FE_ROUTE_ABOVE};
    for (size_t k = 0; k < sizeof OF_SPANS / sizeof OF_SPANS[0]; k++) {
        const fe_route_use *use = &check.uses[OF_SPANS[k]];
        assert_true(use->use > 0.0);
        assert_close(use->at_m, 10.0 + 20.0 * (double)use->index, 1e-9);
    }
    double cold_n = 0.0, wind_pa = 0.0;
    for (size_t k = 0; k < check.above.case_count; k++) {
        assert_int_equal(check.above.cases[k].kind, check.run.cases[k].kind);
        if (check.above.cases[k].kind == FE_RUN_COLD)
            cold_n = check.above.states[2 * k].pull_n;
        wind_pa = fmax(wind_pa, check.above.cases[k].pressure_pa);
    }
    assert_close(cold_n, 473.6, 0.5);
    /* Wind at the middle post: on 20 m of each cable at its height, and on the post. */
    const double up_m = c.kinds[0].attachment_m, top_m = up_m + 0.15;
    assert_close_relative(check.duties[0].moment_n_m,
                          wind_pa * (20.0 * 9.5e-3 * up_m + 20.0 * 10.5e-3 * (up_m + 1.0) +
                                     0.5 * c.material.width_m * top_m * top_m),
                          1e-9);
    /* Weight of 20 m of each, most where nothing blows: both lie on the post. */
    assert_close(check.duties[0].down_n, 20.0 * (0.539 + 1.57), 0.05);
    fe_route_check_free(&check);
    /* Tied too near, and one that sags more than the other. */
    fe_route_above near = SUPPLY;
    near.up_m = 0.8;
    c.input.above = &near;
    assert_int_equal(
        fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check), FE_OK);
    assert_close(check.uses[FE_ROUTE_AT_POST].use, 1.0 / 0.8, 1e-9);
    assert_close(check.uses[FE_ROUTE_APART].use, 0.8 / 0.690, 2e-3);
    fe_route_check_free(&check);
    fe_profile_free(&c.ground);
}

/* What is asked over the snow is asked of the cable as it hangs in that season: not in the heat of
 * another one, which leaves no snow. */
static void height_over_snow__is_that_of_its_season(void **state)
{
    (void)state;
    small_case c;
    double use[2];
    make_case(&c, 1, 40.0, false);
    c.seasons[1].snow_depth_m = 1.2;
    c.needs[0].over_ground_m = 0.5;
    c.needs[0].over_snow_m = 2.5;
    c.input.need_count = 1;
    for (int hot = 0; hot < 2; hot++) {
        fe_route found = {0};
        fe_route_use worst;
        c.seasons[0].hottest_c = hot ? 60.0 : 32.0;
        assert_int_equal(fe_route_closest(&c.input, 1, &found, &worst), FE_OK);
        assert_int_equal(worst.limit, FE_ROUTE_SNOW);
        assert_int_equal(worst.season, 1);
        use[hot] = worst.use;
        fe_route_free(&found);
    }
    assert_true(use[0] > 1.0);
    assert_close(use[1], use[0], 1e-12);
    fe_profile_free(&c.ground);
}

/* One year without wind or ice on even ground of a slope, and what is asked over a part of it. */
static void make_even(small_case *c, double length_m, double slope, const double part_m[2],
                      double over_m)
{
    make_case(c, 1, length_m, false);
    fe_profile_free(&c->ground);
    assert_int_equal(fe_profile_even(length_m, slope * length_m, 1.0, &c->ground), FE_OK);
    c->places[0].at_m = 0.5 * length_m;
    c->seasons[0] = (fe_season){.name = "year", .coldest_c = 15.0, .hottest_c = 15.0};
    c->input.run.season_count = c->input.string_count = c->input.kind_count = 1;
    c->input.run.cable.creep = c->input.run.cable.ice_set = 0.0;
    c->input.need_count = 1;
    c->needs[0] =
        (fe_clearance_need){.from_m = part_m[0], .to_m = part_m[1], .over_ground_m = over_m};
}

/*
 * Two level spans of 40 m strung to 150 N, nothing but their weight: x from the near support the
 * cable hangs w x (L - x) / 2H low (parabola; 0.72 m in the middle). One mound a metre to either
 * side wide may be as much lower than what else is free; a centimetre more is too much, wherever
 * in a span it stands.
 */
static void mound__may_be_as_high_as_the_cable_leaves_it(void **state)
{
    (void)state;
    static const size_t MOUNDS[] = {3, 12, 20, 33, 42, 47, 59, 66, 78};
    static const double FREE_M = 1.5;
    small_case c;
    make_even(&c, 80.0, 0.0, (const double[]){0.0, 80.0}, 0.0);
    c.strings_n[0] = 150.0;
    const double up_m = c.kinds[0].attachment_m;
    c.input.start_attachment_m = c.input.end_attachment_m = up_m;
    c.needs[0].over_ground_m = up_m - FREE_M;
    for (size_t m = 0; m < sizeof MOUNDS / sizeof MOUNDS[0]; m++) {
        const double x_m = (double)(MOUNDS[m] % 40);
        const double limit_m = FREE_M - 0.539 * x_m * (40.0 - x_m) / (2.0 * 150.0);
        fe_route route = {0};
        fe_route_use worst;
        c.ground.height_m[MOUNDS[m]] = limit_m - 0.01;
        assert_int_equal(fe_route_search(&c.input, &route), FE_OK);
        fe_route_free(&route);
        c.ground.height_m[MOUNDS[m]] = limit_m + 0.01;
        assert_int_equal(fe_route_search(&c.input, &route), FE_E_NO_SOLUTION);
        assert_int_equal(fe_route_closest(&c.input, 1, &route, &worst), FE_OK);
        assert_int_equal(worst.limit, FE_ROUTE_GROUND);
        assert_close(worst.at_m, (double)MOUNDS[m], 1e-9);
        assert_close(worst.value, up_m - FREE_M - 0.01, 2e-3);
        fe_route_free(&route);
        c.ground.height_m[MOUNDS[m]] = 0.0;
    }
    fe_profile_free(&c.ground);
}

/* A span from 0 on that hangs at one pull, 10 m above the datum at its start and that much higher:
 * where it leaves least, and whether it holds. */
static fe_route_use least_height(const fe_route_input *input, double rise_m, double pull_n,
                                 double higher_m, bool *holds)
{
    route_kernel kernel;
    double pulls_n[ROUTE_MOST_PULLS];
    for (size_t i = 0; i < ROUTE_MOST_PULLS; i++)
        pulls_n[i] = pull_n;
    const double length_m = route_length(input);
    const route_span span = {length_m, rise_m, rise_m / length_m, hypot(length_m, rise_m),
                             pulls_n};
    fe_route_use worst = {0};
    assert_int_equal(route_kernel_make(input, &kernel), FE_OK);
    (void)route_heights_use(&kernel, &span, 0.0, 10.0 + higher_m, INFINITY, 1.0, &worst);
    *holds = route_heights_hold(&kernel, &span, 0.0, 10.0 + higher_m, 1.0);
    route_kernel_free(&kernel);
    return worst;
}

/*
 * 40 m at 150 N, by the parabola: y' = slope of the ground where x = 20 m + 150 N/(0.539 N/m) x
 * slope, so 28.35 m at 0.03; there w x (40 - x)/2H below the supports. Where that is outside the
 * part that is asked about, at its nearer end.
 */
static void least_height__is_where_cable_and_ground_are_parallel(void **state)
{
    (void)state;
    static const struct {
        double part_m[2];
        double slope;
        double at_m;
    } CASES[] = {
        {{12.0, 28.0}, 0.0, 20.0},   {{2.0, 10.0}, 0.0, 10.0},     {{30.0, 38.0}, 0.0, 30.0},
        {{2.0, 38.0}, 0.03, 28.349}, {{2.0, 38.0}, -0.03, 11.651}, {{2.0, 24.0}, 0.03, 24.0},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        small_case c;
        bool holds = false;
        make_even(&c, 40.0, CASES[i].slope, CASES[i].part_m, 3.0);
        const double at_m = CASES[i].at_m;
        const fe_route_use least = least_height(&c.input, 0.0, 150.0, 0.0, &holds);
        assert_true(holds);
        assert_close(least.at_m, at_m, 0.05);
        assert_close(least.value,
                     10.0 - 0.539 * at_m * (40.0 - at_m) / 300.0 - CASES[i].slope * at_m, 2e-3);
        fe_profile_free(&c.ground);
    }
}

/* The polynomial that the search looks at against the elastic catenary, at 5 % of sag: as near as
 * it says. */
static void curve_of_the_search__is_the_catenary(void **state)
{
    (void)state;
    for (double slope = -0.5; slope <= 0.5; slope += 0.25) {
        const double rise_m = 40.0 * slope;
        const double pull_n = 0.539 * hypot(40.0, rise_m) / (8.0 * 0.05);
        const fe_span plain = {40.0, rise_m, FIGURE_8.weight_n_m, FIGURE_8.stiffness_n};
        fe_span_shape shape;
        assert_int_equal(fe_span_at_tension(&plain, pull_n, &shape), FE_OK);
        for (double x_m = 4.0; x_m < 40.0; x_m += 4.0) {
            small_case c;
            bool holds = false;
            double drop_m = 0.0;
            make_even(&c, 40.0, 0.0, (const double[]){x_m, x_m + 1e-6}, 100.0);
            const fe_route_use least = least_height(&c.input, rise_m, pull_n, 0.0, &holds);
            assert_int_equal(fe_span_drop(&shape, x_m, &drop_m), FE_OK);
            assert_close(least.value, 10.0 + slope * x_m - drop_m,
                         40.0 * (fabs(slope) > 0.25 ? 3e-5 : 1e-5));
            fe_profile_free(&c.ground);
        }
    }
}

/* The quick look at heights and the thorough one part at the same height, to a millimetre. */
static void quick_look_at_heights__agrees_with_the_thorough_one(void **state)
{
    (void)state;
    for (double slope = -0.375; slope < 0.4; slope += 0.05) {
        const double pull_n = 0.539 * hypot(40.0, 40.0 * slope) / (8.0 * 0.1);
        small_case c;
        bool holds = false;
        make_even(&c, 40.0, 0.0, (const double[]){0.0, 40.0}, 3.0);
        const double least_m = least_height(&c.input, 40.0 * slope, pull_n, 0.0, &holds).value;
        (void)least_height(&c.input, 40.0 * slope, pull_n, 3.001 - least_m, &holds);
        assert_true(holds);
        (void)least_height(&c.input, 40.0 * slope, pull_n, 2.999 - least_m, &holds);
        assert_false(holds);
        fe_profile_free(&c.ground);
    }
}

/* What is asked over a part of the second span, be it half of it, a hand's breadth or one place
 * alone, is asked there by the search and by the check. */
static void part_of_a_run__is_looked_at_where_it_is(void **state)
{
    (void)state;
    static const double PARTS_M[][2] = {{62.0, 78.0}, {62.03, 62.07}, {62.09, 62.09}};
    for (size_t part = 0; part < sizeof PARTS_M / sizeof PARTS_M[0]; part++) {
        small_case c;
        fe_route route = {0};
        fe_route_use worst;
        fe_route_check check;
        make_even(&c, 80.0, 0.0, PARTS_M[part], 9.0);
        c.strings_n[0] = 150.0;
        const double up_m = c.kinds[0].attachment_m;
        c.input.start_attachment_m = c.input.end_attachment_m = up_m;
        assert_int_equal(fe_route_search(&c.input, &route), FE_E_NO_SOLUTION);
        assert_int_equal(fe_route_closest(&c.input, 1, &route, &worst), FE_OK);
        assert_int_equal(
            fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check),
            FE_OK);
        const fe_route_use found[] = {worst, check.uses[FE_ROUTE_GROUND]};
        const double x_m = PARTS_M[part][0] - 40.0;
        for (size_t i = 0; i < 2; i++) {
            assert_int_equal(found[i].limit, FE_ROUTE_GROUND);
            assert_close(found[i].at_m, PARTS_M[part][0], 1e-6);
            /* From a support of a span of 40 m: w x (L - x) / 2H low. */
            assert_close(found[i].value, up_m - 0.539 * x_m * (40.0 - x_m) / 300.0, 2e-3);
        }
        fe_route_check_free(&check);
        fe_route_free(&route);
        fe_profile_free(&c.ground);
    }
}

/* No cable is nearer than 0.3 m to a thing beside it (common practice, no source). */
static void thing_close_beside__is_refused(void **state)
{
    (void)state;
    static const double BESIDE_M[] = {0.05, 3.0};
    for (size_t i = 0; i < 2; i++) {
        small_case c;
        fe_route route = {0};
        make_even(&c, 40.0, 0.0, (const double[]){0.0, 40.0}, 1.0);
        c.seasons[0].wind_m_s = 5.0;
        c.needs[1] = (fe_clearance_need){.from_m = 5.0, .to_m = 15.0, .beside_m = BESIDE_M[i]};
        c.input.need_count = 2;
        assert_int_equal(fe_route_search(&c.input, &route), i ? FE_OK : FE_E_NO_SOLUTION);
        fe_route_free(&route);
        fe_profile_free(&c.ground);
    }
}

/*
 * A corner of 30 degrees between spans of 15 and 45 m, strung with 150 N at the mean of a year
 * that freezes and thaws: on any day of it, thaw or not, 2 x 150 N sin 15 deg = 77.65 N pull at
 * the post. In the cold the short span pulls more; a post that gives evens that out.
 */
static void corner_post__gives_and_bears_the_lasting_pull_in_thaw(void **state)
{
    (void)state;
    small_case c;
    size_t place = 0, kind = 0;
    fe_route_check check;
    make_even(&c, 60.0, 0.0, (const double[]){0.0, 60.0}, 1.0);
    c.places[0] = (fe_route_place){.at_m = 15.0, .turn_rad = FE_PI / 6.0};
    c.seasons[0] = (fe_season){.name = "year", .coldest_c = -20.0, .hottest_c = 20.0};
    c.input.run.stringing_c = 0.0;
    c.input.start_attachment_m = c.input.end_attachment_m = c.kinds[0].attachment_m;
    const fe_route route = {
        .stringing_n = 150.0, .places = &place, .kinds = &kind, .post_count = 1};
    assert_int_equal(
        fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check), FE_OK);
    assert_close(check.duties[0].lasting_pull_n, 77.646, 0.01);
    assert_close(check.duties[0].thaw_pull_n, 77.646, 0.01);
    assert_true(check.duties[0].pull_n > 80.0);
    /* A cantilever, and twice as much again in the long run (EN 1995-1-1 table 3.2, service class
     * 3, from memory). */
    const double up_m = c.kinds[0].attachment_m;
    const double inertia_m4 = FE_PI * pow(c.material.width_m, 4.0) / 64.0;
    assert_close_relative(check.duties[0].moved_m,
                          3.0 * 77.646 * up_m * up_m * up_m / (3.0 * 11e9 * inertia_m4), 1e-4);
    for (size_t k = 0; k < check.give.case_count; k++) {
        if (check.give.cases[k].kind != FE_RUN_COLD)
            continue;
        const fe_run_state *rigid = &check.run.states[2 * k], *even = &check.give.states[2 * k];
        assert_true(rigid[0].pull_n - rigid[1].pull_n > 20.0);
        assert_true(even[0].pull_n - even[1].pull_n <
                    0.9 * (rigid[0].pull_n - rigid[1].pull_n));
    }
    fe_route_check_free(&check);
    fe_profile_free(&c.ground);
}

/* Thaw wants frost before it: where there is none the post may stand as in firm ground. */
static void ground_that_never_freezes__asks_for_no_depth_of_thaw(void **state)
{
    (void)state;
    static const double COLDEST_C[] = {1.0, -1.0}, THAW_M[] = {0.0, 0.4};
    double depth_m[2][2];
    small_case c;
    size_t place = 0, kind = 0;
    make_even(&c, 40.0, 0.0, (const double[]){0.0, 40.0}, 1.0);
    c.seasons[0].wind_m_s = 3.0;
    const fe_route route = {
        .stringing_n = 150.0, .places = &place, .kinds = &kind, .post_count = 1};
    for (size_t i = 0; i < 2; i++)
        for (size_t k = 0; k < 2; k++) {
            fe_route_check check;
            c.seasons[0].coldest_c = COLDEST_C[i];
            c.material.thaw_m = THAW_M[k];
            assert_int_equal(
                fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check),
                FE_OK);
            depth_m[i][k] = check.duties[0].depth_needed_m;
            fe_route_check_free(&check);
        }
    assert_true(depth_m[0][0] > 0.05 && depth_m[0][0] < THAW_M[1]);
    assert_close(depth_m[0][1], depth_m[0][0], 1e-12);
    assert_true(depth_m[1][1] > depth_m[1][0] + 0.3);
    fe_profile_free(&c.ground);
}

/*
 * Wind pulls a cable sideways too, and half of what falls on a span does so at its end: what the
 * search takes from its tables is the pull of the run as it is built. 2 x 40 m, 30 m/s on 9.5 mm:
 * 20 x 5.24 N = 105 N sideways beside some 650 N along.
 */
static void search__knows_the_pull_at_the_end_of_a_span_in_the_wind(void **state)
{
    (void)state;
    small_case c;
    size_t place = 0, kind = 0;
    fe_route_use worst;
    fe_route_check check;
    make_even(&c, 80.0, 0.0, (const double[]){0.0, 80.0}, 0.1);
    c.seasons[0].wind_m_s = 30.0;
    c.input.limits.carried_n = 0.0;
    c.input.start_attachment_m = c.input.end_attachment_m = c.kinds[0].attachment_m;
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++)
        c.input.limits.limit_n[k] = 100.0;
    c.places[0].at_m = 40.0;
    c.strings_n[0] = 100.0;
    fe_route route = {.stringing_n = 100.0, .places = &place, .kinds = &kind, .post_count = 1};
    fe_route found = {0};
    assert_int_equal(fe_route_closest(&c.input, 1, &found, &worst), FE_OK);
    assert_int_equal(
        fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check), FE_OK);
    assert_int_equal(worst.limit, FE_ROUTE_PULL);
    assert_close_relative(worst.value, check.uses[FE_ROUTE_PULL].value, 1e-3);
    fe_route_check_free(&check);
    fe_route_free(&found);
    fe_profile_free(&c.ground);
}

/* Without a jump where little is left: a search goes down what it is given. */
static void height_use__falls_steadily_from_nothing_left_to_plenty(void **state)
{
    (void)state;
    double before = INFINITY;
    for (double given_m = -2.0; given_m < 6.0; given_m += 1e-3) {
        const double use = route_height_use(given_m, 3.0);
        assert_true(use < before);
        before = use;
    }
    /* A twentieth of what is asked, from either side. */
    assert_close(route_height_use(0.15 + 1e-9, 3.0), 20.0, 1e-6);
    assert_close(route_height_use(0.15 - 1e-9, 3.0), 20.0, 1e-6);
}

/* Pulls between the nodes of the table, against the exact ones. */
static void table__is_within_a_ten_thousandth(void **state)
{
    (void)state;
    small_case c;
    make_case(&c, 7, 100.0, false);
    route_kernel kernel;
    double pulls_n[ROUTE_MOST_CASES], exact_ln[ROUTE_MOST_CASES];
    route_span span = {.pull_n = pulls_n};
    assert_int_equal(route_kernel_make(&c.input, &kernel), FE_OK);
    for (size_t s = 0; s < 2; s++) {
        assert_int_equal(route_kernel_string(&kernel, c.strings_n[s]), FE_OK);
        for (int trial = 0; trial < 200; trial++) {
            const double length_m = uniform(5.0, 50.0);
            const double slope = uniform(-1.0, 1.0);
            route_span_pulls(&kernel, length_m, slope * length_m, &span);
            if (route_case_pulls(&kernel, length_m, slope, exact_ln) < 0)
                continue;
            for (size_t k = 0; k < kernel.case_count; k++)
                assert_close_relative(pulls_n[k], exp(exact_ln[k]), 1e-4);
        }
    }
    /* Strung to 0.1 N, under a fiftieth of its weight, 40 m are no span: no limit bears them. */
    assert_int_equal(route_kernel_string(&kernel, 0.1), FE_OK);
    route_span_pulls(&kernel, 40.0, 4.0, &span);
    for (size_t k = 0; k < kernel.case_count; k++)
        assert_true(pulls_n[k] > 1e9);
    route_kernel_free(&kernel);
    fe_profile_free(&c.ground);
}

/*
 * The end of a cable that sags by 8 % of its span pulls some 5 % more than its middle, most of it
 * by the wind in a gale: the search's parabola agrees with the exact catenary.
 */
static void gale_on_the_cable_above__pulls_alike_two_ways(void **state)
{
    (void)state;
    small_case c;
    make_case(&c, 1, 40.0, false);
    c.places[0].at_m = 20.0;
    c.seasons[0] =
        (fe_season){.name = "year", .coldest_c = 10.0, .hottest_c = 20.0, .wind_m_s = 40.0};
    c.input.run.season_count = 1;
    fe_route_above weak = SUPPLY;
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++)
        weak.limits.limit_n[k] = 1.0;
    c.input.above = &weak;
    size_t place = 0, kind = 0;
    c.input.start_attachment_m = c.input.end_attachment_m = c.kinds[0].attachment_m;
    const fe_route route = {
        .stringing_n = 16.8, .places = &place, .kinds = &kind, .post_count = 1};
    fe_route_check check;
    assert_int_equal(
        fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check), FE_OK);
    route_kernel kernel;
    fe_route_use worst;
    assert_int_equal(route_kernel_make(&c.input, &kernel), FE_OK);
    assert_int_equal(route_kernel_string(&kernel, route.stringing_n), FE_OK);
    route_whole_use(&kernel, &place, &kind, 1, NULL, &worst);
    assert_int_equal(worst.limit, FE_ROUTE_ABOVE);
    assert_int_equal(worst.kind, FE_RUN_WIND);
    assert_close_relative(worst.value, check.uses[FE_ROUTE_ABOVE].value, 3e-3);
    assert_close(fabs(worst.at_m - 20.0), 10.0, 1e-9); /* the middle of either span */
    /* The walls hold both cables. */
    fe_route_check alone;
    c.input.above = NULL;
    assert_int_equal(
        fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &alone), FE_OK);
    assert_true(check.start_pull_n > 1.5 * alone.start_pull_n);
    assert_true(check.end_pull_n > 1.5 * alone.end_pull_n);
    fe_route_check_free(&alone);
    route_kernel_free(&kernel);
    fe_route_check_free(&check);
    fe_profile_free(&c.ground);
}

/* Searches for other posts before it, on the same tables, leave no trace in a route. */
static void kept_tables__change_no_route(void **state)
{
    (void)state;
    unsigned seen = 0;
    for (int trial = 0; trial < 20; trial++) {
        small_case c;
        make_case(&c, 7, uniform(60.0, 120.0), trial % 2 == 1);
        fe_route fresh = {0}, kept = {0}, other = {0};
        const fe_status status = fe_route_search(&c.input, &fresh);
        fe_posts_kind longer[2];
        fe_route_input with = c.input;
        with.tables = fe_route_tables_new();
        assert_non_null(with.tables);
        with.kinds = longer;
        with.kind_count = 2;
        assert_int_equal(fe_posts_make(&c.material, 9.0, 0.0, false, &longer[0]), FE_OK);
        assert_int_equal(fe_posts_make(&c.material, 9.0, 0.0, true, &longer[1]), FE_OK);
        if (fe_route_search(&with, &other) == FE_OK)
            fe_route_free(&other);
        with.kinds = c.kinds;
        with.kind_count = c.input.kind_count;
        assert_int_equal(fe_route_search(&with, &kept), status);
        if (status == FE_OK) {
            assert_int_equal(kept.post_count, fresh.post_count);
            for (size_t i = 0; i < fresh.post_count; i++) {
                assert_int_equal(kept.places[i], fresh.places[i]);
                assert_int_equal(kept.kinds[i], fresh.kinds[i]);
            }
            assert_true(kept.moment_n_m == fresh.moment_n_m);
            assert_true(kept.stringing_n == fresh.stringing_n);
            seen++;
        }
        fe_route_tables_free(with.tables);
        fe_route_free(&fresh);
        fe_route_free(&kept);
        fe_profile_free(&c.ground);
    }
    assert_true(seen > 5);
}

/* Sum of forces at every post: what is checked as pull is what the spans leave over. */
static void every_post__is_in_equilibrium(void **state)
{
    (void)state;
    small_case c;
    random_state = 77;
    make_case(&c, 7, 100.0, true);
    size_t places[] = {1, 3, 5}, kinds[] = {0, 0, 0};
    const fe_route route = {
        .stringing_n = 120.0, .places = places, .kinds = kinds, .post_count = 3};
    fe_route_check check;
    assert_int_equal(
        fe_route_assess(&c.input, &route, &c.material, &FE_ROUTE_AS_PLANNED, &check), FE_OK);
    for (size_t k = 0; k < check.run.case_count; k++) {
        double weight_n = 0.0, down_n = 0.0;
        for (size_t s = 0; s < check.run.span_count; s++) {
            const fe_run_state *at = &check.run.states[k * check.run.span_count + s];
            weight_n += check.run.cases[k].vertical_n_m * check.run.spans[s].unstretched_m;
            down_n += at->down_first_n + at->down_second_n;
            /* Pull along the line and the higher end's tension belong to one curve. */
            assert_true(at->tension_n >= at->pull_n);
        }
        assert_close_relative(down_n, weight_n, 1e-6);
    }
    for (size_t i = 0; i < 3; i++) {
        double most_n = 0.0;
        for (size_t k = 0; k < check.run.case_count; k++) {
            const fe_run_state *at = &check.run.states[k * check.run.span_count + i];
            most_n = fmax(most_n, fabs(at[1].pull_n - at[0].pull_n));
        }
        assert_true(check.duties[i].pull_n >= most_n - 1e-9);
    }
    fe_route_check_free(&check);
    fe_profile_free(&c.ground);
}

static void too_few_posts__fail_by_a_named_limit(void **state)
{
    (void)state;
    unsigned seen = 0;
    for (int trial = 0; trial < 30; trial++) {
        small_case c;
        make_case(&c, 7, uniform(80.0, 120.0), false);
        fe_route route = {0};
        if (fe_route_search(&c.input, &route) == FE_OK && route.post_count > 0) {
            fe_route fewer = {0};
            fe_route_use worst;
            const fe_status status =
                fe_route_closest(&c.input, route.post_count - 1, &fewer, &worst);
            if (status == FE_OK) {
                assert_true(worst.use > 1.0);
                assert_int_equal(fewer.post_count, route.post_count - 1);
                seen++;
            } else {
                assert_int_equal(status, FE_E_NO_SOLUTION);
            }
            fe_route_free(&fewer);
        }
        fe_route_free(&route);
        fe_profile_free(&c.ground);
    }
    assert_true(seen > 3);
}

/* Least of the largest uses of spans, over all places of so many posts of the highest kind. */
static double least_exceeded(const fe_route_input *input, route_kernel *kernel, size_t posts)
{
    double least = INFINITY;
    size_t kinds[MOST_PLACES];
    for (size_t i = 0; i < MOST_PLACES; i++)
        kinds[i] = fe_route_highest_kind(input);
    for (size_t s = 0; s < input->string_count; s++) {
        assert_int_equal(route_kernel_string(kernel, input->strings_n[s]), FE_OK);
        for (unsigned chosen = 0; chosen < 1u << input->place_count; chosen++) {
            size_t places[MOST_PLACES];
            size_t count = 0;
            if (choose_places(input, chosen, places, &count) && count == posts)
                least = fmin(least, route_whole_use(kernel, places, kinds, count, NULL, NULL));
        }
    }
    return least;
}

static void closest_route__is_the_least_exceeded_of_all(void **state)
{
    (void)state;
    unsigned seen[3] = {0}; /* holds, exceeded, far exceeded */
    unsigned impossible = 0;
    for (int trial = 0; trial < 80; trial++) {
        small_case c;
        make_case(&c, 3 + (size_t)(trial % 4), uniform(40.0, 110.0), trial % 2 == 1);
        c.places[1].must = trial % 5 == 0;
        /* Asked so high that nothing comes near, too. */
        c.needs[0].over_ground_m *= trial % 3 == 0 ? 3.0 : 1.0;
        for (size_t posts = 0; posts <= c.input.place_count; posts++) {
            route_kernel kernel;
            fe_route got = {0};
            fe_route_use worst;
            assert_int_equal(route_kernel_make(&c.input, &kernel), FE_OK);
            const double wanted = least_exceeded(&c.input, &kernel, posts);
            const fe_status status = fe_route_closest(&c.input, posts, &got, &worst);
            assert_int_equal(status, isinf(wanted) ? FE_E_NO_SOLUTION : FE_OK);
            impossible += isinf(wanted);
            if (status == FE_OK) {
                assert_int_equal(got.post_count, posts);
                assert_int_equal(route_kernel_string(&kernel, got.stringing_n), FE_OK);
                /* Uses are kept as floats. */
                assert_close_relative(
                    route_whole_use(&kernel, got.places, got.kinds, posts, NULL, NULL), wanted,
                    1e-6);
                seen[wanted > 2.0 ? 2 : wanted > 1.0 ? 1 : 0]++;
            }
            fe_route_free(&got);
            route_kernel_free(&kernel);
        }
        fe_profile_free(&c.ground);
    }
    assert_true(seen[0] > 20 && seen[1] > 20 && seen[2] > 20 && impossible > 20);
}

static void highest_kind__is_one_without_a_stay(void **state)
{
    (void)state;
    fe_posts_kind kinds[] = {{.attachment_m = 3.0},
                             {.attachment_m = 4.0, .stayed = true},
                             {.attachment_m = 4.0},
                             {.attachment_m = 3.5}};
    const fe_route_input input = {.kinds = kinds, .kind_count = 4};
    assert_int_equal(fe_route_highest_kind(&input), 2);
    kinds[3].attachment_m = 4.5;
    assert_int_equal(fe_route_highest_kind(&input), 3);
}

static void bad_routes__are_refused(void **state)
{
    (void)state;
    small_case c;
    make_case(&c, 4, 80.0, false);
    fe_route route;
    fe_route_input bad = c.input;
    bad.span_low_m = (double)NAN;
    assert_int_equal(fe_route_search(&bad, &route), FE_E_DOMAIN);
    bad = c.input;
    bad.kind_count = 0;
    assert_int_equal(fe_route_search(&bad, &route), FE_E_DOMAIN);
    bad = c.input;
    c.strings_n[0] = 0.0;
    assert_int_equal(fe_route_search(&bad, &route), FE_E_DOMAIN);
    c.strings_n[0] = 100.0;
    c.places[2].at_m = c.places[1].at_m;
    assert_int_equal(fe_route_search(&bad, &route), FE_E_DOMAIN);
    fe_profile_free(&c.ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(route__is_the_best_of_all_choices),
        cmocka_unit_test(one_more_choice__never_worsens),
        cmocka_unit_test(span_as_short_as_allowed__is_allowed),
        cmocka_unit_test(mirrored_route__is_the_same),
        cmocka_unit_test(search__agrees_with_the_exact_catenary),
        cmocka_unit_test(two_cables_on_a_post__are_counted_together),
        cmocka_unit_test(height_over_snow__is_that_of_its_season),
        cmocka_unit_test(mound__may_be_as_high_as_the_cable_leaves_it),
        cmocka_unit_test(least_height__is_where_cable_and_ground_are_parallel),
        cmocka_unit_test(curve_of_the_search__is_the_catenary),
        cmocka_unit_test(quick_look_at_heights__agrees_with_the_thorough_one),
        cmocka_unit_test(part_of_a_run__is_looked_at_where_it_is),
        cmocka_unit_test(thing_close_beside__is_refused),
        cmocka_unit_test(corner_post__gives_and_bears_the_lasting_pull_in_thaw),
        cmocka_unit_test(ground_that_never_freezes__asks_for_no_depth_of_thaw),
        cmocka_unit_test(search__knows_the_pull_at_the_end_of_a_span_in_the_wind),
        cmocka_unit_test(height_use__falls_steadily_from_nothing_left_to_plenty),
        cmocka_unit_test(table__is_within_a_ten_thousandth),
        cmocka_unit_test(kept_tables__change_no_route),
        cmocka_unit_test(every_post__is_in_equilibrium),
        cmocka_unit_test(too_few_posts__fail_by_a_named_limit),
        cmocka_unit_test(closest_route__is_the_least_exceeded_of_all),
        cmocka_unit_test(highest_kind__is_one_without_a_stay),
        cmocka_unit_test(gale_on_the_cable_above__pulls_alike_two_ways),
        cmocka_unit_test(bad_routes__are_refused),
    };
    return FE_RUN_TESTS(tests);
}
