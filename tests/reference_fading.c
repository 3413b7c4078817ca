/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Margins of Rayleigh, Rician and log-normal fading. */
#include <math.h>
#include <string.h>

#include "farend/fading.h"
#include "testing.h"

static bool law_of_row(fe_reference *file, fe_fading *fading)
{
    const char *name = fe_reference_text(file, "distribution");
    const bool median = strstr(fe_reference_text(file, "referred_to"), "median") != NULL;
    fading->reference = median ? FE_FADING_MEDIAN : FE_FADING_MEAN;
    if (strcmp(name, "rayleigh") == 0) {
        fading->law = FE_FADING_RAYLEIGH;
        return true;
    }
    if (strcmp(name, "rician") == 0) {
        fading->law = FE_FADING_RICIAN;
        fading->k_db = fe_reference_need(file, "k_factor_db");
        return true;
    }
    if (strcmp(name, "lognormal") == 0) {
        fading->law = FE_FADING_LOGNORMAL;
        fading->sigma_db = fe_reference_need(file, "sigma_db");
        return true;
    }
    return false;
}

static void fading_margin__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/fading_margins.csv");
    while (fe_reference_next(file)) {
        fe_fading fading = {0};
        if (!law_of_row(file, &fading)) {
            fe_reference_check_that(file, false, "a law of that name");
            continue;
        }
        const double wanted = fe_reference_need(file, "availability_pct") / 100.0;
        double margin_db = NAN, availability = NAN;
        fe_reference_check_status(file, fe_fading_margin(&fading, wanted, &margin_db));
        fe_reference_check(file, "margin_db", margin_db, 0.001);
        /* And back. */
        fe_reference_check_status(file,
                                  fe_fading_availability(&fading, margin_db, &availability));
        fe_reference_check(file, "availability_pct", 100.0 * availability, 1e-7);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fading_margin__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
