/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cases that are told in a struct: good as they stand, refused with each member in turn out of
 * its range, whatever else they hold.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/aerial_cable.h"
#include "farend/around.h"
#include "farend/claim.h"
#include "farend/clearance.h"
#include "farend/dielectric.h"
#include "farend/duct.h"
#include "farend/ethernet.h"
#include "farend/fibre.h"
#include "farend/gear.h"
#include "farend/ice_wind.h"
#include "farend/limits.h"
#include "farend/placing.h"
#include "farend/power_rules.h"
#include "farend/relay_site.h"
#include "farend/route.h"
#include "farend/soil.h"
#include "farend/supply.h"
#include "farend/tension.h"
#include "farend/wifi.h"
#include "farend/wood.h"
#include "link.h"
#include "refusal.h"
#include "testing.h"

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])
#define CHECK(call, members) fe_testing_check_members(#call, call, members, COUNT(members))

/* ---- A feed ---- */

static fe_supply_load load;
static fe_supply_case feed;
static fe_conductor conductor;

static void make_feed(void)
{
    load = (fe_supply_load){100.0, FE_LOAD_POWER, 500.0, 0.9, 1.5, 4.0, 200.0};
    feed = (fe_supply_case){.length_m = 100.0,
                            .source_v = 230.0,
                            .ac = true,
                            .allowed_drop = 0.05,
                            .air_c = 20.0,
                            .loads = &load,
                            .load_count = 1,
                            .has_device = true,
                            .device = {true, FE_BREAKER_B, 16.0},
                            .loop_ohm = 0.35};
    conductor = (fe_conductor){4e-6, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
}

static fe_status try_feed(void)
{
    fe_supply_size size;
    return fe_supply_try(&feed, &conductor, &size);
}

static void feed__is_refused_out_of_range(void **state)
{
    (void)state;
    make_feed();
    const fe_refusal_member members[] = {
        {"length", &feed.length_m, 'p'},
        {"source", &feed.source_v, 'p'},
        {"allowed drop", &feed.allowed_drop, 'o'},
        {"air", &feed.air_c, 'f'},
        {"open span", &feed.open_span_m, 'n'},
        {"rating", &feed.device.rating_a, 'p'},
        {"loop", &feed.loop_ohm, 'n'},
        {"area", &conductor.area_m2, 'p'},
        {"place of a load", &load.at_m, 'p'},
        {"load", &load.load, 'n'},
        {"power factor", &load.power_factor, 's'},
        {"start", &load.start_factor, 'p'},
        {"hours", &load.hours_per_day, 'n'},
        {"least voltage", &load.least_v, 'n'},
    };
    CHECK(try_feed, members);
    load.at_m = 100.1; /* beyond the end */
    assert_int_equal(try_feed(), FE_E_DOMAIN);
    make_feed();
    load.hours_per_day = 24.1;
    assert_int_equal(try_feed(), FE_E_DOMAIN);
    make_feed();
    load.start_factor = 0.9;
    assert_int_equal(try_feed(), FE_E_DOMAIN);
    make_feed();
    feed.load_count = 0;
    assert_int_equal(try_feed(), FE_E_DOMAIN);
    feed.load_count = FE_SUPPLY_MOST_LOADS + 1;
    assert_int_equal(try_feed(), FE_E_DOMAIN);
    fe_supply_choice choice;
    assert_int_equal(fe_supply_choose(&feed, FE_SIZES_METRIC, FE_CONDUCTOR_COPPER, &choice),
                     FE_E_DOMAIN);
    make_feed();
    const fe_supply_load backwards[] = {load, {50.0, FE_LOAD_POWER, 10.0, 0.9, 1.0, 1.0, 0.0}};
    feed.loads = backwards;
    feed.load_count = 2;
    assert_int_equal(try_feed(), FE_E_DOMAIN);
    /* No current is allowed in air as hot as the insulation may be. */
    make_feed();
    feed.air_c = 75.0;
    assert_int_equal(try_feed(), FE_E_DOMAIN);
}

/* Straight between the source and each load, level behind the last. */
static void voltage__is_read_along_the_feed(void **state)
{
    (void)state;
    make_feed();
    const fe_supply_load two[] = {{40.0, FE_LOAD_CURRENT, 5.0, 1.0, 1.0, 1.0, 0.0},
                                  {100.0, FE_LOAD_CURRENT, 5.0, 1.0, 1.0, 1.0, 0.0}};
    fe_supply_size size;
    feed.loads = two;
    feed.load_count = 2;
    assert_true(fe_supply_try(&feed, &conductor, &size) >= 0);
    const double first_v = size.points[0].voltage_v;
    const double last_v = size.points[1].voltage_v;
    /* 10 A to the first load, 5 A on. */
    assert_close_relative((230.0 - first_v) / (first_v - last_v), 2.0 * 40.0 / 60.0, 1e-3);
    assert_close(fe_supply_voltage_at(&feed, &size, 0.0), 230.0, 1e-9);
    assert_close(fe_supply_voltage_at(&feed, &size, 20.0), 0.5 * (230.0 + first_v), 1e-9);
    assert_close(fe_supply_voltage_at(&feed, &size, 70.0), 0.5 * (first_v + last_v), 1e-9);
    assert_close(fe_supply_voltage_at(&feed, &size, 120.0), last_v, 1e-9);
    size.delivered = false;
    assert_true(isnan(fe_supply_voltage_at(&feed, &size, 20.0)));
}

/* Two loads on one line: each section carries what lies beyond it. */
static void line__carries_in_each_section_what_lies_beyond(void **state)
{
    (void)state;
    const fe_feed_line line = {.source_v = 230.0,
                               .conductor = {4e-6, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED},
                               .air_c = 20.0,
                               .ampacity_a = 30.0,
                               .ampacity_air_c = 30.0,
                               .conductor_max_c = 70.0};
    fe_feed_load loads[] = {{50.0, FE_LOAD_CURRENT, 4.0, 1.0, FE_ANGLE_OWN},
                            {80.0, FE_LOAD_CURRENT, 2.0, 1.0, FE_ANGLE_OWN}};
    fe_feed_result result;
    fe_feed_point points[2];
    assert_int_equal(fe_feed_line_solve(&line, loads, 2, points, &result), FE_OK);
    assert_close_relative(result.source.drop_v,
                          2.0 * result.r_ohm_per_m * (50.0 * 6.0 + 30.0 * 2.0), 1e-9);
    assert_close_relative(230.0 - points[0].voltage_v, 2.0 * result.r_ohm_per_m * 300.0, 1e-9);
    assert_close_relative(result.conductor_c, 20.0 + 40.0 * (6.0 / 30.0) * (6.0 / 30.0), 1e-9);
    assert_int_equal(fe_feed_line_solve(&line, loads, 0, points, &result), FE_E_DOMAIN);
    assert_int_equal(fe_feed_line_solve(&line, loads, FE_FEED_MAX_LOADS + 1, points, &result),
                     FE_E_DOMAIN);
    loads[1].at_m = 49.0;
    assert_int_equal(fe_feed_line_solve(&line, loads, 2, points, &result), FE_E_DOMAIN);
    loads[0].at_m = 0.0;
    assert_int_equal(fe_feed_line_solve(&line, loads, 1, points, &result), FE_E_DOMAIN);
    loads[0].at_m = 50.0;
    fe_feed_line bad = line;
    bad.x_ohm_per_m = NAN;
    assert_int_equal(fe_feed_line_solve(&bad, loads, 1, points, &result), FE_E_DOMAIN);
    bad = line;
    bad.conductor.area_m2 = 0.0;
    assert_int_equal(fe_feed_line_solve(&bad, loads, 1, points, &result), FE_E_DOMAIN);
    bad = line;
    bad.conductor_max_c = 30.0;
    assert_int_equal(fe_feed_line_solve(&bad, loads, 1, points, &result), FE_E_DOMAIN);
}

/* ---- A cable on posts ---- */

static fe_season season;
static fe_profile ground;
static fe_run_support supports[3];
static double gives_m_n[3];
static fe_run_input run_case;
static fe_route_place places[3];
static fe_posts_kind kind;
static fe_posts_material material;
static double string_n;
static fe_route_input route_case;

static void make_run(void)
{
    static double d_m[] = {0.0, 100.0};
    static double h_m[] = {0.0, 1.0};
    ground = (fe_profile){.count = 2, .distance_m = d_m, .height_m = h_m};
    season = (fe_season){.name = "winter",
                         .snow_depth_m = 0.2,
                         .coldest_c = -15.0,
                         .hottest_c = 20.0,
                         .ice_m = 4e-3,
                         .wind_m_s = 22.0};
    supports[0] = (fe_run_support){0.0, 4.5};
    supports[1] = (fe_run_support){50.0, 4.5};
    supports[2] = (fe_run_support){100.0, 4.5};
    gives_m_n[0] = gives_m_n[2] = 0.0;
    gives_m_n[1] = 1e-4;
    run_case = (fe_run_input){.ground = &ground,
                              .supports = supports,
                              .support_count = 3,
                              .cable = {.diameter_m = 9.5e-3,
                                        .weight_n_m = 0.539,
                                        .stiffness_n = 226e3,
                                        .expansion_1_k = 11.5e-6,
                                        .creep = 1e-4,
                                        .ice_set = 0.05},
                              .stringing_c = 15.0,
                              .sag_share = 0.02,
                              .seasons = &season,
                              .season_count = 1,
                              .gives_m_n = gives_m_n,
                              .post_creep = 1.0};
    material = (fe_posts_material){.section = FE_POST_ROUND,
                                   .width_m = 0.16,
                                   .bending_pa = 24e6,
                                   .elasticity_pa = 11e9,
                                   .lateral_pa_m = 31.42e3,
                                   .top_m = 0.15,
                                   .own_depth_m = (double)NAN};
    assert_int_equal(fe_posts_make(&material, 6.0, 0.0, false, &kind), FE_OK);
    for (int i = 0; i < 3; i++)
        places[i] = (fe_route_place){.at_m = 25.0 * (i + 1)};
    string_n = 150.0;
    route_case = (fe_route_input){.run = run_case,
                                  .start_attachment_m = 4.5,
                                  .end_attachment_m = 4.5,
                                  .places = places,
                                  .place_count = 3,
                                  .span_low_m = 10.0,
                                  .span_high_m = 60.0,
                                  .kinds = &kind,
                                  .kind_count = 1,
                                  .strings_n = &string_n,
                                  .string_count = 1,
                                  .most_sag_share = 0.1,
                                  .wall_free_m = 1.5};
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++)
        route_case.limits.limit_n[k] = 900.0;
}

static fe_status compute_run(void)
{
    fe_run run = {0};
    const fe_status status = fe_run_compute(&run_case, &run);
    if (status >= 0)
        fe_run_free(&run);
    return status;
}

static void run__is_refused_out_of_range(void **state)
{
    (void)state;
    make_run();
    const fe_refusal_member members[] = {
        {"first place", &supports[0].at_m, 'f'},
        {"height", &supports[1].attachment_m, 'f'},
        {"stringing", &run_case.stringing_c, 'f'},
        {"sag", &run_case.sag_share, 's'},
        {"creep", &run_case.cable.creep, 'n'},
        {"ice that stays", &run_case.cable.ice_set, 'n'},
        {"wet snow", &run_case.wet_snow_kg_m, 'n'},
        {"creep of posts", &run_case.post_creep, 'n'},
        {"give", &gives_m_n[1], 'n'},
        {"weight", &run_case.cable.weight_n_m, 'p'},
        {"stiffness", &run_case.cable.stiffness_n, 'P'},
    };
    CHECK(compute_run, members);
    const struct {
        const char *name;
        double *member;
        double value;
    } MORE[] = {
        {"before the profile", &supports[0].at_m, -0.1},
        {"beyond the profile", &supports[2].at_m, 100.1},
        {"supports that do not rise", &supports[1].at_m, 100.0},
        {"a sag too small", &run_case.sag_share, 0.001},
        {"a sag too large", &run_case.sag_share, 0.21},
        {"creep of a tenth", &run_case.cable.creep, 0.1},
        {"more than all ice", &run_case.cable.ice_set, 1.1},
    };
    for (size_t i = 0; i < COUNT(MORE); i++) {
        const double good = *MORE[i].member;
        *MORE[i].member = MORE[i].value;
        if (compute_run() != FE_E_DOMAIN)
            fail_msg("%s was taken", MORE[i].name);
        *MORE[i].member = good;
    }
    run_case.support_count = 1;
    assert_int_equal(compute_run(), FE_E_DOMAIN);
    run_case.support_count = 3;
    run_case.season_count = 0;
    assert_int_equal(compute_run(), FE_E_DOMAIN);
    run_case.season_count = 1;
    /* One pull for all spans stands in for the sag. */
    run_case.sag_share = NAN;
    run_case.stringing_n = 150.0;
    assert_int_equal(compute_run(), FE_OK);
    run_case.stringing_n = INFINITY;
    assert_int_equal(compute_run(), FE_E_DOMAIN);
}

static fe_status search_route(void)
{
    fe_route route = {0};
    const fe_status status = fe_route_search(&route_case, &route);
    if (status >= 0)
        fe_route_free(&route);
    return status;
}

static void route__is_refused_out_of_range(void **state)
{
    (void)state;
    make_run();
    const fe_refusal_member members[] = {
        {"shortest span", &route_case.span_low_m, 'p'},
        {"longest span", &route_case.span_high_m, 'P'},
        {"sag", &route_case.most_sag_share, 'P'},
        {"free of walls", &route_case.wall_free_m, 'P'},
        {"start", &route_case.start_attachment_m, 'f'},
        {"end", &route_case.end_attachment_m, 'f'},
        {"pull", &string_n, 'p'},
        {"place", &places[0].at_m, 'p'},
        {"turn", &places[1].turn_rad, 'f'},
    };
    route_case.wall_free_m = 0.0;
    assert_true(search_route() >= 0);
    CHECK(search_route,
          ((const fe_refusal_member[]){members[0], members[1], members[2], members[4],
                                       members[5], members[6], members[7], members[8]}));
    route_case.wall_free_m = -0.1;
    assert_int_equal(search_route(), FE_E_DOMAIN);
    route_case.wall_free_m = NAN;
    assert_int_equal(search_route(), FE_E_DOMAIN);
    route_case.wall_free_m = 1.5;
    places[1].at_m = 25.0; /* as far as the first */
    assert_int_equal(search_route(), FE_E_DOMAIN);
    make_run();
    places[2].at_m = 100.0; /* on the far wall */
    assert_int_equal(search_route(), FE_E_DOMAIN);
    make_run();
    route_case.span_high_m = 9.0; /* under the shortest */
    assert_int_equal(search_route(), FE_E_DOMAIN);
    make_run();
    size_t *const counts[] = {&route_case.run.season_count, &route_case.string_count,
                              &route_case.kind_count};
    for (size_t i = 0; i < COUNT(counts); i++) {
        *counts[i] = 0;
        assert_int_equal(search_route(), FE_E_DOMAIN);
        *counts[i] = 1;
    }
    route_case.kind_count = FE_ROUTE_MOST_KINDS + 1;
    assert_int_equal(search_route(), FE_E_DOMAIN);
    route_case.kind_count = 1;
    route_case.run.ground = NULL;
    assert_int_equal(search_route(), FE_E_DOMAIN);
    make_run();
    fe_route route = {0};
    fe_route_use worst;
    assert_int_equal(fe_route_closest(&route_case, FE_ROUTE_MOST_POSTS + 1, &route, &worst),
                     FE_E_DOMAIN);
    route_case.kind_count = 0;
    assert_int_equal(fe_route_closest(&route_case, 1, &route, &worst), FE_E_DOMAIN);
}

static fe_status make_post(void)
{
    fe_posts_kind made;
    return fe_posts_make(&material, 6.0, 0.0, false, &made);
}

static void post__is_refused_out_of_range(void **state)
{
    (void)state;
    make_run();
    const fe_refusal_member members[] = {
        {"width", &material.width_m, 'p'},
        {"bending", &material.bending_pa, 'p'},
        {"elasticity", &material.elasticity_pa, 'p'},
        {"soil", &material.lateral_pa_m, 'p'},
        {"top", &material.top_m, 'n'},
        {"thaw", &material.thaw_m, 'n'},
    };
    CHECK(make_post, members);
    double value = 7.0;
    assert_int_equal(fe_posts_depth_needed(&material, 0.0, 100.0, 100.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_posts_depth_needed(&material, 4.0, -1.0, 100.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_posts_depth_needed(&material, 4.0, 100.0, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_posts_length_for(&material, -1.0, &value), FE_E_DOMAIN);
    material.width_m = 0.0;
    assert_int_equal(fe_posts_depth_needed(&material, 4.0, 100.0, 100.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_posts_length_for(&material, 4.0, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
    /* A hole of one's own depth takes that much more of the post. */
    make_run();
    double usual_m = NAN;
    assert_int_equal(fe_posts_length_for(&material, 4.0, &usual_m), FE_OK);
    material.own_depth_m = 1.5;
    assert_int_equal(fe_posts_length_for(&material, 4.0, &value), FE_OK);
    assert_true(value >= 4.0 + 1.5 && value < 4.0 + 1.5 + material.top_m + 0.2);
    assert_true(usual_m > 4.0);
}

static fe_tension_cable elastic;
static fe_tension_state strung, loaded;

static fe_status change_tension(void)
{
    double pull_n = 0.0;
    fe_span_shape shape;
    return fe_tension_change(40.0, 1.0, &elastic, &strung, 300.0, &loaded, &pull_n, &shape);
}

static void change_of_state__is_refused_out_of_range(void **state)
{
    (void)state;
    elastic = (fe_tension_cable){226e3, 11.5e-6};
    strung = (fe_tension_state){.temp_c = 15.0, .vertical_n_m = 0.539};
    loaded = (fe_tension_state){.temp_c = -10.0, .vertical_n_m = 3.0, .wind_n_m = 2.0};
    const fe_refusal_member members[] = {
        {"stiffness", &elastic.stiffness_n, 'P'}, {"expansion", &elastic.expansion_per_k, 'f'},
        {"warmth", &strung.temp_c, 'f'},          {"weight", &strung.vertical_n_m, 'p'},
        {"wind", &strung.wind_n_m, 'n'},          {"give", &strung.compliance_m_n, 'n'},
        {"warmth then", &loaded.temp_c, 'f'},     {"weight then", &loaded.vertical_n_m, 'p'},
        {"wind then", &loaded.wind_n_m, 'n'},     {"give then", &loaded.compliance_m_n, 'n'},
    };
    CHECK(change_tension, members);
}

/* ---- Radio ---- */

static fe_radio radio;
static fe_wanted wanted;
static fe_hop hop;
static fe_relay_site site;
static double mast_m;
static fe_around map;
static float heights[121];

static void make_hop(void)
{
    make_run();
    radio = RELAY;
    wanted = (fe_wanted){
        .rate_bps = {1e6, 2e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};
    const fe_station station = outdoors(&radio, 3.0);
    hop = (fe_hop){
        .ground = &ground, .region = FE_REGION_EU, .f_hz = 2437e6, .ends = {station, station}};
    mast_m = 3.0;
    site = (fe_relay_site){.direct = &hop,
                           .relay = station,
                           .masts_m = &mast_m,
                           .mast_count = 1,
                           .step_m = 25.0,
                           .seasons = &season,
                           .season_count = 1,
                           .wanted = &wanted,
                           .threads = 1};
    map = (fe_around){.hop = &hop,
                      .seasons = &season,
                      .season_count = 1,
                      .wanted = &wanted,
                      .radius_m = 16.0,
                      .threads = 1,
                      .land = {.height_m = heights,
                               .columns = 11,
                               .rows = 11,
                               .east_m = {4.0, 0.0},
                               .north_m = {0.0, -4.0},
                               .column = 5.0,
                               .row = 5.0}};
}

static fe_status compute_hop(void)
{
    fe_hop_budget budget;
    const fe_status status = fe_hop_budget_compute(&hop, &season, 1, &wanted, &budget);
    if (status >= 0)
        fe_hop_budget_free(&budget);
    return status;
}

static void hop__is_refused_out_of_range(void **state)
{
    (void)state;
    make_hop();
    const fe_refusal_member members[] = {
        {"availability", &wanted.availability, 'o'},
        {"confidence", &wanted.confidence, 'o'},
        {"air time", &wanted.airtime, 's'},
        {"height", &hop.ends[1].height_m, 'f'},
        {"frequency", &hop.f_hz, 'p'},
    };
    CHECK(compute_hop, members);
    for (int i = 0; i < 2; i++) {
        wanted.rate_bps[i] = -1.0;
        assert_int_equal(compute_hop(), FE_E_DOMAIN);
        wanted.rate_bps[i] = NAN;
        assert_int_equal(compute_hop(), FE_E_DOMAIN);
        wanted.rate_bps[i] = 1e6;
    }
    fe_hop_budget budget;
    assert_int_equal(fe_hop_budget_compute(&hop, &season, 0, &wanted, &budget), FE_E_DOMAIN);
    ground.count = 1;
    assert_int_equal(compute_hop(), FE_E_DOMAIN);
    hop.ground = NULL;
    assert_int_equal(compute_hop(), FE_E_DOMAIN);
    make_hop();
    hop.ends[0].height_m = -0.1;
    assert_int_equal(compute_hop(), FE_E_DOMAIN);
    make_hop();
    snprintf(radio.standard, sizeof radio.standard, "smoke");
    assert_int_equal(compute_hop(), FE_E_DOMAIN);
    /* One end talks below a gigahertz, the other does not; then both of one that has no such
     * width. */
    make_hop();
    fe_radio low = radio;
    snprintf(low.standard, sizeof low.standard, "s1g");
    hop.ends[1].radio = &low;
    assert_int_equal(compute_hop(), FE_E_NO_SOLUTION);
    make_hop();
    radio.width_hz = 7e6;
    assert_int_equal(compute_hop(), FE_E_NO_SOLUTION);
}

static void delivered_rate__is_refused_out_of_range(void **state)
{
    (void)state;
    make_hop();
    fe_hop_budget budget;
    assert_true(fe_hop_budget_compute(&hop, &season, 1, &wanted, &budget) >= 0);
    fe_hop_season *one = &budget.seasons[0];
    double rate_bps = 7.0, served = 7.0, dearer_bps = NAN;
    assert_int_equal(fe_hop_delivers(&hop, one, &wanted, 2, 0.0, &rate_bps, &served),
                     FE_E_DOMAIN);
    assert_int_equal(fe_hop_delivers(&hop, one, &wanted, -1, 0.0, &rate_bps, &served),
                     FE_E_DOMAIN);
    assert_int_equal(fe_hop_delivers(&hop, one, &wanted, 0, NAN, &rate_bps, &served),
                     FE_E_DOMAIN);
    const double total_db = one->loss.total_db;
    one->loss.total_db = INFINITY;
    assert_int_equal(fe_hop_delivers(&hop, one, &wanted, 0, 0.0, &rate_bps, &served),
                     FE_E_DOMAIN);
    assert_close(rate_bps + served, 14.0, 0.0);
    one->loss.total_db = total_db;
    assert_true(fe_hop_delivers(&hop, one, &wanted, 0, 0.0, &rate_bps, &served) >= 0);
    assert_true(fe_hop_delivers(&hop, one, &wanted, 0, 25.0, &dearer_bps, &served) >= 0);
    assert_true(rate_bps > 2e6 && dearer_bps < rate_bps);
    fe_hop_budget_free(&budget);
}

static fe_status search_relays(void)
{
    static fe_relay_way ways[2];
    size_t count = 0;
    return fe_relay_search(&site, 1, ways, &count, NULL);
}

static void relays__are_refused_out_of_range(void **state)
{
    (void)state;
    make_hop();
    const fe_refusal_member members[] = {{"mast", &mast_m, 'p'}, {"step", &site.step_m, 'P'}};
    CHECK(search_relays, members);
    site.step_m = 1e-4; /* more points than are worth it */
    assert_int_equal(search_relays(), FE_E_DOMAIN);
    site.step_m = 25.0;
    static const fe_relay_spot TWICE[] = {{40.0, 0}, {40.0, 0}};
    site.places = TWICE;
    site.place_count = 2;
    assert_int_equal(search_relays(), FE_E_DOMAIN);
    site.place_count = 0;
    site.mast_count = 0;
    assert_int_equal(search_relays(), FE_E_DOMAIN);
    site.mast_count = 1;
    site.season_count = 0;
    assert_int_equal(search_relays(), FE_E_DOMAIN);
    static fe_relay_way ways[1];
    size_t count = 0;
    make_hop();
    assert_int_equal(fe_relay_search(&site, FE_CHAIN_MOST_RELAYS + 1, ways, &count, NULL),
                     FE_E_DOMAIN);
}

static fe_status compute_map(void)
{
    static float margin_db[121], chance[121];
    fe_around_count count;
    return fe_around_compute(&map, margin_db, chance, &count);
}

static void map__is_refused_out_of_range(void **state)
{
    (void)state;
    make_hop();
    const fe_refusal_member members[] = {
        {"radius", &map.radius_m, 'p'},         {"frequency", &hop.f_hz, 'p'},
        {"height", &hop.ends[0].height_m, 'P'}, {"height there", &hop.ends[1].height_m, 'P'},
        {"east", &map.land.east_m[0], 'f'},
    };
    CHECK(compute_map, members);
    map.land.east_m[0] = 0.0; /* no area */
    assert_int_equal(compute_map(), FE_E_DOMAIN);
    make_hop();
    map.radius_m = FE_AROUND_MOST_M * 1.01;
    assert_int_equal(compute_map(), FE_E_DOMAIN);
    make_hop();
    map.season_count = 0;
    assert_int_equal(compute_map(), FE_E_DOMAIN);
    map.season_count = 1000;
    assert_int_equal(compute_map(), FE_E_DOMAIN);
    make_hop();
    map.land.columns = 1;
    assert_int_equal(compute_map(), FE_E_DOMAIN);
    map.land.columns = 100000000;
    assert_int_equal(compute_map(), FE_E_DOMAIN);
    map.land.columns = 11;
    map.land.rows = 1;
    assert_int_equal(compute_map(), FE_E_DOMAIN);
    map.land.rows = 100000000;
    assert_int_equal(compute_map(), FE_E_DOMAIN);
}

static fe_claim_step step;

static fe_status test_claim(void)
{
    fe_claim_answer answer;
    return fe_claim_test(&step, &answer);
}

static void claim__is_refused_out_of_range(void **state)
{
    (void)state;
    step = (fe_claim_step){.from_hz = 5.2e9,
                           .to_hz = 2.4e9,
                           .factor = 4.0,
                           .height_m = {2.0, 2.0},
                           .region = FE_REGION_EU};
    const fe_refusal_member members[] = {
        {"from", &step.from_hz, 'p'},
        {"to", &step.to_hz, 'p'},
        {"factor", &step.factor, 'p'},
        {"height", &step.height_m[0], 'p'},
        {"height there", &step.height_m[1], 'p'},
        {"trees", &step.trees_m, 'n'},
    };
    CHECK(test_claim, members);
    step.confirm_db = -1.0;
    assert_int_equal(test_claim(), FE_E_DOMAIN);
    step.confirm_db = NAN;
    assert_int_equal(test_claim(), FE_E_DOMAIN);
    step.confirm_db = 0.0;
    step.region = FE_REGIONS;
    assert_int_equal(test_claim(), FE_E_DOMAIN);
    step.region = (fe_region)-1;
    assert_int_equal(test_claim(), FE_E_DOMAIN);
    /* A unit slipped where a thousand times more or less is meant. */
    assert_close_relative(fe_claim_frequency_meant_hz(2.4e6), 2.4e9, 1e-12);
    assert_close_relative(fe_claim_frequency_meant_hz(2.4), 2.4e9, 1e-12);
    assert_close_relative(fe_claim_frequency_meant_hz(5.2e12), 5.2e9, 1e-12);
    assert_close(fe_claim_frequency_meant_hz(2.4e9), 0.0, 0.0);
    assert_close(fe_claim_frequency_meant_hz(-1.0), 0.0, 0.0);
    assert_close(fe_claim_frequency_meant_hz(1e30), 2.4e9, 0.0);
    assert_close_relative(fe_claim_distance_meant_m(0.1), 100.0, 1e-12);
    assert_close_relative(fe_claim_distance_meant_m(120e3), 120.0, 1e-12);
    assert_close(fe_claim_distance_meant_m(120.0), 0.0, 0.0);
    assert_close(fe_claim_distance_meant_m(NAN), 0.0, 0.0);
    fe_claim_factor factor = {7.0, FE_CLAIM_TIMES};
    static const char *const NONE[] = {"",
                                       "x",
                                       "-4",
                                       "+",
                                       "-100%",
                                       "-150%",
                                       "100% less",
                                       "0x",
                                       "4 y",
                                       "+4",
                                       "1.2.3x",
                                       "0%",
                                       "four times and then some more of it",
                                       "1e9999"};
    for (size_t i = 0; i < COUNT(NONE); i++)
        if (fe_claim_factor_parse(NONE[i], &factor) != FE_E_INPUT)
            fail_msg("'%s' was taken for %g", NONE[i], factor.factor);
    assert_close(factor.factor, 7.0, 0.0);
    static const struct {
        const char *text;
        double factor;
        fe_claim_reading reading;
    } SOME[] = {{"-25 %", 0.75, FE_CLAIM_PERCENT_MORE},
                {"25% less", 0.75, FE_CLAIM_PERCENT_MORE},
                {"+300%", 4.0, FE_CLAIM_PERCENT_MORE},
                {"300 percent", 3.0, FE_CLAIM_PERCENT_OF},
                {"4-fold", 4.0, FE_CLAIM_TIMES}};
    for (size_t i = 0; i < COUNT(SOME); i++) {
        assert_int_equal(fe_claim_factor_parse(SOME[i].text, &factor), FE_OK);
        assert_close(factor.factor, SOME[i].factor, 1e-12);
        assert_int_equal(factor.reading, SOME[i].reading);
    }
}

static fe_power_query query;

static fe_status ask_power(void)
{
    fe_power_limit limit;
    return fe_power_limit_at(&query, &limit);
}

static void power_rule__is_refused_out_of_range(void **state)
{
    (void)state;
    query = (fe_power_query){.area = "EU", .f_hz = 2437e6, .width_hz = 20e6};
    const fe_refusal_member members[] = {{"frequency", &query.f_hz, 'p'},
                                         {"gain", &query.antenna_gain_dbi, 'f'},
                                         {"feeder", &query.feeder_loss_db, 'n'}};
    CHECK(ask_power, members);
    static const double WIDTHS_HZ[] = {0.0, -1.0, INFINITY};
    for (size_t i = 0; i < COUNT(WIDTHS_HZ); i++) {
        query.width_hz = WIDTHS_HZ[i];
        assert_int_equal(ask_power(), FE_E_DOMAIN);
    }
    query.width_hz = NAN; /* the whole band */
    assert_true(ask_power() >= 0);
    query.area = "the moon";
    assert_int_equal(ask_power(), FE_E_DOMAIN);
    fe_power_limit limit;
    fe_power_band band;
    assert_int_equal(fe_power_limit_at(NULL, &limit), FE_E_DOMAIN);
    assert_int_equal(fe_power_nearest_band("the moon", 2e9, true, &band), FE_E_DOMAIN);
    assert_int_equal(fe_power_nearest_band("EU", 0.0, true, &band), FE_E_DOMAIN);
    assert_int_equal(fe_power_nearest_band("EU", INFINITY, true, &band), FE_E_DOMAIN);
}

static void placing__is_refused_out_of_range(void **state)
{
    (void)state;
    double margin_db[] = {10.0, 5.0, 9.0};
    double seconds[] = {1.0, 2.0, 1.0};
    unsigned char curve[] = {0, 0, 0};
    static fe_placing_curve certain; /* of a build loss that is known */
    fe_placing placing = {.n = 3,
                          .margin_db = margin_db,
                          .curve = curve,
                          .curves = &certain,
                          .curve_count = 1,
                          .cost = 0.1,
                          .seconds = seconds};
    fe_placing_best best;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_OK);
    assert_int_equal(best.place[0], 1);
    assert_close(best.margin_db, 9.0, 1e-12);
    placing.n = 1;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
    placing.n = 3;
    assert_int_equal(fe_placing_find(&placing, FE_CHAIN_MOST_RELAYS + 1, &best), FE_E_DOMAIN);
    double *const shifts[] = {&placing.first_db, &placing.between_db, &placing.last_db,
                              &placing.direct_db};
    for (size_t i = 0; i < COUNT(shifts); i++) {
        *shifts[i] = NAN;
        assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
        *shifts[i] = 0.0;
    }
    margin_db[2] = NAN;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
    margin_db[2] = 9.0;
    curve[1] = 1;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
    curve[1] = 0;
    placing.curves = NULL;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
    placing.curves = &certain;
    placing.cost = NAN;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
    placing.cost = 0.1;
    seconds[0] = NAN;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
    placing.margin_db = NULL;
    assert_int_equal(fe_placing_find(&placing, 1, &best), FE_E_DOMAIN);
}

/* ---- Limits ---- */

static void limits__are_refused_out_of_range(void **state)
{
    (void)state;
    const fe_cable_class plain = {.diameter_m = 6e-3,
                                  .weight_n_m = 0.35,
                                  .pulling_limit_n = 110.0,
                                  .area_m2 = NAN,
                                  .modulus_pa = NAN,
                                  .breaking_n = NAN,
                                  .everyday_limit_n = NAN,
                                  .expansion_1_k = NAN};
    fe_cable_class bad = plain;
    fe_hung_cable cable = {.everyday_n = 7.0};
    bad.diameter_m = 0.0;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_E_DOMAIN);
    bad = plain;
    bad.weight_n_m = NAN;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_E_DOMAIN);
    /* Carries itself, but by what section of what material is not said. */
    bad = plain;
    bad.self_supporting = true;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_E_DOMAIN);
    bad.area_m2 = 1e-6;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_E_DOMAIN);
    bad.modulus_pa = 170e9;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_E_DOMAIN);
    assert_close(cable.everyday_n, 7.0, 0.0);
    bad.breaking_n = 1500.0;
    assert_int_equal(fe_limits_cable(&bad, NULL, &cable), FE_OK);
    assert_close_relative(cable.run.stiffness_n, 170e3, 1e-12);
    fe_pull_limits limits;
    assert_int_equal(fe_limits_pull(&cable, &limits), FE_OK);
    assert_false(limits.needs_messenger);
    cable.breaking_n = 0.0;
    assert_int_equal(fe_limits_pull(&cable, &limits), FE_E_DOMAIN);
    cable.breaking_n = INFINITY;
    assert_int_equal(fe_limits_pull(&cable, &limits), FE_E_DOMAIN);
    /* Does not carry itself: never more than it may be pulled with, else the usual 110 N. */
    assert_int_equal(fe_limits_cable(&plain, NULL, &cable), FE_OK);
    cable.pulling_n = 80.0;
    assert_int_equal(fe_limits_pull(&cable, &limits), FE_OK);
    assert_true(limits.needs_messenger);
    assert_close(limits.limit_n[FE_RUN_EVERYDAY], 80.0, 1e-12);
    assert_close(limits.limit_n[FE_RUN_ICE_WIND], 80.0, 1e-12);
    cable.pulling_n = NAN;
    assert_int_equal(fe_limits_pull(&cable, &limits), FE_OK);
    assert_close(limits.limit_n[FE_RUN_COLD], 110.0, 1.0);

    const fe_run_case cold = {.kind = FE_RUN_COLD, .temp_c = -20.0, .vertical_n_m = 0.35};
    double span_m = 7.0;
    assert_int_equal(fe_limits_longest_span(&cable, &limits, &cold, 0, 15.0, 0.02, &span_m),
                     FE_E_DOMAIN);
    assert_int_equal(fe_limits_longest_span(&cable, &limits, &cold, 1, NAN, 0.02, &span_m),
                     FE_E_DOMAIN);
    assert_int_equal(fe_limits_longest_span(&cable, &limits, &cold, 1, 15.0, 0.001, &span_m),
                     FE_E_DOMAIN);
    assert_int_equal(fe_limits_longest_span(&cable, &limits, &cold, 1, 15.0, 0.21, &span_m),
                     FE_E_DOMAIN);
    assert_close(span_m, 7.0, 0.0);
    fe_clearance_need need;
    assert_int_equal(fe_limits_clearance(FE_SAFETY_EN, NULL, false, FE_BELOW_LAST, NAN, &need),
                     FE_E_DOMAIN);
    assert_int_equal(
        fe_limits_clearance(FE_SAFETY_EN, NULL, false, (fe_thing_below)-1, NAN, &need),
        FE_E_DOMAIN);
    double pole_m = 7.0, apart_m = 7.0;
    assert_int_equal(fe_limits_shared_distance(NAN, 0.4, 4.0, 0.5, &pole_m, &apart_m),
                     FE_E_DOMAIN);
    assert_int_equal(fe_limits_shared_distance(5.5, NAN, 4.0, 0.5, &pole_m, &apart_m),
                     FE_E_DOMAIN);
    assert_int_equal(fe_limits_shared_distance(5.5, 0.4, NAN, 0.5, &pole_m, &apart_m),
                     FE_E_DOMAIN);
    assert_int_equal(fe_limits_shared_distance(5.5, 0.4, 4.0, NAN, &pole_m, &apart_m),
                     FE_E_DOMAIN);
    assert_close(pole_m + apart_m, 14.0, 0.0);
    assert_int_equal(fe_limits_shared_distance(5.5, 0.4, 4.0, 0.5, &pole_m, &apart_m), FE_OK);
    assert_close(pole_m, 1.5, 1e-12);
    assert_close(apart_m, 1.6, 1e-12);
}

/* ---- Tables ---- */

/* Each table ends where it says, and every row is found again by what names it. */
static void tables__end_where_they_say(void **state)
{
    (void)state;
    for (size_t i = 0; i < fe_wood_count(); i++)
        assert_non_null(fe_wood_find(fe_wood_at(i)->name, fe_wood_at(i)->property, 0));
    for (size_t i = 0; i < fe_strand_count(); i++)
        assert_ptr_equal(fe_strand_find(fe_strand_at(i)->size_in, fe_strand_at(i)->wires),
                         fe_strand_at(i));
    for (size_t i = 0; i < fe_cable_material_count(); i++)
        assert_ptr_equal(fe_cable_material_find(fe_cable_material_at(i)->name),
                         fe_cable_material_at(i));
    for (size_t i = 0; i < fe_soil_count(); i++) {
        assert_ptr_equal(fe_soil_find(fe_soil_at(i)->name), fe_soil_at(i));
        assert_ptr_equal(fe_soil_find(fe_soil_at(i)->keyword), fe_soil_at(i));
    }
    for (size_t i = 0; i < fe_frost_fact_count(); i++)
        assert_non_null(fe_frost_fact_find(fe_frost_fact_at(i)->place));
    for (size_t i = 0; i < fe_aerial_cable_count(); i++)
        assert_non_null(
            fe_aerial_cable_find(fe_aerial_cable_at(i)->name, fe_aerial_cable_at(i)->size));
    assert_null(fe_wood_at(fe_wood_count()));
    assert_null(fe_wood_find("balsa", "strength", 0));
    assert_null(fe_strand_at(fe_strand_count()));
    assert_null(fe_strand_find("1/4", 99));
    assert_null(fe_cable_material_at(fe_cable_material_count()));
    assert_null(fe_cable_material_find("rope"));
    assert_null(fe_soil_at(fe_soil_count()));
    assert_null(fe_soil_find("cheese"));
    assert_null(fe_frost_fact_at(fe_frost_fact_count()));
    assert_null(fe_frost_fact_find("nowhere"));
    assert_null(fe_aerial_cable_at(fe_aerial_cable_count()));
    assert_null(fe_aerial_cable_find("rope", "thick"));
    assert_null(fe_clearance_at(fe_clearance_count()));
    assert_null(fe_clearance_find("none", "none", "none", "none"));
    assert_null(fe_ice_type_at(fe_ice_type_count()));
    assert_null(fe_ice_district_at(fe_ice_district_count()));
    assert_null(fe_burial_depth_at(10000));
    assert_null(fe_ethernet_reach_find("1000BASE-X", "string"));
    assert_null(fe_fibre_reach_find("1000BASE-X", "string"));
    fe_fibre fibre = FE_FIBRE_OS2;
    assert_false(fe_fibre_named("OS9", &fibre));
    assert_int_equal(fibre, FE_FIBRE_OS2);
    double value = 7.0;
    assert_int_equal(fe_wood_pole_stress("balsa", &value), FE_E_DOMAIN);
    assert_int_equal(fe_wood_class("C99", &value, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OS2, 1259e-9, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fibre_attenuation(FE_FIBRE_OS2, 1626e-9, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
}

static void names__of_nothing_are_told_apart(void **state)
{
    (void)state;
    const fe_wifi_standard no_standard = FE_WIFI_STANDARD_COUNT;
    const fe_wifi_band no_band = FE_WIFI_BAND_COUNT;
    double low_hz = 7.0, high_hz = 7.0, widths_hz[FE_WIFI_WIDTHS_MAX];
    int mcs = 7;
    assert_string_equal(fe_wifi_standard_name(no_standard), "");
    assert_string_equal(fe_wifi_standard_name((fe_wifi_standard)-1), "");
    assert_string_equal(fe_wifi_band_name(no_band), "");
    assert_string_equal(fe_wifi_band_name((fe_wifi_band)-1), "");
    fe_wifi_band_edges(no_band, &low_hz, &high_hz);
    assert_true(isnan(low_hz) && isnan(high_hz));
    assert_false(fe_wifi_standard_in_band(no_standard, FE_WIFI_BAND_5G));
    assert_false(fe_wifi_standard_in_band(FE_WIFI_HE, no_band));
    assert_false(fe_wifi_standard_in_band(FE_WIFI_DSSS, FE_WIFI_BAND_5G));
    assert_int_equal(fe_wifi_widths(FE_WIFI_DSSS, FE_WIFI_BAND_5G, widths_hz), 0);
    assert_int_equal(fe_wifi_streams_max(no_standard), 0);
    assert_int_equal(fe_wifi_streams_max(FE_WIFI_HT), 4);
    assert_false(fe_wifi_mcs_find(FE_WIFI_HT, NULL, &mcs));
    assert_false(fe_wifi_mcs_find(no_standard, "0", &mcs));
    fe_wifi_mode modes[FE_WIFI_MODES_MAX];
    size_t count = 7;
    assert_int_equal(fe_wifi_modes(NULL, modes, &count), FE_E_DOMAIN);
    const fe_wifi_link odd = {no_standard, 20e6, 1, NAN};
    assert_int_equal(fe_wifi_modes(&odd, modes, &count), FE_E_DOMAIN);
    assert_int_equal(count, 7);
    assert_int_equal(mcs, 7);
    assert_string_equal(fe_band_name(FE_BANDS), "no band");
    assert_close(fe_surface_roughness_m((fe_surface)99), 0.0, 0.0);
    /* A band by its name or by any frequency in it. */
    static const struct {
        const char *text;
        fe_band band;
    } BANDS[] = {{"868 MHz", FE_BAND_SUB_GHZ},  {"2437 MHz", FE_BAND_2_4_GHZ},
                 {"5.5GHz", FE_BAND_5_GHZ},     {"6.5 GHz", FE_BAND_6_GHZ},
                 {"60480 MHz", FE_BAND_60_GHZ}, {"2.4 GHz", FE_BAND_2_4_GHZ}};
    fe_band band = FE_BANDS;
    for (size_t i = 0; i < COUNT(BANDS); i++) {
        assert_int_equal(fe_band_from_text(BANDS[i].text, &band), FE_OK);
        assert_int_equal(band, BANDS[i].band);
    }
    assert_int_equal(fe_band_from_text("blue", &band), FE_E_INPUT);
    assert_int_equal(fe_band_from_text("27 MHz", &band), FE_E_INPUT);
    assert_int_equal(band, FE_BAND_2_4_GHZ);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(feed__is_refused_out_of_range),
        cmocka_unit_test(voltage__is_read_along_the_feed),
        cmocka_unit_test(line__carries_in_each_section_what_lies_beyond),
        cmocka_unit_test(run__is_refused_out_of_range),
        cmocka_unit_test(route__is_refused_out_of_range),
        cmocka_unit_test(post__is_refused_out_of_range),
        cmocka_unit_test(change_of_state__is_refused_out_of_range),
        cmocka_unit_test(hop__is_refused_out_of_range),
        cmocka_unit_test(delivered_rate__is_refused_out_of_range),
        cmocka_unit_test(relays__are_refused_out_of_range),
        cmocka_unit_test(map__is_refused_out_of_range),
        cmocka_unit_test(claim__is_refused_out_of_range),
        cmocka_unit_test(power_rule__is_refused_out_of_range),
        cmocka_unit_test(placing__is_refused_out_of_range),
        cmocka_unit_test(limits__are_refused_out_of_range),
        cmocka_unit_test(tables__end_where_they_say),
        cmocka_unit_test(names__of_nothing_are_told_apart),
    };
    return FE_RUN_TESTS(tests);
}
