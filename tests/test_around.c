/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/around.h"

#include <math.h>
#include <stdlib.h>

#include "farend/constants.h"
#include "farend/gear.h"
#include "testing.h"

/* ---- Land of a known shape ---- */

enum { SIDE = 201 };

static const double STEP_M = 2.0;
static const double MIDDLE = 100.0;

typedef double (*surface)(double east_m, double north_m);

static double level_ground(double east_m, double north_m)
{
    (void)east_m;
    (void)north_m;
    return 100.0;
}

/* Hills of two sizes on a slope. */
static double hills(double east_m, double north_m)
{
    return 100.0 + 0.02 * east_m + 5.0 * sin(east_m / 47.0 + 0.3) * cos(north_m / 61.0) +
           1.5 * sin((east_m + north_m) / 23.0);
}

/* A ridge with a sharp top, 60 m to the east. */
static double ridge(double east_m, double north_m)
{
    (void)north_m;
    return 100.0 + fmax(0.0, 8.0 - fabs(east_m - 60.0));
}

static double valley(double east_m, double north_m)
{
    return 100.0 + 0.002 * (east_m * east_m + north_m * north_m);
}

static float *make_land(surface height, fe_around_land *land)
{
    float *heights = calloc((size_t)SIDE * SIDE, sizeof *heights);
    assert_non_null(heights);
    for (size_t row = 0; row < SIDE; row++)
        for (size_t column = 0; column < SIDE; column++)
            heights[row * SIDE + column] = (float)height(STEP_M * ((double)column - MIDDLE),
                                                         STEP_M * (MIDDLE - (double)row));
    *land = (fe_around_land){.height_m = heights,
                             .columns = SIDE,
                             .rows = SIDE,
                             .east_m = {STEP_M, 0.0},
                             .north_m = {0.0, -STEP_M},
                             .column = MIDDLE,
                             .row = MIDDLE};
    return heights;
}

/* ---- A link ---- */

static const fe_radio PLAIN = {.band = FE_BAND_2_4_GHZ,
                               .standard = "ht",
                               .width_hz = 20e6,
                               .streams = 2,
                               .power_dbm = 18.0,
                               .falloff_db = 4.0,
                               .gain_dbi = 3.0,
                               .beam_rad = 2.0 * FE_PI,
                               .tilt_beam_rad = 60.0 * FE_DEG_RAD,
                               .polarisation = FE_ANTENNA_VERTICAL};

static fe_hop make_hop(double f_hz, const fe_radio *radio, double first_m, double second_m)
{
    fe_hop hop = {.land = FE_LAND_MEADOW, .region = FE_REGION_EU, .f_hz = f_hz};
    for (int end = 0; end < 2; end++)
        hop.ends[end] = (fe_station){.radio = radio,
                                     .antenna_built_in = true,
                                     .height_m = end == 0 ? first_m : second_m,
                                     .mount = FE_MOUNT_OUTDOORS};
    return hop;
}

static const fe_wanted WANTED = {
    .rate_bps = {2e6, 1e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};

typedef struct seasons {
    fe_season items[FE_USUAL_SEASONS];
} seasons;

static seasons usual(double snow_m)
{
    const fe_climate climate = {.deepest_snow_m = snow_m,
                                .coldest_c = -20.0,
                                .hottest_c = 32.0,
                                .ice_m = 0.01,
                                .wind_m_s = 30.0,
                                .rain_mm_h = 32.0,
                                .crop_height_m = 0.5};
    seasons made;
    fe_seasons_usual(&climate, made.items);
    return made;
}

/* The same cell by the single path, its profile sampled from the raster as `terrain` does. */
static double single_margin(const fe_hop *hop, const seasons *s, const fe_around_land *land,
                            double east_m, double north_m)
{
    const double length_m = hypot(east_m, north_m);
    const double pieces = ceil(length_m / STEP_M);
    fe_profile profile;
    assert_int_equal(fe_profile_new((size_t)pieces + 1, false, false, &profile), FE_OK);
    for (size_t i = 0; i < profile.count; i++) {
        const double share = (double)i / pieces;
        profile.distance_m[i] = share * length_m;
        profile.height_m[i] = fe_around_height(land, MIDDLE + share * east_m / STEP_M,
                                               MIDDLE - share * north_m / STEP_M);
    }
    fe_hop along = *hop;
    fe_hop_budget budget;
    along.ground = &profile;
    assert_true(fe_hop_budget_compute(&along, s->items, FE_USUAL_SEASONS, &WANTED, &budget) >=
                0);
    const double margin_db = budget.seasons[budget.worst].margin_db;
    fe_hop_budget_free(&budget);
    fe_profile_free(&profile);
    return margin_db;
}

typedef struct map {
    fe_around_land land;
    float *heights;
    float *margin_db;
    float *chance;
    fe_around_count count;
    fe_status status;
} map;

static map make_map(const fe_hop *hop, const seasons *s, surface height, unsigned threads)
{
    map made = {0};
    made.heights = make_land(height, &made.land);
    made.margin_db = calloc((size_t)SIDE * SIDE, sizeof *made.margin_db);
    made.chance = calloc((size_t)SIDE * SIDE, sizeof *made.chance);
    assert_non_null(made.margin_db);
    assert_non_null(made.chance);
    const fe_around around = {.hop = hop,
                              .seasons = s->items,
                              .season_count = FE_USUAL_SEASONS,
                              .wanted = &WANTED,
                              .land = made.land,
                              .radius_m = 180.0,
                              .threads = threads};
    made.status = fe_around_compute(&around, made.margin_db, made.chance, &made.count);
    return made;
}

static void map_free(map *made)
{
    free(made->heights);
    free(made->margin_db);
    free(made->chance);
}

/* Cells in all directions and distances, each against the single path. */
static void check_cells(double f_hz, const fe_radio *radio, surface height, double snow_m,
                        double first_m, double second_m)
{
    const fe_hop hop = make_hop(f_hz, radio, first_m, second_m);
    const seasons s = usual(snow_m);
    map made = make_map(&hop, &s, height, 2);
    assert_true(made.status >= 0);
    size_t compared = 0;
    double worst_db = 0.0;
    for (size_t row = 4; row < SIDE; row += 16)
        for (size_t column = 5; column < SIDE; column += 16) {
            const double got_db = (double)made.margin_db[row * SIDE + column];
            const double east_m = STEP_M * ((double)column - MIDDLE);
            const double north_m = STEP_M * (MIDDLE - (double)row);
            assert_true(isnan(got_db) == (hypot(east_m, north_m) > 180.0));
            if (isnan(got_db))
                continue;
            const double wanted_db = single_margin(&hop, &s, &made.land, east_m, north_m);
            if (fabs(got_db - wanted_db) > 0.5)
                print_message("%4.0f m east %4.0f m north: %.2f dB, single path %.2f dB\n",
                              east_m, north_m, got_db, wanted_db);
            worst_db = fmax(worst_db, fabs(got_db - wanted_db));
            compared++;
        }
    print_message("%zu cells at %.0f MHz, largest difference %.2f dB; %zu of %zu by profile\n",
                  compared, f_hz / 1e6, worst_db, made.count.profiles, made.count.cells);
    map_free(&made);
    assert_true(compared > 80);
    assert_true(worst_db <= 0.5);
}

static void cell__equals_the_single_path_on_level_ground(void **state)
{
    (void)state;
    check_cells(2437e6, &PLAIN, level_ground, 0.4, 4.0, 3.0);
}

static void cell__equals_the_single_path_over_hills(void **state)
{
    (void)state;
    check_cells(2437e6, &PLAIN, hills, 0.4, 4.0, 3.0);
    check_cells(2437e6, &PLAIN, hills, 0.0, 2.0, 2.0);
}

static void cell__equals_the_single_path_behind_a_ridge(void **state)
{
    (void)state;
    check_cells(2437e6, &PLAIN, ridge, 0.3, 3.0, 3.0);
}

static void cell__equals_the_single_path_across_a_valley(void **state)
{
    (void)state;
    check_cells(2437e6, &PLAIN, valley, 0.8, 3.0, 2.5);
}

static void cell__equals_the_single_path_in_other_bands(void **state)
{
    (void)state;
    const fe_radio low = {.band = FE_BAND_SUB_GHZ,
                          .standard = "s1g",
                          .width_hz = 2e6,
                          .streams = 1,
                          .power_dbm = 14.0,
                          .gain_dbi = 2.0,
                          .beam_rad = 2.0 * FE_PI,
                          .tilt_beam_rad = 70.0 * FE_DEG_RAD};
    const fe_radio high = {.band = FE_BAND_5_GHZ,
                           .standard = "vht",
                           .width_hz = 40e6,
                           .streams = 2,
                           .power_dbm = 20.0,
                           .falloff_db = 5.0,
                           .gain_dbi = 14.0,
                           .beam_rad = 30.0 * FE_DEG_RAD,
                           .tilt_beam_rad = 30.0 * FE_DEG_RAD,
                           .polarisation = FE_ANTENNA_DUAL};
    check_cells(866e6, &low, hills, 0.4, 3.0, 2.0);
    check_cells(5580e6, &high, hills, 0.4, 3.0, 4.0);
}

/* ---- What must hold of any map ---- */

static void map__is_the_same_on_one_core(void **state)
{
    (void)state;
    const fe_hop hop = make_hop(2437e6, &PLAIN, 4.0, 3.0);
    const seasons s = usual(0.4);
    map one = make_map(&hop, &s, hills, 1);
    map two = make_map(&hop, &s, hills, 2);
    assert_int_equal(one.count.cells, two.count.cells);
    assert_int_equal(one.count.holds, two.count.holds);
    for (size_t i = 0; i < (size_t)SIDE * SIDE; i++)
        assert_true(isnan(one.margin_db[i]) ? isnan(two.margin_db[i])
                                            : one.margin_db[i] == two.margin_db[i]);
    map_free(&one);
    map_free(&two);
}

static void map__falls_with_distance_on_level_ground(void **state)
{
    (void)state;
    const fe_hop hop = make_hop(2437e6, &PLAIN, 4.0, 3.0);
    const seasons s = usual(0.0);
    map made = make_map(&hop, &s, level_ground, 1);
    const float *line = made.margin_db + (size_t)(MIDDLE * SIDE + MIDDLE);
    assert_true(line[10] > line[80] + 10.0f);
    /* The same to all sides. */
    assert_close(line[60], line[-60], 0.01);
    assert_close(line[60], line[60 * SIDE], 0.01);
    map_free(&made);
}

static void map__under_the_snow_nothing_works(void **state)
{
    (void)state;
    const fe_hop hop = make_hop(2437e6, &PLAIN, 4.0, 1.0);
    const seasons s = usual(1.2);
    map made = make_map(&hop, &s, level_ground, 1);
    assert_true(made.status >= 0);
    assert_int_equal(made.count.holds, 0);
    assert_true(made.margin_db[(size_t)(MIDDLE * SIDE + MIDDLE) + 20] == -INFINITY);
    map_free(&made);
}

static void height__is_linear_between_the_middles(void **state)
{
    (void)state;
    const float heights[] = {1.0f, 2.0f, 3.0f, 8.0f};
    const fe_around_land land = {.height_m = heights, .columns = 2, .rows = 2};
    assert_close(fe_around_height(&land, 0.0, 0.0), 1.0, 0.0);
    assert_close(fe_around_height(&land, 1.0, 1.0), 8.0, 0.0);
    assert_close(fe_around_height(&land, 0.5, 0.5), 3.5, 1e-12);
    assert_close(fe_around_height(&land, -0.4, 0.0), 1.0, 0.0);
    assert_true(isnan(fe_around_height(&land, 1.6, 0.0)));
    assert_true(isnan(fe_around_height(&land, (double)NAN, 0.0)));
}

static void around__refuses_what_is_out_of_range(void **state)
{
    (void)state;
    const fe_hop hop = make_hop(2437e6, &PLAIN, 4.0, 3.0);
    const seasons s = usual(0.0);
    fe_around_land land;
    float *heights = make_land(level_ground, &land);
    float *margin_db = calloc((size_t)SIDE * SIDE, sizeof *margin_db);
    fe_around_count count;
    const fe_around good = {.hop = &hop,
                            .seasons = s.items,
                            .season_count = FE_USUAL_SEASONS,
                            .wanted = &WANTED,
                            .land = land,
                            .radius_m = 20.0};
    fe_around bad = good;
    bad.radius_m = NAN;
    assert_int_equal(fe_around_compute(&bad, margin_db, NULL, &count), FE_E_DOMAIN);
    bad = good;
    bad.radius_m = 1.0 + FE_AROUND_MOST_M;
    assert_int_equal(fe_around_compute(&bad, margin_db, NULL, &count), FE_E_DOMAIN);
    bad = good;
    bad.land.column = -3.0;
    assert_int_equal(fe_around_compute(&bad, margin_db, NULL, &count), FE_E_DOMAIN);
    bad = good;
    bad.land.east_m[0] = 0.0;
    assert_int_equal(fe_around_compute(&bad, margin_db, NULL, &count), FE_E_DOMAIN);
    bad = good;
    bad.season_count = 0;
    assert_int_equal(fe_around_compute(&bad, margin_db, NULL, &count), FE_E_DOMAIN);
    assert_true(fe_around_compute(&good, margin_db, NULL, &count) >= 0);
    free(heights);
    free(margin_db);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cell__equals_the_single_path_on_level_ground),
        cmocka_unit_test(cell__equals_the_single_path_over_hills),
        cmocka_unit_test(cell__equals_the_single_path_behind_a_ridge),
        cmocka_unit_test(cell__equals_the_single_path_across_a_valley),
        cmocka_unit_test(cell__equals_the_single_path_in_other_bands),
        cmocka_unit_test(map__is_the_same_on_one_core),
        cmocka_unit_test(map__falls_with_distance_on_level_ground),
        cmocka_unit_test(map__under_the_snow_nothing_works),
        cmocka_unit_test(height__is_linear_between_the_middles),
        cmocka_unit_test(around__refuses_what_is_out_of_range),
    };
    return FE_RUN_TESTS(tests);
}
