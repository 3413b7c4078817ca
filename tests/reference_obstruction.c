/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Obstruction loss of average terrain against ITU-R P.530-18. */
#include "farend/obstruction.h"

#include <string.h>

#include "testing.h"

static void terrain_obstruction__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p530_fresnel_obstruction.csv");
    while (fe_reference_next(file)) {
        fe_obstruction got = {0};
        const fe_status status = fe_terrain_obstruction_loss(
            fe_reference_need(file, "clearance_h_m"), 1e3 * fe_reference_need(file, "d1_km"),
            1e3 * fe_reference_need(file, "d2_km"), 1e9 * fe_reference_need(file, "f_ghz"),
            &got);
        fe_reference_check_status(file, status);
        fe_reference_check(file, "a_d_db", got.loss_db, 0.01);
        fe_reference_check(file, "f1_m", got.radius_m, 1e-4);
        fe_reference_check(file, "f1_60pct_m", 0.6 * got.radius_m, 1e-4);
        const bool warns =
            strncmp(fe_reference_text(file, "a_d_in_stated_range"), "no", 2) == 0;
        fe_reference_check_that(file, (status == FE_W_RANGE) == warns,
                                "a warning exactly where a_d_in_stated_range is no");
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(terrain_obstruction__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
