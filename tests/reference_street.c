/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Site-general street laws of ITU-R P.1411. */
#include "farend/street.h"
#include "testing.h"

static void street_table__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p1411_parameters.csv");
    while (fe_reference_next(file)) {
        const fe_street_law *law = fe_street_law_find(fe_reference_text(file, "environment"));
        fe_reference_check_that(file, law != NULL, "a law of that environment");
        if (!law)
            continue;
        fe_reference_check(file, "alpha", law->alpha, 0.0);
        fe_reference_check(file, "beta", law->beta, 0.0);
        fe_reference_check(file, "gamma", law->gamma, 0.0);
        fe_reference_check(file, "sigma_db", law->sigma_db, 0.0);
        fe_reference_check(file, "f_low_ghz", law->f_low_hz / 1e9, 1e-12);
        fe_reference_check(file, "f_high_ghz", law->f_high_hz / 1e9, 1e-12);
        fe_reference_check(file, "d_low_m", law->d_low_m, 0.0);
        fe_reference_check(file, "d_high_m", law->d_high_m, 0.0);
    }
    fe_reference_close(file);
}

static void street_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p1411_cases.csv");
    while (fe_reference_next(file)) {
        fe_street_loss got = {0};
        const fe_status status = fe_street_site_general(
            fe_street_law_find(fe_reference_text(file, "environment")),
            1e9 * fe_reference_need(file, "f_ghz"), fe_reference_need(file, "d_m"), &got);
        fe_reference_check_status(file, status);
        fe_reference_check(file, "median_loss_db", got.median_db, 0.001);
        fe_reference_check(file, "loss_p10_db", got.p10_db, 0.001);
        fe_reference_check(file, "loss_p90_db", got.p90_db, 0.001);
        fe_reference_check_text(file, "inside_stated_range", status == FE_OK ? "yes" : "no");
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(street_table__is_the_published_one),
        cmocka_unit_test(street_loss__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
