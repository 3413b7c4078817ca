/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/radio_setup.h"
#include "app/plan_command.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/command.h"
#include "app/output.h"
#include "farend/radio_hop.h"
#include "farend/radio_link.h"
#include "farend/radio_relays.h"
#include "farend/suggest.h"

/* What stands in for what nobody said. */
static const char USUAL_GEAR[] = "indoor-extender";
static const char HOUSE_WALL[] = "cavity brick";
static const char OUTBUILDING_WALL[] = "timber";
static const double USUAL_RATE_BPS = 2e6;
static const double INDOOR_HEIGHT_M = 2.0;
static const double OUTDOOR_HEIGHT_M = 3.0;
static const double TREE_HEIGHT_M = 8.0;
static const double GROUND_STEP_M = 5.0;
/* Beyond these a wall is a slip; those of the plan's key. */
static const double THINNEST_WALL_M = 0.5e-3;
static const double THICKEST_WALL_M = 3.0;

void radio_setup_assume(radio_setup *setup, const char *format, ...)
{
    /* A command that assumes more than there is room for is our mistake. */
    assert(setup->assumption_count < SETUP_ASSUMPTIONS);
    if (setup->assumption_count == SETUP_ASSUMPTIONS)
        return;
    va_list rest;
    va_start(rest, format);
    fe_strbuf_format_list(&setup->assumptions[setup->assumption_count++], format, rest);
    va_end(rest);
}

void radio_setup_print(const radio_setup *setup, fe_document *doc)
{
    if (setup->assumption_count == 0)
        return;
    fe_document_heading(doc, 2, "Taken as usual");
    for (size_t i = 0; i < setup->assumption_count; i++) {
        const fe_strbuf *one = &setup->assumptions[i];
        fe_document_item(doc, "%s", fe_strbuf_text(one));
        if (fe_strbuf_status(one) < 0)
            fe_document_fail(doc);
    }
}

json_t *radio_setup_json(const radio_setup *setup)
{
    json_t *list = json_array();
    for (size_t i = 0; i < setup->assumption_count; i++) {
        const fe_strbuf *one = &setup->assumptions[i];
        output_json_append(
            &list, fe_strbuf_status(one) == FE_OK ? json_string(fe_strbuf_text(one)) : NULL);
    }
    return list;
}

/* ---- Options ---- */

fe_region radio_setup_region(const options *given)
{
    const char *name = options_text(given, "region");
    for (int region = 0; name && region < FE_REGIONS; region++)
        if (strcmp(fe_region_name((fe_region)region), name) == 0)
            return (fe_region)region;
    return FE_REGION_EU;
}

bool radio_setup_heights(const char *who, const options *given, double usual_m,
                         double heights_m[2])
{
    const size_t count = options_count(given, "height");
    for (size_t i = 0; i < 2; i++)
        heights_m[i] = count == 0
                           ? usual_m
                           : options_number_at(given, "height", i < count ? i : count - 1);
    if (count > 2)
        options_complain(who, "--height: at most two: the first end's, then the others'");
    return count <= 2;
}

/* "brick 110 mm": false with a message where there is no such wall. */
static bool read_wall(const char *who, const char *text, fe_hop_wall *wall)
{
    char name[64] = "";
    const size_t words = strcspn(text, "0123456789");
    size_t length = words;
    while (length > 0 && isspace((unsigned char)text[length - 1]))
        length--;
    if (length < sizeof name)
        memcpy(name, text, length);
    const fe_wall_kind *kind = fe_wall_kind_find(name);
    if (!kind) {
        size_t count = 0;
        const fe_wall_kind *table = fe_wall_kind_table(&count);
        fe_suggest search = fe_suggest_start(name);
        for (size_t i = 0; i < count; i++)
            fe_suggest_offer(&search, table[i].name);
        options_complain(who, "--wall: %s: no such wall; did you mean %s?", text,
                         search.best ? search.best : "brick");
        return false;
    }
    *wall = (fe_hop_wall){kind->name, (double)NAN};
    if (!text[words])
        return true;
    if (fe_quantity_parse(text + words, FE_DIM_LENGTH, &wall->thickness_m) == FE_OK &&
        wall->thickness_m >= THINNEST_WALL_M && wall->thickness_m <= THICKEST_WALL_M)
        return true;
    options_complain(who,
                     "--wall: read \"%s\", expected a kind and a thickness within 0.5 mm..3 m, "
                     "for example \"brick 110 mm\"",
                     text);
    return false;
}

bool radio_setup_walls(const char *who, const options *given, fe_hop_wall *walls, size_t *count)
{
    bool good = true;
    *count = 0;
    for (size_t i = 0; i < options_count(given, "wall"); i++) {
        const char *text = options_text_at(given, "wall", i);
        if (strcmp(text, "none") == 0)
            continue;
        if (*count == SETUP_WALLS) {
            options_complain(who, "--wall: at most %d walls", SETUP_WALLS);
            return false;
        }
        good = read_wall(who, text, &walls[*count]) && good;
        ++*count;
    }
    return good;
}

/* ---- Catalogue ---- */

const fe_gear *radio_setup_gear(const char *who, const fe_plan *plan, const char *name)
{
    const fe_gear *gear = fe_plan_gear(plan, name);
    if (gear)
        return gear;
    fe_suggest search = fe_suggest_start(name);
    for (size_t i = 0; i < plan->gear_count; i++)
        fe_suggest_offer(&search, plan->gear[i].name);
    if (search.best)
        options_complain(who, "--gear: %s: no such class; did you mean %s?", name, search.best);
    else if (plan->gear_count > 0)
        options_complain(who, "--gear: %s: no such class; for example %s", name,
                         plan->gear[0].name);
    else
        options_complain(who,
                         "no catalogue of gear found; name its folder with --profiles DIR");
    return NULL;
}

/* ---- From options ---- */

static fe_status usual_seasons(radio_setup *setup)
{
    const fe_climate climate = plan_usual_climate(&setup->plan);
    setup->usual_seasons = calloc(FE_USUAL_SEASONS, sizeof *setup->usual_seasons);
    if (!setup->usual_seasons)
        return FE_E_MEMORY;
    fe_seasons_usual(&climate, setup->usual_seasons);
    setup->seasons = setup->usual_seasons;
    setup->season_count = FE_USUAL_SEASONS;
    radio_setup_assume(
        setup,
        "The usual four seasons of a climate with warm summers and cold winters, "
        "deepest snow %.1f m.",
        climate.deepest_snow_m);
    return FE_OK;
}

static void name_wall(radio_setup *setup, int end, const char *kind, const char *where)
{
    fe_station *station = &setup->hop.ends[end];
    setup->walls[end][0] = (fe_hop_wall){kind, (double)NAN};
    station->walls = setup->walls[end];
    station->wall_count = 1;
    radio_setup_assume(setup, "One wall of the %s between antenna and outdoors: %s.", where,
                       kind);
}

static double usual_height(const fe_gear *gear)
{
    return gear->outdoor ? OUTDOOR_HEIGHT_M : INDOOR_HEIGHT_M;
}

/* Gear, heights and walls as told, or usual ones. False, and every mistake said. */
static bool read_ends(const char *who, const options *given, radio_setup *setup)
{
    const char *name = options_text(given, "gear");
    fe_station *ends = setup->hop.ends;
    double heights_m[2];
    const fe_gear *gear = radio_setup_gear(who, &setup->plan, name ? name : USUAL_GEAR);
    const double usual_m = gear ? usual_height(gear) : OUTDOOR_HEIGHT_M;
    bool good = radio_setup_heights(who, given, usual_m, heights_m) && gear;
    good = radio_setup_walls(who, given, setup->walls[0], &ends[0].wall_count) && good;
    if (!good)
        return false;
    setup->gear[0] = setup->gear[1] = gear;
    if (!name)
        radio_setup_assume(setup, "Gear of the class %s at both ends.", USUAL_GEAR);
    for (int end = 0; end < 2; end++)
        ends[end].height_m = heights_m[end];
    setup->masts_m[0] = heights_m[1];
    setup->mast_count = 1;
    return true;
}

static void put_stations(const options *given, bool far_indoors, radio_setup *setup)
{
    const fe_gear *gear = setup->gear[0];
    for (int end = 0; end < 2; end++) {
        const bool indoors = !gear->outdoor && (end == 0 || far_indoors);
        fe_station *station = &setup->hop.ends[end];
        station->antenna_built_in = gear->antenna_built_in;
        station->mount = indoors ? FE_MOUNT_INDOORS : FE_MOUNT_OUTDOORS;
        station->noise = end == 0 ? FE_NOISE_VILLAGE : FE_NOISE_QUIET_RURAL;
        station->port_bps = gear->port_bps;
    }
    if (!options_given(given, "height"))
        radio_setup_assume(setup, "Every antenna %.1f m above the bare ground.",
                           usual_height(gear));
    radio_setup_assume(
        setup, "A village's noise at the first end, quiet country beyond; antennas with "
               "a beam aimed by eye.");
    if (options_given(given, "wall")) {
        fe_station *house = &setup->hop.ends[0];
        house->walls = setup->walls[0];
        house->mount = house->wall_count > 0 ? FE_MOUNT_INDOORS : FE_MOUNT_OUTDOORS;
    } else if (!gear->outdoor) {
        name_wall(setup, 0, HOUSE_WALL, "house");
    }
    if (!gear->outdoor && far_indoors)
        name_wall(setup, 1, OUTBUILDING_WALL, "outbuilding");
    else
        radio_setup_assume(setup, "The far end is outdoors in the open.");
}

static fe_status put_ground(const options *given, double distance_m, radio_setup *setup)
{
    const double depth_m = fmin(options_number(given, "trees", 0.0), distance_m);
    if (depth_m > 0.0) {
        const double middle_m = distance_m / 2.0;
        setup->trees = (fe_stand){middle_m - depth_m / 2.0, middle_m + depth_m / 2.0,
                                  TREE_HEIGHT_M, FE_TREES_DECIDUOUS};
        setup->hop.stand_count = 1;
        radio_setup_assume(setup, "The trees are deciduous, %.0f m high, in the middle.",
                           TREE_HEIGHT_M);
    }
    setup->hop.stands = &setup->trees;
    radio_setup_assume(setup, "Even meadow along the way.");
    return fe_profile_even(distance_m, 0.0, fmin(GROUND_STEP_M, distance_m / 4.0),
                           &setup->ground);
}

static void put_wanted(const options *given, const char *rate, radio_setup *setup)
{
    setup->wanted = (fe_wanted){
        .rate_bps = {options_number(given, rate, USUAL_RATE_BPS), 0.0},
        .airtime = 1.0,
        .availability = 0.99,
        .confidence = 0.9,
    };
    if (!options_given(given, rate))
        radio_setup_assume(setup, "A rate of %g Mb/s out to the far end.",
                           USUAL_RATE_BPS / 1e6);
    radio_setup_assume(setup, "It must work %g %% of the time, with a confidence of %g %%.",
                       100.0 * setup->wanted.availability, 100.0 * setup->wanted.confidence);
}

bool radio_setup_options(const char *who, const options *given, const radio_way *way,
                         radio_setup *setup, int *code)
{
    *setup = (radio_setup){0};
    *code = plan_open(who, given, NULL, &setup->plan);
    if (*code != EXIT_DONE)
        return false;
    *code = EXIT_BAD_INPUT;
    if (!read_ends(who, given, setup))
        return false;
    setup->hop.region = radio_setup_region(given);
    if (!options_given(given, "region"))
        radio_setup_assume(setup, "The radio rules of the %s.",
                           fe_region_name(setup->hop.region));
    put_stations(given, way->far_indoors, setup);
    put_wanted(given, way->rate, setup);
    fe_status status = put_ground(given, way->distance_m, setup);
    if (status >= 0)
        status = usual_seasons(setup);
    setup->hop.ground = &setup->ground;
    for (int band = 0; band < FE_BANDS; band++)
        setup->bands[band] = fe_gear_radio(setup->gear[0], (fe_band)band) != NULL;
    if (status < 0)
        *code = output_failed(who, status);
    return status >= 0;
}

/* ---- From a plan ---- */

bool radio_setup_plan(const char *who, const options *given, const char *plan_file,
                      radio_setup *setup, int *code)
{
    *setup = (radio_setup){.from_plan = true};
    *code = plan_open(who, given, plan_file, &setup->plan);
    if (*code != EXIT_DONE)
        return false;
    const fe_plan *plan = &setup->plan;
    size_t path = 0;
    *code = EXIT_BAD_INPUT;
    if (!plan_path_given(who, given, plan, &path))
        return false;
    radio_setup_path(setup, path);
    setup->hop.region = (fe_region)plan->site.region.value;
    setup->seasons = plan->seasons;
    setup->season_count = plan->season_count;
    memcpy(setup->bands, plan->site.bands, sizeof setup->bands);
    setup->mast_count = fe_relay_masts(&setup->plan, setup->masts_m);
    *code = EXIT_DONE;
    return true;
}

void radio_setup_path(radio_setup *setup, size_t path)
{
    setup->path = path;
    setup->hop.ground = &setup->plan.paths[path].profile;
    setup->wanted = fe_radio_wanted(&setup->plan, path);
}

/* ---- One band ---- */

fe_status radio_setup_pair(radio_setup *setup, fe_band band, bool aimed)
{
    fe_radio_result link;
    const fe_status status =
        fe_radio_reported_link(&setup->plan, setup->path, band, aimed, &link);
    if (status < 0)
        return status;
    setup->gear[0] = link.gear[0];
    setup->gear[1] = link.gear[1];
    fe_hop_budget_free(&link.budget);
    return fe_status_worse(status, radio_setup_hop(setup, band));
}

fe_status radio_setup_hop(radio_setup *setup, fe_band band)
{
    fe_hop *hop = NULL;
    const fe_status status = fe_radio_hop(&setup->plan, setup->path, setup->gear, band, &hop);
    if (status < 0)
        return status;
    free(setup->planned);
    setup->planned = hop;
    setup->hop = *hop;
    return status;
}

bool radio_setup_tune(radio_setup *setup, fe_band band, double f_hz)
{
    setup->hop.f_hz = f_hz;
    for (int end = 0; end < 2; end++) {
        const fe_radio *radio = fe_gear_radio(setup->gear[end], band);
        if (!radio)
            return false;
        setup->hop.ends[end].radio = radio;
    }
    return true;
}

void radio_setup_free(radio_setup *setup)
{
    fe_plan_free(&setup->plan);
    fe_profile_free(&setup->ground);
    free(setup->usual_seasons);
    free(setup->planned);
    for (size_t i = 0; i < SETUP_ASSUMPTIONS; i++)
        fe_strbuf_free(&setup->assumptions[i]);
}
