/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Processor time of the route search against the length of the run, a place at every metre,
 * with one length of post and with two, stayed and not: linear, and about a second for 1 km on
 * one core of a release build.
 */
#include "farend/route.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "clock.h"

enum { MOST_LENGTHS = 2 };

static int measure(double length_m, size_t lengths)
{
    fe_profile ground;
    if (fe_profile_even(length_m, 0.02 * length_m, 1.0, &ground) != FE_OK)
        return 1;
    for (size_t i = 0; i < ground.count; i++)
        ground.height_m[i] += 0.8 * sin(ground.distance_m[i] / 17.0);
    const size_t count = (size_t)length_m - 1;
    fe_route_place *places = calloc(count, sizeof *places);
    if (!places)
        return 1;
    for (size_t i = 0; i < count; i++)
        places[i].at_m = (double)(i + 1);
    const fe_season seasons[] = {
        {.name = "summer", .coldest_c = 5.0, .hottest_c = 30.0, .wind_m_s = 25.0},
        {.name = "winter",
         .snow_depth_m = 0.5,
         .coldest_c = -15.0,
         .hottest_c = 3.0,
         .ice_m = 5e-3,
         .wind_m_s = 25.0},
    };
    const fe_posts_material material = {.section = FE_POST_ROUND,
                                        .width_m = 0.14,
                                        .bending_pa = 24e6,
                                        .elasticity_pa = 11e9,
                                        .lateral_pa_m = 31.42e3,
                                        .top_m = 0.15,
                                        .own_depth_m = (double)NAN};
    fe_posts_kind kinds[2 * MOST_LENGTHS];
    const fe_clearance_need need = {
        .to_m = length_m, .over_ground_m = 2.9, .over_snow_m = 2.5, .rule = "bench"};
    double strings_n[12];
    for (int i = 0; i < 12; i++)
        strings_n[i] = 60.0 * pow(1.15, i);
    fe_route_input input = {
        .run = {.ground = &ground,
                .cable = {.diameter_m = 9.5e-3,
                          .weight_n_m = 0.539,
                          .stiffness_n = 226e3,
                          .expansion_1_k = 11.5e-6},
                .stringing_c = 15.0,
                .seasons = seasons,
                .season_count = 2},
        .start_attachment_m = 4.0,
        .end_attachment_m = 4.0,
        .places = places,
        .place_count = count,
        .span_low_m = 8.0,
        .span_high_m = 60.0,
        .kinds = kinds,
        .kind_count = 2 * lengths,
        .strings_n = strings_n,
        .string_count = 12,
        .most_sag_share = 0.06,
        .needs = &need,
        .need_count = 1,
        .wall_free_m = 1.5,
    };
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++)
        input.limits.limit_n[k] = 700.0;
    for (size_t k = 0; k < 2 * lengths; k++)
        if (fe_posts_make(&material, 6.0 + (double)(k / 2), 0.0, k % 2 == 1, &kinds[k]) !=
            FE_OK)
            return 1;
    fe_route route = {0};
    const double start_s = seconds(CLOCK_PROCESS_CPUTIME_ID);
    const fe_status status = fe_route_search(&input, &route);
    printf("%5.0f m, %zu length%s: %6.3f s, %zu posts, %zu stays (%s)\n", length_m, lengths,
           lengths == 1 ? "" : "s", seconds(CLOCK_PROCESS_CPUTIME_ID) - start_s,
           route.post_count, route.stay_count, fe_status_text(status));
    fe_route_free(&route);
    free(places);
    fe_profile_free(&ground);
    return 0;
}

int main(void)
{
    fe_init();
    int failed = 0;
    for (size_t lengths = 1; lengths <= MOST_LENGTHS; lengths++)
        for (double length_m = 125.0; length_m <= 1000.0; length_m *= 2.0)
            failed |= measure(length_m, lengths);
    return failed;
}
