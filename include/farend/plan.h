/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLAN_H
#define FAREND_PLAN_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/cable_class.h"
#include "farend/foliage.h"
#include "farend/gear.h"
#include "farend/hop.h"
#include "farend/limits.h"
#include "farend/message.h"
#include "farend/profile.h"
#include "farend/quantity.h"
#include "farend/season.h"
#include "farend/status.h"
#include "farend/supply.h"

/*
 * The plan file, read, checked and converted. Every section and key of the format is here, also
 * where what it feeds is not computed yet. Several ends and paths are arrays; a value knows
 * whether it was given, defaulted, a range or unknown.
 *
 * A key that was not given and has no default has given == FE_GIVEN_NOT and numbers of zero.
 */

/* One of a key's words, as an index into its enum. */
typedef struct fe_choice {
    int value;
    fe_given given;
} fe_choice;

typedef struct fe_text_list {
    char **items;
    size_t count;
} fe_text_list;

typedef struct fe_value_list {
    fe_value *items;
    size_t count;
} fe_value_list;

typedef struct fe_plan_site {
    char *name;
    fe_choice region;     /* fe_region */
    bool bands[FE_BANDS]; /* bands to consider; all that the region opens by default */
    bool bands_given;
    fe_value availability;  /* share of time, default 0.99 */
    fe_value confidence;    /* chance over what is fixed but unknown, default 0.90 */
    fe_value flash_density; /* strikes a square metre a second */
} fe_plan_site;

/* `wall = brick 110 mm`; kind "unknown" where the owner knows nothing. */
typedef struct fe_plan_wall {
    char *kind;
    fe_value thickness_m; /* FE_GIVEN_NOT: the kind's usual thickness */
} fe_plan_wall;

typedef struct fe_plan_end {
    char *name;
    int line;
    fe_text_list gear; /* names of gear classes, in order of preference */
    fe_value height_m; /* antenna above the bare ground */
    fe_choice mount;   /* fe_mount */
    char *feeder;      /* class of the feeder, null: none */
    fe_value feeder_m;
    fe_choice aim;       /* fe_aim */
    fe_plan_wall *walls; /* between antenna and outdoors */
    size_t wall_count;
    fe_choice noise;       /* fe_noise */
    fe_choice mains;       /* 0 none, 1 mains power there */
    fe_value latitude_rad; /* `position = 46.81 deg, 7.15 deg` */
    fe_value longitude_rad;
} fe_plan_end;

typedef struct fe_plan_path {
    char *name;
    int line;
    size_t from; /* index of an end */
    size_t to;
    fe_value distance_m; /* horizontal; from the profile where that is given */
    fe_value rise_m;     /* far end above the first, where no profile is given */
    char *profile_file;  /* as written; null where only a distance is known */
    fe_profile profile;  /* read from the file, or even ground over the distance */
    fe_choice land;      /* fe_land */
    fe_value crop_m;     /* height of what grows along it in summer */
} fe_plan_path;

typedef struct fe_plan_trees {
    char *name;
    int line;
    size_t path;
    fe_value from_m; /* along the path from its first end */
    fe_value to_m;
    fe_value height_m; /* above the ground they stand on */
    fe_choice kind;    /* fe_tree_kind */
} fe_plan_trees;

typedef struct fe_plan_traffic {
    char *name;
    int line;
    size_t from; /* ends */
    size_t to;
    fe_value stream_bps;   /* either a stream... */
    fe_value transfer_bit; /* ...or a transfer within a time: `transfer = 40 GB in 8 h` */
    fe_value transfer_s;
    fe_value longest_delay_s;
} fe_plan_traffic;

typedef struct fe_plan_relay {
    bool anywhere;
    fe_value_list places_m;  /* distances along the first path */
    fe_value_list powered_m; /* places that have power */
    char *gear;
    fe_value height_m;
} fe_plan_relay;

typedef struct fe_plan_owned {
    char *gear;
    unsigned count;
} fe_plan_owned;

/* `over track = 40 m..44 m vehicles` */
typedef struct fe_plan_crossing {
    char *name;
    int line;
    double from_m;
    double to_m;
    bool beside; /* `beside barn = 40 m..44 m 1.5 m`: clearance_m away from the line */
    fe_thing_below below;
    fe_value clearance_m; /* the plan's own value, FE_GIVEN_NOT: the code's */
} fe_plan_crossing;

/* Of posts on hand: each may be set in five ways, and a search takes FE_ROUTE_MOST_KINDS. */
enum { FE_PLAN_MOST_POST_LENGTHS = 12 };

/* `corner = 40 m 30 deg left`: the side as seen by who walks from the start */
typedef struct fe_plan_corner {
    int line;
    double at_m;
    double turn_rad;
    const char *side; /* "left", "right"; null: the plan does not say */
} fe_plan_corner;

typedef struct fe_plan_posts {
    bool given;
    int line;
    char *cable;     /* class of cable */
    char *messenger; /* strand: "3/16 extra high strength", null: the cable's own */
    fe_value_list post_lengths_m;
    fe_choice round;    /* 1 round, 0 square: `section = round 100 mm` */
    fe_value section_m; /* diameter or side */
    char *wood;         /* name in the wood table, or strength class */
    char *soil;         /* name in the soil table */
    fe_value frost_depth_m;
    fe_value span_m; /* allowed: low..high */
    fe_plan_corner *corners;
    size_t corner_count;
    fe_plan_crossing *crossings;
    size_t crossing_count;
    char *supply; /* class of a supply cable above it on the same posts; null: none */
    fe_value supply_above_m; /* over the data cable at every post; FE_GIVEN_NOT: the rule's */
    fe_value stringing_c;    /* temperature at stringing */
    fe_value sag_share;      /* sag at stringing as a share of the span, default 0.02 */
    fe_value start_height_m; /* attachment on the first building, default 3 m */
    fe_value end_height_m;
    fe_value_list places_m;    /* posts already decided */
    fe_value_list forbidden_m; /* stretches where no post may stand */
    fe_value setting_depth_m;  /* the plan's own */
    fe_value clearance_m;      /* the plan's own, over bare ground */
    fe_choice safety;          /* fe_safety_format */
    fe_choice tied;            /* 0 at every post, 1 at the ends: the cable runs free */
    char *anchor;              /* class of a stay's anchor; null: what the pull needs */
    char *district;            /* a code's load as well: "US IEEE C2/heavy"; null: none */
    char *clearance_code;      /* whose heights count; null: those of the safety format */
    fe_value wet_snow_kg_m;    /* sleeve on the cable, in seasons of wet snow */
} fe_plan_posts;

typedef struct fe_plan_trench {
    bool given;
    int line;
    fe_value length_m; /* `along = path` (the ground length) or a length */
    bool along_path;
    fe_value depth_m;
    char *soil;
    fe_text_list crossings;
    fe_value duct_m; /* inner diameter; FE_GIVEN_NOT: direct burial */
} fe_plan_trench;

typedef struct fe_plan_cable {
    bool given;
    int line;
    char *cable_class;      /* data cable where it does not hang; default outdoor-data */
    fe_value_list indoor_m; /* run inside the buildings, one value each, summed */
    fe_value cords_m;       /* all cords together */
    fe_value patch_points;
} fe_plan_cable;

typedef struct fe_plan_source {
    double volt; /* typical; a battery's lowest is voltage_v.low */
    bool ac;
    fe_value voltage_v;
} fe_plan_source;

typedef struct fe_plan_feed {
    bool given;
    int line;
    fe_plan_source *sources; /* `voltage = 230 V`, `voltage = 48 V dc` */
    size_t source_count;
    bool copper;
    bool aluminium;
    fe_value allowed_drop;       /* share, default 0.05 */
    char *protection;            /* "B16" */
    fe_choice earthing;          /* fe_earthing */
    fe_value loop_impedance_ohm; /* at the supply end */
    fe_value conductor_m2;       /* where the owner has the cable already */
} fe_plan_feed;

typedef struct fe_plan_load {
    char *name;
    int line;
    size_t end;            /* where it stands */
    fe_value power_w;      /* either power... */
    fe_value current_a;    /* ...or current */
    fe_value voltage_v;    /* range accepted, low..high */
    fe_value start_factor; /* `start = 3`: surge over running power, default 1 */
    fe_value power_factor;
    fe_value hours_per_day;
    fe_value at_m; /* along the feed; FE_GIVEN_NOT: at its far end */
} fe_plan_load;

typedef struct fe_plan_solar {
    bool given;
    int line;
    fe_value sun_hours; /* full-sun hours a day in the worst month */
    fe_value dark_days;
    fe_value discharge; /* share of the battery used */
} fe_plan_solar;

typedef struct fe_plan_spare {
    fe_value rate; /* shares */
    fe_value power;
    fe_value ports;
    fe_value ducts;
} fe_plan_spare;

typedef struct fe_plan_price {
    char *thing; /* class of gear or cable, or "post", "trench" */
    double size; /* that it is for, of farend/prices.h; NAN: any */
    double each;
    double per_m; /* one of both is NAN */
    int line;
} fe_plan_price;

typedef struct fe_plan_prices {
    bool given;
    char *currency;
    char *date;
    fe_plan_price *items;
    size_t count;
} fe_plan_prices;

typedef struct fe_plan_reading {
    char *name;
    int line;
    size_t from;
    size_t to;
    fe_choice band; /* fe_band */
    fe_value level_dbm;
    fe_value rate_bps;
    fe_value noise_dbm;
    char *when;
    fe_choice built; /* 0 before building, 1 after */
} fe_plan_reading;

/* [season NAME] as written, ranges kept; words have gone into the fe_season of the same index.
 */
typedef struct fe_plan_season {
    char *name;
    int line;
    fe_value snow_m;
    fe_choice snow_is_wet; /* 0 dry, 1 wet */
    fe_value crop_m;
    fe_choice surface; /* fe_surface */
    fe_choice leaves;  /* 0 none, 1 in leaf */
    fe_choice trees;   /* fe_tree_state */
    fe_choice cover;   /* fe_cover */
    fe_value coldest_c;
    fe_value hottest_c;
    fe_value ice_m;
    fe_value wind_m_s;
    fe_value rain_mm_h;
} fe_plan_season;

/* A class of climate out of profiles/climate, or the plan's own [climate] section. */
typedef struct fe_plan_climate {
    char *name;
    char *summary;
    char *class_name; /* of the class that fills what the plan leaves out */
    fe_value snow_m;
    fe_value coldest_c;
    fe_value hottest_c;
    fe_value ice_m;
    fe_value wind_m_s;
    fe_value rain_mm_h;
    fe_text_list sources;
} fe_plan_climate;

/* A default that was taken, or an unknown that a class stands in for: what the report lists. */
typedef struct fe_plan_default {
    char *section;
    char *key;
    char *value;
    char *why;
} fe_plan_default;

typedef struct fe_plan {
    char *file;
    fe_plan_site site;
    fe_plan_end *ends;
    size_t end_count;
    fe_plan_path *paths;
    size_t path_count;
    fe_plan_trees *trees;
    size_t tree_count;
    fe_plan_traffic *traffic;
    size_t traffic_count;
    fe_plan_relay relay;
    fe_plan_owned *owned;
    size_t owned_count;
    fe_plan_climate climate; /* [climate] as written, ranges kept */
    fe_season *seasons;      /* the usual four of the climate (typical values), or the plan's */
    size_t season_count;
    bool seasons_given;
    fe_plan_season *season_inputs; /* one a season where seasons_given, else none */
    size_t season_input_count;
    fe_plan_posts posts;
    fe_plan_trench trench;
    fe_plan_cable cable;
    fe_plan_feed feed;
    fe_plan_load *loads;
    size_t load_count;
    fe_plan_solar solar;
    fe_plan_spare spare;
    fe_plan_prices prices;
    fe_gear *gear; /* catalogue and the plan's own, the plan's winning */
    size_t gear_count;
    fe_cable_class *cables;
    size_t cable_count;
    fe_plan_climate *climates; /* classes of the catalogue */
    size_t climate_count;
    fe_plan_reading *readings;
    size_t reading_count;
    fe_plan_default *defaults;
    size_t default_count;
} fe_plan;

/* True of an unknown that something stands in for, false of a default. */
bool fe_plan_is_unknown(const fe_plan_default *taken);

/* Whether ground may be called so: by a keyword of fe_soil_find, "stony" or "unknown". */
bool fe_plan_knows_soil(const char *soil);

/* Where catalogues are looked for, in order; null entries are passed over. */
typedef struct fe_plan_places {
    const char *profiles_option; /* --profiles DIR */
    const char *environment;     /* value of FAREND_PROFILES */
} fe_plan_places;

/*
 * Reads a plan with all that it names (profiles, catalogues). Paths in it are relative to it.
 *
 * FE_E_INPUT   the list holds every mistake; the plan is empty
 * FE_E_IO      the file cannot be read; the list says why
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_plan_read(const char *path, const fe_plan_places *places,
                                     fe_plan *plan, fe_messages *messages);
void fe_plan_free(fe_plan *plan);

/* By name; null where there is none. */
const fe_gear *fe_plan_gear(const fe_plan *plan, const char *name);
/* Where NFPA 70 and its like are the code, and sizes go by the inch and the gauge. */
bool fe_plan_is_us_or_canada(const fe_plan *plan);
const fe_cable_class *fe_plan_cable_class(const fe_plan *plan, const char *name);
/* The coldest air of any season, and the deepest snow. */
double fe_plan_coldest(const fe_plan *plan);
double fe_plan_deepest_snow(const fe_plan *plan);

/*
 * The catalogues alone, for commands that run from options without a plan.
 */
FE_MUST_CHECK fe_status fe_plan_catalogue(const fe_plan_places *places, fe_plan *plan,
                                          fe_messages *messages);

#endif
