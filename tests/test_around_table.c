/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between their nodes too, the tables of the map say what the routines say that filled them. */
#include "propagation/around_table.h"

#include <math.h>
#include <stdlib.h>

#include "farend/constants.h"
#include "farend/spread.h"
#include "link.h"
#include "propagation/hop_parts.h"
#include "testing.h"

static const double REFERENCE_M = 100.0;

static const fe_wanted WANTED = {
    .rate_bps = {2e6, 1e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.9};

static fe_hop make_hop(const fe_radio *radio)
{
    return (fe_hop){.land = FE_LAND_MEADOW,
                    .region = FE_REGION_EU,
                    .f_hz = 2437e6,
                    .ends = {outdoors(radio, 4.0), outdoors(radio, 3.0)}};
}

static around_table *make_table(const fe_hop *hop)
{
    const fe_around around = {
        .hop = hop, .seasons = &SUMMER, .season_count = 1, .wanted = &WANTED, .radius_m = 90.0};
    around_table *table = calloc(1, sizeof *table);
    assert_non_null(table);
    assert_true(around_table_make(&around, table) >= 0);
    return table;
}

static void free_table(around_table *table)
{
    around_table_free(table);
    free(table);
}

/* Any turn of the phase, and what a spread ends at. */
static void cosines__are_those_of_the_phase(void **state)
{
    (void)state;
    const fe_hop hop = make_hop(&ROUTER);
    around_table *table = make_table(&hop);
    for (double mean_rad = -7.0; mean_rad < 7.0; mean_rad += 0.37)
        for (double spread_rad = 0.01; spread_rad < FE_PI / 2.0; spread_rad += 0.083) {
            double cosines[2];
            around_cosines(table, mean_rad, spread_rad, cosines);
            for (int i = 0; i < 2; i++) {
                double wanted = NAN;
                assert_int_equal(
                    hop_cosine_quantile(mean_rad, spread_rad, i == 0 ? 0.1 : 0.9, &wanted),
                    FE_OK);
                assert_close(cosines[i], wanted, 0.003);
            }
        }
    free_table(table);
}

/* What a panel's aim adds is skew: the more the ground varies, the further the median moves. */
static void build__is_that_of_the_single_path(void **state)
{
    (void)state;
    fe_radio panel = ROUTER;
    panel.beam_rad = panel.tilt_beam_rad = 20.0 * FE_DEG_RAD;
    const fe_hop hop = make_hop(&panel);
    around_table *table = make_table(&hop);
    fe_profile even = {0};
    fe_hop along = hop;
    fe_hop_budget budget = {0};
    assert_int_equal(fe_profile_even(REFERENCE_M, 0.0, REFERENCE_M, &even), FE_OK);
    along.ground = &even;
    assert_true(fe_hop_budget_compute(&along, &SUMMER, 1, &WANTED, &budget) >= 0);
    fe_path_loss loss = budget.seasons[0].loss;
    assert_true(around_median(table, 12.0) > around_median(table, 0.0) + 0.1);
    for (double sigma_db = 0.0; sigma_db < 12.0; sigma_db += 0.63) {
        fe_spread build;
        loss.ground_sigma_db = sigma_db;
        assert_int_equal(fe_build_loss(&hop, &loss, &build), FE_OK);
        assert_close(around_median(table, sigma_db), fe_spread_quantile(&build, 0.5), 1e-4);
        for (double left_db = -59.9; left_db < 99.0; left_db += 3.17)
            assert_close(around_chance(table, sigma_db, left_db),
                         fe_spread_chance(&build, left_db), 1e-4);
    }
    fe_hop_budget_free(&budget);
    fe_profile_free(&even);
    free_table(table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cosines__are_those_of_the_phase),
        cmocka_unit_test(build__is_that_of_the_single_path),
    };
    return FE_RUN_TESTS(tests);
}
