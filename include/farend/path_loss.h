/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PATH_LOSS_H
#define FAREND_PATH_LOSS_H

#include <stdbool.h>

#include "farend/fresnel.h"
#include "farend/hop.h"
#include "farend/season.h"
#include "farend/status.h"

/*
 * What is lost between the antennas of one hop in one season, part by part, with no effect
 * charged twice:
 *
 *   ground   beyond the break-point the delta-Bullington loss with the greater of its spherical
 *            term and the ground ray; inside it the ground ray alone where nothing enters the
 *            Fresnel zone, else diffraction alone; one isolated sharp edge by its own formula
 *   standing what the profile shows on the ground, as solid as the ground; see standing.h
 *   trees    those of the plan, through the leaves and over the top as two routes side by side
 *   walls    of each station, or building entry loss where the owner knows nothing
 *   covers   water or wet snow on an antenna outdoors
 *   gas      of the air; rain is a fade, not a loss that is always there
 *
 * Costs a few passes over the profile and allocates copies of it.
 */
typedef enum fe_ground_method {
    FE_GROUND_RAY,              /* direct and reflected ray */
    FE_GROUND_EDGE,             /* one isolated sharp edge */
    FE_GROUND_DELTA_BULLINGTON, /* several obstacles, or the round earth */
    FE_GROUND_BEYOND            /* beyond the break-point: the greater of both */
} fe_ground_method;

/* Parts whose model was used outside its stated range, as a set. */
enum {
    FE_OUTSIDE_GROUND = 1 << 0, /* ground ray or diffraction */
    FE_OUTSIDE_TREES = 1 << 1,
    FE_OUTSIDE_WALLS = 1 << 2,
    FE_OUTSIDE_COVERS = 1 << 3
};

/* Laws of trees and walls that had a part in the loss, as a set. */
enum {
    FE_USED_STAND = 1 << 0, /* trees between the ends */
    FE_USED_WOOD = 1 << 1,  /* an end stands in the wood */
    FE_USED_WALLS = 1 << 2, /* walls that the owner knows */
    FE_USED_ENTRY = 1 << 3  /* a building that nobody knows */
};

typedef struct fe_path_loss {
    double distance_m; /* straight line between the antennas */
    double free_space_db;
    double ground_db; /* beyond free space; below zero where the rays add up */
    fe_ground_method ground_method;
    double ground_sigma_db;   /* spread of that figure: obstacles are never as drawn */
    double clearance_sigma_m; /* of the tight place, where the profile tells its errors */
    double standing_db;       /* what trees and roofs of the profile add, 0 or more */
    double break_point_m;     /* 4 h1 h2 / lambda, heights over the season's smooth surface */
    double trees_db;          /* what trees add, the better of through and over */
    double trees_through_db;  /* of the leaves and wood alone */
    double trees_depth_m;     /* length of the line inside crowns */
    double wall_db[2];
    double wall_sigma_db[2];
    double cover_db[2];
    double gas_db;
    unsigned outside;             /* set of FE_OUTSIDE_... */
    unsigned used;                /* set of FE_USED_... */
    double total_db;              /* all of it */
    bool buried[2];               /* the antenna is under the season's ground: nothing works */
    fe_fresnel_tightest tightest; /* over the season's ground and what counts as solid on it */
    double tightest_standing_m;   /* height of that at the tightest point, 0: bare ground */
    bool has_tightest;            /* false where there is no ground between the ends */
    bool null_height[2];          /* this end sits in a null of the ground ray */
    double better_height_m[2];    /* where it does: nearest height out of it, else NAN */
} fe_path_loss;

/* An antenna at either end is under the season's ground. */
bool fe_path_loss_is_buried(const fe_path_loss *loss);

/*
 *   hop     stations with their radios; walls must be known kinds; ground long enough to have a
 *           far field
 *   season  state of the place
 *   loss    result; untouched on error. Where an antenna is buried only that flag, the distance
 *           and free_space_db mean something, and total_db is INFINITY.
 *
 * FE_OK
 * FE_W_RANGE   result set, but a part is outside its model's range
 * FE_E_DOMAIN  a value of the hop is not finite or out of range
 * FE_E_MEMORY, FE_E_CONVERGE
 *
 * Sources: those of the parts; how they combine is argued in DEVELOPERS.md.
 */
FE_MUST_CHECK fe_status fe_path_loss_in_season(const fe_hop *hop, const fe_season *season,
                                               fe_path_loss *loss);

#endif
