/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every number of the tables, and what is looked up in those that are not public, as it was when
 * tests/golden/tables.csv was written. A value from memory that differs from a reference is a
 * question there, not a failure, and most rows are asked for by few tests: a digit that slips
 * in one is seen here.
 */
#include <math.h>
#include <stdio.h>

#include "farend/aerial_cable.h"
#include "farend/ampacity.h"
#include "farend/anchor.h"
#include "farend/clearance.h"
#include "farend/conductor.h"
#include "farend/constants.h"
#include "farend/dielectric.h"
#include "farend/duct.h"
#include "farend/ethernet.h"
#include "farend/fault_loop.h"
#include "farend/feeder.h"
#include "farend/fibre.h"
#include "farend/ice_wind.h"
#include "farend/limits.h"
#include "farend/poe.h"
#include "farend/post.h"
#include "farend/power_rules.h"
#include "farend/soil.h"
#include "farend/wall.h"
#include "farend/wifi.h"
#include "farend/wood.h"
#include "kept.h"
#include "testing.h"

/* A member of a row, by its name. */
#define KEEP(row, member) kept_number(numbers, #row " " #member, (double)(row)->member)

/* A result where there is one. */
static void keep_found(kept *numbers, const char *quantity, fe_status status, double value)
{
    kept_number(numbers, quantity, status < 0 ? (double)NAN : value);
}

static void keep_cables(kept *numbers)
{
    const fe_strand *strand;
    const fe_cable_material *material;
    const fe_aerial_cable *cable;
    const fe_clearance *clearance;
    for (size_t i = 0; (strand = fe_strand_at(i)); i++) {
        KEEP(strand, diameter_mm);
        KEEP(strand, wires);
        KEEP(strand, weight_lb_kft);
        KEEP(strand, mass_kg_m);
        KEEP(strand, common_kn);
        KEEP(strand, siemens_martin_kn);
        KEEP(strand, high_strength_kn);
        KEEP(strand, extra_high_strength_kn);
    }
    for (size_t i = 0; (material = fe_cable_material_at(i)); i++) {
        KEEP(material, modulus_gpa);
        KEEP(material, expansion_per_k);
    }
    for (size_t i = 0; (cable = fe_aerial_cable_at(i)); i++) {
        KEEP(cable, diameter_mm);
        KEEP(cable, height_mm);
        KEEP(cable, mass_kg_km);
        KEEP(cable, strength_kn);
        KEEP(cable, working_kn);
        KEEP(cable, typical_span_m);
    }
    for (size_t i = 0; (clearance = fe_clearance_at(i)); i++) {
        KEEP(clearance, height_m);
        KEEP(clearance, height_ft);
    }
}

/* Each anchor and log in each soil; depths and angles between the rows, too. */
static void keep_anchors(kept *numbers)
{
    static const char *const SOILS[] = {"clay", "sand", "gravel", "rock", "bedrock"};
    for (size_t s = 0; s < sizeof SOILS / sizeof SOILS[0]; s++) {
        const fe_anchor *anchor;
        for (size_t i = 0; (anchor = fe_anchor_at(i)); i++) {
            double holding_n = NAN;
            const fe_status status = fe_anchor_holding(anchor, SOILS[s], &holding_n);
            keep_found(numbers, "anchor holding_n", status, holding_n);
            KEEP(anchor, breaking_n);
            KEEP(anchor, rod_mm);
        }
        for (double depth_ft = 3.0; depth_ft <= 7.0; depth_ft += 0.5)
            for (double angle_deg = 15.0; angle_deg <= 90.0; angle_deg += 7.5) {
                const fe_anchor_log log = {1.2, 0.2, fmin(depth_ft * FE_FOOT_M, 2.1336),
                                           angle_deg * FE_DEG_RAD};
                double holding_n = NAN;
                const fe_status status = fe_anchor_log_holding(&log, SOILS[s], &holding_n);
                keep_found(numbers, "log holding_n", status, holding_n);
            }
    }
}

static void keep_ground(kept *numbers)
{
    const fe_soil *soil;
    const fe_frost_fact *frost;
    const fe_wood *wood;
    const fe_burial_depth *burial;
    for (size_t i = 0; (soil = fe_soil_at(i)); i++) {
        KEEP(soil, vertical_psf);
        KEEP(soil, lateral_psf_ft);
        KEEP(soil, lateral_kpa_m);
        KEEP(soil, friction);
        KEEP(soil, cohesion_psf);
    }
    for (size_t i = 0; (frost = fe_frost_fact_at(i)); i++)
        KEEP(frost, depth);
    for (size_t i = 0; (wood = fe_wood_at(i)); i++)
        KEEP(wood, value);
    for (size_t i = 0; (burial = fe_burial_depth_at(i)); i++)
        KEEP(burial, cover_m);
    for (int rule = FE_POST_TENTH_2FT; rule <= FE_POST_THIRD_ABOVE; rule++)
        for (double length_m = 0.05; length_m < 20.0; length_m *= 1.7) {
            double depth_m = NAN;
            const fe_status status = fe_post_rule_depth((fe_post_rule)rule, length_m, &depth_m);
            keep_found(numbers, "post depth_m", status, depth_m);
        }
    for (int surface = FE_SURFACE_DRY_SOIL; surface <= FE_SURFACE_ICE; surface++) {
        kept_number(numbers, "surface roughness_m",
                    fe_surface_roughness_m((fe_surface)surface));
        for (double f_hz = 1e6; f_hz < 1e12; f_hz *= 1.9) {
            fe_permittivity found = {0};
            const fe_status status = fe_surface_permittivity((fe_surface)surface, f_hz, &found);
            keep_found(numbers, "surface real", status, found.real);
            keep_found(numbers, "surface loss", status, found.loss);
            kept_number(numbers, "surface status", status);
        }
    }
}

static void keep_weather(kept *numbers)
{
    const fe_ice_district *district;
    const fe_ice_type *ice;
    for (size_t i = 0; (district = fe_ice_district_at(i)); i++) {
        KEEP(district, ice_mm);
        KEEP(district, ice_in);
        KEEP(district, wind_pa);
        KEEP(district, wind_psf);
        KEEP(district, temp_c);
        KEEP(district, temp_f);
        KEEP(district, added_n_m);
        KEEP(district, added_lb_ft);
        KEEP(district, density_kg_m3);
    }
    for (int zone = 0; zone < 10; zone++) {
        double load_n_m = NAN;
        const fe_status status = fe_ice_zone_load(zone, 0.0137, &load_n_m);
        keep_found(numbers, "ice zone load_n_m", status, load_n_m);
    }
    for (size_t i = 0; (ice = fe_ice_type_at(i)); i++) {
        KEEP(ice, low);
        KEEP(ice, high);
    }
}

/* What may pull and what lies below, for each kind of cable and each code. */
static void keep_limits(kept *numbers)
{
    for (int kind = 0; kind < 8; kind++) {
        const fe_hung_cable cable = {.breaking_n = 8000.0,
                                     .everyday_n = NAN,
                                     .pulling_n = 1200.0,
                                     .strand = kind & 1,
                                     .self_supporting = kind & 2,
                                     .metallic = kind & 4};
        fe_pull_limits limits = {0};
        const fe_status status = fe_limits_pull(&cable, &limits);
        for (size_t i = 0; i < FE_RUN_CASE_KINDS; i++)
            keep_found(numbers, "pull limit_n", status, limits.limit_n[i]);
    }
    const fe_limits_code *code;
    for (size_t i = 0; (code = fe_limits_code_at(i)); i++)
        for (int below = 0; below < FE_BELOW_LAST; below++)
            for (int supply = 0; supply < 2; supply++) {
                fe_clearance_need need = {0};
                const fe_status status = fe_limits_clearance(FE_SAFETY_EN, code->name, supply,
                                                             (fe_thing_below)below, 2.5, &need);
                keep_found(numbers, "clearance over_ground_m", status, need.over_ground_m);
                keep_found(numbers, "clearance over_snow_m", status, need.over_snow_m);
            }
}

static void keep_copper(kept *numbers)
{
    const fe_wire_size *size;
    for (int series = FE_SIZES_METRIC; series <= FE_SIZES_AWG; series++)
        for (size_t i = 0; (size = fe_wire_size_at((fe_size_series)series, i)); i++) {
            KEEP(size, area_m2);
            for (int material = 0; material < 2; material++)
                for (size_t build = 0; build < 3; build++) {
                    static const fe_conductor_class BUILDS[] = {
                        FE_CLASS_SOLID, FE_CLASS_STRANDED, FE_CLASS_FLEXIBLE};
                    const fe_conductor conductor = {
                        size->area_m2, (fe_conductor_material)material, BUILDS[build]};
                    double ohm_per_m = NAN;
                    const fe_status status =
                        fe_conductor_resistance(&conductor, 37.0, &ohm_per_m);
                    keep_found(numbers, "conductor ohm_per_m", status, ohm_per_m);
                }
            for (int method = 0; method < 3; method++) {
                double ampacity_a = NAN;
                const fe_status status =
                    fe_ampacity_metric(size->area_m2, (fe_cable_method)method, &ampacity_a);
                keep_found(numbers, "metric ampacity_a", status, ampacity_a);
            }
        }
    for (int gauge = -3; gauge <= 20; gauge++) {
        const fe_us_ampacity *row = fe_us_ampacity_find(gauge);
        if (!row)
            continue;
        KEEP(row, copper_60c_a);
        KEEP(row, copper_75c_a);
        KEEP(row, copper_90c_a);
        KEEP(row, aluminium_60c_a);
        KEEP(row, aluminium_75c_a);
        KEEP(row, aluminium_90c_a);
        KEEP(row, copper_device_a);
    }
    for (double air_c = 1.0; air_c < 90.0; air_c += 1.0)
        for (double insulation_c = 60.0; insulation_c <= 90.0; insulation_c += 15.0) {
            double factor = NAN;
            const fe_status status = fe_ampacity_air_factor(air_c, insulation_c, &factor);
            keep_found(numbers, "air factor", status, factor);
        }
    for (int type = FE_BREAKER_B; type <= FE_BREAKER_D; type++)
        for (double rating_a = 3.0; rating_a <= 125.0; rating_a += 1.0) {
            double max_zs_ohm = NAN;
            const fe_status status =
                fe_fault_loop_max_zs((fe_breaker_type)type, rating_a, &max_zs_ohm);
            keep_found(numbers, "breaker max_zs_ohm", status, max_zs_ohm);
        }
    for (double share = 0.0; share <= 1.0; share += 0.125)
        kept_number(numbers, "clad factor", fe_conductor_clad_factor(share));
}

static void keep_data_cable(kept *numbers)
{
    const fe_ethernet_reach *copper;
    const fe_loss_equation *equation;
    const fe_fibre_reach *fibre;
    for (size_t i = 0; (copper = fe_ethernet_reach_at(i)); i++) {
        KEEP(copper, rate_bit_s);
        KEEP(copper, channel_limit_m);
        KEEP(copper, permanent_link_limit_m);
        KEEP(copper, sure_m);
    }
    for (size_t i = 0; (equation = fe_loss_equation_at(i)); i++) {
        KEEP(equation, a);
        KEEP(equation, b);
        KEEP(equation, c);
        KEEP(equation, k);
        KEEP(equation, cable_factor);
        KEEP(equation, extra);
        KEEP(equation, highest_hz);
    }
    for (size_t i = 0; (fibre = fe_fibre_reach_at(i)); i++) {
        KEEP(fibre, modal_bandwidth_mhz_km);
        KEEP(fibre, reach_m);
        KEEP(fibre, budget_db);
        KEEP(fibre, wavelength_m);
        KEEP(fibre, rate_bit_s);
    }
    for (int type = 1; type <= 4; type++) {
        const fe_poe_type *poe = fe_poe_type_find(type);
        if (!poe)
            continue;
        KEEP(poe, source_w);
        KEEP(poe, device_w);
        KEEP(poe, least_source_v);
        KEEP(poe, least_device_v);
        KEEP(poe, pair_set_ma);
    }
    for (int number = 0; number <= 8; number++) {
        const fe_poe_class *poe = fe_poe_class_find(number);
        if (!poe)
            continue;
        KEEP(poe, current_a);
        KEEP(poe, loop_ohm);
        KEEP(poe, pairs);
    }
}

static void keep_radio(kept *numbers)
{
    size_t count = 0;
    const fe_power_rule *rule = fe_power_rule_table(&count);
    for (const fe_power_rule *end = rule + count; rule < end; rule++) {
        KEEP(rule, f_low_mhz);
        KEEP(rule, f_high_mhz);
        KEEP(rule, conducted_limit_dbm);
        KEEP(rule, gain_before_backoff_dbi);
        KEEP(rule, eirp_limit_dbm);
        KEEP(rule, psd_limit_dbm_per_mhz);
        KEEP(rule, flags);
        KEEP(rule, backoff_db_per_db);
        KEEP(rule, also_low_mhz);
        KEEP(rule, also_high_mhz);
        KEEP(rule, gap_low_mhz);
        KEEP(rule, gap_high_mhz);
        KEEP(rule, duty_cycle);
        KEEP(rule, duty_cycle_access_point);
    }
    const fe_feeder *feeder = fe_feeders(&count);
    for (const fe_feeder *end = feeder + count; feeder < end; feeder++) {
        KEEP(feeder, diameter_m);
        KEEP(feeder, conductor);
        KEEP(feeder, insulation);
        KEEP(feeder, most_hz);
    }
    for (int standard = 0; standard < FE_WIFI_STANDARD_COUNT; standard++)
        for (int band = 0; band < FE_WIFI_BAND_COUNT; band++) {
            double widths_hz[FE_WIFI_WIDTHS_MAX];
            const size_t widths =
                fe_wifi_widths((fe_wifi_standard)standard, (fe_wifi_band)band, widths_hz);
            for (size_t w = 0; w < widths; w++) {
                const fe_wifi_link link = {(fe_wifi_standard)standard, widths_hz[w], 1, NAN};
                fe_wifi_mode modes[FE_WIFI_MODES_MAX];
                size_t mode_count = 0;
                kept_number(numbers, "mode status", fe_wifi_modes(&link, modes, &mode_count));
                for (const fe_wifi_mode *mode = modes; mode < modes + mode_count; mode++) {
                    KEEP(mode, rate_bps);
                    KEEP(mode, min_sensitivity_dbm);
                    KEEP(mode, adjacent_rejection_db);
                    KEEP(mode, non_adjacent_rejection_db);
                    KEEP(mode, per_limit);
                    KEEP(mode, psdu_octets);
                }
            }
        }
}

static void keep_walls(kept *numbers)
{
    size_t count = 0;
    const fe_material *material = fe_material_table(&count);
    for (const fe_material *end = material + count; material < end; material++) {
        KEEP(material, a);
        KEEP(material, b);
        KEEP(material, c);
        KEEP(material, d);
        KEEP(material, f_low_ghz);
        KEEP(material, f_high_ghz);
    }
    const fe_wall_kind *kind = fe_wall_kind_table(&count);
    for (const fe_wall_kind *end = kind + count; kind < end; kind++) {
        KEEP(kind, leak_loss_db);
        kept_number(numbers, "kind thickness_m", fe_wall_kind_thickness_m(kind));
        for (double f_hz = 0.9e9; f_hz < 70e9; f_hz *= 2.6) {
            const fe_incidence wave = {f_hz, 0.4, FE_POLARISATION_TM};
            fe_wall_result result = {0};
            const fe_status status = fe_wall_loss(kind->name, NAN, &wave, &result);
            keep_found(numbers, "wall loss_db", status, result.loss_db);
            keep_found(numbers, "wall low_db", status, result.low_db);
            keep_found(numbers, "wall high_db", status, result.high_db);
        }
    }
}

static void rows__hold_what_they_held(void **state)
{
    (void)state;
    kept *numbers = kept_open("tables");
    keep_cables(numbers);
    keep_anchors(numbers);
    keep_ground(numbers);
    keep_weather(numbers);
    keep_limits(numbers);
    keep_copper(numbers);
    keep_data_cable(numbers);
    keep_radio(numbers);
    keep_walls(numbers);
    kept_close(numbers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows__hold_what_they_held),
    };
    return FE_RUN_TESTS(tests);
}
