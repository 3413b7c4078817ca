/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/pairs.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/profile.h"
#include "kept.h"
#include "testing.h"

/* ---- Profiles ---- */

enum { MOST = 2048 };

typedef struct ground {
    const char *name;
    size_t n;
    double d_m[MOST];
    double h_m[MOST];
    double clutter_m[MOST];
    bool cluttered;
} ground;

/* A small generator with a fixed start: the same numbers on every machine. */
static double next_random(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (double)(*state >> 11) / 9007199254740992.0;
}

static void read_reference(const char *name, ground *g)
{
    char path[64];
    snprintf(path, sizeof path, "radio/%s.csv", name);
    *g = (ground){.name = name};
    fe_reference *file = fe_reference_open(path);
    while (fe_reference_next(file) && g->n < MOST) {
        g->d_m[g->n] = 1e3 * fe_reference_need(file, "distance_km");
        g->h_m[g->n] = fe_reference_need(file, "height_m");
        const double clutter_m = fe_reference_number(file, "clutter_m");
        g->clutter_m[g->n] = isfinite(clutter_m) ? clutter_m : 0.0;
        g->cluttered = g->cluttered || g->clutter_m[g->n] > 0.0;
        g->n++;
        fe_reference_pass(file, "a profile, compared pair by pair");
    }
    fe_reference_close(file);
}

/* A shipped profile at n points, evenly or as wide as it is. */
static void read_shipped(const char *name, size_t n, ground *g)
{
    char path[512];
    snprintf(path, sizeof path, "%s/profiles/terrain/%s.csv", FAREND_SOURCE_DIR, name);
    fe_messages messages = {0};
    fe_profile profile = {0};
    *g = (ground){.name = name, .n = n};
    assert_int_equal(fe_profile_read(path, &profile, &messages), FE_OK);
    for (size_t i = 0; i < n; i++) {
        g->d_m[i] = fe_profile_length(&profile) * (double)i / (double)(n - 1);
        g->h_m[i] = fe_profile_height_at(&profile, g->d_m[i]);
    }
    fe_profile_free(&profile);
    fe_messages_free(&messages);
}

/* Ground made to be awkward: ties, edges, a constant share of the zone, uneven steps. */
enum { AWKWARD = 9, AWKWARD_POINTS = 180 };
static void make_awkward(int kind, ground *g)
{
    static const char *const NAMES[AWKWARD] = {
        "even",   "bulge",        "slope with a step",       "needles", "saw", "bowl",
        "random", "uneven steps", "clutter on random ground"};
    uint64_t state = 88172645463325252u + (uint64_t)kind;
    double walk_m = 0.0;
    *g = (ground){.name = NAMES[kind], .n = AWKWARD_POINTS};
    for (size_t i = 0; i < g->n; i++) {
        const double x = (double)i / (double)(g->n - 1);
        const double step_m = kind == 7 ? 0.2 + 40.0 * pow(next_random(&state), 4.0) : 10.0;
        g->d_m[i] = i == 0 ? 0.0 : g->d_m[i - 1] + step_m;
        walk_m += 1.5 * (next_random(&state) - 0.5);
        const double heights_m[AWKWARD] = {
            0.0,
            /* as round as the earth with an effective radius of 8500 km */
            -g->d_m[i] * g->d_m[i] / 17e6,
            -5.0 * x + (x > 0.4 ? 2.0 : 0.0),
            i % 37 == 5 ? 6.0 : 0.0,
            i % 2 ? 1.0 : 0.0,
            40.0 * (x - 0.5) * (x - 0.5),
            walk_m,
            walk_m,
            walk_m,
        };
        g->h_m[i] = heights_m[kind];
        if (kind == 8 && i > 40 && i % 3) {
            g->clutter_m[i] = 5.0 * next_random(&state);
            g->cluttered = true;
        }
    }
}

/* ---- Comparison ---- */

typedef struct comparison {
    const ground *g;
    const double *antenna_m;
    fe_diffraction_wave wave;
    size_t compared;
    double worst_db;
    size_t worst_i;
    size_t worst_j;
} comparison;

static void compare_row(void *context, size_t i, const fe_pair *pairs, size_t count)
{
    comparison *c = context;
    for (size_t k = 0; k < count; k++) {
        const size_t j = i + 1 + k;
        const fe_diffraction_path path = {.d_m = c->g->d_m + i,
                                          .h_m = c->g->h_m + i,
                                          .clutter_m =
                                              c->g->cluttered ? c->g->clutter_m + i : NULL,
                                          .n = j - i + 1,
                                          .antenna1_m = c->antenna_m[i],
                                          .antenna2_m = c->antenna_m[j]};
        fe_delta_bullington wanted;
        assert_true(fe_delta_bullington_loss(&path, &c->wave, &wanted) >= 0);
        double error_db = fabs(pairs[k].loss_db - wanted.loss_db);
        error_db = fmax(error_db, fabs(pairs[k].actual_db - wanted.actual.loss_db));
        error_db = fmax(error_db, fabs(pairs[k].smooth_db - wanted.smooth.loss_db));
        error_db = fmax(error_db, fabs(pairs[k].sphere_db - wanted.sphere.loss_db));
        if (!(error_db <= c->worst_db)) { /* also NaN */
            c->worst_db = error_db;
            c->worst_i = i;
            c->worst_j = j;
        }
        c->compared++;
    }
}

static void check_pairs(const ground *g, double f_hz, double mast_m)
{
    static double antenna_m[MOST];
    for (size_t i = 0; i < g->n; i++)
        antenna_m[i] = g->h_m[i] + mast_m;
    comparison c = {.g = g,
                    .antenna_m = antenna_m,
                    .wave = fe_diffraction_wave_over_land(f_hz, 8.5e6, true)};
    const fe_pairs pairs = {.d_m = g->d_m,
                            .h_m = g->h_m,
                            .clutter_m = g->cluttered ? g->clutter_m : NULL,
                            .n = g->n,
                            .antenna1_m = antenna_m,
                            .antenna2_m = antenna_m,
                            .wave = c.wave,
                            .threads = 1};
    assert_int_equal(fe_pairs_compute(&pairs, compare_row, &c, NULL), FE_OK);
    assert_int_equal(c.compared, g->n * (g->n - 1) / 2);
    if (!(c.worst_db <= 1e-6))
        fail_msg("%s, %.0f MHz, mast %.1f m: off by %g dB from %zu to %zu", g->name, f_hz / 1e6,
                 mast_m, c.worst_db, c.worst_i, c.worst_j);
    printf("%-26s n %4zu %5.0f MHz mast %4.1f m: %.1e dB over %zu pairs\n", g->name, g->n,
           f_hz / 1e6, mast_m, c.worst_db, c.compared);
}

static void pairs__equal_the_single_path_on_published_profiles(void **state)
{
    (void)state;
    static const char *const NAMES[] = {"profile_dbull_path3", "profile_hill_10km_even",
                                        "profile_hill_1km", "profile_hills_4km5",
                                        "profile_mixed_109km"};
    static ground g;
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++) {
        read_reference(NAMES[i], &g);
        if (g.n < 2)
            continue; /* another folder may lack it */
        check_pairs(&g, 2437e6, 3.0);
        check_pairs(&g, 917e6, 2.0);
        check_pairs(&g, 100e6, 30.0);
    }
    read_reference("profile_dbull_path1", &g);
    if (g.n >= 2)
        check_pairs(&g, 2437e6, 10.0);
}

static void pairs__equal_the_single_path_on_shipped_profiles(void **state)
{
    (void)state;
    static ground g;
    read_shipped("low-ridge", 400, &g);
    check_pairs(&g, 2437e6, 3.0);
    check_pairs(&g, 5580e6, 1.5);
    check_pairs(&g, 866e6, 2.0);
}

static void pairs__equal_the_single_path_on_awkward_ground(void **state)
{
    (void)state;
    static ground g;
    for (int kind = 0; kind < AWKWARD; kind++) {
        make_awkward(kind, &g);
        check_pairs(&g, 2437e6, 3.0);
        check_pairs(&g, 917e6, 2.0);
        check_pairs(&g, 60e9, 0.5);
        check_pairs(&g, 400e6, 0.1); /* as near to the ground as an antenna may be */
    }
}

enum { MOST_KEPT = 120 };

static void keep_losses(void *context, size_t i, const fe_pair *pairs, size_t count)
{
    double *losses = context;
    for (size_t k = 0; k < count; k++)
        losses[i * MOST_KEPT + i + 1 + k] = pairs[k].loss_db;
}

static void pairs__of_listed_ends_are_those_of_all(void **state)
{
    (void)state;
    static ground g;
    static double all[MOST_KEPT * MOST_KEPT], few[MOST_KEPT * MOST_KEPT], antenna_m[MOST_KEPT];
    static bool ends[MOST_KEPT];
    make_awkward(0, &g);
    g.n = g.n < MOST_KEPT ? g.n : MOST_KEPT;
    for (size_t i = 0; i < g.n; i++) {
        antenna_m[i] = g.h_m[i] + 3.0;
        ends[i] = i % 7 == 0 || i + 1 == g.n;
    }
    for (size_t i = 0; i < MOST_KEPT * MOST_KEPT; i++)
        few[i] = -1.0;
    fe_pairs pairs = {.d_m = g.d_m,
                      .h_m = g.h_m,
                      .n = g.n,
                      .antenna1_m = antenna_m,
                      .antenna2_m = antenna_m,
                      .wave = fe_diffraction_wave_over_land(2437e6, 8.5e6, true),
                      .threads = 2};
    assert_int_equal(fe_pairs_compute(&pairs, keep_losses, all, NULL), FE_OK);
    pairs.ends = ends;
    assert_int_equal(fe_pairs_compute(&pairs, keep_losses, few, NULL), FE_OK);
    for (size_t i = 0; i < g.n; i++)
        for (size_t j = i + 1; j < g.n; j++) {
            const size_t at = i * MOST_KEPT + j;
            if (ends[i] && ends[j])
                assert_close(few[at], all[at], 0.0);
            if (!ends[i])
                assert_close(few[at], -1.0, 0.0); /* no row came */
        }
}

/* ---- Work ---- */

static void pass_row(void *context, size_t i, const fe_pair *pairs, size_t count)
{
    double *sums = context;
    sums[i] = 0.0;
    for (size_t k = 0; k < count; k++)
        sums[i] += pairs[k].loss_db;
}

static fe_pairs_counts count_work(const ground *g, double f_hz, double mast_m, unsigned threads,
                                  double *sums)
{
    static double antenna_m[MOST];
    for (size_t i = 0; i < g->n; i++)
        antenna_m[i] = g->h_m[i] + mast_m;
    const fe_pairs pairs = {.d_m = g->d_m,
                            .h_m = g->h_m,
                            .n = g->n,
                            .antenna1_m = antenna_m,
                            .antenna2_m = antenna_m,
                            .wave = fe_diffraction_wave_over_land(f_hz, 8.5e6, true),
                            .threads = threads};
    fe_pairs_counts counts;
    assert_int_equal(fe_pairs_compute(&pairs, pass_row, sums, &counts), FE_OK);
    return counts;
}

static void work__stays_within_its_bounds(void **state)
{
    (void)state;
    static ground g;
    static double sums[MOST];
    static const double FREQUENCIES_HZ[] = {917e6, 2437e6, 5580e6};
    read_shipped("low-ridge", 2000, &g);
    const double n = (double)g.n;
    for (size_t i = 0; i < 3; i++) {
        const fe_pairs_counts c =
            count_work(&g, FREQUENCIES_HZ[i], i == 0 ? 2.0 : 3.0, 2, sums);
        printf("%s %.0f MHz: sweeps %.2f n^2, hull %.2f n^2, %llu clear pairs, %.1f visits a "
               "clear pair\n",
               g.name, FREQUENCIES_HZ[i] / 1e6, (double)c.sweeps / n / n,
               (double)c.hull_steps / n / n, c.clear_pairs,
               (double)c.visits / (double)c.clear_pairs);
        assert_true((double)c.sweeps <= 4.0 * n * n);
        assert_true((double)c.hull_steps <= n * n * log2(n));
        assert_true(c.clear_pairs > 0);
        assert_true((double)c.visits <= 100.0 * (double)c.clear_pairs);
    }
    /* In one go each of the four running slopes moves on once a pair at most. */
    g.n = 400;
    const fe_pairs_counts one = count_work(&g, 2437e6, 3.0, 1, sums);
    assert_true(one.sweeps > 0 && one.sweeps <= 4 * (g.n * (g.n - 1) / 2));
}

/* Losses, and what was looked at for them: a bound that bounds less costs work, no answer. */
static void losses_and_work__are_what_they_were(void **state)
{
    (void)state;
    static ground g;
    static double sums[MOST];
    static const double FREQUENCIES_HZ[] = {917e6, 2437e6, 5580e6};
    kept *numbers = kept_open("pairs");
    read_shipped("low-ridge", 400, &g);
    for (size_t i = 0; i < 3; i++) {
        const fe_pairs_counts c = count_work(&g, FREQUENCIES_HZ[i], 2.5, 1, sums);
        kept_number(numbers, "sweeps", (double)c.sweeps);
        kept_number(numbers, "hull_steps", (double)c.hull_steps);
        kept_number(numbers, "clear_pairs", (double)c.clear_pairs);
        kept_number(numbers, "visits", (double)c.visits);
        for (size_t k = 0; k + 1 < g.n; k++)
            kept_number(numbers, "loss_db", sums[k]);
    }
    kept_close(numbers);
}

/* Nor do more of them than there is room for. */
static void threads__change_nothing(void **state)
{
    (void)state;
    static const unsigned THREADS[] = {5, 1000};
    static ground g;
    static double one[MOST], many[MOST];
    read_shipped("low-ridge", 500, &g);
    count_work(&g, 2437e6, 3.0, 1, one);
    for (size_t k = 0; k < sizeof THREADS / sizeof THREADS[0]; k++) {
        count_work(&g, 2437e6, 3.0, THREADS[k], many);
        for (size_t i = 0; i + 1 < g.n; i++)
            assert_close(many[i], one[i], 1e-9);
    }
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    const double d_m[] = {0.0, 10.0, 20.0};
    const double h_m[] = {0.0, 0.0, 0.0};
    const double low_m[] = {3.0, -1.0, 3.0};
    const double antenna_m[] = {3.0, 3.0, 3.0};
    const double back_m[] = {0.0, 10.0, 10.0};
    const double hole_m[] = {0.0, NAN, 0.0};
    double sums[3];
    const fe_pairs good = {.d_m = d_m,
                           .h_m = h_m,
                           .n = 3,
                           .antenna1_m = antenna_m,
                           .antenna2_m = antenna_m,
                           .wave = fe_diffraction_wave_over_land(1e9, 8.5e6, true)};
    assert_int_equal(fe_pairs_compute(&good, pass_row, sums, NULL), FE_OK);
    fe_pairs bad = good;
    bad.antenna2_m = low_m;
    assert_int_equal(fe_pairs_compute(&bad, pass_row, sums, NULL), FE_E_DOMAIN);
    bad = good;
    bad.d_m = back_m;
    assert_int_equal(fe_pairs_compute(&bad, pass_row, sums, NULL), FE_E_DOMAIN);
    bad = good;
    bad.h_m = hole_m;
    assert_int_equal(fe_pairs_compute(&bad, pass_row, sums, NULL), FE_E_DOMAIN);
    bad = good;
    bad.n = 1;
    assert_int_equal(fe_pairs_compute(&bad, pass_row, sums, NULL), FE_E_DOMAIN);
    bad = good;
    bad.wave.f_hz = NAN;
    assert_int_equal(fe_pairs_compute(&bad, pass_row, sums, NULL), FE_E_DOMAIN);
    bad = good;
    bad.wave.f_hz = 5e6;
    assert_int_equal(fe_pairs_compute(&bad, pass_row, sums, NULL), FE_W_RANGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pairs__equal_the_single_path_on_published_profiles),
        cmocka_unit_test(pairs__equal_the_single_path_on_shipped_profiles),
        cmocka_unit_test(pairs__equal_the_single_path_on_awkward_ground),
        cmocka_unit_test(pairs__of_listed_ends_are_those_of_all),
        cmocka_unit_test(work__stays_within_its_bounds),
        cmocka_unit_test(losses_and_work__are_what_they_were),
        cmocka_unit_test(threads__change_nothing),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
