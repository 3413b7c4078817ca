/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend terrain`: a ground profile out of what an owner has. */
#include "app/command.h"
#include "app/output.h"

#include <math.h>
#include <string.h>

#include "app/terrain_around.h"
#include "app/terrain_made.h"
#include "app/terrain_plot.h"
#include "app/terrain_source.h"
#include "farend/survey.h"

static const char WHO[] = "farend terrain";

/* The band that most links use, and the widest zone of those in common use. */
static const double USUAL_F_HZ = 2.437e9;

static const option OPTIONS[] = {
    {.name = "survey",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "a list of readings: CSV with units in the header"},
    {.name = "track",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "a GPX file: a walked track, a route or waypoints"},
    {.name = "raster",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "an elevation raster, with --from and --to"},
    {.name = "from",
     .kind = OPTION_TEXT,
     .metavar = "LAT,LON",
     .help = "first end on the raster, degrees (--around: in place of the plan's)"},
    {.name = "to",
     .kind = OPTION_TEXT,
     .metavar = "LAT,LON",
     .help = "second end on the raster, degrees"},
    {.name = "surface",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "a raster with trees and roofs on it; less the terrain it gives them"},
    {.name = "vertical-unit",
     .kind = OPTION_TEXT,
     .choices = "m|ft|us-ft",
     .help = "unit of the rasters' heights, where they do not say or say it wrong"},
    {.name = "height-error",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "0..100 m",
     .help = "standard deviation of the track's or raster's heights"},
    {.name = "around",
     .kind = OPTION_TEXT,
     .metavar = "PLAN",
     .help = "the margin of its gear on all the land about its first end"},
    {.name = "radius",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "2 m..5 km",
     .help = "how far --around looks"},
    {.name = "coarse", .help = "take a raster that is too coarse for the path"},
    {.name = "frequency",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .bounds = "1 MHz..1 THz",
     .help = "whose Fresnel zone the profile should serve (2.437 GHz)"},
    {.name = "output",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "write the profile there and print what it is (--around: a GeoTIFF)"},
    {.name = "plot",
     .kind = OPTION_TEXT,
     .metavar = "FILE",
     .help = "draw the profile or the map there, as SVG"},
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_PROFILES,
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

/* ---- Which source ---- */

/* Options that only one source understands, so that none is passed over in silence. */
static bool check_belongs(const options *given, const char *source)
{
    static const char *const RASTER_ONLY[] = {"from", "to", "surface", "vertical-unit",
                                              "coarse"};
    bool good = true;
    for (size_t i = 0; i < sizeof RASTER_ONLY / sizeof RASTER_ONLY[0]; i++)
        if (strcmp(source, "raster") != 0 && options_given(given, RASTER_ONLY[i])) {
            options_complain(WHO, "--%s: goes with --raster", RASTER_ONLY[i]);
            good = false;
        }
    if (strcmp(source, "survey") == 0 && options_given(given, "height-error")) {
        options_complain(WHO, "--height-error: a survey list has it as a column error [cm]");
        good = false;
    }
    if (strcmp(source, "raster") == 0)
        for (const char *const *end = (const char *const[]){"from", "to", NULL}; *end; end++)
            if (!options_given(given, *end)) {
                options_complain(WHO, "--raster needs --%s LAT,LON", *end);
                good = false;
            }
    return good;
}

/* Exactly one source, and nothing that belongs to another. */
static bool check_source(const options *given)
{
    static const char *const SOURCES[] = {"survey", "track", "raster"};
    const char *source = NULL;
    size_t count = 0;
    for (size_t i = 0; i < sizeof SOURCES / sizeof SOURCES[0]; i++)
        if (options_given(given, SOURCES[i])) {
            source = SOURCES[i];
            count++;
        }
    if (count == 1)
        return check_belongs(given, source);
    options_complain(WHO,
                     "say what the profile comes from: one of --survey FILE, --track FILE, "
                     "--raster FILE");
    return false;
}

static fe_status make_from_raster(const options *given, terrain_made *made)
{
    terrain_raster asked = {
        .file = options_text(given, "raster"),
        .surface = options_text(given, "surface"),
        .unit = options_text(given, "vertical-unit"),
        .coarse = options_given(given, "coarse"),
        .height_error_m = options_number(given, "height-error", NAN),
    };
    const bool first = terrain_position(WHO, "from", options_text(given, "from"), &asked.from);
    const bool second = terrain_position(WHO, "to", options_text(given, "to"), &asked.to);
    if (!first || !second)
        return FE_E_INPUT;
    return terrain_from_raster(WHO, &asked, made);
}

static fe_status make_profile(const options *given, terrain_made *made)
{
    if (options_given(given, "survey"))
        return make_from_survey(options_text(given, "survey"), made);
    if (options_given(given, "track"))
        return terrain_from_track(WHO, options_text(given, "track"),
                                  options_number(given, "height-error", NAN), made);
    return make_from_raster(given, made);
}

/* ---- Output ---- */

static fe_status write_profile(const terrain_made *made, const char *path)
{
    fe_strbuf csv = FE_STRBUF_INIT;
    terrain_print_csv(made, &csv);
    fe_status status = fe_strbuf_status(&csv);
    if (status == FE_OK)
        status = output_file(WHO, path, fe_strbuf_text(&csv), csv.length);
    fe_strbuf_free(&csv);
    return status;
}

/* Facts where the profile went into a file, else the profile itself. */
static fe_status print_result(const terrain_made *made, const options *given)
{
    fe_strbuf out = FE_STRBUF_INIT;
    if (options_given(given, "json"))
        return output_made(terrain_print_json(made, &out), &out);
    if (!options_given(given, "output")) {
        terrain_print_csv(made, &out);
        return output_made(fe_strbuf_status(&out), &out);
    }
    terrain_print_facts(made, output_units(given), &out);
    const fe_status status = output_plain(&out);
    fe_strbuf_free(&out);
    return status;
}

static int run(const options *given)
{
    if (options_given(given, "around"))
        return terrain_around(WHO, given);
    if (options_given(given, "radius")) {
        options_complain(WHO, "--radius: goes with --around");
        return EXIT_BAD_INPUT;
    }
    const double f_hz = options_number(given, "frequency", USUAL_F_HZ);
    if (!check_source(given))
        return EXIT_BAD_INPUT;
    terrain_made made = {0};
    fe_status status = make_profile(given, &made);
    if (status >= 0)
        status = terrain_judge(&made, f_hz);
    if (status >= 0 && options_given(given, "output"))
        status = write_profile(&made, options_text(given, "output"));
    if (status >= 0 && options_given(given, "plot"))
        status =
            terrain_plot(WHO, &made, f_hz, output_units(given), options_text(given, "plot"));
    if (status >= 0)
        status = print_result(&made, given);
    terrain_made_free(&made);
    return output_ended(WHO, status);
}

const command COMMAND_TERRAIN = {
    .name = "terrain",
    .summary = "a ground profile out of what you have measured",
    .usage = "--survey FILE [OPTION]...\n"
             "--track FILE [OPTION]...\n"
             "--raster FILE --from LAT,LON --to LAT,LON [OPTION]...\n"
             "--around PLAN --raster FILE --radius R [OPTION]...",
    .description =
        "Makes the ground profile that a plan names, with the likely error of each height,\n"
        "and says whether that is good enough for the first Fresnel zone.\n"
        "\n"
        "A survey list is a CSV, a row a point, whose header names what was measured with\n"
        "its unit: `distance [m]`, `leg [m]` (level, from the point before), `tape [m]`\n"
        "(along the ground) or `strides` with `stride [m]`; and `height [m]`, `rise [cm]`,\n"
        "`slope [deg]` (or `[%]`), or `backsight [m]` and `foresight [m]` of a staff. A\n"
        "column `known [m]` holds heights to close on; `error [cm]` replaces the usual one.\n"
        "\n"
        "A track is put onto the straight line between its ends. A raster is read along the\n"
        "geodesic at its own step. Both need the program farend-import beside this one.\n"
        "\n"
        "With --around the answer is a map: the margin of the plan's gear in the worst season\n"
        "at every cell about the first end of its path, so where on this land the building or\n"
        "a relay could stand; with --surface trees and roofs count. Errors of the heights and\n"
        "[trees] of the plan are not on it: make a profile to the place that you choose.\n",
    .options = OPTIONS,
    .example = "--survey examples/track-by-level.csv",
    .run = run,
};
