/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/standing.h"

#include <stdlib.h>

static bool stands(const fe_profile *ground, size_t i)
{
    return ground->clutter_m[i] >= FE_STANDING_LEAST_M;
}

static bool is_named(const fe_hop *hop, double distance_m)
{
    for (size_t s = 0; s < hop->stand_count; s++)
        if (distance_m >= hop->stands[s].from_m - FE_STANDING_SLACK_M &&
            distance_m <= hop->stands[s].to_m + FE_STANDING_SLACK_M)
            return true;
    return false;
}

/* What an end stands in, from that end inwards. */
static void mark_own(const fe_profile *ground, int end, fe_standing_use *uses)
{
    const double length_m = fe_profile_length(ground);
    for (size_t k = 0; k < ground->count; k++) {
        const size_t i = end == 0 ? k : ground->count - 1 - k;
        const double away_m =
            end == 0 ? ground->distance_m[i] : length_m - ground->distance_m[i];
        if (!stands(ground, i) || away_m > FE_STANDING_OWN_M)
            return;
        uses[i] = FE_STANDING_OWN;
    }
}

size_t fe_standing_uses(const fe_hop *hop, fe_standing_use *uses)
{
    const fe_profile *ground = hop->ground;
    size_t counted = 0;
    for (size_t i = 0; i < ground->count; i++)
        uses[i] =
            ground->clutter_m && stands(ground, i) ? FE_STANDING_COUNTED : FE_STANDING_NONE;
    for (int end = 0; end < 2 && ground->clutter_m; end++)
        mark_own(ground, end, uses);
    for (size_t i = 0; i < ground->count; i++) {
        if (uses[i] != FE_STANDING_NONE && is_named(hop, ground->distance_m[i]))
            uses[i] = FE_STANDING_NAMED;
        counted += uses[i] == FE_STANDING_COUNTED;
    }
    return counted;
}

fe_status fe_standing_counted(const fe_hop *hop, fe_profile *counted)
{
    fe_standing_use *uses = malloc(hop->ground->count * sizeof *uses);
    if (!uses)
        return FE_E_MEMORY;
    const fe_status status = fe_profile_copy(hop->ground, counted);
    if (status >= 0 && fe_standing_uses(hop, uses) == 0) {
        free(counted->clutter_m);
        counted->clutter_m = NULL;
    }
    for (size_t i = 0; status >= 0 && counted->clutter_m && i < counted->count; i++)
        if (uses[i] != FE_STANDING_COUNTED)
            counted->clutter_m[i] = 0.0;
    free(uses);
    return status;
}

fe_status fe_standing_list(const fe_hop *hop, fe_standing *list, size_t room, size_t *count)
{
    const fe_profile *ground = hop->ground;
    fe_standing_use *uses = malloc(ground->count * sizeof *uses);
    if (!uses)
        return FE_E_MEMORY;
    fe_standing_uses(hop, uses);
    size_t found = 0;
    for (size_t i = 0; i < ground->count;) {
        fe_standing one = {ground->distance_m[i], 0.0, 0.0, uses[i]};
        for (; i < ground->count && uses[i] == one.use; i++) {
            one.to_m = ground->distance_m[i];
            if (ground->clutter_m && ground->clutter_m[i] > one.height_m)
                one.height_m = ground->clutter_m[i];
        }
        if (one.use == FE_STANDING_NONE)
            continue;
        if (found < room)
            list[found] = one;
        found++;
    }
    free(uses);
    *count = found;
    return FE_OK;
}
