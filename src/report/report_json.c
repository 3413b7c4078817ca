/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole result as JSON. */
#include "farend/json_text.h"
#include "report/report_parts.h"

enum { DIGITS = 12 };

static json_t *site_json(report_json *json, const fe_plan *plan)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "name", plan->site.name);
    report_json_text(json, object, "region",
                     fe_region_name((fe_region)plan->site.region.value));
    report_json_number(json, object, "availability", plan->site.availability.typical);
    report_json_number(json, object, "confidence", plan->site.confidence.typical);
    return object;
}

static json_t *paths_json(report_json *json, const fe_plan *plan)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < plan->path_count; i++) {
        json_t *object = report_json_object(json);
        report_json_text(json, object, "name", plan->paths[i].name);
        report_json_text(json, object, "from", report_end_name(plan, i, 0));
        report_json_text(json, object, "to", report_end_name(plan, i, 1));
        report_json_number(json, object, "distance_m",
                           fe_profile_length(&plan->paths[i].profile));
        report_json_append(json, list, object);
    }
    return list;
}

/* A panel for each path whose far end needs power; "solar" is the first of them. */
static json_t *solars_json(report_json *json, const fe_result *result)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < result->solar_count; i++) {
        json_t *one = report_solar_json(json, result->solars[i].sized);
        report_json_text(json, one, "path", result->plan->paths[result->solars[i].path].name);
        report_json_append(json, list, one);
    }
    return list;
}

static json_t *missing_json(report_json *json, const fe_document *doc)
{
    json_t *list = report_json_list(json);
    for (size_t i = 0; doc && i < fe_document_figures(doc); i++) {
        const fe_document_figure_view figure = fe_document_figure_at(doc, i);
        if (figure.reason)
            report_json_append(json, list, report_json_string(json, figure.id));
    }
    return list;
}

fe_status report_json_write(report_json *json, json_t *root, fe_strbuf *out)
{
    const fe_status status =
        json->failed ? FE_E_MEMORY
                     : fe_json_text(root, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS), out);
    json_decref(root);
    return status;
}

fe_status fe_report_json(const fe_result *result, const fe_document *doc, fe_strbuf *out)
{
    report_json json = {false};
    json_t *root = report_json_object(&json);
    report_json_text(&json, root, "verdict", fe_verdict_name(fe_result_verdict(result)));
    report_json_set(&json, root, "recommended", report_recommended_json(&json, result));
    report_json_set(&json, root, "overturn", report_overturn_json(&json, result));
    report_json_set(&json, root, "site", site_json(&json, result->plan));
    report_json_set(&json, root, "paths", paths_json(&json, result->plan));
    report_json_set(&json, root, "ways", report_ways_json(&json, result));
    report_json_set(&json, root, "unknowns", report_unknowns_json(&json, result));
    report_json_set(&json, root, "sensitivity", report_sensitivity_json(&json, result));
    report_json_set(&json, root, "radio", report_radio_json(&json, result));
    report_json_set(&json, root, "relays", report_relays_json(&json, result));
    report_json_set(&json, root, "overhead", report_overhead_json(&json, result));
    report_json_set(&json, root, "cables", report_cables_json(&json, result));
    report_json_set(&json, root, "feeds", report_feeds_json(&json, result));
    report_json_set(&json, root, "recovery", report_recovery_json(&json, result));
    report_json_set(&json, root, "growth", report_growth_json(&json, result));
    report_json_set(&json, root, "calendar", report_calendar_json(&json, result));
    report_json_set(&json, root, "solar",
                    result->solar_count > 0 ? report_solar_json(&json, result->solars[0].sized)
                                            : json_null());
    report_json_set(&json, root, "solars", solars_json(&json, result));
    report_json_set(&json, root, "defaults", report_assumptions_json(&json, result));
    report_json_set(&json, root, "not_computed", report_not_computed_json(&json, result));
    report_json_bool(&json, root, "outside_range", result->outside_range);
    report_json_set(&json, root, "models", report_sources_json(&json, result));
    report_json_set(&json, root, "figures_missing", missing_json(&json, doc));
    return report_json_write(&json, root, out);
}

fe_status fe_report_radio_json(const fe_result *result, const fe_improvements *improvements,
                               fe_strbuf *out)
{
    report_json json = {false};
    const int chosen = fe_result_chosen_radio(result);
    json_t *root = report_json_object(&json);
    report_json_set(&json, root, "site", site_json(&json, result->plan));
    report_json_text(&json, root, "verdict",
                     chosen < 0 ? fe_verdict_name(FE_VERDICT_FAILS)
                                : fe_verdict_name(result->radio[chosen].verdict));
    report_json_set(&json, root, "chosen", chosen < 0 ? json_null() : json_integer(chosen));
    report_json_set(&json, root, "radio", report_radio_json(&json, result));
    if (improvements)
        report_json_set(&json, root, "improvements",
                        report_improvements_json(&json, result, improvements));
    report_json_bool(&json, root, "outside_range", result->outside_range);
    return report_json_write(&json, root, out);
}
