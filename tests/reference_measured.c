/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Published measurements: what they say about the program's medians and intervals. No number of
 * the program was tuned on them, so no site has to be left out of its own score; the one
 * constant of a site (gains and settings that nobody stated) is its median residual, which is
 * removed before a row is judged.
 *
 * A file is one test, which checks row by row; what only the whole site can show is asserted at
 * its end. Each prints a line of the accuracy table in DEVELOPERS.md.
 */
#include "testing.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_fit.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/budget.h"
#include "farend/constants.h"
#include "farend/fading.h"
#include "farend/foliage.h"
#include "farend/free_space.h"
#include "farend/path_loss.h"
#include "farend/street.h"
#include "farend/wall.h"

/* A site says something about an interval from this many rows on. */
enum { MOST_ROWS = 2048, SITE_ROWS = 20 };

static const fe_season SUMMER = {.name = "dry summer",
                                 .surface = FE_SURFACE_DRY_SOIL,
                                 .in_leaf = true,
                                 .coldest_c = 5.0,
                                 .hottest_c = 30.0};
static const fe_radio ALL_ROUND = {.beam_rad = 2.0 * FE_PI, .tilt_beam_rad = 1.5};

static double free_space_db(double distance_m, double f_hz)
{
    double loss_db = NAN;
    assert_true(fe_free_space_loss(distance_m, f_hz, &loss_db) >= 0);
    return loss_db;
}

/* ---- Statistics of a site ---- */

typedef struct sample {
    size_t count;
    double value[MOST_ROWS];
} sample;

static void put(sample *s, double value)
{
    assert_true(s->count < MOST_ROWS);
    s->value[s->count++] = value;
}

static double median_of(const sample *s)
{
    if (s->count == 0)
        return NAN;
    double sorted[MOST_ROWS];
    memcpy(sorted, s->value, s->count * sizeof sorted[0]);
    gsl_sort(sorted, 1, s->count);
    return gsl_stats_median_from_sorted_data(sorted, 1, s->count);
}

static double scatter_of(const sample *s)
{
    return s->count > 1 ? gsl_stats_sd(s->value, 1, s->count) : NAN;
}

static double mean_of(const sample *s)
{
    return s->count > 0 ? gsl_stats_mean(s->value, 1, s->count) : NAN;
}

/*
 * Residuals of one site about a predicted median, and how far below and above it the interval
 * of each row reaches.
 */
typedef struct site {
    sample residual_db;
    sample below_db;
    sample above_db;
} site;

static void add_row(site *s, double measured_db, double median_db, double low_db,
                    double high_db)
{
    put(&s->residual_db, measured_db - median_db);
    put(&s->below_db, median_db - low_db);
    put(&s->above_db, high_db - median_db);
}

/* Share of rows inside their interval once `shift_db` is taken off. */
static double share_inside(const site *s, double shift_db)
{
    size_t inside = 0;
    for (size_t i = 0; i < s->residual_db.count; i++) {
        const double left_db = s->residual_db.value[i] - shift_db;
        inside += left_db >= -s->below_db.value[i] && left_db <= s->above_db.value[i];
    }
    return (double)inside / (double)s->residual_db.count;
}

static double mean_width_db(const site *s)
{
    return mean_of(&s->below_db) + mean_of(&s->above_db);
}

static void print_site(const char *what, const site *s)
{
    if (s->residual_db.count == 0)
        return;
    const double bias_db = median_of(&s->residual_db);
    printf("| %s | %zu | %+.1f | %.1f | %.1f | %.0f %% | %.0f %% |\n", what,
           s->residual_db.count, bias_db, scatter_of(&s->residual_db), mean_width_db(s),
           100.0 * share_inside(s, 0.0), 100.0 * share_inside(s, bias_db));
}

static void print_head(void **state)
{
    (void)state;
    printf(
        "| site and prediction | rows | bias dB | scatter dB | 80 %% interval, mean width dB "
        "| inside | inside, site's median removed |\n|---|---|---|---|---|---|---|\n");
}

/*
 * The share lies between two bounds; by the chance of so many rows it may miss them by two
 * standard errors in another folder, whose rows nobody here has seen.
 */
static void assert_share(const site *s, double share, double least, double most)
{
    const char *other = getenv("FAREND_REFERENCE_DIR");
    const double error = sqrt(0.25 / (double)s->residual_db.count);
    const double slack = other && *other ? 2.0 * error : 0.0;
    if (!(share >= least - slack && share <= most + slack))
        fail_msg("%.3f inside, wanted %.2f to %.2f", share, least, most);
}

/* ---- Predictions ---- */

/* Even ground under a hop; free the profile. */
static fe_profile even_ground(double length_m, double rise_m)
{
    fe_profile ground;
    assert_int_equal(fe_profile_even(length_m, rise_m, fmax(1.0, length_m / 200.0), &ground),
                     FE_OK);
    return ground;
}

typedef struct prediction {
    double median_db;
    double low_db; /* of the 80 % interval */
    double high_db;
    double total_db;  /* path loss on paper */
    fe_spread spread; /* about total_db */
} prediction;

/*
 * Loss between isotropic antennas with what is unknown about the path: the parts that a site's
 * rows differ by, without those of gear and hands, which a measured path loss has not.
 */
static prediction predict_path(const fe_hop *hop)
{
    fe_path_loss loss;
    assert_true(fe_path_loss_in_season(hop, &SUMMER, &loss) >= 0);
    fe_build_part parts[FE_BUILD_MOST_PARTS];
    size_t count = 0;
    fe_build_parts(hop, &loss, parts, &count);
    prediction p = {.total_db = loss.total_db};
    assert_int_equal(fe_spread_exact(0.0, &p.spread), FE_OK);
    for (size_t i = 0; i < count; i++) {
        fe_spread part;
        if (!parts[i].of_the_path)
            continue;
        assert_int_equal(fe_build_part_spread(&parts[i], &part), FE_OK);
        assert_int_equal(fe_spread_add(&p.spread, &part, &p.spread), FE_OK);
    }
    p.low_db = p.total_db + fe_spread_quantile(&p.spread, 0.1);
    p.median_db = p.total_db + fe_spread_quantile(&p.spread, 0.5);
    p.high_db = p.total_db + fe_spread_quantile(&p.spread, 0.9);
    return p;
}

static fe_station station_at(double height_m)
{
    return (fe_station){.radio = &ALL_ROUND, .height_m = height_m, .mount = FE_MOUNT_OUTDOORS};
}

/* Over even ground that rises from the first end to the second. */
static prediction predict_even(double f_hz, double distance_m, double rise_m, double height1_m,
                               double height2_m, fe_land land)
{
    fe_profile ground = even_ground(distance_m, rise_m);
    const fe_hop hop = {.ground = &ground,
                        .land = land,
                        .f_hz = f_hz,
                        .ends = {station_at(height1_m), station_at(height2_m)}};
    const prediction p = predict_path(&hop);
    fe_profile_free(&ground);
    return p;
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

/* ---- Along a street at 5.8 GHz ---- */

/* Scatter of the site-general law, which holds the ripple of the ground (ITU-R P.1411). */
static const double STREET_SIGMA_DB = 5.06;
static const double TO_80_PERCENT = 1.28155;

typedef struct street {
    site open;      /* the program's own, even ground in a yard */
    site open_near; /* the same to 80 m, before the street closes in */
    site near;      /* the street law for low antennas, to 200 m */
    site all;       /* the same over the whole street */
    site range;     /* the law's own bounds in place of the interval */
} street;

static void add_street_row(street *s, fe_reference *file)
{
    const double d_m = fe_reference_need(file, "d_m");
    const double f_hz = 1e9 * fe_reference_need(file, "f_ghz");
    const double measured_db = fe_reference_need(file, "path_loss_db");
    const prediction p = predict_even(f_hz, d_m, 0.0, fe_reference_need(file, "tx_height_m"),
                                      fe_reference_need(file, "rx_height_m"), FE_LAND_YARD);
    add_row(&s->open, measured_db, p.median_db, p.low_db, p.high_db);
    if (d_m <= 80.0)
        add_row(&s->open_near, measured_db, p.median_db, p.low_db, p.high_db);

    fe_street_bounds law;
    assert_true(fe_street_low_antennas(f_hz, d_m, &law) >= 0);
    const double median_db = law.lower_db + 6.0; /* as P.1411 has the median, from memory */
    const double reach_db = TO_80_PERCENT * STREET_SIGMA_DB;
    add_row(&s->all, measured_db, median_db, median_db - reach_db, median_db + reach_db);
    add_row(&s->range, measured_db, median_db, law.lower_db, law.upper_db);
    if (d_m <= 200.0)
        add_row(&s->near, measured_db, median_db, median_db - reach_db, median_db + reach_db);
}

/*
 * The street has no description of what stands in it, and its rows drift from 1 to 22 dB under
 * free space with distance. What holds: the street law for low antennas to 200 m, and the
 * program's own figure for open ground to 80 m. What does not, and is stated here so that a
 * change shows: over the whole street the law's interval holds two rows in three, since beyond
 * 200 m the rows lie 5 dB lower still and scatter by 8 to 9 dB; the program's own holds half,
 * since it knows of no street. An owner has to say what stands between the ends.
 */
static void assert_street(const street *s)
{
    if (s->near.residual_db.count >= SITE_ROWS) {
        assert_share(&s->near, share_inside(&s->near, median_of(&s->near.residual_db)), 0.70,
                     0.95);
        assert_true(fabs(median_of(&s->near.residual_db)) < 3.0);
    }
    if (s->open_near.residual_db.count >= SITE_ROWS)
        assert_share(&s->open_near,
                     share_inside(&s->open_near, median_of(&s->open_near.residual_db)), 0.70,
                     0.95);
    if (s->all.residual_db.count >= SITE_ROWS) {
        assert_share(&s->all, share_inside(&s->all, 0.0), 0.60, 0.80);
        assert_share(&s->open, share_inside(&s->open, 0.0), 0.40, 0.65);
    }
}

static void street__is_held_by_the_law_for_low_antennas_to_200_m(void **state)
{
    (void)state;
    street *s = calloc(1, sizeof *s);
    assert_non_null(s);
    fe_reference *file = fe_reference_open("radio/measured_street_5g8.csv");
    while (fe_reference_next(file)) {
        check_free_space(file, 0.01);
        add_street_row(s, file);
    }
    print_site("street 5.8 GHz, this program, even yard", &s->open);
    print_site("the same, to 80 m", &s->open_near);
    print_site("street 5.8 GHz, street law for low antennas", &s->all);
    print_site("the same, to 200 m", &s->near);
    print_site("street law, its bounds as interval", &s->range);
    fe_reference_close(file);
    assert_street(s);
    free(s);
}

/* ---- Car park at 2.4 GHz ---- */

static const char PARKING[] = "radio/measured_parking_2g4.csv";

/* The rows beforehand, for the site's own constant. */
static double parking_constant_db(void)
{
    fe_csv *rows = NULL;
    int bad_line = 0;
    if (fe_csv_read(fe_reference_path(PARKING), &rows, &bad_line) != FE_OK)
        fail_msg("%s:%d: cannot be read", PARKING, bad_line);
    sample deficit_db = {.count = 0};
    for (size_t i = 0; i < fe_csv_rows(rows); i++) {
        const prediction p =
            predict_even(1e9 * fe_csv_number(rows, i, "f_ghz"), fe_csv_number(rows, i, "d_m"),
                         0.0, fe_csv_number(rows, i, "tx_height_m"),
                         fe_csv_number(rows, i, "rx_height_m"), FE_LAND_MEADOW);
        put(&deficit_db, fe_csv_number(rows, i, "tx_power_setting_dbm") -
                             fe_csv_number(rows, i, "median_rss_dbm") - p.median_db);
    }
    fe_csv_free(rows);
    return median_of(&deficit_db);
}

/*
 * By slope: once the site's constant is off, each level is met within the 6 dB that uneven
 * steps of power leave (1 to 10 dB on the line for a setting of 5), and what remains has no
 * slope: less than those 6 dB over the whole stretch.
 *
 * All rows lie inside the interval for a place: they are medians of 400 levels at four places
 * of one open car park, which differ by less than the 3 dB that places are given. The interval
 * is not narrowed for that; one site is one sample.
 */
static void parking_levels__fall_off_as_predicted(void **state)
{
    (void)state;
    const double constant_db = parking_constant_db();
    site s = {.residual_db.count = 0};
    sample decades = {.count = 0};
    fe_reference *file = fe_reference_open(PARKING);
    while (fe_reference_next(file)) {
        const double d_m = fe_reference_need(file, "d_m");
        const double setting_dbm = fe_reference_need(file, "tx_power_setting_dbm");
        const prediction p =
            predict_even(1e9 * fe_reference_need(file, "f_ghz"), d_m, 0.0,
                         fe_reference_need(file, "tx_height_m"),
                         fe_reference_need(file, "rx_height_m"), FE_LAND_MEADOW);
        const double level_dbm = setting_dbm - p.median_db - constant_db;
        fe_reference_check(file, "median_rss_dbm", level_dbm, 6.0);
        fe_reference_check_that(file,
                                fe_reference_need(file, "p10_rss_dbm") <=
                                        fe_reference_need(file, "median_rss_dbm") &&
                                    fe_reference_need(file, "p90_rss_dbm") >=
                                        fe_reference_need(file, "median_rss_dbm"),
                                "a median between its quantiles");
        add_row(&s, setting_dbm - fe_reference_need(file, "median_rss_dbm"), p.median_db,
                p.low_db, p.high_db);
        put(&decades, log10(d_m));
    }
    print_site("car park 2.4 GHz, this program, even meadow", &s);
    fe_reference_close(file);
    if (s.residual_db.count < 4)
        return;
    double start_db, slope_db, unused[4];
    assert_int_equal(gsl_fit_linear(decades.value, 1, s.residual_db.value, 1, decades.count,
                                    &start_db, &slope_db, &unused[0], &unused[1], &unused[2],
                                    &unused[3]),
                     GSL_SUCCESS);
    const double stretch = gsl_stats_max(decades.value, 1, decades.count) -
                           gsl_stats_min(decades.value, 1, decades.count);
    printf("car park: levels fall by %+.1f dB a decade more than predicted\n", slope_db);
    assert_true(fabs(slope_db) * stretch < 6.0);
}

/*
 * What the rows of one site share (power setting, stated gain, fittings, polarisation) must not
 * widen the interval that they are judged by; what differs from place to place must.
 */
static void within_site__interval_holds_the_parts_of_the_place_alone(void **state)
{
    (void)state;
    static const char *const OF_THE_PLACE[] = {"place", "ground", "trees", "walls"};
    fe_profile ground = even_ground(40.0, 0.0);
    const fe_hop hop = {.ground = &ground,
                        .land = FE_LAND_MEADOW,
                        .f_hz = 2.437e9,
                        .ends = {station_at(1.0), station_at(1.0)}};
    fe_path_loss loss;
    fe_build_part parts[FE_BUILD_MOST_PARTS];
    size_t count = 0;
    double variance = 0.0;
    assert_true(fe_path_loss_in_season(&hop, &SUMMER, &loss) >= 0);
    fe_build_parts(&hop, &loss, parts, &count);
    size_t shared = 0;
    for (size_t i = 0; i < count; i++) {
        bool known = false;
        for (size_t k = 0; k < sizeof OF_THE_PLACE / sizeof OF_THE_PLACE[0]; k++)
            known = known || strcmp(parts[i].label, OF_THE_PLACE[k]) == 0;
        if (parts[i].of_the_path != known)
            fail_msg("the part \"%s\" is on the wrong side", parts[i].label);
        shared += !known;
        if (!known)
            continue;
        printf("within a site: %s, sigma %.1f dB\n", parts[i].label, parts[i].sigma_db);
        variance += parts[i].sigma_db * parts[i].sigma_db;
    }
    assert_true(shared >= 4);
    const prediction p = predict_path(&hop);
    assert_true(fabs(p.high_db - p.low_db - 2.0 * TO_80_PERCENT * sqrt(variance)) < 0.2);
    fe_profile_free(&ground);
}

/* From the level that 10 % of samples miss to the one that 10 % pass, by Rice's law. */
static double rician_width_db(double k_db)
{
    const fe_fading law = {.law = FE_FADING_RICIAN, .k_db = k_db, .reference = FE_FADING_MEAN};
    double low_db = NAN, high_db = NAN;
    assert_true(fe_fading_margin(&law, 0.9, &low_db) >= 0);
    assert_true(fe_fading_margin(&law, 0.1, &high_db) >= 0);
    return low_db - high_db;
}

static void put_widths(const char *name, const char *low, const char *high, sample *widths_db)
{
    fe_csv *rows = NULL;
    int bad_line = 0;
    if (fe_csv_read(fe_reference_path(name), &rows, &bad_line) != FE_OK)
        fail_msg("%s:%d: cannot be read", name, bad_line);
    for (size_t i = 0; i < fe_csv_rows(rows); i++)
        put(widths_db, fabs(fe_csv_number(rows, i, high) - fe_csv_number(rows, i, low)));
    fe_csv_free(rows);
}

/*
 * Each row of the car park has some 400 levels at one place, read to a whole decibel. How far
 * they spread is the fade in time, which the program takes as Rice's law with 10 dB in the
 * open: here it meets data.
 */
static void fade__in_the_open_car_park_is_that_of_a_clear_path(void **state)
{
    (void)state;
    static const double CLEAR_K_DB = 10.0, AMONG_WALLS_K_DB = 6.0;
    sample widths_db = {.count = 0};
    put_widths(PARKING, "p10_rss_dbm", "p90_rss_dbm", &widths_db);
    const double expected_db = rician_width_db(CLEAR_K_DB);
    printf("car park: 80 %% of the levels at one place within %.1f dB (median of %zu rows); "
           "Rice at 10 dB: %.1f dB, at 6 dB: %.1f dB\n",
           median_of(&widths_db), widths_db.count, expected_db,
           rician_width_db(AMONG_WALLS_K_DB));
    if (widths_db.count >= SITE_ROWS)
        assert_true(fabs(median_of(&widths_db) - expected_db) <= 1.0);
}

/* ---- Sub-GHz medians in a valley and on a hill ---- */

enum { MOST_PLACES = 8 };

typedef struct place {
    char name[64];
    site program;
    site free_space;
} place;

static place *place_of(place *places, const char *name)
{
    for (size_t i = 0; i < MOST_PLACES; i++) {
        if (!places[i].name[0])
            snprintf(places[i].name, sizeof places[i].name, "%s", name);
        if (strcmp(places[i].name, name) == 0)
            return &places[i];
    }
    fail_msg("more places than %d", MOST_PLACES);
    return NULL;
}

/*
 * No profile is given, so one side only: no median is kinder than free space. The program's
 * figure for ground that rises evenly is printed beside: what lies between it and the medians
 * is hills, houses and trees that it was not told of.
 */
static void sub_ghz_medians__lie_above_free_space(void **state)
{
    (void)state;
    place *places = calloc(MOST_PLACES, sizeof *places);
    assert_non_null(places);
    fe_reference *file = fe_reference_open("radio/measured_subghz_868.csv");
    while (fe_reference_next(file)) {
        const double d_m = fe_reference_need(file, "d_m");
        const double f_hz = 1e9 * fe_reference_need(file, "f_ghz");
        const double measured_db = fe_reference_need(file, "median_path_loss_db");
        const double free_db = free_space_db(d_m, f_hz);
        check_free_space(file, 0.1);
        fe_reference_check_that(file, measured_db > free_db, "a median above free space");
        fe_reference_check_that(file,
                                fe_reference_need(file, "p10_path_loss_db") <= measured_db &&
                                    fe_reference_need(file, "p90_path_loss_db") >= measured_db,
                                "a median between its quantiles");
        const prediction p =
            predict_even(f_hz, d_m,
                         fe_reference_need(file, "mobile_ground_asl_m") -
                             fe_reference_need(file, "fixed_ground_asl_m"),
                         fe_reference_need(file, "fixed_height_m"),
                         fe_reference_need(file, "mobile_height_m"), FE_LAND_YARD);
        place *here = place_of(places, fe_reference_text(file, "site"));
        add_row(&here->program, measured_db, p.median_db, p.low_db, p.high_db);
        add_row(&here->free_space, measured_db, free_db, free_db, INFINITY);
    }
    for (size_t i = 0; i < MOST_PLACES && places[i].name[0]; i++) {
        char what[128];
        snprintf(what, sizeof what, "%s 868 MHz, this program, evenly sloping yard",
                 places[i].name);
        print_site(what, &places[i].program);
        printf("%s: %.0f dB over free space in the middle\n", places[i].name,
               median_of(&places[i].free_space.residual_db));
    }
    fe_reference_close(file);
    free(places);
}

/* ---- Links of field notes ---- */

/* First number in a cell that may hold words ("about 2.4"); otherwise the one assumed. */
static double number_or(const char *text, double assumed)
{
    const char *digits = text + strcspn(text, "0123456789");
    double value = NAN;
    return fe_testing_numbers(digits, &value, 1) == 1 ? value : assumed;
}

static bool says(fe_reference *file, const char *word)
{
    return strstr(fe_reference_text(file, "environment"), word) != NULL;
}

/*
 * Half-power width of a lobe as wide as high, out of its gain: 30000 square degrees over the
 * gain; common practice, no source. 12 dBi: 43 degrees.
 */
static double beam_of_gain_rad(double gain_dbi)
{
    const double beam_deg = sqrt(30000.0 / pow(10.0, gain_dbi / 10.0));
    return fmin(beam_deg, 360.0) * FE_DEG_RAD;
}

/*
 * Field notes leave things out. Assumed: 3 m up, aimed by hand, vehicles and fences about.
 * Every row stays inside at seven heights from 1.5 to 6 m.
 */
static double assumed_level_dbm(fe_reference *file, fe_spread *build)
{
    fe_radio radio[2];
    double gains_dbi = 0.0;
    const char *const gain[] = {"tx_gain_dbi", "rx_gain_dbi"};
    const char *const height[] = {"tx_height_m", "rx_height_m"};
    fe_profile ground = even_ground(fe_reference_need(file, "d_m"), 0.0);
    fe_hop hop = {.ground = &ground,
                  .land = says(file, "flat") ? FE_LAND_MEADOW : FE_LAND_YARD,
                  .f_hz = 1e9 * fe_reference_need(file, "f_ghz")};
    for (int end = 0; end < 2; end++) {
        const double gain_dbi = fe_reference_need(file, gain[end]);
        const double beam_rad = beam_of_gain_rad(gain_dbi);
        radio[end] =
            (fe_radio){.gain_dbi = gain_dbi, .beam_rad = beam_rad, .tilt_beam_rad = beam_rad};
        hop.ends[end] = station_at(number_or(fe_reference_text(file, height[end]), 3.0));
        hop.ends[end].radio = &radio[end];
        hop.ends[end].aim = says(file, "by signal") ? FE_AIM_BY_SIGNAL : FE_AIM_ROUGH;
        gains_dbi += gain_dbi;
    }
    fe_path_loss loss;
    assert_true(fe_path_loss_in_season(&hop, &SUMMER, &loss) >= 0);
    assert_int_equal(fe_build_loss(&hop, &loss, build), FE_OK);
    fe_profile_free(&ground);
    return fe_reference_need(file, "tx_power_dbm") + gains_dbi - loss.total_db;
}

/* Null where the row can be checked. */
static const char *why_not(fe_reference *file)
{
    if (says(file, "no line of sight"))
        return "what stands in the way is not described";
    const bool complete = !isnan(fe_reference_number(file, "tx_power_dbm") +
                                 fe_reference_number(file, "tx_gain_dbi") +
                                 fe_reference_number(file, "rx_gain_dbi") +
                                 fe_reference_number(file, "measured_rss_dbm"));
    return complete ? NULL : "power, gains or level not given";
}

static void check_link(fe_reference *file, site *s)
{
    const double free_dbm =
        fe_reference_need(file, "tx_power_dbm") + fe_reference_need(file, "tx_gain_dbi") +
        fe_reference_need(file, "rx_gain_dbi") -
        free_space_db(fe_reference_need(file, "d_m"), 1e9 * fe_reference_need(file, "f_ghz"));
    fe_reference_check_printed(file, "predicted_free_space_rss_dbm", free_dbm);

    fe_spread build;
    const double paper_dbm = assumed_level_dbm(file, &build);
    const double measured_dbm = fe_reference_need(file, "measured_rss_dbm");
    const double most_dbm = paper_dbm - fe_spread_quantile(&build, 0.025);
    const double least_dbm = paper_dbm - fe_spread_quantile(&build, 0.975);
    fe_reference_check_that(file, measured_dbm >= least_dbm && measured_dbm <= most_dbm,
                            "a level inside the 95 % interval");
    printf("%s: %.0f dBm measured, %.1f to %.1f dBm at 95 %%, %.0f %% of builds lose less; "
           "free space %.1f\n",
           fe_reference_text(file, "case"), measured_dbm, least_dbm, most_dbm,
           100.0 * fe_spread_chance(&build, paper_dbm - measured_dbm), free_dbm);
    /* As losses, so that above zero is worse than predicted as in every other line. */
    add_row(s, -measured_dbm, fe_spread_quantile(&build, 0.5) - paper_dbm,
            fe_spread_quantile(&build, 0.1) - paper_dbm,
            fe_spread_quantile(&build, 0.9) - paper_dbm);
}

static void point_to_point_levels__lie_inside_the_95_percent_interval(void **state)
{
    (void)state;
    site s = {.residual_db.count = 0};
    fe_reference *file = fe_reference_open("radio/measured_point_to_point.csv");
    while (fe_reference_next(file)) {
        const char *reason = why_not(file);
        if (reason)
            fe_reference_pass(file, reason);
        else
            check_link(file, &s);
    }
    print_site("5 GHz field notes, this program, whole build", &s);
    fe_reference_close(file);
}

/* ---- Walls and trees at 5.85 GHz ---- */

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
        cmocka_unit_test(print_head),
        cmocka_unit_test(street__is_held_by_the_law_for_low_antennas_to_200_m),
        cmocka_unit_test(parking_levels__fall_off_as_predicted),
        cmocka_unit_test(within_site__interval_holds_the_parts_of_the_place_alone),
        cmocka_unit_test(fade__in_the_open_car_park_is_that_of_a_clear_path),
        cmocka_unit_test(sub_ghz_medians__lie_above_free_space),
        cmocka_unit_test(point_to_point_levels__lie_inside_the_95_percent_interval),
        cmocka_unit_test(partitions__are_of_the_measured_size),
        cmocka_unit_test(candidates__are_facts),
    };
    return FE_RUN_TESTS(tests);
}
