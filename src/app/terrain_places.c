/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/terrain_places.h"

#include <math.h>

#include "app/output.h"
#include "farend/constants.h"

/* Less than this carries no building. Common practice, no source. */
static const double LEAST_AREA_M2 = 25.0;

static const char *const DIRECTIONS[PLACES_DIRECTIONS] = {
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"};

static double azimuth_of(size_t direction)
{
    return 2.0 * FE_PI * (double)direction / PLACES_DIRECTIONS;
}

static fe_geodesic way_of(double east_m, double north_m)
{
    const double azimuth_rad = atan2(east_m, north_m);
    return (fe_geodesic){hypot(east_m, north_m),
                         azimuth_rad < 0.0 ? azimuth_rad + 2.0 * FE_PI : azimuth_rad};
}

/* ---- Finding ---- */

/* A cell of the map, with its way from the first end. */
static terrain_place place_at(const fe_around_chances *map, const float *margin_db,
                              const fe_position *from, const fe_around_place *where)
{
    terrain_place found = {.at = *from,
                           .way = way_of(where->east_m, where->north_m),
                           .margin_db = (double)margin_db[where->cell],
                           .chance = (double)map->chance[where->cell]};
    /* Some metres from a place that was good: it cannot leave the earth. */
    (void)!fe_geodesic_end(from, &found.way, &found.at);
    return found;
}

static fe_status find_areas(const fe_around_chances *map, const float *margin_db,
                            const fe_position *from, terrain_places *found)
{
    fe_around_area areas[PLACES_AREAS + 1]; /* one of them may be that about the end */
    size_t count = 0;
    const fe_status status = fe_around_areas(map, areas, PLACES_AREAS + 1, &count);
    for (size_t i = 0; status >= 0 && i < count; i++) {
        if (areas[i].around_end) {
            found->own_area_m2 = areas[i].area_m2;
        } else if (areas[i].area_m2 >= LEAST_AREA_M2 && found->area_count < PLACES_AREAS) {
            found->area_m2[found->area_count] = areas[i].area_m2;
            found->middle[found->area_count++] =
                place_at(map, margin_db, from, &areas[i].middle);
        }
    }
    return status;
}

static void find_far_end(const fe_around_chances *map, const float *margin_db,
                         const fe_position *from, const fe_position *far_end,
                         terrain_places *found)
{
    fe_geodesic way;
    fe_around_place where;
    found->knows_far_end = far_end != NULL;
    if (!far_end || fe_geodesic_between(from, far_end, &way) < 0)
        return;
    where.east_m = way.length_m * sin(way.azimuth_rad);
    where.north_m = way.length_m * cos(way.azimuth_rad);
    if (!fe_around_cell(map->land, where.east_m, where.north_m, &where.cell) ||
        isnan(map->chance[where.cell]))
        return;
    found->has_far_end = true;
    found->far_end = place_at(map, margin_db, from, &where);
    found->far_end_holds = found->far_end.chance >= map->confidence;
    fe_around_place nearest;
    if (found->far_end_holds || !fe_around_nearest(map, where.east_m, where.north_m, &nearest))
        return;
    found->has_nearest = true;
    found->nearest = place_at(map, margin_db, from, &nearest);
    found->nearest.way = way_of(nearest.east_m - where.east_m, nearest.north_m - where.north_m);
}

fe_status terrain_places_find(const fe_around_chances *map, const float *margin_db,
                              const fe_position *from, const fe_position *far_end,
                              terrain_places *found)
{
    *found = (terrain_places){.area_count = 0};
    for (size_t i = 0; i < PLACES_DIRECTIONS; i++)
        found->reach_m[i] = fe_around_reach(map, azimuth_of(i), &found->to_the_rim[i]);
    find_far_end(map, margin_db, from, far_end, found);
    return find_areas(map, margin_db, from, found);
}

/* ---- Text ---- */

static void print_position(const fe_position *at, fe_strbuf *out)
{
    fe_strbuf_format(out, "%.6f,%.6f", at->latitude_rad / FE_DEG_RAD,
                     at->longitude_rad / FE_DEG_RAD);
}

static void print_way(const fe_geodesic *way, fe_units units, fe_strbuf *out)
{
    fe_amount_print(FE_STYLE_DISTANCE, way->length_m, 0, units, out);
    fe_strbuf_append(out, " at ");
    fe_amount_print(FE_STYLE_ANGLE, way->azimuth_rad, 0, units, out);
    fe_strbuf_append(out, " from north");
}

static void print_margin(const terrain_place *place, fe_units units, fe_strbuf *out)
{
    fe_strbuf_append(out, "margin ");
    fe_amount_print(FE_STYLE_RATIO, place->margin_db, 0, units, out);
    fe_strbuf_append(out, ", chance ");
    fe_amount_print(FE_STYLE_PERCENT, place->chance, 0, units, out);
}

static void print_reach(const terrain_places *found, fe_units units, fe_strbuf *out)
{
    fe_strbuf_append(out, "holds from the end without a gap to:\n");
    for (size_t i = 0; i < PLACES_DIRECTIONS; i++) {
        fe_strbuf_format(out, "  %-10s  ", DIRECTIONS[i]);
        if (found->reach_m[i] > 0.0)
            fe_amount_print(FE_STYLE_DISTANCE, found->reach_m[i], 0, units, out);
        else
            fe_strbuf_append(out, "nowhere");
        fe_strbuf_append(out, found->to_the_rim[i] ? ", the rim of the map\n" : "\n");
    }
}

static void print_areas(const terrain_places *found, fe_units units, fe_strbuf *out)
{
    if (found->own_area_m2 > 0.0) {
        fe_strbuf_append(out, "area about the end that holds: ");
        fe_amount_print(FE_STYLE_AREA, found->own_area_m2, -1, units, out);
        fe_strbuf_append(out, "\n");
    }
    if (found->area_count == 0) {
        fe_strbuf_append(out, "no other area of the size of a building holds\n");
        return;
    }
    fe_strbuf_append(out, "the largest areas beyond a gap that hold too, by their middles:\n");
    for (size_t i = 0; i < found->area_count; i++) {
        fe_strbuf_append(out, "  ");
        print_position(&found->middle[i].at, out);
        fe_strbuf_append(out, ": ");
        fe_amount_print(FE_STYLE_AREA, found->area_m2[i], -1, units, out);
        fe_strbuf_append(out, ", ");
        print_way(&found->middle[i].way, units, out);
        fe_strbuf_append(out, ", ");
        print_margin(&found->middle[i], units, out);
        fe_strbuf_append(out, "\n");
    }
}

static void print_far_end(const terrain_places *found, const char *far_name, fe_units units,
                          fe_strbuf *out)
{
    fe_strbuf_format(out, "%s of the plan: %s, ", far_name,
                     found->far_end_holds ? "holds" : "does not hold");
    print_margin(&found->far_end, units, out);
    fe_strbuf_append(out, "\n");
    if (found->far_end_holds)
        return;
    if (!found->has_nearest) {
        fe_strbuf_append(out, "no place on the map holds\n");
        return;
    }
    fe_strbuf_append(out, "nearest to it that holds: ");
    print_position(&found->nearest.at, out);
    fe_strbuf_append(out, ", ");
    print_way(&found->nearest.way, units, out);
    fe_strbuf_format(out, ", seen from %s\n", far_name);
}

void terrain_places_print(const terrain_places *found, const char *far_name, fe_units units,
                          fe_strbuf *out)
{
    print_reach(found, units, out);
    print_areas(found, units, out);
    if (found->has_far_end)
        print_far_end(found, far_name, units, out);
    else if (found->knows_far_end)
        fe_strbuf_format(out, "%s of the plan: the map has no answer there\n", far_name);
}

/* ---- JSON ---- */

static json_t *place_json(const terrain_place *place)
{
    return json_pack("{s:f,s:f,s:f,s:f,s:f,s:f}", "latitude_rad", place->at.latitude_rad,
                     "longitude_rad", place->at.longitude_rad, "distance_m",
                     place->way.length_m, "azimuth_rad", place->way.azimuth_rad, "margin_db",
                     place->margin_db, "chance", place->chance);
}

static json_t *reach_json(const terrain_places *found)
{
    json_t *list = json_array();
    for (size_t i = 0; i < PLACES_DIRECTIONS; i++)
        output_json_append(&list, json_pack("{s:f,s:f,s:b}", "azimuth_rad", azimuth_of(i),
                                            "reach_m", found->reach_m[i], "to_the_rim",
                                            (int)found->to_the_rim[i]));
    return list;
}

static json_t *areas_json(const terrain_places *found)
{
    json_t *list = json_array();
    for (size_t i = 0; i < found->area_count; i++) {
        json_t *item = place_json(&found->middle[i]);
        output_json_set(&item, "area_m2", json_real(found->area_m2[i]));
        output_json_append(&list, item);
    }
    return list;
}

static json_t *far_end_json(const terrain_places *found)
{
    json_t *item = place_json(&found->far_end);
    output_json_set(&item, "holds", json_boolean(found->far_end_holds));
    if (found->has_nearest)
        output_json_set(&item, "nearest_that_holds", place_json(&found->nearest));
    return item;
}

void terrain_places_json(const terrain_places *found, json_t **object)
{
    output_json_set(object, "reach", reach_json(found));
    output_json_set(object, "own_area_m2", json_real(found->own_area_m2));
    output_json_set(object, "areas", areas_json(found));
    if (found->knows_far_end)
        output_json_set(object, "far_end",
                        found->has_far_end ? far_end_json(found) : json_null());
}
