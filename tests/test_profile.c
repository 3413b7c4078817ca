/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "farend/profile.h"
#include "testing.h"

static const char FILE_NAME[] = "test_profile.csv";

static double given_d_m[] = {0.0, 30.0, 70.0, 100.0};
static double given_h_m[] = {5.0, 9.0, 6.0, 8.0};
static const fe_profile GIVEN = {.count = 4, .distance_m = given_d_m, .height_m = given_h_m};

static fe_status read_text(const char *text, fe_profile *profile, fe_messages *messages)
{
    FILE *file = fopen(FILE_NAME, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, strlen(text), file), strlen(text));
    assert_int_equal(fclose(file), 0);
    const fe_status status = fe_profile_read(FILE_NAME, profile, messages);
    remove(FILE_NAME);
    return status;
}

static void refuses(const char *text, const char *wanted)
{
    fe_profile profile = {0};
    fe_messages messages = {0};
    assert_int_equal(read_text(text, &profile, &messages), FE_E_INPUT);
    assert_int_equal(profile.count, 0);
    assert_true(messages.count > 0);
    assert_string_equal(messages.items[0].text, wanted);
    fe_messages_free(&messages);
}

static void profile__is_read_with_comments_and_other_columns(void **state)
{
    (void)state;
    fe_profile profile = {0};
    fe_messages messages = {0};
    assert_int_equal(read_text("# walked with a level\nheight_m,note,distance_m\n"
                               "412.5,gate,0\n411,,12.25\n",
                               &profile, &messages),
                     FE_OK);
    assert_true(fe_messages_none(&messages));
    assert_int_equal(profile.count, 2);
    assert_close(profile.distance_m[1], 12.25, 0.0);
    assert_close(profile.height_m[0], 412.5, 0.0);
    fe_profile_free(&profile);
}

static void profile__refuses_distances_that_do_not_rise(void **state)
{
    (void)state;
    refuses("distance_m,height_m\n0,1\n10,1\n10,2\n",
            "test_profile.csv:4: column distance_m: 10 does not come after 10; distances must "
            "rise");
}

static void profile__refuses_a_start_away_from_zero(void **state)
{
    (void)state;
    refuses("distance_m,height_m\n5,1\n10,1\n",
            "test_profile.csv:2: column distance_m: the first point is at 5, expected 0");
}

static void profile__refuses_nan_and_infinity(void **state)
{
    (void)state;
    refuses("distance_m,height_m\n0,nan\n10,1\n",
            "test_profile.csv:2: column height_m: read \"nan\", expected metres from -500 to "
            "9000, for example 12.5");
    refuses("distance_m,height_m\n0,1\ninf,1\n",
            "test_profile.csv:3: column distance_m: read \"inf\", expected metres from 0 to "
            "200000, for example 12.5");
}

static void profile__refuses_a_missing_column(void **state)
{
    (void)state;
    refuses("distance,height_m\n0,1\n10,1\n",
            "test_profile.csv: no column distance_m; the first line should be "
            "distance_m,height_m");
}

static void profile__refuses_a_single_point(void **state)
{
    (void)state;
    refuses("distance_m,height_m\n0,1\n",
            "test_profile.csv: 1 points, expected from 2 to 1000000");
}

static void profile__refuses_an_empty_file(void **state)
{
    (void)state;
    refuses("", "test_profile.csv: the file is empty");
}

static void profile__refuses_a_torn_row(void **state)
{
    (void)state;
    refuses("distance_m,height_m\n0,1\n10\n", "test_profile.csv:3: " FE_CSV_FAULT);
}

static void profile__refuses_a_column_named_twice(void **state)
{
    (void)state;
    refuses("# heights of two surveys\ndistance_m,height_m,height_m\n0,1,2\n10,1,2\n",
            "test_profile.csv:2: " FE_CSV_FAULT);
}

/* A spreadsheet that once held more columns writes them still. */
static void profile__reads_past_columns_without_a_name(void **state)
{
    (void)state;
    fe_profile profile = {0};
    fe_messages messages = {0};
    assert_int_equal(read_text("distance_m,height_m,,\n0,1,,\n10,2,,\n", &profile, &messages),
                     FE_OK);
    assert_int_equal(profile.count, 2);
    assert_close(profile.height_m[1], 2.0, 0.0);
    fe_profile_free(&profile);
    fe_messages_free(&messages);
}

static void profile__says_all_mistakes_in_one_run(void **state)
{
    (void)state;
    fe_profile profile = {0};
    fe_messages messages = {0};
    assert_int_equal(read_text("distance_m,height_m\n0,x\n10,y\n5,1\n", &profile, &messages),
                     FE_E_INPUT);
    assert_int_equal(messages.count, 3);
    fe_messages_free(&messages);
}

static void profile__says_why_a_file_cannot_be_read(void **state)
{
    (void)state;
    fe_profile profile = {0};
    fe_messages messages = {0};
    assert_int_equal(fe_profile_read("no/such.csv", &profile, &messages), FE_E_IO);
    assert_string_equal(messages.items[0].text,
                        "no/such.csv: cannot read the profile: No such file or directory");
    fe_messages_free(&messages);
}

static void profile__even_ground_has_the_length_and_rise_asked(void **state)
{
    (void)state;
    fe_profile even = {0};
    assert_int_equal(fe_profile_even(10.0, 2.0, 4.0, &even), FE_OK);
    assert_int_equal(even.count, 4);
    assert_close(fe_profile_length(&even), 10.0, 0.0);
    assert_close(even.height_m[3], 2.0, 0.0);
    assert_close(fe_profile_height_at(&even, 5.0), 1.0, 1e-12);
    fe_profile_free(&even);
}

static void profile__refined_keeps_its_points_and_its_shape(void **state)
{
    (void)state;
    fe_profile fine = {0};
    assert_int_equal(fe_profile_refine(&GIVEN, 7.0, &fine), FE_OK);
    for (size_t i = 1; i < fine.count; i++)
        assert_true(fine.distance_m[i] - fine.distance_m[i - 1] <= 7.0 + 1e-9);
    for (size_t i = 0; i < GIVEN.count; i++)
        assert_close(fe_profile_height_at(&fine, given_d_m[i]), given_h_m[i], 1e-12);
    assert_close(fe_profile_ground_length(&fine), fe_profile_ground_length(&GIVEN), 1e-9);
    fe_profile_free(&fine);
}

static void profile__reversed_twice_is_itself(void **state)
{
    (void)state;
    fe_profile back = {0};
    fe_profile again = {0};
    assert_int_equal(fe_profile_reverse(&GIVEN, &back), FE_OK);
    assert_close(back.distance_m[1], 30.0, 0.0);
    assert_close(back.height_m[1], 6.0, 0.0);
    assert_int_equal(fe_profile_reverse(&back, &again), FE_OK);
    for (size_t i = 0; i < GIVEN.count; i++) {
        assert_close(again.distance_m[i], given_d_m[i], 1e-12);
        assert_close(again.height_m[i], given_h_m[i], 0.0);
    }
    fe_profile_free(&back);
    fe_profile_free(&again);
}

static void profile__cut_starts_at_zero_and_follows_the_ground(void **state)
{
    (void)state;
    fe_profile part = {0};
    assert_int_equal(fe_profile_cut(&GIVEN, 15.0, 70.0, &part), FE_OK);
    assert_int_equal(part.count, 3);
    assert_close(part.distance_m[0], 0.0, 0.0);
    assert_close(part.height_m[0], 7.0, 1e-12);
    assert_close(part.distance_m[1], 15.0, 1e-12);
    assert_close(fe_profile_length(&part), 55.0, 1e-12);
    assert_close(part.height_m[2], 6.0, 1e-12);
    fe_profile_free(&part);
}

static void profile__cut_of_everything_is_everything(void **state)
{
    (void)state;
    fe_profile part = {0};
    assert_int_equal(fe_profile_cut(&GIVEN, 0.0, 100.0, &part), FE_OK);
    assert_int_equal(part.count, GIVEN.count);
    assert_close(fe_profile_ground_length(&part), fe_profile_ground_length(&GIVEN), 1e-12);
    fe_profile_free(&part);
}

static void profile__ground_length_follows_the_slope(void **state)
{
    (void)state;
    double d_m[] = {0.0, 30.0};
    double h_m[] = {0.0, 40.0};
    const fe_profile slope = {.count = 2, .distance_m = d_m, .height_m = h_m};
    assert_close(fe_profile_ground_length(&slope), 50.0, 1e-12);
    assert_close(fe_profile_length(&slope), 30.0, 0.0);
}

static void profile__height_outside_is_that_of_the_nearer_end(void **state)
{
    (void)state;
    assert_close(fe_profile_height_at(&GIVEN, -3.0), 5.0, 0.0);
    assert_close(fe_profile_height_at(&GIVEN, 170.0), 8.0, 0.0);
    assert_close(fe_profile_height_at(&GIVEN, 50.0), 7.5, 1e-12);
    assert_true(isnan(fe_profile_height_at(&GIVEN, NAN)));
}

static void profile__refuses_what_is_no_length(void **state)
{
    (void)state;
    fe_profile out = {0};
    assert_int_equal(fe_profile_even(NAN, 0.0, 1.0, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_even(0.0, 0.0, 1.0, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_even(10.0, NAN, 1.0, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_even(10.0, 0.0, 1e-9, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_refine(&GIVEN, 0.0, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_refine(&GIVEN, NAN, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_cut(&GIVEN, 50.0, 50.0, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_cut(&GIVEN, 50.0, 101.0, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_cut(&GIVEN, NAN, 50.0, &out), FE_E_DOMAIN);
    const fe_profile none = {0};
    assert_int_equal(fe_profile_reverse(&none, &out), FE_E_DOMAIN);
    assert_int_equal(fe_profile_copy(&none, &out), FE_E_DOMAIN);
    assert_int_equal(out.count, 0);
}

static double given_error_m[] = {0.1, 0.3, 0.2, 0.4};
static double given_clutter_m[] = {0.0, 8.0, 4.0, 0.0};
static const fe_profile FULL = {.count = 4,
                                .distance_m = given_d_m,
                                .height_m = given_h_m,
                                .height_error_m = given_error_m,
                                .clutter_m = given_clutter_m};

static void profile__carries_error_and_clutter_along(void **state)
{
    (void)state;
    fe_profile fine = {0};
    fe_profile part = {0};
    fe_profile back = {0};
    assert_int_equal(fe_profile_refine(&FULL, 15.0, &fine), FE_OK);
    assert_close(fine.distance_m[1], 15.0, 0.0);
    assert_close(fine.height_error_m[1], 0.2, 1e-12);
    assert_close(fine.clutter_m[1], 4.0, 1e-12);
    assert_int_equal(fe_profile_cut(&FULL, 50.0, 85.0, &part), FE_OK);
    assert_close(part.height_error_m[0], 0.25, 1e-12);
    assert_close(part.clutter_m[2], 2.0, 1e-12);
    assert_int_equal(fe_profile_reverse(&FULL, &back), FE_OK);
    assert_close(back.height_error_m[0], 0.4, 0.0);
    assert_close(back.clutter_m[1], 4.0, 0.0);
    fe_profile_free(&fine);
    fe_profile_free(&part);
    fe_profile_free(&back);
}

static void profile__copy_has_the_same_points_in_its_own_room(void **state)
{
    (void)state;
    fe_profile copy = {0};
    assert_int_equal(fe_profile_copy(&FULL, &copy), FE_OK);
    assert_int_equal(copy.count, FULL.count);
    for (size_t i = 0; i < FULL.count; i++) {
        assert_close(copy.distance_m[i], given_d_m[i], 0.0);
        assert_close(copy.height_m[i], given_h_m[i], 0.0);
        assert_close(copy.height_error_m[i], given_error_m[i], 0.0);
        assert_close(copy.clutter_m[i], given_clutter_m[i], 0.0);
    }
    copy.height_m[1] = 0.0;
    assert_close(FULL.height_m[1], 9.0, 0.0);
    fe_profile_free(&copy);
    assert_int_equal(fe_profile_copy(&GIVEN, &copy), FE_OK);
    assert_null(copy.height_error_m);
    assert_null(copy.clutter_m);
    fe_profile_free(&copy);
}

static void profile__printed_is_read_back(void **state)
{
    (void)state;
    static const char *const MARKS[] = {"", "coarse", "", ""};
    fe_strbuf out = FE_STRBUF_INIT;
    fe_profile again = {0};
    fe_messages messages = {0};
    fe_profile_print(&FULL, "from: a test\nlength: 100 m\033[2J", MARKS, &out);
    assert_non_null(strstr(fe_strbuf_text(&out), "# from: a test\n# length: 100 m?[2J\n"
                                                 "distance_m,height_m,clutter_m,height_error_m,"
                                                 "mark\n0.000,5.000,0.000,0.100,\n"
                                                 "30.000,9.000,8.000,0.300,coarse\n"));
    assert_int_equal(read_text(fe_strbuf_text(&out), &again, &messages), FE_OK);
    for (size_t i = 0; i < FULL.count; i++) {
        assert_close(again.height_m[i], given_h_m[i], 0.0);
        assert_close(again.height_error_m[i], given_error_m[i], 0.0);
        assert_close(again.clutter_m[i], given_clutter_m[i], 0.0);
    }
    fe_profile_free(&again);
    fe_strbuf_free(&out);
}

static void profile__without_error_and_clutter_has_none(void **state)
{
    (void)state;
    fe_profile fine = {0};
    assert_int_equal(fe_profile_refine(&GIVEN, 7.0, &fine), FE_OK);
    assert_null(fine.height_error_m);
    assert_null(fine.clutter_m);
    fe_profile_free(&fine);
}

static void profile__refuses_an_error_below_zero(void **state)
{
    (void)state;
    refuses("distance_m,height_m,height_error_m\n0,1,-1\n10,1,0\n",
            "test_profile.csv:2: column height_error_m: read \"-1\", expected metres from 0 to "
            "1000, for example 12.5");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(profile__is_read_with_comments_and_other_columns),
        cmocka_unit_test(profile__refuses_distances_that_do_not_rise),
        cmocka_unit_test(profile__refuses_a_start_away_from_zero),
        cmocka_unit_test(profile__refuses_nan_and_infinity),
        cmocka_unit_test(profile__refuses_a_missing_column),
        cmocka_unit_test(profile__refuses_a_single_point),
        cmocka_unit_test(profile__refuses_an_empty_file),
        cmocka_unit_test(profile__refuses_a_torn_row),
        cmocka_unit_test(profile__refuses_a_column_named_twice),
        cmocka_unit_test(profile__reads_past_columns_without_a_name),
        cmocka_unit_test(profile__says_all_mistakes_in_one_run),
        cmocka_unit_test(profile__says_why_a_file_cannot_be_read),
        cmocka_unit_test(profile__even_ground_has_the_length_and_rise_asked),
        cmocka_unit_test(profile__refined_keeps_its_points_and_its_shape),
        cmocka_unit_test(profile__reversed_twice_is_itself),
        cmocka_unit_test(profile__cut_starts_at_zero_and_follows_the_ground),
        cmocka_unit_test(profile__cut_of_everything_is_everything),
        cmocka_unit_test(profile__ground_length_follows_the_slope),
        cmocka_unit_test(profile__height_outside_is_that_of_the_nearer_end),
        cmocka_unit_test(profile__refuses_what_is_no_length),
        cmocka_unit_test(profile__carries_error_and_clutter_along),
        cmocka_unit_test(profile__copy_has_the_same_points_in_its_own_room),
        cmocka_unit_test(profile__printed_is_read_back),
        cmocka_unit_test(profile__without_error_and_clutter_has_none),
        cmocka_unit_test(profile__refuses_an_error_below_zero),
    };
    return FE_RUN_TESTS(tests);
}
