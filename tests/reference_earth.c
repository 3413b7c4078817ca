/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Effective earth radius against ITU-R P.452-18. */
#include "farend/earth.h"
#include "testing.h"

static void effective_earth_radius__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/effective_earth_radius.csv");
    while (fe_reference_next(file)) {
        fe_effective_earth earth = {0};
        const double lapse = fe_reference_need(file, "delta_n_per_km_lapse");
        fe_reference_check_status(file, fe_effective_earth_radius(lapse, &earth));
        fe_reference_check(file, "ae_km", 1e-3 * earth.ae_m, 0.001);
        fe_reference_check_printed(file, "k_factor", earth.k_factor);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(effective_earth_radius__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
