/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/relay_site.h"

#include <math.h>
#include <stdio.h>

#include "link.h"
#include "testing.h"

static const fe_season SEASONS[] = {
    {.name = "dry summer",
     .surface = FE_SURFACE_DRY_SOIL,
     .in_leaf = true,
     .coldest_c = 5.0,
     .hottest_c = 30.0},
    {.name = "deep winter",
     .surface = FE_SURFACE_DRY_SNOW,
     .snow_depth_m = 0.6,
     .trees = FE_TREES_FROZEN,
     .coldest_c = -20.0},
};
static const fe_wanted WANTED = {
    .rate_bps = {0.0, 2e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};
static const double MASTS_M[] = {3.0, 1.5};

static fe_relay_site site_of(const fe_hop *direct)
{
    return (fe_relay_site){.direct = direct,
                           .relay = outdoors(&RELAY, 0.0),
                           .masts_m = MASTS_M,
                           .mast_count = 1,
                           .step_m = 5.0,
                           .seasons = SEASONS,
                           .season_count = 2,
                           .wanted = &WANTED,
                           .threads = 2};
}

static fe_hop hop_over(const fe_profile *ground)
{
    return (fe_hop){.ground = ground,
                    .region = FE_REGION_EU,
                    .f_hz = 2437e6,
                    .ends = {outdoors(&RELAY, 3.0), outdoors(&RELAY, 3.0)}};
}

/* -- What the full computation says of a way -- */

/* The chance of a way whose receivers all hear so much worse. */
static double chance_after(const fe_relay_site *site, const fe_relay_way *way, double loss_db)
{
    fe_radio worse = RELAY;
    fe_hop direct = *site->direct;
    fe_chain_place places[FE_CHAIN_MOST_RELAYS];
    fe_chain chain;
    worse.receiver_bonus_db -= loss_db;
    direct.ends[0].radio = direct.ends[1].radio = &worse;
    for (unsigned i = 0; i < way->chain.relays; i++) {
        places[i] = way->places[i];
        places[i].station.radio = &worse;
    }
    assert_true(fe_chain_at(&direct, places, way->chain.relays, site->sharing, site->seasons,
                            site->season_count, site->wanted, &chain) >= 0);
    return chain.chance;
}

/* The most that it can lose and still be as likely as is wanted. */
static double full_margin(const fe_relay_site *site, const fe_relay_way *way)
{
    double low_db = -80.0, high_db = 80.0;
    for (int i = 0; i < 16; i++) {
        const double middle_db = (low_db + high_db) / 2.0;
        if (chance_after(site, way, middle_db) >= site->wanted->confidence)
            low_db = middle_db;
        else
            high_db = middle_db;
    }
    return low_db;
}

/* Even ground and equal stations: nothing beats equal hops. */
static void even_ground__wants_equal_hops(void **state)
{
    (void)state;
    fe_profile ground;
    assert_int_equal(fe_profile_even(600.0, 0.0, 5.0, &ground), FE_OK);
    const fe_hop hop = hop_over(&ground);
    const fe_relay_site site = site_of(&hop);
    fe_relay_way ways[4];
    size_t count = 0;
    assert_true(fe_relay_search(&site, 3, ways, &count, NULL) >= 0);
    assert_true(count >= 2);
    for (unsigned n = 0; n < count; n++) {
        fe_relay_way equal = {.chain = {.relays = n}};
        for (unsigned k = 0; k < n; k++)
            equal.places[k] =
                (fe_chain_place){600.0 * (k + 1) / (n + 1), outdoors(&RELAY, 3.0)};
        assert_true(full_margin(&site, &ways[n]) >= full_margin(&site, &equal) - 0.1);
        /* The table told what the full computation says. */
        assert_close(ways[n].searched_db, full_margin(&site, &ways[n]), 0.5);
    }
    fe_profile_free(&ground);
}

static void search__ends_one_relay_beyond_what_is_needed(void **state)
{
    (void)state;
    enum { MOST = 5 };
    fe_profile ground;
    assert_int_equal(fe_profile_even(150.0, 0.0, 20.0, &ground), FE_OK);
    const fe_hop hop = hop_over(&ground);
    fe_relay_site site = site_of(&hop);
    site.step_m = 20.0;
    fe_relay_way ways[MOST + 1];
    size_t count = 0;
    assert_true(fe_relay_search(&site, MOST, ways, &count, NULL) >= 0);
    /* Some relays are needed, but not as many as are allowed. */
    assert_true(count >= 3 && count <= MOST);
    for (size_t n = 0; n + 2 < count; n++)
        assert_true(ways[n].chain.chance < WANTED.confidence);
    assert_true(ways[count - 2].chain.chance >= WANTED.confidence);
    fe_profile_free(&ground);
}

/* Beyond the break-point, which is at 290 m. */
static void distance__counts_in_the_table_as_in_full(void **state)
{
    (void)state;
    for (double length_m = 300.0; length_m < 1600.0; length_m += 100.0) {
        fe_profile ground;
        assert_int_equal(fe_profile_even(length_m, 0.0, 50.0, &ground), FE_OK);
        const fe_hop hop = hop_over(&ground);
        fe_relay_site site = site_of(&hop);
        site.step_m = 50.0;
        site.season_count = 1;
        fe_relay_way way;
        size_t count = 0;
        assert_true(fe_relay_search(&site, 0, &way, &count, NULL) >= 0);
        assert_close(way.searched_db, full_margin(&site, &way), 0.01);
        fe_profile_free(&ground);
    }
}

/* Only the long first hop can fail: both after it hold from any place, so the fastest way wins,
 * and the longer of those two is shortest half-way. */
static void equal_chances__leave_the_choice_to_the_rate(void **state)
{
    (void)state;
    enum { FIRST_M = 200, LAST_M = 240, COUNT = 9 };
    fe_relay_spot places[COUNT] = {{FIRST_M, 0}};
    for (size_t k = 1; k < COUNT; k++)
        places[k].at_m = FIRST_M + 4.0 + 4.0 * (double)k;
    fe_profile ground;
    assert_int_equal(fe_profile_even(LAST_M, 0.0, 5.0, &ground), FE_OK);
    const fe_hop hop = hop_over(&ground);
    fe_relay_site site = site_of(&hop);
    site.places = places;
    site.place_count = COUNT;
    fe_relay_way ways[3];
    size_t count = 0;
    assert_true(fe_relay_search(&site, 2, ways, &count, NULL) >= 0);
    assert_int_equal(count, 3);
    fe_relay_way way = ways[2];
    assert_close(way.places[0].at_m, FIRST_M, 1e-9);
    assert_close(way.places[1].at_m, (FIRST_M + LAST_M) / 2.0, 1e-9);
    for (size_t k = 1; k < COUNT; k++) {
        fe_chain chain;
        way.places[1].at_m = places[k].at_m;
        assert_true(
            fe_chain_at(&hop, way.places, 2, site.sharing, SEASONS, 2, &WANTED, &chain) >= 0);
        assert_true(chain.delivered_rate_bps <= ways[2].chain.delivered_rate_bps);
    }
    fe_profile_free(&ground);
}

/* Far beyond all reach the table rules out what more relays bring: it answers for all of them,
 * and only none and one are worked out. */
static void hopeless_length__ends_the_search_at_one_relay(void **state)
{
    (void)state;
    static const fe_relay_spot PLACES[] = {{10e3, 0}, {20e3, 0}, {30e3, 0}};
    fe_profile ground;
    assert_int_equal(fe_profile_even(40e3, 0.0, 1000.0, &ground), FE_OK);
    const fe_hop hop = hop_over(&ground);
    fe_relay_site site = site_of(&hop);
    site.step_m = 1000.0;
    site.places = PLACES;
    site.place_count = 3;
    fe_relay_way ways[4];
    size_t count = 0;
    unsigned looked_at = 0;
    assert_true(fe_relay_search(&site, 3, ways, &count, &looked_at) >= 0);
    assert_int_equal(looked_at, 3);
    assert_int_equal(count, 2);
    assert_true(ways[1].chain.carries_rate && ways[1].searched_db < -20.0);
    fe_profile_free(&ground);
}

/* A ridge in the middle that no equal division uses: the relay belongs on top. */
static void relay__goes_up_the_ridge(void **state)
{
    (void)state;
    double d_m[] = {0.0, 180.0, 200.0, 220.0, 500.0};
    double h_m[] = {0.0, 0.0, 9.0, 0.0, 0.0};
    const fe_profile ground = {.count = 5, .distance_m = d_m, .height_m = h_m};
    const fe_hop hop = hop_over(&ground);
    const fe_relay_site site = site_of(&hop);
    fe_relay_way ways[2];
    size_t count = 0;
    assert_true(fe_relay_search(&site, 1, ways, &count, NULL) >= 0);
    assert_int_equal(count, 2);
    assert_true(ways[1].places[0].at_m > 190.0 && ways[1].places[0].at_m < 215.0);
    assert_true(ways[1].chain.margin_db > ways[0].chain.margin_db + 6.0);
}

static void masts_and_places__are_those_listed(void **state)
{
    (void)state;
    static const fe_relay_spot PLACES[] = {{120.0, 0}, {333.0, 0}, {410.0, 0}};
    fe_profile ground;
    assert_int_equal(fe_profile_even(600.0, 0.0, 50.0, &ground), FE_OK);
    const fe_hop hop = hop_over(&ground);
    fe_relay_site site = site_of(&hop);
    site.mast_count = 2;
    site.places = PLACES;
    site.place_count = 3;
    fe_relay_way ways[6];
    size_t count = 0;
    assert_true(fe_relay_search(&site, 5, ways, &count, NULL) >= 0);
    assert_true(count >= 2 && count <= 4); /* no more relays than places */
    assert_close(ways[1].places[0].at_m, 333.0, 1e-9);
    assert_close(ways[1].places[0].station.height_m, 3.0, 1e-9); /* the higher is better */
    fe_profile_free(&ground);
}

static void trees__count_in_the_table_as_in_full(void **state)
{
    (void)state;
    static const fe_relay_spot IN_THE_WOOD = {250.0, 0};
    static const struct {
        fe_stand wood;
        double far_m;  /* height of the far antenna */
        double step_m; /* crowns are as wide as the grid's steps tell */
        unsigned most;
        double within_db; /* a relay close to the wood sees its edge, known to a step */
        const fe_relay_spot *place;
        double rise_m; /* of the ground from end to end */
    } CASES[] = {
        {{200.0, 230.0, 12.0, FE_TREES_DECIDUOUS}, 3.0, 1.0, 2, 2.5, NULL, 0.0},
        /* The line leaves the crowns at 222 m, between two points of the grid. */
        {{208.0, 242.0, 7.0, FE_TREES_DECIDUOUS}, 12.0, 8.0, 0, 2.5, NULL, 0.0},
        {{208.0, 242.0, 7.0, FE_TREES_DECIDUOUS}, 12.0, 8.0, 0, 2.5, NULL, 150.0},
        /* A relay in the wood: the hop from it has more of the trees than that to it. */
        {{249.0, 280.0, 12.0, FE_TREES_DECIDUOUS}, 3.0, 1.0, 1, 0.3, &IN_THE_WOOD, 0.0},
    };
    for (size_t c = 0; c < sizeof CASES / sizeof CASES[0]; c++) {
        fe_profile ground;
        assert_int_equal(fe_profile_even(500.0, CASES[c].rise_m, 250.0, &ground), FE_OK);
        fe_hop hop = hop_over(&ground);
        hop.stands = &CASES[c].wood;
        hop.stand_count = 1;
        hop.ends[1].height_m = CASES[c].far_m;
        fe_relay_site site = site_of(&hop);
        site.step_m = CASES[c].step_m;
        site.places = CASES[c].place;
        site.place_count = CASES[c].place != NULL;
        fe_relay_way ways[3];
        size_t count = 0;
        assert_true(fe_relay_search(&site, CASES[c].most, ways, &count, NULL) >= 0);
        for (size_t n = 0; n < count; n++) {
            const double full_db = full_margin(&site, &ways[n]);
            printf("%zu relays: table %.2f dB, full %.2f dB\n", n, ways[n].searched_db,
                   full_db);
            assert_close(ways[n].searched_db, full_db, CASES[c].within_db);
        }
        fe_profile_free(&ground);
    }
}

/*
 * A barn that only the profile has, close behind the place that even ground would choose: there
 * an edge costs some 7 dB more than half-way along the hop from the other place.
 */
static void roofs__of_the_profile_move_the_relay(void **state)
{
    (void)state;
    enum { COUNT = 121 };
    fe_profile ground;
    assert_int_equal(fe_profile_new(COUNT, false, true, &ground), FE_OK);
    for (size_t i = 0; i < COUNT; i++)
        ground.distance_m[i] = 5.0 * (double)i;
    static const fe_relay_spot PLACES[] = {{200.0, 0}, {420.0, 0}};
    const fe_hop hop = hop_over(&ground);
    fe_relay_site site = site_of(&hop);
    site.places = PLACES;
    site.place_count = 2;
    fe_relay_way blind[2];
    fe_relay_way ways[2];
    size_t count = 0;
    assert_true(fe_relay_search(&site, 1, blind, &count, NULL) >= 0);
    assert_int_equal(count, 2);
    assert_close(blind[1].places[0].at_m, 200.0, 1e-9);
    for (size_t i = 43; i <= 47; i++) /* 215 to 235 m */
        ground.clutter_m[i] = 9.0;
    assert_true(fe_relay_search(&site, 1, ways, &count, NULL) >= 0);
    assert_int_equal(count, 2);
    fe_chain there;
    assert_true(
        fe_chain_at(&hop, blind[1].places, 1, site.sharing, SEASONS, 2, &WANTED, &there) >= 0);
    assert_close(ways[1].places[0].at_m, 420.0, 1e-9);
    assert_true(ways[1].chain.margin_db > there.margin_db + 3.0);
    fe_profile_free(&ground);
}

/* Two of the three stand on the same ground and share their way around it. */
static void seasons__count_as_if_each_were_alone(void **state)
{
    (void)state;
    static const fe_season THREE[] = {
        {.surface = FE_SURFACE_DRY_SOIL, .in_leaf = true, .coldest_c = 5.0, .hottest_c = 30.0},
        {.surface = FE_SURFACE_DRY_SNOW, .snow_depth_m = 0.6, .trees = FE_TREES_FROZEN},
        {.surface = FE_SURFACE_WET_SOIL,
         .in_leaf = true,
         .trees = FE_TREES_WET,
         .cover = FE_COVER_WATER_FILM,
         .rain_mm_h = 20.0,
         .coldest_c = 5.0,
         .hottest_c = 25.0},
    };
    static const fe_stand WOOD = {300.0, 310.0, 4.0, FE_TREES_DECIDUOUS};
    fe_profile ground;
    assert_int_equal(fe_profile_even(600.0, 0.0, 5.0, &ground), FE_OK);
    fe_hop hop = hop_over(&ground);
    hop.stands = &WOOD;
    hop.stand_count = 1;
    fe_relay_site site = site_of(&hop);
    fe_relay_way ways[1];
    size_t count = 0;
    double alone_db[3];
    site.season_count = 1;
    for (size_t i = 0; i < 3; i++) {
        site.seasons = &THREE[i];
        assert_true(fe_relay_search(&site, 0, ways, &count, NULL) >= 0);
        alone_db[i] = ways[0].searched_db;
    }
    printf("alone %.2f, %.2f, %.2f dB\n", alone_db[0], alone_db[1], alone_db[2]);
    assert_true(fabs(alone_db[0] - alone_db[1]) > 0.1 && fabs(alone_db[0] - alone_db[2]) > 0.1);
    for (size_t n = 1; n <= 3; n++) {
        site.seasons = THREE;
        site.season_count = n;
        double worst_db = INFINITY;
        for (size_t i = 0; i < n; i++)
            worst_db = fmin(worst_db, alone_db[i]);
        assert_true(fe_relay_search(&site, 0, ways, &count, NULL) >= 0);
        assert_close(ways[0].searched_db, worst_db, 1e-9);
    }
    fe_profile_free(&ground);
}

static void threads__change_nothing(void **state)
{
    (void)state;
    fe_profile ground;
    assert_int_equal(fe_profile_even(600.0, 0.0, 5.0, &ground), FE_OK);
    for (size_t i = 0; i < ground.count; i++)
        ground.height_m[i] = 4.0 * sin(ground.distance_m[i] / 70.0);
    const fe_hop hop = hop_over(&ground);
    fe_relay_site site = site_of(&hop);
    fe_relay_way one[4], several[4];
    size_t count = 0, same = 0;
    site.threads = 1;
    assert_true(fe_relay_search(&site, 3, one, &count, NULL) >= 0);
    for (site.threads = 2; site.threads < 8; site.threads += 3) {
        assert_true(fe_relay_search(&site, 3, several, &same, NULL) >= 0);
        assert_int_equal(same, count);
        for (size_t n = 0; n < count; n++) {
            assert_close(several[n].searched_db, one[n].searched_db, 0.0);
            for (size_t k = 0; k < n; k++)
                assert_close(several[n].places[k].at_m, one[n].places[k].at_m, 0.0);
        }
    }
    fe_profile_free(&ground);
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    fe_profile ground;
    assert_int_equal(fe_profile_even(100.0, 0.0, 5.0, &ground), FE_OK);
    const fe_hop hop = hop_over(&ground);
    fe_relay_way ways[2];
    size_t count = 0;
    fe_relay_site site = site_of(&hop);
    site.step_m = 0.0;
    assert_int_equal(fe_relay_search(&site, 1, ways, &count, NULL), FE_E_DOMAIN);
    site = site_of(&hop);
    site.mast_count = 0;
    assert_int_equal(fe_relay_search(&site, 1, ways, &count, NULL), FE_E_DOMAIN);
    site = site_of(&hop);
    site.step_m = 0.001;
    assert_int_equal(fe_relay_search(&site, 1, ways, &count, NULL), FE_E_DOMAIN);
    fe_profile_free(&ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(even_ground__wants_equal_hops),
        cmocka_unit_test(search__ends_one_relay_beyond_what_is_needed),
        cmocka_unit_test(distance__counts_in_the_table_as_in_full),
        cmocka_unit_test(equal_chances__leave_the_choice_to_the_rate),
        cmocka_unit_test(hopeless_length__ends_the_search_at_one_relay),
        cmocka_unit_test(relay__goes_up_the_ridge),
        cmocka_unit_test(masts_and_places__are_those_listed),
        cmocka_unit_test(trees__count_in_the_table_as_in_full),
        cmocka_unit_test(roofs__of_the_profile_move_the_relay),
        cmocka_unit_test(seasons__count_as_if_each_were_alone),
        cmocka_unit_test(threads__change_nothing),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
