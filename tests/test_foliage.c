/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "farend/foliage.h"
#include "testing.h"

static double budget_db(fe_tree_kind kind, bool in_leaf, fe_tree_state trees)
{
    const fe_foliage_state state = {kind, in_leaf, trees};
    fe_foliage_result got;
    assert_int_equal(fe_foliage_budget(&state, 2.437e9, 10.0, &got), FE_OK);
    assert_true(got.loss_low_db <= got.loss_db && got.loss_db <= got.loss_high_db);
    return got.loss_db;
}

static void foliage_laws__differ_by_twenty_db_below_their_range(void **state)
{
    (void)state;
    double fitu_db, cost_db;
    assert_int_equal(fe_foliage_loss(FE_FOLIAGE_FITU_R, true, 2.437e9, 10.0, &fitu_db),
                     FE_W_RANGE);
    assert_int_equal(fe_foliage_loss(FE_FOLIAGE_COST_235, true, 2.437e9, 10.0, &cost_db),
                     FE_W_RANGE);
    assert_close(fitu_db, 14.5, 0.05);
    assert_close(cost_db, 26.5, 0.05);
    assert_close(budget_db(FE_TREES_DECIDUOUS, true, FE_TREES_DRY), 5.8, 0.05);
}

static void bare_trees__lose_six_tenths(void **state)
{
    (void)state;
    const double leaf_db = budget_db(FE_TREES_DECIDUOUS, true, FE_TREES_DRY);
    assert_close(budget_db(FE_TREES_DECIDUOUS, false, FE_TREES_DRY), 0.6 * leaf_db, 1e-12);
    assert_close(budget_db(FE_TREES_HEDGE, false, FE_TREES_DRY), 0.6 * leaf_db, 1e-12);
}

static void conifers__keep_their_loss_in_winter(void **state)
{
    (void)state;
    assert_close(budget_db(FE_TREES_CONIFER, false, FE_TREES_DRY),
                 budget_db(FE_TREES_CONIFER, true, FE_TREES_DRY), 0.0);
}

static void wet_trees__lose_more_and_frozen_ones_less(void **state)
{
    (void)state;
    const double dry_db = budget_db(FE_TREES_CONIFER, true, FE_TREES_DRY);
    assert_close(budget_db(FE_TREES_CONIFER, true, FE_TREES_WET), 1.3 * dry_db, 1e-12);
    assert_true(budget_db(FE_TREES_CONIFER, true, FE_TREES_FROZEN) < dry_db);
}

static void frozen_trees__are_said_to_be_uncertain(void **state)
{
    (void)state;
    const fe_foliage_state frozen = {FE_TREES_CONIFER, false, FE_TREES_FROZEN};
    const fe_foliage_factor factor = fe_foliage_factor_of(&frozen);
    assert_true(factor.low < factor.typical && factor.typical < factor.high);
    assert_close(factor.high, 1.0, 0.0);
}

static void foliage_loss__takes_its_first_branch_at_14_m(void **state)
{
    (void)state;
    double at_db, beyond_db;
    assert_int_equal(
        fe_foliage_loss(FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY, true, 1e9, 14.0, &at_db), FE_OK);
    assert_int_equal(fe_foliage_loss(FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY, true, 1e9,
                                     nextafter(14.0, 15.0), &beyond_db),
                     FE_OK);
    assert_close(at_db, 0.45 * 14.0, 1e-12);
    assert_close_relative(beyond_db, at_db, 0.005);
}

static void foliage_loss__of_no_depth_is_nothing(void **state)
{
    (void)state;
    for (int model = 0; model < FE_FOLIAGE_MODELS; model++) {
        double loss_db;
        assert_true(fe_foliage_loss((fe_foliage_model)model, true, 12e9, 0.0, &loss_db) ==
                    FE_OK);
        assert_close(loss_db, 0.0, 0.0);
    }
}

static void foliage_loss__warns_outside_its_range(void **state)
{
    (void)state;
    const fe_foliage_model model = FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY;
    double loss_db;
    assert_int_equal(fe_foliage_loss(model, true, 0.2e9, 10.0, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_foliage_loss(model, true, 96e9, 10.0, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_foliage_loss(model, true, 2.4e9, 401.0, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_foliage_loss(model, false, 2.4e9, 10.0, &loss_db), FE_W_RANGE);
    assert_int_equal(fe_foliage_loss(FE_FOLIAGE_COST_235, true, 12e9, 201.0, &loss_db),
                     FE_W_RANGE);
}

static void foliage_loss__refuses_what_is_no_number(void **state)
{
    (void)state;
    const fe_foliage_model model = FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY;
    double loss_db = 7.0;
    assert_int_equal(fe_foliage_loss(model, true, NAN, 10.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_loss(model, true, 0.0, 10.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_loss(model, true, 2.4e9, -1.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_loss(model, true, 2.4e9, NAN, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_loss(FE_FOLIAGE_MODELS, true, 2.4e9, 1.0, &loss_db),
                     FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(NAN, 1.0, 1.0, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(0.0, 1.0, NAN, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_foliage_routes(0.0, INFINITY, INFINITY, &loss_db), FE_E_DOMAIN);
    assert_close(loss_db, 7.0, 0.0);
}

static double routes_db(double bare_db, double foliage_db, double opaque_db)
{
    double loss_db;
    assert_int_equal(fe_foliage_routes(bare_db, foliage_db, opaque_db, &loss_db), FE_OK);
    return loss_db;
}

/* A hedge 2 m thick and 0.5 m above the line, 5.5 GHz: through it 1.5 dB, over it 18.2 dB. */
static void thin_hedge__is_not_charged_for_the_way_over_it(void **state)
{
    (void)state;
    const fe_foliage_state hedge = {FE_TREES_HEDGE, true, FE_TREES_DRY};
    fe_foliage_result through;
    assert_int_equal(fe_foliage_budget(&hedge, 5.5e9, 2.0, &through), FE_OK);
    assert_close(through.loss_db, 1.5, 0.05);
    /* -10 log(10^-0.146 + 10^-1.82); the sum of the two would be 19.6 dB. */
    assert_close(routes_db(0.0, through.loss_db, 18.2), 1.36, 0.02);
}

static void hedge_without_thickness__costs_nothing(void **state)
{
    (void)state;
    /* With the way over closed, only the bare path is left. */
    assert_close(routes_db(0.0, 0.0, INFINITY), 0.0, 0.0);
}

static void endless_hedge__costs_the_way_over_it(void **state)
{
    (void)state;
    assert_close(routes_db(0.0, INFINITY, 18.2), 18.2, 0.0);
    assert_close(routes_db(0.0, 4000.0, 18.2), 18.2, 1e-9);
}

static void two_equal_routes__gain_3_db(void **state)
{
    (void)state;
    assert_close(routes_db(2.0, 8.0, 10.0), 10.0 - 10.0 * log10(2.0), 1e-12);
    /* Losses beyond the range of a double's power still combine. */
    assert_close(routes_db(0.0, 5000.0, 5000.0), 5000.0 - 10.0 * log10(2.0), 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(foliage_laws__differ_by_twenty_db_below_their_range),
        cmocka_unit_test(bare_trees__lose_six_tenths),
        cmocka_unit_test(conifers__keep_their_loss_in_winter),
        cmocka_unit_test(wet_trees__lose_more_and_frozen_ones_less),
        cmocka_unit_test(frozen_trees__are_said_to_be_uncertain),
        cmocka_unit_test(foliage_loss__takes_its_first_branch_at_14_m),
        cmocka_unit_test(foliage_loss__of_no_depth_is_nothing),
        cmocka_unit_test(foliage_loss__warns_outside_its_range),
        cmocka_unit_test(foliage_loss__refuses_what_is_no_number),
        cmocka_unit_test(thin_hedge__is_not_charged_for_the_way_over_it),
        cmocka_unit_test(hedge_without_thickness__costs_nothing),
        cmocka_unit_test(endless_hedge__costs_the_way_over_it),
        cmocka_unit_test(two_equal_routes__gain_3_db),
    };
    return FE_RUN_TESTS(tests);
}
