/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/keys.h"

#include <string.h>

#include "farend/suggest.h"
#include "plan/grow.h"
#include "plan/special.h"

/* clang-format off */

#define LIST(items, counter, type) \
    .offset = offsetof(fe_plan, items), .count_offset = offsetof(fe_plan, counter), .size = sizeof(type)
#define SINGLE(member, type) \
    .offset = offsetof(fe_plan, member), .count_offset = NOWHERE, .size = sizeof(type)
/* Keys that fill members of the plan itself. */
#define WHOLE_PLAN .offset = 0, .count_offset = NOWHERE, .size = sizeof(fe_plan)
#define NAMED(type) .name_offset = offsetof(type, name), .line_offset = offsetof(type, line), .given_offset = NOWHERE
#define CATALOGUED(type, room) \
    .name_offset = offsetof(type, name), .name_room = (room), .label_offset = offsetof(type, label), .line_offset = NOWHERE, .given_offset = NOWHERE
#define UNNAMED .name_offset = NOWHERE, .line_offset = NOWHERE, .given_offset = NOWHERE
#define MARKED(type) .name_offset = NOWHERE, .line_offset = offsetof(type, line), .given_offset = offsetof(type, given)

static const plan_section SECTIONS[PARTS] = {
    [PART_GEAR] = {"gear", NAME_MUST, PART_GEAR, true, false, LIST(gear, gear_count, fe_gear), CATALOGUED(fe_gear, FE_GEAR_NAME_ROOM), "own radio gear, in the catalogue's form"},
    [PART_CABLE_CLASS] = {"cable", NAME_MUST, PART_CABLE_CLASS, true, false, LIST(cables, cable_count, fe_cable_class), CATALOGUED(fe_cable_class, FE_CABLE_NAME_ROOM), "own cable, in the catalogue's form"},
    [PART_CLIMATE_CLASS] = {"climate", NAME_MUST, PART_CLIMATE, true, false, LIST(climates, climate_count, fe_plan_climate), .name_offset = offsetof(fe_plan_climate, name), .line_offset = NOWHERE, .given_offset = NOWHERE, "a class of climate"},
    [PART_SITE] = {"site", NAME_NONE, PART_SITE, false, true, SINGLE(site, fe_plan_site), UNNAMED, "the place as a whole"},
    [PART_END] = {"end", NAME_MUST, PART_END, false, true, LIST(ends, end_count, fe_plan_end), NAMED(fe_plan_end), "a building; two or more"},
    [PART_PATH] = {"path", NAME_MAY, PART_PATH, false, true, LIST(paths, path_count, fe_plan_path), NAMED(fe_plan_path), "the ground between two ends"},
    [PART_TREES] = {"trees", NAME_MAY, PART_TREES, false, true, LIST(trees, tree_count, fe_plan_trees), NAMED(fe_plan_trees), "a hedge or wood on a path"},
    [PART_TRAFFIC] = {"traffic", NAME_MAY, PART_TRAFFIC, false, true, LIST(traffic, traffic_count, fe_plan_traffic), NAMED(fe_plan_traffic), "what has to get across"},
    [PART_RELAY] = {"relay", NAME_NONE, PART_RELAY, false, true, SINGLE(relay, fe_plan_relay), UNNAMED, "where repeaters may stand"},
    [PART_OWN] = {"own", NAME_NONE, PART_OWN, false, false, WHOLE_PLAN, UNNAMED, "gear already there"},
    [PART_CLIMATE] = {"climate", NAME_NONE, PART_CLIMATE, false, true, SINGLE(climate, fe_plan_climate), UNNAMED, "the extremes of the weather; makes the usual four seasons"},
    [PART_SEASON] = {"season", NAME_MUST, PART_SEASON, false, true, LIST(season_inputs, season_input_count, fe_plan_season), NAMED(fe_plan_season), "a state of the place, in place of [climate]"},
    [PART_POSTS] = {"posts", NAME_NONE, PART_POSTS, false, true, SINGLE(posts, fe_plan_posts), MARKED(fe_plan_posts), "the overhead run"},
    [PART_TRENCH] = {"trench", NAME_NONE, PART_TRENCH, false, true, SINGLE(trench, fe_plan_trench), MARKED(fe_plan_trench), "the buried run"},
    [PART_CABLE] = {"cable", NAME_NONE, PART_CABLE, false, true, SINGLE(cable, fe_plan_cable), MARKED(fe_plan_cable), "the data cable and what it needs indoors"},
    [PART_LOAD] = {"load", NAME_MAY, PART_LOAD, false, true, LIST(loads, load_count, fe_plan_load), NAMED(fe_plan_load), "something that needs power"},
    [PART_FEED] = {"feed", NAME_NONE, PART_FEED, false, false, SINGLE(feed, fe_plan_feed), MARKED(fe_plan_feed), "the supply cable"},
    [PART_SOLAR] = {"solar", NAME_NONE, PART_SOLAR, false, false, SINGLE(solar, fe_plan_solar), MARKED(fe_plan_solar), "panel and battery"},
    [PART_SPARE] = {"spare", NAME_NONE, PART_SPARE, false, true, SINGLE(spare, fe_plan_spare), UNNAMED, "growth to build in"},
    [PART_PRICES] = {"prices", NAME_NONE, PART_PRICES, false, false, SINGLE(prices, fe_plan_prices), .name_offset = NOWHERE, .line_offset = NOWHERE, .given_offset = offsetof(fe_plan_prices, given), "prices by class, and by size where it matters"},
    [PART_READING] = {"reading", NAME_MAY, PART_READING, false, true, LIST(readings, reading_count, fe_plan_reading), NAMED(fe_plan_reading), "what was measured"},
};

static const char *const YES_NO[] = {"no", "yes", NULL};
static const char *const REGIONS[] = {"US", "EU", "UK", "CA", "AU", NULL};
static const char *const MOUNTS[] = {"indoors", "outdoors", "behind glass", NULL};
static const char *const AIMS[] = {"rough", "by signal", NULL};
static const char *const NOISES[] = {"quiet rural", "village", "flats", NULL};
static const char *const LANDS[] = {"meadow", "field", "yard", "water", "woodland", NULL};
static const char *const TREE_KINDS[] = {"deciduous", "conifer", "hedge", NULL};
static const char *const SNOWS[] = {"dry", "wet", NULL};
static const char *const SURFACES[] = {"dry soil", "wet soil", "water", "dry snow", "wet snow", "ice", NULL};
static const char *const TREE_STATES[] = {"dry", "wet", "frozen", NULL};
static const char *const COVERS[] = {"dry", "water film", "wet snow", NULL};
static const char *const TIED_AT[] = {"posts", "ends", NULL};
static const char *const SAFETY_FORMATS[] = {"EN", "US", NULL};
static const char *const EARTHINGS[] = {"TT", "TN-S", "TN-C-S", NULL};
/* From the weakest to the strongest, or the lossiest to the best. */
static const char *const SOILS[] = {"clay", "sand", "stony", "gravel", "rock", NULL};
static const char *const WOODS[] = {"C14", "C16", "C18", "C24", "C30", NULL};
static const char *const FEEDERS[] = {"2.8 mm", "5 mm", "5 mm low-loss", "10 mm", "10 mm low-loss", NULL};
/* "unknown": the cable's own, or none; then from the weakest to the strongest. */
static const char *const STRANDS[] = {"unknown", "3/16 common", "3/16 extra high strength", "1/4 common", "1/4 extra high strength", "5/16 extra high strength", NULL};
static const char *const DEVICES[] = {"unknown", "B6", "B10", "B16", "B20", "B32", "C10", "C16", "C20", "C32", NULL};
static const char *const WHEN_BUILT[] = {"before", "after", NULL};

#define GEAR(member) offsetof(fe_gear, member)
#define CLASS(member) offsetof(fe_cable_class, member)
#define SITE(member) offsetof(fe_plan_site, member)
#define END(member) offsetof(fe_plan_end, member)
#define PATH(member) offsetof(fe_plan_path, member)
#define TREES(member) offsetof(fe_plan_trees, member)
#define TRAFFIC(member) offsetof(fe_plan_traffic, member)
#define RELAY(member) offsetof(fe_plan_relay, member)
#define CLIMATE(member) offsetof(fe_plan_climate, member)
#define SEASON(member) offsetof(fe_plan_season, member)
#define POSTS(member) offsetof(fe_plan_posts, member)
#define TRENCH(member) offsetof(fe_plan_trench, member)
#define CABLE(member) offsetof(fe_plan_cable, member)
#define FEED(member) offsetof(fe_plan_feed, member)
#define LOAD(member) offsetof(fe_plan_load, member)
#define SOLAR(member) offsetof(fe_plan_solar, member)
#define SPARE(member) offsetof(fe_plan_spare, member)
#define PRICES(member) offsetof(fe_plan_prices, member)
#define READING(member) offsetof(fe_plan_reading, member)

#define NONE FE_DIM_NUMBER
#define RAIN .one = 1e-3 / 3600.0, .unit = "mm/h"
#define HOURS .one = 3600.0, .unit = "h"
#define DAYS .one = 86400.0, .unit = "days"
#define TEMPERATE .why = "a temperate climate; common practice, no source"

/*
 * Defaults, bounds and what stands in for `unknown` are common practice, no source, where a row
 * does not say otherwise. Bounds are no engineering limits: beyond them a value is a slip of
 * the pen or the wrong unit.
 */
static const plan_key KEYS[] = {
    {PART_SITE, "name", KIND_TEXT, NONE, SITE(name), .fallback = "the place", .example = "Moor Farm", .help = "what the report is called"},
    {PART_SITE, "region", KIND_WORD, NONE, SITE(region), .words = REGIONS, .fallback = "EU", .unknown = "EU", .example = "EU", .help = "whose rules for radio power hold"},
    {PART_SITE, "bands", KIND_SPECIAL, NONE, 0, .repeats = true, .special = plan_special_bands, .expected = "radio bands", .example = "2.4 GHz, 5 GHz", .help = "radio bands to consider; all that the region opens where not given"},
    {PART_SITE, "availability", KIND_VALUE, FE_DIM_FRACTION, SITE(availability), .fallback = "99 %", .bounds = "50..99.999 %", .unknown = "95..99.9 %", .example = "99 %", .help = "share of time in which it shall work"},
    {PART_SITE, "confidence", KIND_VALUE, FE_DIM_FRACTION, SITE(confidence), .fallback = "90 %", .bounds = "50..99.9 %", .unknown = "80..95 %", .example = "90 %", .help = "chance that what is built meets the target"},
    {PART_SITE, "flash-density", KIND_VALUE, FE_DIM_FLASH_DENSITY, SITE(flash_density), .fallback = "1 /km2/year", .bounds = "0..100 /km2/year", .unknown = "0.3..4 /km2/year", .example = "1 /km2/year", .help = "lightning strikes to ground"},

    {PART_END, "gear", KIND_GEARS, NONE, END(gear), .repeats = true, .fallback = "outdoor-access-point, directional-panel", .example = "outdoor-access-point", .help = "classes of radio gear that may hang here, best liked first"},
    {PART_END, "height", KIND_VALUE, FE_DIM_LENGTH, END(height_m), .fallback = "3 m", .bounds = "0.05..150 m", .unknown = "2..5 m", .example = "3 m", .help = "antenna above the bare ground"},
    {PART_END, "mount", KIND_WORD, NONE, END(mount), .words = MOUNTS, .fallback = "outdoors", .unknown = "indoors", .example = "outdoors", .help = "where the antenna hangs"},
    {PART_END, "feeder", KIND_TEXT, NONE, END(feeder), .unknown = "5 mm", .may_be = FEEDERS, .example = "10 mm low-loss", .help = "class of the cable between radio and antenna"},
    {PART_END, "feeder-length", KIND_VALUE, FE_DIM_LENGTH, END(feeder_m), .bounds = "0..100 m", .unknown = "1..10 m", .example = "3 m", .help = "length of that cable"},
    {PART_END, "aim", KIND_WORD, NONE, END(aim), .words = AIMS, .fallback = "rough", .unknown = "rough", .example = "by signal", .help = "how the antenna is put on target"},
    {PART_END, "wall", KIND_SPECIAL, FE_DIM_LENGTH, 0, .repeats = true, .special = plan_special_wall, .bounds = "0.5 mm..3 m", .expected = "a kind of wall and, if known, its thickness", .example = "brick 110 mm", .help = "a wall between the antenna and outdoors"},
    {PART_END, "noise", KIND_WORD, NONE, END(noise), .words = NOISES, .fallback = "quiet rural", .unknown = "village", .example = "village", .help = "what else is on the air here"},
    {PART_END, "mains", KIND_WORD, NONE, END(mains), .words = YES_NO, .unknown = "no", .example = "yes", .help = "mains power there; yes at the first end and no elsewhere where not given"},
    {PART_END, "position", KIND_SPECIAL, FE_DIM_ANGLE, 0, .special = plan_special_position, .expected = "latitude and longitude", .example = "46.81 deg, 7.15 deg", .help = "latitude and longitude"},

    {PART_PATH, "from", KIND_END, NONE, PATH(from), .fallback = "0", .example = "house", .help = "end at which distances begin"},
    {PART_PATH, "to", KIND_END, NONE, PATH(to), .fallback = "1", .example = "shed", .help = "end at which they stop"},
    {PART_PATH, "distance", KIND_VALUE, FE_DIM_LENGTH, PATH(distance_m), .bounds = "1 m..50 km", .unknown = "50..500 m", .example = "150 m", .help = "horizontal distance; this or a profile"},
    {PART_PATH, "profile", KIND_TEXT, NONE, PATH(profile_file), .example = "terrain/meadow.csv", .help = "file with the ground: distance_m,height_m"},
    {PART_PATH, "rise", KIND_VALUE, FE_DIM_LENGTH, PATH(rise_m), .bounds = "-5000..5000 m", .unknown = "-10..10 m", .example = "4 m", .help = "far end above the first, where there is no profile"},
    {PART_PATH, "land", KIND_WORD, NONE, PATH(land), .words = LANDS, .fallback = "meadow", .unknown = "yard", .example = "meadow", .help = "what lies between the ends, apart from trees"},
    {PART_PATH, "crop", KIND_VALUE, FE_DIM_LENGTH, PATH(crop_m), .fallback = "0.3 m", .bounds = "0..10 m", .unknown = "0..2 m", .example = "0.8 m", .why = "grass; common practice, no source", .help = "height of what grows along it in summer"},

    {PART_TREES, "path", KIND_PATH, NONE, TREES(path), .example = "meadow", .help = "path they stand on"},
    {PART_TREES, "from", KIND_VALUE, FE_DIM_LENGTH, TREES(from_m), .required = true, .bounds = "0..50000 m", .unknown = "0..20 m", .example = "80 m", .help = "where they begin, along the path"},
    {PART_TREES, "to", KIND_VALUE, FE_DIM_LENGTH, TREES(to_m), .required = true, .bounds = "0..50000 m", .unknown = "20..50 m", .example = "82 m", .help = "where they end"},
    {PART_TREES, "height", KIND_VALUE, FE_DIM_LENGTH, TREES(height_m), .fallback = "10 m", .bounds = "0.1..100 m", .unknown = "2..20 m", .example = "8 m", .help = "height above their ground"},
    {PART_TREES, "kind", KIND_WORD, NONE, TREES(kind), .words = TREE_KINDS, .fallback = "deciduous", .unknown = "deciduous", .example = "hedge", .help = "what they are"},

    {PART_TRAFFIC, "from", KIND_END, NONE, TRAFFIC(from), .fallback = "0", .example = "shed", .help = "end that sends"},
    {PART_TRAFFIC, "to", KIND_END, NONE, TRAFFIC(to), .fallback = "1", .example = "house", .help = "end that receives"},
    {PART_TRAFFIC, "stream", KIND_VALUE, FE_DIM_DATA_RATE, TRAFFIC(stream_bps), .bounds = "1 b/s..100 Gb/s", .unknown = "1..10 Mb/s", .example = "6 Mb/s", .help = "a steady rate; this or a transfer"},
    {PART_TRAFFIC, "transfer", KIND_SPECIAL, FE_DIM_DATA, 0, .special = plan_special_transfer, .unknown = "10..100 GB in 8 h", .expected = "an amount of data and a time", .example = "40 GB in 8 h", .help = "an amount within a time"},
    {PART_TRAFFIC, "longest-delay", KIND_VALUE, FE_DIM_TIME, TRAFFIC(longest_delay_s), .bounds = "0.1 ms..3600 s", .unknown = "50..500 ms", .example = "150 ms", .help = "longest delay one way"},

    {PART_RELAY, "place", KIND_SPECIAL, FE_DIM_LENGTH, RELAY(places_m), .repeats = true, .fallback = "anywhere", .special = plan_special_places, .bounds = "0..50000 m", .expected = "distances along the path, or anywhere", .example = "60 m, 110 m", .help = "where a relay may stand along the first path"},
    {PART_RELAY, "power", KIND_VALUES, FE_DIM_LENGTH, RELAY(powered_m), .repeats = true, .bounds = "0..50000 m", .unknown = "0..0 m", .example = "60 m", .help = "places that have power"},
    {PART_RELAY, "gear", KIND_GEAR, NONE, RELAY(gear), .fallback = "outdoor-access-point", .example = "outdoor-access-point", .help = "class of the relay"},
    {PART_RELAY, "height", KIND_VALUE, FE_DIM_LENGTH, RELAY(height_m), .fallback = "3 m", .bounds = "0.05..150 m", .unknown = "2..5 m", .example = "3 m", .help = "its antenna above the bare ground"},

    {PART_OWN, "*", KIND_SPECIAL, FE_DIM_COUNT, 0, .repeats = true, .special = plan_special_own, .bounds = "0..1000", .expected = "how many of a gear class", .example = "2", .help = "GEAR CLASS = how many"},

    {PART_CLIMATE, "class", KIND_SPECIAL, NONE, 0, .special = plan_special_climate_class, .expected = "the name of a climate class", .example = "temperate-wet", .help = "class that fills what is not given"},
    {PART_CLIMATE, "summary", KIND_TEXT, NONE, CLIMATE(summary), .example = "mild and wet", .help = "what the class stands for"},
    {PART_CLIMATE, "deepest-snow", KIND_VALUE, FE_DIM_LENGTH, CLIMATE(snow_m), .fallback = "0.3 m", .bounds = "0..15 m", .unknown = "0..1 m", .example = "0.5 m", TEMPERATE, .help = "deepest snow lying"},
    {PART_CLIMATE, "coldest", KIND_VALUE, FE_DIM_TEMPERATURE, CLIMATE(coldest_c), .fallback = "-15 degC", .bounds = "-75..35 degC", .unknown = "-25..-5 degC", .example = "-15 degC", TEMPERATE, .help = "coldest air"},
    {PART_CLIMATE, "hottest", KIND_VALUE, FE_DIM_TEMPERATURE, CLIMATE(hottest_c), .fallback = "35 degC", .bounds = "-20..60 degC", .unknown = "28..40 degC", .example = "35 degC", TEMPERATE, .help = "hottest air"},
    {PART_CLIMATE, "ice", KIND_VALUE, FE_DIM_LENGTH, CLIMATE(ice_m), .fallback = "6 mm", .bounds = "0..200 mm", .unknown = "0..12 mm", .example = "6 mm", TEMPERATE, .help = "radial thickness of ice on a cable"},
    {PART_CLIMATE, "wind", KIND_VALUE, FE_DIM_SPEED, CLIMATE(wind_m_s), .fallback = "28 m/s", .bounds = "0..100 m/s", .unknown = "22..35 m/s", .example = "28 m/s", TEMPERATE, .help = "strongest gust at the height of a cable"},
    {PART_CLIMATE, "rain", KIND_VALUE, FE_DIM_RAIN_RATE, CLIMATE(rain_mm_h), RAIN, .fallback = "30 mm/h", .bounds = "0..300 mm/h", .unknown = "20..60 mm/h", .example = "30 mm/h", TEMPERATE, .help = "rain rate exceeded in 0.01 % of the time"},
    {PART_CLIMATE, "source", KIND_LINES, NONE, CLIMATE(sources), .repeats = true, .example = "rain: common practice, no source", .help = "FIGURE: where it comes from"},

    {PART_SEASON, "snow", KIND_VALUE, FE_DIM_LENGTH, SEASON(snow_m), .fallback = "0 m", .bounds = "0..15 m", .unknown = "0..1 m", .example = "0.5 m", .help = "depth of snow lying"},
    {PART_SEASON, "snow-is", KIND_WORD, NONE, SEASON(snow_is_wet), .words = SNOWS, .fallback = "dry", .unknown = "wet", .example = "wet", .help = "dry or wet snow"},
    {PART_SEASON, "crop", KIND_VALUE, FE_DIM_LENGTH, SEASON(crop_m), .bounds = "0..10 m", .unknown = "0..2 m", .example = "0.8 m", .help = "height of what grows; left out, the path's where there are leaves"},
    {PART_SEASON, "surface", KIND_WORD, NONE, SEASON(surface), .words = SURFACES, .fallback = "wet soil", .unknown = "wet soil", .example = "wet soil", .help = "what a wave meets on the ground"},
    {PART_SEASON, "leaves", KIND_WORD, NONE, SEASON(leaves), .words = YES_NO, .fallback = "yes", .unknown = "yes", .example = "yes", .help = "leaves on the trees"},
    {PART_SEASON, "trees", KIND_WORD, NONE, SEASON(trees), .words = TREE_STATES, .fallback = "wet", .unknown = "wet", .example = "frozen", .help = "water in and on the trees"},
    {PART_SEASON, "cover", KIND_WORD, NONE, SEASON(cover), .words = COVERS, .fallback = "water film", .unknown = "wet snow", .example = "water film", .help = "what lies on an antenna's cover"},
    {PART_SEASON, "coldest", KIND_VALUE, FE_DIM_TEMPERATURE, SEASON(coldest_c), .required = true, .bounds = "-75..60 degC", .unknown = "-25..5 degC", .example = "-15 degC", .help = "coldest air of the season"},
    {PART_SEASON, "hottest", KIND_VALUE, FE_DIM_TEMPERATURE, SEASON(hottest_c), .required = true, .bounds = "-75..60 degC", .unknown = "10..40 degC", .example = "5 degC", .help = "hottest air of the season"},
    {PART_SEASON, "ice", KIND_VALUE, FE_DIM_LENGTH, SEASON(ice_m), .fallback = "0 mm", .bounds = "0..200 mm", .unknown = "0..12 mm", .example = "6 mm", .help = "radial thickness of ice on a cable"},
    {PART_SEASON, "wind", KIND_VALUE, FE_DIM_SPEED, SEASON(wind_m_s), .fallback = "28 m/s", .bounds = "0..100 m/s", .unknown = "22..35 m/s", .example = "28 m/s", .help = "strongest gust at the height of a cable"},
    {PART_SEASON, "rain", KIND_VALUE, FE_DIM_RAIN_RATE, SEASON(rain_mm_h), RAIN, .fallback = "0 mm/h", .bounds = "0..300 mm/h", .unknown = "0..60 mm/h", .example = "30 mm/h", .help = "rain rate exceeded in 0.01 % of the time"},

    {PART_POSTS, "cable", KIND_CABLE, NONE, POSTS(cable), .fallback = "outdoor-data-messenger", .example = "outdoor-data-messenger", .help = "class of the cable that hangs"},
    {PART_POSTS, "supply", KIND_CABLE, NONE, POSTS(supply), .example = "supply-aerial", .help = "class of a supply cable above it on the same posts"},
    {PART_POSTS, "supply-above", KIND_VALUE, FE_DIM_LENGTH, POSTS(supply_above_m), .bounds = "0.1..3 m", .unknown = "0.6..1.2 m", .example = "1.2 m", .help = "how far over the data cable it is tied; the rule's where not given"},
    {PART_POSTS, "messenger", KIND_TEXT, NONE, POSTS(messenger), .unknown = "unknown", .may_be = STRANDS, .example = "3/16 extra high strength", .help = "strand that carries it; its own where not given"},
    {PART_POSTS, "length", KIND_VALUES, FE_DIM_LENGTH, POSTS(post_lengths_m), .repeats = true, .fallback = "3 m, 4 m, 5 m, 6 m", .bounds = "1..20 m", .unknown = "3..6 m", .example = "4 m, 5 m", .help = "lengths of post on hand"},
    {PART_POSTS, "section", KIND_SPECIAL, FE_DIM_LENGTH, 0, .special = plan_special_section, .fallback = "round 100 mm", .bounds = "40..500 mm", .unknown = "round 80..120 mm", .expected = "round or square with its size", .example = "round 100 mm", .help = "round or square, and how thick"},
    {PART_POSTS, "wood", KIND_TEXT, NONE, POSTS(wood), .fallback = "C24", .unknown = "C16", .may_be = WOODS, .example = "C24", .help = "species or strength class of the posts"},
    {PART_POSTS, "soil", KIND_TEXT, NONE, POSTS(soil), .fallback = "sand", .unknown = "clay", .may_be = SOILS, .example = "clay", .help = "what they are set in"},
    {PART_POSTS, "frost-depth", KIND_VALUE, FE_DIM_LENGTH, POSTS(frost_depth_m), .fallback = "0.6 m", .bounds = "0..4 m", .unknown = "0.3..1.2 m", .example = "0.8 m", .help = "how deep the ground freezes"},
    {PART_POSTS, "span", KIND_VALUE, FE_DIM_LENGTH, POSTS(span_m), .fallback = "10..40 m", .bounds = "1..300 m", .unknown = "10..50 m", .example = "10..40 m", .help = "shortest and longest span allowed"},
    {PART_POSTS, "corner", KIND_SPECIAL, NONE, 0, .repeats = true, .special = plan_special_corner, .expected = "a distance, an angle and, if known, left or right", .example = "40 m 30 deg left", .help = "where the run turns, by how much, and to which side as it is walked from the start"},
    {PART_POSTS, "over *", KIND_SPECIAL, FE_DIM_LENGTH, 0, .repeats = true, .special = plan_special_over, .bounds = "0..50000 m", .expected = "a stretch and what passes below (walkers, animals, riders, vehicles, driveway, low driveway, road, tall machines, high loads, railway, water, supply line; roof, steep roof or eaves with their height)", .example = "40 m..44 m vehicles", .help = "a thing below, and if wanted the clearance over it"},
    {PART_POSTS, "beside *", KIND_SPECIAL, FE_DIM_LENGTH, 0, .repeats = true, .special = plan_special_beside, .bounds = "0..50000 m", .expected = "a stretch and the distance of the thing from the line", .example = "40 m..44 m 1.5 m", .help = "a thing beside the run that a cable blown out must not touch"},
    {PART_POSTS, "stringing-temperature", KIND_VALUE, FE_DIM_TEMPERATURE, POSTS(stringing_c), .fallback = "15 degC", .bounds = "-30..45 degC", .unknown = "5..25 degC", .example = "15 degC", .help = "air on the day of stringing"},
    {PART_POSTS, "sag", KIND_VALUE, FE_DIM_FRACTION, POSTS(sag_share), .fallback = "2 %", .bounds = "0.2..20 %", .unknown = "1..4 %", .example = "2 %", .help = "sag at stringing, as a share of the span"},
    {PART_POSTS, "start-height", KIND_VALUE, FE_DIM_LENGTH, POSTS(start_height_m), .fallback = "3 m", .bounds = "0.5..30 m", .unknown = "2.5..4 m", .example = "3 m", .help = "attachment on the first building"},
    {PART_POSTS, "end-height", KIND_VALUE, FE_DIM_LENGTH, POSTS(end_height_m), .fallback = "3 m", .bounds = "0.5..30 m", .unknown = "2.5..4 m", .example = "3 m", .help = "attachment on the far building"},
    {PART_POSTS, "place", KIND_VALUES, FE_DIM_LENGTH, POSTS(places_m), .repeats = true, .bounds = "0..50000 m", .unknown = "0..0 m", .example = "30 m, 62 m", .help = "posts already decided"},
    {PART_POSTS, "no-post", KIND_VALUES, FE_DIM_LENGTH, POSTS(forbidden_m), .repeats = true, .bounds = "0..50000 m", .unknown = "0..0 m", .example = "40..44 m", .help = "stretches where no post may stand"},
    {PART_POSTS, "setting-depth", KIND_VALUE, FE_DIM_LENGTH, POSTS(setting_depth_m), .bounds = "0.2..4 m", .unknown = "0.6..1.2 m", .example = "0.9 m", .help = "how deep posts are set; the rule's where not given"},
    {PART_POSTS, "clearance", KIND_VALUE, FE_DIM_LENGTH, POSTS(clearance_m), .bounds = "1..20 m", .unknown = "2.5..5.5 m", .example = "2.9 m", .help = "over bare ground; the code's where not given"},
    {PART_POSTS, "clearance-code", KIND_TEXT, NONE, POSTS(clearance_code), .example = "US NFPA 70", .help = "code whose heights count; IEEE C2 in the US format, else the UK wiring guide"},
    {PART_POSTS, "district", KIND_TEXT, NONE, POSTS(district), .example = "US IEEE C2/heavy", .help = "a code's load of ice and wind, besides those of the seasons"},
    {PART_POSTS, "wet-snow", KIND_VALUE, FE_DIM_LINEAR_MASS, POSTS(wet_snow_kg_m), .bounds = "0..30 kg/m", .unknown = "0..2 kg/m", .example = "1 kg/m", .help = "sleeve of snow on a cable, in seasons of wet snow"},
    {PART_POSTS, "anchor", KIND_TEXT, NONE, POSTS(anchor), .example = "6000 lb", .help = "class of a stay's anchor; as strong as it must be where not given"},
    {PART_POSTS, "tied", KIND_WORD, NONE, POSTS(tied), .words = TIED_AT, .fallback = "posts", .unknown = "posts", .example = "posts", .help = "where the cable is tied off; ends: it runs free over the posts"},
    {PART_POSTS, "safety", KIND_WORD, NONE, POSTS(safety), .words = SAFETY_FORMATS, .unknown = "EN", .example = "EN", .help = "safety format; US in US and CA, else EN, where not given"},

    {PART_TRENCH, "along", KIND_SPECIAL, FE_DIM_LENGTH, 0, .special = plan_special_along, .fallback = "path", .bounds = "1..50000 m", .unknown = "50..500 m", .expected = "path, or a length", .example = "path", .help = "path: as long as the ground; or a length"},
    {PART_TRENCH, "depth", KIND_VALUE, FE_DIM_LENGTH, TRENCH(depth_m), .fallback = "0.6 m", .bounds = "0.05..3 m", .unknown = "0.4..0.9 m", .example = "0.6 m", .help = "cover over the cable"},
    {PART_TRENCH, "soil", KIND_TEXT, NONE, TRENCH(soil), .fallback = "sand", .unknown = "stony", .example = "clay", .help = "what is dug"},
    {PART_TRENCH, "crossing", KIND_TEXTS, NONE, TRENCH(crossings), .repeats = true, .example = "cart track", .help = "what has to be crossed"},
    {PART_TRENCH, "duct", KIND_VALUE, FE_DIM_LENGTH, TRENCH(duct_m), .bounds = "8..300 mm", .unknown = "25..50 mm", .example = "40 mm", .help = "inner diameter; without one the cable lies in the ground"},

    {PART_CABLE, "class", KIND_CABLE, NONE, CABLE(cable_class), .fallback = "outdoor-data", .example = "outdoor-data", .help = "data cable where it does not hang"},
    {PART_CABLE, "indoor", KIND_VALUES, FE_DIM_LENGTH, CABLE(indoor_m), .repeats = true, .fallback = "5 m, 5 m", .bounds = "0..500 m", .unknown = "3..20 m", .example = "8 m, 3 m", .help = "run inside each building"},
    {PART_CABLE, "cords", KIND_VALUE, FE_DIM_LENGTH, CABLE(cords_m), .fallback = "4 m", .bounds = "0..100 m", .unknown = "2..10 m", .example = "4 m", .help = "all cords together"},
    {PART_CABLE, "patch-points", KIND_VALUE, FE_DIM_COUNT, CABLE(patch_points), .fallback = "2", .bounds = "0..20", .unknown = "2..4", .example = "2", .help = "sockets and panels on the way"},

    {PART_LOAD, "end", KIND_END, NONE, LOAD(end), .example = "shed", .help = "building it stands in; the far end of the first path where not given"},
    {PART_LOAD, "power", KIND_VALUE, FE_DIM_POWER, LOAD(power_w), .bounds = "0.001 W..200 kW", .unknown = "5..100 W", .example = "60 W", .help = "power it takes; this or a current"},
    {PART_LOAD, "current", KIND_VALUE, FE_DIM_CURRENT, LOAD(current_a), .bounds = "0.0001..1000 A", .unknown = "0.1..5 A", .example = "2 A", .help = "current it takes, with the voltage it is for"},
    {PART_LOAD, "voltage", KIND_VALUE, FE_DIM_VOLTAGE, LOAD(voltage_v), .bounds = "1..1000 V", .unknown = "207..253 V", .example = "207..253 V", .help = "voltage it accepts, LOW..HIGH"},
    {PART_LOAD, "start", KIND_VALUE, FE_DIM_NUMBER, LOAD(start_factor), .fallback = "1", .bounds = "1..20", .unknown = "1..6", .example = "3", .help = "surge at start over running power"},
    {PART_LOAD, "power-factor", KIND_VALUE, FE_DIM_FRACTION, LOAD(power_factor), .fallback = "1", .bounds = "0.1..1", .unknown = "0.5..1", .example = "0.9", .help = "power factor"},
    {PART_LOAD, "hours", KIND_VALUE, FE_DIM_TIME, LOAD(hours_per_day), HOURS, .fallback = "24 h", .bounds = "0..24 h", .unknown = "2..24 h", .example = "6 h", .help = "hours a day it runs"},
    {PART_LOAD, "at", KIND_VALUE, FE_DIM_LENGTH, LOAD(at_m), .bounds = "0..50000 m", .unknown = "0..100 m", .example = "60 m", .help = "where along the feed; at its far end where not given"},

    {PART_FEED, "voltage", KIND_SPECIAL, FE_DIM_VOLTAGE, 0, .repeats = true, .special = plan_special_voltage, .bounds = "1..1000 V", .unknown = "11..14.4 V dc", .expected = "a voltage, ac or dc", .example = "48 V dc", .help = "source to consider; 230 V (120 V in US and CA) where not given"},
    {PART_FEED, "conductor", KIND_SPECIAL, NONE, 0, .repeats = true, .special = plan_special_conductor, .fallback = "copper", .expected = "copper or aluminium", .example = "copper", .help = "metals to consider"},
    {PART_FEED, "allowed-drop", KIND_VALUE, FE_DIM_FRACTION, FEED(allowed_drop), .fallback = "5 %", .bounds = "0.1..50 %", .unknown = "3..10 %", .example = "5 %", .help = "share of the voltage that may be lost"},
    {PART_FEED, "protection", KIND_TEXT, NONE, FEED(protection), .unknown = "unknown", .may_be = DEVICES, .example = "B16", .help = "protective device at the supply end"},
    {PART_FEED, "earthing", KIND_WORD, NONE, FEED(earthing), .words = EARTHINGS, .fallback = "TT", .unknown = "TT", .example = "TT", .help = "earthing of the supply"},
    {PART_FEED, "loop-impedance", KIND_VALUE, FE_DIM_RESISTANCE, FEED(loop_impedance_ohm), .fallback = "0.35 ohm", .bounds = "0..1000 ohm", .unknown = "0.2..0.8 ohm", .example = "0.35 ohm", .help = "of the fault loop at the supply end"},
    {PART_FEED, "size", KIND_VALUE, FE_DIM_AREA, FEED(conductor_m2), .bounds = "0.1..500 mm2", .unknown = "1.5..10 mm2", .example = "2.5 mm2", .help = "conductor, where the cable is there already"},

    {PART_SOLAR, "sun-hours", KIND_VALUE, FE_DIM_TIME, SOLAR(sun_hours), HOURS, .fallback = "1 h", .bounds = "0.05..12 h", .unknown = "0.5..2.5 h", .example = "1.2 h", .help = "hours of full sun a day in the worst month"},
    {PART_SOLAR, "dark-days", KIND_VALUE, FE_DIM_TIME, SOLAR(dark_days), DAYS, .fallback = "5 days", .bounds = "0..90 days", .unknown = "3..10 days", .example = "5 days", .help = "days without sun to get through"},
    {PART_SOLAR, "discharge", KIND_VALUE, FE_DIM_FRACTION, SOLAR(discharge), .fallback = "50 %", .bounds = "1..100 %", .unknown = "30..80 %", .example = "50 %", .help = "share of the battery that is used"},

    {PART_SPARE, "rate", KIND_VALUE, FE_DIM_FRACTION, SPARE(rate), .fallback = "0 %", .bounds = "0..1000 %", .unknown = "0..100 %", .example = "50 %", .help = "more data later, as a share"},
    {PART_SPARE, "power", KIND_VALUE, FE_DIM_FRACTION, SPARE(power), .fallback = "0 %", .bounds = "0..1000 %", .unknown = "0..100 %", .example = "25 %", .help = "more power later, as a share"},
    {PART_SPARE, "ports", KIND_VALUE, FE_DIM_COUNT, SPARE(ports), .fallback = "0", .bounds = "0..100", .unknown = "0..2", .example = "1", .help = "wired ports to keep free"},
    {PART_SPARE, "ducts", KIND_VALUE, FE_DIM_COUNT, SPARE(ducts), .fallback = "0", .bounds = "0..20", .unknown = "0..1", .example = "1", .help = "empty ducts to lay"},

    {PART_PRICES, "currency", KIND_TEXT, NONE, PRICES(currency), .example = "EUR", .help = "what prices are in"},
    {PART_PRICES, "date", KIND_TEXT, NONE, PRICES(date), .example = "March 2026", .help = "when they were asked"},
    {PART_PRICES, "*", KIND_SPECIAL, FE_DIM_MONEY, 0, .repeats = true, .special = plan_special_price, .bounds = "0..1000000000", .expected = "a price each, per m or per ft", .example = "0.90 per m", .help = "THING = price, or THING SIZE = price as above; each, per m or per ft"},

    {PART_READING, "from", KIND_END, NONE, READING(from), .fallback = "0", .example = "house", .help = "end that sends"},
    {PART_READING, "to", KIND_END, NONE, READING(to), .fallback = "1", .example = "shed", .help = "end that receives"},
    {PART_READING, "band", KIND_SPECIAL, NONE, 0, .special = plan_special_band, .expected = "a radio band", .example = "5 GHz", .help = "radio band"},
    {PART_READING, "level", KIND_VALUE, FE_DIM_LEVEL, READING(level_dbm), .bounds = "-150..30 dBm", .unknown = "-90..-50 dBm", .example = "-67 dBm", .help = "level received"},
    {PART_READING, "rate", KIND_VALUE, FE_DIM_DATA_RATE, READING(rate_bps), .bounds = "0 b/s..100 Gb/s", .unknown = "1..100 Mb/s", .example = "40 Mb/s", .help = "rate delivered"},
    {PART_READING, "noise", KIND_VALUE, FE_DIM_LEVEL, READING(noise_dbm), .bounds = "-150..0 dBm", .unknown = "-100..-85 dBm", .example = "-95 dBm", .help = "noise at the receiver"},
    {PART_READING, "when", KIND_TEXT, NONE, READING(when), .example = "wet morning in May", .help = "when it was read"},
    {PART_READING, "built", KIND_WORD, NONE, READING(built), .words = WHEN_BUILT, .fallback = "after", .unknown = "before", .example = "after", .help = "before building or after"},

    {PART_GEAR, "summary", KIND_TEXT, NONE, GEAR(summary), .example = "access point for a wall outdoors", .help = "what the class stands for"},
    {PART_GEAR, "radio", KIND_SPECIAL, NONE, 0, .required = true, .repeats = true, .special = plan_special_radio, .expected = "pairs of figure and value, separated by commas", .example = "band 2.4 GHz, standard he, width 20 MHz, streams 2, power 17 dBm, gain 3 dBi", .help = "one radio: band, standard, width, streams, power, falloff, gain, beam, tilt-beam, bonus, polarisation"},
    {PART_GEAR, "outdoor", KIND_FLAG, NONE, GEAR(outdoor), .example = "yes", .help = "built to hang in the weather"},
    {PART_GEAR, "relays", KIND_FLAG, NONE, GEAR(relays), .example = "yes", .help = "passes traffic on over radio"},
    {PART_GEAR, "antenna-built-in", KIND_FLAG, NONE, GEAR(antenna_built_in), .example = "yes", .help = "antenna inside the case"},
    {PART_GEAR, "port", KIND_NUMBER, FE_DIM_DATA_RATE, GEAR(port_bps), .fallback = "0 b/s", .bounds = "0 b/s..100 Gb/s", .example = "1 Gb/s", .help = "wired port; none where not given"},
    {PART_GEAR, "consumption", KIND_NUMBER, FE_DIM_POWER, GEAR(power_w), .required = true, .bounds = "0..500 W", .example = "9 W", .help = "power it takes"},
    {PART_GEAR, "lowest-temperature", KIND_NUMBER, FE_DIM_TEMPERATURE, GEAR(lowest_temp_c), .required = true, .bounds = "-75..30 degC", .example = "-30 degC", .help = "starts and runs down to here"},
    {PART_GEAR, "source", KIND_SPECIAL, NONE, 0, .repeats = true, .special = plan_special_gear_source, .expected = "FIGURE: where it comes from", .example = "gain: common practice, no source", .help = "FIGURE: where it comes from"},

    {PART_CABLE_CLASS, "summary", KIND_TEXT, NONE, CLASS(summary), .example = "gel-filled, for outdoors", .help = "what the class stands for"},
    {PART_CABLE_CLASS, "medium", KIND_SPECIAL, NONE, 0, .required = true, .special = plan_special_medium, .expected = "copper pairs, single pair, fibre or supply", .example = "copper pairs", .help = "what it carries"},
    {PART_CABLE_CLASS, "category", KIND_SPECIAL, NONE, 0, .special = plan_special_category, .expected = "a category of pairs (3, 5, 5e, 6, 6A, 8) or of fibre (OM1 to OM5, OS2)", .example = "5e", .help = "of pairs (5e, 6, 6A) or fibre (OS2, OM3)"},
    {PART_CABLE_CLASS, "diameter", KIND_NUMBER, FE_DIM_LENGTH, CLASS(diameter_m), .required = true, .bounds = "0.5..200 mm", .example = "6 mm", .help = "outer, as wind and ice see it"},
    {PART_CABLE_CLASS, "mass", KIND_SPECIAL, FE_DIM_LINEAR_MASS, 0, .special = plan_special_mass, .bounds = "0.0001..50 kg/m", .expected = "a mass per length", .example = "55 kg/km", .help = "in place of weight, as data sheets have it"},
    {PART_CABLE_CLASS, "weight", KIND_NUMBER, FE_DIM_LINEAR_FORCE, CLASS(weight_n_m), .bounds = "0.001..500 N/m", .example = "0.5 N/m", .help = "of a metre, messenger included"},
    {PART_CABLE_CLASS, "messenger", KIND_FLAG, NONE, CLASS(has_messenger), .example = "yes", .help = "a strand of its own carries it"},
    {PART_CABLE_CLASS, "self-supporting", KIND_FLAG, NONE, CLASS(self_supporting), .example = "yes", .help = "may hang between posts by itself"},
    {PART_CABLE_CLASS, "metallic", KIND_FLAG, NONE, CLASS(metallic), .example = "yes", .help = "any metal along it"},
    {PART_CABLE_CLASS, "area", KIND_NUMBER, FE_DIM_AREA, CLASS(area_m2), .bounds = "0.01..2000 mm2", .example = "0.9 mm2", .help = "of what carries the pull"},
    {PART_CABLE_CLASS, "modulus", KIND_NUMBER, FE_DIM_PRESSURE, CLASS(modulus_pa), .bounds = "0.1..300 GPa", .example = "170 GPa", .help = "modulus of what carries the pull"},
    {PART_CABLE_CLASS, "expansion", KIND_NUMBER, FE_DIM_EXPANSION, CLASS(expansion_1_k), .bounds = "-1e-5..1e-4 /K", .example = "11.5e-6 /K", .help = "its expansion with heat"},
    {PART_CABLE_CLASS, "breaking", KIND_NUMBER, FE_DIM_FORCE, CLASS(breaking_n), .bounds = "1 N..1000 kN", .example = "1200 N", .help = "breaking strength of what carries the pull"},
    {PART_CABLE_CLASS, "everyday-limit", KIND_NUMBER, FE_DIM_FORCE, CLASS(everyday_limit_n), .bounds = "1 N..500 kN", .example = "400 N", .help = "the maker's long-term load"},
    {PART_CABLE_CLASS, "pulling-limit", KIND_NUMBER, FE_DIM_FORCE, CLASS(pulling_limit_n), .bounds = "1 N..500 kN", .example = "110 N", .help = "what the cable itself may be pulled with"},
    {PART_CABLE_CLASS, "bend-radius", KIND_NUMBER, FE_DIM_LENGTH, CLASS(bend_radius_m), .bounds = "1 mm..3 m", .example = "50 mm", .help = "least radius of a bend"},
    {PART_CABLE_CLASS, "conductor", KIND_NUMBER, FE_DIM_AREA, CLASS(conductor_area_m2), .bounds = "0.01..1000 mm2", .example = "AWG 24", .help = "one conductor"},
    {PART_CABLE_CLASS, "lowest-temperature", KIND_NUMBER, FE_DIM_TEMPERATURE, CLASS(temp_low_c), .bounds = "-90..30 degC", .example = "-40 degC", .help = "coldest it stands in place"},
    {PART_CABLE_CLASS, "highest-temperature", KIND_NUMBER, FE_DIM_TEMPERATURE, CLASS(temp_high_c), .bounds = "0..250 degC", .example = "70 degC", .help = "hottest it stands"},
    {PART_CABLE_CLASS, "outdoor", KIND_FLAG, NONE, CLASS(outdoor), .example = "yes", .help = "stands sun and rain"},
    {PART_CABLE_CLASS, "burial", KIND_FLAG, NONE, CLASS(burial), .example = "yes", .help = "may lie in the ground as it is"},
    {PART_CABLE_CLASS, "source", KIND_SPECIAL, NONE, 0, .repeats = true, .special = plan_special_cable_source, .expected = "FIGURE: where it comes from", .example = "breaking: common practice, no source", .help = "FIGURE: where it comes from"},
};

/* clang-format on */

_Static_assert(sizeof KEYS / sizeof KEYS[0] <= PLAN_MOST_KEYS, "no mark for each key");

const plan_section *plan_section_of(plan_part part)
{
    return &SECTIONS[part];
}

const plan_key *plan_keys(size_t *count)
{
    *count = sizeof KEYS / sizeof KEYS[0];
    return KEYS;
}

/* Whether a key ends in a star; the stem is what comes before it. */
static bool is_open_ended(const char *key, size_t *stem)
{
    *stem = strlen(key);
    if (*stem == 0 || key[*stem - 1] != '*')
        return false;
    --*stem;
    return true;
}

const plan_key *plan_key_find(plan_part part, const char *key)
{
    const plan_part keys = SECTIONS[part].keys;
    const plan_key *open_ended = NULL;
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++) {
        const plan_key *const row = &KEYS[i];
        size_t stem = 0;
        if (row->part != keys)
            continue;
        if (strcmp(row->key, key) == 0)
            return row;
        if (is_open_ended(row->key, &stem) && strncmp(row->key, key, stem) == 0 && key[stem])
            open_ended = row;
    }
    return open_ended;
}

const char *plan_key_nearest(plan_part part, const char *key)
{
    const plan_part keys = SECTIONS[part].keys;
    fe_suggest search = fe_suggest_start(key);
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++)
        if (KEYS[i].part == keys && !strchr(KEYS[i].key, '*'))
            fe_suggest_offer(&search, KEYS[i].key);
    return search.best;
}

const char *plan_key_example(const plan_key *row)
{
    return row->example ? row->example : fe_dimension_example(row->dimension);
}

size_t plan_item_count(const fe_plan *plan, plan_part part)
{
    const int at = SECTIONS[part].count_offset;
    if (at == NOWHERE)
        return 1;
    size_t count = 0;
    memcpy(&count, (const char *)plan + at, sizeof count);
    return count;
}

void *plan_item(fe_plan *plan, plan_part part, size_t index)
{
    const plan_section *const section = &SECTIONS[part];
    if (section->count_offset == NOWHERE)
        return (char *)plan + section->offset;
    char *items = NULL;
    memcpy(&items, (char *)plan + section->offset, sizeof items);
    return items ? items + index * section->size : NULL;
}

void *plan_item_add(fe_plan *plan, plan_part part)
{
    const plan_section *const section = &SECTIONS[part];
    size_t count = plan_item_count(plan, part);
    void *items = NULL;
    memcpy(&items, (char *)plan + section->offset, sizeof items);
    void *const grown = plan_grow(items, &count, section->size);
    if (!grown)
        return NULL;
    memcpy((char *)plan + section->offset, &grown, sizeof grown);
    memcpy((char *)plan + section->count_offset, &count, sizeof count);
    return (char *)grown + (count - 1) * section->size;
}
