/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cost of all pairs of places against calling the single-path routine for each of them, side by
 * side in one run. Times are those of the processor, not of the clock on the wall, so that other
 * programs disturb less; only that of two cores is on the wall. Built with the tests, not run by
 * them:
 *
 *     bench_pairs [PROFILE.csv]...
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "clock.h"
#include "farend/diffraction.h"
#include "farend/pairs.h"
#include "farend/profile.h"

enum { MOST = 4096 };

typedef struct ground {
    size_t n;
    double d_m[MOST];
    double h_m[MOST];
    double antenna_m[MOST];
} ground;

/* Hills of several sizes on a slope, a step apart; or a profile stretched to n points. */
static void make_ground(const fe_profile *profile, size_t n, double step_m, double mast_m,
                        ground *g)
{
    g->n = n;
    for (size_t i = 0; i < n; i++) {
        const double x = step_m * (double)i;
        g->d_m[i] = x;
        g->h_m[i] = profile ? fe_profile_height_at(profile, fe_profile_length(profile) *
                                                                (double)i / (double)(n - 1))
                            : 6.0 * sin(x / 170.0) + 1.5 * sin(x / 31.0 + 1.0) +
                                  0.3 * sin(x / 5.3) + 0.01 * x;
        g->antenna_m[i] = g->h_m[i] + mast_m;
    }
}

static void add_row(void *context, size_t i, const fe_pair *pairs, size_t count)
{
    double *sums = context;
    sums[i] = 0.0;
    for (size_t k = 0; k < count; k++)
        sums[i] += pairs[k].loss_db;
}

static double sums[MOST];

static double time_pairs(const ground *g, double f_hz, unsigned threads, double *total)
{
    const fe_pairs pairs = {.d_m = g->d_m,
                            .h_m = g->h_m,
                            .n = g->n,
                            .antenna1_m = g->antenna_m,
                            .antenna2_m = g->antenna_m,
                            .wave = fe_diffraction_wave_over_land(f_hz, 8.5e6, true),
                            .threads = threads};
    double best_s = INFINITY;
    for (int round = 0; round < 5; round++) {
        const clockid_t clock = threads > 1 ? CLOCK_MONOTONIC : CLOCK_THREAD_CPUTIME_ID;
        const double start_s = seconds(clock);
        if (fe_pairs_compute(&pairs, add_row, sums, NULL) < 0)
            exit(1);
        best_s = fmin(best_s, seconds(clock) - start_s);
    }
    *total = 0.0;
    for (size_t i = 0; i + 1 < g->n; i++)
        *total += sums[i];
    return best_s;
}

static double time_single(const ground *g, double f_hz, double *total)
{
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(f_hz, 8.5e6, true);
    *total = 0.0;
    const double start_s = seconds(CLOCK_THREAD_CPUTIME_ID);
    for (size_t i = 0; i < g->n; i++)
        for (size_t j = i + 1; j < g->n; j++) {
            const fe_diffraction_path path = {.d_m = g->d_m + i,
                                              .h_m = g->h_m + i,
                                              .n = j - i + 1,
                                              .antenna1_m = g->antenna_m[i],
                                              .antenna2_m = g->antenna_m[j]};
            fe_delta_bullington result;
            if (fe_delta_bullington_loss(&path, &wave, &result) < 0)
                exit(1);
            *total += result.loss_db;
        }
    return seconds(CLOCK_THREAD_CPUTIME_ID) - start_s;
}

static void compare(const char *name, const fe_profile *profile, double f_hz, double mast_m)
{
    static ground g;
    double one_db = 0.0, two_db = 0.0, single_db = 0.0;
    make_ground(profile, 1000, 1.0, mast_m, &g);
    const double one_s = time_pairs(&g, f_hz, 1, &one_db);
    const double two_s = time_pairs(&g, f_hz, 2, &two_db);
    const double single_s = time_single(&g, f_hz, &single_db);
    printf("%-24s %5.0f MHz  single %7.1f ms  pairs %6.1f ms (%4.1f times)  two cores %6.1f ms "
           "(%4.1f times)  sums differ by %.1e\n",
           name, f_hz / 1e6, 1e3 * single_s, 1e3 * one_s, single_s / one_s, 1e3 * two_s,
           single_s / two_s, fabs(one_db - single_db) + fabs(two_db - single_db));
}

static void show_growth(double f_hz, double mast_m)
{
    static ground g;
    double total_db = 0.0, before_s = 0.0;
    for (size_t n = 250; n <= 4000; n *= 2) {
        make_ground(NULL, n, 1.0, mast_m, &g);
        const double one_s = time_pairs(&g, f_hz, 1, &total_db);
        printf("hills %5.0f MHz n %4zu: %8.2f ms, %4.0f ns a pair", f_hz / 1e6, n, 1e3 * one_s,
               2e9 * one_s / (double)n / (double)n);
        printf(before_s > 0.0 ? ", %.2f times the half\n" : "\n", one_s / before_s);
        before_s = one_s;
    }
}

int main(int argc, char **argv)
{
    fe_init();
    compare("hills at 1 m", NULL, 2437e6, 3.0);
    compare("hills at 1 m", NULL, 5580e6, 3.0);
    compare("hills at 1 m", NULL, 917e6, 2.0);
    for (int i = 1; i < argc; i++) {
        fe_profile profile = {0};
        fe_messages messages = {0};
        if (fe_profile_read(argv[i], &profile, &messages) < 0) {
            fprintf(stderr, "%s: cannot be read\n", argv[i]);
            return 2;
        }
        compare(argv[i], &profile, 2437e6, 3.0);
        compare(argv[i], &profile, 5580e6, 3.0);
        compare(argv[i], &profile, 917e6, 2.0);
        fe_profile_free(&profile);
        fe_messages_free(&messages);
    }
    show_growth(2437e6, 3.0);
    show_growth(917e6, 2.0);
    return 0;
}
