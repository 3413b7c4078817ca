/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_HOP_H
#define FAREND_HOP_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/foliage.h"
#include "farend/gear.h"
#include "farend/profile.h"

/*
 * One radio hop: two stations, the bare ground between them and what stands on it. The season
 * is apart, because the same hop is computed in each.
 */

/* Areas as the power rules name them. */
typedef enum fe_region {
    FE_REGION_US,
    FE_REGION_EU,
    FE_REGION_UK,
    FE_REGION_CA,
    FE_REGION_AU,
    FE_REGIONS
} fe_region;

const char *fe_region_name(fe_region region); /* "US", "EU", ... */

typedef enum fe_mount { FE_MOUNT_INDOORS, FE_MOUNT_OUTDOORS, FE_MOUNT_BEHIND_GLASS } fe_mount;

/* How well an antenna is put on target. */
typedef enum fe_aim { FE_AIM_ROUGH, FE_AIM_BY_SIGNAL } fe_aim;

/* What else is on the air at a station. */
typedef enum fe_noise { FE_NOISE_QUIET_RURAL, FE_NOISE_VILLAGE, FE_NOISE_FLATS } fe_noise;

/* What lies between the ends, apart from trees. */
typedef enum fe_land {
    FE_LAND_MEADOW,
    FE_LAND_FIELD,
    FE_LAND_YARD, /* buildings, vehicles, fences: wider spread */
    FE_LAND_WATER,
    FE_LAND_WOODLAND
} fe_land;

/* Trees along a part of the hop. */
typedef struct fe_stand {
    double from_m; /* from the first station */
    double to_m;
    double height_m; /* above the ground they stand on */
    fe_tree_kind kind;
} fe_stand;

typedef struct fe_hop_wall {
    const char *kind;   /* as fe_wall_loss knows it */
    double thickness_m; /* NAN: the kind's usual one */
} fe_hop_wall;

typedef struct fe_station {
    const fe_radio *radio;
    bool antenna_built_in;
    double height_m; /* antenna above the bare ground */
    fe_mount mount;
    const fe_hop_wall *walls; /* between the antenna and outdoors */
    size_t wall_count;
    bool wall_unknown; /* a building nobody knows: entry loss in place of walls */
    double feeder_db;
    fe_aim aim;
    fe_noise noise;
    double port_bps; /* wired port that the traffic must pass; 0: none */
} fe_station;

typedef struct fe_hop {
    const fe_profile *ground; /* bare, the first station at distance 0 */
    const fe_stand *stands;
    size_t stand_count;
    fe_land land;
    fe_region region;
    double f_hz;
    fe_station ends[2];
} fe_hop;

/* A frequency that stands for a band where a region opens it, in the middle of common channels.
 */
double fe_band_frequency(fe_band band, fe_region region);

#endif
