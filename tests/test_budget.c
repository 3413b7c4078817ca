/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/budget.h"
#include "farend/chain.h"

#include <math.h>

#include "testing.h"

static const fe_radio PANEL = {.band = FE_BAND_5_GHZ,
                               .standard = "vht",
                               .width_hz = 20e6,
                               .streams = 1,
                               .power_dbm = 20.0,
                               .falloff_db = 5.0,
                               .gain_dbi = 14.0,
                               .beam_rad = 0.7,
                               .tilt_beam_rad = 0.7};
static const fe_radio PHONE = {.band = FE_BAND_2_4_GHZ,
                               .standard = "ht",
                               .width_hz = 20e6,
                               .streams = 1,
                               .power_dbm = 12.0,
                               .gain_dbi = 0.0,
                               .beam_rad = 6.283,
                               .tilt_beam_rad = 3.0};
static const fe_radio ROUTER = {.band = FE_BAND_2_4_GHZ,
                                .standard = "he",
                                .width_hz = 20e6,
                                .streams = 2,
                                .power_dbm = 18.0,
                                .falloff_db = 4.0,
                                .gain_dbi = 3.0,
                                .beam_rad = 6.283,
                                .tilt_beam_rad = 1.5};
static const fe_radio STATION = {.band = FE_BAND_SUB_GHZ,
                                 .standard = "s1g",
                                 .width_hz = 1e6,
                                 .streams = 1,
                                 .power_dbm = 14.0,
                                 .gain_dbi = 2.0,
                                 .beam_rad = 6.283,
                                 .tilt_beam_rad = 1.0};
static const fe_season SUMMER = {.name = "dry summer",
                                 .surface = FE_SURFACE_DRY_SOIL,
                                 .in_leaf = true,
                                 .coldest_c = 5.0,
                                 .hottest_c = 30.0};
static const fe_wanted SIX_MEGABIT = {
    .rate_bps = {0.5e6, 6e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};

static fe_station at(const fe_radio *radio, double height_m)
{
    return (fe_station){.radio = radio, .height_m = height_m, .mount = FE_MOUNT_OUTDOORS};
}

static fe_hop hop_of(const fe_profile *ground, const fe_radio *a, const fe_radio *b,
                     double f_hz)
{
    return (fe_hop){.ground = ground,
                    .region = FE_REGION_EU,
                    .f_hz = f_hz,
                    .ends = {at(a, 3.0), at(b, 3.0)}};
}

static fe_hop_budget budget_of(const fe_hop *hop, const fe_season *seasons, size_t count,
                               const fe_wanted *wanted)
{
    fe_hop_budget budget;
    assert_true(fe_hop_budget_compute(hop, seasons, count, wanted, &budget) >= 0);
    return budget;
}

static fe_profile even(double length_m)
{
    fe_profile ground;
    assert_int_equal(fe_profile_even(length_m, 0.0, 5.0, &ground), FE_OK);
    return ground;
}

static void steps__lead_from_power_to_level(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_of(&ground, &PANEL, &PANEL, 5580e6);
    fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
    for (int from = 0; from < 2; from++) {
        const fe_direction *way = &budget.seasons[0].from[from];
        double level_dbm = way->power_dbm;
        for (size_t i = 0; i < way->line_count; i++) {
            level_dbm += way->lines[i].change_db;
            assert_non_null(way->lines[i].source);
        }
        assert_close(level_dbm, way->level_dbm, 1e-9);
        assert_close(way->level_dbm - way->threshold_dbm, way->paper_margin_db, 1e-9);
    }
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
}

/* Free space at 165 m and 5.58 GHz is 91.7 dB; 20 + 14 + 14 - 91.7 is -43.7 dBm before rules.
 */
static void level__is_free_space_and_ground_under_the_power_rule(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_of(&ground, &PANEL, &PANEL, 5580e6);
    fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
    const fe_direction *way = &budget.seasons[0].from[1];
    assert_true(way->power_dbm <= budget.limit[1].max_conducted_dbm + 1e-9);
    assert_close(way->level_dbm, way->power_dbm + 28.0 - budget.seasons[0].loss.total_db, 1e-9);
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
}

static void weaker_direction__decides(void **state)
{
    (void)state;
    fe_profile ground = even(60.0);
    const fe_hop hop = hop_of(&ground, &ROUTER, &PHONE, 2437e6);
    const fe_wanted both = {
        .rate_bps = {1e6, 1e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};
    fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &both);
    assert_int_equal(budget.seasons[0].weaker, 1); /* the phone sends less */
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
}

/* What is delivered is that of the weaker direction, or of the only one that carries anything. */
static void delivered_rate__is_that_of_the_weaker_direction(void **state)
{
    (void)state;
    static const struct {
        double rate_bps[2];
        int from;
    } ROWS[] = {{{1e6, 1e6}, 1}, {{1e6, 0.0}, 0}, {{0.0, 1e6}, 1}};
    fe_profile ground = even(60.0);
    const fe_hop hop = hop_of(&ground, &ROUTER, &PHONE, 2437e6);
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        const fe_wanted wanted = {.rate_bps = {ROWS[i].rate_bps[0], ROWS[i].rate_bps[1]},
                                  .airtime = 1.0,
                                  .availability = 0.99,
                                  .confidence = 0.9};
        fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &wanted);
        fe_spread build;
        double rate_bps[2], served_share;
        assert_int_equal(fe_build_loss(&hop, &budget.seasons[0].loss, &build), FE_OK);
        for (int from = 0; from < 2; from++)
            assert_true(fe_hop_delivers(&hop, &budget.seasons[0], &wanted, from,
                                        fe_spread_quantile(&build, wanted.confidence),
                                        &rate_bps[from], &served_share) >= 0);
        assert_true(rate_bps[1] < 0.9 * rate_bps[0]);
        assert_close(budget.delivered_rate_bps, rate_bps[ROWS[i].from], 1e-3);
        fe_hop_budget_free(&budget);
    }
    fe_profile_free(&ground);
}

static void narrower_channel__is_the_one_in_use(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    fe_radio wide = PANEL;
    wide.width_hz = 40e6;
    const fe_hop narrow = hop_of(&ground, &PANEL, &PANEL, 5580e6);
    const fe_hop mixed[] = {hop_of(&ground, &PANEL, &wide, 5580e6),
                            hop_of(&ground, &wide, &PANEL, 5580e6)};
    fe_hop_budget wanted = budget_of(&narrow, &SUMMER, 1, &SIX_MEGABIT);
    for (size_t i = 0; i < 2; i++) {
        fe_hop_budget got = budget_of(&mixed[i], &SUMMER, 1, &SIX_MEGABIT);
        assert_close(got.chance, wanted.chance, 1e-12);
        for (int from = 0; from < 2; from++) {
            const fe_direction *way = &got.seasons[0].from[from];
            const fe_direction *like = &wanted.seasons[0].from[from];
            assert_close(way->mode.rate_bps, like->mode.rate_bps, 1e-6);
            assert_close(way->threshold_dbm, like->threshold_dbm, 1e-12);
        }
        fe_hop_budget_free(&got);
    }
    fe_hop_budget_free(&wanted);
    fe_profile_free(&ground);
}

/* A mode has the streams that both radios have, whichever end has more. */
static void fewer_streams__are_those_in_use(void **state)
{
    (void)state;
    static const struct {
        unsigned streams[2], used;
    } ROWS[] = {{{1, 2}, 1}, {{2, 1}, 1}, {{2, 2}, 2}};
    fe_profile ground = even(20.0);
    fe_wanted most = SIX_MEGABIT; /* more than any mode carries: the fastest is shown */
    most.rate_bps[1] = 900e6;
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        fe_radio radios[2] = {PANEL, PANEL};
        for (int end = 0; end < 2; end++) {
            radios[end].streams = ROWS[i].streams[end];
            radios[end].polarisation = FE_ANTENNA_DUAL;
        }
        const fe_hop hop = hop_of(&ground, &radios[0], &radios[1], 5580e6);
        fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &most);
        for (int from = 0; from < 2; from++)
            assert_int_equal(budget.seasons[0].from[from].streams, ROWS[i].used);
        fe_hop_budget_free(&budget);
    }
    fe_profile_free(&ground);
}

/*
 * Noise from outside and the receiver's own grow alike with the width, so what it costs does not
 * depend on it. Among flats -90 dBm at 5 GHz and -88 dBm below 1 GHz on the receiver's -86 dBm, in
 * 20 MHz: 10 log(1 + 10^-0.4) = 1.455 dB, 10 log(1 + 10^-0.2) = 2.124 dB.
 */
static void noise__costs_the_same_at_any_width(void **state)
{
    (void)state;
    static const struct {
        const fe_radio *radio;
        double f_hz, width_hz, rise_db;
    } ROWS[] = {{&PANEL, 5580e6, 20e6, 1.455},
                {&PANEL, 5580e6, 80e6, 1.455},
                {&STATION, 866e6, 1e6, 2.124}};
    fe_profile ground = even(165.0);
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        fe_radio radio = *ROWS[i].radio;
        radio.width_hz = ROWS[i].width_hz;
        fe_hop hop = hop_of(&ground, &radio, &radio, ROWS[i].f_hz);
        hop.ends[0].noise = hop.ends[1].noise = FE_NOISE_FLATS;
        fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
        for (int from = 0; from < 2; from++) {
            const fe_direction *way = &budget.seasons[0].from[from];
            assert_close(way->threshold_dbm - way->mode.min_sensitivity_dbm, ROWS[i].rise_db,
                         0.001);
        }
        fe_hop_budget_free(&budget);
    }
    fe_profile_free(&ground);
}

static void chance__is_that_of_the_margin_left_after_the_fade(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_of(&ground, &PANEL, &PANEL, 5580e6);
    fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
    const fe_hop_season *season = &budget.seasons[0];
    fe_spread build;
    assert_int_equal(fe_build_loss(&hop, &season->loss, &build), FE_OK);
    const double left_db = season->from[season->weaker].paper_margin_db - season->fade_db;
    assert_close(season->chance, fe_spread_chance(&build, left_db), 1e-12);
    assert_close(season->margin_db, left_db - fe_spread_quantile(&build, 0.5), 1e-9);
    assert_true(season->margin_low_db < season->margin_db);
    assert_true(season->margin_db < season->margin_high_db);
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
}

static void seasons__share_one_build(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    fe_season seasons[2] = {SUMMER, SUMMER};
    seasons[1].cover = FE_COVER_WATER_FILM;
    const fe_hop hop = hop_of(&ground, &PANEL, &PANEL, 5580e6);
    fe_hop_budget both = budget_of(&hop, seasons, 2, &SIX_MEGABIT);
    fe_hop_budget wet = budget_of(&hop, &seasons[1], 1, &SIX_MEGABIT);
    assert_int_equal(both.worst, 1);
    assert_close(both.chance, wet.chance, 1e-12); /* not the product */
    fe_hop_budget_free(&both);
    fe_hop_budget_free(&wet);
    fe_profile_free(&ground);
}

static void more_rate__needs_a_faster_mode_and_leaves_less(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_of(&ground, &PANEL, &PANEL, 5580e6);
    fe_wanted more = SIX_MEGABIT;
    more.rate_bps[1] = 30e6;
    fe_hop_budget slow = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
    fe_hop_budget fast = budget_of(&hop, &SUMMER, 1, &more);
    assert_true(fast.seasons[0].from[1].mode.rate_bps > slow.seasons[0].from[1].mode.rate_bps);
    assert_true(fast.chance < slow.chance);
    assert_true(fast.seasons[0].from[1].power_dbm <= slow.seasons[0].from[1].power_dbm);
    more.rate_bps[1] = 900e6;
    fe_hop_budget never = budget_of(&hop, &SUMMER, 1, &more);
    assert_false(never.carries_rate);
    assert_true(never.chance == 0.0);
    fe_hop_budget_free(&slow);
    fe_hop_budget_free(&fast);
    fe_hop_budget_free(&never);
    fe_profile_free(&ground);
}

static void gain_under_a_power_cap__counts_at_the_receiver_only(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    fe_radio strong = PANEL;
    strong.power_dbm = 30.0; /* more than any rule leaves */
    strong.falloff_db = 0.0;
    fe_radio more = strong;
    more.gain_dbi += 6.0;
    const fe_hop hop = hop_of(&ground, &strong, &strong, 5580e6);
    const fe_hop wide = hop_of(&ground, &more, &more, 5580e6);
    fe_hop_budget a = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
    fe_hop_budget b = budget_of(&wide, &SUMMER, 1, &SIX_MEGABIT);
    assert_close(b.seasons[0].from[1].level_dbm - a.seasons[0].from[1].level_dbm, 6.0, 1e-6);
    fe_hop_budget_free(&a);
    fe_hop_budget_free(&b);
    fe_profile_free(&ground);
}

static void duty_cycle__cuts_the_rate_below_one_gigahertz_in_europe(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_of(&ground, &STATION, &STATION, 866e6);
    fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
    assert_close(budget.duty_cycle, 0.028, 1e-12);
    assert_false(budget.carries_rate); /* 4.4 Mb/s at 2.8 % is about 0.12 Mb/s */
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
}

static void radios_of_other_kinds__have_no_budget(void **state)
{
    (void)state;
    fe_radio sixty = PANEL;
    sixty = (fe_radio){.band = FE_BAND_60_GHZ,
                       .standard = "dmg",
                       .width_hz = 2160e6,
                       .streams = 1,
                       .beam_rad = 0.2,
                       .tilt_beam_rad = 0.2};
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_of(&ground, &sixty, &PANEL, 60.48e9);
    fe_hop_budget budget;
    assert_int_equal(fe_hop_budget_compute(&hop, &SUMMER, 1, &SIX_MEGABIT, &budget),
                     FE_E_NO_SOLUTION);
    fe_profile_free(&ground);
}

/* The engineering notes: 1.9 Mb/s direct, 1.01 after one relay, measured with low-cost modules.
 */
static void chain_rate__is_the_measured_one_of_low_cost_modules(void **state)
{
    (void)state;
    const double hops_bps[] = {1.9e6, 1.9e6};
    double rate_bps = 0.0;
    assert_int_equal(fe_chain_rate(hops_bps, 2, &rate_bps), FE_OK);
    assert_close_relative(rate_bps, 1.01e6, 0.10);
    const double uneven_bps[] = {6e6, 3e6, 2e6};
    assert_int_equal(fe_chain_rate(uneven_bps, 3, &rate_bps), FE_OK);
    assert_close(rate_bps, 1e6, 1e-6);
    const double dead_bps[] = {6e6, 0.0};
    assert_int_equal(fe_chain_rate(dead_bps, 2, &rate_bps), FE_E_DOMAIN);
}

static void sharing__decides_what_a_chain_delivers(void **state)
{
    (void)state;
    const double three_bps[] = {6e6, 3e6, 6e6};
    double rate_bps = 0.0;
    assert_int_equal(fe_chain_rate_shared(three_bps, 3, FE_CHAIN_OWN_CHANNELS,
                                          FE_CHAIN_TURNS_REAL, &rate_bps),
                     FE_OK);
    assert_close(rate_bps, 3e6, 1e-6);
    assert_int_equal(fe_chain_rate_shared(three_bps, 3, FE_CHAIN_ALTERNATE_BANDS,
                                          FE_CHAIN_TURNS_REAL, &rate_bps),
                     FE_OK);
    assert_close(rate_bps, 3e6, 1e-6); /* hops 1 and 3 together, or hop 2 alone */
    assert_int_equal(fe_chain_rate_shared(three_bps, 3, FE_CHAIN_ONE_CHANNEL,
                                          FE_CHAIN_TURNS_REAL, &rate_bps),
                     FE_OK);
    assert_close(rate_bps, 1.5e6, 1e-6);
}

/* One row of seven hops takes turns; on two bands every second of them. */
static void equal_hops__have_a_share_each(void **state)
{
    (void)state;
    static const struct {
        unsigned relays;
        fe_chain_sharing sharing;
        double share;
    } WANTED[] = {
        {0, FE_CHAIN_ONE_CHANNEL, 1.0},
        {2, FE_CHAIN_ONE_CHANNEL, 1.0 / 3.0},
        {FE_CHAIN_MOST_RELAYS, FE_CHAIN_ONE_CHANNEL, 1.0 / 7.0},
        {FE_CHAIN_MOST_RELAYS, FE_CHAIN_OWN_CHANNELS, 1.0},
        {2, FE_CHAIN_ALTERNATE_BANDS, 1.0 / 2.0},
        {FE_CHAIN_MOST_RELAYS, FE_CHAIN_ALTERNATE_BANDS, 1.0 / 4.0},
    };
    for (size_t i = 0; i < sizeof WANTED / sizeof WANTED[0]; i++)
        assert_close(fe_chain_share(WANTED[i].relays, WANTED[i].sharing), WANTED[i].share,
                     1e-15);
    assert_true(isnan(fe_chain_share(FE_CHAIN_MOST_RELAYS + 1, FE_CHAIN_ONE_CHANNEL)));
}

/* Li et al. 2001: a quarter of one hop ideally; a seventh in practice, from memory. */
static void long_chains__reach_a_quarter_ideally_and_a_seventh(void **state)
{
    (void)state;
    double rates_bps[FE_CHAIN_MOST_HOPS];
    for (size_t i = 0; i < FE_CHAIN_MOST_HOPS; i++)
        rates_bps[i] = 2e6;
    for (size_t hops = 1; hops <= FE_CHAIN_MOST_HOPS; hops++) {
        double real_bps = 0.0, ideal_bps = 0.0;
        assert_int_equal(fe_chain_rate_shared(rates_bps, hops, FE_CHAIN_ONE_CHANNEL,
                                              FE_CHAIN_TURNS_REAL, &real_bps),
                         FE_OK);
        assert_int_equal(fe_chain_rate_shared(rates_bps, hops, FE_CHAIN_ONE_CHANNEL,
                                              FE_CHAIN_TURNS_IDEAL, &ideal_bps),
                         FE_OK);
        assert_close(real_bps, 2e6 / (double)(hops < 7 ? hops : 7), 1e-6);
        assert_close(ideal_bps, 2e6 / (double)(hops < 4 ? hops : 4), 1e-6);
    }
}

static void both_directions__share_the_air(void **state)
{
    (void)state;
    const double there_bps[] = {10e6, 5e6};
    const double back_bps[] = {5e6, 4e6};
    const double want_bps[2] = {1e6, 0.5e6};
    double share = 0.0;
    assert_int_equal(fe_chain_air_time(there_bps, back_bps, 2, FE_CHAIN_ONE_CHANNEL,
                                       FE_CHAIN_TURNS_REAL, want_bps, &share),
                     FE_OK);
    assert_close(share, 0.1 + 0.1 + 0.2 + 0.125, 1e-12);
    assert_int_equal(fe_chain_air_time(there_bps, back_bps, 2, FE_CHAIN_OWN_CHANNELS,
                                       FE_CHAIN_TURNS_REAL, want_bps, &share),
                     FE_OK);
    assert_close(share, 0.325, 1e-12);
    const double dead_bps[] = {5e6, 0.0};
    assert_int_equal(fe_chain_air_time(there_bps, dead_bps, 2, FE_CHAIN_ONE_CHANNEL,
                                       FE_CHAIN_TURNS_REAL, want_bps, &share),
                     FE_E_DOMAIN);
}

static void air_time__refuses_what_is_no_chain(void **state)
{
    (void)state;
    double rates_bps[FE_CHAIN_MOST_HOPS + 1];
    for (size_t i = 0; i <= FE_CHAIN_MOST_HOPS; i++)
        rates_bps[i] = 2e6;
    static const struct {
        size_t count;
        unsigned turns;
        double want_bps[2];
        fe_status status;
    } ROWS[] = {
        {2, 1, {0.0, 0.0}, FE_OK},       {FE_CHAIN_MOST_HOPS, 1, {1e6, 0.0}, FE_OK},
        {0, 1, {1e6, 1e6}, FE_E_DOMAIN}, {FE_CHAIN_MOST_HOPS + 1, 1, {1e6, 1e6}, FE_E_DOMAIN},
        {2, 0, {1e6, 1e6}, FE_E_DOMAIN}, {2, 1, {-1.0, 1e6}, FE_E_DOMAIN},
        {2, 1, {1e6, NAN}, FE_E_DOMAIN},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        double share = 7.0;
        assert_int_equal(fe_chain_air_time(rates_bps, rates_bps, ROWS[i].count,
                                           FE_CHAIN_ONE_CHANNEL, ROWS[i].turns,
                                           ROWS[i].want_bps, &share),
                         ROWS[i].status);
        assert_true((share == 7.0) == (ROWS[i].status < 0));
    }
}

static void places__are_taken_in_order(void **state)
{
    (void)state;
    fe_profile ground = even(300.0);
    const fe_hop hop = hop_of(&ground, &ROUTER, &ROUTER, 2437e6);
    const fe_wanted wanted = {
        .rate_bps = {0.0, 5e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};
    fe_chain_place places[2] = {{100.0, at(&ROUTER, 3.0)}, {200.0, at(&ROUTER, 3.0)}};
    fe_chain equal, placed, apart;
    assert_true(fe_chain_equal(&hop, &places[0].station, 2, &SUMMER, 1, &wanted, &equal) >= 0);
    assert_true(
        fe_chain_at(&hop, places, 2, FE_CHAIN_ONE_CHANNEL, &SUMMER, 1, &wanted, &placed) >= 0);
    assert_close(placed.chance, equal.chance, 1e-12);
    assert_close(placed.margin_db, equal.margin_db, 1e-9);
    assert_true(
        fe_chain_at(&hop, places, 2, FE_CHAIN_OWN_CHANNELS, &SUMMER, 1, &wanted, &apart) >= 0);
    assert_true(apart.delivered_rate_bps > 2.9 * placed.delivered_rate_bps);
    assert_true(apart.margin_db >= placed.margin_db);
    places[0].at_m = 0.05; /* a hand's width from the start, yet after it */
    assert_true(
        fe_chain_at(&hop, places, 2, FE_CHAIN_ONE_CHANNEL, &SUMMER, 1, &wanted, &placed) >= 0);
    places[0].at_m = 250.0;
    assert_int_equal(
        fe_chain_at(&hop, places, 2, FE_CHAIN_ONE_CHANNEL, &SUMMER, 1, &wanted, &placed),
        FE_E_DOMAIN);
    fe_profile_free(&ground);
}

static void chain_without_relays__is_the_direct_hop(void **state)
{
    (void)state;
    fe_profile ground = even(165.0);
    const fe_hop hop = hop_of(&ground, &PANEL, &PANEL, 5580e6);
    const fe_station relay = at(&ROUTER, 2.0);
    fe_chain chain;
    assert_true(fe_chain_equal(&hop, &relay, 0, &SUMMER, 1, &SIX_MEGABIT, &chain) >= 0);
    fe_hop_budget budget = budget_of(&hop, &SUMMER, 1, &SIX_MEGABIT);
    assert_close(chain.chance, budget.chance, 1e-12);
    assert_close(chain.margin_db, budget.seasons[0].margin_db, 1e-9);
    assert_close(chain.delivered_rate_bps, budget.delivered_rate_bps, 1.0);
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
}

static void relays__shorten_hops_and_share_the_channel(void **state)
{
    (void)state;
    fe_profile ground = even(400.0);
    const fe_hop hop = hop_of(&ground, &ROUTER, &ROUTER, 2437e6);
    const fe_station relay = at(&ROUTER, 3.0);
    const fe_wanted wanted = {
        .rate_bps = {0.0, 5e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};
    fe_chain direct, three;
    assert_true(fe_chain_equal(&hop, &relay, 0, &SUMMER, 1, &wanted, &direct) >= 0);
    assert_true(fe_chain_equal(&hop, &relay, 3, &SUMMER, 1, &wanted, &three) >= 0);
    assert_close(three.hop_m, 100.0, 1e-9);
    assert_true(three.margin_db > direct.margin_db);
    assert_close(three.delay_s, 4.0 * FE_CHAIN_HOP_DELAY_S, 1e-12);
    assert_int_equal(fe_chain_equal(&hop, &relay, 99, &SUMMER, 1, &wanted, &three),
                     FE_E_DOMAIN);
    fe_profile_free(&ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps__lead_from_power_to_level),
        cmocka_unit_test(level__is_free_space_and_ground_under_the_power_rule),
        cmocka_unit_test(weaker_direction__decides),
        cmocka_unit_test(delivered_rate__is_that_of_the_weaker_direction),
        cmocka_unit_test(narrower_channel__is_the_one_in_use),
        cmocka_unit_test(fewer_streams__are_those_in_use),
        cmocka_unit_test(noise__costs_the_same_at_any_width),
        cmocka_unit_test(chance__is_that_of_the_margin_left_after_the_fade),
        cmocka_unit_test(seasons__share_one_build),
        cmocka_unit_test(more_rate__needs_a_faster_mode_and_leaves_less),
        cmocka_unit_test(gain_under_a_power_cap__counts_at_the_receiver_only),
        cmocka_unit_test(duty_cycle__cuts_the_rate_below_one_gigahertz_in_europe),
        cmocka_unit_test(radios_of_other_kinds__have_no_budget),
        cmocka_unit_test(chain_rate__is_the_measured_one_of_low_cost_modules),
        cmocka_unit_test(sharing__decides_what_a_chain_delivers),
        cmocka_unit_test(equal_hops__have_a_share_each),
        cmocka_unit_test(long_chains__reach_a_quarter_ideally_and_a_seventh),
        cmocka_unit_test(both_directions__share_the_air),
        cmocka_unit_test(air_time__refuses_what_is_no_chain),
        cmocka_unit_test(places__are_taken_in_order),
        cmocka_unit_test(chain_without_relays__is_the_direct_hop),
        cmocka_unit_test(relays__shorten_hops_and_share_the_channel),
    };
    return FE_RUN_TESTS(tests);
}
