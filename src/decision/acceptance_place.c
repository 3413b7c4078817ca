/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/acceptance_place.h"

typedef enum place_condition {
    HAS_BEAM,
    HAS_FEEDER,
    IS_OUTDOORS,
    IS_INDOORS,
    IS_TIGHT,
    HAS_TREES,
    IS_IN_LEAF,
    IS_BUSY,
    IS_LONG,
    IS_WINDY,
    IS_EXTREME,
    IS_RELAYED,
    IS_WET
} place_condition;

/* Factors on the chance of a cause where a condition is met and where it is not. */
static const struct {
    fe_cause cause;
    place_condition condition;
    double yes;
    double no;
} PLACE[] = {
    /* common practice, no source */
    {FE_CAUSE_AIM, HAS_BEAM, 1.0, 0.03},        {FE_CAUSE_FEEDER, HAS_FEEDER, 1.5, 0.15},
    {FE_CAUSE_WATER, HAS_FEEDER, 1.5, 0.15},    {FE_CAUSE_WATER, IS_OUTDOORS, 1.0, 0.1},
    {FE_CAUSE_OBSTRUCTION, IS_TIGHT, 2.0, 1.0}, {FE_CAUSE_FOLIAGE, HAS_TREES, 1.5, 0.3},
    {FE_CAUSE_FOLIAGE, IS_IN_LEAF, 1.2, 0.4},   {FE_CAUSE_WALL, IS_INDOORS, 2.0, 0.1},
    {FE_CAUSE_WEATHER, IS_WET, 1.5, 0.05},      {FE_CAUSE_NOISE, IS_BUSY, 1.5, 0.8},
    {FE_CAUSE_ACK_TIMEOUT, IS_LONG, 1.0, 0.02}, {FE_CAUSE_MOUNT, IS_WINDY, 2.0, 1.0},
    {FE_CAUSE_MOUNT, HAS_BEAM, 1.0, 0.5},       {FE_CAUSE_SUPPLY, IS_EXTREME, 2.0, 1.0},
    {FE_CAUSE_FAR_HOP, IS_RELAYED, 3.0, 0.03},
};

static bool any_end(const fe_hop *hop, bool (*holds)(const fe_station *station))
{
    return holds(&hop->ends[0]) || holds(&hop->ends[1]);
}

static bool has_beam(const fe_station *station)
{
    return fe_beam_is_narrow(station->radio->beam_rad);
}

static bool has_feeder(const fe_station *station)
{
    return !station->antenna_built_in || station->feeder_db > 0.0;
}

static bool is_outdoors(const fe_station *station)
{
    return station->mount == FE_MOUNT_OUTDOORS;
}

static bool is_indoors(const fe_station *station)
{
    return station->mount != FE_MOUNT_OUTDOORS;
}

static bool is_busy(const fe_station *station)
{
    return station->noise != FE_NOISE_QUIET_RURAL;
}

static bool is_tight(const fe_path_loss *loss)
{
    /* 0.6 of the first zone: the usual rule for a clear way. */
    return loss->has_tightest && loss->tightest.clearance_ratio < 0.6;
}

static bool is_met(const fe_accept_link *link, const accept_visit *visit,
                   place_condition condition)
{
    static const double LONG_M = 300.0;
    const fe_hop *hop = link->hop;
    const fe_accept_weather *weather = visit->weather;
    switch (condition) {
    case HAS_BEAM:
        return any_end(hop, has_beam);
    case HAS_FEEDER:
        return any_end(hop, has_feeder);
    case IS_OUTDOORS:
        return any_end(hop, is_outdoors);
    case IS_INDOORS:
        return any_end(hop, is_indoors);
    case IS_TIGHT:
        return is_tight(visit->loss);
    case HAS_TREES:
        return hop->stand_count > 0 || hop->land == FE_LAND_WOODLAND;
    case IS_IN_LEAF:
        return visit->day->in_leaf;
    case IS_BUSY:
        return any_end(hop, is_busy);
    case IS_LONG:
        return visit->loss->distance_m > LONG_M;
    case IS_WINDY:
        return weather->windy;
    case IS_EXTREME:
        return weather->hot || weather->frost;
    case IS_RELAYED:
        return link->relayed;
    case IS_WET:
        return visit->day->cover != FE_COVER_DRY;
    }
    return false;
}

void accept_weigh_place(const fe_accept_link *link, const accept_visit *visits, size_t count,
                        double factor[FE_CAUSES])
{
    for (int cause = 0; cause < FE_CAUSES; cause++)
        factor[cause] = 1.0;
    for (size_t i = 0; i < sizeof PLACE / sizeof PLACE[0]; i++) {
        bool met = false;
        for (size_t j = 0; j < count; j++)
            met = met || is_met(link, &visits[j], PLACE[i].condition);
        factor[PLACE[i].cause] *= met ? PLACE[i].yes : PLACE[i].no;
    }
}
