/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The margin of a plan's chosen gear at every cell of a raster about one end. */
#include "app/terrain_around.h"

#include <errno.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/output.h"
#include "app/plan_command.h"
#include "app/progress.h"
#include "app/terrain_import.h"
#include "app/terrain_places.h"
#include "app/terrain_plot.h"
#include "app/terrain_source.h"
#include "farend/around.h"
#include "farend/constants.h"
#include "farend/number.h"
#include "farend/radio_hop.h"

/* Least steps to the radius where a raster is coarser than TERRAIN_FINE_STEP_M. */
static const double LEAST_STEPS = 10.0;

/* What is written where an antenna is under the snow, and nothing works at all. */
static const float NOTHING_DB = -200.0f;

typedef struct around_map {
    planned got;
    const fe_radio_result *radio;
    fe_hop *hop;
    fe_position place;
    import_answer window;
    fe_around in;
    float *margin_db;
    float *chance;
    fe_around_count count;
    terrain_places places;
} around_map;

static void around_map_free(around_map *map)
{
    free(map->hop);
    free(map->margin_db);
    free(map->chance);
    import_answer_free(&map->window);
    planned_free(&map->got);
}

/* ---- What is asked ---- */

static bool check_options(const char *who, const options *given)
{
    static const char *const NOT_HERE[] = {"survey", "track", "to", "height-error",
                                           "frequency"};
    bool good = true;
    for (size_t i = 0; i < sizeof NOT_HERE / sizeof NOT_HERE[0]; i++)
        if (options_given(given, NOT_HERE[i])) {
            options_complain(who, "--%s: does not go with --around", NOT_HERE[i]);
            good = false;
        }
    if (!options_given(given, "raster")) {
        options_complain(who, "--around needs --raster FILE");
        good = false;
    }
    if (!options_given(given, "radius")) {
        options_complain(who, "--around needs --radius, for example --radius 300m");
        good = false;
    }
    return good;
}

/* False where the plan does not have it. */
static bool position_of(const fe_plan_end *end, fe_position *at)
{
    *at = (fe_position){end->latitude_rad.typical, end->longitude_rad.typical};
    return end->latitude_rad.given != FE_GIVEN_NOT;
}

static bool find_place(const char *who, const options *given, around_map *map)
{
    const fe_plan *plan = &map->got.plan;
    const fe_plan_end *end = &plan->ends[plan->paths[map->radio->path].from];
    if (options_given(given, "from"))
        return terrain_position(who, "from", options_text(given, "from"), &map->place);
    if (position_of(end, &map->place))
        return true;
    options_complain(who,
                     "%s: [end %s] has no position; write `position = 46.8123 deg, 7.1512 deg` "
                     "there or give --from LAT,LON",
                     plan->file, end->name);
    return false;
}

static bool find_radio(const char *who, around_map *map)
{
    const int chosen = fe_result_chosen_radio(&map->got.result);
    if (chosen < 0) {
        options_complain(who, "%s: no gear of both ends talks to one another by radio",
                         map->got.plan.file);
        return false;
    }
    map->radio = &map->got.result.radio[chosen];
    return true;
}

/* ---- The land ---- */

static fe_status read_window(const char *who, const options *given, around_map *map)
{
    char numbers[3][32];
    const double values[3] = {map->place.latitude_rad / FE_DEG_RAD,
                              map->place.longitude_rad / FE_DEG_RAD, map->in.radius_m};
    for (size_t i = 0; i < 3; i++)
        fe_number_print(values[i], numbers[i], sizeof numbers[i]);
    const char *file = options_text(given, "raster");
    const char *unit = options_text(given, "vertical-unit");
    const char *surface = options_text(given, "surface");
    const char *const words[] = {"window",
                                 file,
                                 numbers[0],
                                 numbers[1],
                                 numbers[2],
                                 unit ? unit : "",
                                 surface ? surface : "",
                                 NULL};
    if (!terrain_can_read(who, file) || (surface && !terrain_can_read(who, surface)))
        return FE_E_INPUT;
    fe_status status = import_run(who, words, &map->window);
    if (status < 0)
        return status;
    const import_answer *window = &map->window;
    map->in.land = (fe_around_land){
        .height_m = window->heights,
        .top_m = window->tops,
        .columns = (size_t)import_number(window, "columns"),
        .rows = (size_t)import_number(window, "rows"),
        .east_m = {import_number(window, "east0_m"), import_number(window, "east1_m")},
        .north_m = {import_number(window, "north0_m"), import_number(window, "north1_m")},
        .column = import_number(window, "column"),
        .row = import_number(window, "row"),
    };
    const size_t cells = map->in.land.columns * map->in.land.rows;
    if (window->height_count == cells && window->top_count == (surface ? cells : 0))
        return FE_OK;
    options_complain(who, "farend-import broke off");
    return FE_E_EXTERNAL;
}

static bool check_land(const char *who, const options *given, const around_map *map)
{
    const char *file = options_text(given, "raster");
    const fe_around_land *land = &map->in.land;
    const double step_m = import_number(&map->window, "step_m");
    if (step_m > TERRAIN_FINE_STEP_M && map->in.radius_m / step_m < LEAST_STEPS &&
        !options_given(given, "coarse")) {
        options_complain(who,
                         "%s: a raster of %.0f m has %.0f steps to the rim of the map: what "
                         "stands between them is not in it; take a lidar tile, or add --coarse "
                         "to use it all the same",
                         file, step_m, floor(map->in.radius_m / step_m));
        return false;
    }
    for (size_t i = 0; i < map->window.height_count; i++)
        if (!terrain_height_is_plausible(who, file, (double)land->height_m[i]))
            return false;
    for (size_t i = 0; i < map->window.top_count; i++)
        if (!terrain_height_is_plausible(who, options_text(given, "surface"),
                                         (double)land->top_m[i]))
            return false;
    if (isfinite(fe_around_height(land, land->column, land->row)))
        return true;
    options_complain(who, "%s: no height where the end stands", file);
    return false;
}

/* ---- Computing ---- */

static void show_progress(void *context, double share)
{
    int *shown = context;
    const int percent = (int)(100.0 * share);
    if (percent == *shown)
        return;
    *shown = percent;
    fprintf(stderr, "\rfarend terrain: %d %%", percent);
}

static fe_status compute(around_map *map)
{
    int shown = -1;
    const size_t cells = map->in.land.columns * map->in.land.rows;
    map->margin_db = calloc(cells, sizeof *map->margin_db);
    map->chance = calloc(cells, sizeof *map->chance);
    if (!map->margin_db || !map->chance)
        return FE_E_MEMORY;
    map->in.hop = map->hop;
    map->in.seasons = map->got.plan.seasons;
    map->in.season_count = map->got.plan.season_count;
    map->in.wanted = &map->radio->wanted;
    map->in.threads = command_threads();
    if (isatty(STDERR_FILENO)) {
        progress_end(); /* one line at a time: the share says more than the seconds */
        map->in.progress = show_progress;
        map->in.context = &shown;
    }
    const fe_status status =
        fe_around_compute(&map->in, map->margin_db, map->chance, &map->count);
    if (shown >= 0)
        fprintf(stderr, "\r%*s\r", 30, "");
    return status;
}

static fe_status look_over(around_map *map)
{
    const fe_plan *plan = &map->got.plan;
    fe_position far_end;
    const bool known = position_of(&plan->ends[plan->paths[map->radio->path].to], &far_end);
    const fe_around_chances chances = {.land = &map->in.land,
                                       .chance = map->chance,
                                       .confidence = map->in.wanted->confidence,
                                       .radius_m = map->in.radius_m};
    return terrain_places_find(&chances, map->margin_db, &map->place, known ? &far_end : NULL,
                               &map->places);
}

/* ---- Files ---- */

static fe_status write_values(const around_map *map, FILE *to)
{
    const size_t cells = map->in.land.columns * map->in.land.rows;
    for (size_t i = 0; i < cells; i++) {
        const float value = map->margin_db[i] < NOTHING_DB ? NOTHING_DB : map->margin_db[i];
        if (fwrite(&value, sizeof value, 1, to) != 1)
            return FE_E_IO;
    }
    return fflush(to) == 0 && fseek(to, 0, SEEK_SET) == 0 ? FE_OK : FE_E_IO;
}

static fe_status write_raster(const char *who, const options *given, const around_map *map)
{
    import_answer answer;
    FILE *values = tmpfile();
    fe_status status = values ? write_values(map, values) : FE_E_IO;
    if (status == FE_E_IO)
        options_complain(who, "no room for the map: %s", strerror(errno));
    const char *const words[] = {"paint",
                                 options_text(given, "raster"),
                                 options_text(given, "output"),
                                 import_text(&map->window, "first_column"),
                                 import_text(&map->window, "first_row"),
                                 import_text(&map->window, "columns"),
                                 import_text(&map->window, "rows"),
                                 NULL};
    if (status >= 0) {
        status = import_run_with(who, words, values, &answer);
        /* What cannot be written is no bad input. */
        if (status == FE_E_INPUT)
            status = FE_E_IO;
        if (status >= 0)
            import_answer_free(&answer);
    }
    if (values)
        fclose(values);
    return status;
}

static fe_status write_plot(const char *who, const options *given, const around_map *map)
{
    const fe_around_land *land = &map->in.land;
    const fe_plan *plan = &map->got.plan;
    const fe_around_data data = {
        .id = "around",
        .title = "Margin in the worst season",
        .end_name = plan->ends[plan->paths[map->radio->path].from].name,
        .margin_db = map->margin_db,
        .columns = land->columns,
        .rows = land->rows,
        .east_m = {land->east_m[0], land->east_m[1]},
        .north_m = {land->north_m[0], land->north_m[1]},
        .column = land->column,
        .row = land->row,
        .radius_m = map->in.radius_m,
    };
    fe_figure figure = FE_FIGURE_INIT;
    fe_status status = fe_figure_around(&data, output_units(given), &figure);
    if (status >= 0)
        status = terrain_draw(who, &figure, options_text(given, "plot"));
    fe_figure_free(&figure);
    return status;
}

/* ---- Text ---- */

static double holding_share(const around_map *map)
{
    return map->count.cells > 0 ? (double)map->count.holds / (double)map->count.cells : 0.0;
}

static void print_fact(const char *label, fe_style style, double value, fe_units units,
                       fe_strbuf *out)
{
    fe_strbuf_format(out, "%s: ", label);
    fe_amount_print(style, value, 0, units, out);
    fe_strbuf_append(out, "\n");
}

static void print_text(const around_map *map, fe_units units, fe_strbuf *out)
{
    const fe_plan *plan = &map->got.plan;
    const fe_radio_result *radio = map->radio;
    fe_strbuf_format(out, "map around %s, %s to %s in the %s band\n",
                     plan->ends[plan->paths[radio->path].from].name, radio->gear[0]->label,
                     radio->gear[1]->label, fe_band_name(radio->band));
    print_fact("antenna there", FE_STYLE_HEIGHT, radio->height_m[0], units, out);
    print_fact("antenna at each cell", FE_STYLE_HEIGHT, radio->height_m[1], units, out);
    print_fact("radius", FE_STYLE_DISTANCE, map->in.radius_m, units, out);
    print_fact("step of the raster", FE_STYLE_LENGTH, import_number(&map->window, "step_m"),
               units, out);
    fe_strbuf_format(out, "cells: %zu\n", map->count.cells);
    print_fact("of these hold in the worst season", FE_STYLE_PERCENT, holding_share(map), units,
               out);
    terrain_places_print(&map->places, plan->ends[plan->paths[radio->path].to].name, units,
                         out);
    fe_strbuf_append(out, map->in.land.top_m
                              ? "trees and roofs are in it, as solid, from the surface raster"
                              : "trees and roofs are not in it: give --surface FILE");
    fe_strbuf_append(out,
                     "\nneither [trees] of the plan nor errors of the raster's heights are: "
                     "make a profile to the place that you choose; each cell is as if both "
                     "antennas were aimed at one another\n");
}

static json_t *map_json(const around_map *map)
{
    const fe_radio_result *radio = map->radio;
    json_t *object = json_pack(
        "{s:s,s:s,s:s,s:f,s:f,s:f,s:f,s:b,s:I,s:f}", "band", fe_band_name(radio->band),
        "gear_from", radio->gear[0]->name, "gear_to", radio->gear[1]->name, "height_from_m",
        radio->height_m[0], "height_to_m", radio->height_m[1], "radius_m", map->in.radius_m,
        "step_m", import_number(&map->window, "step_m"), "has_surface",
        (int)(map->in.land.top_m != NULL), "cells", (json_int_t)map->count.cells, "holds_share",
        holding_share(map));
    terrain_places_json(&map->places, &object);
    return object;
}

static int print_answer(const char *who, const options *given, const around_map *map)
{
    if (options_given(given, "json"))
        return output_json(who, map_json(map), OUTPUT_JSON_FLAGS);
    fe_strbuf out = FE_STRBUF_INIT;
    print_text(map, output_units(given), &out);
    const fe_status status = output_plain(&out);
    fe_strbuf_free(&out);
    return status < 0 ? output_failed(who, status) : EXIT_DONE;
}

/* ---- All of it ---- */

static fe_status make_map(const char *who, const options *given, around_map *map)
{
    map->in.radius_m = options_number(given, "radius", NAN);
    if (!find_radio(who, map) || !find_place(who, given, map))
        return FE_E_INPUT;
    fe_status status = read_window(who, given, map);
    if (status >= 0 && !check_land(who, given, map))
        status = FE_E_INPUT;
    if (status >= 0)
        status = fe_radio_hop(&map->got.plan, map->radio->path, map->radio->gear,
                              map->radio->band, &map->hop);
    return status >= 0 ? compute(map) : status;
}

int terrain_around(const char *who, const options *given)
{
    around_map map = {.radio = NULL};
    if (!check_options(who, given))
        return EXIT_BAD_INPUT;
    int code =
        planned_open(who, given, options_text(given, "around"), fe_decide_links, &map.got);
    if (code == EXIT_DONE)
        code = output_ended(who, make_map(who, given, &map));
    if (code == EXIT_DONE)
        code = output_ended(who, look_over(&map));
    if (code == EXIT_DONE && options_given(given, "output"))
        code = output_ended(who, write_raster(who, given, &map));
    if (code == EXIT_DONE && options_given(given, "plot"))
        code = output_ended(who, write_plot(who, given, &map));
    if (code == EXIT_DONE)
        code = print_answer(who, given, &map);
    around_map_free(&map);
    return code;
}
