/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Knife edge and first Fresnel zone against ITU-R P.526-15. */
#include "farend/fresnel.h"
#include "farend/knife_edge.h"
#include "testing.h"

static void check_both_losses(fe_reference *file, double v)
{
    double fit_db = 0.0;
    double exact_db = 0.0;
    fe_reference_check_status(file, fe_knife_edge_loss_fit(v, &fit_db));
    fe_reference_check_status(file, fe_knife_edge_loss_exact(v, &exact_db));
    fe_reference_check(file, "loss_fit_db", fit_db, 0.001);
    fe_reference_check(file, "loss_exact_db", exact_db, 0.001);
}

static void knife_edge_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p526_knife_edge.csv");
    while (fe_reference_next(file)) {
        const double v = fe_reference_need(file, "v");
        check_both_losses(file, v);
        /* v is exact here, so the exact loss is known to the last digit printed. */
        double exact_db = 0.0;
        fe_reference_check_status(file, fe_knife_edge_loss_exact(v, &exact_db));
        fe_reference_check_printed(file, "loss_exact_db", exact_db);
    }
    fe_reference_close(file);
}

static void knife_edge_geometry__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p526_knife_edge_geometry.csv");
    while (fe_reference_next(file)) {
        const double height_m = fe_reference_need(file, "h_m_above_line");
        const double d1_m = fe_reference_need(file, "d1_m");
        const double d2_m = fe_reference_need(file, "d2_m");
        const double f_hz = 1e9 * fe_reference_need(file, "f_ghz");
        double v = 0.0;
        double radius_m = 0.0;
        double ratio = 0.0;
        fe_reference_check_status(file, fe_knife_edge_v(height_m, d1_m, d2_m, f_hz, &v));
        fe_reference_check_status(file, fe_fresnel_radius(1, d1_m, d2_m, f_hz, &radius_m));
        fe_reference_check_status(
            file, fe_fresnel_clearance_ratio(-height_m, d1_m, d2_m, f_hz, &ratio));
        fe_reference_check_printed(file, "v", v);
        check_both_losses(file, v);
        fe_reference_check_printed(file, "fresnel_radius_1_m", radius_m);
        fe_reference_check_printed(file, "clearance_over_f1", ratio);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(knife_edge_loss__is_the_published_one),
        cmocka_unit_test(knife_edge_geometry__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
