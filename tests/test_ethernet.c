/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "farend/ethernet.h"
#include "testing.h"

static double longest(double channel_m, double cords_m, double derating, double temp_c,
                      bool screened)
{
    const fe_channel_plan plan = {channel_m, 0.9 * channel_m, cords_m,
                                  derating,  temp_c,          screened};
    fe_channel_length length = {0};
    assert_int_equal(fe_channel_longest(&plan, &length), FE_OK);
    assert_close(length.channel_m, length.fixed_cable_m + cords_m, 1e-12);
    assert_true(length.standard_link_m <= length.fixed_cable_m);
    return length.fixed_cable_m;
}

/* ANSI/TIA-568.2-D temperature annex: 90 m at 20 degC, 84 m at 40 degC, 75 m at 60 degC. */
static void ordinary_channel__has_the_published_link(void **state)
{
    (void)state;
    assert_close(longest(100.0, 10.0, 0.2, 20.0, false), 90.0, 1e-9);
    assert_close(longest(100.0, 10.0, 0.2, 40.0, false), 84.0, 1e-9);
    assert_close(longest(100.0, 10.0, 0.2, 60.0, false), 75.0, 1e-9);
    assert_close(longest(100.0, 10.0, 0.2, 60.0, true), 83.0, 1e-9);
    assert_close(longest(100.0, 10.0, 0.2, -30.0, false), 90.0, 1e-9);
}

static void cable_without_cords__may_fill_the_channel(void **state)
{
    (void)state;
    assert_close(longest(100.0, 0.0, 0.2, 20.0, false), 100.0, 1e-9);
    assert_close(longest(30.0, 0.0, 0.2, 20.0, false), 30.0, 1e-9);
    const fe_channel_plan plan = {100.0, 90.0, 0.0, 0.2, 20.0, false};
    fe_channel_length length;
    assert_int_equal(fe_channel_longest(&plan, &length), FE_OK);
    assert_close(length.standard_link_m, 90.0, 1e-9);
}

/* 10BASE-T1L has no permanent link: nothing is taken off for one. */
static void channel_without_a_published_link__is_not_cut(void **state)
{
    (void)state;
    const fe_channel_plan plan = {1000.0, NAN, 0.0, 0.2, 20.0, false};
    fe_channel_length length;
    assert_int_equal(fe_channel_longest(&plan, &length), FE_OK);
    assert_close(length.fixed_cable_m, 1000.0, 1e-9);
    assert_close(length.standard_link_m, 1000.0, 1e-9);
}

static void longest_cable__falls_with_warmth_cords_and_thin_cords(void **state)
{
    (void)state;
    double last_m = 101.0;
    for (double temp_c = 20.0; temp_c <= 60.0; temp_c += 2.5) {
        const double now_m = longest(100.0, 10.0, 0.2, temp_c, false);
        assert_true(now_m < last_m);
        last_m = now_m;
    }
    assert_true(longest(100.0, 20.0, 0.2, 30.0, false) <
                longest(100.0, 10.0, 0.2, 30.0, false));
    assert_true(longest(100.0, 10.0, 0.5, 30.0, false) <
                longest(100.0, 10.0, 0.2, 30.0, false));
}

/* Between rows the link is on a straight line: 85.5 m at 35 and 84.0 m at 40 degC. */
static void link_limit__is_linear_between_rows(void **state)
{
    (void)state;
    double link_m = NAN;
    assert_int_equal(fe_permanent_link_limit(37.0, false, &link_m), FE_OK);
    assert_close(link_m, 84.9, 1e-9);
    assert_int_equal(fe_permanent_link_limit(70.0, false, &link_m), FE_W_RANGE);
    assert_close(link_m, 75.0 - 2.0 * 2.2, 1e-9);
}

/* ANSI/TIA-568: 0.4 % more loss a degree from 20 degC, 0.6 % from 40 degC; 0.2 % where screened. */
static void loss__grows_with_warmth_by_its_rule(void **state)
{
    (void)state;
    static const double ROWS[][3] = {{-10.0, 1.0, 1.0},
                                     {20.0, 1.0, 1.0},
                                     {30.0, 1.04, 1.02},
                                     {40.0, 1.08, 1.04},
                                     {60.0, 1.20, 1.08}};
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++)
        for (int screened = 0; screened < 2; screened++) {
            double factor = NAN;
            assert_int_equal(fe_cable_temp_factor(ROWS[i][0], screened == 1, &factor), FE_OK);
            assert_close(factor, ROWS[i][1 + screened], 1e-12);
        }
}

/* The table is up to 0.8 m longer than the loss increase alone would give. */
static void link_table__agrees_with_the_loss_increase(void **state)
{
    (void)state;
    for (double temp_c = 20.0; temp_c <= 60.0; temp_c += 5.0) {
        double link_m = NAN, factor = NAN;
        assert_int_equal(fe_permanent_link_limit(temp_c, false, &link_m), FE_OK);
        assert_int_equal(fe_cable_temp_factor(temp_c, false, &factor), FE_OK);
        assert_true(link_m - 90.0 / factor > -1e-9 && link_m - 90.0 / factor < 0.81);
    }
}

static void cords_that_use_the_channel_up__leave_no_answer(void **state)
{
    (void)state;
    const fe_channel_plan plan = {30.0, 24.0, 30.0, 0.2, 20.0, false};
    fe_channel_length length = {.channel_m = 7.0};
    assert_int_equal(fe_channel_longest(&plan, &length), FE_E_NO_SOLUTION);
    assert_true(length.channel_m == 7.0);
    /* 5 cm that they leave are an answer. */
    const fe_channel_plan nearly = {30.0, 24.0, 29.95, 0.0, 20.0, false};
    assert_int_equal(fe_channel_longest(&nearly, &length), FE_OK);
    assert_close(length.fixed_cable_m, 0.05, 1e-9);
}

static void cable__takes_the_best_row_it_earns(void **state)
{
    (void)state;
    assert_close(fe_ethernet_reach_for("10GBASE-T", FE_CATEGORY_6, false)->channel_limit_m,
                 55.0, 0.0);
    assert_close(fe_ethernet_reach_for("10GBASE-T", FE_CATEGORY_6, true)->channel_limit_m,
                 100.0, 0.0);
    assert_string_equal(fe_ethernet_reach_for("10GBASE-T", FE_CATEGORY_8, false)->cabling,
                        "Cat 6A");
    assert_close(fe_ethernet_reach_for("1000BASE-T", FE_CATEGORY_6A, false)->channel_limit_m,
                 100.0, 0.0);
    assert_close(
        fe_ethernet_reach_for("10BASE-T1L", FE_CATEGORY_SINGLE_PAIR, false)->channel_limit_m,
        1000.0, 0.0);
    assert_null(fe_ethernet_reach_for("10GBASE-T", FE_CATEGORY_5E, true));
    assert_null(fe_ethernet_reach_for("10BASE-T1L", FE_CATEGORY_6, true));
    assert_null(fe_ethernet_reach_for("10BASE-T", FE_CATEGORY_SINGLE_PAIR, true));
    assert_null(fe_ethernet_reach_for("token", FE_CATEGORY_6, true));
}

static void reach_rows__are_sound(void **state)
{
    (void)state;
    for (size_t i = 0; fe_ethernet_reach_at(i); i++) {
        const fe_ethernet_reach *row = fe_ethernet_reach_at(i);
        assert_ptr_equal(fe_ethernet_reach_find(row->application, row->cabling), row);
        assert_true(row->rate_bit_s >= 10e6);
        assert_true(row->sure_m > 0.0 && row->sure_m <= row->channel_limit_m);
        assert_false(row->permanent_link_limit_m > row->channel_limit_m);
    }
}

static void categories__are_known_by_name(void **state)
{
    (void)state;
    for (int i = FE_CATEGORY_SINGLE_PAIR; i <= FE_CATEGORY_8; i++) {
        fe_category category = FE_CATEGORY_3;
        assert_true(fe_category_named(fe_category_name((fe_category)i), &category));
        assert_int_equal(category, i);
    }
    fe_category category = FE_CATEGORY_3;
    assert_false(fe_category_named("Cat 9", &category));
}

static void loss__grows_with_frequency_length_and_warmth(void **state)
{
    (void)state;
    const fe_loss_equation *equation = fe_loss_equation_for(FE_CATEGORY_6);
    fe_channel_run run = {80.0, 10.0, 0.2, 4, 20.0, false};
    double plain = NAN, higher = NAN, longer = NAN, warmer = NAN, limit = NAN;
    assert_int_equal(fe_insertion_loss_run(equation, &run, 100e6, &plain), FE_OK);
    assert_int_equal(fe_insertion_loss_run(equation, &run, 200e6, &higher), FE_OK);
    run.fixed_cable_m = 90.0;
    assert_int_equal(fe_insertion_loss_run(equation, &run, 100e6, &longer), FE_OK);
    run.temp_c = 40.0;
    assert_int_equal(fe_insertion_loss_run(equation, &run, 100e6, &warmer), FE_OK);
    assert_int_equal(fe_insertion_loss_channel(equation, 100e6, &limit), FE_OK);
    assert_true(higher > plain && longer > plain && warmer > longer);
    /* 90 m and 10 m of cords at 20 degC is the full channel, less the standard's small extra.
     */
    assert_close(longer, limit - 0.0003 * 1000.0, 1e-9);
    assert_true(warmer > limit);
}

/* The channel that the standard limits is 90 m and 10 m of cords: 102 m where these lose a fifth
 * more, 105 m where they lose half more. */
static void channel_limit__is_that_of_its_cable_and_cords(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double cord_derating;
        double extra_at_100_mhz_db;
    } CASES[] = {
        {"ISO channel class D (Cat 5e)", 0.5, 0.0}, {"ISO channel class E (Cat 6)", 0.5, 0.0},
        {"TIA solid cable Cat 5e", 0.2, 0.0},       {"TIA solid cable Cat 6", 0.2, 0.3},
        {"TIA solid cable Cat 6A", 0.5, 0.0},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        const fe_loss_equation *equation = fe_loss_equation_find(CASES[i].name);
        const fe_channel_run run = {90.0, 10.0, CASES[i].cord_derating, 4, 20.0, false};
        double run_db = NAN, limit_db = NAN;
        assert_int_equal(fe_insertion_loss_run(equation, &run, 100e6, &run_db), FE_OK);
        assert_int_equal(fe_insertion_loss_channel(equation, 100e6, &limit_db), FE_OK);
        assert_close(limit_db, run_db + CASES[i].extra_at_100_mhz_db, 1e-9);
    }
}

static void range_of_frequency__is_watched(void **state)
{
    (void)state;
    const fe_loss_equation *equation = fe_loss_equation_for(FE_CATEGORY_5E);
    double loss_db = NAN;
    assert_int_equal(fe_insertion_loss_cable(equation, 100e6, &loss_db), FE_OK);
    assert_int_equal(fe_insertion_loss_cable(equation, 101e6, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_insertion_loss_channel(equation, 0.5e6, &loss_db), FE_W_RANGE);
    assert_null(fe_loss_equation_for(FE_CATEGORY_3));
    assert_null(fe_loss_equation_find(""));
    for (size_t i = 0; fe_loss_equation_at(i); i++)
        assert_ptr_equal(fe_loss_equation_find(fe_loss_equation_at(i)->name),
                         fe_loss_equation_at(i));
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    const fe_loss_equation *equation = fe_loss_equation_for(FE_CATEGORY_5E);
    const fe_channel_plan bad_plan = {100.0, 90.0, NAN, 0.2, 20.0, false};
    const fe_channel_plan no_temp = {100.0, 90.0, 1.0, 0.2, NAN, false};
    const fe_channel_run bad_run = {-1.0, 0.0, 0.2, 4, 20.0, false};
    fe_channel_length length;
    double value = 7.0, other = 7.0;
    assert_int_equal(fe_channel_longest(&bad_plan, &length), FE_E_DOMAIN);
    assert_int_equal(fe_channel_longest(&no_temp, &length), FE_E_DOMAIN);
    assert_int_equal(fe_insertion_loss_run(equation, &bad_run, 1e6, &value), FE_E_DOMAIN);
    assert_int_equal(fe_insertion_loss_cable(equation, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_insertion_loss_channel(equation, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_insertion_loss_connector(equation, -1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_permanent_link_limit(NAN, false, &value), FE_E_DOMAIN);
    assert_int_equal(fe_cable_temp_factor(NAN, false, &value), FE_E_DOMAIN);
    assert_int_equal(fe_cord_lengths(103.0, 0.2, 5.0, &value, &other), FE_E_DOMAIN);
    assert_int_equal(fe_cord_lengths(100.0, 0.2, 5.0, &value, &other), FE_E_NO_SOLUTION);
    assert_true(value == 7.0 && other == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ordinary_channel__has_the_published_link),
        cmocka_unit_test(cable_without_cords__may_fill_the_channel),
        cmocka_unit_test(channel_without_a_published_link__is_not_cut),
        cmocka_unit_test(longest_cable__falls_with_warmth_cords_and_thin_cords),
        cmocka_unit_test(link_limit__is_linear_between_rows),
        cmocka_unit_test(link_table__agrees_with_the_loss_increase),
        cmocka_unit_test(loss__grows_with_warmth_by_its_rule),
        cmocka_unit_test(cords_that_use_the_channel_up__leave_no_answer),
        cmocka_unit_test(cable__takes_the_best_row_it_earns),
        cmocka_unit_test(reach_rows__are_sound),
        cmocka_unit_test(categories__are_known_by_name),
        cmocka_unit_test(loss__grows_with_frequency_length_and_warmth),
        cmocka_unit_test(channel_limit__is_that_of_its_cable_and_cords),
        cmocka_unit_test(range_of_frequency__is_watched),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
