/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/input_traits.h"

#include <string.h>

enum {
    R = FE_CONCERNS_RADIO,
    P = FE_CONCERNS_POSTS,
    C = FE_CONCERNS_CABLES,
    F = FE_CONCERNS_FEED
};

static const char TAPE[] = "a tape, or a stick cut to length";
static const char PHONE[] =
    "a phone's level reading at the spot, with and without it in the way";
static const char SNOW_STICK[] = "a marked stick left out for a winter; until then a neighbour "
                                 "who remembers the fences under snow";
static const char THERMOMETER[] = "a thermometer that keeps its lowest and highest";
static const char ICE_SCALE[] =
    "a kitchen scale and a metre of cable, cut down iced and weighed";
static const char WATTMETER[] = "a plug-in energy meter, or the plate on the appliance";
static const char RAIN_OFFICE[] = "the nearest weather station's records";
static const char SPADE[] = "a spade: one hole, looked at";

/* clang-format off */
#define FACT(section, key, concerns, step, share, means) {section, key, concerns, step, share, means, false}
#define WANT(section, key, concerns, step, share, means) {section, key, concerns, step, share, means, true}
/*
 * Steps and means: common practice, no source.
 * section, key, concerns, step, share, means
 */
static const input_trait TRAITS[] = {
    FACT("site", "region", R, 0.0, 0.0, "the address"),
    FACT("site", "flash-density", 0, 0.0, 0.5, "the nearest weather service's lightning map"),
    WANT("site", "availability", R, 0.005, 0.0, NULL),
    WANT("site", "confidence", R, 0.05, 0.0, NULL),
    FACT("end", "height", R, 0.5, 0.1, TAPE),
    FACT("end", "mount", R, 0.0, 0.0, "a phone's level reading indoors, at the window and outside"),
    FACT("end", "feeder", R, 0.0, 0.0, "the print on its jacket, and a ruler across it"),
    FACT("end", "feeder-length", R, 1.0, 0.2, TAPE),
    FACT("end", "aim", R, 0.0, 0.0, NULL),
    FACT("end", "wall", R, 0.03, 0.2, "the depth of a window reveal, and a phone's level reading on both sides of the wall"),
    FACT("end", "noise", R, 0.0, 0.0, "a phone's list of networks at the spot: none, some, or many"),
    FACT("end", "mains", C | F, 0.0, 0.0, "a look for a meter, or a question to the supplier"),
    FACT("path", "distance", R | P | C | F, 1.0, 0.03, "counted paces, a measuring wheel or a map"),
    FACT("path", "rise", R | P | C | F, 0.5, 0.1, "a clear hose filled with water, or a phone's level along a lath"),
    FACT("path", "land", R, 0.0, 0.0, NULL),
    FACT("path", "crop", R, 0.2, 0.3, TAPE),
    FACT("trees", "from", R, 2.0, 0.0, TAPE),
    FACT("trees", "to", R, 2.0, 0.0, TAPE),
    FACT("trees", "height", R, 0.5, 0.15, "a torch at the far end after dark, looked for through the leaves; the height by a stick and its shadow"),
    FACT("trees", "kind", R, 0.0, 0.0, PHONE),
    FACT("traffic", "stream", R | C, 0.0, 0.25, "the setting in the camera, or what the router counts in an hour"),
    FACT("traffic", "transfer", R | C, 0.0, 0.25, "the size of one night's files"),
    WANT("traffic", "longest-delay", C, 0.0, 0.5, NULL),
    FACT("relay", "height", R, 0.5, 0.1, TAPE),
    FACT("climate", "deepest-snow", R | P, 0.1, 0.25, SNOW_STICK),
    FACT("climate", "coldest", P | F, 4.0, 0.0, THERMOMETER),
    FACT("climate", "hottest", P | C | F, 3.0, 0.0, THERMOMETER),
    FACT("climate", "ice", P, 3e-3, 0.25, ICE_SCALE),
    FACT("climate", "wind", P, 4.0, 0.0, RAIN_OFFICE),
    FACT("climate", "rain", R, 10.0, 0.25, RAIN_OFFICE),
    FACT("season", "snow", R | P, 0.1, 0.25, SNOW_STICK),
    FACT("season", "snow-is", R, 0.0, 0.0, "a ball of it, squeezed: wet snow drips"),
    FACT("season", "surface", R, 0.0, 0.0, "a look at the ground on such a day"),
    FACT("season", "leaves", R, 0.0, 0.0, "a look at the trees on such a day"),
    FACT("season", "trees", R, 0.0, 0.0, PHONE),
    FACT("season", "cover", R, 0.0, 0.0, "a look at a pane outdoors on such a day"),
    FACT("season", "crop", R, 0.2, 0.3, TAPE),
    FACT("season", "coldest", P | F, 4.0, 0.0, THERMOMETER),
    FACT("season", "hottest", P | C | F, 3.0, 0.0, THERMOMETER),
    FACT("season", "ice", P, 3e-3, 0.25, ICE_SCALE),
    FACT("season", "wind", P, 4.0, 0.0, RAIN_OFFICE),
    FACT("season", "rain", R, 5.0, 0.25, RAIN_OFFICE),
    FACT("posts", "messenger", P, 0.0, 0.0, "callipers on the strand, or its print"),
    FACT("posts", "wood", P, 0.0, 0.0, "the stamp on the post, or whoever sold it"),
    FACT("posts", "soil", P, 0.0, 0.0, SPADE),
    FACT("posts", "supply-above", P, 0.1, 0.0, TAPE),
    FACT("posts", "tied", P, 0.0, 0.0, NULL),
    FACT("posts", "frost-depth", P, 0.1, 0.2, SPADE),
    FACT("posts", "sag", P, 0.0, 0.1, NULL),
    FACT("posts", "start-height", P | C, 0.2, 0.05, TAPE),
    FACT("posts", "end-height", P | C, 0.2, 0.05, TAPE),
    FACT("posts", "stringing-temperature", P, 5.0, 0.0, THERMOMETER),
    FACT("posts", "setting-depth", P, 0.1, 0.1, SPADE),
    FACT("posts", "clearance", P, 0.0, 0.0, "whoever passes below, and your local code"),
    FACT("posts", "wet-snow", P, 0.2, 0.25, ICE_SCALE),
    FACT("posts", "section", P, 3e-3, 0.0, TAPE),
    FACT("trench", "along", C | F, 1.0, 0.05, TAPE),
    FACT("trench", "depth", C | F, 0.1, 0.1, SPADE),
    FACT("cable", "indoor", C | F, 1.0, 0.2, TAPE),
    FACT("cable", "cords", C, 1.0, 0.2, TAPE),
    FACT("cable", "patch-points", C, 1.0, 0.0, "a count of the sockets"),
    FACT("load", "power", C | F, 0.0, 0.2, WATTMETER),
    FACT("load", "current", C | F, 0.0, 0.2, WATTMETER),
    FACT("load", "start", F, 0.0, 0.3, WATTMETER),
    FACT("load", "power-factor", F, 0.05, 0.0, WATTMETER),
    FACT("load", "hours", F, 0.0, 0.25, "a week's notes"),
    FACT("load", "at", F, 1.0, 0.05, TAPE),
    WANT("feed", "allowed-drop", F, 0.01, 0.0, NULL),
    FACT("feed", "protection", F, 0.0, 0.0, "the print on the device, or an electrician"),
    FACT("feed", "earthing", F, 0.0, 0.0, "an electrician, or the label at the meter"),
    FACT("feed", "loop-impedance", F, 0.0, 0.3, "an electrician's loop test"),
    FACT("feed", "size", F, 0.0, 0.0, "the print on the sheath"),
    FACT("solar", "sun-hours", F, 0.0, 0.25, "a solar table for the place"),
    FACT("solar", "dark-days", F, 0.0, 0.3, RAIN_OFFICE),
    WANT("solar", "discharge", F, 0.1, 0.0, NULL),
    WANT("spare", "rate", R | C, 0.25, 0.0, NULL),
    WANT("spare", "power", C | F, 0.25, 0.0, NULL),
};
/* clang-format on */

const input_trait *input_trait_of(const fe_plan_input *input)
{
    for (size_t i = 0; i < sizeof TRAITS / sizeof TRAITS[0]; i++)
        if (strcmp(TRAITS[i].section, input->section) == 0 &&
            strcmp(TRAITS[i].key, input->key) == 0)
            return &TRAITS[i];
    return NULL;
}
