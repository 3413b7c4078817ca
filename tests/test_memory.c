/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every allocation of a report fails in turn: the status is "out of memory" or the result is
 * whole, nothing crashes, nothing is leaked (see failing.h); the allocations of jansson are
 * handed over here. So do the calls that a decision makes. A report is cut into stages, so that
 * each failure repeats only its own stage: reading, deciding, the document, the three outputs.
 *
 * Sanitized builds watch for leaks with stack traces; every build compares the count of blocks
 * held before and after.
 */
#include <errno.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "failing.h"
#include "farend/gnuplot.h"
#include "farend/plan.h"
#include "farend/quantity.h"
#include "farend/report.h"
#include "farend/result.h"
#include "farend/textfile.h"
#include "testing.h"

/* ---- The stages ---- */

/* What the stages before have made. */
static const char *plan_path;
static fe_plan plan;
static fe_result result;
static fe_document *document;
static fe_gnuplot *gnuplot;

static fe_status run_read(fe_strbuf *out)
{
    (void)out;
    const fe_plan_places places = {.profiles_option = FAREND_SOURCE_DIR "/profiles"};
    fe_plan read = {0};
    fe_messages messages = {0};
    const fe_status status = fe_plan_read(plan_path, &places, &read, &messages);
    if (status >= 0)
        fe_plan_free(&read);
    fe_messages_free(&messages);
    return status;
}

static fe_status run_decide(fe_strbuf *out)
{
    fe_result made;
    const fe_status status = fe_decide(&plan, &made);
    if (status < 0)
        return status;
    for (size_t i = 0; i < made.way_count; i++)
        fe_strbuf_format(out, "%s: %s, %s\n", made.ways[i].name,
                         fe_verdict_name(made.ways[i].verdict), made.ways[i].limit);
    fe_result_free(&made);
    return status;
}

static fe_status run_document(fe_strbuf *out)
{
    const fe_text_options layout = {80, FE_UNITS_METRIC, true};
    fe_document *made = NULL;
    fe_status status = fe_report_document(&result, gnuplot, FE_UNITS_METRIC, &made);
    const fe_status later = made ? fe_document_status(made) : FE_E_MEMORY;
    if (status >= 0 && later >= 0)
        status = fe_document_text(made, &layout, out);
    fe_document_free(made);
    return fe_status_worse(status, later);
}

static fe_status run_text(fe_strbuf *out)
{
    const fe_text_options layout = {80, FE_UNITS_US, false};
    return fe_document_text(document, &layout, out);
}

static fe_status run_page(fe_strbuf *out)
{
    return fe_document_html(document, FE_UNITS_METRIC, out);
}

static fe_status run_json(fe_strbuf *out)
{
    return fe_report_json(&result, document, out);
}

/* Without the memory to start gnuplot this figure is missing, and its reason says so. */
static fe_status run_figure(fe_strbuf *out)
{
    char reason[FE_GNUPLOT_REASON_ROOM];
    char *svg = NULL;
    fe_gnuplot *started = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    const fe_status status =
        fe_gnuplot_draw(started, "f", "plot sin(x)\n", 480, 300, &svg, reason);
    if (svg)
        fe_strbuf_append(out, svg);
    free(svg);
    fe_gnuplot_free(started);
    return status == FE_E_EXTERNAL && strstr(reason, strerror(ENOMEM)) ? FE_E_MEMORY : status;
}

static void reading__survives_every_failure(void **state)
{
    (void)state;
    assert_true(fe_testing_fail_each("reading the plan", run_read) > 100);
}

static void deciding__survives_every_failure(void **state)
{
    (void)state;
    assert_true(fe_testing_fail_each("deciding", run_decide) > 50);
}

/* What the decision calls may refuse; a verdict must not come of it. */
static void deciding__passes_on_what_fails_below(void **state)
{
    (void)state;
    fe_testing_fail_each_call("deciding", run_decide);
}

static void document__survives_every_failure(void **state)
{
    (void)state;
    assert_true(fe_testing_fail_each("document", run_document) > 100);
}

static void outputs__survive_every_failure(void **state)
{
    (void)state;
    assert_true(fe_testing_fail_each("text", run_text) > 1);
    assert_true(fe_testing_fail_each("page", run_page) > 1);
    assert_true(fe_testing_fail_each("JSON", run_json) > 50);
}

static void figure__survives_every_failure(void **state)
{
    (void)state;
    assert_true(fe_testing_fail_each("figure", run_figure) > 3);
}

/* ---- The group ---- */

/* One that was not found is not looked for again, so a document takes no time to draw. */
static void lose_gnuplot(void)
{
    char reason[FE_GNUPLOT_REASON_ROOM];
    char *svg = NULL;
    char *path = strdup(getenv("PATH") ? getenv("PATH") : "");
    assert_non_null(path);
    setenv("PATH", "/nonexistent", 1);
    gnuplot = fe_gnuplot_new(1.0);
    assert_int_equal(fe_gnuplot_draw(gnuplot, "f", "", 9, 9, &svg, reason), FE_E_EXTERNAL);
    setenv("PATH", path, 1);
    free(path);
}

/* Deciding on an example takes seconds in a sanitized build; on this plan, a moment. */
static const char SMALL_NAME[] = "test_memory.ini";
static const char SMALL[] =
    "[site]\nregion = UK\nbands = 2.4 GHz\n"
    "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
    "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
    "[path way]\ndistance = 150 m\n"
    "[trees hedge]\nfrom = 40 m\nto = 42 m\nheight = 2 m\n"
    "kind = hedge\n"
    "[season winter]\nsnow = 0.5 m\ncoldest = -20 degC\nhottest = 5 degC\n"
    "[load lamp]\npower = 20 W\n";

static bool choose_plan(void)
{
    static char named[256];
    const char *name = getenv("FAREND_EVERY_FAILURE");
    const int length =
        snprintf(named, sizeof named, "%s/%s", FAREND_SOURCE_DIR, name ? name : "");
    if (length < 0 || (size_t)length >= sizeof named)
        return false;
    plan_path = name ? named : SMALL_NAME;
    return fe_textfile_write(SMALL_NAME, SMALL, strlen(SMALL)) == FE_OK;
}

static int open_plan(void **state)
{
    (void)state;
    if (!choose_plan())
        return -1;
    const fe_plan_places places = {.profiles_option = FAREND_SOURCE_DIR "/profiles"};
    fe_messages messages = {0};
    json_set_alloc_funcs(__wrap_malloc, __wrap_free);
    fe_status status = fe_plan_read(plan_path, &places, &plan, &messages);
    fe_messages_free(&messages);
    if (status >= 0)
        status = fe_decide(&plan, &result);
    if (status >= 0)
        status = fe_report_document(&result, NULL, FE_UNITS_METRIC, &document);
    if (status >= 0)
        lose_gnuplot();
    return status >= 0 ? 0 : -1;
}

static int close_plan(void **state)
{
    (void)state;
    fe_gnuplot_free(gnuplot);
    fe_document_free(document);
    fe_result_free(&result);
    fe_plan_free(&plan);
    fe_quantity_shutdown();
    remove(SMALL_NAME);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reading__survives_every_failure),
        cmocka_unit_test(deciding__survives_every_failure),
        cmocka_unit_test(deciding__passes_on_what_fails_below),
        cmocka_unit_test(document__survives_every_failure),
        cmocka_unit_test(outputs__survive_every_failure),
        cmocka_unit_test(figure__survives_every_failure),
    };
    fe_init();
    return cmocka_run_group_tests(tests, open_plan, close_plan);
}
