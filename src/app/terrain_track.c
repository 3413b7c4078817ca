/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/terrain_source.h"

#include <math.h>
#include <stdlib.h>

#include "app/options.h"
#include "app/terrain_import.h"
#include "farend/constants.h"
#include "farend/track.h"

/* A walk that strays farther beside the line, as a share of its length, shows other ground. */
static const double STRAY_SHARE = 0.05;

static fe_track_point *as_points(const import_answer *answer)
{
    fe_track_point *points = calloc(answer->row_count + 1, sizeof *points);
    for (size_t i = 0; points && i < answer->row_count; i++) {
        const double *value = answer->rows[i].value;
        points[i] = (fe_track_point){{value[0] * FE_DEG_RAD, value[1] * FE_DEG_RAD}, value[2]};
    }
    return points;
}

static void add_facts(const char *file, const import_answer *answer, const fe_track *track,
                      terrain_made *made)
{
    const char *name = import_text(answer, "name");
    terrain_fact_text(made, "source", "from", "%s %s%s%s%s", import_text(answer, "shape"), file,
                      *name ? " (" : "", name, *name ? ")" : "");
    terrain_fact_number(made, "bearing_rad", "bearing from north", track->bearing_rad,
                        FE_STYLE_ANGLE);
    terrain_fact_number(made, "stray_m", "farthest beside the straight line", track->stray_m,
                        FE_STYLE_LENGTH);
    terrain_fact_text(made, "datum", "heights", "as the receiver wrote them");
    if (track->came_back)
        terrain_fact_text(made, "came_back", "the walk",
                          "came back; its farthest point is the "
                          "second end");
}

static void warn_of(const char *who, const char *file, const import_answer *answer,
                    const fe_track *track)
{
    const double length_m = fe_profile_length(&track->profile);
    if (import_number(answer, "groups") > 1.5)
        options_complain(who, "warning: %s: holds %.0f; the one with most points is taken",
                         file, import_number(answer, "groups"));
    if (track->without_height > 0)
        options_complain(who, "warning: %s: %zu points without height are passed over", file,
                         track->without_height);
    if (track->stray_m > STRAY_SHARE * length_m)
        options_complain(who,
                         "warning: %s: the walk strays %.0f m from the straight line; heights "
                         "there are of the ground beside it",
                         file, track->stray_m);
}

fe_status terrain_from_track(const char *who, const char *file, double height_error_m,
                             terrain_made *made)
{
    import_answer answer;
    fe_track track = {0};
    if (!terrain_can_read(who, file))
        return FE_E_INPUT;
    fe_status status = import_run(who, (const char *[]){"track", file, NULL}, &answer);
    if (status < 0)
        return status;
    fe_track_point *points = as_points(&answer);
    status = FE_E_MEMORY;
    if (points)
        status = fe_track_reduce(
            points, answer.row_count,
            isfinite(height_error_m) ? height_error_m : FE_TRACK_HEIGHT_SIGMA_M, &track);
    if (status == FE_E_NO_SOLUTION || status == FE_E_DOMAIN) {
        options_complain(who, "%s: %s", file,
                         status == FE_E_DOMAIN
                             ? "a position that is not on the earth"
                             : "fewer than two points with heights at different places");
        status = FE_E_INPUT;
    }
    if (status >= 0) {
        add_facts(file, &answer, &track, made);
        warn_of(who, file, &answer, &track);
        made->profile = track.profile;
    }
    free(points);
    import_answer_free(&answer);
    return status;
}
