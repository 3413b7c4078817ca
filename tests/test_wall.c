/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/wall.h"

#include <math.h>

#include "farend/constants.h"
#include "testing.h"

static fe_incidence wave_at(double f_hz, double incidence_deg, fe_polarisation polarisation)
{
    return (fe_incidence){f_hz, incidence_deg * FE_DEG_RAD, polarisation};
}

static double slab_db(const char *material, double thickness_m, fe_incidence wave)
{
    double loss_db = NAN;
    assert_true(fe_slab_loss(fe_material_find(material), thickness_m, &wave, &loss_db, NULL) >=
                0);
    return loss_db;
}

static double layers_db(const fe_wall_layer *layers, size_t count, fe_incidence wave)
{
    double loss_db = NAN;
    assert_true(fe_layers_loss(layers, count, &wave, &loss_db, NULL) >= 0);
    return loss_db;
}

static void single_layer__is_the_slab_for_every_material(void **state)
{
    (void)state;
    size_t count = 0;
    const fe_material *table = fe_material_table(&count);
    for (size_t i = 0; i < count; i++)
        for (int te = 0; te < 2; te++)
            for (double incidence_deg = 0.0; incidence_deg < 89.0; incidence_deg += 22.0) {
                const fe_incidence wave =
                    wave_at(5.5e9, incidence_deg, te ? FE_POLARISATION_TE : FE_POLARISATION_TM);
                const fe_wall_layer layer = {table[i].name, 0.037};
                double slab[2];
                double stack[2];
                assert_true(fe_slab_loss(&table[i], 0.037, &wave, &slab[0], &slab[1]) >= 0);
                assert_true(fe_layers_loss(&layer, 1, &wave, &stack[0], &stack[1]) >= 0);
                assert_close(stack[0], slab[0], 1e-9 * fmax(1.0, slab[0]));
                if (isfinite(slab[1]))
                    assert_close(stack[1], slab[1], 1e-9);
            }
}

static void split_layer__is_the_whole_layer(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(2.437e9, 35.0, FE_POLARISATION_TM);
    const fe_wall_layer parts[] = {{"brick", 0.04}, {"brick", 0.05}, {"brick", 0.02}};
    assert_close(layers_db(parts, 3, wave), slab_db("brick", 0.11, wave), 1e-9);
}

static void layers__lose_the_same_from_either_side(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(5.5e9, 40.0, FE_POLARISATION_TM);
    const fe_wall_layer there[] = {{"wood", 0.02}, {"vacuum", 0.1}, {"plasterboard", 0.0125}};
    const fe_wall_layer back[] = {{"plasterboard", 0.0125}, {"vacuum", 0.1}, {"wood", 0.02}};
    assert_close(layers_db(there, 3, wave), layers_db(back, 3, wave), 1e-9);
}

static void lossless_layer__shares_power_between_through_and_back(void **state)
{
    (void)state;
    /* Glass at 0.1 GHz is nearly lossless: what is not thrown back comes through. */
    const fe_incidence wave = wave_at(0.1e9, 30.0, FE_POLARISATION_TE);
    double through_db = 0.0;
    double back_db = 0.0;
    const fe_material glass = {"glass", 6.31, 0.0, 0.0, 0.0, 0.1, 100.0};
    assert_int_equal(fe_slab_loss(&glass, 0.2, &wave, &through_db, &back_db), FE_OK);
    assert_close(pow(10.0, -through_db / 10.0) + pow(10.0, -back_db / 10.0), 1.0, 1e-12);
}

static void slab__vanishes_with_its_thickness(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(5.5e9, 0.0, FE_POLARISATION_TE);
    assert_close(slab_db("concrete", 1e-9, wave), 0.0, 1e-5);
    assert_close(slab_db("vacuum", 0.5, wave), 0.0, 1e-12);
}

static void slab__passes_without_reflection_at_the_brewster_angle(void **state)
{
    (void)state;
    const fe_material glass = {"glass", 6.31, 0.0, 0.0, 0.0, 0.1, 100.0};
    const fe_incidence wave = {2.4e9, atan(sqrt(6.31)), FE_POLARISATION_TM};
    double through_db = NAN;
    double back_db = NAN;
    assert_int_equal(fe_slab_loss(&glass, 0.02, &wave, &through_db, &back_db), FE_OK);
    assert_close(through_db, 0.0, 1e-9);
    assert_true(back_db > 200.0);
}

static void half_wave_slab__passes_all(void **state)
{
    (void)state;
    const fe_material glass = {"glass", 4.0, 0.0, 0.0, 0.0, 0.1, 100.0};
    const double half_wave_m = FE_SPEED_OF_LIGHT_M_S / 2.4e9 / sqrt(4.0) / 2.0;
    const fe_incidence wave = wave_at(2.4e9, 0.0, FE_POLARISATION_TE);
    double through_db = NAN;
    assert_int_equal(fe_slab_loss(&glass, half_wave_m, &wave, &through_db, NULL), FE_OK);
    assert_close(through_db, 0.0, 1e-9);
}

static void thin_conducting_film__is_a_shunt_resistance(void **state)
{
    (void)state;
    /* Circuit theory: a sheet of R ohm a square loses 20 log(1 + Z0 / 2R). */
    const double resistance = 1.0 / (1e7 * 15e-9);
    const double wanted_db = 20.0 * log10(1.0 + 376.73 / (2.0 * resistance));
    assert_close(slab_db("metal", 15e-9, wave_at(2.437e9, 0.0, FE_POLARISATION_TE)), wanted_db,
                 0.02);
}

static void thick_metal__gives_a_finite_loss(void **state)
{
    (void)state;
    const double loss_db = slab_db("metal", 0.1, wave_at(60e9, 0.0, FE_POLARISATION_TE));
    assert_true(isfinite(loss_db) && loss_db > 1e5);
}

static void frequency_outside_the_row__is_a_warning_with_a_result(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(0.868e9, 0.0, FE_POLARISATION_TE);
    double loss_db = NAN;
    assert_int_equal(fe_slab_loss(fe_material_find("brick"), 0.11, &wave, &loss_db, NULL),
                     FE_W_RANGE);
    assert_true(loss_db > 0.0);
}

static void slab__refuses_what_is_no_wall(void **state)
{
    (void)state;
    const fe_material *brick = fe_material_find("brick");
    const fe_incidence good = wave_at(2.4e9, 0.0, FE_POLARISATION_TE);
    const fe_incidence bad[] = {
        wave_at(NAN, 0.0, FE_POLARISATION_TE), wave_at(0.0, 0.0, FE_POLARISATION_TE),
        wave_at(2.4e9, NAN, FE_POLARISATION_TE), wave_at(2.4e9, 90.0, FE_POLARISATION_TE),
        wave_at(2.4e9, -1.0, FE_POLARISATION_TE)};
    double loss_db = 7.0;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_int_equal(fe_slab_loss(brick, 0.11, &bad[i], &loss_db, NULL), FE_E_DOMAIN);
    assert_int_equal(fe_slab_loss(brick, NAN, &good, &loss_db, NULL), FE_E_DOMAIN);
    assert_int_equal(fe_slab_loss(brick, 0.0, &good, &loss_db, NULL), FE_E_DOMAIN);
    assert_int_equal(fe_slab_loss(NULL, 0.11, &good, &loss_db, NULL), FE_E_DOMAIN);
    assert_int_equal(fe_layers_loss(NULL, 0, &good, &loss_db, NULL), FE_E_DOMAIN);
    const fe_wall_layer strange = {"cheese", 0.1};
    assert_int_equal(fe_layers_loss(&strange, 1, &good, &loss_db, NULL), FE_E_DOMAIN);
    assert_true(loss_db == 7.0);
}

static void apertures__add_powers(void **state)
{
    (void)state;
    const fe_aperture parts[] = {{0.9, 20.0}, {0.1, 0.0}};
    double loss_db = NAN;
    assert_int_equal(fe_aperture_loss(parts, 2, &loss_db), FE_OK);
    assert_close(loss_db, -10.0 * log10(0.9 * 0.01 + 0.1), 1e-12);
    const fe_aperture alike[] = {{0.3, 12.0}, {0.7, 12.0}};
    assert_int_equal(fe_aperture_loss(alike, 2, &loss_db), FE_OK);
    assert_close(loss_db, 12.0, 1e-12);
    /* Shares that do not make one wall are told. */
    assert_int_equal(fe_aperture_loss(parts, 1, &loss_db), FE_W_RANGE);
    const fe_aperture wrong[] = {{1.1, 3.0}};
    const fe_aperture none[] = {{0.0, 3.0}};
    const fe_aperture unknown[] = {{1.0, NAN}};
    assert_int_equal(fe_aperture_loss(wrong, 1, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_aperture_loss(none, 1, &loss_db), FE_E_DOMAIN);
    assert_int_equal(fe_aperture_loss(unknown, 1, &loss_db), FE_E_DOMAIN);
}

static void every_kind__has_known_layers_and_an_interval(void **state)
{
    (void)state;
    size_t count = 0;
    const fe_wall_kind *kinds = fe_wall_kind_table(&count);
    const fe_incidence wave = wave_at(5.5e9, 0.0, FE_POLARISATION_TE);
    for (size_t i = 0; i < count; i++) {
        fe_wall_result result = {0};
        assert_true(kinds[i].grows < kinds[i].layer_count);
        assert_int_equal(fe_wall_loss(kinds[i].name, NAN, &wave, &result), FE_OK);
        assert_true(result.low_db <= result.loss_db && result.loss_db <= result.high_db);
        assert_true(result.loss_db > 0.0);
        assert_close(result.thickness_m, fe_wall_kind_thickness_m(&kinds[i]), 1e-12);
        assert_ptr_equal(fe_wall_kind_find(kinds[i].name), &kinds[i]);
        if (kinds[i].also)
            assert_ptr_equal(fe_wall_kind_find(kinds[i].also), &kinds[i]);
    }
}

static void named_wall_of_one_layer__is_its_slab(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(2.437e9, 20.0, FE_POLARISATION_TE);
    fe_wall_result result = {0};
    assert_int_equal(fe_wall_loss("Brick", 0.22, &wave, &result), FE_OK);
    assert_close(result.loss_db, slab_db("brick", 0.22, wave), 1e-9);
    assert_close(result.thickness_m, 0.22, 1e-12);
    assert_int_equal(fe_wall_loss("wood", NAN, &wave, &result), FE_OK);
    assert_close(result.loss_db, slab_db("wood", 0.02, wave), 1e-9);
}

/* Common practice, no source: 4-16-4 and 4-12-4-12-4 mm of pane and gap, a coating on top; two
 * boards of 12.5 mm on studs of 75 mm; half-brick leaves of 110 mm about 50 mm. A block is as
 * much concrete as is in it. */
static void named_wall__is_as_thick_as_sold(void **state)
{
    (void)state;
    static const struct {
        const char *kind;
        double thickness_mm;
    } CASES[] = {
        {"brick", 110.0},
        {"cavity brick", 270.0},
        {"concrete", 150.0},
        {"concrete block", 100.0},
        {"stone", 400.0},
        {"timber", 20.0},
        {"log", 150.0},
        {"plywood", 12.0},
        {"chipboard", 18.0},
        {"plasterboard", 12.5},
        {"insulated timber", 144.5},
        {"foil insulated timber", 132.5},
        {"ceiling board", 20.0},
        {"metal sandwich panel", 81.2},
        {"glass", 4.0},
        {"double glazing", 24.0},
        {"triple glazing", 36.0},
        {"coated glazing", 24.0},
        {"coated triple glazing", 36.0},
        {"metal sheet", 0.7},
        {"plasterboard stud", 100.0},
    };
    size_t count = 0;
    fe_wall_kind_table(&count);
    assert_int_equal(count, sizeof CASES / sizeof CASES[0]);
    for (size_t i = 0; i < count; i++)
        assert_close(1e3 * fe_wall_kind_thickness_m(fe_wall_kind_find(CASES[i].kind)),
                     CASES[i].thickness_mm, 0.008); /* foil and coating count for nothing */
}

/* A wall that mostly absorbs loses in proportion to its thickness: a tenth more or less of both. */
static void interval__is_a_tenth_thinner_to_a_tenth_thicker(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(60e9, 0.0, FE_POLARISATION_TE);
    fe_wall_result result = {0};
    assert_int_equal(fe_wall_loss("concrete", 0.2, &wave, &result), FE_OK);
    assert_close(result.low_db, slab_db("concrete", 0.18, wave), 1e-9);
    assert_close(result.high_db, slab_db("concrete", 0.22, wave), 1e-9);
    assert_close_relative(result.high_db - result.loss_db, 0.1 * result.loss_db, 0.05);
    assert_close_relative(result.loss_db - result.low_db, 0.1 * result.loss_db, 0.05);
}

static void given_thickness__goes_to_the_layer_that_grows(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(5.5e9, 0.0, FE_POLARISATION_TE);
    const fe_wall_layer panes[] = {{"glass", 0.004}, {"vacuum", 0.012}, {"glass", 0.004}};
    fe_wall_result result = {0};
    assert_int_equal(fe_wall_loss("double-glazing", 0.020, &wave, &result), FE_OK);
    assert_close(result.loss_db, layers_db(panes, 3, wave), 1e-9);
    assert_int_equal(fe_wall_loss("double glazing", 0.008, &wave, &result), FE_E_DOMAIN);
}

static void coated_glazing__loses_far_more_than_plain(void **state)
{
    (void)state;
    const double f_hz[] = {0.9e9, 2.437e9, 5.5e9};
    for (size_t i = 0; i < 3; i++) {
        const fe_incidence wave = wave_at(f_hz[i], 0.0, FE_POLARISATION_TE);
        fe_wall_result plain = {0};
        fe_wall_result coated = {0};
        assert_true(fe_wall_loss("double glazing", NAN, &wave, &plain) >= 0);
        assert_true(fe_wall_loss("coated glazing", NAN, &wave, &coated) >= 0);
        assert_true(coated.loss_db > plain.loss_db + 15.0);
        assert_true(coated.loss_db > 20.0 && coated.loss_db < 40.0);
    }
}

static void metal_wall__is_as_good_as_its_joints(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(2.437e9, 0.0, FE_POLARISATION_TE);
    fe_wall_result result = {0};
    assert_int_equal(fe_wall_loss("metal sheet", 0.001, &wave, &result), FE_OK);
    assert_close(result.loss_db, 35.0, 1e-6);
}

/* As two halves of an aperture, layers and leak let through half of what they do as one wall. */
static void leak__adds_its_power_to_that_of_the_layers(void **state)
{
    (void)state;
    size_t count = 0, both = 0;
    const fe_wall_kind *kinds = fe_wall_kind_table(&count);
    for (size_t i = 0; i < count; i++)
        for (double f_hz = 1e9; f_hz < 60e9; f_hz *= 1.3) {
            const fe_incidence wave = wave_at(f_hz, 0.0, FE_POLARISATION_TE);
            if (!isfinite(kinds[i].leak_loss_db))
                continue;
            const double through_db = layers_db(kinds[i].layers, kinds[i].layer_count, wave);
            const fe_aperture halves[] = {{0.5, through_db}, {0.5, kinds[i].leak_loss_db}};
            double half_db = NAN;
            fe_wall_result result = {0};
            assert_int_equal(fe_aperture_loss(halves, 2, &half_db), FE_OK);
            assert_true(fe_wall_loss(kinds[i].name, NAN, &wave, &result) >= 0);
            assert_close(result.loss_db, half_db - 3.0103, 1e-4);
            both += fmin(through_db, kinds[i].leak_loss_db) - result.loss_db > 0.5;
        }
    assert_true(both >= 2); /* where neither way is all */
}

static void named_wall__refuses_what_it_does_not_know(void **state)
{
    (void)state;
    const fe_incidence wave = wave_at(2.437e9, 0.0, FE_POLARISATION_TE);
    const fe_incidence bad = wave_at(NAN, 0.0, FE_POLARISATION_TE);
    fe_wall_result result = {.loss_db = 7.0};
    assert_int_equal(fe_wall_loss("cheese", NAN, &wave, &result), FE_E_DOMAIN);
    assert_int_equal(fe_wall_loss(NULL, NAN, &wave, &result), FE_E_DOMAIN);
    assert_int_equal(fe_wall_loss("brick", 0.0, &wave, &result), FE_E_DOMAIN);
    assert_int_equal(fe_wall_loss("brick", INFINITY, &wave, &result), FE_E_DOMAIN);
    assert_int_equal(fe_wall_loss("brick", NAN, &bad, &result), FE_E_DOMAIN);
    assert_true(result.loss_db == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(single_layer__is_the_slab_for_every_material),
        cmocka_unit_test(split_layer__is_the_whole_layer),
        cmocka_unit_test(layers__lose_the_same_from_either_side),
        cmocka_unit_test(lossless_layer__shares_power_between_through_and_back),
        cmocka_unit_test(slab__vanishes_with_its_thickness),
        cmocka_unit_test(slab__passes_without_reflection_at_the_brewster_angle),
        cmocka_unit_test(half_wave_slab__passes_all),
        cmocka_unit_test(thin_conducting_film__is_a_shunt_resistance),
        cmocka_unit_test(thick_metal__gives_a_finite_loss),
        cmocka_unit_test(frequency_outside_the_row__is_a_warning_with_a_result),
        cmocka_unit_test(slab__refuses_what_is_no_wall),
        cmocka_unit_test(apertures__add_powers),
        cmocka_unit_test(every_kind__has_known_layers_and_an_interval),
        cmocka_unit_test(named_wall_of_one_layer__is_its_slab),
        cmocka_unit_test(named_wall__is_as_thick_as_sold),
        cmocka_unit_test(interval__is_a_tenth_thinner_to_a_tenth_thicker),
        cmocka_unit_test(given_thickness__goes_to_the_layer_that_grows),
        cmocka_unit_test(coated_glazing__loses_far_more_than_plain),
        cmocka_unit_test(metal_wall__is_as_good_as_its_joints),
        cmocka_unit_test(leak__adds_its_power_to_that_of_the_layers),
        cmocka_unit_test(named_wall__refuses_what_it_does_not_know),
    };
    return FE_RUN_TESTS(tests);
}
