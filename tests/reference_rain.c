/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rain against ITU-R P.838-3 and P.530-18. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/rain.h"
#include "testing.h"

static void rain_table__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p838_parameters.csv");
    while (fe_reference_next(file)) {
        const fe_rain_form *form = fe_rain_form_find(fe_reference_text(file, "quantity"));
        fe_reference_check_that(file, form != NULL, "a form of that name");
        if (!form)
            continue;
        const char *term = fe_reference_text(file, "j");
        if (strcmp(term, "line") == 0) {
            fe_reference_check(file, "m", form->m, 0.0);
            fe_reference_check(file, "c_line", form->c_line, 0.0);
            continue;
        }
        const size_t j = (size_t)atoi(term);
        fe_reference_check_that(file, j >= 1 && j <= form->terms, "a term of that number");
        if (j < 1 || j > form->terms)
            continue;
        fe_reference_check(file, "a", form->term[j - 1].a, 0.0);
        fe_reference_check(file, "b", form->term[j - 1].b, 0.0);
        fe_reference_check(file, "c", form->term[j - 1].c, 0.0);
    }
    fe_reference_close(file);
}

/* 1e-5 relative, or the last printed digit where the cell has fewer. */
static void check_coefficient(fe_reference *file, const char *column, double got)
{
    const double wanted = fe_reference_number(file, column);
    if (fabs(got - wanted) <= 1e-5 * fabs(wanted))
        fe_reference_check_relative(file, column, got, 1e-5);
    else
        fe_reference_check_printed(file, column, got);
}

static void rain_coefficients__are_the_published_ones(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p838_coefficients.csv");
    while (fe_reference_next(file)) {
        fe_rain_coefficients got = {0};
        fe_reference_check_status(
            file, fe_rain_coefficients_at(1e9 * fe_reference_need(file, "f_ghz"), &got));
        check_coefficient(file, "k_h", got.k_h);
        check_coefficient(file, "alpha_h", got.alpha_h);
        check_coefficient(file, "k_v", got.k_v);
        check_coefficient(file, "alpha_v", got.alpha_v);
    }
    fe_reference_close(file);
}

static void rain_specific__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p838_specific_attenuation.csv");
    while (fe_reference_next(file)) {
        const fe_rain_wave wave = {
            .f_hz = 1e9 * fe_reference_need(file, "f_ghz"),
            .elevation_rad = FE_DEG_RAD * fe_reference_need(file, "elevation_deg"),
            .tilt_rad = FE_DEG_RAD * fe_reference_need(file, "tilt_deg"),
        };
        const double rain_m_s = FE_MM_PER_HOUR_M_S * fe_reference_need(file, "rain_mm_h");
        fe_rain_attenuation got = {0};
        fe_reference_check_status(file, fe_rain_specific(&wave, rain_m_s, &got));
        check_coefficient(file, "k", got.k);
        check_coefficient(file, "alpha", got.alpha);
        check_coefficient(file, "gamma_db_km", 1000.0 * got.gamma_db_per_m);
    }
    fe_reference_close(file);
}

/* Tilt of a polarisation word: H, V or C. */
static double tilt_of(fe_reference *file)
{
    switch (fe_reference_text(file, "pol")[0]) {
    case 'H':
        return 0.0;
    case 'V':
        return FE_PI / 2.0;
    case 'C':
        return FE_PI / 4.0;
    default:
        fe_reference_check_that(file, false, "a polarisation H, V or C");
        return NAN;
    }
}

static void rain_path_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p530_rain_path.csv");
    while (fe_reference_next(file)) {
        const fe_rain_wave wave = {
            .f_hz = 1e9 * fe_reference_need(file, "f_ghz"),
            .tilt_rad = tilt_of(file),
        };
        fe_rain_path got = {0};
        fe_reference_check_status(
            file, fe_rain_path_loss(&wave, 1000.0 * fe_reference_need(file, "d_km"),
                                    FE_MM_PER_HOUR_M_S * fe_reference_need(file, "r001_mm_h"),
                                    fe_reference_need(file, "p_pct") / 100.0, &got));
        fe_reference_check(file, "gamma_r_db_km", 1000.0 * got.gamma_db_per_m, 0.01);
        fe_reference_check(file, "r_uncapped", got.r_uncapped, 0.01);
        fe_reference_check(file, "r_used", got.r, 0.01);
        fe_reference_check(file, "a001_db", got.loss_001_db, 0.01);
        fe_reference_check(file, "a_p_db", got.loss_db, 0.01);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rain_table__is_the_published_one),
        cmocka_unit_test(rain_coefficients__are_the_published_ones),
        cmocka_unit_test(rain_specific__is_the_published_one),
        cmocka_unit_test(rain_path_loss__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
