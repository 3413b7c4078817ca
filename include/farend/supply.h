/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SUPPLY_H
#define FAREND_SUPPLY_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/conductor.h"
#include "farend/fault_loop.h"
#include "farend/feed.h"
#include "farend/status.h"
#include "farend/verdict.h"

/*
 * The smallest conductor of a feed: the largest that any of several demands asks for. Every
 * size of a series is solved with its own warmth and held against every demand, so that the
 * demand which decides can be named. Costs some hundred feed solutions a source voltage.
 *
 * Not here: cable in warm or dry ground, bundles, three phases. Ampacity is that of a cable in
 * conduit; above the largest size of the table the largest is taken (safe side).
 */

enum { FE_SUPPLY_MOST_LOADS = 32, FE_SUPPLY_MOST_SIZES = 32 };

/* What a size may be asked for. */
typedef enum fe_supply_demand {
    FE_DEMAND_DROP,      /* allowed drop from the source to the worst load */
    FE_DEMAND_LOAD,      /* least voltage that a load accepts */
    FE_DEMAND_START,     /* drop while the heaviest starter starts */
    FE_DEMAND_AMPACITY,  /* current, and the device's rating, without too much heat */
    FE_DEMAND_FAULT,     /* a short circuit at the far end trips the device at once */
    FE_DEMAND_WITHSTAND, /* a short circuit at the near end does not burn it meanwhile */
    FE_DEMAND_MECHANICS, /* open span, or the thinnest wire for outdoors */
    FE_DEMAND_STABILITY, /* at most 0.8 of what the feed can deliver at all */
    FE_DEMAND_BEYOND,    /* no thinner than what is fed on from its far end */
    FE_DEMANDS
} fe_supply_demand;

/* "voltage drop", "ampacity", ...; never null. */
const char *fe_supply_demand_name(fe_supply_demand demand);

/* Drop allowed while a motor starts, as a share of the source (common practice, no source). */
#define FE_SUPPLY_START_DROP 0.15
/* Share of the deliverable power beyond which a feed fails (common practice, no source). */
#define FE_SUPPLY_STABLE_SHARE 0.8

typedef struct fe_supply_load {
    double at_m; /* along the cable, > 0 to the feed's length */
    fe_load_kind kind;
    double load;          /* W or A, >= 0 */
    double power_factor;  /* above 0 to 1; not read for DC */
    double start_factor;  /* current at start over running current, >= 1 */
    double hours_per_day; /* 0 to 24 */
    double least_v;       /* that it accepts; 0: not known */
} fe_supply_load;

/* What protects a feed. */
typedef struct fe_supply_device {
    bool is_breaker;      /* with an instantaneous trip; otherwise a fuse */
    fe_breaker_type trip; /* of a breaker */
    double rating_a;
} fe_supply_device;

/* "B16", "c10", "10A", "10 A fuse"; false where the text is no device. */
bool fe_supply_device_named(const char *text, fe_supply_device *device);

typedef struct fe_supply_case {
    double length_m;     /* of cable, one way, > 0 */
    double source_v;     /* > 0; the low end where it is a range: that one decides */
    bool ac;             /* single phase */
    double allowed_drop; /* share of source_v, > 0 and below 1 */
    double air_c;        /* hottest air at the cable */
    const fe_supply_load *loads;
    size_t load_count; /* 1 to FE_SUPPLY_MOST_LOADS */
    bool has_device;   /* a protective device is known */
    fe_supply_device device;
    double loop_ohm; /* impedance of the supply outside the feed; read with a breaker on AC */
    double open_span_m; /* longest span of open single conductors; 0: none */
    double least_m2[2]; /* by fe_conductor_material, that what goes on from here asks for */
} fe_supply_case;

/* One size against every demand. */
typedef struct fe_supply_size {
    fe_conductor conductor;
    const char *name;
    bool sold;          /* the tables have this size in this metal */
    bool delivered;     /* false: no voltage at which the loads run; the rest is NAN */
    double deliverable; /* greatest multiple of all loads; INFINITY where nothing limits it */
    double greatest_w;  /* all loads together at that multiple; NAN for constant currents */
    double worst_v;     /* lowest voltage at any load, running */
    double far_v;       /* at the last load */
    double drop;        /* to the worst load, share of the source */
    double start_v;     /* lowest at any load while the heaviest starter starts */
    double current_a;   /* at the source */
    double ampacity_a;  /* in that air */
    double conductor_c;
    double load_w;
    double loss_w;
    double loss_j_per_year; /* by the hours of the loads; hours overlap as far as they can */
    double fault_ohm;       /* loop at the far end, warm; NAN where not reckoned */
    double fault_limit_ohm;
    double fault_cold_ohm; /* what a meter shows on the cold cable: at most 80 % of the limit */
    double fault_cold_limit_ohm;
    bool meets[FE_DEMANDS];
    /* TIGHT above 90 % of the allowed drop, or with a cold fault loop above 80 % of its limit.
     */
    fe_verdict verdict;
    fe_supply_demand limit; /* the first that is missed, or nearly so; FE_DEMANDS: none */
    fe_feed_point points[FE_SUPPLY_MOST_LOADS];
    double starting_v[FE_SUPPLY_MOST_LOADS];
} fe_supply_size;

/* A series of sizes in one metal. */
typedef struct fe_supply_choice {
    fe_supply_size sizes[FE_SUPPLY_MOST_SIZES]; /* smallest first, those that are sold */
    size_t count;
    int smallest;          /* that holds; -1: none */
    int asked[FE_DEMANDS]; /* smallest from which on each demand is met; -1: none */
    fe_supply_demand limited_by;
} fe_supply_choice;

/*
 * One size.
 *
 * FE_OK; FE_W_RANGE  result set, a model was used outside its range (metal or air)
 * FE_E_DOMAIN        an argument is not finite or out of range
 * FE_E_CONVERGE, FE_E_MEMORY
 * A load that cannot be delivered is a result, not an error.
 * Sources: those of farend/feed.h, ampacity.h, fault_loop.h; NFPA 70:2023 225.6(A) open spans;
 * withstand: BS 7671 434.5.2 for 0.1 s, k of 115 (copper) and 76 (aluminium) in PVC (memory).
 */
FE_MUST_CHECK fe_status fe_supply_try(const fe_supply_case *given,
                                      const fe_conductor *conductor, fe_supply_size *size);

/*
 * The sizes of a series in a metal, up to two beyond the smallest that holds. Statuses as
 * above.
 */
FE_MUST_CHECK fe_status fe_supply_choose(const fe_supply_case *given, fe_size_series series,
                                         fe_conductor_material material,
                                         fe_supply_choice *choice);

/*
 * Voltage at any place of a feed that was solved: a straight line between loads.
 *   at_m  0 to the feed's length;  NAN where nothing is delivered
 */
double fe_supply_voltage_at(const fe_supply_case *given, const fe_supply_size *size,
                            double at_m);

/* Where a load comes from, for those who print it. */
enum { FE_SUPPLY_NAME_ROOM = 50 };
typedef struct fe_supply_origin {
    char name[FE_SUPPLY_NAME_ROOM]; /* empty: not known */
    double device_w;                /* behind a converter; 0: it runs on the feed directly */
    double efficiency;              /* of that converter */
    double device_low_v;            /* what the converter has to give */
    double device_high_v;
    bool added;     /* by the program: gear of the data link, a relay on the way */
    bool spare;     /* growth that the plan asks for, no load of today */
    bool elsewhere; /* all of another end, which branches off here and has its own list */
} fe_supply_origin;

typedef enum fe_earthing { FE_EARTHING_TT, FE_EARTHING_TN_S, FE_EARTHING_TN_C_S } fe_earthing;

/* What else is known about the run. */
typedef struct fe_supply_place {
    bool planned;     /* out of a plan: the parts below are known */
    const char *path; /* of the plan, to whose far end it goes; null: none */
    double route_m;
    double drops_m;
    double indoor_m;
    double slack_m;
    double own_m;       /* of the cable that no other end's feed has already... */
    double own_route_m; /* ...and of the trench */
    double depth_m;     /* of the trench */
    double duct_m;      /* inner diameter; 0: none */
    double coldest_c;   /* that gear out there has to stand; NAN: not known */
    bool us;            /* NFPA 70 and its like are the code */
    bool earthing_known;
    fe_earthing earthing;
    bool device_taken; /* a usual breaker, for the plan names none */
} fe_supply_place;

/* A source voltage with its answers; some hundred kilobytes, so keep it on the heap. */
typedef struct fe_supply_entry {
    double nominal_v; /* as named; given.source_v is its low end */
    double high_v;
    fe_supply_case given;
    fe_supply_load loads[FE_SUPPLY_MOST_LOADS];
    fe_supply_origin origins[FE_SUPPLY_MOST_LOADS];
    fe_supply_place place;
    bool metals[2];  /* which conductors are allowed, by fe_conductor_material */
    double owned_m2; /* a cable that is there already; 0: none */
    /* Results. */
    fe_supply_choice choices[2][2]; /* by metal and series */
    fe_conductor_material main_metal;
    fe_supply_size owned;
} fe_supply_entry;

/*
 * Puts a load among the others, in the order of their places; its number stays that of its
 * origin. FE_E_INPUT where there are FE_SUPPLY_MOST_LOADS already.
 */
FE_MUST_CHECK fe_status fe_supply_add(fe_supply_entry *entry, const fe_supply_load *load,
                                      const fe_supply_origin *origin);

/* Fills the results. Statuses of fe_supply_choose. */
FE_MUST_CHECK fe_status fe_supply_solve(fe_supply_entry *entry);
/* The cable owned, else the smallest metric one in the main metal; null where none holds. */
const fe_supply_size *fe_supply_shown(const fe_supply_entry *entry);
/* Null where none holds or the metal is not allowed. */
const fe_supply_size *fe_supply_smallest(const fe_supply_entry *entry,
                                         fe_conductor_material metal, fe_size_series series);
fe_verdict fe_supply_judge(const fe_supply_entry *entry);

#endif
