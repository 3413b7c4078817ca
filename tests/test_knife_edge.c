/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/knife_edge.h"

#include <math.h>

#include "testing.h"

static double exact(double v)
{
    double loss_db = NAN;
    assert_int_equal(fe_knife_edge_loss_exact(v, &loss_db), FE_OK);
    return loss_db;
}

static double fit(double v)
{
    double loss_db = NAN;
    assert_int_equal(fe_knife_edge_loss_fit(v, &loss_db), FE_OK);
    return loss_db;
}

/* Power series of the Fresnel integrals summed with 80 digits; computed for this test. */
static void knife_edge_loss_exact__agrees_with_a_sum_of_80_digits(void **state)
{
    (void)state;
    static const struct {
        double v;
        double loss_db;
    } rows[] = {
        {-3.0, -0.44394328881797},   {-1.5, -0.65866564343033}, {-0.78, -0.01113794507642},
        {-0.3, 3.45170000637067},    {0.0, 6.02059991327962},   {0.25, 8.17425978987855},
        {1.4999, 16.77681961245285}, {1.5, 16.77733678832399},  {1.5001, 16.77785394014359},
        {2.4, 20.61819541200758},    {4.0, 25.00297614616403},  {7.0, 29.85617320388820},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_close(exact(rows[i].v), rows[i].loss_db, 1e-11);
}

static void knife_edge_loss_exact__tends_to_the_far_law(void **state)
{
    (void)state;
    /* The field falls to 1 / (pi sqrt 2 v); the next term of it is 3 / (2 pi^2 v^4) smaller. */
    assert_close(exact(100.0), 20.0 * log10(3.14159265358979 * sqrt(2.0) * 100.0), 1e-7);
    assert_close(exact(1e6), 20.0 * log10(3.14159265358979 * sqrt(2.0) * 1e6), 1e-9);
    assert_true(isfinite(exact(1e100)));
}

static void knife_edge_loss_exact__tends_to_none_on_the_clear_side(void **state)
{
    (void)state;
    assert_close(exact(-1e3), 0.0, 3e-3);
}

static void knife_edge_loss_fit__is_within_its_stated_error(void **state)
{
    (void)state;
    for (double v = -0.77; v < 20.0; v += 0.01)
        assert_close(fit(v), exact(v), 0.13);
}

static void knife_edge_loss_fit__rises_from_zero(void **state)
{
    (void)state;
    assert_close(fit(-5.0), 0.0, 0.0);
    assert_close(fit(-0.78), 0.0, 0.0);
    assert_close(fit(-0.7799), 0.0, 0.02);
    for (double v = -0.77; v < 30.0; v += 0.1)
        assert_true(fit(v + 0.1) > fit(v));
}

static void knife_edge_v__scales_with_height_and_the_root_of_frequency(void **state)
{
    (void)state;
    double v[4];
    assert_int_equal(fe_knife_edge_v(2.0, 150.0, 350.0, 2.4e9, &v[0]), FE_OK);
    assert_int_equal(fe_knife_edge_v(-4.0, 150.0, 350.0, 2.4e9, &v[1]), FE_OK);
    assert_int_equal(fe_knife_edge_v(2.0, 150.0, 350.0, 9.6e9, &v[2]), FE_OK);
    assert_int_equal(fe_knife_edge_v(2.0, 350.0, 150.0, 2.4e9, &v[3]), FE_OK);
    assert_close(v[1], -2.0 * v[0], 1e-14);
    assert_close(v[2], 2.0 * v[0], 1e-14);
    assert_close(v[3], v[0], 1e-14);
}

static void knife_edge_v__warns_at_large_angles(void **state)
{
    (void)state;
    double v = 0.0;
    assert_int_equal(fe_knife_edge_v(9.9, 100.0, 350.0, 2.4e9, &v), FE_OK);
    assert_int_equal(fe_knife_edge_v(10.1, 100.0, 350.0, 2.4e9, &v), FE_W_RANGE);
    assert_int_equal(fe_knife_edge_v(-10.1, 100.0, 350.0, 2.4e9, &v), FE_W_RANGE);
    assert_int_equal(fe_knife_edge_v(0.0, 0.1, 350.0, 2.4e9, &v), FE_W_RANGE);
}

static void knife_edge__refuses_what_is_no_edge(void **state)
{
    (void)state;
    double out = 7.0;
    assert_int_equal(fe_knife_edge_v(NAN, 1.0, 1.0, 1e9, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_v(1.0, 0.0, 1.0, 1e9, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_v(1.0, 1.0, NAN, 1e9, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_v(1.0, INFINITY, 1.0, 1e9, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_v(1.0, 1.0, 1.0, -1.0, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_v(1.0, 1.0, 1.0, INFINITY, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_loss_fit(NAN, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_loss_fit(INFINITY, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_loss_exact(NAN, &out), FE_E_DOMAIN);
    assert_int_equal(fe_knife_edge_loss_exact(-INFINITY, &out), FE_E_DOMAIN);
    assert_close(out, 7.0, 0.0);
}

enum { POINTS = 401 };

/* 400 m of flat ground, 1 m a step, 5.5 GHz. */
typedef struct ground {
    double d_m[POINTS];
    double h_m[POINTS];
} ground;

static ground flat(void)
{
    ground g;
    for (size_t i = 0; i < POINTS; i++) {
        g.d_m[i] = (double)i;
        g.h_m[i] = 0.0;
    }
    return g;
}

static fe_isolated_edge find(const ground *g, double antenna_m)
{
    fe_isolated_edge edge;
    assert_int_equal(fe_isolated_edge_find(g->d_m, g->h_m, POINTS, antenna_m, antenna_m, 8.5e6,
                                           5.5e9, &edge),
                     FE_OK);
    return edge;
}

static void isolated_edge__is_found_with_its_own_loss(void **state)
{
    (void)state;
    ground g = flat();
    g.h_m[120] = 9.0;
    const fe_isolated_edge edge = find(&g, 8.0);
    assert_true(edge.found);
    assert_int_equal(edge.index, 120);
    double v = 0.0;
    const double over_m = 1.0 + 120.0 * 280.0 / (2.0 * 8.5e6);
    assert_int_equal(fe_knife_edge_v(over_m, 120.0, 280.0, 5.5e9, &v), FE_OK);
    assert_close(edge.v, v, 1e-12);
    assert_close(edge.loss_db, fit(v), 1e-12);
}

static void isolated_edge__is_6_db_at_grazing(void **state)
{
    (void)state;
    ground g = flat();
    g.h_m[200] = 8.0 - 200.0 * 200.0 / (2.0 * 8.5e6);
    const fe_isolated_edge edge = find(&g, 8.0);
    assert_true(edge.found);
    assert_close(edge.loss_db, 6.03, 0.01);
}

static void isolated_edge__is_none_where_nothing_enters(void **state)
{
    (void)state;
    const ground g = flat();
    const fe_isolated_edge edge = find(&g, 8.0);
    assert_false(edge.found);
    assert_true(edge.v < FE_KNIFE_EDGE_CLEAR_V);
    assert_close(edge.loss_db, 0.0, 0.0);
}

static void isolated_edge__is_none_of_two(void **state)
{
    (void)state;
    ground g = flat();
    g.h_m[120] = 9.0;
    g.h_m[260] = 7.5;
    assert_false(find(&g, 8.0).found);
}

static void isolated_edge__is_no_blunt_hill(void **state)
{
    (void)state;
    ground g = flat();
    for (size_t i = 0; i < POINTS; i++)
        g.h_m[i] = 9.0 * exp(-pow((g.d_m[i] - 200.0) / 60.0, 2.0));
    assert_false(find(&g, 8.0).found);
}

static void isolated_edge__wants_clear_ground_on_the_way(void **state)
{
    (void)state;
    ground g = flat();
    g.h_m[200] = 3.0;
    assert_true(find(&g, 1.0).found);
    assert_false(find(&g, 0.3).found);
}

static void isolated_edge__refuses_what_is_no_profile(void **state)
{
    (void)state;
    const ground g = flat();
    fe_isolated_edge edge = {.index = 9};
    assert_int_equal(fe_isolated_edge_find(g.d_m, g.h_m, 2, 8.0, 8.0, 8.5e6, 5.5e9, &edge),
                     FE_E_DOMAIN);
    assert_int_equal(fe_isolated_edge_find(g.d_m, g.h_m, POINTS, NAN, 8.0, 8.5e6, 5.5e9, &edge),
                     FE_E_DOMAIN);
    assert_int_equal(edge.index, 9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(knife_edge_loss_exact__agrees_with_a_sum_of_80_digits),
        cmocka_unit_test(knife_edge_loss_exact__tends_to_the_far_law),
        cmocka_unit_test(knife_edge_loss_exact__tends_to_none_on_the_clear_side),
        cmocka_unit_test(knife_edge_loss_fit__is_within_its_stated_error),
        cmocka_unit_test(knife_edge_loss_fit__rises_from_zero),
        cmocka_unit_test(knife_edge_v__scales_with_height_and_the_root_of_frequency),
        cmocka_unit_test(knife_edge_v__warns_at_large_angles),
        cmocka_unit_test(knife_edge__refuses_what_is_no_edge),
        cmocka_unit_test(isolated_edge__is_found_with_its_own_loss),
        cmocka_unit_test(isolated_edge__is_6_db_at_grazing),
        cmocka_unit_test(isolated_edge__is_none_where_nothing_enters),
        cmocka_unit_test(isolated_edge__is_none_of_two),
        cmocka_unit_test(isolated_edge__is_no_blunt_hill),
        cmocka_unit_test(isolated_edge__wants_clear_ground_on_the_way),
        cmocka_unit_test(isolated_edge__refuses_what_is_no_profile),
    };
    return FE_RUN_TESTS(tests);
}
