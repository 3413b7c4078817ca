/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend posts`: an overhead run, from a plan or from options, to a sheet to build from. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/command.h"
#include "app/output.h"
#include "app/plan_command.h"
#include "farend/posts_plan.h"
#include "farend/report_posts.h"
#include "farend/report_sheet.h"
#include "farend/wood.h"

static const char WHO[] = "farend posts";

static const option OPTIONS[] = {
    {.name = "distance",
     .kind = OPTION_VALUE,
     .dimension = FE_DIM_LENGTH,
     .bounds = "2 m..50 km",
     .help = "between the buildings, over ground, in place of a plan; of a range the longest "
             "is laid out"},
    {.name = "rise",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "-5000..5000 m",
     .help = "far building above the first (0 m)"},
    {.name = "post-length",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1..20 m",
     .repeats = true,
     .help = "length of post on hand"},
    {.name = "diameter",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "40..500 mm",
     .help = "of a round post (120 mm)"},
    {.name = "wood",
     .kind = OPTION_TEXT,
     .metavar = "NAME",
     .help = "strength class or species (C24)"},
    {.name = "soil",
     .kind = OPTION_TEXT,
     .metavar = "NAME",
     .help = "what posts are set in (unknown)"},
    {.name = "cable",
     .kind = OPTION_TEXT,
     .metavar = "CLASS",
     .help = "class of cable (outdoor-data-messenger)"},
    {.name = "messenger",
     .kind = OPTION_TEXT,
     .metavar = "STRAND",
     .help = "strand to lash it to, \"3/16 extra high strength\""},
    {.name = "span",
     .kind = OPTION_VALUE,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1..300 m",
     .help = "shortest and longest span allowed (8 m..60 m)"},
    {.name = "sag",
     .kind = OPTION_VALUE,
     .dimension = FE_DIM_FRACTION,
     .bounds = "0.2..20 %",
     .help = "sag at stringing over span (1 %..6 %)"},
    {.name = "start-height",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "0.5..30 m",
     .help = "attachment on the first building (4 m)"},
    {.name = "end-height",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "0.5..30 m",
     .help = "attachment on the far building (4 m)"},
    {.name = "clearance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1..20 m",
     .help = "height over bare ground (the code's)"},
    {.name = "clearance-code",
     .kind = OPTION_TEXT,
     .metavar = "CODE",
     .help = "whose heights count: \"US NFPA 70\", \"California GO 95\""},
    {.name = "below",
     .kind = OPTION_TEXT,
     .choices =
         "walkers|animals|riders|vehicles|driveway|road|tall machines|high loads|railway",
     .help = "what passes below the whole run (walkers)"},
    {.name = "anchor",
     .kind = OPTION_TEXT,
     .metavar = "CLASS",
     .help = "class of a stay's anchor, \"6000 lb\""},
    {.name = "snow",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "0..15 m",
     .help = "deepest snow (0.6 m)"},
    {.name = "ice",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "0..200 mm",
     .help = "radial ice on the cable (8 mm)"},
    {.name = "wet-snow",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LINEAR_MASS,
     .bounds = "0..30 kg/m",
     .help = "sleeve of wet snow on the cable, in seasons of wet snow"},
    {.name = "wind",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_SPEED,
     .bounds = "0..100 m/s",
     .help = "strongest gust at cable height (28 m/s)"},
    {.name = "coldest",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .bounds = "-75..35 degC",
     .help = "coldest air (-22 degC)"},
    {.name = "hottest",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .bounds = "-20..60 degC",
     .help = "hottest air (37 degC)"},
    {.name = "stringing-temperature",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .bounds = "-30..45 degC",
     .help = "air on the day of pulling (15 degC)"},
    {.name = "safety",
     .kind = OPTION_TEXT,
     .choices = "en|us",
     .help = "safety format: en (usual) or us"},
    {.name = "district",
     .kind = OPTION_TEXT,
     .metavar = "CODE/DISTRICT",
     .help = "a code's load as well, \"US IEEE C2/heavy\""},
    {.name = "step",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "5 cm..100 m",
     .help = "between places where a post may stand (1 m; 3 ft with us)"},
    {.name = "no-stays", .help = "set no stayed posts"},
    {.name = "free-running", .help = "tie the cable off at the ends alone"},
    OPTION_ROW_FIGURES,
    OPTION_ROW_UNITS,
    OPTION_ROW_SHEET,
    OPTION_ROW_JSON,
    OPTION_ROW_PROFILES,
    {0},
};

/* ---- A plan from options ---- */

static fe_value value_of(const options *given, const char *name, double usual)
{
    return options_given(given, name) ? fe_value_exact(options_number(given, name, usual))
                                      : fe_value_default(usual);
}

/* Null where neither is there. False where memory is out. */
static bool copy_text(const options *given, const char *name, const char *usual, char **copy)
{
    const char *text = options_text(given, name);
    text = text ? text : usual;
    *copy = text ? strdup(text) : NULL;
    return !text || *copy;
}

static fe_status set_lengths(const options *given, fe_plan_posts *posts)
{
    static const double USUAL_M[] = {4.0, 5.0, 6.0};
    const size_t asked = options_count(given, "post-length");
    const size_t count = asked ? asked : sizeof USUAL_M / sizeof USUAL_M[0];
    posts->post_lengths_m.items = calloc(count, sizeof(fe_value));
    if (!posts->post_lengths_m.items)
        return FE_E_MEMORY;
    posts->post_lengths_m.count = count;
    for (size_t i = 0; i < count; i++)
        posts->post_lengths_m.items[i] =
            asked ? fe_value_exact(options_number_at(given, "post-length", i))
                  : fe_value_default(USUAL_M[i]);
    return FE_OK;
}

/* What passes below, all along. */
static fe_status set_below(const options *given, fe_plan_posts *posts)
{
    const char *name = options_text(given, "below");
    int below = 0;
    if (!name)
        return FE_OK;
    while (strcmp(fe_limits_below_name((fe_thing_below)below), name) != 0)
        below++;
    posts->crossings = calloc(1, sizeof *posts->crossings);
    if (!posts->crossings)
        return FE_E_MEMORY;
    posts->crossings[0] = (fe_plan_crossing){.name = strdup(name),
                                             .to_m = options_value(given, "distance").high,
                                             .below = (fe_thing_below)below};
    posts->crossing_count = 1;
    return posts->crossings[0].name ? FE_OK : FE_E_MEMORY;
}

static fe_status set_posts(const options *given, fe_plan *plan)
{
    fe_plan_posts *posts = &plan->posts;
    const char *safety = options_text(given, "safety");
    posts->given = true;
    if (!copy_text(given, "cable", "outdoor-data-messenger", &posts->cable) ||
        !copy_text(given, "messenger", NULL, &posts->messenger) ||
        !copy_text(given, "wood", "C24", &posts->wood) ||
        !copy_text(given, "soil", "unknown", &posts->soil) ||
        !copy_text(given, "anchor", NULL, &posts->anchor) ||
        !copy_text(given, "clearance-code", NULL, &posts->clearance_code))
        return FE_E_MEMORY;
    posts->round = (fe_choice){1, FE_GIVEN_DEFAULT};
    posts->section_m = value_of(given, "diameter", 0.12);
    posts->span_m = options_given(given, "span")
                        ? options_value(given, "span")
                        : (fe_value){8.0, 30.0, 60.0, FE_GIVEN_DEFAULT};
    if (options_given(given, "sag"))
        posts->sag_share = options_value(given, "sag");
    posts->stringing_c = value_of(given, "stringing-temperature", 15.0);
    posts->start_height_m = value_of(given, "start-height", 4.0);
    posts->end_height_m = value_of(given, "end-height", 4.0);
    if (options_given(given, "clearance"))
        posts->clearance_m = value_of(given, "clearance", 0.0);
    posts->tied.value = options_given(given, "free-running");
    posts->safety.value = safety && strcmp(safety, "us") == 0 ? FE_SAFETY_US : FE_SAFETY_EN;
    const fe_status status = set_lengths(given, posts);
    return status == FE_OK ? set_below(given, posts) : status;
}

static fe_status set_seasons(const options *given, fe_plan *plan)
{
    const fe_climate usual = plan_usual_climate(plan);
    const fe_climate climate = {
        .deepest_snow_m = options_number(given, "snow", usual.deepest_snow_m),
        .coldest_c = options_number(given, "coldest", usual.coldest_c),
        .hottest_c = options_number(given, "hottest", usual.hottest_c),
        .ice_m = options_number(given, "ice", usual.ice_m),
        .wind_m_s = options_number(given, "wind", usual.wind_m_s),
    };
    plan->seasons = calloc(FE_USUAL_SEASONS, sizeof *plan->seasons);
    if (!plan->seasons)
        return FE_E_MEMORY;
    fe_seasons_usual(&climate, plan->seasons);
    plan->season_count = FE_USUAL_SEASONS;
    return FE_OK;
}

static fe_status set_path(const options *given, fe_plan *plan)
{
    static const char *const NAMES[] = {"the first building", "the far building"};
    plan->ends = calloc(2, sizeof *plan->ends);
    plan->paths = calloc(1, sizeof *plan->paths);
    if (!plan->ends || !plan->paths)
        return FE_E_MEMORY;
    plan->path_count = 1;
    plan->paths[0].to = 1;
    for (; plan->end_count < 2; plan->end_count++) {
        plan->ends[plan->end_count].name = strdup(NAMES[plan->end_count]);
        if (!plan->ends[plan->end_count].name)
            return FE_E_MEMORY;
    }
    plan->paths[0].distance_m = options_value(given, "distance");
    return fe_profile_even(options_value(given, "distance").high,
                           options_number(given, "rise", 0.0), 1.0, &plan->paths[0].profile);
}

static int make_plan(const options *given, fe_plan *plan)
{
    const int code = plan_open(WHO, given, NULL, plan);
    if (code != EXIT_DONE)
        return code;
    fe_status status = set_path(given, plan);
    if (status == FE_OK)
        status = set_posts(given, plan);
    if (status == FE_OK)
        status = set_seasons(given, plan);
    if (status == FE_OK)
        return EXIT_DONE;
    fe_plan_free(plan);
    return output_failed(WHO, status);
}

/* ---- What the call may ask ---- */

/* All of them: nobody guesses how a code and its district are spelled here. */
static void complain_of_district(void)
{
    fe_strbuf names = FE_STRBUF_INIT;
    char name[FE_ICE_PRESET_ROOM];
    for (size_t i = 0; i < FE_ICE_PRESETS; i++) {
        fe_ice_preset_name(i, name);
        fe_strbuf_format(&names, "%s%s", i > 0 ? "; " : "", name);
    }
    options_complain(WHO, "--district: expected one of %s", fe_strbuf_text(&names));
    fe_strbuf_free(&names);
}

static void complain_of_code(void)
{
    fe_strbuf names = FE_STRBUF_INIT;
    for (size_t i = 0; i < fe_limits_code_count(); i++)
        fe_strbuf_format(&names, "%s%s", i > 0 ? "; " : "", fe_limits_code_at(i)->name);
    options_complain(WHO, "--clearance-code: expected one of %s", fe_strbuf_text(&names));
    fe_strbuf_free(&names);
}

/* Names of options that no table has; how many. */
static int complain_of_names(const options *given)
{
    const char *code = options_text(given, "clearance-code");
    const char *anchor = options_text(given, "anchor");
    const char *wood = options_text(given, "wood");
    const char *soil = options_text(given, "soil");
    int mistakes = 0;
    if (code && !fe_limits_code_find(code)) {
        complain_of_code();
        mistakes++;
    }
    if (anchor && !fe_anchor_find(anchor)) {
        options_complain(WHO,
                         "--anchor: expected a class of holding power, for example "
                         "--anchor \"%s\"",
                         fe_anchor_at(0)->name);
        mistakes++;
    }
    if (wood && !fe_wood_known(wood)) {
        options_complain(WHO,
                         "--wood: %s: no such strength class or species; for example "
                         "--wood C24",
                         wood);
        mistakes++;
    }
    if (soil && !fe_plan_knows_soil(soil)) {
        options_complain(WHO,
                         "--soil: %s: no such soil; one of clay, sand, gravel, stony, rock, "
                         "bedrock, unknown",
                         soil);
        mistakes++;
    }
    return mistakes;
}

/* What a plan says itself: an option beside it would go unheard. */
static int complain_of_plan_and(const options *given)
{
    static const char *const IN_PLACE[] = {
        "rise",         "post-length",
        "diameter",     "wood",
        "soil",         "messenger",
        "span",         "sag",
        "end-height",   "clearance",
        "below",        "start-height",
        "snow",         "ice",
        "wind",         "coldest",
        "anchor",       "clearance-code",
        "hottest",      "safety",
        "free-running", "stringing-temperature",
    };
    int mistakes = 0;
    for (size_t i = 0; options_operands(given) > 0 && i < sizeof IN_PLACE / sizeof IN_PLACE[0];
         i++)
        if (options_given(given, IN_PLACE[i])) {
            options_complain(WHO,
                             "--%s: goes with --distance; a plan says it itself, in [posts] "
                             "or [climate]",
                             IN_PLACE[i]);
            mistakes++;
        }
    return mistakes;
}

static int check_call(const options *given, fe_posts_wish *wish)
{
    int mistakes = complain_of_plan_and(given) + complain_of_names(given);
    fe_ice_district found;
    wish->district = options_text(given, "district");
    if ((options_operands(given) > 0) == options_given(given, "distance")) {
        options_complain(WHO, "give a PLAN or --distance, one of both, for example "
                              "--distance 95m");
        mistakes++;
    }
    if (wish->district && fe_ice_preset(wish->district, 0.01, &found) != FE_OK) {
        complain_of_district();
        mistakes++;
    }
    wish->wet_snow_kg_m = options_number(given, "wet-snow", 0.0);
    wish->step_m = options_number(given, "step", 0.0);
    wish->no_stays = options_given(given, "no-stays");
    return mistakes;
}

static int print_json(const fe_posts_result *r)
{
    fe_strbuf out = FE_STRBUF_INIT;
    return output_report(WHO, fe_report_posts_json(r, &out), &out);
}

/* ---- Text and figures ---- */

/* What counted because nothing was said of it. */
static void say_usual(const fe_posts_result *r, const options *given, fe_document *doc)
{
    const fe_plan_posts *posts = &r->plan->posts;
    const fe_climate usual = plan_usual_climate(r->plan);
    fe_strbuf lengths = FE_STRBUF_INIT;
    for (size_t i = 0; i < posts->post_lengths_m.count; i++)
        fe_strbuf_format(&lengths, "%s%s", i > 0 ? ", " : "",
                         fe_amount_value(doc, posts->post_lengths_m.items[i], FE_STYLE_LENGTH));
    const struct {
        const char *option;
        const char *what;
        const char *value;
    } taken[] = {
        {"snow", "deepest snow", fe_amount(doc, usual.deepest_snow_m, FE_STYLE_DEPTH)},
        {"ice", "ice on the cable", fe_amount(doc, usual.ice_m, FE_STYLE_THICKNESS)},
        {"wind", "strongest gust", fe_amount(doc, usual.wind_m_s, FE_STYLE_SPEED)},
        {"coldest", "coldest air", fe_amount(doc, usual.coldest_c, FE_STYLE_TEMPERATURE)},
        {"hottest", "hottest air", fe_amount(doc, usual.hottest_c, FE_STYLE_TEMPERATURE)},
        {"post-length", "posts on hand, long", fe_strbuf_text(&lengths)},
        {"diameter", "round posts of",
         fe_amount_value(doc, posts->section_m, FE_STYLE_THICKNESS)},
        {"wood", "wood", posts->wood},
        {"soil", "soil", posts->soil},
        {"start-height", "attachment on the first building",
         fe_amount_value(doc, posts->start_height_m, FE_STYLE_HEIGHT)},
        {"end-height", "on the far building",
         fe_amount_value(doc, posts->end_height_m, FE_STYLE_HEIGHT)},
        {"below", "passing below", "walkers"},
        {"cable", "cable", r->cable->label},
        {"span", "spans of", fe_amount_value(doc, posts->span_m, FE_STYLE_LENGTH)},
        {"sag", "sag at stringing of at most",
         fe_amount(doc, r->input.most_sag_share, FE_STYLE_PERCENT)},
        {"stringing-temperature", "air on the day of pulling",
         fe_amount_value(doc, posts->stringing_c, FE_STYLE_TEMPERATURE)},
    };
    fe_strbuf list = FE_STRBUF_INIT;
    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++)
        if (!options_given(given, taken[i].option))
            fe_strbuf_format(&list, "%s%s %s", list.length > 0 ? ", " : "", taken[i].what,
                             taken[i].value);
    if (list.length > 0)
        fe_document_pair(doc, "Taken as usual", "%s.", fe_strbuf_text(&list));
    fe_document_free_text(doc, &lengths);
    fe_document_free_text(doc, &list);
}

/* Figures where they are asked for, text where JSON is not. */
static int print_text(const fe_posts_result *r, const options *given)
{
    fe_document *doc = fe_document_new("The run on posts");
    const bool figures = options_given(given, "figures");
    fe_gnuplot *gnuplot = figures ? fe_gnuplot_new(FE_GNUPLOT_SECONDS) : NULL;
    fe_report_posts_verdict(r, doc);
    if (options_given(given, "distance"))
        say_usual(r, given, doc);
    fe_report_posts_sheet(r, 2, doc);
    fe_report_posts_reasons(r, 2, doc);
    fe_status status = fe_document_status(doc);
    if (status == FE_OK && figures) {
        fe_document_heading(doc, 2, "Figures");
        status = fe_report_posts_section(r, "overhead", "The run in section, every season",
                                         gnuplot, output_units(given), doc);
    }
    if (status == FE_OK && figures)
        status = fe_report_posts_chart(r, gnuplot, output_units(given), doc);
    fe_report_posts_notes(r, doc);
    const int code =
        status == FE_OK ? output_document(WHO, given, doc) : output_failed(WHO, status);
    fe_gnuplot_free(gnuplot);
    fe_document_free(doc);
    return code;
}

/* ---- Sheet ---- */

static int write_sheet(const fe_posts_result *r, const options *given)
{
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    fe_document *doc = NULL;
    fe_status status = fe_sheet_of_posts(r, gnuplot, output_units(given), &doc);
    if (status >= 0)
        status = output_sheet(WHO, given, doc);
    fe_gnuplot_free(gnuplot);
    fe_document_free(doc);
    return output_ended(WHO, status);
}

/* ---- The command ---- */

static void complain_of_plan(const fe_plan *plan, fe_status status)
{
    if (status == FE_E_INPUT)
        options_complain(WHO, "cable %s or messenger %s: no table has it",
                         plan->posts.cable ? plan->posts.cable : "-",
                         plan->posts.messenger ? plan->posts.messenger : "-");
    else if (status == FE_E_DOMAIN)
        options_complain(WHO, "no run can be laid out with these lengths of post, spans and "
                              "heights; `farend posts --help` shows the usual ones");
    else
        options_complain(WHO, "%s", fe_status_text(status));
}

static int run(const options *given)
{
    fe_posts_wish wish = {0};
    fe_plan plan = {0};
    fe_posts_result result;
    if (check_call(given, &wish) > 0)
        return EXIT_BAD_INPUT;
    int code = options_operands(given) > 0
                   ? plan_open(WHO, given, options_operand(given, 0), &plan)
                   : make_plan(given, &plan);
    if (code != EXIT_DONE)
        return code;
    const fe_cable_class *cable = NULL;
    if (options_given(given, "cable")) {
        cable = fe_plan_cable_class(&plan, options_text(given, "cable"));
        if (!cable) {
            options_complain(WHO, "--cable: no class %s", options_text(given, "cable"));
            fe_plan_free(&plan);
            return EXIT_BAD_INPUT;
        }
    }
    const fe_status status = fe_posts_plan(&plan, 0, cable, &wish, &result);
    code = command_exit_code(status);
    if (status != FE_OK) {
        complain_of_plan(&plan, status);
    } else {
        code = options_given(given, "sheet") ? write_sheet(&result, given) : EXIT_DONE;
        const bool sound = code == EXIT_DONE;
        if (sound)
            code = print_text(&result, given);
        if (sound && options_given(given, "json") && print_json(&result) != EXIT_DONE)
            code = EXIT_WORK_FAILED;
        fe_posts_result_free(&result);
    }
    fe_plan_free(&plan);
    return code;
}

const command COMMAND_POSTS = {
    .name = "posts",
    .summary = "the overhead run: posts, spans, sag, and a sheet to build from",
    .usage = "[PLAN] [OPTION]...",
    .description =
        "Finds the fewest posts that carry a cable to the far building in every season:\n"
        "pull, height over ground, ways and snow, bending and hold of every post. Prints\n"
        "where to set them, a stringing table, and what to buy. With a plan, what is\n"
        "given there counts; without one, --distance and the options.\n",
    .options = OPTIONS,
    .example = "--distance 95m --post-length 4m --cable outdoor-data-messenger --snow 0.8m "
               "--ice 10mm",
    .operands_min = 0,
    .operands_max = 1,
    .operand_name = "PLAN",
    .run = run,
};
