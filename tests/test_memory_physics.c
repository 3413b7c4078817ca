/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The searches of src/propagation and src/wired while memory fails: every allocation in turn
 * comes to "out of memory" and holds nothing, or has cost nothing (see failing.h). The same
 * where a call fails that one file makes to another.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "failing.h"
#include "farend/around.h"
#include "farend/channel.h"
#include "farend/claim.h"
#include "farend/feed.h"
#include "farend/height_error.h"
#include "farend/pairs.h"
#include "farend/relay_site.h"
#include "farend/route.h"
#include "farend/supply.h"
#include "farend/tension.h"
#include "link.h"
#include "testing.h"

static const fe_wanted WANTED = {
    .rate_bps = {0.0, 2e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};
static const fe_season SEASONS[] = {
    {.name = "summer",
     .in_leaf = true,
     .coldest_c = 5.0,
     .hottest_c = 30.0,
     .wind_m_s = 25.0,
     .surface = FE_SURFACE_DRY_SOIL},
    {.name = "winter",
     .snow_depth_m = 0.5,
     .surface = FE_SURFACE_DRY_SNOW,
     .trees = FE_TREES_FROZEN,
     .coldest_c = -15.0,
     .hottest_c = 3.0,
     .ice_m = 5e-3,
     .wind_m_s = 25.0},
};
enum { SEASON_COUNT = 2, POINTS = 21 };

static double distance_m[POINTS], height_m[POINTS], error_m[POINTS], clutter_m[POINTS];
static const fe_profile GROUND = {.count = POINTS,
                                  .distance_m = distance_m,
                                  .height_m = height_m,
                                  .height_error_m = error_m,
                                  .clutter_m = clutter_m};
static const fe_stand TREES = {40.0, 44.0, 6.0, FE_TREES_DECIDUOUS};

static int make_ground(void **state)
{
    (void)state;
    for (int i = 0; i < POINTS; i++) {
        distance_m[i] = 10.0 * i;
        height_m[i] = 1.5 * sin(i / 2.0);
        error_m[i] = 0.3;
        clutter_m[i] = i == 12 ? 3.0 : 0.0;
    }
    return 0;
}

static fe_hop hop(void)
{
    return (fe_hop){.ground = &GROUND,
                    .region = FE_REGION_EU,
                    .f_hz = 2437e6,
                    .stands = &TREES,
                    .stand_count = 1,
                    .ends = {outdoors(&RELAY, 3.0), outdoors(&RELAY, 2.5)}};
}

/* What a stage came to, so that a result made in spite of a failure is compared. */
static void print(fe_strbuf *out, double value)
{
    fe_strbuf_format(out, "%.12g\n", value);
}

static fe_status hop_budget(fe_strbuf *out)
{
    const fe_hop one = hop();
    fe_hop_budget budget;
    const fe_status status =
        fe_hop_budget_compute(&one, SEASONS, SEASON_COUNT, &WANTED, &budget);
    if (status < 0)
        return status;
    print(out, budget.seasons[budget.worst].margin_db);
    fe_hop_budget_free(&budget);
    return status;
}

static fe_status relays(fe_strbuf *out)
{
    static const double MAST_M = 3.0;
    static const fe_relay_spot PLACES[] = {{62.0, 0}, {100.0, 1}, {149.0, 0}};
    static fe_relay_way ways[3];
    const fe_hop direct = hop();
    const fe_relay_site site = {.direct = &direct,
                                .relay = outdoors(&RELAY, 3.0),
                                .masts_m = &MAST_M,
                                .mast_count = 1,
                                .places = PLACES,
                                .place_count = 3,
                                .step_m = 10.0,
                                .seasons = SEASONS,
                                .season_count = SEASON_COUNT,
                                .wanted = &WANTED,
                                .threads = 1};
    size_t count = 0;
    const fe_status status = fe_relay_search(&site, 2, ways, &count, NULL);
    for (size_t i = 0; status >= 0 && i < count; i++)
        print(out, ways[i].chain.margin_db);
    return status;
}

static fe_status around(fe_strbuf *out)
{
    enum { SIDE = 11 };
    static float heights[SIDE * SIDE], margin_db[SIDE * SIDE], chance[SIDE * SIDE];
    const fe_hop one = {.region = FE_REGION_EU,
                        .f_hz = 2437e6,
                        .ends = {outdoors(&RELAY, 3.0), outdoors(&RELAY, 2.5)}};
    for (int i = 0; i < SIDE * SIDE; i++)
        heights[i] = (float)(i % 7);
    const fe_around map = {.hop = &one,
                           .seasons = SEASONS,
                           .season_count = SEASON_COUNT,
                           .wanted = &WANTED,
                           .radius_m = 16.0,
                           .threads = 1,
                           .land = {.height_m = heights,
                                    .columns = SIDE,
                                    .rows = SIDE,
                                    .east_m = {4.0, 0.0},
                                    .north_m = {0.0, -4.0},
                                    .column = 5.0,
                                    .row = 5.0}};
    fe_around_count count;
    const fe_status status = fe_around_compute(&map, margin_db, chance, &count);
    if (status >= 0)
        print(out, margin_db[3 * SIDE + 6]);
    return status;
}

static void take_row(void *context, size_t i, const fe_pair *pairs, size_t count)
{
    (void)i;
    for (size_t k = 0; k < count; k++)
        *(double *)context += pairs[k].loss_db;
}

static fe_status pairs(fe_strbuf *out)
{
    double antenna_m[POINTS], sum_db = 0.0;
    for (int i = 0; i < POINTS; i++)
        antenna_m[i] = height_m[i] + 2.0;
    const fe_pairs all = {.d_m = distance_m,
                          .h_m = height_m,
                          .n = POINTS,
                          .antenna1_m = antenna_m,
                          .antenna2_m = antenna_m,
                          .wave = fe_diffraction_wave_over_land(2437e6, 8.5e6, true)};
    const fe_status status = fe_pairs_compute(&all, take_row, &sum_db, NULL);
    if (status >= 0)
        print(out, sum_db);
    return status;
}

static fe_status height_errors(fe_strbuf *out)
{
    const fe_diffraction_path path = {.d_m = distance_m,
                                      .h_m = height_m,
                                      .n = POINTS,
                                      .antenna1_m = height_m[0] + 2.0,
                                      .antenna2_m = height_m[POINTS - 1] + 2.0};
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2437e6, 8.5e6, true);
    fe_height_spread spread;
    const fe_status status = fe_height_error_spread(&path, error_m, &wave, &spread);
    if (status >= 0)
        print(out, spread.clearance_sigma_m);
    return status;
}

/* Near the greatest load the two answers lie close, and the least between them is searched. */
static fe_status feed(fe_strbuf *out)
{
    const fe_feed_section section = {2.0, 0.0, FE_LOAD_POWER, 287.99, 1.0, FE_ANGLE_OWN};
    fe_feed_source source;
    const fe_status status = fe_feed_from_source(48.0, &section, 1, NULL, &source);
    if (status >= 0)
        print(out, source.drop_v);
    return status;
}

/* AC with a breaker and a load that starts hard; the loop and the rating ask for a size. */
static fe_status supply(fe_strbuf *out)
{
    static const fe_supply_load LOADS[] = {{60.0, FE_LOAD_POWER, 500.0, 0.9, 1.5, 4.0, 200.0},
                                           {100.0, FE_LOAD_CURRENT, 2.0, 1.0, 1.0, 2.0, 0.0}};
    fe_supply_case given = {.length_m = 100.0,
                            .source_v = 230.0,
                            .ac = true,
                            .allowed_drop = 0.05,
                            .air_c = 20.0,
                            .loads = LOADS,
                            .load_count = 2,
                            .has_device = true,
                            .device = {true, FE_BREAKER_B, 16.0},
                            .loop_ohm = 0.35};
    fe_status status = FE_OK;
    for (int series = 0; series < 2 && status >= 0; series++) {
        fe_supply_choice choice;
        given.open_span_m = series == 0 ? 0.0 : 12.0;
        status = fe_supply_choose(&given, series == 0 ? FE_SIZES_METRIC : FE_SIZES_AWG,
                                  FE_CONDUCTOR_COPPER, &choice);
        for (size_t i = 0; status >= 0 && i < choice.count; i++)
            print(out, choice.sizes[i].far_v);
    }
    return status;
}

/* Longer than the category allows, with power over its pairs. */
static fe_status channel(fe_strbuf *out)
{
    const fe_channel_case given = {.length_m = 120.0,
                                   .cords_m = 4.0,
                                   .cord_derating = 0.2,
                                   .connectors = 2,
                                   .temp_c = 35.0,
                                   .category = FE_CATEGORY_6,
                                   .rate_bit_s = 1e9,
                                   .poe_class = 3};
    fe_channel_answer answer;
    const fe_status status = fe_channel_solve(&given, &answer);
    if (status < 0)
        return status;
    print(out, answer.rates[0].limit_m);
    print(out, answer.power.device_w);
    for (int i = 0; i < FE_BEYOND_KINDS; i++)
        print(out, answer.beyond[i].rate_bit_s);
    return status;
}

/* Two spans between blocks, and one alone by both equations. */
static fe_status tension(fe_strbuf *out)
{
    static const double SPANS_M[] = {40.0, 55.0}, RISES_M[] = {1.0, -2.0};
    const fe_tension_cable cable = {226e3, 11.5e-6};
    const fe_tension_state strung = {15.0, 0.539, 0.0, 0.0};
    const fe_tension_state iced = {-5.0, 4.0, 2.0, 0.0};
    double free_n = 0.0, single_n = 0.0, parabola_n = 0.0;
    fe_span_shape shape;
    fe_status status =
        fe_tension_change_free(SPANS_M, RISES_M, 2, &cable, &strung, 150.0, &iced, &free_n);
    if (status >= 0)
        status =
            fe_tension_change(55.0, -2.0, &cable, &strung, 150.0, &iced, &single_n, &shape);
    if (status >= 0)
        status =
            fe_tension_change_parabola(55.0, -2.0, &cable, &strung, 150.0, &iced, &parabola_n);
    if (status >= 0) {
        print(out, free_n);
        print(out, single_n);
        print(out, parabola_n);
    }
    return status;
}

/* With a wall named: where none is, walls that have no figures are passed over. */
static fe_status claim(fe_strbuf *out)
{
    static const fe_hop_wall WALL = {"brick", (double)NAN};
    const fe_claim_step step = {.from_hz = 5.2e9,
                                .to_hz = 2.4e9,
                                .factor = 4.0,
                                .height_m = {2.0, 2.0},
                                .walls = &WALL,
                                .wall_count = 1,
                                .trees_m = 5.0,
                                .trees = {.kind = FE_TREES_DECIDUOUS, .in_leaf = true},
                                .region = FE_REGION_EU,
                                .confirm_db = FE_CLAIM_CONFIRM_DB};
    fe_claim_answer answer;
    const fe_status status = fe_claim_test(&step, &answer);
    for (size_t i = 0; status >= 0 && i < answer.cause_count; i++)
        print(out, answer.causes[i].high_db);
    return status;
}

/* ---- A cable on posts ---- */

static fe_posts_kind kinds[2];
static fe_route_place places[19];
static const double STRINGS_N[] = {120.0, 200.0};
static const fe_clearance_need NEED = {
    .to_m = 200.0, .over_ground_m = 2.5, .over_snow_m = 2.0, .rule = "a test"};
static const fe_posts_material MATERIAL = {.section = FE_POST_ROUND,
                                           .width_m = 0.16,
                                           .bending_pa = 24e6,
                                           .elasticity_pa = 11e9,
                                           .lateral_pa_m = 31.42e3,
                                           .top_m = 0.15,
                                           .own_depth_m = (double)NAN};

static fe_route_input route_input(void)
{
    fe_route_input input = {
        .run = {.ground = &GROUND,
                .cable = {.diameter_m = 9.5e-3,
                          .weight_n_m = 0.539,
                          .stiffness_n = 226e3,
                          .expansion_1_k = 11.5e-6,
                          .creep = 1e-4,
                          .ice_set = 0.05},
                .stringing_c = 15.0,
                .seasons = SEASONS,
                .season_count = SEASON_COUNT},
        .start_attachment_m = 4.5,
        .end_attachment_m = 4.5,
        .places = places,
        .place_count = 19,
        .span_low_m = 8.0,
        .span_high_m = 60.0,
        .kinds = kinds,
        .kind_count = 2,
        .strings_n = STRINGS_N,
        .string_count = 2,
        .most_sag_share = 0.1,
        .needs = &NEED,
        .need_count = 1,
        .wall_free_m = 1.5,
    };
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++)
        input.limits.limit_n[k] = 900.0;
    return input;
}

static fe_status route(fe_strbuf *out)
{
    fe_route_input input = route_input();
    fe_route found = {0};
    fe_status status = FE_E_MEMORY;
    input.tables = fe_route_tables_new();
    if (input.tables)
        status = fe_route_search(&input, &found);
    if (status >= 0)
        print(out, found.moment_n_m);
    fe_route_free(&found);
    fe_route_tables_free(input.tables);
    return status;
}

static fe_status closest(fe_strbuf *out)
{
    const fe_route_input input = route_input();
    fe_route found = {0};
    fe_route_use worst;
    const fe_status status = fe_route_closest(&input, 3, &found, &worst);
    if (status >= 0)
        print(out, worst.use);
    fe_route_free(&found);
    return status;
}

static fe_status assess(fe_strbuf *out)
{
    const fe_route_input input = route_input();
    size_t at[] = {4, 9, 14};
    size_t kind[] = {0, 0, 0};
    const fe_route set = {.stringing_n = 150.0, .places = at, .kinds = kind, .post_count = 3};
    const fe_route_change planned = FE_ROUTE_AS_PLANNED;
    fe_route_check check;
    const fe_status status = fe_route_assess(&input, &set, &MATERIAL, &planned, &check);
    if (status < 0)
        return status;
    print(out, check.largest_use);
    fe_route_check_free(&check);
    return status;
}

static fe_status free_run(fe_strbuf *out)
{
    static const fe_run_support SUPPORTS[] = {
        {0.0, 4.5}, {70.0, 4.0}, {140.0, 4.0}, {200.0, 4.5}};
    static const double GIVES_M_N[] = {0.0, 1e-4, 1e-4, 0.0};
    const fe_route_input input = route_input();
    fe_run_input free = input.run;
    free.supports = SUPPORTS;
    free.support_count = 4;
    free.stringing_n = 150.0;
    free.gives_m_n = GIVES_M_N;
    fe_status status = FE_OK;
    for (int running = 0; running < 2 && status >= 0; running++) {
        fe_run run;
        free.free_running = running == 1;
        free.gives_m_n = running == 1 ? NULL : GIVES_M_N;
        status = fe_run_compute(&free, &run);
        if (status < 0)
            break;
        print(out, run.states[0].tension_n);
        fe_run_free(&run);
    }
    return status;
}

/* ---- Failing ---- */

typedef struct stage {
    const char *name;
    fe_failing_stage *run;
    long least; /* allocations at least; 0: none of its own */
} stage;

static const stage RADIO_STAGES[] = {
    {"hop budget", hop_budget, 3},
    {"relay search", relays, 20},
    {"map around", around, 5},
    {"all pairs", pairs, 3},
    {"errors of heights", height_errors, 1},
    {"claim", claim, 0},
};

static const stage WIRE_STAGES[] = {
    {"route", route, 20},
    {"closest route", closest, 10},
    {"assessing a route", assess, 10},
    {"a run that gives and one that slides", free_run, 8},
    {"feed", feed, 1},
    {"supply", supply, 1},
    {"channel", channel, 0},
    {"change of tension", tension, 1},
};

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])

static void fail_memory(const stage *stages, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (stages[i].least > 0)
            assert_true(fe_testing_fail_each(stages[i].name, stages[i].run) >= stages[i].least);
}

static void fail_calls(const stage *stages, size_t count)
{
    for (size_t i = 0; i < count; i++)
        fe_testing_fail_each_call(stages[i].name, stages[i].run);
}

static void radio__survives_every_failure(void **state)
{
    (void)state;
    fail_memory(RADIO_STAGES, COUNT(RADIO_STAGES));
}

static void wire__survives_every_failure(void **state)
{
    (void)state;
    fail_memory(WIRE_STAGES, COUNT(WIRE_STAGES));
}

static void radio__passes_on_what_fails_below(void **state)
{
    (void)state;
    fail_calls(RADIO_STAGES, COUNT(RADIO_STAGES));
}

static void wire__passes_on_what_fails_below(void **state)
{
    (void)state;
    fail_calls(WIRE_STAGES, COUNT(WIRE_STAGES));
}

static int prepare(void **state)
{
    for (size_t i = 0; i < COUNT(places); i++)
        places[i] = (fe_route_place){.at_m = 10.0 * (double)(i + 1)};
    if (fe_posts_make(&MATERIAL, 6.0, 0.0, false, &kinds[0]) != FE_OK ||
        fe_posts_make(&MATERIAL, 6.0, 0.0, true, &kinds[1]) != FE_OK)
        return -1;
    return make_ground(state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(radio__survives_every_failure),
        cmocka_unit_test(wire__survives_every_failure),
        cmocka_unit_test(radio__passes_on_what_fails_below),
        cmocka_unit_test(wire__passes_on_what_fails_below),
    };
    fe_init();
    return cmocka_run_group_tests(tests, prepare, NULL);
}
