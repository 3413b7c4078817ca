/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smallest conductor of a feed. */
#include <complex.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "deciding.h"
#include "farend/report.h"
#include "farend/supply.h"
#include "report/report_parts.h"
#include "run.h"
#include "testing.h"

static fe_supply_load one_load(double power_w)
{
    return (fe_supply_load){100.0, FE_LOAD_POWER, power_w, 1.0, 1.0, 24.0, 0.0};
}

static fe_supply_case over_100m(double source_v, const fe_supply_load *load)
{
    return (fe_supply_case){.length_m = 100.0,
                            .source_v = source_v,
                            .allowed_drop = 0.05,
                            .air_c = 20.0,
                            .loads = load,
                            .load_count = 1};
}

static fe_supply_size try_metric(const fe_supply_case *given, double area_m2)
{
    const fe_conductor conductor = {area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    fe_supply_size size = {0};
    assert_true(fe_supply_try(given, &conductor, &size) >= 0);
    return size;
}

/* Worked from circuit theory: Vs^2 / (4 R); IEC 60228:2004 gives 6 mm2 3.08 ohm/km at 20 degC.
 */
static void supply__names_the_greatest_power_of_a_feed_that_cannot_deliver(void **state)
{
    (void)state;
    const fe_supply_load load = one_load(60.0);
    const fe_supply_case given = over_100m(12.0, &load);
    const fe_supply_size thin = try_metric(&given, 6e-6);
    assert_false(thin.delivered);
    assert_close(thin.greatest_w, 144.0 / (4.0 * 2.0 * 100.0 * 3.08e-3), 1e-3);
    const fe_supply_size thicker = try_metric(&given, 10e-6);
    assert_true(thicker.delivered);
    assert_true(thicker.worst_v > 9.7 && thicker.worst_v < 9.8); /* the false root is 2.2 V */
}

/* Where a little more could not be delivered the wire warms without end: told all the same. */
static void supply__answers_up_to_the_greatest_power(void **state)
{
    (void)state;
    double low_w = 100.0, high_w = 1000.0;
    for (int i = 0; i < 40; i++) {
        const double middle_w = 0.5 * (low_w + high_w);
        const fe_supply_load load = one_load(middle_w);
        const fe_supply_case given = over_100m(48.0, &load);
        const fe_supply_size size = try_metric(&given, 4e-6);
        *(size.delivered ? &low_w : &high_w) = middle_w;
    }
    /* Not even a wire as cold as the air carries more than Vs^2 / (4 R). */
    assert_true(low_w > 300.0 && high_w <= 48.0 * 48.0 / (4.0 * 2.0 * 100.0 * 4.61e-3));
}

/* A warning of a model is no failure of the whole, and a failure is none the less one. */
static void supply__solves_all_metals_or_says_why_not(void **state)
{
    (void)state;
    static const struct {
        double air_c;
        fe_status wanted;
    } ROWS[] = {{20.0, FE_OK}, {(double)NAN, FE_E_DOMAIN}};
    fe_supply_entry *entry = calloc(1, sizeof *entry);
    assert_non_null(entry);
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        const fe_supply_load load = one_load(60.0);
        const fe_supply_origin origin = {0};
        *entry = (fe_supply_entry){.nominal_v = 48.0, .high_v = 48.0};
        entry->given = over_100m(48.0, NULL);
        entry->given.load_count = 0;
        entry->given.air_c = ROWS[i].air_c;
        entry->metals[FE_CONDUCTOR_COPPER] = true;
        assert_int_equal(fe_supply_add(entry, &load, &origin), FE_OK);
        assert_int_equal(fe_supply_solve(entry), ROWS[i].wanted);
    }
    free(entry);
}

/* What the source gives, put together from the loads' phasors and the first section's drop. */
static double complex source_phasor(const fe_supply_size *size, const fe_supply_load *loads,
                                    size_t count, double x_ohm, double complex *current_a)
{
    double complex sum_a = 0.0;
    for (size_t i = 0; i < count; i++)
        sum_a += size->points[i].load_a *
                 cexp(I * (size->points[i].angle_rad - acos(loads[i].power_factor)));
    const double r_ohm = size->points[0].loss_w / pow(cabs(sum_a), 2.0);
    *current_a = sum_a;
    return size->points[0].voltage_v * cexp(I * size->points[0].angle_rad) +
           sum_a * (r_ohm + I * x_ohm);
}

/* AC with lagging loads: volts times amperes of the source, as phasors, is what goes out. */
static void supply__balances_energy(void **state)
{
    (void)state;
    const fe_supply_load loads[] = {{30.0, FE_LOAD_POWER, 300.0, 0.9, 3.0, 4.0, 0.0},
                                    {70.0, FE_LOAD_CURRENT, 2.0, 0.8, 1.0, 10.0, 0.0},
                                    {100.0, FE_LOAD_POWER, 500.0, 1.0, 1.0, 24.0, 0.0}};
    fe_supply_case given = over_100m(230.0, loads);
    given.load_count = 3;
    given.ac = true;
    static const double areas_m2[] = {2.5e-6, 4e-6, 10e-6, 50e-6};
    for (size_t i = 0; i < sizeof areas_m2 / sizeof areas_m2[0]; i++) {
        const fe_supply_size size = try_metric(&given, areas_m2[i]);
        double out_w = 0.0;
        for (size_t load = 0; load < 3; load++)
            out_w += size.points[load].load_w + size.points[load].loss_w;
        double complex current_a = 0.0;
        /* IEC 60364-5-52 annex G: 0.08 ohm/km each way over the first 30 m. */
        const double complex source_v =
            source_phasor(&size, loads, 3, 2.0 * 30.0 * 0.08e-3, &current_a);
        assert_close_relative(cabs(source_v), 230.0, 1e-9);
        assert_close_relative(cabs(current_a), size.current_a, 1e-9);
        assert_close_relative(creal(source_v * conj(current_a)), out_w, 1e-9);
        assert_close_relative(out_w, size.load_w + size.loss_w, 1e-12);
        assert_true(size.start_v < size.worst_v);
    }
    given.ac = false;
    const fe_supply_size dc = try_metric(&given, 4e-6);
    assert_close_relative(dc.current_a * given.source_v, dc.load_w + dc.loss_w, 1e-9);
}

/* What is lost all day is lost for 24 hours of 365.25 days. */
static void supply__loses_all_year_what_runs_all_day(void **state)
{
    (void)state;
    const fe_supply_load load = one_load(60.0);
    const fe_supply_case given = over_100m(48.0, &load);
    const fe_supply_size size = try_metric(&given, 4e-6);
    assert_true(size.loss_w > 1.0);
    assert_close_relative(size.loss_j_per_year, size.loss_w * 24.0 * 3600.0 * 365.25, 1e-9);
}

/* V^2 - Vs V + P R = 0 has two roots of sum Vs and product P R; the feed settles at the upper.
 */
static void supply__settles_at_the_upper_root(void **state)
{
    (void)state;
    for (int i = 1; i <= 12; i++) {
        const fe_supply_load load = one_load(4.5 * i); /* 10 mm2 delivers at most some 98 W */
        const fe_supply_case given = over_100m(12.0, &load);
        const fe_supply_size size = try_metric(&given, 10e-6);
        const double loop_ohm = (12.0 - size.far_v) / size.current_a;
        const double false_v = 12.0 - size.far_v;
        assert_true(size.far_v > 6.0 && false_v < 6.0);
        assert_close_relative(size.far_v * false_v, load.load * loop_ohm, 1e-9);
    }
}

static void supply__drop_grows_with_length_load_and_thinness(void **state)
{
    (void)state;
    double before = 0.0;
    for (int i = 1; i <= 8; i++) {
        const fe_supply_load load = one_load(10.0 * i);
        const fe_supply_case given = over_100m(48.0, &load);
        const fe_supply_size size = try_metric(&given, 2.5e-6);
        assert_true(size.drop > before);
        assert_true(size.drop > try_metric(&given, 4e-6).drop);
        before = size.drop;
    }
    before = 0.0;
    for (int i = 1; i <= 8; i++) {
        fe_supply_load load = one_load(60.0);
        load.at_m = 20.0 * i;
        fe_supply_case given = over_100m(48.0, &load);
        given.length_m = load.at_m;
        const fe_supply_size size = try_metric(&given, 2.5e-6);
        assert_true(size.drop > before);
        before = size.drop;
    }
}

/* 60 W, 100 m, 12 V, 5 %: 35 mm2 in mild air, 50 mm2 in hot air. */
static void supply__warm_air_asks_for_a_thicker_conductor(void **state)
{
    (void)state;
    const fe_supply_load load = one_load(60.0);
    fe_supply_case given = over_100m(12.0, &load);
    fe_supply_choice *choice = calloc(1, sizeof *choice);
    assert_non_null(choice);
    assert_true(fe_supply_choose(&given, FE_SIZES_METRIC, FE_CONDUCTOR_COPPER, choice) >= 0);
    assert_string_equal(choice->sizes[choice->smallest].name, "35 mm2");
    assert_int_equal(choice->limited_by, FE_DEMAND_DROP);
    given.air_c = 45.0;
    assert_true(fe_supply_choose(&given, FE_SIZES_METRIC, FE_CONDUCTOR_COPPER, choice) >= 0);
    assert_string_equal(choice->sizes[choice->smallest].name, "50 mm2");
    free(choice);
}

/* BS 7671 Table 4D2A begins at 1 mm2: nothing says what a thinner one may carry. */
static void supply__sells_no_size_without_a_rating(void **state)
{
    (void)state;
    const fe_supply_load load = one_load(60.0);
    const fe_supply_case given = over_100m(48.0, &load);
    assert_false(try_metric(&given, 0.75e-6).sold);
    assert_true(try_metric(&given, 1e-6).sold);
}

/* NFPA 70:2023 Tables 310.16 and 310.15(B)(1)(1), copper for 75 degC: 10 AWG 35 A, times 0.82 in
 * air of 45 degC; in cold air the terminals hold it to the 35 A. */
static void supply__gauge_carries_what_the_code_says(void **state)
{
    (void)state;
    static const double CASES[][2] = {{20.0, 35.0}, {45.0, 28.7}};
    const fe_supply_load load = one_load(60.0);
    fe_awg ten = {0};
    assert_int_equal(fe_awg_geometry(10, &ten), FE_OK);
    const fe_conductor conductor = {ten.area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        fe_supply_case given = over_100m(48.0, &load);
        fe_supply_size size = {0};
        given.air_c = CASES[i][0];
        assert_true(fe_supply_try(&given, &conductor, &size) >= 0);
        assert_close(size.ampacity_a, CASES[i][1], 1e-9);
    }
}

/* BS 7671 Table 41.3: B16 2.73 ohm; 165 m of 2.5 mm2 with 0.35 ohm outside reaches 3.28. */
static void supply__fault_loop_decides_a_long_mains_feed(void **state)
{
    (void)state;
    fe_supply_load load = one_load(200.0);
    load.at_m = 165.0;
    fe_supply_case given = over_100m(230.0, &load);
    given.length_m = 165.0;
    given.ac = true;
    given.has_device = true;
    given.device = (fe_supply_device){true, FE_BREAKER_B, 16.0};
    given.loop_ohm = 0.35;
    const fe_supply_size size = try_metric(&given, 2.5e-6);
    assert_close(size.fault_ohm, 3.284, 0.001);
    assert_close(size.fault_limit_ohm, 2.73, 0.001);
    /* As measured cold: 0.35 + 2 x 165 m x 7.41 ohm/km, against four fifths of the limit. */
    assert_close(size.fault_cold_ohm, 2.795, 0.001);
    assert_close(size.fault_cold_limit_ohm, 2.184, 0.001);
    assert_false(size.meets[FE_DEMAND_FAULT]);
    assert_true(size.meets[FE_DEMAND_DROP]);
    assert_true(try_metric(&given, 4e-6).meets[FE_DEMAND_FAULT]);
}

/* NFPA 70:2023 225.6(A). */
static void supply__open_span_wants_a_strong_wire(void **state)
{
    (void)state;
    const fe_supply_load load = one_load(10.0);
    fe_supply_case given = over_100m(48.0, &load);
    given.open_span_m = 15.0;
    assert_true(try_metric(&given, 6e-6).meets[FE_DEMAND_MECHANICS]);
    assert_false(try_metric(&given, 4e-6).meets[FE_DEMAND_MECHANICS]);
    given.open_span_m = 16.0;
    assert_false(try_metric(&given, 6e-6).meets[FE_DEMAND_MECHANICS]);
    assert_true(try_metric(&given, 10e-6).meets[FE_DEMAND_MECHANICS]);
}

static void supply__refuses_what_is_no_feed(void **state)
{
    (void)state;
    const fe_supply_load load = one_load(60.0);
    const fe_conductor wire = {2.5e-6, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    fe_supply_size size = {.name = "untouched"};
    fe_supply_case given = over_100m(NAN, &load);
    assert_int_equal(fe_supply_try(&given, &wire, &size), FE_E_DOMAIN);
    given = over_100m(48.0, &load);
    given.length_m = 0.0;
    assert_int_equal(fe_supply_try(&given, &wire, &size), FE_E_DOMAIN);
    given = over_100m(48.0, &load);
    given.load_count = 0;
    assert_int_equal(fe_supply_try(&given, &wire, &size), FE_E_DOMAIN);
    assert_string_equal(size.name, "untouched");
}

static json_t *json_of(const char *line)
{
    return fe_testing_json_of(FAREND_SOURCE_DIR, line);
}

static void power__units_change_nothing(void **state)
{
    (void)state;
    json_t *a = json_of("power --length 100m --load 60W --voltage 48V --json");
    json_t *b = json_of("power --length 0.1km --load 0.06kW --voltage 48000mV --json");
    const json_t *one = json_array_get(a, 0), *two = json_array_get(b, 0);
    assert_close_relative(json_number_value(json_object_get(one, "far_voltage_v")),
                          json_number_value(json_object_get(two, "far_voltage_v")), 1e-12);
    assert_close(json_number_value(json_object_get(one, "smallest_mm2")), 2.5, 1e-9);
    json_decref(a);
    json_decref(b);
}

static void power__dc_ends_at_60_v_unless_said(void **state)
{
    (void)state;
    json_t *list = json_of("power --length 10m --load 60W --voltage 60V --voltage 61V "
                           "--voltage 120Vdc --voltage 24Vac --json");
    static const char *const wanted[] = {"dc", "ac", "dc", "ac"};
    for (size_t i = 0; i < 4; i++)
        assert_string_equal(json_string_value(json_object_get(json_array_get(list, i), "kind")),
                            wanted[i]);
    json_decref(list);
}

static void power__says_null_where_no_size_delivers(void **state)
{
    (void)state;
    json_t *list = json_of("power --length 2km --load 3kW --voltage 12V --json");
    const json_t *one = json_array_get(list, 0);
    assert_true(json_is_null(json_object_get(one, "smallest_mm2")));
    assert_string_equal(json_string_value(json_object_get(one, "verdict")), "fails");
    json_decref(list);
}

/* ---- A plan ---- */

/* What `farend report --json` prints, computed here: the program would look for unknowns too.
 */
static json_t *report_of(const char *name, fe_plan *plan, fe_result *result)
{
    const fe_plan_places places = {NULL, getenv("FAREND_PROFILES")};
    fe_messages messages = {0};
    fe_strbuf out = FE_STRBUF_INIT;
    char path[400];
    snprintf(path, sizeof path, "%s/examples/%s.ini", FAREND_SOURCE_DIR, name);
    assert_true(fe_plan_read(path, &places, plan, &messages) >= 0);
    fe_messages_free(&messages);
    assert_true(fe_decide(plan, result) >= 0);
    assert_int_equal(fe_report_json(result, NULL, &out), FE_OK);
    json_t *whole = json_loads(fe_strbuf_text(&out), 0, NULL);
    fe_strbuf_free(&out);
    assert_non_null(whole);
    return whole;
}

static void commands__say_the_same_as_the_report(void **state)
{
    (void)state;
    static const char *const names[] = {"lambing-shed", "boathouse", "sugar-house"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char line[120];
        fe_plan plan;
        fe_result result;
        json_t *report = report_of(names[i], &plan, &result);
        snprintf(line, sizeof line, "power examples/%s.ini --json", names[i]);
        json_t *power = json_of(line);
        snprintf(line, sizeof line, "copper examples/%s.ini --json", names[i]);
        json_t *copper = json_of(line);
        const json_t *feeds = json_object_get(report, "feeds");
        assert_true(json_array_size(feeds) > 0 && json_array_size(copper) > 0);
        for (size_t feed = 0; feed < json_array_size(feeds); feed++)
            assert_true(json_equal(json_array_get(power, feed), json_array_get(feeds, feed)));
        const json_t *solar = json_object_get(report, "solar");
        /* The command prints it where the plan asks for it. */
        if (json_array_size(power) > json_array_size(feeds))
            assert_true(json_equal(json_array_get(power, json_array_size(feeds)), solar));
        assert_true(json_equal(copper, json_object_get(report, "cables")));
        json_decref(power);
        json_decref(copper);
        json_decref(report);
        fe_result_free(&result);
        fe_plan_free(&plan);
    }
}

/* A feed is bought once: where no device is named, the usual one's fault loop decides with. */
static void feed__is_never_left_without_a_device(void **state)
{
    (void)state;
    static const struct {
        const char *rest;
        bool taken;
        double rating_a;
    } CASES[] = {
        {"[load heater]\npower = 500 W\nvoltage = 207..253 V\n[feed]\nvoltage = 230 V ac\n",
         true, 16.0},
        {"[load oven]\npower = 4 kW\nvoltage = 207..253 V\n[feed]\nvoltage = 230 V ac\n", true,
         20.0},
        {"[load heater]\npower = 500 W\nvoltage = 207..253 V\n[feed]\nvoltage = 230 V ac\n"
         "protection = C10\n",
         false, 10.0},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        char text[PLAN_TEXT_ROOM];
        fe_plan plan;
        fe_supply_entry *entry = malloc(sizeof *entry);
        assert_non_null(entry);
        read_text(&plan, small_plan(text, "105 m", CASES[i].rest));
        assert_true(fe_supply_from_plan(&plan, 0, &plan.feed.sources[0], 0.0, entry) >= 0);
        assert_true(entry->given.has_device);
        assert_int_equal(entry->place.device_taken, CASES[i].taken);
        assert_close(entry->given.device.rating_a, CASES[i].rating_a, 0.0);
        assert_int_equal(entry->given.device.trip, i == 2 ? FE_BREAKER_C : FE_BREAKER_B);
        fe_plan_free(&plan);
        free(entry);
    }
}

/* The report's row of power over a cable says what `farend copper` says of that cable. */
static void power_over_pairs__is_one_answer(void **state)
{
    (void)state;
    json_t *copper = json_of("copper examples/boathouse.ini --json");
    json_t *report = json_of("report examples/boathouse.ini --json");
    const json_t *ways = json_object_get(report, "ways");
    size_t met = 0;
    for (size_t i = 0; i < json_array_size(copper); i++) {
        const json_t *cable = json_array_get(copper, i);
        char name[120];
        snprintf(name, sizeof name, "power over %s %s",
                 json_string_value(json_object_get(cable, "cable")),
                 json_is_true(json_object_get(cable, "overhead")) ? "on posts" : "in a trench");
        for (char *at = name; *at; at++) /* ways are named in words, cables by their class */
            *at = *at == '-' ? ' ' : *at;
        for (size_t k = 0; k < json_array_size(ways); k++) {
            const json_t *way = json_array_get(ways, k);
            if (strcmp(json_string_value(json_object_get(way, "name")), name) != 0)
                continue;
            met++;
            assert_string_equal(json_string_value(json_object_get(way, "verdict")),
                                json_string_value(json_object_get(cable, "poe_verdict")));
            assert_close_relative(
                json_number_value(json_object_get(way, "used")),
                json_number_value(json_object_get(cable, "poe_need_w")) / 40.0, 1e-9);
        }
    }
    assert_int_equal(met, 2);
    json_decref(copper);
    json_decref(report);
}

/* A quarter more than 1.2 kW and 12 W of gear through a converter of 0.8296. */
static void power__builds_in_what_the_plan_wants_to_spare(void **state)
{
    (void)state;
    json_t *list = json_of("power examples/lambing-shed.ini --json");
    const json_t *loads = json_object_get(json_array_get(list, 0), "loads");
    const double gear_w = 12.0 / (0.071 * log(12.0) - 0.0014 * 12.0 + 0.67);
    bool met = false;
    for (size_t i = 0; i < json_array_size(loads); i++) {
        const json_t *load = json_array_get(loads, i);
        if (strcmp(json_string_value(json_object_get(load, "name")), "spare power") != 0)
            continue;
        met = true;
        assert_close(json_number_value(json_object_get(load, "power_w")),
                     0.25 * (1200.0 + gear_w), 1e-6);
        assert_close(json_number_value(json_object_get(load, "at_m")),
                     json_number_value(json_object_get(json_array_get(list, 0), "length_m")),
                     1e-9);
    }
    assert_true(met);
    json_decref(list);
}

/* The boathouse has a battery of 11.5 to 14.4 V and 48 V, and loads for 10.8 to 15 V. */
static void power__judges_a_battery_at_its_low_end(void **state)
{
    (void)state;
    json_t *list = json_of("power examples/boathouse.ini --json");
    const json_t *battery = json_array_get(list, 0);
    assert_close(json_number_value(json_object_get(battery, "lowest_voltage_v")), 11.5, 1e-9);
    const double far_v = json_number_value(json_object_get(battery, "far_voltage_v"));
    assert_close(json_number_value(json_object_get(battery, "drop_percent")),
                 100.0 * (11.5 - far_v) / 11.5, 1e-6);
    json_decref(list);
    char *text = fe_testing_runs_in(
        FAREND_SOURCE_DIR, (const char *[]){"power", "examples/boathouse.ini", NULL}, 0, NULL);
    assert_non_null(strstr(text, "11.5 to 14.4 V DC"));
    assert_null(strstr(text, "13 V"));
    free(text);
}

/* 10 CFR 430.32(w): 0.071 ln 25 - 0.0014 x 25 + 0.67 = 0.8635. */
static void power__counts_a_converter_where_voltages_differ(void **state)
{
    (void)state;
    json_t *list = json_of("power examples/boathouse.ini --json");
    for (size_t source = 0; source < 2; source++) {
        const json_t *loads = json_object_get(json_array_get(list, source), "loads");
        for (size_t i = 0; i < json_array_size(loads); i++) {
            const json_t *load = json_array_get(loads, i);
            if (strcmp(json_string_value(json_object_get(load, "name")), "instruments") != 0)
                continue;
            assert_int_equal(json_is_true(json_object_get(load, "converter")), source == 1);
            const double power_w = json_number_value(json_object_get(load, "power_w"));
            assert_close(power_w, source == 1 ? 25.0 / 0.86354 : 25.0, 1e-3);
        }
    }
    json_decref(list);
}

/* Ten hours a day: 62 W lost in the cable are some 220 kWh a year. */
static void power__counts_the_hours_of_a_plan(void **state)
{
    (void)state;
    json_t *list = json_of("power examples/lambing-shed.ini --json");
    const json_t *mains = json_array_get(list, 0);
    const double loss_w = json_number_value(json_object_get(mains, "loss_w"));
    const double kwh = json_number_value(json_object_get(mains, "loss_kwh_per_year"));
    assert_true(kwh > 0.98e-3 * loss_w * 10.0 * 365.25);
    assert_true(kwh < 1.02e-3 * loss_w * 10.0 * 365.25);
    json_decref(list);
}

static void power__lets_options_change_a_plan(void **state)
{
    (void)state;
    json_t *list = json_of("power examples/lambing-shed.ini --length 20m --voltage 48V "
                           "--load 60W@10m,start=2,hours=1h --drop 3% --json");
    const json_t *one = json_array_get(list, 0);
    assert_int_equal(json_array_size(list), 1);
    assert_close(json_number_value(json_object_get(one, "length_m")), 20.0, 1e-12);
    assert_close(json_number_value(json_object_get(one, "allowed_drop_percent")), 3.0, 1e-9);
    const json_t *load = json_array_get(json_object_get(one, "loads"), 0);
    assert_close(json_number_value(json_object_get(load, "at_m")), 10.0, 1e-12);
    assert_true(json_number_value(json_object_get(load, "starting_voltage_v")) <
                json_number_value(json_object_get(load, "voltage_v")));
    json_decref(list);
}

/*
 * The sugar house by hand: 2 W for 24 h and 7 W for 14 h at 12 V directly, 7 W of gear for 24 h
 * through a converter of 0.7983 (10 CFR 430.32(w)): 356.4 Wh a day; 6 days, half used, 85 % to
 * the load, 0.48 left at -32 degC.
 */
static void solar__is_sized_at_both_ends(void **state)
{
    (void)state;
    json_t *list = json_of("power examples/sugar-house.ini --json");
    const json_t *solar = json_array_get(list, json_array_size(list) - 1);
    const double day_wh = 48.0 + 98.0 + 24.0 * 7.0 / (0.071 * log(7.0) - 0.0098 + 0.67);
    assert_string_equal(json_string_value(json_object_get(solar, "kind")), "battery and panel");
    assert_close(json_number_value(json_object_get(solar, "energy_wh_per_day")), day_wh, 1e-6);
    assert_close_relative(json_number_value(json_object_get(solar, "battery_wh")),
                          day_wh * 6.0 / (0.5 * 0.85 * 0.48), 1e-9);
    assert_close_relative(json_number_value(json_object_get(solar, "panel_hard_w")),
                          day_wh / (1.1 * 0.65), 1e-9);
    json_decref(list);
}

/* 60 W, 100 m, 12 V, 5 %: 35 mm2 drops 4.8 %, more than nine tenths of what is allowed. */
static void verdict__is_one_for_head_and_table(void **state)
{
    (void)state;
    const fe_supply_load load = one_load(60.0);
    const fe_supply_case given = over_100m(12.0, &load);
    const fe_supply_size tight = try_metric(&given, 35e-6);
    assert_true(tight.drop > 0.045 && tight.drop < 0.05);
    assert_int_equal(tight.verdict, FE_VERDICT_TIGHT);
    assert_int_equal(tight.limit, FE_DEMAND_DROP);
    const fe_supply_size wide = try_metric(&given, 50e-6);
    assert_int_equal(wide.verdict, FE_VERDICT_HOLDS);
    assert_int_equal(wide.limit, FE_DEMANDS);
    const fe_supply_size thin = try_metric(&given, 25e-6);
    assert_int_equal(thin.verdict, FE_VERDICT_FAILS);
    assert_int_equal(thin.limit, FE_DEMAND_DROP);
    char *text = fe_testing_runs_in(FAREND_SOURCE_DIR,
                                    (const char *[]){"power", "--length", "100m", "--load",
                                                     "60W", "--voltage", "12V", NULL},
                                    0, NULL);
    assert_non_null(strstr(text, "[~] tight: 12 V DC: 35 mm2"));
    const char *row = strstr(text, "\n35 mm2");
    assert_non_null(row);
    assert_true(strstr(row, "[~] tight: voltage drop") < strchr(row + 1, '\n'));
    free(text);
}

static void assert_says(const char *command, const char *plan, const char *const *words)
{
    char *text =
        fe_testing_runs_in(FAREND_SOURCE_DIR, (const char *[]){command, plan, NULL}, 0, NULL);
    for (; *words; words++)
        if (!strstr(text, *words))
            fail_msg("%s %s lacks \"%s\"", command, plan, *words);
    free(text);
}

/* What somebody about to buy would come back for. */
static void lists__leave_nothing_at_the_shop(void **state)
{
    (void)state;
    assert_says("power", "examples/boathouse.ini",
                (const char *[]){"power supply of 48 V DC", "battery of 11.5 to 14.4 V DC",
                                 "fuse of 10 A", "terminal from 35 mm2 down", "branch box",
                                 "gland that fits", "surge arrester for DC", "crimping tool",
                                 "sleeve through the wall", "draw cord", "warning tape",
                                 "converter from 48 V DC", NULL});
    assert_says("power", "examples/lambing-shed.ini",
                (const char *[]){"circuit breaker B16", "residual-current device, 30 mA",
                                 "earth electrode", "surge arrester for the supply",
                                 "distribution board", "injector for power", NULL});
    assert_says("power", "examples/sugar-house.ini",
                (const char *[]){"       1  injector for power over the pairs",
                                 "charge controller", "between battery and", NULL});
    assert_says("copper", "examples/boathouse.ini",
                (const char *[]){"splice box", "splice sleeve", "switch out there, 3 ports",
                                 "converter from 10BASE-T1L",
                                 "surge arrester for one data pair", "label: what this is",
                                 NULL});
}

/* 14.4 V comes out of a share of the nominal voltage, with a crumb behind it. */
static void source__is_called_by_its_nominal_voltage(void **state)
{
    (void)state;
    char name[REPORT_SOURCE_ROOM];
    fe_supply_entry entry = {.given.source_v = 11.0, .high_v = 12.0 * 1.2};
    assert_true(entry.high_v != 14.4);
    assert_string_equal(report_source_name(&entry, name), "11 to 14.4 V DC");
    entry.given.source_v = entry.high_v = 48.0;
    assert_string_equal(report_source_name(&entry, name), "48 V DC");
    entry.given.source_v = entry.high_v = 230.0;
    entry.given.ac = true;
    assert_string_equal(report_source_name(&entry, name), "230 V AC");
}

static void lists__are_not_made_for_what_fails(void **state)
{
    (void)state;
    char *text = fe_testing_runs_in(
        FAREND_SOURCE_DIR, (const char *[]){"copper", "examples/boathouse.ini", NULL}, 0, NULL);
    assert_null(strstr(text, "What to buy for aerial fibre")); /* its posts do not carry it */
    assert_null(strstr(text, "What to buy for outdoor data"));
    assert_non_null(strstr(text, "What to buy for duct fibre"));
    free(text);
}

static void device__is_read_or_refused(void **state)
{
    (void)state;
    fe_supply_device device = {.rating_a = -1.0};
    assert_false(fe_supply_device_named("", &device));
    assert_false(fe_supply_device_named("X16", &device));
    assert_false(fe_supply_device_named("B", &device));
    assert_false(fe_supply_device_named("16 apples", &device));
    assert_close(device.rating_a, -1.0, 0.0);
    assert_true(fe_supply_device_named("c10", &device));
    assert_true(device.is_breaker && device.trip == FE_BREAKER_C && device.rating_a == 10.0);
    assert_true(fe_supply_device_named("10 A fuse", &device));
    assert_true(!device.is_breaker && device.rating_a == 10.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(supply__names_the_greatest_power_of_a_feed_that_cannot_deliver),
        cmocka_unit_test(supply__answers_up_to_the_greatest_power),
        cmocka_unit_test(supply__solves_all_metals_or_says_why_not),
        cmocka_unit_test(supply__balances_energy),
        cmocka_unit_test(supply__loses_all_year_what_runs_all_day),
        cmocka_unit_test(supply__settles_at_the_upper_root),
        cmocka_unit_test(supply__drop_grows_with_length_load_and_thinness),
        cmocka_unit_test(supply__warm_air_asks_for_a_thicker_conductor),
        cmocka_unit_test(supply__sells_no_size_without_a_rating),
        cmocka_unit_test(supply__gauge_carries_what_the_code_says),
        cmocka_unit_test(supply__fault_loop_decides_a_long_mains_feed),
        cmocka_unit_test(supply__open_span_wants_a_strong_wire),
        cmocka_unit_test(supply__refuses_what_is_no_feed),
        cmocka_unit_test(power__units_change_nothing),
        cmocka_unit_test(power__dc_ends_at_60_v_unless_said),
        cmocka_unit_test(power__says_null_where_no_size_delivers),
        cmocka_unit_test(commands__say_the_same_as_the_report),
        cmocka_unit_test(power_over_pairs__is_one_answer),
        cmocka_unit_test(feed__is_never_left_without_a_device),
        cmocka_unit_test(power__builds_in_what_the_plan_wants_to_spare),
        cmocka_unit_test(power__judges_a_battery_at_its_low_end),
        cmocka_unit_test(power__counts_a_converter_where_voltages_differ),
        cmocka_unit_test(power__counts_the_hours_of_a_plan),
        cmocka_unit_test(power__lets_options_change_a_plan),
        cmocka_unit_test(solar__is_sized_at_both_ends),
        cmocka_unit_test(verdict__is_one_for_head_and_table),
        cmocka_unit_test(lists__leave_nothing_at_the_shop),
        cmocka_unit_test(source__is_called_by_its_nominal_voltage),
        cmocka_unit_test(lists__are_not_made_for_what_fails),
        cmocka_unit_test(device__is_read_or_refused),
    };
    return FE_RUN_TESTS(tests);
}
