/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Published measurements: what they can and cannot say about the program's medians and
 * intervals. No number of the program was tuned on them.
 */
#include "testing.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

#include "farend/foliage.h"
#include "farend/free_space.h"
#include "farend/wall.h"

static double free_space_db(double distance_m, double f_hz)
{
    double loss_db = NAN;
    assert_true(fe_free_space_loss(distance_m, f_hz, &loss_db) >= 0);
    return loss_db;
}

/*
 * The column `free_space_db` of a file: printed to 0.01 dB with constants it does not name, so
 * one last digit, and what rounding the distance is worth.
 */
static void check_free_space(fe_reference *file, double distance_digit_m)
{
    const double d_m = fe_reference_need(file, "d_m");
    const double f_hz = 1e9 * fe_reference_need(file, "f_ghz");
    const double rounding_db = 20.0 * log10(1.0 + 0.5 * distance_digit_m / d_m);
    fe_reference_check(file, "free_space_db", free_space_db(d_m, f_hz), 0.01 + rounding_db);
}

static void street_rows__give_the_free_space_loss_of_their_distance(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/measured_street_5g8.csv");
    while (fe_reference_next(file))
        check_free_space(file, 0.01);
    fe_reference_close(file);
}

static void sub_ghz_medians__lie_above_free_space(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/measured_subghz_868.csv");
    while (fe_reference_next(file)) {
        const double free_db = free_space_db(fe_reference_need(file, "d_m"),
                                             1e9 * fe_reference_need(file, "f_ghz"));
        check_free_space(file, 0.1);
        fe_reference_check_that(file, fe_reference_need(file, "median_path_loss_db") > free_db,
                                "a median above free space");
    }
    fe_reference_close(file);
}

/* The program's figure for a partition of the campaign, seen through its commonest form. */
static double partition_db(const char *partition, double f_hz)
{
    static const struct {
        const char *partition;
        const char *wall;
        double thickness_m; /* of the wall; NAN: the usual one */
        double foliage_m;   /* way through the crown */
    } KNOWN[] = {
        {"brick house exterior", "brick", 0.11, 0.0},
        {"interior wall", "plasterboard stud", NAN, 0.0},
        {"small deciduous tree", NULL, NAN, 3.0},
        {"large deciduous tree", NULL, NAN, 8.0},
    };
    for (size_t i = 0; i < sizeof KNOWN / sizeof KNOWN[0]; i++) {
        if (strcmp(KNOWN[i].partition, partition) != 0)
            continue;
        if (KNOWN[i].wall) {
            const fe_incidence wave = {f_hz, 0.0, FE_POLARISATION_TE};
            fe_wall_result wall;
            assert_true(fe_wall_loss(KNOWN[i].wall, KNOWN[i].thickness_m, &wave, &wall) >= 0);
            return wall.loss_db;
        }
        const fe_foliage_state leafy = {FE_TREES_DECIDUOUS, true, FE_TREES_DRY};
        fe_foliage_result trees;
        assert_true(fe_foliage_budget(&leafy, f_hz, KNOWN[i].foliage_m, &trees) >= 0);
        return trees.loss_db;
    }
    return NAN;
}

/*
 * Recalled averages over partitions of unknown build: sizes only. A factor of four on decibels
 * tells a wall from a window and catches a wrong unit.
 */
static void partitions__are_of_the_measured_size(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/measured_partition_5g85.csv");
    while (fe_reference_next(file)) {
        const double ours_db = partition_db(fe_reference_text(file, "partition"),
                                            1e9 * fe_reference_need(file, "f_ghz"));
        if (isnan(ours_db)) {
            fe_reference_pass(file, "a partition the program has no figure for");
            continue;
        }
        const double theirs_db = fe_reference_need(file, "loss_db");
        printf("%s: measured %.1f dB, here %.1f\n", fe_reference_text(file, "partition"),
               theirs_db, ours_db);
        fe_reference_check_that(file, ours_db > theirs_db / 4.0 && ours_db < theirs_db * 4.0,
                                "a figure within a factor of four");
    }
    fe_reference_close(file);
}

static void point_to_point_rows__give_the_free_space_level_of_their_figures(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/measured_point_to_point.csv");
    while (fe_reference_next(file)) {
        const double level_dbm = fe_reference_number(file, "tx_power_dbm") +
                                 fe_reference_number(file, "tx_gain_dbi") +
                                 fe_reference_number(file, "rx_gain_dbi") -
                                 free_space_db(fe_reference_need(file, "d_m"),
                                               1e9 * fe_reference_need(file, "f_ghz"));
        if (isnan(level_dbm))
            fe_reference_pass(file, "power or gains not given");
        else
            fe_reference_check_printed(file, "predicted_free_space_rss_dbm", level_dbm);
    }
    fe_reference_close(file);
}

static const char PARKING[] = "radio/measured_parking_2g4.csv";

enum { MOST_ROWS = 2048 };

/* Of values, which it sorts; NAN of none. */
static double median(double *values, size_t count)
{
    if (count == 0)
        return NAN;
    gsl_sort(values, 1, count);
    return gsl_stats_median_from_sorted_data(values, 1, count);
}

/* The rows of a file beforehand, for what a site's own constant is taken from. */
static fe_csv *rows_of(const char *name)
{
    fe_csv *table = NULL;
    int bad_line = 0;
    if (fe_csv_read(fe_reference_path(name), &table, &bad_line) != FE_OK)
        fail_msg("%s:%d: cannot be read", name, bad_line);
    assert_true(fe_csv_rows(table) <= MOST_ROWS);
    return table;
}

/* Level that free space would give between isotropic antennas, less the one measured. */
static double parking_deficit_db(double setting_dbm, double d_m, double f_ghz, double level_dbm)
{
    return setting_dbm - free_space_db(d_m, 1e9 * f_ghz) - level_dbm;
}

static double parking_constant_db(void)
{
    fe_csv *rows = rows_of(PARKING);
    double deficit_db[MOST_ROWS];
    const size_t count = fe_csv_rows(rows);
    for (size_t i = 0; i < count; i++)
        deficit_db[i] = parking_deficit_db(
            fe_csv_number(rows, i, "tx_power_setting_dbm"), fe_csv_number(rows, i, "d_m"),
            fe_csv_number(rows, i, "f_ghz"), fe_csv_number(rows, i, "median_rss_dbm"));
    fe_csv_free(rows);
    return median(deficit_db, count);
}

/*
 * Antenna gains are not stated, so one constant is the site's own: the median of what the
 * levels lie under free space. The steps of power are uneven (1 to 10 dB on the line for a
 * setting of 5), which leaves 6 dB either way.
 */
static void parking_levels__fall_off_as_free_space_does(void **state)
{
    (void)state;
    const double constant_db = parking_constant_db();
    fe_reference *file = fe_reference_open(PARKING);
    while (fe_reference_next(file)) {
        const double free_dbm = fe_reference_need(file, "tx_power_setting_dbm") -
                                free_space_db(fe_reference_need(file, "d_m"),
                                              1e9 * fe_reference_need(file, "f_ghz"));
        fe_reference_check(file, "median_rss_dbm", free_dbm - constant_db, 6.0);
    }
    fe_reference_close(file);
}

static void candidates__are_facts(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/measured_candidates.csv");
    while (fe_reference_next(file))
        fe_reference_pass(file, "campaigns whose tables could not be read");
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(street_rows__give_the_free_space_loss_of_their_distance),
        cmocka_unit_test(sub_ghz_medians__lie_above_free_space),
        cmocka_unit_test(partitions__are_of_the_measured_size),
        cmocka_unit_test(point_to_point_rows__give_the_free_space_level_of_their_figures),
        cmocka_unit_test(parking_levels__fall_off_as_free_space_does),
        cmocka_unit_test(candidates__are_facts),
    };
    return FE_RUN_TESTS(tests);
}
