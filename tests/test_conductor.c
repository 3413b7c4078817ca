/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "farend/conductor.h"
#include "testing.h"

static double resistance(double area_m2, fe_conductor_material material,
                         fe_conductor_class build, double temp_c)
{
    const fe_conductor conductor = {area_m2, material, build};
    double ohm_per_m = NAN;
    assert_int_equal(fe_conductor_resistance(&conductor, temp_c, &ohm_per_m), FE_OK);
    return ohm_per_m;
}

static void size_lookup__finds_metric_and_gauge_sizes(void **state)
{
    (void)state;
    assert_string_equal(fe_wire_size_find(2.5e-6)->name, "2.5 mm2");
    /* The geometric area of AWG 12 as a converter prints it. */
    assert_string_equal(fe_wire_size_find(3.30877e-6)->name, "AWG 12");
    assert_string_equal(fe_wire_size_find(107.2193e-6)->name, "AWG 4/0");
    assert_null(fe_wire_size_find(3.0e-6));
    assert_null(fe_wire_size_find(NAN));
}

static void sizes__ascend_and_find_themselves(void **state)
{
    (void)state;
    const fe_size_series series[] = {FE_SIZES_METRIC, FE_SIZES_AWG};
    for (size_t s = 0; s < 2; s++) {
        double last_m2 = 0.0;
        size_t i = 0;
        for (const fe_wire_size *size; (size = fe_wire_size_at(series[s], i)) != NULL; i++) {
            assert_true(size->area_m2 > last_m2);
            assert_ptr_equal(fe_wire_size_find(size->area_m2), size);
            last_m2 = size->area_m2;
        }
        assert_true(i > 15);
    }
}

static void gauge_sizes__have_the_area_of_their_geometry(void **state)
{
    (void)state;
    for (size_t i = 0; fe_wire_size_at(FE_SIZES_AWG, i); i++) {
        const fe_wire_size *size = fe_wire_size_at(FE_SIZES_AWG, i);
        fe_awg awg;
        int gauge = 99;
        assert_int_equal(fe_awg_geometry(size->gauge, &awg), FE_OK);
        assert_close_relative(size->area_m2, awg.area_m2, 1e-9);
        assert_true(fe_awg_parse(size->name + strlen("AWG "), &gauge));
        assert_int_equal(gauge, size->gauge);
    }
}

static void gauge_names__other_than_gauges_are_refused(void **state)
{
    (void)state;
    const char *wrong[] = {"", "x", "-1", "41", "5/0", "0/0", "12x", "1/1", "12/0"};
    int gauge = 99;
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        assert_false(fe_awg_parse(wrong[i], &gauge));
    assert_int_equal(gauge, 99);
}

static void resistance__falls_with_size(void **state)
{
    (void)state;
    for (size_t i = 1; fe_wire_size_at(FE_SIZES_METRIC, i); i++)
        assert_true(resistance(fe_wire_size_at(FE_SIZES_METRIC, i)->area_m2,
                               FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED, 20.0) <
                    resistance(fe_wire_size_at(FE_SIZES_METRIC, i - 1)->area_m2,
                               FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED, 20.0));
}

/*
 * IEC 60228 limits are resistivity (IEC 60028 copper, IEC 60889 aluminium; from memory) over
 * nominal area and what lay and drawing cost, which differs by a few per cent within a column:
 * narrow enough for a wrong digit in any row, also in those that were not read. Bands: common
 * practice, no source.
 */
static void metric_limits__lie_near_the_resistivity(void **state)
{
    (void)state;
    static const struct {
        fe_conductor_material material;
        fe_conductor_class build;
        double resistivity_ohm_m;
        double least, most; /* times resistivity over area */
        double from_m2;
    } COLUMNS[] = {
        {FE_CONDUCTOR_COPPER, FE_CLASS_SOLID, 17.241e-9, 1.04, 1.13, 0.5e-6},
        {FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED, 17.241e-9, 1.04, 1.13, 0.5e-6},
        {FE_CONDUCTOR_COPPER, FE_CLASS_FLEXIBLE, 17.241e-9, 1.10, 1.16, 0.5e-6},
        {FE_CONDUCTOR_ALUMINIUM, FE_CLASS_SOLID, 28.264e-9, 1.06, 1.14, 10e-6},
        {FE_CONDUCTOR_ALUMINIUM, FE_CLASS_STRANDED, 28.264e-9, 1.06, 1.14, 10e-6},
    };
    for (size_t c = 0; c < sizeof COLUMNS / sizeof COLUMNS[0]; c++)
        for (size_t i = 0; fe_wire_size_at(FE_SIZES_METRIC, i); i++) {
            const double area_m2 = fe_wire_size_at(FE_SIZES_METRIC, i)->area_m2;
            if (area_m2 < 0.999 * COLUMNS[c].from_m2)
                continue;
            const double over =
                resistance(area_m2, COLUMNS[c].material, COLUMNS[c].build, 20.0) * area_m2 /
                COLUMNS[c].resistivity_ohm_m;
            assert_true(over > COLUMNS[c].least && over < COLUMNS[c].most);
        }
}

/* NFPA 70 Table 8 solid rows at 20 degC against the geometry of the same wire. */
static void table_8__agrees_with_the_geometry(void **state)
{
    (void)state;
    const int gauges[] = {18, 16, 14, 12, 10, 8};
    for (size_t i = 0; i < 6; i++) {
        fe_awg awg;
        assert_int_equal(fe_awg_geometry(gauges[i], &awg), FE_OK);
        assert_close_relative(
            resistance(awg.area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_SOLID, 20.0),
            awg.copper_ohm_per_m_20c, 0.01);
    }
}

static void thick_solid_gauge__takes_the_stranded_row(void **state)
{
    (void)state;
    assert_close_relative(
        304.8 * resistance(13.30177e-6, FE_CONDUCTOR_COPPER, FE_CLASS_SOLID, 75.0), 0.491,
        1e-12);
}

static void fine_gauge__has_the_resistance_of_its_geometry(void **state)
{
    (void)state;
    fe_awg awg;
    assert_int_equal(fe_awg_geometry(24, &awg), FE_OK);
    assert_close_relative(resistance(awg.area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_SOLID, 20.0),
                          awg.copper_ohm_per_m_20c, 1e-12);
}

static void unlisted_conductor__is_computed_with_a_warning(void **state)
{
    (void)state;
    const fe_conductor odd = {3e-6, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    const fe_conductor thin_aluminium = {2.5e-6, FE_CONDUCTOR_ALUMINIUM, FE_CLASS_STRANDED};
    double ohm_per_m = NAN;
    assert_int_equal(fe_conductor_resistance(&odd, 20.0, &ohm_per_m), FE_W_RANGE);
    assert_close_relative(ohm_per_m, 17.241e-9 / 3e-6, 1e-12);
    assert_int_equal(fe_conductor_resistance(&thin_aluminium, 20.0, &ohm_per_m), FE_W_RANGE);
    assert_close_relative(ohm_per_m, 28.264e-9 / 2.5e-6, 1e-12);
}

/* 0.00393 at 20 degC is 0.00323 at 75 degC: one line, whichever end it is measured from. */
static void alpha__is_tied_to_its_reference_temperature(void **state)
{
    (void)state;
    double alpha_75 = NAN, from_20 = NAN, from_75 = NAN;
    assert_int_equal(fe_conductor_alpha_at(FE_CONDUCTOR_COPPER, 75.0, &alpha_75), FE_OK);
    assert_int_equal(fe_resistance_at_temp(1.0, 20.0, 0.00393, 20.0, 60.0, &from_20), FE_OK);
    assert_int_equal(fe_resistance_at_temp(1.0, 20.0, alpha_75, 75.0, 60.0, &from_75), FE_OK);
    assert_close_relative(from_75, from_20, 1e-12);
}

static void resistance_and_temperature__invert_each_other(void **state)
{
    (void)state;
    for (double t2_c = -40.0; t2_c <= 120.0; t2_c += 20.0) {
        double r2_ohm = NAN, back_c = NAN;
        assert_int_equal(fe_resistance_at_temp(3.0, 15.0, 0.00403, 20.0, t2_c, &r2_ohm), FE_OK);
        assert_int_equal(fe_temp_from_resistance(3.0, 15.0, 0.00403, 20.0, r2_ohm, &back_c),
                         FE_OK);
        assert_close(back_c, t2_c, 1e-9);
    }
}

static void far_temperatures__warn(void **state)
{
    (void)state;
    double value = NAN;
    assert_int_equal(fe_resistance_at_temp(1.0, 20.0, 0.00393, 20.0, 400.0, &value),
                     FE_W_RANGE);
    assert_close(value, 1.0 + 0.00393 * 380.0, 1e-12);
    assert_int_equal(fe_conductor_kt(120.0, &value), FE_W_RANGE);
}

static void nonsense__is_refused_and_leaves_the_result(void **state)
{
    (void)state;
    const fe_conductor nothing = {0.0, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    const fe_conductor copper = {2.5e-6, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    double value = 7.0;
    fe_awg awg;
    assert_int_equal(fe_conductor_resistance(&nothing, 20.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_conductor_resistance(&copper, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_conductor_resistance(&copper, -300.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_resistance_at_temp(NAN, 20.0, 0.004, 20.0, 30.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_resistance_at_temp(1.0, 20.0, 0.0, 20.0, 30.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_temp_from_resistance(1.0, 20.0, 0.004, 20.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_conductor_kt(NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_conductor_alpha_at(FE_CONDUCTOR_COPPER, NAN, &value), FE_E_DOMAIN);
    assert_int_equal(fe_resistance_of_wire(0.0, 1.0, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_effective_impedance(1.0, 1.0, 0.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_effective_impedance(1.0, NAN, 1.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_awg_geometry(41, &awg), FE_E_DOMAIN);
    assert_int_equal(fe_awg_geometry(-4, &awg), FE_E_DOMAIN);
    assert_true(value == 7.0);
}

static void materials__are_known_by_name(void **state)
{
    (void)state;
    fe_conductor_material material = FE_CONDUCTOR_COPPER;
    assert_true(fe_conductor_material_named("aluminium", &material));
    assert_int_equal(material, FE_CONDUCTOR_ALUMINIUM);
    assert_false(fe_conductor_material_named("gold", &material));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(size_lookup__finds_metric_and_gauge_sizes),
        cmocka_unit_test(sizes__ascend_and_find_themselves),
        cmocka_unit_test(gauge_sizes__have_the_area_of_their_geometry),
        cmocka_unit_test(gauge_names__other_than_gauges_are_refused),
        cmocka_unit_test(resistance__falls_with_size),
        cmocka_unit_test(metric_limits__lie_near_the_resistivity),
        cmocka_unit_test(table_8__agrees_with_the_geometry),
        cmocka_unit_test(thick_solid_gauge__takes_the_stranded_row),
        cmocka_unit_test(fine_gauge__has_the_resistance_of_its_geometry),
        cmocka_unit_test(unlisted_conductor__is_computed_with_a_warning),
        cmocka_unit_test(alpha__is_tied_to_its_reference_temperature),
        cmocka_unit_test(resistance_and_temperature__invert_each_other),
        cmocka_unit_test(far_temperatures__warn),
        cmocka_unit_test(nonsense__is_refused_and_leaves_the_result),
        cmocka_unit_test(materials__are_known_by_name),
    };
    return FE_RUN_TESTS(tests);
}
