/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "farend/figures.h"
#include "testing.h"

static const fe_claim_curve_data STEP = {.id = "claim",
                                         .title = "Range against frequency",
                                         .low_hz = 1.6e9,
                                         .high_hz = 7.8e9,
                                         .from_hz = 5.2e9,
                                         .to_hz = 2.4e9,
                                         .claimed = 4.0};

static void claim__tells_the_same_in_words(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(fe_figure_claim(&STEP, FE_UNITS_METRIC, &figure), FE_OK);
    const char *words = fe_strbuf_text(&figure.alternative);
    assert_non_null(strstr(words, "2.17 times with antennas of equal gain"));
    assert_non_null(strstr(words, "0.46 times with antennas of equal size"));
    assert_non_null(strstr(words, "claimed are 4.00 times."));
    assert_non_null(strstr(fe_strbuf_text(&figure.commands), "$curves"));
    fe_figure_free(&figure);
}

static void claim__shows_metres_where_the_range_is_known(void **state)
{
    (void)state;
    fe_claim_curve_data data = STEP;
    data.range_m = 50.0;
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(fe_figure_claim(&data, FE_UNITS_METRIC, &figure), FE_OK);
    assert_non_null(strstr(fe_strbuf_text(&figure.alternative), "claimed are 200"));
    fe_figure_free(&figure);
}

static void claim__with_nothing_to_draw_is_refused(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    fe_claim_curve_data data = STEP;
    data.claimed = NAN;
    assert_int_equal(fe_figure_claim(&data, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    data = STEP;
    data.high_hz = data.low_hz;
    assert_int_equal(fe_figure_claim(&data, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    data = STEP;
    data.to_hz = 20e9;
    assert_int_equal(fe_figure_claim(&data, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    fe_figure_free(&figure);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(claim__tells_the_same_in_words),
        cmocka_unit_test(claim__shows_metres_where_the_range_is_known),
        cmocka_unit_test(claim__with_nothing_to_draw_is_refused),
    };
    return FE_RUN_TESTS(tests);
}
