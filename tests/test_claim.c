/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/claim.h"

#include <math.h>
#include <string.h>

#include "kept.h"
#include "testing.h"

static fe_claim_step step_of(double from_hz, double to_hz, double factor)
{
    return (fe_claim_step){.from_hz = from_hz,
                           .to_hz = to_hz,
                           .factor = factor,
                           .height_m = {2.0, 2.0},
                           .region = FE_REGION_EU,
                           .confirm_db = FE_CLAIM_CONFIRM_DB};
}

static fe_claim_answer answer_of(const fe_claim_step *step)
{
    fe_claim_answer answer;
    assert_true(fe_claim_test(step, &answer) >= 0);
    return answer;
}

static void percent_and_times__are_told_apart(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double factor;
        fe_claim_reading reading;
    } ROWS[] = {
        {"4", 4.0, FE_CLAIM_TIMES},
        {"2.5x", 2.5, FE_CLAIM_TIMES},
        {" 4 times ", 4.0, FE_CLAIM_TIMES},
        {"4-fold", 4.0, FE_CLAIM_TIMES},
        {"300%", 3.0, FE_CLAIM_PERCENT_OF},
        {"300 percent", 3.0, FE_CLAIM_PERCENT_OF},
        {"+300%", 4.0, FE_CLAIM_PERCENT_MORE},
        {"300 % more", 4.0, FE_CLAIM_PERCENT_MORE},
        {"-50%", 0.5, FE_CLAIM_PERCENT_MORE},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        fe_claim_factor factor;
        assert_int_equal(fe_claim_factor_parse(ROWS[i].text, &factor), FE_OK);
        assert_close(factor.factor, ROWS[i].factor, 1e-12);
        assert_int_equal(factor.reading, ROWS[i].reading);
    }
    static const char *const REFUSED[] = {"",   "four", "+4",    "-4",   "0",   "0%",
                                          "4m", "-",    "-100%", "1..2", "+ %", "1e9999"};
    for (size_t i = 0; i < sizeof REFUSED / sizeof REFUSED[0]; i++) {
        fe_claim_factor factor;
        assert_int_equal(fe_claim_factor_parse(REFUSED[i], &factor), FE_E_INPUT);
    }
}

static void slips_of_the_unit__are_noticed(void **state)
{
    (void)state;
    assert_close(fe_claim_frequency_meant_hz(2.4e6), 2.4e9, 1.0);
    assert_close(fe_claim_frequency_meant_hz(5200.0), 5.2e9, 1.0);
    assert_close(fe_claim_frequency_meant_hz(2437e9), 2.437e9, 1.0);
    /* What no slip explains stands for the commonest band. */
    assert_close(fe_claim_frequency_meant_hz(0.05), 2.4e9, 1.0);
    assert_true(fe_claim_frequency_meant_hz(868e6) == 0.0);
    assert_true(fe_claim_frequency_meant_hz(60e9) == 0.0);
    assert_close(fe_claim_distance_meant_m(0.1), 100.0, 1e-9);
    assert_close(fe_claim_distance_meant_m(140e3), 140.0, 1e-9);
    assert_true(fe_claim_distance_meant_m(140.0) == 0.0);
}

/* 20 log(5.2 / 2.4) is 6.716 dB and four times the range wants 12.041. */
static void frequency__gives_its_ratio_in_free_space(void **state)
{
    (void)state;
    const fe_claim_step step = step_of(5.2e9, 2.4e9, 4.0);
    const fe_claim_answer answer = answer_of(&step);
    assert_close(answer.free_space.equal_gain, 5.2 / 2.4, 1e-12);
    assert_close(answer.free_space.one_equal_area, 1.0, 1e-12);
    assert_close(answer.free_space.equal_area, 2.4 / 5.2, 1e-12);
    assert_close(answer.needed_db, 12.0412, 1e-4);
    assert_close(answer.explained_db, 6.7158, 1e-4);
    assert_close(answer.unexplained_db, 12.0412 - 6.7158, 2e-4);
    assert_int_equal(answer.verdict, FE_CLAIM_NEEDS_MORE);
}

static void beyond_the_break_point__frequency_gives_nothing(void **state)
{
    (void)state;
    const fe_claim_step step = step_of(5.2e9, 2.4e9, 4.0);
    const fe_claim_answer answer = answer_of(&step);
    assert_close(answer.beyond.equal_gain, 1.0, 1e-12);
    assert_close(answer.beyond.equal_area, 2.4 / 5.2, 1e-12);
    assert_close(answer.needed_beyond_db, 24.0824, 1e-4);
    assert_close(answer.unexplained_beyond_db, 24.0824, 1e-4);
    /* 4 x 2 m x 2 m over 57.65 mm and 124.9 mm. */
    assert_close(answer.break_from_m, 277.5, 0.1);
    assert_close(answer.break_to_m, 128.1, 0.1);
}

static void verdict__follows_from_what_is_left(void **state)
{
    (void)state;
    fe_claim_step step = step_of(5.2e9, 2.4e9, 2.16);
    assert_int_equal(answer_of(&step).verdict, FE_CLAIM_HOLDS);
    step.factor = 1e4; /* 80 dB: no cause is that large */
    assert_int_equal(answer_of(&step).verdict, FE_CLAIM_NOT_BY_FREQUENCY);
    step = step_of(2.4e9, 5.2e9, 2.0); /* the higher band reaches less far */
    assert_int_equal(answer_of(&step).verdict, FE_CLAIM_NOT_BY_FREQUENCY);
    step.factor = 2.4 / 5.2;
    assert_int_equal(answer_of(&step).verdict, FE_CLAIM_HOLDS);
    step = step_of(5.2e9, 3.1e9, 1.5);
    assert_int_equal(answer_of(&step).verdict, FE_CLAIM_BAND_CLOSED);
}

static void there_and_back__is_no_change(void **state)
{
    (void)state;
    const fe_hop_wall wall = {"brick", 0.11};
    fe_claim_step there = step_of(5.5e9, 2.437e9, 3.0);
    there.walls = &wall;
    there.wall_count = 1;
    there.trees_m = 5.0;
    there.trees = (fe_foliage_state){.kind = FE_TREES_DECIDUOUS, .in_leaf = true};
    fe_claim_step back = there;
    back.from_hz = there.to_hz;
    back.to_hz = there.from_hz;
    const fe_claim_answer a = answer_of(&there);
    const fe_claim_answer b = answer_of(&back);
    assert_close(a.explained_db, -b.explained_db, 1e-9);
    assert_close(a.through_free_space * b.through_free_space, 1.0, 1e-9);
    assert_close(a.through_beyond * b.through_beyond, 1.0, 1e-9);
    /* Beyond the break point the frequency gives nothing, and of the obstacles only the root. */
    assert_close_relative(a.through_free_space,
                          5.5 / 2.437 * a.through_beyond * a.through_beyond, 1e-9);
    assert_true(a.wall_from_db > a.wall_to_db);
    assert_true(a.trees_from_db > a.trees_to_db);
    /* The wall is in the sum already and no cause any more. */
    for (size_t i = 0; i < a.cause_count; i++)
        assert_true(strcmp(a.causes[i].name, "less wall loss") != 0);
}

static fe_claim_cause cause_of(const fe_claim_step *step, const char *name)
{
    const fe_claim_answer answer = answer_of(step);
    for (size_t i = 0; i < answer.cause_count; i++)
        if (strcmp(answer.causes[i].name, name) == 0)
            return answer.causes[i];
    return (fe_claim_cause){.low_db = NAN, .high_db = NAN};
}

/* What a wall gives on the way there it takes on the way back, and nothing at one frequency. */
static void less_wall_loss__turns_round_with_the_step(void **state)
{
    (void)state;
    const fe_claim_step there = step_of(5.2e9, 2.4e9, 4.0);
    const fe_claim_step back = step_of(2.4e9, 5.2e9, 4.0);
    const fe_claim_step still = step_of(2.4e9, 2.4e9, 4.0);
    const fe_claim_cause gives = cause_of(&there, "less wall loss");
    const fe_claim_cause takes = cause_of(&back, "less wall loss");
    const fe_claim_cause none = cause_of(&still, "less wall loss");
    assert_close(gives.low_db, -takes.high_db, 1e-9);
    assert_close(gives.high_db, -takes.low_db, 1e-9);
    assert_close(none.low_db, 0.0, 1e-12);
    assert_close(none.high_db, 0.0, 1e-12);
}

static void causes__have_a_size_and_a_source(void **state)
{
    (void)state;
    const fe_claim_step step = step_of(5.2e9, 2.4e9, 4.0);
    const fe_claim_answer answer = answer_of(&step);
    static const char *const NAMES[] = {"lower rate", "narrower channel", "less wall loss",
                                        "quieter channel", "no flipping between bands"};
    for (size_t n = 0; n < sizeof NAMES / sizeof NAMES[0]; n++) {
        bool found = false;
        for (size_t i = 0; i < answer.cause_count; i++)
            found = found || strcmp(answer.causes[i].name, NAMES[n]) == 0;
        assert_true(found);
    }
    for (size_t i = 0; i < answer.cause_count; i++) {
        assert_true(answer.causes[i].low_db <= answer.causes[i].high_db);
        assert_non_null(answer.causes[i].how);
        assert_non_null(answer.causes[i].source);
    }
    /* Sensitivities of 20 MHz: -64 dBm at 64-QAM 5/6, -82 dBm at BPSK 1/2. */
    assert_close(answer.causes[0].high_db, 18.0, 1e-9);
    assert_close(answer.causes[1].low_db, 3.0103, 1e-4);
    assert_close(answer.causes[1].high_db, 6.0206, 1e-4);
    /* Below 1 GHz from 20 MHz to 2 or 1 MHz: a tenth and a twentieth of the noise. */
    const fe_claim_step low_step = step_of(2.4e9, 868e6, 4.0);
    const fe_claim_answer low = answer_of(&low_step);
    assert_string_equal(low.causes[1].name, "narrower channel");
    assert_close(low.causes[1].low_db, 10.0, 1e-9);
    assert_close(low.causes[1].high_db, 13.0103, 1e-4);
}

/*
 * Europe: 25 mW (Decision (EU) 2018/1538) out of a dipole of 2.15 dB, 16.13 dBm, below 1 GHz, and
 * 20 dBm at 2.4 GHz (EN 300 328); USA: 1 W at both (47 CFR 15.247); from memory. No 20 MHz fit
 * into what lies nearest to 1.05 GHz.
 */
static void power_allowed__is_that_of_the_widths_in_use(void **state)
{
    (void)state;
    static const struct {
        fe_region region;
        double to_hz, change_db; /* NAN: no such cause */
    } ROWS[] = {{FE_REGION_EU, 868e6, 16.13 - 20.0},
                {FE_REGION_US, 915e6, 0.0},
                {FE_REGION_EU, 1.05e9, (double)NAN}};
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        fe_claim_step step = step_of(2.4e9, ROWS[i].to_hz, 4.0);
        step.region = ROWS[i].region;
        const double change_db = cause_of(&step, "power allowed").low_db;
        if (isnan(ROWS[i].change_db))
            assert_true(isnan(change_db));
        else
            assert_close(change_db, ROWS[i].change_db, 0.03);
    }
}

static void closed_frequency__has_a_nearest_open_band(void **state)
{
    (void)state;
    fe_claim_band band;
    assert_true(fe_claim_band_at(FE_REGION_EU, 3.1e9, &band) >= 0);
    assert_false(band.open);
    assert_int_equal(band.band, FE_BAND_2_4_GHZ);
    assert_close(band.named_hz, 2.4e9, 1.0);
    assert_close(band.f_hz, 2437e6, 1.0);
    assert_true(fe_claim_band_at(FE_REGION_EU, 2.437e9, &band) >= 0);
    assert_true(band.open);
    assert_close(band.f_hz, 2.437e9, 1.0);
    assert_true(fe_claim_band_at(FE_REGION_EU, 5.2e9, &band) >= 0);
    assert_true(band.open && band.indoors);
    /* USA: 20.1 GHz is 2.821 times 7.125 GHz, and 57 GHz is 2.836 times 20.1 GHz. */
    assert_true(fe_claim_band_at(FE_REGION_US, 20.1e9, &band) >= 0);
    assert_false(band.open);
    assert_int_equal(band.band, FE_BAND_6_GHZ);
    assert_int_equal(fe_claim_band_at(FE_REGIONS, 5.2e9, &band), FE_E_DOMAIN);
}

/* 5 GHz was once said to be closed, with the 5 GHz band as the nearest open one. */
static void name_of_a_band__is_no_channel_at_its_edge(void **state)
{
    (void)state;
    static const double NAMED_HZ[] = {2.4e9, 5e9, 6e9, 60e9};
    for (size_t i = 0; i < sizeof NAMED_HZ / sizeof NAMED_HZ[0]; i++) {
        fe_claim_band band;
        assert_true(fe_claim_band_at(FE_REGION_EU, NAMED_HZ[i], &band) >= 0);
        assert_true(band.open && band.by_name);
        assert_close(band.named_hz, NAMED_HZ[i], 1.0);
        assert_close(band.f_hz, fe_band_frequency(band.band, FE_REGION_EU), 1.0);
    }
    fe_claim_band band;
    assert_true(fe_claim_band_at(FE_REGION_EU, 900e6, &band) >= 0);
    assert_false(band.open || band.by_name); /* for telephones there */
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    fe_claim_answer answer;
    fe_claim_step step = step_of(NAN, 2.4e9, 4.0);
    assert_int_equal(fe_claim_test(&step, &answer), FE_E_DOMAIN);
    step = step_of(5.2e9, 2.4e6, 4.0);
    assert_int_equal(fe_claim_test(&step, &answer), FE_E_DOMAIN);
    step = step_of(5.2e9, 2.4e9, 0.0);
    assert_int_equal(fe_claim_test(&step, &answer), FE_E_DOMAIN);
    step = step_of(5.2e9, 2.4e9, 4.0);
    step.height_m[1] = NAN;
    assert_int_equal(fe_claim_test(&step, &answer), FE_E_DOMAIN);
    const fe_hop_wall wall = {"cardboard", NAN};
    step = step_of(5.2e9, 2.4e9, 4.0);
    step.walls = &wall;
    step.wall_count = 1;
    assert_int_equal(fe_claim_test(&step, &answer), FE_E_DOMAIN);
}

static void keep_claim(kept *numbers, const fe_claim_step *step)
{
    fe_claim_answer answer;
    const fe_status status = fe_claim_test(step, &answer);
    kept_number(numbers, "status", status);
    if (status < 0)
        return;
    kept_number(numbers, "verdict", answer.verdict);
    kept_number(numbers, "free_space equal_gain", answer.free_space.equal_gain);
    kept_number(numbers, "free_space one_equal_area", answer.free_space.one_equal_area);
    kept_number(numbers, "free_space equal_area", answer.free_space.equal_area);
    kept_number(numbers, "beyond equal_gain", answer.beyond.equal_gain);
    kept_number(numbers, "beyond one_equal_area", answer.beyond.one_equal_area);
    kept_number(numbers, "beyond equal_area", answer.beyond.equal_area);
    kept_number(numbers, "break_from_m", answer.break_from_m);
    kept_number(numbers, "break_to_m", answer.break_to_m);
    kept_number(numbers, "through_free_space", answer.through_free_space);
    kept_number(numbers, "through_beyond", answer.through_beyond);
    kept_number(numbers, "obstacles_db", answer.obstacles_db);
    kept_number(numbers, "unexplained_db", answer.unexplained_db);
    kept_number(numbers, "unexplained_beyond_db", answer.unexplained_beyond_db);
    kept_number(numbers, "causes_db", answer.causes_db);
    for (size_t i = 0; i < answer.cause_count; i++) {
        kept_number(numbers, "cause low_db", answer.causes[i].low_db);
        kept_number(numbers, "cause high_db", answer.causes[i].high_db);
    }
}

/* Every step between two frequencies, in and between the bands, as it was judged. */
static void claims__are_judged_as_they_were(void **state)
{
    (void)state;
    static const double STEPS_HZ[] = {433e6, 866e6, 915e6, 2437e6, 5580e6, 6100e6, 60.48e9};
    enum { STEPS = sizeof STEPS_HZ / sizeof STEPS_HZ[0] };
    static const fe_hop_wall BRICK = {.kind = "brick", .thickness_m = 0.11};
    kept *numbers = kept_open("claims");
    for (size_t from = 0; from < STEPS; from++)
        for (size_t to = 0; to < STEPS; to++)
            for (int kind = 0; kind < 4; kind++) {
                fe_claim_step step = step_of(STEPS_HZ[from], STEPS_HZ[to], 1.5 + kind);
                step.region = (fe_region)kind;
                step.walls = &BRICK;
                step.wall_count = kind & 1;
                step.trees_m = kind & 2 ? 12.0 : 0.0;
                keep_claim(numbers, &step);
            }
    kept_close(numbers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(percent_and_times__are_told_apart),
        cmocka_unit_test(slips_of_the_unit__are_noticed),
        cmocka_unit_test(frequency__gives_its_ratio_in_free_space),
        cmocka_unit_test(beyond_the_break_point__frequency_gives_nothing),
        cmocka_unit_test(verdict__follows_from_what_is_left),
        cmocka_unit_test(there_and_back__is_no_change),
        cmocka_unit_test(less_wall_loss__turns_round_with_the_step),
        cmocka_unit_test(causes__have_a_size_and_a_source),
        cmocka_unit_test(power_allowed__is_that_of_the_widths_in_use),
        cmocka_unit_test(closed_frequency__has_a_nearest_open_band),
        cmocka_unit_test(name_of_a_band__is_no_channel_at_its_edge),
        cmocka_unit_test(nonsense__is_refused),
        cmocka_unit_test(claims__are_judged_as_they_were),
    };
    return FE_RUN_TESTS(tests);
}
