/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ethernet over copper: reach, cords, warmth and insertion loss as published. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cells.h"
#include "farend/ethernet.h"
#include "testing.h"

static bool says(const char *text, const char *word)
{
    return strstr(text, word) != NULL;
}

static void reach__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/ethernet_copper_reach.csv");
    while (fe_reference_next(file)) {
        const fe_ethernet_reach *row = fe_ethernet_reach_find(
            fe_reference_text(file, "application"), fe_reference_text(file, "cabling"));
        fe_reference_check_that(file, row != NULL, "a row of the table");
        if (!row)
            continue;
        fe_reference_check(file, "channel_limit_m", row->channel_limit_m, 0.0);
        fe_reference_check(file, "permanent_link_limit_m", row->permanent_link_limit_m, 0.0);
    }
    fe_reference_close(file);
}

static void check_cords(fe_reference *file, const char *gauge, double longest_work_area_m)
{
    char column[4][40];
    const char *names[] = {"derating_D_%s", "closet_cords_T_%s_m", "total_cords_%s_m",
                           "work_area_cord_%s_m"};
    for (size_t i = 0; i < 4; i++) {
        const char *cut = strstr(names[i], "%s");
        snprintf(column[i], sizeof column[i], "%.*s%s%s", (int)(cut - names[i]), names[i],
                 gauge, cut + 2);
    }
    double total_m = NAN, work_area_m = NAN;
    fe_reference_check_status(file, fe_cord_lengths(fe_reference_need(file, "horizontal_m"),
                                                    fe_reference_need(file, column[0]),
                                                    fe_reference_need(file, column[1]),
                                                    &total_m, &work_area_m));
    /* Printed to whole metres; the standard caps the work area's part. */
    fe_reference_check(file, column[2], total_m, 0.51);
    fe_reference_check(file, column[3], fmin(work_area_m, longest_work_area_m), 0.51);
}

static void cords__shorten_as_published(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/cord_derating.csv");
    while (fe_reference_next(file)) {
        check_cords(file, "24AWG", 22.0);
        check_cords(file, "26AWG", 17.0);
    }
    fe_reference_close(file);
}

/* "... 20-40 C" or "... above 20 C": the slope there, in percent a degree. */
static double slope(fe_reference *file, const char *item, bool screened)
{
    const char *from = strpbrk(item, "0123456789");
    double from_c = NAN, low = NAN, high = NAN;
    fe_reference_check_that(file, from && fe_testing_numbers(from, &from_c, 1) == 1,
                            "a temperature");
    fe_reference_check_status(file, fe_cable_temp_factor(from_c, screened, &low));
    fe_reference_check_status(file, fe_cable_temp_factor(from_c + 10.0, screened, &high));
    return 10.0 * (high - low);
}

static double link_limit(fe_reference *file, const char *item, bool screened)
{
    double temp_c = NAN, link_m = NAN;
    const char *at = strstr(item, " at ");
    fe_reference_check_that(file, at && fe_testing_numbers(at + 4, &temp_c, 1) == 1,
                            "a temperature");
    fe_reference_check_status(file, fe_permanent_link_limit(temp_c, screened, &link_m));
    return link_m;
}

static void warm_cable__shortens_as_published(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/temperature_derating.csv");
    while (fe_reference_next(file)) {
        const char *item = fe_reference_text(file, "item");
        const bool screened = !says(item, "unscreened") && says(item, "screened");
        const double got = says(item, "increase") ? slope(file, item, screened)
                                                  : link_limit(file, item, screened);
        fe_reference_check(file, "value", got, 1e-9);
    }
    fe_reference_close(file);
}

static void check_coefficients(fe_reference *file)
{
    const fe_loss_equation *row = fe_loss_equation_find(fe_reference_text(file, "what"));
    fe_reference_check_that(file, row != NULL, "an equation of the table");
    if (!row)
        return;
    fe_reference_check_text(file, "equation", row->equation);
    fe_reference_check(file, "a", row->a, 0.0);
    fe_reference_check(file, "b", row->b, 0.0);
    fe_reference_check(file, "c", row->c, 0.0);
    fe_reference_check(file, "k", row->k, 0.0);
}

/* "TIA channel Cat 6A", "connector Cat 5e", "ISO channel class D (Cat 5e)": longest name first.
 */
static const fe_loss_equation *equation_named(const char *what)
{
    if (says(what, "class D") || says(what, "TSB-67"))
        return fe_loss_equation_find("ISO channel class D (Cat 5e)");
    if (says(what, "class E"))
        return fe_loss_equation_find("ISO channel class E (Cat 6)");
    if (says(what, "Cat 6A"))
        return fe_loss_equation_for(FE_CATEGORY_6A);
    if (says(what, "Cat 6"))
        return fe_loss_equation_for(FE_CATEGORY_6);
    return says(what, "Cat 5e") ? fe_loss_equation_for(FE_CATEGORY_5E) : NULL;
}

static void check_value(fe_reference *file)
{
    const char *what = fe_reference_text(file, "what");
    const fe_loss_equation *equation = equation_named(what);
    fe_reference_check_that(file, equation != NULL, "an equation of the table");
    if (!equation)
        return;
    const double f_hz = 1e6 * fe_reference_need(file, "frequency_MHz");
    double loss_db = NAN;
    fe_status status = FE_OK;
    if (says(what, "per 100 m"))
        status = fe_insertion_loss_cable(equation, f_hz, &loss_db);
    else if (says(what, "connector"))
        status = fe_insertion_loss_connector(equation, f_hz, &loss_db);
    else
        status = fe_insertion_loss_channel(equation, f_hz, &loss_db);
    fe_reference_check_status(file, status);
    check_within(file, "insertion_loss_dB", loss_db, fe_reference_number(file, "tol_dB"));
}

static void insertion_loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/insertion_loss.csv");
    while (fe_reference_next(file)) {
        if (says(fe_reference_text(file, "kind"), "coefficients"))
            check_coefficients(file);
        else
            check_value(file);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reach__is_the_published_one),
        cmocka_unit_test(cords__shorten_as_published),
        cmocka_unit_test(warm_cable__shortens_as_published),
        cmocka_unit_test(insertion_loss__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
