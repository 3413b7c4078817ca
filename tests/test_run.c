/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/run.h"

#include <math.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/tension.h"
#include "testing.h"

/* Figure-8 data cable of 9.5 mm; the notes give 7.735 N/m with 12.5 mm of ice. */
static const fe_run_cable FIGURE_8 = {.diameter_m = 9.5e-3,
                                      .weight_n_m = 0.539,
                                      .stiffness_n = 1.77e-6 * 170e9,
                                      .expansion_1_k = 11.5e-6};

static const fe_season SUMMER = {.name = "dry summer", .coldest_c = 5.0, .hottest_c = 30.0};
static const fe_season WINTER = {.name = "deep winter",
                                 .snow_depth_m = 0.8,
                                 .coldest_c = -20.0,
                                 .hottest_c = 0.0,
                                 .ice_m = 10e-3,
                                 .wind_m_s = 25.0};

static fe_run run_over(const fe_profile *ground, const fe_run_support *supports, size_t count,
                       const fe_season *seasons, size_t season_count)
{
    const fe_run_input input = {
        .ground = ground,
        .supports = supports,
        .support_count = count,
        .cable = FIGURE_8,
        .stringing_c = 15.0,
        .sag_share = 0.02,
        .seasons = seasons,
        .season_count = season_count,
    };
    fe_run run;
    assert_int_equal(fe_run_compute(&input, &run), FE_OK);
    return run;
}

static fe_profile even(double length_m, double rise_m)
{
    fe_profile ground;
    assert_int_equal(fe_profile_even(length_m, rise_m, 1.0, &ground), FE_OK);
    return ground;
}

static const fe_run_state *state_of(const fe_run *run, fe_run_case_kind kind, size_t span)
{
    for (size_t c = 0; c < run->case_count; c++)
        if (run->cases[c].kind == kind)
            return &run->states[c * run->span_count + span];
    fail_msg("no such case");
    return NULL;
}

static void stringing__has_the_sag_asked_for(void **state)
{
    (void)state;
    fe_profile ground = even(60.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}, {60.0, 4.0}};
    fe_run run = run_over(&ground, supports, 3, &SUMMER, 1);
    assert_int_equal(run.span_count, 2);
    assert_close(run.spans[0].stringing_sag_m, 0.6, 1e-9);
    /* Parabola: w a^2 / (8 f), 0.3 % below the catenary here. */
    assert_close_relative(run.spans[0].stringing_tension_n, 0.539 * 900.0 / (8.0 * 0.6), 0.003);
    assert_true(run.in_air_m > 60.0 && run.in_air_m < 60.1);
    fe_run_free(&run);
    fe_profile_free(&ground);
}

static void cold__tightens_and_heat_slackens(void **state)
{
    (void)state;
    fe_profile ground = even(30.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}};
    fe_run run = run_over(&ground, supports, 2, &SUMMER, 1);
    const fe_run_state *cold = state_of(&run, FE_RUN_COLD, 0);
    const fe_run_state *hot = state_of(&run, FE_RUN_HOT, 0);
    assert_true(cold->tension_n > hot->tension_n);
    assert_true(cold->sag_m < 0.6 && 0.6 < hot->sag_m);
    assert_int_equal(run.case_count, 3); /* no ice, no wind: no such cases */
    fe_run_free(&run);
    fe_profile_free(&ground);
}

static void ice__weighs_what_the_sleeve_weighs(void **state)
{
    (void)state;
    fe_season ice = WINTER;
    ice.ice_m = 12.5e-3;
    fe_run_case cases[FE_RUN_CASE_KINDS];
    const size_t count = fe_run_season_cases(&ice, 0, &FIGURE_8, cases);
    assert_int_equal(count, 6);
    assert_int_equal(cases[2].kind, FE_RUN_ICE);
    /* pi t (d + t) 900 kg/m3 g = 7.62 N/m over the bare 0.539 (the notes: 7.735, 913 kg/m3). */
    assert_close(cases[2].vertical_n_m,
                 0.539 + FE_PI * 12.5e-3 * 22e-3 * 900.0 * FE_GRAVITY_M_S2, 1e-9);
    assert_true(cases[2].wind_n_m == 0.0);
    /* 0.6 of 25 m/s on 34.5 mm: 0.6133 Pa per (m/s)^2. */
    assert_close(cases[3].wind_n_m, 0.6133 * 15.0 * 15.0 * 34.5e-3, 0.002);
    assert_close(cases[4].wind_n_m, 0.6133 * 25.0 * 25.0 * 9.5e-3, 0.002);
}

/* Half of 1.226 kg/m3 by the square of 0.05 m/s; a calm season has no such case. */
static void wind__however_light_pushes(void **state)
{
    (void)state;
    fe_season breath = SUMMER;
    fe_run_case cases[FE_RUN_CASE_KINDS];
    assert_int_equal(fe_run_season_cases(&breath, 0, &FIGURE_8, cases), 3);
    breath.wind_m_s = 0.05;
    assert_int_equal(fe_run_season_cases(&breath, 0, &FIGURE_8, cases), 4);
    assert_int_equal(cases[2].kind, FE_RUN_WIND);
    assert_close_relative(cases[2].wind_n_m, 0.6133 * 0.05 * 0.05 * 9.5e-3, 0.01);
}

/* Ground thaws in a season with frost and warmth, however little of either. */
static void thaw__wants_frost_and_warmth(void **state)
{
    (void)state;
    static const struct {
        double coldest_c;
        double hottest_c;
        bool thaw;
    } AIRS[] = {{-0.05, 0.05, true}, {0.05, 8.0, false}, {0.0, 8.0, false}, {-8.0, 0.0, false}};
    for (size_t i = 0; i < sizeof AIRS / sizeof AIRS[0]; i++) {
        const fe_season season = {.coldest_c = AIRS[i].coldest_c,
                                  .hottest_c = AIRS[i].hottest_c};
        fe_run_case cases[FE_RUN_CASE_KINDS];
        const size_t count = fe_run_season_cases(&season, 0, &FIGURE_8, cases);
        for (size_t c = 0; c < count; c++)
            assert_int_equal(cases[c].thaw, AIRS[i].thaw);
    }
}

/* A stone between two of the even places that are looked at. */
static void clearance__is_least_over_a_point_of_the_ground(void **state)
{
    (void)state;
    fe_profile ground;
    assert_int_equal(fe_profile_new(5, false, false, &ground), FE_OK);
    memcpy(ground.distance_m, (const double[]){0.0, 10.0, 10.1, 10.2, 30.0},
           5 * sizeof(double));
    ground.height_m[2] = 1.0;
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}};
    fe_run run = run_over(&ground, supports, 2, &SUMMER, 1);
    for (size_t c = 0; c < run.case_count; c++) {
        double cable_m = 0.0;
        assert_int_equal(fe_run_height(&run.spans[0], &run.states[c], 4.0, 10.1, &cable_m),
                         FE_OK);
        assert_close(run.states[c].clearance_m, cable_m - 1.0, 1e-12);
        assert_close(run.states[c].clearance_at_m, 10.1, 0.0);
    }
    fe_run_free(&run);
    fe_profile_free(&ground);
}

static void clearance__is_from_the_lowest_place_to_the_ground(void **state)
{
    (void)state;
    fe_profile ground = even(30.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}};
    const fe_season both[] = {SUMMER, WINTER};
    fe_run run = run_over(&ground, supports, 2, both, 2);
    for (size_t c = 0; c < run.case_count; c++) {
        const fe_run_state *one = &run.states[c];
        assert_close(one->clearance_m, 4.0 - one->sag_m, 1e-6);
        assert_close(one->clearance_at_m, 15.0, 0.2);
        assert_close(one->over_season_m,
                     one->clearance_m - both[run.cases[c].season].snow_depth_m, 1e-12);
    }
    fe_run_case_kind sag_case, pull_case;
    const fe_run_state *deepest = fe_run_most_sag(&run, 1, 0, &sag_case);
    assert_non_null(fe_run_most_pull(&run, 1, 0, &pull_case));
    assert_int_equal(sag_case, FE_RUN_ICE);
    assert_int_equal(pull_case, FE_RUN_ICE_WIND);
    assert_true(deepest->sag_m > 0.6);
    fe_run_free(&run);
    fe_profile_free(&ground);
}

static void most__is_of_the_span_and_season_asked_for(void **state)
{
    (void)state;
    fe_profile ground = even(90.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {20.0, 4.0}, {45.0, 4.0}, {90.0, 4.0}};
    const fe_season both[] = {SUMMER, WINTER};
    fe_run run = run_over(&ground, supports, 4, both, 2);
    for (size_t season = 0; season < 2; season++)
        for (size_t span = 0; span < run.span_count; span++) {
            fe_run_case_kind kind;
            const fe_run_state *sag = fe_run_most_sag(&run, season, span, &kind);
            const fe_run_state *pull = fe_run_most_pull(&run, season, span, &kind);
            bool sag_is_one = false, pull_is_one = false;
            for (size_t c = 0; c < run.case_count; c++) {
                if (run.cases[c].season != season)
                    continue;
                const fe_run_state *one = run.states + c * run.span_count + span;
                sag_is_one = sag_is_one || one == sag;
                pull_is_one = pull_is_one || one == pull;
                assert_true(one->sag_m <= sag->sag_m && one->tension_n <= pull->tension_n);
            }
            assert_true(sag_is_one && pull_is_one);
        }
    fe_run_free(&run);
    fe_profile_free(&ground);
}

/* A span of 165/7 m failed: 200/200 of it lay one digit beyond its end. */
static void uneven_span_lengths__have_heights_up_to_their_ends(void **state)
{
    (void)state;
    fe_profile ground = even(165.0, 0.0);
    for (size_t spans = 5; spans < 12; spans++) {
        fe_run_support supports[12];
        for (size_t i = 0; i <= spans; i++)
            supports[i] = (fe_run_support){165.0 * (double)i / (double)spans, 4.0};
        fe_run run = run_over(&ground, supports, spans + 1, &WINTER, 1);
        fe_run_free(&run);
    }
    fe_profile_free(&ground);
}

static void mirrored_run__is_the_same(void **state)
{
    (void)state;
    fe_profile up = even(50.0, 6.0), down = even(50.0, -6.0);
    const fe_run_support there[] = {{0.0, 3.0}, {20.0, 4.0}, {50.0, 3.5}};
    const fe_run_support back[] = {{0.0, 3.5}, {30.0, 4.0}, {50.0, 3.0}};
    fe_run a = run_over(&up, there, 3, &WINTER, 1);
    fe_run b = run_over(&down, back, 3, &WINTER, 1);
    for (size_t c = 0; c < a.case_count; c++)
        for (size_t s = 0; s < 2; s++) {
            const fe_run_state *one = &a.states[c * 2 + s];
            const fe_run_state *other = &b.states[c * 2 + 1 - s];
            assert_close(one->tension_n, other->tension_n, 1e-6);
            assert_close(one->sag_m, other->sag_m, 1e-9);
            assert_close(one->clearance_m, other->clearance_m, 1e-6);
        }
    fe_run_free(&a);
    fe_run_free(&b);
    fe_profile_free(&up);
    fe_profile_free(&down);
}

/* The cable of a round trip: every piece keeps its unstretched length through all cases. */
static void stringing__comes_back_from_every_case(void **state)
{
    (void)state;
    fe_profile ground = even(30.0, 2.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}};
    fe_run run = run_over(&ground, supports, 2, &WINTER, 1);
    for (size_t c = 0; c < run.case_count; c++) {
        const double grown = 1.0 + 11.5e-6 * (run.cases[c].temp_c - 15.0);
        assert_close(run.states[c].shape.unstretched_m, run.spans[0].unstretched_m * grown,
                     1e-9);
    }
    fe_run_free(&run);
    fe_profile_free(&ground);
}

static void one_pull__strings_all_spans(void **state)
{
    (void)state;
    fe_profile ground = even(60.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {20.0, 4.0}, {60.0, 4.0}};
    const fe_run_input input = {.ground = &ground,
                                .supports = supports,
                                .support_count = 3,
                                .cable = FIGURE_8,
                                .stringing_c = 15.0,
                                .stringing_n = 150.0,
                                .seasons = &SUMMER,
                                .season_count = 1};
    fe_run run;
    assert_int_equal(fe_run_compute(&input, &run), FE_OK);
    assert_close(run.spans[0].stringing_tension_n, 150.0, 1e-9);
    assert_close(run.spans[1].stringing_tension_n, 150.0, 1e-9);
    /* Posts stand straight when the cable is strung: w a^2 / 8 H both sides. */
    assert_close_relative(run.spans[1].stringing_sag_m / run.spans[0].stringing_sag_m, 4.0,
                          0.01);
    fe_run_free(&run);
    fe_profile_free(&ground);
}

/* With every force a ten-thousandth, the curves are the same. */
static void thread__hangs_as_the_cable_does(void **state)
{
    (void)state;
    static const double LEAST = 1e-4;
    fe_profile ground = even(30.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}};
    fe_run_input input = {.ground = &ground,
                          .supports = supports,
                          .support_count = 2,
                          .cable = FIGURE_8,
                          .stringing_c = 15.0,
                          .stringing_n = 150.0,
                          .seasons = &SUMMER,
                          .season_count = 1};
    fe_run cable, thread;
    assert_int_equal(fe_run_compute(&input, &cable), FE_OK);
    input.stringing_n *= LEAST;
    input.cable.weight_n_m *= LEAST;
    input.cable.stiffness_n *= LEAST;
    assert_int_equal(fe_run_compute(&input, &thread), FE_OK);
    for (size_t c = 0; c < cable.case_count; c++) {
        assert_close_relative(thread.states[c].sag_m, cable.states[c].sag_m, 1e-9);
        assert_close_relative(thread.states[c].tension_n, LEAST * cable.states[c].tension_n,
                              1e-9);
    }
    fe_run_free(&cable);
    fe_run_free(&thread);
    fe_profile_free(&ground);
}

/* One pull in every span, and all that was strung is still there, by tension.h's own search. */
static void free_cable__pulls_alike_in_all_spans(void **state)
{
    (void)state;
    fe_profile ground = even(90.0, 6.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {20.0, 4.5}, {55.0, 4.0}, {90.0, 4.0}};
    fe_run_input input = {.ground = &ground,
                          .supports = supports,
                          .support_count = 4,
                          .cable = FIGURE_8,
                          .stringing_c = 15.0,
                          .stringing_n = 150.0,
                          .seasons = &WINTER,
                          .season_count = 1,
                          .free_running = true};
    fe_run run;
    assert_int_equal(fe_run_compute(&input, &run), FE_OK);
    double spans_m[3], rises_m[3];
    for (size_t s = 0; s < 3; s++) {
        spans_m[s] = run.spans[s].length_m;
        rises_m[s] = run.spans[s].rise_m;
    }
    const fe_tension_cable elastic = {FIGURE_8.stiffness_n, FIGURE_8.expansion_1_k};
    const fe_tension_state strung = {.temp_c = 15.0, .vertical_n_m = FIGURE_8.weight_n_m};
    for (size_t c = 0; c < run.case_count; c++) {
        const fe_run_state *at = &run.states[c * 3];
        const fe_tension_state now = {.temp_c = run.cases[c].temp_c,
                                      .vertical_n_m = run.cases[c].vertical_n_m,
                                      .wind_n_m = run.cases[c].wind_n_m};
        double wanted_n = 0.0;
        assert_int_equal(fe_tension_change_free(spans_m, rises_m, 3, &elastic, &strung, 150.0,
                                                &now, &wanted_n),
                         FE_OK);
        for (size_t s = 0; s < 3; s++)
            assert_close_relative(at[s].pull_n, wanted_n, 1e-9);
    }
    fe_run_free(&run);
    fe_profile_free(&ground);
}

/* Equal level spans have nothing to give each other. */
static void free_cable__over_equal_spans_is_as_tied(void **state)
{
    (void)state;
    fe_profile ground = even(60.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}, {60.0, 4.0}};
    fe_run_input input = {.ground = &ground,
                          .supports = supports,
                          .support_count = 3,
                          .cable = FIGURE_8,
                          .stringing_c = 15.0,
                          .sag_share = 0.02,
                          .seasons = &WINTER,
                          .season_count = 1};
    input.cable.creep = 2e-4;
    fe_run tied, loose;
    assert_int_equal(fe_run_compute(&input, &tied), FE_OK);
    input.free_running = true;
    assert_int_equal(fe_run_compute(&input, &loose), FE_OK);
    for (size_t i = 0; i < tied.case_count * tied.span_count; i++) {
        assert_close_relative(loose.states[i].tension_n, tied.states[i].tension_n, 1e-9);
        assert_close_relative(loose.states[i].sag_m, tied.states[i].sag_m, 1e-9);
    }
    fe_run_free(&tied);
    fe_run_free(&loose);
    fe_profile_free(&ground);
}

static void final_cable__hangs_lower_than_initial(void **state)
{
    (void)state;
    fe_profile ground = even(30.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}};
    fe_season winters[] = {WINTER, WINTER};
    winters[1].ice_m = 4e-3;
    fe_run_input input = {.ground = &ground,
                          .supports = supports,
                          .support_count = 2,
                          .cable = FIGURE_8,
                          .stringing_c = 15.0,
                          .sag_share = 0.02,
                          .seasons = winters,
                          .season_count = 2};
    fe_run before, after;
    assert_int_equal(fe_run_compute(&input, &before), FE_OK);
    input.cable.creep = 2e-4;
    input.cable.ice_set = 0.1;
    assert_int_equal(fe_run_compute(&input, &after), FE_OK);
    assert_true(state_of(&after, FE_RUN_HOT, 0)->sag_m >
                state_of(&before, FE_RUN_HOT, 0)->sag_m + 0.01);
    /* The coldest day of the first winter meets the cable as strung. */
    assert_close(state_of(&after, FE_RUN_COLD, 0)->tension_n,
                 state_of(&before, FE_RUN_COLD, 0)->tension_n, 1e-9);
    /* It keeps creep and a tenth of what the heavier ice stretched it, by tension.h's own search:
     * pi t (d + t) 900 kg/m3 g over the bare weight, in the season's cold. */
    const fe_tension_cable elastic = {FIGURE_8.stiffness_n, FIGURE_8.expansion_1_k};
    const fe_tension_state strung = {.temp_c = 15.0, .vertical_n_m = 0.539};
    fe_tension_state iced = {.vertical_n_m =
                                 0.539 + FE_PI * 10e-3 * 19.5e-3 * 900.0 * FE_GRAVITY_M_S2};
    const double strung_n = after.spans[0].stringing_tension_n;
    double iced_n = 0.0, kept = 0.0;
    for (size_t c = 0; c < after.case_count; c++) {
        const fe_run_case *load = &after.cases[c];
        if (load->season == 0 && load->kind == FE_RUN_ICE)
            iced.temp_c = load->temp_c;
        if (load->season == 0 && load->kind == FE_RUN_HOT)
            kept = after.states[c].shape.unstretched_m / after.spans[0].unstretched_m - 1.0 -
                   11.5e-6 * (load->temp_c - 15.0);
    }
    assert_int_equal(
        fe_tension_change(30.0, 0.0, &elastic, &strung, strung_n, &iced, &iced_n, NULL), FE_OK);
    assert_close(kept, 2e-4 + 0.1 * (iced_n - strung_n) / FIGURE_8.stiffness_n, 1e-9);
    assert_true(iced_n > 4.0 * strung_n);
    fe_run_free(&before);
    fe_run_free(&after);
    fe_profile_free(&ground);
}

static void wet_snow__goes_by_mass(void **state)
{
    (void)state;
    fe_season thaw = WINTER;
    thaw.snow_is_wet = true;
    fe_profile ground = even(30.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {30.0, 4.0}};
    const fe_run_input input = {.ground = &ground,
                                .supports = supports,
                                .support_count = 2,
                                .cable = FIGURE_8,
                                .stringing_c = 15.0,
                                .sag_share = 0.02,
                                .seasons = &thaw,
                                .season_count = 1,
                                .wet_snow_kg_m = 1.6,
                                .district = fe_ice_district_find("US IEEE C2", "heavy")};
    fe_run run;
    assert_int_equal(fe_run_compute(&input, &run), FE_OK);
    assert_int_equal(run.case_count, 8);
    assert_close(run.cases[6].vertical_n_m, 0.539 + 1.6 * FE_GRAVITY_M_S2, 1e-9);
    /* 12.5 mm at 913 kg/m3 weigh 7.735 N/m, pi t (d + t) rho g; 190 Pa on 34.5 mm. */
    assert_int_equal(run.cases[7].kind, FE_RUN_DISTRICT);
    assert_close(run.cases[7].vertical_n_m, 0.539 + 7.735, 0.001);
    assert_close(run.cases[7].wind_n_m, 190.0 * 34.5e-3, 1e-6);
    assert_close(run.cases[7].added_n_m, 4.4, 1e-9);
    fe_run_free(&run);
    fe_profile_free(&ground);
}

/* Over the working 400 N at 15 m, over the breaking 1200 N at 50 m. */
static void heavy_district__needs_short_spans(void **state)
{
    (void)state;
    const double wanted[][3] = {{15.0, 400.0, 720.0}, {50.0, 1200.0, 2000.0}};
    for (size_t i = 0; i < 2; i++) {
        fe_profile ground = even(wanted[i][0], 0.0);
        const fe_run_support supports[] = {{0.0, 4.0}, {wanted[i][0], 4.0}};
        fe_run_input input = {.ground = &ground,
                              .supports = supports,
                              .support_count = 2,
                              .cable = FIGURE_8,
                              .stringing_c = 15.0,
                              .sag_share = 0.03,
                              .seasons = &SUMMER,
                              .season_count = 1,
                              .district = fe_ice_district_find("US IEEE C2", "heavy")};
        input.cable.stiffness_n = 1.131e-6 * 200e9;
        fe_run run;
        assert_int_equal(fe_run_compute(&input, &run), FE_OK);
        const double pull_n = run.states[run.case_count - 1].pull_n;
        assert_true(pull_n > wanted[i][1] && pull_n < wanted[i][2]);
        fe_run_free(&run);
        fe_profile_free(&ground);
    }
}

/*
 * 30 m, 0.3 m sag, 1 N/m between unstayed 100 mm posts in stiff soil: 0.50 m after creep. The
 * pull of a stiff cable: only the posts give. And the stiffer the posts, the more it is rigid.
 */
static void supports_that_give__become_rigid(void **state)
{
    (void)state;
    fe_profile ground = even(30.0, 0.0);
    const fe_run_support supports[] = {{0.0, 3.0}, {30.0, 3.0}};
    const fe_season still = {.name = "still", .coldest_c = 15.0, .hottest_c = 15.0};
    fe_run_input input = {.ground = &ground,
                          .supports = supports,
                          .support_count = 2,
                          .cable = {.diameter_m = 0.01,
                                    .weight_n_m = 1.0,
                                    .stiffness_n = 1e6,
                                    .expansion_1_k = 11.5e-6},
                          .stringing_c = 15.0,
                          .sag_share = 0.01,
                          .seasons = &still,
                          .season_count = 1,
                          .post_creep = 2.0};
    fe_run rigid;
    assert_int_equal(fe_run_compute(&input, &rigid), FE_OK);
    double before_m = INFINITY;
    for (double give = 1e-3; give > 1e-12; give *= 0.1) {
        const double gives[] = {give, give};
        input.gives_m_n = gives;
        fe_run run;
        assert_int_equal(fe_run_compute(&input, &run), FE_OK);
        const double more_m =
            state_of(&run, FE_RUN_HOT, 0)->sag_m - state_of(&rigid, FE_RUN_HOT, 0)->sag_m;
        assert_true(more_m > -1e-12 && more_m < before_m);
        before_m = more_m;
        fe_run_free(&run);
    }
    assert_close(before_m, 0.0, 1e-7);
    fe_run_free(&rigid);
    fe_profile_free(&ground);
}

static void giving_posts__are_in_equilibrium(void **state)
{
    (void)state;
    fe_profile ground = even(70.0, 0.0);
    const fe_run_support supports[] = {{0.0, 4.0}, {20.0, 4.0}, {45.0, 4.0}, {70.0, 4.0}};
    const double gives[] = {0.0, 2e-4, 3e-4, 0.0};
    const fe_run_input input = {.ground = &ground,
                                .supports = supports,
                                .support_count = 4,
                                .cable = FIGURE_8,
                                .stringing_c = 15.0,
                                .stringing_n = 150.0,
                                .seasons = &WINTER,
                                .season_count = 1,
                                .gives_m_n = gives,
                                .post_creep = 2.0};
    fe_run run;
    assert_int_equal(fe_run_compute(&input, &run), FE_OK);
    for (size_t c = 0; c < run.case_count; c++) {
        const fe_run_state *at = &run.states[c * 3];
        const double creep = run.cases[c].final ? 3.0 : 1.0;
        const double first_m = at[0].span_now_m - run.spans[0].length_m;
        const double second_m = first_m + at[1].span_now_m - run.spans[1].length_m;
        assert_close(first_m, gives[1] * creep * (at[1].pull_n - at[0].pull_n), 1e-8);
        assert_close(second_m, gives[2] * creep * (at[2].pull_n - at[1].pull_n), 1e-8);
        assert_close(second_m + at[2].span_now_m, run.spans[2].length_m, 1e-8);
        /* Weight and vertical forces: all of the cable stands on the supports. */
        for (size_t s = 0; s < 3; s++)
            assert_close_relative(at[s].down_first_n + at[s].down_second_n,
                                  run.cases[c].vertical_n_m * run.spans[s].unstretched_m, 1e-6);
    }
    fe_run_free(&run);
    fe_profile_free(&ground);
}

static void bad_runs__are_refused(void **state)
{
    (void)state;
    fe_profile ground = even(50.0, 0.0);
    const fe_run_support backwards[] = {{20.0, 3.0}, {10.0, 4.0}};
    const fe_run_support outside[] = {{0.0, 3.0}, {60.0, 4.0}};
    const fe_run_support sound[] = {{0.0, 3.0}, {50.0, 4.0}};
    fe_run_input input = {.ground = &ground,
                          .supports = backwards,
                          .support_count = 2,
                          .cable = FIGURE_8,
                          .stringing_c = 15.0,
                          .sag_share = 0.02,
                          .seasons = &SUMMER,
                          .season_count = 1};
    fe_run run;
    assert_int_equal(fe_run_compute(&input, &run), FE_E_DOMAIN);
    input.supports = outside;
    assert_int_equal(fe_run_compute(&input, &run), FE_E_DOMAIN);
    input.supports = sound;
    input.sag_share = (double)NAN;
    assert_int_equal(fe_run_compute(&input, &run), FE_E_DOMAIN);
    input.sag_share = 0.02;
    input.cable.weight_n_m = (double)NAN;
    assert_int_equal(fe_run_compute(&input, &run), FE_E_DOMAIN);
    fe_profile_free(&ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stringing__has_the_sag_asked_for),
        cmocka_unit_test(cold__tightens_and_heat_slackens),
        cmocka_unit_test(ice__weighs_what_the_sleeve_weighs),
        cmocka_unit_test(wind__however_light_pushes),
        cmocka_unit_test(thaw__wants_frost_and_warmth),
        cmocka_unit_test(clearance__is_least_over_a_point_of_the_ground),
        cmocka_unit_test(clearance__is_from_the_lowest_place_to_the_ground),
        cmocka_unit_test(most__is_of_the_span_and_season_asked_for),
        cmocka_unit_test(uneven_span_lengths__have_heights_up_to_their_ends),
        cmocka_unit_test(mirrored_run__is_the_same),
        cmocka_unit_test(stringing__comes_back_from_every_case),
        cmocka_unit_test(one_pull__strings_all_spans),
        cmocka_unit_test(thread__hangs_as_the_cable_does),
        cmocka_unit_test(free_cable__pulls_alike_in_all_spans),
        cmocka_unit_test(free_cable__over_equal_spans_is_as_tied),
        cmocka_unit_test(final_cable__hangs_lower_than_initial),
        cmocka_unit_test(wet_snow__goes_by_mass),
        cmocka_unit_test(heavy_district__needs_short_spans),
        cmocka_unit_test(supports_that_give__become_rigid),
        cmocka_unit_test(giving_posts__are_in_equilibrium),
        cmocka_unit_test(bad_runs__are_refused),
    };
    return FE_RUN_TESTS(tests);
}
