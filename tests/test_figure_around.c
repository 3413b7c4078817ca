/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/figures.h"
#include "testing.h"

enum { SIDE = 41 };

static float margins_db[SIDE * SIDE];

/* Rises by 2 dB a cell to the east: -40 to 40 dB. */
static fe_around_data slope(void)
{
    for (size_t i = 0; i < (size_t)SIDE * SIDE; i++)
        margins_db[i] = 2.0f * (float)((int)(i % SIDE) - SIDE / 2);
    return (fe_around_data){.id = "around",
                            .title = "Margin",
                            .end_name = "a'b\"`c",
                            .margin_db = margins_db,
                            .columns = SIDE,
                            .rows = SIDE,
                            .east_m = {10.0, 0.0},
                            .north_m = {0.0, -10.0},
                            .column = SIDE / 2,
                            .row = SIDE / 2,
                            .radius_m = 200.0};
}

static void around__tells_the_shares_in_words(void **state)
{
    (void)state;
    const fe_around_data data = slope();
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(fe_figure_around(&data, FE_UNITS_METRIC, &figure), FE_OK);
    const char *words = fe_strbuf_text(&figure.alternative);
    assert_non_null(strstr(words, "within 200"));
    assert_non_null(strstr(words, "-20 to 0 dB on 2"));
    assert_non_null(strstr(words, "0 to 20 dB on 2"));
    /* A name is text, never a command. */
    assert_non_null(strstr(fe_strbuf_text(&figure.commands), "end_name = 'a''b\"`c'"));
    fe_figure_free(&figure);
}

static void around__draws_with_names_of_any_kind(void **state)
{
    (void)state;
    const fe_around_data data = slope();
    char reason[FE_GNUPLOT_REASON_ROOM];
    char *svg = NULL;
    fe_figure figure = FE_FIGURE_INIT;
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    assert_int_equal(fe_figure_around(&data, FE_UNITS_US, &figure), FE_OK);
    const fe_status status = fe_figure_draw(&figure, gnuplot, &svg, reason);
    if (status == FE_E_EXTERNAL && strstr(reason, "not installed"))
        print_message("gnuplot is not installed: not drawn\n");
    else
        assert_int_equal(status, FE_OK);
    free(svg);
    fe_figure_free(&figure);
    fe_gnuplot_free(gnuplot);
}

static void around__with_nothing_to_draw_is_refused(void **state)
{
    (void)state;
    fe_figure figure = FE_FIGURE_INIT;
    fe_around_data data = slope();
    data.radius_m = NAN;
    assert_int_equal(fe_figure_around(&data, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    data = slope();
    data.north_m[1] = 0.0;
    assert_int_equal(fe_figure_around(&data, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    data = slope();
    for (size_t i = 0; i < (size_t)SIDE * SIDE; i++)
        margins_db[i] = NAN;
    assert_int_equal(fe_figure_around(&data, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
    fe_figure_free(&figure);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(around__tells_the_shares_in_words),
        cmocka_unit_test(around__draws_with_names_of_any_kind),
        cmocka_unit_test(around__with_nothing_to_draw_is_refused),
    };
    return FE_RUN_TESTS(tests);
}
