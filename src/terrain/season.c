/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/season.h"

#include <math.h>
#include <string.h>

/*
 * Shares that make four seasons out of one climate. All are common practice, no source: they
 * stand for a temperate year, and a plan that knows better writes [season NAME] sections.
 */
static const double SUMMER_NIGHT_SHARE = 0.5; /* of the way from coldest to hottest */
static const double WET_SUMMER_DAY_SHARE = 0.8;
static const double THAW_SNOW_SHARE = 0.5; /* settled and half gone */
static const double THAW_RAIN_SHARE = 0.5; /* winter rain is long, not heavy */
/* Glaze and wet snow form close to freezing. */
static const double THAW_COLDEST_C = -5.0;
static const double THAW_HOTTEST_C = 5.0;

static void name_season(fe_season *season, const char *name)
{
    strncpy(season->name, name, sizeof season->name - 1);
}

/*
 * Every season gets the year's strongest gust: no owner knows in which it will come. Ice and
 * the full gust never act together; the wired side takes care of that.
 */
static fe_season start_season(const fe_climate *climate, const char *name)
{
    fe_season season = {.wind_m_s = climate->wind_m_s};
    name_season(&season, name);
    return season;
}

static double between_c(const fe_climate *climate, double share)
{
    return climate->coldest_c + share * (climate->hottest_c - climate->coldest_c);
}

static double within_c(const fe_climate *climate, double temp_c)
{
    return fmin(fmax(temp_c, climate->coldest_c), climate->hottest_c);
}

static fe_season dry_summer(const fe_climate *climate)
{
    fe_season season = start_season(climate, "dry summer");
    season.crop_height_m = climate->crop_height_m;
    season.surface = FE_SURFACE_DRY_SOIL;
    season.in_leaf = true;
    season.trees = FE_TREES_DRY;
    season.cover = FE_COVER_DRY;
    season.coldest_c = between_c(climate, SUMMER_NIGHT_SHARE);
    season.hottest_c = climate->hottest_c;
    return season;
}

static fe_season wet_summer(const fe_climate *climate)
{
    fe_season season = dry_summer(climate);
    name_season(&season, "wet summer");
    season.surface = FE_SURFACE_WET_SOIL;
    season.trees = FE_TREES_WET;
    season.cover = FE_COVER_WATER_FILM;
    season.hottest_c = between_c(climate, WET_SUMMER_DAY_SHARE);
    season.rain_mm_h = climate->rain_mm_h;
    return season;
}

static fe_season deep_winter(const fe_climate *climate)
{
    const bool freezes = climate->coldest_c < 0.0;
    fe_season season = start_season(climate, "deep winter");
    season.snow_depth_m = climate->deepest_snow_m;
    /* Frozen soil without snow reflects as dry soil does: its water is ice. */
    season.surface = freezes ? FE_SURFACE_DRY_SOIL : FE_SURFACE_WET_SOIL;
    if (climate->deepest_snow_m > 0.0)
        season.surface = FE_SURFACE_DRY_SNOW;
    season.trees = freezes ? FE_TREES_FROZEN : FE_TREES_WET;
    season.cover = FE_COVER_DRY;
    season.coldest_c = climate->coldest_c;
    season.hottest_c = within_c(climate, 0.0);
    return season;
}

static fe_season thaw_with_ice(const fe_climate *climate)
{
    const bool snows = climate->deepest_snow_m > 0.0;
    fe_season season = start_season(climate, "thaw with ice");
    season.snow_depth_m = THAW_SNOW_SHARE * climate->deepest_snow_m;
    season.snow_is_wet = true;
    season.surface = snows ? FE_SURFACE_WET_SNOW : FE_SURFACE_WET_SOIL;
    season.trees = FE_TREES_WET;
    season.cover = snows ? FE_COVER_WET_SNOW : FE_COVER_WATER_FILM;
    season.coldest_c = within_c(climate, THAW_COLDEST_C);
    season.hottest_c = within_c(climate, THAW_HOTTEST_C);
    season.ice_m = climate->ice_m;
    season.rain_mm_h = THAW_RAIN_SHARE * climate->rain_mm_h;
    return season;
}

void fe_seasons_usual(const fe_climate *climate, fe_season seasons[FE_USUAL_SEASONS])
{
    seasons[0] = dry_summer(climate);
    seasons[1] = wet_summer(climate);
    seasons[2] = deep_winter(climate);
    seasons[3] = thaw_with_ice(climate);
}

double fe_season_rise(const fe_season *season)
{
    return fmax(season->snow_depth_m, season->crop_height_m);
}

fe_status fe_season_ground(const fe_season *season, const fe_profile *bare, fe_profile *ground)
{
    if (!(season->snow_depth_m >= 0.0) || !(season->crop_height_m >= 0.0) ||
        !isfinite(season->snow_depth_m + season->crop_height_m))
        return FE_E_DOMAIN;
    fe_profile raised = {0};
    const fe_status status = fe_profile_copy(bare, &raised);
    if (status != FE_OK)
        return status;
    const double rise_m = fe_season_rise(season);
    for (size_t i = 0; i < raised.count; i++) {
        raised.height_m[i] += rise_m;
        /* What stands on the ground keeps its top. */
        if (raised.clutter_m)
            raised.clutter_m[i] = fmax(0.0, raised.clutter_m[i] - rise_m);
    }
    *ground = raised;
    return FE_OK;
}
