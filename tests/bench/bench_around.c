/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cost of the map around a place against calling the single-path routine for its cells, side by
 * side in one run. Built with the tests, not run by them:
 *
 *     bench_around [SIDE]
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "clock.h"
#include "farend/around.h"
#include "link.h"

enum { SINGLE_PATHS = 300 };

static const fe_wanted WANTED = {
    .rate_bps = {2e6, 1e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};

static void *room(size_t count, size_t size)
{
    void *made = calloc(count, size);
    if (!made)
        exit(1);
    return made;
}

/* Hills of three sizes on a slope, a metre apart. */
static float *make_land(size_t side, fe_around_land *land)
{
    float *heights = room(side * side, sizeof *heights);
    const double middle = (double)(side / 2);
    for (size_t row = 0; row < side; row++)
        for (size_t column = 0; column < side; column++) {
            const double x = (double)column - middle;
            const double y = middle - (double)row;
            heights[row * side + column] =
                (float)(0.01 * x + 6.0 * sin(x / 170.0) * cos(y / 140.0) +
                        1.5 * sin((x + y) / 31.0 + 1.0) + 0.2 * sin(x / 5.3) * sin(y / 6.1));
        }
    *land = (fe_around_land){.height_m = heights,
                             .columns = side,
                             .rows = side,
                             .east_m = {1.0, 0.0},
                             .north_m = {0.0, -1.0},
                             .column = middle,
                             .row = middle};
    return heights;
}

static double single_margin(const fe_around *around, double columns, double rows)
{
    const fe_around_land *land = &around->land;
    const double length_m = hypot(columns, rows);
    const double pieces = ceil(length_m);
    fe_profile profile;
    if (fe_profile_new((size_t)pieces + 1, false, false, &profile) < 0)
        exit(1);
    for (size_t i = 0; i < profile.count; i++) {
        const double share = (double)i / pieces;
        profile.distance_m[i] = share * length_m;
        profile.height_m[i] =
            fe_around_height(land, land->column + share * columns, land->row + share * rows);
    }
    fe_hop hop = *around->hop;
    fe_hop_budget budget;
    hop.ground = &profile;
    if (fe_hop_budget_compute(&hop, around->seasons, around->season_count, around->wanted,
                              &budget) < 0)
        exit(1);
    const double margin_db = budget.seasons[budget.worst].margin_db;
    fe_hop_budget_free(&budget);
    fe_profile_free(&profile);
    return margin_db;
}

/* Seconds a cell by the single path, over cells strewn evenly over the disc. */
static double time_single(const fe_around *around, const float *margin_db)
{
    size_t over = 0;
    double largest_db = 0.0;
    const double start_s = seconds(CLOCK_PROCESS_CPUTIME_ID);
    for (int i = 0; i < SINGLE_PATHS; i++) {
        const double distance = around->radius_m * sqrt((i + 0.5) / SINGLE_PATHS);
        const double turn = 2.399963 * i;
        const double columns = round(distance * 0.99 * sin(turn));
        const double rows = round(distance * 0.99 * cos(turn));
        const size_t index = (size_t)(around->land.row + rows) * around->land.columns +
                             (size_t)(around->land.column + columns);
        const double apart_db =
            fabs(single_margin(around, columns, rows) - (double)margin_db[index]);
        largest_db = fmax(largest_db, apart_db);
        over += apart_db > 0.5;
    }
    const double each_s = (seconds(CLOCK_PROCESS_CPUTIME_ID) - start_s) / SINGLE_PATHS;
    printf("single path: %.0f us a cell; of %d cells %zu differ by more than 0.5 dB, the "
           "largest by %.2f dB\n",
           1e6 * each_s, SINGLE_PATHS, over, largest_db);
    return each_s;
}

/* Seconds of a processor a cell. */
static double time_map(const fe_around *around, float *margin_db, float *chance)
{
    fe_around_count count;
    const double start_s = seconds(CLOCK_MONOTONIC);
    const double start_cpu_s = seconds(CLOCK_PROCESS_CPUTIME_ID);
    if (fe_around_compute(around, margin_db, chance, &count) < 0)
        exit(1);
    const double whole_s = seconds(CLOCK_MONOTONIC) - start_s;
    const double each_s =
        (seconds(CLOCK_PROCESS_CPUTIME_ID) - start_cpu_s) / (double)count.cells;
    printf("map, %u thread%s: %zu cells in %.2f s, %.0f cells a second of the clock, %.0f a "
           "second of a core; %zu left to the single path\n",
           around->threads, around->threads == 1 ? "" : "s", count.cells, whole_s,
           (double)count.cells / whole_s, 1.0 / each_s, count.alone);
    return each_s;
}

int main(int argc, char **argv)
{
    fe_init();
    const size_t side = argc > 1 ? (size_t)atoi(argv[1]) : 1000;
    const fe_climate climate = {.deepest_snow_m = 0.5,
                                .coldest_c = -20.0,
                                .hottest_c = 32.0,
                                .rain_mm_h = 32.0,
                                .crop_height_m = 0.3};
    fe_season seasons[FE_USUAL_SEASONS];
    fe_seasons_usual(&climate, seasons);
    fe_hop hop = {.land = FE_LAND_MEADOW, .region = FE_REGION_EU, .f_hz = 2437e6};
    for (int end = 0; end < 2; end++)
        hop.ends[end] = (fe_station){.radio = &ROUTER,
                                     .antenna_built_in = true,
                                     .height_m = 4.0,
                                     .mount = FE_MOUNT_OUTDOORS};
    fe_around around = {.hop = &hop,
                        .seasons = seasons,
                        .season_count = FE_USUAL_SEASONS,
                        .wanted = &WANTED,
                        .radius_m = (double)(side / 2) - 1.0};
    float *heights = make_land(side, &around.land);
    float *margin_db = room(side * side, sizeof *margin_db);
    float *chance = room(side * side, sizeof *chance);
    around.threads = 1;
    const double one_s = time_map(&around, margin_db, chance);
    around.threads = 2;
    time_map(&around, margin_db, chance);
    printf("%.0f times as fast as the single path\n", time_single(&around, margin_db) / one_s);
    free(heights);
    free(margin_db);
    free(chance);
    return 0;
}
