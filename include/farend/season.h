/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SEASON_H
#define FAREND_SEASON_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/profile.h"
#include "farend/status.h"

/*
 * A season is a state of the place: physical inputs, never a table of decibels. The radio side
 * and the wired side each work out what the state does to them.
 */
typedef enum fe_surface {
    FE_SURFACE_DRY_SOIL,
    FE_SURFACE_WET_SOIL,
    FE_SURFACE_WATER,
    FE_SURFACE_DRY_SNOW,
    FE_SURFACE_WET_SNOW,
    FE_SURFACE_ICE
} fe_surface;

/* The water in wood absorbs far less when it is ice: three states of the same trees. */
typedef enum fe_tree_state { FE_TREES_DRY, FE_TREES_WET, FE_TREES_FROZEN } fe_tree_state;

/* What lies on an antenna's cover. */
typedef enum fe_cover { FE_COVER_DRY, FE_COVER_WATER_FILM, FE_COVER_WET_SNOW } fe_cover;

/* A year by months, and some to spare: more are refused where a plan is read. */
enum { FE_MOST_SEASONS = 16, FE_SEASON_NAME_ROOM = 50 };

typedef struct fe_season {
    char name[FE_SEASON_NAME_ROOM];
    double snow_depth_m;
    bool snow_is_wet;
    double crop_height_m;
    fe_surface surface; /* what the ground ray meets on land; a lake keeps its own */
    bool in_leaf;
    fe_tree_state trees;
    fe_cover cover;
    double coldest_c; /* coldest air of the season */
    double hottest_c;
    double ice_m;     /* radial thickness on a cable */
    double wind_m_s;  /* gust at cable height */
    double rain_mm_h; /* rate exceeded for 0.01 % of the time */
} fe_season;

/* What an owner knows of the climate of a place. */
typedef struct fe_climate {
    double deepest_snow_m;
    double coldest_c;
    double hottest_c;
    double ice_m;
    double wind_m_s;
    double rain_mm_h;
    double crop_height_m;
} fe_climate;

enum { FE_USUAL_SEASONS = 4 };

/*
 * The usual four out of a climate: "dry summer", "wet summer", "deep winter", "thaw with ice".
 * Wet seasons have a water film on covers and the full rain rate; the deep winter has the
 * deepest snow, dry and frozen; the thaw has half the snow, wet, wet snow on covers, and the
 * ice. Which shares are taken is common practice, no source; see the source file.
 */
void fe_seasons_usual(const fe_climate *climate, fe_season seasons[FE_USUAL_SEASONS]);

/*
 * The ground as a radio wave or a walker meets it in the season: the profile raised by snow and
 * crop, whichever is higher (snow buries the crop). Antennas keep their height above the bare
 * ground, and what stands on it its top.
 *   ground  result, to be freed; untouched on error
 *
 * FE_OK, FE_E_MEMORY
 * FE_E_DOMAIN  a height is below zero or not finite, or the profile has fewer than two points
 */
FE_MUST_CHECK fe_status fe_season_ground(const fe_season *season, const fe_profile *bare,
                                         fe_profile *ground);

/* By how much the season raises the ground. */
double fe_season_rise(const fe_season *season);

#endif
