/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/acceptance.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/foliage.h"
#include "farend/knife_edge.h"
#include "farend/strbuf.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

/* ---- links ---- */

static const fe_radio PANEL = {.band = FE_BAND_5_GHZ,
                               .standard = "he",
                               .width_hz = 40e6,
                               .streams = 2,
                               .power_dbm = 20.0,
                               .falloff_db = 5.0,
                               .gain_dbi = 15.0,
                               .beam_rad = 0.52,
                               .tilt_beam_rad = 0.52,
                               .receiver_bonus_db = 4.0,
                               .polarisation = FE_ANTENNA_DUAL};
static const fe_radio ROUND = {.band = FE_BAND_2_4_GHZ,
                               .standard = "he",
                               .width_hz = 20e6,
                               .streams = 2,
                               .power_dbm = 18.0,
                               .falloff_db = 4.0,
                               .gain_dbi = 5.0,
                               .beam_rad = 6.2832,
                               .tilt_beam_rad = 0.7,
                               .receiver_bonus_db = 4.0,
                               .polarisation = FE_ANTENNA_DUAL};

static const fe_season SEASONS[] = {
    {.name = "summer",
     .surface = FE_SURFACE_DRY_SOIL,
     .in_leaf = true,
     .trees = FE_TREES_DRY,
     .coldest_c = 5.0,
     .hottest_c = 30.0},
    {.name = "wet summer",
     .surface = FE_SURFACE_WET_SOIL,
     .in_leaf = true,
     .trees = FE_TREES_WET,
     .cover = FE_COVER_WATER_FILM,
     .coldest_c = 5.0,
     .hottest_c = 25.0,
     .rain_mm_h = 30.0},
    {.name = "winter",
     .surface = FE_SURFACE_DRY_SNOW,
     .snow_depth_m = 0.3,
     .trees = FE_TREES_FROZEN,
     .coldest_c = -15.0,
     .hottest_c = 0.0},
};
static const fe_wanted WANTED = {{1e5, 4e6}, 1.0, 0.99, 0.9};

typedef struct place {
    fe_profile ground;
    fe_stand stand;
    fe_hop_wall wall;
    fe_hop hop;
    fe_accept_link link;
} place;

static void make_place(const fe_radio *radio, double length_m, place *p)
{
    *p = (place){0};
    assert_int_equal(fe_profile_even(length_m, 0.0, 5.0, &p->ground), FE_OK);
    p->hop = (fe_hop){.ground = &p->ground,
                      .stands = &p->stand,
                      .land = FE_LAND_MEADOW,
                      .region = FE_REGION_US,
                      .f_hz = radio->band == FE_BAND_5_GHZ ? 5800e6 : 2437e6};
    for (int end = 0; end < 2; end++)
        p->hop.ends[end] = (fe_station){.radio = radio,
                                        .antenna_built_in = true,
                                        .height_m = 5.0,
                                        .mount = FE_MOUNT_OUTDOORS,
                                        .aim = FE_AIM_BY_SIGNAL,
                                        .noise = FE_NOISE_QUIET_RURAL,
                                        .port_bps = 1e9};
    p->link = (fe_accept_link){
        .hop = &p->hop, .seasons = SEASONS, .season_count = 3, .wanted = &WANTED};
}

static void free_place(place *p)
{
    fe_profile_free(&p->ground);
}

static fe_accept_reading blank(const char *weather)
{
    const double no = (double)NAN;
    return (fe_accept_reading){.weather = fe_accept_weather_of(weather),
                               .level_dbm = {no, no},
                               .swing_db = {no, no},
                               .noise_dbm = {no, no},
                               .rate_bps = {no, no},
                               .ping_share = no};
}

/* Level of both directions as far below the median as asked. */
static fe_accept_reading below(const place *p, const char *weather, double there_db,
                               double back_db)
{
    fe_accept_reading reading = blank(weather);
    fe_acceptance *a = malloc(sizeof *a);
    reading.level_dbm[0] = -50.0;
    assert_non_null(a);
    assert_true(fe_accept(&p->link, &reading, 1, a) >= 0);
    reading.level_dbm[0] = a->expected[0].level_dbm[0] - there_db;
    reading.level_dbm[1] = a->expected[0].level_dbm[1] - back_db;
    free(a);
    return reading;
}

static void accepts(const place *p, const fe_accept_reading *readings, size_t count,
                    fe_acceptance *a)
{
    assert_true(fe_accept(&p->link, readings, count, a) >= 0);
}

/* ---- Bayes ---- */

static void update__agrees_with_the_closed_form_of_normals(void **state)
{
    (void)state;
    /* Normal prior m, s and a reading y with error r: mean (m r2 + y s2) / (s2 + r2),
       variance s2 r2 / (s2 + r2). Gelman et al., Bayesian Data Analysis, sec 2.5 (from
       memory). */
    fe_spread before;
    fe_spread after;
    assert_int_equal(fe_spread_normal(8.0, 4.0, &before), FE_OK);
    assert_int_equal(fe_accept_update(&before, 14.0, 3.0, &after), FE_OK);
    assert_close(fe_spread_mean(&after), (8.0 * 9.0 + 14.0 * 16.0) / 25.0, 0.02);
    assert_close(fe_spread_sigma(&after), sqrt(16.0 * 9.0 / 25.0), 0.02);
}

static void update__by_what_was_expected_moves_nothing_but_narrows(void **state)
{
    (void)state;
    fe_spread spread;
    assert_int_equal(fe_spread_normal(8.0, 4.0, &spread), FE_OK);
    double sigma = fe_spread_sigma(&spread);
    for (int n = 1; n <= 5; n++) {
        assert_int_equal(fe_accept_update(&spread, 8.0, 3.0, &spread), FE_OK);
        assert_close(fe_spread_mean(&spread), 8.0, 1e-9);
        assert_true(fe_spread_sigma(&spread) < sigma);
        sigma = fe_spread_sigma(&spread);
        assert_close(sigma, 1.0 / sqrt(1.0 / 16.0 + n / 9.0), 0.02);
    }
}

static void update__does_not_care_for_the_order_of_readings(void **state)
{
    (void)state;
    fe_spread a;
    fe_spread b;
    assert_int_equal(fe_spread_aim(0.3, 0.3, 20.0, &a), FE_OK);
    b = a;
    assert_int_equal(fe_accept_update(&a, 3.0, 3.0, &a), FE_OK);
    assert_int_equal(fe_accept_update(&a, 9.0, 3.0, &a), FE_OK);
    assert_int_equal(fe_accept_update(&b, 9.0, 3.0, &b), FE_OK);
    assert_int_equal(fe_accept_update(&b, 3.0, 3.0, &b), FE_OK);
    assert_close(fe_spread_mean(&a), fe_spread_mean(&b), 1e-12);
}

static void update__refuses_what_is_no_reading(void **state)
{
    (void)state;
    fe_spread spread;
    assert_int_equal(fe_spread_normal(8.0, 4.0, &spread), FE_OK);
    assert_int_equal(fe_accept_update(&spread, NAN, 3.0, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_accept_update(&spread, 8.0, 0.0, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_accept_update(&spread, 8.0, NAN, &spread), FE_E_DOMAIN);
    assert_int_equal(fe_accept_update(&spread, 5000.0, 3.0, &spread), FE_E_DOMAIN);
    assert_close(fe_spread_mean(&spread), 8.0, 1e-9);
}

static void accept__narrows_with_every_reading(void **state)
{
    (void)state;
    place p;
    fe_acceptance *a = malloc(sizeof *a);
    make_place(&PANEL, 200.0, &p);
    const fe_accept_reading as_expected = below(&p, "dry, leaves", 0.0, 0.0);
    const fe_accept_reading readings[] = {as_expected, as_expected, as_expected};
    double sigma = 1e9;
    for (size_t count = 1; count <= 3; count++) {
        accepts(&p, readings, count, a);
        if (count == 1)
            sigma = fe_spread_sigma(&a->before);
        assert_true(fe_spread_sigma(&a->after[0]) < sigma);
        sigma = fe_spread_sigma(&a->after[0]);
        assert_int_equal(a->order[0], FE_CAUSE_NONE);
    }
    assert_true(a->outlook[0].chance >= a->outlook[0].chance_before - 1e-3);
    free(a);
    free_place(&p);
}

/* ---- what is what ---- */

static void causes__have_chances_that_sum_to_one(void **state)
{
    (void)state;
    double sum = 0.0;
    for (int cause = 0; cause < FE_CAUSES; cause++) {
        const fe_cause_row *row = fe_cause_of((fe_cause)cause);
        sum += row->prior;
        assert_true(row->least_db <= row->loss_db && row->loss_db <= row->most_db);
        assert_true(row->most_db <= 40.0);
        assert_true((row->way == FE_CAUSE_NO_LOSS) == (row->most_db == 0.0));
    }
    assert_close(sum, 1.0, 1e-9);
}

static void twenty_decibels_both_ways__are_not_weather(void **state)
{
    (void)state;
    place p;
    fe_acceptance *a = malloc(sizeof *a);
    make_place(&PANEL, 200.0, &p);
    const fe_accept_reading reading = below(&p, "rain, leaves", 20.0, 20.0);
    accepts(&p, &reading, 1, a);
    assert_true(a->factor[FE_CAUSE_WEATHER][FE_EVIDENCE_LEVEL] < 0.5);
    assert_true(a->chance[FE_CAUSE_WEATHER] < 0.01);
    assert_true(a->chance[FE_CAUSE_NONE] < 0.05);
    for (int i = 0; i < 3; i++)
        assert_int_not_equal(a->order[i], FE_CAUSE_WEATHER);
    free(a);
    free_place(&p);
}

static void sixteen_decibels_one_way__are_the_power_and_not_the_aim(void **state)
{
    (void)state;
    place p;
    fe_acceptance *a = malloc(sizeof *a);
    make_place(&PANEL, 200.0, &p);
    const fe_accept_reading reading = below(&p, "dry", 0.0, 16.0);
    accepts(&p, &reading, 1, a);
    assert_int_equal(a->order[0], FE_CAUSE_POWER);
    assert_true(a->chance[FE_CAUSE_AIM] < 0.01);
    assert_true(a->factor[FE_CAUSE_POWER][FE_EVIDENCE_LEVEL] > 10.0);
    free(a);
    free_place(&p);
}

static void link_accepted_bare__is_told_what_leaves_take(void **state)
{
    (void)state;
    place p;
    fe_acceptance *a = malloc(sizeof *a);
    make_place(&PANEL, 200.0, &p);
    p.stand = (fe_stand){80.0, 95.0, 12.0, FE_TREES_DECIDUOUS};
    p.hop.stand_count = 1;
    const fe_accept_reading reading = below(&p, "bare, frost", 0.0, 0.0);
    accepts(&p, &reading, 1, a);
    assert_false(a->expected[0].season.in_leaf);
    assert_true(a->outlook[0].to_come_db > 3.0);
    assert_true(a->outlook[0].leaves_db > 3.0);
    assert_true(a->outlook[1].to_come_db > a->outlook[0].to_come_db); /* wet leaves */
    assert_true(a->outlook[0].margin_db < a->outlook[2].margin_db);
    free(a);
    free_place(&p);
}

static void seasons__are_recomputed_from_what_was_read(void **state)
{
    (void)state;
    place p;
    fe_acceptance *good = malloc(sizeof *good);
    fe_acceptance *bad = malloc(sizeof *bad);
    make_place(&PANEL, 400.0, &p);
    const fe_accept_reading as_expected = below(&p, "dry", 0.0, 0.0);
    const fe_accept_reading short_of_it = below(&p, "dry", 12.0, 12.0);
    accepts(&p, &as_expected, 1, good);
    accepts(&p, &short_of_it, 1, bad);
    for (size_t i = 0; i < 3; i++) {
        const double fell_db = good->outlook[i].margin_db - bad->outlook[i].margin_db;
        assert_true(fell_db > 7.0 && fell_db < 12.0);
        assert_close(good->outlook[i].margin_before_db, bad->outlook[i].margin_before_db, 1e-9);
    }
    free(good);
    free(bad);
    free_place(&p);
}

static void accept__refuses_what_is_no_reading(void **state)
{
    (void)state;
    place p;
    fe_acceptance *a = malloc(sizeof *a);
    make_place(&PANEL, 200.0, &p);
    fe_accept_reading reading = blank("dry");
    assert_int_equal(fe_accept(&p.link, &reading, 1, a), FE_E_DOMAIN);
    reading.level_dbm[0] = -900.0;
    assert_int_equal(fe_accept(&p.link, &reading, 1, a), FE_E_DOMAIN);
    reading.level_dbm[0] = -60.0;
    assert_int_equal(fe_accept(&p.link, &reading, 0, a), FE_E_DOMAIN);
    reading.ping_share = 1.5;
    assert_int_equal(fe_accept(&p.link, &reading, 1, a), FE_E_DOMAIN);
    reading.ping_share = (double)NAN;
    p.hop.ends[0].height_m = 0.1;
    reading.weather = fe_accept_weather_of("snow, bare, frost");
    assert_int_equal(fe_accept(&p.link, &reading, 1, a), FE_E_DOMAIN); /* under the snow */
    free(a);
    free_place(&p);
}

static void weather__is_read_from_words(void **state)
{
    (void)state;
    fe_accept_weather w = fe_accept_weather_of("wet morning in May");
    assert_true(w.said && w.wet && w.leaves == 1);
    w = fe_accept_weather_of("dry, no leaves yet, wind from the west");
    assert_true(!w.wet && w.leaves == 0 && w.windy);
    w = fe_accept_weather_of("January frost, no snow");
    assert_true(w.frost && w.leaves == 0 && !w.snow);
    assert_false(fe_accept_weather_of("after tea").said);
    assert_false(fe_accept_weather_of(NULL).said);
    const fe_accept_weather bare_rain = fe_accept_weather_of("rain, bare");
    const fe_season day = fe_accept_season(SEASONS, 3, &bare_rain);
    assert_false(day.in_leaf);
    assert_int_equal(day.cover, FE_COVER_WATER_FILM);
    assert_close(day.snow_depth_m, 0.0, 0.0);
}

/* ---- constructed faults ---- */

/* A plain generator of the C standard's kind, so that every run draws the same builds. */
static double draw(unsigned long *random)
{
    *random = (*random * 1103515245UL + 12345UL) & 0x7FFFFFFFUL;
    return ((double)(*random >> 8) + 0.5) / (double)(0x7FFFFFFFUL >> 8);
}

static double between(unsigned long *random, double low, double high)
{
    const double part = draw(random);
    return low + part * (high - low);
}

static double normal(unsigned long *random, double sigma)
{
    const double a = fmin(draw(random), 1.0 - 1e-9);
    return sigma * sqrt(-2.0 * log(a + 1e-12)) * cos(2.0 * FE_PI * draw(random));
}

/* What a fault does, drawn from how such faults come about and not from the table of causes. */
typedef struct fault {
    double loss_db[2];
    double noise_db[2];
    double rate_factor;
    double rate_cap_bps;
    double ping;
    double swing_db;
    const char *weather;
} fault;

static fault harmless(unsigned long *random)
{
    return (fault){.rate_factor = between(random, 0.85, 1.1),
                   .rate_cap_bps = 1e12,
                   .ping = between(random, 0.0, 0.006),
                   .swing_db = between(random, 1.0, 3.0),
                   .weather = "dry, leaves"};
}

static void lose_both(fault *f, double loss_db)
{
    f->loss_db[0] = f->loss_db[1] = loss_db;
}

/* The readings of a fault on a link whose build loss is drawn. */
static void read_fault(const place *p, const fault *f, double build_db, unsigned long *random,
                       fe_accept_reading *reading)
{
    fe_hop_budget budget;
    *reading = blank(f->weather);
    const fe_season day =
        fe_accept_season(p->link.seasons, p->link.season_count, &reading->weather);
    assert_true(fe_hop_budget_compute(&p->hop, &day, 1, &WANTED, &budget) >= 0);
    for (int from = 0; from < 2; from++) {
        const double loss_db = build_db + f->loss_db[from];
        double served = 0.0;
        reading->level_dbm[from] =
            budget.seasons[0].from[from].level_dbm - loss_db + normal(random, 2.5);
        reading->swing_db[from] = f->swing_db;
        /* Thermal noise and a receiver of 7 dB: -91 dBm in 40 MHz. */
        reading->noise_dbm[from] =
            round(-174.0 + 10.0 * log10(p->hop.ends[0].radio->width_hz) + 7.0) +
            f->noise_db[from] + normal(random, 2.0);
        assert_true(fe_hop_delivers(&p->hop, &budget.seasons[0], &WANTED, from, loss_db,
                                    &reading->rate_bps[from], &served) >= 0);
        reading->rate_bps[from] =
            fmin(f->rate_cap_bps, reading->rate_bps[from] * f->rate_factor);
    }
    reading->ping_share = f->ping;
    fe_hop_budget_free(&budget);
}

/* One or two visits (second not null) to one link, as it happens to be built. */
static void read_visits(place *p, const fault *first, const fault *second,
                        unsigned long *random, fe_accept_reading *readings)
{
    fe_path_loss loss;
    fe_spread build;
    assert_true(fe_path_loss_in_season(&p->hop, &p->link.seasons[0], &loss) >= 0);
    assert_true(fe_build_loss(&p->hop, &loss, &build) >= 0);
    const double build_db = fe_spread_quantile(&build, between(random, 0.05, 0.95));
    p->link.hop = &p->hop;
    read_fault(p, first, build_db, random, &readings[0]);
    if (second)
        read_fault(p, second, build_db, random, &readings[1]);
}

/* Sets the place and one or two visits up; returns how many visits. */
typedef size_t construct_fn(fe_cause cause, unsigned long *random, place *p,
                            fe_accept_reading *readings);

static size_t construct(fe_cause cause, unsigned long *random, place *p,
                        fe_accept_reading *readings)
{
    const bool panels = cause == FE_CAUSE_AIM || cause == FE_CAUSE_MOUNT ||
                        cause == FE_CAUSE_POWER || cause == FE_CAUSE_PORT ||
                        cause == FE_CAUSE_NONE || cause == FE_CAUSE_NOISE;
    make_place(panels ? &PANEL : &ROUND, cause == FE_CAUSE_ACK_TIMEOUT ? 900.0 : 120.0, p);
    fault f = harmless(random);
    fault second = f;
    size_t visits = 1;
    double loss_db = 0.0;
    switch (cause) {
    case FE_CAUSE_AIM: { /* off by most of a beam at one end: the parabola of its main lobe */
        const double share = between(random, 0.75, 1.2);
        lose_both(&f, 12.0 * share * share);
        break;
    }
    case FE_CAUSE_FEEDER: /* a crushed cable or a half-screwed connector, dry */
    case FE_CAUSE_WATER:
        for (int end = 0; end < 2; end++)
            p->hop.ends[end].antenna_built_in = false;
        lose_both(&f, between(random, 6.0, 12.0));
        second = f;
        second.weather = "rain, leaves";
        if (cause == FE_CAUSE_WATER) { /* dries out within days */
            lose_both(&second, between(random, 12.0, 20.0));
            lose_both(&f, 0.25 * second.loss_db[0]);
        }
        visits = 2;
        break;
    case FE_CAUSE_OBSTRUCTION: /* a roof ridge that reaches into the zone or over the line */
        assert_true(fe_knife_edge_loss_fit(between(random, 0.2, 1.6), &loss_db) >= 0);
        lose_both(&f, loss_db);
        f.swing_db = between(random, 2.0, 5.0);
        break;
    case FE_CAUSE_FOLIAGE: /* a stand deeper than drawn, moving in the wind */
        p->stand = (fe_stand){50.0, 53.0, 8.0, FE_TREES_DECIDUOUS};
        p->hop.stand_count = 1;
        assert_true(fe_foliage_loss(FE_FOLIAGE_FITU_R, true, p->hop.f_hz,
                                    between(random, 15.0, 40.0), &loss_db) >= 0);
        lose_both(&f, loss_db);
        f.swing_db = between(random, 4.0, 9.0);
        f.weather = "dry, leaves, windy";
        break;
    case FE_CAUSE_WALL: /* masonry or coated glass that nobody wrote down */
        p->hop.ends[1].mount = FE_MOUNT_INDOORS;
        p->wall = (fe_hop_wall){"wood", 0.02};
        p->hop.ends[1].walls = &p->wall;
        p->hop.ends[1].wall_count = 1;
        lose_both(&f, between(random, 7.0, 20.0));
        break;
    case FE_CAUSE_NOISE: /* a neighbour's network beside one end */
        f.noise_db[0] = between(random, 8.0, 18.0);
        f.rate_factor = between(random, 0.25, 0.55);
        f.ping = between(random, 0.03, 0.10);
        break;
    case FE_CAUSE_POWER: /* left at 4 to 13 dBm in place of 20 */
        f.loss_db[1] = between(random, 7.0, 16.0);
        break;
    case FE_CAUSE_ACK_TIMEOUT: /* nearly every frame is sent again */
        f.rate_factor = between(random, 0.08, 0.25);
        f.ping = between(random, 0.01, 0.08);
        break;
    case FE_CAUSE_MOUNT: /* swings through the lobe */
        f.weather = "dry, leaves, windy";
        f.swing_db = between(random, 8.0, 16.0);
        lose_both(&f, between(random, 2.0, 9.0));
        f.ping = between(random, 0.02, 0.08);
        break;
    case FE_CAUSE_SUPPLY: /* restarts when the sun is on the box */
        f.weather = "hot, dry, leaves";
        f.ping = between(random, 0.10, 0.40);
        f.rate_factor = between(random, 0.6, 0.95);
        break;
    case FE_CAUSE_PORT: /* a damaged pair: 100 Mb/s, of which the user sees 92 to 95 % */
        f.rate_cap_bps = between(random, 92e6, 95e6);
        break;
    case FE_CAUSE_FAR_HOP: /* three to six times as far, and its traffic passed on again */
        p->link.relayed = true;
        lose_both(&f, 22.0 * log10(between(random, 3.5, 6.0)));
        f.rate_factor = between(random, 0.4, 0.6);
        break;
    case FE_CAUSE_NONE:
    case FE_CAUSE_WEATHER:
    case FE_CAUSES:
        break;
    }
    read_visits(p, &f, visits == 2 ? &second : NULL, random, readings);
    return visits;
}

/*
 * A second set, fixed before its result was known and held out: other radios, places, seasons
 * and sizes of fault, and readings with gaps, as people bring them home. Nothing in the table
 * of causes may be chosen by it.
 */
static const fe_radio DISH = {.band = FE_BAND_5_GHZ,
                              .standard = "vht",
                              .width_hz = 80e6,
                              .streams = 2,
                              .power_dbm = 23.0,
                              .falloff_db = 6.0,
                              .gain_dbi = 22.0,
                              .beam_rad = 0.14,
                              .tilt_beam_rad = 0.14,
                              .receiver_bonus_db = 3.0,
                              .polarisation = FE_ANTENNA_DUAL};
static const fe_radio STICK = {.band = FE_BAND_5_GHZ,
                               .standard = "he",
                               .width_hz = 40e6,
                               .streams = 2,
                               .power_dbm = 20.0,
                               .falloff_db = 5.0,
                               .gain_dbi = 8.0,
                               .beam_rad = 6.2832,
                               .tilt_beam_rad = 0.35,
                               .receiver_bonus_db = 3.0,
                               .polarisation = FE_ANTENNA_DUAL};

static const fe_season COAST[] = {
    {.name = "spring",
     .surface = FE_SURFACE_WET_SOIL,
     .in_leaf = true,
     .trees = FE_TREES_DRY,
     .coldest_c = 2.0,
     .hottest_c = 18.0},
    {.name = "autumn gales",
     .surface = FE_SURFACE_WET_SOIL,
     .in_leaf = true,
     .trees = FE_TREES_WET,
     .cover = FE_COVER_WATER_FILM,
     .coldest_c = 4.0,
     .hottest_c = 16.0,
     .rain_mm_h = 20.0},
    {.name = "bare winter",
     .surface = FE_SURFACE_WET_SOIL,
     .trees = FE_TREES_DRY,
     .coldest_c = -6.0,
     .hottest_c = 9.0},
    {.name = "drought",
     .surface = FE_SURFACE_DRY_SOIL,
     .in_leaf = true,
     .trees = FE_TREES_DRY,
     .coldest_c = 12.0,
     .hottest_c = 34.0},
};

/* What was not read: by turns nothing, the noise, the swing, or rate and pings. */
static void forget(fe_accept_reading *reading, int turn, fe_cause cause)
{
    const double no = (double)NAN;
    const bool needs_rate = cause == FE_CAUSE_NOISE || cause == FE_CAUSE_ACK_TIMEOUT ||
                            cause == FE_CAUSE_SUPPLY || cause == FE_CAUSE_PORT ||
                            cause == FE_CAUSE_FAR_HOP;
    if (turn == 1 && cause != FE_CAUSE_NOISE)
        reading->noise_dbm[0] = reading->noise_dbm[1] = no;
    if (turn == 2 && cause != FE_CAUSE_MOUNT && cause != FE_CAUSE_FOLIAGE)
        reading->swing_db[0] = reading->swing_db[1] = no;
    if (turn == 3 && !needs_rate)
        reading->rate_bps[0] = reading->rate_bps[1] = reading->ping_share = no;
}

/* Where a held-out set stands: radios, seasons and lengths. */
typedef struct setting {
    const fe_radio *aimed;
    const fe_radio *all_round;
    double f_hz;
    fe_region region;
    const fe_season *seasons;
    size_t season_count;
    double aimed_m[2];
    double near_m[2];
    double far_m;         /* of a link too long for its acknowledgement timeout */
    double off_target[2]; /* share of the beam */
} setting;

static size_t construct_held_out(const setting *where, fe_cause cause, unsigned long *random,
                                 place *p, fe_accept_reading *readings)
{
    const bool aimed = cause == FE_CAUSE_AIM || cause == FE_CAUSE_MOUNT ||
                       cause == FE_CAUSE_ACK_TIMEOUT || cause == FE_CAUSE_NONE ||
                       cause == FE_CAUSE_POWER || cause == FE_CAUSE_PORT;
    const double length_m = cause == FE_CAUSE_ACK_TIMEOUT ? where->far_m
                            : aimed ? between(random, where->aimed_m[0], where->aimed_m[1])
                                    : between(random, where->near_m[0], where->near_m[1]);
    make_place(aimed ? where->aimed : where->all_round, length_m, p);
    p->hop.region = where->region;
    p->hop.f_hz = where->f_hz;
    p->link.seasons = where->seasons;
    p->link.season_count = where->season_count;
    fault f = harmless(random);
    f.weather = "dry, May";
    fault later = f;
    bool again = false;
    double loss_db = 0.0;
    switch (cause) {
    case FE_CAUSE_AIM: { /* off by half a beam and more, moved once */
        const double share = between(random, where->off_target[0], where->off_target[1]);
        lose_both(&f, 12.0 * share * share + between(random, 0.0, 6.0));
        break;
    }
    case FE_CAUSE_FEEDER: /* the same in the rain */
        for (int end = 0; end < 2; end++)
            p->hop.ends[end].antenna_built_in = false;
        lose_both(&f, between(random, 5.0, 14.0));
        later = f;
        later.weather = "rain, leaves";
        again = true;
        break;
    case FE_CAUSE_WATER: /* comes with the rain, is mostly gone a week later */
        for (int end = 0; end < 2; end++)
            p->hop.ends[end].antenna_built_in = false;
        lose_both(&later, between(random, 10.0, 22.0));
        lose_both(&f, between(random, 0.1, 0.4) * later.loss_db[0]);
        later.weather = "rain, leaves";
        again = true;
        break;
    case FE_CAUSE_OBSTRUCTION: /* a trailer left on the line, the same in winter */
        assert_true(fe_knife_edge_loss_fit(between(random, 0.3, 1.8), &loss_db) >= 0);
        lose_both(&f, loss_db);
        f.swing_db = between(random, 2.0, 6.0);
        later = f;
        later.weather = "dry, bare";
        again = true;
        break;
    case FE_CAUSE_FOLIAGE: /* looked at in leaf and bare */
        p->stand = (fe_stand){30.0, 33.0, 8.0, FE_TREES_DECIDUOUS};
        p->hop.stand_count = 1;
        assert_true(fe_foliage_loss(FE_FOLIAGE_FITU_R, true, p->hop.f_hz,
                                    between(random, 10.0, 35.0), &loss_db) >= 0);
        lose_both(&f, loss_db);
        f.swing_db = between(random, 3.0, 9.0);
        f.weather = "dry, leaves, wind";
        later = f;
        later.weather = "dry, bare";
        later.swing_db = between(random, 2.0, 4.0);
        lose_both(&later, between(random, 0.2, 0.4) * loss_db);
        again = true;
        break;
    case FE_CAUSE_WALL: /* a rendered wall, a foil-backed board */
        p->hop.ends[1].mount = FE_MOUNT_INDOORS;
        p->wall = (fe_hop_wall){"wood", 0.025};
        p->hop.ends[1].walls = &p->wall;
        p->hop.ends[1].wall_count = 1;
        lose_both(&f, between(random, 8.0, 25.0));
        break;
    case FE_CAUSE_NOISE:
        f.noise_db[1] = between(random, 7.0, 20.0);
        f.rate_factor = between(random, 0.2, 0.6);
        f.ping = between(random, 0.02, 0.12);
        break;
    case FE_CAUSE_POWER: /* the country of the one end set wrongly */
        f.loss_db[0] = between(random, 6.0, 15.0);
        break;
    case FE_CAUSE_ACK_TIMEOUT:
        f.rate_factor = between(random, 0.07, 0.30);
        f.ping = between(random, 0.0, 0.06);
        break;
    case FE_CAUSE_MOUNT: /* swings in the gale, calm the day after */
        f.weather = "dry, leaves, gale";
        f.swing_db = between(random, 7.0, 15.0);
        lose_both(&f, between(random, 2.0, 10.0));
        f.ping = between(random, 0.01, 0.08);
        break;
    case FE_CAUSE_SUPPLY:
        f.weather = "hot, dry, August";
        f.ping = between(random, 0.08, 0.40);
        f.rate_factor = between(random, 0.7, 1.0);
        break;
    case FE_CAUSE_PORT: /* half of them at 10 Mb/s */
        f.rate_cap_bps = (draw(random) < 0.5 ? 10e6 : 100e6) * between(random, 0.91, 0.95);
        break;
    case FE_CAUSE_FAR_HOP:
        p->link.relayed = true;
        lose_both(&f, between(random, 20.0, 30.0) * log10(between(random, 3.0, 6.0)));
        f.rate_factor = between(random, 0.4, 0.6);
        break;
    case FE_CAUSE_NONE:
    case FE_CAUSE_WEATHER:
    case FE_CAUSES:
        break;
    }
    read_visits(p, &f, again ? &later : NULL, random, readings);
    const int turn = (int)(4.0 * draw(random));
    for (size_t i = 0; i < (again ? 2 : 1); i++)
        forget(&readings[i], turn, cause);
    return again ? 2 : 1;
}

static size_t construct_second(fe_cause cause, unsigned long *random, place *p,
                               fe_accept_reading *readings)
{
    static const setting COASTAL = {.aimed = &DISH,
                                    .all_round = &STICK,
                                    .f_hz = 5580e6,
                                    .region = FE_REGION_US,
                                    .seasons = COAST,
                                    .season_count = sizeof COAST / sizeof COAST[0],
                                    .aimed_m = {250.0, 500.0},
                                    .near_m = {60.0, 140.0},
                                    .far_m = 1400.0,
                                    .off_target = {4.0 / 8.0, 6.0 / 8.0}};
    return construct_held_out(&COASTAL, cause, random, p, readings);
}

/*
 * A third set, fixed before the model was changed after the second had been seen: another band,
 * other antennas and a drier country with hard winters.
 */
static const fe_radio GRID = {.band = FE_BAND_2_4_GHZ,
                              .standard = "ht",
                              .width_hz = 20e6,
                              .streams = 2,
                              .power_dbm = 19.0,
                              .falloff_db = 5.0,
                              .gain_dbi = 17.0,
                              .beam_rad = 0.28,
                              .tilt_beam_rad = 0.28,
                              .receiver_bonus_db = 3.0,
                              .polarisation = FE_ANTENNA_DUAL};
static const fe_radio WHIP = {.band = FE_BAND_2_4_GHZ,
                              .standard = "ht",
                              .width_hz = 20e6,
                              .streams = 1,
                              .power_dbm = 19.0,
                              .falloff_db = 5.0,
                              .gain_dbi = 6.0,
                              .beam_rad = 6.2832,
                              .tilt_beam_rad = 0.5,
                              .receiver_bonus_db = 2.0,
                              .polarisation = FE_ANTENNA_VERTICAL};

static size_t construct_third(fe_cause cause, unsigned long *random, place *p,
                              fe_accept_reading *readings)
{
    static const setting INLAND = {.aimed = &GRID,
                                   .all_round = &WHIP,
                                   .f_hz = 2437e6,
                                   .region = FE_REGION_CA,
                                   .seasons = SEASONS,
                                   .season_count = sizeof SEASONS / sizeof SEASONS[0],
                                   .aimed_m = {180.0, 420.0},
                                   .near_m = {50.0, 130.0},
                                   .far_m = 1100.0,
                                   .off_target = {0.55, 0.95}};
    return construct_held_out(&INLAND, cause, random, p, readings);
}

/* Share of faults whose cause comes first, printed by kind. */
static double share_of_right_causes(construct_fn *set_up, unsigned long random, int each)
{
    static const fe_cause KINDS[] = {
        FE_CAUSE_NONE,        FE_CAUSE_AIM,         FE_CAUSE_FEEDER, FE_CAUSE_WATER,
        FE_CAUSE_OBSTRUCTION, FE_CAUSE_FOLIAGE,     FE_CAUSE_WALL,   FE_CAUSE_NOISE,
        FE_CAUSE_POWER,       FE_CAUSE_ACK_TIMEOUT, FE_CAUSE_MOUNT,  FE_CAUSE_SUPPLY,
        FE_CAUSE_PORT,        FE_CAUSE_FAR_HOP};
    fe_acceptance *a = malloc(sizeof *a);
    int right = 0;
    int all = 0;
    assert_non_null(a);
    for (size_t kind = 0; kind < sizeof KINDS / sizeof KINDS[0]; kind++) {
        int of_kind = 0;
        char missed[200] = "";
        for (int n = 0; n < each; n++) {
            place p;
            fe_accept_reading readings[2];
            const size_t count = set_up(KINDS[kind], &random, &p, readings);
            accepts(&p, readings, count, a);
            of_kind += a->order[0] == KINDS[kind];
            if (a->order[0] != KINDS[kind])
                snprintf(missed, sizeof missed, "; missed for %s",
                         fe_cause_of(a->order[0])->name);
            free_place(&p);
        }
        print_message("%-55s %d of %d%s\n", fe_cause_of(KINDS[kind])->name, of_kind, each,
                      missed);
        right += of_kind;
        all += each;
    }
    print_message("right first cause: %d of %d, %.0f %%\n", right, all, 100.0 * right / all);
    free(a);
    return (double)right / all;
}

static void accept__names_the_right_cause_of_constructed_faults(void **state)
{
    (void)state;
    assert_true(share_of_right_causes(construct, 20240229UL, 8) >= 0.8);
}

static void accept__names_the_right_cause_of_other_faults(void **state)
{
    (void)state;
    assert_true(share_of_right_causes(construct_second, 7919UL, 12) >= 0.8);
}

static void accept__names_the_right_cause_of_faults_inland(void **state)
{
    (void)state;
    assert_true(share_of_right_causes(construct_third, 104729UL, 12) >= 0.8);
}

/* A dry day that reads as low cannot be weather, whatever the rain took before. */
static void weather__is_ruled_out_by_a_dry_day(void **state)
{
    (void)state;
    place p;
    fe_acceptance *a = malloc(sizeof *a);
    make_place(&PANEL, 200.0, &p);
    const fe_accept_reading readings[] = {below(&p, "rain, leaves", 20.0, 20.0),
                                          below(&p, "dry, leaves", 20.0, 20.0)};
    accepts(&p, readings, 2, a);
    assert_true(a->chance[FE_CAUSE_WEATHER] < 0.01);
    for (int i = 0; i < 3; i++)
        assert_int_not_equal(a->order[i], FE_CAUSE_WEATHER);
    free(a);
    free_place(&p);
}

/* It once said that nothing looks wrong where that had a chance of 22 %. */
static void nothing_wrong__comes_first_only_where_it_is_likelier_than_all_else(void **state)
{
    (void)state;
    place p;
    fe_acceptance *a = malloc(sizeof *a);
    make_place(&PANEL, 200.0, &p);
    int first = 0;
    for (int short_db = 0; short_db <= 24; short_db += 2) {
        const fe_accept_reading reading = below(&p, "dry, leaves", short_db, short_db);
        accepts(&p, &reading, 1, a);
        const bool well = a->order[0] == FE_CAUSE_NONE;
        assert_true(well == (a->chance[FE_CAUSE_NONE] >= 0.5));
        for (int i = 2; i < FE_CAUSES; i++)
            assert_true(a->chance[a->order[i]] <= a->chance[a->order[i - 1]]);
        first += well;
    }
    assert_true(first > 0 && first < 13);
    free(a);
    free_place(&p);
}

/* The same sum of both shortfalls: what one direction alone has cannot be the way between. */
static void levels__share_what_both_directions_share(void **state)
{
    (void)state;
    place p;
    fe_acceptance *even = malloc(sizeof *even);
    fe_acceptance *odd = malloc(sizeof *odd);
    make_place(&PANEL, 200.0, &p);
    const fe_accept_reading alike = below(&p, "dry, leaves", 5.0, 5.0);
    const fe_accept_reading apart = below(&p, "dry, leaves", 0.0, 10.0);
    accepts(&p, &alike, 1, even);
    accepts(&p, &apart, 1, odd);
    assert_true(odd->chance[FE_CAUSE_POWER] > 5.0 * even->chance[FE_CAUSE_POWER]);
    assert_true(odd->chance[FE_CAUSE_AIM] < even->chance[FE_CAUSE_AIM]);
    free(even);
    free(odd);
    free_place(&p);
}

/* ---- the command ---- */

static void accept_command__says_that_all_is_well(void **state)
{
    (void)state;
    char *out = NULL;
    int code = 0;
    fe_testing_run_line(".",
                        "farend accept --distance 165m --band 5GHz --gear directional-panel "
                        "--level -61dBm --level-back -60dBm --weather bare",
                        &out, NULL, &code);
    assert_int_equal(code, 0);
    assert_non_null(strstr(out, "nothing looks wrong"));
    free(out);
}

static void accept_command__reads_the_readings_of_a_plan(void **state)
{
    (void)state;
    static const char PLAN[] =
        "[site]\nregion = EU\n[end house]\ngear = directional-panel\n[end shed]\n"
        "gear = directional-panel\n[path]\ndistance = 200 m\n"
        "[reading out]\nfrom = house\nto = shed\nband = 5 GHz\nlevel = -62 dBm\n"
        "when = dry, bare\n"
        "[reading back]\nfrom = shed\nto = house\nband = 5 GHz\nlevel = -80 dBm\n"
        "when = dry, bare\n";
    char *out = NULL;
    char *err = NULL;
    int code = 0;
    assert_int_equal(fe_textfile_write("test_acceptance.ini", PLAN, strlen(PLAN)), FE_OK);
    fe_testing_run_line(".", "farend accept test_acceptance.ini --json", &out, &err, &code);
    assert_string_equal(err, "");
    assert_int_equal(code, 0);
    json_t *root = json_loads(out, 0, NULL);
    assert_non_null(root);
    assert_int_equal(json_array_size(json_object_get(root, "readings")), 1); /* one visit */
    const json_t *first = json_array_get(json_object_get(root, "causes"), 0);
    assert_string_equal(json_string_value(json_object_get(first, "cause")),
                        fe_cause_of(FE_CAUSE_POWER)->name);
    assert_int_equal(json_array_size(json_object_get(root, "seasons")), 4);
    json_decref(root);
    free(out);
    free(err);
    remove("test_acceptance.ini");
}

/* What `farend accept` says of a plan with these readings; JSON, or what stands on stderr. */
static char *accept_readings(const char *readings, const char *options, int *code)
{
    static const char PLACE[] =
        "[site]\nregion = EU\n[end house]\ngear = directional-panel\n[end shed]\n"
        "gear = directional-panel\n[end barn]\ngear = directional-panel\n"
        "[path near]\nfrom = house\nto = shed\ndistance = 200 m\n"
        "[path far]\nfrom = shed\nto = barn\ndistance = 150 m\n";
    char line[200];
    char *out = NULL;
    char *err = NULL;
    fe_strbuf plan = FE_STRBUF_INIT;
    fe_strbuf_append(&plan, PLACE);
    fe_strbuf_append(&plan, readings);
    assert_int_equal(fe_textfile_write("test_readings.ini", plan.text, plan.length), FE_OK);
    snprintf(line, sizeof line, "farend accept test_readings.ini --json %s", options);
    fe_testing_run_line(".", line, &out, &err, code);
    fe_strbuf_free(&plan);
    remove("test_readings.ini");
    free(*code == 0 ? err : out);
    return *code == 0 ? out : err;
}

#define OUT "from = house\nto = shed\nband = 5 GHz\n"

/* Two sections that tell the same of one day were taken for one, the second over the first. */
static void readings__of_one_day_that_tell_the_same_are_two_visits(void **state)
{
    (void)state;
    int code = 0;
    char *out = accept_readings("[reading a]\n" OUT "level = -62 dBm\n"
                                "[reading b]\n" OUT "level = -70 dBm\n"
                                "[reading c]\n" OUT "rate = 20 Mb/s\n",
                                "", &code);
    assert_int_equal(code, 0);
    json_t *root = json_loads(out, 0, NULL);
    const json_t *readings = json_object_get(root, "readings");
    assert_int_equal(json_array_size(readings), 2);
    static const double LEVELS_DBM[] = {-62.0, -70.0};
    for (size_t i = 0; i < 2; i++) {
        const json_t *ways = json_object_get(json_array_get(readings, i), "ways");
        const json_t *level = json_object_get(json_array_get(ways, 0), "level_dbm");
        assert_true(fabs(json_number_value(level) - LEVELS_DBM[i]) < 1e-9);
    }
    json_decref(root);
    free(out);
}

/* `unknown` stands for a range of the plan's; it was taken for a rate of some 50 Mb/s read. */
static void reading__of_an_unknown_rate_is_none(void **state)
{
    (void)state;
    int code = 0;
    char *out = accept_readings(
        "[reading]\n" OUT "level = -62 dBm\nrate = unknown\nnoise = unknown\n", "", &code);
    assert_int_equal(code, 0);
    json_t *root = json_loads(out, 0, NULL);
    const json_t *first = json_array_get(json_object_get(root, "readings"), 0);
    const json_t *way = json_array_get(json_object_get(first, "ways"), 0);
    assert_true(json_is_null(json_object_get(way, "rate_bps")));
    assert_true(json_is_null(json_object_get(way, "noise_dbm")));
    json_decref(root);
    free(out);
    char *err = accept_readings("[reading]\n" OUT "level = unknown\n", "", &code);
    assert_int_equal(code, 2);
    assert_non_null(strstr(err, "nothing was read"));
    free(err);
}

/* A thirteenth visit was left out without a word. */
static void readings__of_too_many_visits_are_refused(void **state)
{
    (void)state;
    fe_strbuf readings = FE_STRBUF_INIT;
    int code = 0;
    for (int i = 0; i <= FE_ACCEPT_MOST_READINGS; i++)
        fe_strbuf_format(&readings, "[reading %d]\n" OUT "level = -62 dBm\nwhen = dry day %d\n",
                         i, i);
    char *err = accept_readings(readings.text, "", &code);
    assert_int_equal(code, 2);
    assert_non_null(strstr(err, "the readings of this link are of more than 12 visits"));
    free(err);
    fe_strbuf_free(&readings);
}

/* The band is that of the first reading over the path, and no line goes unsaid. */
static void readings__of_other_paths_neither_choose_nor_vanish(void **state)
{
    (void)state;
    fe_strbuf readings = FE_STRBUF_INIT;
    int code = 0;
    for (int i = 0; i < 40; i++)
        fe_strbuf_format(&readings,
                         "[reading %d]\nfrom = house\nto = shed\nband = 60 GHz\n"
                         "level = -62 dBm\n",
                         i);
    fe_strbuf_append(&readings, "[reading]\nfrom = shed\nto = barn\nband = 5 GHz\n"
                                "level = -60 dBm\n");
    char *out = accept_readings(readings.text, "--path far", &code);
    assert_int_equal(code, 0);
    json_t *root = json_loads(out, 0, NULL);
    assert_string_equal(json_string_value(json_object_get(root, "band")), "5 GHz");
    /* Line 17 is the first [reading], each has five lines. */
    assert_non_null(strstr(out, "The readings of lines 17, 22, "));
    assert_non_null(strstr(out, ", 212 are of another band or path"));
    json_decref(root);
    free(out);
    fe_strbuf_free(&readings);
}

/* The list named 2 Mb/s whatever --wanted said. */
static void accept_command__takes_as_usual_what_was_not_said(void **state)
{
    (void)state;
    char *out = NULL;
    int code = 0;
    fe_testing_run_line(".",
                        "farend accept --distance 165m --band 5GHz --gear directional-panel "
                        "--level -61dBm --wanted 20Mb/s",
                        &out, NULL, &code);
    assert_int_equal(code, 0);
    assert_null(strstr(out, "A rate of"));
    free(out);
    fe_testing_run_line(".",
                        "farend accept --distance 165m --band 5GHz --gear directional-panel "
                        "--level -61dBm --rate 20Mb/s",
                        &out, NULL, &code);
    assert_non_null(strstr(out, "A rate of 2 Mb/s out to the far end"));
    free(out);
}

static void accept_command__says_what_is_missing(void **state)
{
    (void)state;
    static const struct {
        const char *line;
        const char *wanted;
    } BAD[] = {
        {"farend accept",
         "farend accept: name a plan, or a --distance, for example --distance 165m\n"},
        {"farend accept --distance 165m --gear directional-panel",
         "farend accept: --band is missing: say which radio was read, for example --band "
         "5GHz\n"
         "farend accept: nothing was read: give --level, --rate, --noise or --ping-loss, or a "
         "[reading] section in the plan\n"},
        {"farend accept --distance 165m --band 5GHz --gear directional-panel",
         "farend accept: nothing was read: give --level, --rate, --noise or --ping-loss, or a "
         "[reading] section in the plan\n"},
        {"farend accept --distance 165m --band 60GHz --gear directional-panel --level -60dBm",
         "farend accept: the gear has no radio at 60 GHz; name it with --gear\n"},
        {"farend accept --distance 165m --band 5GHz --gear directional-panel --level -60dBm "
         "--weather fishy",
         "farend accept: --weather: read \"fishy\", expected words such as wet, dry, snow, "
         "frost, hot, windy, leaves, bare\n"},
        {"farend accept --distance 165m --band 5GHz --gear directional-panel --level -60dBm "
         "--where moon",
         "farend accept: --where: moon: neither end; name house or far end\n"},
    };
    for (size_t i = 0; i < sizeof BAD / sizeof BAD[0]; i++) {
        char *err = NULL;
        int code = 0;
        fe_testing_run_line(".", BAD[i].line, NULL, &err, &code);
        assert_string_equal(err, BAD[i].wanted);
        assert_int_equal(code, 2);
        free(err);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(update__agrees_with_the_closed_form_of_normals),
        cmocka_unit_test(update__by_what_was_expected_moves_nothing_but_narrows),
        cmocka_unit_test(update__does_not_care_for_the_order_of_readings),
        cmocka_unit_test(update__refuses_what_is_no_reading),
        cmocka_unit_test(accept__narrows_with_every_reading),
        cmocka_unit_test(causes__have_chances_that_sum_to_one),
        cmocka_unit_test(twenty_decibels_both_ways__are_not_weather),
        cmocka_unit_test(sixteen_decibels_one_way__are_the_power_and_not_the_aim),
        cmocka_unit_test(link_accepted_bare__is_told_what_leaves_take),
        cmocka_unit_test(seasons__are_recomputed_from_what_was_read),
        cmocka_unit_test(accept__refuses_what_is_no_reading),
        cmocka_unit_test(weather__is_read_from_words),
        cmocka_unit_test(accept__names_the_right_cause_of_constructed_faults),
        cmocka_unit_test(accept__names_the_right_cause_of_other_faults),
        cmocka_unit_test(accept__names_the_right_cause_of_faults_inland),
        cmocka_unit_test(nothing_wrong__comes_first_only_where_it_is_likelier_than_all_else),
        cmocka_unit_test(levels__share_what_both_directions_share),
        cmocka_unit_test(weather__is_ruled_out_by_a_dry_day),
        cmocka_unit_test(accept_command__says_that_all_is_well),
        cmocka_unit_test(accept_command__reads_the_readings_of_a_plan),
        cmocka_unit_test(readings__of_one_day_that_tell_the_same_are_two_visits),
        cmocka_unit_test(reading__of_an_unknown_rate_is_none),
        cmocka_unit_test(readings__of_too_many_visits_are_refused),
        cmocka_unit_test(readings__of_other_paths_neither_choose_nor_vanish),
        cmocka_unit_test(accept_command__takes_as_usual_what_was_not_said),
        cmocka_unit_test(accept_command__says_what_is_missing),
    };
    return FE_RUN_TESTS(tests);
}
