/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/posts.h"

#include <math.h>

#include "farend/constants.h"
#include "testing.h"

static fe_posts_material round_100(void)
{
    const fe_posts_material material = {
        .section = FE_POST_ROUND,
        .width_m = 0.1,
        .bending_pa = 24e6, /* EN 338 class C24 */
        .elasticity_pa = 11e9,
        .format = FE_SAFETY_EN,
        .lateral_pa_m = 23.56e3, /* sand, soil_lateral_bearing.csv */
        .rule = FE_POST_TENTH_2FT,
        .own_depth_m = (double)NAN,
        .top_m = 0.15,
    };
    return material;
}

static fe_posts_kind make(const fe_posts_material *material, double length_m, bool stayed)
{
    fe_posts_kind kind;
    assert_int_equal(fe_posts_make(material, length_m, 0.0, stayed, &kind), FE_OK);
    return kind;
}

/* The building code takes the diagonal of a square post (IBC 2012 1807.3.2.1). */
static void square_post__stands_in_the_ground_as_its_diagonal(void **state)
{
    (void)state;
    fe_posts_material square = round_100(), round = round_100();
    double square_m = 0.0, round_m = 0.0;
    square.section = FE_POST_SQUARE;
    round.width_m = 0.1 * 1.41421356237;
    assert_int_equal(fe_posts_depth_needed(&square, 2.0, 150.0, 300.0, &square_m), FE_OK);
    assert_int_equal(fe_posts_depth_needed(&round, 2.0, 150.0, 300.0, &round_m), FE_OK);
    assert_true(square_m > 0.3);
    assert_close(square_m, round_m, 1e-6);
}

/* Wind on the post alone: pressure on height times width, half way up. */
static void wind_on_the_post__turns_it_about_the_ground(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind kind = make(&material, 4.0, false);
    const fe_posts_load load = {.pressure_pa = 300.0};
    fe_posts_duty duty;
    fe_posts_check(&kind, &load, &duty);
    const double height_m = 4.0 - kind.depth_m;
    assert_close(duty.moment_n_m, 300.0 * height_m * 0.1 * height_m / 2.0, 1e-6);
}

/* A 3 m post: hole 0.91 m, attachment 1.94 m; a 4 m post: 1.01 m and 2.84 m. */
static void short_posts__leave_little_above_ground(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    fe_posts_kind kind = make(&material, 3.0, false);
    assert_close(kind.depth_m, 0.91, 0.005);
    assert_close(kind.attachment_m, 1.94, 0.005);
    kind = make(&material, 4.0, false);
    assert_close(kind.depth_m, 1.01, 0.005);
    assert_close(kind.attachment_m, 2.84, 0.005);
    /* Under 2.9 m already; with 0.3 m of sag 4.40, 4.51 and 5.07 m would do (2.9, 3.0, 3.5). */
    const double wanted[][2] = {{2.9, 4.40}, {3.0, 4.51}, {3.5, 5.07}};
    for (size_t i = 0; i < 3; i++) {
        double length_m = 0.0;
        assert_int_equal(fe_posts_length_for(&material, wanted[i][0] + 0.3, &length_m), FE_OK);
        assert_close(length_m, wanted[i][1], 0.005);
        double by_formula_m = 0.0;
        assert_int_equal(fe_post_length_needed(wanted[i][0], 0.3, 0.15, 0.0, &by_formula_m),
                         FE_OK);
        assert_close(length_m, by_formula_m, 1e-5);
    }
    double length_m = 0.0;
    assert_int_equal(fe_posts_length_for(&material, 2.9 + 0.3 + 2.0, &length_m), FE_OK);
    assert_close(length_m, 6.62, 0.005);
}

static void round_post_of_100_mm__resists_as_computed(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind kind = make(&material, 5.0, false);
    /* 0.906 kN m permanent, 1.631 kN m with a gust; loads times 1.35 and 1.5. */
    assert_close(1.35 / kind.permanent_per_n_m, 906.0, 0.5);
    assert_close(1.35 / kind.gust_per_n_m, 1631.0, 0.5);
    assert_close(1.5 / kind.gust_per_wind_n_m, 1631.0, 0.5);
    fe_posts_duty duty;
    const double pull_n = 906.0 / 1.35 / kind.attachment_m;
    fe_posts_check(&kind, &(fe_posts_load){.pull_n = pull_n}, &duty);
    assert_close(duty.uses[FE_POSTS_PERMANENT], 1.0, 1e-3);
    assert_close(duty.moment_n_m, 906.0 / 1.35, 1e-6);
}

/* 400 N at 2 m, 100 mm, 23.56 kPa/m: 1.27 m with factor 2, 1.66 m with factor 1. */
static void ground__is_what_the_building_code_says(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    double depth_m = 0.0;
    assert_int_equal(fe_posts_depth_needed(&material, 2.0, 0.0, 400.0, &depth_m), FE_OK);
    assert_close(depth_m, 1.27, 0.005);
    assert_int_equal(fe_posts_depth_needed(&material, 2.0, 400.0, 400.0, &depth_m), FE_OK);
    assert_close(depth_m, 1.66, 0.005);

    /* The check is the same formula turned round, for a lasting pull and for a gust. */
    for (int gust = 0; gust < 2; gust++) {
        fe_posts_material deep = material;
        assert_int_equal(
            fe_posts_depth_needed(&material, 2.0, gust ? 0.0 : 400.0, 400.0, &deep.own_depth_m),
            FE_OK);
        const fe_posts_kind kind = make(&deep, 2.0 + 0.15 + deep.own_depth_m, false);
        assert_close(kind.attachment_m, 2.0, 1e-9);
        assert_close((gust ? kind.ground_gust_per_n : kind.ground_per_n) * 400.0, 1.0, 1e-6);
    }
}

static void depth__is_the_largest_of_rule_plan_and_added(void **state)
{
    (void)state;
    fe_posts_material material = round_100();
    fe_posts_kind kind;
    material.own_depth_m = 0.5;
    assert_int_equal(fe_posts_make(&material, 5.0, 0.0, false, &kind), FE_OK);
    assert_close(kind.depth_m, 0.5 + 0.6096, 1e-12);
    material.own_depth_m = 1.4;
    assert_int_equal(fe_posts_make(&material, 5.0, 0.0, false, &kind), FE_OK);
    assert_close(kind.depth_m, 1.4, 1e-12);
    assert_int_equal(fe_posts_make(&material, 5.0, 0.3, false, &kind), FE_OK);
    assert_close(kind.depth_m, 1.7, 1e-12);
}

static void pull_left_over__is_vector_sum(void **state)
{
    (void)state;
    assert_close(fe_posts_pull(300.0, 340.0, 0.0), 40.0, 1e-12);
    /* 2 H sin(delta/2) for equal pulls. */
    assert_close(fe_posts_pull(300.0, 300.0, 30.0 * FE_DEG_RAD), 600.0 * sin(15.0 * FE_DEG_RAD),
                 1e-9);
    assert_close(fe_posts_pull(300.0, 0.0, 1.0), 300.0, 1e-9); /* a broken span */
    assert_close(fe_posts_pull(300.0, 400.0, FE_PI / 2.0), 500.0, 1e-9);
}

static void stay__takes_all_and_makes_a_strut(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind kind = make(&material, 5.0, true);
    fe_posts_duty duty;
    fe_posts_check(&kind, &(fe_posts_load){.pull_n = 1000.0}, &duty);
    assert_close(duty.moment_n_m, 0.0, 1e-12);
    /* Euler over the height with a factor of 3, strut 1.5 times the pull. */
    const double inertia = FE_PI * 1e-4 / 64.0;
    assert_close_relative(duty.uses[FE_POSTS_BUCKLING],
                          3.0 * 1500.0 * kind.attachment_m * kind.attachment_m /
                              (FE_PI * FE_PI * 11e9 * inertia),
                          1e-9);
    /* The cable's weight stands on the strut too, in the line and at a corner of 60 degrees with
     * 1000 N on both sides, which pull inwards with 1000 N; what lifts it takes nothing off. */
    static const double DOWN_N[][2] = {{200.0, 1700.0}, {-200.0, 1500.0}};
    fe_posts_load corner = {0};
    fe_posts_set_pulls(1000.0, 1000.0, 60.0 * FE_DEG_RAD, &corner);
    const double euler_n = 1500.0 / duty.uses[FE_POSTS_BUCKLING];
    for (size_t i = 0; i < sizeof DOWN_N / sizeof DOWN_N[0]; i++) {
        fe_posts_check(&kind, &(fe_posts_load){.pull_n = 1000.0, .down_n = DOWN_N[i][0]},
                       &duty);
        assert_close_relative(duty.uses[FE_POSTS_BUCKLING], DOWN_N[i][1] / euler_n, 1e-12);
        corner.down_n = DOWN_N[i][0];
        fe_posts_check(&kind, &corner, &duty);
        assert_close_relative(duty.uses[FE_POSTS_BUCKLING], DOWN_N[i][1] / euler_n, 1e-12);
    }
    fe_post_stay stay;
    assert_int_equal(fe_posts_stay(&kind, 1000.0, &stay), FE_OK);
    assert_close(stay.tension_n, 1000.0 * sqrt(1.0 + 2.25), 1e-6);
    assert_close(stay.vertical_n, 1500.0, 1e-6);
}

/* In the line a pair of stays holds the pull; wind across it bends the post as if unstayed. */
static void stays_in_the_line__leave_the_wind_to_the_post(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind free_post = make(&material, 5.0, false);
    const fe_posts_kind stayed = make(&material, 5.0, true);
    fe_posts_load load = {.cable_wind_n = 100.0, .pressure_pa = 300.0};
    fe_posts_duty bent, held;
    fe_posts_check(&free_post, &load, &bent);
    fe_posts_check(&stayed, &load, &held);
    assert_close(held.moment_n_m, bent.moment_n_m, 1e-9);
    assert_close(held.uses[FE_POSTS_GUST], bent.uses[FE_POSTS_GUST], 1e-12);
    assert_close(held.uses[FE_POSTS_GROUND_GUST], bent.uses[FE_POSTS_GROUND_GUST], 1e-12);
    assert_true(held.uses[FE_POSTS_BUCKLING] == 0.0);
    /* The sharper the corner, the more of the wind its stay and the pull can hold. */
    fe_posts_set_pulls(300.0, 300.0, 40.0 * FE_DEG_RAD, &load);
    fe_posts_check(&stayed, &load, &held);
    assert_true(held.moment_n_m < bent.moment_n_m);
    assert_true(held.uses[FE_POSTS_BUCKLING] > 0.0);
}

/*
 * By hand: a line that turns by 5 degrees, 300 N on both sides, 100 N of wind on the cable, 300
 * Pa on a post of 100 mm that stands 3.8904 m high with the cable at 3.7404 m.
 *   pull inwards       2 x 300 sin 2.5 deg = 26.17 N
 *   wind outwards      100 cos 2.5 deg = 99.90 N, along 100 sin 2.5 deg = 4.36 N
 *   left for the post  hypot(99.90 - 26.17, 4.36) = 73.86 N at 3.7404 m, 276.3 N m
 *   wind on the post   300 x 3.8904^2 x 0.1 / 2 = 227.0 N m
 *   with factors       hypot(1.5 x 99.90 - 26.17, 1.5 x 4.36) x 3.7404 + 1.5 x 227.0 = 803.8
 *                      N m of 1631 N m
 *   stay               26.17 + 99.90 + 227.0 / 3.7404 = 186.8 N
 */
static void stay_of_a_slight_corner__holds_no_wind_outwards(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind stayed = make(&material, 5.0, true);
    fe_posts_load load = {.cable_wind_n = 100.0, .pressure_pa = 300.0};
    fe_posts_set_pulls(300.0, 300.0, 5.0 * FE_DEG_RAD, &load);
    fe_posts_duty duty;
    fe_posts_check(&stayed, &load, &duty);
    assert_close(duty.moment_n_m, 503.3, 0.1);
    assert_close(duty.uses[FE_POSTS_GUST], 803.8 / 1631.1, 1e-4);
    assert_close(duty.uses[FE_POSTS_GROUND_GUST], stayed.ground_gust_per_n * 503.3 / 3.7404,
                 1e-3);
    assert_close(duty.stay_n, 186.8, 0.1);
    assert_true(duty.uses[FE_POSTS_PERMANENT] == 0.0);
    /* Unequal pulls: 60 N cos 2.5 deg stay along the line for good. */
    fe_posts_set_pulls(300.0, 360.0, 5.0 * FE_DEG_RAD, &load);
    fe_posts_check(&stayed, &load, &duty);
    assert_close(duty.bending_n, 59.943, 1e-3);
    assert_close(duty.uses[FE_POSTS_PERMANENT], 1.35 * 59.943 * 3.7404 / 906.1, 1e-4);
    /* A broken span leaves 360 cos 2.5 deg along the line, which the stay does not hold. */
    load.broken_n = 360.0;
    fe_posts_check(&stayed, &load, &duty);
    assert_close(duty.uses[FE_POSTS_BROKEN],
                 359.657 * fmax(1.35 * 3.7404 / 1631.1, stayed.ground_gust_per_n), 1e-4);
}

/* What a stay, a bar of force outwards that only pulls, leaves to the post, with wind from one
 * side: on a span square to it by the square of the wind's part that way. */
static double left_to_post(const fe_posts_kind *kind, const fe_posts_load *load,
                           const double span_wind_n[2], double from_rad)
{
    const double normals[2][2] = {{load->turn_cos, load->turn_sin},
                                  {load->turn_cos, -load->turn_sin}};
    const double height_m = kind->length_m - kind->depth_m;
    const double post_n_m = 0.5 * load->pressure_pa * height_m * height_m * kind->width_m;
    double inward_n = load->inward_n, along_n = load->along_n;
    for (int i = 0; i < 2; i++) {
        const double part = normals[i][0] * cos(from_rad) + normals[i][1] * sin(from_rad);
        inward_n += span_wind_n[i] * part * fabs(part) * normals[i][0];
        along_n += span_wind_n[i] * part * fabs(part) * normals[i][1];
    }
    inward_n += post_n_m / kind->attachment_m * cos(from_rad);
    along_n += post_n_m / kind->attachment_m * sin(from_rad);
    return hypot(fmin(inward_n, 0.0), along_n) * kind->attachment_m;
}

static void no_wind_direction__leaves_more_to_a_corner_post(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind stayed = make(&material, 5.0, true);
    for (int turn_deg = 1; turn_deg <= 120; turn_deg += 7)
        for (int pull = 0; pull < 4; pull++) {
            const double span_wind_n[2] = {60.0, 30.0 + 20.0 * pull};
            fe_posts_load load = {.cable_wind_n = span_wind_n[0] + span_wind_n[1],
                                  .pressure_pa = 150.0 * pull};
            fe_posts_set_pulls(200.0, 200.0 + 40.0 * pull, turn_deg * FE_DEG_RAD, &load);
            fe_posts_duty duty;
            fe_posts_check(&stayed, &load, &duty);
            double most_n_m = 0.0;
            for (int from_deg = -180; from_deg < 180; from_deg++)
                most_n_m = fmax(
                    most_n_m, left_to_post(&stayed, &load, span_wind_n, from_deg * FE_DEG_RAD));
            assert_true(duty.moment_n_m >= most_n_m * (1.0 - 1e-12));
            /* Where it is slight, hardly more than that is charged. */
            if (turn_deg == 1)
                assert_true(duty.moment_n_m <= 1.06 * most_n_m);
        }
}

/* 1000 N at 1.5 up for 1 out pull 1802.8 N along the stay; twice that of 20 kN. */
static void anchor__holds_twice_the_pull_of_the_stay(void **state)
{
    (void)state;
    fe_posts_material material = round_100();
    fe_posts_duty duty;
    material.anchor_n = 20e3;
    const fe_posts_kind kind = make(&material, 5.0, true);
    fe_posts_check(&kind, &(fe_posts_load){.pull_n = 1000.0}, &duty);
    assert_close(duty.uses[FE_POSTS_ANCHOR], 2.0 * 1802.776 / 20e3, 1e-6);
    /* A broken span leaves the pull of the other side. */
    fe_posts_check(&kind, &(fe_posts_load){.pull_n = 100.0, .side_n = 12e3}, &duty);
    assert_int_equal(duty.limit, FE_POSTS_ANCHOR);
    assert_true(duty.use > 2.0);
    material.anchor_n = 0.0;
    const fe_posts_kind not_asked = make(&material, 5.0, true);
    assert_true(not_asked.anchor_per_n == 0.0);
    material.anchor_n = -1.0;
    fe_posts_kind none;
    assert_int_equal(fe_posts_make(&material, 5.0, 0.0, true, &none), FE_E_DOMAIN);
}

static void lifted_post__fails(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind kind = make(&material, 5.0, false);
    fe_posts_duty duty;
    fe_posts_check(&kind, &(fe_posts_load){.down_n = -150.0}, &duty);
    assert_int_equal(duty.limit, FE_POSTS_UPLIFT);
    /* Its weight and the grip of the ground stand for 100 N (common practice, no source). */
    assert_close(duty.use, 1.5, 1e-12);
    fe_posts_check(&kind, &(fe_posts_load){.down_n = 150.0}, &duty);
    assert_close(duty.uses[FE_POSTS_UPLIFT], 0.0, 0.0);
}

static void give__is_a_cantilever(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    const fe_posts_kind kind = make(&material, 5.0, false);
    double give_m_n = 0.0;
    assert_int_equal(fe_posts_give(&material, &kind, 0.0, &give_m_n), FE_OK);
    const double h = kind.attachment_m;
    assert_close_relative(give_m_n, h * h * h / (3.0 * 11e9 * FE_PI * 1e-4 / 64.0), 1e-9);
    /* A pair in the line holds it, the stay of a corner does not. */
    const fe_posts_kind stayed = make(&material, 5.0, true);
    double held_m_n = 1.0;
    assert_int_equal(fe_posts_give(&material, &stayed, 0.0, &held_m_n), FE_OK);
    assert_true(held_m_n == 0.0);
    assert_int_equal(fe_posts_give(&material, &stayed, 0.1, &held_m_n), FE_OK);
    assert_close_relative(held_m_n, give_m_n, 1e-12);
}

static void bad_posts__are_refused(void **state)
{
    (void)state;
    fe_posts_material material = round_100();
    fe_posts_kind kind;
    assert_int_equal(fe_posts_make(&material, (double)NAN, 0.0, false, &kind), FE_E_DOMAIN);
    assert_int_equal(fe_posts_make(&material, 0.8, 0.0, false, &kind), FE_E_DOMAIN);
    assert_int_equal(fe_posts_make(&material, 5.0, -0.1, false, &kind), FE_E_DOMAIN);
    material.width_m = 0.0;
    assert_int_equal(fe_posts_make(&material, 5.0, 0.0, false, &kind), FE_E_DOMAIN);
    double depth_m = 0.0;
    assert_int_equal(fe_posts_depth_needed(&material, 2.0, 1.0, 1.0, &depth_m), FE_E_DOMAIN);
}

/* The top of thawing ground bears nothing: as a post set so much shallower, pulled so much
 * higher above it. */
static void thawing_ground__holds_less(void **state)
{
    (void)state;
    fe_posts_material material = round_100();
    const fe_posts_kind firm = make(&material, 4.0, false);
    material.thaw_m = 0.3;
    const fe_posts_kind kind = make(&material, 4.0, false);
    assert_close_relative(kind.ground_per_n, firm.ground_per_n, 1e-12);
    const double depth_m = kind.depth_m - 0.3;
    const double a_m = depth_m * depth_m / (depth_m + 1.09 * (kind.attachment_m + 0.3));
    assert_close_relative(kind.ground_thaw_per_n, 2.34 / (a_m * 23.56e3 * depth_m / 3.0 * 0.1),
                          1e-12);
    fe_posts_load load = {.pull_n = 40.0};
    fe_posts_duty duty;
    fe_posts_check(&kind, &load, &duty);
    const double use = duty.uses[FE_POSTS_GROUND];
    load.thaw = true;
    fe_posts_check(&kind, &load, &duty);
    assert_true(duty.uses[FE_POSTS_GROUND] > 1.5 * use);
}

static void broken_span__bends_a_post_alone(void **state)
{
    (void)state;
    const fe_posts_material material = round_100();
    fe_posts_load load = {.broken_n = 400.0};
    fe_posts_duty duty;
    const fe_posts_kind kind = make(&material, 5.0, false);
    fe_posts_check(&kind, &load, &duty);
    assert_true(duty.limit == FE_POSTS_BROKEN);
    assert_close_relative(
        duty.use, 400.0 * fmax(kind.gust_per_n_m * kind.attachment_m, kind.ground_gust_per_n),
        1e-12);
    /* A stay takes it. */
    const fe_posts_kind stayed = make(&material, 5.0, true);
    fe_posts_check(&stayed, &load, &duty);
    assert_true(duty.uses[FE_POSTS_BROKEN] < 0.5);
    load.broken_n = 0.0;
    fe_posts_check(&kind, &load, &duty);
    assert_true(duty.uses[FE_POSTS_BROKEN] == 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(square_post__stands_in_the_ground_as_its_diagonal),
        cmocka_unit_test(wind_on_the_post__turns_it_about_the_ground),
        cmocka_unit_test(short_posts__leave_little_above_ground),
        cmocka_unit_test(round_post_of_100_mm__resists_as_computed),
        cmocka_unit_test(ground__is_what_the_building_code_says),
        cmocka_unit_test(depth__is_the_largest_of_rule_plan_and_added),
        cmocka_unit_test(pull_left_over__is_vector_sum),
        cmocka_unit_test(stay__takes_all_and_makes_a_strut),
        cmocka_unit_test(stays_in_the_line__leave_the_wind_to_the_post),
        cmocka_unit_test(stay_of_a_slight_corner__holds_no_wind_outwards),
        cmocka_unit_test(no_wind_direction__leaves_more_to_a_corner_post),
        cmocka_unit_test(anchor__holds_twice_the_pull_of_the_stay),
        cmocka_unit_test(lifted_post__fails),
        cmocka_unit_test(give__is_a_cantilever),
        cmocka_unit_test(bad_posts__are_refused),
        cmocka_unit_test(thawing_ground__holds_less),
        cmocka_unit_test(broken_span__bends_a_post_alone),
    };
    return FE_RUN_TESTS(tests);
}
