/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/cable_length.h"

#include <math.h>

double plan_trench_length(const fe_plan *plan, size_t path)
{
    const fe_plan_trench *trench = &plan->trench;
    /* A stated length is that of the first path, as the posts are. */
    const bool own = path == 0 && trench->length_m.given != FE_GIVEN_NOT && !trench->along_path;
    return own ? trench->length_m.typical
               : fe_profile_ground_length(&plan->paths[path].profile);
}

double plan_indoor_length(const fe_plan *plan)
{
    double sum_m = 0.0;
    for (size_t i = 0; i < plan->cable.indoor_m.count; i++)
        sum_m += plan->cable.indoor_m.items[i].typical;
    return sum_m;
}

double plan_slack(double route_m)
{
    static const double SHARE = 0.02;
    static const double EACH_END_M = 1.0;
    return SHARE * route_m + 2.0 * EACH_END_M;
}

double plan_hottest(const fe_plan *plan)
{
    double hottest_c = -INFINITY;
    for (size_t i = 0; i < plan->season_count; i++)
        hottest_c = fmax(hottest_c, plan->seasons[i].hottest_c);
    return hottest_c;
}

const char *plan_hottest_season(const fe_plan *plan)
{
    size_t hottest = 0;
    for (size_t i = 1; i < plan->season_count; i++)
        if (plan->seasons[i].hottest_c > plan->seasons[hottest].hottest_c)
            hottest = i;
    return plan->seasons[hottest].name;
}

const char *plan_coldest_season(const fe_plan *plan)
{
    size_t coldest = 0;
    for (size_t i = 1; i < plan->season_count; i++)
        if (plan->seasons[i].coldest_c < plan->seasons[coldest].coldest_c)
            coldest = i;
    return plan->seasons[coldest].name;
}
