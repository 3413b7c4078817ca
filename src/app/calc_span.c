/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `calc` for spans, ice and wind, posts and stays. */
#include "calc.h"

#include <math.h>
#include <string.h>

#include "farend/anchor.h"
#include "farend/constants.h"
#include "farend/ice_wind.h"
#include "farend/parabola.h"
#include "farend/post.h"
#include "farend/soil.h"
#include "farend/span.h"
#include "farend/tension.h"
#include "farend/wood.h"

/* ---- Spans ---- */

static fe_status explain_span(calc_call *call, fe_status status)
{
    if (status == FE_E_DOMAIN)
        calc_explain(call, "span, weight and tension must be above 0, and the tension enough "
                           "to hold the cable up (more than weight times span over 50)");
    if (status == FE_E_NO_SOLUTION)
        calc_explain(call, "no pull gives that sag or length");
    if (status == FE_W_RANGE)
        calc_explain(call, "the cable stretches by more than 1 %%");
    return status;
}

static fe_span span_of(const calc_call *call)
{
    const fe_span span = {.span_m = calc_number(call, "span"),
                          .rise_m = calc_number(call, "rise"),
                          .load_n_m = calc_number(call, "weight"),
                          .stiffness_n = INFINITY};
    return span;
}

static fe_status run_sag(calc_call *call)
{
    const fe_span span = span_of(call);
    const double tension_n = calc_number(call, "tension");
    const double sag_m = calc_number(call, "sag");
    if (isnan(tension_n) == isnan(sag_m)) {
        calc_explain(call, "give either tension or sag");
        return FE_E_INPUT;
    }
    fe_span_shape shape;
    const fe_status status = isnan(sag_m) ? fe_span_at_tension(&span, tension_n, &shape)
                                          : fe_span_at_sag(&span, sag_m, &shape);
    if (status < 0)
        return explain_span(call, status);
    calc_result(call, "sag_m", shape.sag_m, "m");
    calc_result(call, "length_m", shape.length_m, "m");
    calc_result(call, "tension_horizontal_n", shape.tension_horizontal_n, "N");
    calc_result(call, "tension_lower_end_n", shape.tension_lower_end_n, "N");
    calc_result(call, "tension_higher_end_n", shape.tension_higher_end_n, "N");
    calc_result(call, "sag_at_m", shape.sag_at_m, "m");
    calc_result(call, "low_point_m", shape.low_point_m, "m");
    calc_result(call, "low_point_height_m", shape.low_point_height_m, "m");
    calc_result(call, "reaction_first_n", shape.reaction_first_n, "N");
    calc_result(call, "reaction_second_n", shape.reaction_second_n, "N");
    return explain_span(call, status);
}

static fe_status explain_change(calc_call *call, fe_status status)
{
    if (status == FE_E_DOMAIN)
        calc_explain(call, "span, area, modulus, loads and tension must be above 0");
    if (status == FE_E_NO_SOLUTION)
        calc_explain(call, "the cable would have to stretch by half");
    if (status == FE_W_RANGE)
        calc_explain(call, "the cable stretches by more than 1 %%");
    return status;
}

static fe_status run_tension_change(calc_call *call)
{
    const double span_m = calc_number(call, "span");
    const double rise_m = calc_number(call, "rise");
    const fe_tension_cable cable = {.stiffness_n = calc_number(call, "area") *
                                                   calc_number(call, "modulus"),
                                    .expansion_per_k = calc_number(call, "expansion")};
    const fe_tension_state from = {.temp_c = calc_number(call, "temperature1"),
                                   .vertical_n_m = calc_number(call, "load1")};
    const fe_tension_state to = {.temp_c = calc_number(call, "temperature2"),
                                 .vertical_n_m = calc_number(call, "load2")};
    const double tension1_n = calc_number(call, "tension1");
    double tension2_n = NAN;
    double sag2_m = NAN;
    fe_status status;
    if (calc_is_word(call, "model", "parabola")) {
        status = fe_tension_change_parabola(span_m, rise_m, &cable, &from, tension1_n, &to,
                                            &tension2_n);
        const double chord_share = hypot(1.0, rise_m / span_m);
        if (status >= 0)
            status =
                fe_status_worse(status, fe_parabola_sag(span_m, to.vertical_n_m * chord_share,
                                                        tension2_n, &sag2_m));
    } else {
        fe_span_shape shape = {0};
        status = fe_tension_change(span_m, rise_m, &cable, &from, tension1_n, &to, &tension2_n,
                                   &shape);
        sag2_m = shape.sag_m;
    }
    if (status < 0)
        return explain_change(call, status);
    calc_result(call, "tension2_n", tension2_n, "N");
    calc_result(call, "sag2_m", sag2_m, "m");
    return explain_change(call, status);
}

static fe_status run_ruling_span(calc_call *call)
{
    const double *spans_m = NULL;
    const size_t count = calc_list(call, "spans", &spans_m);
    double ruling_m = NAN;
    const fe_status status = fe_tension_ruling_span(spans_m, count, &ruling_m);
    if (status < 0) {
        calc_explain(call, "every span must be above 0");
        return status;
    }
    calc_result(call, "ruling_span_m", ruling_m, "m");
    return status;
}

static fe_status run_cable_length(calc_call *call)
{
    const double *spans_m = NULL;
    const double *rises_m = NULL;
    const size_t count = calc_list(call, "spans", &spans_m);
    const size_t rises = calc_list(call, "rises", &rises_m);
    const double extra_m = calc_number(call, "extra");
    const double slack = calc_number(call, "slack");
    double hanging_m = 0.0;
    if ((rises != 0 && rises != count) || !(extra_m >= 0.0) || !(slack >= 0.0)) {
        calc_explain(call, "give as many rises as spans, or none; extra and slack 0 or more");
        return FE_E_INPUT;
    }
    for (size_t i = 0; i < count; i++) {
        const fe_span span = {.span_m = spans_m[i],
                              .rise_m = rises ? rises_m[i] : 0.0,
                              .load_n_m = calc_number(call, "weight"),
                              .stiffness_n = INFINITY};
        fe_span_shape shape;
        const fe_status status =
            fe_span_at_tension(&span, calc_number(call, "tension"), &shape);
        if (status < 0)
            return explain_span(call, status);
        hanging_m += shape.length_m;
    }
    calc_result(call, "hanging_m", hanging_m, "m");
    calc_result(call, "length_m", (hanging_m + extra_m) * (1.0 + slack), "m");
    return FE_OK;
}

static fe_status run_wave_time(calc_call *call)
{
    const double sag_m = calc_number(call, "sag");
    const double time_s = calc_number(call, "time");
    const unsigned returns = (unsigned)fmin(calc_number(call, "returns"), 1000.0);
    double value = NAN;
    if (isnan(sag_m) == isnan(time_s)) {
        calc_explain(call, "give either sag or time");
        return FE_E_INPUT;
    }
    const fe_status status = isnan(sag_m) ? fe_span_sag_from_wave_time(time_s, returns, &value)
                                          : fe_span_wave_time(sag_m, returns, &value);
    if (status < 0) {
        calc_explain(call, "sag or time must be above 0, returns 1 or more");
        return status;
    }
    if (isnan(sag_m))
        calc_result(call, "sag_m", value, "m");
    else
        calc_result(call, "time_s", value, "s");
    return status;
}

static fe_status run_blowout(calc_call *call)
{
    const fe_span bare = span_of(call);
    fe_span plane;
    fe_span_shape shape;
    double blowout_rad = NAN;
    fe_status status = fe_span_resultant(&bare, bare.load_n_m, calc_number(call, "wind"),
                                         &plane, &blowout_rad);
    if (status >= 0)
        status = fe_span_at_tension(
            &plane, calc_number(call, "tension") * (plane.span_m / bare.span_m), &shape);
    if (status < 0)
        return explain_span(call, status);
    calc_result(call, "blowout_deg", blowout_rad / FE_DEG_RAD, "deg");
    calc_result(call, "sideways_m", shape.sag_m * sin(blowout_rad), "m");
    calc_result(call, "sag_vertical_m", shape.sag_m * cos(blowout_rad), "m");
    calc_result(call, "sag_in_plane_m", shape.sag_m, "m");
    calc_result(call, "load_n_m", plane.load_n_m, "N/m");
    return explain_span(call, status);
}

/* ---- Ice and wind ---- */

static fe_status run_ice_wind(calc_call *call)
{
    const double speed_m_s = calc_number(call, "wind_speed");
    fe_ice_wind_case given = {
        .diameter_m = calc_number(call, "diameter"),
        .bare_n_m = calc_number(call, "weight"),
        .thickness_m = calc_number(call, "ice"),
        .density_kg_m3 = calc_number(call, "density"),
        .pressure_pa = calc_number(call, "pressure"),
        .added_n_m = calc_number(call, "added"),
    };
    if (!isnan(speed_m_s) && !isnan(given.pressure_pa)) {
        calc_explain(call, "give either pressure or wind_speed");
        return FE_E_INPUT;
    }
    fe_ice_wind_load load;
    fe_status status = FE_OK;
    if (!isnan(speed_m_s))
        status = fe_wind_pressure(speed_m_s, &given.pressure_pa);
    else if (isnan(given.pressure_pa))
        given.pressure_pa = 0.0;
    if (status >= 0)
        status = fe_ice_wind(&given, &load);
    if (status < 0) {
        calc_explain(call, "weight must be above 0, everything else 0 or more");
        return status;
    }
    calc_result(call, "ice_n_m", load.ice_n_m, "N/m");
    calc_result(call, "vertical_n_m", load.vertical_n_m, "N/m");
    calc_result(call, "wind_n_m", load.wind_n_m, "N/m");
    calc_result(call, "resultant_n_m", load.resultant_n_m, "N/m");
    calc_result(call, "tension_load_n_m", load.tension_n_m, "N/m");
    calc_result(call, "blowout_deg", load.blowout_rad / FE_DEG_RAD, "deg");
    return status;
}

/* ---- Posts ---- */

/* Lateral bearing as given, or that of a named soil; NAN where neither or both. */
static double lateral_of(const calc_call *call)
{
    const double given_pa_m = calc_number(call, "lateral");
    const char *name = calc_word(call, "soil");
    if (!*name)
        return given_pa_m;
    const fe_soil *soil = fe_soil_find(name);
    return soil && isnan(given_pa_m) ? fe_soil_lateral(soil) : NAN;
}

static fe_status depth_of(const calc_call *call, const fe_post_in_soil *given, double *depth_m)
{
    const char *kind = calc_word(call, "kind");
    const double moment_n_m = given->force_n * given->height_m;
    if (strcmp(kind, "held") == 0)
        return fe_post_depth_held(given, depth_m);
    if (strcmp(kind, "farm-free") == 0)
        return fe_post_depth_farm_free(given->force_n, moment_n_m, given->width_m,
                                       given->lateral_pa_m, depth_m);
    if (strcmp(kind, "farm-held") == 0)
        return fe_post_depth_farm_held(moment_n_m, given->width_m, given->lateral_pa_m,
                                       depth_m);
    return fe_post_depth_free(given, NULL, depth_m);
}

static fe_status run_embedment(calc_call *call)
{
    const fe_post_in_soil given = {
        .force_n = calc_number(call, "force"),
        .height_m = calc_number(call, "height"),
        .width_m = calc_number(call, "width"),
        .lateral_pa_m = lateral_of(call),
        .multiplier = calc_number(call, "multiplier"),
    };
    if (isnan(given.lateral_pa_m)) {
        calc_explain(call, "give either lateral or soil");
        return FE_E_INPUT;
    }
    double depth_m = NAN;
    const fe_status status = depth_of(call, &given, &depth_m);
    if (status < 0) {
        calc_explain(call, "every argument must be above 0");
        return status;
    }
    calc_result(call, "depth_m", depth_m, "m");
    return status;
}

static fe_status run_setting_depth(calc_call *call)
{
    static const struct {
        const char *word;
        fe_post_rule rule;
    } RULES[] = {
        {"tenth-2ft", FE_POST_TENTH_2FT},     {"tenth-600mm", FE_POST_TENTH_600MM},
        {"quarter", FE_POST_QUARTER},         {"tenth-min-5ft", FE_POST_TENTH_MIN_5FT},
        {"third-above", FE_POST_THIRD_ABOVE},
    };
    fe_post_rule rule = FE_POST_TENTH_2FT;
    for (size_t i = 0; i < sizeof RULES / sizeof RULES[0]; i++)
        if (strcmp(RULES[i].word, calc_word(call, "rule")) == 0)
            rule = RULES[i].rule;
    double depth_m = NAN;
    const fe_status status = fe_post_rule_depth(rule, calc_number(call, "length"), &depth_m);
    if (status < 0) {
        calc_explain(call, "length must be above 0");
        return status;
    }
    calc_result(call, "depth_m", depth_m, "m");
    return status;
}

static fe_status run_post_moment(calc_call *call)
{
    const double width_m = calc_number(call, "width");
    const double top_m = calc_number(call, "top_width");
    const double height_m = calc_number(call, "height");
    const double force_n = calc_number(call, "force");
    const double at_m = calc_number(call, "force_height");
    double wind_n = NAN;
    double wind_n_m = NAN;
    double pull_n_m = NAN;
    fe_status status =
        fe_post_wind(calc_number(call, "pressure"), width_m, isnan(top_m) ? width_m : top_m,
                     height_m, &wind_n, &wind_n_m);
    const double force_height_m = isnan(at_m) ? height_m : at_m;
    if (status >= 0)
        status = fe_post_moment(&force_n, &force_height_m, 1, &pull_n_m);
    if (status < 0) {
        calc_explain(call, "height must be above 0, widths and pressure 0 or more");
        return status;
    }
    calc_result(call, "wind_force_n", wind_n, "N");
    calc_result(call, "wind_moment_n_m", wind_n_m, "N m");
    calc_result(call, "pull_moment_n_m", pull_n_m, "N m");
    calc_result(call, "moment_n_m", wind_n_m + pull_n_m, "N m");
    return status;
}

static fe_post_section section_of(const calc_call *call)
{
    return calc_is_word(call, "section", "square") ? FE_POST_SQUARE : FE_POST_ROUND;
}

/* EN: a strength class by name or its stress. US: a species by name or its fibre stress. */
static fe_status stress_of(calc_call *call, bool us, double *stress_pa)
{
    const double given_pa = calc_number(call, "stress");
    const char *wood = calc_word(call, "wood");
    double elasticity_pa = NAN;
    if (isnan(given_pa) == !*wood) {
        calc_explain(call, "give either wood or stress");
        return FE_E_INPUT;
    }
    *stress_pa = given_pa;
    if (!*wood)
        return FE_OK;
    const fe_status status = us ? fe_wood_pole_stress(wood, stress_pa)
                                : fe_wood_class(wood, stress_pa, &elasticity_pa);
    if (status < 0)
        calc_explain(call, us ? "wood: no such species with a designated fibre stress "
                                "(southern pine, Douglas-fir, western redcedar)"
                              : "wood: no such strength class (C14 to C40)");
    return status;
}

static fe_status strength_us(calc_call *call, double stress_pa, const fe_post_moments *moments)
{
    const double width_m = calc_number(call, "width");
    double resistance_n_m = NAN;
    fe_post_use use;
    fe_status status =
        fe_post_resistance_us(section_of(call), width_m, stress_pa, &resistance_n_m);
    if (status >= 0)
        status = fe_post_use_us(section_of(call), width_m, stress_pa, moments, &use);
    if (status < 0)
        return status;
    calc_result(call, "resistance_n_m", resistance_n_m, "N m");
    calc_result(call, "use", use.largest, "");
    return status;
}

static fe_status strength_en(calc_call *call, double stress_pa, const fe_post_moments *moments)
{
    const double width_m = calc_number(call, "width");
    double permanent_n_m = NAN;
    double gust_n_m = NAN;
    fe_post_use use;
    fe_status status =
        fe_post_resistance_en(section_of(call), width_m, stress_pa, &permanent_n_m, &gust_n_m);
    if (status >= 0)
        status = fe_post_use_en(section_of(call), width_m, stress_pa, moments, &use);
    if (status < 0)
        return status;
    calc_result(call, "resistance_permanent_n_m", permanent_n_m, "N m");
    calc_result(call, "resistance_gust_n_m", gust_n_m, "N m");
    calc_result(call, "use_permanent", use.permanent, "");
    calc_result(call, "use_gust", use.with_gust, "");
    calc_result(call, "use", use.largest, "");
    return status;
}

static fe_status run_post_strength(calc_call *call)
{
    const bool us = calc_is_word(call, "format", "us");
    const fe_post_moments moments = {
        .wind_n_m = calc_number(call, "wind_moment"),
        .tension_n_m = calc_number(call, "pull_moment"),
        .vertical_n_m = calc_number(call, "vertical_moment"),
    };
    double stress_pa = NAN;
    fe_status status = stress_of(call, us, &stress_pa);
    if (status < 0)
        return status;
    status =
        us ? strength_us(call, stress_pa, &moments) : strength_en(call, stress_pa, &moments);
    if (status < 0)
        calc_explain(call, "width and stress must be above 0, moments 0 or more");
    return status;
}

static fe_status say_anchor(calc_call *call, const fe_post_stay *stay)
{
    const char *soil = calc_word(call, "soil");
    const char *name = calc_word(call, "anchor");
    const fe_anchor *anchor = fe_anchor_find(name);
    double holding_n = NAN;
    if (!anchor) {
        calc_explain(call, "anchor: no class of that holding power");
        return FE_E_INPUT;
    }
    const fe_status status = fe_anchor_holding(anchor, soil, &holding_n);
    if (status < 0)
        return status;
    calc_result(call, "anchor_holding_n", holding_n, "N");
    calc_result(call, "anchor_use", FE_ANCHOR_FACTOR * stay->tension_n / holding_n, "");
    return status;
}

static fe_status run_stay(calc_call *call)
{
    fe_post_stay stay;
    const fe_status status =
        fe_post_stay_of(calc_number(call, "pull"), calc_number(call, "height"),
                        calc_number(call, "lead"), &stay);
    if (status < 0) {
        calc_explain(call, "height and lead must be above 0, pull 0 or more");
        return status;
    }
    calc_result(call, "tension_n", stay.tension_n, "N");
    calc_result(call, "vertical_n", stay.vertical_n, "N");
    calc_result(call, "angle_deg", stay.angle_rad / FE_DEG_RAD, "deg");
    calc_result(call, "length_m", stay.length_m, "m");
    return *calc_word(call, "soil") ? say_anchor(call, &stay) : status;
}

/* clang-format off */
#define SPAN {"span", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "> 0, horizontal"}
#define RISE {"rise", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "0 m", "second support above the first"}
#define WEIGHT {"weight", CALC_QUANTITY, FE_DIM_LINEAR_FORCE, NULL, NULL, "> 0"}
#define TENSION {"tension", CALC_QUANTITY, FE_DIM_FORCE, NULL, NULL, "> 0, horizontal pull"}

const calc_formula CALC_SPAN[] = {
    {
        .name = "sag",
        .summary = "sag, length and pulls of a cable between two supports",
        .source = "catenary of a cable that does not stretch (statics)",
        .arguments = {SPAN, RISE, WEIGHT,
                      {"tension", CALC_QUANTITY, FE_DIM_FORCE, NULL, "",
                       "> 0, horizontal pull; or sag"},
                      {"sag", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "",
                       "> 0, below the straight line; or tension"}},
        .results = "sag_m length_m tension_horizontal_n tension_lower_end_n "
                   "tension_higher_end_n sag_at_m low_point_m low_point_height_m "
                   "reaction_first_n reaction_second_n",
        .example = "span=40m weight=7.3575N/m tension=2943N",
        .run = run_sag,
    },
    {
        .name = "tension-change",
        .summary = "pull of a strung cable after a change of temperature and load",
        .source = "equal unstretched lengths of the elastic catenary; parabola: the state "
                  "equation of published sag sheets",
        .arguments = {SPAN, RISE,
                      {"area", CALC_QUANTITY, FE_DIM_AREA, NULL, NULL, "> 0, of what pulls"},
                      {"modulus", CALC_QUANTITY, FE_DIM_PRESSURE, NULL, NULL, "> 0"},
                      {"expansion", CALC_QUANTITY, FE_DIM_EXPANSION, NULL, NULL, ""},
                      {"temperature1", CALC_QUANTITY, FE_DIM_TEMPERATURE, NULL, NULL, ""},
                      {"load1", CALC_QUANTITY, FE_DIM_LINEAR_FORCE, NULL, NULL,
                       "> 0, a metre of unstretched cable"},
                      {"tension1", CALC_QUANTITY, FE_DIM_FORCE, NULL, NULL,
                       "> 0, horizontal pull"},
                      {"temperature2", CALC_QUANTITY, FE_DIM_TEMPERATURE, NULL, NULL, ""},
                      {"load2", CALC_QUANTITY, FE_DIM_LINEAR_FORCE, NULL, NULL,
                       "> 0, a metre of unstretched cable"},
                      {"model", CALC_WORD, FE_DIM_NUMBER, "catenary|parabola", "catenary", ""}},
        .results = "tension2_n sag2_m",
        .example = "span=40m area=20mm2 modulus=170GPa expansion=11.5e-6/K "
                   "temperature1=15degC load1=2N/m tension1=800N temperature2=-20degC "
                   "load2=12N/m",
        .run = run_tension_change,
    },
    {
        .name = "ruling-span",
        .summary = "the one span that changes as a free-running section of spans does",
        .source = "sqrt(sum a^3 / sum a), rural utility design guides",
        .arguments = {{"spans", CALC_LIST, FE_DIM_LENGTH, NULL, NULL, "> 0"}},
        .results = "ruling_span_m",
        .example = "spans=24m,31m,18.5m",
        .run = run_ruling_span,
    },
    {
        .name = "cable-length",
        .summary = "cable to buy for a run of spans with one pull",
        .source = "catenary, drops and slack added",
        .arguments = {{"spans", CALC_LIST, FE_DIM_LENGTH, NULL, NULL, "> 0"},
                      {"rises", CALC_LIST, FE_DIM_LENGTH, NULL, "",
                       "as many as spans; level without"},
                      WEIGHT, TENSION,
                      {"extra", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "0 m",
                       "down posts, drip loops, indoor ends"},
                      {"slack", CALC_QUANTITY, FE_DIM_FRACTION, NULL, "0 %", "on everything"}},
        .results = "hanging_m length_m",
        .example = "spans=24m,31m,18.5m weight=0.6N/m tension=120N extra=14m slack=3%",
        .run = run_cable_length,
    },
    {
        .name = "wave-time",
        .summary = "time of return waves along a struck cable, or the sag from that time",
        .source = "4 n sqrt(2 f / g), common practice of line crews",
        .arguments = {{"sag", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "", "> 0; or time"},
                      {"time", CALC_QUANTITY, FE_DIM_TIME, NULL, "", "> 0; or sag"},
                      {"returns", CALC_QUANTITY, FE_DIM_COUNT, NULL, "3", "1 or more"}},
        .results = "time_s sag_m",
        .example = "sag=0.5m",
        .run = run_wave_time,
    },
    {
        .name = "blowout",
        .summary = "how far wind carries a cable sideways",
        .source = "catenary in the plane of weight and wind (statics)",
        .arguments = {SPAN, RISE, WEIGHT,
                      {"wind", CALC_QUANTITY, FE_DIM_LINEAR_FORCE, NULL, NULL, "0 or more"},
                      TENSION},
        .results = "blowout_deg sideways_m sag_vertical_m sag_in_plane_m load_n_m",
        .example = "span=28m rise=3.1m weight=2.4N/m wind=3N/m tension=180N",
        .run = run_blowout,
    },
    {
        .name = "ice-wind",
        .summary = "load of ice and wind on a metre of cable",
        .source = "pi t (d + t) rho g and p (d + 2 t); pressure from speed by 0.00256 V^2 psf; "
                  "added constant as in IEEE C2 rule 251",
        .arguments = {{"diameter", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "0 or more"},
                      WEIGHT,
                      {"ice", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "0 mm",
                       "0 or more, thickness all around"},
                      {"density", CALC_QUANTITY, FE_DIM_DENSITY, NULL, "913 kg/m3",
                       "0 or more, of the ice"},
                      {"pressure", CALC_QUANTITY, FE_DIM_PRESSURE, NULL, "", "0 or more"},
                      {"wind_speed", CALC_QUANTITY, FE_DIM_SPEED, NULL, "",
                       "0 or more; instead of pressure"},
                      {"added", CALC_QUANTITY, FE_DIM_LINEAR_FORCE, NULL, "0 N/m",
                       "a code's constant, for tension only"}},
        .results = "ice_n_m vertical_n_m wind_n_m resultant_n_m tension_load_n_m blowout_deg",
        .example = "diameter=9.5mm weight=0.539N/m ice=12.5mm pressure=190Pa added=4.4N/m",
        .run = run_ice_wind,
    },
    {
        .name = "embedment",
        .summary = "depth of a post in the ground by what the soil bears sideways",
        .source = "IBC 2012 1807.3.2; farm-*: ASAE EP486 before 2012, from memory",
        .arguments = {{"force", CALC_QUANTITY, FE_DIM_FORCE, NULL, NULL, "> 0, sideways"},
                      {"height", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "above ground"},
                      {"width", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL,
                       "> 0; diagonal of a square post"},
                      {"lateral", CALC_QUANTITY, FE_DIM_SOIL_MODULUS, NULL, "",
                       "> 0; or soil"},
                      {"soil", CALC_WORD, FE_DIM_NUMBER, "bedrock|rock|gravel|sand|clay", "",
                       "instead of lateral"},
                      {"multiplier", CALC_QUANTITY, FE_DIM_NUMBER, NULL, "1",
                       "2 for short-term load on an isolated post"},
                      {"kind", CALC_WORD, FE_DIM_NUMBER, "free|held|farm-free|farm-held",
                       "free", "held: by a floor at the ground"}},
        .results = "depth_m",
        .example = "force=400N height=2m width=100mm soil=sand multiplier=2",
        .run = run_embedment,
    },
    {
        .name = "setting-depth",
        .summary = "depth of a post by a rule of thumb, which is no check of moments",
        .source = "CPUC General Order 95 rule 49.1-C and Appendix D; the others from memory",
        .arguments = {{"length", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL,
                       "> 0, whole post; above ground for third-above"},
                      {"rule", CALC_WORD, FE_DIM_NUMBER,
                       "tenth-2ft|tenth-600mm|quarter|tenth-min-5ft|third-above", "tenth-2ft",
                       ""}},
        .results = "depth_m",
        .example = "length=3m",
        .run = run_setting_depth,
    },
    {
        .name = "post-moment",
        .summary = "moment at the ground from wind on a post and a pull on it",
        .source = "Electric Power Transmission System Engineering, 2nd ed., ex. 12.3",
        .arguments = {{"height", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "> 0, above ground"},
                      {"width", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "at the ground"},
                      {"top_width", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "", "as width without"},
                      {"pressure", CALC_QUANTITY, FE_DIM_PRESSURE, NULL, "0 Pa", "of wind"},
                      {"force", CALC_QUANTITY, FE_DIM_FORCE, NULL, "0 N", "sideways"},
                      {"force_height", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "",
                       "as height without"}},
        .results = "wind_force_n wind_moment_n_m pull_moment_n_m moment_n_m",
        .example = "height=3m width=100mm pressure=430Pa force=200N force_height=2.8m",
        .run = run_post_moment,
    },
    {
        .name = "post-strength",
        .summary = "moment that a wooden post bears in one safety format, and the share used",
        .source = "EN 1995-1-1 and EN 1990, IEEE C2 tables 253-1 and 261-1, from memory",
        .arguments = {{"width", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "> 0"},
                      {"section", CALC_WORD, FE_DIM_NUMBER, "round|square", "round", ""},
                      {"format", CALC_WORD, FE_DIM_NUMBER, "en|us", "en", ""},
                      {"wood", CALC_WORD, FE_DIM_NUMBER, NULL, "",
                       "en: C14 to C40; us: a species"},
                      {"stress", CALC_QUANTITY, FE_DIM_PRESSURE, NULL, "",
                       "instead of wood; en: characteristic, us: designated fibre stress"},
                      {"wind_moment", CALC_QUANTITY, FE_DIM_MOMENT, NULL, "0 N m", "0 or more"},
                      {"pull_moment", CALC_QUANTITY, FE_DIM_MOMENT, NULL, "0 N m", "0 or more"},
                      {"vertical_moment", CALC_QUANTITY, FE_DIM_MOMENT, NULL, "0 N m",
                       "0 or more"}},
        .results = "resistance_permanent_n_m resistance_gust_n_m use_permanent use_gust "
                   "resistance_n_m use",
        .example = "width=100mm wood=C24",
        .run = run_post_strength,
    },
    {
        .name = "stay",
        .summary = "pull in a stay that carries the whole sideways load of a post",
        .source = "statics; CPUC General Order 95 rule 86.2; anchors by class of holding power "
                  "and soil: RUS Bulletin 1728F-804, and twice the pull: General Order 95 rule "
                  "44, from memory",
        .arguments = {{"pull", CALC_QUANTITY, FE_DIM_FORCE, NULL, NULL,
                       "0 or more, sideways at the stay"},
                      {"height", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "> 0, on the post"},
                      {"lead", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL,
                       "> 0, post to anchor"},
                      {"soil", CALC_WORD, FE_DIM_NUMBER, "bedrock|rock|gravel|sand|clay", "",
                       "for the anchor's hold"},
                      {"anchor", CALC_WORD, FE_DIM_NUMBER, NULL, "6000 lb",
                       "class: 6000 lb, 8000 lb, 10000 lb, 12000 lb"}},
        .results = "tension_n vertical_n angle_deg length_m anchor_holding_n anchor_use",
        .example = "pull=1200N height=5m lead=4m soil=sand",
        .run = run_stay,
    },
    {0},
};
