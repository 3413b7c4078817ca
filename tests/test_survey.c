/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/survey.h"
#include "testing.h"

static const char FILE_NAME[] = "test_survey.csv";

static fe_status read_text(const char *text, fe_survey *survey, fe_messages *messages)
{
    FILE *file = fopen(FILE_NAME, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, strlen(text), file), strlen(text));
    assert_int_equal(fclose(file), 0);
    const fe_status status = fe_survey_read(FILE_NAME, survey, NULL, messages);
    remove(FILE_NAME);
    return status;
}

static fe_survey accepts(const char *text)
{
    fe_survey survey = {0};
    fe_messages messages = {0};
    const fe_status status = read_text(text, &survey, &messages);
    if (status != FE_OK)
        fail_msg("status %d: %s", status, messages.count ? messages.items[0].text : "");
    return survey;
}

static void refuses(const char *text, const char *wanted)
{
    fe_survey survey = {0};
    fe_messages messages = {0};
    assert_int_equal(read_text(text, &survey, &messages), FE_E_INPUT);
    assert_int_equal(survey.profile.count, 0);
    assert_true(messages.count > 0);
    assert_string_equal(messages.items[0].text, wanted);
    fe_messages_free(&messages);
}

static void survey__takes_a_list_of_heights_in_any_unit(void **state)
{
    (void)state;
    fe_survey survey = accepts("# by string\ndistance [ft],height [cm],note\n"
                               "0,120,gate\n100,150,\n50,130,\n");
    assert_int_equal(survey.profile.count, 3);
    assert_close(survey.profile.distance_m[1], 15.24, 1e-9);
    assert_close(survey.profile.height_m[1], 1.30, 1e-9);
    assert_close(survey.profile.distance_m[2], 30.48, 1e-9);
    assert_close(survey.profile.height_error_m[0], FE_SURVEY_HEIGHT_SIGMA_M, 1e-12);
    assert_false(survey.closes);
    assert_true(isnan(survey.closing_error_m));
    fe_survey_free(&survey);
}

/*
 * A level book: set up twice, change point at 40 m, back on the start.
 *   first set-up   line of sight 0 + 1.500; points 1.500 - 1.200 = 0.300, 1.500 - 0.800 = 0.700
 *   second         line of sight 0.700 + 2.100 = 2.800; 2.800 - 0.900 = 1.900
 *   third          1.900 + 0.500 = 2.400; 2.400 - 2.376 = 0.024: the closing error
 */
static const char BOOK[] = "distance [m],backsight [m],intermediate [m],foresight [m]\n"
                           "0,1.500,,\n"
                           "20,,1.200,\n"
                           "40,2.100,,0.800\n"
                           "80,0.500,,0.900\n"
                           "0,,,2.376\n";

static void survey__works_a_level_book_and_spreads_its_closing_error(void **state)
{
    (void)state;
    fe_survey survey = {0};
    fe_messages messages = {0};
    /* 24 mm in three set-ups of 3 mm readings is 3.3 standard deviations. */
    assert_int_equal(read_text(BOOK, &survey, &messages), FE_W_RANGE);
    assert_true(survey.closes);
    assert_close(survey.closing_error_m, 0.024, 1e-9);
    assert_close(survey.closing_sigma_m, sqrt(6.0) * 0.003, 1e-9);
    assert_close(survey.closing_row, 4.0, 0.0);
    assert_close(survey.walked_m, 160.0, 1e-9);
    /* Equal set-ups: a third of it each; the intermediate point hangs on the first backsight.
     */
    assert_int_equal(survey.profile.count, 4);
    assert_close(survey.profile.height_m[0], 0.0, 1e-9);
    assert_close(survey.profile.height_m[1], 0.300 - 0.004, 1e-9);
    assert_close(survey.profile.height_m[2], 0.700 - 0.008, 1e-9);
    assert_close(survey.profile.height_m[3], 1.900 - 0.016, 1e-9);
    fe_survey_free(&survey);
}

static void survey__error_of_a_closed_book_is_largest_half_way(void **state)
{
    (void)state;
    fe_survey survey = accepts("distance [m],backsight [m],foresight [m],error [m]\n"
                               "0,1,,0\n10,1,1,0.01\n20,1,1,0.01\n30,1,1,0.01\n0,,1,0.01\n");
    /* A reading's error counts at foresight and backsight of its row: 1, 3, 5, 7 variances
     * reached after each foresight; with the ends tied v = g (1 - g / 7). */
    const double step_m = 0.01;
    assert_close(survey.closing_error_m, 0.0, 1e-12);
    assert_close(survey.profile.height_error_m[0], 0.0, 1e-12);
    assert_close(survey.profile.height_error_m[1], step_m * sqrt(1.0 * 6.0 / 7.0), 1e-9);
    assert_close(survey.profile.height_error_m[2], step_m * sqrt(3.0 * 4.0 / 7.0), 1e-9);
    assert_close(survey.profile.height_error_m[3], step_m * sqrt(5.0 * 2.0 / 7.0), 1e-9);
    fe_survey_free(&survey);
}

static void survey__known_heights_hold_the_line_on_both_sides(void **state)
{
    (void)state;
    fe_survey survey = accepts("leg [m],rise [m],known [m]\n"
                               ",,100\n10,1,\n10,1,102.04\n10,1,\n");
    assert_close(survey.closing_error_m, -0.04, 1e-9);
    assert_close(survey.profile.height_m[0], 100.0, 1e-9);
    assert_close(survey.profile.height_m[1], 101.02, 1e-9);
    assert_close(survey.profile.height_m[2], 102.04, 1e-9);
    /* An open end moves with the point it hangs on. */
    assert_close(survey.profile.height_m[3], 103.04, 1e-9);
    /* 4 cm in two legs of 2 cm is 1.41 standard deviations; the errors say so. */
    assert_close(survey.profile.height_error_m[3], 0.02 * 0.04 / (0.02 * sqrt(2.0)), 1e-9);
    fe_survey_free(&survey);
}

static void survey__slope_angles_give_length_and_rise(void **state)
{
    (void)state;
    fe_survey survey = accepts("tape [m],slope [deg]\n,\n20,30\n10,-90e-1\n");
    assert_close(survey.profile.distance_m[1], 20.0 * sqrt(0.75), 1e-9);
    assert_close(survey.profile.height_m[1], 10.0, 1e-9);
    assert_close(survey.profile.height_m[2], 10.0 - 10.0 * sin(9.0 * acos(-1.0) / 180.0), 1e-9);
    assert_close(survey.profile.height_error_m[1],
                 20.0 * sqrt(0.75) * FE_SURVEY_SLOPE_SIGMA_RAD, 1e-9);
    fe_survey_free(&survey);
}

static void survey__slope_in_per_cent_is_rise_over_level_run(void **state)
{
    (void)state;
    fe_survey survey = accepts("distance [m],slope [%]\n0,\n50,8\n100,-2\n");
    assert_close(survey.profile.height_m[1], 4.0, 1e-9);
    assert_close(survey.profile.height_m[2], 3.0, 1e-9);
    fe_survey_free(&survey);
}

static void survey__strides_take_the_last_stride_written(void **state)
{
    (void)state;
    fe_survey survey = accepts("strides,stride [m],slope [%]\n,0.75,\n40,,0\n20,0.5,0\n");
    assert_close(survey.profile.distance_m[1], 30.0, 1e-9);
    assert_close(survey.profile.distance_m[2], 40.0, 1e-9);
    fe_survey_free(&survey);
}

static void survey__way_back_by_tape_closes_on_known_height(void **state)
{
    (void)state;
    fe_survey survey = accepts("tape [m],slope [deg],known [m]\n,,7\n30,5,\n-30,-5,7\n");
    assert_close(survey.closing_error_m, 0.0, 1e-9);
    assert_int_equal(survey.profile.count, 2);
    fe_survey_free(&survey);
}

static void survey__tape_down_a_slope_is_shorter_level(void **state)
{
    (void)state;
    fe_survey survey = accepts("tape [m],rise [m]\n,\n5,3\n13,-5\n");
    assert_close(survey.profile.distance_m[1], 4.0, 1e-12);
    assert_close(survey.profile.distance_m[2], 16.0, 1e-12);
    fe_survey_free(&survey);
}

static void survey__list_of_heights_that_drifts_is_drawn_back_along_the_way(void **state)
{
    (void)state;
    fe_survey survey = accepts("distance [m],height [m]\n0,5\n50,6.02\n100,7.04\n"
                               "50,6.06\n0,5.08\n");
    assert_close(survey.closing_error_m, 0.08, 1e-9);
    assert_close(survey.profile.height_m[1], 6.0, 1e-9);
    assert_close(survey.profile.height_m[2], 7.0, 1e-9);
    fe_survey_free(&survey);
}

static void survey__says_what_is_wrong_with_a_list(void **state)
{
    (void)state;
    refuses("distance,height [m]\n0,1\n1,1\n",
            "test_survey.csv: column distance: unit [] read, expected that of a length in "
            "brackets, for example distance [m]");
    refuses("distance [kg],height [m]\n0,1\n1,1\n",
            "test_survey.csv: column distance: unit [kg] read, expected that of a length in "
            "brackets, for example distance [m]");
    refuses(
        "distanse [m],height [m]\n0,1\n1,1\n",
        "test_survey.csv: column \"distanse [m]\" is not known; did you mean distance [m]?");
    refuses(
        "distance [m],leg [m],height [m]\n0,1,1\n1,1,1\n",
        "test_survey.csv: columns that exclude one another: expected exactly one of distance "
        "[m], leg [m], tape [m], strides");
    refuses("distance [m],note\n0,a\n",
            "test_survey.csv: a column is missing: expected exactly one of height [m], rise "
            "[cm], backsight [m], slope [deg]");
    refuses("distance [m],height [m]\n0,1\n1,1 foo\n",
            "test_survey.csv:3: column height [m]: read \"1 foo\", expected a number, for "
            "example 1.25");
    refuses(
        "distance [m],height [m]\n0,1\n1,nan\n",
        "test_survey.csv:3: column height [m]: read \"nan\", expected a number, for example "
        "1.25");
    refuses("distance [m],height [m]\n0,1\n,2\n",
            "test_survey.csv:3: every row needs a height; and a distance");
    refuses("distance [m],height [m]\n4,1\n4,2\n",
            "test_survey.csv: a profile needs two points at different distances");
    refuses(
        "tape [m],rise [m]\n,\n5,6\n",
        "test_survey.csv:3: every row after the first needs a rise, no longer than its leg; "
        "and after the first a length from the row before, not zero");
    refuses("distance [m],slope [deg]\n0,\n5,80\n",
            "test_survey.csv:3: every row after the first needs a slope, at most 60 deg; and a "
            "distance");
    refuses("distance [m],backsight [m],foresight [m]\n0,1,\n5,,1\n9,,1\n",
            "test_survey.csv:4: the first row needs a backsight alone, every other a foresight "
            "or an intermediate reading; after a foresight the level stands anew only with a "
            "backsight in the same row; and a distance");
    refuses("strides,slope [deg]\n,\n5,1\n",
            "test_survey.csv: no column stride [m]: pace a taped length and write its length "
            "divided by the strides there in the first row");
    refuses("", "test_survey.csv: the file is empty");
    refuses("distance [m],height [m]\n0,1,2\n", "test_survey.csv:2: " FE_CSV_FAULT);
    refuses("distance [m],height [m],distance [m]\n0,1,0\n5,1,9\n",
            "test_survey.csv:1: " FE_CSV_FAULT);
    refuses("distance [m],height [m],error [m]\n0,1,-1\n5,1,\n",
            "test_survey.csv:2: an error and a stride are above zero");
}

static void survey__says_why_a_file_cannot_be_read(void **state)
{
    (void)state;
    fe_survey survey = {0};
    fe_messages messages = {0};
    assert_int_equal(fe_survey_read("no/such.csv", &survey, NULL, &messages), FE_E_IO);
    assert_string_equal(messages.items[0].text,
                        "no/such.csv: cannot read the survey list: No such file or directory");
    fe_messages_free(&messages);
}

/* Sloping ground measured forth and back gives the same ground from either end. */
static void survey__is_the_same_ground_from_either_end(void **state)
{
    (void)state;
    fe_survey forth = accepts("leg [m],rise [m]\n,\n10,1\n20,-3\n5,0.5\n");
    fe_survey back = accepts("leg [m],rise [m]\n,\n5,-0.5\n20,3\n10,-1\n");
    fe_profile turned = {0};
    assert_int_equal(fe_profile_reverse(&back.profile, &turned), FE_OK);
    for (size_t i = 0; i < 4; i++) {
        assert_close(turned.distance_m[i], forth.profile.distance_m[i], 1e-12);
        assert_close(turned.height_m[i] - turned.height_m[0],
                     forth.profile.height_m[i] - forth.profile.height_m[0], 1e-12);
    }
    fe_profile_free(&turned);
    fe_survey_free(&forth);
    fe_survey_free(&back);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(survey__takes_a_list_of_heights_in_any_unit),
        cmocka_unit_test(survey__works_a_level_book_and_spreads_its_closing_error),
        cmocka_unit_test(survey__error_of_a_closed_book_is_largest_half_way),
        cmocka_unit_test(survey__known_heights_hold_the_line_on_both_sides),
        cmocka_unit_test(survey__slope_angles_give_length_and_rise),
        cmocka_unit_test(survey__slope_in_per_cent_is_rise_over_level_run),
        cmocka_unit_test(survey__strides_take_the_last_stride_written),
        cmocka_unit_test(survey__way_back_by_tape_closes_on_known_height),
        cmocka_unit_test(survey__tape_down_a_slope_is_shorter_level),
        cmocka_unit_test(survey__list_of_heights_that_drifts_is_drawn_back_along_the_way),
        cmocka_unit_test(survey__says_what_is_wrong_with_a_list),
        cmocka_unit_test(survey__says_why_a_file_cannot_be_read),
        cmocka_unit_test(survey__is_the_same_ground_from_either_end),
    };
    return FE_RUN_TESTS(tests);
}
