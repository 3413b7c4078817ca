/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ground ray, plane earth and the street bounds. */
#include "farend/constants.h"
#include "farend/ground_ray.h"
#include "farend/street.h"
#include "testing.h"

static void two_ray__is_the_published_one(void **state)
{
    (void)state;
    const fe_reflection mirror = {1.0, FE_PI};
    fe_reference *file = fe_reference_open("radio/two_ray.csv");
    while (fe_reference_next(file)) {
        const fe_ground_path path = {
            .f_hz = 1e9 * fe_reference_need(file, "f_ghz"),
            .distance_m = fe_reference_need(file, "d_m"),
            .height1_m = fe_reference_need(file, "h1_m"),
            .height2_m = fe_reference_need(file, "h2_m"),
        };
        double breakpoint_m = 0.0, plane_earth_db = 0.0;
        fe_ground_ray ray = {0};
        fe_street_bounds street = {0};
        fe_reference_check_status(file, fe_ground_breakpoint(path.f_hz, path.height1_m,
                                                             path.height2_m, &breakpoint_m));
        fe_reference_check_status(file, fe_ground_ray_loss(&path, &mirror, &ray));
        fe_reference_check_status(file, fe_ground_plane_earth(&path, &plane_earth_db));
        fe_reference_check_status(file, fe_street_breakpoint_bounds(path.f_hz, path.distance_m,
                                                                    path.height1_m,
                                                                    path.height2_m, &street));
        fe_reference_check(file, "breakpoint_m", breakpoint_m, 0.001);
        fe_reference_check(file, "two_ray_exact_db", ray.total_db, 0.001);
        fe_reference_check(file, "plane_earth_db", plane_earth_db, 0.001);
        fe_reference_check(file, "free_space_db", ray.free_space_db, 0.001);
        fe_reference_check(file, "p1411_l_bp_db", street.loss_breakpoint_db, 0.001);
        fe_reference_check(file, "p1411_lower_db", street.lower_db, 0.001);
        fe_reference_check(file, "p1411_upper_db", street.upper_db, 0.001);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_ray__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
