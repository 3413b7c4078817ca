/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend terrain`: a ground profile out of what an owner has. */
#include "app/command.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/terrain_made.h"
#include "farend/constants.h"
#include "farend/survey.h"
#include "farend/textfile.h"

static const char WHO[] = "farend terrain";

/* The band that most links use, and the widest zone of those in common use. */
static const double USUAL_F_HZ = 2.437e9;

static const option OPTIONS[] = {
    {.name = "survey",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "a list of readings: CSV with units in the header"},
    {.name = "frequency",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .help = "whose Fresnel zone the profile should serve (2.437 GHz)"},
    {.name = "output",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "write the profile there and print what it is"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    {0},
};

static void complain_all(const fe_messages *messages)
{
    for (size_t i = 0; i < messages->count; i++)
        options_complain(WHO, "%s", messages->items[i].text);
    if (messages->dropped > 0)
        options_complain(WHO, "and %zu more", messages->dropped);
}

/* ---- A survey list ---- */

static void add_closing(const fe_survey *survey, terrain_made *made)
{
    if (!survey->closes) {
        terrain_fact_text(made, "closing", "closing error",
                          "unknown: the list neither returns to its start nor meets a known "
                          "height");
        return;
    }
    terrain_fact_number(made, "closing_error_m", "closing error", survey->closing_error_m,
                        FE_STYLE_HEIGHT);
    terrain_fact_number(made, "closing_sigma_m", "such readings close within",
                        survey->closing_sigma_m, FE_STYLE_HEIGHT);
}

static fe_status make_from_survey(const char *path, terrain_made *made)
{
    fe_messages messages = {0};
    fe_survey survey = {0};
    fe_survey_list methods;
    const fe_status status = fe_survey_read(path, &survey, &methods, &messages);
    complain_all(&messages);
    fe_messages_free(&messages);
    if (status < 0)
        return status;
    if (status == FE_W_RANGE)
        options_complain(WHO,
                         "warning: %s: closing error %.3f m where such readings close within "
                         "%.3f m; look for a wrong reading at or before point %.0f",
                         path, survey.closing_error_m, survey.closing_sigma_m,
                         survey.closing_row + 1.0);
    terrain_fact_text(made, "source", "from", "survey list %s", path);
    terrain_fact_text(made, "method", "measured by", "%s, %s",
                      fe_survey_height_name(methods.height),
                      fe_survey_distance_name(methods.distance));
    add_closing(&survey, made);
    terrain_fact_text(made, "bearing", "bearing", "not in a survey list");
    made->profile = survey.profile;
    return FE_OK;
}

/* ---- Output ---- */

static int report_status(fe_status status)
{
    if (status == FE_E_MEMORY)
        options_complain(WHO, "%s", fe_status_text(status));
    return command_exit_code(status);
}

static fe_status write_profile(const terrain_made *made, const char *path)
{
    fe_strbuf csv = FE_STRBUF_INIT;
    terrain_print_csv(made, &csv);
    fe_status status = fe_strbuf_status(&csv);
    if (status == FE_OK)
        status = fe_textfile_write(path, fe_strbuf_text(&csv), csv.length);
    if (status == FE_E_IO)
        options_complain(WHO, "cannot write %s: %s", path, strerror(errno));
    fe_strbuf_free(&csv);
    return status;
}

/* Facts where the profile went into a file, else the profile itself. */
static fe_status print_result(const terrain_made *made, const options *given)
{
    const char *units = options_text(given, "units");
    fe_strbuf out = FE_STRBUF_INIT;
    fe_status status = FE_OK;
    if (options_given(given, "json"))
        status = terrain_print_json(made, &out);
    else if (options_given(given, "output"))
        terrain_print_facts(
            made, units && strcmp(units, "us") == 0 ? FE_UNITS_US : FE_UNITS_METRIC, &out);
    else
        terrain_print_csv(made, &out);
    if (status == FE_OK)
        status = fe_strbuf_status(&out);
    if (status == FE_OK)
        fputs(fe_strbuf_text(&out), stdout);
    fe_strbuf_free(&out);
    return status;
}

static int run(const options *given)
{
    const double f_hz = options_number(given, "frequency", USUAL_F_HZ);
    if (!(f_hz > 0.0)) {
        options_complain(WHO, "--frequency: must be above 0");
        return EXIT_BAD_INPUT;
    }
    if (!options_given(given, "survey")) {
        options_complain(WHO, "say what the profile comes from: --survey FILE");
        return EXIT_BAD_INPUT;
    }
    terrain_made made = {0};
    fe_status status = make_from_survey(options_text(given, "survey"), &made);
    if (status >= 0)
        status = terrain_judge(&made, f_hz);
    if (status >= 0 && options_given(given, "output"))
        status = write_profile(&made, options_text(given, "output"));
    if (status >= 0)
        status = print_result(&made, given);
    terrain_made_free(&made);
    return report_status(status);
}

const command COMMAND_TERRAIN = {
    .name = "terrain",
    .summary = "a ground profile out of what you have measured",
    .usage = "--survey FILE [OPTION]...",
    .description =
        "Makes the ground profile that a plan names, with the likely error of each height,\n"
        "and says whether that is good enough for the first Fresnel zone.\n"
        "\n"
        "A survey list is a CSV, a row a point, whose header names what was measured with\n"
        "its unit: `distance [m]`, `leg [m]` (level, from the point before), `tape [m]`\n"
        "(along the ground) or `strides` with `stride [m]`; and `height [m]`, `rise [cm]`,\n"
        "`slope [deg]` (or `[%]`), or `backsight [m]` and `foresight [m]` of a staff. A\n"
        "column `known [m]` holds heights to close on; `error [cm]` replaces the usual one.\n",
    .options = OPTIONS,
    .example = "--survey examples/track-by-level.csv",
    .run = run,
};
