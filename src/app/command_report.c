/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend report`: the whole job, from a plan to text, page, figures and JSON. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/output.h"
#include "app/plan_command.h"
#include "farend/gnuplot.h"
#include "farend/outlook.h"
#include "farend/report.h"
#include "farend/report_sheet.h"
#include "farend/strbuf.h"

static const char WHO[] = "farend report";

static const option OPTIONS[] = {
    {.name = "html",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "where the page goes (the plan's name with .html, here)"},
    OPTION_ROW_SHEET,
    {.name = "path",
     .kind = OPTION_TEXT,
     .metavar = "NAME",
     .help = "path of the plan that the sheet is for (the first)"},
    {.name = "figures",
     .kind = OPTION_TEXT,
     .metavar = "DIR",
     .help = "write each figure as a file of its own, too"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_PROFILES,
    {0},
};

/* ---- Files ---- */

/* The plan's name with .html in the current folder; never the plan itself. */
static void default_page(const char *plan, fe_strbuf *path)
{
    const char *slash = strrchr(plan, '/');
    const char *name = slash ? slash + 1 : plan;
    const char *dot = strrchr(name, '.');
    const bool whole = !dot || dot == name || strcmp(dot, ".html") == 0;
    fe_strbuf_append_bytes(path, name, whole ? strlen(name) : (size_t)(dot - name));
    fe_strbuf_append(path, ".html");
}

static fe_status write_page(const fe_document *doc, const char *path, fe_units units)
{
    fe_strbuf html = FE_STRBUF_INIT;
    fe_status status = fe_document_html(doc, units, &html);
    if (status >= 0)
        status = output_file(WHO, path, fe_strbuf_text(&html), html.length);
    fe_strbuf_free(&html);
    return status;
}

/* ---- Output ---- */

static fe_status print_json(const fe_result *result, const fe_document *doc)
{
    fe_strbuf out = FE_STRBUF_INIT;
    return output_made(fe_report_json(result, doc, &out), &out);
}

static fe_status output_page(const options *given, const fe_document *doc)
{
    fe_strbuf path = FE_STRBUF_INIT;
    if (options_given(given, "html"))
        fe_strbuf_append(&path, options_text(given, "html"));
    else if (!options_given(given, "json"))
        default_page(options_operand(given, 0), &path);
    fe_status status = fe_strbuf_status(&path);
    if (status >= 0 && path.length > 0)
        status = write_page(doc, fe_strbuf_text(&path), output_units(given));
    if (status >= 0 && path.length > 0 && !options_given(given, "json"))
        printf("The same as a page, with figures: %s\n\n", fe_strbuf_text(&path));
    fe_strbuf_free(&path);
    return status;
}

static fe_status output(const options *given, const fe_result *result, const fe_document *doc)
{
    fe_status figures = FE_OK;
    fe_status status = output_page(given, doc);
    if (status >= 0 && options_given(given, "figures"))
        figures = output_figures(WHO, doc, options_text(given, "figures"), output_units(given));
    if (figures == FE_E_IO || figures == FE_E_MEMORY)
        return figures;
    if (status >= 0)
        status = options_given(given, "json") ? print_json(result, doc)
                                              : output_text(doc, output_units(given));
    output_missing(WHO, doc);
    return status < 0 ? status : figures;
}

/* ---- Sheet ---- */

static fe_status write_sheet(const options *given, const fe_result *result, size_t path,
                             fe_gnuplot *gnuplot)
{
    fe_document *doc = NULL;
    fe_status status = fe_sheet_of_result(result, path, gnuplot, output_units(given), &doc);
    if (status >= 0)
        status = output_sheet(WHO, given, doc);
    fe_document_free(doc);
    return status;
}

static int report(const options *given, const fe_result *result, size_t path)
{
    fe_document *doc = NULL;
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    fe_status status = fe_report_document(result, gnuplot, output_units(given), &doc);
    if (status >= 0 && options_given(given, "sheet"))
        status = write_sheet(given, result, path, gnuplot);
    fe_gnuplot_free(gnuplot);
    if (status >= 0)
        status = output(given, result, doc);
    fe_document_free(doc);
    return output_ended(WHO, status);
}

static int look_ahead(fe_result *result)
{
    const fe_status status = fe_outlook_add(result);
    return status < 0 ? output_failed(WHO, status) : EXIT_DONE;
}

static int run(const options *given)
{
    planned got;
    size_t path = 0;
    if (options_given(given, "path") && !options_given(given, "sheet")) {
        options_complain(WHO, "--path: chooses the path of a --sheet; the report has them all");
        return EXIT_BAD_INPUT;
    }
    int code = planned_open(WHO, given, options_operand(given, 0), fe_decide, &got);
    if (code == EXIT_DONE && !plan_path_given(WHO, given, &got.plan, &path))
        code = EXIT_BAD_INPUT;
    if (code == EXIT_DONE)
        code = look_ahead(&got.result);
    if (code == EXIT_DONE)
        code = report(given, &got.result, path);
    planned_free(&got);
    return code;
}

const command COMMAND_REPORT = {
    .name = "report",
    .summary = "every way to reach the building, side by side",
    .usage = "PLAN [OPTION]...",
    .description =
        "Computes every way to carry data and power to the building of a plan, in every\n"
        "season, and prints which to build and why. Writes the same with figures into one\n"
        "page, which needs nothing else. A way that fails is an answer (exit code 0); a\n"
        "plan with mistakes writes nothing.\n",
    .options = OPTIONS,
    .example = "examples/lambing-shed.ini",
    .operands_min = 1,
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
