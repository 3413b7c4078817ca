/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/posts_plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "deciding.h"
#include "farend/figures.h"
#include "farend/report_posts.h"
#include "testing.h"

static fe_plan read_example(const char *name)
{
    fe_plan plan = {0};
    fe_messages messages = {0};
    char path[1024];
    const fe_plan_places places = {NULL, FAREND_SOURCE_DIR "/profiles"};
    snprintf(path, sizeof path, "%s/examples/%s.ini", FAREND_SOURCE_DIR, name);
    assert_int_equal(fe_plan_read(path, &places, &plan, &messages), FE_OK);
    fe_messages_free(&messages);
    return plan;
}

static fe_posts_result plan_posts(const fe_plan *plan)
{
    fe_posts_result result;
    assert_int_equal(fe_posts_plan(plan, 0, NULL, NULL, &result), FE_OK);
    return result;
}

static char *sheet_of(const fe_posts_result *result, fe_units units)
{
    fe_strbuf text = FE_STRBUF_INIT;
    fe_document *doc = fe_document_new("The run on posts");
    fe_report_posts_verdict(result, doc);
    fe_report_posts_sheet(result, 2, doc);
    fe_report_posts_reasons(result, 2, doc);
    assert_int_equal(fe_report_posts_section(result, "overhead", "Run", NULL, units, doc),
                     FE_OK);
    assert_int_equal(fe_report_posts_chart(result, NULL, units, doc), FE_OK);
    fe_report_posts_notes(result, doc);
    assert_int_equal(fe_document_text(doc, &(fe_text_options){1000, units, false}, &text),
                     FE_OK);
    fe_document_free(doc);
    return fe_strbuf_take(&text);
}

static void assert_holds(const char *text, const char *part)
{
    if (!strstr(text, part))
        fail_msg("the sheet lacks \"%s\"", part);
}

/* Every field that somebody needs who has nothing else to build from. */
static void sheet_of_the_boathouse__holds_every_field(void **state)
{
    (void)state;
    static const char *const FIELDS[] = {
        "Fixed mark",
        "peg at",
        "hole depth",
        "post length",
        "cable tied above bare ground",
        "stay",
        "Stringing table, span 1",
        "sag",
        "pull",
        "3 waves",
        "5 waves",
        "in the air, with its sag",
        "drops down both walls",
        "drip loops",
        "slack",
        "indoor ends",
        "Messenger",
        "hardware, by class",
        "dead-end grips",
        "through-bolts",
        "Arresters",
        "Supply lines near",
        "Call before you dig",
        "Work at height",
        "Two people stretch",
        "fall zone",
        "beyond the plan",
        "Trees are no posts",
        "qualified designer",
        "Retension after the first winter",
        "Frost goes to",
        "moment at ground",
        "if a span breaks",
        "Length that would do",
        "anchors",
        "Drill each post",
        "southern pine, treated",
        "for a pull of",
        "Lash the cable to the strand on the ground",
        "Check when done",
        "deepest sag",
        "stretch of the carried cable",
        "One post fewer fails",
    };
    fe_plan plan = read_example("boathouse");
    fe_posts_result result = plan_posts(&plan);
    char *metric = sheet_of(&result, FE_UNITS_METRIC);
    char *us = sheet_of(&result, FE_UNITS_US);
    for (size_t i = 0; i < sizeof FIELDS / sizeof FIELDS[0]; i++) {
        assert_holds(metric, FIELDS[i]);
        assert_holds(us, FIELDS[i]);
    }
    assert_holds(metric, "degC");
    assert_holds(us, "degF");
    assert_holds(us, "lbf");
    free(metric);
    free(us);
    fe_posts_result_free(&result);
    fe_plan_free(&plan);
}

static void numbers_of_the_boathouse__belong_together(void **state)
{
    (void)state;
    fe_plan plan = read_example("boathouse");
    fe_posts_result r = plan_posts(&plan);
    double along_m = 0.0;
    for (size_t s = 0; s < r.check.run.span_count; s++)
        along_m += r.check.run.spans[s].length_m;
    assert_close(along_m, 95.0, 1e-9);
    assert_int_equal(r.check.run.span_count, r.route.post_count + 1);
    for (size_t i = 0; i < r.route.post_count; i++) {
        const fe_posts_kind *kind = &r.kinds[r.route.kinds[i]];
        const double at_m = r.places[r.route.places[i]].at_m;
        assert_close(kind->depth_m + kind->attachment_m + 0.15, kind->length_m, 1e-9);
        /* `no-post = 46..51 m` */
        assert_false(at_m > 46.0 && at_m < 51.0);
    }
    assert_true(r.buy.in_air_m > 95.0 && r.buy.in_air_m < 97.0);
    assert_close(r.buy.indoor_m, 8.0, 1e-9); /* `indoor = 6 m, 2 m` */
    assert_close(r.buy.total_m,
                 r.buy.in_air_m + r.buy.drops_m + r.buy.drip_m + r.buy.slack_m + r.buy.indoor_m,
                 1e-9);
    assert_true(r.buy.messenger_m > r.buy.in_air_m);
    /* Every 5 degC; at the temperature of stringing the sag as strung. */
    for (size_t t = 1; t < r.stringing.temp_count; t++) {
        assert_close(r.stringing.temp_c[t] - r.stringing.temp_c[t - 1], 5.0, 1e-9);
        for (size_t s = 0; s < r.check.run.span_count; s++) {
            const size_t at = t * r.check.run.span_count + s;
            const size_t before = at - r.check.run.span_count;
            assert_true(r.stringing.sag_m[at] > r.stringing.sag_m[before]);
            assert_true(r.stringing.pull_n[at] < r.stringing.pull_n[before]);
        }
    }
    fe_posts_result_free(&r);
    fe_plan_free(&plan);
}

/* Posts of 3 m: 1.94 m above ground, whatever else; that is the first thing said. */
static void short_posts__are_the_first_line(void **state)
{
    (void)state;
    fe_plan plan = read_example("boathouse");
    plan.posts.post_lengths_m.count = 1;
    plan.posts.post_lengths_m.items[0] = fe_value_exact(3.0);
    fe_posts_result r = plan_posts(&plan);
    assert_true(r.too_short && !r.meets);
    assert_close(r.longest_up_m, 1.94, 0.005);
    assert_true(r.would_do_m >= 4.40); /* the least at 0.3 m sag over walkers alone */
    fe_document *doc = fe_document_new("Short");
    fe_strbuf text = FE_STRBUF_INIT;
    fe_report_posts_verdict(&r, doc);
    assert_int_equal(
        fe_document_text(doc, &(fe_text_options){200, FE_UNITS_METRIC, false}, &text), FE_OK);
    const char *first =
        strstr(fe_strbuf_text(&text), "[x] fails: Posts of 3.0 m are too short");
    assert_non_null(first);
    assert_non_null(strstr(first, "1.94 m above bare ground"));
    assert_non_null(strstr(first, "would do"));
    fe_strbuf_free(&text);
    fe_document_free(doc);

    /* And with posts as long as it says, the run meets its limits. */
    plan.posts.post_lengths_m.items[0] = fe_value_exact(r.would_do_m);
    const size_t posts = r.would_do_posts;
    assert_true(isnan(r.would_do_start_m) && isnan(r.would_do_end_m));
    fe_posts_result_free(&r);
    r = plan_posts(&plan);
    assert_true(r.meets);
    assert_true(r.route.post_count <= posts + 1);
    assert_true(r.check.largest_use <= 1.002);
    assert_true(r.fewer_known);
    fe_posts_result_free(&r);
    fe_plan_free(&plan);
}

static void chart__draws_every_span(void **state)
{
    (void)state;
    const double temps_c[] = {-5.0, 0.0, 5.0};
    const double sags_m[] = {0.3, 0.5, 0.31, 0.52, 0.32, 0.54};
    const double spans_m[] = {20.0, 26.0};
    fe_stringing_data data = {.id = "chart",
                              .title = "Sag",
                              .temp_c = temps_c,
                              .temp_count = 3,
                              .sag_m = sags_m,
                              .span_m = spans_m,
                              .span_count = 2};
    fe_figure figure = FE_FIGURE_INIT;
    assert_int_equal(fe_figure_stringing(&data, FE_UNITS_METRIC, &figure), FE_OK);
    assert_non_null(strstr(fe_strbuf_text(&figure.commands), "$line2"));
    assert_non_null(strstr(fe_strbuf_text(&figure.alternative), "span 2 sags"));
    fe_figure_free(&figure);
    data.temp_count = 1;
    assert_int_equal(fe_figure_stringing(&data, FE_UNITS_METRIC, &figure), FE_E_DOMAIN);
}

#define SHARED                                                                                 \
    "[end house]\nheight = 4 m\n[end shed]\nheight = 4 m\n[path run]\ndistance = 60 m\n"       \
    "[climate]\nice = 6 mm\n[posts]\nlength = 7 m\nsection = round 160 mm\nsoil = gravel\n"    \
    "span = 12..30 m\nstart-height = 4.5 m\nend-height = 4.5 m\n"

/* The supply cable on top, a metre over the data cable, with a table of its own. */
static void supply_on_the_same_posts__is_laid_out_too(void **state)
{
    (void)state;
    fe_plan plan;
    read_text(&plan, SHARED "supply = supply-aerial\n");
    fe_posts_result result = plan_posts(&plan);
    assert_true(result.meets);
    assert_close(result.above->up_m, 1.0, 1e-12);
    assert_close(result.material.top_m, 1.15, 1e-12);
    assert_true(result.check.apart_m > 0.3 && result.check.apart_m < 1.0);
    /* 3.5 m for the data cable; the supply cable asks as much of its own, 0.3 m higher up. */
    assert_close(result.needs[0].over_ground_m, 3.5, 1e-9);
    assert_close(result.needs[0].over_snow_m, 3.5 - 0.3, 1e-9);
    char *text = sheet_of(&result, FE_UNITS_METRIC);
    assert_holds(text, "supply aerial is tied 1.00");
    assert_holds(text, "800.44(A)(4)");
    assert_holds(text, "Supply cable, span");
    free(text);
    fe_strbuf json = FE_STRBUF_INIT;
    assert_int_equal(fe_report_posts_json(&result, &json), FE_OK);
    assert_holds(fe_strbuf_text(&json), "\"in_span_asked_m\": 0.3");
    fe_strbuf_free(&json);
    fe_posts_result_free(&result);
    fe_plan_free(&plan);

    /* Tied nearer than the rule, no choice of posts does. */
    read_text(&plan, SHARED "supply = supply-aerial\nsupply-above = 0.7 m\n");
    result = plan_posts(&plan);
    assert_true(!result.meets);
    assert_int_equal(result.falls_short.limit, FE_ROUTE_AT_POST);
    assert_close(result.falls_short.value, 0.7, 1e-9);
    fe_posts_result_free(&result);
    fe_plan_free(&plan);
}

/* Twelve seasons were more than a search took: a run of months was said to have no layout. */
static void run_of_a_year_by_months__is_laid_out(void **state)
{
    (void)state;
    char text[4096];
    size_t used = (size_t)snprintf(text, sizeof text,
                                   "[end house]\n[end shed]\n[path]\ndistance = 40 m\n"
                                   "[posts]\nlength = 7 m\nsection = round 160 mm\n"
                                   "start-height = 4.5 m\nend-height = 4.5 m\n");
    for (int i = 1; i <= FE_MOST_SEASONS; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "[season s%d]\ncoldest = -%d degC\nhottest = 20 degC\n"
                                 "ice = %d mm\nsnow = %d cm\n",
                                 i, i, i / 4, i);
    fe_plan plan;
    read_text(&plan, text);
    fe_posts_result result = plan_posts(&plan);
    assert_int_equal(result.check.run.cases[result.check.run.case_count - 1].season,
                     FE_MOST_SEASONS - 1);
    fe_posts_result_free(&result);
    fe_plan_free(&plan);
}

static void unknown_wood__is_refused(void **state)
{
    (void)state;
    fe_plan plan = read_example("boathouse");
    char *const kept = plan.posts.wood;
    char bad[] = "marzipan";
    plan.posts.wood = bad;
    fe_posts_result r;
    assert_int_equal(fe_posts_plan(&plan, 0, NULL, NULL, &r), FE_E_INPUT);
    plan.posts.wood = kept;
    assert_int_equal(fe_posts_plan(&plan, 9, NULL, NULL, &r), FE_E_DOMAIN);
    fe_plan_free(&plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sheet_of_the_boathouse__holds_every_field),
        cmocka_unit_test(numbers_of_the_boathouse__belong_together),
        cmocka_unit_test(short_posts__are_the_first_line),
        cmocka_unit_test(chart__draws_every_span),
        cmocka_unit_test(supply_on_the_same_posts__is_laid_out_too),
        cmocka_unit_test(run_of_a_year_by_months__is_laid_out),
        cmocka_unit_test(unknown_wood__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
