/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be wrong with a link, as figures; and what words say about the weather. */
#include <ctype.h>
#include <string.h>
#include <strings.h>

#include "farend/acceptance.h"

/* clang-format off */
#define NO FE_CAUSE_NO_LOSS
#define BOTH FE_CAUSE_BOTH_WAYS
#define ONE FE_CAUSE_ONE_WAY

/*
 * All figures: common practice, no source. `nothing wrong` keeps a third of the chance: whoever
 * takes readings often only wonders. What a season brings is computed already, its rain and wet
 * covers at their worst; a day exceeds that by a film twice as thick (ITU-R P.840: another 1 to
 * 2 dB) and, by ITU-R P.838, by no rain: under 1 dB a kilometre up to 6 GHz even at 100 mm/h.
 */
static const fe_cause_row CAUSES[FE_CAUSES] = {
    /*                                                                                                                                 loss of the link, dB          of it, share     noise, dB   rate, decades  lost   swing, dB */
    /* name, check                                                                                            prior  way   mean  sigma  least most   dry   bare   mean sigma  mean  sigma    pings  mean sigma */
    [FE_CAUSE_NONE] = {"nothing wrong", "Nothing to do; keep the readings for comparison.",                    0.34, NO,    0.0, 0.0,  0.0,  0.0,  1.0,  1.0,   0.0, 0.0,  0.00, 0.00,   0.00,  2.0, 1.5},
    [FE_CAUSE_AIM] = {"an antenna off target", "Turn one antenna slowly through the whole lobe, across and up and down, and leave it at the highest level; then the other.", 0.10, BOTH, 11.0, 5.0, 4.0, 30.0, 1.0, 1.0, 0.0, 0.0, 0.00, 0.00, 0.00, 2.0, 1.5},
    [FE_CAUSE_FEEDER] = {"the cable or a connector between radio and antenna", "Undo, look at and remake the connectors; put a short known cable in place of the feeder.", 0.05, BOTH, 7.0, 3.5, 2.0, 20.0, 1.0, 1.0, 0.0, 0.0, 0.00, 0.00, 0.00, 2.0, 1.5},
    [FE_CAUSE_WATER] = {"water in the cable or a connector", "Open the connectors, dry or replace them and the cable, and tape them; hang a drip loop.", 0.04, BOTH, 10.0, 5.0, 3.0, 28.0, 0.35, 1.0, 0.0, 0.0, 0.00, 0.00, 0.00, 2.0, 1.5},
    [FE_CAUSE_OBSTRUCTION] = {"something in the way that the plan does not have", "Look along the line from antenna to antenna: a roof, a vehicle, a bank, a stack; raise the lower end.", 0.08, BOTH, 8.0, 4.0, 3.0, 25.0, 1.0, 1.0, 0.0, 0.0, 0.00, 0.05, 0.01, 3.5, 2.5},
    [FE_CAUSE_FOLIAGE] = {"more leaves in the way than the plan has", "Look for branches on the line; cut them, or raise an end above them.", 0.06, BOTH, 8.0, 4.0, 2.0, 30.0, 0.7, 0.3, 0.0, 0.0, 0.00, 0.05, 0.01, 6.0, 2.5},
    [FE_CAUSE_WALL] = {"a wall or coated glass that the plan does not have", "Carry the indoor end to an open window: what comes back is the wall. Hang the antenna outside.", 0.04, BOTH, 11.0, 5.0, 4.0, 35.0, 1.0, 1.0, 0.0, 0.0, 0.00, 0.00, 0.00, 2.0, 1.5},
    [FE_CAUSE_WEATHER] = {"the weather of the day", "Read again on a dry day.",                                0.03, BOTH, 1.0, 1.0, 0.0, 4.0,  0.1,  1.0,   0.0, 0.0,  0.00, 0.05,   0.00,  2.5, 1.5},
    [FE_CAUSE_NOISE] = {"noise or a busy channel", "Change to a quieter channel, narrow it, and read again; switch things off at the end that hears badly.", 0.07, NO, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 9.0, 5.0, -0.40, 0.20, 0.06, 2.5, 1.5},
    [FE_CAUSE_POWER] = {"the transmit power of one end set too low", "Look at the power, region and antenna gain set at the end that is heard badly.", 0.05, ONE, 10.0, 4.5, 3.0, 25.0, 1.0, 1.0, 0.0, 0.0, 0.00, 0.00, 0.00, 2.0, 1.5},
    [FE_CAUSE_ACK_TIMEOUT] = {"the acknowledgement timeout is too short for the distance", "Set the distance (or acknowledgement timeout) at both ends to somewhat more than the real distance.", 0.04, NO, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0, -0.80, 0.25, 0.04, 2.0, 1.5},
    [FE_CAUSE_MOUNT] = {"a loose or bent mount", "Shake the mount by hand and watch the level; tighten, brace, aim again.",              0.03, BOTH, 6.0, 4.0,  0.0, 20.0,  1.0,  1.0,   0.0, 0.0,  0.00, 0.10,   0.04, 10.0, 3.5},
    [FE_CAUSE_SUPPLY] = {"too little voltage or too much heat, not radio", "Measure the voltage at the device under load; look at its uptime, and feel the case.", 0.03, NO, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0, -0.10, 0.15, 0.20, 2.5, 1.5},
    [FE_CAUSE_PORT] = {"a wired port or cable that caps the rate", "Look at the speed the wired port has agreed on; a damaged pair makes 100 Mb/s or 10 Mb/s of it.", 0.02, NO, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0, 0.00, 0.00, 0.00, 2.0, 1.5},
    [FE_CAUSE_FAR_HOP] = {"a station talks to a hop farther away", "Look at which relay it is connected to; fix the partner, or give the hops names of their own.", 0.02, BOTH, 15.0, 6.0, 6.0, 35.0, 1.0, 1.0, 0.0, 0.0, -0.30, 0.15, 0.01, 2.5, 1.5},
};
/* clang-format on */

const fe_cause_row *fe_cause_of(fe_cause cause)
{
    return &CAUSES[cause];
}

/* ---- Weather ---- */

typedef enum weather_sort {
    IS_WET,
    IS_DRY,
    IS_SNOW,
    IS_FROST,
    IS_HOT,
    IS_WINDY,
    IS_BARE,
    IS_LEAFY
} weather_sort;

static const struct {
    const char *word; /* one that ends in '*' stands for all that begin so */
    weather_sort sort;
} WORDS[] = {
    {"wet", IS_WET},      {"rain*", IS_WET},     {"drizzle", IS_WET},     {"thaw*", IS_WET},
    {"dry", IS_DRY},      {"sunny", IS_DRY},     {"clear", IS_DRY},       {"snow*", IS_SNOW},
    {"frost*", IS_FROST}, {"frozen", IS_FROST},  {"freez*", IS_FROST},    {"hot", IS_HOT},
    {"heat", IS_HOT},     {"wind*", IS_WINDY},   {"storm*", IS_WINDY},    {"gale", IS_WINDY},
    {"bare", IS_BARE},    {"leafless", IS_BARE}, {"winter", IS_BARE},     {"december", IS_BARE},
    {"january", IS_BARE}, {"february", IS_BARE}, {"march", IS_BARE},      {"leaf", IS_LEAFY},
    {"leaves", IS_LEAFY}, {"summer", IS_LEAFY},  {"may", IS_LEAFY},       {"june", IS_LEAFY},
    {"july", IS_LEAFY},   {"august", IS_LEAFY},  {"september", IS_LEAFY},
};

static bool is_word(const char *word, const char *text, size_t length)
{
    const size_t stem = strcspn(word, "*");
    return word[stem] == '*' ? length >= stem && strncasecmp(word, text, stem) == 0
                             : length == stem && strncasecmp(word, text, stem) == 0;
}

static void note(weather_sort sort, fe_accept_weather *weather)
{
    weather->said = true;
    weather->wet = weather->wet || sort == IS_WET;
    weather->snow = weather->snow || sort == IS_SNOW;
    weather->frost = weather->frost || sort == IS_FROST;
    weather->hot = weather->hot || sort == IS_HOT;
    weather->windy = weather->windy || sort == IS_WINDY;
    /* "bare" wins over a month: some trees keep their leaves, none grow them in frost. */
    if (sort == IS_BARE)
        weather->leaves = 0;
    else if (sort == IS_LEAFY && weather->leaves < 0)
        weather->leaves = 1;
}

fe_accept_weather fe_accept_weather_of(const char *text)
{
    fe_accept_weather weather = {.leaves = -1};
    bool negated = false;
    for (const char *at = text; at && *at;) {
        size_t length = 0;
        while (isalpha((unsigned char)at[length]))
            length++;
        for (size_t i = 0; length > 0 && i < sizeof WORDS / sizeof WORDS[0]; i++)
            if (is_word(WORDS[i].word, at, length)) {
                const bool no_leaves = negated && WORDS[i].sort == IS_LEAFY;
                if (no_leaves || !negated)
                    note(no_leaves ? IS_BARE : WORDS[i].sort, &weather);
            }
        if (length > 0)
            negated = is_word("no", at, length) || is_word("without", at, length);
        at += length > 0 ? length : 1;
    }
    return weather;
}

static bool is_wet(const fe_season *season)
{
    return season->cover != FE_COVER_DRY;
}

/* How well a season agrees with what was said. */
static int agreement(const fe_season *season, const fe_accept_weather *weather)
{
    int points = is_wet(season) == weather->wet ? 2 : 0;
    points += (season->snow_depth_m > 0.0) == weather->snow ? 2 : 0;
    if (weather->leaves >= 0)
        points += season->in_leaf == (weather->leaves == 1) ? 3 : 0;
    if (weather->frost)
        points += season->trees == FE_TREES_FROZEN ? 2 : 0;
    return points;
}

fe_season fe_accept_season(const fe_season *seasons, size_t count,
                           const fe_accept_weather *weather)
{
    size_t best = 0;
    for (size_t i = 1; i < count; i++)
        if (agreement(&seasons[i], weather) > agreement(&seasons[best], weather))
            best = i;
    fe_season day = seasons[best];
    if (!weather->said)
        return day;
    if (weather->leaves >= 0) {
        day.in_leaf = weather->leaves == 1;
        if (!day.in_leaf)
            day.crop_height_m = 0.0;
    }
    if (!weather->snow && day.snow_depth_m > 0.0) {
        day.snow_depth_m = 0.0;
        day.surface = weather->wet ? FE_SURFACE_WET_SOIL : FE_SURFACE_DRY_SOIL;
    }
    day.trees = weather->frost ? FE_TREES_FROZEN : weather->wet ? FE_TREES_WET : FE_TREES_DRY;
    day.cover = !weather->wet   ? FE_COVER_DRY
                : weather->snow ? FE_COVER_WET_SNOW
                                : FE_COVER_WATER_FILM;
    return day;
}
