/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a cable is laid, and a battery with its panel. */
#include <math.h>

#include "farend/constants.h"
#include "farend/duct.h"
#include "report/report_parts.h"

/* ---- A trench ---- */

static void say_depth(fe_document *doc, const fe_plan *plan, bool supply)
{
    const bool duct = plan->trench.duct_m.given != FE_GIVEN_NOT;
    const double asked_m = fe_burial_supply_cover(duct);
    const double depth_m = plan->trench.depth_m.typical;
    fe_document_pair(doc, "Depth", "%s in the plan; %s for supply %s",
                     fe_amount(doc, depth_m, FE_STYLE_DEPTH),
                     fe_amount(doc, asked_m, FE_STYLE_DEPTH),
                     duct ? "in a plastic duct" : "in the ground as it is");
    if (supply && depth_m < asked_m - 1e-9)
        fe_document_paragraph(doc,
                              "The trench is too shallow for a supply cable: dig %s deeper, or "
                              "ask what your code allows.",
                              fe_amount(doc, asked_m - depth_m, FE_STYLE_DEPTH));
    fe_document_paragraph(
        doc,
        "Under a way for vehicles %s in a duct that goes on beyond it on both sides; under "
        "ploughland %s (common practice, no source).",
        fe_amount(doc, fe_burial_vehicles_cover(), FE_STYLE_DEPTH),
        fe_amount(doc, fe_burial_ploughland_cover(), FE_STYLE_DEPTH));
}

static void say_duct(fe_document *doc, const fe_plan *plan, const fe_cable_class *cable)
{
    static const double FRICTION = 0.5;
    double fill = 0.0, limit = 0.0, pull_m = 0.0;
    if (plan->trench.duct_m.given == FE_GIVEN_NOT || !cable)
        return;
    if (fe_duct_fill(plan->trench.duct_m.typical, &cable->diameter_m, 1, &fill, &limit) ==
        FE_OK)
        fe_document_pair(doc, "Duct",
                         "%s fills %s of %s; at most %s for one cable, %s for "
                         "two, %s for more",
                         cable->label, fe_amount(doc, fill, FE_STYLE_PERCENT),
                         fe_amount(doc, plan->trench.duct_m.typical, FE_STYLE_THICKNESS),
                         fe_amount(doc, limit, FE_STYLE_PERCENT),
                         fe_amount(doc, fe_duct_fill_limit(2), FE_STYLE_PERCENT),
                         fe_amount(doc, fe_duct_fill_limit(3), FE_STYLE_PERCENT));
    if (isfinite(cable->pulling_limit_n) &&
        fe_duct_longest_pull(cable->pulling_limit_n, cable->weight_n_m, FRICTION, FE_PI,
                             &pull_m) == FE_OK)
        fe_document_pair(doc, "Draw points",
                         "every %s with two right-angle bends on the way, at %s of pull; no "
                         "more than a full turn of bends between two",
                         fe_amount(doc, pull_m, FE_STYLE_DISTANCE),
                         fe_amount(doc, cable->pulling_limit_n, FE_STYLE_FORCE));
}

static void say_crossings(fe_document *doc, const fe_plan *plan)
{
    for (size_t i = 0; i < plan->trench.crossings.count; i++)
        fe_document_item(doc,
                         "Crossing: %s. A duct goes through under it; dig by hand, and ask "
                         "whose it is.",
                         plan->trench.crossings.items[i]);
}

void report_trench(fe_document *doc, const fe_plan *plan, const fe_cable_class *cable,
                   bool supply)
{
    fe_document_heading(doc, 3, "The trench");
    say_depth(doc, plan, supply);
    say_duct(doc, plan, cable);
    say_crossings(doc, plan);
    fe_document_item(doc,
                     "Supply and data may share the trench, each in its own duct, with %s of "
                     "tamped earth between; not with gas, and water pipes lie lower. Warning "
                     "tape over both.",
                     fe_amount(doc, FE_TRENCH_SEPARATION_M, FE_STYLE_DEPTH));
    fe_document_item(doc, "Bed the cable in sand without stones; drain the ends of a duct; "
                          "draw a plan with measures from fixed points before filling in.");
    fe_document_source(doc, "Cover: NFPA 70 Table 300.5(A). Supply beside data: IEEE C2 rule "
                            "320B2. Duct fill: NFPA 70 chapter 9 Table 1 (from memory). "
                            "Pull: friction of 0.5, common practice, no source.");
}

/* ---- Battery and panel ---- */

void report_solar(fe_document *doc, const fe_solar *solar)
{
    fe_document_paragraph(doc, "A first sizing: the makers' sheets must follow.");
    fe_document_pair(doc, "Loads", "%s at once, %s a day, converters included",
                     fe_amount(doc, solar->load_w, FE_STYLE_POWER),
                     fe_amount(doc, solar->energy_per_day_j, FE_STYLE_ENERGY));
    fe_document_pair(doc, "Battery",
                     "%s at %s for %s without sun, %s of it used, %s left at %s",
                     fe_amount(doc, solar->battery_c, FE_STYLE_CHARGE),
                     fe_amount(doc, solar->battery_v, FE_STYLE_VOLTAGE),
                     fe_amount(doc, solar->dark_days * 86400.0, FE_STYLE_TIME),
                     fe_amount(doc, solar->discharge, FE_STYLE_PERCENT),
                     fe_amount(doc, solar->cold_part, FE_STYLE_PERCENT),
                     fe_amount(doc, solar->coldest_c, FE_STYLE_TEMPERATURE));
    fe_document_pair(doc, "Panel", "%s for %s of full sun a day in the worst month",
                     fe_amount(doc, solar->panel_w, FE_STYLE_POWER),
                     fe_amount(doc, solar->sun_s, FE_STYLE_TIME));
    if (solar->panel_easy_w < 0.999 * solar->panel_hard_w ||
        solar->battery_easy_j < 0.999 * solar->battery_hard_j)
        fe_document_paragraph(
            doc, "Over the plan's ranges: %s of battery and %s of panel.",
            fe_amount_range(doc, solar->battery_easy_j, solar->battery_hard_j, FE_STYLE_ENERGY),
            fe_amount_range(doc, solar->panel_easy_w, solar->panel_hard_w, FE_STYLE_POWER));
    fe_document_caution(doc, "A battery gives hundreds of amperes into a short circuit: fuse "
                             "at its post, cover the posts. A lithium battery must not be "
                             "charged below freezing.");
    fe_document_source(doc,
                       "Battery and panel: 85 %% from battery to load, 65 %% from panel to "
                       "load, 1 %% of a battery's capacity lost a kelvin below %s: common "
                       "practice, no source.",
                       fe_amount(doc, 20.0, FE_STYLE_TEMPERATURE));
}

json_t *report_solar_json(report_json *json, const fe_solar *solar)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "kind", "battery and panel");
    report_json_number(json, object, "voltage_v", solar->battery_v);
    report_json_number(json, object, "load_w", solar->load_w);
    report_json_number(json, object, "energy_wh_per_day", solar->energy_per_day_j / 3600.0);
    report_json_number(json, object, "battery_wh", solar->battery_j / 3600.0);
    report_json_number(json, object, "battery_ah", solar->battery_c / 3600.0);
    report_json_number(json, object, "panel_w", solar->panel_w);
    report_json_number(json, object, "battery_hard_wh", solar->battery_hard_j / 3600.0);
    report_json_number(json, object, "panel_hard_w", solar->panel_hard_w);
    report_json_number(json, object, "battery_easy_wh", solar->battery_easy_j / 3600.0);
    report_json_number(json, object, "panel_easy_w", solar->panel_easy_w);
    report_json_number(json, object, "coldest_c", solar->coldest_c);
    return object;
}
