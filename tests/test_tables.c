/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows of tables without a published value of their own beside them, held against the physics
 * or the law behind them, or against what the row itself says in other units. Column sums stand
 * for tables that nothing but their source can confirm: they were added apart from the code.
 * How far a table may lie from a law (strands, feet, ice, amperes) was set to what the rows
 * show: that catches a wrong digit in a row, and proves neither the law nor the table.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/aerial_cable.h"
#include "farend/ampacity.h"
#include "farend/clearance.h"
#include "farend/conductor.h"
#include "farend/constants.h"
#include "farend/dielectric.h"
#include "farend/ethernet.h"
#include "farend/fault_loop.h"
#include "farend/receiver.h"
#include "farend/wifi.h"
#include "farend/wood.h"
#include "testing.h"

/* ---- Amperes ---- */

/* sqrt((limit - air) / (limit - 30)); rows are printed to a hundredth. */
static void air_factors__follow_the_warmth_that_is_left(void **state)
{
    (void)state;
    static const double LIMITS_C[] = {60.0, 75.0, 90.0};
    for (size_t i = 0; i < 3; i++)
        for (double air_c = 10.0; air_c < LIMITS_C[i]; air_c += 5.0) {
            double factor = NAN;
            assert_int_equal(fe_ampacity_air_factor(air_c, LIMITS_C[i], &factor), FE_OK);
            assert_close(factor, sqrt((LIMITS_C[i] - air_c) / (LIMITS_C[i] - 30.0)), 0.0051);
        }
}

/*
 * The law by which IEC 60364-5-52 annex D gives its tables, A S^m with S in mm2: two loaded PVC
 * cores, 13.1 and 0.600 in conduit, 15.0 and 0.625 clipped (from memory). Rounding leaves 3 %.
 */
static void metric_rows__follow_the_law_of_the_standard(void **state)
{
    (void)state;
    static const double AREAS_MM2[] = {1.0,  1.5,  2.5,  4.0,  6.0,  10.0,
                                       16.0, 25.0, 35.0, 50.0, 70.0, 95.0};
    for (size_t i = 0; i < sizeof AREAS_MM2 / sizeof AREAS_MM2[0]; i++) {
        const double s = AREAS_MM2[i];
        double wall_a = NAN, clipped_a = NAN, flat_a = NAN;
        assert_int_equal(fe_ampacity_metric(1e-6 * s, FE_METHOD_CONDUIT_ON_WALL, &wall_a),
                         FE_OK);
        assert_int_equal(fe_ampacity_metric(1e-6 * s, FE_METHOD_CLIPPED, &clipped_a), FE_OK);
        assert_close_relative(wall_a, 13.1 * pow(s, 0.600), 0.032);
        assert_close_relative(clipped_a, 15.0 * pow(s, 0.625), 0.032);
        const fe_status flat = fe_ampacity_metric(1e-6 * s, FE_METHOD_FLAT_CLIPPED, &flat_a);
        assert_int_equal(flat, s > 16.0 ? FE_E_DOMAIN : FE_OK);
        if (flat == FE_OK)
            assert_close_relative(flat_a, clipped_a, 0.07);
    }
}

/* Hotter insulation and thicker wire carry more; and the sums of the columns. */
static void gauge_rows__rise_and_add_up(void **state)
{
    (void)state;
    double sums_a[6] = {0.0}, before_a[6] = {0.0};
    for (int gauge = 18; gauge >= -3; gauge--) {
        const fe_us_ampacity *row = fe_us_ampacity_find(gauge);
        if (!row)
            continue;
        const double now_a[] = {row->copper_60c_a,    row->copper_75c_a,
                                row->copper_90c_a,    row->aluminium_60c_a,
                                row->aluminium_75c_a, row->aluminium_90c_a};
        for (int k = 0; k < 6; k++) {
            if (isnan(now_a[k]))
                continue;
            assert_true(now_a[k] > before_a[k]);
            assert_true(k % 3 == 0 || now_a[k] > now_a[k - 1] || isnan(now_a[k - 1]));
            before_a[k] = now_a[k];
            sums_a[k] += now_a[k];
        }
    }
    static const double SUMS_A[] = {1150.0, 1380.0, 1592.0, 890.0, 1060.0, 1200.0};
    for (int k = 0; k < 6; k++)
        assert_close(sums_a[k], SUMS_A[k], 1e-9);
}

/* ---- Data ---- */

/* "2.5GBASE-T" is 2.5 Gb/s; a link is the channel less its cords. */
static void ethernet_rows__are_as_fast_as_their_name(void **state)
{
    (void)state;
    double sure_m = 0.0, channels_m = 0.0;
    for (size_t i = 0; fe_ethernet_reach_at(i); i++) {
        const fe_ethernet_reach *row = fe_ethernet_reach_at(i);
        char *unit = NULL;
        const double number = strtod(row->application, &unit);
        assert_close_relative(row->rate_bit_s, number * (*unit == 'G' ? 1e9 : 1e6), 1e-12);
        assert_true(row->sure_m <= row->channel_limit_m);
        if (!isnan(row->permanent_link_limit_m))
            assert_close(row->permanent_link_limit_m,
                         row->channel_limit_m - (row->channel_limit_m > 50.0 ? 10.0 : 6.0),
                         1e-9);
        channels_m += row->channel_limit_m;
        sure_m += row->sure_m;
    }
    assert_close(channels_m, 2025.0, 1e-9);
    assert_close(sure_m, 1962.0, 1e-9);
}

/* Loss grows by 0.4 % a degree to 40 degC and 0.6 % beyond, 0.2 % where screened. */
static void warm_links__shorten_as_their_loss_grows(void **state)
{
    (void)state;
    for (double temp_c = 20.0; temp_c <= 60.0; temp_c += 5.0) {
        double plain_m = NAN, screened_m = NAN;
        const double beyond = fmax(0.0, temp_c - 40.0);
        assert_int_equal(fe_permanent_link_limit(temp_c, false, &plain_m), FE_OK);
        assert_int_equal(fe_permanent_link_limit(temp_c, true, &screened_m), FE_OK);
        assert_close(plain_m, 90.0 / (1.0 + 0.004 * (temp_c - 20.0) + 0.002 * beyond), 1.0);
        assert_close(screened_m, 90.0 / (1.0 + 0.002 * (temp_c - 20.0)), 1.0);
    }
}

/* IEEE 802.11: the channel after the next may be 16 dB louder still. */
static void wifi_modes__reject_the_next_but_one_by_16_db_more(void **state)
{
    (void)state;
    const fe_wifi_link link = {FE_WIFI_HT, 20e6, 1, NAN};
    fe_wifi_mode mode;
    assert_int_equal(fe_wifi_mode_at(&link, 0, &mode), FE_OK);
    assert_close(mode.adjacent_rejection_db, 16.0, 1e-12);
    assert_close(mode.non_adjacent_rejection_db, 32.0, 1e-12);
    assert_int_equal(fe_wifi_mode_at(&link, 7, &mode), FE_OK);
    assert_close(mode.adjacent_rejection_db, -2.0, 1e-12);
    assert_close(mode.non_adjacent_rejection_db, 14.0, 1e-12);
}

/* Busier is louder; figures of common practice have nothing beside them but their sum. */
static void noise__rises_with_neighbours(void **state)
{
    (void)state;
    double sum_dbm = 0.0;
    for (int band = 0; band < FE_BANDS; band++) {
        const double quiet_dbm = fe_receiver_noise_dbm((fe_band)band, FE_NOISE_QUIET_RURAL);
        const double village_dbm = fe_receiver_noise_dbm((fe_band)band, FE_NOISE_VILLAGE);
        const double flats_dbm = fe_receiver_noise_dbm((fe_band)band, FE_NOISE_FLATS);
        assert_true(quiet_dbm <= village_dbm && village_dbm < flats_dbm);
        sum_dbm += quiet_dbm + 2.0 * village_dbm + 4.0 * flats_dbm;
    }
    assert_close(sum_dbm, -3380.0, 1e-9);
    static const struct {
        const char *standard;
        double share;
    } SHARES[] = {{"dsss", 0.45},   {"ofdm", 0.5}, {"ht", 0.55}, {"he", 0.6},
                  {"dmg", 0.6},     {"vht", 0.6},  {"eht", 0.6}, {"s1g", 0.5},
                  {"hr_dsss", 0.5}, {"other", 0.5}};
    for (size_t i = 0; i < sizeof SHARES / sizeof SHARES[0]; i++)
        assert_close(fe_receiver_efficiency(SHARES[i].standard), SHARES[i].share, 1e-12);
}

/* ---- Wire and wood ---- */

/* A strand's weight is told twice, and steel wires pull what their section and grade allow. */
static void strands__weigh_and_pull_as_steel_of_their_section(void **state)
{
    (void)state;
    for (size_t i = 0; i < fe_strand_count(); i++) {
        const fe_strand *row = fe_strand_at(i);
        assert_close_relative(row->mass_kg_m, row->weight_lb_kft * 0.45359237 / 304.8, 0.003);
        /* Steel of 7850 kg/m3, the lay adds a hundredth. Strength of ASTM A475's grades: some
         * 370, 620, 930 and 1300 MPa of the section (from memory), thin wires more. */
        const double area_mm2 = row->mass_kg_m / (7.85e-3 * 1.01);
        const double solid_mm2 = FE_PI / 4.0 * row->diameter_mm * row->diameter_mm;
        /* Three wires fill a circle less well, and their nominal size is that of seven. */
        if (row->wires == 7)
            assert_close_relative(area_mm2, 7.0 / 9.0 * solid_mm2, 0.085);
        assert_close_relative(row->common_kn, 0.37 * area_mm2, 0.10);
        assert_close_relative(row->siemens_martin_kn, 0.62 * area_mm2, 0.11);
        assert_close_relative(row->high_strength_kn, 0.93 * area_mm2, 0.09);
        if (!isnan(row->extra_high_strength_kn))
            assert_close_relative(row->extra_high_strength_kn, 1.30 * area_mm2, 0.06);
        /* Within a row the grades stand nearer to their ratios. */
        if (!isnan(row->extra_high_strength_kn))
            assert_close_relative(row->extra_high_strength_kn, 1.405 * row->high_strength_kn,
                                  0.025);
        assert_close_relative(row->high_strength_kn, 1.505 * row->siemens_martin_kn, 0.035);
        assert_close_relative(row->siemens_martin_kn, 1.66 * row->common_kn, 0.02);
    }
}

/* Codes print metres and feet, each rounded to what can be measured. */
static void clearances__are_the_same_in_feet(void **state)
{
    (void)state;
    size_t told_twice = 0;
    for (size_t i = 0; i < fe_clearance_count(); i++) {
        const fe_clearance *row = fe_clearance_at(i);
        if (!(row->height_ft > 0.0) || !(row->height_m > 0.0))
            continue;
        assert_close_relative(row->height_m, 0.3048 * row->height_ft, 0.026);
        told_twice++;
    }
    assert_true(told_twice > 30);
}

/* Ohms a kilometre and a thousand feet are one resistance, printed to two or three digits. */
static void impedances__are_the_same_by_the_thousand_feet(void **state)
{
    (void)state;
    size_t rows = 0;
    for (int gauge = 14; gauge >= -3; gauge--) {
        const fe_awg_impedance *row = fe_awg_impedance_find(gauge);
        if (!row)
            continue;
        const double per_km[] = {row->x_ohm_per_km, row->copper_r_ohm_per_km,
                                 row->aluminium_r_ohm_per_km, row->copper_z_ohm_per_km};
        const double per_kft[] = {row->x_ohm_per_kft, row->copper_r_ohm_per_kft,
                                  row->aluminium_r_ohm_per_kft, row->copper_z_ohm_per_kft};
        for (size_t k = 0; k < 4; k++)
            if (!isnan(per_km[k]) || !isnan(per_kft[k]))
                assert_close_relative(per_km[k], per_kft[k] / 0.3048, 0.015);
        rows++;
    }
    assert_int_equal(rows, 13);
}

/* BS 7671: 0.95 x 230 V through the trip of 5, 10 or 20 ratings, printed to a hundredth ohm. */
static void loop_limits__trip_their_breaker(void **state)
{
    (void)state;
    static const double RATINGS_A[] = {6.0,  10.0, 16.0, 20.0, 25.0,  32.0,
                                       40.0, 50.0, 63.0, 80.0, 100.0, 125.0};
    static const double TRIPS[] = {5.0, 10.0, 20.0};
    for (size_t i = 0; i < sizeof RATINGS_A / sizeof RATINGS_A[0]; i++)
        for (int type = FE_BREAKER_B; type <= FE_BREAKER_D; type++) {
            double ohm = NAN;
            assert_int_equal(fe_fault_loop_max_zs((fe_breaker_type)type, RATINGS_A[i], &ohm),
                             FE_OK);
            assert_close(ohm, 218.5 / (TRIPS[type - FE_BREAKER_B] * RATINGS_A[i]), 0.0055);
        }
}

static void service_drops__weigh_and_hold_what_their_note_says(void **state)
{
    (void)state;
    size_t noted = 0;
    double mass_kg_km = 0.0, working_kn = 0.0, wide_mm = 0.0, high_mm = 0.0, strength_kn = 0.0;
    for (size_t i = 0; i < fe_aerial_cable_count(); i++) {
        const fe_aerial_cable *row = fe_aerial_cable_at(i);
        double lb_kft = 0.0, lbf = 0.0;
        mass_kg_km += row->mass_kg_km;
        working_kn += isnan(row->working_kn) ? 0.0 : row->working_kn;
        wide_mm += isnan(row->diameter_mm) ? 0.0 : row->diameter_mm;
        high_mm += isnan(row->height_mm) ? 0.0 : row->height_mm;
        strength_kn += isnan(row->strength_kn) ? 0.0 : row->strength_kn;
        if (sscanf(row->note, "%lf lb/kft; rated strength %lf lbf", &lb_kft, &lbf) != 2)
            continue;
        noted++;
        assert_close_relative(row->mass_kg_km, lb_kft * 0.45359237 / 0.3048, 0.002);
        assert_close_relative(row->strength_kn, lbf * 4.4482216e-3, 0.001);
    }
    assert_int_equal(noted, 4);
    assert_close(mass_kg_km, 5040.7, 0.05);
    assert_close(working_kn, 22.341, 0.0005);
    assert_close(wide_mm, 265.52, 0.005);
    assert_close(high_mm, 67.1, 0.05);
    assert_close(strength_kn, 103.761, 0.0005);
}

/* 1 psi is 6894.757 Pa. */
static void wood__comes_out_in_pascal(void **state)
{
    (void)state;
    double bending_pa = NAN, elasticity_pa = NAN;
    assert_int_equal(fe_wood_pole_stress("southern pine", &bending_pa), FE_OK);
    assert_close_relative(bending_pa, 8000.0 * 6894.757293, 1e-9);
    assert_int_equal(fe_wood_class("C24", &bending_pa, &elasticity_pa), FE_OK);
    assert_close_relative(bending_pa, 24e6, 1e-12);
    assert_close_relative(elasticity_pa, 11e9, 1e-12);
    for (size_t i = 0; i < fe_wood_count(); i++) {
        const fe_wood *row = fe_wood_at(i);
        const double factor = strcmp(row->unit, "psi") == 0           ? 6894.757293
                              : strcmp(row->unit, "million psi") == 0 ? 6894.757293e6
                              : strcmp(row->unit, "lbf") == 0         ? 4.4482216153
                              : strcmp(row->unit, "N/mm2") == 0       ? 1e6
                                                                      : 1e9;
        assert_close_relative(fe_wood_si(row), row->value * factor, 1e-9);
    }
}

/* EN 338 names a class by its bending strength; stronger ones are stiffer. */
static void wood_classes__are_as_strong_as_their_name(void **state)
{
    (void)state;
    static const char *const NAMES[] = {"C14", "C16", "C18", "C20", "C22",
                                        "C24", "C27", "C30", "C35", "C40"};
    double before_pa = 0.0, sum_pa = 0.0;
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++) {
        double bending_pa = NAN, elasticity_pa = NAN;
        assert_int_equal(fe_wood_class(NAMES[i], &bending_pa, &elasticity_pa), FE_OK);
        assert_close_relative(bending_pa, 1e6 * strtod(NAMES[i] + 1, NULL), 1e-12);
        assert_true(elasticity_pa > before_pa);
        before_pa = elasticity_pa;
        sum_pa += elasticity_pa;
    }
    assert_close_relative(sum_pa, 105e9, 1e-12);
}

/* ---- Ice ---- */

/*
 * Another fit to the same measurements (Matzler 2006, from memory): loss = a / f + b f with
 * t = 300 / T - 1, and b of two resonances and a warmth, in which the two part near the melting
 * point.
 */
static void ice__loses_what_another_fit_says(void **state)
{
    (void)state;
    for (double temp_c = -40.0; temp_c <= -7.0; temp_c += 3.0)
        for (double f_ghz = 0.5; f_ghz < 40.0; f_ghz *= 2.0) {
            const double t_k = temp_c + 273.15;
            const double t = 300.0 / t_k - 1.0;
            const double a = (0.00504 + 0.0062 * t) * exp(-22.1 * t);
            const double e = exp(335.0 / t_k);
            const double b = 0.0207 / t_k * e / ((e - 1.0) * (e - 1.0)) +
                             1.16e-11 * f_ghz * f_ghz + exp(-9.963 + 0.0372 * (t_k - 273.16));
            fe_permittivity ice;
            assert_int_equal(fe_ice_permittivity(1e9 * f_ghz, temp_c, &ice), FE_OK);
            assert_close_relative(ice.loss, a / f_ghz + b * f_ghz, 0.06);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(air_factors__follow_the_warmth_that_is_left),
        cmocka_unit_test(metric_rows__follow_the_law_of_the_standard),
        cmocka_unit_test(gauge_rows__rise_and_add_up),
        cmocka_unit_test(ethernet_rows__are_as_fast_as_their_name),
        cmocka_unit_test(warm_links__shorten_as_their_loss_grows),
        cmocka_unit_test(wifi_modes__reject_the_next_but_one_by_16_db_more),
        cmocka_unit_test(noise__rises_with_neighbours),
        cmocka_unit_test(strands__weigh_and_pull_as_steel_of_their_section),
        cmocka_unit_test(clearances__are_the_same_in_feet),
        cmocka_unit_test(impedances__are_the_same_by_the_thousand_feet),
        cmocka_unit_test(loop_limits__trip_their_breaker),
        cmocka_unit_test(service_drops__weigh_and_hold_what_their_note_says),
        cmocka_unit_test(wood__comes_out_in_pascal),
        cmocka_unit_test(wood_classes__are_as_strong_as_their_name),
        cmocka_unit_test(ice__loses_what_another_fit_says),
    };
    return FE_RUN_TESTS(tests);
}
