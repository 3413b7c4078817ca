/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_RADIO_SETUP_H
#define APP_RADIO_SETUP_H

#include <jansson.h>
#include <stdbool.h>

#include "app/options.h"
#include "farend/budget.h"
#include "farend/document.h"
#include "farend/gnuplot.h"
#include "farend/hop.h"
#include "farend/plan.h"
#include "farend/radio_relays.h"
#include "farend/wall.h"

/*
 * One radio path for a command that works from a plan or from options alone. What was not said
 * is filled with a usual value, and every such value is in the list of assumptions.
 */
enum { SETUP_WALLS = 12, SETUP_ASSUMPTIONS = 24, SETUP_MASTS = FE_RELAY_MOST_MASTS };

typedef struct radio_setup {
    fe_plan plan; /* with the catalogue, also where options were all there is */
    bool from_plan;
    fe_profile ground;
    fe_hop hop; /* f_hz and the radios are set by radio_setup_tune, all of it by ..._pair */
    fe_hop *planned;
    size_t path; /* of the plan */
    fe_hop_wall walls[2][SETUP_WALLS];
    fe_stand trees; /* from options */
    const fe_gear *gear[2];
    fe_season *usual_seasons;
    const fe_season *seasons;
    size_t season_count;
    fe_wanted wanted;
    bool bands[FE_BANDS];
    double masts_m[SETUP_MASTS]; /* of relays */
    size_t mast_count;
    fe_strbuf assumptions[SETUP_ASSUMPTIONS];
    size_t assumption_count;
} radio_setup;

/* Options that the commands share. */
#define OPTION_ROWS_RADIO                                                                      \
    {.name = "gear",                                                                           \
     .kind = OPTION_TEXT,                                                                      \
     .metavar = "CLASS",                                                                       \
     .help = "class of gear at both ends (indoor-extender)"},                                  \
        {.name = "rate",                                                                       \
         .kind = OPTION_QUANTITY,                                                              \
         .dimension = FE_DIM_DATA_RATE,                                                        \
         .bounds = "1 b/s..100 Gb/s",                                                          \
         .help = "rate the user wants (2 Mb/s)"},                                              \
        {.name = "wall",                                                                       \
         .kind = OPTION_TEXT,                                                                  \
         .metavar = "KIND",                                                                    \
         .repeats = true,                                                                      \
         .help = "wall of the house (\"brick 110 mm\"); again: the next one; none"},           \
        {.name = "trees",                                                                      \
         .kind = OPTION_QUANTITY,                                                              \
         .dimension = FE_DIM_LENGTH,                                                           \
         .bounds = "0..1 km",                                                                  \
         .help = "depth of trees in the middle of the way (0 m)"},                             \
        {.name = "height",                                                                     \
         .kind = OPTION_QUANTITY,                                                              \
         .dimension = FE_DIM_LENGTH,                                                           \
         .bounds = "0.05..150 m",                                                              \
         .repeats = true,                                                                      \
         .help = "antenna over ground; twice: first end, then the others"},                    \
    {                                                                                          \
        .name = "region", .kind = OPTION_TEXT, .choices = "US|EU|UK|CA|AU",                    \
        .help = "whose radio rules (EU)"                                                       \
    }

/*
 * Reads the plan and turns to the path that --path names, else the first. False: *code is the
 * exit code, messages are printed.
 */
bool radio_setup_plan(const char *who, const options *given, const char *plan_file,
                      radio_setup *setup, int *code);
/* A path that is told by options. */
typedef struct radio_way {
    double distance_m; /* > 0 */
    bool far_indoors;  /* the far end is behind a wall of boards, else outdoors */
    const char *rate;  /* the option that says which rate is wanted */
} radio_way;
bool radio_setup_options(const char *who, const options *given, const radio_way *way,
                         radio_setup *setup, int *code);
void radio_setup_free(radio_setup *setup);

/* Turns to a path of the plan: its ground and what is wanted over it. */
void radio_setup_path(radio_setup *setup, size_t path);
/*
 * The hop of that path in a band, by the pair of gear of fe_radio_reported_link.
 * FE_E_NO_SOLUTION: there is no pair.
 */
FE_MUST_CHECK fe_status radio_setup_pair(radio_setup *setup, fe_band band, bool aimed);
/* The same by the gear that stands in setup->gear. */
FE_MUST_CHECK fe_status radio_setup_hop(radio_setup *setup, fe_band band);

/* From options: puts the radios of a band into the hop; false where an end's gear has none. */
bool radio_setup_tune(radio_setup *setup, fe_band band, double f_hz);

/* Every --wall, SETUP_WALLS at most; "none" gives no wall. False: messages are printed. */
bool radio_setup_walls(const char *who, const options *given, fe_hop_wall *walls,
                       size_t *count);
/* A class of the catalogue; null with a message where there is none. */
const fe_gear *radio_setup_gear(const char *who, const fe_plan *plan, const char *name);
fe_region radio_setup_region(const options *given);
/* Of --height: the first end's, then the others'. False with a message where there are more. */
bool radio_setup_heights(const char *who, const options *given, double usual_m,
                         double heights_m[2]);

void radio_setup_assume(radio_setup *setup, const char *format, ...) FE_PRINTF(2, 3);
/* The list as a part of a document. */
void radio_setup_print(const radio_setup *setup, fe_document *doc);
/* And as JSON; null where memory is out. */
json_t *radio_setup_json(const radio_setup *setup);

#define OPTION_ROW_PATH                                                                        \
    {                                                                                          \
        .name = "path", .kind = OPTION_TEXT, .metavar = "NAME", .help = "path of the plan"     \
    }

#endif
