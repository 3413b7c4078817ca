/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RESULT_H
#define FAREND_RESULT_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/budget.h"
#include "farend/chain.h"
#include "farend/channel.h"
#include "farend/ethernet.h"
#include "farend/feed.h"
#include "farend/fibre.h"
#include "farend/parts.h"
#include "farend/plan.h"
#include "farend/posts_plan.h"
#include "farend/solar_plan.h"
#include "farend/standing.h"
#include "farend/status.h"
#include "farend/supply.h"
#include "farend/supply_plan.h"
#include "farend/verdict.h"

/*
 * Everything that was computed from one plan, once. Text, page and JSON are printed from it and
 * compute nothing themselves.
 *
 * Words: a radio way HOLDS when the worst season reaches the plan's confidence, is TIGHT when
 * the median build meets the target and the confidence does not, and FAILS when the median
 * misses. A wired limit is TIGHT from 90 % of it.
 */

/*
 * What laws fitted to measurements among buildings say of the same distance, beside the
 * computed loss outdoors: a check of its size, never a part of it.
 */
typedef struct fe_plausibility {
    double computed_db;   /* free space, ground and trees in the worst season */
    const char *street;   /* environment of the ITU-R P.1411 law */
    double street_low_db; /* not exceeded at 10 % of places */
    double street_median_db;
    double street_high_db;
    bool street_stated; /* the law is stated for this distance and frequency */
    double clutter_db;  /* median beyond free space, one end in clutter: ITU-R P.2108 */
    bool clutter_stated;
} fe_plausibility;

/* One radio link over one path in one band, with the pair of gear that does best. */
enum { FE_RADIO_MOST_STANDING = 24 };

typedef struct fe_radio_result {
    size_t path;
    fe_band band;
    double f_hz;
    bool directional; /* antennas with a beam at both ends, outdoors */
    bool owned;       /* the plan names this gear for both ends */
    const fe_gear *gear[2];
    fe_mount mount[2]; /* as used: gear for the weather hangs outdoors */
    double height_m[2];
    /* Trees and roofs of the profile, the first of them, and how many there are. */
    fe_standing standing[FE_RADIO_MOST_STANDING];
    size_t standing_count;
    fe_wanted wanted;
    fe_hop_budget budget;
    fe_plausibility plausibility;
    fe_verdict verdict;
    const char *limit; /* what limits it, in words */
    double limit_db;   /* how much that costs, NAN where it is not decibels */
} fe_radio_result;

/* How many relays a path needs in a band, and where. */
typedef struct fe_relay_result {
    size_t path;
    fe_band band;
    const fe_gear *end_gear[2];
    const fe_gear *relay_gear;
    unsigned owned;  /* how many of that class the owner has */
    fe_solar *alone; /* panel and battery of a relay without power; freed with the result */
    double relay_height_m;
    fe_chain chains[FE_CHAIN_MOST_RELAYS + 1]; /* at the best places, one shared channel */
    double places_m[FE_CHAIN_MOST_RELAYS + 1][FE_CHAIN_MOST_RELAYS];  /* from the first end */
    double heights_m[FE_CHAIN_MOST_RELAYS + 1][FE_CHAIN_MOST_RELAYS]; /* of antennas there */
    size_t chain_count;
    unsigned looked_at; /* the largest number that was, see relay_site.h */
    int needed;         /* smallest number that holds, -1: none up to the most */
    int best;           /* that, or the number that does best */
    fe_verdict verdict;
} fe_relay_result;

/*
 * Power through the pairs of a data cable, from a port in the house. Its class, loop and
 * voltage stand in the cable's answer.
 */
typedef struct fe_poe_result {
    fe_pairs_need need; /* 0 W: nothing is asked, and nothing below is read */
    double least_v;     /* that a device of the class accepts; NAN: no class does */
    fe_verdict verdict; /* of a way of power: FAILS where the cable is too long for data */
    const char *limit;
} fe_poe_result;

/* A data cable by its real length. */
typedef struct fe_channel_result {
    size_t path;
    const fe_cable_class *cable;
    bool overhead;
    bool fibre;
    double route_m; /* in the air or in the ground */
    double drops_m; /* down the posts or walls, out of the ground */
    double indoor_m;
    double cords_m;
    double slack_m;
    double length_m; /* all of it */
    double limit_m;
    const char *application;
    double rate_bps;
    fe_verdict verdict;    /* of the data alone */
    double temp_c;         /* of the cable in its hottest season */
    bool has_answer;       /* four pairs: every rate, and power over the pairs */
    fe_channel_case given; /* of the answer */
    fe_channel_answer answer;
    fe_poe_result poe;    /* what the far end takes of power over the pairs */
    fe_fibre_link link;   /* of a fibre */
    unsigned fibre_plugs; /* pairs of plugs on its way */
    unsigned fibre_splices;
} fe_channel_result;

/*
 * Solves `given` of a cable of four pairs again, after a change, and takes over rate, limit,
 * verdict and what becomes of power over its pairs. Statuses of fe_channel_solve; untouched on
 * error.
 */
FE_MUST_CHECK fe_status fe_channel_result_solve(fe_channel_result *channel);

/* A feed from one source voltage; the lowest of a range. */
typedef struct fe_feed_choice {
    size_t path; /* to whose far end it goes */
    fe_plan_source source;
    fe_supply_entry *entry; /* every load, size and demand; freed with the result */
    bool found;             /* some size on the list delivers */
    fe_conductor conductor; /* smallest that does */
    const char *size_name;
    double length_m;
    double conductor_c;
    double far_v;
    double drop; /* to the worst load, share of the source's lowest voltage */
    double allowed;
    double loss_w;
    double load_w;
    fe_verdict verdict;
    const char *limit;
} fe_feed_choice;

/* Alternating current above 50 V, where IEC 60364-4-41 ends extra-low voltage (from memory):
 * mains, which are for an electrician. */
bool fe_feed_is_mains(const fe_feed_choice *feed);

/* Data over the conductors of a feed that both buildings hang on. */
typedef struct fe_feed_data_result {
    size_t path;
    double length_m; /* of the feed between the buildings */
    bool planned;    /* over the plan's own feed; else over mains that both ends have */
    double low_bps;  /* of such adapters, nine in ten do better... */
    double middle_bps;
    double high_bps; /* ...and one in ten does better than this */
    double wanted_bps;
    fe_verdict verdict;
} fe_feed_data_result;

/* No mains out there: a panel and a battery. */
typedef struct fe_solar_result {
    size_t path;  /* at whose far end it stands */
    double day_j; /* taken at the loads, growth and converters counted in */
    double battery_j;
    double panel_w;
    double sun_s;
    double dark_s;
    double discharge;
    double cold_part; /* of the battery's capacity left in the coldest season */
    double coldest_c;
    bool assumed; /* the plan has no [solar]: its defaults */
    fe_verdict verdict;
    const char *limit;
    fe_solar *sized; /* every load, both ends of the plan's ranges; freed with the result */
} fe_solar_result;

/* A panel that one person carries and sets up, and the most that is worth it out there. */
#define FE_SOLAR_EASY_W 200.0
#define FE_SOLAR_MOST_W 800.0

typedef enum fe_way_kind {
    FE_WAY_DIRECT,
    FE_WAY_RELAYS,
    FE_WAY_DIRECTIONAL,
    FE_WAY_COPPER_POSTS,
    FE_WAY_COPPER_BURIED,
    FE_WAY_FIBRE_POSTS,
    FE_WAY_FIBRE_BURIED,
    FE_WAY_SINGLE_PAIR,
    FE_WAY_FEED_DATA,
    FE_WAY_FEED,
    FE_WAY_POE,
    FE_WAY_SOLAR,
    FE_WAY_KINDS
} fe_way_kind;

/* True for ways of power, false for ways of data. */
bool fe_way_is_power(fe_way_kind kind);
/* One radio link, whose index is that of a link; and any way by radio, relays too. */
bool fe_way_is_link(fe_way_kind kind);
bool fe_way_is_radio(fe_way_kind kind);

/* What to beware of in building and owning a way; bits. */
enum {
    FE_HAZARD_MAINS = 1,
    FE_HAZARD_BATTERY = 2,
    FE_HAZARD_LIGHTNING = 4,
    FE_HAZARD_HEIGHT = 8,
    FE_HAZARD_FALLING_POST = 16,
    FE_HAZARD_DIGGING = 32,
    FE_HAZARD_RADIO_RULES = 64
};
enum { FE_HAZARDS = 7 };
/* In a few words: "mains voltage", "digging", ... by the number of the bit. */
const char *fe_hazard_name(unsigned bit);

enum { FE_WAY_TEXT_ROOM = 160 };

/* Limits of time, which a report words with their own numbers. */
#define FE_LIMIT_TRANSFER "time for the transfer"
#define FE_LIMIT_DELAY "delay"

/* A manner of reaching the building, as one row beside the others. */
typedef struct fe_way {
    fe_way_kind kind;
    char name[FE_WAY_TEXT_ROOM];
    size_t path;
    fe_verdict verdict;
    char limit[FE_WAY_TEXT_ROOM]; /* what limits it, with its number */
    const char *season;           /* worst season, null where none decides */
    double margin_db;             /* NAN where it is no radio way */
    double chance;                /* NAN likewise */
    double used;                  /* part of a limit; NAN for radio */
    double phy_rate_bps;          /* on the air or the cable; NAN for relays and power */
    double rate_bps;              /* delivered, NAN for power */
    double delay_s;
    double route_delay_s; /* with the other paths of the traffic that bears least; NAN: the plan
                             asks for no delay over it */
    double longest_delay_s; /* that this traffic bears; INFINITY: nothing is asked */
    double transfer_s; /* for the longest transfer of the path, streams running; NAN: none */
    double allowed_s;  /* time that the plan gives it; INFINITY: none */
    char needs[FE_WAY_TEXT_ROOM];
    unsigned relays;
    unsigned posts;
    double trench_m;
    unsigned powered_places; /* that need power of their own, besides the two ends */
    unsigned hazards;        /* FE_HAZARD bits */
    double struck_per_year;  /* a metal line by lightning; NAN where there is no metal */
    double near_per_year;    /* ground so near that the line feels it */
    fe_part_list parts;
    size_t index; /* of its kind's results (power over pairs: of channels) */
} fe_way;

/* Whether two ways over a path may lie in one trench. */
bool fe_way_share_trench(const fe_way *a, const fe_way *b);

/* What is recommended over a path, data and power together. Indices of ways. */
typedef struct fe_pick {
    bool asked;       /* the path is the first, or some traffic of the plan goes over it */
    int way;          /* -1: none holds or is tight */
    int rival;        /* comes so close to it that both are worth a look; -1: none */
    bool power_asked; /* something at its far end needs power */
    int power_way;    /* likewise, for power to its far end */
    int power_rival;
    fe_part_list together; /* of both ways, what they share counted once; of one: its own */
    double shared_m;       /* of trench that both lie in */
} fe_pick;

typedef struct fe_result {
    const fe_plan *plan;
    fe_radio_result *radio;
    size_t radio_count;
    fe_relay_result *relays;
    size_t relay_count;
    fe_posts_result *overhead; /* runs on posts */
    size_t overhead_count;
    fe_channel_result *channels;
    size_t channel_count;
    fe_feed_choice *feeds;
    size_t feed_count;
    fe_feed_data_result *feed_data;
    size_t feed_data_count;
    fe_solar_result *solars; /* one for each path whose far end needs power */
    size_t solar_count;
    fe_way *ways;
    size_t way_count;
    fe_pick *picks; /* one a path, and one without a way behind them */
    size_t pick_count;
    bool outside_range;         /* some model was used outside its stated range */
    struct fe_outlook *outlook; /* farend/outlook.h; null where nobody asked for it */
} fe_result;

/*
 * Computes all ways of a plan. The plan must outlive the result.
 *
 * FE_OK, FE_W_RANGE (some model outside its range; outside_range says so too)
 * FE_E_MEMORY, FE_E_CONVERGE, FE_E_DOMAIN (a value that the plan reader should have refused)
 */
FE_MUST_CHECK fe_status fe_decide(const fe_plan *plan, fe_result *result);
/*
 * The radio links, and which of them fe_result_chosen_radio comes to; relays, cables and power
 * only where that hangs on them. Statuses of fe_decide; outside_range is that of what was
 * computed.
 */
FE_MUST_CHECK fe_status fe_decide_links(const fe_plan *plan, fe_result *result);
/* The data cables alone, on posts and in the ground; no ways are made of them. */
FE_MUST_CHECK fe_status fe_decide_cables(const fe_plan *plan, fe_result *result);
void fe_result_free(fe_result *result);

/* The run on posts that a cable hangs on; null where it does not hang. */
const fe_posts_result *fe_result_hung(const fe_result *result,
                                      const fe_channel_result *channel);

/* True where some end needs power, so that ways of power are there. */
bool fe_result_needs_power(const fe_result *result);

/* A way by its index; null for -1, which stands for none. */
const fe_way *fe_result_way(const fe_result *result, int index);

/*
 * Choices by number: data over each path, in the order of paths, then power to the far end of
 * each. The way that is recommended, index of ways; -1: none.
 */
size_t fe_result_choice_count(const fe_result *result);
int fe_result_choice(const fe_result *result, size_t choice);
/* What a choice is about: data or power, and which path. */
bool fe_result_is_power_choice(const fe_result *result, size_t choice);
size_t fe_result_path_of_choice(const fe_result *result, size_t choice);
/* False for a path over which nothing goes, and for power that nothing needs. */
bool fe_result_choice_is_asked(const fe_result *result, size_t choice);

/*
 * What the plan as a whole comes to: the worst of what is recommended for data over each path
 * that is asked, and for power where it is needed; FAILS where one of them has no way.
 */
fe_verdict fe_result_verdict(const fe_result *result);

/*
 * The radio link whose budget is worth showing: the recommended one, else the best of the first
 * path. Index of radio, -1: there is none.
 */
int fe_result_chosen_radio(const fe_result *result);
/* The same of another path. */
int fe_result_radio_over(const fe_result *result, size_t path);
/* The same link as a row. Index of ways, -1: there is none. */
int fe_result_radio_way(const fe_result *result);

#endif
