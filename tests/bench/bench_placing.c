/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Time of the whole search for relays: every hop of a way in four seasons, then the best places
 * for 0 to 5 relays and each chain in full, on one core and on two. Built with the tests, run
 * by hand:
 *
 *     bench_placing [POINTS]
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "clock.h"
#include "farend/relay_site.h"
#include "link.h"

enum { RELAYS = 5 };

/* So long that five relays come near to what is wanted and do not reach it: a search does not
 * work out what by its table is hopeless. */
static const double WAY_M = 500.0;

static int search(const fe_profile *ground, unsigned threads)
{
    /* More than any of these chains reaches, so that all numbers of relays are tried. */
    static const fe_wanted WANTED = {
        .rate_bps = {0.0, 1e6}, .airtime = 1.0, .availability = 0.99, .confidence = 0.999};
    static const double MAST_M = 3.0;
    static const fe_climate CLIMATE = {0.6, -22.0, 37.0, 0.008, 28.0, 36.0, 0.4};
    static fe_relay_way ways[RELAYS + 1];
    fe_season seasons[FE_USUAL_SEASONS];
    size_t count = 0;
    fe_seasons_usual(&CLIMATE, seasons);
    const fe_hop direct = {.ground = ground,
                           .region = FE_REGION_EU,
                           .f_hz = 2437e6,
                           .ends = {outdoors(&RELAY, 3.0), outdoors(&RELAY, 3.0)}};
    const fe_relay_site site = {.direct = &direct,
                                .relay = outdoors(&RELAY, 3.0),
                                .masts_m = &MAST_M,
                                .mast_count = 1,
                                .step_m = WAY_M / (double)(ground->count - 1),
                                .seasons = seasons,
                                .season_count = FE_USUAL_SEASONS,
                                .wanted = &WANTED,
                                .threads = threads};
    const double start_s = seconds(CLOCK_MONOTONIC);
    const double work_s = seconds(CLOCK_PROCESS_CPUTIME_ID);
    if (fe_relay_search(&site, RELAYS, ways, &count, NULL) < 0)
        return 1;
    printf("%zu points, four seasons, up to %zu relays, %u core%s: %.2f s, %.2f s of work\n",
           ground->count, count - 1, threads, threads == 1 ? "" : "s",
           seconds(CLOCK_MONOTONIC) - start_s, seconds(CLOCK_PROCESS_CPUTIME_ID) - work_s);
    return 0;
}

int main(int argc, char **argv)
{
    const size_t most = argc > 1 ? strtoul(argv[1], NULL, 10) : 2000;
    fe_init();
    for (size_t n = most / 4; n <= most && n > 1; n *= 2) {
        fe_profile ground;
        if (fe_profile_new(n, false, false, &ground) < 0)
            return 1;
        for (size_t i = 0; i < n; i++) {
            const double x = WAY_M * (double)i / (double)(n - 1);
            ground.distance_m[i] = x;
            ground.height_m[i] = 6.0 * sin(x / 170.0) + 1.5 * sin(x / 31.0 + 1.0) +
                                 0.3 * sin(x / 5.3) + 0.01 * x;
        }
        const int failed = search(&ground, 1) + search(&ground, 2);
        fe_profile_free(&ground);
        if (failed)
            return 1;
    }
    return 0;
}
