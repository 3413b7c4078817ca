/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every formula of src/wired that takes plain numbers: one call with an answer worked out apart
 * from the code (the formula stands beside the row), and each argument out of its range.
 */
#include <math.h>
#include <string.h>

#include "farend/ampacity.h"
#include "farend/battery.h"
#include "farend/channel.h"
#include "farend/conductor.h"
#include "farend/duct.h"
#include "farend/ethernet.h"
#include "farend/fault_loop.h"
#include "farend/feed.h"
#include "farend/fibre.h"
#include "farend/ice_wind.h"
#include "farend/parabola.h"
#include "farend/poe.h"
#include "farend/post.h"
#include "farend/span.h"
#include "farend/strike.h"
#include "farend/tension.h"
#include "refusal.h"
#include "testing.h"

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])
static const double ANY = (double)NAN;

/* ---- Posts ---- */

static fe_status post_wind(const double *x, void *result)
{
    double *two = result;
    return fe_post_wind(x[0], x[1], x[2], x[3], two, two + 1);
}
static fe_status post_modulus(const double *x, void *result)
{
    return fe_post_section_modulus(FE_POST_ROUND, x[0], result);
}
static fe_status post_second_moment(const double *x, void *result)
{
    return fe_post_second_moment(FE_POST_ROUND, x[0], result);
}
static fe_status post_resists(const double *x, void *result)
{
    return fe_post_resisting_moment(FE_POST_ROUND, x[0], x[1], result);
}
static fe_status post_width(const double *x, void *result)
{
    return fe_post_width_for_moment(FE_POST_ROUND, x[0], x[1], result);
}
static fe_status post_use_en(const double *x, void *result)
{
    const fe_post_moments moments = {x[2], x[3], x[4]};
    return fe_post_use_en(FE_POST_ROUND, x[0], x[1], &moments, result);
}
static fe_status post_resistance_en(const double *x, void *result)
{
    double *two = result;
    return fe_post_resistance_en(FE_POST_ROUND, x[0], x[1], two, two + 1);
}
static fe_status post_use_us(const double *x, void *result)
{
    const fe_post_moments moments = {x[2], x[3], x[4]};
    return fe_post_use_us(FE_POST_ROUND, x[0], x[1], &moments, result);
}
static fe_status post_resistance_us(const double *x, void *result)
{
    return fe_post_resistance_us(FE_POST_ROUND, x[0], x[1], result);
}
static fe_status depth_free(const double *x, void *result)
{
    const fe_post_in_soil soil = {x[0], x[1], x[2], x[3], x[4]};
    double *two = result;
    return fe_post_depth_free(&soil, two + 1, two);
}
static fe_status depth_free_trial(const double *x, void *result)
{
    double *two = result;
    return fe_post_depth_free_trial(x[0], x[1], x[2], x[3], two + 1, two);
}
static fe_status depth_held(const double *x, void *result)
{
    const fe_post_in_soil soil = {x[0], x[1], x[2], x[3], x[4]};
    return fe_post_depth_held(&soil, result);
}
static fe_status post_moment(const double *x, void *result)
{
    return fe_post_moment(x, x + 2, 2, result);
}
static fe_status stay_pull(const double *x, void *result)
{
    return fe_post_stay_pull(x, x + 2, 2, x[4], result);
}
static fe_status rule_depth(const double *x, void *result)
{
    return fe_post_rule_depth(FE_POST_TENTH_600MM, x[0], result);
}
CALL_2(fe_post_corner_pull)
CALL_3(fe_post_stay_of)
CALL_4(fe_post_depth_held_trial)
CALL_4(fe_post_depth_farm_free)
CALL_3(fe_post_depth_farm_held)
CALL_4(fe_post_length_needed)
CALL_5(fe_post_deflection)
CALL_4(fe_tension_post_compliance)

static const fe_refusal POSTS[] = {
    /* p h (b0 + b1) / 2 */
    {"post_wind", post_wind, "nnnp", {600.0, 0.15, 0.12, 4.0}, 324.0},
    /* pi d^3 / 32, times d / 2, times stress; and back */
    {"post_section_modulus", post_modulus, "p", {0.15}, 3.3133985e-4},
    {"post_second_moment", post_second_moment, "p", {0.15}, 2.4850489e-5},
    {"post_resisting_moment", post_resists, "pp", {0.15, 24e6}, 7952.15640},
    {"post_width_for_moment", post_width, "pp", {2000.0, 24e6}, 0.094683206},
    /* 1.35 * 1000 / (7952.156 * 0.50 / 1.3) */
    {"post_use_en", post_use_en, "ppnnn", {0.15, 24e6, 500.0, 1000.0, 0.0}, 0.44138970},
    {"post_resistance_en", post_resistance_en, "pp", {0.15, 24e6}, 3058.52169},
    {"post_use_us", post_use_us, "ppnnn", {0.15, 24e6, 500.0, 1000.0, 0.0}, ANY},
    {"post_resistance_us", post_resistance_us, "pp", {0.15, 24e6}, ANY},
    /* d^3 = k d + 1.09 k h, k = 3 * 2.34 F / (bearing b); d = sqrt(4.25 F h / (S3 b)) */
    {"post_depth_free", depth_free, "pnppp", {1000.0, 3.0, 0.15, 30e3, 2.0}, 1.55553595},
    {"post_depth_free_trial", depth_free_trial, "pnpp", {1000.0, 3.0, 0.15, 2e4}, 2.03398905},
    {"post_depth_held", depth_held, "ppppp", {1000.0, 3.0, 0.15, 30e3, 2.0}, 1.12311068},
    {"post_depth_held_trial",
     call_fe_post_depth_held_trial,
     "pppp",
     {1000.0, 3.0, 0.15, 4e4},
     1.45773797},
    /* d^3 = 6 V d / bearing + 8 M / bearing; d^3 = 4 M / bearing */
    {"post_depth_farm_free",
     call_fe_post_depth_farm_free,
     "nnpp",
     {1000.0, 2500.0, 0.15, 30e3},
     1.91241461},
    {"post_depth_farm_held",
     call_fe_post_depth_farm_held,
     "ppp",
     {2500.0, 0.15, 30e3},
     1.30495588},
    /* 10 percent and 0.6 m; (clearance + sag + top + snow + 2 ft) / 0.9 */
    {"post_rule_depth", rule_depth, "p", {6.0}, 1.2},
    {"post_length_needed",
     call_fe_post_length_needed,
     "nnnn",
     {2.9, 0.4, 0.15, 0.5},
     5.06622222},
    /* 300 * 4 + 100 * 2; over the stay's height */
    {"post_moment", post_moment, "ffnn", {300.0, 100.0, 4.0, 2.0}, 1400.0},
    {"post_stay_pull", stay_pull, "ffnnp", {300.0, 100.0, 4.0, 2.0, 3.5}, 400.0},
    /* 2 T sin(turn / 2); H sqrt(h^2 + l^2) / l */
    {"post_corner_pull", call_fe_post_corner_pull, "nn", {700.0, 0.5}, 346.365543},
    {"post_stay_of", call_fe_post_stay_of, "npp", {500.0, 3.0, 2.0}, 901.387819},
    /* h^3 (1 + k) / (3 EI) + h^2 / c */
    {"tension_post_compliance",
     call_fe_tension_post_compliance,
     "pPPn",
     {3.0, 2e5, 4e5, 1.0},
     1.125e-4},
    {"post_deflection",
     call_fe_post_deflection,
     "npPPn",
     {100.0, 3.0, 2e5, 4e5, 1.0},
     1.125e-2},
};

static void posts__refuse_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(POSTS, COUNT(POSTS));
    double depth_m = 7.0;
    assert_int_equal(fe_post_corner_pull(700.0, 3.2, &depth_m), FE_E_DOMAIN);
    assert_int_equal(fe_post_moment(NULL, NULL, 0, &depth_m), FE_E_DOMAIN);
    assert_int_equal(fe_post_depth_farm_free(0.0, 0.0, 0.15, 30e3, &depth_m), FE_E_DOMAIN);
    assert_int_equal(fe_post_rule_depth((fe_post_rule)99, 6.0, &depth_m), FE_E_DOMAIN);
    assert_close(depth_m, 7.0, 0.0);
    fe_post_rule rule = FE_POST_QUARTER;
    assert_int_equal(fe_post_rule_find("by feel", &rule), FE_E_DOMAIN);
    assert_int_equal(rule, FE_POST_QUARTER);
    /* 6 m of post: a tenth and 2 ft, but never under 5 ft. */
    assert_int_equal(fe_post_rule_depth(FE_POST_TENTH_MIN_5FT, 6.0, &depth_m), FE_OK);
    assert_close(depth_m, 1.524, 1e-12);
    assert_int_equal(fe_post_rule_depth(FE_POST_TENTH_MIN_5FT, 12.0, &depth_m), FE_OK);
    assert_close(depth_m, 1.8096, 1e-12);
    /* A square post: b^3 / 6 and back. */
    assert_int_equal(fe_post_section_modulus(FE_POST_SQUARE, 0.12, &depth_m), FE_OK);
    assert_close_relative(depth_m, 2.88e-4, 1e-12);
    assert_int_equal(fe_post_width_for_moment(FE_POST_SQUARE, 2.88e-4 * 18e6, 18e6, &depth_m),
                     FE_OK);
    assert_close_relative(depth_m, 0.12, 1e-12);
    /* No lever: the depth of the shear alone. */
    assert_int_equal(fe_post_depth_farm_free(1000.0, 0.0, 0.15, 30e3, &depth_m), FE_OK);
    assert_close_relative(depth_m, sqrt(6000.0 / 4500.0), 1e-12);
}

/* ---- Loads and spans ---- */

static fe_status ice_wind(const double *x, void *result)
{
    const fe_ice_wind_case given = {x[0], x[1], x[2], x[3], x[4], x[5]};
    return fe_ice_wind(&given, result);
}
static fe_status slope_clearance(const double *x, void *result)
{
    double *two = result;
    return fe_parabola_slope_clearance(x[0], x[1], x[2], x[3], x[4], two + 1, two);
}
static fe_status length_and_sag(const double *x, void *result)
{
    double *two = result;
    return fe_span_from_length_and_sag(x[0], x[1], two, two + 1);
}
static fe_status resultant(const double *x, void *result)
{
    const fe_span bare = {x[0], x[1], 1.0, x[2]};
    fe_span plane;
    double *blowout_rad = result;
    const fe_status status = fe_span_resultant(&bare, x[3], x[4], &plane, blowout_rad);
    return status;
}
static fe_status wave_time(const double *x, void *result)
{
    return fe_span_wave_time(x[0], 3, result);
}
static fe_status sag_from_wave_time(const double *x, void *result)
{
    return fe_span_sag_from_wave_time(x[0], 3, result);
}
static fe_status strike_rate(const double *x, void *result)
{
    double *two = result;
    return fe_strike_rate(x[0], x[1], x[2], two, two + 1);
}
CALL_3(fe_ice_load)
CALL_3(fe_ice_outer_diameter)
CALL_3(fe_wind_load)
CALL_1(fe_wind_pressure)
CALL_3(fe_parabola_sag)
CALL_3(fe_parabola_tension)
CALL_3(fe_parabola_span)
CALL_2(fe_parabola_length)
CALL_3(fe_parabola_end_tension)
CALL_4(fe_parabola_inclined_span)
CALL_4(fe_parabola_tensions_from_drops)
CALL_4(fe_duct_longest_pull)

static const fe_refusal SPANS[] = {
    /* pi t (d + t) rho g; sqrt(d^2 + 4 m / (pi rho)); p (d + 2 t);
     * 0.00256 lb/ft2 at 1 mi/h */
    {"ice_load", call_fe_ice_load, "nnn", {0.0095, 0.01, 900.0}, 5.40689168},
    {"ice_outer_diameter",
     call_fe_ice_outer_diameter,
     "nnp",
     {0.0095, 0.5, 900.0},
     0.0282419069},
    {"wind_load", call_fe_wind_load, "nnn", {0.0095, 0.01, 600.0}, 17.7},
    {"wind_pressure", call_fe_wind_pressure, "n", {25.0}, 383.339617},
    {"ice_wind", ice_wind, "npnnnn", {0.0095, 0.6, 0.01, 900.0, 600.0, 0.0}, 5.40689168},
    /* w a^2 / 8 H and its inverses; 8 / 3 f^2 / a; hypot(H, w a / 2) */
    {"parabola_sag", call_fe_parabola_sag, "ppp", {40.0, 2.0, 400.0}, 1.0},
    {"parabola_tension", call_fe_parabola_tension, "ppp", {40.0, 2.0, 1.0}, 400.0},
    {"parabola_span", call_fe_parabola_span, "ppp", {2.0, 400.0, 1.0}, 40.0},
    {"parabola_length", call_fe_parabola_length, "pp", {40.0, 1.0}, 40.0666667},
    {"parabola_end_tension",
     call_fe_parabola_end_tension,
     "ppp",
     {40.0, 2.0, 400.0},
     401.995025},
    /* a / 2 - H h / (w a); a / (1 + sqrt(dh / dl)); attachment less the sag */
    {"parabola_inclined_span",
     call_fe_parabola_inclined_span,
     "pnpp",
     {40.0, 2.0, 2.0, 400.0},
     10.0},
    {"parabola_tensions_from_drops",
     call_fe_parabola_tensions_from_drops,
     "ppp-",
     {40.0, 2.0, 1.0, 4.0},
     13.3333333},
    {"parabola_slope_clearance", slope_clearance, "pfppp", {40.0, -0.05, 2.0, 400.0, 4.0}, 3.0},
    /* 2 c asinh(s / 2c), c = ((s / 2)^2 - f^2) / 2 f; atan(wind / weight) */
    {"span_from_length_and_sag", length_and_sag, "p-", {42.0, 3.0}, 41.4262184},
    {"span_resultant", resultant, "pfPpn", {30.0, 8.0, 5e5, 3.0, 4.0}, 0.927295218},
    /* 4 n sqrt(2 f / g) and back */
    {"span_wave_time", wave_time, "p", {0.5}, 3.83195948},
    {"span_sag_from_wave_time", sag_from_wave_time, "p", {4.0}, 0.544813889},
    /* limit / (mu w exp(mu bends)) */
    {"duct_longest_pull",
     call_fe_duct_longest_pull,
     "pppn",
     {400.0, 0.6, 0.35, 1.5},
     1126.77212},
    {"strike_rate", strike_rate, "pns", {100.0, 1e-6, 0.5}, ANY},
};

static void spans__refuse_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(SPANS, COUNT(SPANS));
    fe_parabola_from_drops drops = {.tension_horizontal_n = 7.0};
    /* The drop below the higher support is the greater one. */
    assert_int_equal(fe_parabola_tensions_from_drops(40.0, 2.0, 4.0, 1.0, &drops), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_tensions_from_drops(40.0, 2.0, 4.0, NAN, &drops), FE_E_DOMAIN);
    assert_int_equal(fe_parabola_tensions_from_drops(40.0, 2.0, 4.0, INFINITY, &drops),
                     FE_E_DOMAIN);
    assert_close(drops.tension_horizontal_n, 7.0, 0.0);
    /* H = w x^2 / (2 dl) with x = 40 / 3. */
    assert_int_equal(fe_parabola_tensions_from_drops(40.0, 2.0, 1.0, 4.0, &drops), FE_OK);
    assert_close_relative(drops.tension_horizontal_n, 1600.0 / 9.0, 1e-12);
    assert_close_relative(drops.tension_higher_end_n, hypot(1600.0 / 9.0, 160.0 / 3.0), 1e-12);
    fe_parabola_inclined wire = {.drop_at_midspan_m = 7.0};
    assert_int_equal(fe_parabola_inclined_span(40.0, INFINITY, 2.0, 400.0, &wire), FE_E_DOMAIN);
    assert_close(wire.drop_at_midspan_m, 7.0, 0.0);
    /* A sag beyond a tenth of the span is told. */
    double value = 0.0;
    assert_int_equal(fe_parabola_sag(40.0, 2.0, 99.0, &value), FE_W_RANGE);
    assert_close_relative(value, 400.0 / 99.0, 1e-12);
    assert_int_equal(fe_parabola_length(40.0, 4.1, &value), FE_W_RANGE);
    assert_int_equal(fe_parabola_tension(40.0, 2.0, 4.1, &value), FE_W_RANGE);
    assert_int_equal(fe_parabola_span(2.0, 99.0, 4.1, &value), FE_W_RANGE);
    assert_close_relative(value, sqrt(8.0 * 99.0 * 4.1 / 2.0), 1e-12);
}

/* Posts of 4 m on a slope of one in twenty: the wire's low point is 5 m from the lower post. */
static void
slope_clearance__falls_to_the_attachment_where_the_low_point_is_outside(void **state)
{
    (void)state;
    double low_m = NAN, least_m = NAN;
    assert_int_equal(fe_parabola_slope_clearance(40.0, 0.05, 2.0, 600.0, 4.0, &low_m, &least_m),
                     FE_OK);
    /* low = 20 - 600 * 2 / 80 = 5 m; its drop 2 * 25 / 1200; the ground rose 0.25 m. */
    assert_close_relative(low_m, 4.0 - 2.0 * 25.0 / 1200.0 - 0.25, 1e-12);
    assert_close_relative(least_m, 4.0 - 2.0 * 1600.0 / 4800.0, 1e-12);
    assert_int_equal(fe_parabola_slope_clearance(40.0, 0.1, 2.0, 600.0, 4.0, &low_m, &least_m),
                     FE_OK);
    assert_close(low_m, 4.0, 0.0);
    assert_int_equal(fe_parabola_slope_clearance(40.0, 0.1, 2.0, 600.0, 0.0, &low_m, &least_m),
                     FE_E_DOMAIN);
}

/* ---- Electric ---- */

static fe_status battery(const double *x, void *result)
{
    const fe_battery_need need = {x[0], x[1], x[2], x[3], x[4]};
    return fe_battery_energy(&need, result);
}
static fe_status alpha_at(const double *x, void *result)
{
    return fe_conductor_alpha_at(FE_CONDUCTOR_COPPER, x[0], result);
}
static fe_status breaker_law(const double *x, void *result)
{
    return fe_fault_loop_max_zs_law(FE_BREAKER_B, x[0], result);
}
static fe_status breaker_trip(const double *x, void *result)
{
    return fe_fault_loop_trip(FE_BREAKER_B, x[0], result);
}
static fe_status air_factor(const double *x, void *result)
{
    return fe_ampacity_air_factor(x[0], 75.0, result);
}
static fe_status iec_drop(const double *x, void *result)
{
    const fe_iec_drop given = {x[0], x[1], x[2], x[3], x[4], x[5], x[6]};
    return fe_feed_drop_iec(&given, result);
}
static fe_status moment(const double *x, void *result)
{
    return fe_feed_moment(x, x + 2, 2, result);
}
static fe_status from_far_end(const double *x, void *result)
{
    const fe_feed_section section = {x[1], x[2], FE_LOAD_CURRENT, x[3], x[4], FE_ANGLE_OWN};
    return fe_feed_from_far_end(x[0], &section, 1, NULL, result);
}
static fe_status from_source(const double *x, void *result)
{
    const fe_feed_section section = {x[1], x[2], FE_LOAD_CURRENT, x[3], x[4], FE_ANGLE_OWN};
    return fe_feed_from_source(x[0], &section, 1, NULL, result);
}
static fe_status greatest_share(const double *x, void *result)
{
    const fe_feed_section section = {x[1], x[2], FE_LOAD_POWER, x[3], x[4], FE_ANGLE_OWN};
    return fe_feed_greatest_share(x[0], &section, 1, result);
}
CALL_2(fe_battery_charge)
CALL_3(fe_panel_power)
CALL_5(fe_resistance_at_temp)
CALL_5(fe_temp_from_resistance)
CALL_1(fe_conductor_kt)
CALL_3(fe_resistance_of_wire)
CALL_3(fe_effective_impedance)
CALL_2(fe_ampacity_air_law)
CALL_4(fe_fault_loop_zs)
CALL_1(fe_fault_loop_cold_limit)
CALL_1(fe_fault_loop_current)
CALL_1(fe_fault_loop_electrode)
CALL_3(fe_fault_loop_least_area)
CALL_5(fe_feed_constant_power)
CALL_4(fe_feed_greatest_power)
CALL_5(fe_conductor_warmth)
CALL_4(fe_feed_uniform_drop)
CALL_3(fe_feed_uniform_loss)
CALL_3(fe_feed_area_for_drop)
CALL_2(fe_feed_uniform_moment)
CALL_3(fe_feed_drop_two_wire)
CALL_3(fe_feed_drop_mv)
CALL_2(fe_drop_limit_iec)
CALL_3(fe_poe_deliver)
CALL_2(fe_poe_longest_loop)
CALL_3(fe_poe_device_power)

static const fe_refusal ELECTRIC[] = {
    /* daily energy times days over depth, efficiency and cold; over the voltage, the sun */
    {"battery_energy", battery, "ppsss", {5e5, 3.0, 0.5, 0.85, 0.7}, 5042016.81},
    {"battery_charge", call_fe_battery_charge, "pp", {1.2e6, 12.0}, 1e5},
    {"panel_power", call_fe_panel_power, "pps", {5e5, 10800.0, 0.7}, 66.1375661},
    /* linear in the temperature */
    {"resistance_at_temp",
     call_fe_resistance_at_temp,
     "pfpff",
     {0.08, 20.0, 0.00393, 20.0, 70.0},
     0.09572},
    {"temp_from_resistance",
     call_fe_temp_from_resistance,
     "pfpfp",
     {0.08, 20.0, 0.00393, 20.0, 0.1},
     83.6132316},
    {"conductor_alpha_at", alpha_at, "f", {70.0}, 0.00393 / 1.1965},
    {"conductor_kt", call_fe_conductor_kt, "f", {70.0}, 0.833333333},
    {"resistance_of_wire", call_fe_resistance_of_wire, "ppp", {1.75e-8, 100.0, 2.5e-6}, 0.7},
    {"effective_impedance", call_fe_effective_impedance, "nns", {0.5, 0.2, 0.8}, 0.52},
    /* sqrt((max - air) / (max - 30)); the factor of the table at 75 degC */
    {"ampacity_air_law", call_fe_ampacity_air_law, "fp", {40.0, 90.0}, 0.912870929},
    {"ampacity_air_factor", air_factor, "f", {40.0}, 0.88},
    /* BS 7671: Ze + k (R1 + R2) l; 230 * 0.95 / (5 In); 0.8; S = I sqrt(t) / k */
    {"fault_loop_zs", call_fe_fault_loop_zs, "npnp", {0.35, 0.0194, 100.0, 1.2}, 2.678},
    {"fault_loop_max_zs_law", breaker_law, "p", {16.0}, 2.73125},
    {"fault_loop_trip", breaker_trip, "p", {16.0}, 80.0},
    {"fault_loop_cold_limit", call_fe_fault_loop_cold_limit, "p", {2.73}, 2.184},
    {"fault_loop_current", call_fe_fault_loop_current, "p", {0.5}, 437.0},
    {"fault_loop_electrode", call_fe_fault_loop_electrode, "p", {0.03}, 50.0 / 0.03},
    {"fault_loop_least_area",
     call_fe_fault_loop_least_area,
     "ppp",
     {1000.0, 0.1, 115.0},
     2.74980666e-6},
    /* far = (V + sqrt(V^2 - 4 R P)) / 2; P = V^2 / 4 R */
    {"feed_constant_power",
     call_fe_feed_constant_power,
     "pnnp-",
     {48.0, 2.0, 0.0, 100.0, 1.0},
     43.3907194},
    {"feed_greatest_power", call_fe_feed_greatest_power, "pnn-", {48.0, 2.0, 0.0, 1.0}, 288.0},
    {"feed_from_far_end", from_far_end, "pnnn-", {47.0, 2.0, 0.0, 0.5, 1.0}, 48.0},
    {"feed_from_source", from_source, "pnnn-", {48.0, 2.0, 0.0, 0.5, 1.0}, 48.0},
    {"feed_greatest_share", greatest_share, "pnnn-", {48.0, 2.0, 0.0, 144.0, 1.0}, 2.0},
    /* air + (max - 30) (I / Iz)^2 */
    {"conductor_warmth",
     call_fe_conductor_warmth,
     "fffnP",
     {25.0, 70.0, 30.0, 10.0, 20.0},
     35.0},
    /* q r x (L - x / 2); (q L)^2 r L / 3; 2 rho M / u; q L^2 / 2 */
    {"feed_uniform_drop", call_fe_feed_uniform_drop, "pnpn", {0.01, 0.05, 200.0, 100.0}, 7.5},
    {"feed_uniform_loss", call_fe_feed_uniform_loss, "pnp", {0.01, 0.05, 200.0}, 66.6666667},
    {"feed_area_for_drop", call_fe_feed_area_for_drop, "ppp", {1.75e-8, 500.0, 2.5}, 7e-6},
    {"feed_uniform_moment", call_fe_feed_uniform_moment, "nn", {0.05, 200.0}, 1000.0},
    {"feed_moment", moment, "nnnn", {2.0, 3.0, 50.0, 100.0}, 400.0},
    {"feed_drop_two_wire", call_fe_feed_drop_two_wire, "nnn", {0.0075, 4.0, 50.0}, 3.0},
    {"feed_drop_mv", call_fe_feed_drop_mv, "nnn", {18.0, 10.0, 50.0}, 9.0},
    /* b (rho / S cos + x sin) L I */
    {"feed_drop_iec",
     iec_drop,
     "pnppsnn",
     {2.0, 100.0, 2.5e-6, 2.25e-8, 0.8, 10.0, 8e-5},
     14.496},
    {"drop_limit_iec", call_fe_drop_limit_iec, "nn", {3.0, 165.0}, 3.325},
    {"poe_deliver", call_fe_poe_deliver, "ppp", {48.0, 100.0, 2.0}, 43.3907194},
    {"poe_longest_loop", call_fe_poe_longest_loop, "pp", {48.0, 288.0}, 2.0},
    {"poe_device_power", call_fe_poe_device_power, "ppn", {50.0, 15.4, 20.0}, 13.502736},
};

static void electric__refuses_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(ELECTRIC, COUNT(ELECTRIC));
    double value = 7.0;
    /* Past the day, under the factor one, beyond the end of the feed. */
    assert_int_equal(fe_panel_power(5e5, 86401.0, 0.7, &value), FE_E_DOMAIN);
    assert_int_equal(fe_fault_loop_zs(0.35, 0.0194, 100.0, 0.99, &value), FE_E_DOMAIN);
    assert_int_equal(fe_feed_uniform_drop(0.01, 0.05, 200.0, 200.1, &value), FE_E_DOMAIN);
    assert_int_equal(fe_conductor_warmth(25.0, 30.0, 30.0, 10.0, 20.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_ampacity_air_law(40.0, 30.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_ampacity_air_factor(40.0, 80.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_effective_impedance(0.5, 0.2, 1.01, &value), FE_E_DOMAIN);
    assert_int_equal(fe_feed_constant_power(48.0, 2.0, 0.0, 100.0, 1.01, NULL), FE_E_DOMAIN);
    assert_int_equal(fe_feed_constant_power(48.0, 2.0, 0.0, 100.0, NAN, NULL), FE_E_DOMAIN);
    assert_int_equal(fe_poe_loop(0.09, 100.0, 0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_poe_loop(0.09, 100.0, 3, &value), FE_E_DOMAIN);
    assert_int_equal(fe_poe_loop(0.0, 100.0, 1, &value), FE_E_DOMAIN);
    assert_int_equal(fe_poe_loop(0.09, NAN, 1, &value), FE_E_DOMAIN);
    /* So cold that the straight line through 20 degC would have no resistance left. */
    assert_int_equal(fe_resistance_at_temp(0.08, 20.0, 0.00393, 20.0, -235.0, &value),
                     FE_E_DOMAIN);
    assert_int_equal(fe_resistance_at_temp(0.08, -235.0, 0.00393, 20.0, 20.0, &value),
                     FE_E_DOMAIN);
    assert_int_equal(fe_temp_from_resistance(0.08, -235.0, 0.00393, 20.0, 0.1, &value),
                     FE_E_DOMAIN);
    assert_int_equal(fe_conductor_alpha_at(FE_CONDUCTOR_COPPER, -235.0, &value), FE_E_DOMAIN);
    assert_int_equal(fe_conductor_kt(-231.0, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
    assert_true(isnan(fe_conductor_clad_factor(-0.1)));
    assert_true(isnan(fe_conductor_clad_factor(1.1)));
    /* Hotter and colder than wire is used: told, and answered. */
    assert_int_equal(fe_conductor_kt(91.0, &value), FE_W_RANGE);
    assert_close_relative(value, 1.0 / 1.284, 1e-12);
    assert_int_equal(fe_conductor_kt(-1.0, &value), FE_W_RANGE);
    assert_close_relative(value, 1.0 / 0.916, 1e-12);
    assert_int_equal(fe_conductor_alpha_at(FE_CONDUCTOR_COPPER, 400.0, &value), FE_W_RANGE);
    assert_int_equal(fe_conductor_alpha_at(FE_CONDUCTOR_COPPER, -100.0, &value), FE_W_RANGE);
}

/* ---- Data ---- */

static fe_status cord_lengths(const double *x, void *result)
{
    double *two = result;
    return fe_cord_lengths(x[0], x[1], x[2], two, two + 1);
}
static fe_status temp_factor(const double *x, void *result)
{
    return fe_cable_temp_factor(x[0], false, result);
}
static fe_status link_limit(const double *x, void *result)
{
    return fe_permanent_link_limit(x[0], false, result);
}
static fe_status channel_longest(const double *x, void *result)
{
    const fe_channel_plan plan = {x[0], x[1], x[2], x[3], x[4], false};
    fe_channel_length *length = result;
    return fe_channel_longest(&plan, length);
}
static fe_status loss_of_run(const double *x, void *result)
{
    const fe_channel_run run = {x[0], x[1], x[2], 0, x[3], false};
    return fe_insertion_loss_run(fe_loss_equation_for(FE_CATEGORY_6), &run, x[4], result);
}
static fe_status bundle_rise(const double *x, void *result)
{
    return fe_channel_bundle_rise(x[0], x[1], 1, result);
}
static fe_status fibre_loss(const double *x, void *result)
{
    return fe_fibre_link_loss(x[0], x[1], 0, 0, result);
}
static fe_status channel_solve(const double *x, void *result)
{
    const fe_channel_case given = {.length_m = x[0],
                                   .cords_m = x[1],
                                   .cord_derating = x[2],
                                   .connectors = 2,
                                   .temp_c = x[3],
                                   .category = FE_CATEGORY_5E,
                                   .rate_bit_s = x[4],
                                   .wire_area_m2 = x[5],
                                   .poe_class = 3};
    return fe_channel_solve(&given, result);
}

static const fe_refusal DATA[] = {
    /* (102 - horizontal) / (1 + derating) */
    {"cord_lengths", cord_lengths, "nnn", {90.0, 0.2, 5.0}, 10.0},
    /* 1 + 0.004 (t - 20) + 0.002 (t - 40) */
    {"cable_temp_factor", temp_factor, "f", {50.0}, 1.14},
    {"permanent_link_limit", link_limit, "f", {20.0}, 90.0},
    {"channel_longest", channel_longest, "p-nnf", {100.0, 90.0, 10.0, 0.2, 20.0}, 90.0},
    {"insertion_loss_run", loss_of_run, "nnnfp", {90.0, 10.0, 0.2, 20.0, 100e6}, ANY},
    /* heat over 10 W/m2K on the sheath */
    {"channel_bundle_rise", bundle_rise, "np", {0.5, 0.006}, 2.65258238},
    {"fibre_link_loss", fibre_loss, "nn", {2000.0, 4e-4}, 0.8},
    {"channel_solve", channel_solve, "pnnfpn", {80.0, 10.0, 0.2, 20.0, 1e9, 0.0}, ANY},
};

static void data__refuses_what_is_out_of_range(void **state)
{
    (void)state;
    fe_testing_check_refusals(DATA, COUNT(DATA));
    double value = 7.0;
    assert_int_equal(fe_cord_lengths(102.1, 0.2, 5.0, &value, &value), FE_E_DOMAIN);
    assert_int_equal(fe_channel_bundle_rise(0.5, 0.006, 0, &value), FE_E_DOMAIN);
    assert_close(value, 7.0, 0.0);
    /* A cord with 5 m in the closet leaves nothing where the cable takes all. */
    assert_int_equal(fe_cord_lengths(100.0, 0.2, 5.0, &value, &value), FE_E_NO_SOLUTION);
    fe_channel_answer answer;
    fe_channel_case given = {.length_m = 80.0,
                             .cords_m = 80.0,
                             .temp_c = 20.0,
                             .category = FE_CATEGORY_5E,
                             .rate_bit_s = 1e9};
    assert_int_equal(fe_channel_solve(&given, &answer), FE_E_DOMAIN);
    given.cords_m = 10.0;
    given.temp_c = 91.0;
    assert_int_equal(fe_channel_solve(&given, &answer), FE_E_DOMAIN);
    given.temp_c = -61.0;
    assert_int_equal(fe_channel_solve(&given, &answer), FE_E_DOMAIN);
    given.temp_c = 20.0;
    given.category = FE_CATEGORY_SINGLE_PAIR;
    assert_int_equal(fe_channel_solve(&given, &answer), FE_E_DOMAIN);
}

/* Shorter than nothing, or told by no number; the shape stays as it was. */
static void cable__has_a_length_above_zero(void **state)
{
    (void)state;
    const fe_span span = {40.0, 9.0, 0.5, 226e3}; /* 41 m from support to support */
    fe_span_shape shape = {.sag_m = 7.0};
    double sag_m = 7.0;
    assert_int_equal(fe_span_at_excess(&span, NAN, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_excess(&span, INFINITY, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_excess(&span, -41.0, &shape), FE_E_NO_SOLUTION);
    assert_int_equal(fe_span_at_length(&span, 0.0, &shape), FE_E_DOMAIN);
    assert_int_equal(fe_span_at_length(&span, NAN, &shape), FE_E_DOMAIN);
    assert_close(shape.sag_m, 7.0, 0.0);
    assert_int_equal(fe_span_sag_from_wave_time(1.0, 0, &sag_m), FE_E_DOMAIN);
    assert_close(sag_m, 7.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(posts__refuse_what_is_out_of_range),
        cmocka_unit_test(spans__refuse_what_is_out_of_range),
        cmocka_unit_test(
            slope_clearance__falls_to_the_attachment_where_the_low_point_is_outside),
        cmocka_unit_test(cable__has_a_length_above_zero),
        cmocka_unit_test(electric__refuses_what_is_out_of_range),
        cmocka_unit_test(data__refuses_what_is_out_of_range),
    };
    return FE_RUN_TESTS(tests);
}
