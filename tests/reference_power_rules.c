/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Power limits against the gathered rules of each area. */
#include <math.h>
#include <string.h>

#include "farend/power_rules.h"
#include "testing.h"

static const fe_power_rule *row_of(fe_reference *file)
{
    size_t count = 0;
    const fe_power_rule *rules = fe_power_rule_table(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(rules[i].area, fe_reference_text(file, "area")) == 0 &&
            strcmp(rules[i].use, fe_reference_text(file, "use")) == 0 &&
            rules[i].f_low_mhz == fe_reference_need(file, "f_low_mhz") &&
            rules[i].f_high_mhz == fe_reference_need(file, "f_high_mhz"))
            return &rules[i];
    return NULL;
}

/* An empty cell means that the rule has no such limit, which is a value too. */
static void check_number(fe_reference *file, const char *column, double ours)
{
    if (*fe_reference_text(file, column))
        fe_reference_check(file, column, ours, 0.0);
    else
        fe_reference_check_that(file, isnan(ours), "no figure where the rule has none");
}

static void limits__are_the_gathered_ones_cell_for_cell(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/eirp_limits.csv");
    while (fe_reference_next(file)) {
        const fe_power_rule *rule = row_of(file);
        fe_reference_check_that(file, rule != NULL, "a rule of that area, band and use");
        if (!rule)
            continue;
        check_number(file, "conducted_limit_dbm", rule->conducted_limit_dbm);
        check_number(file, "gain_before_backoff_dbi", rule->gain_before_backoff_dbi);
        check_number(file, "eirp_limit_dbm", rule->eirp_limit_dbm);
        check_number(file, "psd_limit_dbm_per_mhz", rule->psd_limit_dbm_per_mhz);
        fe_reference_check_text(file, "psd_kind", rule->psd_kind);
        fe_reference_check_text(file, "outdoor_allowed", rule->outdoor_allowed ? "yes" : "no");
        fe_reference_check_text(file, "condition", rule->condition);
        fe_reference_check_text(file, "source", rule->source);
        fe_reference_check_text(file, "how", rule->read ? "read" : "memory");
    }
    fe_reference_close(file);
}

static void worked_limits__come_out_of_the_rules(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/eirp_worked.csv");
    while (fe_reference_next(file)) {
        const fe_power_query query = {
            .area = fe_reference_text(file, "area"),
            .f_hz = 1e6 * fe_reference_need(file, "f_mhz"),
            .width_hz = NAN,
            .use = fe_reference_text(file, "use"),
            .antenna_gain_dbi = fe_reference_need(file, "antenna_gain_dbi"),
        };
        fe_power_limit limit = {0};
        fe_reference_check_status(file, fe_power_limit_at(&query, &limit));
        fe_reference_check_printed(file, "max_conducted_dbm", limit.max_conducted_dbm);
        fe_reference_check_printed(file, "resulting_eirp_dbm", limit.eirp_dbm);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(limits__are_the_gathered_ones_cell_for_cell),
        cmocka_unit_test(worked_limits__come_out_of_the_rules),
    };
    return FE_RUN_TESTS(tests);
}
