/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/track.h"
#include "testing.h"

static const fe_position START = {0.8, 0.1};

/* A point so far along a line to the north-east, and so far to its right. */
static fe_track_point at(double along_m, double right_m, double height_m)
{
    fe_position on;
    fe_track_point point = {.height_m = height_m};
    const fe_geodesic line = {along_m, 0.7};
    const fe_geodesic beside = {fabs(right_m),
                                right_m < 0.0 ? 0.7 - 1.5707963 : 0.7 + 1.5707963};
    assert_int_equal(fe_geodesic_end(&START, &line, &on), FE_OK);
    assert_int_equal(fe_geodesic_end(&on, &beside, &point.at), FE_OK);
    return point;
}

static void track__is_put_onto_the_straight_line(void **state)
{
    (void)state;
    const fe_track_point points[] = {at(0, 0, 100), at(40, 6, 104), at(80, -3, 102),
                                     at(120, 0, 106)};
    fe_track track;
    assert_int_equal(fe_track_reduce(points, 4, 5.0, &track), FE_OK);
    assert_int_equal(track.profile.count, 4);
    assert_close(track.profile.distance_m[1], 40.0, 1e-3);
    assert_close(fe_profile_length(&track.profile), 120.0, 1e-6);
    assert_close(track.profile.height_m[2], 102.0, 0.0);
    assert_close(track.profile.height_error_m[2], 5.0, 0.0);
    assert_close(track.stray_m, 6.0, 1e-3);
    /* A tenth of a millimetre to the side, what the geodesic is good for. */
    assert_close(track.bearing_rad, 0.7, 1e-6);
    assert_false(track.came_back);
    fe_track_free(&track);
}

static void track__that_comes_back_ends_at_its_farthest_point(void **state)
{
    (void)state;
    const fe_track_point points[] = {at(0, 0, 100), at(50, 1, 104), at(100, 0, 110),
                                     at(50.2, -1, 106), at(0.3, 0, 100.4)};
    fe_track track;
    assert_int_equal(fe_track_reduce(points, 5, 3.0, &track), FE_OK);
    assert_true(track.came_back);
    assert_int_equal(track.used, 5);
    assert_int_equal(track.profile.count, 3);
    assert_close(track.profile.height_m[0], 100.2, 1e-9);
    assert_close(track.profile.height_m[1], 105.0, 1e-9);
    assert_close(track.profile.height_m[2], 110.0, 1e-9);
    fe_track_free(&track);
}

static void track__passes_over_points_without_height_and_beyond_the_ends(void **state)
{
    (void)state;
    const fe_track_point points[] = {at(0, 0, 1), at(20, 0, NAN), at(130, 0, 9), at(50, 0, 3),
                                     at(100, 0, 4)};
    fe_track track;
    assert_int_equal(fe_track_reduce(points, 5, 3.0, &track), FE_OK);
    assert_int_equal(track.without_height, 1);
    assert_int_equal(track.used, 3);
    assert_int_equal(track.profile.count, 3);
    fe_track_free(&track);
}

static void track__refuses_what_makes_no_profile(void **state)
{
    (void)state;
    const fe_track_point still[] = {at(0, 0, 1), at(0.5, 0, 1), at(1, 0, 1)};
    const fe_track_point flat[] = {at(0, 0, NAN), at(50, 0, 1), at(90, 0, NAN)};
    fe_track_point odd[] = {at(0, 0, 1), at(50, 0, 1)};
    fe_track track = {.used = 77};
    assert_int_equal(fe_track_reduce(still, 3, 1.0, &track), FE_E_NO_SOLUTION);
    assert_int_equal(fe_track_reduce(flat, 3, 1.0, &track), FE_E_NO_SOLUTION);
    assert_int_equal(fe_track_reduce(flat, 0, 1.0, &track), FE_E_NO_SOLUTION);
    assert_int_equal(fe_track_reduce(odd, 2, NAN, &track), FE_E_DOMAIN);
    odd[1].at.latitude_rad = NAN;
    assert_int_equal(fe_track_reduce(odd, 2, 1.0, &track), FE_E_DOMAIN);
    assert_int_equal(track.used, 77);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(track__is_put_onto_the_straight_line),
        cmocka_unit_test(track__that_comes_back_ends_at_its_farthest_point),
        cmocka_unit_test(track__passes_over_points_without_height_and_beyond_the_ends),
        cmocka_unit_test(track__refuses_what_makes_no_profile),
    };
    return FE_RUN_TESTS(tests);
}
