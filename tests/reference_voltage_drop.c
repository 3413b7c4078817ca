/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Voltage drop: worked examples of the books, the UK table and the limits of the codes. */
#include <math.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/feed.h"
#include "testing.h"

enum { ROOM = 32 };

static bool asks(fe_reference *file, const char *word)
{
    return strstr(fe_reference_text(file, "quantity"), word) != NULL;
}

/* Books print the sections or the loads' places; a constant current at power factor 1 is DC. */
static size_t read_dc_sections(fe_reference *file, fe_feed_section *sections)
{
    double load_a[ROOM], at_m[ROOM];
    const size_t count = fe_reference_input_list(file, "load_A", load_a, ROOM);
    fe_reference_check_that(
        file, count > 0 && fe_reference_input_list(file, "load_at_m", at_m, ROOM) == count,
        "as many places as loads");
    const double loop_ohm_per_m = fe_reference_input(file, "loop_ohm_per_m");
    double from_m = 0.0;
    for (size_t i = 0; i < count; i++) {
        sections[i] = (fe_feed_section){
            .r_ohm = loop_ohm_per_m * (at_m[i] - from_m),
            .kind = FE_LOAD_CURRENT,
            .load = load_a[i],
            .power_factor = 1.0,
        };
        from_m = at_m[i];
    }
    return count;
}

static size_t load_at(fe_reference *file)
{
    double at_m[ROOM];
    const size_t count = fe_reference_input_list(file, "load_at_m", at_m, ROOM);
    const double point_m = fe_reference_input(file, "point_m");
    for (size_t i = 0; i < count; i++)
        if (at_m[i] == point_m)
            return i;
    return count - 1;
}

static double dc_several(fe_reference *file)
{
    fe_feed_section sections[ROOM];
    fe_feed_point points[ROOM];
    fe_feed_source source = {0};
    const size_t count = read_dc_sections(file, sections);
    const double given_v = fe_reference_input(file, "source_V");
    /* Drops of constant currents do not depend on the voltage they start from. */
    const double source_v = isnan(given_v) ? 1e6 : given_v;
    const fe_status status = fe_feed_from_source(source_v, sections, count, points, &source);
    fe_reference_check_status(file, status);
    if (status < 0)
        return NAN;
    if (asks(file, "power") || asks(file, "loss"))
        return source.loss_w;
    const double voltage_v = points[load_at(file)].voltage_v;
    return asks(file, "drop") ? source_v - voltage_v : voltage_v;
}

static double dc_uniform(fe_reference *file)
{
    const double loop_ohm_per_m = fe_reference_input(file, "loop_ohm_per_m");
    const double load_a_per_m = fe_reference_input(file, "load_A_per_m");
    const double length_m = fe_reference_input(file, "length_m");
    const double given_m = fe_reference_input(file, "point_m");
    double result = NAN;
    if (asks(file, "power") || asks(file, "loss")) {
        fe_reference_check_status(
            file, fe_feed_uniform_loss(loop_ohm_per_m, load_a_per_m, length_m, &result));
        return result;
    }
    fe_reference_check_status(file, fe_feed_uniform_drop(loop_ohm_per_m, load_a_per_m, length_m,
                                                         isnan(given_m) ? length_m : given_m,
                                                         &result));
    return asks(file, "drop") ? result : fe_reference_input(file, "source_V") - result;
}

static double dc_sizing(fe_reference *file)
{
    double load_a[ROOM], at_m[ROOM], moment_a_m = NAN, area_m2 = NAN;
    const size_t count = fe_reference_input_list(file, "load_A", load_a, ROOM);
    const double load_a_per_m = fe_reference_input(file, "load_A_per_m");
    if (isnan(load_a_per_m)) {
        fe_reference_check_that(file,
                                fe_reference_input_list(file, "load_at_m", at_m, ROOM) == count,
                                "as many places as loads");
        fe_reference_check_status(file, fe_feed_moment(load_a, at_m, count, &moment_a_m));
    } else {
        fe_reference_check_status(
            file, fe_feed_uniform_moment(load_a_per_m, fe_reference_input(file, "length_m"),
                                         &moment_a_m));
    }
    fe_reference_check_status(
        file, fe_feed_area_for_drop(fe_reference_input(file, "resistivity_ohm_m"), moment_a_m,
                                    fe_reference_input(file, "drop_V"), &area_m2));
    const char *unit = fe_reference_text(file, "unit");
    return strcmp(unit, "mm2") == 0 ? 1e6 * area_m2 : 1e4 * area_m2;
}

/* The words of "own far", one a load. */
static void read_references(fe_reference *file, fe_feed_section *sections, size_t count)
{
    const char *at = strstr(fe_reference_text(file, "inputs"), "pf_reference=");
    at = at ? at + strlen("pf_reference=") : "";
    for (size_t i = 0; i < count; i++) {
        at += strspn(at, " ");
        sections[i].reference = strncmp(at, "far", 3) == 0 ? FE_ANGLE_FAR : FE_ANGLE_OWN;
        at += strcspn(at, " ;");
    }
}

static size_t read_ac_sections(fe_reference *file, fe_feed_section *sections)
{
    double r_ohm[ROOM], x_ohm[ROOM], load_a[ROOM], factor[ROOM];
    const size_t count = fe_reference_input_list(file, "load_A", load_a, ROOM);
    const bool same = fe_reference_input_list(file, "section_r_ohm", r_ohm, ROOM) == count &&
                      fe_reference_input_list(file, "section_x_ohm", x_ohm, ROOM) == count &&
                      fe_reference_input_list(file, "load_pf", factor, ROOM) == count;
    fe_reference_check_that(file, same && count > 0, "a section and a power factor a load");
    if (!same)
        return 0;
    for (size_t i = 0; i < count; i++)
        sections[i] = (fe_feed_section){r_ohm[i],  x_ohm[i],  FE_LOAD_CURRENT,
                                        load_a[i], factor[i], FE_ANGLE_OWN};
    read_references(file, sections, count);
    return count;
}

static fe_status ac_solve(fe_reference *file, const fe_feed_section *sections, size_t count,
                          fe_feed_point *points, fe_feed_source *source)
{
    const double source_v = fe_reference_input(file, "source_V");
    const double far_v = fe_reference_input(file, "far_V");
    if (!isnan(source_v) && isnan(far_v))
        return fe_feed_from_source(source_v, sections, count, points, source);
    /* Without a voltage only a drop is asked, and all angles are the far end's. */
    return fe_feed_from_far_end(isnan(far_v) ? 1e3 : far_v, sections, count, points, source);
}

static double ac_single_phase(fe_reference *file)
{
    fe_feed_section sections[ROOM];
    fe_feed_point points[ROOM];
    fe_feed_source source = {0};
    const size_t count = read_ac_sections(file, sections);
    const fe_status status = ac_solve(file, sections, count, points, &source);
    fe_reference_check_status(file, status);
    if (status < 0)
        return NAN;
    if (asks(file, "drop"))
        return source.drop_phasor_v;
    if (asks(file, "phase") || asks(file, "angle"))
        return source.angle_rad / FE_DEG_RAD;
    if (asks(file, "power factor"))
        return source.power_w / (source.voltage_v * source.current_a);
    if (asks(file, "power") || asks(file, "loss"))
        return source.loss_w;
    if (asks(file, "sending current"))
        return source.current_a;
    if (asks(file, "sending") || asks(file, "source"))
        return source.voltage_v;
    return points[asks(file, "far") ? count - 1 : 0].voltage_v;
}

static double simple_formula(fe_reference *file, const char *kind)
{
    const double current_a = fe_reference_input(file, "current_A");
    const double length_m = fe_reference_input(file, "length_m");
    double drop_v = NAN;
    fe_status status = FE_E_INPUT;
    if (strcmp(kind, "UK mV/A/m") == 0) {
        status = fe_feed_drop_mv(fe_reference_input(file, "mV_per_A_m"), current_a, length_m,
                                 &drop_v);
    } else if (strcmp(kind, "US Table 8") == 0) {
        status =
            fe_feed_drop_two_wire(fe_reference_input(file, "r_ohm_per_kft") / 304.8, current_a,
                                  0.3048 * fe_reference_input(file, "length_ft"), &drop_v);
    } else if (strcmp(kind, "IEC annex G formula") == 0) {
        const fe_iec_drop given = {
            .b = fe_reference_input(file, "b"),
            .length_m = length_m,
            .area_m2 = 1e-6 * fe_reference_input(file, "area_mm2"),
            .resistivity_ohm_m = 1e-6 * fe_reference_input(file, "resistivity_ohm_mm2_per_m"),
            .power_factor = fe_reference_input(file, "cos"),
            .current_a = current_a,
            .x_ohm_per_m = fe_reference_input(file, "reactance_ohm_per_m"),
        };
        status = fe_feed_drop_iec(&given, &drop_v);
    }
    fe_reference_check_status(file, status);
    return drop_v;
}

static double worked(fe_reference *file, const char *kind)
{
    if (strcmp(kind, "DC several loads") == 0)
        return dc_several(file);
    if (strcmp(kind, "DC uniform load") == 0)
        return dc_uniform(file);
    if (strcmp(kind, "DC sizing") == 0)
        return dc_sizing(file);
    if (strcmp(kind, "AC single-phase") == 0)
        return ac_single_phase(file);
    return simple_formula(file, kind);
}

static void worked_examples__come_out_as_printed(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/voltage_drop_worked_examples.csv");
    while (fe_reference_next(file)) {
        const char *kind = fe_reference_text(file, "kind");
        if (strcmp(kind, "fact") == 0 || !*fe_reference_text(file, "inputs")) {
            fe_reference_pass(file, "a fact, nothing to compute");
            continue;
        }
        const double tolerance = fe_reference_number(file, "tol_abs");
        const double got = worked(file, kind);
        if (isnan(tolerance))
            fe_reference_check_printed(file, "value", got);
        else
            fe_reference_check(file, "value", got, tolerance);
    }
    fe_reference_close(file);
}

static void uk_table__is_that_of_bs_7671(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/voltage_drop_uk_mv_per_a_m.csv");
    while (fe_reference_next(file)) {
        const fe_uk_drop *row = fe_uk_drop_find(1e-6 * fe_reference_need(file, "area_mm2"));
        fe_reference_check_that(file, row != NULL, "a row of the table");
        if (!row)
            continue;
        fe_reference_check(file, "pvc_70C_two_core_mV_per_A_m", row->pvc_70c_mv_per_a_m, 0.0);
        fe_reference_check(file, "xlpe_90C_two_core_armoured_mV_per_A_m",
                           row->xlpe_90c_mv_per_a_m, 0.0);
    }
    fe_reference_close(file);
}

static void limits__are_those_of_the_codes(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/voltage_drop_limits.csv");
    while (fe_reference_next(file)) {
        const fe_drop_limit *row =
            fe_drop_limit_find(fe_reference_text(file, "code"), fe_reference_text(file, "use"));
        fe_reference_check_that(file, row != NULL, "a row of the table");
        if (row)
            fe_reference_check(file, "limit_percent", row->percent, 0.0);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(worked_examples__come_out_as_printed),
        cmocka_unit_test(uk_table__is_that_of_bs_7671),
        cmocka_unit_test(limits__are_those_of_the_codes),
    };
    return FE_RUN_TESTS(tests);
}
