/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Anchors of stays and buried logs against the guides' figures. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/anchor.h"
#include "farend/constants.h"
#include "testing.h"
#include "units.h"

static void check_class(fe_reference *file)
{
    const fe_anchor *anchor = fe_anchor_find(fe_reference_text(file, "class"));
    double holding_n = 0.0;
    fe_reference_check_that(file, anchor != NULL, "a class that the program knows");
    if (!anchor)
        return;
    fe_reference_check_that(
        file, fe_anchor_holding(anchor, fe_reference_text(file, "soil"), &holding_n) == FE_OK,
        "an answer");
    fe_reference_check(file, "holding_lb", holding_n / TEST_LBF_N, 1e-6);
}

static void check_log(fe_reference *file)
{
    const char *up = fe_reference_text(file, "pull_up_in_one");
    const fe_anchor_log log = {.length_m = TEST_FOOT_M,
                               .width_m = TEST_FOOT_M,
                               .depth_m = fe_reference_need(file, "depth_ft") * TEST_FOOT_M,
                               .angle_rad = strcmp(up, "vertical") == 0 ? 0.5 * FE_PI
                                                                        : atan(1.0 / atof(up))};
    double holding_n = 0.0;
    fe_reference_check_that(
        file, fe_anchor_log_holding(&log, fe_reference_text(file, "soil"), &holding_n) == FE_OK,
        "an answer");
    fe_reference_check(file, "holding_psf", holding_n / TEST_LBF_N, 1e-6);
}

static void anchors__hold_what_the_guides_say(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/anchor_holding.csv");
    while (fe_reference_next(file)) {
        if (strcmp(fe_reference_text(file, "kind"), "log") == 0)
            check_log(file);
        else
            check_class(file);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(anchors__hold_what_the_guides_say),
    };
    return FE_RUN_TESTS(tests);
}
