/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_LIMITS_H
#define FAREND_LIMITS_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/cable_class.h"
#include "farend/run.h"
#include "farend/status.h"
#include "farend/verdict.h"

/*
 * What an overhead run may do: pull in each load case, height over ground, snow and ways, and
 * how supply and data share posts. Limits only: what a run really does is in run.h, what a post
 * bears in posts.h.
 */

/* One format at a time: load and material factors of two codes are never mixed. */
typedef enum fe_safety_format { FE_SAFETY_EN, FE_SAFETY_US } fe_safety_format;

typedef enum fe_thing_below {
    FE_BELOW_WALKERS,
    FE_BELOW_ANIMALS,
    FE_BELOW_VEHICLES,
    FE_BELOW_TALL_MACHINES,
    FE_BELOW_WATER,
    FE_BELOW_SUPPLY_LINE,
    FE_BELOW_RIDERS,
    FE_BELOW_DRIVEWAY,
    FE_BELOW_ROAD,
    FE_BELOW_HIGH_LOADS, /* a route for loads higher than the road code allows */
    FE_BELOW_RAILWAY,
    FE_BELOW_LOW_DRIVEWAY, /* to a house too low for the full height */
    FE_BELOW_ROOF,
    FE_BELOW_STEEP_ROOF, /* 4 in 12 or steeper */
    FE_BELOW_EAVES,      /* the overhanging part alone */
    FE_BELOW_LAST
} fe_thing_below;

/* "walkers", "tall machines": how a plan names it; null beyond the last. */
const char *fe_limits_below_name(fe_thing_below below);

/* Heights over it count from its own, not from the ground. */
bool fe_limits_is_roof(fe_thing_below below);

/* ---- What hangs ---- */

/* A cable class as it hangs: alone, or lashed under a strand that then carries everything. */
typedef struct fe_hung_cable {
    fe_run_cable run;
    double breaking_n; /* of what carries the pull */
    double everyday_n; /* the maker's long-term load, NAN where there is none */
    double pulling_n;  /* what the cable itself may be pulled with, NAN where not known */
    double carried_stiffness_n; /* of the data cable under its strand; 0: nothing is carried */
    bool strand;                /* lashed under a strand */
    bool self_supporting;
    bool metallic;
} fe_hung_cable;

/*
 *   messenger  null: the cable as it is; "3/16 extra high strength": size and grade of the
 *              strand table. Ice lies on the outer circumference of cable and strand together
 *              (IEEE C2 rule 251A3, from memory); the strand alone has stiffness and strength.
 * FE_E_INPUT   no such strand or grade
 * FE_E_DOMAIN  the class lacks diameter or weight, or what carries the pull
 */
FE_MUST_CHECK fe_status fe_limits_cable(const fe_cable_class *given, const char *messenger,
                                        fe_hung_cable *cable);

/* ---- Pull ---- */

/* Greatest pull at the higher end, by kind of load case, and what it is by. */
typedef struct fe_pull_limits {
    double limit_n[FE_RUN_CASE_KINDS];
    const char *rule[FE_RUN_CASE_KINDS];
    /* Pull beyond that of stringing that strains a carried cable as its own pulling limit
     * would; 0: nothing is carried. */
    double carried_n;
    bool needs_messenger; /* the cable alone is not made to hang */
} fe_pull_limits;

/*
 * Steel strand: everyday 25 % of breaking, coldest 35 % (IEEE C2 rule 261H, from memory), ice
 * with wind 60 %, strongest wind 80 % (UFGS 16768A). All-dielectric cable: everyday 20 %
 * (common practice, no source), loaded 60 % (IEEE 1222). Cables with a maker's long-term load:
 * that everyday, 60 % of breaking loaded. A data cable that is not made to hang: what it may be
 * pulled with, 110 N where that is not known (four-pair cable, from memory), in every case.
 * A cable lashed under a strand stretches with it from that day on: no more than its own
 * pulling limit would stretch it (copper pairs, no allowance for their lay; common practice).
 * Where the maker built the messenger in, his loads speak for both.
 *
 * FE_OK
 * FE_E_DOMAIN  breaking strength missing where it is needed
 */
FE_MUST_CHECK fe_status fe_limits_pull(const fe_hung_cable *cable, fe_pull_limits *limits);

/*
 * Longest level span that meets the pull limits in all cases when strung with the largest sag.
 *   cases        as of fe_run_season_cases
 *   most_share   sag at stringing over span, 0.002 to 0.2
 *   span_m       result: up to 300 m; 0 where not even one metre holds
 * FE_E_DOMAIN, FE_E_CONVERGE, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_limits_longest_span(const fe_hung_cable *cable,
                                               const fe_pull_limits *limits,
                                               const fe_run_case *cases, size_t case_count,
                                               double stringing_c, double most_share,
                                               double *span_m);

/* ---- Height ---- */

enum { FE_NEED_NAME_ROOM = 50 };

/*
 * Three heights: over bare ground, by code, whatever the season; over the season's snow; and
 * over a way, which counts from the way itself (snow is ploughed or packed there).
 */
typedef struct fe_clearance_need {
    char name[FE_NEED_NAME_ROOM]; /* what lies below, or beside */
    fe_thing_below below;
    double from_m; /* along the run */
    double to_m;
    double over_ground_m;
    double over_snow_m; /* 0: nothing asked */
    double beside_m;    /* distance from the line to a thing beside it; 0: it lies below */
    const char *rule;   /* code and clause, or FE_LIMITS_OWN_HEIGHT */
    bool for_above; /* asked for a supply cable above, less what must be left between the two */
} fe_clearance_need;
#define FE_LIMITS_OWN_HEIGHT "the plan's own height"

/* A code that the program has heights of. */
typedef struct fe_limits_code {
    const char *name; /* "US NFPA 70" */
    const char *date; /* of the text: "2023", "edition not read" */
} fe_limits_code;
size_t fe_limits_code_count(void);
const fe_limits_code *fe_limits_code_at(size_t index);
/* Null where there is none. */
const fe_limits_code *fe_limits_code_find(const char *name);

/*
 * The need of one kind of thing below, by rows of clearance.h. Without a code: IEEE C2 Table
 * 232-1 in the US form; in the European form the heights of the wiring guide after BS 7671 (3.5
 * m where no vehicle goes, 5.2 m where one may, 5.8 m over a road), since no code of its own
 * was read for data cable on private land. What a code does not speak of is taken from those,
 * and from NFPA 70. Over snow: 2.5 m for data (common practice, no source), the whole height
 * for supply. Over a supply line there is no rule for a do-it-yourself run: 1.2 m above it is
 * the owner's own figure, and the need is marked by its rule.
 *   code   name of a code; null: by the format
 *   own_m  the plan's own height over ground, NAN: by the code; of a roof how high it is itself,
 *          to which the code's height over it is added
 * from_m, to_m and name are left to the caller.
 * FE_E_DOMAIN  below is no kind, there is no such code, a roof without its height
 */
FE_MUST_CHECK fe_status fe_limits_clearance(fe_safety_format format, const char *code,
                                            bool supply, fe_thing_below below, double own_m,
                                            fe_clearance_need *need);

/* What must be left between a cable blown out and a thing beside it (common practice). */
#define FE_LIMITS_BESIDE_M 0.3

/* ---- Supply and data on one post ---- */

typedef struct fe_shared_posts {
    double at_pole_m; /* supply above data */
    double in_span_m; /* everywhere between them */
    const char *pole_rule;
    const char *span_rule;
} fe_shared_posts;

/*
 * Supply on top. In the US form 40 in at the post and 30 in in the span (IEEE C2 Table 235-5,
 * rules 238 and 235C2b, from memory); in the European form no rule for private posts was read:
 * 1.0 m at the post after the former, 0.3 m in the span (NFPA 70 (2023) 800.44(A)(4)).
 */
fe_shared_posts fe_limits_shared_posts(fe_safety_format format);

/*
 * Least distance of a supply cable hung above a data cable, where the supply cable sags most
 * and the data cable least.
 *   FE_E_DOMAIN  an argument is not finite
 */
FE_MUST_CHECK fe_status fe_limits_shared_distance(double supply_attachment_m,
                                                  double supply_sag_m, double data_attachment_m,
                                                  double data_sag_m, double *at_pole_m,
                                                  double *in_span_m);

/* ---- How much of a limit is used ---- */

/* Tight from 85 % (common practice, no source); fails above 100 %; NaN fails. */
fe_verdict fe_limits_verdict(double use);

#endif
