/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/anchor.h"
#include "farend/feeder.h"
#include "farend/ice_wind.h"
#include "farend/limits.h"
#include "farend/soil.h"
#include "farend/suggest.h"
#include "farend/supply.h"
#include "farend/wood.h"
#include "plan/reader.h"

enum { SAID_ROOM = 400 };

/* A place is beyond a path where it is more than this beyond: profiles end on round figures. */
static const double SLACK_M = 0.5;

/* Says something about a key, on its line; on the section's where the key is not there. */
FE_PRINTF(5, 6)
static void say(plan_reader *reader, plan_part part, int section_line, const char *key,
                const char *format, ...)
{
    const ini_text *const text = reader->text;
    const char *title = plan_section_of(part)->word;
    char said[SAID_ROOM];
    plan_entry entry = {.line = section_line};
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(said, sizeof said, format, arguments);
    va_end(arguments);
    for (size_t i = 0; i < text->count; i++)
        if (text->sections[i].line == section_line)
            title = text->sections[i].title;
    if (plan_entry_at(reader, part, section_line, key, &entry))
        fe_messages_add(reader->messages, text->file, entry.line, "[%s] %s: %s", title, key,
                        said);
    else
        fe_messages_add(reader->messages, text->file, section_line, "[%s]: %s", title, said);
}

static bool is_given(fe_value value)
{
    return value.given != FE_GIVEN_NOT;
}

/* True also for a value that was refused: what is said about it is enough. */
static bool is_written(plan_reader *reader, plan_part part, int section_line, const char *key)
{
    plan_entry entry = {0};
    return plan_entry_at(reader, part, section_line, key, &entry);
}

/* Horizontal length at most; 0 where it is not known. */
static double longest_m(const fe_plan_path *path)
{
    return path->distance_m.high;
}

static bool is_beyond(const fe_plan_path *path, double at_m)
{
    return longest_m(path) > 0.0 && at_m > longest_m(path) + SLACK_M;
}

/* ---- ends and paths ---- */

static void check_ends(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    if (plan->end_count < 2)
        fe_messages_add(reader->messages, reader->text->file, 0,
                        "%s, expected two or more, for example [end house] and [end shed]",
                        plan->end_count == 0 ? "no end" : "only one end");
}

static void check_ends_differ(plan_reader *reader, plan_part part, int line, size_t from,
                              size_t to)
{
    if (reader->plan->end_count >= 2 && from == to)
        say(reader, part, line, "to", "goes to the end that it comes from");
}

static void check_path(plan_reader *reader, const fe_plan_path *path)
{
    check_ends_differ(reader, PART_PATH, path->line, path->from, path->to);
    if (!is_written(reader, PART_PATH, path->line, "profile") &&
        !is_written(reader, PART_PATH, path->line, "distance"))
        say(reader, PART_PATH, path->line, "distance",
            "neither distance nor profile, expected for example distance = 150 m");
    if (path->profile_file && is_given(path->rise_m))
        say(reader, PART_PATH, path->line, "rise", "the profile says it already; leave it out");
}

static void check_paths(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    if (plan->path_count == 0)
        fe_messages_add(reader->messages, reader->text->file, 0,
                        "no path, expected [path] with a distance or a profile, for example "
                        "distance = 150 m");
    for (size_t i = 0; i < plan->path_count; i++)
        check_path(reader, &plan->paths[i]);
}

static void check_trees(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->tree_count; i++) {
        const fe_plan_trees *const trees = &plan->trees[i];
        if (is_given(trees->from_m) && is_given(trees->to_m) &&
            trees->from_m.typical > trees->to_m.typical)
            say(reader, PART_TREES, trees->line, "to", "ends before it begins");
        if (trees->path >= plan->path_count)
            continue;
        const fe_plan_path *const path = &plan->paths[trees->path];
        if (is_beyond(path, trees->to_m.typical))
            say(reader, PART_TREES, trees->line, "to",
                "lies beyond the path, which is %.1f m long", longest_m(path));
    }
}

/* ---- traffic, loads, readings ---- */

static void check_traffic(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->traffic_count; i++) {
        const fe_plan_traffic *const traffic = &plan->traffic[i];
        if (traffic->line == 0)
            continue; /* assumed, not written */
        check_ends_differ(reader, PART_TRAFFIC, traffic->line, traffic->from, traffic->to);
        const bool stream = is_written(reader, PART_TRAFFIC, traffic->line, "stream");
        const bool transfer = is_written(reader, PART_TRAFFIC, traffic->line, "transfer");
        if (stream && transfer)
            say(reader, PART_TRAFFIC, traffic->line, "transfer",
                "both a stream and a transfer; write two [traffic NAME] sections");
        if (!stream && !transfer)
            say(reader, PART_TRAFFIC, traffic->line, "stream",
                "neither stream nor transfer, expected for example stream = 6 Mb/s");
    }
}

/* One feed carries them all, with the relays' places, the far gear and the spare power. */
static void check_count_of_loads(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    const size_t others = 2 + (plan->relay.anywhere ? 0 : plan->relay.places_m.count);
    const size_t most = others < FE_SUPPLY_MOST_LOADS ? FE_SUPPLY_MOST_LOADS - others : 0;
    if (plan->load_count > most)
        say(reader, PART_LOAD, plan->loads[most].line, "at",
            "load %zu of %zu; a feed is computed with at most %zu beside the places of relays, "
            "expected for example loads of one place added up in one section",
            most + 1, plan->load_count, most);
}

/* Power goes out from the first end. */
static void check_load_end(plan_reader *reader, const fe_plan_load *load)
{
    const fe_plan *const plan = reader->plan;
    bool reached = false;
    if (load->end >= plan->end_count)
        return; /* was refused */
    for (size_t i = 0; i < plan->path_count; i++)
        reached = reached || plan->paths[i].from == load->end || plan->paths[i].to == load->end;
    if (load->end == 0)
        say(reader, PART_LOAD, load->line, "end",
            "is the first end, where everything comes from; expected an end out there");
    else if (!reached && plan->path_count > 0)
        say(reader, PART_LOAD, load->line, "end", "no [path] leads to it");
}

static void check_loads(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    check_count_of_loads(reader);
    for (size_t i = 0; i < plan->load_count; i++) {
        const fe_plan_load *const load = &plan->loads[i];
        const bool power = is_written(reader, PART_LOAD, load->line, "power");
        const bool current = is_written(reader, PART_LOAD, load->line, "current");
        if (power && current)
            say(reader, PART_LOAD, load->line, "current",
                "both power and current; one follows from the other");
        if (!power && !current)
            say(reader, PART_LOAD, load->line, "power",
                "neither power nor current, expected for example power = 60 W");
        if (current && !power && load->voltage_v.given == FE_GIVEN_NOT)
            say(reader, PART_LOAD, load->line, "current",
                "a current without the voltage of the load, which its power follows from, "
                "expected for example voltage = 11..15 V beside it");
        if (plan->path_count == 1 && is_beyond(&plan->paths[0], load->at_m.low))
            say(reader, PART_LOAD, load->line, "at",
                "lies beyond the path, which is %.1f m long", longest_m(&plan->paths[0]));
        check_load_end(reader, load);
    }
}

static void check_readings(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->reading_count; i++) {
        const fe_plan_reading *const reading = &plan->readings[i];
        check_ends_differ(reader, PART_READING, reading->line, reading->from, reading->to);
        if (!is_written(reader, PART_READING, reading->line, "band"))
            say(reader, PART_READING, reading->line, "band",
                "no band, expected for example band = 5 GHz");
        if (!is_written(reader, PART_READING, reading->line, "level") &&
            !is_written(reader, PART_READING, reading->line, "rate"))
            say(reader, PART_READING, reading->line, "level",
                "neither level nor rate, expected for example level = -67 dBm");
    }
}

/* ---- places along the first path ---- */

/* A single section as written; null where the plan has none. */
static const ini_section *section_of_part(const plan_reader *reader, plan_part part)
{
    for (size_t i = 0; i < reader->text->count; i++)
        if (plan_part_of(&reader->text->sections[i]) == part)
            return &reader->text->sections[i];
    return NULL;
}

static void refuse_beyond(plan_reader *reader, int line, const char *section, const char *key,
                          double at_m)
{
    fe_messages_add(reader->messages, reader->text->file, line,
                    "[%s] %s: %.1f m lies beyond the path, which is %.1f m long", section, key,
                    at_m, longest_m(&reader->plan->paths[0]));
}

/* The places under one entry, read a second time: a list of values has no lines. */
static void check_entry_places(plan_reader *reader, const ini_section *section,
                               const plan_key *row, const ini_entry *written)
{
    const plan_entry entry = {.row = row};
    const char *at = written->value;
    char *part = NULL;
    while (plan_next_part(reader, &at, &part)) {
        fe_value place = {0};
        if (plan_parse_value(&entry, part, row->dimension, &place) &&
            is_beyond(&reader->plan->paths[0], place.high))
            refuse_beyond(reader, written->line, section->title, row->key, place.high);
        free(part);
    }
}

static void check_places(plan_reader *reader, plan_part part, const char *key)
{
    const ini_section *const section = section_of_part(reader, part);
    for (size_t i = 0; section && i < section->count && reader->plan->path_count > 0; i++)
        if (strcmp(section->entries[i].key, key) == 0)
            check_entry_places(reader, section, plan_key_find(part, key), &section->entries[i]);
}

static void check_relay(plan_reader *reader)
{
    const fe_plan_relay *const relay = &reader->plan->relay;
    const ini_section *const section = section_of_part(reader, PART_RELAY);
    if (section && relay->anywhere && relay->places_m.count > 0)
        say(reader, PART_RELAY, section->line, "place",
            "both anywhere and places; keep one or the other");
}

static void check_crossings(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->posts.crossing_count && plan->path_count > 0; i++) {
        const fe_plan_crossing *const crossing = &plan->posts.crossings[i];
        if (is_beyond(&plan->paths[0], crossing->to_m))
            fe_messages_add(reader->messages, reader->text->file, crossing->line,
                            "[posts] %s %s: lies beyond the path, which is %.1f m long",
                            crossing->beside ? "beside" : "over", crossing->name,
                            longest_m(&plan->paths[0]));
    }
    for (size_t i = 0; i < plan->posts.corner_count && plan->path_count > 0; i++)
        if (is_beyond(&plan->paths[0], plan->posts.corners[i].at_m))
            refuse_beyond(reader, plan->posts.corners[i].line, "posts", "corner",
                          plan->posts.corners[i].at_m);
}

static void check_post_lengths(plan_reader *reader)
{
    const fe_plan_posts *const posts = &reader->plan->posts;
    if (posts->post_lengths_m.count > FE_PLAN_MOST_POST_LENGTHS)
        say(reader, PART_POSTS, posts->line, "length",
            "%zu lengths; at most %d are tried, expected for example every second one",
            posts->post_lengths_m.count, FE_PLAN_MOST_POST_LENGTHS);
}

/* ---- weather ---- */

static void check_air(plan_reader *reader, plan_part part, int line, const fe_value *coldest_c,
                      const fe_value *hottest_c)
{
    if (is_given(*coldest_c) && is_given(*hottest_c) && coldest_c->typical > hottest_c->typical)
        say(reader, part, line, "hottest", "is below the coldest");
}

static void check_seasons(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    const ini_section *const climate = section_of_part(reader, PART_CLIMATE);
    if (plan->season_input_count > FE_MOST_SEASONS)
        say(reader, PART_SEASON, plan->season_inputs[FE_MOST_SEASONS].line, "",
            "season %d of %zu; at most %d are computed, expected for example those alike in "
            "one",
            FE_MOST_SEASONS + 1, plan->season_input_count, FE_MOST_SEASONS);
    if (plan->season_input_count > 0 && climate)
        say(reader, PART_CLIMATE, climate->line, "",
            "there are [season] sections too; keep one or the other");
    for (size_t i = 0; i < plan->season_input_count; i++)
        check_air(reader, PART_SEASON, plan->season_inputs[i].line,
                  &plan->season_inputs[i].coldest_c, &plan->season_inputs[i].hottest_c);
    if (plan->season_input_count == 0 && climate)
        check_air(reader, PART_CLIMATE, climate->line, &plan->climate.coldest_c,
                  &plan->climate.hottest_c);
}

/* ---- names that a table has to know ---- */

/* Says what a key should have been, where it was written at all. */
static void refuse_name(plan_reader *reader, plan_part part, int line, const char *key,
                        const char *expected, const char *nearest)
{
    plan_entry entry = {0};
    if (plan_entry_at(reader, part, line, key, &entry))
        plan_refuse_name(reader, &entry, expected, nearest);
}

static bool is_unknown(const char *name)
{
    return strcmp(name, "unknown") == 0;
}

static void check_wood(plan_reader *reader)
{
    const fe_plan_posts *const posts = &reader->plan->posts;
    if (!posts->wood || fe_wood_known(posts->wood))
        return;
    fe_suggest search = fe_suggest_start(posts->wood);
    for (size_t i = 0; i < fe_wood_count(); i++) {
        const fe_wood *row = fe_wood_at(i);
        if (row->kind == FE_WOOD_POLE_STRESS)
            fe_suggest_offer(&search, row->name);
        else if (row->kind == FE_WOOD_CHARACTERISTIC &&
                 strncmp(row->name, FE_WOOD_CLASS_PREFIX, strlen(FE_WOOD_CLASS_PREFIX)) == 0)
            fe_suggest_offer(&search, row->name + strlen(FE_WOOD_CLASS_PREFIX));
    }
    refuse_name(reader, PART_POSTS, posts->line, "wood",
                "a strength class such as C24, or a species of pole", search.best);
}

/* What a spade finds and the table calls gravel. */
static const char STONY[] = "stony";

bool fe_plan_knows_soil(const char *soil)
{
    return is_unknown(soil) || strcmp(soil, STONY) == 0 || fe_soil_find(soil);
}

static void check_soil(plan_reader *reader, plan_part part, int line, const char *soil)
{
    if (!soil || fe_plan_knows_soil(soil))
        return;
    fe_suggest search = fe_suggest_start(soil);
    fe_suggest_offer(&search, STONY);
    for (size_t i = 0; i < fe_soil_count(); i++)
        fe_suggest_offer(&search, fe_soil_at(i)->keyword);
    refuse_name(reader, part, line, "soil", "clay, sand, gravel, stony, rock or bedrock",
                search.best);
}

static void check_anchor(plan_reader *reader)
{
    const fe_plan_posts *const posts = &reader->plan->posts;
    if (!posts->anchor || fe_anchor_find(posts->anchor))
        return;
    fe_suggest search = fe_suggest_start(posts->anchor);
    for (size_t i = 0; i < fe_anchor_count(); i++)
        fe_suggest_offer(&search, fe_anchor_at(i)->name);
    refuse_name(reader, PART_POSTS, posts->line, "anchor", "a class of holding power",
                search.best);
}

static void check_district(plan_reader *reader)
{
    const fe_plan_posts *const posts = &reader->plan->posts;
    fe_ice_district found;
    char names[FE_ICE_PRESETS][FE_ICE_PRESET_ROOM];
    if (!posts->district || fe_ice_preset(posts->district, 0.01, &found) == FE_OK)
        return;
    fe_suggest search = fe_suggest_start(posts->district);
    for (size_t i = 0; i < FE_ICE_PRESETS; i++) {
        fe_ice_preset_name(i, names[i]);
        fe_suggest_offer(&search, names[i]);
    }
    refuse_name(reader, PART_POSTS, posts->line, "district",
                "a code and its district, CODE/DISTRICT", search.best);
}

static void check_clearance_code(plan_reader *reader)
{
    const fe_plan_posts *const posts = &reader->plan->posts;
    if (!posts->clearance_code || fe_limits_code_find(posts->clearance_code))
        return;
    fe_suggest search = fe_suggest_start(posts->clearance_code);
    for (size_t i = 0; i < fe_limits_code_count(); i++)
        fe_suggest_offer(&search, fe_limits_code_at(i)->name);
    refuse_name(reader, PART_POSTS, posts->line, "clearance-code",
                "a code that the program has heights of", search.best);
}

static void check_feeders(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->end_count; i++) {
        const fe_plan_end *const end = &plan->ends[i];
        size_t count = 0;
        if (!end->feeder || fe_feeder_find(end->feeder))
            continue;
        const fe_feeder *const feeders = fe_feeders(&count);
        fe_suggest search = fe_suggest_start(end->feeder);
        for (size_t row = 0; row < count; row++)
            fe_suggest_offer(&search, feeders[row].name);
        refuse_name(reader, PART_END, end->line, "feeder",
                    "a class of coaxial cable, by its diameter", search.best);
    }
}

static void check_messenger(plan_reader *reader)
{
    const fe_plan_posts *const posts = &reader->plan->posts;
    const fe_cable_class any = {.diameter_m = 5e-3, .weight_n_m = 0.5};
    fe_hung_cable hung;
    if (posts->messenger && !is_unknown(posts->messenger) &&
        fe_limits_cable(&any, posts->messenger, &hung) == FE_E_INPUT)
        refuse_name(reader, PART_POSTS, posts->line, "messenger",
                    "a strand by its size in inches and its grade", NULL);
}

/* The cable that does not hang carries data; power has its own section. */
static void check_data_cable(plan_reader *reader)
{
    const fe_plan_cable *const cable = &reader->plan->cable;
    const fe_cable_class *const class =
        cable->cable_class ? fe_plan_cable_class(reader->plan, cable->cable_class) : NULL;
    if (class && class->medium == FE_MEDIUM_SUPPLY)
        refuse_name(reader, PART_CABLE, cable->line, "class", "a class of data cable",
                    "outdoor-data");
}

/* One cable for data below, one for supply above, both tied at every post. */
static void check_supply(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    const fe_plan_posts *const posts = &plan->posts;
    const fe_cable_class *const supply =
        posts->supply ? fe_plan_cable_class(plan, posts->supply) : NULL;
    const fe_cable_class *const data =
        posts->cable ? fe_plan_cable_class(plan, posts->cable) : NULL;
    if (supply && (supply->medium != FE_MEDIUM_SUPPLY || !supply->self_supporting))
        refuse_name(reader, PART_POSTS, posts->line, "supply",
                    "a class of supply cable that hangs by itself", "supply-aerial");
    if (supply && data && data->medium == FE_MEDIUM_SUPPLY)
        refuse_name(reader, PART_POSTS, posts->line, "cable", "a data cable under the supply",
                    "outdoor-data-messenger");
    if (supply && posts->tied.value != 0)
        say(reader, PART_POSTS, posts->line, "tied",
            "a supply cable on the same posts is tied at every post, and so must both be");
}

static void check_protection(plan_reader *reader)
{
    const fe_plan_feed *const feed = &reader->plan->feed;
    fe_supply_device device;
    if (feed->protection && !is_unknown(feed->protection) &&
        !fe_supply_device_named(feed->protection, &device))
        refuse_name(reader, PART_FEED, feed->line, "protection",
                    "a breaker of type B, C or D with its current, or a fuse (10 A fuse)",
                    NULL);
}

static void check_catalogue(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    if (plan->gear_count == 0 || plan->cable_count == 0)
        fe_messages_add(reader->messages, reader->text->file, 0,
                        "no catalogue of %s beside the plan, in --profiles, in "
                        "FAREND_PROFILES, in %s from the program's folder or in %s",
                        plan->gear_count == 0 ? "gear" : "cable", FAREND_DATA_FROM_PROGRAM,
                        FAREND_DATA_DIR);
}

void plan_check(plan_reader *reader)
{
    const fe_plan *const plan = reader->plan;
    check_catalogue(reader);
    check_ends(reader);
    check_paths(reader);
    check_trees(reader);
    check_traffic(reader);
    check_loads(reader);
    check_readings(reader);
    check_places(reader, PART_RELAY, "place");
    check_places(reader, PART_RELAY, "power");
    check_places(reader, PART_POSTS, "place");
    check_places(reader, PART_POSTS, "no-post");
    check_relay(reader);
    check_post_lengths(reader);
    check_crossings(reader);
    check_seasons(reader);
    check_wood(reader);
    check_soil(reader, PART_POSTS, plan->posts.line, plan->posts.soil);
    check_soil(reader, PART_TRENCH, plan->trench.line, plan->trench.soil);
    check_feeders(reader);
    check_messenger(reader);
    check_data_cable(reader);
    check_supply(reader);
    check_anchor(reader);
    check_district(reader);
    check_clearance_code(reader);
    check_protection(reader);
}
