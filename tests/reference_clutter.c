/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clutter loss of ITU-R P.2108-1. */
#include <math.h>

#include "farend/clutter.h"
#include "testing.h"

static void clutter_height_gain__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p2108_clutter_height_gain.csv");
    while (fe_reference_next(file)) {
        const fe_clutter_place place = {
            .clutter = fe_clutter_find(fe_reference_text(file, "clutter_type")),
            .clutter_height_m = fe_reference_need(file, "clutter_height_m"),
            .street_width_m = fe_reference_need(file, "street_width_m"),
            .antenna_height_m = fe_reference_need(file, "h_antenna_m"),
        };
        double loss_db = NAN;
        fe_reference_check_status(
            file,
            fe_clutter_height_gain(&place, 1e9 * fe_reference_need(file, "f_ghz"), &loss_db));
        fe_reference_check(file, "loss_db", loss_db, fe_reference_need(file, "tolerance_db"));
    }
    fe_reference_close(file);
}

static void clutter_statistical__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/p2108_clutter_statistical.csv");
    while (fe_reference_next(file)) {
        double loss_db = NAN;
        fe_reference_check_status(
            file, fe_clutter_statistical(1e9 * fe_reference_need(file, "f_ghz"),
                                         1000.0 * fe_reference_need(file, "d_km"),
                                         fe_reference_need(file, "p_locations_pct") / 100.0,
                                         &loss_db));
        fe_reference_check(file, "clutter_loss_db", loss_db,
                           fe_reference_need(file, "tolerance_db"));
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(clutter_height_gain__is_the_published_one),
        cmocka_unit_test(clutter_statistical__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
