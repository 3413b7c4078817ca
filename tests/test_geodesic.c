/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/geodesic.h"
#include "testing.h"

static const double PI = 3.14159265358979323846;

static double degrees(double deg, double minutes, double seconds)
{
    return copysign((fabs(deg) + minutes / 60.0 + seconds / 3600.0) * PI / 180.0, deg);
}

/*
 * Flinders Peak to Buninyong, the worked line of the Geocentric Datum of Australia Technical
 * Manual (from memory); its ellipsoid differs from WGS 84 by 0.1 mm.
 */
static void geodesic__agrees_with_a_worked_line(void **state)
{
    (void)state;
    const fe_position peak = {degrees(-37.0, 57.0, 3.72030), degrees(144.0, 25.0, 29.52440)};
    const fe_position hill = {degrees(-37.0, 39.0, 10.15610), degrees(143.0, 55.0, 35.38390)};
    fe_geodesic line;
    assert_int_equal(fe_geodesic_between(&peak, &hill, &line), FE_OK);
    assert_close(line.length_m, 54972.271, 0.001);
    assert_close(line.azimuth_rad, degrees(306.0, 52.0, 5.37), 5e-8);
    fe_position end;
    assert_int_equal(fe_geodesic_end(&peak, &line, &end), FE_OK);
    assert_close(end.latitude_rad, hill.latitude_rad, 2e-11);
    assert_close(end.longitude_rad, hill.longitude_rad, 2e-11);
}

/* A quarter of the equator, and of a meridian: 10 001 965.729 m (WGS 84, common tables). */
static void geodesic__measures_the_quarters_of_the_earth(void **state)
{
    (void)state;
    const fe_position origin = {0.0, 0.0};
    const fe_position east = {0.0, PI / 2.0};
    const fe_position pole = {PI / 2.0, 0.0};
    fe_geodesic line;
    assert_int_equal(fe_geodesic_between(&origin, &east, &line), FE_OK);
    assert_close(line.length_m, 6378137.0 * PI / 2.0, 0.001);
    assert_close(line.azimuth_rad, PI / 2.0, 1e-12);
    assert_int_equal(fe_geodesic_between(&origin, &pole, &line), FE_OK);
    assert_close(line.length_m, 10001965.729, 0.001);
    assert_close(line.azimuth_rad, 0.0, 1e-12);
}

static void geodesic__is_as_long_from_either_end_and_crosses_the_date_line(void **state)
{
    (void)state;
    const fe_position a = {0.3, PI - 1e-5};
    const fe_position b = {0.30002, -PI + 2e-5};
    fe_geodesic there;
    fe_geodesic back;
    assert_int_equal(fe_geodesic_between(&a, &b, &there), FE_OK);
    assert_int_equal(fe_geodesic_between(&b, &a, &back), FE_OK);
    assert_close(there.length_m, back.length_m, 1e-6);
    assert_true(there.length_m < 300.0);
    fe_position end;
    assert_int_equal(fe_geodesic_end(&a, &there, &end), FE_OK);
    assert_close(end.longitude_rad, b.longitude_rad, 1e-12);
}

static void geodesic__of_one_place_is_nothing(void **state)
{
    (void)state;
    const fe_position a = {0.8, 0.1};
    fe_geodesic line;
    assert_int_equal(fe_geodesic_between(&a, &a, &line), FE_OK);
    assert_close(line.length_m, 0.0, 0.0);
}

static void geodesic__refuses_what_is_no_position(void **state)
{
    (void)state;
    const fe_position good = {0.8, 0.1};
    const fe_position bad[] = {{NAN, 0.1}, {0.1, NAN}, {1.6, 0.0}, {0.0, 7.0}};
    fe_geodesic line = {77.0, 0.0};
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(fe_geodesic_between(&good, &bad[i], &line), FE_E_DOMAIN);
        assert_int_equal(fe_geodesic_between(&bad[i], &good, &line), FE_E_DOMAIN);
    }
    const fe_position antipode = {-0.8, 0.1 - PI};
    assert_int_equal(fe_geodesic_between(&good, &antipode, &line), FE_E_CONVERGE);
    assert_close(line.length_m, 77.0, 0.0);
    fe_position end;
    const fe_geodesic odd[] = {{NAN, 0.0}, {-1.0, 0.0}, {1.0, NAN}};
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(fe_geodesic_end(&good, &odd[i], &end), FE_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(geodesic__agrees_with_a_worked_line),
        cmocka_unit_test(geodesic__measures_the_quarters_of_the_earth),
        cmocka_unit_test(geodesic__is_as_long_from_either_end_and_crosses_the_date_line),
        cmocka_unit_test(geodesic__of_one_place_is_nothing),
        cmocka_unit_test(geodesic__refuses_what_is_no_position),
    };
    return FE_RUN_TESTS(tests);
}
