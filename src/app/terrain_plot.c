/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/terrain_plot.h"

#include <stdlib.h>
#include <string.h>

#include "app/options.h"
#include "app/output.h"
#include "farend/standing.h"

/* Antennas as the picture shows them: what a hand can reach from a ladder. */
static const double ANTENNA_M = 3.0;

/* Four thirds of the mean radius. */
static const double EARTH_RADIUS_M = 4.0 / 3.0 * 6371e3;

/* Each stretch of clutter, as high as its highest point; room for one every second point. */
static size_t find_trees(const fe_profile *profile, fe_profile_trees *trees)
{
    size_t count = 0;
    bool open = false;
    for (size_t i = 0; profile->clutter_m && i < profile->count; i++) {
        const double clutter_m = profile->clutter_m[i];
        if (clutter_m < FE_STANDING_LEAST_M) {
            open = false;
            continue;
        }
        if (!open)
            trees[count++] = (fe_profile_trees){"", profile->distance_m[i], 0.0, 0.0};
        open = true;
        trees[count - 1].to_m = profile->distance_m[i];
        if (clutter_m > trees[count - 1].height_m)
            trees[count - 1].height_m = clutter_m;
    }
    return count;
}

fe_status terrain_draw(const char *who, const fe_figure *figure, const char *path)
{
    char reason[FE_GNUPLOT_REASON_ROOM] = "";
    char *svg = NULL;
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    fe_status status = gnuplot ? fe_figure_draw(figure, gnuplot, &svg, reason) : FE_E_MEMORY;
    fe_gnuplot_free(gnuplot);
    if (status == FE_E_EXTERNAL)
        options_complain(who, "%s: no picture: %s", path, reason);
    if (status >= 0)
        status = output_file(who, path, svg, strlen(svg));
    free(svg);
    return status;
}

fe_status terrain_plot(const char *who, const terrain_made *made, double f_hz, fe_units units,
                       const char *path)
{
    const fe_profile *profile = &made->profile;
    fe_profile_trees *trees = malloc((profile->count / 2 + 1) * sizeof *trees);
    if (!trees)
        return FE_E_MEMORY;
    const fe_profile_data data = {
        .id = "terrain",
        .title = "Ground profile, antennas 3 m up",
        .distance_m = profile->distance_m,
        .ground_m = profile->height_m,
        .count = profile->count,
        .from_name = "first end",
        .to_name = "second end",
        .from_height_m = ANTENNA_M,
        .to_height_m = ANTENNA_M,
        .f_hz = f_hz,
        .earth_radius_m = EARTH_RADIUS_M,
        .trees = trees,
        .tree_count = find_trees(profile, trees),
    };
    fe_figure figure = FE_FIGURE_INIT;
    fe_status status = fe_figure_profile(&data, units, &figure);
    if (status >= 0)
        status = terrain_draw(who, &figure, path);
    fe_figure_free(&figure);
    free(trees);
    return status;
}
