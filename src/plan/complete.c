/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "plan/grow.h"
#include "plan/reader.h"

/* Ground out of a distance alone is even; this fine is enough for every band. */
static const double EVEN_STEP_M = 1.0;

/* The house has mains; that a building out of reach has it is for the owner to say. */
static void complete_ends(plan_reader *reader)
{
    fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->end_count; i++) {
        fe_plan_end *const end = &plan->ends[i];
        char title[FE_SEASON_NAME_ROOM + 8];
        if (end->mains.given != FE_GIVEN_NOT)
            continue;
        end->mains = (fe_choice){i == 0, FE_GIVEN_DEFAULT};
        snprintf(title, sizeof title, "end %s", end->name ? end->name : "");
        plan_note_default(reader, title, "mains", i == 0 ? "yes" : "no",
                          i == 0 ? "the first end is taken for the house"
                                 : "not said, so none is counted on");
    }
}

/* Where the first path leads to. */
static void complete_loads(fe_plan *plan)
{
    for (size_t i = 0; i < plan->load_count && plan->path_count > 0; i++) {
        const fe_plan_path *first = &plan->paths[0];
        if (plan->loads[i].end == SIZE_MAX)
            plan->loads[i].end = first->to != 0 ? first->to : first->from;
    }
}

static void complete_bands(fe_plan *plan)
{
    for (int i = 0; i < FE_BANDS && !plan->site.bands_given; i++)
        plan->site.bands[i] = true;
}

static void complete_safety(plan_reader *reader)
{
    fe_plan *const plan = reader->plan;
    if (plan->posts.safety.given != FE_GIVEN_NOT)
        return;
    const bool us = fe_plan_is_us_or_canada(plan);
    plan->posts.safety = (fe_choice){us ? FE_SAFETY_US : FE_SAFETY_EN, FE_GIVEN_DEFAULT};
    plan_note_default(reader, "posts", "safety", us ? "US" : "EN", "from the region");
}

static void complete_sources(plan_reader *reader)
{
    fe_plan *const plan = reader->plan;
    if (plan->feed.source_count > 0)
        return;
    fe_plan_source *grown =
        plan_grow(plan->feed.sources, &plan->feed.source_count, sizeof *grown);
    if (!grown) {
        reader->no_memory = true;
        return;
    }
    const bool us = fe_plan_is_us_or_canada(plan);
    const double volt = us ? 120.0 : 230.0;
    plan->feed.sources = grown;
    grown[0] = (fe_plan_source){volt, true, fe_value_default(volt)};
    if (plan->feed.given || plan->load_count > 0)
        plan_note_default(reader, "feed", "voltage", us ? "120 V" : "230 V", "from the region");
}

static void add_traffic(plan_reader *reader, const char *name, size_t from, size_t to)
{
    static const double STREAM_BPS = 2e6;
    fe_plan *const plan = reader->plan;
    fe_plan_traffic *grown = plan_grow(plan->traffic, &plan->traffic_count, sizeof *grown);
    if (!grown) {
        reader->no_memory = true;
        return;
    }
    plan->traffic = grown;
    grown[plan->traffic_count - 1] =
        (fe_plan_traffic){.name = plan_copy(reader, name),
                          .from = from,
                          .to = to,
                          .stream_bps = fe_value_default(STREAM_BPS)};
}

static void complete_traffic(plan_reader *reader)
{
    if (reader->plan->traffic_count > 0 || reader->plan->end_count < 2)
        return;
    add_traffic(reader, "assumed, out", 0, 1);
    add_traffic(reader, "assumed, back", 1, 0);
    plan_note_default(reader, "traffic", "stream", "2 Mb/s each way",
                      "remote control and one camera; common practice, no source");
}

/* ---- ground ---- */

static void refuse_profile(plan_reader *reader, const fe_plan_path *path)
{
    plan_entry entry = {0};
    if (plan_entry_at(reader, PART_PATH, path->line, "profile", &entry))
        plan_refuse_as(reader, &entry,
                       "a file beside the plan, in --profiles, in FAREND_PROFILES or in the "
                       "installed profiles");
}

static void load_profile(plan_reader *reader, fe_plan_path *path)
{
    char *const file = plan_find_file(reader, path->profile_file);
    if (!file) {
        refuse_profile(reader, path);
        return;
    }
    const fe_status status = fe_profile_read(file, &path->profile, reader->messages);
    if (status == FE_E_MEMORY)
        reader->no_memory = true;
    free(file);
}

/* A stated distance that differs more than this from the profile's length is a mistake. */
static bool agree(double length_m, const fe_value *distance_m)
{
    const double slack_m = fmax(1.0, 0.02 * length_m);
    return length_m >= distance_m->low - slack_m && length_m <= distance_m->high + slack_m;
}

static void compare_distance(plan_reader *reader, fe_plan_path *path)
{
    const double length_m = fe_profile_length(&path->profile);
    plan_entry entry = {0};
    if (path->distance_m.given != FE_GIVEN_NOT && !agree(length_m, &path->distance_m) &&
        plan_entry_at(reader, PART_PATH, path->line, "distance", &entry))
        fe_messages_add(reader->messages, entry.file, entry.line,
                        "[%s] distance: read \"%s\", but the profile %s is %.1f m long; give "
                        "one of the two, or make them agree",
                        entry.section, entry.text, path->profile_file, length_m);
    path->distance_m = fe_value_exact(length_m);
}

void plan_complete_even_ground(plan_reader *reader, fe_plan_path *path)
{
    const fe_status status = fe_profile_even(path->distance_m.typical, path->rise_m.typical,
                                             EVEN_STEP_M, &path->profile);
    if (status == FE_E_MEMORY)
        reader->no_memory = true;
}

static void complete_ground(plan_reader *reader)
{
    fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->path_count; i++) {
        fe_plan_path *const path = &plan->paths[i];
        if (path->profile_file)
            load_profile(reader, path);
        else if (path->distance_m.given != FE_GIVEN_NOT)
            plan_complete_even_ground(reader, path);
        if (path->profile_file && path->profile.count > 0)
            compare_distance(reader, path);
    }
}

static fe_value scaled(fe_value value, double factor)
{
    return (fe_value){value.low * factor, value.typical * factor, value.high * factor,
                      value.given};
}

/* The ground is longer than its plan, by the same share at both ends of a range. */
void plan_complete_trench(fe_plan *plan)
{
    if (!plan->trench.along_path || plan->path_count == 0)
        return;
    const fe_plan_path *const path = &plan->paths[0];
    const double flat_m = fe_profile_length(&path->profile);
    const double ground_m = fe_profile_ground_length(&path->profile);
    plan->trench.length_m = scaled(path->distance_m, flat_m > 0.0 ? ground_m / flat_m : 1.0);
}

/* ---- seasons ---- */

static double highest_crop_m(const fe_plan *plan)
{
    double crop_m = 0.0;
    for (size_t i = 0; i < plan->path_count; i++)
        crop_m = fmax(crop_m, plan->paths[i].crop_m.typical);
    return crop_m;
}

static void seasons_from_climate(plan_reader *reader)
{
    fe_plan *const plan = reader->plan;
    const fe_climate climate = {
        .deepest_snow_m = plan->climate.snow_m.typical,
        .coldest_c = plan->climate.coldest_c.typical,
        .hottest_c = plan->climate.hottest_c.typical,
        .ice_m = plan->climate.ice_m.typical,
        .wind_m_s = plan->climate.wind_m_s.typical,
        .rain_mm_h = plan->climate.rain_mm_h.typical,
        .crop_height_m = highest_crop_m(plan),
    };
    plan->seasons = calloc(FE_USUAL_SEASONS, sizeof *plan->seasons);
    if (!plan->seasons) {
        reader->no_memory = true;
        return;
    }
    plan->season_count = FE_USUAL_SEASONS;
    fe_seasons_usual(&climate, plan->seasons);
}

/* What a season says of its crop goes first; a summer that says nothing has the paths' own. */
static double crop_of(const fe_plan *plan, const fe_plan_season *input)
{
    if (input->crop_m.given != FE_GIVEN_NOT)
        return input->crop_m.typical;
    return input->leaves.value == 1 ? highest_crop_m(plan) : 0.0;
}

static fe_season season_of(const fe_plan *plan, const fe_plan_season *input)
{
    fe_season season = {
        .snow_depth_m = input->snow_m.typical,
        .snow_is_wet = input->snow_is_wet.value == 1,
        .crop_height_m = crop_of(plan, input),
        .surface = (fe_surface)input->surface.value,
        .in_leaf = input->leaves.value == 1,
        .trees = (fe_tree_state)input->trees.value,
        .cover = (fe_cover)input->cover.value,
        .coldest_c = input->coldest_c.typical,
        .hottest_c = input->hottest_c.typical,
        .ice_m = input->ice_m.typical,
        .wind_m_s = input->wind_m_s.typical,
        .rain_mm_h = input->rain_mm_h.typical,
    };
    snprintf(season.name, sizeof season.name, "%s", input->name ? input->name : "");
    return season;
}

static void seasons_from_plan(plan_reader *reader)
{
    fe_plan *const plan = reader->plan;
    plan->seasons = calloc(plan->season_input_count, sizeof *plan->seasons);
    if (!plan->seasons) {
        reader->no_memory = true;
        return;
    }
    plan->season_count = plan->season_input_count;
    plan->seasons_given = true;
    for (size_t i = 0; i < plan->season_count; i++)
        plan->seasons[i] = season_of(plan, &plan->season_inputs[i]);
}

void plan_complete_seasons(plan_reader *reader)
{
    if (reader->plan->season_input_count > 0)
        seasons_from_plan(reader);
    else
        seasons_from_climate(reader);
}

void plan_complete(plan_reader *reader)
{
    complete_ends(reader);
    complete_loads(reader->plan);
    complete_bands(reader->plan);
    complete_safety(reader);
    complete_sources(reader);
    complete_traffic(reader);
    complete_ground(reader);
    plan_complete_trench(reader->plan);
    plan_complete_seasons(reader);
}
