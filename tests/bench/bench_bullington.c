/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cost of delta-Bullington a point of the profile, against a bare pass over the same points
 * with one division each, side by side in one run:
 *
 *     bench_bullington
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "clock.h"
#include "farend/diffraction.h"

enum { MOST = 10000, POINTS_A_ROUND = 2000000, ROUNDS = 7 };

/* The steepest slope from the first antenna: what any look at a profile must do at least. */
static double bare_pass(const fe_diffraction_path *path)
{
    double steepest = -INFINITY;
    for (size_t i = 1; i < path->n; i++) {
        const double slope = (path->h_m[i] - path->antenna1_m) / path->d_m[i];
        steepest = slope > steepest ? slope : steepest;
    }
    return steepest;
}

static double diffraction(const fe_diffraction_path *path)
{
    const fe_diffraction_wave wave = fe_diffraction_wave_over_land(2437e6, 8.5e6, true);
    fe_delta_bullington result;
    if (fe_delta_bullington_loss(path, &wave, &result) < 0)
        exit(1);
    return result.loss_db;
}

static double ns_a_point(double (*pass)(const fe_diffraction_path *),
                         const fe_diffraction_path *path, double *sum)
{
    const size_t repeats = POINTS_A_ROUND / path->n;
    double best_s = INFINITY;
    for (int round = 0; round < ROUNDS; round++) {
        const double start_s = seconds(CLOCK_PROCESS_CPUTIME_ID);
        for (size_t i = 0; i < repeats; i++)
            *sum += pass(path);
        best_s = fmin(best_s, seconds(CLOCK_PROCESS_CPUTIME_ID) - start_s);
    }
    return 1e9 * best_s / (double)(repeats * path->n);
}

int main(void)
{
    static double d_m[MOST], h_m[MOST];
    double sum = 0.0;
    fe_init();
    for (size_t i = 0; i < MOST; i++) {
        d_m[i] = (double)i;
        h_m[i] = 6.0 * sin(d_m[i] / 170.0) + 1.5 * sin(d_m[i] / 31.0 + 1.0) + 0.01 * d_m[i];
    }
    for (size_t n = 100; n <= MOST; n *= 10)
        for (int high = 0; high < 2; high++) {
            const double mast_m = high ? 60.0 : 3.0;
            const fe_diffraction_path path = {.d_m = d_m,
                                              .h_m = h_m,
                                              .n = n,
                                              .antenna1_m = h_m[0] + mast_m,
                                              .antenna2_m = h_m[n - 1] + mast_m};
            const double bare_ns = ns_a_point(bare_pass, &path, &sum);
            const double full_ns = ns_a_point(diffraction, &path, &sum);
            printf("delta-Bullington, %5zu points, %s: %5.1f ns a point, bare pass %4.1f ns, "
                   "ratio %.1f\n",
                   n, high ? "masts of 60 m" : "masts of 3 m ", full_ns, bare_ns,
                   full_ns / bare_ns);
        }
    return isnan(sum) ? 1 : 0;
}
